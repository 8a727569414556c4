//! What `--include-locales` can leave out of jdk.localedata, by language.
//!
//! The first function to read is [`by_language`].

use std::collections::BTreeMap;

use super::contents::{Content, Job, sums};
use super::names;
use crate::weight::figures::Locale;

const MODULE: &str = "jdk.localedata";
/// Packages whose classes the linker keeps or leaves out by the locale in their names.
const PACKAGES: [&str; 4] = [
    "sun/text/resources/ext/",
    "sun/util/resources/ext/",
    "sun/text/resources/cldr/ext/",
    "sun/util/resources/cldr/ext/",
];

/// The language that a class or resource is for: `FormatData_de_AT.class` is German.
fn language(path: &str) -> Option<&str> {
    let name = PACKAGES.iter().find_map(|package| path.strip_prefix(package))?;
    let (kind, tag) = name.strip_suffix(".class").unwrap_or(name).split_once('_')?;
    // The dictionary for breaking Thai lines has no tag of its own.
    if kind == "thai" { Some("th") } else { tag.split('_').next() }
}

/// Sums by language; empty for every other module.
pub(super) fn by_language(
    module: &str,
    contents: &[Content<'_>],
    job: &Job,
) -> Result<BTreeMap<String, Locale>, String> {
    if module != MODULE {
        return Ok(BTreeMap::new());
    }
    let mut groups: BTreeMap<&str, Vec<Content<'_>>> = BTreeMap::new();
    for content in contents {
        if let Some(language) = language(&content.path) {
            groups.entry(language).or_default().push(content.clone());
        }
    }
    // A few hundred languages in every form would be most of what the figures hold.
    let forms = job.forms.iter().copied().filter(|form| super::USUAL.contains(form)).collect();
    let job = Job { forms, wire: Vec::new(), ..job.clone() };
    let mut languages = BTreeMap::new();
    for (language, contents) in groups {
        let locale = Locale {
            entries: contents.len() as u64,
            index: names::rows(contents.iter().map(|content| &*content.path)),
            classes: sums(&contents, &job)?,
        };
        languages.insert(language.to_owned(), locale);
    }
    Ok(languages)
}

impl Locale {
    /// Takes over the forms of a later measurement.
    pub(super) fn add(&mut self, later: Locale) {
        self.entries = later.entries;
        self.index = later.index;
        self.classes.extend(later.classes);
    }
}

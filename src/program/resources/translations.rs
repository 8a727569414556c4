//! Languages into which the program's own texts are translated, by the names of the files that hold them: beside
//! `tides.properties` stands `tides_de.properties`, and beside `Tides.class` a bundle `Tides_de.class` (Java SE API,
//! `java.util.ResourceBundle`, candidate locales). Which of them is used, the user of a service chooses, by a header of a
//! request as a rule, so that no code and no setting names it.
//!
//! The first function to read is [`languages`].

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::archive::{ArchiveId, effective};
use crate::needs;

use super::super::Program;
use super::super::own_part::own_part;
use super::ResourceText;

/// Bytes of the longest tag that is looked for: language, script, country and a variant.
const LONGEST: usize = 20;

/// Languages of one archive that are told: one is enough to ask for them all.
const MOST: usize = 8;

/// The languages of an archive's translations, each with the first file. Those of libraries do not count: they come along
/// whoever uses them, and so do those of a jar, which may be one.
pub(super) fn languages(program: &Program, id: ArchiveId, release: u16) -> Vec<ResourceText> {
    let Some(archive) = program.archive(id) else { return Vec::new() };
    if own_part(program, id).is_none_or(|part| !part.is_by_layout(archive)) {
        return Vec::new();
    }
    let all: BTreeSet<&str> = effective(archive, release).map(|entry| &*entry.path).collect();
    let mut told = BTreeSet::new();
    let mut found = Vec::new();
    for path in &all {
        let Some(tag) = tag(path, &all).filter(|tag| needs::wants_text_of_file(tag.as_bytes())) else { continue };
        if found.len() < MOST && told.insert(tag) {
            found.push(ResourceText { archive: id, path: Arc::from(*path), text: tag.into() });
        }
    }
    found
}

/// What stands between the name of a file that is there without it, and the ending: `de_CH` of `tides_de_CH.html`.
fn tag<'a>(path: &'a str, all: &BTreeSet<&str>) -> Option<&'a str> {
    let name = path.rsplit('/').next().filter(|name| name.contains('_'))?;
    let (stem, ending) = name.rsplit_once('.')?;
    let folder = path.strip_suffix(name)?;
    let tags = stem.match_indices('_').filter(|(at, _)| stem.len() - at <= LONGEST);
    let mut tags = tags.filter_map(|(at, _)| Some((stem.get(..at)?, stem.get(at + 1..)?)));
    let (_, tag) = tags.find(|(base, _)| all.contains(&*format!("{folder}{base}.{ending}")))?;
    Some(tag)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tag_stands_behind_the_name_of_another_file() {
        let all = BTreeSet::from(["text/low_tide.properties", "text/low_tide_de_CH.properties", "text/de.properties"]);
        assert_eq!(tag("text/low_tide_de_CH.properties", &all), Some("de_CH"));
        for none in ["text/low_tide.properties", "text/de.properties", "other/low_tide_de.properties"] {
            assert_eq!(tag(none, &all), None, "{none}");
        }
    }
}

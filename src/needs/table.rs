//! The table as data: the rows of `needs.toml`, whose head says what each key means, and the names of `charsets.toml`.
//!
//! Both files are part of the program and are parsed once; that they can be is a test's to say. The first item to
//! read is [`Need`].

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

/// A feature of the platform whose module no bytecode names.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Need {
    /// A stable word: `elliptic-curves`.
    pub id: Box<str>,
    /// What the feature is called to people.
    pub title: Box<str>,
    /// The module that has it.
    pub module: Box<str>,
    /// The first release for which that holds.
    #[serde(default)]
    pub from: u16,
    /// The last one.
    #[serde(default = "last")]
    pub to: u16,
    /// Whether nothing fails without it, but something changes.
    pub silent: bool,
    /// What happens without it.
    pub without: Box<str>,
    /// Where that is published.
    pub source: Box<str>,
    /// What asks for it; one is enough.
    #[serde(rename = "when")]
    pub triggers: Vec<Trigger>,
}

fn last() -> u16 {
    u16::MAX
}

/// One way to ask; all keys that are given must hold, by one of their items.
#[allow(clippy::struct_excessive_bools, reason = "the keys of a row, as they are written")]
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Trigger {
    pub(super) calls: Vec<Box<str>>,
    pub(super) fields: Vec<Box<str>>,
    pub(super) names: Vec<Box<str>>,
    pub(super) constants: Vec<Box<str>>,
    pub(super) ignore_case: bool,
    pub(super) charsets: bool,
    pub(super) locales: bool,
    pub(super) scope: Scope,
    pub(super) with_calls: Vec<Box<str>>,
    pub(super) with_scope: Option<Scope>,
    pub(super) unless: Vec<Box<str>>,
    pub(super) most: Option<usize>,
    pub(super) likely: bool,
    pub(super) sure: bool,
    pub(super) own: bool,
    pub(super) in_files: bool,
    pub(super) resources: Vec<Box<str>>,
    pub(super) text: Vec<Box<str>>,
    pub(super) properties: Vec<Box<str>>,
    pub(super) options: Vec<Box<str>>,
    pub(super) manifest: Vec<Box<str>>,
}

/// How near two things must stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Scope {
    /// In one method.
    #[default]
    Method,
    /// In one class.
    Class,
    /// Anywhere in what can run.
    Program,
}

impl Trigger {
    fn lists_of_code(&mut self) -> [&mut Vec<Box<str>>; 5] {
        [&mut self.calls, &mut self.fields, &mut self.names, &mut self.constants, &mut self.with_calls]
    }
}

impl Need {
    /// Whether the row holds for a release.
    pub fn on(&self, release: u16) -> bool {
        (self.from..=self.to).contains(&release)
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    lists: BTreeMap<Box<str>, Vec<Box<str>>>,
    need: Vec<Need>,
}

impl Table {
    /// Puts the items of lists where triggers refer to them.
    fn spread(mut self) -> Table {
        let of = |item: &str| item.strip_prefix('@').and_then(|name| self.lists.get(name));
        for trigger in self.need.iter_mut().flat_map(|need| &mut need.triggers) {
            for items in trigger.lists_of_code() {
                if items.iter().any(|item| of(item).is_some()) {
                    let spread = items.iter().flat_map(|item| of(item).cloned().unwrap_or_else(|| vec![item.clone()]));
                    *items = spread.collect();
                }
            }
        }
        self
    }
}

/// Names and aliases of charsets in small letters.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct Charsets {
    /// In jdk.charsets on both releases that were looked at.
    pub every: Vec<Box<str>>,
    /// Only on 17.
    pub only_17: Vec<Box<str>>,
    /// Only on 25.
    pub only_25: Vec<Box<str>>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| parsed::<Table>(include_str!("needs.toml")).spread());

/// The charsets of `charsets.toml`.
pub(super) static CHARSETS: LazyLock<Charsets> = LazyLock::new(|| parsed(include_str!("charsets.toml")));

#[allow(clippy::expect_used, reason = "the text is part of the program; a test parses it")]
pub(super) fn parsed<T: serde::de::DeserializeOwned>(text: &str) -> T {
    toml::from_str(text).expect("the table was tested")
}

/// All rows, in the order of the file.
pub fn table() -> &'static [Need] {
    &TABLE.need
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::super::glob::is_open;
    use super::super::index::is_platform;
    use super::*;
    use crate::platform::Catalogue;

    #[test]
    fn identifiers_are_unique_and_texts_are_there() {
        let mut seen = BTreeSet::new();
        for need in table() {
            assert!(seen.insert(&need.id), "{} stands twice", need.id);
            assert!(need.id.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'-'), "{}", need.id);
            for text in [&need.title, &need.without, &need.source] {
                assert!(!text.is_empty() && !text.ends_with('.'), "{}: {text:?}", need.id);
            }
            assert!(need.from <= need.to && !need.triggers.is_empty(), "{}", need.id);
        }
    }

    /// A row that names a module which a release of its range lacks could ask for what the linker refuses.
    #[test]
    fn modules_exist_on_each_release_of_their_row() {
        // Only builds for Windows have it, and no catalogue was made from one.
        let elsewhere = ["jdk.crypto.mscapi"];
        let mut lacking = Vec::new();
        for release in Catalogue::BUILT_IN {
            let catalogue = Catalogue::built_in(release).unwrap();
            for need in table().iter().filter(|need| need.on(release)) {
                if catalogue.module(&need.module).is_none() && !elsewhere.contains(&&*need.module) {
                    lacking.push((release, &need.id, &need.module));
                }
            }
        }
        assert!(lacking.is_empty(), "{lacking:?}");
    }

    #[test]
    fn triggers_ask_for_something_and_are_written_as_the_head_says() {
        for need in table() {
            for trigger in &need.triggers {
                let Trigger { calls, fields, names, constants, with_calls, .. } = trigger;
                let code = [calls, fields, names, constants].iter().any(|items| !items.is_empty())
                    || trigger.charsets
                    || trigger.in_files && trigger.locales;
                let files = [&trigger.resources, &trigger.properties, &trigger.options, &trigger.manifest];
                let others = files.iter().filter(|items| !items.is_empty()).count();
                let either =
                    others == 1 && [calls, fields, names, constants, with_calls].iter().all(|items| items.is_empty());
                assert!((code && others == 0) || either, "{}: {trigger:?}", need.id);
                assert!(trigger.text.is_empty() || !trigger.resources.is_empty(), "{}", need.id);
                for call in calls.iter().chain(with_calls).chain(fields) {
                    let (owner, name) = call.split_once('.').expect("owner.name");
                    let name = name.split('(').next().unwrap();
                    assert!(is_platform(owner.as_bytes()), "{call}");
                    // Hot filters look the owner up, and the beginning of the name.
                    assert!(!is_open(owner) && !name.trim_end_matches('*').is_empty(), "{call}");
                    assert!(!name.trim_end_matches('*').contains(['*', '?', '.']), "{call}");
                }
                let properties = trigger.properties.iter().flat_map(|property| property.split('='));
                let properties = properties.filter(|part| *part != "*");
                for text in constants.iter().chain(names).map(|text| &**text).chain(properties) {
                    // A text is looked at by its first byte, or by its last one.
                    let inner = text.strip_prefix('*').unwrap_or(text);
                    assert!(inner.len() == text.len() || !is_open(inner), "{text} would be tried on every text");
                    assert!(!inner.starts_with('?'), "{text}");
                }
            }
        }
    }

    /// Each method and field that the table names exists on the platform, so that no row is dead by a slip of the pen.
    #[test]
    fn owners_are_types_of_some_release() {
        let catalogues: Vec<Catalogue> =
            Catalogue::BUILT_IN.map(|release| Catalogue::built_in(release).unwrap()).collect();
        for need in table() {
            for item in need
                .triggers
                .iter()
                .flat_map(|trigger| trigger.calls.iter().chain(&trigger.with_calls).chain(&trigger.fields))
            {
                let owner = item.split_once('.').unwrap().0.as_bytes();
                let found = catalogues
                    .iter()
                    .filter(|catalogue| need.on(catalogue.release))
                    .any(|catalogue| matches!(catalogue.presence(owner), crate::platform::Presence::Present(_)));
                assert!(found, "{item}");
            }
        }
    }

    #[test]
    fn lists_are_had_in_common_and_no_row_refers_to_one_that_is_not_there() {
        let text = include_str!("needs.toml");
        for name in TABLE.lists.keys() {
            assert!(text.matches(&format!("\"@{name}\"")).count() > 1, "{name}");
        }
        for need in table() {
            for Trigger { calls, fields, names, constants, with_calls, .. } in &need.triggers {
                let mut items = [calls, fields, names, constants, with_calls].into_iter().flatten();
                assert!(items.all(|item| !item.starts_with('@')), "{}", need.id);
            }
        }
    }

    #[test]
    fn charsets_are_small_letters() {
        for name in CHARSETS.every.iter().chain(&CHARSETS.only_17).chain(&CHARSETS.only_25) {
            assert!(name.is_ascii() && !name.bytes().any(|byte| byte.is_ascii_uppercase()), "{name}");
        }
        assert!(CHARSETS.every.iter().any(|name| &**name == "ibm037"));
    }
}

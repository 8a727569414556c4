//! Purposes that a runtime is to serve beside its program, by name: `purposes.toml`. The item to read is [`Purpose`].

use std::sync::LazyLock;

use serde::Deserialize;

use super::table::parsed;
use crate::platform::{Catalogue, ModuleId};

/// Something that operators want of a runtime.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Purpose {
    /// A stable word: `recording`.
    pub id: Box<str>,
    /// What it is to people.
    pub title: Box<str>,
    /// Where it is published what that takes.
    pub source: Box<str>,
    modules: Vec<Part>,
}

/// A module, and the releases for which the purpose takes it.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Part {
    name: Box<str>,
    #[serde(default)]
    from: u16,
    #[serde(default = "last")]
    to: u16,
}

fn last() -> u16 {
    u16::MAX
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    purpose: Vec<Purpose>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| parsed(include_str!("purposes.toml")));

/// All purposes, in the order of the file.
pub fn purposes() -> &'static [Purpose] {
    &TABLE.purpose
}

impl Purpose {
    /// The modules that it takes on a release, java.base aside, in the order of the table.
    pub fn modules(&self, catalogue: &Catalogue) -> Vec<ModuleId> {
        let on = |part: &&Part| (part.from..=part.to).contains(&catalogue.release);
        self.modules.iter().filter(on).filter_map(|part| catalogue.module(&part.name)).collect()
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn the_table_can_be_read_and_names_modules_of_every_release_of_a_row() {
        let mut seen = BTreeSet::new();
        for purpose in purposes() {
            assert!(seen.insert(&purpose.id) && purpose.id.bytes().all(|b| b.is_ascii_lowercase() || b == b'-'));
            assert!(!purpose.title.ends_with('.') && !purpose.source.is_empty());
            for release in Catalogue::BUILT_IN {
                let catalogue = Catalogue::built_in(release).unwrap();
                for part in purpose.modules.iter().filter(|part| (part.from..=part.to).contains(&release)) {
                    assert!(catalogue.module(&part.name).is_some(), "{} on {release}", part.name);
                }
            }
        }
    }

    /// JDK-8308398: from 22 on java.base has elliptic curves.
    #[test]
    fn modules_differ_by_release() {
        let tls = purposes().iter().find(|purpose| &*purpose.id == "tls").unwrap();
        let counts = [17, 21, 22, 25].map(|release| tls.modules(&Catalogue::built_in(release).unwrap()).len());
        assert_eq!(counts, [1, 1, 0, 0]);
    }
}

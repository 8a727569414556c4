//! Class files under another ending, which only a loader of the archive's own finds.
//!
//! The first function to read is [`Apart::all`].

use std::collections::{BTreeMap, BTreeSet};

use super::layout::{header, is_class};
use super::manifest::{AGENTS, Manifest};

/// Endings in folders of which a file is looked at in one archive. Real ones have some dozens.
const MOST_ENDINGS: usize = 1024;

/// Class files that have another ending, so that the application's class loader does not find them; a loader of the
/// archive's own does (common practice, no source).
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Apart {
    /// One at the top; empty where they stand at the root.
    pub(crate) folder: String,
    /// The ending, with its `.`.
    pub(crate) ending: String,
}

impl Apart {
    /// All such folders of an archive, by name. Only agents and what is started bring a loader of their own. What a file is
    /// `is_class_file` tells by its bytes; it is asked for one file of each ending in a folder.
    pub(crate) fn all<'a>(
        manifest: Option<&Manifest>,
        paths: &(impl Iterator<Item = &'a str> + Clone),
        mut is_class_file: impl FnMut(&str) -> bool,
    ) -> Vec<Apart> {
        if !AGENTS.iter().chain(&["Main-Class"]).any(|name| header(manifest, name).is_some()) {
            return Vec::new();
        }
        let plain: BTreeSet<&str> = paths.clone().filter(|path| is_class(path)).map(top).collect();
        let mut found: BTreeMap<String, String> = BTreeMap::new();
        let mut asked: BTreeSet<(&str, &str)> = BTreeSet::new();
        let is_plain = |path: &&str| !is_class(path) && !path.starts_with("META-INF/") && !path.contains("/META-INF/");
        for path in paths.clone().filter(is_plain) {
            // What stands beside class files of the usual ending is in a package, and not apart.
            let folder = if plain.contains(top(path)) { "" } else { top(path) };
            // Names of classes have no dot in them (JVMS §4.2.2).
            let name = path.rsplit('/').next().unwrap_or_default();
            let Some(ending) = name.find('.').and_then(|at| name.get(at..)).filter(|ending| ending.len() < name.len())
            else {
                continue;
            };
            if asked.len() < MOST_ENDINGS && asked.insert((folder, ending)) && is_class_file(path) {
                found.entry(folder.to_owned()).or_insert_with(|| ending.to_owned());
            }
        }
        found.into_iter().map(|(folder, ending)| Apart { folder, ending }).collect()
    }

    /// In which of all an entry stands, and its path as the agent's loader sees it.
    pub(crate) fn find(all: &[Apart], name: &str) -> Option<(usize, String)> {
        let within = |folder: &str| {
            let at = all.binary_search_by(|apart| apart.folder.as_str().cmp(folder)).ok()?;
            let path = if folder.is_empty() { name } else { name.get(folder.len() + 1..)? };
            match path.strip_suffix(all.get(at)?.ending.as_str()) {
                Some(stem) => Some((at, format!("{stem}.class"))),
                None => (!folder.is_empty()).then(|| (at, path.to_owned())),
            }
        };
        within(top(name)).or_else(|| within(""))
    }
}

/// Whether a file begins as a class file (JVMS §4.1). Libraries for several processors in one file begin with the same
/// four bytes, and then comes how many they are, where a class file has its version: 45 and later.
pub(super) fn is_class_file(bytes: &[u8]) -> bool {
    let version = bytes.get(6..8).and_then(|version| version.try_into().ok()).map_or(0, u16::from_be_bytes);
    bytes.starts_with(&[0xCA, 0xFE, 0xBA, 0xBE]) && version >= 45
}

/// The first folder of a path; empty for what stands at the root.
fn top(path: &str) -> &str {
    path.split_once('/').map_or("", |(folder, _)| folder)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::limits::Limits;

    fn all(header: &str, paths: &[&str]) -> Vec<(String, String)> {
        let (manifest, _) = Manifest::parse(format!("{header}: gauge.Agent\n").as_bytes(), &Limits::default());
        let found = Apart::all(Some(&manifest), &paths.iter().copied(), |path| !path.contains("notes"));
        found.into_iter().map(|Apart { folder, ending }| (folder, ending)).collect()
    }

    #[test]
    fn the_ending_begins_behind_the_name_of_the_class() {
        let paths = ["gauge/Agent.class", "inner.parts/tide/Level$1.inner.part", "inner.parts/tide/notes.txt"];
        assert_eq!(all("Premain-Class", &paths), [("inner.parts".to_owned(), ".inner.part".to_owned())]);
        let apart = [Apart { folder: "inner.parts".to_owned(), ending: ".inner.part".to_owned() }];
        let found = |path| Apart::find(&apart, path).map(|(_, path)| path);
        assert_eq!(found("inner.parts/tide/Level$1.inner.part").as_deref(), Some("tide/Level$1.class"));
        assert_eq!(found("inner.parts/tide/notes.txt").as_deref(), Some("tide/notes.txt"));
        assert_eq!(found("gauge/Agent.class"), None);
    }

    /// Services in a folder of their own have names with dots, each of which looks like an ending.
    #[test]
    fn what_is_no_class_file_does_not_stand_in_the_way() {
        let services: Vec<String> = (0..2000).map(|at| format!("inst/META-INF/services/gauge.Probe{at}")).collect();
        let mut paths: Vec<&str> = services.iter().map(String::as_str).collect();
        paths.extend(["inst/notes.txt", "inst/tide/Level.classdata"]);
        assert_eq!(all("Main-Class", &paths), [("inst".to_owned(), ".classdata".to_owned())]);
        assert!(all("Implementation-Title", &paths).is_empty());
    }

    #[test]
    fn libraries_for_several_processors_are_no_classes() {
        assert!(is_class_file(b"\xCA\xFE\xBA\xBE\0\0\0\x34"));
        assert!(!is_class_file(b"\xCA\xFE\xBA\xBE\0\0\0\x02\0\0\0\x07"));
        assert!(!is_class_file(b"\xCA\xFE\xBA\xBE") && !is_class_file(b""));
    }
}

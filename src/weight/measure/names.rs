//! What the names of a module's classes and resources cost in the index of an image.
//!
//! The first function to read is [`index`]. The index has, for each entry, two words of a perfect hash, a location (four
//! names as places in a string table, place and sizes of the contents) and the names themselves, each once; and the
//! trees `/modules` and `/packages`, whose folders are entries too (`ImageFileCreator`, `ImageResourcesTree`).

use std::collections::{BTreeMap, BTreeSet};

use crate::weight::figures::Shared;

/// Bytes of an entry in the tables of the hash: a redirection and the place of its location.
const HASH_WORDS: u64 = 8;
/// Bytes of a location's end, and of one number in it beside its value.
const ONE: u64 = 1;
/// The places of all names but the first of java.base take three bytes: the table is longer than 64 KiB, and no JDK's
/// comes near 16 MiB.
const FAR: u64 = 3;
/// Where a location tells a place among contents that lies behind 16 MiB, as the trees do.
const FAR_CONTENT: u64 = 4;
/// `""`, `class` and `java.base` stand at the start of the string table.
const FIRST_PLACE: u64 = 1 + 6;

/// The index of one module.
#[derive(Default)]
pub(super) struct Index {
    /// Bytes; without the place of the module's name, the places of contents and their sizes in each location.
    pub(super) bytes: u64,
    /// Its names with their bytes, for finding those that several modules have.
    names: BTreeSet<String>,
    packages: BTreeSet<String>,
}

/// Bytes of the smallest big-endian number that holds `value`, as a location writes it; nothing for zero.
pub(in crate::weight) fn width(value: u64) -> u64 {
    u64::from((64 - value.leading_zeros()).div_ceil(8))
}

/// A number in a location: its kind and its bytes; zero is left out.
pub(in crate::weight) fn attribute(value: u64) -> u64 {
    if value == 0 { 0 } else { ONE + width(value) }
}

/// Bytes of a node of the trees apart from its name and its children.
fn node(children_bytes: u64) -> u64 {
    HASH_WORDS + ONE + (ONE + FAR) + (ONE + FAR) + (ONE + FAR_CONTENT) + attribute(children_bytes)
}

/// A path as a location splits it: parent, base, extension.
fn split(path: &str) -> (&str, &str, &str) {
    let (parent, name) = path.rsplit_once('/').unwrap_or(("", path));
    let (base, extension) = name.rsplit_once('.').unwrap_or((name, ""));
    (parent, base, extension)
}

/// All folders above a parent, itself included: `java/lang`, `java`.
fn folders(parent: &str) -> impl Iterator<Item = &str> {
    std::iter::successors(Some(parent), |folder| folder.rsplit_once('/').map(|(above, _)| above))
        .filter(|folder| !folder.is_empty())
}

/// The index of a module with these paths. `first`: whether it is the one that comes first in every image, java.base.
pub(super) fn index<'p>(module: &str, paths: impl Iterator<Item = &'p str>, first: bool) -> Index {
    let mut index = Index::default();
    // Places are only known for the module that comes first; they decide how many bytes a place takes.
    let mut places: BTreeMap<&str, u64> = BTreeMap::new();
    let mut next = FIRST_PLACE + length(module);
    let mut children: BTreeMap<&str, u64> = BTreeMap::new();
    for path in paths {
        let (parent, base, extension) = split(path);
        index.bytes += HASH_WORDS + ONE;
        for name in [parent, base, extension].into_iter().filter(|name| !name.is_empty()) {
            let place = if name == "class" {
                1
            } else if first {
                *places.entry(name).or_insert_with(|| {
                    next += length(name);
                    next - length(name)
                })
            } else {
                u64::from(u32::MAX >> 8)
            };
            index.bytes += ONE + width(place);
            if name != "class" {
                index.names.insert(name.to_owned());
            }
        }
        *children.entry(parent).or_default() += 1;
    }
    let all: BTreeSet<&str> = children.keys().flat_map(|parent| folders(parent)).collect();
    for folder in &all {
        let above = folder.rsplit_once('/').map_or("", |(above, _)| above);
        *children.entry(above).or_default() += 1;
    }
    children.entry("").or_default();
    for (folder, count) in &children {
        let name = if folder.is_empty() { length(module) } else { length(module) + length(folder) };
        index.bytes += node(4 * count) + name + 4 * count;
    }
    // The module among the children of `/modules`.
    index.bytes += 4;
    index.names.insert(module.to_owned());
    for folder in all.into_iter().filter(|folder| folder.split('/').next().is_none_or(|top| top != "META-INF")) {
        index.packages.insert(folder.replace('/', "."));
    }
    index.bytes += index.names.iter().map(|name| length(name)).sum::<u64>();
    // One reference of a package to the module; the rest of the node is shared with other modules of the package.
    index.bytes += index.packages.iter().map(|package| 8 + package_node(package)).sum::<u64>();
    index
}

/// What single rows of a module cost: entries that can be left out of it. Folders are not among it.
pub(super) fn rows<'p>(paths: impl Iterator<Item = &'p str>) -> u64 {
    let mut bytes = 0;
    for path in paths {
        let (parent, base, extension) = split(path);
        let class = extension == "class";
        bytes += HASH_WORDS + ONE + length(base);
        bytes += if parent.is_empty() { 0 } else { ONE + FAR };
        bytes += ONE + FAR + if class { ONE + 1 } else { ONE + FAR };
        // Among the children of its folder.
        bytes += 4;
    }
    bytes
}

/// A package among the children of `/packages`, its node and its name.
fn package_node(package: &str) -> u64 {
    4 + node(8) + length(package)
}

/// A name in the string table, with the zero that ends it.
fn length(name: &str) -> u64 {
    name.len() as u64 + 1
}

impl Index {
    /// Whether a text is one of its names, and so in the string table anyway.
    pub(super) fn has(&self, text: &[u8]) -> bool {
        std::str::from_utf8(text).is_ok_and(|text| self.names.contains(text))
    }

    /// Its names.
    pub(super) fn names(&self) -> impl Iterator<Item = &[u8]> {
        self.names.iter().map(String::as_bytes)
    }
}

/// Names that several modules have: counted in each of their indices, present once in an image.
pub(super) fn shared_names(indices: &[Index]) -> Vec<Shared> {
    shared(indices, |index| &index.names, length)
}

/// Packages whose folders several modules have, likewise.
pub(super) fn shared_packages(indices: &[Index]) -> Vec<Shared> {
    shared(indices, |index| &index.packages, package_node)
}

fn shared(indices: &[Index], of: impl Fn(&Index) -> &BTreeSet<String>, bytes: impl Fn(&str) -> u64) -> Vec<Shared> {
    let mut holders: BTreeMap<&str, Vec<u16>> = BTreeMap::new();
    for (module, index) in (0..=u16::MAX).zip(indices) {
        for name in of(index) {
            holders.entry(name).or_default().push(module);
        }
    }
    sum_by_holders(holders.into_iter().map(|(name, modules)| (modules, bytes(name))))
}

/// Sums what the same modules share.
pub(super) fn sum_by_holders(items: impl Iterator<Item = (Vec<u16>, u64)>) -> Vec<Shared> {
    let mut sums: BTreeMap<Vec<u16>, u64> = BTreeMap::new();
    for (modules, bytes) in items.filter(|(modules, _)| modules.len() > 1) {
        *sums.entry(modules).or_default() += bytes;
    }
    sums.into_iter().map(|(modules, bytes)| Shared { modules, bytes }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_split_at_its_last_slash_and_its_last_dot() {
        assert_eq!(split("java/lang/Object.class"), ("java/lang", "Object", "class"));
        assert_eq!(split("META-INF/services/a.b.C"), ("META-INF/services", "a.b", "C"));
        assert_eq!(split("module-info.class"), ("", "module-info", "class"));
        assert_eq!(folders("a/b/c").collect::<Vec<_>>(), ["a/b/c", "a/b", "a"]);
    }

    #[test]
    fn numbers_take_as_many_bytes_as_they_need() {
        assert_eq!([0, 1, 255, 256, 65_536, 1 << 24].map(width), [0, 1, 1, 2, 3, 4]);
        assert_eq!([0, 1, 256].map(attribute), [0, 2, 3]);
    }
}

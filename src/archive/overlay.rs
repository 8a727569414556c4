//! Jars with versioned entries (JAR File Specification; JEP 238): which entry a class loader of a given release sees.
//!
//! The first function to read is [`effective`]; [`split`] tells a versioned path from a plain one.

use std::collections::HashMap;

use super::{Archive, Entry};

/// The first release that knows versioned entries.
const FIRST: u16 = 9;

/// The release and the plain path of a path below `META-INF/versions/N/`.
///
/// Releases below 9 and numbers with leading zeros mean nothing, nor does anything whose plain path is below `META-INF/`
/// (the specification keeps that folder free of versions).
pub(crate) fn split(path: &str) -> Option<(u16, &str)> {
    let (number, plain) = path.strip_prefix("META-INF/versions/")?.split_once('/')?;
    if number.starts_with('0') || !number.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let version = number.parse().ok().filter(|&version| version >= FIRST)?;
    let meta = plain.get(..9).is_some_and(|start| start.eq_ignore_ascii_case("META-INF/"));
    (!meta && !plain.is_empty()).then_some((version, plain))
}

/// The entries that a class loader of `release` finds, in directory order: of all entries with one path the one with
/// the largest version that is not above `release`.
pub fn effective(archive: &Archive, release: u16) -> impl Iterator<Item = &Entry> {
    effective_positions(archive, release).filter_map(|at| archive.entries.get(at))
}

/// The same as positions in [`Archive::entries`].
pub fn effective_positions(archive: &Archive, release: u16) -> impl Iterator<Item = usize> {
    // Only paths that have a versioned entry can differ from the base, and most archives have none.
    let mut best: HashMap<&str, u16> = HashMap::new();
    for entry in archive.entries.iter().filter(|entry| entry.version > 0 && entry.version <= release) {
        let version = best.entry(&entry.path).or_default();
        *version = entry.version.max(*version);
    }
    archive
        .entries
        .iter()
        .enumerate()
        .filter(move |(_, entry)| {
            entry.version <= release
                && (best.is_empty() || best.get(&*entry.path).is_none_or(|&version| version == entry.version))
        })
        .map(|(at, _)| at)
}

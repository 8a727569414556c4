//! What the platform once had: packages of all releases, and types of the public API that are gone.
//!
//! Two plain lists, written by `scripts/catalogue`, so that a change of them can be read as text.

use std::sync::OnceLock;

use rustc_hash::FxHashSet;

/// One package a line, internal form, sorted.
const PACKAGES: &str = include_str!("built_in/packages.txt");
/// `type release module` a line, sorted by type: the last release whose API had it.
const REMOVED: &str = include_str!("built_in/removed.txt");

/// Whether any release known to this program ever had the package (internal form): what a scan looks out for before a
/// release is chosen.
pub fn ever_platform_package(package: &[u8]) -> bool {
    static SET: OnceLock<FxHashSet<&[u8]>> = OnceLock::new();
    SET.get_or_init(|| PACKAGES.lines().map(str::as_bytes).collect()).contains(package)
}

/// The last release (8 to 24) whose API had this type, where release 25 lacks it; with the module that held it.
/// `Some((10, "java.xml.bind"))` for `javax/xml/bind/JAXBContext`.
///
/// For types of release 8, which had no modules, it is the module that held their package in release 9.
pub fn last_release_with(class: &[u8]) -> Option<(u16, &'static str)> {
    static LINES: OnceLock<Vec<&str>> = OnceLock::new();
    let lines = LINES.get_or_init(|| REMOVED.lines().collect());
    let class_of = |line: &&'static str| line.split(' ').next().unwrap_or_default().as_bytes();
    let at = lines.binary_search_by(|line| class_of(line).cmp(class)).ok()?;
    let mut fields = lines.get(at)?.split(' ').skip(1);
    Some((fields.next()?.parse().ok()?, fields.next()?))
}

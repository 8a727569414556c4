//! Writes the built-in catalogues. Compiled for `scripts/catalogue` alone.
//!
//! The first function to read is [`run`]. Facts come from two full JDKs, 17 and 25, and from the symbol file of the
//! newer one (`lib/ct.sym`, JEP 247), which knows the public API of every release since 8.

mod ct_sym;
mod evidence;
mod full;
mod release;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use super::Catalogue;
use ct_sym::Symbols;
use full::Full;

/// Reads both JDKs and writes all files of the built-in catalogues into the folder `out`.
pub fn run(older: &Path, newer: &Path, out: &Path) -> Result<(), String> {
    let older = Full::read(older)?;
    let newer = Full::read(newer)?;
    let symbols = Symbols::read(&newer.home.join("lib/ct.sym"))?;
    let mut packages: BTreeSet<Box<str>> = BTreeSet::new();
    for number in Catalogue::BUILT_IN {
        let contents = release::contents(number, &older, &newer, &symbols)?;
        packages.extend(contents.modules.iter().flat_map(|module| module.packages.iter().cloned()));
        write(&out.join(format!("r{number}.bin")), &contents.encode()?)?;
    }
    packages.extend(symbols.packages());
    write(&out.join("packages.txt"), lines(packages.iter().map(ToString::to_string)).as_bytes())?;
    write(&out.join("removed.txt"), lines(removed(&symbols)).as_bytes())
}

/// Types of the API that a later release lacks: `type release module`, sorted by type.
fn removed(symbols: &Symbols) -> impl Iterator<Item = String> {
    let mut releases: BTreeMap<&str, BTreeMap<u16, &str>> = BTreeMap::new();
    for (number, release) in &symbols.releases {
        for (class, symbol) in &release.types {
            releases.entry(class).or_default().insert(*number, &symbol.module);
        }
    }
    let newest = *Catalogue::BUILT_IN.end();
    releases.into_iter().filter_map(move |(class, of)| {
        let (last, module) =
            of.iter().rev().find(|(number, _)| **number < newest && !of.contains_key(&(**number + 1)))?;
        Some(format!("{class} {last} {module}"))
    })
}

fn lines(items: impl Iterator<Item = String>) -> String {
    items.fold(String::new(), |text, line| text + &line + "\n")
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), String> {
    fs::write(path, bytes).map_err(|error| format!("{}: {error}", path.display()))
}

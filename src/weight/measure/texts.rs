//! Classes that share their texts: one string table for the whole image, filled module by module.
//!
//! The first function to read is [`base`]; java.base comes first in every image, so where its texts lie is known, and all
//! others lie behind them.

use std::collections::{BTreeMap, BTreeSet};

use rustc_hash::{FxHashMap, FxHashSet};

use super::contents::{Content, Job};
use super::names::{Index, attribute, sum_by_holders};
use super::squeeze::Wire;
use crate::weight::figures::{Shared, Stored};
use crate::weight::rewrite::shared::share;

/// A rewritten class has the header of a compressed resource.
const HEADER: u64 = 29;
/// Where texts of other modules lie, as far as the width of a place goes: behind 2 MiB, which takes four bytes.
const BEHIND_BASE: u32 = 1 << 22;

/// The string table of an image of java.base alone.
pub(super) struct BaseTable {
    places: FxHashMap<Box<[u8]>, u32>,
}

/// A module's contents in this form, and its texts.
#[derive(Default)]
pub(super) struct SharedModule {
    pub(super) stored: Stored,
    texts: FxHashSet<Box<[u8]>>,
}

/// java.base in this form, with its string table.
pub(super) fn base(
    contents: &[Content<'_>],
    stripped: bool,
    job: &Job,
    names: &Index,
    wire: bool,
) -> Result<(SharedModule, BaseTable), String> {
    let mut table = BaseTable { places: FxHashMap::default() };
    // The index's own names are in the table too. They come first, but for a few, and no class's text is far from them.
    let mut next: u32 = 0;
    let mut place = |text: &[u8], places: &mut FxHashMap<Box<[u8]>, u32>| {
        if let Some(place) = places.get(text) {
            return *place;
        }
        let place = next;
        next = next.saturating_add(u32::try_from(text.len()).unwrap_or(u32::MAX)).saturating_add(1);
        places.insert(text.into(), place);
        place
    };
    let mut stored =
        rewrite(contents, stripped, job, wire, &mut |text| place(text, &mut table.places))?;
    stored.texts = table.places.keys().filter(|text| !names.has(text)).map(|text| text.len() as u64 + 1).sum();
    Ok((SharedModule { stored, texts: FxHashSet::default() }, table))
}

/// Another module in this form.
pub(super) fn other(
    contents: &[Content<'_>],
    stripped: bool,
    job: &Job,
    names: &Index,
    table: &BaseTable,
    base_names: &Index,
    wire: bool,
) -> Result<SharedModule, String> {
    let mut texts: FxHashSet<Box<[u8]>> = FxHashSet::default();
    let mut place = |text: &[u8]| {
        if let Some(place) = table.places.get(text) {
            return *place;
        }
        if !texts.contains(text) {
            texts.insert(text.into());
        }
        // One place for one text, whatever it is: compressors then see what they would see.
        text.iter().fold(BEHIND_BASE, |hash, byte| hash.wrapping_mul(31) ^ u32::from(*byte)) % BEHIND_BASE + BEHIND_BASE
    };
    let mut stored = rewrite(contents, stripped, job, wire, &mut place)?;
    texts.retain(|text| !base_names.has(text));
    stored.texts = texts.iter().filter(|text| !names.has(text)).map(|text| text.len() as u64 + 1).sum();
    Ok(SharedModule { stored, texts })
}

/// Rewrites all classes in their order; resources stay as they are.
fn rewrite(
    contents: &[Content<'_>],
    stripped: bool,
    job: &Job,
    wire: bool,
    place: &mut dyn FnMut(&[u8]) -> u32,
) -> Result<Stored, String> {
    let mut stored = Stored::default();
    let mut wire = wire.then(Wire::new).transpose().map_err(|error| error.to_string())?;
    for content in contents {
        let bytes = content.read(stripped, job.pool)?;
        let shared = if content.is_class() { share(&bytes, place) } else { None };
        let size = bytes.len() as u64;
        let length = shared.as_ref().map_or(0, |shared| shared.len() as u64 + HEADER);
        stored.bytes += if length == 0 { size } else { length };
        stored.sizes += attribute(size) + attribute(length);
        if let Some(wire) = &mut wire {
            wire.write(shared.as_deref().unwrap_or(&bytes)).map_err(|error| error.to_string())?;
        }
    }
    if let Some(wire) = wire {
        let (gzip, zstd) = wire.finish().map_err(|error| error.to_string())?;
        (stored.gzip, stored.zstd) = (Some(gzip), Some(zstd));
    }
    Ok(stored)
}

/// What several modules have in the string table, their names in the index included. `base`: the place of java.base.
pub(super) fn shared(
    modules: &[SharedModule],
    indices: &[Index],
    base: usize,
    table: &BaseTable,
) -> Vec<Shared> {
    let mut holders: BTreeMap<&[u8], BTreeSet<u16>> = BTreeMap::new();
    for (number, (module, index)) in (0..=u16::MAX).zip(modules.iter().zip(indices)) {
        for name in index.names() {
            holders.entry(name).or_default().insert(number);
            // What java.base's classes say is there before any other module's names.
            if table.places.contains_key(name) {
                holders.entry(name).or_default().extend(u16::try_from(base));
            }
        }
        #[allow(clippy::iter_over_hash_type, reason = "what is collected is sorted")]
        for text in &module.texts {
            holders.entry(text).or_default().insert(number);
        }
    }
    sum_by_holders(holders.into_iter().map(|(text, modules)| (modules.into_iter().collect(), text.len() as u64 + 1)))
}

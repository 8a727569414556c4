//! Classes that share their texts: one string table for the whole image.
//!
//! The first functions to read are [`Texts::count`] and [`Texts::sums`]. Before it changes anything the linker counts the
//! texts of all classes and lays out those that occur more than once, the most frequent first, so that most places in the
//! table take few bytes. Texts of debug data are among them, even where that is taken out afterwards; of those that occur
//! once only what is left then comes into the table.

use std::collections::{BTreeMap, BTreeSet};

use rustc_hash::{FxHashMap, FxHashSet};

use super::contents::{Content, Job};
use super::names::{Index, attribute, sum_by_holders};
use super::squeeze::Wire;
use crate::weight::RESOURCE_HEADER as HEADER;
use crate::weight::figures::{Shared, Stored};
use crate::weight::rewrite::shared::share;

/// Places below these take one byte and two; three up to 2 MiB (`CompressIndexes`).
const ONE_BYTE: u64 = 1 << 5;
const TWO_BYTES: u64 = 1 << 13;
/// `""` and `class`, which stand first.
const FIRST: u64 = 7;

/// How often each text occurs in a module's classes.
#[derive(Default)]
pub(super) struct Texts {
    counts: FxHashMap<Box<[u8]>, u32>,
}

impl Texts {
    /// Reads all classes, with their debug data.
    pub(super) fn count(contents: &[Content<'_>], job: &Job) -> Result<Texts, String> {
        let mut texts = Texts::default();
        for content in contents.iter().filter(|content| content.is_class()) {
            let bytes = content.read(false, job.pool)?;
            let mut count = |text: &[u8]| {
                match texts.counts.get_mut(text) {
                    Some(count) => *count += 1,
                    None => {
                        texts.counts.insert(text.into(), 1);
                    }
                }
                0
            };
            share(&bytes, &mut count);
        }
        Ok(texts)
    }

    fn of(&self, text: &[u8]) -> u32 {
        self.counts.get(text).copied().unwrap_or(0)
    }

    /// A module's contents in this form, and the texts that come into the table. `base`: the texts of java.base, `None`
    /// where this is java.base itself.
    pub(super) fn sums(
        &self,
        contents: &[Content<'_>],
        stripped: bool,
        job: &Job,
        base: Option<&Texts>,
        names: [&Index; 2],
    ) -> Result<(Stored, Texts), String> {
        let frequency = |text: &[u8]| self.of(text) + base.map_or(0, |base| base.of(text));
        let layout = Layout::of(self, base);
        let mut singles = 0;
        let mut left: FxHashSet<Box<[u8]>> = FxHashSet::default();
        let is_own = |text: &[u8]| base.is_none_or(|base| base.of(text) == 0);
        let in_index = |text: &[u8]| names.iter().any(|index| index.has(text));
        // As they are laid out: the frequent ones first, and those that occur once in the order of classes.
        let mut laid_out: Vec<(u32, Box<[u8]>)> = Vec::new();
        let mut place = |text: &[u8]| {
            let frequency = frequency(text);
            if !left.contains(text) {
                left.insert(text.into());
                if is_own(text) && !in_index(text) {
                    laid_out.push((frequency.max(1), text.into()));
                }
            }
            if frequency <= 1 {
                singles += 1;
            }
            layout.place(text, frequency)
        };
        let mut stored = rewrite(contents, stripped, job, &mut place)?;
        let comes = |text: &[u8]| !stripped || frequency(text) > 1 || left.contains(text);
        let mut table = Texts::default();
        #[allow(clippy::iter_over_hash_type, reason = "what is built has no order, and sums do not depend on it")]
        for (text, count) in self.counts.iter().filter(|(text, _)| comes(text)) {
            if is_own(text) {
                if !in_index(text) {
                    stored.texts += length(text);
                }
                if *count == 1 {
                    stored.single_texts += length(text);
                }
            }
            table.counts.insert(text.clone(), *count);
        }
        stored.singles = singles;
        if stored.gzip.is_some() {
            laid_out.sort_by_key(|(frequency, _)| std::cmp::Reverse(*frequency));
            let table_stream: Vec<u8> =
                laid_out.iter().flat_map(|(_, text)| text.iter().chain(&[0])).copied().collect();
            let (gzip, zstd) = compressed(&table_stream).map_err(|error| error.to_string())?;
            // Texts that only debug data had are in the table too, if others have them.
            let of_all = |packed: u64| (packed * stored.texts).checked_div(table_stream.len() as u64).unwrap_or(0);
            (stored.texts_gzip, stored.texts_zstd) = (Some(of_all(gzip)), Some(of_all(zstd)));
        }
        Ok((stored, table))
    }
}

fn compressed(stream: &[u8]) -> std::io::Result<(u64, u64)> {
    let mut wire = Wire::new()?;
    wire.write(stream)?;
    wire.finish()
}

fn length(text: &[u8]) -> u64 {
    text.len() as u64 + 1
}

/// From which frequency on a text lies where places take one byte, and two.
struct Layout {
    one_byte: u32,
    two_bytes: u32,
}

impl Layout {
    fn of(texts: &Texts, base: Option<&Texts>) -> Layout {
        let mut bytes: BTreeMap<u32, u64> = BTreeMap::new();
        #[allow(clippy::iter_over_hash_type, reason = "sums do not depend on the order")]
        for (text, count) in &texts.counts {
            *bytes.entry(count + base.map_or(0, |base| base.of(text))).or_default() += length(text);
        }
        #[allow(clippy::iter_over_hash_type, reason = "sums do not depend on the order")]
        for (text, count) in base.iter().flat_map(|base| &base.counts).filter(|(text, _)| texts.of(text) == 0) {
            *bytes.entry(*count).or_default() += length(text);
        }
        let mut layout = Layout { one_byte: u32::MAX, two_bytes: u32::MAX };
        let mut at = FIRST;
        for (frequency, bytes) in bytes.into_iter().rev() {
            if at < ONE_BYTE {
                layout.one_byte = frequency;
            }
            if at < TWO_BYTES {
                layout.two_bytes = frequency;
            }
            at += bytes;
        }
        layout
    }

    /// A place as wide as that of a text of this frequency. One place for one text: compressors see what they would see.
    fn place(&self, text: &[u8], frequency: u32) -> u32 {
        let hash = text.iter().fold(17_u32, |hash, byte| hash.wrapping_mul(31) ^ u32::from(*byte));
        let (from, to) = match frequency {
            frequency if frequency >= self.one_byte => (0, ONE_BYTE),
            frequency if frequency >= self.two_bytes => (ONE_BYTE, TWO_BYTES),
            _ => (TWO_BYTES, 1 << 21),
        };
        from as u32 + hash % (to - from) as u32
    }
}

/// Rewrites all classes in their order; resources stay as they are.
fn rewrite(
    contents: &[Content<'_>],
    stripped: bool,
    job: &Job,
    place: &mut dyn FnMut(&[u8]) -> u32,
) -> Result<Stored, String> {
    let mut stored = Stored::default();
    let form = crate::weight::Form::new(stripped, crate::weight::Compression::SharedTexts);
    let wire = job.wire.contains(&form);
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
pub(super) fn shared(modules: &[Texts], indices: &[Index], base: usize) -> Vec<Shared> {
    let none = Texts::default();
    let of_base = modules.get(base).unwrap_or(&none);
    let mut holders: BTreeMap<&[u8], BTreeSet<u16>> = BTreeMap::new();
    for (number, (texts, index)) in (0..=u16::MAX).zip(modules.iter().zip(indices)) {
        let is_base = usize::from(number) == base;
        for name in index.names() {
            let holders = holders.entry(name).or_default();
            holders.insert(number);
            // What java.base's classes say is there before any other module's names.
            if of_base.of(name) > 0 {
                holders.extend(u16::try_from(base));
            }
        }
        // Texts that java.base has are not counted elsewhere.
        let own = texts.counts.keys().filter(|text| !is_base && of_base.of(text) == 0);
        #[allow(clippy::iter_over_hash_type, reason = "what is collected is sorted")]
        for text in own {
            holders.entry(text).or_default().insert(number);
        }
    }
    if let Some(names) = indices.get(base) {
        // Nor are texts that are names of java.base.
        for (text, of) in &mut holders {
            if names.has(text) {
                of.retain(|number| {
                    usize::from(*number) == base
                        || indices.get(usize::from(*number)).is_some_and(|index| index.has(text))
                });
            }
        }
    }
    sum_by_holders(holders.into_iter().map(|(text, modules)| (modules.into_iter().collect(), length(text))))
}

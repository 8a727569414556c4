//! Names to small numbers and back, without a lock and without an allocation per name.
//!
//! Each worker fills an [`Interner`] of its own for one chunk of classes; [`Renumbering`] then carries what is
//! used of it over, chunk after chunk in input order, so that the numbers do not depend on the number of threads.

use std::hash::Hasher;

use hashbrown::HashTable;
use rustc_hash::FxHasher;

/// The number of an interned name. Comparing two is comparing the names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NameId(pub u32);

/// A set of byte strings, numbered in order of first appearance.
#[derive(Default)]
pub struct Interner {
    bytes: Vec<u8>,
    /// Where each name ends in `bytes`; it starts where the one before ends.
    ends: Vec<u32>,
    hashes: Vec<u32>,
    table: HashTable<u32>,
}

impl Interner {
    /// With room for `names` names, so that the table need not grow into its size step by step.
    pub fn with_room(names: usize) -> Self {
        Interner {
            bytes: Vec::with_capacity(names * 32),
            ends: Vec::with_capacity(names),
            hashes: Vec::with_capacity(names),
            table: HashTable::with_capacity(names),
        }
    }

    /// The number of a name, given one if it is new.
    pub fn intern(&mut self, name: &[u8]) -> NameId {
        self.intern_hashed(name, hash(name))
    }

    fn intern_hashed(&mut self, name: &[u8], full: u32) -> NameId {
        let Interner { bytes, ends, hashes, table } = self;
        let found = table.find(u64::from(full).wrapping_mul(SPREAD), |&id| {
            hashes.get(id as usize) == Some(&full) && slice(bytes, ends, id) == name
        });
        if let Some(&id) = found {
            return NameId(id);
        }
        let id = ends.len() as u32;
        bytes.extend_from_slice(name);
        ends.push(bytes.len() as u32);
        hashes.push(full);
        table.insert_unique(u64::from(full).wrapping_mul(SPREAD), id, |&other| {
            u64::from(hashes.get(other as usize).copied().unwrap_or(0)).wrapping_mul(SPREAD)
        });
        NameId(id)
    }

    /// The number of a name that is already here.
    pub fn find(&self, name: &[u8]) -> Option<NameId> {
        let full = hash(name);
        self.table
            .find(u64::from(full).wrapping_mul(SPREAD), |&id| {
                self.hashes.get(id as usize) == Some(&full) && slice(&self.bytes, &self.ends, id) == name
            })
            .map(|&id| NameId(id))
    }

    /// The name of a number; empty for a number of another interner.
    pub fn name(&self, id: NameId) -> &[u8] {
        slice(&self.bytes, &self.ends, id.0)
    }

    /// How many names there are.
    pub fn len(&self) -> usize {
        self.ends.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.ends.is_empty()
    }

    /// Every name with its number, in order.
    pub fn iter(&self) -> impl Iterator<Item = (NameId, &[u8])> {
        (0..self.ends.len() as u32).map(|id| (NameId(id), slice(&self.bytes, &self.ends, id)))
    }
}

/// The numbers of one interner's names in another; each name is taken over when it is first asked for.
pub struct Renumbering<'a> {
    from: &'a Interner,
    numbers: Vec<Option<NameId>>,
}

impl<'a> Renumbering<'a> {
    /// Nothing is taken over yet.
    pub fn of(from: &'a Interner) -> Self {
        Renumbering { from, numbers: vec![None; from.len()] }
    }

    /// The number in `to` of what has the number `id` in the first interner.
    pub fn number(&mut self, id: NameId, to: &mut Interner) -> NameId {
        let Some(slot) = self.numbers.get_mut(id.0 as usize) else { return to.intern(&[]) };
        *slot.get_or_insert_with(|| {
            let full = self.from.hashes.get(id.0 as usize).copied().unwrap_or(0);
            to.intern_hashed(self.from.name(id), full)
        })
    }
}

/// Spreads a 32-bit hash over the 64 bits that the table takes its bucket and tag from (Fibonacci hashing).
const SPREAD: u64 = 0x9E37_79B9_7F4A_7C15;

fn hash(name: &[u8]) -> u32 {
    let mut hasher = FxHasher::default();
    hasher.write(name);
    let full = hasher.finish();
    (full ^ (full >> 32)) as u32
}

fn slice<'a>(bytes: &'a [u8], ends: &[u32], id: u32) -> &'a [u8] {
    let at = id as usize;
    let start = if at == 0 { 0 } else { ends.get(at - 1).copied().unwrap_or(0) as usize };
    let end = ends.get(at).copied().unwrap_or(0) as usize;
    bytes.get(start..end).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_keeps_its_number() {
        let mut names = Interner::default();
        let a = names.intern(b"gauge/Reading");
        let b = names.intern(b"");
        assert_eq!(names.intern(b"gauge/Reading"), a);
        assert_eq!(names.name(a), b"gauge/Reading");
        assert_eq!(names.name(b), b"");
        assert_eq!(names.find(b"sluice/Gate"), None);
    }

    #[test]
    fn merging_keeps_the_order_of_first_appearance() {
        let (mut all, mut first, mut second) = (Interner::default(), Interner::default(), Interner::default());
        first.intern(b"a");
        first.intern(b"b");
        second.intern(b"c");
        second.intern(b"a");
        let mut numbers = |from: &Interner| -> Vec<u32> {
            let mut renumbering = Renumbering::of(from);
            from.iter().map(|(id, _)| renumbering.number(id, &mut all).0).collect()
        };
        assert_eq!(numbers(&first), [0, 1]);
        assert_eq!(numbers(&second), [2, 0]);
        assert_eq!(all.len(), 3);
    }
}

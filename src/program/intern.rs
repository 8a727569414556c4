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

impl NameId {
    /// The number of no name.
    pub const NONE: NameId = NameId(u32::MAX);
}

/// A set of byte strings, numbered in order of first appearance.
#[derive(Default)]
pub struct Interner {
    bytes: Vec<u8>,
    spans: Vec<Span>,
    table: HashTable<u32>,
}

/// Where a name stands in the bytes, and its hash beside it: one look tells nearly always whether it is the one wanted.
#[derive(Clone, Copy, Default)]
struct Span {
    start: u32,
    end: u32,
    hash: u32,
}

impl Interner {
    /// With room for `names` names, so that the table need not grow into its size step by step.
    pub fn with_room(names: usize) -> Self {
        Interner {
            bytes: Vec::with_capacity(names * 32),
            spans: Vec::with_capacity(names),
            table: HashTable::with_capacity(names),
        }
    }

    /// The number of a name, given one if it is new.
    ///
    /// Beyond 4 GiB of names a new one gets the number of the first: a bound on memory, which no real program meets.
    pub fn intern(&mut self, name: &[u8]) -> NameId {
        self.intern_hashed(name, hash(name))
    }

    fn intern_hashed(&mut self, name: &[u8], full: u32) -> NameId {
        if let Some(id) = self.find_hashed(name, full) {
            return id;
        }
        let start = self.bytes.len();
        let (Ok(start), Ok(end)) = (u32::try_from(start), u32::try_from(start + name.len())) else {
            return NameId(0);
        };
        let id = self.spans.len() as u32;
        self.bytes.extend_from_slice(name);
        self.spans.push(Span { start, end, hash: full });
        let spans = &self.spans;
        self.table
            .insert_unique(spread(full), id, |&other| spread(spans.get(other as usize).map_or(0, |span| span.hash)));
        NameId(id)
    }

    /// The number of a name that is already here.
    pub fn find(&self, name: &[u8]) -> Option<NameId> {
        self.find_hashed(name, hash(name))
    }

    fn find_hashed(&self, name: &[u8], full: u32) -> Option<NameId> {
        let found = self.table.find(spread(full), |&id| {
            self.spans.get(id as usize).is_some_and(|span| span.hash == full && self.text(*span) == name)
        });
        found.map(|&id| NameId(id))
    }

    /// The name of a number; empty for a number of another interner.
    pub fn name(&self, id: NameId) -> &[u8] {
        self.text(self.spans.get(id.0 as usize).copied().unwrap_or_default())
    }

    fn text(&self, span: Span) -> &[u8] {
        self.bytes.get(span.start as usize..span.end as usize).unwrap_or_default()
    }

    /// How many names there are.
    pub fn len(&self) -> usize {
        self.spans.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.spans.is_empty()
    }

    /// Every name with its number, in order.
    pub fn iter(&self) -> impl Iterator<Item = (NameId, &[u8])> {
        self.spans.iter().zip(0..).map(|(span, id)| (NameId(id), self.text(*span)))
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

    /// The number in `to` of what has the number `id` in the first interner; of none, none.
    pub fn number(&mut self, id: NameId, to: &mut Interner) -> NameId {
        let Some(slot) = self.numbers.get_mut(id.0 as usize) else { return NameId::NONE };
        *slot.get_or_insert_with(|| {
            let full = self.from.spans.get(id.0 as usize).map_or(0, |span| span.hash);
            to.intern_hashed(self.from.name(id), full)
        })
    }
}

/// Spreads a 32-bit hash over the 64 bits that the table takes its bucket and tag from (Fibonacci hashing).
fn spread(hash: u32) -> u64 {
    u64::from(hash).wrapping_mul(0x9E37_79B9_7F4A_7C15)
}

fn hash(name: &[u8]) -> u32 {
    let mut hasher = FxHasher::default();
    hasher.write(name);
    let full = hasher.finish();
    (full ^ (full >> 32)) as u32
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

//! Names to small numbers and back, without a lock and without an allocation per name.
//!
//! Each worker fills an [`Interner`] of its own for one chunk of classes; [`Renumbering`] then carries what is
//! used of it over, chunk after chunk in input order, so that the numbers do not depend on the number of threads.

use std::hash::Hasher;

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
    table: Table,
}

/// Where a name stands in the bytes, up to the next one, and its hash.
#[derive(Clone, Copy, Default)]
struct Span {
    start: u32,
    hash: u32,
}

/// Numbers by hash: a name is looked for from the place on that its hash gives. A number has its hash beside it, so
/// that one look tells nearly always whether it is the one wanted, and that growing looks at nothing else.
#[derive(Default)]
struct Table {
    /// Hash, and number plus one; 0 where there is none. Their count is a power of two, and a quarter of them is free.
    slots: Vec<(u32, u32)>,
}

impl Table {
    /// The place for a hash among so many; Fibonacci hashing.
    fn place(hash: u32, slots: usize) -> usize {
        let spread = u64::from(hash).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        (spread >> 32) as usize & (slots - 1)
    }

    /// The number with that hash for which `is_it` holds.
    #[inline]
    fn find(&self, hash: u32, mut is_it: impl FnMut(u32) -> bool) -> Option<u32> {
        let mut at = Table::place(hash, self.slots.len().max(1));
        loop {
            // There is a free one, which ends it.
            let &(found, next) = self.slots.get(at)?;
            let number = next.checked_sub(1)?;
            if found == hash && is_it(number) {
                return Some(number);
            }
            at = (at + 1) & (self.slots.len() - 1);
        }
    }

    /// Adds the number that comes behind `count` others.
    fn add(&mut self, hash: u32, count: u32) {
        if (count as usize + 1) * 4 > self.slots.len() * 3 {
            self.grow((self.slots.len() * 2).max(64));
        }
        self.put(hash, count + 1);
    }

    fn put(&mut self, hash: u32, next: u32) {
        let mut at = Table::place(hash, self.slots.len());
        while let Some(slot) = self.slots.get_mut(at) {
            if slot.1 == 0 {
                *slot = (hash, next);
                return;
            }
            at = (at + 1) & (self.slots.len() - 1);
        }
    }

    fn grow(&mut self, slots: usize) {
        let old = std::mem::replace(&mut self.slots, vec![(0, 0); slots]);
        for (hash, next) in old.into_iter().filter(|&(_, next)| next != 0) {
            self.put(hash, next);
        }
    }
}

impl Interner {
    /// The number of a name, given one if it is new.
    ///
    /// Beyond 4 GiB of names a new one gets the number of the first: a bound on memory, which no real program meets.
    pub fn intern(&mut self, name: &[u8]) -> NameId {
        self.intern_hashed(name, hash(name))
    }

    fn intern_hashed(&mut self, name: &[u8], full: u32) -> NameId {
        self.find_hashed(name, full).unwrap_or_else(|| self.add(name, full))
    }

    fn add(&mut self, name: &[u8], full: u32) -> NameId {
        let start = self.bytes.len();
        let (Ok(start), Ok(_)) = (u32::try_from(start), u32::try_from(start + name.len())) else {
            return NameId(0);
        };
        let id = self.spans.len() as u32;
        self.bytes.extend_from_slice(name);
        self.spans.push(Span { start, hash: full });
        self.table.add(full, id);
        NameId(id)
    }

    /// Forgets all names and keeps the memory.
    pub fn clear(&mut self) {
        self.bytes.clear();
        self.spans.clear();
        self.table.slots.fill((0, 0));
    }

    /// The number of a name that is already here.
    pub fn find(&self, name: &[u8]) -> Option<NameId> {
        self.find_hashed(name, hash(name))
    }

    fn find_hashed(&self, name: &[u8], full: u32) -> Option<NameId> {
        self.table.find(full, |id| self.name(NameId(id)) == name).map(NameId)
    }

    /// The name of a number; empty for a number of another interner.
    pub fn name(&self, id: NameId) -> &[u8] {
        let at = id.0 as usize;
        let Some(span) = self.spans.get(at) else { return &[] };
        let end = self.spans.get(at + 1).map_or(self.bytes.len(), |next| next.start as usize);
        self.bytes.get(span.start as usize..end).unwrap_or_default()
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
        (0..self.spans.len() as u32).map(|id| (NameId(id), self.name(NameId(id))))
    }
}

/// The numbers of one interner's names in another; each name is taken over when it is first asked for.
pub struct Renumbering<'a> {
    from: &'a Interner,
    numbers: Vec<NameId>,
}

impl<'a> Renumbering<'a> {
    /// Nothing is taken over yet; what is in `to` already is found at once, since look-ups that do not wait for each
    /// other keep memory busy where single ones would wait for it.
    pub fn new(from: &'a Interner, to: &Interner) -> Self {
        let slots = to.table.slots.len();
        let first = |span: &Span| to.table.slots.get(Table::place(span.hash, slots.max(1))).copied();
        // A name that stands elsewhere than where its hash points is looked up when it is asked for.
        let likely =
            |span: &Span| first(span).filter(|slot| slot.0 == span.hash).and_then(|slot| slot.1.checked_sub(1));
        let mut numbers: Vec<NameId> =
            from.spans.iter().map(|span| likely(span).map_or(NameId::NONE, NameId)).collect();
        let there = |id: &NameId| to.spans.get(id.0 as usize).map_or(0, |span| span.start);
        let places: Vec<u32> = numbers.iter().map(there).collect();
        let _ = std::hint::black_box(
            places.iter().fold(0, |sum: u8, &place| sum ^ to.bytes.get(place as usize).copied().unwrap_or(0)),
        );
        for (number, (_, name)) in numbers.iter_mut().zip(from.iter()) {
            if *number != NameId::NONE && to.name(*number) != name {
                *number = NameId::NONE;
            }
        }
        Renumbering { from, numbers }
    }

    /// The number in `to` of what has the number `id` in the first interner; of none, none.
    pub fn number(&mut self, id: NameId, to: &mut Interner) -> NameId {
        let Some(slot) = self.numbers.get_mut(id.0 as usize) else { return NameId::NONE };
        if *slot == NameId::NONE {
            let full = self.from.spans.get(id.0 as usize).map_or(0, |span| span.hash);
            *slot = to.intern_hashed(self.from.name(id), full);
        }
        *slot
    }
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
            let mut renumbering = Renumbering::new(from, &all);
            from.iter().map(|(id, _)| renumbering.number(id, &mut all).0).collect()
        };
        assert_eq!(numbers(&first), [0, 1]);
        assert_eq!(numbers(&second), [2, 0]);
        assert_eq!(all.len(), 3);
    }
}

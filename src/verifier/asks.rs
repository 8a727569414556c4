//! Which comparisons of types are questions, and which have been asked before.
//!
//! The order of the tests is that of `HotSpot`'s `VerificationType::is_reference_assignable_from`. The first function to
//! read is [`Asks::assign`].

use std::fmt;

use hashbrown::HashTable;
use rustc_hash::{FxBuildHasher, FxHashSet};
use std::hash::BuildHasher;

use super::types::{Kind, Names, Type};
use super::{Question, Stop};

/// Pairs of names that one class may put side by side. Real classes stay below a hundredth of it.
const MOST_PAIRS: usize = 1 << 20;

/// Source, which is `null` for an array, and target.
type Asking = (Type, Type);

/// The questions of one class.
#[derive(Default)]
pub(super) struct Asked {
    /// By places of names: settles most repetitions at once.
    places: FxHashSet<Asking>,
    /// By names, since one name may stand in several places of a pool.
    names: HashTable<Asking>,
}

impl Asked {
    pub(super) fn clear(&mut self) {
        self.places.clear();
        self.names.clear();
    }
}

impl fmt::Debug for Asked {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Asked").field("questions", &self.names.len()).finish_non_exhaustive()
    }
}

/// Whom to ask, and how much work is left for the method.
pub(super) struct Asks<'a, 'x> {
    names: Names<'a>,
    asked: &'x mut Asked,
    tell: &'x mut dyn FnMut(Question<'a>),
    work: u32,
}

impl<'a, 'x> Asks<'a, 'x> {
    pub(super) fn new(
        names: Names<'a>,
        asked: &'x mut Asked,
        tell: &'x mut dyn FnMut(Question<'a>),
        work: u32,
    ) -> Self {
        Asks { names, asked, tell, work }
    }

    /// Counts work before it is done.
    #[inline]
    pub(super) fn spend(&mut self, steps: usize) -> Result<(), Stop> {
        self.work = u32::try_from(steps).ok().and_then(|steps| self.work.checked_sub(steps)).ok_or(Stop::Limited)?;
        Ok(())
    }

    /// Whether a value of the type `from` is good for `to`.
    #[inline]
    pub(super) fn assign(&mut self, from: Type, to: Type, pc: u32) {
        if from != to && to.has_class() {
            self.assign_to_class(from, to, pc);
        }
    }

    fn assign_to_class(&mut self, from: Type, to: Type, pc: u32) {
        if !from.is_reference() || from.kind == Kind::Null {
            return;
        }
        // Components of arrays are compared like the arrays themselves; what is no array is never good for one.
        let common = from.dims.min(to.dims);
        let (from, to) = (from.with_dims(from.dims - common), to.with_dims(to.dims - common));
        if to.dims > 0 || self.names.is_object(to) {
            return;
        }
        if from.dims > 0 {
            self.ask(Type::NULL, to, pc);
        } else if from.has_class() && !self.same_name(from, to) {
            self.ask(from, to, pc);
        }
    }

    /// What the old verifier makes of two types that meet where `old` was before (JVMS §4.10.2.2).
    ///
    /// It asks whether the new type is good for the old one; if not, it looks for what they have in common, of which
    /// both are known by then. That is a superclass of the old type, or `java/lang/Object`: wherever it goes, the old
    /// type has gone before, and all that is asked of it has been asked of the old type. Hence the old type stays.
    pub(super) fn merge(&mut self, old: Type, new: Type, pc: u32) -> Type {
        match (old.kind, new.kind) {
            _ if old == new => return old,
            (Kind::Null, _) if new.is_reference() => return new,
            (_, Kind::Null) if old.is_reference() => return old,
            _ if !old.is_reference() || !new.is_reference() => return Type::TOP,
            _ => {}
        }
        if old.dims != new.dims || old.kind == Kind::Primitive || new.kind == Kind::Primitive {
            let dims = |of: Type| if of.kind == Kind::Primitive { of.dims - 1 } else { of.dims };
            return Type::OBJECT.with_dims(dims(old).min(dims(new)));
        }
        self.assign(new, old, pc);
        if self.names.is_object(new) { Type::OBJECT.with_dims(old.dims) } else { old }
    }

    /// Comparing long names is work, too.
    #[inline]
    fn same_name(&mut self, a: Type, b: Type) -> bool {
        if a.length != b.length {
            return false;
        }
        self.work = self.work.saturating_sub(u32::from(a.length) / 64);
        self.names.same_name(a, b)
    }

    /// What is left of the work.
    pub(super) fn work(&self) -> u32 {
        self.work
    }

    /// `from` is `null` for an array.
    fn ask(&mut self, from: Type, to: Type, pc: u32) {
        if !self.asked.places.insert((from, to)) {
            return;
        }
        self.work = self.work.saturating_sub(u32::from(from.length.max(to.length)) / 64);
        if self.asked.places.len() > MOST_PAIRS {
            self.work = 0;
        }
        let names = self.names;
        let named = |&(from, to): &Asking| ((from.kind != Kind::Null).then(|| names.name(from)), names.name(to));
        let (source, target) = named(&(from, to));
        let hash = |asking: &Asking| FxBuildHasher.hash_one(named(asking));
        let place = hash(&(from, to));
        if self.asked.names.find(place, |other| named(other) == (source, target)).is_none() {
            self.asked.names.insert_unique(place, (from, to), hash);
            (self.tell)(Question { source, target, pc });
        }
    }
}

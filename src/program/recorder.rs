//! Steps of methods while a class file is walked.
//!
//! The work is done per pool index, not per use: what an index leads to is found out once a class, and a step that a
//! method has taken already is known by its index. The first function to read is [`Recorder::step`].

use rustc_hash::FxHashMap;

use super::NameId;
use super::code::{Kind, MethodKind, is_bootstrap, pack, unguarded};
use super::stretch::Stretch;

/// A method of a chunk. Classes are numbered within the chunk.
#[derive(Clone, Copy, Debug)]
pub(super) struct Recorded {
    pub class: u32,
    /// A member of the chunk.
    pub selector: NameId,
    pub access: u16,
    pub kind: MethodKind,
    pub steps: Stretch,
}

/// The steps of a chunk of classes, and what is known of the class at hand.
#[derive(Default)]
pub(super) struct Recorder {
    pub methods: Vec<Recorded>,
    pub steps: Vec<u32>,
    /// Class and member, numbered within the chunk.
    pub references: Vec<(NameId, NameId)>,
    numbers: FxHashMap<(NameId, NameId), u32>,
    /// By pool index: the reference that it leads to, once that is known.
    slots: Vec<Target>,
    /// By pool index: the method that used it last.
    used: Vec<Used>,
    /// Where the methods of the class begin.
    first_method: usize,
    declared: u32,
    has_bootstraps: bool,
    open: bool,
    annotations: Vec<u32>,
}

/// Which method used a pool index last, plus one, and for which kinds of steps: one bit each.
#[derive(Clone, Copy, Default)]
struct Used {
    method: u32,
    kinds: u16,
    /// Those of which all uses so far are guarded.
    guarded: u16,
}

/// What a pool index leads to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Target {
    /// Not looked at yet.
    #[default]
    Unseen,
    /// Nothing that can make anything run.
    Idle,
    /// A reference of the chunk.
    Reference(u32),
    /// Several, as one text may.
    Listed,
}

impl Recorder {
    /// Forgets all classes and keeps the memory.
    pub fn clear(&mut self) {
        // What is known of the class at hand is cleared for each.
        self.methods.clear();
        self.steps.clear();
        self.references.clear();
        self.numbers.clear();
    }

    /// Begins a class with a pool of that length.
    pub fn class(&mut self, pool_length: u16) {
        let length = usize::from(pool_length);
        self.slots.clear();
        self.slots.resize(length, Target::Unseen);
        self.used.clear();
        self.used.resize(length, Used::default());
        self.first_method = self.methods.len();
        self.declared = 0;
        self.has_bootstraps = false;
        self.open = false;
        self.annotations.clear();
    }

    /// Begins a method of the class, or a bootstrap method.
    pub fn method(&mut self, class: u32, selector: NameId, access: u16, kind: MethodKind) {
        self.open = true;
        if kind == MethodKind::Declared {
            self.declared += 1;
        }
        let steps = Stretch::end_of(&self.steps, 0);
        self.methods.push(Recorded { class, selector, access, kind, steps });
    }

    /// Ends it.
    pub fn method_end(&mut self) {
        if let Some(method) = self.methods.last_mut().filter(|_| self.open) {
            method.steps.count = self.steps.len() as u32 - method.steps.first;
        }
        self.open = false;
    }

    /// The method at hand, counted from the first of the chunk.
    pub fn at_hand(&self) -> Option<u32> {
        self.open.then(|| self.methods.len() as u32 - 1)
    }

    /// What is known of a pool index.
    pub fn target(&self, index: u16) -> Target {
        self.slots.get(usize::from(index)).copied().unwrap_or(Target::Idle)
    }

    /// Remembers what a pool index leads to.
    pub fn set(&mut self, index: u16, target: Target) {
        if let Some(slot) = self.slots.get_mut(usize::from(index)) {
            *slot = target;
        }
    }

    /// The number of a reference.
    pub fn reference(&mut self, owner: NameId, member: NameId) -> u32 {
        *self.numbers.entry((owner, member)).or_insert_with(|| {
            self.references.push((owner, member));
            self.references.len() as u32 - 1
        })
    }

    /// The method at hand takes a step that the pool index leads to. Where the same step was taken before, it counts as
    /// guarded only if both are.
    pub fn step(&mut self, kind: Kind, index: u16, number: u32, guarded: bool) {
        self.steps(kind, index, std::iter::once(number), guarded);
    }

    /// The same of an index that leads to several references.
    pub fn steps(&mut self, kind: Kind, index: u16, numbers: impl Iterator<Item = u32>, guarded: bool) {
        let (Some(method), Some(used)) = (self.at_hand(), self.used.get_mut(usize::from(index))) else { return };
        let bit = 1 << kind as u32;
        if used.method != method + 1 {
            *used = Used { method: method + 1, kinds: 0, guarded: 0 };
        }
        if used.kinds & bit == 0 {
            used.kinds |= bit;
            used.guarded |= if guarded { bit } else { 0 };
            self.steps.extend(numbers.map(|number| pack(kind, guarded, number)));
        } else if !guarded && used.guarded & bit != 0 {
            used.guarded &= !bit;
            let first = self.methods.last().map_or(0, |method| method.steps.first as usize);
            for word in numbers.map(|number| pack(kind, guarded, number)) {
                for step in self.steps.iter_mut().skip(first).filter(|step| unguarded(**step) == word) {
                    *step = word;
                }
            }
        }
    }

    /// The bootstrap method at hand has a dynamic constant as an argument.
    pub fn bootstrap_link(&mut self, bootstrap: u16) {
        self.has_bootstraps = true;
        self.steps.push(pack(Kind::Bootstrap, false, u32::from(bootstrap)));
    }

    /// The bootstrap method at hand takes a step.
    pub fn bootstrap_step(&mut self, kind: Kind, number: u32) {
        self.steps.push(pack(kind, false, number));
    }

    /// A call site refers to the bootstrap method of that number.
    pub fn link(&mut self, index: u16, bootstrap: u16, guarded: bool) {
        self.has_bootstraps = true;
        self.step(Kind::Bootstrap, index, u32::from(bootstrap), guarded);
    }

    /// The class or a member has an annotation, or one with a class as its value.
    pub fn annotation(&mut self, kind: Kind, number: u32) {
        self.annotations.push(pack(kind, false, number));
    }

    /// Ends the class; where its methods are.
    pub fn class_end(&mut self, class: u32) -> Stretch {
        self.method_end();
        if self.has_bootstraps {
            // Bootstrap methods stand behind those that are declared, whose number is known only now.
            let first = self.methods.get(self.first_method).map_or(0, |method| method.steps.first as usize);
            for step in self.steps.iter_mut().skip(first).filter(|step| is_bootstrap(**step)) {
                *step += self.declared;
            }
        }
        if !self.annotations.is_empty() {
            self.method(class, NameId::NONE, 0, MethodKind::Annotations);
            self.annotations.sort_unstable();
            self.annotations.dedup();
            self.steps.append(&mut self.annotations);
            self.method_end();
        }
        Stretch::end_of(&self.methods, self.methods.len() - self.first_method)
    }

    /// Takes back what a class added that could not be read.
    pub fn forget(&mut self) {
        if let Some(method) = self.methods.get(self.first_method) {
            self.steps.truncate(method.steps.first as usize);
        }
        self.methods.truncate(self.first_method);
        self.open = false;
    }
}

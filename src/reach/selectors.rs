//! Which selectors have a name, whatever their descriptors: reflection looks up members by the name alone.
//!
//! The first function to read is [`Selectors::of`].

use std::cell::RefCell;
use std::hash::Hasher;
use std::rc::Rc;
use std::sync::OnceLock;

use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHasher};

use crate::program::{NameId, Program, name_and_descriptor};

/// The selectors of a program by name; put in order when one is first asked for.
pub(super) struct Selectors<'p> {
    program: &'p Program,
    /// All selectors by the hash of their names.
    by_hash: OnceLock<Vec<(u32, NameId)>>,
    /// Answers so far.
    known: RefCell<Known>,
}

/// Selectors by name.
type Known = FxHashMap<Box<[u8]>, Rc<[NameId]>>;

impl<'p> Selectors<'p> {
    pub fn new(program: &'p Program) -> Self {
        Selectors { program, by_hash: OnceLock::new(), known: RefCell::default() }
    }

    /// The selectors of that name, ascending.
    pub fn of(&self, name: &[u8]) -> Rc<[NameId]> {
        if let Some(known) = self.known.borrow().get(name) {
            return Rc::clone(known);
        }
        let found: Rc<[NameId]> = self.find(name).collect();
        self.known.borrow_mut().insert(name.into(), Rc::clone(&found));
        found
    }

    fn find(&self, name: &[u8]) -> impl Iterator<Item = NameId> {
        let members = &self.program.members;
        let all = self.by_hash.get_or_init(|| {
            let numbers = (0..members.len() as u32).into_par_iter().map(NameId);
            let of = |id: NameId| Some((hash(name_of(members.name(id))?), id));
            let mut all: Vec<_> = numbers.filter_map(of).collect();
            all.par_sort_unstable();
            all
        });
        let hash = hash(name);
        let from = all.get(all.partition_point(|&(of, _)| of < hash)..).unwrap_or_default();
        let same = from.iter().take_while(move |&&(of, _)| of == hash).map(|&(_, id)| id);
        same.filter(move |&id| name_of(members.name(id)) == Some(name))
    }
}

/// The name of a method; a field has none here.
fn name_of(member: &[u8]) -> Option<&[u8]> {
    name_and_descriptor(member).map(|(name, _)| name)
}

fn hash(name: &[u8]) -> u32 {
    let mut hasher = FxHasher::default();
    hasher.write(name);
    let full = hasher.finish();
    (full ^ (full >> 32)) as u32
}

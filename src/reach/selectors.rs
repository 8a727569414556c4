//! Which selectors have a name, whatever their descriptors: reflection looks up members by the name alone.
//!
//! The first function to read is [`Selectors::of`].

use std::cell::RefCell;
use std::hash::Hasher;
use std::rc::Rc;
use std::sync::OnceLock;

use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHasher};

use crate::program::{Interner, NameId, Program, name_and_descriptor};

use super::types::bit;

/// The selectors of a program by name; put in order when one is first asked for.
pub(super) struct Selectors<'p> {
    program: &'p Program,
    /// All selectors by the hash of their names.
    by_hash: OnceLock<Chains>,
    /// Answers so far.
    known: RefCell<FxHashMap<Box<[u8]>, Named>>,
}

/// The selectors of one name.
#[derive(Clone)]
pub(super) struct Named {
    /// Ascending.
    pub selectors: Rc<[NameId]>,
    /// Their bits, as [`super::types::Types::may_declare`] takes them.
    pub mask: u64,
    /// Of all names asked for.
    pub number: u32,
}

/// Members whose names have one hash, each with the next one. Putting them in order would take many times as long.
struct Chains {
    /// By hash, the first.
    heads: Vec<u32>,
    /// By member, the next one.
    next: Vec<u32>,
}

/// The end of a chain.
const END: u32 = u32::MAX;

impl<'p> Selectors<'p> {
    pub fn new(program: &'p Program) -> Self {
        Selectors { program, by_hash: OnceLock::new(), known: RefCell::default() }
    }

    /// The selectors of that name.
    pub fn of(&self, name: &[u8]) -> Named {
        if let Some(known) = self.known.borrow().get(name) {
            return known.clone();
        }
        let selectors: Rc<[NameId]> = self.find(name).collect();
        let mask = selectors.iter().fold(0, |mask, &selector| mask | bit(selector));
        let mut known = self.known.borrow_mut();
        let found = Named { selectors, mask, number: known.len() as u32 };
        known.insert(name.into(), found.clone());
        found
    }

    fn find(&self, name: &[u8]) -> impl Iterator<Item = NameId> {
        let members = &self.program.members;
        let all = self.by_hash.get_or_init(|| Chains::of(members));
        let same = std::iter::successors(all.first(name), |id| all.next(*id));
        same.filter(move |&id| name_of(members.name(id)) == Some(name))
    }
}

impl Chains {
    fn of(members: &Interner) -> Self {
        let numbers = (0..members.len() as u32).into_par_iter().map(NameId);
        let places: Vec<Option<u32>> = numbers.map(|id| Some(hash(name_of(members.name(id))?))).collect();
        let mut chains = Chains { heads: vec![END; members.len().next_power_of_two()], next: vec![END; members.len()] };
        // From the last on, so that a chain is ascending.
        for (id, place) in (0..members.len() as u32).zip(places).rev() {
            let place = place.map(|hash| chains.place(hash));
            let (Some(head), Some(next)) =
                (place.and_then(|place| chains.heads.get_mut(place)), chains.next.get_mut(id as usize))
            else {
                continue;
            };
            *next = std::mem::replace(head, id);
        }
        chains
    }

    fn place(&self, hash: u32) -> usize {
        hash as usize & (self.heads.len() - 1)
    }

    fn first(&self, name: &[u8]) -> Option<NameId> {
        self.heads.get(self.place(hash(name))).filter(|&&id| id != END).map(|&id| NameId(id))
    }

    fn next(&self, id: NameId) -> Option<NameId> {
        self.next.get(id.0 as usize).filter(|&&id| id != END).map(|&id| NameId(id))
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

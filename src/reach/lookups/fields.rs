//! Where a field is declared, who may write it, and what is written.
//!
//! A final field is written by its own class alone, a private one by its nest (JLS §6.6.1, §8.3.1.2), a static one by
//! methods whose steps name it; of other fields the classes of the package are looked at, and that there may be other
//! values is taken for granted. The first function to read is [`Field::schedule`].

use super::facts::FieldJob;
use super::families::Families;
use super::index::{Index, Lots};
use super::values::Jobs;
use crate::flow::Value;
use crate::names::package_of;
use crate::program::{ClassId, MethodId, NameId};

/// Supertypes in which a field is looked for.
const MOST_SUPERTYPES: usize = 32;

/// Classes read for the stores to a field.
const MOST_WRITERS: usize = 128;

/// Values of a field.
const MOST_VALUES: usize = 1024;

/// A field that is asked for.
#[derive(Debug)]
pub(super) struct Field {
    owner: NameId,
    name: Box<[u8]>,
    /// The classes that may declare it, in the order in which the JVM looks, as far as they are known.
    candidates: Vec<NameId>,
    /// How many of them have been looked at.
    looked: usize,
    declared: Option<Declared>,
    /// Classes that are read for its values.
    classes: Vec<ClassId>,
    /// The field as a member, if other classes can be found by that.
    pub member: Option<NameId>,
    /// Values with the method that stores them; a constant value has none.
    pub values: Vec<(Option<MethodId>, Value<'static>)>,
    /// Methods that cannot run yet, of those that store values.
    pub waiting: Vec<MethodId>,
    cut: bool,
}

#[derive(Clone, Copy, Debug)]
struct Declared {
    class: ClassId,
    access: u16,
}

impl Declared {
    fn is_private(self) -> bool {
        self.access & 0x0002 != 0
    }

    fn is_static(self) -> bool {
        self.access & 0x0008 != 0
    }

    fn is_final(self) -> bool {
        self.access & 0x0010 != 0
    }
}

impl Field {
    pub(super) fn new(owner: NameId, name: Box<[u8]>) -> Self {
        Field {
            owner,
            name,
            candidates: vec![owner],
            looked: 0,
            declared: None,
            classes: Vec::new(),
            member: None,
            values: Vec::new(),
            waiting: Vec::new(),
            cut: false,
        }
    }

    /// The class by which it was named, and its name.
    pub(super) fn asked(&self) -> (NameId, &[u8]) {
        (self.owner, &self.name)
    }

    /// Whether a method that stores a value can run by now, and could not when that was asked last.
    pub(super) fn begins(&mut self, reached: &dyn Fn(MethodId) -> bool) -> bool {
        let before = self.waiting.len();
        self.waiting.retain(|&method| !reached(method));
        self.waiting.len() < before
    }

    /// Whether classes that have begun to run may write it, and nothing but their place tells.
    pub(super) fn has_new_neighbours(&self, families: &Families<'_>, index: &Index) -> bool {
        let Some(declared) = self.declared.filter(|declared| self.member.is_none() && !declared.is_final()) else {
            return false;
        };
        let class = families.program.class(declared.class);
        class.is_some_and(|class| index.is_fresh(package_of(families.program.names.name(class.name))))
    }

    /// Whether no other values are possible.
    pub(super) fn is_whole(&self) -> bool {
        let all_found = |field: Declared| field.is_private() || field.is_static() || field.is_final();
        !self.cut && self.declared.is_some_and(all_found)
    }

    /// The class has been read; `declared` says whether it declares the field, and with which flags and text. The answer
    /// is whether that tells more of where the field is declared.
    pub(super) fn was_read(
        &mut self,
        class: ClassId,
        declared: Option<(u16, &[u8])>,
        cut: bool,
        families: &Families<'_>,
    ) -> bool {
        self.cut |= cut;
        if self.values.len() > MOST_VALUES {
            self.values.truncate(MOST_VALUES);
            self.cut = true;
        }
        let asked = self.candidates.get(self.looked).copied();
        if self.declared.is_some() || asked.and_then(|asked| families.find(asked)) != Some(class) {
            return false;
        }
        self.looked += 1;
        if let Some((access, text)) = declared {
            self.declared = Some(Declared { class, access });
            // Stores to static fields are steps; a private or final one needs none.
            let others = access & 0x0008 != 0 && access & (0x0002 | 0x0010) == 0;
            self.member = if others { families.program.members.find(text) } else { None };
            return true;
        }
        for name in asked.into_iter().flat_map(|asked| families.supertypes(asked)) {
            if self.candidates.len() < MOST_SUPERTYPES && !self.candidates.contains(&name) {
                self.candidates.push(name);
            }
        }
        true
    }

    /// Asks for the classes that have to be read next; whether there are more than may be read, for the first time.
    pub(super) fn schedule(
        &mut self,
        id: u32,
        families: &Families<'_>,
        index: &Index,
        lots: Lots,
        jobs: &mut Jobs,
    ) -> bool {
        let before = self.cut;
        self.find_writers(id, families, index, lots, jobs);
        self.cut != before
    }

    fn find_writers(&mut self, id: u32, families: &Families<'_>, index: &Index, lots: Lots, jobs: &mut Jobs) {
        let Some(declared) = self.declared else {
            while let Some(&name) = self.candidates.get(self.looked) {
                if let Some(class) = families.find(name) {
                    self.read(id, class, jobs);
                    return;
                }
                self.looked += 1;
            }
            return;
        };
        if declared.is_final() {
            return;
        }
        if let Some(member) = self.member {
            let owner = self.owner;
            let owners = index.references(member, lots).filter(|used| families.related(used.owner, owner));
            for class in owners.flat_map(|used| index.classes(used, lots)) {
                self.read(id, class, jobs);
            }
            return;
        }
        let program = families.program;
        let Some(name) = program.class(declared.class).map(|class| program.names.name(class.name)) else { return };
        let simple = name.len() - name.rsplit(|&byte| byte == b'/').next().unwrap_or_default().len();
        let outer =
            name.iter().skip(simple + 1).position(|&byte| byte == b'$').map_or(name.len(), |at| simple + 1 + at);
        let top = name.get(..outer).unwrap_or_default();
        let package = package_of(name);
        for (other, class) in families.package(package) {
            let nested = other.strip_prefix(top).is_some_and(|rest| rest.first().is_none_or(|&byte| byte == b'$'));
            if (nested || !declared.is_private()) && index.runs(class) {
                self.read(id, class, jobs);
            }
        }
    }

    fn read(&mut self, id: u32, class: ClassId, jobs: &mut Jobs) {
        if self.classes.contains(&class) {
            return;
        }
        if self.classes.len() >= MOST_WRITERS {
            self.cut = true;
            return;
        }
        self.classes.push(class);
        jobs.entry(class).or_default().fields.push(FieldJob { demand: id, owner: self.owner, name: self.name.clone() });
    }
}

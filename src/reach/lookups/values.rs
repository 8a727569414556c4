//! What is known of parameters, fields and results that values came from, as far as it has been asked for.
//!
//! A question that nobody has asked before becomes a demand; [`Values::ask`] says which classes have to be read for it,
//! and [`Values::take`] keeps what they have. Everything is bounded: what goes beyond a bound is left out, and the
//! answer then says that there is more. The first function to read is [`Values::ask`]; [`super::environment`] answers.

use std::collections::BTreeMap;
use std::hash::BuildHasher;

use hashbrown::HashTable;
use rustc_hash::{FxBuildHasher, FxHashMap, FxHashSet};

use super::facts::{FieldJob, Job, Read};
use super::families::Families;
use super::fields::Field;
use super::index::{Index, Lots};
use crate::flow::Value;
use crate::program::{ClassId, MethodId, NameId, Reference};

/// Demands of a program.
const MOST_DEMANDS: usize = 1 << 14;

/// Ways in which a method is referred to, by the class that it is looked up in.
const MOST_REFERENCES: usize = 256;

/// Classes read for calls of a method by one reference. Helpers that ask whether a class is there are called by hundreds.
const MOST_CALLERS: usize = 512;

/// Methods that one call may lead to.
const MOST_TARGETS: usize = 64;

/// Values kept for a whole program.
const MOST_VALUES: usize = 1 << 20;

/// What is to be read, class by class.
pub(super) type Jobs = BTreeMap<ClassId, Job>;

/// A place of which the values are wanted.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Demand {
    /// What callers give to a method.
    Parameters(MethodId),
    /// What is stored to a field that is looked up in that class.
    Field(NameId, Box<[u8]>),
    /// What a call gives back.
    Result {
        /// The class that the method is looked up in.
        owner: NameId,
        member: NameId,
        is_static: bool,
    },
}

impl Demand {
    fn question(&self) -> Question<'_> {
        match self {
            &Demand::Parameters(method) => Question::Parameters(method),
            Demand::Field(owner, name) => Question::Field(*owner, name),
            &Demand::Result { owner, member, is_static } => Question::Result { owner, member, is_static },
        }
    }
}

/// The same, borrowed: most are asked over and over.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Question<'q> {
    Parameters(MethodId),
    Field(NameId, &'q [u8]),
    Result { owner: NameId, member: NameId, is_static: bool },
}

impl Question<'_> {
    pub(super) fn demand(self) -> Demand {
        match self {
            Question::Parameters(method) => Demand::Parameters(method),
            Question::Field(owner, name) => Demand::Field(owner, name.into()),
            Question::Result { owner, member, is_static } => Demand::Result { owner, member, is_static },
        }
    }

    fn hash(self) -> u64 {
        FxBuildHasher.hash_one(self)
    }
}

/// What is known for a demand.
#[derive(Debug)]
pub(super) enum Known {
    Parameters {
        method: MethodId,
        references: Vec<Reference>,
        /// Whether there are other callers for certain.
        open: bool,
    },
    Field(Field),
    Result {
        owner: NameId,
        member: NameId,
        is_static: bool,
        targets: Vec<MethodId>,
        /// What the owner has or inherits, and how many superclasses up.
        nearest: Option<(usize, MethodId)>,
        open: bool,
    },
}

impl Known {
    fn question(&self) -> Question<'_> {
        match self {
            &Known::Parameters { method, .. } => Question::Parameters(method),
            Known::Field(field) => {
                let (owner, name) = field.asked();
                Question::Field(owner, name)
            }
            &Known::Result { owner, member, is_static, .. } => Question::Result { owner, member, is_static },
        }
    }
}

/// What calls by one reference give.
#[derive(Debug, Default)]
pub(super) struct Calls {
    /// How many lots of methods there were when it was first asked for.
    since: usize,
    pub facts: Vec<(MethodId, Vec<Value<'static>>)>,
    /// Classes that are read for it.
    classes: FxHashSet<ClassId>,
    demands: Vec<u32>,
    pub cut: bool,
}

/// What a method gives back.
#[derive(Debug, Default)]
pub(super) struct Results {
    pub values: Vec<Value<'static>>,
    demands: Vec<u32>,
    pub cut: bool,
}

/// All demands and what is known for them.
#[derive(Default)]
pub(super) struct Values {
    /// By the hash of the question.
    ids: HashTable<u32>,
    known: Vec<Known>,
    /// By member, the demands on which more methods that have to do with it may bear.
    watchers: FxHashMap<NameId, Vec<u32>>,
    /// The demands for fields.
    fields: Vec<u32>,
    pub(super) calls: FxHashMap<Reference, Calls>,
    pub(super) results: FxHashMap<MethodId, Results>,
    /// Demands for which more is known than before.
    changed: Vec<u32>,
    kept: usize,
}

impl Values {
    /// The demand that has been made by that question, and what is known for it; `None` if nobody has asked.
    pub(super) fn known(&self, question: Question<'_>) -> Option<(u32, &Known)> {
        let same = |&id: &u32| self.known.get(id as usize).is_some_and(|known| known.question() == question);
        let id = *self.ids.find(question.hash(), same)?;
        Some((id, self.known.get(id as usize)?))
    }

    /// Calls that have been asked for, of which more would be read.
    pub(super) fn awaited(&self, reference: Reference) -> Option<&Calls> {
        self.calls.get(&reference).filter(|calls| calls.classes.len() < MOST_CALLERS)
    }

    /// Whether such calls were asked for before the last lot of methods.
    pub(super) fn had_asked(&self, reference: Reference, index: &Index) -> bool {
        self.calls.get(&reference).is_some_and(|calls| calls.since < index.lots())
    }

    /// The demands, each once, for which more is known since the last call.
    pub(super) fn take_changed(&mut self) -> Vec<u32> {
        let mut changed = std::mem::take(&mut self.changed);
        changed.sort_unstable();
        changed.dedup();
        changed
    }

    /// The number of a demand. If it is new, the classes to read for it are added to the jobs.
    pub(super) fn ask(
        &mut self,
        demand: &Demand,
        families: &Families<'_>,
        index: &Index,
        jobs: &mut Jobs,
    ) -> Option<u32> {
        if let Some((id, _)) = self.known(demand.question()) {
            return Some(id);
        }
        if self.known.len() >= MOST_DEMANDS {
            return None;
        }
        let id = self.known.len() as u32;
        let known = match demand {
            &Demand::Parameters(method) => {
                if let Some(method) = families.program.method(method) {
                    self.watchers.entry(method.selector).or_default().push(id);
                }
                Known::Parameters { method, references: Vec::new(), open: is_called_from_outside(families, method) }
            }
            Demand::Field(owner, name) => {
                self.fields.push(id);
                Known::Field(Field::new(*owner, name.clone()))
            }
            &Demand::Result { owner, member, is_static } => {
                self.watchers.entry(member).or_default().push(id);
                // ACC_INTERFACE: a lambda may implement it.
                let class = families.find(owner).and_then(|id| families.program.class(id));
                let open = class.is_none_or(|class| class.is_interface() && !is_static);
                Known::Result { owner, member, is_static, targets: Vec::new(), nearest: None, open }
            }
        };
        self.known.push(known);
        let known = &self.known;
        let hash = |&id: &u32| known.get(id as usize).map_or(0, |known| known.question().hash());
        self.ids.insert_unique(demand.question().hash(), id, hash);
        if self.schedule(id, families, index, Lots::All, jobs) {
            self.changed.push(id);
        }
        Some(id)
    }

    /// More methods can run: looks for what the index has gained for the demands there are.
    pub(super) fn grow(
        &mut self,
        families: &Families<'_>,
        index: &Index,
        reached: &dyn Fn(MethodId) -> bool,
        jobs: &mut Jobs,
    ) {
        let watchers = index.gained().filter_map(|member| self.watchers.get(&member));
        let mut due: Vec<u32> = watchers.flatten().copied().collect();
        for &id in &self.fields {
            let Some(Known::Field(field)) = self.known.get_mut(id as usize) else { continue };
            if field.begins(reached) {
                self.changed.push(id);
            }
            if field.has_new_neighbours(families, index) {
                due.push(id);
            }
        }
        due.sort_unstable();
        due.dedup();
        for id in due {
            if self.schedule(id, families, index, Lots::Last, jobs) {
                self.changed.push(id);
            }
        }
    }

    /// Looks in the index for what bears on a demand; whether that changes the answer before any class is read for it.
    fn schedule(&mut self, id: u32, families: &Families<'_>, index: &Index, lots: Lots, jobs: &mut Jobs) -> bool {
        match self.known.get_mut(id as usize) {
            Some(Known::Parameters { method, references, open }) => {
                let before = (references.len(), *open);
                find_references(families, index, lots, *method, references, open);
                let mut changed = before != (references.len(), *open);
                for &reference in references.iter() {
                    let calls = self.calls.entry(reference).or_insert_with(|| Calls::new(index));
                    changed |= calls.find(id, reference, index, lots, jobs);
                }
                changed
            }
            Some(Known::Field(field)) => field.schedule(id, families, index, lots, jobs),
            Some(&mut Known::Result { owner, member, is_static, ref mut targets, ref mut nearest, ref mut open }) => {
                let before = (targets.len(), *open);
                // What the lots before have left out for want of room tells that there is more.
                let is_full = targets.len() + index.methods(member, lots).count() >= MOST_TARGETS;
                let lots = if is_full && !*open { Lots::All } else { lots };
                for target in targets_of(families, index, lots, (owner, member, is_static), nearest) {
                    if targets.contains(&target) {
                        continue;
                    }
                    let Some(method) = families.program.method(target) else { continue };
                    if targets.len() >= MOST_TARGETS || !method.has_code() {
                        // What has no code is abstract, or native and gives back anything.
                        *open |= targets.len() >= MOST_TARGETS || method.access & 0x0100 != 0;
                        continue;
                    }
                    targets.push(target);
                    let results = self.results.entry(target).or_default();
                    if results.demands.is_empty() {
                        jobs.entry(method.class).or_default().results.push(target);
                    }
                    if !results.demands.contains(&id) {
                        results.demands.push(id);
                    }
                }
                before != (targets.len(), *open)
            }
            None => false,
        }
    }

    /// Keeps what a class has of what was wanted of it.
    pub(super) fn take(
        &mut self,
        (class, job): &(ClassId, Job),
        read: Read,
        families: &Families<'_>,
        index: &Index,
        reached: &dyn Fn(MethodId) -> bool,
        jobs: &mut Jobs,
    ) {
        let left = MOST_VALUES.saturating_sub(self.kept);
        self.kept += read.calls.len() + read.stores.len() + read.results.len();
        let cut = read.cut || self.kept > MOST_VALUES;
        for (reference, method, arguments) in read.calls.into_iter().take(left) {
            let Some(calls) = self.calls.get_mut(&reference) else { continue };
            calls.facts.push((method, arguments));
            self.changed.extend(&calls.demands);
        }
        for (method, value) in read.results.into_iter().take(left) {
            let Some(results) = self.results.get_mut(&method) else { continue };
            if !results.values.contains(&value) {
                results.values.push(value);
                self.changed.extend(&results.demands);
            }
        }
        for (id, method, value) in read.stores.into_iter().take(left) {
            if let Some(Known::Field(field)) = self.known.get_mut(id as usize) {
                field.values.push((method, value));
                field.waiting.extend(method.filter(|&method| !reached(method)));
                self.changed.push(id);
            }
        }
        for reference in &job.calls {
            let Some(calls) = self.calls.get_mut(reference) else { continue };
            if cut && !std::mem::replace(&mut calls.cut, true) {
                self.changed.extend(&calls.demands);
            }
        }
        for method in &job.results {
            let Some(results) = self.results.get_mut(method) else { continue };
            if cut && !std::mem::replace(&mut results.cut, true) {
                self.changed.extend(&results.demands);
            }
        }
        for &FieldJob { demand: id, .. } in &job.fields {
            let Some(Known::Field(field)) = self.known.get_mut(id as usize) else { continue };
            let declared = read.declared.iter().find(|(of, ..)| *of == id);
            let declared = declared.map(|(_, access, text)| (*access, &**text));
            if cut || declared.is_some() {
                self.changed.push(id);
            }
            // All others that may write it have been asked for when it became known where it is declared.
            if field.was_read(*class, declared, cut, families) {
                if let Some(member) = field.member {
                    self.watchers.entry(member).or_default().push(id);
                }
                field.schedule(id, families, index, Lots::All, jobs);
            }
        }
    }
}

impl Calls {
    fn new(index: &Index) -> Self {
        Calls { since: index.lots(), ..Calls::default() }
    }

    /// Whether a class has not been read for them.
    pub(super) fn awaits(&self, class: ClassId) -> bool {
        !self.classes.contains(&class)
    }

    /// Asks for the classes of some lots that have such calls; whether there are any, read before or not.
    fn find(&mut self, id: u32, reference: Reference, index: &Index, lots: Lots, jobs: &mut Jobs) -> bool {
        let mut any = false;
        if !self.demands.contains(&id) {
            self.demands.push(id);
        }
        for class in index.classes(reference, lots) {
            any = true;
            if self.classes.len() >= MOST_CALLERS {
                self.cut |= !self.classes.contains(&class);
            } else if self.classes.insert(class) {
                jobs.entry(class).or_default().calls.push(reference);
            }
        }
        any
    }
}

/// Whether the platform, the launcher or a framework may call the method: then callers in the program are not all.
fn is_called_from_outside(families: &Families<'_>, id: MethodId) -> bool {
    let program = families.program;
    let Some(method) = program.method(id) else { return true };
    let Some(class) = program.class(method.class) else { return true };
    let selector = program.members.name(method.selector);
    if method.is_static() {
        return selector == b"main([Ljava/lang/String;)V";
    }
    !method.is_private() && !selector.starts_with(b"<init>") && families.has_foreign_supertype(class.name)
}

/// By what references a method may be called.
fn find_references(
    families: &Families<'_>,
    index: &Index,
    lots: Lots,
    id: MethodId,
    known: &mut Vec<Reference>,
    open: &mut bool,
) {
    let program = families.program;
    let Some(method) = program.method(id) else { return };
    let Some(class) = program.class(method.class) else { return };
    *open |= index.is_handled(method.selector);
    let is_constructor = program.members.name(method.selector).starts_with(b"<init>");
    for reference in index.references(method.selector, lots) {
        let owner = reference.owner;
        let fits = owner == class.name
            || !is_constructor
                && (families.extends(owner, class.name) || !method.is_static() && families.extends(class.name, owner));
        if !fits || known.contains(&reference) {
            continue;
        }
        if known.len() >= MOST_REFERENCES {
            *open = true;
            return;
        }
        known.push(reference);
    }
}

/// The methods of some lots that a call may run: what the owner has or inherits, and what its subclasses have. `nearest`
/// is what the lots before have of the first, and of all of them afterwards.
fn targets_of(
    families: &Families<'_>,
    index: &Index,
    lots: Lots,
    (owner, member, is_static): (NameId, NameId, bool),
    nearest: &mut Option<(usize, MethodId)>,
) -> Vec<MethodId> {
    let methods: Vec<(MethodId, NameId)> = index.methods(member, lots).collect();
    let lineage: Vec<NameId> = families.superclasses(owner).collect();
    for &(id, class) in &methods {
        let up = lineage.iter().position(|&name| name == class);
        if let Some(up) = up.filter(|&up| nearest.is_none_or(|(nearest, _)| up < nearest)) {
            *nearest = Some((up, id));
        }
    }
    let fits = |class: NameId| {
        !is_static && families.extends(class, owner) || nearest.is_none() && families.extends(owner, class)
    };
    let mut targets: Vec<MethodId> = methods.iter().filter(|(_, class)| fits(*class)).map(|(id, _)| *id).collect();
    targets.extend(nearest.map(|(_, id)| id));
    targets
}

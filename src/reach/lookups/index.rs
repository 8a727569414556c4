//! Who calls what, of the methods that can run: from a member to the classes whose methods refer to it.
//!
//! Grows with every lot of methods that the worklist adds, each of which is one sorted segment. Calls that can pass no
//! text and no class are left out. The first function to read is [`Index::add`].

use memchr::memmem::Finder;
use rayon::prelude::*;
use rustc_hash::FxHashSet;

use super::families::Families;
use crate::flow::sinks::SINKS;
use crate::names::package_of;
use crate::program::{Action, ClassId, MethodId, MethodKind, NameId, Program, Reference, name_and_descriptor};

/// Methods that one worker takes at a time.
const CHUNK: usize = 4096;

/// What a member can be good for, one bit each.
const LOOKS_UP: u8 = 1;
const TAKES: u8 = 2;
const GIVES: u8 = 4;

/// A use: member, owner, class that has it.
pub(super) type Use = (NameId, NameId, ClassId);

/// What some methods refer to.
#[derive(Default)]
pub(super) struct Segment {
    pub(super) uses: Vec<Use>,
    /// Methods by name and descriptor, with the names of their classes.
    methods: Vec<(NameId, MethodId, NameId)>,
    /// Classes that call a row of the table; some twice.
    pub(super) sinks: Vec<ClassId>,
    handles: Vec<NameId>,
}

/// Which lots of methods are looked at.
#[derive(Clone, Copy)]
pub(super) enum Lots {
    /// All, for a question that is new.
    All,
    /// The last one, for a question that the ones before have answered.
    Last,
}

/// What the methods reached so far refer to.
pub(super) struct Index {
    flags: Vec<u8>,
    segments: Vec<Segment>,
    /// Members that method handles refer to: nobody sees what those are called with.
    handles: FxHashSet<NameId>,
    /// By class, whether it has a method that can run.
    runs: Vec<bool>,
    /// Packages of the classes of which that is so since the last lot.
    fresh: FxHashSet<Box<[u8]>>,
}

impl Index {
    pub(super) fn new(program: &Program) -> Self {
        let names: FxHashSet<&[u8]> = SINKS.iter().map(|sink| sink.name.as_bytes()).collect();
        let count = program.members.len() as u32;
        let carriers = Carriers::new();
        let flags = (0..count)
            .into_par_iter()
            .with_min_len(CHUNK)
            .map(|id| flags(program.members.name(NameId(id)), &names, &carriers));
        let runs = vec![false; program.classes.len()];
        Index {
            flags: flags.collect(),
            segments: Vec::new(),
            handles: FxHashSet::default(),
            runs,
            fresh: FxHashSet::default(),
        }
    }

    fn has(&self, member: NameId, flag: u8) -> bool {
        self.flags.get(member.0 as usize).is_some_and(|flags| flags & flag != 0)
    }

    /// Adds methods that can run, with what they refer to, in parts; the classes among theirs that call a row of the
    /// table, ascending.
    pub(super) fn add(&mut self, families: &Families<'_>, new: &[MethodId], parts: Vec<Segment>) -> Vec<ClassId> {
        self.fresh.clear();
        for class in new.iter().filter_map(|&id| families.program.method(id)).map(|method| method.class) {
            if let Some(runs @ false) = self.runs.get_mut(class.0 as usize) {
                *runs = true;
                let package =
                    families.program.class(class).map(|class| package_of(families.program.names.name(class.path)));
                if let Some(package) = package.filter(|package| !self.fresh.contains(*package)) {
                    self.fresh.insert(package.into());
                }
            }
        }
        let mut all = Segment::default();
        for part in parts {
            all.uses.extend(part.uses);
            all.methods.extend(part.methods);
            all.sinks.extend(part.sinks);
            self.handles.extend(part.handles);
        }
        all.uses.par_sort_unstable();
        all.uses.dedup();
        all.methods.par_sort_unstable();
        let mut sinks = std::mem::take(&mut all.sinks);
        sinks.sort_unstable();
        sinks.dedup();
        self.segments.push(all);
        sinks
    }

    /// What many methods refer to, in parts.
    pub(super) fn scan_all(&self, families: &Families<'_>, methods: &[MethodId]) -> Vec<Segment> {
        methods.par_chunks(CHUNK).map(|methods| self.scan(families, methods)).collect()
    }

    /// What some methods refer to.
    pub(super) fn scan(&self, families: &Families<'_>, methods: &[MethodId]) -> Segment {
        let mut found = Segment::default();
        let program = families.program;
        for &id in methods {
            let Some(method) = program.method(id) else { continue };
            let declared = method.kind == MethodKind::Declared;
            if declared && self.has(method.selector, GIVES) {
                found.methods.extend(program.class(method.class).map(|class| (method.selector, id, class.name)));
            }
            for step in program.steps(id) {
                let (called, is_call) = match step.action {
                    Action::StaticCall(called) | Action::SpecialCall(called) | Action::VirtualCall(called) => {
                        (called, true)
                    }
                    Action::StaticField(field) => (field, false),
                    _ => continue,
                };
                if is_call && self.has(called.member, LOOKS_UP) && families.sink(called).is_some() {
                    found.sinks.push(method.class);
                }
                if !self.has(called.member, TAKES) {
                    continue;
                }
                if declared {
                    found.uses.push((called.member, called.owner, method.class));
                } else if is_call {
                    found.handles.push(called.member);
                }
            }
        }
        found.sinks.dedup();
        found.uses.sort_unstable();
        found.uses.dedup();
        found
    }

    /// The owners by which a member is referred to, each once a lot.
    pub(super) fn references(&self, member: NameId, lots: Lots) -> impl Iterator<Item = Reference> {
        self.of_lots(lots).iter().flat_map(move |segment| {
            let uses = within(&segment.uses, |&(of, ..)| of, &member);
            let distinct = uses.chunk_by(|(_, a, _), (_, b, _)| a == b);
            distinct.filter_map(|uses| uses.first()).map(|&(member, owner, _)| Reference { owner, member })
        })
    }

    /// The classes that refer to a member in that very way, in the order in which they came.
    pub(super) fn classes(&self, reference: Reference, lots: Lots) -> impl Iterator<Item = ClassId> {
        let Reference { owner, member } = reference;
        self.of_lots(lots).iter().flat_map(move |segment| {
            within(&segment.uses, |&(of, by, _)| (of, by), &(member, owner)).iter().map(|&(.., class)| class)
        })
    }

    /// How many lots there have been.
    pub(super) fn lots(&self) -> usize {
        self.segments.len()
    }

    fn of_lots(&self, lots: Lots) -> &[Segment] {
        match lots {
            Lots::All => &self.segments,
            Lots::Last => self.segments.get(self.segments.len().saturating_sub(1)..).unwrap_or_default(),
        }
    }

    /// Whether a class of that package has a method that can run since the last lot, and had none before.
    pub(super) fn is_fresh(&self, package: &[u8]) -> bool {
        self.fresh.contains(package)
    }

    /// The methods of that name and descriptor, with the names of their classes.
    pub(super) fn methods(&self, member: NameId, lots: Lots) -> impl Iterator<Item = (MethodId, NameId)> {
        self.of_lots(lots).iter().flat_map(move |segment| {
            within(&segment.methods, |&(of, ..)| of, &member).iter().map(|&(_, method, class)| (method, class))
        })
    }

    /// The members of which the last lot has anything; some twice.
    pub(super) fn gained(&self) -> impl Iterator<Item = NameId> {
        self.segments.last().into_iter().flat_map(|segment| {
            let uses = segment.uses.chunk_by(|(one, ..), (other, ..)| one == other);
            let methods = segment.methods.chunk_by(|(one, ..), (other, ..)| one == other);
            let uses = uses.filter_map(|uses| uses.first()).map(|&(member, ..)| member);
            uses.chain(methods.filter_map(|methods| methods.first()).map(|&(member, ..)| member))
        })
    }

    /// Whether a class has a method that can run.
    pub(super) fn runs(&self, class: ClassId) -> bool {
        self.runs.get(class.0 as usize).is_some_and(|&runs| runs)
    }

    /// Whether a method handle refers to it.
    pub(super) fn is_handled(&self, member: NameId) -> bool {
        self.handles.contains(&member)
    }
}

/// The part of a sorted list with that key.
fn within<'l, T, K: Ord>(list: &'l [T], key: impl Fn(&T) -> K, wanted: &K) -> &'l [T] {
    let start = list.partition_point(|item| key(item) < *wanted);
    let rest = list.get(start..).unwrap_or_default();
    rest.get(..rest.partition_point(|item| key(item) == *wanted)).unwrap_or_default()
}

/// Looks for types that texts, classes or lists of them have; values of any other are not followed.
struct Carriers([Finder<'static>; 2]);

impl Carriers {
    fn new() -> Self {
        Carriers([Finder::new(b"Ljava/lang/"), Finder::new(b"Ljava/util/")])
    }

    /// Whether a descriptor names such a type.
    fn are_in(&self, descriptor: &[u8]) -> bool {
        self.0.iter().any(|start| start.find(descriptor).is_some())
    }
}

/// What a member can be good for.
fn flags(member: &[u8], names: &FxHashSet<&[u8]>, carriers: &Carriers) -> u8 {
    let Some((name, descriptor)) = name_and_descriptor(member) else {
        return if carriers.are_in(member) { TAKES } else { 0 };
    };
    let end = memchr::memchr(b')', descriptor).unwrap_or(descriptor.len());
    let (parameters, result) = descriptor.split_at_checked(end).unwrap_or_default();
    let flag = |is: bool, flag: u8| if is { flag } else { 0 };
    flag(names.contains(name), LOOKS_UP)
        | flag(carriers.are_in(parameters), TAKES)
        | flag(carriers.are_in(result), GIVES)
}

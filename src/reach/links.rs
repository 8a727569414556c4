//! What linking the classes that can be initialised loads: the verifier's questions, answered (JVMS §4.10, §5.4.1).
//!
//! A class whose names are none that matter has nothing to ask, and what the program's summary keeps tells that for all
//! but a few; those are read again and followed by [`crate::verifier`]. What matters is the caller's to say, by
//! [`Relevance`]. The first function to read is [`links`].

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, PoisonError};

use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};

use super::again::{self, Again};
use crate::classfile::{ClassFile, Code, Member, MemberKind, Position, Visitor, descriptor};
use crate::diag::Findings;
use crate::limits::Limits;
use crate::program::{Class, ClassId, MethodId, NameId, Program, View, name_and_descriptor};
use crate::verifier::{self, Question, Verifier};

/// Members that one worker takes at a time.
const CHUNK: usize = 4096;

/// A class that is loaded because another one is linked.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Link {
    /// The class that is linked.
    pub class: ClassId,
    /// The class loaded, in internal form.
    pub loaded: Box<[u8]>,
    /// The method whose code asks first, and where; the method may never run.
    pub method: Option<MethodId>,
    /// In bytes from the first of the code; of a catch type the beginning of the handler.
    pub pc: u32,
}

/// What is known of the classes that matter to the verifier.
pub struct Hierarchy<'h> {
    /// Whether it is of interest that a class is loaded.
    pub relevance: &'h Relevance<'h>,
    /// Whether a class is an interface; `None` where it is not known, which passes for a class.
    pub is_interface: &'h (dyn Fn(&[u8]) -> Option<bool> + Sync),
}

/// The classes that matter of those that linking the given ones loads: each once for every class that is linked, in the
/// order of the given classes and within a class in the order in which the verifier asks. The same for any number of
/// threads. A class that cannot be read again becomes a finding.
pub fn links(
    program: &Program,
    limits: &Limits,
    hierarchy: &Hierarchy<'_>,
    initialised: &[ClassId],
    findings: &mut Findings,
) -> Vec<Link> {
    Linker::new(program, limits, hierarchy).links(initialised, findings)
}

/// Follows the verifier through one class after another: what linking a class loads depends on nothing that is found out
/// later.
pub(super) struct Linker<'p> {
    program: &'p Program,
    again: Again<'p, verifier::Scratch>,
    hierarchy: &'p Hierarchy<'p>,
    /// By member, whether its descriptor names a class that matters.
    matters: Vec<bool>,
    /// By class, whether it has been followed ahead, or has nothing to ask.
    done: Vec<AtomicBool>,
    ahead: Mutex<FxHashMap<ClassId, Vec<Link>>>,
}

impl<'p> Linker<'p> {
    pub(super) fn new(program: &'p Program, limits: &Limits, hierarchy: &'p Hierarchy<'p>) -> Self {
        let matters = hierarchy.relevance.members();
        let done = program.classes.iter().map(|_| AtomicBool::new(false)).collect();
        Linker { program, again: Again::new(program, limits), hierarchy, matters, done, ahead: Mutex::default() }
    }

    /// Follows classes that are initialised.
    pub(super) fn follow_ahead(&self, initialised: &[ClassId]) {
        for &class in initialised {
            if self.may_ask(class) {
                let follow =
                    |file: &ClassFile<'_>, head: &Class, scratch: &mut _| self.follow(file, head, class, scratch);
                // What cannot be read is told of in the end, in order.
                let Ok(found) = self.again.read(class, follow) else { continue };
                self.ahead.lock().unwrap_or_else(PoisonError::into_inner).insert(class, found);
            }
            if let Some(done) = self.done.get(class.0 as usize) {
                done.store(true, Ordering::Relaxed);
            }
        }
    }

    /// See [`links`].
    pub(super) fn links(self, initialised: &[ClassId], findings: &mut Findings) -> Vec<Link> {
        let mut ahead = std::mem::take(&mut *self.ahead.lock().unwrap_or_else(PoisonError::into_inner));
        let is_done = |id: ClassId| self.done.get(id.0 as usize).is_some_and(|done| done.load(Ordering::Relaxed));
        let is_due = |id: &&ClassId| !is_done(**id) && self.may_ask(**id);
        let due: Vec<ClassId> = initialised.par_iter().with_min_len(CHUNK).filter(is_due).copied().collect();
        let of = |file: &ClassFile<'_>, class: &Class, id: &ClassId, scratch: &mut verifier::Scratch| {
            self.follow(file, class, *id, scratch)
        };
        for (id, found) in due.iter().zip(self.again.each(&due, |id| *id, of)) {
            match found {
                Ok(found) => drop(ahead.insert(*id, found)),
                Err(finding) => findings.extend([*finding]),
            }
        }
        initialised.iter().filter_map(|id| ahead.remove(id)).flatten().collect()
    }

    fn may_ask(&self, id: ClassId) -> bool {
        self.program.class(id).is_some_and(|class| self.hierarchy.relevance.may_ask(class, &self.matters))
    }

    fn follow(&self, file: &ClassFile<'_>, class: &Class, id: ClassId, scratch: &mut verifier::Scratch) -> Vec<Link> {
        let mut linking = Linking {
            program: self.program,
            hierarchy: self.hierarchy,
            id,
            class,
            file,
            verifier: Verifier::new(file, scratch),
            method: None,
            ordinal: 0,
            seen: FxHashSet::default(),
            found: Vec::new(),
        };
        // A fault within the file has been told when the program was read; what stands before it holds.
        let _ = file.walk(&mut linking);
        linking.found
    }
}

/// Walks one class.
struct Linking<'a, 's, 'w> {
    program: &'w Program,
    hierarchy: &'w Hierarchy<'w>,
    id: ClassId,
    class: &'w Class,
    file: &'w ClassFile<'a>,
    verifier: Verifier<'a, 's>,
    method: Option<(Member, Option<MethodId>)>,
    /// Methods begun so far.
    ordinal: usize,
    seen: FxHashSet<&'a [u8]>,
    found: Vec<Link>,
}

impl<'a> Visitor<'a> for Linking<'a, '_, '_> {
    fn wants(_: Position) -> bool {
        false
    }

    fn member(&mut self, member: Member) {
        self.method = None;
        if member.kind == MemberKind::Method {
            let id = again::number(self.program, self.class, self.ordinal, self.file.pool, member);
            self.method = Some((member, id));
            self.ordinal += 1;
        }
    }

    fn code(&mut self, code: &Code<'a>) -> bool {
        let Some((member, method)) = self.method else { return false };
        let Linking { hierarchy, id: class, seen, found, .. } = self;
        let mut load = |name: &'a [u8], pc: u32| {
            if hierarchy.relevance.of(name) && seen.insert(name) {
                found.push(Link { class: *class, loaded: name.into(), method, pc });
            }
        };
        let ask = |question: Question<'a>| {
            load(question.target, question.pc);
            if let Some(source) = question.source
                && question.loads_source((hierarchy.is_interface)(question.target).unwrap_or(false))
            {
                load(source, question.pc);
            }
        };
        // Where a method cannot be followed the JVM rejects the class, or it is larger than any that a compiler writes.
        let _ = self.verifier.method(member, code, ask);
        false
    }
}

/// Which names matter, worked out once: what is asked for every name of every class has to be quick.
pub struct Relevance<'p> {
    program: &'p Program,
    by_name: Vec<bool>,
    foreign: &'p (dyn Fn(&[u8]) -> bool + Sync),
}

impl<'p> Relevance<'p> {
    /// `foreign` says which types of the platform matter; a class of the program does if it has one of them, by name, among
    /// its supertypes.
    pub fn new(program: &'p Program, view: &View, foreign: &'p (dyn Fn(&[u8]) -> bool + Sync)) -> Self {
        let mut own = vec![false; program.names.len()];
        let mut below: Vec<(NameId, NameId)> = Vec::new();
        for class in view.classes.iter().filter_map(|&id| program.class(id)) {
            if let Some(own) = own.get_mut(class.path.0 as usize) {
                *own = true;
            }
            below.extend(class.superclass.iter().chain(&class.interfaces).map(|&name| (name, class.path)));
        }
        below.sort_unstable();
        let mut by_name: Vec<bool> =
            program.names.iter().map(|(id, name)| own.get(id.0 as usize) == Some(&false) && foreign(name)).collect();
        let mut due: Vec<NameId> = (0..).map(NameId).zip(&by_name).filter(|(_, is)| **is).map(|(id, _)| id).collect();
        while let Some(name) = due.pop() {
            let start = below.partition_point(|&(of, _)| of < name);
            for &(_, sub) in below.iter().skip(start).take_while(|&&(of, _)| of == name) {
                if let Some(is @ false) = by_name.get_mut(sub.0 as usize) {
                    *is = true;
                    due.push(sub);
                }
            }
        }
        Relevance { program, by_name, foreign }
    }

    /// By member of the program, whether its descriptor names a class that matters.
    fn members(&self) -> Vec<bool> {
        let members = &self.program.members;
        let matters = |number: u32| {
            let (_, descriptor) = name_and_descriptor(members.name(NameId(number))).unwrap_or_default();
            descriptor::classes(descriptor).any(|name| self.of(name))
        };
        (0..members.len() as u32).into_par_iter().with_min_len(CHUNK).map(matters).collect()
    }

    /// Whether the verifier can ask about a class that matters while it follows that one: types come from class
    /// constants, from descriptors of members and from those of its own methods. The few that it brings along itself,
    /// such as `java/lang/String` for a text, belong to java.base, and so do all types in descriptors of java.base's
    /// methods.
    fn may_ask(&self, class: &Class, members: &[bool]) -> bool {
        let type_matters = |name: &NameId| self.by_name.get(name.0 as usize) == Some(&true);
        let member_matters = |member: NameId| members.get(member.0 as usize) == Some(&true);
        self.program.types(class).iter().any(type_matters)
            || self.program.methods_of(class).any(|(id, method)| {
                member_matters(method.selector)
                    || self
                        .program
                        .steps(id)
                        .any(|step| step.action.called().is_some_and(|called| member_matters(called.member)))
            })
    }

    /// Whether a class matters. A name that the program's summary does not have is no class of the program.
    pub fn of(&self, name: &[u8]) -> bool {
        // Half of all names, and no program may define a class there (`java.lang.ClassLoader.defineClass`).
        let in_package = |package: &[u8]| name.strip_prefix(package).is_some_and(|rest| !rest.contains(&b'/'));
        if in_package(b"java/lang/") || in_package(b"java/util/") {
            return false;
        }
        match self.program.names.find(name) {
            Some(id) => self.by_name.get(id.0 as usize).copied().unwrap_or(false),
            None => (self.foreign)(name),
        }
    }
}

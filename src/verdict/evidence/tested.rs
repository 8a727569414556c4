//! Libraries that find out for themselves whether a module is there.
//!
//! A method that answers with a boolean, or a static initialiser, that bears the absence of the platform type whose name it
//! holds and loads, is such a test. As a module is there as a whole or not at all, it answers for all types of it, where the
//! library heeds the answer: in methods that ask for it, and in what is reached through them. On which of its paths a
//! method heeds it is not followed: what the library does there for certain it is taken to do without the module; what
//! others have it do by name stays uncertain. The first function to read is [`Tested::of`].

use std::cell::RefCell;
use std::rc::Rc;

use rustc_hash::{FxHashMap, FxHashSet};

use super::super::Standing;
use super::{Meaning, meaning};
use crate::archive::ArchiveId;
use crate::flow::sinks::Purpose;
use crate::names::package_of;
use crate::platform::{Catalogue, ModuleId};
use crate::program::{Action, ClassId, Guard, MethodId, NameId, Program, View};
use crate::reach::{Cause, Reach};

/// Parts of a package's name that tell one library from another: by custom two for a domain, one for what its owner
/// calls the library (JLS §6.1).
const PARTS: usize = 3;

/// Causes looked at for one place. What is further away than that counts as if nobody tested.
const MOST_CAUSES: usize = 512;

/// A part of an archive whose packages begin alike.
type Library<'p> = (ArchiveId, &'p [u8]);

/// Where a module is used: in which class, and in which of its methods if it is one alone.
type Use = (ClassId, Option<MethodId>, ModuleId);

/// What which library tests for, and where it heeds that.
pub(super) struct Tested<'p> {
    program: &'p Program,
    reach: &'p Reach,
    catalogue: &'p Catalogue,
    tests: FxHashSet<(Library<'p>, ModuleId)>,
    signs: FxHashMap<Library<'p>, Signs>,
    /// Methods that are such a test or ask for its answer, with the module.
    heeding: FxHashSet<(MethodId, ModuleId)>,
    /// What they do before they ask, each once somebody wants to know.
    before: RefCell<FxHashMap<(MethodId, ModuleId), Rc<Before>>>,
    /// By place, whether the answer is heeded there.
    heeded: RefCell<FxHashMap<Use, bool>>,
}

/// What a method does before it asks for an answer; nothing where it never asks by itself.
#[derive(Default)]
struct Before {
    /// Classes that it names, and members that it calls.
    owners: FxHashSet<NameId>,
    called: FxHashSet<NameId>,
    uses_module: bool,
}

impl<'p> Tested<'p> {
    /// The tests among the look-ups that can run.
    pub fn of(program: &'p Program, view: &View, reach: &'p Reach, catalogue: &'p Catalogue) -> Self {
        let mut tests: FxHashMap<Library<'p>, Vec<(MethodId, ModuleId)>> = FxHashMap::default();
        // Look-ups stand in the order of their methods.
        let mut texts: (Option<MethodId>, Vec<(&[u8], ModuleId)>) = (None, Vec::new());
        for look_up in &reach.look_ups {
            let Some(method) = program.method(look_up.method) else { continue };
            let is_test = look_up.sink.purpose == Purpose::Load
                && look_up.guard != Guard::Open
                && matches!(program.members.name(method.selector), [.., b')', b'Z'] | INITIALISER);
            let Some(library) = library(program, method.class).filter(|_| is_test) else { continue };
            if texts.0 != Some(look_up.method) {
                let named = |name: NameId| {
                    let name = program.names.name(name);
                    let Meaning::Module(module) = meaning(catalogue, name) else { return None };
                    Some((name, module))
                };
                texts = (Some(look_up.method), program.class_names(look_up.method).filter_map(named).collect());
                texts.1.sort_unstable();
            }
            for name in &look_up.names.exact {
                let first = texts.1.partition_point(|&(text, _)| text < &**name);
                if let Some(&(_, module)) = texts.1.get(first).filter(|(text, _)| *text == &**name) {
                    tests.entry(library).or_default().push((look_up.method, module));
                }
            }
        }
        let signs: FxHashMap<Library<'p>, Signs> =
            tests.iter().map(|(&library, tests)| (library, Signs::of(program, tests))).collect();
        let mut heeding: FxHashSet<(MethodId, ModuleId)> = tests.values().flatten().copied().collect();
        if !signs.is_empty() {
            add_heeding(program, view, reach, &signs, &mut heeding);
        }
        let of_library = |(library, tests): (Library<'p>, Vec<(MethodId, ModuleId)>)| {
            tests.into_iter().map(move |(_, module)| (library, module))
        };
        let tests = tests.into_iter().flat_map(of_library).collect();
        let (before, heeded) = Default::default();
        Tested { program, reach, catalogue, tests, signs, heeding, before, heeded }
    }

    /// The standing of what a class asks of a module, in a method or by itself, given the one that it would have if nobody
    /// tested.
    pub fn temper(&self, standing: Standing, class: ClassId, method: Option<MethodId>, module: ModuleId) -> Standing {
        let library = library(self.program, class).filter(|library| self.tests.contains(&(*library, module)));
        if library.is_none() {
            return standing;
        }
        let place = (class, method, module);
        let known = self.heeded.borrow().get(&place).copied();
        let heeded = known.unwrap_or_else(|| self.is_heeded(class, method, module));
        self.heeded.borrow_mut().insert(place, heeded);
        if !heeded {
            return standing;
        }
        standing.max(if self.reach.is_certain(class) { Standing::Tolerated } else { Standing::Uncertain })
    }

    /// Whether what first leads to a place goes through a method that heeds the answer, or what first makes objects of the
    /// class.
    fn is_heeded(&self, class: ClassId, method: Option<MethodId>, module: ModuleId) -> bool {
        let is_of_objects = |id: &MethodId| self.program.method(*id).is_some_and(|method| !method.is_static());
        let made = || self.reach.instantiated(class).map(|reached| reached.cause);
        match method {
            Some(id) if self.heeding.contains(&(id, module)) => !self.before(id, module).uses_module,
            Some(id) => {
                self.leads(Cause::Method(id), module)
                    || is_of_objects(&id) && made().is_some_and(|cause| self.leads(cause, module))
            }
            None => self.leads(Cause::Class(class), module),
        }
    }

    fn before(&self, id: MethodId, module: ModuleId) -> Rc<Before> {
        if let Some(known) = self.before.borrow().get(&(id, module)) {
            return Rc::clone(known);
        }
        let program = self.program;
        let library = program.method(id).and_then(|method| library(program, method.class));
        let signs = library.and_then(|library| self.signs.get(&library));
        let mut before = Before::default();
        let mut asks = false;
        for action in program.steps(id).map(|step| step.action) {
            asks = signs.is_some_and(|signs| signs.asked(action).any(|asked| asked == module));
            if asks {
                break;
            }
            before.called.extend(action.called().map(|called| called.member));
            if let Some(owner) = owner(action).filter(|owner| before.owners.insert(*owner)) {
                let meant = meaning(self.catalogue, program.names.name(owner));
                before.uses_module |= matches!(meant, Meaning::Module(meant) if meant == module);
            }
        }
        let before = Rc::new(if asks { before } else { Before::default() });
        self.before.borrow_mut().insert((id, module), Rc::clone(&before));
        before
    }

    /// Whether a method may have made something be reached before it asked for the answer.
    fn comes_first(&self, id: MethodId, module: ModuleId, it: Cause) -> bool {
        let program = self.program;
        let before = self.before(id, module);
        let has_class = |id: ClassId| program.class(id).is_some_and(|class| before.owners.contains(&class.path));
        match it {
            Cause::Method(id) | Cause::LookUp(id) => program
                .method(id)
                .is_some_and(|method| before.called.contains(&method.selector) || has_class(method.class)),
            Cause::Class(id) => has_class(id),
            _ => false,
        }
    }

    fn leads(&self, from: Cause, module: ModuleId) -> bool {
        let reach = self.reach;
        let (mut cause, mut to) = (from, from);
        for _ in 0..MOST_CAUSES {
            let before = match cause {
                Cause::Method(id) | Cause::LookUp(id)
                    if self.heeding.contains(&(id, module)) && !self.comes_first(id, module, to) =>
                {
                    return true;
                }
                Cause::Method(id) | Cause::LookUp(id) => reach.method(id),
                Cause::Class(id) => {
                    reach.instantiated(id).or_else(|| reach.initialised(id)).or_else(|| reach.loaded(id))
                }
                Cause::Start(_) | Cause::Public | Cause::Own | Cause::Resource(_) => return false,
            };
            match before {
                Some(before) if before.cause != cause => (to, cause) = (cause, before.cause),
                _ => return false,
            }
        }
        false
    }
}

/// The class that a step names.
fn owner(action: Action) -> Option<NameId> {
    match action {
        Action::StaticField(field) => Some(field.owner),
        Action::New(name) | Action::Load(name) | Action::ClassLiteral(name) => Some(name),
        action => action.called().map(|called| called.owner),
    }
}

/// Selector of static initialisers.
const INITIALISER: &[u8] = b"<clinit>()V";

/// What tells that a method of a library asks for an answer.
#[derive(Default)]
struct Signs {
    /// By owner and member of what is called.
    calls: FxHashMap<(NameId, NameId), Vec<ModuleId>>,
    /// By class whose initialiser is a test: it keeps the answer, and whatever has to do with it may know.
    classes: FxHashMap<NameId, Vec<ModuleId>>,
}

impl Signs {
    fn of(program: &Program, tests: &[(MethodId, ModuleId)]) -> Self {
        let mut signs = Signs::default();
        for &(test, module) in tests {
            let Some(head) = program.method(test) else { continue };
            let Some(owner) = program.class(head.class).map(|class| class.path) else { continue };
            if program.members.name(head.selector) == INITIALISER {
                signs.classes.entry(owner).or_default().push(module);
            } else {
                signs.calls.entry((owner, head.selector)).or_default().push(module);
            }
        }
        signs
    }

    fn asked(&self, action: Action) -> impl Iterator<Item = ModuleId> {
        let called = action.called();
        let member = match action {
            Action::StaticField(field) => Some(field),
            _ => called,
        };
        let by_call = called.and_then(|called| self.calls.get(&(called.owner, called.member)));
        let by_class = member.and_then(|member| self.classes.get(&member.owner));
        by_call.into_iter().chain(by_class).flatten().copied()
    }
}

/// How selectors of initialisers begin.
const INITIALISERS: [&[u8]; 2] = [b"<init>", b"<clinit>"];

/// Methods of the same libraries that call the tests, and those that have to do with a class whose initialiser is one. A
/// class whose initialisers ask keeps the answer in its fields, and all its methods may heed it.
fn add_heeding<'p>(
    program: &'p Program,
    view: &View,
    reach: &Reach,
    signs: &FxHashMap<Library<'p>, Signs>,
    heeding: &mut FxHashSet<(MethodId, ModuleId)>,
) {
    for &id in &view.classes {
        let Some(class) = program.class(id) else { continue };
        let Some(signs) = library(program, id).and_then(|library| signs.get(&library)) else { continue };
        let mut knows: FxHashSet<ModuleId> = signs.classes.get(&class.path).into_iter().flatten().copied().collect();
        let reached = || program.methods_of(class).filter(|(method, _)| reach.method(*method).is_some());
        for (method, head) in reached() {
            let asked: Vec<ModuleId> = program.steps(method).flat_map(|step| signs.asked(step.action)).collect();
            if INITIALISERS.iter().any(|name| program.members.name(head.selector).starts_with(name)) {
                knows.extend(&asked);
            }
            heeding.extend(asked.into_iter().map(|module| (method, module)));
        }
        let mut knows: Vec<ModuleId> = knows.into_iter().collect();
        knows.sort_unstable();
        heeding.extend(reached().flat_map(|(method, _)| knows.iter().map(move |&module| (method, module))));
    }
}

/// The library of a class: its archive, and how the names of its packages begin.
fn library(program: &Program, id: ClassId) -> Option<Library<'_>> {
    let class = program.class(id)?;
    let package = package_of(program.names.name(class.path));
    let mut ends = package.iter().enumerate().filter(|&(_, &byte)| byte == b'/').map(|(at, _)| at);
    Some((class.archive, ends.nth(PARTS - 1).and_then(|end| package.get(..end)).unwrap_or(package)))
}

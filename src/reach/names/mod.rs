//! What look-ups by name make run, and how far roots widen where a name cannot be worked out.
//!
//! Names that are known in full count as calls do, and so do all classes of a shape where parts of a name are known.
//! Where a look-up is reached of which not all is known (an opaque site), it may mean whatever the reached code holds:
//! texts that are the name of a class of the program, class objects, classes that annotations name. What the platform
//! or a framework does by rules of its own, with names in files or with members that it lists, counts in the second
//! round only. Whole classes of a shape
//! follow Smaragdakis et al., "More Sound Static Handling of Java Reflection" (APLAS 2015). The first function to read
//! is [`Naming::finish`].

mod bridged;
mod conventions;
mod lists;
mod members;
mod open_data;
mod own;
mod widen;

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
use std::time::{Duration, Instant};

use rustc_hash::{FxHashMap, FxHashSet};

use crate::archive::services::service_of;
use crate::archive::{ArchiveId, Scope};
use crate::diag::Findings;
use crate::flow::Members;
use crate::flow::resolve::Pattern;
use crate::flow::sinks::{self, Purpose};
use crate::limits::Limits;
use crate::names::package_of;
use crate::program::{ClassId, Guard, MethodId, NameId, ResourceKind, View};

use super::links::Linker;
use super::lookups::{LookUp, LookUps, Tell};
use super::run::Run;
use super::selectors::Selectors;
use super::sorted::Sorted;
use super::{Cause, Level, Start};

/// Methods of a class loader that its clients call, or that those call (Java SE API, `java.lang.ClassLoader`).
const LOADS: [&[u8]; 2] = [b"loadClass", b"findClass"];

/// A class that a service file names.
#[derive(Clone, Copy)]
struct Provider {
    class: ClassId,
    resource: u32,
}

/// A use of a class object.
struct Waiting {
    class: ClassId,
    purpose: Purpose,
    /// Kinds of members that it lists, and names that it looks up.
    lists: Members,
    method: MethodId,
    members: Vec<Vec<u8>>,
}

/// How far widening has looked at what has been reached: for each question a position in the list that it goes through.
#[derive(Default)]
struct Seen<'p> {
    /// All methods reached and followed, lot after lot.
    methods: Vec<MethodId>,
    /// In `methods`, for `busy_packages`.
    busy: usize,
    busy_packages: FxHashSet<&'p [u8]>,
    /// In the classes loaded: for `loaded_packages`, companions, uses that wait, annotations.
    loaded: usize,
    loaded_packages: FxHashSet<&'p [u8]>,
    accompanied: usize,
    used: usize,
    annotated: usize,
    /// In the annotations that are read; and their types.
    annotations: usize,
    annotation_types: FxHashSet<ClassId>,
    /// In the classes inspected, for those nested in them; in those whose members are listed, for linking.
    nested: usize,
    linked: usize,
    /// In the classes that are there: for those who list members, which were these, for serialisation (there also
    /// in the classes initialised), and for what is called from other processes, by remote and by management interfaces.
    introspected: usize,
    listed: Option<Members>,
    serialised: usize,
    capturing: usize,
    remote: usize,
    managed: usize,
    /// In the texts and in the class objects that are values: for the look-ups that may mean them, and for what the
    /// platform is given.
    texts_loaded: usize,
    texts_localized: usize,
    texts_given: usize,
    literals_created: usize,
    literals_made: usize,
    literals_given: usize,
    asked_given: usize,
    /// Whether the program's own classes have been found by somebody.
    discovered: bool,
    /// Archives that may be applications and that a look-up elsewhere has found.
    looked_for: BTreeSet<ArchiveId>,
}

/// The part of a list that is new since it was looked at last.
fn beyond<T: Clone>(list: &[T], seen: &mut usize) -> Vec<T> {
    let new = list.get(*seen..).unwrap_or_default().to_vec();
    *seen = list.len();
    new
}

/// The part of a list that is new since it was looked at last, in the order of the class path.
fn new_since(list: &[ClassId], seen: &mut usize) -> Vec<ClassId> {
    let mut new = beyond(list, seen);
    new.sort_unstable();
    new.dedup();
    new
}

pub(super) struct Naming<'p, 'a> {
    pub run: Run<'p>,
    pub look_ups: LookUps<'p>,
    pub start: &'a Start<'a>,
    pub limits: &'a Limits,
    pub findings: &'a mut Findings,
    pub view: &'p View,
    /// Look-ups by method and place, as they were told last.
    pub found: BTreeMap<(MethodId, u32), LookUp>,
    /// Those under a guard, until the last round.
    held: Vec<LookUp>,
    /// Uses of class objects, by class, that nobody can have yet: whoever makes one, by name or as a literal, is not
    /// reached or waits for a later round.
    waiting: FxHashMap<ClassId, Vec<Waiting>>,
    /// Those that somebody can have.
    ready: Vec<Waiting>,
    /// Of the method asked about last, the classes of the program and the platform that its texts name.
    texts_of: (Option<MethodId>, FxHashSet<NameId>),
    /// Shapes of names, with the archive of whoever puts them together, until the next turn.
    patterns: BTreeMap<(Pattern, ArchiveId), MethodId>,
    /// Those that have been applied.
    shaped: BTreeSet<(Pattern, ArchiveId)>,
    /// Classes named after another one, by that one, until it is loaded.
    companions: FxHashMap<ClassId, Vec<(ClassId, MethodId)>>,
    /// Classes that end as a convention has it, until the second round.
    conventional: Vec<(ClassId, MethodId)>,
    pub sorted: &'a Sorted<'p>,
    /// Providers by service, internal form.
    services: BTreeMap<Box<[u8]>, Vec<Provider>>,
    /// Services that a reached look-up names; the empty one where it may be any.
    asked: BTreeSet<Box<[u8]>>,
    /// Names of members that are looked up in classes which are not known.
    members: BTreeSet<Box<[u8]>>,
    named: FxHashSet<ClassId>,
    /// Management interfaces, and types in their methods, of whose values open data are made.
    opened: FxHashSet<ClassId>,
    /// Classes that look-ups name in full: texts with their names have found their use.
    looked_up: FxHashSet<ClassId>,
    /// The first method that lists members of a class that is not known, and what all such methods list.
    introspects: Option<(MethodId, Members)>,
    deserialises: Option<MethodId>,
    /// What calls do that are looked up by reflection themselves: what they are given then, nobody follows.
    reflected: BTreeSet<Purpose>,
    /// Classes of which a method lists all methods.
    listings: BTreeSet<(ClassId, MethodId)>,
    /// By class, whether frameworks look through its archive.
    own: Vec<bool>,
    seen: Seen<'p>,
    /// By name in a file, whether it has been acted upon.
    pub configured: Vec<bool>,
    /// Time spent on following names.
    pub following: Duration,
    selectors: Selectors<'p>,
    wanted: members::Wanted,
    lists: lists::Lists,
    bridges: bridged::Bridges,
    /// How archives at which the launcher starts are bound to others, once somebody wants to know.
    bonds: Option<Rc<own::Bonds>>,
}

impl<'p, 'a> Naming<'p, 'a> {
    pub fn new(
        run: Run<'p>,
        look_ups: LookUps<'p>,
        view: &'p View,
        sorted: &'a Sorted<'p>,
        start: &'a Start<'a>,
        limits: &'a Limits,
        findings: &'a mut Findings,
    ) -> Self {
        let program = run.types.program;
        let mut services: BTreeMap<Box<[u8]>, Vec<Provider>> = BTreeMap::new();
        for (name, number) in start.resources.names.iter().zip(0..) {
            let Some(service) = service_of(&name.path).filter(|_| name.kind == ResourceKind::Service) else { continue };
            let scope = program.archive(name.archive).map(|archive| archive.scope).unwrap_or_default();
            let class = program.names.find(name.name.as_bytes()).and_then(|id| view.peek(scope, id));
            let service = service.replace('.', "/");
            if let Some(class) = class.filter(|_| *service != *name.name) {
                services.entry(service.into_bytes().into()).or_default().push(Provider { class, resource: number });
            }
        }
        let own = own::looked_through(program, start.own);
        Naming {
            run,
            look_ups,
            start,
            limits,
            findings,
            view,
            found: BTreeMap::new(),
            held: Vec::new(),
            waiting: FxHashMap::default(),
            ready: Vec::new(),
            texts_of: (None, FxHashSet::default()),
            patterns: BTreeMap::new(),
            shaped: BTreeSet::new(),
            companions: FxHashMap::default(),
            conventional: Vec::new(),
            sorted,
            services,
            asked: BTreeSet::new(),
            members: BTreeSet::new(),
            named: FxHashSet::default(),
            opened: FxHashSet::default(),
            looked_up: FxHashSet::default(),
            introspects: None,
            deserialises: None,
            reflected: BTreeSet::new(),
            listings: BTreeSet::new(),
            own,
            seen: Seen::default(),
            configured: vec![false; start.resources.names.len()],
            following: Duration::ZERO,
            selectors: Selectors::new(program),
            wanted: members::Wanted::default(),
            lists: lists::Lists::of(program, view, start.resources),
            bridges: bridged::Bridges::default(),
            bonds: None,
        }
    }

    /// All three rounds. What is initialised is handed on to the linker.
    pub fn finish(&mut self, linker: &Linker<'_>) {
        self.widen_to_the_end(linker);
        self.run.open_names();
        self.registered();
        self.widen_to_the_end(linker);
        if self.agents() {
            self.widen_to_the_end(linker);
        }
        self.run.open_guards();
        for look_up in std::mem::take(&mut self.held) {
            self.apply(&look_up);
        }
        self.widen_to_the_end(linker);
    }

    fn widen_to_the_end(&mut self, linker: &Linker<'_>) {
        self.rest(linker);
        loop {
            self.widen();
            if self.run.level == Level::Certain {
                self.platform_services();
            } else {
                self.widen_by_files();
            }
            if !self.rest(linker) {
                break;
            }
        }
    }

    /// Draws all consequences of what is reached, names included; whether there were any.
    fn rest(&mut self, linker: &Linker<'_>) -> bool {
        let mut any = false;
        loop {
            let run = &mut self.run;
            let settle = |lot, tell: Tell<'_>| run.settle_telling(lot, tell);
            self.look_ups.read_ahead(settle, &|initialised| linker.follow_ahead(initialised));
            let mut new = std::mem::take(&mut self.run.fresh);
            if new.is_empty() {
                return any;
            }
            any = true;
            let begun = Instant::now();
            let methods = &self.run.methods;
            let reached = |method: MethodId| methods.get(method.0 as usize).is_some_and(Option::is_some);
            let look_ups = self.look_ups.follow(&reached, &new, self.findings);
            self.seen.methods.append(&mut new);
            self.following += begun.elapsed();
            for mut look_up in look_ups {
                if self.hands_on(&look_up) {
                    (look_up.names.exact, look_up.names.patterns) = Default::default();
                }
                self.note(&look_up);
                self.apply(&look_up);
                self.found.insert((look_up.method, look_up.pc), look_up);
            }
            self.use_loaded();
            self.members_by_name();
            self.read_lists();
        }
    }

    /// Uses of classes that are loaded by now.
    fn use_loaded(&mut self) {
        let mut ready = std::mem::take(&mut self.ready);
        for class in new_since(&self.run.history.loaded, &mut self.seen.used) {
            ready.extend(self.waiting.remove(&class).unwrap_or_default());
        }
        for Waiting { class, purpose, lists, method, members } in ready {
            let cause = Cause::LookUp(method);
            if purpose == Purpose::Create {
                self.run.create(class, cause);
                continue;
            }
            let lists = if purpose == Purpose::Proxy { Members::PUBLIC_METHODS } else { lists };
            self.run.introspect(class, lists, cause);
            if purpose == Purpose::Proxy {
                self.run.made(class, cause);
            }
            for member in &members {
                // Whoever uses a static member initialises its class.
                self.run.initialise(class, cause);
                self.member(class, member, cause);
            }
        }
    }

    fn find(&self, from: MethodId, name: &[u8]) -> Option<ClassId> {
        let program = self.run.types.program;
        let scope = program.method(from).map(|method| self.run.types.scope(method.class)).unwrap_or_default();
        self.run.types.find(scope, program.names.find(name)?)
    }

    /// Whether the method itself has the names: a helper that bears the absence of what others name says nothing about
    /// what they do then.
    fn is_local(&mut self, look_up: &LookUp) -> bool {
        if look_up.sink.purpose != Purpose::Load {
            return look_up.sink.purpose == Purpose::Provide;
        }
        let program = self.run.types.program;
        // Look-ups come method by method.
        if self.texts_of.0 != Some(look_up.method) {
            self.texts_of = (Some(look_up.method), program.class_names(look_up.method).collect());
        }
        let own = |name: &Vec<u8>| program.names.find(name).is_some_and(|name| self.texts_of.1.contains(&name));
        !look_up.names.exact.is_empty() && look_up.names.exact.iter().all(own)
    }

    /// Whether a class loader hands on what others ask it for: the names are theirs, and so are their guards.
    fn hands_on(&mut self, look_up: &LookUp) -> bool {
        let program = self.run.types.program;
        let is_loader = matches!(look_up.sink.purpose, Purpose::Load | Purpose::Define);
        let Some(method) = program.method(look_up.method).filter(|_| is_loader) else { return false };
        let selector = program.members.name(method.selector);
        let overrides =
            LOADS.iter().any(|name| selector.strip_prefix(*name).is_some_and(|rest| rest.starts_with(b"(")));
        overrides && self.run.is_below(method.class, b"java/lang/ClassLoader")
    }

    fn note(&mut self, look_up: &LookUp) {
        for name in &look_up.names.exact {
            if let Some(class) = self.find(look_up.method, name) {
                self.looked_up.insert(class);
            }
        }
    }

    fn apply(&mut self, look_up: &LookUp) {
        if look_up.guard == Guard::Absence && self.run.level != Level::Guarded && self.is_local(look_up) {
            self.held.push(look_up.clone());
            return;
        }
        let LookUp { method, sink, ref names, ref members, .. } = *look_up;
        let cause = Cause::LookUp(method);
        for name in &names.exact {
            match sink.purpose {
                Purpose::Provide => self.provide(name),
                Purpose::Localize => self.bundle(method, name),
                Purpose::Load | Purpose::Define => {
                    if let Some(class) = self.find(method, name) {
                        self.run.create(class, cause);
                    }
                }
                purpose @ (Purpose::Create | Purpose::Introspect | Purpose::Proxy) => {
                    if let Some(class) = self.find(method, name) {
                        if matches!(sink.name, "getMethods" | "getDeclaredMethods" | "getBeanInfo") {
                            self.listings.insert((class, method));
                        }
                        let waiting = Waiting { class, purpose, lists: sink.members, method, members: members.clone() };
                        if self.run.state(class).loaded.is_some() {
                            self.ready.push(waiting);
                        } else {
                            self.waiting.entry(class).or_default().push(waiting);
                        }
                    }
                }
                _ => {}
            }
        }
        if sink.purpose == Purpose::Introspect {
            let found = names.exact.iter().flat_map(|owner| members.iter().map(move |member| (owner, member)));
            self.reflected.extend(found.filter_map(|(owner, member)| sinks::purpose_of(owner, member)));
        }
        match sink.purpose {
            Purpose::Load | Purpose::Define | Purpose::Create | Purpose::Localize => {
                for pattern in &names.patterns {
                    self.look_for(pattern.clone(), method);
                }
            }
            Purpose::Introspect if names.unknown || !names.patterns.is_empty() => {
                self.lists_unknown(method, sink.members);
                self.members.extend(members.iter().map(|member| Box::<[u8]>::from(&**member)));
            }
            Purpose::Provide if names.unknown => {
                self.asked.insert(Box::default());
            }
            Purpose::Deserialize => {
                self.deserialises.get_or_insert(method);
            }
            _ => {}
        }
    }

    /// Whoever implements a service is created.
    pub fn provide(&mut self, service: &[u8]) {
        if !self.asked.insert(service.into()) {
            return;
        }
        for Provider { class, resource } in self.services.get(service).cloned().unwrap_or_default() {
            if let Some(name) = self.start.resources.names.get(resource as usize) {
                self.view.answered_from(name.archive);
            }
            self.run.create(class, Cause::Resource(resource));
            // The static method of a named module's provider (JLS §7.7.4).
            self.member(class, b"provider", Cause::Resource(resource));
        }
    }

    /// Classes of a resource bundle: the base name, also with a locale behind it.
    fn bundle(&mut self, from: MethodId, base: &[u8]) {
        if let Some(class) = self.find(from, base) {
            self.run.create(class, Cause::LookUp(from));
        }
        self.look_for(Pattern { prefix: [base, b"_"].concat(), suffix: Vec::new() }, from);
    }

    /// Notes a shape of names that a method puts together.
    fn look_for(&mut self, pattern: Pattern, method: MethodId) {
        let archive = self.archive_of(method);
        self.patterns.entry((pattern, archive)).or_insert(method);
    }

    /// Whether a reached look-up for one of these purposes is opaque.
    pub fn has_opaque(&self, purposes: &[Purpose]) -> bool {
        purposes.iter().any(|purpose| self.reflected.contains(purpose))
            || self.look_ups.has_opaque(&|method| self.run.reaches(method), purposes)
    }

    /// Notes which packages have a class that is loaded by now.
    pub fn note_loaded_packages(&mut self) {
        let program = self.run.types.program;
        let new = new_since(&self.run.history.loaded, &mut self.seen.loaded);
        let packages = new.iter().filter_map(|&id| Some(package_of(program.names.name(program.class(id)?.path))));
        self.seen.loaded_packages.extend(packages);
    }

    /// Whether a package had one when that was noted last.
    pub fn has_loaded(&self, package: &[u8]) -> bool {
        self.seen.loaded_packages.contains(package)
    }

    /// All classes whose name begins so, by name.
    pub fn beginning(&self, prefix: &[u8]) -> &'a [(&'p [u8], ClassId)] {
        self.sorted.beginning(prefix)
    }

    /// The class of that name in the scope of all.
    pub fn class(&self, name: &[u8]) -> Option<ClassId> {
        let id: NameId = self.run.types.program.names.find(name)?;
        self.view.find(Scope::default(), id)
    }
}

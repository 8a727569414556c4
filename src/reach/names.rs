//! What look-ups by name make run, and how far roots widen where a name cannot be worked out.
//!
//! Names that are known in full count as calls do, and so do all classes of a shape where parts of a name are known.
//! Where a look-up is reached of which nothing is known (an opaque site), it may mean whatever the reached code holds:
//! texts that are the name of a class of the program, class objects, classes that annotations name. What the platform
//! or a framework does by rules of its own, with names in files or with members that it lists, counts in the second
//! round only. Whole classes of a shape
//! follow Smaragdakis et al., "More Sound Static Handling of Java Reflection" (APLAS 2015). The first function to read
//! is [`Naming::finish`].

use std::collections::{BTreeMap, BTreeSet};
use std::time::{Duration, Instant};

use rayon::prelude::*;
use rustc_hash::FxHashSet;

use crate::archive::services::service_of;
use crate::classfile::Position;
use crate::diag::Findings;
use crate::flow::resolve::Pattern;
use crate::flow::sinks::Purpose;
use crate::limits::Limits;
use crate::names::package_of;
use crate::platform::ever_platform_package;
use crate::program::{Action, ClassId, Guard, MentionKind, MethodId, MethodKind, NameId, ResourceKind, View};

use super::lookups::{LookUp, LookUps};
use super::run::Run;
use super::selectors::Selectors;
use super::{Cause, Level, Start};

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
    method: MethodId,
    members: Vec<Vec<u8>>,
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
    /// Uses of class objects that nobody can have yet: whoever makes one, by name or as a literal, is not reached or
    /// waits for a later round.
    waiting: Vec<Waiting>,
    /// Shapes of names, until the second round.
    patterns: BTreeMap<Pattern, MethodId>,
    /// Those that have been applied.
    shaped: BTreeSet<Pattern>,
    /// All classes by name, sorted.
    pub sorted: Vec<(&'p [u8], ClassId)>,
    /// Providers by service, internal form.
    services: BTreeMap<Box<[u8]>, Vec<Provider>>,
    /// Services that a reached look-up names, or that nothing is known of.
    asked: BTreeSet<Box<[u8]>>,
    /// Names of members that are looked up in classes which are not known.
    members: BTreeSet<Box<[u8]>>,
    named: FxHashSet<ClassId>,
    /// Inspected classes whose nested classes have been looked at.
    listed: FxHashSet<ClassId>,
    /// Classes that look-ups name in full: texts with their names have found their use.
    looked_up: FxHashSet<ClassId>,
    /// Packages with a reached method that lists members of a class that is not known, with the first of them.
    introspects: BTreeMap<Box<[u8]>, MethodId>,
    deserialises: Option<MethodId>,
    pub own: Vec<bool>,
    annotated: Vec<bool>,
    texts_done: usize,
    literals_done: usize,
    created_done: (usize, usize),
    /// By name in a file, whether it has been acted upon.
    pub configured: Vec<bool>,
    /// Time spent on following names.
    pub following: Duration,
    selectors: Selectors<'p>,
    /// Selectors of the names in `members`, ascending.
    wanted: Vec<NameId>,
    /// By class, whether it has been searched for all of them.
    searched: Vec<bool>,
}

impl<'p, 'a> Naming<'p, 'a> {
    pub fn new(
        run: Run<'p>,
        look_ups: LookUps<'p>,
        view: &'p View,
        start: &'a Start<'a>,
        limits: &'a Limits,
        findings: &'a mut Findings,
    ) -> Self {
        let program = run.types.program;
        let mut services: BTreeMap<Box<[u8]>, Vec<Provider>> = BTreeMap::new();
        for (name, number) in start.resources.names.iter().zip(0..) {
            let Some(service) = service_of(&name.path).filter(|_| name.kind == ResourceKind::Service) else { continue };
            let scope = program.archive(name.archive).map(|archive| archive.scope).unwrap_or_default();
            let class = program.names.find(name.name.as_bytes()).and_then(|id| view.find(scope, id));
            let service = service.replace('.', "/");
            if let Some(class) = class.filter(|_| *service != *name.name) {
                services.entry(service.into_bytes().into()).or_default().push(Provider { class, resource: number });
            }
        }
        let classes = program.classes.len();
        let all = view.classes.iter().filter_map(|&id| Some((program.names.name(program.class(id)?.path), id)));
        let mut sorted: Vec<_> = all.collect();
        sorted.par_sort_unstable();
        let own = super::files::own(program, start.own);
        Naming {
            run,
            look_ups,
            start,
            limits,
            findings,
            view,
            found: BTreeMap::new(),
            held: Vec::new(),
            waiting: Vec::new(),
            patterns: BTreeMap::new(),
            shaped: BTreeSet::new(),
            sorted,
            services,
            asked: BTreeSet::new(),
            members: BTreeSet::new(),
            named: FxHashSet::default(),
            listed: FxHashSet::default(),
            looked_up: FxHashSet::default(),
            introspects: BTreeMap::new(),
            deserialises: None,
            own,
            annotated: vec![false; classes],
            texts_done: 0,
            literals_done: 0,
            created_done: (0, 0),
            configured: vec![false; start.resources.names.len()],
            following: Duration::ZERO,
            selectors: Selectors::new(program),
            wanted: Vec::new(),
            searched: vec![false; classes],
        }
    }

    /// All three rounds.
    pub fn finish(&mut self) {
        self.widen_to_the_end();
        self.run.open_names();
        self.registered();
        self.widen_to_the_end();
        self.run.open_guards();
        for look_up in std::mem::take(&mut self.held) {
            self.apply(&look_up);
        }
        self.widen_to_the_end();
    }

    fn widen_to_the_end(&mut self) {
        self.rest();
        loop {
            self.widen();
            if self.run.level != Level::Certain {
                self.widen_by_files();
            }
            if !self.rest() {
                break;
            }
        }
    }

    /// Draws all consequences of what is reached, names included; whether there were any.
    fn rest(&mut self) -> bool {
        let mut any = false;
        loop {
            self.run.settle();
            let mut new = std::mem::take(&mut self.run.fresh);
            if new.is_empty() {
                return any;
            }
            any = true;
            new.sort_unstable();
            let methods = &self.run.methods;
            let reached = |method: MethodId| methods.get(method.0 as usize).is_some_and(Option::is_some);
            let begun = Instant::now();
            let look_ups = self.look_ups.follow(&reached, &new, self.findings);
            self.following += begun.elapsed();
            for look_up in look_ups {
                self.note(&look_up);
                self.apply(&look_up);
                self.found.insert((look_up.method, look_up.pc), look_up);
            }
            self.use_loaded();
            self.members_by_name();
        }
    }

    /// Uses of classes that are loaded by now.
    fn use_loaded(&mut self) {
        let is_loaded =
            |waiting: &Waiting, run: &Run<'_>| run.classes.get(waiting.class.0 as usize).is_some_and(|c| c.loaded.is_some());
        let (ready, waiting): (Vec<_>, Vec<_>) =
            std::mem::take(&mut self.waiting).into_iter().partition(|waiting| is_loaded(waiting, &self.run));
        self.waiting = waiting;
        for Waiting { class, purpose, method, members } in ready {
            let cause = Cause::LookUp(method);
            if purpose == Purpose::Create {
                self.run.create(class, cause);
                continue;
            }
            self.run.introspect(class, cause);
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
    fn is_local(&self, look_up: &LookUp) -> bool {
        if look_up.sink.purpose != Purpose::Load {
            return look_up.sink.purpose == Purpose::Provide;
        }
        let program = self.run.types.program;
        let names = &look_up.names;
        let own = |name: &Vec<u8>| {
            program.steps(look_up.method).any(|step| match step.action {
                Action::ClassName(text) => program.names.name(text) == &**name,
                _ => false,
            })
        };
        !names.exact.is_empty() && names.exact.iter().all(own)
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
                Purpose::Load => {
                    if let Some(class) = self.find(method, name) {
                        self.run.create(class, cause);
                    }
                }
                purpose @ (Purpose::Create | Purpose::Introspect | Purpose::Proxy) => {
                    if let Some(class) = self.find(method, name) {
                        self.waiting.push(Waiting { class, purpose, method, members: members.clone() });
                    }
                }
                _ => {}
            }
        }
        match sink.purpose {
            Purpose::Load | Purpose::Create | Purpose::Localize => {
                for pattern in &names.patterns {
                    self.patterns.entry(pattern.clone()).or_insert(method);
                }
            }
            Purpose::Introspect if names.unknown || !names.patterns.is_empty() => {
                let package = self.package(method);
                self.introspects.entry(package).or_insert(method);
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
            self.run.create(class, Cause::Resource(resource));
            self.provider_method(class, resource);
        }
    }

    /// The static method `provider` of a named module's provider (JLS §7.7.4).
    fn provider_method(&mut self, class: ClassId, resource: u32) {
        self.member(class, b"provider", Cause::Resource(resource));
    }

    /// Classes of a resource bundle: the base name, also with a locale behind it.
    fn bundle(&mut self, from: MethodId, base: &[u8]) {
        if let Some(class) = self.find(from, base) {
            self.run.create(class, Cause::LookUp(from));
        }
        self.patterns.entry(Pattern { prefix: [base, b"_"].concat(), suffix: Vec::new() }).or_insert(from);
    }

    /// Methods of a class with that name, looked up to be called.
    fn member(&mut self, class: ClassId, name: &[u8], cause: Cause) {
        let (ancestors, _) = self.run.types.ancestors(class);
        let selectors = self.selectors.of(name);
        for &class in ancestors.iter() {
            self.run.named_methods(class, &selectors, cause);
        }
    }

    /// Members that are looked up by a constant name in classes that are not known are looked for in all classes that
    /// are there by name.
    fn members_by_name(&mut self) {
        let (classes, names) = self.created_done;
        let now = (self.run.created.len(), self.members.len());
        if (classes, names) == now {
            return;
        }
        self.created_done = now;
        if names != now.1 {
            self.wanted = self.members.iter().flat_map(|name| self.selectors.of(name).to_vec()).collect();
            self.wanted.sort_unstable();
            self.searched.fill(false);
        }
        let first = if names == now.1 { classes } else { 0 };
        let created: Vec<ClassId> = self.run.created.get(first..).unwrap_or_default().to_vec();
        for class in created {
            let (ancestors, _) = self.run.types.ancestors(class);
            for &above in ancestors.iter() {
                // A class above many is searched once for the same names.
                if let Some(searched @ false) = self.searched.get_mut(above.0 as usize) {
                    *searched = true;
                    self.run.named_methods(above, &self.wanted, Cause::Class(class));
                }
            }
        }
    }

    /// Roots widen: see the head of this file.
    fn widen(&mut self) {
        for (pattern, method) in std::mem::take(&mut self.patterns) {
            if self.shaped.insert(pattern.clone()) {
                self.shape(&pattern, method);
            }
        }
        let methods = &self.run.methods;
        let reached = |method: MethodId| methods.get(method.0 as usize).is_some_and(Option::is_some);
        let opaque = self.look_ups.opaque(&reached);
        let of = |purposes: &[Purpose]| opaque.iter().find(|look_up| purposes.contains(&look_up.sink.purpose));
        let loads = of(&[Purpose::Load]).map(|look_up| look_up.method);
        let creates = of(&[Purpose::Create, Purpose::Load]).map(|look_up| look_up.method);
        if loads.is_some() {
            let texts: Vec<_> = self.run.texts.get(self.texts_done..).unwrap_or_default().to_vec();
            self.texts_done = self.run.texts.len();
            for (class, method) in texts {
                if !self.looked_up.contains(&class) {
                    self.run.create(class, Cause::LookUp(method));
                }
            }
        }
        if creates.is_some() {
            self.annotations();
            let literals: Vec<_> = self.run.literals.get(self.literals_done..).unwrap_or_default().to_vec();
            self.literals_done = self.run.literals.len();
            for class in literals {
                let cause = self.run.classes.get(class.0 as usize).and_then(|state| state.literal);
                let cause = cause.map_or(Cause::Class(class), |reached| reached.cause);
                if self.own.get(class.0 as usize) == Some(&true) {
                    self.run.whole(class, cause);
                } else {
                    self.run.create(class, cause);
                }
            }
        }
    }

    /// The same by what the code does not show at all.
    fn widen_by_files(&mut self) {
        self.configured();
        self.platform_services();
        self.nested();
        self.introspect_own();
        if let Some(method) = self.deserialises {
            self.serialised(method);
        }
    }

    /// What annotations of loaded classes name may be created by whoever reads them.
    fn annotations(&mut self) {
        for &id in &self.view.classes {
            let is_loaded = self.run.classes.get(id.0 as usize).is_some_and(|state| state.loaded.is_some());
            let Some(done) = self.annotated.get_mut(id.0 as usize).filter(|done| is_loaded && !**done) else {
                continue;
            };
            *done = true;
            self.annotations_of(id);
        }
    }

    /// Somebody asks for the annotations of a class, and for the subclasses that it permits.
    fn annotations_of(&mut self, id: ClassId) {
        let program = self.run.types.program;
        for (method, head) in program.class(id).into_iter().flat_map(|class| program.methods_of(class)) {
            if head.kind == MethodKind::Annotations {
                self.run.method(method, Cause::Class(id));
            }
        }
    }

    /// Classes whose name has a shape. Where only the beginning is known, what follows is taken for a simple name.
    fn shape(&mut self, pattern: &Pattern, method: MethodId) {
        if pattern.suffix.len() <= 1 && pattern.prefix.len() <= 1 {
            return;
        }
        let first = self.sorted.partition_point(|&(name, _)| name < &*pattern.prefix);
        let from = self.sorted.get(first..).unwrap_or_default();
        let end = from.partition_point(|&(name, _)| name.starts_with(&pattern.prefix));
        let within: Vec<(&[u8], ClassId)> = from.get(..end).unwrap_or_default().to_vec();
        for (name, class) in within {
            let rest = name.get(pattern.prefix.len()..).unwrap_or_default();
            let fits = match &*pattern.suffix {
                [] => !rest.contains(&b'/'),
                suffix => rest.ends_with(suffix),
            };
            if fits {
                self.run.create(class, Cause::LookUp(method));
            }
        }
    }

    /// Providers of the platform's services: the platform looks for them by itself. A service of another module than
    /// java.base is looked for by the classes beside it, and so only if something reached makes one of those do
    /// anything.
    fn platform_services(&mut self) {
        let program = self.run.types.program;
        let everything = self.asked.contains(&[] as &[u8]);
        let due: Vec<Box<[u8]>> = self.services.keys().filter(|name| !self.asked.contains(*name)).cloned().collect();
        let platform = |service: &[u8]| {
            let own = program.names.find(service).and_then(|id| self.view.find(Default::default(), id));
            (ever_platform_package(package_of(service)) && own.is_none(), own.is_some())
        };
        let packages: FxHashSet<&[u8]> =
            if due.iter().any(|service| platform(service).0) { self.busy_packages() } else { FxHashSet::default() };
        for service in due {
            let (of_platform, of_program) = platform(&service);
            let is_looked_for = of_platform
                && match &*service {
                    b"java/sql/Driver" => packages.contains(&b"java/sql/DriverManager"[..]),
                    _ => packages.contains(package_of(&service)) || self.run.types.is_of_base(&service),
                };
            if is_looked_for || everything && of_program {
                self.provide(&service);
            }
        }
    }

    /// Packages outside java.base of whose types reached methods call static methods or create objects; and
    /// `DriverManager`, which alone of its package looks for something.
    fn busy_packages(&self) -> FxHashSet<&'p [u8]> {
        let program = self.run.types.program;
        let mut found = FxHashSet::default();
        for class in self.view.classes.iter().filter_map(|&id| program.class(id)) {
            for mention in program.mentions(class) {
                let acts = matches!(
                    mention.position,
                    MentionKind::At(Position::StaticCall | Position::New | Position::StaticField)
                );
                let reached = mention.method.and_then(|method| self.run.methods.get(method.0 as usize));
                if acts && reached.is_some_and(Option::is_some) {
                    let name = program.names.name(mention.target);
                    found.insert(package_of(name));
                    if name == b"java/sql/DriverManager" {
                        found.insert(name);
                    }
                }
            }
        }
        found
    }

    /// Nested classes of those that are inspected: who lists them loads them (`Class.getDeclaredClasses`).
    fn nested(&mut self) {
        let inspected: Vec<(ClassId, Cause)> = self
            .view
            .classes
            .iter()
            .filter_map(|&id| Some((id, self.run.classes.get(id.0 as usize)?.introspected?.cause)))
            .filter(|(id, _)| !self.listed.contains(id))
            .collect();
        for (outer, cause) in inspected {
            self.listed.insert(outer);
            let Some(class) = self.run.types.class(outer) else { continue };
            self.annotations_of(outer);
            let prefix = [self.run.types.program.names.name(class.path), b"$"].concat();
            let first = self.sorted.partition_point(|&(name, _)| name < &*prefix);
            let from = self.sorted.get(first..).unwrap_or_default();
            let nested: Vec<ClassId> =
                from.iter().take_while(|(name, _)| name.starts_with(&prefix)).map(|&(_, id)| id).collect();
            for class in nested {
                self.run.load(class, cause);
            }
        }
    }

    /// Classes of which there are objects may be those whose members somebody lists: own ones, whoever does, and those
    /// beside the one that does. Of libraries that is not believed.
    fn introspect_own(&mut self) {
        let Some(&first) = self.introspects.values().next() else { return };
        let program = self.run.types.program;
        for &id in &self.view.classes {
            let there = self.run.classes.get(id.0 as usize).is_some_and(|state| {
                state.instantiated.is_some() || state.literal.is_some() || state.created.is_some()
            });
            let Some(class) = program.class(id).filter(|_| there) else { continue };
            let beside = self.introspects.get(package_of(program.names.name(class.path))).copied();
            let own = self.own.get(id.0 as usize).copied().unwrap_or(false).then_some(first);
            if let Some(method) = beside.or(own) {
                self.run.introspect(id, Cause::LookUp(method));
            }
        }
    }

    /// The package of a method's class.
    fn package(&self, method: MethodId) -> Box<[u8]> {
        let program = self.run.types.program;
        let class = program.method(method).and_then(|method| program.class(method.class));
        class.map(|class| package_of(program.names.name(class.path))).unwrap_or_default().into()
    }

    /// What serialisation calls and inspects (Java Object Serialization Specification, §2.3, §3.4).
    fn serialised(&mut self, method: MethodId) {
        const HOOKS: [&[u8]; 6] =
            [b"readObject", b"writeObject", b"readResolve", b"writeReplace", b"readExternal", b"writeExternal"];
        let all: Vec<ClassId> = self.view.classes.clone();
        for id in all {
            let is_own = self.own.get(id.0 as usize) == Some(&true);
            let there = self.run.classes.get(id.0 as usize).is_some_and(|state| state.instantiated.is_some());
            if !(there || is_own) || !self.named.insert(id) || !self.is_serialisable(id) {
                continue;
            }
            if is_own {
                self.run.instantiate(id, Cause::LookUp(method));
                self.run.introspect(id, Cause::LookUp(method));
            }
            for hook in HOOKS {
                self.member(id, hook, Cause::LookUp(method));
            }
        }
    }

    fn is_serialisable(&mut self, id: ClassId) -> bool {
        self.run.is_below(id, b"java/io/Serializable") || self.run.is_below(id, b"java/io/Externalizable")
    }

    /// The class of that name in the scope of all.
    pub fn class(&self, name: &[u8]) -> Option<ClassId> {
        let id: NameId = self.run.types.program.names.find(name)?;
        self.view.find(Default::default(), id)
    }
}

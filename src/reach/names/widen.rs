//! How far roots widen where a name cannot be worked out.
//!
//! Classes of a shape follow Smaragdakis et al., "More Sound Static Handling of Java Reflection" (APLAS 2015). The first
//! function to read is [`Naming::widen`].

use rustc_hash::FxHashSet;

use crate::archive::{ArchiveId, Scope};
use crate::classfile::Position;
use crate::flow::Members;
use crate::flow::resolve::Pattern;
use crate::flow::sinks::Purpose;
use crate::names::package_of;
use crate::platform::ever_platform_package;
use crate::program::{Action, Class, ClassId, MentionKind, MethodId};
use crate::reach::{Cause, Level};

use super::conventions::BUNDLES;
use super::{Naming, beyond, new_since};

impl Naming<'_, '_> {
    /// Roots widen: see the head of this file.
    pub(super) fn widen(&mut self) {
        for ((pattern, archive), method) in std::mem::take(&mut self.patterns) {
            if self.shaped.insert((pattern.clone(), archive)) {
                self.shape(&pattern, archive, method);
            }
        }
        self.companions();
        self.services_of_literals();
        self.read_folders();
        self.called_from_outside();
        // What is created below may reach further methods, and those count in the next turn.
        let loads = self.has_opaque(&[Purpose::Load]);
        let creates = loads || self.has_opaque(&[Purpose::Create]);
        if loads {
            for (class, method) in beyond(&self.run.texts, &mut self.seen.texts_loaded) {
                if !self.looked_up.contains(&class) {
                    self.run.create(class, Cause::LookUp(method));
                }
            }
        }
        if self.has_opaque(&[Purpose::Localize]) {
            for (class, method) in beyond(&self.run.texts, &mut self.seen.texts_localized) {
                if BUNDLES.iter().any(|bundle| self.run.is_below(class, bundle)) {
                    self.run.create(class, Cause::LookUp(method));
                }
            }
        }
        if creates {
            self.annotations();
            for class in beyond(&self.run.literals, &mut self.seen.literals_created) {
                let cause = self.cause_of_literal(class);
                if self.is_own(class) {
                    self.run.whole(class, cause);
                } else {
                    self.run.create(class, cause);
                }
            }
        }
    }

    /// The same by what the code does not show at all.
    pub(super) fn widen_by_files(&mut self) {
        for (class, method) in std::mem::take(&mut self.conventional) {
            self.run.create(class, Cause::LookUp(method));
        }
        self.configured();
        self.read_files();
        self.annotations_of_annotations();
        self.bridged();
        self.platform_services();
        self.proxies_of_literals();
        self.discovered();
        self.given_by_name();
        self.linked();
        self.listed();
        self.nested();
        self.introspect_there();
        if let Some(method) = self.deserialises {
            self.serialised(method);
        }
    }

    /// What annotations of loaded classes name may be created by whoever reads them.
    pub(super) fn annotations(&mut self) {
        for id in new_since(&self.run.history.loaded, &mut self.seen.annotated) {
            self.annotations_of(id);
        }
    }

    /// Types of annotations that are read are loaded. Whoever reads one may go on to the annotations of its type, and has
    /// what its elements are where nothing is written down.
    fn annotations_of_annotations(&mut self) {
        if self.run.level == Level::Certain {
            return;
        }
        let mut read = beyond(&self.run.annotations, &mut self.seen.annotations);
        read.sort_by_key(|&(id, _)| id);
        for (id, cause) in read {
            if !self.seen.annotation_types.insert(id) {
                continue;
            }
            self.run.load(id, cause);
            let program = self.run.types.program;
            let scope = self.run.types.scope(id);
            let named = program.class(id).and_then(|class| program.annotations_of(class));
            for step in named.into_iter().flat_map(|annotations| program.steps(annotations)) {
                if matches!(step.action, Action::ClassLiteral(_) | Action::ClassName(_)) {
                    self.run.act(step.action, scope, Cause::Class(id));
                }
            }
        }
    }

    /// Somebody asks for the annotations of a class, and for the subclasses that it permits.
    pub(super) fn annotations_of(&mut self, id: ClassId) {
        let program = self.run.types.program;
        if let Some(annotations) = program.class(id).and_then(|class| program.annotations_of(class)) {
            self.run.method(annotations, Cause::Class(id));
        }
    }

    /// Classes whose name has a shape. Where only the beginning is known, what follows is taken for a simple name.
    fn shape(&mut self, pattern: &Pattern, archive: ArchiveId, method: MethodId) {
        if pattern.suffix.len() <= 1 && pattern.prefix.len() <= 1 {
            return;
        }
        if pattern.prefix.is_empty() {
            self.ending(&pattern.suffix, archive, method);
            return;
        }
        for &(name, class) in self.beginning(&pattern.prefix) {
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

    /// Classes of which only the end of the name is known. Thousands may end so by chance. Meant are, as a rule, classes
    /// of the library that puts the name together, and companions of other classes: what stands in front of the end is
    /// the name of a class that is there. If the end shows that it was made up by a convention, no chance brings it
    /// about, and whoever keeps to the convention may be meant.
    fn ending(&mut self, suffix: &[u8], archive: ArchiveId, method: MethodId) {
        let program = self.run.types.program;
        let is_convention = suffix.iter().any(|byte| !byte.is_ascii_alphanumeric());
        for (name, id) in self.sorted.ending(suffix) {
            if program.class(id).is_some_and(|class| class.archive == archive) {
                self.run.create(id, Cause::LookUp(method));
                continue;
            }
            let base = name.get(..name.len() - suffix.len()).and_then(|base| program.names.find(base));
            let base = base.and_then(|base| self.run.types.find(self.run.types.scope(id), base));
            if let Some(base) = base {
                if self.run.state(base).loaded.is_some() {
                    self.run.create(id, Cause::LookUp(method));
                } else {
                    self.companions.entry(base).or_default().push((id, method));
                }
            }
            if is_convention || self.is_own(id) {
                self.conventional.push((id, method));
            }
        }
    }

    /// Where somebody makes proxies for interfaces that are not known, they are among those that are values.
    fn proxies_of_literals(&mut self) {
        if !self.has_opaque(&[Purpose::Proxy]) {
            return;
        }
        for class in beyond(&self.run.literals, &mut self.seen.literals_made) {
            let is_interface = self.run.types.class(class).is_some_and(Class::is_interface);
            if is_interface {
                let cause = self.cause_of_literal(class);
                self.run.introspect(class, Members::PUBLIC_METHODS, cause);
                self.run.made(class, cause);
            }
        }
    }

    pub(super) fn cause_of_literal(&self, class: ClassId) -> Cause {
        self.run.state(class).literal.map_or(Cause::Class(class), |reached| reached.cause)
    }

    /// Where somebody looks for providers of a service that is not known, its class object has to come from somewhere.
    fn services_of_literals(&mut self) {
        if !self.looks_for_any_service() {
            return;
        }
        let program = self.run.types.program;
        let is_literal = |service: &[u8]| {
            let class = program.names.find(service).and_then(|id| self.view.peek(Scope::default(), id));
            class.is_some_and(|class| self.run.state(class).literal.is_some())
        };
        let due: Vec<Box<[u8]>> = self.services.keys().filter(|name| is_literal(name)).cloned().collect();
        for service in due {
            self.provide(&service);
        }
    }

    /// Whether a reached look-up looks for providers of services that are not all known.
    fn looks_for_any_service(&self) -> bool {
        self.asked.contains(&[] as &[u8]) || self.has_opaque(&[Purpose::Provide])
    }

    /// Companions of classes that are loaded by now.
    fn companions(&mut self) {
        for base in new_since(&self.run.history.loaded, &mut self.seen.accompanied) {
            for (class, method) in self.companions.remove(&base).unwrap_or_default() {
                self.run.create(class, Cause::LookUp(method));
            }
        }
    }

    /// Providers of the platform's services: the platform looks for them by itself. A service of another module than
    /// java.base is looked for by the classes beside it, and so only if something reached makes one of those do
    /// anything; then it is for certain. It may be where another package of a module that uses it (JLS §7.7.3) is busy.
    /// When java.base looks for one does not show.
    pub(super) fn platform_services(&mut self) {
        let program = self.run.types.program;
        let everything = self.looks_for_any_service();
        let is_certain = self.run.level == Level::Certain;
        let due: Vec<Box<[u8]>> = self.services.keys().filter(|name| !self.asked.contains(*name)).cloned().collect();
        let platform = |service: &[u8]| {
            let own = program.names.find(service).and_then(|id| self.view.find(Scope::default(), id));
            (ever_platform_package(package_of(service)) && own.is_none(), own.is_some())
        };
        if due.iter().any(|service| platform(service).0) {
            self.find_busy_packages();
        }
        for service in due {
            let packages = &self.seen.busy_packages;
            let (of_platform, of_program) = platform(&service);
            let is_base = self.run.types.is_of_base(&service);
            // By convention services stand in a package of their own, below that of the classes that look for them.
            let package = package_of(&service);
            let mut beside = std::iter::once(package).chain(package.strip_suffix(b"/spi"));
            let is_looked_for = of_platform
                && match &*service {
                    b"java/sql/Driver" => packages.contains(&b"java/sql/DriverManager"[..]),
                    _ if is_base => !is_certain,
                    _ => {
                        beside.any(|one| packages.contains(one)) || !is_certain && self.is_used_from(packages, &service)
                    }
                };
            if is_looked_for || everything && of_program && !is_certain {
                self.provide(&service);
            }
        }
    }

    /// Whether some of these packages are of modules that look for a service, by their descriptors. A compiler is had
    /// through another module than the one that looks for what it runs on annotations.
    fn is_used_from(&self, packages: &FxHashSet<&[u8]>, service: &[u8]) -> bool {
        match service {
            b"javax/annotation/processing/Processor" | b"com/sun/source/util/Plugin" => {
                packages.contains(&b"javax/tools"[..])
            }
            _ => packages.iter().any(|package| self.run.types.uses(package, service)),
        }
    }

    /// Packages outside java.base of whose types reached methods call static methods or create objects; and
    /// `DriverManager`, which alone of its package looks for something.
    fn find_busy_packages(&mut self) {
        let program = self.run.types.program;
        let new = self.seen.methods.get(self.seen.busy..).unwrap_or_default();
        let classes = new.iter().chain(&self.run.fresh).filter_map(|&id| Some(program.method(id)?.class));
        let mut classes: Vec<ClassId> = classes.collect();
        self.seen.busy = self.seen.methods.len();
        classes.sort_unstable();
        classes.dedup();
        for class in classes.into_iter().filter_map(|id| program.class(id)) {
            for mention in program.mentions(class) {
                let acts = matches!(
                    mention.position,
                    MentionKind::At(Position::StaticCall | Position::New | Position::StaticField)
                );
                if acts && mention.method.is_some_and(|method| self.run.reaches(method)) {
                    let name = program.names.name(mention.target);
                    self.seen.busy_packages.insert(package_of(name));
                    if name == b"java/sql/DriverManager" {
                        self.seen.busy_packages.insert(name);
                    }
                }
            }
        }
    }

    /// Nested classes of those that are inspected: who lists them loads them (`Class.getDeclaredClasses`).
    pub(super) fn nested(&mut self) {
        let new = new_since(&self.run.history.introspected, &mut self.seen.nested);
        let cause_of = |id: ClassId| Some((id, self.run.state(id).introspected?.cause));
        let inspected: Vec<(ClassId, Cause)> = new.into_iter().filter_map(cause_of).collect();
        for (outer, cause) in inspected {
            self.annotations_of(outer);
            for class in self.with_nested(outer) {
                self.run.load(class, cause);
            }
        }
    }

    /// A method lists members of a class that is not known, or asks for its type arguments or annotations.
    pub(super) fn lists_unknown(&mut self, method: MethodId, members: Members) {
        let (first, all) = self.introspects.unwrap_or((method, Members::NONE));
        self.introspects = Some((first, all.and(members)));
    }

    /// Whoever lists members of a class that is not known may have been given any object, and any class object that is a
    /// value: what turns objects into texts and back does that.
    pub(super) fn introspect_there(&mut self) {
        let listing = self.look_ups.opaque_for(&[Purpose::Introspect]).filter(|&(method, _)| self.run.reaches(method));
        for (method, members) in listing.collect::<Vec<_>>() {
            self.lists_unknown(method, members);
        }
        let Some((first, members)) = self.introspects else { return };
        if self.seen.listed != Some(members) {
            (self.seen.listed, self.seen.introspected) = (Some(members), 0);
        }
        for id in new_since(&self.run.history.there, &mut self.seen.introspected) {
            self.run.introspect(id, members, Cause::LookUp(first));
            // A class tells of its own members only: who wants all goes up.
            self.introspect_above(id, members.without(Members::CONSTRUCTORS), first, |_, _| true);
        }
    }

    /// Members of the superclasses are listed, up to the first from which nobody goes on, or which has been seen to.
    fn introspect_above(
        &mut self,
        id: ClassId,
        members: Members,
        by: MethodId,
        mut goes_on: impl FnMut(&mut Self, ClassId) -> bool,
    ) {
        let mut above = self.run.types.superclass(id);
        while let Some(superclass) = above.filter(|&above| !self.run.looked_at.holds(above, members)) {
            self.run.introspect(superclass, members, Cause::LookUp(by));
            above = self.run.types.superclass(superclass).filter(|_| goes_on(self, superclass));
        }
    }

    /// The archive of a method's class.
    pub(super) fn archive_of(&self, method: MethodId) -> ArchiveId {
        self.run.types.program.archive_of(method).unwrap_or(ArchiveId(0))
    }

    /// What serialisation calls and inspects (Java Object Serialization Specification, §2.3, §3.4).
    pub(super) fn serialised(&mut self, method: MethodId) {
        const HOOKS: [&[u8]; 6] =
            [b"readObject", b"writeObject", b"readResolve", b"writeReplace", b"readExternal", b"writeExternal"];
        let mut due = Vec::new();
        if self.seen.serialised == 0 {
            due.extend(self.own_classes());
        }
        due.extend(new_since(&self.run.history.there, &mut self.seen.serialised));
        due.sort_unstable();
        for id in due {
            let is_own = self.is_own(id);
            let there = self.run.state(id).instantiated.is_some();
            if !(there || is_own) || !self.named.insert(id) || !self.is_serialisable(id) {
                continue;
            }
            if is_own {
                self.run.instantiate(id, Cause::LookUp(method));
            }
            self.run.introspect(id, Members::ALL, Cause::LookUp(method));
            // Its superclasses are asked for their fields, and the first that is none of those for its constructor.
            self.introspect_above(id, Members::ALL, method, Self::is_serialisable);
            for hook in HOOKS {
                self.member(id, hook, Cause::LookUp(method));
            }
        }
        self.serialised_lambdas(method);
    }

    /// A lambda that is read from a stream is made anew by a method of the class that captured it, which is looked up among
    /// all that the class declares (Java SE API, `SerializedLambda`).
    fn serialised_lambdas(&mut self, method: MethodId) {
        let makes = b"$deserializeLambda$(Ljava/lang/invoke/SerializedLambda;)Ljava/lang/Object;";
        let Some(makes) = self.run.types.program.members.find(makes) else { return };
        for id in new_since(&self.run.history.initialised, &mut self.seen.capturing) {
            if self.run.types.declared(id, makes).is_some() {
                self.run.introspect(id, Members::METHODS, Cause::LookUp(method));
            }
        }
    }

    pub(super) fn is_serialisable(&mut self, id: ClassId) -> bool {
        self.run.is_below(id, b"java/io/Serializable") || self.run.is_below(id, b"java/io/Externalizable")
    }
}

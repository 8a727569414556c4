//! What files make run: what a container creates, what a framework creates from registrations, and what configuration
//! names.
//!
//! A container's rules are those of the Servlet specification (§8.1.4, §8.2, §14). Classes that a framework creates count
//! in the second round; one that cannot be loaded, or whose own condition names something absent, is left out. The first
//! functions to read are [`Naming::hosted`] and [`Naming::registered`].

use std::collections::BTreeMap;

use crate::archive::{AGENTS, Kind};
use crate::flow::sinks::Purpose;
use crate::names::package_of;
use crate::program::{Action, ClassId, NameId, OwnPart, ResourceKind, ResourceName};

use super::Cause;
use super::conditions::inactive;
use super::names::Naming;

/// Annotations of classes that a container creates (Servlet specification §8.1).
const ANNOTATIONS: [&str; 6] = [
    "javax/servlet/annotation/WebServlet",
    "javax/servlet/annotation/WebFilter",
    "javax/servlet/annotation/WebListener",
    "jakarta/servlet/annotation/WebServlet",
    "jakarta/servlet/annotation/WebFilter",
    "jakarta/servlet/annotation/WebListener",
];

impl Naming<'_, '_> {
    /// What a container or framework runs by itself: own classes, and what the Servlet specification has it create.
    pub(super) fn hosted(&mut self) {
        for &(class, _) in self.start.own.iter().filter(|(_, part)| *part == OwnPart::Scanned) {
            self.run.whole(class, Cause::Own);
        }
        let started = self.start.entry_points.started.len();
        for (number, entry) in (started as u32..).zip(&self.start.entry_points.called) {
            for class in self.of_path(entry.class.as_bytes()) {
                self.run.whole(class, Cause::Start(number));
            }
        }
        let archives = &self.run.types.program.archives;
        if archives.iter().any(|archive| archive.kind == Kind::War) {
            let all = self.view.classes.iter().copied();
            let annotated: Vec<ClassId> = all.filter(|&id| self.is_annotated(id)).collect();
            for class in annotated {
                self.run.whole(class, Cause::Class(class));
            }
        }
    }

    /// Classes of that path in any scope.
    pub(super) fn of_path(&self, path: &[u8]) -> Vec<ClassId> {
        self.beginning(path).iter().take_while(|&&(name, _)| name == path).map(|&(_, class)| class).collect()
    }

    fn is_annotated(&self, id: ClassId) -> bool {
        let names = &self.run.types.program.names;
        self.annotation_names(id).any(|name| ANNOTATIONS.iter().any(|known| known.as_bytes() == names.name(name)))
    }

    /// The types of the annotations that a class and its members carry.
    pub(super) fn annotation_names(&self, id: ClassId) -> impl Iterator<Item = NameId> {
        let program = self.run.types.program;
        let list = program.class(id).and_then(|class| program.annotations_of(class));
        list.into_iter().flat_map(|list| program.steps(list)).filter_map(|step| match step.action {
            Action::Annotation(name) => Some(name),
            _ => None,
        })
    }

    /// What frameworks create from registrations: the class, and those nested in it.
    pub(super) fn registered(&mut self) {
        let mut causes: BTreeMap<ClassId, u32> = BTreeMap::new();
        for (name, number) in self.start.resources.names.iter().zip(0..) {
            let is_made = matches!(name.kind, ResourceKind::Registration | ResourceKind::Page);
            if !is_made || !self.has_reader(name) {
                continue;
            }
            let Some(class) = self.named(name) else { continue };
            self.view.answered_from(name.archive);
            for class in self.with_nested(class) {
                causes.entry(class).or_insert(number);
            }
        }
        causes.retain(|&class, _| self.run.types.has_supertypes(class));
        let classes: Vec<ClassId> = causes.keys().copied().collect();
        let out = inactive(&self.run.types, self.limits, &classes, self.findings);
        for (class, number) in causes {
            if !self.is_within(class, &out) {
                self.run.whole(class, Cause::Resource(number));
            }
        }
    }

    /// Agents among the archives that nothing leads into, though the user named them: they are there for `-javaagent`, or to
    /// be attached. Whether there were any.
    pub(super) fn agents(&mut self) -> bool {
        let program = self.run.types.program;
        let starts_agent = |name: &ResourceName| {
            *name.path == *"META-INF/MANIFEST.MF"
                && name.of.as_deref().is_some_and(|of| AGENTS.contains(&of))
                && program.archive(name.archive).is_some_and(|archive| archive.parent.is_none())
        };
        let mut agents = self.start.resources.names.iter().zip(0..).filter(|(name, _)| starts_agent(name)).peekable();
        if agents.peek().is_none() {
            return false;
        }
        let touched = self.touched();
        let mut any = false;
        for (name, number) in agents {
            let class = self.named(name).and_then(|class| Some((class, program.class(class)?.archive)));
            if let Some((class, _)) = class.filter(|(_, archive)| !touched.contains(archive)) {
                self.view.answered_from(name.archive);
                self.run.whole(class, Cause::Resource(number));
                any = true;
            }
        }
        any
    }

    /// Names in configuration, once something is loaded by a name that nobody can tell, and those in metadata, once
    /// something is loaded or created so.
    pub(super) fn configured(&mut self) {
        let loads = self.has_opaque(&[Purpose::Load]);
        let creates = loads || self.has_opaque(&[Purpose::Create]);
        if !creates {
            return;
        }
        self.note_loaded_packages();
        for (name, number) in self.start.resources.names.iter().zip(0..) {
            let counts = match name.kind {
                ResourceKind::Configuration => loads,
                // A table of classes beside the classes that read it.
                ResourceKind::Mention => {
                    loads && name.path.ends_with(".properties") && self.has_loaded(package_of(name.path.as_bytes()))
                }
                // The JVM reads no metadata: they tell what may be looked up once the library at hand is in use. Some hold
                // only once a class is there.
                ResourceKind::Metadata => {
                    name.of.as_deref().is_none_or(|of| self.is_loaded(of.as_bytes()))
                        && self.has_loaded(package_of(name.name.as_bytes()))
                }
                _ => false,
            };
            let Some(done @ false) = self.configured.get_mut(number as usize).filter(|_| counts) else { continue };
            *done = true;
            self.create_named(name, number);
        }
    }

    /// Creates the class of the program that a file names, which has that number among all names in resources.
    pub(super) fn create_named(&mut self, name: &ResourceName, number: u32) {
        if let Some(class) = self.named(name) {
            self.view.answered_from(name.archive);
            self.run.create(class, Cause::Resource(number));
        }
    }

    fn is_loaded(&self, name: &[u8]) -> bool {
        self.class(name).is_some_and(|class| self.run.state(class).loaded.is_some())
    }

    /// The class of the program that a file names.
    fn named(&self, name: &ResourceName) -> Option<ClassId> {
        let program = self.run.types.program;
        let scope = program.archive(name.archive).map(|archive| archive.scope).unwrap_or_default();
        self.run.types.find(scope, program.names.find(name.name.as_bytes())?)
    }

    /// Whether what the class is registered for is there, where that is the name of a type: a framework that the program
    /// does not have reads nothing.
    fn has_reader(&self, name: &ResourceName) -> bool {
        let is_list = name.path.ends_with(".factories") || name.path.ends_with(".imports");
        let Some(of) = name.of.as_deref().filter(|_| is_list) else { return true };
        let of = of.replace('.', "/");
        !of.contains('/') || self.class(of.as_bytes()).is_some()
    }

    /// The class and those nested in it, by their names.
    pub(super) fn with_nested(&self, class: ClassId) -> Vec<ClassId> {
        std::iter::once(class).chain(self.sorted.nested_in(class)).collect()
    }

    /// Whether a class is one of some (sorted), or nested in one.
    fn is_within(&self, class: ClassId, classes: &[ClassId]) -> bool {
        let program = self.run.types.program;
        let path = program.class(class).map(|class| program.names.name(class.path)).unwrap_or_default();
        let outer = path.iter().enumerate().filter(|&(_, &byte)| byte == b'$').filter_map(|(at, _)| path.get(..at));
        let mut names = outer.chain([path]);
        names.any(|name| {
            let scope = self.run.types.scope(class);
            let id = program.names.find(name).and_then(|name| self.run.types.find(scope, name));
            id.is_some_and(|id| classes.binary_search(&id).is_ok())
        })
    }
}

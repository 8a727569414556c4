//! What the platform does to objects and classes of the program by rules of its own, which no overriding shows.
//!
//! The first function to read is [`Naming::called_from_outside`].

use crate::flow::Members;
use crate::flow::sinks::Purpose;
use crate::program::ClassId;
use crate::reach::{Cause, Level};

use super::{Naming, beyond, new_since};

/// How the names of management interfaces end (Java Management Extensions specification, chapters 2 and 4).
const MANAGED: [&[u8]; 2] = [b"MBean", b"MXBean"];

/// By what an exported object is known (Java Remote Method Invocation specification, §2.4).
const REMOTE: &[u8] = b"java/rmi/Remote";

/// Packages of which nearly every class extends something, and which take no class by its name.
const PLAIN: [&[u8]; 3] = [b"java/io/", b"java/lang/", b"java/util/"];

/// What stands in them and does, or below them (Java SE API: system properties, `Logger.getLogger` with a bundle).
const NAMED: [&[u8]; 9] = [
    b"java/lang/ClassLoader",
    b"java/lang/SecurityManager",
    b"java/util/ListResourceBundle",
    b"java/util/PropertyResourceBundle",
    b"java/util/ResourceBundle",
    b"java/util/concurrent/ForkJoinPool$",
    b"java/util/logging/",
    b"java/util/prefs/",
    b"java/util/spi/",
];

impl Naming<'_, '_> {
    /// Classes that the platform creates if it is given their names, in a property, say, or as a factory or an engine of a
    /// security provider: what extends a type of such a package and stands as a text.
    pub(super) fn given_by_name(&mut self) {
        let program = self.run.types.program;
        for (class, method) in beyond(&self.run.texts, &mut self.seen.texts_given) {
            let (_, others) = self.run.types.ancestors(class);
            let begins = |name: &[u8], starts: &[&[u8]]| starts.iter().any(|start| name.starts_with(start));
            let takes = |name: &[u8]| !begins(name, &PLAIN) || begins(name, &NAMED);
            let mut above = others.iter().map(|&other| program.names.name(other));
            if above.any(|name| takes(name) && self.run.types.on_platform(name)) {
                self.run.create(class, Cause::LookUp(method));
            }
        }
        // Java Cryptography Architecture reference guide: classes of engines extend one whose name ends so.
        for class in beyond(&self.run.literals, &mut self.seen.literals_given) {
            let (_, others) = self.run.types.ancestors(class);
            if others.iter().any(|&other| program.names.name(other).ends_with(b"Spi")) {
                let cause = self.cause_of_literal(class);
                self.run.create(class, cause);
            }
        }
    }

    /// Frameworks find the program's own classes by their files, by the types of fields and parameters, by type arguments:
    /// once something is looked up of which nothing is known, any of them may be meant.
    pub(super) fn discovered(&mut self) {
        let purposes = [Purpose::Load, Purpose::Create, Purpose::Introspect];
        if self.seen.discovered || !self.look_ups.has_unknown(&|method| self.run.reaches(method), &purposes) {
            return;
        }
        self.seen.discovered = true;
        for id in self.view.classes.iter().copied().filter(|id| self.own.get(id.0 as usize) == Some(&true)) {
            self.run.whole(id, Cause::Own);
        }
    }

    /// Whoever lists the methods of a class runs some of them, and whoever lists fields reads them.
    pub(super) fn listed(&mut self) {
        for (class, methods, by) in std::mem::take(&mut self.listings) {
            if self.run.state(class).loaded.is_none() {
                self.listings.insert((class, methods, by));
                continue;
            }
            let cause = Cause::LookUp(by);
            self.run.initialise(class, cause);
            if methods {
                self.run.named_methods(class, |_| true, cause);
            }
        }
    }

    /// Methods of objects that somebody in another process calls: those of remote interfaces, and from the second round on
    /// those of management interfaces, which an operator's console lists and calls.
    pub(super) fn called_from_outside(&mut self) {
        for id in new_since(&self.run.history.there, &mut self.seen.called_from_outside) {
            if self.run.state(id).instantiated.is_some() && self.run.is_below(id, REMOTE) {
                self.call_interfaces(id, |naming, interface| naming.run.is_below(interface, REMOTE));
            }
        }
        if self.run.level == Level::Certain {
            return;
        }
        for id in new_since(&self.run.history.there, &mut self.seen.managed) {
            if self.run.state(id).instantiated.is_some() {
                let program = self.run.types.program;
                self.call_interfaces(id, |_, interface| {
                    let name = program.class(interface).map(|class| program.names.name(class.path)).unwrap_or_default();
                    MANAGED.iter().any(|end| name.ends_with(end))
                });
            }
        }
    }

    /// The methods of some of the interfaces of an object are called, and listed before that.
    fn call_interfaces(&mut self, id: ClassId, is_meant: impl Fn(&mut Self, ClassId) -> bool) {
        let program = self.run.types.program;
        let (ancestors, _) = self.run.types.ancestors(id);
        for &above in ancestors.iter() {
            let is_interface = program.class(above).is_some_and(|class| class.access & 0x0200 != 0);
            if is_interface && is_meant(self, above) {
                self.run.introspect(above, Members::PUBLIC_METHODS, Cause::Class(id));
                self.run.named_methods(above, |_| true, Cause::Class(id));
            }
        }
    }
}

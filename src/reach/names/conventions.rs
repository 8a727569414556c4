//! What the platform does to objects and classes of the program by rules of its own, which no overriding shows.
//!
//! The first function to read is [`Naming::called_from_outside`].

use crate::flow::Members;
use crate::program::{Class, ClassId};
use crate::reach::run::Run;
use crate::reach::{Cause, Level};

use super::{Naming, beyond, new_since};

/// How the names of management interfaces end (Java Management Extensions specification, standard beans).
const MANAGED: &[u8] = b"MBean";

/// By what an exported object is known (Java Remote Method Invocation specification, §2.4).
const REMOTE: &[u8] = b"java/rmi/Remote";

/// Packages of which nearly every class extends something, and which take no class by its name.
const PLAIN: [&[u8]; 3] = [b"java/io/", b"java/lang/", b"java/util/"];

/// What stands in them and does, or below them, beside [`BUNDLES`] (Java SE API: system properties).
const NAMED: [&[u8]; 6] = [
    b"java/lang/ClassLoader",
    b"java/lang/SecurityManager",
    b"java/util/concurrent/ForkJoinPool$",
    b"java/util/logging/",
    b"java/util/prefs/",
    b"java/util/spi/",
];

/// The types of which a bundle's class is one (Java SE API, `java.util.ResourceBundle`; `Logger.getLogger` takes its name).
pub(super) const BUNDLES: [&[u8]; 3] =
    [b"java/util/ResourceBundle", b"java/util/ListResourceBundle", b"java/util/PropertyResourceBundle"];

impl Naming<'_, '_> {
    /// Classes that the platform creates if it is given their names, in a property, say, or as a factory or an engine of a
    /// security provider: what extends a type of such a package and stands as a text.
    pub(super) fn given_by_name(&mut self) {
        let program = self.run.types.program;
        for (class, method) in beyond(&self.run.texts, &mut self.seen.texts_given) {
            let (_, others) = self.run.types.ancestors(class);
            let begins = |name: &[u8], starts: &[&[u8]]| starts.iter().any(|start| name.starts_with(start));
            let takes = |name: &[u8]| !begins(name, &PLAIN) || begins(name, &NAMED) || BUNDLES.contains(&name);
            let mut above = others.iter().map(|&other| program.names.name(other));
            if above.any(|name| takes(name) && self.run.types.on_platform(name)) {
                self.run.create(class, Cause::LookUp(method));
            }
        }
        // Java Cryptography Architecture reference guide: classes of engines extend one whose name ends so.
        let asked = beyond(&self.run.asked, &mut self.seen.asked_given);
        for class in beyond(&self.run.literals, &mut self.seen.literals_given).into_iter().chain(asked) {
            let (_, others) = self.run.types.ancestors(class);
            if others.iter().any(|&other| program.names.name(other).ends_with(b"Spi")) {
                let cause = self.cause_of_literal(class);
                self.run.create(class, cause);
            }
        }
    }

    /// The JVM links a class whose members are listed; that whoever lists them goes on to use them is likely.
    pub(super) fn linked(&mut self) {
        for id in new_since(&self.run.history.listed, &mut self.seen.linked) {
            if let Some(listed) = self.run.looked_at.first(id, Members::ALL) {
                self.run.initialise(id, listed.cause);
            }
        }
    }

    /// Whoever lists the methods of a class runs some of them.
    pub(super) fn listed(&mut self) {
        let is_loaded = |run: &Run<'_>, class: ClassId| run.state(class).loaded.is_some();
        let (due, later) =
            std::mem::take(&mut self.listings).into_iter().partition(|&(class, _)| is_loaded(&self.run, class));
        self.listings = later;
        for (class, by) in due {
            self.run.named_methods(class, |_| true, Cause::LookUp(by));
        }
    }

    /// Methods of objects that somebody in another process calls: those of remote interfaces, and from the second round on
    /// those of management interfaces, which an operator's console lists and calls.
    pub(super) fn called_from_outside(&mut self) {
        for id in new_since(&self.run.history.there, &mut self.seen.remote) {
            if self.run.state(id).instantiated.is_some() && self.run.is_below(id, REMOTE) {
                self.call_interfaces(id, |naming, interface| naming.run.is_below(interface, REMOTE));
            }
        }
        if self.run.level == Level::Certain {
            return;
        }
        let mark = self.open_mark();
        for id in new_since(&self.run.history.there, &mut self.seen.managed) {
            if self.run.state(id).instantiated.is_some() {
                let program = self.run.types.program;
                self.call_interfaces(id, |naming, interface| {
                    let name = program.class(interface).map(|class| program.names.name(class.path)).unwrap_or_default();
                    let is_open = naming.is_open(interface, mark);
                    if is_open {
                        naming.open_data(interface);
                    }
                    is_open || name.ends_with(MANAGED)
                });
            } else if self.run.types.class(id).is_some_and(Class::is_interface) && self.is_open(id, mark) {
                // Its class object is a value: proxies are made of it, for a bean in another process.
                self.open_data(id);
            }
        }
    }

    /// The methods of some of the interfaces of an object are called, and listed before that.
    fn call_interfaces(&mut self, id: ClassId, is_meant: impl Fn(&mut Self, ClassId) -> bool) {
        let program = self.run.types.program;
        let (ancestors, _) = self.run.types.ancestors(id);
        for &above in ancestors.iter() {
            let is_interface = program.class(above).is_some_and(Class::is_interface);
            if is_interface && is_meant(self, above) {
                self.run.introspect(above, Members::PUBLIC_METHODS, Cause::Class(id));
                self.run.named_methods(above, |_| true, Cause::Class(id));
            }
        }
    }
}

//! What runs of classes of which objects are created by reflection, or whose methods are called by name.
//!
//! The first function to read is [`Run::create`].

use crate::flow::Members;
use crate::program::{ClassId, MethodKind, NameId};

use super::Cause;
use super::run::Run;

impl Run<'_> {
    /// Somebody may create objects of a class by reflection, through any constructor.
    ///
    /// One with a supertype that is nowhere cannot be loaded, and whoever looks it up by name knows what to do then.
    pub fn create(&mut self, id: ClassId, cause: Cause) {
        if self.classes.get(id.0 as usize).is_some_and(|state| state.created.is_some()) {
            return;
        }
        if !self.types.is_whole(id) {
            return;
        }
        self.instantiate(id, cause);
        if !self.mark(id, cause, |state| &mut state.created) {
            return;
        }
        self.history.there.push(id);
        // Whoever looks for one constructor loads the parameters of all (`Class.newInstance`).
        self.introspect(id, Members::CONSTRUCTORS, cause);
        let program = self.types.program;
        for (method, head) in self.types.class(id).into_iter().flat_map(|class| program.methods_of(class)) {
            if program.members.name(head.selector).starts_with(b"<init>") {
                self.method(method, cause);
            }
        }
    }

    /// All methods of a class can run: its own code, or one that a framework calls by rules of its own.
    pub fn whole(&mut self, id: ClassId, cause: Cause) {
        self.create(id, cause);
        let program = self.types.program;
        for (method, head) in self.types.class(id).into_iter().flat_map(|class| program.methods_of(class)) {
            if head.kind == MethodKind::Declared {
                self.method(method, cause);
            }
        }
    }

    /// The methods that a class declares under one of these selectors are called.
    pub fn named_methods(&mut self, id: ClassId, is_named: impl Fn(NameId) -> bool, cause: Cause) {
        let program = self.types.program;
        for (method, head) in self.types.class(id).into_iter().flat_map(|class| program.methods_of(class)) {
            if head.kind == MethodKind::Declared && is_named(head.selector) {
                self.method(method, cause);
                // Whoever calls it may have an object of a subclass.
                if !head.is_static() && !head.is_private() {
                    self.call(head.class, head.selector, cause);
                }
            }
        }
    }
}

//! Objects of interfaces whose classes nobody wrote: those of lambdas and method references.
//!
//! The first function to read is [`Run::made`].

use crate::program::{ClassId, NameId};

use super::Cause;
use super::run::Run;

impl Run<'_> {
    /// There are such objects of an interface: they have its methods with code, and those of the interfaces above it.
    pub(super) fn made(&mut self, id: ClassId, cause: Cause) {
        if !self.made.insert(id) {
            return;
        }
        self.load(id, cause);
        for above in self.types.ancestors(id).0.iter() {
            if !self.made.insert(*above) && *above != id {
                continue;
            }
            for (selector, cause) in self.called.get(above.0 as usize).cloned().unwrap_or_default() {
                self.call_made(*above, selector, cause);
            }
        }
    }

    /// A method is called on them.
    pub(super) fn call_made(&mut self, class: ClassId, selector: NameId, cause: Cause) {
        if let Some(target) = self.types.resolve(class, selector)
            && self.types.program.method(target).is_some_and(|head| head.has_code() && !head.is_static())
        {
            self.method(target, cause);
        }
    }
}

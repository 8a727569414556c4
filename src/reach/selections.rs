//! How far calls are told apart by the classes of objects.
//!
//! Every selector that is called on a type meets every class with objects below that type. Real programs have few million
//! such pairs; a program made for it has as many as the product of its classes and its calls. The first function to read
//! is [`Run::selects`].

use crate::program::{ClassId, MethodKind};

use super::Cause;
use super::run::Run;

/// Pairs of an object's class and a selector called on it that are looked at one by one. Beyond it every method of a class
/// with objects counts as called, which takes no longer than the program is long and leaves nothing out.
pub(super) const MOST_SELECTIONS: u32 = 1 << 26;

impl Run<'_> {
    /// Whether that many selections may be made. Where they may not for the first time, classes with objects run whole
    /// from then on.
    pub(super) fn selects(&mut self, count: usize) -> bool {
        let before = self.selections;
        self.selections = before.saturating_sub(u32::try_from(count).unwrap_or(u32::MAX));
        if before > 0 && self.selections == 0 {
            for id in (0..self.classes.len() as u32).map(ClassId) {
                if self.state(id).instantiated.is_some() {
                    self.callable(id);
                }
            }
        }
        self.selections > 0
    }

    /// Every method that objects of a class have can run.
    pub(super) fn callable(&mut self, id: ClassId) {
        let (ancestors, _) = self.types.ancestors(id);
        let program = self.types.program;
        for &above in &*ancestors {
            if self.whole.insert(above) {
                for (method, head) in self.types.class(above).into_iter().flat_map(|class| program.methods_of(class)) {
                    if head.kind == MethodKind::Declared && !head.is_static() {
                        self.method(method, Cause::Class(id));
                    }
                }
            }
        }
    }
}

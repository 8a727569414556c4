//! Draws all consequences of what is reached, and tells of what is new before that is done.
//!
//! It knows nothing of who listens. The first function to read is [`Run::settle_telling`].

use crate::program::{ClassId, MethodId};

use super::run::{Due, Run};

impl Run<'_> {
    /// Draws all consequences.
    pub fn settle(&mut self) {
        self.settle_telling(usize::MAX, |_, _| ());
    }

    /// The same; tells of the methods that are fresh and the classes that are initialised, in lots of about so many
    /// methods, while others are still to come.
    pub fn settle_telling(&mut self, lot: usize, mut tell: impl FnMut(&[MethodId], &[ClassId])) {
        let mut told = 0;
        while let Some(due) = self.due.pop_front() {
            if self.fresh.len() - told >= lot {
                told += self.tell(told, &mut tell);
            }
            match due {
                Due::Method(method) => self.run(method),
                Due::Loaded(class) => self.loaded(class),
                Due::Initialised(class) => self.initialised(class),
                Due::Instantiated(class) => self.instantiated(class),
            }
        }
        self.tell(told, &mut tell);
    }

    fn tell(&mut self, from: usize, tell: &mut impl FnMut(&[MethodId], &[ClassId])) -> usize {
        let methods = self.fresh.get(from..).unwrap_or_default();
        let initialised = &self.history.initialised;
        tell(methods, initialised.get(self.told..).unwrap_or_default());
        self.told = initialised.len();
        methods.len()
    }
}

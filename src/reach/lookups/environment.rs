//! Answers the questions that following a value brings up, and notes them.
//!
//! Only what methods that can run do counts. The first function to read is [`Asking::note`].

use std::cell::RefCell;

use super::families::Families;
use super::values::{Demand, Known as Kept, Question, Values};
use crate::flow::Called;
use crate::flow::resolve::{Environment, Known};
use crate::program::MethodId;

/// Stands for no method: what is looked up in it has no parameters.
const NO_METHOD: MethodId = MethodId(u32::MAX);

/// One value's questions.
pub(super) struct Asking<'v> {
    pub values: &'v Values,
    pub families: &'v Families<'v>,
    pub reached: &'v (dyn Fn(MethodId) -> bool + Sync),
    pub properties: &'v (dyn Fn(&[u8]) -> Vec<Vec<u8>> + Sync),
    /// What was asked for.
    pub asked: RefCell<Asked>,
}

/// What was asked for, in the order in which that was, and some more than once.
#[derive(Default)]
pub(super) struct Asked {
    /// Demands that have been made before.
    pub known: Vec<u32>,
    pub new: Vec<Demand>,
}

impl<'v> Asking<'v> {
    /// What is known so far; what is not is for the next round.
    fn note(&self, question: Question<'_>) -> Option<&'v Kept> {
        let known = self.values.known(question);
        let mut asked = self.asked.borrow_mut();
        match known {
            Some((id, _)) => asked.known.push(id),
            None => asked.new.push(question.demand()),
        }
        known.map(|(_, known)| known)
    }
}

impl Environment for Asking<'_> {
    type Method = MethodId;

    fn field(&self, owner: &[u8], name: &[u8]) -> Known<'_, MethodId> {
        let owner = self.families.program.names.find(owner).filter(|&owner| self.families.find(owner).is_some());
        let Some(owner) = owner else { return Known::nothing() };
        let Some(Kept::Field(field)) = self.note(Question::Field(owner, name)) else { return Known::nothing() };
        let counted = field.values.iter().filter(|(method, _)| method.is_none_or(self.reached));
        let values: Vec<_> = counted.map(|(method, value)| (value, method.unwrap_or(NO_METHOD))).collect();
        Known { whole: field.is_whole() && !values.is_empty(), values }
    }

    fn parameter(&self, of: MethodId, number: u16) -> Known<'_, MethodId> {
        if of == NO_METHOD {
            return Known::nothing();
        }
        let Some(Kept::Parameters { references, open, .. }) = self.note(Question::Parameters(of)) else {
            return Known::nothing();
        };
        let mut known = Known { values: Vec::new(), whole: !open };
        for calls in references.iter().filter_map(|reference| self.values.calls.get(reference)) {
            known.whole &= !calls.cut;
            let counted = calls.facts.iter().filter(|(caller, _)| (self.reached)(*caller));
            known
                .values
                .extend(counted.filter_map(|(caller, arguments)| Some((arguments.get(usize::from(number))?, *caller))));
        }
        known.whole &= !known.values.is_empty();
        known
    }

    fn result(&self, called: &Called<'_>) -> Known<'_, MethodId> {
        let program = self.families.program;
        let owner = program.names.find(&called.owner).filter(|&owner| self.families.find(owner).is_some());
        // Most are the platform's.
        let Some(owner) = owner else { return Known::nothing() };
        let member = program.members.find(&[&*called.name, &*called.descriptor].concat());
        let Some(member) = member else { return Known::nothing() };
        let question = Question::Result { owner, member, is_static: called.receiver.is_none() };
        let Some(Kept::Result { targets, open, .. }) = self.note(question) else { return Known::nothing() };
        let mut known = Known { values: Vec::new(), whole: !open };
        for (target, results) in targets.iter().filter_map(|id| Some((*id, self.values.results.get(id)?))) {
            known.whole &= !results.cut;
            known.values.extend(results.values.iter().map(|value| (value, target)));
        }
        known.whole &= !known.values.is_empty();
        known
    }

    fn property(&self, key: &[u8]) -> Vec<Vec<u8>> {
        (self.properties)(key)
    }
}

//! Methods that are looked up by their names: in one class, or in all that are there.
//!
//! The first functions to read are [`Naming::member`] and [`Naming::members_by_name`].

use rustc_hash::FxHashSet;

use crate::program::{ClassId, NameId, Program};
use crate::reach::Cause;
use crate::reach::selectors::Named;
use crate::reach::types::bit;

use super::Naming;

/// Members that are looked up in classes which are not known, and how far they have been looked for.
#[derive(Default)]
pub(super) struct Wanted {
    /// By selector, whether its name is looked up.
    all: Vec<bool>,
    /// The same of those that have come since all classes were searched last.
    new: Vec<bool>,
    /// How many names there were by then.
    names: usize,
    /// How many of the classes that are there have been searched for all of them.
    searched: usize,
    /// By class, what it has been searched for.
    classes: Vec<Searched>,
    /// The classes searched, in the order in which they were, each with the class below it that is there.
    order: Vec<(ClassId, ClassId)>,
    declarers: Option<Declarers>,
    /// Classes that have been searched for a name, with all above them: look-ups are told again whenever they grow.
    looked_up: FxHashSet<(ClassId, u32)>,
}

/// What a class has been searched for.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
enum Searched {
    #[default]
    Nothing,
    /// The names of an earlier turn, and it declares none of the new ones.
    Whole,
    /// The names of an earlier turn; it declares a new one.
    Partly,
}

/// Which classes declare a selector.
struct Declarers {
    /// By selector, where its classes begin; one more at the end.
    starts: Vec<u32>,
    classes: Vec<ClassId>,
}

impl Declarers {
    fn of(program: &Program) -> Self {
        let mut starts = vec![0_u32; program.members.len() + 1];
        for head in program.methods.iter() {
            if let Some(count) = starts.get_mut(head.selector.0 as usize) {
                *count += 1;
            }
        }
        let mut end = 0;
        for start in &mut starts {
            end += *start;
            *start = end;
        }
        // Each count has become the end of its part, from which the part is filled backwards.
        let mut classes = vec![ClassId(0); end as usize];
        for head in program.methods.iter().rev() {
            let Some(start) = starts.get_mut(head.selector.0 as usize) else { continue };
            *start -= 1;
            if let Some(slot) = classes.get_mut(*start as usize) {
                *slot = head.class;
            }
        }
        Declarers { starts, classes }
    }

    fn of_selector(&self, selector: NameId) -> &[ClassId] {
        let at = selector.0 as usize;
        let part = self.starts.get(at).zip(self.starts.get(at + 1));
        part.and_then(|(&from, &to)| self.classes.get(from as usize..to as usize)).unwrap_or_default()
    }
}

impl Naming<'_, '_> {
    /// Methods of a class with that name, looked up to be called.
    pub(super) fn member(&mut self, class: ClassId, name: &[u8], cause: Cause) {
        let Named { selectors, mask, number } = self.selectors.of(name);
        if self.wanted.looked_up.contains(&(class, number)) {
            return;
        }
        let (ancestors, _) = self.run.types.ancestors(class);
        for &above in ancestors.iter() {
            if self.run.types.may_declare(above, mask) && self.wanted.looked_up.insert((above, number)) {
                let is_named =
                    |selector: NameId| bit(selector) & mask != 0 && selectors.binary_search(&selector).is_ok();
                self.run.named_methods(above, is_named, cause);
            }
        }
        self.wanted.looked_up.insert((class, number));
    }

    /// Members that are looked up by a constant name in classes that are not known are looked for in all classes that
    /// are there, however they came to be.
    pub(super) fn members_by_name(&mut self) {
        if self.members.is_empty() {
            return;
        }
        if self.wanted.names != self.members.len() {
            self.want_new_names();
        }
        let there: Vec<ClassId> = self.run.history.there.get(self.wanted.searched..).unwrap_or_default().to_vec();
        let Wanted { all, classes, order, .. } = &mut self.wanted;
        for class in there {
            let (ancestors, _) = self.run.types.ancestors(class);
            for &above in ancestors.iter() {
                // A class above many is searched once for the same names.
                if let Some(searched @ Searched::Nothing) = classes.get_mut(above.0 as usize) {
                    *searched = Searched::Whole;
                    order.push((above, class));
                    let is_wanted = |selector: NameId| all.get(selector.0 as usize) == Some(&true);
                    self.run.named_methods(above, is_wanted, Cause::Class(class));
                }
            }
        }
        (self.wanted.names, self.wanted.searched) = (self.members.len(), self.run.history.there.len());
    }

    /// More names are looked up: classes that declare a method of such a name are searched again, for those alone.
    fn want_new_names(&mut self) {
        let program = self.run.types.program;
        let wanted = &mut self.wanted;
        wanted.all.resize(program.members.len(), false);
        wanted.new.resize(program.members.len(), false);
        wanted.classes.resize(program.classes.len(), Searched::Nothing);
        wanted.new.fill(false);
        let declarers = wanted.declarers.get_or_insert_with(|| Declarers::of(program));
        for name in &self.members {
            for &selector in self.selectors.of(name).selectors.iter() {
                let Some(slot @ false) = wanted.all.get_mut(selector.0 as usize) else { continue };
                *slot = true;
                if let Some(slot) = wanted.new.get_mut(selector.0 as usize) {
                    *slot = true;
                }
                for class in declarers.of_selector(selector) {
                    if let Some(searched @ Searched::Whole) = wanted.classes.get_mut(class.0 as usize) {
                        *searched = Searched::Partly;
                    }
                }
            }
        }
        let Wanted { new, classes, order, .. } = wanted;
        for &(class, created) in &*order {
            if let Some(searched @ Searched::Partly) = classes.get_mut(class.0 as usize) {
                *searched = Searched::Whole;
                let is_wanted = |selector: NameId| new.get(selector.0 as usize) == Some(&true);
                self.run.named_methods(class, is_wanted, Cause::Class(created));
            }
        }
    }
}

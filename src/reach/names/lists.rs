//! Lists of classes that code reads by itself: whoever holds the path of a file that names classes and nothing more reads
//! it and creates them, whatever the way from the one to the other is.
//!
//! The first function to read is [`Naming::read_lists`].

use rustc_hash::FxHashMap;

use crate::program::{NameId, Program, Resources};

use super::Naming;

/// Such files, by the text that is their path.
#[derive(Default)]
pub(super) struct Lists {
    /// The names in them, by their positions among all names in resources.
    names: FxHashMap<NameId, Vec<u32>>,
    /// How many of the texts met have been looked at.
    done: usize,
}

impl Lists {
    pub(super) fn of(program: &Program, resources: &Resources) -> Self {
        let mut lists = Lists::default();
        for (name, number) in resources.names.iter().zip(0..).filter(|(name, _)| name.is_listed) {
            let from_root = ["/", &name.path].concat();
            let texts = [name.path.as_bytes(), from_root.as_bytes()];
            for text in texts.into_iter().filter_map(|text| program.texts.find(text)) {
                lists.names.entry(text).or_default().push(number);
            }
        }
        lists
    }
}

impl Naming<'_, '_> {
    /// Creates what the lists name whose path is a text of a method that can run.
    pub(super) fn read_lists(&mut self) {
        let new = self.run.paths.get(self.lists.done..).unwrap_or_default();
        let numbers = new.iter().filter_map(|text| self.lists.names.get(text)).flatten();
        let numbers: Vec<u32> = numbers.copied().collect();
        self.lists.done = self.run.paths.len();
        for number in numbers {
            if let Some(name) = self.start.resources.names.get(number as usize) {
                self.create_named(name, number);
            }
        }
    }
}

//! Files that code reads by itself: whoever holds the path of a file that names classes may read it and load them, whatever
//! the way from the one to the other is. Where the file is a plain list that is certain.
//!
//! The first functions to read are [`Naming::read_lists`] and [`Naming::read_files`].

use rustc_hash::FxHashMap;

use crate::flow::sinks::Purpose;
use crate::program::{NameId, Program, ResourceKind, ResourceName, Resources};

use super::Naming;

/// Such files, by the text that is their path.
#[derive(Default)]
pub(super) struct Lists {
    /// The names in plain lists, by their positions among all names in resources.
    names: FxHashMap<NameId, Vec<u32>>,
    /// The same of all other files.
    others: FxHashMap<NameId, Vec<u32>>,
    /// How many of the texts met have been looked at, for either.
    done: usize,
    others_done: usize,
}

impl Lists {
    pub(super) fn of(program: &Program, resources: &Resources) -> Self {
        let mut lists = Lists::default();
        for (name, number) in resources.names.iter().zip(0..).filter(|(name, _)| is_read(name)) {
            let from_root = ["/", &name.path].concat();
            // A class beside the file asks for it by its last part.
            let last = name.path.rsplit('/').next().filter(|_| !name.path.starts_with("META-INF/"));
            let texts = [Some(name.path.as_bytes()), Some(from_root.as_bytes()), last.map(str::as_bytes)];
            let mut texts: Vec<NameId> =
                texts.into_iter().flatten().filter_map(|text| program.texts.find(text)).collect();
            texts.dedup();
            for text in texts {
                let lists = if name.is_listed { &mut lists.names } else { &mut lists.others };
                lists.entry(text).or_default().push(number);
            }
        }
        lists
    }
}

/// Whether a file names classes for whoever reads it. A service file that is read in place of a look-up is another matter:
/// see [`Naming::reads_service_files`].
fn is_read(name: &ResourceName) -> bool {
    let kinds = [ResourceKind::Configuration, ResourceKind::Mention, ResourceKind::Registration];
    kinds.contains(&name.kind) && *name.path != *"META-INF/MANIFEST.MF"
}

impl Naming<'_, '_> {
    /// Creates what the lists name whose path is a text of a method that can run.
    pub(super) fn read_lists(&mut self) {
        let numbers = numbers(&self.lists.names, self.run.paths.get(self.lists.done..));
        self.lists.done = self.run.paths.len();
        self.create_all(numbers);
    }

    /// The same of all other files, once something is loaded by a name that nobody can tell.
    pub(super) fn read_files(&mut self) {
        if !self.has_opaque(&[Purpose::Load]) {
            return;
        }
        let numbers = numbers(&self.lists.others, self.run.paths.get(self.lists.others_done..));
        self.lists.others_done = self.run.paths.len();
        self.create_all(numbers);
    }

    fn create_all(&mut self, numbers: Vec<u32>) {
        for number in numbers {
            if let Some(name) = self.start.resources.names.get(number as usize) {
                self.create_named(name, number);
            }
        }
    }
}

fn numbers(files: &FxHashMap<NameId, Vec<u32>>, new: Option<&[NameId]>) -> Vec<u32> {
    new.unwrap_or_default().iter().filter_map(|text| files.get(text)).flatten().copied().collect()
}

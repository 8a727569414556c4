//! Files that code reads by itself: whoever holds the path of a file that names classes may read it and load them, whatever
//! the way from the one to the other is. Where the file is a plain list that is certain.
//!
//! The first functions to read are [`Naming::read_lists`], [`Naming::read_files`] and [`Naming::read_folders`].

use rustc_hash::FxHashMap;

use crate::archive::Scope;
use crate::flow::sinks::Purpose;
use crate::program::{ClassId, NameId, Program, ResourceKind, ResourceName, Resources, View};

use super::Naming;

/// Such files, by the text that is their path.
#[derive(Default)]
pub(super) struct Lists {
    /// The names in plain lists, by their positions among all names in resources.
    names: FxHashMap<NameId, Vec<u32>>,
    /// The same of all other files.
    others: FxHashMap<NameId, Vec<u32>>,
    /// Files that bear the name of a class, by the text that is their folder: that class, and the names in them.
    folders: FxHashMap<NameId, Vec<(ClassId, Vec<u32>)>>,
    /// How many of the texts met have been looked at, for either.
    done: usize,
    others_done: usize,
}

impl Lists {
    pub(super) fn of(program: &Program, view: &View, resources: &Resources) -> Self {
        let mut lists = Lists { folders: folders(program, view, resources), ..Lists::default() };
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

/// Names in files below `META-INF/` whose own name is that of a class, service files among them: whoever puts the path
/// together of the folder and the name of a class has that class, too.
fn folders(program: &Program, view: &View, resources: &Resources) -> FxHashMap<NameId, Vec<(ClassId, Vec<u32>)>> {
    let mut folders: FxHashMap<NameId, Vec<(ClassId, Vec<u32>)>> = FxHashMap::default();
    for (name, number) in resources.names.iter().zip(0..) {
        let Some((folder, last)) = name.path.rsplit_once('/').filter(|(folder, _)| folder.starts_with("META-INF"))
        else {
            continue;
        };
        let path = last.replace('.', "/");
        let class = program.names.find(path.as_bytes()).and_then(|id| view.peek(Scope::default(), id));
        let Some(class) = class.filter(|_| is_read(name) || name.kind == ResourceKind::Service) else { continue };
        // Bare, and as the recipe of a concatenation (java.lang.invoke.StringConcatFactory).
        for text in ["", "/"].iter().flat_map(|start| ["", "/", "/\u{1}"].map(|end| [start, folder, end].concat())) {
            let Some(text) = program.texts.find(text.as_bytes()) else { continue };
            let files = folders.entry(text).or_default();
            match files.iter_mut().find(|(other, _)| *other == class) {
                Some((_, numbers)) => numbers.push(number),
                None => files.push((class, vec![number])),
            }
        }
    }
    folders
}

/// Whether a file names classes for whoever has its path. Of a service file that code reads by itself that is not believed
/// unless it has the class of the service as well.
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

    /// Creates what files name that bear the name of a class, where their folder is a text of a method that can run and
    /// somebody has the class: so service files are read by hand.
    pub(super) fn read_folders(&mut self) {
        if self.lists.folders.is_empty() || !self.has_opaque(&[Purpose::Load]) {
            return;
        }
        let mut due = Vec::new();
        for text in &self.run.paths {
            if let Some(files) = self.lists.folders.get_mut(text) {
                due.extend(
                    files.extract_if(.., |(class, _)| self.run.is_named(*class)).flat_map(|(_, numbers)| numbers),
                );
            }
        }
        self.create_all(due);
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

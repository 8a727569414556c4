//! Archives that nothing in the program leads into, and whose classes carry annotations that it looks for: plug-ins, tests,
//! steps of a scenario, found by whoever walks the class path.
//!
//! The first function to read is [`Naming::bridged`].

use rustc_hash::{FxHashMap, FxHashSet};

use crate::archive::ArchiveId;
use crate::flow::sinks::Purpose;
use crate::program::ClassId;
use crate::reach::Cause;

use super::{Naming, beyond};

/// The file that makes an archive one of beans.
const BEANS: &str = "META-INF/beans.xml";

/// What has been found of them.
#[derive(Default)]
pub(super) struct Bridges {
    /// Classes by the annotation that they or their members carry, of archives that nothing led into when that was looked
    /// at; for annotations that carry another one, by that one too.
    carriers: Option<FxHashMap<ClassId, Vec<ClassId>>>,
    /// How many of the class objects that are values have been looked at.
    done: usize,
    /// Whether bean archives have been looked through.
    beans: bool,
}

impl Naming<'_, '_> {
    /// Classes of archives of which nothing is reached, once something is loaded by a name that nobody can tell, and
    /// reached code has the class object of an annotation that they carry.
    pub(super) fn bridged(&mut self) {
        if !self.has_opaque(&[Purpose::Load]) {
            return;
        }
        if self.bridges.carriers.is_none() {
            self.bridges.carriers = Some(self.carriers());
        }
        self.beans();
        for annotation in beyond(&self.run.literals, &mut self.bridges.done) {
            let carriers = self.bridges.carriers.as_mut().and_then(|carriers| carriers.remove(&annotation));
            let cause = self.cause_of_literal(annotation);
            for class in carriers.unwrap_or_default() {
                self.view.answered_by(class);
                self.run.whole(class, cause);
            }
        }
    }

    /// Annotated classes of bean archives, where the file that makes them such is asked for (Jakarta Contexts and Dependency
    /// Injection specification, "Bean archives").
    fn beans(&mut self) {
        let program = self.run.types.program;
        let from_root = ["/", BEANS].concat();
        if self.bridges.beans || ![BEANS, &from_root].iter().any(|path| self.run.holds(path.as_bytes())) {
            return;
        }
        self.bridges.beans = true;
        let archives = (0..).map(ArchiveId).zip(&program.archives);
        let with_beans = archives.filter(|(_, archive)| archive.entries.iter().any(|entry| *entry.path == *BEANS));
        let with_beans: FxHashSet<ArchiveId> = with_beans.map(|(id, _)| id).collect();
        for &id in &self.view.classes {
            let is_within = program.class(id).is_some_and(|class| with_beans.contains(&class.archive));
            if is_within && !self.annotations_on(id).is_empty() {
                self.view.answered_by(id);
                self.run.whole(id, Cause::Own);
            }
        }
    }

    /// Archives of which a class is loaded by now.
    pub(in crate::reach) fn touched(&self) -> FxHashSet<ArchiveId> {
        let program = self.run.types.program;
        self.run.history.loaded.iter().filter_map(|&id| Some(program.class(id)?.archive)).collect()
    }

    fn carriers(&self) -> FxHashMap<ClassId, Vec<ClassId>> {
        let program = self.run.types.program;
        let archive = |id: ClassId| program.class(id).map(|class| class.archive);
        let touched = self.touched();
        let mut carriers: FxHashMap<ClassId, Vec<ClassId>> = FxHashMap::default();
        for &id in &self.view.classes {
            if archive(id).is_none_or(|archive| touched.contains(&archive)) {
                continue;
            }
            let mut found = self.annotations_on(id);
            found.extend(found.clone().into_iter().flat_map(|annotation| self.annotations_on(annotation)));
            found.sort_unstable();
            found.dedup();
            for annotation in found.into_iter().filter(|&annotation| archive(annotation) != archive(id)) {
                carriers.entry(annotation).or_default().push(id);
            }
        }
        carriers
    }

    /// The annotations of the program that a class or its members carry.
    fn annotations_on(&self, id: ClassId) -> Vec<ClassId> {
        let scope = self.run.types.scope(id);
        self.annotation_names(id).filter_map(|name| self.run.types.find(scope, name)).collect()
    }
}

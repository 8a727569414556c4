//! The program's own classes, which frameworks look through.
//!
//! The first function to read is [`Naming::discovered`].

use std::collections::BTreeSet;
use std::rc::Rc;

use crate::archive::{Archive, ArchiveId, Kind, Scope};
use crate::flow::sinks::Purpose;
use crate::names::package_of;
use crate::program::{Action, Class, ClassId, NameId, OwnPart, Program, View};
use crate::reach::{Cause, Start};

use super::Naming;

/// Endings of archives that are made to be named on a class path.
const LIBRARY: [&str; 2] = ["jar", "zip"];

/// Look-ups that may mean any class.
const LOOKS_UP: [Purpose; 3] = [Purpose::Load, Purpose::Create, Purpose::Introspect];

/// By class, whether it is one of those that frameworks and containers look through by their layout, or stands in a
/// folder. Of jars, the layout does not tell libraries from the rest: see [`Naming::applications`].
pub(super) fn looked_through(program: &Program, classes: &[(ClassId, OwnPart)]) -> Vec<bool> {
    let mut own = vec![false; program.classes.len()];
    for &(id, part) in classes {
        let archive = program.class(id).and_then(|class| program.archive(class.archive));
        if let Some(own) = own.get_mut(id.0 as usize) {
            *own = archive.is_some_and(|archive| part.is_by_layout(archive));
        }
    }
    own
}

/// Whether the program has no libraries, and so none in its own archive: all classes are in the package of the one at which
/// the launcher starts, or below it. It may be a tool as well as an application, and the roots of a tool do not widen.
fn stands_alone(program: &Program, view: &View, start: &Start<'_>) -> bool {
    let mut started = start.entry_points.started.iter();
    let (Some(start), None) = (started.next(), started.next()) else { return false };
    let package = package_of(start.class.as_bytes());
    let is_below = |class: &Class| {
        let rest = program.names.name(class.path).strip_prefix(package);
        rest.is_some_and(|rest| rest.starts_with(b"/"))
    };
    !package.is_empty() && view.classes.iter().filter_map(|&id| program.class(id)).all(is_below)
}

/// Whether a class comes from a library that was packed into another archive: its packages were moved below one that says
/// so, and nobody looks through those (common practice, no source).
fn is_moved(path: &[u8]) -> bool {
    let mut folders = package_of(path).split(|&byte| byte == b'/');
    folders.any(|folder| matches!(folder, b"reloc" | b"relocated" | b"repackaged" | b"shaded" | b"shade"))
}

impl Naming<'_, '_> {
    /// Whether a class is one of those that frameworks look through.
    pub(super) fn is_own(&self, id: ClassId) -> bool {
        self.own.get(id.0 as usize) == Some(&true)
    }

    /// All of these that can be loaded, in class path order.
    pub(super) fn own_classes(&self) -> Vec<ClassId> {
        self.view.classes.iter().copied().filter(|&id| self.is_own(id)).collect()
    }

    /// Frameworks find the program's own classes by their files, by the types of fields and parameters, by type arguments:
    /// once something is looked up that is not known, any of them may be meant. An application in a jar is found
    /// by its libraries, not by itself.
    pub(super) fn discovered(&mut self) {
        if !self.seen.discovered && self.look_ups.has_opaque(&|method| self.run.reaches(method), &LOOKS_UP) {
            self.seen.discovered = true;
            for id in self.own_classes() {
                self.run.whole(id, Cause::Own);
            }
        }
        let due = self.looked_for();
        if due.is_empty() {
            return;
        }
        self.seen.looked_for.extend(&due);
        let applications: BTreeSet<ArchiveId> = self.applications().intersection(&due).copied().collect();
        let program = self.run.types.program;
        for &id in &self.view.classes {
            let class = program.class(id).filter(|class| applications.contains(&class.archive));
            if class.is_some_and(|class| !is_moved(program.names.name(class.path))) {
                if let Some(own) = self.own.get_mut(id.0 as usize) {
                    *own = true;
                }
                self.run.whole(id, Cause::Own);
            }
        }
    }

    /// Of the archives that may be applications, those for which a look-up in another archive may be meant that has not
    /// been seen to yet.
    fn looked_for(&self) -> BTreeSet<ArchiveId> {
        let mut due = self.candidates();
        due.retain(|id| {
            let elsewhere = |method| self.run.reaches(method) && self.archive_of(method) != *id;
            !self.seen.looked_for.contains(id) && self.look_ups.has_opaque(&elsewhere, &LOOKS_UP)
        });
        due
    }

    /// The archives at which the launcher starts, or that a server takes up, and that may be the program's own. Left out is
    /// what was made for others to build on, and what is a module, whose packages are closed (JLS §7.7.2).
    fn candidates(&self) -> BTreeSet<ArchiveId> {
        let program = self.run.types.program;
        let mut candidates = self.started();
        candidates.extend(deployed(program));
        candidates.retain(|id| program.archive(*id).is_some_and(|archive| !is_for_others(archive)));
        candidates
    }

    /// The archives of the classes at which the launcher starts, and those that count as the program.
    fn started(&self) -> BTreeSet<ArchiveId> {
        let program = self.run.types.program;
        let started = self.start.entry_points.started.iter();
        let names = started.filter_map(|entry| program.names.find(entry.class.as_bytes()));
        let of_classes = names.filter_map(|name| self.archive_of_name(name));
        of_classes.chain(self.start.entry_points.programs.iter().copied()).collect()
    }

    fn archive_of_name(&self, name: NameId) -> Option<ArchiveId> {
        let class = self.view.peek(Scope::default(), name)?;
        Some(self.run.types.program.class(class)?.archive)
    }

    /// The archives that are the program's own part, whoever looks through them; ascending. One at which the launcher starts
    /// needs not name others beside it for that: it may find them as services.
    pub fn own_archives(&mut self) -> Vec<ArchiveId> {
        let program = self.run.types.program;
        let of_own = self.own_classes().into_iter().filter_map(|id| Some(program.class(id)?.archive));
        let mut own: BTreeSet<ArchiveId> = of_own.collect();
        let others = program.archives.iter().filter(|archive| archive.parent.is_none() && archive.on_class_path);
        if stands_alone(program, self.view, self.start) {
            own.extend(self.started());
        } else if others.count() > 1 {
            let bonds = self.bonds();
            own.extend(bonds.candidates.difference(&bonds.named));
        }
        own.into_iter().collect()
    }

    /// Of the candidates, those that name classes of others while no other names theirs: an application beside its libraries.
    /// A tool that others extend is none, nor is a jar that brings all in one.
    fn applications(&mut self) -> BTreeSet<ArchiveId> {
        let bonds = self.bonds();
        bonds.naming.difference(&bonds.named).copied().collect()
    }

    fn bonds(&mut self) -> Rc<Bonds> {
        let bonds = self.bonds.take().unwrap_or_else(|| Rc::new(self.find_bonds()));
        self.bonds = Some(Rc::clone(&bonds));
        bonds
    }

    /// How the candidates are bound to others.
    fn find_bonds(&self) -> Bonds {
        let program = self.run.types.program;
        let candidates = self.candidates();
        let (mut naming, mut named) = (BTreeSet::new(), BTreeSet::new());
        // Going through all code takes its time.
        if candidates.is_empty() {
            return Bonds { candidates, naming, named };
        }
        // Nearly all names are none of theirs, and looking up whose they are takes long.
        let mut theirs = vec![false; program.names.len()];
        for class in self.view.classes.iter().filter_map(|&id| program.class(id)) {
            if candidates.contains(&class.archive)
                && let Some(theirs) = theirs.get_mut(class.path.0 as usize)
            {
                *theirs = true;
            }
        }
        for class in self.view.classes.iter().filter_map(|&id| program.class(id)) {
            let asks = candidates.contains(&class.archive) && !naming.contains(&class.archive);
            for name in names_of(program, class) {
                if !asks && theirs.get(name.0 as usize) != Some(&true) {
                    continue;
                }
                let Some(of) = self.archive_of_name(name).filter(|of| *of != class.archive) else { continue };
                if asks {
                    naming.insert(class.archive);
                }
                if candidates.contains(&of) {
                    named.insert(of);
                    self.view.answered_from(class.archive);
                }
            }
        }
        Bonds { candidates, naming, named }
    }
}

/// The archives that may be the program's own, those of them that name classes of others, and those whose classes others
/// name.
pub(super) struct Bonds {
    candidates: BTreeSet<ArchiveId>,
    naming: BTreeSet<ArchiveId>,
    named: BTreeSet<ArchiveId>,
}

/// The archives among the inputs that are packed for a server to take up, by an ending that is not a library's: services,
/// connectors, plug-ins.
fn deployed(program: &Program) -> impl Iterator<Item = ArchiveId> {
    let archives = (0..).map(ArchiveId).zip(&program.archives);
    let deployed = archives.filter(|(_, archive)| {
        let ending = archive.locator.last().rsplit_once('.').map(|(_, ending)| ending);
        archive.kind == Kind::Jar
            && archive.parent.is_none()
            && archive.on_class_path
            && ending.is_some_and(|ending| !LIBRARY.iter().any(|library| ending.eq_ignore_ascii_case(library)))
    });
    deployed.map(|(id, _)| id)
}

/// Whether an archive is a module, reserves the name of one (JAR File Specification, `Automatic-Module-Name`), or exports
/// packages (`Export-Package`, as bundles do).
fn is_for_others(archive: &Archive) -> bool {
    let says = |header| archive.manifest.as_ref().is_some_and(|manifest| manifest.get(header).is_some());
    says("Automatic-Module-Name") || says("Export-Package") || archive.is_module()
}

/// The classes that a class extends, and that its code names.
fn names_of<'p>(program: &'p Program, class: &'p Class) -> impl Iterator<Item = NameId> + use<'p> {
    let steps = program.methods_of(class).flat_map(|(method, _)| program.steps(method));
    let named = steps.filter_map(|step| match step.action {
        Action::StaticCall(to) | Action::SpecialCall(to) | Action::VirtualCall(to) | Action::StaticField(to) => {
            Some(to.owner)
        }
        Action::New(name) | Action::Object(name) | Action::Load(name) | Action::ClassLiteral(name) => Some(name),
        _ => None,
    });
    class.superclass.into_iter().chain(class.interfaces.iter().copied()).chain(named)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packages_say_that_they_were_moved() {
        for moved in ["pier/shaded/gauge/Tide", "shaded/gauge/Tide", "pier/reloc/Tide"] {
            assert!(is_moved(moved.as_bytes()), "{moved}");
        }
        for own in ["pier/gauge/Tide", "pier/shadedtide/Tide", "pier/shaded", "Tide"] {
            assert!(!is_moved(own.as_bytes()), "{own}");
        }
    }
}

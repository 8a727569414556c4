//! Which classes are the program's own, and not of the libraries that it brings.
//!
//! The first function to read is [`own_part`]. It judges by layout alone; names and owners of packages tell nothing.

use crate::archive::{Archive, ArchiveId, Kind};

use super::{ClassId, Program, View};

/// How the classes of an archive are the program's own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OwnPart {
    /// Below `WEB-INF/classes/` or the like, or a module of an enterprise archive: a container or framework looks through
    /// them for what it is to create (Servlet specification §8.1, Jakarta EE platform specification §8.3).
    Scanned,
    /// In a jar or class folder that the user named: nobody but the launcher need know them.
    Named,
}

impl OwnPart {
    /// Whether the layout shows that an archive which is own in this way is no library: what a container looks through, or a
    /// folder. Of jars it does not tell.
    pub fn is_by_layout(self, archive: &Archive) -> bool {
        self == OwnPart::Scanned || archive.kind == Kind::ClassFolder
    }
}

/// Whether and how an archive is the program's own part.
///
/// A jar that is nested, lies in a library folder, or is named by a manifest only is not; nor is the loader at the root
/// of an executable jar.
pub fn own_part(program: &Program, id: ArchiveId) -> Option<OwnPart> {
    let archive = program.archive(id)?;
    let parent = archive.parent.and_then(|parent| program.archive(parent));
    match (archive.kind, parent) {
        (Kind::InnerClasses, _) => Some(OwnPart::Scanned),
        (Kind::Jar | Kind::ClassFolder, None) => Some(OwnPart::Named),
        // Modules stand at the root unless a descriptor says otherwise, libraries in a folder.
        (Kind::Jar, Some(parent)) if parent.kind == Kind::Ear => {
            let start = parent.locator.as_str().len();
            let path = archive.locator.as_str().get(start..).and_then(|path| path.strip_prefix("!/"));
            path.is_some_and(|path| !path.contains('/')).then_some(OwnPart::Scanned)
        }
        _ => None,
    }
}

/// The program's own classes on the release of a view, in class path order, each with how it is its own.
pub fn own_classes(program: &Program, view: &View) -> Vec<(ClassId, OwnPart)> {
    let parts: Vec<Option<OwnPart>> =
        (0..program.archives.len() as u32).map(|number| own_part(program, ArchiveId(number))).collect();
    let part = |id: &ClassId| *parts.get(program.class(*id)?.archive.0 as usize)?;
    view.classes.iter().filter_map(|id| Some((*id, part(id)?))).collect()
}

//! Bytes to ordered units: archives, nested archives, folders, and what the JAR File Specification says about them.
//!
//! The first function to read is [`open`]. This stage knows paths, bytes and manifests; it knows nothing of class
//! files, platforms or releases. In particular it does not lay versioned entries over others: each of them is
//! listed with its version, since the release is chosen later, from what manifests and class files say;
//! [`effective`] is there for whoever has chosen.

mod apart;
pub(crate) mod bytes;
mod class_path;
mod enterprise;
mod fault;
mod findings;
mod folder;
mod index;
pub(crate) mod inflate;
mod layout;
mod manifest;
mod open;
mod overlay;
mod reader;
pub mod services;
mod unit;
pub(crate) mod xml;
pub(crate) mod zip;

use std::path::PathBuf;

use bytes::Bytes;
pub use manifest::{AGENTS, Manifest};
pub use open::open;
pub use overlay::{effective, effective_positions};
pub use reader::Reader;

use crate::diag::Diagnostic;
use crate::names::Locator;

/// Index of an archive in [`Archives::list`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ArchiveId(pub u32);

/// What an archive is, as far as its layout tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A jar whose classes stand at its root.
    Jar,
    /// A jar that carries nested jars and starts through a loader of its own (`Start-Class`).
    ExecutableJar,
    /// A web archive (Servlet specification §10.5).
    War,
    /// An enterprise archive (Jakarta EE platform specification ch. 8).
    Ear,
    /// A folder of class files on disk.
    ClassFolder,
    /// The class folder of a container archive, such as `WEB-INF/classes/`.
    InnerClasses,
}

/// The set of classes that see each other. Archives of scope 0 are seen by all; each web archive within an
/// enterprise archive has a scope of its own, so that a class in two of them is no duplicate.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Scope(pub u32);

/// One element of the class path: a jar, a class folder, the classes of a container.
pub struct Archive {
    /// Where it is.
    pub locator: Locator,
    /// What it is.
    pub kind: Kind,
    /// The archive that holds it, or whose manifest names it.
    pub parent: Option<ArchiveId>,
    /// Who else holds it or names it, in the order in which that was met; `None` for the user. It stands on the class path
    /// once, where it was met first.
    pub others: Vec<Option<ArchiveId>>,
    /// Whether its own classes can be loaded: false for the root of a web archive or enterprise archive.
    pub on_class_path: bool,
    /// Which other archives see its classes.
    pub scope: Scope,
    /// Its main section. A class folder may have one too, though the JVM reads none there.
    pub manifest: Option<Manifest>,
    /// The class that the class loader of a jar which is started starts in its turn, where a file beside it says so; a
    /// binary name.
    pub starts: Option<Box<str>>,
    /// All files of this archive in directory order (sorted by path in a folder), each path and version once, nested
    /// archives that became archives of their own excluded.
    pub entries: Vec<Entry>,
    /// Where its entries' bytes are.
    store: Store,
    /// For classes in a folder of an archive: where exactly.
    within: Option<Within>,
}

/// A folder of an archive that is an element of the class path by itself.
struct Within {
    container: Locator,
    /// With its `/`; may be empty.
    folder: Box<str>,
    /// What stands there for `.class`.
    ending: Option<Box<str>>,
}

/// Where the bytes of an archive's entries are.
enum Store {
    /// A whole ZIP file.
    Bytes(Bytes),
    /// Files below a folder.
    Folder(PathBuf),
}

/// One file of an archive.
#[derive(Clone, Debug)]
pub struct Entry {
    /// Path as the class loader sees it: without `META-INF/versions/N/` and without the prefix of an inner class
    /// folder. `com/acme/A.class`, `META-INF/services/java.sql.Driver`.
    pub path: Box<str>,
    /// The release of a versioned entry (`META-INF/versions/N/`, N ≥ 9); 0 in the base.
    pub version: u16,
    /// Bytes once inflated, as the directory states (not to be believed).
    pub size: u64,
    /// Where its bytes are.
    packed: zip::Packed,
}

impl Entry {
    /// Whether it is a class file that a class loader could be asked for. What lies below `META-INF/` is not, such as a
    /// versioned entry of a jar whose versions do not count.
    pub fn is_class(&self) -> bool {
        layout::is_class(&self.path) && !self.path.starts_with("META-INF/")
    }
}

impl Archive {
    /// Says that its file has been read, and that little of it will be asked for again.
    pub(crate) fn release(&self) {
        if let (None, Store::Bytes(bytes)) = (self.parent, &self.store) {
            bytes.release();
        }
    }

    /// Whether it has a module descriptor at its root (JLS §7.7).
    pub fn is_module(&self) -> bool {
        self.entries.iter().any(|entry| &*entry.path == "module-info.class")
    }

    /// A place on the class path of the same name where nothing is.
    #[must_use]
    pub fn vacated(&self) -> Archive {
        Archive {
            locator: self.locator.clone(),
            // What an archive's kind says of the program is not so once it is gone.
            kind: Kind::Jar,
            parent: self.parent,
            others: self.others.clone(),
            on_class_path: false,
            scope: self.scope,
            manifest: None,
            starts: None,
            entries: Vec::new(),
            store: Store::Folder(PathBuf::new()),
            within: None,
        }
    }

    /// The place of an entry as it stands in the input: with the prefixes that [`Entry::path`] lacks.
    pub fn locate(&self, entry: &Entry) -> Locator {
        let version = if entry.version > 0 { format!("META-INF/versions/{}/", entry.version) } else { String::new() };
        match &self.within {
            Some(Within { container, folder, ending }) => {
                let (stem, end) = match (ending, entry.path.strip_suffix(".class")) {
                    (Some(ending), Some(stem)) => (stem, &**ending),
                    _ => (&*entry.path, ""),
                };
                container.child(&format!("{folder}{version}{stem}{end}"))
            }
            None => self.locator.child(&format!("{version}{}", entry.path)),
        }
    }
}

/// Everything under analysis, in class path order.
pub struct Archives {
    /// Class path order; a parent stands before its children.
    pub list: Vec<Archive>,
    /// What was found amiss, in no particular order.
    pub diagnostics: Vec<Diagnostic>,
}

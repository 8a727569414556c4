//! Bytes to ordered units: archives, nested archives, folders, and what the JAR File Specification says about them.
//!
//! The first function to read is [`open`]. This stage knows paths, bytes and manifests; it knows nothing of class
//! files, platforms or releases. In particular it does not apply the multi-release overlay: every versioned entry is
//! listed with its version, since the release is chosen later, from what manifests and class files say.

use std::borrow::Cow;
use std::path::PathBuf;

use crate::diag::Diagnostic;
use crate::limits::Limits;
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
    /// Whether its own classes can be loaded: false for the root of a web archive or enterprise archive.
    pub on_class_path: bool,
    /// Which other archives see its classes.
    pub scope: Scope,
    /// The main section and the per-entry sections that matter.
    pub manifest: Option<Manifest>,
    /// All files of this archive in directory order, nested archives that became archives of their own excluded.
    pub entries: Vec<Entry>,
    // helper: private storage for the bytes (memory map, slice of a parent's map, owned inflated bytes, folder path)
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
    // helper: private: where the bytes are, method, compressed size, checksum
}

/// What the manifest's main section says (JAR File Specification; header names are case-insensitive).
#[derive(Clone, Debug, Default)]
pub struct Manifest {
    /// Main attributes in order of appearance: name as written, value with continuation lines joined.
    pub main: Vec<(Box<str>, Box<str>)>,
}

impl Manifest {
    /// The value of a main attribute, its name compared without case.
    pub fn get(&self, name: &str) -> Option<&str> {
        self.main.iter().find(|(key, _)| key.eq_ignore_ascii_case(name)).map(|(_, value)| &**value)
    }
}

/// Everything under analysis, in class path order.
pub struct Archives {
    /// Class path order; a parent stands before its children unless an index says otherwise.
    pub list: Vec<Archive>,
    /// What was found amiss, in no particular order.
    pub diagnostics: Vec<Diagnostic>,
}

/// Opens all inputs, in the order given, as one program.
///
/// An input that does not exist is [`crate::error::Error::Input`]; whatever else is wrong becomes a diagnostic.
pub fn open(inputs: &[PathBuf], limits: &Limits) -> Result<Archives, crate::error::Error> {
    todo!()
}

/// Reads entries of one archive; keeps the inflater and its buffer. One per thread.
pub struct Reader;

impl Reader {
    /// A reader that keeps to `limits`.
    pub fn new(limits: &Limits) -> Self {
        todo!()
    }

    /// The bytes of an entry: borrowed where stored, else from the reader's buffer until the next call.
    pub fn read<'a>(&'a mut self, archive: &'a Archive, entry: &Entry) -> Result<Cow<'a, [u8]>, Box<Diagnostic>> {
        todo!()
    }
}

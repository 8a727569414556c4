//! The program: the facts of all classes of all archives, merged in class path order.
//!
//! The first function to read is [`Program::read`], which knows no release: every versioned and every shadowed class
//! is in it. [`Program::view`] then shows what the class loader would see on one release (JAR File Specification,
//! versioned entries; first on the class path wins). What a class names is kept in full only where a platform module
//! other than java.base can be meant; for the rest it is enough to know that the name occurs.

mod code;
mod entry_points;
mod guards;
mod intern;
mod listed;
mod merge;
mod own_part;
mod read;
mod recorder;
mod release;
mod resources;
mod stretch;
mod summary;
mod view;
mod watch;

pub use code::{Action, Method, MethodId, MethodKind, Reference, Step, name_and_descriptor};
pub use entry_points::{EntryPoint, EntryPoints, Said, entry_points, names_a_start};
pub use guards::Guards;
pub use intern::{Interner, NameId};
pub use listed::{Listed, listed};
pub use own_part::{OwnPart, own_classes, own_part};
pub use release::{Choice, Wanted, choose};
pub use resources::{Properties, Property, ResourceKind, ResourceName, ResourceText, Resources};
pub use view::View;

use std::sync::Arc;

use crate::archive::{Archive, ArchiveId};
use crate::classfile::Position;
use crate::names::Locator;

use stretch::Stretch;

/// Index of a class in [`Program::classes`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ClassId(pub u32);

/// One class file.
#[derive(Clone, Debug)]
pub struct Class {
    /// The archive that holds it.
    pub archive: ArchiveId,
    /// Its entry in that archive.
    pub entry: u32,
    /// The release of a versioned entry; 0 in the base.
    pub version: u16,
    /// The name by which the class loader finds it: its path without `.class`.
    pub path: NameId,
    /// `this_class`; differs from `path` for a misplaced class.
    pub name: NameId,
    /// `super_class`, absent for `java/lang/Object` and for what could not be read.
    pub superclass: Option<NameId>,
    /// `interfaces`.
    pub interfaces: Box<[NameId]>,
    /// The class right around it, by `InnerClasses` or `EnclosingMethod` (JVMS §4.7.6, §4.7.7).
    pub enclosing: Option<NameId>,
    /// Access flags (JVMS table 4.1-B).
    pub access: u16,
    /// Class file version.
    pub major: u16,
    /// Minor version; 65535 marks preview features.
    pub minor: u16,
    /// Inflated bytes.
    pub size: u32,
    /// Its part of [`Program::mentions`].
    mentions: Stretch,
    /// Its part of [`Program::methods`].
    methods: Stretch,
    /// Its part of [`Program::types`].
    types: Stretch,
    /// Where the references of its chunk start in [`Program::references`].
    references: u32,
}

impl Class {
    /// Whether it is an interface (JVMS table 4.1-B).
    pub fn is_interface(&self) -> bool {
        self.access & 0x0200 != 0
    }

    /// Whether it is an enum (the same table).
    pub fn is_enum(&self) -> bool {
        self.access & 0x4000 != 0
    }

    /// The numbers of its methods, as positions in [`Program::methods`].
    pub fn methods(&self) -> std::ops::Range<usize> {
        self.methods.range()
    }
}

/// A place in a class that names a type which the platform holds or once held outside java.base.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Mention {
    /// The type, internal form, no array.
    pub target: NameId,
    /// Where in the class file.
    pub position: MentionKind,
    /// The field or method as `name` and descriptor joined, numbered in [`Program::members`].
    pub member: Option<NameId>,
    /// The method that it stands in, or the bootstrap method, or the annotations.
    pub method: Option<MethodId>,
    /// What the program does about its absence there.
    pub guard: Guard,
}

/// Which handlers around a place bear that a class is absent. Each that is told catches it and goes on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Guard {
    /// None.
    #[default]
    Open,
    /// Around a look-up by name or a text: one for `ClassNotFoundException` or a superclass, good for the absent class
    /// itself. Elsewhere: one for everything that passes over what it catches.
    LookUp,
    /// One for `NoClassDefFoundError` or `LinkageError` by name: good for all that happens in its range.
    Absence,
}

/// How a class mentions a type.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MentionKind {
    /// In one of the positions of the class file format.
    At(Position),
    /// As the text of a string constant, dotted or with slashes.
    Text,
}

/// Everything known of the program. What its classes say is shared with the same program short of some archives
/// ([`Program::without`]).
pub struct Program {
    /// Class path order.
    pub archives: Vec<Arc<Archive>>,
    /// Class names, internal form.
    pub names: Arc<Interner>,
    /// Members as `name` and descriptor joined.
    pub members: Arc<Interner>,
    /// All class files in class path order, shadowed and versioned ones included.
    pub classes: Arc<Vec<Class>>,
    /// Texts that the table of needs asks for, and paths of files in META-INF.
    pub texts: Arc<Interner>,
    /// Methods of all classes, class after class.
    pub methods: Arc<Vec<Method>>,
    mentions: Arc<Vec<Mention>>,
    /// Packed steps of all methods.
    steps: Arc<Vec<u32>>,
    /// What steps refer to, chunk after chunk.
    references: Arc<Vec<Reference>>,
    /// Types outside the platform that some class names by a class constant, each with the first class that does.
    pub named: Arc<Vec<(NameId, ClassId)>>,
    /// Types that classes name, class after class.
    types: Arc<Vec<NameId>>,
}

impl Program {
    /// The class of that number. Numbers come from this program only.
    pub fn class(&self, id: ClassId) -> Option<&Class> {
        self.classes.get(id.0 as usize)
    }

    /// The archive of that number.
    pub fn archive(&self, id: ArchiveId) -> Option<&Archive> {
        self.archives.get(id.0 as usize).map(|archive| &**archive)
    }

    /// The same program where some archives (by their numbers) are not there. Nothing is read again and numbers keep their
    /// meaning: the classes of those archives are still numbered, and no [`View`] of the new program has them.
    #[must_use]
    pub fn without(&self, gone: &[ArchiveId]) -> Program {
        let mut archives = self.archives.clone();
        for id in gone {
            if let Some(archive) = archives.get_mut(id.0 as usize) {
                *archive = Arc::new(archive.vacated());
            }
        }
        Program {
            archives,
            names: Arc::clone(&self.names),
            members: Arc::clone(&self.members),
            classes: Arc::clone(&self.classes),
            texts: Arc::clone(&self.texts),
            methods: Arc::clone(&self.methods),
            mentions: Arc::clone(&self.mentions),
            steps: Arc::clone(&self.steps),
            references: Arc::clone(&self.references),
            named: Arc::clone(&self.named),
            types: Arc::clone(&self.types),
        }
    }

    /// What a class names, ordered by target, position and member.
    pub fn mentions(&self, class: &Class) -> &[Mention] {
        class.mentions.of(&self.mentions)
    }

    /// Types of which the verifier may have something to ask while it follows a class: class constants, types of the
    /// fields used, and those in descriptors of call sites; each once, without those of java.base. The descriptors of
    /// its methods and of those that it calls are to be had from them.
    pub fn types(&self, class: &Class) -> &[NameId] {
        class.types.of(&self.types)
    }

    /// Where a class file is.
    pub fn locate(&self, class: &Class) -> Locator {
        match self.archive(class.archive) {
            Some(archive) => match archive.entries.get(class.entry as usize) {
                Some(entry) => archive.locate(entry),
                None => archive.locator.clone(),
            },
            None => Locator::of_path(std::path::Path::new("")),
        }
    }
}

//! What is known of the bytes of one platform's modules: enough to weigh any image of them without reading them again.
//!
//! The first type to read is [`Figures`]. Such a value is measured on a JDK, or was measured once and is built in. It is
//! also what the cache keeps, so everything in it can be written and read as JSON.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::options::Form;
use crate::platform::Section;

/// Figures of one JDK.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Figures {
    /// Feature release of the JDK: 17.
    pub release: u16,
    /// Version of its `java.base`, which the linker writes into an image's `release` file: `17.0.15`.
    pub version: String,
    /// Sorted by name.
    pub modules: Vec<ModuleFigures>,
    /// Names in the image's string table that several modules have; an image has each once.
    pub shared_names: Vec<Shared>,
    /// Nodes of packages that several modules have folders of.
    pub shared_packages: Vec<Shared>,
    /// In place of `shared_names` where classes share their texts: names and texts that several modules have. Empty
    /// where that was not measured.
    pub shared_texts: BTreeMap<Form, Vec<Shared>>,
    /// What the index of the JDK's own image comes to when compressed.
    pub index: IndexWire,
    /// What the linker writes by itself.
    pub linker: Linker,
    /// Startup archives, where measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub startup: Option<Startup>,
}

/// The startup archives of an image (JEP 310, JEP 341), with and without compressed pointers together. The VM makes them
/// from a list of classes, most of which are java.base's.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Startup {
    /// Of an image of java.base alone.
    pub least: Files,
    /// Of one with all classes on the list.
    pub most: Files,
}

/// Figures of one module.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ModuleFigures {
    /// `java.sql`.
    pub name: String,
    /// Classes and resources.
    pub entries: u64,
    /// Bytes in the image's index and tree: names, places, folders, packages. Not in it: what depends on the contents' sizes.
    pub index: u64,
    /// Sums over its classes and resources, for each form in which an image can hold them.
    pub classes: BTreeMap<Form, Stored>,
    /// Its files outside `lib/modules`, without the legal notices.
    pub files: BTreeMap<Section, Files>,
    /// Its legal notices.
    pub notices: Vec<Notice>,
    /// Names of its commands: `keytool`; without those that look into class files.
    pub commands: Vec<String>,
    /// Whether its descriptor names a main class, which gives it a class in the image (see `generated.rs`).
    pub has_main_class: bool,
    /// Bytes by language of what `--include-locales` can leave out, and the entries; only jdk.localedata has any.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub locales: BTreeMap<String, Locale>,
}

/// Contents in one form.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stored {
    /// As they lie in `lib/modules`.
    pub bytes: u64,
    /// Of the numbers in the index that tell their sizes.
    pub sizes: u64,
    /// Of texts that go to the image's string table; only where classes share texts.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub texts: u64,
    /// Those texts compressed by gzip, where measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub texts_gzip: Option<u64>,
    /// By zstd.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub texts_zstd: Option<u64>,
    /// Places of texts that occur once, counted as three bytes each; only where classes share texts.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub singles: u64,
    /// Bytes of those texts.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub single_texts: u64,
    /// Compressed once more by gzip at level 6, where measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gzip: Option<u64>,
    /// By zstd at level 3, where measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zstd: Option<u64>,
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "the signature is serde's")]
fn is_zero(value: &u64) -> bool {
    *value == 0
}

/// Files of one section.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Files {
    /// How many.
    pub count: u64,
    /// Their bytes.
    pub bytes: u64,
    /// As part of an archive compressed by gzip at level 6.
    pub gzip: u64,
    /// By zstd at level 3.
    pub zstd: u64,
}

/// A legal notice; of equal ones with one name an image has the first, the others are links to it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Notice {
    /// `LICENSE`.
    pub name: String,
    /// Stands for its contents: equal numbers, equal contents.
    pub content: u32,
    /// Its bytes, and what it comes to when compressed.
    pub files: Files,
}

/// What jdk.localedata has for one language.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Locale {
    /// Classes and resources.
    pub entries: u64,
    /// Bytes of the index.
    pub index: u64,
    /// In each form.
    pub classes: BTreeMap<Form, Stored>,
}

/// Bytes that each of several modules has, and an image of several of them has once.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Shared {
    /// Indices in [`Figures::modules`], rising; in a [`super::Model`] places in the catalogue.
    pub modules: Vec<u16>,
    /// Counted in each of them.
    pub bytes: u64,
}

/// The index of a whole image, to tell how well such a thing compresses.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct IndexWire {
    /// As it is.
    pub bytes: u64,
    /// By gzip at level 6.
    pub gzip: u64,
    /// By zstd at level 3.
    pub zstd: u64,
}

/// What a JDK's linker does in its own way.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Linker {
    /// Whether it links from packaged modules; otherwise from the run-time image itself (JEP 493).
    pub packaged: bool,
    /// Whether a class without debug data gets a constant pool of its own; otherwise it keeps the old one.
    pub fresh_pool: bool,
    /// Whether it takes `--compress=zip-0` to `zip-9`; otherwise 0, 1 and 2.
    pub zip_levels: bool,
    /// Bytes of `lib/jvm.cfg`, where it tells of one VM, and what it has when others are left out.
    pub vm_list: Option<(u64, u64)>,
}

impl ModuleFigures {
    /// Its part of the index where its contents are held in this form; the place of the module's name and those of the
    /// contents, which depend on the other modules, taken as seven bytes an entry.
    pub(super) fn index_with(&self, stored: &Stored) -> u64 {
        self.index + stored.sizes + stored.texts + 7 * self.entries
    }
}

impl Figures {
    /// The figures of the module of that name.
    pub fn module(&self, name: &str) -> Option<&ModuleFigures> {
        self.modules.get(self.place(name)?)
    }

    pub(super) fn place(&self, name: &str) -> Option<usize> {
        self.modules.binary_search_by(|module| (*module.name).cmp(name)).ok()
    }

    /// The legal notices of a module that are no links to those of java.base.
    pub(super) fn own_notices<'f>(&'f self, module: &'f ModuleFigures) -> impl Iterator<Item = &'f Notice> {
        let base = self.module("java.base").filter(|base| base.name != module.name);
        let of_base = base.map(|base| &*base.notices).unwrap_or_default();
        let same = |one: &Notice, other: &Notice| one.name == other.name && one.content == other.content;
        module.notices.iter().filter(move |notice| !of_base.iter().any(|other| same(notice, other)))
    }

    /// Whether contents were measured in this form, over the wire too.
    pub fn measured(&self, form: Form) -> bool {
        self.modules.iter().all(|module| module.classes.get(&form).is_some_and(|stored| stored.gzip.is_some()))
    }
}

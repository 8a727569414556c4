//! The files of a JDK's modules, as the linker takes them: classes and resources, and what lies beside them (JEP 261).
//!
//! For whoever weighs an image; a scan never reads them. The first function to read is [`Catalogue::files`].

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::jimage::{Image, ImageEntry};
use super::jmod::Jmod;
use super::linkable::{self, LIST_FOLDER};
use super::store::Store;
use super::{Catalogue, Source};
use crate::archive::zip::{Method, Packed};
use crate::error::Error;
use crate::names::decode_mutf8;

/// The sections of a packaged module (JEP 261), by the folder that each fills in an image (JEP 220).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Section {
    /// Classes and resources: entries of `lib/modules`.
    Classes,
    /// Commands: `bin/`.
    Bin,
    /// Configuration: `conf/`.
    Conf,
    /// Header files: `include/`.
    Include,
    /// Legal notices: `legal/MODULE/`.
    Legal,
    /// Native libraries and data files: `lib/`.
    Lib,
    /// Manual pages: `man/`.
    Man,
}

impl Section {
    fn of_folder(name: &str) -> Option<Section> {
        Some(match name {
            "classes" => Section::Classes,
            "bin" => Section::Bin,
            "conf" => Section::Conf,
            "include" => Section::Include,
            "legal" => Section::Legal,
            "lib" => Section::Lib,
            "man" => Section::Man,
            _ => return None,
        })
    }
}

/// One file of a module.
#[derive(Clone)]
pub struct ModuleFile<'a> {
    /// Where it belongs.
    pub section: Section,
    /// Below its section, and for a legal notice below the folder of its module: `java/lang/Object.class`, `LICENSE`.
    pub path: Cow<'a, str>,
    /// Bytes once inflated.
    pub size: u64,
    /// Length of its DEFLATE stream, where it lies in a packaged module that way.
    pub deflated: Option<u64>,
    place: Place<'a>,
}

#[derive(Clone)]
enum Place<'a> {
    Jmod(&'a Jmod, Packed),
    Image(&'a Image, ImageEntry<'a>),
    Disk(PathBuf),
}

impl<'a> ModuleFile<'a> {
    /// The classes and resources of a module in an image, in the order of their places; damaged entries are left out.
    pub fn classes_of(image: &'a Image, module: &str) -> Vec<ModuleFile<'a>> {
        let mut entries: Vec<_> = image.entries().filter_map(Result::ok).collect();
        entries.retain(|entry| entry.module == module.as_bytes() && entry.parent != LIST_FOLDER.as_bytes());
        entries.sort_by_key(ImageEntry::place);
        entries.into_iter().map(|entry| ModuleFile::of_entry(image, entry)).collect()
    }

    fn of_entry(image: &'a Image, entry: ImageEntry<'a>) -> ModuleFile<'a> {
        ModuleFile {
            section: Section::Classes,
            path: Cow::Owned(decode_mutf8(&entry.path()).into_owned()),
            size: entry.size,
            deflated: None,
            place: Place::Image(image, entry),
        }
    }

    /// Its bytes; the error is a reason without the path.
    pub fn read(&self) -> Result<Cow<'a, [u8]>, String> {
        match &self.place {
            Place::Jmod(jmod, packed) => jmod.read(packed).map(Cow::Owned),
            Place::Image(image, entry) => image.read(entry),
            Place::Disk(path) => fs::read(path).map(Cow::Owned).map_err(|error| error.to_string()),
        }
    }
}

impl Catalogue {
    /// The files of every module, in the order of [`Catalogue::modules`]; those of one module in the order in which its
    /// packaged form or its image has them.
    ///
    /// `None` for a built-in catalogue, and for a JDK that has neither packaged modules nor the lists of JEP 493: such
    /// a JDK cannot link, and nothing tells which file belongs to which module. [`Error::Jdk`] names what cannot be read.
    pub fn files(&self) -> Result<Option<Vec<Vec<ModuleFile<'_>>>>, Error> {
        let Source::Jdk { home, .. } = &self.source else { return Ok(None) };
        match &self.store {
            Store::Table(_) => Ok(None),
            Store::Jmods(jmods) => {
                let of_module = |module: &super::Module| {
                    let jmod = jmods.files.iter().find(|jmod| jmod.module.name == module.name);
                    jmod.map(packaged).unwrap_or_default()
                };
                Ok(Some(self.modules.iter().map(of_module).collect()))
            }
            Store::Image(image) => self
                .linkable(image, home)
                .map_err(|reason| Error::Jdk { path: home.clone(), reason: format!("lib/modules: {reason}") }),
        }
    }

    /// Whether its linker works from the run-time image itself, since the JDK has no packaged modules (JEP 493).
    pub fn is_linked_from_image(&self) -> bool {
        matches!(self.store, Store::Image(_))
    }

    /// The run-time image of the JDK itself, where it is one on disk and has one that can be read.
    pub fn own_image(&self) -> Option<Image> {
        let Source::Jdk { home, .. } = &self.source else { return None };
        Image::open(&home.join("lib").join("modules")).ok()
    }

    fn linkable<'a>(&self, image: &'a Image, home: &Path) -> Result<Option<Vec<Vec<ModuleFile<'a>>>>, String> {
        let mut found: BTreeMap<String, Vec<ModuleFile<'a>>> = BTreeMap::new();
        let mut entries = image.entries().collect::<Result<Vec<_>, _>>()?;
        entries.retain(|entry| !entry.is_pseudo() && entry.parent != LIST_FOLDER.as_bytes());
        entries.sort_by_key(ImageEntry::place);
        for entry in entries {
            let module = decode_mutf8(entry.module).into_owned();
            found.entry(module).or_default().push(ModuleFile::of_entry(image, entry));
        }
        let mut modules = Vec::with_capacity(self.modules.len());
        for module in &self.modules {
            let mut files = found.remove(&*module.name).unwrap_or_default();
            let Some(listed) = linkable::list(image, &module.name)? else { return Ok(None) };
            for (section, path) in listed {
                let place = home.join(&path);
                let Ok(metadata) = fs::metadata(&place) else { return Ok(None) };
                let (_, below) = path.split_once('/').unwrap_or(("", &path));
                let below = below.strip_prefix(&*module.name).and_then(|rest| rest.strip_prefix('/')).unwrap_or(below);
                files.push(ModuleFile {
                    section,
                    path: Cow::Owned(below.to_owned()),
                    size: metadata.len(),
                    deflated: None,
                    place: Place::Disk(place),
                });
            }
            modules.push(files);
        }
        Ok(Some(modules))
    }
}

fn packaged(jmod: &Jmod) -> Vec<ModuleFile<'_>> {
    let file = |(name, packed): &'_ (Box<str>, Packed)| {
        let (folder, path) = name.split_once('/')?;
        Some(ModuleFile {
            section: Section::of_folder(folder)?,
            path: Cow::Owned(path.to_owned()),
            size: packed.size,
            deflated: (packed.method == Method::Deflated).then_some(packed.compressed),
            place: Place::Jmod(jmod, *packed),
        })
    };
    jmod.members.iter().filter_map(file).collect()
}

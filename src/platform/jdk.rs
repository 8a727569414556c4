//! A JDK on disk as a [`Catalogue`].
//!
//! The first function to read is `read`. Descriptors and names are read at once; a class file is read only when
//! somebody asks for its supertypes.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::jimage::Image;
use super::jmod::Jmod;
use super::linkable::{self, LIST_FOLDER};
use super::store::Store;
use super::{Catalogue, Module, PlatformType, Sections, Source, class_head, descriptor, release_file};
use crate::archive::zip::Packed;
use crate::error::Error;
use crate::names::{decode_mutf8, package_of};

/// Reads the JDK at `home`: packaged modules where it has them, since the linker takes those, else its own image.
pub(super) fn read(home: &Path) -> Result<Catalogue, Error> {
    let fault = |file: &Path, reason: String| Error::Jdk {
        path: home.to_owned(),
        reason: format!("{}: {reason}", file.strip_prefix(home).unwrap_or(file).display()),
    };
    let path = home.join("release");
    let text = fs::read_to_string(&path).map_err(|error| fault(&path, error.to_string()))?;
    let release = release_file::read(&text).map_err(|reason| fault(&path, reason))?;
    let source = Source::Jdk { home: home.to_owned(), version: release.version, vendor: release.vendor };
    let jmods = home.join("jmods");
    let (modules, store) = if jmods.join("java.base.jmod").is_file() {
        let (modules, classes) = read_jmods(&jmods).map_err(|(file, reason)| fault(&file, reason))?;
        (modules, Store::Jmods(classes))
    } else {
        let path = home.join("lib").join("modules");
        let image = Image::open(&path).map_err(|reason| fault(&path, reason))?;
        let modules = read_image(&image, home).map_err(|reason| fault(&path, reason))?;
        (modules, Store::Image(image))
    };
    Catalogue::assemble(release.feature, source, modules, store)
        .map_err(|reason| Error::Jdk { path: home.to_owned(), reason })
}

/// The classes of packaged modules.
pub(super) struct JmodClasses {
    pub(super) files: Vec<Jmod>,
    /// Internal class name to file and place.
    places: FxHashMap<Box<str>, (usize, Packed)>,
}

impl JmodClasses {
    pub(super) fn contains(&self, class: &[u8]) -> bool {
        std::str::from_utf8(class).is_ok_and(|class| self.places.contains_key(class))
    }

    /// Internal names of all classes.
    #[cfg(feature = "catalogue")]
    #[allow(clippy::iter_over_hash_type, reason = "the only caller sorts")]
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.places.keys().map(AsRef::as_ref)
    }

    pub(super) fn platform_type(&self, class: &[u8]) -> Option<PlatformType> {
        let (file, packed) = self.places.get(std::str::from_utf8(class).ok()?)?;
        let bytes = self.files.get(*file)?.read(packed).ok()?;
        class_head::read(&bytes).ok()
    }
}

type FileFault = (PathBuf, String);

fn read_jmods(folder: &Path) -> Result<(Vec<Module>, JmodClasses), FileFault> {
    let list = fs::read_dir(folder).map_err(|error| (folder.to_owned(), error.to_string()))?;
    let mut paths = Vec::new();
    for entry in list {
        let path = entry.map_err(|error| (folder.to_owned(), error.to_string()))?.path();
        if path.extension().is_some_and(|extension| extension == "jmod") {
            paths.push(path);
        }
    }
    paths.sort();
    let files: Vec<Jmod> = paths
        .par_iter()
        .map(|path| Jmod::open(path).map_err(|reason| (path.clone(), reason)))
        .collect::<Result<_, FileFault>>()?;
    let mut places = FxHashMap::default();
    for (index, file) in files.iter().enumerate() {
        places.extend(file.classes().map(|(class, packed)| (class.into(), (index, *packed))));
    }
    let modules =
        files.iter().map(|file| complete(file.module.clone(), file.classes().map(|(class, _)| class.as_bytes())));
    Ok((modules.collect(), JmodClasses { files, places }))
}

fn read_image(image: &Image, home: &Path) -> Result<Vec<Module>, String> {
    let mut sizes: BTreeMap<&[u8], Sections> = BTreeMap::new();
    let mut classes: BTreeMap<&[u8], Vec<Vec<u8>>> = BTreeMap::new();
    for entry in image.entries() {
        let entry = entry?;
        if entry.is_pseudo() {
            continue;
        }
        // What the linker adds for itself is in no packaged module.
        if entry.parent != LIST_FOLDER.as_bytes() {
            let sections = sizes.entry(entry.module).or_default();
            sections.entries += 1;
            sections.classes = sections.classes.saturating_add(entry.size);
        }
        if entry.extension == b"class" {
            classes.entry(entry.module).or_default().push(entry.path());
        }
    }
    sizes
        .into_iter()
        .map(|(name, sections)| {
            let name = decode_mutf8(name);
            let whole = |reason: String| format!("module-info.class of {name}: {reason}");
            let entry = image.find(&name, b"module-info.class").ok_or_else(|| whole("it is missing".into()))?;
            let bytes = image.read(&entry).map_err(whole)?;
            let mut module = descriptor::read(&bytes).map_err(whole)?;
            if *module.name != *name {
                return Err(whole(format!("it describes {}", module.name)));
            }
            module.sections = linkable::sections(image, home, &name, sections)?;
            let classes = classes.get(name.as_bytes()).map(Vec::as_slice).unwrap_or_default();
            Ok(complete(module, classes.iter().map(Vec::as_slice)))
        })
        .collect()
}

/// Fills the packages in from the classes where the descriptor does not list them: `ModulePackages` is optional
/// (JVMS §4.7.26), though the JDK's own tools always write it.
fn complete<'a>(mut module: Module, classes: impl Iterator<Item = &'a [u8]>) -> Module {
    if module.packages.is_empty() {
        module.packages = classes
            .map(package_of)
            .filter(|package| !package.is_empty())
            .map(|package| decode_mutf8(package).into())
            .collect();
        module.packages.sort_unstable();
        module.packages.dedup();
    }
    module
}

/// Whether an image has a class.
pub(super) fn image_contains(image: &Image, module: &str, class: &[u8]) -> bool {
    image.find(module, &class_path(class)).is_some()
}

/// The head of a class of an image.
pub(super) fn image_type(image: &Image, module: &str, class: &[u8]) -> Option<PlatformType> {
    let entry = image.find(module, &class_path(class))?;
    class_head::read(&image.read(&entry).ok()?).ok()
}

fn class_path(class: &[u8]) -> Vec<u8> {
    [class, b".class"].concat()
}

/// Internal names of all classes of an image.
#[cfg(feature = "catalogue")]
pub(super) fn image_classes(image: &Image) -> Vec<Box<str>> {
    let classes =
        image.entries().filter_map(Result::ok).filter(|entry| !entry.is_pseudo() && entry.extension == b"class");
    classes.map(|entry| decode_mutf8(&entry.path()).trim_end_matches(".class").into()).collect()
}

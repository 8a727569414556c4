//! The symbol file of a JDK (JEP 247): the API of past releases as class files without code.
//!
//! Entries are named `<letters>/<module>/<class>.sig`; each letter is a release in base 36 for which the entry holds
//! (`8`, `9`, `A` for 10 …). Its descriptors leave out packages that are not exported, and services that only another
//! operating system has may appear as whichever build was recorded had them.

use std::collections::BTreeMap;
use std::fs::File;
use std::path::Path;
use std::rc::Rc;

use crate::archive::bytes::Bytes;
use crate::archive::inflate::{Cap, Inflater};
use crate::archive::zip::Directory;
use crate::limits::Limits;
use crate::platform::{Module, PlatformType, class_head, descriptor};

/// What the file knows, by release.
pub(super) struct Symbols {
    pub(super) releases: BTreeMap<u16, Release>,
}

/// The API of one release.
#[derive(Default)]
pub(super) struct Release {
    /// By name; packages are the exported ones. Release 8 has none.
    pub(super) modules: BTreeMap<Box<str>, Module>,
    /// By internal name.
    pub(super) types: BTreeMap<Box<str>, Symbol>,
}

/// A type of the API.
#[derive(Clone)]
pub(super) struct Symbol {
    pub(super) module: Box<str>,
    pub(super) facts: Rc<PlatformType>,
}

impl Symbols {
    pub(super) fn read(path: &Path) -> Result<Symbols, String> {
        let fault = |what: &str, reason: String| format!("{}: {what}: {reason}", path.display());
        let file = File::open(path).map_err(|error| fault("open", error.to_string()))?;
        let bytes = Bytes::map(&file).map_err(|error| fault("map", error.to_string()))?;
        let limits = Limits::default();
        let directory = Directory::read(&bytes, &limits).map_err(|damage| fault("directory", damage.reason))?;
        let mut inflater = Inflater::new();
        let mut releases: BTreeMap<u16, Release> = BTreeMap::new();
        for member in &directory.members {
            let name = &*member.name;
            let mut parts = name.splitn(3, '/');
            let (Some(letters), Some(module), Some(rest)) = (parts.next(), parts.next(), parts.next()) else {
                continue;
            };
            let Some(class) = rest.strip_suffix(".sig") else { continue };
            let bytes = inflater
                .read(&bytes, &member.packed, Cap::entry(&limits))
                .map_err(|damage| fault(name, damage.reason))?;
            let numbers =
                letters.chars().filter_map(|letter| letter.to_digit(36)).filter_map(|n| u16::try_from(n).ok());
            if class == "module-info" {
                let module = descriptor::read(bytes).map_err(|reason| fault(name, reason))?;
                for number in numbers {
                    releases.entry(number).or_default().modules.insert(module.name.clone(), module.clone());
                }
            } else {
                let facts = Rc::new(class_head::read(bytes).map_err(|reason| fault(name, reason))?);
                let symbol = Symbol { module: module.into(), facts };
                for number in numbers {
                    releases.entry(number).or_default().types.insert(class.into(), symbol.clone());
                }
            }
        }
        Ok(Symbols { releases })
    }

    /// The packages of all types.
    pub(super) fn packages(&self) -> impl Iterator<Item = Box<str>> {
        let types = self.releases.values().flat_map(|release| release.types.keys());
        types.filter_map(|class| Some(class.rsplit_once('/')?.0.into()))
    }
}

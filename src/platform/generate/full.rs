//! A JDK at hand, every class of it read.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use crate::platform::{Catalogue, Module, PlatformType, Source};

/// All facts of one JDK.
pub(super) struct Full {
    pub(super) home: PathBuf,
    pub(super) version: String,
    pub(super) catalogue: Catalogue,
    /// All types by internal name.
    pub(super) types: BTreeMap<Box<str>, PlatformType>,
}

impl Full {
    pub(super) fn read(home: &Path) -> Result<Full, String> {
        let catalogue = Catalogue::of_jdk(home).map_err(|error| error.to_string())?;
        let Source::Jdk { version, .. } = catalogue.source.clone() else { return Err("it is no JDK".into()) };
        let types = catalogue
            .store
            .classes()
            .into_par_iter()
            .filter(|class| !class.ends_with("module-info"))
            .map(|class| match catalogue.platform_type(class.as_bytes()) {
                Some(facts) => Ok((class, facts)),
                None => Err(format!("{}: {class} cannot be read", home.display())),
            })
            .collect::<Result<_, String>>()?;
        Ok(Full { home: home.to_owned(), version, catalogue, types })
    }

    pub(super) fn module(&self, name: &str) -> Option<&Module> {
        self.catalogue.modules.get(usize::from(self.catalogue.module(name)?.0))
    }

    pub(super) fn release(&self) -> u16 {
        self.catalogue.release
    }
}

//! Bytes of a run-time image, from the section sizes of its modules.
//!
//! The sizes are those of the packaged modules (JEP 261), inflated: what the linker writes when it neither compresses
//! nor strips. The index of the image file and the legal notices that become links are not yet accounted for, so a
//! total is a few per cent off; nothing here is ever guessed where a size is not known.

use crate::platform::{Module, ModuleId, Sections};

/// Bytes of one module by where they end up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Weight {
    /// Classes and resources, within the run-time image file.
    pub classes: u64,
    /// Native libraries and data files.
    pub lib: u64,
    /// Commands, configuration, headers, legal notices and manual pages.
    pub other: u64,
}

impl Weight {
    /// All bytes.
    pub fn total(self) -> u64 {
        self.classes + self.lib + self.other
    }
}

impl From<Sections> for Weight {
    fn from(sections: Sections) -> Self {
        Weight {
            classes: sections.classes,
            lib: sections.lib,
            other: sections.bin + sections.conf + sections.include + sections.legal + sections.man,
        }
    }
}

/// A sum over modules, and which of them could not be weighed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Total {
    /// Bytes of the modules whose size is known.
    pub bytes: u64,
    /// Modules whose size is not known, in the order given.
    pub unknown: Vec<ModuleId>,
}

impl Total {
    /// The sum, where every module is known.
    pub fn exact(&self) -> Option<u64> {
        self.unknown.is_empty().then_some(self.bytes)
    }
}

/// Sums modules of one platform.
pub fn total(modules: &[Module], selected: impl IntoIterator<Item = ModuleId>) -> Total {
    let mut total = Total::default();
    for id in selected {
        match modules.get(usize::from(id.0)).and_then(|module| module.sections) {
            Some(sections) => total.bytes += Weight::from(sections).total(),
            None => total.unknown.push(id),
        }
    }
    total
}

//! Packaged modules (`jmods/*.jmod`, JEP 261): four bytes, then a ZIP file whose top folders are the sections.
//!
//! The first function to read is [`Jmod::open`].

use std::fs::File;
use std::path::Path;

use super::{Module, Sections, descriptor};
use crate::archive::bytes::Bytes;
use crate::archive::inflate::{Cap, Inflater};
use crate::archive::zip::{Directory, Packed};
use crate::limits::Limits;

/// `JM`, major version 1, minor version 0.
const PREFIX: [u8; 4] = [0x4A, 0x4D, 0x01, 0x00];
const CLASSES: &str = "classes/";
const DESCRIPTOR: &str = "classes/module-info.class";

/// One packaged module.
pub struct Jmod {
    bytes: Bytes,
    /// Its descriptor and the sizes of its sections.
    pub(super) module: Module,
    /// All files, their section as the first folder of the name, in directory order.
    pub(super) members: Vec<(Box<str>, Packed)>,
}

impl Jmod {
    /// Maps a file and reads its directory and descriptor. The error is a reason without the path.
    pub fn open(path: &Path) -> Result<Jmod, String> {
        let file = File::open(path).map_err(|error| error.to_string())?;
        let bytes = Bytes::map(&file).map_err(|error| error.to_string())?;
        if bytes.get(..PREFIX.len()) != Some(&PREFIX) {
            return Err("it does not begin as a packaged module of version 1.0 does".into());
        }
        let limits = Limits::default();
        let directory = Directory::read(&bytes, &limits).map_err(|fault| fault.reason)?;
        if let Some((name, fault)) = directory.faults.first() {
            return Err(match name {
                Some(name) => format!("entry {name}: {}", fault.reason),
                None => fault.reason.clone(),
            });
        }
        let mut sections = Sections::default();
        let mut members = Vec::new();
        let mut info = None;
        for member in directory.members.iter().filter(|member| !member.is_folder()) {
            let name = &*member.name;
            sections.add(name, member.packed.size);
            if name == DESCRIPTOR {
                info = Some(member.packed);
            }
            members.push((name.into(), member.packed));
        }
        let info = info.ok_or_else(|| format!("it has no entry {DESCRIPTOR}"))?;
        let mut inflater = Inflater::new();
        let descriptor = inflater
            .read(&bytes, &info, Cap::entry(&limits))
            .map_err(|fault| format!("{DESCRIPTOR}: {}", fault.reason))?;
        let mut module = descriptor::read(descriptor).map_err(|reason| format!("{DESCRIPTOR}: {reason}"))?;
        module.sections = Some(sections);
        Ok(Jmod { bytes, module, members })
    }

    /// The descriptor, with section sizes.
    pub fn module(&self) -> &Module {
        &self.module
    }

    /// Names of all files as the archive has them: `classes/java/lang/Object.class`, `lib/libjava.so`.
    pub fn entries(&self) -> impl Iterator<Item = &str> {
        self.members.iter().map(|(name, _)| &**name)
    }

    /// Internal names of its classes, the descriptor left out, and where their bytes are.
    pub(super) fn classes(&self) -> impl Iterator<Item = (&str, &Packed)> {
        self.members.iter().filter(|(name, _)| &**name != DESCRIPTOR).filter_map(|(name, packed)| {
            let class = name.strip_prefix(CLASSES)?.strip_suffix(".class")?;
            Some((class, packed))
        })
    }

    /// The bytes of a file.
    pub(super) fn read(&self, packed: &Packed) -> Result<Vec<u8>, String> {
        let cap = Cap::entry(&Limits::default());
        Inflater::new().read_owned(&self.bytes, packed, cap).map_err(|fault| fault.reason)
    }
}

impl Sections {
    /// Counts a file of a packaged module by the first folder of its name.
    fn add(&mut self, name: &str, size: u64) {
        let section = match name.split('/').next().unwrap_or_default() {
            "classes" => {
                self.entries += 1;
                &mut self.classes
            }
            "bin" => &mut self.bin,
            "conf" => &mut self.conf,
            "include" => &mut self.include,
            "legal" => &mut self.legal,
            "lib" => &mut self.lib,
            "man" => &mut self.man,
            _ => return,
        };
        *section = section.saturating_add(size);
    }
}

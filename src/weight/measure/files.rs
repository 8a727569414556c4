//! What a module has outside the run-time image file: sections, legal notices, commands, and their way over the wire.
//!
//! The first functions to read are [`sections`] and [`wires`].

use std::cell::RefCell;
use std::collections::BTreeMap;

use rustc_hash::FxHashMap;
use sha2::{Digest, Sha256};

use super::squeeze::Wire;
use crate::platform::{Catalogue, ModuleFile, Section, Source};
use crate::weight::figures::{Files, IndexWire, ModuleFigures, Notice, Startup};

/// A tar archive is a row of such blocks: one as a header before each file, the file's bytes, zeros to the next block.
const BLOCK: usize = 512;

/// Counts and bytes by section; legal notices and classes are counted elsewhere.
pub(super) fn sections(files: &[ModuleFile<'_>]) -> BTreeMap<Section, Files> {
    let mut sections: BTreeMap<Section, Files> = BTreeMap::new();
    for file in files.iter().filter(|file| file.section != Section::Legal) {
        let section = sections.entry(file.section).or_default();
        section.count += 1;
        section.bytes += file.size;
    }
    sections
}

/// Names of a module's commands, without the ending that they have on Windows.
pub(super) fn commands(module: &str, files: &[ModuleFile<'_>]) -> Vec<String> {
    // Its commands look into class files that somebody builds: neither an image nor whoever runs it asks for them.
    if module == "jdk.jdeps" {
        return Vec::new();
    }
    let commands = files.iter().filter(|file| file.section == Section::Bin && !file.path.contains('/'));
    let mut names: Vec<String> = commands
        .filter(|file| !file.path.ends_with(".dll"))
        .map(|file| file.path.strip_suffix(".exe").unwrap_or(&file.path).to_owned())
        .collect();
    names.sort();
    names
}

/// Numbers for the contents of legal notices, equal for equal contents.
#[derive(Default)]
pub(super) struct Contents {
    known: RefCell<FxHashMap<[u8; 32], u32>>,
}

impl Contents {
    /// The notices of a module; the error names the file.
    pub(super) fn of(&self, files: &[ModuleFile<'_>]) -> Result<Vec<Notice>, String> {
        let mut notices = Vec::new();
        for file in files.iter().filter(|file| file.section == Section::Legal) {
            let bytes = file.read().map_err(|reason| format!("legal/{}: {reason}", file.path))?;
            let mut known = self.known.borrow_mut();
            let next = u32::try_from(known.len()).unwrap_or(u32::MAX);
            let content = *known.entry(Sha256::digest(&bytes).into()).or_insert(next);
            let files = Files { count: 1, bytes: bytes.len() as u64, ..Files::default() };
            notices.push(Notice { name: file.path.clone().into_owned(), content, files });
        }
        Ok(notices)
    }
}

/// Bytes of `lib/jvm.cfg` as it is, and as the linker writes it for one VM: a line for that one.
pub(super) fn vm_list(files: &[ModuleFile<'_>]) -> Result<Option<(u64, u64)>, String> {
    const ONE_VM: &str = "-server KNOWN\n";
    let list = files.iter().find(|file| file.section == Section::Lib && file.path == "jvm.cfg");
    let Some(list) = list else { return Ok(None) };
    let bytes = list.read().map_err(|reason| format!("lib/jvm.cfg: {reason}"))?;
    // Where there are several, leaving one out takes its library too, of which nothing is known here.
    let vms = files.iter().filter(|file| file.section == Section::Lib && file.path.ends_with("/libjvm.so")).count();
    Ok((vms == 1).then_some((bytes.len() as u64, ONE_VM.len() as u64)))
}

/// The startup archives that a JDK came with: what its linker makes has about their size. What they come to over the wire
/// is not known then.
pub(super) fn own_startup(catalogue: &Catalogue) -> Option<Startup> {
    let Source::Jdk { home, .. } = &catalogue.source else { return None };
    let of = |name: &str| std::fs::metadata(home.join("lib/server").join(name)).ok().map(|file| file.len());
    let files = Files { count: 2, bytes: of("classes.jsa")? + of("classes_nocoops.jsa")?, ..Files::default() };
    Some(Startup { least: files, most: files })
}

/// The startup archives of a linked image.
#[cfg(feature = "catalogue")]
pub(in crate::weight) fn startup_of(image: &std::path::Path) -> Result<Files, String> {
    let mut files = Files::default();
    let io = |error: std::io::Error| error.to_string();
    for name in ["classes.jsa", "classes_nocoops.jsa"] {
        let bytes = std::fs::read(image.join("lib/server").join(name)).map_err(io)?;
        let mut wire = Wire::new().map_err(io)?;
        archive(&mut wire, name, &bytes).map_err(io)?;
        let (gzip, zstd) = wire.finish().map_err(io)?;
        files = Files {
            count: files.count + 1,
            bytes: files.bytes + bytes.len() as u64,
            gzip: files.gzip + gzip,
            zstd: files.zstd + zstd,
        };
    }
    Ok(files)
}

/// An image's index over the wire.
pub(super) fn index_wire(index: &[u8]) -> std::io::Result<IndexWire> {
    let mut wire = Wire::new()?;
    wire.write(index)?;
    let (gzip, zstd) = wire.finish()?;
    Ok(IndexWire { bytes: index.len() as u64, gzip, zstd })
}

/// One module's files over the wire.
pub(super) struct Wires {
    sections: BTreeMap<Section, (u64, u64)>,
    /// In the order of the module's notices.
    notices: Vec<(u64, u64)>,
}

impl Wires {
    /// Fills in what was not measured before.
    pub(super) fn give_to(self, module: &mut ModuleFigures) {
        for (section, (gzip, zstd)) in self.sections {
            let files = module.files.entry(section).or_default();
            (files.gzip, files.zstd) = (gzip, zstd);
        }
        for (notice, (gzip, zstd)) in module.notices.iter_mut().zip(self.notices) {
            (notice.files.gzip, notice.files.zstd) = (gzip, zstd);
        }
    }
}

/// Compresses a module's files as parts of a tar archive. The error names the file.
pub(super) fn wires(files: &[ModuleFile<'_>]) -> Result<Wires, String> {
    let mut wires = Wires { sections: BTreeMap::new(), notices: Vec::new() };
    let mut streams: BTreeMap<Section, Wire> = BTreeMap::new();
    let io = |error: std::io::Error| error.to_string();
    for file in files {
        let bytes = file.read().map_err(|reason| format!("{}: {reason}", file.path))?;
        if file.section == Section::Legal {
            let mut wire = Wire::new().map_err(io)?;
            archive(&mut wire, &file.path, &bytes).map_err(io)?;
            wires.notices.push(wire.finish().map_err(io)?);
            continue;
        }
        let wire = match streams.entry(file.section) {
            std::collections::btree_map::Entry::Occupied(slot) => slot.into_mut(),
            std::collections::btree_map::Entry::Vacant(slot) => slot.insert(Wire::new().map_err(io)?),
        };
        archive(wire, &file.path, &bytes).map_err(io)?;
    }
    for (section, wire) in streams {
        wires.sections.insert(section, wire.finish().map_err(io)?);
    }
    Ok(wires)
}

/// A file as an archive has it. The header only has to compress as a real one does.
fn archive(wire: &mut Wire, path: &str, bytes: &[u8]) -> std::io::Result<()> {
    let mut header = [0; BLOCK];
    let text = format!("./{path:\0<98}0000644\00000000\00000000\0{:011o}\014700000000\0012345\00", bytes.len());
    header.iter_mut().zip(text.bytes()).for_each(|(to, byte)| *to = byte);
    wire.write(&header)?;
    wire.write(bytes)?;
    let padding = (BLOCK - bytes.len() % BLOCK) % BLOCK;
    wire.write([0; BLOCK].get(..padding).unwrap_or_default())
}

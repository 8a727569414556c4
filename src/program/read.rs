//! Reads all class files of all archives, in parallel, and merges what they say in input order.

use std::panic::{AssertUnwindSafe, catch_unwind};

use rayon::prelude::*;

use crate::archive::{Archive, ArchiveId, Archives, Entry, Reader};
use crate::classfile::{Scratch, walk};
use crate::diag::{Code, Diagnostic, Findings};
use crate::limits::Limits;
use crate::progress::{Progress, Stage};

use super::intern::{Interner, Renumbering};
use super::summary::{Chunk, Summariser};
use super::{Class, ClassId, Mention, Program};

/// Inflated bytes that one worker takes at a time: large enough that names repeat within it, small enough that one
/// large archive occupies all workers.
const CHUNK_BYTES: u64 = 4 << 20;

/// Some class files of one archive, as positions in its entries.
struct Work {
    archive: usize,
    entries: Vec<u32>,
    bytes: u64,
}

/// What became of a [`Work`].
struct Outcome {
    chunk: Chunk,
    /// Per class of the chunk: archive, entry, size.
    origins: Vec<(u32, u32, u32)>,
    findings: Vec<Diagnostic>,
}

impl Program {
    /// Reads everything that `archives` holds. What cannot be read becomes a finding.
    pub fn read(archives: Archives, limits: &Limits, findings: &mut Findings, progress: &dyn Progress) -> Program {
        findings.extend(archives.diagnostics);
        let archives = archives.list;
        let work = split(&archives);
        progress.start(Stage::Classes, work.iter().map(|work| work.bytes).sum());
        let outcomes: Vec<Outcome> = work
            .par_iter()
            .map_init(
                || (Reader::new(limits), Scratch::default()),
                |(reader, scratch), work| {
                    let outcome = run(&archives, work, reader, scratch);
                    progress.advance(work.bytes);
                    outcome
                },
            )
            .collect();
        merge(archives, outcomes, findings)
    }
}

fn split(archives: &[Archive]) -> Vec<Work> {
    let mut all: Vec<Work> = Vec::new();
    for (number, archive) in archives.iter().enumerate() {
        let mut open: Option<Work> = None;
        for (at, entry) in archive.entries.iter().enumerate() {
            if !is_class(entry) {
                continue;
            }
            let work = open.get_or_insert_with(|| Work { archive: number, entries: Vec::new(), bytes: 0 });
            work.entries.push(at as u32);
            work.bytes = work.bytes.saturating_add(entry.size);
            if work.bytes >= CHUNK_BYTES {
                all.extend(open.take());
            }
        }
        all.extend(open);
    }
    all
}

/// Whether an entry is a class; a module descriptor is a class file and no class.
fn is_class(entry: &Entry) -> bool {
    entry.is_class() && &*entry.path != "module-info.class"
}

fn run(archives: &[Archive], work: &Work, reader: &mut Reader, scratch: &mut Scratch) -> Outcome {
    // About one name for each kilobyte of class files (measured on a class path of 142,000 classes).
    let room = usize::try_from(work.bytes.min(CHUNK_BYTES) >> 10).unwrap_or(0);
    let mut chunk = Chunk::with_room(room);
    let mut origins = Vec::with_capacity(work.entries.len());
    let mut findings = Vec::new();
    let Some(archive) = archives.get(work.archive) else { return Outcome { chunk, origins, findings } };
    for &at in &work.entries {
        let Some(entry) = archive.entries.get(at as usize) else { continue };
        let bytes = match reader.read(archive, entry) {
            Ok(bytes) => bytes,
            Err(finding) => {
                findings.push(*finding);
                continue;
            }
        };
        let mut summariser = Summariser::new(chunk);
        // A fault of ours in one class must not cost the answer about all others.
        let given = (bytes, &mut *scratch, &mut summariser);
        let walked = catch_unwind(AssertUnwindSafe(move || {
            let (bytes, scratch, visitor) = given;
            walk(bytes, scratch, visitor)
        }));
        match walked {
            Ok(Ok(())) => {}
            Ok(Err(error)) => {
                findings.push(Diagnostic::new(Code::DamagedClass, archive.locate(entry), error.to_string()));
            }
            Err(_) => findings.push(Diagnostic::new(
                Code::InternalError,
                archive.locate(entry),
                "reading this class failed by a fault of this program; please report it with the class file",
            )),
        }
        if summariser.class_done() {
            origins.push((work.archive as u32, at, bytes.len() as u32));
        }
        chunk = summariser.chunk;
    }
    Outcome { chunk, origins, findings }
}

fn merge(archives: Vec<Archive>, outcomes: Vec<Outcome>, findings: &mut Findings) -> Program {
    let mut program = Program {
        archives,
        names: Interner::default(),
        members: Interner::default(),
        classes: Vec::new(),
        mentions: Vec::new(),
        named: Vec::new(),
    };
    let mut named = Vec::new();
    for Outcome { chunk, origins, findings: found } in outcomes {
        findings.extend(found);
        let mut names = Renumbering::of(&chunk.names);
        let mut members = Renumbering::of(&chunk.members);
        // Names of the chunk's own classes are not missing, and most names are.
        let mut own = vec![false; chunk.names.len()];
        for summary in &chunk.classes {
            if let Some(own) = own.get_mut(summary.name.0 as usize) {
                *own = true;
            }
        }
        let first_class = program.classes.len() as u32;
        let first_mention = program.mentions.len() as u32;
        for (summary, (archive, entry, size)) in chunk.classes.into_iter().zip(origins) {
            let name = names.number(summary.name, &mut program.names);
            let (path, version) = place(&mut program, archive, entry, name);
            program.classes.push(Class {
                archive: ArchiveId(archive),
                entry,
                version,
                path,
                name,
                superclass: summary.superclass.map(|id| names.number(id, &mut program.names)),
                interfaces: summary.interfaces.iter().map(|&id| names.number(id, &mut program.names)).collect(),
                access: summary.access,
                major: summary.major,
                minor: summary.minor,
                size,
                first_mention: first_mention + summary.first_mention,
                mention_count: summary.mention_count,
            });
        }
        for mention in &chunk.mentions {
            program.mentions.push(Mention {
                target: names.number(mention.target, &mut program.names),
                position: mention.position,
                member: mention.member.map(|id| members.number(id, &mut program.members)),
            });
        }
        for (id, ordinal) in chunk.named {
            if own.get(id.0 as usize) == Some(&true) {
                continue;
            }
            let id = names.number(id, &mut program.names);
            named.resize(program.names.len(), false);
            if let Some(seen @ false) = named.get_mut(id.0 as usize) {
                *seen = true;
                program.named.push((id, ClassId(first_class + ordinal)));
            }
        }
    }
    program
}

/// The name under which a class loader finds an entry, and the entry's version. Nearly always that is the name which
/// the class has itself, and then no name is looked up.
fn place(program: &mut Program, archive: u32, entry: u32, name: super::NameId) -> (super::NameId, u16) {
    let Program { archives, names, .. } = program;
    let Some(archive) = archives.get(archive as usize) else { return (name, 0) };
    let Some(entry) = archive.entries.get(entry as usize) else { return (name, 0) };
    let path = entry.path.strip_suffix(".class").unwrap_or_default().as_bytes();
    if names.name(name) == path { (name, entry.version) } else { (names.intern(path), entry.version) }
}

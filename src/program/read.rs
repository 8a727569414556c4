//! Reads all class files of all archives, in parallel; [`super::merge`] puts what they say into input order.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicUsize, Ordering};

use crate::archive::{Archive, Archives, Entry, Reader};
use crate::classfile::{Scratch, walk};
use crate::diag::{Code, Diagnostic, Findings};
use crate::limits::Limits;
use crate::progress::{Progress, Stage};

use super::Program;
use super::merge::{Merging, Outcome};
use super::summary::{Chunk, Summariser};

/// Inflated bytes that one worker takes at a time: large enough that names repeat within it, small enough that one
/// large archive occupies all workers.
const CHUNK_BYTES: u64 = 4 << 20;

/// Some class files of one archive, as positions in its entries.
struct Work {
    archive: usize,
    entries: Vec<u32>,
    bytes: u64,
}

impl Program {
    /// Reads everything that `archives` holds. What cannot be read becomes a finding.
    pub fn read(archives: Archives, limits: &Limits, findings: &mut Findings, progress: &dyn Progress) -> Program {
        findings.extend(archives.diagnostics);
        let archives = archives.list;
        let work = split(&archives);
        progress.start(Stage::Classes, work.iter().map(|work| work.bytes).sum());
        let merging = Merging::default();
        // Taken in order, so that merging keeps pace: of a range split in halves the second half would wait for the first.
        let next = AtomicUsize::new(0);
        let worker = || {
            let (mut reader, mut scratch) = (Reader::new(limits), Scratch::default());
            while let number = next.fetch_add(1, Ordering::Relaxed)
                && let Some(work) = work.get(number)
            {
                merging.deliver(number, run(&archives, work, merging.chunk(), &mut reader, &mut scratch), &archives);
                progress.advance(work.bytes);
            }
        };
        rayon::scope(|scope| (0..rayon::current_num_threads()).for_each(|_| scope.spawn(|_| worker())));
        archives.iter().for_each(Archive::release);
        merging.finish(archives, findings)
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

fn run(archives: &[Archive], work: &Work, mut chunk: Chunk, reader: &mut Reader, scratch: &mut Scratch) -> Outcome {
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

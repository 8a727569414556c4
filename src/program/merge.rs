//! Puts what the workers found into input order while they go on reading, so that nothing depends on their number.
//!
//! The first function to read is [`Merging::deliver`].

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use crate::archive::{Archive, ArchiveId};
use crate::diag::{Diagnostic, Findings};

use super::intern::{Interner, NameId, Renumbering};
use super::recorder::Recorder;
use super::summary::Chunk;
use super::{Class, ClassId, Mention, Method, MethodId, Program, Reference};

/// What a worker found in some class files of one archive.
pub(super) struct Outcome {
    pub chunk: Chunk,
    /// Per class of the chunk: archive, entry, size.
    pub origins: Vec<(u32, u32, u32)>,
    pub findings: Vec<Diagnostic>,
}

/// Outcomes that wait for their turn, and what the ones before have added up to.
///
/// Both locks are taken once for each outcome, some hundred times a run; whoever finds the merging in other hands leaves
/// its outcome there and reads on.
#[derive(Default)]
pub(super) struct Merging {
    waiting: Mutex<BTreeMap<usize, Outcome>>,
    merged: Mutex<Merged>,
    /// Chunks that have been merged, whose memory is used again: asking the system for it costs more than reading does.
    spare: Mutex<Vec<Chunk>>,
}

#[derive(Default)]
struct Merged {
    /// The outcome whose turn it is.
    next: usize,
    names: Interner,
    members: Interner,
    classes: Vec<Class>,
    texts: Interner,
    methods: Vec<Method>,
    mentions: Vec<Mention>,
    steps: Vec<u32>,
    references: Vec<Reference>,
    named: Vec<(NameId, ClassId)>,
    types: Vec<NameId>,
    /// By name, whether it is in `named`.
    seen: Vec<bool>,
    findings: Vec<Diagnostic>,
}

impl Merging {
    /// An empty chunk.
    pub fn chunk(&self) -> Chunk {
        self.spare.lock().unwrap_or_else(PoisonError::into_inner).pop().unwrap_or_default()
    }

    /// Hands over the outcome of the work of that number, and merges what can be merged by now.
    pub fn deliver(&self, number: usize, outcome: Outcome, archives: &[Archive]) {
        self.waiting.lock().unwrap_or_else(PoisonError::into_inner).insert(number, outcome);
        let Ok(mut merged) = self.merged.try_lock() else { return };
        while let Some(outcome) = self.take(merged.next) {
            let mut chunk = merged.add(outcome, archives);
            chunk.clear();
            let mut spare = self.spare.lock().unwrap_or_else(PoisonError::into_inner);
            if spare.len() < rayon::current_num_threads() {
                spare.push(chunk);
            }
        }
    }

    fn take(&self, number: usize) -> Option<Outcome> {
        self.waiting.lock().unwrap_or_else(PoisonError::into_inner).remove(&number)
    }

    /// The program, once all work is delivered.
    pub fn finish(self, archives: Vec<Archive>, findings: &mut Findings) -> Program {
        let mut merged = self.merged.into_inner().unwrap_or_else(PoisonError::into_inner);
        for outcome in self.waiting.into_inner().unwrap_or_else(PoisonError::into_inner).into_values() {
            merged.add(outcome, &archives);
        }
        findings.extend(merged.findings);
        Program {
            archives: archives.into_iter().map(Arc::new).collect(),
            names: Arc::new(merged.names),
            members: Arc::new(merged.members),
            classes: Arc::new(merged.classes),
            mentions: Arc::new(merged.mentions),
            texts: Arc::new(merged.texts),
            methods: Arc::new(merged.methods),
            steps: Arc::new(merged.steps),
            references: Arc::new(merged.references),
            named: Arc::new(merged.named),
            types: Arc::new(merged.types),
        }
    }
}

impl Merged {
    /// Adds an outcome and gives its chunk back.
    fn add(&mut self, Outcome { chunk, origins, findings }: Outcome, archives: &[Archive]) -> Chunk {
        self.next += 1;
        self.findings.extend(findings);
        let mut names = Renumbering::new(&chunk.names, &self.names);
        let mut members = Renumbering::new(&chunk.members, &self.members);
        // Names of the chunk's own classes are not missing, and most names are.
        let mut own = vec![false; chunk.names.len()];
        for summary in &chunk.classes {
            if let Some(own) = own.get_mut(summary.name.0 as usize) {
                *own = true;
            }
        }
        let first_class = self.classes.len() as u32;
        let first_method = self.methods.len();
        let (first_mention, first_type, first_step) = (self.mentions.len(), self.types.len(), self.steps.len());
        let first_reference = self.references.len() as u32;
        let mut texts = Renumbering::new(&chunk.texts, &self.texts);
        for (summary, (archive, entry, size)) in chunk.classes.iter().zip(origins) {
            let name = names.number(summary.name, &mut self.names);
            let (path, version) = place(archives, &mut self.names, (archive, entry), name);
            self.classes.push(Class {
                archive: ArchiveId(archive),
                entry,
                version,
                path,
                name,
                superclass: summary.superclass.map(|id| names.number(id, &mut self.names)),
                interfaces: summary.interfaces.iter().map(|&id| names.number(id, &mut self.names)).collect(),
                enclosing: summary.enclosing.map(|id| names.number(id, &mut self.names)),
                access: summary.access,
                major: summary.major,
                minor: summary.minor,
                size,
                mentions: summary.mentions.behind(first_mention),
                methods: summary.methods.behind(first_method),
                types: summary.types.behind(first_type),
                references: first_reference,
            });
        }
        for mention in &chunk.mentions {
            self.mentions.push(Mention {
                target: names.number(mention.target, &mut self.names),
                position: mention.position,
                member: mention.member.map(|id| members.number(id, &mut self.members)),
                method: mention.method.map(|MethodId(number)| MethodId(first_method as u32 + number)),
                guard: mention.guard,
            });
        }
        let Recorder { methods, steps, references, .. } = &chunk.recorder;
        for &(owner, member) in references {
            // A text has no owner, and a class that is named alone has no member.
            let member = match owner {
                NameId::NONE => texts.number(member, &mut self.texts),
                _ => members.number(member, &mut self.members),
            };
            let owner = names.number(owner, &mut self.names);
            self.references.push(Reference { owner, member });
        }
        self.types.extend(chunk.types.iter().map(|&id| names.number(id, &mut self.names)));
        self.steps.extend(steps);
        for method in methods {
            self.methods.push(Method {
                class: ClassId(first_class + method.class),
                selector: members.number(method.selector, &mut self.members),
                access: method.access,
                kind: method.kind,
                steps: method.steps.behind(first_step),
            });
        }
        for &(id, ordinal) in &chunk.named {
            if own.get(id.0 as usize) == Some(&true) {
                continue;
            }
            let id = names.number(id, &mut self.names);
            self.seen.resize(self.names.len(), false);
            if let Some(seen @ false) = self.seen.get_mut(id.0 as usize) {
                *seen = true;
                self.named.push((id, ClassId(first_class + ordinal)));
            }
        }
        chunk
    }
}

/// The name under which a class loader finds an entry, and the entry's version. Nearly always that is the name which
/// the class has itself, and then no name is looked up.
fn place(archives: &[Archive], names: &mut Interner, (archive, entry): (u32, u32), name: NameId) -> (NameId, u16) {
    let Some(archive) = archives.get(archive as usize) else { return (name, 0) };
    let Some(entry) = archive.entries.get(entry as usize) else { return (name, 0) };
    let path = entry.path.strip_suffix(".class").unwrap_or_default().as_bytes();
    if names.name(name) == path { (name, entry.version) } else { (names.intern(path), entry.version) }
}

//! What the class loader sees on one release.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, Ordering};

use rustc_hash::FxHashMap;

use crate::archive::{ArchiveId, Scope, effective_positions};
use crate::diag::{Code, Diagnostic, Findings};
use crate::names::decode_mutf8;

use super::{Class, ClassId, NameId, Program};

/// The classes that can be loaded on one release, each once per scope.
pub struct View {
    /// In class path order.
    pub classes: Vec<ClassId>,
    /// Classes that are never loaded: by their archive and the one that comes before it, how many, and the first.
    pub shadowed: BTreeMap<(ArchiveId, ArchiveId), (usize, ClassId)>,
    /// By name, the class of the shared scope; nearly all programs have no other.
    shared: Vec<Option<ClassId>>,
    scoped: FxHashMap<(Scope, NameId), ClassId>,
    /// By class, its archive.
    archives: Vec<ArchiveId>,
    /// By archive, whether a question has had an answer from it.
    answered: Vec<AtomicBool>,
}

impl View {
    /// The class that a class of `scope` gets when it asks for a name: its own scope's first, else the shared one.
    ///
    /// The view keeps in mind that the archive of that class has answered ([`View::has_answered`]).
    pub fn find(&self, scope: Scope, name: NameId) -> Option<ClassId> {
        let found = self.peek(scope, name);
        found.inspect(|&class| self.answered_by(class))
    }

    /// The same for whoever prepares answers to questions that nobody may ask, and says so when one is asked.
    pub fn peek(&self, scope: Scope, name: NameId) -> Option<ClassId> {
        let own = if scope == Scope::default() { None } else { self.scoped.get(&(scope, name)).copied() };
        own.or_else(|| self.shared.get(name.0 as usize).copied().flatten())
    }

    /// Keeps in mind that a class was the answer to a question.
    pub fn answered_by(&self, class: ClassId) {
        if let Some(&archive) = self.archives.get(class.0 as usize) {
            self.answered_from(archive);
        }
    }

    /// The same of a file of an archive.
    pub fn answered_from(&self, archive: ArchiveId) {
        // Order does not matter: who reads it does so when all questions have been asked.
        if let Some(answered) = self.answered.get(archive.0 as usize)
            && !answered.load(Ordering::Relaxed)
        {
            answered.store(true, Ordering::Relaxed);
        }
    }

    /// Whether a question has had an answer from an archive. Without one that has given none, all answers are the same.
    pub fn has_answered(&self, archive: ArchiveId) -> bool {
        self.answered.get(archive.0 as usize).is_some_and(|answered| answered.load(Ordering::Relaxed))
    }

    fn add(&mut self, scope: Scope, name: NameId, class: ClassId) {
        if scope != Scope::default() {
            self.scoped.insert((scope, name), class);
        } else if let Some(slot) = self.shared.get_mut(name.0 as usize) {
            *slot = Some(class);
        }
        self.classes.push(class);
    }
}

impl Program {
    /// Lays the versioned entries of each archive over the others, then lets the first class of a name win; shadowed and
    /// misplaced classes become findings.
    pub fn view(&self, release: u16, findings: &mut Findings) -> View {
        let mut view = View {
            classes: Vec::with_capacity(self.classes.len()),
            shadowed: BTreeMap::new(),
            shared: vec![None; self.names.len()],
            scoped: FxHashMap::default(),
            archives: self.classes.iter().map(|class| class.archive).collect(),
            answered: self.archives.iter().map(|_| AtomicBool::new(false)).collect(),
        };
        let mut classes = self.classes.iter().enumerate().peekable();
        for (number, archive) in self.archives.iter().enumerate() {
            let mut seen = vec![false; archive.entries.len()];
            for at in effective_positions(archive, release) {
                if let Some(seen) = seen.get_mut(at) {
                    *seen = true;
                }
            }
            while let Some((at, class)) = classes.next_if(|(_, class)| class.archive.0 as usize == number) {
                if !archive.on_class_path || !seen.get(class.entry as usize).copied().unwrap_or(false) {
                    continue;
                }
                let id = ClassId(at as u32);
                if class.name != class.path {
                    findings.add(Code::MisplacedClass, || self.misplaced(class));
                }
                if let Some(first) = view.peek(archive.scope, class.path) {
                    // Without the first this one would be there.
                    view.answered_by(first);
                    if let Some(first) = self.class(first) {
                        view.shadowed.entry((class.archive, first.archive)).or_insert((0, id)).0 += 1;
                    }
                    findings.add(Code::ShadowedClass, || self.shadowed(class, first));
                } else {
                    view.add(archive.scope, class.path, id);
                }
            }
        }
        view
    }

    fn misplaced(&self, class: &Class) -> Diagnostic {
        Diagnostic::new(
            Code::MisplacedClass,
            self.locate(class),
            format!("holds class {}, which a class loader would not look for here", self.shown(class.name)),
        )
    }

    fn shadowed(&self, class: &Class, first: ClassId) -> Diagnostic {
        let first = self.class(first).map_or_else(String::new, |first| self.locate(first).to_string());
        Diagnostic::new(
            Code::ShadowedClass,
            self.locate(class),
            format!("is never loaded: {first} comes first on the class path"),
        )
    }

    /// A class name for people.
    pub fn shown(&self, name: NameId) -> String {
        decode_mutf8(self.names.name(name)).replace('/', ".")
    }
}

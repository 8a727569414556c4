//! What one file names, collected.
//!
//! The first function to read is [`Sink::name`]. The readers of formats write here and know nothing of archives.

use std::collections::BTreeSet;
use std::sync::Arc;

use rustc_hash::FxHashSet;

use crate::archive::ArchiveId;
use crate::diag::{Code, Diagnostic};
use crate::limits::Limits;
use crate::names::Locator;
use crate::platform::ever_platform_package;

use super::formats::Format;
use super::known::{Known, is_name, is_qualified};
use super::{ResourceKind, ResourceName};

pub(super) struct Sink<'a> {
    known: &'a Known<'a>,
    pub(super) archive: ArchiveId,
    pub(super) path: Arc<str>,
    /// The kind of what is named, unless a reader says otherwise.
    pub(super) kind: ResourceKind,
    is_list: bool,
    pub(super) names: Vec<ResourceName>,
    seen: FxHashSet<(Box<str>, ResourceKind, Option<Box<str>>)>,
    /// Keys and values.
    pub(super) pairs: Vec<(Box<str>, Box<str>)>,
    /// Words that the table of needs asks for, each once.
    pub(super) texts: BTreeSet<Box<str>>,
    pub(super) findings: Vec<Diagnostic>,
    pub(super) limits: &'a Limits,
    cut: bool,
}

impl<'a> Sink<'a> {
    pub(super) fn new(
        known: &'a Known<'a>,
        archive: ArchiveId,
        path: &str,
        format: &Format,
        limits: &'a Limits,
    ) -> Self {
        Sink {
            known,
            archive,
            path: path.into(),
            kind: format.kind,
            is_list: format.is_list,
            names: Vec::new(),
            seen: FxHashSet::default(),
            pairs: Vec::new(),
            texts: BTreeSet::new(),
            findings: Vec::new(),
            limits,
            cut: false,
        }
    }

    /// The internal form of a word that names a class.
    pub(super) fn class(&self, word: &str) -> Option<Box<str>> {
        self.known.class(word)
    }

    /// What a name is named for: in internal form where it is a class itself.
    pub(super) fn purpose(&self, word: &str) -> Box<str> {
        if is_qualified(word) { self.class(word).unwrap_or_else(|| word.into()) } else { word.into() }
    }

    /// Takes a word if it names a class; says whether it does.
    pub(super) fn name(&mut self, word: &str, of: Option<&str>) -> bool {
        let Some(name) = self.class(word) else { return false };
        self.add(name, false, self.kind, of);
        true
    }

    /// Takes a package that the platform has ever had.
    pub(super) fn package(&mut self, package: &str) {
        let internal = package.replace('.', "/");
        if ever_platform_package(internal.as_bytes()) {
            self.add(internal.into(), false, self.kind, None);
        }
    }

    /// Takes words in a row, each by itself, if all of them have the shape of a class's name with a package: text of
    /// another kind seldom has. Names are separated by commas, semicolons, colons, bars or blanks.
    pub(super) fn list(&mut self, value: &str, of: Option<&str>) {
        if words_of(value).all(is_qualified) {
            for word in words_of(value) {
                self.name(word, of);
            }
        }
    }

    /// The same where the words are known to be classes, so that one without a package is taken too.
    pub(super) fn classes(&mut self, value: &str, of: Option<&str>) {
        if words_of(value).all(is_name) {
            for word in words_of(value) {
                self.name(word, of);
            }
        }
    }

    /// Takes a name in internal form, or a module's name.
    pub(super) fn add(&mut self, name: Box<str>, is_module: bool, kind: ResourceKind, of: Option<&str>) {
        if self.names.len() >= self.limits.resource_names {
            self.cut = true;
            return;
        }
        let of: Option<Box<str>> = of.map(Into::into);
        if self.seen.insert((name.clone(), kind, of.clone())) {
            self.names.push(ResourceName {
                archive: self.archive,
                path: Arc::clone(&self.path),
                name,
                is_module,
                kind,
                of,
                is_listed: self.is_list,
            });
        }
    }

    /// Whether a line of that number, from 1, is still taken.
    pub(super) fn takes_line(&mut self, number: usize) -> bool {
        let takes = number <= self.limits.text_lines;
        self.cut |= !takes;
        takes
    }

    /// Closes the file, with a finding where not all of it was taken.
    pub(super) fn cut(&mut self, place: impl FnOnce() -> Locator) {
        self.seen = FxHashSet::default();
        if self.cut {
            let message = format!(
                "limit text-lines or resource-names reached: more than {} lines or {} names",
                self.limits.text_lines, self.limits.resource_names
            );
            self.findings.push(Diagnostic::new(Code::LimitReached, place(), message));
        }
    }
}

/// The words of a list.
pub(super) fn words_of(value: &str) -> impl Iterator<Item = &str> {
    value.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | ':' | '|')).filter(|word| !word.is_empty())
}

//! Which words are names of classes.
//!
//! The first function to read is [`Known::class`].

use crate::names::package_of;
use crate::platform::ever_platform_package;

use super::super::{Interner, Program};

/// Bytes beyond which a word is no name.
const LONGEST: usize = 512;

/// Classes within classes that a canonical name (JLS §6.7) is tried for.
const NESTED: usize = 4;

/// The classes of the program, of all releases and scopes, and the packages that the platform has ever had.
pub(super) struct Known<'a> {
    names: &'a Interner,
    /// By number of the name, whether a class loader would find a class there.
    classes: Vec<bool>,
}

impl<'a> Known<'a> {
    pub(super) fn of(program: &'a Program) -> Self {
        let mut classes = vec![false; program.names.len()];
        for class in program.classes.iter() {
            if let Some(slot) = classes.get_mut(class.path.0 as usize) {
                *slot = true;
            }
        }
        Known { names: &program.names, classes }
    }

    /// The internal form of the class that a word names, if it is one of the program or may be one of the platform.
    ///
    /// Taken are binary names (JLS §13.1), canonical ones of member classes, internal ones, and arrays of them as
    /// `Class.getName` and as source code write them.
    pub(super) fn class(&self, word: &str) -> Option<Box<str>> {
        let word = element(word.trim());
        // The class file itself, as an index of an archive has it.
        let word = word.strip_suffix(".class").unwrap_or(word);
        if !is_name(word) {
            return None;
        }
        let mut internal = word.replace('.', "/");
        for _ in 0..=NESTED {
            if self.has(&internal) {
                return Some(internal.into());
            }
            // `gauge/Reading/Unit` may be meant for `gauge/Reading$Unit`.
            let last = internal.rfind('/')?;
            let outer = internal.get(..last)?.rsplit('/').next()?;
            if !outer.starts_with(|c: char| c.is_ascii_uppercase()) {
                return None;
            }
            internal.replace_range(last..=last, "$");
        }
        None
    }

    fn has(&self, internal: &str) -> bool {
        let program = |name| self.names.find(name).and_then(|id| self.classes.get(id.0 as usize).copied());
        if program(internal.as_bytes()) == Some(true) {
            return true;
        }
        let package = package_of(internal.as_bytes());
        let simple = internal.rsplit('/').next().unwrap_or_default();
        // Platform classes start with a capital letter; `java.util.logging` is a package of `java.util`, so to speak.
        !package.is_empty() && simple.starts_with(|c: char| c.is_ascii_uppercase()) && ever_platform_package(package)
    }
}

/// The element type of an array.
fn element(word: &str) -> &str {
    let inner = word.trim_start_matches('[');
    if inner.len() < word.len() {
        return inner.strip_prefix('L').and_then(|name| name.strip_suffix(';')).unwrap_or_default();
    }
    word.trim_end_matches("[]")
}

/// Whether a word has the shape of a class's name, with or without package (JLS §3.8, somewhat wider).
pub(super) fn is_name(word: &str) -> bool {
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '.' | '/' | '_' | '$' | '-');
    word.len() <= LONGEST
        && word.starts_with(|c: char| c.is_ascii_alphabetic() || matches!(c, '_' | '$') || !c.is_ascii())
        && word.chars().all(|c| plain(c) || (!c.is_ascii() && !c.is_whitespace() && c != '\u{FFFD}'))
        && !word.ends_with(['.', '/'])
        && !word.contains("..")
}

/// Whether it also names a package.
pub(super) fn is_qualified(word: &str) -> bool {
    is_name(word) && word.contains(['.', '/'])
}

//! Names, whole or in part, and sets of them.
//!
//! It knows nothing of where they come from. The first type to read is [`Names`].

use std::collections::BTreeSet;

/// Names and patterns of one value. Helpers that look for whatever name they are given have hundreds of callers.
const MOST_NAMES: usize = 1024;

/// Bytes of a name, or of a known beginning or end, beyond which it is cut.
pub(super) const MOST_BYTES: usize = 4096;

/// What a value may name.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Names {
    /// Names known as a whole.
    pub exact: BTreeSet<Vec<u8>>,
    /// Names of which beginning or end are known.
    pub patterns: BTreeSet<Pattern>,
    /// Whether it may be something of which nothing is known.
    pub unknown: bool,
}

/// `prefix`, anything, `suffix`; at least one of both is not empty.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Pattern {
    /// How it begins.
    pub prefix: Vec<u8>,
    /// How it ends.
    pub suffix: Vec<u8>,
}

impl Pattern {
    /// Whether a name is of that shape.
    pub fn matches(&self, name: &[u8]) -> bool {
        name.strip_prefix(&*self.prefix).is_some_and(|rest| rest.ends_with(&self.suffix))
    }
}

impl Names {
    pub(super) fn add(&mut self, shape: Shape) {
        if self.is_full() {
            self.unknown = true;
            return;
        }
        match shape {
            Shape { text, end: None } => {
                self.exact.insert(text);
            }
            Shape { text, end: Some(end) } if text.is_empty() && end.is_empty() => self.unknown = true,
            Shape { text: prefix, end: Some(suffix) } => {
                self.patterns.insert(Pattern { prefix, suffix });
            }
        }
    }

    /// Adds a name that is known as a whole.
    pub(super) fn add_exact(&mut self, name: &[u8]) {
        if self.is_full() {
            self.unknown = true;
        } else if !self.exact.contains(name) {
            self.exact.insert(name.to_vec());
        }
    }

    /// Whether there is no room for more.
    pub(super) fn is_full(&self) -> bool {
        self.exact.len() + self.patterns.len() >= MOST_NAMES
    }

    /// Adds others, changed.
    pub(super) fn take(&mut self, others: Names, change: impl Fn(Vec<u8>) -> Vec<u8>) {
        self.unknown |= others.unknown;
        for Shape { text, end } in others.into_shapes() {
            self.add(Shape { text: change(text), end: end.map(&change) });
        }
    }

    /// Names and patterns; not what is unknown.
    pub(super) fn into_shapes(self) -> impl Iterator<Item = Shape> {
        let exact = self.exact.into_iter().map(|text| Shape { text, end: None });
        let patterns = self.patterns.into_iter().map(|of| Shape { text: of.prefix, end: Some(of.suffix) });
        exact.chain(patterns)
    }
}

/// A text, or how it begins and ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Shape {
    pub(super) text: Vec<u8>,
    pub(super) end: Option<Vec<u8>>,
}

impl Shape {
    pub(super) const ANY: Shape = Shape { text: Vec::new(), end: Some(Vec::new()) };

    pub(super) fn then(&self, next: &Shape) -> Shape {
        let mut joined = match (&self.end, &next.end) {
            (None, end) => Shape { text: [&*self.text, &next.text].concat(), end: end.clone() },
            (Some(end), None) => Shape { text: self.text.clone(), end: Some([&**end, &next.text].concat()) },
            (Some(_), end) => Shape { text: self.text.clone(), end: end.clone() },
        };
        if joined.text.len() > MOST_BYTES {
            joined.text.truncate(MOST_BYTES);
            joined.end.get_or_insert_default();
        }
        if let Some(end) = &mut joined.end {
            end.drain(..end.len().saturating_sub(MOST_BYTES));
        }
        joined
    }
}

/// A text with every byte `from` replaced; both are ASCII.
pub(super) fn exchanged(mut text: Vec<u8>, from: u8, to: u8) -> Vec<u8> {
    for byte in text.iter_mut().filter(|byte| **byte == from) {
        *byte = to;
    }
    text
}

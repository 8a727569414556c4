//! Patterns by how they begin: at most one look-up for each length of beginnings that share a first letter.

use std::ops::ControlFlow;

use rustc_hash::FxHashMap;

/// Longest beginning that is looked up; what is longer is for the pattern itself to compare.
const LONGEST: usize = 8;

/// Things by the beginning of the texts that they are about. Letters of either case and both separators of class
/// names count as the same.
pub(super) struct Begun<T> {
    /// By the folded beginning, packed, and its length.
    kept: FxHashMap<(u64, u8), Vec<T>>,
    /// The lengths in use by the folded first byte, a bit each.
    lengths: [u16; 256],
}

impl<T> Default for Begun<T> {
    fn default() -> Self {
        Begun { kept: FxHashMap::default(), lengths: [0; 256] }
    }
}

fn fold(byte: u8) -> u8 {
    if byte == b'/' { b'.' } else { byte.to_ascii_lowercase() }
}

impl<T> Begun<T> {
    /// Adds a thing for texts that begin so; the beginning is not empty.
    pub fn add(&mut self, beginning: &[u8], thing: T) {
        let beginning = beginning.get(..LONGEST).unwrap_or(beginning);
        let Some(&first) = beginning.first() else { return };
        let packed = beginning.iter().fold(0, |packed: u64, &byte| packed << 8 | u64::from(fold(byte)));
        self.kept.entry((packed, beginning.len() as u8)).or_default().push(thing);
        if let Some(lengths) = self.lengths.get_mut(usize::from(fold(first))) {
            *lengths |= 1 << beginning.len();
        }
    }

    /// Tells all things whose beginning the text may have.
    pub fn each(&self, text: &[u8], mut tell: impl FnMut(&T) -> ControlFlow<()>) -> ControlFlow<()> {
        let lengths = text.first().and_then(|&first| self.lengths.get(usize::from(fold(first)))).copied().unwrap_or(0);
        if lengths == 0 {
            return ControlFlow::Continue(());
        }
        let mut packed = 0;
        for (&byte, length) in text.iter().take(LONGEST).zip(1u8..) {
            packed = packed << 8 | u64::from(fold(byte));
            if lengths >> length & 1 != 0 {
                self.kept.get(&(packed, length)).into_iter().flatten().try_for_each(&mut tell)?;
            }
        }
        ControlFlow::Continue(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn things_are_told_for_texts_that_begin_so() {
        let mut begun = Begun::default();
        for beginning in ["com.sun.jndi.", "dns:", "Windows-MY", "com.sun.x"] {
            begun.add(beginning.as_bytes(), beginning);
        }
        let told = |text: &str| {
            let mut told = Vec::new();
            let _ = begun.each(text.as_bytes(), |&thing| {
                told.push(thing);
                ControlFlow::Continue(())
            });
            told
        };
        assert_eq!(told("com/sun/jndi/dns"), ["com.sun.jndi.", "com.sun.x"]);
        assert_eq!(told("DNS:x"), ["dns:"]);
        assert_eq!(told("windows-"), ["Windows-MY"]);
        assert!(told("").is_empty() && told("dn").is_empty() && told("com.quay.").is_empty());
    }
}

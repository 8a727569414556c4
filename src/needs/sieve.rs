//! A quick no: which lengths the wanted names have, by their last letter. Most names of a class path fail at it.

/// Lengths modulo 64, by the last byte, either case and either separator of class names.
pub(super) struct Sieve([u64; 256]);

impl Default for Sieve {
    fn default() -> Self {
        Sieve([0; 256])
    }
}

fn last(name: &[u8]) -> Option<usize> {
    name.last().map(|byte| usize::from(byte.to_ascii_lowercase()))
}

impl Sieve {
    /// Lets the name pass from now on.
    pub fn add(&mut self, name: &[u8]) {
        if let Some(lengths) = last(name).and_then(|last| self.0.get_mut(last)) {
            *lengths |= 1 << (name.len() % 64);
        }
    }

    /// False for most names that were not added, true for all that were.
    pub fn passes(&self, name: &[u8]) -> bool {
        last(name).and_then(|last| self.0.get(last)).is_some_and(|lengths| lengths >> (name.len() % 64) & 1 != 0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_added_passes_in_either_case() {
        let mut sieve = Sieve::default();
        sieve.add(b"ibm037");
        sieve.add(b"LDAP");
        assert!(sieve.passes(b"IBM037") && sieve.passes(b"ldap"));
        assert!(!sieve.passes(b"ibm037x") && !sieve.passes(b"IBM038") && !sieve.passes(b""));
    }
}

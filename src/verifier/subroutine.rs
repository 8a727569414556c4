//! Which local variables a subroutine has written (JVMS §4.10.2.5), so that `ret` can leave the others as they were.
//!
//! The first function to read is [`Calls::leave`].

/// Subroutines nest no deeper in code that is followed; compilers never nested them beyond a handful.
const DEEPEST: usize = 32;

/// The subroutines that control is in, the innermost last.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Calls(Vec<Call>);

#[derive(Clone, Debug, PartialEq, Eq)]
struct Call {
    /// Where the subroutine begins.
    entry: u32,
    written: Variables,
}

/// A set of local variables, one bit each; grows as it is used.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Variables(Vec<u64>);

impl Variables {
    pub(super) fn contains(&self, index: u16) -> bool {
        self.0.get(usize::from(index) / 64).is_some_and(|word| word & 1 << (index % 64) != 0)
    }

    fn insert(&mut self, index: u16) {
        let place = usize::from(index) / 64;
        if self.0.len() <= place {
            self.0.resize(place + 1, 0);
        }
        if let Some(word) = self.0.get_mut(place) {
            *word |= 1 << (index % 64);
        }
    }

    /// Whether that has added any.
    fn add(&mut self, other: &Variables) -> bool {
        if self.0.len() < other.0.len() {
            self.0.resize(other.0.len(), 0);
        }
        let mut changed = false;
        for (word, &more) in self.0.iter_mut().zip(&other.0) {
            changed |= more & !*word != 0;
            *word |= more;
        }
        changed
    }
}

impl Calls {
    /// What copying or merging it costs, in words.
    pub(super) fn weight(&self) -> usize {
        self.0.iter().map(|call| 1 + call.written.0.len()).sum()
    }

    /// Enters a subroutine; `false` if control is in it already (§4.10.2.5 forbids recursion) or too deep.
    pub(super) fn enter(&mut self, entry: u32) -> bool {
        let fits = self.0.len() < DEEPEST && self.0.iter().all(|call| call.entry != entry);
        if fits {
            self.0.push(Call { entry, written: Variables::default() });
        }
        fits
    }

    /// A local variable is written, in all of them.
    pub(super) fn store(&mut self, index: u16) {
        for call in &mut self.0 {
            call.written.insert(index);
        }
    }

    /// What the subroutine at `entry` has written, and those that it was called in; `None` if control is not in it.
    pub(super) fn leave(&self, entry: u32) -> Option<(Variables, Calls)> {
        let at = self.0.iter().rposition(|call| call.entry == entry)?;
        Some((self.0.get(at)?.written.clone(), Calls(self.0.get(..at)?.to_vec())))
    }

    /// Adds what the same subroutines have written elsewhere.
    pub(super) fn add(&mut self, other: &Calls) -> bool {
        let mut changed = false;
        for call in &mut self.0 {
            for same in other.0.iter().filter(|other| other.entry == call.entry) {
                changed |= call.written.add(&same.written);
            }
        }
        changed
    }

    /// Paths meet: only subroutines that both are in remain. Whether that has changed anything.
    pub(super) fn merge(&mut self, other: &Calls) -> bool {
        let before = self.0.len();
        self.0.retain(|call| other.0.iter().any(|other| other.entry == call.entry));
        let fewer = self.0.len() < before;
        self.add(other) || fewer
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_subroutine_knows_what_it_wrote() {
        let mut calls = Calls::default();
        assert!(calls.enter(10));
        calls.store(3);
        assert!(calls.enter(20));
        assert!(!calls.enter(10));
        calls.store(70);
        let (written, outside) = calls.leave(20).unwrap();
        assert!(written.contains(70) && !written.contains(3));
        let (written, _) = outside.leave(10).unwrap();
        assert!(written.contains(70) && written.contains(3));
        let mut merged = calls.clone();
        assert!(merged.merge(&outside));
        assert_eq!(merged, outside);
    }
}

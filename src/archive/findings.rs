//! What was found amiss while reading one archive, kept within bounds.
//!
//! A hostile archive can be wrong a million times; [`Findings`] keeps the first of each kind and counts the rest.

use std::collections::BTreeMap;

use super::fault::Fault;
use crate::diag::{Code, Diagnostic};
use crate::names::Locator;

/// A bounded collector.
pub(crate) struct Findings {
    most: usize,
    kept: Vec<Diagnostic>,
    counts: BTreeMap<Code, usize>,
}

impl Findings {
    /// Keeps at most `most` of each code.
    pub(crate) fn new(most: usize) -> Self {
        Findings { most: most.max(1), kept: Vec::new(), counts: BTreeMap::new() }
    }

    /// Takes a finding; its place is worked out only if it is kept.
    pub(crate) fn add(&mut self, fault: Fault, place: impl FnOnce() -> Locator) {
        let count = self.counts.entry(fault.code).or_default();
        *count += 1;
        if *count <= self.most {
            self.kept.push(fault.at(place()));
        }
    }

    /// What was kept, and one line for each kind of which some were not.
    pub(crate) fn into_diagnostics(mut self, place: &Locator) -> Vec<Diagnostic> {
        for (&code, &count) in &self.counts {
            if let Some(more) = count.checked_sub(self.most).filter(|&more| more > 0) {
                self.kept.push(Diagnostic::new(
                    code,
                    place.clone(),
                    format!("{more} more findings of this kind in this archive"),
                ));
            }
        }
        self.kept
    }
}

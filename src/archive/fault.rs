//! Why an archive or one of its members cannot be read, before the place is known.
//!
//! It knows no locators: whoever holds one turns a [`Fault`] into a diagnostic with [`Fault::at`].

use crate::diag::{Code, Diagnostic};
use crate::names::Locator;

/// A finding without its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Fault {
    /// What kind of finding.
    pub(crate) code: Code,
    /// What was found, in words.
    pub(crate) reason: String,
}

impl Fault {
    /// A finding of kind `code`.
    pub(crate) fn new(code: Code, reason: impl Into<String>) -> Self {
        Fault { code, reason: reason.into() }
    }

    /// The maximum `name` (as in `limits.rs`) was met; `what` says by what.
    pub(crate) fn limit(name: &str, what: impl std::fmt::Display) -> Self {
        Fault::new(Code::LimitReached, format!("limit {name} reached: {what}"))
    }

    /// The finding at its place.
    pub(crate) fn at(self, place: Locator) -> Diagnostic {
        Diagnostic::new(self.code, place, self.reason)
    }
}

//! Figures that were measured on two JDKs and are embedded, written by `scripts/catalogue`.
//!
//! The first function to read is [`nearest`].

use std::sync::OnceLock;

use super::figures::Figures;
use crate::error::Error;

/// Release, figures as JSON, and what they are once read.
struct Embedded {
    release: u16,
    json: &'static str,
    figures: OnceLock<Result<Figures, String>>,
}

static EMBEDDED: [Embedded; 2] = [
    Embedded { release: 17, json: include_str!("17.json"), figures: OnceLock::new() },
    Embedded { release: 25, json: include_str!("25.json"), figures: OnceLock::new() },
];

/// The figures of the nearer release, the older of two that are as near.
pub(super) fn nearest(release: u16) -> Result<&'static Figures, Error> {
    let nearest = EMBEDDED.iter().min_by_key(|embedded| embedded.release.abs_diff(release));
    nearest.ok_or_else(|| Error::Internal("there are no built-in figures".into()))?.read()
}

/// Those of the other one, where `release` has none of its own.
pub(super) fn next_nearest(release: u16) -> Result<Option<&'static Figures>, Error> {
    if EMBEDDED.iter().any(|embedded| embedded.release == release) {
        return Ok(None);
    }
    EMBEDDED.iter().max_by_key(|embedded| embedded.release.abs_diff(release)).map(Embedded::read).transpose()
}

impl Embedded {
    fn read(&'static self) -> Result<&'static Figures, Error> {
        let read = || serde_json::from_str(self.json).map_err(|error| error.to_string());
        let figures = self.figures.get_or_init(read);
        figures.as_ref().map_err(|reason| Error::Internal(format!("built-in figures of {}: {reason}", self.release)))
    }
}

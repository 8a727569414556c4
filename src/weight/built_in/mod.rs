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
    let distance = |embedded: &&Embedded| embedded.release.abs_diff(release);
    let nearest = EMBEDDED.iter().min_by_key(distance);
    let nearest = nearest.ok_or_else(|| Error::Internal("there are no built-in figures".into()))?;
    let read = || serde_json::from_str(nearest.json).map_err(|error| error.to_string());
    let figures = nearest.figures.get_or_init(read);
    figures.as_ref().map_err(|reason| Error::Internal(format!("built-in figures of {}: {reason}", nearest.release)))
}

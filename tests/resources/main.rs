//! Names in files that are no classes, on made-up archives of the harbour's gauges and sluices.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

#[path = "../support/jdk.rs"]
mod jdk;
#[path = "../support/libraries.rs"]
mod libraries;
#[path = "../support/zip.rs"]
mod zip;

mod formats;
mod hostile;
mod judged;
mod starts;
mod wiring;
mod yard;

//! What can run: guards, names that reach look-ups, and what linking loads, each against the JVM.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

mod guards;
#[path = "../support/jdk.rs"]
mod jdk;
mod links;
mod names;
mod sources;

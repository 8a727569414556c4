//! The verifier's questions, against the verifier: what the JVM loads while it links classes.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test fails by panicking"
)]

mod hostile;
#[path = "../support/jdk.rs"]
mod jdk;
#[path = "../support/libraries.rs"]
mod libraries;
mod linked;
mod loads;
mod micro;

//! Constants on their way to calls, against what the JVM finally asks for.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

mod hostile;
#[path = "../support/jdk.rs"]
mod jdk;
mod programs;
mod world;

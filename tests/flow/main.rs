//! Constants on their way to calls, against what the JVM finally asks for.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

mod hostile;
#[path = "../support/judge.rs"]
mod judge;
mod programs;
mod table;
mod world;

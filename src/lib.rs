//! Secateur finds the platform modules that a JVM program needs, says why, and weighs the run-time image.
//!
//! Data flows one way, and the modules below stand in that order; each sees only those before it
//! (`tests/architecture.rs` holds the code to it):
//!
//! ```text
//! archives → class facts → program → evidence → graph → verdict → weight → report
//!                    platform catalogue ───────────┘
//! ```
//!
//! [`pipeline::scan`] runs the whole; [`report::Report`] is the answer that every output format prints.

pub mod diag;
pub mod error;
pub mod limits;
pub mod names;

pub mod archive;
pub mod classfile;
pub mod flow;
pub mod platform;

pub mod needs;
pub mod witness;

pub mod verifier;

pub mod graph;

pub mod program;

pub mod reach;

pub mod verdict;
pub mod weight;

pub mod trial;

pub mod responsibility;

pub mod report;

pub mod plan;

pub mod pipeline;
pub mod progress;

//! What can run, from where the program starts.
//!
//! The parts that read class files again, for the few classes where the summary does not suffice, are [`lookups`]: which
//! names reach calls that look something up.

pub mod lookups;

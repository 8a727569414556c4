//! What can run, from where the program starts.
//!
//! Where the summary of the program does not suffice, some classes are read again: [`lookups`] finds which names reach calls
//! that look something up, [`links`] what the verifier loads.

mod again;
pub mod links;
pub mod lookups;

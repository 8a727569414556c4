//! From evidence to standings, and from standings to a selection.
//!
//! The first function to read is [`judge`]. A module's standing is that of its strongest evidence; the table is
//! [`EvidenceKind::standing`]. What a module weighs comes from outside, and nothing here knows of formats.

mod evidence;
mod selection;

pub use evidence::{Case, Evidence, EvidenceKind, Judgement, Place, Removed, is_modular, judge};
pub use selection::{LITTLE, NEXT_TO_NOTHING, Policy, Selection, known, select};

/// What the evidence adds up to for one module, strongest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Standing {
    /// Code asks for it, and nothing guards the asking.
    Needed,
    /// Asked for only by name, by feature, or far behind a guard.
    Uncertain,
    /// Asked for only where the program bears its absence.
    Tolerated,
    /// Named only where nothing can ask for it.
    Dormant,
}

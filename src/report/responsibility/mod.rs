//! Who brings what, ready for printing, and how pages of text and JSON show it.
//!
//! Values only, filled by the pipeline like [`super::Report`]. The type to read is [`Responsibility`].

pub(super) mod json;
pub(super) mod text;

/// Some modules and what they add to an image.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Share {
    /// Names, sorted.
    pub modules: Vec<String>,
    /// Bytes on disk; `None` where a size is not known.
    pub bytes: Option<u64>,
}

/// What one archive answers for.
#[derive(Clone, Debug)]
pub struct ArchiveRow {
    /// Its locator.
    pub archive: String,
    /// What goes from the selection if the archive goes from the program, with what is in it.
    pub goes: Share,
    /// What comes into the selection then: the archive hid a class, or stood in for the platform.
    pub comes: Share,
    /// Of what goes, what goes with no nearer archive. Every module of the selection is one archive's own at most.
    pub own: Share,
}

/// What keeping a module costs.
#[derive(Clone, Debug)]
pub struct CostRow {
    /// The module.
    pub module: String,
    /// What would go if it alone were not kept: itself and what only it requires; nothing where others require it.
    pub goes: Share,
}

/// Who brings what. The own parts of all archives, what is shared and what stays in any case add up to the total.
#[derive(Clone, Debug, Default)]
pub struct Responsibility {
    /// Archives without which the selection would be another, most bytes that go first.
    pub archives: Vec<ArchiveRow>,
    /// Archives left out of `archives`, which are those with the fewest bytes that go.
    pub omitted: usize,
    /// Bytes of their own parts.
    pub omitted_own: Option<u64>,
    /// Archives without which the selection would be the same.
    pub without_effect: usize,
    /// What stays whichever archive goes, and would not if all went.
    pub shared: Share,
    /// What is selected without any archive: java.base, what the launch, logs of runs and the user ask for.
    pub always: Share,
    /// Bytes of the selection.
    pub total: Option<u64>,
    /// What each uncertain module of the selection costs, sorted by name.
    pub uncertain: Vec<CostRow>,
}

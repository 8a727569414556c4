//! The answer of `settle`, as one value, and the formats that print it.
//!
//! Renderers compute nothing, as everywhere in the report. First to read is [`TrialReport`].

pub mod json;
pub mod text;

use super::Report;

/// What the trial of a command showed.
#[derive(Clone, Debug)]
pub struct TrialReport {
    /// The scan that it started from.
    pub report: Report,
    /// The command, word by word.
    pub command: Vec<String>,
    /// How it ended: `settled`, `fails-untrimmed`, …
    pub verdict: &'static str,
    /// Whether a list passed on a linked image: exit status 0.
    pub passed: bool,
    /// The same as a sentence.
    pub message: String,
    /// Of the run that decided it, where it did not pass.
    pub account: Option<AccountRow>,
    /// The lists, from the one by reading to the smallest.
    pub lists: Vec<ListRow>,
    /// Index in `lists` of the one that is recommended; it passed on a linked image.
    pub found: Option<usize>,
    /// What was shown of each module, by what is shown, then most bytes first.
    pub modules: Vec<TrialRow>,
    /// JVMs that one run of the command starts.
    pub jvms: usize,
    /// Modules that were in doubt.
    pub doubtful: usize,
    /// Runs of the command.
    pub runs: u64,
    /// The most runs that there may be.
    pub runs_at_most: u64,
    /// How often each trial was run.
    pub repeat: u16,
    /// What else was noticed, as sentences.
    pub notes: Vec<String>,
    /// What to bear in mind, as sentences.
    pub cautions: Vec<String>,
}

/// What a run that did not pass left.
#[derive(Clone, Debug, Default)]
pub struct AccountRow {
    /// How it ended, as a clause.
    pub ending: String,
    /// The lines that tell most, raw.
    pub lines: Vec<String>,
}

/// A list of modules and what was seen of it.
#[derive(Clone, Debug)]
pub struct ListRow {
    /// `by-reading`, `settled`, `smallest`.
    pub name: &'static str,
    /// What it is, as a clause.
    pub meaning: &'static str,
    /// Closed under requires, sorted.
    pub modules: Vec<String>,
    /// Bytes, where every module's are known.
    pub bytes: Option<u64>,
    /// The outcome with all other modules withheld: `passed`, `degraded`, `failed`, `flipped`.
    pub withheld: Option<&'static str>,
    /// The outcome on a linked image of it.
    pub linked: Option<&'static str>,
    /// Of the last run that did not pass.
    pub account: Option<AccountRow>,
}

/// What a trial can show of a module.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Shown {
    /// The command fails without it.
    Missed,
    /// It says or prints something else without it.
    Degrades,
    /// It passes or fails by chance without it.
    Flips,
    /// It passes without it.
    NotMissed,
    /// A kept module requires it.
    Required,
    /// No run was left for it.
    Untried,
}

impl Shown {
    /// All, in the order in which they are told.
    pub const ALL: [Shown; 6] =
        [Shown::Missed, Shown::Degrades, Shown::Flips, Shown::NotMissed, Shown::Required, Shown::Untried];

    /// The word in JSON.
    pub fn tag(self) -> &'static str {
        match self {
            Shown::Missed => "missed",
            Shown::Degrades => "degrades",
            Shown::Flips => "flips",
            Shown::NotMissed => "not-missed",
            Shown::Required => "required",
            Shown::Untried => "untried",
        }
    }
}

/// One module of the trial.
#[derive(Clone, Debug)]
pub struct TrialRow {
    /// `java.sql`.
    pub name: String,
    /// What reading found of it; absent where nothing names it.
    pub standing: Option<&'static str>,
    /// What the trial showed; absent where it was only seen loading.
    pub shown: Option<Shown>,
    /// Classes of it that were seen loading on the whole JDK.
    pub loads: u64,
    /// The first of them, binary names.
    pub loaded: Vec<String>,
    /// Whether the recommended list has it.
    pub kept: bool,
    /// Whether the smallest list leaves it out and the settled one does not.
    pub only_smallest: bool,
    /// Bytes of the module itself.
    pub bytes: Option<u64>,
    /// The class that was missing.
    pub class: Option<String>,
    /// The kept module that requires it.
    pub required_by: Option<String>,
    /// What the run without it said.
    pub account: Option<AccountRow>,
}

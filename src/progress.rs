//! How far a run has come. The library only counts; whoever wants to see it drawn implements [`Progress`].

/// A part of the run that takes time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// Opening archives and reading their directories.
    Archives,
    /// Reading class files; counted in bytes.
    Classes,
    /// Reading the platform.
    Platform,
    /// Finding out what can run.
    Reach,
    /// As a part of that, following names to calls that look something up.
    LookUps,
    /// What the verifier loads.
    Verifier,
    /// Putting what can run to the table of needs.
    Needs,
    /// Weighing evidence.
    Verdict,
    /// Measuring a JDK; counted in modules.
    Weights,
    /// Running the user's command; counted in runs.
    Trial,
    /// Judging anew without each archive; counted in archives.
    Removals,
}

impl Stage {
    /// The word shown to people.
    pub fn tag(self) -> &'static str {
        match self {
            Stage::Archives => "archives",
            Stage::Classes => "classes",
            Stage::Platform => "platform",
            Stage::Reach => "reach",
            Stage::LookUps => "look-ups",
            Stage::Verifier => "verifier",
            Stage::Needs => "needs",
            Stage::Verdict => "verdict",
            Stage::Weights => "weights",
            Stage::Trial => "trial",
            Stage::Removals => "by archive",
        }
    }
}

/// Is told how far a run has come; from several threads at once.
pub trait Progress: Sync {
    /// A stage begins; `total` is how much [`Progress::advance`] will add up to, 0 where that is not known.
    fn start(&self, stage: Stage, total: u64);

    /// Some of the stage is done.
    fn advance(&self, done: u64);
}

/// Tells nobody.
pub struct Silent;

impl Progress for Silent {
    fn start(&self, _stage: Stage, _total: u64) {}

    fn advance(&self, _done: u64) {}
}

//! Trials: the user's own command, run on the real JVM with modules withheld, shows which of them it misses.
//!
//! What withholding means, what is tried in which order and what a result proves stands in `search`; how a
//! command is run, watched and ended stands in `command`. Nothing here knows of arguments or formats. The first function
//! to read is [`settle`].

mod absence;
mod command;
mod environment;
mod image;
mod lab;
mod output;
mod remnants;
mod search;
mod watch;

use std::collections::{BTreeMap, BTreeSet};
use std::ffi::OsString;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::AtomicUsize;
use std::time::Duration;

use crate::diag::Findings;
use crate::error::Error;
use crate::graph::ModuleGraph;
use crate::limits::Limits;
use crate::platform::{Catalogue, ModuleId};
use crate::progress::{Progress, Stage};
use crate::verdict::{Selection, Standing};
use crate::weight::Scales;
pub use watch::Seen;

use lab::Lab;
use search::Search;

/// What is known before the first run.
pub struct Case<'a> {
    /// The modules of the JDK.
    pub catalogue: &'a Catalogue,
    /// What they require of each other.
    pub graph: &'a ModuleGraph,
    /// What they weigh.
    pub scales: &'a Scales,
    /// What reading found of each module.
    pub standings: BTreeMap<ModuleId, Standing>,
    /// The list that reading gives: the start.
    pub start: &'a Selection,
    /// Roots never withheld, since the user asks for them.
    pub wished: BTreeSet<ModuleId>,
    /// The limits and findings of the reader of logs.
    pub limits: &'a Limits,
}

/// How to run the command.
#[derive(Clone, Debug)]
pub struct Setting {
    /// The JDK.
    pub jdk: PathBuf,
    /// The command and its words, as they are handed to the system.
    pub command: Vec<OsString>,
    /// How often each trial is run: all runs must agree.
    pub repeat: u16,
    /// How long one run may take.
    pub timeout: Duration,
    /// What the command has to print on standard output, where the user says so.
    pub expect: Option<Vec<u8>>,
    /// Not 0 once the trial is to be broken off.
    pub stop: Arc<AtomicUsize>,
}

/// How a trial, that is all runs of one kind, came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Exit status 0 each time, and nothing new was said.
    Passed,
    /// Exit status 0, but something was said to be missing that is not on the whole JDK, or the output is not the expected
    /// one.
    Degraded,
    /// Another exit status, a signal, or it took too long.
    Failed,
    /// Some runs passed and some did not: it proves nothing.
    Flipped,
}

/// What a run that did not pass left to be read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Account {
    /// How it ended, as a clause: `exit status 1`.
    pub ending: String,
    /// The lines that tell most, raw, a few.
    pub lines: Vec<String>,
    /// Names in what was said that may be those of missing classes or modules, dotted.
    pub names: Vec<String>,
}

/// All runs of one kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trial {
    /// How they came out.
    pub outcome: Outcome,
    /// Of the first run that did not pass; empty where all did.
    pub account: Account,
}

/// What the trial showed of a module.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Showing {
    /// The command failed without it.
    Missed {
        /// The class of it that was missing, binary name, where the output says one.
        class: Option<String>,
        /// What the run said.
        account: Account,
    },
    /// The command passed without it.
    NotMissed,
    /// The command ended well without it, and said or printed something else.
    Degrades(Account),
    /// The command passes at one time and not at another without it.
    Flips(Account),
    /// It could not be withheld alone, since a kept module requires it.
    Required(ModuleId),
    /// No run was left for it.
    Untried,
}

/// A list and what was seen of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// Closed under requires, sorted.
    pub modules: Vec<ModuleId>,
    /// How the command came out with no other modules observable (JEP 261, `--limit-modules`).
    pub limited: Option<Outcome>,
    /// How the command came out on an image linked of exactly these.
    pub linked: Option<Outcome>,
    /// What the last run that did not pass said.
    pub account: Option<Account>,
}

/// How the whole ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum End {
    /// At least one list passed on a linked image.
    Settled,
    /// The command does not pass on the whole JDK: nothing can be shown.
    FailsUntrimmed(Account),
    /// The command passes on the whole JDK at one time and not at another.
    FlipsUntrimmed(Account),
    /// The same with the list by reading.
    Flips(Account),
    /// No JVM of the JDK was seen to start.
    NoJvm,
    /// No list below the whole JDK passed.
    NoList(Account),
    /// Lists passed where modules were only withheld, and none passed on an image, or none could be linked.
    NoImage(Account),
}

/// Everything that the runs showed.
#[derive(Clone, Debug)]
pub struct Settled {
    /// How it ended.
    pub end: End,
    /// JVMs that the watched run started.
    pub jvms: usize,
    /// Whether options had to go to every JVM, since a launcher other than `java` was seen.
    pub every_jvm: bool,
    /// Whether trials ran on linked images from the start, since the program is started from the module path.
    pub modular: bool,
    /// The same, since the command limits modules by itself.
    pub limited: bool,
    /// Modules of which classes were seen loading on the whole JDK.
    pub observed: BTreeMap<ModuleId, Seen>,
    /// What was shown of each module that was tried.
    pub showings: BTreeMap<ModuleId, Showing>,
    /// The list by reading.
    pub start: Listed,
    /// Without the doubtful modules that were not missed; absent where nothing passed.
    pub settled: Option<Listed>,
    /// The smallest list that was found to pass.
    pub smallest: Option<Listed>,
    /// How many modules were in doubt before the first run.
    pub doubtful: usize,
    /// Runs of the command, and how many there may be.
    pub runs: (u64, u64),
    /// Runs that left processes behind, and how many processes were ended.
    pub left_behind: (u64, u64),
    /// Whether something was said beside, as sentences.
    pub notes: Vec<String>,
}

/// Runs the command in all ways that are needed.
///
/// # Errors
///
/// [`Error::Usage`] for a command that cannot be started or paths that cannot be handed over, [`Error::BrokenOff`] where
/// [`Setting::stop`] said so, [`Error::Output`] where no temporary file can be written.
pub fn settle(
    case: &Case<'_>,
    setting: &Setting,
    findings: &mut Findings,
    progress: &dyn Progress,
) -> Result<Settled, Error> {
    let doubtful = case.standings.values().filter(|standing| **standing != Standing::Needed).count();
    let mut lab = Lab::new(case, setting, progress)?;
    progress.start(Stage::Trial, 0);
    let watched = lab.watch(findings)?;
    // What nothing reaches is in doubt only where it was seen to load.
    let dormant_and_unseen = case
        .standings
        .iter()
        .filter(|(id, standing)| **standing == Standing::Dormant && !watched.observed.contains_key(id))
        .count();
    let doubtful = doubtful - dormant_and_unseen;
    lab.allow(2 * (doubtful as u64 + 3) * u64::from(setting.repeat));
    progress.start(Stage::Trial, lab.most());
    let start = Listed { modules: case.start.modules.clone(), limited: None, linked: None, account: None };
    let (jvms, every_jvm, modular, limited) = (watched.jvms, watched.every_jvm, watched.modular, watched.limited);
    let untried = |end: End, lab: &Lab<'_>, observed| Settled {
        end,
        jvms,
        every_jvm,
        modular,
        limited,
        observed,
        showings: BTreeMap::new(),
        start: start.clone(),
        settled: None,
        smallest: None,
        doubtful,
        runs: (lab.runs(), lab.most()),
        left_behind: lab.left_behind(),
        notes: lab.notes(),
    };
    let end = match watched.trial.outcome {
        Outcome::Passed if watched.jvms == 0 => Some(End::NoJvm),
        Outcome::Passed => None,
        // On the whole JDK no warning is new: its output is not the expected one.
        Outcome::Degraded | Outcome::Failed => Some(End::FailsUntrimmed(watched.trial.account)),
        Outcome::Flipped => Some(End::FlipsUntrimmed(watched.trial.account)),
    };
    if let Some(end) = end {
        return Ok(untried(end, &lab, watched.observed));
    }
    let weight = |seen: &Seen| if seen.only_met { 0 } else { seen.loads };
    let seen = watched.observed.iter().map(|(id, seen)| (*id, weight(seen))).collect();
    let found = Search::new(case, seen, &mut lab).run()?;
    Ok(Settled {
        showings: found.showings,
        settled: found.settled,
        smallest: found.smallest,
        start: found.start,
        ..untried(found.end, &lab, watched.observed)
    })
}

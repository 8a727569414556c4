//! What a run is to do: validated settings, whatever they came from.

use std::ffi::OsString;
use std::path::PathBuf;
use std::time::Duration;

use crate::error::Error;
use crate::limits::Limits;
use crate::needs::Launch;
use crate::verdict::Policy;

/// Settings of one run.
#[derive(Clone, Debug, Default)]
pub struct Plan {
    /// Archives and folders, as one program in class path order.
    pub inputs: Vec<PathBuf>,
    /// A JDK to judge for.
    pub jdk: Option<PathBuf>,
    /// A release whose built-in catalogue to judge for.
    pub release: Option<u16>,
    /// Entry points beside those of the manifests, binary names.
    pub entries: Vec<String>,
    /// The options with which the program is launched.
    pub launch: Launch,
    /// What the runtime is to serve beside the program: names of [`crate::needs::purposes`].
    pub purposes: Vec<String>,
    /// Lists of classes that are looked up by names which no code shows.
    pub names: Vec<PathBuf>,
    /// Class-load logs of runs, each with its rotated parts.
    pub witness: Vec<PathBuf>,
    /// How much doubt to keep.
    pub policy: Policy,
    /// Modules to keep whatever the evidence.
    pub with: Vec<String>,
    /// Modules to leave out whatever the evidence.
    pub without: Vec<String>,
    /// Whether to find out which archive brings what: judges the program anew without each.
    pub by_archive: bool,
    /// Options as they were said, beside inputs, policy and wishes: what has to be said again for the same answer.
    pub said: Vec<String>,
    /// Maxima for hostile input.
    pub limits: Limits,
}

/// What is to be weighed, beside the program that the plan names.
#[derive(Clone, Debug, Default)]
pub struct Weighed {
    /// Modules in place of a program's.
    pub modules: Vec<String>,
    /// Options of the linker, as its user gives them.
    pub link: Option<String>,
}

/// Settings of a trial, beside those of the scan that it starts from.
#[derive(Clone, Debug)]
pub struct TrialPlan {
    /// The command and its words.
    pub command: Vec<OsString>,
    /// How often each trial is run.
    pub repeat: u16,
    /// How long one run of the command may take.
    pub timeout: Duration,
    /// A file with what the command has to print on standard output.
    pub expect: Option<PathBuf>,
    /// Whether the command is said to run all that matters, so that what it does not miss may go.
    pub trust_command: bool,
}

impl Plan {
    /// Refuses contradictions; the message names both options.
    pub fn validate(&self) -> Result<(), Error> {
        if let (Some(jdk), Some(release)) = (&self.jdk, self.release) {
            return Err(Error::Usage(format!(
                "--jdk {} and --release {release} contradict each other: a JDK is of one release",
                jdk.display()
            )));
        }
        Ok(())
    }
}

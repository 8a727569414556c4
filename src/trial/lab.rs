//! Runs of the command: each on the JDK or on a linked image, watched or with modules withheld, repeated and counted.
//!
//! The first functions to read are [`Lab::watch`] and the [`Trials`] of it.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::time::Duration;

use tempfile::TempDir;

use crate::diag::Findings;
use crate::error::Error;
use crate::platform::ModuleId;
use crate::progress::Progress;

use super::command::{self, Ending, Ran};
use super::environment::{self, Options};
use super::search::Trials;
use super::watch::{self, Jvms, Seen};
use super::{Account, Case, Outcome, Setting, Trial, image, output};

/// A run with modules withheld that takes this many times as long as one on the whole JDK, and [`LEEWAY`] on top, hangs.
const TIMES_AS_LONG: u32 = 5;
const LEEWAY: Duration = Duration::from_secs(20);

/// What watching the command on the whole JDK showed.
pub(super) struct Watched {
    pub(super) trial: Trial,
    pub(super) jvms: usize,
    pub(super) every_jvm: bool,
    pub(super) modular: bool,
    pub(super) limited: bool,
    pub(super) observed: BTreeMap<ModuleId, Seen>,
}

/// Runs the command.
#[allow(clippy::struct_excessive_bools, reason = "each is one thing that was seen of the command or is asked of a run")]
pub(super) struct Lab<'a> {
    case: &'a Case<'a>,
    setting: &'a Setting,
    progress: &'a dyn Progress,
    home: PathBuf,
    folder: TempDir,
    limit: Duration,
    /// What is said on the whole JDK.
    known: BTreeSet<String>,
    /// What the last trial said beyond.
    new: BTreeSet<String>,
    unexpected: bool,
    every_jvm: bool,
    on_images: bool,
    /// Whether the JVM is to write down what it could not find.
    explains: bool,
    runs: u64,
    most: u64,
    left_behind: (u64, u64),
    notes: Vec<String>,
}

impl<'a> Lab<'a> {
    pub(super) fn new(case: &'a Case<'a>, setting: &'a Setting, progress: &'a dyn Progress) -> Result<Self, Error> {
        let failed = |path: &Path, source| Error::Output { path: path.to_owned(), source };
        let folder = tempfile::Builder::new()
            .prefix("secateur-trial-")
            .tempdir()
            .map_err(|source| failed(&std::env::temp_dir(), source))?;
        let home = std::path::absolute(&setting.jdk).map_err(|source| failed(&setting.jdk, source))?;
        Ok(Lab {
            case,
            setting,
            progress,
            home,
            folder,
            limit: setting.timeout,
            known: BTreeSet::new(),
            new: BTreeSet::new(),
            unexpected: false,
            every_jvm: false,
            on_images: false,
            explains: false,
            runs: 0,
            most: u64::MAX,
            left_behind: (0, 0),
            notes: Vec::new(),
        })
    }

    /// Runs the command on the whole JDK.
    pub(super) fn watch(&mut self, findings: &mut Findings) -> Result<Watched, Error> {
        let logs = self.subfolder("watch")?;
        let options = watch::options(&logs, true)?;
        let home = self.home.clone();
        let mut longest = Duration::ZERO;
        let trial = self.trial(&home, &options, &mut |lab, ran| {
            longest = longest.max(ran.took);
            lab.known.extend(output::warnings(ran));
        })?;
        self.limit = self.setting.timeout.min(longest * TIMES_AS_LONG + LEEWAY);
        let jvms = watch::jvms(&logs, &self.home, self.case.catalogue);
        let mut observed = watch::read(&jvms, self.case.catalogue, self.case.limits, findings)?;
        let idle = self.idle(findings)?;
        observed.retain(|id, seen| idle.get(id).is_none_or(|idle| seen.loads > idle.loads * jvms.ours as u64));
        // Logs of class loading are large, and no run needs those of another.
        let _ = std::fs::remove_dir_all(&logs);
        self.every_jvm = jvms.foreign_launcher;
        self.on_images = jvms.modular || jvms.limited;
        let count = jvms.ours.div_ceil(usize::from(self.setting.repeat).max(1));
        self.remark(&jvms, "the JDK");
        Ok(Watched {
            trial,
            jvms: count,
            every_jvm: self.every_jvm,
            modular: jvms.modular,
            limited: jvms.limited,
            observed,
        })
    }

    /// What a JVM loads that runs nothing: its start, and the log itself.
    fn idle(&self, findings: &mut Findings) -> Result<BTreeMap<ModuleId, Seen>, Error> {
        let (logs, folder) = (self.subfolder("idle-logs")?, self.subfolder("idle")?);
        let words = [self.home.join("bin/java").into(), "-version".into()];
        let variables = environment::variables(&self.home, &watch::options(&logs, true)?)?;
        command::run(&words, &variables, &folder, self.setting.timeout, &self.setting.stop)?;
        let jvms = watch::jvms(&logs, &self.home, self.case.catalogue);
        watch::read(&jvms, self.case.catalogue, self.case.limits, findings)
    }

    /// Sets how many runs there may be.
    pub(super) fn allow(&mut self, most: u64) {
        self.most = most;
    }

    pub(super) fn most(&self) -> u64 {
        self.most
    }

    pub(super) fn runs(&self) -> u64 {
        self.runs
    }

    /// Runs that left something running, and how many processes that were.
    pub(super) fn left_behind(&self) -> (u64, u64) {
        self.left_behind
    }

    pub(super) fn notes(&self) -> Vec<String> {
        self.notes.clone()
    }

    /// Runs the command as often as the user says, and lets `each` look at each run that ended well.
    fn trial(&mut self, home: &Path, options: &Options, each: &mut dyn FnMut(&mut Self, &Ran)) -> Result<Trial, Error> {
        let missing = self.subfolder("missing")?;
        let mut options = options.clone();
        if self.explains {
            let further = watch::missing(&missing)?;
            if self.every_jvm { options.jvm.push(further) } else { options.launcher.push(further) }
        }
        let mut variables = environment::variables(home, &options)?;
        if home != self.home {
            // Tools that an image has not may be the command's own, such as one that makes a key store.
            for (name, value) in &mut variables {
                if let ("PATH", Some(path)) = (*name, value) {
                    let tools = self.home.join("bin");
                    let folders: Vec<PathBuf> = std::env::split_paths(&*path).collect();
                    let (first, rest) = folders.split_at(1.min(folders.len()));
                    let all = first.iter().chain([&tools]).chain(rest);
                    *path = std::env::join_paths(all).map_err(|error| Error::Usage(error.to_string()))?;
                }
            }
        }
        let mut outcomes: BTreeSet<u8> = BTreeSet::new();
        let mut account = Account::default();
        let mut outcome = Outcome::Passed;
        self.new.clear();
        self.unexpected = false;
        for _ in 0..self.setting.repeat.max(1) {
            let folder = self.subfolder("run")?;
            let ran = command::run(&self.setting.command, &variables, &folder, self.limit, &self.setting.stop)?;
            self.runs += 1;
            self.progress.advance(1);
            if ran.left_behind > 0 {
                self.left_behind.0 += 1;
                self.left_behind.1 += ran.left_behind;
            }
            let one = if ran.ending == Ending::Status(0) {
                each(self, &ran);
                self.good(&ran, &mut account)
            } else {
                Outcome::Failed
            };
            if one == Outcome::Failed && account == Account::default() {
                account = output::account(&ran);
                output::add_missing(&mut account, &missing);
            }
            outcomes.insert(u8::from(one == Outcome::Failed));
            if one != Outcome::Passed {
                outcome = one;
            }
            let _ = std::fs::remove_dir_all(&folder);
            // Two that disagree say all.
            if outcomes.len() > 1 {
                return Ok(Trial { outcome: Outcome::Flipped, account });
            }
        }
        Ok(Trial { outcome, account })
    }

    /// Whether a run that ended well did what those on the whole JDK do.
    fn good(&mut self, ran: &Ran, account: &mut Account) -> Outcome {
        if let Some(expected) = &self.setting.expect
            && !same_text(expected, &output::text(&ran.stdout))
        {
            self.unexpected = true;
            *account = output::account(ran);
            "exit status 0, but standard output is not the expected one".clone_into(&mut account.ending);
            return Outcome::Degraded;
        }
        let new: BTreeSet<String> = output::warnings(ran).difference(&self.known).cloned().collect();
        if new.is_empty() {
            return Outcome::Passed;
        }
        *account = output::account(ran);
        "exit status 0, but with warnings that the whole JDK does not give".clone_into(&mut account.ending);
        account.lines = new.iter().take(5).cloned().collect();
        self.new.extend(new);
        Outcome::Degraded
    }

    fn subfolder(&self, name: &str) -> Result<PathBuf, Error> {
        let folder = self.folder.path().join(name);
        // Of an earlier run, where it could not be removed.
        let _ = std::fs::remove_dir_all(&folder);
        std::fs::create_dir_all(&folder).map_err(|source| Error::Output { path: folder.clone(), source })?;
        Ok(folder)
    }

    /// Says which JVMs were not those that the trial is about.
    fn remark(&mut self, jvms: &Jvms, of: &str) {
        let mut others = jvms.others.clone();
        others.sort();
        others.dedup();
        for other in others {
            self.note(format!("The command also starts a JVM that is not of {of}, from {other}: it shows nothing."));
        }
        if !jvms.tools.is_empty() {
            let text =
                "The command uses tools of the JDK: they are left out of account, and an image may not have them.";
            self.note(text.to_owned());
        }
    }

    fn note(&mut self, text: String) {
        if !self.notes.contains(&text) {
            self.notes.push(text);
        }
    }

    fn list(&self, modules: &[ModuleId]) -> String {
        modules.iter().map(|&id| self.case.catalogue.name(id)).collect::<Vec<_>>().join(",")
    }
}

impl Trials for Lab<'_> {
    fn limited(&mut self, modules: &[ModuleId]) -> Result<Trial, Error> {
        if self.on_images {
            return Ok(match self.linked(modules)? {
                Ok(trial) => trial,
                Err(account) => Trial { outcome: Outcome::Failed, account },
            });
        }
        let option = vec![format!("--limit-modules={}", self.list(modules))];
        let options = if self.every_jvm {
            Options { launcher: Vec::new(), jvm: option }
        } else {
            Options { launcher: option, jvm: Vec::new() }
        };
        let home = self.home.clone();
        self.trial(&home, &options, &mut |_, _| ())
    }

    fn explained(&mut self, modules: &[ModuleId]) -> Result<Trial, Error> {
        self.explains = true;
        let trial = self.limited(modules);
        self.explains = false;
        trial
    }

    fn linked(&mut self, modules: &[ModuleId]) -> Result<Result<Trial, Account>, Error> {
        let folder = self.subfolder("link")?;
        let image = match image::link(&self.home, &self.list(modules), &folder, &self.setting.stop)? {
            Ok(image) => image,
            Err(account) => return Ok(Err(account)),
        };
        let logs = self.subfolder("image-logs")?;
        let options = watch::options(&logs, false)?;
        let trial = self.trial(&image, &options, &mut |_, _| ())?;
        let jvms = watch::jvms(&logs, &image, self.case.catalogue);
        self.remark(&jvms, "the image");
        let _ = std::fs::remove_dir_all(&folder);
        if trial.outcome == Outcome::Passed && jvms.ours == 0 {
            let ending = "no JVM of the image was seen to start, so the run shows nothing of it".to_owned();
            return Ok(Ok(Trial { outcome: Outcome::Failed, account: Account { ending, ..Account::default() } }));
        }
        Ok(Ok(trial))
    }

    fn left(&self) -> u64 {
        self.most.saturating_sub(self.runs) / u64::from(self.setting.repeat.max(1))
    }

    fn bear(&mut self) -> bool {
        self.known.extend(std::mem::take(&mut self.new));
        !self.unexpected
    }
}

/// The same lines, whatever stands at the end of each and of the last.
fn same_text(expected: &[u8], printed: &str) -> bool {
    let expected = String::from_utf8_lossy(expected);
    let lines =
        |text: &str| -> Vec<String> { text.trim_end().lines().map(|line| line.trim_end().to_owned()).collect() };
    lines(&expected) == lines(printed)
}

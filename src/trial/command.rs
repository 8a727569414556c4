//! One run of one command: in a process group of its own, within a time, with its output in files, and with nothing of it
//! left running.
//!
//! Knows processes and nothing of modules. The first function to read is [`run`].

use std::ffi::OsString;
use std::fs::File;
use std::os::unix::process::{CommandExt, ExitStatusExt};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicU64, AtomicUsize, Ordering};
use std::thread::sleep;
use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

use rustix::process::{Pid, WaitId, WaitIdOptions, waitid};

use crate::error::Error;

use super::remnants;

/// Output that a run may leave; one that writes without end would fill the disk.
const OUTPUT: u64 = 256 << 20;

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ending {
    /// By itself.
    Status(i32),
    /// By a signal that was not ours.
    Signal(i32),
    /// It took longer than it may.
    TookTooLong(Duration),
    /// It wrote more than it may.
    WroteTooMuch,
}

impl Ending {
    /// As a clause.
    pub(super) fn words(self) -> String {
        match self {
            Ending::Status(status) => format!("exit status {status}"),
            Ending::Signal(signal) => format!("ended by signal {signal}"),
            Ending::TookTooLong(limit) => format!("took longer than {} s", limit.as_secs()),
            Ending::WroteTooMuch => format!("wrote more than {} MB", OUTPUT >> 20),
        }
    }
}

/// What a run left.
#[derive(Debug)]
pub(super) struct Ran {
    /// How it ended.
    pub(super) ending: Ending,
    /// The file with its standard output.
    pub(super) stdout: PathBuf,
    /// The file with its standard error.
    pub(super) stderr: PathBuf,
    /// How long it took.
    pub(super) took: Duration,
    /// Processes that were still running when it had ended by itself, and have been ended.
    pub(super) left_behind: u64,
}

/// Runs a command to its end or to that of its time. Its output goes to files in `folder`, so that a daemon that it leaves
/// behind cannot hold a pipe open; variables with no value are taken away.
pub(super) fn run(
    words: &[OsString],
    variables: &[(&str, Option<OsString>)],
    folder: &Path,
    limit: Duration,
    stop: &AtomicUsize,
) -> Result<Ran, Error> {
    let Some((program, rest)) = words.split_first() else { return Err(Error::Usage("there is no command".into())) };
    let (stdout, stderr) = (folder.join("stdout"), folder.join("stderr"));
    let create = |path: &PathBuf| File::create(path).map_err(|source| Error::Output { path: path.clone(), source });
    let mark = mark();
    let mut command = Command::new(program);
    command.args(rest).stdin(Stdio::null()).stdout(create(&stdout)?).stderr(create(&stderr)?).process_group(0);
    for (name, value) in variables {
        match value {
            Some(value) => command.env(name, value),
            None => command.env_remove(name),
        };
    }
    command.env(remnants::MARK, &mark);
    let started = Instant::now();
    let mut child = command
        .spawn()
        .map_err(|error| Error::Usage(format!("cannot start {}: {error}", Path::new(program).display())))?;
    let group = i32::try_from(child.id()).ok().and_then(Pid::from_raw);
    let mut pause = Duration::from_millis(2);
    // A leader that has ended is looked at and not yet buried: its number is nobody else's until its group is ended.
    let cut = loop {
        if ended(group) {
            break None;
        }
        if stop.load(Ordering::Relaxed) != 0 {
            break Some(None);
        }
        if started.elapsed() > limit {
            break Some(Some(Ending::TookTooLong(limit)));
        }
        if written(&stdout) + written(&stderr) > OUTPUT {
            break Some(Some(Ending::WroteTooMuch));
        }
        sleep(pause);
        pause = (pause * 2).min(Duration::from_millis(50));
    };
    let took = started.elapsed();
    let left = remnants::end_all(group, &mark);
    if cut.is_some() {
        // Where the system does not show who has the mark, the leader may still be there.
        let _ = child.kill();
    }
    let status = child.wait().map_err(|source| Error::Input { path: program.into(), source })?;
    let ending = match cut {
        Some(None) => return Err(Error::BrokenOff),
        Some(Some(ending)) => ending,
        None => match (status.code(), status.signal()) {
            (Some(code), _) => Ending::Status(code),
            (None, signal) => Ending::Signal(signal.unwrap_or_default()),
        },
    };
    let left_behind = if cut.is_none() { left } else { 0 };
    Ok(Ran { ending, stdout, stderr, took, left_behind })
}

fn ended(group: Option<Pid>) -> bool {
    let options = WaitIdOptions::EXITED | WaitIdOptions::NOHANG | WaitIdOptions::NOWAIT;
    // Whatever the system has against the question, waiting for an answer would be without end.
    group.is_none_or(|pid| waitid(WaitId::Pid(pid), options).map_or(true, |status| status.is_some()))
}

fn written(path: &Path) -> u64 {
    path.metadata().map_or(0, |found| found.len())
}

/// A text that no other run has.
fn mark() -> String {
    static COUNT: AtomicU64 = AtomicU64::new(0);
    let now = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default().as_nanos();
    format!("{}-{now}-{}", std::process::id(), COUNT.fetch_add(1, Ordering::Relaxed))
}

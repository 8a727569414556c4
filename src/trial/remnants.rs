//! Ending what a command leaves running, however it got away: background jobs, daemons, groups of their own.
//!
//! Only what the command itself started is touched: it is known by its process group, and by a variable with a value
//! that no other run has, which children inherit. The first function to read is [`end_all`].

use std::collections::BTreeSet;
use std::fs;
use std::thread::sleep;
use std::time::{Duration, Instant};

use rustix::process::{Pid, Signal, kill_process, kill_process_group};

/// The variable by which what a run starts is known again.
pub(super) const MARK: &str = "SECATEUR_TRIAL";

/// How long what is asked to end may take before it is killed.
const GRACE: Duration = Duration::from_secs(3);
/// How long the system may take to bury what is killed.
const BURIAL: Duration = Duration::from_secs(5);

/// Asks what is left of a run to end, kills what does not, and says how many processes there were.
///
/// `group` is the run's process group while its leader has not been waited for, so that no other process can have taken
/// the number.
pub(super) fn end_all(group: Option<Pid>, mark: &str) -> u64 {
    let leader = group.map_or(0, |group| group.as_raw_nonzero().get());
    let at_first = marked(mark).into_iter().filter(|&pid| pid != leader).count() as u64;
    for (signal, patience) in [(Signal::TERM, GRACE), (Signal::KILL, BURIAL)] {
        let deadline = Instant::now() + patience;
        let mut told: BTreeSet<i32> = BTreeSet::new();
        if let Some(group) = group {
            // Who is gone already cannot be told; that is what is wanted.
            let _ = kill_process_group(group, signal);
        }
        loop {
            let found = marked(mark);
            if found.is_empty() {
                return at_first;
            }
            for pid in found {
                // What is started meanwhile is told as well; nobody is told twice.
                if told.insert(pid)
                    && let Some(pid) = Pid::from_raw(pid)
                {
                    let _ = kill_process(pid, signal);
                }
            }
            if Instant::now() > deadline {
                break;
            }
            sleep(Duration::from_millis(20));
        }
    }
    at_first
}

/// Processes that inherited the mark, by what the system shows of them; those that only wait to be buried show nothing.
fn marked(mark: &str) -> Vec<i32> {
    let needle = format!("{MARK}={mark}");
    let mut found: Vec<i32> = fs::read_dir("/proc")
        .into_iter()
        .flatten()
        .flatten()
        .filter_map(|entry| entry.file_name().to_str()?.parse().ok())
        .filter(|pid| {
            // It may be gone by now, or be somebody else's.
            fs::read(format!("/proc/{pid}/environ"))
                .is_ok_and(|all| all.split(|byte| *byte == 0).any(|variable| variable == needle.as_bytes()))
        })
        .collect();
    found.sort_unstable();
    found
}

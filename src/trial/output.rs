//! What a run said: the few lines that tell why it failed, the names in them, and warnings.
//!
//! Reads files that a command wrote: they are bounded here, and what is taken from them is raw. The first functions to
//! read are [`account`] and [`warnings`].

use std::collections::BTreeSet;
use std::fs::File;
use std::io::{Read, Seek, SeekFrom};
use std::path::Path;

use super::Account;
use super::command::Ran;

/// Bytes of each output that are looked at, from its end: what failed a command stands there.
const LOOKED_AT: u64 = 4 << 20;
/// Lines of an excerpt, and characters of a line.
const LINES: usize = 5;
const CHARACTERS: usize = 300;
/// Names taken from one run, and warnings.
const NAMES: usize = 200;
const WARNINGS: usize = 10_000;

/// Words of lines that say what is wrong; a class that ends in one of the first two is a `Throwable` by custom.
const TELLING: [&str; 9] =
    ["Exception", "Error", "Caused by", "not found", "cannot", "FAIL", "failed", "WARN", "SEVERE"];

/// What tells most of a run that did not pass.
pub(super) fn account(ran: &Ran) -> Account {
    let texts = [text(&ran.stdout), text(&ran.stderr)];
    let lines = || texts.iter().flat_map(|text| text.lines()).filter(|line| !of_the_trial(line));
    let telling: Vec<&str> = lines().filter(|line| is_telling(line) && !is_frame(line)).collect();
    let mut names: Vec<String> = Vec::new();
    for name in telling.iter().flat_map(|line| names_in(line)) {
        if names.len() < NAMES && !names.contains(&name) {
            names.push(name);
        }
    }
    let mut shown: Vec<&str> = Vec::new();
    // Those that name something go first; the cause of a cause stands last.
    for line in telling.iter().rev().filter(|line| !names_in(line).is_empty()).chain(telling.iter().rev()) {
        if shown.len() < LINES && !shown.contains(line) {
            shown.push(line);
        }
    }
    if shown.is_empty() {
        let all: Vec<&str> = lines().filter(|line| !line.trim().is_empty()).collect();
        shown = all.into_iter().rev().take(LINES).collect();
    }
    // In the order in which they were said.
    let mut said: Vec<&str> = Vec::new();
    for line in lines() {
        if shown.contains(&line) && !said.contains(&line) {
            said.push(line);
        }
    }
    let lines = said.into_iter().map(|line| line.trim().chars().take(CHARACTERS).collect()).collect();
    Account { ending: ran.ending.words(), lines, names }
}

/// Warnings and errors that a run gave, without what changes from run to run.
pub(super) fn warnings(ran: &Ran) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for text in [text(&ran.stdout), text(&ran.stderr)] {
        for line in text.lines().filter(|line| !of_the_trial(line) && is_telling(line) && !is_frame(line)) {
            if found.len() < WARNINGS {
                found.insert(without_what_changes(line));
            }
        }
    }
    found
}

/// The end of a file, as text.
pub(super) fn text(path: &Path) -> String {
    let mut bytes = Vec::new();
    // A file that cannot be read any more has nothing to tell.
    if let Ok(mut file) = File::open(path) {
        let size = file.metadata().map_or(0, |found| found.len());
        let _ = file.seek(SeekFrom::Start(size.saturating_sub(LOOKED_AT)));
        let _ = file.take(LOOKED_AT).read_to_end(&mut bytes);
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

/// What launcher and JVM say of the options that a trial hands them.
fn of_the_trial(line: &str) -> bool {
    line.contains("Picked up JDK_JAVA_OPTIONS:") || line.contains("Picked up JAVA_TOOL_OPTIONS:")
}

fn is_telling(line: &str) -> bool {
    TELLING.iter().any(|word| line.contains(word))
}

/// A line of a stack trace (`Throwable.printStackTrace`): where, and not what.
fn is_frame(line: &str) -> bool {
    line.trim_start().starts_with("at ") && line.trim_end().ends_with(')')
}

/// Words of a line that may be names of classes or modules, dotted: two parts at least.
fn names_in(line: &str) -> Vec<String> {
    line.split(|c: char| !(c.is_alphanumeric() || matches!(c, '.' | '/' | '_' | '$')))
        .map(|word| word.trim_matches(['.', '/']).replace('/', "."))
        .filter(|word| word.contains('.') && word.starts_with(|c: char| c.is_alphabetic()))
        .collect()
}

/// Numbers and names of temporary files differ from run to run; the rest of a message does not.
fn without_what_changes(line: &str) -> String {
    let mut kept = String::new();
    for word in line.split_whitespace() {
        if !kept.is_empty() {
            kept.push(' ');
        }
        if word.contains("/tmp/") || word.starts_with("0x") {
            kept.push('…');
            continue;
        }
        let mut within = false;
        for c in word.chars() {
            let digit = c.is_ascii_digit();
            if !digit {
                kept.push(c);
            } else if !within {
                kept.push('0');
            }
            within = digit;
        }
        // The number of an object (`Object.toString`) may hold letters.
        if let Some(at) = kept.rfind('@') {
            kept.truncate(at + 1);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trial::command::Ending;
    use std::time::Duration;

    fn said(stdout: &str, stderr: &str) -> (Account, BTreeSet<String>) {
        let folder = tempfile::tempdir().unwrap();
        let (out, err) = (folder.path().join("out"), folder.path().join("err"));
        std::fs::write(&out, stdout).unwrap();
        std::fs::write(&err, stderr).unwrap();
        let ran = Ran { ending: Ending::Status(1), stdout: out, stderr: err, took: Duration::ZERO, left_behind: 0 };
        (account(&ran), warnings(&ran))
    }

    /// Forms of messages: `Throwable.toString`, `Throwable.printStackTrace`, `java.lang.module.FindException`.
    #[test]
    fn the_missing_class_is_found_and_its_line_is_quoted() {
        let stderr = "NOTE: Picked up JDK_JAVA_OPTIONS: --limit-modules=java.base\n\
            tide station ready\n\
            Exception in thread \"main\" java.lang.NoClassDefFoundError: java/sql/DriverManager\n\
            \tat tide.Store.open(Store.java:7)\n\
            Caused by: java.lang.ClassNotFoundException: java.sql.DriverManager\n";
        let (account, _) = said("gauge 7\n", stderr);
        assert_eq!(account.ending, "exit status 1");
        assert!(account.names.contains(&"java.sql.DriverManager".to_owned()), "{:?}", account.names);
        assert!(!account.names.iter().any(|name| name.starts_with("tide.")), "a frame is no cause");
        assert_eq!(account.lines.len(), 2, "{:?}", account.lines);
        let (account, _) = said("", "java.lang.module.FindException: Module jdk.jfr not found\n");
        assert!(account.names.contains(&"jdk.jfr".to_owned()));
    }

    #[test]
    fn where_nothing_tells_the_last_lines_are_quoted() {
        let (account, warnings) = said("1\n2\n3\n4\n5\n6\n7\n", "");
        assert_eq!(account.lines, ["3", "4", "5", "6", "7"]);
        assert!(warnings.is_empty());
    }

    #[test]
    fn warnings_are_the_same_from_run_to_run() {
        let one = said("", "2026-11-25 21:00:01.123 WARN 4711 tide.Gauge@1f2e no font in /tmp/cw.aB12/home\n").1;
        let other = said("", "2026-11-25 21:00:09.7 WARN 12 tide.Gauge@77ab no font in /tmp/cw.Xy9/home\n").1;
        assert_eq!(one, other);
        assert_ne!(one, said("", "WARN no gauge\n").1);
    }

    #[test]
    fn long_lines_are_cut() {
        let (account, _) = said(&format!("Error: {}\n", "x".repeat(10_000)), "");
        assert_eq!(account.lines[0].chars().count(), CHARACTERS);
    }
}

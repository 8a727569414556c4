//! What a run said: the few lines that tell why it failed, the names in them, and warnings.
//!
//! Reads files that a command wrote: they are bounded here, and what is taken from them is raw. The first functions to
//! read are [`account`] and [`warnings`].

use std::collections::BTreeSet;
use std::fs::File;
use std::io::{Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};

use super::command::Ran;
use super::{Account, absence};

/// Bytes of each output that are looked at, from its end: what failed a command stands there.
const LOOKED_AT: u64 = 4 << 20;
/// Lines of an excerpt, and characters of a line.
const LINES: usize = 5;
const CHARACTERS: usize = 300;
/// Names taken from one run, and warnings.
const NAMES: usize = 200;
const WARNINGS: usize = 10_000;

/// Words of lines that may say why a command failed: which of them to quote.
const TELLING: [&str; 9] =
    ["Exception", "Error", "Caused by", "not found", "cannot", "FAIL", "failed", "WARN", "SEVERE"];

/// Logs of exceptions looked at.
const LOGS: usize = 100;
/// What is thrown where a class, or a module, is not there (JVMS §5.3; Java SE API).
const NOT_FOUND: [&str; 3] =
    ["java/lang/ClassNotFoundException", "java/lang/NoClassDefFoundError", "java/lang/module/FindException"];

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

/// Adds the names of classes and modules that JVMs could not find, by what they wrote into `folder`: the last thrown first.
pub(super) fn add_missing(account: &mut Account, folder: &Path) {
    let mut logs: Vec<PathBuf> =
        std::fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path()).collect();
    logs.sort();
    for name in logs.iter().take(LOGS).flat_map(|log| not_found(&text(log))) {
        if account.names.len() < NAMES && !account.names.contains(&name) {
            account.names.push(name);
        }
    }
}

/// Of a log of exceptions (unified logging, JEP 158; its form is observed): what could not be found, the last first.
fn not_found(log: &str) -> Vec<String> {
    let thrown = |line: &str| {
        let (kind, message) = line.strip_prefix("Exception <a '")?.split_once("'{0x")?;
        NOT_FOUND.contains(&kind).then(|| message.split_once("}: ").map(|(_, message)| names_in(message)))?
    };
    log.lines().rev().filter_map(thrown).flatten().collect()
}

/// What a run said of something missing, without what changes from run to run.
pub(super) fn warnings(ran: &Ran) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for text in [text(&ran.stdout), text(&ran.stderr)] {
        for line in text.lines().filter(|line| !of_the_trial(line) && !is_frame(line) && absence::told(line)) {
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
pub(super) fn names_in(line: &str) -> Vec<String> {
    line.split(|c: char| !(c.is_alphanumeric() || matches!(c, '.' | '/' | '_' | '$')))
        .map(|word| word.trim_matches(['.', '/']).replace('/', "."))
        .filter(|word| word.contains('.') && word.starts_with(|c: char| c.is_alphabetic()))
        .collect()
}

/// Numbers, keys made by chance and names of temporary files differ from run to run; the rest of a message does not.
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
        let other = |c: char| !(c.is_ascii_alphanumeric() || c == '-');
        for part in word.split_inclusive(other) {
            let name = part.trim_end_matches(other);
            // A key as RFC 9562 §4 writes it, or eight hexadecimal digits of one.
            let key = name.len() >= 8 && name.bytes().all(|b| b.is_ascii_hexdigit() || b == b'-');
            if key && name.bytes().any(|b| b.is_ascii_digit()) {
                kept.push('0');
                kept.push_str(part.get(name.len()..).unwrap_or_default());
                continue;
            }
            let mut within = false;
            for c in part.chars() {
                let digit = c.is_ascii_digit();
                if !digit {
                    kept.push(c);
                } else if !within {
                    kept.push('0');
                }
                within = digit;
            }
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
        let one =
            said("", "2026-11-25 21:00:01.123 WARN 4711 tide.Gauge@1f2e no provider of fonts in /tmp/cw.aB12/home\n").1;
        let other =
            said("", "2026-11-25 21:00:09.7 WARN 12 tide.Gauge@77ab no provider of fonts in /tmp/cw.Xy9/home\n").1;
        assert_eq!(one, other);
        assert_ne!(one, said("", "WARN no provider of gauges\n").1);
    }

    #[test]
    fn keys_made_by_chance_differ_from_run_to_run_and_words_do_not() {
        let one = said("WARN session 3f2a91bc-77ab-41d2-9c1e-0a1b2c3d4e5f has no provider of a facade\n", "").1;
        let other = said("WARN session 9d01c2aa-feed-4bcd-8eee-ffffeeee0000 has no provider of a facade\n", "").1;
        assert_eq!(one, BTreeSet::from(["WARN session 0 has no provider of a facade".to_owned()]));
        assert_eq!(one, other);
    }

    /// As releases 17 and 25 write it (observed).
    #[test]
    fn the_jvm_tells_what_a_command_keeps_to_itself() {
        let log = "Exception <a 'java/lang/NoSuchMethodError'{0x00000007ff0a}: 'void tide.Gate.open()'> (0x00000007ff0a) \n\
            thrown [src/hotspot/share/interpreter/linkResolver.cpp, line 974]\nfor thread 0x00007f2d\n\
            Exception <a 'java/lang/ClassNotFoundException'{0x00000007ff1b}: java.rmi.Remote>\n\
            \x20thrown in interpreter method <{method} {0x0} 'loadClass'>\n\
            Exception <a 'java/lang/NoClassDefFoundError'{0x00000007ff2c}: java/sql/DriverManager> (0x00000007ff2c) \n\
            Exception <a 'java/lang/module/FindException'{0x00000007ff3d}: Module java.naming not found>\n\
            Exception <a 'java/lang/ClassNotFoundException'{0x00000007ff4e}>\n";
        assert_eq!(not_found(log), ["java.naming", "java.sql.DriverManager", "java.rmi.Remote"]);
    }

    #[test]
    fn long_lines_are_cut() {
        let (account, _) = said(&format!("Error: {}\n", "x".repeat(10_000)), "");
        assert_eq!(account.lines[0].chars().count(), CHARACTERS);
    }
}

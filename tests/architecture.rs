//! The shape of the source: stages see only stages before them, files stay short, dependencies are accounted for.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// In the order of the data. A stage may use what stands before it.
const STAGES: [&str; 17] = [
    "archive",
    "classfile",
    "flow",
    "platform",
    "needs",
    "witness",
    "verifier",
    "graph",
    "program",
    "reach",
    "verdict",
    "weight",
    "trial",
    "responsibility",
    "report",
    "plan",
    "pipeline",
];

/// Seen by every stage, and seeing only each other.
const COMMON: [&str; 5] = ["names", "diag", "error", "limits", "progress"];

/// What each may see beyond the rule above, with the reason.
const FURTHER: [(&str, &str); 2] = [
    // The verdict and the answer speak of the same standings.
    ("verdict", "report"),
    // The page weighs by the weights' own numbers, and nothing is said of them that needs other words.
    ("report", "weight"),
];

/// What a stage must not see although it stands before it.
const UNSEEN: [(&str, &str); 9] = [
    // Class facts are pure functions of bytes.
    ("classfile", "archive"),
    // What is known of a value is known from one method.
    ("flow", "archive"),
    // So are the verifier's questions, whoever would answer them.
    ("verifier", "archive"),
    ("verifier", "platform"),
    ("verifier", "needs"),
    // The table is matched to facts, whoever found them.
    ("needs", "flow"),
    ("graph", "needs"),
    // A log tells what ran, whatever the program looks like.
    ("witness", "archive"),
    ("witness", "needs"),
];

const MOST_LINES: usize = 500;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// The first part below `src/`: `report` for `src/report/text.rs`, `diag` for `src/diag.rs`.
fn part(path: &Path) -> String {
    let below = path.strip_prefix(root().join("src")).unwrap();
    let first = Path::new(below.iter().next().unwrap());
    first.file_stem().unwrap().to_string_lossy().into_owned()
}

/// What a file names of this crate: `use crate::a::…`, `use crate::{a, b}`, `crate::a::…`; tests and comments aside.
fn named(text: &str) -> BTreeSet<String> {
    let code = text.split("#[cfg(test)]\nmod tests").next().unwrap();
    let code: Vec<&str> = code.lines().filter(|line| !line.trim_start().starts_with("//")).collect();
    let code = code.join("\n");
    let mut found = BTreeSet::new();
    for after in code.split("crate::").skip(1) {
        let group = after.strip_prefix('{').and_then(|group| group.split_once('}')).map(|(group, _)| group);
        for name in group.unwrap_or(after).split(',').take(if group.is_some() { usize::MAX } else { 1 }) {
            let name: String = name.trim().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            found.insert(name);
        }
    }
    found
}

fn may_see(viewer: &str, seen: &str) -> bool {
    let place = |name: &str| STAGES.iter().position(|stage| *stage == name);
    viewer == seen
        || FURTHER.contains(&(viewer, seen))
        || match (place(viewer), place(seen)) {
            _ if COMMON.contains(&seen) => true,
            (Some(_), Some(_)) if viewer == "report" => false,
            (Some(viewer_at), Some(seen_at)) => seen_at < viewer_at && !UNSEEN.contains(&(viewer, seen)),
            _ => false,
        }
}

#[test]
fn stages_see_only_what_stands_before_them() {
    let mut wrong = Vec::new();
    let binary = ["main", "cli", "exit", "output", "bar", "lib"];
    for path in sources(&root().join("src")) {
        let viewer = part(&path);
        if binary.contains(&viewer.as_str()) {
            continue;
        }
        assert!(
            STAGES.contains(&viewer.as_str()) || COMMON.contains(&viewer.as_str()),
            "{viewer} has no place in the order; give it one here and in src/lib.rs"
        );
        for seen in named(&fs::read_to_string(&path).unwrap()) {
            let known = STAGES.contains(&seen.as_str()) || COMMON.contains(&seen.as_str());
            if !known || !may_see(&viewer, &seen) {
                wrong.push(format!("{} names crate::{seen}", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_crate_lists_its_stages_in_that_order() {
    let text = fs::read_to_string(root().join("src/lib.rs")).unwrap();
    let listed: Vec<&str> = text.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';')).collect();
    let stages: Vec<&str> = listed.iter().copied().filter(|name| STAGES.contains(name)).collect();
    let expected: Vec<&str> = STAGES.into_iter().filter(|stage| listed.contains(stage)).collect();
    assert_eq!(stages, expected);
    assert!(listed.iter().all(|name| STAGES.contains(name) || COMMON.contains(name)), "{listed:?}");
}

/// A rule that sees no `use` line would pass in silence.
#[test]
fn the_reader_of_use_lines_sees_them() {
    let text = "use crate::diag::{Code, Severity};\n// use crate::verdict;\nuse crate::{names, limits::Limits};\n\
                fn f() -> crate::report::Report {}\n#[cfg(test)]\nmod tests { use crate::pipeline; }\n";
    assert_eq!(named(text).into_iter().collect::<Vec<_>>(), ["diag", "limits", "names", "report"]);
    assert!(may_see("pipeline", "report") && !may_see("report", "pipeline") && !may_see("archive", "classfile"));
}

#[test]
fn files_are_short_and_say_what_they_are_for() {
    let mut wrong = Vec::new();
    for folder in ["src", "tests"] {
        for path in sources(&root().join(folder)) {
            let text = fs::read_to_string(&path).unwrap();
            if text.lines().count() > MOST_LINES {
                wrong.push(format!("{} has more than {MOST_LINES} lines", path.display()));
            }
            if !text.starts_with("//!") {
                wrong.push(format!("{} does not open with its purpose", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_dependency_has_its_line() {
    let cargo = fs::read_to_string(root().join("Cargo.toml")).unwrap();
    let page = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let section = page.split_once("\n## Dependencies\n").expect("DEVELOPERS.md has no section on dependencies").1;
    let section = section.split_once("\n## ").map_or(section, |(section, _)| section);
    let mut declared = BTreeSet::new();
    let mut inside = false;
    for line in cargo.lines() {
        if line.starts_with('[') {
            inside = line == "[dependencies]" || line == "[dev-dependencies]";
        } else if let Some((name, _)) = line.split_once(" = ").filter(|_| inside && !line.starts_with('#')) {
            declared.insert(name.to_owned());
        }
    }
    let explained: BTreeSet<String> =
        section.lines().filter_map(|line| Some(line.strip_prefix("- `")?.split_once('`')?.0.to_owned())).collect();
    assert!(!declared.is_empty());
    assert_eq!(explained, declared);
}

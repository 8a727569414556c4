//! Holds the scan's standings against what the JVM showed.
//!
//! Recall: of the cases that break or degrade, how many have their module needed or uncertain. All must. Precision: of
//! the cases that neither break nor degrade, how many do not have it needed. 95 in 100 must. See [`Tally`].

use std::collections::BTreeMap;
use std::fmt;
use std::process::Command;

use serde_json::Value;

use crate::build::Built;
use crate::case::{Case, Effect, Told};
use crate::jdk;

/// The published suite's categories and how many cases each has there.
///
/// Reif, Kübler, Eichberg, Helm, Mezini: "Judge: Identifying, Understanding, and Evaluating Sources of Unsoundness in
/// Call Graphs", ISSTA 2019, doi 10.1145/3293882.3330555; its suite as of 2025-09-30, 112 Java cases.
const PUBLISHED: &[(&str, usize)] = &[
    ("Non-virtual calls", 5),
    ("Virtual calls", 4),
    ("Type casts", 6),
    ("Static initialisers", 8),
    ("Default interface methods", 7),
    ("Method references", 7),
    ("Lambdas", 4),
    ("Reflection: trivial", 9),
    ("Reflection: locally resolvable", 3),
    ("Reflection: context-sensitive", 4),
    ("Class.forName exceptions", 4),
    ("Modern reflection", 8),
    ("Signature-polymorphic", 7),
    ("Serialization", 14),
    ("Unsafe", 7),
    ("Dynamic proxy", 1),
    ("Class loading", 4),
    ("JVM-initiated calls", 5),
    ("Library entry points", 5),
];

/// The standing that the scan gives the module of a case, or `absent`; `opaque` where it is absent from the answer but
/// the answer owns up to names that it cannot know.
pub fn standing(case: &Case, built: &Built, release: u16) -> Result<String, String> {
    let mut command = Command::new(env!("CARGO_BIN_EXE_secateur"));
    command.arg("scan").arg(&built.program);
    if !case.packed {
        // Also where the program finds it by itself: whoever asks gives all that is shipped.
        command.args(&built.library);
        command.args(["--entry", &case.main_class()]);
    }
    if case.told == Told::AtLaunch {
        command.arg("--launch").arg(case.options.join(" "));
    }
    command.args(["--format", "json", "--jdk"]).arg(jdk::jdk(release));
    let output = command.output().map_err(|error| error.to_string())?;
    let said = || format!("{}: {}", output.status, String::from_utf8_lossy(&output.stderr).trim());
    let answer: Value = serde_json::from_slice(&output.stdout).map_err(|_| said())?;
    let rows = answer["modules"].as_array().ok_or_else(said)?;
    let row = rows.iter().find(|row| row["name"] == case.module.as_str());
    let standing = row.and_then(|row| row["standing"].as_str()).unwrap_or("absent");
    let opaque = case.told == Told::Nowhere && !matches!(standing, "needed" | "uncertain") && owns_up(&answer);
    Ok(String::from(if opaque { "opaque" } else { standing }))
}

fn owns_up(answer: &Value) -> bool {
    let some = |value: &Value| value.as_array().is_some_and(|list| !list.is_empty());
    let codes = answer["findings"].as_array().into_iter().flatten();
    some(&answer["opaque"]) || codes.filter_map(|row| row["code"].as_str()).any(|code| code.starts_with("opaque"))
}

/// Whether the command takes launch options.
pub fn takes_launch_options() -> bool {
    let help = Command::new(env!("CARGO_BIN_EXE_secateur")).args(["scan", "--help"]).output().unwrap();
    String::from_utf8_lossy(&help.stdout).contains("--launch")
}

/// Right and wrong answers by category.
#[derive(Default)]
pub struct Tally {
    rows: BTreeMap<String, Row>,
    /// One line for each case that hurts and whose module would be left out.
    pub missed: Vec<String>,
    /// One line for each case that does not hurt and whose module is called needed.
    pub overstated: Vec<String>,
}

#[derive(Clone, Copy, Default)]
struct Row {
    hurts: usize,
    found: usize,
    bears: usize,
    spared: usize,
}

impl Tally {
    /// Counts one answer.
    pub fn count(&mut self, case: &Case, release: u16, effect: Effect, standing: &str) {
        let row = self.rows.entry(case.category.clone()).or_default();
        let line = format!("{} on {release}: {}, but {} is {standing}", case.id, effect.tag(), case.module);
        if matches!(effect, Effect::Breaks | Effect::Degrades) {
            row.hurts += 1;
            if matches!(standing, "needed" | "uncertain" | "opaque") {
                row.found += 1;
            } else {
                self.missed.push(line);
            }
        } else {
            row.bears += 1;
            if standing == "needed" { self.overstated.push(line) } else { row.spared += 1 }
        }
    }

    fn total(&self) -> Row {
        self.rows.values().fold(Row::default(), |sum, row| Row {
            hurts: sum.hurts + row.hurts,
            found: sum.found + row.found,
            bears: sum.bears + row.bears,
            spared: sum.spared + row.spared,
        })
    }

    /// Whether 95 in 100 of the cases that do not hurt are spared.
    pub fn precise(&self) -> bool {
        let total = self.total();
        total.spared * 100 >= total.bears * 95
    }
}

impl fmt::Display for Tally {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{:<32} {:>9} {:>11} {:>11}", "category", "published", "found", "spared")?;
        let total = self.total();
        for (category, row) in self.rows.iter().map(|(name, row)| (name.as_str(), row)).chain([("all", &total)]) {
            let published = PUBLISHED.iter().find(|(name, _)| *name == category);
            let published = published.map_or(String::from("-"), |(_, count)| count.to_string());
            let found = format!("{}/{}", row.found, row.hurts);
            let spared = format!("{}/{}", row.spared, row.bears);
            writeln!(f, "{category:<32} {published:>9} {found:>11} {spared:>11}")?;
        }
        Ok(())
    }
}

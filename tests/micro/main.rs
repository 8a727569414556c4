//! Small programs whose need for a module the JVM itself decides.
//!
//! Each runs with the module and without it on both JDKs. What happens is the truth; the table at the head of each
//! source says what that is, so that it can be read without a run, and is held to the truth here.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test fails by panicking"
)]

mod build;
mod case;
mod compare;
#[path = "../support/jdk.rs"]
mod jdk;
mod judge;

use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::OnceLock;

use build::Built;
use case::{Case, Effect, Told};
use compare::Tally;
use judge::Shown;

struct Suite {
    cases: Vec<Case>,
    built: Vec<Built>,
    shown: [(u16, Vec<Option<Shown>>); 2],
}

/// The suite, compiled and judged once for all tests.
fn suite() -> &'static Suite {
    static SUITE: OnceLock<Suite> = OnceLock::new();
    SUITE.get_or_init(|| {
        let cases = case::all();
        let built = build::build(&cases);
        let shown = [17, 25].map(|release| (release, judge::judge(&cases, &built, release)));
        Suite { cases, built, shown }
    })
}

#[test]
fn every_case_does_what_its_table_says() {
    let Suite { cases, shown, .. } = suite();
    let mut wrong = String::new();
    let mut counts: BTreeMap<(&u16, &str, &str), usize> = BTreeMap::new();
    for (release, shown) in shown {
        for (case, shown) in cases.iter().zip(shown) {
            let (Some(shown), Some(declared)) = (shown, case.effect(*release)) else { continue };
            if shown.effect != Ok(declared) {
                let found = shown.effect.as_ref().map_or_else(Clone::clone, |effect| effect.tag().to_string());
                writeln!(wrong, "{} on {release}: {}, not {found} ({})", case.id, declared.tag(), shown.said).unwrap();
            }
            *counts.entry((release, &case.group, declared.tag())).or_default() += 1;
        }
    }
    for ((release, group, effect), count) in counts {
        println!("{release} {group:<10} {effect:<9} {count}");
    }
    assert!(wrong.is_empty(), "the table says one thing and the JVM does another:\n{wrong}");
    assert!(cases.len() >= 120, "only {} cases", cases.len());
    let any = |effect| cases.iter().any(|case| case.effect(17) == Some(effect));
    assert!(any(Effect::Breaks) && any(Effect::Degrades) && any(Effect::Guarded) && any(Effect::Fine));
}

#[test]
fn every_case_gets_an_answer_from_the_scan() {
    let Suite { cases, built, shown } = suite();
    let launch = compare::takes_launch_options();
    let mut tally = Tally::default();
    let mut failed = Vec::new();
    for (release, shown) in shown {
        let modules = judge::Modules::of(*release);
        for ((case, built), shown) in cases.iter().zip(built).zip(shown) {
            let Some(Shown { effect: Ok(effect), .. }) = shown else { continue };
            if case.told == Told::AtLaunch && !launch {
                continue;
            }
            match compare::standing(case, built, *release) {
                Ok(standing) if !modules.has(&case.module) && standing != "absent" => {
                    failed.push(format!("{} on {release}: {} is not there, yet {standing}", case.id, case.module));
                }
                Ok(standing) => tally.count(case, *release, *effect, &standing),
                Err(why) => failed.push(format!("{} on {release}: {why}", case.id)),
            }
        }
    }
    println!("{tally}95 in 100 of those that bear it are spared: {}\n", tally.precise());
    println!("called needed, though nothing breaks:\n{}", tally.overstated.join("\n"));
    println!("left out, though something breaks:\n{}", tally.missed.join("\n"));
    assert!(failed.is_empty(), "no answer to compare:\n{}", failed.join("\n"));
    assert!(tally.precise(), "called needed, though nothing breaks:\n{}", tally.overstated.join("\n"));
    assert!(tally.missed.is_empty(), "left out, though something breaks:\n{}", tally.missed.join("\n"));
}

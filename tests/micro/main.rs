//! Small programs whose need for a module the JVM itself decides.
//!
//! Each runs with the module and without it on both JDKs. What happens is the truth; the table at the head of each
//! source says what that is, so that it can be read without a run, and is held to the truth here.

mod build;
mod case;
#[path = "../support/jdk.rs"]
mod jdk;
mod judge;

use std::collections::BTreeMap;
use std::fmt::Write;

use case::Effect;

#[test]
fn every_case_does_what_its_table_says() {
    let cases = case::all();
    let built = build::build(&cases);
    let mut wrong = String::new();
    let mut counts: BTreeMap<(u16, &str, &str), usize> = BTreeMap::new();
    for release in [17, 25] {
        for (case, shown) in cases.iter().zip(judge::judge(&cases, &built, release)) {
            let (Some(shown), Some(declared)) = (shown, case.effect(release)) else { continue };
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

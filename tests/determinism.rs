//! The same input gives the same bytes, whatever the number of threads. Real jars from Maven Central are read, so that
//! threads have something to race for.
//!
//! The order of inputs and what stands beside a program change the modules only where a class shadows another, or where
//! the program brings a copy of a platform type; these jars do neither.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::process::Command;

use secateur::pipeline::scan;
use secateur::plan::Plan;
use secateur::progress::Silent;
use secateur::verdict::Policy;

#[path = "support/libraries.rs"]
mod libraries;

fn printed(threads: &str, format: &str, inputs: &[PathBuf]) -> Vec<u8> {
    let output = Command::new(env!("CARGO_BIN_EXE_secateur"))
        .args(["scan", "--release", "17", "--threads", threads, "--format", format])
        .args(inputs)
        .output()
        .unwrap();
    assert!(!output.stdout.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    output.stdout
}

#[test]
fn threads_change_no_byte() {
    let inputs = libraries::libraries();
    for format in ["json", "text", "list"] {
        let alone = printed("1", format, &inputs);
        for threads in ["2", "8"] {
            assert!(printed(threads, format, &inputs) == alone, "{format} differs on {threads} threads");
        }
    }
}

fn modules(inputs: &[PathBuf], policy: Policy) -> BTreeSet<String> {
    let plan = Plan { inputs: inputs.to_vec(), release: Some(17), policy, ..Plan::default() };
    scan(&plan, &Silent).unwrap().list.into_iter().collect()
}

#[test]
fn the_order_of_inputs_changes_no_module() {
    let mut inputs = libraries::libraries();
    let forwards = modules(&inputs, Policy::Safe);
    inputs.reverse();
    assert_eq!(modules(&inputs, Policy::Safe), forwards);
    let middle = inputs.len() / 2;
    inputs.rotate_left(middle);
    assert_eq!(modules(&inputs, Policy::Safe), forwards);
}

/// Of all that is named: what can run is another matter, since an archive with a main class makes a program of what was a
/// library, and then not all that is public is where it starts. `tests/properties.rs` has the roots fixed.
#[test]
fn more_archives_take_no_module_away() {
    let inputs = libraries::libraries();
    let mut before = BTreeSet::new();
    for count in (1..=inputs.len()).step_by(4) {
        let now = modules(&inputs[..count], Policy::Whole);
        let lost: Vec<&String> = before.difference(&now).collect();
        assert!(lost.is_empty(), "the first {count} archives lose {lost:?}");
        before = now;
    }
    assert!(before.len() > 10, "{before:?}");
}

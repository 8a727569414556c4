//! Who brings what, held against the only judge there is: the program is written anew without the archive and scanned
//! again, by a run that knows nothing of the first.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]
#![allow(clippy::duplicate_mod, reason = "two helpers bring the same cache")]

#[path = "../support/java.rs"]
mod java;
#[path = "../support/jdk.rs"]
mod jdk;
#[path = "../support/libraries.rs"]
mod libraries;
#[allow(dead_code, reason = "services are built here and not started")]
#[path = "../support/service.rs"]
mod service;
#[path = "../support/zip.rs"]
mod zip_writer;
use zip_writer as zip;

mod made;
mod mixed;
mod real;
mod rewrite;

use std::path::PathBuf;

use secateur::pipeline::scan;
use secateur::plan::Plan;
use secateur::progress::Silent;
use secateur::report::Report;
use secateur::report::responsibility::{ArchiveRow, Responsibility};
use secateur::verdict::Policy;

/// A program and how it is judged.
#[derive(Clone)]
struct Program {
    inputs: Vec<PathBuf>,
    entries: Vec<String>,
    policy: Policy,
}

impl Program {
    fn of(inputs: Vec<PathBuf>) -> Self {
        Program { inputs, entries: Vec::new(), policy: Policy::Safe }
    }

    fn plan(&self) -> Plan {
        // Without a release said, that of the program may change with an archive, and with it all figures.
        Plan {
            inputs: self.inputs.clone(),
            entries: self.entries.clone(),
            policy: self.policy,
            release: Some(17),
            ..Plan::default()
        }
    }

    fn scanned(&self) -> Report {
        scan(&self.plan(), &Silent).unwrap()
    }

    fn told(&self) -> Responsibility {
        let plan = Plan { by_archive: true, ..self.plan() };
        let report = scan(&plan, &Silent).unwrap();
        let told = report.responsibility.clone().unwrap();
        adds_up(&report, &told);
        told
    }
}

/// Rows sum to the total, and every module of the list is in one of them.
fn adds_up(report: &Report, told: &Responsibility) {
    let shares = told.archives.iter().map(|row| &row.own).chain([&told.shared, &told.always]);
    let (mut modules, mut bytes) = (Vec::new(), 0);
    for share in shares {
        modules.extend(share.modules.clone());
        bytes += share.bytes.unwrap();
    }
    modules.sort();
    assert_eq!(modules, report.list, "each module once");
    assert_eq!(Some(bytes), told.total);
    assert_eq!(told.total, report.weight.selection);
    for row in &told.archives {
        assert!(row.own.modules.iter().all(|module| row.goes.modules.contains(module)), "{}", row.archive);
    }
}

fn row<'t>(told: &'t Responsibility, archive: &str) -> Option<&'t ArchiveRow> {
    told.archives.iter().find(|row| row.archive.ends_with(archive))
}

/// What the table says of an archive is what a scan without it finds.
fn holds(told: &Responsibility, whole: &Report, archive: &str, without: &Report) {
    let expected = match told.archives.iter().find(|row| row.archive == archive) {
        Some(row) => {
            let mut modules: Vec<String> =
                whole.list.iter().filter(|module| !row.goes.modules.contains(module)).cloned().collect();
            modules.extend(row.comes.modules.clone());
            modules.sort();
            let bytes = whole.weight.selection.unwrap() - row.goes.bytes.unwrap() + row.comes.bytes.unwrap();
            (modules, Some(bytes))
        }
        None => (whole.list.clone(), whole.weight.selection),
    };
    assert_eq!(expected, (without.list.clone(), without.weight.selection), "without {archive}");
}

//! The answer of `settle` for programs, as `schema.json` describes it; later scans take it as a witness.
//!
//! The first function to read is [`render`].

use std::io::{self, Write};

use serde::Serialize;

use crate::report::json::{Input, Platform, document};

use super::{AccountRow, ListRow, TrialReport, TrialRow};

/// Writes the answer.
pub fn render(trial: &TrialReport, out: &mut dyn Write) -> io::Result<()> {
    let report = &trial.report;
    let body = Trial {
        complete: report.complete,
        inputs: report.inputs.iter().map(Input::of).collect(),
        platform: Platform::of(&report.platform),
        command: &trial.command,
        verdict: trial.verdict,
        passed: trial.passed,
        message: &trial.message,
        account: trial.account.as_ref().map(Account::of),
        found: trial.found.and_then(|at| trial.lists.get(at)).map(|list| list.name),
        list: trial.found.and_then(|at| trial.lists.get(at)).map(|list| &*list.modules),
        lists: trial.lists.iter().map(List::of).collect(),
        modules: trial.modules.iter().map(Module::of).collect(),
        jvms: trial.jvms,
        doubtful: trial.doubtful,
        runs: trial.runs,
        runs_at_most: trial.runs_at_most,
        repeat: trial.repeat,
        notes: &trial.notes,
        cautions: &trial.cautions,
    };
    document("trial", body, out)
}

#[derive(Serialize)]
struct Trial<'a> {
    complete: bool,
    inputs: Vec<Input<'a>>,
    platform: Platform<'a>,
    command: &'a [String],
    verdict: &'a str,
    passed: bool,
    message: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    account: Option<Account<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    found: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    list: Option<&'a [String]>,
    lists: Vec<List<'a>>,
    modules: Vec<Module<'a>>,
    jvms: usize,
    doubtful: usize,
    runs: u64,
    runs_at_most: u64,
    repeat: u16,
    notes: &'a [String],
    cautions: &'a [String],
}

#[derive(Serialize)]
struct Account<'a> {
    ending: &'a str,
    lines: &'a [String],
}

impl<'a> Account<'a> {
    fn of(row: &'a AccountRow) -> Self {
        Account { ending: &row.ending, lines: &row.lines }
    }
}

#[derive(Serialize)]
struct List<'a> {
    name: &'a str,
    modules: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    bytes: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    withheld: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    linked: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    account: Option<Account<'a>>,
}

impl<'a> List<'a> {
    fn of(row: &'a ListRow) -> Self {
        List {
            name: row.name,
            modules: &row.modules,
            bytes: row.bytes,
            withheld: row.withheld,
            linked: row.linked,
            account: row.account.as_ref().map(Account::of),
        }
    }
}

#[derive(Serialize)]
struct Module<'a> {
    name: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    standing: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    shown: Option<&'a str>,
    kept: bool,
    only_smallest: bool,
    loads: u64,
    loaded: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    bytes: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    class: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    required_by: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    account: Option<Account<'a>>,
}

impl<'a> Module<'a> {
    fn of(row: &'a TrialRow) -> Self {
        Module {
            name: &row.name,
            standing: row.standing,
            shown: row.shown.map(super::Shown::tag),
            kept: row.kept,
            only_smallest: row.only_smallest,
            loads: row.loads,
            loaded: &row.loaded,
            bytes: row.bytes,
            class: row.class.as_deref(),
            required_by: row.required_by.as_deref(),
            account: row.account.as_ref().map(Account::of),
        }
    }
}

//! What runs and launches have told, as members of a scan's document.

use serde::Serialize;

use crate::report::{LaunchRow, ListedRow, LogRow, PurposeRow};

#[derive(Serialize)]
pub(super) struct Launched<'a> {
    option: &'a str,
    from: &'a str,
    implies: &'a str,
    modules: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    without: Option<&'a str>,
}

impl<'a> Launched<'a> {
    pub(super) fn of(row: &'a LaunchRow) -> Self {
        Launched {
            option: &row.option,
            from: &row.from,
            implies: row.implies,
            modules: &row.modules,
            without: row.without.as_deref(),
        }
    }
}

#[derive(Serialize)]
#[allow(clippy::struct_field_names, reason = "they are the names of the contract")]
pub(super) struct Purpose<'a> {
    purpose: &'a str,
    title: &'a str,
    chosen: bool,
    modules: &'a [String],
    adds: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    bytes: Option<u64>,
}

impl<'a> Purpose<'a> {
    pub(super) fn of(row: &'a PurposeRow) -> Self {
        Purpose {
            purpose: row.purpose,
            title: row.title,
            chosen: row.chosen,
            modules: &row.modules,
            adds: &row.adds,
            bytes: row.bytes,
        }
    }
}

#[derive(Serialize)]
pub(super) struct Log<'a> {
    path: &'a str,
    files: usize,
    loads: u64,
    shared: u64,
    modules: &'a [String],
}

#[derive(Serialize)]
pub(super) struct Listed<'a> {
    path: &'a str,
    of_program: usize,
    of_platform: usize,
    unknown: usize,
}

impl<'a> Listed<'a> {
    pub(super) fn of(row: &'a ListedRow) -> Self {
        let ListedRow { path, of_program, of_platform, unknown } = row;
        Listed { path, of_program: *of_program, of_platform: *of_platform, unknown: *unknown }
    }
}

impl<'a> Log<'a> {
    pub(super) fn of(row: &'a LogRow) -> Self {
        Log { path: &row.path, files: row.files, loads: row.loads, shared: row.shared, modules: &row.modules }
    }
}

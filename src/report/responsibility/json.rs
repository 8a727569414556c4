//! The part `by_archive` of a document, as `schema.json` describes it. The first function to read is [`ByArchive::of`].

use serde::Serialize;

use super::{ArchiveRow, CostRow, Responsibility, Share};
use crate::report::json::none_left_out;

/// Who brings what.
#[derive(Serialize)]
pub(in crate::report) struct ByArchive<'a> {
    archives: Vec<Row<'a>>,
    #[serde(skip_serializing_if = "none_left_out")]
    omitted: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    omitted_own_bytes: Option<u64>,
    without_effect: usize,
    shared: Part<'a>,
    always: Part<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    total_bytes: Option<u64>,
    uncertain: Vec<Cost<'a>>,
}

#[derive(Serialize)]
struct Row<'a> {
    archive: &'a str,
    goes: Part<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    comes: Option<Part<'a>>,
    own: Part<'a>,
}

#[derive(Serialize)]
struct Part<'a> {
    modules: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    bytes: Option<u64>,
}

#[derive(Serialize)]
struct Cost<'a> {
    module: &'a str,
    goes: Part<'a>,
}

impl<'a> ByArchive<'a> {
    /// The contract's view of the values.
    pub(in crate::report) fn of(all: &'a Responsibility) -> Self {
        ByArchive {
            archives: all.archives.iter().map(row).collect(),
            omitted: all.omitted,
            omitted_own_bytes: all.omitted_own.filter(|_| all.omitted > 0),
            without_effect: all.without_effect,
            shared: part(&all.shared),
            always: part(&all.always),
            total_bytes: all.total,
            uncertain: all.uncertain.iter().map(cost).collect(),
        }
    }
}

fn row(row: &ArchiveRow) -> Row<'_> {
    Row {
        archive: &row.archive,
        goes: part(&row.goes),
        comes: (!row.comes.modules.is_empty()).then(|| part(&row.comes)),
        own: part(&row.own),
    }
}

fn cost(row: &CostRow) -> Cost<'_> {
    Cost { module: &row.module, goes: part(&row.goes) }
}

fn part(share: &Share) -> Part<'_> {
    Part { modules: &share.modules, bytes: share.bytes }
}

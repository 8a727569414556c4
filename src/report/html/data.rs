//! The page's data block: the answer of `scan` as `--format json` prints it, and beside it what paths and switches need.
//!
//! Part of the contract in `schema.json`, document `page`. The first function to read is [`block`].

use std::io;

use serde::Serialize;

use super::model::{self, Image, Model};
use crate::report::Standing;
use crate::report::dossier::{Dossier, ModuleWitnesses, OtherwiseRow, Part};
use crate::report::json::{self, Bytes, Document, Path, Scan, none_left_out};
use crate::report::member::readable;

#[derive(Serialize)]
struct Page<'a> {
    scan: Document<Scan<'a>>,
    parts: Vec<PartRow<'a>>,
    witnesses: Vec<OfModule<'a>>,
    said: &'a [String],
    images: Vec<Image<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    model: Option<Model>,
    advice: &'a [String],
    otherwise: Vec<Otherwise<'a>>,
    with: &'a [String],
    without: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    not_linkable: Option<&'a str>,
}

#[derive(Serialize)]
struct PartRow<'a> {
    name: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    standing: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    reason: Option<&'a str>,
    requires: &'a [String],
    starts: bool,
    binds: &'a [String],
    name_at_launch: bool,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    always: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    weight: Option<Bytes>,
}

#[derive(Serialize)]
struct Otherwise<'a> {
    purpose: &'a str,
    module: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    standing: Option<&'a str>,
}

#[derive(Serialize)]
struct OfModule<'a> {
    module: &'a str,
    paths: Vec<Path<'a>>,
    #[serde(skip_serializing_if = "none_left_out")]
    omitted: usize,
}

/// The block's text: JSON on one line, in which no `<` is left that an HTML parser could read as markup.
pub(super) fn block(dossier: &Dossier) -> io::Result<String> {
    let page = Page {
        scan: Document::of("scan", Scan::of(&dossier.report)),
        parts: dossier.parts.iter().map(part).collect(),
        witnesses: dossier.witnesses.iter().map(paths).collect(),
        said: &dossier.said,
        images: model::images(dossier),
        model: dossier.model.as_ref().map(Model::of),
        advice: &dossier.advice,
        otherwise: dossier.otherwise.iter().map(otherwise).collect(),
        with: &dossier.with,
        without: &dossier.without,
        not_linkable: dossier.not_linkable.as_deref(),
    };
    // Outside strings JSON has no such characters, and within them the escape means the same (RFC 8259 §7).
    Ok(json::compact("page", page)?.replace('<', "\\u003c").replace('>', "\\u003e").replace('&', "\\u0026"))
}

fn part(part: &Part) -> PartRow<'_> {
    PartRow {
        name: &part.name,
        standing: part.standing.map(Standing::tag),
        reason: part.reason.as_deref(),
        requires: &part.requires,
        starts: part.starts,
        binds: &part.binds,
        name_at_launch: part.name_at_launch,
        always: part.is_always_kept,
        weight: part.bytes.map(Bytes::of),
    }
}

fn otherwise(row: &OtherwiseRow) -> Otherwise<'_> {
    Otherwise { purpose: row.purpose, module: &row.module, standing: row.standing.map(Standing::tag) }
}

fn paths(of: &ModuleWitnesses) -> OfModule<'_> {
    // The page shows members as people read them.
    let paths = of.paths.iter().map(|witness| Path::telling(witness, |who| readable(who).into()));
    OfModule { module: &of.module, paths: paths.collect(), omitted: of.omitted }
}

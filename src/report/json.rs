//! The same answers for programs: JSON as `schema.json` beside this file describes it.
//!
//! The types here are the contract and nothing else: the answer's own types do not derive `Serialize`, so that a
//! change of theirs does not change what others read. A member that is renamed, removed or read differently raises
//! [`SCHEMA_VERSION`]; a new one does not. The first function to read is [`render`].

mod launch;

use std::borrow::Cow;
use std::io::{self, Write};

use serde::Serialize;

use super::escape;
use super::responsibility::json::ByArchive;
use super::{
    EvidenceRow, Explanation, ModuleRow, ModuleWeight, PlatformListing, PlatformModuleRow, PlatformRow, Report, Witness,
};

use launch::{Launched, Listed, Log, Purpose};

/// The number of the contract, in every document as `schema_version`.
pub const SCHEMA_VERSION: u32 = 1;

/// The JSON Schema (draft 2020-12) of every document that this module writes.
pub const SCHEMA: &str = include_str!("schema.json");

/// Writes the answer of `scan`.
pub fn render(report: &Report, out: &mut dyn Write) -> io::Result<()> {
    document("scan", Scan::of(report), out)
}

/// Writes the answer of `explain`.
pub fn render_explanation(explanation: &Explanation, out: &mut dyn Write) -> io::Result<()> {
    document("explanation", Why::of(explanation), out)
}

/// Writes the answer of `platform`.
pub fn render_platform(listing: &PlatformListing, out: &mut dyn Write) -> io::Result<()> {
    let body = Listing {
        platform: Platform::of(&listing.platform),
        weight_basis: &listing.basis,
        modules: listing.modules.iter().map(Member::of).collect(),
    };
    document("platform", body, out)
}

/// A document on one line, for those that hold others.
pub(super) fn compact(kind: &'static str, body: impl Serialize) -> io::Result<String> {
    let text = serde_json::to_string(&Document::of(kind, body)).map_err(io::Error::from)?;
    Ok(escape::in_json(&text).into_owned())
}

pub(super) fn document(kind: &'static str, body: impl Serialize, out: &mut dyn Write) -> io::Result<()> {
    let text = serde_json::to_string_pretty(&Document::of(kind, body)).map_err(io::Error::from)?;
    out.write_all(escape::in_json(&text).as_bytes())?;
    writeln!(out)
}

#[derive(Serialize)]
#[allow(clippy::struct_field_names, reason = "they are the names of the contract")]
pub(super) struct Document<T> {
    schema_version: u32,
    document: &'static str,
    secateur: &'static str,
    #[serde(flatten)]
    body: T,
}

impl<T> Document<T> {
    pub(super) fn of(kind: &'static str, body: T) -> Self {
        Document { schema_version: SCHEMA_VERSION, document: kind, secateur: env!("CARGO_PKG_VERSION"), body }
    }
}

#[derive(Serialize)]
pub(super) struct Scan<'a> {
    complete: bool,
    inputs: Vec<Input<'a>>,
    totals: Totals,
    platform: Platform<'a>,
    entry_points: Vec<Entry<'a>>,
    launch: Vec<Launched<'a>>,
    purposes: Vec<Purpose<'a>>,
    listed: Vec<Listed<'a>>,
    logs: Vec<Log<'a>>,
    policy: &'a str,
    list: &'a [String],
    weight: Weight<'a>,
    modules: Vec<Module<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    by_archive: Option<ByArchive<'a>>,
    missing: Vec<Missing<'a>>,
    #[serde(skip_serializing_if = "none_left_out")]
    missing_omitted: usize,
    removed: Vec<Removed<'a>>,
    supplied: Vec<Supplied<'a>>,
    opaque: Vec<Opaque<'a>>,
    #[serde(skip_serializing_if = "none_left_out")]
    opaque_omitted: usize,
    name_at_launch: &'a [String],
    findings: Vec<Finding<'a>>,
    findings_omitted: Vec<Omitted>,
    cautions: &'a [String],
}

#[derive(Serialize)]
struct Why<'a> {
    complete: bool,
    platform: Platform<'a>,
    policy: &'a str,
    module: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    row: Option<Module<'a>>,
    witnesses: Vec<Path<'a>>,
    #[serde(skip_serializing_if = "none_left_out")]
    witnesses_omitted: usize,
    chains: &'a [Vec<String>],
    brings: &'a [String],
    to_go: &'a str,
}

#[derive(Serialize)]
struct Listing<'a> {
    platform: Platform<'a>,
    weight_basis: &'a str,
    modules: Vec<Member<'a>>,
}

#[derive(Serialize)]
pub(super) struct Input<'a> {
    path: &'a str,
    kind: &'a str,
    archives: usize,
    classes: usize,
}

#[derive(Serialize)]
struct Totals {
    archives: usize,
    classes: usize,
    class_bytes: u64,
    methods: usize,
    classes_reached: usize,
    methods_reached: usize,
}

#[derive(Serialize)]
pub(super) struct Platform<'a> {
    release: u16,
    source: &'a str,
    reason: &'a str,
    modules: usize,
    notes: &'a [String],
}

#[derive(Serialize)]
struct Entry<'a> {
    class: &'a str,
    reason: &'a str,
}

#[derive(Serialize)]
struct Weight<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    selection_bytes: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    platform_bytes: Option<u64>,
    unknown: &'a [String],
    basis: &'a str,
}

#[derive(Serialize)]
struct Module<'a> {
    name: &'a str,
    standing: &'a str,
    kept: bool,
    root: bool,
    name_at_launch: bool,
    reason: &'a str,
    evidence: Vec<Evidence<'a>>,
    #[serde(skip_serializing_if = "none_left_out")]
    evidence_omitted: usize,
    required_by: &'a [String],
    requires: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    weight: Option<Bytes>,
    #[serde(skip_serializing_if = "Option::is_none")]
    sole_bytes: Option<u64>,
}

#[derive(Serialize)]
pub(super) struct Bytes {
    classes: u64,
    lib: u64,
    other: u64,
}

#[derive(Serialize)]
pub(super) struct Evidence<'a> {
    kind: &'a str,
    standing: &'a str,
    stage: &'a str,
    #[serde(skip_serializing_if = "str::is_empty")]
    archive: &'a str,
    asker: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    member: Option<&'a str>,
    phrase: &'a str,
    target: &'a str,
    #[serde(skip_serializing_if = "none_left_out")]
    also: usize,
}

#[derive(Serialize)]
struct Missing<'a> {
    package: &'a str,
    types: usize,
    example: &'a str,
    asker: &'a str,
}

#[derive(Serialize)]
#[allow(clippy::struct_field_names, reason = "they are the names of the contract")]
struct Removed<'a> {
    class: &'a str,
    module: &'a str,
    removed_in: u16,
    asker: &'a str,
    askers: usize,
}

#[derive(Serialize)]
struct Supplied<'a> {
    module: &'a str,
    types: usize,
    kept: bool,
}

#[derive(Serialize)]
struct Opaque<'a> {
    purpose: &'a str,
    call: &'a str,
    class: &'a str,
    member: &'a str,
    archive: &'a str,
    places: usize,
}

#[derive(Serialize)]
struct Finding<'a> {
    severity: &'a str,
    code: &'a str,
    place: &'a str,
    message: &'a str,
}

#[derive(Serialize)]
struct Omitted {
    code: &'static str,
    count: usize,
}

#[derive(Serialize)]
pub(super) struct Path<'a> {
    steps: Vec<PathStep<'a>>,
    evidence: Evidence<'a>,
}

#[derive(Serialize)]
struct PathStep<'a> {
    who: Cow<'a, str>,
    #[serde(skip_serializing_if = "str::is_empty")]
    archive: &'a str,
    how: &'a str,
    stage: &'a str,
}

#[derive(Serialize)]
struct Member<'a> {
    name: &'a str,
    requires: &'a [String],
    packages: usize,
    exports: &'a [String],
    uses: &'a [String],
    provides: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    weight: Option<Bytes>,
    #[serde(skip_serializing_if = "Option::is_none")]
    closed_bytes: Option<u64>,
    not_by_default: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    from_release: Option<u16>,
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference")]
pub(super) fn none_left_out(count: &usize) -> bool {
    *count == 0
}

impl<'a> Input<'a> {
    pub(super) fn of(row: &'a super::InputRow) -> Self {
        Input { path: &row.path, kind: row.kind, archives: row.archives, classes: row.classes }
    }
}

impl<'a> Scan<'a> {
    pub(super) fn of(report: &'a Report) -> Self {
        let missing = |row: &'a super::MissingRow| Missing {
            package: &row.package,
            types: row.types,
            example: &row.example,
            asker: &row.asker,
        };
        let removed = |row: &'a super::RemovedRow| Removed {
            class: &row.class,
            module: &row.module,
            removed_in: row.removed_in,
            asker: &row.asker,
            askers: row.askers,
        };
        let supplied = |row: &'a super::SuppliedRow| Supplied { module: &row.module, types: row.types, kept: row.kept };
        let opaque = |row: &'a super::OpaqueRow| Opaque {
            purpose: row.purpose,
            call: &row.call,
            class: &row.class,
            member: &row.member,
            archive: &row.archive,
            places: row.places,
        };
        let finding = |row: &'a super::Finding| Finding {
            severity: row.severity,
            code: row.code,
            place: &row.place,
            message: &row.message,
        };
        Scan {
            complete: report.complete,
            inputs: report.inputs.iter().map(Input::of).collect(),
            totals: Totals {
                archives: report.totals.archives,
                classes: report.totals.classes,
                class_bytes: report.totals.class_bytes,
                methods: report.totals.methods,
                classes_reached: report.totals.classes_reached,
                methods_reached: report.totals.methods_reached,
            },
            platform: Platform::of(&report.platform),
            entry_points: report
                .entry_points
                .iter()
                .map(|row| Entry { class: &row.class, reason: &row.reason })
                .collect(),
            launch: report.launch.iter().map(Launched::of).collect(),
            purposes: report.purposes.iter().map(Purpose::of).collect(),
            listed: report.listed.iter().map(Listed::of).collect(),
            logs: report.logs.iter().map(Log::of).collect(),
            policy: report.policy,
            list: &report.list,
            weight: Weight {
                selection_bytes: report.weight.selection,
                platform_bytes: report.weight.platform,
                unknown: &report.weight.unknown,
                basis: &report.weight.basis,
            },
            modules: report.modules.iter().map(Module::of).collect(),
            by_archive: report.responsibility.as_ref().map(ByArchive::of),
            missing: report.missing.iter().map(missing).collect(),
            missing_omitted: report.missing_omitted,
            removed: report.removed.iter().map(removed).collect(),
            supplied: report.supplied.iter().map(supplied).collect(),
            opaque: report.opaque.iter().map(opaque).collect(),
            opaque_omitted: report.opaque_omitted,
            name_at_launch: &report.name_at_launch,
            findings: report.findings.iter().map(finding).collect(),
            findings_omitted: report.findings_omitted.iter().map(|&(code, count)| Omitted { code, count }).collect(),
            cautions: &report.cautions,
        }
    }
}

impl<'a> Why<'a> {
    fn of(explanation: &'a Explanation) -> Self {
        Why {
            complete: explanation.report.complete,
            platform: Platform::of(&explanation.report.platform),
            policy: explanation.report.policy,
            module: &explanation.module,
            row: explanation.row.as_ref().map(Module::of),
            witnesses: explanation.witnesses.iter().map(Path::of).collect(),
            witnesses_omitted: explanation.witnesses_omitted,
            chains: &explanation.chains,
            brings: &explanation.brings,
            to_go: &explanation.to_go,
        }
    }
}

impl<'a> Platform<'a> {
    pub(super) fn of(row: &'a PlatformRow) -> Self {
        Platform {
            release: row.release,
            source: &row.source,
            reason: &row.reason,
            modules: row.modules,
            notes: &row.notes,
        }
    }
}

impl<'a> Module<'a> {
    fn of(row: &'a ModuleRow) -> Self {
        Module {
            name: &row.name,
            standing: row.standing.tag(),
            kept: row.kept,
            root: row.root,
            name_at_launch: row.name_at_launch,
            reason: &row.reason,
            evidence: row.evidence.iter().map(Evidence::of).collect(),
            evidence_omitted: row.evidence_omitted,
            required_by: &row.required_by,
            requires: &row.requires,
            weight: row.weight.map(Bytes::of),
            sole_bytes: row.sole_bytes,
        }
    }
}

impl Bytes {
    pub(super) fn of(weight: ModuleWeight) -> Self {
        Bytes { classes: weight.classes, lib: weight.lib, other: weight.other }
    }
}

impl<'a> Evidence<'a> {
    pub(super) fn of(row: &'a EvidenceRow) -> Self {
        Evidence {
            kind: row.kind,
            standing: row.standing.tag(),
            stage: row.stage,
            archive: &row.archive,
            asker: &row.asker,
            member: row.member.as_deref(),
            phrase: &row.phrase,
            target: &row.target,
            also: row.also,
        }
    }
}

impl<'a> Path<'a> {
    fn of(witness: &'a Witness) -> Self {
        Path::telling(witness, Cow::Borrowed)
    }

    /// With the class, member or archive of each step as `who` has it.
    pub(super) fn telling(witness: &'a Witness, who: impl Fn(&'a str) -> Cow<'a, str>) -> Self {
        let step = |step: &'a super::Step| PathStep {
            who: who(&step.who),
            archive: &step.archive,
            how: &step.how,
            stage: step.stage,
        };
        Path { steps: witness.steps.iter().map(step).collect(), evidence: Evidence::of(&witness.evidence) }
    }
}

impl<'a> Member<'a> {
    fn of(row: &'a PlatformModuleRow) -> Self {
        Member {
            name: &row.name,
            requires: &row.requires,
            packages: row.packages,
            exports: &row.exports,
            uses: &row.uses,
            provides: &row.provides,
            weight: row.weight.map(Bytes::of),
            closed_bytes: row.closed_bytes,
            not_by_default: row.not_by_default,
            from_release: row.from_release,
        }
    }
}

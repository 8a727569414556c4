//! Puts an analysis into words: the one place that fills a [`Report`].

use std::collections::BTreeMap;
use std::path::PathBuf;

use rustc_hash::FxHashMap;

use crate::archive::{Archive, ArchiveId, Kind};
use crate::names::{Locator, binary_name, decode_mutf8};
use crate::plan::Plan;
use crate::platform::{Catalogue, ModuleId, Source};
use crate::program::{self, MethodKind};
use crate::report::AGENT;
use crate::report::layout::grouped;
use crate::report::{
    EntryPoint, EvidenceRow, Finding, InputRow, ListedRow, LogRow, ModuleRow, ModuleWeight, PlatformRow, Report,
    Standing, Totals, WeightRow,
};
use crate::verdict::{self, Evidence, Place};
use crate::weight::{Scales, Weight};
use crate::witness::Log;

use super::{Analysis, launch, purposes, remarks};

/// Evidence rows of one module in a report; `explain` shows more.
const EVIDENCE_ROWS: usize = 5;

/// Why java.base is in every list.
pub(super) const FOR_ALL: &str = "every program needs it";

/// The answer to `scan`.
pub(super) fn report(plan: &Plan, analysis: &Analysis) -> Report {
    let Analysis { catalogue, selection, findings, .. } = analysis;
    let (missing, missing_omitted) = remarks::missing(analysis);
    let (opaque, opaque_omitted) = remarks::opaque(analysis);
    let findings_omitted = findings.omitted().into_iter().map(|(code, count)| (code.tag(), count)).collect();
    Report {
        version: env!("CARGO_PKG_VERSION"),
        inputs: inputs(plan, analysis),
        totals: totals(analysis),
        platform: platform(catalogue, &analysis.choice.reason),
        entry_points: analysis.entry_points.all().take(analysis.entry_points.first_listed()).map(entry_point).collect(),
        doubted: analysis.entry_points.doubted.iter().map(entry_point).collect(),
        launch: launch::rows(plan, analysis),
        purposes: purposes::rows(plan, analysis),
        listed: listed(plan, analysis),
        logs: logs(analysis),
        policy: plan.policy.tag(),
        modules: modules(analysis),
        list: selection.modules.iter().map(|&id| catalogue.name(id).to_owned()).collect(),
        weight: weight(analysis),
        responsibility: analysis.responsibility.clone(),
        missing,
        missing_omitted,
        removed: remarks::removed(analysis),
        supplied: remarks::supplied(analysis),
        shadowed: remarks::shadowed(analysis),
        opaque,
        opaque_omitted,
        name_at_launch: analysis.late.iter().map(|&id| catalogue.name(id).to_owned()).collect(),
        findings: findings
            .sorted()
            .into_iter()
            .map(|finding| Finding {
                severity: finding.code.severity().tag(),
                code: finding.code.tag(),
                place: finding.place.to_string(),
                message: finding.message.clone(),
            })
            .collect(),
        findings_omitted,
        complete: !findings.incomplete(),
        cautions: remarks::cautions(plan, analysis),
        timings: analysis.timings.iter().map(|(stage, time)| (stage.tag(), *time)).collect(),
    }
}

fn inputs(plan: &Plan, analysis: &Analysis) -> Vec<InputRow> {
    let program = &analysis.program;
    let is_agent = |archive: &Archive| {
        let is = |path: &PathBuf| Locator::of_path(path) == archive.locator;
        analysis.agents.iter().any(is) && !plan.inputs.iter().any(is)
    };
    // An archive belongs to the input at the end of its chain of parents; parents stand before children.
    let mut input_of: Vec<usize> = Vec::with_capacity(program.archives.len());
    let mut rows: Vec<InputRow> = Vec::new();
    for archive in &program.archives {
        let input = if let Some(&input) = archive.parent.and_then(|parent| input_of.get(parent.0 as usize)) {
            input
        } else {
            rows.push(InputRow {
                path: archive.locator.to_string(),
                kind: if is_agent(archive) { AGENT } else { kind(archive.kind) },
                archives: 0,
                classes: 0,
            });
            rows.len() - 1
        };
        input_of.push(input);
        if let Some(row) = rows.get_mut(input) {
            row.archives += 1;
        }
    }
    for class in analysis.view.classes.iter().filter_map(|&id| program.class(id)) {
        if let Some(row) = input_of.get(class.archive.0 as usize).and_then(|&input| rows.get_mut(input)) {
            row.classes += 1;
        }
    }
    if rows.is_empty() {
        rows.extend(plan.inputs.iter().map(|path| InputRow {
            path: path.to_string_lossy().into_owned(),
            kind: "nothing that can be read",
            archives: 0,
            classes: 0,
        }));
    }
    rows
}

fn entry_point(entry: &program::EntryPoint) -> EntryPoint {
    EntryPoint { class: entry.class.replace('/', "."), reason: entry.reason.clone() }
}

fn listed(plan: &Plan, analysis: &Analysis) -> Vec<ListedRow> {
    let of_program = analysis.entry_points.listed_classes();
    let row = |path: &PathBuf| {
        let path = path.to_string_lossy().into_owned();
        let mut row = ListedRow { path, of_program: 0, of_platform: 0, unknown: 0 };
        for one in analysis.listed.iter().filter(|one| *one.file == *row.path) {
            let counter = if of_program.contains(&*one.class) {
                &mut row.of_program
            } else if analysis.catalogue.presence(one.class.as_bytes()).holder().is_some() {
                &mut row.of_platform
            } else {
                &mut row.unknown
            };
            *counter += 1;
        }
        row
    };
    plan.names.iter().map(row).collect()
}

fn logs(analysis: &Analysis) -> Vec<LogRow> {
    let row = |log: &Log| LogRow {
        path: log.path.to_string_lossy().into_owned(),
        files: log.files.len(),
        loads: log.loads,
        shared: log.shared,
        modules: log.modules.keys().map(|&id| analysis.catalogue.name(id).to_owned()).collect(),
    };
    analysis.logs.iter().map(row).collect()
}

fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Jar => "jar",
        Kind::ExecutableJar => "executable jar with nested jars",
        Kind::War => "web archive",
        Kind::Ear => "enterprise archive",
        Kind::ClassFolder => "class folder",
        Kind::InnerClasses => "classes of an archive",
    }
}

fn totals(analysis: &Analysis) -> Totals {
    let Analysis { program, view, reach, .. } = analysis;
    let classes = view.classes.iter().filter_map(|&id| program.class(id));
    let methods = classes.clone().flat_map(|class| program.methods_of(class));
    let declared = methods.filter(|(_, method)| method.kind == MethodKind::Declared && method.has_code());
    let (methods, methods_reached) =
        declared.fold((0, 0), |(all, reached), (id, _)| (all + 1, reached + usize::from(reach.method(id).is_some())));
    let classes_reached = view.classes.iter().filter(|&&id| reach.loaded(id).is_some()).count();
    Totals {
        archives: analysis.program.archives.len(),
        classes: analysis.view.classes.len(),
        class_bytes: classes.map(|class| u64::from(class.size)).sum(),
        methods,
        classes_reached,
        methods_reached,
    }
}

/// The row that names a platform, and what of it comes from a neighbour.
pub(super) fn platform(catalogue: &Catalogue, reason: &str) -> PlatformRow {
    let source = match &catalogue.source {
        Source::BuiltIn => "built-in catalogue".to_owned(),
        Source::Jdk { home, version, vendor } => match vendor {
            Some(vendor) => format!("{} ({version}, {vendor})", home.display()),
            None => format!("{} ({version})", home.display()),
        },
    };
    let mut notes = Vec::new();
    let mut borrowed: BTreeMap<u16, Vec<&str>> = BTreeMap::new();
    for module in &catalogue.modules {
        if let Some(release) = module.from_release {
            borrowed.entry(release).or_default().push(&module.name);
        }
    }
    for (release, modules) in borrowed {
        notes.push(format!(
            "internal packages of {} are those of release {release}, the nearest one at hand",
            count(modules.len(), "module")
        ));
    }
    PlatformRow {
        release: catalogue.release,
        source,
        reason: reason.to_owned(),
        modules: catalogue.modules.len(),
        notes,
    }
}

fn modules(analysis: &Analysis) -> Vec<ModuleRow> {
    let Analysis { catalogue, judgement, selection, .. } = analysis;
    let ids = (0..catalogue.modules.len() as u16).map(ModuleId);
    ids.filter(|&id| selection.keeps(id) || judgement.standing(id).is_some())
        .map(|id| module_row(analysis, id, EVIDENCE_ROWS))
        .collect()
}

/// The row of one module with at most `limit` rows of evidence.
pub(super) fn module_row(analysis: &Analysis, id: ModuleId, limit: usize) -> ModuleRow {
    let Analysis { catalogue, graph, judgement, scales, selection, .. } = analysis;
    let evidence = judgement.evidence(id);
    let base = catalogue.is_base(id);
    let standing = match judgement.standing(id) {
        _ if base => Standing::Needed,
        Some(standing) => of_evidence(standing),
        None => Standing::Implied,
    };
    let required_by: Vec<String> = graph
        .required_by(id)
        .into_iter()
        .filter(|&by| selection.keeps(by))
        .map(|by| catalogue.name(by).to_owned())
        .collect();
    let evidence = ranked(evidence);
    let (rows, evidence_omitted) = evidence_rows(analysis, &evidence, limit);
    let reason = match rows.first() {
        _ if base => FOR_ALL.to_owned(),
        _ if selection.keeps(id) && !selection.is_root(id) => format!("required by {}", required_by.join(", ")),
        Some(row) => sentence(row, &evidence),
        None => "asked for by --with".to_owned(),
    };
    let gone = graph.kept_only_by(&selection.roots, id);
    ModuleRow {
        name: catalogue.name(id).to_owned(),
        standing,
        kept: selection.keeps(id),
        root: selection.is_root(id),
        name_at_launch: analysis.late.contains(&id),
        reason,
        evidence: rows,
        evidence_omitted,
        required_by,
        requires: graph.requires(id).into_iter().map(|id| catalogue.name(id).to_owned()).collect(),
        weight: module_weight(scales, catalogue, id),
        sole_bytes: scales.freed(catalogue, &selection.modules, &gone.into_iter().collect()),
    }
}

/// Why something asks for a module, whatever becomes of it: one line, where anything asks.
pub(super) fn asked(analysis: &Analysis, id: ModuleId) -> Option<String> {
    let evidence = ranked(analysis.judgement.evidence(id));
    let (rows, _) = evidence_rows(analysis, &evidence, 1);
    rows.first().map(|row| sentence(row, &evidence))
}

/// The standing that evidence adds, in the words of reports.
pub(super) fn of_evidence(standing: verdict::Standing) -> Standing {
    match standing {
        verdict::Standing::Needed => Standing::Needed,
        verdict::Standing::Uncertain => Standing::Uncertain,
        verdict::Standing::Tolerated => Standing::Tolerated,
        verdict::Standing::Dormant => Standing::Dormant,
    }
}

/// Strongest first; of one standing texts last, since they say the least.
fn ranked(evidence: &[Evidence]) -> Vec<&Evidence> {
    let mut all: Vec<&Evidence> = evidence.iter().collect();
    all.sort_by_key(|evidence| (evidence.standing, evidence.kind == verdict::EvidenceKind::Text));
    all
}

/// One line for people: who asks, how, for what, and how often else with that standing. `row` is that
/// of the first piece of evidence.
///
/// Only class names are cut to their last part: a file's name and a module's name say nothing without the rest.
fn sentence(row: &EvidenceRow, evidence: &[&Evidence]) -> String {
    let simple = |name: &str| name.rsplit('.').next().unwrap_or(name).to_owned();
    let first = evidence.first();
    let in_file = first.is_some_and(|first| !matches!(first.place, Place::Class(..)));
    let of_module = first.is_some_and(|first| {
        matches!(
            first.kind,
            verdict::EvidenceKind::Requires
                | verdict::EvidenceKind::Launch
                | verdict::EvidenceKind::LaunchHint
                | verdict::EvidenceKind::Purpose
                | verdict::EvidenceKind::Need
        )
    });
    let who = if in_file { row.asker.clone() } else { simple(&row.asker) };
    let target = if of_module { row.target.clone() } else { simple(&row.target) };
    let same = |evidence: &&&Evidence| first.is_some_and(|first| first.standing == evidence.standing);
    let more = match evidence.iter().filter(same).count() {
        0 | 1 => String::new(),
        all => format!(", and {} more", grouped(all as u64 - 1)),
    };
    format!("{who} {} {target}{more}", row.phrase)
}

/// Bytes of one module, where known.
pub(super) fn module_weight(scales: &Scales, catalogue: &Catalogue, id: ModuleId) -> Option<ModuleWeight> {
    let Weight { classes, lib, other } = scales.module(catalogue, id)?;
    Some(ModuleWeight { classes, lib, other })
}

/// Evidence to rows: one row per archive and kind, the first place standing for all, strongest first.
pub(super) fn evidence_rows(analysis: &Analysis, evidence: &[&Evidence], limit: usize) -> (Vec<EvidenceRow>, usize) {
    let mut rows: Vec<EvidenceRow> = Vec::new();
    let mut places: FxHashMap<(Option<ArchiveId>, verdict::EvidenceKind), Option<usize>> = FxHashMap::default();
    let mut omitted = 0;
    for evidence in evidence {
        let archive = evidence.place.archive(&analysis.program);
        match places.get(&(archive, evidence.kind)) {
            Some(&Some(at)) => {
                if let Some(row) = rows.get_mut(at) {
                    row.also += 1;
                }
            }
            Some(None) => omitted += 1,
            None if rows.len() < limit => {
                places.insert((archive, evidence.kind), Some(rows.len()));
                rows.push(evidence_row(analysis, evidence));
            }
            None => {
                places.insert((archive, evidence.kind), None);
                omitted += 1;
            }
        }
    }
    (rows, omitted)
}

/// One piece of evidence for printing.
pub(super) fn evidence_row(analysis: &Analysis, evidence: &Evidence) -> EvidenceRow {
    let program = &analysis.program;
    let (archive, asker, member) = match &evidence.place {
        Place::Class(id, member) => {
            let class = program.class(*id);
            (
                class.and_then(|class| program.archive(class.archive)).map(|archive| archive.locator.to_string()),
                class.map_or_else(String::new, |class| binary_name(program.names.name(class.name))),
                member.map(|member| decode_mutf8(program.members.name(member)).into_owned()),
            )
        }
        Place::Resource(id, path) => {
            (program.archive(*id).map(|archive| archive.locator.to_string()), path.to_string(), None)
        }
        Place::Launch => (None, "the launch".to_owned(), None),
        Place::Purpose(id) => (None, format!("the purpose {id}"), None),
        Place::List(line) => (None, line.to_string(), None),
        Place::Log(path) => (None, path.to_string(), None),
    };
    EvidenceRow {
        kind: evidence.kind.tag(),
        standing: of_evidence(evidence.standing),
        phrase: evidence.phrase.as_deref().unwrap_or(evidence.kind.phrase()).to_owned(),
        stage: evidence.kind.stage_tag(),
        target: evidence.target.replace('/', "."),
        archive: archive.unwrap_or_default(),
        asker,
        member,
        also: 0,
    }
}

fn weight(analysis: &Analysis) -> WeightRow {
    let catalogue = &analysis.catalogue;
    let kept = analysis.scales.total(catalogue, analysis.selection.modules.iter().copied());
    let all = analysis.scales.total(catalogue, (0..catalogue.modules.len() as u16).map(ModuleId));
    WeightRow {
        selection: kept.exact(),
        platform: all.exact(),
        unknown: kept.unknown.iter().map(|&id| catalogue.name(id).to_owned()).collect(),
        basis: basis(&analysis.scales, catalogue),
    }
}

/// What a catalogue's figures were taken from.
pub(super) fn basis(scales: &Scales, catalogue: &Catalogue) -> String {
    let origin = match &catalogue.source {
        Source::BuiltIn => match scales.figures() {
            Some(figures) if figures.release != catalogue.release => {
                format!("module sizes of release {}, the nearest one measured", figures.release)
            }
            _ => format!("module sizes of release {}", catalogue.release),
        },
        Source::Jdk { version, .. } => format!("module sizes of JDK {version}"),
    };
    format!("{origin}, uncompressed, debug data kept")
}

/// `1 module`, `3 modules`.
pub(super) fn count(number: usize, word: &str) -> String {
    if number == 1 { format!("1 {word}") } else { format!("{number} {word}s") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::archive::ArchiveId;
    use crate::verdict::EvidenceKind;

    fn said(kind: EvidenceKind, file: &str, target: &str, times: usize) -> String {
        let evidence = Evidence {
            target: target.into(),
            kind,
            place: Place::Resource(ArchiveId(0), file.into()),
            method: None,
            standing: verdict::Standing::Uncertain,
            phrase: None,
        };
        let row = EvidenceRow {
            kind: kind.tag(),
            standing: Standing::Uncertain,
            phrase: kind.phrase().to_owned(),
            stage: kind.stage_tag(),
            target: target.replace('/', "."),
            archive: String::new(),
            asker: file.to_owned(),
            member: None,
            also: 0,
        };
        sentence(&row, &vec![&evidence; times])
    }

    /// `module-info.class` is no class called `class`, nor `java.management.rmi` a type called `rmi`.
    #[test]
    fn names_of_files_and_modules_stay_whole() {
        assert_eq!(
            said(EvidenceKind::Requires, "module-info.class", "java.management.rmi", 1),
            "module-info.class requires in its module descriptor java.management.rmi"
        );
        assert_eq!(
            said(EvidenceKind::ServiceFile, "META-INF/services/java.sql.Driver", "java/sql/Driver", 2),
            "META-INF/services/java.sql.Driver names for service look-up Driver, and 1 more"
        );
    }

    #[test]
    fn what_is_left_out_is_counted_as_people_write_it() {
        let text = said(EvidenceKind::ServiceFile, "a", "b/C", 3063);
        assert!(text.ends_with(", and 3,062 more"), "{text}");
    }
}

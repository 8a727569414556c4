//! What a report says beside the modules: what is missing, what left the platform, own copies, what cannot be worked out,
//! and what to mind.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use crate::archive::ArchiveId;
use crate::diag::{Code, Diagnostic, Findings};
use crate::flow::sinks::Purpose;
use crate::names::{Locator, binary_name, decode_mutf8, package_of};
use crate::plan::Plan;
use crate::platform::{Catalogue, Presence, last_release_with};
use crate::program::{ClassId, Listed, MethodId};
use crate::report::layout::count;
use crate::report::{MissingRow, OpaqueRow, RemovedRow, ShadowedRow, SuppliedRow};
use crate::verdict;

use super::Analysis;

/// Packages of missing types in a report.
const MISSING_ROWS: usize = 12;

/// Kinds of calls, by archive, in a report.
const OPAQUE_ROWS: usize = 24;

/// Types that are nowhere, by package; and how many packages were left out.
pub(super) fn missing(analysis: &Analysis) -> (Vec<MissingRow>, usize) {
    let Analysis { program, view, catalogue, .. } = analysis;
    let mut packages: BTreeMap<&[u8], MissingRow> = BTreeMap::new();
    for &(name, asker) in program.named.iter() {
        let text = program.names.name(name);
        let Some(class) = program.class(asker) else { continue };
        let scope = program.archive(class.archive).map(|archive| archive.scope).unwrap_or_default();
        if view.find(scope, name).is_some() || catalogue.presence(text) != Presence::NoPackage {
            continue;
        }
        let row = packages.entry(package_of(text)).or_insert_with(|| MissingRow {
            package: binary_name(package_of(text)),
            types: 0,
            example: binary_name(text),
            asker: binary_name(program.names.name(class.name)),
        });
        row.types += 1;
    }
    let mut rows: Vec<MissingRow> = packages.into_values().collect();
    rows.sort_by_key(|row| std::cmp::Reverse(row.types));
    let omitted = rows.len().saturating_sub(MISSING_ROWS);
    rows.truncate(MISSING_ROWS);
    (rows, omitted)
}

/// Names in the user's lists that neither the program nor the platform has; `listed` leaves out those of the program.
pub(super) fn unknown_names(catalogue: &Catalogue, listed: &[Listed], findings: &mut Findings) {
    for one in listed {
        let name = one.class.as_bytes();
        if catalogue.presence(name).holder().is_some() {
            continue;
        }
        findings.add(Code::UnknownName, || {
            let release = catalogue.release;
            let past = match last_release_with(name) {
                Some((last, module)) if last < release => format!("; until release {last} {module} had it"),
                _ => String::new(),
            };
            let class = binary_name(name);
            let message =
                format!("line {}: {class} is in none of the archives and not in release {release}{past}", one.line);
            Diagnostic::new(Code::UnknownName, Locator::of_path(Path::new(&*one.file)), message)
        });
    }
}

/// Types that the release no longer has.
pub(super) fn removed(analysis: &Analysis) -> Vec<RemovedRow> {
    let program = &analysis.program;
    let row = |removed: &verdict::Removed| RemovedRow {
        class: removed.class.replace('/', "."),
        module: removed.module.to_owned(),
        removed_in: removed.last + 1,
        asker: program.class(removed.asker).map_or_else(String::new, |class| program.shown(class.name)),
        askers: removed.askers,
    };
    analysis.judgement.removed.iter().map(row).collect()
}

/// Modules of whose types the program brings copies.
pub(super) fn supplied(analysis: &Analysis) -> Vec<SuppliedRow> {
    let Analysis { judgement, catalogue, selection, .. } = analysis;
    let row = |&(id, types): &(crate::platform::ModuleId, usize)| SuppliedRow {
        module: catalogue.name(id).to_owned(),
        types,
        kept: selection.keeps(id),
    };
    judgement.supplied.iter().map(row).collect()
}

/// Classes that are never loaded, by their archive and the one that comes first.
pub(super) fn shadowed(analysis: &Analysis) -> Vec<ShadowedRow> {
    let Analysis { program, view, .. } = analysis;
    let place = |id| program.archive(id).map(|archive| archive.locator.to_string()).unwrap_or_default();
    let row = |(&(archive, by), &(classes, first)): (&(ArchiveId, ArchiveId), &(usize, ClassId))| ShadowedRow {
        archive: place(archive),
        by: place(by),
        classes,
        example: program.class(first).map_or_else(String::new, |class| program.shown(class.path)),
    };
    let mut rows: Vec<ShadowedRow> = view.shadowed.iter().map(row).collect();
    // Stable: among equals the class path order stays.
    rows.sort_by_key(|row| std::cmp::Reverse(row.classes));
    rows
}

/// Look-ups of which nothing is known, by call and archive; and how many calls the rows leave out. A property, whose
/// value is not looked up by the call, is none.
pub(super) fn opaque(analysis: &Analysis) -> (Vec<OpaqueRow>, usize) {
    let program = &analysis.program;
    let mut rows: BTreeMap<(Purpose, &str, &str, u32), OpaqueRow> = BTreeMap::new();
    for look_up in analysis.reach.opaque.iter().filter(|look_up| look_up.sink.purpose != Purpose::Property) {
        let Some(method) = program.method(look_up.method) else { continue };
        let Some(class) = program.class(method.class) else { continue };
        let key = (look_up.sink.purpose, look_up.sink.owner, look_up.sink.name, class.archive.0);
        let row = rows.entry(key).or_insert_with(|| OpaqueRow {
            purpose: look_up.sink.purpose.tag(),
            call: format!("{}.{}", look_up.sink.owner.replace('/', "."), look_up.sink.name),
            class: binary_name(program.names.name(class.name)),
            member: decode_mutf8(program.members.name(method.selector)).into_owned(),
            archive: program.archive(class.archive).map(|archive| archive.locator.to_string()).unwrap_or_default(),
            places: 0,
        });
        row.places += 1;
    }
    let mut rows: Vec<OpaqueRow> = rows.into_values().collect();
    let omitted = rows.iter().skip(OPAQUE_ROWS).map(|row| row.places).sum();
    rows.truncate(OPAQUE_ROWS);
    (rows, omitted)
}

/// Whether the program is started from the module path. Where nothing is said of that path, a class that the user names is
/// started from the class path, since the launcher takes a class of a module together with its name.
pub(super) fn is_modular(plan: &Plan, analysis: &Analysis) -> bool {
    let says_path = plan.launch.module_path.is_some() || plan.launch.main_module.is_some();
    (says_path || plan.entries.is_empty()) && verdict::is_modular(&analysis.program, &plan.launch)
}

/// Cautions that hold for every trimmed image come first, then those that this answer gives rise to.
pub(super) fn cautions(plan: &Plan, analysis: &Analysis) -> Vec<String> {
    let release = analysis.catalogue.release;
    let mut cautions = vec![
        format!("This list holds for release {release} only: modules and what they contain move between releases."),
        "Run your own tests on the trimmed image before you ship it; your tests and your policy go before this list."
            .to_owned(),
        "Build the image again whenever the JDK gets a security update.".to_owned(),
        "Keep the legal notices that the linker copies into the image.".to_owned(),
    ];
    let mut mind = |caution: String| cautions.push(caution);
    let opaque = analysis.reach.opaque.iter().filter(|look_up| look_up.sink.purpose == Purpose::Load);
    let opaque: BTreeSet<MethodId> = opaque.map(|look_up| look_up.method).collect();
    if !opaque.is_empty() {
        let methods = count(opaque.len(), "method loads", "methods load");
        mind(format!(
            "{methods} classes by names that are not in the code, such as those of a configuration: try what yours names, \
             and keep its modules by --with."
        ));
    }
    let asked = |id| analysis.judgement.standing(id).is_some_and(|standing| plan.policy.keeps(standing));
    if let Some(never) = analysis.catalogue.not_linkable().filter(|&id| asked(id)) {
        mind(format!(
            "The program asks for {}, which this JDK cannot put into an image since it has no packaged modules; link \
             with one that has them, or keep to what works without.",
            analysis.catalogue.name(never)
        ));
    }
    if plan.launch == crate::needs::Launch::default() {
        mind(
            "Options of the launch ask for modules of their own (agents, remote management): give yours by --launch."
                .to_owned(),
        );
    }
    if is_modular(plan, analysis) {
        mind(
            "Started from the module path, the program resolves only what its descriptors require and what is bound to \
             that; name other modules of this list by --add-modules at launch."
                .to_owned(),
        );
    }
    if analysis.findings.incomplete() {
        mind("Part of the input could not be read or judged; modules may be missing from the list.".to_owned());
    }
    cautions
}

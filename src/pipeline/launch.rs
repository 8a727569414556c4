//! What the launch brings to the program, and what it asks for, in words. The first function to read is [`agents`].

use std::path::{Path, PathBuf};

use crate::diag::{Code, Diagnostic, Findings};
use crate::names::Locator;
use crate::needs::{self, Implied, Implies};
use crate::plan::Plan;
use crate::platform::ModuleId;
use crate::report::LaunchRow;
use crate::verdict::{EvidenceKind, Standing};

use super::Analysis;
use super::remarks::is_modular;

/// The archives of `-javaagent` that are at hand: where the option says, or an input of that name, since a launch in a
/// container names places within it. What is nowhere is a finding.
pub(super) fn agents(plan: &Plan, findings: &mut Findings) -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> = Vec::new();
    for agent in &plan.launch.agents {
        let path = Path::new(&**agent);
        let namesake = plan.inputs.iter().find(|input| input.file_name() == path.file_name());
        match Some(path).filter(|path| path.is_file()).or(namesake.map(PathBuf::as_path)) {
            Some(path) if found.iter().any(|known| known == path) => {}
            Some(path) => found.push(path.to_owned()),
            None => findings.add(Code::MissingAgent, || {
                let message = "the launch names it as an agent, and it is not there: what it asks for is not in this list. \
                               Give a copy of it as an input";
                Diagnostic::new(Code::MissingAgent, Locator::of_path(path), message)
            }),
        }
    }
    found
}

/// What files leave open about the launch.
pub(super) fn unclear(plan: &Plan, findings: &mut Findings) {
    for unclear in &plan.launch.unclear {
        findings.add(Code::UnclearLaunch, || {
            let message = format!("line {}: {}", unclear.line, unclear.message);
            Diagnostic::new(Code::UnclearLaunch, Locator::of_path(&unclear.file), message)
        });
    }
}

/// Whether resolution starts from a module where the program is launched as the plan says.
pub(super) fn starts(plan: &Plan, analysis: &Analysis, id: ModuleId) -> bool {
    let on_module_path = is_modular(plan, analysis);
    let required = || {
        let mut evidence = analysis.judgement.evidence(id).iter();
        evidence.any(|evidence| evidence.kind == EvidenceKind::Requires && evidence.standing == Standing::Needed)
    };
    needs::starts_from(&analysis.catalogue, id, &plan.launch, on_module_path) || on_module_path && required()
}

/// Whether the launch has to name a module where nothing resolves it: its classes are wanted in the program's own JVM. A
/// command such as jcmd starts one of its own.
pub(super) fn to_be_named(plan: &Plan, analysis: &Analysis, id: ModuleId) -> bool {
    let Some(module) = analysis.catalogue.modules.get(usize::from(id.0)) else { return false };
    let asked = analysis.judgement.evidence(id).iter().any(|evidence| evidence.kind != EvidenceKind::Purpose);
    !starts(plan, analysis, id) && (module.not_by_default || !module.packages.is_empty() && asked)
}

/// Kept modules that are in the image and yet not resolved unless the launch names them.
pub(super) fn late(plan: &Plan, analysis: &Analysis) -> Vec<ModuleId> {
    let selection = &analysis.selection;
    let from = selection.modules.iter().copied().filter(|&id| starts(plan, analysis, id));
    let resolved = analysis.graph.resolved(&selection.modules, from);
    let late = |id: &ModuleId| resolved.binary_search(id).is_err() && to_be_named(plan, analysis, *id);
    selection.roots.iter().copied().filter(late).collect()
}

/// Every option with what it implies.
pub(super) fn rows(plan: &Plan, analysis: &Analysis) -> Vec<LaunchRow> {
    let row = |Implied { given, implies, modules, without }: Implied| LaunchRow {
        option: given.option.into(),
        from: given.from.into(),
        implies: implies.tag(),
        modules: modules.into_iter().map(Into::into).collect(),
        without: without.filter(|_| implies == Implies::Needed).map(str::to_owned),
    };
    needs::implied(&plan.launch, &analysis.catalogue).into_iter().map(row).collect()
}

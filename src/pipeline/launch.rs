//! What the launch brings to the program, and what it asks for, in words. The first function to read is [`agents`].

use std::path::{Path, PathBuf};

use crate::diag::{Code, Diagnostic, Findings};
use crate::names::Locator;
use crate::needs::{self, Implied, Implies};
use crate::plan::Plan;
use crate::report::LaunchRow;

use super::Analysis;

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

//! Puts the reasons for one module into words.

use crate::error::Error;
use crate::plan::Plan;
use crate::platform::ModuleId;
use crate::report::{Explanation, Standing, Step, Witness};
use crate::verdict::Evidence;

use super::Analysis;
use super::assemble::{count, evidence_row, module_row, report};

/// Witness paths shown.
const WITNESSES: usize = 10;

/// Evidence rows shown.
const EVIDENCE_ROWS: usize = 40;

/// Chains of modules shown.
const CHAINS: usize = 10;

/// The answer to `explain`.
pub(super) fn explanation(plan: &Plan, analysis: &Analysis, module: &str) -> Result<Explanation, Error> {
    let Analysis { catalogue, graph, judgement, selection, .. } = analysis;
    let Some(id) = catalogue.module(module) else {
        return Err(Error::Usage(format!("release {} has no module {module}", catalogue.release)));
    };
    let evidence = judgement.evidence(id);
    let known = !evidence.is_empty() || selection.keeps(id);
    let row = known.then(|| module_row(analysis, id, EVIDENCE_ROWS));
    let witnesses: Vec<Witness> = evidence.iter().take(WITNESSES).map(|evidence| witness(analysis, evidence)).collect();
    let chains: Vec<Vec<String>> = selection
        .roots
        .iter()
        .filter(|&&root| root != id)
        .filter_map(|&root| graph.chain(&[root], id))
        .take(CHAINS)
        .map(|chain| chain.iter().map(|&id| catalogue.name(id).to_owned()).collect())
        .collect();
    let brings: Vec<String> = graph
        .kept_only_by(&selection.roots, id)
        .into_iter()
        .filter(|&other| other != id)
        .map(|other| catalogue.name(other).to_owned())
        .collect();
    let to_go = to_go(analysis, id, row.as_ref().map(|row| row.standing), &chains);
    Ok(Explanation {
        report: report(plan, analysis),
        module: module.to_owned(),
        row,
        witnesses_omitted: evidence.len().saturating_sub(witnesses.len()),
        witnesses,
        chains,
        brings,
        to_go,
    })
}

/// The asking class and member; every class counts as able to run, so the path starts there.
fn witness(analysis: &Analysis, evidence: &Evidence) -> Witness {
    let row = evidence_row(analysis, evidence);
    let who = match &row.member {
        Some(member) => format!("{}.{member}", row.asker),
        None => row.asker.clone(),
    };
    Witness { steps: vec![Step { who, archive: row.archive.clone(), how: row.phrase.clone() }], evidence: row }
}

fn to_go(analysis: &Analysis, id: ModuleId, standing: Option<Standing>, chains: &[Vec<String>]) -> String {
    let name = analysis.catalogue.name(id);
    let own = analysis.judgement.evidence(id).len();
    let by_others = match chains.len() {
        0 => String::new(),
        1 => " and the module that requires it would have to go too".to_owned(),
        _ => format!(" and {} that require it would have to go too", count(chains.len(), "root module")),
    };
    match standing {
        _ if name == "java.base" => "java.base cannot go: every program needs it.".to_owned(),
        None => format!("Nothing in the program asks for {name}, and no kept module requires it."),
        Some(Standing::Implied) if !chains.is_empty() => {
            let roots: Vec<&str> = chains.iter().filter_map(|chain| chain.first()).map(String::as_str).collect();
            format!("It goes when {} {}.", roots.join(", "), if roots.len() == 1 { "goes" } else { "go" })
        }
        Some(_) => format!("The program would have to stop asking in {}{by_others}.", count(own, "place")),
    }
}

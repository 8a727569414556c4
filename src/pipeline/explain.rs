//! Puts the reasons for one module into words.

use std::collections::BTreeMap;

use crate::error::Error;
use crate::plan::Plan;
use crate::platform::ModuleId;
use crate::report::layout::{count, grouped};
use crate::report::{Explanation, ModuleRow, Standing, Step, Witness};
use crate::verdict::{self, Evidence, Place};

use super::Analysis;
use super::assemble::{evidence_row, module_row, of_evidence, report};
use super::path::Tracer;

/// Witness paths shown, and of them those of each standing but the strongest.
const WITNESSES: (usize, usize) = (10, 2);

/// Evidence rows shown.
const EVIDENCE_ROWS: usize = 40;

/// Chains of modules shown.
const CHAINS: usize = 10;

/// Archives named in one sentence.
const ARCHIVES: usize = 3;

/// The answer to `explain`.
pub(super) fn explanation(plan: &Plan, analysis: &Analysis, module: &str) -> Result<Explanation, Error> {
    let Analysis { catalogue, graph, judgement, selection, .. } = analysis;
    let Some(id) = catalogue.module(module) else {
        let meant = catalogue.did_you_mean(module);
        return Err(Error::Usage(format!("release {} has no module {module}{meant}", catalogue.release)));
    };
    let evidence = judgement.evidence(id);
    let known = !evidence.is_empty() || selection.keeps(id);
    let row = known.then(|| module_row(analysis, id, EVIDENCE_ROWS));
    let witnesses = witnesses(&Tracer::new(analysis), evidence, WITNESSES);
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
    let to_go = match &row {
        None => format!("Nothing in the program asks for {module}, and no kept module requires it."),
        Some(row) => to_go(analysis, id, row, &chains),
    };
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

/// Of each standing the shortest paths, no two from one place: `most` in all, of which each standing but the strongest
/// has `of_weaker`.
pub(super) fn witnesses(tracer: &Tracer<'_>, evidence: &[Evidence], (most, of_weaker): (usize, usize)) -> Vec<Witness> {
    let mut by_standing: BTreeMap<verdict::Standing, Vec<(usize, &Evidence)>> = BTreeMap::new();
    for evidence in evidence {
        by_standing.entry(evidence.standing).or_default().push((tracer.length(evidence), evidence));
    }
    let weaker = by_standing.len().saturating_sub(1);
    let mut room = most.saturating_sub(weaker * of_weaker);
    let mut chosen = Vec::new();
    for (_, mut all) in by_standing {
        // Stable: of the same length the first on the class path stays first.
        all.sort_by_key(|&(length, _)| length);
        let mut places: Vec<&Place> = Vec::new();
        for (_, evidence) in all {
            if places.len() < room && !places.contains(&&evidence.place) {
                places.push(&evidence.place);
                chosen.push(witness(tracer, evidence));
            }
        }
        room = of_weaker;
    }
    chosen
}

fn witness(tracer: &Tracer<'_>, evidence: &Evidence) -> Witness {
    let row = evidence_row(tracer.analysis, evidence);
    let who = match &row.member {
        Some(member) => format!("{}.{member}", row.asker),
        None => row.asker.clone(),
    };
    let last = Step { who, archive: row.archive.clone(), how: row.phrase.clone(), stage: row.stage };
    Witness { steps: tracer.steps(evidence, last), evidence: row }
}

/// What would have to change, in one or two sentences.
fn to_go(analysis: &Analysis, id: ModuleId, row: &ModuleRow, chains: &[Vec<String>]) -> String {
    let name = analysis.catalogue.name(id);
    if name == "java.base" {
        return "java.base cannot go: every program needs it.".to_owned();
    }
    let roots: Vec<&str> = chains.iter().filter_map(|chain| chain.first()).map(String::as_str).collect();
    if row.kept && !row.root {
        let verb = if roots.len() == 1 { "goes" } else { "go" };
        return format!("It goes when {} {verb}.", list(&roots));
    }
    let evidence = analysis.judgement.evidence(id);
    if row.kept && evidence.is_empty() {
        return "It is kept because --with asks for it; leave that out.".to_owned();
    }
    let also = match &*roots {
        [] => String::new(),
        roots => format!(" It would also stay for {}, which would have to go as well.", list(roots)),
    };
    let places = places(analysis, evidence, row.standing);
    let by_launch = evidence.iter().any(|evidence| evidence.place == Place::Launch);
    let purpose = evidence.iter().find_map(|evidence| match &evidence.place {
        Place::Purpose(purpose) => Some(purpose),
        _ => None,
    });
    let log = evidence.iter().find_map(|evidence| match &evidence.place {
        Place::Log(path) if of_evidence(evidence.standing) == row.standing => Some(path),
        _ => None,
    });
    let listed = evidence.iter().find_map(|evidence| match &evidence.place {
        Place::List(line) => Some(line),
        _ => None,
    });
    match (row.standing, row.kept) {
        (Standing::Needed, _) if by_launch => {
            format!("The launch options ask for it: they would have to change, and {places}.{also}")
        }
        (Standing::Needed, _) if let Some(purpose) = purpose => {
            format!("--purpose {purpose} asks for it: leave that out. Beside that it is asked for by {places}.{also}")
        }
        (Standing::Needed, _) if let Some(line) = listed => {
            format!("{line} names a class of it: take that out. Beside that it is asked for by {places}.{also}")
        }
        (Standing::Needed, _) if let Some(log) = log => format!(
            "A run loaded classes of it, as {log} shows. Beside that it is asked for by {places}. It goes when what ran \
             there does without it.{also}"
        ),
        (Standing::Needed, _) => format!(
            "Needed by {places}. It goes when that code goes, or when nothing that can run reaches it any more.{also}"
        ),
        (Standing::Uncertain, true) if roots.is_empty() => format!(
            "Whether it is missed is not certain: see {places}. Scan with --without {name}, link that list, and run tests \
             that come through there; if they pass, it can stay out."
        ),
        (Standing::Uncertain, true) => format!("Whether it is missed is not certain: see {places}.{also}"),
        (Standing::Uncertain, false) => format!(
            "It is not kept, though it may be missed: see {places}. Run tests that come through there, or keep it by --with \
             {name}."
        ),
        (Standing::Tolerated, false) => format!(
            "It is not kept: the program bears its absence in {places}, and does without what the module would give. Keep \
             that by --with {name}."
        ),
        (Standing::Tolerated, true) => {
            format!("The program bears its absence in {places}; policy safe leaves it out.{also}")
        }
        (_, false) => format!("It is not kept: nothing reaches {places}."),
        (_, true) => format!("Nothing reaches {places}; policy safe leaves it out.{also}"),
    }
}

/// Where evidence of the module's standing is, by archive: `code in 12 places of app.jar (8) and store.jar (4)`.
fn places(analysis: &Analysis, evidence: &[Evidence], standing: Standing) -> String {
    let mut archives: BTreeMap<u32, usize> = BTreeMap::new();
    for evidence in evidence.iter().filter(|evidence| of_evidence(evidence.standing) == standing) {
        if let Some(archive) = evidence.place.archive(&analysis.program) {
            *archives.entry(archive.0).or_default() += 1;
        }
    }
    let all: usize = archives.values().sum();
    let mut most: Vec<(u32, usize)> = archives.into_iter().collect();
    most.sort_by_key(|&(archive, count)| (std::cmp::Reverse(count), archive));
    let name = |archive: u32| {
        let archive = analysis.program.archive(crate::archive::ArchiveId(archive));
        archive.map_or_else(String::new, |archive| archive.locator.last().to_owned())
    };
    let mut named: Vec<String> =
        most.iter().take(ARCHIVES).map(|&(at, count)| format!("{} ({})", name(at), grouped(count as u64))).collect();
    if most.len() > ARCHIVES {
        named.push(count(most.len() - ARCHIVES, "more archive", "more archives"));
    }
    match &*named {
        [] => "nothing in the archives".to_owned(),
        _ if most.len() == 1 => {
            format!(
                "{} in {}",
                count(all, "place", "places"),
                most.first().map_or_else(String::new, |&(at, _)| name(at))
            )
        }
        _ => {
            let named: Vec<&str> = named.iter().map(String::as_str).collect();
            format!("{} in {}", count(all, "place", "places"), list(&named))
        }
    }
}

/// `a`, `a and b`, `a, b and c`.
fn list(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

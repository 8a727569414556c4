//! What each purpose adds to the image. The first function to read is [`rows`].

use crate::error::Error;
use crate::needs::{self, Purpose};
use crate::plan::Plan;
use crate::platform::ModuleId;
use crate::report::PurposeRow;
use crate::report::dossier::OtherwiseRow;
use crate::verdict::{Evidence, EvidenceKind, Place, Standing};

use super::Analysis;
use super::assemble::of_evidence;

/// The purposes that the plan names.
///
/// [`Error::Usage`] for one that does not exist.
pub(super) fn chosen(plan: &Plan) -> Result<Vec<&'static Purpose>, Error> {
    let find = |id: &String| {
        needs::purposes().iter().find(|purpose| *purpose.id == **id).ok_or_else(|| {
            let known: Vec<&str> = needs::purposes().iter().map(|purpose| &*purpose.id).collect();
            Error::Usage(format!("--purpose {id}: there is none of that name, but {}", known.join(", ")))
        })
    };
    plan.purposes.iter().map(find).collect()
}

/// Every purpose, with what it adds; of one that is chosen, what would go without it.
pub(super) fn rows(plan: &Plan, analysis: &Analysis) -> Vec<PurposeRow> {
    let Analysis { catalogue, scales, graph, selection, .. } = analysis;
    let row = |purpose: &'static Purpose| {
        let modules = purpose.modules(catalogue);
        let chosen = plan.purposes.iter().any(|id| **id == *purpose.id);
        let adds: Vec<ModuleId> = if chosen {
            let stays = |id: &ModuleId| !modules.contains(id) || is_kept_otherwise(plan, analysis, *id, &purpose.id);
            let roots: Vec<ModuleId> = selection.roots.iter().copied().filter(stays).collect();
            let without = graph.closure(&roots);
            selection.modules.iter().copied().filter(|id| !without.contains(id)).collect()
        } else {
            graph.closure(&modules).into_iter().filter(|&id| !selection.keeps(id)).collect()
        };
        let mut whole: Vec<ModuleId> = selection.modules.iter().chain(&adds).copied().collect();
        whole.sort_unstable();
        whole.dedup();
        PurposeRow {
            purpose: &purpose.id,
            title: &purpose.title,
            chosen,
            modules: modules.iter().map(|&id| catalogue.name(id).to_owned()).collect(),
            bytes: scales.freed(catalogue, &whole, &adds.iter().copied().collect()),
            adds: adds.into_iter().map(|id| catalogue.name(id).to_owned()).collect(),
        }
    };
    needs::purposes().iter().map(row).collect()
}

/// Whether something else than one purpose makes a module a root.
fn is_kept_otherwise(plan: &Plan, analysis: &Analysis, id: ModuleId, purpose: &str) -> bool {
    let name = analysis.catalogue.name(id);
    plan.with.iter().any(|with| with == name)
        || standing_otherwise(analysis, id, purpose).is_some_and(|standing| plan.policy.keeps(standing))
}

/// What evidence for a module beside one purpose adds up to.
fn standing_otherwise(analysis: &Analysis, id: ModuleId, purpose: &str) -> Option<Standing> {
    let other = |evidence: &&Evidence| {
        evidence.kind != EvidenceKind::Purpose || evidence.place != Place::Purpose(purpose.into())
    };
    // The strongest comes first in their order.
    analysis.judgement.evidence(id).iter().filter(other).map(|evidence| evidence.standing).min()
}

/// The same for every module of the purposes that the plan names.
pub(super) fn otherwise(plan: &Plan, analysis: &Analysis) -> Vec<OtherwiseRow> {
    let chosen = needs::purposes().iter().filter(|purpose| plan.purposes.iter().any(|id| **id == *purpose.id));
    chosen
        .flat_map(|purpose| {
            purpose.modules(&analysis.catalogue).into_iter().map(|id| OtherwiseRow {
                purpose: &purpose.id,
                module: analysis.catalogue.name(id).to_owned(),
                standing: standing_otherwise(analysis, id, &purpose.id).map(of_evidence),
            })
        })
        .collect()
}

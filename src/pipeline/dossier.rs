//! Gathers what a page shows beyond a scan: paths to every module, and the platform as far as switches go.

use crate::plan::Plan;
use crate::platform::ModuleId;
use crate::report::Standing;
use crate::report::dossier::{Dossier, ImageOptionRow, ModuleWitnesses, Part};
use crate::weight::ImageOptions;

use super::Analysis;
use super::assemble::{FOR_ALL, asked, module_weight, of_evidence, report};
use super::explain::witnesses;
use super::launch;
use super::path::Tracer;
use super::{purposes, weigh};

/// Paths to one module, and of them those of each standing but the strongest.
const WITNESSES: (usize, usize) = (4, 1);

/// The answer of a scan and what belongs to it.
pub(super) fn dossier(plan: &Plan, analysis: &Analysis) -> Dossier {
    let Analysis { catalogue, graph, judgement, scales, selection, .. } = analysis;
    let ids = || (0..catalogue.modules.len() as u16).map(ModuleId);
    let zip_levels = weigh::zip_levels(scales);
    let usual = weigh::usual(zip_levels);
    let options: Vec<ImageOptions> = usual.iter().map(|candidate| candidate.options.clone()).collect();
    let images = match scales.total(catalogue, selection.modules.iter().copied()).exact() {
        Some(_) => weigh::images(scales, catalogue, &selection.modules),
        None => Vec::new(),
    };
    let part = |id: ModuleId| Part {
        name: catalogue.name(id).to_owned(),
        standing: match judgement.standing(id) {
            _ if catalogue.is_base(id) => Some(Standing::Needed),
            standing => standing.map(of_evidence),
        },
        reason: if catalogue.is_base(id) { Some(FOR_ALL.to_owned()) } else { asked(analysis, id) },
        requires: graph.requires(id).into_iter().map(|id| catalogue.name(id).to_owned()).collect(),
        starts: launch::starts(plan, analysis, id),
        binds: graph.bound_by(id).into_iter().map(|id| catalogue.name(id).to_owned()).collect(),
        name_at_launch: launch::to_be_named(plan, analysis, id),
        is_always_kept: selection.always.binary_search(&id).is_ok(),
        bytes: module_weight(scales, catalogue, id),
    };
    let tracer = Tracer::new(analysis);
    // Every class leads to java.base, and nobody asks why.
    let asked = ids().filter(|&id| !catalogue.is_base(id) && !judgement.evidence(id).is_empty());
    let paths = |id: ModuleId| {
        let evidence = judgement.evidence(id);
        let paths = witnesses(&tracer, evidence, WITNESSES);
        ModuleWitnesses {
            module: catalogue.name(id).to_owned(),
            omitted: evidence.len().saturating_sub(paths.len()),
            paths,
        }
    };
    let sorted = |names: &[String]| {
        let mut names = names.to_vec();
        names.sort_unstable();
        names.dedup();
        names
    };
    Dossier {
        report: report(plan, analysis),
        parts: ids().map(part).collect(),
        witnesses: asked.map(paths).collect(),
        said: plan.said.clone(),
        images: usual
            .iter()
            .map(|candidate| ImageOptionRow {
                label: candidate.label.to_owned(),
                arguments: candidate.options.arguments(zip_levels),
            })
            .collect(),
        // Whatever else the figures tell, the page starts from the image without options.
        model: scales.model(catalogue, &options).filter(|model| matches!(model.images.first(), Some(Some(_)))),
        advice: weigh::advice(&images, zip_levels),
        otherwise: purposes::otherwise(plan, analysis),
        with: sorted(&plan.with),
        without: sorted(&plan.without),
        not_linkable: catalogue.not_linkable().map(|id| catalogue.name(id).to_owned()),
    }
}

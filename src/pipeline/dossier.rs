//! Gathers what a page shows beyond a scan: paths to every module, and the platform as far as switches go.

use crate::plan::Plan;
use crate::platform::ModuleId;
use crate::report::Standing;
use crate::report::dossier::{Dossier, ModuleWitnesses, Part};

use super::Analysis;
use super::assemble::{FOR_ALL, asked, module_weight, of_evidence, report};
use super::explain::witnesses;
use super::launch;
use super::path::Tracer;
use super::weigh;

/// Paths to one module, and of them those of each standing but the strongest.
const WITNESSES: (usize, usize) = (4, 1);

/// The answer of a scan and what belongs to it.
pub(super) fn dossier(plan: &Plan, analysis: &Analysis) -> Dossier {
    let Analysis { catalogue, graph, judgement, scales, selection, .. } = analysis;
    let ids = || (0..catalogue.modules.len() as u16).map(ModuleId);
    // Startup archives do not follow from the modules one by one.
    let images: Vec<_> = match scales.total(catalogue, selection.modules.iter().copied()).exact() {
        Some(_) => weigh::images(scales, catalogue, &selection.modules),
        None => Vec::new(),
    };
    let images: Vec<_> = images.into_iter().filter(|(candidate, _)| !candidate.options.startup_archive).collect();
    let parts_of_images = |id: ModuleId| {
        let part = |(candidate, _): &(weigh::Candidate, _)| scales.part(catalogue, id, &candidate.options);
        let part = |image| part(image).map(|part| (part.disk, part.layer.map(|layer| (layer.gzip, layer.zstd))));
        images.iter().map(part).collect()
    };
    let zip_levels = weigh::zip_levels(scales);
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
        bytes: module_weight(scales, catalogue, id),
        images: parts_of_images(id),
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
        images: images.iter().map(|(candidate, image)| weigh::row(candidate, image, zip_levels)).collect(),
        advice: weigh::advice(&images, zip_levels),
        with: sorted(&plan.with),
        without: sorted(&plan.without),
        not_linkable: catalogue.not_linkable().map(|id| catalogue.name(id).to_owned()),
    }
}

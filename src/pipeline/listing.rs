//! Puts a catalogue into words.

use crate::error::Error;
use crate::graph::ModuleGraph;
use crate::platform::{Catalogue, ModuleId};
use crate::report::{PlatformListing, PlatformModuleRow};
use crate::weight::Scales;

use super::assemble::{basis, module_weight, platform};

/// The answer to `platform`.
pub(super) fn listing(catalogue: &Catalogue, reason: &str) -> Result<PlatformListing, Error> {
    let scales = Scales::of(catalogue)?;
    let graph = ModuleGraph::new(catalogue);
    let dotted = |name: &str| name.replace('/', ".");
    let modules = catalogue
        .modules
        .iter()
        .zip((0..).map(ModuleId))
        .map(|(module, id)| PlatformModuleRow {
            name: module.name.to_string(),
            requires: module
                .requires
                .iter()
                .map(|requires| {
                    let mut words = String::new();
                    if requires.transitive {
                        words.push_str("transitive ");
                    }
                    if requires.static_phase {
                        words.push_str("static ");
                    }
                    words + &requires.module
                })
                .collect(),
            packages: module.packages.len(),
            exports: module
                .exports
                .iter()
                .filter(|exports| exports.to.is_empty())
                .map(|exports| dotted(&exports.package))
                .collect(),
            uses: module.uses.iter().map(|service| dotted(service)).collect(),
            provides: module.provides.iter().map(|provides| dotted(&provides.service)).collect(),
            weight: module_weight(&scales, catalogue, id),
            closed_bytes: scales.total(catalogue, graph.closure(&[id])).exact(),
            not_by_default: module.not_by_default,
            from_release: module.from_release,
        })
        .collect();
    Ok(PlatformListing { platform: platform(catalogue, reason), modules, basis: basis(&scales, catalogue) })
}

//! The classes that the linker writes for the modules at hand: their descriptors, ready for the start of the JVM.
//!
//! The first function to read is [`classes`]. There is one class for all modules of the image, one for what is resolved
//! by default where that is less, one for each module with a main class, and a map (`SystemModulesPlugin`). Which there
//! are follows from the module graph; their sizes are a linear function of the descriptors' contents, fitted to linked
//! images (`scripts/weights`), since the bytecode is a list of calls, one for each thing that a descriptor says.

use super::figures::Figures;
use crate::graph::ModuleGraph;
use crate::platform::{Catalogue, Module, ModuleId};

/// What the generated classes come to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Generated {
    /// Classes.
    pub(super) entries: u64,
    /// Bytes, not compressed.
    pub(super) bytes: u64,
    /// Of their names and places in the index.
    pub(super) index: u64,
}

/// Tenths of bytes of a class that describes modules: without any module, and for each thing said.
struct Cost {
    class: u64,
    module: u64,
    package: u64,
    package_text: u64,
    target: u64,
    uses: u64,
    provider: u64,
}

const COST: Cost =
    Cost { class: 159_920, module: 1_100, package: 147, package_text: 10, target: 318, uses: 810, provider: 654 };

/// Bytes of the map: by itself, with a class for the default, and for each module with a main class.
const MAP: (u64, u64, u64) = (528, 52, 68);
/// An entry in the index beside its name: `names::rows` counts the same.
const ROW: u64 = 8 + 1 + 4 + 4 + 4 + 2 + 4;

/// What the classes come to in tenths of bytes and bytes, for a [`super::Model`].
pub(super) const SIZES: super::model::Generated =
    super::model::Generated { class: COST.class, map: MAP.0, map_with_default: MAP.1, map_with_main: MAP.2 };

/// The generated classes of an image of these modules, which are sorted.
pub(super) fn classes(
    figures: &Figures,
    catalogue: &Catalogue,
    graph: &ModuleGraph,
    selection: &[ModuleId],
) -> Generated {
    let mut generated = Generated::default();
    let mut add = |bytes: u64, name: &str| {
        generated.entries += 1;
        generated.bytes += bytes;
        generated.index += ROW + name.len() as u64 + 1;
    };
    add(described(catalogue, selection), "SystemModules$all");
    let by_default = graph.resolved(selection, roots(catalogue, selection));
    let mut map = MAP.0;
    if by_default != selection {
        add(described(catalogue, &by_default), "SystemModules$default");
        map += MAP.1;
    }
    let has_main = |id: &ModuleId| figures.module(catalogue.name(*id)).is_some_and(|module| module.has_main_class);
    for id in selection.iter().filter(|id| has_main(id)) {
        let resolved = graph.resolved(selection, [*id]);
        map += MAP.2;
        if resolved != selection {
            add(described(catalogue, &resolved), "SystemModules$0");
        }
    }
    add(map, "SystemModulesMap");
    generated
}

/// Bytes that a module adds to these classes where it is described twice, as nearly always: among all modules, and among
/// those that are resolved by default.
pub(super) fn of_module(catalogue: &Catalogue, id: ModuleId) -> u64 {
    2 * described(catalogue, &[id]).saturating_sub(described(catalogue, &[]))
}

fn module(catalogue: &Catalogue, id: ModuleId) -> Option<&Module> {
    catalogue.modules.get(usize::from(id.0))
}

/// Bytes of the class that describes these modules.
fn described(catalogue: &Catalogue, modules: &[ModuleId]) -> u64 {
    let said: u64 = modules.iter().filter_map(|id| module(catalogue, *id)).map(description).sum();
    (COST.class + said + 5) / 10
}

/// Tenths of bytes that describe one module.
pub(super) fn description(module: &Module) -> u64 {
    let text: usize = module.packages.iter().map(|package| package.len()).sum();
    let targets: usize = module.exports.iter().map(|export| export.to.len()).sum();
    let providers: usize = module.provides.iter().map(|provides| provides.with.len()).sum();
    COST.module
        + COST.package * module.packages.len() as u64
        + COST.package_text * text as u64
        + COST.target * targets as u64
        + COST.uses * module.uses.len() as u64
        + COST.provider * providers as u64
}

/// The modules that are resolved without being named.
fn roots(catalogue: &Catalogue, all: &[ModuleId]) -> impl Iterator<Item = ModuleId> {
    all.iter().copied().filter(move |id| module(catalogue, *id).is_some_and(is_root))
}

/// Whether a module is resolved without being named: it exports something to everybody (`DefaultRoots`).
pub(super) fn is_root(module: &Module) -> bool {
    !module.not_by_default && module.exports.iter().any(|export| export.to.is_empty())
}

//! The graph of a platform's modules: what a selection drags in, and by which chain.
//!
//! petgraph stays behind [`ModuleId`]s. Edges are `requires` directives that hold at run time (JEP 261: `requires
//! static` is not followed) and, apart from them, service use: a module that `uses` a service to each module that
//! provides it. Closure follows `requires` only, as the linker does unless it is told to bind services.
//!
//! The first function to read is [`ModuleGraph::closure`]. Nothing here knows of programs or evidence.

use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

use petgraph::Direction;
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::EdgeRef;

use crate::platform::{Catalogue, ModuleId};

/// Why one module leads to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Edge {
    /// `requires`, transitive or not: the linker follows both.
    Requires,
    /// The source uses a service that the target provides.
    Binds,
}

/// The modules of one platform and what leads from one to another.
pub struct ModuleGraph {
    graph: DiGraph<ModuleId, Edge, u32>,
    base: Option<ModuleId>,
}

impl ModuleGraph {
    /// Builds the graph of a catalogue. A `requires` of a module that the catalogue lacks is left out: the linker
    /// could not follow it either.
    pub fn new(catalogue: &Catalogue) -> Self {
        let mut graph = DiGraph::with_capacity(catalogue.modules.len(), catalogue.modules.len() * 4);
        for id in ids(catalogue) {
            graph.add_node(id);
        }
        let mut providers: BTreeMap<&str, Vec<ModuleId>> = BTreeMap::new();
        for (id, module) in ids(catalogue).zip(&catalogue.modules) {
            for provides in &module.provides {
                providers.entry(&provides.service).or_default().push(id);
            }
        }
        for (id, module) in ids(catalogue).zip(&catalogue.modules) {
            let required: BTreeSet<ModuleId> = module
                .requires
                .iter()
                .filter(|requires| !requires.static_phase)
                .filter_map(|requires| catalogue.module(&requires.module))
                .collect();
            for target in required {
                graph.add_edge(node(id), node(target), Edge::Requires);
            }
            let bound: BTreeSet<ModuleId> =
                module.uses.iter().filter_map(|service| providers.get(&**service)).flatten().copied().collect();
            for target in bound.into_iter().filter(|&target| target != id) {
                graph.add_edge(node(id), node(target), Edge::Binds);
            }
        }
        ModuleGraph { graph, base: catalogue.module("java.base") }
    }

    /// The roots and all that they require, directly or not, with java.base; sorted.
    pub fn closure(&self, roots: &[ModuleId]) -> Vec<ModuleId> {
        let mut seen: BTreeSet<ModuleId> = BTreeSet::new();
        let mut stack: Vec<ModuleId> = roots.iter().copied().filter(|&id| self.knows(id)).collect();
        stack.extend(self.base);
        while let Some(id) = stack.pop() {
            if seen.insert(id) {
                stack.extend(self.requires(id));
            }
        }
        seen.into_iter().collect()
    }

    /// What a JVM resolves of the modules that it has: what it starts from, what these require, and what provides a service
    /// that one of them uses (Java SE API, `Configuration.resolveAndBind`); sorted.
    pub fn resolved(&self, there: &[ModuleId], from: impl IntoIterator<Item = ModuleId>) -> Vec<ModuleId> {
        let there: BTreeSet<ModuleId> = there.iter().copied().collect();
        let mut seen: BTreeSet<ModuleId> = BTreeSet::new();
        let mut stack: Vec<ModuleId> = from.into_iter().chain(self.base).collect();
        while let Some(id) = stack.pop() {
            if there.contains(&id) && seen.insert(id) {
                stack.extend(self.requires(id));
                stack.extend(self.bound_by(id));
            }
        }
        seen.into_iter().collect()
    }

    /// What a module requires directly, sorted.
    pub fn requires(&self, id: ModuleId) -> Vec<ModuleId> {
        self.neighbours(id, Direction::Outgoing, Edge::Requires)
    }

    /// What requires a module directly, sorted.
    pub fn required_by(&self, id: ModuleId) -> Vec<ModuleId> {
        self.neighbours(id, Direction::Incoming, Edge::Requires)
    }

    /// The modules that provide a service which this one uses, sorted.
    pub fn bound_by(&self, id: ModuleId) -> Vec<ModuleId> {
        self.neighbours(id, Direction::Outgoing, Edge::Binds)
    }

    /// The shortest chain of `requires` from one of the roots to a module, both ends included; the first in the
    /// order of modules where several are as short. A root's own chain is itself alone.
    pub fn chain(&self, roots: &[ModuleId], to: ModuleId) -> Option<Vec<ModuleId>> {
        let mut came_from: BTreeMap<ModuleId, Option<ModuleId>> = BTreeMap::new();
        let mut queue: VecDeque<ModuleId> = VecDeque::new();
        for root in roots.iter().copied().filter(|&id| self.knows(id)).collect::<BTreeSet<_>>() {
            came_from.insert(root, None);
            queue.push_back(root);
        }
        while let Some(id) = queue.pop_front() {
            if id == to {
                let mut chain = vec![id];
                let mut at = id;
                while let Some(Some(previous)) = came_from.get(&at) {
                    chain.push(*previous);
                    at = *previous;
                }
                chain.reverse();
                return Some(chain);
            }
            for next in self.requires(id) {
                if let Entry::Vacant(slot) = came_from.entry(next) {
                    slot.insert(Some(id));
                    queue.push_back(next);
                }
            }
        }
        None
    }

    /// The modules of a selection that would go with `id` if it were no root: all that only it keeps. Empty where
    /// another root requires `id`, since then it would stay.
    pub fn kept_only_by(&self, roots: &[ModuleId], id: ModuleId) -> Vec<ModuleId> {
        let others: Vec<ModuleId> = roots.iter().copied().filter(|&root| root != id).collect();
        let without: BTreeSet<ModuleId> = self.closure(&others).into_iter().collect();
        if without.contains(&id) {
            return Vec::new();
        }
        self.closure(&[id]).into_iter().filter(|module| !without.contains(module)).collect()
    }

    fn knows(&self, id: ModuleId) -> bool {
        usize::from(id.0) < self.graph.node_count()
    }

    fn neighbours(&self, id: ModuleId, direction: Direction, kind: Edge) -> Vec<ModuleId> {
        if !self.knows(id) {
            return Vec::new();
        }
        let mut found: Vec<ModuleId> = self
            .graph
            .edges_directed(node(id), direction)
            .filter(|edge| *edge.weight() == kind)
            .filter_map(|edge| {
                let end = if direction == Direction::Outgoing { edge.target() } else { edge.source() };
                self.graph.node_weight(end).copied()
            })
            .collect();
        found.sort_unstable();
        found
    }
}

fn ids(catalogue: &Catalogue) -> impl Iterator<Item = ModuleId> + use<> {
    // A catalogue has far fewer modules than a u16 can count; the readers see to it.
    (0..catalogue.modules.len() as u16).map(ModuleId)
}

fn node(id: ModuleId) -> NodeIndex<u32> {
    NodeIndex::new(usize::from(id.0))
}

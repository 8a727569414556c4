//! Graphs of an answer: the modules and what they require, or the path by which a program comes to a module.
//!
//! A [`Diagram`] is nodes and edges in an order that does not change; [`dot`], [`mermaid`] and [`svg`] write it. Knows the
//! answer and nothing of platforms. The first functions to read are [`of_scan`] and [`of_explanation`].

pub mod dot;
mod layers;
pub mod mermaid;
pub mod svg;

use super::layout::megabytes;
use super::member::readable;
use super::{Explanation, ModuleRow, Report, Standing};

/// Characters of a line of a node; a longer text loses its middle.
const LINE: usize = 56;

/// Nodes and what leads from one to another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagram {
    /// What it shows, in one line.
    pub title: String,
    /// Whether edges lead downwards, as along a path, or else to the right.
    pub down: bool,
    /// The nodes; an edge names them by their place here.
    pub nodes: Vec<Node>,
    /// From where to where, sorted, with what is said at it.
    pub edges: Vec<Edge>,
}

/// One box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Node {
    /// Its lines, raw: each writer escapes them for its own format.
    pub lines: Vec<String>,
    /// How it is drawn.
    pub look: Look,
}

/// How a node is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// A module by its standing, kept or not.
    Module(Standing, bool),
    /// A step of a path.
    Step,
}

impl Look {
    /// All looks of modules, for lists of classes.
    pub const TAGS: [&'static str; 6] = ["needed", "uncertain", "tolerated", "dormant", "implied", "step"];

    /// The name of its class in formats that have such.
    pub fn tag(self) -> &'static str {
        match self {
            Look::Module(standing, _) => standing.tag(),
            Look::Step => "step",
        }
    }

    /// Whether it is drawn as not being there.
    pub fn is_absent(self) -> bool {
        matches!(self, Look::Module(_, false))
    }
}

/// One arrow.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Edge {
    /// Place of the node that it leaves.
    pub from: usize,
    /// Place of the node that it leads to.
    pub to: usize,
    /// What is said at it; empty for `requires`.
    pub says: String,
}

/// The modules that are kept, those that are doubtful and left out, and what they require of each other. That every
/// module requires java.base is left out.
pub fn of_scan(report: &Report) -> Diagram {
    let shown = |row: &&ModuleRow| row.kept || matches!(row.standing, Standing::Uncertain | Standing::Tolerated);
    let rows: Vec<&ModuleRow> = report.modules.iter().filter(shown).collect();
    let place = |name: &str| rows.iter().position(|row| row.name == name);
    let base = place("java.base");
    let mut edges: Vec<Edge> = Vec::new();
    for (from, row) in rows.iter().enumerate() {
        let required = row.requires.iter().filter_map(|name| place(name)).filter(|to| Some(*to) != base && *to != from);
        edges.extend(required.map(|to| Edge { from, to, says: String::new() }));
    }
    edges.sort();
    let title =
        format!("{} of the {} modules of Java {}", report.list.len(), report.platform.modules, report.platform.release);
    Diagram { title, down: false, nodes: rows.into_iter().map(module).collect(), edges }
}

fn module(row: &ModuleRow) -> Node {
    let weight = row.weight.map_or_else(|| "weight not known".to_owned(), |weight| megabytes(weight.total()));
    let fate = if row.kept { "" } else { ", left out" };
    let lines = vec![short(&row.name), format!("{}, {weight}{fate}", row.standing.tag())];
    Node { lines, look: Look::Module(row.standing, row.kept) }
}

/// The strongest path to the module; where nothing asks for it, the chain of modules that keeps it.
pub fn of_explanation(explanation: &Explanation) -> Diagram {
    let mut chain: Vec<(Node, String)> = Vec::new();
    let step = |lines: Vec<String>| Node { lines, look: Look::Step };
    if let Some(witness) = explanation.witnesses.first() {
        let mut archive = "";
        for (at, each) in witness.steps.iter().enumerate() {
            let mut lines = vec![short(&readable(&each.who))];
            if !each.archive.is_empty() && each.archive != archive {
                archive = &each.archive;
                lines.push(short(archive));
            }
            let ends = at + 1 == witness.steps.len();
            chain.push((step(lines), if ends { witness.evidence.phrase.clone() } else { each.how.clone() }));
        }
        chain.push((step(vec![short(&witness.evidence.target)]), "is in".to_owned()));
    } else if let Some(modules) = explanation.chains.first() {
        let before = modules.iter().filter(|name| **name != explanation.module);
        chain.extend(before.map(|name| (step(vec![short(name)]), "requires".to_owned())));
    }
    let last = match &explanation.row {
        Some(row) => module(row),
        None => step(vec![short(&explanation.module), "nothing asks for it".to_owned()]),
    };
    chain.push((last, String::new()));
    let edges = chain.iter().enumerate().take(chain.len() - 1);
    let edges = edges.map(|(from, (_, says))| Edge { from, to: from + 1, says: short(says) }).collect();
    let title = format!("How the program comes to {}", explanation.module);
    Diagram { title, down: true, nodes: chain.into_iter().map(|(node, _)| node).collect(), edges }
}

/// At most so many characters that a box stays one: the middle gives way.
fn short(text: &str) -> String {
    super::layout::Width(LINE).shorten(&super::escape::visible(text)).into_owned()
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;

    #[test]
    fn modules_that_are_kept_or_doubtful_are_drawn() {
        let diagram = of_scan(&sample::report());
        let names: Vec<&str> = diagram.nodes.iter().map(|node| node.lines[0].as_str()).collect();
        let expected: Vec<String> = sample::report()
            .modules
            .iter()
            .filter(|row| row.kept || row.standing == Standing::Uncertain || row.standing == Standing::Tolerated)
            .map(|row| row.name.clone())
            .collect();
        assert_eq!(names, expected);
        assert!(diagram.edges.iter().all(|edge| names[edge.to] != "java.base"));
    }

    #[test]
    fn a_path_ends_at_its_module() {
        let diagram = of_explanation(&sample::explanation());
        assert_eq!(diagram.edges.len() + 1, diagram.nodes.len());
        assert_eq!(diagram.nodes.last().unwrap().lines[0], "java.sql");
        let alone = Explanation { witnesses: Vec::new(), ..sample::explanation() };
        let names: Vec<String> = of_explanation(&alone).nodes.into_iter().map(|node| node.lines[0].clone()).collect();
        assert_eq!(names, ["java.sql.rowset", "java.sql"]);
    }
}

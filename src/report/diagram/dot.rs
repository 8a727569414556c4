//! A diagram in the DOT language (Graphviz documentation, "DOT Language").
//!
//! Names of foreign origin are labels only, so that none is ever an identifier. The function to read is [`render`].

use std::io::{self, Write};

use super::{Diagram, Look};
use crate::report::Standing;

/// Writes the diagram as a directed graph.
pub fn render(diagram: &Diagram, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "digraph modules {{")?;
    writeln!(out, "  label={};\n  labelloc=t;", quoted([diagram.title.as_str()]))?;
    writeln!(out, "  rankdir={};", if diagram.down { "TB" } else { "LR" })?;
    writeln!(out, "  node [shape=box, fontname=\"sans-serif\", fontsize=11, style=filled, fillcolor=\"#ffffff\"];")?;
    writeln!(out, "  edge [fontname=\"sans-serif\", fontsize=10, color=\"#5d7f80\"];")?;
    for (at, node) in diagram.nodes.iter().enumerate() {
        let lines = quoted(node.lines.iter().map(String::as_str));
        writeln!(out, "  n{at} [label={lines}{}];", look(node.look))?;
    }
    for edge in &diagram.edges {
        let says =
            if edge.says.is_empty() { String::new() } else { format!(" [label={}]", quoted([edge.says.as_str()])) };
        writeln!(out, "  n{} -> n{}{says};", edge.from, edge.to)?;
    }
    writeln!(out, "}}")
}

/// Standing by colour and by outline, so that neither has to be told from the other alone.
fn look(look: Look) -> &'static str {
    match look {
        Look::Module(Standing::Needed, true) => ", fillcolor=\"#9fc7c6\"",
        Look::Module(Standing::Implied, _) => ", fillcolor=\"#dbe9e8\"",
        Look::Module(Standing::Uncertain, true) => ", fillcolor=\"#f6dfae\", style=\"filled,bold\"",
        Look::Module(Standing::Tolerated, true) => ", fillcolor=\"#e6dcf0\", style=\"filled,rounded\"",
        Look::Module(Standing::Dormant, true) => ", fillcolor=\"#eeeeee\", style=\"filled,diagonals\"",
        Look::Module(_, false) => ", style=dashed",
        Look::Step => ", style=\"filled,rounded\"",
    }
}

/// A quoted string: in labels a backslash escapes, and references of HTML are read.
fn quoted<'a>(lines: impl IntoIterator<Item = &'a str>) -> String {
    let lines: Vec<String> =
        lines.into_iter().map(|line| line.replace('&', "&amp;").replace('\\', "\\\\").replace('"', "\\\"")).collect();
    format!("\"{}\"", lines.join("\\n"))
}

//! A diagram in Mermaid's language of flow charts, as pages of code hosts draw it.
//!
//! Whatever could be syntax or markup in a label is written as the language's own character code. The function to read
//! is [`render`].

use std::fmt::Write as _;
use std::io::{self, Write};

use super::{Diagram, Look};

/// Writes the diagram as a flow chart.
pub fn render(diagram: &Diagram, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "flowchart {}", if diagram.down { "TB" } else { "LR" })?;
    for (at, node) in diagram.nodes.iter().enumerate() {
        let lines: Vec<String> = node.lines.iter().map(|line| plain(line)).collect();
        let class = if node.look.is_absent() { "absent" } else { node.look.tag() };
        writeln!(out, "  n{at}[\"{}\"]:::{class}", lines.join("<br>"))?;
    }
    for edge in &diagram.edges {
        match edge.says.as_str() {
            "" => writeln!(out, "  n{} --> n{}", edge.from, edge.to)?,
            says => writeln!(out, "  n{} -->|\"{}\"| n{}", edge.from, plain(says), edge.to)?,
        }
    }
    for tag in Look::TAGS {
        if diagram.nodes.iter().any(|node| node.look.tag() == tag && !node.look.is_absent()) {
            writeln!(out, "  classDef {tag} {}", style(tag))?;
        }
    }
    if diagram.nodes.iter().any(|node| node.look.is_absent()) {
        writeln!(out, "  classDef absent fill:none,stroke:#7c878c,stroke-dasharray:4 3")?;
    }
    Ok(())
}

fn style(tag: &str) -> &'static str {
    match tag {
        "needed" => "fill:#9fc7c6,stroke:#5d7f80,color:#1c262c",
        "uncertain" => "fill:#f6dfae,stroke:#d39b2f,stroke-width:3px,color:#1c262c",
        "tolerated" => "fill:#e6dcf0,stroke:#8c6fb0,stroke-dasharray:1 3,color:#1c262c",
        "dormant" => "fill:#eeeeee,stroke:#7c878c,stroke-dasharray:8 4,color:#1c262c",
        "implied" => "fill:#dbe9e8,stroke:#b4cecd,color:#1c262c",
        _ => "fill:#ffffff,stroke:#5d7f80,color:#1c262c",
    }
}

/// Text in which only letters, digits and a few marks stand for themselves; `#60;` is `<`.
fn plain(text: &str) -> String {
    let mut shown = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        if c.is_alphanumeric() || matches!(c, ' ' | '.' | ',' | '-' | '_' | '/' | '(' | ')' | '$' | '…') {
            shown.push(c);
        } else {
            // A `String` takes whatever is written to it.
            let _ = write!(shown, "#{};", u32::from(c));
        }
    }
    shown
}

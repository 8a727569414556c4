//! A diagram as a picture (Scalable Vector Graphics 1.1), drawn without any other program.
//!
//! The picture loads nothing, and has inks for light and dark grounds. Texts are measured by the widths of a monospaced
//! face, since no font is at hand. The function to read is [`render`].

use std::io::{self, Write};

use super::layers::{Extent, Places, place};
use super::{Diagram, Edge, Node};
use crate::report::escape::in_markup;
use unicode_width::UnicodeWidthStr;

/// Of a text in units of the picture, at a size of 12: a character, a line, and the room around it.
const LETTER: f64 = 7.3;
const LINE: f64 = 16.0;
const INSET: f64 = 8.0;

const MARGIN: f64 = 16.0;
const TITLE: f64 = 28.0;

/// How far a row of boxes without edges goes at least, and the room between them.
const LOOSE: f64 = 640.0;
const APART: f64 = 14.0;

const STYLE: &str = "text{font:12px ui-monospace,'DejaVu Sans Mono',monospace;fill:#1c262c}\
.t{font-weight:bold}.s{fill:#54626a;font-size:11px}\
rect{fill:#fff;stroke:#5d7f80}path{fill:none;stroke:#5d7f80}marker path{fill:#5d7f80}\
.needed{fill:#9fc7c6}.implied{fill:#dbe9e8}.uncertain{fill:#f6dfae;stroke:#d39b2f;stroke-width:3}\
.tolerated{fill:#e6dcf0;stroke:#8c6fb0;stroke-dasharray:1 3}.dormant{fill:#eee;stroke-dasharray:8 4}\
.absent{fill:none;stroke:#7c878c;stroke-dasharray:4 3}.g{fill:#fbfaf6;stroke:none}\
@media(prefers-color-scheme:dark){text{fill:#e4e9e8}.s{fill:#b9c4c6}rect{fill:#192226}.needed{fill:#2c6064}\
.implied{fill:#1f383b}.uncertain{fill:#4e3d17}.tolerated{fill:#372c49}.dormant{fill:#2a3438}.absent{fill:none}.g{fill:#12191c}}";

/// Writes the picture.
pub fn render(diagram: &Diagram, out: &mut dyn Write) -> io::Result<()> {
    let says = diagram.edges.iter().map(|edge| width(&edge.says)).fold(0.0, f64::max);
    let sizes: Vec<(f64, f64)> = diagram.nodes.iter().map(size).collect();
    let extents: Vec<Extent> = sizes
        .iter()
        .map(|&(wide, high)| if diagram.down { (wide, high) } else { (high, wide) })
        .map(|(along, across)| Extent { along, across })
        .collect();
    let places = parts(diagram, &extents);
    let turn = |(along, across): (f64, f64)| {
        let (x, y) = if diagram.down { (along, across) } else { (across, along) };
        (MARGIN + x, MARGIN + TITLE + y)
    };
    let (wide, high) = if diagram.down { (places.along, places.across) } else { (places.across, places.along) };
    // Words at an edge stand to its right.
    let beside = if says > 0.0 { wide.max(wide / 2.0 + says + 12.0) } else { wide };
    let wide = beside.max(width(&diagram.title)) + 2.0 * MARGIN;
    let high = high + 2.0 * MARGIN + TITLE;
    let title = in_markup(&diagram.title);
    writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide:.0}\" height=\"{high:.0}\" viewBox=\"0 0 {wide:.0} \
         {high:.0}\" role=\"img\" aria-labelledby=\"title\">\n<title id=\"title\">{title}</title>\n<style>{STYLE}</style>"
    )?;
    writeln!(
        out,
        "<defs><marker id=\"tip\" viewBox=\"0 0 8 8\" refX=\"7\" refY=\"4\" markerWidth=\"7\" markerHeight=\"7\" \
         orient=\"auto\"><path d=\"M0 0L8 4L0 8z\"/></marker></defs>\n\
         <rect class=\"g\" width=\"{wide:.0}\" height=\"{high:.0}\"/>\n\
         <text class=\"t\" x=\"{MARGIN}\" y=\"{:.0}\">{title}</text>",
        MARGIN + 12.0
    )?;
    arrows(diagram, &places, turn, out)?;
    for ((node, &(wide, high)), &middle) in diagram.nodes.iter().zip(&sizes).zip(&places.nodes) {
        let (x, y) = turn(middle);
        boxed(node, (x - wide / 2.0, y - high / 2.0), (wide, high), out)?;
    }
    writeln!(out, "</svg>")
}

/// Places what edges connect in layers, one connected part behind the other, and then in rows what is connected to
/// nothing.
fn parts(diagram: &Diagram, extents: &[Extent]) -> Places {
    let of = components(diagram, extents.len());
    let gap = if diagram.down { 42.0 } else { 64.0 };
    let mut whole = Places {
        nodes: vec![(0.0, 0.0); extents.len()],
        edges: vec![Vec::new(); diagram.edges.len()],
        ..Places::default()
    };
    for component in 0..extents.len() {
        let members: Vec<usize> = (0..extents.len()).filter(|&at| of.get(at) == Some(&component)).collect();
        if members.len() < 2 {
            continue;
        }
        let number = |at: usize| members.iter().position(|&other| other == at);
        let inside = |(place, edge): (usize, &Edge)| Some((place, (number(edge.from)?, number(edge.to)?)));
        let (numbers, edges): (Vec<usize>, Vec<(usize, usize)>) =
            diagram.edges.iter().enumerate().filter_map(inside).unzip();
        let shown: Vec<Extent> = members.iter().filter_map(|&at| extents.get(at).copied()).collect();
        let places = place(&shown, &edges, gap);
        let start = whole.along;
        for (&at, &(along, across)) in members.iter().zip(&places.nodes) {
            whole.nodes.get_mut(at).into_iter().for_each(|node| *node = (start + along, across));
        }
        for (at, points) in numbers.into_iter().zip(places.edges) {
            let moved = points.into_iter().map(|(along, across)| (start + along, across)).collect();
            whole.edges.get_mut(at).into_iter().for_each(|edge| edge.clone_from(&moved));
        }
        whole.along = start + places.along + APART;
        whole.across = whole.across.max(places.across);
    }
    let room = whole.across.max(LOOSE);
    let (mut across, mut tall) = (0.0, 0.0);
    for (at, extent) in extents.iter().enumerate() {
        if of.iter().filter(|&&other| Some(&other) == of.get(at)).count() > 1 {
            continue;
        }
        if across > 0.0 && across + extent.across > room {
            whole.along += tall + APART;
            (across, tall) = (0.0, 0.0);
        }
        let middle = (whole.along + extent.along / 2.0, across + extent.across / 2.0);
        whole.nodes.get_mut(at).into_iter().for_each(|node| *node = middle);
        tall = extent.along.max(tall);
        across += extent.across + APART;
        whole.across = whole.across.max(across - APART);
    }
    whole.along += tall;
    whole
}

/// For each node the first node that it is connected to, itself included.
fn components(diagram: &Diagram, count: usize) -> Vec<usize> {
    let mut of: Vec<usize> = (0..count).collect();
    loop {
        let mut moved = false;
        for edge in &diagram.edges {
            let (Some(&a), Some(&b)) = (of.get(edge.from), of.get(edge.to)) else { continue };
            let first = a.min(b);
            for at in [edge.from, edge.to] {
                if let Some(own) = of.get_mut(at).filter(|own| **own > first) {
                    *own = first;
                    moved = true;
                }
            }
        }
        if !moved {
            return of;
        }
    }
}

fn arrows(
    diagram: &Diagram,
    places: &Places,
    turn: impl Fn((f64, f64)) -> (f64, f64),
    out: &mut dyn Write,
) -> io::Result<()> {
    for (edge, points) in diagram.edges.iter().zip(&places.edges) {
        let points: Vec<(f64, f64)> = points.iter().map(|&point| turn(point)).collect();
        let Some(&(x, y)) = points.first() else { continue };
        write!(out, "<path marker-end=\"url(#tip)\" d=\"M{x:.1} {y:.1}")?;
        for pair in points.windows(2) {
            if let [(x1, y1), (x2, y2)] = *pair {
                // What only crosses layers is straight; the rest leaves and arrives in the direction of the edges.
                let aside = if diagram.down { x1 - x2 } else { y1 - y2 };
                if aside.abs() < 0.05 {
                    write!(out, "L{x2:.1} {y2:.1}")?;
                    continue;
                }
                let (x, y) = (f64::midpoint(x1, x2), f64::midpoint(y1, y2));
                let (a, b) = if diagram.down { ((x1, y), (x2, y)) } else { ((x, y1), (x, y2)) };
                write!(out, "C{:.1} {:.1} {:.1} {:.1} {x2:.1} {y2:.1}", a.0, a.1, b.0, b.1)?;
            }
        }
        writeln!(out, "\"/>")?;
        if let Some((&(x1, y1), &(x2, y2))) = points.first().zip(points.last()).filter(|_| !edge.says.is_empty()) {
            let (x, y) = (f64::midpoint(x1, x2) + 8.0, f64::midpoint(y1, y2) + 4.0);
            writeln!(out, "<text class=\"s\" x=\"{x:.1}\" y=\"{y:.1}\">{}</text>", in_markup(&edge.says))?;
        }
    }
    Ok(())
}

fn boxed(node: &Node, (x, y): (f64, f64), (wide, high): (f64, f64), out: &mut dyn Write) -> io::Result<()> {
    let class = if node.look.is_absent() { "absent" } else { node.look.tag() };
    writeln!(
        out,
        "<rect class=\"{class}\" x=\"{x:.1}\" y=\"{y:.1}\" width=\"{wide:.1}\" height=\"{high:.1}\" rx=\"3\"/>"
    )?;
    for (number, line) in node.lines.iter().enumerate() {
        let class = if number == 0 { "" } else { " class=\"s\"" };
        let (x, y) = (x + INSET, y + INSET + LINE * number as f64 + 11.0);
        writeln!(out, "<text{class} x=\"{x:.1}\" y=\"{y:.1}\">{}</text>", in_markup(line))?;
    }
    Ok(())
}

fn size(node: &Node) -> (f64, f64) {
    let wide = node.lines.iter().map(|line| width(line)).fold(0.0, f64::max);
    (wide + 2.0 * INSET, LINE * node.lines.len() as f64 + 2.0 * INSET - 4.0)
}

fn width(line: &str) -> f64 {
    line.width() as f64 * LETTER
}

#[cfg(test)]
mod tests {
    use super::super::super::sample;
    use super::super::{of_explanation, of_scan};
    use super::*;

    fn drawn(diagram: &Diagram) -> String {
        let mut out = Vec::new();
        render(diagram, &mut out).unwrap();
        String::from_utf8(out).unwrap()
    }

    /// Judge: roxmltree, a parser of XML 1.0.
    #[test]
    fn the_picture_is_xml_and_has_every_name() {
        for mut diagram in [of_scan(&sample::report()), of_explanation(&sample::explanation())] {
            diagram.title = format!("<&\"'{}", sample::HOSTILE);
            let picture = drawn(&diagram);
            let document = roxmltree::Document::parse(&picture).unwrap();
            let texts: Vec<&str> = document.descendants().filter_map(|node| node.text()).collect();
            for line in diagram.nodes.iter().flat_map(|node| &node.lines) {
                assert!(texts.contains(&line.as_str()), "{line}");
            }
            assert!(!picture.contains('\x1b') && !picture.contains('\u{202e}'));
        }
    }
}

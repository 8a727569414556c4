//! Diagrams by the judges of their formats, hostile names included.

use std::collections::BTreeSet;
use std::io;
use std::process::{Command, Stdio};

use secateur::report::diagram::{Diagram, dot, mermaid, of_explanation, of_scan, svg};

use super::*;

/// Of the demo: modules and a path to each; then a made-up answer; then one whose names are syntax wherever they stand.
fn diagrams() -> Vec<Diagram> {
    let plan = plan(&[Path::new(DEMO)]);
    let mut all = vec![of_scan(&pipeline::scan(&plan, &Silent).unwrap())];
    for module in ["java.desktop", "java.scripting", "java.naming", "java.prefs", "jdk.jshell"] {
        all.push(of_explanation(&pipeline::explain(&plan, module, &Silent).unwrap()));
    }
    all.extend([of_scan(&sample::report()), of_explanation(&sample::explanation())]);
    let mut hostile = of_explanation(&sample::explanation());
    let names =
        ["\"];}&lt;<b>", "\\N\\\"", "a\"]-->b", "`md`**x**", "]]>--><!--", "end", "%%{init}%%", "\\", "#quot;", "|x|"];
    hostile.title = names.join(" ");
    for (node, name) in hostile.nodes.iter_mut().zip(names.iter().cycle()) {
        node.lines = names.iter().map(|name| (*name).to_owned()).chain([(*name).to_owned()]).collect();
    }
    for (edge, name) in hostile.edges.iter_mut().zip(names.iter().cycle().skip(2)) {
        (*name).clone_into(&mut edge.says);
    }
    all.push(hostile);
    all
}

fn drawn(diagram: &Diagram, render: fn(&Diagram, &mut dyn io::Write) -> io::Result<()>) -> String {
    let mut out = Vec::new();
    render(diagram, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

/// Judge: Graphviz. It has to read as many nodes and edges, with the labels that were meant.
#[test]
fn graphviz_reads_what_was_meant() {
    for diagram in diagrams() {
        let source = tempfile::NamedTempFile::new().unwrap();
        fs::write(source.path(), drawn(&diagram, dot::render)).unwrap();
        let done = Command::new("dot").args(["-Tsvg"]).arg(source.path()).stdin(Stdio::null()).output();
        let done = done.expect("Graphviz (dot) is needed; scripts/test installs it");
        assert!(done.status.success() && done.stderr.is_empty(), "{}", String::from_utf8_lossy(&done.stderr));
        let picture = String::from_utf8(done.stdout).unwrap();
        let options = roxmltree::ParsingOptions { allow_dtd: true, ..Default::default() };
        let picture = roxmltree::Document::parse_with_options(&picture, options).unwrap();
        let groups = |class: &str| picture.descendants().filter(|node| node.attribute("class") == Some(class)).count();
        assert_eq!((groups("node"), groups("edge")), (diagram.nodes.len(), diagram.edges.len()));
        // It sets several spaces and lines apart; words stay.
        let words: BTreeSet<&str> =
            picture.descendants().filter(|node| node.has_tag_name("text")).filter_map(|node| node.text()).collect();
        for line in diagram.nodes.iter().flat_map(|node| &node.lines) {
            assert!(words.contains(line.as_str()), "{line:?} in {words:?}");
        }
    }
}

/// Judge: the parser of Mermaid, in the browser for which it is made.
#[test]
fn mermaid_parses() {
    let charts: Vec<String> = diagrams().iter().map(|diagram| drawn(diagram, mermaid::render)).collect();
    let (_folder, page) = page(&plan(&[Path::new(DEMO)]));
    check(json!({ "what": "mermaid", "page": page, "mermaid": judge("mermaid"), "charts": charts }));
}

/// Judge: roxmltree. The picture loads nothing and runs nothing, and every box is within it.
#[test]
fn pictures_are_whole() {
    for diagram in diagrams() {
        let picture = drawn(&diagram, svg::render);
        let picture = roxmltree::Document::parse(&picture).unwrap();
        let root = picture.root_element();
        let figure =
            |node: roxmltree::Node<'_, '_>, name: &str| -> f64 { node.attribute(name).unwrap().parse().unwrap() };
        let boxes: Vec<_> =
            root.children().filter(|node| node.has_tag_name("rect") && node.attribute("x").is_some()).collect();
        assert_eq!(boxes.len(), diagram.nodes.len());
        for node in boxes {
            let (x, y) = (figure(node, "x"), figure(node, "y"));
            assert!(x >= 0.0 && y >= 0.0, "{x} {y}");
            assert!(x + figure(node, "width") <= figure(root, "width"));
            assert!(y + figure(node, "height") <= figure(root, "height"));
        }
        for node in picture.descendants() {
            assert!(!node.has_tag_name("script") && !node.has_tag_name("image") && !node.has_tag_name("foreignObject"));
            assert!(
                node.attributes().all(|attribute| !attribute.name().starts_with("on") && attribute.name() != "href")
            );
        }
    }
}

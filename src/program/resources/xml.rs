//! XML: deployment descriptors, component files, log configurations.
//!
//! The first function to read is [`read`].

use roxmltree::Node;

use crate::archive::xml;

use super::known::{is_name, is_qualified};
use super::modules;
use super::sink::Sink;

/// Attributes that say for what an element's other values are.
const KEYS: [&str; 2] = ["name", "key"];

/// What a package is called, as an attribute or an element.
const PACKAGE: &str = "package";

/// Takes the texts of elements and the values of attributes that are names of classes, whatever the elements are called:
/// schemas differ in that and agree in writing binary names. Comments do not count.
pub(super) fn read(sink: &mut Sink<'_>, text: &str) -> Result<(), String> {
    let document = xml::parse(text)?;
    if modules::is_descriptor(&document) {
        modules::read(sink, &document);
        return Ok(());
    }
    let has_packages = text.contains(PACKAGE);
    for node in document.root_element().descendants() {
        if node.is_text() {
            let of = node.parent_element().map_or("", |element| element.tag_name().name());
            take(sink, of, of, node.text().unwrap_or_default());
        } else if node.is_element() {
            for attribute in node.attributes() {
                let name = attribute.name();
                let of = if name == "value" { key_of(node).unwrap_or(name) } else { name };
                take(sink, name, of, attribute.value());
            }
            if has_packages {
                take_in_package(sink, node);
            }
        }
    }
    Ok(())
}

/// Takes the simple names among an element's attributes as those of classes in the package that the element, or one around it,
/// names: as an attribute, or as the first part of the document (Jakarta Persistence specification, "XML Object/Relational
/// Mapping Descriptor"; common practice, no source).
fn take_in_package(sink: &mut Sink<'_>, node: Node<'_, '_>) {
    let is_simple =
        |value: &str| is_name(value) && !is_qualified(value) && value.starts_with(|c: char| c.is_ascii_uppercase());
    let mut simple = node.attributes().filter(|attribute| is_simple(attribute.value())).peekable();
    if simple.peek().is_none() {
        return;
    }
    let by_attribute = node.ancestors().find_map(|element| element.attribute(PACKAGE));
    let of_document = || {
        let mut parts = node.document().root_element().children();
        parts.find(|part| part.has_tag_name(PACKAGE)).and_then(|part| part.text())
    };
    if let Some(package) = by_attribute.or_else(of_document).map(str::trim).filter(|package| is_name(package)) {
        for attribute in simple {
            sink.name(&format!("{package}.{}", attribute.value()), Some(attribute.name()));
        }
    }
}

/// A name without a package counts only where `class` says that it is one.
fn take(sink: &mut Sink<'_>, label: &str, of: &str, value: &str) {
    if label.contains("class") || label.contains("Class") {
        sink.classes(value, Some(of));
    } else {
        sink.list(value, Some(of));
    }
}

fn key_of<'a>(element: Node<'a, '_>) -> Option<&'a str> {
    KEYS.iter().find_map(|key| element.attribute(*key))
}

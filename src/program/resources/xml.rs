//! XML: deployment descriptors, component files, log configurations.
//!
//! The first function to read is [`read`].

use roxmltree::Node;

use crate::archive::xml;

use super::sink::Sink;

/// Attributes that say for what an element's other values are.
const KEYS: [&str; 2] = ["name", "key"];

/// Takes the texts of elements and the values of attributes that are names of classes, whatever the elements are called:
/// schemas differ in that and agree in writing binary names. Comments do not count.
pub(super) fn read(sink: &mut Sink<'_>, text: &str) -> Result<(), String> {
    let document = xml::parse(text)?;
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
        }
    }
    Ok(())
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

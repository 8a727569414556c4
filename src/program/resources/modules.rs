//! Descriptors by which a loader puts modules together (`JBoss` Modules documentation, "Module descriptors"). It looks for
//! modules of the platform among those that the image has, and loads no module of which a dependency is not there.
//!
//! The first function to read is [`read`].

use crate::archive::xml;

use super::ResourceKind;
use super::sink::Sink;

/// The loader: nobody else reads such files.
const LOADER: &str = "org.jboss.modules.Main";

/// The namespaces of such descriptors begin so; a version follows.
const NAMESPACE: &str = "urn:jboss:module:";

/// How names of modules of the platform begin (JEP 200).
const PLATFORM: [&str; 2] = ["java.", "jdk."];

/// What such a descriptor asks for: modules of the platform on which its module depends, and the class at which it is
/// started. Of other files of that name, nothing.
pub(super) fn read(sink: &mut Sink<'_>, text: &str) -> Result<(), String> {
    if sink.class(LOADER).is_none() {
        return Ok(());
    }
    let document = xml::parse(text)?;
    let is_of_loader = |node: &roxmltree::Node<'_, '_>| {
        node.is_element() && node.tag_name().namespace().is_some_and(|namespace| namespace.starts_with(NAMESPACE))
    };
    for element in document.descendants().filter(is_of_loader) {
        let name = element.attribute("name").unwrap_or_default();
        let within = element.parent_element().map_or("", |around| around.tag_name().name());
        match element.tag_name().name() {
            "module" if within == "dependencies" => {
                let is_optional = element.attribute("optional") == Some("true");
                if !is_optional && PLATFORM.iter().any(|start| name.starts_with(start)) {
                    sink.add(name.into(), true, ResourceKind::Dependency, None);
                }
            }
            "main-class" => {
                if let Some(class) = sink.class(name) {
                    sink.add(class, false, ResourceKind::Registration, Some("main-class"));
                }
            }
            _ => {}
        }
    }
    Ok(())
}

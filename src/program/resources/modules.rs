//! Descriptors by which a loader puts modules together (`JBoss` Modules documentation, "Module descriptors"). It looks for
//! modules of the platform among those that the image has, and loads no module of which a dependency is not there.
//!
//! The first function to read is [`read`].

use roxmltree::Document;

use super::ResourceKind;
use super::sink::Sink;

/// The loader: nobody else reads such files.
const LOADER: &str = "org.jboss.modules.Main";

/// The namespaces of such descriptors begin so; a version follows.
const NAMESPACE: &str = "urn:jboss:module:";

/// How names of modules of the platform begin (JEP 200).
const PLATFORM: [&str; 2] = ["java.", "jdk."];

/// Whether a document is such a descriptor. Others have files of the same name.
pub(super) fn is_descriptor(document: &Document<'_>) -> bool {
    document.root_element().tag_name().namespace().is_some_and(|namespace| namespace.starts_with(NAMESPACE))
}

/// Modules of the platform on which the module depends, and the class at which it is started, if the loader is there.
pub(super) fn read(sink: &mut Sink<'_>, document: &Document<'_>) {
    if sink.class(LOADER).is_none() {
        return;
    }
    for element in document.descendants().filter(roxmltree::Node::is_element) {
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
}

//! Module descriptors (JVMS §4.7.25): what they require and provide counts when the program starts from the module
//! path.

use crate::classfile::module_descriptor;

use super::ResourceKind;
use super::sink::Sink;

pub(super) fn read(sink: &mut Sink<'_>, bytes: &[u8]) -> Result<(), String> {
    let descriptor = module_descriptor(bytes).map_err(|error| error.to_string())?;
    for requires in descriptor.requires.iter().filter(|requires| !requires.is_static_phase()) {
        sink.add(requires.module.clone(), true, ResourceKind::Requires, None);
    }
    for provides in &descriptor.provides {
        let service = provides.service.replace('.', "/");
        for class in &provides.with {
            if let Some(class) = sink.class(class) {
                sink.add(class, false, ResourceKind::Service, Some(&service));
            }
        }
    }
    Ok(())
}

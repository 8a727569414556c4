//! Names of platform types and modules in files that are no classes: service files, module descriptors, manifests.

use std::sync::Arc;

use crate::archive::{Archive, ArchiveId, Reader, effective, services};
use crate::classfile::module_descriptor;
use crate::diag::{Code, Diagnostic, Findings};
use crate::limits::Limits;

use super::Program;

/// What kind of file named it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ResourceKind {
    /// `META-INF/services/…`: the service or a provider.
    Service,
    /// `requires` of a module descriptor: followed when the program starts from the module path (JLS §7.7.1).
    Requires,
    /// `Add-Exports` or `Add-Opens` of a manifest: what is absent is skipped in silence.
    Hint,
}

/// A platform type or module that a resource names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ResourceName {
    /// The archive.
    pub archive: ArchiveId,
    /// The file in it.
    pub path: Arc<str>,
    /// The type in internal form; the module's name where a whole module is meant.
    pub name: Box<str>,
    /// Whether `name` is that of a module.
    pub is_module: bool,
    /// What kind of file.
    pub kind: ResourceKind,
}

/// Reads the service files, the module descriptors that count on `release`, and the manifests of all archives; in
/// class path order.
pub fn resource_names(program: &Program, release: u16, limits: &Limits, findings: &mut Findings) -> Vec<ResourceName> {
    let mut reader = Reader::new(limits);
    let mut found = Vec::new();
    for (archive, number) in program.archives.iter().zip(0..) {
        let id = ArchiveId(number);
        for entry in effective(archive, release) {
            if let Some(service) = services::service_of(&entry.path) {
                let path: Arc<str> = (*entry.path).into();
                let mut add = |name: &str| {
                    found.push(ResourceName {
                        archive: id,
                        path: Arc::clone(&path),
                        name: name.replace('.', "/").into(),
                        is_module: false,
                        kind: ResourceKind::Service,
                    });
                };
                add(service);
                match reader.read(archive, entry) {
                    Ok(bytes) => {
                        let (providers, faults) = services::parse(bytes, &archive.locate(entry), limits);
                        for provider in &providers {
                            add(&provider.class);
                        }
                        findings.extend(faults);
                    }
                    Err(finding) => findings.extend([*finding]),
                }
            } else if &*entry.path == "module-info.class" {
                match reader.read(archive, entry) {
                    Ok(bytes) => match module_descriptor(bytes) {
                        Ok(descriptor) => {
                            let path: Arc<str> = (*entry.path).into();
                            for requires in descriptor.requires.iter().filter(|requires| !requires.is_static_phase()) {
                                found.push(ResourceName {
                                    archive: id,
                                    path: Arc::clone(&path),
                                    name: requires.module.clone(),
                                    is_module: true,
                                    kind: ResourceKind::Requires,
                                });
                            }
                        }
                        Err(error) => findings.extend([Diagnostic::new(
                            Code::BadModuleDescriptor,
                            archive.locate(entry),
                            error.to_string(),
                        )]),
                    },
                    Err(finding) => findings.extend([*finding]),
                }
            }
        }
        found.extend(hints(id, archive));
    }
    found
}

/// `module/package` pairs, separated by blanks (`sun.launcher.LauncherHelper` reads them in the executable jar only).
fn hints(id: ArchiveId, archive: &Archive) -> Vec<ResourceName> {
    let Some(manifest) = archive.manifest.as_ref().filter(|_| archive.parent.is_none()) else { return Vec::new() };
    ["Add-Exports", "Add-Opens"]
        .into_iter()
        .filter_map(|header| manifest.get(header))
        .flat_map(str::split_ascii_whitespace)
        .filter_map(|pair| pair.split_once('/'))
        .map(|(module, _)| ResourceName {
            archive: id,
            path: "META-INF/MANIFEST.MF".into(),
            name: module.into(),
            is_module: true,
            kind: ResourceKind::Hint,
        })
        .collect()
}

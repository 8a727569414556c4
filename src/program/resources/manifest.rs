//! Manifest headers that name classes or modules, beside those at which the launcher starts.

use std::collections::BTreeSet;

use crate::archive::{Archive, ArchiveId};

use super::known::{Known, is_qualified};
use super::{ResourceKind, ResourceName};

pub(super) const MANIFEST: &str = "META-INF/MANIFEST.MF";

/// Headers that name a class: an `OSGi` framework creates it (`OSGi` Core, "Bundle Manifest Headers"); of a program or an
/// agent (`java.lang.instrument`) the JVM does, for which the jar must be a file of its own.
const CLASSES: [&str; 6] = [
    "Bundle-Activator",
    "ExtensionBundle-Activator",
    "Launcher-Agent-Class",
    "Premain-Class",
    "Agent-Class",
    "Main-Class",
];

/// Further headers that are read elsewhere, or that name what is no class.
const OTHERS: [&str; 5] = ["Start-Class", "Class-Path", "Add-Exports", "Add-Opens", "Automatic-Module-Name"];

/// What the manifest of an archive names.
pub(super) fn names(id: ArchiveId, archive: &Archive, known: &Known<'_>) -> Vec<ResourceName> {
    let Some(manifest) = &archive.manifest else { return Vec::new() };
    let entry = |name, is_module, kind, of: &str| ResourceName {
        archive: id,
        path: MANIFEST.into(),
        name,
        is_module,
        kind,
        of: Some(of.into()),
        is_listed: false,
    };
    let mut found = Vec::new();
    if archive.parent.is_none() {
        // `module/package` pairs, separated by blanks; `sun.launcher.LauncherHelper` reads them in the executable jar only.
        for header in ["Add-Exports", "Add-Opens"] {
            for pair in manifest.get(header).unwrap_or_default().split_ascii_whitespace() {
                if let Some((module, _)) = pair.split_once('/') {
                    found.push(entry(module.into(), true, ResourceKind::Hint, header));
                }
            }
        }
    }
    for header in CLASSES {
        // The header at which the program itself starts is an entry point, which is more.
        if archive.parent.is_none() && header == "Main-Class" {
            continue;
        }
        let kind = if header.ends_with("Activator") { ResourceKind::Configuration } else { ResourceKind::Mention };
        if let Some(class) = manifest.get(header).and_then(|class| known.class(class)) {
            found.push(entry(class, false, kind, header));
        }
    }
    for (header, value) in manifest.main.iter().filter(|(header, _)| is_of_program(header)) {
        let items = value.split([',', ';', ' ']).map(str::trim).filter(|item| is_qualified(item));
        let classes: BTreeSet<Box<str>> = items.filter_map(|item| known.class(item)).collect();
        for class in classes {
            found.push(entry(class, false, ResourceKind::Configuration, header));
        }
    }
    found
}

/// Whether a header is neither one of the above nor one of a bundle: launchers and hosts of plug-ins define headers of
/// their own, and create the classes that these name.
fn is_of_program(header: &str) -> bool {
    let is = |one: &&str| header.eq_ignore_ascii_case(one);
    !CLASSES.iter().chain(&OTHERS).any(is) && !header.starts_with("Bundle-") && !header.ends_with("-Package")
}

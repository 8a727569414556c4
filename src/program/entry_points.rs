//! Where the program starts: what manifests say, and what the user names.

use std::collections::BTreeSet;

use super::Program;

/// A class at which the JVM or a container starts running the program.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EntryPoint {
    /// Internal form.
    pub class: String,
    /// Who says so: `Start-Class of app.jar`.
    pub reason: String,
}

/// Manifest headers that name a class which the launcher or an agent loader starts (JAR File Specification;
/// `java.lang.instrument`; the published nested-jar layout for `Start-Class`).
const HEADERS: [&str; 5] = ["Main-Class", "Start-Class", "Launcher-Agent-Class", "Premain-Class", "Agent-Class"];

/// The entry points in the order in which they were found: the user's, then those of the archives that the user named.
/// Manifests of nested or linked archives are not asked: the launcher does not read them either.
pub fn entry_points(program: &Program, named: &[String]) -> Vec<EntryPoint> {
    let mut found: Vec<EntryPoint> = named
        .iter()
        .map(|class| EntryPoint { class: class.trim().replace('.', "/"), reason: "--entry".to_owned() })
        .collect();
    for archive in program.archives.iter().filter(|archive| named.is_empty() && archive.parent.is_none()) {
        let Some(manifest) = &archive.manifest else { continue };
        for header in HEADERS {
            if let Some(class) = manifest.get(header) {
                found.push(EntryPoint {
                    class: class.trim().replace('.', "/"),
                    reason: format!("{header} of {}", archive.locator.last()),
                });
            }
        }
    }
    let mut seen = BTreeSet::new();
    found.retain(|entry| !entry.class.is_empty() && seen.insert(entry.class.clone()));
    found
}

//! Packages that bundles import (`OSGi` Core specification, "Import-Package Header"). A framework starts no bundle of which
//! a package is nowhere, whether or not any code of it would run; of the platform's packages it offers those that the
//! image has.
//!
//! The first functions to read are [`exported`] and [`names`]. Manifests of libraries carry such headers everywhere; where no framework is in
//! the program, nobody reads them.

use std::collections::BTreeSet;

use crate::archive::{Archive, ArchiveId};
use crate::platform::ever_platform_package;

use super::super::Program;
use super::manifest::MANIFEST;
use super::{ResourceKind, ResourceName};

/// By it a launcher finds a framework (`OSGi` Core specification, "Frameworks").
const FRAMEWORK: &str = "META-INF/services/org.osgi.framework.launch.FrameworkFactory";

const IMPORTS: &str = "Import-Package";

/// What the bundles of a program export, where a framework wires them.
pub(super) fn exported(program: &Program) -> Option<BTreeSet<&str>> {
    let archives = || program.archives.iter();
    let has_framework = archives().any(|archive| archive.entries.iter().any(|entry| &*entry.path == FRAMEWORK));
    let clauses = || archives().flat_map(|archive| clauses(archive, "Export-Package"));
    has_framework.then(|| clauses().flat_map(|clause| clause.packages).collect())
}

/// The packages of the platform that an archive imports if it is a bundle, and that none exports.
pub(super) fn names(id: ArchiveId, archive: &Archive, exported: &BTreeSet<&str>) -> Vec<ResourceName> {
    if header(archive, "Bundle-SymbolicName").is_none() {
        return Vec::new();
    }
    let mandatory = clauses(archive, IMPORTS).filter(|clause| !clause.is_optional).flat_map(|clause| clause.packages);
    let packages: BTreeSet<&str> = mandatory.filter(|package| !exported.contains(package)).collect();
    let internal = packages.into_iter().map(|package| package.replace('.', "/"));
    let named = internal.filter(|package| ever_platform_package(package.as_bytes())).map(|package| ResourceName {
        archive: id,
        path: MANIFEST.into(),
        name: package.into(),
        is_module: false,
        kind: ResourceKind::Import,
        of: Some(IMPORTS.into()),
        is_listed: false,
    });
    named.collect()
}

fn header<'a>(archive: &'a Archive, name: &str) -> Option<&'a str> {
    archive.manifest.as_ref().and_then(|manifest| manifest.get(name))
}

/// A clause of such a header: packages, then attributes and directives.
struct Clause<'a> {
    packages: Vec<&'a str>,
    is_optional: bool,
}

fn clauses<'a>(archive: &'a Archive, name: &str) -> impl Iterator<Item = Clause<'a>> {
    outside_quotes(header(archive, name).unwrap_or_default(), ',').map(|clause| {
        let (mut packages, mut is_optional) = (Vec::new(), false);
        for part in outside_quotes(clause, ';').map(str::trim) {
            match part.split_once('=') {
                None => packages.push(part),
                Some((name, value)) => {
                    let is_resolution = name.trim().strip_suffix(':').map(str::trim) == Some("resolution");
                    is_optional |= is_resolution && value.trim().trim_matches('"') == "optional";
                }
            }
        }
        Clause { packages, is_optional }
    })
}

/// The parts of a text between separators that stand in no quotes.
fn outside_quotes(text: &str, separator: char) -> impl Iterator<Item = &str> {
    let mut is_quoted = false;
    text.split(move |c| {
        is_quoted ^= c == '"';
        c == separator && !is_quoted
    })
}

//! What kind of archive it is, and what that says about where its classes and its nested archives stand.
//!
//! The first function to read is [`Layout::of`]. It sees names and the manifest, no bytes.

use super::Kind;
use super::enterprise::Modules;
use super::manifest::Manifest;

/// How an archive came under analysis, which decides what it may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    /// The user named it, or the folder that it stands in.
    Input,
    /// It is on a class path: whatever else it holds, the loader sees a jar.
    Library,
    /// A web module of an enterprise archive.
    Web,
    /// A resource adapter of an enterprise archive: every jar in it is a library (Jakarta Connectors, "packaging").
    Adapter,
}

/// Where things stand in an archive.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Layout {
    /// The kind.
    pub(crate) kind: Kind,
    /// Whether classes at the root can be loaded.
    pub(crate) on_class_path: bool,
    /// The folder of an inner class path element, with its `/`.
    pub(crate) classes: Option<String>,
    /// Folders whose jars are on the class path, with their `/`.
    pub(crate) libraries: Vec<String>,
    /// Whether jars anywhere in it are libraries.
    pub(crate) every_jar: bool,
    /// Whether web archives at its top are deployed by a server that the program brings.
    pub(crate) deploys: bool,
    /// The file that lists libraries in class path order.
    pub(crate) index: Option<String>,
    /// What an enterprise archive's descriptor says of the archives in it.
    pub(crate) modules: Option<Modules>,
}

impl Layout {
    /// A jar as the class loader sees it.
    fn jar() -> Self {
        Layout {
            kind: Kind::Jar,
            on_class_path: true,
            classes: None,
            libraries: Vec::new(),
            every_jar: false,
            deploys: false,
            index: None,
            modules: None,
        }
    }

    /// Judges by role, file name, manifest and the paths of the entries.
    pub(crate) fn of<'a>(
        role: Role,
        file_name: &str,
        manifest: Option<&Manifest>,
        paths: &(impl Iterator<Item = &'a str> + Clone),
    ) -> Self {
        let named =
            |extension: &str| file_name.rsplit_once('.').is_some_and(|(_, end)| end.eq_ignore_ascii_case(extension));
        let has = |start: &str| paths.clone().any(|path| path.starts_with(start));
        match role {
            Role::Library => return Layout::jar(),
            // A server deploys it: its manifest starts nothing.
            Role::Web => return Layout::web(None),
            Role::Adapter => return Layout { every_jar: true, ..Layout::jar() },
            Role::Input => {}
        }
        if named("ear") || has("META-INF/application.xml") {
            return Layout {
                kind: Kind::Ear,
                on_class_path: false,
                modules: Some(Modules::default()),
                ..Layout::jar()
            };
        }
        if named("war") || has("WEB-INF/web.xml") || has("WEB-INF/classes/") || has("WEB-INF/lib/") {
            return Layout::web(manifest);
        }
        if header(manifest, "Spring-Boot-Lib").is_some() || has("BOOT-INF/") {
            return Layout::executable(manifest, "BOOT-INF/classes/", &["BOOT-INF/lib/"], Kind::ExecutableJar);
        }
        // Of a jar that is started, a loader of its own opens the jars in it, wherever they stand, and a server deploys the
        // web archive at its top (common practice, no source).
        let is_started = header(manifest, "Main-Class").is_some();
        Layout { every_jar: is_started, deploys: is_started, ..Layout::jar() }
    }

    /// Servlet specification §10.5: `WEB-INF/classes/`, then the jars of `WEB-INF/lib/`. An executable one runs from a
    /// loader at its root and takes `WEB-INF/lib-provided/` along.
    fn web(manifest: Option<&Manifest>) -> Self {
        if header(manifest, "Start-Class").is_some() {
            let libraries = ["WEB-INF/lib/", "WEB-INF/lib-provided/"];
            return Layout::executable(manifest, "WEB-INF/classes/", &libraries, Kind::War);
        }
        // One that is started brings the server along, at its root or in jars there, and has itself deployed (common practice,
        // no source).
        let is_started = header(manifest, "Main-Class").is_some();
        Layout {
            kind: Kind::War,
            on_class_path: is_started,
            classes: Some("WEB-INF/classes/".to_owned()),
            libraries: vec!["WEB-INF/lib/".to_owned()],
            every_jar: is_started,
            ..Layout::jar()
        }
    }

    /// The published layout of executable jars; its headers move the folders.
    fn executable(manifest: Option<&Manifest>, classes: &str, libraries: &[&str], kind: Kind) -> Self {
        let folder = |text: &str| format!("{}/", text.trim_matches('/'));
        let mut libraries: Vec<String> = libraries.iter().map(|&library| library.to_owned()).collect();
        if let (Some(header), Some(first)) = (header(manifest, "Spring-Boot-Lib"), libraries.first_mut()) {
            *first = folder(header);
        }
        Layout {
            kind,
            on_class_path: true,
            classes: Some(folder(header(manifest, "Spring-Boot-Classes").unwrap_or(classes))),
            libraries,
            every_jar: false,
            deploys: false,
            index: header(manifest, "Spring-Boot-Classpath-Index").map(str::to_owned),
            modules: None,
        }
    }

    /// What the entry at `path` is to the program, if it is a nested archive that counts.
    pub(crate) fn role_of(&self, path: &str) -> Option<Role> {
        if let Some(modules) = &self.modules {
            return modules.role_of(path);
        }
        if self.deploys && !path.contains('/') && ends_in(path, &["war"]) {
            return Some(Role::Web);
        }
        let direct = |folder: &String| path.strip_prefix(folder.as_str()).is_some_and(|name| !name.contains('/'));
        let library = is_archive(path) && (self.every_jar || self.libraries.iter().any(direct));
        library.then_some(Role::Library)
    }
}

/// Whether a path is that of a file beside archives which says how a loader puts them together (`JBoss` Modules
/// documentation, "Module descriptors").
pub(crate) fn is_descriptor(path: &str) -> bool {
    path.rsplit('/').next() == Some("module.xml")
}

/// Whether a path looks like that of an archive which class loaders open.
pub(crate) fn is_archive(path: &str) -> bool {
    ends_in(path, &["jar"])
}

/// Whether a path looks like that of an archive with classes in it, whoever opens it.
pub(crate) fn holds_classes(path: &str) -> bool {
    ends_in(path, &["jar", "war", "ear", "rar"])
}

fn ends_in(path: &str, extensions: &[&str]) -> bool {
    path.rsplit_once('.').is_some_and(|(stem, end)| {
        !stem.is_empty() && extensions.iter().any(|extension| end.eq_ignore_ascii_case(extension))
    })
}

pub(super) fn header<'a>(manifest: Option<&'a Manifest>, name: &str) -> Option<&'a str> {
    manifest.and_then(|manifest| manifest.get(name)).map(str::trim).filter(|value| !value.is_empty())
}

/// The archives that a class path index lists, in order: lines of the form `- "BOOT-INF/lib/x.jar"`.
///
/// An error names the first line of another form.
pub(crate) fn parse_index<'a>(text: &'a str) -> Result<Vec<&'a str>, String> {
    let lines = text.lines().zip(1..).filter(|(line, _)| !line.trim().is_empty());
    let path = |line: &'a str| line.trim_end().strip_prefix("- \"")?.strip_suffix('"');
    lines
        .map(|(line, number)| path(line).ok_or_else(|| format!("line {number} is not of the form - \"path\"")))
        .collect()
}

/// Whether a path is that of a class: class loaders look for this ending and no other spelling of it.
#[expect(clippy::case_sensitive_file_extension_comparisons, reason = "that is how class loaders compare")]
pub(crate) fn is_class(path: &str) -> bool {
    path.ends_with(".class")
}

//! One archive or folder, opened: its class path elements, and what it leads to.
//!
//! The first function to read is [`read`]. It knows nothing of what else is under analysis, so that many can run at
//! once.

use std::borrow::Cow;
use std::cell::LazyCell;
use std::collections::{HashMap, HashSet};
use std::fs::File;
use std::path::{Path, PathBuf};

use super::apart::{self, Apart};
use super::bytes::Bytes;
use super::class_path::{self, Link};
use super::enterprise::Modules;
use super::fault::Fault;
use super::findings::Findings;
use super::folder;
use super::index;
use super::inflate::{Cap, Inflater};
use super::layout::{self, Layout, Role};
use super::zip::{Directory, Method, Packed};
use super::{Archive, Entry, Kind, Manifest, Scope, Store, Within, overlay};
use crate::diag::{Code, Diagnostic};
use crate::limits::Limits;
use crate::names::Locator;

const MANIFEST: &str = "META-INF/MANIFEST.MF";

/// The descriptor of an enterprise archive.
const APPLICATION: &str = "META-INF/application.xml";

/// Inflated bytes beyond which no file is taken for a class file under another ending.
const LARGEST_CLASS: u64 = 1 << 20;

/// Something to open.
pub(super) struct Task {
    pub(super) locator: Locator,
    pub(super) source: Source,
    pub(super) role: Role,
    /// Archives around it.
    pub(super) depth: usize,
    pub(super) scope: Scope,
}

/// Where the thing to open is.
pub(super) enum Source {
    /// On disk, an archive.
    File(PathBuf),
    /// On disk, a folder.
    Folder(PathBuf),
    /// In a mapped archive, as it is.
    Part(Bytes),
    /// In an archive, deflated.
    Deflated(Bytes, Packed),
}

/// What opening it gave.
#[derive(Default)]
pub(super) struct Loaded {
    /// Its class path elements: none, itself, or itself and its inner classes.
    pub(super) archives: Vec<Archive>,
    /// Archives in it, in class path order.
    pub(super) nested: Vec<Task>,
    /// What its `Class-Path` names.
    pub(super) links: Vec<Link>,
    pub(super) diagnostics: Vec<Diagnostic>,
}

/// Opens one archive or folder.
pub(super) fn read(task: &Task, limits: &Limits) -> Loaded {
    let mut findings = Findings::new(limits.diagnostics_per_code);
    let mut loaded = Loaded::default();
    if let Err(fault) = fill(task, limits, &mut loaded, &mut findings) {
        findings.add(fault, || task.locator.clone());
    }
    loaded.diagnostics = findings.into_diagnostics(&task.locator);
    loaded
}

fn fill(task: &Task, limits: &Limits, loaded: &mut Loaded, findings: &mut Findings) -> Result<(), Fault> {
    let unreadable = |error: std::io::Error| Fault::new(Code::UnreadableInput, error.to_string());
    let mut inflater = Inflater::new();
    let bytes = match &task.source {
        Source::Folder(path) => {
            fill_from_folder(task, path, limits, loaded, findings);
            return Ok(());
        }
        Source::File(path) => File::open(path).and_then(|file| Bytes::map(&file)).map_err(unreadable)?,
        Source::Part(bytes) => bytes.clone(),
        Source::Deflated(archive, packed) => Bytes::from(inflater.read_owned(archive, packed, Cap::nested(limits))?),
    };
    let directory = Directory::read(&bytes, limits)?;
    for (name, fault) in directory.faults {
        findings.add(fault, || name.map_or_else(|| task.locator.clone(), |name| task.locator.child(&name)));
    }
    let files = directory.members.into_iter().filter(|member| !member.is_folder());
    let files = once_each(files.map(|member| (member.name, member.packed)).collect(), task, findings);
    let manifest = files.iter().find(|(name, _)| name.eq_ignore_ascii_case(MANIFEST)).and_then(|(name, packed)| {
        let text = inflater.read(&bytes, packed, Cap::entry(limits));
        parse_manifest(text, limits, || task.locator.child(name), findings)
    });
    let mut layout =
        Layout::of(task.role, task.locator.last(), manifest.as_ref(), &files.iter().map(|(name, _)| &**name));
    let index = layout.index.as_ref().and_then(|index| {
        let (_, packed) = files.iter().find(|(name, _)| name == index)?;
        Some(inflater.read(&bytes, packed, Cap::entry(limits)).map(<[u8]>::to_vec))
    });
    if layout.modules.is_some()
        && let Some((name, packed)) = files.iter().find(|(name, _)| name == APPLICATION)
    {
        let text = inflater.read(&bytes, packed, Cap::entry(limits)).map(<[u8]>::to_vec);
        let names = files.iter().map(|(name, _)| &**name).collect();
        layout.modules = Some(read_modules(text, &names, || task.locator.child(name), findings));
    }
    let mut unit = Unit { task, layout, limits, findings, loaded };
    unit.arrange(files, &Store::Bytes(bytes.clone()), manifest);
    unit.order_by_index(index);
    unit.link();
    Ok(())
}

fn fill_from_folder(task: &Task, root: &Path, limits: &Limits, loaded: &mut Loaded, findings: &mut Findings) {
    let (found, faults) = folder::list(root, limits);
    for (path, fault) in faults {
        findings.add(fault, || if path.is_empty() { task.locator.clone() } else { task.locator.child(&path) });
    }
    let read = |name: &str| -> Option<Result<Vec<u8>, Fault>> {
        let file = found.iter().find(|file| file.path == name)?;
        let bytes = Cap::entry(limits).admits(&Packed::of_file(file.size)).and_then(|()| {
            std::fs::read(root.join(name)).map_err(|error| Fault::new(Code::UnreadableInput, error.to_string()))
        });
        Some(bytes)
    };
    let manifest = read(MANIFEST).and_then(|text| {
        parse_manifest(text.as_deref().map_err(Clone::clone), limits, || task.locator.child(MANIFEST), findings)
    });
    let mut layout = Layout::of(task.role, "", manifest.as_ref(), &found.iter().map(|file| file.path.as_str()));
    if layout.kind == Kind::Jar {
        layout.kind = Kind::ClassFolder;
        // Those directly in it come first.
        let (direct, below): (Vec<_>, Vec<_>) =
            found.iter().filter(|file| layout::is_archive(&file.path)).partition(|file| !file.path.contains('/'));
        let any = !direct.is_empty() || !below.is_empty();
        if task.role == Role::Input && any && !found.iter().any(|file| layout::is_class(&file.path)) {
            let descriptors = found.iter().filter(|file| layout::is_descriptor(&file.path));
            let descriptors: Vec<_> =
                descriptors.map(|file| (Cow::Borrowed(file.path.as_str()), Packed::of_file(file.size))).collect();
            if !descriptors.is_empty() {
                let layout = Layout { on_class_path: false, ..layout };
                let mut unit = Unit { task, layout, limits, findings, loaded };
                unit.arrange(descriptors, &Store::Folder(root.to_owned()), None);
            }
            loaded.nested = direct
                .into_iter()
                .chain(below)
                .map(|file| {
                    let path = root.join(&file.path);
                    let locator = Locator::of_path(&path);
                    Task {
                        locator,
                        source: Source::File(path),
                        role: Role::Input,
                        depth: task.depth,
                        scope: task.scope,
                    }
                })
                .collect();
            return;
        }
    }
    let index = layout.index.clone().and_then(|index| read(&index));
    if layout.modules.is_some()
        && let Some(text) = read(APPLICATION)
    {
        let names = found.iter().map(|file| file.path.as_str()).collect();
        layout.modules = Some(read_modules(text, &names, || task.locator.child(APPLICATION), findings));
    }
    let files = found.iter().map(|file| (Cow::Borrowed(file.path.as_str()), Packed::of_file(file.size))).collect();
    let mut unit = Unit { task, layout, limits, findings, loaded };
    unit.arrange(files, &Store::Folder(root.to_owned()), manifest);
    unit.order_by_index(index);
}

fn parse_manifest(
    text: Result<&[u8], Fault>,
    limits: &Limits,
    place: impl Fn() -> Locator,
    findings: &mut Findings,
) -> Option<Manifest> {
    let (manifest, faults) = match text.map(|text| Manifest::parse(text, limits)) {
        Ok((manifest, faults)) => (Some(manifest), faults),
        Err(fault) => (None, vec![fault]),
    };
    for fault in faults {
        findings.add(fault, &place);
    }
    manifest
}

/// What the descriptor of an enterprise archive says; where it cannot be read, what file names say.
fn read_modules(
    text: Result<Vec<u8>, Fault>,
    names: &HashSet<&str>,
    place: impl Fn() -> Locator,
    findings: &mut Findings,
) -> Modules {
    let bad = |reason| Fault::new(Code::BadApplicationDescriptor, reason);
    match text.and_then(|text| Modules::parse(&text).map_err(bad)) {
        Ok(modules) => {
            for module in modules.listed().filter(|module| !names.contains(*module)) {
                findings.add(bad(format!("it lists {module}, which the archive lacks")), &place);
            }
            modules
        }
        Err(fault) => {
            findings.add(fault, &place);
            Modules::default()
        }
    }
}

/// Of entries with one name keeps the last, in its place: that is the one that the JVM's look-up finds.
fn once_each<'a>(
    files: Vec<(Cow<'a, str>, Packed)>,
    task: &Task,
    findings: &mut Findings,
) -> Vec<(Cow<'a, str>, Packed)> {
    // The standard hasher, since the names are chosen by whoever made the archive.
    let mut last: HashMap<&str, usize> = HashMap::with_capacity(files.len());
    let mut shadowed = Vec::new();
    for (at, (name, _)) in files.iter().enumerate() {
        if let Some(earlier) = last.insert(name, at) {
            let fault =
                Fault::new(Code::DuplicateEntry, "the archive holds another entry of this name; the JVM sees the last");
            findings.add(fault, || task.locator.child(name));
            shadowed.push(earlier);
        }
    }
    if shadowed.is_empty() {
        return files;
    }
    shadowed.sort_unstable();
    let kept = files.into_iter().enumerate().filter(|(at, _)| shadowed.binary_search(at).is_err());
    kept.map(|(_, file)| file).collect()
}

/// An archive whose directory has been read.
struct Unit<'a> {
    task: &'a Task,
    layout: Layout,
    limits: &'a Limits,
    findings: &'a mut Findings,
    loaded: &'a mut Loaded,
}

impl Unit<'_> {
    /// Deals out the files: to the archive itself, to its inner classes, to archives of their own.
    fn arrange(&mut self, files: Vec<(Cow<'_, str>, Packed)>, store: &Store, manifest: Option<Manifest>) {
        // The JVM overlays versions in jar files only, and an unpacked archive is none.
        let versioned = matches!(store, Store::Bytes(_)) && manifest.as_ref().is_some_and(Manifest::is_multi_release);
        let classes = self.layout.classes.clone().unwrap_or_default();
        let mut own = Vec::with_capacity(files.len());
        let mut inner = Vec::new();
        let apart = match store {
            Store::Bytes(bytes) => {
                // Few archives are asked.
                let by_name: LazyCell<HashMap<&str, &Packed>, _> =
                    LazyCell::new(|| files.iter().map(|(name, packed)| (&**name, packed)).collect());
                let mut inflater = Inflater::new();
                let is_class_file = |path: &str| {
                    let packed = by_name.get(path).filter(|packed| packed.size <= LARGEST_CLASS);
                    // What cannot be read is told of when it is read for what it is.
                    packed.is_some_and(|packed| {
                        inflater.read(bytes, packed, Cap::entry(self.limits)).is_ok_and(apart::is_class_file)
                    })
                };
                Apart::all(manifest.as_ref(), &files.iter().map(|(name, _)| &**name), is_class_file)
            }
            Store::Folder(_) => Vec::new(),
        };
        let mut hidden: Vec<Vec<Entry>> = vec![Vec::new(); apart.len()];
        let mut unopened = 0;
        for (name, packed) in files {
            let size = packed.size;
            let role = self.layout.role_of(&name);
            let found = Apart::find(&apart, &name).filter(|_| role.is_none());
            if let Some((path, entries)) = found.and_then(|(at, path)| Some((path, hidden.get_mut(at)?))) {
                entries.push(Entry { path: path.into(), version: 0, size, packed });
            } else if let Some(path) = name.strip_prefix(classes.as_str()).filter(|_| !classes.is_empty()) {
                inner.push(Entry { path: path.into(), version: 0, size, packed });
            } else if let Some(role) = role {
                self.nest(&name, packed, store, role);
            } else {
                unopened += usize::from(layout::holds_classes(&name));
                let (version, path) = versioned.then(|| overlay::split(&name)).flatten().unwrap_or((0, &name));
                own.push(Entry { path: path.into(), version, size, packed });
            }
        }
        if let Some(first) = own.iter().find(|entry: &&Entry| layout::holds_classes(&entry.path)) {
            let reason = format!(
                "no known layout loads {unopened} of the archives in it, first {}; they are not opened",
                first.path
            );
            self.findings.add(Fault::new(Code::UnopenedArchive, reason), || self.task.locator.clone());
        }
        let archive = |kind, on_class_path, entries, store, manifest, locator, within| Archive {
            locator,
            kind,
            parent: None,
            others: Vec::new(),
            on_class_path,
            scope: self.task.scope,
            manifest,
            starts: None,
            entries,
            store,
            within,
        };
        let root = &self.task.locator;
        self.loaded.archives.push(archive(
            self.layout.kind,
            self.layout.on_class_path,
            own,
            store.below(""),
            manifest,
            root.clone(),
            None,
        ));
        if !inner.is_empty() {
            let locator = root.child(classes.trim_end_matches('/'));
            let within = Within { container: root.clone(), folder: classes.as_str().into(), ending: None };
            let store = store.below(&classes);
            self.loaded.archives.push(archive(Kind::InnerClasses, true, inner, store, None, locator, Some(within)));
        }
        for (Apart { folder, ending }, entries) in apart.into_iter().zip(hidden) {
            // Where they stand at the root, nothing else tells them from the agent itself.
            let locator = root.child(if folder.is_empty() { &ending } else { &folder });
            let folder = if folder.is_empty() { folder } else { format!("{folder}/") };
            let within = Within { container: root.clone(), folder: folder.into(), ending: Some(ending.into()) };
            self.loaded.archives.push(archive(Kind::Jar, true, entries, store.below(""), None, locator, Some(within)));
        }
    }

    /// Makes a nested archive a task of its own.
    fn nest(&mut self, name: &str, packed: Packed, store: &Store, role: Role) {
        let locator = self.task.locator.child(name);
        let depth = self.task.depth + 1;
        if depth > self.limits.nesting_depth {
            let fault = Fault::limit("nesting-depth", format!("archives are nested {depth} deep"));
            return self.findings.add(fault, || locator);
        }
        let source = match store {
            Store::Folder(root) => Ok(Source::File(root.join(name))),
            Store::Bytes(bytes) => match packed.method {
                // Its checksum is left alone: its own entries have theirs, and checking it would read every page.
                Method::Stored => packed.raw(bytes).and_then(|raw| {
                    let part =
                        bytes.part(raw).ok_or_else(|| Fault::new(Code::DamagedEntry, "its bytes are not there"))?;
                    Ok(Source::Part(part))
                }),
                _ => Ok(Source::Deflated(bytes.clone(), packed)),
            },
        };
        match source {
            Ok(source) => {
                self.loaded.nested.push(Task { locator, source, role, depth, scope: self.task.scope });
            }
            Err(fault) => self.findings.add(fault, || locator),
        }
    }

    /// Puts nested archives into the order of the class path index; those it does not list follow as they stand.
    fn order_by_index(&mut self, text: Option<Result<Vec<u8>, Fault>>) {
        let Some(index) = self.layout.index.clone() else { return };
        let place = || self.task.locator.child(&index);
        let bad = |reason: String| Fault::new(Code::BadClassPathIndex, reason);
        let text = match text {
            Some(Ok(text)) => text,
            Some(Err(fault)) => return self.findings.add(fault, place),
            None => return self.findings.add(bad("the manifest names it, the archive lacks it".to_owned()), place),
        };
        let text = String::from_utf8_lossy(&text);
        if text.lines().count() > self.limits.text_lines {
            let what = format!("the class path index has more than {} lines", self.limits.text_lines);
            return self.findings.add(Fault::limit("text-lines", what), place);
        }
        let listed = match layout::parse_index(&text) {
            Ok(listed) => listed,
            Err(reason) => return self.findings.add(bad(reason), place),
        };
        let mut places: HashMap<Locator, usize> = HashMap::new();
        for (at, path) in listed.into_iter().enumerate() {
            places.entry(self.task.locator.child(path)).or_insert(at);
        }
        let nested = &mut self.loaded.nested;
        nested.sort_by_key(|task| places.get(&task.locator).copied().unwrap_or(usize::MAX));
        for task in nested {
            places.remove(&task.locator);
        }
        let mut missing: Vec<_> = places.into_iter().map(|(locator, at)| (at, locator)).collect();
        missing.sort();
        for (_, locator) in missing {
            self.findings.add(bad(format!("it lists {locator}, which is not there")), place);
        }
    }

    /// Takes down what the manifest's `Class-Path` names. Nested archives are left out: their loaders resolve it against
    /// places that are no files.
    fn link(&mut self) {
        let Source::File(path) = &self.task.source else { return };
        let Some(archive) = self.loaded.archives.first_mut() else { return };
        let Some(manifest) = &archive.manifest else { return };
        if let Some(words) = manifest.get("Class-Path") {
            let (links, faults) = class_path::resolve(path, words, self.limits);
            self.loaded.links = links;
            for fault in faults {
                self.findings.add(fault, || self.task.locator.child(MANIFEST));
            }
        }
        if self.task.role == Role::Input {
            match index::read(path, manifest) {
                Some(Ok(index)) => {
                    archive.starts = Some(index.starts);
                    self.loaded.links.extend(index.links);
                }
                Some(Err(reason)) => {
                    self.findings.add(Fault::new(Code::BadClassPathIndex, reason), || self.task.locator.clone());
                }
                None => {}
            }
        }
    }
}

impl Store {
    /// The same bytes for the elements below a folder of the archive, whose entries no longer carry its name.
    fn below(&self, folder: &str) -> Store {
        match self {
            Store::Bytes(bytes) => Store::Bytes(bytes.clone()),
            Store::Folder(root) => Store::Folder(root.join(folder)),
        }
    }
}

//! All inputs as one program: opened in waves, put into class path order at the end.
//!
//! The first function to read is [`open`]. A wave holds what the wave before led to (nested archives, `Class-Path`
//! links) and is read in parallel; what must be counted over the whole run is counted between waves, in order, so that
//! the outcome does not depend on threads.

use std::collections::{HashMap, HashSet};
use std::fs;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::class_path::{Link, tidy};
use super::fault::Fault;
use super::inflate::Cap;
use super::layout::Role;
use super::unit::{self, Loaded, Source, Task};
use super::zip::Method;
use super::{Archive, ArchiveId, Archives, Scope};
use crate::diag::{Code, Diagnostic};
use crate::error::Error;
use crate::limits::Limits;
use crate::names::Locator;

/// Opens all inputs, in the order given, as one program.
///
/// An input that does not exist is [`Error::Input`]; whatever else is wrong becomes a diagnostic.
pub fn open(inputs: &[PathBuf], limits: &Limits) -> Result<Archives, Error> {
    let mut run = Run::new(limits);
    let mut roots = Vec::with_capacity(inputs.len());
    for path in inputs {
        let meta =
            fs::metadata(path).map_err(|source| Error::Input { path: path.clone(), source: hinted(path, source) })?;
        let source = if meta.is_dir() { Source::Folder(path.clone()) } else { Source::File(path.clone()) };
        let known = run.by_path.get(&key(path)).copied();
        roots.push(known.unwrap_or_else(|| {
            let task = Task { locator: Locator::of_path(path), source, role: Role::Input, depth: 0, scope: Scope(0) };
            let node = run.add(task);
            run.by_path.insert(key(path), node);
            node
        }));
    }
    while !run.wave.is_empty() {
        run.next_wave();
    }
    let mut archives = run.in_order(&roots);
    bar_beyond(&mut archives.list, limits);
    Ok(archives)
}

/// What the system says of an input, and what to do where it is a class path as the launcher takes it.
fn hinted(path: &Path, error: std::io::Error) -> std::io::Error {
    // Windows has `:` behind the letter of a drive.
    let separators: &[char] = if cfg!(windows) { &[';'] } else { &[':', ';'] };
    let text = path.to_string_lossy();
    let elements: Vec<&str> = text.split(separators).filter(|element| !element.is_empty()).collect();
    let all_jars = |element: &str| element == "*" || element.ends_with("/*") || element.ends_with("\\*");
    if elements.len() < 2 && !text.contains('*') {
        return error;
    }
    let inputs = elements.iter().map(|&element| match element.trim_end_matches('*') {
        "" => ".",
        folder if all_jars(element) && folder.len() > 1 => folder.trim_end_matches(['/', '\\']),
        _ => element,
    });
    let inputs: Vec<&str> = inputs.collect();
    let hint = "the elements of a class path are given as separate inputs, and a folder of jars as the folder";
    std::io::Error::new(error.kind(), format!("{error}; {hint}: {}", inputs.join(" ")))
}

/// What makes two paths the same element of the class path: as for the JVM, the text of the absolute path, links of the
/// file system not followed.
fn key(path: &Path) -> PathBuf {
    tidy(&std::path::absolute(path).unwrap_or_else(|_| path.to_owned()))
}

/// An opened archive or folder and what comes after it on the class path.
#[derive(Default)]
struct Node {
    archives: Vec<Archive>,
    children: Vec<usize>,
    links: Vec<usize>,
}

struct Run<'a> {
    limits: &'a Limits,
    nodes: Vec<Node>,
    /// Files and folders on disk that are nodes.
    by_path: HashMap<PathBuf, usize>,
    /// What to open next, and as which node.
    wave: Vec<(usize, Task)>,
    diagnostics: Vec<Diagnostic>,
    missing: HashSet<PathBuf>,
    scopes: u32,
    links: usize,
    held: u64,
    entries: usize,
}

impl<'a> Run<'a> {
    fn new(limits: &'a Limits) -> Self {
        Run {
            limits,
            nodes: Vec::new(),
            by_path: HashMap::new(),
            wave: Vec::new(),
            diagnostics: Vec::new(),
            missing: HashSet::new(),
            scopes: 0,
            links: 0,
            held: 0,
            entries: 0,
        }
    }

    fn add(&mut self, task: Task) -> usize {
        let node = self.nodes.len();
        self.nodes.push(Node::default());
        self.wave.push((node, task));
        node
    }

    fn next_wave(&mut self) {
        let limits = self.limits;
        let mut wave = std::mem::take(&mut self.wave);
        wave.retain(|(_, task)| self.may_hold(task));
        let loaded: Vec<Loaded> = wave.par_iter().map(|(_, task)| unit::read(task, limits)).collect();
        for ((node, task), loaded) in wave.into_iter().zip(loaded) {
            self.diagnostics.extend(loaded.diagnostics);
            let archives = loaded.archives.into_iter().map(|archive| self.within_run(archive)).collect();
            let children = loaded.nested.into_iter().map(|nested| self.nest(nested)).collect();
            let links = loaded.links.into_iter().filter_map(|link| self.link(link, &task.locator)).collect();
            if let Some(node) = self.nodes.get_mut(node) {
                *node = Node { archives, children, links };
            }
        }
    }

    /// Counts inflated nested archives by what they state, which is the most that inflating them can take.
    fn may_hold(&mut self, task: &Task) -> bool {
        let Source::Deflated(_, packed) = &task.source else { return true };
        let fault = match Cap::nested(self.limits).admits(packed) {
            Err(fault) => fault,
            Ok(()) if packed.size > self.limits.held_bytes.saturating_sub(self.held) => {
                let what =
                    format!("nested archives would take {} bytes of memory", self.held.saturating_add(packed.size));
                Fault::limit("held-bytes", what)
            }
            Ok(()) => {
                self.held += packed.size;
                return true;
            }
        };
        self.diagnostics.push(fault.at(task.locator.clone()));
        false
    }

    /// Drops the entries that are too many for the run.
    fn within_run(&mut self, mut archive: Archive) -> Archive {
        let room = self.limits.entries_per_run.saturating_sub(self.entries);
        if archive.entries.len() > room {
            let what = format!("{} entries of this archive are left out", archive.entries.len() - room);
            self.diagnostics.push(Fault::limit("entries-per-run", what).at(archive.locator.clone()));
            archive.entries.truncate(room);
        }
        self.entries += archive.entries.len();
        archive
    }

    fn nest(&mut self, mut task: Task) -> usize {
        if task.role == Role::Web {
            self.scopes += 1;
            task.scope = Scope(self.scopes);
        }
        // A jar of a folder of jars may also be named by a manifest.
        let path = match &task.source {
            Source::File(path) | Source::Folder(path) => Some(key(path)),
            Source::Part(_) | Source::Deflated(..) => None,
        };
        if let Some(&node) = path.as_ref().and_then(|path| self.by_path.get(path)) {
            return node;
        }
        let node = self.add(task);
        if let Some(path) = path {
            self.by_path.insert(path, node);
        }
        node
    }

    /// The node of what a manifest's `Class-Path` names, unless there is nothing.
    fn link(&mut self, link: Link, namer: &Locator) -> Option<usize> {
        let key = key(&link.path);
        if let Some(&node) = self.by_path.get(&key) {
            return Some(node);
        }
        // A pipe or a device is nothing to open: reading one may never end.
        let there = fs::metadata(&link.path).is_ok_and(|meta| if link.folder { meta.is_dir() } else { meta.is_file() });
        if !there {
            if self.missing.insert(key) {
                let reason = format!("{} names {}, which is not there; it is skipped", link.namer, link.word);
                self.diagnostics.push(Diagnostic::new(Code::MissingClassPathEntry, namer.clone(), reason));
            }
            return None;
        }
        if self.links >= self.limits.class_path_links {
            if self.links == self.limits.class_path_links {
                let what = format!("Class-Path headers lead to more than {} archives", self.links);
                self.diagnostics.push(Fault::limit("class-path-links", what).at(namer.clone()));
                self.links += 1;
            }
            return None;
        }
        self.links += 1;
        let locator = Locator::of_path(&link.path);
        let source = if link.folder { Source::Folder(link.path) } else { Source::File(link.path) };
        let node = self.add(Task { locator, source, role: Role::Library, depth: 0, scope: Scope(0) });
        self.by_path.insert(key, node);
        Some(node)
    }

    /// Class path order: each element, then what it holds, then what its manifest names, before the next element. An
    /// element met again stays where it was met first. That is how the JVM's loader opens them.
    fn in_order(mut self, roots: &[usize]) -> Archives {
        let mut list: Vec<Archive> = Vec::new();
        let mut stack: Vec<(usize, Option<ArchiveId>)> = roots.iter().rev().map(|&node| (node, None)).collect();
        // By node, where its first archive stands in the list.
        let mut done: Vec<Option<usize>> = vec![None; self.nodes.len()];
        while let Some((at, parent)) = stack.pop() {
            let Some(place) = done.get_mut(at) else { continue };
            if let Some(place) = *place {
                if let Some(met) = list.get_mut(place) {
                    met.others.push(parent);
                }
                continue;
            }
            let node = self.nodes.get_mut(at).map(std::mem::take).unwrap_or_default();
            *place = Some(if node.archives.is_empty() { usize::MAX } else { list.len() });
            let mut holder = parent;
            for (index, mut archive) in node.archives.into_iter().enumerate() {
                archive.parent = holder;
                if index == 0 {
                    holder = Some(ArchiveId(list.len() as u32));
                }
                list.push(archive);
            }
            stack.extend(node.children.iter().chain(&node.links).rev().map(|&next| (next, holder)));
        }
        Archives { list, diagnostics: self.diagnostics }
    }
}

/// Bars entries beyond `run-bytes`, counted in class path order by what they state, which is the most that reading them
/// can take.
fn bar_beyond(list: &mut [Archive], limits: &Limits) {
    let mut room = limits.run_bytes;
    for entry in list.iter_mut().flat_map(|archive| &mut archive.entries) {
        if Cap::entry(limits).admits(&entry.packed).is_err() {
            continue;
        }
        match room.checked_sub(entry.size) {
            Some(left) => room = left,
            None => entry.packed.method = Method::BeyondRun,
        }
    }
}

//! Where the program starts: what manifests and deployment descriptors say, and what the user names.
//!
//! The first function to read is [`entry_points`].

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use rustc_hash::FxHashSet;

use crate::archive::{Archive, ArchiveId, Kind};
use crate::diag::{Code, Diagnostic, Findings};
use crate::error::Error;
use crate::names::{Locator, binary_name, did_you_mean};

use super::listed::Listed;
use super::own_part::{OwnPart, own_classes};
use super::{NameId, Program, ResourceKind, ResourceName, View};

/// A class at which the JVM or a container starts running the program.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EntryPoint {
    /// Internal form.
    pub class: String,
    /// Who says so: `Start-Class of app.jar`.
    pub reason: String,
}

/// Where a program starts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct EntryPoints {
    /// Classes that the launcher or an agent loader starts, or that the user names.
    pub started: Vec<EntryPoint>,
    /// Classes that a web container creates and calls, in class path order: those of deployment descriptors, and what
    /// it finds as initialisers.
    pub called: Vec<EntryPoint>,
    /// Classes of which the user says that they are looked up by name, in the order of the lists.
    pub listed: Vec<EntryPoint>,
    /// Archives that count as the program although what starts may stand in a framework: those whose manifests are
    /// believed, and where the user says where it starts, the only one that he named by itself.
    pub programs: Vec<ArchiveId>,
    /// Classes that manifests name and that are not taken for where it starts, in class path order: one of each archive.
    pub doubted: Vec<EntryPoint>,
    /// Nobody is known to start or call anything, nor to look through the program's own part: what its own classes make
    /// public may be called.
    pub library: bool,
}

impl EntryPoints {
    /// Those started, then those called, then those listed.
    pub fn all(&self) -> impl Iterator<Item = &EntryPoint> {
        self.started.iter().chain(&self.called).chain(&self.listed)
    }

    /// The classes of those listed.
    pub fn listed_classes(&self) -> FxHashSet<&str> {
        self.listed.iter().map(|entry| &*entry.class).collect()
    }

    /// The position in [`EntryPoints::all`] behind which the listed ones stand.
    pub fn first_listed(&self) -> usize {
        self.started.len() + self.called.len()
    }
}

/// What the user and the launch say of where a program starts.
#[derive(Clone, Copy, Debug, Default)]
pub struct Said<'a> {
    /// What the user named: archives, class folders and folders of jars.
    pub inputs: &'a [PathBuf],
    /// Classes to start from, binary names.
    pub entries: &'a [String],
    /// Archives that the launch names as agents.
    pub agents: &'a [PathBuf],
    /// Properties of the launch: the platform makes objects of classes that some name.
    pub properties: &'a [(Box<str>, Box<str>)],
    /// Classes that are looked up by names which no code shows.
    pub listed: &'a [Listed],
}

impl Said<'_> {
    fn is_agent(&self, archive: &Archive) -> bool {
        self.agents.iter().any(|agent| Locator::of_path(agent) == archive.locator)
    }
}

/// Manifest headers that name a class which the launcher or an agent loader starts (JAR File Specification;
/// `java.lang.instrument`; the published nested-jar layout for `Start-Class`).
const HEADERS: [&str; 5] = ["Main-Class", "Start-Class", "Launcher-Agent-Class", "Premain-Class", "Agent-Class"];

/// What the class loader of a jar starts that reads its class path from a file beside it.
const BESIDE: &str = "class path index";

/// Descriptors that a web container reads (Servlet specification §8.2 and ch. 14).
const WEB: [&str; 2] = ["WEB-INF/web.xml", "META-INF/web-fragment.xml"];

/// The service that a web container looks up as it comes up (Servlet specification §8.2.4), under both its names.
const INITIALISERS: [&str; 2] =
    ["javax/servlet/ServletContainerInitializer", "jakarta/servlet/ServletContainerInitializer"];

/// Classes of one simple name that an error offers.
const OFFERED: usize = 3;

/// The entry points, in the order in which they were found: those of the user; or, where there are none, those of the
/// archives that the user named. Manifests of nested or linked archives are not asked: the launcher does not read them
/// either.
///
/// Where archives have been taken from a program, `whole` has the entry points that it had with them: what is left does
/// not become a library because what started it is gone.
///
/// # Errors
///
/// [`Error::Usage`] where the user names a class that no archive has. A manifest that does so is a finding.
pub fn entry_points(
    program: &Program,
    view: &View,
    resources: &[ResourceName],
    said: Said<'_>,
    whole: Option<&EntryPoints>,
    findings: &mut Findings,
) -> Result<EntryPoints, Error> {
    let known: FxHashSet<NameId> = view.classes.iter().filter_map(|&id| Some(program.class(id)?.path)).collect();
    let has = |class: &str| program.names.find(class.as_bytes()).is_some_and(|id| known.contains(&id));
    let mut found = EntryPoints::default();
    for class in said.entries {
        let class = class.trim().replace('.', "/");
        if !has(&class) {
            if whole.is_some() {
                continue;
            }
            return Err(Error::Usage(unknown(program, view, &class)));
        }
        found.started.push(EntryPoint { class, reason: "--entry".to_owned() });
    }
    let archives = program.archives.iter().map(|archive| &**archive);
    let asked = archives.filter(|archive| archive.parent.is_none() && !said.is_agent(archive));
    let asked: Vec<&Archive> = asked.collect();
    let (believed, doubted) = if said.entries.is_empty() {
        believed(&asked, said.inputs)
    } else {
        let by_itself = named_by_themselves(&asked, said.inputs);
        let mut named = asked.iter().filter(|archive| by_itself.contains(&archive.locator));
        if let (Some(only), None) = (named.next(), named.next()) {
            found.programs.extend(number_of(program, only));
        }
        (Vec::new(), Vec::new())
    };
    found.doubted = doubt(&doubted, findings);
    for archive in believed {
        for (header, class) in starts(archive) {
            if has(&class) {
                let reason = format!("{header} of {}", archive.locator.last());
                found.started.push(EntryPoint { class, reason });
                found.programs.extend(number_of(program, archive));
            } else {
                findings.add(Code::MissingEntryPoint, || {
                    let place = archive.locator.child("META-INF/MANIFEST.MF");
                    let class = binary_name(class.as_bytes());
                    let message = format!("{header} names {class}, a class that is in none of the archives");
                    Diagnostic::new(Code::MissingEntryPoint, place, message)
                });
            }
        }
    }
    for name in resources.iter().filter(|name| !name.is_module && in_web_archive(program, name.archive)) {
        let Some(of) = name.of.as_deref().filter(|_| has(&name.name)) else { continue };
        let place = || program.archive(name.archive).map_or("", |archive| archive.locator.last());
        let reason = if name.kind == ResourceKind::Registration && WEB.contains(&&*name.path) {
            format!("{of} in {} of {}", name.path, place())
        } else if name.kind == ResourceKind::Service && INITIALISERS.contains(&of) {
            format!("provider of {} in {}", binary_name(of.as_bytes()), place())
        } else {
            continue;
        };
        found.called.push(EntryPoint { class: name.name.to_string(), reason });
    }
    // Classes, not archives: what somebody would look through may be shadowed by what stands before it.
    let is_scanned = || own_classes(program, view).iter().any(|(_, part)| *part == OwnPart::Scanned);
    match whole {
        None => found.library = found.started.is_empty() && found.called.is_empty() && !is_scanned(),
        Some(whole) => (found.library, found.programs) = (whole.library, whole.programs.clone()),
    }
    let of_program = said.listed.iter().filter(|listed| has(&listed.class));
    found.listed.extend(of_program.map(|one| EntryPoint { class: one.class.to_string(), reason: one.place() }));
    launched(program, said, has, &mut found.started, findings);
    for list in [&mut found.started, &mut found.called, &mut found.listed] {
        let mut seen = BTreeSet::new();
        list.retain(|entry| seen.insert(entry.class.clone()));
    }
    Ok(found)
}

fn number_of(program: &Program, archive: &Archive) -> Option<ArchiveId> {
    let number =
        program.archives.iter().position(|other| other.parent.is_none() && other.locator == archive.locator)?;
    Some(ArchiveId(number as u32))
}

/// Of the archives that the user named, the one whose manifest says where the program starts, and those that say so of
/// themselves only: among several a header tells no more than that this one can be started too, as tools in libraries
/// can. One that was named by itself, and alone names a start, is taken for the program if it comes first, as the program
/// does on a class path that somebody wrote, or if all others stand in folders; else a shell may have named all jars there
/// are. What stands in a folder is not taken for it.
fn believed<'a>(asked: &[&'a Archive], inputs: &[PathBuf]) -> (Vec<&'a Archive>, Vec<&'a Archive>) {
    let starting: Vec<&Archive> = asked.iter().copied().filter(|archive| names_a_start(archive)).collect();
    if let ([_], [_]) = (asked, &*starting) {
        return (starting, Vec::new());
    }
    let by_itself = named_by_themselves(asked, inputs);
    let (own, others): (Vec<_>, Vec<_>) =
        starting.into_iter().partition(|archive| by_itself.contains(&archive.locator));
    let alone = asked.iter().filter(|archive| by_itself.contains(&archive.locator)).count() == 1;
    let first = own.first().is_some_and(|archive| by_itself.first() == Some(&archive.locator));
    if own.len() == 1 && (alone || first) { (own, others) } else { (Vec::new(), [own, others].concat()) }
}

/// The archives that the user named one by one. So counts, where a single folder is named, the only one that stands in it
/// and not deeper: a program beside its libraries.
fn named_by_themselves(asked: &[&Archive], inputs: &[PathBuf]) -> Vec<Locator> {
    if let [folder] = inputs {
        let in_it =
            asked.iter().filter(|archive| Path::new(archive.locator.as_str()).parent() == Some(folder.as_path()));
        let in_it: Vec<&&Archive> = in_it.collect();
        if let [only] = *in_it {
            return vec![only.locator.clone()];
        }
    }
    inputs.iter().map(|path| Locator::of_path(path)).collect()
}

fn doubt(doubted: &[&Archive], findings: &mut Findings) -> Vec<EntryPoint> {
    let named = doubted.iter().filter_map(|archive| {
        let (header, class) = starts(archive).next()?;
        Some(EntryPoint { class, reason: format!("{header} of {}", archive.locator.last()) })
    });
    let named: Vec<EntryPoint> = named.collect();
    if let (Some(archive), Some((first, more))) = (doubted.first(), named.split_first()) {
        findings.add(Code::UnclearStart, || {
            let others: Vec<&str> = more.iter().map(|other| &*other.reason).take(OFFERED).collect();
            let rest = match more.len().saturating_sub(OFFERED) {
                0 => String::new(),
                1 => " and of 1 more archive".to_owned(),
                rest => format!(" and of {rest} more archives"),
            };
            let others = if others.is_empty() { String::new() } else { format!(", nor {}{rest}", others.join(", ")) };
            let (header, _) = first.reason.split_once(' ').unwrap_or_default();
            let message = format!(
                "its {header} {} is not taken for the start of the program{others}: it is one of several archives; name \
                 what is started by --entry",
                binary_name(first.class.as_bytes())
            );
            Diagnostic::new(Code::UnclearStart, archive.locator.clone(), message)
        });
    }
    named
}

/// Whether the manifest of an archive, were it the one that is started, names a class to start.
pub fn names_a_start(archive: &Archive) -> bool {
    starts(archive).next().is_some()
}

/// What the launch starts beside the program: agents at their `Premain-Class`, and classes that properties name.
fn launched(
    program: &Program,
    said: Said<'_>,
    has: impl Fn(&str) -> bool,
    started: &mut Vec<EntryPoint>,
    findings: &mut Findings,
) {
    for agent in program.archives.iter().filter(|archive| said.is_agent(archive)) {
        let header = agent.manifest.as_ref().and_then(|manifest| manifest.get("Premain-Class"));
        let class = header.map(|class| class.trim().replace('.', "/"));
        match class.filter(|class| has(class)) {
            Some(class) => {
                let reason = format!("Premain-Class of {}, an agent of the launch", agent.locator.last());
                started.push(EntryPoint { class, reason });
            }
            None => findings.add(Code::MissingEntryPoint, || {
                let message = match header {
                    Some(class) => format!("Premain-Class names {class}, a class that is in none of the archives"),
                    None => "the launch names it as an agent, and it has no Premain-Class".to_owned(),
                };
                Diagnostic::new(Code::MissingEntryPoint, agent.locator.clone(), message)
            }),
        }
    }
    for (key, value) in said.properties {
        let class = value.trim().replace('.', "/");
        if has(&class) {
            started.push(EntryPoint { class, reason: format!("the property {key} of the launch") });
        }
    }
}

/// What a manifest says of starting, or a file beside the archive: header and class.
fn starts(archive: &Archive) -> impl Iterator<Item = (&'static str, String)> {
    let headers = HEADERS.into_iter().filter_map(|header| Some((header, archive.manifest.as_ref()?.get(header)?)));
    let beside = archive.starts.as_deref().map(|class| (BESIDE, class));
    headers.chain(beside).filter_map(|(header, class)| {
        let class = class.trim().replace('.', "/");
        (!class.is_empty()).then_some((header, class))
    })
}

/// Whether an archive is a web archive or in one: elsewhere nobody reads these files, or who does is of the program.
fn in_web_archive(program: &Program, id: ArchiveId) -> bool {
    // Parents stand before children, so that this ends.
    let mut next = program.archive(id);
    while let Some(archive) = next {
        if archive.kind == Kind::War {
            return true;
        }
        next = archive.parent.and_then(|parent| program.archive(parent));
    }
    false
}

/// What to say of a class that is not there: perhaps its package was left out, or is another.
fn unknown(program: &Program, view: &View, class: &str) -> String {
    let simple = class.rsplit('/').next().unwrap_or(class);
    let shown = binary_name(class.as_bytes());
    let alike = view.classes.iter().filter_map(|&id| {
        let name = program.names.name(program.class(id)?.path);
        let of = name.rsplit(|&byte| byte == b'/').next()?;
        of.eq_ignore_ascii_case(simple.as_bytes()).then(|| binary_name(name))
    });
    let alike: BTreeSet<String> = alike.collect();
    let alike: Vec<String> = alike.into_iter().take(OFFERED).collect();
    let meant = if alike.is_empty() {
        let all = view.classes.iter().filter_map(|&id| Some(binary_name(program.names.name(program.class(id)?.path))));
        did_you_mean(&shown, all.collect::<Vec<String>>().iter().map(String::as_str))
    } else {
        format!("; did you mean {}?", alike.join(" or "))
    };
    format!("--entry {shown}: no archive has a class of this name{meant}")
}

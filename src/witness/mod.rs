//! Class-load logs of the JVM: what programs that ran really loaded from the platform's modules. And results of trials:
//! what a command was seen to miss.
//!
//! Knows the catalogue, to tell which modules are the platform's, and nothing of the program that is judged. The first
//! function to read is [`read`].

mod line;
mod met;
mod result;
mod text;

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::diag::{Code, Diagnostic, Findings};
use crate::error::Error;
use crate::limits::Limits;
use crate::names::{Locator, decode_mutf8};
use crate::platform::{Catalogue, ModuleId, Presence};
pub use line::{Lines, Load, Origin};
use met::is_met;
use text::End;

/// How a log is taken that tells the module of every class.
pub const HOW: &str = "-Xshare:off -Xlog:class+load:file=load.log";

/// Different classes that are kept of one module in one log; the rest are counted.
const CLASSES: usize = 64;

/// Modules of run-time images that the release does not have; more of them are passed over.
const UNKNOWN: usize = 256;

/// What one log shows, its rotated parts included.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Log {
    /// As the user named it.
    pub path: PathBuf,
    /// The files that were read, in that order.
    pub files: Vec<PathBuf>,
    /// Classes that were loaded, of whatever origin.
    pub loads: u64,
    /// Of these, those from a shared archive, whose lines name no module.
    pub shared: u64,
    /// Modules of the platform of which a class was loaded, java.base aside.
    pub modules: BTreeMap<ModuleId, Seen>,
    /// Modules of the run-time image that the release does not have, with how many of their classes were loaded.
    pub unknown: BTreeMap<Box<str>, u64>,
}

/// What was loaded of one module.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seen {
    /// Classes loaded, whatever their name.
    pub loads: u64,
    /// The first different ones, internal form, in the order of loading; what a look-up of services meets stands last.
    pub classes: Vec<Box<str>>,
    /// Whether nothing was loaded but what the look-up of a service meets: it meets each module that provides the
    /// service, and most programs do as well without.
    pub only_met: bool,
}

/// Reads logs, each with its rotated parts; of a folder each file; and results of trials.
///
/// # Errors
///
/// [`Error::Input`] for a file that cannot be opened, [`Error::Usage`] for one in which no line tells of a class, and for
/// JSON that is no result of a trial which passed on this release.
pub fn read(
    paths: &[PathBuf],
    catalogue: &Catalogue,
    limits: &Limits,
    findings: &mut Findings,
) -> Result<Vec<Log>, Error> {
    let mut left = limits.witness_bytes;
    let one = |path: &PathBuf| match result::read(path, catalogue)? {
        Some(log) => {
            tell(&log, catalogue, findings);
            Ok(log)
        }
        None => read_log(path, catalogue, &mut left, findings),
    };
    paths.iter().map(one).collect()
}

fn read_log(path: &Path, catalogue: &Catalogue, left: &mut u64, findings: &mut Findings) -> Result<Log, Error> {
    let files = parts(path).map_err(|source| Error::Input { path: path.to_owned(), source })?;
    let mut log = Log { path: path.to_owned(), files, ..Log::default() };
    let mut first = FirstLine::default();
    let mut read = 0;
    let lines = Lines::default();
    let mut reader = Reader { catalogue, package: Vec::new(), name: Vec::new() };
    for file in log.files.clone() {
        let mut number = 0u64;
        let end = text::lines(&file, *left, &mut read, |text| {
            number += 1;
            match lines.load(text) {
                Some(load) => reader.take(load, &mut log),
                None => first.offer(&file, number, text),
            }
        });
        let place = || Locator::of_path(&file);
        match end {
            Ok(End::Whole) => {}
            Ok(End::Broken(why)) => findings.add(Code::BrokenLog, || {
                Diagnostic::new(
                    Code::BrokenLog,
                    place(),
                    format!("{why}, after line {number}; what stands before counts"),
                )
            }),
            Ok(End::Limit) => findings.add(Code::LimitReached, || {
                let text = format!("witness-bytes: the rest of the log, from line {number} on, is not read");
                Diagnostic::new(Code::LimitReached, place(), text)
            }),
            Err(source) => return Err(Error::Input { path: file, source }),
        }
    }
    *left = left.saturating_sub(read);
    if log.loads == 0 {
        return Err(first.refusal(path, read));
    }
    log.modules.values_mut().for_each(|seen| seen.classes.sort_by_key(|class| is_met(catalogue, class)));
    tell(&log, catalogue, findings);
    Ok(log)
}

/// What a reader of the answer has to know about a log.
fn tell(log: &Log, catalogue: &Catalogue, findings: &mut Findings) {
    let place = || Locator::of_path(&log.path);
    if log.shared > 0 {
        findings.add(Code::SharedArchiveLog, || {
            let text = format!(
                "{} of {} classes came from a shared archive, which names no module; their packages were taken to tell \
                 it. A log taken with {HOW} names it for every class",
                log.shared, log.loads
            );
            Diagnostic::new(Code::SharedArchiveLog, place(), text)
        });
    }
    if let Some((module, loads)) = log.unknown.iter().next() {
        findings.add(Code::UnknownModuleInLog, || {
            let more = match log.unknown.len() - 1 {
                0 => String::new(),
                more => format!(", and {more} more modules"),
            };
            let text = format!(
                "release {} has no module {module}, of which {loads} classes were loaded{more}: a module of the program \
                 in its own image, or another release ran",
                catalogue.release
            );
            Diagnostic::new(Code::UnknownModuleInLog, place(), text)
        });
    }
}

/// The files of one log: those of a folder; else the file behind its rotated parts (`load.log.0`, `load.log.1`), which
/// the JVM leaves beside it (JEP 158).
fn parts(path: &Path) -> io::Result<Vec<PathBuf>> {
    if fs::metadata(path)?.is_dir() {
        let mut files = Vec::new();
        for entry in fs::read_dir(path)? {
            let file = entry?.path();
            if file.is_file() {
                files.push(file);
            }
        }
        files.sort();
        return Ok(files);
    }
    let mut rotated: Vec<(u32, PathBuf)> = Vec::new();
    let name = path.file_name().map(|name| format!("{}.", name.to_string_lossy())).unwrap_or_default();
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    // A folder that may not be listed can still hold a file that may be read.
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let other = entry.file_name();
        let Some(number) = other.to_str().and_then(|other| other.strip_prefix(&*name)) else { continue };
        if number.bytes().all(|byte| byte.is_ascii_digit())
            && let Ok(number) = number.parse()
        {
            rotated.push((number, path.with_file_name(&other)));
        }
    }
    rotated.sort();
    Ok(rotated.into_iter().map(|(_, file)| file).chain([path.to_owned()]).collect())
}

/// Puts loads where they belong; holds what it uses again from line to line.
struct Reader<'c> {
    catalogue: &'c Catalogue,
    package: Vec<u8>,
    name: Vec<u8>,
}

impl Reader<'_> {
    fn take(&mut self, load: Load<'_>, log: &mut Log) {
        log.loads += 1;
        let module = match load.origin {
            // The second is three loads of four.
            Origin::Elsewhere | Origin::Module(b"java.base") => return,
            Origin::Module(module) => {
                let Ok(name) = std::str::from_utf8(module) else { return };
                let Some(module) = self.catalogue.module(name) else {
                    if let Some(count) = log.unknown.get_mut(name) {
                        *count += 1;
                    } else if log.unknown.len() < UNKNOWN {
                        log.unknown.insert(name.into(), 1);
                    }
                    return;
                };
                module
            }
            Origin::Shared => {
                log.shared += 1;
                let Some(end) = memchr::memrchr(b'.', load.class) else { return };
                internal(load.class.get(..end).unwrap_or_default(), &mut self.package);
                match self.catalogue.module_of_package(&self.package) {
                    Some(module) if !self.catalogue.is_base(module) => module,
                    _ => return,
                }
            }
        };
        internal(load.class, &mut self.name);
        let seen = log.modules.get(&module);
        let known = |seen: &Seen| seen.classes.iter().any(|class| class.as_bytes() == self.name);
        if seen.is_none_or(|seen| seen.classes.len() < CLASSES && !known(seen)) {
            // A class of a platform package that the platform has not is the program's own.
            if load.origin == Origin::Shared && matches!(self.catalogue.presence(&self.name), Presence::Absent(_)) {
                return;
            }
            let class: Box<str> = decode_mutf8(&self.name).into();
            let met = is_met(self.catalogue, &class);
            let seen = log.modules.entry(module).or_insert(Seen { loads: 0, classes: Vec::new(), only_met: true });
            seen.only_met &= met;
            seen.classes.push(class);
        }
        if let Some(seen) = log.modules.get_mut(&module) {
            seen.loads += 1;
        }
    }
}

fn internal(binary: &[u8], into: &mut Vec<u8>) {
    into.clear();
    into.extend(binary.iter().map(|&byte| if byte == b'.' { b'/' } else { byte }));
}

/// The first line that tells of no class: what to say of a file that holds nothing else.
#[derive(Default)]
struct FirstLine(Option<(PathBuf, u64, String)>);

impl FirstLine {
    /// Characters of a line that are repeated to its owner.
    const SHOWN: usize = 60;

    fn offer(&mut self, file: &Path, number: u64, line: &[u8]) {
        if self.0.is_none() && !line.trim_ascii().is_empty() {
            let start = String::from_utf8_lossy(line.get(..Self::SHOWN * 4).unwrap_or(line));
            self.0 = Some((file.to_owned(), number, start.trim().chars().take(Self::SHOWN).collect()));
        }
    }

    fn refusal(self, path: &Path, read: u64) -> Error {
        let shown = path.display();
        Error::Usage(match self.0 {
            None if read > 0 => {
                format!("--witness {shown}: it holds no line of text; a class-load log is taken with {HOW}")
            }
            None => format!("--witness {shown}: the file is empty; a class-load log is taken with {HOW}"),
            Some((file, number, line)) if line.starts_with("[Loaded ") => format!(
                "--witness {shown}: line {number} of {} is of a release before 9, which has no modules: {line}",
                file.display()
            ),
            Some((file, number, line)) => format!(
                "--witness {shown}: no line tells of a class that was loaded, as those do that {HOW} writes; line {number} \
                 of {} is: {line}",
                file.display()
            ),
        })
    }
}

#[cfg(test)]
mod tests;

//! Watching a command: which JVMs it starts, of which JDK, and what they load from which module.
//!
//! The first functions to read are [`options`] and [`read`].

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};

use crate::diag::Findings;
use crate::error::Error;
use crate::limits::Limits;
use crate::names::binary_name;
use crate::needs::{Launch, starts_from};
use crate::platform::{Catalogue, ModuleId};
use crate::witness;

use super::environment::Options;

/// Logs looked at: a command that starts more JVMs is judged by the first.
const LOGS: usize = 1000;
/// Bytes of the head of a log, where the JVM says what it was started with.
const HEAD: u64 = 1 << 20;
/// Classes that are named of one module.
const CLASSES: usize = 5;

/// What was loaded of one module.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Seen {
    /// Classes loaded.
    pub loads: u64,
    /// The first of them, binary names.
    pub classes: Vec<String>,
    /// Whether nothing but what a look-up of services meets was loaded.
    pub only_met: bool,
}

/// What the JVMs of one run were.
#[derive(Clone, Debug, Default)]
pub(super) struct Jvms {
    /// JVMs of the JDK or image that was given, tools aside.
    pub(super) ours: usize,
    /// The platforms of other JVMs, in the order found.
    pub(super) others: Vec<String>,
    /// The platforms of tools that were run.
    pub(super) tools: Vec<String>,
    /// Whether one was not started by the launcher `java`, tools aside.
    pub(super) foreign_launcher: bool,
    /// Whether one has a main module, or modules beside those of the platform: withholding would be undone.
    pub(super) modular: bool,
    /// Whether one has limits of the command's own, which do the same.
    pub(super) limited: bool,
    /// Logs of those that count.
    pub(super) logs: Vec<PathBuf>,
}

/// Options that make every JVM write a log into `folder`, which nobody else may read: command lines stand in it.
///
/// A log for each JVM, and one more for each that the launcher `java` started: so others are known. `loads` asks for each
/// class, and with its module, which a shared archive would hide.
pub(super) fn options(folder: &Path, loads: bool) -> Result<Options, Error> {
    let path = as_words(folder)?;
    let log = |tags: &str, name: &str| format!("-Xlog:{tags}:file={path}/{name}-%p.log:none:filecount=0");
    let jvm = if loads {
        vec!["-Xshare:off".to_owned(), log("class+load,class+path,module+load,arguments", "jvm")]
    } else {
        vec![log("class+path,module+load,arguments", "jvm")]
    };
    Ok(Options { launcher: vec![log("arguments", "java")], jvm })
}

/// An option that makes a JVM write down what is thrown, caught or not. Of a program that throws all the time the last is
/// kept.
pub(super) fn missing(folder: &Path) -> Result<String, Error> {
    Ok(format!("-Xlog:exceptions:file={}/thrown-%p.log:none:filecount=1,filesize=4M", as_words(folder)?))
}

/// A folder as it can stand in `-Xlog`.
fn as_words(folder: &Path) -> Result<&str, Error> {
    folder.to_str().filter(|path| !path.contains([':', '"', '\'', '%'])).ok_or_else(|| {
        let text = "has a character that cannot be handed to -Xlog; set TMPDIR to another folder";
        Error::Usage(format!("{} {text}", folder.display()))
    })
}

/// What a run's logs say of its JVMs.
pub(super) fn jvms(folder: &Path, home: &Path, catalogue: &Catalogue) -> Jvms {
    let mut jvms = Jvms::default();
    let home = fs::canonicalize(home).unwrap_or_else(|_| home.to_owned());
    let mut logs: Vec<PathBuf> =
        fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path()).collect();
    logs.sort();
    let named = |log: &Path, prefix: &str| log.file_name()?.to_str()?.strip_prefix(prefix).map(str::to_owned);
    for log in logs.iter().take(LOGS) {
        let Some(number) = named(log, "jvm-") else { continue };
        let head = Head::read(log);
        let launched = folder.join(format!("java-{number}")).exists();
        // A tool of the JDK has a launcher of its own and runs nothing but the platform.
        let of_platform = head.main_module.as_deref().filter(|name| catalogue.module(name).is_some());
        if of_platform.is_some() || !launched && head.loads && !head.loads_own {
            jvms.tools.extend(head.platform);
            continue;
        }
        if !head.platform.as_deref().is_some_and(|platform| Path::new(platform).starts_with(&home)) {
            jvms.others.extend(head.platform);
            continue;
        }
        jvms.ours += 1;
        jvms.modular |= head.modular;
        jvms.limited |= head.limited || !head.modular && head.loads_own && lacks_a_root(&head, catalogue);
        jvms.foreign_launcher |= !launched;
        if head.loads {
            jvms.logs.push(log.clone());
        }
    }
    jvms
}

/// Whether something limits modules that the log does not tell, as that of 17 does not: a program on the class path has all
/// that export a package to everybody (JEP 261, "Root modules").
fn lacks_a_root(head: &Head, catalogue: &Catalogue) -> bool {
    let launch = Launch::default();
    catalogue.modules.iter().zip(0..).any(|(module, id)| {
        starts_from(catalogue, ModuleId(id), &launch, false) && !head.resolved.contains(&*module.name)
    })
}

/// What the JVM says at its start.
#[derive(Default)]
#[allow(clippy::struct_excessive_bools, reason = "each is one thing that a log may say")]
struct Head {
    platform: Option<String>,
    /// Not told by all releases: by 25, but not by 17; nor are limits.
    main_module: Option<String>,
    limited: bool,
    /// Modules of the platform that it has resolved, where the log was asked for loads.
    resolved: BTreeSet<String>,
    /// Whether there are modules beside those of the platform.
    modular: bool,
    /// Whether it came so far that it loaded a class.
    loads: bool,
    /// Whether one of them was from a file of the program.
    loads_own: bool,
}

impl Head {
    fn read(log: &Path) -> Head {
        let mut head = Head::default();
        let Ok(file) = File::open(log) else { return head };
        let mut reader = BufReader::new(file.take(HEAD));
        let mut line = Vec::new();
        while reader.read_until(b'\n', &mut line).is_ok_and(|read| read > 0) {
            let text = String::from_utf8_lossy(&line);
            if let Some((_, platform)) = text.split_once("bootstrap loader class path=") {
                head.platform = Some(platform.trim_end().to_owned());
            } else if let Some(options) = text.strip_prefix("jvm_args: ") {
                for option in options.split_whitespace() {
                    if let Some(module) = option.strip_prefix("-Djdk.module.main=") {
                        head.main_module = Some(module.to_owned());
                    }
                    head.limited |=
                        option.starts_with("--limit-modules") || option.starts_with("-Djdk.module.limitmods");
                }
            }
            head.loads |= text.contains(" source: ");
            head.loads_own |= text.contains(" source: file:") || text.contains(" source: jar:");
            head.modular |= text.contains(" location: file:");
            head.resolved.extend(text.split_once(" location: jrt:").map(|(module, _)| module.to_owned()));
            line.clear();
        }
        head
    }
}

/// Modules of which classes were loaded, java.base aside.
pub(super) fn read(
    jvms: &Jvms,
    catalogue: &Catalogue,
    limits: &Limits,
    findings: &mut Findings,
) -> Result<BTreeMap<ModuleId, Seen>, Error> {
    let mut found: BTreeMap<ModuleId, Seen> = BTreeMap::new();
    for (id, log) in witness::read(&jvms.logs, catalogue, limits, findings)?.iter().flat_map(|log| &log.modules) {
        let seen = found.entry(*id).or_insert(Seen { only_met: true, ..Seen::default() });
        seen.loads += log.loads;
        seen.only_met &= log.only_met;
        for class in log.classes.iter().map(|class| binary_name(class.as_bytes())) {
            if seen.classes.len() < CLASSES && !seen.classes.contains(&class) {
                seen.classes.push(class);
            }
        }
    }
    Ok(found)
}

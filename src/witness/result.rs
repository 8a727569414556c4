//! The result of a trial as a witness: what a command was seen to miss.
//!
//! The first function to read is [`read`]. Such a file is a document of this program's own (`trial` in the JSON contract);
//! of it only the platform, the verdict and the modules matter here.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use serde::Deserialize;

use super::{Log, Seen};
use crate::error::Error;
use crate::platform::Catalogue;

/// The version of the JSON contract that is read here; the tests hold it against the one that is written.
const CONTRACT: u32 = 1;
/// No result comes near this.
const MAX_BYTES: u64 = 16 << 20;
/// What is shown of a module that the command fails without, or does worse without.
const NEEDED: [&str; 2] = ["missed", "degrades"];

#[derive(Deserialize)]
struct Trial {
    document: String,
    schema_version: u32,
    passed: bool,
    message: String,
    platform: Platform,
    modules: Vec<Module>,
}

#[derive(Deserialize)]
struct Platform {
    release: u16,
}

#[derive(Deserialize)]
struct Module {
    name: String,
    shown: Option<String>,
    #[serde(default)]
    loads: u64,
    #[serde(default)]
    loaded: Vec<String>,
    class: Option<String>,
}

/// The result that a file holds, as what was seen of modules; `None` for a file that is no JSON object.
///
/// # Errors
///
/// [`Error::Input`] for a file that cannot be read; [`Error::Usage`] for JSON that is no result of a trial, for one of
/// another release, and for a trial that failed, which proves nothing.
pub(super) fn read(path: &Path, catalogue: &Catalogue) -> Result<Option<Log>, Error> {
    let input = |source: io::Error| Error::Input { path: path.to_owned(), source };
    if path.is_dir() {
        return Ok(None);
    }
    let mut text = Vec::new();
    let mut file = File::open(path).map_err(input)?;
    let mut start = [0; 1];
    if file.read(&mut start).map_err(input)? == 0 || start != *b"{" {
        return Ok(None);
    }
    text.extend_from_slice(&start);
    file.take(MAX_BYTES).read_to_end(&mut text).map_err(input)?;
    let refuse = |reason: String| Error::Usage(format!("--witness {}: {reason}", path.display()));
    let trial: Trial = serde_json::from_slice(&text)
        .map_err(|error| refuse(format!("it is JSON, but no result of settle: {error}")))?;
    if trial.document != "trial" || trial.schema_version != CONTRACT {
        let found = format!("a document `{}` of contract {}", trial.document, trial.schema_version);
        return Err(refuse(format!("it is {found}, and no result of settle that this version reads")));
    }
    if !trial.passed {
        return Err(refuse(format!("the trial proves nothing: {}", trial.message)));
    }
    if trial.platform.release != catalogue.release {
        let other = trial.platform.release;
        return Err(refuse(format!("the trial ran on release {other}, this judges for release {}", catalogue.release)));
    }
    let mut log = Log { path: path.to_owned(), files: vec![path.to_owned()], ..Log::default() };
    for module in trial.modules {
        let needed = module.shown.as_deref().is_some_and(|shown| NEEDED.contains(&shown));
        log.loads += module.loads;
        if !needed {
            continue;
        }
        let Some(id) = catalogue.module(&module.name) else {
            log.unknown.insert(module.name.into(), module.loads);
            continue;
        };
        // The class that was missing tells most; a module can be missed without one, by what its files do.
        let mut classes: Vec<Box<str>> = module.class.iter().map(|class| class.replace('.', "/").into()).collect();
        for class in module.loaded.iter().map(|class| class.replace('.', "/").into()) {
            if !classes.contains(&class) {
                classes.push(class);
            }
        }
        if classes.is_empty() {
            classes.push(module.name.clone().into());
        }
        log.modules.insert(id, Seen { loads: module.loads, classes, only_met: false });
    }
    Ok(Some(log))
}

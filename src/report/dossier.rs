//! What a page needs beyond the answer of a scan: paths for every module, and what turning modules on and off rests on.
//!
//! Values only, filled by the pipeline like [`Report`]. The type to read is [`Dossier`].

use super::{Report, Standing, Witness};

pub use crate::weight::model::{self, Model};

/// A scan with all that can be looked up and tried out in it.
#[derive(Clone, Debug)]
pub struct Dossier {
    /// The answer itself.
    pub report: Report,
    /// Every module of the platform, sorted by name: what a selection may be made of.
    pub parts: Vec<Part>,
    /// Paths to each module that something asks for, sorted by name.
    pub witnesses: Vec<ModuleWitnesses>,
    /// Options of the command beside inputs, policy, `--with` and `--without`, word by word.
    pub said: Vec<String>,
    /// Options of the linker whose images can be weighed, one for each of the model's, none first.
    pub images: Vec<ImageOptionRow>,
    /// What any selection weighs by; `None` where bytes are not known.
    pub model: Option<Model>,
    /// What images of the list say, as sentences.
    pub advice: Vec<String>,
    /// For each module of a purpose that was chosen, what asks for it beside that purpose.
    pub otherwise: Vec<OtherwiseRow>,
    /// What the user asked for by `--with`, sorted.
    pub with: Vec<String>,
    /// What the user left out by `--without`, sorted.
    pub without: Vec<String>,
    /// The module that no image linked with this JDK can have, so that what requires it is kept only if asked for.
    pub not_linkable: Option<String>,
}

/// Options of the linker.
#[derive(Clone, Debug)]
pub struct ImageOptionRow {
    /// In words.
    pub label: String,
    /// What the linker takes for them.
    pub arguments: Vec<String>,
}

/// A module that a chosen purpose keeps.
#[derive(Clone, Debug)]
pub struct OtherwiseRow {
    /// `tls`.
    pub purpose: &'static str,
    /// One of its modules.
    pub module: String,
    /// What evidence beside that purpose adds up to; `None` where there is none.
    pub standing: Option<Standing>,
}

/// A module of the platform, as far as selecting is concerned.
#[derive(Clone, Debug)]
pub struct Part {
    /// `java.sql`.
    pub name: String,
    /// What evidence adds up to; `None` where there is none.
    pub standing: Option<Standing>,
    /// Why something asks for it, in at most one line; `None` where nothing does.
    pub reason: Option<String>,
    /// Modules that it requires at run time, directly, sorted.
    pub requires: Vec<String>,
    /// Whether the JVM starts resolving from it by itself once it is kept.
    pub starts: bool,
    /// Modules that provide a service which it uses, sorted: they are resolved with it.
    pub binds: Vec<String>,
    /// Whether the launch has to name it too once it is kept on its own account and nothing resolves it.
    pub name_at_launch: bool,
    /// Whether every policy keeps it though nothing is certain to need it.
    pub is_always_kept: bool,
    /// Bytes of the module itself, where known.
    pub bytes: Option<super::ModuleWeight>,
}

/// How the program comes to one module.
#[derive(Clone, Debug)]
pub struct ModuleWitnesses {
    /// The module.
    pub module: String,
    /// Strongest first, and of one standing shortest first.
    pub paths: Vec<Witness>,
    /// Paths left out.
    pub omitted: usize,
}

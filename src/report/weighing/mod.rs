//! What images weigh, ready for printing, and how pages of text and JSON show it.
//!
//! Values only, filled by the pipeline like [`super::Report`]. The type to read is [`Weighing`].

pub mod json;
pub mod text;

use super::responsibility::Responsibility;
use super::{ModuleWeight, PlatformRow, Report};

/// The answer of `weigh`.
#[derive(Clone, Debug)]
pub struct Weighing {
    /// The release that the modules are of, and why.
    pub platform: PlatformRow,
    /// The modules of the image, sorted: closed under `requires`.
    pub list: Vec<String>,
    /// Where the figures come from, as a clause.
    pub basis: String,
    /// How wide the doubt is, where the figures are another release's.
    pub doubt: Option<Doubt>,
    /// Modules of the list whose bytes are not known; then there are no images.
    pub unknown: Vec<String>,
    /// The image under some options, the plain one first.
    pub images: Vec<ImageRow>,
    /// What the figures say, as sentences.
    pub advice: Vec<String>,
    /// The module's parts of the plain image, most bytes first.
    pub parts: Vec<PartRow>,
    /// Bytes of the plain image that are no module's: frame and trees of `lib/modules`, the classes that describe the
    /// modules, the `release` file; less what several modules have in common.
    pub image_wide: i64,
    /// Commands that the image has, sorted.
    pub commands: Vec<CommandRow>,
    /// Commands of the platform that it lacks, sorted.
    pub commands_lacking: Vec<CommandRow>,
    /// What each uncertain module costs, most bytes first; of a program only.
    pub uncertain: Vec<UncertainRow>,
    /// Who brings what, where it was asked for.
    pub responsibility: Option<Responsibility>,
    /// Remarks about how the figures were got, as sentences.
    pub remarks: Vec<String>,
    /// What to mind, as sentences.
    pub cautions: Vec<String>,
    /// The scan that the list comes from, where it was not given.
    pub report: Option<Report>,
}

/// The doubt about figures of another release.
#[derive(Clone, Copy, Debug)]
pub struct Doubt {
    /// The release of the figures.
    pub taken: u16,
    /// Another release that there are figures of.
    pub other: u16,
    /// Bytes of the plain image by those; `None` where they lack a module.
    pub bytes: Option<u64>,
}

/// An image under some options.
#[derive(Clone, Debug)]
pub struct ImageRow {
    /// The options in words: `no headers, no manual pages`.
    pub label: String,
    /// What the linker takes for them.
    pub arguments: Vec<String>,
    /// Whether the user asked for these.
    pub given: bool,
    /// Bytes on disk: the lengths of all files.
    pub on_disk: u64,
    /// Of those, `lib/modules`.
    pub modules_file: u64,
    /// The rest by folder: `bin`, `conf`, …
    pub folders: Vec<(&'static str, u64)>,
    /// Startup archives, about.
    pub startup_archive: Option<u64>,
    /// As a layer compressed by gzip at level 6; `None` where not known.
    pub gzip: Option<u64>,
    /// By zstd at level 3.
    pub zstd: Option<u64>,
}

/// A module's part of an image.
#[derive(Clone, Debug)]
pub struct PartRow {
    /// The module.
    pub module: String,
    /// Its bytes by where they end up.
    pub weight: ModuleWeight,
}

/// A command and whose it is.
#[derive(Clone, Debug)]
pub struct CommandRow {
    /// `jcmd`.
    pub command: String,
    /// `jdk.jcmd`.
    pub module: String,
}

/// What keeping an uncertain module costs.
#[derive(Clone, Debug)]
pub struct UncertainRow {
    /// The module.
    pub module: String,
    /// Bytes of the plain image that would go if it alone were not kept; 0 where others require it.
    pub bytes: Option<u64>,
}

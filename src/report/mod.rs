//! The answer, as one value, and the formats that print it.
//!
//! [`Report`] holds everything that any output prints, sorted and limited; the renderers beside it compute nothing and
//! never look at the input. Foreign names in it are raw: each renderer escapes them for its own medium.

pub mod diagram;
pub mod dossier;
pub mod escape;
pub mod explain;
pub mod html;
pub mod json;
pub mod layout;
pub mod list;
pub mod listing;
pub mod markdown;
pub mod member;
mod page;
pub mod responsibility;
#[cfg(test)]
mod sample;
pub mod style;
pub mod text;
pub mod trial;
pub mod weighing;

/// The answer of a scan.
#[derive(Clone, Debug)]
pub struct Report {
    /// Version of this program.
    pub version: &'static str,
    /// What the user gave, in that order.
    pub inputs: Vec<InputRow>,
    /// What was read in all.
    pub totals: Totals,
    /// The release judged for, and why.
    pub platform: PlatformRow,
    /// Classes at which the program starts, with the reason why each was taken.
    pub entry_points: Vec<EntryPoint>,
    /// Classes that manifests name and of which it is not known whether they are started, in class path order.
    pub doubted: Vec<EntryPoint>,
    /// Every option of the launch with what it implies, in the order given.
    pub launch: Vec<LaunchRow>,
    /// What else a runtime may serve, and what each purpose adds.
    pub purposes: Vec<PurposeRow>,
    /// Lists of classes that the user gave, in the order given.
    pub listed: Vec<ListedRow>,
    /// Class-load logs that were taken in, in the order given.
    pub logs: Vec<LogRow>,
    /// The policy that turned standings into a selection: `safe`.
    pub policy: &'static str,
    /// Every module that is kept or that something asks for, sorted by name.
    pub modules: Vec<ModuleRow>,
    /// The modules for the linker: the whole selection, sorted.
    pub list: Vec<String>,
    /// Weight of the selection and of the whole platform.
    pub weight: WeightRow,
    /// Who brings what, where that was asked for.
    pub responsibility: Option<responsibility::Responsibility>,
    /// Types that are in no archive and not on the platform, by package, most references first.
    pub missing: Vec<MissingRow>,
    /// How many packages `missing` left out.
    pub missing_omitted: usize,
    /// Platform types that the program names and the release no longer has.
    pub removed: Vec<RemovedRow>,
    /// Modules of whose types the program brings copies, sorted by name.
    pub supplied: Vec<SuppliedRow>,
    /// Classes that are never loaded, by archives, most classes first.
    pub shadowed: Vec<ShadowedRow>,
    /// Look-ups by name that can run and of which the code does not show what they find, by call and archive.
    pub opaque: Vec<OpaqueRow>,
    /// Places that `opaque` left out.
    pub opaque_omitted: usize,
    /// Modules of the list that the launch has to name as well, sorted: nothing resolves them by itself.
    pub name_at_launch: Vec<String>,
    /// Findings, most severe first, then by place.
    pub findings: Vec<Finding>,
    /// Findings left out, by code.
    pub findings_omitted: Vec<(&'static str, usize)>,
    /// False where something could not be read or judged: exit status 3.
    pub complete: bool,
    /// The usual cautions that apply to this answer, as sentences.
    pub cautions: Vec<String>,
    /// How long each stage took; for `--timings` only, never part of a result.
    pub timings: Vec<(&'static str, std::time::Duration)>,
}

/// One input of the user's.
#[derive(Clone, Debug)]
pub struct InputRow {
    /// As the user wrote it.
    pub path: String,
    /// `executable jar`, `web archive`, …
    pub kind: &'static str,
    /// Archives in it or reached from it, itself included.
    pub archives: usize,
    /// Classes on the class path for the chosen release.
    pub classes: usize,
}

impl Report {
    /// Whether no class at all was read: then there is no answer, and a list of java.base alone would look like one.
    pub fn has_read_nothing(&self) -> bool {
        self.totals.classes == 0
    }
}

/// A list of classes that are looked up by name, and how many of them were found where.
#[derive(Clone, Debug)]
pub struct ListedRow {
    /// As the user wrote it.
    pub path: String,
    /// Classes of the archives.
    pub of_program: usize,
    /// Of the platform.
    pub of_platform: usize,
    /// Of neither.
    pub unknown: usize,
}

/// Classes of one archive that are never loaded, since another one has them as well and comes first.
#[derive(Clone, Debug)]
pub struct ShadowedRow {
    /// The archive, by locator.
    pub archive: String,
    /// The one that comes first.
    pub by: String,
    /// How many classes.
    pub classes: usize,
    /// Binary name of the first.
    pub example: String,
}

/// What was read in all.
#[derive(Clone, Debug, Default)]
pub struct Totals {
    /// Archives and class folders.
    pub archives: usize,
    /// Classes on the class path for the chosen release.
    pub classes: usize,
    /// Their inflated bytes.
    pub class_bytes: u64,
    /// Methods with code in them.
    pub methods: usize,
    /// Of the classes, those that can be loaded from where the program starts.
    pub classes_reached: usize,
    /// Of the methods, those that can run.
    pub methods_reached: usize,
}

/// The release judged for.
#[derive(Clone, Debug)]
pub struct PlatformRow {
    /// Feature release: 17.
    pub release: u16,
    /// `built-in catalogue` or the JDK's folder, version and vendor.
    pub source: String,
    /// Why this release: one clause, such as `the manifest of app.jar says it was built by 17`.
    pub reason: String,
    /// How many modules it has.
    pub modules: usize,
    /// What comes from a neighbouring release, as sentences.
    pub notes: Vec<String>,
}

/// Where the program starts.
#[derive(Clone, Debug)]
pub struct EntryPoint {
    /// Binary name of the class.
    pub class: String,
    /// Where it was said: `Start-Class of app.jar`.
    pub reason: String,
}

/// The kind of an input that the launch names and not the user.
pub const AGENT: &str = "agent of the launch";

/// An option of the launch.
#[derive(Clone, Debug)]
pub struct LaunchRow {
    /// As the launcher takes it: `-Xmx1g`.
    pub option: String,
    /// Who gives it: `--launch`, `JAVA_TOOL_OPTIONS in prod.env`.
    pub from: String,
    /// `needed`, `hint` (its absence is borne) or `nothing`.
    pub implies: &'static str,
    /// The modules that it asks for.
    pub modules: Vec<String>,
    /// What happens without them, as a clause.
    pub without: Option<String>,
}

/// A purpose that a runtime may serve beside its program.
#[derive(Clone, Debug)]
pub struct PurposeRow {
    /// Its name: `recording`.
    pub purpose: &'static str,
    /// What it is to people.
    pub title: &'static str,
    /// Whether the user chose it.
    pub chosen: bool,
    /// The modules that it takes; empty where java.base has it all.
    pub modules: Vec<String>,
    /// Modules that it adds to the list, closure included; of one that is chosen, those that would go without it.
    pub adds: Vec<String>,
    /// Their bytes; `None` where a module's size is not known.
    pub bytes: Option<u64>,
}

/// A class-load log of a run.
#[derive(Clone, Debug)]
pub struct LogRow {
    /// As the user wrote it.
    pub path: String,
    /// Files that were read: rotated parts, or those of a folder.
    pub files: usize,
    /// Classes that were loaded.
    pub loads: u64,
    /// Of these, those from a shared archive, of which the log names no module.
    pub shared: u64,
    /// Modules of the platform of which a class was loaded, java.base aside, sorted.
    pub modules: Vec<String>,
}

/// What the evidence adds up to for one module. Strongest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Standing {
    /// Code asks for it.
    Needed,
    /// Asked for only by name, by feature, or far behind a guard.
    Uncertain,
    /// Asked for only where the program bears its absence.
    Tolerated,
    /// Named only by code that nothing reaches.
    Dormant,
    /// Nothing asks for it; another module requires it.
    Implied,
}

impl Standing {
    /// Every standing, strongest first.
    pub const ALL: [Standing; 5] =
        [Standing::Needed, Standing::Uncertain, Standing::Tolerated, Standing::Dormant, Standing::Implied];

    /// The word shown to people and in JSON.
    pub fn tag(self) -> &'static str {
        match self {
            Standing::Needed => "needed",
            Standing::Uncertain => "uncertain",
            Standing::Tolerated => "tolerated",
            Standing::Dormant => "dormant",
            Standing::Implied => "implied",
        }
    }
}

/// One module of the answer.
#[derive(Clone, Debug)]
pub struct ModuleRow {
    /// `java.sql`.
    pub name: String,
    /// What the evidence adds up to.
    pub standing: Standing,
    /// Whether the selection keeps it.
    pub kept: bool,
    /// Whether it is a root of the selection; false where only closure keeps it.
    pub root: bool,
    /// Being in the image is not enough: it is resolved only when named at launch (incubators).
    pub name_at_launch: bool,
    /// Why, in at most one line.
    pub reason: String,
    /// Evidence, strongest first, at most a handful.
    pub evidence: Vec<EvidenceRow>,
    /// Evidence left out.
    pub evidence_omitted: usize,
    /// Modules of the selection that require it, directly, sorted.
    pub required_by: Vec<String>,
    /// Modules that it requires, directly, sorted.
    pub requires: Vec<String>,
    /// Bytes of the module itself by place, where known.
    pub weight: Option<ModuleWeight>,
    /// Bytes that would go if this module alone went, with what only it brings; 0 for a module that others require.
    pub sole_bytes: Option<u64>,
}

/// One reason why a module is asked for.
#[derive(Clone, Debug)]
pub struct EvidenceRow {
    /// How it was found: `superclass`, `static-call`, `service-file`.
    pub kind: &'static str,
    /// What it adds to the module's standing; never [`Standing::Implied`].
    pub standing: Standing,
    /// The same for people: `calls a static method of`.
    pub phrase: String,
    /// When its absence would hurt: `load`, `link`, `run`, `introspect`; `name` for evidence by name only.
    pub stage: &'static str,
    /// Binary name of the platform type, or the service.
    pub target: String,
    /// The archive, by locator; empty for the launch.
    pub archive: String,
    /// The file, class (binary name) or entry that asks.
    pub asker: String,
    /// Method or field with descriptor, where one asks: `open(Ljava/lang/String;)V`, `count:I`.
    pub member: Option<String>,
    /// The same kind of evidence in further places of the same archive.
    pub also: usize,
}

/// Bytes of a module on disk.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ModuleWeight {
    /// Classes and resources within the run-time image file.
    pub classes: u64,
    /// Native libraries and data files.
    pub lib: u64,
    /// Everything else: commands, configuration, headers, manual pages, legal notices.
    pub other: u64,
}

impl ModuleWeight {
    /// All bytes.
    pub fn total(&self) -> u64 {
        self.classes + self.lib + self.other
    }
}

/// Weight of the selection.
#[derive(Clone, Debug)]
pub struct WeightRow {
    /// Bytes of the selection; `None` where a module's size is not known.
    pub selection: Option<u64>,
    /// Bytes of all modules of the platform.
    pub platform: Option<u64>,
    /// Modules of the selection whose size is not known.
    pub unknown: Vec<String>,
    /// What the figures were taken from: `17.0.15`, measured, or of a neighbouring release.
    pub basis: String,
}

/// Types of one package that are nowhere.
#[derive(Clone, Debug)]
pub struct MissingRow {
    /// Package, dotted.
    pub package: String,
    /// How many of its types are named.
    pub types: usize,
    /// One of them, binary name.
    pub example: String,
    /// A class that names it.
    pub asker: String,
}

/// A platform type that the release no longer has.
#[derive(Clone, Debug)]
pub struct RemovedRow {
    /// Binary name.
    pub class: String,
    /// The module that held it.
    pub module: String,
    /// The first release without it.
    pub removed_in: u16,
    /// A class that names it.
    pub asker: String,
    /// How many classes name it.
    pub askers: usize,
}

/// A module of whose types the program brings copies.
#[derive(Clone, Debug)]
pub struct SuppliedRow {
    /// The module.
    pub module: String,
    /// How many of its types the program brings and names.
    pub types: usize,
    /// Whether the module is kept: its copies win then.
    pub kept: bool,
}

/// Look-ups by name of which the code does not show what they find.
#[derive(Clone, Debug)]
pub struct OpaqueRow {
    /// What they are for: `loads-by-name`.
    pub purpose: &'static str,
    /// The method called: `java.lang.Class.forName`.
    pub call: String,
    /// The first class that calls it, binary name.
    pub class: String,
    /// Its method, with descriptor.
    pub member: String,
    /// The archive.
    pub archive: String,
    /// Calls in that archive, this one included.
    pub places: usize,
}

/// A finding, ready for printing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// `note`, `warning`, `incomplete`.
    pub severity: &'static str,
    /// `damaged-entry`.
    pub code: &'static str,
    /// Where.
    pub place: String,
    /// One sentence.
    pub message: String,
}

/// The answer of `explain MODULE`.
#[derive(Clone, Debug)]
pub struct Explanation {
    /// The scan it rests on.
    pub report: Report,
    /// The module asked about.
    pub module: String,
    /// Its row, or `None` where nothing asks for it and nothing requires it.
    pub row: Option<ModuleRow>,
    /// Witness paths by standing, strongest first, and within one shortest first.
    pub witnesses: Vec<Witness>,
    /// Witnesses left out.
    pub witnesses_omitted: usize,
    /// Chains of modules by which closure keeps it: each from a root to the module.
    pub chains: Vec<Vec<String>>,
    /// What else its presence brings: modules that only it requires.
    pub brings: Vec<String>,
    /// What would have to change for it to go, as a sentence.
    pub to_go: String,
}

/// One path from the program to a platform type.
#[derive(Clone, Debug)]
pub struct Witness {
    /// From the entry point to the reference; each step names who, in which stage.
    pub steps: Vec<Step>,
    /// The last reference.
    pub evidence: EvidenceRow,
}

/// One step of a witness path.
#[derive(Clone, Debug)]
pub struct Step {
    /// Class or class.member, binary name.
    pub who: String,
    /// The archive; empty for what is in none.
    pub archive: String,
    /// How the next one is reached: `calls`, `instantiates`, `extends`, …
    pub how: String,
    /// When a missing class would be felt there: as in [`EvidenceRow`].
    pub stage: &'static str,
}

/// The answer of `platform`: one catalogue.
#[derive(Clone, Debug)]
pub struct PlatformListing {
    /// The release.
    pub platform: PlatformRow,
    /// All modules, sorted by name.
    pub modules: Vec<PlatformModuleRow>,
    /// What the figures were taken from.
    pub basis: String,
}

/// One module of a catalogue.
#[derive(Clone, Debug)]
pub struct PlatformModuleRow {
    /// `java.sql`.
    pub name: String,
    /// Modules required, with `transitive` and `static` said in words.
    pub requires: Vec<String>,
    /// Packages in all, and how many are exported without qualification.
    pub packages: usize,
    /// Packages exported without qualification, dotted.
    pub exports: Vec<String>,
    /// Services used, dotted.
    pub uses: Vec<String>,
    /// Services provided, dotted.
    pub provides: Vec<String>,
    /// Bytes by place, where known.
    pub weight: Option<ModuleWeight>,
    /// Bytes with everything that it requires, where known.
    pub closed_bytes: Option<u64>,
    /// Incubator and the like: resolved only when named at launch.
    pub not_by_default: bool,
    /// The release whose facts stand in, where it is not the catalogue's own.
    pub from_release: Option<u16>,
}

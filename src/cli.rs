//! The command line: types only, no input, no output, no logic beyond turning arguments into a [`Plan`].

use std::ffi::OsString;
use std::path::PathBuf;
use std::time::Duration;

use clap::builder::{PossibleValue, PossibleValuesParser};
use clap::{Args, Parser, Subcommand, ValueEnum};
use secateur::error::Error;
use secateur::needs::{self, Launch};
use secateur::plan::{Plan, TrialPlan};
use secateur::report::style::Colour as Wanted;
use secateur::verdict;

/// Examples, then the exit statuses.
macro_rules! concat_examples {
    ($($line:literal),+) => {
        concat!("Examples:\n", $($line, "\n",)+ "\n",
"Exit statuses:
   0  fine
   1  the trial failed (settle): no list was seen to pass, and the answer says why
   2  wrong usage or configuration
   3  part of the input could not be read or judged; the result is printed all the same, and says so
   4  input or output failed
  70  a fault of secateur itself; please report it")
    };
}

/// Finds the platform modules that a JVM program needs, says why, and weighs the run-time image.
#[derive(Parser)]
#[command(name = "secateur", version, max_term_width = 100, disable_help_subcommand = true)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub verb: Verb,
}

/// What to do.
#[derive(Subcommand)]
pub enum Verb {
    /// Find the modules to keep, with their standing, the reasons and their weight
    ///
    /// Reads jars, executable jars with nested jars, web and enterprise archives, class folders and folders of jars as
    /// one program in class path order, and finds every platform module that it asks for.
    #[command(after_help = concat_examples!(
        "  secateur scan harbour.jar",
        "  secateur scan --jdk \"$JAVA_HOME\" --format list harbour.jar",
        "  secateur scan --release 21 --format json --out modules.json classes/ lib/",
        "  secateur scan --format html --out report.html harbour.jar",
        "  secateur scan --by-archive harbour.jar",
        "  jlink --add-modules \"$(secateur scan harbour.jar --format list)\" --output runtime"
    ))]
    Scan(ScanArgs),
    /// Say why a module has its standing: who asks for it, by archive, class and member
    #[command(after_help = concat_examples!(
        "  secateur explain java.desktop harbour.jar",
        "  secateur explain java.desktop --format svg --out why.svg harbour.jar",
        "  secateur explain java.desktop --jdk \"$JAVA_HOME\" --format json harbour.jar"
    ))]
    Explain(ExplainArgs),
    /// Weigh images before they are built: on disk and to pull, by option of the linker, module and archive
    ///
    /// Takes what a scan of the program selects, or the modules that --modules names with all that they require.
    #[command(after_help = concat_examples!(
        "  secateur weigh harbour.jar",
        "  secateur weigh --link \"--strip-debug --no-man-pages\" harbour.jar",
        "  secateur weigh --modules java.sql,java.naming --release 21",
        "  secateur weigh --modules java.se --without java.desktop --jdk \"$JAVA_HOME\" --format json"
    ))]
    Weigh(WeighArgs),
    /// Let the JVM show which modules in doubt your own command misses
    ///
    /// Runs COMMAND, whatever starts the JVM inside it: on the whole JDK, watching which modules it loads; with the list
    /// that scan gives; without each module in doubt; and at the end on a linked image. What it prints is quoted where it
    /// fails. The command gets the JDK first on PATH and in JAVA_HOME, and options of the JVM by JDK_JAVA_OPTIONS, behind
    /// those that are there already. It must end by itself, with exit status 0 where all is well.
    #[command(after_help = concat_examples!(
        "  secateur settle harbour.jar --jdk \"$JAVA_HOME\" -- java -jar harbour.jar --self-check",
        "  secateur settle app.jar --jdk \"$JAVA_HOME\" --repeat 3 --timeout 120 -- ./smoke.sh 'two words'",
        "  secateur settle app.jar --jdk \"$JAVA_HOME\" --format json --out trial.json -- ./smoke.sh",
        "  jlink --add-modules \"$(secateur settle app.jar --jdk \"$JAVA_HOME\" --format list -- ./smoke.sh)\" --output runtime"
    ))]
    Settle(SettleArgs),
    /// List what a JDK or a built-in catalogue holds
    #[command(after_help = concat_examples!(
        "  secateur platform --jdk \"$JAVA_HOME\"",
        "  secateur platform --release 21 --format json"
    ))]
    Platform(PlatformArgs),
    /// Print the JSON Schema of all JSON output
    Schema {
        /// Write the schema to a file instead of standard output
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
    /// Print a completion script for a shell
    #[command(after_help = concat_examples!("  secateur completions bash > /etc/bash_completion.d/secateur"))]
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
    /// Print the manual page
    #[command(after_help = concat_examples!("  secateur manual > secateur.1"))]
    Manual,
}

/// Arguments of `scan`.
#[derive(Args)]
pub struct ScanArgs {
    #[command(flatten)]
    pub program: ProgramArgs,
    #[command(flatten)]
    pub platform: PlatformChoice,
    #[command(flatten)]
    pub selection: SelectionArgs,
    /// Say which archive brings what, and what each uncertain module costs: what would go if it went
    ///
    /// The program is judged anew without each archive, which takes as long for each as the first time, reading apart.
    /// Text, JSON and the page show it.
    #[arg(long)]
    pub by_archive: bool,
    /// How to print the answer: `list` is one comma-separated line for the linker
    #[arg(long, value_enum, default_value_t)]
    pub format: ScanFormat,
    #[command(flatten)]
    pub output: OutputArgs,
}

/// Arguments of `explain`.
#[derive(Args)]
pub struct ExplainArgs {
    /// The module, such as java.desktop
    pub module: String,
    #[command(flatten)]
    pub program: ProgramArgs,
    #[command(flatten)]
    pub platform: PlatformChoice,
    #[command(flatten)]
    pub selection: SelectionArgs,
    /// How to print the answer
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
    #[command(flatten)]
    pub output: OutputArgs,
}

/// Arguments of `weigh`.
#[derive(Args)]
pub struct WeighArgs {
    /// Archives, class folders or folders of jars, in class path order
    #[arg(required_unless_present = "modules", value_name = "INPUT")]
    pub inputs: Vec<PathBuf>,
    #[command(flatten)]
    pub start: StartArgs,
    #[command(flatten)]
    pub platform: PlatformChoice,
    #[command(flatten)]
    pub selection: SelectionArgs,
    /// Weigh these modules, with all that they require, in place of a program's
    #[arg(long, value_name = "MODULES", value_delimiter = ',', conflicts_with_all = ["inputs", "entries", "launch", "policy"])]
    pub modules: Vec<String>,
    /// The options that you give the linker, as one text: their image is weighed too
    #[arg(long, value_name = "OPTIONS", allow_hyphen_values = true)]
    pub link: Option<String>,
    /// Say which archive brings what as well: judges the program anew without each archive
    #[arg(long, conflicts_with = "modules")]
    pub by_archive: bool,
    /// How to print the answer
    #[arg(long, value_enum, default_value_t)]
    pub format: PlainFormat,
    #[command(flatten)]
    pub output: OutputArgs,
}

/// Arguments of `settle`.
#[derive(Args)]
pub struct SettleArgs {
    #[command(flatten)]
    pub program: ProgramArgs,
    /// The JDK to run the command on and to link images with
    #[arg(long, value_name = "DIR")]
    pub jdk: PathBuf,
    #[command(flatten)]
    pub selection: SelectionArgs,
    /// Run each trial so often; runs that disagree prove nothing
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..=100))]
    pub repeat: u16,
    /// Seconds that one run of the command may take; with modules withheld less, where the whole JDK needs less
    #[arg(long, value_name = "SECONDS", default_value_t = 600, value_parser = clap::value_parser!(u32).range(1..=86_400))]
    pub timeout: u32,
    /// What the command has to print on standard output: what differs degrades
    #[arg(long, value_name = "FILE")]
    pub expect: Option<PathBuf>,
    /// Leave out also what reading calls needed and the command does not miss: it runs all that matters
    #[arg(long)]
    pub trust_command: bool,
    /// How to print the answer: `list` is the recommended list, as one comma-separated line
    #[arg(long, value_enum, default_value_t)]
    pub format: PlatformFormat,
    #[command(flatten)]
    pub output: OutputArgs,
    /// The command and its words, behind `--`
    #[arg(last = true, required = true, value_name = "COMMAND")]
    pub command: Vec<OsString>,
}

impl SettleArgs {
    /// What is to be tried.
    pub fn trial(&self) -> TrialPlan {
        TrialPlan {
            command: self.command.clone(),
            repeat: self.repeat,
            timeout: Duration::from_secs(self.timeout.into()),
            expect: self.expect.clone(),
            trust_command: self.trust_command,
        }
    }
}

/// Arguments of `platform`.
#[derive(Args)]
pub struct PlatformArgs {
    #[command(flatten)]
    pub platform: PlatformChoice,
    /// How to print the answer: `list` is all modules, comma-separated
    #[arg(long, value_enum, default_value_t)]
    pub format: PlatformFormat,
    #[command(flatten)]
    pub output: OutputArgs,
}

/// What the program is.
#[derive(Args)]
pub struct ProgramArgs {
    /// Archives, class folders or folders of jars, in class path order
    #[arg(required = true, value_name = "INPUT")]
    pub inputs: Vec<PathBuf>,
    #[command(flatten)]
    pub start: StartArgs,
}

/// How the program starts, and what is known of its runs.
#[derive(Args)]
pub struct StartArgs {
    /// A class to start from, in place of those that manifests name; may be repeated
    #[arg(long = "entry", value_name = "CLASS")]
    pub entries: Vec<String>,
    /// A list of classes that code looks up by names which it does not show: one a line, `#` begins a comment; may be
    /// repeated
    ///
    /// Classes of the archives may be created and called in every way; modules of the platform's classes are needed.
    #[arg(long, value_name = "FILE")]
    pub names: Vec<PathBuf>,
    /// The options of the JVM with which the program is launched, as one text; `@FILE` reads them from a file
    #[arg(long, value_name = "OPTIONS", allow_hyphen_values = true)]
    pub launch: Option<String>,
    /// A file that says how the program is launched: NAME=VALUE lines, or what builds a container; may be repeated
    ///
    /// Options are taken from JAVA_TOOL_OPTIONS, JDK_JAVA_OPTIONS, and what is named like JAVA_OPTS; of a container build
    /// file also from ENTRYPOINT and CMD of its last stage. LANG and LC_ALL count as well.
    #[arg(long, value_name = "FILE")]
    pub launch_from: Vec<PathBuf>,
    /// A class-load log of the program, as `-Xshare:off -Xlog:class+load:file=FILE` writes it; may be repeated
    ///
    /// Modules of which it shows a class that was loaded are needed. Rotated parts beside it (FILE.0, FILE.1) are read with
    /// it, gzip is unpacked, and a folder stands for all files in it. The JSON result of `settle` is taken too: modules that
    /// the command was seen to miss are needed.
    #[arg(long, value_name = "FILE")]
    pub witness: Vec<PathBuf>,
}

/// What to judge for.
#[derive(Args)]
pub struct PlatformChoice {
    /// Judge for this JDK: its jmods, or else its run-time image
    #[arg(long, value_name = "DIR")]
    pub jdk: Option<PathBuf>,
    /// Judge for the built-in catalogue of this release, 9 to 25
    ///
    /// Without --jdk and --release it is the release that built the archive where the manifest says so, else the oldest
    /// long-term release from 17 on that runs its class files.
    #[arg(long, value_name = "N")]
    pub release: Option<u16>,
}

/// What to keep.
#[derive(Args)]
pub struct SelectionArgs {
    /// How much doubt to keep: needed modules only, uncertain ones too, or all that anything names
    #[arg(long, value_enum, default_value_t)]
    pub policy: Policy,
    /// Keep this module whatever the evidence; may be repeated
    #[arg(long = "with", value_name = "MODULE", value_delimiter = ',')]
    pub with: Vec<String>,
    /// What else the runtime is to serve: keeps the modules that this takes; may be repeated
    #[arg(long = "purpose", value_name = "NAME", value_delimiter = ',', value_parser = purposes())]
    pub purposes: Vec<String>,
    /// Leave this module out whatever the evidence; may be repeated
    #[arg(long = "without", value_name = "MODULE", value_delimiter = ',')]
    pub without: Vec<String>,
}

/// Where the answer goes and how it looks.
#[derive(Args)]
pub struct OutputArgs {
    /// Write the answer to a file instead of standard output
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// When to use colour
    #[arg(long, alias = "color", value_enum, default_value_t, value_name = "WHEN")]
    pub colour: Colour,
    /// Columns of text output; without it those of the terminal (60 to 120), or 100
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(40..=1000))]
    pub width: Option<u16>,
    /// No progress on standard error
    #[arg(long, short)]
    pub quiet: bool,
    /// Threads to work on; without it one for each processor
    // Far above any machine's gain: starting tens of thousands takes minutes and looks like a hang.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub threads: Option<u16>,
    /// Print to standard error how long each stage took
    #[arg(long)]
    pub timings: bool,
}

/// Formats of `scan`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum ScanFormat {
    /// For people
    #[default]
    Text,
    /// The modules, comma-separated, on one line
    List,
    /// For programs; `secateur schema` prints its schema
    Json,
    /// One page to look at, with switches, that loads nothing
    Html,
    /// A summary for a pull request
    Markdown,
    /// The graph of the modules for Graphviz
    Dot,
    /// The graph of the modules for pages that draw Mermaid
    Mermaid,
    /// The graph of the modules as a picture
    Svg,
}

/// Formats of `platform` and `settle`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum PlatformFormat {
    /// For people
    #[default]
    Text,
    /// The modules, comma-separated, on one line
    List,
    /// For programs; `secateur schema` prints its schema
    Json,
}

/// Formats of answers that are tables.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum PlainFormat {
    /// For people
    #[default]
    Text,
    /// For programs; `secateur schema` prints its schema
    Json,
}

/// Formats of `explain`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people
    #[default]
    Text,
    /// For programs; `secateur schema` prints its schema
    Json,
    /// The strongest path for Graphviz
    Dot,
    /// The strongest path for pages that draw Mermaid
    Mermaid,
    /// The strongest path as a picture
    Svg,
}

/// See [`verdict::Policy`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Policy {
    /// Needed modules, and uncertain ones that weigh little
    Lean,
    /// Needed and uncertain modules
    #[default]
    Safe,
    /// All modules that anything names
    Whole,
}

impl From<Policy> for verdict::Policy {
    fn from(policy: Policy) -> Self {
        match policy {
            Policy::Lean => verdict::Policy::Lean,
            Policy::Safe => verdict::Policy::Safe,
            Policy::Whole => verdict::Policy::Whole,
        }
    }
}

/// The names of purposes, with what they are.
fn purposes() -> PossibleValuesParser {
    let value = |purpose: &'static needs::Purpose| PossibleValue::new(&*purpose.id).help(&*purpose.title);
    needs::purposes().iter().map(value).collect::<Vec<_>>().into()
}

/// When to use colour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Colour {
    /// On a terminal, unless `NO_COLOR` is set or the terminal is dumb
    #[default]
    Auto,
    /// Whatever the output is
    Always,
    /// Not at all
    Never,
}

impl From<Colour> for Wanted {
    fn from(colour: Colour) -> Self {
        match colour {
            Colour::Auto => Wanted::Auto,
            Colour::Always => Wanted::Always,
            Colour::Never => Wanted::Never,
        }
    }
}

/// The plan that arguments add up to.
///
/// Options of the launch may stand in a file, which is read here; its errors are those of [`Launch::parse`].
pub fn plan(program: ProgramArgs, platform: PlatformChoice, selection: SelectionArgs) -> Result<Plan, Error> {
    let ProgramArgs { inputs, start } = program;
    let mut launch = Launch::default();
    for file in &start.launch_from {
        launch.merge(Launch::of_file(file)?);
    }
    launch.merge(start.launch.as_deref().map(Launch::parse).transpose()?.unwrap_or_default());
    let mut said: Vec<String> = Vec::new();
    let mut say = |option: &str, value: String| said.extend([option.to_owned(), value]);
    if let Some(jdk) = &platform.jdk {
        say("--jdk", jdk.to_string_lossy().into_owned());
    }
    if let Some(release) = platform.release {
        say("--release", release.to_string());
    }
    start.entries.iter().for_each(|entry| say("--entry", entry.clone()));
    start.names.iter().for_each(|file| say("--names", file.to_string_lossy().into_owned()));
    start.launch.iter().for_each(|launch| say("--launch", launch.clone()));
    start.launch_from.iter().for_each(|file| say("--launch-from", file.to_string_lossy().into_owned()));
    selection.purposes.iter().for_each(|purpose| say("--purpose", purpose.clone()));
    start.witness.iter().for_each(|log| say("--witness", log.to_string_lossy().into_owned()));
    Ok(Plan {
        inputs,
        entries: start.entries,
        names: start.names,
        jdk: platform.jdk,
        release: platform.release,
        policy: selection.policy.into(),
        with: selection.with,
        without: selection.without,
        launch,
        purposes: selection.purposes,
        witness: start.witness,
        said,
        ..Plan::default()
    })
}

//! Findings about the input that are not the answer itself: damaged entries, shadowed classes, missing files.
//!
//! A finding never aborts a run. Each has a stable kebab-case [`Code`], documented in `DEVELOPERS.md` under a heading
//! of the same name; whoever adds a code adds the heading and a test case (`tests/diagnostics.rs` counts them).

use std::collections::BTreeMap;

use crate::names::Locator;

/// How much a finding matters to the answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Worth knowing; the answer is whole.
    Note,
    /// The answer is whole, but something in the input will probably surprise its owner.
    Warning,
    /// Something could not be read or judged: the answer may lack modules. Exit status 3.
    Incomplete,
}

impl Severity {
    /// The word shown to people and in JSON.
    pub fn tag(self) -> &'static str {
        match self {
            Severity::Note => "note",
            Severity::Warning => "warning",
            Severity::Incomplete => "incomplete",
        }
    }
}

macro_rules! codes {
    ($( $(#[doc = $doc:literal])+ $variant:ident = $tag:literal, $severity:ident; )+) => {
        /// What kind of finding it is.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Code { $( $(#[doc = $doc])+ $variant, )+ }

        impl Code {
            /// Every code, in the order of declaration.
            pub const ALL: &'static [Code] = &[ $( Code::$variant, )+ ];

            /// The stable name, as shown and as used in JSON.
            pub fn tag(self) -> &'static str { match self { $( Code::$variant => $tag, )+ } }

            /// How much a finding of this kind matters.
            pub fn severity(self) -> Severity { match self { $( Code::$variant => Severity::$severity, )+ } }

            /// One sentence for people.
            pub fn description(self) -> &'static str { match self { $( Code::$variant => concat!($($doc),+), )+ } }
        }
    };
}

codes! {
    /// A file or folder cannot be opened or read.
    UnreadableInput = "unreadable-input", Incomplete;
    /// An archive's directory cannot be read; nothing of the archive is known.
    DamagedArchive = "damaged-archive", Incomplete;
    /// An entry cannot be inflated, or its bytes do not have the size or checksum that the directory states.
    DamagedEntry = "damaged-entry", Incomplete;
    /// An entry is encrypted or compressed by a method that the JVM does not read either.
    UnsupportedEntry = "unsupported-entry", Incomplete;
    /// Two entries of an archive share bytes, which no honest tool writes.
    OverlappingEntries = "overlapping-entries", Incomplete;
    /// A limit was met; the message names it.
    LimitReached = "limit-reached", Incomplete;
    /// An archive holds two entries of one name; the JVM sees the last.
    DuplicateEntry = "duplicate-entry", Warning;
    /// A manifest names a file on its Class-Path that does not exist; the JVM skips it in silence.
    MissingClassPathEntry = "missing-class-path-entry", Note;
    /// A manifest names something on its Class-Path that is no local file.
    IgnoredClassPathEntry = "ignored-class-path-entry", Note;
    /// A manifest breaks the JAR File Specification.
    BadManifest = "bad-manifest", Warning;
    /// A class path index names an archive that is not there, or cannot be read.
    BadClassPathIndex = "bad-class-path-index", Warning;
    /// The descriptor of an enterprise archive cannot be read, or lists a module that is not there.
    BadApplicationDescriptor = "bad-application-descriptor", Warning;
    /// An archive holds archives that no known layout loads; they are left unopened.
    UnopenedArchive = "unopened-archive", Note;
    /// A service file has a line that `ServiceLoader` refuses.
    BadServiceFile = "bad-service-file", Warning;
    /// A file that registers or configures classes breaks its format; words in it that name classes still count.
    BadDescriptor = "bad-descriptor", Warning;
    /// A manifest names a class to start that the program does not have.
    MissingEntryPoint = "missing-entry-point", Warning;
    /// A module descriptor cannot be read.
    BadModuleDescriptor = "bad-module-descriptor", Warning;
    /// A class is on the class path more than once; the first wins.
    ShadowedClass = "shadowed-class", Note;
    /// A class file breaks the class file format; what was read before the break is kept.
    DamagedClass = "damaged-class", Incomplete;
    /// A class file stands at a path that is not its name; the JVM would not find it.
    MisplacedClass = "misplaced-class", Note;
    /// A class file needs a newer release than the chosen one.
    ClassTooNew = "class-too-new", Incomplete;
    /// The same of a class that only code for newer releases loads, as far as the code shows.
    NewerClass = "newer-class", Note;
    /// A class file uses preview features: it runs on one release only, with `--enable-preview`.
    PreviewClass = "preview-class", Warning;
    /// The input holds no class file that the chosen release would load.
    NoClasses = "no-classes", Incomplete;
    /// The launch names an agent whose archive is not there.
    MissingAgent = "missing-agent", Incomplete;
    /// A file that says how the program is launched leaves something open.
    UnclearLaunch = "unclear-launch", Warning;
    /// Manifests of several archives name a class to start, and nothing says which of them is the program.
    UnclearStart = "unclear-start", Warning;
    /// A list of classes names one that neither the program nor the platform has.
    UnknownName = "unknown-name", Warning;
    /// A class-load log breaks off or is damaged; what stands before counts.
    BrokenLog = "broken-log", Incomplete;
    /// A class-load log was taken with a shared archive, so that most of its lines name no module.
    SharedArchiveLog = "shared-archive-log", Note;
    /// A class-load log names modules that the release does not have.
    UnknownModuleInLog = "unknown-module-in-log", Note;
    /// A fault of this program, contained to one class or entry; please report it.
    InternalError = "internal-error", Incomplete;
}

/// One finding: what, where, and in words.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Diagnostic {
    /// The kind.
    pub code: Code,
    /// The archive, entry or class it is about.
    pub place: Locator,
    /// One sentence: what was found and why it matters. Foreign names in it are not yet escaped.
    pub message: String,
}

impl Diagnostic {
    /// A finding of kind `code` at `place`.
    pub fn new(code: Code, place: Locator, message: impl Into<String>) -> Self {
        Diagnostic { code, place, message: message.into() }
    }
}

/// Collects findings and keeps a bounded number of each kind: a class path may shadow ten thousand classes, and
/// nobody reads more than a screenful. What is left out is counted.
#[derive(Clone, Debug)]
pub struct Findings {
    kept: Vec<Diagnostic>,
    counts: BTreeMap<Code, usize>,
    per_code: usize,
}

impl Findings {
    /// An empty collection that keeps `per_code` findings of each code.
    pub fn new(per_code: usize) -> Self {
        Findings { kept: Vec::new(), counts: BTreeMap::new(), per_code }
    }

    /// Adds a finding; its text is made only where it is kept.
    pub fn add(&mut self, code: Code, finding: impl FnOnce() -> Diagnostic) {
        let count = self.counts.entry(code).or_default();
        *count += 1;
        if *count <= self.per_code {
            self.kept.push(finding());
        }
    }

    /// Adds findings that exist already.
    pub fn extend(&mut self, findings: impl IntoIterator<Item = Diagnostic>) {
        for finding in findings {
            self.add(finding.code, || finding);
        }
    }

    /// Whether anything was found that leaves the answer incomplete.
    pub fn incomplete(&self) -> bool {
        self.counts.keys().any(|code| code.severity() == Severity::Incomplete)
    }

    /// What was kept: most severe first, then by code and place.
    pub fn sorted(&self) -> Vec<&Diagnostic> {
        let mut all: Vec<&Diagnostic> = self.kept.iter().collect();
        all.sort_by_key(|finding| (std::cmp::Reverse(finding.code.severity()), *finding));
        all
    }

    /// How many findings of each code were left out; codes with none are absent.
    pub fn omitted(&self) -> Vec<(Code, usize)> {
        self.counts
            .iter()
            .filter(|&(_, &count)| count > self.per_code)
            .map(|(&code, &count)| (code, count - self.per_code))
            .collect()
    }
}

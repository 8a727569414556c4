//! The table of micro-cases: what the comment at the head of each Java source says of it.
//!
//! A case is one file `testdata/micro/<group>/<Case>.java`, whose types all bear names that begin with `<Case>`; a
//! folder of the same name beside it holds further files of its class path. [`all`] reads them.

use std::fs;
use std::path::{Path, PathBuf};

/// What happens to a program when the module is taken away.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Effect {
    /// It ends with an error.
    Breaks,
    /// It ends well, but says something else than before, and nothing in it was prepared for that.
    Degrades,
    /// It notices, says so in a line that begins with `without: `, and ends well.
    Guarded,
    /// Nothing changes.
    Fine,
}

impl Effect {
    const ALL: [Effect; 4] = [Effect::Breaks, Effect::Degrades, Effect::Guarded, Effect::Fine];

    /// The word in the table.
    pub fn tag(self) -> &'static str {
        match self {
            Effect::Breaks => "breaks",
            Effect::Degrades => "degrades",
            Effect::Guarded => "guarded",
            Effect::Fine => "fine",
        }
    }

    /// The effect of that tag.
    pub fn of(tag: &str) -> Option<Effect> {
        Effect::ALL.into_iter().find(|effect| effect.tag() == tag)
    }
}

/// On what the JVM runs a case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Judge {
    /// On the whole JDK with `--limit-modules`, which class-path programs cannot tell from a linked image.
    Limit,
    /// On a linked image: launch options look for files of the image itself.
    Image,
}

/// Where the ask for a module can be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Told {
    /// In the archive.
    InArchive,
    /// In the launch options only.
    AtLaunch,
    /// Nowhere: no static look can know the name, so that the answer has to own up to it.
    Nowhere,
}

/// One case.
#[derive(Clone, Debug)]
pub struct Case {
    /// `link/Catch`.
    pub id: String,
    /// The Java package, which is the folder.
    pub group: String,
    /// The simple name of the main class.
    pub name: String,
    /// One sentence.
    pub title: String,
    /// Where the rule is published.
    pub source: String,
    /// The module that is taken away.
    pub module: String,
    /// Modules that stay, besides java.base.
    pub also: Vec<String>,
    /// What the table says will happen, for each release that the case runs on.
    pub effects: Vec<(u16, Effect)>,
    /// The category of the published suite (Reif et al., ISSTA 2019) it goes with, else its group.
    pub category: String,
    /// Options of the JVM, in both runs.
    pub options: Vec<String>,
    /// Arguments of the program.
    pub arguments: Vec<String>,
    /// The release whose compiler makes it.
    pub compiler: u16,
    /// The class file version put into its classes in place of the compiler's.
    pub version: Option<u16>,
    /// Nested types that go into `lib.jar` instead of the class folder.
    pub library: Vec<String>,
    /// Whether `lib.jar` stands on the class path; else the program has to find it.
    pub library_on_path: bool,
    /// Whether the class folder is packed into `app.jar`, with the manifest among its files.
    pub packed: bool,
    /// Where the program's ask for the module can be read.
    pub told: Told,
    /// On what it runs.
    pub judge: Judge,
    /// Its Java source.
    pub java: PathBuf,
}

impl Case {
    /// The folder with further files, where the case has one.
    pub fn files(&self) -> Option<PathBuf> {
        Some(self.java.with_extension("")).filter(|folder| folder.is_dir())
    }

    /// The main class, binary name.
    pub fn main_class(&self) -> String {
        format!("{}.{}", self.group, self.name)
    }

    /// What the table says of that release.
    pub fn effect(&self, release: u16) -> Option<Effect> {
        self.effects.iter().find(|(of, _)| *of == release).map(|(_, effect)| *effect)
    }
}

/// The folder of the suite.
pub fn home() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/micro")
}

/// Every case, by id.
pub fn all() -> Vec<Case> {
    let mut cases = Vec::new();
    for group in folder(&home()).into_iter().filter(|path| path.is_dir()) {
        for java in folder(&group) {
            if java.extension().is_some_and(|end| end == "java") {
                let text = fs::read_to_string(&java).unwrap();
                cases.push(parse(&java, &text).unwrap_or_else(|why| panic!("{}: {why}", java.display())));
            }
        }
    }
    cases
}

/// The entries of a folder, sorted.
pub fn folder(path: &Path) -> Vec<PathBuf> {
    let list = fs::read_dir(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let mut found: Vec<PathBuf> = list.map(|entry| entry.unwrap().path()).collect();
    found.sort();
    found
}

fn parse(java: &Path, text: &str) -> Result<Case, String> {
    let part = |path: Option<&Path>| path.and_then(Path::file_stem).unwrap_or_default().to_string_lossy().into_owned();
    let (group, name) = (part(java.parent()), part(Some(java)));
    let comment = text.split_once("/*").and_then(|(_, rest)| rest.split_once("*/")).map(|(comment, _)| comment);
    let comment = comment.ok_or("no comment at its head")?;
    let mut case = Case {
        id: format!("{group}/{name}"),
        category: group.clone(),
        group,
        name,
        title: String::new(),
        source: String::new(),
        module: String::from("java.sql"),
        also: Vec::new(),
        effects: Vec::new(),
        options: Vec::new(),
        arguments: Vec::new(),
        compiler: 17,
        version: None,
        library: Vec::new(),
        library_on_path: true,
        packed: false,
        told: Told::InArchive,
        judge: Judge::Limit,
        java: java.to_path_buf(),
    };
    let mut effect = "";
    for line in comment.lines().map(|line| line.trim().trim_start_matches('*').trim()) {
        let words = |value: &str| value.split_whitespace().map(String::from).collect::<Vec<_>>();
        match line.split_once(": ").map(|(key, value)| (key, value.trim())) {
            Some(("source", value)) => case.source = value.into(),
            Some(("module", value)) => case.module = value.into(),
            Some(("also", value)) => case.also = words(value),
            Some(("effect", value)) => effect = value,
            Some(("category", value)) => case.category = value.into(),
            Some(("options", value)) => case.options = words(value),
            Some(("arguments", value)) => case.arguments = words(value),
            Some(("compiler", value)) => case.compiler = value.parse().map_err(|_| "bad compiler")?,
            Some(("version", value)) => case.version = Some(value.parse().map_err(|_| "bad version")?),
            Some(("library", value)) => case.library = words(value),
            Some(("hidden-library", value)) => (case.library, case.library_on_path) = (words(value), false),
            Some(("packed", "yes")) => case.packed = true,
            Some(("told", "launch")) => case.told = Told::AtLaunch,
            Some(("told", "nowhere")) => case.told = Told::Nowhere,
            Some(("judge", "image")) => case.judge = Judge::Image,
            _ if case.source.is_empty() => case.title = format!("{} {line}", case.title).trim().into(),
            _ if line.is_empty() => {}
            _ => return Err(format!("not understood: {line}")),
        }
    }
    case.effects = effects(effect, case.compiler)?;
    if case.title.is_empty() || case.source.is_empty() {
        return Err("title or source is lacking".into());
    }
    Ok(case)
}

/// `breaks`, or `breaks on 17, fine on 25`.
fn effects(text: &str, compiler: u16) -> Result<Vec<(u16, Effect)>, String> {
    let effect = |tag: &str| Effect::of(tag).ok_or_else(|| format!("no such effect: {tag}"));
    if !text.contains(" on ") {
        let releases = [17, 25].into_iter().filter(|release| *release >= compiler);
        return releases.map(|release| Ok((release, effect(text)?))).collect();
    }
    let clauses = text.split(", ").map(|clause| clause.split_once(" on ").ok_or("effect without release"));
    clauses
        .map(|clause| clause.map_err(String::from))
        .map(|clause| clause.and_then(|(tag, release)| Ok((release.parse().map_err(|_| "bad release")?, effect(tag)?))))
        .collect()
}

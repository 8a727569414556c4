//! The options that a program is launched with, as the launcher of the JDK takes them.
//!
//! The first function to read is [`Launch::parse`].

mod build_file;
mod from;
mod implied;
mod split;
mod variables;

use std::collections::VecDeque;
use std::path::{Path, PathBuf};

use crate::error::Error;
use crate::platform::{Catalogue, ModuleId};
pub use implied::{Implied, Implies, implied};

/// Options whose value is the next word where it does not follow after `=`.
const WITH_VALUE: [&str; 15] = [
    "--add-exports",
    "--add-modules",
    "--add-opens",
    "--add-reads",
    "--class-path",
    "--describe-module",
    "--enable-native-access",
    "--finalization",
    "--illegal-native-access",
    "--limit-modules",
    "--module",
    "--module-path",
    "--patch-module",
    "--source",
    "--upgrade-module-path",
];

/// An option or a property of the launch, and who gives it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Given {
    /// As an option of the launcher: `-Xmx1g`, `-Dtide=high`, `--add-modules=java.sql`.
    pub option: Box<str>,
    /// `--launch`, or a variable and its file: `JAVA_TOOL_OPTIONS in prod.env`.
    pub from: Box<str>,
}

/// Something about the launch that a file leaves open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unclear {
    /// The file.
    pub file: PathBuf,
    /// The line, counted from 1.
    pub line: usize,
    /// What is not known, as a clause.
    pub message: String,
}

/// What the launch of a program says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Launch {
    /// Options of the JVM other than properties, a value joined by `=`: `--add-modules=java.sql`.
    pub options: Vec<Box<str>>,
    /// `-Dname=value`, in order.
    pub properties: Vec<(Box<str>, Box<str>)>,
    /// Modules that `--add-modules` and `--limit-modules` name: the JVM does not start without them.
    pub modules: Vec<Box<str>>,
    /// Modules that `--add-opens`, `--add-exports`, `--add-reads`, `--patch-module` and `--enable-native-access` name: what
    /// is absent is warned of and passed over.
    pub hints: Vec<Box<str>>,
    /// The keywords `ALL-DEFAULT`, `ALL-SYSTEM` and `ALL-MODULE-PATH`, which ask for no module by name.
    pub keywords: Vec<Box<str>>,
    /// Archives of `-javaagent`, without their arguments: their needs are the program's.
    pub agents: Vec<Box<str>>,
    /// The class path, as written.
    pub class_path: Option<Box<str>>,
    /// The module path, as written.
    pub module_path: Option<Box<str>>,
    /// The module, and the class where given, of `-m`: `gauge/gauge.Main`.
    pub main_module: Option<Box<str>>,
    /// The archive of `-jar`.
    pub archive: Option<Box<str>>,
    /// Every option and property in the order given.
    pub given: Vec<Given>,
    /// What files leave open.
    pub unclear: Vec<Unclear>,
}

impl Launch {
    /// Takes options as they stand in a command line or in `JDK_JAVA_OPTIONS`; files of options (`@file`) are read.
    /// A leading `java` is passed over, and what follows the main class is the program's.
    ///
    /// [`Error::Usage`] for an open quotation mark or a missing value, [`Error::Input`] for a file that cannot be read.
    pub fn parse(text: &str) -> Result<Launch, Error> {
        Launch::parse_with(text, "--launch", read_file)
    }

    /// Takes what a file says of the launch: an environment file (`NAME=VALUE`), or what a container image is built by.
    ///
    /// Of variables count those that the launcher reads, and those that are named as start scripts name what they hand to
    /// it: `JAVA_OPTS`. What hangs on a variable that is not known becomes an entry of [`Launch::unclear`].
    ///
    /// [`Error::Input`] for a file that cannot be read, [`Error::Usage`] for one that is neither.
    pub fn of_file(path: &Path) -> Result<Launch, Error> {
        let text = read_file(path).map_err(|source| Error::Input { path: path.to_owned(), source })?;
        from::of_file(path, &text, read_file)
    }

    /// Adds what another source of options says; where only one can hold, the last one does.
    pub fn merge(&mut self, other: Launch) {
        self.options.extend(other.options);
        self.properties.extend(other.properties);
        self.modules.extend(other.modules);
        self.hints.extend(other.hints);
        self.keywords.extend(other.keywords);
        self.agents.extend(other.agents);
        self.class_path = other.class_path.or(self.class_path.take());
        self.module_path = other.module_path.or(self.module_path.take());
        self.main_module = other.main_module.or(self.main_module.take());
        self.archive = other.archive.or(self.archive.take());
        self.given.extend(other.given);
        self.unclear.extend(other.unclear);
    }

    /// The same with another reader of files.
    fn parse_with(text: &str, from: &str, read: impl Fn(&Path) -> std::io::Result<String>) -> Result<Launch, Error> {
        let words = split::command_line(text).map_err(Error::Usage)?;
        let mut words = Words { left: words.into_iter().map(|word| (word, true)).collect(), expand: true, read };
        let launcher = |word: &str| matches!(word.rsplit(['/', '\\']).next(), Some("java" | "java.exe" | "javaw.exe"));
        if words.left.front().is_some_and(|(word, _)| launcher(word)) {
            words.left.pop_front();
        }
        let mut launch = Launch::default();
        let mut told = (0, 0);
        while let Some(word) = words.next()? {
            let mut value = |name: &str| {
                words.next()?.ok_or_else(|| Error::Usage(format!("the launch option {name} lacks its value")))
            };
            match &*word {
                "-jar" => {
                    launch.archive = Some(value("-jar")?.into());
                    break;
                }
                "-cp" | "-classpath" => launch.class_path = Some(value(&word)?.into()),
                "-p" => launch.module_path = Some(value("-p")?.into()),
                "-m" => {
                    launch.main_module = Some(value("-m")?.into());
                    break;
                }
                "-d" => drop(value("-d")?),
                name if WITH_VALUE.contains(&name) => {
                    let value = value(name)?;
                    launch.long(name, &value);
                }
                name if name.starts_with('-') => launch.short(name),
                // The main class; the rest is the program's.
                _ => break,
            }
            launch.note(&mut told, from);
            if launch.main_module.is_some() {
                break;
            }
        }
        launch.note(&mut told, from);
        if let Some(main) = &launch.main_module {
            launch.given.push(Given { option: format!("--module={main}").into(), from: from.into() });
        }
        Ok(launch)
    }

    /// Writes down what a word has added, `told` options and properties being there before it.
    fn note(&mut self, told: &mut (usize, usize), from: &str) {
        let options = self.options.iter().skip(told.0).cloned();
        let properties = self.properties.iter().skip(told.1);
        let properties = properties.map(|(key, value)| {
            if value.is_empty() { format!("-D{key}").into() } else { format!("-D{key}={value}").into() }
        });
        self.given.extend(options.chain(properties).map(|option| Given { option, from: from.into() }));
        *told = (self.options.len(), self.properties.len());
    }

    /// What the language of the process becomes a property of (`ja_JP.UTF-8`; POSIX.1 §8.2).
    fn locale(&mut self, value: &str, from: &str) {
        let language = value.split(['_', '@', '.']).next().filter(|language| !matches!(*language, "" | "C" | "POSIX"));
        let mut told = (self.options.len(), self.properties.len());
        self.properties.extend(language.map(|language| ("user.language".into(), language.into())));
        self.note(&mut told, from);
    }

    fn short(&mut self, word: &str) {
        if let Some(property) = word.strip_prefix("-D") {
            let (key, value) = property.split_once('=').unwrap_or((property, ""));
            return self.properties.push((key.into(), value.into()));
        }
        if let Some(agent) = word.strip_prefix("-javaagent:") {
            self.agents.push(agent.split_once('=').map_or(agent, |(archive, _)| archive).into());
        }
        match word.split_once('=') {
            Some((name, value)) if WITH_VALUE.contains(&name) => self.long(name, value),
            _ => self.options.push(word.into()),
        }
    }

    fn long(&mut self, name: &str, value: &str) {
        match name {
            "--add-modules" | "--limit-modules" => {
                for module in value.split(',').filter(|module| !module.is_empty()) {
                    let list = if module.starts_with("ALL-") { &mut self.keywords } else { &mut self.modules };
                    list.push(module.into());
                }
            }
            "--enable-native-access" => {
                let modules = value.split(',').filter(|module| !module.is_empty() && *module != "ALL-UNNAMED");
                self.hints.extend(modules.map(Into::into));
            }
            "--add-opens" | "--add-exports" | "--add-reads" | "--patch-module" => {
                let module = value.split(['/', '=']).next().unwrap_or_default();
                self.hints.push(module.into());
            }
            "--class-path" => self.class_path = Some(value.into()),
            "--module-path" => self.module_path = Some(value.into()),
            "--module" => self.main_module = Some(value.into()),
            _ => {}
        }
        self.options.push(format!("{name}={value}").into());
    }
}

fn read_file(path: &Path) -> std::io::Result<String> {
    std::fs::read_to_string(path)
}

/// Words in their order, files of options read when their turn comes: a word of the program's own may look like one.
struct Words<R> {
    /// With whether it may stand for a file: what comes out of one does not.
    left: VecDeque<(String, bool)>,
    expand: bool,
    read: R,
}

impl<R: Fn(&Path) -> std::io::Result<String>> Words<R> {
    fn next(&mut self) -> Result<Option<String>, Error> {
        while let Some((word, own)) = self.left.pop_front() {
            if !own || !self.expand {
                return Ok(Some(word));
            }
            match word.strip_prefix('@') {
                _ if word == "--disable-@files" => self.expand = false,
                Some(literal) if literal.starts_with('@') => return Ok(Some(literal.to_owned())),
                Some(path) if !path.is_empty() => {
                    let path = Path::new(path);
                    let text = (self.read)(path).map_err(|source| Error::Input { path: path.to_owned(), source })?;
                    let inner = split::file(&text).map_err(|why| Error::Usage(format!("{}: {why}", path.display())))?;
                    for word in inner.into_iter().rev() {
                        self.left.push_front((word, false));
                    }
                }
                _ => return Ok(Some(word)),
            }
        }
        Ok(None)
    }
}

/// Whether the JVM starts resolving from a module by itself once the image has it: for a class path from all that export a
/// package to everybody, incubators aside (JEP 261, "Root modules"; JEP 11); else from what the launch names, and from
/// what some options bring with them (observed).
pub fn starts_from(catalogue: &Catalogue, id: ModuleId, launch: &Launch, on_module_path: bool) -> bool {
    let Some(module) = catalogue.modules.get(usize::from(id.0)) else { return false };
    let brought = match &*module.name {
        "jdk.management.agent" => launch.properties.iter().any(|(key, _)| key.starts_with("com.sun.management.")),
        "jdk.internal.vm.ci" => launch.options.iter().any(|option| &**option == "-XX:+EnableJVMCI"),
        "jdk.jfr" => launch.options.iter().any(|option| option.starts_with("-XX:StartFlightRecording")),
        "java.instrument" => !launch.agents.is_empty(),
        _ => false,
    };
    let main = launch.main_module.as_deref().and_then(|main| main.split('/').next());
    let named = launch.modules.iter().map(|name| &**name).chain(main).any(|name| name == &*module.name);
    let exports = || module.exports.iter().any(|exports| exports.to.is_empty());
    brought || named || !on_module_path && !module.not_by_default && exports()
}

#[cfg(test)]
mod tests;

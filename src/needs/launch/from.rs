//! Launch options out of files: an environment file, or what a container image is built by.
//!
//! The first function to read is [`of_file`].

use std::path::Path;

use super::build_file::{self, Command};
use super::variables::Variables;
use super::{Launch, Unclear, split};
use crate::error::Error;

/// Variables that the launcher or the JVM reads by itself ("java Command", JVM Tool Interface), in that order.
const READ: [&str; 3] = ["JAVA_TOOL_OPTIONS", "JDK_JAVA_OPTIONS", "_JAVA_OPTIONS"];

/// How names end of variables that start scripts hand to the launcher (common practice, no source).
const ENDS: [&str; 4] = ["OPTS", "OPTIONS", "ARGS", "FLAGS"];

/// Variables that choose the language of the whole process, strongest first (POSIX.1 §8.2).
const LOCALE: [&str; 3] = ["LC_ALL", "LC_CTYPE", "LANG"];

/// What a file says of the launch. It is a container build file where its first instruction is `FROM` or `ARG`, else an
/// environment file.
///
/// # Errors
///
/// [`Error::Input`] for a file that cannot be read, [`Error::Usage`] for one that is neither.
pub(super) fn of_file(
    path: &Path,
    text: &str,
    read: impl Fn(&Path) -> std::io::Result<String> + Copy,
) -> Result<Launch, Error> {
    let mut gathered = Gathered { path, read, launch: Launch::default() };
    if build_file::is_one(text) {
        let image = build_file::parse(text).map_err(|why| wrong(path, &why))?;
        for (line, message) in image.unclear {
            gathered.unclear(line, message);
        }
        gathered.variables(&image.variables)?;
        match image.command {
            Command::None => {}
            Command::Java(options) => gathered.options("its command", &options)?,
            Command::Other(line, program) => gathered.unclear(
                line,
                format!("it starts {program}, whose own options for the JVM are not seen; give them by --launch"),
            ),
        }
    } else {
        let mut variables = Variables::default();
        for (number, line) in text.lines().enumerate() {
            let Some((name, value)) =
                assignment(line).map_err(|why| wrong(path, &format!("line {}: {why}", number + 1)))?
            else {
                continue;
            };
            let mut unknown = Vec::new();
            let value = variables.expand(&value, &mut unknown);
            for other in unknown.iter().filter(|_| is_options(&name)) {
                gathered
                    .unclear(number + 1, format!("{name} uses the variable {other}, whose value is not known here"));
            }
            variables.0.insert(name, value.trim_matches('\'').to_owned());
        }
        gathered.variables(&variables)?;
    }
    Ok(gathered.launch)
}

fn wrong(path: &Path, why: &str) -> Error {
    Error::Usage(format!("--launch-from {}: {why}", path.display()))
}

/// `NAME=VALUE`, perhaps behind `export`, its value perhaps in quotation marks; `None` for a comment or an empty line.
fn assignment(line: &str) -> Result<Option<(String, String)>, String> {
    let line = line.trim();
    if line.is_empty() || line.starts_with('#') {
        return Ok(None);
    }
    let line = line.strip_prefix("export ").map_or(line, str::trim_start);
    let named = line.split_once('=').map(|(name, value)| (name.trim_end(), value.trim()));
    let Some((name, value)) = named.filter(|(name, _)| is_name(name)) else {
        return Err("neither NAME=VALUE nor an instruction of a container build file".to_owned());
    };
    let value = match value.chars().next() {
        Some(mark @ ('"' | '\'')) => {
            let inner = value.get(1..).unwrap_or_default();
            let inner = inner.strip_suffix(mark).ok_or_else(|| format!("a quotation mark {mark} is not closed"))?;
            // Within single marks nothing is expanded; those of the value say so to whoever expands.
            if mark == '\'' { format!("'{inner}'") } else { inner.replace("\\\"", "\"") }
        }
        // A comment stands behind a blank.
        _ => value.split_once(" #").map_or(value, |(value, _)| value.trim_end()).to_owned(),
    };
    Ok(Some((name.to_owned(), value)))
}

fn is_name(text: &str) -> bool {
    let mut characters = text.chars();
    characters.next().is_some_and(|c| c.is_ascii_alphabetic() || c == '_')
        && characters.all(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '.' | '-'))
}

/// Whether a variable holds options of the JVM, by its name.
pub(super) fn is_options(name: &str) -> bool {
    READ.contains(&name)
        || ENDS.iter().any(|end| name.ends_with(end)) && ["JAVA", "JVM", "JDK"].iter().any(|part| name.contains(part))
}

struct Gathered<'a, R> {
    path: &'a Path,
    read: R,
    launch: Launch,
}

impl<R: Fn(&Path) -> std::io::Result<String> + Copy> Gathered<'_, R> {
    fn unclear(&mut self, line: usize, message: String) {
        self.launch.unclear.push(Unclear { file: self.path.to_owned(), line, message });
    }

    fn options(&mut self, of: &str, text: &str) -> Result<(), Error> {
        let from = format!("{of} in {}", self.path.display());
        // A quotation mark that stays open is the file's fault, not that of an option of ours.
        split::command_line(text).map_err(|why| wrong(self.path, &format!("{of}: {why}")))?;
        self.launch.merge(Launch::parse_with(text, &from, self.read)?);
        Ok(())
    }

    fn variables(&mut self, variables: &Variables) -> Result<(), Error> {
        for (name, value) in variables.0.iter().filter(|(name, _)| is_options(name)) {
            self.options(name, value)?;
        }
        let locale =
            LOCALE.iter().find_map(|name| Some((*name, variables.0.get(*name).filter(|value| !value.is_empty())?)));
        if let Some((name, value)) = locale {
            let from = format!("{name} in {}", self.path.display());
            self.launch.locale(value, &from);
        }
        Ok(())
    }
}

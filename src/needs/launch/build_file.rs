//! What a container image is built by, as far as it says how the JVM is launched: `ENV`, `ARG`, `ENTRYPOINT`, `CMD` of the
//! last stage and of those it rests on (the published reference of the format, "Dockerfile reference").
//!
//! The first function to read is [`parse`].

use std::collections::BTreeMap;

use super::variables::Variables;

/// What the last stage says.
#[derive(Debug)]
pub(super) struct Image {
    pub variables: Variables,
    pub command: Command,
    /// Lines and what could not be told there.
    pub unclear: Vec<(usize, String)>,
}

/// What a container starts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) enum Command {
    /// Nothing is said.
    #[default]
    None,
    /// The launcher, with these options and what follows them.
    Java(String),
    /// Another program, in this line.
    Other(usize, String),
}

#[derive(Clone, Debug, Default)]
struct Stage {
    variables: Variables,
    entry: Option<(usize, Words)>,
    command: Option<(usize, Words)>,
}

/// Words of a command: already apart, or as one text for a shell.
#[derive(Clone, Debug)]
enum Words {
    Apart(Vec<String>),
    Shell(String),
}

/// Whether a text is a container build file: its first instruction says so.
pub(super) fn is_one(text: &str) -> bool {
    let mut lines = text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.next().is_some_and(|line| {
        let word = line.split_ascii_whitespace().next().unwrap_or_default();
        word.eq_ignore_ascii_case("FROM") || word.eq_ignore_ascii_case("ARG") && !line.starts_with("ARG=")
    })
}

/// Reads the instructions; the error names the line.
pub(super) fn parse(text: &str) -> Result<Image, String> {
    let mut before = Variables::default();
    let mut stages: BTreeMap<String, Stage> = BTreeMap::new();
    let mut stage: Option<(Stage, Option<String>)> = None;
    let mut unclear = Vec::new();
    for (line, instruction) in instructions(text) {
        let (word, rest) = instruction.split_once(|c: char| c.is_ascii_whitespace()).unwrap_or((&instruction, ""));
        let rest = rest.trim();
        let word = word.to_ascii_uppercase();
        match (&*word, &mut stage) {
            ("FROM", _) => {
                let mut words = rest.split_ascii_whitespace().filter(|word| !word.starts_with("--"));
                let base = before.expand(words.next().unwrap_or_default(), &mut Vec::new()).to_lowercase();
                let name = words.next().filter(|word| word.eq_ignore_ascii_case("as")).and_then(|_| words.next());
                if let Some((done, Some(name))) = stage.take() {
                    stages.insert(name, done);
                }
                stage = Some((stages.get(&base).cloned().unwrap_or_default(), name.map(str::to_lowercase)));
            }
            ("ARG", current) => {
                let known = current.as_mut().map_or(&mut before, |(stage, _)| &mut stage.variables);
                // Without a value it is given when the image is built, and not known here.
                for (name, value) in pairs(rest).into_iter().filter_map(|(name, value)| Some((name, value?))) {
                    let value = known.expand(&value, &mut Vec::new());
                    known.0.insert(name, unquoted(&value));
                }
            }
            ("ENV", Some((stage, _))) => {
                let mut pairs = pairs(rest);
                // The old form has one name and the rest of the line for its value.
                if let Some((name, value)) = rest.split_once(|c: char| c.is_ascii_whitespace())
                    && !name.contains('=')
                {
                    pairs = vec![(name.to_owned(), Some(value.trim().to_owned()))];
                }
                for (name, value) in pairs {
                    let Some(value) = value else { return Err(format!("line {line}: ENV {name} has no value")) };
                    let mut unknown = Vec::new();
                    let value = stage.variables.expand(&value, &mut unknown);
                    for other in unknown.iter().filter(|_| super::from::is_options(&name)) {
                        unclear
                            .push((line, format!("{name} uses the variable {other}, whose value is not known here")));
                    }
                    stage.variables.0.insert(name, unquoted(&value));
                }
            }
            ("ENTRYPOINT", Some((stage, _))) => {
                stage.entry = Some((line, words(rest)));
                // What the base image gave as default arguments goes with its entry point.
                stage.command = None;
            }
            ("CMD", Some((stage, _))) => stage.command = Some((line, words(rest))),
            _ => {}
        }
    }
    let (stage, _) = stage.ok_or("no FROM: it builds no image")?;
    let command = command(&stage, &mut unclear);
    Ok(Image { variables: stage.variables, command, unclear })
}

/// What the last stage starts: the entry point with the command as its arguments, or the command alone.
fn command(stage: &Stage, unclear: &mut Vec<(usize, String)>) -> Command {
    let (line, words) = match (&stage.entry, &stage.command) {
        (None, None) => return Command::None,
        (Some((line, Words::Apart(entry))), Some((_, Words::Apart(command)))) => {
            (*line, Words::Apart(entry.iter().chain(command).cloned().collect()))
        }
        (Some((line, entry)), _) => (*line, entry.clone()),
        (None, Some((line, command))) => (*line, command.clone()),
    };
    let shell = match &words {
        Words::Shell(text) => text.clone(),
        Words::Apart(words) => match &words[..] {
            [shell, option, text, ..]
                if matches!(last_part(shell), "sh" | "bash" | "ash" | "dash") && option.ends_with('c') =>
            {
                text.clone()
            }
            [java, options @ ..] if is_java(java) => {
                let quoted: Vec<String> = options.iter().map(|word| quoted(word)).collect();
                return Command::Java(quoted.join(" "));
            }
            [program, ..] => return Command::Other(line, program.clone()),
            [] => return Command::None,
        },
    };
    let mut unknown = Vec::new();
    let text = stage.variables.expand(&shell, &mut unknown);
    // The last command is the one that stays; those before it prepare.
    let mut commands = text.split(['\n', ';', '|', '&']).map(str::trim).filter(|command| !command.is_empty());
    let found = commands.clone().find_map(|command| {
        let words = command.split_ascii_whitespace().scan(0, |at, word| {
            let start = command.get(*at..)?.find(word)? + *at;
            *at = start + word.len();
            Some((word, *at))
        });
        let java = words.into_iter().find(|(word, _)| is_java(word.trim_matches(['"', '\''])));
        java.and_then(|(_, end)| command.get(end..))
    });
    if let Some(options) = found {
        for other in unknown {
            unclear.push((line, format!("the command uses the variable {other}, whose value is not known here")));
        }
        return Command::Java(options.trim().to_owned());
    }
    let program = commands.next_back().unwrap_or_default();
    let program = program.strip_prefix("exec ").unwrap_or(program).split_ascii_whitespace().next();
    program.map_or(Command::None, |program| Command::Other(line, program.to_owned()))
}

fn last_part(path: &str) -> &str {
    path.rsplit(['/', '\\']).next().unwrap_or(path)
}

fn is_java(word: &str) -> bool {
    matches!(last_part(word), "java" | "java.exe")
}

/// A word that stays one where a command line is split.
fn quoted(word: &str) -> String {
    match (word.contains(|c: char| c.is_ascii_whitespace() || c == '\''), word.contains('"')) {
        (false, false) => word.to_owned(),
        (_, false) => format!("\"{word}\""),
        (_, true) => format!("'{word}'"),
    }
}

/// The words of `ENTRYPOINT` and `CMD`: a JSON array of texts, or a line for the shell.
fn words(text: &str) -> Words {
    serde_json::from_str(text).map_or_else(|_| Words::Shell(text.to_owned()), Words::Apart)
}

/// `NAME=VALUE` by words, quotation marks kept; a name alone has no value.
fn pairs(text: &str) -> Vec<(String, Option<String>)> {
    let mut found = Vec::new();
    let mut word = String::new();
    let mut open = None;
    let mut characters = text.chars();
    let mut end = |word: &mut String| {
        if !word.is_empty() {
            let (name, value) =
                word.split_once('=').map_or((&**word, None), |(name, value)| (name, Some(value.to_owned())));
            found.push((name.to_owned(), value));
            word.clear();
        }
    };
    while let Some(c) = characters.next() {
        match (open, c) {
            (_, '\\') => {
                // A blank or a mark that is escaped is one of the value; the escape is taken away with the marks.
                word.push(c);
                word.extend(characters.next());
                continue;
            }
            (None, '"' | '\'') => open = Some(c),
            (Some(mark), c) if c == mark => open = None,
            (None, c) if c.is_ascii_whitespace() => {
                end(&mut word);
                continue;
            }
            _ => {}
        }
        word.push(c);
    }
    end(&mut word);
    found
}

/// A value without its quotation marks and escapes.
fn unquoted(text: &str) -> String {
    let mut out = String::new();
    let mut open = None;
    let mut characters = text.chars();
    while let Some(c) = characters.next() {
        match (open, c) {
            (None | Some('"'), '\\') => out.extend(characters.next()),
            (None, '"' | '\'') => open = Some(c),
            (Some(mark), c) if c == mark => open = None,
            _ => out.push(c),
        }
    }
    out
}

/// Instructions with the line that each begins in: lines continued by the escape character are one, comments between them
/// are left out, and so is the text of a here-document.
fn instructions(text: &str) -> Vec<(usize, String)> {
    let directive = |line: &str| {
        let (name, value) = line.trim().strip_prefix('#')?.split_once('=')?;
        name.trim().eq_ignore_ascii_case("escape").then(|| value.trim().chars().next()).flatten()
    };
    let escape = text.lines().take_while(|line| line.trim().starts_with('#')).find_map(directive).unwrap_or('\\');
    let mut found: Vec<(usize, String)> = Vec::new();
    let mut going_on = false;
    let mut until: Option<String> = None;
    for (line, number) in text.lines().zip(1..) {
        let trimmed = line.trim();
        if let Some(end) = &until {
            if trimmed == end {
                until = None;
            }
            continue;
        }
        if trimmed.is_empty() || trimmed.starts_with('#') {
            continue;
        }
        let (part, more) = trimmed.strip_suffix(escape).map_or((trimmed, false), |part| (part, true));
        match found.last_mut() {
            Some((_, instruction)) if going_on => {
                instruction.push(' ');
                instruction.push_str(part.trim());
            }
            _ => found.push((number, part.trim_end().to_owned())),
        }
        going_on = more;
        if !more && let Some((_, instruction)) = found.last() {
            until = here_document(instruction);
        }
    }
    found
}

/// The word at which the text ends that belongs to an instruction.
fn here_document(instruction: &str) -> Option<String> {
    let word = instruction.split_ascii_whitespace().next()?;
    if !["RUN", "COPY", "ADD"].iter().any(|with| word.eq_ignore_ascii_case(with)) {
        return None;
    }
    let (_, after) = instruction.split_once("<<")?;
    let after = after.trim_start_matches('-').trim_matches(['"', '\'']);
    let end = after.find(|c: char| !c.is_ascii_alphanumeric() && c != '_').unwrap_or(after.len());
    after.get(..end).filter(|word| !word.is_empty()).map(str::to_owned)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn image(text: &str) -> Image {
        parse(text).unwrap()
    }

    #[test]
    fn the_last_stage_counts_with_what_it_rests_on() {
        let image = image(
            "# escape=`\nARG BASE=debian\nFROM $BASE AS base\nENV JAVA_TOOL_OPTIONS=-Da=1 `\n  # why\n  LANG=\"ja_JP.PCK\"\n\
             FROM scratch AS other\nENV JAVA_TOOL_OPTIONS=-Dother\nFROM base\nENV JAVA_OPTS '-Xmx1g -Db=$A'\n\
             CMD [\"java\", \"-jar\", \"a b.jar\"]\n",
        );
        let value = |name: &str| image.variables.0.get(name).map(String::as_str);
        assert_eq!(value("JAVA_TOOL_OPTIONS"), Some("-Da=1"));
        assert_eq!(value("LANG"), Some("ja_JP.PCK"));
        assert_eq!(value("JAVA_OPTS"), Some("-Xmx1g -Db=$A"));
        assert_eq!(image.command, Command::Java("-jar \"a b.jar\"".into()));
    }

    #[test]
    fn commands_are_found_in_both_forms() {
        for (lines, expected) in [
            ("ENTRYPOINT [\"/opt/jdk/bin/java\", \"-Xmx1g\"]\nCMD [\"-jar\", \"a.jar\"]", "-Xmx1g -jar a.jar"),
            ("ENV O=\"-Dx=1 -Dy=2\"\nCMD exec java $O -jar a.jar", "-Dx=1 -Dy=2 -jar a.jar"),
            ("ENV O=-Dx\nENTRYPOINT [\"sh\", \"-c\", \"cd /opt && java ${O} -jar a.jar\"]", "-Dx -jar a.jar"),
            ("CMD [\"x\"]\nENTRYPOINT java -jar a.jar", "-jar a.jar"),
            ("RUN <<EOF\nENTRYPOINT no\nEOF\nENTRYPOINT java -jar a.jar", "-jar a.jar"),
        ] {
            assert_eq!(image(&format!("FROM x\n{lines}\n")).command, Command::Java(expected.into()), "{lines}");
        }
        assert_eq!(image("FROM x\nENTRYPOINT [\"/start.sh\"]").command, Command::Other(2, "/start.sh".into()));
        assert_eq!(image("FROM x\nCMD exec /start.sh now").command, Command::Other(2, "/start.sh".into()));
        assert_eq!(image("FROM x").command, Command::None);
    }

    #[test]
    fn what_is_given_when_the_image_is_built_is_said() {
        let image =
            image("FROM x\nARG HEAP\nARG SIZE=1g\nENV JAVA_OPTS=\"-Xmx$SIZE -D$HEAP\"\nCMD java $MORE -jar a.jar");
        assert_eq!(image.variables.0["JAVA_OPTS"], "-Xmx1g -D$HEAP");
        let lines: Vec<usize> = image.unclear.iter().map(|(line, _)| *line).collect();
        assert_eq!(lines, [4, 5]);
        assert!(image.unclear[0].1.contains("HEAP") && image.unclear[1].1.contains("MORE"));
        assert!(parse("ARG A=1").is_err());
        assert!(parse("FROM x\nENV A").is_err());
    }
}

//! The manifest (JAR File Specification, "JAR Manifest"): the main section, as the JVM reads it.
//!
//! The first function to read is [`Manifest::parse`]. It is total: a line that breaks the specification is reported and left out,
//! the others stand.

use super::fault::Fault;
use crate::diag::Code;
use crate::limits::Limits;

/// Headers that name the class at which an agent starts (Java SE API, `java.lang.instrument`).
pub const AGENTS: [&str; 3] = ["Launcher-Agent-Class", "Premain-Class", "Agent-Class"];

/// Longest line that a conforming tool writes, in bytes without its end. Readers take longer ones.
const LONGEST_NAME: usize = 70;

/// What the manifest's main section says (JAR File Specification; header names are case-insensitive).
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Manifest {
    /// Main attributes in order of appearance: name as written, value with continuation lines joined.
    pub main: Vec<(Box<str>, Box<str>)>,
    /// A line of the main section says that versioned entries count.
    multi_release: bool,
}

impl Manifest {
    /// The value of a main attribute, its name compared without case.
    pub fn get(&self, name: &str) -> Option<&str> {
        // Of two headers with one name the JVM keeps the last.
        self.main.iter().rfind(|(key, _)| key.eq_ignore_ascii_case(name)).map(|(_, value)| &**value)
    }

    /// Whether versioned entries count (JEP 238): a line of the main section says so, compared without case.
    ///
    /// `java.util.jar.JarFile` compares bytes of the line: a blank more, or a value folded into the next line, and the
    /// jar is a plain one.
    pub fn is_multi_release(&self) -> bool {
        self.multi_release
    }

    /// Reads the main section; per-entry sections are left alone, since they hold digests and nothing that loads.
    pub(crate) fn parse(bytes: &[u8], limits: &Limits) -> (Manifest, Vec<Fault>) {
        let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
        let mut manifest = Manifest::default();
        let mut faults = Vec::new();
        let mut header: Option<(usize, Vec<u8>)> = None;
        let mut lines = Lines(bytes).zip(1..).peekable();
        while let Some((line, number)) = lines.next() {
            if number > limits.text_lines {
                faults.push(Fault::limit(
                    "text-lines",
                    format!("the main section has more than {} lines", limits.text_lines),
                ));
                break;
            }
            let folded = lines.peek().is_some_and(|(next, _)| next.first() == Some(&b' '));
            manifest.multi_release |= !folded && line.eq_ignore_ascii_case(b"Multi-Release: true");
            match line {
                [] => break,
                [b' ', rest @ ..] => match &mut header {
                    // Joined as bytes: a character may be cut in two by the fold.
                    Some((_, text)) => text.extend_from_slice(rest),
                    None => faults.push(bad(number, "a continuation line continues nothing")),
                },
                _ => {
                    if let Some((number, text)) = header.replace((number, line.to_vec())) {
                        manifest.take(number, &text, &mut faults);
                    }
                }
            }
        }
        if let Some((number, text)) = header {
            manifest.take(number, &text, &mut faults);
        }
        (manifest, faults)
    }

    fn take(&mut self, number: usize, header: &[u8], faults: &mut Vec<Fault>) {
        let Some(colon) = header.iter().position(|&byte| byte == b':') else {
            return faults.push(bad(number, "a header has no colon"));
        };
        let (name, rest) = header.split_at(colon);
        let Some(value) = rest.strip_prefix(b": ") else {
            return faults.push(bad(number, "no blank follows the colon"));
        };
        let allowed = |byte: &u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_');
        if name.is_empty() || name.len() > LONGEST_NAME || !name.iter().all(allowed) {
            return faults.push(bad(number, "a header name holds something other than letters, digits, '-' and '_'"));
        }
        let value = String::from_utf8_lossy(value);
        if value.contains('\u{FFFD}') {
            faults.push(bad(number, "a value is not UTF-8"));
        }
        self.main.push((String::from_utf8_lossy(name).into(), value.into()));
    }
}

fn bad(number: usize, reason: &str) -> Fault {
    Fault::new(Code::BadManifest, format!("line {number}: {reason}"))
}

/// Lines that end in CR LF, LF or CR.
struct Lines<'a>(&'a [u8]);

impl<'a> Iterator for Lines<'a> {
    type Item = &'a [u8];

    fn next(&mut self) -> Option<&'a [u8]> {
        if self.0.is_empty() {
            return None;
        }
        let end = self.0.iter().position(|byte| matches!(byte, b'\r' | b'\n')).unwrap_or(self.0.len());
        let (line, rest) = self.0.split_at(end);
        self.0 = match rest {
            [b'\r', b'\n', rest @ ..] | [_, rest @ ..] => rest,
            [] => rest,
        };
        Some(line)
    }
}

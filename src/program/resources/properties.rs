//! Property files (`java.util.Properties.load`), for the names in them and for what the program may read from them.
//!
//! The first function to read is [`configuration`].

use std::borrow::Cow;
use std::sync::Arc;

use crate::archive::ArchiveId;
use crate::diag::{Code, Diagnostic, Findings};
use crate::names::Locator;

use super::known::{is_name, is_qualified};
use super::login;
use super::sink::{Sink, words_of};

/// Beginnings of keys that the platform itself reads: their values are kept whatever they are, since features of modules
/// hang on them.
const PLATFORM_KEYS: [&str; 6] = ["java.", "javax.", "jdk.", "sun.", "com.sun.", "org.xml."];

/// Bytes of a value that may be part of a name; longer values of the platform's keys are left out too.
const LONGEST_VALUE: usize = 1024;

/// Keys and values of a program's property files: those whose value can be a class's name or part of one, and those of
/// keys that the platform reads.
#[derive(Clone, Debug, Default)]
pub struct Properties {
    /// Sorted by key; in class path order within.
    pairs: Vec<Property>,
}

/// A line of a property file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Property {
    /// The key, as `Properties.load` understands it.
    pub key: Box<str>,
    /// The value, or a word of it where it is a list.
    pub value: Box<str>,
    /// The archive.
    pub archive: ArchiveId,
    /// The file in it.
    pub path: Arc<str>,
}

impl Properties {
    /// What the files say of a key, in class path order.
    pub fn of(&self, key: &str) -> &[Property] {
        let start = self.pairs.partition_point(|property| &*property.key < key);
        let rest = self.pairs.get(start..).unwrap_or_default();
        rest.get(..rest.partition_point(|property| &*property.key == key)).unwrap_or_default()
    }

    /// The values of a key, in class path order; the same value may come more than once.
    pub fn values(&self, key: &str) -> impl Iterator<Item = &str> {
        self.of(key).iter().map(|property| &*property.value)
    }

    /// Everything, sorted by key.
    pub fn all(&self) -> &[Property] {
        &self.pairs
    }
}

/// Pairs that are being collected, within their limit.
pub(super) struct Collected {
    pairs: Vec<Property>,
    room: usize,
    full: bool,
}

impl Collected {
    pub(super) fn new(room: usize) -> Self {
        Collected { pairs: Vec::new(), room, full: false }
    }

    pub(super) fn add(
        &mut self,
        pairs: Vec<(Box<str>, Box<str>)>,
        archive: ArchiveId,
        path: &Arc<str>,
        place: impl Fn() -> Locator,
        findings: &mut Findings,
    ) {
        for (key, value) in pairs {
            match self.room.checked_sub(key.len() + value.len()) {
                Some(room) if !self.full => self.room = room,
                _ => {
                    if !std::mem::replace(&mut self.full, true) {
                        let message = format!(
                            "limit property-bytes reached in {path}; what further property files set is unknown"
                        );
                        findings.extend([Diagnostic::new(Code::LimitReached, place(), message)]);
                    }
                    return;
                }
            }
            self.pairs.push(Property { key, value, archive, path: Arc::clone(path) });
        }
    }

    pub(super) fn finish(mut self) -> Properties {
        self.pairs.sort_by(|a, b| a.key.cmp(&b.key));
        Properties { pairs: self.pairs }
    }
}

/// A file that registers classes under keys: `gauge.AutoStart=gauge.Server,gauge.Log`, or `gauge.Server=component`; or
/// without any, one a line.
pub(super) fn registrations(sink: &mut Sink<'_>, text: &str) {
    load(sink, text, |sink, key, value| {
        if value.is_empty() {
            sink.classes(key, None);
            return;
        }
        let of = sink.purpose(key);
        sink.classes(value, Some(&of));
        if &*sink.path == "META-INF/spring.components" {
            sink.name(key, Some(value));
        }
    });
}

/// A file of settings.
pub(super) fn configuration(sink: &mut Sink<'_>, text: &str) {
    load(sink, text, |sink, key, value| {
        match login::class_of_statement(value) {
            Some(class) => {
                sink.name(class, Some(key));
            }
            None => sink.list(value, Some(key)),
        }
        sink.list(key, None);
        remember(sink, key, value);
    });
}

fn remember(sink: &mut Sink<'_>, key: &str, value: &str) {
    if value.is_empty() || value.len() > LONGEST_VALUE || key.len() > LONGEST_VALUE {
        return;
    }
    if PLATFORM_KEYS.iter().any(|start| key.starts_with(start)) || is_name(value.trim_end_matches(['.', '/'])) {
        sink.pairs.push((key.into(), value.into()));
        return;
    }
    let items = || value.split([',', ';', ':', '|']).map(str::trim).filter(|item| !item.is_empty());
    // Words in a row are prose unless each is qualified.
    if items().all(is_name) {
        sink.pairs.extend(items().map(|item| (key.into(), item.into())));
    } else if words_of(value).all(is_qualified) {
        sink.pairs.extend(words_of(value).map(|word| (key.into(), word.into())));
    }
}

/// Goes through keys and values as `Properties.load(Reader)` does: lines that end in an odd number of backslashes go on
/// in the next, `#` and `!` start comments, a key ends at the first `=`, `:` or blank that no backslash precedes.
fn load(sink: &mut Sink<'_>, text: &str, mut each: impl FnMut(&mut Sink<'_>, &str, &str)) {
    let text = if text.contains('\r') { Cow::Owned(text.replace("\r\n", "\n")) } else { Cow::Borrowed(text) };
    let mut lines = text.split(['\n', '\r']).map(blank_trimmed).zip(1..);
    let mut logical = String::new();
    while let Some((line, number)) = lines.next() {
        if !sink.takes_line(number) {
            break;
        }
        if line.is_empty() || line.starts_with(['#', '!']) {
            continue;
        }
        let mut line = line;
        logical.clear();
        while let Some(open) = continued(line) {
            logical.push_str(open);
            line = lines.next().map_or("", |(line, _)| line);
        }
        logical.push_str(line);
        let (key, value) = parted(&logical);
        each(sink, &unescaped(key), &unescaped(value));
    }
}

fn blank_trimmed(line: &str) -> &str {
    line.trim_start_matches([' ', '\t', '\u{C}'])
}

/// The line without its last backslash where the next belongs to it.
fn continued(line: &str) -> Option<&str> {
    let backslashes = line.len() - line.trim_end_matches('\\').len();
    if backslashes % 2 == 1 { line.strip_suffix('\\') } else { None }
}

fn parted(line: &str) -> (&str, &str) {
    let mut escaped = false;
    let end = line.find(|c: char| {
        let ends = !escaped && matches!(c, '=' | ':' | ' ' | '\t' | '\u{C}');
        escaped = c == '\\' && !escaped;
        ends
    });
    let Some(end) = end else { return (line, "") };
    let (key, rest) = line.split_at(end);
    let rest = blank_trimmed(rest);
    let value = rest.strip_prefix(['=', ':']).unwrap_or(rest);
    (key, blank_trimmed(value).trim_end())
}

fn unescaped(text: &str) -> Cow<'_, str> {
    if !text.contains('\\') {
        return text.into();
    }
    // Surrogates may come as two escapes, so that units are collected and joined at the end.
    let mut units = Vec::with_capacity(text.len());
    let mut rest = text.chars();
    while let Some(c) = rest.next() {
        let c = match c {
            '\\' => match rest.next().unwrap_or_default() {
                'u' => {
                    let hex = rest.as_str().get(..4);
                    if let Some(unit) = hex.and_then(|hex| u16::from_str_radix(hex, 16).ok()) {
                        units.push(unit);
                        rest = rest.as_str().get(4..).unwrap_or_default().chars();
                    }
                    continue;
                }
                't' => '\t',
                'n' => '\n',
                'r' => '\r',
                'f' => '\u{C}',
                other => other,
            },
            other => other,
        };
        units.extend_from_slice(c.encode_utf16(&mut [0; 2]));
    }
    String::from_utf16_lossy(&units).into()
}

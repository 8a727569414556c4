//! `Class-Path` of a manifest (JAR File Specification, "Class-Path attribute"): where its words point on disk.
//!
//! The first function to read is [`resolve`]. It touches no disk.

use std::path::{Component, Path, PathBuf};

use super::fault::Fault;
use crate::diag::Code;
use crate::limits::Limits;

/// The header.
const HEADER: &str = "Class-Path";

/// One word of a `Class-Path` as a place on disk.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Link {
    /// Who names it: the header, or a file.
    pub(crate) namer: &'static str,
    /// The word as written.
    pub(crate) word: Box<str>,
    /// The file or folder it names.
    pub(crate) path: PathBuf,
    /// Whether it ends in `/` and so names a class folder, not a jar.
    pub(crate) folder: bool,
}

/// The places that a `Class-Path` names, seen from the jar at `jar`; and what it names that is no local file.
pub(crate) fn resolve(jar: &Path, class_path: &str, limits: &Limits) -> (Vec<Link>, Vec<Fault>) {
    let base = jar.parent().unwrap_or(Path::new(""));
    let mut links = Vec::new();
    let mut faults = Vec::new();
    let words = class_path.split([' ', '\t', '\n', '\r', '\x0C']).filter(|word| !word.is_empty());
    for (word, before) in words.zip(0..) {
        if before >= limits.text_lines {
            faults.push(Fault::limit("text-lines", format!("Class-Path has more than {before} words")));
            break;
        }
        match place(base, word) {
            Ok(path) => links.push(Link { namer: HEADER, word: word.into(), path, folder: word.ends_with('/') }),
            Err(reason) => {
                faults.push(Fault::new(Code::IgnoredClassPathEntry, format!("Class-Path names {word}: {reason}")));
            }
        }
    }
    (links, faults)
}

fn place(base: &Path, word: &str) -> Result<PathBuf, &'static str> {
    let path = match word.split_once(':') {
        None => word,
        Some((scheme, rest)) if scheme.eq_ignore_ascii_case("file") => match rest.strip_prefix("//") {
            None => rest,
            Some(rest) if rest.starts_with('/') => rest,
            Some(_) => return Err("a file on another host"),
        },
        // The JVM skips it without a word since it checks these URLs (release 11.0.3 and later).
        Some(_) => return Err("not a local file"),
    };
    let path = path.split('#').next().unwrap_or_default();
    let decoded = decode_percent(path).ok_or("its percent signs stand for no UTF-8 text")?;
    if decoded.is_empty() || decoded.contains('\0') {
        return Err("not a path");
    }
    Ok(tidy(&base.join(decoded)))
}

/// Undoes `%20` and the like (RFC 3986 §2.1).
fn decode_percent(text: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    loop {
        rest = match rest {
            [] => break,
            [b'%', high, low, tail @ ..] => {
                let digit = |byte: &u8| char::from(*byte).to_digit(16);
                bytes.push((digit(high)? * 16 + digit(low)?) as u8);
                tail
            }
            [b'%', ..] => return None,
            [byte, tail @ ..] => {
                bytes.push(*byte);
                tail
            }
        };
    }
    String::from_utf8(bytes).ok()
}

/// Takes out `.` and `name/..`, as URL resolution does before the file system is asked.
pub(crate) fn tidy(path: &Path) -> PathBuf {
    let mut tidy = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir => match tidy.components().next_back() {
                Some(Component::Normal(_)) => {
                    tidy.pop();
                }
                Some(Component::RootDir | Component::Prefix(_)) => {}
                _ => tidy.push(part),
            },
            _ => tidy.push(part),
        }
    }
    tidy
}

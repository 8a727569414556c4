//! Class paths that stand in a file beside the jar that is started, for a class loader of its own.
//!
//! The first function to read is [`read`].

use std::fs::File;
use std::io::Read;
use std::path::Path;

use super::class_path::{Link, tidy};
use super::manifest::Manifest;

/// The class of a published layout ("fast-jar" of the Quarkus documentation) at which the launcher starts, and the file in
/// which it finds all else: the class that it is to start, then jars, each a text of `java.io.DataOutput.writeUTF`.
const RUNNER: (&str, &str) = ("io.quarkus.bootstrap.runner.QuarkusEntryPoint", "quarkus/quarkus-application.dat");

/// Bytes of such a file beyond which it is not read.
const MOST_BYTES: u64 = 16 << 20;

/// What such a file says.
pub(super) struct Index {
    /// The class that is started, a binary name.
    pub(super) starts: Box<str>,
    /// The jars.
    pub(super) links: Vec<Link>,
}

/// The file beside a jar that its manifest's `Main-Class` reads; or why it cannot be read.
pub(super) fn read(jar: &Path, manifest: &Manifest) -> Option<Result<Index, String>> {
    let (runner, path) = RUNNER;
    manifest.get("Main-Class").filter(|class| class.trim() == runner)?;
    let base = jar.parent().unwrap_or(Path::new(""));
    let mut bytes = Vec::new();
    let read = File::open(base.join(path)).and_then(|file| file.take(MOST_BYTES + 1).read_to_end(&mut bytes));
    Some(match read {
        Err(error) => Err(format!("its loader reads {path} beside it: {error}")),
        Ok(_) if bytes.len() as u64 > MOST_BYTES => Err(format!("{path} has more than {MOST_BYTES} bytes")),
        Ok(_) => parse(&bytes, base).ok_or_else(|| format!("{path} names no class to start")),
    })
}

/// The first text is the class; of the others those count that name jars. What else the file holds differs from version to
/// version.
fn parse(bytes: &[u8], base: &Path) -> Option<Index> {
    let mut texts = Texts { bytes, at: 8 };
    let starts = texts.next().filter(|text| !text.contains('/'))?;
    let jars = texts.filter(|text| super::layout::is_archive(text));
    let links =
        jars.map(|text| Link { namer: RUNNER.1, word: text.into(), path: tidy(&base.join(text)), folder: false });
    Some(Index { starts: starts.into(), links: links.collect() })
}

/// The texts in a row of data, found by the two bytes of their length.
struct Texts<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> Iterator for Texts<'a> {
    type Item = &'a str;

    fn next(&mut self) -> Option<&'a str> {
        loop {
            let length =
                self.bytes.get(self.at..)?.first_chunk().map(|&length| usize::from(u16::from_be_bytes(length)))?;
            let text = self.bytes.get(self.at + 2..)?.get(..length).filter(|text| {
                // Shorter ones are numbers.
                text.len() > 3 && text.iter().all(|byte| (0x20..0x7F).contains(byte))
            });
            match text.and_then(|text| std::str::from_utf8(text).ok()) {
                Some(text) => {
                    self.at += 2 + length;
                    return Some(text);
                }
                None => self.at += 1,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(texts: &[&str]) -> Vec<u8> {
        let mut bytes = vec![0xF0, 0x31, 0x54, 0x32, 0, 0, 0, 2];
        for (number, text) in texts.iter().enumerate() {
            bytes.extend((text.len() as u16).to_be_bytes());
            bytes.extend(text.as_bytes());
            // Numbers stand between texts, one byte wide or two.
            bytes.extend(if number % 2 == 0 { &[0, 2][..] } else { &[0][..] });
        }
        bytes
    }

    #[test]
    fn jars_are_found_among_whatever_else_there_is() {
        let bytes =
            written(&["gauge.Start", "lib/main/tide.jar", "gauge/tide", "app/sluice.jar", "META-INF/services/x"]);
        let Index { starts, links } = parse(&bytes, Path::new("/harbour")).unwrap();
        assert_eq!(&*starts, "gauge.Start");
        let paths: Vec<_> = links.iter().map(|link| link.path.to_str().unwrap()).collect();
        assert_eq!(paths, ["/harbour/lib/main/tide.jar", "/harbour/app/sluice.jar"]);
    }

    #[test]
    fn a_file_of_another_kind_names_nothing() {
        assert!(parse(b"", Path::new("")).is_none());
        assert!(parse(&[0; 64], Path::new("")).is_none());
        assert!(parse(&[0xFF; 64], Path::new("")).is_none());
    }
}

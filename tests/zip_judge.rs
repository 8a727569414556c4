//! The reader of archives, judged by the `zip` crate: on jars that others built, and on archives that it writes.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::collections::BTreeMap;
use std::fs::File;
use std::io::Write;
use std::path::Path;

use secateur::archive::{Reader, open};
use secateur::limits::Limits;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

#[path = "support/libraries.rs"]
mod libraries;

/// Path as it stands in the archive → bytes once inflated and their CRC-32.
type Listing = BTreeMap<String, (u64, u32)>;

fn theirs(jar: &Path) -> Listing {
    let mut archive = ZipArchive::new(File::open(jar).unwrap()).unwrap();
    let members = (0..archive.len()).map(|at| {
        let member = archive.by_index_raw(at).unwrap();
        (member.name().unwrap().into_owned(), (member.size(), member.crc32()))
    });
    members.filter(|(name, _)| !name.ends_with('/')).collect()
}

/// The CRC-32 is worked out from the bytes that the reader gives, bit by bit (ISO 3309, as APPNOTE 4.4.7 has it).
fn ours(jar: &Path) -> Listing {
    let limits = Limits::default();
    let archives = open(&[jar.to_owned()], &limits).unwrap();
    let mut reader = Reader::new(&limits);
    let archive = &archives.list[0];
    let entries = archive.entries.iter().map(|entry| {
        let bytes =
            reader.read(archive, entry).unwrap_or_else(|finding| panic!("{}: {}", finding.place, finding.message));
        let place = archive.locate(entry);
        let path = place.as_str().strip_prefix(archive.locator.as_str()).unwrap().strip_prefix("!/").unwrap();
        (path.to_owned(), (bytes.len() as u64, crc(bytes)))
    });
    entries.collect()
}

fn crc(bytes: &[u8]) -> u32 {
    let table: Vec<u32> = (0..256u32)
        .map(|byte| (0..8).fold(byte, |rest, _| if rest & 1 == 1 { 0xEDB8_8320 ^ (rest >> 1) } else { rest >> 1 }))
        .collect();
    !bytes.iter().fold(!0, |crc, &byte| table[(crc as u8 ^ byte) as usize] ^ (crc >> 8))
}

#[test]
fn jars_that_others_built_hold_what_the_judge_says() {
    let jars = libraries::libraries();
    let mut entries = 0;
    for jar in &jars {
        let theirs = theirs(jar);
        assert_eq!(ours(jar), theirs, "{}", jar.display());
        entries += theirs.len();
    }
    assert!(entries > 20_000, "only {entries} entries in {} jars", jars.len());
}

#[test]
fn archives_that_the_judge_writes_are_read() {
    let yard = tempfile::tempdir().unwrap();
    let path = yard.path().join("written.jar");
    let mut writer = ZipWriter::new(File::create(&path).unwrap());
    let plain = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    for (name, options, text) in [
        ("gauge/Plain.class", plain, "tide"),
        ("gauge/Wide.class", plain.large_file(true), "spring tide"),
        ("gauge/Aligned.class", plain.with_alignment(4096), "neap tide"),
        ("gauge/\u{e9}cluse.txt", plain, "sluice"),
    ] {
        writer.start_file(name, options).unwrap();
        writer.write_all(text.as_bytes()).unwrap();
    }
    writer.add_directory("gauge/empty/", plain).unwrap();
    writer.set_comment("PK\u{5}\u{6} is how an end record starts, but not this one").unwrap();
    writer.finish().unwrap();
    let read = ours(&path);
    assert_eq!(read, theirs(&path));
    assert_eq!(read["gauge/Wide.class"], (11, crc(b"spring tide")));
    assert_eq!(read.len(), 4);
}

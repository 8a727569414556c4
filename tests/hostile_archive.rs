//! Archives that mean harm: every truncation and every flipped byte of small sound ones, bombs, lies and odd names. Nothing
//! may panic, hang or take memory without bound, and what is sound beside it is still read.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use secateur::archive::{Archives, Reader, open};
use secateur::diag::{Code, Diagnostic};
use secateur::limits::Limits;
use tempfile::TempDir;

#[path = "support/zip.rs"]
mod zip;

use zip::{Entry, archive, deflated, manifest, stored};

struct Yard(TempDir);

impl Yard {
    fn new() -> Self {
        Yard(tempfile::tempdir().unwrap())
    }

    fn put(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.0.path().join(name);
        fs::write(&path, bytes).unwrap();
        path
    }
}

/// Opens, reads every entry, and gives all that was said and the bytes that were had.
fn read(inputs: &[PathBuf], limits: &Limits) -> (Archives, Vec<Diagnostic>, u64) {
    let mut archives = open(inputs, limits).expect("the inputs exist");
    let mut said = std::mem::take(&mut archives.diagnostics);
    let mut reader = Reader::new(limits);
    let mut had = 0;
    for archive in &archives.list {
        for entry in &archive.entries {
            match reader.read(archive, entry) {
                Ok(bytes) => had += bytes.len() as u64,
                Err(finding) => said.push(*finding),
            }
        }
    }
    (archives, said, had)
}

fn small() -> Limits {
    Limits { entry_bytes: 1 << 20, nested_archive_bytes: 1 << 20, held_bytes: 4 << 20, ..Limits::default() }
}

fn seeds() -> Vec<(&'static str, Vec<u8>)> {
    let library = archive(&[deflated("tide/Table.class", &[7; 300])]);
    let plain = archive(&[
        manifest(&["Main-Class: gauge.Main", "Class-Path: gone.jar", "Multi-Release: true"]),
        deflated("gauge/Main.class", &[1, 2, 3, 4, 5, 6, 7, 8].repeat(20)),
        stored("META-INF/services/gauge.Service", b"gauge.Main\n"),
        Entry { descriptor: true, ..deflated("META-INF/versions/17/gauge/Main.class", &[9; 40]) },
    ]);
    let nested = archive(&[
        manifest(&["Start-Class: gauge.Main", "Spring-Boot-Classpath-Index: BOOT-INF/classpath.idx"]),
        stored("BOOT-INF/lib/tides.jar", &library),
        deflated("BOOT-INF/lib/packed.jar", &library),
        stored("BOOT-INF/classpath.idx", b"- \"BOOT-INF/lib/packed.jar\"\n"),
    ]);
    let wide = archive(&[Entry { zip64: true, ..deflated("gauge/Main.class", &[3; 90]) }]);
    vec![("plain.jar", plain), ("nested.jar", nested), ("wide.jar", wide)]
}

#[test]
fn every_truncation_is_survived() {
    let yard = Yard::new();
    for (name, seed) in seeds() {
        for length in 0..seed.len() {
            let path = yard.put(name, &seed[..length]);
            let (_, said, had) = read(&[path], &small());
            // Cut behind a stored archive, the rest is that archive with bytes around it: sound in itself.
            let ends_whole = seed[..length].windows(4).any(|window| window == b"PK\x05\x06");
            assert!(ends_whole || !said.is_empty(), "{name} cut to {length} bytes passed for whole");
            assert!(had <= 8 << 20);
        }
    }
}

#[test]
fn every_flipped_byte_is_survived() {
    let yard = Yard::new();
    for (name, seed) in seeds() {
        for at in 0..seed.len() {
            for flip in [0x01, 0x80, 0xFF] {
                let mut bytes = seed.clone();
                bytes[at] ^= flip;
                let path = yard.put(name, &bytes);
                let (archives, _, had) = read(&[path], &small());
                assert!(had <= 8 << 20, "{name}, byte {at}");
                assert!(archives.list.len() <= 4, "{name}, byte {at}");
            }
        }
    }
}

/// What a run with these limits says about an archive that stands beside a sound one, which must still be read.
fn said_of(name: &str, bytes: &[u8], limits: &Limits) -> Vec<Diagnostic> {
    let yard = Yard::new();
    let bad = yard.put(name, bytes);
    let good = yard.put("sound.jar", &archive(&[stored("sound/Sound.class", b"sound")]));
    let (archives, said, _) = read(&[bad, good], limits);
    let sound = archives.list.iter().find(|archive| archive.locator.as_str().ends_with("sound.jar")).expect("is read");
    assert_eq!(sound.entries.len(), 1, "{name} cost the archive beside it");
    assert!(!said.iter().any(|finding| finding.place.as_str().contains("sound.jar")));
    said
}

fn limits_named(said: &[Diagnostic]) -> BTreeSet<String> {
    let met = said.iter().filter(|finding| finding.code == Code::LimitReached);
    met.map(|finding| finding.message.clone()).collect()
}

fn meets(limit: &str, name: &str, bytes: &[u8], limits: &Limits) {
    let said = said_of(name, bytes, limits);
    assert!(limits_named(&said).iter().any(|message| message.contains(limit)), "{limit} is not named: {said:?}");
}

#[test]
fn every_limit_ends_its_bomb_and_is_named() {
    let zeros = vec![0; 3 << 20];
    let bomb = archive(&[deflated("a/Zeros.class", &zeros)]);
    meets("ratio", "ratio.jar", &bomb, &Limits { ratio: 100, ..Limits::default() });
    meets("entry-bytes", "large.jar", &bomb, &Limits { entry_bytes: 1 << 20, ..Limits::default() });

    let many: Vec<Entry> = (0..50).map(|n| stored(&format!("a/A{n}.class"), b"x")).collect();
    let many = archive(&many);
    meets("entries-per-archive", "many.jar", &many, &Limits { entries_per_archive: 10, ..Limits::default() });
    let run = Limits { entries_per_run: 11, ..Limits::default() };
    let yard = Yard::new();
    let (_, said, _) = read(&[yard.put("many.jar", &many)], &run);
    assert!(limits_named(&said).iter().any(|message| message.contains("entries-per-run")), "{said:?}");
    let run = Limits { run_bytes: 20, ..Limits::default() };
    let (_, said, had) = read(&[yard.put("many.jar", &many)], &run);
    assert!(limits_named(&said).iter().any(|message| message.contains("run-bytes")), "{said:?}");
    assert_eq!(had, 20);

    let boot = |library: Entry| archive(&[manifest(&["Start-Class: a.A"]), library]);
    let packed = boot(deflated("BOOT-INF/lib/a.jar", &archive(&[stored("a/A.class", &zeros)])));
    let limits = Limits { nested_archive_bytes: 1 << 20, ratio: u64::MAX, ..Limits::default() };
    meets("nested-archive-bytes", "nested.jar", &packed, &limits);
    let limits = Limits { held_bytes: 1 << 20, ratio: u64::MAX, ..Limits::default() };
    meets("held-bytes", "held.jar", &packed, &limits);

    let sound = boot(stored("BOOT-INF/lib/a.jar", &archive(&[stored("a/A.class", b"x")])));
    meets("nesting-depth", "deep.jar", &sound, &Limits { nesting_depth: 0, ..Limits::default() });
    let long = archive(&[stored(&"n".repeat(60_000), b"x")]);
    meets("name-bytes", "long.jar", &long, &Limits { name_bytes: 4096, ..Limits::default() });
}

/// Text of one byte a line is the cheapest way to make a reader keep a record for each.
#[test]
fn text_without_end_is_cut_off() {
    let limits = Limits { text_lines: 20, ..Limits::default() };
    let text = |headers: &[&str]| archive(&[manifest(headers), stored("a/A.class", b"x")]);
    meets("text-lines", "headers.jar", &text(&["no colon"; 30]), &limits);
    meets("text-lines", "words.jar", &text(&[&format!("Class-Path:{}", " a".repeat(30))]), &limits);
    let index = archive(&[
        manifest(&["Start-Class: a.A", "Spring-Boot-Classpath-Index: BOOT-INF/classpath.idx"]),
        stored("BOOT-INF/classpath.idx", "- \"x.jar\"\n".repeat(30).as_bytes()),
        stored("a/A.class", b"x"),
    ]);
    meets("text-lines", "index.jar", &index, &limits);
    let place = secateur::names::Locator::of_path(Path::new("x.jar"));
    let (providers, said) = secateur::archive::services::parse("a.A\n".repeat(30).as_bytes(), &place, &limits);
    assert_eq!(providers.len(), 20);
    assert!(limits_named(&said).iter().any(|message| message.contains("text-lines")), "{said:?}");
}

/// Whoever opens a pipe waits for a writer that never comes.
#[cfg(unix)]
#[test]
fn a_class_path_header_that_names_a_pipe_is_no_trap() {
    let yard = Yard::new();
    let made = std::process::Command::new("mkfifo").arg(yard.0.path().join("pipe.jar")).status().unwrap();
    assert!(made.success());
    let main = yard.put("main.jar", &archive(&[manifest(&["Class-Path: pipe.jar"]), stored("a/A.class", b"x")]));
    let (archives, said, _) = read(&[main], &Limits::default());
    assert_eq!(archives.list.len(), 1);
    assert_eq!(said.iter().map(|finding| finding.code).collect::<Vec<_>>(), [Code::MissingClassPathEntry]);
}

#[test]
fn files_on_disk_count_towards_what_a_run_may_read() {
    let yard = Yard::new();
    fs::create_dir(yard.0.path().join("classes")).unwrap();
    for name in ["A", "B", "C"] {
        yard.put(&format!("classes/{name}.class"), b"0123456789");
    }
    let limits = Limits { run_bytes: 25, ..Limits::default() };
    let (_, said, had) = read(&[yard.0.path().join("classes")], &limits);
    assert_eq!(had, 20);
    assert!(limits_named(&said).iter().any(|message| message.contains("run-bytes")), "{said:?}");
}

#[test]
fn class_path_links_and_folders_have_their_limits() {
    let yard = Yard::new();
    for n in 0..5 {
        yard.put(&format!("{n}.jar"), &archive(&[manifest(&[&format!("Class-Path: {}.jar", n + 1)])]));
    }
    let limits = Limits { class_path_links: 2, ..Limits::default() };
    let (archives, said, _) = read(&[yard.0.path().join("0.jar")], &limits);
    assert_eq!(archives.list.len(), 3);
    assert!(limits_named(&said).iter().any(|message| message.contains("class-path-links")), "{said:?}");

    let deep = yard.0.path().join("classes/a/b/c");
    fs::create_dir_all(&deep).unwrap();
    fs::write(deep.join("C.class"), b"x").unwrap();
    fs::write(yard.0.path().join("classes/Top.class"), b"x").unwrap();
    let limits = Limits { folder_depth: 2, ..Limits::default() };
    let (archives, said, _) = read(&[yard.0.path().join("classes")], &limits);
    assert_eq!(archives.list[0].entries.len(), 1);
    assert!(limits_named(&said).iter().any(|message| message.contains("folder-depth")), "{said:?}");
}

#[test]
fn lies_are_found_out() {
    let sound = || deflated("a/A.class", &[5; 200]);
    let cases: [(&str, Entry, Code); 7] = [
        ("says it is longer", Entry { size: 201, ..sound() }, Code::DamagedEntry),
        ("says it is shorter", Entry { size: 199, ..sound() }, Code::DamagedEntry),
        ("has another checksum", Entry { crc: 1, ..sound() }, Code::DamagedEntry),
        ("has a header elsewhere", Entry { claimed_offset: Some(7), ..sound() }, Code::DamagedEntry),
        ("is encrypted", Entry { flags: 1, ..sound() }, Code::UnsupportedEntry),
        ("is packed in another way", Entry { method: 12, ..sound() }, Code::UnsupportedEntry),
        ("is said to be huge", Entry { zip64: true, size: u64::MAX, ..sound() }, Code::LimitReached),
    ];
    for (title, entry, code) in cases {
        let said = said_of("lies.jar", &archive(&[entry, stored("a/B.class", b"x")]), &Limits::default());
        assert_eq!(said.iter().map(|finding| finding.code).collect::<Vec<_>>(), [code], "one that {title}: {said:?}");
        assert!(said[0].place.as_str().ends_with("lies.jar!/a/A.class"), "{}", said[0].place);
    }
}

/// Entries that share bytes unfold without end from a small file (D. Fifield, "A better zip bomb", WOOT 2019).
#[test]
fn overlapping_entries_are_barred() {
    let kernel = deflated("a/A.class", &[0; 5000]);
    let twin = Entry { name: b"a/B.class".to_vec(), claimed_offset: Some(0), ..stored("", b"") };
    let twin = Entry { compressed: kernel.compressed, size: kernel.size, crc: kernel.crc, method: 8, ..twin };
    let said = said_of("overlap.jar", &archive(&[kernel, twin]), &Limits::default());
    assert!(said.iter().any(|finding| finding.code == Code::OverlappingEntries), "{said:?}");
}

/// Foreign names stay what they are inside, and reach no terminal as they are.
#[test]
fn odd_names_are_kept_and_shown_escaped() {
    let names =
        ["a/\u{1b}[31mred.class", "a/\u{202e}ssalc.class", "a/<script>alert(1)</script>.class", "../../etc/passwd"];
    let entries: Vec<Entry> = names.iter().map(|name| stored(name, b"not a class")).collect();
    let yard = Yard::new();
    let (archives, _, _) = read(&[yard.put("odd.jar", &archive(&entries))], &Limits::default());
    let kept: Vec<&str> = archives.list[0].entries.iter().map(|entry| &*entry.path).collect();
    assert_eq!(kept, names);
    for format in ["text", "json"] {
        let output = std::process::Command::new(env!("CARGO_BIN_EXE_secateur"))
            .args(["scan", "--format", format])
            .arg(Path::new(yard.0.path()).join("odd.jar"))
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(3), "classes that cannot be read leave the answer incomplete");
        for raw in ["\u{1b}[31m", "\u{202e}"] {
            let text = String::from_utf8_lossy(&output.stdout);
            assert!(!text.contains(raw), "{format} lets {raw:?} through");
        }
    }
}

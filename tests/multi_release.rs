//! Rules of versions and manifests against the JVM itself: what `java -cp` loads from small jars, on both JDKs, is what
//! the effective view of the archives holds. The rules are those of the JAR File Specification (versioned
//! entries, "Main Attributes", "Class-Path attribute") and of `java.util.jar.JarFile`.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use secateur::archive::{Reader, effective, open, services};
use secateur::limits::Limits;
use tempfile::TempDir;

#[path = "support/jdk.rs"]
mod jdk;
#[path = "support/zip.rs"]
mod zip;

use zip::{Entry, archive, archive_after, deflated, manifest, stored};

/// Asks for classes by name and prints which copy the loader found: each copy carries a word of its own.
const PROBE: &str = r#"
import java.util.ServiceLoader;
public class Probe {
    public static void main(String[] names) throws Exception {
        for (String name : names) {
            if (name.startsWith("services:")) {
                StringBuilder found = new StringBuilder();
                var files = Probe.class.getClassLoader().getResources("META-INF/services/" + name.substring(9));
                while (files.hasMoreElements()) {
                    try (var in = files.nextElement().openStream()) {
                        found.append(new String(in.readAllBytes(), "UTF-8").trim()).append(' ');
                    }
                }
                System.out.println(name + "=" + found.toString().trim());
                continue;
            }
            try {
                System.out.println(name + "=" + Class.forName(name).getField("COPY").get(null));
            } catch (ClassNotFoundException absent) {
                System.out.println(name + "=absent");
            }
        }
    }
}
"#;

/// The class files of `gauge.<name>` whose field `COPY` holds `word`; compiled once for all tests.
struct Copies {
    folder: TempDir,
}

const NAMES: [&str; 3] = ["Tide", "Added", "Lock"];
const WORDS: [&str; 7] = ["base", "v8", "v9", "v11", "v17", "v21", "other"];

fn copies() -> &'static Copies {
    static COPIES: OnceLock<Copies> = OnceLock::new();
    COPIES.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("Probe.java"), PROBE).unwrap();
        let mut javac = Command::new(jdk::tool(17, "javac"));
        javac.args(["--release", "17", "-d"]).arg(folder.path()).arg(folder.path().join("Probe.java"));
        assert!(javac.status().unwrap().success());
        for word in WORDS {
            let place = folder.path().join(word);
            fs::create_dir(&place).unwrap();
            let sources: Vec<PathBuf> = NAMES
                .iter()
                .map(|name| {
                    let source = place.join(format!("{name}.java"));
                    // No constant: the probe must see the copy that was loaded.
                    let text = format!(
                        "package gauge; public class {name} {{ public static final String COPY = new String(\"{word}\"); }}"
                    );
                    fs::write(&source, text).unwrap();
                    source
                })
                .collect();
            let mut javac = Command::new(jdk::tool(17, "javac"));
            javac.args(["--release", "9", "-Xlint:-options", "-d"]).arg(&place).args(sources);
            assert!(javac.status().unwrap().success());
        }
        Copies { folder }
    })
}

fn class(path: &str, name: &str, word: &str) -> Entry {
    let bytes = fs::read(copies().folder.path().join(word).join(format!("gauge/{name}.class"))).unwrap();
    deflated(&format!("{path}gauge/{name}.class"), &bytes)
}

/// What the JVM of a release finds with this class path.
fn theirs(release: u16, class_path: &[PathBuf], asked: &[&str]) -> BTreeMap<String, String> {
    let mut elements = vec![copies().folder.path().to_owned()];
    elements.extend_from_slice(class_path);
    let output = Command::new(jdk::tool(release, "java"))
        .args(["-Xshare:auto", "-XX:TieredStopAtLevel=1", "-cp"])
        .arg(std::env::join_paths(elements).unwrap())
        .arg("Probe")
        .args(asked)
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).unwrap();
    text.lines().map(|line| line.split_once('=').unwrap()).map(|(k, v)| (k.to_owned(), v.to_owned())).collect()
}

/// What our view holds: the first element with an effective entry wins.
fn ours(release: u16, class_path: &[PathBuf], asked: &[&str]) -> BTreeMap<String, String> {
    let limits = Limits::default();
    let archives = open(class_path, &limits).unwrap();
    let mut reader = Reader::new(&limits);
    let mut read = |path: &str| -> Vec<Vec<u8>> {
        let mut found = Vec::new();
        for archive in archives.list.iter().filter(|archive| archive.on_class_path) {
            for entry in effective(archive, release).filter(|entry| &*entry.path == path) {
                found.push(reader.read(archive, entry).unwrap().to_vec());
            }
        }
        found
    };
    asked
        .iter()
        .map(|&name| {
            let value = match name.strip_prefix("services:") {
                Some(service) => read(&format!("META-INF/services/{service}"))
                    .iter()
                    .map(|bytes| String::from_utf8_lossy(bytes).trim().to_owned())
                    .collect::<Vec<_>>()
                    .join(" "),
                None => read(&format!("{}.class", name.replace('.', "/")))
                    .first()
                    .map_or("absent".to_owned(), |bytes| word_in(bytes).to_owned()),
            };
            (name.to_owned(), value)
        })
        .collect()
}

/// The word that a copy carries, from its constant pool.
fn word_in(bytes: &[u8]) -> &'static str {
    let mark = |word: &str| [&[1, 0, word.len() as u8], word.as_bytes()].concat();
    WORDS.into_iter().find(|word| bytes.windows(word.len() + 3).any(|window| window == mark(word))).unwrap()
}

const ASKED: [&str; 4] = ["gauge.Tide", "gauge.Added", "gauge.Lock", "services:gauge.Service"];

fn agree(title: &str, class_path: &[PathBuf]) {
    for release in [17, 25] {
        let theirs = theirs(release, class_path, &ASKED);
        assert_eq!(ours(release, class_path, &ASKED), theirs, "{title}, on {release}");
    }
}

fn versions() -> Vec<Entry> {
    vec![
        class("", "Tide", "base"),
        class("", "Lock", "base"),
        class("META-INF/versions/8/", "Tide", "v8"),
        class("META-INF/versions/9/", "Tide", "v9"),
        class("META-INF/versions/11/", "Lock", "v11"),
        class("META-INF/versions/17/", "Tide", "v17"),
        class("META-INF/versions/21/", "Tide", "v21"),
        class("META-INF/versions/21/", "Added", "v21"),
        stored("META-INF/services/gauge.Service", b"base.Provider\n"),
        stored("META-INF/versions/17/META-INF/services/gauge.Service", b"versioned.Provider\n"),
    ]
}

struct Yard(TempDir);

impl Yard {
    fn jar(&self, name: &str, entries: &[Entry]) -> PathBuf {
        let path = self.0.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, archive(entries)).unwrap();
        path
    }
}

fn yard() -> Yard {
    Yard(tempfile::tempdir().unwrap())
}

/// JAR File Specification and JEP 238: the largest N that is not above the release, from 9 on; nothing
/// below META-INF is versioned.
#[test]
fn the_largest_version_not_above_the_release_wins() {
    let yard = yard();
    let mut entries = vec![manifest(&["Multi-Release: true"])];
    entries.extend(versions());
    agree("true", &[yard.jar("a.jar", &entries)]);
    let on = |release| ours(release, &[yard.0.path().join("a.jar")], &ASKED);
    assert_eq!(on(17)["gauge.Tide"], "v17");
    assert_eq!(on(25)["gauge.Tide"], "v21");
    assert_eq!(on(17)["gauge.Added"], "absent");
}

/// JAR File Specification, "Main Attributes": the value `true`, in any case; `JarFile` takes nothing else.
#[test]
fn only_true_in_the_main_section_makes_a_jar_multi_release() {
    let yard = yard();
    let manifests: [(&str, Entry); 8] = [
        ("upper case", manifest(&["Multi-Release: TRUE"])),
        ("header in lower case", manifest(&["multi-release: true"])),
        ("trailing blank", manifest(&["Multi-Release: true "])),
        ("two blanks before", manifest(&["Multi-Release:  true"])),
        ("yes", manifest(&["Multi-Release: yes"])),
        ("named section", manifest(&["", "Name: gauge/", "Multi-Release: true"])),
        ("continued line", manifest(&["Multi-Release: tr", " ue"])),
        (
            "last line of the section",
            manifest(&["Created-By: x", "Multi-Release: true", "", "Name: gauge/", "Sealed: false"]),
        ),
    ];
    for (title, text) in manifests {
        let mut entries = vec![text];
        entries.extend(versions());
        agree(title, &[yard.jar(&format!("{}.jar", title.replace(' ', "-")), &entries)]);
    }
}

/// `java.util.jar.JarFile`: version folders with leading zeros or of no number are plain folders.
#[test]
fn odd_version_folders_are_plain_folders() {
    let yard = yard();
    let entries = [
        manifest(&["Multi-Release: true"]),
        class("", "Tide", "base"),
        class("META-INF/versions/017/", "Tide", "v17"),
        class("META-INF/versions/x/", "Tide", "other"),
        class("META-INF/versions/09/", "Lock", "v9"),
    ];
    agree("odd folders", &[yard.jar("odd.jar", &entries)]);
}

/// `java.util.zip.ZipFile` looks names up in a hash table of the directory.
#[test]
fn of_two_entries_with_one_name_the_jvm_takes_the_one_that_we_take() {
    let yard = yard();
    let twice = [manifest(&[]), class("", "Tide", "base"), class("", "Tide", "other"), class("", "Lock", "base")];
    agree("twice", &[yard.jar("twice.jar", &twice)]);
}

/// `java -jar` and the class path take archives with bytes before the first entry (common practice, no source:
/// self-executing archives).
#[test]
fn bytes_before_the_archive_do_no_harm() {
    let yard = yard();
    let path = yard.0.path().join("prefixed.jar");
    fs::write(&path, archive_after(b"#!/bin/sh\nexit 0\n", &[manifest(&[]), class("", "Tide", "base")])).unwrap();
    agree("prefix", &[path]);
}

/// JAR File Specification, "Class-Path attribute": relative to the jar, in order, recursively, after the jar itself; a
/// name that ends in `/` is a folder; what is missing is skipped.
#[test]
fn class_path_headers_lead_where_the_jvm_goes() {
    let yard = yard();
    let main = yard.jar("main.jar", &[manifest(&["Class-Path: lib/one.jar gone.jar classes/ lib/three.jar"])]);
    yard.jar("lib/one.jar", &[manifest(&["Class-Path: two.jar"]), class("", "Lock", "base")]);
    yard.jar("lib/two.jar", &[manifest(&[]), class("", "Tide", "base"), class("", "Lock", "other")]);
    yard.jar("lib/three.jar", &[manifest(&[]), class("", "Tide", "other"), class("", "Added", "other")]);
    let folder = yard.0.path().join("classes/gauge");
    fs::create_dir_all(&folder).unwrap();
    fs::copy(copies().folder.path().join("v9/gauge/Added.class"), folder.join("Added.class")).unwrap();
    agree("links", std::slice::from_ref(&main));
    assert_eq!(ours(17, &[main], &ASKED)["gauge.Added"], "v9");
}

/// JAR File Specification, "Class-Path attribute": a name without `/` at its end is a jar, whatever it is on disk.
#[test]
fn a_folder_named_without_a_slash_is_no_folder() {
    let yard = yard();
    let main = yard.jar("main.jar", &[manifest(&["Class-Path: classes"])]);
    let folder = yard.0.path().join("classes/gauge");
    fs::create_dir_all(&folder).unwrap();
    fs::copy(copies().folder.path().join("v9/gauge/Added.class"), folder.join("Added.class")).unwrap();
    agree("no slash", &[main]);
}

/// `java.util.ServiceLoader` reads the files of one name from all elements.
#[test]
fn service_files_of_all_elements_are_found() {
    let yard = yard();
    let file = |name: &str, text: &str| {
        yard.jar(name, &[manifest(&[]), stored("META-INF/services/gauge.Service", text.as_bytes())])
    };
    agree("services", &[file("one.jar", "a.One"), file("two.jar", "b.Two")]);
    let (providers, faults) = services::parse(
        b"# tide\n a.One # first\n\nb.Two\nno good\n",
        &secateur::names::Locator::of_path(Path::new("x.jar")),
        &Limits::default(),
    );
    let names: Vec<&str> = providers.iter().map(|provider| &*provider.class).collect();
    assert_eq!((names, faults.len()), (vec!["a.One", "b.Two"], 1));
}

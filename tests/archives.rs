//! Archives of every layout: which elements the class path gets, in which order, and what is said about them. The
//! archives are written by `support/zip.rs`; the layouts are those of the JAR File Specification, the Servlet
//! specification §10.5, the Jakarta EE platform specification ch. 8 and the published layout of executable jars.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::fs;
use std::path::{Path, PathBuf};

use secateur::archive::{Archives, Kind, Reader, effective, open};
use secateur::diag::Code;
use secateur::limits::Limits;
use tempfile::TempDir;

#[path = "support/zip.rs"]
mod zip;

use zip::{Entry, archive, archive_after, deflated, manifest, stored};

/// A folder that goes with the test, and the archives that it puts there.
struct Yard(TempDir);

impl Yard {
    fn new() -> Self {
        Yard(tempfile::tempdir().unwrap())
    }

    fn put(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.0.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, bytes).unwrap();
        path
    }

    fn jar(&self, name: &str, entries: &[Entry]) -> PathBuf {
        self.put(name, &archive(entries))
    }

    /// The elements on the class path, as locators without the folder.
    fn class_path(&self, archives: &Archives) -> Vec<String> {
        let on = archives.list.iter().filter(|archive| archive.on_class_path);
        on.map(|archive| self.plain(archive.locator.as_str())).collect()
    }

    fn plain(&self, locator: &str) -> String {
        locator.replace(&format!("{}/", self.0.path().display()), "")
    }
}

fn opened(inputs: &[&Path]) -> Archives {
    let inputs: Vec<PathBuf> = inputs.iter().map(|path| path.to_path_buf()).collect();
    open(&inputs, &Limits::default()).expect("the inputs exist")
}

fn codes(archives: &Archives) -> Vec<Code> {
    archives.diagnostics.iter().map(|finding| finding.code).collect()
}

/// The head of a class file (JVMS §4.1), and nothing that is looked at here.
fn class(name: &str) -> Entry {
    deflated(name, b"\xCA\xFE\xBA\xBE\0\0\0\x34")
}

fn bytes_of(archives: &Archives, path: &str) -> Vec<u8> {
    let limits = Limits::default();
    let mut reader = Reader::new(&limits);
    for archive in &archives.list {
        if let Some(entry) = archive.entries.iter().find(|entry| &*entry.path == path) {
            return reader.read(archive, entry).expect("readable").to_vec();
        }
    }
    panic!("no entry {path}");
}

#[test]
fn a_plain_jar_is_one_element() {
    let yard = Yard::new();
    let jar = yard.jar("tides.jar", &[manifest(&["Main-Class: tide.Main"]), class("tide/Main.class")]);
    let archives = opened(&[&jar]);
    assert_eq!(yard.class_path(&archives), ["tides.jar"]);
    assert_eq!(archives.list[0].kind, Kind::Jar);
    assert_eq!(archives.list[0].manifest.as_ref().unwrap().get("main-class"), Some("tide.Main"));
    assert!(archives.diagnostics.is_empty(), "{:?}", archives.diagnostics);
}

#[test]
fn forms_that_writers_use_are_all_read() {
    let yard = Yard::new();
    let streamed = Entry { descriptor: true, ..deflated("a/Streamed.class", b"streamed") };
    let large = Entry { zip64: true, ..deflated("a/Large.class", b"large") };
    let entries = [streamed, large, stored("a/Stored.class", b"stored"), stored("a/Empty.class", b"")];
    let jar = yard.put("mixed.jar", &archive_after(b"#!/bin/sh\nexec java -jar $0\n", &entries));
    let archives = opened(&[&jar]);
    assert!(archives.diagnostics.is_empty(), "{:?}", archives.diagnostics);
    for (path, content) in [
        ("a/Streamed.class", "streamed"),
        ("a/Large.class", "large"),
        ("a/Stored.class", "stored"),
        ("a/Empty.class", ""),
    ] {
        assert_eq!(bytes_of(&archives, path), content.as_bytes(), "{path}");
    }
}

#[test]
fn signature_files_are_entries_like_others() {
    let yard = Yard::new();
    let jar = yard.jar(
        "signed.jar",
        &[manifest(&[]), stored("META-INF/GAUGE.SF", b"x"), stored("META-INF/GAUGE.RSA", b"x"), class("a/A.class")],
    );
    assert!(opened(&[&jar]).diagnostics.is_empty());
}

fn boot(library: impl Fn(&str, &[u8]) -> Entry, index: Option<&str>) -> Vec<Entry> {
    let tides = archive(&[class("tide/Table.class")]);
    let sluices = archive(&[class("sluice/Gate.class")]);
    let mut lines = vec![
        "Main-Class: loader.Launch",
        "Start-Class: harbour.Service",
        "Spring-Boot-Classes: BOOT-INF/classes/",
        "Spring-Boot-Lib: BOOT-INF/lib/",
    ];
    if index.is_some() {
        lines.push("Spring-Boot-Classpath-Index: BOOT-INF/classpath.idx");
    }
    let mut entries = vec![
        manifest(&lines),
        class("loader/Launch.class"),
        class("BOOT-INF/classes/harbour/Service.class"),
        library("BOOT-INF/lib/tides.jar", &tides),
        library("BOOT-INF/lib/sluices.jar", &sluices),
    ];
    entries.extend(index.map(|text| stored("BOOT-INF/classpath.idx", text.as_bytes())));
    entries
}

#[test]
fn an_executable_jar_starts_with_its_loader_then_its_classes_then_its_libraries() {
    let yard = Yard::new();
    for library in [stored, deflated] {
        let jar = yard.jar("boot.jar", &boot(library, None));
        let archives = opened(&[&jar]);
        assert_eq!(
            yard.class_path(&archives),
            [
                "boot.jar",
                "boot.jar!/BOOT-INF/classes",
                "boot.jar!/BOOT-INF/lib/tides.jar",
                "boot.jar!/BOOT-INF/lib/sluices.jar"
            ]
        );
        assert_eq!(archives.list[0].kind, Kind::ExecutableJar);
        assert_eq!(&*archives.list[1].entries[0].path, "harbour/Service.class");
        assert!(archives.diagnostics.is_empty(), "{:?}", archives.diagnostics);
    }
}

#[test]
fn the_class_path_index_gives_the_order() {
    let yard = Yard::new();
    let index = "- \"BOOT-INF/lib/sluices.jar\"\n- \"BOOT-INF/lib/gone.jar\"\n- \"BOOT-INF/lib/tides.jar\"\n";
    let archives = opened(&[&yard.jar("boot.jar", &boot(stored, Some(index)))]);
    assert_eq!(
        yard.class_path(&archives)[2..],
        ["boot.jar!/BOOT-INF/lib/sluices.jar", "boot.jar!/BOOT-INF/lib/tides.jar"]
    );
    assert_eq!(codes(&archives), [Code::BadClassPathIndex]);
    assert!(archives.diagnostics[0].message.contains("gone.jar"));
}

#[test]
fn a_web_archive_has_its_classes_before_its_libraries() {
    let yard = Yard::new();
    let library = archive(&[class("tide/Table.class")]);
    let war = yard.jar(
        "gauges.war",
        &[
            stored("index.html", b"<p>"),
            class("NotLoaded.class"),
            stored("WEB-INF/lib/tides.jar", &library),
            class("WEB-INF/classes/gauge/Servlet.class"),
            stored("WEB-INF/web.xml", b"<web-app/>"),
        ],
    );
    let archives = opened(&[&war]);
    assert_eq!(archives.list[0].kind, Kind::War);
    assert_eq!(yard.class_path(&archives), ["gauges.war!/WEB-INF/classes", "gauges.war!/WEB-INF/lib/tides.jar"]);
}

#[test]
fn modules_of_an_enterprise_archive_share_its_libraries_and_nothing_else() {
    let yard = Yard::new();
    let library = archive(&[class("tide/Table.class")]);
    let war = archive(&[class("WEB-INF/classes/gauge/Servlet.class"), stored("WEB-INF/lib/own.jar", &library)]);
    let descriptor = b"<application><module><web><web-uri>north.war</web-uri></web></module>\
        <module><web><web-uri>south.war</web-uri></web></module><module><ejb>locks.jar</ejb></module>\
        <module><connector>serial.rar</connector></module><module><ejb>gone.jar</ejb></module></application>";
    let ear = yard.jar(
        "harbour.ear",
        &[
            stored("META-INF/application.xml", descriptor),
            stored("lib/tides.jar", &library),
            stored("north.war", &war),
            stored("south.war", &war),
            stored("locks.jar", &library),
            stored("serial.rar", &archive(&[stored("driver.jar", &library)])),
            stored("stray.jar", &library),
        ],
    );
    let archives = opened(&[&ear]);
    assert_eq!(
        yard.class_path(&archives),
        [
            "harbour.ear!/lib/tides.jar",
            "harbour.ear!/north.war!/WEB-INF/classes",
            "harbour.ear!/north.war!/WEB-INF/lib/own.jar",
            "harbour.ear!/south.war!/WEB-INF/classes",
            "harbour.ear!/south.war!/WEB-INF/lib/own.jar",
            "harbour.ear!/locks.jar",
            "harbour.ear!/serial.rar",
            "harbour.ear!/serial.rar!/driver.jar",
        ]
    );
    let scopes: Vec<u32> = archives.list.iter().filter(|archive| archive.on_class_path).map(|a| a.scope.0).collect();
    assert_eq!(scopes, [0, 1, 1, 2, 2, 0, 0, 0]);
    assert_eq!(codes(&archives), [Code::BadApplicationDescriptor, Code::UnopenedArchive]);
}

#[test]
fn a_broken_descriptor_is_said_and_file_names_tell_instead() {
    let yard = Yard::new();
    let library = archive(&[class("tide/Table.class")]);
    let entries = [stored("META-INF/application.xml", b"<application>"), stored("lib/tides.jar", &library)];
    let archives = opened(&[&yard.jar("harbour.ear", &entries)]);
    assert_eq!(yard.class_path(&archives), ["harbour.ear!/lib/tides.jar"]);
    assert_eq!(codes(&archives), [Code::BadApplicationDescriptor]);
}

#[test]
fn folders_hold_classes_or_jars() {
    let yard = Yard::new();
    yard.put("classes/gauge/Service.class", b"x");
    yard.jar("lib/b.jar", &[class("b/B.class")]);
    yard.jar("lib/a.jar", &[class("a/A.class")]);
    let archives = opened(&[&yard.0.path().join("classes"), &yard.0.path().join("lib")]);
    assert_eq!(yard.class_path(&archives), ["classes", "lib/a.jar", "lib/b.jar"]);
    assert_eq!(archives.list[0].kind, Kind::ClassFolder);
    assert_eq!(bytes_of(&archives, "gauge/Service.class"), b"x");
}

/// A program beside its libraries: who names the folder means all of them.
#[test]
fn jars_below_a_folder_follow_those_that_stand_in_it() {
    let yard = Yard::new();
    yard.jar("app/lib/main/a.jar", &[class("a/A.class")]);
    yard.jar("app/gauge.jar", &[class("g/G.class")]);
    let archives = opened(&[&yard.0.path().join("app")]);
    assert_eq!(yard.class_path(&archives), ["app/gauge.jar", "app/lib/main/a.jar"]);
    assert_eq!(codes(&archives), []);
}

/// The "fast-jar" of the Quarkus documentation: the class path is in a file beside the jar, as `java.io.DataOutput` writes
/// texts. That nothing but texts is taken from it is by intent; what stands between them is of a file of release 3.8.
#[test]
fn a_class_path_in_a_file_beside_a_jar_is_read() {
    let yard = Yard::new();
    let runner =
        || manifest(&["Main-Class: io.quarkus.bootstrap.runner.QuarkusEntryPoint", "Class-Path: lib/boot/r.jar"]);
    let run = yard.jar("app/quarkus-run.jar", &[runner()]);
    yard.jar("app/lib/boot/r.jar", &[class("r/R.class")]);
    yard.jar("app/lib/main/tide.jar", &[class("t/T.class")]);
    yard.jar("app/app/gauge.jar", &[class("g/G.class")]);
    let mut index = vec![0xF0, 0x31, 0x54, 0x32, 0, 0, 0, 2];
    for (text, behind) in [
        ("gauge.GeneratedMain", &[0, 3][..]),
        ("app/gauge.jar", &[0, 0, 1]),
        ("g/tides", &[]),
        ("lib/main/tide.jar", &[1, 0, 0]),
        ("lib/main/gone.jar", &[0, 0, 0]),
    ] {
        index.extend((text.len() as u16).to_be_bytes());
        index.extend(text.as_bytes());
        index.extend(behind);
    }
    yard.put("app/quarkus/quarkus-application.dat", &index);
    for input in [run, yard.0.path().join("app")] {
        let archives = opened(&[&input]);
        assert_eq!(
            yard.class_path(&archives),
            ["app/quarkus-run.jar", "app/lib/boot/r.jar", "app/app/gauge.jar", "app/lib/main/tide.jar"]
        );
        assert_eq!(archives.list[0].starts.as_deref(), Some("gauge.GeneratedMain"));
        assert_eq!(codes(&archives), [Code::MissingClassPathEntry]);
        assert!(archives.diagnostics[0].message.starts_with("quarkus/quarkus-application.dat names lib/main/gone.jar"));
    }
    let alone =
        opened(&[&yard.jar(
            "other/quarkus-run.jar",
            &[manifest(&["Main-Class: io.quarkus.bootstrap.runner.QuarkusEntryPoint"])],
        )]);
    assert_eq!(codes(&alone), [Code::BadClassPathIndex]);
}

/// Whoever starts a jar with jars in it, in a layout that nobody has published, starts a class loader for them (common
/// practice, no source).
#[test]
fn of_a_jar_that_is_started_all_jars_in_it_are_read() {
    let yard = Yard::new();
    let inner = archive(&[class("a/A.class")]);
    let entries = |headers: &[&str]| [manifest(headers), class("b/B.class"), stored("parts/run/one.jar", &inner)];
    for headers in [&["Main-Class: b.B"][..], &["Main-Class: b.B", "Start-Class: a.A"]] {
        let archives = opened(&[&yard.jar("micro.jar", &entries(headers))]);
        assert_eq!(yard.class_path(&archives), ["micro.jar", "micro.jar!/parts/run/one.jar"]);
        assert_eq!(codes(&archives), []);
    }
}

/// Under another ending and in a folder of its own only the agent's loader finds them (common practice, no source). Other
/// archives have none such, and what stands in packages beside classes is not apart.
#[test]
fn classes_that_an_agent_keeps_apart_are_an_element_of_their_own() {
    let yard = Yard::new();
    let apart = [
        class("gauge/Agent.class"),
        class("inst/tide/Level.classdata"),
        stored("inst/META-INF/services/tide.Probe", b"tide.Level\n"),
        class("gauge/Spare.classdata"),
    ];
    let with = |line: &str| [&[manifest(&[line])], &apart[..]].concat();
    let agent = yard.jar("agent.jar", &with("Premain-Class: gauge.Agent"));
    let archives = opened(&[&agent]);
    assert_eq!(yard.class_path(&archives), ["agent.jar", "agent.jar!/.classdata", "agent.jar!/inst"]);
    let inner = &archives.list[2];
    let paths: Vec<&str> = inner.entries.iter().map(|entry| &*entry.path).collect();
    assert_eq!(paths, ["tide/Level.class", "META-INF/services/tide.Probe"]);
    assert_eq!(yard.plain(inner.locate(&inner.entries[0]).as_str()), "agent.jar!/inst/tide/Level.classdata");
    assert_eq!(bytes_of(&archives, "tide/Level.class"), bytes_of(&archives, "gauge/Agent.class"));
    assert_eq!(archives.list[1].entries[0].path.as_ref(), "gauge/Spare.class");
    assert!(codes(&archives).is_empty());
    let started = yard.jar("started.jar", &with("Main-Class: gauge.Agent"));
    assert_eq!(yard.class_path(&opened(&[&started])), ["started.jar", "started.jar!/.classdata", "started.jar!/inst"]);
    let library = yard.jar("library.jar", &with("Implementation-Title: gauge"));
    assert_eq!(yard.class_path(&opened(&[&library])), ["library.jar"]);
}

/// An unpacked executable jar has the layout of the packed one, but folders know no versions (JAR File Specification,
/// JEP 238: a property of jar files).
#[test]
fn an_unpacked_executable_jar_reads_like_a_packed_one() {
    let yard = Yard::new();
    yard.put("app/META-INF/MANIFEST.MF", b"Manifest-Version: 1.0\nStart-Class: gauge.Main\nMulti-Release: true\nSpring-Boot-Classpath-Index: BOOT-INF/classpath.idx\n\n");
    yard.put("app/BOOT-INF/classpath.idx", b"- \"BOOT-INF/lib/b.jar\"\n- \"BOOT-INF/lib/a.jar\"\n");
    yard.put("app/META-INF/versions/17/loader/Loader.class", b"new");
    yard.put("app/loader/Loader.class", b"old");
    yard.put("app/BOOT-INF/classes/gauge/Main.class", b"x");
    yard.jar("app/BOOT-INF/lib/a.jar", &[class("a/A.class")]);
    yard.jar("app/BOOT-INF/lib/b.jar", &[class("b/B.class")]);
    let archives = opened(&[&yard.0.path().join("app")]);
    let names = yard.class_path(&archives);
    assert_eq!(
        names.iter().map(|name| name.rsplit('/').next().unwrap()).collect::<Vec<_>>(),
        ["app", "classes", "b.jar", "a.jar"]
    );
    assert_eq!(archives.list[0].kind, Kind::ExecutableJar);
    assert_eq!(codes(&archives), []);
    assert_eq!(bytes_of(&archives, "gauge/Main.class"), b"x");
    assert_eq!(bytes_of(&archives, "loader/Loader.class"), b"old");
    let mut reader = Reader::new(&Limits::default());
    for archive in &archives.list {
        for entry in &archive.entries {
            reader.read(archive, entry).unwrap_or_else(|finding| panic!("{}: {}", finding.place, finding.message));
        }
    }
}

#[test]
fn archives_that_nothing_loads_are_named() {
    let yard = Yard::new();
    let inner = archive(&[class("a/A.class")]);
    let archives =
        opened(&[&yard
            .jar("agent.jar", &[class("b/B.class"), stored("inst/one.jar", &inner), stored("inst/two.jar", &inner)])]);
    assert_eq!(codes(&archives), [Code::UnopenedArchive]);
    assert!(archives.diagnostics[0].message.contains("inst/one.jar"), "{}", archives.diagnostics[0].message);
}

/// A server that a jar starts deploys the web archive that it carries: its classes and libraries see those of the jar and
/// are seen by nobody else (Servlet specification §10.7.2; that such jars are made so is common practice, no source).
#[test]
fn a_jar_that_is_started_deploys_the_web_archive_in_it() {
    let yard = Yard::new();
    let library = archive(&[class("tide/Table.class")]);
    let war = archive(&[class("WEB-INF/classes/gauge/Servlet.class"), stored("WEB-INF/lib/own.jar", &library)]);
    let entries = |manifest: Entry| {
        [manifest, class("server/Main.class"), stored("north.war", &war), stored("parts/south.war", &war)]
    };
    let archives = opened(&[&yard.jar("harbour.jar", &entries(manifest(&["Main-Class: server.Main"])))]);
    assert_eq!(
        yard.class_path(&archives),
        ["harbour.jar", "harbour.jar!/north.war!/WEB-INF/classes", "harbour.jar!/north.war!/WEB-INF/lib/own.jar"]
    );
    let scopes: Vec<u32> = archives.list.iter().filter(|archive| archive.on_class_path).map(|a| a.scope.0).collect();
    assert_eq!(scopes, [0, 1, 1]);
    assert_eq!(codes(&archives), [Code::UnopenedArchive]);
    assert!(archives.diagnostics[0].message.contains("1 of the archives in it, first parts/south.war"));
    // A library starts no server.
    let archives = opened(&[&yard.jar("library.jar", &entries(manifest(&[])))]);
    assert_eq!(yard.class_path(&archives), ["library.jar"]);
    assert!(archives.diagnostics[0].message.contains("2 of the archives in it"), "{:?}", archives.diagnostics);
}

#[test]
fn archives_of_other_extensions_are_named_as_well() {
    let yard = Yard::new();
    for name in ["inst/a.war", "b.ear", "c.RAR"] {
        let archives = opened(&[&yard.jar("plain.jar", &[class("b/B.class"), stored(name, b"")])]);
        assert_eq!(codes(&archives), [Code::UnopenedArchive]);
        assert!(archives.diagnostics[0].message.contains(name), "{:?}", archives.diagnostics);
    }
}

#[test]
#[cfg(unix)]
fn a_folder_that_links_to_itself_ends() {
    let yard = Yard::new();
    yard.put("classes/a/A.class", b"x");
    std::os::unix::fs::symlink(yard.0.path().join("classes"), yard.0.path().join("classes/loop")).unwrap();
    let archives = opened(&[&yard.0.path().join("classes")]);
    assert_eq!(archives.list[0].entries.len(), 1);
}

#[test]
fn class_path_headers_are_followed_on_disk() {
    let yard = Yard::new();
    let main = yard.jar(
        "main.jar",
        &[manifest(&["Class-Path: lib/one.jar classes/ gone.jar https://gauges.example/x.jar"]), class("m/M.class")],
    );
    yard.jar("lib/one.jar", &[manifest(&["Class-Path: ../main.jar two.jar"]), class("o/O.class")]);
    yard.jar("lib/two.jar", &[class("t/T.class")]);
    yard.put("classes/c/C.class", b"x");
    let archives = opened(&[&main]);
    let names: Vec<String> =
        yard.class_path(&archives).iter().map(|name| name.trim_end_matches('/').to_owned()).collect();
    assert_eq!(names, ["main.jar", "lib/one.jar", "lib/two.jar", "classes"]);
    let mut codes = codes(&archives);
    codes.sort_unstable();
    assert_eq!(codes, [Code::MissingClassPathEntry, Code::IgnoredClassPathEntry]);
}

#[test]
fn several_inputs_are_one_class_path_and_none_is_read_twice() {
    let yard = Yard::new();
    let a = yard.jar("a.jar", &[class("a/A.class")]);
    let b = yard.jar("b.jar", &[class("b/B.class")]);
    assert_eq!(yard.class_path(&opened(&[&b, &a, &b])), ["b.jar", "a.jar"]);
}

#[test]
fn versioned_entries_count_where_the_manifest_says_so() {
    let yard = Yard::new();
    let entries = |header: &str| {
        [
            manifest(&[header]),
            class("a/A.class"),
            class("META-INF/versions/11/a/A.class"),
            class("META-INF/versions/21/a/A.class"),
            class("META-INF/versions/17/a/New.class"),
            class("META-INF/versions/8/a/Old.class"),
            stored("META-INF/versions/11/META-INF/services/a.Service", b"a.A"),
        ]
    };
    let seen = |header: &str, release: u16| -> Vec<(String, u16)> {
        let archives = opened(&[&yard.jar("versioned.jar", &entries(header))]);
        effective(&archives.list[0], release)
            .filter(|entry| entry.is_class())
            .map(|entry| (entry.path.to_string(), entry.version))
            .collect()
    };
    let pairs = |list: &[(&str, u16)]| -> Vec<(String, u16)> { list.iter().map(|&(p, v)| (p.to_owned(), v)).collect() };
    assert_eq!(seen("Multi-Release: true", 9), pairs(&[("a/A.class", 0)]));
    assert_eq!(seen("Multi-Release: TRUE", 17), pairs(&[("a/A.class", 11), ("a/New.class", 17)]));
    assert_eq!(seen("Multi-Release: true", 25), pairs(&[("a/A.class", 21), ("a/New.class", 17)]));
    assert_eq!(seen("Multi-Release: yes", 25), pairs(&[("a/A.class", 0)]));
}

#[test]
fn an_input_that_is_not_there_is_an_error_and_one_that_is_no_archive_a_finding() {
    let yard = Yard::new();
    assert!(open(&[yard.0.path().join("gone.jar")], &Limits::default()).is_err());
    let archives = opened(&[&yard.put("text.jar", b"no archive at all")]);
    assert_eq!(codes(&archives), [Code::DamagedArchive]);
}

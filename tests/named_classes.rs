//! Classes that are named where code does not name them in full: lists of the user's, and literal names that class
//! initialisation stands and falls with.
//!
//! Judge: the JVM, on both releases, with and without the modules (`--limit-modules`).

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

use secateur::pipeline;
use secateur::plan::Plan;
use secateur::progress::Silent;
use secateur::report::{Report, Standing};
use secateur::verdict::Policy;

#[path = "support/java.rs"]
mod java;
#[path = "support/jdk.rs"]
mod jdk;
#[path = "support/zip.rs"]
mod zip;

/// Creates what its arguments name, and nothing tells from where they come.
const STATION: &str = r#"
public class Station {
    public static void main(String[] names) throws Exception {
        for (String name : names) {
            Object made = Class.forName(name).getDeclaredConstructor().newInstance();
            System.out.println(made.getClass().getModule().getName() + ": " + made);
        }
    }
}"#;

/// What may be named: a class of the program that uses java.sql.
const ARCHIVE: &str = r#"
public class Archive {
    public String toString() { return "stored at " + new java.sql.Timestamp(0).getTime(); }
}"#;

/// Class initialisation that stands and falls with a class, that bears its absence, and that hangs on a choice.
const GATES: [(&str, &str); 3] = [
    (
        "Throws",
        r#"static final Class<?> TIME;
        static {
            try { TIME = Class.forName("java.sql.Time"); }
            catch (ReflectiveOperationException e) { throw new ExceptionInInitializerError(e); }
        }"#,
    ),
    (
        "Bears",
        r#"static Class<?> TIME;
        static { try { TIME = Class.forName("java.sql.Time"); } catch (ReflectiveOperationException e) { TIME = null; } }"#,
    ),
    (
        "Chooses",
        r#"static Class<?> TIME;
        static {
            try { TIME = Class.forName(System.getProperty("gate", "java.sql.Time")); }
            catch (ReflectiveOperationException e) { throw new ExceptionInInitializerError(e); }
        }"#,
    ),
];

struct Work(tempfile::TempDir);

impl Work {
    fn new(sources: &[(&str, &str)]) -> Work {
        let folder = tempfile::tempdir().unwrap();
        let archive = zip::archive(&java::compiled(17, &["--release", "17"], sources));
        fs::write(folder.path().join("tides.jar"), archive).unwrap();
        Work(folder)
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn run(&self, release: u16, modules: &str, words: &[&str]) -> Output {
        let mut java = Command::new(jdk::tool(release, "java"));
        java.args(["--limit-modules", modules, "-cp"]).arg(self.path("tides.jar")).args(words).output().unwrap()
    }

    fn plan(&self, entry: &str, release: u16) -> Plan {
        Plan {
            inputs: vec![self.path("tides.jar")],
            entries: vec![entry.into()],
            release: Some(release),
            ..Plan::default()
        }
    }

    fn listing(&self, entry: &str, release: u16, list: &str) -> Report {
        fs::write(self.path("plugins.txt"), list).unwrap();
        let plan = Plan { names: vec![self.path("plugins.txt")], policy: Policy::Lean, ..self.plan(entry, release) };
        pipeline::scan(&plan, &Silent).unwrap()
    }
}

fn standing(report: &Report, module: &str) -> Option<Standing> {
    report.modules.iter().find(|row| row.name == module).map(|row| row.standing)
}

#[test]
fn what_a_list_names_is_needed_and_nothing_else() {
    let work = Work::new(&[("Station", STATION), ("Archive", ARCHIVE)]);
    for release in [17, 25] {
        for (names, module) in [("Archive", "java.sql"), ("javax.naming.InitialContext", "java.naming")] {
            let report = work.listing("Station", release, &format!("# plugins\n{names}\n"));
            assert_eq!(standing(&report, module), Some(Standing::Needed), "{names} on {release}");
            let list = report.list.join(",");
            let done = work.run(release, &list, &["Station", names]);
            assert!(done.status.success(), "{names} with {list}: {}", String::from_utf8_lossy(&done.stderr));
            let done = work.run(release, "java.base", &["Station", names]);
            let said = String::from_utf8_lossy(&done.stderr).into_owned();
            assert!(!done.status.success() && said.contains("NotFound") | said.contains("NoClassDef"), "{said}");
        }
        let lean = Plan { policy: Policy::Lean, ..work.plan("Station", release) };
        assert_eq!(pipeline::scan(&lean, &Silent).unwrap().list, ["java.base"]);
    }
}

#[test]
fn a_list_is_shown_with_what_it_names() {
    let work = Work::new(&[("Station", STATION), ("Archive", ARCHIVE)]);
    let report = work.listing(
        "Station",
        17,
        "Archive\njava.sql.Driver\njava.lang.String\nArchiv\njava.applet.Gauge\norg.omg.CORBA.ORB",
    );
    let row = &report.listed[0];
    assert_eq!((row.of_program, row.of_platform, row.unknown), (1, 2, 3));
    let java_sql = report.modules.iter().find(|row| row.name == "java.sql").unwrap();
    let listed = java_sql.evidence.iter().find(|row| row.kind == "listed").unwrap();
    assert!(listed.asker.ends_with("plugins.txt") && listed.asker.starts_with("line 2 of "), "{}", listed.asker);
    let found: Vec<&str> =
        report.findings.iter().filter(|one| one.code == "unknown-name").map(|one| &*one.message).collect();
    assert_eq!(found.len(), 3, "{found:?}");
    assert!(found[0].starts_with("line 4: Archiv is in none of the archives and not in release 17"), "{found:?}");
    // JEP 320 took the module out in 11.
    assert!(found[2].ends_with("until release 10 java.corba had it"), "{found:?}");
    let explained = pipeline::explain(&work.plan("Station", 17), "java.sql", &Silent);
    assert!(explained.is_ok());
}

#[test]
fn a_literal_that_initialisation_needs_is_no_doubt() {
    let sources = GATES.map(|(name, body)| {
        let main = "public static void main(String[] words) { System.out.println(\"level\"); }";
        (name, format!("public class {name} {{ {body} {main} }}"))
    });
    let sources: Vec<(&str, &str)> = sources.iter().map(|(name, text)| (*name, text.as_str())).collect();
    let work = Work::new(&sources);
    for release in [17, 25] {
        for (name, passes, expected) in [
            ("Throws", false, Standing::Needed),
            ("Bears", true, Standing::Tolerated),
            ("Chooses", false, Standing::Uncertain),
        ] {
            let done = work.run(release, "java.base", &[name]);
            assert_eq!(done.status.success(), passes, "{name}: {}", String::from_utf8_lossy(&done.stderr));
            assert!(work.run(release, "java.sql", &[name]).status.success(), "{name}");
            let report = pipeline::scan(&work.plan(name, release), &Silent).unwrap();
            assert_eq!(standing(&report, "java.sql"), Some(expected), "{name} on {release}");
        }
    }
}

//! Small programs that print the class which they finally ask for; the JVM is the judge.
//!
//! What a program prints must be among the names that we find for its calls. Each is compiled twice where it can be:
//! for release 17, whose compiler joins texts by call sites (JEP 280), and for release 8, where builders do.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use secateur::flow::sinks::{Form, Purpose};

use crate::judge::jdk;
use crate::world::World;

/// What must be known of every name that a program asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Knowledge {
    /// The name, and that there is no other.
    Exact,
    /// The name, and that there may be others.
    ExactAmongOthers,
    /// How it begins and ends.
    Pattern,
    /// That nothing is known.
    Unknown,
}

struct Program {
    name: String,
    /// A number of the list of cases that must be there; 0 for those beyond it.
    case: u8,
    knowledge: Knowledge,
}

fn sources() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/flow")
}

fn programs() -> Vec<Program> {
    let mut paths: Vec<PathBuf> = fs::read_dir(sources()).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|extension| extension == "java"));
    paths.sort();
    paths
        .iter()
        .map(|path| {
            let text = fs::read_to_string(path).unwrap();
            let head = |key: &str| {
                let line = text.lines().find_map(|line| line.strip_prefix(" * ")?.strip_prefix(key));
                line.unwrap_or_else(|| panic!("{} lacks `{key}`", path.display())).to_owned()
            };
            let knowledge = match &*head("known: ") {
                "exact" => Knowledge::Exact,
                "exact-among-others" => Knowledge::ExactAmongOthers,
                "pattern" => Knowledge::Pattern,
                "unknown" => Knowledge::Unknown,
                other => panic!("{}: {other}", path.display()),
            };
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            Program { name, case: head("case: ").parse().unwrap(), knowledge }
        })
        .collect()
}

/// The programs' classes, for that release.
fn compiled(release: u16) -> PathBuf {
    static COMPILED: OnceLock<()> = OnceLock::new();
    let folder = |release: u16| Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("flow-{release}"));
    COMPILED.get_or_init(|| {
        for release in [8, 17] {
            let out = folder(release);
            let _ = fs::remove_dir_all(&out);
            // What release 8 has no API for.
            let newer = |program: &Program| release == 8 && program.name == "LookupFind";
            let names = programs().into_iter().filter(|program| !newer(program)).map(|program| program.name);
            let output = Command::new(jdk::tool(17, "javac"))
                .args(["-nowarn", "-proc:none", "-Xlint:none", "-encoding", "UTF-8", "--release"])
                .arg(release.to_string())
                .arg("-d")
                .arg(&out)
                .args(names.map(|name| sources().join(name).with_extension("java")))
                .output()
                .expect("javac starts");
            assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
            fs::copy(sources().join("gauge.properties"), out.join("gauge.properties")).unwrap();
        }
    });
    folder(release)
}

/// The class files of one program.
pub fn classes(release: u16, name: &str) -> Vec<Vec<u8>> {
    let mut paths: Vec<PathBuf> =
        fs::read_dir(compiled(release).join("flow")).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let own = |path: &PathBuf| {
        let stem = path.file_stem().unwrap().to_string_lossy().into_owned();
        stem.split('$').next() == Some(name)
    };
    paths.iter().filter(|path| own(path)).map(|path| fs::read(path).unwrap()).collect()
}

/// What the program asks for, as the JVM names it.
fn asked(release: u16, program: &Program) -> Vec<String> {
    let arguments: &[&str] = match &*program.name {
        "FromOutside" => &["java.sql.Driver"],
        "PartOfName" => &["Driver", "Database", "sql", "e"],
        _ => &[],
    };
    let output = Command::new(jdk::tool(17, "java"))
        .args(["-XX:TieredStopAtLevel=1", "-cp"])
        .arg(compiled(release))
        .arg(format!("flow.{}", program.name))
        .args(arguments)
        .output()
        .expect("java starts");
    assert!(output.status.success(), "{}: {}", program.name, String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).unwrap();
    let asked: Vec<String> = text.lines().map(|line| line.strip_prefix("asks ").unwrap().replace('.', "/")).collect();
    assert!(!asked.is_empty(), "{} asks for nothing", program.name);
    asked
}

fn world(release: u16, program: &Program) -> World {
    let mut world = World::of("flow");
    for bytes in classes(release, &program.name) {
        assert_eq!(world.read(&bytes), 0, "{}", program.name);
    }
    let text = fs::read_to_string(sources().join("gauge.properties")).unwrap();
    for (key, value) in text.lines().filter_map(|line| line.split_once(" = ")) {
        world.properties.insert(key.into(), value.into());
    }
    world
}

#[test]
fn names_are_those_that_the_jvm_is_asked_for() {
    let mut wrong = Vec::new();
    for release in [8, 17] {
        for program in programs() {
            if release == 8 && program.name == "LookupFind" {
                continue;
            }
            let world = world(release, &program);
            let found: Vec<_> = world
                .sinks
                .iter()
                .filter(|site| site.sink.form != Form::Key && site.sink.purpose != Purpose::Introspect)
                .map(|site| world.names(site))
                .collect();
            let unknown = found.iter().any(|names| names.unknown);
            for name in asked(release, &program) {
                let exact = world.sinks.iter().any(|site| world.names(site).exact.contains(name.as_bytes()));
                let pattern = found.iter().flat_map(|names| &names.patterns).any(|of| of.matches(name.as_bytes()));
                let right = match program.knowledge {
                    Knowledge::Exact => exact && !unknown,
                    Knowledge::ExactAmongOthers => exact && unknown,
                    Knowledge::Pattern => !exact && pattern && !unknown,
                    Knowledge::Unknown => !exact && !pattern && unknown,
                };
                if !right {
                    let name = format!("{} for {release}: {name}", program.name);
                    wrong.push(format!("{name} ({:?}): {found:?}", program.knowledge));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Nothing but what is asked for may be found where everything is exact: names that a program has, but asks for only
/// on another way, stand here.
#[test]
fn no_other_names_are_found() {
    let other_ways: BTreeSet<&str> = [
        "javax/naming/Context",
        "java/util/logging/Level",
        "java/util/logging/Logger",
        "java/lang/Runnable",
        // The two halves of a name are chosen by one condition, which values do not remember.
        "java/util/logging/Driver",
        "java/sql/Level",
    ]
    .into();
    for program in programs().iter().filter(|program| program.knowledge == Knowledge::Exact) {
        let world = world(17, program);
        let asked = asked(17, program);
        for site in &world.sinks {
            let names = world.names(site);
            for name in names.exact {
                let name = String::from_utf8(name).unwrap();
                let known = asked.contains(&name) || other_ways.contains(&*name);
                assert!(known, "{}: {name}", program.name);
            }
        }
    }
}

/// Numbers 1 to 15 of the list of cases in the issue that asked for this.
#[test]
fn every_case_has_a_program() {
    let cases: BTreeSet<u8> = programs().iter().map(|program| program.case).collect();
    assert!((1..=15).all(|case| cases.contains(&case)), "{cases:?}");
}

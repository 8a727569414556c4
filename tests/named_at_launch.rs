//! In the image is not yet resolved: for incubators and for programs on the module path the launch has to name a module as
//! well, and the page says so exactly then.
//!
//! Judge: the JVM of both releases on images linked of the list (JEP 11, JEP 261, "Root modules").

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::fs;
use std::process::Command;
use std::time::Duration;

#[path = "support/java.rs"]
mod java;
#[path = "support/jdk.rs"]
mod jdk;
#[path = "support/service.rs"]
#[allow(dead_code, reason = "this test links images and starts no service")]
mod service;
#[path = "support/zip.rs"]
mod zip;

use service::{Image, finish, succeed};

/// For whatever ends by itself, on a busy machine.
const LIMIT: Duration = Duration::from_mins(3);

/// Takes the mean of some levels lane by lane.
const LANES: &str = r"
package quay;
public class Main {
    public static void main(String[] words) {
        var levels = jdk.incubator.vector.FloatVector.broadcast(jdk.incubator.vector.FloatVector.SPECIES_64, 3f);
        System.out.println(levels.lane(1));
    }
}";

/// Looks a class up by its name, whose module no descriptor has to require.
const BY_NAME: &str = r#"
package quay;
public class Main {
    public static void main(String[] words) throws Exception {
        System.out.println(Class.forName("java.sql.DriverManager").getModule().getName());
    }
}"#;

/// A program, how it is started, and the module that the launch has to name.
struct Case {
    source: &'static str,
    /// The descriptor's directives; absent for a program on the class path.
    module: Option<&'static str>,
    named: Option<&'static str>,
}

const CASES: [Case; 5] = [
    Case { source: LANES, module: None, named: Some("jdk.incubator.vector") },
    Case { source: LANES, module: Some("requires jdk.incubator.vector;"), named: None },
    Case { source: BY_NAME, module: None, named: None },
    Case { source: BY_NAME, module: Some(""), named: Some("java.sql") },
    Case { source: BY_NAME, module: Some("requires java.sql;"), named: None },
];

fn is_as_the_jvm_has_it(case: &Case, release: u16) {
    let folder = tempfile::tempdir().unwrap();
    let jar = folder.path().join("quay.jar");
    let descriptor = case.module.map(|directives| format!("module quay {{ {directives} }}"));
    let mut sources = vec![("quay/Main", case.source)];
    sources.extend(descriptor.as_deref().map(|text| ("module-info", text)));
    let options: &[&str] = if case.module.is_none() { &["--add-modules", "ALL-SYSTEM"] } else { &[] };
    let mut entries = vec![zip::manifest(&["Main-Class: quay.Main"])];
    entries.extend(java::compiled(release, options, &sources));
    fs::write(&jar, zip::archive(&entries)).unwrap();

    let path = jar.to_str().unwrap();
    let launch: Vec<&str> =
        if case.module.is_some() { vec!["-p", path, "-m", "quay/quay.Main"] } else { vec!["-cp", path, "quay.Main"] };
    let scan = |format: &str| {
        let mut scan = Command::new(env!("CARGO_BIN_EXE_secateur"));
        scan.args(["scan", "--quiet", "--format", format, "--release", &release.to_string(), path]);
        scan.arg(format!("--launch={}", launch.join(" ")));
        succeed(&mut scan, LIMIT)
    };
    let (list, page) = (scan("list"), scan("text"));
    let option = |modules: &str| format!("java --add-modules {modules}");
    let hint = page.lines().map(str::trim).find(|line| line.starts_with(&option("")));
    assert_eq!(hint, case.named.map(option).as_deref(), "{release}, {:?}:\n{page}", case.module);

    let image = Image::link(&jdk::jdk(release), list.trim());
    let plain = finish(image.java().args(&launch), LIMIT);
    assert_eq!(plain.status == Some(0), case.named.is_none(), "{release}, {:?}: {}", case.module, plain.stderr);
    if let Some(module) = case.named {
        succeed(image.java().args(["--add-modules", module]).args(&launch), LIMIT);
    }
}

#[test]
fn the_launch_names_a_module_exactly_where_the_jvm_of_17_asks_for_it() {
    for case in &CASES {
        is_as_the_jvm_has_it(case, 17);
    }
}

#[test]
fn the_launch_names_a_module_exactly_where_the_jvm_of_25_asks_for_it() {
    for case in &CASES {
        is_as_the_jvm_has_it(case, 25);
    }
}

/// A fat jar may carry the descriptor of a library that was unpacked into it, and a jar may be made to be a module and yet
/// be started from the class path: `java -jar` and `java -cp` read no descriptor, and resolve whatever exports something
/// (JEP 261, "Root modules").
fn is_resolved_on_the_class_path(release: u16, header: &[&str], start: &[&str], said: &[&[&str]]) {
    let folder = tempfile::tempdir().unwrap();
    let jar = folder.path().join("quay.jar");
    let mut entries = vec![zip::manifest(header)];
    entries.extend(java::compiled(release, &[], &[("module-info", "module mooring { }")]));
    entries.extend(java::compiled(release, &[], &[("quay/Main", BY_NAME)]));
    fs::write(&jar, zip::archive(&entries)).unwrap();
    let path = jar.to_str().unwrap();
    let scan = |format: &str, said: &[&str]| {
        let mut scan = Command::new(env!("CARGO_BIN_EXE_secateur"));
        scan.args(["scan", "--quiet", "--format", format, "--release", &release.to_string(), path]);
        scan.args(said.iter().map(|word| word.replace("JAR", path)));
        succeed(&mut scan, LIMIT)
    };
    for said in said {
        let page = scan("text", said);
        let names = page.contains("java --add-modules") || page.contains("module path");
        assert!(!names, "{release}, {said:?}:\n{page}");
    }
    let image = Image::link(&jdk::jdk(release), scan("list", &[]).trim());
    let start: Vec<&str> = start.iter().map(|&word| if word == "JAR" { path } else { word }).collect();
    assert_eq!(succeed(image.java().args(start), LIMIT).trim(), "java.sql");
}

#[test]
fn a_descriptor_in_a_jar_that_is_started_from_the_class_path_says_nothing() {
    for release in [17, 25] {
        is_resolved_on_the_class_path(release, &["Main-Class: quay.Main"], &["-jar", "JAR"], &[&[]]);
        let said: [&[&str]; 2] = [&["--entry", "quay.Main"], &["--launch=-cp JAR quay.Main"]];
        is_resolved_on_the_class_path(release, &[], &["-cp", "JAR", "quay.Main"], &said);
    }
}

//! The whole job: scan a service, link the run-time image that the list names, run the service on it.
//!
//! The judge is the JVM: each service starts on the trimmed image of both releases and answers. Sources of the services:
//! `tests/services/` (built by Maven from Maven Central) and `testdata/harbour` (committed).

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test fails by panicking"
)]

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

#[path = "support/jdk.rs"]
mod jdk;
#[path = "support/service.rs"]
mod service;

use jdk::jdk;
use service::{Image, Running, built_by_maven, finish, succeed};

const SCAN: Duration = Duration::from_mins(2);
const SELF_CHECK: Duration = Duration::from_mins(2);

/// The list that the command prints for an archive and a JDK.
fn list(archive: &Path, jdk: &Path) -> String {
    let mut command = Command::new(env!("CARGO_BIN_EXE_secateur"));
    command.arg("scan").arg(archive).arg("--jdk").arg(jdk).args(["--format", "list"]);
    let printed = succeed(&mut command, SCAN);
    assert_eq!(printed.lines().count(), 1, "one line for the linker, not {printed:?}");
    let list = printed.trim_end();
    assert!(list.split(',').any(|module| module == "java.base"), "java.base is always in: {list}");
    list.to_owned()
}

fn trimmed(archive: &Path, release: u16) -> Image {
    let jdk = jdk(release);
    let image = Image::link(&jdk, &list(archive, &jdk));
    // A list that names everything would pass whatever the rest of a test asks.
    let modules = image.modules();
    for never in ["jdk.jshell", "jdk.jconsole", "jdk.jpackage"] {
        assert!(!modules.iter().any(|module| module == never), "{never} is in {modules:?}");
    }
    image
}

/// An executable jar with nested jars on Spring Boot: web, JDBC with H2, actuator, validation.
fn boot_answers(release: u16) {
    let archive = built_by_maven("boot", &jdk(17));
    let image = trimmed(&archive, release);
    let service = Running::start(image.java().arg("-jar").arg(&archive));
    let json = "application/json";

    let (status, _) = service.post("/readings", json, r#"{"station": "salt-quay", "level": 2.25}"#);
    assert_eq!(status, 201);
    let (status, readings) = service.get("/readings/salt-quay");
    assert_eq!(status, 200);
    assert!(readings.contains(r#"{"station":"salt-quay","level":2.25}"#), "{readings}");

    let (status, _) = service.post("/readings", json, r#"{"station": " ", "level": 2.25}"#);
    assert_eq!(status, 400, "a blank station is not valid");
    let (status, health) = service.get("/actuator/health");
    assert_eq!(status, 200);
    assert!(health.contains(r#""status":"UP""#), "{health}");
    let (status, memory) = service.get("/actuator/metrics/jvm.memory.used");
    assert_eq!(status, 200, "{memory}");
}

#[test]
fn boot_service_answers_on_its_trimmed_runtime_of_17() {
    boot_answers(17);
}

#[test]
fn boot_service_answers_on_its_trimmed_runtime_of_25() {
    boot_answers(25);
}

/// A shaded jar on Javalin with a connection pool and H2.
fn shaded_answers(release: u16) {
    let archive = built_by_maven("shaded", &jdk(17));
    let image = trimmed(&archive, release);
    let service = Running::start(image.java().arg("-jar").arg(&archive));

    let (status, _) = service.post("/lockings/inner", "text/plain", "Herring Gull");
    assert_eq!(status, 201);
    let (status, lockings) = service.get("/lockings/inner");
    assert_eq!((status, lockings.as_str()), (200, "Herring Gull\n"));
    let (status, _) = service.get("/nowhere");
    assert_eq!(status, 404);
}

#[test]
fn shaded_service_answers_on_its_trimmed_runtime_of_17() {
    shaded_answers(17);
}

#[test]
fn shaded_service_answers_on_its_trimmed_runtime_of_25() {
    shaded_answers(25);
}

fn harbour(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/harbour").join(name)
}

/// Runs the service's own check of all its parts; the names of those that fail.
fn failing_parts(archive: &Path, release: u16) -> Vec<String> {
    let image = trimmed(archive, release);
    let done = finish(image.java().arg("-jar").arg(archive).arg("--self-check"), SELF_CHECK);
    let mut failing = Vec::new();
    let mut parts = 0;
    for line in done.stdout.lines() {
        let (outcome, rest) = line.split_once(' ').expect("an outcome and a part");
        let part = rest.split(':').next().expect("a part");
        parts += 1;
        match outcome {
            "ok" => {}
            "FAILED" => failing.push(part.to_owned()),
            _ => panic!("{line}"),
        }
    }
    assert_eq!(parts, 9, "{}{}", done.stdout, done.stderr);
    assert_eq!(done.status, Some(i32::from(!failing.is_empty())), "{}", done.stdout);
    failing
}

#[test]
fn harbour_service_checks_itself_on_its_trimmed_runtime_of_17() {
    assert_eq!(failing_parts(&harbour("harbour.jar"), 17), Vec::<String>::new());
}

#[test]
fn harbour_service_checks_itself_on_its_trimmed_runtime_of_25() {
    assert_eq!(failing_parts(&harbour("harbour.jar"), 25), Vec::<String>::new());
}

#[test]
fn shaded_harbour_service_checks_itself_on_its_trimmed_runtime_of_25() {
    assert_eq!(failing_parts(&harbour("harbour-shaded.jar"), 25), Vec::<String>::new());
}

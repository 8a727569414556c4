//! Trials of commands of every temper, on real JVMs: what `settle` says of them, and that nothing of them is left.
//!
//! The judge is the JVM: a module is missed where a program that uses it fails without it. What the programs use stands in
//! the documentation of Java SE 17 and of the launcher `java`.

#![cfg(target_os = "linux")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::fs;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::thread::sleep;
use std::time::{Duration, Instant};

use serde_json::Value;
use tempfile::TempDir;

#[path = "support/jdk.rs"]
mod jdk;

use jdk::{jdk, tool};

/// Logs by a module that it names, scripts by one that it looks up and can do without, and minds what it is told.
const SLUICE: &str = r#"
package sluice;
public class Sluice {
    static final java.util.logging.Logger LOG = java.util.logging.Logger.getLogger("sluice");
    public static void main(String[] words) throws Exception {
        if (words.length > 0 && words[0].equals("--level")) {
            System.out.println(words[1]);
            return;
        }
        Class.forName("javax.naming." + "InitialContext");
        try {
            Class.forName("java.rmi.Remote");
        } catch (ClassNotFoundException absent) {
            System.out.println("no calls from afar");
        }
        LOG.fine("open");
        System.out.println("open");
    }
}
"#;

/// A folder with the program, its classes, and commands.
struct Quay {
    folder: TempDir,
}

impl Quay {
    fn new() -> Quay {
        let folder = TempDir::with_prefix("quay with spaces ").unwrap();
        let source = folder.path().join("Sluice.java");
        fs::write(&source, SLUICE).unwrap();
        let classes = folder.path().join("classes");
        let compiler = tool(17, "javac");
        let done = Command::new(compiler).args(["--release", "17", "-d"]).arg(&classes).arg(&source).status().unwrap();
        assert!(done.success());
        Quay { folder }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// A shell script; `CLASSES` is where the classes are.
    fn script(&self, name: &str, text: &str) -> PathBuf {
        let path = self.path(name);
        let classes = self.path("classes");
        fs::write(&path, format!("#!/bin/sh\nCLASSES='{}'\n{text}\n", classes.display())).unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o755)).unwrap();
        path
    }

    fn settle(&self, home: &Path, options: &[&str], command: &[&str]) -> Answer {
        let output = Command::new(env!("CARGO_BIN_EXE_secateur"))
            .arg("settle")
            .arg(self.path("classes"))
            .args(["--entry", "sluice.Sluice", "--format", "json", "--quiet", "--jdk"])
            .arg(home)
            .args(options)
            .arg("--")
            .args(command)
            .current_dir(self.folder.path())
            .env_remove("JAVA_TOOL_OPTIONS")
            .env("JDK_JAVA_OPTIONS", "-Dquay=north")
            .output()
            .unwrap();
        let status = output.status.code().unwrap();
        let json = serde_json::from_slice(&output.stdout)
            .unwrap_or_else(|error| panic!("{error}: {}", String::from_utf8_lossy(&output.stderr)));
        let answer = Answer { status, json };
        let runs = answer.json["runs"].as_u64().unwrap();
        assert!(runs <= answer.json["runs_at_most"].as_u64().unwrap(), "{:#}", answer.json);
        answer
    }
}

struct Answer {
    status: i32,
    json: Value,
}

impl Answer {
    fn verdict(&self) -> (i32, &str) {
        (self.status, self.json["verdict"].as_str().unwrap())
    }

    fn module(&self, name: &str) -> &Value {
        let rows = self.json["modules"].as_array().unwrap();
        rows.iter().find(|row| row["name"] == name).unwrap_or_else(|| panic!("no {name} in {:#}", self.json))
    }

    fn list(&self) -> Vec<&str> {
        self.json["list"].as_array().unwrap().iter().map(|name| name.as_str().unwrap()).collect()
    }
}

/// Processes whose command line holds a text.
fn running(text: &str) -> usize {
    fs::read_dir("/proc")
        .unwrap()
        .flatten()
        .filter(|entry| entry.file_name().to_string_lossy().bytes().all(|byte| byte.is_ascii_digit()))
        .filter_map(|entry| fs::read(entry.path().join("cmdline")).ok())
        .filter(|line| String::from_utf8_lossy(line).contains(text))
        .count()
}

/// Words with spaces and quotes, a JDK and temporary files below such folders, and what the user has in the environment.
#[test]
fn words_and_paths_arrive_as_they_are() {
    let quay = Quay::new();
    let home = quay.path("a JDK's home");
    symlink(jdk(17), &home).unwrap();
    let script = quay.script(
        "check it.sh",
        r#"[ "$1" = "it's \"high\"  tide" ] || exit 9
        case "$JDK_JAVA_OPTIONS" in "-Dquay=north"*) ;; *) exit 8;; esac
        java -cp "$CLASSES" sluice.Sluice && [ "$("$JAVA_HOME/bin/java" -cp "$CLASSES" sluice.Sluice --level "$1")" = "$1" ]"#,
    );
    let answer = quay.settle(&home, &[], &[script.to_str().unwrap(), "it's \"high\"  tide"]);
    assert_eq!(answer.verdict(), (0, "settled"), "{:#}", answer.json);
    assert_eq!(answer.json["jvms"], 2);
    assert_eq!(answer.list(), ["java.base", "java.logging", "java.naming", "java.security.sasl"]);
    let naming = answer.module("java.naming");
    assert_eq!(naming["shown"], "missed");
    assert_eq!(naming["class"], "javax.naming.InitialContext");
    assert!(naming["account"]["lines"][0].as_str().unwrap().contains("javax.naming.InitialContext"), "{naming:#}");
    assert_eq!(answer.module("java.rmi")["shown"], "not-missed");

    // The result is a witness for later scans: by reading alone nobody can tell that this module is needed.
    let result = quay.path("result.json");
    fs::write(&result, answer.json.to_string()).unwrap();
    let scan = |release: &str, witness: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_secateur"));
        command.args(["scan", "--entry", "sluice.Sluice", "--format", "json", "--quiet", "--release", release]);
        command.arg(quay.path("classes")).args(witness).output().unwrap()
    };
    let standing = |witness: &[&str]| {
        let told: Value = serde_json::from_slice(&scan("17", witness).stdout).unwrap();
        let rows = told["modules"].as_array().unwrap().clone();
        rows.into_iter().find(|row| row["name"] == "java.naming").unwrap()["standing"].clone()
    };
    let witness = ["--witness", result.to_str().unwrap()];
    assert_eq!((standing(&[]), standing(&witness)), ("uncertain".into(), "needed".into()));
    // It holds for the release that the command ran on.
    let refused = scan("21", &witness);
    assert_eq!(refused.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("release 17"), "{refused:?}");
}

#[test]
fn all_jvms_of_a_command_are_seen_whatever_starts_them() {
    [17, 25].into_iter().for_each(three_jvms);
}

fn three_jvms(release: u16) {
    let quay = Quay::new();
    // A tool of the JDK is a JVM too, and no part of the program.
    let script = quay.script(
        "three.sh",
        r#"java -cp "$CLASSES" sluice.Sluice & first=$!
        java -cp "$CLASSES" sluice.Sluice --level low || exit 1
        keytool -help 2>/dev/null || exit 1
        wait $first && JDK_JAVA_OPTIONS="$JDK_JAVA_OPTIONS -Dgate=2" java -cp "$CLASSES" sluice.Sluice"#,
    );
    let answer = quay.settle(&jdk(release), &["--trust-command"], &[script.to_str().unwrap()]);
    assert_eq!(answer.verdict(), (0, "settled"), "{:#}", answer.json);
    assert_eq!(answer.json["jvms"], 3);
    assert_eq!(answer.json["found"], "smallest");
    assert!(answer.json["notes"].to_string().contains("tools of the JDK"), "{:#}", answer.json);
    assert!(answer.module("java.logging")["loads"].as_u64().unwrap() > 0);
}

/// Under `--limit-modules` a program on the module path does not find its own modules (JEP 261): images do tell.
#[test]
fn a_program_on_the_module_path_is_tried_on_images() {
    let quay = Quay::new();
    let source = quay.path("module-info.java");
    fs::write(&source, "module quay.sluice { requires java.logging; requires java.naming; requires static java.rmi; }")
        .unwrap();
    let mut compiler = Command::new(tool(17, "javac"));
    compiler.args(["--release", "17", "-d"]).arg(quay.path("classes")).arg(&source).arg(quay.path("Sluice.java"));
    assert!(compiler.status().unwrap().success());
    let answer = quay.settle(&jdk(17), &[], &["java", "-p", "classes", "-m", "quay.sluice/sluice.Sluice"]);
    assert_eq!(answer.verdict(), (0, "settled"), "{:#}", answer.json);
    assert!(answer.json["notes"].to_string().contains("each trial ran on a linked image"), "{:#}", answer.json);
    assert!(answer.list().contains(&"java.naming") && !answer.list().contains(&"java.rmi"), "{:#}", answer.json);
}

#[test]
fn a_command_that_fails_untrimmed_proves_nothing() {
    let quay = Quay::new();
    let answer = quay.settle(&jdk(17), &[], &["java", "-cp", "classes", "sluice.NoSuchGate"]);
    assert_eq!(answer.verdict(), (1, "fails-untrimmed"));
    assert!(
        answer.json.get("list").is_none()
            && answer.json["modules"].as_array().unwrap().iter().all(|row| row.get("shown").is_none())
    );
    assert!(answer.json["account"]["lines"].to_string().contains("NoSuchGate"), "{:#}", answer.json);
    assert_eq!(answer.json["runs"], 1);
}

#[test]
fn a_command_that_starts_no_jvm_proves_nothing() {
    let quay = Quay::new();
    assert_eq!(quay.settle(&jdk(17), &[], &["true"]).verdict(), (1, "no-jvm"));
}

#[test]
fn a_command_that_hangs_is_ended_with_all_that_it_started() {
    let quay = Quay::new();
    let script = quay.script("hang.sh", "trap '' TERM\nsleep 86311 & setsid sleep 86311 &\nwait; sleep 86311");
    let begun = Instant::now();
    let answer = quay.settle(&jdk(17), &["--timeout", "2"], &[script.to_str().unwrap()]);
    assert_eq!(answer.verdict(), (1, "fails-untrimmed"));
    assert_eq!(answer.json["account"]["ending"], "took longer than 2 s");
    assert!(begun.elapsed() < Duration::from_mins(1), "{:?}", begun.elapsed());
    assert_eq!(running("86311"), 0);
}

#[test]
fn a_command_that_flips_proves_nothing() {
    let quay = Quay::new();
    let text = r#"java -cp "$CLASSES" sluice.Sluice || exit 1
        n=$(cat turn 2>/dev/null || echo 0); echo $((n + 1)) > turn; [ $((n % 2)) = 0 ]"#;
    let script = quay.script("flip.sh", text);
    let answer = quay.settle(&jdk(17), &["--repeat", "2"], &[script.to_str().unwrap()]);
    assert_eq!(answer.verdict(), (1, "flips-untrimmed"), "{:#}", answer.json);
    // Run once each time, it is found out as soon as a failure cannot be repeated.
    fs::remove_file(quay.path("turn")).unwrap();
    let answer = quay.settle(&jdk(17), &[], &[script.to_str().unwrap()]);
    assert_eq!(answer.verdict(), (1, "flips"), "{:#}", answer.json);
}

#[test]
fn a_daemon_is_not_left_running() {
    let quay = Quay::new();
    let text = r#"java -cp "$CLASSES" sluice.Sluice || exit 1
        (setsid sh -c 'sleep 86322; true' >/dev/null 2>&1 &) "#;
    let script = quay.script("daemon.sh", text);
    let answer = quay.settle(&jdk(17), &[], &[script.to_str().unwrap()]);
    assert_eq!(answer.verdict(), (0, "settled"), "{:#}", answer.json);
    assert!(answer.json["notes"].to_string().contains("left processes running"), "{:#}", answer.json);
    assert_eq!(running("86322"), 0);
}

#[test]
fn output_that_is_not_the_expected_degrades() {
    let quay = Quay::new();
    fs::write(quay.path("expected"), "open\n").unwrap();
    let java = ["java", "-cp", "classes", "sluice.Sluice"];
    let answer = quay.settle(&jdk(17), &["--expect", "expected"], &java);
    assert_eq!(answer.verdict(), (0, "settled"), "{:#}", answer.json);
    let rmi = answer.module("java.rmi");
    assert_eq!((&rmi["shown"], &rmi["kept"]), (&"degrades".into(), &true.into()), "{:#}", answer.json);
    fs::write(quay.path("expected"), "shut\n").unwrap();
    assert_eq!(quay.settle(&jdk(17), &["--expect", "expected"], &java).verdict(), (1, "fails-untrimmed"));
}

/// What a command keeps to itself the JVM tells: the class that was missing is named all the same.
#[test]
fn a_class_that_is_missing_is_named_though_the_command_says_nothing() {
    let quay = Quay::new();
    let script = quay.script("mute.sh", r#"java -cp "$CLASSES" sluice.Sluice >/dev/null 2>&1"#);
    let answer = quay.settle(&jdk(17), &[], &[script.to_str().unwrap()]);
    assert_eq!(answer.verdict(), (0, "settled"), "{:#}", answer.json);
    let naming = answer.module("java.naming");
    assert_eq!((&naming["shown"], &naming["class"]), (&"missed".into(), &"javax.naming.InitialContext".into()));
    assert_eq!(answer.module("java.rmi")["shown"], "not-missed");
}

/// The last `--limit-modules` holds, so that the command's own undoes withholding (JEP 261): images do tell.
#[test]
fn a_command_that_limits_modules_by_itself_is_tried_on_images() {
    [17, 25].into_iter().for_each(own_limits);
}

fn own_limits(release: u16) {
    let quay = Quay::new();
    let own = "--limit-modules=java.logging,java.naming";
    let answer = quay.settle(&jdk(release), &[], &["java", own, "-cp", "classes", "sluice.Sluice"]);
    assert_eq!(answer.verdict(), (0, "settled"), "{:#}", answer.json);
    assert!(answer.json["notes"].to_string().contains("limits modules by itself"), "{:#}", answer.json);
    assert!(answer.list().contains(&"java.naming") && !answer.list().contains(&"java.rmi"), "{:#}", answer.json);
    // Without a limit of its own the same command is tried by withholding.
    let plain = quay.settle(&jdk(release), &[], &["java", "-cp", "classes", "sluice.Sluice"]);
    assert!(!plain.json["notes"].to_string().contains("linked image"), "{:#}", plain.json);
}

/// Options that load a library of the JVM do not mind what is withheld: the image decides (JEP 328, `java` launcher).
#[test]
fn what_an_option_of_the_launch_loads_is_found_on_the_image() {
    let quay = Quay::new();
    let java = ["java", "-XX:StartFlightRecording=filename=tide.jfr", "-cp", "classes", "sluice.Sluice"];
    let answer = quay.settle(&jdk(17), &[], &java);
    assert_eq!(answer.verdict(), (0, "settled"), "{:#}", answer.json);
    assert!(answer.list().contains(&"jdk.jfr"), "{:#}", answer.json);
    assert_eq!(answer.module("jdk.jfr")["shown"], "missed");
}

#[test]
fn a_trial_that_is_broken_off_leaves_nothing() {
    let quay = Quay::new();
    let script = quay.script("long.sh", "setsid sleep 86333 & sleep 86333");
    let mut child = Command::new(env!("CARGO_BIN_EXE_secateur"))
        .args(["settle", "--quiet", "--jdk"])
        .arg(jdk(17))
        .arg(quay.path("classes"))
        .arg("--")
        .arg(&script)
        .spawn()
        .unwrap();
    let deadline = Instant::now() + Duration::from_mins(1);
    while running("86333") < 2 {
        assert!(Instant::now() < deadline, "the command did not start");
        sleep(Duration::from_millis(20));
    }
    let told = Command::new("kill").args(["-INT", &child.id().to_string()]).status().unwrap();
    assert!(told.success());
    // Ended by the signal, as a shell expects it of whatever a user interrupts.
    assert_eq!(child.wait().unwrap().code(), None);
    assert_eq!(running("86333"), 0);
}

#[test]
fn a_command_that_is_not_there_is_wrong_usage() {
    let quay = Quay::new();
    let output = Command::new(env!("CARGO_BIN_EXE_secateur"))
        .args(["settle", "--quiet", "--jdk"])
        .arg(jdk(17))
        .arg(quay.path("classes"))
        .args(["--", "./no-such-gate"])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("cannot start ./no-such-gate"), "{said}");
}

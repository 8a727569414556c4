//! The command as its users meet it: help, exit statuses, output on terminals and into files and pipes.
//!
//! Pages are compared with `tests/snapshots/`; `BLESS=1 cargo test --test cli` writes them anew, to be read in the
//! change. A dozen lines do that here: a crate for it would be larger than what it saves.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

const DEMO: &str = "testdata/harbour/harbour.jar";

fn secateur(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_secateur"));
    command.current_dir(env!("CARGO_MANIFEST_DIR")).args(arguments).stdin(Stdio::null());
    for variable in ["NO_COLOR", "TERM", "COLUMNS", "CLICOLOR", "CLICOLOR_FORCE"] {
        command.env_remove(variable);
    }
    command
}

fn run(arguments: &[&str]) -> Output {
    secateur(arguments).output().unwrap()
}

fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).unwrap()
}

fn status(output: &Output) -> i32 {
    output.status.code().unwrap_or_else(|| panic!("killed: {output:?}"))
}

fn compare(name: &str, actual: &str) {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/snapshots").join(name);
    let actual = actual.replace(env!("CARGO_PKG_VERSION"), "VERSION");
    if std::env::var_os("BLESS").is_some() {
        fs::write(&path, &actual).unwrap();
    }
    let expected = fs::read_to_string(&path).unwrap_or_default();
    let line = expected.lines().zip(actual.lines()).position(|(expected, actual)| expected != actual);
    assert!(expected == actual, "{name} differs, first in line {:?}; now it is:\n{actual}", line.map(|at| at + 1));
}

/// A jar of stored entries without a single class (PKWARE APPNOTE 4.3), written here so that no reader of ours is
/// asked for its opinion of it. The checksum is right only for empty entries.
fn jar(names: &[&str], checksum: u32) -> Vec<u8> {
    let (mut file, mut directory) = (Vec::new(), Vec::new());
    for name in names {
        let at = u32::try_from(file.len()).unwrap();
        let mut common = Vec::new();
        common.extend([20u16, 0x800, 0, 0, 0].iter().flat_map(|field| field.to_le_bytes()));
        common.extend([checksum, 0, 0].iter().flat_map(|field| field.to_le_bytes()));
        common.extend(u16::try_from(name.len()).unwrap().to_le_bytes());
        common.extend(0u16.to_le_bytes());
        file.extend(b"PK\x03\x04".iter().chain(&common).chain(name.as_bytes()));
        directory.extend(b"PK\x01\x02\x14\x00".iter().chain(&common));
        directory.extend([0u8; 10]);
        directory.extend(at.to_le_bytes());
        directory.extend(name.as_bytes());
    }
    let start = u32::try_from(file.len()).unwrap();
    let length = u32::try_from(directory.len()).unwrap();
    let count = u16::try_from(names.len()).unwrap();
    file.extend(directory);
    file.extend(b"PK\x05\x06\0\0\0\0");
    file.extend(count.to_le_bytes());
    file.extend(count.to_le_bytes());
    file.extend(length.to_le_bytes());
    file.extend(start.to_le_bytes());
    file.extend(0u16.to_le_bytes());
    file
}

#[test]
fn pages_are_as_they_were_read_last() {
    compare("scan.txt", text(&run(&["scan", DEMO]).stdout));
    compare("scan-80.txt", text(&run(&["scan", DEMO, "--width", "80", "--policy", "lean"]).stdout));
    compare("scan-list.txt", text(&run(&["scan", DEMO, "--format", "list"]).stdout));
    compare("explain.txt", text(&run(&["explain", "java.sql", DEMO, "--width", "90"]).stdout));
    compare("platform.txt", text(&run(&["platform", "--release", "17"]).stdout));
}

/// The worked example of the README is what the program prints.
#[test]
fn the_readme_shows_real_output() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("README.md");
    let page = fs::read_to_string(&path).unwrap();
    for (command, arguments) in [
        ("scan testdata/harbour/harbour.jar", &["scan", DEMO, "--width", "90"][..]),
        ("explain java.scripting testdata/harbour/harbour.jar", &["explain", "java.scripting", DEMO, "--width", "90"]),
    ] {
        let (before, rest) = page.split_once(&format!("$ secateur {command}\n")).expect("the README runs the command");
        let (shown, after) = rest.split_once("```").unwrap();
        let output = run(arguments);
        let printed = text(&output.stdout);
        if std::env::var_os("BLESS").is_some() && shown != printed {
            fs::write(&path, format!("{before}$ secateur {command}\n{printed}```{after}")).unwrap();
            panic!("the README is written anew; run this once more");
        }
        assert!(shown == printed, "README.md shows another result of `{command}`:\n{printed}");
    }
}

#[test]
fn help_gives_examples_and_statuses() {
    compare("help.txt", text(&run(&["--help"]).stdout));
    for verb in ["scan", "explain", "weigh", "settle", "platform"] {
        let output = run(&[verb, "--help"]);
        let help = text(&output.stdout);
        assert_eq!(status(&output), 0);
        assert!(help.contains(&format!("secateur {verb} ")) && help.contains("Examples:"), "{help}");
        for number in ["0", "1", "2", "3", "4", "70"] {
            let statuses = help.split_once("Exit status").unwrap().1;
            assert!(
                statuses.lines().any(|line| line.trim_start().starts_with(&format!("{number} "))),
                "{verb} {number}"
            );
        }
        compare(&format!("help-{verb}.txt"), help);
    }
    for arguments in [&["schema", "--help"][..], &["completions", "--help"], &["manual", "--help"], &["--version"]] {
        assert_eq!(status(&run(arguments)), 0);
    }
}

#[test]
fn completions_and_manual_know_the_verbs() {
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let output = run(&["completions", shell]);
        assert!(status(&output) == 0 && text(&output.stdout).contains("explain"), "{shell}");
    }
    let output = run(&["manual"]);
    let page = text(&output.stdout);
    assert!(status(&output) == 0 && page.starts_with(".ie"), "{page}");
    for said in ["SCAN", "EXPLAIN", "SETTLE", "PLATFORM", "\\-\\-policy", "Exit statuses", "jlink"] {
        assert!(page.contains(said), "the manual lacks {said}: {page}");
    }
    assert!(!page.contains("secateur\\-scan(1)"), "it names a page that nothing installs");
}

#[test]
fn a_wrong_command_line_ends_in_2_and_says_nothing_on_standard_output() {
    for arguments in [
        &["scan"][..],
        &["scan", DEMO, "--formation", "list"],
        &["scan", DEMO, "--jdk", ".", "--release", "17"],
        &["scan", DEMO, "--release", "8"],
        &["scan", DEMO, "--with", "harbour.master"],
        &["scan", DEMO, "--without", "java.base"],
        &["scan", DEMO, "--with", "java.sql", "--without", "java.sql"],
        &["scan", DEMO, "--threads", "0"],
        &["scan", DEMO, "--threads", "1000000"],
        &["explain", "harbour.master", DEMO],
        &["platform", "--release", "3"],
        &["list", DEMO],
    ] {
        let output = run(arguments);
        assert_eq!(status(&output), 2, "{arguments:?}: {}", text(&output.stderr));
        assert!(output.stdout.is_empty() && !output.stderr.is_empty(), "{arguments:?}");
    }
}

#[test]
fn what_cannot_be_read_or_written_ends_in_4() {
    let folder = tempfile::tempdir().unwrap();
    let nowhere = folder.path().join("none/modules.txt");
    let out = nowhere.to_str().unwrap();
    for arguments in [
        &["scan", "testdata/none.jar"][..],
        &["scan", DEMO, "--out", out],
        &["scan", DEMO, "--out", "testdata"],
        &["schema", "--out", out],
    ] {
        let output = run(arguments);
        let said = text(&output.stderr);
        assert_eq!(status(&output), 4, "{arguments:?}: {said}");
        assert!(said.starts_with("secateur: cannot ") && said.lines().count() == 1, "{said}");
        assert!(!said.contains(".part"), "{said}");
    }
}

#[test]
fn a_damaged_part_ends_in_3_with_the_result_marked() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("gauge.jar");
    fs::write(&path, jar(&["harbour/Wave.class"], 7)).unwrap();
    let path = path.to_str().unwrap();
    let output = run(&["scan", path]);
    assert_eq!(status(&output), 3, "{output:?}");
    assert!(text(&output.stdout).starts_with("Incomplete:"), "{}", text(&output.stdout));
    assert!(text(&output.stderr).contains("incomplete"));
    let output = run(&["scan", path, "--format", "json", "--quiet"]);
    assert_eq!((status(&output), output.stderr.as_slice()), (3, &b""[..]));
    let document: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(document["complete"], false);
}

/// ECMA-48 control sequences and the direction marks of Unicode Standard Annex 9, in the name of an archive and of an
/// entry, and a name of 60,000 characters.
#[test]
fn names_do_not_act_on_the_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tide\u{1b}[2J\u{202e}raj.jar");
    let long = format!("harbour/{}.class", "x".repeat(60_000));
    fs::write(&path, jar(&["harbour/\u{1b}]0;tide\u{7}\u{2066}.class", &long], 7)).unwrap();
    let none = folder.path().join("\u{9b}31m");
    for arguments in [
        &["scan", path.to_str().unwrap()][..],
        &["explain", "java.base", path.to_str().unwrap()],
        &["scan", none.to_str().unwrap()],
        &["scan", path.to_str().unwrap(), "--jdk", none.to_str().unwrap()],
    ] {
        let output = run(arguments);
        let said = format!("{}{}", text(&output.stdout), text(&output.stderr));
        assert!(matches!(status(&output), 2..=4), "{arguments:?} {said}");
        let acting = |c: char| c != '\n' && (c.is_control() || ('\u{202a}'..='\u{2069}').contains(&c));
        assert!(!said.contains(acting), "{said:?}");
        assert!(arguments[0] == "explain" || said.contains("\\u{"), "{said}");
        if arguments.len() == 2 && status(&output) == 3 {
            assert!(said.lines().all(|line| line.chars().count() <= 200 || line.contains("jlink")), "{said}");
        }
    }
    let output = run(&["scan", path.to_str().unwrap(), "--format", "json"]);
    let document: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(document["inputs"][0]["path"], path.to_str().unwrap());
    assert!(!text(&output.stdout).contains('\u{1b}'));
}

/// <https://no-color.org>
#[test]
fn colour_comes_only_where_it_is_wanted() {
    let coloured = |command: &mut Command| command.output().unwrap().stdout.contains(&0x1b);
    assert!(!coloured(&mut secateur(&["scan", DEMO])), "a pipe is no terminal");
    assert!(coloured(&mut secateur(&["scan", DEMO, "--colour", "always"])));
    assert!(coloured(secateur(&["scan", DEMO, "--color", "always"]).env("NO_COLOR", "1").env("TERM", "dumb")));
    assert!(!coloured(&mut secateur(&["scan", DEMO, "--colour", "never"])));
    assert!(!coloured(&mut secateur(&["scan", DEMO, "--colour", "always", "--format", "list"])));
}

#[test]
fn a_file_is_whole_or_not_there() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("modules.txt");
    let named = out.to_str().unwrap();
    let output = run(&["scan", DEMO, "--format", "list", "--out", named]);
    assert_eq!((status(&output), output.stdout.as_slice()), (0, &b""[..]));
    assert_eq!(fs::read(&out).unwrap(), run(&["scan", DEMO, "--format", "list"]).stdout);
    // A run that fails leaves what was there.
    assert_eq!(status(&run(&["scan", "testdata/none.jar", "--out", named])), 4);
    assert!(fs::read_to_string(&out).unwrap().starts_with("java.base,"));
    let names: Vec<_> = fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(names, ["modules.txt"], "no part is left behind");
}

#[cfg(unix)]
#[test]
fn links_and_devices_stay_what_they_are() {
    let folder = tempfile::tempdir().unwrap();
    let (file, link) = (folder.path().join("modules.txt"), folder.path().join("link"));
    fs::write(&file, "old").unwrap();
    std::os::unix::fs::symlink(&file, &link).unwrap();
    assert_eq!(status(&run(&["scan", DEMO, "--format", "list", "--out", link.to_str().unwrap()])), 0);
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert!(fs::read_to_string(&file).unwrap().starts_with("java.base,"));
    assert_eq!(status(&run(&["scan", DEMO, "--out", "/dev/null"])), 0);
    assert!(!fs::metadata("/dev/null").unwrap().is_file());
    if Path::new("/dev/full").exists() {
        assert_eq!(status(&run(&["scan", DEMO, "--out", "/dev/full"])), 4);
    }
}

#[test]
fn a_reader_who_has_seen_enough_is_no_error() {
    let mut child = secateur(&["schema"]).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!((status(&output), text(&output.stderr)), (0, ""));
}

#[test]
fn timings_are_said_beside_the_result() {
    let output = run(&["scan", DEMO, "--format", "list", "--timings"]);
    assert_eq!(output.stdout, run(&["scan", DEMO, "--format", "list"]).stdout);
    assert!(text(&output.stderr).lines().count() >= 4 && text(&output.stderr).contains("ms"), "{output:?}");
}

#[test]
fn a_long_list_of_inputs_does_not_bury_the_modules() {
    let folder = tempfile::tempdir().unwrap();
    for at in 0..40 {
        fs::write(folder.path().join(format!("gauge{at:02}.jar")), jar(&["stations.xml"], 0)).unwrap();
    }
    let folder = folder.path().to_str().unwrap();
    let output = run(&["scan", folder, "--width", "200"]);
    let page = text(&output.stdout);
    assert!(page.contains("and 34 more inputs: 34 archives, 0 classes"), "{page}");
    assert!(!page.split("findings:").next().unwrap().contains("gauge06.jar"), "{page}");
    let output = run(&["scan", folder, "--format", "json"]);
    let document: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(document["inputs"].as_array().unwrap().len(), 40, "JSON keeps them all");
}

#[test]
fn threads_change_nothing() {
    let printed = |threads| run(&["scan", DEMO, "--format", "json", "--threads", threads]).stdout;
    assert_eq!(printed("1"), printed("8"));
}

/// The helper above writes what it claims to: the JAR File Specification lets a jar hold no class at all.
#[test]
fn a_jar_without_classes_is_read_to_its_end() {
    let mut file = tempfile::Builder::new().suffix(".jar").tempfile().unwrap();
    file.write_all(&jar(&["stations.xml"], 0)).unwrap();
    let output = run(&["scan", file.path().to_str().unwrap(), "--format", "json"]);
    // A list of java.base alone would build an image that runs nothing: whoever hands it on must be told.
    assert_eq!(status(&output), 3, "{output:?}");
    let document: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(document["complete"], false);
    assert_eq!(document["list"], serde_json::json!(["java.base"]));
    assert_eq!(document["findings"][0]["code"], "no-classes");
    // Nothing on standard output, since a linker would take java.base for an answer.
    let output = run(&["scan", file.path().to_str().unwrap(), "--format", "list"]);
    assert_eq!((status(&output), text(&output.stdout)), (3, ""));
    let said = text(&output.stderr);
    assert!(said.contains("no class could be read, so there is no list of modules"), "{said}");
    for format in ["text", "markdown"] {
        let output = run(&["scan", file.path().to_str().unwrap(), "--format", format]);
        assert!(!text(&output.stdout).contains("jlink") && !text(&output.stdout).contains("```"), "{output:?}");
    }
}

/// `java -cp` takes its elements in one word and `DIR/*` for all jars of a folder (JDK tool documentation, `java`).
#[test]
fn a_class_path_in_one_word_is_told_apart() {
    let separator = if cfg!(windows) { ';' } else { ':' };
    let hint = "the elements of a class path are given as separate inputs, and a folder of jars as the folder: ";
    for (word, inputs) in [
        ("lib/*".to_owned(), "lib"),
        ("*".to_owned(), "."),
        (format!("a.jar{separator}none/b.jar{separator}lib/*"), "a.jar none/b.jar lib"),
    ] {
        let output = run(&["scan", &word]);
        let said = text(&output.stderr);
        assert_eq!(status(&output), 4, "{said}");
        assert!(said.trim_end().ends_with(&format!("{hint}{inputs}")), "{said}");
    }
    assert!(!text(&run(&["scan", "none.jar"]).stderr).contains("class path"));
}

#[test]
fn a_mistyped_name_is_answered_by_the_one_meant() {
    for (arguments, meant) in [
        (&["explain", "java.sqll", DEMO][..], "; did you mean java.sql?"),
        (&["explain", "sql", DEMO], "; did you mean java.sql?"),
        (&["explain", "harbour.master", DEMO], "has no module harbour.master"),
        (&["scan", DEMO, "--with", "java.desktp"], "; did you mean java.desktop?"),
        (&["scan", DEMO, "--without", "jdk.naming.dsn"], "; did you mean jdk.naming.dns?"),
        (&["scan", DEMO, "--entry", "gauge.Service"], "; did you mean harbour.gauge.Service?"),
        (&["scan", DEMO, "--entry", "harbour.gauge.Servcie"], "; did you mean harbour.gauge.Service?"),
    ] {
        let output = run(arguments);
        let said = text(&output.stderr);
        assert_eq!(status(&output), 2, "{said}");
        assert!(said.trim_end().ends_with(meant), "{arguments:?}: {said}");
    }
}

/// The page says what the finding says.
#[test]
fn archives_that_each_name_a_start_are_named() {
    let folder = tempfile::tempdir().unwrap();
    let classes = folder.path().join("classes");
    fs::create_dir(&classes).unwrap();
    for name in ["a.jar", "b.jar"] {
        fs::copy(DEMO, classes.join(name)).unwrap();
    }
    let output = run(&["scan", classes.to_str().unwrap(), "--width", "400"]);
    let page = text(&output.stdout);
    let start = page.lines().find(|line| line.starts_with("start ")).unwrap();
    let named = "2 archives each name a start: harbour.launch.Launch (Main-Class of a.jar), harbour.launch.Launch \
                 (Main-Class of b.jar); nothing says which is started";
    assert!(start.contains(named) && start.ends_with("name it by --entry"), "{start}");
    assert!(page.contains("unclear-start") && page.contains("nor Main-Class of b.jar"), "{page}");
    // All classes of the second are in the first: one line for each pair of archives, the largest first.
    let shadowed: Vec<&str> = page.lines().filter(|line| line.contains("never loaded")).map(str::trim).collect();
    let place = |name: &str| format!("{}!/BOOT-INF/classes", classes.join(name).display());
    let (first, second) = (place("a.jar"), place("b.jar"));
    let line = format!("classes of {second} are never loaded, since {first} comes first; harbour.gauge.");
    assert!(shadowed.len() == 3 && shadowed[0].contains(&line), "{shadowed:?}");
    assert!(page.contains("and of 1 more pair of archives"), "{page}");
}

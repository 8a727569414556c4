//! The page in a real browser: used, judged by others, and compared with what the program itself answers.
//!
//! Judges: Chromium, led by `tests/judges/page/`; axe-core, the rules of WCAG 2; for flow charts Mermaid's own parser; for
//! DOT Graphviz; for pictures a parser of XML 1.0. Chromium is found as `chromium` or by `SECATEUR_CHROMIUM`.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

mod browser;
mod graphs;
#[path = "../support/jdk.rs"]
mod jdk;
#[path = "../support/libraries.rs"]
mod libraries;
#[allow(dead_code, reason = "not every answer of it is one of a page")]
#[path = "../../src/report/sample.rs"]
mod sample;
mod weights;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use secateur::pipeline;
use secateur::plan::Plan;
use secateur::progress::Silent;
use secateur::report::dossier::Dossier;
use secateur::report::layout::megabytes;
/// The types that `sample` names through `super`.
#[allow(unused_imports, reason = "the sample takes what it needs")]
use secateur::report::*;
use secateur::verdict::Policy;
use serde_json::{Value, json};

use browser::{check, judge};

const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/testdata/harbour/harbour.jar");

/// Kept beside each run: choices that are made at random are the same every time.
const SEED: u32 = 20_251_125;

fn plan(inputs: &[&Path]) -> Plan {
    Plan { inputs: inputs.iter().map(|path| path.to_path_buf()).collect(), ..Plan::default() }
}

fn bytes(dossier: &Dossier) -> Vec<u8> {
    let mut out = Vec::new();
    html::render(dossier, &mut out).unwrap();
    out
}

/// The page of a plan, in a folder that lasts as long as what is returned first.
fn page(plan: &Plan) -> (tempfile::TempDir, PathBuf) {
    written(&pipeline::dossier(plan, &Silent).unwrap())
}

fn written(dossier: &Dossier) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a page & more.html");
    fs::write(&path, bytes(dossier)).unwrap();
    (folder, path)
}

/// The first line of the text format, which is the verdict.
fn headline(report: &Report) -> String {
    let mut out = Vec::new();
    let style = style::Style::decide(style::Colour::Never, Some(1000), style::Medium::default());
    text::render(report, &style, &mut out).unwrap();
    String::from_utf8(out).unwrap().lines().find(|line| line.starts_with("Keep ")).unwrap().to_owned()
}

#[test]
fn it_can_be_used_and_says_what_the_data_say() {
    let plan = Plan { by_archive: true, ..plan(&[Path::new(DEMO)]) };
    let dossier = pipeline::dossier(&plan, &Silent).unwrap();
    let (_folder, page) = written(&dossier);
    let by_archive = dossier.report.responsibility.as_ref().unwrap();
    let figure = |share: &responsibility::Share| megabytes(share.bytes.unwrap());
    let mut archives: Vec<[String; 3]> =
        by_archive.archives.iter().map(|row| [row.archive.clone(), figure(&row.goes), figure(&row.own)]).collect();
    assert_eq!(archives.len(), 3);
    let sums = [("shared", figure(&by_archive.shared)), ("always", figure(&by_archive.always))];
    for (name, bytes) in sums.into_iter().chain([("total", megabytes(by_archive.total.unwrap()))]) {
        archives.push([name.to_owned(), String::new(), bytes]);
    }
    let costs: Vec<[String; 2]> =
        by_archive.uncertain.iter().map(|row| [row.module.clone(), figure(&row.goes)]).collect();
    let figures = |figure: &dyn Fn(&ModuleRow) -> Option<u64>| -> Value {
        let shown = |row: &ModuleRow| (row.name.clone(), figure(row).map_or("?".into(), megabytes).into());
        Value::Object(dossier.report.modules.iter().map(shown).collect())
    };
    check(json!({
        "what": "use",
        "page": page,
        "headline": headline(&dossier.report),
        "weights": figures(&|row| row.weight.map(|weight| weight.total())),
        "soles": figures(&|row| row.sole_bytes),
        "archives": archives,
        "costs": costs,
    }));
}

/// Each module of the platform turned in turn, and fifty choices at random: list, bytes, images and launch are those of
/// the command that the page offers for the choice; and what the page calls impossible, the command refuses.
#[test]
fn switches_do_what_a_scan_does() {
    let (refused, lists) = compared(&plan(&[Path::new(DEMO)]), 50);
    assert!(refused > 3 && lists > 50, "{refused} refused, {lists} lists");
}

/// Release 11 is weighed by the figures of 17, which lack some of its modules; classes of 17 are too new for it.
#[test]
fn switches_weigh_by_figures_of_another_release() {
    let plan = Plan {
        release: Some(11),
        purposes: vec!["tls".into(), "attaching".into()],
        said: ["--release", "11", "--purpose", "tls", "--purpose", "attaching"].map(str::to_owned).to_vec(),
        ..plan(&[&Path::new(DEMO).with_file_name("harbour-shaded.jar")])
    };
    let (_, lists) = compared(&plan, 50);
    assert!(lists > 50, "{lists} lists");
}

/// A page whose scan had wishes and options of its own starts from them. The JDK has no packaged modules, so that its
/// linker cannot put itself into an image: what requires `jdk.jlink` is kept only if it is asked for by name.
#[test]
fn switches_start_from_what_was_scanned() {
    let home = jdk::jdk(25);
    let launch = "--add-modules jdk.jpackage -Dtide='high water'";
    let plan = Plan {
        policy: Policy::Lean,
        with: vec!["jdk.jdi".into(), "java.sql".into()],
        without: vec!["jdk.httpserver".into()],
        launch: secateur::needs::Launch::parse(launch).unwrap(),
        jdk: Some(home.clone()),
        said: ["--jdk", home.to_str().unwrap(), "--launch", launch].map(str::to_owned).to_vec(),
        ..plan(&[Path::new(DEMO)])
    };
    let kept = |with: &[&str]| {
        let with = with.iter().map(|name| (*name).to_owned()).collect();
        pipeline::scan(&Plan { with, ..plan.clone() }, &Silent).unwrap().list.contains(&"jdk.jlink".to_owned())
    };
    assert!(!kept(&[]) && kept(&["jdk.jpackage"]));
    compared(&plan, 10);
}

/// A JDK of 17 without packaged modules can link nothing, so nothing is known of bytes, and the page says so.
#[test]
fn without_figures_switches_do_what_a_scan_does() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("jdk");
    fs::create_dir(&home).unwrap();
    for part in fs::read_dir(jdk::jdk(17)).unwrap().map(|part| part.unwrap().path()) {
        if part.file_name().unwrap() != "jmods" {
            std::os::unix::fs::symlink(&part, home.join(part.file_name().unwrap())).unwrap();
        }
    }
    let said = ["--jdk", home.to_str().unwrap()].map(str::to_owned).to_vec();
    let plan = Plan { jdk: Some(home), said, ..plan(&[Path::new(DEMO)]) };
    let dossier = pipeline::dossier(&plan, &Silent).unwrap();
    assert!(dossier.report.weight.selection.is_none() && dossier.model.is_none());
    compared(&plan, 10);
    let (_folder, page) = written(&dossier);
    check(json!({ "what": "judge", "page": page, "axe": judge("axe-core") }));
}

/// How many choices were refused, and to how many lists the others led.
fn compared(plan: &Plan, rounds: u32) -> (usize, usize) {
    let (_folder, page) = page(plan);
    let told = check(json!({ "what": "choices", "page": page, "seed": SEED, "rounds": rounds, "each": true }));
    let choices = told["choices"].as_array().unwrap();
    assert!(choices.len() > 60, "{} choices", choices.len());
    judged(plan, choices)
}

/// Runs the command of each choice.
fn judged(plan: &Plan, choices: &[Value]) -> (usize, usize) {
    let (mut refused, mut lists) = (0, std::collections::BTreeSet::new());
    for choice in choices {
        let command = choice["command"].as_str().unwrap();
        match run(command) {
            Ok(scan) => {
                assert_eq!(choice["conflicts"], json!([]), "{choice}");
                assert_eq!(choice["list"], scan["list"], "{choice}");
                assert_eq!(choice["bytes"], *scan["weight"].get("selection_bytes").unwrap_or(&Value::Null), "{choice}");
                figures_of_rows(choice, &scan);
                if plan.jdk.is_none() {
                    assert_eq!(choice["images"], images(command), "{choice}");
                }
                let names: Vec<&str> =
                    scan["name_at_launch"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
                let launch = names.join(",");
                let launch = if launch.is_empty() { launch } else { format!("java --add-modules {launch}") };
                assert_eq!(choice["launch"], launch, "{choice}");
                lists.insert(scan["list"].to_string());
            }
            Err(error) => {
                // The command names the first; the page all.
                let by = |text: &str| {
                    text.rsplit_once("it is required by ")
                        .map(|(_, by)| by.trim_end_matches(['.', ' ', '\n']).to_owned())
                };
                let mut said = choice["conflicts"].as_array().unwrap().iter().filter_map(Value::as_str);
                assert!(by(&error).is_some() && said.any(|said| by(said) == by(&error)), "{error}: {choice}");
                refused += 1;
            }
        }
    }
    (refused, lists.len())
}

/// What a choice says of each module and each purpose beside the list.
fn figures_of_rows(choice: &Value, scan: &Value) {
    let rows = |rows: &str, name: &str, bytes: &str, told: &dyn Fn(&Value) -> bool| -> Value {
        let rows = scan[rows].as_array().unwrap().iter().filter(|row| told(row));
        let figure = |row: &Value| (row[name].as_str().unwrap().to_owned(), row[bytes].as_u64().unwrap_or(0).into());
        Value::Object(rows.map(figure).collect())
    };
    let frees = rows("modules", "name", "sole_bytes", &|row| row["root"] == true && row["name"] != "java.base");
    assert_eq!(choice["frees"], frees, "{choice}");
    let purposes = rows("purposes", "purpose", "bytes", &|row| row["modules"] != json!([]));
    assert_eq!(choice["purposes"], purposes, "{choice}");
}

/// What `weigh` says of the same choice: options, bytes on disk, by gzip and by zstd.
fn images(command: &str) -> Value {
    let weighing = run(&command.replacen(" scan ", " weigh ", 1)).unwrap();
    let row = |image: &Value| {
        let arguments = image["arguments"].as_array().unwrap().iter().filter_map(Value::as_str);
        let words: Vec<&str> = image["label"].as_str().into_iter().chain(arguments).collect();
        let [disk, gzip, zstd] = ["disk_bytes", "gzip_layer_bytes", "zstd_layer_bytes"].map(|key| &image[key]);
        json!([words.join(" "), disk, gzip, zstd])
    };
    weighing["images"].as_array().unwrap().iter().map(row).collect()
}

/// Runs a command as it stands in a shell, for JSON; what it refuses it says on standard error, with exit status 2. An
/// answer that may lack something, status 3, is one.
fn run(command: &str) -> Result<Value, String> {
    let program = Path::new(env!("CARGO_BIN_EXE_secateur"));
    let path = format!("{}:/usr/bin:/bin", program.parent().unwrap().display());
    let done = Command::new("sh")
        .args(["-c", &format!("{command} --quiet --format json")])
        .env("PATH", path)
        .output()
        .unwrap();
    match done.status.code() {
        Some(0 | 3) => Ok(serde_json::from_slice(&done.stdout).unwrap()),
        Some(2) => Err(String::from_utf8(done.stderr).unwrap()),
        status => panic!("{command}: {status:?}, {}", String::from_utf8_lossy(&done.stderr)),
    }
}

/// Judge: axe-core (Deque Systems), all rules, none left out.
#[test]
fn it_keeps_the_rules_of_accessibility() {
    let (_folder, page) = page(&Plan { by_archive: true, ..plan(&[Path::new(DEMO)]) });
    check(json!({ "what": "judge", "page": page, "axe": judge("axe-core") }));
    let (_folder, page) = written(&sample::dossier());
    check(json!({ "what": "judge", "page": page, "axe": judge("axe-core") }));
}

#[test]
fn hostile_names_are_text() {
    const MARKUP: &str = "<img src=x onerror=globalThis.planted=1>&amp;<b>\"'.jar";
    let mut dossier = sample::dossier();
    let hostile = format!("</script><script>globalThis.planted=1</script>{MARKUP}");
    dossier.report.inputs[0].path.clone_from(&hostile);
    dossier.report.opaque[0].archive.clone_from(&hostile);
    dossier.report.responsibility.as_mut().unwrap().archives[0].archive.clone_from(&hostile);
    dossier.report.entry_points[0].class.clone_from(&hostile);
    dossier.report.findings[0].message.clone_from(&hostile);
    dossier.report.cautions.push(hostile.clone());
    let mut step = dossier.witnesses[0].paths[0].steps[0].clone();
    step.who.clone_from(&hostile);
    dossier.witnesses[0].paths[0].steps.insert(0, step);
    let (_folder, page) = written(&dossier);
    check(json!({ "what": "hostile", "page": page, "names": [hostile, "tide\\u{1b}[2J\\u{202e}raj.jar"] }));

    // The same from an archive, by way of everything that reads it.
    let folder = tempfile::tempdir().unwrap();
    let archive = folder.path().join(MARKUP);
    fs::copy(DEMO, &archive).unwrap();
    let (_folder, page) = self::page(&plan(&[&archive]));
    check(json!({ "what": "hostile", "page": page, "names": [MARKUP] }));
    // The command is one for a shell, whatever the name is made of.
    let told = check(json!({ "what": "choices", "page": page, "seed": SEED, "rounds": 0, "each": true }));
    let command = told["choices"][0]["command"].as_str().unwrap();
    assert_eq!(run(command).unwrap()["list"], told["choices"][0]["list"]);
}

/// Some 40,000 classes of real libraries.
#[test]
fn a_large_program_opens_at_once() {
    let jars = libraries::libraries();
    let plan = plan(&jars.iter().map(PathBuf::as_path).collect::<Vec<_>>());
    let (_folder, page) = page(&plan);
    let size = fs::metadata(&page).unwrap().len();
    assert!(size < 3_000_000, "{size} bytes");
    let told = check(json!({ "what": "opens", "page": page }));
    assert!(told["milliseconds"].as_f64().unwrap() < 1000.0, "{told}");
    assert!(told["elements"].as_u64().unwrap() < 3000, "{told}");
    let told = check(json!({ "what": "choices", "page": page, "seed": SEED, "rounds": 2, "each": false }));
    let (refused, lists) = judged(&plan, told["choices"].as_array().unwrap());
    assert_eq!(refused + lists, 2);
}

#[test]
fn the_same_bytes_twice() {
    let plan = plan(&[Path::new(DEMO)]);
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        bytes(&pool.install(|| pipeline::dossier(&plan, &Silent)).unwrap())
    };
    let once = on(1);
    assert!(once == on(4) && once == on(4));
}

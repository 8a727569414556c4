//! The JSON contract: every document that the program writes is one that its schema describes.
//!
//! Judge: JSON Schema draft 2020-12 (json-schema.org), by the `jsonschema` crate.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::collections::BTreeSet;

use secateur::classfile::Position;
use secateur::diag::Code;
use secateur::pipeline;
use secateur::plan::{Plan, Weighed};
use secateur::progress::Silent;
use secateur::report::{Standing, html, json};
use serde_json::Value;

/// The types that `sample` names through `super`.
#[allow(unused_imports, reason = "the sample takes what it needs")]
use secateur::report::*;

#[path = "support/jdk.rs"]
mod jdk;
#[path = "../src/report/sample.rs"]
mod sample;

const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/testdata/harbour/");
const EXAMPLES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/testdata/examples/");

fn schema() -> Value {
    serde_json::from_str(json::SCHEMA).unwrap()
}

fn printed(print: impl FnOnce(&mut Vec<u8>) -> std::io::Result<()>) -> Value {
    let mut out = Vec::new();
    print(&mut out).unwrap();
    serde_json::from_slice(&out).unwrap()
}

/// What a page holds: the text of its element `answer`.
fn held(dossier: &dossier::Dossier) -> Vec<u8> {
    let mut out = Vec::new();
    html::render(dossier, &mut out).unwrap();
    let page = String::from_utf8(out).unwrap();
    let (_, after) = page.split_once("<script type=\"application/json\" id=\"answer\">").unwrap();
    after.split_once("</script>").unwrap().0.as_bytes().to_vec()
}

/// The sub-schemas are tried one by one, since a failed `oneOf` says little.
fn assert_valid(document: &Value) {
    let mut schema = schema();
    let validator = jsonschema::draft202012::new(&schema).unwrap();
    if validator.is_valid(document) {
        return;
    }
    let kind = match document["document"].as_str() {
        Some("platform") => "listing",
        Some(kind) => kind,
        None => panic!("the document does not say what it is"),
    };
    let part = format!("#/$defs/{kind}");
    let root = schema.as_object_mut().unwrap();
    root.remove("oneOf");
    root.insert("$ref".into(), part.into());
    let errors: Vec<String> = jsonschema::draft202012::new(&schema)
        .unwrap()
        .iter_errors(document)
        .map(|error| format!("{}: {error}", error.instance_path()))
        .collect();
    panic!("{kind}: {}", errors.join("\n"));
}

#[test]
fn the_schema_is_one() {
    assert!(jsonschema::draft202012::meta::is_valid(&schema()));
}

#[test]
fn answers_with_every_kind_of_row_are_described() {
    assert_valid(&printed(|out| json::render(&sample::report(), out)));
    assert_valid(&printed(|out| json::render_explanation(&sample::explanation(), out)));
    let nothing = Explanation { row: None, ..sample::explanation() };
    assert_valid(&printed(|out| json::render_explanation(&nothing, out)));
    assert_valid(&printed(|out| json::render_platform(&sample::listing(), out)));
    assert_valid(&serde_json::from_slice(&held(&sample::dossier())).unwrap());
    assert_valid(&printed(|out| trial::json::render(&sample::trial(), out)));
}

/// A schema that accepts everything would pass the test above.
#[test]
fn what_is_not_in_the_contract_is_refused() {
    let validator = jsonschema::draft202012::new(&schema()).unwrap();
    let good = printed(|out| json::render(&sample::report(), out));
    let mut further = good.clone();
    further["weather"] = "fair".into();
    let mut lacking = good.clone();
    lacking.as_object_mut().unwrap().remove("list");
    let mut standing = good.clone();
    standing["modules"][0]["standing"] = "beloved".into();
    let mut code = good.clone();
    code["findings"][0]["code"] = "low-tide".into();
    let mut shown = printed(|out| trial::json::render(&sample::trial(), out));
    shown["modules"][0]["shown"] = "beloved".into();
    for bad in [further, lacking, standing, code, shown] {
        assert!(!validator.is_valid(&bad));
    }
    assert!(validator.is_valid(&good));
}

#[test]
fn real_answers_are_described() {
    for archive in ["harbour.jar", "harbour-shaded.jar", "harbour.war", "harbour.ear"] {
        let plan = Plan { inputs: vec![format!("{DEMO}{archive}").into()], ..Plan::default() };
        let report = pipeline::scan(&plan, &Silent).unwrap();
        let printed_alone = printed(|out| json::render(&report, out));
        assert_valid(&printed_alone);
        let page: Value = serde_json::from_slice(&held(&pipeline::dossier(&plan, &Silent).unwrap())).unwrap();
        assert_valid(&page);
        assert_eq!(page["scan"], printed_alone);
        for module in ["java.base", "java.sql", "jdk.jshell"] {
            let explanation = pipeline::explain(&plan, module, &Silent).unwrap();
            assert_valid(&printed(|out| json::render_explanation(&explanation, out)));
        }
    }
    for release in [9, 17, 25] {
        let plan = Plan { release: Some(release), ..Plan::default() };
        assert_valid(&printed(|out| json::render_platform(&pipeline::platform(&plan).unwrap(), out)));
        // Figures of another release, with some lacking; more than one module.
        let wanted = Weighed { modules: vec!["java.se".into(), "jdk.jdi".into()], link: None };
        assert_valid(&printed(|out| weighing::json::render(&pipeline::weigh(&plan, &wanted, &Silent).unwrap(), out)));
    }
}

/// What the launch asks for stands in no archive.
#[test]
fn answers_about_a_launch_are_described() {
    let plan = Plan {
        inputs: vec![format!("{DEMO}harbour.jar").into()],
        launch: secateur::needs::Launch::parse("--add-modules jdk.jdi,jdk.incubator.vector").unwrap(),
        with: vec!["jdk.incubator.foreign".to_owned()],
        ..Plan::default()
    };
    let scanned = printed(|out| json::render(&pipeline::scan(&plan, &Silent).unwrap(), out));
    assert_valid(&scanned);
    assert_eq!(scanned["name_at_launch"], serde_json::json!(["jdk.incubator.foreign"]));
    let told = printed(|out| json::render_explanation(&pipeline::explain(&plan, "jdk.jdi", &Silent).unwrap(), out));
    assert_valid(&told);
    assert_eq!(told["witnesses"][0]["evidence"]["kind"], "launch");
    assert!(told["witnesses"][0]["evidence"].get("archive").is_none());
    assert!(told["to_go"].as_str().unwrap().contains("launch options"), "{}", told["to_go"]);
}

/// What the program writes of the demo, for each kind of document; nothing in it tells where it was written.
fn example(document: &str) -> String {
    let demo = || Plan { inputs: vec![format!("{DEMO}harbour.jar").into()], ..Plan::default() };
    let mut out = Vec::new();
    match document {
        "scan" => json::render(&pipeline::scan(&demo(), &Silent).unwrap(), &mut out).unwrap(),
        "explanation" => {
            let explanation = pipeline::explain(&demo(), "java.scripting", &Silent).unwrap();
            json::render_explanation(&explanation, &mut out).unwrap();
        }
        "platform" => {
            let listing = pipeline::platform(&Plan { release: Some(17), ..Plan::default() }).unwrap();
            json::render_platform(&listing, &mut out).unwrap();
        }
        "weighing" => {
            let plan = Plan { by_archive: true, ..demo() };
            let wanted = Weighed { link: Some("--strip-debug --compress=2".into()), ..Weighed::default() };
            weighing::json::render(&pipeline::weigh(&plan, &wanted, &Silent).unwrap(), &mut out).unwrap();
        }
        "page" => {
            out = held(&pipeline::dossier(&demo(), &Silent).unwrap());
            out.push(b'\n');
        }
        "trial" => out = trial_of_the_demo(),
        _ => panic!("no example of {document}"),
    }
    String::from_utf8(out).unwrap().replace(DEMO, "").replace(env!("CARGO_PKG_VERSION"), "0.0.0")
}

/// A trial, under the name `jdk-17` for the JDK.
fn trial_of_the_demo() -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("jdk-17");
    std::os::unix::fs::symlink(jdk::jdk(17), &home).unwrap();
    let command = "java -jar harbour.jar --self-check xml jdbc machine charset script";
    let mut settle = std::process::Command::new(env!("CARGO_BIN_EXE_secateur"));
    settle.args(["settle", "harbour.jar", "--quiet", "--format", "json", "--jdk"]).arg(&home);
    let done = settle.arg("--").args(command.split(' ')).current_dir(DEMO).output().unwrap();
    assert!(done.status.success(), "{done:?}");
    let text = String::from_utf8(done.stdout).unwrap();
    text.replace(&format!("{}/", folder.path().display()), "").into_bytes()
}

/// An answer without what one update of a JDK has in another way than the next.
fn whatever_the_update(text: &str) -> Value {
    fn cut(at: &mut Value) {
        match at {
            Value::Object(members) => {
                members.retain(|name, _| !["source", "message", "bytes", "loads", "loaded"].contains(&name.as_str()));
                members.values_mut().for_each(cut);
            }
            Value::Array(rows) => rows.iter_mut().for_each(cut),
            _ => {}
        }
    }
    let mut answer = serde_json::from_str(text).unwrap();
    cut(&mut answer);
    answer
}

/// The examples that the project shows to those who read its JSON, one of each document. `BLESS=1` writes them anew.
#[test]
fn the_committed_examples_are_what_the_program_writes() {
    let schema = schema();
    let mut documents = BTreeSet::new();
    for kind in schema["oneOf"].as_array().unwrap() {
        let kind = kind["$ref"].as_str().unwrap().rsplit('/').next().unwrap();
        let document = schema["$defs"][kind]["properties"]["document"]["const"].as_str().unwrap();
        let written = example(document);
        let path = format!("{EXAMPLES}{document}.json");
        if std::env::var_os("BLESS").is_some() {
            std::fs::write(&path, &written).unwrap();
        }
        let committed = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
        let same = match document {
            "trial" => whatever_the_update(&committed) == whatever_the_update(&written),
            _ => committed == written,
        };
        assert!(same, "{document}.json is not what the program writes; BLESS=1 writes it anew");
        assert!(!committed.contains(env!("CARGO_MANIFEST_DIR")) && !committed.contains("/tmp"), "{document}.json");
        assert_valid(&serde_json::from_str(&committed).unwrap());
        documents.insert(format!("{document}.json"));
    }
    let there = std::fs::read_dir(EXAMPLES).unwrap().map(|file| file.unwrap().file_name().into_string().unwrap());
    assert_eq!(there.collect::<BTreeSet<_>>(), documents);
}

#[test]
fn the_words_of_the_schema_are_those_of_the_code() {
    let schema = schema();
    let words = |name: &str| -> Vec<String> {
        let list = schema["$defs"][name]["enum"].as_array().unwrap();
        list.iter().map(|word| word.as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(words("code"), Code::ALL.iter().map(|code| code.tag()).collect::<Vec<_>>());
    assert_eq!(words("standing"), Standing::ALL.map(Standing::tag));
    let shown = &schema["$defs"]["trial_module"]["properties"]["shown"]["enum"];
    assert_eq!(*shown, serde_json::json!(trial::Shown::ALL.map(trial::Shown::tag)));
    let severities: BTreeSet<&str> = Code::ALL.iter().map(|code| code.severity().tag()).collect();
    let severity = &schema["$defs"]["finding"]["properties"]["severity"]["enum"];
    let known: BTreeSet<&str> = severity.as_array().unwrap().iter().map(|word| word.as_str().unwrap()).collect();
    assert_eq!(known, severities);
    // Kinds of evidence are open: the schema gives their form.
    let validator = jsonschema::draft202012::new(&schema["$defs"]["evidence"]["properties"]["kind"]).unwrap();
    for position in Position::ALL {
        assert!(validator.is_valid(&position.tag().into()), "{}", position.tag());
    }
}

/// A member that nothing writes would be a promise that nobody keeps.
#[test]
fn every_member_is_written() {
    fn promised(at: &Value, names: &mut BTreeSet<String>) {
        match at {
            Value::Object(members) => {
                names.extend(
                    members
                        .get("properties")
                        .and_then(Value::as_object)
                        .into_iter()
                        .flat_map(|all| all.keys().cloned()),
                );
                members.values().for_each(|at| promised(at, names));
            }
            Value::Array(items) => items.iter().for_each(|at| promised(at, names)),
            _ => {}
        }
    }
    fn written(at: &Value, names: &mut BTreeSet<String>) {
        match at {
            Value::Object(members) => {
                names.extend(members.keys().cloned());
                members.values().for_each(|at| written(at, names));
            }
            Value::Array(items) => items.iter().for_each(|at| written(at, names)),
            _ => {}
        }
    }
    let wanted = Weighed { modules: vec!["java.sql".into()], link: None };
    let other = pipeline::weigh(&Plan { release: Some(21), ..Plan::default() }, &wanted, &Silent).unwrap();
    let mut documents = vec![
        printed(|out| json::render(&sample::report(), out)),
        printed(|out| json::render_explanation(&sample::explanation(), out)),
        printed(|out| json::render_platform(&sample::listing(), out)),
        printed(|out| trial::json::render(&sample::trial(), out)),
        printed(|out| weighing::json::render(&other, out)),
        serde_json::from_slice(&held(&sample::dossier())).unwrap(),
    ];
    let examples = std::fs::read_dir(EXAMPLES).unwrap().map(|file| std::fs::read(file.unwrap().path()).unwrap());
    documents.extend(examples.map(|text| serde_json::from_slice::<Value>(&text).unwrap()));
    let (mut all, mut there) = (BTreeSet::new(), BTreeSet::new());
    promised(&schema(), &mut all);
    for document in &documents {
        written(document, &mut there);
    }
    let silent: Vec<&String> = all.difference(&there).collect();
    assert!(all.len() > 100 && silent.is_empty(), "{silent:?}");
}

#[test]
fn every_member_is_described() {
    fn look(at: &Value, path: &str, silent: &mut Vec<String>) {
        if let Some(members) = at.get("properties").and_then(Value::as_object) {
            for (name, member) in members {
                if member.get("description").and_then(Value::as_str).is_none_or(str::is_empty) {
                    silent.push(format!("{path}/{name}"));
                }
            }
        }
        match at {
            Value::Object(members) => members.iter().for_each(|(name, at)| look(at, &format!("{path}/{name}"), silent)),
            Value::Array(items) => items.iter().for_each(|at| look(at, path, silent)),
            _ => {}
        }
    }
    let mut silent = Vec::new();
    look(&schema(), "", &mut silent);
    assert!(silent.is_empty(), "{silent:?}");
}

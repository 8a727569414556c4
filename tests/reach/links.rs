//! What linking loads, against the JVM that links without the module.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::process::Command;

use secateur::classfile::{ClassFile, Scratch, descriptor};
use secateur::diag::Findings;
use secateur::limits::Limits;
use secateur::names::package_of;
use secateur::platform::Catalogue;
use secateur::program::{Action, ClassId, Program, View};
use secateur::reach::links::{Hierarchy, Link, Relevance, links};
use secateur::verifier;

use crate::jdk;
use crate::sources::{compile, read};

fn found(program: &Program, view: &View) -> Vec<Link> {
    let catalogue = Catalogue::built_in(17).unwrap();
    let foreign = |name: &[u8]| {
        let module = catalogue.module_of_package(package_of(name));
        module.is_some_and(|module| catalogue.name(module) != "java.base")
    };
    let relevance = Relevance::new(program, view, &foreign);
    let own = |name: &[u8]| {
        let id = program.names.find(name)?;
        program.class(view.find(secateur::archive::Scope::default(), id)?)
    };
    let is_interface = |name: &[u8]| match own(name) {
        Some(class) => Some(class.access & 0x0200 != 0),
        None => catalogue.platform_type(name).map(|known| known.access & 0x0200 != 0),
    };
    let hierarchy = Hierarchy { relevance: &relevance, is_interface: &is_interface };
    let mut findings = Findings::new(10);
    let found = links(program, &Limits::default(), &hierarchy, &view.classes, &mut findings);
    assert!(findings.sorted().is_empty());
    found
}

#[test]
fn linking_loads_what_the_jvm_loads() {
    let folder = compile("links", &["Linking.java"]);
    let (program, view) = read(&folder);
    let simple = |id: ClassId| {
        let name = String::from_utf8(program.names.name(program.class(id).unwrap().name).to_vec()).unwrap();
        name.strip_prefix("reach/").unwrap().to_owned()
    };
    let mut loads: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for link in found(&program, &view) {
        let method = program.method(link.method.unwrap()).unwrap();
        assert_eq!(method.class, link.class);
        loads.entry(simple(link.class)).or_default().insert(String::from_utf8(link.loaded.to_vec()).unwrap());
    }
    let set = |names: &[&str]| names.iter().map(|&name| name.to_owned()).collect::<BTreeSet<_>>();
    let expected = BTreeMap::from([
        ("FailsByCatch".to_owned(), set(&["reach/Overflow"])),
        ("FailsBySource".to_owned(), set(&["reach/Overflow"])),
        ("FailsByTarget".to_owned(), set(&["java/sql/Driver"])),
        ("FailsByThrow".to_owned(), set(&["reach/Overflow"])),
    ]);
    assert_eq!(loads, expected);

    let names: Vec<String> = view
        .classes
        .iter()
        .map(|&id| simple(id))
        .filter(|name| name.starts_with("Fails") || name.starts_with("Links"))
        .collect();
    let names: Vec<&String> = names.iter().filter(|name| !name.contains('$')).collect();
    assert_eq!(names.len(), 9);
    for release in [17, 25] {
        let output = Command::new(jdk::tool(release, "java"))
            .args(["--limit-modules", "java.base", "-cp"])
            .arg(&folder)
            .arg("reach.Linking")
            .args(&names)
            .output()
            .expect("java starts");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        let text = String::from_utf8(output.stdout).unwrap();
        for (line, name) in text.lines().zip(&names) {
            let outcome = if loads.contains_key(*name) { "fails" } else { "links" };
            assert_eq!(line, format!("{name} {outcome}"), "{release}");
        }
        assert_eq!(text.lines().count(), names.len());
    }
}

#[test]
fn threads_change_nothing() {
    let (program, view) = read(&compile("links-threads", &["Linking.java"]));
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| found(&program, &view))
    };
    assert!(!on(1).is_empty());
    assert_eq!(on(1), on(8));
}

/// What decides whether a class is read again must have every name that the verifier can ask about.
#[test]
fn the_summary_has_every_type_that_is_asked_about() {
    let in_folder = |folder: &str| {
        let all = fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/reach").join(folder)).unwrap();
        let files = all.map(|file| file.unwrap().path()).filter(|file| file.extension().is_some_and(|of| of == "java"));
        files.map(|file| format!("{folder}/{}", file.file_name().unwrap().display())).collect::<Vec<_>>()
    };
    let mut files = [in_folder("."), in_folder("../verifier"), in_folder("../flow")].concat();
    files.sort();
    let folder = compile("links-types", &files.iter().map(String::as_str).collect::<Vec<_>>());
    let (program, view) = read(&folder);
    let catalogue = Catalogue::built_in(17).unwrap();
    let is_base = |name: &[u8]| {
        let module = catalogue.module_of_package(package_of(name));
        module.is_some_and(|module| catalogue.name(module) == "java.base")
    };
    let (mut pool, mut scratch) = (Scratch::default(), verifier::Scratch::default());
    let mut asked = 0;
    for class in view.classes.iter().map(|&id| program.class(id).unwrap()) {
        let mut known: BTreeSet<&[u8]> = program.types(class).iter().map(|&name| program.names.name(name)).collect();
        let mut add = |member| {
            let text = program.members.name(member);
            let start = text.iter().position(|&byte| byte == b'(').unwrap_or(text.len());
            known.extend(descriptor::classes(&text[start..]));
        };
        for (id, method) in program.methods_of(class) {
            add(method.selector);
            program.steps(id).for_each(|step| match step.action {
                Action::StaticCall(called) | Action::SpecialCall(called) | Action::VirtualCall(called) => {
                    add(called.member);
                }
                _ => {}
            });
        }
        let path = String::from_utf8(program.names.name(class.path).to_vec()).unwrap();
        let bytes = fs::read(folder.join(format!("{path}.class"))).unwrap();
        let file = ClassFile::read(&bytes, &mut pool).unwrap();
        let (unfinished, read) = verifier::questions(&file, &mut scratch, |question| {
            for name in question.source.into_iter().chain([question.target]).filter(|name| !is_base(name)) {
                assert!(known.contains(name), "{} in {path}", String::from_utf8_lossy(name));
                asked += 1;
            }
        });
        assert_eq!((unfinished, read.is_ok()), (0, true), "{path}");
    }
    assert!(asked > 10, "{asked}");
}

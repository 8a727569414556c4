//! Names that come to look-ups from other methods and classes, against the JVM that runs the program.

use std::collections::{BTreeMap, BTreeSet};

use secateur::diag::Findings;
use secateur::flow::sinks::{Form, Purpose};
use secateur::limits::Limits;
use secateur::program::{MethodId, Program, View};
use secateur::reach::lookups::{LookUp, LookUps};
use secateur::reach::sorted::Sorted;

use crate::sources::{compile, java, read};

/// A method as its class, name and descriptor.
fn shown(program: &Program, id: MethodId) -> String {
    let method = program.method(id).unwrap();
    let class = program.class(method.class).unwrap();
    let text = [program.names.name(class.name), b".", program.members.name(method.selector)].concat();
    String::from_utf8(text).unwrap()
}

fn all_methods(program: &Program) -> Vec<MethodId> {
    (0..program.methods.len() as u32).map(MethodId).collect()
}

/// What can only run later, if at all.
fn is_later(program: &Program, id: MethodId) -> bool {
    let name = shown(program, id);
    name.contains(".never(") || name.starts_with("reach/SunkenStation")
}

fn properties(key: &[u8]) -> Vec<Vec<u8>> {
    if key == b"gauge.driver" { vec![b"javax.sql.XADataSource".to_vec()] } else { Vec::new() }
}

/// Method, purpose, and the names found, in the order of the answer.
type Found = Vec<(String, Purpose, BTreeSet<String>)>;

fn found(program: &Program, look_ups: &[LookUp]) -> Found {
    let text = |bytes: &Vec<u8>| String::from_utf8(bytes.clone()).unwrap();
    look_ups
        .iter()
        .map(|found| (shown(program, found.method), found.sink.purpose, found.names.exact.iter().map(text).collect()))
        .collect()
}

/// Follows in two lots: first without what is called `never`, then with it.
fn follow(program: &Program, view: &View) -> (Vec<LookUp>, Vec<LookUp>, Vec<LookUp>) {
    let limits = Limits::default();
    let mut findings = Findings::new(10);
    let sorted = Sorted::new(program, view);
    let mut look_ups = LookUps::new(program, view, &sorted, &limits, &properties);
    let (later, first): (Vec<MethodId>, _) = all_methods(program).into_iter().partition(|&id| is_later(program, id));
    assert!(!later.is_empty());
    let without = look_ups.follow(&|id| !is_later(program, id), &first, &mut findings);
    let with = look_ups.follow(&|_| true, &later, &mut findings);
    assert!(findings.sorted().is_empty());
    // Nothing has changed, so nothing is told.
    assert_eq!(look_ups.follow(&|_| true, &[], &mut findings), []);
    let opaque = look_ups.opaque(&|_| true);
    // Of all that can run at first some names are known, whatever else it may be.
    let begun = look_ups.opaque(&|id| !is_later(program, id));
    assert!(begun.iter().all(|look_up| !look_up.names.exact.is_empty()));
    (without, with, opaque)
}

fn names(list: &[&str]) -> BTreeSet<String> {
    list.iter().map(|&name| name.to_owned()).collect()
}

#[test]
fn names_come_from_other_methods_and_classes() {
    let folder = compile("names", &["Names.java"]);
    let (program, view) = read(&folder);
    let (without, with, opaque) = follow(&program, &view);

    let loads = |list: &[LookUp]| -> BTreeMap<String, BTreeSet<String>> {
        let mut by_method: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for (method, purpose, names) in found(&program, list) {
            if matches!(purpose, Purpose::Load | Purpose::Provide) {
                by_method.entry(method).or_default().extend(names);
            }
        }
        by_method
    };
    let main = "reach/Names.main([Ljava/lang/String;)V";
    let load = "reach/Helper.load(Ljava/lang/String;Z)V";
    let expected = BTreeMap::from([
        (load.to_owned(), names(&["java/sql/Driver", "java/sql/Array"])),
        ("reach/Helper.provide(Ljava/lang/Class;)V".to_owned(), names(&["java/sql/Driver"])),
        ("reach/Holder.load()V".to_owned(), names(&["java/util/logging/Handler", "java/util/logging/Filter"])),
        (
            main.to_owned(),
            names(&[
                "java/rmi/Remote",
                "java/rmi/server/RemoteObject",
                "javax/naming/Context",
                "javax/naming/Name",
                "javax/xml/parsers/SAXParser",
                "javax/xml/parsers/DocumentBuilder",
                "java/lang/management/ManagementFactory",
                "javax/sql/DataSource",
                "javax/sql/XADataSource",
            ]),
        ),
    ]);
    assert_eq!(loads(&without), expected);

    // What grows when more can run is told again, and nothing else.
    let grown = loads(&with);
    assert_eq!(grown[load], names(&["java/sql/Driver", "java/sql/Array", "javax/script/ScriptEngine"]));
    assert_eq!(
        grown[main],
        names(&[
            "java/rmi/server/RemoteObject",
            "java/rmi/server/UID",
            "javax/xml/parsers/SAXParser",
            "javax/xml/parsers/DocumentBuilder",
            "javax/xml/transform/Source"
        ])
    );
    assert_eq!(grown.len(), 2);

    let opaque: Vec<String> = opaque.iter().map(|found| shown(&program, found.method)).collect();
    // Of the first nothing is known; of the second, which looks up a property with a default, not all.
    assert_eq!(opaque, ["reach/Later.never(Ljava/lang/String;)V", "reach/Names.main([Ljava/lang/String;)V"]);

    let members = |list: &[LookUp]| -> Vec<Vec<u8>> { list.iter().flat_map(|found| found.members.clone()).collect() };
    assert_eq!(members(&without), [b"getPlatformMBeanServer".to_vec()]);

    // The JVM asks for nothing that is not among them.
    let output = java(&folder, &["reach.Names"]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).unwrap();
    let all: BTreeSet<&String> = expected.values().flatten().collect();
    let asked: Vec<String> = text.lines().map(|line| line.split_once(' ').unwrap().1.replace('.', "/")).collect();
    assert_eq!(asked.len(), 11);
    for name in asked {
        assert!(all.contains(&name), "{name}");
    }
}

/// Without doubt is only what nobody outside can change: the table's field is final, the other is written in the open.
#[test]
fn what_else_may_come_is_told() {
    let (program, view) = read(&compile("names-else", &["Names.java"]));
    let (without, ..) = follow(&program, &view);
    let of = |name: &str| {
        let has = |found: &&LookUp| found.sink.form == Form::BinaryName && found.names.exact.contains(name.as_bytes());
        without.iter().find(has).unwrap_or_else(|| panic!("{name}"))
    };
    assert!(!of("java/rmi/Remote").names.unknown);
    assert!(!of("java/sql/Driver").names.unknown);
    assert!(!of("javax/naming/Context").names.unknown);
    // Whoever starts the program may set the property.
    assert!(of("javax/sql/DataSource").names.unknown);
}

#[test]
fn threads_change_nothing() {
    let (program, view) = read(&compile("names-threads", &["Names.java"]));
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| follow(&program, &view))
    };
    assert_eq!(on(1), on(8));
}

/// A class that has gone since the program was read is a finding, and the others are followed all the same.
#[test]
fn a_class_that_cannot_be_read_again_is_told() {
    let folder = compile("names-gone", &["Names.java"]);
    let (program, view) = read(&folder);
    std::fs::remove_file(folder.join("reach/Helper.class")).unwrap();
    let mut findings = Findings::new(10);
    let limits = Limits::default();
    let sorted = Sorted::new(&program, &view);
    let mut look_ups = LookUps::new(&program, &view, &sorted, &limits, &properties);
    let found = look_ups.follow(&|_| true, &all_methods(&program), &mut findings);
    assert_eq!(findings.sorted().len(), 1);
    assert!(findings.incomplete());
    assert!(found.iter().any(|found| shown(&program, found.method).starts_with("reach/Holder.load")));
    assert!(!found.iter().any(|found| shown(&program, found.method).starts_with("reach/Helper.")));
}

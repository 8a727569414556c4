//! Catalogues against the platform's own view of itself.
//!
//! Source: Java SE API, `java.lang.module.ModuleFinder.ofSystem()` and `java.lang.reflect`, on JDK 17 and 25.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test fails by panicking"
)]

use std::collections::BTreeSet;

use secateur::platform::{Catalogue, Exports, Module, Presence};

#[path = "support/judge.rs"]
mod judge;
use judge::{jdk::jdk, judge};

/// The facts of a catalogue, one a line, as `Describe.java` prints them.
fn facts(catalogue: &Catalogue) -> BTreeSet<String> {
    catalogue.modules.iter().flat_map(module_facts).collect()
}

fn module_facts(module: &Module) -> Vec<String> {
    let name = &module.name;
    let dotted = |name: &str| name.replace('/', ".");
    let mut lines = vec![format!("module {name} {}", module.open)];
    lines.extend(module.requires.iter().map(|requires| {
        let flags = [requires.transitive, requires.static_phase, requires.mandated].map(|flag| flag.to_string());
        format!("requires {name} {} {}", requires.module, flags.join(" "))
    }));
    let directive = |word: &str, e: &Exports| format!("{word} {name} {} {}", dotted(&e.package), e.to.join(","));
    lines.extend(module.exports.iter().map(|exports| directive("exports", exports)));
    lines.extend(module.opens.iter().map(|opens| directive("opens", opens)));
    lines.extend(module.uses.iter().map(|service| format!("uses {name} {}", dotted(service))));
    lines.extend(module.provides.iter().map(|provides| {
        let with: Vec<String> = provides.with.iter().map(|class| dotted(class)).collect();
        format!("provides {name} {} {}", dotted(&provides.service), with.join(","))
    }));
    lines.extend(module.packages.iter().map(|package| format!("package {name} {}", dotted(package))));
    lines
}

fn assert_same(ours: &BTreeSet<String>, theirs: &BTreeSet<String>, what: &str) {
    let lacking: Vec<_> = theirs.difference(ours).take(10).collect();
    let beyond: Vec<_> = ours.difference(theirs).take(10).collect();
    assert!(lacking.is_empty() && beyond.is_empty(), "{what}: lacks {lacking:#?}, has beyond {beyond:#?}");
    assert!(ours.len() > 1_500, "{what}: {} facts are too few to mean anything", ours.len());
}

#[test]
fn modules_are_those_that_the_platform_finds() {
    for release in [17, 25] {
        let theirs: BTreeSet<String> =
            judge(release, "platform/Describe.java", &[], "").lines().map(str::to_owned).collect();
        let on_disk = Catalogue::of_jdk(&jdk(release)).expect("a JDK");
        assert_same(&facts(&on_disk), &theirs, &format!("of_jdk({release})"));
        let built_in = Catalogue::built_in(release).expect("embedded");
        assert_same(&facts(&built_in), &theirs, &format!("built_in({release})"));
        for line in theirs.iter().filter(|line| line.starts_with("package ")) {
            let [_, module, package] = line.split(' ').collect::<Vec<_>>()[..] else { panic!("{line}") };
            for catalogue in [&on_disk, &built_in] {
                let found = catalogue.module_of_package(package.replace('.', "/").as_bytes()).expect(package);
                assert_eq!(&*catalogue.modules[usize::from(found.0)].name, module, "{package}");
            }
        }
    }
}

/// Wherever both claim to know, they say the same; sizes differ between builds of one release by design.
#[test]
fn built_in_types_are_those_of_the_jdk() {
    for release in [17, 25] {
        let on_disk = Catalogue::of_jdk(&jdk(release)).expect("a JDK");
        let built_in = Catalogue::built_in(release).expect("embedded");
        let mut met = 0;
        for class in sample(&built_in) {
            assert!(matches!(built_in.presence(class.as_bytes()), Presence::Present(_)), "{class}");
            assert!(matches!(on_disk.presence(class.as_bytes()), Presence::Present(_)), "{class}");
            assert_eq!(built_in.platform_type(class.as_bytes()), on_disk.platform_type(class.as_bytes()), "{class}");
            met += 1;
        }
        assert!(met > 500, "only {met} types in the sample");
    }
}

/// Classes that descriptors name, and everything above them: services, providers, their supertypes.
fn sample(catalogue: &Catalogue) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut open: Vec<String> = WELL_KNOWN.iter().map(ToString::to_string).collect();
    for module in &catalogue.modules {
        open.extend(module.uses.iter().map(ToString::to_string));
        open.extend(module.provides.iter().flat_map(|provides| &provides.with).map(ToString::to_string));
    }
    while let Some(class) = open.pop() {
        if found.insert(class.clone()) {
            let facts = catalogue.platform_type(class.as_bytes()).unwrap_or_else(|| panic!("{class} is not described"));
            open.extend(facts.superclass.iter().chain(&facts.interfaces).map(ToString::to_string));
            // What its methods speak of is platform too.
            for selector in &facts.overridable {
                let parts = selector.split(';');
                open.extend(parts.filter_map(|part| part.get(part.find("Ljava/")? + 1..)).map(String::from));
            }
        }
    }
    found
}

const WELL_KNOWN: &[&str] = &[
    "java/util/HashMap",
    "java/util/concurrent/ThreadPoolExecutor",
    "javax/swing/JTable",
    "java/sql/ResultSet",
    "javax/xml/parsers/SAXParser",
    "java/io/FilterOutputStream",
    "java/net/http/HttpClient",
    "javax/naming/InitialContext",
];

#[test]
fn supertypes_and_methods_are_those_that_reflection_sees() {
    for release in [17, 25] {
        let catalogue = Catalogue::built_in(release).expect("embedded");
        let classes: Vec<String> = sample(&catalogue).into_iter().collect();
        let printed = judge(release, "platform/Hierarchy.java", &[], &(classes.join("\n") + "\n"));
        let mut compared = 0;
        for (class, line) in classes.iter().zip(printed.lines()) {
            if line.starts_with("absent ") {
                continue; // Of the application loader's modules, which this judge does not ask.
            }
            let facts = catalogue.platform_type(class.as_bytes()).expect("described");
            let ours = format!(
                "{} {} {}",
                facts.superclass.as_deref().unwrap_or("-"),
                facts.interfaces.join(","),
                facts.overridable.join(",")
            );
            assert_eq!(ours, line, "{class} on {release}");
            compared += 1;
        }
        assert!(compared > 500, "only {compared} types compared on {release}");
    }
}

//! What changed from release to release, as published.
//!
//! Sources: JEPs and JDK issues named beside each case (the numbers JDK-8197533 and JDK-8205129 are from memory); counts of packages and modules: the API documentation's
//! `element-list` of each release, taken from the symbol file that JDK 25 ships (JEP 247).

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test fails by panicking"
)]

use secateur::error::Error;
use secateur::platform::{Catalogue, Presence, ever_platform_package, last_release_with};

fn catalogue(release: u16) -> Catalogue {
    Catalogue::built_in(release).expect("embedded")
}

/// Module, first and last release that has it within 9 to 25, and where that is published.
const LIVES: &[(&str, u16, u16, &str)] = &[
    ("java.base", 9, 25, "JEP 200"),
    ("java.sql", 9, 25, "JEP 200"),
    ("java.activation", 9, 10, "JEP 320"),
    ("java.corba", 9, 10, "JEP 320"),
    ("java.se.ee", 9, 10, "JEP 320"),
    ("java.transaction", 9, 10, "JEP 320"),
    ("java.xml.bind", 9, 10, "JEP 320"),
    ("java.xml.ws", 9, 10, "JEP 320"),
    ("java.xml.ws.annotation", 9, 10, "JEP 320"),
    ("jdk.incubator.httpclient", 9, 10, "JEP 110, JEP 321"),
    ("java.net.http", 11, 25, "JEP 321"),
    ("java.transaction.xa", 11, 25, "JDK-8197533"),
    ("jdk.jfr", 11, 25, "JEP 328"),
    ("jdk.pack", 9, 13, "JEP 367"),
    ("jdk.scripting.nashorn", 9, 14, "JEP 372"),
    ("jdk.incubator.jpackage", 14, 15, "JEP 343, JEP 392"),
    ("jdk.jpackage", 16, 25, "JEP 392"),
    ("jdk.incubator.vector", 16, 25, "JEP 338"),
    ("jdk.incubator.foreign", 14, 18, "JEP 370, JEP 424"),
    ("jdk.incubator.concurrent", 19, 20, "JEP 428, JEP 453"),
    ("jdk.random", 17, 22, "JEP 356, JDK-8330005"),
];

#[test]
fn modules_come_and_go_as_published() {
    for release in Catalogue::BUILT_IN {
        let catalogue = catalogue(release);
        for (module, first, last, source) in LIVES {
            let lives = (*first..=*last).contains(&release);
            assert_eq!(catalogue.module(module).is_some(), lives, "{module} in {release} ({source})");
        }
        for module in &catalogue.modules {
            for requires in module.requires.iter().filter(|requires| !requires.static_phase) {
                assert!(
                    catalogue.module(&requires.module).is_some(),
                    "{release}: {} requires {}",
                    module.name,
                    requires.module
                );
            }
        }
    }
}

/// Exported packages of `java.*` modules, and how many such modules there are.
#[test]
fn the_standard_api_has_the_published_size() {
    let sizes = |release: u16| {
        let catalogue = catalogue(release);
        let exports: Vec<usize> = catalogue
            .modules
            .iter()
            .filter(|module| module.name.starts_with("java."))
            .map(|module| module.exports.iter().filter(|exports| exports.to.is_empty()).count())
            .collect();
        (exports.iter().sum::<usize>(), exports.len())
    };
    let published = [(9, 225), (10, 225), (11, 175), (12, 177), (17, 177), (18, 177), (19, 178), (21, 178)];
    for (release, packages) in published.into_iter().chain([(22, 183), (23, 183), (24, 182), (25, 183)]) {
        assert_eq!(sizes(release).0, packages, "release {release}");
    }
    assert_eq!((sizes(9).1, sizes(11).1), (27, 22));
}

/// JDK-8197533 moved the transaction interfaces out of java.sql; no other exported package changed its module.
#[test]
fn a_package_moves_with_its_release() {
    let owner = |release: u16, package: &str| {
        let catalogue = catalogue(release);
        let id = catalogue.module_of_package(package.as_bytes()).expect(package);
        catalogue.modules[usize::from(id.0)].name.to_string()
    };
    assert_eq!(owner(10, "javax/transaction/xa"), "java.sql");
    assert_eq!(owner(11, "javax/transaction/xa"), "java.transaction.xa");
    // JDK-8308398: the provider of elliptic curves is in java.base from 22 on.
    assert_eq!(owner(21, "sun/security/ec"), "jdk.crypto.ec");
    assert_eq!(owner(22, "sun/security/ec"), "java.base");
}

#[test]
fn types_that_are_gone_are_known_with_their_last_release() {
    let cases: &[(&str, u16, &str, &str)] = &[
        ("javax/xml/bind/JAXBContext", 10, "java.xml.bind", "JEP 320"),
        ("javax/activation/DataHandler", 10, "java.activation", "JEP 320"),
        ("javax/annotation/PostConstruct", 10, "java.xml.ws.annotation", "JEP 320"),
        ("org/omg/CORBA/ORB", 10, "java.corba", "JEP 320"),
        ("java/util/jar/Pack200", 13, "java.base", "JEP 367"),
        ("jdk/nashorn/api/scripting/NashornScriptEngine", 14, "jdk.scripting.nashorn", "JEP 372"),
        ("java/rmi/activation/Activatable", 16, "java.rmi", "JEP 407"),
        ("java/lang/Compiler", 20, "java.base", "JDK-8205129"),
    ];
    for (class, last, module, source) in cases {
        assert_eq!(last_release_with(class.as_bytes()), Some((*last, *module)), "{class} ({source})");
        let gone = catalogue(*last + 1).presence(class.as_bytes());
        assert!(matches!(gone, Presence::Absent(_) | Presence::NoPackage), "{class} in {}: {gone:?}", last + 1);
        if *last >= 9 {
            assert!(matches!(catalogue(*last).presence(class.as_bytes()), Presence::Present(_)), "{class} in {last}");
        }
    }
    assert_eq!(last_release_with(b"java/lang/Object"), None);
    assert_eq!(last_release_with(b"harbour/Sluice"), None);
}

#[test]
fn packages_of_all_releases_are_known() {
    for package in
        ["java/sql", "javax/xml/bind", "jdk/nashorn/api/scripting", "sun/misc", "java/lang/foreign", "sun/nio/ch"]
    {
        assert!(ever_platform_package(package.as_bytes()), "{package}");
    }
    for package in ["", "java", "harbour/sluice", "javax/inject", "jakarta/servlet"] {
        assert!(!ever_platform_package(package.as_bytes()), "{package}");
    }
}

/// What is not at hand is not claimed.
#[test]
fn neighbours_are_named() {
    let catalogue = catalogue(21);
    let base = &catalogue.modules[usize::from(catalogue.module("java.base").unwrap().0)];
    assert_eq!((base.from_release, base.internals_from, base.sections_from), (None, Some(17), Some(17)));
    let random = &catalogue.modules[usize::from(catalogue.module("jdk.random").unwrap().0)];
    assert_eq!((random.from_release, random.sections_from), (Some(17), Some(17)));
    assert!(matches!(catalogue.presence(b"sun/nio/ch/FileChannelImpl"), Presence::Unknown(_)));
    assert!(matches!(catalogue.presence(b"java/util/SequencedMap"), Presence::Present(_))); // JEP 431
    assert!(matches!(catalogue.presence(b"java/util/Sluice"), Presence::Absent(_)));
    for release in [17, 25] {
        let own = Catalogue::built_in(release).unwrap();
        assert!(
            own.modules.iter().all(|m| m.from_release.is_none() && m.internals_from.is_none() && m.sections.is_some())
        );
        assert_eq!(own.made_from.iter().map(|(release, _)| *release).collect::<Vec<_>>(), [release]);
    }
}

/// JEP 11: incubators are not resolved by default; JEP 320: nor were the enterprise modules of 9 and 10.
#[test]
fn some_modules_are_not_resolved_by_default() {
    let marked = |release: u16| {
        let catalogue = catalogue(release);
        catalogue.modules.iter().filter(|m| m.not_by_default).map(|m| m.name.to_string()).collect::<Vec<_>>()
    };
    assert_eq!(marked(10).len(), 8);
    assert_eq!(marked(11), Vec::<String>::new());
    assert_eq!(marked(17), ["jdk.incubator.foreign", "jdk.incubator.vector"]);
    assert_eq!(marked(21), ["jdk.incubator.vector"]);
}

#[test]
fn other_releases_are_a_mistake_of_the_user() {
    for release in [0, 8, 26] {
        assert!(matches!(Catalogue::built_in(release), Err(Error::Usage(text)) if text.contains("from 9 to 25")));
    }
}

//! Where a program starts, and what of it is its own.

use std::path::PathBuf;

use secateur::diag::Code;
use secateur::error::Error;
use secateur::limits::Limits;
use secateur::program::{OwnPart, own_classes};

use crate::yard::{CLASSES, Yard, class, read};
use crate::zip::{Entry, archive, manifest, stored};

/// Servlet specification §8.2.4 (initialisers), §10.5 (layout), ch. 14.
#[test]
fn a_web_archive_is_entered_where_its_descriptors_say() {
    let yard = Yard::new();
    let library = [
        class("tide/Start"),
        stored("META-INF/services/jakarta.servlet.ServletContainerInitializer", b"tide.Start\n"),
        stored(
            "META-INF/web-fragment.xml",
            b"<web-fragment><listener-class>gauge.Main</listener-class></web-fragment>",
        ),
    ];
    let mut entries: Vec<Entry> = CLASSES
        .into_iter()
        .map(|name| Entry { name: format!("WEB-INF/classes/{name}.class").into_bytes(), ..class(name) })
        .collect();
    entries.push(stored("WEB-INF/web.xml", b"<web-app><servlet-class>sluice.Servlet</servlet-class></web-app>"));
    entries.push(stored("WEB-INF/lib/tides.jar", &archive(&library)));
    let found = read(&[yard.put("harbour.war", &entries)], &Limits::default());
    let (points, findings) = found.entries(&[]).unwrap();
    assert!(findings.sorted().is_empty() && points.started.is_empty() && !points.library);
    let called: Vec<(&str, &str)> = points.called.iter().map(|at| (&*at.class, &*at.reason)).collect();
    let expected = [
        ("sluice/Servlet", "servlet-class in WEB-INF/web.xml of harbour.war"),
        ("tide/Start", "provider of jakarta.servlet.ServletContainerInitializer in tides.jar"),
        ("gauge/Main", "listener-class in META-INF/web-fragment.xml of tides.jar"),
    ];
    assert_eq!(called, expected);
    let own = own_classes(&found.program, &found.view);
    assert_eq!(own.len(), CLASSES.len());
    assert!(own.iter().all(|(_, part)| *part == OwnPart::Scanned));
    // In a plain jar nobody reads them.
    let jar = read(&[yard.put("tides.jar", &[&library[..], &[class("gauge/Main")]].concat())], &Limits::default());
    let (points, _) = jar.entries(&[]).unwrap();
    assert!(points.called.is_empty() && points.library);
    assert_eq!(own_classes(&jar.program, &jar.view).len(), 2);
}

#[test]
fn a_class_to_start_at_must_be_there() {
    let yard = Yard::new();
    let mut entries: Vec<Entry> = CLASSES.into_iter().map(class).collect();
    entries.push(manifest(&["Main-Class: gauge.Mian"]));
    let found = read(&[yard.put("harbour.jar", &entries)], &Limits::default());
    let (points, findings) = found.entries(&[]).unwrap();
    let said = findings.sorted();
    assert_eq!(said.iter().map(|finding| finding.code).collect::<Vec<_>>(), [Code::MissingEntryPoint]);
    assert!(said[0].message.contains("gauge.Mian") && points.started.is_empty() && points.library);
    let (points, findings) = found.entries(&["sluice.Gate"]).unwrap();
    assert_eq!((&*points.started[0].class, points.library), ("sluice/Gate", false));
    assert!(findings.sorted().is_empty());
    let error = found.entries(&["harbour.Gate"]).map(|_| ()).unwrap_err().to_string();
    assert_eq!(error, "--entry harbour.Gate: no archive has a class of this name; did you mean sluice.Gate?");
    let error = found.entries(&["sluice.Gaet"]).map(|_| ()).unwrap_err().to_string();
    assert!(error.ends_with("of this name; did you mean sluice.Gate?"), "{error}");
    let error = found.entries(&["no.Such"]).map(|_| ()).unwrap_err().to_string();
    assert!(error.ends_with("of this name"), "{error}");
    assert!(matches!(found.entries(&["no.Such"]), Err(Error::Usage(_))));
}

/// `java -cp` reads no manifest for the class to start (JDK tool documentation, `java`), so among several archives a
/// header is no more than a hint.
#[test]
fn of_several_archives_one_named_by_itself_may_say_where_it_starts() {
    let yard = Yard::new();
    let folder = yard.path("lib");
    std::fs::create_dir(&folder).unwrap();
    let own = yard.put("harbour.jar", &[manifest(&["Main-Class: sluice.Gate"]), class("sluice/Gate")]);
    let other = yard.put("tides.jar", &[manifest(&["Main-Class: gauge.Table"]), class("gauge/Table")]);
    let plain = yard.put("plain.jar", &[class("gauge/Plain")]);
    yard.put("lib/tool.jar", &[manifest(&["Main-Class: gauge.Tool"]), class("gauge/Tool")]);
    let started = |inputs: &[PathBuf], named: &[&str]| {
        let (points, findings) = read(inputs, &Limits::default()).starts(inputs, named).unwrap();
        let said: Vec<String> =
            findings.sorted().iter().map(|one| format!("{}: {}", one.code.tag(), one.message)).collect();
        let classes: Vec<String> = points.started.into_iter().map(|entry| entry.class).collect();
        assert_eq!(points.library, classes.is_empty());
        (classes.join(" "), said)
    };
    assert_eq!(started(&[own.clone(), plain.clone()], &[]), ("sluice/Gate".to_owned(), vec![]));
    // A shell that names all jars of a folder names the tools among them too.
    let (classes, said) = started(&[plain.clone(), own.clone()], &[]);
    assert!(classes.is_empty() && said[0].contains("Main-Class sluice.Gate is not taken"), "{said:?}");
    // The only archive there is says it even where it stands in a folder.
    assert_eq!(started(std::slice::from_ref(&folder), &[]), ("gauge/Tool".to_owned(), vec![]));
    for inputs in [[own.clone(), folder.clone()], [folder.clone(), own.clone()]] {
        let (classes, said) = started(&inputs, &[]);
        assert_eq!(classes, "sluice/Gate");
        assert!(said[0].starts_with("unclear-start: its Main-Class gauge.Tool is not taken for the start"), "{said:?}");
    }
    let (classes, said) = started(&[folder.clone(), plain.clone()], &[]);
    assert!(classes.is_empty() && said.len() == 1, "{said:?}");
    let (classes, said) = started(&[own.clone(), other.clone(), folder.clone()], &[]);
    assert!(
        classes.is_empty() && said[0].contains(", nor Main-Class of tides.jar, Main-Class of tool.jar: "),
        "{said:?}"
    );
    assert_eq!(started(&[own, other, folder], &["gauge.Table"]), ("gauge/Table".to_owned(), vec![]));
}

/// Where what a framework would look through is shadowed, nobody looks through anything.
#[test]
fn own_classes_that_others_shadow_are_no_program() {
    let yard = Yard::new();
    let plain = yard.put("a.jar", &[class("gauge/Main")]);
    let inner = |name: &str| {
        let path = format!("BOOT-INF/classes/{name}.class");
        Entry { name: path.into_bytes(), ..class(name) }
    };
    let headers = manifest(&["Main-Class: launch.Gone", "Start-Class: gauge.Main"]);
    let nested = yard.put("b.jar", &[headers, inner("gauge/Main")]);
    let library = |inputs: &[PathBuf]| read(inputs, &Limits::default()).entries(&[]).unwrap().0.library;
    assert!(!library(std::slice::from_ref(&nested)));
    let inputs = [plain, nested];
    let (points, _) = read(&inputs, &Limits::default()).starts(&[], &[]).unwrap();
    assert!(points.library && points.started.is_empty());
}

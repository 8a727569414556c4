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

/// JAR File Specification, `Main-Class`: the launcher puts the root on the class path, whatever a web archive it is too
/// (Servlet specification §10.5).
#[test]
fn a_web_archive_that_is_started_has_classes_and_jars_at_its_root() {
    let yard = Yard::new();
    let servlet = Entry { name: b"WEB-INF/classes/sluice/Servlet.class".to_vec(), ..class("sluice/Servlet") };
    let runner = stored("executable/runner.jar", &archive(&[class("gauge/Reader")]));
    let entries = |header: &str| [manifest(&[header]), class("gauge/Main"), servlet.clone(), runner.clone()];
    let seen = |header: &str| {
        let found = read(&[yard.put("harbour.war", &entries(header))], &Limits::default());
        let (points, _) = found.entries(&[]).unwrap();
        let classes = found.view.classes.iter().filter_map(|&id| found.program.class(id));
        let names = classes.map(|class| String::from_utf8_lossy(found.program.names.name(class.name)).into_owned());
        (points.started.len(), names.collect::<Vec<_>>())
    };
    let all = ["gauge/Main", "sluice/Servlet", "gauge/Reader"].map(str::to_owned).to_vec();
    assert_eq!(seen("Main-Class: gauge.Main"), (1, all));
    assert_eq!(seen("Tide: none"), (0, vec!["sluice/Servlet".to_owned()]));
}

/// Common practice, no source: a framework's class starts, and the application is what was named beside its libraries.
#[test]
fn an_archive_counts_as_the_program_though_a_framework_starts() {
    let yard = Yard::new();
    let framework = yard.put("framework.jar", &[class("gauge/Main")]);
    let (folder, header) = (yard.path("libraries"), "Main-Class: gauge.Main");
    std::fs::create_dir(&folder).unwrap();
    std::fs::copy(&framework, folder.join("framework.jar")).unwrap();
    let app = yard.put("app.jar", &[manifest(&[header]), class("sluice/Gate")]);
    let programs = |inputs: &[PathBuf], entries: &[&str]| {
        let found = read(inputs, &Limits::default());
        let (points, _) = found.starts(inputs, entries).unwrap();
        let archives = points.programs.iter().filter_map(|&id| found.program.archive(id));
        archives.map(|archive| archive.locator.last().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(programs(&[app.clone(), folder.clone()], &[]), ["app.jar"]);
    assert_eq!(programs(&[app.clone(), folder], &["gauge.Main"]), ["app.jar"]);
    // Who names several may have had a shell name all there are.
    assert!(programs(&[app, framework], &["gauge.Main"]).is_empty());
}

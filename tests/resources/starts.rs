//! Where a program starts, and what of it is its own.

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
    assert_eq!(error, "--entry harbour.Gate: no archive has a class of this name; there is sluice.Gate");
    assert!(matches!(found.entries(&["no.Such"]), Err(Error::Usage(_))));
}

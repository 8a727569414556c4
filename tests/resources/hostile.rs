//! Damage, bombs and lies: an answer, a finding, no panic; the same on any number of threads.

use secateur::diag::Code;
use secateur::limits::Limits;
use secateur::program::ResourceKind::Registration;

use crate::libraries;
use crate::yard::{CLASSES, Yard, class, file, file_within, read};
use crate::zip::{Entry, stored};

/// A file that is none of its format is said, and words in it count all the same.
#[test]
fn what_breaks_its_format_is_said_and_still_read() {
    let found = file("META-INF/web-fragment.xml", "<web-app><servlet-class>sluice.Servlet</servlet-class>");
    assert_eq!(found.names(), [(Registration, "sluice/Servlet", "")]);
    assert_eq!(found.codes(), [Code::BadDescriptor]);
    assert!(found.said[0].place.as_str().ends_with("harbour.jar!/META-INF/web-fragment.xml"), "{:?}", found.said);
    let unfolding = "<!DOCTYPE a [<!ENTITY e 'gauge.Main'>]><a><class>&e;</class></a>";
    assert_eq!(file("META-INF/persistence.xml", unfolding).said[0].message, "it declares entities");
    let json = file("META-INF/native-image/reflect-config.json", "[{\"name\":\"gauge.Main\"");
    assert_eq!((json.codes(), json.names().len()), (vec![Code::BadDescriptor], 1));
    let plugins = file_within("a/Log4j2Plugins.dat", &[0, 0, 0, 9, 0, 3, b'a'], &Limits::default());
    assert_eq!(plugins.codes(), [Code::BadDescriptor]);
    // Templates and dialects that nobody is known to read are no findings.
    assert!(file("gauge/page.xml", "<a><b>gauge.Main</a>").said.is_empty());
    let module = file_within("module-info.class", b"no class", &Limits::default());
    assert_eq!(module.codes(), [Code::BadModuleDescriptor]);
}

#[test]
fn every_limit_is_met_with_its_name_and_the_rest_is_read() {
    let meets = |limits: &Limits, path: &str, text: &str| {
        let found = file_within(path, text.as_bytes(), limits);
        let met: Vec<_> = found.said.iter().filter(|finding| finding.code == Code::LimitReached).collect();
        assert_eq!(met.len(), 1, "{:?}", found.said);
        (met[0].message.clone(), found.resources.names.len(), found.resources.properties.all().len())
    };
    let text = "a=gauge.Main\nb=sluice.Gate\nc=gauge.Reader\n";
    let small = Limits { resource_file_bytes: 10, ..Limits::default() };
    assert!(meets(&small, "a.properties", text).0.contains("resource-file-bytes"));
    let small = Limits { resource_bytes: 10, ..Limits::default() };
    assert!(meets(&small, "a.properties", text).0.contains("resource-bytes"));
    let small = Limits { resource_names: 2, ..Limits::default() };
    let (message, names, pairs) = meets(&small, "a.properties", text);
    assert!(message.contains("resource-names") && (names, pairs) == (2, 3), "{message} {names} {pairs}");
    let small = Limits { property_bytes: 20, ..Limits::default() };
    let (message, names, pairs) = meets(&small, "a.properties", text);
    assert!(message.contains("property-bytes") && (names, pairs) == (3, 1), "{message} {names} {pairs}");
    let small = Limits { text_lines: 2, ..Limits::default() };
    let (message, names, _) = meets(&small, "a.properties", text);
    assert!(message.contains("text-lines") && names == 2, "{message}");
}

/// Every truncation and some changed bytes of small files of every format: an answer and no panic.
#[test]
fn damaged_files_are_survived() {
    let seeds: [(&str, &[u8]); 9] = [
        ("META-INF/services/gauge.Reader", b"gauge.Main # a\nsluice.Gate\n"),
        ("META-INF/spring.factories", b"gauge.Reader=\\\n gauge.Main,\\u0067auge.Main\\\\\n"),
        ("META-INF/spring/gauge.Reader.imports", b"gauge.Main\n"),
        ("WEB-INF/web.xml", b"<?xml version='1.0'?><a><b c='gauge.Main'>&lt;<![CDATA[gauge.Main]]></b></a>"),
        (
            "META-INF/native-image/jni-config.json",
            b"[{\"name\":\"gauge.Main\",\"condition\":{\"typeReached\":\"a.B\"}}]",
        ),
        ("a.login", b"A { sluice.Login required a=\"b\"; /* */ };"),
        ("x/Log4j2Plugins.dat", b"\0\0\0\x01\0\x01c\0\0\0\x01\0\x01k\0\x0agauge.Main\0\x01n\0\0"),
        ("META-INF/other", b"\xFE\xFF\0g\0a"),
        ("application.properties", b"a\\u00=gauge.Main\\"),
    ];
    for (path, seed) in seeds {
        let mut entries: Vec<Entry> = CLASSES.into_iter().map(class).collect();
        let classes = entries.len();
        for end in 0..=seed.len() {
            entries.truncate(classes);
            entries.push(stored(path, &seed[..end]));
            let yard = Yard::new();
            read(&[yard.put("harbour.jar", &entries)], &Limits::default());
            for flip in [0x01, 0x80, 0xFF] {
                let mut bytes = seed.to_vec();
                if let Some(byte) = bytes.get_mut(end) {
                    *byte ^= flip;
                }
                entries.truncate(classes);
                entries.push(stored(path, &bytes));
                read(&[yard.put("harbour.jar", &entries)], &Limits::default());
            }
        }
    }
}

/// What costs more than its bytes say is bounded: depth, width, counts.
#[test]
fn small_files_cannot_cost_much() {
    let start = std::time::Instant::now();
    let deep_json = "[".repeat(1 << 20);
    assert_eq!(file("META-INF/native-image/jni-config.json", &deep_json).codes(), [Code::BadDescriptor]);
    let deep_xml = "<a>".repeat(1 << 20);
    assert_eq!(file("META-INF/persistence.xml", &deep_xml).codes(), [Code::BadDescriptor]);
    let wide = (0..200_000).fold("<a".to_owned(), |text, number| format!("{text} a{number}=''")) + "/>";
    assert_eq!(file("META-INF/persistence.xml", &wide).codes(), [Code::BadDescriptor]);
    let counts = [0xFF; 12];
    assert_eq!(file_within("Log4j2Plugins.dat", &counts, &Limits::default()).codes(), [Code::BadDescriptor]);
    file("a.properties", &"\\\n".repeat(50_000));
    file("a.login", &"{".repeat(1 << 20));
    file("META-INF/words", &"a.B ".repeat(1 << 15));
    file("a.jsp", &"<% a.B %><jsp:scriptlet".repeat(1 << 15));
    assert!(start.elapsed().as_secs() < 60, "{:?}", start.elapsed());
}

/// The same names in the same order on any number of threads.
#[test]
fn threads_change_no_name() {
    let inputs = libraries::libraries();
    let on = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| read(&inputs, &Limits::default()))
    };
    let (alone, many) = (on(1), on(8));
    assert!(alone.resources.names.len() > 100);
    assert_eq!(alone.resources.names, many.resources.names);
    assert_eq!(alone.resources.properties.all(), many.resources.properties.all());
    assert_eq!(alone.said, many.said);
}

//! Damaged platforms: every truncation and many single-byte changes of small seeds end in an answer or in an error
//! that names the file, never in a panic. The seeds are written by `tests/support/platform_seed.rs`.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test fails by panicking"
)]

use std::fs;
use std::path::Path;

use secateur::error::Error;
use secateur::platform::jmod::Jmod;
use secateur::platform::{Catalogue, Presence, descriptor};

#[path = "support/platform_seed.rs"]
mod platform_seed;
use platform_seed::{Endian, class, image, jmod, module_info};

/// All prefixes, then each byte changed in its lowest bit, its highest bit, and all bits.
fn damaged(seed: &[u8]) -> impl Iterator<Item = Vec<u8>> {
    let cuts = (0..seed.len()).map(|length| seed[..length].to_vec());
    let flips = (0..seed.len()).flat_map(move |at| {
        [0x01, 0x80, 0xFF].into_iter().map(move |mask| {
            let mut bytes = seed.to_vec();
            bytes[at] ^= mask;
            bytes
        })
    });
    cuts.chain(flips)
}

fn seed_image(endian: Endian) -> Vec<u8> {
    let list = b"1|0|ab|conf/tides.properties\n6|0|cd|lib/libsluice.so\n".to_vec();
    image(
        endian,
        &[
            ("java.base", "", "module-info", "class", module_info("java.base", "java/lang")),
            ("java.base", "java/lang", "Service", "class", class("java/lang/Service")),
            ("java.base", "java/lang", "Provider", "class", class("java/lang/Provider")),
            ("gauge", "", "module-info", "class", module_info("gauge", "gauge/api")),
            ("gauge", "gauge/api", "Tide", "class", class("gauge/api/Tide")),
            ("gauge", "META-INF", "notes", "txt", b"spring tide".to_vec()),
            ("jdk.jlink", "", "module-info", "class", module_info("jdk.jlink", "jdk/tools/jlink")),
            ("jdk.jlink", "jdk/tools/jlink/internal/runtimelink", "fs_gauge", "files", list.clone()),
            ("jdk.jlink", "jdk/tools/jlink/internal/runtimelink", "fs_java", "base_files", list),
        ],
    )
}

/// Paths and contents.
type Files<'a> = &'a [(&'a str, &'a [u8])];

fn home(files: Files<'_>) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    for (name, bytes) in files {
        let path = home.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }
    home
}

const RELEASE: (&str, &[u8]) = ("release", b"IMPLEMENTOR=\"N.N.\"\nJAVA_VERSION=\"25\"\n");

/// Asks everything that a catalogue can be asked.
fn interrogate(home: &Path) -> Result<(), Error> {
    let catalogue = Catalogue::of_jdk(home)?;
    for name in [&b"gauge/api/Tide"[..], b"java/lang/Service", b"java/lang/Absent", b"", b"/", b"a/"] {
        let _ = (catalogue.presence(name), catalogue.platform_type(name));
    }
    Ok(())
}

/// The error of a damaged JDK names the folder, and the file within it.
fn assert_named(error: &Error, home: &Path, file: &str) {
    let text = error.to_string();
    assert!(matches!(error, Error::Jdk { .. }), "{text}");
    assert!(text.contains(&*home.to_string_lossy()), "{text}");
    assert!(text.contains(file) || text.contains("module"), "{text} does not say what is wrong with {file}");
}

#[test]
fn undamaged_images_of_either_order_are_read() {
    for endian in [Endian::Little, Endian::Big] {
        let home = home(&[RELEASE, ("lib/modules", &seed_image(endian)), ("bin/java", b"")]);
        let catalogue = Catalogue::of_jdk(home.path()).unwrap();
        let names: Vec<&str> = catalogue.modules.iter().map(|module| &*module.name).collect();
        assert_eq!(names, ["gauge", "java.base", "jdk.jlink"]);
        assert!(matches!(catalogue.presence(b"gauge/api/Tide"), Presence::Present(_)));
        assert!(matches!(catalogue.presence(b"gauge/api/Ebb"), Presence::Absent(_)));
        assert_eq!(catalogue.presence(b"harbour/Tide"), Presence::NoPackage);
        let facts = catalogue.platform_type(b"java/lang/Service").unwrap();
        assert_eq!(facts.superclass.as_deref(), Some("java/lang/Object"));
        assert_eq!(&*facts.overridable, ["run()V".into()]);
        // No list of files names its files, or the files are not there: sizes are unknown, not zero.
        assert!(catalogue.modules.iter().all(|module| module.sections.is_none()));
    }
}

#[test]
fn damaged_images_do_no_harm() {
    for endian in [Endian::Little, Endian::Big] {
        let home = home(&[RELEASE, ("lib/modules", b"")]);
        let mut refused = 0;
        for bytes in damaged(&seed_image(endian)) {
            // A new file each time: the map of the last one may still be open.
            let path = home.path().join("lib/modules");
            fs::remove_file(&path).unwrap();
            fs::write(&path, &bytes).unwrap();
            if let Err(error) = interrogate(home.path()) {
                assert_named(&error, home.path(), "lib/modules");
                refused += 1;
            }
        }
        assert!(refused > 100, "only {refused} damaged images were refused");
    }
}

#[test]
fn damaged_packaged_modules_do_no_harm() {
    let base = jmod(&[
        ("classes/module-info.class", module_info("java.base", "java/lang")),
        ("classes/java/lang/Service.class", class("java/lang/Service")),
    ]);
    let seed = jmod(&[
        ("classes/module-info.class", module_info("gauge", "gauge/api")),
        ("classes/gauge/api/Tide.class", class("gauge/api/Tide")),
        ("lib/libsluice.so", b"not really".to_vec()),
        ("conf/tides.properties", b"harbour=north\n".to_vec()),
    ]);
    let home = home(&[RELEASE, ("jmods/java.base.jmod", &base), ("jmods/gauge.jmod", &seed)]);
    let catalogue = Catalogue::of_jdk(home.path()).unwrap();
    let sections = catalogue.modules[0].sections.unwrap();
    assert_eq!((sections.entries, sections.lib, sections.conf), (2, 10, 14));
    assert!(catalogue.platform_type(b"gauge/api/Tide").is_some());
    let mut refused = 0;
    for bytes in damaged(&seed) {
        let path = home.path().join("jmods/gauge.jmod");
        fs::remove_file(&path).unwrap();
        fs::write(&path, &bytes).unwrap();
        let _ = Jmod::open(&path);
        if let Err(error) = interrogate(home.path()) {
            assert_named(&error, home.path(), "jmods/gauge.jmod");
            refused += 1;
        }
    }
    assert!(refused > 100, "only {refused} damaged modules were refused");
}

#[test]
fn damaged_descriptors_do_no_harm() {
    let seed = module_info("gauge", "gauge/api");
    assert_eq!(&*descriptor::read(&seed).unwrap().name, "gauge");
    let refused = damaged(&seed).filter(|bytes| descriptor::read(bytes).is_err()).count();
    assert!(refused > seed.len(), "only {refused} damaged descriptors were refused");
}

#[test]
fn what_is_no_jdk_is_named() {
    let image = seed_image(Endian::Little);
    let cases: [(Files<'_>, &str); 5] = [
        (&[], "release"),
        (&[("release", b"")], "release: it has no line JAVA_VERSION"),
        (&[("release", b"JAVA_VERSION=\"1.8.0_402\"\n"), ("lib/modules", &image)], "modules begin with release 9"),
        (&[RELEASE], "modules"),
        (&[RELEASE, ("lib/modules", b"\xDA\xDA\xFE\xCA")], "it is too short for a run-time image"),
    ];
    for (files, words) in cases {
        let home = home(files);
        let error = Catalogue::of_jdk(home.path()).err().expect("no JDK");
        assert!(error.to_string().contains(words), "{error} does not say `{words}`");
    }
}

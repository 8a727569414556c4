//! Class files that are broken: every truncation and every flipped byte of sound ones, figures that lie, arbitrary
//! bytes. The walk may neither panic nor hang nor tell without end, and an error says where it came to a stop. The seeds
//! are classes of the demonstration archive, written by javac, and a module descriptor written here byte by byte.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::path::PathBuf;

use proptest::prelude::*;
use secateur::archive::{Reader, open};
use secateur::classfile::{
    ANNOTATION_DEPTH, Bootstrap, ClassFile, Code, Error, Member, Position, Scratch, Tag, Visitor, constant_names,
    descriptor, module_descriptor, signature, walk,
};
use secateur::limits::Limits;

/// Counts everything that it is told, and resolves it, as a real visitor would.
#[derive(Default)]
struct Count<'a> {
    class: Option<ClassFile<'a>>,
    told: u64,
}

impl<'a> Visitor<'a> for Count<'a> {
    fn class(&mut self, class: &ClassFile<'a>) {
        self.told += class.interfaces.iter().count() as u64;
        self.class = Some(*class);
    }

    fn member(&mut self, _: Member) {
        self.told += 1;
    }

    fn code(&mut self, code: &Code<'a>) -> bool {
        self.told += code.handlers.iter().count() as u64;
        true
    }

    fn class_name(&mut self, _: Position, _: Option<u32>, class: u16) {
        let name = self.class.and_then(|file| file.pool.class_name(class));
        self.told += 1 + u64::from(name.and_then(descriptor::element_class).is_some());
    }

    fn descriptor(&mut self, _: Position, _: Option<u32>, text: u16) {
        let text = self.class.and_then(|file| file.pool.utf8(text)).unwrap_or_default();
        self.told += 1 + descriptor::classes(text).count() as u64;
    }

    fn signature(&mut self, _: Position, text: u16) {
        let text = self.class.and_then(|file| file.pool.utf8(text)).unwrap_or_default();
        self.told += 1 + signature::classes(text).count() as u64;
    }

    fn member_ref(&mut self, _: Position, _: u8, _: u32, reference: u16) {
        let member = self.class.and_then(|file| file.pool.member_ref(reference));
        self.told += 1 + u64::from(member.is_some());
    }

    fn invoke_dynamic(&mut self, _: u32, call_site: u16) {
        let dynamic = self.class.and_then(|file| file.pool.dynamic(call_site));
        self.told += 1 + u64::from(dynamic.is_some());
    }

    fn load_string(&mut self, _: u32, string: u16) {
        let text = self.class.and_then(|file| file.pool.string(string));
        self.told += 1 + u64::from(text.is_some());
    }

    fn load_constant(&mut self, _: u32, constant: u16, _: Tag) {
        if let Some(file) = self.class {
            constant_names(file.pool, constant, |_| self.told += 1);
        }
    }

    fn bootstrap(&mut self, bootstrap: &Bootstrap<'a>) {
        if let Some(file) = self.class {
            for argument in bootstrap.arguments.iter().chain([bootstrap.method]) {
                constant_names(file.pool, argument, |_| self.told += 1);
            }
        }
    }
}

/// Walks, and holds what every walk must keep to.
fn survive(bytes: &[u8]) -> (u64, Result<(), Error>) {
    let mut scratch = Scratch::default();
    let mut count = Count::default();
    let result = walk(bytes, &mut scratch, &mut count);
    if let Err(error) = &result {
        assert!(error.offset <= bytes.len(), "the offset {} is outside the {} bytes", error.offset, bytes.len());
        assert!(error.to_string().contains(&error.offset.to_string()), "{error} does not say where");
    }
    let told = count.told;
    // A pool index takes two bytes wherever it stands, and each stands for a text of at most 65,535 bytes; texts of small
    // seeds are short. More than this would mean that something is told over and over.
    assert!(told <= 64 * bytes.len() as u64 + 64, "{told} tellings from {} bytes", bytes.len());
    let _ = module_descriptor(bytes);
    (told, result)
}

fn seeds() -> Vec<(String, Vec<u8>)> {
    let limits = Limits::default();
    let jar = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("testdata/harbour/harbour-shaded.jar");
    let archives = open(&[jar], &limits).unwrap();
    let mut reader = Reader::new(&limits);
    let mut seeds = vec![("module-info".to_owned(), module_info())];
    for archive in &archives.list {
        for entry in archive.entries.iter().filter(|entry| entry.is_class() && entry.size < 2_500) {
            seeds.push((entry.path.to_string(), reader.read(archive, entry).unwrap().to_vec()));
        }
    }
    assert!(seeds.len() > 12, "the demonstration archive has changed: {} seeds", seeds.len());
    seeds
}

/// A module descriptor with one directive of each kind and a main class (JVMS §4.7.25 to §4.7.27).
fn module_info() -> Vec<u8> {
    let mut pool: Vec<u8> = Vec::new();
    let mut count = 0_u16;
    let mut add = |constant: &[u8]| {
        pool.extend(constant);
        count += 1;
        count
    };
    let mut text = |text: &str| add(&[&[1][..], &(text.len() as u16).to_be_bytes(), text.as_bytes()].concat());
    let texts =
        ["module-info", "harbour.tides", "java.base", "harbour/tides", "harbour/tides/Table", "java/lang/Runnable"];
    let [info, own, base, package, table, service] = texts.map(&mut text);
    let [module, packages, main] = ["Module", "ModulePackages", "ModuleMainClass"].map(&mut text);
    let mut refer = |tag: u8, to: u16| add(&[&[tag][..], &to.to_be_bytes()].concat());
    let this = refer(7, info);
    let [own, base] = [own, base].map(|name| refer(19, name));
    let package = refer(20, package);
    let [table, service] = [table, service].map(|name| refer(7, name));
    let attribute = |name: u16, words: &[u16]| {
        let content: Vec<u8> = words.iter().flat_map(|word| word.to_be_bytes()).collect();
        [&name.to_be_bytes()[..], &(content.len() as u32).to_be_bytes(), &content].concat()
    };
    let directives = [
        &[own, 0, 0][..],
        &[1, base, 0x8000, 0],
        &[1, package, 0, 0],
        &[1, package, 0, 1, base],
        &[1, service],
        &[1, service, 1, table],
    ]
    .concat();
    let mut file = vec![0xCA, 0xFE, 0xBA, 0xBE, 0, 0, 0, 61];
    file.extend((count + 1).to_be_bytes());
    file.extend(pool);
    for word in [0x8000, this, 0, 0, 0, 0, 3] {
        file.extend(word.to_be_bytes());
    }
    file.extend(attribute(module, &directives));
    file.extend(attribute(packages, &[1, package]));
    file.extend(attribute(main, &[table]));
    file
}

#[test]
fn the_seeds_are_sound() {
    for (name, seed) in seeds() {
        let (told, result) = survive(&seed);
        assert!(result.is_ok(), "{name}: {result:?}");
        assert!(told > 0, "{name}");
    }
    let module = module_descriptor(&module_info()).unwrap();
    assert_eq!((&*module.name, module.main_class.as_deref()), ("harbour.tides", Some("harbour/tides/Table")));
    assert_eq!(&*module.provides[0].with[0], "harbour/tides/Table");
}

#[test]
fn every_truncation_is_an_error_that_says_where() {
    for (name, seed) in seeds() {
        for length in 0..seed.len() {
            let (_, result) = survive(&seed[..length]);
            assert!(result.is_err(), "{name} cut to {length} bytes passed for whole");
        }
        let longer = [&seed[..], &[0]].concat();
        assert!(survive(&longer).1.is_err(), "{name} with a byte behind it passed for sound");
    }
}

#[test]
fn every_flipped_byte_is_survived() {
    for (_, seed) in seeds() {
        for at in 0..seed.len() {
            for flip in [0x01, 0x02, 0x10, 0x80, 0xFF] {
                let mut bytes = seed.clone();
                bytes[at] ^= flip;
                let _ = survive(&bytes);
            }
        }
    }
}

/// A class of this pool, with one method whose code is `code`, and one class attribute.
fn class_with(code: &[u8], attribute: Option<(&str, Vec<u8>)>) -> Vec<u8> {
    let mut file = vec![0xCA, 0xFE, 0xBA, 0xBE, 0, 0, 0, 61, 0, 7];
    let texts = ["Gauge", "Code", "()V", attribute.as_ref().map_or("X", |(name, _)| name), "LTide;"];
    for text in texts {
        file.push(1);
        file.extend((text.len() as u16).to_be_bytes());
        file.extend(text.as_bytes());
    }
    file.extend([7, 0, 1]);
    for word in [0x21_u16, 6, 0, 0, 0, 1, 9, 1, 3, 1, 2] {
        file.extend(word.to_be_bytes());
    }
    file.extend((12 + code.len() as u32).to_be_bytes());
    file.extend([0, 9, 0, 9]);
    file.extend((code.len() as u32).to_be_bytes());
    file.extend(code);
    file.extend([0, 0, 0, 0]);
    file.extend(u16::from(attribute.is_some()).to_be_bytes());
    if let Some((_, content)) = attribute {
        file.extend([0, 4]);
        file.extend((content.len() as u32).to_be_bytes());
        file.extend(content);
    }
    file
}

/// JVMS §6.5: the counts of `tableswitch` and `lookupswitch` stand in the code itself.
#[test]
fn switches_that_lie_about_their_size_are_refused() {
    assert!(survive(&class_with(&[0xB1], None)).1.is_ok());
    let word = |value: i32| value.to_be_bytes();
    let table = |low: i32, high: i32| [&[0xAA, 0, 0, 0][..], &word(0), &word(low), &word(high)].concat();
    let lookup = |pairs: i32| [&[0xAB, 0, 0, 0][..], &word(0), &word(pairs)].concat();
    let lies = [table(0, i32::MAX), table(i32::MIN, i32::MAX), table(5, 1), lookup(i32::MAX), lookup(-1), vec![0xAA]];
    for code in lies {
        assert!(survive(&class_with(&code, None)).1.is_err(), "{code:?}");
    }
}

/// Instructions that are none, or break off.
#[test]
fn code_that_is_none_is_refused() {
    for code in [&[0xFF][..], &[0xC4], &[0xC4, 0x00, 0, 0], &[0x12], &[0xB6, 0], &[0xBA, 0, 1]] {
        assert!(survive(&class_with(code, None)).1.is_err(), "{code:?}");
    }
}

/// JVMS §4.7.16: annotations nest without a bound; the walk has one.
#[test]
fn annotations_nested_without_end_are_refused() {
    let nested = |depth: usize| {
        let mut content = vec![0, 1];
        for _ in 0..depth {
            // type, one element, its name, value `@`
            content.extend([0, 5, 0, 1, 0, 1, b'@']);
        }
        content.extend([0, 5, 0, 0]);
        class_with(&[0xB1], Some(("RuntimeVisibleAnnotations", content)))
    };
    assert!(survive(&nested(3)).1.is_ok());
    assert!(survive(&nested(usize::from(ANNOTATION_DEPTH) + 100)).1.is_err());
    assert!(survive(&nested(200_000)).1.is_err());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn arbitrary_bytes_are_survived(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        let _ = survive(&bytes);
        let _ = survive(&[&[0xCA, 0xFE, 0xBA, 0xBE, 0, 0, 0, 61][..], &bytes].concat());
    }

    #[test]
    fn arbitrary_code_is_survived(code in proptest::collection::vec(any::<u8>(), 0..200)) {
        let _ = survive(&class_with(&code, None));
    }

    #[test]
    fn descriptors_and_signatures_are_total(text in "[\\[\\(\\)LTBVJ;<>:.+*a-z/]{0,60}") {
        let bytes = text.as_bytes();
        // Each name takes at least an `L` or a `.`.
        let marks = bytes.iter().filter(|byte| matches!(byte, b'L' | b'.')).count();
        prop_assert!(descriptor::classes(bytes).count() <= marks);
        prop_assert!(signature::classes(bytes).count() <= marks);
    }
}

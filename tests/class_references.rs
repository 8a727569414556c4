//! Every class that a class file names, category by category, against ASM (OW2), the bytecode library that most of
//! the trade reads class files with: some 40,000 classes of real libraries from Maven Central, written by four
//! compilers over twenty years.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test fails by panicking"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};

use secateur::archive::{self, Reader};
use secateur::classfile::{
    Bootstrap, ClassFile, Pool, Position, Scratch, Tag, Visitor, constant_names, descriptor, signature, walk,
};
use secateur::limits::Limits;
use secateur::names::decode_mutf8;

#[path = "support/jdk.rs"]
mod jdk;
#[path = "support/libraries.rs"]
mod libraries;

/// Fewer would not be the check that it is meant to be.
const AT_LEAST: usize = 20_000;

/// Collects every name by category.
#[derive(Default)]
struct Named<'a> {
    pool: Option<Pool<'a>>,
    names: BTreeMap<&'static str, BTreeSet<String>>,
}

impl<'a> Named<'a> {
    fn add(&mut self, at: Position, name: &[u8]) {
        self.names.entry(at.tag()).or_default().insert(decode_mutf8(name).into_owned());
    }

    fn text(&mut self, at: Position, text: Option<&'a [u8]>) {
        for name in descriptor::classes(text.expect("a descriptor")) {
            self.add(at, name);
        }
    }

    fn pool(&self) -> Pool<'a> {
        self.pool.expect("the class comes first")
    }

    fn constant(&mut self, at: Position, constant: u16) {
        constant_names(self.pool(), constant, |name| self.add(at, name));
    }
}

impl<'a> Visitor<'a> for Named<'a> {
    fn class(&mut self, class: &ClassFile<'a>) {
        self.pool = Some(class.pool);
    }

    fn class_name(&mut self, at: Position, _: Option<u32>, class: u16) {
        let name = self.pool().class_name(class).expect("a class constant");
        if let Some(name) = descriptor::element_class(name) {
            self.add(at, name);
        }
    }

    fn descriptor(&mut self, at: Position, _: Option<u32>, text: u16) {
        self.text(at, self.pool().utf8(text));
    }

    fn signature(&mut self, at: Position, text: u16) {
        for name in signature::classes(self.pool().utf8(text).expect("a signature")) {
            self.add(at, &name);
        }
    }

    fn member_ref(&mut self, at: Position, _: u8, _: u32, reference: u16) {
        let member = self.pool().member_ref(reference).expect("a member reference");
        self.class_name(at, None, member.owner);
        self.text(Position::ReferenceDescriptor, Some(member.descriptor));
    }

    fn invoke_dynamic(&mut self, _: u32, call_site: u16) {
        self.text(Position::CallSiteDescriptor, self.pool().dynamic(call_site).map(|dynamic| dynamic.descriptor));
    }

    fn load_constant(&mut self, _: u32, constant: u16, _: Tag) {
        self.constant(Position::LoadConstant, constant);
    }

    fn bootstrap(&mut self, bootstrap: &Bootstrap<'a>) {
        self.constant(Position::BootstrapMethod, bootstrap.method);
        for argument in bootstrap.arguments.iter() {
            self.constant(Position::BootstrapArgument, argument);
        }
    }
}

/// What ASM's program prints of one class: its entry, and a line for each category.
fn theirs(lines: &mut impl Iterator<Item = String>) -> Option<(String, Vec<String>)> {
    let head = lines.next()?;
    let entry = head.strip_prefix("= ")?.to_owned();
    Some((entry, Vec::new()))
}

#[test]
fn named_classes_are_those_that_asm_finds() {
    let jars = libraries::libraries();
    let asm = jars.iter().find(|jar| jar.file_name().is_some_and(|name| name.to_string_lossy().starts_with("asm-")));
    let asm = asm.expect("ASM is among the libraries");
    let classes = tempfile::tempdir().expect("a folder");
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/judges/asm/Named.java");
    let compiled = Command::new(jdk::tool(17, "javac"))
        .args(["-d".as_ref(), classes.path(), "-cp".as_ref(), asm, &source])
        .output()
        .expect("javac starts");
    assert!(compiled.status.success(), "{}", String::from_utf8_lossy(&compiled.stderr));

    let class_path = std::env::join_paths([classes.path(), asm]).expect("plain paths");
    let mut judge = Command::new(jdk::tool(17, "java"))
        .arg("-cp")
        .arg(class_path)
        .arg("Named")
        .args(&jars)
        .stdout(Stdio::piped())
        .spawn()
        .expect("java starts");
    let mut lines =
        BufReader::new(judge.stdout.take().expect("piped")).lines().map(|line| line.expect("UTF-8")).peekable();

    let limits = Limits::default();
    let mut reader = Reader::new(&limits);
    let mut scratch = Scratch::default();
    let mut count = 0;
    let mut differences = String::new();
    for jar in &jars {
        let archives = archive::open(std::slice::from_ref(jar), &limits).expect("the jar opens");
        let mut ours: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for archive in archives.list.iter().filter(|archive| archive.parent.is_none()) {
            for entry in archive.entries.iter().filter(|entry| entry.path.ends_with(".class")) {
                let bytes = reader.read(archive, entry).expect("the entry can be read");
                let mut named = Named::default();
                walk(bytes, &mut scratch, &mut named).expect("a sound class file");
                let text = named.names.into_iter().map(|(category, names)| {
                    let names: Vec<String> = names.into_iter().collect();
                    format!("{category} {}", names.join(" "))
                });
                let place = archive.locate(entry);
                let path = place.as_str().split_once("!/").map_or("", |(_, path)| path).to_owned();
                ours.insert(path, text.collect());
            }
        }
        let mut seen = 0;
        while let Some((entry, mut rows)) = theirs(&mut lines) {
            while let Some(row) = lines.next_if(|line| !line.starts_with(['=', '#'])) {
                rows.push(row);
            }
            seen += 1;
            let Some(ours) = ours.get(&entry) else {
                let _ = writeln!(differences, "{}!/{entry}: not read by us", jar.display());
                continue;
            };
            // Java sorts by UTF-16 units, Rust by code points; the sets are what is compared.
            let set = |rows: &[String]| -> BTreeSet<(String, String)> {
                rows.iter()
                    .flat_map(|row| {
                        let mut words = row.split(' ').map(str::to_owned);
                        let category = words.next().unwrap_or_default();
                        words.map(move |word| (category.clone(), word)).collect::<Vec<_>>()
                    })
                    .collect()
            };
            let (mine, judged) = (set(ours), set(&rows));
            for (category, name) in mine.symmetric_difference(&judged).take(3) {
                let who = if mine.contains(&(category.clone(), name.clone())) { "we" } else { "ASM" };
                let _ = writeln!(differences, "{}!/{entry}: only {who} find {category} {name}", jar.display());
            }
            // The jar's closing line has been taken by `theirs` when it answers `None`.
            if lines.peek().is_some_and(|line| line.starts_with('#')) {
                lines.next();
                break;
            }
        }
        assert_eq!(seen, ours.len(), "{}: every class is judged", jar.display());
        count += seen;
    }
    assert!(judge.wait().expect("java ends").success());
    println!("{count} classes of {} jars, named alike by ASM", jars.len());
    assert!(differences.is_empty(), "{}", &differences[..differences.floor_char_boundary(4000)]);
    assert!(count >= AT_LEAST, "{count} classes are too few");
}

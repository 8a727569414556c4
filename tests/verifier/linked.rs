//! Thousands of real classes, each linked by the JVM in a class loader that writes down what it is asked for.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use secateur::archive::{self, Reader};
use secateur::limits::Limits;

use crate::loads::{Class, Classes, Memory};
use crate::{jdk, libraries};

/// Classes linked, besides all that the old verifier is for.
const SAMPLE: usize = 4_000;

fn read(jars: &[PathBuf]) -> Classes {
    let limits = Limits::default();
    let mut reader = Reader::new(&limits);
    let mut memory = Memory::default();
    let mut classes = Classes::default();
    for jar in jars {
        let archives = archive::open(std::slice::from_ref(jar), &limits).expect("the jar opens");
        for archive in archives.list.iter().filter(|archive| archive.parent.is_none()) {
            // The judge knows nothing of versions.
            for entry in archive.entries.iter().filter(|entry| entry.is_class() && entry.version == 0) {
                if &*entry.path == "module-info.class" {
                    continue;
                }
                let bytes = reader.read(archive, entry).expect("the entry can be read");
                let (name, class) = Class::read(bytes, &mut memory);
                if entry.path.strip_suffix(".class") == Some(&*name) {
                    classes.own.entry(name).or_insert(class);
                }
            }
        }
    }
    classes
}

/// What the judge prints for these lines.
pub fn ask(jars: &[PathBuf], lines: &str) -> String {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/judges/verifier/Linked.java");
    let mut child = Command::new(jdk::tool(17, "java"))
        .args(["--add-opens", "java.base/java.lang=ALL-UNNAMED", "-Xmx1g", "-XX:+UseSerialGC"])
        .arg(source)
        .args(jars)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("java starts");
    let mut stdin = child.stdin.take().expect("piped");
    let lines = lines.to_owned();
    let feeder = std::thread::spawn(move || stdin.write_all(lines.as_bytes()));
    let output = child.wait_with_output().expect("java ends");
    assert!(output.status.success());
    feeder.join().expect("no panic").expect("the judge reads all lines");
    String::from_utf8(output.stdout).expect("UTF-8")
}

/// Judge: `HotSpot` 17 linking each class; JVMS §4.10, §5.4.1.
#[test]
fn linking_loads_what_our_questions_say() {
    let jars = libraries::libraries();
    let mut classes = read(&jars);
    let unfinished: usize = classes.own.values().map(|class| class.unfinished).sum();

    let step = classes.own.len().div_ceil(SAMPLE);
    let chosen: Vec<String> = classes
        .own
        .iter()
        .enumerate()
        .filter(|(place, (_, class))| place % step == 0 || class.major < 50)
        .map(|(_, (name, _))| name.clone())
        .collect();
    let mut named = BTreeSet::new();
    for class in classes.own.values() {
        named.extend(class.questions.iter().flat_map(|(source, target)| source.iter().chain([target])));
        named.extend(&class.supers);
    }
    let foreign = named.into_iter().filter(|name| !classes.own.contains_key(*name));
    let mut lines = String::new();
    for name in foreign {
        writeln!(lines, "? {name}").unwrap();
    }
    for name in &chosen {
        writeln!(lines, "{name}").unwrap();
    }
    let told = ask(&jars, &lines);

    let (mut ours, mut theirs, mut both) = (0, 0, 0);
    let (mut linked, mut failed, mut old, mut unloadable) = (0, 0, 0, 0);
    let (mut missed, mut excess, mut unexplained) = (String::new(), String::new(), String::new());
    for line in told.lines() {
        let mut words = line.split(' ');
        let (Some(mark), Some(name), Some(how)) = (words.next(), words.next(), words.next()) else { panic!("{line}") };
        if mark == "?" {
            if how != "absent" {
                classes.platform.insert(name.to_owned(), (how == "interface", words.map(str::to_owned).collect()));
            }
            continue;
        }
        if how == "unloadable" {
            unloadable += 1;
            continue;
        }
        let class = &classes.own[name];
        let (first, mut predicted) = classes.linking(name);
        let mut loaded: BTreeSet<String> = words.filter(|word| !word.is_empty()).map(str::to_owned).collect();
        loaded = &loaded - &first;
        // HotSpot asks for a caught Throwable without any question, so as to be able to catch it when memory is short.
        loaded.remove("java/lang/Throwable");
        predicted.remove("java/lang/Throwable");
        for of_field in &class.field_types {
            predicted.remove(of_field);
            loaded.remove(of_field);
        }
        // Types of public fields bring their superclasses along.
        let mut beside = BTreeSet::new();
        class.field_types.iter().for_each(|of_field| classes.load(of_field, &mut beside));
        for name in loaded.difference(&predicted).filter(|name| !beside.contains(*name)) {
            writeln!(missed, "{name} of {}", line.split(' ').nth(1).unwrap()).unwrap();
        }
        both += loaded.intersection(&predicted).count();
        theirs += loaded.iter().filter(|name| predicted.contains(*name) || !beside.contains(*name)).count();
        old += usize::from(class.major < 50);
        if how == "linked" {
            linked += 1;
            ours += predicted.len();
            for extra in predicted.difference(&loaded) {
                writeln!(excess, "{extra} of {name}").unwrap();
            }
        } else {
            // The first missing class ends it, so that nothing can be said of what would have come next.
            failed += 1;
            ours += predicted.intersection(&loaded).count();
            let absent = |name: &String| !classes.own.contains_key(name) && !classes.platform.contains_key(name);
            if how != "NoClassDefFoundError" || !loaded.union(&class.field_types.clone()).any(absent) {
                let last = loaded.iter().cloned().collect::<Vec<_>>().join(" ");
                writeln!(unexplained, "{name}: {how} ({last})").unwrap();
            }
        }
    }
    println!(
        "{linked} classes linked, {old} of them by the old verifier; {failed} could not be linked, {unloadable} not \
         loaded; {unfinished} methods of {} classes not followed to their end",
        classes.own.len()
    );
    println!("loads: {theirs} by the JVM, {ours} by our questions, {both} by both");
    println!("not foreseen:\n{missed}foreseen in vain:\n{excess}unexplained:\n{unexplained}");
    assert!(linked > SAMPLE / 2 && old > 300, "too few classes for a judgement");
    assert_eq!(missed, "", "recall");
    assert_eq!(unfinished, 0);
    assert!(both * 1000 >= ours * 999, "precision: {both} of {ours}");
}

//! Small programs whose classes the JVM verifies with every module but `java.base` taken away.
//!
//! `HotSpot`'s log says which classes it has verified and which missing class it stumbled over; our questions about the
//! same classes must name that one, or no missing class at all where it did not stumble.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;
use std::thread;

use crate::jdk;
use crate::linked;
use crate::loads::{Class, Classes, Memory};

/// The rules that must have a program: JVMS §4.10.1.2 and on, as each program's head says.
const RULES: [(&str, &[&str]); 20] = [
    ("an Object is anything", &["ArgumentAsObject", "AnonymousReturned", "CloneOfArray"]),
    ("null is anything", &["NullAsMissing"]),
    ("the same name is the same class", &["SameName", "LocalInFrame"]),
    ("a present interface is taken for Object", &["AsPresentInterface", "AnonymousAsPresentClass"]),
    ("a missing interface is loaded", &["AsMissingInterface", "MissingPairOfPlatform"]),
    ("a source is loaded for a class", &["AsPresentClass", "ReturnedAsPresentClass", "FieldAsPresentClass"]),
    ("a missing target is loaded", &["AsMissingClass", "StaticAsMissingClass"]),
    ("arrays go by their components", &["ArrayAsArray", "ArrayElement"]),
    ("a store into an array asks nothing", &["StoreIntoArray"]),
    ("a receiver of the named class asks nothing", &["Receiver"]),
    ("a subclass brings its superclass", &["OwnSubclassAsPresentClass", "OwnField"]),
    ("what is thrown is Throwable", &["Throw", "ThrowNew"]),
    ("what is caught is Throwable", &["Catch", "MultiCatch", "CatchInMain"]),
    ("closing, cleaning, looping ask nothing", &["TryWithResources", "Finally", "ForEach"]),
    ("paths meet", &["MergePoint", "MergeAsObject", "SwitchMerge"]),
    ("handlers see variables", &["HandlerLocal"]),
    ("calls of every kind", &["CallSiteArgument", "ConstructorArgument", "LongsBefore", "WideLocal"]),
    ("a cast is what it says", &["CastResult"]),
    ("protected members", &["CloneOfSubclass"]),
    ("the old verifier merges", &["OldMergeAsObject", "OldPlain"]),
];

struct Program {
    name: String,
    binary_name: String,
    version: Option<u16>,
    /// The missing class that its head says it breaks of, or merely that it breaks.
    breaks: Option<String>,
}

fn folders() -> [PathBuf; 2] {
    ["testdata/micro/link", "testdata/verifier"].map(|folder| Path::new(env!("CARGO_MANIFEST_DIR")).join(folder))
}

fn programs() -> Vec<Program> {
    let mut found = Vec::new();
    for folder in folders() {
        let mut sources: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
        sources.sort();
        for source in sources.iter().filter(|path| path.extension().is_some_and(|extension| extension == "java")) {
            let text = fs::read_to_string(source).unwrap();
            let head = |key: &str| {
                let line =
                    text.lines().find_map(|line| line.strip_prefix(" * ")?.strip_prefix(key)?.strip_prefix(": "));
                line.map(str::to_owned)
            };
            let name = source.file_stem().unwrap().to_string_lossy().into_owned();
            let package = source.parent().unwrap().file_name().unwrap().to_string_lossy().into_owned();
            let breaks = head("breaks").or_else(|| head("effect").filter(|effect| effect == "breaks"));
            let version = head("version").map(|version| version.parse().unwrap());
            found.push(Program { binary_name: format!("{package}.{name}"), name, version, breaks });
        }
    }
    found
}

/// The folder with the classes of all programs.
pub fn compiled() -> &'static Path {
    static COMPILED: OnceLock<PathBuf> = OnceLock::new();
    COMPILED.get_or_init(|| {
        let out = Path::new(env!("CARGO_TARGET_TMPDIR")).join("verifier");
        let _ = fs::remove_dir_all(&out);
        let sources = folders().into_iter().flat_map(|folder| {
            let all = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
            all.filter(|path| path.extension().is_some_and(|extension| extension == "java"))
        });
        let output = Command::new(jdk::tool(17, "javac"))
            .args(["-nowarn", "-proc:none", "-Xlint:none", "-encoding", "UTF-8", "-d"])
            .arg(&out)
            .args(sources)
            .output()
            .expect("javac starts");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        for program in programs() {
            let Some(version) = program.version else { continue };
            let path = out.join(program.binary_name.replace('.', "/")).with_extension("class");
            let mut bytes = fs::read(&path).unwrap();
            bytes[6..8].copy_from_slice(&version.to_be_bytes());
            fs::write(path, bytes).unwrap();
        }
        out
    })
}

fn classes(folder: &Path) -> Classes {
    let mut memory = Memory::default();
    let mut classes = Classes::default();
    for package in ["link", "verifier"] {
        for entry in fs::read_dir(folder.join(package)).unwrap() {
            let (name, class) = Class::read(&fs::read(entry.unwrap().path()).unwrap(), &mut memory);
            assert_eq!(class.unfinished, 0, "{name}");
            classes.own.insert(name, class);
        }
    }
    let mut named = BTreeSet::new();
    for class in classes.own.values() {
        named.extend(class.questions.iter().flat_map(|(source, target)| source.iter().chain([target])));
        named.extend(&class.supers);
    }
    let lines: Vec<String> = named.iter().map(|name| format!("? {name}\n")).collect();
    for line in linked::ask(&[], &lines.concat()).lines() {
        let mut words = line.split(' ').skip(1).map(str::to_owned);
        let (Some(name), Some(kind)) = (words.next(), words.next()) else { panic!("{line}") };
        if kind != "absent" {
            classes.platform.insert(name, (kind == "interface", words.collect()));
        }
    }
    classes
}

/// The program's own classes that were verified, in internal form, and the missing class that ended one of them.
fn verified(program: &Program) -> (Vec<String>, Option<String>) {
    let output = Command::new(jdk::tool(17, "java"))
        .args(["--limit-modules", "java.base", "-Xlog:class+init=info:stdout", "-XX:TieredStopAtLevel=1", "-cp"])
        .arg(compiled())
        .arg(&program.binary_name)
        .output()
        .expect("java starts");
    let log = String::from_utf8_lossy(&output.stdout).into_owned();
    let package = program.binary_name.split('.').next().unwrap();
    let begun = log.lines().filter_map(|line| line.split_once("Start class verification for: ").map(|(_, name)| name));
    let begun = begun.filter(|name| name.starts_with(package)).map(|name| name.replace('.', "/")).collect();
    let missing = log.lines().find_map(|line| {
        let (_, missing) = line.split_once("has exception pending 'java.lang.NoClassDefFoundError ")?;
        Some(missing.trim_end_matches('\'').to_owned())
    });
    assert_eq!(missing.is_none(), output.status.success(), "{}: {log}", program.binary_name);
    (begun, missing)
}

#[test]
fn missing_classes_are_those_that_the_jvm_names() {
    let programs = programs();
    let classes = classes(compiled());
    let half = programs.len().div_ceil(2);
    let judged: Vec<(Vec<String>, Option<String>)> = thread::scope(|scope| {
        let running: Vec<_> =
            programs.chunks(half).map(|part| scope.spawn(|| part.iter().map(verified).collect::<Vec<_>>())).collect();
        running.into_iter().flat_map(|part| part.join().unwrap()).collect()
    });
    let absent = |name: &&String| name.starts_with("java/sql/") || name.starts_with("javax/xml/");
    let mut wrong = Vec::new();
    let mut broken = 0;
    for (program, (begun, missing)) in programs.iter().zip(&judged) {
        assert!(!begun.is_empty(), "{}: the log shows no verification", program.binary_name);
        let ours: BTreeSet<String> = begun.iter().flat_map(|name| classes.linking(name).1).collect();
        let ours: Vec<&String> = ours.iter().filter(absent).collect();
        let agree = match missing {
            Some(missing) => ours.contains(&missing),
            None => ours.is_empty(),
        };
        let declared = match (&program.breaks, missing) {
            (Some(breaks), Some(missing)) => breaks == "breaks" || breaks == missing,
            (None, None) => true,
            _ => false,
        };
        if !agree || !declared {
            wrong
                .push(format!("{}: {ours:?}, the JVM {missing:?}, its head {:?}", program.binary_name, program.breaks));
        }
        broken += usize::from(missing.is_some());
    }
    println!("{} programs, {broken} of which break while they are linked", programs.len());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(broken >= 20 && programs.len() - broken >= 12);
    for (rule, names) in RULES {
        for name in names {
            assert!(programs.iter().any(|program| program.name == *name), "{rule}: {name} is gone");
        }
    }
}

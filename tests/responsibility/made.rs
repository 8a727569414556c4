//! Small programs in which an archive keeps a module away, stands twice, or starts everything.

use std::fs;
use std::path::{Path, PathBuf};

use secateur::verdict::Policy;
use tempfile::TempDir;

use super::java::compiled;
use super::rewrite::without;
use super::zip::{Entry, archive, manifest, stored};
use super::{Program, holds, row};

/// A folder with jars in it.
struct Yard(TempDir);

impl Yard {
    fn new() -> Self {
        Yard(tempfile::tempdir().unwrap())
    }

    fn jar(&self, name: &str, entries: &[Entry]) -> PathBuf {
        let path = self.0.path().join(name);
        fs::write(&path, archive(entries)).unwrap();
        path
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }
}

fn named(entries: &[Entry], start: &str) -> Vec<Entry> {
    entries.iter().filter(|entry| entry.name.starts_with(start.as_bytes())).cloned().collect()
}

fn check(program: &Program, archive: &Path) {
    let folder = tempfile::tempdir().unwrap();
    let archive = archive.to_str().unwrap();
    let inputs = without(&program.inputs, archive, folder.path());
    holds(&program.told(), &program.scanned(), archive, &Program { inputs, ..program.clone() }.scanned());
}

const MAIN: &str = "public class Main { public static void main(String[] a) { new lib.Tide().rise(); } }";

/// The first copy of a class hides the second (`java` launcher, class path order).
#[test]
fn a_class_that_stood_in_the_shade_comes_forth() {
    let yard = Yard::new();
    let main =
        compiled(17, &[], &[("Main", MAIN), ("lib/Tide", "package lib; public class Tide { public void rise() {} }")]);
    let prefs =
        "package lib; public class Tide { public void rise() { new java.util.prefs.BackingStoreException(\"\"); } }";
    let names = "package lib; public class Tide { public void rise() { new javax.naming.CompositeName(); } }";
    let [first, second] = [prefs, names].map(|text| named(&compiled(17, &[], &[("lib/Tide", text)]), "lib/"));
    let inputs =
        vec![yard.jar("main.jar", &named(&main, "Main")), yard.jar("a.jar", &first), yard.jar("b.jar", &second)];
    let program = Program { entries: vec!["Main".to_owned()], ..Program::of(inputs) };
    let told = program.told();
    let first = row(&told, "a.jar").unwrap();
    assert!(first.goes.modules.contains(&"java.prefs".to_owned()));
    assert!(first.comes.modules.contains(&"java.naming".to_owned()));
    assert!(row(&told, "b.jar").is_none());
    check(&program, &yard.path("a.jar"));
    check(&program, &yard.path("b.jar"));
}

/// What the program brings a copy of may do without the module; without the copy the code needs it.
#[test]
fn an_own_copy_that_goes_can_bring_modules() {
    let yard = Yard::new();
    let copy = "package javax.sql; public class RowSetEvent extends java.util.EventObject {
        public RowSetEvent(Object o) { super(o); } }";
    let main = "public class Main { public static void main(String[] a) { new javax.sql.RowSetEvent(a); } }";
    let all = compiled(17, &["--limit-modules", "java.base"], &[("Main", main), ("javax/sql/RowSetEvent", copy)]);
    let inputs = vec![yard.jar("main.jar", &named(&all, "Main")), yard.jar("copy.jar", &named(&all, "javax/"))];
    let program = Program { inputs, entries: vec!["Main".to_owned()], policy: Policy::Lean };
    let told = program.told();
    let copy = row(&told, "copy.jar").unwrap();
    assert!(copy.goes.modules.is_empty(), "{copy:?}");
    assert!(copy.comes.modules.contains(&"java.sql".to_owned()), "{copy:?}");
    check(&program, &yard.path("copy.jar"));
    // A policy that keeps what is doubtful keeps it either way.
    let program = Program { policy: Policy::Safe, ..program };
    assert!(row(&program.told(), "copy.jar").is_none());
    check(&program, &yard.path("copy.jar"));
}

/// Without what starts it nothing of a program runs; it does not turn into a library of which all can be called.
#[test]
fn everything_goes_with_what_starts_the_program() {
    let yard = Yard::new();
    let tide = "package lib; public class Tide { public void rise() { new javax.naming.CompositeName(); }
                  public void fall() { new java.rmi.ServerException(\"\"); } }";
    let all = compiled(17, &[], &[("Main", MAIN), ("lib/Tide", tide)]);
    let start = [vec![manifest(&["Main-Class: Main"])], named(&all, "Main")].concat();
    let inputs = vec![yard.jar("main.jar", &start), yard.jar("tide.jar", &named(&all, "lib/"))];
    for entries in [Vec::new(), vec!["Main".to_owned()]] {
        let program = Program { entries, ..Program::of(inputs.clone()) };
        let told = program.told();
        let main = row(&told, "main.jar").unwrap();
        assert_eq!(main.goes.modules, ["java.logging", "java.naming", "java.security.sasl"].map(String::from));
        assert!(main.comes.modules.is_empty() && main.own.modules.is_empty());
        assert_eq!(row(&told, "tide.jar").unwrap().own.modules, main.goes.modules);
        assert_eq!(told.always.modules, ["java.base"].map(String::from));
        check(&program, &yard.path("tide.jar"));
    }
}

/// Jars that a manifest names go with it, unless something else names them too (JAR File Specification, `Class-Path`).
#[test]
fn what_only_a_manifest_names_goes_with_it() {
    let yard = Yard::new();
    let tide = "package lib; public class Tide { public void rise() { new javax.naming.CompositeName(); } }";
    let gate = "package gate; public class Gate { public static void main(String[] a) { new lib.Tide().rise(); } }";
    let all = compiled(17, &[], &[("Main", MAIN), ("lib/Tide", tide), ("gate/Gate", gate)]);
    yard.jar("tide.jar", &named(&all, "lib/"));
    let link = manifest(&["Class-Path: tide.jar"]);
    let one = yard.jar("one.jar", &[vec![link.clone()], named(&all, "Main")].concat());
    let other = yard.jar("other.jar", &[vec![link], named(&all, "gate/")].concat());
    let plain = yard.jar("plain.jar", &named(&all, "gate/"));
    let program = |second: &PathBuf, entry: &str| Program {
        entries: vec![entry.to_owned()],
        ..Program::of(vec![one.clone(), second.clone()])
    };
    let alone = program(&plain, "gate.Gate").told();
    assert!(row(&alone, "one.jar").unwrap().goes.modules.contains(&"java.naming".to_owned()));
    check(&program(&plain, "gate.Gate"), &yard.path("one.jar"));
    let both = program(&other, "gate.Gate");
    assert!(row(&both.told(), "one.jar").is_none());
    check(&both, &yard.path("one.jar"));
}

/// A jar in a web archive in an enterprise archive; the class is in two of its web archives, which do not see each other.
#[test]
fn archives_within_archives_answer_for_themselves() {
    let yard = Yard::new();
    let tide = "package lib; public class Tide { public void rise() { new javax.naming.CompositeName(); } }";
    let servlet = "package web; public class Start { public Start() { new lib.Tide().rise(); } }";
    let all = compiled(17, &[], &[("lib/Tide", tide), ("web/Start", servlet)]);
    let tide = archive(&named(&all, "lib/"));
    let war = |jar: bool| {
        let mut entries = named(&all, "web/");
        for entry in &mut entries {
            entry.name = [b"WEB-INF/classes/", &*entry.name].concat();
        }
        if jar {
            entries.push(stored("WEB-INF/lib/tide.jar", &tide));
        }
        archive(&entries)
    };
    let one = yard.jar("one.ear", &[stored("a.war", &war(true)), stored("b.war", &war(false))]);
    let two = yard.jar("two.ear", &[stored("a.war", &war(true)), stored("b.war", &war(true))]);
    let told = Program::of(vec![one]).told();
    assert!(row(&told, "tide.jar").unwrap().own.modules.contains(&"java.naming".to_owned()));
    assert!(row(&told, "b.war").is_none());
    let program = Program::of(vec![two]);
    let told = program.told();
    assert!(row(&told, "tide.jar").is_none());
    assert!(
        told.shared.modules.is_empty()
            && row(&told, "two.ear").unwrap().own.modules.contains(&"java.naming".to_owned())
    );
    for part in ["a.war", "a.war!/WEB-INF/lib/tide.jar", "b.war!/WEB-INF/classes"] {
        check(&program, &PathBuf::from(format!("{}!/{part}", yard.path("two.ear").display())));
    }
}

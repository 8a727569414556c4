//! Programs put together at random from jars that need each other in every way that matters, some of which keep something
//! away. For each jar the table says what a scan without it finds: also for those that the table leaves out since nothing
//! is found to rest on them.

use std::fs;
use std::path::PathBuf;
use std::sync::LazyLock;

use proptest::prelude::*;
use secateur::verdict::Policy;
use tempfile::TempDir;

use super::java::compiled;
use super::zip::{Entry, archive};
use super::{Program, holds};

/// Jars by name, each with its classes. Where one class stands in two jars, the second one's is `…2`.
const SOURCES: [(&str, &str, &str); 13] = [
    (
        "start",
        "harbour/Start",
        "public class Start { public static void main(String[] a) throws Exception {
        new Shore().walk(new Pier()); Names.load(\"harbour.Buoy\"); Names.load(a[0]); Rope r = new Long(); r.pull();
        Object o = new javax.sql.RowSetEvent(a); } }",
    ),
    ("shore", "harbour/Shore", "public class Shore { public void walk(Pier p) { p.go(); } }"),
    ("pier", "harbour/Pier", "public class Pier { public void go() { Light.lit(); } }"),
    ("light", "harbour/Light", "public class Light { public static void lit() { new javax.naming.CompositeName(); } }"),
    (
        "other",
        "harbour/Light2",
        "public class Light { public static void lit() { new java.util.prefs.BackingStoreException(\"\"); } }",
    ),
    (
        "names",
        "harbour/Names",
        "public class Names { public static Object load(String name) throws Exception {
        return Class.forName(name).getDeclaredConstructor().newInstance(); } }",
    ),
    ("buoy", "harbour/Buoy", "public class Buoy { static { new java.rmi.ServerException(\"\"); } }"),
    (
        "rope",
        "harbour/Rope",
        "public interface Rope { default void pull() { java.lang.management.ManagementFactory.getRuntimeMXBean(); } }",
    ),
    ("knot", "harbour/Knot", "public class Knot implements Rope { public void pull() { } }"),
    (
        "long",
        "harbour/Long",
        "public class Long extends Knot implements Rope { static final String HINT = String.valueOf(\"harbour.Hidden\"); }",
    ),
    ("hidden", "harbour/Hidden", "public class Hidden { static { javax.script.ScriptContext.class.getName(); } }"),
    (
        "copy",
        "javax/sql/RowSetEvent",
        "public class RowSetEvent extends java.util.EventObject {
        public RowSetEvent(Object o) { super(o); } }",
    ),
    ("idle", "harbour/Idle", "public class Idle { static { new javax.naming.InsufficientResourcesException(); } }"),
];

static JARS: LazyLock<(TempDir, Vec<PathBuf>)> = LazyLock::new(|| {
    let text = |path: &str, text: &str| {
        let package = path.rsplit_once('/').unwrap().0.replace('/', ".");
        format!("package {package}; {text}")
    };
    let of = |second: bool| -> Vec<Entry> {
        let sources: Vec<(String, String)> = SOURCES
            .iter()
            .filter(|(_, path, _)| path.ends_with('2') == second)
            .map(|(_, path, source)| (path.trim_end_matches('2').to_owned(), text(path, source)))
            .collect();
        let sources: Vec<(&str, &str)> = sources.iter().map(|(path, source)| (&**path, &**source)).collect();
        // The compiler takes a class of the platform for the platform's unless its module is out of sight.
        compiled(17, &["-g:none", "--limit-modules", MODULES], &sources)
    };
    let (first, second) = (of(false), of(true));
    let folder = tempfile::tempdir().unwrap();
    let jars = SOURCES.iter().map(|(name, path, _)| {
        let from = if path.ends_with('2') { &second } else { &first };
        let class = format!("{}.class", path.trim_end_matches('2'));
        let entries: Vec<Entry> = from.iter().filter(|entry| entry.name == class.as_bytes()).cloned().collect();
        assert_eq!(entries.len(), 1, "{class}");
        let jar = folder.path().join(format!("{name}.jar"));
        fs::write(&jar, archive(&entries)).unwrap();
        jar
    });
    let jars = jars.collect();
    (folder, jars)
});

/// All that the sources name, short of the module of which one is a copy.
const MODULES: &str = "java.naming,java.prefs,java.rmi,java.management,java.scripting";

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_table_says_what_a_scan_without_a_jar_finds(
        some in proptest::sample::subsequence((1..SOURCES.len()).collect::<Vec<_>>(), 1..SOURCES.len()).prop_shuffle(),
        policy in prop_oneof![Just(Policy::Lean), Just(Policy::Safe), Just(Policy::Whole)],
    ) {
        let jars = &JARS.1;
        let inputs: Vec<PathBuf> = some.iter().chain(&[0]).map(|&at| jars[at].clone()).collect();
        let program = Program { entries: vec!["harbour.Start".to_owned()], policy, ..Program::of(inputs) };
        let (told, whole) = (program.told(), program.scanned());
        for &at in &some {
            let inputs = program.inputs.iter().filter(|path| **path != jars[at]).cloned().collect();
            holds(&told, &whole, jars[at].to_str().unwrap(), &Program { inputs, ..program.clone() }.scanned());
        }
    }
}

/// The jars of this file do to each other what they are there for.
#[test]
fn jars_bring_and_keep_away() {
    let program =
        Program { entries: vec!["harbour.Start".to_owned()], policy: Policy::Lean, ..Program::of(JARS.1.clone()) };
    let told = program.told();
    let row = |name: &str| super::row(&told, &format!("{name}.jar"));
    let comes =
        |name: &str, module: &str| row(name).is_some_and(|row| row.comes.modules.iter().any(|one| one == module));
    let goes = |name: &str, module: &str| row(name).is_some_and(|row| row.goes.modules.iter().any(|one| one == module));
    assert!(goes("light", "java.naming") && comes("light", "java.prefs"), "{told:?}");
    assert!(goes("shore", "java.naming") && goes("pier", "java.naming"), "{told:?}");
    assert!(comes("copy", "java.sql"), "{told:?}");
    assert!(comes("knot", "java.management"), "{told:?}");
    assert!(row("idle").is_none() && row("other").is_none(), "{told:?}");
}

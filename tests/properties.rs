//! Properties of the verdict over made-up programs: more roots take nothing away, a guard raises no standing, order and
//! threads change nothing; and whose copy of a type wins, with the JVM as judge.
//!
//! Programs are put together from a fixed set of small classes that are compiled once, so that each case costs a scan
//! and no compiler.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::LazyLock;

use proptest::prelude::*;
use secateur::pipeline::{explain, scan};
use secateur::plan::Plan;
use secateur::progress::Silent;
use secateur::report::{Report, Standing};
use secateur::verdict::Policy;
use tempfile::TempDir;

#[path = "support/java.rs"]
mod java;
#[path = "support/jdk.rs"]
mod jdk;
#[path = "support/zip.rs"]
mod zip;

use zip::{Entry, archive};

/// Each class asks for a module in a way of its own; `%s` is what it does besides.
const SOURCES: [(&str, &str); 6] = [
    ("Tide", "public class Tide { public static void main(String[] a) { java.util.logging.Logger.getLogger(\"t\"); } }"),
    (
        "Gauge",
        "public class Gauge { public static void main(String[] a) throws Exception { Class.forName(\"harbour.Sluice\"); }
           static Object unused() { return new java.util.prefs.BackingStoreException(\"\"); } }",
    ),
    ("Sluice", "public class Sluice { static { new javax.naming.CompositeName(); } }"),
    (
        "Gate",
        "public class Gate { public static void main(String[] a) {
           try { new java.rmi.ServerException(\"\"); } catch (NoClassDefFoundError e) { } } }",
    ),
    (
        "Buoy",
        "public class Buoy implements Runnable { public void run() { java.sql.DriverManager.getDrivers(); }
           public static void main(String[] a) { new Thread(new Buoy()).start(); } }",
    ),
    (
        "Light",
        "public class Light { public static void main(String[] a) throws Exception {
           Class.forName(a[0]); java.lang.management.ManagementFactory.getRuntimeMXBean(); } }",
    ),
];

/// The same asking, bare and under a guard for its absence.
const ASKING: [(&str, &str); 4] = [
    ("java.logging", "java.util.logging.Logger.getLogger(\"t\");"),
    ("java.sql", "new java.sql.SQLException();"),
    ("java.naming", "Class.forName(\"javax.naming.InitialContext\");"),
    ("java.rmi", "Object o = new java.rmi.ServerException(\"\");"),
];

fn compiled(sources: &[(String, String)], options: &[&str]) -> Vec<Entry> {
    let sources: Vec<(&str, &str)> = sources.iter().map(|(name, source)| (&**name, &**source)).collect();
    java::compiled(17, &[&["-g:none"], options].concat(), &sources)
}

/// One jar a class.
static JARS: LazyLock<(TempDir, Vec<PathBuf>)> = LazyLock::new(|| {
    let folder = tempfile::tempdir().unwrap();
    let sources: Vec<(String, String)> =
        SOURCES.iter().map(|(name, text)| ((*name).to_owned(), format!("package harbour; {text}"))).collect();
    let jars = compiled(&sources, &[]).into_iter().map(|entry| {
        let path = folder.path().join(format!("{}.jar", String::from_utf8_lossy(&entry.name).replace(['/', '.'], "-")));
        fs::write(&path, archive(&[entry])).unwrap();
        path
    });
    let jars = jars.collect();
    (folder, jars)
});

/// Bare and guarded, by class.
static GUARDS: LazyLock<(TempDir, PathBuf)> = LazyLock::new(|| {
    let mut sources = Vec::new();
    for (number, (_, asking)) in ASKING.iter().enumerate() {
        for (name, body) in [
            ("Bare", (*asking).to_owned()),
            ("Guarded", format!("try {{ {asking} }} catch (NoClassDefFoundError | ClassNotFoundException e) {{ }}")),
            ("Wrong", format!("try {{ {asking} }} catch (IllegalStateException e) {{ }}")),
        ] {
            let throws = "public static void main(String[] a) throws Throwable";
            // A compiler wants a way in which the exception can come about.
            let body = body
                .replace("} catch (NoClass", "if (a.length > 9) throw new ClassNotFoundException(); } catch (NoClass");
            sources.push((
                format!("{name}{number}"),
                format!("package harbour; public class {name}{number} {{ {throws} {{ {body} }} }}"),
            ));
        }
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("guards.jar");
    fs::write(&path, archive(&compiled(&sources, &[]))).unwrap();
    (folder, path)
});

fn report(inputs: &[PathBuf], entries: &[String], policy: Policy) -> Report {
    let plan =
        Plan { inputs: inputs.to_vec(), entries: entries.to_vec(), release: Some(17), policy, ..Plan::default() };
    scan(&plan, &Silent).unwrap()
}

fn standings(report: &Report) -> BTreeMap<String, Standing> {
    report.modules.iter().map(|row| (row.name.clone(), row.standing)).collect()
}

fn entries() -> impl Strategy<Value = Vec<String>> {
    let names: Vec<String> = SOURCES.iter().map(|(name, _)| format!("harbour.{name}")).collect();
    proptest::sample::subsequence(names, 1..=SOURCES.len())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn more_roots_take_no_module_away(some in entries(), more in entries(), whole in any::<bool>()) {
        let policy = if whole { Policy::Whole } else { Policy::Safe };
        let list = |entries: &[String]| -> BTreeSet<String> {
            report(&JARS.1, entries, policy).list.into_iter().collect()
        };
        let few = list(&some);
        let mut all = some.clone();
        all.extend(more.into_iter().filter(|name| !some.contains(name)));
        let many = list(&all);
        prop_assert!(few.is_subset(&many), "{some:?} keeps {few:?}, {all:?} {many:?}");
    }

    #[test]
    fn the_order_of_archives_and_roots_changes_no_standing(
        (inputs, entries) in (Just(JARS.1.clone()).prop_shuffle(), entries().prop_shuffle())
    ) {
        let mut sorted = entries.clone();
        sorted.sort();
        let one = report(&inputs, &entries, Policy::Safe);
        let other = report(&JARS.1, &sorted, Policy::Safe);
        prop_assert_eq!(standings(&one), standings(&other));
        prop_assert_eq!(one.list, other.list);
    }
}

/// A guard lowers or leaves; a handler for something else does neither.
#[test]
fn a_guard_never_raises_a_standing() {
    for (number, (module, _)) in ASKING.iter().enumerate() {
        let of = |name: &str| {
            let answer = report(std::slice::from_ref(&GUARDS.1), &[format!("harbour.{name}{number}")], Policy::Safe);
            // Smaller is stronger.
            standings(&answer).get(*module).copied().unwrap_or(Standing::Dormant)
        };
        let (bare, guarded, wrong) = (of("Bare"), of("Guarded"), of("Wrong"));
        assert!(guarded >= bare, "{module}: {guarded:?} with a guard, {bare:?} without");
        assert_eq!(guarded, Standing::Tolerated, "{module}");
        assert_eq!(wrong, bare, "{module}");
    }
}

#[test]
fn threads_change_no_standing() {
    let all: Vec<String> = SOURCES.iter().map(|(name, _)| format!("harbour.{name}")).collect();
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| format!("{:?}", report(&JARS.1, &all, Policy::Safe).modules))
    };
    let alone = on(1);
    for threads in [2, 5] {
        assert_eq!(on(threads), alone);
    }
}

/// The path names each step in order, and what stands at its end is what the class says.
#[test]
fn a_path_leads_from_the_entry_point_to_the_asking() {
    let plan = |entry: &str| Plan {
        inputs: JARS.1.clone(),
        entries: vec![format!("harbour.{entry}")],
        release: Some(17),
        ..Plan::default()
    };
    let path = |entry: &str, module: &str| -> Vec<(String, String, &'static str)> {
        let answer = explain(&plan(entry), module, &Silent).unwrap();
        let first = answer.witnesses.first().unwrap_or_else(|| panic!("no path to {module}"));
        first.steps.iter().map(|step| (step.who.clone(), step.how.clone(), step.stage)).collect()
    };
    let said = path("Gauge", "java.naming");
    let who: Vec<&str> = said.iter().map(|(who, ..)| who.as_str()).collect();
    assert_eq!(who[1], "harbour.Gauge.main([Ljava/lang/String;)V", "{said:?}");
    assert_eq!((&*said[1].1, said[1].2), ("looks up by name", "name"), "{said:?}");
    assert_eq!(*who.last().unwrap(), "harbour.Sluice.<clinit>()V", "{said:?}");
    let said = path("Buoy", "java.sql");
    assert!(said.iter().any(|(who, how, _)| who == "harbour.Buoy" && how == "the platform calls back"), "{said:?}");
    // What nothing reaches has no path.
    let answer = explain(&plan("Gauge"), "java.prefs", &Silent).unwrap();
    assert_eq!(answer.row.as_ref().map(|row| row.standing), Some(Standing::Dormant));
    assert_eq!(answer.witnesses[0].steps.len(), 1);
    assert!(answer.to_go.contains("not kept"), "{}", answer.to_go);
}

/// A name from outside is owned up to.
#[test]
fn a_look_up_that_cannot_be_worked_out_is_listed() {
    let answer = report(&JARS.1, &["harbour.Light".to_owned()], Policy::Safe);
    let row = answer.opaque.iter().find(|row| row.call == "java.lang.Class.forName").expect("a row");
    assert_eq!((&*row.class, row.places), ("harbour.Light", 1));
    assert!(answer.cautions.iter().any(|caution| caution.contains("names that are not in the code")));
    let known = report(&JARS.1, &["harbour.Gauge".to_owned()], Policy::Safe);
    assert!(known.opaque.is_empty(), "{:?}", known.opaque);
    assert!(answer.totals.classes_reached < answer.totals.classes);
    assert!(answer.totals.methods_reached < answer.totals.methods);
}

/// The class loader of the application asks the modules first (`jdk.internal.loader.BuiltinClassLoader`; JEP 261 says
/// that a package belongs to one of both): the program's copy counts only while the module is not there.
#[test]
fn an_own_copy_wins_only_without_the_module() {
    let folder = tempfile::tempdir().unwrap();
    let copy = "package javax.sql; public class RowSetEvent extends java.util.EventObject {
        public static final String MARK = \"own\"; public RowSetEvent(Object o) { super(o); } }";
    let main = "package harbour; public class Copy { public static void main(String[] a) throws Exception {
        Class<?> c = javax.sql.RowSetEvent.class;
        System.out.println(c.getModule().getName()); } }";
    let mut all = compiled(&[("javax/sql/RowSetEvent".to_owned(), copy.to_owned())], &["--limit-modules", "java.base"]);
    let library = folder.path().join("copy.jar");
    fs::write(&library, archive(&all)).unwrap();
    all.extend(compiled(
        &[("Copy".to_owned(), main.to_owned())],
        &["--limit-modules", "java.base", "-cp", library.to_str().unwrap()],
    ));
    let jar = folder.path().join("own.jar");
    fs::write(&jar, archive(&all)).unwrap();
    let loaded = |release: u16, limit: &[&str]| {
        let done = Command::new(jdk::tool(release, "java"))
            .args(limit)
            .arg("-cp")
            .arg(Path::new(&jar))
            .arg("harbour.Copy")
            .output()
            .unwrap();
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
        String::from_utf8(done.stdout).unwrap().trim().to_owned()
    };
    for release in [17, 25] {
        assert_eq!(loaded(release, &[]), "java.sql");
        assert_eq!(loaded(release, &["--limit-modules", "java.base"]), "null");
    }
    let answer = report(&[jar], &["harbour.Copy".to_owned()], Policy::Safe);
    assert_ne!(standings(&answer).get("java.sql"), Some(&Standing::Needed));
    let row = answer.supplied.iter().find(|row| row.module == "java.sql").expect("a row");
    assert_eq!((row.types, row.kept), (1, answer.list.contains(&"java.sql".to_owned())));
}

/// JEP 11: no launch resolves an incubator module by itself.
#[test]
fn incubators_have_to_be_named_at_launch_too() {
    let with = |launch: &str| {
        let plan = Plan {
            inputs: JARS.1.clone(),
            release: Some(17),
            with: vec!["jdk.incubator.vector".to_owned()],
            launch: secateur::needs::Launch::parse(launch).unwrap(),
            ..Plan::default()
        };
        scan(&plan, &Silent).unwrap()
    };
    let told = with("");
    assert_eq!(told.name_at_launch, ["jdk.incubator.vector"]);
    assert!(told.modules.iter().all(|row| row.name_at_launch == (row.name == "jdk.incubator.vector")));
    assert!(with("--add-modules jdk.incubator.vector").name_at_launch.is_empty());
}

//! From archives to a selection: which release is judged for, which classes count, what policies keep, and what the
//! user's wishes are refused. The classes are compiled in the test; the rules are those of the JVM Specification (class
//! file versions, §4.1), the JAR File Specification (manifest headers) and JEP 261 (requires).

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use secateur::error::Error;
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

use zip::{Entry, archive, manifest, stored};

/// Compiles one source for a release and gives the entries of its classes.
fn compiled(compiler: u16, options: &[&str], source: &str) -> Vec<Entry> {
    let name = source.split("class ").nth(1).and_then(|rest| rest.split_whitespace().next()).unwrap();
    java::compiled(compiler, options, &[(name, source)])
}

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
}

fn report(plan: &Plan) -> Report {
    scan(plan, &Silent).expect("the scan answers")
}

fn of(inputs: &[&Path]) -> Plan {
    Plan { inputs: inputs.iter().map(|path| path.to_path_buf()).collect(), ..Plan::default() }
}

fn standing(report: &Report, module: &str) -> Option<Standing> {
    report.modules.iter().find(|row| row.name == module).map(|row| row.standing)
}

fn codes(report: &Report) -> Vec<&'static str> {
    report.findings.iter().map(|finding| finding.code).collect()
}

const TIDE: &str = "package tide; public class Tide { public static void main(String[] a) { } }";

/// `Build-Jdk-Spec` (common practice, no source: what build tools write); else the oldest long-term release from 17 on.
#[test]
fn the_release_is_taken_from_the_manifest_else_by_the_class_files() {
    let yard = Yard::new();
    let old = compiled(17, &["--release", "8"], TIDE);
    let with = |header: Option<&str>, classes: &[Entry]| {
        let mut entries = vec![manifest(&header.into_iter().collect::<Vec<_>>())];
        entries.extend_from_slice(classes);
        report(&of(&[&yard.jar("tide.jar", &entries)])).platform
    };
    assert_eq!(with(Some("Build-Jdk-Spec: 21"), &old).release, 21);
    assert!(with(Some("Build-Jdk-Spec: 21"), &old).reason.contains("tide.jar"));
    // Release 8 has no modules, and one that is not known yet no catalogue.
    assert_eq!(with(Some("Build-Jdk-Spec: 1.8"), &old).release, 17);
    assert_eq!(with(Some("Build-Jdk-Spec: 99"), &old).release, 17);
    assert_eq!(with(None, &old).release, 17);
    let newer = compiled(25, &["--release", "18"], TIDE);
    assert_eq!(with(None, &newer).release, 21);
    // A build release that cannot run the class files is not believed.
    assert_eq!(with(Some("Build-Jdk-Spec: 17"), &newer).release, 21);
    let newest = compiled(25, &["--release", "25"], TIDE);
    assert_eq!(with(None, &newest).release, 25);
}

/// JVMS §4.1. Libraries bring classes for newer releases beside the others (common practice, no source): they neither choose
/// the release, nor make the answer incomplete unless something that runs loads them.
#[test]
fn classes_for_newer_releases_that_nothing_loads_are_noted() {
    let yard = Yard::new();
    let newer = |uses: &str| {
        let main = format!("package tide; public class Tide {{ public static void main(String[] a) {{ {uses} }} }}");
        let other = "package tide; public class Low { public static void main(String[] a) { } }";
        let mut classes = java::compiled(
            25,
            &["--release", "17"],
            &[("Tide", &main), ("Low", other), ("Ebb", &other.replace("Low", "Ebb"))],
        );
        classes.retain(|class| class.name != b"tide/Low.class");
        classes.extend(compiled(25, &["--release", "25"], other));
        let mut entries = vec![manifest(&["Main-Class: tide.Tide"])];
        entries.append(&mut classes);
        report(&of(&[&yard.jar("tide.jar", &entries)]))
    };
    let unused = newer("");
    assert_eq!((unused.platform.release, codes(&unused)), (17, vec!["newer-class"]));
    assert!(unused.complete);
    let used = newer("new Low();");
    assert_eq!((used.platform.release, codes(&used)), (17, vec!["class-too-new"]));
    assert!(!used.complete);
}

/// Of a folder the one jar that stands in it is the program, and those below are its libraries.
#[test]
fn of_a_folder_the_jar_beside_its_libraries_is_started() {
    let yard = Yard::new();
    fs::create_dir(yard.0.path().join("lib")).unwrap();
    let tool = compiled(17, &[], "package tool; public class Tool { public static void main(String[] a) { } }");
    let jar = |name: &str, header: &str, classes: &[Entry]| yard.jar(name, &[&[manifest(&[header])], classes].concat());
    jar("tide.jar", "Main-Class: tide.Tide", &compiled(17, &[], TIDE));
    jar("lib/tool.jar", "Main-Class: tool.Tool", &tool);
    let one = report(&of(&[yard.0.path()]));
    let starts: Vec<&str> = one.entry_points.iter().map(|entry| &*entry.class).collect();
    assert_eq!(starts, ["tide.Tide"]);
    jar("other.jar", "Main-Class: tool.Tool", &tool);
    let several = report(&of(&[yard.0.path()]));
    assert!(codes(&several).contains(&"unclear-start"), "{:?}", several.findings);
}

/// What looks at a class that is not known may have been given any class object, but not one that was asked for its name
/// and dropped.
#[test]
fn a_class_literal_that_is_only_asked_is_not_handed_on() {
    let yard = Yard::new();
    let with = |uses: &str| {
        let source = format!(
            "package tide; public class Tide {{ static class Held {{ java.sql.Timestamp at; }}
                static int look(Object type) {{ return ((Class<?>) type).getDeclaredFields().length; }}
                public static void main(String[] a) throws Exception {{
                    System.out.println(look(Class.forName(a[0]))); {uses} }} }}"
        );
        let mut entries = vec![manifest(&["Main-Class: tide.Tide"])];
        entries.append(&mut compiled(17, &[], &source));
        standing(&report(&of(&[&yard.jar("tide.jar", &entries)])), "java.sql")
    };
    for asks in [
        "System.out.println(Held.class.getName());",
        "synchronized (Held.class) { System.out.println(); }",
        "System.out.println(Held.class.desiredAssertionStatus());",
    ] {
        assert_eq!(with(asks), Some(Standing::Dormant), "{asks}");
    }
    for hands_on in [
        "System.out.println(Held.class);",
        "Object held = Held.class; look(held);",
        "new Held();",
        "System.setProperty(\"tide.held\", Held.class.getName());",
    ] {
        assert_eq!(with(hands_on), Some(Standing::Uncertain), "{hands_on}");
    }
}

/// What weighs nothing is kept where the program bears its absence, too, by any policy; what weighs something is not.
#[test]
fn what_is_tolerated_and_weighs_nothing_is_kept() {
    let yard = Yard::new();
    let source = "package tide; public class Tide { public static void main(String[] a) {
        try { System.out.println(new sun.misc.Signal(\"INT\")); } catch (NoClassDefFoundError absent) { }
        try { System.out.println(new java.sql.Timestamp(0)); } catch (NoClassDefFoundError absent) { } } }";
    let mut entries = vec![manifest(&["Main-Class: tide.Tide"])];
    entries.append(&mut compiled(17, &["-XDignore.symbol.file"], source));
    let jar = yard.jar("tide.jar", &entries);
    for policy in [Policy::Lean, Policy::Safe] {
        let report = report(&Plan { policy, release: Some(17), ..of(&[&jar]) });
        for (module, kept) in [("jdk.unsupported", true), ("java.sql", false)] {
            let row = report.modules.iter().find(|row| row.name == module).unwrap();
            assert_eq!((row.standing, row.kept), (Standing::Tolerated, kept), "{module}");
        }
    }
}

/// What is asked for by name alone stays in doubt twice; where code asks, whether it runs is the only doubt, and lean keeps
/// a module of two megabytes for it.
#[test]
fn lean_keeps_what_weighs_little_where_instructions_ask_for_it() {
    let yard = Yard::new();
    // java.management weighs 1.8 MB and java.net.http 1.6 in an image that the linker makes, java.sql and java.xml 12.
    let source = "package tide; public class Tide {
        public static void main(String[] a) throws Exception {
            Class.forName(\"java.net.http.HttpClient\");
            var kinds = new java.util.Scanner(Tide.class.getResourceAsStream(\"/kinds.txt\"));
            Class.forName(kinds.nextLine()).getConstructor().newInstance();
        } }
        class Gauge { public Gauge() throws Exception {
            java.lang.management.ManagementFactory.getRuntimeMXBean();
            new java.sql.Timestamp(0); } }";
    let kinds = stored("kinds.txt", b"tide.Gauge\n");
    let mut entries = vec![manifest(&["Main-Class: tide.Tide"]), kinds];
    entries.append(&mut compiled(17, &["--release", "17"], source));
    // A program with nothing of others in its jar would be its own part as a whole.
    let other = [("harbour/Quay", "package harbour; public class Quay {}")];
    entries.append(&mut java::compiled(17, &["--release", "17"], &other));
    let jar = yard.jar("tide.jar", &entries);
    let lean = report(&Plan { policy: Policy::Lean, release: Some(17), ..of(&[&jar]) });
    for (module, kept) in [("java.management", true), ("java.net.http", false), ("java.sql", false)] {
        let row = lean.modules.iter().find(|row| row.name == module).unwrap();
        assert_eq!((row.standing, row.kept), (Standing::Uncertain, kept), "{module}");
    }
}

/// What an application asks for in its own code or configuration, its authors meant; a library may name all that there are.
#[test]
fn lean_keeps_what_the_programs_own_part_asks_for() {
    let yard = Yard::new();
    let dates = "new java.text.SimpleDateFormat(\"MMMM\", java.util.Locale.FRANCE).format(0);";
    for (own, of_library, kept) in [(dates, "", true), ("", dates, false)] {
        let station = format!(
            "package harbour; public class Station {{
                public static void main(String[] a) {{ {own} tide.Almanac.write(); }} }}"
        );
        let almanac = format!("package tide; public class Almanac {{ public static void write() {{ {of_library} }} }}");
        let sources = [("harbour/Station", &*station), ("tide/Almanac", &*almanac)];
        let classes = java::compiled(17, &["--release", "17"], &sources);
        let (application, library): (Vec<Entry>, Vec<Entry>) =
            classes.into_iter().partition(|entry| entry.name.starts_with(b"harbour"));
        let mut entries = vec![manifest(&["Main-Class: harbour.Station"])];
        entries.extend(application);
        let station = yard.jar("station.jar", &entries);
        let almanac = yard.jar("almanac.jar", &library);
        let lean = report(&Plan { policy: Policy::Lean, release: Some(17), ..of(&[&station, &almanac]) });
        let row = lean.modules.iter().find(|row| row.name == "jdk.localedata").unwrap();
        assert_eq!((row.standing, row.kept), (Standing::Uncertain, kept), "{kept}");
    }
}

/// Common practice, no source: a server takes up archives with an ending of their own and calls what is in them by names that
/// come with requests.
#[test]
fn what_is_packed_for_a_server_is_the_programs_own_part() {
    let yard = Yard::new();
    let server = "package quay; public class Server {
        public interface Station { void open(); }
        public static void main(String[] a) throws Exception {
            Object station = Class.forName(System.getenv(\"STATION\")).getConstructor().newInstance();
            ((Station) station).open();
            for (var method : station.getClass().getMethods()) {
                if (method.getName().equals(a[0])) method.invoke(station);
            }
        } }";
    let gauges = "package tide; public class Gauges implements quay.Server.Station {
        public void open() { }
        public Object machine() { return java.lang.management.ManagementFactory.getRuntimeMXBean(); } }";
    let classes = java::compiled(17, &["--release", "17"], &[("quay/Server", server), ("tide/Gauges", gauges)]);
    let (server, gauges): (Vec<Entry>, Vec<Entry>) =
        classes.into_iter().partition(|entry| entry.name.starts_with(b"quay"));
    let server = yard.jar("server.jar", &server);
    let entries = vec!["quay.Server".to_owned()];
    for (name, expected) in [("gauges.aar", Standing::Uncertain), ("gauges.jar", Standing::Dormant)] {
        let gauges = yard.jar(name, &gauges);
        let plan = Plan { release: Some(17), entries: entries.clone(), ..of(&[&server, &gauges]) };
        assert_eq!(standing(&report(&plan), "java.management"), Some(expected), "{name}");
    }
}

/// JVMS §4.1: a release refuses class files newer than its own; minor version 65535 marks preview features.
#[test]
fn class_files_that_the_release_refuses_are_said_with_the_release_that_they_need() {
    let yard = Yard::new();
    let newest = yard.jar("new.jar", &compiled(25, &["--release", "25"], TIDE));
    let refused = report(&Plan { release: Some(17), ..of(&[&newest]) });
    assert_eq!(codes(&refused), ["class-too-new"]);
    assert!(refused.findings[0].message.contains("release 25"), "{}", refused.findings[0].message);
    assert!(!refused.complete);
    // JEP 507, third preview in 25: a pattern with a primitive type.
    let source =
        "package tide; public class Tide { static boolean low(int level) { return level instanceof byte b; } }";
    let preview = compiled(25, &["--release", "25", "--enable-preview"], source);
    let preview = report(&of(&[&yard.jar("preview.jar", &preview)]));
    assert_eq!(codes(&preview), ["preview-class"]);
    assert!(preview.complete);
}

const STORE: &str = "package tide;
    public class Store {
        java.rmi.Remote unused;
        public static void main(String[] a) throws Exception {
            java.util.logging.Logger.getLogger(\"tide\");
            Class.forName(name());
            Class.forName(\"java.sql.Driver\");
        }
        static String name() { return \"javax.script.ScriptEngineManager\"; }
        static Object never() { return new javax.naming.CompositeName(); }
    }";

#[test]
fn stages_give_standings_and_policies_keep_by_them() {
    let yard = Yard::new();
    let jar = yard.jar("store.jar", &compiled(17, &["--release", "17"], STORE));
    let safe = report(&of(&[&jar]));
    // A static call that can run needs the module; a look-up by name may; a field's type that nobody lists and what
    // nobody calls do not.
    assert_eq!(standing(&safe, "java.logging"), Some(Standing::Needed));
    assert_eq!(standing(&safe, "java.sql"), Some(Standing::Uncertain));
    assert_eq!(standing(&safe, "java.scripting"), Some(Standing::Uncertain));
    assert_eq!(standing(&safe, "java.rmi"), Some(Standing::Dormant));
    assert_eq!(standing(&safe, "java.naming"), Some(Standing::Dormant));
    // java.sql requires them (`java.sql`'s own descriptor).
    assert_eq!(standing(&safe, "java.transaction.xa"), Some(Standing::Implied));
    let with = |policy| report(&Plan { policy, ..of(&[&jar]) }).list;
    // java.sql and what it requires beside java.logging weigh 12 MB in an image that the linker makes, java.scripting 0.1.
    assert_eq!(with(Policy::Lean), ["java.base", "java.logging", "java.scripting"]);
    assert!(with(Policy::Safe).iter().any(|module| module == "java.xml"));
    let whole = with(Policy::Whole);
    assert!(with(Policy::Safe).iter().all(|module| whole.contains(module)));
}

#[test]
fn wishes_are_followed_or_refused_by_name() {
    let yard = Yard::new();
    let jar = yard.jar("store.jar", &compiled(17, &["--release", "17"], STORE));
    let names = |list: &[&str]| list.iter().map(|&name| name.to_owned()).collect::<Vec<String>>();
    let plan = |with: &[&str], without: &[&str]| Plan { with: names(with), without: names(without), ..of(&[&jar]) };
    let kept = report(&plan(&["jdk.jfr"], &["java.sql"])).list;
    assert!(kept.contains(&"jdk.jfr".to_owned()) && !kept.contains(&"java.sql".to_owned()));
    let refused = |with: &[&str], without: &[&str]| match scan(&plan(with, without), &Silent) {
        Err(Error::Usage(message)) => message,
        other => panic!("{:?} {with:?} {without:?}", other.map(|report| report.list)),
    };
    // java.sql requires java.logging, so it cannot go while java.sql stays.
    let message = refused(&[], &["java.logging"]);
    assert!(message.contains("java.logging") && message.contains("java.sql"), "{message}");
    assert!(refused(&[], &["java.base"]).contains("java.base"));
    assert!(refused(&["java.sql"], &["java.sql"]).contains("--without"));
    assert!(refused(&["harbour.tides"], &[]).contains("harbour.tides"));
    let both = Plan { jdk: Some("jdk".into()), release: Some(17), ..of(&[&jar]) };
    assert!(
        matches!(scan(&both, &Silent), Err(Error::Usage(message)) if message.contains("--jdk") && message.contains("--release"))
    );
    assert!(matches!(explain(&of(&[&jar]), "harbour.tides", &Silent), Err(Error::Usage(_))));
}

/// JAR File Specification, class path order: the first wins.
#[test]
fn shadowed_classes_do_not_count() {
    let yard = Yard::new();
    let quiet = yard.jar("a.jar", &compiled(17, &["--release", "17"], "package tide; public class Store { }"));
    let loud = yard.jar("b.jar", &compiled(17, &["--release", "17"], STORE));
    let shadowed = report(&of(&[&quiet, &loud]));
    assert_eq!(shadowed.list, ["java.base"]);
    assert_eq!(codes(&shadowed), ["shadowed-class"]);
    let seen = report(&of(&[&loud, &quiet]));
    assert_eq!(standing(&seen, "java.logging"), Some(Standing::Needed));
}

/// Smaragdakis et al. (APLAS 2015) on parts of names. Of a name whose end alone is known, what is meant lies in the library
/// that puts it together, or is named after a class that is there.
#[test]
fn the_end_of_a_name_means_companions_and_not_whatever_ends_so() {
    let yard = Yard::new();
    let asker = "package quay; public class Quay { public static void main(String[] args) throws Exception {
        Class.forName(args[0] + \"Recorder\").getDeclaredConstructor().newInstance(); } }";
    let recorder = "package tide; public class LowRecorder { Object o = new java.sql.Timestamp(0L); }";
    let named = "package tide; public class Low { public static void main(String[] args) throws Exception {
        quay.Quay.main(args); } }";
    let quay = yard.jar("quay.jar", &compiled(17, &["--release", "17"], asker));
    let far = yard.jar("far.jar", &compiled(17, &["--release", "17"], recorder));
    let program = |entry: &str, inputs: &[&Path]| {
        report(&Plan { entries: vec![entry.to_owned()], release: Some(17), ..of(inputs) })
    };
    assert_eq!(standing(&program("quay.Quay", &[&quay, &far]), "java.sql"), Some(Standing::Dormant));
    let mut both = compiled(17, &["--release", "17"], asker);
    both.extend(compiled(17, &["--release", "17"], recorder));
    let near = yard.jar("near.jar", &both);
    assert_eq!(standing(&program("quay.Quay", &[&near]), "java.sql"), Some(Standing::Needed));
    let low = yard.jar("low.jar", &compiled(17, &["--release", "17", "-cp", quay.to_str().unwrap()], named));
    assert_eq!(standing(&program("tide.Low", &[&low, &quay, &far]), "java.sql"), Some(Standing::Needed));
}

/// JEP 320: release 11 removed the modules that were shared with Java EE.
#[test]
fn types_that_the_release_no_longer_has_are_called_out_with_the_release_that_removed_them() {
    let yard = Yard::new();
    let source = "package tide; public class Old { Object o = new javax.xml.bind.JAXBException(\"\"); }";
    // The type itself is supplied at compile time only.
    let stub =
        "package javax.xml.bind; public class JAXBException extends Exception { public JAXBException(String s) { } }";
    let mut entries = compiled(17, &["--release", "17"], stub);
    let library = yard.jar("api.jar", &entries);
    entries = compiled(17, &["--release", "17", "-cp", library.to_str().unwrap()], source);
    let jar = yard.jar("old.jar", &entries);
    let row = report(&Plan { release: Some(17), ..of(&[&jar]) }).removed;
    assert_eq!(row.len(), 1);
    assert_eq!(
        (&*row[0].class, &*row[0].module, row[0].removed_in),
        ("javax.xml.bind.JAXBException", "java.xml.bind", 11)
    );
    let supplied = report(&Plan { release: Some(17), ..of(&[&jar, &library]) });
    assert!(supplied.removed.is_empty());
    let before = report(&Plan {
        release: Some(9),
        ..of(&[&yard.jar("nine.jar", &compiled(17, &["--release", "9", "-cp", library.to_str().unwrap()], source))])
    });
    assert_eq!(standing(&before, "java.xml.bind"), Some(Standing::Needed));
}

#[test]
fn types_that_are_nowhere_are_counted_by_package() {
    let yard = Yard::new();
    let library =
        yard.jar("api.jar", &compiled(17, &[], "package gauge; public class Sensor { public static void read() { } }"));
    let user = compiled(
        17,
        &["-cp", library.to_str().unwrap()],
        "package tide; class User { void run() { gauge.Sensor.read(); } }",
    );
    let jar = yard.jar("user.jar", &user);
    let missing = report(&of(&[&jar])).missing;
    assert_eq!(missing.len(), 1);
    assert_eq!((&*missing[0].package, missing[0].types, &*missing[0].example), ("gauge", 1, "gauge.Sensor"));
    assert!(report(&of(&[&jar, &library])).missing.is_empty());
}

#[test]
fn resources_ask_by_name() {
    let yard = Yard::new();
    let mut entries = compiled(17, &["--release", "17"], TIDE);
    entries.push(stored("META-INF/services/java.sql.Driver", b"tide.Tide\n"));
    entries.push(manifest(&["Main-Class: tide.Tide", "Add-Opens: java.desktop/java.awt java.base/java.lang"]));
    let answer = report(&of(&[&yard.jar("named.jar", &entries)]));
    // Nothing that can run looks for drivers; the provider's own class would bring what it needs.
    assert_eq!(standing(&answer, "java.sql"), Some(Standing::Dormant));
    // The launcher passes over a module that is not there (sun.launcher.LauncherHelper), so this is a hint and no need.
    assert_eq!(standing(&answer, "java.desktop"), Some(Standing::Dormant));
    assert_eq!(answer.entry_points[0].class, "tide.Tide");
}

const LOOKED_AT: &str = "package tide; public class Look {
    static class Gauge {
        public javax.script.Bindings field;
        public Gauge() { }
        Gauge(java.lang.instrument.Instrumentation with) { }
        public javax.tools.Tool shown() { return null; }
        java.awt.datatransfer.Transferable hidden() { return null; }
    }
    public static void main(String[] a) throws Exception { System.out.println(LOOK); }
}";

/// A look at some members of a class loads the types of those members and of no others; the judge is the JVM of either
/// release, with each of the modules left out.
#[test]
fn a_look_at_members_asks_for_the_types_of_those_alone() {
    const TYPES: [&str; 4] = ["java.compiler", "java.datatransfer", "java.instrument", "java.scripting"];
    let looks = [
        "Gauge.class.getDeclaredFields().length",
        "Gauge.class.getField(\"field\") != null",
        "Gauge.class.getMethods().length",
        "Gauge.class.getMethod(\"toString\")",
        "Gauge.class.getDeclaredMethods().length",
        "Gauge.class.getConstructors().length",
        "Gauge.class.getConstructor() != null",
        "Gauge.class.getDeclaredConstructor() != null",
        "Gauge.class.getAnnotations().length",
    ];
    let yard = Yard::new();
    for look in looks {
        let classes = compiled(17, &["--release", "17"], &LOOKED_AT.replace("LOOK", look));
        let jar = yard.jar("look.jar", &classes);
        let report = report(&Plan { entries: vec!["tide.Look".into()], release: Some(17), ..of(&[&jar]) });
        for left_out in TYPES {
            let kept: Vec<&str> = TYPES.into_iter().filter(|module| *module != left_out).collect();
            let breaks = [17, 25].map(|release| {
                let java = Command::new(jdk::tool(release, "java"))
                    .args(["--limit-modules", &kept.join(","), "-cp"])
                    .arg(&jar)
                    .arg("tide.Look")
                    .output()
                    .unwrap();
                !java.status.success()
            });
            let asked = matches!(standing(&report, left_out), Some(Standing::Needed | Standing::Uncertain));
            assert_eq!(breaks, [asked; 2], "{look} without {left_out}");
        }
    }
}

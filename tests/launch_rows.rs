//! Options of the launch, row by row: what the JVM does without a module, and what is said of the option.
//!
//! Judge: the JVM of both releases, on two linked images: one of java.base alone, one with every module that a row asks
//! for. An option asks for its modules where the probe ends otherwise, or prints something else, without them.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

use secateur::needs::{Implies, Launch, implied};
use secateur::pipeline;
use secateur::plan::Plan;
use secateur::platform::Catalogue;
use secateur::progress::Silent;
use secateur::report::Standing;

#[path = "support/java.rs"]
mod java;
#[path = "support/jdk.rs"]
mod jdk;
#[path = "support/service.rs"]
#[allow(dead_code, reason = "this test links images and starts no service")]
mod service;
#[path = "support/zip.rs"]
mod zip;

use service::{Finished, Image, finish};

const LIMIT: Duration = Duration::from_mins(1);

/// Prints what options change in silence: default charset, language data, whether the logging configuration is read, and
/// how many cipher suites TLS has.
const PROBE: &str = r#"
public class Probe {
    public static void main(String[] args) throws Exception {
        System.out.println(java.nio.charset.Charset.defaultCharset());
        System.out.println(new java.text.DateFormatSymbols().getMonths()[7].length());
        System.out.println(System.getLogger("tide").isLoggable(System.Logger.Level.DEBUG));
        if (args.length > 0) System.out.println(javax.net.ssl.SSLContext.getDefault().getSupportedSSLParameters().getCipherSuites().length);
    }
}"#;

/// An agent that asks for a module of its own.
const AGENT: &str = r"
public class Agent {
    public static void premain(String arguments) throws Exception {
        java.sql.DriverManager.getDrivers();
    }
}";

/// The option as it stands in a command line (`DIR` is a folder with the files that it names), the releases for which the
/// row is, and the modules that the second image has for it. Columns of releases: those that know the option.
const ROWS: [(&str, &[u16], &str); 37] = [
    ("-XX:StartFlightRecording=filename=DIR/tide.jfr", &[17, 25], "jdk.jfr"),
    ("-XX:FlightRecorderOptions=stackdepth=32", &[17, 25], "jdk.jfr"),
    ("-Dcom.sun.management.jmxremote", &[17, 25], "jdk.management.agent"),
    ("-Dcom.sun.management.config.file=DIR/management.properties", &[17, 25], "jdk.management.agent"),
    ("-XX:+ManagementServer", &[17, 25], "jdk.management.agent"),
    ("-javaagent:DIR/agent.jar=level=2", &[17, 25], "java.instrument,java.sql"),
    ("-agentlib:instrument=DIR/agent.jar", &[17, 25], "java.instrument,java.sql"),
    ("-agentlib:jdwp=transport=dt_socket,server=y,suspend=n,quiet=y", &[17, 25], "jdk.jdwp.agent"),
    ("-Xrunjdwp:transport=dt_socket,server=y,suspend=n,quiet=y", &[17, 25], "jdk.jdwp.agent"),
    ("-Xdebug", &[17], ""),
    ("--add-modules java.sql", &[17, 25], "java.sql"),
    ("--add-modules=ALL-SYSTEM", &[17, 25], ""),
    ("--add-modules=ALL-DEFAULT", &[17, 25], ""),
    ("--limit-modules java.sql", &[17, 25], "java.sql"),
    ("--add-opens java.sql/java.sql=ALL-UNNAMED", &[17, 25], "java.sql"),
    ("--add-exports java.xml/com.sun.org.apache.xerces.internal.util=ALL-UNNAMED", &[17, 25], "java.xml"),
    ("--add-reads java.sql=java.xml", &[17, 25], "java.sql"),
    ("--patch-module java.sql=DIR", &[17, 25], "java.sql"),
    ("--enable-native-access=java.sql", &[25], "java.sql"),
    ("-XX:+UnlockExperimentalVMOptions -XX:+EnableJVMCI", &[17, 25], "jdk.internal.vm.ci"),
    ("-Dfile.encoding=IBM037", &[17, 25], "jdk.charsets"),
    ("-Dstdout.encoding=IBM037", &[17, 25], "jdk.charsets"),
    ("-Dfile.encoding=ISO-8859-1", &[17, 25], ""),
    ("-Duser.language=fr -Duser.country=FR", &[17, 25], "jdk.localedata"),
    ("-Duser.language=en", &[17, 25], ""),
    ("-Djdk.tls.namedGroups=secp256r1", &[17, 25], "jdk.crypto.ec"),
    ("-Djava.util.logging.config.file=DIR/logging.properties", &[17, 25], "java.logging"),
    ("-Djava.awt.headless=true", &[17, 25], "java.desktop"),
    ("-splash:DIR/splash.png", &[17, 25], "java.desktop"),
    ("-Djava.rmi.server.hostname=quay", &[17, 25], "java.rmi"),
    ("-Djdk.xml.entityExpansionLimit=9", &[17, 25], "java.xml"),
    ("-Djdk.httpclient.keepalive.timeout=5", &[17, 25], "java.net.http"),
    ("-Dsun.net.httpserver.idleInterval=9", &[17, 25], "jdk.httpserver"),
    ("-Dcom.sun.net.httpserver.HttpServerProvider=tide.Provider", &[17, 25], "jdk.httpserver"),
    ("-Djavax.sql.rowset.RowSetFactory=tide.Rows", &[17, 25], "java.sql.rowset"),
    ("-Djava.util.prefs.userRoot=DIR", &[17, 25], "java.prefs"),
    ("-Djava.naming.provider.url=ldap://quay", &[17, 25], "java.naming"),
];

struct Yard {
    folder: tempfile::TempDir,
}

impl Yard {
    fn new() -> Yard {
        let folder = tempfile::tempdir().unwrap();
        let write = |name: &str, bytes: &[u8]| fs::write(folder.path().join(name), bytes).unwrap();
        let compiled = |name, text| java::compiled(17, &["--release", "17"], &[(name, text)]);
        write("probe.jar", &zip::archive(&compiled("Probe", PROBE)));
        let mut agent = vec![zip::manifest(&["Premain-Class: Agent"])];
        agent.extend(compiled("Agent", AGENT));
        write("agent.jar", &zip::archive(&agent));
        write("management.properties", b"");
        write("logging.properties", b".level=FINE\n");
        write("splash.png", b"");
        Yard { folder }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn option(&self, row: &str) -> String {
        row.replace("DIR", self.folder.path().to_str().unwrap())
    }

    fn run(&self, java: &mut Command, option: &str) -> Finished {
        // Language and encoding of the machine that tests run on are none of the rows'.
        java.env("LC_ALL", "C.UTF-8").args(option.split(' ')).arg("-cp").arg(self.path("probe.jar")).arg("Probe");
        // An option about TLS tells that the program uses it.
        java.args(option.contains("tls").then_some("tls"));
        finish(java, LIMIT)
    }
}

/// What is said of an option: the modules that it needs, and whether it hints at some.
fn said(option: &str, release: u16) -> (BTreeSet<String>, bool) {
    let catalogue = Catalogue::built_in(release).unwrap();
    let rows = implied(&Launch::parse(option).unwrap(), &catalogue);
    let of = |implies| rows.iter().filter(move |row| row.implies == implies).flat_map(|row| &row.modules);
    (of(Implies::Needed).map(ToString::to_string).collect(), of(Implies::Hint).next().is_some())
}

fn rows_hold(release: u16) {
    let yard = Yard::new();
    let jdk = jdk::jdk(release);
    let all: BTreeSet<&str> =
        ROWS.iter().flat_map(|(_, _, modules)| modules.split(',')).filter(|module| !module.is_empty()).collect();
    let all: Vec<&str> = all.into_iter().collect();
    let bare = Image::link(&jdk, "java.base");
    let whole = Image::link(&jdk, &all.join(","));
    let mut wrong = Vec::new();
    for (row, _, modules) in ROWS.iter().filter(|(_, releases, _)| releases.contains(&release)) {
        let option = yard.option(row);
        let mut java = whole.java();
        // Nothing exports it to all, so that being in the image is not enough (JEP 261, "Root modules").
        if option.contains("ManagementServer") {
            java.args(["--add-modules", modules]);
        }
        let with = yard.run(&mut java, &option);
        let without = yard.run(&mut bare.java(), &option);
        // What the option itself prints, such as where a recording goes, is not what is asked.
        let lines = |done: &Finished| -> Vec<String> {
            let lines: Vec<String> = done.stdout.lines().map(str::to_owned).collect();
            lines[lines.len().saturating_sub(3 + usize::from(option.contains("tls")))..].to_vec()
        };
        if with.status != Some(0) {
            wrong.push(format!("{row}: ends with {:?} although the modules are there: {}", with.status, with.stderr));
            continue;
        }
        let asks = without.status != Some(0) || lines(&with) != lines(&without);
        let (needed, hint) = said(&option, release);
        let first = modules.split(',').next().unwrap();
        if asks != needed.contains(first) || hint && asks {
            wrong.push(format!(
                "{row}: asks for {first}: {asks}; said: {needed:?}, hint {hint}\n  with {:?}\n  without {:?} {:?} {}",
                lines(&with),
                without.status,
                lines(&without),
                without.stderr.lines().next().unwrap_or_default()
            ));
        }
    }
    assert!(wrong.is_empty(), "{release}:\n{}", wrong.join("\n"));
}

#[test]
fn each_row_is_as_the_jvm_of_17_has_it() {
    rows_hold(17);
}

#[test]
fn each_row_is_as_the_jvm_of_25_has_it() {
    rows_hold(25);
}

/// `java.lang.instrument`: an agent runs in the JVM of the program, and what it asks for is asked for.
#[test]
fn an_agent_is_part_of_the_program() {
    let yard = Yard::new();
    let scan = |launch: &str, inputs: &[PathBuf]| {
        let plan = Plan {
            inputs: inputs.to_vec(),
            entries: vec!["Probe".into()],
            release: Some(17),
            launch: Launch::parse(launch).unwrap(),
            ..Plan::default()
        };
        pipeline::scan(&plan, &Silent).unwrap()
    };
    let probe = yard.path("probe.jar");
    let option = yard.option("-javaagent:DIR/agent.jar=level=2");
    let report = scan(&option, std::slice::from_ref(&probe));
    assert!(report.complete, "{:?}", report.findings);
    for module in ["java.sql", "java.instrument"] {
        assert!(report.list.iter().any(|kept| kept == module), "{:?}", report.list);
    }
    assert!(report.entry_points.iter().any(|entry| entry.class == "Agent"), "{:?}", report.entry_points);
    let image = Image::link(&jdk::jdk(17), &report.list.join(","));
    let done = yard.run(&mut image.java(), &option);
    assert_eq!(done.status, Some(0), "{}", done.stderr);
    let plain = scan("", std::slice::from_ref(&probe));
    assert!(!plain.list.iter().any(|kept| kept == "java.sql"), "{:?}", plain.list);

    // Among the archives, without the option, nothing but its manifest says what it is for.
    let among = scan("", &[probe.clone(), yard.path("agent.jar")]);
    let row = among.modules.iter().find(|row| row.name == "java.sql").unwrap();
    assert_eq!((row.standing, row.kept), (Standing::Uncertain, true));

    // A place within a container: nothing is there, or an input of that name is.
    let elsewhere = "-javaagent:/opt/nowhere/agent.jar";
    let missing = scan(elsewhere, std::slice::from_ref(&probe));
    assert!(!missing.complete);
    let finding = missing.findings.iter().find(|finding| finding.code == "missing-agent").unwrap();
    assert_eq!(Path::new(&finding.place), Path::new("/opt/nowhere/agent.jar"));
    let given = scan(elsewhere, &[probe, yard.path("agent.jar")]);
    assert!(given.complete && given.list.iter().any(|kept| kept == "java.sql"), "{:?}", given.list);
}

/// Agents keep classes apart, where the program's loader does not find them, and define them themselves.
#[test]
fn what_an_agent_keeps_apart_is_part_of_it() {
    let folder = tempfile::tempdir().unwrap();
    let sources = [
        (
            "gauge/Guard",
            "package gauge; public class Guard extends ClassLoader {
                public static void premain(String given) throws Exception {
                    new Guard().loadClass(\"gauge.Level\").getDeclaredConstructor().newInstance(); }
                protected Class<?> findClass(String name) throws ClassNotFoundException {
                    String path = \"/inst/\" + name.replace('.', '/') + \".inner.part\";
                    try (var in = Guard.class.getResourceAsStream(path)) {
                        byte[] bytes = in.readAllBytes();
                        return defineClass(name, bytes, 0, bytes.length);
                    } catch (java.io.IOException e) { throw new ClassNotFoundException(name, e); } } }",
        ),
        ("gauge/Level", "package gauge; public class Level { public Level() { new java.sql.Timestamp(0); } }"),
    ];
    let mut entries = vec![zip::manifest(&["Premain-Class: gauge.Guard"])];
    for mut entry in java::compiled(17, &["--release", "17"], &sources) {
        if entry.name.ends_with(b"Level.class") {
            entry.name = b"inst/gauge/Level.inner.part".to_vec();
        }
        entries.push(entry);
    }
    let agent = folder.path().join("guard.jar");
    fs::write(&agent, zip::archive(&entries)).unwrap();
    let yard = Yard::new();
    let option = format!("-javaagent:{}", agent.display());
    let plan = Plan {
        inputs: vec![yard.path("probe.jar")],
        entries: vec!["Probe".into()],
        release: Some(17),
        launch: Launch::parse(&option).unwrap(),
        ..Plan::default()
    };
    let report = pipeline::scan(&plan, &Silent).unwrap();
    assert!(report.list.iter().any(|kept| kept == "java.sql"), "{:?}", report.list);
    let bare = Image::link(&jdk::jdk(17), "java.base,java.instrument");
    let image = Image::link(&jdk::jdk(17), &report.list.join(","));
    assert_ne!(yard.run(&mut bare.java(), &option).status, Some(0));
    let done = yard.run(&mut image.java(), &option);
    assert_eq!(done.status, Some(0), "{}", done.stderr);
}

/// What only the code of a module reads is for whoever runs that code, and then the code names the module.
#[test]
fn a_setting_of_a_module_is_a_hint_unless_the_program_reaches_it() {
    let folder = tempfile::tempdir().unwrap();
    let source =
        "public class Client { public static void main(String[] words) { java.net.http.HttpClient.newHttpClient(); } }";
    let client = folder.path().join("client.jar");
    fs::write(&client, zip::archive(&java::compiled(17, &["--release", "17"], &[("Client", source)]))).unwrap();
    let yard = Yard::new();
    for (jar, entry, reached) in [(&client, "Client", true), (&yard.path("probe.jar"), "Probe", false)] {
        let plan = Plan {
            inputs: vec![jar.clone()],
            entries: vec![entry.into()],
            release: Some(17),
            launch: Launch::parse("-Djdk.httpclient.keepalive.timeout=5").unwrap(),
            ..Plan::default()
        };
        let report = pipeline::scan(&plan, &Silent).unwrap();
        assert_eq!(report.launch[0].implies, "hint");
        assert_eq!(report.list.iter().any(|kept| kept == "java.net.http"), reached, "{:?}", report.list);
        let image = Image::link(&jdk::jdk(17), &report.list.join(","));
        let mut java = image.java();
        java.arg("-Djdk.httpclient.keepalive.timeout=5").arg("-cp").arg(jar).arg(entry);
        let done = finish(&mut java, LIMIT);
        assert_eq!(done.status, Some(0), "{}", done.stderr);
    }
}

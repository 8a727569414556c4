//! What files make run: property files, lists, registrations with and without what they are for, services of the platform,
//! web archives, `--entry`.
//!
//! The program is one of tide gauges; each of its classes asks for one module, which tells whether it was found to run.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use secateur::error::Error;
use secateur::pipeline::scan;
use secateur::plan::Plan;
use secateur::progress::Silent;
use secateur::report::{Report, Standing};
use tempfile::TempDir;

#[path = "support/jdk.rs"]
mod jdk;
#[path = "support/zip.rs"]
mod zip;

use zip::{Entry, archive, deflated, manifest};

const SOURCES: [(&str, &str); 11] = [
    (
        "Main",
        "public class Main { public static void main(String[] arguments) throws Exception {
            var set = new java.util.Properties();
            set.load(Main.class.getResourceAsStream(\"/tide.properties\"));
            Class.forName(set.getProperty(\"tide.source\")).getDeclaredConstructor().newInstance();
            if (arguments.length > 0) Class.forName(arguments[0]).getDeclaredConstructor().newInstance();
        } }",
    ),
    ("Buoy", "public class Buoy { public Buoy() { new javax.sql.rowset.serial.SerialException(); } }"),
    (
        "Auto",
        "public class Auto { void start() { java.util.prefs.Preferences.userRoot(); }
            static class Inner { void start() { new java.rmi.RemoteException(); } } }",
    ),
    (
        "Off",
        "@ConditionalOnClass(Gone.class) public class Off {
            void start() { java.lang.management.ManagementFactory.getRuntimeMXBean(); } }",
    ),
    (
        "Below",
        "public class Below extends Gone { void start() { new javax.management.modelmbean.XMLParseException(); } }",
    ),
    (
        "ConditionalOnClass",
        "@java.lang.annotation.Retention(java.lang.annotation.RetentionPolicy.RUNTIME)
         public @interface ConditionalOnClass { Class<?>[] value(); }",
    ),
    ("Gone", "public class Gone {}"),
    ("Gate", "public class Gate { public void open() { new javax.security.sasl.SaslException(); } }"),
    (
        "Lister",
        "public class Lister { static final String LIST = \"META-INF/services/tide/sources\";
            static java.net.URL list() { return Lister.class.getClassLoader().getResource(LIST); }
            public static void main(String[] arguments) throws Exception {
                try (var in = new java.util.Scanner(list().openStream())) {
                    while (in.hasNext()) Class.forName(in.next()).getDeclaredConstructor().newInstance();
                } } }",
    ),
    (
        "Keeper",
        "public class Keeper { public static void main(String[] arguments) {
            if (!java.sql.DriverManager.getDrivers().hasMoreElements()) throw new Error(); } }",
    ),
    (
        "Store",
        "import java.sql.*; import java.util.Properties; public class Store implements Driver {
            public Store() { new java.rmi.RemoteException(); }
            static { try { DriverManager.registerDriver(new Store()); } catch (SQLException e) { throw new Error(e); } }
            public Connection connect(String url, Properties set) { return null; }
            public boolean acceptsURL(String url) { return false; }
            public DriverPropertyInfo[] getPropertyInfo(String url, Properties set) { return null; }
            public int getMajorVersion() { return 1; }
            public int getMinorVersion() { return 0; }
            public boolean jdbcCompliant() { return false; }
            public java.util.logging.Logger getParentLogger() { return null; } }",
    ),
];

struct Yard(TempDir);

impl Yard {
    fn new() -> Self {
        Yard(tempfile::tempdir().unwrap())
    }

    /// The classes without `Gone`, below a folder.
    fn classes(&self, below: &str) -> Vec<Entry> {
        let mut javac = Command::new(jdk::tool(17, "javac"));
        javac.args(["-Xlint:none", "-nowarn", "-d"]).arg(self.0.path().join("out"));
        for (name, source) in SOURCES {
            let file = self.0.path().join(format!("{name}.java"));
            fs::write(&file, format!("package tide; {source}")).unwrap();
            javac.arg(file);
        }
        let done = javac.output().unwrap();
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
        let mut files: Vec<PathBuf> =
            fs::read_dir(self.0.path().join("out/tide")).unwrap().map(|file| file.unwrap().path()).collect();
        files.sort();
        let name = |file: &Path| file.file_name().unwrap().to_str().unwrap().to_owned();
        let kept = files.iter().filter(|file| name(file) != "Gone.class");
        kept.map(|file| deflated(&format!("{below}tide/{}", name(file)), &fs::read(file).unwrap())).collect()
    }

    fn put(&self, name: &str, entries: &[Entry]) -> PathBuf {
        let path = self.0.path().join(name);
        fs::write(&path, archive(entries)).unwrap();
        path
    }

    /// A jar that starts in `Main`, with further files.
    fn jar(&self, files: &[(&str, &str)]) -> PathBuf {
        let mut entries = vec![manifest(&["Main-Class: tide.Main"])];
        entries.extend(self.classes(""));
        entries.push(deflated("tide.properties", b"# source of levels\ntide.source = tide.Buoy\n"));
        entries.extend(files.iter().map(|(path, text)| deflated(path, text.as_bytes())));
        self.put("tide.jar", &entries)
    }
}

fn scanned(input: PathBuf, entries: &[&str]) -> Result<Report, Error> {
    let entries = entries.iter().map(|&entry| entry.to_owned()).collect();
    scan(&Plan { inputs: vec![input], entries, release: Some(17), ..Plan::default() }, &Silent)
}

fn standing(report: &Report, module: &str) -> Option<Standing> {
    report.modules.iter().find(|row| row.name == module).map(|row| row.standing)
}

/// Holds whether the JVM runs a class with no more than some modules.
fn runs(jar: &Path, class: &str, modules: &str, works: bool) {
    let mut java = Command::new(jdk::tool(17, "java"));
    let run = java.args(["--limit-modules", modules, "-cp"]).arg(jar).arg(class).output().unwrap();
    assert_eq!(run.status.success(), works, "{class} {modules}: {}", String::from_utf8_lossy(&run.stderr));
}

/// The JVM without the module fails where the property leads; `java.util.Properties.load`.
#[test]
fn a_name_read_from_a_property_file_counts_as_a_call_does() {
    let yard = Yard::new();
    let jar = yard.jar(&[]);
    runs(&jar, "tide.Main", "java.base", false);
    runs(&jar, "tide.Main", "java.base,java.sql.rowset", true);
    let report = scanned(jar, &[]).unwrap();
    assert_eq!(standing(&report, "java.sql.rowset"), Some(Standing::Needed));
    assert_eq!(standing(&report, "java.prefs"), Some(Standing::Dormant));
}

/// A list below the service files (JAR File Specification, "The META-INF directory"), read by the program itself; the JVM
/// fails where it leads. Of one that nobody is seen to read nothing is certain.
#[test]
fn a_list_whose_path_the_code_holds_is_read() {
    let yard = Yard::new();
    let list = "META-INF/services/tide/sources";
    let jar = yard.jar(&[(list, "tide.Buoy\n")]);
    runs(&jar, "tide.Lister", "java.base", false);
    runs(&jar, "tide.Lister", "java.base,java.sql.rowset", true);
    let found = |path: &str, entry: &str| {
        let report = scanned(yard.jar(&[(path, "# sources of levels\ntide.Buoy\n")]), &[entry]).unwrap();
        standing(&report, "java.sql.rowset")
    };
    assert_eq!(found(list, "tide.Lister"), Some(Standing::Needed));
    assert_eq!(found("META-INF/services/tide/spare", "tide.Lister"), Some(Standing::Uncertain));
    assert_eq!(found(list, "tide.Keeper"), Some(Standing::Uncertain));
}

/// `java.sql.DriverManager` finds drivers as service providers when it is first used (Java SE API); the JVM passes over
/// one that it cannot create.
#[test]
fn a_service_of_the_platform_is_looked_for_when_code_uses_what_looks_for_it() {
    let yard = Yard::new();
    let jar = yard.jar(&[("META-INF/services/java.sql.Driver", "tide.Store\n")]);
    runs(&jar, "tide.Keeper", "java.base,java.sql", false);
    runs(&jar, "tide.Keeper", "java.base,java.sql,java.rmi", true);
    let report = scanned(jar.clone(), &["tide.Keeper"]).unwrap();
    assert_eq!(standing(&report, "java.rmi"), Some(Standing::Needed));
    let report = scanned(jar, &["tide.Lister"]).unwrap();
    assert_ne!(standing(&report, "java.rmi"), Some(Standing::Needed));
}

/// Spring Framework reference (`SpringFactoriesLoader`), Spring Boot reference ("Class Conditions").
#[test]
fn what_a_registration_names_may_run_unless_it_is_for_something_absent() {
    let yard = Yard::new();
    let list = "tide.Main=tide.Auto,tide.Off,\\\n tide.Below\nharbour.Absent=tide.Gate\n";
    let report = scanned(yard.jar(&[("META-INF/spring.factories", list)]), &[]).unwrap();
    assert_eq!(standing(&report, "java.prefs"), Some(Standing::Uncertain));
    assert_eq!(standing(&report, "java.rmi"), Some(Standing::Uncertain), "a nested class");
    assert_eq!(standing(&report, "java.management"), Some(Standing::Dormant), "no class to have a condition met");
    assert_eq!(standing(&report, "java.security.sasl"), Some(Standing::Dormant), "nobody has the key's type");
}

/// JAAS and logging configuration name classes of the program; `Main` loads what its arguments say.
#[test]
fn what_configuration_names_may_run_where_names_are_unknown() {
    let yard = Yard::new();
    let report = scanned(yard.jar(&[("logback.xml", "<a><appender class='tide.Gate'/></a>")]), &[]).unwrap();
    // Objects of the class, not its methods.
    assert_eq!(standing(&report, "java.security.sasl"), Some(Standing::Dormant));
    let login = "Gauges { tide.Buoy required; };";
    let mut entries = yard.classes("");
    entries.push(deflated("jaas.conf", login.as_bytes()));
    entries.push(manifest(&["Main-Class: tide.Main"]));
    let report = scanned(yard.put("login.jar", &entries), &[]).unwrap();
    assert_eq!(standing(&report, "java.sql.rowset"), Some(Standing::Uncertain));
}

/// Servlet specification §10.5 and §14.4: classes of the archive itself, and those that the descriptor names.
#[test]
fn a_container_runs_what_a_web_archive_has() {
    let yard = Yard::new();
    let report = scanned(yard.put("gauges.war", &yard.classes("WEB-INF/classes/")), &[]).unwrap();
    for module in ["java.prefs", "java.sql.rowset", "java.security.sasl"] {
        assert_eq!(standing(&report, module), Some(Standing::Needed), "{module}");
    }
    let library = yard.put("gate.jar", &yard.classes(""));
    let web = "<web-app><listener><listener-class>tide.Gate</listener-class></listener></web-app>";
    let library = zip::stored("WEB-INF/lib/gate.jar", &fs::read(library).unwrap());
    let war = yard.put("sluices.war", &[deflated("WEB-INF/web.xml", web.as_bytes()), library]);
    let report = scanned(war, &[]).unwrap();
    assert_eq!(standing(&report, "java.security.sasl"), Some(Standing::Needed));
    assert_eq!(standing(&report, "java.prefs"), Some(Standing::Dormant));
}

/// `java -cp` reads no `Main-Class` (JDK tool documentation, `java`).
/// Jakarta Server Pages specification: a container compiles a page when it is first asked for.
#[test]
fn code_in_pages_of_a_web_archive_counts() {
    let yard = Yard::new();
    let page = b"<%@ page import=\"java.sql.*\" %><% new tide.Gate().open(); %> java.rmi.RemoteException";
    let web = b"<web-app><listener><listener-class>tide.Buoy</listener-class></listener></web-app>";
    let library = zip::stored("WEB-INF/lib/tide.jar", &archive(&yard.classes("")));
    let entries = [deflated("WEB-INF/web.xml", web), deflated("station/level.jsp", page), library];
    let report = scanned(yard.put("pages.war", &entries), &[]).unwrap();
    for (module, expected) in [
        ("java.sql", Some(Standing::Uncertain)),
        ("java.security.sasl", Some(Standing::Uncertain)),
        ("java.prefs", Some(Standing::Dormant)),
        ("java.rmi", Some(Standing::Dormant)),
    ] {
        assert_eq!(standing(&report, module), expected, "{module}");
    }
}

#[test]
fn an_entry_takes_the_place_of_the_manifest() {
    let yard = Yard::new();
    let jar = yard.jar(&[]);
    let report = scanned(jar.clone(), &["tide.Gate"]).unwrap();
    assert_eq!(report.entry_points.len(), 1);
    assert_eq!(standing(&report, "java.security.sasl"), Some(Standing::Needed));
    assert_eq!(standing(&report, "java.sql.rowset"), Some(Standing::Dormant));
    let Err(Error::Usage(said)) = scanned(jar, &["harbour.Gate"]) else { panic!("no error") };
    assert!(said.contains("harbour.Gate") && said.contains("tide.Gate"), "{said}");
}

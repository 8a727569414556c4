//! Class-load logs as evidence: what a run loaded is needed, and what any run loads is not.
//!
//! Judge: the JVM, on both releases. Programs of java.base alone end as well where the JVM has nothing else
//! (`--limit-modules java.base`), so their logs may make nothing needed; programs that use more print the modules of what
//! they used (`Class.getModule`).

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::collections::BTreeSet;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

use secateur::pipeline;
use secateur::plan::Plan;
use secateur::progress::Silent;
use secateur::report::{Report, Standing};

#[path = "support/java.rs"]
mod java;
#[path = "support/jdk.rs"]
mod jdk;
#[path = "support/zip.rs"]
mod zip;

use jdk::tool;

/// Bodies of programs that java.base is enough for, or the modules behind; each does something that meets providers of
/// others.
const QUIET: [(&str, &str, &str); 12] = [
    ("Hello", r#"System.out.println("high water");"#, ""),
    ("Lambda", r#"java.util.stream.Stream.of("a", "b").map(s -> s + s.length()).forEach(System.out::println);"#, ""),
    (
        "Date",
        r#"System.out.println(java.time.LocalDate.of(2024, 5, 1).format(java.time.format.DateTimeFormatter
        .ofLocalizedDate(java.time.format.FormatStyle.FULL)) + String.format("%,.2f", 1234.5));"#,
        "",
    ),
    (
        "Walk",
        r#"System.out.println(java.nio.file.spi.FileSystemProvider.installedProviders().get(0).getScheme());
        try (var s = java.nio.file.Files.list(java.nio.file.Path.of(java.net.URI.create("file:///")))) { s.count(); }"#,
        "",
    ),
    (
        "Digest",
        r#"System.out.println(java.security.MessageDigest.getInstance("SHA-256").digest(new byte[3]).length);"#,
        "",
    ),
    (
        "Pair",
        r#"var g = java.security.KeyPairGenerator.getInstance("RSA"); g.initialize(1024);
        var c = javax.crypto.Cipher.getInstance("RSA"); c.init(1, g.generateKeyPair().getPublic());
        System.out.println(c.doFinal(new byte[5]).length);"#,
        "",
    ),
    ("Charset", r#"System.out.println(java.nio.charset.Charset.isSupported("x-none-such"));"#, ""),
    (
        "Bundle",
        r#"try { java.util.ResourceBundle.getBundle("nothing"); } catch (RuntimeException e) { System.out.println(e.getClass()); }"#,
        "",
    ),
    (
        "Logger",
        r#"System.getLogger("tide").isLoggable(System.Logger.Level.TRACE); System.out.println("quiet");"#,
        "java.logging",
    ),
    (
        "Providers",
        r#"try { java.security.MessageDigest.getInstance("none"); } catch (Exception e) { System.out.println(e.getMessage()); }"#,
        "",
    ),
    ("Tool", r#"System.out.println(java.util.spi.ToolProvider.findFirst("none").isPresent());"#, ""),
    (
        "Beans",
        r"System.out.println(java.lang.management.ManagementFactory.getPlatformMBeanServer() != null);",
        "java.logging,java.management,jdk.management",
    ),
];

/// What uses more, and prints of which modules.
const LOUD: &str = r#"
public class Loud {
    public static void main(String[] args) throws Exception {
        java.util.logging.Logger.getLogger("tide").fine("low");
        say(java.util.logging.Logger.class);
        java.sql.DriverManager.getDrivers();
        say(java.sql.DriverManager.class);
        var formatted = new java.text.DateFormatSymbols(java.util.Locale.GERMANY).getMonths();
        if (!formatted[0].equals("Januar")) throw new AssertionError(formatted[0]);
        System.out.println("jdk.localedata");
    }
    static void say(Class<?> type) { System.out.println(type.getModule().getName()); }
}"#;

struct Work(tempfile::TempDir);

impl Work {
    /// All programs, compiled for 17.
    fn new() -> Work {
        let folder = tempfile::tempdir().unwrap();
        let quiet = QUIET.map(|(name, body, _)| {
            (
                name,
                format!("public class {name} {{ public static void main(String[] a) throws Exception {{ {body} }} }}"),
            )
        });
        let mut sources: Vec<(&str, &str)> = quiet.iter().map(|(name, text)| (*name, text.as_str())).collect();
        sources.push(("Loud", LOUD));
        let archive = zip::archive(&java::compiled(17, &["--release", "17"], &sources));
        fs::write(folder.path().join("tides.jar"), archive).unwrap();
        Work(folder)
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn run(&self, release: u16, options: &[&str], program: &str) -> String {
        let mut java = Command::new(tool(release, "java"));
        let done = java.args(options).arg("-cp").arg(self.path("tides.jar")).arg(program).current_dir(self.0.path());
        let done = done.output().unwrap();
        assert!(done.status.success(), "{program} on {release}: {}", String::from_utf8_lossy(&done.stderr));
        String::from_utf8(done.stdout).unwrap()
    }

    /// The report of a program that starts at `Hello` and asks for nothing by itself.
    fn scan(&self, release: u16, log: &Path) -> Report {
        let plan = Plan {
            inputs: vec![self.path("tides.jar")],
            entries: vec!["Hello".into()],
            release: Some(release),
            witness: vec![log.to_owned()],
            ..Plan::default()
        };
        pipeline::scan(&plan, &Silent).unwrap()
    }
}

fn with_standing(report: &Report, standing: Standing) -> BTreeSet<&str> {
    report.modules.iter().filter(|row| row.standing == standing).map(|row| row.name.as_str()).collect()
}

#[test]
fn what_every_program_loads_makes_nothing_needed() {
    let work = Work::new();
    for release in [17, 25] {
        for (program, _, modules) in QUIET {
            let log = format!("{program}-{release}.log");
            let option = format!("-Xlog:class+load:file={log}");
            let enough: BTreeSet<&str> =
                ["java.base"].into_iter().chain(modules.split(',').filter(|m| !m.is_empty())).collect();
            let limit = enough.iter().copied().collect::<Vec<_>>().join(",");
            // The default time zone and language are whatever the machine has: only that both runs agree matters.
            let whole = work.run(release, &["-Xshare:off", &option], program);
            assert_eq!(whole, work.run(release, &["--limit-modules", &limit], program), "{program} on {release}");
            let report = work.scan(release, &work.path(&log));
            assert!(report.logs[0].loads > 300, "{program}: {:?}", report.logs);
            assert_eq!(with_standing(&report, Standing::Needed), enough, "{program} on {release}");
        }
    }
}

#[test]
fn what_a_run_used_is_needed_in_every_decoration() {
    let work = Work::new();
    let decorations = [
        "-Xlog:class+load:file=0.log",
        "-Xlog:class+load:file=1.log:none",
        "-Xlog:class+load:file=2.log:time,utctime,uptime,timemillis,uptimemillis,timenanos,uptimenanos,hostname,pid,tid,level,tags",
        "-Xlog:class+load*=debug,gc*=info:file=3.log:tags,level",
        "-Xlog:class+load:stdout",
        "-verbose:class",
    ];
    for release in [17, 25] {
        for (number, option) in decorations.iter().enumerate() {
            let printed = work.run(release, &["-Xshare:off", option], "Loud");
            let log = work.path(&format!("{number}.log"));
            if !option.contains("file=") {
                fs::write(&log, &printed).unwrap();
            }
            let catalogue = secateur::platform::Catalogue::built_in(release).unwrap();
            let used: BTreeSet<&str> =
                printed.lines().filter(|line| catalogue.module(line).is_some()).chain(["java.base"]).collect();
            assert_eq!(used.len(), 4, "{printed}");
            let report = work.scan(release, &log);
            let needed = with_standing(&report, Standing::Needed);
            assert_eq!(needed, used, "{option} on {release}");
            let row = report.modules.iter().find(|row| row.name == "java.sql").unwrap();
            assert_eq!(row.evidence[0].kind, "witness");
            assert!(row.reason.contains("shows the loading of"), "{}", row.reason);
        }
    }
}

#[test]
fn a_shared_archive_hides_modules_and_is_told() {
    let work = Work::new();
    for release in [17, 25] {
        let printed = work.run(release, &["-Xshare:auto", "-Xlog:class+load:file=shared.log"], "Loud");
        let report = work.scan(release, &work.path("shared.log"));
        assert!(report.logs[0].shared > 300, "{:?}", report.logs);
        assert!(report.findings.iter().any(|finding| finding.code == "shared-archive-log"));
        let mut used: BTreeSet<&str> = printed.lines().collect();
        used.insert("java.base");
        assert_eq!(with_standing(&report, Standing::Needed), used, "{release}");
    }
}

/// JEP 158: a log that grows beyond `filesize` is put aside as `FILE.0`, `FILE.1` and so on.
#[test]
fn rotated_and_packed_logs_tell_the_same() {
    let work = Work::new();
    work.run(17, &["-Xshare:off", "-Xlog:class+load:file=whole.log"], "Loud");
    let option = "-Xlog:class+load:file=parts.log::filecount=90,filesize=4K";
    work.run(17, &["-Xshare:off", option], "Loud");
    assert!(work.path("parts.log.03").exists());
    let mut packed = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::default());
    packed.write_all(&fs::read(work.path("whole.log")).unwrap()).unwrap();
    fs::write(work.path("whole.log.gz"), packed.finish().unwrap()).unwrap();
    let [whole, parts, gz] = ["whole.log", "parts.log", "whole.log.gz"].map(|log| work.scan(17, &work.path(log)));
    assert!(parts.logs[0].files > 10, "{:?}", parts.logs);
    for other in [&parts, &gz] {
        assert_eq!(with_standing(other, Standing::Needed), with_standing(&whole, Standing::Needed));
        assert_eq!(other.logs[0].loads, whole.logs[0].loads);
    }
}

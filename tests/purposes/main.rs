//! Purposes of operators, on images that are really linked: what somebody wants of a running program works with the modules
//! that `--purpose` adds, and does not without them.
//!
//! Judge: the JVM of both releases and the tools of the whole JDK, used as their documentation says (Java SE Monitoring
//! and Management Guide; JPDA; JDK Tool Specifications; java.lang.instrument; JEP 252; JEP 328; RFC 8446).

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::rc::Rc;
use std::time::Duration;

use secateur::needs::purposes;
use secateur::pipeline;
use secateur::plan::Plan;
use secateur::progress::Silent;
use secateur::report::Report;
use secateur::verdict::Policy;

#[path = "../support/java.rs"]
mod java;
#[path = "../support/jdk.rs"]
mod jdk;
mod running;
#[path = "../support/service.rs"]
#[allow(dead_code, reason = "what this test starts is no service over HTTP")]
mod service;
#[path = "../support/zip.rs"]
mod zip;

use running::Running;
use service::{Finished, Image, finish, succeed};

/// For whatever ends by itself, on a busy machine.
const LIMIT: Duration = Duration::from_mins(3);

/// Programs as somebody would ship them, and what the operator has on a whole JDK.
struct Yard {
    release: u16,
    folder: tempfile::TempDir,
    images: BTreeMap<String, Rc<Image>>,
}

impl Yard {
    fn new(release: u16) -> Yard {
        let folder = tempfile::tempdir().unwrap();
        let sources = [
            ("Gauge", include_str!("Gauge.java"), vec!["Main-Class: Gauge"]),
            ("Agent", include_str!("Agent.java"), vec!["Premain-Class: Agent", "Agent-Class: Agent"]),
            ("Text", include_str!("Text.java"), vec!["Main-Class: Text"]),
            ("Quay", include_str!("Quay.java"), vec!["Main-Class: Quay"]),
            ("Dump", include_str!("Dump.java"), vec!["Main-Class: Dump"]),
            ("Operator", include_str!("Operator.java"), vec!["Main-Class: Operator"]),
        ];
        let classes =
            java::compiled(17, &["-encoding", "UTF-8"], &sources.each_ref().map(|(name, text, _)| (*name, *text)));
        for (name, _, headers) in &sources {
            let mut entries = vec![zip::manifest(headers)];
            let own = [format!("{name}.class"), format!("{name}$")];
            let of = |entry: &&zip::Entry| own.iter().any(|start| entry.name.starts_with(start.as_bytes()));
            entries.extend(classes.iter().filter(of).cloned());
            fs::write(folder.path().join(format!("{name}.jar")), zip::archive(&entries)).unwrap();
        }
        Yard { release, folder, images: BTreeMap::new() }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn text(&self, name: &str) -> String {
        self.path(name).to_str().unwrap().to_owned()
    }

    /// What reading says of a program: lean, since what it looks up by the language or the peer of the day is in doubt.
    fn scanned(&self, program: &str, purpose: Option<&str>) -> Report {
        let plan = Plan {
            inputs: vec![self.path(&format!("{program}.jar"))],
            release: Some(self.release),
            policy: Policy::Lean,
            purposes: purpose.into_iter().map(str::to_owned).collect(),
            ..Plan::default()
        };
        pipeline::scan(&plan, &Silent).unwrap()
    }

    fn image(&mut self, report: &Report) -> Rc<Image> {
        let list = report.list.join(",");
        let link = || Rc::new(Image::link(&jdk::jdk(self.release), &list));
        Rc::clone(self.images.entry(list.clone()).or_insert_with(link))
    }

    /// Images of a program with and without what a purpose takes. What a purpose is said to add is what the lists differ by.
    fn pair(&mut self, program: &str, purpose: &str) -> [Rc<Image>; 2] {
        let (with, without) = (self.scanned(program, Some(purpose)), self.scanned(program, None));
        let row = without.purposes.iter().find(|row| row.purpose == purpose).unwrap();
        let missing: Vec<&String> = with.list.iter().filter(|module| !without.list.contains(module)).collect();
        assert!(
            row.adds.iter().eq(missing.iter().copied()),
            "{purpose}: adds {:?}, lists differ by {missing:?}",
            row.adds
        );
        [self.image(&with), self.image(&without)]
    }

    /// Runs a program on an image to its end.
    fn run(&self, image: &Image, options: &[&str], program: &str, words: &[&str]) -> Finished {
        finish(self.command(image, options, program).args(words), LIMIT)
    }

    fn command(&self, image: &Image, options: &[&str], program: &str) -> Command {
        let mut java = image.java();
        // Language and charset of the machine are none of a purpose's.
        java.env("LC_ALL", "C.UTF-8").args(options).arg("-cp").arg(self.path(&format!("{program}.jar"))).arg(program);
        java
    }

    /// A gauge that runs on an image.
    fn gauge(&self, image: &Image, options: &[&str]) -> Result<Running, String> {
        Running::start(&mut self.command(image, options, "Gauge"))
    }

    /// A tool of the whole JDK.
    fn tool(&self, name: &str, words: &[&str]) -> Finished {
        finish(Command::new(jdk::tool(self.release, name)).args(words), LIMIT)
    }

    fn operator(&self, words: &[&str]) -> Finished {
        finish(
            Command::new(jdk::tool(self.release, "java")).arg("-jar").arg(self.path("Operator.jar")).args(words),
            LIMIT,
        )
    }

    /// Whether a file is there and begins as it should; it is removed, so that the next one cannot be taken for it.
    fn written(&self, name: &str, magic: &[u8]) -> bool {
        let path = self.path(name);
        let found = fs::read(&path).is_ok_and(|bytes| bytes.starts_with(magic));
        let _ = fs::remove_file(path);
        found
    }
}

/// The first bytes of a recording's chunk (as the JDK's own reader of recordings has it; from memory).
const RECORDING: &[u8] = b"FLR\0";
/// The first bytes of a heap dump (`HotSpot`, its binary format of heap dumps; from memory).
const HEAP: &[u8] = b"JAVA PROFILE 1.0.2";

fn recording(yard: &mut Yard) {
    let [with, without] = yard.pair("Gauge", "recording");
    let (file, later) = (yard.text("tide.jfr"), yard.text("later.jfr"));
    let option = format!("-XX:StartFlightRecording=filename={file}");
    for (image, works) in [(&with, true), (&without, false)] {
        let done = yard.run(image, &[&option], "Gauge", &["once"]);
        assert_eq!(done.status == Some(0), works, "{}{}", done.stdout, done.stderr);
        assert_eq!(yard.written("tide.jfr", RECORDING), works);

        let gauge = yard.gauge(image, &[]).unwrap();
        let begun = yard.tool("jcmd", &[&gauge.pid, "JFR.start", "name=tide"]);
        assert_eq!(begun.stdout.contains("Started recording"), works, "{}{}", begun.stdout, begun.stderr);
        yard.tool("jcmd", &[&gauge.pid, "JFR.dump", "name=tide", &format!("filename={later}")]);
        assert_eq!(yard.written("later.jfr", RECORDING), works);
    }
}

fn remote_management(yard: &mut Yard) {
    let [with, without] = yard.pair("Gauge", "remote-management");
    let options = [
        "-Dcom.sun.management.jmxremote.port=0",
        "-Dcom.sun.management.jmxremote.host=127.0.0.1",
        "-Dcom.sun.management.jmxremote.authenticate=false",
        "-Dcom.sun.management.jmxremote.ssl=false",
    ];
    let gauge = yard.gauge(&with, &options).unwrap();
    let status = yard.tool("jcmd", &[&gauge.pid, "ManagementAgent.status"]).stdout;
    let remote = status.split("Connection Type: remote").nth(1).unwrap_or_else(|| panic!("{status}"));
    let address = remote.lines().find_map(|line| line.strip_prefix("URL")?.split_once(": ")).unwrap().1;
    let done = yard.operator(&["manage", address]);
    assert_eq!(done.stdout, format!("{}\ntrue\ntrue\n", gauge.pid), "{}", done.stderr);

    let said = yard.gauge(&without, &options).err().expect("a JVM without the agent does not start");
    assert!(said.contains("jdk.management.agent"), "{said}");
}

fn debugging(yard: &mut Yard) {
    let [with, without] = yard.pair("Gauge", "debugging");
    let option = "-agentlib:jdwp=transport=dt_socket,server=y,suspend=n,address=127.0.0.1:0";
    let gauge = yard.gauge(&with, &[option]).unwrap();
    let said = gauge.said();
    let port =
        said.lines().find_map(|line| line.strip_prefix("Listening for transport dt_socket at address: ")).unwrap();
    let done = yard.operator(&["debug", port.trim()]);
    assert_eq!(done.stdout, "classes: 1\n", "{}", done.stderr);

    let said = yard.gauge(&without, &[option]).err().expect("a JVM without the agent does not start");
    assert!(said.contains("jdwp"), "{said}");
}

fn attaching(yard: &mut Yard) {
    let [with, without] = yard.pair("Dump", "attaching");
    let file = yard.text("tide.hprof");
    let command = |image: &Image, tool: &str| Command::new(Path::new(image.java().get_program()).with_file_name(tool));
    let gauge = yard.gauge(&with, &[]).unwrap();
    succeed(command(&with, "jcmd").args([&*gauge.pid, "GC.heap_dump", &file]), LIMIT);
    assert!(yard.written("tide.hprof", HEAP));
    succeed(command(&with, "jmap").args([&*format!("-dump:live,format=b,file={file}"), &gauge.pid]), LIMIT);
    assert!(yard.written("tide.hprof", HEAP));
    assert!(succeed(command(&with, "jstack").arg(&*gauge.pid), LIMIT).contains("Gauge.main"));

    let gauge = yard.gauge(&without, &[]).unwrap();
    for tool in ["jcmd", "jmap", "jstack"] {
        let found = command(&without, tool).output();
        assert_eq!(found.unwrap_err().kind(), std::io::ErrorKind::NotFound, "{tool}");
    }
    // From outside nothing is needed, as the title of the purpose says.
    let done = yard.tool("jcmd", &[&gauge.pid, "GC.heap_dump", &file]);
    assert!(yard.written("tide.hprof", HEAP), "{}{}", done.stdout, done.stderr);
    let done = yard.tool("jmap", &[&format!("-dump:format=b,file={file}"), &gauge.pid]);
    assert!(yard.written("tide.hprof", HEAP), "{}{}", done.stdout, done.stderr);

    for (image, works) in [(&with, true), (&without, false)] {
        let done = yard.run(image, &[], "Dump", &["com.sun.management:type=HotSpotDiagnostic", &file]);
        assert_eq!(done.status == Some(0), works, "{}", done.stderr);
        assert_eq!(yard.written("tide.hprof", HEAP), works);
    }
}

fn agents(yard: &mut Yard) {
    let [with, without] = yard.pair("Gauge", "agents");
    let agent = yard.text("Agent.jar");
    let option = format!("-javaagent:{agent}");
    for (image, works) in [(&with, true), (&without, false)] {
        let done = yard.run(image, &[&option], "Gauge", &["once"]);
        assert_eq!(done.status == Some(0), works, "{}{}", done.stdout, done.stderr);
        assert_eq!(done.stdout.contains("agent at launch: true"), works, "{}", done.stdout);

        let gauge = yard.gauge(image, &[]).unwrap();
        let done = yard.operator(&["load", &gauge.pid, &agent]);
        assert_eq!(done.status == Some(0), works, "{}{}", done.stdout, done.stderr);
        assert_eq!(gauge.said().contains("agent later: true"), works, "{}", gauge.said());
    }
}

/// Swedish has ö behind z, and a comma before decimals (Unicode CLDR, locale sv).
fn localised_text(yard: &mut Yard) {
    let [with, without] = yard.pair("Text", "localised-text");
    let swedish = ["-Duser.language=sv", "-Duser.country=SE", "-Dfile.encoding=UTF-8"];
    for (image, works) in [(&with, true), (&without, false)] {
        let done = yard.run(image, &swedish, "Text", &["text"]);
        assert_eq!(done.status, Some(0), "without the data the JVM goes on in its own language: {}", done.stderr);
        let lines: Vec<&str> = done.stdout.lines().collect();
        let found = [lines[0].contains("februari"), lines[1] == "4,5", lines[2] == "[61, 7a, f6]"];
        assert_eq!(found, [works; 3], "{lines:?}");

        // A Latin letter in code page 37 (RFC 1345, IBM037).
        let done = yard.run(image, &[], "Text", &["charset", "IBM037"]);
        assert_eq!((done.status == Some(0), done.stdout == "A3\n"), (works, works), "{}{}", done.stdout, done.stderr);
    }
}

fn tls(yard: &mut Yard) {
    // The program itself is seen to ask for curves, so that the purpose adds nothing: they are left out by hand.
    let mut bare = yard.scanned("Quay", None);
    let row = bare.purposes.iter().find(|row| row.purpose == "tls").unwrap();
    assert!(row.adds.is_empty(), "{:?}", row.adds);
    let with = yard.image(&bare);
    bare.list.retain(|module| module != "jdk.crypto.ec");
    let without = yard.image(&bare);
    let store = yard.text("quay.p12");
    let words =
        "-genkeypair -alias quay -keyalg EC -groupname secp256r1 -dname CN=quay -storetype PKCS12 -storepass changeit";
    let made = yard.tool("keytool", &[&*words.split(' ').collect::<Vec<_>>(), &["-keystore", &store]].concat());
    assert_eq!(made.status, Some(0), "{}{}", made.stdout, made.stderr);
    // From 22 on java.base has elliptic curves (JDK-8308398), and the purpose adds nothing.
    let in_base = yard.release >= 22;
    for (image, works) in [(&with, true), (&without, in_base)] {
        let done = yard.run(image, &[], "Quay", &[&store]);
        assert_eq!(done.stdout == "42 EC\n", works, "{}{}", done.stdout, done.stderr);
    }
}

type Deed = fn(&mut Yard);

/// A purpose by its name, and what an operator does who has it.
const DEEDS: [(&str, Deed); 7] = [
    ("recording", recording),
    ("remote-management", remote_management),
    ("debugging", debugging),
    ("attaching", attaching),
    ("agents", agents),
    ("localised-text", localised_text),
    ("tls", tls),
];

fn purposes_hold(release: u16) {
    assert!(DEEDS.iter().map(|(id, _)| *id).eq(purposes().iter().map(|purpose| &*purpose.id)), "each has its deed");
    let mut yard = Yard::new(release);
    for (_, deed) in DEEDS {
        deed(&mut yard);
    }
}

#[test]
fn each_purpose_is_served_with_its_modules_alone_on_17() {
    purposes_hold(17);
}

#[test]
fn each_purpose_is_served_with_its_modules_alone_on_25() {
    purposes_hold(25);
}

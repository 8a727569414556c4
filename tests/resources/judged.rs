//! Formats that the platform itself reads, judged by it; and a file that a library really carries.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

use secateur::diag::Code;
use secateur::limits::Limits;

use crate::yard::{file, read};
use crate::{jdk, libraries};

fn run(source: &str, input: &Path) -> String {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("Judge.java");
    fs::write(&path, source).unwrap();
    let done = Command::new(jdk::tool(17, "java")).arg(&path).arg(input).output().unwrap();
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    String::from_utf8(done.stdout).unwrap()
}

/// The judge is `java.util.Properties.load` of JDK 17.
#[test]
fn properties_are_read_as_the_jvm_reads_them() {
    let text = "a=gauge.A\n b : gauge.B\r\nc gauge.C\rd\tgauge.D\\\n   .Inner\n#e=gauge.E\n!f=gauge.F\n\
                g\\ h=gauge.G\nk\\=l=gauge.K\nm\\:n:gauge.M\no=gauge.\\u004f\\u0070\np=gauge.P\\\\\\\n.Q\nq=\\gauge.Q\n\
                \\u0072=gauge.R\ns==gauge\nt = : x!\nu\\\n  v=gauge.V\r\nw=gauge.\\\r\n  W\r\n  # x=1\ny=gauge.Y\\";
    let judge = "import java.io.*; import java.util.*; class Judge { public static void main(String[] a) throws Exception {\
                 var p = new Properties(); try (var in = new FileReader(a[0])) { p.load(in); }\
                 new TreeMap<>(p).forEach((k, v) -> System.out.println(k + \"|\" + v)); } }";
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("gauges.properties");
    fs::write(&path, text).unwrap();
    let theirs = run(judge, &path);
    let theirs: BTreeMap<&str, &str> = theirs.lines().map(|line| line.split_once('|').unwrap()).collect();
    let found = file("gauges.properties", text);
    let ours: BTreeMap<&str, &str> =
        found.resources.properties.all().iter().map(|pair| (&*pair.key, &*pair.value)).collect();
    // Values that cannot be part of a name are not kept.
    let word = |value: &&str| value.chars().all(|c| c.is_alphanumeric() || c == '.');
    let named: BTreeMap<&str, &str> = theirs.iter().map(|(k, v)| (*k, *v)).filter(|(_, value)| word(value)).collect();
    assert!(named.len() > 12, "{named:?}");
    assert_eq!(ours, named);
}

/// The judge is the login configuration reader of JDK 17 (`javax.security.auth.login.Configuration`).
#[test]
fn login_configurations_are_read_as_the_jvm_reads_them() {
    let text = "/* gauges { gauge.Main required; }; */\nGauges {\n  sluice.Login required debug=true name=\"a; gauge.Main\";\n\
                // gauge.Reading optional;\n  com.sun.security.auth.module.Krb5LoginModule sufficient\n   keyTab=\"x y\" ;\n};\n\
                Sluices { gauge.Reader optional; };\n";
    let judge = "import javax.security.auth.login.*; class Judge { public static void main(String[] a) throws Exception {\
                 var c = Configuration.getInstance(\"JavaLoginConfig\", new URIParameter(new java.io.File(a[0]).toURI()));\
                 for (String n : new String[] { \"Gauges\", \"Sluices\" })\
                 for (var e : c.getAppConfigurationEntry(n)) System.out.println(n + \"|\" + e.getLoginModuleName()); } }"
        .replace("new URIParameter", "new java.security.URIParameter");
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("login");
    fs::write(&path, text).unwrap();
    let theirs = run(&judge, &path);
    for name in ["gauges.login", "conf/gauge-jaas.conf", "login.config"] {
        let found = file(name, text);
        let ours = found.names().into_iter().map(|(_, class, of)| format!("{of}|{}", class.replace('/', ".")));
        let ours: Vec<String> = ours.collect();
        assert_eq!(ours, theirs.lines().collect::<Vec<_>>(), "{name}");
    }
    assert_eq!(theirs.lines().count(), 3);
}

/// A real index of a logging library: every plug-in that it names is a class of its jar.
#[test]
fn the_index_of_plug_ins_is_read_to_its_end() {
    let jar = libraries::libraries().into_iter().find(|jar| jar.to_string_lossy().contains("log4j-core")).unwrap();
    let found = read(&[jar], &Limits::default());
    let plugins: Vec<_> = found.resources.names.iter().filter(|name| name.path.ends_with("Plugins.dat")).collect();
    assert!(plugins.len() > 150, "{}", plugins.len());
    assert!(plugins.iter().all(|name| name.name.starts_with("org/apache/logging/log4j/core/")));
    assert!(!found.codes().contains(&Code::BadDescriptor), "{:?}", found.said);
}

//! Logs as the JVM writes them, and what is none.

use std::io::Write;

use flate2::{Compression, write::GzEncoder};
use tempfile::TempDir;

use super::*;

fn catalogue() -> Catalogue {
    Catalogue::built_in(17).unwrap()
}

fn folder(files: &[(&str, &[u8])]) -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (name, bytes) in files {
        fs::write(folder.path().join(name), bytes).unwrap();
    }
    folder
}

fn read_in(folder: &TempDir, name: &str) -> (Result<Log, String>, Vec<Code>) {
    let mut findings = Findings::new(9);
    let logs = read(&[folder.path().join(name)], &catalogue(), &Limits::default(), &mut findings);
    let log = logs.map(|mut logs| logs.remove(0)).map_err(|error| error.to_string());
    (log, findings.sorted().iter().map(|finding| finding.code).collect())
}

fn one(bytes: &[u8]) -> (Result<Log, String>, Vec<Code>) {
    read_in(&folder(&[("load.log", bytes)]), "load.log")
}

fn modules(log: &Log) -> Vec<(String, Vec<&str>, bool)> {
    let catalogue = catalogue();
    let row = |(&id, seen): (&ModuleId, &'_ Seen)| (catalogue.name(id).to_owned(), seen.only_met);
    let names = log.modules.values().map(|seen| seen.classes.iter().map(|class| &**class).collect());
    log.modules.iter().map(row).zip(names).map(|((name, met), classes)| (name, classes, met)).collect()
}

fn packed(bytes: &[u8]) -> Vec<u8> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::fast());
    encoder.write_all(bytes).unwrap();
    encoder.finish().unwrap()
}

const LOG: &[u8] = b"Tides are up\n\
[0.006s][info][class,load] java.lang.Object source: jrt:/java.base\n\
[0.330s][info][class,load] java.sql.DriverManager source: jrt:/java.sql\n\
[0.331s][info][class,load] java.sql.Driver source: jrt:/java.sql\n\
[0.331s][info][class,load] java.sql.Driver source: jrt:/java.sql\n\
[0.340s][info][class,load] sun.util.resources.cldr.provider.CLDRLocaleDataMetaInfo source: jrt:/jdk.localedata\n\
[0.341s][info][class,load] tide.Gauge source: file:/opt/tides/\n\
[0.342s][info][class,load] java.util.logg";

#[test]
fn a_log_tells_modules_and_classes() {
    let (log, codes) = one(LOG);
    let log = log.unwrap();
    assert_eq!((log.loads, log.shared, codes), (6, 0, vec![]));
    let expected = vec![
        ("java.sql".to_owned(), vec!["java/sql/DriverManager", "java/sql/Driver"], false),
        // The look-up of locale data meets each provider (JDK, java.base: uses LocaleDataProvider).
        ("jdk.localedata".to_owned(), vec!["sun/util/resources/cldr/provider/CLDRLocaleDataMetaInfo"], true),
    ];
    assert_eq!(modules(&log), expected);
    assert_eq!(log.modules.values().map(|seen| seen.loads).collect::<Vec<_>>(), [3, 1]);
}

#[test]
fn packed_rotated_and_gathered_logs_say_the_same() {
    let (first, rest) = LOG.split_at(LOG.len() / 2);
    let cut = first.iter().rposition(|&byte| byte == b'\n').unwrap() + 1;
    let (first, middle) = first.split_at(cut);
    let second = [middle, rest].concat();
    // RFC 1952 §2.2: a file may have several members.
    let members = [packed(first), packed(&second)].concat();
    let expected = one(LOG).0.unwrap();
    let rotated = folder(&[("load.log.0", first), ("load.log", &second), ("load.log.old", b"x"), ("load.logs", b"x")]);
    let gathered = folder(&[("1", &packed(first)), ("2", &second)]);
    for (folder, name, files) in [
        (&folder(&[("load.log.gz", &packed(LOG))]), "load.log.gz", 1),
        (&folder(&[("load.log.gz", &members)]), "load.log.gz", 1),
        (&rotated, "load.log", 2),
        (&gathered, ".", 2),
    ] {
        let log = read_in(folder, name).0.unwrap();
        assert_eq!((log.loads, &log.modules, log.files.len()), (expected.loads, &expected.modules, files), "{name}");
    }
}

#[test]
fn classes_of_a_shared_archive_are_told_by_their_package() {
    let (log, codes) = one(b"java.util.logging.Level source: shared objects file\n\
        tide.Gauge source: shared objects file (top)\n\
        java.util.logging.Gauge source: shared objects file\n\
        java.lang.invoke.LambdaForm$MH/0x0000000800c00200 source: shared objects file\n");
    assert_eq!(modules(&log.unwrap()), [("java.logging".to_owned(), vec!["java/util/logging/Level"], false)]);
    assert_eq!(codes, [Code::SharedArchiveLog]);
}

#[test]
fn modules_that_the_release_lacks_are_said() {
    let (log, codes) = one(b"tide.Gauge source: jrt:/harbour.tides\nx.Y source: jrt:/\xff\n");
    let log = log.unwrap();
    assert_eq!(log.unknown, BTreeMap::from([("harbour.tides".into(), 1)]));
    assert!(log.modules.is_empty());
    assert_eq!(codes, [Code::UnknownModuleInLog]);
}

#[test]
fn what_is_no_log_is_refused_with_file_and_line() {
    for (bytes, word) in [
        (&b""[..], "is empty"),
        (b"\n\n", "no line of text"),
        (b"\n<html>\n", "line 2 of "),
        (b"[Loaded java.lang.Object from /opt/jdk/lib/rt.jar]\n", "before 9"),
        (&vec![0; 600_000], "no line of text"),
    ] {
        let error = one(bytes).0.unwrap_err();
        assert!(error.contains(word) && error.contains("load.log"), "{error}");
    }
    let missing = read_in(&folder(&[]), "load.log").0.unwrap_err();
    assert!(missing.contains("load.log"), "{missing}");
}

#[test]
fn damage_is_a_finding_and_what_stands_before_counts() {
    let text: Vec<u8> = (0..20_000)
        .flat_map(|n: u32| {
            format!("[{}s] java.sql.Driver source: jrt:/java.sql\n", n.wrapping_mul(2_654_435_761)).into_bytes()
        })
        .collect();
    let whole = packed(&text);
    let mut changed = whole.clone();
    let middle = changed.len() / 2;
    changed[middle..middle + 64].fill(0xff);
    for bytes in [&whole[..whole.len() / 2], &changed] {
        let (log, codes) = one(bytes);
        let log = log.unwrap();
        assert!(log.loads > 1000 && log.loads < 20_000, "{}", log.loads);
        // What is unpacked of the damaged part itself may look like a line with a module that there is not.
        assert!(codes.contains(&Code::BrokenLog) && codes.iter().all(|code| *code != Code::SharedArchiveLog));
    }
    let limits = Limits { witness_bytes: 600_000, ..Limits::default() };
    let folder = folder(&[("load.log", &text)]);
    let mut findings = Findings::new(9);
    let logs = read(&[folder.path().join("load.log")], &catalogue(), &limits, &mut findings).unwrap();
    assert!(logs[0].loads < 20_000 && findings.incomplete());
}

#[test]
fn a_million_different_names_take_no_room() {
    let lines: Vec<String> =
        (0..300_000).map(|n| format!("java.sql.X{n} source: jrt:/java.sql\nx.Y source: jrt:/m{n}\n")).collect();
    let log = one(lines.concat().as_bytes()).0.unwrap();
    let seen = log.modules.values().next().unwrap();
    assert_eq!((seen.loads, seen.classes.len(), log.unknown.len()), (300_000, CLASSES, UNKNOWN));
}

#[test]
fn results_of_trials_are_witnesses_and_others_are_refused_with_the_reason() {
    let result = |passed: bool, document: &str| {
        format!(
            r#"{{"schema_version": 1, "document": "{document}", "passed": {passed}, "message": "it hung",
            "platform": {{"release": {}}}, "modules": [
            {{"name": "java.sql", "shown": "missed", "loads": 2, "loaded": [], "class": "java.sql.Driver"}},
            {{"name": "java.naming", "shown": "not-missed", "loads": 7, "loaded": ["javax.naming.Context"]}}]}}"#,
            catalogue().release
        )
    };
    let (log, codes) = one(result(true, "trial").as_bytes());
    let log = log.unwrap();
    let sql = catalogue().module("java.sql").unwrap();
    assert_eq!((log.modules.len(), &*log.modules[&sql].classes[0], codes.len()), (1, "java/sql/Driver", 0));
    for (text, word) in [
        (result(false, "trial"), "it hung"),
        (result(true, "scan"), "`scan`"),
        ("{\"tide\": 1}".to_owned(), "no result of settle"),
    ] {
        let error = one(text.as_bytes()).0.unwrap_err();
        assert!(error.contains(word) && error.contains("load.log"), "{error}");
    }
}

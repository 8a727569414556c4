//! How fast class-load logs are read, against the floor of counting their lines, in one run.
//!
//! `cargo bench --bench logs -- [FILE…]` takes logs; without one it makes up a log of a million lines like those of the
//! JVM. Each round times every row once, so that a machine whose speed drifts treats all rows alike; the medians are
//! printed. It fails where a log is read more slowly than the aim.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a bench that cannot run says so by panicking"
)]

use std::fmt::Write as _;
use std::fs::{self, File};
use std::hint::black_box;
use std::io::{Read, Write};
use std::path::PathBuf;
use std::time::{Duration, Instant};

use secateur::diag::Findings;
use secateur::limits::Limits;
use secateur::platform::Catalogue;
use secateur::witness;

const ROUNDS: usize = 7;

const LINES: usize = 1_000_000;

/// Megabytes a second.
const AIM: f64 = 200.0;

fn main() {
    let given: Vec<PathBuf> = std::env::args_os().skip(1).filter(|word| word != "--bench").map(PathBuf::from).collect();
    let folder = tempfile::tempdir().expect("a temporary folder");
    let logs = if given.is_empty() { vec![made_up(folder.path().join("load.log"))] } else { given };
    let catalogue = Catalogue::built_in(17).expect("embedded");
    let limits = Limits::default();
    let size: u64 = logs.iter().map(|log| fs::metadata(log).expect("a log").len()).sum();
    println!("{:.1} MB", mb(size));
    let packed = packed(&logs[0], folder.path().join("load.log.gz"));
    let read = |logs: &[PathBuf]| {
        black_box(witness::read(logs, &catalogue, &limits, &mut Findings::new(9)).expect("logs"));
    };
    let rows: [(&str, &dyn Fn()); 3] = [
        ("floor: counting lines", &|| {
            let count: usize = logs.iter().map(count_lines).sum();
            black_box(count);
        }),
        ("reading the log", &|| read(&logs)),
        ("the first, packed", &|| read(std::slice::from_ref(&packed))),
    ];
    let mut times = vec![Vec::with_capacity(ROUNDS); rows.len()];
    for _ in 0..ROUNDS {
        for ((_, run), times) in rows.iter().zip(&mut times) {
            let start = Instant::now();
            run();
            times.push(start.elapsed());
        }
    }
    let medians: Vec<Duration> = times.iter_mut().map(|times| median(times)).collect();
    for ((name, _), time) in rows.iter().zip(&medians) {
        println!(
            "{name:<24} {:>8.1} ms {:>7.0} MB/s {:>6.2} x floor",
            time.as_secs_f64() * 1e3,
            mb(size) / time.as_secs_f64(),
            time.as_secs_f64() / medians[0].as_secs_f64()
        );
    }
    let speed = mb(size) / medians[1].as_secs_f64();
    assert!(speed >= AIM, "{speed:.0} MB/s, and the aim is {AIM:.0}");
}

/// As the JVM writes them: mostly java.base and the program, now and then another module, hidden classes between.
fn made_up(path: PathBuf) -> PathBuf {
    let mut text = String::with_capacity(LINES * 96);
    for number in 0..LINES {
        let seconds = number as f64 / 1e4;
        let (class, source) = match number % 20 {
            0..=8 => (format!("java.util.stream.Kind{number}"), "jrt:/java.base".to_owned()),
            9..=15 => {
                (format!("harbour.tides.part{}.Gauge{number}", number % 97), "file:/opt/tides/lib/tides.jar".to_owned())
            }
            16 => (format!("java.sql.Type{number}"), "jrt:/java.sql".to_owned()),
            17 => (format!("com.sun.org.apache.xerces.internal.impl.X{number}"), "jrt:/java.xml".to_owned()),
            18 => (format!("java.util.logging.Level{}", number % 7), "shared objects file".to_owned()),
            _ => (format!("harbour.Tides$$Lambda/0x{number:016x}"), "harbour.Tides".to_owned()),
        };
        writeln!(text, "[{seconds:.3}s][info][class,load] {class} source: {source}").expect("memory");
    }
    fs::write(&path, text).expect("a file");
    path
}

fn packed(log: &PathBuf, path: PathBuf) -> PathBuf {
    let mut out = flate2::write::GzEncoder::new(File::create(&path).expect("a file"), flate2::Compression::default());
    out.write_all(&fs::read(log).expect("a log")).expect("a file");
    out.finish().expect("a file");
    path
}

fn count_lines(path: &PathBuf) -> usize {
    let mut file = File::open(path).expect("a log");
    let mut buffer = vec![0; 256 << 10];
    let mut count = 0;
    loop {
        let read = file.read(&mut buffer).expect("a log");
        if read == 0 {
            return count;
        }
        count += memchr::memchr_iter(b'\n', &buffer[..read]).count();
    }
}

fn median(times: &mut [Duration]) -> Duration {
    times.sort_unstable();
    times[times.len() / 2]
}

fn mb(bytes: u64) -> f64 {
    bytes as f64 / 1e6
}

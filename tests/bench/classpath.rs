//! How fast class files are read, against the floor of inflating them, in one run.
//!
//! `cargo bench --bench classpath -- [--floor] FOLDER…` takes jars or folders of jars (`scripts/bench` fetches a large
//! class path); `--floor` times the floor once and nothing else. Each round times every row once, so that a machine whose speed drifts treats all rows alike; the medians are
//! printed. The floor is what nobody who reads the classes can avoid: opening the archives apart, inflating each class
//! entry and nothing else, on as many threads as the scan takes.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a bench that cannot run says so by panicking"
)]

use std::hint::black_box;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use rayon::prelude::*;
use secateur::archive::{self, Archives, Reader};
use secateur::classfile::{ClassFile, Position, Scratch, Visitor, walk};
use secateur::diag::Findings;
use secateur::flow::{self, sinks};
use secateur::limits::Limits;
use secateur::pipeline;
use secateur::plan::Plan;
use secateur::program::Program;
use secateur::progress::Silent;
use secateur::verifier;

const ROUNDS: usize = 7;

/// Inflated bytes that one thread takes at a time.
const CHUNK: u64 = 3 << 20;

/// What a thread uses again for one class after another.
type Memory = (Scratch, verifier::Scratch, flow::Scratch);

/// Counts what it is told, so that nothing can be left out by the compiler.
#[derive(Default)]
struct Count(u64);

impl Visitor<'_> for Count {
    fn class_name(&mut self, _: Position, _: Option<u32>, class: u16) {
        self.0 += u64::from(class);
    }

    fn descriptor(&mut self, _: Position, _: Option<u32>, text: u16) {
        self.0 += u64::from(text);
    }

    fn member_ref(&mut self, _: Position, _: u8, _: u32, reference: u16) {
        self.0 += u64::from(reference);
    }

    fn invoke_dynamic(&mut self, _: u32, call_site: u16) {
        self.0 += u64::from(call_site);
    }

    fn load_string(&mut self, _: u32, string: u16) {
        self.0 += u64::from(string);
    }
}

fn main() {
    let (options, inputs): (Vec<PathBuf>, Vec<PathBuf>) = std::env::args_os()
        .skip(1)
        .map(PathBuf::from)
        .partition(|argument| argument.to_string_lossy().starts_with("--"));
    let floor_only = options.iter().any(|option| option.as_os_str() == "--floor");
    let inputs = if inputs.is_empty() { vec![PathBuf::from("testdata/harbour")] } else { inputs };
    let limits = Limits::default();
    let archives = archive::open(&inputs, &limits).expect("the inputs can be read");
    let work = split(&archives);
    let classes: usize = work.iter().map(|(_, entries)| entries.len()).sum();
    let bytes: u64 =
        work.iter().flat_map(|(at, entries)| entries.iter().map(|&e| archives.list[*at].entries[e].size)).sum();
    println!("{classes} classes, {:.1} MB inflated, {} threads", mb(bytes), rayon::current_num_threads());

    if floor_only {
        let start = Instant::now();
        each(&archives, &work, &limits, |_, bytes| bytes.len() as u64);
        println!("floor {:.1} ms", start.elapsed().as_secs_f64() * 1e3);
        return;
    }

    let rows: [(&str, &dyn Fn()); 7] = [
        ("open the archives", &|| {
            black_box(archive::open(&inputs, &limits).expect("the inputs can be read"));
        }),
        ("floor: inflate only", &|| each(&archives, &work, &limits, |_, bytes| bytes.len() as u64)),
        ("inflate, constant pools", &|| {
            each(&archives, &work, &limits, |(scratch, ..), bytes| {
                ClassFile::read(bytes, scratch).map_or(0, |class| u64::from(class.pool.len()))
            });
        }),
        ("inflate, whole walk", &|| {
            each(&archives, &work, &limits, |(scratch, ..), bytes| {
                let mut count = Count::default();
                let _ = walk(bytes, scratch, &mut count);
                count.0
            });
        }),
        ("inflate, verifier's questions", &|| {
            each(&archives, &work, &limits, |(scratch, asked, _), bytes| {
                let mut count = 0;
                if let Ok(class) = ClassFile::read(bytes, scratch) {
                    let _ = verifier::questions(&class, asked, |question| count += u64::from(question.pc));
                }
                count
            });
        }),
        ("inflate, values of look-ups", &|| {
            each(&archives, &work, &limits, |(scratch, _, followed), bytes| {
                let wanted = |owner: &[u8], name: &[u8], text: &[u8]| sinks::of(owner, name, text).is_some();
                let mut count = 0;
                if let Ok(class) = ClassFile::read(bytes, scratch) {
                    let _ = flow::facts(&class, wanted, followed, |_, fact| count += u64::from(fact.pc));
                }
                count
            });
        }),
        ("open and read the program", &|| {
            let archives = archive::open(&inputs, &limits).expect("the inputs can be read");
            black_box(Program::read(archives, &limits, &mut Findings::new(1), &Silent));
        }),
    ];
    let mut times = vec![Vec::with_capacity(ROUNDS); rows.len()];
    for _ in 0..ROUNDS {
        for ((_, run), times) in rows.iter().zip(&mut times) {
            let start = Instant::now();
            run();
            times.push(start.elapsed());
        }
    }
    let floor = median(&mut times[1]);
    for ((name, _), times) in rows.iter().zip(&mut times) {
        let time = median(times);
        println!(
            "{name:<30} {:>8.1} ms {:>7.0} MB/s {:>6.2} x floor",
            time.as_secs_f64() * 1e3,
            mb(bytes) / time.as_secs_f64(),
            time.as_secs_f64() / floor.as_secs_f64()
        );
    }
    // The stages of a scan that takes all these classes for a library.
    let mut stages: Vec<(&str, Vec<Duration>)> = Vec::new();
    for _ in 0..ROUNDS {
        let plan = Plan { inputs: inputs.clone(), release: Some(17), ..Plan::default() };
        let report = pipeline::scan(&plan, &Silent).expect("the inputs can be scanned");
        for (at, &(stage, time)) in report.timings.iter().enumerate() {
            match stages.get_mut(at) {
                Some((_, times)) => times.push(time),
                None => stages.push((stage, vec![time])),
            }
        }
    }
    for (stage, times) in &mut stages {
        let time = median(times);
        println!(
            "scan: {stage:<24} {:>8.1} ms {:>11} {:>6.2} x floor",
            time.as_secs_f64() * 1e3,
            "",
            time.as_secs_f64() / floor.as_secs_f64()
        );
    }
}

fn split(archives: &Archives) -> Vec<(usize, Vec<usize>)> {
    let mut work = Vec::new();
    for (at, archive) in archives.list.iter().enumerate() {
        let mut chunk = Vec::new();
        let mut bytes = 0;
        for (number, entry) in archive.entries.iter().enumerate().filter(|(_, entry)| entry.is_class()) {
            chunk.push(number);
            bytes += entry.size;
            if bytes >= CHUNK {
                work.push((at, std::mem::take(&mut chunk)));
                bytes = 0;
            }
        }
        work.push((at, chunk));
    }
    work
}

fn each(
    archives: &Archives,
    work: &[(usize, Vec<usize>)],
    limits: &Limits,
    one: impl Fn(&mut Memory, &[u8]) -> u64 + Sync,
) {
    let sum: u64 = work
        .par_iter()
        .map_init(
            || (Reader::new(limits), Memory::default()),
            |(reader, memory), (at, entries)| {
                let archive = &archives.list[*at];
                entries
                    .iter()
                    .map(|&entry| reader.read(archive, &archive.entries[entry]).map_or(0, |bytes| one(memory, bytes)))
                    .fold(0, u64::wrapping_add)
            },
        )
        .reduce(|| 0, u64::wrapping_add);
    black_box(sum);
}

fn median(times: &mut [Duration]) -> Duration {
    times.sort_unstable();
    times[times.len() / 2]
}

fn mb(bytes: u64) -> f64 {
    bytes as f64 / 1e6
}

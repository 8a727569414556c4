//! Compiles and runs the programs of `testdata/reach`.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use secateur::diag::Findings;
use secateur::limits::Limits;
use secateur::program::{Program, View};
use secateur::progress::Silent;

use crate::jdk;

/// Compiles files of `testdata/reach` for release 17 into a folder of that name.
pub fn compile(folder: &str, files: &[&str]) -> PathBuf {
    let sources = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/reach");
    let out = Path::new(env!("CARGO_TARGET_TMPDIR")).join("reach").join(folder);
    let _ = fs::remove_dir_all(&out);
    let output = Command::new(jdk::tool(17, "javac"))
        .args(["-nowarn", "-proc:none", "-Xlint:none", "-encoding", "UTF-8", "--release", "17", "-d"])
        .arg(&out)
        .args(files.iter().map(|file| sources.join(file)))
        .output()
        .expect("javac starts");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    out
}

/// Runs a class with arguments.
pub fn java(class_path: &Path, arguments: &[&str]) -> Output {
    Command::new(jdk::tool(17, "java"))
        .args(["-XX:TieredStopAtLevel=1", "-cp"])
        .arg(class_path)
        .args(arguments)
        .output()
        .expect("java starts")
}

/// The program in a folder, as release 17 sees it.
pub fn read(folder: &Path) -> (Program, View) {
    let limits = Limits::default();
    let mut findings = Findings::new(10);
    let archives = secateur::archive::open(&[folder.to_owned()], &limits).unwrap();
    let program = Program::read(archives, &limits, &mut findings, &Silent);
    let view = program.view(17, &mut findings);
    assert!(findings.sorted().is_empty());
    (program, view)
}

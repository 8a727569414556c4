//! Runs a Java program of `tests/judges` as a single source file (JEP 330).

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;

#[path = "jdk.rs"]
pub mod jdk;

/// What `tests/judges/<program>` prints on that release, given `input` on its standard input.
///
/// Panics with the program's own words where it fails.
pub fn judge(release: u16, program: &str, arguments: &[&Path], input: &str) -> String {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/judges").join(program);
    let mut child = Command::new(jdk::tool(release, "java"))
        .arg(source)
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("java starts");
    let mut stdin = child.stdin.take().expect("piped");
    let input = input.to_owned();
    let feeder = thread::spawn(move || stdin.write_all(input.as_bytes()));
    let output = child.wait_with_output().expect("java ends");
    assert!(output.status.success(), "{program} on {release}: {}", String::from_utf8_lossy(&output.stderr));
    feeder.join().expect("no panic").expect("the program reads all input");
    String::from_utf8(output.stdout).expect("the program prints UTF-8")
}

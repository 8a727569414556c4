//! Compiles sources that stand in a test.

use std::fs;
use std::process::Command;

use super::jdk;
use super::zip::{Entry, deflated};

/// Compiles sources, each with its path below the source folder without `.java`, by the compiler of a release; the
/// entries of all classes, by name.
pub fn compiled(compiler: u16, options: &[&str], sources: &[(&str, &str)]) -> Vec<Entry> {
    let work = tempfile::tempdir().unwrap();
    let out = work.path().join("out");
    let mut javac = Command::new(jdk::tool(compiler, "javac"));
    javac.args(["-Xlint:none", "-nowarn", "-d"]).arg(&out).args(options);
    for (name, source) in sources {
        let file = work.path().join(format!("{name}.java"));
        fs::create_dir_all(file.parent().unwrap()).unwrap();
        fs::write(&file, source).unwrap();
        javac.arg(file);
    }
    let done = javac.output().unwrap();
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let mut entries = Vec::new();
    let mut folders = vec![out.clone()];
    while let Some(folder) = folders.pop() {
        for child in fs::read_dir(folder).unwrap().map(|child| child.unwrap().path()) {
            if child.is_dir() {
                folders.push(child);
            } else {
                let name = child.strip_prefix(&out).unwrap().to_str().unwrap().to_owned();
                entries.push(deflated(&name, &fs::read(&child).unwrap()));
            }
        }
    }
    entries.sort_by(|a, b| a.name.cmp(&b.name));
    entries
}

//! Hands a job to the script that leads the browser, and fetches what judges pages. Read [`check`] first.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Mutex;

use crate::libraries::cache;
use base64::Engine;
use serde_json::Value;
use sha2::Digest;

/// What judges: name, version, the file in its package, and the digest of the package.
const JUDGES: [(&str, &str, &str, &str); 2] = [
    (
        "axe-core",
        "4.14.1",
        "axe.min.js",
        "FHfa+lmNjQZfJz1q8wKqIDwC6DExcHt/pkjNQb09a3NPjCKg2rhu5qb2S4r76ASyFNNtuFooJpZe37OgudVGtQ==",
    ),
    (
        "mermaid",
        "12.3.0",
        "dist/mermaid.min.js",
        "4113TdXeLAsMruJ79OpFL5O8+LTFXhQqZ260rF3tgUmiNAtRm4Uume04I+65PRN6yZ69J4f8rVYWW8zRk65UYw==",
    ),
];

pub fn checked(command: &mut Command, what: &str) -> Vec<u8> {
    let done = command.stdin(Stdio::null()).output().unwrap_or_else(|error| {
        panic!("{what}: {} cannot be started ({error}); scripts/test installs it", command.get_program().display())
    });
    let said = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success(), "{what}: {}\n{said}", String::from_utf8_lossy(&done.stdout));
    done.stdout
}

/// Does a job of `tests/judges/page/check.mjs`; fails with what it found wrong, and gives what else it found.
pub fn check(mut job: Value) -> Value {
    let browser = std::env::var("SECATEUR_CHROMIUM").unwrap_or_else(|_| "chromium".to_owned());
    job["browser"] = browser.into();
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("job.json");
    std::fs::write(&file, job.to_string()).unwrap();
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/judges/page/check.mjs");
    let out = checked(Command::new("node").arg(script).arg(file), "the page in a browser");
    let told: Value = serde_json::from_slice(&out).unwrap();
    let faults: Vec<&str> = told["faults"].as_array().unwrap().iter().map(|fault| fault.as_str().unwrap()).collect();
    assert!(faults.is_empty(), "{}:\n{}", job["what"], faults.join("\n"));
    told
}

/// The script of a judge, fetched once; a package with another digest than the one written here is refused.
pub fn judge(name: &str) -> PathBuf {
    // Tests of one binary run side by side, and each file is fetched by one of them.
    static FETCHING: Mutex<()> = Mutex::new(());
    let _alone = FETCHING.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    let (_, version, file, digest) = JUDGES.into_iter().find(|judge| judge.0 == name).unwrap();
    let home = cache::cache().join(format!("{name}-{version}"));
    if !home.is_dir() {
        let part = tempfile::tempdir_in(cache::cache()).unwrap();
        let mut pack = Command::new("npm");
        pack.args(["pack", "--silent", "--pack-destination"]).arg(part.path()).arg(format!("{name}@{version}"));
        checked(&mut pack, "fetching a judge of pages");
        let archive = part.path().join(format!("{name}-{version}.tgz"));
        let found =
            base64::engine::general_purpose::STANDARD.encode(sha2::Sha512::digest(std::fs::read(&archive).unwrap()));
        assert_eq!(found, digest, "{name} {version} is not the package that it was");
        checked(Command::new("tar").arg("xzf").arg(&archive).arg("-C").arg(part.path()), "unpacking a judge of pages");
        std::fs::rename(part.path().join("package"), &home).unwrap();
    }
    let script = home.join(file);
    assert!(script.is_file(), "{} is missing", script.display());
    script
}

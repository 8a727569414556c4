//! Services for the whole-job tests: built by Maven once, linked into a run-time image, started, asked over HTTP, stopped.
//!
//! Nothing here knows what is tested. Read [`Running::start`] first.

use std::collections::hash_map::DefaultHasher;
use std::env;
use std::fs::{self, File};
use std::hash::{Hash, Hasher};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Mutex;
use std::thread::sleep;
use std::time::{Duration, Instant};

#[path = "cache.rs"]
mod cache;

use cache::cache;

use tempfile::TempDir;

/// How long a build by Maven may take that has to download everything first.
const BUILD: Duration = Duration::from_mins(10);
/// How long the linker may take, and how long a service may take to come up, on a busy machine.
const START: Duration = Duration::from_mins(2);
/// How long a service may take over one answer.
const ANSWER: Duration = Duration::from_secs(30);

/// What a finished program left behind.
pub struct Finished {
    /// Exit status; `None` where a signal ended it.
    pub status: Option<i32>,
    pub stdout: String,
    pub stderr: String,
}

/// Runs a program to its end; a program that takes longer is killed and fails the test.
pub fn finish(command: &mut Command, limit: Duration) -> Finished {
    let dir = TempDir::new().expect("temporary folder");
    let mut child = spawn(command, dir.path());
    let deadline = Instant::now() + limit;
    let status = loop {
        if let Some(status) = child.try_wait().expect("status of a child") {
            break status;
        }
        if Instant::now() > deadline {
            child.kill().expect("kill");
            child.wait().expect("wait");
            panic!("{command:?} took longer than {limit:?}\n{}", output(dir.path()));
        }
        sleep(Duration::from_millis(20));
    };
    Finished { status: status.code(), stdout: text(dir.path(), "stdout"), stderr: text(dir.path(), "stderr") }
}

/// As [`finish`], for a program that must succeed; its standard output.
pub fn succeed(command: &mut Command, limit: Duration) -> String {
    let done = finish(command, limit);
    assert_eq!(done.status, Some(0), "{command:?}\n{}{}", done.stdout, done.stderr);
    done.stdout
}

/// Output goes to files, so that a program that says much never waits for a reader.
fn spawn(command: &mut Command, dir: &Path) -> Child {
    command
        .stdin(Stdio::null())
        .stdout(File::create(dir.join("stdout")).expect("output file"))
        .stderr(File::create(dir.join("stderr")).expect("output file"))
        .env_remove("JAVA_TOOL_OPTIONS")
        .env_remove("JDK_JAVA_OPTIONS")
        .env_remove("CLASSPATH")
        .spawn()
        .unwrap_or_else(|error| panic!("cannot start {command:?}: {error}"))
}

fn text(dir: &Path, name: &str) -> String {
    String::from_utf8_lossy(&fs::read(dir.join(name)).unwrap_or_default()).into_owned()
}

fn output(dir: &Path) -> String {
    text(dir, "stdout") + &text(dir, "stderr")
}

/// The archive that Maven builds from `tests/services/<name>`.
///
/// It is kept in `SECATEUR_TEST_CACHE` (else in the user's cache folder) under a name that changes with the sources.
pub fn built_by_maven(name: &str, java_home: &Path) -> PathBuf {
    static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());
    let _turn = ONE_AT_A_TIME.lock().unwrap_or_else(std::sync::PoisonError::into_inner);

    let sources = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/services").join(name);
    let mut hasher = DefaultHasher::new();
    let files = files_below(&sources);
    for file in &files {
        file.strip_prefix(&sources).expect("a file below").hash(&mut hasher);
        fs::read(file).expect("a source file").hash(&mut hasher);
    }
    let cached = cache().join(format!("{name}-{:016x}.jar", hasher.finish()));
    if cached.exists() {
        return cached;
    }
    let work = TempDir::new_in(cache()).expect("temporary folder in the test cache");
    for file in &files {
        let copy = work.path().join(file.strip_prefix(&sources).expect("a file below"));
        fs::create_dir_all(copy.parent().expect("a parent")).expect("folder");
        fs::copy(file, copy).expect("copy");
    }
    let mut maven = Command::new("mvn");
    maven.args(["--batch-mode", "--quiet", "package"]).current_dir(work.path()).env("JAVA_HOME", java_home);
    succeed(&mut maven, BUILD);
    fs::rename(work.path().join("target/service.jar"), &cached).expect("the built archive");
    cached
}

fn files_below(dir: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    let mut folders = vec![dir.to_path_buf()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("a folder of sources") {
            let path = entry.expect("an entry").path();
            if path.is_dir() { folders.push(path) } else { files.push(path) }
        }
    }
    files.sort();
    files
}

/// A run-time image that holds the modules of a comma-separated list; removed when dropped.
pub struct Image {
    dir: TempDir,
}

impl Image {
    pub fn link(jdk: &Path, modules: &str) -> Self {
        let dir = TempDir::new().expect("temporary folder");
        let mut linker = Command::new(jdk.join("bin/jlink"));
        linker.args(["--no-header-files", "--no-man-pages", "--add-modules", modules, "--output"]);
        succeed(linker.arg(dir.path().join("image")), START);
        Self { dir }
    }

    /// Its launcher. With the environment cleared of other JDKs, nothing else can supply a class.
    pub fn java(&self) -> Command {
        let home = self.dir.path().join("image");
        let mut java = Command::new(home.join("bin/java"));
        java.env("JAVA_HOME", &home);
        java
    }

    /// The modules that the linker put in, which include what its roots require.
    pub fn modules(&self) -> Vec<String> {
        let listed = succeed(self.java().arg("--list-modules"), ANSWER);
        listed.lines().filter_map(|line| Some(line.split('@').next()?.to_owned())).collect()
    }
}

/// A service that has said where it listens; killed when dropped.
pub struct Running {
    child: Child,
    output: TempDir,
    address: String,
}

impl Running {
    /// Starts the service and waits for its line `listening on http://HOST:PORT`.
    pub fn start(command: &mut Command) -> Self {
        let output_dir = TempDir::new().expect("temporary folder");
        let child = spawn(command, output_dir.path());
        let mut running = Self { child, output: output_dir, address: String::new() };
        let deadline = Instant::now() + START;
        loop {
            let said = text(running.output.path(), "stdout");
            let line = said.lines().find_map(|line| line.strip_prefix("listening on http://"));
            // A line without its end may be half a line.
            if let Some(address) = line.filter(|_| said.ends_with('\n')) {
                address.clone_into(&mut running.address);
                return running;
            }
            let ended = running.child.try_wait().expect("status of a child");
            assert!(ended.is_none(), "the service ended with {ended:?}\n{}", output(running.output.path()));
            assert!(Instant::now() < deadline, "no service after {START:?}\n{}", output(running.output.path()));
            sleep(Duration::from_millis(50));
        }
    }

    pub fn get(&self, path: &str) -> (u16, String) {
        self.exchange("GET", path, "text/plain", "")
    }

    pub fn post(&self, path: &str, content_type: &str, body: &str) -> (u16, String) {
        self.exchange("POST", path, content_type, body)
    }

    /// One HTTP/1.1 exchange (RFC 9112): status code, and everything after the header fields, chunk sizes included.
    fn exchange(&self, method: &str, path: &str, content_type: &str, body: &str) -> (u16, String) {
        let mut stream = TcpStream::connect(&self.address).expect("a connection to the service");
        stream.set_read_timeout(Some(ANSWER)).expect("timeout");
        write!(
            stream,
            "{method} {path} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\nContent-Type: {content_type}\r\n\
             Content-Length: {}\r\n\r\n{body}",
            self.address,
            body.len()
        )
        .expect("a request sent");
        let mut bytes = Vec::new();
        let read = stream.read_to_end(&mut bytes);
        let answer = String::from_utf8_lossy(&bytes);
        read.unwrap_or_else(|error| panic!("{error} after {answer:?}\n{}", output(self.output.path())));
        let status = answer.split(' ').nth(1).and_then(|code| code.parse().ok());
        let rest = answer.split_once("\r\n\r\n").map(|(_, rest)| rest.to_owned());
        match (status, rest) {
            (Some(status), Some(rest)) => (status, rest),
            _ => panic!("not an HTTP answer: {answer:?}\n{}", output(self.output.path())),
        }
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        // It may have ended by itself, and then there is nothing to kill.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

//! A program that says `ready`, and the number of its process, once it can be looked at. Read [`Running::start`].

use std::fs::{self, File};
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use tempfile::TempDir;

/// How long it may take until it is ready, on a busy machine.
const START: Duration = Duration::from_mins(3);

/// Killed when dropped.
pub struct Running {
    child: Child,
    output: TempDir,
    /// The number of its process, as tools take it.
    pub pid: String,
}

impl Running {
    /// Starts a program and waits until it is ready; what it said, where it ended before.
    pub fn start(command: &mut Command) -> Result<Running, String> {
        let output = TempDir::new().expect("temporary folder");
        let file = |name: &str| File::create(output.path().join(name)).expect("output file");
        command.stdin(Stdio::null()).stdout(file("stdout")).stderr(file("stderr"));
        command.env_remove("JAVA_TOOL_OPTIONS").env_remove("JDK_JAVA_OPTIONS").env_remove("CLASSPATH");
        let child = command.spawn().expect("the program can be started");
        let mut running = Running { child, output, pid: String::new() };
        let deadline = Instant::now() + START;
        loop {
            let ended = running.child.try_wait().expect("status of a child").is_some();
            let said = running.said();
            // A line without its end may be half a line.
            let whole = said.rsplit_once('\n').map_or("", |(lines, _)| lines);
            if let Some(pid) = whole.lines().find_map(|line| line.strip_prefix("ready ")) {
                pid.clone_into(&mut running.pid);
                return Ok(running);
            }
            if ended {
                return Err(said);
            }
            assert!(Instant::now() < deadline, "not ready after {START:?}\n{said}");
            sleep(Duration::from_millis(20));
        }
    }

    /// What it has printed so far.
    pub fn said(&self) -> String {
        let text = |name| fs::read(self.output.path().join(name)).unwrap_or_default();
        ["stdout", "stderr"].map(|name| String::from_utf8_lossy(&text(name)).into_owned()).concat()
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        // It may have ended by itself, and then there is nothing to kill.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

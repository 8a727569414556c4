//! What the JVM does with a case when the module is there and when it is not.
//!
//! Answers are kept under the build folder, by a key of everything that they depend on: sources, JDK, this file.
//! [`judge`] is the place to begin.

use std::collections::hash_map::DefaultHasher;
use std::fs::{self, File};
use std::hash::{Hash, Hasher};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

use crate::build::{Built, work};
use crate::case::{Case, Effect, Judge};
use crate::jdk;

/// What the JVM showed.
#[derive(Clone, Debug)]
pub struct Shown {
    /// The effect, or why there is none: the program failed with the module, too.
    pub effect: Result<Effect, String>,
    /// The last line of the run without the module.
    pub said: String,
}

/// Runs every case on a release; answers stand in the order of the cases, `None` where a case is not for it.
pub fn judge(cases: &[Case], built: &[Built], release: u16) -> Vec<Option<Shown>> {
    let next = AtomicUsize::new(0);
    let shown: Mutex<Vec<Option<Shown>>> = Mutex::new(vec![None; cases.len()]);
    let modules = Modules::of(release);
    thread::scope(|scope| {
        for _ in 0..thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(|| {
                while let Some((index, case)) = next_case(&next, cases) {
                    let answer = case.effect(release).map(|_| recall(case, &built[index], release, &modules));
                    shown.lock().unwrap()[index] = answer;
                }
            });
        }
    });
    shown.into_inner().unwrap()
}

fn next_case<'a>(next: &AtomicUsize, cases: &'a [Case]) -> Option<(usize, &'a Case)> {
    let index = next.fetch_add(1, Ordering::Relaxed);
    Some((index, cases.get(index)?))
}

/// The modules of a JDK, from its `release` file, and all of that file for the key.
pub struct Modules {
    text: String,
    names: Vec<String>,
}

impl Modules {
    /// Those of the JDK for that release.
    pub fn of(release: u16) -> Modules {
        let text = fs::read_to_string(jdk::jdk(release).join("release")).unwrap();
        let line = text.lines().find_map(|line| line.strip_prefix("MODULES=")).unwrap();
        let names = line.trim_matches('"').split(' ').map(String::from).collect();
        Modules { text, names }
    }

    /// Whether the JDK has the module.
    pub fn has(&self, name: &str) -> bool {
        self.names.iter().any(|own| own == name)
    }
}

/// The answer of an earlier run where nothing changed, else of a run now.
fn recall(case: &Case, built: &Built, release: u16, modules: &Modules) -> Shown {
    let mut hasher = DefaultHasher::new();
    (built.key, &modules.text, include_str!("judge.rs"), jdk::jdk(release)).hash(&mut hasher);
    let key = hasher.finish().to_string();
    let file = work().join("shown").join(release.to_string()).join(case.id.replace('/', "-"));
    if let Some([old, effect, said]) = fs::read_to_string(&file).ok().as_deref().map(lines)
        && old == key
        && let Some(effect) = Effect::of(effect)
    {
        return Shown { effect: Ok(effect), said: said.into() };
    }
    let shown = look(case, built, release, modules);
    if let Ok(effect) = &shown.effect {
        fs::create_dir_all(file.parent().unwrap()).unwrap();
        fs::write(&file, format!("{key}\n{}\n{}", effect.tag(), shown.said)).unwrap();
    }
    shown
}

fn lines(text: &str) -> [&str; 3] {
    let mut parts = text.splitn(3, '\n');
    [(); 3].map(|()| parts.next().unwrap_or_default())
}

fn look(case: &Case, built: &Built, release: u16, modules: &Modules) -> Shown {
    let mut with: Vec<&str> = std::iter::once("java.base").chain(case.also.iter().map(String::as_str)).collect();
    let without = start(case, built, release, &with, "without");
    if !modules.has(&case.module) {
        // Nothing can be taken away that the release does not have.
        let effect = if without.succeeded { Ok(Effect::Fine) } else { Err(without.tail()) };
        return Shown { effect, said: without.tail() };
    }
    with.push(&case.module);
    let whole = start(case, built, release, &with, "with");
    let effect = if !whole.succeeded || whole.out.is_empty() || whole.out.contains("without: ") {
        Err(format!("with the module: {}", whole.tail()))
    } else if !without.succeeded {
        Ok(Effect::Breaks)
    } else if without.out == whole.out {
        Ok(Effect::Fine)
    } else if without.out.lines().any(|line| line.starts_with("without: ")) {
        Ok(Effect::Guarded)
    } else {
        Ok(Effect::Degrades)
    };
    Shown { effect, said: without.tail() }
}

struct Run {
    succeeded: bool,
    out: String,
    err: String,
}

impl Run {
    fn tail(&self) -> String {
        let line = self.err.lines().find(|line| line.contains("Error") || line.contains("Exception"));
        line.or(self.out.lines().last()).unwrap_or_default().trim().to_string()
    }
}

fn start(case: &Case, built: &Built, release: u16, modules: &[&str], label: &str) -> Run {
    let list = modules.join(",");
    let mut command = match case.judge {
        Judge::Limit => {
            let mut command = Command::new(jdk::tool(release, "java"));
            command.arg("--limit-modules").arg(&list);
            command
        }
        Judge::Image => Command::new(image(release, &list).join("bin/java")),
    };
    command.args(["-Xshare:auto", "-XX:TieredStopAtLevel=1", "-Xmx128m"]).args(&case.options);
    if case.packed {
        command.arg("-jar").arg(&built.program);
    } else {
        let library = built.library.iter().filter(|_| case.library_on_path);
        let class_path = std::env::join_paths(std::iter::once(&built.program).chain(library)).unwrap();
        command.arg("-cp").arg(class_path).arg(case.main_class());
    }
    command.args(&case.arguments).current_dir(&built.place);
    for variable in ["JAVA_TOOL_OPTIONS", "JDK_JAVA_OPTIONS", "_JAVA_OPTIONS", "CLASSPATH"] {
        command.env_remove(variable);
    }
    command.env("LC_ALL", "C.UTF-8").env("TZ", "UTC");
    let logs = work().join("logs").join(release.to_string());
    fs::create_dir_all(&logs).unwrap();
    let log = |end: &str| logs.join(format!("{}-{label}.{end}", case.id.replace('/', "-")));
    finish(&mut command, &log("out"), &log("err"))
}

fn finish(command: &mut Command, out: &Path, err: &Path) -> Run {
    command.stdin(Stdio::null()).stdout(File::create(out).unwrap()).stderr(File::create(err).unwrap());
    let mut child = command.spawn().unwrap_or_else(|error| panic!("{command:?}: {error}"));
    let begun = Instant::now();
    let status = loop {
        if let Some(status) = child.try_wait().unwrap() {
            break Some(status);
        }
        if begun.elapsed() > Duration::from_mins(1) {
            child.kill().unwrap();
            child.wait().unwrap();
            break None;
        }
        thread::sleep(Duration::from_millis(5));
    };
    let text = |path: &Path| String::from_utf8_lossy(&fs::read(path).unwrap()).into_owned();
    let mut run = Run { succeeded: status.is_some_and(|status| status.success()), out: text(out), err: text(err) };
    if status.is_none() {
        run.err.push_str("\nError: still running after a minute");
    }
    run
}

/// A linked image of those modules, made once.
fn image(release: u16, modules: &str) -> PathBuf {
    static LINKING: Mutex<()> = Mutex::new(());
    let home = work().join("images").join(release.to_string()).join(modules);
    let _one_at_a_time = LINKING.lock().unwrap_or_else(PoisonError::into_inner);
    if !home.join("release").exists() {
        let _ = fs::remove_dir_all(&home);
        fs::create_dir_all(home.parent().unwrap()).unwrap();
        let mut link = Command::new(jdk::tool(release, "jlink"));
        link.args(["--ignore-signing-information", "--no-header-files", "--no-man-pages", "--add-modules", modules]);
        let output = link.arg("--output").arg(&home).output().unwrap();
        assert!(output.status.success(), "{link:?}: {}", String::from_utf8_lossy(&output.stdout));
    }
    home
}

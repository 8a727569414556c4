//! Turns the Java sources of the suite into one class path per case.
//!
//! One compiler run serves all cases of a release, since starting a compiler costs more than compiling; the classes
//! are then dealt out by name, so that a scan of one case sees nothing of another. See [`build`].

use std::collections::hash_map::DefaultHasher;
use std::fs::{self, File};
use std::hash::{Hash, Hasher};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

use zip::write::{SimpleFileOptions, ZipWriter};

use crate::case::{self, Case, folder};
use crate::jdk;

/// Where one case can be run and scanned.
#[derive(Clone, Debug)]
pub struct Built {
    /// The class folder, or the jar made of it.
    pub program: PathBuf,
    /// The separate jar, where the case has one.
    pub library: Option<PathBuf>,
    /// The folder in which the program runs.
    pub place: PathBuf,
    /// Changes whenever a source or a file of the case changes.
    pub key: u64,
}

/// The folder for everything that the suite makes.
pub fn work() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join("micro")
}

/// Compiles and lays out all cases; the answers stand in the order of the cases.
pub fn build(cases: &[Case]) -> Vec<Built> {
    for compiler in [17, 25] {
        compile(compiler, cases);
    }
    let mut dealt: Vec<(u16, PathBuf)> = Vec::new();
    for compiler in [17, 25] {
        dealt.extend(files_below(&classes(compiler)).into_iter().map(|path| (compiler, path)));
    }
    cases.iter().map(|case| lay_out(case, cases, &dealt)).collect()
}

fn classes(compiler: u16) -> PathBuf {
    work().join(format!("classes-{compiler}"))
}

fn compile(compiler: u16, cases: &[Case]) {
    let out = classes(compiler);
    let sources: Vec<&Path> = cases.iter().filter(|case| case.compiler == compiler).map(|case| &*case.java).collect();
    let key = key_of(sources.iter().map(|path| path.to_path_buf()).chain([case::home().join("Forge.java")]));
    let stamp = out.with_extension("stamp");
    if fs::read_to_string(&stamp).is_ok_and(|old| old == key.to_string()) {
        return;
    }
    let _ = fs::remove_file(&stamp);
    let _ = fs::remove_dir_all(&out);
    javac(compiler, &sources, &out, None);
    run(Command::new(jdk::tool(25, "java")).arg(case::home().join("Forge.java")).arg(&out));
    fs::write(&stamp, key.to_string()).unwrap();
}

/// Compiles without `--release`, so that types beyond Java SE can be named.
fn javac(compiler: u16, sources: &[&Path], out: &Path, class_path: Option<&Path>) {
    let mut command = Command::new(jdk::tool(compiler, "javac"));
    command.args(["-nowarn", "-proc:none", "-Xlint:none", "-encoding", "UTF-8", "-J-XX:TieredStopAtLevel=1"]);
    command.args(["--add-modules", "jdk.incubator.vector", "-implicit:none", "-sourcepath", "", "-d"]).arg(out);
    command.arg("-cp").arg(class_path.unwrap_or(out));
    run(command.args(sources));
}

fn run(command: &mut Command) {
    let output = command.output().unwrap_or_else(|error| panic!("{command:?}: {error}"));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{command:?}\n{said}");
}

fn lay_out(case: &Case, cases: &[Case], dealt: &[(u16, PathBuf)]) -> Built {
    let place = work().join("cases").join(&case.group).join(&case.name);
    let (folder, library) = (place.join("classes"), place.join("lib.jar"));
    let own: Vec<&Path> = dealt
        .iter()
        .filter(|(compiler, path)| *compiler == case.compiler && owner(path, cases) == Some(&case.id))
        .map(|(_, path)| &**path)
        .collect();
    let further = case.files().map(|files| files_below(&files)).unwrap_or_default();
    let sources = further.iter().cloned().chain([case.java.clone(), case::home().join("Forge.java")]);
    let key = key_of(sources);
    let built = Built {
        program: if case.packed { place.join("app.jar") } else { folder.clone() },
        library: Some(library.clone()).filter(|_| !case.library.is_empty()),
        place: if case.packed { place.clone() } else { folder.clone() },
        key,
    };
    let stamp = place.join("stamp");
    if fs::read_to_string(&stamp).is_ok_and(|old| old == key.to_string()) {
        return built;
    }
    let _ = fs::remove_dir_all(&place);
    let mut in_library: Vec<(String, Vec<u8>)> = Vec::new();
    for path in own {
        let name = path.file_name().unwrap().to_string_lossy();
        let mut bytes = fs::read(path).unwrap();
        if let Some(version) = case.version {
            bytes[6..8].copy_from_slice(&version.to_be_bytes());
        }
        if case.library.iter().any(|nested| name.starts_with(&format!("{}${nested}", case.name))) {
            in_library.push((format!("{}/{name}", case.group), bytes));
        } else {
            write(&folder.join(&case.group).join(&*name), &bytes);
        }
    }
    for path in &further {
        let inside = path.strip_prefix(case.files().unwrap()).unwrap();
        if path.extension().is_some_and(|end| end == "java") {
            // A version of a class for one release: its folder says where the class goes.
            let target = folder.join(inside.parent().unwrap());
            javac(case.compiler, &[path], &target, Some(&folder));
        } else {
            write(&folder.join(inside), &fs::read(path).unwrap());
        }
    }
    if !in_library.is_empty() {
        pack(&library, &in_library);
    }
    if case.packed {
        let entries = files_below(&folder).into_iter().map(|path| {
            let name = path.strip_prefix(&folder).unwrap().to_string_lossy().replace('\\', "/");
            (name, fs::read(&path).unwrap())
        });
        pack(&place.join("app.jar"), &entries.collect::<Vec<_>>());
        fs::remove_dir_all(&folder).unwrap();
    }
    fs::write(&stamp, key.to_string()).unwrap();
    built
}

/// The case whose name is the longest beginning of the class's name.
fn owner<'a>(class: &Path, cases: &'a [Case]) -> Option<&'a String> {
    let name = class.file_name()?.to_string_lossy();
    let group = class.parent()?.file_name()?.to_string_lossy();
    let fits = cases.iter().filter(|case| case.group == group && name.starts_with(&case.name));
    fits.max_by_key(|case| case.name.len()).map(|case| &case.id)
}

fn pack(path: &Path, entries: &[(String, Vec<u8>)]) {
    let mut zip = ZipWriter::new(File::create(path).unwrap());
    let options = SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored);
    let manifest = |name: &str| name != "META-INF/MANIFEST.MF";
    let mut sorted: Vec<_> = entries.iter().collect();
    // JarFile finds a manifest anywhere; JarInputStream only at the beginning.
    sorted.sort_by_key(|(name, _)| (manifest(name), name.clone()));
    for (name, bytes) in sorted {
        zip.start_file(name.as_str(), options).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap();
}

fn write(path: &Path, bytes: &[u8]) {
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, bytes).unwrap();
}

fn files_below(root: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for path in folder(root) {
        if path.is_dir() {
            files.extend(files_below(&path));
        } else {
            files.push(path);
        }
    }
    files
}

fn key_of(paths: impl Iterator<Item = PathBuf>) -> u64 {
    let mut hasher = DefaultHasher::new();
    include_str!("build.rs").hash(&mut hasher);
    for path in paths {
        path.hash(&mut hasher);
        fs::read(&path).unwrap().hash(&mut hasher);
    }
    hasher.finish()
}

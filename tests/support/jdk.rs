//! The JDKs that tests take as judges.

#![allow(clippy::panic, reason = "a test that finds no JDK fails")]

use std::env;
use std::fs;
use std::path::{Path, PathBuf};

/// The home of a JDK of that feature release.
///
/// `SECATEUR_JDK_<release>` names it; otherwise the first one, by path, in the places where systems keep their JDKs.
/// A test that needs a JDK and finds none fails: it must not pass unseen.
pub fn jdk(release: u16) -> PathBuf {
    let variable = format!("SECATEUR_JDK_{release}");
    if let Some(home) = env::var_os(&variable) {
        let home = PathBuf::from(home);
        let found = feature_release(&home);
        assert_eq!(found, Some(release), "{variable}={} is not the home of a JDK {release}", home.display());
        return home;
    }
    candidates()
        .into_iter()
        .find(|home| feature_release(home) == Some(release))
        .unwrap_or_else(|| panic!("no JDK {release} found: install one, or set {variable} to its home"))
}

/// The program of that name in a JDK.
#[allow(dead_code, reason = "not every test that includes this file starts a program")]
pub fn tool(release: u16, name: &str) -> PathBuf {
    jdk(release).join("bin").join(name)
}

fn candidates() -> Vec<PathBuf> {
    let mut homes: Vec<PathBuf> = env::var_os("JAVA_HOME").map(PathBuf::from).into_iter().collect();
    let user = env::var_os("HOME").map(PathBuf::from).unwrap_or_default();
    let places = [
        PathBuf::from("/usr/lib/jvm"),
        PathBuf::from("/usr/java"),
        PathBuf::from("/opt"),
        PathBuf::from("/opt/java"),
        PathBuf::from("/opt/hostedtoolcache/Java_Temurin-Hotspot_jdk"),
        PathBuf::from("/Library/Java/JavaVirtualMachines"),
        user.join(".sdkman/candidates/java"),
        user.join(".jdks"),
    ];
    for place in places {
        let mut found: Vec<PathBuf> = fs::read_dir(&place)
            .map(|list| list.filter_map(|entry| Some(entry.ok()?.path())).collect())
            .unwrap_or_default();
        found.sort();
        for home in found {
            homes.push(home.join("Contents/Home"));
            homes.push(home.join("x64"));
            homes.push(home);
        }
    }
    homes
}

/// The feature release in a home's `release` file, where it has a compiler, so that it is no mere run-time image.
fn feature_release(home: &Path) -> Option<u16> {
    if !home.join("bin/javac").exists() && !home.join("bin/javac.exe").exists() {
        return None;
    }
    let text = fs::read_to_string(home.join("release")).ok()?;
    let version = text.lines().find_map(|line| line.strip_prefix("JAVA_VERSION="))?.trim_matches('"');
    version.split(['.', '-', '+']).next()?.parse().ok()
}

//! Figures of a JDK, kept between runs.
//!
//! The first functions to read are [`find`] and [`store`]. A file is a digest and the figures as JSON. Its name is a digest
//! of what tells one JDK from another: its `release` file, and sizes and times of what the figures were taken from. Files
//! may be deleted at any time; one that is damaged is said to be so and written anew.

use std::fmt::Write as _;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

use sha2::{Digest, Sha256};

use super::figures::Figures;

/// Rises with every change of what figures mean.
const FORMAT: &str = "secateur figures 2";
/// No figures come near this; a longer file is none of ours.
const MAX_BYTES: u64 = 64 << 20;

/// What the cache had to say.
pub(super) enum Found {
    /// Whole figures.
    Figures(Box<Figures>),
    /// No file.
    Nothing,
    /// A file that is not what was written; the reason names it.
    Damaged(String),
}

/// The file for a JDK, where there can be one, and what it holds.
pub(super) fn find(home: &Path) -> (Option<PathBuf>, Found) {
    let path = folder().and_then(|folder| file(&folder, home));
    let found = path.as_deref().map_or(Found::Nothing, load);
    (path, found)
}

/// The user's cache folder: `$XDG_CACHE_HOME/secateur`, or `~/.cache/secateur` (XDG Base Directory Specification);
/// `%LOCALAPPDATA%\secateur` on Windows.
fn folder() -> Option<PathBuf> {
    let variable = |name: &str| std::env::var_os(name).map(PathBuf::from).filter(|path| path.is_absolute());
    let base = variable("XDG_CACHE_HOME").or_else(|| variable("LOCALAPPDATA"));
    let base = base.or_else(|| variable("HOME").map(|home| home.join(".cache")))?;
    Some(base.join("secateur"))
}

/// The file for a JDK below the cache folder; `None` where its files cannot be looked at.
fn file(folder: &Path, home: &Path) -> Option<PathBuf> {
    let mut digest = Sha256::new();
    digest.update(FORMAT);
    digest.update(fs::read(home.join("release")).ok()?);
    let mut parts = vec![home.join("lib/modules"), home.join("lib/security/cacerts"), home.join("lib/tzdb.dat")];
    if let Ok(list) = fs::read_dir(home.join("jmods")) {
        parts.extend(list.filter_map(Result::ok).map(|entry| entry.path()));
    }
    parts.sort();
    for part in parts {
        // A part that a JDK does not have tells it from one that has.
        let metadata = fs::metadata(&part).ok();
        let name = part.strip_prefix(home).unwrap_or(&part).to_string_lossy().into_owned();
        let length = metadata.as_ref().map_or(0, fs::Metadata::len);
        let time = metadata.and_then(|metadata| metadata.modified().ok()?.duration_since(UNIX_EPOCH).ok());
        digest.update(format!("\n{name} {length} {}", time.map_or(0, |time| time.as_nanos())));
    }
    Some(folder.join(format!("figures-{}.json", hex(&digest.finalize()))))
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().take(16).fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// What a file holds.
fn load(path: &Path) -> Found {
    let damaged = |reason: &str| Found::Damaged(format!("{}: {reason}", path.display()));
    match fs::metadata(path) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Found::Nothing,
        Err(error) => return damaged(&error.to_string()),
        Ok(metadata) if metadata.len() > MAX_BYTES => return damaged("it is longer than figures can be"),
        Ok(_) => {}
    }
    let text = match fs::read_to_string(path) {
        Ok(text) => text,
        Err(error) => return damaged(&error.to_string()),
    };
    let Some((digest, json)) = text.split_once('\n') else { return damaged("it has no digest") };
    if digest != hex(&Sha256::digest(json)) {
        return damaged("its digest is that of something else");
    }
    match serde_json::from_str(json) {
        Ok(figures) => Found::Figures(Box::new(figures)),
        Err(error) => damaged(&error.to_string()),
    }
}

/// Writes figures so that whoever reads sees all of them or none. The error is a reason that names the file.
pub(super) fn store(path: &Path, figures: &Figures) -> Result<(), String> {
    let whole = |error: std::io::Error| format!("{}: {error}", path.display());
    let json = serde_json::to_string(figures).map_err(|error| error.to_string())?;
    let folder = path.parent().unwrap_or(Path::new("."));
    fs::create_dir_all(folder).map_err(whole)?;
    let mut file = tempfile::NamedTempFile::new_in(folder).map_err(whole)?;
    write!(file, "{}\n{json}", hex(&Sha256::digest(&json))).map_err(whole)?;
    file.persist(path).map_err(|error| whole(error.error))?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_come_back_and_damage_is_seen() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("deep/figures.json");
        assert!(matches!(load(&path), Found::Nothing));
        let figures = super::super::built_in::nearest(17).unwrap();
        store(&path, figures).unwrap();
        assert!(matches!(load(&path), Found::Figures(read) if *read == *figures));
        let mut text = fs::read_to_string(&path).unwrap();
        let digit = text.rfind(|letter: char| letter.is_ascii_digit()).unwrap();
        text.replace_range(digit..=digit, "x");
        fs::write(&path, text).unwrap();
        assert!(matches!(load(&path), Found::Damaged(reason) if reason.contains("figures.json")));
    }
}

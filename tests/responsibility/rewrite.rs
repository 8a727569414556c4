//! Programs written anew without one of their archives. First to read is [`without`].
//!
//! Where a container looks for what it is to run, a class stays that does nothing: a web archive without classes, or an
//! enterprise archive without modules, is scanned as a library, of which all that is public may be called, and that would
//! be another program.

use std::fs;
use std::io::{Cursor, Read, Write};
use std::path::{Path, PathBuf};

use ::zip::write::SimpleFileOptions;
use ::zip::{CompressionMethod, ZipArchive, ZipWriter};

use super::zip::{archive, stored};

/// The inputs short of the archive with that locator; what is rewritten goes into `folder`.
pub fn without(inputs: &[PathBuf], locator: &str, folder: &Path) -> Vec<PathBuf> {
    let mut parts = locator.split("!/");
    let outer = parts.next().unwrap();
    let inside: Vec<&str> = parts.collect();
    let mut left = Vec::new();
    for input in inputs {
        if input.to_str() != Some(outer) {
            left.push(input.clone());
        } else if !inside.is_empty() {
            let path = folder.join(input.file_name().unwrap());
            fs::write(&path, short_of(&fs::read(input).unwrap(), &inside)).unwrap();
            left.push(path);
        }
    }
    if left.is_empty() {
        let empty = folder.join("empty");
        fs::create_dir_all(&empty).unwrap();
        left.push(empty);
    }
    left
}

/// A class `Nothing` without any member (JVMS §4.1), for release 17.
fn nothing() -> Vec<u8> {
    let mut class = vec![0xCA, 0xFE, 0xBA, 0xBE, 0, 0, 0, 61, 0, 5];
    for (name, at) in [("Nothing", 2), ("java/lang/Object", 4)] {
        class.extend([7, 0, at, 1, 0, name.len() as u8]);
        class.extend(name.as_bytes());
    }
    class.extend([0, 0x21, 0, 1, 0, 3, 0, 0, 0, 0, 0, 0, 0, 0]);
    class
}

/// An archive short of what the path names: an archive within it, or a folder.
fn short_of(bytes: &[u8], path: &[&str]) -> Vec<u8> {
    let mut from = ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut to = ZipWriter::new(Cursor::new(Vec::new()));
    let folder = format!("{}/", path[0].trim_end_matches('/'));
    // The layout of executable jars wants nested ones stored.
    let plain = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    let mut found = false;
    for at in 0..from.len() {
        let mut entry = from.by_index(at).unwrap();
        let name = entry.name().unwrap().into_owned();
        let is_it = name == path[0] || path.len() == 1 && name.starts_with(&folder) && !name.ends_with('/');
        if !is_it {
            to.raw_copy_file(entry).unwrap();
            continue;
        }
        if name.starts_with(&folder) && !std::mem::replace(&mut found, true) {
            to.start_file(format!("{folder}Nothing.class"), plain).unwrap();
            to.write_all(&nothing()).unwrap();
        }
        found = true;
        if path.len() > 1 {
            let mut nested = Vec::new();
            entry.read_to_end(&mut nested).unwrap();
            to.start_file(&name, plain).unwrap();
            to.write_all(&short_of(&nested, &path[1..])).unwrap();
        } else if Path::new(&name).extension().is_some_and(|extension| extension == "war") {
            to.start_file(&name, plain).unwrap();
            to.write_all(&archive(&[stored("WEB-INF/classes/Nothing.class", &nothing())])).unwrap();
        }
    }
    assert!(found, "{path:?} is not there");
    to.finish().unwrap().into_inner()
}

//! The files below a folder, in sorted order, whatever links and loops stand in the way.
//!
//! The first function to read is [`list`].

use std::fs;
use std::path::{Path, PathBuf};

use super::fault::Fault;
use crate::diag::Code;
use crate::limits::Limits;

/// One file below a folder.
pub(crate) struct Found {
    /// Path from the folder, with `/` between its parts.
    pub(crate) path: String,
    /// Bytes, as the file system says.
    pub(crate) size: u64,
}

/// All files below `root`, sorted by path; faults come with the path they are about.
///
/// Symbolic links are followed, as the class loader follows them, except one that leads back to a folder which it
/// stands in.
pub(crate) fn list(root: &Path, limits: &Limits) -> (Vec<Found>, Vec<(String, Fault)>) {
    let mut walk = Walk { limits, above: Vec::new(), seen: 0, found: Vec::new(), faults: Vec::new() };
    walk.folder(root, "", 0);
    walk.found.sort_by(|a, b| a.path.cmp(&b.path));
    (walk.found, walk.faults)
}

struct Walk<'a> {
    limits: &'a Limits,
    /// Real paths of the folders that the current one stands in.
    above: Vec<PathBuf>,
    /// Files and folders met.
    seen: usize,
    found: Vec<Found>,
    faults: Vec<(String, Fault)>,
}

impl Walk<'_> {
    /// Recursion is bounded by `folder-depth`.
    fn folder(&mut self, folder: &Path, path: &str, depth: usize) {
        let unreadable = |error: std::io::Error| Fault::new(Code::UnreadableInput, error.to_string());
        if depth > self.limits.folder_depth {
            let what = format!("folders stand {depth} deep");
            return self.faults.push((path.to_owned(), Fault::limit("folder-depth", what)));
        }
        let real = match fs::canonicalize(folder) {
            Ok(real) => real,
            Err(error) => return self.faults.push((path.to_owned(), unreadable(error))),
        };
        if self.above.contains(&real) {
            return;
        }
        let children = match fs::read_dir(folder).and_then(Iterator::collect::<Result<Vec<_>, _>>) {
            Ok(children) => children,
            Err(error) => return self.faults.push((path.to_owned(), unreadable(error))),
        };
        let mut names: Vec<_> = children.into_iter().map(|child| child.file_name()).collect();
        names.sort();
        self.above.push(real);
        for name in names {
            if self.seen >= self.limits.entries_per_archive {
                let what = format!("the folder has more than {} files and folders", self.limits.entries_per_archive);
                self.faults.push((path.to_owned(), Fault::limit("entries-per-archive", what)));
                break;
            }
            self.seen += 1;
            let below = |name: &str| if path.is_empty() { name.to_owned() } else { format!("{path}/{name}") };
            let Some(text) = name.to_str() else {
                let fault = Fault::new(Code::UnreadableInput, "the file name is not UTF-8");
                self.faults.push((below(&name.to_string_lossy()), fault));
                continue;
            };
            let here = below(text);
            match fs::metadata(folder.join(&name)) {
                Ok(meta) if meta.is_dir() => self.folder(&folder.join(&name), &here, depth + 1),
                Ok(meta) if meta.is_file() && here.len() > self.limits.name_bytes => {
                    let what = format!("a path has {} bytes", here.len());
                    self.faults.push((path.to_owned(), Fault::limit("name-bytes", what)));
                }
                Ok(meta) if meta.is_file() => self.found.push(Found { path: here, size: meta.len() }),
                // Sockets, pipes and devices hold no classes, and opening one may never return.
                Ok(_) => {}
                Err(error) => self.faults.push((here, unreadable(error))),
            }
        }
        self.above.pop();
    }
}

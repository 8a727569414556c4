//! The one place where a result goes: opened before the work starts, and never seen half written.
//!
//! The first function to read is [`Output::open`].

use std::fs;
use std::io::{self, BufWriter, IsTerminal, Write};
use std::path::{Path, PathBuf};

use secateur::error::Error;
use secateur::report::style::{Colour, Medium, Style};
use tempfile::NamedTempFile;

/// Where the result will be.
pub enum Output {
    /// Standard output.
    Standard,
    /// A file that takes its name only once it is whole.
    File {
        /// Its name.
        path: PathBuf,
        /// Its bytes, beside it under another name.
        draft: NamedTempFile,
    },
    /// Something that cannot be replaced: a device or a pipe.
    Device {
        /// Its name.
        path: PathBuf,
        /// It itself.
        file: fs::File,
    },
}

impl Output {
    /// Opens `path`, or standard output.
    pub fn open(path: Option<&Path>) -> Result<Self, Error> {
        let Some(path) = path.filter(|path| *path != Path::new("-")) else { return Ok(Output::Standard) };
        let failed = |source| Error::Output { path: path.to_owned(), source: bare(source) };
        // A symbolic link stays one: the file that it leads to is replaced.
        let path = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
        match fs::metadata(&path) {
            Ok(found) if found.is_dir() => return Err(failed(io::ErrorKind::IsADirectory.into())),
            Ok(found) if !found.is_file() => {
                let file = fs::OpenOptions::new().write(true).open(&path).map_err(failed)?;
                return Ok(Output::Device { path, file });
            }
            _ => {}
        }
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let mut draft = tempfile::Builder::new();
        draft.prefix(".secateur-").suffix(".part");
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            // As any new file: the process's mask takes from it what the user wants taken.
            draft.permissions(fs::Permissions::from_mode(0o666));
        }
        let draft = draft.tempfile_in(folder).map_err(failed)?;
        Ok(Output::File { path, draft })
    }

    /// How text looks here.
    pub fn style(&self, colour: Colour, width: Option<u16>) -> Style {
        let terminal = matches!(self, Output::Standard) && io::stdout().is_terminal();
        let medium = Medium {
            no_color: std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty()),
            dumb: std::env::var_os("TERM").is_some_and(|value| value == "dumb"),
            terminal,
            columns: terminal.then(terminal_size::terminal_size).flatten().map(|(columns, _)| columns.0),
        };
        Style::decide(colour, width, medium)
    }

    /// Writes the result. A reader who has seen enough and closed the pipe is no error.
    pub fn write(self, print: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), Error> {
        match self {
            Output::Standard => {
                let mut out = BufWriter::new(io::stdout().lock());
                finish("-".as_ref(), print(&mut out).and_then(|()| out.flush()))
            }
            Output::Device { path, file } => {
                let mut out = BufWriter::new(file);
                finish(&path, print(&mut out).and_then(|()| out.flush()))
            }
            Output::File { path, draft } => {
                let mut out = BufWriter::new(draft);
                print(&mut out)
                    .and_then(|()| out.into_inner().map_err(io::IntoInnerError::into_error))
                    .and_then(|draft| draft.persist(&path).map_err(|error| error.error))
                    .map_err(|source| Error::Output { path, source })?;
                Ok(())
            }
        }
    }
}

/// What the system said, without the name of a draft that `tempfile` puts behind it: nobody has heard of that.
fn bare(told: io::Error) -> io::Error {
    match told.to_string().split_once(" at path ") {
        Some((said, _)) if told.get_ref().is_some() => io::Error::new(told.kind(), said),
        _ => told,
    }
}

fn finish(path: &Path, written: io::Result<()>) -> Result<(), Error> {
    match written {
        Err(source) if source.kind() != io::ErrorKind::BrokenPipe => {
            Err(Error::Output { path: path.to_owned(), source })
        }
        _ => Ok(()),
    }
}

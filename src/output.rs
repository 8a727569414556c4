//! Where an answer goes: opened before any work is done, whole or not at all.

use std::fs::File;
use std::io::{self, BufWriter, IsTerminal, Write};
use std::path::{Path, PathBuf};

use secateur::error::Error;
use secateur::report::style::{Colour, Medium, Style};

/// A destination.
pub enum Output {
    /// Standard output.
    Standard,
    /// A file: written under a temporary name beside it and renamed when it is whole.
    File {
        /// The name asked for.
        path: PathBuf,
        /// The name until then.
        part: PathBuf,
        /// The open file.
        file: File,
    },
}

impl Output {
    /// Opens a destination; `None` is standard output.
    pub fn open(path: Option<&Path>) -> Result<Self, Error> {
        let Some(path) = path.filter(|path| *path != Path::new("-")) else { return Ok(Output::Standard) };
        let mut part = path.as_os_str().to_owned();
        part.push(format!(".{}.part", std::process::id()));
        let part = PathBuf::from(part);
        match File::create(&part) {
            Ok(file) => Ok(Output::File { path: path.to_owned(), part, file }),
            Err(source) => Err(Error::Output { path: path.to_owned(), source }),
        }
    }

    /// How text looks here.
    pub fn style(&self, colour: Colour, width: Option<u16>) -> Style {
        let terminal = matches!(self, Output::Standard) && io::stdout().is_terminal();
        let medium = Medium {
            no_color: std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty()),
            dumb: std::env::var_os("TERM").is_some_and(|value| value == "dumb"),
            terminal,
            columns: terminal.then(columns).flatten(),
        };
        Style::decide(colour, width, medium)
    }

    /// Writes the answer. A reader that has seen enough and closed the pipe is no error.
    pub fn write(self, render: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), Error> {
        match self {
            Output::Standard => {
                let mut out = BufWriter::new(io::stdout().lock());
                match render(&mut out).and_then(|()| out.flush()) {
                    Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
                    Err(source) => Err(Error::Output { path: "-".into(), source }),
                    Ok(()) => Ok(()),
                }
            }
            Output::File { path, part, file } => {
                let mut out = BufWriter::new(file);
                let written = render(&mut out).and_then(|()| out.flush()).and_then(|()| std::fs::rename(&part, &path));
                written.map_err(|source| {
                    // The error that matters is the one in hand; a part that stays behind is the lesser evil.
                    let _ = std::fs::remove_file(&part);
                    Error::Output { path, source }
                })
            }
        }
    }

    /// Leaves no part behind where there is no answer to write.
    pub fn abandon(self) {
        if let Output::File { part, .. } = self {
            let _ = std::fs::remove_file(part);
        }
    }
}

/// The terminal's width, as the shell or the terminal says.
fn columns() -> Option<u16> {
    std::env::var("COLUMNS").ok()?.parse().ok()
}

//! Errors that end a run. Whatever leaves something to be said is a [`crate::diag::Diagnostic`] instead.

use std::path::PathBuf;

/// Why a run ended without an answer.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// The arguments or the configuration contradict themselves or name something that does not exist.
    #[error("{0}")]
    Usage(String),
    /// An input that the user named cannot be read at all.
    #[error("cannot read {}: {source}", path.display())]
    Input {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// A result cannot be written.
    #[error("cannot write {}: {source}", path.display())]
    Output {
        /// The destination; `-` for standard output.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// A folder given as a JDK is none, or is damaged.
    #[error("{} is not a JDK that can be read: {reason}", path.display())]
    Jdk {
        /// The folder.
        path: PathBuf,
        /// What is wrong with it, naming file and entry.
        reason: String,
    },
    /// A trial was broken off; whatever it had started has been ended.
    #[error("the trial was broken off, and what it had started is ended")]
    BrokenOff,
    /// The program itself is at fault, for example an embedded catalogue cannot be read.
    #[error("internal fault: {0}")]
    Internal(String),
}

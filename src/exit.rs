//! What a process says by its exit status. The numbers do not overlap: 3 never means wrong usage, 1 never a fault.

use std::process::ExitCode;

use secateur::error::Error;

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// All was read and said.
    Fine,
    /// The trial of a command showed no list that passes.
    TrialFailed,
    /// Arguments or configuration are wrong.
    Usage,
    /// The answer was printed, and it may lack something.
    Incomplete,
    /// Input could not be read or output not written.
    Io,
    /// A fault of this program.
    Fault,
}

impl Exit {
    /// The status of an answer.
    pub fn of_answer(complete: bool) -> Self {
        if complete { Exit::Fine } else { Exit::Incomplete }
    }

    /// The status of an error.
    pub fn of_error(error: &Error) -> Self {
        match error {
            Error::Usage(_) => Exit::Usage,
            Error::BrokenOff => Exit::TrialFailed,
            Error::Input { .. } | Error::Output { .. } | Error::Jdk { .. } => Exit::Io,
            _ => Exit::Fault,
        }
    }

    /// The number.
    pub fn status(self) -> u8 {
        match self {
            Exit::Fine => 0,
            Exit::TrialFailed => 1,
            Exit::Usage => 2,
            Exit::Incomplete => 3,
            Exit::Io => 4,
            Exit::Fault => 70,
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        ExitCode::from(exit.status())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn statuses_are_the_documented_ones_and_differ() {
        let all = [Exit::Fine, Exit::TrialFailed, Exit::Usage, Exit::Incomplete, Exit::Io, Exit::Fault];
        assert_eq!(all.map(Exit::status), [0, 1, 2, 3, 4, 70]);
    }

    #[test]
    fn errors_map_to_what_their_owner_can_mend() {
        assert_eq!(Exit::of_error(&Error::Usage(String::new())), Exit::Usage);
        assert_eq!(Exit::of_error(&Error::Internal(String::new())), Exit::Fault);
        let jdk = Error::Jdk { path: "jdk".into(), reason: String::new() };
        assert_eq!(Exit::of_error(&jdk), Exit::Io);
    }
}

//! Linking a run-time image of a list, in a temporary folder. The function to read is [`link`].

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicUsize;
use std::time::Duration;

use crate::error::Error;

use super::command::{Ending, run};
use super::{Account, environment, output};

/// How long the linker may take.
const LIMIT: Duration = Duration::from_mins(10);

/// Links an image below `folder`; where the linker refuses, what it said.
pub(super) fn link(
    jdk: &Path,
    list: &str,
    folder: &Path,
    stop: &AtomicUsize,
) -> Result<Result<PathBuf, Account>, Error> {
    let (linker, image) = (jdk.join("bin/jlink"), folder.join("image"));
    if !linker.is_file() {
        let ending = format!("{} is not there, so no image can be linked", linker.display());
        return Ok(Err(Account { ending, ..Account::default() }));
    }
    let words: Vec<OsString> =
        vec![linker.into(), "--add-modules".into(), list.into(), "--output".into(), image.clone().into()];
    let ran = run(&words, &environment::bare(), folder, LIMIT, stop)?;
    if ran.ending == Ending::Status(0) {
        return Ok(Ok(image));
    }
    let mut account = output::account(&ran);
    account.ending = format!("the linker: {}", account.ending);
    Ok(Err(account))
}

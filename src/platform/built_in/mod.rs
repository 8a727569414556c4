//! The embedded catalogues: one file per release, written by `scripts/catalogue`, read here.
//!
//! The first function to read is [`open`]; `layout.md` beside this file describes the bytes.

mod decode;
#[cfg(feature = "catalogue")]
pub(super) mod encode;

use super::store::Store;
use super::{Catalogue, Source};
use crate::error::Error;

/// Begins every file.
pub(super) const MAGIC: [u8; 4] = *b"SCTR";
/// Rises with every change of the layout.
pub(super) const FORMAT: u8 = 1;

macro_rules! files {
    ($( $release:literal )+) => {
        const FILES: &[(u16, &[u8])] = &[ $( ($release, include_bytes!(concat!("r", $release, ".bin"))), )+ ];
    };
}

files! { 9 10 11 12 13 14 15 16 17 18 19 20 21 22 23 24 25 }

/// The catalogue of a release.
pub(super) fn open(release: u16) -> Result<Catalogue, Error> {
    let Some((_, bytes)) = FILES.iter().find(|(of, _)| *of == release) else {
        let known = Catalogue::BUILT_IN;
        return Err(Error::Usage(format!(
            "release {release} has no built-in catalogue; there is one for each release from {} to {}",
            known.start(),
            known.end()
        )));
    };
    read(release, bytes).map_err(|reason| Error::Internal(format!("built-in catalogue of release {release}: {reason}")))
}

/// The catalogue of `release` in the bytes of one of these files; the error is a reason.
pub(super) fn read(release: u16, bytes: &[u8]) -> Result<Catalogue, String> {
    let contents = decode::read(bytes)?;
    if contents.release != release {
        return Err(format!("it is that of release {}", contents.release));
    }
    let mut catalogue = Catalogue::assemble(release, Source::BuiltIn, contents.modules, Store::Table(contents.types))?;
    catalogue.made_from = contents.made_from;
    Ok(catalogue)
}

//! From an entry to its bytes.
//!
//! The first function to read is [`Reader::read`].

use std::io::Read;

use super::fault::Fault;
use super::inflate::{Cap, Inflater};
use super::{Archive, Entry, Store};
use crate::diag::{Code, Diagnostic};
use crate::limits::Limits;

/// Reads entries, one after the other; keeps the inflater and its buffer. One per thread.
pub struct Reader {
    inflater: Inflater,
    file: Vec<u8>,
    cap: Cap,
}

impl Reader {
    /// A reader that keeps to `limits`.
    pub fn new(limits: &Limits) -> Self {
        Reader { inflater: Inflater::new(), file: Vec::new(), cap: Cap::entry(limits) }
    }

    /// The bytes of an entry of `archive`: a part of the archive where stored, else in the reader's buffer until the
    /// next call. Size and CRC-32 have been checked against the directory.
    pub fn read<'a>(&'a mut self, archive: &'a Archive, entry: &Entry) -> Result<&'a [u8], Box<Diagnostic>> {
        let bytes = match &archive.store {
            Store::Bytes(bytes) => self.inflater.read(bytes, &entry.packed, self.cap),
            Store::Folder(folder) => {
                let path = folder.join(&*entry.path);
                self.cap.admits(&entry.packed).and_then(|()| {
                    self.file.clear();
                    // A file may have grown since it was listed; one byte more than was listed tells.
                    let file = std::fs::File::open(path)
                        .and_then(|file| file.take(entry.size + 1).read_to_end(&mut self.file));
                    match file {
                        Ok(length) if length as u64 == entry.size => Ok(self.file.as_slice()),
                        Ok(_) => Err(Fault::new(Code::UnreadableInput, "the file changed while it was read")),
                        Err(error) => Err(Fault::new(Code::UnreadableInput, error.to_string())),
                    }
                })
            }
        };
        bytes.map_err(|fault| Box::new(fault.at(archive.locate(entry))))
    }
}

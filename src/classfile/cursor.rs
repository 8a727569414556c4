//! Reading big-endian numbers from a part of a class file, never past its end.
//!
//! A cursor over an attribute keeps the file's first byte as its origin, so that every error names an offset in the
//! file. The first function to read is [`Cursor::split`].

use super::error::{Error, ErrorKind};

/// A place in a class file, and the end of the structure being read.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cursor<'a> {
    /// The file up to the end of the structure.
    bytes: &'a [u8],
    /// Never above `bytes.len()`.
    at: usize,
}

impl<'a> Cursor<'a> {
    pub(super) fn new(bytes: &'a [u8], at: usize) -> Self {
        Cursor { bytes, at: at.min(bytes.len()) }
    }

    pub(super) fn offset(&self) -> usize {
        self.at
    }

    pub(super) fn is_at_end(&self) -> bool {
        self.at == self.bytes.len()
    }

    pub(super) fn rest(&self) -> &'a [u8] {
        self.bytes.get(self.at..).unwrap_or_default()
    }

    pub(super) fn error(&self, kind: ErrorKind) -> Error {
        Error::new(self.at, kind)
    }

    #[inline]
    pub(super) fn u1(&mut self) -> Result<u8, Error> {
        let [a] = self.array()?;
        Ok(a)
    }

    #[inline]
    pub(super) fn u2(&mut self) -> Result<u16, Error> {
        Ok(u16::from_be_bytes(self.array()?))
    }

    #[inline]
    pub(super) fn u4(&mut self) -> Result<u32, Error> {
        Ok(u32::from_be_bytes(self.array()?))
    }

    #[inline]
    pub(super) fn array<const N: usize>(&mut self) -> Result<[u8; N], Error> {
        match self.bytes.get(self.at..).and_then(<[u8]>::first_chunk::<N>) {
            Some(chunk) => {
                self.at += N;
                Ok(*chunk)
            }
            None => Err(self.error(ErrorKind::Truncated)),
        }
    }

    #[inline]
    pub(super) fn take(&mut self, length: usize) -> Result<&'a [u8], Error> {
        let end = self.at.checked_add(length);
        match end.and_then(|end| self.bytes.get(self.at..end)) {
            Some(taken) => {
                self.at += length;
                Ok(taken)
            }
            None => Err(self.error(ErrorKind::Truncated)),
        }
    }

    /// The next `length` bytes as a structure of their own; this cursor goes on behind them.
    #[inline]
    pub(super) fn split(&mut self, length: usize) -> Result<Cursor<'a>, Error> {
        let end = self.at.checked_add(length);
        match end.and_then(|end| self.bytes.get(..end)) {
            Some(bytes) => {
                let part = Cursor { bytes, at: self.at };
                self.at += length;
                Ok(part)
            }
            None => Err(self.error(ErrorKind::Truncated)),
        }
    }
}

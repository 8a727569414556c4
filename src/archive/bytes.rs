//! Little-endian numbers and slices at offsets that may be lies; and the memory that archives stand in.
//!
//! The first thing to read is [`Bytes`].

use std::fs::File;
use std::ops::{Deref, Range};
use std::sync::Arc;

use memmap2::Mmap;

/// `length` bytes from `at`, where they exist.
pub(crate) fn slice(bytes: &[u8], at: u64, length: u64) -> Option<&[u8]> {
    let start = usize::try_from(at).ok()?;
    let end = usize::try_from(at.checked_add(length)?).ok()?;
    bytes.get(start..end)
}

fn array<const N: usize>(bytes: &[u8], at: usize) -> Option<[u8; N]> {
    bytes.get(at..)?.first_chunk().copied()
}

/// The 16-bit number at `at`.
pub(crate) fn u16_at(bytes: &[u8], at: usize) -> Option<u16> {
    array(bytes, at).map(u16::from_le_bytes)
}

/// The 32-bit number at `at`.
pub(crate) fn u32_at(bytes: &[u8], at: usize) -> Option<u32> {
    array(bytes, at).map(u32::from_le_bytes)
}

/// The 64-bit number at `at`.
pub(crate) fn u64_at(bytes: &[u8], at: usize) -> Option<u64> {
    array(bytes, at).map(u64::from_le_bytes)
}

/// What keeps the bytes alive.
enum Owner {
    Map(Mmap),
    Heap(Vec<u8>),
}

/// Bytes of an archive: a mapped file, an inflated nested archive, or a part of either. Cheap to clone.
#[derive(Clone)]
pub(crate) struct Bytes {
    owner: Arc<Owner>,
    range: Range<usize>,
}

impl Bytes {
    /// Maps a file. An empty file, which cannot be mapped, gives no bytes.
    pub(crate) fn map(file: &File) -> std::io::Result<Self> {
        if file.metadata()?.len() == 0 {
            return Ok(Bytes::from(Vec::new()));
        }
        // SAFETY: the map is read-only and private to this process. Should another process shorten the file during the
        // run, reading past its new end raises SIGBUS and ends the run: no answer, never a wrong one. Measured to pay:
        // nested archives are read in place, and the pages of what nobody asks for are never read at all.
        #[allow(unsafe_code)]
        let map = unsafe { Mmap::map(file)? };
        Ok(Bytes { range: 0..map.len(), owner: Arc::new(Owner::Map(map)) })
    }

    /// Gives the pages of a mapped file back, which come again from the file when somebody reads there: what has been read
    /// whole and is asked for again here and there need not count as this process's memory.
    #[cfg(unix)]
    pub(crate) fn release(&self) {
        if let Owner::Map(map) = &*self.owner {
            // SAFETY: the map is shared with the file and never written to, so a page that is dropped comes back with the
            // same bytes. Measured to pay: an eighth of the peak memory of a scan of 279 jars.
            #[allow(unsafe_code)]
            let released = unsafe { map.unchecked_advise(memmap2::UncheckedAdvice::DontNeed) };
            // No more than advice: without it the pages stay.
            let _ = released;
        }
    }

    /// Elsewhere the system decides alone.
    #[cfg(not(unix))]
    pub(crate) fn release(&self) {}

    /// The part of these bytes that `part`, a slice of them, covers.
    pub(crate) fn part(&self, part: &[u8]) -> Option<Self> {
        let whole: &[u8] = self;
        let offset = (part.as_ptr() as usize).checked_sub(whole.as_ptr() as usize)?;
        whole.get(offset..offset.checked_add(part.len())?)?;
        let start = self.range.start + offset;
        Some(Bytes { owner: Arc::clone(&self.owner), range: start..start + part.len() })
    }
}

impl From<Vec<u8>> for Bytes {
    fn from(heap: Vec<u8>) -> Self {
        Bytes { range: 0..heap.len(), owner: Arc::new(Owner::Heap(heap)) }
    }
}

impl Deref for Bytes {
    type Target = [u8];

    fn deref(&self) -> &[u8] {
        let whole: &[u8] = match &*self.owner {
            Owner::Map(map) => map,
            Owner::Heap(heap) => heap,
        };
        whole.get(self.range.clone()).unwrap_or_default()
    }
}

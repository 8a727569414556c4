//! From a member's packed bytes to its real ones, within limits.
//!
//! The first function to read is [`Inflater::read`]. What the directory states is checked, not believed: the output
//! buffer is never larger than the limits allow, sizes must agree to the byte and the CRC-32 must match.

use libdeflater::{DecompressionError, Decompressor};

use super::fault::Fault;
use super::zip::{Method, Packed};
use crate::diag::Code;
use crate::limits::Limits;

/// Below this many inflated bytes the ratio is not looked at: a page of zeros is no attack.
const RATIO_FLOOR: u64 = 1 << 20;

/// A buffer that grew beyond this for one large entry is given back before the next.
const KEPT_BUFFER: usize = 4 << 20;

/// The maxima for one member.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cap {
    name: &'static str,
    bytes: u64,
    ratio: u64,
}

impl Cap {
    /// For a member that is no archive.
    pub(crate) fn entry(limits: &Limits) -> Self {
        Cap { name: "entry-bytes", bytes: limits.entry_bytes, ratio: limits.ratio }
    }

    /// For a nested archive.
    pub(crate) fn nested(limits: &Limits) -> Self {
        Cap { name: "nested-archive-bytes", bytes: limits.nested_archive_bytes, ratio: limits.ratio }
    }

    /// Judges what the directory states, before any memory is taken.
    pub(crate) fn admits(&self, packed: &Packed) -> Result<(), Fault> {
        let size = packed.size;
        if packed.method == Method::BeyondRun {
            return Err(Fault::limit("run-bytes", "the entries before this one take all that a run may read"));
        }
        if size > self.bytes {
            return Err(Fault::limit(self.name, format!("the entry has {size} bytes, {} are allowed", self.bytes)));
        }
        if size > RATIO_FLOOR && size / packed.compressed.max(1) > self.ratio {
            let what = format!("{} bytes would inflate to {size}", packed.compressed);
            return Err(Fault::limit("ratio", what));
        }
        Ok(())
    }
}

/// Inflates members one after the other into one buffer.
pub(crate) struct Inflater {
    deflate: Decompressor,
    buffer: Vec<u8>,
}

impl Inflater {
    /// With an empty buffer.
    pub(crate) fn new() -> Self {
        Inflater { deflate: Decompressor::new(), buffer: Vec::new() }
    }

    /// The bytes of a member of `archive`: a part of `archive` where stored, else in the buffer until the next call.
    pub(crate) fn read<'a>(&'a mut self, archive: &'a [u8], packed: &Packed, cap: Cap) -> Result<&'a [u8], Fault> {
        let raw = admitted(archive, packed, cap)?;
        if packed.method == Method::Stored {
            return stored(raw, packed);
        }
        let size = usize::try_from(packed.size).map_err(|_| Fault::limit(cap.name, "larger than the address space"))?;
        if self.buffer.len() > KEPT_BUFFER && size < KEPT_BUFFER {
            self.buffer = Vec::new();
        }
        if self.buffer.len() < size {
            self.buffer.resize(size, 0);
        }
        let out = self.buffer.get_mut(..size).unwrap_or_default();
        inflate(&mut self.deflate, raw, out, packed)?;
        Ok(out)
    }

    /// The bytes of a deflated member in memory of their own.
    pub(crate) fn read_owned(&mut self, archive: &[u8], packed: &Packed, cap: Cap) -> Result<Vec<u8>, Fault> {
        let raw = admitted(archive, packed, cap)?;
        if packed.method == Method::Stored {
            return stored(raw, packed).map(<[u8]>::to_vec);
        }
        let size = usize::try_from(packed.size).map_err(|_| Fault::limit(cap.name, "larger than the address space"))?;
        let mut out = vec![0; size];
        inflate(&mut self.deflate, raw, &mut out, packed)?;
        Ok(out)
    }
}

/// The packed bytes of a member that can be read and is within its limits.
fn admitted<'a>(archive: &'a [u8], packed: &Packed, cap: Cap) -> Result<&'a [u8], Fault> {
    let unsupported = |reason: String| Err(Fault::new(Code::UnsupportedEntry, reason));
    match packed.method {
        // The last is turned away below, as it is for a file on disk.
        Method::Stored | Method::Deflated | Method::BeyondRun => {}
        Method::Encrypted => return unsupported("the entry is encrypted; the JVM refuses the archive".to_owned()),
        Method::Other(method) => {
            return unsupported(format!(
                "compression method {method} is not one that the JVM reads; it refuses the archive"
            ));
        }
        Method::Overlapping => {
            return Err(Fault::new(Code::OverlappingEntries, "not read: its bytes belong to another entry"));
        }
    }
    cap.admits(packed)?;
    packed.raw(archive)
}

fn stored<'a>(raw: &'a [u8], packed: &Packed) -> Result<&'a [u8], Fault> {
    if packed.size != raw.len() as u64 {
        let reason = format!("{} bytes are stored, the directory states {}", raw.len(), packed.size);
        return Err(Fault::new(Code::DamagedEntry, reason));
    }
    check(raw, packed)?;
    Ok(raw)
}

fn inflate(deflate: &mut Decompressor, raw: &[u8], out: &mut [u8], packed: &Packed) -> Result<(), Fault> {
    let damaged = |reason: String| Err(Fault::new(Code::DamagedEntry, reason));
    match deflate.deflate_decompress(raw, out) {
        Ok(length) if length == out.len() => check(out, packed),
        Ok(length) => damaged(format!("inflates to {length} bytes, the directory states {}", packed.size)),
        Err(DecompressionError::InsufficientSpace) => {
            damaged(format!("inflates to more than the {} bytes that the directory states", packed.size))
        }
        Err(DecompressionError::BadData) => damaged("its compressed data is damaged".to_owned()),
    }
}

fn check(bytes: &[u8], packed: &Packed) -> Result<(), Fault> {
    let found = libdeflater::crc32(bytes);
    if found == packed.crc {
        return Ok(());
    }
    let reason = format!("CRC-32 is {found:08x}, the directory states {:08x}", packed.crc);
    Err(Fault::new(Code::DamagedEntry, reason))
}

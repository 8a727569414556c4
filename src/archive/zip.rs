//! The central directory of a ZIP file: what stands in it and where, every offset checked before it is used.
//!
//! The first function to read is [`Directory::read`]. It knows nothing of jars. The layout is that of PKWARE's
//! APPNOTE.TXT (sections 4.3.7, 4.3.12, 4.3.14 to 4.3.16, 4.5.3); where that leaves room, `java.util.zip.ZipFile` decides, since the
//! JVM is who reads the archive in the end: the end record is found backwards, the directory ends where the end
//! record starts, and whatever stands before the first member is a prefix that offsets do not count. A packaged
//! platform module (`JM\x01\x00`, JEP 261) counts its four bytes in the offsets, which the same arithmetic covers.
//!
//! A walker of our own rather than a library: a class path has 140,000 members, and a library that builds a map of
//! owned records takes many times as long and drops the duplicate names that a jar may hold.

use std::borrow::Cow;

use super::bytes::{slice, u16_at, u32_at, u64_at};
use super::fault::Fault;
use crate::diag::Code;
use crate::limits::Limits;

const LOCAL_HEADER: u32 = 0x0403_4B50;
const DIRECTORY_HEADER: u32 = 0x0201_4B50;
const END: u32 = 0x0605_4B50;
const END_64: u32 = 0x0606_4B50;
const END_64_LOCATOR: u32 = 0x0706_4B50;

const LOCAL_HEADER_BYTES: u64 = 30;
const DIRECTORY_HEADER_BYTES: u64 = 46;
const END_BYTES: u64 = 22;
const END_64_BYTES: u64 = 56;
const END_64_LOCATOR_BYTES: u64 = 20;

/// The value of a 32-bit field whose real value stands in the zip64 extra field.
const IN_ZIP64: u64 = 0xFFFF_FFFF;

/// How a member's bytes are kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Method {
    /// As they are (method 0).
    Stored,
    /// By DEFLATE (method 8).
    Deflated,
    /// With a password.
    Encrypted,
    /// In some other way that the JVM does not read either.
    Other(u16),
    /// In bytes that belong to another member.
    Overlapping,
    /// In bytes that the run has no room for.
    BeyondRun,
}

/// Where a member's bytes are and what the directory states about them (none of which is to be believed).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Packed {
    /// How.
    pub(crate) method: Method,
    /// CRC-32 of the inflated bytes.
    pub(crate) crc: u32,
    /// Offset of the local header from the start of the bytes, prefix included.
    pub(crate) header: u64,
    /// Bytes in the archive.
    pub(crate) compressed: u64,
    /// Bytes once inflated.
    pub(crate) size: u64,
}

/// One entry of the directory.
#[derive(Clone, Debug)]
pub(crate) struct Member<'a> {
    /// The name; bytes that are no UTF-8 are replaced, and a fault tells.
    pub(crate) name: Cow<'a, str>,
    /// Where its bytes are.
    pub(crate) packed: Packed,
}

impl Member<'_> {
    /// Whether it stands for a folder.
    pub(crate) fn is_folder(&self) -> bool {
        self.name.ends_with('/')
    }
}

/// All that a ZIP file says it holds, in directory order.
#[derive(Debug, Default)]
pub(crate) struct Directory<'a> {
    /// Folders included, duplicate names included.
    pub(crate) members: Vec<Member<'a>>,
    /// What was amiss: the name of the member where it is about one.
    pub(crate) faults: Vec<(Option<Box<str>>, Fault)>,
}

/// What the end records say.
struct End {
    /// Where the directory starts, from the start of the bytes.
    start: u64,
    /// Where it ends.
    stop: u64,
    /// What to add to the offset of each local header.
    prefix: u64,
    /// Number of members stated; only its low 16 bits where there is no zip64 record.
    count: u64,
    wide: bool,
}

impl<'a> Directory<'a> {
    /// Reads the directory of the ZIP file that `bytes` ends with.
    ///
    /// An error means that there is no directory to be found. Damage within it ends up in [`Directory::faults`]
    /// beside the members that could be read.
    pub(crate) fn read(bytes: &'a [u8], limits: &Limits) -> Result<Directory<'a>, Fault> {
        let end = find_end(bytes)?;
        let mut directory = Directory::default();
        // Reserved from the bytes that are there, never from the count that the end record claims.
        let room = (end.stop - end.start) / DIRECTORY_HEADER_BYTES;
        directory.members.reserve(limits.entries_per_archive.min(room as usize).min(1 << 16));
        let mut at = end.start;
        let mut met_limit = false;
        while at + DIRECTORY_HEADER_BYTES <= end.stop {
            if directory.members.len() >= limits.entries_per_archive {
                let what = format!("the archive has more than {} entries", limits.entries_per_archive);
                directory.faults.push((None, Fault::limit("entries-per-archive", what)));
                met_limit = true;
                break;
            }
            let Some(next) = directory.read_member(bytes, at, &end, limits) else {
                let reason =
                    format!("the central directory breaks off at byte {at}, {} entries in", directory.members.len());
                directory.faults.push((None, Fault::new(Code::DamagedArchive, reason)));
                met_limit = true;
                break;
            };
            at = next;
        }
        let found = directory.members.len() as u64;
        let agrees = if end.wide { found == end.count } else { found & 0xFFFF == end.count };
        if !met_limit && (!agrees || at != end.stop) {
            let reason = format!("the end record states {} entries, the central directory holds {found}", end.count);
            directory.faults.push((None, Fault::new(Code::DamagedArchive, reason)));
        }
        directory.bar_overlaps(end.start);
        Ok(directory)
    }

    /// Reads the header at `at`; returns where the next one starts.
    fn read_member(&mut self, bytes: &'a [u8], at: u64, end: &End, limits: &Limits) -> Option<u64> {
        let header = slice(bytes, at, DIRECTORY_HEADER_BYTES)?;
        if u32_at(header, 0)? != DIRECTORY_HEADER {
            return None;
        }
        let flags = u16_at(header, 8)?;
        let method = u16_at(header, 10)?;
        let crc = u32_at(header, 16)?;
        let mut compressed = u64::from(u32_at(header, 20)?);
        let mut size = u64::from(u32_at(header, 24)?);
        let name_length = u64::from(u16_at(header, 28)?);
        let extra_length = u64::from(u16_at(header, 30)?);
        let comment_length = u64::from(u16_at(header, 32)?);
        let mut offset = u64::from(u32_at(header, 42)?);
        let name_at = at + DIRECTORY_HEADER_BYTES;
        let next = name_at + name_length + extra_length + comment_length;
        if next > end.stop {
            return None;
        }
        let raw = slice(bytes, name_at, name_length)?;
        if raw.len() > limits.name_bytes {
            let what = format!("an entry's name has {} bytes", raw.len());
            self.faults.push((None, Fault::limit("name-bytes", what)));
            return Some(next);
        }
        let name = String::from_utf8_lossy(raw);
        if let Cow::Owned(name) = &name {
            let fault = Fault::new(Code::DamagedEntry, "the name is not UTF-8; the JVM refuses the archive");
            self.faults.push((Some(name.as_str().into()), fault));
        }
        if compressed == IN_ZIP64 || size == IN_ZIP64 || offset == IN_ZIP64 {
            let extra = slice(bytes, name_at + name_length, extra_length)?;
            if widen(extra, [&mut size, &mut compressed, &mut offset]).is_none() {
                let fault = Fault::new(Code::DamagedEntry, "its zip64 field is too short");
                self.faults.push((Some(name.into_owned().into()), fault));
                return Some(next);
            }
        }
        let method = match method {
            _ if flags & 1 != 0 => Method::Encrypted,
            0 => Method::Stored,
            8 => Method::Deflated,
            other => Method::Other(other),
        };
        let header = offset.saturating_add(end.prefix);
        self.members.push(Member { name, packed: Packed { method, crc, header, compressed, size } });
        Some(next)
    }

    /// Bars every member whose bytes begin within those of another, or run into the directory: this is how a small
    /// file unfolds without end, and no honest tool writes it.
    fn bar_overlaps(&mut self, directory_start: u64) {
        let mut order: Vec<usize> = (0..self.members.len()).collect();
        let header_of = |&at: &usize| self.members.get(at).map_or(0, |member| member.packed.header);
        if !order.is_sorted_by_key(header_of) {
            order.sort_by_key(header_of);
        }
        let mut free = 0;
        for at in order {
            let Some(member) = self.members.get_mut(at) else { continue };
            let packed = &mut member.packed;
            // The local header's own name and extra field are at least as long as nothing; counting the fixed part
            // only keeps this check off the pages of the file that nobody has read yet.
            let end = packed.header.saturating_add(LOCAL_HEADER_BYTES).saturating_add(packed.compressed);
            let reason = if packed.header < free {
                "shares bytes with another entry"
            } else if end > directory_start {
                "runs into the central directory"
            } else {
                free = end;
                continue;
            };
            packed.method = Method::Overlapping;
            let fault = Fault::new(Code::OverlappingEntries, reason);
            self.faults.push((Some(member.name.as_ref().into()), fault));
        }
    }
}

impl Packed {
    /// For a file on disk, which is its own and only member.
    pub(crate) fn of_file(size: u64) -> Self {
        Packed { method: Method::Stored, crc: 0, header: 0, compressed: size, size }
    }

    /// The bytes as they stand in the archive.
    pub(crate) fn raw<'a>(&self, archive: &'a [u8]) -> Result<&'a [u8], Fault> {
        let local =
            slice(archive, self.header, LOCAL_HEADER_BYTES).filter(|header| u32_at(header, 0) == Some(LOCAL_HEADER));
        let lengths = local.and_then(|header| Some((u16_at(header, 26)?, u16_at(header, 28)?)));
        let Some((name, extra)) = lengths else {
            return Err(Fault::new(Code::DamagedEntry, format!("no local header at byte {}", self.header)));
        };
        let start = self.header + LOCAL_HEADER_BYTES + u64::from(name) + u64::from(extra);
        slice(archive, start, self.compressed)
            .ok_or_else(|| Fault::new(Code::DamagedEntry, "its bytes run past the end of the archive"))
    }
}

/// Takes 64-bit values from the zip64 extra field (APPNOTE 4.5.3): only the fields that are full, in this order.
fn widen(mut extra: &[u8], fields: [&mut u64; 3]) -> Option<()> {
    loop {
        let length = u64::from(u16_at(extra, 2)?);
        let body = slice(extra, 4, length)?;
        if u16_at(extra, 0)? == 1 {
            let mut at = 0;
            for field in fields {
                if *field == IN_ZIP64 {
                    *field = u64_at(body, at)?;
                    at += 8;
                }
            }
            return Some(());
        }
        extra = extra.get(4 + length as usize..)?;
    }
}

/// Finds the end record: the last one whose comment reaches exactly to the end of the bytes, or which at least points
/// at a directory (padding after the comment occurs in the wild; the JVM accepts it on the same terms).
fn find_end(bytes: &[u8]) -> Result<End, Fault> {
    let damaged = |reason: &str| Fault::new(Code::DamagedArchive, reason);
    let length = bytes.len() as u64;
    let Some(last) = length.checked_sub(END_BYTES) else {
        return Err(damaged("not a ZIP file: shorter than an end record"));
    };
    let first = last.saturating_sub(0xFFFF);
    let mut at = last + 1;
    while at > first {
        at -= 1;
        let Some(record) = slice(bytes, at, END_BYTES) else { break };
        if u32_at(record, 0) != Some(END) {
            continue;
        }
        let comment = u16_at(record, 20).unwrap_or_default();
        let exact = at + END_BYTES + u64::from(comment) == length;
        match read_end(bytes, record, at) {
            Some(end) if exact || points_at_members(bytes, &end) => return Ok(end),
            None if exact => return Err(damaged("the end record places the central directory outside the file")),
            _ => {}
        }
    }
    Err(damaged("not a ZIP file: no end record found"))
}

/// Whether a directory header stands where the end record says, and a local header at the first member's place.
fn points_at_members(bytes: &[u8], end: &End) -> bool {
    let signature = |at: u64| slice(bytes, at, 4).and_then(|b| u32_at(b, 0));
    signature(end.start) == Some(DIRECTORY_HEADER) && signature(end.prefix) == Some(LOCAL_HEADER)
}

/// Reads the end record at `at`, with the zip64 one before it where there is one.
fn read_end(bytes: &[u8], record: &[u8], at: u64) -> Option<End> {
    let mut count = u64::from(u16_at(record, 10)?);
    let mut length = u64::from(u32_at(record, 12)?);
    let mut offset = u64::from(u32_at(record, 16)?);
    let mut stop = at;
    let mut wide = false;
    if let Some((record, record_at)) = end_64(bytes, at) {
        let (count_64, length_64, offset_64) = (u64_at(record, 32)?, u64_at(record, 40)?, u64_at(record, 48)?);
        // A stray zip64 record counts only if the narrow fields agree or say that they are too narrow.
        let agrees = |narrow: u64, full: u64, value: u64| narrow == full || narrow == value;
        if agrees(length, IN_ZIP64, length_64) && agrees(offset, IN_ZIP64, offset_64) && agrees(count, 0xFFFF, count_64)
        {
            (count, length, offset, stop, wide) = (count_64, length_64, offset_64, record_at, true);
        }
    }
    let start = stop.checked_sub(length)?;
    let prefix = start.checked_sub(offset)?;
    Some(End { start, stop, prefix, count, wide })
}

/// The zip64 end record that the locator before the end record at `at` points to, and where it is.
fn end_64(bytes: &[u8], at: u64) -> Option<(&[u8], u64)> {
    let locator_at = at.checked_sub(END_64_LOCATOR_BYTES)?;
    let locator = slice(bytes, locator_at, END_64_LOCATOR_BYTES)?;
    if u32_at(locator, 0)? != END_64_LOCATOR {
        return None;
    }
    // Its stated offset does not count a prefix; failing that, it stands right before the locator.
    let stated = u64_at(locator, 8)?;
    [stated, locator_at.checked_sub(END_64_BYTES)?].into_iter().find_map(|at| {
        let record = slice(bytes, at, END_64_BYTES)?;
        (u32_at(record, 0)? == END_64).then_some((record, at))
    })
}

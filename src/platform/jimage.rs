//! Reader of run-time images (`lib/modules`, JEP 220).
//!
//! The first functions to read are [`Image::open`], [`Image::find`] and [`Image::entries`]. The layout is that of the
//! class `jdk.internal.jimage.BasicImageReader`: a header, a perfect hash over full names, attribute streams, strings,
//! resources. Nothing that the file says about itself is believed: every offset is checked when it is used.

use std::borrow::Cow;
use std::fs::File;
use std::path::Path;

use libdeflater::Decompressor;
use memmap2::Mmap;

use super::cursor::{Cursor, Order};

const MAGIC: u32 = 0xCAFE_DADA;
const HEADER: usize = 28;
const HASH_SEED: u32 = 0x0100_0193;

/// Kinds of attribute in a location, as `ImageLocation` numbers them.
const MODULE: u8 = 1;
const PARENT: u8 = 2;
const BASE: u8 = 3;
const EXTENSION: u8 = 4;
const OFFSET: u8 = 5;
const COMPRESSED: u8 = 6;
const UNCOMPRESSED: u8 = 7;

/// Opens a compressed resource; 29 bytes, after `CompressedResourceHeader`.
const RESOURCE_MAGIC: u32 = 0xCAFE_FAFA;
/// Compressors can be stacked; the linker has two.
const MAX_STACKED: usize = 4;
/// No resource of a real image comes near this; a header that promises more is not believed.
const MAX_RESOURCE: u64 = 256 << 20;

/// A memory-mapped image, its tables checked to lie within the file.
pub struct Image {
    bytes: Mmap,
    tables: Tables,
}

/// The header with the places of the tables.
struct Tables {
    order: Order,
    table_length: usize,
    offsets: usize,
    locations: usize,
    locations_size: usize,
    strings: usize,
    strings_size: usize,
    index_size: usize,
}

/// One entry: `/java.base/java/lang/Object.class` in four parts, each possibly empty.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ImageEntry<'a> {
    /// `java.base`; `modules` and `packages` for the pseudo entries that make up the two trees of the image.
    pub module: &'a [u8],
    /// `java/lang`.
    pub parent: &'a [u8],
    /// `Object`.
    pub base: &'a [u8],
    /// `class`.
    pub extension: &'a [u8],
    /// Bytes once inflated.
    pub size: u64,
    stored: u64,
    offset: u64,
}

impl ImageEntry<'_> {
    /// Its place among the contents: what the linker wrote first comes first.
    pub(super) fn place(&self) -> u64 {
        self.offset
    }

    /// Whether it is a folder of the trees `/modules` and `/packages` rather than a resource.
    pub fn is_pseudo(&self) -> bool {
        self.module.is_empty() || self.module == b"modules" || self.module == b"packages"
    }

    /// The path within the module: `java/lang/Object.class`.
    pub fn path(&self) -> Vec<u8> {
        let mut path = Vec::with_capacity(self.parent.len() + self.base.len() + self.extension.len() + 2);
        if !self.parent.is_empty() {
            path.extend_from_slice(self.parent);
            path.push(b'/');
        }
        path.extend_from_slice(self.base);
        if !self.extension.is_empty() {
            path.push(b'.');
            path.extend_from_slice(self.extension);
        }
        path
    }

    /// The full name as the image hashes it: `/java.base/java/lang/Object.class`.
    fn full_name(&self) -> Vec<u8> {
        let path = self.path();
        let mut name = Vec::with_capacity(path.len() + self.module.len() + 2);
        if !self.module.is_empty() {
            name.push(b'/');
            name.extend_from_slice(self.module);
            name.push(b'/');
        }
        name.extend_from_slice(&path);
        name
    }
}

impl Image {
    /// Maps an image and checks its header. The error is a reason without the path.
    pub fn open(path: &Path) -> Result<Image, String> {
        let file = File::open(path).map_err(|error| error.to_string())?;
        // SAFETY: the map is read-only. As with every memory-mapped reader, a file that another process shortens while
        // we read ends the program by a signal; images are installed once and 130 MB, so copying each would cost more.
        #[allow(unsafe_code, reason = "mapping a file is unsafe by nature; measured to save reading 130 MB")]
        let bytes = unsafe { Mmap::map(&file) }.map_err(|error| error.to_string())?;
        let tables = Tables::read(&bytes)?;
        Ok(Image { bytes, tables })
    }

    /// The resource `path` of `module`, by the hash of its full name.
    pub fn find(&self, module: &str, path: &[u8]) -> Option<ImageEntry<'_>> {
        let mut name = Vec::with_capacity(module.len() + path.len() + 2);
        name.push(b'/');
        name.extend_from_slice(module.as_bytes());
        name.push(b'/');
        name.extend_from_slice(path);
        let length = i64::try_from(self.tables.table_length).ok()?;
        let slot = usize::try_from(i64::from(hash(&name, HASH_SEED)).checked_rem(length)?).ok()?;
        let redirect = self.word(HEADER, slot)?.cast_signed();
        let index = match redirect {
            0 => return None,
            1.. => i64::from(hash(&name, redirect.cast_unsigned())).checked_rem(length)?,
            _ => -1 - i64::from(redirect),
        };
        let entry = self.entry(usize::try_from(index).ok()?)?;
        (entry.full_name() == name).then_some(entry)
    }

    /// Bytes of header and tables, before the first resource.
    pub fn index(&self) -> &[u8] {
        self.bytes.get(..self.tables.index_size).unwrap_or_default()
    }

    /// All entries in table order, pseudo entries included; an entry whose location or name lies outside the tables
    /// is an error, after which the rest still follows.
    pub fn entries(&self) -> impl Iterator<Item = Result<ImageEntry<'_>, String>> {
        (0..self.tables.table_length)
            .map(|index| self.entry(index).ok_or_else(|| format!("entry {index} lies outside the image's tables")))
    }

    /// The bytes of a resource, inflated where need be.
    pub fn read<'a>(&'a self, entry: &ImageEntry<'_>) -> Result<Cow<'a, [u8]>, String> {
        let start = usize::try_from(entry.offset).ok().and_then(|at| at.checked_add(self.tables.index_size));
        let length = if entry.stored == 0 { entry.size } else { entry.stored };
        let bytes = start
            .zip(usize::try_from(length).ok())
            .and_then(|(start, length)| self.bytes.get(start..start.checked_add(length)?))
            .ok_or("its bytes lie outside the image")?;
        if entry.stored == 0 { Ok(Cow::Borrowed(bytes)) } else { self.inflate(bytes, entry.size).map(Cow::Owned) }
    }

    fn entry(&self, index: usize) -> Option<ImageEntry<'_>> {
        let tables = &self.tables;
        let at = usize::try_from(self.word(tables.offsets, index)?).ok()?;
        let locations = self.bytes.get(tables.locations..tables.locations.checked_add(tables.locations_size)?)?;
        let mut cursor = Cursor::new(locations.get(at..)?);
        let mut entry = ImageEntry::default();
        // Each kind can appear once, and a location ends at the first byte below 8 (kind 0).
        for _ in 0..=usize::from(UNCOMPRESSED) {
            let byte = cursor.u1()?;
            let kind = byte >> 3;
            if kind == 0 {
                return Some(entry);
            }
            let value = cursor.take(usize::from(byte & 7) + 1)?.iter().fold(0, |value, b| value << 8 | u64::from(*b));
            match kind {
                MODULE => entry.module = self.string(value)?,
                PARENT => entry.parent = self.string(value)?,
                BASE => entry.base = self.string(value)?,
                EXTENSION => entry.extension = self.string(value)?,
                OFFSET => entry.offset = value,
                COMPRESSED => entry.stored = value,
                UNCOMPRESSED => entry.size = value,
                _ => return None,
            }
        }
        None
    }

    fn string(&self, at: u64) -> Option<&[u8]> {
        let tables = &self.tables;
        let strings = self.bytes.get(tables.strings..tables.strings.checked_add(tables.strings_size)?)?;
        let tail = strings.get(usize::try_from(at).ok()?..)?;
        tail.get(..tail.iter().position(|b| *b == 0)?)
    }

    /// The `index`th word of the table that begins at `table`.
    fn word(&self, table: usize, index: usize) -> Option<u32> {
        let at = table.checked_add(index.checked_mul(4)?)?;
        Cursor::new(self.bytes.get(at..)?).u4(self.tables.order)
    }

    /// Undoes the stack of compressors, outermost first.
    fn inflate(&self, stored: &[u8], size: u64) -> Result<Vec<u8>, String> {
        let mut bytes = Cow::Borrowed(stored);
        for _ in 0..MAX_STACKED {
            let Some((method, length, content)) = self.resource_header(&bytes) else {
                let whole = u64::try_from(bytes.len()) == Ok(size);
                return if whole {
                    Ok(bytes.into_owned())
                } else {
                    Err("it does not inflate to its stated size".into())
                };
            };
            if method != b"zip" {
                let method = String::from_utf8_lossy(method);
                return Err(format!("it is compressed by `{method}`, which this program does not read"));
            }
            if length > MAX_RESOURCE {
                return Err(format!("it promises {length} bytes, more than a resource may have"));
            }
            let mut inflated = vec![0; usize::try_from(length).map_err(|error| error.to_string())?];
            let written = Decompressor::new()
                .zlib_decompress(content, &mut inflated)
                .map_err(|error| format!("it does not inflate: {error}"))?;
            inflated.truncate(written);
            bytes = Cow::Owned(inflated);
        }
        Err("its compressors are stacked too high".into())
    }

    /// Name of the compressor, inflated length, content.
    fn resource_header<'a>(&'a self, bytes: &'a [u8]) -> Option<(&'a [u8], u64, &'a [u8])> {
        let mut cursor = Cursor::new(bytes);
        let order = self.tables.order;
        if cursor.u4(order)? != RESOURCE_MAGIC {
            return None;
        }
        let content = cursor.u8(order)?;
        let length = cursor.u8(order)?;
        let method = self.string(u64::from(cursor.u4(order)?))?;
        let _config = cursor.u4(order)?;
        let _terminal = cursor.u1()?;
        Some((method, length, cursor.take(usize::try_from(content).ok()?)?))
    }
}

impl Tables {
    fn read(bytes: &[u8]) -> Result<Tables, String> {
        let short = || "it is too short for a run-time image".to_owned();
        let mut cursor = Cursor::new(bytes);
        let order = match cursor.clone().u4(Order::Little).ok_or_else(short)? {
            MAGIC => Order::Little,
            other if other.swap_bytes() == MAGIC => Order::Big,
            _ => return Err("it does not begin as a run-time image does".into()),
        };
        let mut word = || cursor.u4(order).ok_or_else(short);
        let _magic = word()?;
        let version = word()?;
        if version >> 16 != 1 {
            return Err(format!("it has version {}.{} of the image format, not 1", version >> 16, version & 0xFFFF));
        }
        let _flags = word()?;
        let _resources = word()?;
        let mut size = || word().and_then(|value| usize::try_from(value).map_err(|error| error.to_string()));
        let (table_length, locations_size, strings_size) = (size()?, size()?, size()?);
        let table_bytes = table_length.checked_mul(4).ok_or_else(short)?;
        let offsets = HEADER.checked_add(table_bytes).ok_or_else(short)?;
        let locations = offsets.checked_add(table_bytes).ok_or_else(short)?;
        let strings = locations.checked_add(locations_size).ok_or_else(short)?;
        let index_size = strings.checked_add(strings_size).ok_or_else(short)?;
        if index_size > bytes.len() {
            return Err(format!("its tables end at byte {index_size}, the file at byte {}", bytes.len()));
        }
        Ok(Tables { order, table_length, offsets, locations, locations_size, strings, strings_size, index_size })
    }
}

/// The hash of `ImageStringsReader`: FNV with multiplication first, 31 bits.
fn hash(name: &[u8], seed: u32) -> u32 {
    name.iter().fold(seed, |hash, byte| hash.wrapping_mul(HASH_SEED) ^ u32::from(*byte)) & 0x7FFF_FFFF
}

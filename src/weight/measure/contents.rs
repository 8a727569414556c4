//! Sums over the classes and resources of a module, in each form that an image can hold them in.
//!
//! The first function to read is [`sums`]. Classes that share texts go a way of their own: see [`super::texts`].

use std::borrow::Cow;
use std::collections::BTreeMap;

use rayon::prelude::*;

use super::names::attribute;
use super::squeeze::{Squeezer, Wire};
use crate::platform::ModuleFile;
use crate::weight::RESOURCE_HEADER as HEADER;
use crate::weight::figures::Stored;
use crate::weight::options::{Compression, Form};
use crate::weight::rewrite::{PoolAfter, without_debug_data};

const MAGIC: [u8; 4] = 0xCAFE_FAFA_u32.to_le_bytes();
/// What a zlib stream has around a DEFLATE stream: two bytes before, a checksum behind (RFC 1950).
const ZLIB_FRAME: u64 = 6;
/// The level at which packaged modules are written unless another is asked for.
const PACKAGED_LEVEL: u8 = 6;
/// Files handled by one task, and tasks at one time: enough to be worth it, few enough to keep memory small.
const CHUNK: usize = 128;
const BATCH: usize = 24 * CHUNK;

/// A class or resource of a module.
#[derive(Clone)]
pub(super) struct Content<'a> {
    pub(super) path: Cow<'a, str>,
    pub(super) file: ModuleFile<'a>,
    /// Whether the linker makes it by itself, after it has taken debug data out.
    pub(super) made_by_linker: bool,
}

impl Content<'_> {
    /// Its bytes, without debug data where asked for.
    pub(super) fn read(&self, stripped: bool, pool: PoolAfter) -> Result<Cow<'_, [u8]>, String> {
        let whole = |reason| format!("{}: {reason}", self.path);
        let bytes = self.file.read().map_err(whole)?;
        if stripped
            && self.has_debug_data()
            && let Some(without) = without_debug_data(&bytes, pool)
        {
            return Ok(Cow::Owned(without));
        }
        Ok(bytes)
    }

    fn has_debug_data(&self) -> bool {
        self.is_class() && !self.made_by_linker && !self.path.ends_with("module-info.class")
    }

    pub(super) fn is_class(&self) -> bool {
        self.path.ends_with(".class")
    }
}

/// What is to be measured.
#[derive(Clone, Debug)]
pub(super) struct Job {
    pub(super) forms: Vec<Form>,
    /// Those whose way over the wire is measured too.
    pub(super) wire: Vec<Form>,
    /// Whether a sample may stand for it: where somebody waits for the figures.
    pub(super) estimates: bool,
    pub(super) pool: PoolAfter,
    /// Whether packaged classes are DEFLATE streams at the linker's level, whose lengths then stand in the directory.
    pub(super) lengths_known: bool,
}

/// The sums over one module's contents, apart from the forms that share texts. The error names the file.
pub(super) fn sums(contents: &[Content<'_>], job: &Job) -> Result<BTreeMap<Form, Stored>, String> {
    let forms: Vec<Form> =
        job.forms.iter().copied().filter(|form| form.compression != Compression::SharedTexts).collect();
    let mut totals = vec![Stored::default(); forms.len()];
    let mut wires = forms
        .iter()
        .map(|form| job.wire.contains(form).then(if job.estimates { Wire::estimated } else { Wire::new }).transpose())
        .collect::<Result<Vec<_>, _>>()
        .map_err(|error| error.to_string())?;
    for batch in contents.chunks(BATCH) {
        let parts = batch
            .par_chunks(CHUNK)
            .map_init(Squeezer::new, |squeezer, chunk| chunk_sums(chunk, &forms, job, squeezer))
            .collect::<Result<Vec<_>, String>>()?;
        for (place, total) in totals.iter_mut().enumerate() {
            for part in parts.iter().filter_map(|part| part.get(place)) {
                total.bytes += part.bytes;
                total.sizes += part.sizes;
            }
        }
        wires
            .par_iter_mut()
            .enumerate()
            .filter_map(|(place, wire)| Some((place, wire.as_mut()?)))
            .try_for_each(|(place, wire)| {
                parts.iter().filter_map(|part| part.get(place)).try_for_each(|part| wire.write(&part.stream))
            })
            .map_err(|error| error.to_string())?;
    }
    for (total, wire) in totals.iter_mut().zip(wires) {
        if let Some(wire) = wire {
            let (gzip, zstd) = wire.finish().map_err(|error| error.to_string())?;
            (total.gzip, total.zstd) = (Some(gzip), Some(zstd));
        }
    }
    Ok(forms.into_iter().zip(totals).collect())
}

/// One chunk in one form.
#[derive(Default)]
struct Part {
    bytes: u64,
    sizes: u64,
    /// Its bytes, where they go over the wire.
    stream: Vec<u8>,
}

fn chunk_sums(chunk: &[Content<'_>], forms: &[Form], job: &Job, squeezer: &mut Squeezer) -> Result<Vec<Part>, String> {
    let mut parts: Vec<Part> = forms.iter().map(|_| Part::default()).collect();
    for content in chunk {
        for stripped in [false, true] {
            if !forms.iter().any(|form| form.stripped == stripped) {
                continue;
            }
            let bytes = content.read(stripped, job.pool)?;
            for (form, part) in forms.iter().zip(&mut parts).filter(|(form, _)| form.stripped == stripped) {
                let stream = job.wire.contains(form).then_some(&mut part.stream);
                let stored = match form.compression {
                    Compression::Zip(level) => {
                        let unchanged = !stripped || !content.has_debug_data();
                        let known = content.file.deflated.filter(|_| job.lengths_known && unchanged);
                        let known = known.filter(|_| level == PACKAGED_LEVEL && !content.made_by_linker);
                        HEADER + zlib(&bytes, level, known, stream, squeezer)
                    }
                    Compression::None | Compression::SharedTexts => {
                        if let Some(stream) = stream {
                            stream.extend_from_slice(&bytes);
                        }
                        0
                    }
                };
                let size = bytes.len() as u64;
                part.bytes += if stored == 0 { size } else { stored };
                part.sizes += attribute(size) + attribute(stored);
            }
        }
    }
    Ok(parts)
}

/// Length of a zlib stream; the stream itself, header included, is written where it goes over the wire.
fn zlib(bytes: &[u8], level: u8, known: Option<u64>, stream: Option<&mut Vec<u8>>, squeezer: &mut Squeezer) -> u64 {
    match (stream, known) {
        (None, Some(deflated)) => deflated + ZLIB_FRAME,
        (None, None) => squeezer.zlib(bytes, level),
        (Some(stream), _) => {
            let start = stream.len();
            stream.extend_from_slice(&[0; HEADER as usize]);
            squeezer.zlib_into(bytes, level, stream);
            let length = (stream.len() - start) as u64 - HEADER;
            header(length, bytes.len() as u64, stream.get_mut(start..).unwrap_or_default());
            length
        }
    }
}

/// Writes a resource's header as the linker does on little-endian machines: to a compressor it looks like others.
fn header(length: u64, size: u64, to: &mut [u8]) {
    let mut bytes = [0; HEADER as usize];
    let fields = MAGIC.into_iter().chain(length.to_le_bytes()).chain(size.to_le_bytes());
    // The name's place in the string table is the same in all headers; there is no configuration; one more byte ends it.
    let rest = [7, 0, 0, 0, 0xFF, 0xFF, 0xFF, 0xFF, 1];
    for (byte, value) in bytes.iter_mut().zip(fields.chain(rest)) {
        *byte = value;
    }
    if let Some(to) = to.first_chunk_mut::<{ HEADER as usize }>() {
        *to = bytes;
    }
}

/// Whether the lengths of the DEFLATE streams of packaged files are those of the linker's own, on a sample.
pub(super) fn lengths_agree(contents: &[Content<'_>]) -> bool {
    let mut squeezer = Squeezer::new();
    let mut sample = contents.iter().filter(|content| !content.made_by_linker).step_by(97).take(32);
    sample.all(|content| {
        let Some(deflated) = content.file.deflated else { return false };
        content.file.read().is_ok_and(|bytes| squeezer.zlib(&bytes, PACKAGED_LEVEL) == deflated + ZLIB_FRAME)
    })
}

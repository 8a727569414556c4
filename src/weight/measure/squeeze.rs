//! Lengths of compressed bytes: as the linker, gzip and zstd would write them.
//!
//! The first type to read is [`Squeezer`]. The linker's compressor is zlib itself, whose lengths no other deflater
//! gives, so these are genuine zlib streams.

use flate2::{Compress, Compression, FlushCompress, Status};

/// Makes streams only to know how long they are; one for each thread.
pub(super) struct Squeezer {
    levels: Vec<Option<Compress>>,
    out: Vec<u8>,
}

impl Squeezer {
    pub(super) fn new() -> Self {
        Squeezer { levels: (0..10).map(|_| None).collect(), out: vec![0; 64 << 10] }
    }

    /// Length of the zlib stream (RFC 1950) of `bytes` at a level from 0 to 9.
    pub(super) fn zlib(&mut self, bytes: &[u8], level: u8) -> u64 {
        self.run(bytes, level, |_| ())
    }

    /// The zlib stream itself, appended to `to`.
    pub(super) fn zlib_into(&mut self, bytes: &[u8], level: u8, to: &mut Vec<u8>) {
        self.run(bytes, level, |part| to.extend_from_slice(part));
    }

    /// Drives a stream to its end and tells its length; what it writes goes to `take`.
    fn run(&mut self, bytes: &[u8], level: u8, mut take: impl FnMut(&[u8])) -> u64 {
        let mut none = None;
        let slot = self.levels.get_mut(usize::from(level)).unwrap_or(&mut none);
        let stream = slot.get_or_insert_with(|| Compress::new(Compression::new(u32::from(level)), true));
        stream.reset();
        loop {
            let read = usize::try_from(stream.total_in()).unwrap_or(usize::MAX);
            let written = stream.total_out();
            let status = stream.compress(bytes.get(read..).unwrap_or_default(), &mut self.out, FlushCompress::Finish);
            let new = usize::try_from(stream.total_out() - written).unwrap_or_default();
            take(self.out.get(..new).unwrap_or_default());
            if !matches!(status, Ok(Status::Ok | Status::BufError)) {
                return stream.total_out();
            }
        }
    }
}

/// A stream of bytes on its way to a registry, compressed both ways at once.
pub(super) struct Wire {
    gzip: Gzip,
    zstd: zstd::stream::write::Encoder<'static, Counter>,
}

/// Length of what gzip makes of a stream.
struct Gzip {
    stream: Compress,
    out: Vec<u8>,
    quick: Option<Quick>,
}

/// A deflater of several times zlib's speed, whose lengths stand in a steady proportion to zlib's: the proportion is
/// taken from one part in [`SAMPLED`], which both compress.
struct Quick {
    deflater: libdeflater::Compressor,
    parts: u64,
    all: u64,
    sampled: u64,
}

/// The first of so many parts is compressed by zlib itself.
const SAMPLED: u64 = 8;
/// The level of the quick deflater that searches about as hard as zlib's own.
const QUICK_LEVEL: i32 = 6;

/// Counts what is written to it.
#[derive(Default)]
struct Counter(u64);

impl std::io::Write for Counter {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0 += bytes.len() as u64;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

/// The levels of `gzip` and `zstd` when none is given.
const GZIP_LEVEL: u32 = 6;
const ZSTD_LEVEL: i32 = 3;

impl Wire {
    /// A stream that is compressed whole.
    pub(super) fn new() -> std::io::Result<Self> {
        Self::with(None)
    }

    /// A stream of which gzip's length is worked out from a sample: for contents by the hundred megabytes.
    pub(super) fn estimated() -> std::io::Result<Self> {
        let level = libdeflater::CompressionLvl::new(QUICK_LEVEL);
        let level = level.map_err(|_| std::io::Error::other("the deflater has no such level"))?;
        Self::with(Some(Quick { deflater: libdeflater::Compressor::new(level), parts: 0, all: 0, sampled: 0 }))
    }

    fn with(quick: Option<Quick>) -> std::io::Result<Self> {
        let stream = Compress::new(Compression::new(GZIP_LEVEL), false);
        Ok(Wire {
            gzip: Gzip { stream, out: vec![0; 64 << 10], quick },
            zstd: zstd::stream::write::Encoder::new(Counter::default(), ZSTD_LEVEL)?,
        })
    }

    pub(super) fn write(&mut self, bytes: &[u8]) -> std::io::Result<()> {
        self.gzip.write(bytes)?;
        std::io::Write::write_all(&mut self.zstd, bytes)
    }

    /// Bytes by gzip and by zstd; the frames that an archive has once are a few bytes and left out.
    pub(super) fn finish(self) -> std::io::Result<(u64, u64)> {
        Ok((self.gzip.finish()?, self.zstd.finish()?.0))
    }
}

impl Gzip {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<()> {
        if let Some(quick) = self.quick.as_mut().filter(|_| !bytes.is_empty()) {
            let bound = quick.deflater.deflate_compress_bound(bytes.len());
            if self.out.len() < bound {
                self.out.resize(bound, 0);
            }
            let length = quick.deflater.deflate_compress(bytes, &mut self.out).map_err(std::io::Error::other)? as u64;
            let is_sampled = quick.parts.is_multiple_of(SAMPLED);
            quick.parts += 1;
            quick.all += length;
            if !is_sampled {
                return Ok(());
            }
            quick.sampled += length;
        }
        let start = self.stream.total_in();
        loop {
            let read = usize::try_from(self.stream.total_in() - start).unwrap_or(usize::MAX);
            let rest = bytes.get(read..).unwrap_or_default();
            if rest.is_empty() {
                return Ok(());
            }
            self.stream.compress(rest, &mut self.out, FlushCompress::None).map_err(std::io::Error::other)?;
        }
    }

    fn finish(mut self) -> std::io::Result<u64> {
        loop {
            match self.stream.compress(&[], &mut self.out, FlushCompress::Finish).map_err(std::io::Error::other)? {
                Status::StreamEnd => break,
                Status::Ok | Status::BufError => {}
            }
        }
        let length = self.stream.total_out();
        Ok(match self.quick {
            Some(quick) if quick.all > quick.sampled => {
                let scaled = u128::from(length) * u128::from(quick.all) / u128::from(quick.sampled.max(1));
                u64::try_from(scaled).unwrap_or(u64::MAX)
            }
            _ => length,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Both ways of gzip over the same parts: texts whose repetitions thin out, as in classes of growing size.
    #[test]
    fn a_sample_stands_for_the_whole() {
        let part = |number: u32| -> Vec<u8> {
            let words = (0..20_000_u32).map(|at| format!("gauge{}/{} ", (at * at) % (97 + number), at % 13));
            words.flat_map(String::into_bytes).collect()
        };
        let (mut whole, mut estimated) = (Wire::new().unwrap(), Wire::estimated().unwrap());
        for number in 0..40 {
            whole.write(&part(number)).unwrap();
            estimated.write(&part(number)).unwrap();
        }
        let (whole, estimated) = (whole.finish().unwrap(), estimated.finish().unwrap());
        assert_eq!(whole.1, estimated.1);
        assert!(whole.0.abs_diff(estimated.0) * 50 < whole.0, "{} against {}", estimated.0, whole.0);
    }

    #[test]
    fn few_parts_are_compressed_whole() {
        let (mut whole, mut estimated) = (Wire::new().unwrap(), Wire::estimated().unwrap());
        for wire in [&mut whole, &mut estimated] {
            wire.write(b"").unwrap();
            wire.write(&b"sluice ".repeat(3000)).unwrap();
        }
        assert_eq!(whole.finish().unwrap(), estimated.finish().unwrap());
    }
}

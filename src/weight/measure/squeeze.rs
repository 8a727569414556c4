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
    gzip: Compress,
    out: Vec<u8>,
    zstd: zstd::stream::write::Encoder<'static, Counter>,
}

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
    pub(super) fn new() -> std::io::Result<Self> {
        Ok(Wire {
            gzip: Compress::new(Compression::new(GZIP_LEVEL), false),
            out: vec![0; 64 << 10],
            zstd: zstd::stream::write::Encoder::new(Counter::default(), ZSTD_LEVEL)?,
        })
    }

    pub(super) fn write(&mut self, bytes: &[u8]) -> std::io::Result<()> {
        let start = self.gzip.total_in();
        loop {
            let read = usize::try_from(self.gzip.total_in() - start).unwrap_or(usize::MAX);
            let rest = bytes.get(read..).unwrap_or_default();
            if rest.is_empty() {
                break;
            }
            self.gzip.compress(rest, &mut self.out, FlushCompress::None).map_err(std::io::Error::other)?;
        }
        std::io::Write::write_all(&mut self.zstd, bytes)
    }

    /// Bytes by gzip and by zstd; the frames that an archive has once are a few bytes and left out.
    pub(super) fn finish(mut self) -> std::io::Result<(u64, u64)> {
        loop {
            match self.gzip.compress(&[], &mut self.out, FlushCompress::Finish).map_err(std::io::Error::other)? {
                Status::StreamEnd => break,
                Status::Ok | Status::BufError => {}
            }
        }
        Ok((self.gzip.total_out(), self.zstd.finish()?.0))
    }
}

//! Writes archives byte by byte (APPNOTE 6.3.10), sound ones and others. It shares nothing with the reader, so that
//! both cannot be wrong in the same way; only the deflate stream itself comes from a library.

#![allow(dead_code, reason = "not every test that includes this file needs all of it")]

/// One entry, with every figure that a directory can lie about.
#[derive(Clone)]
pub struct Entry {
    pub name: Vec<u8>,
    /// As stored in the archive.
    pub packed: Vec<u8>,
    pub flags: u16,
    pub method: u16,
    pub crc: u32,
    pub compressed: u64,
    pub size: u64,
    /// Figures follow the data instead of standing before it (bit 3).
    pub descriptor: bool,
    /// Figures stand in a zip64 extra field.
    pub zip64: bool,
    /// Where the directory says that the local header is; `None` for the truth.
    pub claimed_offset: Option<u64>,
}

/// An entry that is stored as it is.
pub fn stored(name: &str, data: &[u8]) -> Entry {
    Entry {
        name: name.as_bytes().to_vec(),
        packed: data.to_vec(),
        flags: 0,
        method: 0,
        crc: libdeflater::crc32(data),
        compressed: data.len() as u64,
        size: data.len() as u64,
        descriptor: false,
        zip64: false,
        claimed_offset: None,
    }
}

/// An entry that is deflated.
pub fn deflated(name: &str, data: &[u8]) -> Entry {
    let mut compressor = libdeflater::Compressor::new(libdeflater::CompressionLvl::default());
    let mut packed = vec![0; compressor.deflate_compress_bound(data.len())];
    let length = compressor.deflate_compress(data, &mut packed).unwrap();
    packed.truncate(length);
    Entry { method: 8, compressed: packed.len() as u64, packed, ..stored(name, data) }
}

/// The archive of some entries, with bytes before the first.
pub fn archive_after(prefix: &[u8], entries: &[Entry]) -> Vec<u8> {
    let mut out = prefix.to_vec();
    let mut directory = Vec::new();
    let any64 = entries.iter().any(|entry| entry.zip64);
    for entry in entries {
        let at = out.len() as u64;
        let flags = entry.flags | if entry.descriptor { 8 } else { 0 };
        let (crc, compressed, size) =
            if entry.descriptor { (0, 0, 0) } else { (entry.crc, entry.compressed, entry.size) };
        let local_extra = if entry.zip64 && !entry.descriptor { extra64(&[size, compressed]) } else { Vec::new() };
        out.extend(0x0403_4b50_u32.to_le_bytes());
        common(&mut out, flags, entry.method, crc, narrow(compressed, entry.zip64), narrow(size, entry.zip64));
        out.extend((entry.name.len() as u16).to_le_bytes());
        out.extend((local_extra.len() as u16).to_le_bytes());
        out.extend(&entry.name);
        out.extend(local_extra);
        out.extend(&entry.packed);
        if entry.descriptor {
            out.extend(0x0807_4b50_u32.to_le_bytes());
            out.extend(entry.crc.to_le_bytes());
            out.extend((entry.compressed as u32).to_le_bytes());
            out.extend((entry.size as u32).to_le_bytes());
        }
        let offset = entry.claimed_offset.unwrap_or(at);
        let extra = if entry.zip64 { extra64(&[entry.size, entry.compressed, offset]) } else { Vec::new() };
        directory.extend(0x0201_4b50_u32.to_le_bytes());
        directory.extend(45_u16.to_le_bytes());
        common(
            &mut directory,
            flags,
            entry.method,
            entry.crc,
            narrow(entry.compressed, entry.zip64),
            narrow(entry.size, entry.zip64),
        );
        directory.extend((entry.name.len() as u16).to_le_bytes());
        directory.extend((extra.len() as u16).to_le_bytes());
        directory.extend([0; 2 + 2 + 2 + 4]);
        directory.extend(narrow(offset, entry.zip64).to_le_bytes());
        directory.extend(&entry.name);
        directory.extend(extra);
    }
    let start = out.len() as u64;
    out.extend(&directory);
    if any64 {
        let at = out.len() as u64;
        out.extend(0x0606_4b50_u32.to_le_bytes());
        out.extend(44_u64.to_le_bytes());
        out.extend([45, 0, 45, 0]);
        out.extend([0; 8]);
        out.extend((entries.len() as u64).to_le_bytes());
        out.extend((entries.len() as u64).to_le_bytes());
        out.extend((directory.len() as u64).to_le_bytes());
        out.extend(start.to_le_bytes());
        out.extend(0x0706_4b50_u32.to_le_bytes());
        out.extend(0_u32.to_le_bytes());
        out.extend(at.to_le_bytes());
        out.extend(1_u32.to_le_bytes());
    }
    out.extend(0x0605_4b50_u32.to_le_bytes());
    out.extend([0; 4]);
    let count = if any64 { u16::MAX } else { entries.len() as u16 };
    out.extend(count.to_le_bytes());
    out.extend(count.to_le_bytes());
    out.extend((if any64 { u32::MAX } else { directory.len() as u32 }).to_le_bytes());
    out.extend((if any64 { u32::MAX } else { start as u32 }).to_le_bytes());
    out.extend([0; 2]);
    out
}

/// The archive of some entries.
pub fn archive(entries: &[Entry]) -> Vec<u8> {
    archive_after(b"", entries)
}

/// A manifest entry of these lines.
pub fn manifest(lines: &[&str]) -> Entry {
    let mut text = "Manifest-Version: 1.0\r\n".to_owned();
    for line in lines {
        text.push_str(line);
        text.push_str("\r\n");
    }
    text.push_str("\r\n");
    deflated("META-INF/MANIFEST.MF", text.as_bytes())
}

fn common(out: &mut Vec<u8>, flags: u16, method: u16, crc: u32, compressed: u32, size: u32) {
    out.extend(45_u16.to_le_bytes());
    out.extend(flags.to_le_bytes());
    out.extend(method.to_le_bytes());
    // 1980-01-01, midnight
    out.extend([0, 0, 0x21, 0]);
    out.extend(crc.to_le_bytes());
    out.extend(compressed.to_le_bytes());
    out.extend(size.to_le_bytes());
}

fn narrow(figure: u64, zip64: bool) -> u32 {
    if zip64 { u32::MAX } else { figure as u32 }
}

fn extra64(figures: &[u64]) -> Vec<u8> {
    let mut extra = vec![1, 0];
    extra.extend((figures.len() as u16 * 8).to_le_bytes());
    for figure in figures {
        extra.extend(figure.to_le_bytes());
    }
    extra
}

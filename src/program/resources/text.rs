//! Bytes to text, whoever wrote them.
//!
//! The first function to read is [`decode`].

use std::borrow::Cow;

/// Text as its byte order mark says; else UTF-8 where it is that, else ISO 8859-1, which any bytes are. Names of classes
/// are ASCII nearly always, and then both agree.
pub(super) fn decode(bytes: &[u8]) -> Cow<'_, str> {
    if let Some(rest) = bytes.strip_prefix(b"\xFF\xFE") {
        return utf16(rest, u16::from_le_bytes);
    }
    if let Some(rest) = bytes.strip_prefix(b"\xFE\xFF") {
        return utf16(rest, u16::from_be_bytes);
    }
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) => Cow::Borrowed(text),
        Err(_) => Cow::Owned(bytes.iter().map(|&byte| char::from(byte)).collect()),
    }
}

fn utf16(bytes: &[u8], join: fn([u8; 2]) -> u16) -> Cow<'_, str> {
    let units: Vec<u16> = bytes.as_chunks().0.iter().map(|&unit| join(unit)).collect();
    Cow::Owned(String::from_utf16_lossy(&units))
}

#[cfg(test)]
mod tests {
    use super::decode;

    #[test]
    fn each_encoding_is_read_as_it_says() {
        assert_eq!(decode(b"\xFF\xFEG\0\xFC\0"), "Gü");
        assert_eq!(decode(b"\xFE\xFF\0G\0\xFC"), "Gü");
        assert_eq!(decode("\u{FEFF}Gü".as_bytes()), "Gü");
        assert_eq!(decode(b"G\xFC"), "Gü");
    }
}

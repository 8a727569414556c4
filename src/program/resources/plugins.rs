//! The index of plug-ins that the annotation processor of a logging library writes (common practice, no source: the
//! order of its fields was read off real files).
//!
//! Numbers are big-endian; texts are a length of two bytes and modified UTF-8 (`java.io.DataOutput`). A file is the
//! number of categories, then for each its name, the number of its plug-ins, and for each of these: key, class, name
//! and two flags of one byte.

use crate::names::decode_mutf8;

use super::sink::Sink;

pub(super) fn read(sink: &mut Sink<'_>, bytes: &[u8]) -> Result<(), String> {
    let mut rest = bytes;
    let ended = || "the index of plug-ins ends within a plug-in".to_owned();
    for _ in 0..number(&mut rest).ok_or_else(ended)? {
        let category = text(&mut rest).ok_or_else(ended)?;
        for _ in 0..number(&mut rest).ok_or_else(ended)? {
            text(&mut rest).ok_or_else(ended)?;
            let class = text(&mut rest).ok_or_else(ended)?;
            text(&mut rest).ok_or_else(ended)?;
            rest = rest.get(2..).ok_or_else(ended)?;
            sink.name(&decode_mutf8(class), Some(&decode_mutf8(category)));
        }
    }
    Ok(())
}

fn number(rest: &mut &[u8]) -> Option<u32> {
    let (number, after) = rest.split_first_chunk()?;
    *rest = after;
    Some(u32::from_be_bytes(*number))
}

fn text<'a>(rest: &mut &'a [u8]) -> Option<&'a [u8]> {
    let (length, after) = rest.split_first_chunk()?;
    let (text, after) = after.split_at_checked(usize::from(u16::from_be_bytes(*length)))?;
    *rest = after;
    Some(text)
}

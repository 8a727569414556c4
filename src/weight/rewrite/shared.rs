//! A class file whose texts stand in the string table of the image: the linker's first level of compression.
//!
//! The first function to read is [`share`]. A text is replaced by its place in the table; a descriptor by that of its
//! shape, with packages and simple names apart (`StringSharingDecompressor`).

use super::body::Body;
use super::constants::Constants;

/// Stands for a text in the table, and for a descriptor's shape and names there (`StringSharingDecompressor`).
const TEXT: u8 = 23;
const DESCRIPTOR: u8 = 25;

/// A class whose texts are replaced by what `place` says of each, in the order of the pool.
pub(in crate::weight) fn share(class: &[u8], place: &mut dyn FnMut(&[u8]) -> u32) -> Option<Vec<u8>> {
    let constants = Constants::read(class)?;
    let body = Body::read(class, &constants, |_| false, true)?;
    let mut is_descriptor = vec![false; constants.count()];
    let pool = (1..constants.count()).filter_map(|index| u16::try_from(index).ok());
    let named = pool.clone().filter_map(|index| constants.descriptor_of(class, index));
    for index in body.uses.iter().filter(|used| used.descriptor).map(|used| used.index).chain(named) {
        *is_descriptor.get_mut(usize::from(index))? = true;
    }
    let mut out = Vec::with_capacity(class.len());
    out.extend_from_slice(class.get(..10)?);
    for index in pool {
        let Some(text) = constants.text(class, index) else {
            out.extend_from_slice(constants.bytes(class, index).unwrap_or_default());
            continue;
        };
        let parts = if is_descriptor.get(usize::from(index)) == Some(&true) { parse(text) } else { None };
        let Some((shape, names)) = parts else {
            out.push(TEXT);
            write(place(text), &mut out);
            continue;
        };
        // Names come to the table before the shape that holds them.
        let mut list = Vec::with_capacity(4 * names.len());
        for name in names {
            write(place(name), &mut list);
        }
        out.push(DESCRIPTOR);
        write(place(&shape), &mut out);
        write(u32::try_from(list.len()).ok()?, &mut out);
        out.extend_from_slice(&list);
    }
    out.extend_from_slice(class.get(constants.end..)?);
    Some(out)
}

/// A number in as few bytes as its bits need; three bits tell how many, none of them where it takes four (`CompressIndexes`).
fn write(number: u32, out: &mut Vec<u8>) {
    let bits = 32 - number.leading_zeros();
    let size = (((bits + 2) >> 3) + 1).min(4) as usize;
    let start = out.len();
    out.extend(number.to_be_bytes().iter().skip(4 - size));
    if let Some(first) = out.get_mut(start).filter(|_| size < 4) {
        *first |= 0x80 | (size as u8) << 5;
    }
}

/// A descriptor or signature as its shape, `(L;)V`, and package and simple name of each class in it; `None` without any.
fn parse(text: &[u8]) -> Option<(Vec<u8>, Vec<&[u8]>)> {
    let mut shape = Vec::new();
    let mut names = Vec::new();
    let mut rest = text;
    while let Some((&byte, tail)) = rest.split_first() {
        shape.push(byte);
        rest = tail;
        if byte != b'L' {
            continue;
        }
        let end = rest.iter().position(|b| matches!(b, b';' | b':' | b'<')).unwrap_or(rest.len());
        let (class, tail) = rest.split_at(end);
        let slash = class.iter().rposition(|b| *b == b'/');
        let (package, name) = match slash {
            Some(at) => (class.get(..at)?, class.get(at + 1..)?),
            None => (Default::default(), class),
        };
        names.push(package);
        names.push(name);
        rest = tail;
    }
    (!names.is_empty()).then_some((shape, names))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_descriptor_gives_its_shape_and_its_names() {
        let (shape, names) = parse(b"(Ljava/util/List<Ljava/lang/String;>;I)LGauge;").unwrap();
        assert_eq!(shape, b"(L<L;>;I)L;");
        assert_eq!(names, [&b"java/util"[..], b"List", b"java/lang", b"String", b"", b"Gauge"]);
        assert!(parse(b"(IJ)V").is_none());
    }

    #[test]
    fn numbers_take_one_to_four_bytes() {
        let written = |number| {
            let mut out = Vec::new();
            write(number, &mut out);
            out
        };
        assert_eq!(written(31), [0xBF]);
        assert_eq!(written(32), [0xC0, 32]);
        assert_eq!(written(0x1F_FFFF), [0xFF, 0xFF, 0xFF]);
        assert_eq!(written(0x20_0000), [0, 0x20, 0, 0]);
    }
}

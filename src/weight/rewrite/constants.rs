//! A constant pool by place and tag, and what of it a class still uses (JVMS §4.4).
//!
//! The first functions to read are [`Constants::read`] and [`Constants::used_by`].

use super::body::Body;

const UTF8: u8 = 1;
const LONG: u8 = 5;
const DOUBLE: u8 = 6;
const CLASS: u8 = 7;
const STRING: u8 = 8;
const NAME_AND_TYPE: u8 = 12;
const METHOD_HANDLE: u8 = 15;
const METHOD_TYPE: u8 = 16;
const MODULE: u8 = 19;
const PACKAGE: u8 = 20;

/// The constants of one class file.
pub(super) struct Constants {
    /// By index: where each starts and ends; the same place for an index that has no constant.
    places: Vec<(u32, u32)>,
    /// Offset behind the pool.
    pub(super) end: usize,
}

/// Two bytes at `at`, big-endian.
pub(super) fn u2(bytes: &[u8], at: usize) -> Option<u16> {
    bytes.get(at..)?.first_chunk().map(|&pair| u16::from_be_bytes(pair))
}

/// Four bytes at `at`, big-endian.
pub(super) fn u4(bytes: &[u8], at: usize) -> Option<usize> {
    bytes.get(at..)?.first_chunk().map(|&four| u32::from_be_bytes(four) as usize)
}

impl Constants {
    pub(super) fn read(class: &[u8]) -> Option<Constants> {
        if class.get(..4)? != [0xCA, 0xFE, 0xBA, 0xBE] {
            return None;
        }
        let count = u2(class, 8)?;
        let mut places = Vec::with_capacity(usize::from(count).min(class.len()));
        places.push((0, 0));
        let mut at = 10;
        while places.len() < usize::from(count) {
            let tag = *class.get(at)?;
            let length = match tag {
                UTF8 => 3 + usize::from(u2(class, at + 1)?),
                LONG | DOUBLE => 9,
                CLASS | STRING | METHOD_TYPE | MODULE | PACKAGE => 3,
                METHOD_HANDLE => 4,
                3 | 4 | 9..=NAME_AND_TYPE | 17 | 18 => 5,
                _ => return None,
            };
            places.push((u32::try_from(at).ok()?, u32::try_from(at + length).ok()?));
            if matches!(tag, LONG | DOUBLE) {
                places.push((0, 0));
            }
            at += length;
        }
        (at <= class.len()).then_some(Constants { places, end: at })
    }

    /// Number of indices, the first of which is 0 and has no constant.
    pub(super) fn count(&self) -> usize {
        self.places.len()
    }

    /// The bytes of a constant, tag first.
    pub(super) fn bytes<'c>(&self, class: &'c [u8], index: u16) -> Option<&'c [u8]> {
        let &(start, end) = self.places.get(usize::from(index))?;
        class.get(start as usize..end as usize).filter(|bytes| !bytes.is_empty())
    }

    /// The text of a `CONSTANT_Utf8`.
    pub(super) fn text<'c>(&self, class: &'c [u8], index: u16) -> Option<&'c [u8]> {
        let (&tag, _) = self.bytes(class, index)?.split_first()?;
        if tag == UTF8 { self.bytes(class, index)?.get(3..) } else { None }
    }

    /// The index of the descriptor that a constant of this kind holds, else `None`.
    pub(super) fn descriptor_of(&self, class: &[u8], index: u16) -> Option<u16> {
        let bytes = self.bytes(class, index)?;
        match *bytes.first()? {
            NAME_AND_TYPE => u2(bytes, 3),
            METHOD_TYPE => u2(bytes, 1),
            _ => None,
        }
    }

    /// Which constants the body uses, itself or through others, in the order in which the older class file library lists
    /// them: as it meets them, what a constant refers to before it, and the names of attributes at the end.
    pub(super) fn used_by(&self, body: &Body<'_>) -> Option<Kept> {
        let mut kept = Kept { numbers: vec![0; self.places.len()], order: Vec::new(), count: 1 };
        for used in body.in_order().filter(|used| used.index != 0) {
            self.keep(body.class, used.index, 0, &mut kept)?;
        }
        if body.keeps_all {
            let all = (1..self.places.len()).filter_map(|index| u16::try_from(index).ok());
            for index in all.filter(|index| self.bytes(body.class, *index).is_some()) {
                self.keep(body.class, index, 0, &mut kept)?;
            }
        }
        Some(kept)
    }

    fn keep(&self, class: &[u8], index: u16, depth: u8, kept: &mut Kept) -> Option<()> {
        // A method handle refers to a method, that to a name and a type, and those to texts.
        if depth > 4 {
            return None;
        }
        if *kept.numbers.get(usize::from(index))? != 0 {
            return Some(());
        }
        let bytes = self.bytes(class, index)?;
        for place in references(*bytes.first()?) {
            self.keep(class, u2(bytes, *place)?, depth + 1, kept)?;
        }
        *kept.numbers.get_mut(usize::from(index))? = kept.count;
        kept.order.push(index);
        let slots = if matches!(bytes.first(), Some(&(LONG | DOUBLE))) { 2 } else { 1 };
        kept.count = kept.count.checked_add(slots)?;
        Some(())
    }
}

/// Offsets of the indices of other constants within a constant.
fn references(tag: u8) -> &'static [usize] {
    match tag {
        CLASS | STRING | METHOD_TYPE | MODULE | PACKAGE => &[1],
        METHOD_HANDLE => &[2],
        9..=NAME_AND_TYPE => &[1, 3],
        // The first number of a dynamic constant is one of the bootstrap methods, no constant.
        17 | 18 => &[3],
        _ => &[],
    }
}

/// The constants that stay, with their new indices.
pub(super) struct Kept {
    /// By old index; 0 where it goes.
    numbers: Vec<u16>,
    /// Old indices in their new order.
    order: Vec<u16>,
    count: u16,
}

impl Kept {
    /// The new index of an old one; 0, which stands for nothing, stays.
    pub(super) fn number(&self, index: u16) -> Option<u16> {
        if index == 0 { Some(0) } else { self.numbers.get(usize::from(index)).copied().filter(|&number| number != 0) }
    }

    /// Writes count and constants.
    pub(super) fn write(&self, constants: &Constants, class: &[u8], out: &mut Vec<u8>) -> Option<()> {
        out.extend_from_slice(&self.count.to_be_bytes());
        for index in &self.order {
            let bytes = constants.bytes(class, *index)?;
            let start = out.len();
            out.extend_from_slice(bytes);
            for place in references(*bytes.first()?) {
                let number = self.number(u2(bytes, *place)?)?;
                out.get_mut(start + place..start + place + 2)?.copy_from_slice(&number.to_be_bytes());
            }
        }
        Some(())
    }
}

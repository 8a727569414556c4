//! A bounds-checked position in bytes, for the three binary layouts that this stage reads.
//!
//! Every read past the end is `None`; the callers say what was being read.

/// The bytes not yet read.
#[derive(Clone, Copy)]
pub(super) struct Cursor<'a> {
    rest: &'a [u8],
}

impl<'a> Cursor<'a> {
    pub(super) fn new(bytes: &'a [u8]) -> Self {
        Cursor { rest: bytes }
    }

    /// Number of bytes not yet read: what bounds any reservation made from a count in the data.
    pub(super) fn left(&self) -> usize {
        self.rest.len()
    }

    pub(super) fn take(&mut self, count: usize) -> Option<&'a [u8]> {
        let (head, tail) = self.rest.split_at_checked(count)?;
        self.rest = tail;
        Some(head)
    }

    fn array<const N: usize>(&mut self) -> Option<[u8; N]> {
        let (head, tail) = self.rest.split_first_chunk::<N>()?;
        self.rest = tail;
        Some(*head)
    }

    pub(super) fn u1(&mut self) -> Option<u8> {
        self.array::<1>().map(|[byte]| byte)
    }

    /// Big-endian, as in class files.
    pub(super) fn u2(&mut self) -> Option<u16> {
        self.array().map(u16::from_be_bytes)
    }

    pub(super) fn u4(&mut self, order: Order) -> Option<u32> {
        let bytes = self.array()?;
        Some(match order {
            Order::Big => u32::from_be_bytes(bytes),
            Order::Little => u32::from_le_bytes(bytes),
        })
    }

    pub(super) fn u8(&mut self, order: Order) -> Option<u64> {
        let bytes = self.array()?;
        Some(match order {
            Order::Big => u64::from_be_bytes(bytes),
            Order::Little => u64::from_le_bytes(bytes),
        })
    }

    /// An unsigned number in groups of seven bits, least significant first (LEB128).
    pub(super) fn varint(&mut self) -> Option<u64> {
        let mut value = 0_u64;
        for shift in (0..64).step_by(7) {
            let byte = self.u1()?;
            let group = u64::from(byte & 0x7F);
            if shift == 63 && group > 1 {
                return None;
            }
            value |= group << shift;
            if byte & 0x80 == 0 {
                return Some(value);
            }
        }
        None
    }
}

/// The order of the bytes of a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Order {
    Big,
    Little,
}

#[cfg(test)]
mod tests {
    use super::*;

    /// DWARF 5 §7.6, figure 22: 128 is 80 01, 12857 is B9 64.
    #[test]
    fn numbers_of_variable_length_read_as_the_standard_writes_them() {
        assert_eq!(Cursor::new(&[0x02]).varint(), Some(2));
        assert_eq!(Cursor::new(&[0x80, 0x01]).varint(), Some(128));
        assert_eq!(Cursor::new(&[0xB9, 0x64]).varint(), Some(12857));
        assert_eq!(Cursor::new(&[0x80]).varint(), None);
        let longest = [0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0x01];
        assert_eq!(Cursor::new(&longest).varint(), Some(u64::MAX));
        assert_eq!(Cursor::new(&[0xFF; 11]).varint(), None);
    }

    #[test]
    fn nothing_is_read_past_the_end() {
        let mut cursor = Cursor::new(&[1, 2, 3]);
        assert_eq!(cursor.u2(), Some(0x0102));
        assert_eq!(cursor.u2(), None);
        assert_eq!(cursor.left(), 1);
        assert_eq!(cursor.take(2), None);
        assert_eq!(cursor.take(1), Some(&[3][..]));
    }
}

//! The constant pool (JVMS §4.4): one pass notes where each constant begins; everything else is looked up on demand.
//!
//! The first function to read is [`Pool::read`]. A look-up gives `None` where the index leads nowhere or to a constant
//! of another kind; the JVM would reject such a file.

use super::cursor::Cursor;
use super::error::{Error, ErrorKind};

/// The kinds of constants, with the values of JVMS table 4.4-A.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[repr(u8)]
#[expect(missing_docs, reason = "the variants are the table's own names without their prefix")]
pub enum Tag {
    Utf8 = 1,
    Integer = 3,
    Float = 4,
    Long = 5,
    Double = 6,
    Class = 7,
    String = 8,
    Fieldref = 9,
    Methodref = 10,
    InterfaceMethodref = 11,
    NameAndType = 12,
    MethodHandle = 15,
    MethodType = 16,
    Dynamic = 17,
    InvokeDynamic = 18,
    Module = 19,
    Package = 20,
}

impl Tag {
    /// The tag with that value, if the table has one.
    pub const fn of(value: u8) -> Option<Tag> {
        Some(match value {
            1 => Tag::Utf8,
            3 => Tag::Integer,
            4 => Tag::Float,
            5 => Tag::Long,
            6 => Tag::Double,
            7 => Tag::Class,
            8 => Tag::String,
            9 => Tag::Fieldref,
            10 => Tag::Methodref,
            11 => Tag::InterfaceMethodref,
            12 => Tag::NameAndType,
            15 => Tag::MethodHandle,
            16 => Tag::MethodType,
            17 => Tag::Dynamic,
            18 => Tag::InvokeDynamic,
            19 => Tag::Module,
            20 => Tag::Package,
            _ => return None,
        })
    }

    /// Bytes of such a constant with its tag; for `Utf8` without the text (JVMS §4.4.1 to §4.4.12).
    const fn size(self) -> u8 {
        match self {
            Tag::Utf8 | Tag::Class | Tag::String | Tag::MethodType | Tag::Module | Tag::Package => 3,
            Tag::MethodHandle => 4,
            Tag::Integer
            | Tag::Float
            | Tag::Fieldref
            | Tag::Methodref
            | Tag::InterfaceMethodref
            | Tag::NameAndType
            | Tag::Dynamic
            | Tag::InvokeDynamic => 5,
            Tag::Long | Tag::Double => 9,
        }
    }
}

/// Size by tag value; 0 for values that are no tag. Indexed by a byte, hence 256 long.
#[expect(clippy::indexing_slicing, reason = "computed at compile time")]
static SIZES: [u8; 256] = {
    let mut sizes = [0; 256];
    let mut value = 0;
    while value < 256 {
        if let Some(tag) = Tag::of(value as u8) {
            sizes[value] = tag.size();
        }
        value += 1;
    }
    sizes
};

/// The tags of [`Pool::naming`], one bit each; no tag is above 31.
const NAMING: u32 = 1 << Tag::Class as u32
    | 1 << Tag::String as u32
    | 1 << Tag::MethodHandle as u32
    | 1 << Tag::MethodType as u32
    | 1 << Tag::Dynamic as u32
    | 1 << Tag::InvokeDynamic as u32;

/// Memory that is used again for one class after another.
#[derive(Debug, Default)]
pub struct Scratch {
    /// Offset of the constant's tag in the file; 0 for slots that hold none.
    slots: Vec<u32>,
    /// Indices of the constants that name something by themselves.
    naming: Vec<u16>,
}

/// The constant pool of one class file.
#[derive(Clone, Copy, Debug)]
pub struct Pool<'a> {
    bytes: &'a [u8],
    slots: &'a [u32],
    naming: &'a [u16],
}

/// The two parts of a field, method or interface method reference (JVMS §4.4.2), resolved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MemberRef<'a> {
    /// Index of the `CONSTANT_Class` that the member is looked up in.
    pub owner: u16,
    /// Name.
    pub name: &'a [u8],
    /// Field or method descriptor.
    pub descriptor: &'a [u8],
}

/// A `CONSTANT_Dynamic` or `CONSTANT_InvokeDynamic` (JVMS §4.4.10), resolved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dynamic<'a> {
    /// Index into the `BootstrapMethods` attribute.
    pub bootstrap: u16,
    /// Name.
    pub name: &'a [u8],
    /// Field descriptor of the constant, or method descriptor of the call site.
    pub descriptor: &'a [u8],
}

impl<'a> Pool<'a> {
    /// Notes where each constant begins; `cursor` stands at `constant_pool_count` and is left behind the pool.
    pub(super) fn read(file: &'a [u8], cursor: &mut Cursor<'a>, scratch: &'a mut Scratch) -> Result<Pool<'a>, Error> {
        let count = usize::from(cursor.u2()?);
        let Scratch { slots, naming } = scratch;
        naming.clear();
        slots.clear();
        // The count has 16 bits, so this is 256 KiB at the most.
        slots.resize(count, 0);
        let mut at = cursor.offset();
        let mut rest = slots.iter_mut().zip(0_u16..);
        rest.next();
        while let Some((slot, index)) = rest.next() {
            // No constant is shorter than three bytes. Reading the length of a text that may not be one and masking
            // it costs less than a branch that nothing predicts.
            let Some(&[tag, high, low]) = file.get(at..).and_then(<[u8]>::first_chunk::<3>) else {
                return Err(Error::new(at.min(file.len()), ErrorKind::Truncated));
            };
            #[expect(clippy::indexing_slicing, reason = "a byte cannot exceed a table of 256")]
            let size = SIZES[usize::from(tag)];
            if size == 0 {
                return Err(Error::new(at, ErrorKind::ConstantTag(tag)));
            }
            let text = if tag == Tag::Utf8 as u8 { usize::from(u16::from_be_bytes([high, low])) } else { 0 };
            *slot = at as u32;
            if NAMING & (1 << (tag & 31)) != 0 {
                naming.push(index);
            }
            at += usize::from(size) + text;
            if size == 9 {
                rest.next();
            }
        }
        if at > file.len() || u32::try_from(at).is_err() {
            return Err(Error::new(file.len(), ErrorKind::Truncated));
        }
        *cursor = Cursor::new(file, at);
        Ok(Pool { bytes: file, slots, naming })
    }

    /// Indices of the constants that name a class, a text or types by themselves: classes, strings, method handles and
    /// types, dynamic constants and call sites; ascending.
    pub fn naming(self) -> &'a [u16] {
        self.naming
    }

    /// `constant_pool_count`: one more than the last index.
    pub fn len(self) -> u16 {
        self.slots.len() as u16
    }

    /// Whether the pool holds no constant.
    pub fn is_empty(self) -> bool {
        self.slots.len() <= 1
    }

    /// The kind of a constant.
    #[inline]
    pub fn tag(self, index: u16) -> Option<Tag> {
        Tag::of(*self.entry(index)?.first()?)
    }

    /// The file from the constant's tag on.
    #[inline]
    fn entry(self, index: u16) -> Option<&'a [u8]> {
        let at = *self.slots.get(usize::from(index))? as usize;
        if at == 0 {
            return None;
        }
        self.bytes.get(at..)
    }

    /// The only operand of a constant that has one.
    #[inline]
    fn operand(self, index: u16, tag: Tag) -> Option<u16> {
        match *self.entry(index)?.first_chunk::<3>()? {
            [t, a, b] if t == tag as u8 => Some(u16::from_be_bytes([a, b])),
            _ => None,
        }
    }

    /// The text of a `CONSTANT_Utf8`, in modified UTF-8 (JVMS §4.4.7).
    #[inline]
    pub fn utf8(self, index: u16) -> Option<&'a [u8]> {
        let entry = self.entry(index)?;
        match *entry.first_chunk::<3>()? {
            [t, a, b] if t == Tag::Utf8 as u8 => entry.get(3..3 + usize::from(u16::from_be_bytes([a, b]))),
            _ => None,
        }
    }

    /// The index of the name of a `CONSTANT_Class`.
    #[inline]
    pub fn class_name_index(self, index: u16) -> Option<u16> {
        self.operand(index, Tag::Class)
    }

    /// The name of a `CONSTANT_Class` as it stands: internal form, or a descriptor if it names an array class.
    #[inline]
    pub fn class_name(self, index: u16) -> Option<&'a [u8]> {
        self.utf8(self.class_name_index(index)?)
    }

    /// The text of a `CONSTANT_String`.
    pub fn string(self, index: u16) -> Option<&'a [u8]> {
        self.utf8(self.operand(index, Tag::String)?)
    }

    /// The name of a `CONSTANT_Module`.
    pub fn module(self, index: u16) -> Option<&'a [u8]> {
        self.utf8(self.operand(index, Tag::Module)?)
    }

    /// The name of a `CONSTANT_Package`, in internal form.
    pub fn package(self, index: u16) -> Option<&'a [u8]> {
        self.utf8(self.operand(index, Tag::Package)?)
    }

    /// The index of the descriptor of a `CONSTANT_MethodType`.
    pub fn method_type_index(self, index: u16) -> Option<u16> {
        self.operand(index, Tag::MethodType)
    }

    /// The descriptor of a `CONSTANT_MethodType`.
    pub fn method_type(self, index: u16) -> Option<&'a [u8]> {
        self.utf8(self.method_type_index(index)?)
    }

    /// `reference_kind` (JVMS table 5.4.3.5-A) and the index of the member reference of a `CONSTANT_MethodHandle`.
    pub fn method_handle(self, index: u16) -> Option<(u8, u16)> {
        match *self.entry(index)?.first_chunk::<4>()? {
            [15, kind, a, b] => Some((kind, u16::from_be_bytes([a, b]))),
            _ => None,
        }
    }

    /// The indices of name and descriptor of a `CONSTANT_NameAndType`.
    #[inline]
    pub fn name_and_type_indices(self, index: u16) -> Option<(u16, u16)> {
        match *self.entry(index)?.first_chunk::<5>()? {
            [12, a, b, c, d] => Some((u16::from_be_bytes([a, b]), u16::from_be_bytes([c, d]))),
            _ => None,
        }
    }

    /// Name and descriptor of a `CONSTANT_NameAndType`.
    pub fn name_and_type(self, index: u16) -> Option<(&'a [u8], &'a [u8])> {
        let (name, descriptor) = self.name_and_type_indices(index)?;
        Some((self.utf8(name)?, self.utf8(descriptor)?))
    }

    /// The indices of the owner's `CONSTANT_Class` and of the `CONSTANT_NameAndType` of a field, method or interface
    /// method reference.
    #[inline]
    pub fn member_ref_indices(self, index: u16) -> Option<(u16, u16)> {
        match *self.entry(index)?.first_chunk::<5>()? {
            [9..=11, a, b, c, d] => Some((u16::from_be_bytes([a, b]), u16::from_be_bytes([c, d]))),
            _ => None,
        }
    }

    /// A field, method or interface method reference.
    pub fn member_ref(self, index: u16) -> Option<MemberRef<'a>> {
        let (owner, name_and_type) = self.member_ref_indices(index)?;
        let (name, descriptor) = self.name_and_type(name_and_type)?;
        Some(MemberRef { owner, name, descriptor })
    }

    /// The bootstrap index and the index of the `CONSTANT_NameAndType` of a dynamic constant or call site.
    pub fn dynamic_indices(self, index: u16) -> Option<(u16, u16)> {
        match *self.entry(index)?.first_chunk::<5>()? {
            [17 | 18, a, b, c, d] => Some((u16::from_be_bytes([a, b]), u16::from_be_bytes([c, d]))),
            _ => None,
        }
    }

    /// A dynamic constant or call site.
    pub fn dynamic(self, index: u16) -> Option<Dynamic<'a>> {
        let (bootstrap, name_and_type) = self.dynamic_indices(index)?;
        let (name, descriptor) = self.name_and_type(name_and_type)?;
        Some(Dynamic { bootstrap, name, descriptor })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// JVMS (Java SE 25), table 4.4-A "Constant pool tags (by section)", and the slots and sizes of §4.4.1 to §4.4.12.
    #[test]
    fn tags_are_those_of_the_specification() {
        let table = [
            (Tag::Utf8, 1, 3),
            (Tag::Integer, 3, 5),
            (Tag::Float, 4, 5),
            (Tag::Long, 5, 9),
            (Tag::Double, 6, 9),
            (Tag::Class, 7, 3),
            (Tag::String, 8, 3),
            (Tag::Fieldref, 9, 5),
            (Tag::Methodref, 10, 5),
            (Tag::InterfaceMethodref, 11, 5),
            (Tag::NameAndType, 12, 5),
            (Tag::MethodHandle, 15, 4),
            (Tag::MethodType, 16, 3),
            (Tag::Dynamic, 17, 5),
            (Tag::InvokeDynamic, 18, 5),
            (Tag::Module, 19, 3),
            (Tag::Package, 20, 3),
        ];
        for (tag, value, size) in table {
            assert_eq!(tag as u8, value);
            assert_eq!(Tag::of(value), Some(tag));
            assert_eq!(tag.size(), size);
        }
        assert_eq!((0..=255).filter_map(Tag::of).count(), table.len());
    }

    fn pool<'a>(file: &'a [u8], scratch: &'a mut Scratch) -> Result<Pool<'a>, Error> {
        Pool::read(file, &mut Cursor::new(file, 1), scratch)
    }

    /// JVMS §4.4.5: an eight-byte constant takes two indices, the second of which is unusable.
    #[test]
    fn long_and_double_take_two_slots() {
        let mut file = vec![0, 0, 5];
        file.extend([5, 0, 0, 0, 0, 0, 0, 0, 7]);
        file.extend([1, 0, 2, b'h', b'i']);
        file.extend([7, 0, 3]);
        let mut scratch = Scratch::default();
        let pool = pool(&file, &mut scratch).unwrap();
        assert_eq!(pool.tag(1), Some(Tag::Long));
        assert_eq!(pool.tag(2), None);
        assert_eq!(pool.utf8(3), Some(&b"hi"[..]));
        assert_eq!(pool.class_name(4), Some(&b"hi"[..]));
        assert_eq!(pool.class_name(3), None);
        assert_eq!(pool.utf8(0), None);
        assert_eq!(pool.utf8(5), None);
    }

    #[test]
    fn a_text_longer_than_the_file_is_an_error() {
        let mut scratch = Scratch::default();
        let error = pool(&[0, 0, 2, 1, 0, 9, b'x'], &mut scratch).unwrap_err();
        assert_eq!(error.kind, ErrorKind::Truncated);
        let error = pool(&[0, 0, 2, 2, 0, 0], &mut scratch).unwrap_err();
        assert_eq!(error, Error::new(3, ErrorKind::ConstantTag(2)));
    }
}

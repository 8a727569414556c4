//! Verification types (JVMS §4.10.1.2) in eight bytes: a class is the place of its name in the constant pool.
//!
//! Most comparisons are between names from the same place, so that comparing the eight bytes settles them.
//! [`Names`] turns constants and descriptors into types, and types into names.

use crate::classfile::{ClassFile, Pool};

pub(super) const OBJECT_NAME: &[u8] = b"java/lang/Object";

/// Names that the verifier uses on its own account, by their place in this list.
const OWN: [&[u8]; 6] = [
    OBJECT_NAME,
    b"java/lang/Throwable",
    b"java/lang/String",
    b"java/lang/Class",
    b"java/lang/invoke/MethodHandle",
    b"java/lang/invoke/MethodType",
];

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[repr(u8)]
pub(super) enum Kind {
    /// Anything or nothing: no use can be made of it.
    Top,
    Int,
    Float,
    /// A `long` takes two slots; the second is `Second`.
    Long,
    Double,
    Second,
    Null,
    UninitializedThis,
    /// The result of `new` at the place in `start`.
    Uninitialized,
    /// What `jsr` pushes; the subroutine begins at the place in `start`.
    Address,
    /// A class, or with `dims` an array of it.
    Class,
    /// An array of a primitive type, whose letter is in `start`.
    Primitive,
}

/// A verification type.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Type {
    pub(super) kind: Kind,
    pub(super) dims: u8,
    /// Index of the text that holds the name; 0 for a name in [`OWN`].
    text: u16,
    /// Where the name begins in the text, or what the kind says.
    pub(super) start: u16,
    /// Bytes of the name.
    pub(super) length: u16,
}

impl Type {
    pub(super) const TOP: Type = Type::plain(Kind::Top);
    pub(super) const INT: Type = Type::plain(Kind::Int);
    pub(super) const FLOAT: Type = Type::plain(Kind::Float);
    pub(super) const LONG: Type = Type::plain(Kind::Long);
    pub(super) const DOUBLE: Type = Type::plain(Kind::Double);
    pub(super) const SECOND: Type = Type::plain(Kind::Second);
    pub(super) const NULL: Type = Type::plain(Kind::Null);
    pub(super) const UNINITIALIZED_THIS: Type = Type::plain(Kind::UninitializedThis);
    pub(super) const OBJECT: Type = Type::own(0);
    pub(super) const THROWABLE: Type = Type::own(1);
    pub(super) const STRING: Type = Type::own(2);
    pub(super) const CLASS: Type = Type::own(3);
    pub(super) const METHOD_HANDLE: Type = Type::own(4);
    pub(super) const METHOD_TYPE: Type = Type::own(5);

    const fn plain(kind: Kind) -> Type {
        Type { kind, dims: 0, text: 0, start: 0, length: 0 }
    }

    #[expect(clippy::indexing_slicing, reason = "worked out by the compiler, which would stop at a wrong index")]
    const fn own(place: u16) -> Type {
        Type { start: place, length: OWN[place as usize].len() as u16, ..Type::plain(Kind::Class) }
    }

    pub(super) fn uninitialized(pc: u32) -> Type {
        Type { start: pc as u16, ..Type::plain(Kind::Uninitialized) }
    }

    pub(super) fn address(entry: u32) -> Type {
        Type { start: entry as u16, ..Type::plain(Kind::Address) }
    }

    /// An array of a primitive type of that letter.
    pub(super) fn primitive_array(letter: u8) -> Type {
        Type { dims: 1, start: u16::from(letter), ..Type::plain(Kind::Primitive) }
    }

    pub(super) fn with_dims(self, dims: u8) -> Type {
        Type { dims, ..self }
    }

    pub(super) fn has_class(self) -> bool {
        self.kind == Kind::Class
    }

    pub(super) fn is_reference(self) -> bool {
        self.has_class() || matches!(self.kind, Kind::Null | Kind::Primitive)
    }

    /// What an array of this type holds; `null` holds `null` (§4.10.1.9, `aaload`).
    pub(super) fn component(self) -> Type {
        match self.kind {
            Kind::Class if self.dims > 0 => self.with_dims(self.dims - 1),
            Kind::Primitive if self.dims > 1 => self.with_dims(self.dims - 1),
            Kind::Null => Type::NULL,
            _ => Type::TOP,
        }
    }

    /// An array of this type.
    pub(super) fn array_of(self) -> Type {
        self.with_dims(self.dims.saturating_add(1))
    }

    /// What follows it in the slots of a frame.
    pub(super) fn second(self) -> Option<Type> {
        matches!(self.kind, Kind::Long | Kind::Double).then_some(Type::SECOND)
    }
}

/// The constant pool as a source of types.
#[derive(Clone, Copy, Debug)]
pub(super) struct Names<'a> {
    pub(super) pool: Pool<'a>,
    /// The class itself.
    pub(super) this: Type,
}

impl<'a> Names<'a> {
    pub(super) fn new(class: &ClassFile<'a>) -> Self {
        let mut names = Names { pool: class.pool, this: Type::OBJECT };
        names.this = names.class(class.this_class).unwrap_or(Type::OBJECT);
        names
    }

    /// The name of the class, or of the class that the array is of.
    pub(super) fn name(self, of: Type) -> &'a [u8] {
        if of.text == 0 {
            return OWN.get(usize::from(of.start)).copied().unwrap_or(OBJECT_NAME);
        }
        let start = usize::from(of.start);
        let text = self.pool.utf8(of.text).unwrap_or_default();
        text.get(start..start + usize::from(of.length)).unwrap_or_default()
    }

    pub(super) fn same_name(self, a: Type, b: Type) -> bool {
        (a.text, a.start, a.length) == (b.text, b.start, b.length) || self.name(a) == self.name(b)
    }

    pub(super) fn is_object(self, of: Type) -> bool {
        self.name(of) == OBJECT_NAME
    }

    /// The type that a `CONSTANT_Class` names.
    pub(super) fn class(self, index: u16) -> Option<Type> {
        let text = self.pool.class_name_index(index)?;
        let name = self.pool.utf8(text)?;
        if name.first() == Some(&b'[') {
            return parse(text, name, 0).map(|(found, _)| found);
        }
        Some(Type { kind: Kind::Class, dims: 0, text, start: 0, length: name.len() as u16 })
    }

    /// The type of a field.
    pub(super) fn field(self, text: u16) -> Option<Type> {
        parse(text, self.pool.utf8(text)?, 0).map(|(found, _)| found)
    }

    /// The parameters of a method descriptor, slot by slot, into `slots`; and its result, `TOP` for `void`.
    pub(super) fn method(self, text: u16, slots: &mut Vec<Type>) -> Option<Type> {
        slots.clear();
        let descriptor = self.pool.utf8(text)?;
        if descriptor.first() != Some(&b'(') {
            return None;
        }
        let mut at = 1;
        while *descriptor.get(at)? != b')' {
            let (found, end) = parse(text, descriptor, at)?;
            slots.push(found);
            slots.extend(found.second());
            at = end;
        }
        if descriptor.get(at + 1) == Some(&b'V') {
            return Some(Type::TOP);
        }
        parse(text, descriptor, at + 1).map(|(found, _)| found)
    }

    pub(super) fn parameters(self, text: u16, slots: &mut Vec<Type>) -> Option<()> {
        self.method(text, slots).map(drop)
    }
}

/// The type at the beginning of a part of a descriptor, and where it ends.
fn parse(text: u16, descriptor: &[u8], from: usize) -> Option<(Type, usize)> {
    let rest = descriptor.get(from..)?;
    let dims = rest.iter().take_while(|&&byte| byte == b'[').count();
    // No array has more dimensions (§4.3.2).
    let depth = u8::try_from(dims).ok()?;
    let letter = *rest.get(dims)?;
    let end = from + dims + 1;
    let found = match letter {
        b'L' => {
            let length = memchr::memchr(b';', descriptor.get(end..)?)?;
            let class =
                Type { kind: Kind::Class, dims: depth, text, start: u16::try_from(end).ok()?, length: length as u16 };
            return Some((class, end + length + 1));
        }
        b'B' | b'C' | b'D' | b'F' | b'I' | b'J' | b'S' | b'Z' if depth > 0 => {
            Type::primitive_array(letter).with_dims(depth)
        }
        b'B' | b'C' | b'I' | b'S' | b'Z' => Type::INT,
        b'F' => Type::FLOAT,
        b'J' => Type::LONG,
        b'D' => Type::DOUBLE,
        _ => return None,
    };
    Some((found, end))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_type_takes_eight_bytes() {
        assert_eq!(size_of::<Type>(), 8);
    }
}

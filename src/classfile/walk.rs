//! One pass over a class file (JVMS §4.1): header, fields, methods, attributes.
//!
//! The first function to read is [`ClassFile::walk`]. A broken attribute does not end the walk, since its length says
//! where the next one begins; the first fault found is what the walk returns.

use super::cursor::Cursor;
use super::error::{Error, ErrorKind};
use super::visitor::{Indices, Member, MemberKind, Visitor};
use super::{Pool, Position, Scratch};

/// A class file whose constant pool and header have been read (JVMS §4.1).
#[derive(Clone, Copy, Debug)]
pub struct ClassFile<'a> {
    /// The constants.
    pub pool: Pool<'a>,
    /// Major version: 61 for Java SE 17 (JVMS table 4.1-A).
    pub major: u16,
    /// Minor version: 65535 marks a class that depends on preview features.
    pub minor: u16,
    /// JVMS table 4.1-B.
    pub access: u16,
    /// Index of the class itself; for a module descriptor the class is called `module-info`.
    pub this_class: u16,
    /// Index of the superclass; 0 for `java/lang/Object` and module descriptors.
    pub super_class: u16,
    /// Direct superinterfaces.
    pub interfaces: Indices<'a>,
    /// From `fields_count` on.
    pub(super) body: Cursor<'a>,
}

/// Reads a class file and tells the visitor everything in it.
///
/// Total: whatever the bytes, it ends, and without a panic. What was read before and around a fault has been told.
pub fn walk<'a, V: Visitor<'a>>(bytes: &'a [u8], scratch: &'a mut Scratch, visitor: &mut V) -> Result<(), Error> {
    ClassFile::read(bytes, scratch)?.walk(visitor)
}

impl<'a> ClassFile<'a> {
    /// Reads constant pool and header, nothing behind them.
    pub fn read(bytes: &'a [u8], scratch: &'a mut Scratch) -> Result<Self, Error> {
        let mut cursor = Cursor::new(bytes, 0);
        if cursor.u4() != Ok(0xCAFE_BABE) {
            return Err(Error::new(0, ErrorKind::Magic));
        }
        let minor = cursor.u2()?;
        let major = cursor.u2()?;
        let pool = Pool::read(bytes, &mut cursor, scratch)?;
        let access = cursor.u2()?;
        let this_class = cursor.u2()?;
        let super_class = cursor.u2()?;
        let interfaces = indices(&mut cursor)?;
        Ok(ClassFile { pool, major, minor, access, this_class, super_class, interfaces, body: cursor })
    }

    /// The name of the class itself in internal form.
    pub fn name(&self) -> Option<&'a [u8]> {
        self.pool.class_name(self.this_class)
    }

    /// Tells the visitor everything: header, fields, methods, attributes.
    pub fn walk<V: Visitor<'a>>(&self, visitor: &mut V) -> Result<(), Error> {
        let mut walk = Walk { pool: self.pool, visitor, fault: None };
        walk.class(self)?;
        match walk.fault {
            None => Ok(()),
            Some(fault) => Err(fault),
        }
    }
}

/// A list of pool indices with a leading count.
pub(super) fn indices<'a>(cursor: &mut Cursor<'a>) -> Result<Indices<'a>, Error> {
    let count = usize::from(cursor.u2()?);
    cursor.take(count * 2).map(Indices)
}

/// The state of one pass.
pub(super) struct Walk<'a, 'v, V> {
    pub(super) pool: Pool<'a>,
    pub(super) visitor: &'v mut V,
    /// The first fault inside an attribute.
    fault: Option<Error>,
}

impl<'a, V: Visitor<'a>> Walk<'a, '_, V> {
    fn class(&mut self, class: &ClassFile<'a>) -> Result<(), Error> {
        self.visitor.class(class);
        if class.super_class != 0 {
            self.class_name(Position::Superclass, class.super_class);
        }
        self.class_names(Position::Interface, class.interfaces);
        let mut cursor = class.body;
        self.members(&mut cursor, MemberKind::Field)?;
        self.members(&mut cursor, MemberKind::Method)?;
        self.attributes(&mut cursor, Self::class_attribute)?;
        if cursor.is_at_end() { Ok(()) } else { Err(cursor.error(ErrorKind::TrailingBytes)) }
    }

    fn members(&mut self, cursor: &mut Cursor<'a>, kind: MemberKind) -> Result<(), Error> {
        for _ in 0..cursor.u2()? {
            let member = Member { kind, access: cursor.u2()?, name: cursor.u2()?, descriptor: cursor.u2()? };
            self.visitor.member(member);
            match kind {
                MemberKind::Field => {
                    self.descriptor(Position::FieldDescriptor, member.descriptor);
                    self.attributes(cursor, Self::field_attribute)?;
                }
                MemberKind::Method => {
                    self.descriptor(Position::MethodDescriptor, member.descriptor);
                    self.attributes(cursor, Self::method_attribute)?;
                }
            }
            self.visitor.member_end();
        }
        Ok(())
    }

    /// A table of attributes, each read by `read` within its own bounds (JVMS §4.7).
    #[inline]
    pub(super) fn attributes(
        &mut self,
        cursor: &mut Cursor<'a>,
        mut read: impl FnMut(&mut Self, &'a [u8], &mut Cursor<'a>) -> Result<(), Error>,
    ) -> Result<(), Error> {
        for _ in 0..cursor.u2()? {
            let start = cursor.offset();
            let name = cursor.u2()?;
            let length = cursor.u4()? as usize;
            let mut content = cursor.split(length)?;
            let told = match self.pool.utf8(name) {
                Some(name) => read(self, name, &mut content),
                None => Err(Error::new(start, ErrorKind::PoolIndex(name))),
            };
            if let Err(fault) = told {
                self.note(fault);
            }
        }
        Ok(())
    }

    /// Remembers the first fault and lets the walk go on.
    #[cold]
    pub(super) fn note(&mut self, fault: Error) {
        self.fault.get_or_insert(fault);
    }

    pub(super) fn class_name(&mut self, at: Position, class: u16) {
        self.visitor.class_name(at, None, class);
    }

    pub(super) fn class_names(&mut self, at: Position, classes: Indices<'a>) {
        for class in classes.iter() {
            self.class_name(at, class);
        }
    }

    pub(super) fn descriptor(&mut self, at: Position, text: u16) {
        self.visitor.descriptor(at, None, text);
    }
}

//! What follows the constant pool of a class file, copied without some attributes, with every index that it holds.
//!
//! The first function to read is [`Body::read`]. One pass; an attribute that is not known makes all constants stay.

use std::ops::Range;

use super::constants::{Constants, u2, u4};
use crate::classfile::Instruction;
use crate::classfile::opcode::{ANEWARRAY, CHECKCAST, GETSTATIC, INSTANCEOF, LDC, LDC_W, LDC2_W, MULTIANEWARRAY, NEW};

/// Annotations within annotations; those of a JDK reach three.
const ANNOTATION_DEPTH: u8 = 32;

/// An index of a constant in the body.
#[derive(Clone, Copy)]
pub(super) struct Used {
    /// Offset in [`Body::bytes`].
    pub(super) at: usize,
    /// The index that stands there.
    pub(super) index: u16,
    /// One byte instead of two (`ldc`).
    pub(super) narrow: bool,
    /// Whether the constant is a descriptor, a signature, or a name within an annotation.
    pub(super) descriptor: bool,
    /// Whether it is the name of an attribute.
    pub(super) attribute_name: bool,
}

/// Header, fields, methods and attributes.
pub(super) struct Body<'c> {
    pub(super) class: &'c [u8],
    pub(super) bytes: Vec<u8>,
    /// Empty where they were not asked for.
    pub(super) uses: Vec<Used>,
    /// Which of them stand in fields and methods.
    members: Range<usize>,
    /// Whether something in it may use any constant.
    pub(super) keeps_all: bool,
    record: bool,
    /// Whether attributes being read belong to a method's code, whose signatures are not looked at as descriptors.
    in_code: bool,
}

impl<'c> Body<'c> {
    /// Reads a class from behind its pool, leaving out the attributes for whose name `drop` says so.
    pub(super) fn read(
        class: &'c [u8],
        constants: &Constants,
        drop: fn(&[u8]) -> bool,
        record: bool,
    ) -> Option<Body<'c>> {
        let bytes = Vec::with_capacity(class.len().checked_sub(constants.end)?);
        let mut body = Body { class, bytes, uses: Vec::new(), members: 0..0, keeps_all: false, record, in_code: false };
        let mut at = constants.end;
        body.copy(&mut at, 2)?;
        body.indices(&mut at, 2)?;
        body.list(&mut at)?;
        body.members.start = body.uses.len();
        for _fields_then_methods in 0..2 {
            let count = u2(class, at)?;
            body.copy(&mut at, 2)?;
            for _ in 0..count {
                body.copy(&mut at, 2)?;
                body.indices(&mut at, 1)?;
                body.descriptor(&mut at)?;
                body.attributes(&mut at, constants, drop)?;
            }
        }
        body.members.end = body.uses.len();
        body.attributes(&mut at, constants, drop)?;
        // A class whose pool was written anew may be longer than its parts: see `without_debug_data`.
        body.bytes.extend_from_slice(class.get(at..)?);
        Some(body)
    }

    /// The indices as a library meets them that reads the attributes of the class before its members, and writes the
    /// names of all attributes in the end.
    pub(super) fn in_order(&self) -> impl Iterator<Item = &Used> {
        let header = self.uses.get(..self.members.start).unwrap_or_default();
        let members = self.uses.get(self.members.clone()).unwrap_or_default();
        let attributes = self.uses.get(self.members.end..).unwrap_or_default();
        let met = || header.iter().chain(attributes).chain(members);
        met().filter(|used| !used.attribute_name).chain(met().filter(|used| used.attribute_name))
    }

    fn copy(&mut self, at: &mut usize, length: usize) -> Option<()> {
        let end = at.checked_add(length)?;
        self.bytes.extend_from_slice(self.class.get(*at..end)?);
        *at = end;
        Some(())
    }

    fn note(&mut self, index: u16, narrow: bool, descriptor: bool) {
        if self.record {
            self.uses.push(Used {
                at: self.bytes.len(),
                index,
                narrow,
                descriptor: descriptor && !self.in_code,
                attribute_name: false,
            });
        }
    }

    /// `count` indices of two bytes, one after the other.
    fn indices(&mut self, at: &mut usize, count: u16) -> Option<()> {
        for _ in 0..count {
            self.note(u2(self.class, *at)?, false, false);
            self.copy(at, 2)?;
        }
        Some(())
    }

    fn descriptor(&mut self, at: &mut usize) -> Option<()> {
        self.note(u2(self.class, *at)?, false, true);
        self.copy(at, 2)
    }

    /// A count and as many indices.
    fn list(&mut self, at: &mut usize) -> Option<()> {
        let count = u2(self.class, *at)?;
        self.copy(at, 2)?;
        self.indices(at, count)
    }

    fn attributes(&mut self, at: &mut usize, constants: &Constants, drop: fn(&[u8]) -> bool) -> Option<()> {
        let count = u2(self.class, *at)?;
        let count_at = self.bytes.len();
        self.copy(at, 2)?;
        let mut kept: u16 = 0;
        for _ in 0..count {
            let name = constants.text(self.class, u2(self.class, *at)?)?;
            let end = at.checked_add(6)?.checked_add(u4(self.class, at.checked_add(2)?)?)?;
            if end > self.class.len() {
                return None;
            }
            if drop(name) {
                *at = end;
                continue;
            }
            kept += 1;
            self.indices(at, 1)?;
            if let Some(name) = self.uses.last_mut() {
                name.attribute_name = true;
            }
            let length_at = self.bytes.len();
            self.copy(at, 4)?;
            self.attribute(name, at, end, constants, drop)?;
            let length = u32::try_from(self.bytes.len() - length_at - 4).ok()?;
            self.bytes.get_mut(length_at..length_at + 4)?.copy_from_slice(&length.to_be_bytes());
        }
        self.bytes.get_mut(count_at..count_at + 2)?.copy_from_slice(&kept.to_be_bytes());
        Some(())
    }

    fn attribute(
        &mut self,
        name: &[u8],
        at: &mut usize,
        end: usize,
        constants: &Constants,
        drop: fn(&[u8]) -> bool,
    ) -> Option<()> {
        match name {
            b"Code" => self.code(at, constants, drop)?,
            b"Signature" => self.descriptor(at)?,
            b"Record" => {
                let count = u2(self.class, *at)?;
                self.copy(at, 2)?;
                for _ in 0..count {
                    self.indices(at, 2)?;
                    self.attributes(at, constants, drop)?;
                }
            }
            _ if self.record => self.flat_attribute(name, at, end)?,
            _ => {}
        }
        // What is not followed is copied: flags, or an attribute of which nothing is known.
        let rest = end.checked_sub(*at)?;
        self.copy(at, rest)
    }

    /// An attribute that holds no other.
    fn flat_attribute(&mut self, name: &[u8], at: &mut usize, end: usize) -> Option<()> {
        match name {
            b"ConstantValue" | b"NestHost" | b"SourceFile" | b"ModuleMainClass" => self.indices(at, 1)?,
            b"EnclosingMethod" => self.indices(at, 2)?,
            b"Exceptions" | b"NestMembers" | b"PermittedSubclasses" => self.list(at)?,
            b"InnerClasses" => {
                for _ in 0..self.counted(at)? {
                    self.indices(at, 3)?;
                    self.copy(at, 2)?;
                }
            }
            b"BootstrapMethods" => {
                for _ in 0..self.counted(at)? {
                    self.indices(at, 1)?;
                    self.list(at)?;
                }
            }
            b"StackMapTable" => self.frames(at)?,
            b"RuntimeVisibleAnnotations" | b"RuntimeInvisibleAnnotations" => {
                for _ in 0..self.counted(at)? {
                    self.annotation(at, 0)?;
                }
            }
            b"RuntimeVisibleParameterAnnotations" | b"RuntimeInvisibleParameterAnnotations" => {
                let parameters = *self.class.get(*at)?;
                self.copy(at, 1)?;
                for _ in 0..parameters {
                    for _ in 0..self.counted(at)? {
                        self.annotation(at, 0)?;
                    }
                }
            }
            b"RuntimeVisibleTypeAnnotations" | b"RuntimeInvisibleTypeAnnotations" => {
                for _ in 0..self.counted(at)? {
                    self.type_annotation(at)?;
                }
            }
            b"AnnotationDefault" => self.element(at, 0)?,
            b"Synthetic" | b"Deprecated" => {}
            // Tables of debug data, where they are kept, name what nothing else may name.
            _ => self.keeps_all |= end > *at,
        }
        Some(())
    }

    fn counted(&mut self, at: &mut usize) -> Option<u16> {
        let count = u2(self.class, *at)?;
        self.copy(at, 2)?;
        Some(count)
    }

    fn code(&mut self, at: &mut usize, constants: &Constants, drop: fn(&[u8]) -> bool) -> Option<()> {
        self.copy(at, 4)?;
        let length = u4(self.class, *at)?;
        self.copy(at, 4)?;
        let start = *at;
        let code = start..start.checked_add(length)?;
        if self.record {
            self.instructions(code)?;
        }
        self.copy(at, length)?;
        for _ in 0..self.counted(at)? {
            self.copy(at, 6)?;
            self.indices(at, 1)?;
        }
        let outer = std::mem::replace(&mut self.in_code, true);
        self.attributes(at, constants, drop)?;
        self.in_code = outer;
        Some(())
    }

    fn instructions(&mut self, code: Range<usize>) -> Option<()> {
        let base = self.bytes.len();
        let code = self.class.get(code)?;
        let mut pc = 0;
        while (pc as usize) < code.len() {
            let instruction = Instruction::at(code, pc)?;
            let (index, narrow) = match instruction.opcode {
                LDC => (u16::from(instruction.byte()), true),
                LDC_W | LDC2_W | GETSTATIC..=NEW | ANEWARRAY | CHECKCAST | INSTANCEOF | MULTIANEWARRAY => {
                    (instruction.index(), false)
                }
                _ => (0, false),
            };
            if index != 0 {
                let at = base + pc as usize + 1;
                self.uses.push(Used { at, index, narrow, descriptor: false, attribute_name: false });
            }
            pc = instruction.next();
        }
        Some(())
    }

    /// JVMS §4.7.4.
    fn frames(&mut self, at: &mut usize) -> Option<()> {
        for _ in 0..self.counted(at)? {
            let kind = *self.class.get(*at)?;
            self.copy(at, 1)?;
            match kind {
                0..=63 => {}
                64..=127 => self.verification_type(at)?,
                247 => {
                    self.copy(at, 2)?;
                    self.verification_type(at)?;
                }
                248..=251 => self.copy(at, 2)?,
                252..=254 => {
                    self.copy(at, 2)?;
                    for _ in 251..kind {
                        self.verification_type(at)?;
                    }
                }
                255 => {
                    self.copy(at, 2)?;
                    for _locals_then_stack in 0..2 {
                        for _ in 0..self.counted(at)? {
                            self.verification_type(at)?;
                        }
                    }
                }
                _ => return None,
            }
        }
        Some(())
    }

    fn verification_type(&mut self, at: &mut usize) -> Option<()> {
        let tag = *self.class.get(*at)?;
        self.copy(at, 1)?;
        match tag {
            7 => self.indices(at, 1),
            8 => self.copy(at, 2),
            _ => Some(()),
        }
    }

    /// JVMS §4.7.16.
    fn annotation(&mut self, at: &mut usize, depth: u8) -> Option<()> {
        self.descriptor(at)?;
        for _ in 0..self.counted(at)? {
            self.descriptor(at)?;
            self.element(at, depth)?;
        }
        Some(())
    }

    fn element(&mut self, at: &mut usize, depth: u8) -> Option<()> {
        if depth > ANNOTATION_DEPTH {
            return None;
        }
        let tag = *self.class.get(*at)?;
        self.copy(at, 1)?;
        match tag {
            b'e' => {
                self.descriptor(at)?;
                self.indices(at, 1)
            }
            b'c' => self.descriptor(at),
            b'@' => self.annotation(at, depth + 1),
            b'[' => {
                for _ in 0..self.counted(at)? {
                    self.element(at, depth + 1)?;
                }
                Some(())
            }
            _ => self.indices(at, 1),
        }
    }

    /// JVMS §4.7.20.
    fn type_annotation(&mut self, at: &mut usize) -> Option<()> {
        let target = *self.class.get(*at)?;
        self.copy(at, 1)?;
        let length = match target {
            0x00 | 0x01 | 0x16 => 1,
            0x10..=0x12 | 0x17 | 0x42..=0x46 => 2,
            0x13..=0x15 => 0,
            0x47..=0x4B => 3,
            0x40 | 0x41 => 2 + 6 * usize::from(u2(self.class, *at)?),
            _ => return None,
        };
        self.copy(at, length)?;
        let path = 1 + 2 * usize::from(*self.class.get(*at)?);
        self.copy(at, path)?;
        // Annotations of types are not looked at as descriptors.
        let outer = std::mem::replace(&mut self.in_code, true);
        self.annotation(at, 0)?;
        self.in_code = outer;
        Some(())
    }
}

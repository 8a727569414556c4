//! Annotations and their values (JVMS §4.7.16 to §4.7.22).
//!
//! The first function to read is `Walk::annotation`. Values nest; the depth is limited by [`ANNOTATION_DEPTH`].

use super::Position;
use super::cursor::Cursor;
use super::error::{Error, ErrorKind};
use super::visitor::Visitor;
use super::walk::Walk;

/// How deeply annotations and arrays may stand within each other. The language allows no cycles, so real ones stay
/// below ten; the limit keeps hostile files off the stack.
pub const ANNOTATION_DEPTH: u8 = 64;

impl<'a, V: Visitor<'a>> Walk<'a, '_, V> {
    pub(super) fn annotations(&mut self, content: &mut Cursor<'a>) -> Result<(), Error> {
        for _ in 0..content.u2()? {
            self.annotation(content, 0)?;
        }
        Ok(())
    }

    fn annotation(&mut self, content: &mut Cursor<'a>, depth: u8) -> Result<(), Error> {
        let kind = content.u2()?;
        self.visitor.annotation(kind);
        self.descriptor(Position::AnnotationType, kind);
        for _ in 0..content.u2()? {
            let name = content.u2()?;
            self.visitor.element(name);
            self.element_value(content, depth)?;
        }
        self.visitor.annotation_end();
        Ok(())
    }

    /// JVMS §4.7.16.1.
    pub(super) fn element_value(&mut self, content: &mut Cursor<'a>, depth: u8) -> Result<(), Error> {
        if depth >= ANNOTATION_DEPTH {
            return Err(content.error(ErrorKind::AnnotationDepth));
        }
        let form = content.u1()?;
        match form {
            b'B' | b'C' | b'D' | b'F' | b'I' | b'J' | b'S' | b'Z' => {
                content.u2()?;
            }
            b's' => {
                let text = content.u2()?;
                self.visitor.element_string(text);
            }
            b'e' => {
                let kind = content.u2()?;
                let name = content.u2()?;
                self.visitor.element_enum(kind, name);
                self.descriptor(Position::AnnotationValue, kind);
            }
            b'c' => {
                let class = content.u2()?;
                self.descriptor(Position::AnnotationValue, class);
            }
            b'@' => self.annotation(content, depth + 1)?,
            b'[' => {
                for _ in 0..content.u2()? {
                    self.element_value(content, depth + 1)?;
                }
            }
            _ => return Err(content.error(ErrorKind::ElementValue(form))),
        }
        Ok(())
    }

    /// JVMS §4.7.20: what is annotated (table 4.7.20-A) and the way to it come before each annotation.
    pub(super) fn type_annotations(&mut self, content: &mut Cursor<'a>) -> Result<(), Error> {
        for _ in 0..content.u2()? {
            let target = content.u1()?;
            let target_bytes = match target {
                // type_parameter_target, formal_parameter_target
                0x00 | 0x01 | 0x16 => 1,
                // supertype_target, type_parameter_bound_target, throws_target, catch_target, offset_target
                0x10..=0x12 | 0x17 | 0x42..=0x46 => 2,
                // empty_target
                0x13..=0x15 => 0,
                // localvar_target
                0x40 | 0x41 => usize::from(content.u2()?) * 6,
                // type_argument_target
                0x47..=0x4B => 3,
                _ => return Err(content.error(ErrorKind::AnnotationTarget(target))),
            };
            content.take(target_bytes)?;
            let steps = usize::from(content.u1()?);
            content.take(steps * 2)?;
            self.annotation(content, 0)?;
        }
        Ok(())
    }
}

//! Instructions: a run over the code that stops only at those that name something.
//!
//! The first function to read is [`instructions`]. Which classes the verifier would ask for is not its business.

use super::cursor::Cursor;
use super::error::{Error, ErrorKind};
use super::opcode::{self, PLAIN};
use super::visitor::Visitor;
use super::{Pool, Position, Tag};

/// Tells the visitor every instruction that names something. `origin` is the offset of `code` in the file.
pub(super) fn instructions<'a, V: Visitor<'a>>(
    pool: Pool<'a>,
    code: &'a [u8],
    origin: usize,
    visitor: &mut V,
) -> Result<(), Error> {
    let mut at = 0;
    while let Some(&opcode) = code.get(at) {
        #[expect(clippy::indexing_slicing, reason = "a byte cannot exceed a table of 256")]
        let length = PLAIN[usize::from(opcode)];
        at += if length != 0 {
            usize::from(length)
        } else {
            match naming(pool, code, at, opcode, visitor) {
                Some(length) => length,
                None => special(code, at, opcode).map_err(|kind| Error::new(origin + at, kind))?,
            }
        };
    }
    if at == code.len() { Ok(()) } else { Err(Error::new(origin + code.len(), ErrorKind::Truncated)) }
}

/// Tells an instruction that names a constant and gives its length; `None` if it is of another sort or cut off.
#[inline]
fn naming<'a, V: Visitor<'a>>(pool: Pool<'a>, code: &'a [u8], at: usize, opcode: u8, visitor: &mut V) -> Option<usize> {
    let pc = at as u32;
    let index = || code.get(at + 1..).and_then(<[u8]>::first_chunk).map(|&pair| u16::from_be_bytes(pair));
    match opcode {
        opcode::GETSTATIC | opcode::PUTSTATIC => {
            visitor.member_ref(Position::StaticField, opcode, pc, index()?);
            Some(3)
        }
        opcode::GETFIELD | opcode::PUTFIELD => {
            visitor.member_ref(Position::InstanceField, opcode, pc, index()?);
            Some(3)
        }
        opcode::INVOKEVIRTUAL | opcode::INVOKESPECIAL => {
            visitor.member_ref(Position::InstanceCall, opcode, pc, index()?);
            Some(3)
        }
        opcode::INVOKESTATIC => {
            visitor.member_ref(Position::StaticCall, opcode, pc, index()?);
            Some(3)
        }
        opcode::INVOKEINTERFACE => {
            visitor.member_ref(Position::InstanceCall, opcode, pc, index()?);
            Some(5)
        }
        opcode::INVOKEDYNAMIC => {
            visitor.invoke_dynamic(pc, index()?);
            Some(5)
        }
        opcode::NEW => {
            visitor.class_name(Position::New, Some(pc), index()?);
            Some(3)
        }
        opcode::ANEWARRAY => {
            visitor.class_name(Position::NewArray, Some(pc), index()?);
            Some(3)
        }
        opcode::MULTIANEWARRAY => {
            visitor.class_name(Position::NewArray, Some(pc), index()?);
            Some(4)
        }
        opcode::CHECKCAST => {
            visitor.class_name(Position::CheckCast, Some(pc), index()?);
            Some(3)
        }
        opcode::INSTANCEOF => {
            visitor.class_name(Position::InstanceOf, Some(pc), index()?);
            Some(3)
        }
        opcode::LDC => {
            load(pool, pc, u16::from(*code.get(at + 1)?), visitor);
            Some(2)
        }
        opcode::LDC_W | opcode::LDC2_W => {
            load(pool, pc, index()?, visitor);
            Some(3)
        }
        _ => None,
    }
}

/// A constant is loaded. Numbers name nothing; an index that leads nowhere is left to the JVM, which rejects it.
#[inline]
fn load<'a, V: Visitor<'a>>(pool: Pool<'a>, pc: u32, index: u16, visitor: &mut V) {
    match pool.tag(index) {
        Some(Tag::String) => visitor.load_string(pc, index),
        Some(Tag::Class) => visitor.class_name(Position::LoadClass, Some(pc), index),
        Some(tag @ (Tag::MethodType | Tag::MethodHandle | Tag::Dynamic)) => visitor.load_constant(pc, index, tag),
        _ => {}
    }
}

/// The length of an instruction of variable length (JVMS §6.5, `tableswitch`, `lookupswitch`, `wide`).
#[cold]
fn special(code: &[u8], at: usize, opcode: u8) -> Result<usize, ErrorKind> {
    let mut operands = Cursor::new(code, at + 1);
    // Both switches are padded so that their first operand stands at a multiple of four from the code's start.
    let padding = 3 - at % 4;
    let truncated = |_| ErrorKind::Truncated;
    match opcode {
        opcode::TABLESWITCH => {
            operands.take(padding + 4).map_err(truncated)?;
            let low = i64::from(operands.u4().map_err(truncated)?.cast_signed());
            let high = i64::from(operands.u4().map_err(truncated)?.cast_signed());
            let targets = usize::try_from(high - low + 1).map_err(|_| ErrorKind::Operand(opcode))?;
            operands.take(targets.saturating_mul(4)).map_err(truncated)?;
        }
        opcode::LOOKUPSWITCH => {
            operands.take(padding + 4).map_err(truncated)?;
            let pairs = operands.u4().map_err(truncated)?.cast_signed();
            let pairs = usize::try_from(pairs).map_err(|_| ErrorKind::Operand(opcode))?;
            operands.take(pairs.saturating_mul(8)).map_err(truncated)?;
        }
        opcode::WIDE => match operands.u1().map_err(truncated)? {
            opcode::IINC => operands.take(4).map(drop).map_err(truncated)?,
            0x15..=0x19 | 0x36..=0x3A | 0xA9 => operands.take(2).map(drop).map_err(truncated)?,
            _ => return Err(ErrorKind::Operand(opcode)),
        },
        0xCA.. => return Err(ErrorKind::Opcode(opcode)),
        // An instruction that names something and whose index is cut off.
        _ => return Err(ErrorKind::Truncated),
    }
    Ok(operands.offset() - at)
}

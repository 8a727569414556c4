//! Class literals of which nobody gets hold: what stands behind them asks the class object something and drops it, or
//! locks it. Whoever lists members of a class that is not known has it from elsewhere.
//!
//! The first function to read is [`is_asked_only`].

use crate::classfile::{Pool, opcode};

/// Instructions that move a constant or a local variable (JVMS §6.5).
const LDC: u8 = 0x12;
const LDC_W: u8 = 0x13;
const ASTORE: u8 = 0x3A;
const ASTORE_0: u8 = 0x4B;
const ASTORE_3: u8 = 0x4E;
const DUP: u8 = 0x59;
const MONITORENTER: u8 = 0xC2;

/// Methods of `java.lang.Class` that give neither a class object nor members, nor an object of the class.
const ANSWERS: [&[u8]; 16] = [
    b"desiredAssertionStatus",
    b"equals",
    b"getCanonicalName",
    b"getClassLoader",
    b"getModifiers",
    b"getModule",
    b"getName",
    b"getPackage",
    b"getPackageName",
    b"getProtectionDomain",
    b"getResource",
    b"getResourceAsStream",
    b"getSimpleName",
    b"getTypeName",
    b"hashCode",
    b"toString",
];

/// Static methods that take a class for its name (common practice, no source: of all logging libraries).
const LOGGERS: [&[u8]; 2] = [b"getLog", b"getLogger"];

/// Whether the instruction behind the one at that place, which loads a class literal, is such a question.
pub(super) fn is_asked_only(pool: Pool<'_>, code: &[u8], pc: u32) -> bool {
    let rest = code.get(pc as usize..).unwrap_or_default();
    let ([LDC, _, next @ ..] | [LDC_W, _, _, next @ ..]) = rest else { return false };
    match *next {
        [opcode::INVOKEVIRTUAL, high, low, ..] => {
            let called = pool.member_ref(u16::from_be_bytes([high, low]));
            called.is_some_and(|called| {
                pool.class_name(called.owner) == Some(b"java/lang/Class") && ANSWERS.contains(&called.name)
            })
        }
        [opcode::INVOKESTATIC, high, low, ..] => {
            let called = pool.member_ref(u16::from_be_bytes([high, low]));
            called.is_some_and(|called| {
                LOGGERS.contains(&called.name) && called.descriptor.starts_with(b"(Ljava/lang/Class;)")
            })
        }
        [DUP, ASTORE, _, MONITORENTER, ..] | [DUP, ASTORE_0..=ASTORE_3, MONITORENTER, ..] => true,
        _ => false,
    }
}

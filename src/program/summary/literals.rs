//! Class literals of which nobody gets hold, and those of which the name is kept: what stands behind them asks the class
//! object something and drops it, or locks it. Whoever lists members of a class that is not known has it from elsewhere.
//!
//! The first functions to read are [`is_asked_only`] and [`is_named`].

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

/// Those of them that give a name which finds the class again.
const NAMES: [&[u8]; 3] = [b"getCanonicalName", b"getName", b"getTypeName"];

/// Static methods that take a class, or its name, for a logger (common practice, no source: of all logging libraries).
const LOGGERS: [&[u8]; 2] = [b"getLog", b"getLogger"];

/// Owners of methods that print a text, look at it or put it into a longer one, as messages have it. Where such a one is the
/// name that is looked up, [`crate::flow`] sees to it.
const TEXTS: [&[u8]; 5] = [
    b"java/io/PrintStream",
    b"java/io/PrintWriter",
    b"java/lang/String",
    b"java/lang/StringBuffer",
    b"java/lang/StringBuilder",
];

/// Whether the instruction at that place loads a class literal whose name is kept: handed on, put into a map, stored. It is as
/// good as the text that it gives.
pub(super) fn is_named(pool: Pool<'_>, code: &[u8], pc: u32) -> bool {
    let [opcode::INVOKEVIRTUAL, high, low, behind @ ..] = behind_constant(code, pc) else { return false };
    let asked = pool.member_ref(u16::from_be_bytes([*high, *low]));
    let is_name = asked
        .is_some_and(|asked| pool.class_name(asked.owner) == Some(b"java/lang/Class") && NAMES.contains(&asked.name));
    is_name
        && match *behind {
            [opcode::INVOKEDYNAMIC, ..] => false,
            [opcode::INVOKESTATIC | opcode::INVOKEVIRTUAL, high, low, ..] => {
                pool.member_ref(u16::from_be_bytes([high, low])).is_some_and(|called| {
                    let owner = pool.class_name(called.owner).unwrap_or_default();
                    !LOGGERS.contains(&called.name) && !TEXTS.contains(&owner)
                })
            }
            _ => true,
        }
}

/// The code behind the instruction at that place, if that loads a constant of one word.
fn behind_constant(code: &[u8], pc: u32) -> &[u8] {
    match code.get(pc as usize..).unwrap_or_default() {
        [LDC, _, next @ ..] | [LDC_W, _, _, next @ ..] => next,
        _ => &[],
    }
}

/// Whether the instruction behind the one at that place, which loads a class literal, is such a question.
pub(super) fn is_asked_only(pool: Pool<'_>, code: &[u8], pc: u32) -> bool {
    match *behind_constant(code, pc) {
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

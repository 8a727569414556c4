//! The instructions (JVMS §6.5) by what a reader of names must know: how long each is, and which name something.

/// Bytes of each instruction that names nothing and has a fixed length; 0 for all others: those that name a constant,
/// those of variable length, and bytes that are no instruction.
#[expect(
    clippy::indexing_slicing,
    clippy::match_same_arms,
    reason = "computed at compile time; each arm says what it is about"
)]
pub(super) static PLAIN: [u8; 256] = {
    let mut lengths = [0; 256];
    let mut opcode = 0;
    while opcode < 256 {
        lengths[opcode] = match opcode as u8 {
            LDC..=LDC2_W | GETSTATIC..=NEW | ANEWARRAY | CHECKCAST | INSTANCEOF | MULTIANEWARRAY => 0,
            TABLESWITCH | LOOKUPSWITCH | WIDE => 0,
            // bipush; loads, stores and ret with a local variable; newarray
            0x10 | 0x15..=0x19 | 0x36..=0x3A | 0xA9 | 0xBC => 2,
            // sipush; iinc; branches, goto, jsr; ifnull, ifnonnull
            0x11 | 0x84 | 0x99..=0xA8 | 0xC6 | 0xC7 => 3,
            // goto_w, jsr_w
            0xC8 | 0xC9 => 5,
            // breakpoint, impdep1, impdep2 (§6.2) may not occur in a class file; the rest is not assigned
            0xCA..=0xFF => 0,
            _ => 1,
        };
        opcode += 1;
    }
    lengths
};

pub(crate) const LDC: u8 = 0x12;
pub(crate) const LDC_W: u8 = 0x13;
pub(crate) const LDC2_W: u8 = 0x14;
pub(crate) const TABLESWITCH: u8 = 0xAA;
pub(crate) const LOOKUPSWITCH: u8 = 0xAB;
pub(crate) const GETSTATIC: u8 = 0xB2;
pub(crate) const PUTSTATIC: u8 = 0xB3;
pub(crate) const GETFIELD: u8 = 0xB4;
pub(crate) const PUTFIELD: u8 = 0xB5;
pub(crate) const INVOKEVIRTUAL: u8 = 0xB6;
pub(crate) const INVOKESPECIAL: u8 = 0xB7;
pub(crate) const INVOKESTATIC: u8 = 0xB8;
pub(crate) const INVOKEINTERFACE: u8 = 0xB9;
pub(crate) const INVOKEDYNAMIC: u8 = 0xBA;
pub(crate) const NEW: u8 = 0xBB;
pub(crate) const ANEWARRAY: u8 = 0xBD;
pub(crate) const CHECKCAST: u8 = 0xC0;
pub(crate) const INSTANCEOF: u8 = 0xC1;
pub(crate) const WIDE: u8 = 0xC4;
pub(crate) const MULTIANEWARRAY: u8 = 0xC5;
pub(crate) const IINC: u8 = 0x84;

#[cfg(test)]
mod tests {
    use super::*;

    /// JVMS (Java SE 25) §6.5 and the mnemonics by opcode of §7: lengths at both ends of each range.
    #[test]
    fn lengths_are_those_of_the_specification() {
        let table = [
            (0x00, 1, "nop"),
            (0x0F, 1, "dconst_1"),
            (0x10, 2, "bipush"),
            (0x11, 3, "sipush"),
            (0x12, 0, "ldc"),
            (0x14, 0, "ldc2_w"),
            (0x15, 2, "iload"),
            (0x19, 2, "aload"),
            (0x1A, 1, "iload_0"),
            (0x35, 1, "saload"),
            (0x36, 2, "istore"),
            (0x3A, 2, "astore"),
            (0x3B, 1, "istore_0"),
            (0x83, 1, "lxor"),
            (0x84, 3, "iinc"),
            (0x85, 1, "i2l"),
            (0x98, 1, "dcmpg"),
            (0x99, 3, "ifeq"),
            (0xA7, 3, "goto"),
            (0xA8, 3, "jsr"),
            (0xA9, 2, "ret"),
            (0xAA, 0, "tableswitch"),
            (0xAB, 0, "lookupswitch"),
            (0xAC, 1, "ireturn"),
            (0xB1, 1, "return"),
            (0xB2, 0, "getstatic"),
            (0xBB, 0, "new"),
            (0xBC, 2, "newarray"),
            (0xBD, 0, "anewarray"),
            (0xBE, 1, "arraylength"),
            (0xBF, 1, "athrow"),
            (0xC0, 0, "checkcast"),
            (0xC1, 0, "instanceof"),
            (0xC2, 1, "monitorenter"),
            (0xC3, 1, "monitorexit"),
            (0xC4, 0, "wide"),
            (0xC5, 0, "multianewarray"),
            (0xC6, 3, "ifnull"),
            (0xC7, 3, "ifnonnull"),
            (0xC8, 5, "goto_w"),
            (0xC9, 5, "jsr_w"),
            (0xCA, 0, "breakpoint"),
            (0xFF, 0, "impdep2"),
        ];
        for (opcode, length, mnemonic) in table {
            assert_eq!(PLAIN[opcode], length, "{mnemonic}");
        }
    }
}

//! What an instruction does to the operand stack, in slots, where that is the same wherever it stands (JVMS §6.5).
//!
//! The first function to read is [`Effect::of`].

use Pushed::{Double, Float, Int, Long, Nothing, Null};

/// The effect of an instruction on the operand stack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effect {
    /// So many slots are popped, and then that is pushed.
    Fixed(u8, Pushed),
    /// The instruction moves values, or its operand decides; or it is none.
    Varies,
}

/// What an instruction of fixed effect pushes; `Long` and `Double` take two slots.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the computational types of JVMS table 2.11.1-B")]
pub enum Pushed {
    Nothing,
    Int,
    Float,
    Long,
    Double,
    /// The null reference.
    Null,
}

impl Effect {
    /// The effect of the instruction with that opcode.
    #[inline]
    pub fn of(opcode: u8) -> Effect {
        #[expect(clippy::indexing_slicing, reason = "a byte cannot exceed a table of 256")]
        EFFECTS[usize::from(opcode)]
    }
}

/// Instructions of fixed effect: the first and the last of a row, slots popped, what is pushed.
const FIXED: [(u8, u8, u8, Pushed); 62] = [
    (0x00, 0x00, 0, Nothing),
    (0x01, 0x01, 0, Null),
    (0x02, 0x08, 0, Int),
    (0x09, 0x0A, 0, Long),
    (0x0B, 0x0D, 0, Float),
    (0x0E, 0x0F, 0, Double),
    (0x10, 0x11, 0, Int),
    // loads from arrays
    (0x2E, 0x2E, 2, Int),
    (0x2F, 0x2F, 2, Long),
    (0x30, 0x30, 2, Float),
    (0x31, 0x31, 2, Double),
    (0x33, 0x35, 2, Int),
    // stores into arrays
    (0x4F, 0x4F, 3, Nothing),
    (0x50, 0x50, 4, Nothing),
    (0x51, 0x51, 3, Nothing),
    (0x52, 0x52, 4, Nothing),
    (0x53, 0x56, 3, Nothing),
    (0x57, 0x57, 1, Nothing),
    (0x58, 0x58, 2, Nothing),
    // shifts and logic
    (0x78, 0x78, 2, Int),
    (0x79, 0x79, 3, Long),
    (0x7A, 0x7A, 2, Int),
    (0x7B, 0x7B, 3, Long),
    (0x7C, 0x7C, 2, Int),
    (0x7D, 0x7D, 3, Long),
    (0x7E, 0x7E, 2, Int),
    (0x7F, 0x7F, 4, Long),
    (0x80, 0x80, 2, Int),
    (0x81, 0x81, 4, Long),
    (0x82, 0x82, 2, Int),
    (0x83, 0x83, 4, Long),
    (0x84, 0x84, 0, Nothing),
    // conversions
    (0x85, 0x85, 1, Long),
    (0x86, 0x86, 1, Float),
    (0x87, 0x87, 1, Double),
    (0x88, 0x88, 2, Int),
    (0x89, 0x89, 2, Float),
    (0x8A, 0x8A, 2, Double),
    (0x8B, 0x8B, 1, Int),
    (0x8C, 0x8C, 1, Long),
    (0x8D, 0x8D, 1, Double),
    (0x8E, 0x8E, 2, Int),
    (0x8F, 0x8F, 2, Long),
    (0x90, 0x90, 2, Float),
    (0x91, 0x93, 1, Int),
    // comparisons
    (0x94, 0x94, 4, Int),
    (0x95, 0x96, 2, Int),
    (0x97, 0x98, 4, Int),
    // branches, switches, returns
    (0x99, 0x9E, 1, Nothing),
    (0x9F, 0xA6, 2, Nothing),
    (0xA7, 0xA7, 0, Nothing),
    (0xA9, 0xA9, 0, Nothing),
    (0xAA, 0xAC, 1, Nothing),
    (0xAD, 0xAD, 2, Nothing),
    (0xAE, 0xAE, 1, Nothing),
    (0xAF, 0xAF, 2, Nothing),
    (0xB1, 0xB1, 0, Nothing),
    // arraylength, instanceof, monitors, null tests, goto_w
    (0xBE, 0xBE, 1, Int),
    (0xC1, 0xC1, 1, Int),
    (0xC2, 0xC3, 1, Nothing),
    (0xC6, 0xC7, 1, Nothing),
    (0xC8, 0xC8, 0, Nothing),
];

/// For each instruction the slots popped and what is pushed.
#[expect(clippy::indexing_slicing, reason = "worked out by the compiler, which would stop at a wrong index")]
static EFFECTS: [Effect; 256] = {
    let mut effects = [Effect::Varies; 256];
    let mut row = 0;
    while row < FIXED.len() {
        let (first, last, popped, pushed) = FIXED[row];
        let mut opcode = first as usize;
        while opcode <= last as usize {
            effects[opcode] = Effect::Fixed(popped, pushed);
            opcode += 1;
        }
        row += 1;
    }
    // add, sub, mul, div, rem take two values, neg takes one; each goes int, long, float, double.
    let mut opcode = 0x60;
    while opcode < 0x78 {
        let values = if opcode < 0x74 { 2 } else { 1 };
        effects[opcode] = match opcode % 4 {
            0 => Effect::Fixed(values, Int),
            1 => Effect::Fixed(2 * values, Long),
            2 => Effect::Fixed(values, Float),
            _ => Effect::Fixed(2 * values, Double),
        };
        opcode += 1;
    }
    effects
};

#[cfg(test)]
mod tests {
    use super::*;

    /// JVMS (Java SE 25) §6.5: stacks before and after, in slots.
    #[test]
    fn effects_are_those_of_the_specification() {
        let table = [
            ("aconst_null", 0x01, Effect::Fixed(0, Null)),
            ("laload", 0x2F, Effect::Fixed(2, Long)),
            ("lastore", 0x50, Effect::Fixed(4, Nothing)),
            ("iadd", 0x60, Effect::Fixed(2, Int)),
            ("dadd", 0x63, Effect::Fixed(4, Double)),
            ("lrem", 0x71, Effect::Fixed(4, Long)),
            ("frem", 0x72, Effect::Fixed(2, Float)),
            ("ineg", 0x74, Effect::Fixed(1, Int)),
            ("lneg", 0x75, Effect::Fixed(2, Long)),
            ("dneg", 0x77, Effect::Fixed(2, Double)),
            ("ishl", 0x78, Effect::Fixed(2, Int)),
            ("lushr", 0x7D, Effect::Fixed(3, Long)),
            ("lxor", 0x83, Effect::Fixed(4, Long)),
            ("i2l", 0x85, Effect::Fixed(1, Long)),
            ("l2f", 0x89, Effect::Fixed(2, Float)),
            ("f2d", 0x8D, Effect::Fixed(1, Double)),
            ("d2f", 0x90, Effect::Fixed(2, Float)),
            ("lcmp", 0x94, Effect::Fixed(4, Int)),
            ("fcmpg", 0x96, Effect::Fixed(2, Int)),
            ("dcmpl", 0x97, Effect::Fixed(4, Int)),
            ("if_acmpne", 0xA6, Effect::Fixed(2, Nothing)),
            ("dreturn", 0xAF, Effect::Fixed(2, Nothing)),
            ("areturn", 0xB0, Effect::Varies),
            ("arraylength", 0xBE, Effect::Fixed(1, Int)),
        ];
        for (mnemonic, opcode, effect) in table {
            assert_eq!(Effect::of(opcode), effect, "{mnemonic}");
        }
    }
}

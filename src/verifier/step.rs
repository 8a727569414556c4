//! What one instruction does to a frame, and what it asks (JVMS §4.10.1.9).
//!
//! The first function to read is [`step`].

use crate::classfile::Tag;

use super::Method;
use super::asks::Asks;
use super::instruction::Instruction;
use super::state::State;
use super::types::{Kind, Type};

/// What is pushed by an instruction of fixed effect.
const NOTHING: u8 = 0;
const INT: u8 = 1;
const FLOAT: u8 = 2;
const LONG: u8 = 3;
const DOUBLE: u8 = 4;
const NULL: u8 = 5;
/// The instruction has no fixed effect.
const VARIES: u8 = 6;

/// Instructions of fixed effect: the first and the last of a row, slots popped, what is pushed.
const FIXED: [(u8, u8, u8, u8); 62] = [
    (0x00, 0x00, 0, NOTHING),
    (0x01, 0x01, 0, NULL),
    (0x02, 0x08, 0, INT),
    (0x09, 0x0A, 0, LONG),
    (0x0B, 0x0D, 0, FLOAT),
    (0x0E, 0x0F, 0, DOUBLE),
    (0x10, 0x11, 0, INT),
    // loads from arrays
    (0x2E, 0x2E, 2, INT),
    (0x2F, 0x2F, 2, LONG),
    (0x30, 0x30, 2, FLOAT),
    (0x31, 0x31, 2, DOUBLE),
    (0x33, 0x35, 2, INT),
    // stores into arrays
    (0x4F, 0x4F, 3, NOTHING),
    (0x50, 0x50, 4, NOTHING),
    (0x51, 0x51, 3, NOTHING),
    (0x52, 0x52, 4, NOTHING),
    (0x53, 0x56, 3, NOTHING),
    (0x57, 0x57, 1, NOTHING),
    (0x58, 0x58, 2, NOTHING),
    // shifts and logic
    (0x78, 0x78, 2, INT),
    (0x79, 0x79, 3, LONG),
    (0x7A, 0x7A, 2, INT),
    (0x7B, 0x7B, 3, LONG),
    (0x7C, 0x7C, 2, INT),
    (0x7D, 0x7D, 3, LONG),
    (0x7E, 0x7E, 2, INT),
    (0x7F, 0x7F, 4, LONG),
    (0x80, 0x80, 2, INT),
    (0x81, 0x81, 4, LONG),
    (0x82, 0x82, 2, INT),
    (0x83, 0x83, 4, LONG),
    (0x84, 0x84, 0, NOTHING),
    // conversions
    (0x85, 0x85, 1, LONG),
    (0x86, 0x86, 1, FLOAT),
    (0x87, 0x87, 1, DOUBLE),
    (0x88, 0x88, 2, INT),
    (0x89, 0x89, 2, FLOAT),
    (0x8A, 0x8A, 2, DOUBLE),
    (0x8B, 0x8B, 1, INT),
    (0x8C, 0x8C, 1, LONG),
    (0x8D, 0x8D, 1, DOUBLE),
    (0x8E, 0x8E, 2, INT),
    (0x8F, 0x8F, 2, LONG),
    (0x90, 0x90, 2, FLOAT),
    (0x91, 0x93, 1, INT),
    // comparisons
    (0x94, 0x94, 4, INT),
    (0x95, 0x96, 2, INT),
    (0x97, 0x98, 4, INT),
    // branches, switches, returns
    (0x99, 0x9E, 1, NOTHING),
    (0x9F, 0xA6, 2, NOTHING),
    (0xA7, 0xA7, 0, NOTHING),
    (0xA9, 0xA9, 0, NOTHING),
    (0xAA, 0xAC, 1, NOTHING),
    (0xAD, 0xAD, 2, NOTHING),
    (0xAE, 0xAE, 1, NOTHING),
    (0xAF, 0xAF, 2, NOTHING),
    (0xB1, 0xB1, 0, NOTHING),
    // arraylength, instanceof, monitors, null tests, goto_w
    (0xBE, 0xBE, 1, INT),
    (0xC1, 0xC1, 1, INT),
    (0xC2, 0xC3, 1, NOTHING),
    (0xC6, 0xC7, 1, NOTHING),
    (0xC8, 0xC8, 0, NOTHING),
];

/// For each instruction the slots popped and what is pushed.
#[expect(clippy::indexing_slicing, reason = "worked out by the compiler, which would stop at a wrong index")]
static EFFECTS: [(u8, u8); 256] = {
    let mut effects = [(0, VARIES); 256];
    let mut row = 0;
    while row < FIXED.len() {
        let (first, last, popped, pushed) = FIXED[row];
        let mut opcode = first as usize;
        while opcode <= last as usize {
            effects[opcode] = (popped, pushed);
            opcode += 1;
        }
        row += 1;
    }
    // add, sub, mul, div, rem take two values, neg takes one; each goes int, long, float, double.
    let mut opcode = 0x60;
    while opcode < 0x78 {
        let values = if opcode < 0x74 { 2 } else { 1 };
        effects[opcode] = match opcode % 4 {
            0 => (values, INT),
            1 => (2 * values, LONG),
            2 => (values, FLOAT),
            _ => (2 * values, DOUBLE),
        };
        opcode += 1;
    }
    effects
};

/// Carries out an instruction; `None` if it cannot be.
#[inline]
pub(super) fn step<'a>(
    method: &Method<'a, '_>,
    instruction: Instruction<'_>,
    state: &mut State,
    slots: &mut Vec<Type>,
    asks: &mut Asks<'a, '_>,
) -> Option<()> {
    let opcode = instruction.opcode;
    #[expect(clippy::indexing_slicing, reason = "a byte cannot exceed a table of 256")]
    let (popped, pushed) = EFFECTS[usize::from(opcode)];
    let pushed = match pushed {
        NOTHING => return state.drop(usize::from(popped)),
        INT => Type::INT,
        FLOAT => Type::FLOAT,
        LONG => Type::LONG,
        DOUBLE => Type::DOUBLE,
        NULL => Type::NULL,
        _ => return varying(method, instruction, state, slots, asks),
    };
    state.drop(usize::from(popped))?;
    state.push(pushed);
    Some(())
}

fn varying<'a>(
    method: &Method<'a, '_>,
    instruction: Instruction<'_>,
    state: &mut State,
    slots: &mut Vec<Type>,
    asks: &mut Asks<'a, '_>,
) -> Option<()> {
    let names = method.names;
    let pc = instruction.pc;
    let opcode = instruction.opcode;
    match opcode {
        // ldc, ldc_w, ldc2_w
        0x12 => state.push(constant(method, u16::from(instruction.byte()))?),
        0x13 | 0x14 => state.push(constant(method, instruction.index())?),
        // loads
        0x15..=0x19 => load(state, opcode - 0x15, usize::from(instruction.variable())),
        0x1A..=0x2D => load(state, (opcode - 0x1A) / 4, usize::from((opcode - 0x1A) % 4)),
        // aaload
        0x32 => {
            state.drop(1)?;
            let array = state.pop()?;
            state.push(array.component());
        }
        // stores
        0x36..=0x3A => store(state, usize::from(instruction.variable()))?,
        0x3B..=0x4E => store(state, usize::from((opcode - 0x3B) % 4))?,
        // dup and its kin, swap
        0x59..=0x5B => state.duplicate(1, usize::from(opcode - 0x59))?,
        0x5C..=0x5E => state.duplicate(2, usize::from(opcode - 0x5C))?,
        0x5F => state.swap()?,
        // jsr, jsr_w: the flow pushes the address
        0xA8 | 0xC9 => {}
        // areturn
        0xB0 => {
            let value = state.pop()?;
            let result = names.method(method.member.descriptor, slots)?;
            asks.assign(value, result, pc);
        }
        0xB2..=0xB5 => field(method, instruction, state, asks)?,
        0xB6..=0xBA => invoke(method, instruction, state, slots, asks)?,
        // new
        0xBB => state.push(Type::uninitialized(pc)),
        // newarray
        0xBC => {
            state.drop(1)?;
            let letter = *b"ZCFDBSIJ".get(usize::from(instruction.byte()).checked_sub(4)?)?;
            state.push(Type::primitive_array(letter));
        }
        // anewarray
        0xBD => {
            state.drop(1)?;
            state.push(names.class(instruction.index())?.array_of());
        }
        // athrow
        0xBF => {
            let thrown = state.pop()?;
            asks.assign(thrown, Type::THROWABLE, pc);
        }
        // checkcast
        0xC0 => {
            state.drop(1)?;
            state.push(names.class(instruction.index())?);
        }
        // multianewarray
        0xC5 => {
            state.drop(usize::from(instruction.third()))?;
            state.push(names.class(instruction.index())?);
        }
        _ => return None,
    }
    Some(())
}

fn constant(method: &Method<'_, '_>, index: u16) -> Option<Type> {
    let pool = method.names.pool;
    Some(match pool.tag(index)? {
        Tag::Integer => Type::INT,
        Tag::Float => Type::FLOAT,
        Tag::Long => Type::LONG,
        Tag::Double => Type::DOUBLE,
        Tag::String => Type::STRING,
        Tag::Class => Type::CLASS,
        Tag::MethodHandle => Type::METHOD_HANDLE,
        Tag::MethodType => Type::METHOD_TYPE,
        Tag::Dynamic => {
            let (_, name_and_type) = pool.dynamic_indices(index)?;
            method.names.field(pool.name_and_type_indices(name_and_type)?.1)?
        }
        _ => return None,
    })
}

/// `group` in the order int, long, float, double, reference.
fn load(state: &mut State, group: u8, index: usize) {
    match group {
        0 => state.push(Type::INT),
        1 => state.push(Type::LONG),
        2 => state.push(Type::FLOAT),
        3 => state.push(Type::DOUBLE),
        _ => state.push(state.local(index)),
    }
}

/// The kind of the value says more than the instruction, which sound code does not contradict.
fn store(state: &mut State, index: usize) -> Option<()> {
    let mut value = state.pop()?;
    if value.kind == Kind::Second {
        value = state.pop()?;
    }
    state.store(index, value);
    Some(())
}

fn field<'a>(
    method: &Method<'a, '_>,
    instruction: Instruction<'_>,
    state: &mut State,
    asks: &mut Asks<'a, '_>,
) -> Option<()> {
    let names = method.names;
    let (owner, name_and_type) = names.pool.member_ref_indices(instruction.index())?;
    let of = names.field(names.pool.name_and_type_indices(name_and_type)?.1)?;
    let puts = matches!(instruction.opcode, 0xB3 | 0xB5);
    if puts {
        let value = top_of(state, of)?;
        asks.assign(value, of, instruction.pc);
    }
    if matches!(instruction.opcode, 0xB4 | 0xB5) {
        let receiver = state.pop()?;
        asks.assign(receiver, names.class(owner)?, instruction.pc);
    }
    if !puts {
        state.push(of);
    }
    Some(())
}

/// Takes a value of the width of that type.
fn top_of(state: &mut State, of: Type) -> Option<Type> {
    if of.second().is_some() {
        state.drop(1)?;
    }
    state.pop()
}

fn invoke<'a>(
    method: &Method<'a, '_>,
    instruction: Instruction<'_>,
    state: &mut State,
    slots: &mut Vec<Type>,
    asks: &mut Asks<'a, '_>,
) -> Option<()> {
    let names = method.names;
    let (opcode, pc) = (instruction.opcode, instruction.pc);
    let dynamic = opcode == 0xBA;
    let (owner, name_and_type) = if dynamic {
        names.pool.dynamic_indices(instruction.index())?
    } else {
        names.pool.member_ref_indices(instruction.index())?
    };
    let (name, descriptor) = names.pool.name_and_type_indices(name_and_type)?;
    let result = names.method(descriptor, slots)?;
    let base = state.stack.len().checked_sub(slots.len())?;
    for (&argument, &parameter) in state.stack.get(base..)?.iter().zip(slots.iter()) {
        asks.assign(argument, parameter, pc);
    }
    state.stack.truncate(base);
    // All but invokestatic and invokedynamic have a receiver.
    if !matches!(opcode, 0xB8 | 0xBA) {
        let receiver = state.pop()?;
        let owner = names.class(owner)?;
        match receiver.kind {
            Kind::UninitializedThis => state.replace(receiver, names.this),
            Kind::Uninitialized => state.replace(receiver, owner),
            _ => {
                let name = names.pool.utf8(name)?;
                receive(method, opcode, receiver, owner, name, pc, asks);
            }
        }
    }
    if result != Type::TOP {
        state.push(result);
    }
    Some(())
}

fn receive<'a>(
    method: &Method<'a, '_>,
    opcode: u8,
    receiver: Type,
    owner: Type,
    name: &[u8],
    pc: u32,
    asks: &mut Asks<'a, '_>,
) {
    let this = method.names.this;
    if opcode == 0xB7 {
        // invokespecial works on the class's own objects, and on what its owner declares for them (§4.10.1.9).
        asks.assign(receiver, this, pc);
        asks.assign(this, owner, pc);
        return;
    }
    asks.assign(receiver, owner, pc);
    // The only protected methods of java/lang/Object; arrays have a public clone (JLS §10.7).
    if opcode == 0xB6 && matches!(name, b"clone" | b"finalize") && receiver.dims == 0 && method.names.is_object(owner) {
        asks.assign(receiver, this, pc);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// JVMS (Java SE 25) §6.5: stacks before and after, in slots.
    #[test]
    fn effects_are_those_of_the_specification() {
        let table = [
            ("aconst_null", 0x01, (0, NULL)),
            ("laload", 0x2F, (2, LONG)),
            ("lastore", 0x50, (4, NOTHING)),
            ("iadd", 0x60, (2, INT)),
            ("dadd", 0x63, (4, DOUBLE)),
            ("lrem", 0x71, (4, LONG)),
            ("frem", 0x72, (2, FLOAT)),
            ("ineg", 0x74, (1, INT)),
            ("lneg", 0x75, (2, LONG)),
            ("dneg", 0x77, (2, DOUBLE)),
            ("ishl", 0x78, (2, INT)),
            ("lushr", 0x7D, (3, LONG)),
            ("lxor", 0x83, (4, LONG)),
            ("i2l", 0x85, (1, LONG)),
            ("l2f", 0x89, (2, FLOAT)),
            ("f2d", 0x8D, (1, DOUBLE)),
            ("d2f", 0x90, (2, FLOAT)),
            ("lcmp", 0x94, (4, INT)),
            ("fcmpg", 0x96, (2, INT)),
            ("dcmpl", 0x97, (4, INT)),
            ("if_acmpne", 0xA6, (2, NOTHING)),
            ("dreturn", 0xAF, (2, NOTHING)),
            ("areturn", 0xB0, (0, VARIES)),
            ("arraylength", 0xBE, (1, INT)),
        ];
        for (mnemonic, opcode, effect) in table {
            assert_eq!(EFFECTS[opcode], effect, "{mnemonic}");
        }
    }
}

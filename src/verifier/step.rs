//! What one instruction does to a frame, and what it asks (JVMS §4.10.1.9).
//!
//! The first function to read is [`step`].

use crate::classfile::{Effect, Instruction, Pushed, Tag};

use super::Method;
use super::asks::Asks;
use super::state::State;
use super::types::{Kind, Type};

/// Carries out an instruction; `None` if it cannot be.
#[inline]
pub(super) fn step<'a>(
    method: &Method<'a, '_>,
    instruction: Instruction<'_>,
    state: &mut State,
    slots: &mut Vec<Type>,
    asks: &mut Asks<'a, '_>,
) -> Option<()> {
    let effect = match Effect::of(instruction.opcode) {
        Effect::Fixed(popped, pushed) => (popped, pushed),
        Effect::Varies => return varying(method, instruction, state, slots, asks),
    };
    state.drop(usize::from(effect.0))?;
    state.push(match effect.1 {
        Pushed::Nothing => return Some(()),
        Pushed::Int => Type::INT,
        Pushed::Float => Type::FLOAT,
        Pushed::Long => Type::LONG,
        Pushed::Double => Type::DOUBLE,
        Pushed::Null => Type::NULL,
    });
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

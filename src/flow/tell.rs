//! What is told of a wanted place: the state before the instruction, as values of the caller.
//!
//! The first function to read is [`fact`].

use std::borrow::Cow;

use crate::classfile::{Code, Instruction, Pool, descriptor};

use super::machine::{Callee, Machine, arguments, width};
use super::nodes::{Id, Node, Nodes};
use super::{Call, Called, Event, Fact, Piece, Stop, Value};

/// Values within one value that is told.
const MOST_VALUES: usize = 256;

/// The fact at an instruction that is yet to be carried out.
pub(super) fn fact<'a>(machine: &mut Machine<'a, '_>, instruction: Instruction<'a>) -> Result<Option<Fact<'a>>, Stop> {
    let pc = instruction.pc;
    let stack = &machine.state.stack;
    if instruction.opcode == 0xB0 {
        let Some(&top) = stack.last() else { return Ok(None) };
        return Ok(Some(Fact { pc, event: Event::Return(shown(machine, top)?) }));
    }
    let Some(callee) = Callee::of(machine.pool, instruction.index()) else { return Ok(None) };
    let Callee { owner, name, descriptor: text, .. } = callee;
    if matches!(instruction.opcode, 0xB3 | 0xB5) {
        let Some(&value) = stack.len().checked_sub(width(text)).and_then(|at| stack.get(at)) else { return Ok(None) };
        let value = shown(machine, value)?;
        return Ok(Some(Fact {
            pc,
            event: Event::Store { owner, name, is_static: instruction.opcode == 0xB3, value },
        }));
    }
    let slots: usize = descriptor::parameters(text).map(width).sum();
    let Some(base) = stack.len().checked_sub(slots) else { return Ok(None) };
    let given = arguments(stack.get(base..).unwrap_or_default(), text);
    let on = base.checked_sub(1).and_then(|at| stack.get(at)).copied().filter(|_| instruction.opcode != 0xB8);
    let receiver = on.map(|id| shown(machine, id)).transpose()?;
    let arguments = given.into_iter().map(|id| shown(machine, id)).collect::<Result<_, _>>()?;
    let call = Call { opcode: instruction.opcode, owner, name, descriptor: text, receiver, arguments };
    Ok(Some(Fact { pc, event: Event::Call(call) }))
}

/// The fact at a place of which nothing is known.
pub(super) fn unknown<'a>(pool: Pool<'a>, code: &Code<'a>, pc: u32) -> Option<Fact<'a>> {
    let instruction = Instruction::at(code.bytes, pc)?;
    let opcode = instruction.opcode;
    if opcode == 0xB0 {
        return Some(Fact { pc, event: Event::Return(Value::Unknown) });
    }
    let Callee { owner, name, descriptor: text, .. } = Callee::of(pool, instruction.index())?;
    if matches!(opcode, 0xB3 | 0xB5) {
        let event = Event::Store { owner, name, is_static: opcode == 0xB3, value: Value::Unknown };
        return Some(Fact { pc, event });
    }
    let receiver = (opcode != 0xB8).then_some(Value::Unknown);
    let arguments = descriptor::parameters(text).map(|_| Value::Unknown).collect();
    Some(Fact { pc, event: Event::Call(Call { opcode, owner, name, descriptor: text, receiver, arguments }) })
}

fn shown<'a>(machine: &mut Machine<'a, '_>, id: Id) -> Result<Value<'a>, Stop> {
    let now = machine.state.snapshot(id, machine.nodes)?;
    let mut left = MOST_VALUES;
    let value = value(machine.pool, machine.nodes, now, &mut left);
    machine.spend(MOST_VALUES - left)?;
    Ok(value)
}

/// As deep as nodes go, which is not deep.
fn value<'a>(pool: Pool<'a>, nodes: &Nodes, id: Id, left: &mut usize) -> Value<'a> {
    let Some(less) = left.checked_sub(1) else { return Value::Unknown };
    *left = less;
    let class = |index: u16| pool.class_name(index).map(Cow::Borrowed);
    let known = match nodes.get(id) {
        Node::Unknown | Node::Lost | Node::Object(_) => None,
        Node::Null => Some(Value::Null),
        Node::Number(number) => Some(Value::Number(*number)),
        Node::This => Some(Value::This),
        Node::Parameter(number) => Some(Value::Parameter(*number)),
        Node::Known(bytes) => Some(Value::text(&**bytes)),
        Node::Text(pieces) => {
            let piece = |&piece: &Id| match nodes.get(piece) {
                Node::Known(bytes) => Piece::Known(Cow::Owned(bytes.to_vec())),
                _ => Piece::Of(value(pool, nodes, piece, left)),
            };
            Some(Value::Text(pieces.iter().map(piece).collect()))
        }
        Node::Class(index) => class(*index).map(Value::Class),
        Node::New(index) => class(*index).map(Value::New),
        Node::Array { elements, whole } => {
            let elements = elements.iter().map(|&element| value(pool, nodes, element, left)).collect();
            Some(Value::Array { elements, whole: *whole })
        }
        Node::Element(array) => Some(Value::Element(Box::new(value(pool, nodes, *array, left)))),
        Node::StaticField(index) => Callee::of(pool, *index)
            .map(|field| Value::StaticField { owner: Cow::Borrowed(field.owner), name: Cow::Borrowed(field.name) }),
        Node::InstanceField(index) => Callee::of(pool, *index)
            .map(|field| Value::InstanceField { owner: Cow::Borrowed(field.owner), name: Cow::Borrowed(field.name) }),
        Node::Result { reference, receiver, operands } => Callee::of(pool, *reference).map(|callee| {
            let mut values = operands.iter().map(|&operand| value(pool, nodes, operand, left));
            let receiver = if *receiver { values.next() } else { None };
            Value::Result(Box::new(Called {
                owner: Cow::Borrowed(callee.owner),
                name: Cow::Borrowed(callee.name),
                descriptor: Cow::Borrowed(callee.descriptor),
                receiver,
                arguments: values.collect(),
            }))
        }),
        Node::OneOf(members) => {
            Some(Value::OneOf(members.iter().map(|&member| value(pool, nodes, member, left)).collect()))
        }
    };
    known.unwrap_or(Value::Unknown)
}

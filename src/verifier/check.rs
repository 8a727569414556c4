//! The type-checking verifier (JVMS §4.10.1): once through the code, from one stack map frame to the next.
//!
//! The first function to read is [`follow`].

use crate::classfile::{Flow, Instruction};

use super::asks::Asks;
use super::frames::{FrameRef, Frames};
use super::state::State;
use super::step::step;
use super::types::Type;
use super::{Method, Stop};

/// Follows a method through its frames.
pub(super) fn follow<'a>(
    method: &Method<'a, '_>,
    state: &mut State,
    frames: &mut Frames,
    slots: &mut Vec<Type>,
    asks: &mut Asks<'a, '_>,
) -> Result<(), Stop> {
    method.entry(state, slots)?;
    frames.read(method, &state.locals, asks)?;
    let code = method.code.bytes;
    let mut pc = 0;
    let mut place = 0;
    // Whether control comes to this instruction from the one before it.
    let mut flows = true;
    while (pc as usize) < code.len() {
        if let Some(frame) = frames.get(place).filter(|frame| frame.pc <= pc) {
            if frame.pc < pc {
                return Err(Stop::Refused(pc));
            }
            if flows {
                assign_frame(state, frame, pc, asks)?;
            }
            asks.spend(frame.locals.len() + frame.stack.len())?;
            state.set(frame.locals, frame.stack);
            place += 1;
        } else if !flows {
            return Err(Stop::Refused(pc));
        }
        let instruction = Instruction::at(code, pc).ok_or(Stop::Refused(pc))?;
        asks.spend(1)?;
        // A store is looked at with the variables before it, anything else with those after it (verifier.cpp).
        if instruction.stores() && method.handlers_due(pc, state.changed) {
            enter_handlers(method, frames, state, pc, asks)?;
        }
        carry_out(method, instruction, state, slots, asks)?;
        if !instruction.stores() && method.handlers_due(pc, state.changed) {
            enter_handlers(method, frames, state, pc, asks)?;
        }
        let mut enter = |target: Option<u32>| {
            let frame = target.and_then(|target| frames.at(target)).ok_or(Stop::Refused(pc))?;
            assign_frame(state, frame, pc, asks)
        };
        flows = match instruction.flow().ok_or(Stop::Refused(pc))? {
            Flow::On => true,
            Flow::Branch(target) => {
                enter(Some(target))?;
                true
            }
            Flow::Jump(target) => {
                enter(Some(target))?;
                false
            }
            Flow::Switch => {
                instruction.switch_targets().try_for_each(enter)?;
                false
            }
            Flow::End => false,
            // Version 51 has no subroutines any more (§4.9.1).
            Flow::Call(_) | Flow::Return(_) => return Err(Stop::Refused(pc)),
        };
        pc = instruction.next();
    }
    Ok(())
}

/// Carries out an instruction, counting what it looks at.
pub(super) fn carry_out<'a>(
    method: &Method<'a, '_>,
    instruction: Instruction<'_>,
    state: &mut State,
    slots: &mut Vec<Type>,
    asks: &mut Asks<'a, '_>,
) -> Result<(), Stop> {
    // A constructor's call goes through the whole frame, any other through its parameters.
    if instruction.opcode == 0xB7 {
        asks.spend(state.locals.len() + state.stack.len())?;
    }
    step(method, instruction, state, slots, asks).ok_or(Stop::Refused(instruction.pc))?;
    if matches!(instruction.opcode, 0xB0 | 0xB6..=0xBA) { asks.spend(slots.len()) } else { Ok(()) }
}

/// Whether the frame at hand is good for the one recorded at a target (§4.10.1.3).
fn assign_frame(state: &State, to: FrameRef<'_>, pc: u32, asks: &mut Asks<'_, '_>) -> Result<(), Stop> {
    asks.spend(to.locals.len() + to.stack.len())?;
    let pairs = state.locals.iter().zip(to.locals).chain(state.stack.iter().zip(to.stack));
    for (&from, &to) in pairs {
        asks.assign(from, to, pc);
    }
    Ok(())
}

/// Whether local variables are good for the handlers that cover the instruction, and what these catch for their stack.
#[cold]
fn enter_handlers<'a>(
    method: &Method<'a, '_>,
    frames: &Frames,
    state: &mut State,
    pc: u32,
    asks: &mut Asks<'a, '_>,
) -> Result<(), Stop> {
    asks.spend(method.starts.len())?;
    for handler in method.code.handlers.iter() {
        if pc < u32::from(handler.start) || pc >= u32::from(handler.end) {
            continue;
        }
        let place = u32::from(handler.handler);
        let frame = frames.at(place).ok_or(Stop::Refused(place))?;
        asks.spend(frame.locals.len())?;
        for (&from, &to) in state.locals.iter().zip(frame.locals) {
            asks.assign(from, to, pc);
        }
        let caught = match handler.catch_type {
            0 => Type::THROWABLE,
            class => method.names.class(class).ok_or(Stop::Refused(place))?,
        };
        if let Some(&expected) = frame.stack.first() {
            asks.assign(caught, expected, place);
        }
    }
    state.changed = false;
    Ok(())
}

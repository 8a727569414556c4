//! The old verifier (JVMS §4.10.2): types follow the data until nothing changes any more.
//!
//! A state is kept only for places that control reaches otherwise than from the instruction before; between two of
//! them types follow from the first. Places are followed in rising order, over and over, as `HotSpot` does: which of two
//! classes comes first decides which is the target of the question. The first function to read is [`follow`].

use std::collections::BTreeSet;

use rustc_hash::FxHashMap;

use crate::classfile::{Flow, Instruction, Leaders};

use super::asks::Asks;
use super::check::carry_out;
use super::state::State;
use super::subroutine::Calls;
use super::types::{Kind, Type};
use super::{Method, Stop};

/// The states of a method; the memory is used again.
#[derive(Debug, Default)]
pub(super) struct Flows {
    /// By place in the code.
    kept: FxHashMap<u32, Kept>,
    /// Places whose state has changed, yet to be followed.
    due: BTreeSet<u32>,
    slots: Vec<Type>,
    /// Places at which a state is kept.
    leaders: Leaders,
    /// Every `jsr`, its target, and the place behind it.
    jsrs: Vec<(u32, u32, u32)>,
    /// Every `ret` that has been reached, and the subroutine that it ends.
    rets: Vec<(u32, u32)>,
}

/// The state at a place: where its slots are, those of the stack first. Local variables may become fewer; the stack stays
/// as deep as it is.
#[derive(Clone, Debug)]
struct Kept {
    start: usize,
    locals: usize,
    stack: usize,
    calls: Calls,
}

/// Follows a method from its beginning.
pub(super) fn follow<'a>(
    method: &Method<'a, '_>,
    state: &mut State,
    flows: &mut Flows,
    slots: &mut Vec<Type>,
    asks: &mut Asks<'a, '_>,
) -> Result<(), Stop> {
    method.entry(state, slots)?;
    flows.begin(method);
    let mut calls = Calls::default();
    flows.enter(0, 0, state, &calls, asks)?;
    let mut pc = 0;
    while let Some(start) = flows.due.range(pc..).next().or_else(|| flows.due.first()).copied() {
        flows.due.remove(&start);
        flows.load(start, state, &mut calls, asks)?;
        pc = start;
        while let Some(next) = flows.pass(method, pc, state, &mut calls, slots, asks)? {
            pc = next;
            if flows.leaders.contains(pc) {
                flows.enter(pc, pc, state, &calls, asks)?;
                break;
            }
        }
    }
    Ok(())
}

impl Flows {
    /// Forgets the method before and notes where states must be kept.
    fn begin(&mut self, method: &Method<'_, '_>) {
        let code = method.code.bytes;
        self.kept.clear();
        self.due.clear();
        self.slots.clear();
        self.jsrs.clear();
        self.rets.clear();
        self.leaders.begin(code.len());
        self.leaders.add(0);
        for handler in method.code.handlers.iter() {
            self.leaders.add(u32::from(handler.handler));
        }
        let mut pc = 0;
        while let Some(instruction) = Instruction::at(code, pc) {
            match instruction.flow() {
                Some(Flow::Branch(target) | Flow::Jump(target)) => self.leaders.add(target),
                Some(Flow::Switch) => {
                    instruction.switch_targets().flatten().for_each(|target| self.leaders.add(target));
                }
                Some(Flow::Call(target)) => {
                    self.jsrs.push((pc, target, instruction.next()));
                    // The state before a call is needed when it comes back.
                    for place in [pc, target, instruction.next()] {
                        self.leaders.add(place);
                    }
                }
                Some(Flow::Return(_)) => self.leaders.add(pc),
                _ => {}
            }
            pc = instruction.next();
        }
    }

    fn load(&mut self, pc: u32, state: &mut State, calls: &mut Calls, asks: &mut Asks<'_, '_>) -> Result<(), Stop> {
        let kept = self.kept.get(&pc).ok_or(Stop::Refused(pc))?;
        let stack = kept.start + kept.stack;
        asks.spend(1 + kept.locals + kept.stack + kept.calls.weight())?;
        calls.clone_from(&kept.calls);
        let slots = |from, to| self.slots.get(from..to).unwrap_or_default();
        state.set(slots(stack, stack + kept.locals), slots(kept.start, stack));
        Ok(())
    }

    /// Carries out one instruction and enters its targets; the place behind it if control goes there.
    fn pass<'a>(
        &mut self,
        method: &Method<'a, '_>,
        pc: u32,
        state: &mut State,
        calls: &mut Calls,
        slots: &mut Vec<Type>,
        asks: &mut Asks<'a, '_>,
    ) -> Result<Option<u32>, Stop> {
        let refused = || Stop::Refused(pc);
        let instruction = Instruction::at(method.code.bytes, pc).ok_or_else(refused)?;
        asks.spend(1)?;
        if method.handlers_due(pc, state.changed) {
            self.enter_handlers(method, pc, state, calls, asks)?;
        }
        carry_out(method, instruction, state, slots, asks)?;
        if instruction.stores() {
            let index = match instruction.opcode {
                0x36..=0x3A => instruction.variable(),
                opcode => u16::from((opcode - 0x3B) % 4),
            };
            calls.store(index);
            // The second slot may have been written, too.
            calls.store(index.saturating_add(1));
            asks.spend(calls.weight())?;
        }
        match instruction.flow().ok_or_else(refused)? {
            Flow::On => return Ok(Some(instruction.next())),
            Flow::Branch(target) => {
                self.enter(target, pc, state, calls, asks)?;
                return Ok(Some(instruction.next()));
            }
            Flow::Jump(target) => self.enter(target, pc, state, calls, asks)?,
            Flow::Switch => {
                for target in instruction.switch_targets() {
                    self.enter(target.ok_or_else(refused)?, pc, state, calls, asks)?;
                }
            }
            Flow::Call(target) => {
                let depth = state.stack.len();
                state.push(Type::address(target));
                let mut inside = calls.clone();
                asks.spend(inside.weight())?;
                if !inside.enter(target) {
                    return Err(Stop::Refused(pc));
                }
                self.enter(target, pc, state, &inside, asks)?;
                state.stack.truncate(depth);
                // A subroutine that has come back before comes back here, too.
                let rets: Vec<u32> =
                    self.rets.iter().filter(|(_, entry)| *entry == target).map(|(ret, _)| *ret).collect();
                asks.spend(self.rets.len())?;
                self.due.extend(rets);
            }
            Flow::Return(variable) => self.come_back(pc, variable, state, calls, asks)?,
            Flow::End => {}
        }
        Ok(None)
    }

    /// `ret`: behind every call of the subroutine, variables that it has not written are what they were before.
    fn come_back(
        &mut self,
        pc: u32,
        variable: u16,
        state: &State,
        calls: &Calls,
        asks: &mut Asks<'_, '_>,
    ) -> Result<(), Stop> {
        let address = state.local(usize::from(variable));
        if address.kind != Kind::Address {
            return Err(Stop::Refused(pc));
        }
        let entry = u32::from(address.start);
        if !self.rets.contains(&(pc, entry)) {
            self.rets.push((pc, entry));
        }
        let (written, outside) = calls.leave(entry).ok_or(Stop::Refused(pc))?;
        asks.spend(self.rets.len() + self.jsrs.len())?;
        for at in 0..self.jsrs.len() {
            let Some(&(caller, target, behind)) = self.jsrs.get(at) else { break };
            if target != entry {
                continue;
            }
            // A call that has not been reached queues this place when it is.
            let Some(before) = self.kept.get(&caller) else { continue };
            let start = before.start + before.stack;
            let mut back = State::default();
            let locals = self.slots.get(start..start + before.locals).unwrap_or_default();
            asks.spend(locals.len() + state.locals.len() + outside.weight())?;
            back.set(locals, &state.stack);
            for (index, &slot) in state.locals.iter().enumerate() {
                if written.contains(index as u16) {
                    if back.locals.len() <= index {
                        back.locals.resize(index + 1, Type::TOP);
                    }
                    if let Some(place) = back.locals.get_mut(index) {
                        *place = slot;
                    }
                }
            }
            let mut calls = before.calls.clone();
            calls.add(&outside);
            self.enter(behind, pc, &back, &calls, asks)?;
        }
        Ok(())
    }

    #[cold]
    fn enter_handlers<'a>(
        &mut self,
        method: &Method<'a, '_>,
        pc: u32,
        state: &mut State,
        calls: &Calls,
        asks: &mut Asks<'a, '_>,
    ) -> Result<(), Stop> {
        asks.spend(method.starts.len())?;
        let mut stack = std::mem::take(&mut state.stack);
        let mut result = Ok(());
        for handler in method.code.handlers.iter() {
            if pc < u32::from(handler.start) || pc >= u32::from(handler.end) {
                continue;
            }
            let place = u32::from(handler.handler);
            let caught = match handler.catch_type {
                0 => Some(Type::THROWABLE),
                class => method.names.class(class),
            };
            state.stack.clear();
            state.stack.extend(caught);
            result = self.enter(place, pc, state, calls, asks);
            if result.is_err() {
                break;
            }
        }
        std::mem::swap(&mut state.stack, &mut stack);
        state.changed = false;
        result
    }

    /// Merges a state into the one kept at a place, and queues the place if that changes.
    fn enter(&mut self, to: u32, pc: u32, state: &State, calls: &Calls, asks: &mut Asks<'_, '_>) -> Result<(), Stop> {
        asks.spend(1 + state.locals.len() + state.stack.len() + calls.weight())?;
        let Some(kept) = self.kept.get_mut(&to) else {
            let start = self.slots.len();
            self.slots.extend_from_slice(&state.stack);
            self.slots.extend_from_slice(&state.locals);
            let kept = Kept { start, locals: state.locals.len(), stack: state.stack.len(), calls: calls.clone() };
            self.kept.insert(to, kept);
            self.due.insert(to);
            return Ok(());
        };
        if kept.stack != state.stack.len() {
            return Err(Stop::Refused(pc));
        }
        let mut changed = kept.calls.merge(calls);
        let locals = kept.locals.min(state.locals.len());
        changed |= locals < kept.locals;
        kept.locals = locals;
        let slots = self.slots.get_mut(kept.start..kept.start + kept.stack + locals).ok_or(Stop::Refused(pc))?;
        // A stack that changes is merged anew from its first slot, with the new types as targets.
        let both = kept.stack > 1;
        for (place, (old, &new)) in slots.iter_mut().zip(state.stack.iter().chain(&state.locals)).enumerate() {
            if *old != new {
                if both && place < kept.stack {
                    asks.assign(*old, new, pc);
                }
                let merged = asks.merge(*old, new, pc);
                changed |= merged != *old;
                *old = merged;
            }
        }
        if changed {
            self.due.insert(to);
        }
        Ok(())
    }
}

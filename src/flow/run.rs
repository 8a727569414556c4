//! Values follow the data until nothing changes any more.
//!
//! A state is kept only for places that control reaches otherwise than from the instruction before. What changes there
//! time and again is reduced to what stays the same, so that every loop comes to rest. The first function to read is
//! [`follow`].

use std::collections::BTreeSet;

use rustc_hash::FxHashMap;

use crate::classfile::{Code, Flow, Instruction, Leaders};

use super::Stop;
use super::machine::{Fault, Machine};
use super::nodes::{Id, Nodes};

/// How often a place is followed before what differs there is reduced to its beginning and end.
const KEPT_ROUNDS: u32 = 3;

/// How often a place is followed before what differs there is given up.
const REDUCED_ROUNDS: u32 = 10;

/// The states of a method; the memory is used again.
#[derive(Debug, Default)]
pub(super) struct Flows {
    /// By place in the code.
    kept: FxHashMap<u32, Kept>,
    /// Places whose state has changed, yet to be followed.
    due: BTreeSet<u32>,
    slots: Vec<Id>,
    /// Places at which a state is kept.
    leaders: Leaders,
    /// Where ranges of the exception table begin, sorted.
    starts: Vec<u32>,
    /// First and last instruction that a handler covers, the latter exclusive.
    covered: (u32, u32),
}

/// The state at a place: where its slots are, those of the stack first. Local variables may become fewer.
#[derive(Clone, Debug)]
struct Kept {
    start: usize,
    locals: usize,
    stack: usize,
    heap: Vec<(u32, Id)>,
    rounds: u32,
}

/// Follows a method from its beginning, whose state the machine has, and then once more to tell `at` the state before
/// every instruction in `sites`, which are in ascending order.
pub(super) fn follow<'a>(
    code: &Code<'a>,
    machine: &mut Machine<'a, '_>,
    flows: &mut Flows,
    sites: &[u32],
    mut at: impl FnMut(&mut Machine<'a, '_>, Instruction<'a>) -> Result<(), Stop>,
) -> Result<(), Fault> {
    flows.begin(code);
    flows.enter(0, machine)?;
    let mut pc = 0;
    while let Some(start) = flows.due.range(pc..).next().or_else(|| flows.due.first()).copied() {
        flows.due.remove(&start);
        flows.load(start, machine)?;
        pc = start;
        while let Some(next) = flows.pass(code, pc, machine)? {
            pc = next;
            if flows.leaders.contains(pc) {
                flows.enter(pc, machine)?;
                break;
            }
        }
    }
    // Every state is final now, so each instruction is passed once.
    let mut sites = sites.iter().copied().peekable();
    while let Some(start) = sites.peek().and_then(|&site| flows.leaders.last_upto(site)) {
        // Where no state is kept, nothing leads.
        if flows.kept.contains_key(&start) {
            flows.load(start, machine)?;
            let mut pc = start;
            loop {
                let instruction = Instruction::at(code.bytes, pc).ok_or(Fault::Refused)?;
                if sites.next_if_eq(&pc).is_some() {
                    at(machine, instruction)?;
                }
                pc = instruction.next();
                let goes_on = matches!(instruction.flow(), Some(Flow::On | Flow::Branch(_)));
                if !goes_on || flows.leaders.contains(pc) || sites.peek().is_none() {
                    break;
                }
                machine.step(instruction)?;
            }
        }
        // What is left up to the next place stands behind a jump, and nothing leads there either.
        while sites.next_if(|&site| flows.leaders.last_upto(site) == Some(start)).is_some() {}
    }
    Ok(())
}

impl Flows {
    /// Forgets the method before and notes where states must be kept.
    fn begin(&mut self, code: &Code<'_>) {
        self.kept.clear();
        self.due.clear();
        self.slots.clear();
        self.leaders.begin(code.bytes.len());
        self.starts.clear();
        self.starts.extend(code.handlers.iter().map(|handler| u32::from(handler.start)));
        self.starts.sort_unstable();
        let end = code.handlers.iter().map(|handler| u32::from(handler.end)).max().unwrap_or(0);
        self.covered = (self.starts.first().copied().unwrap_or(0), end);
        self.leaders.add(0);
        for handler in code.handlers.iter() {
            self.leaders.add(u32::from(handler.handler));
        }
        let mut pc = 0;
        while let Some(instruction) = Instruction::at(code.bytes, pc) {
            match instruction.flow() {
                Some(Flow::Branch(target) | Flow::Jump(target)) => self.leaders.add(target),
                Some(Flow::Switch) => {
                    instruction.switch_targets().flatten().for_each(|target| self.leaders.add(target));
                }
                Some(Flow::Call(target)) => {
                    self.leaders.add(target);
                    self.leaders.add(instruction.next());
                }
                _ => {}
            }
            pc = instruction.next();
        }
    }

    fn load(&mut self, pc: u32, machine: &mut Machine<'_, '_>) -> Result<(), Fault> {
        let kept = self.kept.get_mut(&pc).ok_or(Fault::Refused)?;
        kept.rounds += 1;
        machine.spend(1 + kept.locals + kept.stack + kept.heap.len())?;
        let stack = kept.start + kept.stack;
        let slots = |from, to| self.slots.get(from..to).unwrap_or_default();
        let state = &mut *machine.state;
        state.clear();
        state.stack.extend_from_slice(slots(kept.start, stack));
        state.locals.extend_from_slice(slots(stack, stack + kept.locals));
        state.heap.extend_from_slice(&kept.heap);
        Ok(())
    }

    /// Carries out one instruction and enters its targets; the place behind it if control goes there.
    fn pass(&mut self, code: &Code<'_>, pc: u32, machine: &mut Machine<'_, '_>) -> Result<Option<u32>, Fault> {
        let instruction = Instruction::at(code.bytes, pc).ok_or(Fault::Refused)?;
        self.enter_handlers(code, pc, machine)?;
        machine.step(instruction)?;
        // A callee may change what it is given and then throw.
        if machine.state.changed && matches!(instruction.opcode, 0xB6..=0xBA) {
            self.enter_handlers(code, pc, machine)?;
        }
        match instruction.flow().ok_or(Fault::Refused)? {
            Flow::On => return Ok(Some(instruction.next())),
            Flow::Branch(target) => {
                self.enter(target, machine)?;
                return Ok(Some(instruction.next()));
            }
            Flow::Jump(target) => self.enter(target, machine)?,
            Flow::Switch => {
                for target in instruction.switch_targets() {
                    self.enter(target.ok_or(Fault::Refused)?, machine)?;
                }
            }
            Flow::Call(target) => self.call(code, target, instruction.next(), machine)?,
            // Where a subroutine comes back to has been entered by its call.
            Flow::Return(_) | Flow::End => {}
        }
        Ok(None)
    }

    /// `jsr`, in class files below version 51: behind it, whatever the subroutine may have stored is unknown. What it
    /// stores is taken to stand between its beginning and the next `ret`, as compilers lay it out.
    fn call(&mut self, code: &Code<'_>, target: u32, behind: u32, machine: &mut Machine<'_, '_>) -> Result<(), Fault> {
        machine.state.push(Nodes::UNKNOWN);
        self.enter(target, machine)?;
        machine.state.pop();
        let mut pc = target;
        while let Some(instruction) = Instruction::at(code.bytes, pc) {
            machine.spend(1)?;
            let variable = match instruction.opcode {
                // stores, iinc
                0x36..=0x3A | 0x84 => Some(instruction.variable()),
                stores @ 0x3B..=0x4E => Some(u16::from((stores - 0x3B) % 4)),
                // ret
                0xA9 => break,
                _ => None,
            };
            if let Some(variable) = variable {
                machine.state.store(variable, Nodes::UNKNOWN);
                machine.state.store(variable.saturating_add(1), Nodes::UNKNOWN);
            }
            pc = instruction.next();
        }
        for at in 0..machine.state.heap.len() {
            if let Some((_, contents)) = machine.state.heap.get_mut(at) {
                *contents = Nodes::LOST;
            }
        }
        self.enter(behind, machine)
    }

    /// An exception may come before the instruction, and so with what the variables hold before it.
    fn enter_handlers(&mut self, code: &Code<'_>, pc: u32, machine: &mut Machine<'_, '_>) -> Result<(), Fault> {
        if pc < self.covered.0 || pc >= self.covered.1 {
            return Ok(());
        }
        if !machine.state.changed && self.starts.binary_search(&pc).is_err() {
            return Ok(());
        }
        machine.spend(self.starts.len())?;
        let stack = std::mem::replace(&mut machine.state.stack, vec![Nodes::UNKNOWN]);
        let mut result = Ok(());
        for handler in code.handlers.iter() {
            if pc >= u32::from(handler.start) && pc < u32::from(handler.end) {
                result = self.enter(u32::from(handler.handler), machine);
                if result.is_err() {
                    break;
                }
            }
        }
        machine.state.stack = stack;
        machine.state.changed = false;
        result
    }

    /// Merges the machine's state into the one kept at a place, and queues the place if that changes.
    fn enter(&mut self, to: u32, machine: &mut Machine<'_, '_>) -> Result<(), Fault> {
        let state = &*machine.state;
        let size = 1 + state.locals.len() + state.stack.len() + state.heap.len();
        machine.work = u32::try_from(size).ok().and_then(|size| machine.work.checked_sub(size)).ok_or(Stop)?;
        let Some(kept) = self.kept.get_mut(&to) else {
            let start = self.slots.len();
            self.slots.extend_from_slice(&state.stack);
            self.slots.extend_from_slice(&state.locals);
            let (locals, stack) = (state.locals.len(), state.stack.len());
            self.kept.insert(to, Kept { start, locals, stack, heap: state.heap.clone(), rounds: 0 });
            self.due.insert(to);
            return Ok(());
        };
        if kept.stack != state.stack.len() {
            return Err(Fault::Refused);
        }
        let mut changed = false;
        // A variable that one of both does not have is not read behind this place.
        kept.locals = kept.locals.min(state.locals.len());
        let slots = self.slots.get_mut(kept.start..kept.start + kept.stack + kept.locals).ok_or(Fault::Refused)?;
        for (old, &new) in slots.iter_mut().zip(state.stack.iter().chain(&state.locals)) {
            let merged = meet(machine.nodes, *old, new, kept.rounds, Nodes::UNKNOWN)?;
            changed |= merged != *old;
            *old = merged;
        }
        // An object that only one of both has was not created on the other's way.
        for &(site, new) in &state.heap {
            match kept.heap.binary_search_by_key(&site, |&(place, _)| place) {
                Ok(at) => {
                    let Some((_, old)) = kept.heap.get_mut(at) else { continue };
                    let merged = meet(machine.nodes, *old, new, kept.rounds, Nodes::LOST)?;
                    changed |= merged != *old;
                    *old = merged;
                }
                Err(at) => {
                    kept.heap.insert(at, (site, new));
                    changed = true;
                }
            }
        }
        if changed {
            self.due.insert(to);
        }
        Ok(())
    }
}

fn meet(nodes: &mut Nodes, old: Id, new: Id, rounds: u32, end: Id) -> Result<Id, Stop> {
    if old == new || old == end {
        return Ok(old);
    }
    match rounds {
        0..=KEPT_ROUNDS => nodes.merge(old, new),
        _ if rounds <= REDUCED_ROUNDS => nodes.widen(old, new),
        _ => {
            let merged = nodes.merge(old, new)?;
            Ok(if merged == old { old } else { end })
        }
    }
}

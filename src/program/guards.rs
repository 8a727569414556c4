//! What handlers of a method do about the absence of classes, place by place.
//!
//! A handler protects if it catches what is thrown where a class is absent, and goes on. The caught types tell the
//! first; for the second its code is followed until some way leaves the method other than by an exception. What values
//! it computes is not known here: a handler that puts `null` into a variable on which the code behind it throws passes
//! for one that goes on. The first function to read is [`Guards::at`].

use rustc_hash::{FxHashMap, FxHashSet};

use super::Guard;
use crate::classfile::{Code, Flow, Handlers, Instruction, Pool};

/// Handlers of a method beyond which none of them counts. Real methods stay far below.
const MOST_HANDLERS: usize = 4096;

/// Ranges looked through for a method. What is asked beyond it counts as unprotected.
const MOST_RANGES: u32 = 1 << 22;

/// Instructions followed for a method. What would take more counts as unprotected.
const MOST_STEPS: u32 = 1 << 16;

/// `athrow` (JVMS §6.5).
const ATHROW: u8 = 0xBF;

/// Instructions of a handler that are looked at for what it says.
const MOST_OF_HANDLER: usize = 48;

/// JVMS §6.5.
const GETSTATIC: u8 = 0xB2;
const INVOKEVIRTUAL: u8 = 0xB6;
const INVOKEINTERFACE: u8 = 0xB9;

/// How methods are called that tell of a fault, and levels of what is told (`java.util.logging.Level`; of other logging
/// libraries common practice, no source).
const REPORTS: [&[u8]; 6] = [b"error", b"fatal", b"printStackTrace", b"severe", b"warn", b"warning"];
const FAULTS: [&[u8]; 5] = [b"ERROR", b"FATAL", b"SEVERE", b"WARN", b"WARNING"];

/// A type that handlers are written for, by what of two exceptions it catches: `ClassNotFoundException`, thrown by a
/// look-up of a class that is absent, and `NoClassDefFoundError`, thrown by everything else (JVMS §5.3, §5.4.3).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Caught {
    /// The second and not much else.
    Absence,
    /// The first.
    LookUp,
    /// Both, and everything else.
    Everything,
    /// Every error, the second among them.
    Errors,
}

impl Caught {
    /// The superclasses of both exceptions, as the Java SE API has them.
    fn of(name: &[u8]) -> Option<Caught> {
        Some(match name.strip_prefix(b"java/lang/")? {
            b"NoClassDefFoundError" | b"LinkageError" => Caught::Absence,
            b"ClassNotFoundException" | b"ReflectiveOperationException" | b"Exception" => Caught::LookUp,
            b"Throwable" => Caught::Everything,
            b"Error" => Caught::Errors,
            _ => return None,
        })
    }
}

#[derive(Clone, Copy, Debug)]
struct Range {
    start: u16,
    end: u16,
    handler: u16,
    caught: Caught,
}

/// The handlers of a method that may protect. Costs next to nothing for a method that has none, and follows a handler
/// when a place in its range is asked for.
#[derive(Debug)]
pub struct Guards<'a> {
    pool: Pool<'a>,
    code: &'a [u8],
    handlers: Handlers<'a>,
    ranges: Vec<Range>,
    /// By place, whether control from there may leave the method other than by an exception.
    known: FxHashMap<u32, bool>,
    ranges_left: u32,
    steps_left: u32,
}

impl<'a> Guards<'a> {
    /// The handlers of that code.
    pub fn of(pool: Pool<'a>, code: &Code<'a>) -> Self {
        let named = code.handlers.iter().filter_map(|handler| {
            let caught = Caught::of(pool.class_name(handler.catch_type)?)?;
            Some(Range { start: handler.start, end: handler.end, handler: handler.handler, caught })
        });
        let mut ranges: Vec<Range> = named.take(MOST_HANDLERS + 1).collect();
        if ranges.len() > MOST_HANDLERS {
            ranges.clear();
        }
        Guards {
            pool,
            code: code.bytes,
            handlers: code.handlers,
            ranges,
            known: FxHashMap::default(),
            ranges_left: MOST_RANGES,
            steps_left: MOST_STEPS,
        }
    }

    /// Whether no place of the method is protected, whatever the handlers do.
    pub fn is_empty(&self) -> bool {
        self.ranges.is_empty()
    }

    /// What protects the instruction at that place against `NoClassDefFoundError`: [`Guard::Absence`] if it is caught by
    /// name, [`Guard::LookUp`] if a handler for everything passes it over; [`Guards::at_look_up`] is for calls that
    /// throw `ClassNotFoundException`.
    pub fn at(&mut self, pc: u32) -> Guard {
        if self.is_empty() {
            return Guard::Open;
        }
        if self.protects(pc, |caught| caught != Caught::LookUp) == Some(Caught::Absence) {
            return if self.reports(pc) { Guard::LookUp } else { Guard::Absence };
        }
        if self.passed_over(pc, false) { Guard::LookUp } else { Guard::Open }
    }

    /// What protects a look-up by name: nothing unless `ClassNotFoundException` is caught; [`Guard::Absence`] if the
    /// absence of what the class needs in its turn is borne as well.
    ///
    /// A handler for everything is as a rule there for all sorts of faults. Around a look-up by name, and if it does
    /// nothing with what it catches, it is there for the absence of what is looked up.
    ///
    /// `initialiser` says that it is the code of a static initialiser: one that goes on has another way, whatever it
    /// does with what it catches.
    pub fn at_look_up(&mut self, pc: u32, initialiser: bool) -> Guard {
        if self.protects(pc, |caught| matches!(caught, Caught::LookUp | Caught::Everything)).is_none() {
            return Guard::Open;
        }
        match self.at(pc) {
            Guard::Open if !self.passed_over(pc, initialiser) => Guard::LookUp,
            _ => Guard::Absence,
        }
    }

    /// Whether `NoClassDefFoundError` is caught there, among others, by a handler that goes on and never looks at it,
    /// or stands in a static initialiser.
    fn passed_over(&mut self, pc: u32, initialiser: bool) -> bool {
        let catches = |range: &&Range| {
            u32::from(range.start) <= pc && pc < u32::from(range.end) && range.caught != Caught::LookUp
        };
        let Some(&range) = self.ranges.iter().find(catches) else { return false };
        let handler = u32::from(range.handler);
        self.goes_on(handler) && (initialiser || self.ignores(handler))
    }

    /// Whether the handler that catches absence there tells of a fault: somebody finds that something does not work, where
    /// one that has another way says nothing, or nothing that an operator sees.
    fn reports(&self, pc: u32) -> bool {
        let covers = |range: &&Range| {
            u32::from(range.start) <= pc && pc < u32::from(range.end) && range.caught == Caught::Absence
        };
        let Some(range) = self.ranges.iter().find(covers) else { return false };
        let mut next = u32::from(range.handler);
        // Behind the first jump stands what follows in any case.
        for _ in 0..MOST_OF_HANDLER {
            let Some(instruction) = Instruction::at(self.code, next) else { return false };
            let name = || self.pool.member_ref(instruction.index()).map(|member| member.name).unwrap_or_default();
            match instruction.opcode {
                GETSTATIC if FAULTS.contains(&name()) => return true,
                INVOKEVIRTUAL..=INVOKEINTERFACE if REPORTS.contains(&name()) => return true,
                _ => {}
            }
            match instruction.flow() {
                Some(Flow::On | Flow::Branch(_) | Flow::Call(_)) => next = instruction.next(),
                _ => return false,
            }
        }
        false
    }

    /// Whether a handler's code never loads what was caught.
    fn ignores(&mut self, handler: u32) -> bool {
        let Some(first) = Instruction::at(self.code, handler) else { return false };
        let caught = match first.opcode {
            // pop
            0x57 => return true,
            // astore, astore_0 to astore_3
            0x3A => first.variable(),
            short @ 0x4B..=0x4E => u16::from(short - 0x4B),
            _ => return false,
        };
        let mut due = vec![first.next()];
        let mut seen = FxHashSet::default();
        while let Some(pc) = due.pop() {
            if !seen.insert(pc) {
                continue;
            }
            let Some(left) = self.steps_left.checked_sub(1) else { return false };
            self.steps_left = left;
            let Some(instruction) = Instruction::at(self.code, pc) else { return false };
            match instruction.opcode {
                // aload, aload_0 to aload_3
                0x19 if instruction.variable() == caught => return false,
                short @ 0x2A..=0x2D if u16::from(short - 0x2A) == caught => return false,
                // Another value takes its place.
                0x3A if instruction.variable() == caught => continue,
                short @ 0x4B..=0x4E if u16::from(short - 0x4B) == caught => continue,
                _ => {}
            }
            match instruction.flow() {
                Some(Flow::On | Flow::Call(_)) => due.push(instruction.next()),
                Some(Flow::Branch(target)) => due.extend([target, instruction.next()]),
                Some(Flow::Jump(target)) => due.push(target),
                Some(Flow::Switch) => due.extend(instruction.switch_targets().flatten()),
                Some(Flow::Return(_) | Flow::End) | None => {}
            }
        }
        true
    }

    /// The type by which one exception is caught at that place by a handler that goes on.
    fn protects(&mut self, pc: u32, catches: impl Fn(Caught) -> bool) -> Option<Caught> {
        let mut at = 0;
        while let Some(&range) = self.ranges.get(at) {
            at += 1;
            self.ranges_left = self.ranges_left.checked_sub(1)?;
            let covers = u32::from(range.start) <= pc && pc < u32::from(range.end);
            if !covers || !catches(range.caught) {
                continue;
            }
            if self.goes_on(u32::from(range.handler)) {
                return Some(range.caught);
            }
            // What catches everything and throws in any case is most often there to clean up and passes the exception
            // on, as a `try` with resources does (JLS §14.20.3.1); others throw one of their own.
            if range.caught != Caught::Everything {
                return None;
            }
        }
        None
    }

    /// Whether control from that place may leave the method other than by an exception, or the end of the program.
    fn goes_on(&mut self, start: u32) -> bool {
        if let Some(&known) = self.known.get(&start) {
            return known;
        }
        // Each place with the one that led there, by its position here.
        let mut reached = vec![(start, 0)];
        let mut seen = FxHashSet::from_iter([start]);
        let mut due = vec![0];
        while let Some(at) = due.pop() {
            let Some(left) = self.steps_left.checked_sub(1) else { return false };
            self.steps_left = left;
            let Some(&(pc, _)) = reached.get(at) else { break };
            let mut targets = [None, None];
            let known = self.known.get(&pc).copied();
            let instruction = Instruction::at(self.code, pc).filter(|_| known.is_none());
            let flow = instruction.filter(|&instruction| !self.ends_program(instruction)).and_then(Instruction::flow);
            let leaves = match (instruction, flow) {
                (Some(instruction), Some(flow)) => {
                    let next = instruction.next();
                    match flow {
                        Flow::End if instruction.opcode != ATHROW => true,
                        Flow::End => {
                            targets = [self.caught_in(pc), None];
                            false
                        }
                        // A subroutine is taken to come back, and is not followed.
                        Flow::On | Flow::Call(_) => {
                            targets = [Some(next), None];
                            false
                        }
                        Flow::Branch(target) => {
                            targets = [Some(target), Some(next)];
                            false
                        }
                        Flow::Jump(target) => {
                            targets = [Some(target), None];
                            false
                        }
                        Flow::Switch | Flow::Return(_) => false,
                    }
                }
                _ => known == Some(true),
            };
            if leaves {
                let mut at = at;
                while let Some(&(pc, from)) = reached.get(at) {
                    self.known.insert(pc, true);
                    if at == from {
                        break;
                    }
                    at = from;
                }
                return true;
            }
            let switch = instruction.filter(|_| flow == Some(Flow::Switch));
            let switched = switch.into_iter().flat_map(Instruction::switch_targets);
            for target in switched.chain(targets).flatten() {
                if seen.insert(target) {
                    due.push(reached.len());
                    reached.push((target, at));
                }
            }
        }
        self.known.extend(reached.into_iter().map(|(pc, _)| (pc, false)));
        false
    }

    /// Where an exception of whatever type goes that is thrown there.
    fn caught_in(&mut self, pc: u32) -> Option<u32> {
        for handler in self.handlers.iter() {
            self.ranges_left = self.ranges_left.checked_sub(1)?;
            let covers = u32::from(handler.start) <= pc && pc < u32::from(handler.end);
            let general = || {
                let name = self.pool.class_name(handler.catch_type);
                handler.catch_type == 0 || matches!(name, Some(b"java/lang/Throwable" | b"java/lang/Exception"))
            };
            if covers && general() {
                return Some(u32::from(handler.handler));
            }
        }
        None
    }

    /// Calls behind which the program does not go on (Java SE API).
    fn ends_program(&self, instruction: Instruction<'_>) -> bool {
        // invokevirtual, invokestatic
        if !matches!(instruction.opcode, 0xB6 | 0xB8) {
            return false;
        }
        let Some(called) = self.pool.member_ref(instruction.index()).filter(|called| called.descriptor == b"(I)V")
        else {
            return false;
        };
        match self.pool.class_name(called.owner) {
            Some(b"java/lang/System") => called.name == b"exit",
            Some(b"java/lang/Runtime") => matches!(called.name, b"exit" | b"halt"),
            _ => false,
        }
    }
}

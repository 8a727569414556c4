//! The stack map frames of a method, slot by slot (JVMS §4.7.4).
//!
//! Frames share their slots where one is the beginning of another. The first function to read is [`Frames::read`].

use std::ops::Range;

use super::asks::Asks;
use super::types::{Kind, Names, Type};
use super::{Method, Stop};

/// All frames of a method; the memory is used again.
#[derive(Debug, Default)]
pub(super) struct Frames {
    /// In the order of their places in the code.
    frames: Vec<Frame>,
    slots: Vec<Type>,
}

#[derive(Debug)]
struct Frame {
    pc: u32,
    locals: Range<usize>,
    stack: Range<usize>,
}

/// One frame.
#[derive(Clone, Copy)]
pub(super) struct FrameRef<'f> {
    pub(super) pc: u32,
    pub(super) locals: &'f [Type],
    pub(super) stack: &'f [Type],
}

impl Frames {
    /// The frame at that place in the order.
    #[inline]
    pub(super) fn get(&self, place: usize) -> Option<FrameRef<'_>> {
        let frame = self.frames.get(place)?;
        Some(FrameRef {
            pc: frame.pc,
            locals: self.slots.get(frame.locals.clone())?,
            stack: self.slots.get(frame.stack.clone())?,
        })
    }

    /// The frame of that instruction.
    #[inline]
    pub(super) fn at(&self, pc: u32) -> Option<FrameRef<'_>> {
        self.get(self.frames.binary_search_by_key(&pc, |frame| frame.pc).ok()?)
    }

    /// Reads all frames; `entry` are the local variables with which the method begins.
    ///
    /// A table that breaks off or is out of order leaves the frames before the break.
    pub(super) fn read(
        &mut self,
        method: &Method<'_, '_>,
        entry: &[Type],
        asks: &mut Asks<'_, '_>,
    ) -> Result<(), Stop> {
        self.frames.clear();
        self.slots.clear();
        self.slots.extend_from_slice(entry);
        let Some(table) = method.code.stack_map else { return Ok(()) };
        let mut bytes = Bytes(table);
        let mut locals = 0..entry.len();
        let mut next = 0;
        for _ in 0..bytes.u2().unwrap_or(0) {
            let before = self.slots.len();
            let Some((delta, stack)) = self.frame(&mut bytes, method.names, &mut locals) else { break };
            // Copied slots cost memory, so that they are counted as work.
            asks.spend(1 + self.slots.len() - before)?;
            let pc = next + u32::from(delta);
            if pc as usize >= method.code.bytes.len() {
                break;
            }
            self.frames.push(Frame { pc, locals: locals.clone(), stack });
            next = pc + 1;
        }
        Ok(())
    }

    /// Reads one frame: its `offset_delta` and the slots of its stack; `locals` turns from those of the frame before
    /// into its own.
    fn frame(
        &mut self,
        bytes: &mut Bytes<'_>,
        names: Names<'_>,
        locals: &mut Range<usize>,
    ) -> Option<(u16, Range<usize>)> {
        let form = bytes.u1()?;
        let mut stack_entries = 0;
        let delta = match form {
            0..=63 => u16::from(form),
            64..=127 => {
                stack_entries = 1;
                u16::from(form - 64)
            }
            128..=246 => return None,
            247 => {
                stack_entries = 1;
                bytes.u2()?
            }
            248..=251 => {
                let delta = bytes.u2()?;
                for _ in form..251 {
                    self.chop(locals);
                }
                delta
            }
            252..=254 => {
                let delta = bytes.u2()?;
                self.append(bytes, names, locals, u16::from(form - 251))?;
                delta
            }
            255 => {
                let delta = bytes.u2()?;
                let count = bytes.u2()?;
                *locals = self.slots.len()..self.slots.len();
                self.append(bytes, names, locals, count)?;
                stack_entries = bytes.u2()?;
                delta
            }
        };
        let mut stack = self.slots.len()..self.slots.len();
        self.append(bytes, names, &mut stack, stack_entries)?;
        Some((delta, stack))
    }

    /// Takes the last variable away, both slots of it.
    fn chop(&self, locals: &mut Range<usize>) {
        let last = |locals: &Range<usize>| locals.end.checked_sub(1).and_then(|at| self.slots.get(at));
        let wide = last(locals).is_some_and(|slot| slot.kind == Kind::Second);
        locals.end = locals.end.saturating_sub(if wide { 2 } else { 1 }).max(locals.start);
    }

    fn append(&mut self, bytes: &mut Bytes<'_>, names: Names<'_>, slots: &mut Range<usize>, count: u16) -> Option<()> {
        if slots.end != self.slots.len() && count > 0 {
            let start = self.slots.len();
            self.slots.extend_from_within(slots.clone());
            *slots = start..self.slots.len();
        }
        for _ in 0..count {
            let found = bytes.verification_type(names)?;
            self.slots.push(found);
            self.slots.extend(found.second());
        }
        if count > 0 {
            slots.end = self.slots.len();
        }
        Some(())
    }
}

struct Bytes<'a>(&'a [u8]);

impl Bytes<'_> {
    fn u1(&mut self) -> Option<u8> {
        let (&first, rest) = self.0.split_first()?;
        self.0 = rest;
        Some(first)
    }

    fn u2(&mut self) -> Option<u16> {
        let (&pair, rest) = self.0.split_first_chunk::<2>()?;
        self.0 = rest;
        Some(u16::from_be_bytes(pair))
    }

    fn verification_type(&mut self, names: Names<'_>) -> Option<Type> {
        Some(match self.u1()? {
            0 => Type::TOP,
            1 => Type::INT,
            2 => Type::FLOAT,
            3 => Type::DOUBLE,
            4 => Type::LONG,
            5 => Type::NULL,
            6 => Type::UNINITIALIZED_THIS,
            7 => names.class(self.u2()?)?,
            8 => Type::uninitialized(u32::from(self.u2()?)),
            _ => return None,
        })
    }
}

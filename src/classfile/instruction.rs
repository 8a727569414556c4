//! Instructions as far as control flow needs them: how long they are, and where they may go (JVMS §6.5).
//!
//! For stages that follow a method's code, which the walk does not. Nothing is known here of what an instruction does to
//! values, apart from [`super::Effect`]. The first function to read is [`Instruction::at`].

/// An instruction in its place.
#[derive(Clone, Copy, Debug)]
pub struct Instruction<'c> {
    code: &'c [u8],
    /// Offset of its first byte in the code.
    pub pc: u32,
    /// Without `wide`, which only `operand_width` remembers.
    pub opcode: u8,
    /// In bytes, with operands, padding and `wide`.
    pub length: u32,
    /// Where its operands begin.
    operands: usize,
    /// Whether the number of a local variable takes two bytes.
    wide: bool,
}

/// Where control goes behind an instruction, apart from exceptions.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flow {
    /// Only on.
    On,
    /// On, or to the target.
    Branch(u32),
    /// Only to the target.
    Jump(u32),
    /// To any target of the switch.
    Switch,
    /// Into a subroutine, which comes back behind the instruction.
    Call(u32),
    /// Back from a subroutine, by the address in a local variable.
    Return(u16),
    /// Out of the method.
    End,
}

impl<'c> Instruction<'c> {
    /// `None` where the code ends too early or holds a byte that is no instruction.
    #[inline]
    pub fn at(code: &'c [u8], pc: u32) -> Option<Self> {
        let at = pc as usize;
        let mut found = Instruction { code, pc, opcode: *code.get(at)?, length: 1, operands: at + 1, wide: false };
        let bytes = match found.opcode {
            0x10 | 0x12 | 0x15..=0x19 | 0x36..=0x3A | 0xA9 | 0xBC => 1,
            0x11 | 0x13 | 0x14 | 0x84 | 0x99..=0xA8 | 0xB2..=0xB8 | 0xBB | 0xBD | 0xC0 | 0xC1 | 0xC6 | 0xC7 => 2,
            0xC5 => 3,
            0xB9 | 0xBA | 0xC8 | 0xC9 => 4,
            0xAA | 0xAB | 0xC4 => return found.long(),
            0xCA.. => return None,
            _ => 0,
        };
        found.length += bytes;
        (at + found.length as usize <= code.len()).then_some(found)
    }

    #[cold]
    fn long(mut self) -> Option<Self> {
        let at = self.pc as usize;
        let operands: i64 = if self.opcode == 0xC4 {
            self.opcode = *self.code.get(at + 1)?;
            self.operands = at + 2;
            self.wide = true;
            match self.opcode {
                0x84 => 5,
                0x15..=0x19 | 0x36..=0x3A | 0xA9 => 3,
                _ => return None,
            }
        } else {
            // Both switches begin at a multiple of four from the first byte of the code.
            self.operands = (at + 4) & !3;
            let padding = i64::from(3 - self.pc % 4);
            let number = |place: usize| Some(i64::from(self.number(self.operands + 4 * place)?));
            if self.opcode == 0xAA {
                let targets = number(2)? - number(1)? + 1;
                if targets < 0 {
                    return None;
                }
                padding + 12 + 4 * targets
            } else {
                let pairs = number(1)?;
                if pairs < 0 {
                    return None;
                }
                padding + 8 + 8 * pairs
            }
        };
        self.length = u32::try_from(operands + 1).ok()?;
        (at + self.length as usize <= self.code.len()).then_some(self)
    }

    fn number(self, at: usize) -> Option<i32> {
        self.code.get(at..)?.first_chunk().map(|&bytes| i32::from_be_bytes(bytes))
    }

    /// The place behind it.
    pub fn next(self) -> u32 {
        self.pc + self.length
    }

    /// The first operand as one byte.
    #[inline]
    pub fn byte(self) -> u8 {
        self.code.get(self.operands).copied().unwrap_or(0)
    }

    /// The first operand as two bytes.
    #[inline]
    pub fn index(self) -> u16 {
        self.code.get(self.operands..).and_then(<[u8]>::first_chunk).map_or(0, |&pair| u16::from_be_bytes(pair))
    }

    /// The third byte of the operands.
    pub fn third(self) -> u8 {
        self.code.get(self.operands + 2).copied().unwrap_or(0)
    }

    /// The number of the local variable that a load, a store or `ret` names by operand.
    #[inline]
    pub fn variable(self) -> u16 {
        if self.wide { self.index() } else { u16::from(self.byte()) }
    }

    /// Whether it stores into a local variable.
    #[inline]
    pub fn stores(self) -> bool {
        matches!(self.opcode, 0x36..=0x4E)
    }

    fn target(self, offset: i32) -> Option<u32> {
        let target = i64::from(self.pc) + i64::from(offset);
        u32::try_from(target).ok().filter(|&target| (target as usize) < self.code.len())
    }

    /// Where control goes; `None` if that is outside the code.
    #[inline]
    pub fn flow(self) -> Option<Flow> {
        let near = || self.target(i32::from(self.index().cast_signed()));
        let far = || self.target(self.number(self.operands)?);
        Some(match self.opcode {
            0x99..=0xA6 | 0xC6 | 0xC7 => Flow::Branch(near()?),
            0xA7 => Flow::Jump(near()?),
            0xA8 => Flow::Call(near()?),
            0xA9 => Flow::Return(self.variable()),
            0xAA | 0xAB => Flow::Switch,
            0xAC..=0xB1 | 0xBF => Flow::End,
            0xC8 => Flow::Jump(far()?),
            0xC9 => Flow::Call(far()?),
            _ => Flow::On,
        })
    }

    /// The targets of a switch, the default one first.
    pub fn switch_targets(self) -> impl Iterator<Item = Option<u32>> + use<'c> {
        let (first, step, count) = if self.opcode == 0xAA {
            let (low, high) = (self.number(self.operands + 4), self.number(self.operands + 8));
            let count = high.zip(low).map_or(0, |(high, low)| i64::from(high) - i64::from(low) + 1);
            (self.operands + 12, 4, usize::try_from(count).unwrap_or(0))
        } else {
            let count = self.number(self.operands + 4).unwrap_or(0);
            (self.operands + 12, 8, usize::try_from(count).unwrap_or(0))
        };
        std::iter::once(self.operands)
            .chain((0..count).map(move |place| first + step * place))
            .map(move |at| self.target(self.number(at)?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// JVMS §6.5: `tableswitch` at 1 is padded to 4; default, low, high, two targets.
    #[test]
    fn switches_are_padded() {
        let mut code = vec![0, 0xAA, 0, 0];
        for number in [27_i32, 5, 6, -1, 26] {
            code.extend(number.to_be_bytes());
        }
        code.extend([0xAB, 0, 0, 0]);
        let found = Instruction::at(&code, 1).unwrap();
        assert_eq!(found.length, 23);
        code.resize(40, 0);
        let found = Instruction::at(&code, 1).unwrap();
        assert_eq!(found.switch_targets().collect::<Vec<_>>(), [Some(28), Some(0), Some(27)]);

        let mut code = vec![0xAB, 0, 0, 0];
        for number in [20_i32, 1, 7, -1] {
            code.extend(number.to_be_bytes());
        }
        code.resize(40, 0);
        let found = Instruction::at(&code, 0).unwrap();
        assert_eq!((found.length, found.switch_targets().collect()), (20, vec![Some(20), None]));
    }

    #[test]
    fn wide_counts() {
        let found = Instruction::at(&[0xC4, 0x19, 1, 2], 0).unwrap();
        assert_eq!((found.opcode, found.length, found.variable()), (0x19, 4, 258));
        let found = Instruction::at(&[0xC4, 0x84, 1, 2, 0, 1], 0).unwrap();
        assert_eq!((found.opcode, found.length), (0x84, 6));
        assert!(Instruction::at(&[0xC4, 0x00, 1, 2], 0).is_none());
        assert!(Instruction::at(&[0xC8, 0, 0], 0).is_none());
    }
}

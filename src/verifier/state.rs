//! A frame while it changes: types of local variables and of the operand stack, slot by slot.

use super::types::{Kind, Type};

/// Slots beyond `locals` hold nothing. Both grow as they are used, never by what the code declares.
#[derive(Clone, Debug, Default)]
pub(super) struct State {
    pub(super) locals: Vec<Type>,
    pub(super) stack: Vec<Type>,
    /// Whether local variables have changed since handlers were last looked at.
    pub(super) changed: bool,
}

impl State {
    pub(super) fn clear(&mut self) {
        self.locals.clear();
        self.stack.clear();
        self.changed = true;
    }

    pub(super) fn set(&mut self, locals: &[Type], stack: &[Type]) {
        self.locals.clear();
        self.locals.extend_from_slice(locals);
        self.stack.clear();
        self.stack.extend_from_slice(stack);
        self.changed = true;
    }

    #[inline]
    pub(super) fn push(&mut self, of: Type) {
        self.stack.push(of);
        self.stack.extend(of.second());
    }

    #[inline]
    pub(super) fn pop(&mut self) -> Option<Type> {
        self.stack.pop()
    }

    #[inline]
    pub(super) fn drop(&mut self, slots: usize) -> Option<()> {
        let depth = self.stack.len().checked_sub(slots)?;
        self.stack.truncate(depth);
        Some(())
    }

    #[inline]
    pub(super) fn local(&self, index: usize) -> Type {
        self.locals.get(index).copied().unwrap_or(Type::TOP)
    }

    /// Stores a value; a value of two slots that loses one of them is gone (JVMS §4.10.1.7).
    pub(super) fn store(&mut self, index: usize, of: Type) {
        let width = if of.second().is_some() { 2 } else { 1 };
        if self.locals.len() < index + width {
            self.locals.resize(index + width, Type::TOP);
        }
        if self.local(index).kind == Kind::Second {
            self.put(index.wrapping_sub(1), Type::TOP);
        }
        if self.local(index + width).kind == Kind::Second {
            self.put(index + width, Type::TOP);
        }
        self.put(index, of);
        if width == 2 {
            self.put(index + 1, Type::SECOND);
        }
        self.changed = true;
    }

    fn put(&mut self, index: usize, of: Type) {
        if let Some(slot) = self.locals.get_mut(index) {
            *slot = of;
        }
    }

    /// Puts `new` in place of `old` everywhere: an object has been initialised (§4.10.1.9, `invokespecial`).
    pub(super) fn replace(&mut self, old: Type, new: Type) {
        for slot in self.locals.iter_mut().chain(&mut self.stack).filter(|slot| **slot == old) {
            *slot = new;
        }
        self.changed = true;
    }

    /// Repeats the topmost `count` slots below the `under` slots that lie beneath them: `dup2_x1` is `(2, 1)`.
    pub(super) fn duplicate(&mut self, count: usize, under: usize) -> Option<()> {
        let at = self.stack.len().checked_sub(count + under)?;
        let from = self.stack.len() - count;
        for offset in 0..count {
            let slot = *self.stack.get(from + 2 * offset)?;
            self.stack.insert(at + offset, slot);
        }
        Some(())
    }

    pub(super) fn swap(&mut self) -> Option<()> {
        let (top, below) = (self.pop()?, self.pop()?);
        self.stack.extend([top, below]);
        Some(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn after(count: usize, under: usize) -> Vec<u16> {
        let mut state = State { stack: (0..4).map(Type::uninitialized).collect(), ..State::default() };
        state.duplicate(count, under).unwrap();
        state.stack.iter().map(|slot| slot.start).collect()
    }

    /// JVMS §6.5, the operand stacks of `dup` to `dup2_x2`.
    #[test]
    fn duplicates_are_those_of_the_specification() {
        assert_eq!(after(1, 0), [0, 1, 2, 3, 3]);
        assert_eq!(after(1, 1), [0, 1, 3, 2, 3]);
        assert_eq!(after(1, 2), [0, 3, 1, 2, 3]);
        assert_eq!(after(2, 0), [0, 1, 2, 3, 2, 3]);
        assert_eq!(after(2, 1), [0, 2, 3, 1, 2, 3]);
        assert_eq!(after(2, 2), [2, 3, 0, 1, 2, 3]);
    }

    #[test]
    fn half_a_long_is_no_long() {
        let mut state = State::default();
        state.store(1, Type::LONG);
        state.store(2, Type::INT);
        assert_eq!(state.locals, [Type::TOP, Type::TOP, Type::INT]);
        state.store(0, Type::DOUBLE);
        state.store(0, Type::INT);
        assert_eq!(state.locals, [Type::INT, Type::TOP, Type::INT]);
    }
}

//! What local variables, operand stack and the objects created here hold at one place.
//!
//! Builders and arrays are followed from where they are created, one object a place: a loop that creates another makes
//! the one before unknown. An object that other code gets hold of may be changed by it from then on; see
//! [`State::lose`].

use super::Stop;
use super::nodes::{Id, Node, Nodes};

/// Slots beyond `locals` hold nothing. All grow as they are used, never by what the code declares.
#[derive(Clone, Debug, Default)]
pub(super) struct State {
    pub(super) locals: Vec<Id>,
    pub(super) stack: Vec<Id>,
    /// Contents by the place of creation, in ascending order.
    pub(super) heap: Vec<(u32, Id)>,
    /// Whether anything but the stack has changed since handlers were last looked at.
    pub(super) changed: bool,
}

impl State {
    pub(super) fn clear(&mut self) {
        self.locals.clear();
        self.stack.clear();
        self.heap.clear();
        self.changed = true;
    }

    pub(super) fn push(&mut self, id: Id) {
        self.stack.push(id);
    }

    pub(super) fn pop(&mut self) -> Option<Id> {
        self.stack.pop()
    }

    pub(super) fn drop(&mut self, slots: usize) -> Option<()> {
        let depth = self.stack.len().checked_sub(slots)?;
        self.stack.truncate(depth);
        Some(())
    }

    pub(super) fn local(&self, index: u16) -> Id {
        self.locals.get(usize::from(index)).copied().unwrap_or(Nodes::UNKNOWN)
    }

    pub(super) fn store(&mut self, index: u16, id: Id) {
        let index = usize::from(index);
        if self.locals.len() <= index {
            self.locals.resize(index + 1, Nodes::UNKNOWN);
        }
        if let Some(slot) = self.locals.get_mut(index)
            && *slot != id
        {
            *slot = id;
            self.changed = true;
        }
    }

    /// Repeats the topmost `count` slots below the `under` slots that lie beneath them: `dup2_x1` is `(2, 1)`.
    pub(super) fn duplicate(&mut self, count: usize, under: usize) -> Option<()> {
        let at = self.stack.len().checked_sub(count + under)?;
        let from = self.stack.len() - count;
        let repeated = self.stack.get(from..)?.to_vec();
        self.stack.splice(at..at, repeated);
        Some(())
    }

    pub(super) fn swap(&mut self) -> Option<()> {
        let (top, below) = (self.pop()?, self.pop()?);
        self.stack.extend([top, below]);
        Some(())
    }

    pub(super) fn contents(&self, site: u32) -> Id {
        match self.heap.binary_search_by_key(&site, |&(place, _)| place) {
            Ok(at) => self.heap.get(at).map_or(Nodes::LOST, |&(_, contents)| contents),
            Err(_) => Nodes::LOST,
        }
    }

    pub(super) fn put(&mut self, site: u32, contents: Id) {
        match self.heap.binary_search_by_key(&site, |&(place, _)| place) {
            Ok(at) => {
                if let Some((_, old)) = self.heap.get_mut(at)
                    && *old != contents
                {
                    *old = contents;
                    self.changed = true;
                }
            }
            Err(at) => {
                self.heap.insert(at, (site, contents));
                self.changed = true;
            }
        }
    }

    /// An object is created at that place; what was created there before can no longer be told apart from it.
    pub(super) fn create(&mut self, site: u32, contents: Id, nodes: &mut Nodes) -> Result<Id, Stop> {
        if self.heap.binary_search_by_key(&site, |&(place, _)| place).is_ok() {
            for slot in self.locals.iter_mut().chain(&mut self.stack).filter(|slot| nodes.may_be(**slot, site)) {
                *slot = Nodes::UNKNOWN;
            }
        }
        self.put(site, contents);
        nodes.add(Node::Object(site))
    }

    /// The value as it is now, for whoever keeps it while objects change.
    pub(super) fn snapshot(&self, id: Id, nodes: &mut Nodes) -> Result<Id, Stop> {
        let now = |id: Id, nodes: &Nodes| match nodes.get(id) {
            Node::Object(site) => match self.contents(*site) {
                Nodes::LOST => Nodes::UNKNOWN,
                contents => contents,
            },
            _ => id,
        };
        match nodes.get(id) {
            Node::Object(_) => Ok(now(id, nodes)),
            Node::OneOf(members) if members.iter().any(|&member| matches!(nodes.get(member), Node::Object(_))) => {
                let members = members.to_vec();
                let mut merged: Option<Id> = None;
                for member in members {
                    let member = now(member, nodes);
                    merged = Some(match merged {
                        None => member,
                        Some(merged) => nodes.merge(merged, member)?,
                    });
                }
                Ok(merged.unwrap_or(Nodes::UNKNOWN))
            }
            _ => Ok(id),
        }
    }

    /// Other code gets hold of the value: from now on it may add to a builder or put elements into an array.
    pub(super) fn lose(&mut self, id: Id, nodes: &mut Nodes) -> Result<(), Stop> {
        for member in nodes.objects(id) {
            let contents = match nodes.get(self.contents(member)) {
                Node::Array { elements, .. } => {
                    let elements = elements.to_vec();
                    nodes.array(elements, false)?
                }
                _ => Nodes::LOST,
            };
            self.put(member, contents);
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// JVMS §6.5, the operand stacks of `dup` to `dup2_x2`.
    #[test]
    fn duplicates_are_those_of_the_specification() {
        let mut nodes = Nodes::default();
        nodes.clear();
        let slots: Vec<Id> = (0..4).map(|number| nodes.add(Node::Number(number)).unwrap()).collect();
        for (count, under, expected) in [
            (1, 0, &[0, 1, 2, 3, 3][..]),
            (1, 1, &[0, 1, 3, 2, 3]),
            (1, 2, &[0, 3, 1, 2, 3]),
            (2, 0, &[0, 1, 2, 3, 2, 3]),
            (2, 1, &[0, 2, 3, 1, 2, 3]),
            (2, 2, &[2, 3, 0, 1, 2, 3]),
        ] {
            let mut state = State { stack: slots.clone(), ..State::default() };
            state.duplicate(count, under).unwrap();
            let expected: Vec<Id> = expected.iter().map(|&number: &usize| slots[number]).collect();
            assert_eq!(state.stack, expected);
        }
    }
}

//! Values while a method is followed: each different one is kept once, so that two are equal if their numbers are.
//!
//! How many there are, how deep, how wide and how long is bounded here. The first function to read is [`Nodes::merge`];
//! `text` has what is special about texts.

use std::hash::{BuildHasher, Hash};

use hashbrown::HashTable;
use rustc_hash::FxBuildHasher;

use super::Stop;

/// Alternatives of one value, beyond which only what they have in common is kept.
pub(super) const MOST_ALTERNATIVES: usize = 8;

/// Elements of one array that are kept.
const MOST_ELEMENTS: usize = 64;

/// Values within values.
const MOST_DEPTH: u8 = 6;

/// Values of one method; what is said of `MOST_WORK` holds for it, too.
const MOST_NODES: usize = 1 << 16;

/// The number of a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Id(u32);

/// A value; numbers of 16 bits are indices into the constant pool.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) enum Node {
    Unknown,
    /// The contents of an object that others may change at any time.
    Lost,
    Null,
    Number(i32),
    This,
    Parameter(u16),
    /// A text that is known as a whole.
    Known(Box<[u8]>),
    /// A text of several pieces, or of one that is not known; none is a text itself.
    Text(Box<[Id]>),
    /// `CONSTANT_Class`.
    Class(u16),
    /// `CONSTANT_Class`.
    New(u16),
    /// A builder or an array created at that place in the code; the state has its contents.
    Object(u32),
    /// The contents of an array.
    Array {
        elements: Box<[Id]>,
        whole: bool,
    },
    Element(Id),
    /// `CONSTANT_Fieldref`.
    StaticField(u16),
    /// `CONSTANT_Fieldref`.
    InstanceField(u16),
    /// A member reference, and the receiver, if there is one, with the arguments behind it.
    Result {
        reference: u16,
        receiver: bool,
        operands: Box<[Id]>,
    },
    /// At least two, none of which is such a list itself; each once.
    OneOf(Box<[Id]>),
}

/// All values of a method.
#[derive(Debug, Default)]
pub(super) struct Nodes {
    list: Vec<(Node, u8)>,
    numbers: HashTable<u32>,
}

impl Nodes {
    pub(super) const UNKNOWN: Id = Id(0);
    pub(super) const LOST: Id = Id(1);
    pub(super) const NULL: Id = Id(2);
    pub(super) const EMPTY: Id = Id(3);

    /// Forgets the method before.
    pub(super) fn clear(&mut self) {
        self.list.clear();
        self.numbers.clear();
        for node in [Node::Unknown, Node::Lost, Node::Null, Node::Known(Box::default())] {
            let _ = self.add(node);
        }
    }

    pub(super) fn get(&self, id: Id) -> &Node {
        self.list.get(id.0 as usize).map_or(&Node::Unknown, |(node, _)| node)
    }

    /// The number of a value; what lies too deep within it is given up.
    pub(super) fn add(&mut self, mut node: Node) -> Result<Id, Stop> {
        let mut depth = 0;
        let list = &self.list;
        let below = |id: Id| list.get(id.0 as usize).map_or(0, |(_, depth)| *depth);
        for child in children(&mut node) {
            if below(*child) + 1 >= MOST_DEPTH {
                *child = Nodes::UNKNOWN;
            }
            depth = depth.max(below(*child) + 1);
        }
        let hash = FxBuildHasher.hash_one(&node);
        let same = |&number: &u32| list.get(number as usize).is_some_and(|(other, _)| *other == node);
        if let Some(&found) = self.numbers.find(hash, same) {
            return Ok(Id(found));
        }
        if self.list.len() >= MOST_NODES {
            return Err(Stop);
        }
        let number = self.list.len() as u32;
        self.list.push((node, depth));
        let list = &self.list;
        self.numbers.insert_unique(hash, number, |&number| {
            list.get(number as usize).map_or(0, |(node, _)| FxBuildHasher.hash_one(node))
        });
        Ok(Id(number))
    }

    /// The alternatives that a value is one of; itself if there is but one.
    pub(super) fn alternatives(&self, id: Id) -> Vec<Id> {
        match self.get(id) {
            Node::OneOf(members) => members.to_vec(),
            _ => vec![id],
        }
    }

    /// One of both. It is `old` itself if `new` adds nothing, so that merging comes to an end.
    pub(super) fn merge(&mut self, old: Id, new: Id) -> Result<Id, Stop> {
        if old == new {
            return Ok(old);
        }
        match (self.get(old), self.get(new)) {
            (Node::Lost, _) | (_, Node::Lost) => return Ok(Nodes::LOST),
            // A variable that is a number is a counter or a flag.
            (Node::Number(_), _) | (_, Node::Number(_)) => return Ok(Nodes::UNKNOWN),
            (Node::Array { elements, whole }, Node::Array { elements: more, whole: also }) => {
                let (mut all, whole) = (elements.to_vec(), *whole && *also);
                let more = more.clone();
                all.extend(more);
                return self.array(all, whole);
            }
            _ => {}
        }
        let mut members = self.alternatives(old);
        let before = members.len();
        for member in self.alternatives(new) {
            if !members.contains(&member) {
                members.push(member);
            }
        }
        if members.len() == before {
            return Ok(old);
        }
        self.one_of(members)
    }

    /// One of these; each is there once.
    pub(super) fn one_of(&mut self, members: Vec<Id>) -> Result<Id, Stop> {
        match *members {
            [] => Ok(Nodes::UNKNOWN),
            [only] => Ok(only),
            _ if members.len() > MOST_ALTERNATIVES => self.in_common(&members),
            _ => self.add(Node::OneOf(members.into())),
        }
    }

    /// Like [`Nodes::merge`], but with an end in sight for what changes in a loop: texts are reduced to their
    /// beginning and end, everything else is given up.
    pub(super) fn widen(&mut self, old: Id, new: Id) -> Result<Id, Stop> {
        let merged = self.merge(old, new)?;
        if merged == old {
            return Ok(old);
        }
        match self.get(merged) {
            Node::Lost => Ok(merged),
            Node::Array { elements, .. } => {
                let elements = elements.to_vec();
                self.array(elements, false)
            }
            _ => {
                let members = self.alternatives(merged);
                self.in_common(&members)
            }
        }
    }

    /// The contents of an array; what occurs twice or is too much is left out.
    pub(super) fn array(&mut self, elements: Vec<Id>, mut whole: bool) -> Result<Id, Stop> {
        let mut once: Vec<Id> = Vec::with_capacity(elements.len().min(MOST_ELEMENTS));
        for element in elements {
            if once.contains(&element) {
                continue;
            }
            if once.len() == MOST_ELEMENTS {
                whole = false;
                break;
            }
            once.push(element);
        }
        self.add(Node::Array { elements: once.into(), whole })
    }

    /// An element of an array.
    pub(super) fn element(&mut self, array: Id) -> Result<Id, Stop> {
        match self.get(array) {
            Node::Unknown | Node::Lost | Node::Null => Ok(Nodes::UNKNOWN),
            Node::Array { elements, whole: true } if elements.len() <= MOST_ALTERNATIVES => {
                let mut members: Vec<Id> = Vec::new();
                for element in elements.iter().copied() {
                    for member in self.alternatives(element) {
                        if !members.contains(&member) {
                            members.push(member);
                        }
                    }
                }
                self.one_of(members)
            }
            _ => self.add(Node::Element(array)),
        }
    }

    /// What a call gives back.
    pub(super) fn result(&mut self, reference: u16, receiver: bool, operands: &[Id]) -> Result<Id, Stop> {
        self.add(Node::Result { reference, receiver, operands: operands.into() })
    }

    /// Where the objects were created that it is or may be.
    pub(super) fn objects(&self, id: Id) -> Vec<u32> {
        let site = |id: Id| match self.get(id) {
            Node::Object(site) => Some(*site),
            _ => None,
        };
        match self.get(id) {
            Node::Object(site) => vec![*site],
            Node::OneOf(members) => members.iter().filter_map(|&member| site(member)).collect(),
            _ => Vec::new(),
        }
    }

    /// Whether it is the object created there, or may be.
    pub(super) fn may_be(&self, id: Id, site: u32) -> bool {
        matches!(self.get(id), Node::Object(_) | Node::OneOf(_)) && self.objects(id).contains(&site)
    }

    /// How deep values lie within it, at the most.
    #[cfg(test)]
    pub(super) fn is_deep(&self, id: Id) -> bool {
        self.list.get(id.0 as usize).is_some_and(|&(_, depth)| depth >= MOST_DEPTH)
    }
}

fn children(node: &mut Node) -> &mut [Id] {
    match node {
        Node::Text(ids) | Node::OneOf(ids) => ids,
        Node::Array { elements, .. } => elements,
        Node::Result { operands, .. } => operands,
        Node::Element(array) => std::slice::from_mut(array),
        _ => &mut [],
    }
}

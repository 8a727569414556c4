//! Calls whose result is known: what the platform does with texts, builders and class constants.
//!
//! Meanings are those of the Java SE API, `java.lang.String`, `StringBuilder`, `Class`, and of
//! `java.lang.invoke.StringConcatFactory` (JEP 280). The first function to read is [`Machine::call`].

use crate::classfile::{Dynamic, Pool, Tag, descriptor};
use crate::names::package_of;

use super::Stop;
use super::bootstraps::Joint;
use super::machine::{Callee, Machine};
use super::nodes::{Id, Node, Nodes};

/// Whether objects of that class collect a text.
pub(super) fn is_builder(class: &[u8]) -> bool {
    matches!(class, b"java/lang/StringBuilder" | b"java/lang/StringBuffer" | b"java/lang/AbstractStringBuilder")
}

impl<'a> Machine<'a, '_> {
    /// What a call gives back, and what it changes; meaningless where the method gives back no reference.
    pub(super) fn call(&mut self, callee: Callee<'a>, receiver: Option<Id>, arguments: &[Id]) -> Result<Id, Stop> {
        let known = match (callee.owner, receiver) {
            (owner, Some(builder)) if is_builder(owner) => self.build(callee, builder, arguments)?,
            (b"java/lang/String", _) => self.string(callee, receiver, arguments)?,
            (b"java/lang/Class", Some(class)) => self.class(callee, class)?,
            (b"java/lang/Package", Some(package)) if callee.name == b"getName" => self.package(package)?,
            (b"java/lang/Object" | b"java/lang/CharSequence", Some(object)) if callee.name == b"toString" => {
                let now = self.state.snapshot(object, self.nodes)?;
                Some(now).filter(|&now| self.nodes.is_text(now))
            }
            (b"java/util/Objects", None) if callee.name == b"requireNonNull" => arguments.first().copied(),
            (owner, Some(array)) if owner.first() == Some(&b'[') && callee.name == b"clone" => {
                Some(self.state.snapshot(array, self.nodes)?)
            }
            _ => None,
        };
        if let Some(known) = known {
            return Ok(known);
        }
        let mut operands = Vec::with_capacity(arguments.len() + 1);
        for &operand in receiver.iter().chain(arguments) {
            operands.push(self.state.snapshot(operand, self.nodes)?);
            self.state.lose(operand, self.nodes)?;
        }
        if !matches!(descriptor::result(callee.descriptor), Some([b'L' | b'[', ..])) {
            return Ok(Nodes::UNKNOWN);
        }
        self.nodes.result(callee.reference, receiver.is_some(), &operands)
    }

    /// The argument of that number as it reads in a text.
    fn piece(&mut self, text: &[u8], arguments: &[Id], number: usize) -> Result<Id, Stop> {
        let (Some(of), Some(&argument)) = (descriptor::parameters(text).nth(number), arguments.get(number)) else {
            return Ok(Nodes::UNKNOWN);
        };
        let now = self.state.snapshot(argument, self.nodes)?;
        self.nodes.read_as_text(now, of)
    }

    fn build(&mut self, callee: Callee<'a>, builder: Id, arguments: &[Id]) -> Result<Option<Id>, Stop> {
        let text = callee.descriptor;
        let zero = |machine: &Self, number: usize| {
            arguments.get(number).is_some_and(|&id| matches!(machine.nodes.get(id), Node::Number(0)))
        };
        // Which object it is must be certain; otherwise all that it may be are lost.
        let Node::Object(site) = *self.nodes.get(builder) else {
            match callee.name {
                b"toString" | b"substring" | b"length" | b"charAt" | b"indexOf" => return Ok(None),
                _ => {
                    self.state.lose(builder, self.nodes)?;
                    return Ok((callee.name == b"append").then_some(builder));
                }
            }
        };
        let before = self.state.contents(site);
        let after = match callee.name {
            b"<init>" => match arguments {
                [] => Nodes::EMPTY,
                _ if text.starts_with(b"(I)") => Nodes::EMPTY,
                _ => self.piece(text, arguments, 0)?,
            },
            b"append" if arguments.len() == 1 => {
                let piece = self.piece(text, arguments, 0)?;
                self.nodes.concat(&[before, piece])?
            }
            b"append" | b"appendCodePoint" => self.nodes.concat(&[before, Nodes::UNKNOWN])?,
            b"insert" if arguments.len() == 2 && zero(self, 0) => {
                let piece = self.piece(text, arguments, 1)?;
                self.nodes.concat(&[piece, before])?
            }
            b"setLength" if zero(self, 0) && before != Nodes::LOST => Nodes::EMPTY,
            b"toString" => {
                let now = self.state.snapshot(builder, self.nodes)?;
                return self.nodes.concat(&[now]).map(Some);
            }
            b"substring" | b"subSequence" => return Ok(Some(Nodes::UNKNOWN)),
            b"length" | b"charAt" | b"indexOf" | b"lastIndexOf" | b"capacity" | b"ensureCapacity" | b"isEmpty" => {
                return Ok(Some(Nodes::UNKNOWN));
            }
            _ if before == Nodes::LOST => before,
            _ => Nodes::UNKNOWN,
        };
        self.state.put(site, after);
        Ok(Some(builder))
    }

    fn string(&mut self, callee: Callee<'a>, receiver: Option<Id>, arguments: &[Id]) -> Result<Option<Id>, Stop> {
        let text = callee.descriptor;
        let argument = |number: usize| arguments.get(number).copied().unwrap_or(Nodes::UNKNOWN);
        Ok(match (callee.name, receiver) {
            (b"concat", Some(text_before)) => {
                let (before, piece) =
                    (self.nodes.read_as_text(text_before, b"Ljava/lang/String;")?, self.piece(text, arguments, 0)?);
                Some(self.nodes.concat(&[before, piece])?)
            }
            (b"valueOf" | b"copyValueOf", None) => {
                let piece = self.piece(text, arguments, 0)?;
                // What reads as itself is a text where it is one; anything else has a text of its own.
                (piece != Nodes::UNKNOWN).then_some(self.nodes.concat(&[piece])?)
            }
            (b"toString" | b"intern", Some(same)) => Some(same),
            (b"trim" | b"strip", Some(before)) if self.nodes.is_text(before) => {
                Some(self.nodes.each_text(before, |nodes, text| match nodes.get(text) {
                    Node::Known(bytes) => {
                        let trimmed = bytes.trim_ascii().to_vec();
                        nodes.known(&trimmed)
                    }
                    _ => Ok(Nodes::UNKNOWN),
                })?)
            }
            (b"replace", Some(before)) if self.nodes.is_text(before) => {
                let (from, to) = (self.piece(text, arguments, 0)?, self.piece(text, arguments, 1)?);
                Some(self.nodes.replace(before, from, to)?)
            }
            (b"format", None) => {
                let at = usize::from(text.starts_with(b"(Ljava/util/Locale;"));
                let (format, values) = (argument(at), self.state.snapshot(argument(at + 1), self.nodes)?);
                if self.nodes.is_text(format) { Some(self.nodes.format(format, values)?) } else { None }
            }
            (b"formatted", Some(format)) if self.nodes.is_text(format) => {
                let values = self.state.snapshot(argument(0), self.nodes)?;
                Some(self.nodes.format(format, values)?)
            }
            _ => None,
        })
    }

    fn class(&mut self, callee: Callee<'a>, class: Id) -> Result<Option<Id>, Stop> {
        let Node::Class(index) = *self.nodes.get(class) else { return Ok(None) };
        let Some(name) = self.pool.class_name(index) else { return Ok(None) };
        Ok(match callee.name {
            b"getName" => Some(self.dotted(name)?),
            // For what is no array (Java SE API, java.lang.Class).
            b"getTypeName" if name.first() != Some(&b'[') => Some(self.dotted(name)?),
            b"getPackageName" if name.first() != Some(&b'[') => Some(self.dotted(package_of(name))?),
            _ => None,
        })
    }

    /// The name of the package of a class constant.
    fn package(&mut self, package: Id) -> Result<Option<Id>, Stop> {
        let Node::Result { reference, receiver: true, operands } = self.nodes.get(package) else { return Ok(None) };
        let asked = Callee::of(self.pool, *reference);
        let Some(Node::Class(index)) = operands.first().map(|&class| self.nodes.get(class)) else { return Ok(None) };
        match (asked, self.pool.class_name(*index)) {
            (Some(Callee { owner: b"java/lang/Class", name: b"getPackage", .. }), Some(class)) => {
                self.dotted(package_of(class)).map(Some)
            }
            _ => Ok(None),
        }
    }

    fn dotted(&mut self, internal: &[u8]) -> Result<Id, Stop> {
        let name: Vec<u8> = internal.iter().map(|&byte| if byte == b'/' { b'.' } else { byte }).collect();
        self.nodes.known(&name)
    }

    /// What a dynamic call site gives back.
    pub(super) fn concatenate(&mut self, site: Dynamic<'a>, arguments: &[Id]) -> Result<Id, Stop> {
        let Some(joint) = self.bootstraps.joint(site.bootstrap) else {
            // A lambda or another that is not known keeps what it is given.
            for &argument in arguments {
                self.state.lose(argument, self.nodes)?;
            }
            return Ok(Nodes::UNKNOWN);
        };
        let mut read = Vec::with_capacity(arguments.len());
        for number in 0..arguments.len() {
            read.push(self.piece(site.descriptor, arguments, number)?);
        }
        let Joint::Recipe { recipe, constants } = joint else { return self.nodes.concat(&read) };
        let (mut read, mut constants) = (read.into_iter(), constants.iter().skip(1));
        let mut parts = Vec::new();
        for run in recipe.split_inclusive(|&byte| byte <= 2) {
            let (marker, known) = match run.split_last() {
                Some((marker @ 1..=2, known)) => (Some(*marker), known),
                _ => (None, run),
            };
            parts.push(self.nodes.known(known)?);
            match marker {
                Some(1) => parts.push(read.next().unwrap_or(Nodes::UNKNOWN)),
                Some(_) => {
                    let constant = constants.next().and_then(|index| text_constant(self.pool, index));
                    parts.push(constant.map_or(Ok(Nodes::UNKNOWN), |bytes| self.nodes.known(bytes))?);
                }
                None => {}
            }
        }
        self.spend(parts.len())?;
        self.nodes.concat(&parts)
    }
}

fn text_constant(pool: Pool<'_>, index: u16) -> Option<&[u8]> {
    match pool.tag(index)? {
        Tag::String => pool.string(index),
        _ => None,
    }
}

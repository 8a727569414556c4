//! What is known of each pool index of the class at hand, so that it is found out once a class and not once a use.
//!
//! The first function to read is [`Summariser::class_of_pool`].

use crate::classfile::descriptor;
use crate::program::NameId;
use crate::program::watch::Kind;

use super::Summariser;

/// What is known of one pool index.
#[derive(Clone, Copy)]
pub(super) struct Known {
    pub slot: Slot,
    pub form: Form,
    /// What its class can mean, if it is a class.
    pub kind: Kind,
    /// Of a class outside java.base its name, of an array class that of the elements; of a `CONSTANT_NameAndType` the
    /// member; of a text the number of its reference.
    pub id: NameId,
}

impl Default for Known {
    fn default() -> Self {
        Known { slot: Slot::Unseen, form: Form::Unseen, kind: Kind::Base, id: NameId::NONE }
    }
}

/// Whether it leads to a watched type.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Slot {
    /// Not looked at yet.
    Unseen,
    /// Leads to nothing worth keeping.
    Idle,
    /// Leads to a watched type.
    Watched,
    /// A method of a class of [`Form::Handle`].
    Polymorphic,
}

/// What it is.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    /// Not looked at yet, or not one of these.
    Unseen,
    /// Has been looked at; nothing more to be had from it.
    Idle,
    /// A class.
    Class,
    /// One of the two classes with signature-polymorphic methods (JVMS §2.9.3).
    Handle,
    /// An array class.
    Array,
    /// A text that the table of needs asks for, or the path of a file.
    Text,
}

impl Form {
    /// Whether it is a class of some sort.
    pub fn is_class(self) -> bool {
        matches!(self, Form::Class | Form::Handle | Form::Array)
    }

    fn of(name: &[u8]) -> Form {
        match name {
            [b'[', ..] => Form::Array,
            b"java/lang/invoke/MethodHandle" | b"java/lang/invoke/VarHandle" => Form::Handle,
            _ => Form::Class,
        }
    }
}

impl Summariser<'_> {
    /// Looks at a class constant of the class with that number in the chunk.
    pub(super) fn class_of_pool(&mut self, index: u16, ordinal: u32) {
        let Some(name) = self.pool.and_then(|pool| pool.class_name(index)) else {
            return self.set(index, false);
        };
        let form = Form::of(name);
        let Some((id, kind)) = descriptor::element_class(name).and_then(|name| self.chunk.outside_base(name)) else {
            return self.know(index, |known| (known.slot, known.form) = (Slot::Idle, form));
        };
        let slot = if kind == Kind::Watched { Slot::Watched } else { Slot::Idle };
        self.know(index, |known| *known = Known { slot, form, kind, id });
        self.chunk.space.types.push(id);
        if kind == Kind::Other
            && let Some(seen @ false) = self.chunk.seen_named.get_mut(id.0 as usize)
        {
            *seen = true;
            self.chunk.named.push((id, ordinal));
        }
    }

    /// The name of a class constant as it stands, whatever it means.
    pub(super) fn plain_name(&mut self, index: u16) -> Option<NameId> {
        let known = self.known(index);
        if known.form == Form::Class && known.id != NameId::NONE {
            return Some(known.id);
        }
        let name = self.pool?.class_name(index)?;
        Some(self.chunk.name(name).0)
    }

    /// The class at hand is nested in that one.
    pub(super) fn enclosed_by(&mut self, class: u16) {
        let name = self.plain_name(class);
        if let Some(head) = &mut self.head {
            head.enclosing = name;
        }
    }
}

//! Needs that no bytecode names: features of the platform that a program asks for by a call and a text, by a file, or by
//! an option of the launch.
//!
//! The table is `needs.toml`; this stage knows how to match it and nothing of how facts are found or what becomes of
//! the answer. The first item to read is [`Inquiry`]; [`wants_call`], [`wants_field`], [`wants_text`] and [`owner`] say
//! beforehand which facts can matter.

mod begun;
mod glob;
mod index;
mod inquiry;
mod launch;
mod matcher;
mod purposes;
mod rules;
mod sieve;
mod table;
mod tags;
mod words;

use std::ops::ControlFlow;

pub use inquiry::{Answer, Asked, Inquiry, Sure, Where, wants_resource};
pub use launch::{Given, Implied, Implies, Launch, Unclear, implied, starts_from};
pub use purposes::{Purpose, purposes};
pub use table::{Need, Trigger, table};

use index::INDEX;

/// What is known of the methods that can run. Numbers are the giver's own.
pub trait Facts: Sync {
    /// Numbers of the methods that can run, ascending.
    fn methods(&self) -> impl Iterator<Item = u32>;
    /// Whether a number is that of a file, whose texts are told as those of a method.
    fn is_file(&self, _number: u32) -> bool {
        false
    }
    /// Whether it is of the program's own part, and not of a library.
    fn is_own(&self, _number: u32) -> bool {
        false
    }
    /// What a number stands for.
    fn place(&self, number: u32) -> Where {
        Where::Method(number)
    }
    /// The class of a method: any number that is unique to it.
    fn class_of(&self, method: u32) -> u32;
    /// Tells the calls, reads of static fields and texts of a method; those that the filters of this stage refuse may
    /// be left out.
    fn visit(&self, method: u32, see: &mut dyn FnMut(Fact<'_>));
    /// Whether a class (internal form) is the other or a subtype of it, in program and platform.
    fn is_subtype(&self, class: &[u8], of: &[u8]) -> bool;
}

/// Something that a method does, as bytes of the class file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fact<'a> {
    /// It calls a method, or holds a handle to it.
    Call {
        /// The class that the method is looked up in, internal form.
        owner: &'a [u8],
        /// Its name.
        name: &'a [u8],
        /// Its descriptor.
        descriptor: &'a [u8],
    },
    /// It reads a static field.
    Field {
        /// The class that the field is looked up in, internal form.
        owner: &'a [u8],
        /// Its name.
        name: &'a [u8],
        /// Whether its value goes right into a call.
        passed: bool,
    },
    /// It holds a text: a string constant, the recipe of a concatenation (U+0001 where a value goes), or the name of a
    /// class, dotted or with slashes.
    Text(&'a [u8]),
}

/// Whether a call can matter to the table. Cheap enough for every constant of a class path: no memory is taken.
///
/// A call by a class outside the platform matters where its name is one that the table asks for, since the class may
/// be a subtype; platform classes are compared with the owners of the table.
pub fn wants_call(owner: &[u8], name: &[u8], descriptor: &[u8]) -> bool {
    INDEX.calls((owner, name, descriptor), |_, _| true, |_| ControlFlow::Break(())).is_break()
}

/// Whether a read of a static field can matter to the table.
pub fn wants_field(owner: &[u8], name: &[u8]) -> bool {
    INDEX.fields(owner, name, |_| ControlFlow::Break(())).is_break()
}

/// What can matter to the table of a class, whatever its members are called.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Owner {
    /// Its calls: the table has calls of it by name.
    pub calls: bool,
    /// Those of its calls that [`wants_call`] takes by their name: it is not of the platform and may be a subtype of what
    /// the table names.
    pub inherited: bool,
    /// Reads of its static fields.
    pub fields: bool,
}

/// What of a class can matter.
pub fn owner(name: &[u8]) -> Owner {
    INDEX.owner(name)
}

/// Whether a text of a file can matter to the table on any release.
pub fn wants_text_of_file(text: &[u8]) -> bool {
    INDEX.texts_of_files(text).is_break()
}

/// Whether a text can matter to the table on any release.
pub fn wants_text(text: &[u8]) -> bool {
    INDEX.texts(text, u16::MAX, |_| ControlFlow::Break(())).is_break()
}

#[cfg(test)]
mod cases;

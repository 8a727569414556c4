//! `&[u8]` to class facts (JVMS ch. 4): pure, total, borrowing, no I/O, no allocation per class beyond the scratch.
//!
//! The first function to read is [`walk`]: it walks a class file once and tells a [`Visitor`] about every position in
//! which the file names another class, and about every constant that later stages need. It never panics and never
//! loops, whatever the bytes: what cannot be read ends in an [`Error`] that says where.
//!
//! What a name means for the program is not known here: [`Position::stage`] is all that is said about it.

mod annotations;
mod attributes;
mod code;
mod constants;
mod cursor;
pub mod descriptor;
mod effect;
mod error;
mod frames;
mod instruction;
mod leaders;
mod module_info;
pub(crate) mod opcode;
mod pool;
mod position;
pub mod signature;
mod visitor;
mod walk;

pub use annotations::ANNOTATION_DEPTH;
pub use constants::constant_names;
pub use effect::{Effect, Pushed};
pub use error::{Error, ErrorKind};
pub use instruction::{Flow, Instruction};
pub use leaders::Leaders;
pub use module_info::{ModuleDescriptor, ModuleExports, ModuleProvides, ModuleRequires, module_descriptor};
pub use pool::{Dynamic, MemberRef, Pool, Scratch, Tag};
pub use position::{Position, Stage};
pub use visitor::{Bootstrap, Code, Handler, Handlers, Indices, InnerClass, Member, MemberKind, Visitor};
pub use walk::{ClassFile, walk};

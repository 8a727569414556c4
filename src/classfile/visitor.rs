//! What a walk tells, and to whom.
//!
//! Every call hands over pool indices, not names: a visitor resolves those it wants through [`Pool`], and may remember
//! per index that it has done so. Methods that a visitor does not write cost nothing.
//!
//! Order: the class; then for each field and method [`Visitor::member`], what it mentions, [`Visitor::member_end`]; then
//! what the attributes of the class mention, among them the bootstrap methods that call sites have referred to by
//! number.

use super::walk::ClassFile;
use super::{Position, Tag};

#[expect(unused_imports, reason = "for links in the documentation")]
use super::Pool;

/// Field or method.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MemberKind {
    /// JVMS §4.5.
    Field,
    /// JVMS §4.6.
    Method,
}

/// The head of a `field_info` or `method_info`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Member {
    /// Which of the two.
    pub kind: MemberKind,
    /// JVMS tables 4.5-A and 4.6-A.
    pub access: u16,
    /// Index of the name's text.
    pub name: u16,
    /// Index of the descriptor's text.
    pub descriptor: u16,
}

/// A `Code` attribute (JVMS §4.7.3).
#[derive(Clone, Copy, Debug)]
pub struct Code<'a> {
    /// Depth of the operand stack.
    pub max_stack: u16,
    /// Number of local variables.
    pub max_locals: u16,
    /// The instructions.
    pub bytes: &'a [u8],
    /// The exception table.
    pub handlers: Handlers<'a>,
    /// Content of the `StackMapTable` attribute, from `number_of_entries` on (JVMS §4.7.4).
    pub stack_map: Option<&'a [u8]>,
}

/// An exception table: entries of eight bytes.
#[derive(Clone, Copy, Debug)]
pub struct Handlers<'a>(pub(super) &'a [u8]);

/// One entry of an exception table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Handler {
    /// First instruction covered.
    pub start: u16,
    /// First instruction not covered.
    pub end: u16,
    /// First instruction of the handler.
    pub handler: u16,
    /// Index of the `CONSTANT_Class` caught; 0 catches everything.
    pub catch_type: u16,
}

impl<'a> Handlers<'a> {
    /// Whether there are none.
    pub fn is_empty(self) -> bool {
        self.0.is_empty()
    }

    /// The entries in the order in which the JVM tries them.
    pub fn iter(self) -> impl Iterator<Item = Handler> + 'a {
        self.0.as_chunks::<8>().0.iter().map(|&[a, b, c, d, e, f, g, h]| Handler {
            start: u16::from_be_bytes([a, b]),
            end: u16::from_be_bytes([c, d]),
            handler: u16::from_be_bytes([e, f]),
            catch_type: u16::from_be_bytes([g, h]),
        })
    }
}

/// A list of pool indices as it stands in the file.
#[derive(Clone, Copy, Debug, Default)]
pub struct Indices<'a>(pub(super) &'a [u8]);

impl<'a> Indices<'a> {
    /// The indices in order.
    pub fn iter(self) -> impl ExactSizeIterator<Item = u16> + 'a {
        self.0.as_chunks::<2>().0.iter().map(|&pair| u16::from_be_bytes(pair))
    }

    /// How many there are.
    pub fn len(self) -> usize {
        self.0.len() / 2
    }

    /// Whether there are none.
    pub fn is_empty(self) -> bool {
        self.0.is_empty()
    }
}

/// One entry of `BootstrapMethods` (JVMS §4.7.23).
#[derive(Clone, Copy, Debug)]
pub struct Bootstrap<'a> {
    /// The number by which call sites and dynamic constants refer to it.
    pub index: u16,
    /// Index of a `CONSTANT_MethodHandle`.
    pub method: u16,
    /// Indices of loadable constants (JVMS table 4.4-C).
    pub arguments: Indices<'a>,
}

/// One entry of `InnerClasses` (JVMS §4.7.6).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InnerClass {
    /// Index of the nested class.
    pub inner: u16,
    /// Index of the class that it is a member of; 0 for local and anonymous classes.
    pub outer: u16,
    /// Index of the simple name; 0 for anonymous classes.
    pub name: u16,
    /// JVMS table 4.7.6-A.
    pub access: u16,
}

/// Who is told what a class file holds.
///
/// `pc` is the offset of the instruction in its method's code, where an instruction is the place.
#[expect(unused_variables, reason = "what a visitor does not want it need not name")]
pub trait Visitor<'a> {
    /// Whether mentions at this position are wanted at all. Asked for the positions that are costly to reach and
    /// seldom wanted: local variables, stack map frames, annotations.
    #[inline]
    fn wants(at: Position) -> bool {
        true
    }

    /// Whether the code of this class is wanted at all. Where it is not, `Code` attributes are passed over unread, and
    /// [`Visitor::code`] is not called.
    #[inline]
    fn wants_code(&self) -> bool {
        true
    }

    /// The class itself, first of all.
    #[inline]
    fn class(&mut self, class: &ClassFile<'a>) {}

    /// A field or method begins; what follows is mentioned by it.
    #[inline]
    fn member(&mut self, member: Member) {}

    /// The field or method ends.
    #[inline]
    fn member_end(&mut self) {}

    /// A method's code, before its instructions; whether to go through those and the exception table.
    #[inline]
    fn code(&mut self, code: &Code<'a>) -> bool {
        true
    }

    /// A `CONSTANT_Class` is named. It may name an array class.
    #[inline]
    fn class_name(&mut self, at: Position, pc: Option<u32>, class: u16) {}

    /// The text at that index is a field or method descriptor; for annotation values also a return descriptor.
    #[inline]
    fn descriptor(&mut self, at: Position, pc: Option<u32>, text: u16) {}

    /// The text at that index is a generic signature (JVMS §4.7.9.1).
    #[inline]
    fn signature(&mut self, at: Position, text: u16) {}

    /// An instruction accesses a field or calls a method. The owner of the reference is a mention at `at`, its
    /// descriptor one at [`Position::ReferenceDescriptor`]; neither is told apart.
    #[inline]
    fn member_ref(&mut self, at: Position, opcode: u8, pc: u32, reference: u16) {}

    /// `invokedynamic`. The call site's descriptor is a mention at [`Position::CallSiteDescriptor`]; not told apart.
    #[inline]
    fn invoke_dynamic(&mut self, pc: u32, call_site: u16) {}

    /// `ldc` of a string.
    #[inline]
    fn load_string(&mut self, pc: u32, string: u16) {}

    /// `ldc` of a method type, method handle or dynamic constant; what it names is a mention at
    /// [`Position::LoadConstant`] and not told apart. See [`super::constant_names`].
    #[inline]
    fn load_constant(&mut self, pc: u32, constant: u16, tag: Tag) {}

    /// The value of a constant field (JVMS §4.7.2).
    #[inline]
    fn constant_value(&mut self, constant: u16) {}

    /// A record component begins (JVMS §4.7.30).
    #[inline]
    fn record_component(&mut self, name: u16, descriptor: u16) {}

    /// A bootstrap method; what handle and arguments name is a mention at [`Position::BootstrapMethod`] and
    /// [`Position::BootstrapArgument`] and not told apart. See [`super::constant_names`].
    #[inline]
    fn bootstrap(&mut self, bootstrap: &Bootstrap<'a>) {}

    /// An entry of `InnerClasses`; its classes are told by [`Visitor::class_name`] too.
    #[inline]
    fn inner_class(&mut self, entry: InnerClass) {}

    /// An annotation begins; its type is told by [`Visitor::descriptor`] too. Annotations nest.
    #[inline]
    fn annotation(&mut self, kind: u16) {}

    /// The annotation ends.
    #[inline]
    fn annotation_end(&mut self) {}

    /// An element of the annotation; its values follow.
    #[inline]
    fn element(&mut self, name: u16) {}

    /// A string as the value of an annotation element, or of one member of an array of them.
    #[inline]
    fn element_string(&mut self, text: u16) {}

    /// An enum constant as such a value; its type is told by [`Visitor::descriptor`] too.
    #[inline]
    fn element_enum(&mut self, kind: u16, name: u16) {}
}

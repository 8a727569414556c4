//! What methods do that can make other classes and methods run: compact, in the order of the code, each step once a
//! method.
//!
//! Calls of java.base and reads of its fields are left out unless the table of needs or the table of look-ups has them;
//! what the platform calls back is found by the hierarchy, not by calls. Steps are packed into words whose references
//! are numbered within the chunk of classes that one worker read; [`Program::steps`] takes them apart.

use crate::archive::ArchiveId;

use super::stretch::Stretch;
use super::{Class, ClassId, NameId, Program};

/// Index of a method in [`Program::methods`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MethodId(pub u32);

/// What a [`Method`] stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MethodKind {
    /// A method of the class.
    Declared,
    /// An entry of `BootstrapMethods` (JVMS §4.7.23): handle and arguments are resolved when a call site that refers
    /// to it is linked.
    Bootstrap,
    /// The annotations of the class and its members, and the subclasses that it permits: whoever reads them may create
    /// what they name.
    Annotations,
}

/// A method of a class, or something else in it that has steps.
#[derive(Clone, Copy, Debug)]
pub struct Method {
    /// The class that declares it.
    pub class: ClassId,
    /// Name and descriptor joined, numbered in [`Program::members`]; meaningless unless it is declared.
    pub selector: NameId,
    /// JVMS table 4.6-A; 0 unless it is declared.
    pub access: u16,
    /// What it stands for.
    pub kind: MethodKind,
    pub(super) steps: Stretch,
}

impl Method {
    /// Whether it has code of its own.
    pub fn has_code(&self) -> bool {
        // ACC_NATIVE, ACC_ABSTRACT
        self.access & (0x0100 | 0x0400) == 0
    }

    /// Whether it is static.
    pub fn is_static(&self) -> bool {
        self.access & 0x0008 != 0
    }

    /// Whether it is private.
    pub fn is_private(&self) -> bool {
        self.access & 0x0002 != 0
    }

    /// Whether it is public.
    pub fn is_public(&self) -> bool {
        self.access & 0x0001 != 0
    }
}

/// A member as an instruction names it (JVMS §4.4.2).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Reference {
    /// The class that it is looked up in: a number of [`Program::names`].
    pub owner: NameId,
    /// Name and descriptor joined, of fields with a colon between: a number of [`Program::members`].
    pub member: NameId,
}

/// Name and descriptor of a method whose text joins them, as [`Program::members`] has it; of a field nothing.
pub fn name_and_descriptor(member: &[u8]) -> Option<(&[u8], &[u8])> {
    member.split_at_checked(memchr::memchr(b'(', member)?)
}

/// Something that a method does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    /// `invokestatic`, or a method handle to a static method.
    StaticCall(Reference),
    /// `invokespecial`: constructors, private methods, methods of the superclass.
    SpecialCall(Reference),
    /// `invokevirtual`, `invokeinterface`, or a method handle that selects.
    VirtualCall(Reference),
    /// `getstatic`, `putstatic`.
    StaticField(Reference),
    /// `new`.
    New(NameId),
    /// A call site makes an object of that interface, or whatever it gives.
    Object(NameId),
    /// A class is loaded and no more: cast to, tested for, element of a new array.
    Load(NameId),
    /// A class constant as a value.
    ClassLiteral(NameId),
    /// A class constant that is asked for its name, say, and dropped.
    Asked(NameId),
    /// A text that has the form of a class name; here in internal form.
    ClassName(NameId),
    /// A text that the table of needs asks for, or that may be the path of a file which names classes: a number of
    /// [`Program::texts`].
    Text(NameId),
    /// A call site or dynamic constant is linked.
    Bootstrap(MethodId),
    /// The class or a member is annotated with that type.
    Annotation(NameId),
}

impl Action {
    /// What it calls, if it is a call.
    pub fn called(self) -> Option<Reference> {
        match self {
            Action::StaticCall(called) | Action::SpecialCall(called) | Action::VirtualCall(called) => Some(called),
            _ => None,
        }
    }
}

/// One step of a method.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// What happens.
    pub action: Action,
    /// Whether all places of the method where it happens lie in the range of a handler for the absence of classes:
    /// `NoClassDefFoundError` or `LinkageError` by name.
    pub guarded: bool,
}

/// Kinds of packed steps; the numbers are in the upper bits of a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub(super) enum Kind {
    StaticCall,
    SpecialCall,
    VirtualCall,
    StaticField,
    New,
    Object,
    Load,
    ClassLiteral,
    Asked,
    ClassName,
    Text,
    Bootstrap,
    Annotation,
}

const KIND_SHIFT: u32 = 28;
const GUARDED: u32 = 1 << 27;
const NUMBER: u32 = GUARDED - 1;

/// Packs a step; `number` is a reference of the chunk, or a method counted from the first one of the class.
pub(super) fn pack(kind: Kind, guarded: bool, number: u32) -> u32 {
    (kind as u32) << KIND_SHIFT | if guarded { GUARDED } else { 0 } | (number & NUMBER)
}

/// A packed step without its guard.
pub(super) fn unguarded(word: u32) -> u32 {
    word & !GUARDED
}

/// Whether a packed step links a call site.
pub(super) fn is_bootstrap(word: u32) -> bool {
    word >> KIND_SHIFT == Kind::Bootstrap as u32
}

impl Program {
    /// The method of that number. Numbers come from this program only.
    pub fn method(&self, id: MethodId) -> Option<&Method> {
        self.methods.get(id.0 as usize)
    }

    /// The archive that holds a method's class.
    pub fn archive_of(&self, id: MethodId) -> Option<ArchiveId> {
        Some(self.class(self.method(id)?.class)?.archive)
    }

    /// The methods of a class, those of kind [`MethodKind::Declared`] first and in the order of the class file.
    pub fn methods_of(
        &self,
        class: &Class,
    ) -> impl ExactSizeIterator<Item = (MethodId, &Method)> + DoubleEndedIterator + use<'_> {
        let first = class.methods.first;
        class
            .methods
            .of(&self.methods)
            .iter()
            .enumerate()
            .map(move |(at, method)| (MethodId(first + at as u32), method))
    }

    /// What stands for the annotations of a class and its members: the last of its methods, if there are any.
    pub fn annotations_of(&self, class: &Class) -> Option<MethodId> {
        let (last, method) = self.methods_of(class).next_back()?;
        (method.kind == MethodKind::Annotations).then_some(last)
    }

    /// The names of classes among the texts of a method, in the order of its code.
    pub fn class_names(&self, id: MethodId) -> impl Iterator<Item = NameId> + use<'_> {
        self.steps(id).filter_map(|step| match step.action {
            Action::ClassName(name) => Some(name),
            _ => None,
        })
    }

    /// What a method does, in the order of its code, each step once.
    pub fn steps(&self, id: MethodId) -> impl Iterator<Item = Step> + use<'_> {
        let method = self.method(id);
        let class = method.and_then(|method| self.class(method.class));
        let (references, first_method) = class.map_or((0, 0), |class| (class.references, class.methods.first));
        let words = method.map(|method| method.steps.of(&self.steps)).unwrap_or_default();
        words.iter().filter_map(move |&word| {
            let number = word & NUMBER;
            let guarded = word & GUARDED != 0;
            let kind = word >> KIND_SHIFT;
            if kind == Kind::Bootstrap as u32 {
                return Some(Step { action: Action::Bootstrap(MethodId(first_method + number)), guarded });
            }
            let reference = *self.references.get((references + number) as usize)?;
            let action = match kind {
                kind if kind == Kind::StaticCall as u32 => Action::StaticCall(reference),
                kind if kind == Kind::SpecialCall as u32 => Action::SpecialCall(reference),
                kind if kind == Kind::VirtualCall as u32 => Action::VirtualCall(reference),
                kind if kind == Kind::StaticField as u32 => Action::StaticField(reference),
                kind if kind == Kind::New as u32 => Action::New(reference.owner),
                kind if kind == Kind::Object as u32 => Action::Object(reference.owner),
                kind if kind == Kind::Load as u32 => Action::Load(reference.owner),
                kind if kind == Kind::ClassLiteral as u32 => Action::ClassLiteral(reference.owner),
                kind if kind == Kind::Asked as u32 => Action::Asked(reference.owner),
                kind if kind == Kind::ClassName as u32 => Action::ClassName(reference.owner),
                kind if kind == Kind::Text as u32 => Action::Text(reference.member),
                _ => Action::Annotation(reference.owner),
            };
            Some(Step { action, guarded })
        })
    }
}

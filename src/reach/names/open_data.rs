//! What the platform does to the types of an `MXBean`: it turns their values into open data and back, by their getters and
//! constructors (Java SE API, `javax.management.MXBean`, "Type Mapping Rules").
//!
//! The first function to read is [`Naming::open_data`].

use std::collections::BTreeSet;

use crate::classfile::{ClassFile, Member, MemberKind, Position, Visitor, descriptor, signature};
use crate::flow::Members;
use crate::program::{Class, ClassId, NameId};
use crate::reach::Cause;
use crate::reach::again::Again;

use super::Naming;

/// The annotation of an interface whose name does not end as that of an `MXBean` does.
const ANNOTATION: &[u8] = b"javax/management/MXBean";

/// How the names begin of the methods by which values are taken apart and put together.
const ACCESSORS: [&[u8]; 4] = [b"get", b"is", b"set", b"from("];

impl Naming<'_, '_> {
    /// Whether the values of a management interface become open data; `mark` is that of the program's [`Naming::open_mark`].
    pub(super) fn is_open(&self, interface: ClassId, mark: Option<NameId>) -> bool {
        let program = self.run.types.program;
        let name = program.class(interface).map(|class| program.names.name(class.path)).unwrap_or_default();
        name.ends_with(b"MXBean") || mark.is_some_and(|mark| self.annotation_names(interface).any(|name| name == mark))
    }

    /// The annotation that marks such interfaces, which nearly no program names: where none does, theirs need no look.
    pub(super) fn open_mark(&self) -> Option<NameId> {
        self.run.types.program.names.find(ANNOTATION)
    }

    /// Types in the methods of such an interface, and those in theirs, are looked through and called.
    pub(super) fn open_data(&mut self, interface: ClassId) {
        let program = self.run.types.program;
        let again: Again<'_, ()> = Again::new(program, self.limits);
        let mut due = vec![interface];
        while let Some(id) = due.pop() {
            if !self.opened.insert(id) {
                continue;
            }
            let named = again.read(id, |file, _: &Class, ()| {
                let mut types = Types { file, in_method: false, named: BTreeSet::new() };
                // A fault within the file has been told when the program was read; what stands before it holds.
                let _ = file.walk(&mut types);
                types.named
            });
            let named = named.unwrap_or_else(|finding| {
                self.findings.extend([*finding]);
                BTreeSet::new()
            });
            let scope = self.run.types.scope(id);
            let classes = named.iter().filter_map(|name| self.run.types.find(scope, program.names.find(name)?));
            let classes: Vec<ClassId> = classes.collect();
            for class in classes {
                if !self.opened.contains(&class) {
                    self.take_apart(class, Cause::Class(interface));
                    due.push(class);
                }
            }
        }
    }

    fn take_apart(&mut self, class: ClassId, cause: Cause) {
        let program = self.run.types.program;
        let is_record = self.run.is_below(class, b"java/lang/Record");
        let is_accessor = |selector: NameId| {
            let name = program.members.name(selector);
            ACCESSORS.iter().any(|start| name.starts_with(start))
                || is_record && name.windows(2).any(|two| two == b"()")
        };
        self.run.create(class, cause);
        self.run.introspect(class, Members::PUBLIC_METHODS, cause);
        for above in self.run.types.ancestors(class).0.iter() {
            self.run.named_methods(*above, is_accessor, cause);
        }
    }
}

/// The types in the methods of a class, internal form.
struct Types<'f, 'a> {
    file: &'f ClassFile<'a>,
    in_method: bool,
    named: BTreeSet<Box<[u8]>>,
}

impl<'a> Visitor<'a> for Types<'_, 'a> {
    fn wants_code(&self) -> bool {
        false
    }

    fn member(&mut self, member: Member) {
        self.in_method = member.kind == MemberKind::Method;
        if self.in_method {
            let text = self.file.pool.utf8(member.descriptor).unwrap_or_default();
            self.named.extend(descriptor::classes(text).map(Into::into));
        }
    }

    fn signature(&mut self, at: Position, text: u16) {
        if self.in_method && at == Position::Signature {
            let text = self.file.pool.utf8(text).unwrap_or_default();
            self.named.extend(signature::classes(text).map(|name| name.into_owned().into_boxed_slice()));
        }
    }
}

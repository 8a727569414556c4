//! What the constants of a class file make run, where instructions and bootstrap methods use them.
//!
//! What an index of the pool leads to is found out once a class and remembered by the recorder. The first function to
//! read is [`Summariser::member_step`].

use crate::classfile::{Position, Tag, descriptor};
use crate::flow::sinks;
use crate::needs;
use crate::program::Guard;
use crate::program::code::Kind as Do;
use crate::program::intern::NameId;
use crate::program::recorder::Target;
use crate::program::resources::is_path;
use crate::program::watch::{Kind, class_in_text, classes_in_code, classes_in_text};

use super::known::{Form, Slot};
use super::literals::{is_asked_only, is_named};
use super::{Chunk, Space, Summariser};

impl Summariser<'_> {
    /// What a class constant makes run, at the instruction that has it.
    pub(super) fn class_step(&mut self, index: u16, at: Position, pc: u32) {
        let step = match at {
            Position::New => Do::New,
            Position::LoadClass if self.pool.is_some_and(|pool| is_asked_only(pool, self.code, pc)) => Do::Asked,
            Position::LoadClass => Do::ClassLiteral,
            Position::NewArray | Position::CheckCast | Position::InstanceOf => Do::Load,
            _ => return,
        };
        if let Some(number) = self.once(index, |of| of.class_reference(index)) {
            self.take(step, index, number, Some(pc));
            // A class that keeps its own name does so for messages.
            let is_named = |pool| index != self.own && is_named(pool, self.code, pc);
            if step == Do::Asked && self.pool.is_some_and(is_named) {
                self.take(Do::ClassName, index, number, Some(pc));
            }
        }
    }

    /// What a pool index leads to, found out when it is met first.
    fn once(&mut self, index: u16, find: impl FnOnce(&mut Self) -> Option<u32>) -> Option<u32> {
        match self.chunk.recorder.target(index) {
            Target::Idle | Target::Listed => None,
            Target::Reference(number) => Some(number),
            Target::Unseen => {
                let found = find(self);
                self.chunk.recorder.set(index, found.map_or(Target::Idle, Target::Reference));
                found
            }
        }
    }

    /// The reference for a class outside java.base.
    pub(super) fn class_reference(&mut self, index: u16) -> Option<u32> {
        let known = self.known(index);
        (known.form.is_class() && known.kind != Kind::Base)
            .then(|| self.chunk.recorder.reference(known.id, NameId::NONE))
    }

    /// The same by its name.
    fn type_reference(&mut self, name: &[u8]) -> Option<u32> {
        let (id, _) = self.chunk.outside_base(name)?;
        Some(self.chunk.recorder.reference(id, NameId::NONE))
    }

    /// What a reference to a member makes run.
    pub(super) fn member_step(&mut self, step: Do, index: u16, pc: u32) {
        if let Some(number) = self.once(index, |of| of.member_reference(index, step)) {
            self.take(step, index, number, Some(pc));
        }
    }

    /// The reference for a member of a class outside java.base, or of one that a table asks for.
    pub(super) fn member_reference(&mut self, index: u16, step: Do) -> Option<u32> {
        let pool = self.pool?;
        let (owner, name_and_type) = pool.member_ref_indices(index)?;
        let known = self.known(owner);
        if !matches!(known.form, Form::Class | Form::Handle) {
            return None;
        }
        let is_field = step == Do::StaticField;
        let mut class = known.id;
        // The tables are asked only where they decide: of other classes every member is kept.
        if known.kind == Kind::Base || is_field && owner == self.own {
            let owner = pool.class_name(owner)?;
            let (name, text) = pool.name_and_type(name_and_type)?;
            let asked_for = if is_field {
                needs::wants_field(owner, name)
            } else {
                sinks::of(owner, name, text).is_some() || needs::wants_call(owner, name, text)
            };
            if !asked_for {
                return None;
            }
            if class == NameId::NONE {
                class = self.chunk.name(owner).0;
            }
        }
        // A malformed reference may lead to a constant of another kind, of which something else is known.
        pool.name_and_type_indices(name_and_type)?;
        let mut member = self.known(name_and_type).id;
        if member == NameId::NONE {
            let (name, text) = pool.name_and_type(name_and_type)?;
            member = self.chunk.member(name, text);
            self.know(name_and_type, |known| known.id = member);
        }
        Some(self.chunk.recorder.reference(class, member))
    }

    /// What resolving a loadable constant makes run (JVMS table 4.4-C).
    pub(super) fn constant_step(&mut self, index: u16, pc: Option<u32>) {
        let Some(pool) = self.pool else { return };
        let (step, number) = match pool.tag(index) {
            Some(Tag::Class) => (Do::ClassLiteral, self.class_reference(index)),
            Some(Tag::String) => (Do::Text, self.wanted_text(index)),
            Some(Tag::MethodHandle) => {
                let Some((kind, member)) = pool.method_handle(index) else { return };
                // JVMS table 5.4.3.5-A
                let step = match kind {
                    2 | 4 => Do::StaticField,
                    5 | 9 => Do::VirtualCall,
                    6 => Do::StaticCall,
                    7 | 8 => Do::SpecialCall,
                    _ => return,
                };
                if kind == 8
                    && let Some(number) =
                        pool.member_ref_indices(member).and_then(|(owner, _)| self.class_reference(owner))
                {
                    self.take(Do::New, index, number, pc);
                }
                (step, self.member_reference(member, step))
            }
            Some(Tag::Dynamic) => {
                let Some((bootstrap, _)) = pool.dynamic_indices(index) else { return };
                let guarded = self.guard(pc) == Guard::Absence;
                match pc {
                    Some(_) => self.chunk.recorder.link(index, bootstrap, guarded),
                    None => self.chunk.recorder.bootstrap_link(bootstrap),
                }
                return;
            }
            _ => return,
        };
        if let Some(number) = number {
            self.take(step, index, number, pc);
        }
    }

    /// A step of an instruction, or of a bootstrap method where there is no place.
    pub(super) fn take(&mut self, step: Do, index: u16, number: u32, pc: Option<u32>) {
        match pc {
            Some(_) => {
                let guarded = self.guard(pc) == Guard::Absence;
                self.chunk.recorder.step(step, index, number, guarded);
            }
            None => self.chunk.recorder.bootstrap_step(step, number),
        }
    }

    /// What a call site gives, an object of a functional interface for one.
    pub(super) fn object_step(&mut self, index: u16, name_and_type: u16, pc: u32) {
        let text = self.pool.and_then(|pool| pool.name_and_type(name_and_type)).map(|(_, text)| text);
        let result = text.and_then(descriptor::result).and_then(|text| descriptor::classes(text).next());
        if let Some(number) = result.and_then(|name| self.type_reference(name)) {
            self.take(Do::Object, index, number, Some(pc));
        }
    }

    /// Finds out whether a call is one of a signature-polymorphic method (JVMS §2.9.3).
    pub(super) fn look_for_handle(&mut self, reference: u16) {
        let owner = self.pool.and_then(|pool| pool.member_ref_indices(reference)).map(|(owner, _)| owner);
        if owner.is_some_and(|owner| self.known(owner).form == Form::Handle) {
            self.know(reference, |known| known.slot = Slot::Polymorphic);
        }
    }

    /// Such a call: its descriptor is made into a method type, which loads what it names.
    pub(super) fn polymorphic(&mut self, reference: u16, pc: u32) {
        let name_and_type =
            self.pool.and_then(|pool| pool.name_and_type_indices(pool.member_ref_indices(reference)?.1));
        if let Some((_, text)) = name_and_type {
            self.types_of(text);
            self.descriptor_text(text, Position::CallSiteDescriptor, Some(pc));
        }
    }

    pub(super) fn annotation_steps(&mut self, at: Position, text: u16) {
        let step = match at {
            Position::AnnotationType => Do::Annotation,
            Position::AnnotationValue => Do::ClassLiteral,
            _ => return,
        };
        let Some(text) = self.pool.and_then(|pool| pool.utf8(text)) else { return };
        for name in descriptor::classes(text) {
            if let Some(number) = self.type_reference(name) {
                self.chunk.recorder.annotation(step, number);
            }
        }
    }

    /// A text as the value of an annotation, if it may name classes: whoever reads the annotation may load them.
    pub(super) fn annotation_text(&mut self, text: u16) {
        let Some(text) = self.pool.and_then(|pool| pool.utf8(text)) else { return };
        for name in class_in_text(text).into_iter().chain(classes_in_code(text)) {
            let (id, _) = self.chunk.name(&name);
            let number = self.chunk.recorder.reference(id, NameId::NONE);
            self.chunk.recorder.annotation(Do::ClassName, number);
        }
    }

    /// The reference for a string constant that the table of needs asks for, or that is the path of a file.
    fn wanted_text(&mut self, index: u16) -> Option<u32> {
        let known = self.known(index);
        match known.form {
            Form::Idle => return None,
            Form::Text => return Some(known.id.0),
            _ => {}
        }
        let wanted =
            self.pool.and_then(|pool| pool.string(index)).filter(|text| needs::wants_text(text) || is_path(text));
        let number = wanted.map(|text| {
            let text = self.chunk.texts.intern(text);
            self.chunk.recorder.reference(NameId::NONE, text)
        });
        self.know(index, |known| match number {
            Some(number) => (known.form, known.id) = (Form::Text, NameId(number)),
            None => known.form = Form::Idle,
        });
        number
    }

    /// Finds out what a string constant may ask for.
    pub(super) fn text(&mut self, index: u16) {
        let Some(text) = self.pool.and_then(|pool| pool.string(index)) else { return };
        let mut target = Target::Idle;
        if let Some(name) = class_in_text(text) {
            target = Target::Reference(self.named_in_text(index, &name));
        } else {
            for name in classes_in_text(text).chain(classes_in_code(text)) {
                let number = self.named_in_text(index, &name);
                self.chunk.space.listed.push((index, number));
                target = Target::Listed;
            }
        }
        self.chunk.recorder.set(index, target);
    }

    /// The reference for a class that a string constant names.
    fn named_in_text(&mut self, index: u16, name: &[u8]) -> u32 {
        let (id, kind) = self.chunk.name(name);
        if kind == Kind::Watched {
            self.chunk.space.texts.push((index, id, false));
            self.set(index, true);
        }
        self.chunk.recorder.reference(id, NameId::NONE)
    }

    /// Loading a string constant that holds several names.
    pub(super) fn listed_step(&mut self, index: u16, pc: u32) {
        let guarded = self.guard(Some(pc)) == Guard::Absence;
        let Chunk { recorder, space: Space { listed, .. }, .. } = &mut self.chunk;
        let first = listed.partition_point(|&(other, _)| other < index);
        let numbers = listed.get(first..).unwrap_or_default().iter().take_while(|&&(other, _)| other == index);
        recorder.steps(Do::ClassName, index, numbers.map(|&(_, number)| number), guarded);
    }
}

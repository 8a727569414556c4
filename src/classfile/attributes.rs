//! Attributes that name something (JVMS §4.7), each in the places where the specification lets it stand.
//!
//! An attribute in another place is ignored, as §4.7 demands of the JVM. The first function to read is
//! `Walk::class_attribute`.

use super::Position;
use super::code;
use super::cursor::Cursor;
use super::error::{Error, ErrorKind};
use super::frames;
use super::visitor::{Bootstrap, Code, Handlers, InnerClass, Visitor};
use super::walk::{Walk, indices};

impl<'a, V: Visitor<'a>> Walk<'a, '_, V> {
    pub(super) fn class_attribute(&mut self, name: &'a [u8], content: &mut Cursor<'a>) -> Result<(), Error> {
        match name {
            b"InnerClasses" => {
                for _ in 0..content.u2()? {
                    let entry = InnerClass {
                        inner: content.u2()?,
                        outer: content.u2()?,
                        name: content.u2()?,
                        access: content.u2()?,
                    };
                    self.visitor.inner_class(entry);
                    self.class_name(Position::InnerClass, entry.inner);
                    if entry.outer != 0 {
                        self.class_name(Position::InnerClass, entry.outer);
                    }
                }
            }
            b"EnclosingMethod" => {
                let class = content.u2()?;
                self.class_name(Position::EnclosingMethod, class);
                let method = content.u2()?;
                if method != 0 {
                    let (_, descriptor) = self
                        .pool
                        .name_and_type_indices(method)
                        .ok_or_else(|| content.error(ErrorKind::PoolIndex(method)))?;
                    self.descriptor(Position::EnclosingMethod, descriptor);
                }
            }
            b"NestHost" => {
                let host = content.u2()?;
                self.class_name(Position::NestHost, host);
            }
            b"NestMembers" => self.class_names(Position::NestMember, indices(content)?),
            b"PermittedSubclasses" => self.class_names(Position::PermittedSubclass, indices(content)?),
            b"BootstrapMethods" => {
                for index in 0..content.u2()? {
                    let method = content.u2()?;
                    let arguments = indices(content)?;
                    self.visitor.bootstrap(&Bootstrap { index, method, arguments });
                }
            }
            b"Record" => {
                for _ in 0..content.u2()? {
                    let name = content.u2()?;
                    let descriptor = content.u2()?;
                    self.visitor.record_component(name, descriptor);
                    self.descriptor(Position::RecordComponent, descriptor);
                    self.attributes(content, Self::shared_attribute)?;
                }
            }
            b"Module" => self.module(content)?,
            b"ModuleMainClass" => {
                let class = content.u2()?;
                self.class_name(Position::ModuleDescriptor, class);
            }
            _ => return self.shared_attribute(name, content),
        }
        finish(content)
    }

    pub(super) fn field_attribute(&mut self, name: &'a [u8], content: &mut Cursor<'a>) -> Result<(), Error> {
        if name != b"ConstantValue" {
            return self.shared_attribute(name, content);
        }
        let constant = content.u2()?;
        self.visitor.constant_value(constant);
        finish(content)
    }

    pub(super) fn method_attribute(&mut self, name: &'a [u8], content: &mut Cursor<'a>) -> Result<(), Error> {
        match name {
            b"Code" if !self.visitor.wants_code() => return Ok(()),
            b"Code" => self.code(content)?,
            b"Exceptions" => self.class_names(Position::Throws, indices(content)?),
            b"AnnotationDefault" if V::wants(Position::AnnotationValue) => self.element_value(content, 0)?,
            b"RuntimeVisibleParameterAnnotations" | b"RuntimeInvisibleParameterAnnotations"
                if V::wants(Position::AnnotationType) =>
            {
                for _ in 0..content.u1()? {
                    self.annotations(content)?;
                }
            }
            _ => return self.shared_attribute(name, content),
        }
        finish(content)
    }

    /// Attributes that stand with classes, members and record components alike.
    pub(super) fn shared_attribute(&mut self, name: &'a [u8], content: &mut Cursor<'a>) -> Result<(), Error> {
        match name {
            b"Signature" => {
                let text = content.u2()?;
                self.visitor.signature(Position::Signature, text);
            }
            b"RuntimeVisibleAnnotations" | b"RuntimeInvisibleAnnotations" if V::wants(Position::AnnotationType) => {
                self.annotations(content)?;
            }
            b"RuntimeVisibleTypeAnnotations" | b"RuntimeInvisibleTypeAnnotations"
                if V::wants(Position::AnnotationType) =>
            {
                self.type_annotations(content)?;
            }
            _ => return Ok(()),
        }
        finish(content)
    }

    /// JVMS §4.7.3.
    fn code(&mut self, content: &mut Cursor<'a>) -> Result<(), Error> {
        let max_stack = content.u2()?;
        let max_locals = content.u2()?;
        let length = content.u4()? as usize;
        let origin = content.offset();
        let bytes = content.take(length)?;
        let handlers = usize::from(content.u2()?);
        let handlers = Handlers(content.take(handlers * 8)?);
        // The visitor gets the stack map with the code, so the attributes behind it are gone through twice, where one of
        // them may be wanted: nearly all code has none but line numbers and a stack map.
        let attributes = *content;
        let mut stack_map = None;
        let mut again = false;
        self.attributes(content, |_, name, content| {
            match name {
                b"LineNumberTable" => {}
                b"StackMapTable" => {
                    stack_map = Some(content.rest());
                    again |= V::wants(Position::StackMapFrame);
                }
                b"LocalVariableTable" | b"LocalVariableTypeTable" => again |= V::wants(Position::LocalVariable),
                _ => again = true,
            }
            Ok(())
        })?;
        finish(content)?;
        let code = Code { max_stack, max_locals, bytes, handlers, stack_map };
        if !self.visitor.code(&code) {
            return Ok(());
        }
        for handler in code.handlers.iter().filter(|handler| handler.catch_type != 0) {
            self.visitor.class_name(Position::Catch, Some(u32::from(handler.handler)), handler.catch_type);
        }
        code::instructions(self.pool, bytes, origin, self.visitor)?;
        if !again {
            return Ok(());
        }
        let mut attributes = attributes;
        self.attributes(&mut attributes, Self::code_attribute)
    }

    fn code_attribute(&mut self, name: &'a [u8], content: &mut Cursor<'a>) -> Result<(), Error> {
        match name {
            b"StackMapTable" if V::wants(Position::StackMapFrame) => {
                frames::classes(content, |class| self.class_name(Position::StackMapFrame, class))?;
            }
            b"LocalVariableTable" if V::wants(Position::LocalVariable) => {
                for _ in 0..content.u2()? {
                    let [_, _, _, _, _, _, a, b, _, _] = content.array()?;
                    self.descriptor(Position::LocalVariable, u16::from_be_bytes([a, b]));
                }
            }
            b"LocalVariableTypeTable" if V::wants(Position::LocalVariable) => {
                for _ in 0..content.u2()? {
                    let [_, _, _, _, _, _, a, b, _, _] = content.array()?;
                    self.visitor.signature(Position::LocalVariable, u16::from_be_bytes([a, b]));
                }
            }
            b"RuntimeVisibleTypeAnnotations" | b"RuntimeInvisibleTypeAnnotations"
                if V::wants(Position::AnnotationType) =>
            {
                self.type_annotations(content)?;
            }
            _ => return Ok(()),
        }
        finish(content)
    }

    /// JVMS §4.7.25: only `uses` and `provides` name classes. The rest is for [`super::module_descriptor`].
    fn module(&mut self, content: &mut Cursor<'a>) -> Result<(), Error> {
        content.take(6)?;
        let requires = usize::from(content.u2()?);
        content.take(requires * 6)?;
        for _exports_then_opens in 0..2 {
            for _ in 0..content.u2()? {
                content.take(4)?;
                indices(content)?;
            }
        }
        self.class_names(Position::ModuleDescriptor, indices(content)?);
        for _ in 0..content.u2()? {
            let service = content.u2()?;
            self.class_name(Position::ModuleDescriptor, service);
            self.class_names(Position::ModuleDescriptor, indices(content)?);
        }
        Ok(())
    }
}

/// An attribute must end where its length says.
pub(super) fn finish(content: &Cursor<'_>) -> Result<(), Error> {
    if content.is_at_end() { Ok(()) } else { Err(content.error(ErrorKind::AttributeRest)) }
}

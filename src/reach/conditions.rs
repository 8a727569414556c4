//! Registered classes that stay out of use since what they are for is absent.
//!
//! A class may say by an annotation that it counts only where other classes are there (Spring Boot, "Class Conditions"
//! and "Bean Conditions"). Such an annotation on a member says nothing of the class. The first function to read is
//! [`inactive`].

use crate::classfile::{ClassFile, Member, Position, Visitor, descriptor};
use crate::diag::Findings;
use crate::limits::Limits;
use crate::program::{Class, ClassId};

use super::again::Again;
use super::types::Types;

/// Simple names of annotations whose classes must all be there.
const CONDITIONS: [&[u8]; 3] = [b"ConditionalOnClass", b"ConditionalOnBean", b"ConditionalOnSingleCandidate"];

/// Those of some classes (ascending) whose condition names a class that neither the program nor the platform has.
pub(super) fn inactive(
    types: &Types<'_>,
    limits: &Limits,
    classes: &[ClassId],
    findings: &mut Findings,
) -> Vec<ClassId> {
    let wanted = |file: &ClassFile<'_>, _: &Class, _: &ClassId, (): &mut ()| {
        let mut conditions = Conditions { file, in_member: false, depth: 0, counts: false, named: Vec::new() };
        // A fault within the file has been told when the program was read; what stands before it holds.
        let _ = file.walk(&mut conditions);
        conditions.named
    };
    let again = Again::new(types.program, limits);
    let mut out = Vec::new();
    for (&class, read) in classes.iter().zip(again.each(classes, |id| *id, wanted)) {
        match read {
            Ok(named) => {
                let scope = types.scope(class);
                let is_there = |name: &[u8]| {
                    let own = types.program.names.find(name).and_then(|id| types.find(scope, id));
                    own.is_some() || types.on_platform(name)
                };
                if !named.iter().all(|name| is_there(name)) {
                    out.push(class);
                }
            }
            Err(finding) => findings.extend([*finding]),
        }
    }
    out
}

struct Conditions<'f, 'a> {
    file: &'f ClassFile<'a>,
    in_member: bool,
    depth: usize,
    /// Whether the annotation at hand is a condition.
    counts: bool,
    /// Classes named, internal form.
    named: Vec<Box<[u8]>>,
}

impl<'a> Visitor<'a> for Conditions<'_, 'a> {
    fn wants_code(&self) -> bool {
        false
    }

    fn member(&mut self, _: Member) {
        self.in_member = true;
    }

    fn member_end(&mut self) {
        self.in_member = false;
    }

    fn annotation(&mut self, kind: u16) {
        if self.depth == 0 && !self.in_member {
            let kind = self.file.pool.utf8(kind).and_then(|kind| kind.strip_suffix(b";")).unwrap_or_default();
            let simple = kind.rsplit(|&byte| byte == b'/').next().unwrap_or_default();
            self.counts = CONDITIONS.contains(&simple);
        }
        self.depth += 1;
    }

    fn annotation_end(&mut self) {
        self.depth = self.depth.saturating_sub(1);
        self.counts &= self.depth > 0;
    }

    fn descriptor(&mut self, at: Position, _: Option<u32>, text: u16) {
        if self.counts && at == Position::AnnotationValue {
            let text = self.file.pool.utf8(text).unwrap_or_default();
            self.named.extend(descriptor::classes(text).map(Into::into));
        }
    }

    /// `name` of a class condition takes texts.
    fn element_string(&mut self, text: u16) {
        let text = self.file.pool.utf8(text).unwrap_or_default();
        let simple = text.rsplit(|&byte| byte == b'.').next().unwrap_or_default();
        if self.counts && simple.len() < text.len() && simple.first().is_some_and(u8::is_ascii_uppercase) {
            self.named.push(text.iter().map(|&byte| if byte == b'.' { b'/' } else { byte }).collect());
        }
    }
}

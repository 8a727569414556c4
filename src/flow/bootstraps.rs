//! The bootstrap methods of a class (JVMS §4.7.23), as far as they join texts.

use crate::classfile::{Bootstrap, ClassFile, Indices, Pool, Position, Tag, Visitor};

/// How a call site joins its arguments (JEP 280).
#[derive(Clone, Copy, Debug)]
pub(super) enum Joint<'a> {
    /// One behind the other: `makeConcat`.
    Plain,
    /// By a recipe: `makeConcatWithConstants`.
    Recipe {
        /// Text in which the byte 1 stands for an argument, the byte 2 for a constant.
        recipe: &'a [u8],
        /// Recipe and constants.
        constants: Indices<'a>,
    },
}

/// By number.
#[derive(Debug, Default)]
pub(super) struct Bootstraps<'a>(Vec<Option<Joint<'a>>>);

impl<'a> Bootstraps<'a> {
    /// Reads them; a class without dynamic call sites has none that matter. What cannot be read joins nothing.
    pub(super) fn of(class: &ClassFile<'a>) -> Self {
        let mut found = Find { pool: class.pool, found: Bootstraps::default() };
        let is_dynamic = |&index: &u16| class.pool.tag(index) == Some(Tag::InvokeDynamic);
        if class.pool.naming().iter().any(is_dynamic) {
            let _ = class.walk(&mut found);
        }
        found.found
    }

    pub(super) fn joint(&self, number: u16) -> Option<Joint<'a>> {
        *self.0.get(usize::from(number))?
    }
}

struct Find<'a> {
    pool: Pool<'a>,
    found: Bootstraps<'a>,
}

impl<'a> Visitor<'a> for Find<'a> {
    fn wants(_: Position) -> bool {
        false
    }

    fn wants_code(&self) -> bool {
        false
    }

    fn bootstrap(&mut self, bootstrap: &Bootstrap<'a>) {
        let joint = || {
            let (_, method) = self.pool.method_handle(bootstrap.method)?;
            let method = self.pool.member_ref(method)?;
            if self.pool.class_name(method.owner)? != b"java/lang/invoke/StringConcatFactory" {
                return None;
            }
            match method.name {
                b"makeConcat" => Some(Joint::Plain),
                b"makeConcatWithConstants" => {
                    let recipe = self.pool.string(bootstrap.arguments.iter().next()?)?;
                    Some(Joint::Recipe { recipe, constants: bootstrap.arguments })
                }
                _ => None,
            }
        };
        let joint = joint();
        self.found.0.push(joint);
    }
}

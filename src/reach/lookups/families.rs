//! Which class of the program extends which, as far as following values needs it.
//!
//! The first function to read is [`Families::extends`].

use crate::flow::sinks::{self, Sink};
use crate::program::{ClassId, NameId, Program, Reference, View, name_and_descriptor};
use crate::reach::sorted::Sorted;

/// Supertypes looked at for one question.
const MOST_SUPERTYPES: usize = 512;

/// The hierarchy of the program's classes. Classes of one name in several scopes are taken for the first of them.
pub(super) struct Families<'p> {
    pub(super) program: &'p Program,
    view: &'p View,
    by_name: Vec<Option<ClassId>>,
    /// By name, whether a class of the program has it as a direct supertype.
    is_extended: Vec<bool>,
    sorted: &'p Sorted<'p>,
}

impl<'p> Families<'p> {
    pub(super) fn new(program: &'p Program, view: &'p View, sorted: &'p Sorted<'p>) -> Self {
        let mut by_name = vec![None; program.names.len()];
        let mut is_extended = vec![false; program.names.len()];
        for &id in &view.classes {
            let Some(class) = program.class(id) else { continue };
            if let Some(slot @ None) = by_name.get_mut(class.path.0 as usize) {
                *slot = Some(id);
            }
            for above in class.superclass.iter().chain(&class.interfaces) {
                if let Some(is_extended) = is_extended.get_mut(above.0 as usize) {
                    *is_extended = true;
                }
            }
        }
        Families { program, view, by_name, is_extended, sorted }
    }

    /// The class of that name.
    pub(super) fn find(&self, name: NameId) -> Option<ClassId> {
        let found = self.by_name.get(name.0 as usize).copied().flatten();
        found.inspect(|&class| self.view.answered_by(class))
    }

    /// The classes of a package, by name.
    pub(super) fn package(&self, package: &[u8]) -> impl Iterator<Item = (&'p [u8], ClassId)> {
        let prefix = if package.is_empty() { Vec::new() } else { [package, b"/"].concat() };
        let within = self.sorted.beginning(&prefix).iter();
        // Of several classes of one name the first one counts, and stands first.
        let mut last = None;
        let first = within.filter(move |&&(name, _)| last.replace(name) != Some(name));
        let classes = first.filter(move |(name, _)| !name.iter().skip(prefix.len()).any(|&byte| byte == b'/'));
        classes.map(|&(name, class)| {
            self.view.answered_by(class);
            (name, class)
        })
    }

    /// Its superclass and direct superinterfaces.
    pub(super) fn supertypes(&self, name: NameId) -> impl Iterator<Item = NameId> + use<'p> {
        let class = self.find(name).and_then(|id| self.program.class(id));
        class.into_iter().flat_map(|class| class.superclass.into_iter().chain(class.interfaces.iter().copied()))
    }

    /// The class itself and its superclasses, up to the first one that is not the program's.
    pub(super) fn superclasses(&self, name: NameId) -> impl Iterator<Item = NameId> {
        let next = |&name: &NameId| self.program.class(self.find(name)?)?.superclass;
        std::iter::successors(Some(name), next).take(MOST_SUPERTYPES)
    }

    /// Whether one class is the other, or a subtype of it.
    pub(super) fn extends(&self, sub: NameId, of: NameId) -> bool {
        if sub == of || self.is_extended.get(of.0 as usize) != Some(&true) {
            return sub == of;
        }
        // What is no interface is a superclass (JVMS §4.1), and those are few and in a line.
        if self.find(of).and_then(|id| self.program.class(id)).is_some_and(|class| !class.is_interface()) {
            return self.superclasses(sub).any(|name| name == of);
        }
        let mut seen = vec![sub];
        let mut at = 0;
        while let Some(&name) = seen.get(at) {
            if name == of {
                return true;
            }
            at += 1;
            for name in self.supertypes(name) {
                if seen.len() < MOST_SUPERTYPES && !seen.contains(&name) {
                    seen.push(name);
                }
            }
        }
        false
    }

    /// Whether one of the two extends the other.
    pub(super) fn related(&self, a: NameId, b: NameId) -> bool {
        self.extends(a, b) || self.extends(b, a)
    }

    /// Whether a superclass is outside the program, other than `java/lang/Object`: it may call what its subclasses
    /// override.
    pub(super) fn has_foreign_supertype(&self, name: NameId) -> bool {
        let mut seen = vec![name];
        let mut at = 0;
        while let Some(&name) = seen.get(at) {
            at += 1;
            if self.find(name).is_none() && self.program.names.name(name) != b"java/lang/Object" {
                return true;
            }
            for name in self.supertypes(name) {
                if seen.len() >= MOST_SUPERTYPES {
                    return true;
                }
                if !seen.contains(&name) {
                    seen.push(name);
                }
            }
        }
        false
    }

    /// The row of the table for a call.
    pub(super) fn sink(&self, called: Reference) -> Option<&'static Sink> {
        let (name, descriptor) = name_and_descriptor(self.program.members.name(called.member))?;
        let sink = sinks::of(self.program.names.name(called.owner), name, descriptor)?;
        self.inherits(called.owner, sink).then_some(sink)
    }

    /// Whether the class has the method of that row. Of the platform's own subclasses the last part of the name tells.
    pub(super) fn inherits(&self, owner: NameId, sink: &Sink) -> bool {
        let Some(last) = self.superclasses(owner).last() else { return false };
        let last = self.program.names.name(last);
        let simple = sink.owner.rsplit('/').next().unwrap_or_default();
        let of_platform = |name: &[u8]| [&b"java/"[..], b"javax/", b"jdk/"].iter().any(|start| name.starts_with(start));
        last == sink.owner.as_bytes() || sink.inherited && of_platform(last) && last.ends_with(simple.as_bytes())
    }
}

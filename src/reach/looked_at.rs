//! Which members of which classes somebody looks at, and the first who does.
//!
//! The type to read is [`LookedAt`].

use crate::classfile::Position;
use crate::flow::Members;
use crate::program::{ClassId, Method, MethodId, NameId, Program};

use super::Reached;

/// Which members somebody has to list so that the types in a descriptor are loaded, which stands in such a place of that
/// member and method.
pub fn listed_with(program: &Program, position: Position, member: Option<NameId>, method: Option<MethodId>) -> Members {
    let (all, public) = match position {
        // Access flags of fields are not kept.
        Position::FieldDescriptor => return Members::FIELDS,
        Position::MethodDescriptor | Position::Throws => {
            let name = member.map(|member| program.members.name(member)).unwrap_or_default();
            if name.starts_with(b"<init>") {
                (Members::CONSTRUCTORS, Members::PUBLIC_CONSTRUCTORS)
            } else {
                (Members::METHODS, Members::PUBLIC_METHODS)
            }
        }
        _ => return Members::ALL,
    };
    let is_public = method.and_then(|method| program.method(method)).is_none_or(Method::is_public);
    if is_public { all } else { all.without(public) }
}

/// Of one class: what is looked at, and who was the first to look at its fields, methods and constructors.
#[derive(Clone, Copy, Default)]
struct Look {
    members: Members,
    first: [Option<Reached>; 3],
}

/// Fields, methods, constructors.
const KINDS: [Members; 3] = [Members::FIELDS, Members::METHODS, Members::CONSTRUCTORS];

/// By class.
pub(super) struct LookedAt(Vec<Look>);

impl LookedAt {
    /// Nothing yet, of so many classes.
    pub fn of(classes: usize) -> Self {
        LookedAt(vec![Look::default(); classes])
    }

    /// Some members of a class are looked at.
    pub fn add(&mut self, id: ClassId, members: Members, reached: Reached) {
        let Some(look) = self.0.get_mut(id.0 as usize) else { return };
        look.members = look.members.and(members);
        for (first, _) in look.first.iter_mut().zip(KINDS).filter(|(_, kind)| kind.meets(members)) {
            first.get_or_insert(reached);
        }
    }

    /// Whether all of these are looked at.
    pub fn holds(&self, id: ClassId, members: Members) -> bool {
        let looked_at = self.0.get(id.0 as usize).map_or(members, |look| look.members);
        members.without(looked_at) == Members::NONE
    }

    /// Who was the first to look at any of these.
    pub fn first(&self, id: ClassId, members: Members) -> Option<Reached> {
        let look = self.0.get(id.0 as usize).filter(|look| look.members.meets(members))?;
        let met = look.first.iter().zip(KINDS).filter(|(_, kind)| kind.meets(members));
        met.filter_map(|(first, _)| *first).min_by_key(|first| first.level)
    }
}

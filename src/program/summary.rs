//! One class file to what the program keeps of it, as a visitor of the walk.
//!
//! The work is done per pool index, not per use: whether an index can lead to a type worth keeping is found out once
//! per class, and nearly all indices cannot. That keeps the visitor's cost small beside the walk itself.

use crate::classfile::{
    Bootstrap, ClassFile, Member, Pool, Position, Tag, Visitor, constant_names, descriptor, signature,
};

use super::intern::{Interner, NameId};
use super::watch::{Kind, can_ask, class_in_text, classify, plainly_base};
use super::{Guard, Mention, MentionKind};

/// What a chunk of classes adds up to. Names and members are numbered within the chunk.
#[derive(Default)]
pub(super) struct Chunk {
    pub names: Interner,
    pub members: Interner,
    pub classes: Vec<Summary>,
    pub mentions: Vec<Mention>,
    /// Types outside the platform, with the class of the chunk that names them first.
    pub named: Vec<(NameId, u32)>,
    kinds: Vec<Kind>,
    seen_named: Vec<bool>,
    /// Space that is used anew for each class.
    space: Space,
}

/// What is known of the pool and found in the class at hand.
#[derive(Default)]
struct Space {
    slots: Vec<Slot>,
    found: Vec<Mention>,
    /// String constants that may name a type: index, name, whether an instruction that loads it was told.
    texts: Vec<(u16, NameId, bool)>,
    /// Whether an instruction can lead to anything worth keeping.
    code_matters: bool,
}

/// The head of one class.
pub(super) struct Summary {
    pub name: NameId,
    pub superclass: Option<NameId>,
    pub interfaces: Box<[NameId]>,
    pub access: u16,
    pub major: u16,
    pub minor: u16,
    pub first_mention: u32,
    pub mention_count: u32,
}

impl Chunk {
    /// An empty chunk with room for so many names.
    pub fn with_room(names: usize) -> Self {
        Chunk { names: Interner::with_room(names), ..Chunk::default() }
    }

    fn name(&mut self, name: &[u8]) -> (NameId, Kind) {
        let id = self.names.intern(name);
        if let Some(&kind) = self.kinds.get(id.0 as usize) {
            return (id, kind);
        }
        let kind = classify(name);
        self.kinds.push(kind);
        self.seen_named.push(false);
        (id, kind)
    }
}

/// What is known of a pool index of the class at hand.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Slot {
    /// Not looked at yet.
    Unseen,
    /// Leads to nothing worth keeping.
    Idle,
    /// Leads to a watched type.
    Watched,
}

/// The visitor. One per worker; [`Summariser::class_done`] closes a class.
pub(super) struct Summariser<'a> {
    pub chunk: Chunk,
    pool: Option<Pool<'a>>,
    member: Option<Member>,
    member_id: Option<NameId>,
    head: Option<Summary>,
}

impl Summariser<'_> {
    /// A visitor that adds to `chunk`; it is handed from class to class, since a visitor borrows from its class.
    pub fn new(chunk: Chunk) -> Self {
        Summariser { chunk, pool: None, member: None, member_id: None, head: None }
    }

    /// Closes the class; false where not even its head could be read.
    pub fn class_done(&mut self) -> bool {
        let Chunk { mentions, classes, space: Space { found, texts, .. }, .. } = &mut self.chunk;
        let untold = texts.drain(..).filter(|&(_, _, told)| !told);
        found.extend(untold.map(|(_, target, _)| Mention { target, position: MentionKind::Text, member: None, method: None, guard: Guard::Open }));
        self.pool = None;
        let Some(mut head) = self.head.take() else {
            found.clear();
            return false;
        };
        // Stable, so that of equal mentions the one in the first member stays.
        found.sort_by_key(|mention| (mention.target, mention.position));
        found.dedup_by_key(|mention| (mention.target, mention.position));
        head.first_mention = mentions.len() as u32;
        head.mention_count = found.len() as u32;
        mentions.append(found);
        classes.push(head);
        true
    }

    fn slot(&self, index: u16) -> Slot {
        self.chunk.space.slots.get(usize::from(index)).copied().unwrap_or(Slot::Idle)
    }

    fn set(&mut self, index: u16, watched: bool) {
        if let Some(slot) = self.chunk.space.slots.get_mut(usize::from(index)) {
            *slot = if watched { Slot::Watched } else { Slot::Idle };
        }
    }

    fn keep(&mut self, target: NameId, position: MentionKind) {
        let member = match (self.member_id, self.member, self.pool) {
            (Some(id), ..) => Some(id),
            (None, Some(member), Some(pool)) => {
                let mut joined = pool.utf8(member.name).unwrap_or_default().to_vec();
                let descriptor = pool.utf8(member.descriptor).unwrap_or_default();
                // A method's starts with a bracket; a field's would not be told from its name.
                if !descriptor.starts_with(b"(") {
                    joined.push(b':');
                }
                joined.extend_from_slice(descriptor);
                self.member_id = Some(self.chunk.members.intern(&joined));
                self.member_id
            }
            _ => None,
        };
        self.chunk.space.found.push(Mention { target, position, member, method: None, guard: Guard::Open });
    }

    fn keep_watched<'n>(&mut self, names: impl Iterator<Item = &'n [u8]>, at: Position) -> bool {
        let mut any = false;
        for name in names {
            let (id, kind) = self.chunk.name(name);
            if kind == Kind::Watched {
                self.keep(id, MentionKind::At(at));
                any = true;
            }
        }
        any
    }

    fn class_constant(&mut self, index: u16, at: Position) {
        if self.slot(index) == Slot::Idle {
            return;
        }
        let Some(name) = self.pool.and_then(|pool| pool.class_name(index)).and_then(descriptor::element_class) else {
            return;
        };
        let id = self.chunk.names.intern(name);
        self.keep(id, MentionKind::At(at));
    }

    fn descriptor_text(&mut self, index: u16, at: Position) {
        if self.slot(index) == Slot::Idle {
            return;
        }
        let Some(text) = self.pool.and_then(|pool| pool.utf8(index)) else { return };
        let any = can_ask(text) && self.keep_watched(descriptor::classes(text), at);
        self.set(index, any);
    }
}

impl<'a> Visitor<'a> for Summariser<'a> {
    fn wants(at: Position) -> bool {
        !matches!(at, Position::LocalVariable | Position::StackMapFrame)
    }

    fn class(&mut self, class: &ClassFile<'a>) {
        let pool = class.pool;
        self.chunk.space.texts.clear();
        self.chunk.space.found.clear();
        self.chunk.space.slots.clear();
        self.chunk.space.slots.resize(usize::from(pool.len()), Slot::Unseen);
        self.pool = Some(pool);
        self.member = None;
        self.member_id = None;
        let ordinal = self.chunk.classes.len() as u32;
        let mut code_matters = false;
        for &index in pool.naming() {
            match pool.tag(index) {
                Some(Tag::Class) => {
                    let Some(name) = pool.class_name(index).and_then(descriptor::element_class) else {
                        self.set(index, false);
                        continue;
                    };
                    if plainly_base(name) {
                        self.set(index, false);
                        continue;
                    }
                    let (id, kind) = self.chunk.name(name);
                    self.set(index, kind == Kind::Watched);
                    code_matters |= kind == Kind::Watched;
                    if kind == Kind::Other
                        && let Some(seen @ false) = self.chunk.seen_named.get_mut(id.0 as usize)
                    {
                        *seen = true;
                        self.chunk.named.push((id, ordinal));
                    }
                }
                Some(Tag::String) => {
                    if let Some(name) = pool.string(index).and_then(class_in_text) {
                        let (id, kind) = self.chunk.name(&name);
                        if kind == Kind::Watched {
                            self.chunk.space.texts.push((index, id, false));
                            code_matters = true;
                        }
                    }
                }
                Some(Tag::InvokeDynamic | Tag::Dynamic) => {
                    code_matters |= pool.dynamic(index).is_some_and(|dynamic| can_ask(dynamic.descriptor));
                }
                Some(Tag::MethodType) => code_matters |= pool.method_type(index).is_some_and(can_ask),
                Some(Tag::MethodHandle) => {
                    let member = pool.method_handle(index).and_then(|(_, member)| pool.member_ref(member));
                    code_matters |= member.is_some_and(|member| can_ask(member.descriptor));
                }
                _ => {}
            }
        }
        self.chunk.space.code_matters = code_matters;
        let name = |chunk: &mut Chunk, index: u16| Some(chunk.name(pool.class_name(index)?).0);
        self.head = name(&mut self.chunk, class.this_class).map(|own| Summary {
            name: own,
            superclass: name(&mut self.chunk, class.super_class),
            interfaces: class.interfaces.iter().filter_map(|index| name(&mut self.chunk, index)).collect(),
            access: class.access,
            major: class.major,
            minor: class.minor,
            first_mention: 0,
            mention_count: 0,
        });
    }

    fn member(&mut self, member: Member) {
        self.member = Some(member);
        self.member_id = None;
    }

    /// Most classes name nothing of the platform outside java.base, and then no instruction of theirs can.
    fn wants_code(&self) -> bool {
        self.chunk.space.code_matters
    }

    fn member_end(&mut self) {
        self.member = None;
        self.member_id = None;
    }

    #[inline]
    fn class_name(&mut self, at: Position, _pc: Option<u32>, class: u16) {
        self.class_constant(class, at);
    }

    #[inline]
    fn descriptor(&mut self, at: Position, _pc: Option<u32>, text: u16) {
        self.descriptor_text(text, at);
    }

    fn signature(&mut self, at: Position, text: u16) {
        let Some(text) = self.pool.and_then(|pool| pool.utf8(text)).filter(|text| can_ask(text)) else { return };
        for name in signature::classes(text) {
            let (id, kind) = self.chunk.name(&name);
            if kind == Kind::Watched {
                self.keep(id, MentionKind::At(at));
            }
        }
    }

    #[inline]
    fn member_ref(&mut self, at: Position, _opcode: u8, _pc: u32, reference: u16) {
        if self.slot(reference) == Slot::Idle {
            return;
        }
        // The descriptor is left alone: using a member loads none of the types in it (JVMS §5.4.3.2, §5.4.3.3); what
        // the verifier makes of it is the verifier's to say.
        if let Some((owner, _)) = self.pool.and_then(|pool| pool.member_ref_indices(reference)) {
            self.class_constant(owner, at);
            let watched = self.slot(owner) == Slot::Watched;
            self.set(reference, watched);
        }
    }

    fn invoke_dynamic(&mut self, _pc: u32, call_site: u16) {
        if self.slot(call_site) == Slot::Idle {
            return;
        }
        let Some(pool) = self.pool else { return };
        let Some((_, name_and_type)) = pool.dynamic_indices(call_site) else { return };
        let Some((_, text)) = pool.name_and_type_indices(name_and_type) else { return };
        self.descriptor_text(text, Position::CallSiteDescriptor);
        self.set(call_site, self.slot(text) == Slot::Watched);
    }

    fn load_string(&mut self, _pc: u32, string: u16) {
        if let Some(at) = self.chunk.space.texts.iter().position(|&(index, ..)| index == string)
            && let Some((_, target, told)) = self.chunk.space.texts.get_mut(at)
        {
            *told = true;
            let target = *target;
            self.keep(target, MentionKind::Text);
        }
    }

    fn load_constant(&mut self, _pc: u32, constant: u16, _tag: Tag) {
        if let Some(pool) = self.pool {
            constant_names(pool, constant, |name| {
                let (id, kind) = self.chunk.name(name);
                if kind == Kind::Watched {
                    self.keep(id, MentionKind::At(Position::LoadConstant));
                }
            });
        }
    }

    fn bootstrap(&mut self, bootstrap: &Bootstrap<'a>) {
        let Some(pool) = self.pool.filter(|_| self.chunk.space.code_matters) else { return };
        let parts = std::iter::once((bootstrap.method, Position::BootstrapMethod))
            .chain(bootstrap.arguments.iter().map(|argument| (argument, Position::BootstrapArgument)));
        for (constant, at) in parts {
            constant_names(pool, constant, |name| {
                let (id, kind) = self.chunk.name(name);
                if kind == Kind::Watched {
                    self.keep(id, MentionKind::At(at));
                }
            });
        }
    }
}

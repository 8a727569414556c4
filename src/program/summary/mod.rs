//! One class file to what the program keeps of it, as a visitor of the walk.
//!
//! The work is done per pool index, not per use: whether an index can lead to a type worth keeping is found out once
//! per class, and nearly all indices cannot. That keeps the visitor's cost small beside the walk itself.

mod known;
mod literals;
mod steps;

use crate::classfile::{
    Bootstrap, ClassFile, Code, InnerClass, Member, MemberKind, Pool, Position, Tag, Visitor, constant_names,
    descriptor, opcode, signature,
};

use super::code::{Kind as Do, MethodId, MethodKind};
use super::guards::Guards;
use super::intern::{Interner, NameId};
use super::recorder::{Recorder, Target};
use super::stretch::Stretch;
use super::watch::{Kind, can_ask, classify, descriptor_can_ask, plainly_base};
use super::{Guard, Mention, MentionKind};
use known::{Form, Known, Slot};

/// What a chunk of classes adds up to. Names and members are numbered within the chunk.
#[derive(Default)]
pub(super) struct Chunk {
    pub names: Interner,
    pub members: Interner,
    pub classes: Vec<Summary>,
    pub mentions: Vec<Mention>,
    pub texts: Interner,
    pub recorder: Recorder,
    /// Types outside the platform, with the class of the chunk that names them first.
    pub named: Vec<(NameId, u32)>,
    /// Types that the verifier may meet, class after class.
    pub types: Vec<NameId>,
    kinds: Vec<Kind>,
    seen_named: Vec<bool>,
    /// Space that is used anew for each class.
    space: Space,
}

/// What is known of the pool and found in the class at hand.
#[derive(Default)]
struct Space {
    /// By pool index.
    known: Vec<Known>,
    found: Vec<Mention>,
    /// String constants that may name a watched type: index, name, whether an instruction that loads it was told. One
    /// with several names stands there for each.
    texts: Vec<(u16, NameId, bool)>,
    /// String constants that hold names of several classes: index, reference.
    listed: Vec<(u16, u32)>,
    /// Where names of members are put together.
    joined: Vec<u8>,
    /// Types of class constants, of fields, and in descriptors that no method has.
    types: Vec<NameId>,
}

/// The head of one class.
pub(super) struct Summary {
    pub name: NameId,
    pub superclass: Option<NameId>,
    pub interfaces: Box<[NameId]>,
    pub enclosing: Option<NameId>,
    pub access: u16,
    pub major: u16,
    pub minor: u16,
    pub mentions: Stretch,
    pub methods: Stretch,
    pub types: Stretch,
}

impl Chunk {
    /// Forgets everything and keeps the memory.
    pub fn clear(&mut self) {
        // The space is cleared for each class.
        let Chunk { names, members, classes, mentions, texts, recorder, named, types, kinds, seen_named, space: _ } =
            self;
        for interner in [names, members, texts] {
            interner.clear();
        }
        classes.clear();
        mentions.clear();
        recorder.clear();
        named.clear();
        types.clear();
        kinds.clear();
        seen_named.clear();
    }

    /// The number of a member: a method's descriptor starts with a bracket; a field's would not be told from its name.
    fn member(&mut self, name: &[u8], descriptor: &[u8]) -> NameId {
        let joined = &mut self.space.joined;
        joined.clear();
        joined.extend_from_slice(name);
        if !descriptor.starts_with(b"(") {
            joined.push(b':');
        }
        joined.extend_from_slice(descriptor);
        self.members.intern(joined)
    }

    /// The number of a type that is not java.base's, and what it can mean.
    fn outside_base(&mut self, name: &[u8]) -> Option<(NameId, Kind)> {
        if plainly_base(name) {
            return None;
        }
        Some(self.name(name)).filter(|&(_, kind)| kind != Kind::Base)
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

/// The visitor. One per worker; [`Summariser::class_done`] closes a class.
pub(super) struct Summariser<'a> {
    pub chunk: Chunk,
    pool: Option<Pool<'a>>,
    /// Pool index of the class itself.
    own: u16,
    member: Option<Member>,
    member_id: Option<NameId>,
    /// Of the method at hand.
    guards: Option<Guards<'a>>,
    code: &'a [u8],
    head: Option<Summary>,
}

impl Summariser<'_> {
    /// A visitor that adds to `chunk`; it is handed from class to class, since a visitor borrows from its class.
    pub fn new(chunk: Chunk) -> Self {
        Summariser { chunk, pool: None, own: 0, member: None, member_id: None, guards: None, code: &[], head: None }
    }

    /// Closes the class; false where not even its head could be read.
    pub fn class_done(&mut self) -> bool {
        let class = self.chunk.classes.len() as u32;
        let Chunk { mentions, classes, recorder, types: all_types, space: Space { found, texts, types, .. }, .. } =
            &mut self.chunk;
        let untold = texts.drain(..).filter(|&(_, _, told)| !told);
        found.extend(untold.map(|(_, target, _)| Mention {
            target,
            position: MentionKind::Text,
            member: None,
            method: None,
            guard: Guard::Open,
        }));
        self.pool = None;
        self.guards = None;
        self.code = &[];
        let Some(mut head) = self.head.take() else {
            found.clear();
            recorder.forget();
            return false;
        };
        head.methods = recorder.class_end(class);
        // Of the same mention in one method the least guarded stays.
        found.sort_unstable_by_key(|mention| {
            (mention.target, mention.position, mention.method, mention.guard, mention.member)
        });
        found.dedup_by_key(|mention| (mention.target, mention.position, mention.method, mention.member));
        head.mentions = Stretch { first: mentions.len() as u32, count: found.len() as u32 };
        mentions.append(found);
        types.sort_unstable();
        types.dedup();
        head.types = Stretch { first: all_types.len() as u32, count: types.len() as u32 };
        all_types.append(types);
        classes.push(head);
        true
    }

    #[inline]
    fn known(&self, index: u16) -> Known {
        self.chunk.space.known.get(usize::from(index)).copied().unwrap_or_default()
    }

    #[inline]
    fn know(&mut self, index: u16, learn: impl FnOnce(&mut Known)) {
        if let Some(known) = self.chunk.space.known.get_mut(usize::from(index)) {
            learn(known);
        }
    }

    fn slot(&self, index: u16) -> Slot {
        self.known(index).slot
    }

    fn set(&mut self, index: u16, watched: bool) {
        self.know(index, |known| known.slot = if watched { Slot::Watched } else { Slot::Idle });
    }

    /// What bears the absence of a class at that place of the method at hand.
    fn guard(&mut self, pc: Option<u32>) -> Guard {
        match (&mut self.guards, pc) {
            (Some(guards), Some(pc)) => guards.at(pc),
            _ => Guard::Open,
        }
    }

    fn keep(&mut self, target: NameId, position: MentionKind, pc: Option<u32>) {
        let guard = self.guard(pc);
        self.keep_guarded(target, position, guard);
    }

    /// Notes the types in a descriptor for the verifier.
    fn types_of(&mut self, descriptor: u16) {
        if self.known(descriptor).form == Form::Idle {
            return;
        }
        let Some(text) = self.pool.and_then(|pool| pool.utf8(descriptor)) else { return };
        self.know(descriptor, |known| known.form = Form::Idle);
        for name in descriptor::classes(text) {
            if let Some((id, _)) = self.chunk.outside_base(name) {
                self.chunk.space.types.push(id);
            }
        }
    }

    fn field_type(&mut self, reference: u16) {
        let Some(pool) = self.pool else { return };
        let name_and_type = pool.member_ref_indices(reference).map(|(_, name_and_type)| name_and_type);
        if let Some((_, text)) = name_and_type.and_then(|index| pool.name_and_type_indices(index)) {
            self.types_of(text);
        }
    }

    fn is_initialiser(&self) -> bool {
        let name = self.member.zip(self.pool).and_then(|(member, pool)| pool.utf8(member.name));
        name == Some(b"<clinit>")
    }

    fn keep_guarded(&mut self, target: NameId, position: MentionKind, guard: Guard) {
        let member = self.member.map(|member| self.member_id(member));
        let method = self.chunk.recorder.at_hand().map(MethodId);
        self.chunk.space.found.push(Mention { target, position, member, method, guard });
    }

    /// The number of the field or method at hand.
    fn member_id(&mut self, member: Member) -> NameId {
        if let Some(id) = self.member_id {
            return id;
        }
        let pool = self.pool;
        let text = |index| pool.and_then(|pool| pool.utf8(index)).unwrap_or_default();
        let id = self.chunk.member(text(member.name), text(member.descriptor));
        self.member_id = Some(id);
        id
    }

    fn keep_watched<'n>(&mut self, names: impl Iterator<Item = &'n [u8]>, at: Position, pc: Option<u32>) -> bool {
        let mut any = false;
        for name in names {
            if let Some((id, Kind::Watched)) = self.chunk.outside_base(name) {
                self.keep(id, MentionKind::At(at), pc);
                any = true;
            }
        }
        any
    }

    fn class_constant(&mut self, index: u16, at: Position, pc: Option<u32>) {
        let known = self.known(index);
        if known.slot == Slot::Watched && known.form.is_class() {
            self.keep(known.id, MentionKind::At(at), pc);
        }
    }

    fn descriptor_text(&mut self, index: u16, at: Position, pc: Option<u32>) {
        if self.slot(index) == Slot::Idle {
            return;
        }
        let Some(text) = self.pool.and_then(|pool| pool.utf8(index)) else { return };
        let any = descriptor_can_ask(text) && self.keep_watched(descriptor::classes(text), at, pc);
        self.set(index, any);
    }
}

impl<'a> Visitor<'a> for Summariser<'a> {
    fn wants(at: Position) -> bool {
        !matches!(at, Position::LocalVariable | Position::StackMapFrame)
    }

    fn class(&mut self, class: &ClassFile<'a>) {
        let pool = class.pool;
        let length = usize::from(pool.len());
        let space = &mut self.chunk.space;
        space.texts.clear();
        space.listed.clear();
        space.found.clear();
        space.types.clear();
        space.known.clear();
        space.known.resize(length, Known::default());
        self.chunk.recorder.class(pool.len());
        self.pool = Some(pool);
        self.own = class.this_class;
        self.member = None;
        self.member_id = None;
        let ordinal = self.chunk.classes.len() as u32;
        for &index in pool.naming() {
            match pool.tag(index) {
                Some(Tag::Class) => self.class_of_pool(index, ordinal),
                Some(Tag::String) => self.text(index),
                _ => {}
            }
        }
        self.head = self.plain_name(class.this_class).map(|own| Summary {
            name: own,
            superclass: self.plain_name(class.super_class),
            interfaces: class.interfaces.iter().filter_map(|index| self.plain_name(index)).collect(),
            enclosing: None,
            access: class.access,
            major: class.major,
            minor: class.minor,
            mentions: Stretch::default(),
            methods: Stretch::default(),
            types: Stretch::default(),
        });
    }

    fn member(&mut self, member: Member) {
        self.member = Some(member);
        self.member_id = None;
        if member.kind == MemberKind::Method {
            let selector = self.member_id(member);
            let class = self.chunk.classes.len() as u32;
            self.chunk.recorder.method(class, selector, member.access, MethodKind::Declared);
        }
    }

    fn member_end(&mut self) {
        self.member = None;
        self.member_id = None;
        self.guards = None;
        self.chunk.recorder.method_end();
    }

    fn code(&mut self, code: &Code<'a>) -> bool {
        self.code = code.bytes;
        // Most code has no handlers at all, and `None` says as much as guards that protect nothing.
        self.guards = self
            .pool
            .filter(|_| !code.handlers.is_empty())
            .map(|pool| Guards::of(pool, code))
            .filter(|guards| !guards.is_empty());
        true
    }

    #[inline]
    fn class_name(&mut self, at: Position, pc: Option<u32>, class: u16) {
        self.class_constant(class, at, pc);
        if let Some(pc) = pc {
            self.class_step(class, at, pc);
        } else if at == Position::PermittedSubclass
            && let Some(number) = self.class_reference(class)
        {
            self.chunk.recorder.annotation(Do::ClassLiteral, number);
        } else if at == Position::EnclosingMethod {
            self.enclosed_by(class);
        }
    }

    fn inner_class(&mut self, entry: InnerClass) {
        if entry.inner == self.own && entry.outer != 0 {
            self.enclosed_by(entry.outer);
        }
    }

    #[inline]
    fn descriptor(&mut self, at: Position, pc: Option<u32>, text: u16) {
        self.descriptor_text(text, at, pc);
        self.annotation_steps(at, text);
    }

    fn element_string(&mut self, text: u16) {
        self.annotation_text(text);
    }

    fn signature(&mut self, at: Position, text: u16) {
        let Some(text) = self.pool.and_then(|pool| pool.utf8(text)).filter(|text| can_ask(text)) else { return };
        for name in signature::classes(text) {
            if let Some((id, Kind::Watched)) = self.chunk.outside_base(&name) {
                self.keep(id, MentionKind::At(at), None);
            }
        }
    }

    #[inline]
    fn member_ref(&mut self, at: Position, opcode: u8, pc: u32, reference: u16) {
        let step = match opcode {
            opcode::GETSTATIC | opcode::PUTSTATIC => Some(Do::StaticField),
            opcode::INVOKESTATIC => Some(Do::StaticCall),
            opcode::INVOKESPECIAL => Some(Do::SpecialCall),
            opcode::INVOKEVIRTUAL | opcode::INVOKEINTERFACE => Some(Do::VirtualCall),
            _ => None,
        };
        if let Some(step) = step {
            self.member_step(step, reference, pc);
        }
        match self.slot(reference) {
            Slot::Idle => return,
            Slot::Unseen if step.is_none() || step == Some(Do::StaticField) => self.field_type(reference),
            Slot::Unseen => self.look_for_handle(reference),
            _ => {}
        }
        if self.slot(reference) == Slot::Polymorphic {
            if opcode == opcode::INVOKEVIRTUAL {
                self.polymorphic(reference, pc);
            }
            return;
        }
        // The descriptor is left alone: using a member loads none of the types in it (JVMS §5.4.3.2, §5.4.3.3); what
        // the verifier makes of it is the verifier's to say.
        if let Some((owner, _)) = self.pool.and_then(|pool| pool.member_ref_indices(reference)) {
            self.class_constant(owner, at, Some(pc));
            let watched = self.slot(owner) == Slot::Watched;
            self.set(reference, watched);
        }
    }

    fn invoke_dynamic(&mut self, pc: u32, call_site: u16) {
        let Some(pool) = self.pool else { return };
        let Some((bootstrap, name_and_type)) = pool.dynamic_indices(call_site) else { return };
        let guarded = self.guard(Some(pc)) == Guard::Absence;
        self.chunk.recorder.link(call_site, bootstrap, guarded);
        self.object_step(call_site, name_and_type, pc);
        if self.slot(call_site) == Slot::Idle {
            return;
        }
        let Some((_, text)) = pool.name_and_type_indices(name_and_type) else { return };
        if self.slot(call_site) == Slot::Unseen {
            self.types_of(text);
        }
        self.descriptor_text(text, Position::CallSiteDescriptor, Some(pc));
        self.set(call_site, self.slot(text) == Slot::Watched);
    }

    fn load_string(&mut self, pc: u32, string: u16) {
        if self.slot(string) == Slot::Watched {
            let initialiser = self.is_initialiser();
            let guard = self.guards.as_mut().map_or(Guard::Open, |guards| guards.at_look_up(pc, initialiser));
            for at in 0..self.chunk.space.texts.len() {
                if let Some((index, target, told)) = self.chunk.space.texts.get_mut(at)
                    && *index == string
                {
                    *told = true;
                    let target = *target;
                    self.keep_guarded(target, MentionKind::Text, guard);
                }
            }
        }
        match self.chunk.recorder.target(string) {
            Target::Reference(number) => self.take(Do::ClassName, string, number, Some(pc)),
            Target::Listed => self.listed_step(string, pc),
            Target::Idle | Target::Unseen => {}
        }
        self.constant_step(string, Some(pc));
    }

    fn load_constant(&mut self, pc: u32, constant: u16, _tag: Tag) {
        self.constant_step(constant, Some(pc));
        let dynamic = self.pool.and_then(|pool| pool.name_and_type_indices(pool.dynamic_indices(constant)?.1));
        if let Some((_, text)) = dynamic {
            self.types_of(text);
        }
        if let Some(pool) = self.pool {
            constant_names(pool, constant, |name| {
                if let Some((id, Kind::Watched)) = self.chunk.outside_base(name) {
                    self.keep(id, MentionKind::At(Position::LoadConstant), Some(pc));
                }
            });
        }
    }

    fn bootstrap(&mut self, bootstrap: &Bootstrap<'a>) {
        let Some(pool) = self.pool else { return };
        let class = self.chunk.classes.len() as u32;
        self.chunk.recorder.method(class, NameId::NONE, 0, MethodKind::Bootstrap);
        let parts = std::iter::once((bootstrap.method, Position::BootstrapMethod))
            .chain(bootstrap.arguments.iter().map(|argument| (argument, Position::BootstrapArgument)));
        for (constant, at) in parts {
            self.constant_step(constant, None);
            constant_names(pool, constant, |name| {
                if let Some((id, Kind::Watched)) = self.chunk.outside_base(name) {
                    self.keep(id, MentionKind::At(at), None);
                }
            });
        }
        self.chunk.recorder.method_end();
    }
}

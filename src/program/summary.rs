//! One class file to what the program keeps of it, as a visitor of the walk.
//!
//! The work is done per pool index, not per use: whether an index can lead to a type worth keeping is found out once
//! per class, and nearly all indices cannot. That keeps the visitor's cost small beside the walk itself.

use crate::classfile::{
    Bootstrap, ClassFile, Member, Pool, Position, Tag, Visitor, constant_names, descriptor, signature,
};
use crate::names::package_of;
use crate::platform::{ever_platform_package, last_release_with};

use super::intern::{Interner, NameId};
use super::{Mention, MentionKind};

/// Packages that have been in java.base in every release, and that class files name most: a name in one of them asks
/// for no other module, so it is kept only where the type was removed. Any package may be left out of this list: it
/// saves time and decides nothing (a test holds it against the catalogues).
pub(super) const ALWAYS_BASE: [&[u8]; 26] = [
    b"java/io",
    b"java/lang",
    b"java/lang/annotation",
    b"java/lang/constant",
    b"java/lang/invoke",
    b"java/lang/module",
    b"java/lang/ref",
    b"java/lang/reflect",
    b"java/lang/runtime",
    b"java/math",
    b"java/net",
    b"java/nio",
    b"java/nio/channels",
    b"java/nio/charset",
    b"java/nio/file",
    b"java/nio/file/attribute",
    b"java/security",
    b"java/text",
    b"java/time",
    b"java/util",
    b"java/util/concurrent",
    b"java/util/concurrent/atomic",
    b"java/util/concurrent/locks",
    b"java/util/function",
    b"java/util/regex",
    b"java/util/stream",
];

/// What a name can mean before a release is chosen.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// A type of the platform, now or once, that may ask for a module other than java.base.
    Watched,
    /// A type of java.base.
    Base,
    /// A type of the program, or one that is nowhere.
    Other,
}

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
    fn name(&mut self, name: &[u8]) -> (NameId, Kind) {
        let id = self.names.intern(name);
        match self.kinds.get(id.0 as usize) {
            Some(&kind) => (id, kind),
            None => {
                let kind = classify(name);
                self.kinds.push(kind);
                self.seen_named.push(false);
                (id, kind)
            }
        }
    }
}

fn classify(name: &[u8]) -> Kind {
    let package = package_of(name);
    if ALWAYS_BASE.contains(&package) {
        return if last_release_with(name).is_some() { Kind::Watched } else { Kind::Base };
    }
    if ever_platform_package(package) { Kind::Watched } else { Kind::Other }
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
    slots: Vec<Slot>,
    member: Option<Member>,
    member_id: Option<NameId>,
    found: Vec<Mention>,
    head: Option<Summary>,
    texts: Vec<(u16, NameId, bool)>,
}

impl<'a> Summariser<'a> {
    /// A visitor that adds to `chunk`; it is handed from class to class, since a visitor borrows from its class.
    pub fn new(chunk: Chunk) -> Self {
        Summariser {
            chunk,
            pool: None,
            slots: Vec::new(),
            member: None,
            member_id: None,
            found: Vec::new(),
            head: None,
            texts: Vec::new(),
        }
    }

    /// Closes the class; false where not even its head could be read.
    pub fn class_done(&mut self) -> bool {
        self.member = None;
        for (_, target, told) in std::mem::take(&mut self.texts) {
            if !told {
                self.found.push(Mention { target, position: MentionKind::Text, member: None });
            }
        }
        // Stable, so that of equal mentions the one in the first member stays.
        self.found.sort_by_key(|mention| (mention.target, mention.position));
        self.found.dedup_by_key(|mention| (mention.target, mention.position));
        self.pool = None;
        let Some(mut head) = self.head.take() else {
            self.found.clear();
            return false;
        };
        head.first_mention = self.chunk.mentions.len() as u32;
        head.mention_count = self.found.len() as u32;
        self.chunk.mentions.append(&mut self.found);
        self.chunk.classes.push(head);
        true
    }

    fn slot(&self, index: u16) -> Slot {
        self.slots.get(usize::from(index)).copied().unwrap_or(Slot::Idle)
    }

    fn set(&mut self, index: u16, watched: bool) {
        if let Some(slot) = self.slots.get_mut(usize::from(index)) {
            *slot = if watched { Slot::Watched } else { Slot::Idle };
        }
    }

    fn keep(&mut self, target: NameId, position: MentionKind) {
        let member = match (self.member_id, self.member, self.pool) {
            (Some(id), ..) => Some(id),
            (None, Some(member), Some(pool)) => {
                let mut joined = pool.utf8(member.name).unwrap_or_default().to_vec();
                joined.extend_from_slice(pool.utf8(member.descriptor).unwrap_or_default());
                self.member_id = Some(self.chunk.members.intern(&joined));
                self.member_id
            }
            _ => None,
        };
        self.found.push(Mention { target, position, member });
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
        let name = self.pool.and_then(|pool| pool.class_name(index)).and_then(descriptor::element_class);
        let any = self.keep_watched(name.into_iter(), at);
        self.set(index, any);
    }

    fn descriptor_text(&mut self, index: u16, at: Position) {
        if self.slot(index) == Slot::Idle {
            return;
        }
        let Some(text) = self.pool.and_then(|pool| pool.utf8(index)) else { return };
        let any = self.keep_watched(descriptor::classes(text), at);
        self.set(index, any);
    }
}

impl<'a> Visitor<'a> for Summariser<'a> {
    fn wants(at: Position) -> bool {
        !matches!(at, Position::LocalVariable | Position::StackMapFrame)
    }

    fn class(&mut self, class: &ClassFile<'a>) {
        let pool = class.pool;
        self.slots.clear();
        self.slots.resize(usize::from(pool.len()), Slot::Unseen);
        self.pool = Some(pool);
        self.member = None;
        self.member_id = None;
        let ordinal = self.chunk.classes.len() as u32;
        for index in 1..pool.len() {
            match pool.tag(index) {
                Some(Tag::Class) => {
                    let Some(name) = pool.class_name(index).and_then(descriptor::element_class) else {
                        self.set(index, false);
                        continue;
                    };
                    let (id, kind) = self.chunk.name(name);
                    self.set(index, kind == Kind::Watched);
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
                            self.texts.push((index, id, false));
                        }
                    }
                }
                _ => {}
            }
        }
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
        let Some(text) = self.pool.and_then(|pool| pool.utf8(text)) else { return };
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
        let Some(pool) = self.pool else { return };
        let Some((owner, name_and_type)) = pool.member_ref_indices(reference) else { return };
        let Some((_, text)) = pool.name_and_type_indices(name_and_type) else { return };
        self.class_constant(owner, at);
        self.descriptor_text(text, Position::ReferenceDescriptor);
        let watched = self.slot(owner) == Slot::Watched || self.slot(text) == Slot::Watched;
        self.set(reference, watched);
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
        if let Some(at) = self.texts.iter().position(|&(index, ..)| index == string)
            && let Some((_, target, told)) = self.texts.get_mut(at)
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
        let Some(pool) = self.pool else { return };
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

/// The class that a string constant may name: `javax.naming.InitialContext`, with dots or slashes. Only texts that can
/// be a name of a type in a package are taken; whether the platform has it is asked later.
fn class_in_text(text: &[u8]) -> Option<Vec<u8>> {
    // `sql.A` would be the shortest, and no platform package starts with another letter.
    if text.len() < 5 || text.len() > 200 || !matches!(text.first(), Some(b'a'..=b'z')) {
        return None;
    }
    let last = text.iter().rposition(|&byte| byte == b'.' || byte == b'/')?;
    if !text.get(last + 1).is_some_and(u8::is_ascii_uppercase) {
        return None;
    }
    let plain = |byte: &u8| byte.is_ascii_alphanumeric() || matches!(byte, b'.' | b'/' | b'_' | b'$');
    if !text.iter().all(plain) {
        return None;
    }
    Some(text.iter().map(|&byte| if byte == b'.' { b'/' } else { byte }).collect())
}

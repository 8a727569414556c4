//! Our reader of class files beside two others from the registry, `classfile-parser` and `noak`: names in the constant
//! pool and the numbers of members agree on all real classes that they accept.
//!
//! `classfile-parser` 0.3.8 knows no module, package or dynamic constants (JVMS table 4.4-A, from class file version 53
//! and 55 on); that is the only reason for which it may refuse a class.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test fails by panicking"
)]

use std::collections::BTreeSet;

use classfile_parser::constant_info::ConstantInfo;
use noak::reader::cpool;
use secateur::archive::{Reader, open};
use secateur::classfile::{ClassFile, Member, MemberKind, Scratch, Tag, Visitor};
use secateur::limits::Limits;
use secateur::names::decode_mutf8;

#[path = "support/libraries.rs"]
mod libraries;

/// What the readers are compared by.
#[derive(Debug, PartialEq, Eq)]
struct Facts {
    this: String,
    superclass: Option<String>,
    classes: BTreeSet<String>,
    interfaces: usize,
    fields: usize,
    methods: usize,
}

#[derive(Default)]
struct Members {
    fields: usize,
    methods: usize,
}

impl Visitor<'_> for Members {
    fn member(&mut self, member: Member) {
        match member.kind {
            MemberKind::Field => self.fields += 1,
            MemberKind::Method => self.methods += 1,
        }
    }
}

fn ours(bytes: &[u8]) -> (Facts, bool) {
    let mut scratch = Scratch::default();
    let class = ClassFile::read(bytes, &mut scratch).expect("a sound class file");
    let mut members = Members::default();
    class.walk(&mut members).expect("a sound class file");
    let name = |index: u16| class.pool.class_name(index).map(|name| decode_mutf8(name).into_owned());
    let tags: Vec<Option<Tag>> = (1..class.pool.len()).map(|index| class.pool.tag(index)).collect();
    let facts = Facts {
        this: name(class.this_class).expect("a class has a name"),
        superclass: name(class.super_class),
        classes: (1..class.pool.len()).filter_map(name).collect(),
        interfaces: class.interfaces.len(),
        fields: members.fields,
        methods: members.methods,
    };
    let newer = tags.iter().flatten().any(|tag| matches!(tag, Tag::Module | Tag::Package | Tag::Dynamic));
    (facts, newer)
}

/// As `classfile-parser` reads it; `None` where it refuses the file.
fn second(bytes: &[u8]) -> Option<Facts> {
    let (_, class) = classfile_parser::class_parser(bytes).ok()?;
    let text = |index: u16| match class.const_pool.get(usize::from(index).checked_sub(1)?)? {
        ConstantInfo::Utf8(text) => Some(text.utf8_string.clone()),
        _ => None,
    };
    let name = |index: u16| match class.const_pool.get(usize::from(index).checked_sub(1)?)? {
        ConstantInfo::Class(class) => text(class.name_index),
        _ => None,
    };
    Some(Facts {
        this: name(class.this_class)?,
        superclass: name(class.super_class),
        classes: (1..=class.const_pool.len() as u16).filter_map(name).collect(),
        interfaces: class.interfaces.len(),
        fields: class.fields.len(),
        methods: class.methods.len(),
    })
}

/// As `noak` reads it; `None` where it refuses the file.
fn third(bytes: &[u8]) -> Option<Facts> {
    let class = noak::reader::Class::new(bytes).ok()?;
    let pool = class.pool();
    let shown = |name: &noak::MStr| name.display().to_string();
    let mut classes = BTreeSet::new();
    for item in pool.iter() {
        if let cpool::Item::Class(class) = item {
            classes.insert(shown(pool.retrieve(class.name).ok()?));
        }
    }
    Some(Facts {
        this: shown(pool.retrieve(class.this_class()).ok()?.name),
        superclass: match class.super_class() {
            Some(index) => Some(shown(pool.retrieve(index).ok()?.name)),
            None => None,
        },
        classes,
        interfaces: class.interfaces().into_iter().count(),
        fields: class.fields().into_iter().count(),
        methods: class.methods().into_iter().count(),
    })
}

#[test]
fn other_readers_see_what_we_see() {
    let limits = Limits::default();
    let archives = open(&libraries::libraries(), &limits).expect("the jars open");
    let mut reader = Reader::new(&limits);
    let (mut read, mut refused_by_second, mut refused_by_third) = (0, 0, 0);
    for archive in &archives.list {
        for entry in archive.entries.iter().filter(|entry| entry.path.ends_with(".class")) {
            let bytes = reader.read(archive, entry).expect("readable");
            let place = archive.locate(entry);
            let (facts, newer) = ours(bytes);
            read += 1;
            if let Some(theirs) = second(bytes) {
                assert_eq!(facts, theirs, "classfile-parser on {place}");
            } else {
                assert!(newer, "classfile-parser refuses {place}, which has none of the newer constants");
                refused_by_second += 1;
            }
            if let Some(theirs) = third(bytes) {
                assert_eq!(facts, theirs, "noak on {place}");
            } else {
                refused_by_third += 1;
            }
        }
    }
    println!("{read} classes; classfile-parser refuses {refused_by_second}, noak {refused_by_third}");
    assert!(read > 20_000, "{read} classes are too few");
    assert!(refused_by_second * 100 < read, "{refused_by_second} of {read} refused by classfile-parser");
    assert_eq!(refused_by_third, 0, "noak reads every real class");
}

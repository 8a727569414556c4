//! What linking a class loads, by our questions and a hierarchy: a small model of class loading for the tests.
//!
//! [`Classes::linking`] is the place to begin.

use std::collections::{BTreeMap, BTreeSet};

use secateur::classfile::{ClassFile, Member, MemberKind, Pool, Scratch, Visitor, descriptor};
use secateur::verifier;

/// A class file as far as loading and linking go.
#[derive(Debug)]
pub struct Class {
    pub major: u16,
    pub interface: bool,
    pub supers: Vec<String>,
    /// Source and target.
    pub questions: Vec<(Option<String>, String)>,
    /// Methods that could not be followed to their end.
    pub unfinished: usize,
    /// Classes in the types of public fields.
    pub field_types: BTreeSet<String>,
}

#[derive(Default)]
struct Fields<'a> {
    pool: Option<Pool<'a>>,
    types: BTreeSet<String>,
}

impl<'a> Visitor<'a> for Fields<'a> {
    fn class(&mut self, class: &ClassFile<'a>) {
        self.pool = Some(class.pool);
    }

    fn member(&mut self, member: Member) {
        if member.kind == MemberKind::Field && member.access & 1 != 0 {
            let text = self.pool.unwrap().utf8(member.descriptor).unwrap();
            self.types.extend(descriptor::classes(text).map(text_of));
        }
    }

    fn code(&mut self, _: &secateur::classfile::Code<'a>) -> bool {
        false
    }
}

fn text_of(name: &[u8]) -> String {
    String::from_utf8_lossy(name).into_owned()
}

/// Names that verification uses whether or not a pool holds them (JVMS §4.10.1.9 `athrow`, `ldc`).
const BROUGHT_ALONG: [&str; 6] = [
    "java/lang/Object",
    "java/lang/Throwable",
    "java/lang/String",
    "java/lang/Class",
    "java/lang/invoke/MethodHandle",
    "java/lang/invoke/MethodType",
];

/// Memory for [`Class::read`].
#[derive(Default)]
pub struct Memory {
    pool: Scratch,
    verifier: verifier::Scratch,
}

impl Class {
    /// Its name, and what it says.
    pub fn read(bytes: &[u8], memory: &mut Memory) -> (String, Class) {
        let class = ClassFile::read(bytes, &mut memory.pool).expect("a sound class file");
        let name = |index| class.pool.class_name(index).map(text_of);
        let mut fields = Fields::default();
        class.walk(&mut fields).expect("a sound class file");
        let mut questions = Vec::new();
        let (unfinished, read) = verifier::questions(&class, &mut memory.verifier, |question| {
            questions.push((question.source.map(text_of), text_of(question.target)));
        });
        read.expect("a sound class file");
        // The names by which the pool says beforehand whether there is anything to ask.
        let named = named(&class);
        let asked = questions.iter().flat_map(|(source, target)| source.iter().chain([target]));
        for asked in asked.filter(|name| !BROUGHT_ALONG.contains(&name.as_str())) {
            assert!(named.contains(asked), "{asked} is not in the pool of {:?}", name(class.this_class));
        }
        let read = Class {
            major: class.major,
            interface: class.access & 0x0200 != 0,
            supers: name(class.super_class).into_iter().chain(class.interfaces.iter().filter_map(name)).collect(),
            questions,
            unfinished,
            field_types: fields.types,
        };
        (name(class.this_class).expect("a name"), read)
    }
}

/// Types of class constants, in descriptors of members, and in those of its own methods.
fn named(class: &ClassFile<'_>) -> BTreeSet<String> {
    let pool = class.pool;
    let mut named = BTreeSet::new();
    for index in 1..pool.len() {
        if let Some(name) = pool.class_name(index).and_then(descriptor::element_class) {
            named.insert(text_of(name));
        }
        let of_members = pool.name_and_type(index).map(|(_, text)| text);
        // Every method descriptor begins so, whoever refers to it.
        let of_methods = pool.utf8(index).filter(|text| text.first() == Some(&b'('));
        let all = of_members.into_iter().chain(of_methods);
        named.extend(all.flat_map(descriptor::classes).map(text_of));
    }
    named
}

/// All classes of a class path, the first of each name.
#[derive(Default)]
pub struct Classes {
    pub own: BTreeMap<String, Class>,
    /// What the platform's classes are: whether an interface, and the superclasses. Whatever stands nowhere is missing.
    pub platform: BTreeMap<String, (bool, Vec<String>)>,
}

impl Classes {
    /// Classes that are loaded with a class, and those that are loaded while it is linked, superclasses included (JVMS
    /// §5.3.5, §5.4.1).
    pub fn linking(&self, name: &str) -> (BTreeSet<String>, BTreeSet<String>) {
        let mut first = BTreeSet::new();
        self.load(name, &mut first);
        // The platform loads superclasses of its own, so that they are there before anybody asks for them.
        let above = first.iter().filter_map(|name| self.platform.get(name)).flat_map(|(_, supers)| supers.clone());
        first.extend(above.collect::<Vec<_>>());
        let mut loaded = first.clone();
        // HotSpot links superclasses and superinterfaces along with a class.
        for linked in &first {
            for (source, target) in self.own.get(linked).iter().flat_map(|class| &class.questions) {
                self.load(target, &mut loaded);
                if let Some(source) = source.as_ref().filter(|_| !self.is_interface(target)) {
                    self.load(source, &mut loaded);
                }
            }
        }
        (first.clone(), &loaded - &first)
    }

    fn is_interface(&self, name: &str) -> bool {
        self.own
            .get(name)
            .map_or_else(|| self.platform.get(name).is_some_and(|(interface, _)| *interface), |class| class.interface)
    }

    /// What the loader of the class path is asked for: the platform's superclasses are loaded by others.
    pub fn load(&self, name: &str, loaded: &mut BTreeSet<String>) {
        let mut due = vec![name.to_owned()];
        while let Some(name) = due.pop() {
            if loaded.insert(name.clone()) {
                due.extend(self.own.get(&name).iter().flat_map(|class| class.supers.clone()));
            }
        }
    }
}

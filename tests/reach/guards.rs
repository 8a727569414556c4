//! Handlers that bear the absence of a class, against the JVM running without that class.

use std::collections::BTreeMap;
use std::fs;
use std::time::{Duration, Instant};

use secateur::classfile::{ClassFile, Code, Instruction, Member, MemberKind, Pool, Scratch, Visitor};
use secateur::program::{Guard, Guards};

use crate::sources::{compile, java};

/// The guard of each method's call, by the method's name.
struct Found<'a> {
    pool: Pool<'a>,
    method: Option<Member>,
    guards: BTreeMap<String, Guard>,
}

impl<'a> Visitor<'a> for Found<'a> {
    fn member(&mut self, member: Member) {
        self.method = Some(member).filter(|member| member.kind == MemberKind::Method);
    }

    fn code(&mut self, code: &Code<'a>) -> bool {
        let name = String::from_utf8_lossy(self.pool.utf8(self.method.unwrap().name).unwrap()).into_owned();
        let mut guards = Guards::of(self.pool, code);
        let mut pc = 0;
        while let Some(instruction) = Instruction::at(code.bytes, pc) {
            if instruction.opcode == 0xB8 {
                let called = self.pool.member_ref(instruction.index()).unwrap();
                match (self.pool.class_name(called.owner).unwrap(), called.name) {
                    (b"reach/Sluice", _) => drop(self.guards.insert(name.clone(), guards.at(pc))),
                    (_, b"forName") => drop(self.guards.insert(name.clone(), guards.at_look_up(pc, false))),
                    _ => {}
                }
            }
            pc = instruction.next();
        }
        false
    }
}

#[test]
fn guards_are_those_that_the_jvm_finds() {
    let folder = compile("guards", &["Handlers.java", "Sluice.java"]);
    fs::remove_file(folder.join("reach/Sluice.class")).unwrap();
    let bytes = fs::read(folder.join("reach/Handlers.class")).unwrap();
    let mut scratch = Scratch::default();
    let class = ClassFile::read(&bytes, &mut scratch).unwrap();
    let mut found = Found { pool: class.pool, method: None, guards: BTreeMap::new() };
    class.walk(&mut found).unwrap();
    assert_eq!(found.guards.len(), 23);
    let mut wrong = Vec::new();
    for (name, guard) in &found.guards {
        let expected = match name.split('_').next() {
            Some("open") => Guard::Open,
            Some("lookup") => Guard::LookUp,
            Some("absence") => Guard::Absence,
            _ => panic!("{name}"),
        };
        if *guard != expected {
            wrong.push(format!("{name}: {guard:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));

    // Two end the JVM and run alone.
    let (ending, others): (Vec<&str>, Vec<&str>) =
        found.guards.keys().map(String::as_str).partition(|name| matches!(*name, "open_ends" | "open_halts"));
    let output = java(&folder, &[&["reach.Handlers"][..], &others].concat());
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).unwrap();
    let said: BTreeMap<&str, &str> = text.lines().map(|line| line.split_once(' ').unwrap()).collect();
    for name in others {
        match found.guards[name] {
            Guard::Open => assert_eq!(said[name], "throws", "{name}"),
            Guard::Absence => assert_eq!(said[name], "goes on", "{name}"),
            // Promises something for look-ups only.
            Guard::LookUp => assert!(said[name] == "goes on", "{name}"),
        }
    }
    for name in ending {
        assert_eq!(java(&folder, &["reach.Handlers", name]).status.code(), Some(3), "{name}");
    }
}

/// A class file with a method of so many `nop`, and so many handlers for everything throughout (JVMS §4.1, §4.7.3).
fn class_with_handlers(length: u32, handlers: u16) -> Vec<u8> {
    let mut out = vec![0xCA, 0xFE, 0xBA, 0xBE, 0, 0, 0, 61, 0, 7];
    for text in ["java/lang/Throwable", "m", "()V", "Code"] {
        out.push(1);
        out.extend((text.len() as u16).to_be_bytes());
        out.extend(text.as_bytes());
    }
    // Number 5 is the class, 6 another; flags, this class, superclass; one method with one attribute.
    out.extend([7, 0, 1, 7, 0, 1]);
    out.extend([0x21, 5, 6, 0, 0, 1, 8, 2, 3, 1, 4].into_iter().flat_map(u16::to_be_bytes));
    out.extend((12 + length + 8 * u32::from(handlers)).to_be_bytes());
    out.extend([0, 0, 0, 0]);
    out.extend(length.to_be_bytes());
    out.extend(vec![0; length as usize - 1]);
    out.push(0xB1);
    out.extend(handlers.to_be_bytes());
    let end = (length - 1) as u16;
    // Each begins elsewhere, so that none is known from another.
    out.extend((0..handlers).flat_map(|at| [0, end, at, 5]).flat_map(u16::to_be_bytes));
    out.extend([0, 0, 0, 0]);
    out
}

struct Asking<'a>(Pool<'a>, Vec<Guard>);

impl<'a> Visitor<'a> for Asking<'a> {
    fn code(&mut self, code: &Code<'a>) -> bool {
        let mut guards = Guards::of(self.0, code);
        self.1.extend((0..code.bytes.len() as u32).map(|pc| guards.at_look_up(pc, false)));
        false
    }
}

/// As many handlers and as much code as the format allows cost little, and what is not looked at is unprotected.
#[test]
fn work_is_bounded() {
    let guards = |length, handlers| {
        let bytes = class_with_handlers(length, handlers);
        let mut scratch = Scratch::default();
        let class = ClassFile::read(&bytes, &mut scratch).unwrap();
        let mut asking = Asking(class.pool, Vec::new());
        class.walk(&mut asking).unwrap();
        asking.1
    };
    assert_eq!(guards(8, 2), [&[Guard::LookUp; 7][..], &[Guard::Open]].concat());
    let begun = Instant::now();
    assert!(guards(60_000, 60_000).iter().all(|guard| *guard == Guard::Open));
    assert_eq!(guards(60_000, 4_000).len(), 60_000);
    assert!(begun.elapsed() < Duration::from_secs(10), "{:?}", begun.elapsed());
}

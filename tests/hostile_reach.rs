//! Programs made to exhaust whoever works out what can run: everything that grows with the product of two of their
//! figures is bounded. The classes are written here byte by byte (JVMS ch. 4), in small jars.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::collections::HashMap;
use std::fs;
use std::time::{Duration, Instant};

use secateur::pipeline::scan;
use secateur::plan::Plan;
use secateur::progress::Silent;
use secateur::report::{Report, Standing};

#[path = "support/zip.rs"]
mod zip;

use zip::{Entry, archive, deflated};

/// Longer than any of these takes by far, and shorter than a product of figures takes.
const PATIENCE: Duration = Duration::from_mins(2);

/// `ACC_PUBLIC` and `ACC_STATIC` (JVMS table 4.6-A).
const STATIC: u16 = 0x0009;

/// A class file of version 49, which needs no stack maps.
#[derive(Default)]
struct Class {
    constants: Vec<Vec<u8>>,
    known: HashMap<Vec<u8>, u16>,
    fields: Vec<u8>,
    field_count: u16,
    methods: Vec<u8>,
    method_count: u16,
}

impl Class {
    fn add(&mut self, tag: u8, rest: &[u8]) -> u16 {
        let bytes = [&[tag], rest].concat();
        if let Some(&number) = self.known.get(&bytes) {
            return number;
        }
        let number = u16::try_from(self.constants.len() + 1).unwrap();
        self.known.insert(bytes.clone(), number);
        self.constants.push(bytes);
        number
    }

    fn utf8(&mut self, text: &str) -> u16 {
        let length = u16::try_from(text.len()).unwrap().to_be_bytes();
        self.add(1, &[&length, text.as_bytes()].concat())
    }

    fn class(&mut self, name: &str) -> [u8; 2] {
        let name = self.utf8(name).to_be_bytes();
        self.add(7, &name).to_be_bytes()
    }

    fn text(&mut self, text: &str) -> [u8; 2] {
        let text = self.utf8(text).to_be_bytes();
        self.add(8, &text).to_be_bytes()
    }

    /// `CONSTANT_Fieldref` is 9, `CONSTANT_Methodref` 10, `CONSTANT_InterfaceMethodref` 11.
    fn member(&mut self, tag: u8, owner: &str, name: &str, descriptor: &str) -> [u8; 2] {
        let owner = self.class(owner);
        let (name, descriptor) = (self.utf8(name).to_be_bytes(), self.utf8(descriptor).to_be_bytes());
        let member = self.add(12, &[name, descriptor].concat()).to_be_bytes();
        self.add(tag, &[owner, member].concat()).to_be_bytes()
    }

    fn field(&mut self, name: &str, descriptor: &str) {
        let (name, descriptor) = (self.utf8(name), self.utf8(descriptor));
        self.fields.extend([STATIC, name, descriptor, 0].iter().flat_map(|number| number.to_be_bytes()));
        self.field_count += 1;
    }

    /// The field of `quay` that holds names.
    fn name_field(&mut self) -> [u8; 2] {
        self.member(9, "quay", "name", "Ljava/lang/String;")
    }

    /// `Class.forName` with one parameter.
    fn look_up(&mut self) -> [u8; 2] {
        self.member(10, "java/lang/Class", "forName", "(Ljava/lang/String;)Ljava/lang/Class;")
    }

    /// So many look-ups of what that field holds.
    fn look_ups_of_field(&mut self, count: usize) -> Vec<u8> {
        let (field, look_up) = (self.name_field(), self.look_up());
        // getstatic, invokestatic, pop
        [0xB2, field[0], field[1], 0xB8, look_up[0], look_up[1], 0x57].repeat(count)
    }

    /// A method; `caught` is the class of a handler around all of its code but the last two bytes, which is those.
    fn method(&mut self, access: u16, name: &str, descriptor: &str, code: &[u8], caught: Option<&str>) {
        let caught = caught.map(|name| self.class(name));
        let [name, descriptor, attribute] = [name, descriptor, "Code"].map(|text| self.utf8(text));
        let mut handlers = Vec::new();
        if let Some(class) = caught {
            let end = u16::try_from(code.len() - 2).unwrap();
            handlers.extend([0, end, end].iter().flat_map(|number| number.to_be_bytes()));
            handlers.extend(class);
        }
        let length = u32::try_from(12 + code.len() + handlers.len()).unwrap();
        for number in [access, name, descriptor, u16::from(!code.is_empty())] {
            self.methods.extend(number.to_be_bytes());
        }
        if !code.is_empty() {
            self.methods.extend(attribute.to_be_bytes());
            self.methods.extend(length.to_be_bytes());
            self.methods.extend([0, 8, 0, 8]);
            self.methods.extend(u32::try_from(code.len()).unwrap().to_be_bytes());
            self.methods.extend(code);
            self.methods.extend(u16::from(caught.is_some()).to_be_bytes());
            self.methods.extend(handlers);
            self.methods.extend([0, 0]);
        }
        self.method_count += 1;
    }

    fn entry(mut self, access: u16, name: &str, interfaces: &[&str]) -> Entry {
        let this = self.class(name);
        let above = self.class("java/lang/Object");
        let interfaces: Vec<[u8; 2]> = interfaces.iter().map(|name| self.class(name)).collect();
        let mut out = vec![0xCA, 0xFE, 0xBA, 0xBE, 0, 0, 0, 49];
        out.extend(u16::try_from(self.constants.len() + 1).unwrap().to_be_bytes());
        out.extend(self.constants.concat());
        out.extend(access.to_be_bytes());
        out.extend([this, above].concat());
        out.extend(u16::try_from(interfaces.len()).unwrap().to_be_bytes());
        out.extend(interfaces.concat());
        out.extend(self.field_count.to_be_bytes());
        out.extend(self.fields);
        out.extend(self.method_count.to_be_bytes());
        out.extend(self.methods);
        out.extend([0, 0]);
        deflated(&format!("{name}.class"), &out)
    }
}

/// `new java.sql.Timestamp`, which makes java.sql needed where it runs.
fn asks(class: &mut Class) -> Vec<u8> {
    let [high, low] = class.class("java/sql/Timestamp");
    // new, pop, return
    vec![0xBB, high, low, 0x57, 0xB1]
}

fn scanned(entries: &[Entry], main: &str) -> Report {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("quay.jar");
    fs::write(&path, archive(entries)).unwrap();
    let plan = Plan { inputs: vec![path], entries: vec![main.to_owned()], release: Some(17), ..Plan::default() };
    let begun = Instant::now();
    let report = scan(&plan, &Silent).expect("the scan answers");
    assert!(begun.elapsed() < PATIENCE, "it took {:?}", begun.elapsed());
    report
}

fn standing(report: &Report, module: &str) -> Option<Standing> {
    report.modules.iter().find(|row| row.name == module).map(|row| row.standing)
}

/// Classes times selectors: 20,000 classes of an interface, 15,000 of its methods called. Past the bound nothing may be
/// left out.
#[test]
fn objects_times_calls() {
    const CLASSES: usize = 20_000;
    const CALLS: usize = 15_000;
    let mut main = Class::default();
    let mut creating = Vec::new();
    for number in 0..CLASSES {
        let [high, low] = main.class(&format!("c{number}"));
        creating.extend([0xBB, high, low, 0x57]);
    }
    let mut begin = Vec::new();
    for (number, part) in creating.chunks(4 * 10_000).enumerate() {
        let name = format!("make{number}");
        main.method(STATIC, &name, "()V", &[part, &[0xB1]].concat(), None);
        let [high, low] = main.member(10, "quay", &name, "()V");
        begin.extend([0xB8, high, low]);
    }
    let [high, low] = main.member(10, "calls", "all", "()V");
    begin.extend([0xB8, high, low, 0xB1]);
    main.method(STATIC, "main", "([Ljava/lang/String;)V", &begin, None);
    let mut calls = Class::default();
    let mut calling = Vec::new();
    for number in 0..CALLS {
        let [high, low] = calls.member(11, "tide", &format!("m{number}"), "()V");
        // aconst_null, invokeinterface: four of them fill the operand stack and no more.
        calling.extend([0x01, 0xB9, high, low, 1, 0]);
    }
    let mut all = Vec::new();
    for (number, part) in calling.chunks(6 * 10_000).enumerate() {
        let name = format!("all{number}");
        calls.method(STATIC, &name, "()V", &[part, &[0xB1]].concat(), None);
        let [high, low] = calls.member(10, "calls", &name, "()V");
        all.extend([0xB8, high, low]);
    }
    all.push(0xB1);
    calls.method(STATIC, "all", "()V", &all, None);
    let mut entries = vec![main.entry(0x0021, "quay", &[]), calls.entry(0x0021, "calls", &[])];
    entries.push(Class::default().entry(0x0601, "tide", &[]));
    for number in 0..CLASSES {
        let mut class = Class::default();
        if number == CLASSES - 1 {
            let code = asks(&mut class);
            class.method(0x0001, &format!("m{}", CALLS - 1), "()V", &code, None);
        }
        entries.push(class.entry(0x0021, &format!("c{number}"), &["tide"]));
    }
    assert_eq!(standing(&scanned(&entries, "quay"), "java.sql"), Some(Standing::Needed));
}

/// Names times steps: thousands of guarded look-ups in one method, of a field that holds a thousand names, between
/// thousands of texts.
#[test]
fn names_times_steps() {
    let mut main = Class::default();
    main.field("name", "Ljava/lang/String;");
    let field = main.name_field();
    let mut fill = Vec::new();
    for number in 0..1000 {
        let text = main.text(&format!("tide.C{number}"));
        // ldc_w, putstatic
        fill.extend([0x13, text[0], text[1], 0xB3, field[0], field[1]]);
    }
    fill.push(0xB1);
    main.method(STATIC, "<clinit>", "()V", &fill, None);
    let mut code = main.look_ups_of_field(6000);
    for number in 0..5000 {
        let text = main.text(&format!("tide.D{number}"));
        code.extend([0x13, text[0], text[1], 0x57]);
    }
    // goto around the handler: pop, return
    code.extend([0xB1, 0x57, 0xB1]);
    main.method(STATIC, "main", "([Ljava/lang/String;)V", &code, Some("java/lang/Throwable"));
    let mut entries = vec![main.entry(0x0021, "quay", &[])];
    for (letter, count) in [("C", 1000), ("D", 5000)] {
        entries.extend((0..count).map(|number| Class::default().entry(0x0021, &format!("tide/{letter}{number}"), &[])));
    }
    let report = scanned(&entries, "quay");
    assert_eq!(report.list, ["java.base"]);
}

/// Turns times sites: each class looks up the next one by name, and many look-ups depend on a field to which each class
/// stores one more name.
#[test]
fn turns_times_sites() {
    const LINKS: usize = 1500;
    let mut main = Class::default();
    main.field("name", "Ljava/lang/String;");
    let look_up = main.look_up();
    let mut code = main.look_ups_of_field(6000);
    let first = main.text("tide.L0");
    code.extend([0x13, first[0], first[1], 0xB8, look_up[0], look_up[1], 0x57, 0xB1]);
    main.method(STATIC, "main", "([Ljava/lang/String;)V", &code, None);
    let mut entries = vec![main.entry(0x0021, "quay", &[])];
    for number in 0..LINKS {
        let mut class = Class::default();
        let mut code = Vec::new();
        let (field, look_up) = (class.name_field(), class.look_up());
        let (next, other) = (class.text(&format!("tide.L{}", number + 1)), class.text(&format!("tide.X{number}")));
        code.extend([0x13, next[0], next[1], 0xB8, look_up[0], look_up[1], 0x57]);
        code.extend([0x13, other[0], other[1], 0xB3, field[0], field[1]]);
        if number == LINKS - 1 {
            code.extend(asks(&mut class));
        } else {
            code.push(0xB1);
        }
        class.method(STATIC, "<clinit>", "()V", &code, None);
        entries.push(class.entry(0x0021, &format!("tide/L{number}"), &[]));
    }
    assert_eq!(standing(&scanned(&entries, "quay"), "java.sql"), Some(Standing::Needed));
}

//! Code that no compiler wrote: every wanted place is told once, nothing takes long, no value is large.

use std::time::{Duration, Instant};

use proptest::prelude::*;
use secateur::classfile::{self, ClassFile, Instruction};
use secateur::flow::{self, Called, Event, Outcome, Piece, Value, Wanted, sinks};

use crate::programs;

/// A debug build on a busy machine stays below it by far; what it guards against would take hours.
const PATIENCE: Duration = Duration::from_secs(20);

/// More than any value may hold of others, pieces included.
const LARGE: usize = 2_000;

/// All calls, all stores, all results.
struct Everything;

impl Wanted for Everything {
    fn call(&self, _: &[u8], _: &[u8], _: &[u8]) -> bool {
        true
    }

    fn store(&self, _: &[u8], _: &[u8]) -> bool {
        true
    }

    fn result(&self, _: &[u8], _: &[u8]) -> bool {
        true
    }
}

fn size(value: &Value<'_>) -> usize {
    let all = |values: &[Value<'_>]| values.iter().map(size).sum::<usize>();
    1 + match value {
        Value::Text(pieces) => pieces
            .iter()
            .map(|piece| match piece {
                Piece::Known(bytes) => {
                    assert!(bytes.len() <= 1024);
                    1
                }
                Piece::Of(value) => size(value),
            })
            .sum(),
        Value::Array { elements, .. } => all(elements),
        Value::Element(array) => size(array),
        Value::OneOf(values) => {
            assert!((2..=8).contains(&values.len()) && !values.iter().any(|value| matches!(value, Value::OneOf(_))));
            all(values)
        }
        Value::Result(called) => {
            let Called { receiver, arguments, .. } = &**called;
            receiver.as_ref().map_or(0, size) + all(arguments)
        }
        _ => 0,
    }
}

/// Follows everything, without believing that the file is sound; how many facts were told.
fn follow(bytes: &[u8]) -> usize {
    let (mut pool, mut scratch) = (classfile::Scratch::default(), flow::Scratch::default());
    let Ok(class) = ClassFile::read(bytes, &mut pool) else { return 0 };
    let mut told = 0;
    let _ = flow::facts(&class, Everything, &mut scratch, |_, fact| {
        told += 1;
        match &fact.event {
            Event::Call(call) => {
                let values = call.arguments.iter().chain(&call.receiver);
                assert!(values.map(size).all(|size| size < LARGE));
                if let Some(sink) = sinks::of(call.owner, call.name, call.descriptor) {
                    let names = sink.names(call, (), &flow::resolve::Alone);
                    assert!(names.exact.len() + names.patterns.len() <= 1024);
                }
            }
            Event::Store { value, .. } | Event::Return(value) => assert!(size(value) < LARGE),
        }
    });
    told
}

#[test]
fn damaged_classes_get_an_answer() {
    for (release, name) in
        [(8, "Builder"), (17, "Concatenation"), (17, "InLoop"), (17, "PartOfName"), (17, "Reflected")]
    {
        for bytes in programs::classes(release, name) {
            assert!(follow(&bytes) > 0, "{name}");
            for end in 0..bytes.len() {
                follow(&bytes[..end]);
            }
            let mut changed = bytes.clone();
            for at in 8..bytes.len() {
                for change in [0x01, 0x80, 0xFF] {
                    changed[at] ^= change;
                    follow(&changed);
                    changed[at] = bytes[at];
                }
            }
        }
    }
}

/// Constants, each with its number (JVMS §4.4).
struct Pool {
    bytes: Vec<u8>,
    count: u16,
}

impl Pool {
    fn add(&mut self, tag: u8, content: &[u8]) -> u16 {
        self.bytes.push(tag);
        self.bytes.extend(content);
        self.count += 1;
        self.count
    }

    fn text(&mut self, text: &str) -> u16 {
        let content = [&(text.len() as u16).to_be_bytes(), text.as_bytes()].concat();
        self.add(1, &content)
    }

    fn class(&mut self, name: &str) -> u16 {
        let name = self.text(name);
        self.add(7, &name.to_be_bytes())
    }

    fn member(&mut self, tag: u8, owner: u16, name: &str, descriptor: &str) -> u16 {
        let parts = [self.text(name), self.text(descriptor)].map(u16::to_be_bytes);
        let pair = self.add(12, &parts.concat());
        self.add(tag, &[owner.to_be_bytes(), pair.to_be_bytes()].concat())
    }
}

/// What code in the class of [`Made`] can name.
struct Names {
    builder: u16,
    new_builder: u16,
    append: u16,
    to_string: u16,
    for_name: u16,
    gauge: u16,
    text: u16,
}

/// A method to be put into a class file.
#[derive(Clone, Debug, Default)]
struct Made {
    version: u16,
    descriptor: String,
    code: Vec<u8>,
    /// Start, end, handler, catch type.
    handlers: Vec<[u16; 4]>,
}

fn pool() -> (Pool, Names) {
    let mut pool = Pool { bytes: Vec::new(), count: 0 };
    let builder = pool.class("java/lang/StringBuilder");
    let string = pool.class("java/lang/String");
    let class = pool.class("java/lang/Class");
    let gauge = pool.class("Gauge");
    let tide = pool.text("tide.");
    let text = pool.add(8, &tide.to_be_bytes());
    let new_builder = pool.member(10, builder, "<init>", "()V");
    let append = pool.member(10, builder, "append", "(Ljava/lang/String;)Ljava/lang/StringBuilder;");
    pool.member(10, builder, "append", "(C)Ljava/lang/StringBuilder;");
    pool.member(10, builder, "insert", "(ILjava/lang/String;)Ljava/lang/StringBuilder;");
    let to_string = pool.member(10, builder, "toString", "()Ljava/lang/String;");
    let for_name = pool.member(10, class, "forName", "(Ljava/lang/String;)Ljava/lang/Class;");
    pool.member(10, string, "concat", "(Ljava/lang/String;)Ljava/lang/String;");
    pool.member(10, string, "replace", "(CC)Ljava/lang/String;");
    pool.member(9, gauge, "name", "Ljava/lang/String;");
    pool.member(9, gauge, "level", "J");
    pool.member(11, gauge, "read", "(JLjava/lang/Object;[D)Ljava/lang/Object;");
    (pool, Names { builder, new_builder, append, to_string, for_name, gauge, text })
}

impl Made {
    /// A class file with that one static method (JVMS §4.1).
    fn class(&self) -> Vec<u8> {
        let (mut pool, names) = pool();
        let superclass = pool.class("java/lang/Object");
        let [name, descriptor, attribute] = ["m", &*self.descriptor, "Code"].map(|text| pool.text(text));
        let mut out = vec![0xCA, 0xFE, 0xBA, 0xBE, 0, 0];
        let u2 = |out: &mut Vec<u8>, number: u16| out.extend(number.to_be_bytes());
        u2(&mut out, self.version);
        u2(&mut out, pool.count + 1);
        out.extend(&pool.bytes);
        // Flags, this class, superclass; no interfaces, no fields, one method with one attribute.
        for number in [0x21, names.gauge, superclass, 0, 0, 1, 0x08, name, descriptor, 1, attribute] {
            u2(&mut out, number);
        }
        let length = 12 + self.code.len() + 8 * self.handlers.len();
        out.extend((length as u32).to_be_bytes());
        u2(&mut out, u16::MAX);
        u2(&mut out, u16::MAX);
        out.extend((self.code.len() as u32).to_be_bytes());
        out.extend(&self.code);
        u2(&mut out, self.handlers.len() as u16);
        for number in self.handlers.iter().flatten() {
            u2(&mut out, *number);
        }
        u2(&mut out, 0);
        u2(&mut out, 0);
        out
    }

    /// The outcome, which comes in time, and the facts, which are those of every wanted place.
    fn outcome(&self) -> (Outcome, usize) {
        let bytes = self.class();
        let (mut pool, mut scratch) = (classfile::Scratch::default(), flow::Scratch::default());
        let class = ClassFile::read(&bytes, &mut pool).unwrap();
        let begun = Instant::now();
        let mut told = Vec::new();
        let (unfinished, result) = flow::facts(&class, Everything, &mut scratch, |_, fact| {
            told.push((fact.pc, is_unknown(&fact.event)));
        });
        result.unwrap();
        assert!(begun.elapsed() < PATIENCE, "{:?}", begun.elapsed());
        let places: Vec<u32> = told.iter().map(|(pc, _)| *pc).collect();
        assert_eq!(places, self.places(&class));
        if unfinished > 0 {
            assert!(told.iter().all(|(_, unknown)| *unknown));
        }
        (if unfinished > 0 { Outcome::GaveUp } else { Outcome::Whole }, told.len())
    }

    /// Calls, stores and returned references, read from one to the next instruction.
    fn places(&self, class: &ClassFile<'_>) -> Vec<u32> {
        let mut places = Vec::new();
        let mut pc = 0;
        let returns = self.descriptor.contains(")L");
        while let Some(instruction) = Instruction::at(&self.code, pc) {
            let index = instruction.index();
            let member =
                class.pool.member_ref(index).is_some_and(|member| class.pool.class_name(member.owner).is_some());
            match instruction.opcode {
                0xB0 if returns => places.push(pc),
                0xB3 | 0xB5 | 0xB6..=0xB9 if member => places.push(pc),
                _ => {}
            }
            pc = instruction.next();
        }
        places
    }
}

fn is_unknown(event: &Event<'_>) -> bool {
    match event {
        Event::Call(call) => call.arguments.iter().chain(&call.receiver).all(|value| *value == Value::Unknown),
        Event::Store { value, .. } | Event::Return(value) => *value == Value::Unknown,
    }
}

fn made(code: Vec<u8>) -> Made {
    Made { version: 61, descriptor: "()V".to_owned(), code, ..Made::default() }
}

fn with_index(opcode: u8, index: u16) -> [u8; 3] {
    let [high, low] = index.to_be_bytes();
    [opcode, high, low]
}

/// `Class.forName` of a text, over and over.
fn asks(times: usize) -> Vec<u8> {
    let (_, names) = pool();
    let one = [&with_index(0x13, names.text)[..], &with_index(0xB8, names.for_name), &[0x57]].concat();
    one.repeat(times)
}

/// JVMS §4.7.3: sizes go up to 65535, so that products of two of them are beyond all bounds.
#[test]
fn products_of_sizes_are_bounded() {
    let (_, names) = pool();
    assert_eq!(made([asks(3), vec![0xB1]].concat()).outcome(), (Outcome::Whole, 3));

    // A variable far out, then a switch of 16,000 targets.
    let mut code = vec![0x03, 0xC4, 0x36, 0xFF, 0xFF, 0x03, 0xAA, 0];
    code.extend((48_018_i32).to_be_bytes());
    code.extend(0_i32.to_be_bytes());
    code.extend(11_999_i32.to_be_bytes());
    code.extend((0..12_000_i32).flat_map(|_| (-1_i32).to_be_bytes()));
    code.extend(asks(2));
    code.push(0xB1);
    assert_eq!(made(code).outcome(), (Outcome::GaveUp, 2));

    // A variable far out, then stores and handlers that see all variables.
    let mut code = vec![0x03, 0xC4, 0x36, 0xFF, 0xFF];
    code.extend((0..10_000).flat_map(|_| [0x03, 0x3B, 0x04, 0x3B]));
    code.extend(asks(1));
    code.push(0xB1);
    let handlers = vec![[0, 40_000, 40_005, 0]; 60_000];
    assert_eq!(Made { handlers, ..made(code) }.outcome(), (Outcome::GaveUp, 1));

    // Every branch goes back to the beginning with one more variable.
    let mut code = Vec::new();
    for number in 0..3_600_u16 {
        code.extend([0x03, 0xC4, 0x36]);
        code.extend((u16::MAX - number).to_be_bytes());
        code.extend([0x03, 0x99]);
        code.extend((-(i32::from(number) * 9 + 6)).cast_unsigned().to_be_bytes()[2..].iter());
    }
    code.extend(asks(1));
    code.push(0xB1);
    let _ = made(code).outcome();

    // A text that grows by each of 16,000 pieces; builders by the thousand; an array of as many elements.
    let append = with_index(0xB6, names.append);
    let load = with_index(0x13, names.text);
    let new = [&with_index(0xBB, names.builder)[..], &[0x59], &with_index(0xB7, names.new_builder)].concat();
    let grows = [new.clone(), [&load[..], &append].concat().repeat(10_000), with_index(0xB6, names.to_string).to_vec()];
    let code = [grows.concat(), with_index(0xB8, names.for_name).to_vec(), vec![0x57, 0xB1]].concat();
    assert_eq!(made(code).outcome().0, Outcome::Whole);
    let many = [&new[..], &load, &append, &[0x57]].concat().repeat(4_000);
    let _ = made([many, vec![0xB1]].concat()).outcome();
    let store = [&[0x59, 0x03][..], &load, &[0x53]].concat();
    let array = [vec![0x08], with_index(0xBD, names.gauge).to_vec(), store.repeat(10_000), vec![0x57, 0xB1]].concat();
    let _ = made(array).outcome();

    // A text that a loop makes longer: it comes to rest.
    let body = [&load[..], &append, &[0x03, 0x99]].concat();
    let back = (1 - i32::try_from(body.len()).unwrap()).cast_unsigned().to_be_bytes();
    let tail = [with_index(0xB6, names.to_string), with_index(0xB8, names.for_name), [0x57, 0xB1, 0x00]].concat();
    let code = [new, body, back[2..].to_vec(), tail].concat();
    assert_eq!(made(code).outcome().0, Outcome::Whole);

    // Subroutines, many of them, each reading on to the end for its `ret`.
    let code: Vec<u8> = (0..20_000).flat_map(|_| [0xA8, 0, 3]).chain([0xB1]).collect();
    let _ = Made { version: 48, ..made(code) }.outcome();

    // A stack that only grows.
    assert_eq!(made([vec![0x05; 65_000], vec![0xB1]].concat()).outcome().0, Outcome::Whole);
}

/// What cannot be followed is told all the same.
#[test]
fn unsound_code_is_told_as_unknown() {
    // An empty stack is popped behind the call; a byte is no instruction; the code ends within one.
    for tail in [&[0x57, 0xB1][..], &[0xCB], &[0x11, 0x00]] {
        assert_eq!(made([&asks(2)[..], tail].concat()).outcome(), (Outcome::GaveUp, 2));
    }
    // A place that nothing leads to is told as well.
    assert_eq!(made([&[0xB1][..], &asks(1), &[0xB1]].concat()).outcome(), (Outcome::Whole, 1));
}

/// Operands that lead to constants, more often than chance would have it.
fn code() -> impl Strategy<Value = Vec<u8>> {
    let byte = prop_oneof![any::<u8>(), 0_u8..70, Just(0), 0xA5_u8..0xC9];
    let any_bytes = prop::collection::vec(byte, 0..120);
    let (pool, _) = pool();
    let instruction = prop_oneof![
        (
            prop::sample::select(vec![0x13_u8, 0xB2, 0xB3, 0xB4, 0xB5, 0xB6, 0xB7, 0xB8, 0xBB, 0xBD, 0xC0]),
            1..=pool.count
        )
            .prop_map(|(opcode, index)| with_index(opcode, index).to_vec()),
        prop::sample::select(vec![
            0x01_u8, 0x03, 0x19, 0x2A, 0x2B, 0x32, 0x4B, 0x4C, 0x53, 0x57, 0x59, 0x5A, 0x5F, 0xB0
        ])
        .prop_map(|opcode| vec![opcode]),
        (prop::sample::select(vec![0x99_u8, 0xA7, 0xA8, 0xC6]), -30_i16..30).prop_map(|(opcode, to)| with_index(
            opcode,
            to.cast_unsigned()
        )
        .to_vec()),
    ];
    let likely = prop::collection::vec(instruction, 0..80).prop_map(|list| list.concat());
    prop_oneof![any_bytes, likely]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 3_000, ..ProptestConfig::default() })]

    #[test]
    fn any_code_gets_an_answer(
        version in prop::sample::select(vec![45, 49, 51, 61, 69]),
        code in code(),
        handlers in prop::collection::vec(any::<[u8; 4]>(), 0..4),
        descriptor in prop::sample::select(vec![
            "()V", "(Ljava/lang/String;J[LSluice;)LSluice;", "(D[Ljava/lang/String;)Ljava/lang/Object;", "x", ""
        ]),
    ) {
        let handlers = handlers.into_iter().map(|of| of.map(u16::from)).collect();
        let made = Made { version, descriptor: descriptor.to_owned(), code, handlers };
        let _ = made.outcome();
        follow(&made.class());
    }
}

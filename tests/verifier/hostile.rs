//! Code that no compiler wrote: every answer is one of the outcomes, none takes long, none takes much memory.

use std::fs;
use std::time::{Duration, Instant};

use proptest::prelude::*;
use secateur::classfile::{self, ClassFile, Code, Member, Visitor};
use secateur::verifier::{self, Outcome, Verifier};

use crate::micro;

/// A debug build on a busy machine stays below it by far; what it guards against would take hours.
const PATIENCE: Duration = Duration::from_secs(20);

/// Asks of every method, without believing that the file is sound.
fn ask(bytes: &[u8]) -> (usize, usize) {
    let (mut pool, mut scratch) = (classfile::Scratch::default(), verifier::Scratch::default());
    let Ok(class) = ClassFile::read(bytes, &mut pool) else { return (0, 0) };
    let mut questions = 0;
    let (unfinished, _) = verifier::questions(&class, &mut scratch, |question| {
        assert_ne!(question.source, Some(question.target));
        assert_ne!(question.target, b"java/lang/Object");
        questions += 1;
    });
    (questions, unfinished)
}

fn seeds() -> Vec<Vec<u8>> {
    let folder = micro::compiled();
    let names = ["verifier/SwitchMerge", "verifier/HandlerLocal", "verifier/LongsBefore", "link/MergePoint"];
    names.map(|name| fs::read(folder.join(name).with_extension("class")).unwrap()).into()
}

/// The versions of the three ways: data flow, frames or else data flow, frames.
fn in_all_versions(mut bytes: Vec<u8>) -> impl Iterator<Item = Vec<u8>> {
    [48, 50, 61].into_iter().map(move |version| {
        if let Some(place) = bytes.get_mut(6..8) {
            place.copy_from_slice(&u16::to_be_bytes(version));
        }
        bytes.clone()
    })
}

#[test]
fn damaged_classes_get_an_answer() {
    for seed in seeds() {
        for bytes in in_all_versions(seed) {
            assert!(ask(&bytes).0 > 0);
            for end in 0..bytes.len() {
                ask(&bytes[..end]);
            }
            let mut changed = bytes.clone();
            for at in 8..bytes.len() {
                for change in [0x01, 0x80, 0xFF] {
                    changed[at] ^= change;
                    ask(&changed);
                    changed[at] = bytes[at];
                }
            }
        }
    }
}

/// A method to be put into a class file.
#[derive(Clone, Debug, Default)]
struct Made {
    version: u16,
    max_locals: u16,
    descriptor: String,
    code: Vec<u8>,
    /// Start, end, handler, catch type.
    handlers: Vec<[u16; 4]>,
    /// Content of the `StackMapTable`.
    frames: Option<Vec<u8>>,
}

/// Constants 1 to 24: texts, and what refers to them, so that small operands hit something (JVMS §4.4).
const CONSTANTS: u16 = 25;

impl Made {
    /// A class file with that one static method (JVMS §4.1).
    fn class(&self) -> Vec<u8> {
        let mut out = vec![0xCA, 0xFE, 0xBA, 0xBE, 0, 0];
        let u2 = |out: &mut Vec<u8>, number: u16| out.extend(number.to_be_bytes());
        u2(&mut out, self.version);
        u2(&mut out, CONSTANTS);
        let text = |out: &mut Vec<u8>, text: &str| {
            out.push(1);
            out.extend((text.len() as u16).to_be_bytes());
            out.extend(text.as_bytes());
        };
        for name in ["m", &self.descriptor, "Code", "StackMapTable", "Gauge", "Sluice", "[LGauge;", "java/lang/Object"]
        {
            text(&mut out, name);
        }
        for name in 5..=8_u16 {
            out.push(7);
            out.extend(name.to_be_bytes());
        }
        // 13 to 17: names and descriptors.
        for name in ["<init>", "()V", "(LGauge;JLSluice;)LGauge;", "LGauge;", "D"] {
            text(&mut out, name);
        }
        // 18 to 21: pairs of them; 22 to 24: a constructor, a method and a field.
        for (name, descriptor) in [(13_u16, 14_u16), (1, 15), (1, 16), (1, 17)] {
            out.push(12);
            out.extend(name.to_be_bytes());
            out.extend(descriptor.to_be_bytes());
        }
        for (tag, pair) in [(10, 18_u16), (10, 19), (9, 20)] {
            out.push(tag);
            out.extend(9_u16.to_be_bytes());
            out.extend(pair.to_be_bytes());
        }
        // Flags, this class, superclass; no interfaces, no fields, one method with one attribute.
        for number in [0x21, 10, 12, 0, 0, 1, 0x08, 1, 2, 1, 3] {
            u2(&mut out, number);
        }
        let frames = self.frames.as_ref().map(|frames| frames.len() + 6);
        let length = 12 + self.code.len() + 8 * self.handlers.len() + frames.unwrap_or(0);
        out.extend((length as u32).to_be_bytes());
        u2(&mut out, u16::MAX);
        u2(&mut out, self.max_locals);
        out.extend((self.code.len() as u32).to_be_bytes());
        out.extend(&self.code);
        u2(&mut out, self.handlers.len() as u16);
        for number in self.handlers.iter().flatten() {
            u2(&mut out, *number);
        }
        u2(&mut out, u16::from(frames.is_some()));
        if let Some(frames) = &self.frames {
            u2(&mut out, 4);
            out.extend((frames.len() as u32).to_be_bytes());
            out.extend(frames);
        }
        u2(&mut out, 0);
        out
    }
}

struct Ends<'a, 's> {
    verifier: Verifier<'a, 's>,
    member: Option<Member>,
    outcome: Option<Outcome>,
}

impl<'a> Visitor<'a> for Ends<'a, '_> {
    fn member(&mut self, member: Member) {
        self.member = Some(member);
    }

    fn code(&mut self, code: &Code<'a>) -> bool {
        self.outcome = Some(self.verifier.method(self.member.unwrap(), code, |_| {}));
        false
    }
}

/// The outcome of the one method, which comes in time.
fn outcome(made: &Made) -> Outcome {
    let bytes = made.class();
    let (mut pool, mut scratch) = (classfile::Scratch::default(), verifier::Scratch::default());
    let class = ClassFile::read(&bytes, &mut pool).unwrap();
    let mut ends = Ends { verifier: Verifier::new(&class, &mut scratch), member: None, outcome: None };
    let begun = Instant::now();
    class.walk(&mut ends).unwrap();
    assert!(begun.elapsed() < PATIENCE);
    ends.outcome.unwrap()
}

fn made(version: u16, code: Vec<u8>) -> Made {
    Made { version, max_locals: u16::MAX, descriptor: "()V".to_owned(), code, ..Made::default() }
}

/// A `full_frame` of that many variables of one class at the first instruction, then `same_frame`s, one a byte.
fn frames(variables: u16, further: u16) -> Vec<u8> {
    let mut table = (further + 1).to_be_bytes().to_vec();
    table.extend([255, 0, 0]);
    table.extend(variables.to_be_bytes());
    table.extend((0..variables).flat_map(|_| [7, 0, 9]));
    table.extend([0, 0]);
    table.extend((0..further).map(|_| 0));
    table
}

/// JVMS §4.7.3, §4.7.4: sizes go up to 65535, so that products of two of them are beyond all bounds.
#[test]
fn products_of_sizes_are_bounded() {
    // A switch of 16,000 targets, each with a frame of 65,000 variables.
    let mut code = vec![0x03, 0xAA, 0, 0];
    code.extend((-1_i32).to_be_bytes());
    code.extend(0_i32.to_be_bytes());
    code.extend(15_999_i32.to_be_bytes());
    code.extend((0..16_000).flat_map(|_| (-1_i32).to_be_bytes()));
    let switch = Made { frames: Some(frames(65_000, 0)), ..made(61, code) };
    assert_eq!(outcome(&switch), Outcome::Limited);

    // Frames that each add a variable to a copy of those before, since the one between has taken one away.
    let mut table = 40_001_u16.to_be_bytes().to_vec();
    table.extend(&frames(30_000, 0)[2..]);
    table.extend((0..20_000).flat_map(|_| [250, 0, 0, 252, 0, 0, 1]));
    let copies = Made { frames: Some(table), ..made(61, vec![0; 50_000]) };
    assert_eq!(outcome(&copies), Outcome::Limited);

    // A variable far out, then nothing but constructors and handlers that look at all variables.
    let mut code = vec![0x03, 0xC4, 0x36, 0xFF, 0xFF];
    code.extend((0..6_000).flat_map(|_| [0xBB, 0, 9, 0xB7, 0, 22]));
    code.push(0xB1);
    let covers = vec![[0, 36_000, 36_005, 0]; 60_000];
    for version in [48, 61] {
        assert_eq!(outcome(&made(version, code.clone())), Outcome::Limited);
        let mut small = vec![0x03; 2];
        small.extend((0..20_000).flat_map(|_| [0x3B, 0x03]));
        small.push(0xB1);
        let covered = Made { handlers: covers.clone(), ..made(version, small) };
        assert_ne!(outcome(&covered), Outcome::Whole);
    }

    // Every branch goes back to the beginning with one more variable.
    let mut code = Vec::new();
    for number in 0..7_000_u16 {
        code.extend([0x03, 0xC4, 0x36]);
        code.extend((u16::MAX - number).to_be_bytes());
        code.extend([0x03, 0x99]);
        code.extend((-(i32::from(number) * 9 + 6)).cast_unsigned().to_be_bytes()[2..].iter());
    }
    code.push(0xB1);
    assert_ne!(outcome(&made(48, code)), Outcome::Whole);

    // Subroutines that call each other.
    let code: Vec<u8> = (0..20_000).flat_map(|_| [0xA8, 0, 3]).chain([0xB1]).collect();
    assert_ne!(outcome(&made(48, code)), Outcome::Whole);

    // A stack that only grows.
    assert_eq!(outcome(&made(61, [vec![0x05; 65_000], vec![0xB1]].concat())), Outcome::Whole);
}

/// What cannot be followed is said to be so (JVMS §4.10.1.6, §4.9.1).
#[test]
fn outcomes_tell_where_it_ended() {
    // A branch to a place without a frame; version 50 is followed by data flow instead.
    let code = vec![0x03, 0x99, 0, 3, 0xB1];
    assert_eq!(outcome(&made(61, code.clone())), Outcome::Refused { pc: 1 });
    assert_eq!(outcome(&made(50, code.clone())), Outcome::Whole);
    assert_eq!(outcome(&made(48, code)), Outcome::Whole);
    // An empty stack is popped; a byte is no instruction; the code ends within one; a constant is no class.
    assert_eq!(outcome(&made(61, vec![0x00, 0x57, 0xB1])), Outcome::Refused { pc: 1 });
    assert_eq!(outcome(&made(48, vec![0x00, 0xCB])), Outcome::Refused { pc: 1 });
    assert_eq!(outcome(&made(61, vec![0x00, 0x11, 0x00])), Outcome::Refused { pc: 1 });
    assert_eq!(outcome(&made(61, vec![0x01, 0xC0, 0, 1, 0xB1])), Outcome::Refused { pc: 1 });
    // A subroutine, which version 51 has no more, called twice.
    let code = vec![0xA8, 0, 7, 0xA8, 0, 4, 0xB1, 0x4B, 0xA9, 0];
    assert_eq!(outcome(&made(48, code.clone())), Outcome::Whole);
    assert_eq!(outcome(&made(51, code)), Outcome::Refused { pc: 0 });
}

/// Operands that lead to constants, more often than chance would have it.
fn bytes(most: usize) -> impl Strategy<Value = Vec<u8>> {
    let byte = prop_oneof![any::<u8>(), 0_u8..26, Just(0), 0xA5_u8..0xC9];
    prop::collection::vec(byte, 0..most)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 2_000, ..ProptestConfig::default() })]

    #[test]
    fn any_code_gets_an_answer(
        version in prop::sample::select(vec![45, 49, 50, 51, 61, 69]),
        code in bytes(200),
        frames in prop::option::of(bytes(60)),
        handlers in prop::collection::vec(any::<[u8; 4]>(), 0..4),
        descriptor in prop::sample::select(vec!["()V", "(LGauge;J[LSluice;)LSluice;", "(D", "x", ""]),
    ) {
        let handlers = handlers.into_iter().map(|of| of.map(u16::from)).collect();
        let made = Made { version, max_locals: 9, descriptor: descriptor.to_owned(), code, handlers, frames };
        let _ = outcome(&made);
        ask(&made.class());
    }
}

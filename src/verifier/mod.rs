//! What the JVM's verifier asks when it links a class: is a value of this class good where that class is expected?
//!
//! Most such questions are settled by names alone. The others make the JVM load classes, even for a method that never
//! runs, so a missing one keeps its asker from being linked at all (JVMS §4.10, §5.4.1). This stage follows the
//! verifier through each method and hands over those questions; it sees names and bytes of one class, knows no
//! hierarchy, and therefore leaves open which of them end in a load: [`Question::loads_source`] is what hierarchy adds.
//!
//! Class files from version 50 on are followed from stack map frame to stack map frame (§4.10.1, `check`); older ones,
//! and those of version 50 without usable frames, by data flow (§4.10.2, `infer`). Order and content of questions
//! are those of `HotSpot` (`verificationType.cpp`, `verifier.cpp`; the old verifier's `check_code.c`).
//!
//! Total and bounded, whatever the bytes. Code is believed to be sound: what the JVM would reject is not reported as
//! such, except that [`Outcome`] tells where it could not be followed any further.
//!
//! One check is left out. Access to a protected member of a superclass in another package asks whether the receiver is
//! of the current class (§4.10.1.8). Sound code has then put the same receiver's class to the question against that
//! superclass already, which loads it; only for `java/lang/Object`, which every class is good for, the check is made.
//!
//! The first function to read is [`Verifier::method`]; [`questions`] does it for all methods of a class.

mod asks;
mod check;
mod frames;
mod infer;
mod state;
mod step;
mod subroutine;
mod types;

use crate::classfile::{ClassFile, Code, Error, Member, MemberKind, Position, Visitor};

use asks::{Asked, Asks};
use frames::Frames;
use infer::Flows;
use state::State;
use types::{Names, Type};

/// Steps that one method may take: compared types, merged types, instructions. The largest real methods stay below a
/// tenth of it.
const MOST_WORK: u32 = 1 << 24;

/// Steps that all methods of a class may take.
const MOST_WORK_OF_CLASS: u32 = 1 << 26;

/// Whether one class is good where another is expected, where names alone do not settle it (JVMS §4.10.1.2).
///
/// The answer loads the target, and the source if [`Question::loads_source`] says so.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Question<'a> {
    /// The class of the value, in internal form; `None` if it is an array whose class is not loaded for this.
    pub source: Option<&'a [u8]>,
    /// The class expected, in internal form; never an array, never `java/lang/Object`, never the source itself.
    pub target: &'a [u8],
    /// Where in the method's code, in bytes from its first; for a catch type the beginning of the handler.
    pub pc: u32,
}

impl Question<'_> {
    /// Whether the source is loaded too, given what the target, which is loaded in any case, turns out to be: an
    /// interface is taken for `java/lang/Object` (JVMS §4.10.1.2).
    pub fn loads_source(&self, target_is_interface: bool) -> bool {
        self.source.is_some() && !target_is_interface
    }
}

/// How far a method could be followed. Questions told before the end stand in any case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[must_use]
pub enum Outcome {
    /// To its end.
    Whole,
    /// Up to an instruction that no verifier lets pass: a missing frame, a stack that is too short, a bad constant.
    Refused {
        /// Where, in bytes from the first of the code.
        pc: u32,
    },
    /// Up to the work that one method may cost: only made-up code is as large.
    Limited,
}

/// Why a method is not followed any further.
enum Stop {
    Refused(u32),
    Limited,
}

/// Memory that is used again for one class after another.
#[derive(Debug, Default)]
pub struct Scratch {
    asked: Asked,
    state: State,
    frames: Frames,
    flows: Flows,
    /// The types of the descriptor at hand, slot by slot.
    slots: Vec<Type>,
    /// Where ranges of the exception table begin, sorted.
    starts: Vec<u32>,
}

/// Follows the methods of one class.
#[derive(Debug)]
pub struct Verifier<'a, 's> {
    class: ClassFile<'a>,
    names: Names<'a>,
    scratch: &'s mut Scratch,
    /// What is left for the class.
    work: u32,
}

impl<'a, 's> Verifier<'a, 's> {
    /// Begins a class; the same question is told once for all its methods.
    pub fn new(class: &ClassFile<'a>, scratch: &'s mut Scratch) -> Self {
        scratch.asked.clear();
        Verifier { class: *class, names: Names::new(class), scratch, work: MOST_WORK_OF_CLASS }
    }

    /// Tells the questions that verifying a method asks and that no earlier method of the class has asked.
    pub fn method(&mut self, member: Member, code: &Code<'a>, mut ask: impl FnMut(Question<'a>)) -> Outcome {
        let scratch = &mut *self.scratch;
        let Some(method) = Method::new(&self.class, self.names, member, code, &mut scratch.starts) else {
            return Outcome::Refused { pc: 0 };
        };
        let work = self.work.min(MOST_WORK);
        let mut asks = Asks::new(self.names, &mut scratch.asked, &mut ask, work);
        method.catch_types(&mut asks);
        let result = if self.class.major < 50 {
            infer::follow(&method, &mut scratch.state, &mut scratch.flows, &mut scratch.slots, &mut asks)
        } else {
            let checked =
                check::follow(&method, &mut scratch.state, &mut scratch.frames, &mut scratch.slots, &mut asks);
            match checked {
                // Version 50 may fall back on the old verifier (§4.10).
                Err(Stop::Refused(_)) if self.class.major == 50 => {
                    infer::follow(&method, &mut scratch.state, &mut scratch.flows, &mut scratch.slots, &mut asks)
                }
                checked => checked,
            }
        };
        self.work -= work - asks.work();
        match result {
            Ok(()) => Outcome::Whole,
            Err(Stop::Refused(pc)) => Outcome::Refused { pc },
            Err(Stop::Limited) => Outcome::Limited,
        }
    }
}

/// What stays the same while a method is followed.
struct Method<'a, 'm> {
    names: Names<'a>,
    member: Member,
    code: &'m Code<'a>,
    /// Whether this is an instance initialisation method, whose `this` is yet to be initialised.
    initialiser: bool,
    /// First and last instruction that a handler covers, the latter exclusive.
    covered: (u32, u32),
    /// Where the ranges of handlers begin, sorted.
    starts: &'m [u32],
}

impl<'a, 'm> Method<'a, 'm> {
    /// `None` if the head of the method or the length of its code is nothing the JVM takes (JVMS §4.7.3).
    fn new(
        class: &ClassFile<'a>,
        names: Names<'a>,
        member: Member,
        code: &'m Code<'a>,
        starts: &'m mut Vec<u32>,
    ) -> Option<Self> {
        if code.bytes.is_empty() || code.bytes.len() > usize::from(u16::MAX) {
            return None;
        }
        let initialiser = class.pool.utf8(member.name)? == b"<init>" && class.name()? != types::OBJECT_NAME;
        starts.clear();
        starts.extend(code.handlers.iter().map(|handler| u32::from(handler.start)));
        starts.sort_unstable();
        let end = code.handlers.iter().map(|handler| u32::from(handler.end)).max().unwrap_or(0);
        let covered = (starts.first().copied().unwrap_or(0), end);
        Some(Method { names, member, code, initialiser, covered, starts })
    }

    /// What a handler catches must be throwable (§4.10.1.4), whether or not anything is ever caught.
    fn catch_types(&self, asks: &mut Asks<'a, '_>) {
        for handler in self.code.handlers.iter().filter(|handler| handler.catch_type != 0) {
            if let Some(caught) = self.names.class(handler.catch_type) {
                asks.assign(caught, Type::THROWABLE, u32::from(handler.handler));
            }
        }
    }

    /// The state in which the method begins (§4.10.1.6).
    fn entry(&self, state: &mut State, slots: &mut Vec<Type>) -> Result<(), Stop> {
        state.clear();
        if self.member.access & 0x0008 == 0 {
            state.locals.push(if self.initialiser { Type::UNINITIALIZED_THIS } else { self.names.this });
        }
        self.names.parameters(self.member.descriptor, slots).ok_or(Stop::Refused(0))?;
        state.locals.extend_from_slice(slots);
        Ok(())
    }

    /// Whether the handlers have to be looked at before or after this instruction: only if it is covered, and if the
    /// local variables have changed or another range has begun since they were looked at last.
    fn handlers_due(&self, pc: u32, changed: bool) -> bool {
        pc >= self.covered.0 && pc < self.covered.1 && (changed || self.starts.binary_search(&pc).is_ok())
    }
}

/// Tells the questions that linking a class asks, each once, and how many methods could not be followed to their end.
///
/// The error is that of the class file; what was told before it stands.
pub fn questions<'a>(
    class: &ClassFile<'a>,
    scratch: &mut Scratch,
    ask: impl FnMut(Question<'a>),
) -> (usize, Result<(), Error>) {
    let mut methods = Methods { verifier: Verifier::new(class, scratch), member: None, ask, unfinished: 0 };
    let result = class.walk(&mut methods);
    (methods.unfinished, result)
}

struct Methods<'a, 's, F> {
    verifier: Verifier<'a, 's>,
    member: Option<Member>,
    ask: F,
    unfinished: usize,
}

impl<'a, F: FnMut(Question<'a>)> Visitor<'a> for Methods<'a, '_, F> {
    fn wants(_: Position) -> bool {
        false
    }

    fn member(&mut self, member: Member) {
        self.member = Some(member).filter(|member| member.kind == MemberKind::Method);
    }

    fn code(&mut self, code: &Code<'a>) -> bool {
        if let Some(member) = self.member
            && self.verifier.method(member, code, &mut self.ask) != Outcome::Whole
        {
            self.unfinished += 1;
        }
        false
    }
}

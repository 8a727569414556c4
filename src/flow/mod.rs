//! Constants on their way to calls: what is known of arguments, of values stored to fields, and of results, from one
//! method's code.
//!
//! A name that a program looks up by reflection is seldom written where it is used. This stage follows values through
//! local variables, conditionals, builders, concatenations and arrays of one method (an abstract interpretation of its
//! code, JVMS §6.5) and says of each wanted call what its arguments are. What comes from elsewhere, such as parameters,
//! fields and results, is named as such, so that [`resolve`] can go on there when somebody knows all of the program.
//! Following constants to reflective calls is from Livshits, Whaley and Lam, "Reflection Analysis for Java" (APLAS
//! 2005); keeping parts of names from Smaragdakis et al. (APLAS 2015), see `text`.
//!
//! It sees bytes of one class, and knows no hierarchy, no other class and no platform. Total and bounded, whatever the
//! bytes: where code is not sound or too much, every wanted place is told all the same, with unknown values.
//!
//! The first function to read is [`facts`]; [`sinks`] lists the calls of the platform that take names.

mod bootstraps;
mod format;
mod known;
mod machine;
mod members;
mod nodes;
pub mod resolve;
mod run;
mod shape;
pub mod sinks;
mod state;
mod tell;
mod text;
mod value;

use crate::classfile::{
    ClassFile, Code, Error, Instruction, Member, MemberKind, Pool, Position, Tag, Visitor, descriptor,
};

use bootstraps::Bootstraps;
use machine::{Callee, Machine};
use nodes::{Node, Nodes};
use run::Flows;
use state::State;

pub use members::Members;
pub use value::{Called, Name, Piece, Value};

/// Steps that one method may take: instructions, slots copied or merged. Where everything is wanted of 142,730 real
/// classes, none of their methods meets it, and all but five stay below a tenth of it.
const MOST_WORK: u32 = 1 << 22;

/// Steps that all methods of a class may take.
const MOST_WORK_OF_CLASS: u32 = 1 << 24;

/// Members that are looked for in code one by one, which is quicker than taking its instructions apart.
const FEW_WANTED: usize = 6;

/// What somebody wants to know. Names are as the class file has them: owners in internal form.
pub trait Wanted {
    /// The arguments of calls to that method, looked up in that class.
    fn call(&self, owner: &[u8], name: &[u8], descriptor: &[u8]) -> bool;

    /// The values stored to that field.
    #[expect(unused_variables, reason = "what is not wanted need not be named")]
    fn store(&self, owner: &[u8], name: &[u8]) -> bool {
        false
    }

    /// The values that the method of this class with that name gives back.
    #[expect(unused_variables, reason = "what is not wanted need not be named")]
    fn result(&self, name: &[u8], descriptor: &[u8]) -> bool {
        false
    }
}

impl<F: Fn(&[u8], &[u8], &[u8]) -> bool> Wanted for F {
    fn call(&self, owner: &[u8], name: &[u8], descriptor: &[u8]) -> bool {
        self(owner, name, descriptor)
    }
}

/// Something wanted, in a method's code. Each place is told once, in the order of the code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fact<'a> {
    /// Where, in bytes from the first of the code.
    pub pc: u32,
    /// What happens there.
    pub event: Event<'a>,
}

/// What happens at a wanted place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Event<'a> {
    /// A method is called.
    Call(Call<'a>),
    /// A field is written.
    Store {
        /// The class that the field is looked up in.
        owner: &'a [u8],
        /// Its name.
        name: &'a [u8],
        /// Whether it is a static field.
        is_static: bool,
        /// What is written.
        value: Value<'a>,
    },
    /// The method gives back a reference.
    Return(Value<'a>),
}

/// A wanted call.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Call<'a> {
    /// The instruction (JVMS §6.5): `invokevirtual` is 0xB6, `invokespecial` 0xB7, `invokestatic` 0xB8,
    /// `invokeinterface` 0xB9.
    pub opcode: u8,
    /// The class that the method is looked up in.
    pub owner: &'a [u8],
    /// Its name.
    pub name: &'a [u8],
    /// Its descriptor.
    pub descriptor: &'a [u8],
    /// What it is called on; `None` for a static method.
    pub receiver: Option<Value<'a>>,
    /// One value a parameter.
    pub arguments: Vec<Value<'a>>,
}

/// How far a method could be followed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[must_use]
pub enum Outcome {
    /// To its end, or there was nothing to follow.
    Whole,
    /// Its code is not sound, or too much; what was wanted of it has been told with unknown values.
    GaveUp,
}

/// Too much work.
#[derive(Debug)]
struct Stop;

/// Memory that is used again for one class after another.
#[derive(Debug, Default)]
pub struct Scratch {
    /// By index into the constant pool.
    wanted: Vec<bool>,
    /// The indices of those that are, as long as they are few.
    few: Vec<u16>,
    nodes: Nodes,
    state: State,
    flows: Flows,
    sites: Vec<u32>,
}

/// Follows the methods of one class.
#[derive(Debug)]
pub struct Follower<'a, 's, W> {
    class: ClassFile<'a>,
    wanted: W,
    /// Whether the pool refers to a member that is wanted.
    refers: bool,
    /// Read when the first method is followed.
    bootstraps: Option<Bootstraps<'a>>,
    scratch: &'s mut Scratch,
    /// What is left for the class.
    work: u32,
}

impl<'a, 's, W: Wanted> Follower<'a, 's, W> {
    /// Begins a class: looks up which of the members that it refers to are wanted.
    pub fn new(class: &ClassFile<'a>, wanted: W, scratch: &'s mut Scratch) -> Self {
        let pool = class.pool;
        scratch.wanted.clear();
        scratch.wanted.extend((0..pool.len()).map(|index| {
            let is_field = match pool.tag(index) {
                Some(Tag::Methodref | Tag::InterfaceMethodref) => false,
                Some(Tag::Fieldref) => true,
                _ => return false,
            };
            let Some(Callee { owner, name, descriptor, .. }) = Callee::of(pool, index) else { return false };
            if is_field { wanted.store(owner, name) } else { wanted.call(owner, name, descriptor) }
        }));
        let wanted_ones = scratch.wanted.iter().zip(0_u16..).filter(|(wanted, _)| **wanted).map(|(_, index)| index);
        scratch.few.clear();
        scratch.few.extend(wanted_ones.take(FEW_WANTED + 1));
        let refers = !scratch.few.is_empty();
        Follower { class: *class, wanted, refers, bootstraps: None, scratch, work: MOST_WORK_OF_CLASS }
    }

    /// Whether the methods so far took half of the steps that one of them may take, or more.
    pub fn is_strained(&self) -> bool {
        MOST_WORK_OF_CLASS - self.work >= MOST_WORK / 2
    }

    /// Whether the class refers to any member that is wanted; results aside, its code need not be looked at otherwise.
    pub fn refers(&self) -> bool {
        self.refers
    }

    /// Whether the method has something that is wanted, which is quickly told of most; it may still turn out not to.
    pub fn concerns(&self, member: Member, code: &Code<'_>) -> bool {
        self.returns(member) || self.may_refer(code)
    }

    fn returns(&self, member: Member) -> bool {
        let pool = self.class.pool;
        let text = pool.utf8(member.descriptor).unwrap_or_default();
        matches!(descriptor::result(text), Some([b'L' | b'[', ..]))
            && self.wanted.result(pool.utf8(member.name).unwrap_or_default(), text)
    }

    fn may_refer(&self, code: &Code<'_>) -> bool {
        let few = &self.scratch.few;
        few.len() > FEW_WANTED || few.iter().any(|&index| has_operand(code.bytes, index))
    }

    /// Tells what is wanted of a method. Code without anything that is wanted is not followed.
    pub fn method(&mut self, member: Member, code: &Code<'a>, mut tell: impl FnMut(Fact<'a>)) -> Outcome {
        let pool = self.class.pool;
        let returns = self.returns(member);
        if !returns && !self.may_refer(code) {
            return Outcome::Whole;
        }
        let text = pool.utf8(member.descriptor).unwrap_or_default();
        let Scratch { wanted, nodes, state, flows, sites, .. } = &mut *self.scratch;
        let sound = find_sites(code, wanted, returns, sites);
        if sites.is_empty() {
            return Outcome::Whole;
        }
        let bootstraps = self.bootstraps.get_or_insert_with(|| Bootstraps::of(&self.class));
        nodes.clear();
        let work = self.work.min(MOST_WORK);
        let mut machine = Machine { pool, bootstraps, nodes, state, work };
        let mut facts: Vec<Fact<'a>> = Vec::new();
        let followed = sound
            && enter(member, text, &mut machine).is_ok()
            && run::follow(code, &mut machine, flows, sites, |machine, instruction| {
                facts.extend(tell::fact(machine, instruction)?);
                Ok(())
            })
            .is_ok();
        self.work -= work - machine.work;
        // Each site is told, also one that nothing leads to, and all of a method that could not be followed.
        if !followed {
            facts.clear();
        }
        let mut facts = facts.into_iter().peekable();
        for &site in &*sites {
            match facts.next_if(|fact| fact.pc == site) {
                Some(fact) => tell(fact),
                None => tell::unknown(pool, code, site).into_iter().for_each(&mut tell),
            }
        }
        if followed { Outcome::Whole } else { Outcome::GaveUp }
    }
}

/// Whether two bytes stand behind one that may be an instruction which uses a member other than reading a field.
fn has_operand(bytes: &[u8], index: u16) -> bool {
    let [high, low] = index.to_be_bytes();
    memchr::memchr_iter(low, bytes).any(|at| {
        let before = at.checked_sub(2).and_then(|from| bytes.get(from..at));
        matches!(before, Some(&[0xB3 | 0xB5..=0xB9, above]) if above == high)
    })
}

/// Where something wanted happens, in ascending order; whether the code can be read to its end.
fn find_sites(code: &Code<'_>, wanted: &[bool], returns: bool, sites: &mut Vec<u32>) -> bool {
    sites.clear();
    let mut pc = 0;
    while let Some(instruction) = Instruction::at(code.bytes, pc) {
        let is_site = match instruction.opcode {
            // putstatic, putfield, calls but for invokedynamic
            0xB3 | 0xB5 | 0xB6..=0xB9 => wanted.get(usize::from(instruction.index())).is_some_and(|&wanted| wanted),
            // areturn
            0xB0 => returns,
            _ => false,
        };
        if is_site {
            sites.push(pc);
        }
        pc = instruction.next();
    }
    pc as usize == code.bytes.len()
}

/// The state in which a method begins.
fn enter(member: Member, text: &[u8], machine: &mut Machine<'_, '_>) -> Result<(), Stop> {
    machine.state.clear();
    // ACC_STATIC
    if member.access & 0x0008 == 0 {
        let this = machine.nodes.add(Node::This)?;
        machine.state.locals.push(this);
    }
    for (parameter, number) in descriptor::parameters(text).zip(0_u16..) {
        let id = machine.nodes.add(Node::Parameter(number))?;
        machine.state.locals.push(id);
        if machine::width(parameter) == 2 {
            machine.state.locals.push(Nodes::UNKNOWN);
        }
    }
    Ok(())
}

/// Tells what is wanted of all methods of a class, and how many of them could not be followed.
///
/// The error is that of the class file; what was told before it stands.
pub fn facts<'a>(
    class: &ClassFile<'a>,
    wanted: impl Wanted,
    scratch: &mut Scratch,
    tell: impl FnMut(Member, Fact<'a>),
) -> (usize, Result<(), Error>) {
    let mut methods = Methods { follower: Follower::new(class, wanted, scratch), member: None, tell, unfinished: 0 };
    let result = class.walk(&mut methods);
    (methods.unfinished, result)
}

struct Methods<'a, 's, W, F> {
    follower: Follower<'a, 's, W>,
    member: Option<Member>,
    tell: F,
    unfinished: usize,
}

impl<'a, W: Wanted, F: FnMut(Member, Fact<'a>)> Visitor<'a> for Methods<'a, '_, W, F> {
    fn wants(_: Position) -> bool {
        false
    }

    fn wants_code(&self) -> bool {
        let pool: Pool<'a> = self.follower.class.pool;
        let result = |member: Member| {
            let (name, text) = (pool.utf8(member.name), pool.utf8(member.descriptor));
            self.follower.wanted.result(name.unwrap_or_default(), text.unwrap_or_default())
        };
        self.follower.refers || self.member.is_some_and(result)
    }

    fn member(&mut self, member: Member) {
        self.member = Some(member).filter(|member| member.kind == MemberKind::Method);
    }

    fn code(&mut self, code: &Code<'a>) -> bool {
        if let Some(member) = self.member {
            let tell = &mut self.tell;
            let outcome = self.follower.method(member, code, |fact| tell(member, fact));
            self.unfinished += usize::from(outcome == Outcome::GaveUp);
        }
        false
    }
}

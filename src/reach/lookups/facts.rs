//! Reads a class again for what is wanted of it, and keeps that as small values of its own.
//!
//! The first function to read is [`read`].

use std::cell::RefCell;
use std::hash::BuildHasher;
use std::sync::LazyLock;

use rustc_hash::FxBuildHasher;

use super::super::again::{self, Again};
use super::families::Families;
use crate::classfile::{self, ClassFile, Member, MemberKind, Pool, Position, Tag, Visitor};
use crate::diag::Diagnostic;
use crate::flow::sinks::{self, Purpose, Sink};
use crate::flow::{self, Call, Event, Fact, Follower, Outcome, Value, Wanted};
use crate::program::{Class, ClassId, Guard, Guards, MethodId, NameId, Reference};

/// Facts kept of one class; what is beyond is left out, and [`Read::cut`] says so.
const MOST_FACTS: usize = 1 << 14;

/// Calls wanted of a class that are compared one by one, which is quicker than looking names up while they are few.
const FEW_CALLS: usize = 16;

/// Methods by which a loader is asked for a class (Java SE API, `java.lang.ClassLoader`).
const LOADS: [&str; 2] = ["loadClass", "findClass"];

/// The row for loaders.
static LOADER: LazyLock<Option<&'static Sink>> =
    LazyLock::new(|| sinks::of(b"java/lang/ClassLoader", b"loadClass", b"(Ljava/lang/String;)Ljava/lang/Class;"));

/// A field that is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct FieldJob {
    /// The number of the demand.
    pub demand: u32,
    /// The class by which it was named.
    pub owner: NameId,
    pub name: Box<[u8]>,
}

/// What is wanted of a class.
#[derive(Clone, Debug, Default)]
pub(super) struct Job {
    /// Calls of the table.
    pub sinks: bool,
    /// Arguments of calls; sorted before the class is read.
    pub calls: Vec<Reference>,
    pub fields: Vec<FieldJob>,
    /// Results of its own methods; sorted before the class is read.
    pub results: Vec<MethodId>,
}

impl Job {
    /// Whether nothing is wanted.
    pub(super) fn is_empty(&self) -> bool {
        !self.sinks && self.calls.is_empty() && self.fields.is_empty() && self.results.is_empty()
    }
}

/// A call of the table.
#[derive(Clone, Debug)]
pub(super) struct SinkCall {
    pub method: MethodId,
    pub pc: u32,
    pub sink: &'static Sink,
    pub guard: Guard,
    pub opcode: u8,
    pub owner: NameId,
    pub descriptor: Box<[u8]>,
    pub receiver: Option<Value<'static>>,
    pub arguments: Vec<Value<'static>>,
}

/// What a class has of what was wanted.
#[derive(Debug, Default)]
pub(super) struct Read {
    pub sinks: Vec<SinkCall>,
    /// Arguments of calls, and the method that they stand in.
    pub calls: Vec<(Reference, MethodId, Vec<Value<'static>>)>,
    /// Values of fields by demand; a constant value (JVMS §4.7.2) stands in no method.
    pub stores: Vec<(u32, Option<MethodId>, Value<'static>)>,
    /// Fields by demand that the class declares, with their access flags and their text as a member.
    pub declared: Vec<(u32, u16, Vec<u8>)>,
    pub results: Vec<(MethodId, Value<'static>)>,
    /// What it has to do with fields, if it was asked for fields and could be read to its end.
    pub fields: Option<FieldNames>,
    /// Whether something was left out.
    pub cut: bool,
    /// Whether a method could not be followed, or all of them together took half of what one may take.
    pub strained: bool,
    pub finding: Option<Diagnostic>,
}

impl Read {
    /// Whether it is far below every limit, so that there would be the same if more had been wanted.
    pub(super) fn is_small(&self) -> bool {
        let facts = self.sinks.len() + self.calls.len() + self.stores.len() + self.results.len();
        !self.cut && !self.strained && facts < MOST_FACTS / 2
    }

    /// Both together, of two readings of one class for different things.
    pub(super) fn and(mut self, other: Read) -> Read {
        self.sinks.extend(other.sinks);
        self.calls.extend(other.calls);
        self.stores.extend(other.stores);
        self.declared.extend(other.declared);
        self.results.extend(other.results);
        Read {
            fields: self.fields.or(other.fields),
            cut: self.cut || other.cut,
            strained: self.strained || other.strained,
            finding: self.finding.or(other.finding),
            ..self
        }
    }
}

/// The names of the fields that a class declares or refers to, by their hashes in ascending order: of the many classes
/// that might write a field, most turn out not to know its name.
#[derive(Debug)]
pub(super) struct FieldNames(Box<[u32]>);

impl FieldNames {
    fn of(pool: Pool<'_>, declared: &[u32]) -> Self {
        let name = |index| match pool.tag(index) {
            Some(Tag::Fieldref) => pool.member_ref(index).map(|field| hash(field.name)),
            _ => None,
        };
        let mut names: Vec<u32> = (0..pool.len()).filter_map(name).chain(declared.iter().copied()).collect();
        names.sort_unstable();
        names.dedup();
        FieldNames(names.into())
    }

    /// False if there is nothing of that in the class.
    pub(super) fn may_have(&self, job: &Job) -> bool {
        job.sinks
            || !job.calls.is_empty()
            || !job.results.is_empty()
            || job.fields.iter().any(|field| self.0.binary_search(&hash(&field.name)).is_ok())
    }
}

fn hash(name: &[u8]) -> u32 {
    let full = FxBuildHasher.hash_one(name);
    (full ^ (full >> 32)) as u32
}

/// Reads classes, in parallel; answers stand in the order of the jobs.
pub(super) fn read(families: &Families<'_>, again: &Again<'_, flow::Scratch>, jobs: &[(ClassId, &Job)]) -> Vec<Read> {
    let of = |file: &ClassFile<'_>, class: &Class, &(_, job): &(ClassId, &Job), scratch: &mut flow::Scratch| {
        collect(families, file, class, job, scratch)
    };
    let all = again.each(jobs, |(class, _)| *class, of);
    let failed = |finding: Box<Diagnostic>| Read { cut: true, finding: Some(*finding), ..Read::default() };
    all.into_iter().map(|read| read.unwrap_or_else(failed)).collect()
}

/// What a class has of what is wanted.
pub(super) fn collect(
    families: &Families<'_>,
    file: &ClassFile<'_>,
    class: &Class,
    job: &Job,
    scratch: &mut flow::Scratch,
) -> Read {
    let want = Want::new(families, job);
    let mut collector = Collector {
        families,
        class,
        job,
        pool: file.pool,
        follower: Follower::new(file, &want, scratch),
        want: &want,
        member: None,
        ordinal: 0,
        fields: Vec::new(),
        read: Read::default(),
    };
    // A fault within the file has been told when the program was read; what stands before it holds.
    let whole = file.walk(&mut collector).is_ok();
    let Collector { mut read, fields, .. } = collector;
    read.cut |= !whole;
    read.fields = (whole && !job.fields.is_empty()).then(|| FieldNames::of(file.pool, &fields));
    read
}

/// What the follower is to stop at.
struct Want<'w> {
    families: &'w Families<'w>,
    job: &'w Job,
    /// Owner and member of each call that is wanted.
    calls: Vec<(&'w [u8], &'w [u8])>,
    /// Name and descriptor of each method whose results are.
    results: Vec<&'w [u8]>,
    text: RefCell<Vec<u8>>,
}

impl<'w> Want<'w> {
    fn new(families: &'w Families<'w>, job: &'w Job) -> Self {
        let program = families.program;
        let text = |called: &Reference| (program.names.name(called.owner), program.members.name(called.member));
        let method = |&id: &MethodId| Some(program.members.name(program.method(id)?.selector));
        Want {
            families,
            job,
            calls: job.calls.iter().map(text).collect(),
            results: job.results.iter().filter_map(method).collect(),
            text: RefCell::default(),
        }
    }

    /// A member of the program by name and descriptor.
    fn member(&self, name: &[u8], descriptor: &[u8]) -> Option<NameId> {
        let mut text = self.text.borrow_mut();
        text.clear();
        text.extend_from_slice(name);
        text.extend_from_slice(descriptor);
        self.families.program.members.find(&text)
    }

    fn reference(&self, owner: &[u8], name: &[u8], descriptor: &[u8]) -> Option<Reference> {
        if self.calls.len() > FEW_CALLS {
            let owner = self.families.program.names.find(owner)?;
            let reference = Reference { owner, member: self.member(name, descriptor)? };
            return self.job.calls.binary_search(&reference).ok().map(|_| reference);
        }
        let fits = |(of, member): &(&[u8], &[u8])| *of == owner && is_joined(member, name, descriptor);
        let at = self.calls.iter().position(fits)?;
        self.job.calls.get(at).copied()
    }

    fn sink(&self, owner: &[u8], name: &[u8], descriptor: &[u8]) -> Option<(NameId, &'static Sink)> {
        if !self.job.sinks {
            return None;
        }
        let sink = sinks::of(owner, name, descriptor)?;
        let owner = self.families.program.names.find(owner)?;
        self.families.inherits(owner, sink).then_some((owner, sink))
    }

    fn fields(&self, owner: &[u8], name: &[u8]) -> impl Iterator<Item = u32> {
        let named = self.job.fields.iter().filter(move |field| *field.name == *name);
        // Nearly all fields have another name.
        let mut known = None;
        named
            .filter(move |field| {
                let owner = *known.get_or_insert_with(|| self.families.program.names.find(owner));
                owner.is_some_and(|owner| self.families.related(owner, field.owner))
            })
            .map(|field| field.demand)
    }
}

/// Whether a member is that name and descriptor.
fn is_joined(member: &[u8], name: &[u8], descriptor: &[u8]) -> bool {
    member.len() == name.len() + descriptor.len() && member.starts_with(name) && member.ends_with(descriptor)
}

impl Wanted for &Want<'_> {
    fn call(&self, owner: &[u8], name: &[u8], descriptor: &[u8]) -> bool {
        self.sink(owner, name, descriptor).is_some() || self.reference(owner, name, descriptor).is_some()
    }

    fn store(&self, owner: &[u8], name: &[u8]) -> bool {
        self.fields(owner, name).next().is_some()
    }

    fn result(&self, name: &[u8], descriptor: &[u8]) -> bool {
        self.results.iter().any(|member| is_joined(member, name, descriptor))
    }
}

/// Walks the class and keeps what the follower tells.
struct Collector<'a, 's, 'w> {
    families: &'w Families<'w>,
    class: &'w Class,
    job: &'w Job,
    pool: Pool<'a>,
    follower: Follower<'a, 's, &'w Want<'w>>,
    want: &'w Want<'w>,
    member: Option<Member>,
    /// Methods begun so far.
    ordinal: usize,
    /// Hashes of the names of its fields, where those are asked for.
    fields: Vec<u32>,
    read: Read,
}

impl Collector<'_, '_, '_> {
    fn field_names<'n>(&self, name: &'n [u8]) -> impl Iterator<Item = u32> + use<'_, 'n> {
        self.job.fields.iter().filter(move |field| *field.name == *name).map(|field| field.demand)
    }
}

impl<'a> Visitor<'a> for Collector<'a, '_, '_> {
    fn wants(_: Position) -> bool {
        false
    }

    fn wants_code(&self) -> bool {
        self.follower.refers() || !self.job.results.is_empty()
    }

    fn member(&mut self, member: Member) {
        self.member = Some(member);
        if member.kind == MemberKind::Method {
            self.ordinal += 1;
        } else if let (Some(name), Some(descriptor)) = (self.pool.utf8(member.name), self.pool.utf8(member.descriptor))
        {
            if self.job.fields.is_empty() {
                return;
            }
            self.fields.push(hash(name));
            let text = [name, b":", descriptor].concat();
            let declared: Vec<_> = self.field_names(name).map(|demand| (demand, member.access, text.clone())).collect();
            self.read.declared.extend(declared);
        }
    }

    fn constant_value(&mut self, constant: u16) {
        let name = self.member.and_then(|member| self.pool.utf8(member.name));
        if let (Some(text), Some(name)) = (self.pool.string(constant), name) {
            let stores: Vec<_> = self.field_names(name).map(|demand| (demand, None, Value::text(text))).collect();
            self.read.stores.extend(stores);
        }
    }

    fn code(&mut self, code: &classfile::Code<'a>) -> bool {
        let Some(member) = self.member.filter(|member| member.kind == MemberKind::Method) else { return false };
        if !self.follower.concerns(member, code) {
            return false;
        }
        let number = again::number(self.families.program, self.class, self.ordinal - 1, self.pool, member);
        let Some(method) = number else { return false };
        let (pool, want, read) = (self.pool, self.want, &mut self.read);
        let mut guards = None;
        let initialiser = pool.utf8(member.name) == Some(b"<clinit>");
        // A loader that looks for the name that it is itself asked for hands the look-up on: whoever calls it looks up.
        let is_loader = LOADS.iter().any(|name| pool.utf8(member.name) == Some(name.as_bytes()))
            && LOADER.as_ref().is_some_and(|sink| want.families.inherits(self.class.name, sink));
        let hands_on: &[&str] = if is_loader { &LOADS } else { &[] };
        let is_own = |arguments: &[Value<'_>]| arguments.first() == Some(&Value::Parameter(0));
        let tell = |fact: Fact<'a>| {
            if read.sinks.len() + read.calls.len() + read.stores.len() + read.results.len() >= MOST_FACTS {
                read.cut = true;
                return;
            }
            match fact.event {
                Event::Call(call) => {
                    let Call { opcode, owner, name, descriptor, receiver, arguments } = call;
                    let reference = want.reference(owner, name, descriptor);
                    let sink = want.sink(owner, name, descriptor);
                    let sink = sink.filter(|(_, sink)| !(hands_on.contains(&sink.name) && is_own(&arguments)));
                    let arguments: Vec<_> = arguments.into_iter().map(Value::into_owned).collect();
                    if let Some(reference) = reference {
                        read.calls.push((reference, method, arguments.clone()));
                    }
                    if let Some((owner, sink)) = sink {
                        let guards = guards.get_or_insert_with(|| Guards::of(pool, code));
                        let loads = sink.purpose == Purpose::Load;
                        let guard = if loads { guards.at_look_up(fact.pc, initialiser) } else { guards.at(fact.pc) };
                        let receiver = receiver.map(Value::into_owned);
                        let (pc, descriptor) = (fact.pc, descriptor.into());
                        read.sinks.push(SinkCall {
                            method,
                            pc,
                            sink,
                            guard,
                            opcode,
                            owner,
                            descriptor,
                            receiver,
                            arguments,
                        });
                    }
                }
                Event::Store { owner, name, value, .. } => {
                    let value = value.into_owned();
                    read.stores.extend(want.fields(owner, name).map(|demand| (demand, Some(method), value.clone())));
                }
                Event::Return(value) => read.results.push((method, value.into_owned())),
            }
        };
        // What cannot be followed is told with unknown values.
        let outcome = self.follower.method(member, code, tell);
        self.read.strained |= outcome == Outcome::GaveUp || self.follower.is_strained();
        false
    }
}

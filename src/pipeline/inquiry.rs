//! Puts what can run, the files and the launch to the table of needs. The first function to read is [`ask`].

use std::borrow::Cow;

use rayon::prelude::*;

use crate::archive::{ArchiveId, Reader, Scope, effective};
use crate::diag::Findings;
use crate::limits::Limits;
use crate::needs::{self, Answer, Fact, Facts, Inquiry, Launch, Owner, Where};
use crate::platform::Catalogue;
use crate::program::{Action, Interner, MethodId, NameId, Program, Reference, ResourceText, View, name_and_descriptor};
use crate::reach::Reach;

/// Supertypes looked at for one question.
const MOST_SUPERTYPES: usize = 4096;

/// Names that one worker takes at a time.
const CHUNK: usize = 8192;

/// Asks about everything.
pub(super) fn ask(
    (program, view, catalogue): (&Program, &View, &Catalogue),
    (reach, texts): (&Reach, &[ResourceText]),
    launch: &Launch,
    limits: &Limits,
    findings: &mut Findings,
) -> Answer {
    let mut inquiry = Inquiry::new(catalogue.release);
    let files = texts.chunk_by(|one, other| (one.archive, &one.path) == (other.archive, &other.path)).collect();
    inquiry.methods(&Reached { program, view, catalogue, reach, files, wanted: Wanted::of(program) });
    let mut reader = Reader::new(limits);
    for (archive, number) in program.archives.iter().zip(0..) {
        for entry in effective(archive, catalogue.release)
            .filter(|entry| !entry.is_class() && needs::wants_resource(&entry.path))
        {
            match reader.read(archive, entry) {
                Ok(bytes) => inquiry.resource(ArchiveId(number), &entry.path, bytes),
                Err(finding) => findings.extend([*finding]),
            }
        }
        // Only the launcher reads these headers, and only of the archive that it starts.
        if let Some(manifest) = archive.manifest.as_ref().filter(|_| archive.parent.is_none()) {
            inquiry.manifest(ArchiveId(number), manifest);
        }
    }
    inquiry.launch(launch);
    inquiry.finish()
}

/// The methods that can run, and behind them the files that hold what the table asks for, as it sees them.
struct Reached<'p> {
    program: &'p Program,
    view: &'p View,
    catalogue: &'p Catalogue,
    reach: &'p Reach,
    /// The texts of each file.
    files: Vec<&'p [ResourceText]>,
    wanted: Wanted,
}

impl<'p> Reached<'p> {
    /// The texts of the file that has a number.
    fn file(&self, number: u32) -> Option<&'p [ResourceText]> {
        self.files.get((number as usize).checked_sub(self.program.methods.len())?).copied()
    }
}

/// What can matter to the table, by number. Methods do millions of steps with some hundred thousand names, and nearly
/// none of them is asked for.
struct Wanted {
    owners: Vec<Owner>,
    /// Of members: whether they matter as inherited ones.
    members: Vec<bool>,
    /// Of names of classes: whether they matter as texts.
    texts: Vec<bool>,
}

impl Wanted {
    fn of(program: &Program) -> Wanted {
        let Program { names, members, .. } = program;
        let numbers = |of: &Interner| (0..of.len() as u32).into_par_iter().with_min_len(CHUNK).map(NameId);
        let inherited = |id| {
            let (name, descriptor) = name_and_descriptor(members.name(id))?;
            Some(needs::wants_call(b"", name, descriptor))
        };
        Wanted {
            owners: numbers(names).map(|id| needs::owner(names.name(id))).collect(),
            members: numbers(members).map(|id| inherited(id).unwrap_or(false)).collect(),
            texts: numbers(names).map(|id| needs::wants_text(names.name(id))).collect(),
        }
    }

    fn owner(&self, of: Reference) -> Owner {
        self.owners.get(of.owner.0 as usize).copied().unwrap_or_default()
    }

    fn call(&self, called: Reference) -> bool {
        let Owner { calls, inherited, .. } = self.owner(called);
        calls || inherited && is_set(&self.members, called.member)
    }
}

fn is_set(flags: &[bool], id: NameId) -> bool {
    flags.get(id.0 as usize) == Some(&true)
}

impl Facts for Reached<'_> {
    fn methods(&self) -> impl Iterator<Item = u32> {
        let methods = self.program.methods.len() as u32;
        let reached = (0..methods).filter(|&number| self.reach.method(MethodId(number)).is_some());
        reached.chain((methods..).take(self.files.len()))
    }

    fn is_file(&self, number: u32) -> bool {
        self.file(number).is_some()
    }

    fn is_own(&self, number: u32) -> bool {
        let archive = match self.file(number).and_then(<[_]>::first) {
            Some(text) => Some(text.archive),
            None => self.program.archive_of(MethodId(number)),
        };
        archive.is_some_and(|archive| self.reach.is_own(archive))
    }

    fn place(&self, number: u32) -> Where {
        match self.file(number).and_then(<[_]>::first) {
            Some(text) => Where::Resource(text.archive, (&*text.path).into()),
            None => Where::Method(number),
        }
    }

    fn class_of(&self, method: u32) -> u32 {
        // No class has the number of a file.
        self.program.method(MethodId(method)).map_or(u32::MAX - method, |method| method.class.0)
    }

    fn visit(&self, method: u32, see: &mut dyn FnMut(Fact<'_>)) {
        let (program, wanted) = (self.program, &self.wanted);
        for text in self.file(method).unwrap_or_default() {
            see(Fact::Text(text.text.as_bytes()));
        }
        let mut steps = program.steps(MethodId(method)).peekable();
        while let Some(step) = steps.next() {
            if let Some(called) = step.action.called().filter(|&called| wanted.call(called)) {
                let (owner, member) = self.member(called);
                let (name, descriptor) = name_and_descriptor(member).unwrap_or((member, &[]));
                see(Fact::Call { owner, name, descriptor });
            }
            match step.action {
                Action::StaticField(field) if wanted.owner(field).fields => {
                    let (owner, member) = self.member(field);
                    let mut parts = member.split(|&byte| byte == b':');
                    if let Some(name) = parts.next() {
                        let of = parts.next().unwrap_or_default();
                        let passed = steps.peek().is_some_and(|next| self.takes(next.action, of));
                        see(Fact::Field { owner, name, passed });
                    }
                }
                Action::Text(text) => see(Fact::Text(program.texts.name(text))),
                Action::ClassName(name) if is_set(&wanted.texts, name) => see(Fact::Text(program.names.name(name))),
                // A call site is made with the texts of its bootstrap method.
                Action::Bootstrap(bootstrap) => {
                    for step in program.steps(bootstrap) {
                        if let Action::Text(text) = step.action {
                            see(Fact::Text(program.texts.name(text)));
                        }
                    }
                }
                _ => {}
            }
        }
    }

    fn is_subtype(&self, class: &[u8], of: &[u8]) -> bool {
        let mut due: Vec<Cow<'_, [u8]>> = vec![Cow::Borrowed(class)];
        let mut at = 0;
        while let Some(name) = due.get(at).cloned() {
            if *name == *of {
                return true;
            }
            at += 1;
            let mut add = |name| {
                if due.len() < MOST_SUPERTYPES && !due.contains(&name) {
                    due.push(name);
                }
            };
            let own = self.program.names.find(&name).and_then(|id| self.view.find(Scope::default(), id));
            if let Some(class) = own.and_then(|id| self.program.class(id)) {
                let names = class.superclass.iter().chain(class.interfaces.iter());
                names.for_each(|&name: &NameId| add(Cow::Borrowed(self.program.names.name(name))));
            } else if let Some(known) = self.catalogue.platform_type(&name) {
                known
                    .superclass
                    .iter()
                    .chain(&known.interfaces)
                    .for_each(|name| add(Cow::Owned(name.as_bytes().to_vec())));
            }
        }
        false
    }
}

impl Reached<'_> {
    /// Whether an action is a call that takes a value of that type. A constructor keeps what it is given.
    fn takes(&self, action: Action, of: &[u8]) -> bool {
        let (Action::StaticCall(called) | Action::VirtualCall(called)) = action else { return false };
        let descriptor = name_and_descriptor(self.member(called).1).map(|(_, descriptor)| descriptor);
        let parameters = descriptor.and_then(|text| text.split(|&byte| byte == b')').next()).unwrap_or_default();
        memchr::memmem::find(parameters, of).is_some()
    }

    fn member(&self, Reference { owner, member }: Reference) -> (&[u8], &[u8]) {
        (self.program.names.name(owner), self.program.members.name(member))
    }
}

//! Which names reach calls that look something up: `Class.forName`, loaders, services, resources, proxies, members.
//!
//! Only classes with a method that can run and calls such a thing are read again. Where a name comes from a parameter, a
//! field or a result, the classes that may give it are read for that, and so on as far as [`crate::flow::resolve`] goes:
//! one or two levels are what helpers of real programs have. What methods that cannot run would give does not count until
//! they can. Following constants between methods on demand is from Livshits, Whaley and Lam, "Reflection Analysis for
//! Java" (APLAS 2005).
//!
//! It knows nothing of modules, and of the platform only the table of such calls. The first function to read is
//! [`LookUps::follow`].

mod ahead;
mod environment;
mod facts;
mod families;
mod fields;
mod index;
mod values;

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use crate::diag::Findings;
use crate::flow::resolve::{Names, texts};
use crate::flow::sinks::{Argument, Purpose, Sink};
use crate::flow::{self, Call, Members};
use crate::limits::Limits;
use crate::program::{ClassId, Guard, MethodId, Program, View};
use crate::reach::again::Again;
use crate::reach::sorted::Sorted;

use ahead::{Ahead, Sources};
use environment::{Asked, Asking};
use facts::{FieldNames, Job, Read, SinkCall};
use families::Families;
use index::Index;
use values::{Demand, Jobs, Values};

/// Names that calls are resolved to, each time that more is known of them counted anew. Beyond it no call is resolved
/// again, and those that would be may name anything. Real programs stay far below.
const MOST_WORK: usize = 1 << 24;

/// A call that looks something up by name, in a method that can run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LookUp {
    /// The method that has the call.
    pub method: MethodId,
    /// Where in its code.
    pub pc: u32,
    /// What is called.
    pub sink: &'static Sink,
    /// What it names, as [`Sink::names`] has it. Without any name nothing, or nothing yet, is known.
    pub names: Names,
    /// What protects the call: for one that loads, against `ClassNotFoundException`; for others against
    /// `NoClassDefFoundError`.
    pub guard: Guard,
    /// For a call that looks up a member by its name, the names known of it; empty for those that list all members and
    /// where none is known.
    pub members: Vec<Vec<u8>>,
}

/// The values that the program reads as properties under a key.
pub type Properties<'p> = &'p (dyn Fn(&[u8]) -> Vec<Vec<u8>> + Sync);

/// Is told of methods that can run and classes that are initialised, as soon as they are.
pub type Tell<'t> = &'t mut dyn FnMut(&[MethodId], &[ClassId]);

/// All look-ups of a program's methods, followed further whenever more methods can run.
pub struct LookUps<'p> {
    families: Families<'p>,
    again: Again<'p, flow::Scratch>,
    properties: Properties<'p>,
    index: Index,
    values: Values,
    ahead: Ahead,
    /// By class, whether it has been read for its calls.
    read: Vec<bool>,
    /// Of classes that have been read for fields.
    field_names: FxHashMap<ClassId, FieldNames>,
    sites: Vec<Site>,
    /// Those for a purpose, ascending.
    by_purpose: BTreeMap<Purpose, Vec<usize>>,
    /// By demand, the sites whose names depend on it or once did.
    dependents: Vec<Vec<usize>>,
    /// See [`MOST_WORK`].
    work: usize,
    /// The sites of a method, as a range of all.
    by_method: FxHashMap<MethodId, (usize, usize)>,
}

/// A call in a class that has been read; its method need not be one that can run.
struct Site {
    call: SinkCall,
    names: Names,
    members: BTreeSet<Vec<u8>>,
    /// Demands that its names depend on, ascending.
    used: Vec<u32>,
    resolved: bool,
}

/// What a site turned out to name.
struct Resolved {
    names: Names,
    members: BTreeSet<Vec<u8>>,
    /// Demands that it depends on and that have been made before.
    used: Vec<u32>,
    /// Those that have not.
    asked: Vec<Demand>,
}

impl<'p> LookUps<'p> {
    /// Nothing is followed yet.
    pub fn new(
        program: &'p Program,
        view: &'p View,
        sorted: &'p Sorted<'p>,
        limits: &Limits,
        properties: Properties<'p>,
    ) -> Self {
        LookUps {
            families: Families::new(program, view, sorted),
            again: Again::new(program, limits),
            properties,
            index: Index::new(program),
            values: Values::default(),
            ahead: Ahead::default(),
            read: vec![false; program.classes.len()],
            field_names: FxHashMap::default(),
            sites: Vec::new(),
            by_purpose: BTreeMap::new(),
            dependents: Vec::new(),
            work: 0,
            by_method: FxHashMap::default(),
        }
    }

    /// Begins to read what [`LookUps::follow`] will want, while `settle` finds out what can run and tells of it, in lots of
    /// about as many methods as it is given. What is to be done about classes that are initialised is done `beside`.
    pub fn read_ahead(&mut self, settle: impl FnOnce(usize, Tell<'_>), beside: &(dyn Fn(&[ClassId]) + Sync)) {
        let LookUps { families, again, index, values, read, .. } = self;
        self.ahead = Ahead::of(&Sources { families, again, index, values, read }, settle, beside);
    }

    /// Follows what can be followed by now. `new` are the methods that can run since the last call, in any order; if
    /// [`LookUps::read_ahead`] has been told of any of them, then of all. `reached` says of any method whether it can.
    ///
    /// The answer has the look-ups for which there are more names than before, ascending by method and place, and those
    /// that take no name when they are met first. It is the same for any number of threads.
    pub fn follow(
        &mut self,
        reached: &(dyn Fn(MethodId) -> bool + Sync),
        new: &[MethodId],
        findings: &mut Findings,
    ) -> Vec<LookUp> {
        let mut jobs = Jobs::new();
        let mut ahead = std::mem::take(&mut self.ahead);
        let mut parts = std::mem::take(&mut ahead.segments);
        if parts.is_empty() {
            parts = self.index.scan_all(&self.families, new);
        }
        for class in self.index.add(&self.families, new, parts) {
            if let Some(read @ false) = self.read.get_mut(class.0 as usize) {
                *read = true;
                jobs.entry(class).or_default().sinks = true;
            }
        }
        self.values.grow(&self.families, &self.index, reached, &mut jobs);
        let begun = new.iter().filter_map(|method| self.by_method.get(method));
        let mut due: Vec<usize> = begun.flat_map(|&(start, end)| start..end).collect();
        let mut grown = BTreeSet::new();
        // Every demand is made once and every class read once for it; both are bounded, so this comes to an end.
        loop {
            let ahead = std::mem::take(&mut ahead);
            due.extend(self.read_classes(std::mem::take(&mut jobs), ahead, reached, findings, &mut jobs));
            let changed = self.values.take_changed();
            for &at in changed.iter().filter_map(|&id| self.dependents.get(id as usize)).flatten() {
                if self.work < MOST_WORK {
                    due.push(at);
                } else if let Some(site) = self.sites.get_mut(at) {
                    site.names.unknown = true;
                }
            }
            due.sort_unstable();
            due.dedup();
            if due.is_empty() {
                break;
            }
            let resolved: Vec<Resolved> = due.par_iter().filter_map(|&at| self.resolve(at, reached)).collect();
            for (at, mut resolved) in due.drain(..).zip(resolved) {
                let mut used = std::mem::take(&mut resolved.used);
                for demand in &resolved.asked {
                    used.extend(self.values.ask(demand, &self.families, &self.index, &mut jobs));
                }
                let Some(site) = self.sites.get_mut(at) else { continue };
                self.work += 1 + resolved.names.exact.len() + resolved.names.patterns.len();
                for &id in used.iter().filter(|id| site.used.binary_search(id).is_err()) {
                    let id = id as usize;
                    if id >= self.dependents.len() {
                        self.dependents.resize_with(id + 1, Vec::new);
                    }
                    if let Some(dependents) = self.dependents.get_mut(id) {
                        dependents.push(at);
                    }
                }
                if site.learn(resolved, used) {
                    grown.insert(at);
                }
            }
        }
        let mut found: Vec<LookUp> = grown.iter().filter_map(|&at| self.sites.get(at)).map(Site::look_up).collect();
        found.sort_by_key(|look_up| (look_up.method, look_up.pc));
        found
    }

    /// Look-ups of methods that can run and that may name more than what is known, ascending by method and place: a name
    /// that is given where nothing else is configured says nothing of what is.
    pub fn opaque(&self, reached: &dyn Fn(MethodId) -> bool) -> Vec<LookUp> {
        let is_opaque = |site: &&Site| site.resolved && site.names.unknown && reached(site.call.method);
        let mut found: Vec<LookUp> = self.sites.iter().filter(is_opaque).map(Site::look_up).collect();
        found.sort_by_key(|look_up| (look_up.method, look_up.pc));
        found
    }

    /// Whether there is such a look-up for one of these purposes.
    pub fn has_opaque(&self, reached: &dyn Fn(MethodId) -> bool, purposes: &[Purpose]) -> bool {
        self.opaque_for(purposes).any(|(method, _)| reached(method))
    }

    /// The methods with such look-ups for one of these purposes, whether or not they can run, and which members they list.
    pub fn opaque_for(&self, purposes: &[Purpose]) -> impl Iterator<Item = (MethodId, Members)> {
        let opaque = self.resolved_for(purposes).filter(|site| site.names.unknown);
        opaque.map(|site| (site.call.method, site.call.sink.members))
    }

    /// The sites for one of these purposes of which it has been found out what they name.
    fn resolved_for(&self, purposes: &[Purpose]) -> impl Iterator<Item = &Site> {
        let sites = purposes.iter().filter_map(|purpose| self.by_purpose.get(purpose)).flatten();
        sites.filter_map(|&at| self.sites.get(at)).filter(|site| site.resolved)
    }

    /// Reads classes; the sites in them that count.
    fn read_classes(
        &mut self,
        jobs: Jobs,
        ahead: Ahead,
        reached: &dyn Fn(MethodId) -> bool,
        findings: &mut Findings,
        next: &mut Jobs,
    ) -> Vec<usize> {
        let mut jobs: Vec<_> = jobs.into_iter().collect();
        for (_, job) in &mut jobs {
            let Job { calls, results, .. } = job;
            calls.sort_unstable();
            results.sort_unstable();
        }
        let mut due = Vec::new();
        let reads = self.read_jobs(&jobs, ahead);
        for (job, mut read) in jobs.iter().zip(reads) {
            if let Some(names) = read.fields.take() {
                self.field_names.insert(job.0, names);
            }
            findings.extend(read.finding.take());
            for call in std::mem::take(&mut read.sinks) {
                let at = self.sites.len();
                self.by_method.entry(call.method).or_insert((at, at)).1 = at + 1;
                if reached(call.method) {
                    due.push(at);
                }
                self.by_purpose.entry(call.sink.purpose).or_default().push(at);
                self.sites.push(Site::new(call));
            }
            self.values.take(job, read, &self.families, &self.index, reached, next);
        }
        due
    }

    /// What classes have of what is wanted of them. Of what has been read ahead only the rest is read.
    fn read_jobs(&self, jobs: &[(ClassId, Job)], mut ahead: Ahead) -> Vec<Read> {
        let (values, index) = (&self.values, &self.index);
        let ahead = jobs.iter().map(|(class, job)| ahead.take(*class, job, values, index));
        let (mut reads, left): (Vec<Read>, Vec<Option<Vec<Job>>>) = ahead.unzip();
        let is_worth = |class: &ClassId, job: &Job| {
            !job.is_empty() && self.field_names.get(class).is_none_or(|names| names.may_have(job))
        };
        let parts = |at: usize| {
            let (class, job) = jobs.get(at)?;
            let parts = left.get(at)?.as_deref().unwrap_or(std::slice::from_ref(job)).iter();
            Some(parts.filter(|part| is_worth(class, part)).map(move |part| (at, (*class, part))))
        };
        let (places, todo): (Vec<usize>, Vec<(ClassId, &Job)>) = (0..jobs.len()).filter_map(parts).flatten().unzip();
        for (at, read) in places.into_iter().zip(facts::read(&self.families, &self.again, &todo)) {
            if let Some(slot) = reads.get_mut(at) {
                *slot = std::mem::take(slot).and(read);
            }
        }
        reads
    }

    /// What a site names, by all that is known.
    fn resolve(&self, at: usize, reached: &(dyn Fn(MethodId) -> bool + Sync)) -> Option<Resolved> {
        let SinkCall { method, sink, opcode, owner, descriptor, receiver, arguments, .. } = &self.sites.get(at)?.call;
        let asking = Asking {
            values: &self.values,
            families: &self.families,
            reached,
            properties: self.properties,
            asked: RefCell::default(),
        };
        let call = Call {
            opcode: *opcode,
            owner: self.families.program.names.name(*owner),
            name: sink.name.as_bytes(),
            descriptor,
            receiver: receiver.clone(),
            arguments: arguments.clone(),
        };
        let names = sink.names(&call, *method, &asking);
        // The name stands first, or behind the class that a look-up object takes.
        let member = match sink.argument {
            _ if sink.purpose != Purpose::Introspect => None,
            Argument::At(0) => call.arguments.get(1),
            _ => call.arguments.first().filter(|_| descriptor.starts_with(b"(Ljava/lang/String;")),
        };
        let members = member.map(|value| texts(value, *method, &asking).exact).unwrap_or_default();
        let Asked { known: mut used, new: mut asked } = asking.asked.into_inner();
        used.sort_unstable();
        used.dedup();
        asked.sort_unstable();
        asked.dedup();
        Some(Resolved { names, members, used, asked })
    }
}

impl Site {
    fn new(call: SinkCall) -> Self {
        Site { call, names: Names::default(), members: BTreeSet::new(), used: Vec::new(), resolved: false }
    }

    /// Whether there is more than before. Names once known stay, so that the answer only ever grows.
    fn learn(&mut self, resolved: Resolved, mut used: Vec<u32>) -> bool {
        used.sort_unstable();
        self.used = used;
        let before = self.names.exact.len() + self.names.patterns.len() + self.members.len();
        self.names.exact.extend(resolved.names.exact);
        self.names.patterns.extend(resolved.names.patterns);
        self.names.unknown = resolved.names.unknown;
        self.members.extend(resolved.members);
        let first = !std::mem::replace(&mut self.resolved, true);
        let after = self.names.exact.len() + self.names.patterns.len() + self.members.len();
        after > before || first && self.call.sink.argument == Argument::Nowhere
    }

    fn look_up(&self) -> LookUp {
        let SinkCall { method, pc, sink, guard, .. } = self.call;
        LookUp { method, pc, sink, guard, names: self.names.clone(), members: self.members.iter().cloned().collect() }
    }
}

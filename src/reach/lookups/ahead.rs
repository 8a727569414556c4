//! Reads classes while others still find out what can run.
//!
//! Which classes are wanted for their calls follows from the methods that can run, and what a class has from the class
//! alone. So both can be found as soon as a method can run, on threads that have nothing else to do; how far they have
//! come by then changes nothing, since everything is waited for. The first function to read is [`Ahead::of`].

use std::sync::atomic::{AtomicU8, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};

use rayon::Scope;
use rustc_hash::FxHashMap;

use super::super::again::Again;
use super::Tell;
use super::facts::{self, Job, Read};
use super::families::Families;
use super::index::{Index, Segment};
use super::values::Values;
use crate::flow;
use crate::program::{ClassId, MethodId, Reference};

/// Methods that are looked at together.
const LOT: usize = 1024;

/// Classes that are looked at together.
const CLASSES: usize = 256;

/// What a class is read for, one bit each. Whether it is read once for both or twice is a matter of chance.
const SINKS: u8 = 1;
const CALLS: u8 = 2;

/// What has been read ahead.
#[derive(Default)]
pub(super) struct Ahead {
    /// What the methods refer to, in no order.
    pub(super) segments: Vec<Segment>,
    /// What each class has been read for, and what it has; nothing if that is too much to be kept.
    read: FxHashMap<ClassId, Vec<(u8, Option<Read>)>>,
}

/// What tells what to read, none of which changes meanwhile.
pub(super) struct Sources<'s> {
    pub(super) families: &'s Families<'s>,
    pub(super) again: &'s Again<'s, flow::Scratch>,
    pub(super) index: &'s Index,
    pub(super) values: &'s Values,
    /// By class, whether it has been read for its calls of the table.
    pub(super) read: &'s [bool],
}

/// Those who read.
struct Readers<'r> {
    sources: &'r Sources<'r>,
    /// By class, what somebody reads it for.
    taken: Vec<AtomicU8>,
    done: Mutex<Ahead>,
}

impl Ahead {
    /// Reads while `settle` tells of methods that can run by now, in lots of about the size that it is given.
    pub(super) fn of(
        sources: &Sources<'_>,
        settle: impl FnOnce(usize, Tell<'_>),
        beside: &(dyn Fn(&[ClassId]) + Sync),
    ) -> Self {
        let taken = sources.read.iter().map(|_| AtomicU8::new(0)).collect();
        let readers = Readers { sources, taken, done: Mutex::default() };
        rayon::in_place_scope(|scope| {
            settle(LOT, &mut |methods: &[MethodId], classes: &[ClassId]| {
                for lot in methods.chunks(LOT) {
                    let (lot, readers) = (lot.to_vec(), &readers);
                    scope.spawn(move |scope| readers.look_at(&lot, scope));
                }
                for lot in classes.chunks(CLASSES) {
                    let lot = lot.to_vec();
                    scope.spawn(move |_| beside(&lot));
                }
            });
        });
        readers.done.into_inner().unwrap_or_else(PoisonError::into_inner)
    }

    /// What has been read for a job, and what is left of it, part by part if it is not all.
    ///
    /// The parts are the same whether or not one of them could be kept, so that what there is of each is, too.
    pub(super) fn take(
        &mut self,
        class: ClassId,
        job: &Job,
        values: &Values,
        index: &Index,
    ) -> (Read, Option<Vec<Job>>) {
        let Some(readings) = self.read.remove(&class) else { return (Read::default(), None) };
        let has = |part: u8| readings.iter().any(|(what, _)| what & part != 0);
        let is_done = |called: &Reference| has(CALLS) && values.had_asked(*called, index);
        let (done, calls): (Vec<Reference>, _) = job.calls.iter().partition(|called| is_done(called));
        let rest = Job { sinks: job.sinks && !has(SINKS), calls, ..job.clone() };
        let (mut found, mut left) = (Read::default(), vec![rest]);
        for (what, read) in readings {
            let was_kept = read.is_some();
            let read = read.unwrap_or_default();
            if what & SINKS != 0 {
                found.sinks = read.sinks;
                left.extend((!was_kept).then(|| Job { sinks: true, ..Job::default() }));
            }
            if what & CALLS != 0 {
                // Methods that cannot run yet have had their calls read as well.
                let is_wanted = |called: &Reference| done.binary_search(called).is_ok();
                found.calls = read.calls.into_iter().filter(|(called, ..)| is_wanted(called)).collect();
                left.extend((!was_kept).then(|| Job { calls: done.clone(), ..Job::default() }));
            }
        }
        (found, Some(left))
    }
}

impl Readers<'_> {
    fn done(&self) -> MutexGuard<'_, Ahead> {
        self.done.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn look_at<'s>(&'s self, methods: &[MethodId], scope: &Scope<'s>) {
        let Sources { families, index, values, read, .. } = *self.sources;
        let segment = index.scan(families, methods);
        let sinks = segment.sinks.iter().filter(|class| read.get(class.0 as usize) == Some(&false));
        let sinks = sinks.map(|&class| (class, SINKS));
        // Most are calls that nobody has asked for.
        let awaited = segment.uses.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1)).filter_map(|uses| {
            let &(member, owner, _) = uses.first()?;
            values.awaited(Reference { owner, member }).map(|calls| (uses, calls))
        });
        let awaited = awaited.flat_map(|(uses, calls)| uses.iter().filter(|&&(.., class)| calls.awaits(class)));
        let mut wanted: Vec<(ClassId, u8)> = sinks.chain(awaited.map(|&(.., class)| (class, CALLS))).collect();
        wanted.sort_unstable();
        for some in wanted.chunk_by(|(one, _), (other, _)| one == other) {
            let (class, what) = some.iter().fold((ClassId(0), 0), |(_, all), &(class, what)| (class, all | what));
            let what = self.take(class, what);
            if what != 0 {
                scope.spawn(move |_| self.read(class, what));
            }
        }
        self.done().segments.push(segment);
    }

    /// What of that nobody else reads a class for.
    fn take(&self, class: ClassId, what: u8) -> u8 {
        self.taken.get(class.0 as usize).map_or(0, |taken| what & !taken.fetch_or(what, Ordering::Relaxed))
    }

    fn read(&self, class: ClassId, what: u8) {
        let Sources { families, again, .. } = *self.sources;
        let calls = if what & CALLS != 0 { self.calls_of(class) } else { Vec::new() };
        let job = Job { sinks: what & SINKS != 0, calls, ..Job::default() };
        let read = again.read(class, |file, class, scratch| facts::collect(families, file, class, &job, scratch));
        // Near the limits it makes a difference what else is read, and a fault is told of once: then each part is read
        // again by itself, later on.
        let read = read.ok().filter(Read::is_small);
        self.done().read.entry(class).or_default().push((what, read));
    }

    /// All calls that a class may be read for before there are more demands.
    fn calls_of(&self, id: ClassId) -> Vec<Reference> {
        let Sources { families: Families { program, .. }, values, .. } = *self.sources;
        let methods = program.class(id).into_iter().flat_map(|class| program.methods_of(class));
        let called = methods.flat_map(|(method, _)| program.steps(method)).filter_map(|step| step.action.called());
        let mut calls: Vec<Reference> =
            called.filter(|&called| values.awaited(called).is_some_and(|calls| calls.awaits(id))).collect();
        calls.sort_unstable();
        calls.dedup();
        calls
    }
}

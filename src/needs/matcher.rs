//! Rules against the methods that can run: one pass that collects what each method meets, then the joining of what
//! stands in one class or in the whole program.
//!
//! The first function to read is [`found`].

use std::ops::ControlFlow;

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::index::INDEX;
use super::rules::{At, Items, RULES, Rule, UNLESS};
use super::table::Scope;
use super::words::{Met, Words};
use super::{Fact, Facts};

/// Methods that one worker takes at a time.
const CHUNK: usize = 8192;

/// A method at which a rule fires.
pub(super) struct Found {
    /// Position of the need in the table.
    pub need: u16,
    pub rule: u16,
    pub method: u32,
    /// Whether all conditions are met in the method or need not be, and the rule is not one of likelihood.
    pub certain: bool,
    /// What met the conditions, in their order.
    met: Vec<Met>,
}

impl Found {
    /// Whether names of classes are all that was met.
    pub fn by_name(&self) -> bool {
        let conditions = RULES.get(usize::from(self.rule)).map(|rule| &*rule.conditions).unwrap_or_default();
        conditions.iter().all(|condition| matches!(condition.items, Items::Names(_)))
    }

    /// What matched, in words.
    pub fn phrase(&self, words: &Words) -> String {
        let rule = RULES.get(usize::from(self.rule));
        let conditions = rule.map(|rule| &*rule.conditions).unwrap_or_default();
        words.phrase(conditions.iter().map(|condition| &condition.items).zip(self.met.iter().copied()))
    }
}

/// A method that meets what must be met in one method.
struct Candidate {
    rule: u16,
    method: u32,
    class: u32,
    here: Vec<(u8, u32)>,
}

/// What decides whether rules fire at a method or file.
#[derive(Clone, Copy)]
struct Kind {
    is_file: bool,
    is_own: bool,
}

/// A fact of a method that meets a condition.
#[derive(Clone, Copy)]
struct Seen {
    at: At,
    word: u32,
    /// Whether it is a value that goes right into a call, and so into no list.
    is_passed: bool,
}

#[derive(Default)]
struct Wide {
    classes: FxHashMap<(u32, At), u32>,
    program: FxHashMap<At, u32>,
}

/// All methods at which rules of the release fire, by rule and method.
pub(super) fn found(facts: &impl Facts, release: u16, words: &mut Words) -> Vec<Found> {
    let active: Vec<bool> = RULES.iter().map(|rule| rule.row().is_some_and(|need| need.on(release))).collect();
    let active = |at: At| active.get(usize::from(at.rule)).copied().unwrap_or(false);
    let mut subtypes = Subtypes::default();
    let mut wide = Wide::default();
    let mut candidates = Vec::new();
    let mut seen: Vec<Seen> = Vec::new();
    for method in meeting(facts, release, &active) {
        seen.clear();
        facts.visit(method, &mut |fact| {
            let mut own = None;
            let is_passed = matches!(fact, Fact::Field { passed: true, .. });
            let tell = |at: At| {
                if active(at) {
                    seen.push(Seen { at, word: *own.get_or_insert_with(|| words.of(fact)), is_passed });
                }
                ControlFlow::Continue(())
            };
            let _ = subtypes.meets(facts, fact, release, tell);
        });
        // Stable: of facts that meet one condition the first stays.
        seen.sort_by_key(|seen| seen.at);
        let class = facts.class_of(method);
        let kind = Kind { is_file: facts.is_file(method), is_own: facts.is_own(method) };
        for met in seen.chunk_by(|one, other| one.at.rule == other.at.rule) {
            candidates.extend(note(met, (method, kind), class, &mut wide));
        }
    }
    let mut found: Vec<Found> = candidates.iter().filter_map(|candidate| join(candidate, &wide)).collect();
    found.sort_by_key(|found| (found.rule, found.method));
    found
}

/// The methods that meet anything, which few do, in ascending order.
fn meeting(facts: &impl Facts, release: u16, active: &(impl Fn(At) -> bool + Sync)) -> Vec<u32> {
    let all: Vec<u32> = facts.methods().collect();
    let of_chunk = |methods: &[u32]| {
        let mut subtypes = Subtypes::default();
        let mut meets = |method: u32| {
            let mut any = false;
            facts.visit(method, &mut |fact| {
                let tell = |at: At| if active(at) { ControlFlow::Break(()) } else { ControlFlow::Continue(()) };
                any = any || subtypes.meets(facts, fact, release, tell).is_break();
            });
            any
        };
        methods.iter().copied().filter(|&method| meets(method)).collect::<Vec<u32>>()
    };
    let chunks: Vec<Vec<u32>> = all.par_chunks(CHUNK).map(of_chunk).collect();
    chunks.concat()
}

/// Keeps what a method meets of one rule for its class and the program; the method itself where it may fire there.
fn note(met: &[Seen], (method, kind): (u32, Kind), class: u32, wide: &mut Wide) -> Option<Candidate> {
    let rule_number = met.first()?.at.rule;
    let rule = RULES.get(usize::from(rule_number))?;
    let lists = |met: &[Seen]| {
        let condition = met.first().and_then(|seen| rule.conditions.get(usize::from(seen.at.condition)));
        met.iter().filter(|seen| !seen.is_passed).count() > rule.most()
            && condition.is_some_and(|condition| !matches!(condition.items, Items::Calls(_)))
    };
    if met.chunk_by(|one, other| one.at == other.at).any(lists) {
        return None;
    }
    for &Seen { at, word, .. } in met {
        match rule.conditions.get(usize::from(at.condition)).map(|condition| condition.scope) {
            Some(Scope::Class) => {
                wide.classes.entry((class, at)).or_insert(word);
            }
            Some(Scope::Program) => {
                wide.program.entry(at).or_insert(word);
            }
            _ => {}
        }
    }
    let here = |wanted: u8| met.iter().any(|seen| seen.at.condition == wanted);
    let near = |(condition, number): (&super::rules::Condition, u8)| condition.scope != Scope::Method || here(number);
    let one = |seen: &Seen| (seen.at.condition, seen.word);
    let counts = rule.trigger.in_files == kind.is_file && (!rule.trigger.own || kind.is_own);
    let fires = counts && !here(UNLESS) && rule.conditions.iter().zip(0..).all(near);
    fires.then(|| Candidate {
        rule: rule_number,
        method,
        class,
        here: met.chunk_by(|one, other| one.at == other.at).filter_map(<[_]>::first).map(one).collect(),
    })
}

/// Whether the conditions that a method does not meet are met in its class or elsewhere.
fn join(candidate: &Candidate, wide: &Wide) -> Option<Found> {
    let rule: &Rule = RULES.get(usize::from(candidate.rule))?;
    let mut met = Vec::with_capacity(rule.conditions.len());
    for (condition, number) in rule.conditions.iter().zip(0..) {
        let at = At { rule: candidate.rule, condition: number };
        met.push(match candidate.here.iter().find(|(here, _)| *here == number) {
            Some(&(_, word)) => Met::Here(word),
            None => match condition.scope {
                Scope::Method => return None,
                Scope::Class => Met::InClass(*wide.classes.get(&(candidate.class, at))?),
                Scope::Program => Met::InProgram(*wide.program.get(&at)?),
            },
        });
    }
    let certain = !rule.likely && (rule.trigger.sure || met.iter().all(|met| matches!(met, Met::Here(_))));
    Some(Found { need: rule.need, rule: candidate.rule, method: candidate.method, certain, met })
}

/// Answers of the hierarchy, each asked for once.
#[derive(Default)]
struct Subtypes(FxHashMap<Box<[u8]>, Vec<Answer>>);

/// Whether a class is a subtype of an owner of the table.
type Answer = (&'static [u8], bool);

impl Subtypes {
    /// Tells which conditions a fact meets.
    fn meets(
        &mut self,
        facts: &impl Facts,
        fact: Fact<'_>,
        release: u16,
        tell: impl FnMut(At) -> ControlFlow<()>,
    ) -> ControlFlow<()> {
        match fact {
            Fact::Call { owner, name, descriptor } => {
                INDEX.calls((owner, name, descriptor), |class, of| self.ask(facts, class, of), tell)
            }
            Fact::Field { owner, name, .. } => INDEX.fields(owner, name, tell),
            Fact::Text(text) => INDEX.texts(text, release, tell),
        }
    }

    fn ask(&mut self, facts: &impl Facts, class: &[u8], of: &'static [u8]) -> bool {
        if let Some(&(_, answer)) = self.0.get(class).and_then(|known| known.iter().find(|(known, _)| *known == of)) {
            return answer;
        }
        let answer = facts.is_subtype(class, of);
        self.0.entry(class.into()).or_default().push((of, answer));
        answer
    }
}

//! Standings and the user's wishes to the modules that are kept.

use std::collections::BTreeSet;

use crate::error::Error;
use crate::graph::ModuleGraph;
use crate::platform::{Catalogue, ModuleId};

use super::{Judgement, Standing};

/// Bytes below which doubt about a module is not worth leaving it out: what it saves is a thousandth of an image, and what
/// goes wrong without it goes wrong in production. Elliptic curves, `sun.misc.Unsafe` and attaching lie below it.
pub const NEXT_TO_NOTHING: u64 = 350_000;

/// Bytes below which doubt about a module is not worth leaving it out where instructions or the linking of classes ask for
/// it, so that the one doubt is whether that code runs: registrations of frameworks, tests and beans are of that kind. A
/// name that is merely held, or a feature that may be asked for, is weaker.
pub const LITTLE: u64 = 2_000_000;

/// Bytes below which a module is kept by any policy as soon as reached code asks for it, whether or not it bears the
/// absence: what it does then is slower as a rule, and nobody would look for the reason there.
pub const NOTHING: u64 = 50_000;

/// How much doubt a selection keeps.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Policy {
    /// Needed modules; of uncertain ones those that weigh [`NEXT_TO_NOTHING`], or [`LITTLE`] where code asks for them, and
    /// those for which the program's own part asks.
    Lean,
    /// Needed and uncertain modules.
    #[default]
    Safe,
    /// Every module that anything names.
    Whole,
}

impl Policy {
    /// The word shown to people and in JSON.
    pub fn tag(self) -> &'static str {
        match self {
            Policy::Lean => "lean",
            Policy::Safe => "safe",
            Policy::Whole => "whole",
        }
    }

    /// Whether a module of that standing is kept on its own account.
    pub fn keeps(self, standing: Standing) -> bool {
        standing
            <= match self {
                Policy::Lean => Standing::Needed,
                Policy::Safe => Standing::Uncertain,
                Policy::Whole => Standing::Dormant,
            }
    }
}

/// The modules to keep.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Selection {
    /// Kept on their own account, java.base included; sorted.
    pub roots: Vec<ModuleId>,
    /// Roots and all that they require; sorted.
    pub modules: Vec<ModuleId>,
    /// Kept by every policy, though nothing is certain to need them; sorted.
    pub always: Vec<ModuleId>,
}

impl Selection {
    /// Whether a module is kept.
    pub fn keeps(&self, id: ModuleId) -> bool {
        self.modules.binary_search(&id).is_ok()
    }

    /// Whether a module is kept on its own account.
    pub fn is_root(&self, id: ModuleId) -> bool {
        self.roots.binary_search(&id).is_ok()
    }
}

/// Applies a policy and the user's `--with` and `--without`. `bytes` is what a module weighs by itself, as far as that is
/// known.
///
/// # Errors
///
/// [`Error::Usage`] for a module that the platform does not have, one that is asked for both ways, java.base left out,
/// and a module left out that a kept module requires: the message says which.
pub fn select(
    catalogue: &Catalogue,
    graph: &ModuleGraph,
    judgement: &Judgement,
    policy: Policy,
    with: &[String],
    without: &[String],
    bytes: &dyn Fn(ModuleId) -> Option<u64>,
) -> Result<Selection, Error> {
    let with = known(catalogue, with, "--with")?;
    let without = known(catalogue, without, "--without")?;
    if let Some(&both) = with.intersection(&without).next() {
        return Err(Error::Usage(format!("{} is asked for by --with and left out by --without", catalogue.name(both))));
    }
    let always = always(graph, judgement, bytes);
    let mut roots: BTreeSet<ModuleId> = judgement
        .standings()
        .filter(|&(id, standing)| policy.keeps(standing) || always.binary_search(&id).is_ok())
        .map(|(id, _)| id)
        .chain(catalogue.module("java.base"))
        .chain(with.iter().copied())
        .collect();
    roots.retain(|id| !without.contains(id));
    // Better an image without it than none; who insists gets the linker's own words.
    if let Some(never) = catalogue.not_linkable() {
        roots.retain(|id| with.contains(id) || !graph.closure(&[*id]).contains(&never));
    }
    let roots: Vec<ModuleId> = roots.into_iter().collect();
    let modules = graph.closure(&roots);
    for &left_out in &without {
        if modules.contains(&left_out) {
            let by = match graph.chain(&roots, left_out) {
                Some(chain) if chain.len() > 1 => {
                    chain.iter().rev().skip(1).map(|&id| catalogue.name(id)).collect::<Vec<_>>().join(", required by ")
                }
                _ => "every program".to_owned(),
            };
            return Err(Error::Usage(format!(
                "--without {}: it cannot be left out, since it is required by {by}",
                catalogue.name(left_out)
            )));
        }
    }
    Ok(Selection { roots, modules, always })
}

/// Uncertain modules that weigh little, with what they require, beside those that are needed, or for which the program's own
/// part asks: its authors meant it, where a library may do without. And tolerated ones that weigh nothing.
fn always(graph: &ModuleGraph, judgement: &Judgement, bytes: &dyn Fn(ModuleId) -> Option<u64>) -> Vec<ModuleId> {
    let of =
        |wanted: Standing| judgement.standings().filter(move |&(_, standing)| standing == wanted).map(|(id, _)| id);
    let needed = graph.closure(&of(Standing::Needed).collect::<Vec<_>>());
    let adds = |id: ModuleId| -> Option<u64> {
        let more = graph.closure(&[id]).into_iter().filter(|id| needed.binary_search(id).is_err());
        more.map(bytes).sum()
    };
    let by_code = |id: ModuleId| {
        let evidence = judgement.evidence(id).iter();
        evidence.filter(|evidence| evidence.standing == Standing::Uncertain).any(|evidence| evidence.kind.is_code())
    };
    let doubtful = of(Standing::Uncertain).map(|id| (id, if by_code(id) { LITTLE } else { NEXT_TO_NOTHING }));
    let tolerated = of(Standing::Tolerated).map(|id| (id, NOTHING));
    let mut always: Vec<ModuleId> = doubtful
        .chain(tolerated)
        .filter(|&(id, most)| adds(id).is_some_and(|bytes| bytes <= most))
        .map(|(id, _)| id)
        .chain(of(Standing::Uncertain).filter(|id| judgement.own.contains(id)))
        .collect();
    always.sort_unstable();
    always.dedup();
    always
}

/// The modules that an option names.
///
/// # Errors
///
/// [`Error::Usage`] for one that the platform does not have.
pub fn known(catalogue: &Catalogue, names: &[String], option: &str) -> Result<BTreeSet<ModuleId>, Error> {
    names
        .iter()
        .map(|name| {
            catalogue.module(name).ok_or_else(|| {
                let meant = catalogue.did_you_mean(name);
                Error::Usage(format!("{option} {name}: release {} has no such module{meant}", catalogue.release))
            })
        })
        .collect()
}

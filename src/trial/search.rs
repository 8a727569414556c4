//! Which modules to withhold, in which order, and what a result proves. Knows lists and outcomes; who runs the command is
//! behind [`Trials`]. The first function to read is [`Search::run`].
//!
//! **Withholding** a module means: every root goes that requires it, directly or not, and the rest is closed anew, so
//! what only those roots brought goes as well. A module that a root requires which has to stay cannot be withheld. So
//! what requires is tried before what is required, and among those that can be tried the one that saves most.
//!
//! Withheld is what is left out *beside* what was not missed before: the list that stands at the end has passed as a
//! whole. What reading calls needed is tried only after all that is in doubt, and is told apart from it: a command that
//! does not miss it has perhaps not run the code that asks for it.

use std::collections::{BTreeMap, BTreeSet};

use crate::error::Error;
use crate::platform::ModuleId;
use crate::verdict::Standing;

use super::{Account, Case, End, Listed, Outcome, Showing, Trial};

/// Classes loaded of a module up to which it may have been loaded only since it is there, as providers of services are.
const FEW: u64 = 12;

/// Who runs the command.
pub(super) trait Trials {
    /// With these modules and no others: withheld, or on an image where withholding would not tell.
    fn limited(&mut self, modules: &[ModuleId]) -> Result<Trial, Error>;
    /// The same once more, with the names of what the JVM itself could not find, since the command said none.
    fn explained(&mut self, modules: &[ModuleId]) -> Result<Trial, Error>;
    /// On a linked image of these; the error of the inner result is the linker's.
    fn linked(&mut self, modules: &[ModuleId]) -> Result<Result<Trial, Account>, Error>;
    /// Trials that are left.
    fn left(&self) -> u64;
    /// From here on, what the last trial said beyond the whole JDK is no longer new; false where its output was not the
    /// expected one, which nothing makes good.
    fn bear(&mut self) -> bool;
}

/// What was found.
pub(super) struct Found {
    pub(super) end: End,
    pub(super) showings: BTreeMap<ModuleId, Showing>,
    pub(super) start: Listed,
    pub(super) settled: Option<Listed>,
    pub(super) smallest: Option<Listed>,
}

/// The state between trials.
pub(super) struct Search<'a, T> {
    case: &'a Case<'a>,
    /// Modules seen loading, with the number of classes; 0 where they may have been met only.
    seen: BTreeMap<ModuleId, u64>,
    trials: &'a mut T,
    /// Roots of the smallest list that has passed.
    roots: BTreeSet<ModuleId>,
    showings: BTreeMap<ModuleId, Showing>,
    /// Trials to keep for linked images: one for each list that is not another.
    for_images: u64,
}

impl<'a, T: Trials> Search<'a, T> {
    pub(super) fn new(case: &'a Case<'a>, seen: BTreeMap<ModuleId, u64>, trials: &'a mut T) -> Self {
        // What is seen loading stays when what requires it goes.
        let observed = case.start.modules.iter().filter(|id| seen.contains_key(id));
        let roots = case.start.roots.iter().chain(observed).copied().collect();
        Search { case, seen, trials, roots, showings: BTreeMap::new(), for_images: 3 }
    }

    /// All trials, and what they showed.
    pub(super) fn run(mut self) -> Result<Found, Error> {
        let mut start = list(self.case.start.modules.clone());
        if let Some(end) = self.begin(&mut start)? {
            return Ok(Found { end, showings: self.showings, start, settled: None, smallest: None });
        }
        self.doubtful()?;
        let mut settled = list(self.modules());
        // What the list by reading says beyond the whole JDK was borne with, and is told.
        settled.limited = if settled.modules == start.modules { start.limited } else { Some(Outcome::Passed) };
        if settled.modules == start.modules {
            self.for_images = 2;
        }
        self.beyond_doubt()?;
        let mut smallest = list(self.modules());
        smallest.limited = Some(Outcome::Passed);
        let end = self.link(&mut smallest, &mut settled, &mut start)?;
        Ok(Found { end, showings: self.showings, start, settled: Some(settled), smallest: Some(smallest) })
    }

    /// The list by reading; where it does not pass, with what was seen loading, then with all that anything names. The end
    /// of the whole, where nothing passes.
    fn begin(&mut self, start: &mut Listed) -> Result<Option<End>, Error> {
        let trial = self.attempt(&start.modules, &BTreeSet::new())?;
        start.limited = Some(trial.outcome);
        if trial.outcome != Outcome::Passed {
            start.account = Some(trial.account.clone());
        }
        let mut last = trial.account;
        // A list that only makes the command say more is still the list by reading: what it lacks was left out knowingly.
        match trial.outcome {
            Outcome::Flipped => return Ok(Some(End::Flips(last))),
            Outcome::Passed => {
                self.left_out_by_reading();
                return Ok(None);
            }
            Outcome::Degraded if self.trials.bear() => {
                self.left_out_by_reading();
                return Ok(None);
            }
            Outcome::Degraded | Outcome::Failed => {}
        }
        let mut roots = self.roots.clone();
        let named: Vec<ModuleId> = self.case.standings.keys().copied().collect();
        let observed: Vec<ModuleId> = self.seen.keys().copied().collect();
        for further in [observed, named] {
            let before = roots.len();
            roots.extend(further);
            if roots.len() == before || self.trials.left() == 0 {
                continue;
            }
            let trial = self.attempt(&self.closure(&roots), &BTreeSet::new())?;
            if trial.outcome == Outcome::Passed {
                self.roots = roots;
                return Ok(None);
            }
            last = trial.account;
        }
        Ok(Some(End::NoList(last)))
    }

    /// What the list by reading had left out, and the command did not miss.
    fn left_out_by_reading(&mut self) {
        let kept: BTreeSet<ModuleId> = self.modules().into_iter().collect();
        let told = self.case.standings.iter().filter(|(id, standing)| match standing {
            Standing::Needed => false,
            Standing::Uncertain | Standing::Tolerated => true,
            Standing::Dormant => self.seen.contains_key(id),
        });
        let observed = self.seen.keys().filter(|id| !self.case.standings.contains_key(id));
        for id in told.map(|(id, _)| id).chain(observed).filter(|id| !kept.contains(id)) {
            self.showings.insert(*id, Showing::NotMissed);
        }
    }

    /// Each module in doubt in turn.
    fn doubtful(&mut self) -> Result<(), Error> {
        let doubt = |search: &Self, id: ModuleId| {
            search.case.standings.get(&id).is_none_or(|standing| *standing != Standing::Needed)
        };
        while let Some(id) = self.next(doubt) {
            if self.trials.left() <= 2 {
                self.showings.insert(id, Showing::Untried);
                continue;
            }
            self.withhold(&[id], true)?;
        }
        Ok(())
    }

    /// What reading calls needed: first all that was never seen loading, then what may have been met only, then the rest
    /// one by one.
    fn beyond_doubt(&mut self) -> Result<(), Error> {
        self.showings.retain(|_, showing| !matches!(showing, Showing::Required(_)));
        let unseen = self.together(|search, id| !search.seen.contains_key(&id));
        self.shed(&unseen)?;
        let met = self.together(|search, id| search.seen.get(&id).is_none_or(|loads| *loads <= FEW));
        self.shed(&met)?;
        while let Some(id) = self.next(|_, _| true) {
            if self.trials.left() <= self.for_images {
                self.showings.insert(id, Showing::Untried);
                continue;
            }
            self.withhold(&[id], true)?;
        }
        Ok(())
    }

    /// Drops as many of a group as can go: all at once, else without those that the output blames, else by halves.
    fn shed(&mut self, group: &[ModuleId]) -> Result<(), Error> {
        let mut groups: Vec<Vec<ModuleId>> = vec![group.to_vec()];
        while let Some(group) = groups.pop() {
            let group: Vec<ModuleId> =
                group.into_iter().filter(|id| self.roots.contains(id) && !self.showings.contains_key(id)).collect();
            if group.is_empty() || self.trials.left() <= self.for_images {
                continue;
            }
            let before = self.showings.len();
            if self.withhold(&group, group.len() == 1)? {
                continue;
            }
            if self.showings.len() > before {
                groups.push(group);
            } else {
                let (first, second) = group.split_at(group.len().div_ceil(2));
                groups.push(second.to_vec());
                groups.push(first.to_vec());
            }
        }
        Ok(())
    }

    /// Tries the list without some modules; true where it passed. Otherwise those get a showing that the output names, and
    /// one that was tried alone in any case.
    fn withhold(&mut self, without: &[ModuleId], alone: bool) -> Result<bool, Error> {
        let before: BTreeSet<ModuleId> = self.modules().into_iter().collect();
        let roots: BTreeSet<ModuleId> = self.roots.iter().copied().filter(|root| !without.contains(root)).collect();
        let modules = self.closure(&roots);
        let withheld: BTreeSet<ModuleId> = before.iter().copied().filter(|id| !modules.contains(id)).collect();
        if withheld.is_empty() {
            // Others require all of them: they are no roots of their own, and their fate is that of the others.
            self.roots = roots;
            return Ok(true);
        }
        let trial = if alone { self.attempt(&modules, &withheld)? } else { self.trials.limited(&modules)? };
        if trial.outcome == Outcome::Passed {
            self.roots = roots;
            self.showings.extend(withheld.into_iter().map(|id| (id, Showing::NotMissed)));
            return Ok(true);
        }
        let blamed = self.blamed(&trial.account, &withheld);
        let mut told = false;
        for (id, class) in blamed.into_iter().filter(|(id, _)| without.contains(id)) {
            if trial.outcome == Outcome::Failed {
                told = true;
                self.showings.insert(id, Showing::Missed { class, account: trial.account.clone() });
            }
        }
        if let [only] = without
            && alone
            && !told
        {
            let account = trial.account;
            let showing = match trial.outcome {
                Outcome::Degraded => Showing::Degrades(account),
                Outcome::Flipped => Showing::Flips(account),
                Outcome::Passed | Outcome::Failed => {
                    let class = self.blamed(&account, &withheld).into_iter().find_map(|(_, class)| class);
                    Showing::Missed { class, account }
                }
            };
            self.showings.insert(*only, showing);
        }
        Ok(false)
    }

    /// One trial. A failure for which the output names nothing that is withheld is looked at twice: what passes the second
    /// time flips, and what fails again is explained by the JVM where the command keeps its words to itself.
    fn attempt(&mut self, modules: &[ModuleId], withheld: &BTreeSet<ModuleId>) -> Result<Trial, Error> {
        let mut trial = self.trials.limited(modules)?;
        if trial.outcome == Outcome::Failed
            && self.blamed(&trial.account, withheld).is_empty()
            && self.trials.left() > self.for_images
        {
            let again = self.trials.explained(modules)?;
            if again.outcome == Outcome::Failed {
                trial.account.names.extend(again.account.names);
            } else {
                trial.outcome = Outcome::Flipped;
            }
        }
        Ok(trial)
    }

    /// The next root to try alone: none that something requires which stays or is not tried yet, and of those that are left
    /// the one that saves most. Roots for which no trial will come get their showing.
    fn next(&mut self, wanted: impl Fn(&Self, ModuleId) -> bool) -> Option<ModuleId> {
        let open: Vec<ModuleId> = self.open().into_iter().filter(|&id| wanted(self, id)).collect();
        let mut best: Option<(u64, ModuleId)> = None;
        let mut required: Vec<(ModuleId, ModuleId)> = Vec::new();
        for &id in &open {
            let above = self.requirer(id, |_| true);
            match above {
                None => {
                    let saves = self.saved(id);
                    if best.is_none_or(|(most, _)| saves > most) {
                        best = Some((saves, id));
                    }
                }
                // It waits for its turn, or never gets one.
                Some(_) => {
                    if let Some(by) = self.requirer(id, |by| !open.contains(&by)) {
                        required.push((id, by));
                    }
                }
            }
        }
        self.showings.extend(required.into_iter().map(|(id, by)| (id, Showing::Required(by))));
        best.map(|(_, id)| id)
    }

    /// Roots that may be tried in one go: of a kind, and required by others of that kind at most.
    fn together(&self, of_kind: impl Fn(&Self, ModuleId) -> bool) -> Vec<ModuleId> {
        let mut group: Vec<ModuleId> = self.open().into_iter().filter(|&id| of_kind(self, id)).collect();
        loop {
            let before = group.len();
            let members = group.clone();
            group.retain(|&id| self.requirer(id, |by| !members.contains(&by)).is_none());
            if group.len() == before {
                break;
            }
        }
        group.sort_by_key(|&id| std::cmp::Reverse(self.saved(id)));
        group
    }

    /// Roots of which nothing is shown yet and that may be withheld.
    fn open(&self) -> Vec<ModuleId> {
        let may = |id: &ModuleId| {
            !self.case.catalogue.is_base(*id)
                && !self.case.wished.contains(id)
                && self.showings.get(id).is_none_or(|showing| *showing == Showing::NotMissed)
        };
        self.roots.iter().copied().filter(may).collect()
    }

    /// Another root of that sort that requires a module, directly or not.
    fn requirer(&self, id: ModuleId, sort: impl Fn(ModuleId) -> bool) -> Option<ModuleId> {
        let others = self.roots.iter().copied().filter(|&root| root != id && sort(root));
        others.into_iter().find(|&root| self.case.graph.closure(&[root]).contains(&id))
    }

    /// Bytes that go with a root.
    fn saved(&self, id: ModuleId) -> u64 {
        let without: BTreeSet<ModuleId> = self.roots.iter().copied().filter(|&root| root != id).collect();
        self.bytes(&self.modules()).saturating_sub(self.bytes(&self.closure(&without)))
    }

    fn bytes(&self, modules: &[ModuleId]) -> u64 {
        self.case.scales.total(self.case.catalogue, modules.iter().copied()).bytes
    }

    fn closure(&self, roots: &BTreeSet<ModuleId>) -> Vec<ModuleId> {
        self.case.graph.closure(&roots.iter().copied().collect::<Vec<_>>())
    }

    fn modules(&self) -> Vec<ModuleId> {
        self.closure(&self.roots)
    }

    /// Withheld modules that the output names, with the class where it names one.
    fn blamed(&self, account: &Account, withheld: &BTreeSet<ModuleId>) -> BTreeMap<ModuleId, Option<String>> {
        let mut found = BTreeMap::new();
        for name in &account.names {
            if let Some(id) = self.case.catalogue.module(name) {
                found.entry(id).or_insert(None);
            } else if let Some((package, _)) = name.rsplit_once('.')
                && let Some(id) = self.case.catalogue.module_of_package(package.replace('.', "/").as_bytes())
            {
                found.entry(id).or_insert_with(|| Some(name.clone()));
            }
        }
        found.retain(|id, _| withheld.contains(id));
        found
    }

    /// Runs the lists on linked images, the smallest first. A module that an image lacks although nothing missed it while
    /// it was withheld (options that load a library of the JVM are such) is put back.
    fn link(&mut self, smallest: &mut Listed, settled: &mut Listed, start: &mut Listed) -> Result<End, Error> {
        let mut last = Account::default();
        let mut passed = false;
        let mut put_back: BTreeSet<ModuleId> = BTreeSet::new();
        let mut seen: BTreeMap<Vec<ModuleId>, Outcome> = BTreeMap::new();
        for (listed, needed) in [(smallest, true), (settled, true), (start, false)] {
            if !needed && passed {
                break;
            }
            loop {
                if needed {
                    let with: Vec<ModuleId> = listed.modules.iter().chain(&put_back).copied().collect();
                    let closed = self.case.graph.closure(&with);
                    if closed != listed.modules {
                        // What was seen of another list says nothing of this one.
                        *listed = list(closed);
                    }
                }
                if let Some(outcome) = seen.get(&listed.modules) {
                    listed.linked = Some(*outcome);
                    break;
                }
                if self.trials.left() == 0 {
                    break;
                }
                let trial = match self.trials.linked(&listed.modules)? {
                    Ok(trial) => trial,
                    Err(account) => return Ok(End::NoImage(account)),
                };
                seen.insert(listed.modules.clone(), trial.outcome);
                listed.linked = Some(trial.outcome);
                if trial.outcome == Outcome::Passed {
                    passed = true;
                    break;
                }
                listed.account = Some(trial.account.clone());
                let absent = self.absent_from(&listed.modules);
                let blamed = self.blamed(&trial.account, &absent);
                last = trial.account.clone();
                if !needed || blamed.is_empty() {
                    break;
                }
                for (id, class) in blamed {
                    put_back.insert(id);
                    self.showings.insert(id, Showing::Missed { class, account: trial.account.clone() });
                }
            }
        }
        Ok(if passed { End::Settled } else { End::NoImage(last) })
    }

    fn absent_from(&self, modules: &[ModuleId]) -> BTreeSet<ModuleId> {
        let all = (0..self.case.catalogue.modules.len() as u16).map(ModuleId);
        all.filter(|id| modules.binary_search(id).is_err()).collect()
    }
}

fn list(modules: Vec<ModuleId>) -> Listed {
    Listed { modules, limited: None, linked: None, account: None }
}

#[cfg(test)]
mod tests;

//! Finds out what is left of the selection without each archive: by judging the program anew without it.
//!
//! Nothing short of that is exact. Reach is no graph in which dominators could be looked up: a call selects a method only
//! where there are objects too, a name is put together from what several archives give, and an archive can also keep a
//! module away, as one that hides a class or brings the platform's types itself does. So each archive is masked in the
//! program as it was read ([`crate::program::Program::without`]), and every stage behind reading runs again. The first
//! function to read is [`responsibility`].

use rayon::prelude::*;

use crate::archive::{Archive, ArchiveId, Kind};
use crate::diag::Findings;
use crate::error::Error;
use crate::plan::Plan;
use crate::platform::ModuleId;
use crate::program::{self, Program};
use crate::progress::{Progress, Silent, Stage};
use crate::report::responsibility::{ArchiveRow, CostRow, Responsibility, Share};
use crate::responsibility::{self, Removal};
use crate::verdict::Standing;

use super::{Analysis, Clock, Ground, judge};

/// Programs judged at once: each takes memory of its own for what it reaches.
const MOST_AT_ONCE: usize = 4;

/// Rows of archives.
const MOST_ROWS: usize = 500;

/// Who brings what, by archive, and what each uncertain module costs.
pub(super) fn responsibility(
    plan: &Plan,
    analysis: &Analysis,
    progress: &dyn Progress,
) -> Result<Responsibility, Error> {
    let Analysis { program, catalogue, graph, selection, judgement, .. } = analysis;
    let archives = (0..program.archives.len() as u32).map(ArchiveId);
    let all: Vec<ArchiveId> = archives.clone().collect();
    let always = left_without(plan, analysis, &all)?;
    let removals = removals(plan, analysis, &all, &always, progress)?;
    let weigh = |modules: &[ModuleId]| analysis.scales.total(catalogue, modules.iter().copied()).exact();
    let table = responsibility::table(&selection.modules, &always, &removals, &weigh);
    let share = |share: &responsibility::Share| Share {
        modules: share.modules.iter().map(|&id| catalogue.name(id).to_owned()).collect(),
        bytes: share.bytes,
    };
    let mut rows: Vec<_> = table.rows.iter().collect();
    rows.sort_by_key(|row| (std::cmp::Reverse(row.goes.bytes), row.archive));
    let omitted = rows.split_off(rows.len().min(MOST_ROWS));
    let row = |row: &responsibility::Row| ArchiveRow {
        archive: program.archive(row.archive).map(|archive| archive.locator.to_string()).unwrap_or_default(),
        goes: share(&row.goes),
        comes: share(&row.comes),
        own: share(&row.own),
    };
    let uncertain =
        judgement.standings().filter(|&(id, standing)| standing == Standing::Uncertain && selection.keeps(id));
    let cost = |(id, _)| {
        let goes = graph.kept_only_by(&selection.roots, id);
        let bytes = analysis.scales.freed(catalogue, &selection.modules, &goes.iter().copied().collect());
        CostRow { module: catalogue.name(id).to_owned(), goes: share(&responsibility::Share { modules: goes, bytes }) }
    };
    Ok(Responsibility {
        without_effect: all.len() - table.rows.len(),
        omitted: omitted.len(),
        omitted_own: omitted.iter().map(|row| row.own.bytes).sum(),
        archives: rows.into_iter().map(row).collect(),
        shared: share(&table.shared),
        always: share(&table.always),
        total: table.total,
        uncertain: uncertain.map(cost).collect(),
    })
}

/// What is left without each of some archives, in that order.
fn removals(
    plan: &Plan,
    analysis: &Analysis,
    archives: &[ArchiveId],
    always: &[ModuleId],
    progress: &dyn Progress,
) -> Result<Vec<Removal>, Error> {
    progress.start(Stage::Removals, archives.len() as u64);
    let holders = Holders::of(&analysis.program);
    let counts = counting(plan, analysis);
    let one = |&archive: &ArchiveId| {
        let gone = holders.gone_with(archive);
        let left = if gone.len() == analysis.program.archives.len() {
            always.to_vec()
        } else if !gone.iter().any(|id| counts.get(id.0 as usize) == Some(&true)) {
            analysis.selection.modules.clone()
        } else {
            left_without(plan, analysis, &gone)?
        };
        progress.advance(1);
        Ok(Removal { archive, left })
    };
    let mut found = Vec::with_capacity(archives.len());
    for some in archives.chunks(rayon::current_num_threads().clamp(1, MOST_AT_ONCE)) {
        found.extend(some.par_iter().map(one).collect::<Result<Vec<_>, Error>>()?);
    }
    Ok(found)
}

/// By archive, whether anything in the analysis rested on it. Without one on which nothing did every question has the
/// answer that it had, so that the same is found step by step.
fn counting(plan: &Plan, analysis: &Analysis) -> Vec<bool> {
    let Analysis { program, view, reach, judgement, entry_points, resources, .. } = analysis;
    let mut counts: Vec<bool> =
        (0_u32..).zip(&program.archives).map(|(number, _)| view.has_answered(ArchiveId(number))).collect();
    let mut mark = |id: ArchiveId| {
        if let Some(counts) = counts.get_mut(id.0 as usize) {
            *counts = true;
        }
    };
    for &id in &view.classes {
        let Some(class) = program.class(id) else { continue };
        let runs = || program.methods_of(class).any(|(method, _)| reach.method(method).is_some());
        if reach.loaded(id).is_some() || runs() {
            mark(class.archive);
        }
    }
    // Of what is in doubt every policy keeps what weighs little.
    for (id, _) in judgement.standings() {
        let counted = |standing| standing <= Standing::Tolerated || plan.policy.keeps(standing);
        for evidence in judgement.evidence(id).iter().filter(|evidence| counted(evidence.standing)) {
            evidence.place.archive(program).into_iter().for_each(&mut mark);
        }
    }
    // What says where the program starts, and what kind of program it is.
    for name in &resources.names {
        if entry_points.called.iter().any(|entry| *entry.class == *name.name) {
            mark(name.archive);
        }
    }
    let on_path = || program.archives.iter().filter(|archive| archive.on_class_path);
    let plain = |archive: &Archive| !archive.is_module();
    let alone = on_path().filter(|archive| plain(archive) || program::names_a_start(archive)).count() == 1;
    for (number, archive) in (0_u32..).zip(&program.archives) {
        let id = ArchiveId(number);
        if matches!(archive.kind, Kind::War | Kind::Ear)
            || plan.entries.is_empty() && archive.parent.is_none() && program::names_a_start(archive)
            || entry_points.library && program::own_part(program, id).is_some()
            || alone && archive.on_class_path && (plain(archive) || program::names_a_start(archive))
        {
            mark(id);
        }
    }
    counts
}

/// The selection of the program without some archives.
fn left_without(plan: &Plan, analysis: &Analysis, gone: &[ArchiveId]) -> Result<Vec<ModuleId>, Error> {
    let Analysis { catalogue, graph, scales, choice, entry_points, agents, listed, logs, .. } = analysis;
    let program = analysis.program.without(gone);
    // What is amiss has been told of the whole program.
    let mut findings = Findings::new(0);
    let ground = Ground { program: &program, release: choice.release, catalogue, graph, scales, agents, listed, logs };
    let judged = judge(plan, &ground, Some(entry_points), (&mut findings, &mut Clock::new()), &Silent)?;
    Ok(judged.selection.modules)
}

/// Which archives are there since another holds or names them.
struct Holders {
    /// Those that the user names.
    roots: Vec<usize>,
    /// By archive, those that it holds or names.
    held: Vec<Vec<usize>>,
}

impl Holders {
    fn of(program: &Program) -> Self {
        let mut holders = Holders { roots: Vec::new(), held: vec![Vec::new(); program.archives.len()] };
        for (number, archive) in program.archives.iter().enumerate() {
            for holder in std::iter::once(archive.parent).chain(archive.others.iter().copied()) {
                match holder {
                    None => holders.roots.push(number),
                    Some(holder) => {
                        if let Some(held) = holders.held.get_mut(holder.0 as usize) {
                            held.push(number);
                        }
                    }
                }
            }
        }
        holders
    }

    /// An archive and those that nothing else holds or names, sorted.
    fn gone_with(&self, archive: ArchiveId) -> Vec<ArchiveId> {
        let mut there = vec![false; self.held.len()];
        let mut due = self.roots.clone();
        while let Some(number) = due.pop() {
            if let Some(there @ false) = there.get_mut(number).filter(|_| number != archive.0 as usize) {
                *there = true;
                due.extend(self.held.get(number).into_iter().flatten());
            }
        }
        (0..).zip(there).filter(|(_, there)| !there).map(|(number, _)| ArchiveId(number)).collect()
    }
}

//! Who brings what: which modules a selection loses with each archive, and which no single archive answers for.
//!
//! Two figures stand beside each other, since they answer two questions. What *goes* with an archive is what the
//! selection loses if the archive alone is taken from the program: a call through three archives goes with each of them,
//! so these figures overlap. An archive's *own* part has every module once, and these add up to the whole: a module is the
//! own part of the archive with which it goes and with which the fewest bytes go, that is of the one nearest to it, as an
//! immediate dominator is (Lengauer and Tarjan, "A Fast Algorithm for Finding Dominators in a Flowgraph", TOPLAS 1979). What
//! goes with no single archive is shared.
//!
//! Here is only arithmetic over selections; whoever calls has found out what is left without an archive. The first
//! function to read is [`table`].

use std::cmp::Reverse;
use std::collections::BTreeSet;

use crate::archive::ArchiveId;
use crate::platform::ModuleId;

/// What would be selected if an archive were taken from the program, with all that came with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Removal {
    /// The archive.
    pub archive: ArchiveId,
    /// The selection without it, sorted.
    pub left: Vec<ModuleId>,
}

/// Some modules and what they add to an image.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Share {
    /// Sorted.
    pub modules: Vec<ModuleId>,
    /// `None` where a size is not known.
    pub bytes: Option<u64>,
}

/// What one archive answers for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The archive.
    pub archive: ArchiveId,
    /// What goes from the selection with it.
    pub goes: Share,
    /// What comes into the selection instead: the archive hid a class, or stood in for the platform.
    pub comes: Share,
    /// Of what goes, what no nearer archive answers for.
    pub own: Share,
}

/// The whole account. The own parts of all rows, what is shared and what stays in any case add up to the total.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// One for each archive without which the selection is another, in class path order.
    pub rows: Vec<Row>,
    /// Modules that stay whichever archive goes, and would not if all went.
    pub shared: Share,
    /// What is selected without any archive: java.base, what the launch, logs of runs and the user ask for.
    pub always: Share,
    /// Bytes of the selection.
    pub total: Option<u64>,
}

/// The account of a selection (sorted), given what is left without any archive and without each of those that matter, in
/// class path order. `weigh` gives the bytes of an image with some modules (sorted).
pub fn table(
    selection: &[ModuleId],
    always: &[ModuleId],
    removals: &[Removal],
    weigh: &dyn Fn(&[ModuleId]) -> Option<u64>,
) -> Table {
    let change = |more: &[ModuleId], less: &[ModuleId]| weigh(more)?.checked_sub(weigh(less)?);
    let mut rows: Vec<Row> = Vec::new();
    for removal in removals.iter().filter(|removal| removal.left != selection) {
        let stays = both(selection, &removal.left);
        rows.push(Row {
            archive: removal.archive,
            goes: Share { modules: beyond(selection, &stays), bytes: change(selection, &stays) },
            comes: Share { modules: beyond(&removal.left, &stays), bytes: change(&removal.left, &stays) },
            own: Share::default(),
        });
    }
    let always = both(selection, always);
    // Nearest first; of archives with which the same goes, the one that stands deepest.
    let mut nearest: Vec<usize> = (0..rows.len()).collect();
    nearest.sort_by_key(|&at| rows.get(at).map(|row| (row.goes.bytes, row.goes.modules.len(), Reverse(row.archive))));
    let mut taken: BTreeSet<ModuleId> = always.iter().copied().collect();
    for at in nearest {
        if let Some(row) = rows.get_mut(at) {
            row.own.modules = row.goes.modules.iter().copied().filter(|&module| taken.insert(module)).collect();
        }
    }
    // What modules add to an image depends on what is there besides; taken away one part after the other, the parts
    // add up whatever that is.
    let mut rest = selection.to_vec();
    for row in &mut rows {
        let after = beyond(&rest, &row.own.modules);
        row.own.bytes = change(&rest, &after);
        rest = after;
    }
    let shared = Share { modules: beyond(&rest, &always), bytes: change(&rest, &always) };
    let bytes = weigh(&always);
    Table { rows, shared, always: Share { modules: always, bytes }, total: weigh(selection) }
}

/// What is in both of two sorted lists.
fn both(one: &[ModuleId], other: &[ModuleId]) -> Vec<ModuleId> {
    one.iter().copied().filter(|module| other.binary_search(module).is_ok()).collect()
}

/// What of a list is not in a second one, which is sorted.
fn beyond(one: &[ModuleId], other: &[ModuleId]) -> Vec<ModuleId> {
    one.iter().copied().filter(|module| other.binary_search(module).is_err()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ids(numbers: &[u16]) -> Vec<ModuleId> {
        numbers.iter().map(|&number| ModuleId(number)).collect()
    }

    fn removal(archive: u32, left: &[u16]) -> Removal {
        Removal { archive: ArchiveId(archive), left: ids(left) }
    }

    /// A module of number n weighs 10 to the n, and two together one byte less: as where a legal notice is there once.
    #[allow(clippy::unnecessary_wraps, reason = "the table takes one that may not know")]
    fn weigh(modules: &[ModuleId]) -> Option<u64> {
        let sum: u64 = modules.iter().map(|module| 10_u64.pow(module.0.into())).sum();
        Some(sum - modules.len().saturating_sub(1) as u64)
    }

    fn adds_up(table: &Table) -> bool {
        let own: u64 = table.rows.iter().map(|row| row.own.bytes.unwrap()).sum();
        table.total == Some(own + table.shared.bytes.unwrap() + table.always.bytes.unwrap())
    }

    /// The program (0) holds its classes (1), which alone call a library (2).
    #[test]
    fn a_module_is_its_nearest_archives_own() {
        let removals = [removal(0, &[0]), removal(1, &[0]), removal(2, &[0, 1, 2])];
        let table = table(&ids(&[0, 1, 2, 3]), &ids(&[0]), &removals, &weigh);
        let own: Vec<_> = table.rows.iter().map(|row| row.own.modules.clone()).collect();
        assert_eq!(own, [ids(&[]), ids(&[1, 2]), ids(&[3])]);
        assert_eq!(table.rows[0].goes.modules, ids(&[1, 2, 3]));
        assert!(table.shared.modules.is_empty() && adds_up(&table));
    }

    #[test]
    fn what_two_archives_bring_is_shared() {
        let removals = [removal(0, &[0, 1]), removal(1, &[0, 1, 2])];
        let table = table(&ids(&[0, 1, 2]), &ids(&[0]), &removals, &weigh);
        assert_eq!((table.rows.len(), &table.shared.modules), (1, &ids(&[1])));
        assert!(adds_up(&table));
    }

    #[test]
    fn what_comes_is_told_apart() {
        let table = table(&ids(&[0, 1]), &ids(&[0]), &[removal(4, &[0, 2])], &weigh);
        let row = &table.rows[0];
        assert_eq!((&row.goes.modules, &row.comes.modules), (&ids(&[1]), &ids(&[2])));
        assert_eq!((row.goes.bytes, row.comes.bytes), (Some(9), Some(99)));
        assert!(adds_up(&table));
    }

    #[test]
    fn an_unknown_weight_is_not_nothing() {
        let unknown = |modules: &[ModuleId]| (!modules.contains(&ModuleId(1))).then_some(5);
        let table = table(&ids(&[0, 1]), &ids(&[0]), &[removal(0, &[0])], &unknown);
        assert_eq!((table.total, table.rows[0].goes.bytes, table.always.bytes), (None, None, Some(5)));
    }
}

//! The types of a platform release as compact tables: names by package, supertypes, overridable methods.
//!
//! The first functions to read are [`TypeTable::presence`] and [`TypeTable::platform_type`]. Types are numbered in the
//! order of their packages, then of their simple names; a look-up is one hash of the package and one binary search.

use std::ops::Range;

use rustc_hash::FxHashMap;

use super::{ModuleId, PlatformType, Presence};
use crate::names::{decode_mutf8, package_of};

/// The types of one release.
#[derive(Default)]
pub(super) struct TypeTable {
    /// Sorted by name.
    pub(super) packages: Vec<PackageTypes>,
    pub(super) by_name: FxHashMap<Box<str>, usize>,
    /// Simple names (`Map$Entry`), by type number.
    pub(super) names: Strings,
    /// By type number.
    pub(super) facts: Vec<Facts>,
    /// Type numbers of superinterfaces; [`Facts::interfaces`] points in here.
    pub(super) interfaces: Vec<u32>,
    /// Numbers of selectors; [`Facts::methods`] points in here.
    pub(super) methods: Vec<u32>,
    /// Name and descriptor joined: `run()V`.
    pub(super) selectors: Strings,
}

/// The types of one package.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct PackageTypes {
    /// `java/util`.
    pub(super) name: Box<str>,
    /// Whether a type that the table lacks does not exist.
    pub(super) complete: bool,
    /// Numbers of its types.
    pub(super) types: Range<u32>,
}

/// What is known of one type.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Facts {
    pub(super) knowledge: Knowledge,
    pub(super) access: u16,
    /// Type number plus one; 0 for none.
    pub(super) superclass: u32,
    pub(super) interfaces: Range<u32>,
    pub(super) methods: Range<u32>,
}

/// How well a type is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Knowledge {
    /// Another type names it as a supertype; it stands in the table for its name alone.
    Named,
    /// It exists.
    Exists,
    /// It exists and its place in the hierarchy is known.
    Described,
}

impl TypeTable {
    /// Whether `class`, whose package belongs to module `id`, exists.
    pub(super) fn presence(&self, id: ModuleId, class: &[u8]) -> Presence {
        let Some(package) = self.package(class) else { return Presence::Unknown(id) };
        match self.number(package, class).and_then(|number| self.fact(number)) {
            Some(facts) if facts.knowledge >= Knowledge::Exists => Presence::Present(id),
            _ if package.complete => Presence::Absent(id),
            _ => Presence::Unknown(id),
        }
    }

    /// What is known of `class`.
    pub(super) fn platform_type(&self, class: &[u8]) -> Option<PlatformType> {
        let facts = self.fact(self.number(self.package(class)?, class)?)?;
        if facts.knowledge < Knowledge::Described {
            return None;
        }
        let superclass = match facts.superclass.checked_sub(1) {
            Some(number) => Some(self.full_name(number)?),
            None => None,
        };
        let interfaces =
            part(&self.interfaces, &facts.interfaces).iter().map(|n| self.full_name(*n)).collect::<Option<_>>()?;
        let overridable = part(&self.methods, &facts.methods)
            .iter()
            .map(|selector| Some(decode_mutf8(self.selectors.get(*selector)?).into()))
            .collect::<Option<_>>()?;
        Some(PlatformType { superclass, interfaces, access: facts.access, overridable })
    }

    fn package(&self, class: &[u8]) -> Option<&PackageTypes> {
        self.packages.get(*self.by_name.get(std::str::from_utf8(package_of(class)).ok()?)?)
    }

    fn number(&self, package: &PackageTypes, class: &[u8]) -> Option<u32> {
        let simple = class.get(package.name.len() + 1..)?;
        let Range { mut start, mut end } = package.types;
        while start < end {
            let middle = start + (end - start) / 2;
            match self.names.get(middle)?.cmp(simple) {
                std::cmp::Ordering::Equal => return Some(middle),
                std::cmp::Ordering::Less => start = middle + 1,
                std::cmp::Ordering::Greater => end = middle,
            }
        }
        None
    }

    fn fact(&self, number: u32) -> Option<&Facts> {
        self.facts.get(number as usize)
    }

    fn full_name(&self, number: u32) -> Option<Box<str>> {
        let package = self.packages.get(self.packages.partition_point(|package| package.types.end <= number))?;
        Some(format!("{}/{}", package.name, decode_mutf8(self.names.get(number)?)).into())
    }
}

fn part<'a>(list: &'a [u32], range: &Range<u32>) -> &'a [u32] {
    list.get(range.start as usize..range.end as usize).unwrap_or_default()
}

/// Many short strings in one piece of memory.
#[derive(Default)]
pub(super) struct Strings {
    bytes: Vec<u8>,
    ends: Vec<u32>,
}

impl Strings {
    /// Adds one that begins with the first `shared` bytes of the last one; `None` where that is shorter.
    pub(super) fn push(&mut self, shared: usize, suffix: &[u8]) -> Option<()> {
        let last = self.ends.len().checked_sub(1).map_or(0..0, |last| self.range(last).unwrap_or(0..0));
        if shared > last.len() {
            return None;
        }
        self.bytes.extend_from_within(last.start..last.start + shared);
        self.bytes.extend_from_slice(suffix);
        self.ends.push(u32::try_from(self.bytes.len()).ok()?);
        Some(())
    }

    pub(super) fn get(&self, number: u32) -> Option<&[u8]> {
        self.bytes.get(self.range(number as usize)?)
    }

    pub(super) fn len(&self) -> usize {
        self.ends.len()
    }

    fn range(&self, number: usize) -> Option<Range<usize>> {
        let start = match number.checked_sub(1) {
            Some(before) => *self.ends.get(before)? as usize,
            None => 0,
        };
        Some(start..*self.ends.get(number)? as usize)
    }
}

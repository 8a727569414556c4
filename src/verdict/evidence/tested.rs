//! Libraries that find out for themselves whether a module is there.
//!
//! A method that answers with a boolean, or a static initialiser, that bears the absence of the platform type whose name it
//! holds and loads, is such a test. As a module is there as a whole or not at all, it answers for all types of it; the
//! rest of its library knows the answer. On which paths it heeds it is not followed: what the library does for certain it
//! is taken to do without the module; what others have it do by name stays uncertain. The first function to read is
//! [`Tested::of`].

use rustc_hash::FxHashSet;

use super::super::Standing;
use super::{Meaning, meaning};
use crate::archive::ArchiveId;
use crate::flow::sinks::Purpose;
use crate::names::package_of;
use crate::platform::{Catalogue, ModuleId};
use crate::program::{ClassId, Guard, MethodId, NameId, Program};
use crate::reach::Reach;

/// Parts of a package's name that tell one library from another: by custom two for a domain, one for what its owner
/// calls the library (JLS §6.1).
const PARTS: usize = 3;

/// What which library tests for.
pub(super) struct Tested<'p>(FxHashSet<(ArchiveId, &'p [u8], ModuleId)>);

impl<'p> Tested<'p> {
    /// The tests among the look-ups that can run.
    pub fn of(program: &'p Program, reach: &Reach, catalogue: &Catalogue) -> Self {
        let mut tested = FxHashSet::default();
        // Look-ups stand in the order of their methods.
        let mut texts: (Option<MethodId>, Vec<(&[u8], ModuleId)>) = (None, Vec::new());
        for look_up in &reach.look_ups {
            let Some(method) = program.method(look_up.method) else { continue };
            let is_test = look_up.sink.purpose == Purpose::Load
                && look_up.guard != Guard::Open
                && matches!(program.members.name(method.selector), [.., b')', b'Z'] | b"<clinit>()V");
            let Some((archive, library)) = library(program, method.class).filter(|_| is_test) else { continue };
            if texts.0 != Some(look_up.method) {
                let named = |name: NameId| {
                    let name = program.names.name(name);
                    let Meaning::Module(module) = meaning(catalogue, name) else { return None };
                    Some((name, module))
                };
                texts = (Some(look_up.method), program.class_names(look_up.method).filter_map(named).collect());
                texts.1.sort_unstable();
            }
            for name in &look_up.names.exact {
                let first = texts.1.partition_point(|&(text, _)| text < &**name);
                if let Some(&(_, module)) = texts.1.get(first).filter(|(text, _)| *text == &**name) {
                    tested.insert((archive, library, module));
                }
            }
        }
        Tested(tested)
    }

    /// The standing of what a class asks of a module, given the one that it would have if nobody tested.
    pub fn temper(
        &self,
        standing: Standing,
        program: &'p Program,
        reach: &Reach,
        class: ClassId,
        module: ModuleId,
    ) -> Standing {
        let is_tested =
            || library(program, class).is_some_and(|(archive, library)| self.0.contains(&(archive, library, module)));
        if self.0.is_empty() || !is_tested() {
            return standing;
        }
        standing.max(if reach.is_certain(class) { Standing::Tolerated } else { Standing::Uncertain })
    }
}

/// The library of a class: its archive, and how the names of its packages begin.
fn library(program: &Program, id: ClassId) -> Option<(ArchiveId, &[u8])> {
    let class = program.class(id)?;
    let package = package_of(program.names.name(class.path));
    let mut ends = package.iter().enumerate().filter(|&(_, &byte)| byte == b'/').map(|(at, _)| at);
    Some((class.archive, ends.nth(PARTS - 1).and_then(|end| package.get(..end)).unwrap_or(package)))
}

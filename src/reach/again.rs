//! Reads class files a second time, for what the summary of the program does not keep.
//!
//! The first function to read is [`Again::each`].

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Mutex, MutexGuard, PoisonError};

use rayon::prelude::*;

use crate::archive::Reader;
use crate::classfile::{ClassFile, Member, Pool, Scratch};
use crate::diag::{Code, Diagnostic};
use crate::limits::Limits;
use crate::program::{Class, ClassId, MethodId, MethodKind, Program};

/// Reads classes of a program, in memory that is used again for one after another; `M` is that of whoever follows them.
pub(super) struct Again<'p, M> {
    program: &'p Program,
    limits: Limits,
    /// What nobody uses at the moment.
    spare: Mutex<Vec<Memory<M>>>,
}

struct Memory<M> {
    reader: Reader,
    pool: Scratch,
    own: M,
}

impl<'p, M: Default + Send> Again<'p, M> {
    pub(super) fn new(program: &'p Program, limits: &Limits) -> Self {
        Again { program, limits: limits.clone(), spare: Mutex::default() }
    }

    /// Reads the class of each item and says what `of` makes of it, in the order of the items, on all threads. A class
    /// that cannot be read is a finding.
    pub(super) fn each<I: Sync, T: Send>(
        &self,
        items: &[I],
        class_of: impl Fn(&I) -> ClassId + Sync,
        of: impl Fn(&ClassFile<'_>, &Class, &I, &mut M) -> T + Sync,
    ) -> Vec<Result<T, Box<Diagnostic>>> {
        let one = |item| self.read(class_of(item), |file, class, memory| of(file, class, item, memory));
        items.par_iter().map(one).collect()
    }

    /// The same for one class.
    pub(super) fn read<T>(
        &self,
        id: ClassId,
        of: impl FnOnce(&ClassFile<'_>, &Class, &mut M) -> T,
    ) -> Result<T, Box<Diagnostic>> {
        // Held for a moment only, and nothing beside the reading of a class.
        let spare = self.spare().pop();
        let fresh = || Memory { reader: Reader::new(&self.limits), pool: Scratch::default(), own: M::default() };
        let mut memory = spare.unwrap_or_else(fresh);
        let told = self.read_in(&mut memory, id, of);
        self.spare().push(memory);
        told
    }

    fn spare(&self) -> MutexGuard<'_, Vec<Memory<M>>> {
        self.spare.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn read_in<T>(
        &self,
        memory: &mut Memory<M>,
        id: ClassId,
        of: impl FnOnce(&ClassFile<'_>, &Class, &mut M) -> T,
    ) -> Result<T, Box<Diagnostic>> {
        let (program, Memory { reader, pool, own }) = (self.program, memory);
        let class = program.class(id);
        let place = class.and_then(|class| Some((class, program.archive(class.archive)?)));
        let entry = place.and_then(|(class, archive)| archive.entries.get(class.entry as usize));
        let (Some((class, archive)), Some(entry)) = (place, entry) else {
            // Numbers come from this program.
            let place = crate::names::Locator::of_path(std::path::Path::new(""));
            return Err(Box::new(Diagnostic::new(Code::InternalError, place, "a class is not where it was")));
        };
        let bytes = reader.read(archive, entry)?;
        // A fault of ours in one class must not cost the answer about all others.
        let read = catch_unwind(AssertUnwindSafe(|| ClassFile::read(bytes, pool).map(|file| of(&file, class, own))));
        match read {
            Ok(Ok(told)) => Ok(told),
            Ok(Err(error)) => {
                Err(Box::new(Diagnostic::new(Code::DamagedClass, program.locate(class), error.to_string())))
            }
            Err(_) => {
                let said =
                    "following this class failed by a fault of this program; please report it with the class file";
                Err(Box::new(Diagnostic::new(Code::InternalError, program.locate(class), said)))
            }
        }
    }
}

/// The number of a method of a class that is being walked, the `ordinal`th there: nearly always that one of the
/// program's as well.
pub(super) fn number(
    program: &Program,
    class: &Class,
    ordinal: usize,
    pool: Pool<'_>,
    member: Member,
) -> Option<MethodId> {
    let (name, descriptor) = (pool.utf8(member.name)?, pool.utf8(member.descriptor)?);
    let fits = |(_, method): &(MethodId, &crate::program::Method)| {
        let selector = program.members.name(method.selector);
        method.kind == MethodKind::Declared && selector.strip_prefix(name).is_some_and(|rest| rest == descriptor)
    };
    let next = program.methods_of(class).nth(ordinal).filter(fits);
    next.or_else(|| program.methods_of(class).find(fits)).map(|(id, _)| id)
}

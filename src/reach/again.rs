//! Reads class files a second time, for what the summary of the program does not keep.
//!
//! The first function to read is [`each`].

use std::panic::{AssertUnwindSafe, catch_unwind};

use rayon::prelude::*;

use crate::archive::Reader;
use crate::classfile::{ClassFile, Member, Pool, Scratch};
use crate::diag::{Code, Diagnostic};
use crate::limits::Limits;
use crate::program::{Class, ClassId, MethodId, MethodKind, Program};

/// Reads the class of each item and says what `of` makes of it, in the order of the items, on all threads; `M` is memory
/// that a thread uses again. A class that cannot be read is a finding.
pub(super) fn each<I: Sync, M: Default, T: Send>(
    program: &Program,
    limits: &Limits,
    items: &[I],
    class_of: impl Fn(&I) -> ClassId + Sync,
    of: impl Fn(&ClassFile<'_>, &Class, &I, &mut M) -> T + Sync,
) -> Vec<Result<T, Box<Diagnostic>>> {
    let memory = || (Reader::new(limits), Scratch::default(), M::default());
    let one = |(reader, pool, memory): &mut (Reader, Scratch, M), item: &I| {
        let class = program.class(class_of(item));
        let place = class.and_then(|class| Some((class, program.archive(class.archive)?)));
        let entry = place.and_then(|(class, archive)| archive.entries.get(class.entry as usize));
        let (Some((class, archive)), Some(entry)) = (place, entry) else {
            // Numbers come from this program.
            let place = crate::names::Locator::of_path(std::path::Path::new(""));
            return Err(Box::new(Diagnostic::new(Code::InternalError, place, "a class is not where it was")));
        };
        let bytes = reader.read(archive, entry)?;
        // A fault of ours in one class must not cost the answer about all others.
        let read =
            catch_unwind(AssertUnwindSafe(|| ClassFile::read(bytes, pool).map(|file| of(&file, class, item, memory))));
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
    };
    items.par_iter().map_init(memory, one).collect()
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

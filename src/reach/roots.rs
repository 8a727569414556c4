//! Where the program starts running, for the analysis. The first function to read is [`start`].

use crate::program::{ClassId, MethodKind};

use super::Cause;
use super::names::Naming;

/// Methods at which the launcher or an agent loader starts (JLS §12.1, `java.lang.instrument`).
const STARTS: [&[u8]; 3] = [b"main(", b"premain(", b"agentmain("];

/// Reaches what runs by itself.
pub(super) fn start(names: &mut Naming<'_, '_>) {
    let program = names.run.types.program;
    for (number, entry) in (0..).zip(&names.start.entry_points.started) {
        let Some(class) = names.class(entry.class.as_bytes()) else { continue };
        let cause = Cause::Start(number);
        names.run.initialise(class, cause);
        let mut any = false;
        for (method, head) in program.class(class).into_iter().flat_map(|class| program.methods_of(class)) {
            let selector = program.members.name(head.selector);
            if head.kind == MethodKind::Declared && STARTS.iter().any(|start| selector.starts_with(start)) {
                names.run.method(method, cause);
                if !head.is_static() {
                    names.run.create(class, cause);
                }
                any = true;
            }
        }
        // A class without such a method is one that somebody else calls.
        if !any {
            offered(names, class, cause);
        }
    }
    let before = names.start.entry_points.first_listed() as u32;
    for (number, entry) in (before..).zip(&names.start.entry_points.listed) {
        for class in names.of_path(entry.class.as_bytes()) {
            names.run.whole(class, Cause::Start(number));
        }
    }
    if names.start.entry_points.library {
        let own: Vec<ClassId> = names.start.own.iter().map(|&(class, _)| class).collect();
        // Of a layout that nobody knows, nothing tells libraries from the rest.
        let classes = if own.is_empty() { names.view.classes.clone() } else { own };
        for class in classes {
            let access = program.class(class).map_or(0, |class| class.access);
            if access & 0x0001 != 0 {
                offered(names, class, Cause::Public);
            }
        }
    }
}

/// What a class offers to others: objects, and public and protected methods.
fn offered(names: &mut Naming<'_, '_>, id: ClassId, cause: Cause) {
    let program = names.run.types.program;
    names.run.instantiate(id, cause);
    for (method, head) in program.class(id).into_iter().flat_map(|class| program.methods_of(class)) {
        // ACC_PUBLIC, ACC_PROTECTED
        if head.kind == MethodKind::Declared && head.access & 0x0005 != 0 {
            names.run.method(method, cause);
        }
    }
}

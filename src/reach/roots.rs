//! Where the program starts running, for the analysis. The first function to read is [`start`].

use crate::archive::Scope;
use crate::program::{Class, ClassId, Method, MethodId, MethodKind, Program, View};

use super::names::Naming;
use super::types::Types;
use super::{Cause, Start};

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
        for above in names.run.types.ancestors(class).0.iter().filter_map(|&above| program.class(above)) {
            for (method, head) in starts_of(program, above) {
                // Inherited are all but static methods of interfaces (JLS §8.4.8).
                if above.is_interface() && head.is_static() && head.class != class {
                    continue;
                }
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

/// Methods of a class at which the launcher or an agent loader may start.
fn starts_of<'p>(program: &'p Program, class: &'p Class) -> impl Iterator<Item = (MethodId, &'p Method)> {
    program.methods_of(class).filter(|(_, head)| {
        let selector = program.members.name(head.selector);
        head.kind == MethodKind::Declared && STARTS.iter().any(|start| selector.starts_with(start))
    })
}

/// The classes in which the launcher looks for the main method, and so lists methods: where the program starts, and its
/// superclasses up to the one that has it.
pub(super) fn launched(types: &Types<'_>, view: &View, start: &Start<'_>) -> Vec<ClassId> {
    let program = types.program;
    let mut launched = Vec::new();
    for entry in &start.entry_points.started {
        let name = program.names.find(entry.class.as_bytes());
        let mut next = name.and_then(|name| view.find(Scope::default(), name));
        while let Some(id) = next.filter(|id| !launched.contains(id)) {
            launched.push(id);
            let has_start = program.class(id).is_some_and(|class| starts_of(program, class).next().is_some());
            next = types.superclass(id).filter(|_| !has_start);
        }
    }
    launched
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

//! How a place is reached: the chain of first causes from it back to where the program starts.
//!
//! [`crate::reach`] keeps of everything the first cause, found breadth first, so that chains are short. What a method did
//! to be a cause is read off its steps. Nothing here knows of modules. The first function to read is [`Tracer::steps`].

use std::collections::BTreeSet;

use crate::classfile::{Position, Stage};
use crate::flow::Members;
use crate::names::{binary_name, decode_mutf8};
use crate::program::{Action, Class, ClassId, MethodId, MethodKind, NameId, Reference};
use crate::reach::{Cause, Level, Reached, listed_with};
use crate::report::Step;
use crate::verdict::{Evidence, EvidenceKind, Place, Standing};

use super::Analysis;

/// Steps of a path; whatever goes on longer is cut at its beginning.
const MOST_STEPS: usize = 256;

/// Something that a path goes through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Node {
    Method(MethodId),
    Class(ClassId, Aspect),
}

/// What becomes of a class.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Aspect {
    Loaded,
    Initialised,
    Instantiated,
    /// Something about its members is asked for.
    Introspected,
    /// Some of these members are listed.
    Listed(Members),
}

/// What is done, and the stage at which a missing class would be felt there.
type How = (String, &'static str);

/// Follows causes.
pub(super) struct Tracer<'a> {
    pub analysis: &'a Analysis,
    /// Names of members that are looked up in classes which are not known.
    by_name: BTreeSet<&'a [u8]>,
}

impl<'a> Tracer<'a> {
    pub fn new(analysis: &'a Analysis) -> Self {
        let members = analysis.reach.look_ups.iter().flat_map(|look_up| &look_up.members);
        Tracer { analysis, by_name: members.map(Vec::as_slice).collect() }
    }

    /// How many steps lead to a piece of evidence.
    pub fn length(&self, evidence: &Evidence) -> usize {
        let mut length = 1;
        let mut at = self.place(evidence);
        while let Some(node) = at.filter(|_| length < MOST_STEPS) {
            length += 1;
            at = self.before(node);
        }
        length
    }

    /// The steps to a piece of evidence, `last` last, which is its own place; only that where nothing reaches it.
    pub fn steps(&self, evidence: &Evidence, last: Step) -> Vec<Step> {
        let Some(place) = self.place(evidence) else { return vec![last] };
        let mut chain = vec![place];
        let mut at = place;
        while let Some(before) = self.before(at).filter(|before| chain.len() < MOST_STEPS && !chain.contains(before)) {
            chain.push(before);
            at = before;
        }
        let mut steps = vec![self.root(at)];
        chain.reverse();
        let is_site = |node: &Node| self.kind(*node) == Some(MethodKind::Bootstrap);
        for (at, &node) in chain.iter().enumerate().take(chain.len() - 1) {
            // A call site is told with the method that has it.
            if is_site(&node) {
                continue;
            }
            let Some(&next) = chain.get(at + 1) else { continue };
            let (how, stage) = match chain.get(at + 2) {
                Some(&after) if is_site(&next) => {
                    let (how, stage) = self.edge(next, after);
                    (format!("makes a call site that {how}"), stage)
                }
                _ => self.edge(node, next),
            };
            steps.push(Step { who: self.who(node), archive: self.archive(node), how, stage });
        }
        // What stands in a member takes effect on the class as a whole.
        if matches!(place, Node::Class(..)) && last.who != self.who(place) {
            let how = match last.stage {
                "link" => "is linked, and with it",
                "introspect" => "is looked at, and with it",
                _ => "has",
            };
            steps.push(Step {
                who: self.who(place),
                archive: self.archive(place),
                how: how.to_owned(),
                stage: last.stage,
            });
        }
        steps.push(last);
        steps
    }

    /// Where a piece of evidence takes effect.
    fn place(&self, evidence: &Evidence) -> Option<Node> {
        let Place::Class(class, member) = evidence.place else { return None };
        if evidence.standing == Standing::Dormant {
            return None;
        }
        let there = |node: Node| self.reached(node).map(|_| node);
        let of = |aspect| there(Node::Class(class, aspect));
        let method = || evidence.method.and_then(|method| there(Node::Method(method)));
        match evidence.kind {
            EvidenceKind::At(position) => match position.stage() {
                Stage::Load => of(Aspect::Loaded),
                Stage::Link => of(Aspect::Initialised),
                Stage::Run => method().or_else(|| of(Aspect::Initialised)),
                Stage::Introspect if position == Position::AnnotationValue => of(Aspect::Loaded),
                // What is ignored otherwise is asked for by whoever inspects the class.
                Stage::Introspect | Stage::Ignore => {
                    let members = listed_with(&self.analysis.program, position, member, evidence.method);
                    let listed = of(Aspect::Listed(members)).or_else(|| of(Aspect::Introspected));
                    listed.or_else(|| of(Aspect::Loaded))
                }
            },
            EvidenceKind::Verification => of(Aspect::Initialised),
            _ => method().or_else(|| of(Aspect::Loaded)),
        }
    }

    fn reached(&self, node: Node) -> Option<Reached> {
        let reach = &self.analysis.reach;
        match node {
            Node::Method(method) => reach.method(method),
            Node::Class(class, Aspect::Loaded) => reach.loaded(class),
            Node::Class(class, Aspect::Initialised) => reach.initialised(class),
            Node::Class(class, Aspect::Instantiated) => reach.instantiated(class),
            Node::Class(class, Aspect::Introspected) => reach.introspected(class),
            Node::Class(class, Aspect::Listed(members)) => reach.looked_at(class, members),
        }
    }

    /// What makes it so; none where the program starts.
    fn before(&self, node: Node) -> Option<Node> {
        match self.reached(node)?.cause {
            Cause::Start(_) | Cause::Public | Cause::Own | Cause::Resource(_) => None,
            Cause::Method(method) | Cause::LookUp(method) => Some(Node::Method(method)),
            Cause::Class(class) => {
                let node = Node::Class(class, self.aspect(node, class));
                Some(if self.reached(node).is_some() { node } else { Node::Class(class, Aspect::Loaded) })
            }
        }
    }

    /// What about a class brings something with it.
    fn aspect(&self, node: Node, class: ClassId) -> Aspect {
        match node {
            Node::Method(method) => match self.kind(node) {
                Some(MethodKind::Annotations) => Aspect::Loaded,
                _ if self.selector(method) == b"<clinit>()V" => Aspect::Initialised,
                _ => Aspect::Instantiated,
            },
            Node::Class(own, _) if own == class => Aspect::Loaded,
            Node::Class(own, Aspect::Loaded) if self.is_above(own, class) => Aspect::Loaded,
            // The verifier loads more.
            Node::Class(_, Aspect::Loaded) => Aspect::Initialised,
            Node::Class(_, aspect) => aspect,
        }
    }

    fn is_above(&self, class: ClassId, below: ClassId) -> bool {
        let program = &self.analysis.program;
        let (Some(above), Some(below)) = (program.class(class), program.class(below)) else { return false };
        below.superclass.iter().chain(&below.interfaces).any(|&name| name == above.name)
    }

    fn is_around(&self, class: ClassId, within: ClassId) -> bool {
        let program = &self.analysis.program;
        let (Some(around), Some(within)) = (program.class(class), program.class(within)) else { return false };
        let names = |class: &Class| program.names.name(class.name);
        within.enclosing.is_some()
            && names(within).strip_prefix(names(around)).is_some_and(|rest| rest.starts_with(b"$"))
    }

    fn root(&self, node: Node) -> Step {
        let analysis = self.analysis;
        let step = |who: &str, archive: String, how: &str, stage| Step {
            who: who.to_owned(),
            archive,
            how: how.to_owned(),
            stage,
        };
        match self.reached(node).map(|reached| reached.cause) {
            Some(Cause::Start(number)) => {
                let entry = analysis.entry_points.all().nth(number as usize);
                let is_listed = analysis.entry_points.first_listed() <= number as usize;
                let (how, stage) = if is_listed { ("names", "name") } else { ("starts", "run") };
                step(entry.map_or("the launch", |entry| &entry.reason), String::new(), how, stage)
            }
            Some(Cause::Public) => step("whoever uses this library", String::new(), "may call", "run"),
            Some(Cause::Own) => {
                step("the container or framework", String::new(), "may call by rules of its own", "name")
            }
            Some(Cause::Resource(number)) => {
                let resource = analysis.resources.names.get(number as usize);
                let archive = resource.and_then(|resource| analysis.program.archive(resource.archive));
                let archive = archive.map(|archive| archive.locator.to_string()).unwrap_or_default();
                step(resource.map_or("a file", |resource| &resource.path), archive, "names", "name")
            }
            _ => step("…", String::new(), "leads to", "run"),
        }
    }

    /// What the first does so that the second comes about.
    fn edge(&self, from: Node, to: Node) -> How {
        let Some(reached) = self.reached(to) else { return ("leads to".to_owned(), "run") };
        let (how, stage) = match (reached.cause, to) {
            (Cause::LookUp(_), Node::Class(_, Aspect::Introspected | Aspect::Listed(_))) => {
                ("looks up members of".to_owned(), "introspect")
            }
            (Cause::LookUp(_), Node::Method(method)) if self.selector(method).starts_with(b"<init>") => {
                ("creates by name".to_owned(), "name")
            }
            (Cause::LookUp(_), _) => ("looks up by name".to_owned(), "name"),
            (Cause::Class(_), Node::Method(method)) => match self.kind(to) {
                Some(MethodKind::Annotations) => ("carries the annotations".to_owned(), "introspect"),
                _ if self.selector(method) == b"<clinit>()V" => ("is initialised by".to_owned(), "run"),
                _ if self.is_by_name(method) => ("is called by name at".to_owned(), "name"),
                _ => ("the platform calls back".to_owned(), "run"),
            },
            (Cause::Class(class), Node::Class(above, _)) if self.is_above(above, class) => {
                ("extends or implements".to_owned(), "load")
            }
            (Cause::Class(class), Node::Class(around, _)) if self.is_around(around, class) => {
                ("is nested in".to_owned(), "load")
            }
            (Cause::Class(_), Node::Class(..)) => ("is verified with".to_owned(), "link"),
            (_, Node::Method(method)) => (self.call(from, method), "run"),
            (_, Node::Class(class, aspect)) => (self.using(from, class, aspect), "run"),
        };
        let level = |node| self.reached(node).map(|reached| reached.level);
        let how = match (level(from), reached.level) {
            (before, Level::Guarded) if before != Some(Level::Guarded) => format!("{how} (guarded)"),
            (Some(Level::Certain), Level::ByName) => format!("{how} (perhaps)"),
            _ => how,
        };
        (how, stage)
    }

    fn actions(&self, node: Node) -> Vec<Action> {
        let Node::Method(method) = node else { return Vec::new() };
        self.analysis.program.steps(method).map(|step| step.action).collect()
    }

    /// How a method makes another one run.
    fn call(&self, from: Node, method: MethodId) -> String {
        let program = &self.analysis.program;
        let Some(head) = program.method(method) else { return "leads to".to_owned() };
        if head.kind == MethodKind::Bootstrap {
            return "makes a call site of".to_owned();
        }
        let class = program.class(head.class).map(|class| class.name);
        let called = |action: &Action| action.called().filter(|called| called.member == head.selector);
        let actions = self.actions(from);
        let all: Vec<Reference> = actions.iter().filter_map(called).collect();
        let exact = all.iter().find(|called| Some(called.owner) == class);
        match exact.or(all.first()) {
            Some(_) if self.selector(method).starts_with(b"<init>") => "creates through".to_owned(),
            Some(called) if Some(called.owner) != class => {
                let owner = binary_name(program.names.name(called.owner));
                format!("calls, as {},", owner.rsplit('.').next().unwrap_or(&owner))
            }
            Some(_) => "calls".to_owned(),
            None if actions
                .iter()
                .any(|action| matches!(action, Action::ClassLiteral(name) if Some(*name) == class)) =>
            {
                "hands out the class of".to_owned()
            }
            None => "leads to".to_owned(),
        }
    }

    /// How a method makes something become of a class.
    fn using(&self, from: Node, class: ClassId, aspect: Aspect) -> String {
        let Some(class) = self.analysis.program.class(class).map(|class| class.name) else { return String::new() };
        let said = |action: &Action| -> Option<(NameId, &'static str)> {
            Some(match *action {
                Action::New(name) => (name, "creates"),
                Action::Object(name) => (name, "makes an object of"),
                Action::StaticCall(called) => (called.owner, "calls a static method of"),
                Action::StaticField(called) => (called.owner, "uses a static field of"),
                Action::SpecialCall(called) | Action::VirtualCall(called) => (called.owner, "calls a method of"),
                Action::ClassLiteral(name) => (name, "uses the class object of"),
                Action::Asked(name) => (name, "asks the class object of"),
                Action::Load(name) => (name, "casts to or tests for"),
                Action::Annotation(name) => (name, "is annotated with"),
                Action::ClassName(_) | Action::Text(_) | Action::Bootstrap(_) => return None,
            })
        };
        let all: Vec<&'static str> = self
            .actions(from)
            .iter()
            .filter_map(said)
            .filter(|&(name, _)| name == class)
            .map(|(_, said)| said)
            .collect();
        // Only some of what a method does to a class has that effect.
        let fits = |said: &&&str| match aspect {
            Aspect::Instantiated => matches!(**said, "creates" | "makes an object of" | "uses the class object of"),
            Aspect::Initialised => !matches!(**said, "casts to or tests for" | "calls a method of"),
            Aspect::Loaded | Aspect::Introspected | Aspect::Listed(_) => true,
        };
        (*all.iter().find(fits).or(all.first()).unwrap_or(&"leads to")).to_owned()
    }

    fn selector(&self, method: MethodId) -> &[u8] {
        let program = &self.analysis.program;
        program.method(method).map_or(&[], |head| program.members.name(head.selector))
    }

    fn is_by_name(&self, method: MethodId) -> bool {
        let selector = self.selector(method);
        let name = selector.split(|&byte| byte == b'(').next().unwrap_or_default();
        self.by_name.contains(name)
    }

    fn kind(&self, node: Node) -> Option<MethodKind> {
        match node {
            Node::Method(method) => self.analysis.program.method(method).map(|head| head.kind),
            Node::Class(..) => None,
        }
    }

    fn class(&self, node: Node) -> Option<ClassId> {
        match node {
            Node::Method(method) => self.analysis.program.method(method).map(|head| head.class),
            Node::Class(class, _) => Some(class),
        }
    }

    fn who(&self, node: Node) -> String {
        let program = &self.analysis.program;
        let class = self.class(node).and_then(|class| program.class(class));
        let class = class.map_or_else(String::new, |class| binary_name(program.names.name(class.name)));
        match node {
            Node::Method(method) if self.kind(node) == Some(MethodKind::Declared) => {
                format!("{class}.{}", decode_mutf8(self.selector(method)))
            }
            _ => class,
        }
    }

    fn archive(&self, node: Node) -> String {
        let program = &self.analysis.program;
        let class = self.class(node).and_then(|class| program.class(class));
        let archive = class.and_then(|class| program.archive(class.archive));
        archive.map(|archive| archive.locator.to_string()).unwrap_or_default()
    }
}

//! Rapid type analysis: methods that can run make others run, objects that can exist decide which.
//!
//! After Bacon and Sweeney, "Fast Static Analysis of C++ Virtual Function Calls" (OOPSLA 1996): a virtual call runs the
//! methods that it would select for those classes alone of which there can be objects. What the platform calls back is
//! found by overriding; what is handed over by name by [`super::lookups`].
//!
//! There are three rounds, strongest first ([`Level`]): what runs in any case, what runs if names that the code cannot
//! show mean what they look like, what runs only where its absence is borne. What an earlier round has reached keeps its
//! level. The first function to read is [`Run::settle`].

use std::collections::VecDeque;

use rustc_hash::FxHashSet;

use crate::archive::Scope;
use crate::flow::Members;
use crate::program::{Action, Class, ClassId, MethodId, MethodKind, NameId, Reference};

use super::looked_at::LookedAt;
use super::selections::MOST_SELECTIONS;
use super::types::Types;
use super::{Cause, Level, Reached};

/// What is known of a class so far; each with the first cause.
#[derive(Clone, Copy, Default)]
pub(super) struct ClassState {
    pub loaded: Option<Reached>,
    pub initialised: Option<Reached>,
    pub instantiated: Option<Reached>,
    pub introspected: Option<Reached>,
    /// Used as a value.
    pub literal: Option<Reached>,
    /// Looked up by its name, or created by somebody who has its class object.
    pub created: Option<Reached>,
}

/// Something reached whose consequences are not drawn yet.
#[derive(Clone, Copy, Debug)]
pub(super) enum Due {
    Method(MethodId),
    Loaded(ClassId),
    Initialised(ClassId),
    Instantiated(ClassId),
}

/// A step that waits for the round in which it counts.
#[derive(Clone, Copy, Debug)]
struct Waiting {
    action: Action,
    scope: Scope,
    cause: Cause,
}

/// What classes have become, in the order in which they did; each class once a list, or a few times in the last.
#[derive(Default)]
pub(super) struct History {
    pub loaded: Vec<ClassId>,
    pub initialised: Vec<ClassId>,
    pub introspected: Vec<ClassId>,
    /// Members of it are listed.
    pub listed: Vec<ClassId>,
    /// There are objects of it, or its class object is a value.
    pub there: Vec<ClassId>,
}

pub(super) struct Run<'p> {
    pub types: Types<'p>,
    /// The selector of static initialisers.
    initialiser: Option<NameId>,
    /// The round.
    pub level: Level,
    pub methods: Vec<Option<Reached>>,
    pub classes: Vec<ClassState>,
    pub history: History,
    pub due: VecDeque<Due>,
    /// Methods reached since the last time somebody took them.
    pub fresh: Vec<MethodId>,
    /// How many of the classes initialised somebody has been told of.
    pub told: usize,
    /// Steps under a guard.
    guarded: Vec<Waiting>,
    /// Selectors called on a type.
    pub called: Vec<Vec<(NameId, Cause)>>,
    called_once: FxHashSet<(ClassId, NameId)>,
    /// Classes with objects, by each of their supertypes of the program.
    objects: Vec<Vec<ClassId>>,
    /// Memory for what one selection finds.
    selected: Vec<MethodId>,
    /// Selections that may still be made one by one.
    pub selections: u32,
    /// Interfaces of which call sites make objects, and those above them.
    pub made: FxHashSet<ClassId>,
    /// Classes of which all methods count as called.
    pub whole: FxHashSet<ClassId>,
    /// What the platform may call on records by methods that the compiler wrote, until the second round.
    late: Vec<(ClassId, NameId)>,
    /// Texts of reached methods that may be the name of a class of the program, with the method.
    pub texts: Vec<(ClassId, MethodId)>,
    text_seen: FxHashSet<ClassId>,
    /// Other texts of reached methods, each once: paths of files are among them.
    pub paths: Vec<NameId>,
    text_told: Vec<bool>,
    /// Which members of classes are looked at.
    pub looked_at: LookedAt,
    /// Types of annotations that somebody reads.
    pub annotations: Vec<(ClassId, Cause)>,
    /// Class objects that are values somewhere, in the order of discovery.
    pub literals: Vec<ClassId>,
    /// Classes whose class object is asked for its name, say, and dropped; in the order of discovery, each once.
    pub asked: Vec<ClassId>,
    asked_seen: FxHashSet<ClassId>,
}

impl<'p> Run<'p> {
    pub fn new(types: Types<'p>) -> Self {
        let (methods, classes) = (types.program.methods.len(), types.program.classes.len());
        Run {
            text_told: vec![false; types.program.texts.len()],
            paths: Vec::new(),
            initialiser: types.program.members.find(b"<clinit>()V"),
            types,
            level: Level::Certain,
            methods: vec![None; methods],
            classes: vec![ClassState::default(); classes],
            history: History::default(),
            due: VecDeque::new(),
            fresh: Vec::new(),
            told: 0,
            guarded: Vec::new(),
            called: vec![Vec::new(); classes],
            called_once: FxHashSet::default(),
            objects: vec![Vec::new(); classes],
            selected: Vec::new(),
            selections: MOST_SELECTIONS,
            made: FxHashSet::default(),
            whole: FxHashSet::default(),
            late: Vec::new(),
            texts: Vec::new(),
            text_seen: FxHashSet::default(),
            looked_at: LookedAt::of(classes),
            annotations: Vec::new(),
            literals: Vec::new(),
            asked: Vec::new(),
            asked_seen: FxHashSet::default(),
        }
    }

    /// Begins the second round.
    pub fn open_names(&mut self) {
        self.level = Level::ByName;
        for class in self.history.initialised.clone() {
            self.name_around(class);
        }
        for (class, selector) in std::mem::take(&mut self.late) {
            self.select(class, selector, Cause::Class(class));
        }
    }

    /// Begins the last round: what stands under a guard counts from now on.
    pub fn open_guards(&mut self) {
        self.level = Level::Guarded;
        for Waiting { action, scope, cause } in std::mem::take(&mut self.guarded) {
            self.act(action, scope, cause);
        }
    }

    fn reached(&self, cause: Cause) -> Reached {
        if self.level != Level::Guarded {
            return Reached { level: self.level, cause, depth: 0 };
        }
        let before = match cause {
            Cause::Method(method) | Cause::LookUp(method) => self.methods.get(method.0 as usize).copied().flatten(),
            Cause::Class(class) => self.state(class).loaded,
            Cause::Start(_) | Cause::Public | Cause::Own | Cause::Resource(_) => None,
        };
        let depth = before.filter(|before| before.level == Level::Guarded).map_or(0, |it| it.depth.saturating_add(1));
        Reached { level: self.level, cause, depth }
    }

    /// Whether a method can run by now.
    pub fn reaches(&self, id: MethodId) -> bool {
        self.methods.get(id.0 as usize).is_some_and(Option::is_some)
    }

    /// Whether a method that can run holds a text.
    pub fn holds(&self, text: &[u8]) -> bool {
        self.types.program.texts.find(text).is_some_and(|id| self.text_told.get(id.0 as usize) == Some(&true))
    }

    /// What is known of a class.
    pub fn state(&self, id: ClassId) -> ClassState {
        self.classes.get(id.0 as usize).copied().unwrap_or_default()
    }

    /// A method can run.
    pub fn method(&mut self, id: MethodId, cause: Cause) {
        let reached = self.reached(cause);
        if let Some(slot @ None) = self.methods.get_mut(id.0 as usize) {
            *slot = Some(reached);
            self.fresh.push(id);
            self.due.push_back(Due::Method(id));
        }
    }

    /// Notes what becomes of a class; whether that is new.
    pub fn mark(&mut self, id: ClassId, cause: Cause, of: impl Fn(&mut ClassState) -> &mut Option<Reached>) -> bool {
        let reached = self.reached(cause);
        match self.classes.get_mut(id.0 as usize).map(of) {
            Some(slot @ None) => {
                *slot = Some(reached);
                true
            }
            _ => false,
        }
    }

    /// A class is loaded (JVMS §5.3).
    pub fn load(&mut self, id: ClassId, cause: Cause) {
        if self.mark(id, cause, |state| &mut state.loaded) {
            self.history.loaded.push(id);
            self.due.push_back(Due::Loaded(id));
        }
    }

    /// A class is initialised (JVMS §5.5), and so linked.
    pub fn initialise(&mut self, id: ClassId, cause: Cause) {
        self.load(id, cause);
        if self.mark(id, cause, |state| &mut state.initialised) {
            self.history.initialised.push(id);
            self.due.push_back(Due::Initialised(id));
            // Its constants are had by `values`, which is looked for among its methods: by `Enum.valueOf`, sets and maps.
            if self.types.class(id).is_some_and(Class::is_enum) {
                self.introspect(id, Members::PUBLIC_METHODS, cause);
            }
        }
    }

    /// There can be objects of a class.
    pub fn instantiate(&mut self, id: ClassId, cause: Cause) {
        if !self.types.can_link(id) {
            self.load(id, cause);
            return;
        }
        self.initialise(id, cause);
        if self.mark(id, cause, |state| &mut state.instantiated) {
            self.history.there.push(id);
            self.due.push_back(Due::Instantiated(id));
        }
    }

    /// Members of a class are looked up by reflection.
    pub fn introspect(&mut self, id: ClassId, members: Members, cause: Cause) {
        self.load(id, cause);
        let reached = self.reached(cause);
        self.looked_at.add(id, members, reached);
        if members != Members::NONE {
            self.history.listed.push(id);
        }
        let inherited = members.inherited();
        if inherited != Members::NONE {
            for &above in self.types.ancestors(id).0.iter() {
                self.looked_at.add(above, inherited, reached);
            }
        }
        if self.mark(id, cause, |state| &mut state.introspected) {
            self.history.introspected.push(id);
        }
    }

    /// A class object is a value.
    pub fn literal(&mut self, id: ClassId, cause: Cause) {
        self.load(id, cause);
        if self.mark(id, cause, |state| &mut state.literal) {
            self.history.there.push(id);
            self.literals.push(id);
            // Whoever has the class of an enum asks for its constants (`EnumSet`, `EnumMap`, `Enum.valueOf`).
            if self.types.class(id).is_some_and(Class::is_enum) {
                self.initialise(id, cause);
            }
        }
    }

    pub fn run(&mut self, id: MethodId) {
        let program = self.types.program;
        let Some(method) = program.method(id) else { return };
        let scope = self.types.scope(method.class);
        let cause = Cause::Method(id);
        for step in program.steps(id) {
            if step.guarded && self.level != Level::Guarded {
                self.guarded.push(Waiting { action: step.action, scope, cause });
            } else {
                self.act(step.action, scope, cause);
            }
        }
    }

    pub fn act(&mut self, action: Action, scope: Scope, cause: Cause) {
        match action {
            Action::StaticCall(Reference { owner, member }) => {
                let Some(class) = self.types.find(scope, owner) else { return };
                self.load(class, cause);
                if let Some(target) = self.types.resolve(class, member) {
                    let declaring = self.types.program.method(target).map_or(class, |method| method.class);
                    self.initialise(declaring, cause);
                    self.enters(target, cause);
                    self.method(target, cause);
                }
            }
            Action::SpecialCall(Reference { owner, member }) => {
                let Some(class) = self.types.find(scope, owner) else { return };
                self.load(class, cause);
                if let Some(target) = self.types.resolve(class, member) {
                    self.enters(target, cause);
                    self.method(target, cause);
                }
            }
            Action::VirtualCall(Reference { owner, member }) => {
                let Some(class) = self.types.find(scope, owner) else { return };
                self.load(class, cause);
                self.call(class, member, cause);
            }
            Action::StaticField(Reference { owner, .. }) => {
                if let Some(class) = self.types.find(scope, owner) {
                    self.initialise(class, cause);
                }
            }
            Action::New(name) => {
                if let Some(class) = self.types.find(scope, name) {
                    self.instantiate(class, cause);
                }
            }
            Action::Object(name) => {
                if let Some(class) = self.types.find(scope, name) {
                    self.made(class, cause);
                }
            }
            Action::Load(name) => {
                if let Some(class) = self.types.find(scope, name) {
                    self.load(class, cause);
                }
            }
            Action::ClassLiteral(name) => {
                if let Some(class) = self.types.find(scope, name) {
                    self.literal(class, cause);
                }
            }
            Action::Asked(name) => {
                if let Some(class) = self.types.find(scope, name) {
                    self.load(class, cause);
                    if self.asked_seen.insert(class) {
                        self.asked.push(class);
                    }
                }
            }
            Action::ClassName(name) => {
                if let (Some(class), Cause::Method(method)) = (self.types.find(scope, name), cause)
                    && self.text_seen.insert(class)
                {
                    self.texts.push((class, method));
                }
            }
            Action::Bootstrap(method) => {
                if self.types.program.method(method).is_some_and(|method| method.kind == MethodKind::Bootstrap) {
                    self.method(method, cause);
                }
            }
            Action::Text(text) => {
                if let Some(told @ false) = self.text_told.get_mut(text.0 as usize) {
                    *told = true;
                    self.paths.push(text);
                }
            }
            Action::Annotation(name) => {
                if let Some(class) = self.types.find(scope, name) {
                    self.annotations.push((class, cause));
                }
            }
        }
    }

    /// Whether somebody has a class, or has asked it for its name.
    pub fn is_named(&self, id: ClassId) -> bool {
        self.state(id).literal.is_some() || self.asked_seen.contains(&id)
    }

    /// A method is called on objects of a type.
    pub fn call(&mut self, class: ClassId, selector: NameId, cause: Cause) {
        if !self.called_once.insert((class, selector)) {
            return;
        }
        if let Some(called) = self.called.get_mut(class.0 as usize) {
            called.push((selector, cause));
        }
        // Private methods are not selected by an object's class.
        if let Some(target) = self.types.resolve(class, selector)
            && self.types.program.method(target).is_some_and(crate::program::Method::is_private)
        {
            self.enters(target, cause);
            self.method(target, cause);
        }
        if self.made.contains(&class) {
            self.call_made(class, selector, cause);
        }
        let objects = self.objects.get_mut(class.0 as usize).map(std::mem::take).unwrap_or_default();
        if self.selects(objects.len()) {
            for &object in &objects {
                self.select(object, selector, cause);
            }
        }
        if let Some(slot) = self.objects.get_mut(class.0 as usize) {
            *slot = objects;
        }
    }

    /// The methods that a call selects for objects of a class can run.
    fn select(&mut self, object: ClassId, selector: NameId, cause: Cause) {
        let mut found = std::mem::take(&mut self.selected);
        self.types.select(object, selector, |method| found.push(method));
        for method in found.drain(..) {
            self.method(method, cause);
        }
        self.selected = found;
    }

    pub fn loaded(&mut self, id: ClassId) {
        let scope = self.types.scope(id);
        for name in self.types.supertypes(id) {
            if let Some(above) = self.types.find(scope, name) {
                self.load(above, Cause::Class(id));
            }
        }
    }

    pub fn initialised(&mut self, id: ClassId) {
        let program = self.types.program;
        let Some(class) = self.types.class(id) else { return };
        if self.level != Level::Certain {
            self.name_around(id);
        }
        let scope = self.types.scope(id);
        for name in self.types.supertypes(id) {
            if let Some(above) = self.types.find(scope, name) {
                self.initialise(above, Cause::Class(id));
            }
        }
        for (method, head) in program.methods_of(class) {
            if Some(head.selector) == self.initialiser {
                self.method(method, Cause::Class(id));
            }
        }
    }

    pub fn instantiated(&mut self, id: ClassId) {
        let (ancestors, others) = self.types.ancestors(id);
        if self.selections == 0 {
            self.callable(id);
            return;
        }
        for &above in &*ancestors {
            if let Some(objects) = self.objects.get_mut(above.0 as usize) {
                objects.push(id);
            }
            let called = self.called.get_mut(above.0 as usize).map(std::mem::take).unwrap_or_default();
            if self.selects(called.len()) {
                for &(selector, cause) in &called {
                    self.select(id, selector, cause);
                }
            }
            if let Some(slot) = self.called.get_mut(above.0 as usize) {
                *slot = called;
            }
        }
        let is_record = others.iter().any(|&other| self.types.program.names.name(other) == b"java/lang/Record");
        for selector in self.types.callbacks(&ancestors, &others) {
            // A record's methods that the compiler wrote load the types of all components; whether anybody prints or
            // compares the record is another matter.
            if is_record && self.level == Level::Certain {
                self.late.push((id, selector));
            } else {
                self.select(id, selector, Cause::Class(id));
            }
        }
    }

    /// Whether a class is a subtype of a platform type, by the names of what is above it in the program.
    pub fn is_below(&mut self, id: ClassId, name: &[u8]) -> bool {
        let (_, others) = self.types.ancestors(id);
        self.types.program.names.find(name).is_some_and(|name| others.contains(&name))
    }
}

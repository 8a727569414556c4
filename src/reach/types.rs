//! The hierarchy of the program's classes and of the platform types above them: which method a call selects, and which
//! methods the platform may call back.
//!
//! The first functions to read are [`Types::select`] (JVMS §5.4.6) and [`Types::callbacks`].

use std::rc::Rc;

use rustc_hash::{FxHashMap, FxHashSet};

use crate::archive::{Archive, Kind, Scope};
use crate::names::package_of;
use crate::platform::{Catalogue, Presence, last_release_with};
use crate::program::{Class, ClassId, MethodId, MethodKind, NameId, Program, View};

/// Supertypes looked at for one class; what is beyond it counts as absent. Real classes stay below a hundred.
const MOST_SUPERTYPES: usize = 4096;

/// Looks up classes and methods of one program on one platform.
pub(super) struct Types<'p> {
    pub program: &'p Program,
    view: &'p View,
    catalogue: &'p Catalogue,
    /// Methods of the classes asked about so far, by class and selector.
    methods: FxHashMap<(ClassId, NameId), MethodId>,
    /// By class, whether its methods are in `methods`.
    tabled: Vec<bool>,
    /// By platform type: the selectors that it and its supertypes let others override.
    overridable: FxHashMap<Box<[u8]>, Rc<FxHashSet<NameId>>>,
}

impl<'p> Types<'p> {
    pub fn new(program: &'p Program, view: &'p View, catalogue: &'p Catalogue) -> Self {
        Types {
            program,
            view,
            catalogue,
            methods: FxHashMap::default(),
            tabled: vec![false; program.classes.len()],
            overridable: FxHashMap::default(),
        }
    }

    pub fn class(&self, id: ClassId) -> Option<&'p Class> {
        self.program.class(id)
    }

    /// Where the classes are looked up that a class names.
    pub fn scope(&self, id: ClassId) -> Scope {
        let class = self.program.class(id);
        class.and_then(|class| self.program.archive(class.archive)).map(|archive| archive.scope).unwrap_or_default()
    }

    /// The class of the program that a name means in a scope.
    pub fn find(&self, scope: Scope, name: NameId) -> Option<ClassId> {
        self.view.find(scope, name)
    }

    /// Whether the platform has a type, or had it in another release.
    pub fn on_platform(&self, name: &[u8]) -> bool {
        matches!(self.catalogue.presence(name), Presence::Present(_) | Presence::Unknown(_))
            || last_release_with(name).is_some()
    }

    /// Superclass first.
    pub fn supertypes(&self, id: ClassId) -> impl Iterator<Item = NameId> + use<'p> {
        let class = self.program.class(id);
        class.into_iter().flat_map(|class| class.superclass.into_iter().chain(class.interfaces.iter().copied()))
    }

    pub fn superclass(&self, id: ClassId) -> Option<ClassId> {
        self.find(self.scope(id), self.program.class(id)?.superclass?)
    }

    /// The class itself and its superclasses of the program, nearest first.
    fn lineage(&self, id: ClassId) -> Vec<ClassId> {
        std::iter::successors(Some(id), |&id| self.superclass(id)).take(MOST_SUPERTYPES).collect()
    }

    /// The class and all supertypes of the program, nearest first; and the names of the other supertypes.
    pub fn ancestors(&self, id: ClassId) -> (Vec<ClassId>, Vec<NameId>) {
        let mut own = vec![id];
        let mut others = Vec::new();
        let mut seen = FxHashSet::from_iter([id]);
        let mut at = 0;
        while let Some(&class) = own.get(at) {
            at += 1;
            let scope = self.scope(class);
            for name in self.supertypes(class) {
                match self.find(scope, name) {
                    Some(found) if own.len() < MOST_SUPERTYPES && seen.insert(found) => own.push(found),
                    None if !others.contains(&name) => others.push(name),
                    _ => {}
                }
            }
        }
        (own, others)
    }

    /// The method that a class declares under a selector.
    pub fn declared(&mut self, id: ClassId, selector: NameId) -> Option<MethodId> {
        let tabled = self.tabled.get_mut(id.0 as usize)?;
        if !std::mem::replace(tabled, true) {
            let class = self.program.class(id)?;
            for (method, head) in self.program.methods_of(class) {
                if head.kind == MethodKind::Declared {
                    self.methods.entry((id, head.selector)).or_insert(method);
                }
            }
        }
        self.methods.get(&(id, selector)).copied()
    }

    /// The method that a reference means (JVMS §5.4.3.3): of the class, of its superclasses, of any superinterface.
    pub fn resolve(&mut self, id: ClassId, selector: NameId) -> Option<MethodId> {
        for class in self.lineage(id) {
            if let Some(found) = self.declared(class, selector) {
                return Some(found);
            }
        }
        self.ancestors(id).0.into_iter().find_map(|class| self.declared(class, selector))
    }

    /// The methods that a virtual call may select for an object of that class (JVMS §5.4.6): that of the class or its
    /// nearest superclass; where there is none with code, those of its interfaces.
    pub fn select(&mut self, id: ClassId, ancestors: &[ClassId], selector: NameId, mut tell: impl FnMut(MethodId)) {
        for class in self.lineage(id) {
            let found = self.declared(class, selector).and_then(|found| Some((found, self.program.method(found)?)));
            if let Some((found, head)) = found.filter(|(_, head)| !head.is_static() && !head.is_private()) {
                if head.has_code() || head.access & 0x0100 != 0 {
                    tell(found);
                    return;
                }
                break;
            }
        }
        for &class in ancestors {
            if let Some(found) = self.declared(class, selector)
                && self.program.method(found).is_some_and(|head| head.has_code() && !head.is_static())
            {
                tell(found);
            }
        }
    }

    /// The methods of an object of that class that the platform may call, since they override what a platform type above
    /// it declares.
    pub fn callbacks(&mut self, ancestors: &[ClassId], others: &[NameId]) -> Vec<NameId> {
        let mut sets: Vec<Rc<FxHashSet<NameId>>> = vec![self.overridable(b"java/lang/Object")];
        for &name in others {
            let name = self.program.names.name(name);
            sets.push(self.overridable(name));
        }
        let mut found = Vec::new();
        for &class in ancestors {
            let Some(class) = self.program.class(class) else { continue };
            for (_, head) in self.program.methods_of(class) {
                let plain = head.kind == MethodKind::Declared && head.has_code() && !head.is_static();
                if plain && sets.iter().any(|set| set.contains(&head.selector)) {
                    found.push(head.selector);
                }
            }
        }
        found.sort_unstable();
        found.dedup();
        found
    }

    /// Whether all supertypes of a class are there. In a container's archive that is not known, since the container
    /// brings classes of its own.
    pub fn is_whole(&self, id: ClassId) -> bool {
        let contained = |archive: &Archive| matches!(archive.kind, Kind::War | Kind::Ear);
        if self.program.archives.iter().any(contained) {
            return true;
        }
        let (_, others) = self.ancestors(id);
        others.iter().all(|&name| {
            let presence = self.catalogue.presence(self.program.names.name(name));
            matches!(presence, Presence::Present(_) | Presence::Unknown(_))
        })
    }

    /// Whether a platform type is java.base's.
    pub fn is_of_base(&self, name: &[u8]) -> bool {
        let module = self.catalogue.module_of_package(package_of(name));
        module.is_some_and(|module| self.catalogue.name(module) == "java.base")
    }

    /// What a platform type and its supertypes let others override, as far as the program has such members.
    fn overridable(&mut self, name: &[u8]) -> Rc<FxHashSet<NameId>> {
        if let Some(found) = self.overridable.get(name) {
            return Rc::clone(found);
        }
        let mut selectors = FxHashSet::default();
        let mut due = vec![Box::<[u8]>::from(name)];
        let mut seen = FxHashSet::from_iter(due.clone());
        while let Some(name) = due.pop() {
            let Some(known) = self.catalogue.platform_type(&name) else { continue };
            selectors.extend(known.overridable.iter().filter_map(|text| self.program.members.find(text.as_bytes())));
            for above in known.superclass.iter().chain(&known.interfaces) {
                let above: Box<[u8]> = above.as_bytes().into();
                if seen.insert(above.clone()) {
                    due.push(above);
                }
            }
        }
        let selectors = Rc::new(selectors);
        self.overridable.insert(name.into(), Rc::clone(&selectors));
        selectors
    }
}

//! The hierarchy of the program's classes and of the platform types above them: which method a call selects, and which
//! methods the platform may call back.
//!
//! The first functions to read are [`Types::select`] (JVMS §5.4.6) and [`Types::callbacks`].

use std::cell::{Cell, OnceCell};
use std::rc::Rc;

use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::archive::{Kind, Scope};
use crate::classfile::Position;
use crate::names::package_of;
use crate::platform::{Catalogue, last_release_with};
use crate::program::{Class, ClassId, MentionKind, Method, MethodId, MethodKind, NameId, Program, View};

/// Supertypes looked at for one class; what is beyond it counts as absent. Real classes stay below three hundred.
const MOST_SUPERTYPES: usize = 1024;

/// Supertypes kept for all classes together: a bound on memory. Beyond it a class has its [`FEW_SUPERTYPES`] nearest.
const MOST_KEPT: usize = 1 << 24;

/// Enough for nearly all classes.
const FEW_SUPERTYPES: usize = 16;

/// Classes that one worker takes at a time.
const CHUNK: usize = 4096;

/// What is above a class: itself and its supertypes of the program, nearest first, and the names of the others.
type Above = (Rc<[ClassId]>, Rc<[NameId]>);

/// Looks up classes and methods of one program on one platform.
pub(super) struct Types<'p> {
    pub program: &'p Program,
    view: &'p View,
    catalogue: &'p Catalogue,
    /// By class, what is above it, once that has been asked for.
    above: Vec<OnceCell<Above>>,
    /// Supertypes kept so far.
    kept: Cell<usize>,
    /// By class, its superclass of the program.
    superclasses: Vec<Option<ClassId>>,
    /// By class, whether it can be linked, and whether all above it is there, once that has been asked for.
    linkable: Vec<OnceCell<bool>>,
    whole: Vec<OnceCell<bool>>,
    /// Whether there is an archive for a container, which brings classes of its own.
    is_contained: bool,
    /// All methods, class after class, those of a class by selector; what is no method has none.
    ordered: Vec<(NameId, MethodId)>,
    /// By class: one bit for each selector that it declares, of 64 that selectors share.
    masks: Vec<u64>,
    /// By member, whether a platform type that was asked about lets it be overridden.
    ever_overridable: Vec<bool>,
    /// By platform type: the selectors that it and its supertypes let others override.
    overridable: FxHashMap<Box<[u8]>, Rc<FxHashSet<NameId>>>,
}

impl<'p> Types<'p> {
    pub fn new(program: &'p Program, view: &'p View, catalogue: &'p Catalogue) -> Self {
        let superclass = |class: &Class| {
            let scope = program.archive(class.archive).map(|archive| archive.scope).unwrap_or_default();
            view.peek(scope, class.superclass?)
        };
        let mut types = Types {
            program,
            view,
            catalogue,
            above: vec![OnceCell::new(); program.classes.len()],
            kept: Cell::new(0),
            superclasses: program.classes.par_iter().with_min_len(CHUNK).map(superclass).collect(),
            linkable: vec![OnceCell::new(); program.classes.len()],
            whole: vec![OnceCell::new(); program.classes.len()],
            is_contained: program.archives.iter().any(|archive| matches!(archive.kind, Kind::War | Kind::Ear)),
            ordered: Vec::with_capacity(program.methods.len()),
            masks: Vec::with_capacity(program.classes.len()),
            ever_overridable: vec![false; program.members.len()],
            overridable: FxHashMap::default(),
        };
        for (ordered, masks) in
            program.classes.par_chunks(CHUNK).map(|part| in_order(program, part)).collect::<Vec<_>>()
        {
            types.ordered.extend(ordered);
            types.masks.extend(masks);
        }
        types
    }

    /// Whether a class may declare a selector of that mask, which has a [`bit`] of each.
    pub fn may_declare(&self, id: ClassId, mask: u64) -> bool {
        self.masks.get(id.0 as usize).is_some_and(|own| own & mask != 0)
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
        self.catalogue.presence(name).holder().is_some() || last_release_with(name).is_some()
    }

    /// Superclass first.
    pub fn supertypes(&self, id: ClassId) -> impl Iterator<Item = NameId> + use<'p> {
        let class = self.program.class(id);
        class.into_iter().flat_map(|class| class.superclass.into_iter().chain(class.interfaces.iter().copied()))
    }

    pub fn superclass(&self, id: ClassId) -> Option<ClassId> {
        let above = self.superclasses.get(id.0 as usize).copied().flatten();
        above.inspect(|&above| self.view.answered_by(above))
    }

    /// The class itself and its superclasses of the program, nearest first.
    fn lineage(&self, id: ClassId) -> impl Iterator<Item = ClassId> {
        std::iter::successors(Some(id), |&id| self.superclass(id)).take(MOST_SUPERTYPES)
    }

    /// The class and all supertypes of the program, nearest first; and the names of the other supertypes.
    pub fn ancestors(&self, id: ClassId) -> Above {
        let found = self.above.get(id.0 as usize).map(|slot| slot.get_or_init(|| self.find_ancestors(id)).clone());
        found.unwrap_or_default()
    }

    fn find_ancestors(&self, id: ClassId) -> Above {
        let most = if self.kept.get() < MOST_KEPT { MOST_SUPERTYPES } else { FEW_SUPERTYPES };
        let mut own = vec![id];
        let mut others: Vec<NameId> = Vec::new();
        // Nearly all classes have few supertypes, among which looking is quicker than hashing.
        let mut seen: FxHashSet<ClassId> = FxHashSet::default();
        let mut seen_others: FxHashSet<NameId> = FxHashSet::default();
        let mut at = 0;
        while let Some(&class) = own.get(at) {
            at += 1;
            let scope = self.scope(class);
            for name in self.supertypes(class) {
                let Some(found) = self.find(scope, name) else {
                    let is_new = if others.len() < FEW_SUPERTYPES {
                        !others.contains(&name)
                    } else {
                        if seen_others.is_empty() {
                            seen_others.extend(&others);
                        }
                        seen_others.insert(name)
                    };
                    if is_new && others.len() < most {
                        others.push(name);
                    }
                    continue;
                };
                if own.len() >= most {
                    continue;
                }
                let is_new = if own.len() < FEW_SUPERTYPES {
                    !own.contains(&found)
                } else {
                    if seen.is_empty() {
                        seen.extend(&own);
                    }
                    seen.insert(found)
                };
                if is_new {
                    own.push(found);
                }
            }
        }
        self.kept.set(self.kept.get() + own.len() + others.len());
        (own.into(), others.into())
    }

    /// The method that a class declares under a selector.
    pub fn declared(&self, id: ClassId, selector: NameId) -> Option<MethodId> {
        if self.masks.get(id.0 as usize)? & bit(selector) == 0 {
            return None;
        }
        let own = self.ordered.get(self.program.class(id)?.methods())?;
        let &(found, method) = own.get(own.partition_point(|&(of, _)| of < selector))?;
        (found == selector && selector != NameId::NONE).then_some(method)
    }

    /// The method that a reference means (JVMS §5.4.3.3): of the class, of its superclasses, of any superinterface.
    pub fn resolve(&self, id: ClassId, selector: NameId) -> Option<MethodId> {
        let inherited = self.lineage(id).find_map(|class| self.declared(class, selector));
        inherited.or_else(|| self.ancestors(id).0.iter().find_map(|&class| self.declared(class, selector)))
    }

    /// The methods that a virtual call may select for an object of that class (JVMS §5.4.6): that of the class or its
    /// nearest superclass; where there is none with code, those of its interfaces.
    pub fn select(&self, id: ClassId, selector: NameId, mut tell: impl FnMut(MethodId)) {
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
        for &class in self.ancestors(id).0.iter() {
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
                let ever = self.ever_overridable.get(head.selector.0 as usize) == Some(&true);
                if ever && plain && sets.iter().any(|set| set.contains(&head.selector)) {
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
        self.is_contained || self.has_supertypes(id)
    }

    /// The same, wherever the class stands.
    pub fn has_supertypes(&self, id: ClassId) -> bool {
        let all_there = || self.ancestors(id).1.iter().all(|&name| self.on_platform(self.program.names.name(name)));
        self.whole.get(id.0 as usize).is_none_or(|known| *known.get_or_init(all_there))
    }

    /// Whether a class can be linked, as far as the types tell that it catches and that the platform has or had: the
    /// verifier loads them (JVMS §4.10.1.4), and one that a release removed is nowhere unless the program brings it.
    pub fn can_link(&self, id: ClassId) -> bool {
        self.linkable.get(id.0 as usize).is_none_or(|known| *known.get_or_init(|| self.finds_caught(id)))
    }

    fn finds_caught(&self, id: ClassId) -> bool {
        let scope = self.scope(id);
        let mentions = self.program.class(id).map(|class| self.program.mentions(class)).unwrap_or_default();
        let mut caught = mentions.iter().filter(|mention| mention.position == MentionKind::At(Position::Catch));
        caught.all(|mention| {
            let presence = self.catalogue.presence(self.program.names.name(mention.target));
            presence.holder().is_some() || self.find(scope, mention.target).is_some()
        })
    }

    /// Whether a platform type is java.base's.
    pub fn is_of_base(&self, name: &[u8]) -> bool {
        self.catalogue.module_of_package(package_of(name)).is_some_and(|module| self.catalogue.is_base(module))
    }

    /// Whether the module of a platform package uses a service (JLS §7.7.3).
    pub fn uses(&self, package: &[u8], service: &[u8]) -> bool {
        let module = self.catalogue.module_of_package(package);
        let module = module.and_then(|module| self.catalogue.modules.get(usize::from(module.0)));
        module.is_some_and(|module| module.uses.iter().any(|one| one.as_bytes() == service))
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
            for selector in known.overridable.iter().filter_map(|text| self.program.members.find(text.as_bytes())) {
                selectors.insert(selector);
                if let Some(ever) = self.ever_overridable.get_mut(selector.0 as usize) {
                    *ever = true;
                }
            }
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

/// The methods of some classes, those of each by selector, and of each the mask of its selectors.
fn in_order(program: &Program, classes: &[Class]) -> (Vec<(NameId, MethodId)>, Vec<u64>) {
    let selector = |head: &Method| if head.kind == MethodKind::Declared { head.selector } else { NameId::NONE };
    let (mut ordered, mut masks) = (Vec::new(), Vec::with_capacity(classes.len()));
    for class in classes {
        let first = ordered.len();
        ordered.extend(program.methods_of(class).map(|(id, head)| (selector(head), id)));
        if let Some(own) = ordered.get_mut(first..) {
            // The first of several methods of one selector stays the first.
            own.sort_unstable();
            masks.push(own.iter().fold(0, |mask, &(selector, _)| mask | bit(selector)));
        }
    }
    (ordered, masks)
}

/// The bit of a selector in a mask.
pub(super) fn bit(selector: NameId) -> u64 {
    1 << (selector.0.wrapping_mul(0x9E37_79B9) >> 26)
}

//! Every reason why a platform module is asked for, and what the reasons add up to.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rustc_hash::FxHashMap;

use crate::archive::ArchiveId;
use crate::classfile::{Position, Stage};
use crate::platform::{Catalogue, ModuleId, Presence, last_release_with};
use crate::program::{ClassId, MentionKind, NameId, Program, ResourceKind, ResourceName, View};

use super::Standing;

/// How evidence was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EvidenceKind {
    /// A position of a class file.
    At(Position),
    /// The text of a string constant is the name of a platform type.
    Text,
    /// A service file names the service or a provider of the platform.
    ServiceFile,
    /// A module descriptor requires the module; it holds when the program starts from the module path.
    Requires,
    /// A manifest opens or exports one of its packages; the launcher bears its absence.
    ManifestHint,
}

impl EvidenceKind {
    /// The stable word.
    pub fn tag(self) -> &'static str {
        match self {
            EvidenceKind::At(position) => position.tag(),
            EvidenceKind::Text => "text",
            EvidenceKind::ServiceFile => "service-file",
            EvidenceKind::Requires => "module-requires",
            EvidenceKind::ManifestHint => "manifest-hint",
        }
    }

    /// The same for people; a verb whose object is the platform type.
    pub fn phrase(self) -> &'static str {
        match self {
            EvidenceKind::At(position) => position.sentence(),
            EvidenceKind::Text => "holds as text the name",
            EvidenceKind::ServiceFile => "names for service look-up",
            EvidenceKind::Requires => "requires in its module descriptor",
            EvidenceKind::ManifestHint => "opens or exports in its manifest",
        }
    }

    /// When the module's absence would hurt: a stage of the class's life, or `name`.
    pub fn stage_tag(self) -> &'static str {
        match self {
            EvidenceKind::At(position) => position.stage().tag(),
            _ => "name",
        }
    }

    /// The standing that this kind of evidence gives by itself.
    pub fn standing(self) -> Standing {
        match self {
            EvidenceKind::At(position) => match position.stage() {
                Stage::Load | Stage::Link | Stage::Run => Standing::Needed,
                Stage::Introspect => Standing::Uncertain,
                Stage::Ignore => Standing::Dormant,
            },
            EvidenceKind::Text | EvidenceKind::ServiceFile | EvidenceKind::Requires => Standing::Uncertain,
            EvidenceKind::ManifestHint => Standing::Dormant,
        }
    }
}

/// Where evidence was found.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// In a class, perhaps in one of its members.
    Class(ClassId, Option<NameId>),
    /// In a file of an archive.
    Resource(ArchiveId, Arc<str>),
}

/// One reason why a module is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Evidence {
    /// The platform type, internal form; the module's name where a whole module is asked for.
    pub target: Box<str>,
    /// How it was found.
    pub kind: EvidenceKind,
    /// Where.
    pub place: Place,
}

/// A platform type that is named and that the release no longer has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Removed {
    /// Internal form.
    pub class: Box<str>,
    /// The module that held it.
    pub module: &'static str,
    /// The last release that had it.
    pub last: u16,
    /// The first class that names it.
    pub asker: ClassId,
    /// How many classes do.
    pub askers: usize,
}

/// What was found about every module of a platform.
#[derive(Clone, Debug)]
pub struct Judgement {
    evidence: Vec<Vec<Evidence>>,
    /// Sorted by class.
    pub removed: Vec<Removed>,
    /// Modules of which the program supplies types of its own, with how many of them, sorted by module.
    pub supplied: Vec<(ModuleId, usize)>,
}

impl Judgement {
    /// The evidence for a module: strongest standing first, then in class path order.
    pub fn evidence(&self, id: ModuleId) -> &[Evidence] {
        self.evidence.get(usize::from(id.0)).map_or(&[], Vec::as_slice)
    }

    /// A module's standing; `None` where nothing asks for it.
    pub fn standing(&self, id: ModuleId) -> Option<Standing> {
        self.evidence(id).iter().map(|evidence| evidence.kind.standing()).min()
    }

    /// Every module with a standing, in the catalogue's order.
    pub fn standings(&self) -> impl Iterator<Item = (ModuleId, Standing)> {
        (0..self.evidence.len() as u16).map(ModuleId).filter_map(|id| Some((id, self.standing(id)?)))
    }
}

/// What a name means on the platform; worked out once per name.
#[derive(Clone, Copy)]
enum Meaning {
    Module(ModuleId),
    Removed(&'static str, u16),
    Nothing,
}

/// Weighs what the program names against a platform. Every class of the view counts as able to run.
pub fn judge(program: &Program, view: &View, resources: &[ResourceName], catalogue: &Catalogue) -> Judgement {
    let mut evidence: Vec<Vec<Evidence>> = vec![Vec::new(); catalogue.modules.len()];
    let mut meanings: FxHashMap<NameId, Meaning> = FxHashMap::default();
    let mut removed: BTreeMap<Box<str>, Removed> = BTreeMap::new();
    let mut supplied: BTreeMap<ModuleId, BTreeSet<NameId>> = BTreeMap::new();
    for &id in &view.classes {
        let Some(class) = program.class(id) else { continue };
        let scope = program.archive(class.archive).map(|archive| archive.scope).unwrap_or_default();
        let mut last_removed = None;
        for mention in program.mentions(class) {
            let name = program.names.name(mention.target);
            let meaning = *meanings.entry(mention.target).or_insert_with(|| meaning(catalogue, name));
            match meaning {
                Meaning::Module(module) => {
                    if view.find(scope, mention.target).is_some() {
                        supplied.entry(module).or_default().insert(mention.target);
                        continue;
                    }
                    if let Some(list) = evidence.get_mut(usize::from(module.0)) {
                        list.push(Evidence {
                            target: shown(name),
                            kind: match mention.position {
                                MentionKind::At(position) => EvidenceKind::At(position),
                                MentionKind::Text => EvidenceKind::Text,
                            },
                            place: Place::Class(id, mention.member),
                        });
                    }
                }
                Meaning::Removed(module, last) if view.find(scope, mention.target).is_none() => {
                    let entry = removed.entry(shown(name)).or_insert_with_key(|class| Removed {
                        class: class.clone(),
                        module,
                        last,
                        asker: id,
                        askers: 0,
                    });
                    // Mentions are ordered by target, so one class is counted once.
                    if last_removed.replace(mention.target) != Some(mention.target) {
                        entry.askers += 1;
                    }
                }
                Meaning::Removed(..) | Meaning::Nothing => {}
            }
        }
    }
    for resource in resources {
        let found = if resource.is_module {
            catalogue.module(&resource.name)
        } else {
            match catalogue.presence(resource.name.as_bytes()) {
                Presence::Present(module) | Presence::Unknown(module) => Some(module),
                Presence::Absent(_) | Presence::NoPackage => None,
            }
        };
        if let Some(module) = found.filter(|&module| catalogue.name(module) != "java.base")
            && let Some(list) = evidence.get_mut(usize::from(module.0))
        {
            list.push(Evidence {
                target: resource.name.clone(),
                kind: match resource.kind {
                    ResourceKind::Service => EvidenceKind::ServiceFile,
                    ResourceKind::Requires => EvidenceKind::Requires,
                    ResourceKind::Hint => EvidenceKind::ManifestHint,
                },
                place: Place::Resource(resource.archive, resource.path.clone()),
            });
        }
    }
    for list in &mut evidence {
        // Stable: within one standing the class path order stays.
        list.sort_by_key(|evidence| evidence.kind.standing());
    }
    let supplied = supplied.into_iter().map(|(module, names)| (module, names.len())).collect();
    Judgement { evidence, removed: removed.into_values().collect(), supplied }
}

fn meaning(catalogue: &Catalogue, name: &[u8]) -> Meaning {
    match catalogue.presence(name) {
        Presence::Present(module) | Presence::Unknown(module) if catalogue.name(module) != "java.base" => {
            Meaning::Module(module)
        }
        Presence::Present(_) | Presence::Unknown(_) => Meaning::Nothing,
        Presence::Absent(_) | Presence::NoPackage => match last_release_with(name) {
            Some((last, module)) if last < catalogue.release => Meaning::Removed(module, last),
            _ => Meaning::Nothing,
        },
    }
}

fn shown(internal: &[u8]) -> Box<str> {
    crate::names::decode_mutf8(internal).into()
}

//! Every reason why a platform module is asked for, and what the reasons add up to.

mod tested;
mod weigh;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rustc_hash::{FxHashMap, FxHashSet};

use crate::archive::ArchiveId;
use crate::classfile::{Position, Stage};
use crate::flow::sinks::Purpose;
use crate::needs::{self, Answer, Launch};
use crate::platform::{Catalogue, ModuleId, last_release_with};
use crate::program::{
    ClassId, Listed, Mention, MentionKind, MethodId, NameId, Program, ResourceKind, ResourceName, View, own_part,
};
use crate::reach::Reach;
use crate::witness::Log;

use super::Standing;
use tested::Tested;
pub use weigh::is_modular;
use weigh::{launched, level, lists_names, looked_up, named, need, wanted, weigh, witnessed};

/// Names of classes among the texts of one method from which on they are a list.
const MOST_NAMES: usize = 12;

/// How evidence was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EvidenceKind {
    /// A position of a class file.
    At(Position),
    /// The text of a string constant is the name of a platform type.
    Text,
    /// The verifier loads the type when it links the class (JVMS §4.10).
    Verification,
    /// The name reaches a call that looks up a class by name, or may be what such a call puts together.
    LookUp(Purpose),
    /// Something asks for a feature of the platform whose module no bytecode names.
    Need,
    /// An option of the launch names the module.
    Launch,
    /// An option of the launch opens, exports or patches one of its packages; the JVM bears its absence.
    LaunchHint,
    /// A property of the launch has the name of the type for its value.
    LaunchValue,
    /// The user wants the runtime to serve a purpose that takes the module.
    Purpose,
    /// The user lists the type among those that are looked up.
    Listed,
    /// A log shows that a class of the module was loaded.
    Witness,
    /// A service file names the service or a provider of the platform.
    ServiceFile,
    /// A module descriptor requires the module; it holds when the program starts from the module path.
    Requires,
    /// A manifest opens or exports one of its packages; the launcher bears its absence.
    ManifestHint,
    /// Another file that is no class names the type.
    Resource(ResourceKind),
}

impl EvidenceKind {
    /// The stable word.
    pub fn tag(self) -> &'static str {
        match self {
            EvidenceKind::At(position) => position.tag(),
            EvidenceKind::Text => "text",
            EvidenceKind::Verification => "verification",
            EvidenceKind::LookUp(purpose) => purpose.tag(),
            EvidenceKind::Need => "need",
            EvidenceKind::Launch => "launch",
            EvidenceKind::LaunchHint => "launch-hint",
            EvidenceKind::LaunchValue => "launch-value",
            EvidenceKind::Purpose => "purpose",
            EvidenceKind::Listed => "listed",
            EvidenceKind::Witness => "witness",
            EvidenceKind::ServiceFile => "service-file",
            EvidenceKind::Requires => "module-requires",
            EvidenceKind::ManifestHint => "manifest-hint",
            EvidenceKind::Resource(kind) => kind.tag(),
        }
    }

    /// The same for people; a verb whose object is the platform type.
    pub fn phrase(self) -> &'static str {
        match self {
            EvidenceKind::At(position) => position.sentence(),
            EvidenceKind::Text => "holds as text the name",
            EvidenceKind::Verification => "cannot be verified without",
            EvidenceKind::LookUp(purpose) => purpose.phrase(),
            EvidenceKind::Need => "asks for",
            EvidenceKind::Launch => "names",
            EvidenceKind::LaunchHint => "opens, exports or patches, if it is there,",
            EvidenceKind::LaunchValue => "gives to a property the name",
            EvidenceKind::Purpose => "takes",
            EvidenceKind::Listed => "names for look-up",
            EvidenceKind::Witness => "shows the loading of",
            EvidenceKind::ServiceFile => "names for service look-up",
            EvidenceKind::Requires => "requires in its module descriptor",
            EvidenceKind::ManifestHint => "opens or exports in its manifest",
            EvidenceKind::Resource(kind) => kind.phrase(),
        }
    }

    /// When the module's absence would hurt: a stage of the class's life, or `name`.
    pub fn stage_tag(self) -> &'static str {
        match self {
            EvidenceKind::At(position) => position.stage().tag(),
            EvidenceKind::Verification => Stage::Link.tag(),
            _ => "name",
        }
    }

    /// Whether the module's absence breaks code as it stands: loading or linking a class, or one of its instructions.
    pub fn is_code(self) -> bool {
        match self {
            EvidenceKind::At(position) => matches!(position.stage(), Stage::Load | Stage::Link | Stage::Run),
            EvidenceKind::Verification => true,
            _ => false,
        }
    }

    /// The strongest standing that this kind of evidence can give.
    pub fn standing(self) -> Standing {
        match self {
            EvidenceKind::At(position) => match position.stage() {
                Stage::Load | Stage::Link | Stage::Run => Standing::Needed,
                Stage::Introspect => Standing::Uncertain,
                Stage::Ignore => Standing::Dormant,
            },
            EvidenceKind::Verification
            | EvidenceKind::Need
            | EvidenceKind::Launch
            | EvidenceKind::Purpose
            | EvidenceKind::Listed
            | EvidenceKind::Witness
            | EvidenceKind::Requires => Standing::Needed,
            // Whether a class file can be read is asked to find out, and the answer may be no.
            EvidenceKind::LookUp(Purpose::Read) => Standing::Tolerated,
            // Nobody is known to read what stands there.
            EvidenceKind::ManifestHint
            | EvidenceKind::LaunchHint
            | EvidenceKind::Resource(ResourceKind::Mention | ResourceKind::Metadata) => Standing::Dormant,
            EvidenceKind::Text
            | EvidenceKind::LookUp(_)
            | EvidenceKind::LaunchValue
            | EvidenceKind::ServiceFile
            | EvidenceKind::Resource(_) => Standing::Uncertain,
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
    /// In the options of the launch.
    Launch,
    /// In what the user wants of the runtime, by the name of the purpose.
    Purpose(Arc<str>),
    /// In a list of the user's: `line 3 of plugins.txt`.
    List(Arc<str>),
    /// In a class-load log, by its path.
    Log(Arc<str>),
}

impl Place {
    /// The archive that it is in; none for what the user says and for logs.
    pub fn archive(&self, program: &Program) -> Option<ArchiveId> {
        match self {
            Place::Class(class, _) => program.class(*class).map(|class| class.archive),
            Place::Resource(archive, _) => Some(*archive),
            Place::Launch | Place::Purpose(_) | Place::List(_) | Place::Log(_) => None,
        }
    }
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
    /// The method that it stands in.
    pub method: Option<MethodId>,
    /// What it adds to the module's standing: that of its kind, lowered where nothing certain reaches it.
    pub standing: Standing,
    /// What happens there, where the kind alone does not say it: the part of a sentence between asker and target.
    pub phrase: Option<Box<str>>,
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
    /// Modules for which the program's own part asks, though it is uncertain whether they are missed; ascending.
    pub own: Vec<ModuleId>,
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
        self.evidence(id).iter().map(|evidence| evidence.standing).min()
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

/// What the judgement rests on.
pub struct Case<'a> {
    /// The program.
    pub program: &'a Program,
    /// What its class loader sees.
    pub view: &'a View,
    /// What of it can run.
    pub reach: &'a Reach,
    /// Names in its files.
    pub resources: &'a [ResourceName],
    /// The platform.
    pub catalogue: &'a Catalogue,
    /// What the table of needs answers.
    pub needs: &'a Answer,
    /// The options of the launch.
    pub launch: &'a Launch,
    /// What else the runtime is to serve.
    pub purposes: &'a [&'static needs::Purpose],
    /// Classes that the user lists, apart from those of the program.
    pub listed: &'a [Listed],
    /// What class-load logs show.
    pub logs: &'a [Log],
}

/// Weighs what the program asks for against a platform.
pub fn judge(case: &Case<'_>) -> Judgement {
    let Case { program, view, reach, resources, catalogue, needs, launch, purposes, listed, logs } = *case;
    let mut evidence: Vec<Vec<Evidence>> = vec![Vec::new(); catalogue.modules.len()];
    let mut meanings: FxHashMap<NameId, Meaning> = FxHashMap::default();
    let mut removed: BTreeMap<Box<str>, Removed> = BTreeMap::new();
    let mut supplied: BTreeMap<ModuleId, BTreeSet<NameId>> = BTreeMap::new();
    // A text that a look-up of the same class names has found its use; the look-up says what comes of it.
    let mut used: FxHashSet<(ClassId, &[u8])> = FxHashSet::default();
    for look_up in &reach.look_ups {
        if let Some(method) = program.method(look_up.method) {
            used.extend(look_up.names.exact.iter().map(|name| (method.class, &**name)));
        }
    }
    let tested = Tested::of(program, view, reach, catalogue);
    for &id in &view.classes {
        let Some(class) = program.class(id) else { continue };
        let scope = program.archive(class.archive).map(|archive| archive.scope).unwrap_or_default();
        let mut last_removed = None;
        for mention in program.mentions(class) {
            let name = program.names.name(mention.target);
            let meaning = *meanings.entry(mention.target).or_insert_with(|| meaning(catalogue, name));
            match meaning {
                Meaning::Module(module) => {
                    let own = view.find(scope, mention.target).is_some();
                    if own {
                        supplied.entry(module).or_default().insert(mention.target);
                    }
                    let is_used = mention.position == MentionKind::Text
                        && (used.contains(&(id, name)) || lists_names(program, mention));
                    let standing = if is_used { Standing::Dormant } else { weigh(program, reach, id, mention) };
                    if let Some(list) = evidence.get_mut(usize::from(module.0)) {
                        list.push(Evidence {
                            target: shown(name),
                            kind: match mention.position {
                                MentionKind::At(position) => EvidenceKind::At(position),
                                MentionKind::Text => EvidenceKind::Text,
                            },
                            place: Place::Class(id, mention.member),
                            method: mention.method,
                            // While the module is there its copy of a type wins, and with it what else the module has;
                            // the program's own copy takes its place, and nobody has tried that.
                            standing: if own {
                                standing.max(Standing::Uncertain)
                            } else {
                                tested.temper(standing, id, run_by(mention), module)
                            },
                            phrase: None,
                        });
                    }
                }
                Meaning::Removed(module, last) if view.find(scope, mention.target).is_none() => {
                    if weigh(program, reach, id, mention) == Standing::Dormant {
                        continue;
                    }
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
    for link in &reach.links {
        if let Meaning::Module(module) = meaning(catalogue, &link.loaded)
            && let Some(list) = evidence.get_mut(usize::from(module.0))
        {
            let member = link.method.and_then(|method| program.method(method)).map(|method| method.selector);
            list.push(Evidence {
                target: shown(&link.loaded),
                kind: EvidenceKind::Verification,
                place: Place::Class(link.class, member),
                method: link.method,
                standing: tested.temper(level(reach.initialised(link.class)), link.class, None, module),
                phrase: None,
            });
        }
    }
    // What is done with a class object depends on whether it could be had.
    let loads = reach.look_ups.iter().filter(|look_up| look_up.sink.purpose == Purpose::Load);
    let loaded: FxHashSet<&[u8]> = loads.flat_map(|look_up| &look_up.names.exact).map(|name| &**name).collect();
    for look_up in &reach.look_ups {
        looked_up(program, reach, catalogue, look_up, &loaded, &mut evidence);
    }
    for asked in &needs.asked {
        if let Some(module) = catalogue.module(&asked.need.module)
            && let Some(list) = evidence.get_mut(usize::from(module.0))
        {
            list.push(need(program, reach, asked));
        }
    }
    launched(launch, catalogue, &mut evidence);
    wanted(purposes, catalogue, &mut evidence);
    for one in listed {
        named(one, catalogue, &mut evidence);
    }
    for log in logs {
        witnessed(log, &mut evidence);
    }
    let modular = is_modular(program, launch);
    for resource in resources {
        let found = match resource.kind {
            _ if resource.is_module => catalogue.module(&resource.name),
            ResourceKind::Import => catalogue.module_of_package(resource.name.as_bytes()),
            ResourceKind::Page => {
                let class = catalogue.presence(resource.name.as_bytes()).holder();
                class.or_else(|| catalogue.module_of_package(resource.name.as_bytes()))
            }
            _ => catalogue.presence(resource.name.as_bytes()).holder(),
        };
        if let Some(module) = found.filter(|&module| !catalogue.is_base(module))
            && let Some(list) = evidence.get_mut(usize::from(module.0))
        {
            let kind = match resource.kind {
                ResourceKind::Service => EvidenceKind::ServiceFile,
                ResourceKind::Requires => EvidenceKind::Requires,
                ResourceKind::Hint => EvidenceKind::ManifestHint,
                kind => EvidenceKind::Resource(kind),
            };
            let standing = match kind {
                // Who provides a service needs it when it is loaded, and then its class says so.
                EvidenceKind::ServiceFile if resource.path.ends_with(&*resource.name.replace('/', ".")) => {
                    Standing::Dormant
                }
                // The boot layer is not made without it (JLS §7.7.1); on the class path nobody reads it.
                EvidenceKind::Requires => {
                    if modular {
                        Standing::Needed
                    } else {
                        Standing::Dormant
                    }
                }
                // What a library brings as configuration is read where nobody gives another; its pages are seldom deployed.
                EvidenceKind::Resource(ResourceKind::Configuration | ResourceKind::Page)
                    if !is_own(program, resource.archive) =>
                {
                    Standing::Dormant
                }
                EvidenceKind::Resource(ResourceKind::Import | ResourceKind::Page | ResourceKind::Dependency) => {
                    Standing::Uncertain
                }
                // Whoever reads the file must look up names that no code shows.
                EvidenceKind::Resource(_) if !reach.looks_up_unknown() => Standing::Dormant,
                kind => kind.standing(),
            };
            list.push(Evidence {
                target: resource.name.clone(),
                kind,
                place: Place::Resource(resource.archive, resource.path.clone()),
                method: None,
                standing,
                phrase: None,
            });
        }
    }
    for list in &mut evidence {
        // Stable: within one standing the class path order stays.
        list.sort_by_key(|evidence| evidence.standing);
    }
    // Of what it has a copy, the program may do without.
    let is_copy = |module: ModuleId, target: &str| {
        let name = program.names.find(target.as_bytes());
        name.is_some_and(|name| supplied.get(&module).is_some_and(|names| names.contains(&name)))
    };
    let asks = |module: ModuleId, one: &Evidence| {
        let is_own = || one.place.archive(program).is_some_and(|archive| reach.is_own(archive));
        one.standing == Standing::Uncertain && is_own() && !is_copy(module, &one.target)
    };
    let of_modules = (0..).map(ModuleId).zip(&evidence);
    let own = of_modules.filter(|(id, list)| list.iter().any(|one| asks(*id, one))).map(|(id, _)| id).collect();
    let supplied = supplied.into_iter().map(|(module, names)| (module, names.len())).collect();
    Judgement { evidence, own, removed: removed.into_values().collect(), supplied }
}

/// The method that has to run for a mention to count; none where its class counts as a whole.
fn run_by(mention: &Mention) -> Option<MethodId> {
    let is_of_class = matches!(
        mention.position,
        MentionKind::At(position) if matches!(position.stage(), Stage::Load | Stage::Link)
    );
    mention.method.filter(|_| !is_of_class)
}

fn meaning(catalogue: &Catalogue, name: &[u8]) -> Meaning {
    match catalogue.presence(name).holder() {
        Some(module) if !catalogue.is_base(module) => Meaning::Module(module),
        Some(_) => Meaning::Nothing,
        None => match last_release_with(name) {
            Some((last, module)) if last < catalogue.release => Meaning::Removed(module, last),
            _ => Meaning::Nothing,
        },
    }
}

/// Whether an archive is one that the user named, or the program's own part of one.
fn is_own(program: &Program, id: ArchiveId) -> bool {
    own_part(program, id).is_some() || program.archive(id).is_some_and(|archive| archive.parent.is_none())
}

fn shown(internal: &[u8]) -> Box<str> {
    crate::names::decode_mutf8(internal).into()
}

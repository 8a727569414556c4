//! What each kind of evidence adds to a standing, by what of the program can run. The first function to read is [`weigh`].

use std::sync::Arc;

use rustc_hash::FxHashSet;

use super::{Evidence, EvidenceKind, MOST_NAMES, Meaning, Place, meaning, shown};
use crate::archive::Archive;
use crate::classfile::{Position, Stage};
use crate::flow::sinks::Purpose;
use crate::needs::{self, Asked, Launch, Sure, Where};
use crate::platform::{Catalogue, ModuleId};
use crate::program::{ClassId, Guard, Listed, Mention, MentionKind, MethodId, MethodKind, Program};
use crate::reach::lookups::LookUp;
use crate::reach::{Level, Reach, Reached, listed_with};
use crate::verdict::Standing;
use crate::witness::Log;

/// What a mention adds to a standing, by what of its class and method can run.
pub(super) fn weigh(program: &Program, reach: &Reach, id: ClassId, mention: &Mention) -> Standing {
    let MentionKind::At(position) = mention.position else {
        let reached = mention.method.map_or_else(|| reach.loaded(id), |method| reach.method(method));
        let guarded = if mention.guard == Guard::Open { Standing::Uncertain } else { Standing::Tolerated };
        // A text is a name only if somebody looks up what nobody can tell.
        return match level(reached) {
            Standing::Needed if reach.looks_up_unknown() => guarded,
            // That the code runs and that its text is a name would be two guesses.
            Standing::Uncertain if reach.looks_up_unknown() => Standing::Tolerated,
            _ => Standing::Dormant,
        };
    };
    let guarded = match mention.guard {
        Guard::Open => Standing::Needed,
        // It is there for all sorts of faults, and the program does less without saying so.
        Guard::LookUp => Standing::Uncertain,
        Guard::Absence => Standing::Tolerated,
    };
    match position.stage() {
        Stage::Load => level(reach.loaded(id)),
        Stage::Link => level(reach.initialised(id)),
        Stage::Run => {
            let reached = mention.method.map_or_else(|| reach.initialised(id), |method| reach.method(method));
            level(reached).max(guarded)
        }
        Stage::Introspect if position == Position::AnnotationValue => level(reach.loaded(id)).max(Standing::Uncertain),
        Stage::Introspect => {
            let of_method = mention.method.and_then(|method| program.method(method));
            if reach.is_launched(id)
                && of_method.is_some_and(|method| method.is_public() || is_instance_main(program, id))
            {
                return Standing::Needed;
            }
            let members = listed_with(program, position, mention.member, mention.method);
            level(reach.looked_at(id, members)).max(Standing::Uncertain)
        }
        // Whoever inspects a class may ask for these too, one by one.
        Stage::Ignore
            if matches!(
                position,
                Position::Signature | Position::AnnotationType | Position::NestMember | Position::PermittedSubclass
            ) =>
        {
            level(reach.introspected(id)).max(Standing::Uncertain)
        }
        Stage::Ignore => Standing::Dormant,
    }
}

/// Whether the launcher looks for the main method among all that a class declares, since none is public and static
/// (JEP 512).
pub(super) fn is_instance_main(program: &Program, id: ClassId) -> bool {
    let mut methods = program.class(id).into_iter().flat_map(|class| program.methods_of(class));
    !methods.any(|(_, method)| {
        let is_main = program.members.name(method.selector) == b"main([Ljava/lang/String;)V";
        is_main && method.is_public() && method.is_static()
    })
}

/// Whether a text stands among so many other names of classes that its method lists them: what must not be loaded, what
/// is known under another name. Nobody loads a whole list.
pub(super) fn lists_names(program: &Program, mention: &Mention) -> bool {
    let Some(method) = mention.method else { return false };
    program.class_names(method).take(MOST_NAMES).count() == MOST_NAMES
}

/// Steps behind a guard beyond which it need not stand there for what is asked for: around a whole configuration it says
/// that something is lost, and the program does less. What tries whether a feature is there asks at once.
const BORNE: u8 = 2;

/// The standing of what is asked for by something reached.
pub(super) fn level(reached: Option<Reached>) -> Standing {
    match reached.map(|reached| (reached.level, reached.depth)) {
        Some((Level::Certain, _)) => Standing::Needed,
        Some((Level::ByName, _)) => Standing::Uncertain,
        Some((Level::Guarded, depth)) if depth > BORNE => Standing::Uncertain,
        Some((Level::Guarded, _)) => Standing::Tolerated,
        None => Standing::Dormant,
    }
}

/// What a row of the table of needs adds. Where nothing fails without the feature, it stays uncertain that it is missed.
pub(super) fn need(program: &Program, reach: &Reach, asked: &Asked) -> Evidence {
    let (place, method, reached) = match &asked.place {
        Where::Option(_) | Where::Property(_) => (Place::Launch, None, Standing::Needed),
        Where::Resource(archive, path) => (Place::Resource(*archive, (**path).into()), None, Standing::Uncertain),
        Where::Method(number) => {
            let id = MethodId(*number);
            let method = program.method(id);
            let place = method.map_or(Place::Launch, |method| {
                let declared = method.kind == MethodKind::Declared;
                Place::Class(method.class, declared.then_some(method.selector))
            });
            (place, Some(id), level(reach.method(id)))
        }
    };
    let by_launch = place == Place::Launch;
    let sure = asked.sure == Sure::Certain && !asked.by_name && (by_launch || !asked.need.silent);
    let standing = if sure { reached } else { reached.max(Standing::Uncertain) };
    Evidence {
        target: asked.need.title.clone(),
        kind: EvidenceKind::Need,
        place,
        method,
        standing,
        phrase: Some(format!("{}, which asks for", asked.phrase).into()),
    }
}

/// What a look-up by name asks for: the types that it names, and the packages that its names begin with.
pub(super) fn looked_up(
    program: &Program,
    reach: &Reach,
    catalogue: &Catalogue,
    look_up: &LookUp,
    loaded: &FxHashSet<&[u8]>,
    evidence: &mut [Vec<Evidence>],
) {
    let Some(method) = program.method(look_up.method) else { return };
    let kind = EvidenceKind::LookUp(look_up.sink.purpose);
    let guarded = if look_up.guard == Guard::Open { Standing::Uncertain } else { Standing::Tolerated };
    let reached = level(reach.method(look_up.method));
    let standing =
        if is_part_of_initialisation(program, look_up) { reached } else { reached.max(guarded).max(kind.standing()) };
    let mut add = |module: ModuleId, target: Box<str>| {
        if let Some(list) = evidence.get_mut(usize::from(module.0)) {
            let place = Place::Class(method.class, Some(method.selector));
            list.push(Evidence { target, kind, place, method: Some(look_up.method), standing, phrase: None });
        }
    };
    // Nobody defines a class of the platform.
    if matches!(look_up.sink.purpose, Purpose::Property | Purpose::Deserialize | Purpose::Define) {
        return;
    }
    let uses = matches!(look_up.sink.purpose, Purpose::Introspect | Purpose::Create | Purpose::Proxy);
    for name in look_up.names.exact.iter().filter(|name| !uses || !loaded.contains(&***name)) {
        if let Meaning::Module(module) = meaning(catalogue, name) {
            add(module, shown(name));
        }
    }
    for pattern in &look_up.names.patterns {
        let package = crate::names::package_of(&pattern.prefix);
        let module = catalogue.module_of_package(package);
        if let Some(module) = module.filter(|&module| !catalogue.is_base(module)) {
            add(module, format!("{}*", shown(&pattern.prefix)).into());
        }
    }
}

/// Whether a class is loaded by a literal name as another one is initialised, with nothing that bears its absence: the
/// initialisation fails with it, and so does every later use of the class (JLS §12.4.2, steps 11 and 5).
fn is_part_of_initialisation(program: &Program, look_up: &LookUp) -> bool {
    let names = &look_up.names;
    let is_literal = names.exact.len() == 1 && names.patterns.is_empty() && !names.unknown;
    let is_initialiser = || {
        let method = program.method(look_up.method);
        method.is_some_and(|method| program.members.name(method.selector) == b"<clinit>()V")
    };
    look_up.sink.purpose == Purpose::Load && look_up.guard == Guard::Open && is_literal && is_initialiser()
}

/// What the launch names: modules without which the JVM does not start, modules whose absence it bears, and types.
pub(super) fn launched(launch: &Launch, catalogue: &Catalogue, evidence: &mut [Vec<Evidence>]) {
    let mut add = |module: ModuleId, kind: EvidenceKind, target: &str| {
        if let Some(list) = evidence.get_mut(usize::from(module.0)).filter(|_| !catalogue.is_base(module)) {
            let standing = kind.standing();
            list.push(Evidence {
                target: target.into(),
                kind,
                place: Place::Launch,
                method: None,
                standing,
                phrase: None,
            });
        }
    };
    let main = launch.main_module.as_deref().and_then(|main| main.split('/').next());
    for name in launch.modules.iter().map(|name| &**name).chain(main) {
        catalogue.module(name).into_iter().for_each(|module| add(module, EvidenceKind::Launch, name));
    }
    for name in &launch.hints {
        catalogue.module(name).into_iter().for_each(|module| add(module, EvidenceKind::LaunchHint, name));
    }
    for (_, value) in &launch.properties {
        let class = value.trim().replace('.', "/");
        if let Meaning::Module(module) = meaning(catalogue, class.as_bytes()) {
            add(module, EvidenceKind::LaunchValue, &class);
        }
    }
}

/// What purposes of the runtime take.
pub(super) fn wanted(purposes: &[&'static needs::Purpose], catalogue: &Catalogue, evidence: &mut [Vec<Evidence>]) {
    for purpose in purposes {
        for module in purpose.modules(catalogue) {
            let Some(list) = evidence.get_mut(usize::from(module.0)) else { continue };
            list.push(Evidence {
                target: catalogue.name(module).into(),
                kind: EvidenceKind::Purpose,
                place: Place::Purpose((*purpose.id).into()),
                method: None,
                standing: Standing::Needed,
                phrase: None,
            });
        }
    }
}

/// A class that the user lists and that the program does not bring itself.
pub(super) fn named(listed: &Listed, catalogue: &Catalogue, evidence: &mut [Vec<Evidence>]) {
    if let Meaning::Module(module) = meaning(catalogue, listed.class.as_bytes())
        && let Some(list) = evidence.get_mut(usize::from(module.0))
    {
        list.push(Evidence {
            target: listed.class.clone(),
            kind: EvidenceKind::Listed,
            place: Place::List(listed.place().into()),
            method: None,
            standing: Standing::Needed,
            phrase: None,
        });
    }
}

/// What a class-load log shows: whatever was loaded is needed, save what the look-up of a service only met.
pub(super) fn witnessed(log: &Log, evidence: &mut [Vec<Evidence>]) {
    let path: Arc<str> = log.path.to_string_lossy().into();
    for (module, seen) in &log.modules {
        let Some(list) = evidence.get_mut(usize::from(module.0)) else { continue };
        list.extend(seen.classes.iter().map(|class| Evidence {
            target: class.clone(),
            kind: EvidenceKind::Witness,
            place: Place::Log(path.clone()),
            method: None,
            standing: if seen.only_met { Standing::Tolerated } else { Standing::Needed },
            phrase: seen.only_met.then(|| "shows that a look-up of services met".into()),
        }));
    }
}

/// Whether the program is started from the module path: the launch says so; or it says nothing of either path, and every
/// archive on the class path is a named module and none is made to be started by itself (`java -jar` reads no module
/// descriptor).
pub fn is_modular(program: &Program, launch: &Launch) -> bool {
    if launch.module_path.is_some() || launch.main_module.is_some() {
        return true;
    }
    if launch.class_path.is_some() || launch.archive.is_some() {
        return false;
    }
    let archives = || program.archives.iter().filter(|archive| archive.on_class_path);
    let starts = |archive: &Archive| archive.manifest.as_ref().is_some_and(|read| read.get("Main-Class").is_some());
    archives().next().is_some() && archives().all(|archive| archive.is_module() && !starts(archive))
}

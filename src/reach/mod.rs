//! What can run, from where the program starts.
//!
//! [`reach`] is the first function to read; `run` is the analysis itself, `roots` where it starts, `names` what it makes
//! of names. Where the summary of the program does not suffice, some classes are read again: [`lookups`] finds which
//! names reach calls that look something up, [`links`] what the verifier loads. Nothing here judges modules.

mod again;
mod conditions;
mod created;
mod files;
pub mod links;
mod looked_at;
pub mod lookups;
mod names;
mod nest;
mod roots;
mod run;
mod selections;
mod selectors;
mod settle;
pub mod sorted;
mod types;
mod unwritten;

pub use looked_at::listed_with;

use std::sync::OnceLock;
use std::time::{Duration, Instant};

use crate::archive::{ArchiveId, Scope};
use crate::diag::Findings;
use crate::flow::{self, Members};
use crate::limits::Limits;
use crate::names::package_of;
use crate::platform::Catalogue;
use crate::program::{Class, ClassId, EntryPoints, MethodId, OwnPart, Program, Property, Resources, View};

use links::{Link, Relevance};
use looked_at::LookedAt;
use lookups::LookUp;
use run::{ClassState, Run};
use sorted::Sorted;

/// How sure it is that something can run, strongest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// The code says so.
    Certain,
    /// If a name that the code cannot show in full means it, or a framework acts on what it was registered with.
    ByName,
    /// Only where the program bears its absence.
    Guarded,
}

/// What makes something run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cause {
    /// An entry point, by its position among those started, those called and those listed.
    Start(u32),
    /// The program has no entry point, and this is part of what it offers to others.
    Public,
    /// Own code in a layout whose container calls it by rules of its own.
    Own,
    /// A file names it, by its position among the names in resources.
    Resource(u32),
    /// A method does it.
    Method(MethodId),
    /// It comes with a class: superclass, initialiser, what the platform calls back.
    Class(ClassId),
    /// A method looks it up by name.
    LookUp(MethodId),
}

/// That something can run, and the first thing that makes it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reached {
    /// How sure that is.
    pub level: Level,
    /// What makes it.
    pub cause: Cause,
    /// At [`Level::Guarded`]: how many steps it is away from the guard.
    pub depth: u8,
}

/// Where the analysis starts.
pub struct Start<'a> {
    /// Where the program starts.
    pub entry_points: &'a EntryPoints,
    /// What its files say.
    pub resources: &'a Resources,
    /// Its own classes.
    pub own: &'a [(ClassId, OwnPart)],
}

/// What can run.
pub struct Reach {
    methods: Vec<Option<Reached>>,
    classes: Vec<ClassState>,
    looked_at: LookedAt,
    /// Calls of reached methods that look something up, ascending by method and place.
    pub look_ups: Vec<LookUp>,
    /// Those that may look up more than is known.
    pub opaque: Vec<LookUp>,
    /// What the verifier loads for initialised classes.
    pub links: Vec<Link>,
    launched: Vec<ClassId>,
    looks_up_unknown: bool,
    /// Archives that are the program's own part, ascending.
    own: Vec<ArchiveId>,
    /// Of the time that this took: following names, and what the verifier loads.
    pub times: (Duration, Duration),
}

impl Reach {
    /// Whether a method can run.
    pub fn method(&self, id: MethodId) -> Option<Reached> {
        self.methods.get(id.0 as usize).copied().flatten()
    }

    /// Whether a class is loaded.
    pub fn loaded(&self, id: ClassId) -> Option<Reached> {
        self.classes.get(id.0 as usize)?.loaded
    }

    /// Whether a class is loaded, for certain.
    pub fn is_certain(&self, id: ClassId) -> bool {
        self.loaded(id).is_some_and(|reached| reached.level == Level::Certain)
    }

    /// Whether a class is initialised, and so linked.
    pub fn initialised(&self, id: ClassId) -> Option<Reached> {
        self.classes.get(id.0 as usize)?.initialised
    }

    /// Whether there are objects of a class.
    pub fn instantiated(&self, id: ClassId) -> Option<Reached> {
        self.classes.get(id.0 as usize)?.instantiated
    }

    /// Whether any of these members of a class are listed by reflection.
    pub fn looked_at(&self, id: ClassId, members: Members) -> Option<Reached> {
        self.looked_at.first(id, members)
    }

    /// Whether members of a class are looked up by reflection.
    pub fn introspected(&self, id: ClassId) -> Option<Reached> {
        self.classes.get(id.0 as usize)?.introspected
    }

    /// Whether the launcher looks up the main method of a class, and with it all its public methods.
    pub fn is_launched(&self, id: ClassId) -> bool {
        self.launched.contains(&id)
    }

    /// Whether a class is loaded by a name that may be any.
    pub fn looks_up_unknown(&self) -> bool {
        self.looks_up_unknown
    }

    /// Whether an archive is the program's own part: its layout says so, or it is the application among its libraries.
    pub fn is_own(&self, id: ArchiveId) -> bool {
        self.own.binary_search(&id).is_ok()
    }

    /// Methods and classes that can run.
    pub fn counts(&self) -> (usize, usize) {
        let classes = self.classes.iter().filter(|state| state.loaded.is_some()).count();
        (self.methods.iter().flatten().count(), classes)
    }
}

/// Finds what can run.
pub fn reach(
    program: &Program,
    view: &View,
    catalogue: &Catalogue,
    start: &Start<'_>,
    limits: &Limits,
    findings: &mut Findings,
) -> Reach {
    let properties = |key: &[u8]| {
        let said = std::str::from_utf8(key).map_or(&[][..], |key| start.resources.properties.of(key));
        let value = |property: &Property| {
            view.answered_from(property.archive);
            property.value.as_bytes().to_vec()
        };
        said.iter().map(value).collect()
    };
    let foreign =
        |name: &[u8]| catalogue.module_of_package(package_of(name)).is_some_and(|module| !catalogue.is_base(module));
    let by_name = || rayon::join(|| Sorted::new(program, view), || Relevance::new(program, view, &foreign));
    let (run, (sorted, relevance)) = beside(|| Run::new(types::Types::new(program, view, catalogue)), by_name);
    let look_ups = lookups::LookUps::new(program, view, &sorted, limits, &properties);
    let is_interface = |name: &[u8]| match program.names.find(name).and_then(|id| view.find(Scope::default(), id)) {
        Some(class) => program.class(class).map(Class::is_interface),
        None => catalogue.platform_type(name).map(|known| known.access & 0x0200 != 0),
    };
    let hierarchy = links::Hierarchy { relevance: &relevance, is_interface: &is_interface };
    let linker = links::Linker::new(program, limits, &hierarchy);
    let mut names = names::Naming::new(run, look_ups, view, &sorted, start, limits, findings);
    roots::start(&mut names);
    names.hosted();
    names.finish(&linker);
    let own = names.own_archives();
    let names::Naming { mut run, found, look_ups, following, .. } = names;
    let opaque = look_ups.opaque(&|method| run.reaches(method));
    let found: Vec<LookUp> = found.into_values().collect();
    let begun = Instant::now();
    let all = view.classes.iter().copied();
    let initialised: Vec<ClassId> = all.filter(|&id| run.state(id).initialised.is_some()).collect();
    let links = linker.links(&initialised, findings);
    let linking = begun.elapsed();
    for link in &links {
        let level = run.state(link.class).initialised;
        let loaded = program.names.find(&link.loaded).and_then(|name| view.find(run.types.scope(link.class), name));
        if let (Some(reached), Some(class)) = (level, loaded) {
            run.level = reached.level;
            run.load(class, Cause::Class(link.class));
            run.settle();
        }
    }
    let looks_up_unknown = opaque.iter().any(|look_up| look_up.sink.purpose == flow::sinks::Purpose::Load);
    let launched = roots::launched(&run.types, view, start);
    Reach {
        methods: run.methods,
        classes: run.classes,
        looked_at: run.looked_at,
        look_ups: found,
        opaque,
        links,
        launched,
        looks_up_unknown,
        own,
        times: (following, linking),
    }
}

/// What `here` gives, which need not be anything that another thread may have, and what `there` gives, meanwhile and
/// wherever a thread is free.
fn beside<H, T: Send + Sync>(here: impl FnOnce() -> H, there: impl Fn() -> T + Sync) -> (H, T) {
    let done = OnceLock::new();
    let had = rayon::in_place_scope(|scope| {
        scope.spawn(|_| {
            done.get_or_init(&there);
        });
        here()
    });
    (had, done.into_inner().unwrap_or_else(there))
}

//! The search, against commands that are made up: which modules they need is known.

use super::*;
use crate::graph::ModuleGraph;
use crate::limits::Limits;
use crate::platform::Catalogue;
use crate::verdict::Selection;
use crate::weight::Scales;

/// A command that passes if it has what it needs.
struct Made<'c> {
    catalogue: &'c Catalogue,
    needs: BTreeSet<ModuleId>,
    /// Needed on an image only, as what options of the launch ask for.
    on_images: BTreeSet<ModuleId>,
    /// Whether its output names what is missing.
    tells: bool,
    most: u64,
    runs: u64,
    lists: Vec<Vec<ModuleId>>,
}

impl Made<'_> {
    fn run(&mut self, modules: &[ModuleId], image: bool) -> Trial {
        self.runs += 1;
        assert!(self.runs <= self.most, "{} runs", self.runs);
        self.lists.push(modules.to_vec());
        let on_images = self.on_images.iter().filter(|_| image);
        let missing: Vec<ModuleId> =
            self.needs.iter().chain(on_images).filter(|id| !modules.contains(id)).copied().collect();
        let names = missing.iter().take(usize::from(self.tells)).map(|&id| self.catalogue.name(id).to_owned());
        let account = Account { ending: "exit status 1".to_owned(), lines: Vec::new(), names: names.collect() };
        let outcome = if missing.is_empty() { Outcome::Passed } else { Outcome::Failed };
        Trial { outcome, account }
    }
}

impl Trials for Made<'_> {
    fn limited(&mut self, modules: &[ModuleId]) -> Result<Trial, Error> {
        Ok(self.run(modules, false))
    }

    fn explained(&mut self, modules: &[ModuleId]) -> Result<Trial, Error> {
        Ok(self.run(modules, false))
    }

    fn linked(&mut self, modules: &[ModuleId]) -> Result<Result<Trial, Account>, Error> {
        Ok(Ok(self.run(modules, true)))
    }

    fn left(&self) -> u64 {
        self.most - self.runs
    }

    fn bear(&mut self) -> bool {
        true
    }
}

struct World {
    catalogue: Catalogue,
    graph: ModuleGraph,
    scales: Scales,
}

/// What is found for a program with these standings, of which these modules are seen loading.
struct Asked<'a> {
    standings: &'a [(&'a str, Standing)],
    seen: &'a [&'a str],
    needs: &'a [&'a str],
    on_images: &'a [&'a str],
    tells: bool,
}

impl World {
    fn new() -> World {
        let catalogue = Catalogue::built_in(17).unwrap();
        let graph = ModuleGraph::new(&catalogue);
        let scales = Scales::of(&catalogue).unwrap();
        World { catalogue, graph, scales }
    }

    fn ids(&self, names: &[&str]) -> BTreeSet<ModuleId> {
        names.iter().map(|name| self.catalogue.module(name).unwrap()).collect()
    }

    fn names(&self, modules: &[ModuleId]) -> Vec<&str> {
        modules.iter().map(|&id| self.catalogue.name(id)).collect()
    }

    fn ask(&self, asked: &Asked<'_>) -> (Found, u64, u64) {
        let standings: BTreeMap<ModuleId, Standing> =
            asked.standings.iter().map(|(name, standing)| (self.catalogue.module(name).unwrap(), *standing)).collect();
        let base = self.catalogue.module("java.base");
        let kept = standings.iter().filter(|(_, standing)| **standing <= Uncertain).map(|(id, _)| *id);
        let mut roots: Vec<ModuleId> = kept.chain(base).collect();
        roots.sort_unstable();
        let start = Selection { modules: self.graph.closure(&roots), roots, always: Vec::new() };
        let seen = self.ids(asked.seen);
        let doubtful = standings
            .iter()
            .filter(|(id, standing)| match standing {
                Needed => false,
                Dormant => seen.contains(id),
                _ => true,
            })
            .count();
        let case = Case {
            catalogue: &self.catalogue,
            graph: &self.graph,
            scales: &self.scales,
            standings,
            start: &start,
            wished: BTreeSet::new(),
            limits: &Limits::default(),
        };
        // One run has gone into watching.
        let most = 2 * (doubtful as u64 + 3);
        let mut made = Made {
            catalogue: &self.catalogue,
            needs: self.ids(asked.needs),
            on_images: self.ids(asked.on_images),
            tells: asked.tells,
            most,
            runs: 1,
            lists: Vec::new(),
        };
        let seen = seen.into_iter().map(|id| (id, 100)).collect();
        let found = Search::new(&case, seen, &mut made).run().unwrap();
        // Whatever list is shown to have passed was run as a whole.
        for list in [&found.settled, &found.smallest].into_iter().flatten() {
            assert!(list.limited.is_none() || made.lists.contains(&list.modules));
        }
        (found, made.runs, most)
    }
}

use Standing::{Dormant, Needed, Tolerated, Uncertain};

#[test]
fn what_is_in_doubt_and_not_missed_goes_and_what_is_needed_stays() {
    let world = World::new();
    let (found, runs, most) = world.ask(&Asked {
        standings: &[
            ("java.sql", Needed),
            ("jdk.crypto.ec", Uncertain),
            ("jdk.jfr", Uncertain),
            ("jdk.net", Tolerated),
        ],
        seen: &["java.sql", "java.logging", "jdk.jfr"],
        needs: &["java.sql", "jdk.jfr"],
        on_images: &[],
        tells: true,
    });
    assert_eq!(found.end, End::Settled);
    let settled = found.settled.unwrap();
    let expected = ["java.base", "java.logging", "java.sql", "java.transaction.xa", "java.xml", "jdk.jfr"];
    assert_eq!(world.names(&settled.modules), expected);
    assert_eq!((settled.limited, settled.linked), (Some(Outcome::Passed), Some(Outcome::Passed)));
    let showing = |name| &found.showings[&world.catalogue.module(name).unwrap()];
    assert_eq!(*showing("jdk.crypto.ec"), Showing::NotMissed);
    assert_eq!(*showing("jdk.net"), Showing::NotMissed);
    assert!(matches!(showing("jdk.jfr"), Showing::Missed { .. }));
    assert!(runs <= most);
}

/// `java.desktop` requires `java.prefs` and `java.xml` (their module descriptors, Java SE 17).
#[test]
fn what_a_kept_module_requires_is_not_withheld() {
    let world = World::new();
    let (found, ..) = world.ask(&Asked {
        standings: &[("java.desktop", Needed), ("java.xml", Uncertain), ("java.prefs", Uncertain)],
        seen: &["java.desktop"],
        needs: &["java.desktop"],
        on_images: &[],
        tells: true,
    });
    let desktop = world.catalogue.module("java.desktop").unwrap();
    for name in ["java.xml", "java.prefs"] {
        assert_eq!(found.showings[&world.catalogue.module(name).unwrap()], Showing::Required(desktop));
    }
    assert!(found.smallest.unwrap().modules.contains(&desktop));
}

#[test]
fn needed_by_reading_goes_from_the_smallest_list_alone() {
    let world = World::new();
    let (found, ..) = world.ask(&Asked {
        standings: &[("java.desktop", Needed), ("java.logging", Needed), ("java.naming", Needed)],
        seen: &["java.logging"],
        needs: &["java.logging"],
        on_images: &[],
        tells: false,
    });
    assert_eq!(world.names(&found.smallest.unwrap().modules), ["java.base", "java.logging"]);
    assert!(found.settled.unwrap().modules.contains(&world.catalogue.module("java.desktop").unwrap()));
}

/// Options of the launch that load a library of the JVM do not care what is withheld.
#[test]
fn what_only_an_image_lacks_is_put_back() {
    let world = World::new();
    let (found, ..) = world.ask(&Asked {
        standings: &[("java.sql", Needed), ("jdk.jfr", Uncertain)],
        seen: &["java.sql"],
        needs: &["java.sql"],
        on_images: &["jdk.jfr"],
        tells: true,
    });
    assert_eq!(found.end, End::Settled);
    let jfr = world.catalogue.module("jdk.jfr").unwrap();
    assert!(matches!(found.showings[&jfr], Showing::Missed { .. }));
    for list in [found.settled.unwrap(), found.smallest.unwrap()] {
        assert!(list.modules.contains(&jfr));
        // It is another list than the one that passed while modules were withheld.
        assert_eq!((list.limited, list.linked), (None, Some(Outcome::Passed)));
    }
}

#[test]
fn a_list_by_reading_that_fails_is_added_to() {
    let world = World::new();
    let (found, ..) = world.ask(&Asked {
        standings: &[("java.sql", Needed), ("jdk.net", Tolerated), ("java.rmi", Dormant)],
        seen: &["java.sql", "java.rmi"],
        needs: &["java.sql", "java.rmi"],
        on_images: &[],
        tells: true,
    });
    assert_eq!((found.end, found.start.limited), (End::Settled, Some(Outcome::Failed)));
    let rmi = world.catalogue.module("java.rmi").unwrap();
    assert!(found.smallest.unwrap().modules.contains(&rmi));
    assert!(matches!(found.showings[&rmi], Showing::Missed { .. }));
}

#[test]
fn a_command_that_needs_what_nothing_names_is_not_settled() {
    let world = World::new();
    let (found, runs, most) = world.ask(&Asked {
        standings: &[("java.sql", Needed)],
        seen: &["java.sql"],
        needs: &["jdk.jshell"],
        on_images: &[],
        tells: false,
    });
    assert!(matches!(found.end, End::NoList(_)) && found.settled.is_none() && found.smallest.is_none());
    assert!(runs <= most);
}

/// Whatever a command needs of what is kept, and whether it tells or not: what is found suffices, is no larger than the
/// start, and the runs are as many as there may be.
#[test]
fn any_need_is_met_within_the_runs() {
    let world = World::new();
    let standings = [
        ("java.desktop", Needed),
        ("java.management", Uncertain),
        ("java.naming", Uncertain),
        ("java.sql", Needed),
        ("jdk.crypto.ec", Uncertain),
        ("jdk.httpserver", Needed),
        ("jdk.jfr", Tolerated),
        ("jdk.unsupported", Needed),
    ];
    let names: Vec<&str> = standings.iter().map(|(name, _)| *name).filter(|name| *name != "jdk.jfr").collect();
    for number in 0u32..1 << names.len() {
        let needs: Vec<&str> =
            names.iter().enumerate().filter(|(at, _)| number >> at & 1 == 1).map(|(_, name)| *name).collect();
        for tells in [false, true] {
            let (found, ..) =
                world.ask(&Asked { standings: &standings, seen: &needs, needs: &needs, on_images: &[], tells });
            assert_eq!(found.end, End::Settled, "{needs:?}");
            let smallest = found.smallest.unwrap();
            assert!(world.ids(&needs).iter().all(|id| smallest.modules.contains(id)), "{needs:?}");
            assert!(smallest.modules.iter().all(|id| found.start.modules.contains(id)));
            if tells {
                let roots: Vec<ModuleId> = world.ids(&needs).into_iter().collect();
                assert_eq!(world.names(&smallest.modules), world.names(&world.graph.closure(&roots)), "{needs:?}");
            }
        }
    }
}

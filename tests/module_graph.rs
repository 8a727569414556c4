//! Closure over `requires` against the platform's own resolution.
//!
//! Source: Java SE API, `java.lang.module.Configuration.resolve`, on JDK 17 and 25: 500 random sets of roots each; and what
//! the launcher of both resolves of the modules that it has.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test fails by panicking"
)]

use secateur::graph::ModuleGraph;
use secateur::needs::starts_from;
use secateur::platform::{Catalogue, ModuleId};

#[path = "support/judge.rs"]
mod judge;
use judge::{jdk::jdk, judge};

const SETS: usize = 500;

/// Random numbers that are the same in every run: Knuth's 64-bit congruential generator (MMIX).
struct Dice(u64);

impl Dice {
    fn below(&mut self, bound: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % bound
    }
}

#[test]
fn closure_is_what_the_platform_resolves() {
    for release in [17, 25] {
        let on_disk = Catalogue::of_jdk(&jdk(release)).expect("a JDK");
        let built_in = Catalogue::built_in(release).expect("embedded");
        let mut dice = Dice(u64::from(release));
        let sets: Vec<Vec<&str>> = (0..SETS)
            .map(|_| {
                let count = 1 + dice.below(8);
                let mut roots: Vec<&str> =
                    (0..count).map(|_| &*on_disk.modules[dice.below(on_disk.modules.len())].name).collect();
                roots.sort_unstable();
                roots.dedup();
                roots
            })
            .collect();
        let input: String = sets.iter().map(|roots| roots.join(" ") + "\n").collect();
        let printed = judge(release, "platform/Resolve.java", &[], &input);
        assert_eq!(printed.lines().count(), SETS);
        for catalogue in [&on_disk, &built_in] {
            let graph = ModuleGraph::new(catalogue);
            for (roots, resolved) in sets.iter().zip(printed.lines()) {
                let ids: Vec<ModuleId> = roots.iter().map(|name| catalogue.module(name).expect(name)).collect();
                let closure: Vec<&str> =
                    graph.closure(&ids).iter().map(|id| &*catalogue.modules[usize::from(id.0)].name).collect();
                assert_eq!(closure.join(" "), resolved, "roots {roots:?} on {release}");
            }
        }
    }
}

/// What a JVM that has some modules resolves for a class path: `java --limit-modules … --show-module-resolution`.
#[test]
fn resolution_of_a_class_path_is_the_launchers_own() {
    for release in [17, 25] {
        let catalogue = Catalogue::of_jdk(&jdk(release)).expect("a JDK");
        let graph = ModuleGraph::new(&catalogue);
        let id = |name: &str| catalogue.module(name).expect(name);
        let launch = secateur::needs::Launch::default();
        let mut dice = Dice(u64::from(release));
        for _ in 0..6 {
            let roots: Vec<ModuleId> =
                (0..4).map(|_| id(&catalogue.modules[dice.below(catalogue.modules.len())].name)).collect();
            let there = graph.closure(&roots);
            let names: Vec<&str> = there.iter().map(|&id| catalogue.name(id)).collect();
            let mut java = std::process::Command::new(judge::jdk::tool(release, "java"));
            java.args(["--limit-modules", &names.join(","), "--show-module-resolution", "-Xshare:off"]);
            // It is of no matter that there is no such class: modules are resolved before.
            let printed = java.args(["-cp", ".", "None"]).output().expect("a JVM").stdout;
            let printed = String::from_utf8(printed).expect("text");
            let bare = |word: &str| word.split('@').next().unwrap_or_default().to_owned();
            let expected: std::collections::BTreeSet<String> = printed
                .lines()
                .filter_map(|line| {
                    let words: Vec<&str> = line.split(' ').collect();
                    match words[..] {
                        ["root", module, ..] | [_, "binds" | "requires", module, ..] => Some(bare(module)),
                        _ => None,
                    }
                })
                .collect();
            let starts = there.iter().copied().filter(|&id| starts_from(&catalogue, id, &launch, false));
            let resolved: std::collections::BTreeSet<String> =
                graph.resolved(&there, starts).into_iter().map(|id| catalogue.name(id).to_owned()).collect();
            assert_eq!(resolved, expected, "{names:?} on {release}\n{printed}");
        }
    }
}

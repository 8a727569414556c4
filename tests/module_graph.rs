//! Closure over `requires` against the platform's own resolution.
//!
//! Source: Java SE API, `java.lang.module.Configuration.resolve`, on JDK 17 and 25: 500 random sets of roots each.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test fails by panicking"
)]

use secateur::graph::ModuleGraph;
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

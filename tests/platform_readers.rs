//! Readers of packaged modules and of run-time images against the JDK's own listings of all modules.
//!
//! Source: the tools `jmod list` (JDK 17) and `jimage list` (JDK 17 and 25).

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test fails by panicking"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::process::Command;

use secateur::platform::jimage::Image;
use secateur::platform::jmod::Jmod;

#[path = "support/judge.rs"]
mod judge;
use judge::jdk::{jdk, tool};

type Listing = BTreeMap<String, BTreeSet<String>>;

/// Both tools print `Module: name` and then its entries, indented or not.
fn listing(text: &str) -> Listing {
    let mut modules = Listing::new();
    let mut module = String::new();
    for line in text.lines().map(str::trim).filter(|line| !line.is_empty()) {
        if let Some(name) = line.strip_prefix("Module: ") {
            name.clone_into(&mut module);
            modules.entry(module.clone()).or_default();
        } else if !line.starts_with("jimage:") {
            modules.get_mut(&module).expect("an entry follows its module").insert(line.to_owned());
        }
    }
    modules
}

fn assert_same(ours: &Listing, theirs: &Listing, entries: usize) {
    assert_eq!(ours.keys().collect::<Vec<_>>(), theirs.keys().collect::<Vec<_>>());
    for (module, names) in theirs {
        let lacking: Vec<_> = names.difference(&ours[module]).take(5).collect();
        let beyond: Vec<_> = ours[module].difference(names).take(5).collect();
        assert!(lacking.is_empty() && beyond.is_empty(), "{module}: lacks {lacking:?}, has beyond {beyond:?}");
    }
    let total: usize = theirs.values().map(BTreeSet::len).sum();
    assert!(total > entries, "{total} entries are too few for a JDK");
}

#[test]
fn packaged_modules_hold_what_jmod_lists() {
    let folder = jdk(17).join("jmods");
    let theirs = listing(&judge::judge(17, "platform/Packaged.java", &[&folder], ""));
    let mut ours = Listing::new();
    for entry in fs::read_dir(&folder).expect("JDK 17 has packaged modules") {
        let jmod = Jmod::open(&entry.unwrap().path()).expect("readable");
        ours.insert(jmod.module().name.to_string(), jmod.entries().map(ToOwned::to_owned).collect());
    }
    assert_same(&ours, &theirs, 20_000);
}

#[test]
fn images_hold_what_jimage_lists() {
    for release in [17, 25] {
        let path = jdk(release).join("lib/modules");
        let output = Command::new(tool(release, "jimage")).arg("list").arg(&path).output().expect("jimage runs");
        assert!(output.status.success());
        let theirs = listing(&String::from_utf8(output.stdout).unwrap());
        let image = Image::open(&path).expect("readable");
        let mut ours = Listing::new();
        for entry in image.entries() {
            let entry = entry.expect("an undamaged image");
            if !entry.is_pseudo() {
                let module = String::from_utf8(entry.module.to_vec()).unwrap();
                let name = String::from_utf8(entry.path()).unwrap();
                let found = image.find(&module, name.as_bytes()).expect("its hash finds it");
                assert_eq!(found, entry);
                ours.entry(module).or_default().insert(name);
            }
        }
        assert_same(&ours, &theirs, 20_000);
    }
}

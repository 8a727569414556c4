//! Every finding that the program can make is explained to people.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::collections::BTreeMap;
use std::fs;

use secateur::diag::Code;

fn page(name: &str) -> String {
    fs::read_to_string(format!("{}/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

#[test]
fn every_code_has_a_heading_and_every_heading_a_code() {
    let page = page("DEVELOPERS.md");
    let section = page.split_once("\n## Diagnostics\n").expect("DEVELOPERS.md has no section on diagnostics").1;
    let section = section.split_once("\n## ").map_or(section, |(section, _)| section);
    let mut explained: BTreeMap<&str, usize> = BTreeMap::new();
    for heading in section.lines().filter_map(|line| line.strip_prefix("### `")?.strip_suffix('`')) {
        *explained.entry(heading).or_default() += 1;
    }
    let codes: BTreeMap<&str, usize> = Code::ALL.iter().map(|code| (code.tag(), 1)).collect();
    assert_eq!(explained, codes);
    for (code, text) in section.split("\n### `").skip(1).filter_map(|part| part.split_once("`\n")) {
        let severity = Code::ALL.iter().find(|known| known.tag() == code).map(|code| code.severity().tag()).unwrap();
        assert!(text.trim_start().starts_with(&format!("*{severity}.*")), "{code} is of severity {severity}");
    }
}

#[test]
fn codes_are_stable_words() {
    for code in Code::ALL {
        let tag = code.tag();
        assert!(tag.chars().all(|c| c.is_ascii_lowercase() || c == '-') && !tag.starts_with('-'), "{tag}");
        assert!(code.description().trim().ends_with('.'), "{tag} is described by a sentence");
    }
}

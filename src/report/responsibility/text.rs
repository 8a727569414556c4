//! The table of archives, and of what uncertain modules cost, as part of a page of text. The first function to read is
//! [`render`].

use std::borrow::Cow;
use std::io;

use super::{ArchiveRow, Responsibility, Share};
use crate::report::layout::{Width, count, megabytes, widest};
use crate::report::page::Page;

/// Rows that a page shows; JSON has all.
const SHOWN: usize = 12;

/// Names of modules in a row.
const NAMED: usize = 6;

/// Writes both tables.
pub(in crate::report) fn render(responsibility: &Responsibility, page: &mut Page<'_>) -> io::Result<()> {
    archives(responsibility, page)?;
    costs(responsibility, page)
}

fn archives(responsibility: &Responsibility, page: &mut Page<'_>) -> io::Result<()> {
    page.gap()?;
    let meaning = "what would go from the list if that archive alone went from the program, with what is in it; a module \
                   is the own part of the archive nearest to it, and own parts, shared and always add up to the total";
    page.heading("by archive", meaning)?;
    let shown = responsibility.archives.get(..SHOWN).unwrap_or(&responsibility.archives);
    let sums = [("shared", &responsibility.shared), ("always", &responsibility.always)];
    let limit = page.width().0 * 2 / 5;
    let paths: Vec<Cow<'_, str>> = shown.iter().map(|row| Width(limit).shorten_path(&row.archive)).collect();
    let columns = widest(paths.iter().map(|path| &**path).chain(sums.iter().map(|(name, _)| *name)), limit);
    for (row, path) in shown.iter().zip(&paths) {
        page.entry("", (path, columns), &figure(row.goes.bytes), &rest(row))?;
    }
    let left = responsibility.archives.len() - shown.len() + responsibility.omitted;
    if left > 0 {
        let more = count(left, "more archive", "more archives");
        page.paragraph(2, None, &format!("and {more} with which less goes; --format json has more"))?;
    }
    if responsibility.without_effect > 0 {
        let others = count(responsibility.without_effect, "archive", "archives");
        page.paragraph(2, None, &format!("{others} could go and change nothing"))?;
    }
    let says = |name: &str, share: &Share| match name {
        _ if share.modules.is_empty() => String::new(),
        "shared" => format!("goes with no single archive: {}", named(&share.modules)),
        _ => format!("stays without any archive: {}", named(&share.modules)),
    };
    for (name, share) in sums {
        page.entry("", (name, columns), &figure(share.bytes), &says(name, share))?;
    }
    page.row("", ("total", columns), &figure(responsibility.total), "")
}

fn rest(row: &ArchiveRow) -> String {
    let others = row.goes.modules.len() - row.own.modules.len();
    let mut parts = Vec::new();
    if !row.own.modules.is_empty() {
        parts.push(format!("own {}: {}", figure(row.own.bytes), named(&row.own.modules)));
    }
    if others > 0 {
        let further = if parts.is_empty() { "" } else { "further " };
        parts.push(format!(
            "{} that nearer archives bring",
            count(others, &format!("{further}module"), &format!("{further}modules"))
        ));
    }
    if !row.comes.modules.is_empty() {
        parts.push(format!("{} comes: {}", figure(row.comes.bytes), named(&row.comes.modules)));
    }
    parts.join("; ")
}

fn costs(responsibility: &Responsibility, page: &mut Page<'_>) -> io::Result<()> {
    if responsibility.uncertain.is_empty() {
        return Ok(());
    }
    page.gap()?;
    page.heading("cost", "what would go if an uncertain module alone were not kept, with what only it requires")?;
    let columns = widest(responsibility.uncertain.iter().map(|row| row.module.as_str()), page.width().0 / 3);
    for row in &responsibility.uncertain {
        let others: Vec<String> = row.goes.modules.iter().filter(|module| **module != row.module).cloned().collect();
        let rest = match (row.goes.modules.is_empty(), others.is_empty()) {
            (true, _) => "it stays, since a kept module requires it".to_owned(),
            (false, true) => String::new(),
            (false, false) => format!("with {}", named(&others)),
        };
        page.entry("", (&row.module, columns), &figure(row.goes.bytes), &rest)?;
    }
    Ok(())
}

fn figure(bytes: Option<u64>) -> String {
    bytes.map_or_else(|| "?".into(), megabytes)
}

/// Some names, and how many more there are.
fn named(modules: &[String]) -> String {
    let some = modules.get(..NAMED).unwrap_or(modules).join(", ");
    match modules.len().saturating_sub(NAMED) {
        0 => some,
        more => format!("{some} and {more} more"),
    }
}

//! The answer of `platform` for a person: what a catalogue or a JDK holds, module by module.
//!
//! Prints a [`PlatformListing`] and computes nothing. The first function to read is [`render`].

use std::io::{self, Write};

use super::layout::{count, megabytes, widest};
use super::page::Page;
use super::style::{Ink, Style};
use super::{PlatformListing, PlatformModuleRow};

/// Writes the whole page.
pub fn render(listing: &PlatformListing, style: &Style, out: &mut dyn Write) -> io::Result<()> {
    let page = &mut Page::new(style, out);
    let platform = &listing.platform;
    let text = format!("Java {} holds {}.", platform.release, count(platform.modules, "module", "modules"));
    page.paragraph(0, Some(Ink::Verdict), &text)?;
    page.gap()?;
    page.hanging("from", 7, None, &format!("{}, because {}", platform.source, platform.reason))?;
    for note in &platform.notes {
        page.paragraph(7, None, note)?;
    }
    page.hanging("weighs", 7, None, &format!("{}; alone, and closed (with all that it requires). Below a module stands what it requires besides java.base", listing.basis))?;
    page.gap()?;
    let columns = widest(listing.modules.iter().map(|row| row.name.as_str()), page.width().0 / 3);
    let head = format!("{:>9}  packages exported", "closed");
    page.row("", ("module", columns), "alone", &head)?;
    listing.modules.iter().try_for_each(|row| module(row, columns, page))
}

fn module(row: &PlatformModuleRow, columns: usize, page: &mut Page<'_>) -> io::Result<()> {
    let bytes = |bytes: Option<u64>| bytes.map_or_else(|| "?".into(), megabytes);
    let mut rest = format!("{:>9}  {} of {}", bytes(row.closed_bytes), row.exports.len(), row.packages);
    if row.not_by_default {
        rest.push_str("; only when named at launch");
    }
    if let Some(release) = row.from_release {
        rest = format!("{rest}; facts of release {release}");
    }
    page.row("", (&row.name, columns), &bytes(row.weight.map(|weight| weight.total())), &rest)?;
    let besides: Vec<&str> = row.requires.iter().map(String::as_str).filter(|name| *name != "java.base").collect();
    page.paragraph(8, Some(Ink::Faint), &besides.join(", "))
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::super::style::{Colour, Medium};
    use super::*;

    #[test]
    fn every_module_has_its_line() {
        let mut out = Vec::new();
        let style = Style::decide(Colour::Never, Some(100), Medium::default());
        render(&sample::listing(), &style, &mut out).unwrap();
        let text = String::from_utf8(out).unwrap();
        for row in sample::listing().modules {
            assert_eq!(text.lines().filter(|line| line.trim_start().starts_with(&row.name)).count(), 1, "{text}");
        }
        assert!(text.contains("; only when named at launch; facts of release 25"), "{text}");
    }
}

//! The modules alone, comma-separated on one line, as the linker takes them.
//!
//! The first function to read is [`render`].

use std::io::{self, Write};

use super::trial::TrialReport;
use super::{PlatformListing, Report};

/// The whole selection; nothing where no class was read, since a linker would take even java.base alone for an answer.
/// Names come from the platform's catalogue, yet a JDK is input too: they are escaped.
pub fn render(report: &Report, out: &mut dyn Write) -> io::Result<()> {
    if report.has_read_nothing() {
        return Ok(());
    }
    line(report.list.iter().map(String::as_str), out)
}

/// All modules of a platform.
pub fn render_platform(listing: &PlatformListing, out: &mut dyn Write) -> io::Result<()> {
    line(listing.modules.iter().map(|module| module.name.as_str()), out)
}

/// The list that a trial recommends; nothing where there is none.
pub fn render_trial(trial: &TrialReport, out: &mut dyn Write) -> io::Result<()> {
    trial
        .found
        .and_then(|at| trial.lists.get(at))
        .map_or(Ok(()), |list| line(list.modules.iter().map(String::as_str), out))
}

fn line<'a>(names: impl Iterator<Item = &'a str>, out: &mut dyn Write) -> io::Result<()> {
    let names: Vec<_> = names.map(super::escape::visible).collect();
    writeln!(out, "{}", names.join(","))
}

#[cfg(test)]
mod tests {
    use super::super::sample;

    #[test]
    fn nothing_read_is_no_list() {
        let mut report = sample::report();
        report.totals.classes = 0;
        let mut out = Vec::new();
        super::render(&report, &mut out).unwrap();
        assert_eq!(out, b"");
    }

    #[test]
    fn one_line_without_spaces() {
        let mut out = Vec::new();
        super::render(&sample::report(), &mut out).unwrap();
        assert_eq!(out, b"java.base,java.logging,java.sql,jdk.crypto.ec,jdk.incubator.tide\n");
    }
}

//! A summary fit for a comment on a pull request: the answer, what is doubtful, and the list, in Markdown.
//!
//! GitHub Flavored Markdown (tables, section 4.10 of its specification) within the limits of `CommonMark`. Foreign text is
//! escaped so that it is text: no link, no mention, no markup. The first function to read is [`render`].

use std::fmt::Write as _;
use std::io::{self, Write};

use super::escape::visible;
use super::layout::{count, megabytes};
use super::member::readable;
use super::text::{headline, meaning};
use super::{ModuleRow, Report, Standing};

/// Rows of a table; the rest is counted.
const SHOWN: usize = 30;

/// Findings and opaque look-ups in a comment.
const SHOWN_REMARKS: usize = 5;

/// Writes the summary.
pub fn render(report: &Report, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "### {}\n", plain(&headline(report)))?;
    if !report.complete {
        writeln!(out, "**Incomplete**: part of the input could not be read or judged; modules may be missing.\n")?;
    }
    let platform = &report.platform;
    writeln!(
        out,
        "Judged for release {}, because {}, by policy {}. Weights: {}.\n",
        platform.release,
        plain(&platform.reason),
        report.policy,
        plain(&report.weight.basis)
    )?;
    if !report.has_read_nothing() {
        writeln!(out, "```text\n{}\n```\n", visible(&report.list.join(",")))?;
    }
    if !report.name_at_launch.is_empty() {
        let names = report.name_at_launch.join(",");
        writeln!(out, "At launch, name also: {}\n", code(&format!("--add-modules {names}")))?;
    }
    for standing in [Standing::Uncertain, Standing::Tolerated] {
        doubtful(report, standing, out)?;
    }
    let kept: Vec<&ModuleRow> =
        report.modules.iter().filter(|row| row.kept && row.standing != Standing::Uncertain).collect();
    let summary = count(kept.len(), "further module is kept", "further modules are kept");
    writeln!(out, "<details><summary>{summary}</summary>\n")?;
    table(&kept, out)?;
    writeln!(out, "</details>\n")?;
    remarks(report, out)
}

fn doubtful(report: &Report, standing: Standing, out: &mut dyn Write) -> io::Result<()> {
    let rows: Vec<&ModuleRow> = report.modules.iter().filter(|row| row.standing == standing).collect();
    if rows.is_empty() {
        return Ok(());
    }
    writeln!(out, "**{}**: {}\n", standing.tag(), meaning(standing))?;
    table(&rows, out)
}

fn table(rows: &[&ModuleRow], out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "| module | standing | kept | weight | why |\n| --- | --- | --- | ---: | --- |")?;
    for row in rows.iter().take(SHOWN) {
        let weight = row.weight.map_or_else(|| "not known".to_owned(), |weight| megabytes(weight.total()));
        let (name, tag) = (code(&row.name), row.standing.tag());
        let kept = if row.kept { "yes" } else { "no" };
        writeln!(out, "| {name} | {tag} | {kept} | {} | {} |", plain(&weight), plain(&row.reason))?;
    }
    writeln!(out)?;
    match rows.len().saturating_sub(SHOWN) {
        0 => Ok(()),
        rest => writeln!(out, "and {}\n", count(rest, "more module", "more modules")),
    }
}

fn remarks(report: &Report, out: &mut dyn Write) -> io::Result<()> {
    if !report.opaque.is_empty() {
        writeln!(out, "**opaque**: look-ups by names that the code does not show\n")?;
        for row in report.opaque.iter().take(SHOWN_REMARKS) {
            let place = format!("{}.{}", row.class, readable(&row.member));
            let places = count(row.places, "place", "places");
            writeln!(out, "- {} in {places} of {}, first {}", code(&row.call), code(&row.archive), code(&place))?;
        }
        let rest: usize = report.opaque.iter().skip(SHOWN_REMARKS).map(|row| row.places).sum();
        if rest + report.opaque_omitted > 0 {
            writeln!(out, "- and {}", count(rest + report.opaque_omitted, "more place", "more places"))?;
        }
        writeln!(out)?;
    }
    let alarming: Vec<_> = report.findings.iter().filter(|finding| finding.severity != "note").collect();
    if !alarming.is_empty() {
        writeln!(out, "**findings**\n")?;
        for finding in alarming.iter().take(SHOWN_REMARKS) {
            let (severity, message) = (finding.severity, plain(&finding.message));
            writeln!(out, "- {severity}, {}: {message} ({})", finding.code, code(&finding.place))?;
        }
        if alarming.len() > SHOWN_REMARKS {
            writeln!(out, "- and {} more", alarming.len() - SHOWN_REMARKS)?;
        }
        writeln!(out)?;
    }
    writeln!(out, "Run your own tests on the trimmed image before it ships.")
}

/// Foreign text as text: every punctuation character of ASCII that could mean something is escaped (`CommonMark` §2.4),
/// or written as a reference where an escape would not keep it from being read as a mention or an address.
fn plain(text: &str) -> String {
    let mut shown = String::with_capacity(text.len() + 8);
    for c in visible(text).chars() {
        match c {
            '<' => shown.push_str("&lt;"),
            '>' => shown.push_str("&gt;"),
            '&' => shown.push_str("&amp;"),
            '@' | '#' | ':' | '/' => {
                // A `String` takes whatever is written to it.
                let _ = write!(shown, "&#{};", u32::from(c));
            }
            '\\' | '`' | '*' | '_' | '[' | ']' | '{' | '}' | '!' | '|' | '~' => shown.extend(['\\', c]),
            _ => shown.push(c),
        }
    }
    shown
}

/// Foreign text as code, within a table as well: a bar there is escaped even in code (GFM §4.10). A backtick could end
/// it, so that such a text is shown as text.
fn code(text: &str) -> String {
    let text = visible(text);
    if text.contains(['`', '\\']) || text.trim() != &*text || text.is_empty() {
        return plain(&text);
    }
    format!("`{}`", text.replace('|', "\\|"))
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;

    #[test]
    fn every_doubtful_module_is_in_it_and_the_list_is_whole() {
        let report = sample::report();
        let mut out = Vec::new();
        render(&report, &mut out).unwrap();
        let text = String::from_utf8(out).unwrap();
        assert!(text.starts_with("### Keep 5 of the 70 modules of Java 17"), "{text}");
        assert!(text.contains(&format!("\n{}\n", report.list.join(","))), "{text}");
        for row in &report.modules {
            assert!(row.standing == Standing::Dormant || text.contains(&format!("| `{}` |", row.name)), "{text}");
        }
        assert!(!text.contains('\x1b') && !text.contains('\u{202e}'));
    }

    #[test]
    fn foreign_text_stays_text() {
        assert_eq!(
            plain("<b>@gauge [a](http://b) | *x*"),
            "&lt;b&gt;&#64;gauge \\[a\\](http&#58;&#47;&#47;b) \\| \\*x\\*"
        );
        assert_eq!(code("a|b"), "`a\\|b`");
        assert_eq!(code("a`b"), "a\\`b");
    }
}

//! The answer of `settle` for a person. Prints a [`TrialReport`] and computes nothing. The first function to read is
//! [`render`].

use std::io::{self, Write};

use crate::report::layout::{count, grouped, megabytes, widest};
use crate::report::page::Page;
use crate::report::style::{Ink, Style};

use super::{AccountRow, ListRow, Shown, TrialReport, TrialRow};

/// Lines quoted of a run whose end decided all, and of one module's.
const QUOTED: usize = 5;
const QUOTED_OF_MODULE: usize = 2;

/// Writes the whole page.
pub fn render(trial: &TrialReport, style: &Style, out: &mut dyn Write) -> io::Result<()> {
    let page = &mut Page::new(style, out);
    let ink = if trial.passed { Ink::Verdict } else { Ink::Alarm };
    page.paragraph(0, Some(ink), &trial.message)?;
    if let Some(account) = &trial.account {
        page.paragraph(0, None, &format!("It ended so: {}.", account.ending))?;
        quote(account, 2, QUOTED, page)?;
    }
    page.gap()?;
    page.hanging("ran", 7, None, &trial.command.join(" "))?;
    let runs = count(trial.runs as usize, "run", "runs");
    let jvms = count(trial.jvms, "JVM", "JVMs");
    let most = grouped(trial.runs_at_most);
    page.paragraph(7, None, &format!("{runs} of at most {most}; one starts {jvms} of the given JDK"))?;
    page.hanging("for", 7, None, &trial.report.platform.source)?;
    for note in &trial.notes {
        page.hanging("note", 7, None, note)?;
    }
    for shown in Shown::ALL {
        section(trial, shown, false, page)?;
        section(trial, shown, true, page)?;
    }
    lists(trial, page)?;
    if !trial.cautions.is_empty() {
        page.gap()?;
        page.heading("mind", "before this goes anywhere")?;
        for caution in &trial.cautions {
            page.hanging("  *", 4, None, caution)?;
        }
    }
    if let Some(found) = trial.found.and_then(|at| trial.lists.get(at)) {
        page.gap()?;
        page.heading("next", &format!("link the list `{}`, and run your other tests on it too", found.name))?;
        page.verbatim(2, &format!("jlink --output runtime --add-modules {}", found.modules.join(",")))?;
    }
    Ok(())
}

/// What a section is called and says; apart what only the smallest list leaves out.
fn title(shown: Shown, only_smallest: bool) -> (&'static str, &'static str) {
    match (shown, only_smallest) {
        (Shown::Missed, _) => ("needed by trial", "the command fails without it"),
        (Shown::Degrades, _) => ("degrades", "the command ends well without it, and says or prints something else"),
        (Shown::Flips, _) => {
            ("flips", "without it the command passes at one time and not at another, which proves nothing")
        }
        (Shown::NotMissed, false) => ("not missed by this command", "it passes without"),
        (Shown::NotMissed, true) => (
            "not missed by this command, yet needed by reading",
            "it passes without, but there is code that can ask for it or for what requires it",
        ),
        (Shown::Required, _) => ("required", "it cannot be withheld alone, since a kept module requires it"),
        (Shown::Untried, _) => ("untried", "no run was left for it; it is kept"),
    }
}

fn section(trial: &TrialReport, shown: Shown, only_smallest: bool, page: &mut Page<'_>) -> io::Result<()> {
    let rows: Vec<&TrialRow> =
        trial.modules.iter().filter(|row| row.shown == Some(shown) && row.only_smallest == only_smallest).collect();
    if rows.is_empty() {
        return Ok(());
    }
    let (label, meaning) = title(shown, only_smallest);
    page.gap()?;
    page.heading(label, meaning)?;
    let columns = widest(rows.iter().map(|row| row.name.as_str()), page.width().0 / 3);
    for row in rows {
        let bytes = row.bytes.map_or_else(|| "?".into(), megabytes);
        page.entry("", (&row.name, columns), &bytes, &told(row))?;
        if let Some(account) = &row.account {
            quote(account, 6, QUOTED_OF_MODULE, page)?;
        }
    }
    Ok(())
}

/// What is told of a module on its line.
fn told(row: &TrialRow) -> String {
    let mut parts: Vec<String> = vec![row.standing.unwrap_or("named by nothing").to_owned()];
    if row.loads > 0 {
        parts.push(format!("{} seen loading", count(row.loads as usize, "class", "classes")));
    }
    if let Some(class) = &row.class {
        parts.push(format!("{class} was missing"));
    }
    if let Some(by) = &row.required_by {
        parts.push(format!("required by {by}"));
    }
    if let Some(account) = &row.account {
        parts.push(account.ending.clone());
    }
    parts.join("; ")
}

fn quote(account: &AccountRow, indent: usize, most: usize, page: &mut Page<'_>) -> io::Result<()> {
    account.lines.iter().take(most).try_for_each(|line| page.line(indent, Some(Ink::Faint), &format!("> {line}")))
}

fn lists(trial: &TrialReport, page: &mut Page<'_>) -> io::Result<()> {
    page.gap()?;
    page.heading("lists", "bytes, modules, and what was seen of each")?;
    let columns = widest(trial.lists.iter().map(|list| list.name), page.width().0 / 3);
    for list in &trial.lists {
        let bytes = list.bytes.map_or_else(|| "?".into(), megabytes);
        page.entry("", (list.name, columns), &bytes, &seen(list))?;
        if let Some(account) = &list.account {
            quote(account, 6, QUOTED_OF_MODULE, page)?;
        }
    }
    Ok(())
}

fn seen(list: &ListRow) -> String {
    let modules = count(list.modules.len(), "module", "modules");
    let withheld = list.withheld.map(|outcome| format!("; {outcome} with all others withheld"));
    let linked = list.linked.map_or("; not linked".to_owned(), |outcome| format!("; {outcome} on a linked image"));
    format!("{modules}{}{linked}: {}", withheld.unwrap_or_default(), list.meaning)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::sample;
    use crate::report::style::{Colour, Medium};

    #[test]
    fn every_showing_is_told_and_foreign_text_is_escaped() {
        for width in [60, 100] {
            let style = Style::decide(Colour::Never, Some(width), Medium::default());
            let mut out = Vec::new();
            render(&sample::trial(), &style, &mut out).unwrap();
            let text = String::from_utf8(out).unwrap();
            for label in ["needed by trial", "degrades", "flips", "not missed by this command:", "required", "untried"]
            {
                assert!(text.contains(&format!("\n{label}")), "{label}: {text}");
            }
            assert!(text.contains("yet needed by reading") && text.contains("--add-modules java.base\n"), "{text}");
            assert!(!text.contains(['\x1b', '\u{202e}']), "{text}");
            let wide = text.lines().filter(|line| !line.contains("jlink")).map(|line| line.chars().count()).max();
            assert!(wide <= Some(width.into()), "{text}");
        }
    }
}

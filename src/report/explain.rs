//! The answer of `explain` for a person: what becomes of the module, how the program comes to it, what would free it.
//!
//! Prints an [`Explanation`] and computes nothing. The first function to read is [`render`].

use std::io::{self, Write};

use super::layout::{count, megabytes, pad, widest};
use super::member::readable;
use super::page::Page;
use super::style::{Ink, Style};
use super::text::meaning;
use super::{EvidenceRow, Explanation, ModuleRow, Standing, Witness};

/// Paths of the strongest standing that are shown, and one of each other; JSON has more.
const SHOWN_PATHS: usize = 2;

/// Askers that are shown; JSON has more.
const SHOWN_ASKERS: usize = 12;

/// Steps at the beginning and at the end of a path that are shown of a long one.
const SHOWN_STEPS: (usize, usize) = (6, 8);

/// Writes the whole page.
pub fn render(explanation: &Explanation, style: &Style, out: &mut dyn Write) -> io::Result<()> {
    let page = &mut Page::new(style, out);
    if !explanation.report.complete {
        let text = "Incomplete: part of the input could not be read or judged; there may be further reasons. `scan` says \
                    which part.";
        page.paragraph(0, Some(Ink::Alarm), text)?;
    }
    let Some(row) = &explanation.row else {
        let text = format!("Nothing asks for {}, and no module that is kept requires it.", explanation.module);
        return page.paragraph(0, Some(Ink::Verdict), &text);
    };
    verdict(explanation, row, page)?;
    let mut shown = 0;
    let mut seen: Vec<Standing> = Vec::new();
    for witness in &explanation.witnesses {
        let standing = witness.evidence.standing;
        // That a place names the module where nothing asks is worth a line only if there is nothing better.
        if standing == Standing::Dormant && row.standing != standing {
            continue;
        }
        let among_first = seen.iter().all(|&seen| seen == standing) && shown < SHOWN_PATHS;
        if among_first || !seen.contains(&standing) {
            shown += 1;
            seen.push(standing);
            path(shown, witness, page)?;
        }
    }
    let further = explanation.witnesses.len() - shown + explanation.witnesses_omitted;
    if further > 0 {
        page.gap()?;
        page.paragraph(2, None, &format!("and {}", count(further, "further path", "further paths")))?;
    }
    askers(row, page)?;
    neighbours(explanation, row, page)
}

fn verdict(explanation: &Explanation, row: &ModuleRow, page: &mut Page<'_>) -> io::Result<()> {
    let fate = match (row.kept, row.root) {
        (true, true) => "kept",
        (true, false) => "kept for the modules that require it",
        (false, _) => "not kept",
    };
    let weight = row.weight.map(|weight| format!("; it weighs {}", megabytes(weight.total()))).unwrap_or_default();
    let frees = match row.sole_bytes {
        _ if !row.kept => String::new(),
        Some(0) | None => String::new(),
        Some(bytes) => format!(", and without it the image is {} lighter", megabytes(bytes)),
    };
    let text = format!("{} is {} and {fate}{weight}{frees}.", row.name, row.standing.tag());
    page.paragraph(0, Some(Ink::Verdict), &text)?;
    page.gap()?;
    let platform = &explanation.report.platform;
    page.hanging("means", 7, None, meaning(row.standing))?;
    page.hanging("why", 7, None, &row.reason)?;
    page.hanging("to go", 7, None, &explanation.to_go)?;
    if row.name_at_launch {
        page.hanging("launch", 7, Some(Ink::Alarm), &format!("start the program with --add-modules {}", row.name))?;
    }
    page.hanging("for", 7, None, &format!("release {}, because {}", platform.release, platform.reason))
}

fn path(number: usize, witness: &Witness, page: &mut Page<'_>) -> io::Result<()> {
    page.gap()?;
    let evidence = &witness.evidence;
    let what = match evidence.standing {
        Standing::Dormant => "nothing that can run asks for it there",
        _ => hurts(evidence.stage),
    };
    page.heading(&format!("path {number} ({})", evidence.standing.tag()), what)?;
    let hows = || witness.steps.iter().map(|step| step.how.as_str());
    let columns = widest(hows().chain([evidence.phrase.as_str()]), page.width().0 * 2 / 5);
    let stages = widest(witness.steps.iter().map(|step| step.stage), page.width().0);
    let mut archive = "";
    let mut before = ("", "");
    let (first, last) = SHOWN_STEPS;
    let cut = witness.steps.len().checked_sub(first + last).filter(|&cut| cut > 1);
    for (at, step) in witness.steps.iter().enumerate() {
        if let Some(cut) = cut.filter(|cut| (first..first + cut).contains(&at)) {
            if at == first {
                page.line(4, Some(Ink::Faint), &format!("… {} …", count(cut, "step", "steps")))?;
                archive = "";
            }
            before = (&step.how, step.stage);
            continue;
        }
        if step.archive != archive && !step.archive.is_empty() {
            page.line(2, Some(Ink::Faint), &format!("in {}", step.archive))?;
            archive = &step.archive;
        }
        page.pair(4, (&joined(before, stages), columns + stages + 2), &readable(&step.who))?;
        before = (&step.how, step.stage);
    }
    page.line(2, Some(Ink::Faint), "on the platform")?;
    page.pair(4, (&joined((&evidence.phrase, evidence.stage), stages), columns + stages + 2), &evidence.target)
}

/// The stage, and what happens at it.
fn joined((how, stage): (&str, &str), stages: usize) -> String {
    format!("{}  {how}", pad(stage, stages))
}

/// When the absence is felt, in words; `DEVELOPERS.md`, "Stages".
fn hurts(stage: &str) -> &'static str {
    match stage {
        "load" => "without the module that class cannot be loaded",
        "link" => "without the module that class cannot be linked, even if the code never runs",
        "run" => "without the module that instruction fails when it runs",
        "introspect" => "without the module a look at the members of that class fails",
        "name" => "without the module a look-up of that name finds nothing",
        _ => "without the module nothing happens unless somebody asks",
    }
}

fn askers(row: &ModuleRow, page: &mut Page<'_>) -> io::Result<()> {
    if !row.evidence.is_empty() {
        page.gap()?;
        page.heading("askers", "who asks for it, by archive, strongest first")?;
    }
    let is_shown = |evidence: &&EvidenceRow| {
        evidence.standing != Standing::Dormant || matches!(row.standing, Standing::Dormant | Standing::Implied)
    };
    let shown: Vec<&EvidenceRow> = row.evidence.iter().filter(is_shown).take(SHOWN_ASKERS).collect();
    let mut archives: Vec<&str> = Vec::new();
    for evidence in &shown {
        if !archives.contains(&evidence.archive.as_str()) {
            archives.push(&evidence.archive);
        }
    }
    for archive in archives {
        page.line(2, Some(Ink::Faint), if archive.is_empty() { "the launch" } else { archive })?;
        for evidence in shown.iter().filter(|evidence| evidence.archive == archive) {
            page.hanging("", 4, None, &sentence(evidence))?;
        }
    }
    let further = row.evidence.len() - shown.len() + row.evidence_omitted;
    if further > 0 {
        page.paragraph(2, None, &format!("and {}", count(further, "further reason", "further reasons")))?;
    }
    Ok(())
}

fn sentence(evidence: &EvidenceRow) -> String {
    let member = evidence.member.as_ref().map(|member| format!(".{}", readable(member))).unwrap_or_default();
    let also = match evidence.also {
        0 => String::new(),
        also => format!("; also in {} here", count(also, "other place", "other places")),
    };
    let (standing, stage) = (evidence.standing.tag(), evidence.stage);
    format!("{}{member} {} {} ({standing}, {stage}){also}", evidence.asker, evidence.phrase, evidence.target)
}

fn neighbours(explanation: &Explanation, row: &ModuleRow, page: &mut Page<'_>) -> io::Result<()> {
    page.gap()?;
    page.heading("around it", "the modules beside it among those that are kept")?;
    let listed = |names: &[String]| if names.is_empty() { "none".to_owned() } else { names.join(", ") };
    page.hanging("  required by", 15, None, &listed(&row.required_by))?;
    page.hanging("  requires", 15, None, &listed(&row.requires))?;
    page.hanging("  alone brings", 15, None, &listed(&explanation.brings))?;
    for chain in &explanation.chains {
        page.hanging("  by way of", 15, None, &chain.join(" → "))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::super::style::{Colour, Medium};
    use super::*;

    fn shown(explanation: &Explanation) -> String {
        let mut out = Vec::new();
        render(explanation, &Style::decide(Colour::Never, Some(100), Medium::default()), &mut out).unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn a_module_that_nothing_asks_for_gets_one_sentence() {
        let explanation = Explanation { row: None, module: "jdk.sonar".into(), ..sample::explanation() };
        let text = shown(&explanation);
        assert!(text.ends_with("Nothing asks for jdk.sonar, and no module that is kept requires it.\n"), "{text}");
    }

    #[test]
    fn the_path_goes_from_the_entry_point_to_the_platform() {
        let text = shown(&sample::explanation());
        let place = |part: &str| text.find(part).unwrap_or_else(|| panic!("{part} is not in {text}"));
        assert!(place("harbour.Main.main") < place("harbour.store.Ledger.open"));
        assert!(place("harbour.store.Ledger.open") < place("on the platform"));
        assert!(text.chars().all(|c| c == '\n' || !c.is_control()));
    }
}

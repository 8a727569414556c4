//! The answer of `scan` for a person: the verdict first, then module by module, then what to mind and to do next.
//!
//! Prints a [`Report`] and computes nothing. The first function to read is [`render`].

use std::io::{self, Write};

use super::layout::{count, grouped, megabytes, widest};
use super::member::readable;
use super::page::Page;
use super::responsibility;
use super::style::{Ink, Style};
use super::{Finding, ModuleRow, Report, Standing};

/// Findings of one code that are shown; JSON has more.
const SHOWN_PER_CODE: usize = 3;

/// The code of findings that are shown by archives.
const SHADOWED: &str = "shadowed-class";

/// Inputs that are shown; a folder of jars is hundreds of them, and the modules must stay on the first screens.
const SHOWN_INPUTS: usize = 6;

/// Classes of which each may be the start.
const SHOWN_STARTS: usize = 3;

/// Rows of types that are nowhere or gone.
const SHOWN_TYPES: usize = 5;

/// Bytes from which it matters what goes with a module.
const MUCH: u64 = 500_000;

/// Rows of look-ups that cannot be worked out.
const SHOWN_OPAQUE: usize = 3;

/// Writes the whole page.
pub fn render(report: &Report, style: &Style, out: &mut dyn Write) -> io::Result<()> {
    let page = &mut Page::new(style, out);
    verdict(report, page)?;
    modules(report, page)?;
    if let Some(responsibility) = &report.responsibility {
        responsibility::text::render(responsibility, page)?;
    }
    launch(report, page)?;
    purposes(report, page)?;
    opaque(report, page)?;
    missing(report, page)?;
    findings(report, page)?;
    cautions(report, page)?;
    next_step(report, page)
}

fn verdict(report: &Report, page: &mut Page<'_>) -> io::Result<()> {
    if !report.complete {
        let text = "Incomplete: part of the input could not be read or judged, so this list may lack modules. \
                    The findings below say which part.";
        page.paragraph(0, Some(Ink::Alarm), text)?;
    }
    let platform = &report.platform;
    page.paragraph(0, Some(Ink::Verdict), &headline(report))?;
    page.gap()?;

    let text = format!(
        "Judged for release {}, because {}, by policy {}. Modules from the {}. Weights: {}.",
        platform.release, platform.reason, report.policy, platform.source, report.weight.basis
    );
    page.hanging("for", 7, None, &text)?;
    for note in &platform.notes {
        page.paragraph(7, None, note)?;
    }
    if !report.weight.unknown.is_empty() {
        page.paragraph(7, None, &format!("No weight is known of {}.", report.weight.unknown.join(", ")))?;
    }
    let mut mark = "read";
    for input in report.inputs.iter().take(SHOWN_INPUTS) {
        let archives = count(input.archives, "archive", "archives");
        let classes = count(input.classes, "class", "classes");
        page.hanging(mark, 7, None, &format!("{} ({}): {archives}, {classes}", input.path, input.kind))?;
        mark = "";
    }
    if let Some(rest) = report.inputs.get(SHOWN_INPUTS..).filter(|rest| !rest.is_empty()) {
        let archives = count(rest.iter().map(|input| input.archives).sum(), "archive", "archives");
        let classes = count(rest.iter().map(|input| input.classes).sum(), "class", "classes");
        let inputs = count(rest.len(), "more input", "more inputs");
        page.paragraph(7, None, &format!("and {inputs}: {archives}, {classes}"))?;
    }
    let totals = &report.totals;
    let text = format!(
        "{} of {} and {} of {} can be reached from there",
        grouped(totals.classes_reached as u64),
        count(totals.classes, "class", "classes"),
        grouped(totals.methods_reached as u64),
        count(totals.methods, "method", "methods")
    );
    mark = "start";
    for entry in &report.entry_points {
        page.hanging(mark, 7, None, &format!("{}, from {}", entry.class, entry.reason))?;
        mark = "";
    }
    if report.entry_points.is_empty() {
        page.hanging(mark, 7, None, &unknown_start(report))?;
    }
    page.paragraph(7, None, &text)?;
    mark = "names";
    for list in &report.listed {
        let of = |number: usize, whose: &str| (number > 0).then(|| format!("{} {whose}", grouped(number as u64)));
        let counts = [
            of(list.of_program, "of the program"),
            of(list.of_platform, "of the platform"),
            of(list.unknown, "of neither"),
        ];
        let counts: Vec<String> = counts.into_iter().flatten().collect();
        page.hanging(mark, 7, None, &format!("{}: classes looked up by name, {}", list.path, counts.join(", ")))?;
        mark = "";
    }
    mark = "saw";
    for log in &report.logs {
        let parts = if log.files > 1 { format!(" ({} files)", grouped(log.files as u64)) } else { String::new() };
        let loads = count(usize::try_from(log.loads).unwrap_or(usize::MAX), "class", "classes");
        let modules = count(log.modules.len() + 1, "module", "modules");
        page.hanging(mark, 7, None, &format!("{}{parts}: {loads} loaded, of {modules} of the platform", log.path))?;
        mark = "";
    }
    Ok(())
}

/// Why it is not known where the program starts.
fn unknown_start(report: &Report) -> String {
    let any = "all that is public may be where it starts";
    if report.doubted.is_empty() {
        return format!("no entry point is named, so {any}");
    }
    let named: Vec<String> = report.doubted.iter().map(|one| format!("{} ({})", one.class, one.reason)).collect();
    let shown = named.get(..SHOWN_STARTS).unwrap_or(&named).join(", ");
    let more = match named.len().saturating_sub(SHOWN_STARTS) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let archives = count(named.len(), "archive of several names a start", "archives each name a start");
    format!("{archives}: {shown}{more}; nothing says which is started, so {any}: name it by --entry")
}

/// The answer in one sentence.
pub(super) fn headline(report: &Report) -> String {
    let weight = match (report.weight.selection, report.weight.platform) {
        (Some(kept), Some(whole)) => format!(": {} on disk instead of {}.", megabytes(kept), megabytes(whole)),
        (Some(kept), None) => format!(": {} on disk.", megabytes(kept)),
        (None, _) => "; what they weigh is not known.".into(),
    };
    let (kept, whole) = (report.list.len(), report.platform.modules);
    format!("Keep {kept} of the {whole} modules of Java {}{weight}", report.platform.release)
}

fn modules(report: &Report, page: &mut Page<'_>) -> io::Result<()> {
    let columns = widest(report.modules.iter().map(|row| row.name.as_str()), page.width().0 / 3);
    let chosen: Vec<&ModuleRow> = report.modules.iter().filter(|row| row.kept && row.root).collect();
    standings(&chosen, columns, page)?;
    let mut closure = report.modules.iter().filter(|row| row.kept && !row.root).peekable();
    if closure.peek().is_some() {
        page.gap()?;
        page.heading(Standing::Implied.tag(), meaning(Standing::Implied))?;
    }
    closure.try_for_each(|row| entry(row, columns, page))?;
    if report.modules.iter().all(|row| row.kept) {
        return Ok(());
    }
    page.gap()?;
    let says = " cut here: what follows is asked for and not kept ";
    let dashes = "- ".repeat(page.width().0.saturating_sub(says.len() + 3) / 4);
    page.line(0, Some(Ink::Faint), &format!("{dashes}-{says}- {dashes}"))?;
    let left = |row: &&ModuleRow| !row.kept && row.standing != Standing::Dormant;
    standings(&report.modules.iter().filter(left).collect::<Vec<_>>(), columns, page)?;
    let dormant = report.modules.iter().filter(|row| !row.kept && row.standing == Standing::Dormant);
    let names: Vec<&str> = dormant.map(|row| row.name.as_str()).collect();
    if names.is_empty() {
        return Ok(());
    }
    page.gap()?;
    let meaning = format!("{} named only by code that nothing reaches", count(names.len(), "module", "modules"));
    page.heading(Standing::Dormant.tag(), &meaning)?;
    page.paragraph(2, Some(Ink::Faint), &names.join(", "))
}

fn standings(modules: &[&ModuleRow], columns: usize, page: &mut Page<'_>) -> io::Result<()> {
    for standing in Standing::ALL {
        let mut rows = modules.iter().filter(|row| row.standing == standing).peekable();
        if rows.peek().is_some() {
            page.gap()?;
            page.heading(standing.tag(), meaning(standing))?;
        }
        rows.try_for_each(|row| entry(row, columns, page))?;
    }
    Ok(())
}

fn entry(row: &ModuleRow, columns: usize, page: &mut Page<'_>) -> io::Result<()> {
    let figure = row.weight.as_ref().map_or_else(|| "?".into(), |weight| megabytes(weight.total()));
    page.entry("", (&row.name, columns), &figure, &reason(row))
}

/// What a standing means, in the half sentence that fits beside it.
pub(super) fn meaning(standing: Standing) -> &'static str {
    match standing {
        Standing::Needed => "code asks for it and fails without it",
        Standing::Uncertain => "asked for only by name, by feature, or far behind a guard",
        Standing::Tolerated => "asked for only where the program bears its absence",
        Standing::Dormant => "named only by code that nothing reaches",
        Standing::Implied => "kept only because a module above requires it",
    }
}

/// What goes with a module is said where it is much.
fn reason(row: &ModuleRow) -> String {
    let own = row.weight.map_or(0, |weight| weight.total());
    match row.sole_bytes {
        Some(sole) if row.root && row.standing != Standing::Needed && sole > own + MUCH => {
            format!("frees {} if it goes; {}", megabytes(sole), row.reason)
        }
        _ => row.reason.clone(),
    }
}

fn launch(report: &Report, page: &mut Page<'_>) -> io::Result<()> {
    let mut asking = report.launch.iter().filter(|row| row.implies != "nothing").peekable();
    if asking.peek().is_some() {
        page.gap()?;
        let all = count(report.launch.len(), "option", "options");
        page.heading("options", &format!("those of the launch that ask for modules, of {all} given"))?;
    }
    for row in asking {
        let without = row.without.as_ref().map_or_else(String::new, |without| format!("; without: {without}"));
        let text = format!("{} ({}): {}{without}", row.option, row.from, row.modules.join(", "));
        page.hanging(&format!("  {}", row.implies), 10, None, &text)?;
    }
    if report.name_at_launch.is_empty() {
        return Ok(());
    }
    page.gap()?;
    page.heading("launch", "in the image, yet not resolved unless the launch names it as well; start with")?;
    page.verbatim(2, &format!("java --add-modules {}", report.name_at_launch.join(",")))
}

/// What the image could serve as well is a trade of bytes, so each purpose stands with them.
fn purposes(report: &Report, page: &mut Page<'_>) -> io::Result<()> {
    page.gap()?;
    page.heading("purposes", "what operators may want as well, and what it adds; --purpose NAME keeps it")?;
    let columns = widest(report.purposes.iter().map(|row| row.purpose), page.width().0 / 3);
    for row in &report.purposes {
        let figure = match row.bytes {
            _ if row.adds.is_empty() => "-".to_owned(),
            Some(bytes) => megabytes(bytes),
            None => "?".to_owned(),
        };
        let rest = match (row.chosen, row.adds.is_empty()) {
            (true, false) => format!("chosen; keeps {}", row.adds.join(", ")),
            (true, true) => "chosen; all of it is kept anyway".to_owned(),
            (false, false) => row.adds.join(", "),
            (false, true) => "the list has it already".to_owned(),
        };
        page.entry("", (row.purpose, columns), &figure, &rest)?;
    }
    Ok(())
}

fn opaque(report: &Report, page: &mut Page<'_>) -> io::Result<()> {
    if report.opaque.is_empty() {
        return Ok(());
    }
    page.gap()?;
    let meaning = "look-ups by names that the code does not show; what they find at run time is not in this list";
    page.heading("opaque", meaning)?;
    let short =
        |call: &str| call.rsplit('.').take(2).collect::<Vec<_>>().into_iter().rev().collect::<Vec<_>>().join(".");
    let shown: Vec<(String, &super::OpaqueRow)> =
        report.opaque.iter().take(SHOWN_OPAQUE).map(|row| (short(&row.call), row)).collect();
    let columns = widest(shown.iter().map(|(call, _)| call.as_str()), page.width().0 / 3);
    for (call, row) in &shown {
        let archive = row.archive.rsplit(['/', '\\']).next().unwrap_or(&row.archive);
        let rest = format!("{archive}, first in {}.{}", row.class, readable(&row.member));
        page.row("", (call, columns), &count(row.places, "place", "places"), &rest)?;
    }
    let rest = report.opaque.iter().skip(SHOWN_OPAQUE).map(|row| row.places).sum::<usize>() + report.opaque_omitted;
    if rest > 0 {
        page.paragraph(2, None, &format!("and {}; --format json has more", count(rest, "more place", "more places")))?;
    }
    Ok(())
}

fn missing(report: &Report, page: &mut Page<'_>) -> io::Result<()> {
    if !report.removed.is_empty() {
        page.gap()?;
        let release = report.platform.release;
        page.heading("gone", &format!("types that Java had and release {release} no longer has"))?;
    }
    let columns = widest(report.removed.iter().map(|row| row.class.as_str()), page.width().0 / 2);
    for row in report.removed.iter().take(SHOWN_TYPES) {
        let others = match row.askers {
            0 | 1 => String::new(),
            askers => format!(" and {}", count(askers - 1, "more class", "more classes")),
        };
        let rest = format!("{}, named by {}{others}", row.module, row.asker.rsplit('.').next().unwrap_or(&row.asker));
        page.row("", (&row.class, columns), &format!("until {}", row.removed_in.saturating_sub(1)), &rest)?;
    }
    more(report.removed.len().saturating_sub(SHOWN_TYPES), "more type", "more types", page)?;
    if !report.supplied.is_empty() {
        page.gap()?;
        let meaning =
            "types that the program brings itself; the platform's copies win while their module is in the image";
        page.heading("copies", meaning)?;
    }
    let columns = widest(report.supplied.iter().map(|row| row.module.as_str()), page.width().0 / 3);
    for row in &report.supplied {
        let wins =
            if row.kept { "the module is kept, so its copies win" } else { "the module is not kept, so these win" };
        page.row("", (&row.module, columns), &count(row.types, "type", "types"), wins)?;
    }
    if !report.missing.is_empty() {
        page.gap()?;
        page.heading(
            "nowhere",
            "types that are in no archive and not on the platform; no list of modules brings them",
        )?;
    }
    let columns = widest(report.missing.iter().map(|row| row.package.as_str()), page.width().0 / 3);
    for row in report.missing.iter().take(SHOWN_TYPES) {
        let rest = format!("{}, named by {}", row.example, row.asker);
        page.row("", (&row.package, columns), &count(row.types, "type", "types"), &rest)?;
    }
    let rest = report.missing.len().saturating_sub(SHOWN_TYPES) + report.missing_omitted;
    more(rest, "more package", "more packages", page)
}

fn more(rest: usize, one: &str, many: &str, page: &mut Page<'_>) -> io::Result<()> {
    if rest > 0 { page.paragraph(2, None, &format!("and {}", count(rest, one, many))) } else { Ok(()) }
}

fn findings(report: &Report, page: &mut Page<'_>) -> io::Result<()> {
    let mut codes: Vec<(&str, &str)> = Vec::new();
    for finding in &report.findings {
        if !codes.iter().any(|(_, code)| *code == finding.code) {
            codes.push((finding.severity, finding.code));
        }
    }
    if !codes.is_empty() {
        page.gap()?;
        page.heading("findings", "what stood out in the input; DEVELOPERS.md explains each code")?;
    }
    for (severity, code) in codes {
        let listed: Vec<&Finding> = report.findings.iter().filter(|finding| finding.code == code).collect();
        let omitted = report.findings_omitted.iter().find(|(omitted, _)| *omitted == code).map_or(0, |(_, n)| *n);
        let total = listed.len() + omitted;
        let ink = (severity == "incomplete").then_some(Ink::Alarm);
        page.line(2, ink, &format!("{code} ({severity}), {}", count(total, "time", "times")))?;
        if code == SHADOWED {
            shadowed(report, page)?;
            continue;
        }
        for finding in listed.iter().take(SHOWN_PER_CODE) {
            page.line(6, Some(Ink::Faint), &finding.place)?;
            page.paragraph(8, None, &finding.message)?;
        }
        if total > SHOWN_PER_CODE {
            page.paragraph(6, None, &format!("and {} more", grouped((total - SHOWN_PER_CODE) as u64)))?;
        }
    }
    Ok(())
}

/// A library that is there twice hides hundreds of classes: what counts is which archive hides them.
fn shadowed(report: &Report, page: &mut Page<'_>) -> io::Result<()> {
    for row in report.shadowed.iter().take(SHOWN_PER_CODE) {
        let text = match row.classes {
            1 => format!("the class {} of {} is never loaded, since {} comes first", row.example, row.archive, row.by),
            many => format!(
                "{} classes of {} are never loaded, since {} comes first; {} is one",
                grouped(many as u64),
                row.archive,
                row.by,
                row.example
            ),
        };
        page.hanging("      ", 8, None, &text)?;
    }
    match report.shadowed.len().saturating_sub(SHOWN_PER_CODE) {
        0 => Ok(()),
        more => page.paragraph(
            6,
            None,
            &format!("and of {}", count(more, "more pair of archives", "more pairs of archives")),
        ),
    }
}

fn cautions(report: &Report, page: &mut Page<'_>) -> io::Result<()> {
    if !report.cautions.is_empty() {
        page.gap()?;
        page.heading("mind", "before this goes anywhere")?;
    }
    report.cautions.iter().try_for_each(|caution| page.hanging("  *", 4, None, caution))
}

fn next_step(report: &Report, page: &mut Page<'_>) -> io::Result<()> {
    if report.has_read_nothing() {
        return Ok(());
    }
    page.gap()?;
    let release = report.platform.release;
    page.heading("next", &format!("link it with a JDK {release}, then run your own tests on runtime/bin/java"))?;
    page.verbatim(2, &format!("jlink --output runtime --add-modules {}", report.list.join(",")))
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::super::style::{Colour, Medium};
    use super::*;

    fn at(width: u16) -> String {
        let mut out = Vec::new();
        let style = Style::decide(Colour::Never, Some(width), Medium::default());
        render(&sample::report(), &style, &mut out).unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn the_first_line_after_the_alarm_is_the_verdict() {
        let text = at(200);
        let mut lines = text.lines();
        assert!(lines.next().unwrap().starts_with("Incomplete"));
        assert_eq!(lines.next(), Some("Keep 5 of the 70 modules of Java 17: 52.1 MB on disk instead of 168.3 MB."));
    }

    #[test]
    fn every_line_but_the_one_to_copy_keeps_to_the_columns() {
        use unicode_width::UnicodeWidthStr;
        for width in [60, 80, 120] {
            for line in at(width).lines().filter(|line| !line.contains("jlink --output")) {
                assert!(line.width() <= usize::from(width), "{width}: {line}");
            }
        }
    }

    #[test]
    fn every_module_and_every_standing_is_named() {
        let text = at(100);
        for row in sample::report().modules {
            assert!(text.contains(&row.name), "{}", row.name);
        }
        for standing in Standing::ALL {
            assert!(text.contains(&format!("{}: ", standing.tag())), "{standing:?}");
        }
    }

    #[test]
    fn nothing_of_the_input_acts_on_the_terminal() {
        let text = at(100);
        assert!(text.chars().all(|c| c == '\n' || !c.is_control()), "{text}");
        assert!(text.contains("\\u{1b}") && text.contains("\\u{202e}"));
    }

    #[test]
    fn colour_adds_sequences_and_changes_no_word() {
        let mut out = Vec::new();
        let style = Style::decide(Colour::Always, Some(100), Medium::default());
        render(&sample::report(), &style, &mut out).unwrap();
        let mut plain = String::new();
        let mut rest = std::str::from_utf8(&out).unwrap();
        while let Some((before, after)) = rest.split_once('\x1b') {
            plain.push_str(before);
            rest = after.split_once('m').unwrap().1;
        }
        plain.push_str(rest);
        assert!(out.contains(&0x1b));
        assert_eq!(plain, at(100));
    }
}

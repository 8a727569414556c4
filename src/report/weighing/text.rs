//! The answer of `weigh` for a person: what images come to, what to do about it, then where the bytes are.
//!
//! Prints a [`Weighing`] and computes nothing. The first function to read is [`render`].

use std::io::{self, Write};

use super::{CommandRow, Weighing};
use crate::report::layout::{count, megabytes, widest};
use crate::report::page::Page;
use crate::report::responsibility;
use crate::report::style::{Ink, Style};

/// Modules that the page shows; JSON has all.
const SHOWN_PARTS: usize = 15;
/// Uncertain modules.
const SHOWN_UNCERTAIN: usize = 10;

/// Commands that an operator may look for in production: what the JDK's tool specifications file under monitoring and
/// troubleshooting. JSON has all that are lacking.
const FOR_OPERATORS: [&str; 11] =
    ["jcmd", "jconsole", "jdb", "jfr", "jhsdb", "jinfo", "jmap", "jps", "jstack", "jstat", "keytool"];

/// Writes the whole page.
pub fn render(weighing: &Weighing, style: &Style, out: &mut dyn Write) -> io::Result<()> {
    let page = &mut Page::new(style, out);
    verdict(weighing, page)?;
    images(weighing, page)?;
    parts(weighing, page)?;
    uncertain(weighing, page)?;
    if let Some(responsibility) = &weighing.responsibility {
        responsibility::text::render(responsibility, page)?;
    }
    commands(weighing, page)?;
    cautions(weighing, page)
}

fn verdict(weighing: &Weighing, page: &mut Page<'_>) -> io::Result<()> {
    if weighing.report.as_ref().is_some_and(|report| !report.complete) {
        let text = "Incomplete: part of the input could not be read or judged, so the list may lack modules. `scan` says which part.";
        page.paragraph(0, Some(Ink::Alarm), text)?;
    }
    let modules = count(weighing.list.len(), "module", "modules");
    let text = match weighing.images.first() {
        Some(plain) => {
            let layer = plain.gzip.map(|gzip| format!(", {} to pull as a gzip layer", megabytes(gzip)));
            format!(
                "An image of {modules} of Java {} is {} on disk{}.",
                weighing.platform.release,
                megabytes(plain.on_disk),
                layer.unwrap_or_default()
            )
        }
        None => format!("What an image of {modules} of Java {} weighs is not known.", weighing.platform.release),
    };
    page.paragraph(0, Some(Ink::Verdict), &text)?;
    page.gap()?;
    let platform = &weighing.platform;
    let text = format!(
        "Java {}, because {}. Modules from the {}. Weights: {}.",
        platform.release, platform.reason, platform.source, weighing.basis
    );
    page.hanging("for", 7, None, &text)?;
    if let Some(doubt) = weighing.doubt {
        let by_others = match doubt.bytes {
            Some(bytes) => format!(
                "by those of Java {} the plain image is {}, and the truth may lie on either side",
                doubt.other,
                megabytes(bytes)
            ),
            None => format!(
                "those of Java {} lack some of these modules, so how wide the doubt is cannot be said",
                doubt.other
            ),
        };
        page.paragraph(
            7,
            None,
            &format!(
                "Nobody measured a JDK of this release. The figures are those of Java {}; {by_others}.",
                doubt.taken
            ),
        )?;
    }
    if !weighing.unknown.is_empty() {
        page.paragraph(7, None, &format!("Nothing is known of the bytes of {}.", weighing.unknown.join(", ")))?;
    }
    for remark in &weighing.remarks {
        page.paragraph(7, None, remark)?;
    }
    page.hanging("list", 7, None, &weighing.list.join(", "))
}

fn images(weighing: &Weighing, page: &mut Page<'_>) -> io::Result<()> {
    if weighing.images.is_empty() {
        return Ok(());
    }
    page.gap()?;
    let columns =
        widest(weighing.images.iter().map(|image| image.label.as_str()), page.width().0.saturating_sub(48).max(20));
    page.row("", ("linked with", columns), "on disk", &format!("{:>11}  {:>11}", "gzip layer", "zstd layer"))?;
    for image in &weighing.images {
        let layer = |bytes: Option<u64>| bytes.map_or_else(|| "?".into(), megabytes);
        let rest = format!("{:>11}  {:>11}", layer(image.gzip), layer(image.zstd));
        let about = if image.startup_archive.is_some() { "about" } else { "" };
        let rest = format!("{rest}  {about}");
        page.row(
            if image.given { ">" } else { "" },
            (&image.label, columns),
            &megabytes(image.on_disk),
            rest.trim_end(),
        )?;
    }
    page.gap()?;
    weighing.advice.iter().try_for_each(|sentence| page.hanging("-", 2, None, sentence))
}

fn parts(weighing: &Weighing, page: &mut Page<'_>) -> io::Result<()> {
    if weighing.parts.is_empty() {
        return Ok(());
    }
    page.gap()?;
    page.heading("where the bytes are", "in the plain image, by module")?;
    let shown = weighing.parts.get(..SHOWN_PARTS).unwrap_or(&weighing.parts);
    let columns = widest(shown.iter().map(|part| part.module.as_str()), page.width().0 / 3);
    page.row("", ("module", columns), "in all", &format!("{:>9}  {:>9}  {:>9}", "classes", "lib", "other"))?;
    for part in shown {
        let [classes, lib, other] = [part.weight.classes, part.weight.lib, part.weight.other].map(megabytes);
        page.row(
            "",
            (&part.module, columns),
            &megabytes(part.weight.total()),
            &format!("{classes:>9}  {lib:>9}  {other:>9}"),
        )?;
    }
    let left = weighing.parts.get(shown.len()..).unwrap_or_default();
    if !left.is_empty() {
        let bytes = left.iter().map(|part| part.weight.total()).sum();
        let more = count(left.len(), "smaller module", "smaller modules");
        page.row("", (&more, columns), &megabytes(bytes), "")?;
    }
    Ok(())
}

fn uncertain(weighing: &Weighing, page: &mut Page<'_>) -> io::Result<()> {
    // Who asks by archive is told of the same modules there, with what else would go.
    if weighing.uncertain.is_empty() || weighing.responsibility.is_some() {
        return Ok(());
    }
    page.gap()?;
    page.heading("doubt costs", "what the plain image would lose if this uncertain module alone were not kept")?;
    let shown = weighing.uncertain.get(..SHOWN_UNCERTAIN).unwrap_or(&weighing.uncertain);
    let columns = widest(shown.iter().map(|row| row.module.as_str()), page.width().0 / 3);
    for row in shown {
        let rest = if row.bytes == Some(0) { "others of the list require it" } else { "" };
        page.row("", (&row.module, columns), &row.bytes.map_or_else(|| "?".into(), megabytes), rest)?;
    }
    let left = weighing.uncertain.len() - shown.len();
    if left > 0 {
        page.paragraph(2, None, &format!("and {} that cost less", count(left, "more", "more")))?;
    }
    Ok(())
}

fn commands(weighing: &Weighing, page: &mut Page<'_>) -> io::Result<()> {
    if weighing.commands.is_empty() && weighing.commands_lacking.is_empty() {
        return Ok(());
    }
    page.gap()?;
    let names = |rows: &[CommandRow]| rows.iter().map(|row| row.command.as_str()).collect::<Vec<_>>().join(", ");
    let has = if weighing.commands.is_empty() { "none".to_owned() } else { names(&weighing.commands) };
    page.hanging("has", 7, None, &format!("the commands {has}"))?;
    let for_operators = weighing.commands_lacking.iter().filter(|row| FOR_OPERATORS.contains(&row.command.as_str()));
    let lacks: Vec<String> = for_operators.map(|row| format!("{} ({})", row.command, row.module)).collect();
    if !lacks.is_empty() {
        page.hanging("lacks", 7, Some(Ink::Faint), &lacks.join(", "))?;
    }
    Ok(())
}

fn cautions(weighing: &Weighing, page: &mut Page<'_>) -> io::Result<()> {
    page.gap()?;
    page.heading("mind", "what figures do not say")?;
    weighing.cautions.iter().try_for_each(|caution| page.hanging("-", 2, None, caution))
}

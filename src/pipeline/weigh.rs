//! The answer to `weigh`: a selection under the options that a linker has, put into rows and sentences.
//!
//! The first functions to read are [`program`] and [`modules`].

use std::collections::BTreeMap;

use super::assemble::{basis, module_weight, platform};
use super::{Analysis, assemble};
use crate::error::Error;
use crate::graph::ModuleGraph;
use crate::plan::{Plan, Weighed};
use crate::platform::{Catalogue, ModuleId, Section};
use crate::progress::{Progress, Stage};
use crate::report::layout::megabytes;
use crate::report::weighing::{CommandRow, Doubt, ImageRow, PartRow, UncertainRow, Weighing};
use crate::report::{PlatformRow, Report, Standing};
use crate::verdict;
use crate::weight::{Compression, Form, ImageBytes, ImageOptions, Scales};

/// What an image comes to under some options.
pub(super) struct Candidate {
    pub(super) label: &'static str,
    pub(super) options: ImageOptions,
    given: bool,
}

/// Weighs what a scan selects.
pub(super) fn program(
    plan: &Plan,
    wanted: &Weighed,
    analysis: Analysis,
    progress: &dyn Progress,
) -> Result<Weighing, Error> {
    let mut report = assemble::report(plan, &analysis);
    let Analysis { catalogue, selection, .. } = &analysis;
    let mut weighing = weigh(catalogue, &selection.modules, wanted, report.platform.clone(), progress)?;
    weighing.uncertain = uncertain(&report);
    weighing.responsibility = report.responsibility.take();
    weighing.report = Some(report);
    rayon::spawn(move || drop(analysis));
    Ok(weighing)
}

/// Weighs modules that the user names, closed under `requires`.
pub(super) fn modules(
    plan: &Plan,
    wanted: &Weighed,
    catalogue: &Catalogue,
    reason: &str,
    progress: &dyn Progress,
) -> Result<Weighing, Error> {
    let graph = ModuleGraph::new(catalogue);
    let mut roots = verdict::known(catalogue, &wanted.modules, "--modules")?;
    roots.extend(verdict::known(catalogue, &plan.with, "--with")?);
    let out = verdict::known(catalogue, &plan.without, "--without")?;
    let roots: Vec<ModuleId> = roots.difference(&out).copied().collect();
    let selection = graph.closure(&roots);
    if let Some(id) = out.iter().find(|id| selection.contains(id)) {
        let by: Vec<&str> = graph
            .required_by(*id)
            .into_iter()
            .filter(|by| selection.contains(by))
            .map(|by| catalogue.name(by))
            .collect();
        return Err(Error::Usage(format!("--without {}: {} requires it", catalogue.name(*id), by.join(", "))));
    }
    weigh(catalogue, &selection, wanted, platform(catalogue, reason), progress)
}

fn weigh(
    catalogue: &Catalogue,
    selection: &[ModuleId],
    wanted: &Weighed,
    platform: PlatformRow,
    progress: &dyn Progress,
) -> Result<Weighing, Error> {
    let given = wanted.link.as_deref().map(ImageOptions::parse).transpose();
    let given = given.map_err(|reason| Error::Usage(format!("--link: {reason}")))?;
    let forms: Vec<Form> = given.iter().map(|options| options.form).collect();
    progress.start(Stage::Weights, catalogue.modules.len() as u64);
    let (scales, remarks) = Scales::complete(catalogue, &forms, &|_, _| progress.advance(1))?;
    let total = scales.total(catalogue, selection.iter().copied());
    let name = |id: &ModuleId| catalogue.name(*id).to_owned();
    let mut weighing = Weighing {
        platform,
        list: selection.iter().map(name).collect(),
        basis: basis(&scales, catalogue),
        doubt: None,
        unknown: total.unknown.iter().map(name).collect(),
        images: Vec::new(),
        advice: Vec::new(),
        parts: parts(&scales, catalogue, selection),
        image_wide: 0,
        commands: Vec::new(),
        commands_lacking: Vec::new(),
        uncertain: Vec::new(),
        responsibility: None,
        remarks,
        cautions: cautions(),
        report: None,
    };
    (weighing.commands, weighing.commands_lacking) = commands(&scales, &weighing.list);
    let Some(bytes) = total.exact() else { return Ok(weighing) };
    let sum: u64 = weighing.parts.iter().map(|part| part.weight.total()).sum();
    weighing.image_wide = i64::try_from(bytes).unwrap_or(i64::MAX) - i64::try_from(sum).unwrap_or(i64::MAX);
    if let Some(others) = Scales::others(catalogue)? {
        weighing.doubt = others.figures().zip(scales.figures()).map(|(other, taken)| Doubt {
            taken: taken.release,
            other: other.release,
            bytes: others.total(catalogue, selection.iter().copied()).exact(),
        });
    }
    let mut found = images(&scales, catalogue, selection);
    if let Some(options) = given {
        let image = scales.image(catalogue, selection, &options).ok_or_else(|| {
            let said = wanted.link.as_deref().unwrap_or_default();
            Error::Usage(format!("--link {said}: what these options come to is not known for this platform"))
        })?;
        found.push((Candidate { label: "as you link it", options, given: true }, image));
    }
    weighing.advice = advice(&found, zip_levels(&scales));
    weighing.images = found.iter().map(|(candidate, image)| row(candidate, image, zip_levels(&scales))).collect();
    Ok(weighing)
}

pub(super) fn zip_levels(scales: &Scales) -> bool {
    scales.figures().is_some_and(|figures| figures.linker.zip_levels)
}

/// The image of a selection under the options that are weighed for everybody, as far as the figures know it.
pub(super) fn images(scales: &Scales, catalogue: &Catalogue, selection: &[ModuleId]) -> Vec<(Candidate, ImageBytes)> {
    let candidates = usual(zip_levels(scales)).into_iter();
    candidates
        .filter_map(|candidate| {
            let image = scales.image(catalogue, selection, &candidate.options)?;
            Some((candidate, image))
        })
        .collect()
}

/// The options that are weighed for everybody.
pub(super) fn usual(zip_levels: bool) -> Vec<Candidate> {
    let quiet = ImageOptions { no_headers: true, no_man_pages: true, ..ImageOptions::default() };
    let plain = ImageOptions::default();
    let form = |stripped, compression, rest: &ImageOptions| ImageOptions {
        form: Form::new(stripped, compression),
        ..rest.clone()
    };
    let none = Compression::None;
    let zip = Compression::Zip(6);
    let mut all = vec![
        ("no options", plain.clone()),
        ("no headers, no manual pages", quiet.clone()),
        ("no debug data", form(true, none, &plain)),
        ("no debug data, headers, manual pages", form(true, none, &quiet)),
        ("texts shared", form(false, Compression::SharedTexts, &plain)),
        (if zip_levels { "compressed (zip-6)" } else { "compressed (2)" }, form(false, zip, &plain)),
    ];
    if zip_levels {
        all.push(("compressed (zip-9)", form(false, Compression::Zip(9), &plain)));
    }
    all.push(("compressed, no debug data, headers, …", form(true, zip, &quiet)));
    all.push(("with startup archives", ImageOptions { startup_archive: true, ..plain }));
    all.into_iter().map(|(label, options)| Candidate { label, options, given: false }).collect()
}

fn row(candidate: &Candidate, image: &ImageBytes, zip_levels: bool) -> ImageRow {
    ImageRow {
        label: candidate.label.to_owned(),
        arguments: candidate.options.arguments(zip_levels),
        given: candidate.given,
        on_disk: image.total(),
        modules_file: image.modules_file,
        folders: image.sections.iter().map(|(section, bytes)| (folder(*section), *bytes)).collect(),
        startup_archive: image.startup_archive,
        gzip: image.layer.map(|layer| layer.gzip),
        zstd: image.layer.map(|layer| layer.zstd),
    }
}

fn folder(section: Section) -> &'static str {
    match section {
        Section::Classes => "classes",
        Section::Bin => "bin",
        Section::Conf => "conf",
        Section::Include => "include",
        Section::Legal => "legal",
        Section::Lib => "lib",
        Section::Man => "man",
    }
}

/// What the figures say: where disk and wire disagree, and what to link with.
pub(super) fn advice(found: &[(Candidate, ImageBytes)], zip_levels: bool) -> Vec<String> {
    let mut sentences = Vec::new();
    let Some((_, plain)) = found.first() else { return sentences };
    let of = |label: &str| found.iter().find(|(candidate, _)| candidate.label.starts_with(label));
    let gzip = |image: &ImageBytes| image.layer.map(|layer| layer.gzip);
    let pairs = found.iter().skip(1).filter(|(candidate, _)| candidate.options.form.compression != Compression::None);
    let worse = pairs.filter_map(|(candidate, image)| {
        let (with, without) = (gzip(image)?, gzip(plain)?);
        let disagree = image.total() < plain.total() && with > without && !candidate.options.form.stripped;
        disagree.then(|| (candidate, image, with - without))
    });
    if let Some((candidate, image, more)) = worse.max_by_key(|(.., more)| *more) {
        sentences.push(format!(
            "Smaller on disk, larger to pull: {} saves {} on disk and adds {} to the gzip layer, since a layer is compressed \
             as a whole anyway and what is compressed already does not compress again.",
            candidate.options.arguments(zip_levels).join(" "),
            megabytes(plain.total().saturating_sub(image.total())),
            megabytes(more),
        ));
    }
    if let (Some((quiet, image)), Some(without)) = (of("no headers"), gzip(plain)) {
        let saved = gzip(image).map_or(0, |with| without.saturating_sub(with));
        sentences.push(format!(
            "Recommended, since a running service uses neither header files nor manual pages: {} saves {} on disk, {} to pull.",
            quiet.options.arguments(zip_levels).join(" "),
            megabytes(plain.total().saturating_sub(image.total())),
            megabytes(saved),
        ));
    }
    let least = found
        .iter()
        .filter(|(candidate, image)| !candidate.given && image.startup_archive.is_none())
        .filter_map(|(candidate, image)| Some((candidate, image, gzip(image)?)))
        .min_by_key(|(.., gzip)| *gzip);
    if let Some((candidate, image, gzip)) = least.filter(|(candidate, ..)| candidate.options.form.stripped) {
        sentences.push(format!(
            "Least to pull: {} gives a gzip layer of {} ({} on disk); stack traces then show no line numbers for classes of \
             the platform, and debuggers no variables.",
            candidate.options.arguments(zip_levels).join(" "),
            megabytes(gzip),
            megabytes(image.total()),
        ));
    }
    if let Some((_, image)) = of("with startup")
        && let Some(bytes) = image.startup_archive
    {
        sentences.push(format!(
            "Startup archives add about {}, hardly depending on the modules; without them the JVM starts more slowly.",
            megabytes(bytes)
        ));
    }
    sentences
}

fn parts(scales: &Scales, catalogue: &Catalogue, selection: &[ModuleId]) -> Vec<PartRow> {
    let part = |&id: &ModuleId| {
        let weight = module_weight(scales, catalogue, id)?;
        Some(PartRow { module: catalogue.name(id).to_owned(), weight })
    };
    let mut parts: Vec<PartRow> = selection.iter().filter_map(part).collect();
    parts.sort_by_key(|part| std::cmp::Reverse(part.weight.total()));
    parts
}

/// Commands of the modules in the list, and those of all others.
fn commands(scales: &Scales, list: &[String]) -> (Vec<CommandRow>, Vec<CommandRow>) {
    let modules = scales.figures().into_iter().flat_map(|figures| &figures.modules);
    let all: BTreeMap<&str, &str> =
        modules.flat_map(|module| module.commands.iter().map(|command| (&**command, &*module.name))).collect();
    let row =
        |(command, module): (&&str, &&str)| CommandRow { command: (*command).to_owned(), module: (*module).to_owned() };
    let (has, lacks): (Vec<_>, Vec<_>) = all.iter().map(row).partition(|row| list.contains(&row.module));
    (has, lacks)
}

fn uncertain(report: &Report) -> Vec<UncertainRow> {
    let rows = report.modules.iter().filter(|row| row.standing == Standing::Uncertain && row.kept);
    let mut rows: Vec<UncertainRow> =
        rows.map(|row| UncertainRow { module: row.name.clone(), bytes: row.sole_bytes }).collect();
    rows.sort_by(|one, other| other.bytes.cmp(&one.bytes).then_with(|| one.module.cmp(&other.module)));
    rows
}

fn cautions() -> Vec<String> {
    [
        "Figures are lengths of files. A file system rounds up to blocks, and a registry may compress layers in another \
         way or at another level.",
        "Debug data that is gone is missed when something breaks at night; whether that is worth the bytes is yours to say.",
        "An image carries the legal notices of its modules. Whether you may drop or move them is for your own policy.",
        "Test the image that you ship: no figure shows that the service works on it.",
    ]
    .map(str::to_owned)
    .to_vec()
}

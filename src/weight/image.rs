//! The bytes of one image, by what they are for: arithmetic over figures, nothing is read.
//!
//! The first function to read is [`weigh`].

use std::collections::{BTreeMap, BTreeSet};

use super::figures::{Figures, Files, ModuleFigures, Shared, Startup, Stored};
use super::generated::Generated;
use super::measure::attribute;
use super::model::{Held, Packed, Packing};
use super::options::{Compression, Form, ImageOptions};
use super::{RESOURCE_HEADER, generated};
use crate::graph::ModuleGraph;
use crate::platform::{Catalogue, ModuleId, Section};

/// Header and end of `lib/modules`, the two roots of its trees with their names, and the padding of its tables.
const FRAME: u64 = 28 + 8 + 2 * (8 + 13) + 9 + 10 + 8 + 9 + 7 + 4;
/// From here on a place among the contents takes a fourth byte.
const FOUR_BYTES: u64 = 1 << 24;

/// Bytes of one image.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ImageBytes {
    /// `lib/modules`, the run-time image file.
    pub modules_file: u64,
    /// Everything else by folder: `bin`, `conf`, `include`, `legal`, `lib` without `lib/modules`, `man`.
    pub sections: BTreeMap<Section, u64>,
    /// The `release` file.
    pub release_file: u64,
    /// Startup archives, about: they are made by running the VM.
    pub startup_archive: Option<u64>,
    /// As a layer compressed by gzip at level 6 and by zstd at level 3, where that is known.
    pub layer: Option<Layer>,
}

/// Bytes of an image as one tar archive, compressed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Layer {
    /// At level 6.
    pub gzip: u64,
    /// At level 3.
    pub zstd: u64,
}

impl ImageBytes {
    /// All bytes on disk, as the sum of file lengths.
    pub fn total(&self) -> u64 {
        let outside: u64 = self.sections.values().sum();
        self.modules_file + outside + self.release_file + self.startup_archive.unwrap_or(0)
    }
}

/// Weighs the image of a selection that is sorted and closed under `requires`. `None` where the figures lack one of its modules or
/// the form that the options ask for.
pub(super) fn weigh(
    figures: &Figures,
    catalogue: &Catalogue,
    graph: &ModuleGraph,
    selection: &[ModuleId],
    options: &ImageOptions,
) -> Option<ImageBytes> {
    // Figures and catalogue have their modules in the order of names.
    let places: Vec<usize> = selection.iter().map(|id| figures.place(catalogue.name(*id))).collect::<Option<_>>()?;
    let modules: Vec<&ModuleFigures> = places.iter().filter_map(|place| figures.modules.get(*place)).collect();
    let generated = generated::classes(figures, catalogue, graph, selection);
    let file = modules_file(figures, generated, &places, &modules, options)?;
    let mut image = ImageBytes { modules_file: file.bytes, ..ImageBytes::default() };
    let mut layer = file.layer;
    for module in &modules {
        for (section, files) in module.files.iter().filter(|(section, _)| !options.leaves_out(**section)) {
            *image.sections.entry(*section).or_default() += files.bytes;
            add(&mut layer, files);
        }
    }
    let mut notices: BTreeSet<(&str, u32)> = BTreeSet::new();
    for notice in modules.iter().flat_map(|module| &module.notices) {
        if notices.insert((&notice.name, notice.content)) {
            *image.sections.entry(Section::Legal).or_default() += notice.files.bytes;
            add(&mut layer, &notice.files);
        }
    }
    if options.one_vm {
        let (before, after) = figures.linker.vm_list?;
        let lib = image.sections.get_mut(&Section::Lib)?;
        *lib = (*lib + after).checked_sub(before)?;
    }
    if options.startup_archive {
        let startup = startup(figures, &modules)?;
        image.startup_archive = Some(startup.bytes);
        add(&mut layer, &startup);
    }
    let names: u64 = modules.iter().map(|module| module.name.len() as u64).sum();
    image.release_file = release_file(&figures.version) + names + (modules.len() as u64).saturating_sub(1);
    image.layer = layer;
    Some(image)
}

/// Startup archives of these modules: between the least and the most, as their classes are.
fn startup(figures: &Figures, modules: &[&ModuleFigures]) -> Option<Files> {
    let Startup { least, most } = figures.startup?;
    let listed = listed(figures);
    let beyond_base = |module: &&&ModuleFigures| module.name != "java.base";
    let own = modules.iter().filter(beyond_base).map(|module| plain(module)).sum::<u64>().min(listed);
    let between = |least: u64, most: u64| least + most.saturating_sub(least) * own / listed;
    Some(Files {
        count: least.count,
        bytes: between(least.bytes, most.bytes),
        gzip: between(least.gzip, most.gzip),
        zstd: between(least.zstd, most.zstd),
    })
}

/// Bytes of the classes that can be on the list of a startup archive, without those of java.base; never 0.
pub(super) fn listed(figures: &Figures) -> u64 {
    let all: u64 = figures.modules.iter().filter(|module| module.name.starts_with("java.")).map(plain).sum();
    all.saturating_sub(figures.module("java.base").map_or(0, plain)).max(1)
}

/// Bytes of a module's classes and resources as they are.
pub(super) fn plain(module: &ModuleFigures) -> u64 {
    module.classes.get(&Form::PLAIN).map_or(0, |plain| plain.bytes)
}

/// The files of a module outside `lib/modules` that the options keep, without its legal notices.
pub(super) fn beside(module: &ModuleFigures, options: &ImageOptions) -> Packed {
    let mut packed = Packed { bytes: 0, layer: Some(Layer::default()) };
    for files in module.files.iter().filter(|(section, _)| !options.leaves_out(**section)).map(|(_, files)| files) {
        packed.bytes += files.bytes;
        add(&mut packed.layer, files);
    }
    packed
}

pub(super) fn add(layer: &mut Option<Layer>, files: &Files) {
    // Files that have bytes but no compressed ones were never measured.
    *layer = layer
        .filter(|_| files.gzip > 0 || files.count == 0)
        .map(|layer| Layer { gzip: layer.gzip + files.gzip, zstd: layer.zstd + files.zstd });
}

/// Two properties: the version, and the modules, whose names and the blanks between them are not counted here.
pub(super) fn release_file(version: &str) -> u64 {
    let version = if version.is_empty() { 0 } else { "JAVA_VERSION=\"\"\n".len() + version.len() };
    version as u64 + "MODULES=\"\"\n".len() as u64
}

struct ModulesFile {
    bytes: u64,
    layer: Option<Layer>,
}

/// A module's contents under some options, without the languages that these leave out; `None` where the form was not
/// measured.
pub(super) fn held(module: &ModuleFigures, options: &ImageOptions) -> Option<Held> {
    let form = options.form;
    let whole = Held { entries: module.entries, index: module.index, stored: *module.classes.get(&form)? };
    left_out(module, options).try_fold(whole, |held, locale| {
        Some(Held {
            entries: held.entries.checked_sub(locale.entries)?,
            index: held.index.checked_sub(locale.index)?,
            stored: without(held.stored, *locale.classes.get(&form)?)?,
        })
    })
}

fn modules_file(
    figures: &Figures,
    generated: Generated,
    places: &[usize],
    modules: &[&ModuleFigures],
    options: &ImageOptions,
) -> Option<ModulesFile> {
    let form = options.form;
    let all: Vec<Held> = modules.iter().map(|module| held(module, options)).collect::<Option<_>>()?;
    let written = packing(form.compression).of(generated.bytes, generated.entries);
    let mut index = FRAME + generated.index;
    let mut contents = written;
    let mut layer = Some(Layer::default());
    // The texts of all classes, and what they come to over the wire, where that is known of all.
    let (mut texts, mut packed_texts) = (0, Some(Layer::default()));
    // The names of the modules stand at the start of the string table: their places take one byte or two.
    let mut name_place = 7 + "java.base\0module-info\0".len() as u64;
    for (module, Held { entries, index: own_index, stored }) in modules.iter().zip(&all) {
        let name = if module.name == "java.base" { 7 } else { name_place };
        name_place += module.name.len() as u64 + 1;
        index += own_index + entries * attribute(name) + stored.sizes + stored.texts;
        index += entries * 4 + entries_behind(contents, stored.bytes, *entries);
        contents += stored.bytes;
        texts += stored.texts;
        packed_texts = sum(packed_texts, stored.texts_gzip, stored.texts_zstd);
        layer = sum(layer, stored.gzip, stored.zstd);
    }
    let names = if form.compression == Compression::SharedTexts {
        figures.shared_texts.get(&form)?
    } else {
        &figures.shared_names
    };
    let twice = shared(names, places);
    index = index.checked_sub(twice)?.checked_sub(shared(&figures.shared_packages, places))?;
    // What is in the table once though several modules have it counts as far as it stays.
    let table = texts.saturating_sub(twice);
    contents += far_places(&all, table);
    let (table, packed_table) = match packed_texts.filter(|_| texts > 0) {
        Some(packed) => (table, Layer { gzip: packed.gzip * table / texts, zstd: packed.zstd * table / texts }),
        None => (0, Layer::default()),
    };
    let layer = layer.filter(|_| figures.index.bytes > 0).map(|layer| {
        let packed = |of: u64| index.saturating_sub(table) * of / figures.index.bytes;
        Layer {
            gzip: layer.gzip + packed(figures.index.gzip) + packed_table.gzip + written / 3,
            zstd: layer.zstd + packed(figures.index.zstd) + packed_table.zstd + written / 3,
        }
    });
    Some(ModulesFile { bytes: index + contents, layer })
}

fn sum(layer: Option<Layer>, gzip: Option<u64>, zstd: Option<u64>) -> Option<Layer> {
    let layer = layer?;
    Some(Layer { gzip: layer.gzip + gzip?, zstd: layer.zstd + zstd? })
}

/// Texts that occur once stand at the end of the string table. As far as that lies behind 2 MiB, a place takes a byte
/// more than was counted.
fn far_places(all: &[Held], table: u64) -> u64 {
    const FAR: u64 = 2 << 20;
    let single: u64 = all.iter().map(|held| held.stored.single_texts).sum();
    let singles: u64 = all.iter().map(|held| held.stored.singles).sum();
    let behind = table.saturating_sub(FAR).min(single);
    (singles * behind).checked_div(single).unwrap_or(0)
}

/// How many of a module's entries have a place that takes a fourth byte, their sizes taken as alike.
fn entries_behind(start: u64, bytes: u64, entries: u64) -> u64 {
    let below = FOUR_BYTES.saturating_sub(start).min(bytes);
    entries - (entries * below).checked_div(bytes).unwrap_or(entries)
}

/// Bytes that were counted for several of the selected modules and are there once.
fn shared(sets: &[Shared], places: &[usize]) -> u64 {
    let mut bytes = 0;
    for set in sets {
        let members = set.modules.iter().filter(|module| places.binary_search(&usize::from(**module)).is_ok()).count();
        bytes += set.bytes * (members.saturating_sub(1)) as u64;
    }
    bytes
}

/// The languages that the options leave out of a module.
fn left_out<'m>(
    module: &'m ModuleFigures,
    options: &'m ImageOptions,
) -> impl Iterator<Item = &'m super::figures::Locale> {
    let kept = |language: &str| {
        options.locales.is_empty() || options.locales.iter().any(|tag| tag.split(['-', '_']).next() == Some(language))
    };
    module.locales.iter().filter(move |(language, _)| !kept(language)).map(|(_, locale)| locale)
}

fn without(all: Stored, less: Stored) -> Option<Stored> {
    let bytes = all.bytes.checked_sub(less.bytes)?;
    // What stays is taken to compress as the whole does.
    let part = |packed: u64| u64::try_from(u128::from(packed) * u128::from(bytes) / u128::from(all.bytes.max(1))).ok();
    let left = all.texts.checked_sub(less.texts)?;
    let text_part = |packed: u64| (packed * left).checked_div(all.texts.max(1));
    Some(Stored {
        bytes,
        sizes: all.sizes.checked_sub(less.sizes)?,
        texts: left,
        texts_gzip: all.texts_gzip.and_then(text_part),
        texts_zstd: all.texts_zstd.and_then(text_part),
        single_texts: all.single_texts.checked_sub(less.single_texts)?,
        singles: all.singles.checked_sub(less.singles)?,
        gzip: all.gzip.and_then(part),
        zstd: all.zstd.and_then(part),
    })
}

/// How the image holds generated classes: lists of calls and texts, which compress alike whatever the modules.
pub(super) fn packing(compression: Compression) -> Packing {
    let (percent, header) = match compression {
        Compression::None => (100, 0),
        Compression::SharedTexts => (72, RESOURCE_HEADER),
        Compression::Zip(0) => (100, RESOURCE_HEADER + 11),
        Compression::Zip(_) => (30, RESOURCE_HEADER),
    };
    Packing { percent, header }
}

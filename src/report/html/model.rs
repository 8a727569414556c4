//! The numbers that the page weighs choices by, as its data block has them: rows of numbers, since there are many.
//!
//! Part of the contract in `schema.json`, members `model` and `images` of document `page`. The first type to read is
//! [`Model`].

use serde::Serialize;

use crate::report::dossier::{Dossier, ImageOptionRow};
use crate::weight::model::{self, Files, Held, Packed, Shared};

/// Bytes, and places of modules.
type Together = Vec<u64>;
/// Bytes on disk, by gzip, by zstd.
type Three = [Option<u64>; 3];

#[derive(Serialize)]
pub(super) struct Model {
    modules: Vec<Option<Module>>,
    contents: Vec<Contents>,
    beside: Vec<Vec<Option<Three>>>,
    names: Vec<Together>,
    packages: Vec<Together>,
    notices: Vec<(Three, Vec<u16>)>,
    index: [u64; 3],
    generated: Generated,
    release_file_bytes: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    startup: Option<Startup>,
}

#[derive(Serialize)]
struct Module {
    description: u64,
    root: bool,
    main: bool,
    plain: u64,
}

#[derive(Serialize)]
struct Contents {
    modules: Vec<Option<Vec<Option<u64>>>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    texts: Option<Vec<Together>>,
    percent: u64,
    header: u64,
}

#[derive(Serialize)]
struct Generated {
    class: u64,
    map: u64,
    map_with_default: u64,
    map_with_main: u64,
}

#[derive(Serialize)]
struct Startup {
    listed: u64,
    least: [u64; 4],
    most: [u64; 4],
}

/// An image that the page shows, by places in the model.
#[derive(Serialize)]
pub(super) struct Image<'a> {
    label: &'a str,
    arguments: &'a [String],
    contents: usize,
    beside: usize,
    startup_archive: bool,
    more: i64,
}

/// The images that something is known of.
pub(super) fn images(dossier: &Dossier) -> Vec<Image<'_>> {
    let images = dossier.model.iter().flat_map(|model| &model.images);
    dossier.images.iter().zip(images).filter_map(|(row, image)| Some(Image::of(row, (*image)?))).collect()
}

impl<'a> Image<'a> {
    fn of(row: &'a ImageOptionRow, image: model::Image) -> Image<'a> {
        let ImageOptionRow { label, arguments } = row;
        let model::Image { contents, beside, startup_archive, more } = image;
        Image { label, arguments, contents, beside, startup_archive, more }
    }
}

impl Model {
    pub(super) fn of(model: &model::Model) -> Model {
        let module = |module: &model::Module| Module {
            description: module.description,
            root: module.is_root,
            main: module.has_main_class,
            plain: module.plain,
        };
        let beside = |rows: &Vec<Option<Packed>>| rows.iter().map(|row| row.map(three)).collect();
        let model::Generated { class, map, map_with_default, map_with_main } = model.generated;
        Model {
            modules: model.modules.iter().map(|row| row.as_ref().map(module)).collect(),
            contents: model.contents.iter().map(contents).collect(),
            beside: model.beside.iter().map(beside).collect(),
            names: together(&model.names),
            packages: together(&model.packages),
            notices: model.notices.iter().map(|(modules, files)| (three(*files), modules.clone())).collect(),
            index: [model.index.bytes, model.index.gzip, model.index.zstd],
            generated: Generated { class, map, map_with_default, map_with_main },
            release_file_bytes: model.release_file,
            startup: model.startup.map(|startup| Startup {
                listed: startup.listed,
                least: four(startup.least),
                most: four(startup.most),
            }),
        }
    }
}

fn contents(contents: &model::Contents) -> Contents {
    Contents {
        modules: contents.modules.iter().map(|row| row.map(|row| held(row, contents.texts.is_some()))).collect(),
        texts: contents.texts.as_deref().map(together),
        percent: contents.packing.percent,
        header: contents.packing.header,
    }
}

fn held(Held { entries, index, stored }: Held, with_texts: bool) -> Vec<Option<u64>> {
    let mut row = vec![Some(entries), Some(index), Some(stored.bytes), Some(stored.sizes), stored.gzip, stored.zstd];
    if with_texts {
        row.extend([Some(stored.texts), stored.texts_gzip, stored.texts_zstd]);
        row.extend([Some(stored.singles), Some(stored.single_texts)]);
    }
    row
}

fn together(sets: &[Shared]) -> Vec<Together> {
    let row = |set: &Shared| std::iter::once(set.bytes).chain(set.modules.iter().copied().map(u64::from)).collect();
    sets.iter().map(row).collect()
}

fn three(packed: Packed) -> Three {
    [Some(packed.bytes), packed.layer.map(|layer| layer.gzip), packed.layer.map(|layer| layer.zstd)]
}

fn four(files: Files) -> [u64; 4] {
    [files.count, files.bytes, files.gzip, files.zstd]
}

//! What it takes to weigh any selection of one platform's modules: numbers alone, for whoever has to do so without figures,
//! catalogue and graph at hand, as a page has.
//!
//! The type to read is [`Model`]. It holds what `image` and `generated` ask figures and catalogue for; the arithmetic is
//! theirs, and whoever weighs by a model follows them step by step.

use std::collections::BTreeMap;

use super::figures::{Figures, ModuleFigures};
use super::options::{Compression, ImageOptions};
use super::{generated, image};
use crate::platform::{Catalogue, ModuleId};

pub use super::figures::{Files, IndexWire, Shared, Stored};
pub use super::image::Layer;

/// Numbers to weigh images by. Modules are told by their places in the catalogue, which are those of [`ModuleId`].
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Model {
    /// Every module of the catalogue; `None` where the figures do not have it.
    pub modules: Vec<Option<Module>>,
    /// For each of the options asked for, in that order; `None` where the figures do not tell.
    pub images: Vec<Option<Image>>,
    /// Contents of `lib/modules`, as images have them.
    pub contents: Vec<Contents>,
    /// Files outside `lib/modules` by module, as images have them, without startup archives and legal notices.
    pub beside: Vec<Vec<Option<Packed>>>,
    /// Names that several modules have; bytes are counted in each, and an image has them once.
    pub names: Vec<Shared>,
    /// The same of folders of packages.
    pub packages: Vec<Shared>,
    /// Legal notices. An image with any of these modules has them once.
    pub notices: Vec<(Vec<u16>, Packed)>,
    /// How well the index of an image compresses.
    pub index: IndexWire,
    /// Sizes of the classes that the linker generates.
    pub generated: Generated,
    /// Bytes of the `release` file without the modules, of which it has the names with a blank between them.
    pub release_file: u64,
    /// Startup archives, where the figures have them.
    pub startup: Option<Startup>,
}

/// What is asked of a module whatever the image.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Module {
    /// Tenths of bytes that describe it in a class of the linker's.
    pub description: u64,
    /// Whether it is resolved without being named.
    pub is_root: bool,
    /// Whether it has a main class, which gives it a class in the image.
    pub has_main_class: bool,
    /// Bytes of its classes and resources as they are, which startup archives go by.
    pub plain: u64,
}

/// An image, by places in [`Model::contents`] and [`Model::beside`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Image {
    /// What is in `lib/modules`.
    pub contents: usize,
    /// What is outside.
    pub beside: usize,
    /// Whether it has startup archives.
    pub startup_archive: bool,
    /// Bytes that no module brings: the list of VMs is shorter where there is one.
    pub more: i64,
}

/// Contents of `lib/modules`, without the languages that an image leaves out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Contents {
    /// By module; `None` where that is not known.
    pub modules: Vec<Option<Held>>,
    /// In place of [`Model::names`] where classes share their texts: names and texts.
    pub texts: Option<Vec<Shared>>,
    /// How generated classes are held.
    pub packing: Packing,
}

/// One module's contents of `lib/modules`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Held {
    /// Classes and resources.
    pub entries: u64,
    /// Bytes of the index as [`ModuleFigures::index`] counts them.
    pub index: u64,
    /// Sums over classes and resources.
    pub stored: Stored,
}

/// Bytes on disk, and in layers where those are known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Packed {
    /// On disk.
    pub bytes: u64,
    /// Compressed.
    pub layer: Option<Layer>,
}

/// What generated classes come to in an image.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Packing {
    /// Of their bytes.
    pub percent: u64,
    /// Bytes for each of them beside that.
    pub header: u64,
}

impl Packing {
    pub(super) fn of(self, bytes: u64, entries: u64) -> u64 {
        bytes * self.percent / 100 + self.header * entries
    }
}

/// Sizes of generated classes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Generated {
    /// Tenths of bytes of a class that describes modules, without any module.
    pub class: u64,
    /// Bytes of the map.
    pub map: u64,
    /// What it has more with a class for what is resolved by default.
    pub map_with_default: u64,
    /// What it has more for each module with a main class.
    pub map_with_main: u64,
}

/// Startup archives lie between the least and the most as the classes beyond java.base lie between none and `listed`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Startup {
    /// Bytes of classes beyond java.base from which on nothing is added.
    pub listed: u64,
    /// Of java.base alone.
    pub least: Files,
    /// Of all.
    pub most: Files,
}

impl Model {
    pub(super) fn new(figures: &Figures, catalogue: &Catalogue, options: &[ImageOptions]) -> Model {
        // Figures and catalogue have their modules in the order of names.
        let places: Vec<Option<u16>> =
            figures.modules.iter().map(|module| catalogue.module(&module.name).map(|ModuleId(place)| place)).collect();
        let of: Vec<Option<&ModuleFigures>> =
            catalogue.modules.iter().map(|module| figures.module(&module.name)).collect();
        let modules = catalogue.modules.iter().zip(&of).map(|(module, figures)| {
            figures.map(|figures| Module {
                description: generated::description(module),
                is_root: generated::is_root(module),
                has_main_class: figures.has_main_class,
                plain: image::plain(figures),
            })
        });
        let mut model = Model {
            modules: modules.collect(),
            names: known(&figures.shared_names, &places),
            packages: known(&figures.shared_packages, &places),
            notices: notices(&of),
            index: figures.index,
            generated: generated::SIZES,
            release_file: image::release_file(&figures.version),
            startup: figures.startup.map(|startup| Startup {
                listed: image::listed(figures),
                least: startup.least,
                most: startup.most,
            }),
            ..Model::default()
        };
        model.images = options.iter().map(|options| model.image(figures, &of, &places, options)).collect();
        model
    }

    /// One image; what it has in common with those before it is there already.
    fn image(
        &mut self,
        figures: &Figures,
        of: &[Option<&ModuleFigures>],
        places: &[Option<u16>],
        options: &ImageOptions,
    ) -> Option<Image> {
        let contents = Contents {
            modules: of.iter().map(|module| image::held((*module)?, options)).collect(),
            texts: match options.form.compression {
                Compression::SharedTexts => Some(known(figures.shared_texts.get(&options.form)?, places)),
                Compression::None | Compression::Zip(_) => None,
            },
            packing: image::packing(options.form.compression),
        };
        if contents.modules.iter().all(Option::is_none) || options.startup_archive && self.startup.is_none() {
            return None;
        }
        let more = match figures.linker.vm_list.filter(|_| options.one_vm) {
            Some((before, after)) => i64::try_from(after).ok()? - i64::try_from(before).ok()?,
            None if options.one_vm => return None,
            None => 0,
        };
        let beside = of.iter().map(|module| module.map(|module| image::beside(module, options))).collect();
        Some(Image {
            contents: place(&mut self.contents, contents),
            beside: place(&mut self.beside, beside),
            startup_archive: options.startup_archive,
            more,
        })
    }
}

/// Where a value stands among others, at the end if it is new.
fn place<T: PartialEq>(all: &mut Vec<T>, value: T) -> usize {
    all.iter().position(|other| *other == value).unwrap_or_else(|| {
        all.push(value);
        all.len() - 1
    })
}

/// Sets as far as the catalogue has their modules. One module shares nothing; sets of the same modules are one.
fn known(sets: &[Shared], places: &[Option<u16>]) -> Vec<Shared> {
    let mut all: BTreeMap<Vec<u16>, u64> = BTreeMap::new();
    for set in sets {
        let place = |module: &u16| places.get(usize::from(*module)).copied().flatten();
        let modules: Vec<u16> = set.modules.iter().filter_map(place).collect();
        if modules.len() > 1 {
            *all.entry(modules).or_default() += set.bytes;
        }
    }
    all.into_iter().map(|(modules, bytes)| Shared { modules, bytes }).collect()
}

/// Legal notices by the modules that have them. Notices of equal contents are as long when compressed.
fn notices(of: &[Option<&ModuleFigures>]) -> Vec<(Vec<u16>, Packed)> {
    let mut owners: BTreeMap<(&str, u32), (Vec<u16>, Files)> = BTreeMap::new();
    for (place, module) in (0..).zip(of) {
        for notice in module.iter().flat_map(|module| &module.notices) {
            let (modules, _) =
                owners.entry((&notice.name, notice.content)).or_insert_with(|| (Vec::new(), notice.files));
            if modules.last() != Some(&place) {
                modules.push(place);
            }
        }
    }
    let mut all: BTreeMap<Vec<u16>, Packed> = BTreeMap::new();
    for (modules, files) in owners.into_values() {
        let packed = all.entry(modules).or_insert(Packed { bytes: 0, layer: Some(Layer::default()) });
        packed.bytes += files.bytes;
        image::add(&mut packed.layer, &files);
    }
    all.into_iter().collect()
}

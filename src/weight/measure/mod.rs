//! Measuring a JDK: every class read once, rewritten and compressed as its linker would.
//!
//! The first function to read is [`plain`], which needs no contents and takes milliseconds; [`extend`] adds the forms
//! that do.

mod contents;
mod files;
mod locales;
mod names;
mod squeeze;
mod texts;

#[cfg(feature = "catalogue")]
pub(super) use files::startup_of;
pub(super) use names::attribute;

use std::borrow::Cow;
use std::collections::BTreeMap;

use rayon::prelude::*;

use super::figures::{Figures, IndexWire, Linker, ModuleFigures, Stored};
use super::options::{Compression, Form};
use super::rewrite::PoolAfter;
use crate::classfile::module_descriptor;
use crate::error::Error;
use crate::platform::jimage::Image;
use crate::platform::{Catalogue, Module, ModuleFile, Section, Source};
use contents::{Content, Job};
use names::Index;
use texts::Texts;

const BASE: &str = "java.base";
/// The classes that the linker writes anew for each image (see [`super::generated`]).
const DESCRIBED: &str = "jdk/internal/module/SystemModules$";
const MAP: &str = "jdk/internal/module/SystemModulesMap.class";
/// The older class file library, which writes pools anew; later linkers cannot reach it.
const OLDER_LIBRARY: &str = "jdk/internal/org/objectweb/asm";
/// From this release on the linker takes a level for zlib (JDK-8293667).
const ZIP_LEVELS_SINCE: u16 = 21;

/// The forms that are measured unless others are asked for.
pub(super) const USUAL: [Form; 4] = [
    Form::PLAIN,
    Form::new(true, Compression::None),
    Form::new(false, Compression::Zip(6)),
    Form::new(true, Compression::Zip(6)),
];

/// The modules of a JDK with their files: classes and resources apart.
struct Holdings<'a> {
    linker: Linker,
    contents: Vec<Vec<Content<'a>>>,
    files: Vec<Vec<ModuleFile<'a>>>,
}

impl<'a> Holdings<'a> {
    /// `None` where nothing tells which file belongs to which module. `own` is the JDK's own image, from which come the
    /// classes that the linker adds to java.base whatever the modules are.
    fn read(catalogue: &'a Catalogue, own: Option<&'a Image>) -> Result<Option<Holdings<'a>>, Error> {
        let Some(modules) = catalogue.files()? else { return Ok(None) };
        let mut holdings = Holdings { linker: linker(catalogue), contents: Vec::new(), files: Vec::new() };
        for (module, files) in catalogue.modules.iter().zip(modules) {
            let (classes, beside): (Vec<_>, Vec<_>) =
                files.into_iter().partition(|file| file.section == Section::Classes);
            let content = |file: ModuleFile<'a>| Content { path: file.path.clone(), file, made_by_linker: false };
            let mut contents: Vec<Content<'a>> = classes.into_iter().map(content).collect();
            if &*module.name == BASE {
                contents.retain(|content| !content.path.starts_with(DESCRIBED) && content.path != MAP);
                if let Some(own) = own.filter(|_| holdings.linker.packaged) {
                    add_linked(&mut contents, own);
                }
            }
            holdings.contents.push(contents);
            holdings.files.push(beside);
        }
        Ok(Some(holdings))
    }

    fn indices(&self, catalogue: &Catalogue) -> Vec<Index> {
        let of = |(module, contents): (&Module, &Vec<Content<'_>>)| {
            names::index(&module.name, contents.iter().map(|content| &*content.path), &*module.name == BASE)
        };
        catalogue.modules.iter().zip(&self.contents).map(of).collect()
    }
}

/// The ways of the linker of this JDK.
fn linker(catalogue: &Catalogue) -> Linker {
    let base = catalogue.module(BASE).and_then(|id| catalogue.modules.get(usize::from(id.0)));
    let reaches_older = base.is_some_and(|base| {
        let mut exports = base.exports.iter();
        exports.any(|export| &*export.package == OLDER_LIBRARY && export.to.iter().any(|to| &**to == "jdk.jlink"))
    });
    Linker {
        packaged: !catalogue.is_linked_from_image(),
        fresh_pool: reaches_older,
        zip_levels: catalogue.release >= ZIP_LEVELS_SINCE,
        vm_list: None,
    }
}

/// Takes from the JDK's own image the classes of java.base that differ from the packaged ones: forms of method handles
/// that the linker writes into each image alike.
fn add_linked<'a>(contents: &mut Vec<Content<'a>>, own: &'a Image) {
    let mut places: BTreeMap<Cow<'a, str>, usize> =
        contents.iter().enumerate().map(|(place, content)| (content.path.clone(), place)).collect();
    for file in ModuleFile::classes_of(own, BASE) {
        let path = file.path.clone();
        if path.starts_with(DESCRIBED) || path == MAP {
            continue;
        }
        let place = places.remove(&path);
        let differs = place.and_then(|place| contents.get(place)).is_none_or(|content| content.file.size != file.size);
        if differs {
            let content = Content { path, file, made_by_linker: true };
            match place.and_then(|place| contents.get_mut(place)) {
                Some(slot) => *slot = content,
                None => contents.push(content),
            }
        }
    }
}

/// The figures that need no contents: plain images, to the byte. The error names the JDK.
pub(super) fn plain(catalogue: &Catalogue) -> Result<Option<Figures>, Error> {
    let own = catalogue.own_image();
    let Some(holdings) = Holdings::read(catalogue, own.as_ref())? else { return Ok(None) };
    let indices = holdings.indices(catalogue);
    let notices = files::Contents::default();
    let mut figures = Figures {
        release: catalogue.release,
        version: String::new(),
        modules: Vec::with_capacity(indices.len()),
        shared_names: names::shared_names(&indices),
        shared_packages: names::shared_packages(&indices),
        shared_texts: BTreeMap::new(),
        index: IndexWire { bytes: 0, gzip: 0, zstd: 0 },
        linker: holdings.linker,
        startup: files::own_startup(catalogue),
    };
    let modules = catalogue.modules.iter().zip(&holdings.contents).zip(&holdings.files).zip(&indices);
    for (((module, contents), files), index) in modules {
        let fault = |reason: String| unreadable(catalogue, &module.name, &reason);
        let mut plain = Stored::default();
        for content in contents {
            plain.bytes += content.file.size;
            plain.sizes += attribute(content.file.size);
        }
        let info = contents.iter().find(|content| content.path == "module-info.class");
        let info = info.ok_or_else(|| fault("it has no module-info.class".into()))?.file.read().map_err(fault)?;
        let described = module_descriptor(&info).map_err(|error| fault(error.to_string()))?;
        if &*module.name == BASE {
            figures.version = described.version.map(Into::into).unwrap_or_default();
            figures.linker.vm_list = files::vm_list(files).map_err(fault)?;
        }
        figures.modules.push(ModuleFigures {
            name: (*module.name).to_owned(),
            entries: contents.len() as u64,
            index: index.bytes,
            classes: BTreeMap::from([(Form::PLAIN, plain)]),
            files: files::sections(files),
            notices: notices.of(files).map_err(fault)?,
            commands: files::commands(&module.name, files),
            has_main_class: described.main_class.is_some(),
            locales: BTreeMap::new(),
        });
    }
    Ok(Some(figures))
}

/// Adds the forms that the figures lack, the way of everything over the wire, and the languages of locale data.
/// `estimates`: whether gzip's lengths may be worked out from a sample.
pub(super) fn extend(
    figures: &mut Figures,
    catalogue: &Catalogue,
    forms: &[Form],
    estimates: bool,
    done: &(dyn Fn(usize, usize) + Sync),
) -> Result<(), Error> {
    let own = catalogue.own_image();
    let Some(holdings) = Holdings::read(catalogue, own.as_ref())? else { return Ok(()) };
    let indices = holdings.indices(catalogue);
    let base = catalogue.module(BASE).map_or(0, |id| usize::from(id.0));
    let pool = if figures.linker.fresh_pool { PoolAfter::Fresh } else { PoolAfter::Kept };
    let lengths_known = holdings.contents.get(base).is_some_and(|contents| contents::lengths_agree(contents));
    let job = Job { forms: forms.to_vec(), wire: forms.to_vec(), estimates, pool, lengths_known };
    let io = |error: std::io::Error| unreadable(catalogue, "lib/modules", &error.to_string());
    if figures.index.bytes == 0
        && let Some(own) = &own
    {
        figures.index = files::index_wire(own.index()).map_err(io)?;
    }
    let finished = std::sync::atomic::AtomicUsize::new(0);
    let all = holdings.contents.len();
    let measured: Vec<_> = figures
        .modules
        .par_iter()
        .zip(&holdings.contents)
        .zip(&holdings.files)
        .map(|((module, contents), files)| {
            let fault = |reason: String| unreadable(catalogue, &module.name, &reason);
            let sums = contents::sums(contents, &job).map_err(fault)?;
            let languages = locales::by_language(&module.name, contents, &job).map_err(fault)?;
            let wires = files::wires(files).map_err(fault)?;
            let before = finished.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
            done(before + 1, all);
            Ok((sums, languages, wires))
        })
        .collect::<Result<Vec<_>, Error>>()?;
    for (module, (sums, languages, wires)) in figures.modules.iter_mut().zip(measured) {
        module.classes.extend(sums);
        for (language, locale) in languages {
            module.locales.entry(language).or_default().add(locale);
        }
        wires.give_to(module);
    }
    for form in forms.iter().filter(|form| form.compression == Compression::SharedTexts) {
        share_texts(figures, catalogue, &holdings, &indices, *form, &job)?;
    }
    Ok(())
}

fn share_texts(
    figures: &mut Figures,
    catalogue: &Catalogue,
    holdings: &Holdings<'_>,
    indices: &[Index],
    form: Form,
    job: &Job,
) -> Result<(), Error> {
    let base = catalogue.module(BASE).map_or(0, |id| usize::from(id.0));
    let fault = |place: usize, reason: String| {
        let name = catalogue.modules.get(place).map_or("", |module| &module.name);
        unreadable(catalogue, name, &reason)
    };
    let counted = |(place, contents): (usize, &Vec<Content<'_>>)| {
        Texts::count(contents, job).map_err(|reason| fault(place, reason))
    };
    let modules: Vec<Texts> = holdings.contents.par_iter().enumerate().map(counted).collect::<Result<_, Error>>()?;
    let (Some(of_base), Some(base_names)) = (modules.get(base), indices.get(base)) else { return Ok(()) };
    let places = holdings.contents.par_iter().zip(&modules).zip(indices).enumerate();
    let (sums, tables): (Vec<Stored>, Vec<Texts>) = places
        .map(|(place, ((contents, texts), names))| {
            let below = (place != base).then_some(of_base);
            let sums = texts.sums(contents, form.stripped, job, below, [names, base_names]);
            sums.map_err(|reason| fault(place, reason))
        })
        .collect::<Result<Vec<_>, Error>>()?
        .into_iter()
        .unzip();
    figures.shared_texts.insert(form, texts::shared(&tables, indices, base));
    for (module, sum) in figures.modules.iter_mut().zip(sums) {
        module.classes.insert(form, sum);
    }
    Ok(())
}

fn unreadable(catalogue: &Catalogue, module: &str, reason: &str) -> Error {
    let path = match &catalogue.source {
        Source::Jdk { home, .. } => home.clone(),
        Source::BuiltIn => std::path::PathBuf::new(),
    };
    Error::Jdk { path, reason: format!("{module}: {reason}") }
}

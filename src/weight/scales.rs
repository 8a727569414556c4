//! The figures of the platform that a run judges for, and what its modules weigh by them.
//!
//! The first function to read is [`Scales::of`].

use std::borrow::Cow;
use std::collections::BTreeSet;

use super::cache::Found;
use super::figures::Figures;
use super::image::{self, ImageBytes};
use super::model::Model;
use super::options::{Form, ImageOptions};
use super::{Total, Weight, built_in, cache, generated, measure};
use crate::error::Error;
use crate::graph::ModuleGraph;
use crate::platform::{Catalogue, ModuleId, Section, Source};

/// Weighs modules of one catalogue, which is handed to it again with each question.
pub struct Scales {
    figures: Option<Cow<'static, Figures>>,
    /// Of the same catalogue: the linker resolves modules as the JVM does.
    graph: ModuleGraph,
}

impl Scales {
    fn new(catalogue: &Catalogue, figures: Option<Cow<'static, Figures>>) -> Scales {
        Scales { figures, graph: ModuleGraph::new(catalogue) }
    }

    /// The scales for a catalogue: figures of the JDK where it was read from one, else those built in for the release,
    /// or for the nearer of the two releases that there are figures for.
    ///
    /// [`Error::Jdk`] where a file of the JDK cannot be read.
    pub fn of(catalogue: &Catalogue) -> Result<Scales, Error> {
        let figures = match catalogue.source {
            Source::BuiltIn => Some(Cow::Borrowed(built_in::nearest(catalogue.release)?)),
            // What was measured in full once knows more, and is as good for what is asked here.
            Source::Jdk { ref home, .. } => match cache::find(home).1 {
                Found::Figures(figures) => Some(Cow::Owned(*figures)),
                Found::Nothing | Found::Damaged(_) => measure::plain(catalogue)?.map(Cow::Owned),
            },
        };
        Ok(Scales::new(catalogue, figures))
    }

    /// The scales for a catalogue, which know contents in these forms as well, and everything over the wire.
    ///
    /// For a JDK they are measured, which takes about as long as linking it, or taken from the user's cache. `done` is
    /// told how many modules of how many are through. The second value are remarks about the cache, as sentences: without
    /// it everything is measured again the next time, and the answer is the same.
    pub fn complete(
        catalogue: &Catalogue,
        forms: &[Form],
        done: &(dyn Fn(usize, usize) + Sync),
    ) -> Result<(Scales, Vec<String>), Error> {
        let Source::Jdk { home, .. } = &catalogue.source else { return Ok((Scales::of(catalogue)?, Vec::new())) };
        let mut remarks = Vec::new();
        let (file, found) = cache::find(home);
        if let Found::Damaged(reason) = &found {
            remarks.push(format!("figures kept from an earlier run cannot be used and are measured anew: {reason}"));
        }
        let figures = match found {
            Found::Figures(figures) => Some(*figures),
            Found::Nothing | Found::Damaged(_) => measure::plain(catalogue)?,
        };
        let Some(mut figures) = figures else { return Ok((Scales::new(catalogue, None), remarks)) };
        let mut missing: Vec<Form> = measure::USUAL.iter().chain(forms).copied().collect();
        missing.sort_unstable();
        missing.dedup();
        missing.retain(|form| !figures.measured(*form));
        if !missing.is_empty() {
            measure::extend(&mut figures, catalogue, &missing, true, done)?;
            if let Some(Err(reason)) = file.map(|file| cache::store(&file, &figures)) {
                remarks.push(format!("figures cannot be kept for the next run: {reason}"));
            }
        }
        Ok((Scales::new(catalogue, Some(Cow::Owned(figures))), remarks))
    }

    /// The figures of another release, for telling how wide the doubt is where a release has none of its own.
    pub fn others(catalogue: &Catalogue) -> Result<Option<Scales>, Error> {
        let has_own = matches!(catalogue.source, Source::Jdk { .. });
        let other = if has_own { None } else { built_in::next_nearest(catalogue.release)? };
        Ok(other.map(|figures| Scales::new(catalogue, Some(Cow::Borrowed(figures)))))
    }

    /// The figures themselves, where there are any.
    pub fn figures(&self) -> Option<&Figures> {
        self.figures.as_deref()
    }

    /// Bytes of one module by where they end up, in an image that neither compresses nor strips: its contents, its part
    /// of the index, its files; legal notices that java.base has too are links and weigh nothing.
    pub fn module(&self, catalogue: &Catalogue, id: ModuleId) -> Option<Weight> {
        let figures = self.figures()?;
        let module = figures.module(catalogue.name(id))?;
        let plain = module.classes.get(&Form::PLAIN)?;
        let beside = |section: &Section| module.files.get(section).map_or(0, |files| files.bytes);
        let other: u64 = [Section::Bin, Section::Conf, Section::Include, Section::Man].iter().map(beside).sum();
        Some(Weight {
            classes: plain.bytes + module.index_with(plain) + generated::of_module(catalogue, id),
            lib: beside(&Section::Lib),
            other: other + figures.own_notices(module).map(|notice| notice.files.bytes).sum::<u64>(),
        })
    }

    /// Bytes of an image of these modules, which must be sorted and closed under `requires`, as the linker makes it when no
    /// option is given.
    pub fn total(&self, catalogue: &Catalogue, selected: impl IntoIterator<Item = ModuleId>) -> Total {
        let mut known = Vec::new();
        let mut unknown = Vec::new();
        let is_known = |id| self.figures().is_some_and(|figures| figures.module(catalogue.name(id)).is_some());
        for id in selected {
            if is_known(id) { known.push(id) } else { unknown.push(id) }
        }
        let image = self.image(catalogue, &known, &ImageOptions::default());
        Total { bytes: image.map_or(0, |image| image.total()), unknown }
    }

    /// Bytes that go from an image when some of its modules go: both lists closed under `requires`.
    pub fn freed(&self, catalogue: &Catalogue, selected: &[ModuleId], gone: &BTreeSet<ModuleId>) -> Option<u64> {
        let rest = selected.iter().copied().filter(|id| !gone.contains(id));
        let (with, without) =
            (self.total(catalogue, selected.iter().copied()).exact()?, self.total(catalogue, rest).exact()?);
        with.checked_sub(without)
    }

    /// Bytes of an image of these modules, sorted and closed as above, with these options; `None` where the figures do not
    /// tell.
    pub fn image(&self, catalogue: &Catalogue, selection: &[ModuleId], options: &ImageOptions) -> Option<ImageBytes> {
        image::weigh(self.figures()?, catalogue, &self.graph, selection, options)
    }

    /// What it takes to weigh images of any modules under these options elsewhere; `None` where there are no figures.
    pub fn model(&self, catalogue: &Catalogue, options: &[ImageOptions]) -> Option<Model> {
        Some(Model::new(self.figures()?, catalogue, options))
    }
}

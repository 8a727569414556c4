//! Bytes of a run-time image before it is built, to the byte where that can be: on disk and over the wire.
//!
//! The first type to read is [`Scales`]: it has the figures of one platform and weighs selections of its modules by
//! arithmetic alone. Figures are measured on a JDK (`measure`), where every class may be rewritten and compressed as the
//! linker would do it, or are built in; nothing here is guessed where a size is not known. [`Model`] is for whoever weighs
//! without them.
//!
//! An image is a plain sum but for these: `lib/modules` has an index and trees in which names that several modules have
//! stand once (`image`); legal notices that are equal become links; and the linker adds classes that describe the modules
//! at hand (`generated`). Sources: JEP 220, JEP 261, JEP 493 and the linker's own behaviour, held to in
//! `tests/weight.rs` and `scripts/weights`.

mod arguments;
mod built_in;
mod cache;
mod figures;
mod generated;
mod image;
mod measure;
pub mod model;
mod options;
mod rewrite;
mod scales;

use crate::platform::ModuleId;

pub use figures::{Figures, ModuleFigures};
pub use image::{ImageBytes, Layer};
pub use model::Model;
pub use options::{Compression, Form, ImageOptions};
pub use scales::Scales;

/// Opens a compressed resource: magic, two sizes, name of the compressor, configuration, end (`CompressedResourceHeader`).
const RESOURCE_HEADER: u64 = 29;

/// Bytes of one module by where they end up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Weight {
    /// Classes and resources with their part of the index, within the run-time image file.
    pub classes: u64,
    /// Native libraries and data files.
    pub lib: u64,
    /// Commands, configuration, headers, legal notices and manual pages.
    pub other: u64,
}

impl Weight {
    /// All bytes.
    pub fn total(self) -> u64 {
        self.classes + self.lib + self.other
    }
}

/// Bytes of an image, and which modules could not be weighed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Total {
    /// Bytes of an image of the modules whose size is known.
    pub bytes: u64,
    /// Modules whose size is not known, in the order given.
    pub unknown: Vec<ModuleId>,
}

impl Total {
    /// The sum, where every module is known.
    pub fn exact(&self) -> Option<u64> {
        self.unknown.is_empty().then_some(self.bytes)
    }
}

/// Measures a JDK in all forms that its linker offers, as JSON for [`built_in`].
#[cfg(feature = "catalogue")]
#[doc(hidden)]
pub fn generate(home: &std::path::Path) -> Result<(u16, String), String> {
    let catalogue = crate::platform::Catalogue::of_jdk(home).map_err(|error| error.to_string())?;
    let plain = measure::plain(&catalogue).map_err(|error| error.to_string())?;
    let mut figures = plain.ok_or_else(|| format!("{}: it cannot link", home.display()))?;
    let levels = if figures.linker.zip_levels { 0..=9 } else { 6..=6 };
    let compressions = levels.map(Compression::Zip).chain([Compression::None, Compression::SharedTexts]);
    let forms: Vec<Form> =
        compressions.flat_map(|compression| [false, true].map(|stripped| Form::new(stripped, compression))).collect();
    measure::extend(&mut figures, &catalogue, &forms, false, &|_, _| {}).map_err(|error| error.to_string())?;
    figures.startup = Some(startup(home)?);
    let json = serde_json::to_string(&figures).map_err(|error| error.to_string())?;
    Ok((figures.release, json))
}

/// Startup archives are made by running the VM of an image, so images are linked to see them.
#[cfg(feature = "catalogue")]
fn startup(home: &std::path::Path) -> Result<figures::Startup, String> {
    let folder = tempfile::tempdir().map_err(|error| error.to_string())?;
    let link = |modules: &str| {
        let image = folder.path().join(modules);
        let mut command = std::process::Command::new(home.join("bin/jlink"));
        command.args(["--generate-cds-archive", "--add-modules", modules, "--output"]).arg(&image);
        let done = command.output().map_err(|error| error.to_string())?;
        if !done.status.success() {
            return Err(format!("jlink: {}", String::from_utf8_lossy(&done.stdout)));
        }
        measure::startup_of(&image)
    };
    Ok(figures::Startup { least: link("java.base")?, most: link("java.se")? })
}

//! The platform: one Java release as a set of modules, built in or read from a JDK.
//!
//! The first functions to read are [`Catalogue::built_in`] and [`Catalogue::of_jdk`]; both give the same value.

mod built_in;
mod class_head;
mod cursor;
pub mod descriptor;
mod files;
#[cfg(feature = "catalogue")]
#[doc(hidden)]
pub mod generate;
mod history;
pub mod jdk;
pub mod jimage;
pub mod jmod;
mod linkable;
mod release_file;
mod store;
mod types;

use std::path::{Path, PathBuf};

use rustc_hash::FxHashMap;

use crate::error::Error;
use crate::names::{did_you_mean, package_of};
use store::Store;

pub use files::{ModuleFile, Section};
pub use history::{ever_platform_package, last_release_with};

/// Index of a module in [`Catalogue::modules`], which is sorted by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ModuleId(pub u16);

/// Where a catalogue's facts come from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Source {
    /// Embedded in this program.
    BuiltIn,
    /// Read from `lib/modules` or `jmods` of a JDK.
    Jdk {
        /// The folder that the user gave.
        home: PathBuf,
        /// `JAVA_VERSION` of its `release` file.
        version: String,
        /// `IMPLEMENTOR` of its `release` file, where it has one.
        vendor: Option<String>,
    },
}

/// A `requires` directive (JLS §7.7.1).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Requires {
    /// The module required, by name: a catalogue may lack it only where the directive is `static`.
    pub module: Box<str>,
    /// `requires transitive`.
    pub transitive: bool,
    /// `requires static`: not followed at run time nor by the linker (JEP 261).
    pub static_phase: bool,
    /// Mandated by the compiler (java.base).
    pub mandated: bool,
}

/// An `exports` or `opens` directive (JLS §7.7.2): package in internal form, and the modules it is limited to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Exports {
    /// `java/sql`.
    pub package: Box<str>,
    /// Empty for an unqualified directive.
    pub to: Vec<Box<str>>,
}

/// A `provides … with …` directive (JLS §7.7.4); classes in internal form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Provides {
    /// The service.
    pub service: Box<str>,
    /// The providers, in order.
    pub with: Vec<Box<str>>,
}

/// Bytes of a module by section of its packaged form (JEP 261), inflated.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sections {
    /// Number of class and resource entries.
    pub entries: u64,
    /// `classes/`.
    pub classes: u64,
    /// `bin/`.
    pub bin: u64,
    /// `conf/`.
    pub conf: u64,
    /// `include/`.
    pub include: u64,
    /// `legal/`.
    pub legal: u64,
    /// `lib/`.
    pub lib: u64,
    /// `man/`.
    pub man: u64,
}

/// One module of the platform.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Module {
    /// `java.sql`.
    pub name: Box<str>,
    /// `open module`.
    pub open: bool,
    /// `ModuleResolution` with `DO_NOT_RESOLVE_BY_DEFAULT`: named at launch or never resolved (incubators).
    pub not_by_default: bool,
    /// The release whose JDK this module's facts were taken from, where it is not the catalogue's own.
    pub from_release: Option<u16>,
    /// The release whose JDK its packages without public API were taken from, where the rest is the catalogue's own.
    /// Qualified `exports` and all `opens` are then not known and left out.
    pub internals_from: Option<u16>,
    /// Sorted by module name.
    pub requires: Vec<Requires>,
    /// Sorted by package.
    pub exports: Vec<Exports>,
    /// Sorted by package.
    pub opens: Vec<Exports>,
    /// Services used, sorted.
    pub uses: Vec<Box<str>>,
    /// Sorted by service.
    pub provides: Vec<Provides>,
    /// All packages, exported or not, internal form, sorted.
    pub packages: Vec<Box<str>>,
    /// Section sizes, where known.
    pub sections: Option<Sections>,
    /// The release that `sections` was measured on, where it is not the catalogue's own.
    pub sections_from: Option<u16>,
}

/// Whether a type exists on the platform.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Presence {
    /// It does.
    Present(ModuleId),
    /// Its package does, but not the type.
    Absent(ModuleId),
    /// Its package does; whether the type does is not known (internal package of a release not at hand).
    Unknown(ModuleId),
    /// No module has its package.
    NoPackage,
}

impl Presence {
    /// The module that has the type; also where nothing is known against it.
    pub fn holder(self) -> Option<ModuleId> {
        match self {
            Presence::Present(module) | Presence::Unknown(module) => Some(module),
            Presence::Absent(_) | Presence::NoPackage => None,
        }
    }
}

/// One Java release as modules.
pub struct Catalogue {
    /// Feature release: 17.
    pub release: u16,
    /// Where the facts come from.
    pub source: Source,
    /// Sorted by name.
    pub modules: Vec<Module>,
    /// Release and version of the JDKs that a built-in catalogue was made from; empty for a JDK on disk.
    pub made_from: Vec<(u16, String)>,
    packages: FxHashMap<Box<str>, ModuleId>,
    store: Store,
}

/// A platform type's place in the hierarchy, as far as the catalogue knows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlatformType {
    /// `None` for `java/lang/Object`.
    pub superclass: Option<Box<str>>,
    /// Direct superinterfaces.
    pub interfaces: Vec<Box<str>>,
    /// Access flags (JVMS table 4.1-B).
    pub access: u16,
    /// Instance methods that a subtype can override, as name and descriptor joined: `run()V`; sorted.
    pub overridable: Vec<Box<str>>,
}

impl Catalogue {
    /// The oldest and the newest release with a built-in catalogue.
    pub const BUILT_IN: std::ops::RangeInclusive<u16> = 9..=25;

    /// The embedded catalogue of a release.
    ///
    /// Those of 17 and 25 know all types. Those of other releases know the public API of that release; packages
    /// without public API, and modules without any, come from the nearer of the two. Services that only a build for
    /// another operating system provides may be missing or, in rare cases, be listed though this system lacks them.
    ///
    /// [`Error::Usage`] for a release outside [`Catalogue::BUILT_IN`], [`Error::Internal`] for a damaged file.
    pub fn built_in(release: u16) -> Result<Catalogue, Error> {
        built_in::open(release)
    }

    /// Reads `jmods/*.jmod` where present, else `lib/modules`.
    ///
    /// [`Error::Jdk`] names the file and the entry that cannot be read.
    pub fn of_jdk(home: &Path) -> Result<Catalogue, Error> {
        jdk::read(home)
    }

    /// The module of that name.
    pub fn module(&self, name: &str) -> Option<ModuleId> {
        let at = self.modules.binary_search_by(|module| (*module.name).cmp(name)).ok()?;
        u16::try_from(at).ok().map(ModuleId)
    }

    /// What to add to a message about a module that it does not have: `; did you mean java.sql?`, where one is near.
    pub fn did_you_mean(&self, name: &str) -> String {
        did_you_mean(name, self.modules.iter().map(|module| &*module.name))
    }

    /// Whether it is java.base, which every image has.
    pub fn is_base(&self, id: ModuleId) -> bool {
        self.name(id) == "java.base"
    }

    /// The module that no image linked with this JDK can have: a linker that works from a run-time image does not put
    /// itself into another one (JEP 493).
    pub fn not_linkable(&self) -> Option<ModuleId> {
        self.module("jdk.jlink").filter(|_| self.is_linked_from_image())
    }

    /// A module's name; empty for a number of another catalogue.
    pub fn name(&self, id: ModuleId) -> &str {
        self.modules.get(usize::from(id.0)).map_or("", |module| &module.name)
    }

    /// The module that holds a package (internal form).
    pub fn module_of_package(&self, package: &[u8]) -> Option<ModuleId> {
        self.packages.get(std::str::from_utf8(package).ok()?).copied()
    }

    /// Whether a type (internal form, no array) exists.
    ///
    /// A built-in catalogue of a release other than 17 and 25 lists public and protected types only: a type that is
    /// visible to its own package alone counts as absent there.
    pub fn presence(&self, class: &[u8]) -> Presence {
        let Some(id) = self.module_of_package(package_of(class)) else { return Presence::NoPackage };
        let name = self.modules.get(usize::from(id.0)).map(|module| &*module.name).unwrap_or_default();
        self.store.presence(id, name, class)
    }

    /// Supertypes and overridable methods of a type, where known.
    ///
    /// A JDK's class file is read anew by each call, some 20 µs: callers that ask often keep the answers.
    pub fn platform_type(&self, class: &[u8]) -> Option<PlatformType> {
        let id = self.module_of_package(package_of(class));
        let name = id.and_then(|id| self.modules.get(usize::from(id.0))).map(|module| &*module.name);
        self.store.platform_type(name, class)
    }

    /// Sorts the modules and maps their packages; the error is a reason.
    fn assemble(release: u16, source: Source, mut modules: Vec<Module>, store: Store) -> Result<Catalogue, String> {
        modules.sort_by(|a, b| a.name.cmp(&b.name));
        let mut packages: FxHashMap<Box<str>, ModuleId> = FxHashMap::default();
        let mut last: Option<&Module> = None;
        for (index, module) in modules.iter().enumerate() {
            let id = u16::try_from(index).map(ModuleId).map_err(|_| "it has more than 65,536 modules")?;
            if last.is_some_and(|last| last.name == module.name) {
                return Err(format!("it has two modules of the name {}", module.name));
            }
            last = Some(module);
            for package in &module.packages {
                if packages.insert(package.clone(), id).is_some() {
                    return Err(format!("package {package} of module {} belongs to another module too", module.name));
                }
            }
        }
        Ok(Catalogue { release, source, modules, made_from: Vec::new(), packages, store })
    }
}

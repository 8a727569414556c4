//! The platform: one Java release as a set of modules, built in or read from a JDK.
//!
//! The first functions to read are [`Catalogue::built_in`] and [`Catalogue::of_jdk`]; both give the same value.

use std::path::{Path, PathBuf};

use crate::error::Error;

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
    /// `ModuleResolution` DO_NOT_RESOLVE_BY_DEFAULT: named at launch or never resolved (incubators).
    pub not_by_default: bool,
    /// The release whose JDK this module's facts were taken from, where it is not the catalogue's own.
    pub from_release: Option<u16>,
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

/// One Java release as modules.
pub struct Catalogue {
    /// Feature release: 17.
    pub release: u16,
    /// Where the facts come from.
    pub source: Source,
    /// Sorted by name.
    pub modules: Vec<Module>,
    // helper: private package map, class sets, hierarchy
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
    pub fn built_in(release: u16) -> Result<Catalogue, Error> {
        todo!()
    }

    /// Reads `jmods/*.jmod` where present, else `lib/modules`.
    pub fn of_jdk(home: &Path) -> Result<Catalogue, Error> {
        todo!()
    }

    /// The module of that name.
    pub fn module(&self, name: &str) -> Option<ModuleId> {
        todo!()
    }

    /// The module that holds a package (internal form).
    pub fn module_of_package(&self, package: &[u8]) -> Option<ModuleId> {
        todo!()
    }

    /// Whether a type (internal form, no array) exists.
    pub fn presence(&self, class: &[u8]) -> Presence {
        todo!()
    }

    /// Supertypes and overridable methods of a type, where known.
    pub fn platform_type(&self, class: &[u8]) -> Option<PlatformType> {
        todo!()
    }
}

/// Whether any release known to this program ever had the package: what a scan looks out for before a release is
/// chosen.
pub fn ever_platform_package(package: &[u8]) -> bool {
    todo!()
}

/// The last release (8 to 24) whose API had this type, where release 25 or some release between lacks it; with the
/// module that held it. `Some((10, "java.xml.bind"))` for `javax/xml/bind/JAXBContext`.
pub fn last_release_with(class: &[u8]) -> Option<(u16, &'static str)> {
    todo!()
}

//! Module descriptors (JVMS §4.7.25 to §4.7.27) as values of their own; speed does not matter here.
//!
//! The first function to read is [`module_descriptor`].

use super::attributes::finish;
use super::cursor::Cursor;
use super::error::{Error, ErrorKind};
use super::walk::indices;
use super::{ClassFile, Pool, Scratch, Visitor};
use crate::names::decode_mutf8;

/// `ACC_MODULE` (JVMS table 4.1-B).
const ACC_MODULE: u16 = 0x8000;

/// A module descriptor. Names of modules are as in the source; packages and classes are in internal form.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ModuleDescriptor {
    /// `java.sql`.
    pub name: Box<str>,
    /// `ACC_OPEN` 0x20, `ACC_SYNTHETIC` 0x1000, `ACC_MANDATED` 0x8000.
    pub flags: u16,
    /// The module's version, where recorded.
    pub version: Option<Box<str>>,
    /// In the order of the file, as are all lists here.
    pub requires: Vec<ModuleRequires>,
    /// Exported packages.
    pub exports: Vec<ModuleExports>,
    /// Opened packages.
    pub opens: Vec<ModuleExports>,
    /// Services that the module looks up.
    pub uses: Vec<Box<str>>,
    /// Services that the module provides.
    pub provides: Vec<ModuleProvides>,
    /// All packages (`ModulePackages`); empty where the attribute is missing.
    pub packages: Vec<Box<str>>,
    /// `ModuleMainClass`.
    pub main_class: Option<Box<str>>,
    /// `ModuleResolution`, an attribute of the JDK (JEP 11): 0x1 means not resolved by default. 0 where it is missing.
    pub resolution: u16,
}

/// A `requires` directive.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ModuleRequires {
    /// The module required.
    pub module: Box<str>,
    /// `ACC_TRANSITIVE` 0x20, `ACC_STATIC_PHASE` 0x40, `ACC_SYNTHETIC` 0x1000, `ACC_MANDATED` 0x8000.
    pub flags: u16,
}

/// An `exports` or `opens` directive.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ModuleExports {
    /// `java/sql`.
    pub package: Box<str>,
    /// The modules that it is limited to; empty for all.
    pub to: Vec<Box<str>>,
}

/// A `provides` directive.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ModuleProvides {
    /// The service.
    pub service: Box<str>,
    /// The providers, in order.
    pub with: Vec<Box<str>>,
}

impl ModuleDescriptor {
    /// `open module`.
    pub fn is_open(&self) -> bool {
        self.flags & 0x20 != 0
    }

    /// `DO_NOT_RESOLVE_BY_DEFAULT` of `ModuleResolution` (JEP 11).
    pub fn is_not_resolved_by_default(&self) -> bool {
        self.resolution & 1 != 0
    }
}

impl ModuleRequires {
    /// `requires transitive`.
    pub fn is_transitive(&self) -> bool {
        self.flags & 0x20 != 0
    }

    /// `requires static`.
    pub fn is_static_phase(&self) -> bool {
        self.flags & 0x40 != 0
    }

    /// Not in the source: put there by the compiler.
    pub fn is_mandated(&self) -> bool {
        self.flags & 0x8000 != 0
    }
}

/// Reads a `module-info.class`.
///
/// Unlike a walk this is all or nothing: a module whose directives are known in part would be judged wrongly.
pub fn module_descriptor(bytes: &[u8]) -> Result<ModuleDescriptor, Error> {
    let mut scratch = Scratch::default();
    let class = ClassFile::read(bytes, &mut scratch)?;
    if class.access & ACC_MODULE == 0 {
        return Err(class.body.error(ErrorKind::NotAModule));
    }
    // The whole file must be sound, other attributes too.
    class.walk(&mut Nobody)?;
    let names = Names { pool: class.pool };
    let mut cursor = class.body;
    // A module descriptor has neither fields nor methods (§4.1).
    if (cursor.u2()?, cursor.u2()?) != (0, 0) {
        return Err(class.body.error(ErrorKind::NotAModule));
    }
    let mut descriptor = ModuleDescriptor::default();
    let mut has_module = false;
    for _ in 0..cursor.u2()? {
        let name = cursor.u2()?;
        let length = cursor.u4()? as usize;
        let mut content = cursor.split(length)?;
        match class.pool.utf8(name).unwrap_or_default() {
            b"Module" => {
                names.module(&mut content, &mut descriptor)?;
                has_module = true;
            }
            b"ModulePackages" => descriptor.packages = names.list(&mut content, Pool::package)?,
            b"ModuleMainClass" => descriptor.main_class = Some(names.name(&mut content, Pool::class_name)?),
            b"ModuleResolution" => descriptor.resolution = content.u2()?,
            _ => continue,
        }
        finish(&content)?;
    }
    if has_module { Ok(descriptor) } else { Err(cursor.error(ErrorKind::NotAModule)) }
}

/// A visitor that only wants to know whether the file can be read.
struct Nobody;

impl Visitor<'_> for Nobody {}

/// Reads names through the pool, where a missing one is an error.
struct Names<'a> {
    pool: Pool<'a>,
}

/// One of the look-ups of [`Pool`].
type LookUp<'a> = fn(Pool<'a>, u16) -> Option<&'a [u8]>;

impl<'a> Names<'a> {
    fn name(&self, cursor: &mut Cursor<'a>, look_up: LookUp<'a>) -> Result<Box<str>, Error> {
        let at = *cursor;
        let index = cursor.u2()?;
        match look_up(self.pool, index) {
            Some(name) => Ok(decode_mutf8(name).into()),
            None => Err(at.error(ErrorKind::PoolIndex(index))),
        }
    }

    fn list(&self, cursor: &mut Cursor<'a>, look_up: LookUp<'a>) -> Result<Vec<Box<str>>, Error> {
        let mut ahead = *cursor;
        indices(&mut ahead)?;
        // The list is known to be there in full, so its count can be believed.
        let count = cursor.u2()?;
        (0..count).map(|_| self.name(cursor, look_up)).collect()
    }

    fn module(&self, cursor: &mut Cursor<'a>, descriptor: &mut ModuleDescriptor) -> Result<(), Error> {
        descriptor.name = self.name(cursor, Pool::module)?;
        descriptor.flags = cursor.u2()?;
        descriptor.version = self.version(cursor)?;
        for _ in 0..cursor.u2()? {
            let module = self.name(cursor, Pool::module)?;
            let flags = cursor.u2()?;
            self.version(cursor)?;
            descriptor.requires.push(ModuleRequires { module, flags });
        }
        descriptor.exports = self.exports(cursor)?;
        descriptor.opens = self.exports(cursor)?;
        descriptor.uses = self.list(cursor, Pool::class_name)?;
        for _ in 0..cursor.u2()? {
            let service = self.name(cursor, Pool::class_name)?;
            let with = self.list(cursor, Pool::class_name)?;
            descriptor.provides.push(ModuleProvides { service, with });
        }
        Ok(())
    }

    fn exports(&self, cursor: &mut Cursor<'a>) -> Result<Vec<ModuleExports>, Error> {
        let mut exports = Vec::new();
        for _ in 0..cursor.u2()? {
            let package = self.name(cursor, Pool::package)?;
            cursor.u2()?;
            let to = self.list(cursor, Pool::module)?;
            exports.push(ModuleExports { package, to });
        }
        Ok(exports)
    }

    /// An index of which 0 means that there is no version.
    fn version(&self, cursor: &mut Cursor<'a>) -> Result<Option<Box<str>>, Error> {
        let mut ahead = *cursor;
        if ahead.u2()? == 0 {
            *cursor = ahead;
            return Ok(None);
        }
        self.name(cursor, Pool::utf8).map(Some)
    }
}

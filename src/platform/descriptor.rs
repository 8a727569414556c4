//! `module-info.class` (JVMS §4.7.25 to §4.7.27) as a [`Module`].
//!
//! The first function to read is [`read`]. The class file's frame is read by `noak`; the `Module` attribute is decoded
//! here, since descriptors of the platform leave versions of required modules out, which `noak` takes for damage.

use noak::reader::Class;
use noak::reader::cpool::{self, ConstantPool, Index};

use super::cursor::Cursor;
use super::{Exports, Module, Provides, Requires};
use crate::names::decode_mutf8;

const OPEN: u16 = 0x0020;
const TRANSITIVE: u16 = 0x0020;
const STATIC_PHASE: u16 = 0x0040;
const MANDATED: u16 = 0x8000;
/// `jdk.internal.module.ClassFileConstants`: flags of the attribute `ModuleResolution`.
const DO_NOT_RESOLVE_BY_DEFAULT: u16 = 0x0001;

/// Reads a module descriptor. Packages are those of `ModulePackages`, which the JDK's tools always write into the
/// modules of the platform; empty where the attribute is absent. The error is a reason without the path.
pub fn read(bytes: &[u8]) -> Result<Module, String> {
    let class = Class::new(bytes).map_err(|error| error.to_string())?;
    let pool = class.pool();
    let mut module = None;
    let mut packages = Vec::new();
    let mut not_by_default = false;
    for attribute in class.attributes() {
        let attribute = attribute.map_err(|error| error.to_string())?;
        let name = pool.get(attribute.name()).map_err(|error| error.to_string())?.content;
        let mut body = Body { cursor: Cursor::new(attribute.content()), pool };
        match name.as_bytes() {
            b"Module" => module = Some(body.module().ok_or("its Module attribute is damaged")?),
            b"ModulePackages" => {
                packages = body.list(Body::package).ok_or("its ModulePackages attribute is damaged")?;
            }
            b"ModuleResolution" => {
                let flags = body.cursor.u2().ok_or("its ModuleResolution attribute is damaged")?;
                not_by_default = flags & DO_NOT_RESOLVE_BY_DEFAULT != 0;
            }
            _ => {}
        }
    }
    let mut module = module.ok_or("it has no Module attribute")?;
    packages.sort_unstable();
    packages.dedup();
    module.packages = packages;
    module.not_by_default = not_by_default;
    Ok(module)
}

struct Body<'a, 'input> {
    cursor: Cursor<'input>,
    pool: &'a ConstantPool<'input>,
}

impl Body<'_, '_> {
    fn module(&mut self) -> Option<Module> {
        let name = self.module_name()?;
        let flags = self.cursor.u2()?;
        let _version = self.cursor.u2()?;
        let mut requires = self.list(Body::requires)?;
        let mut exports = self.list(Body::exports)?;
        let mut opens = self.list(Body::exports)?;
        let mut uses = self.list(Body::class)?;
        let mut provides = self.list(Body::provides)?;
        requires.sort_by(|a, b| a.module.cmp(&b.module));
        exports.sort_by(|a, b| a.package.cmp(&b.package));
        opens.sort_by(|a, b| a.package.cmp(&b.package));
        uses.sort_unstable();
        provides.sort_by(|a, b| a.service.cmp(&b.service));
        Some(Module {
            name,
            open: flags & OPEN != 0,
            not_by_default: false,
            from_release: None,
            internals_from: None,
            requires,
            exports,
            opens,
            uses,
            provides,
            packages: Vec::new(),
            sections: None,
            sections_from: None,
        })
    }

    fn requires(&mut self) -> Option<Requires> {
        let module = self.module_name()?;
        let flags = self.cursor.u2()?;
        let _version = self.cursor.u2()?;
        Some(Requires {
            module,
            transitive: flags & TRANSITIVE != 0,
            static_phase: flags & STATIC_PHASE != 0,
            mandated: flags & MANDATED != 0,
        })
    }

    fn exports(&mut self) -> Option<Exports> {
        let package = self.package()?;
        let _flags = self.cursor.u2()?;
        let mut to = self.list(Body::module_name)?;
        to.sort_unstable();
        Some(Exports { package, to })
    }

    fn provides(&mut self) -> Option<Provides> {
        Some(Provides { service: self.class()?, with: self.list(Body::class)? })
    }

    /// A `u2` count and that many items. Every item takes at least two bytes, so a lying count ends with the bytes.
    fn list<T>(&mut self, item: impl Fn(&mut Self) -> Option<T>) -> Option<Vec<T>> {
        let count = self.cursor.u2()?;
        (0..count).map(|_| item(self)).collect()
    }

    fn module_name(&mut self) -> Option<Box<str>> {
        let index = Index::<cpool::Module<'_>>::new(self.cursor.u2()?).ok()?;
        self.utf8(self.pool.get(index).ok()?.name)
    }

    fn package(&mut self) -> Option<Box<str>> {
        let index = Index::<cpool::Package<'_>>::new(self.cursor.u2()?).ok()?;
        self.utf8(self.pool.get(index).ok()?.name)
    }

    fn class(&mut self) -> Option<Box<str>> {
        let index = Index::<cpool::Class<'_>>::new(self.cursor.u2()?).ok()?;
        self.utf8(self.pool.get(index).ok()?.name)
    }

    fn utf8(&self, index: Index<cpool::Utf8<'_>>) -> Option<Box<str>> {
        let index = Index::<cpool::Utf8<'_>>::new(index.as_u16()).ok()?;
        Some(decode_mutf8(self.pool.get(index).ok()?.content.as_bytes()).into())
    }
}

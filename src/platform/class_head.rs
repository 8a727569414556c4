//! The part of a platform class that its subtypes care about: supertypes, access, overridable methods.

use noak::AccessFlags;
use noak::error::DecodeError;
use noak::reader::Class;
use noak::reader::cpool::{self, Index};

use super::PlatformType;
use crate::names::decode_mutf8;

/// Reads a class file of the platform. The error is a reason without the path.
pub(super) fn read(bytes: &[u8]) -> Result<PlatformType, String> {
    decode(bytes).map_err(|error| error.to_string())
}

fn decode(bytes: &[u8]) -> Result<PlatformType, DecodeError> {
    let class = Class::new(bytes)?;
    let pool = class.pool();
    let name_of = |index: Index<cpool::Class<'_>>| -> Result<Box<str>, DecodeError> {
        let class: &cpool::Class<'_> = pool.get(Index::new(index.as_u16())?)?;
        Ok(decode_mutf8(pool.get(class.name)?.content.as_bytes()).into())
    };
    let superclass = class.super_class().map(name_of).transpose()?;
    let interfaces = class.interfaces().iter().map(|index| name_of(index?)).collect::<Result<Vec<_>, DecodeError>>()?;
    let access = class.access_flags();
    let mut overridable = Vec::new();
    if !access.contains(AccessFlags::FINAL) {
        for method in class.methods() {
            let method = method?;
            let name = pool.get(method.name())?.content.as_bytes();
            if can_be_overridden(method.access_flags()) && !name.starts_with(b"<") {
                let descriptor = pool.get(method.descriptor())?.content.as_bytes();
                overridable.push([decode_mutf8(name), decode_mutf8(descriptor)].concat().into_boxed_str());
            }
        }
        overridable.sort_unstable();
    }
    Ok(PlatformType { superclass, interfaces, access: access.bits(), overridable })
}

/// JVMS §5.4.5, seen from a program: it cannot define a class in a package of the platform, so that a method which
/// is visible to its own package only is out of reach.
fn can_be_overridden(access: AccessFlags) -> bool {
    access.intersects(AccessFlags::PUBLIC | AccessFlags::PROTECTED)
        && !access.intersects(AccessFlags::STATIC | AccessFlags::FINAL)
}

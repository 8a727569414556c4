//! What a loadable constant names (JVMS table 4.4-C): operand of `ldc`, argument of a bootstrap method.

use super::descriptor;
use super::{Pool, Tag};

/// Tells every class that resolving the constant loads (JVMS §5.4.3.1, §5.4.3.5, §5.4.3.6): the class of a class
/// constant, the types of a method type, owner and types of a method handle, the type of a dynamic constant.
///
/// The bootstrap method of a dynamic constant is not followed: the walk tells each one of its own.
pub fn constant_names<'a>(pool: Pool<'a>, index: u16, mut tell: impl FnMut(&'a [u8])) {
    let mut types = |text: Option<&'a [u8]>| descriptor::classes(text.unwrap_or_default()).for_each(&mut tell);
    match pool.tag(index) {
        Some(Tag::Class) => {
            if let Some(class) = pool.class_name(index).and_then(descriptor::element_class) {
                tell(class);
            }
        }
        Some(Tag::MethodType) => types(pool.method_type(index)),
        Some(Tag::Dynamic) => types(pool.dynamic(index).map(|dynamic| dynamic.descriptor)),
        Some(Tag::MethodHandle) => {
            if let Some(member) = pool.method_handle(index).and_then(|(_, member)| pool.member_ref(member)) {
                types(Some(member.descriptor));
                if let Some(class) = pool.class_name(member.owner).and_then(descriptor::element_class) {
                    tell(class);
                }
            }
        }
        _ => {}
    }
}

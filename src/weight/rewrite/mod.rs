//! What the linker makes of a class file when it is told to drop debug data or to share constants.
//!
//! The first functions to read are [`without_debug_data`] and [`shared::share`]. Both work on bytes of a JDK, which may
//! be damaged all the same: `None` means that a class could not be followed, and then counts as it is.

mod body;
mod constants;
pub(super) mod shared;

use body::Body;
use constants::Constants;

/// What the linker does with the constants of the attributes that it takes out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum PoolAfter {
    /// They stay: its class file library is `java.lang.classfile`, which copies the pool.
    Kept,
    /// A pool is written anew from what the rest of the class uses.
    Fresh,
}

/// The attributes that go (JVMS §4.7.10 to §4.7.14, §4.7.24).
fn is_debug_data(name: &[u8]) -> bool {
    matches!(
        name,
        b"LineNumberTable"
            | b"LocalVariableTable"
            | b"LocalVariableTypeTable"
            | b"MethodParameters"
            | b"SourceDebugExtension"
            | b"SourceFile"
    )
}

/// A class file without line numbers, local variables, source file and parameter names.
///
/// With a fresh pool the result is as long as the linker's, and as good as the same to a compressor, but no class file
/// that could be run: instructions that need a longer form for their constant are not moved apart.
pub(super) fn without_debug_data(class: &[u8], pool: PoolAfter) -> Option<Vec<u8>> {
    let constants = Constants::read(class)?;
    let body = Body::read(class, &constants, is_debug_data, pool == PoolAfter::Fresh)?;
    let mut out = Vec::with_capacity(class.len());
    match pool {
        PoolAfter::Kept => {
            out.extend_from_slice(class.get(..constants.end)?);
            out.extend_from_slice(&body.bytes);
        }
        PoolAfter::Fresh => {
            let kept = constants.used_by(&body)?;
            out.extend_from_slice(class.get(..8)?);
            kept.write(&constants, class, &mut out)?;
            let start = out.len();
            out.extend_from_slice(&body.bytes);
            for used in &body.uses {
                let at = start.checked_add(used.at)?;
                let number = kept.number(used.index)?;
                if used.narrow {
                    let [wide, narrow] = number.to_be_bytes();
                    *out.get_mut(at)? = narrow;
                    if wide != 0 {
                        // The instruction takes its longer form. Where the byte is inserted does not matter to a length.
                        out.push(wide);
                    }
                } else {
                    out.get_mut(at..at.checked_add(2)?)?.copy_from_slice(&number.to_be_bytes());
                }
            }
        }
    }
    Some(out)
}

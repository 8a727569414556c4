//! Stack map frames (JVMS §4.7.4), as far as they name classes.

use super::cursor::Cursor;
use super::error::{Error, ErrorKind};

/// Tells the pool index of every `Object_variable_info` in a `StackMapTable`; `content` stands at its count.
pub(super) fn classes(content: &mut Cursor<'_>, mut tell: impl FnMut(u16)) -> Result<(), Error> {
    for _ in 0..content.u2()? {
        let form = content.u1()?;
        match form {
            // same_frame
            0..=63 => {}
            // same_locals_1_stack_item_frame
            64..=127 => verification_types(content, 1, &mut tell)?,
            // same_locals_1_stack_item_frame_extended
            247 => {
                content.u2()?;
                verification_types(content, 1, &mut tell)?;
            }
            // chop_frame, same_frame_extended
            248..=251 => {
                content.u2()?;
            }
            // append_frame
            252..=254 => {
                content.u2()?;
                verification_types(content, u16::from(form - 251), &mut tell)?;
            }
            // full_frame
            255 => {
                content.u2()?;
                for _locals_then_stack in 0..2 {
                    let count = content.u2()?;
                    verification_types(content, count, &mut tell)?;
                }
            }
            128..=246 => return Err(content.error(ErrorKind::Frame(form))),
        }
    }
    Ok(())
}

fn verification_types(content: &mut Cursor<'_>, count: u16, tell: &mut impl FnMut(u16)) -> Result<(), Error> {
    for _ in 0..count {
        match content.u1()? {
            0..=6 => {}
            // Object_variable_info
            7 => tell(content.u2()?),
            // Uninitialized_variable_info
            8 => {
                content.u2()?;
            }
            form => return Err(content.error(ErrorKind::Frame(form))),
        }
    }
    Ok(())
}

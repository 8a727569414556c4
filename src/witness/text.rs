//! Files to lines, within bounds: packed or not, whatever a line's length. The function to read is [`lines`].

use std::fs::File;
use std::io::{self, Cursor, ErrorKind, Read};
use std::path::Path;

use flate2::read::MultiGzDecoder;
use memchr::memchr;

/// What is held of a file at one time. A line that is longer tells of no class (JVMS §4.4.7 bounds a name by 65,535
/// bytes, and decorations are short) and is passed over.
const HELD: usize = 256 << 10;

/// How reading ended.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum End {
    /// At the end of the file, perhaps within a line.
    Whole,
    /// A packed file breaks off or is damaged; what stood before has been told.
    Broken(String),
    /// The maximum was met.
    Limit,
}

/// Tells each line of a file, which may be packed by gzip (RFC 1952), without its end. Reading stops beyond `most` bytes,
/// and `read` counts them.
///
/// The error is the system's.
pub(super) fn lines(path: &Path, most: u64, read: &mut u64, each: impl FnMut(&[u8])) -> io::Result<End> {
    let mut file = File::open(path)?;
    let mut magic = [0; 2];
    let mut held = 0;
    while let Some(rest) = magic.get_mut(held..).filter(|rest| !rest.is_empty()) {
        match file.read(rest) {
            Ok(0) => break,
            Ok(more) => held += more,
            Err(error) if error.kind() == ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
    let start = Cursor::new(magic).take(held as u64);
    if magic == [0x1f, 0x8b] {
        // The system's own faults are told apart by their kind.
        return match of(MultiGzDecoder::new(start.chain(file)), most, read, each) {
            Err(error) if matches!(error.kind(), ErrorKind::UnexpectedEof) => {
                Ok(End::Broken("the packed data ends early".to_owned()))
            }
            Err(error) if matches!(error.kind(), ErrorKind::InvalidInput | ErrorKind::InvalidData) => {
                Ok(End::Broken(format!("the packed data is damaged ({error})")))
            }
            end => end,
        };
    }
    of(start.chain(file), most, read, each)
}

fn of(mut input: impl Read, most: u64, read: &mut u64, mut each: impl FnMut(&[u8])) -> io::Result<End> {
    let mut buffer = vec![0; HELD];
    let mut filled = 0;
    // Within a line that is too long.
    let mut passing = false;
    loop {
        let more = match input.read(buffer.get_mut(filled..).unwrap_or_default()) {
            Ok(more) => more,
            Err(error) if error.kind() == ErrorKind::Interrupted => continue,
            Err(error) => {
                if !passing {
                    each(buffer.get(..filled).unwrap_or_default());
                }
                return Err(error);
            }
        };
        let last = more == 0;
        filled += more;
        *read += more as u64;
        let mut rest = buffer.get(..filled).unwrap_or_default();
        while let Some(end) = memchr(b'\n', rest) {
            let (line, after) = rest.split_at(end);
            if !std::mem::take(&mut passing) {
                each(line);
            }
            rest = after.get(1..).unwrap_or_default();
        }
        if last {
            if !passing && !rest.is_empty() {
                each(rest);
            }
            return Ok(End::Whole);
        }
        if *read > most {
            return Ok(End::Limit);
        }
        let left = rest.len();
        let start = filled - left;
        if left == buffer.len() {
            passing = true;
            filled = 0;
        } else {
            buffer.copy_within(start..filled, 0);
            filled = left;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(bytes: &[u8], most: u64) -> (Vec<String>, End) {
        let mut lines = Vec::new();
        let end = of(bytes, most, &mut 0, |line| lines.push(String::from_utf8_lossy(line).into_owned())).unwrap();
        (lines, end)
    }

    #[test]
    fn lines_come_whole_and_the_last_one_as_it_is() {
        assert_eq!(told(b"a\n\nbc", 9), (vec!["a".into(), String::new(), "bc".into()], End::Whole));
        assert_eq!(told(b"", 9).0, Vec::<String>::new());
        // More than one buffer, each line across a different boundary.
        let lines: Vec<String> = (0..100_000).map(|number| format!("line {number}\n")).collect();
        let (lines, end) = told(lines.concat().as_bytes(), u64::MAX);
        assert_eq!((lines.len(), end), (100_000, End::Whole));
        assert!(lines.iter().enumerate().all(|(number, line)| *line == format!("line {number}")));
    }

    #[test]
    fn what_is_too_long_is_passed_over() {
        let mut text = vec![b'x'; HELD * 3 + 17];
        text.extend(b"\nshort\n");
        assert_eq!(told(&text, u64::MAX).0, ["short"]);
        text.truncate(HELD * 2);
        assert_eq!(told(&text, u64::MAX).0, Vec::<String>::new());
        assert_eq!(told(&text, 1).1, End::Limit);
    }
}

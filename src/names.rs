//! Names as the Java standards write them, and where in the input a thing was found.
//!
//! A class has an *internal form* `java/sql/Driver` (JVMS §4.2.1) and a *binary name* `java.sql.Driver` (JLS §13.1).
//! Inside this crate names stay in internal form, as modified UTF-8 bytes straight from the class file, until
//! something is shown to a person: [`binary_name`] does that.

use std::borrow::Cow;
use std::fmt;
use std::path::Path;

/// The package part of an internal class name: `java/sql` for `java/sql/Driver`; empty for the unnamed package.
pub fn package_of(internal: &[u8]) -> &[u8] {
    match internal.iter().rposition(|&b| b == b'/') {
        Some(at) => internal.get(..at).unwrap_or_default(),
        None => &[],
    }
}

/// Decodes modified UTF-8 (JVMS §4.4.7) for people and for maps keyed by text.
///
/// Total: bytes that are not modified UTF-8 become U+FFFD, an encoded NUL becomes U+0000, surrogate pairs are joined.
pub fn decode_mutf8(bytes: &[u8]) -> Cow<'_, str> {
    if let Ok(text) = std::str::from_utf8(bytes) {
        return Cow::Borrowed(text);
    }
    let mut units: Vec<u16> = Vec::with_capacity(bytes.len());
    let mut rest = bytes;
    loop {
        rest = match rest {
            [] => break,
            [a, tail @ ..] if a & 0x80 == 0 => {
                units.push(u16::from(*a));
                tail
            }
            [a, b, tail @ ..] if a & 0xE0 == 0xC0 && b & 0xC0 == 0x80 => {
                units.push(u16::from(a & 0x1F) << 6 | u16::from(b & 0x3F));
                tail
            }
            [a, b, c, tail @ ..] if a & 0xF0 == 0xE0 && b & 0xC0 == 0x80 && c & 0xC0 == 0x80 => {
                units.push(u16::from(a & 0x0F) << 12 | u16::from(b & 0x3F) << 6 | u16::from(c & 0x3F));
                tail
            }
            [_, tail @ ..] => {
                units.push(0xFFFD);
                tail
            }
        };
    }
    Cow::Owned(String::from_utf16_lossy(&units))
}

/// The binary name for an internal one: `java/util/Map$Entry` becomes `java.util.Map$Entry`.
pub fn binary_name(internal: &[u8]) -> String {
    decode_mutf8(internal).replace('/', ".")
}

/// What to add to a message about a name that does not exist, where one is near: `; did you mean java.sql?`. Near are
/// names that end in this one, and those that a slip or two make of it.
pub fn did_you_mean<'a>(name: &str, there: impl IntoIterator<Item = &'a str>) -> String {
    let slips = (name.chars().count() / SLIP_EVERY).clamp(1, MOST_SLIPS);
    let near = |known: &'a str| {
        let last = known.rsplit('.').next().unwrap_or(known);
        // A name without its beginning is no slip, and comes next to one.
        let of_last = (!name.contains('.')).then(|| distance(name, last, slips)).flatten();
        let nearest = [distance(name, known, slips), of_last].into_iter().flatten().min()?;
        Some((nearest, known))
    };
    let nearest = there.into_iter().filter_map(near).min();
    nearest.map_or_else(String::new, |(_, known)| format!("; did you mean {known}?"))
}

/// Characters of a name for each of which one may be wrong.
const SLIP_EVERY: usize = 5;

/// What may be wrong in a name at most, however long it is.
const MOST_SLIPS: usize = 3;

/// How many characters have to be put in, left out or replaced to make one text of another (Levenshtein, "Binary codes
/// capable of correcting deletions, insertions, and reversals", 1966); `None` where it takes more than `most`.
fn distance(from: &str, to: &str, most: usize) -> Option<usize> {
    let to: Vec<char> = to.chars().take(from.chars().count() + most + 1).collect();
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (at, of_from) in from.chars().enumerate() {
        let mut left = at + 1;
        let mut next = vec![left];
        for (of_to, above) in to.iter().zip(row.windows(2)) {
            let &[diagonal, above] = above else { continue };
            left = (diagonal + usize::from(of_from != *of_to)).min(above + 1).min(left + 1);
            next.push(left);
        }
        if next.iter().all(|&steps| steps > most) {
            return None;
        }
        row = next;
    }
    row.last().copied().filter(|&steps| steps <= most)
}

/// Where in the input a thing is, for people: `app.war!/WEB-INF/lib/x.jar!/com/acme/A.class`.
///
/// The part before the first `!/` is the path as the user gave it. Ordered as text, so that sorting by locator is
/// stable between runs.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Locator(String);

impl Locator {
    /// The locator of a file or folder given by the user.
    pub fn of_path(path: &Path) -> Self {
        Locator(path.to_string_lossy().into_owned())
    }

    /// A place below this one: an entry of an archive, or a file of a class folder.
    #[must_use]
    pub fn child(&self, entry: &str) -> Self {
        Locator(format!("{}!/{entry}", self.0))
    }

    /// The locator as text, not yet escaped for a terminal or a page.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The last part: the file name of an archive, or the name of the entry.
    pub fn last(&self) -> &str {
        let tail = self.0.trim_end_matches('/');
        tail.rsplit(['/', '\\']).next().unwrap_or(tail)
    }
}

impl fmt::Display for Locator {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn package_is_everything_before_the_last_slash() {
        assert_eq!(package_of(b"java/util/Map$Entry"), b"java/util");
        assert_eq!(package_of(b"Main"), b"");
    }

    /// JVMS §4.4.7: U+0000 is C0 80, supplementary characters are two three-byte surrogates.
    #[test]
    fn modified_utf8_is_decoded_as_the_specification_says() {
        assert_eq!(decode_mutf8(b"a\xC0\x80b"), "a\0b");
        assert_eq!(decode_mutf8(b"\xED\xA0\xBD\xED\xB8\x80"), "\u{1F600}");
        assert_eq!(decode_mutf8(b"\xFFx"), "\u{FFFD}x");
    }

    #[test]
    fn locators_nest() {
        let jar = Locator::of_path(Path::new("app.jar")).child("BOOT-INF/lib/x.jar").child("a/B.class");
        assert_eq!(jar.as_str(), "app.jar!/BOOT-INF/lib/x.jar!/a/B.class");
        assert_eq!(jar.last(), "B.class");
    }
}

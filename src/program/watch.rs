//! Which names can ask for a platform module other than java.base, decided before a release is chosen and before
//! anything is looked up, where the bytes of the name tell.
//!
//! The first function to read is [`classify`]. The lists here save time and decide nothing: tests hold them against the
//! catalogues of all releases.

use crate::classfile::descriptor;
use crate::names::package_of;
use crate::platform::{ever_platform_package, last_release_with};

/// Packages that have been in java.base in every release, and that class files name most: a name in one of them asks
/// for no other module, so it is kept only where the type was removed. Any package may be left out of this list: it
/// saves time and decides nothing (a test holds it against the catalogues).
const ALWAYS_BASE: [&[u8]; 26] = [
    b"java/io",
    b"java/lang",
    b"java/lang/annotation",
    b"java/lang/constant",
    b"java/lang/invoke",
    b"java/lang/module",
    b"java/lang/ref",
    b"java/lang/reflect",
    b"java/lang/runtime",
    b"java/math",
    b"java/net",
    b"java/nio",
    b"java/nio/channels",
    b"java/nio/charset",
    b"java/nio/file",
    b"java/nio/file/attribute",
    b"java/security",
    b"java/text",
    b"java/time",
    b"java/util",
    b"java/util/concurrent",
    b"java/util/concurrent/atomic",
    b"java/util/concurrent/locks",
    b"java/util/function",
    b"java/util/regex",
    b"java/util/stream",
];

/// Beginnings of all platform packages that hold classes (a test holds the list against the catalogues): what starts otherwise need not
/// be looked up.
const BEGINNINGS: [&[u8]; 12] = [
    b"java/",
    b"javax/",
    b"jdk/",
    b"sun/",
    b"com/sun/",
    b"org/w3c/",
    b"org/xml/",
    b"org/ietf/",
    b"org/omg/",
    b"org/jcp/",
    b"netscape/",
    b"toolbarButtonGraphics/",
];

/// Whether a name is of one of the three packages that class files name most and asks for nothing: a third of all class
/// constants, decided without looking anything up. Types that were removed from them are taken out.
pub(super) fn plainly_base(name: &[u8]) -> bool {
    let ([b'j', b'a', b'v', b'a', b'/', b'l', b'a', b'n', b'g', b'/', simple @ ..]
    | [b'j', b'a', b'v', b'a', b'/', b'u', b't', b'i', b'l', b'/', simple @ ..]
    | [b'j', b'a', b'v', b'a', b'/', b'i', b'o', b'/', simple @ ..]) = name
    else {
        return false;
    };
    !simple.contains(&b'/') && !REMOVED_FROM_BASE.contains(&simple)
}

/// Types that `java/lang`, `java/util` or `java/io` no longer have (a test holds the list against the catalogues).
const REMOVED_FROM_BASE: [&[u8]; 6] = [
    b"Compiler",
    b"FormatProcessor",
    b"IO",
    b"StringTemplate",
    b"StringTemplate$Processor",
    b"StringTemplate$Processor$Linkage",
];

/// Whether a descriptor can name a type that asks for a module; nearly all name types of the program, or of `java/lang`
/// and `java/util`, and need not be looked up. Types that were removed from those two packages are found by their class
/// constants.
pub(super) fn descriptor_can_ask(text: &[u8]) -> bool {
    // `Lsun/A;` would be the shortest; many texts are no longer than `()V`.
    text.len() >= 7 && descriptor::classes(text).any(name_can_ask)
}

/// The same of a signature. May say yes where the answer is no, never the reverse.
pub(super) fn can_ask(text: &[u8]) -> bool {
    text.len() >= 7 && memchr::memchr_iter(b'L', text).any(|at| name_can_ask(text.get(at + 1..).unwrap_or_default()))
}

/// The same of a name, whatever stands behind it.
fn name_can_ask(name: &[u8]) -> bool {
    match name {
        [b'j', b'a', b'v', b'a', b'/', b'l', b'a', b'n', b'g', b'/', name @ ..]
        | [b'j', b'a', b'v', b'a', b'/', b'u', b't', b'i', b'l', b'/', name @ ..] => {
            name.iter().find(|&&byte| matches!(byte, b'/' | b';' | b'<' | b'.')) == Some(&b'/')
        }
        _ => begins_as_platform(name),
    }
}

/// The first eight bytes of a text as a number, zeros behind it where it is shorter.
const fn head(text: &[u8]) -> u64 {
    match text.first_chunk() {
        Some(&head) => u64::from_le_bytes(head),
        None => match text {
            [a, b, c, d, rest @ ..] => {
                let (mut head, mut rest, mut shift) = (u32::from_le_bytes([*a, *b, *c, *d]) as u64, rest, 32);
                while let [byte, more @ ..] = rest {
                    head |= (*byte as u64) << shift;
                    (rest, shift) = (more, shift + 8);
                }
                head
            }
            // Shorter than any of the beginnings.
            _ => 0,
        },
    }
}

/// Of each beginning its head and which bits of it count: most names are told from all of them by these alone.
#[expect(clippy::indexing_slicing, reason = "computed at compile time")]
const HEADS: [(u64, u64); BEGINNINGS.len()] = {
    let mut heads = [(0, 0); BEGINNINGS.len()];
    let mut at = 0;
    while at < heads.len() {
        let length = BEGINNINGS[at].len();
        heads[at] = (head(BEGINNINGS[at]), if length < 8 { (1 << (8 * length)) - 1 } else { u64::MAX });
        at += 1;
    }
    heads
};

/// Whether a name, whatever stands behind it, begins as platform packages do.
fn begins_as_platform(name: &[u8]) -> bool {
    let first = head(name);
    HEADS.iter().any(|&(head, counts)| first & counts == head) && BEGINNINGS.iter().any(|start| name.starts_with(start))
}

/// What a name can mean before a release is chosen.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// A type of the platform, now or once, that may ask for a module other than java.base.
    Watched,
    /// A type of java.base.
    Base,
    /// A type of the program, or one that is nowhere.
    Other,
}

pub(super) fn classify(name: &[u8]) -> Kind {
    if !begins_as_platform(name) {
        return Kind::Other;
    }
    let package = package_of(name);
    if ALWAYS_BASE.contains(&package) {
        return if last_release_with(name).is_some() { Kind::Watched } else { Kind::Base };
    }
    if ever_platform_package(package) { Kind::Watched } else { Kind::Other }
}

/// The class that a string constant may name: `javax.naming.InitialContext`, with dots or slashes. Only texts that can
/// be a name of a type in a package are taken; whether the platform has it is asked later.
pub(super) fn class_in_text(text: &[u8]) -> Option<Vec<u8>> {
    // `sql.A` would be the shortest, and no platform package starts with another letter.
    if text.len() < 5 || text.len() > 200 || !matches!(text.first(), Some(b'a'..=b'z')) {
        return None;
    }
    let last = text.iter().rposition(|&byte| byte == b'.' || byte == b'/')?;
    if !text.get(last + 1).is_some_and(u8::is_ascii_uppercase) {
        return None;
    }
    let plain = |byte: &u8| byte.is_ascii_alphanumeric() || matches!(byte, b'.' | b'/' | b'_' | b'$');
    if !text.iter().all(plain) {
        return None;
    }
    Some(text.iter().map(|&byte| if byte == b'.' { b'/' } else { byte }).collect())
}

/// Bytes beyond which a text is no list of names that somebody wrote.
const LONGEST_LIST: usize = 1 << 14;

/// The classes that a longer string constant may name: a list of names, or lines with keys and names as in a properties
/// file. Prose that has a name in it is left out.
pub(super) fn classes_in_text(text: &[u8]) -> impl Iterator<Item = Vec<u8>> {
    let is_list = text.len() <= LONGEST_LIST
        && text.iter().any(|byte| matches!(byte, b'.' | b'/'))
        && text.iter().any(|&byte| separates(byte) || byte.is_ascii_whitespace() || wraps(byte));
    let parts = text.split(|&byte| separates(byte)).filter(move |_| is_list);
    parts.flat_map(|part| {
        let words = || part.split(u8::is_ascii_whitespace).filter(|word| !word.is_empty()).map(bare);
        // Of several words each has to be a name.
        let are_names = words().all(|word| class_in_text(word).is_some());
        words().filter(move |_| are_names).filter_map(class_in_text)
    })
}

/// Words behind which a text that is code names a class: of Java and of the languages that are made from it, of expressions,
/// and of what makes a function of a method in SQL.
const INTRODUCE: [&[u8]; 6] = [b"new", b"import", b"static", b"T", b"FOR", b"NAME"];

/// The classes that code in a string constant names: `new gauge.Tide(3)`, `import gauge.Tide`, `T(gauge.Tide)`,
/// `CREATE ALIAS LEVEL FOR "gauge.Tide.level"`. There the name of a member may follow.
pub(super) fn classes_in_code(text: &[u8]) -> impl Iterator<Item = Vec<u8>> {
    // Most texts end with their first dot, or have none.
    let may_be = text.len() <= LONGEST_LIST
        && memchr::memchr_iter(b'.', text).any(|at| text.get(at + 1).is_some_and(u8::is_ascii_alphabetic));
    let code = if may_be { text } else { &[] };
    let is_word = |byte: &u8| byte.is_ascii_alphanumeric() || matches!(byte, b'.' | b'_' | b'$');
    let words = code.split(move |byte| !is_word(byte)).filter(|word| !word.is_empty());
    let pairs = words.scan(&b""[..], |before, word| Some((std::mem::replace(before, word), word)));
    let named = pairs.filter(|(before, _)| INTRODUCE.contains(before)).map(|(_, word)| word);
    let owner = |word: &[u8]| class_in_text(word.get(..word.iter().rposition(|&byte| byte == b'.')?)?);
    named.filter_map(move |word| class_in_text(word).or_else(|| owner(word)))
}

/// Whether it stands between the names of a list.
fn separates(byte: u8) -> bool {
    matches!(byte, b',' | b';' | b'|' | b'=' | b'\n' | b'\r')
}

/// Whether it stands around a name.
fn wraps(byte: u8) -> bool {
    matches!(byte, b'"' | b'\'' | b'[' | b']' | b'{' | b'}' | b'(' | b')')
}

/// A word without what stands around it.
fn bare(word: &[u8]) -> &[u8] {
    let start = word.iter().position(|&byte| !wraps(byte)).unwrap_or(word.len());
    let end = word.iter().rposition(|&byte| !wraps(byte)).map_or(start, |last| last + 1);
    word.get(start..end).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::platform::Catalogue;

    /// The lists that save time must decide nothing: they are held against every built-in catalogue.
    #[test]
    fn packages_that_are_passed_over_are_in_java_base_in_every_release() {
        for release in Catalogue::BUILT_IN {
            let catalogue = Catalogue::built_in(release).unwrap();
            for package in ALWAYS_BASE {
                let module = catalogue.module_of_package(package);
                // A package may be younger than the release; what it must never be is another module's.
                assert!(module.is_none_or(|module| catalogue.name(module) == "java.base"), "{package:?} on {release}");
            }
        }
    }

    #[test]
    fn every_platform_package_starts_as_listed() {
        for release in Catalogue::BUILT_IN {
            let catalogue = Catalogue::built_in(release).unwrap();
            for package in catalogue.modules.iter().flat_map(|module| &module.packages) {
                // Two packages of the old tool kit hold pictures and no classes.
                let pictures = package.contains("toolbarButtonGraphics");
                let listed = BEGINNINGS.iter().any(|start| format!("{package}/").as_bytes().starts_with(start));
                assert!(listed || pictures || &**package == "jdk", "{package} of {release}");
            }
        }
    }

    #[test]
    fn types_that_were_removed_are_not_passed_over() {
        let removed = include_str!("../platform/built_in/removed.txt");
        let names = removed.lines().filter_map(|line| line.split(' ').next());
        for name in names {
            assert!(!plainly_base(name.as_bytes()), "{name}");
            assert!(classify(name.as_bytes()) == Kind::Watched, "{name}");
        }
        assert!(plainly_base(b"java/lang/String") && !plainly_base(b"java/lang/management/ManagementFactory"));
    }

    #[test]
    fn descriptors_are_passed_over_only_where_nothing_can_ask() {
        for text in ["(Ljava/sql/Driver;)V", "[[Ljava/util/logging/Level;", "<T:Ljavax/naming/Name;>Ljava/lang/Object;"]
        {
            assert!(can_ask(text.as_bytes()), "{text}");
            assert!(text.starts_with('<') || descriptor_can_ask(text.as_bytes()), "{text}");
        }
        for text in ["()V", "(Ljava/lang/String;[I)Ljava/util/List;", "Lgauge/Reading;", "Ljava/util/Map<TK;TV;>;"] {
            assert!(!can_ask(text.as_bytes()) && !descriptor_can_ask(text.as_bytes()), "{text}");
        }
    }

    /// Heads are compared first; they must let every beginning pass, however little stands behind it.
    #[test]
    fn beginnings_are_known_by_their_heads() {
        for start in BEGINNINGS {
            assert!(begins_as_platform(start) && begins_as_platform(&[start, &b"A"[..]].concat()));
            assert!(
                !begins_as_platform(&start[..start.len() - 1]) && !begins_as_platform(&[&b"x"[..], start].concat())
            );
        }
        assert!(!begins_as_platform(b"") && !begins_as_platform(b"org/"));
    }

    #[test]
    fn lists_of_names_are_taken_apart_and_prose_is_not() {
        let found = |text: &str| -> Vec<String> {
            classes_in_text(text.as_bytes()).map(|name| String::from_utf8(name).unwrap()).collect()
        };
        assert_eq!(found("gauge.Tide,gauge.Sluice"), ["gauge/Tide", "gauge/Sluice"]);
        assert_eq!(found("gauge.Tide; gauge.Sluice ;tide"), ["gauge/Tide", "gauge/Sluice"]);
        assert_eq!(found("gauge.Tide gauge.Sluice"), ["gauge/Tide", "gauge/Sluice"]);
        assert_eq!(found("handlers=gauge.Handler\nlevel=ALL\n"), ["gauge/Handler"]);
        assert_eq!(found("type = \"gauge.Handler\""), ["gauge/Handler"]);
        assert_eq!(found("[gauge.Tide]"), ["gauge/Tide"]);
        for prose in ["no gauge.Tide there", "cannot load gauge.Tide, sorry: gauge.Sluice is gone", "a, b. C", ""] {
            assert!(found(prose).is_empty(), "{prose}");
        }
    }

    #[test]
    fn code_names_classes_behind_words_that_introduce_them() {
        let found = |text: &str| -> Vec<String> {
            classes_in_code(text.as_bytes()).map(|name| String::from_utf8(name).unwrap()).collect()
        };
        assert_eq!(found("new gauge.Tide(3).level"), ["gauge/Tide"]);
        assert_eq!(found("new('gauge.Tide', 0l)"), ["gauge/Tide"]);
        assert_eq!(found("import gauge.Tide; import static gauge.Sluice.open;"), ["gauge/Tide", "gauge/Sluice"]);
        assert_eq!(found("#{T(gauge.Tide).LOW == 3}"), ["gauge/Tide"]);
        assert_eq!(found("CREATE ALIAS LEVEL FOR \"gauge.Tide.level\""), ["gauge/Tide"]);
        assert_eq!(found("EXTERNAL NAME 'gauge.Tide.level'"), ["gauge/Tide"]);
        for prose in
            ["no gauge.Tide there", "a new one for gauge.Tide", "renew gauge.Tide", "new gauge.tide", "import gauge.*"]
        {
            assert!(found(prose).is_empty(), "{prose}");
        }
    }

    #[test]
    fn only_texts_that_can_be_a_type_name_are_taken() {
        assert_eq!(class_in_text(b"javax.naming.InitialContext").as_deref(), Some(&b"javax/naming/InitialContext"[..]));
        for text in [&b"no name"[..], b"java.sql", b"x.Y", b"Capital.Start", b"a.b.C?d"] {
            assert_eq!(class_in_text(text), None);
        }
    }
}

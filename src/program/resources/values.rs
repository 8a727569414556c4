//! Words of configuration that are no names of classes, and yet ask the platform for something: charsets, languages,
//! algorithms.
//!
//! The first function to read is [`read`]. Formats differ in what stands around a value, so each is read word by word.

use crate::needs;

use super::sink::Sink;

/// Words taken of one file.
const MOST: usize = 64;

/// Bytes beyond which a word is no such value.
const LONGEST: usize = 96;

/// Bytes between tags, braces and ends of lines beyond which it is prose.
const LONGEST_PIECE: usize = 256;

/// How the last part of a key ends whose value is a language, be it as short as `de`.
const LANGUAGE_KEYS: [&str; 3] = ["locale", "language", "lang"];

/// Takes the words that the table of needs asks for. Lines that start with `#` or `!` are comments wherever these signs
/// mean anything.
pub(super) fn read(sink: &mut Sink<'_>, text: &str) {
    let part = |c: char| c.is_ascii_alphanumeric() || matches!(c, '.' | '_' | ':' | '/' | '+' | '-');
    let lines = text.lines().filter(|line| !line.trim_start().starts_with(['#', '!']));
    let is_marked_up = text.trim_start().starts_with(['<', '{', '[']);
    let pieces = lines.flat_map(|line| line.split(move |c| is_marked_up && matches!(c, '<' | '>' | '{' | '}')));
    let pieces = pieces.filter(|piece| piece.len() <= LONGEST_PIECE);
    let mut before = "";
    for piece in pieces {
        // A key ends at its colon, while that of an address stands within.
        for word in piece.split(|c| !part(c)).map(|word| word.trim_end_matches([':', '.', '/'])) {
            let is_language = is_of_language(before) || is_regional(word);
            let value = word.rsplit_once(':').filter(|(_, rest)| !rest.starts_with('/')).map_or(word, |(_, rest)| rest);
            for word in [word, value] {
                let fits = word.len() <= LONGEST && sink.texts.len() < MOST && (word.len() > 2 || is_language);
                if fits && (!is_tag(word) || is_language) && needs::wants_text_of_file(word.as_bytes()) {
                    sink.texts.insert(word.into());
                }
            }
            if !word.is_empty() {
                before = word;
            }
        }
    }
}

/// Whether a key is one for languages.
fn is_of_language(key: &str) -> bool {
    // `xml:lang` tells of the text itself (XML 1.0, §2.12).
    !key.starts_with("xml:")
        && LANGUAGE_KEYS.iter().any(|end| {
            let start = key.len().saturating_sub(end.len());
            key.get(start..).is_some_and(|last| last.eq_ignore_ascii_case(end))
        })
}

/// Whether a word has the shape of a language's tag, with a region or without (BCP 47; names of `java.util.Locale`).
fn is_tag(word: &str) -> bool {
    let bytes = word.as_bytes();
    matches!(bytes, [_, _] | [_, _, b'-' | b'_', ..]) && bytes.iter().take(2).all(u8::is_ascii_lowercase)
}

/// Whether it has a region of two letters: little else looks like that.
fn is_regional(word: &str) -> bool {
    matches!(word.as_bytes(), [_, _, b'-' | b'_', a, b] if a.is_ascii_uppercase() && b.is_ascii_uppercase())
        && is_tag(word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_are_told_from_other_words() {
        for word in ["de-DE", "pt_BR"] {
            assert!(is_tag(word) && is_regional(word), "{word}");
        }
        for word in ["de", "zh-Hans", "id_rsa"] {
            assert!(is_tag(word) && !is_regional(word), "{word}");
        }
        for word in ["", "d", "DE", "UTF-8", "tide"] {
            assert!(!is_tag(word), "{word}");
        }
    }

    #[test]
    fn keys_of_languages_end_so() {
        assert!(is_of_language("report.language") && is_of_language("defaultLocale"));
        assert!(!is_of_language("slang.level") && !is_of_language("xml:lang") && !is_of_language(""));
    }
}

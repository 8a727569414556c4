//! Texts that name a language or a charset.

/// The two-letter languages of ISO 639-1 that `java.util.Locale` knows, old forms included, without English.
const LANGUAGES: &str = "aa ab ae af ak am an ar as av ay az ba be bg bh bi bm bn bo br bs ca ce ch co cr cs cu cv cy \
    da de dv dz ee el eo es et eu fa ff fi fj fo fr fy ga gd gl gn gu gv ha he hi ho hr ht hu hy hz ia id ie ig ii ik \
    in io is it iu iw ja ji jv ka kg ki kj kk kl km kn ko kr ks ku kv kw ky la lb lg li ln lo lt lu lv mg mh mi mk ml \
    mn mo mr ms mt my na nb nd ne ng nl nn no nr nv ny oc oj om or os pa pi pl ps pt qu rm rn ro ru rw sa sc sd se sg \
    si sk sl sm sn so sq sr ss st su sv sw ta te tg th ti tk tl tn to tr ts tt tw ty ug uk ur uz ve vi vo wa wo xh yi \
    yo za zh zu";

/// Countries that write English in another way than the United States (ISO 3166-1): `new Locale("en", "GB")`.
const ENGLISH_ELSEWHERE: [&[u8]; 10] = [b"GB", b"IE", b"AU", b"NZ", b"CA", b"ZA", b"IN", b"SG", b"HK", b"MT"];

/// By first letter, a bit for each second letter.
const LETTERS: [u32; 26] = letters(LANGUAGES.as_bytes());

#[allow(clippy::indexing_slicing, reason = "computed while compiling")]
const fn letters(list: &[u8]) -> [u32; 26] {
    let mut bits = [0; 26];
    let mut at = 0;
    while at + 1 < list.len() {
        bits[(list[at] - b'a') as usize] |= 1 << (list[at + 1] - b'a');
        at += 3;
    }
    bits
}

/// Bare two-letter words of programs and pages that are languages as well; with a country they count.
const WORDS: [&[u8]; 15] =
    [b"am", b"an", b"as", b"be", b"br", b"id", b"in", b"is", b"li", b"my", b"no", b"or", b"so", b"to", b"tt"];

fn is_language(first: u8, second: u8) -> bool {
    let seconds = LETTERS.get(usize::from(first.wrapping_sub(b'a'))).copied().unwrap_or(0);
    second.is_ascii_lowercase() && seconds >> (second - b'a') & 1 != 0
}

/// Whether a text is a language tag, or part of a locale's name, that asks for more than the root locale and English
/// as written in the United States: `de`, `de-CH`, `pt_BR`, `en-GB`, `GB`; or has one with a country among its settings:
/// `jdbc:gauges;territory=de_DE;create=true`. Languages of three letters are left out.
pub(super) fn is_foreign_locale(text: &[u8]) -> bool {
    is_tag(text) || text.len() > SETTING && memchr::memchr_iter(b'=', text).any(|at| is_set(text, at + 1))
}

/// Bytes of a tag with a country, such as `de_DE`.
const TAG: usize = 5;

/// Bytes of the shortest setting of one.
const SETTING: usize = TAG + 1;

/// Whether the value that begins there is such a tag.
fn is_set(text: &[u8], from: usize) -> bool {
    let Some((tag, behind)) = text.get(from..).and_then(|value| value.split_at_checked(TAG)) else { return false };
    let ends = behind.first().is_none_or(|byte| matches!(byte, b';' | b'&' | b',' | b' ' | b'"' | b'\''));
    ends && tag.iter().skip(3).all(u8::is_ascii_uppercase) && is_tag(tag)
}

fn is_tag(text: &[u8]) -> bool {
    match text {
        &[a, b] => (is_language(a, b) && !WORDS.contains(&text)) || ENGLISH_ELSEWHERE.contains(&text),
        [b'e', b'n', b'-' | b'_', country @ ..] => ENGLISH_ELSEWHERE.contains(&country),
        &[a, b, b'-' | b'_', ref rest @ ..] => {
            let plain = |byte: &u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_');
            is_language(a, b) && (2..=16).contains(&rest.len()) && rest.iter().all(plain)
        }
        _ => false,
    }
}

/// Whether an alias of a charset is more than a word or number that means something else as often: `cp037`, not `500`.
pub(super) fn is_telling_charset(name: &[u8]) -> bool {
    name.len() >= 5
        && name.iter().any(u8::is_ascii_alphabetic)
        && name.iter().any(|byte| byte.is_ascii_digit() || *byte == b'-')
}

#[cfg(test)]
mod tests {
    use super::*;

    /// BCP 47 tags and the names of `java.util.Locale`.
    #[test]
    fn only_locales_that_need_data_count() {
        for text in ["jdbc:gauges:level;territory=de_DE;create=true", "https://gauges.example/?lang=fr-FR"] {
            assert!(is_foreign_locale(text.as_bytes()), "{text}");
        }
        for text in ["level=de_DEx", "level=en_US;", "level=de", "level=xx_YY", "de_DE;level=3", "=", "a=de_de"] {
            assert!(!is_foreign_locale(text.as_bytes()), "{text}");
        }
        for text in ["de", "de-DE", "pt_BR", "zh-Hans-CN", "en-GB", "en_AU", "GB", "iw", "zu", "no-NO", "id_ID"] {
            assert!(is_foreign_locale(text.as_bytes()), "{text}");
        }
        for text in [
            "",
            "en",
            "en-US",
            "en_US",
            "US",
            "und",
            "DE",
            "no",
            "id",
            "xx",
            "xx-YY",
            "e",
            "de-",
            "de-DE something",
            "ok?",
        ] {
            assert!(!is_foreign_locale(text.as_bytes()), "{text}");
        }
    }

    #[test]
    fn bare_numbers_and_words_tell_of_no_charset() {
        assert!(is_telling_charset(b"ibm037") && is_telling_charset(b"cp500") && is_telling_charset(b"iso-2022-jp"));
        assert!(!is_telling_charset(b"500") && !is_telling_charset(b"jis") && !is_telling_charset(b"iscii"));
    }
}

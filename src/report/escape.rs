//! Foreign text made fit for a terminal: nothing in it can move the cursor, turn the writing direction or hide.
//!
//! Knows characters only; nothing of reports. The first function to read is [`visible`]; [`in_markup`] adds what markup
//! needs. JSON has an escape of its own for such characters, [`in_json`]: it says the same to whatever reads it, and may
//! be looked at on a terminal.

use std::borrow::Cow;
use std::fmt::Write as _;

use unicode_width::UnicodeWidthChar;

/// Marks in a row that a base character may carry before the rest is shown as numbers: real scripts rarely pass two,
/// and a heap of them paints over the neighbouring lines.
const MARKS_IN_A_ROW: usize = 2;

/// Replaces each character that a reader cannot see, or that acts on the terminal, by its number: `\u{202e}`.
pub fn visible(text: &str) -> Cow<'_, str> {
    let mut marks = 0;
    let mut suspect = |c: char| {
        marks = if c.width() == Some(0) { marks + 1 } else { 0 };
        acts(c) || marks > MARKS_IN_A_ROW
    };
    if !text.chars().any(&mut suspect) {
        return Cow::Borrowed(text);
    }
    marks = 0;
    let mut shown = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        marks = if c.width() == Some(0) { marks + 1 } else { 0 };
        if acts(c) || marks > MARKS_IN_A_ROW {
            // A `String` takes whatever is written to it.
            let _ = write!(shown, "\\u{{{:x}}}", u32::from(c));
        } else {
            shown.push(c);
        }
    }
    Cow::Owned(shown)
}

/// Writes such characters of a JSON text as `\\u202e` (RFC 8259 §7), which means the same: beyond ASCII they occur within
/// strings only, and those of ASCII are escaped by whoever wrote the text.
pub fn in_json(text: &str) -> Cow<'_, str> {
    let suspect = |c: char| !c.is_ascii() && acts(c);
    if !text.chars().any(suspect) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        if suspect(c) {
            for unit in c.encode_utf16(&mut [0; 2]) {
                // A `String` takes whatever is written to it.
                let _ = write!(shown, "\\u{unit:04x}");
            }
        } else {
            shown.push(c);
        }
    }
    Cow::Owned(shown)
}

/// Foreign text as text of an XML or HTML document (XML 1.0 §2.4, HTML Living Standard §13.1.2); not within an attribute.
pub fn in_markup(text: &str) -> String {
    visible(text).replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

/// Whether a character must not reach a terminal as it is.
///
/// Controls (general category Cc), line and paragraph separators (Zl, Zp), format characters (Cf), the other
/// characters with the property `Default_Ignorable_Code_Point`, and U+FFFE and its like (Unicode Character Database,
/// `UnicodeData.txt` and `DerivedCoreProperties.txt`, version 16; ranges from memory).
fn acts(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{ad}' | '\u{34f}' | '\u{600}'..='\u{605}' | '\u{61c}' | '\u{6dd}' | '\u{70f}' | '\u{890}'..='\u{891}'
            | '\u{8e2}' | '\u{115f}'..='\u{1160}' | '\u{17b4}'..='\u{17b5}' | '\u{180b}'..='\u{180f}'
            | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{3164}'
            | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{ffa0}' | '\u{fff0}'..='\u{fffb}' | '\u{fffe}'..='\u{ffff}'
            | '\u{110bd}' | '\u{110cd}' | '\u{13430}'..='\u{1343f}' | '\u{1bca0}'..='\u{1bca3}'
            | '\u{1d173}'..='\u{1d17a}' | '\u{e0000}'..='\u{e0fff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_text_of_any_script_stays_as_it_is() {
        for text in ["harbour.jar", "Pegelstände/Schleuse.class", "潮位計.jar", "e\u{301}te\u{301}", "C:\\gauges"] {
            assert!(matches!(visible(text), Cow::Borrowed(same) if same == text));
        }
    }

    /// ECMA-48: ESC [ starts a control sequence, and U+009B alone does too.
    #[test]
    fn terminal_controls_are_shown_as_numbers() {
        assert_eq!(
            visible("a\x1b[31mb\u{9b}2Jc\r\n\t\0\u{7f}"),
            "a\\u{1b}[31mb\\u{9b}2Jc\\u{d}\\u{a}\\u{9}\\u{0}\\u{7f}"
        );
    }

    #[test]
    fn json_means_the_same_and_hides_nothing() {
        let name = "a\u{202e}b\u{e0001}c\u{9b}d Pegelstände";
        let text = serde_json::to_string(name).unwrap();
        let shown = in_json(&text);
        assert_eq!(shown, "\"a\\u202eb\\udb40\\udc01c\\u009bd Pegelstände\"");
        assert_eq!(serde_json::from_str::<String>(&shown).unwrap(), name);
    }

    /// Unicode Standard Annex 9, section 2: the explicit directional formatting characters.
    #[test]
    fn direction_marks_are_shown_as_numbers() {
        for mark in
            "\u{61c}\u{200e}\u{200f}\u{202a}\u{202b}\u{202c}\u{202d}\u{202e}\u{2066}\u{2067}\u{2068}\u{2069}".chars()
        {
            assert_eq!(visible(&mark.to_string()), format!("\\u{{{:x}}}", u32::from(mark)));
        }
    }

    #[test]
    fn what_cannot_be_seen_is_shown_as_numbers() {
        assert_eq!(visible("gau\u{200b}ge\u{feff}\u{e0041}\u{3164}"), "gau\\u{200b}ge\\u{feff}\\u{e0041}\\u{3164}");
    }

    #[test]
    fn a_heap_of_marks_is_not_painted_over_the_lines_above() {
        let heap = format!("a{}", "\u{301}".repeat(5));
        assert_eq!(visible(&heap), "a\u{301}\u{301}\\u{301}\\u{301}\\u{301}");
    }
}

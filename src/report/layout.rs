//! Lines of text within a number of columns: measuring, shortening, breaking, and figures in few digits.
//!
//! Counts columns as terminals do (Unicode Standard Annex 11), not characters. Knows nothing of reports. The first
//! functions to read are [`Width::shorten`] and [`Width::wrap`].

use std::borrow::Cow;

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// Columns of a line or of a part of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Width(pub usize);

impl Width {
    /// What is left beside `columns` that are taken; never less than eight, so that something is always seen.
    #[must_use]
    pub fn less(self, columns: usize) -> Width {
        Width(self.0.saturating_sub(columns).max(8))
    }

    /// `text` in at most this many columns: the middle gives way to `…`, since foreign names differ at both ends.
    pub fn shorten(self, text: &str) -> Cow<'_, str> {
        if text.width() <= self.0 {
            return Cow::Borrowed(text);
        }
        let room = self.0.saturating_sub(1);
        let head = leading(text.chars(), room - room / 2);
        let tail: Vec<char> = leading(text.chars().rev(), room / 2);
        Cow::Owned(head.into_iter().chain(['…']).chain(tail.into_iter().rev()).collect())
    }

    /// A path in at most this many columns: whole parts from the left give way, since the name of the file tells most;
    /// only a name that is too long by itself is shortened.
    pub fn shorten_path(self, path: &str) -> Cow<'_, str> {
        if path.width() <= self.0 {
            return Cow::Borrowed(path);
        }
        let ends = path.match_indices(['/', '\\']).map(|(at, _)| path.get(at..).unwrap_or_default());
        let (mut last, mut shown) = (path, None);
        for end in ends {
            last = end;
            if shown.is_none() && end.width() < self.0 {
                shown = Some(end);
            }
        }
        match shown {
            Some(end) => Cow::Owned(format!("…{end}")),
            None => Cow::Owned(self.shorten(last.get(1..).filter(|_| last != path).unwrap_or(path)).into_owned()),
        }
    }

    /// `text` in lines of at most this many columns, broken at spaces; a longer word is shortened.
    pub fn wrap(self, text: &str) -> Vec<String> {
        let mut lines = Vec::new();
        let mut line = String::new();
        for word in text.split_whitespace() {
            let word = self.shorten(word);
            if !line.is_empty() && line.width() + 1 + word.width() > self.0 {
                lines.push(std::mem::take(&mut line));
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(&word);
        }
        if !line.is_empty() {
            lines.push(line);
        }
        lines
    }
}

/// The characters from the start that fit into `room` columns.
fn leading(chars: impl Iterator<Item = char>, room: usize) -> Vec<char> {
    let mut used = 0;
    chars
        .take_while(|c| {
            used += c.width().unwrap_or(0);
            used <= room
        })
        .collect()
}

/// `text` followed by spaces up to `columns`.
pub fn pad(text: &str, columns: usize) -> String {
    format!("{text}{}", " ".repeat(columns.saturating_sub(text.width())))
}

/// Columns of the widest of some texts, at most `limit`.
pub fn widest<'a>(texts: impl Iterator<Item = &'a str>, limit: usize) -> usize {
    texts.map(UnicodeWidthStr::width).max().unwrap_or(0).min(limit)
}

/// Bytes in millions, with one digit after the point: `23.4 MB`. Something is never shown as nothing.
pub fn megabytes(bytes: u64) -> String {
    let tenths = bytes / 100_000 + u64::from(bytes % 100_000 >= 50_000);
    match (bytes, tenths) {
        (0, _) => "0 MB".into(),
        (_, 0) => "<0.1 MB".into(),
        _ => format!("{}.{} MB", tenths / 10, tenths % 10),
    }
}

/// A number with its noun: `1 class`, `12,345 classes`.
pub fn count(number: usize, one: &str, many: &str) -> String {
    format!("{} {}", grouped(number as u64), if number == 1 { one } else { many })
}

/// A number with commas between thousands.
pub fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let mut shown = String::with_capacity(digits.len() + digits.len() / 3);
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            shown.push(',');
        }
        shown.push(digit);
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_names_keep_both_ends() {
        assert_eq!(Width(11).shorten("harbour.store.Ledger"), "harbo…edger");
        assert_eq!(Width(20).shorten("harbour.store.Ledger"), "harbour.store.Ledger");
        assert_eq!(Width(1).shorten("gauge"), "…");
    }

    #[test]
    fn paths_keep_the_name_of_the_file() {
        let path = "/srv/harbour/lib/gauge-store-3.7.jar";
        let shown = |columns| Width(columns).shorten_path(path).into_owned();
        assert_eq!(shown(36), path);
        assert_eq!(shown(35), "…/harbour/lib/gauge-store-3.7.jar");
        assert_eq!(shown(32), "…/lib/gauge-store-3.7.jar");
        assert_eq!(shown(21), "…/gauge-store-3.7.jar");
        assert_eq!(shown(11), "gauge…7.jar");
        assert_eq!(Width(7).shorten_path("gauge-store.jar"), "gau…jar");
    }

    /// Unicode Standard Annex 11: East Asian wide characters take two columns.
    #[test]
    fn wide_characters_count_twice() {
        let short = Width(7).shorten("潮位計測所記録").into_owned();
        assert_eq!((short.as_str(), short.width()), ("潮…録", 5));
    }

    #[test]
    fn a_very_long_name_stays_within_its_columns() {
        let name = "x".repeat(60_000);
        assert_eq!(Width(40).shorten(&name).width(), 40);
        assert!(Width(40).wrap(&format!("a {name} b")).iter().all(|line| line.width() <= 40));
    }

    #[test]
    fn sentences_break_at_spaces() {
        assert_eq!(Width(12).wrap("the sluice opens at noon"), ["the sluice", "opens at", "noon"]);
        assert!(Width(12).wrap("  ").is_empty());
    }

    #[test]
    fn figures_are_short_and_never_hide_something() {
        let shown = [0, 1, 49_999, 50_000, 23_449_999, 23_450_000, 168_267_956].map(megabytes);
        assert_eq!(shown, ["0 MB", "<0.1 MB", "<0.1 MB", "0.1 MB", "23.4 MB", "23.5 MB", "168.3 MB"]);
        assert_eq!([0, 999, 1000, 1_234_567].map(grouped), ["0", "999", "1,000", "1,234,567"]);
        assert_eq!(count(1, "class", "classes"), "1 class");
    }
}

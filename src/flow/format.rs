//! Texts that a format makes (`java.util.Formatter`).
//!
//! The first function to read is [`Nodes::format`].

use super::Stop;
use super::nodes::{Id, Node, Nodes};

/// One conversion of a format, `%[index$][flags][width][.precision]conversion`.
#[derive(Debug, PartialEq, Eq)]
struct Conversion {
    /// The text before it.
    before: Box<[u8]>,
    /// The number of the value that it takes, counted from 0, where that is known.
    value: Option<usize>,
    /// Whether a text comes out as it is.
    is_plain: bool,
}

impl Nodes {
    /// The text that a format makes of the elements of an array: what stands between its conversions is known, and what
    /// `%s` is given.
    pub(super) fn format(&mut self, format: Id, values: Id) -> Result<Id, Stop> {
        let values = match self.get(values) {
            Node::Array { elements, whole: true } => elements.to_vec(),
            _ => Vec::new(),
        };
        self.each_text(format, |nodes, format| {
            let Node::Known(bytes) = nodes.get(format) else { return Ok(Nodes::UNKNOWN) };
            let (conversions, behind) = conversions(bytes);
            // An array has each element once: several are told apart only if there are as many as the format takes.
            let taken = conversions.iter().filter_map(|conversion| conversion.value).max().map_or(0, |last| last + 1);
            let mut parts = Vec::with_capacity(2 * conversions.len() + 1);
            for Conversion { before, value, is_plain } in conversions {
                parts.push(nodes.known(&before)?);
                let value = value.filter(|_| is_plain).and_then(|number| match *values {
                    [only] => Some(only),
                    _ if values.len() == taken => values.get(number).copied(),
                    _ => None,
                });
                parts.push(match value {
                    Some(value) => nodes.read_as_text(value, b"Ljava/lang/Object;")?,
                    None => Nodes::UNKNOWN,
                });
            }
            parts.push(nodes.known(&behind)?);
            nodes.concat(&parts)
        })
    }
}

/// The conversions of a format, and the text behind the last. What is not understood ends in one of which nothing is
/// known.
fn conversions(format: &[u8]) -> (Vec<Conversion>, Box<[u8]>) {
    let (mut found, mut rest, mut ordinary) = (Vec::new(), format, 0);
    while let Some(at) = rest.iter().position(|&byte| byte == b'%') {
        let (before, behind) = rest.split_at_checked(at).unwrap_or_default();
        let end = behind.iter().position(u8::is_ascii_alphabetic).unwrap_or(0);
        let options = behind.get(1..end).unwrap_or_default();
        let is_option =
            |byte: &u8| matches!(byte, b'-' | b'#' | b'+' | b' ' | b',' | b'(' | b'<' | b'$' | b'.' | b'0'..=b'9');
        if end == 0 || !options.iter().all(is_option) {
            // `%%` or none that we read.
            found.push(Conversion { before: before.into(), value: None, is_plain: false });
            return (found, Box::default());
        }
        let kind = behind.get(end).copied().unwrap_or_default();
        let value = match options {
            _ if kind == b'n' => None,
            [digit @ b'1'..=b'9', b'$', ..] => Some(usize::from(digit - b'1')),
            _ if options.contains(&b'$') || options.contains(&b'<') => None,
            _ => {
                ordinary += 1;
                Some(ordinary - 1)
            }
        };
        let is_plain = kind == b's' && matches!(options, [] | [_, b'$']);
        found.push(Conversion { before: before.into(), value, is_plain });
        // A date's conversion has a letter more.
        let date = kind.eq_ignore_ascii_case(&b't');
        rest = behind.get(end + 1 + usize::from(date)..).unwrap_or_default();
    }
    (found, rest.into())
}

#[cfg(test)]
mod tests {
    use super::super::text::tests::{nodes, shown};

    fn made(format: &str, values: &[&str]) -> String {
        let mut nodes = nodes();
        let format = nodes.known(format.as_bytes()).unwrap();
        let values = values.iter().map(|value| nodes.known(value.as_bytes()).unwrap()).collect();
        let values = nodes.array(values, true).unwrap();
        let made = nodes.format(format, values).unwrap();
        shown(&nodes, made)
    }

    /// Java SE API, `java.util.Formatter`.
    #[test]
    fn formats_keep_what_is_between() {
        for (format, expected) in
            [("tide.%s.Gauge", "tide.?.Gauge"), ("a%1$-8.3sb%tYc", "a?b?c"), ("a%%b", "a?"), ("plain", "plain")]
        {
            assert_eq!(made(format, &[]), expected);
        }
    }

    /// Java SE API, `java.util.Formatter`, "Argument Index".
    #[test]
    fn values_stand_where_they_are_asked_for() {
        for (format, values, expected) in [
            ("%s.%s", &["tide", "Gauge"][..], "tide.Gauge"),
            ("%2$s.%1$s", &["Gauge", "tide"], "tide.Gauge"),
            ("%s%n.%s", &["tide", "Gauge"], "tide?.Gauge"),
            ("%9s.%s", &["tide", "Gauge"], "?.Gauge"),
            ("%d.%s", &["1", "Gauge"], "?.Gauge"),
            ("%s.%s.%s", &["tide", "Gauge"], "?.?.?"),
            ("%s.%s", &["tide", "tide"], "tide.tide"),
        ] {
            assert_eq!(made(format, values), expected, "{format}");
        }
    }
}

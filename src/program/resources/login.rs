//! Login configurations (`javax.security.auth.login.Configuration`): `Gauges { gauge.Login required keep=true; };`.
//!
//! The first function to read is [`read`].

use super::sink::Sink;

/// The words between a module's class and its options.
const FLAGS: [&str; 4] = ["required", "requisite", "sufficient", "optional"];

/// Takes the first word of each statement within braces. Files that are no login configuration may bear such names
/// too, so that no fault is found with any.
pub(super) fn read(sink: &mut Sink<'_>, text: &str) {
    let mut entry = String::new();
    let mut last: Option<&str> = None;
    let mut inside = false;
    let mut fresh = false;
    for token in tokens(text) {
        match token {
            "{" => {
                last.unwrap_or_default().clone_into(&mut entry);
                (inside, fresh) = (true, true);
            }
            "}" => inside = false,
            ";" => fresh = true,
            word => {
                if inside && fresh {
                    sink.name(word, Some(&entry));
                }
                fresh = false;
                last = Some(word);
            }
        }
    }
}

/// The class in a setting that holds one statement of a login configuration, as some clients' settings do.
pub(super) fn class_of_statement(value: &str) -> Option<&str> {
    let mut words = value.split_whitespace();
    let (class, flag) = (words.next()?, words.next()?);
    FLAGS.iter().any(|known| flag.trim_end_matches(';').eq_ignore_ascii_case(known)).then_some(class)
}

/// Words and the signs `{ } ;`, without comments and without what stands in quotes.
fn tokens(text: &str) -> impl Iterator<Item = &str> {
    let mut rest = text;
    std::iter::from_fn(move || {
        loop {
            rest = rest.trim_start();
            let comment = if rest.starts_with("/*") {
                Some(rest.find("*/").map_or(rest.len(), |end| end + 2))
            } else if rest.starts_with("//") || rest.starts_with('#') {
                Some(rest.find('\n').unwrap_or(rest.len()))
            } else {
                rest.strip_prefix('"').map(|quoted| quoted.find('"').map_or(rest.len(), |end| end + 2))
            };
            match comment {
                Some(end) => rest = rest.get(end..).unwrap_or_default(),
                None => break,
            }
        }
        let first = rest.chars().next()?;
        let sign = |c: char| matches!(c, '{' | '}' | ';' | '"');
        let end = if sign(first) {
            first.len_utf8()
        } else {
            rest.find(|c: char| c.is_whitespace() || sign(c)).unwrap_or(rest.len())
        };
        let (token, after) = rest.split_at(end);
        rest = after;
        Some(token)
    })
}

//! Variables in texts of a shell or a container build file: `$NAME`, `${NAME}`, `${NAME:-otherwise}`, `${NAME:+instead}`
//! (POSIX.1 Shell Command Language §2.6.2). The function to read is [`Variables::expand`].

use std::collections::BTreeMap;

/// Values by name, and what could not be told.
#[derive(Clone, Debug, Default)]
pub(super) struct Variables(pub BTreeMap<String, String>);

/// Variables within variables: more is no longer looked at.
const DEPTH: usize = 8;

/// A text beyond that is not expanded further: each pass may double it.
const MOST: usize = 1 << 20;

impl Variables {
    /// The text with values in place of variables. Names without a value are added to `unknown` and stand as written, so
    /// that a word which hangs on one is never taken for another.
    pub fn expand(&self, text: &str, unknown: &mut Vec<String>) -> String {
        self.expanded(text, unknown, 0)
    }

    fn expanded(&self, text: &str, unknown: &mut Vec<String>, depth: usize) -> String {
        let mut out = String::new();
        let mut rest = text;
        let mut literal = false;
        while let Some(at) = rest.find(['$', '\\', '\'']) {
            let (before, from) = rest.split_at(at);
            out.push_str(before);
            let mut characters = from.chars();
            let mark = characters.next().unwrap_or_default();
            rest = characters.as_str();
            match mark {
                '\'' => {
                    literal = !literal;
                    out.push(mark);
                }
                '\\' if !literal && rest.starts_with('$') => {
                    out.push('$');
                    rest = rest.get(1..).unwrap_or_default();
                }
                '$' if !literal && out.len() < MOST => match reference(rest) {
                    Some((name, otherwise, after)) => {
                        let value = self.0.get(name).filter(|value| !value.is_empty());
                        match (value, otherwise) {
                            (Some(_), Some(('+', text))) | (None, Some(('-', text))) if depth < DEPTH => {
                                out.push_str(&self.expanded(text, unknown, depth + 1));
                            }
                            (Some(value), _) => out.push_str(value),
                            (None, Some(('+', _))) => {}
                            (None, _) if self.0.contains_key(name) => {}
                            (None, _) => {
                                unknown.push(name.to_owned());
                                out.push('$');
                                out.push_str(rest.get(..rest.len() - after.len()).unwrap_or_default());
                            }
                        }
                        rest = after;
                    }
                    None => out.push('$'),
                },
                mark => out.push(mark),
            }
        }
        out.push_str(rest);
        out
    }
}

/// A name, what stands for it otherwise with its mark, and the text behind.
type Reference<'a> = (&'a str, Option<(char, &'a str)>, &'a str);

/// Name, what stands for it otherwise, and the text behind a reference whose dollar sign is gone.
fn reference(text: &str) -> Option<Reference<'_>> {
    let is_name = |c: char| c.is_ascii_alphanumeric() || c == '_';
    if let Some(braced) = text.strip_prefix('{') {
        let end = closing(braced)?;
        let (inner, after) = (braced.get(..end)?, braced.get(end + 1..)?);
        let name_end = inner.find(|c| !is_name(c)).unwrap_or(inner.len());
        let (name, tail) = inner.split_at(name_end);
        let tail = tail.strip_prefix(':').unwrap_or(tail);
        let otherwise = match tail.chars().next() {
            None => None,
            Some(mark @ ('-' | '+')) => Some((mark, tail.get(1..).unwrap_or_default())),
            // `:=`, `:?` and patterns: whatever they give is not followed.
            Some(_) => Some(('?', "")),
        };
        return (!name.is_empty()).then_some((name, otherwise, after));
    }
    let end = text.find(|c| !is_name(c)).unwrap_or(text.len());
    let (name, after) = text.split_at(end);
    (end > 0 && !text.starts_with(|c: char| c.is_ascii_digit())).then_some((name, None, after))
}

/// Where the brace closes that was opened before the text.
fn closing(text: &str) -> Option<usize> {
    let mut open = 1usize;
    for (at, c) in text.char_indices() {
        match c {
            '{' => open += 1,
            '}' => open -= 1,
            _ => {}
        }
        if open == 0 {
            return Some(at);
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_take_the_place_of_names() {
        let variables = Variables(BTreeMap::from([("HEAP".into(), "-Xmx1g".into()), ("NONE".into(), String::new())]));
        for (text, expected, missing) in [
            ("$HEAP -jar", "-Xmx1g -jar", ""),
            ("${HEAP}x", "-Xmx1gx", ""),
            ("${HEAP:-a}${MISS:-b}${MISS:-$HEAP}", "-Xmx1gb-Xmx1g", ""),
            ("${HEAP:+yes}${MISS:+yes}[$NONE]", "yes[]", ""),
            ("a $MISS ${GONE}b", "a $MISS ${GONE}b", "MISS GONE"),
            (r"\$HEAP '$HEAP' $ $1", r"$HEAP '$HEAP' $ $1", ""),
            ("${HEAP", "${HEAP", ""),
            ("${MISS:?gone}", "${MISS:?gone}", "MISS"),
        ] {
            let mut unknown = Vec::new();
            assert_eq!(variables.expand(text, &mut unknown), expected, "{text}");
            assert_eq!(unknown.join(" "), missing, "{text}");
        }
    }

    #[test]
    fn nothing_grows_without_bound() {
        let mut variables = Variables::default();
        let mut value = "x".repeat(1000);
        for _ in 0..40 {
            variables.0.insert("A".into(), value);
            value = variables.expand("$A$A$A$A", &mut Vec::new());
            value.truncate(2 * MOST);
        }
        assert!(value.len() <= 4 * MOST);
        let deep = "${A:-".repeat(10_000) + &"}".repeat(10_000);
        Variables::default().expand(&deep, &mut Vec::new());
    }
}

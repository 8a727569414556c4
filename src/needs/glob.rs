//! Patterns of the table: `*` stands for any run of bytes, `?` for one. Total and without recursion.

/// Which bytes count as equal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sameness {
    /// Equal ones.
    Exact,
    /// Letters of either case.
    AnyCase,
    /// The separators of class names: `.` and `/`.
    Separators,
}

impl Sameness {
    /// Whether a byte is what a pattern wants there.
    pub(super) fn holds(self, pattern: u8, byte: u8) -> bool {
        pattern == byte
            || match self {
                Sameness::Exact => false,
                Sameness::AnyCase => pattern.eq_ignore_ascii_case(&byte),
                Sameness::Separators => matches!((pattern, byte), (b'.', b'/') | (b'/', b'.')),
            }
    }
}

/// Whether the whole of `text` matches.
pub(super) fn matches(pattern: &[u8], text: &[u8], same: Sameness) -> bool {
    let (mut in_pattern, mut in_text) = (pattern, text);
    // After the last `*`, and where the text stood then: only the last one ever needs to give.
    let mut retry: Option<(&[u8], &[u8])> = None;
    loop {
        match (in_pattern, in_text) {
            ([b'*', rest @ ..], _) => {
                retry = Some((rest, in_text));
                in_pattern = rest;
            }
            ([wanted, rest @ ..], [byte, after @ ..]) if *wanted == b'?' || same.holds(*wanted, *byte) => {
                in_pattern = rest;
                in_text = after;
            }
            ([], []) => return true,
            _ => match retry {
                Some((after_star, [_, later @ ..])) => {
                    retry = Some((after_star, later));
                    in_pattern = after_star;
                    in_text = later;
                }
                _ => return false,
            },
        }
    }
}

/// Whether a pattern stands for more than itself.
pub(super) fn is_open(pattern: &str) -> bool {
    pattern.contains(['*', '?'])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stars_and_marks() {
        let holds = |pattern: &str, text: &str| matches(pattern.as_bytes(), text.as_bytes(), Sameness::Exact);
        for (pattern, text) in
            [("a", "a"), ("a*", "a"), ("*.png", "x.y.png"), ("a?c", "abc"), ("*a*b*", "xaxxbx"), ("**", "")]
        {
            assert!(holds(pattern, text), "{pattern} {text}");
        }
        for (pattern, text) in [("a", "A"), ("a", "ab"), ("?", ""), ("*.png", "png"), ("a*b", "abc"), ("", "a")] {
            assert!(!holds(pattern, text), "{pattern} {text}");
        }
        assert!(matches(b"sun.misc.*", b"sun/misc/Unsafe", Sameness::Separators));
        assert!(matches(b"LDAP", b"ldap", Sameness::AnyCase));
    }

    /// Many stars against a long text that nearly matches: the time is bounded by the product of the lengths.
    #[test]
    fn many_stars_take_no_exponential_time() {
        let pattern = "*a".repeat(30) + "b";
        assert!(!matches(pattern.as_bytes(), "a".repeat(5_000).as_bytes(), Sameness::Exact));
    }
}

//! Generic signatures (JVMS §4.7.9.1), as far as they name classes.
//!
//! Total and iterative: text that is no signature yields what can be made out and ends. The first function to read is
//! [`Classes::next`].

use std::borrow::Cow;

/// The class names in a class, method, field or local variable signature, in order, with repeats.
///
/// A member of a parameterised class is written with a point, `Lmap/Tree<TK;>.Node<TV;>;`: that names `map/Tree` and
/// `map/Tree$Node`.
pub fn classes(signature: &[u8]) -> Classes<'_> {
    Classes { text: signature, open: Vec::new(), named: None }
}

/// See [`classes`].
#[derive(Clone, Debug)]
pub struct Classes<'a> {
    text: &'a [u8],
    /// What stands around the place being read, outermost first.
    open: Vec<Open<'a>>,
    /// The class type whose name has just been read, and whose arguments, members or end are next.
    named: Option<Cow<'a, [u8]>>,
}

#[derive(Clone, Debug)]
enum Open<'a> {
    /// Type parameters of a generic class or method.
    Parameters,
    /// Type arguments of this class.
    Arguments(Cow<'a, [u8]>),
}

impl<'a> Classes<'a> {
    /// Takes the text before the first byte that `ends` accepts.
    fn until(&mut self, ends: impl Fn(u8) -> bool) -> Option<&'a [u8]> {
        let end = self.text.iter().position(|&byte| ends(byte))?;
        let (taken, rest) = self.text.split_at_checked(end)?;
        self.text = rest;
        Some(taken)
    }

    /// A type has been read to its end: within type parameters another bound, another parameter or the end follows.
    fn type_ends(&mut self) -> Option<()> {
        if matches!(self.open.last(), Some(Open::Parameters)) {
            match self.text {
                [b':' | b'>', ..] => {}
                _ => self.parameter_name()?,
            }
        }
        Some(())
    }

    fn parameter_name(&mut self) -> Option<()> {
        self.until(|byte| byte == b':').map(drop)
    }
}

fn ends_name(byte: u8) -> bool {
    matches!(byte, b';' | b'<' | b'.')
}

impl<'a> Iterator for Classes<'a> {
    type Item = Cow<'a, [u8]>;

    fn next(&mut self) -> Option<Cow<'a, [u8]>> {
        loop {
            let (&byte, rest) = self.text.split_first()?;
            self.text = rest;
            match (byte, self.named.take()) {
                (b'<', Some(name)) => self.open.push(Open::Arguments(name)),
                (b'.', Some(outer)) => {
                    let member = self.until(ends_name)?;
                    let name: Cow<'a, [u8]> = Cow::Owned([&*outer, b"$", member].concat());
                    self.named = Some(name.clone());
                    return Some(name);
                }
                (b';', Some(_)) => self.type_ends()?,
                (b'<', None) => {
                    self.open.push(Open::Parameters);
                    self.parameter_name()?;
                }
                (b'>', None) => {
                    if let Some(Open::Arguments(name)) = self.open.pop() {
                        self.named = Some(name);
                    }
                }
                (b'L', None) => {
                    let name = Cow::Borrowed(self.until(ends_name)?);
                    self.named = Some(name.clone());
                    return Some(name);
                }
                (b'T', None) => {
                    self.until(|byte| byte == b';')?;
                    self.text = self.text.get(1..)?;
                    self.type_ends()?;
                }
                // Primitive types; array, wildcard and throws marks; parentheses; the colon before a bound.
                (_, None) => {}
                // A name is followed by one of its three ends: `until` saw to it.
                (_, Some(_)) => return None,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn named(signature: &str) -> Vec<String> {
        classes(signature.as_bytes()).map(|name| String::from_utf8(name.into_owned()).unwrap()).collect()
    }

    /// Forms of the grammar of JVMS §4.7.9.1.
    #[test]
    fn classes_of_signatures() {
        assert_eq!(named("TT;"), [""; 0]);
        assert_eq!(named("[I"), [""; 0]);
        assert_eq!(named("La/B;"), ["a/B"]);
        assert_eq!(named("La/B<+La/C;-[TT;*>;"), ["a/B", "a/C"]);
        assert_eq!(named("La/B<TT;>.C.D<La/E;>;"), ["a/B", "a/B$C", "a/B$C$D", "a/E"]);
        assert_eq!(named("<T:La/B;:La/C<TT;>;L::La/D;>La/E;La/F<TL;>;"), ["a/B", "a/C", "a/D", "a/E", "a/F"]);
        assert_eq!(named("<T:TL;L:La/B;>(TT;I[J)La/C;^TT;^La/D;"), ["a/B", "a/C", "a/D"]);
    }

    #[test]
    fn what_is_no_signature_ends() {
        for text in ["", "L", "La", "<", "<T", "<T:", ">", "La<", ".", "La;;", "La<>>", "<<<<:", "T", "La.b"] {
            named(text);
        }
    }
}

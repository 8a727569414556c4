//! Field and method descriptors (JVMS §4.3), and class names as `CONSTANT_Class` gives them.
//!
//! Total: text that is no descriptor yields what can be made out and ends.

/// The class names in a field or method descriptor, in order, with repeats: `a/B` and `c/D` for `(La/B;I)[Lc/D;`.
pub fn classes(descriptor: &[u8]) -> Classes<'_> {
    Classes { rest: descriptor }
}

/// See [`classes`].
#[derive(Clone, Debug)]
pub struct Classes<'a> {
    rest: &'a [u8],
}

impl<'a> Iterator for Classes<'a> {
    type Item = &'a [u8];

    #[inline]
    fn next(&mut self) -> Option<&'a [u8]> {
        let start = self.rest.iter().position(|&byte| byte == b'L')?;
        let named = self.rest.get(start + 1..)?;
        let end = memchr::memchr(b';', named)?;
        let (name, rest) = named.split_at_checked(end)?;
        self.rest = rest;
        Some(name)
    }
}

/// The descriptors of a method's parameters, in order: `I` and `[La/B;` for `(I[La/B;)V`.
pub fn parameters(descriptor: &[u8]) -> Parameters<'_> {
    Parameters { rest: descriptor.strip_prefix(b"(").unwrap_or_default() }
}

/// The descriptor of a method's result: `V` for `(I[La/B;)V`; `None` where the text is no method descriptor.
pub fn result(descriptor: &[u8]) -> Option<&[u8]> {
    let end = descriptor.iter().rposition(|&byte| byte == b')')?;
    descriptor.get(end + 1..).filter(|result| !result.is_empty())
}

/// See [`parameters`].
#[derive(Clone, Debug)]
pub struct Parameters<'a> {
    rest: &'a [u8],
}

impl<'a> Iterator for Parameters<'a> {
    type Item = &'a [u8];

    fn next(&mut self) -> Option<&'a [u8]> {
        let dimensions = self.rest.iter().take_while(|&&byte| byte == b'[').count();
        let length = match self.rest.get(dimensions)? {
            b'L' => self.rest.iter().position(|&byte| byte == b';')? + 1,
            b'B' | b'C' | b'D' | b'F' | b'I' | b'J' | b'S' | b'Z' => dimensions + 1,
            _ => return None,
        };
        let (parameter, rest) = self.rest.split_at_checked(length)?;
        self.rest = rest;
        Some(parameter)
    }
}

/// The class behind a `CONSTANT_Class` name: the name itself, the element type of an array class
/// (`java/lang/String` for `[[Ljava/lang/String;`, JVMS §4.4.1), `None` for an array of a primitive type.
#[inline]
pub fn element_class(name: &[u8]) -> Option<&[u8]> {
    match name {
        [b'[', ..] => classes(name).next(),
        _ => Some(name),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn named(descriptor: &str) -> Vec<&str> {
        classes(descriptor.as_bytes()).map(|name| std::str::from_utf8(name).unwrap()).collect()
    }

    /// The first is the example of JVMS §4.3.3.
    #[test]
    fn classes_of_descriptors() {
        assert_eq!(named("(IDLjava/lang/Thread;)Ljava/lang/Object;"), ["java/lang/Thread", "java/lang/Object"]);
        assert_eq!(named("[[[D"), [""; 0]);
        assert_eq!(named("(JLList;[LLong;)V"), ["List", "Long"]);
        assert_eq!(named("Lbroken"), [""; 0]);
    }

    #[test]
    fn parameters_and_results() {
        let parts = |text: &'static str| parameters(text.as_bytes()).map(|part| std::str::from_utf8(part).unwrap());
        assert_eq!(
            parts("(IDLjava/lang/Thread;)Ljava/lang/Object;").collect::<Vec<_>>(),
            ["I", "D", "Ljava/lang/Thread;"]
        );
        assert_eq!(parts("([[J[LA;Z)V").collect::<Vec<_>>(), ["[[J", "[LA;", "Z"]);
        assert_eq!(parts("(I[").count() + parts("(LA").count() + parts("I").count(), 1);
        assert_eq!(result(b"(I)[J"), Some(&b"[J"[..]));
        assert_eq!((result(b"(I)"), result(b"I")), (None, None));
    }

    #[test]
    fn element_classes() {
        assert_eq!(element_class(b"java/lang/String"), Some(&b"java/lang/String"[..]));
        assert_eq!(element_class(b"[[Ljava/lang/String;"), Some(&b"java/lang/String"[..]));
        assert_eq!(element_class(b"[I"), None);
    }
}

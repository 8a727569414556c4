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
        let end = named.iter().position(|&byte| byte == b';')?;
        let (name, rest) = named.split_at_checked(end)?;
        self.rest = rest;
        Some(name)
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
    fn element_classes() {
        assert_eq!(element_class(b"java/lang/String"), Some(&b"java/lang/String"[..]));
        assert_eq!(element_class(b"[[Ljava/lang/String;"), Some(&b"java/lang/String"[..]));
        assert_eq!(element_class(b"[I"), None);
    }
}

//! Pages that a container compiles when they are asked for (Jakarta Server Pages specification): the classes and packages
//! that their code names.
//!
//! The first function to read is [`read`]. What stands between the code is text for browsers, and names nothing.

use super::sink::Sink;

/// Elements whose content is code, in pages that are XML (Jakarta Server Pages specification, "JSP Documents").
const CODE: [&str; 3] = ["<jsp:scriptlet", "<jsp:expression", "<jsp:declaration"];

/// Elements with attributes that name classes (the same, "Directives", "Standard Actions", "Tag Files").
const NAMING: [&str; 4] =
    ["<jsp:useBean", "<jsp:directive.page", "<jsp:directive.attribute", "<jsp:directive.variable"];

/// Takes the names in the code of a page.
pub(super) fn read(sink: &mut Sink<'_>, text: &str) {
    let mut rest = text;
    while let Some(at) = rest.find('<') {
        rest = rest.get(at..).unwrap_or_default();
        let end = if rest.starts_with("<%--") {
            // A comment; what it hides is not compiled.
            rest.find("--%>")
        } else if rest.starts_with("<%") {
            let end = rest.find("%>");
            code(sink, rest.get(..end.unwrap_or(rest.len())).unwrap_or_default());
            end
        } else if let Some(name) = CODE.iter().find(|name| rest.starts_with(**name)) {
            let end = rest.find(&name.replace('<', "</"));
            code(sink, rest.get(name.len()..end.unwrap_or(rest.len())).unwrap_or_default());
            end
        } else if NAMING.iter().any(|name| rest.starts_with(name)) {
            let end = rest.find('>');
            code(sink, rest.get(..end.unwrap_or(rest.len())).unwrap_or_default());
            end
        } else {
            Some(0)
        };
        // What does not end goes on to the end of the page.
        rest = end.and_then(|end| rest.get(end + 1..)).unwrap_or_default();
    }
}

/// Takes the qualified names in code: of classes, and of packages that are imported whole (JLS §7.5.2).
fn code(sink: &mut Sink<'_>, text: &str) {
    let is_part = |c: char| c.is_alphanumeric() || matches!(c, '.' | '_' | '$');
    let mut rest = text;
    while let Some(start) = rest.find(is_part) {
        rest = rest.get(start..).unwrap_or_default();
        let end = rest.find(|c| !is_part(c)).unwrap_or(rest.len());
        let (word, behind) = rest.split_at(end);
        match word.strip_suffix('.') {
            Some(package) if behind.starts_with('*') => sink.package(package),
            _ => {
                if let Some(class) = class_in(word) {
                    sink.name(class, None);
                }
            }
        }
        rest = behind;
    }
}

/// The part of a qualified name that ends with its first capital: `java.sql.Date` of `java.sql.Date.valueOf`.
fn class_in(word: &str) -> Option<&str> {
    let mut end = 0;
    for (number, part) in word.split('.').enumerate() {
        end += part.len() + usize::from(number > 0);
        if part.starts_with(|c: char| c.is_ascii_uppercase()) {
            return word.get(..end).filter(|_| number > 0);
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::class_in;

    #[test]
    fn a_name_ends_with_its_first_capital() {
        assert_eq!(class_in("java.sql.Date.valueOf"), Some("java.sql.Date"));
        assert_eq!(class_in("java.util.Map.Entry"), Some("java.util.Map"));
        for word in ["Date", "request.getParameter", "a..b", "", "."] {
            assert_eq!(class_in(word), None, "{word}");
        }
    }
}

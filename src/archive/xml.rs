//! XML that strangers wrote: what it may cost is bounded before the parser sees it.
//!
//! The first function to read is [`parse`]. It knows the text and nothing of what the elements mean.

use roxmltree::{Document, ParsingOptions};

/// Elements, attributes' owners and texts of one document: no real descriptor comes near.
const NODES: u32 = 200_000;

/// Attributes of one element: the parser compares each with all before it.
const ATTRIBUTES: usize = 1_000;

/// Declarations of name spaces in one document: the parser hands each down to all elements below.
const NAMESPACES: usize = 1_000;

/// Parses a document. The error says what is wrong with it.
///
/// A document type (older descriptors name one) is neither fetched nor believed. One that declares entities can unfold a
/// few bytes into all of memory, and no tool writes it into a descriptor.
pub(crate) fn parse(text: &str) -> Result<Document<'_>, String> {
    if text.contains("<!ENTITY") {
        return Err("it declares entities".to_owned());
    }
    // A tag cannot hold another `<`, not even in a value.
    if text.split('<').any(|tag| attributes(tag) > ATTRIBUTES) {
        return Err(format!("an element has more than {ATTRIBUTES} attributes"));
    }
    if text.matches("xmlns").count() > NAMESPACES {
        return Err(format!("it declares more than {NAMESPACES} name spaces"));
    }
    let options = ParsingOptions { allow_dtd: true, nodes_limit: NODES, ..ParsingOptions::default() };
    Document::parse_with_options(text, options).map_err(|error| error.to_string())
}

/// No fewer than the tag has.
fn attributes(tag: &str) -> usize {
    // Most tags are shorter than so many attributes.
    if tag.len() < ATTRIBUTES {
        return 0;
    }
    tag.split('=').skip(1).filter(|value| value.trim_start().starts_with(['"', '\''])).count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fmt::Write;

    #[test]
    fn what_would_cost_more_than_it_says_is_refused() {
        let unfolding = "<!DOCTYPE a [<!ENTITY e 'eeee'>]><a>&e;&e;</a>";
        assert_eq!(parse(unfolding).unwrap_err(), "it declares entities");
        let mut wide = "<gauges".to_owned();
        let mut spaces = "<gauges>".to_owned();
        for number in 0..=ATTRIBUTES {
            write!(wide, " a{number} = '1'").unwrap();
            write!(spaces, "<g xmlns:p{number}='urn:{number}'>").unwrap();
        }
        wide.push_str("/>");
        assert_eq!(parse(&wide).unwrap_err(), "an element has more than 1000 attributes");
        assert_eq!(parse(&spaces).unwrap_err(), "it declares more than 1000 name spaces");
    }

    #[test]
    fn depth_costs_no_stack() {
        let deep = "<g>".repeat(150_000) + &"</g>".repeat(150_000);
        assert!(parse(&deep).is_ok());
        assert!(parse(&"<g>".repeat(250_000)).is_err());
    }
}

//! The answer as one page that opens from a disk: style, script and data in one file that loads nothing.
//!
//! A policy in the page's head allows the one style and the one script by their hashes (W3C, Content Security Policy
//! Level 3) and nothing else, so that a name which slipped through as markup would still do nothing. The script builds
//! all that depends on the data, as text nodes; what stands in the file itself is the answer in one sentence and the
//! list, for those who run no scripts. The first function to read is [`render`].

mod data;
mod model;

use std::io::{self, Write};

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

use super::dossier::Dossier;
use super::escape;
use super::text::headline;

const SHELL: &str = include_str!("page.html");
const STYLE: &str = include_str!("page.css");
/// One script, so that one hash allows it; its parts share a scope.
const SCRIPT: &str = concat!(
    "'use strict';\n(() => {\n",
    include_str!("data.js"),
    include_str!("rules.js"),
    include_str!("weight.js"),
    include_str!("build.js"),
    include_str!("chart.js"),
    include_str!("switches.js"),
    include_str!("purposes.js"),
    include_str!("modules.js"),
    include_str!("why.js"),
    include_str!("remarks.js"),
    include_str!("archives.js"),
    include_str!("images.js"),
    include_str!("start.js"),
    "})();\n"
);

/// Writes the page.
pub fn render(dossier: &Dossier, out: &mut dyn Write) -> io::Result<()> {
    let report = &dossier.report;
    let policy = format!(
        "default-src 'none'; script-src '{}'; style-src '{}'; base-uri 'none'; form-action 'none'",
        allowed(SCRIPT),
        allowed(STYLE)
    );
    let headline = headline(report);
    let title = match report.inputs.first() {
        Some(input) => format!("{}: modules to keep", input.path.rsplit(['/', '\\']).next().unwrap_or(&input.path)),
        None => "Modules to keep".to_owned(),
    };
    let block = data::block(dossier)?;
    let mut rest = SHELL;
    while let Some((before, after)) = rest.split_once("{{") {
        out.write_all(before.as_bytes())?;
        let Some((name, after)) = after.split_once("}}") else { break };
        match name {
            "policy" => out.write_all(policy.as_bytes())?,
            "title" => out.write_all(markup(&title).as_bytes())?,
            "headline" => out.write_all(markup(&headline).as_bytes())?,
            "list" => out.write_all(markup(&report.list.join(",")).as_bytes())?,
            "style" => out.write_all(STYLE.as_bytes())?,
            "data" => out.write_all(block.as_bytes())?,
            "script" => out.write_all(SCRIPT.as_bytes())?,
            _ => return Err(io::Error::other(format!("the page has no part {name}"))),
        }
        rest = after;
    }
    out.write_all(rest.as_bytes())
}

/// What the policy calls a text that it allows.
fn allowed(text: &str) -> String {
    format!("sha256-{}", STANDARD.encode(Sha256::digest(text.as_bytes())))
}

/// Foreign text as text of HTML, also within a quoted attribute (HTML Living Standard §13.1.2).
fn markup(text: &str) -> String {
    escape::in_markup(text).replace('"', "&quot;").replace('\'', "&#39;")
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;

    fn page() -> String {
        let mut out = Vec::new();
        render(&sample::dossier(), &mut out).unwrap();
        String::from_utf8(out).unwrap()
    }

    /// HTML Living Standard §4.12.1.3: what a script element must not hold.
    #[test]
    fn nothing_of_the_data_ends_its_element() {
        let page = page();
        assert_eq!(page.matches("<script").count(), 2, "the data block and the script");
        assert_eq!(page.matches("</script").count(), 2);
        assert!(!page.contains("<!--") && !page.contains("alert(1)<"));
        assert!(!page.contains('\x1b') && !page.contains('\u{202e}'));
    }

    /// The policy of the head has the hashes of what stands in the file; the digest of the empty text is that of
    /// FIPS 180-4's validation vectors.
    #[test]
    fn the_policy_allows_the_style_and_the_script_alone() {
        let page = page();
        let between =
            |open: &str, close: &str| page.rsplit_once(open).unwrap().1.split_once(close).unwrap().0.to_owned();
        assert!(page.contains(&format!("script-src '{}'", allowed(&between("<script>", "</script>")))));
        assert!(page.contains(&format!("style-src '{}'", allowed(&between("<style>", "</style>")))));
        assert_eq!(allowed(""), "sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=");
    }

    #[test]
    fn foreign_text_is_text_in_markup() {
        assert_eq!(markup("<a href='x'>\"&\u{202e}"), "&lt;a href=&#39;x&#39;&gt;&quot;&amp;\\u{202e}");
    }

    #[test]
    fn the_file_says_the_answer_to_those_without_scripts_too() {
        let page = page();
        assert!(page.contains("<h1 id=\"headline\">Keep 5 of the 70 modules of Java 17"));
        assert!(page.contains("java.base,java.logging,java.sql,jdk.crypto.ec,jdk.incubator.tide</pre>"));
    }
}

//! Provider configuration files: `META-INF/services/…` (`java.util.ServiceLoader`, "Deploying service providers on
//! the class path").
//!
//! The first function to read is [`parse`].

use super::fault::Fault;
use crate::diag::{Code, Diagnostic};
use crate::limits::Limits;
use crate::names::Locator;

/// Where they stand.
const FOLDER: &str = "META-INF/services/";

/// One line of a provider configuration file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Provider {
    /// Binary name of the class that provides.
    pub class: Box<str>,
    /// The line it stands on, from 1.
    pub line: u32,
}

/// The service (binary name) that an entry of this path configures.
pub fn service_of(path: &str) -> Option<&str> {
    path.strip_prefix(FOLDER).filter(|service| !service.is_empty() && !service.contains('/'))
}

/// Reads a provider configuration file found at `place`.
///
/// A line that `ServiceLoader` refuses makes it refuse the whole file when it comes to it; here the good lines are kept,
/// since leaving them out would hide what the program means to load.
pub fn parse(bytes: &[u8], place: &Locator, limits: &Limits) -> (Vec<Provider>, Vec<Diagnostic>) {
    let text = String::from_utf8_lossy(bytes);
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    let mut providers: Vec<Provider> = Vec::new();
    let mut diagnostics = Vec::new();
    for (line, number) in text.split('\n').zip(1u32..) {
        if number as usize > limits.text_lines {
            let fault = Fault::limit("text-lines", format!("the file has more than {} lines", limits.text_lines));
            diagnostics.push(fault.at(place.clone()));
            break;
        }
        let name = line.split('#').next().unwrap_or_default().trim_matches(|c: char| c <= ' ');
        if name.is_empty() {
            continue;
        }
        match fault_in(name) {
            Some(reason) => {
                let fault = Fault::new(Code::BadServiceFile, format!("line {number}: {reason}"));
                diagnostics.push(fault.at(place.clone()));
            }
            None => providers.push(Provider { class: name.into(), line: number }),
        }
    }
    (providers, diagnostics)
}

/// What `ServiceLoader` would say to a provider's name, if anything.
fn fault_in(name: &str) -> Option<&'static str> {
    if name.contains([' ', '\t']) {
        return Some("more than one word");
    }
    // Java's tables of identifier characters (JLS §3.8) are wider than this test: it lets pass every character beyond
    // ASCII that is no blank and no replacement for damage.
    let part = |c: char| {
        c.is_ascii_alphanumeric() || matches!(c, '_' | '$') || (!c.is_ascii() && !c.is_whitespace() && c != '\u{FFFD}')
    };
    let starts = name.chars().next().is_some_and(|c| part(c) && !c.is_ascii_digit());
    (!starts || !name.chars().all(|c| part(c) || c == '.')).then_some("not the name of a class")
}

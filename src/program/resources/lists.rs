//! Lists of names: one a line, or anywhere in a text.

use crate::archive::services;
use crate::names::Locator;

use super::ResourceKind;
use super::known::is_qualified;
use super::sink::Sink;

/// A provider configuration file (`java.util.ServiceLoader`): the service is the file's name.
pub(super) fn services(sink: &mut Sink<'_>, bytes: &[u8], service: Option<&str>, place: impl Fn() -> Locator) {
    let Some(service) = service else { return };
    if let Some(class) = sink.class(service) {
        sink.add(class, false, ResourceKind::Service, None);
    }
    let of = service.replace('.', "/");
    let (providers, faults) = services::parse(bytes, &place(), sink.limits);
    for provider in providers {
        sink.name(&provider.class, Some(&of));
    }
    sink.findings.extend(faults);
}

/// One class a line; `#` starts a comment. What they are for is the file's name without its last part: the import lists
/// of a framework are called `gauge.AutoStart.imports`.
pub(super) fn lines(sink: &mut Sink<'_>, text: &str) {
    let file = sink.path.rsplit('/').next().unwrap_or_default();
    let of = sink.purpose(file.strip_suffix(".imports").unwrap_or(file));
    for (line, number) in text.lines().zip(1..) {
        if !sink.takes_line(number) {
            break;
        }
        let line = line.split('#').next().unwrap_or_default().trim();
        if !line.is_empty() {
            sink.classes(line, Some(&of));
        }
    }
}

/// Every word of a text that is a class's name with its package. Lines that start with `#` are comments wherever that sign
/// means anything.
pub(super) fn words(sink: &mut Sink<'_>, text: &str) {
    let part = |c: char| c.is_alphanumeric() || matches!(c, '.' | '/' | '_' | '$' | '-');
    for line in text.lines().filter(|line| !line.trim_start().starts_with('#')) {
        for word in line.split(|c| !part(c)) {
            let word = word.trim_matches(['.', '/', '-']);
            // Most words have no dot.
            if word.len() > 3 && is_qualified(word) {
                sink.name(word, None);
            }
        }
    }
}

/// The file's name is the class's, and the folder's what it is for.
pub(super) fn file_name(sink: &mut Sink<'_>, path: &str) {
    let mut parts = path.rsplit('/');
    if let (Some(class), Some(folder)) = (parts.next(), parts.next()) {
        let of = sink.purpose(folder);
        sink.name(class, Some(&of));
    }
}

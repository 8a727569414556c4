//! Section sizes of a JDK without packaged modules (JEP 493).
//!
//! Such a JDK keeps, within its image, one list per module of the files that a packaged module would hold beside its
//! classes; the linker copies them from the JDK's folders. The first function to read is [`sections`].

use std::fs;
use std::path::{Component, Path};

use super::Sections;
use super::files::Section;
use super::jimage::Image;

/// Where the lists are, in module `jdk.jlink`.
pub(super) const LIST_FOLDER: &str = "jdk/tools/jlink/internal/runtimelink";
const LIST_MODULE: &str = "jdk.jlink";

/// Adds the sizes of a module's files to those of its classes.
///
/// `None` where the image has no such list (the JDK then cannot link, and nothing tells which file belongs to which
/// module) or where a listed file is gone from the JDK: a size that is not known is not zero.
pub(super) fn sections(
    image: &Image,
    home: &Path,
    module: &str,
    classes: Sections,
) -> Result<Option<Sections>, String> {
    let Some(files) = list(image, module)? else { return Ok(None) };
    let mut sections = classes;
    for (section, path) in files {
        // A link counts as what it points to: the linker copies the file behind it.
        let Ok(metadata) = fs::metadata(home.join(path)) else { return Ok(None) };
        let sum = match section {
            Section::Classes => &mut sections.classes,
            Section::Conf => &mut sections.conf,
            Section::Include => &mut sections.include,
            Section::Legal => &mut sections.legal,
            Section::Man => &mut sections.man,
            Section::Bin => &mut sections.bin,
            Section::Lib => &mut sections.lib,
        };
        *sum = sum.saturating_add(metadata.len());
    }
    Ok(Some(sections))
}

/// The files of a module beside its classes, by their paths below the JDK's folder.
pub(super) fn list(image: &Image, module: &str) -> Result<Option<Vec<(Section, String)>>, String> {
    let path = format!("{LIST_FOLDER}/fs_{module}_files");
    let Some(entry) = image.find(LIST_MODULE, path.as_bytes()) else { return Ok(None) };
    let whole = |reason: &str| format!("{path}: {reason}");
    let bytes = image.read(&entry).map_err(|reason| whole(&reason))?;
    let text = std::str::from_utf8(&bytes).map_err(|_| whole("it is no text"))?;
    let mut files = Vec::new();
    for line in text.lines().filter(|line| !line.is_empty()) {
        let (kind, file) = parse(line).ok_or_else(|| whole(&format!("`{line}` is no line of a file list")))?;
        let section = match kind {
            "1" => Section::Conf,
            "2" => Section::Include,
            "3" => Section::Legal,
            "4" => Section::Man,
            "5" => Section::Bin,
            "6" => Section::Lib,
            _ => return Err(whole(&format!("`{kind}` is no kind of file"))),
        };
        files.push((section, file.to_owned()));
    }
    Ok(Some(files))
}

/// `type|is a link|digest or target|path`: the type is the ordinal of `ResourcePoolEntry.Type`.
fn parse(line: &str) -> Option<(&str, &str)> {
    let mut fields = line.splitn(4, '|');
    let (kind, _link, _digest, path) = (fields.next()?, fields.next()?, fields.next()?, fields.next()?);
    // A path that leads out of the JDK is none of its files.
    Path::new(path).components().all(|part| matches!(part, Component::Normal(_))).then_some((kind, path))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_has_four_fields_and_a_path_within_the_jdk() {
        assert_eq!(parse("6|0|ab12|lib/libjava.so"), Some(("6", "lib/libjava.so")));
        assert_eq!(parse("3|1|../java.base/LICENSE|legal/java.sql/LICENSE").map(|(kind, _)| kind), Some("3"));
        assert_eq!(parse("6|0|ab12"), None);
        assert_eq!(parse("6|0|ab12|/etc/passwd"), None);
        assert_eq!(parse("6|0|ab12|lib/../../x"), None);
    }
}

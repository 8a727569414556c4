//! Classes that the user lists because code looks them up by names that it does not show.
//!
//! The first function to read is [`listed`].

use std::path::Path;
use std::sync::Arc;

use crate::error::Error;

/// One class that a list names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// Internal form.
    pub class: Box<str>,
    /// The list, as the user named it.
    pub file: Arc<str>,
    /// Its line, from 1.
    pub line: usize,
}

impl Listed {
    /// Where it stands, for people.
    pub fn place(&self) -> String {
        format!("line {} of {}", self.line, self.file)
    }
}

/// Reads a list: binary names (JLS §13.1), one a line; `#` begins a comment.
///
/// # Errors
///
/// [`Error::Input`] for a file that cannot be read; [`Error::Usage`] where a line is no class name, and for a list that
/// names nothing.
pub fn listed(path: &Path) -> Result<Vec<Listed>, Error> {
    let bytes = std::fs::read(path).map_err(|source| Error::Input { path: path.to_owned(), source })?;
    let file: Arc<str> = path.to_string_lossy().into();
    let wrong = |line: usize, why: &str| Error::Usage(format!("--names {file}, line {line}: {why}"));
    let mut found = Vec::new();
    for (line, text) in (1..).zip(bytes.split(|&byte| byte == b'\n')) {
        let text = std::str::from_utf8(text).map_err(|_| wrong(line, "it is not in UTF-8"))?;
        let name = text.split('#').next().unwrap_or_default().trim_matches(['\u{feff}', ' ', '\t', '\r']);
        if name.is_empty() {
            continue;
        }
        let is_part =
            |part: &str| !part.is_empty() && !part.contains(|c: char| c.is_whitespace() || ";[(<>".contains(c));
        if !name.split(['.', '/']).all(is_part) {
            return Err(wrong(line, &format!("`{name}` is no class name, such as harbour.plugin.Tide$Table")));
        }
        found.push(Listed { class: name.replace('.', "/").into(), file: file.clone(), line });
    }
    if found.is_empty() {
        return Err(Error::Usage(format!("--names {file}: it names no class")));
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &[u8]) -> Result<Vec<(String, usize)>, String> {
        let file = tempfile::NamedTempFile::new().unwrap();
        std::fs::write(file.path(), text).unwrap();
        let listed = listed(file.path()).map_err(|error| error.to_string())?;
        Ok(listed.iter().map(|one| (one.class.to_string(), one.line)).collect())
    }

    #[test]
    fn a_name_a_line() {
        let text = "\u{feff}# plugins\r\nharbour.plugin.Tide$Table\r\n\n  java/sql/Driver # the store\nPlain";
        let expected = [("harbour/plugin/Tide$Table", 2), ("java/sql/Driver", 4), ("Plain", 5)];
        assert_eq!(read(text.as_bytes()).unwrap(), expected.map(|(name, line)| (name.to_owned(), line)));
    }

    #[test]
    fn what_is_no_list_is_refused() {
        for (text, says) in [
            (&b"harbour.Gauge\nharbour..Gauge"[..], "line 2: `harbour..Gauge` is no class name"),
            (b"two words", "line 1: `two words` is no class name"),
            (b"[Ljava.lang.String;", "line 1:"),
            (b"a\xff", "line 1: it is not in UTF-8"),
            (b"# nothing\n", "it names no class"),
        ] {
            let error = read(text).unwrap_err();
            assert!(error.contains(says), "{error}");
        }
        let missing = listed(Path::new("no/such/list")).unwrap_err().to_string();
        assert!(missing.contains("no/such/list"), "{missing}");
    }
}

//! Words of a command line, and of a file of options ("java Command-Line Argument Files" in the JDK Tool
//! Specifications).

/// Words between blanks; what stands between quotation marks of either kind is one word, without escapes, as the
/// launcher takes `JDK_JAVA_OPTIONS`.
pub(super) fn command_line(text: &str) -> Result<Vec<String>, String> {
    words(text, false)
}

/// The same for a file of options: `#` starts a comment, a backslash between quotation marks escapes, and at the end of
/// a line continues it.
pub(super) fn file(text: &str) -> Result<Vec<String>, String> {
    words(text, true)
}

fn words(text: &str, is_file: bool) -> Result<Vec<String>, String> {
    let mut words = Vec::new();
    let mut word: Option<String> = None;
    let mut open: Option<char> = None;
    let mut characters = text.chars().peekable();
    while let Some(c) = characters.next() {
        match (open, c) {
            (Some(_), '\\') if is_file => match characters.next() {
                // The line goes on; what it is indented by is left out.
                Some('\n' | '\r') => while characters.next_if(char::is_ascii_whitespace).is_some() {},
                Some('n') => word.get_or_insert_default().push('\n'),
                Some('r') => word.get_or_insert_default().push('\r'),
                Some('t') => word.get_or_insert_default().push('\t'),
                Some('f') => word.get_or_insert_default().push('\u{c}'),
                Some(other) => word.get_or_insert_default().push(other),
                None => {}
            },
            (Some(mark), c) if c == mark => open = None,
            // The end of a line closes what is open.
            (Some(_), '\n' | '\r') if is_file => {
                open = None;
                words.extend(word.take());
            }
            (None, '"' | '\'') => {
                open = Some(c);
                word.get_or_insert_default();
            }
            (None, '#') if is_file => while characters.next_if(|c| !matches!(c, '\n' | '\r')).is_some() {},
            (None, c) if c.is_ascii_whitespace() => words.extend(word.take()),
            (_, c) => word.get_or_insert_default().push(c),
        }
    }
    words.extend(word);
    match open {
        // A file may end within a line.
        Some(mark) if !is_file => Err(format!("a quotation mark {mark} of the launch options is not closed")),
        _ => Ok(words),
    }
}

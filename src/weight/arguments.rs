//! The linker's options, as the user will give them, as [`ImageOptions`].
//!
//! The first function to read is [`ImageOptions::parse`].

use super::options::{Compression, ImageOptions};

/// Options that say where things are or what the image is for, and change none of its bytes.
const WITHOUT_EFFECT: [&str; 6] = [
    "--ignore-modified-runtime",
    "--ignore-signing-information",
    "--order-resources",
    "--save-opts",
    "--verbose",
    "-v",
];

impl ImageOptions {
    /// Reads options of the linker, separated by blanks: `--strip-debug --compress=zip-9`.
    ///
    /// The error names the option that is not known here, or whose effect on the image's bytes is not.
    pub fn parse(text: &str) -> Result<ImageOptions, String> {
        let mut options = ImageOptions::default();
        let mut words = text.split_whitespace();
        while let Some(word) = words.next() {
            let (name, mut value) = match word.split_once('=') {
                Some((name, value)) => (name, Some(value)),
                None => (word, None),
            };
            let mut value = || {
                let value = value.take().or_else(|| words.next());
                value.filter(|value| !value.is_empty()).ok_or_else(|| format!("{name} lacks its value"))
            };
            match name {
                // Native libraries of the JDKs that are measured have no debug symbols left that the option could take.
                "--strip-debug" | "-G" | "--strip-java-debug-attributes" => options.form.stripped = true,
                "--compress" | "-c" => options.form.compression = compression(value()?)?,
                "--no-header-files" => options.no_headers = true,
                "--no-man-pages" => options.no_man_pages = true,
                "--strip-native-commands" => options.no_commands = true,
                "--generate-cds-archive" => options.startup_archive = true,
                "--include-locales" => options.locales = value()?.split(',').map(|tag| tag.trim().to_owned()).collect(),
                "--vm" => match value()? {
                    "server" => options.one_vm = true,
                    "all" => options.one_vm = false,
                    other => return Err(format!("--vm={other}: only the server VM's bytes are known")),
                },
                "--bind-services" => {
                    return Err("--bind-services changes the modules themselves; name them instead".into());
                }
                name if WITHOUT_EFFECT.contains(&name) => {}
                _ => return Err(format!("what `{word}` does to the bytes of an image is not known")),
            }
        }
        Ok(options)
    }
}

/// The value of `--compress`: a level by its older number or by its newer name.
fn compression(value: &str) -> Result<Compression, String> {
    match value {
        "0" => Ok(Compression::None),
        "1" => Ok(Compression::SharedTexts),
        "2" => Ok(Compression::Zip(6)),
        value => match value.parse() {
            Ok(Compression::Zip(level)) => Ok(Compression::Zip(level)),
            _ => Err(format!("--compress={value}: it is none of 0, 1, 2 and zip-0 to zip-9")),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::super::options::Form;
    use super::*;

    #[test]
    fn options_are_read_as_the_linker_reads_them() {
        let read = ImageOptions::parse("-G --compress zip-9 --no-man-pages --include-locales=en,de").unwrap();
        assert_eq!(read.form, Form::new(true, Compression::Zip(9)));
        assert!(read.no_man_pages && !read.no_headers);
        assert_eq!(read.locales, ["en", "de"]);
        assert_eq!(ImageOptions::parse("--compress=2").unwrap().form.compression, Compression::Zip(6));
    }

    #[test]
    fn what_is_not_known_is_named() {
        let error = |text| ImageOptions::parse(text).unwrap_err();
        assert!(error("--bind-services").contains("--bind-services"));
        assert!(error("--harbour").contains("--harbour"));
        assert!(error("--compress=zip-10").contains("zip-10"));
        assert!(error("--compress").contains("lacks its value"));
    }
}

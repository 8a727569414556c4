//! The options of an image that change its bytes.
//!
//! The first type to read is [`ImageOptions`]; [`ImageOptions::arguments`] are what the JDK's linker takes for them.

use std::fmt;
use std::str::FromStr;

use crate::platform::Section;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// How the linker compresses classes and resources, each on its own.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Compression {
    /// Not at all: the default.
    #[default]
    None,
    /// Texts of class files go to one table of the image (`--compress=1`).
    SharedTexts,
    /// A zlib stream of this level (RFC 1950); `--compress=2` of older releases is level 6.
    Zip(u8),
}

/// Contents of an image: what the linker did to classes and resources.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Form {
    /// Whether Java debug data was taken out.
    pub stripped: bool,
    /// And then.
    pub compression: Compression,
}

impl Form {
    /// Classes and resources as they are.
    pub const PLAIN: Form = Form { stripped: false, compression: Compression::None };

    /// A form by its parts.
    pub const fn new(stripped: bool, compression: Compression) -> Form {
        Form { stripped, compression }
    }
}

/// `plain`, `stripped`, `zip-6`, `stripped+zip-6`, `shared`.
impl fmt::Display for Form {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let debug = match (self.stripped, self.compression) {
            (false, Compression::None) => return f.write_str("plain"),
            (true, Compression::None) => return f.write_str("stripped"),
            (false, _) => "",
            (true, _) => "stripped+",
        };
        match self.compression {
            Compression::Zip(level) => write!(f, "{debug}zip-{level}"),
            _ => write!(f, "{debug}shared"),
        }
    }
}

impl FromStr for Form {
    type Err = String;

    fn from_str(text: &str) -> Result<Form, String> {
        let (stripped, rest) = match text {
            "plain" => return Ok(Form::PLAIN),
            "stripped" => return Ok(Form::new(true, Compression::None)),
            _ => text.strip_prefix("stripped+").map_or((false, text), |rest| (true, rest)),
        };
        Ok(Form::new(stripped, rest.parse()?))
    }
}

impl FromStr for Compression {
    type Err = String;

    fn from_str(text: &str) -> Result<Compression, String> {
        let unknown = || format!("`{text}` is none of none, shared and zip-0 to zip-9");
        match text {
            "none" => Ok(Compression::None),
            "shared" => Ok(Compression::SharedTexts),
            _ => {
                let level = text.strip_prefix("zip-").and_then(|level| level.parse().ok()).filter(|level| *level <= 9);
                level.map(Compression::Zip).ok_or_else(unknown)
            }
        }
    }
}

impl Serialize for Form {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Form {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Form, D::Error> {
        String::deserialize(deserializer)?.parse().map_err(serde::de::Error::custom)
    }
}

/// Options of one image.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(clippy::struct_excessive_bools, reason = "the linker has a switch for each")]
pub struct ImageOptions {
    /// What becomes of classes and resources.
    pub form: Form,
    /// Header files are left out.
    pub no_headers: bool,
    /// Manual pages are left out.
    pub no_man_pages: bool,
    /// Commands are left out, `java` among them.
    pub no_commands: bool,
    /// Only one VM is kept, where the JDK has several.
    pub one_vm: bool,
    /// The languages that jdk.localedata keeps; all where empty.
    pub locales: Vec<String>,
    /// Startup archives are made (JEP 310, JEP 341).
    pub startup_archive: bool,
}

impl ImageOptions {
    /// Whether a section does not come into the image.
    pub(super) fn leaves_out(&self, section: Section) -> bool {
        match section {
            Section::Bin => self.no_commands,
            Section::Include => self.no_headers,
            Section::Man => self.no_man_pages,
            _ => false,
        }
    }

    /// What the linker of a JDK takes for them. `zip_levels`: whether it knows `--compress=zip-N` (JDK-8293667).
    pub fn arguments(&self, zip_levels: bool) -> Vec<String> {
        let mut arguments = Vec::new();
        if self.form.stripped {
            arguments.push("--strip-java-debug-attributes".to_owned());
        }
        match self.form.compression {
            Compression::None => {}
            Compression::SharedTexts => arguments.push("--compress=1".to_owned()),
            Compression::Zip(_) if !zip_levels => arguments.push("--compress=2".to_owned()),
            Compression::Zip(level) => arguments.push(format!("--compress=zip-{level}")),
        }
        let switches = [
            (self.no_headers, "--no-header-files"),
            (self.no_man_pages, "--no-man-pages"),
            (self.no_commands, "--strip-native-commands"),
            (self.one_vm, "--vm=server"),
        ];
        arguments.extend(switches.iter().filter(|(on, _)| *on).map(|(_, argument)| (*argument).to_owned()));
        if !self.locales.is_empty() {
            arguments.push(format!("--include-locales={}", self.locales.join(",")));
        }
        if self.startup_archive {
            arguments.push("--generate-cds-archive".to_owned());
        }
        arguments
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_form_reads_as_it_is_written() {
        for stripped in [false, true] {
            let zips = (0..=9).map(Compression::Zip);
            for compression in [Compression::None, Compression::SharedTexts].into_iter().chain(zips) {
                let form = Form::new(stripped, compression);
                assert_eq!(form.to_string().parse(), Ok(form));
            }
        }
        assert!("zip-10".parse::<Form>().is_err() && "zip".parse::<Form>().is_err());
    }
}

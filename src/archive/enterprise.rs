//! What an enterprise archive's `META-INF/application.xml` says (Jakarta EE platform specification ch. 8).
//!
//! The first function to read is [`Modules::parse`].

use std::collections::BTreeSet;

use roxmltree::Node;

use super::layout::{Role, is_archive};
use super::xml;

/// The modules of an enterprise archive by their paths in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Modules {
    /// The folder whose jars every module sees, with its `/`; `None` where the descriptor turns it off.
    library_folder: Option<String>,
    /// Web modules.
    web: BTreeSet<String>,
    /// Resource adapters.
    adapters: BTreeSet<String>,
    /// Enterprise bean and application client jars.
    jars: BTreeSet<String>,
    /// Whether a descriptor listed them; else the file names alone tell.
    listed: bool,
}

impl Default for Modules {
    /// Without a descriptor: jars below `lib/` are libraries, and the extension tells the rest.
    fn default() -> Self {
        Modules {
            library_folder: Some("lib/".to_owned()),
            web: BTreeSet::new(),
            adapters: BTreeSet::new(),
            jars: BTreeSet::new(),
            listed: false,
        }
    }
}

impl Modules {
    /// Reads a descriptor. The error says what is wrong with it.
    pub(crate) fn parse(text: &[u8]) -> Result<Self, String> {
        let text = std::str::from_utf8(text).map_err(|error| error.to_string())?;
        let document = xml::parse(text)?;
        let mut modules = Modules { listed: true, ..Modules::default() };
        for element in document.root_element().descendants().filter(Node::is_element) {
            let value = element.text().unwrap_or_default().trim().trim_start_matches('/');
            let list = match element.tag_name().name() {
                "library-directory" => {
                    let folder = value.trim_end_matches('/');
                    modules.library_folder = (!folder.is_empty()).then(|| format!("{folder}/"));
                    continue;
                }
                "web-uri" => &mut modules.web,
                "connector" => &mut modules.adapters,
                "ejb" | "java" => &mut modules.jars,
                _ => continue,
            };
            list.insert(value.to_owned());
        }
        Ok(modules)
    }

    /// What a file of the archive is to the program, if it is an archive that counts.
    pub(crate) fn role_of(&self, path: &str) -> Option<Role> {
        let library = self
            .library_folder
            .as_ref()
            .and_then(|folder| path.strip_prefix(folder.as_str()))
            .is_some_and(|name| !name.contains('/') && is_archive(name));
        if library {
            return Some(Role::Library);
        }
        let among = |list: &BTreeSet<String>| list.contains(path);
        if self.listed {
            return if among(&self.web) {
                Some(Role::Web)
            } else if among(&self.adapters) {
                Some(Role::Adapter)
            } else {
                among(&self.jars).then_some(Role::Library)
            };
        }
        let (_, extension) = path.rsplit_once('.')?;
        [("war", Role::Web), ("rar", Role::Adapter), ("jar", Role::Library)]
            .into_iter()
            .find(|(known, _)| extension.eq_ignore_ascii_case(known) && !path.contains('/'))
            .map(|(_, role)| role)
    }

    /// Modules that the descriptor lists, by kind.
    pub(crate) fn listed(&self) -> impl Iterator<Item = &str> {
        self.web.iter().chain(&self.adapters).chain(&self.jars).map(String::as_str)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Jakarta EE platform specification §8.2.1 (library directory) and §8.6 (module elements).
    #[test]
    fn the_descriptor_says_what_each_file_is() {
        let text = br#"<?xml version="1.0"?>
            <application xmlns="https://jakarta.ee/xml/ns/jakartaee" version="10">
              <module><web><web-uri>gauges.war</web-uri><context-root>/gauges</context-root></web></module>
              <module><ejb>sluices.jar</ejb></module>
              <module><connector>serial.rar</connector></module>
              <library-directory>APP-INF/lib</library-directory>
            </application>"#;
        let modules = Modules::parse(text).expect("a sound descriptor");
        assert_eq!(modules.role_of("gauges.war"), Some(Role::Web));
        assert_eq!(modules.role_of("sluices.jar"), Some(Role::Library));
        assert_eq!(modules.role_of("serial.rar"), Some(Role::Adapter));
        assert_eq!(modules.role_of("APP-INF/lib/tides.jar"), Some(Role::Library));
        assert_eq!(modules.role_of("lib/tides.jar"), None);
        assert_eq!(modules.role_of("stray.jar"), None);
    }

    #[test]
    fn an_empty_library_directory_turns_it_off() {
        let modules = Modules::parse(b"<application><library-directory/></application>").expect("sound");
        assert_eq!(modules.role_of("lib/tides.jar"), None);
    }

    #[test]
    fn without_a_descriptor_the_names_tell() {
        let modules = Modules::default();
        assert_eq!(modules.role_of("gauges.war"), Some(Role::Web));
        assert_eq!(modules.role_of("lib/tides.jar"), Some(Role::Library));
        assert_eq!(modules.role_of("docs/gauges.war"), None);
    }

    #[test]
    fn text_that_is_no_descriptor_is_refused_with_a_reason() {
        assert!(Modules::parse(b"<application><module>").is_err());
        assert!(Modules::parse(b"\xFF").is_err());
        let unfolding = br#"<!DOCTYPE a [<!ENTITY e "eeee">]><application><java>&e;&e;</java></application>"#;
        assert_eq!(Modules::parse(unfolding).unwrap_err(), "it declares entities");
    }
}

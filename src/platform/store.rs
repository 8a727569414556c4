//! Where a catalogue looks up single types: a table of its own, an image, or packaged modules.

use super::jdk::{JmodClasses, image_contains, image_type};
use super::jimage::Image;
use super::types::TypeTable;
use super::{ModuleId, PlatformType, Presence};

/// The types of a catalogue.
pub(super) enum Store {
    Table(TypeTable),
    Image(Image),
    Jmods(JmodClasses),
}

impl Store {
    /// Whether `class` exists, whose package belongs to the module `name` with index `id`.
    pub(super) fn presence(&self, id: ModuleId, name: &str, class: &[u8]) -> Presence {
        let present = match self {
            Store::Table(table) => return table.presence(id, class),
            Store::Image(image) => image_contains(image, name, class),
            Store::Jmods(classes) => classes.contains(class),
        };
        if present { Presence::Present(id) } else { Presence::Absent(id) }
    }

    /// What is known of `class`, whose package belongs to the module `name`.
    pub(super) fn platform_type(&self, name: Option<&str>, class: &[u8]) -> Option<PlatformType> {
        match self {
            Store::Table(table) => table.platform_type(class),
            Store::Image(image) => image_type(image, name?, class),
            Store::Jmods(classes) => classes.platform_type(class),
        }
    }

    /// All classes of a JDK by internal name, module descriptors included.
    #[cfg(feature = "catalogue")]
    pub(super) fn classes(&self) -> Vec<Box<str>> {
        match self {
            Store::Table(_) => Vec::new(),
            Store::Image(image) => super::jdk::image_classes(image),
            Store::Jmods(classes) => classes.names().map(Into::into).collect(),
        }
    }
}

//! Names of classes and modules in files that are no classes: service files, descriptors, registration lists,
//! reflection metadata, configuration.
//!
//! The first function to read is [`Resources::read`]; [`formats`] is the table of files. It says which file names which
//! class and how strong such a file is. It does not know what runs, nor which module a class belongs to.

mod descriptor;
mod formats;
mod json;
mod known;
mod lists;
mod login;
mod manifest;
mod modules;
mod pages;
mod plugins;
mod properties;
mod sink;
mod text;
mod translations;
mod values;
mod wiring;
mod xml;

use std::sync::Arc;

use rayon::prelude::*;

use crate::archive::{Archive, ArchiveId, Entry, Reader, effective, services};
use crate::diag::{Code, Diagnostic, Findings};
use crate::limits::Limits;

use super::Program;
pub(super) use formats::is_path;
use formats::{Format, Reading};
use known::Known;
pub use properties::{Properties, Property};
use sink::Sink;

/// How strong the file is that names a class.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ResourceKind {
    /// A service file or a module descriptor names a service, or, with the service as purpose, a class that provides it
    /// and that is created when somebody looks the service up.
    Service,
    /// A framework or container creates the class when it comes up.
    Registration,
    /// Metadata say that the class is looked up, inspected, proxied or serialised by name.
    Metadata,
    /// Configuration: the class is created if somebody reads it.
    Configuration,
    /// Some other file holds the name.
    Mention,
    /// `requires` of a module descriptor: followed when the program starts from the module path (JLS §7.7.1).
    Requires,
    /// `Add-Exports` or `Add-Opens` of a manifest: what is absent is skipped in silence.
    Hint,
    /// Code in a page that a container compiles when it is asked for names it.
    Page,
    /// A bundle imports a package, and a framework that wires bundles is in the program.
    Import,
    /// A module cannot do without one of the platform, by the descriptor of a loader that is in the program.
    Dependency,
}

impl ResourceKind {
    /// The stable word.
    pub fn tag(self) -> &'static str {
        match self {
            ResourceKind::Service => "service-file",
            ResourceKind::Registration => "registration",
            ResourceKind::Metadata => "reflection-metadata",
            ResourceKind::Configuration => "configuration",
            ResourceKind::Mention => "mention",
            ResourceKind::Requires => "module-requires",
            ResourceKind::Hint => "manifest-hint",
            ResourceKind::Page => "page-code",
            ResourceKind::Import => "bundle-import",
            ResourceKind::Dependency => "loader-dependency",
        }
    }

    /// The same for people; a verb whose object is the class or module.
    pub fn phrase(self) -> &'static str {
        match self {
            ResourceKind::Service => "names for service look-up",
            ResourceKind::Registration => "registers",
            ResourceKind::Metadata => "declares for reflection",
            ResourceKind::Configuration => "configures",
            ResourceKind::Mention => "mentions",
            ResourceKind::Requires => "requires in its module descriptor",
            ResourceKind::Hint => "opens or exports in its manifest",
            ResourceKind::Page => "has code with",
            ResourceKind::Import => "imports as a bundle, for a framework that is in the program,",
            ResourceKind::Dependency => "depends as a module on",
        }
    }
}

/// A class or module that a resource names: a class of the program, or one in a package that some release of the
/// platform has had. Whether either is there on the chosen release is for the caller to look up.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ResourceName {
    /// The archive.
    pub archive: ArchiveId,
    /// The file in it, as a class loader would name it.
    pub path: Arc<str>,
    /// The class in internal form, or the package where a whole one is imported; the module's name where a whole module is
    /// meant.
    pub name: Box<str>,
    /// Whether `name` is that of a module.
    pub is_module: bool,
    /// How strong the file is.
    pub kind: ResourceKind,
    /// What it is named for: of a provider the service, of metadata the class that must be reached first where they name
    /// one; else the key, element, attribute or header. Classes in internal form, all else as written.
    pub of: Option<Box<str>>,
    /// Whether the file is a plain list: whoever reads it creates all classes that it names. Of other registrations some are
    /// taken up only where a condition holds or where something asks for them.
    pub is_listed: bool,
}

/// What all files of the program say.
#[derive(Clone, Debug, Default)]
pub struct Resources {
    /// In class path order, each name once per file, kind and purpose.
    pub names: Vec<ResourceName>,
    /// Keys and values of its property files.
    pub properties: Properties,
    /// Words of configuration that the table of needs asks for, in class path order, each once per file.
    pub texts: Vec<ResourceText>,
}

/// A word in a file that is the name of a charset, a language or the like.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ResourceText {
    /// The archive.
    pub archive: ArchiveId,
    /// The file in it, as a class loader would name it.
    pub path: Arc<str>,
    /// The word.
    pub text: Box<str>,
}

/// A file to read.
struct Work<'a> {
    id: ArchiveId,
    archive: &'a Archive,
    entry: &'a Entry,
    format: &'static Format,
    /// Whether it configures something, or code holds its path.
    is_configuration: bool,
}

/// Files that one worker takes at a time.
const SHARE: usize = 16;

impl Resources {
    /// Reads the files of all archives that a class loader of `release` sees and that the table lists.
    pub fn read(program: &Program, release: u16, limits: &Limits, findings: &mut Findings) -> Resources {
        let known = Known::of(program);
        let listed: Vec<Vec<Work<'_>>> = program
            .archives
            .par_iter()
            .enumerate()
            .map(|(number, archive)| {
                let entries = effective(archive, release);
                let works = entries.filter_map(|entry| {
                    let format = formats::of(&entry.path, entry.size)?;
                    let is_named = is_named(program, &entry.path);
                    if format.if_named && !is_named {
                        return None;
                    }
                    // Of the others, lists and documents are templates and data as often as not.
                    let is_configuration = format.kind == ResourceKind::Configuration
                        || [".yaml", ".yml", ".conf"].iter().any(|end| entry.path.ends_with(end))
                        || is_named && !matches!(format.reading, Reading::Lines | Reading::Xml);
                    Some(Work { id: ArchiveId(number as u32), archive, entry, format, is_configuration })
                });
                works.collect()
            })
            .collect();
        let mut room = limits.resource_bytes;
        let mut works = Vec::new();
        for work in listed.into_iter().flatten() {
            match admit(&work, &mut room, limits) {
                None => works.push(work),
                Some(finding) => findings.extend([finding]),
            }
        }
        let read: Vec<Sink<'_>> = works
            .par_iter()
            .with_min_len(SHARE)
            .map_init(|| Reader::new(limits), |reader, work| take(work, reader, &known, limits))
            .collect();
        let mut resources = Resources::default();
        let mut properties = properties::Collected::new(limits.property_bytes);
        let exported = wiring::exported(program);
        let mut read = read.into_iter().peekable();
        for (archive, number) in program.archives.iter().zip(0..) {
            let id = ArchiveId(number);
            while let Some(sink) = read.next_if(|sink| sink.archive == id) {
                findings.extend(sink.findings);
                resources.keep(sink.names, archive, limits, findings);
                let room = limits.resource_names.saturating_sub(resources.texts.len());
                resources.texts.extend(sink.texts.into_iter().take(room).map(|text| ResourceText {
                    archive: id,
                    path: Arc::clone(&sink.path),
                    text,
                }));
                properties.add(sink.pairs, id, &sink.path, || archive.locator.clone(), findings);
            }
            resources.texts.extend(translations::languages(program, id, release));
            resources.keep(manifest::names(id, archive, &known), archive, limits, findings);
            if let Some(exported) = &exported {
                resources.keep(wiring::names(id, archive, exported), archive, limits, findings);
            }
        }
        resources.properties = properties.finish();
        resources
    }

    /// Takes names over as long as there is room.
    fn keep(&mut self, names: Vec<ResourceName>, archive: &Archive, limits: &Limits, findings: &mut Findings) {
        let room = limits.resource_names.saturating_sub(self.names.len());
        if names.len() > room {
            findings.add(Code::LimitReached, || {
                let message = format!("limit resource-names reached: {} names are left out", names.len() - room);
                Diagnostic::new(Code::LimitReached, archive.locator.clone(), message)
            });
        }
        self.names.extend(names.into_iter().take(room));
    }
}

/// Whether some class holds the path of a file, or its last part.
fn is_named(program: &Program, path: &str) -> bool {
    let from_root = ["/", path].concat();
    let last = path.rsplit('/').next().unwrap_or(path);
    [path, &from_root, last].iter().any(|text| program.texts.find(text.as_bytes()).is_some())
}

/// Counts what a file will take, by what its directory states, which is the most that reading it can take; a finding
/// where that is too much.
fn admit(work: &Work<'_>, room: &mut u64, limits: &Limits) -> Option<Diagnostic> {
    let size = work.entry.size;
    let reason = if size > limits.resource_file_bytes {
        format!("limit resource-file-bytes reached: the file has {size} bytes, names in it are not read")
    } else if size > *room {
        "limit resource-bytes reached: the files before this one take all that may be read for names".to_owned()
    } else {
        *room -= size;
        return None;
    };
    Some(Diagnostic::new(Code::LimitReached, work.archive.locate(work.entry), reason))
}

/// Reads one file.
fn take<'a>(work: &Work<'_>, reader: &mut Reader, known: &'a Known<'a>, limits: &'a Limits) -> Sink<'a> {
    let Work { id, archive, entry, format, .. } = *work;
    let mut sink = Sink::new(known, id, &entry.path, format, limits);
    if format.reading == Reading::FileName {
        lists::file_name(&mut sink, &entry.path);
        return sink;
    }
    let bytes = match reader.read(archive, entry) {
        Ok(bytes) => bytes,
        Err(finding) => {
            sink.findings.push(*finding);
            return sink;
        }
    };
    match format.reading {
        Reading::Services => {
            lists::services(&mut sink, bytes, services::service_of(&entry.path), || archive.locate(entry));
        }
        Reading::Descriptor => {
            if let Err(error) = descriptor::read(&mut sink, bytes) {
                sink.findings.push(Diagnostic::new(Code::BadModuleDescriptor, archive.locate(entry), error));
            }
        }
        reading => {
            let read = if reading == Reading::Plugins {
                plugins::read(&mut sink, bytes)
            } else {
                let text = text::decode(bytes);
                if work.is_configuration {
                    values::read(&mut sink, &text);
                }
                read_text(&mut sink, reading, &text)
            };
            // What nobody is known to read may be a template, or of another dialect.
            if let Err(reason) = read
                && !format.loose
            {
                sink.findings.push(Diagnostic::new(Code::BadDescriptor, archive.locate(entry), reason));
            }
        }
    }
    sink.cut(|| archive.locate(entry));
    sink
}

/// Reads a text; where it breaks its format, for the words in it.
fn read_text(sink: &mut Sink<'_>, reading: Reading, text: &str) -> Result<(), String> {
    let read = match reading {
        Reading::Xml => xml::read(sink, text),
        Reading::Json => json::read(sink, text),
        _ => {
            match reading {
                Reading::Factories => properties::registrations(sink, text),
                Reading::Properties => properties::configuration(sink, text),
                Reading::Lines => lists::lines(sink, text),
                Reading::Login => login::read(sink, text),
                Reading::Page => pages::read(sink, text),
                // Bytes that are no text hold no list of names.
                _ if text.contains('\0') => {}
                _ => lists::words(sink, text),
            }
            Ok(())
        }
    };
    read.inspect_err(|_| lists::words(sink, text))
}

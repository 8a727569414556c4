//! One question to the table: methods, files, properties and options go in, what they ask for comes out.
//!
//! The first function to read is [`Inquiry::finish`].

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::Facts;
use super::glob::{Sameness, matches};
use super::index::INDEX;
use super::launch::Launch;
use super::matcher::found;
use super::table::{Need, Trigger, table};
use super::words::{Words, quoted};
use crate::archive::{ArchiveId, Manifest};

/// Places kept of one need; the rest are counted.
const PLACES: usize = 50;

/// Where something asks for a need. Ordered as they are told.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Where {
    /// An option of the launch, as written.
    Option(Box<str>),
    /// The name of a property given at launch or in a file.
    Property(Box<str>),
    /// A file of an archive, by its path there.
    Resource(ArchiveId, Box<str>),
    /// A method, by the number that [`Facts`] gave.
    Method(u32),
}

/// How sure it is that the need is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sure {
    /// Its parts stand apart, or it depends on a value that is not known.
    Likely,
    /// A call and its text stand in one method, or an option is given.
    Certain,
}

/// A need that something asks for.
#[derive(Clone, Debug)]
pub struct Asked {
    /// The row of the table.
    pub need: &'static Need,
    /// Where.
    pub place: Where,
    /// How sure.
    pub sure: Sure,
    /// Whether the name of a class is all that was found: whoever knows what becomes of names can tell more.
    pub by_name: bool,
    /// What matched: `calls KeyPairGenerator.getInstance with "EC"`. Foreign texts in it are not yet escaped.
    pub phrase: Box<str>,
}

/// All that is asked for.
#[derive(Debug, Default)]
pub struct Answer {
    /// In the order of the table; of one need, certain ones first, then by place; each place once.
    pub asked: Vec<Asked>,
    /// How many places of a need were left out.
    pub more: Vec<(&'static Need, usize)>,
}

/// Collects what asks on one release.
pub struct Inquiry {
    release: u16,
    kept: BTreeMap<(u16, Reverse<Sure>, Where), (String, bool)>,
    left_out: BTreeMap<u16, usize>,
}

impl Inquiry {
    /// A question about a release.
    pub fn new(release: u16) -> Self {
        Inquiry { release, kept: BTreeMap::new(), left_out: BTreeMap::new() }
    }

    /// Asks about all methods that can run.
    pub fn methods(&mut self, facts: &impl Facts) {
        let mut words = Words::default();
        let mut places = found(facts, self.release, &mut words);
        places.sort_by_key(|found| (found.need, found.method, Reverse(found.certain), found.rule));
        places.dedup_by_key(|found| (found.need, found.method));
        places.sort_by_key(|found| (found.need, Reverse(found.certain), found.method));
        for of_need in places.chunk_by(|one, other| one.need == other.need) {
            for found in of_need.iter().take(PLACES) {
                let sure = if found.certain { Sure::Certain } else { Sure::Likely };
                let place = facts.place(found.method);
                let told = (found.phrase(&words), found.by_name());
                self.kept.insert((found.need, Reverse(sure), place), told);
            }
            if let (Some(first), Some(more @ 1..)) = (of_need.first(), of_need.len().checked_sub(PLACES)) {
                *self.left_out.entry(first.need).or_default() += more;
            }
        }
    }

    /// Asks about a file for which [`wants_resource`] holds; `bytes` are its text.
    pub fn resource(&mut self, archive: ArchiveId, path: &str, bytes: &[u8]) {
        self.each_trigger(|trigger| {
            if !named(&trigger.resources, path) {
                return None;
            }
            let sure = if trigger.likely { Sure::Likely } else { Sure::Certain };
            let place = Where::Resource(archive, path.into());
            if trigger.text.is_empty() {
                return Some((place, sure, format!("the file {path} is there")));
            }
            let word = trigger.text.iter().find(|word| holds(bytes, word.as_bytes()))?;
            Some((place, sure, format!("the file {path} holds {}", quoted(word))))
        });
    }

    /// Asks about a property that a file or the launch gives.
    pub fn property(&mut self, place: &Where, key: &str, value: &str) {
        let release = self.release;
        self.each_trigger(|trigger| {
            let given = trigger.properties.iter().any(|property| {
                let (wanted, wanted_value) =
                    property.split_once('=').map_or((&**property, None), |(k, v)| (k, Some(v)));
                like(wanted, key) && wanted_value.is_none_or(|wanted| like(wanted, value))
            });
            let against = trigger.unless.iter().any(|against| **against == *value);
            let charset = !trigger.charsets || INDEX.is_charset(value, release);
            (given && charset && !against).then(|| {
                let value = if value.is_empty() { String::new() } else { format!(" with {}", quoted(value)) };
                (place.clone(), Sure::Certain, format!("the property {key} is given{value}"))
            })
        });
    }

    /// Asks about the options and properties of the launch.
    pub fn launch(&mut self, launch: &Launch) {
        for option in &launch.options {
            self.each_trigger(|trigger| {
                named(&trigger.options, option).then(|| {
                    (Where::Option(option.clone()), Sure::Certain, format!("the option {} is given", quoted(option)))
                })
            });
        }
        for (key, value) in &launch.properties {
            self.property(&Where::Property(key.clone()), key, value);
        }
    }

    /// Asks about the headers of the executable archive.
    pub fn manifest(&mut self, archive: ArchiveId, manifest: &Manifest) {
        self.each_trigger(|trigger| {
            let header = trigger.manifest.iter().find(|header| manifest.get(header).is_some())?;
            let place = Where::Resource(archive, "META-INF/MANIFEST.MF".into());
            Some((place, Sure::Certain, format!("the manifest has the header {header}")))
        });
    }

    fn each_trigger(&mut self, asks: impl Fn(&'static Trigger) -> Option<(Where, Sure, String)>) {
        for (need, number) in table().iter().zip(0..).filter(|(need, _)| need.on(self.release)) {
            for (place, sure, phrase) in need.triggers.iter().filter_map(&asks) {
                // A place that is kept as certain needs not be told as likely too.
                if sure == Sure::Likely && self.kept.contains_key(&(number, Reverse(Sure::Certain), place.clone())) {
                    continue;
                }
                self.kept.remove(&(number, Reverse(Sure::Likely), place.clone()));
                self.kept.entry((number, Reverse(sure), place)).or_insert((phrase, false));
            }
        }
    }

    /// What is asked for.
    pub fn finish(mut self) -> Answer {
        let mut answer = Answer::default();
        let mut counts: BTreeMap<u16, usize> = BTreeMap::new();
        for ((number, Reverse(sure), place), (phrase, by_name)) in self.kept {
            let Some(need) = table().get(usize::from(number)) else { continue };
            let count = counts.entry(number).or_default();
            *count += 1;
            if *count <= PLACES {
                answer.asked.push(Asked { need, place, sure, by_name, phrase: phrase.into() });
            } else {
                *self.left_out.entry(number).or_default() += 1;
            }
        }
        let more =
            self.left_out.into_iter().filter_map(|(number, count)| Some((table().get(usize::from(number))?, count)));
        answer.more = more.collect();
        answer
    }
}

/// Whether the table wants to see a file of that path.
pub fn wants_resource(path: &str) -> bool {
    table().iter().flat_map(|need| &need.triggers).any(|trigger| named(&trigger.resources, path))
}

fn like(pattern: &str, text: &str) -> bool {
    matches(pattern.as_bytes(), text.as_bytes(), Sameness::Exact)
}

fn named(patterns: &[Box<str>], text: &str) -> bool {
    patterns.iter().any(|pattern| like(pattern, text))
}

/// Whether a line that is no comment of a property file holds the word.
fn holds(text: &[u8], word: &[u8]) -> bool {
    let comment = |line: &&[u8]| matches!(line.trim_ascii_start().first(), Some(b'#' | b'!'));
    let mut lines = text.split(|&byte| matches!(byte, b'\n' | b'\r')).filter(|line| !comment(line));
    lines.any(|line| memchr::memmem::find(line, word).is_some())
}

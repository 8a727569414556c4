//! Modules and types to the bytes of an embedded catalogue. Only `scripts/catalogue` compiles this.

use std::collections::{BTreeMap, BTreeSet};

use libdeflater::{CompressionLvl, Compressor};

use super::{FORMAT, MAGIC};
use crate::names::package_of;
use crate::platform::{Exports, Module, PlatformType, Sections};

/// What is to be written.
pub struct Contents {
    /// The feature release.
    pub release: u16,
    /// Releases and versions of the JDKs that the facts come from.
    pub made_from: Vec<(u16, String)>,
    /// Sorted by name, and all lists within sorted as [`Module`] says.
    pub modules: Vec<Module>,
    /// Types by internal name, with their facts where known.
    pub types: BTreeMap<Box<str>, Option<PlatformType>>,
    /// Packages of which no type is missing in `types`.
    pub complete: BTreeSet<Box<str>>,
}

impl Contents {
    /// The bytes of the file, as `layout.md` describes them.
    pub fn encode(&self) -> Result<Vec<u8>, String> {
        let mut out = Encoder::default();
        out.number(u64::from(self.release));
        out.number(self.made_from.len() as u64);
        for (release, version) in &self.made_from {
            out.number(u64::from(*release));
            out.number(version.len() as u64);
            out.bytes.extend_from_slice(version.as_bytes());
        }
        // Types that stand in the table only because another names them as a supertype.
        let named: BTreeSet<&str> = self
            .types
            .values()
            .flatten()
            .flat_map(|facts| facts.superclass.iter().chain(&facts.interfaces))
            .map(|name| &**name)
            .chain(self.types.keys().map(|name| &**name))
            .collect();
        let words = self.words(&named);
        out.number(words.list.len() as u64);
        out.sorted_table(words.list.iter().map(|word| word.as_bytes()));
        out.number(self.modules.len() as u64);
        for module in &self.modules {
            out.module(module, &words);
        }
        self.encode_types(&mut out, &named, &words)?;
        let mut deflate = Compressor::new(CompressionLvl::best());
        let mut stream = vec![0; deflate.zlib_compress_bound(out.bytes.len())];
        let length = deflate.zlib_compress(&out.bytes, &mut stream).map_err(|error| error.to_string())?;
        stream.truncate(length);
        let content_length = u32::try_from(out.bytes.len()).map_err(|error| error.to_string())?;
        Ok([&MAGIC[..], &[FORMAT], &content_length.to_le_bytes(), &stream].concat())
    }

    fn words(&self, named: &BTreeSet<&str>) -> Words {
        let mut set: BTreeSet<Box<str>> = BTreeSet::new();
        for module in &self.modules {
            set.insert(module.name.clone());
            set.extend(module.requires.iter().map(|requires| requires.module.clone()));
            for directive in module.exports.iter().chain(&module.opens) {
                set.insert(directive.package.clone());
                set.extend(directive.to.iter().cloned());
            }
            set.extend(module.uses.iter().chain(&module.packages).cloned());
            for provides in &module.provides {
                set.insert(provides.service.clone());
                set.extend(provides.with.iter().cloned());
            }
        }
        set.extend(named.iter().map(|name| package(name).into()));
        set.extend(self.complete.iter().cloned());
        Words { list: set.into_iter().collect() }
    }

    fn encode_types(&self, out: &mut Encoder, named: &BTreeSet<&str>, words: &Words) -> Result<(), String> {
        let mut packages: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
        for package in &self.complete {
            packages.entry(package).or_default();
        }
        for name in named {
            packages.entry(package(name)).or_default().insert(name);
        }
        out.number(packages.len() as u64);
        for (name, types) in &packages {
            out.word(words, name);
            out.number(types.len() as u64);
            out.number(u64::from(self.complete.contains(*name)));
        }
        let order: Vec<&str> = packages.values().flatten().copied().collect();
        let numbers: BTreeMap<&str, u64> = order.iter().zip(0..).map(|(name, number)| (*name, number)).collect();
        let number_of = |name: &str| numbers.get(name).copied().ok_or_else(|| format!("{name} has no number"));
        out.sorted_table(order.iter().map(|name| simple(name).as_bytes()));
        for name in &order {
            out.bytes.push(match self.types.get(*name) {
                None => 0,
                Some(None) => 1,
                Some(Some(_)) => 2,
            });
        }
        let described: Vec<&PlatformType> = order.iter().filter_map(|name| self.types.get(*name)?.as_ref()).collect();
        for facts in &described {
            out.number(u64::from(facts.access));
        }
        for facts in &described {
            out.number(facts.superclass.as_deref().map_or(Ok(0), |name| number_of(name).map(|number| number + 1))?);
        }
        for facts in &described {
            out.number(facts.interfaces.len() as u64);
            for name in &facts.interfaces {
                out.number(number_of(name)?);
            }
        }
        let selectors: BTreeSet<&str> =
            described.iter().flat_map(|facts| &facts.overridable).map(|selector| &**selector).collect();
        let selector_numbers: BTreeMap<&str, u64> = selectors.iter().zip(0..).map(|(s, number)| (*s, number)).collect();
        for facts in &described {
            let methods: BTreeSet<u64> =
                facts.overridable.iter().filter_map(|s| selector_numbers.get(&**s).copied()).collect();
            out.ascending(methods);
        }
        out.number(selectors.len() as u64);
        out.sorted_table(selectors.iter().map(|selector| selector.as_bytes()));
        Ok(())
    }
}

fn package(class: &str) -> &str {
    class.get(..package_of(class.as_bytes()).len()).unwrap_or_default()
}

fn simple(class: &str) -> &str {
    class.get(package_of(class.as_bytes()).len() + 1..).unwrap_or_default()
}

/// Sorted; the number of a word is its place.
struct Words {
    list: Vec<Box<str>>,
}

impl Words {
    fn number(&self, word: &str) -> u64 {
        self.list.partition_point(|other| **other < *word) as u64
    }
}

#[derive(Default)]
struct Encoder {
    bytes: Vec<u8>,
}

impl Encoder {
    fn module(&mut self, module: &Module, words: &Words) {
        self.word(words, &module.name);
        let flags =
            u64::from(module.open) | u64::from(module.not_by_default) << 1 | u64::from(module.sections.is_some()) << 2;
        self.number(flags);
        self.number(u64::from(module.from_release.unwrap_or(0)));
        self.number(u64::from(module.internals_from.unwrap_or(0)));
        self.number(module.requires.len() as u64);
        for requires in &module.requires {
            self.word(words, &requires.module);
            let flags = u64::from(requires.transitive)
                | u64::from(requires.static_phase) << 1
                | u64::from(requires.mandated) << 2;
            self.number(flags);
        }
        self.exports(&module.exports, words);
        self.exports(&module.opens, words);
        self.ascending(module.uses.iter().map(|word| words.number(word)));
        self.number(module.provides.len() as u64);
        for provides in &module.provides {
            self.word(words, &provides.service);
            self.number(provides.with.len() as u64);
            for class in &provides.with {
                self.word(words, class);
            }
        }
        self.ascending(module.packages.iter().map(|word| words.number(word)));
        if let Some(sections) = &module.sections {
            let Sections { entries, classes, bin, conf, include, legal, lib, man } = *sections;
            for number in [entries, classes, bin, conf, include, legal, lib, man] {
                self.number(number);
            }
            self.number(u64::from(module.sections_from.unwrap_or(0)));
        }
    }

    fn exports(&mut self, directives: &[Exports], words: &Words) {
        self.number(directives.len() as u64);
        for directive in directives {
            self.word(words, &directive.package);
            self.ascending(directive.to.iter().map(|word| words.number(word)));
        }
    }

    fn word(&mut self, words: &Words, word: &str) {
        self.number(words.number(word));
    }

    fn ascending(&mut self, numbers: impl IntoIterator<Item = u64>) {
        let numbers: Vec<u64> = numbers.into_iter().collect();
        self.number(numbers.len() as u64);
        let mut before = 0;
        for number in numbers {
            self.number(number - before);
            before = number;
        }
    }

    fn sorted_table<'a>(&mut self, strings: impl Iterator<Item = &'a [u8]>) {
        let mut rests = Vec::new();
        let mut lengths = Encoder::default();
        let mut last: &[u8] = &[];
        for string in strings {
            let shared = last.iter().zip(string).take_while(|(a, b)| a == b).count();
            let rest = string.get(shared..).unwrap_or_default();
            self.number(shared as u64);
            lengths.number(rest.len() as u64);
            rests.extend_from_slice(rest);
            last = string;
        }
        self.bytes.extend_from_slice(&lengths.bytes);
        self.bytes.extend_from_slice(&rests);
    }

    fn number(&mut self, mut value: u64) {
        while value >= 0x80 {
            self.bytes.push((value & 0x7F) as u8 | 0x80);
            value >>= 7;
        }
        self.bytes.push(value as u8);
    }
}

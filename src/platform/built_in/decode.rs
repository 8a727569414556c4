//! Bytes of an embedded catalogue to modules and types. Total: damaged bytes give a reason, never a panic.

use libdeflater::Decompressor;

use super::{FORMAT, MAGIC};
use crate::names::decode_mutf8;
use crate::platform::cursor::{Cursor, Order};
use crate::platform::types::{Facts, Knowledge, PackageTypes, Strings, TypeTable};
use crate::platform::{Exports, Module, Provides, Requires, Sections};

/// No catalogue comes near this; a length beyond it is damage.
const MAX_CONTENT: u32 = 64 << 20;

/// All that a file holds.
pub(super) struct Contents {
    pub(super) release: u16,
    pub(super) made_from: Vec<(u16, String)>,
    pub(super) modules: Vec<Module>,
    pub(super) types: TypeTable,
}

/// Reads a file as `layout.md` describes it.
pub(super) fn read(bytes: &[u8]) -> Result<Contents, String> {
    let mut frame = Cursor::new(bytes);
    if frame.take(MAGIC.len()) != Some(&MAGIC) {
        return Err("it is no catalogue".into());
    }
    match frame.u1() {
        Some(FORMAT) => {}
        other => return Err(format!("its layout has version {other:?}, not {FORMAT}")),
    }
    let length = frame.u4(Order::Little).filter(|length| *length <= MAX_CONTENT).ok_or("its length is damaged")?;
    let mut content = vec![0; length as usize];
    let stream = frame.take(frame.left()).unwrap_or_default();
    let written = Decompressor::new()
        .zlib_decompress(stream, &mut content)
        .map_err(|error| format!("it does not inflate: {error}"))?;
    if written != content.len() {
        return Err(format!("it inflates to {written} bytes, not {length}"));
    }
    let mut decoder = Decoder { cursor: Cursor::new(&content) };
    let contents = decoder.contents().ok_or("its content ends too early or refers to what is not there")?;
    if decoder.cursor.left() > 0 {
        return Err(format!("{} bytes follow its content", decoder.cursor.left()));
    }
    Ok(contents)
}

struct Decoder<'a> {
    cursor: Cursor<'a>,
}

impl<'a> Decoder<'a> {
    fn contents(&mut self) -> Option<Contents> {
        let release = self.small()?;
        let made_from = self.list(|d| Some((d.small()?, d.string()?.into())))?;
        let words = self.words()?;
        let modules = self.list(|d| d.module(&words))?;
        let types = self.types(&words)?;
        Some(Contents { release, made_from, modules, types })
    }

    fn module(&mut self, words: &[Box<str>]) -> Option<Module> {
        let name = self.word(words)?;
        let flags: u16 = self.small()?;
        let (mut from_release, mut internals_from, mut sections_from) = (None, None, None);
        self.other_release(&mut from_release)?;
        self.other_release(&mut internals_from)?;
        let requires = self.list(|d| {
            let module = d.word(words)?;
            let flags: u16 = d.small()?;
            Some(Requires {
                module,
                transitive: flags & 1 != 0,
                static_phase: flags & 2 != 0,
                mandated: flags & 4 != 0,
            })
        })?;
        let exports = self.exports(words)?;
        let opens = self.exports(words)?;
        let uses = self.ascending_words(words)?;
        let provides = self.list(|d| Some(Provides { service: d.word(words)?, with: d.list(|d| d.word(words))? }))?;
        let packages = self.ascending_words(words)?;
        let mut sections = None;
        if flags & 4 != 0 {
            sections = Some(self.sections()?);
            self.other_release(&mut sections_from)?;
        }
        Some(Module {
            name,
            open: flags & 1 != 0,
            not_by_default: flags & 2 != 0,
            from_release,
            internals_from,
            requires,
            exports,
            opens,
            uses,
            provides,
            packages,
            sections,
            sections_from,
        })
    }

    fn exports(&mut self, words: &[Box<str>]) -> Option<Vec<Exports>> {
        self.list(|d| Some(Exports { package: d.word(words)?, to: d.ascending_words(words)? }))
    }

    fn sections(&mut self) -> Option<Sections> {
        Some(Sections {
            entries: self.cursor.varint()?,
            classes: self.cursor.varint()?,
            bin: self.cursor.varint()?,
            conf: self.cursor.varint()?,
            include: self.cursor.varint()?,
            legal: self.cursor.varint()?,
            lib: self.cursor.varint()?,
            man: self.cursor.varint()?,
        })
    }

    fn types(&mut self, words: &[Box<str>]) -> Option<TypeTable> {
        let mut table = TypeTable::default();
        let mut count = 0_u32;
        table.packages = self.list(|d| {
            let name = d.word(words)?;
            let start = count;
            count = count.checked_add(d.small()?)?;
            Some(PackageTypes { name, types: start..count, complete: d.small::<u8>()? == 1 })
        })?;
        table.by_name = table.packages.iter().enumerate().map(|(index, p)| (p.name.clone(), index)).collect();
        table.names = self.sorted_table(count)?;
        let knowledge = self.cursor.take(count as usize)?;
        table.facts = knowledge
            .iter()
            .map(|byte| {
                let knowledge = match byte {
                    0 => Knowledge::Named,
                    1 => Knowledge::Exists,
                    2 => Knowledge::Described,
                    _ => return None,
                };
                Some(Facts { knowledge, access: 0, superclass: 0, interfaces: 0..0, methods: 0..0 })
            })
            .collect::<Option<_>>()?;
        let described = |facts: &&mut Facts| facts.knowledge == Knowledge::Described;
        for facts in table.facts.iter_mut().filter(described) {
            facts.access = self.small()?;
        }
        for facts in table.facts.iter_mut().filter(described) {
            facts.superclass = self.small().filter(|number| *number <= count)?;
        }
        for facts in table.facts.iter_mut().filter(described) {
            facts.interfaces = self.range(&mut table.interfaces, |d, _| d.small().filter(|number| *number < count))?;
        }
        for facts in table.facts.iter_mut().filter(described) {
            facts.methods = self.range(&mut table.methods, |d, before| d.small::<u32>()?.checked_add(before))?;
        }
        let selectors = self.small()?;
        table.selectors = self.sorted_table(selectors)?;
        table.methods.iter().all(|number| (*number as usize) < table.selectors.len()).then_some(table)
    }

    /// A list whose items go to the end of `all`; each item is made knowing the one before, 0 at first.
    fn range(
        &mut self,
        all: &mut Vec<u32>,
        item: impl Fn(&mut Self, u32) -> Option<u32>,
    ) -> Option<std::ops::Range<u32>> {
        let start = u32::try_from(all.len()).ok()?;
        let mut before = 0;
        for _ in 0..self.count()? {
            before = item(self, before)?;
            all.push(before);
        }
        Some(start..u32::try_from(all.len()).ok()?)
    }

    fn sorted_table(&mut self, count: u32) -> Option<Strings> {
        let mut shared = self.column(count)?;
        let mut lengths = self.column(count)?;
        let mut strings = Strings::default();
        for _ in 0..count {
            let suffix = self.cursor.take(usize::try_from(lengths.varint()?).ok()?)?;
            strings.push(usize::try_from(shared.varint()?).ok()?, suffix)?;
        }
        Some(strings)
    }

    /// Passes over `count` numbers and returns a cursor that stands before them.
    fn column(&mut self, count: u32) -> Option<Cursor<'a>> {
        let before = self.cursor;
        for _ in 0..count {
            self.cursor.varint()?;
        }
        Some(before)
    }

    fn words(&mut self) -> Option<Vec<Box<str>>> {
        let count = self.small()?;
        let strings = self.sorted_table(count)?;
        (0..count).map(|number| Some(decode_mutf8(strings.get(number)?).into())).collect()
    }

    fn word(&mut self, words: &[Box<str>]) -> Option<Box<str>> {
        let index: u32 = self.small()?;
        words.get(index as usize).cloned()
    }

    fn ascending_words(&mut self, words: &[Box<str>]) -> Option<Vec<Box<str>>> {
        let mut at = 0_u32;
        self.list(|d| {
            at = at.checked_add(d.small()?)?;
            words.get(at as usize).cloned()
        })
    }

    /// Reads a release into `to`; 0 stands for none.
    fn other_release(&mut self, to: &mut Option<u16>) -> Option<()> {
        *to = Some(self.small()?).filter(|release| *release != 0);
        Some(())
    }

    fn list<T>(&mut self, mut item: impl FnMut(&mut Self) -> Option<T>) -> Option<Vec<T>> {
        (0..self.count()?).map(|_| item(self)).collect()
    }

    /// The length of a list, whose items take a byte each at least.
    fn count(&mut self) -> Option<usize> {
        let count = usize::try_from(self.cursor.varint()?).ok()?;
        (count <= self.cursor.left()).then_some(count)
    }

    fn small<T: TryFrom<u64>>(&mut self) -> Option<T> {
        T::try_from(self.cursor.varint()?).ok()
    }

    fn string(&mut self) -> Option<&'a str> {
        let length = self.small()?;
        std::str::from_utf8(self.cursor.take(length)?).ok()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SEED: &[u8] = include_bytes!("r12.bin");

    /// What the checksum would otherwise hide from the test below: the content, inflated.
    fn content() -> Vec<u8> {
        let length = u32::from_le_bytes(SEED[5..9].try_into().unwrap());
        let mut content = vec![0; length as usize];
        Decompressor::new().zlib_decompress(&SEED[9..], &mut content).unwrap();
        content
    }

    #[test]
    fn a_damaged_file_is_refused() {
        for length in (0..64).chain((64..SEED.len()).step_by(9_973)) {
            assert!(read(&SEED[..length]).is_err(), "cut to {length} bytes");
        }
        for at in (0..64).chain((64..SEED.len()).step_by(9_973)) {
            let mut bytes = SEED.to_vec();
            bytes[at] ^= 0x10;
            assert!(read(&bytes).is_err(), "byte {at} changed");
        }
    }

    /// Even a fault of the writer, which the checksum does not show, ends without a panic.
    #[test]
    fn damaged_content_does_no_harm() {
        let seed = content();
        assert!(Decoder { cursor: Cursor::new(&seed) }.contents().is_some());
        for at in (0..256).chain((256..seed.len()).step_by(4_999)) {
            assert!(Decoder { cursor: Cursor::new(&seed[..at]) }.contents().is_none(), "cut to {at} bytes");
            for mask in [0x01, 0x80, 0xFF] {
                let mut bytes = seed.clone();
                bytes[at] ^= mask;
                if let Some(contents) = (Decoder { cursor: Cursor::new(&bytes) }).contents() {
                    let _ = contents.types.platform_type(b"java/util/ArrayList");
                }
            }
        }
    }
}

//! Which conditions a fact meets, found by hash and first byte, since it is asked of every constant of every class.
//!
//! The first functions to read are [`Index::calls`] and [`Index::texts`]; both tell each condition to a function that
//! says whether to go on.

use std::ops::ControlFlow;
use std::sync::LazyLock;

use rustc_hash::FxHashMap;

use super::Owner;
use super::begun::Begun;
use super::glob::{Sameness, is_open, matches};
use super::rules::{At, Items, RULES, UNLESS};
use super::sieve::Sieve;
use super::table::{CHARSETS, Scope};
use super::tags::{is_foreign_locale, is_telling_charset};

/// Longest text that is compared whole; a test holds the table to it.
const LONGEST: usize = 96;

struct Member {
    name: &'static [u8],
    /// Whether a longer name counts as well.
    open: bool,
    /// A type that the descriptor must hold: `Ljava/util/Locale;`.
    parameter: Option<Box<[u8]>>,
    at: At,
}

struct Text {
    pattern: &'static [u8],
    same: Sameness,
    at: At,
}

impl Text {
    /// Whether a text ends as what stands behind the last `*`: matching the rest takes longer and fails nearly always.
    fn may_end(&self, text: &[u8]) -> bool {
        let end = self.pattern.rsplit(|&byte| matches!(byte, b'*' | b'?')).next().unwrap_or_default();
        let from = text.len().checked_sub(end.len());
        let last = from.and_then(|from| text.get(from..));
        last.is_some_and(|last| end.iter().zip(last).all(|(&wanted, &byte)| self.same.holds(wanted, byte)))
    }
}

/// The table by what facts look like.
#[derive(Default)]
pub(super) struct Index {
    owners: FxHashMap<&'static [u8], Vec<Member>>,
    owner_sieve: Sieve,
    /// Owners by the methods that a subtype outside the platform may be called by.
    names: FxHashMap<&'static [u8], Vec<&'static [u8]>>,
    name_sieve: Sieve,
    beginnings: Vec<(&'static [u8], &'static [u8])>,
    fields: FxHashMap<&'static [u8], Vec<Member>>,
    field_sieve: Sieve,
    /// By the text with small letters and dots.
    whole: FxHashMap<Box<[u8]>, Vec<Text>>,
    whole_sieve: Sieve,
    begun: Begun<Text>,
    /// Patterns with an end only.
    ended: Vec<Text>,
    /// The last bytes of these, as small letters.
    ends: Vec<u8>,
    /// Value: the first release that has it in jdk.charsets.
    charsets: FxHashMap<&'static [u8], u16>,
    charset_conditions: Vec<(At, bool)>,
    locale_conditions: Vec<At>,
}

/// The one index.
pub(super) static INDEX: LazyLock<Index> = LazyLock::new(Index::build);

impl Index {
    fn build() -> Index {
        let mut index = Index::default();
        for (rule, number) in RULES.iter().zip(0..) {
            for (condition, at) in rule.conditions.iter().zip(0..) {
                let at = At { rule: number, condition: at };
                match &condition.items {
                    Items::Calls(items) => items.iter().for_each(|item| index.add_call(item, at)),
                    Items::Fields(items) => items.iter().for_each(|item| index.add_field(item, at)),
                    Items::Names(items) => items.iter().for_each(|item| index.add_text(item, Sameness::Separators, at)),
                    Items::Texts { patterns, ignore_case } => {
                        let same = if *ignore_case { Sameness::AnyCase } else { Sameness::Exact };
                        for item in patterns {
                            index.add_text(item, same, at);
                        }
                    }
                    Items::Charsets => {
                        let wide = rule.conditions.iter().any(|other| other.scope != Scope::Method);
                        index.charset_conditions.push((at, wide));
                    }
                    Items::Locales => index.locale_conditions.push(at),
                }
            }
            let against = At { rule: number, condition: UNLESS };
            rule.trigger.unless.iter().for_each(|item| index.add_text(item, Sameness::Exact, against));
        }
        let later = CHARSETS.only_25.iter().map(|name| (name, 18));
        for (name, from) in CHARSETS.every.iter().chain(&CHARSETS.only_17).map(|name| (name, 0)).chain(later) {
            index.charsets.insert(name.as_bytes(), from);
            index.whole_sieve.add(name.as_bytes());
        }
        index
    }

    fn add_call(&mut self, item: &'static str, at: At) {
        let Some((owner, name)) = item.split_once('.') else { return };
        let (name, parameter) = match name.split_once('(') {
            Some((name, parameter)) => (name, Some(format!("L{};", parameter.trim_end_matches(')')))),
            None => (name, None),
        };
        let (owner, parameter) = (owner.as_bytes(), parameter.map(|text| text.into_bytes().into()));
        let open = name.ends_with('*');
        let name = name.trim_end_matches('*').as_bytes();
        let known = self.owners.entry(owner).or_default();
        let new = !known.iter().any(|member| member.name == name && member.open == open);
        known.push(Member { name, open, parameter, at });
        self.owner_sieve.add(owner);
        if open && new {
            self.beginnings.push((name, owner));
        } else if name != b"<init>" && new {
            self.names.entry(name).or_default().push(owner);
            self.name_sieve.add(name);
        }
    }

    fn add_field(&mut self, item: &'static str, at: At) {
        let Some((owner, name)) = item.split_once('.') else { return };
        let member = Member { name: name.as_bytes(), open: false, parameter: None, at };
        self.fields.entry(owner.as_bytes()).or_default().push(member);
        self.field_sieve.add(owner.as_bytes());
    }

    fn add_text(&mut self, item: &'static str, same: Sameness, at: At) {
        let text = Text { pattern: item.as_bytes(), same, at };
        match item.as_bytes() {
            [b'*', .., end] => {
                self.ends.push(end.to_ascii_lowercase());
                self.ended.push(text);
            }
            _ if is_open(item) => self.begun.add(item.split(['*', '?']).next().unwrap_or_default().as_bytes(), text),
            whole => {
                let mut space = [0; LONGEST];
                if let Some(key) = plain(whole, &mut space) {
                    self.whole_sieve.add(key);
                    self.whole.entry(key.into()).or_default().push(text);
                }
            }
        }
    }

    /// Whether a text of a file meets a condition of a rule for files.
    pub fn texts_of_files(&self, text: &[u8]) -> ControlFlow<()> {
        self.texts(text, u16::MAX, |at| match RULES.get(usize::from(at.rule)) {
            Some(rule) if rule.trigger.in_files => ControlFlow::Break(()),
            _ => ControlFlow::Continue(()),
        })
    }

    /// What of a class can meet a condition.
    pub fn owner(&self, name: &[u8]) -> Owner {
        Owner {
            calls: self.owner_sieve.passes(name) && self.owners.contains_key(name),
            inherited: !is_platform(name),
            fields: self.field_sieve.passes(name) && self.fields.contains_key(name),
        }
    }

    /// Tells the conditions that a call meets; `is_subtype` is asked of owners outside the platform only.
    pub fn calls(
        &self,
        (owner, name, descriptor): (&[u8], &[u8], &[u8]),
        mut is_subtype: impl FnMut(&[u8], &'static [u8]) -> bool,
        mut tell: impl FnMut(At) -> ControlFlow<()>,
    ) -> ControlFlow<()> {
        let mut members = |owner: &[u8]| {
            for member in self.owners.get(owner).into_iter().flatten() {
                let named = if member.open { name.starts_with(member.name) } else { name == member.name };
                if named && member.parameter.as_ref().is_none_or(|wanted| takes(descriptor, wanted)) {
                    tell(member.at)?;
                }
            }
            ControlFlow::Continue(())
        };
        if is_platform(owner) {
            return if self.owner_sieve.passes(owner) { members(owner) } else { ControlFlow::Continue(()) };
        }
        if self.name_sieve.passes(name) {
            for &of in self.names.get(name).into_iter().flatten() {
                if is_subtype(owner, of) {
                    members(of)?;
                }
            }
        }
        for &(beginning, of) in &self.beginnings {
            if name.starts_with(beginning) && is_subtype(owner, of) {
                members(of)?;
            }
        }
        ControlFlow::Continue(())
    }

    /// Tells the conditions that a read of a static field meets.
    pub fn fields(&self, owner: &[u8], name: &[u8], mut tell: impl FnMut(At) -> ControlFlow<()>) -> ControlFlow<()> {
        if !self.field_sieve.passes(owner) {
            return ControlFlow::Continue(());
        }
        for member in self.fields.get(owner).into_iter().flatten().filter(|member| member.name == name) {
            tell(member.at)?;
        }
        ControlFlow::Continue(())
    }

    /// Tells the conditions that a text meets on a release.
    pub fn texts(&self, text: &[u8], release: u16, mut tell: impl FnMut(At) -> ControlFlow<()>) -> ControlFlow<()> {
        let Some(last) = text.last().map(u8::to_ascii_lowercase) else { return ControlFlow::Continue(()) };
        let mut try_on = |item: &Text| {
            let holds = matches(item.pattern, text, item.same);
            let holds = holds && (item.same != Sameness::Separators || is_class_name(text));
            if holds { tell(item.at) } else { ControlFlow::Continue(()) }
        };
        self.begun.each(text, &mut try_on)?;
        if self.ends.contains(&last) {
            self.ended.iter().filter(|item| item.may_end(text)).try_for_each(&mut try_on)?;
        }
        let mut space = [0; LONGEST];
        if self.whole_sieve.passes(text)
            && let Some(key) = plain(text, &mut space)
        {
            for item in self.whole.get(key).into_iter().flatten() {
                try_on(item)?;
            }
            if self.charsets.get(key).is_some_and(|&from| from <= release) {
                for &(at, wide) in &self.charset_conditions {
                    if !wide || is_telling_charset(key) {
                        tell(at)?;
                    }
                }
            }
        }
        if is_foreign_locale(text) {
            for &at in &self.locale_conditions {
                tell(at)?;
            }
        }
        ControlFlow::Continue(())
    }

    /// Whether a text names a charset of jdk.charsets on a release.
    pub fn is_charset(&self, text: &str, release: u16) -> bool {
        self.charsets.get(text.to_ascii_lowercase().as_bytes()).is_some_and(|&from| from <= release)
    }
}

/// Owners of the table are there; a class of the program that is called so is compared and not found.
pub(super) fn is_platform(owner: &[u8]) -> bool {
    [&b"java/"[..], b"javax/", b"jdk/", b"sun/", b"com/sun/"].iter().any(|start| owner.starts_with(start))
}

/// Whether one of the parameters is of the type.
fn takes(descriptor: &[u8], wanted: &[u8]) -> bool {
    let parameters = descriptor.split(|&byte| byte == b')').next().unwrap_or_default();
    parameters.windows(wanted.len()).any(|window| window == wanted)
}

/// A text with small letters and dots, so that it is found whatever its separators; none where it is too long.
fn plain<'s>(text: &[u8], space: &'s mut [u8; LONGEST]) -> Option<&'s [u8]> {
    let room = space.get_mut(..text.len())?;
    for (to, from) in room.iter_mut().zip(text) {
        *to = if *from == b'/' { b'.' } else { from.to_ascii_lowercase() };
    }
    Some(room)
}

/// Whether a text has the form of a class name: its last part starts with a capital, no blank is in it.
fn is_class_name(text: &[u8]) -> bool {
    let last = text.rsplit(|&byte| matches!(byte, b'.' | b'/')).next().unwrap_or_default();
    last.first().is_some_and(u8::is_ascii_uppercase)
        && text.iter().all(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'.' | b'/' | b'_' | b'$'))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is longer would never be found.
    #[test]
    fn texts_of_the_table_are_short_enough() {
        for rule in RULES.iter() {
            for condition in &rule.conditions {
                let items: Vec<&str> = match &condition.items {
                    Items::Names(items) => items.iter().map(|item| &**item).collect(),
                    Items::Texts { patterns, .. } => patterns.clone(),
                    _ => Vec::new(),
                };
                assert!(items.iter().all(|item| item.len() <= LONGEST), "{items:?}");
            }
            assert!(rule.conditions.len() <= 8 && rule.trigger.unless.iter().all(|item| item.len() <= LONGEST));
        }
        assert!(RULES.len() < usize::from(u16::MAX));
    }

    #[test]
    fn class_names_are_told_from_property_names() {
        assert!(is_class_name(b"java.util.logging.Logger") && is_class_name(b"sun/misc/Unsafe"));
        assert!(!is_class_name(b"java.util.logging.manager") && !is_class_name(b"a.B c") && !is_class_name(b""));
    }
}

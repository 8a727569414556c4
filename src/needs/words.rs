//! What matched, in words: `calls KeyPairGenerator.getInstance with "EC"`.

use rustc_hash::FxHashMap;

use super::Fact;
use super::rules::Items;
use crate::names::decode_mutf8;

/// Longest text that is told whole, in characters.
const LONGEST: usize = 60;

/// Words for facts, each kept once.
#[derive(Default)]
pub(super) struct Words {
    kept: Vec<Box<str>>,
    numbers: FxHashMap<Box<str>, u32>,
}

impl Words {
    /// The number of a fact's words.
    pub fn of(&mut self, fact: Fact<'_>) -> u32 {
        let words = match fact {
            Fact::Call { owner, name, .. } if name == b"<init>" => format!("calls new {}", simple(owner)),
            Fact::Call { owner, name, .. } => format!("calls {}.{}", simple(owner), decode_mutf8(name)),
            Fact::Field { owner, name, .. } => format!("reads {}.{}", simple(owner), decode_mutf8(name)),
            Fact::Text(text) => quoted(&decode_mutf8(text)),
        };
        if let Some(&number) = self.numbers.get(&*words) {
            return number;
        }
        let number = self.kept.len() as u32;
        self.kept.push(words.clone().into());
        self.numbers.insert(words.into(), number);
        number
    }

    fn get(&self, number: u32) -> &str {
        self.kept.get(number as usize).map_or("", |words| words)
    }
}

/// Where a condition was met.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Met {
    Here(u32),
    InClass(u32),
    InProgram(u32),
}

impl Words {
    /// One phrase for what met the conditions of a rule, in their order.
    pub fn phrase<'a>(&self, met: impl Iterator<Item = (&'a Items, Met)>) -> String {
        let mut phrase = String::new();
        let mut calls = false;
        for (items, met) in met {
            let (number, before) = match met {
                Met::Here(number) => (number, if phrase.is_empty() { "" } else { " and " }),
                Met::InClass(number) => (number, "; its class "),
                Met::InProgram(number) => (number, "; elsewhere the program "),
            };
            let words = self.get(number);
            let words = if matches!(items, Items::Names(_)) { words.trim_matches('"') } else { words };
            let verb = match items {
                Items::Calls(_) | Items::Fields(_) => "",
                Items::Names(_) => "names ",
                _ if matches!(met, Met::Here(_)) && calls => "",
                _ => "has the text ",
            };
            let is_text = verb.is_empty() && words.starts_with('"');
            let before = if is_text && !phrase.ends_with('"') { " with " } else { before };
            calls = matches!(items, Items::Calls(_)) || (calls && is_text);
            phrase.extend([before, verb, words]);
        }
        phrase
    }
}

/// The last part of a class name.
fn simple(owner: &[u8]) -> String {
    let name = owner.rsplit(|&byte| byte == b'/').next().unwrap_or_default();
    decode_mutf8(name).replace('$', ".")
}

/// A text between quotation marks, shortened; what a recipe leaves open is shown as an ellipsis.
pub(super) fn quoted(text: &str) -> String {
    let mut short: String = text.chars().take(LONGEST).map(|c| if c == '\u{1}' { '…' } else { c }).collect();
    if text.chars().nth(LONGEST).is_some() {
        short.push('…');
    }
    format!("\"{short}\"")
}

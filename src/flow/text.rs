//! Texts in pieces: what is known of them survives where only a part is unknown.
//!
//! The idea of keeping the known beginning and end of a name, so that it still selects classes, is from Smaragdakis,
//! Balatsouras, Kastrinis and Bravenboer, "More Sound Static Handling of Java Reflection" (APLAS 2015). The first
//! function to read is [`Nodes::concat`].

use super::Stop;
use super::nodes::{Id, Node, Nodes};

/// Bytes of one known piece; no class name that a compiler takes is as long in practice.
pub(super) const MOST_BYTES: usize = 1024;

/// Pieces of one text.
const MOST_PIECES: usize = 32;

impl Nodes {
    /// A known text.
    pub(super) fn known(&mut self, bytes: &[u8]) -> Result<Id, Stop> {
        if bytes.len() > MOST_BYTES {
            return Ok(Nodes::UNKNOWN);
        }
        self.add(Node::Known(bytes.into()))
    }

    /// A known character, in modified UTF-8 (JVMS §4.4.7).
    pub(super) fn character(&mut self, unit: u16) -> Result<Id, Stop> {
        let low = |shift: u16| 0x80 | (unit >> shift & 0x3F) as u8;
        match unit {
            1..=0x7F => self.known(&[unit as u8]),
            0 | 0x80..=0x7FF => self.known(&[0xC0 | (unit >> 6) as u8, low(0)]),
            _ => self.known(&[0xE0 | (unit >> 12) as u8, low(6), low(0)]),
        }
    }

    /// What an argument of that descriptor reads as when it is appended to a text (JLS §5.1.11).
    pub(super) fn read_as_text(&mut self, id: Id, descriptor: &[u8]) -> Result<Id, Stop> {
        match (self.get(id), descriptor) {
            (Node::Number(number), b"C") => match u16::try_from(*number) {
                Ok(unit) => self.character(unit),
                Err(_) => Ok(Nodes::UNKNOWN),
            },
            (Node::Number(number), b"I" | b"S" | b"B") => {
                let digits = number.to_string();
                self.known(digits.as_bytes())
            }
            (Node::Null, _) => self.known(b"null"),
            (
                Node::Known(_)
                | Node::Text(_)
                | Node::Parameter(_)
                | Node::StaticField(_)
                | Node::InstanceField(_)
                | Node::Element(_)
                | Node::Result { .. }
                | Node::OneOf(_),
                [b'L', ..],
            ) => Ok(id),
            _ => Ok(Nodes::UNKNOWN),
        }
    }

    /// Whether it is a text and nothing else.
    pub(super) fn is_text(&self, id: Id) -> bool {
        match self.get(id) {
            Node::Known(_) | Node::Text(_) => true,
            Node::OneOf(members) => {
                members.iter().all(|&member| matches!(self.get(member), Node::Known(_) | Node::Text(_)))
            }
            _ => false,
        }
    }

    /// These, one behind the other; each reads as a text.
    pub(super) fn concat(&mut self, parts: &[Id]) -> Result<Id, Stop> {
        let mut pieces: Vec<Id> = Vec::new();
        let mut open: Vec<u8> = Vec::new();
        for &part in parts {
            let inner = match self.get(part) {
                Node::Lost => return Ok(Nodes::LOST),
                Node::Text(inner) => inner.to_vec(),
                _ => vec![part],
            };
            for piece in inner {
                if let Node::Known(bytes) = self.get(piece)
                    && open.len() + bytes.len() <= MOST_BYTES
                {
                    open.extend_from_slice(bytes);
                    continue;
                }
                self.close(&mut open, &mut pieces)?;
                // What follows something unknown adds nothing by being unknown, too.
                if piece != Nodes::UNKNOWN || pieces.last() != Some(&Nodes::UNKNOWN) {
                    pieces.push(piece);
                }
            }
        }
        self.close(&mut open, &mut pieces)?;
        if pieces.len() > MOST_PIECES {
            pieces.splice(1..pieces.len() - 1, [Nodes::UNKNOWN]);
        }
        match *pieces {
            [] => Ok(Nodes::EMPTY),
            [only] if matches!(self.get(only), Node::Known(_)) => Ok(only),
            _ => self.add(Node::Text(pieces.into())),
        }
    }

    fn close(&mut self, open: &mut Vec<u8>, pieces: &mut Vec<Id>) -> Result<(), Stop> {
        if !open.is_empty() {
            pieces.push(self.add(Node::Known(open.as_slice().into()))?);
            open.clear();
        }
        Ok(())
    }

    /// The text between the longest beginning and the longest end that all have; unknown if neither is left.
    pub(super) fn in_common(&mut self, members: &[Id]) -> Result<Id, Stop> {
        let mut common: Option<(Vec<u8>, Vec<u8>, usize)> = None;
        // What is null names nothing.
        for &member in members.iter().filter(|&&member| member != Nodes::NULL) {
            let (start, end, length) = match self.get(member) {
                Node::Known(bytes) => (&**bytes, &**bytes, bytes.len()),
                Node::Text(pieces) => {
                    let (start, end) = (self.bytes(pieces.first()), self.bytes(pieces.last()));
                    (start, end, start.len() + end.len())
                }
                _ => return Ok(Nodes::UNKNOWN),
            };
            common = Some(match common {
                None => (start.to_vec(), end.to_vec(), length),
                Some((mut prefix, mut suffix, shortest)) => {
                    prefix.truncate(equal(prefix.iter(), start.iter()));
                    suffix.drain(..suffix.len() - equal(suffix.iter().rev(), end.iter().rev()));
                    (prefix, suffix, shortest.min(length))
                }
            });
        }
        let Some((prefix, mut suffix, shortest)) = common else { return Ok(Nodes::UNKNOWN) };
        // Beginning and end must not overlap in the shortest of them.
        let room = shortest.saturating_sub(prefix.len());
        suffix.drain(..suffix.len().saturating_sub(room));
        if prefix.is_empty() && suffix.is_empty() {
            return Ok(Nodes::UNKNOWN);
        }
        let (prefix, suffix) = (self.known(&prefix)?, self.known(&suffix)?);
        self.concat(&[prefix, Nodes::UNKNOWN, suffix])
    }

    fn bytes(&self, piece: Option<&Id>) -> &[u8] {
        match piece.map(|&piece| self.get(piece)) {
            Some(Node::Known(bytes)) => bytes,
            _ => &[],
        }
    }

    /// Changes every alternative that is a text; what is none becomes unknown.
    pub(super) fn each_text(
        &mut self,
        id: Id,
        mut change: impl FnMut(&mut Nodes, Id) -> Result<Id, Stop>,
    ) -> Result<Id, Stop> {
        let mut changed: Vec<Id> = Vec::new();
        for member in self.alternatives(id) {
            let member = if self.is_text(member) { change(self, member)? } else { Nodes::UNKNOWN };
            if !changed.contains(&member) {
                changed.push(member);
            }
        }
        self.one_of(changed)
    }

    /// A text with every occurrence of a short text replaced by another.
    pub(super) fn replace(&mut self, text: Id, from: Id, to: Id) -> Result<Id, Stop> {
        let (Node::Known(from), Node::Known(to)) = (self.get(from), self.get(to)) else { return Ok(Nodes::UNKNOWN) };
        let (from, to) = (from.clone(), to.clone());
        if from.is_empty() {
            return Ok(Nodes::UNKNOWN);
        }
        self.each_text(text, |nodes, text| match nodes.get(text) {
            Node::Known(bytes) => {
                let replaced = replaced(bytes, &from, &to);
                nodes.known(&replaced)
            }
            // What is longer than a byte could begin in one piece and end in another.
            Node::Text(pieces) if from.len() == 1 => {
                let mut parts = pieces.to_vec();
                for part in &mut parts {
                    *part = match nodes.get(*part) {
                        Node::Known(bytes) => {
                            let replaced = replaced(bytes, &from, &to);
                            nodes.known(&replaced)?
                        }
                        _ => Nodes::UNKNOWN,
                    };
                }
                nodes.concat(&parts)
            }
            _ => Ok(Nodes::UNKNOWN),
        })
    }
}

fn equal<'b>(left: impl Iterator<Item = &'b u8>, right: impl Iterator<Item = &'b u8>) -> usize {
    left.zip(right).take_while(|(left, right)| left == right).count()
}

fn replaced(bytes: &[u8], from: &[u8], to: &[u8]) -> Vec<u8> {
    let mut out = Vec::with_capacity(bytes.len());
    let mut rest = bytes;
    while let Some(&first) = rest.first() {
        if let Some(behind) = rest.strip_prefix(from) {
            out.extend_from_slice(to);
            rest = behind;
        } else {
            out.push(first);
            rest = rest.get(1..).unwrap_or_default();
        }
        // Longer than this it is given up anyway.
        if out.len() > MOST_BYTES {
            break;
        }
    }
    out
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    pub fn nodes() -> Nodes {
        let mut nodes = Nodes::default();
        nodes.clear();
        nodes
    }

    fn common(texts: &[&str]) -> (Nodes, Id) {
        let mut nodes = nodes();
        let members: Vec<Id> = texts.iter().map(|text| nodes.known(text.as_bytes()).unwrap()).collect();
        let id = nodes.in_common(&members).unwrap();
        (nodes, id)
    }

    /// A text with a question mark for what is not known of it.
    pub fn shown(nodes: &Nodes, id: Id) -> String {
        match nodes.get(id) {
            Node::Known(bytes) => String::from_utf8(bytes.to_vec()).unwrap(),
            Node::Text(pieces) => pieces.iter().map(|&piece| shown(nodes, piece)).collect(),
            _ => "?".to_owned(),
        }
    }

    #[test]
    fn what_texts_have_in_common() {
        for (texts, expected) in [
            (&["tide.Low", "tide.High"][..], "tide.?"),
            (&["LowGauge", "HighGauge"], "?Gauge"),
            (&["aa", "aaa"], "aa?"),
            (&["aba", "ababa"], "aba?"),
            (&["x", "y"], "?"),
        ] {
            let (nodes, id) = common(texts);
            assert_eq!(shown(&nodes, id), expected, "{texts:?}");
        }
    }

    /// JLS §15.18.1, JVMS §4.4.7.
    #[test]
    fn pieces_join() {
        let mut nodes = nodes();
        let (dot, zero) = (nodes.character(u16::from(b'.')).unwrap(), nodes.character(0).unwrap());
        let tide = nodes.known(b"tide").unwrap();
        let text = nodes.concat(&[tide, dot, Nodes::UNKNOWN, Nodes::UNKNOWN, tide]).unwrap();
        assert_eq!(shown(&nodes, text), "tide.?tide");
        let longer = nodes.concat(&[text, dot, tide]).unwrap();
        assert_eq!(shown(&nodes, longer), "tide.?tide.tide");
        assert_eq!(nodes.get(zero), &Node::Known([0xC0, 0x80].into()));
        let slash = nodes.known(b"/").unwrap();
        let path = nodes.replace(longer, dot, slash).unwrap();
        assert_eq!(shown(&nodes, path), "tide/?tide/tide");
    }

    #[test]
    fn everything_is_bounded() {
        let mut nodes = nodes();
        let mut id = Nodes::EMPTY;
        for number in 0..10_000_u32 {
            let next = nodes.known(number.to_string().as_bytes()).unwrap();
            id = nodes.merge(id, next).unwrap();
            id = nodes.concat(&[id, next]).unwrap();
            assert!(!nodes.is_deep(id));
        }
        let long = nodes.known(&[b'x'; 600]).unwrap();
        let longer = nodes.concat(&[long, long, long]).unwrap();
        assert!(matches!(nodes.get(longer), Node::Text(pieces) if pieces.len() == 3));
    }
}

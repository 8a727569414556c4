//! From what one method knows of a value to names, with the help of somebody who knows the other methods.
//!
//! The first function to read is [`texts`]; [`Environment`] is what it asks.

use std::collections::BTreeSet;

use super::{Called, Piece, Value};

/// Fields, parameters and results between a value and the constants that it comes from.
const MOST_LEVELS: u8 = 4;

/// Names and patterns of one value. Helpers that look for whatever name they are given have hundreds of callers.
const MOST_NAMES: usize = 1024;

/// Ways in which a text put together from pieces may read.
const MOST_READINGS: usize = 64;

/// Bytes of a name, or of a known beginning or end, beyond which it is cut.
const MOST_BYTES: usize = 4096;

/// Values looked at for one value.
const MOST_WORK: u32 = 4096;

/// Who knows the values of a whole program.
pub trait Environment {
    /// A method in the environment's own terms.
    type Method: Copy;

    /// The values stored to a field.
    fn field(&self, owner: &[u8], name: &[u8]) -> Known<'_, Self::Method>;

    /// The values that callers give for a parameter, counted from 0 without the receiver.
    fn parameter(&self, of: Self::Method, number: u16) -> Known<'_, Self::Method>;

    /// The values that a call gives back. Parameters of the method called may be left in them.
    fn result(&self, called: &Called<'_>) -> Known<'_, Self::Method>;

    /// The values of a key in what the program reads as properties: system properties, resources, bundles.
    #[expect(unused_variables, reason = "there need not be any")]
    fn property(&self, key: &[u8]) -> Vec<Vec<u8>> {
        Vec::new()
    }
}

/// What an environment knows of a place.
#[derive(Clone, Debug)]
pub struct Known<'e, M> {
    /// Values, each with the method whose parameters it may name.
    pub values: Vec<(&'e Value<'e>, M)>,
    /// Whether there are no others.
    pub whole: bool,
}

impl<M> Known<'_, M> {
    /// Nothing is known.
    pub fn nothing() -> Self {
        Known { values: Vec::new(), whole: false }
    }
}

/// An environment that knows nothing: what a method knows by itself.
#[derive(Clone, Copy, Debug, Default)]
pub struct Alone;

impl Environment for Alone {
    type Method = ();

    fn field(&self, _: &[u8], _: &[u8]) -> Known<'_, ()> {
        Known::nothing()
    }

    fn parameter(&self, (): (), _: u16) -> Known<'_, ()> {
        Known::nothing()
    }

    fn result(&self, _: &Called<'_>) -> Known<'_, ()> {
        Known::nothing()
    }
}

/// What a value may name.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Names {
    /// Names known as a whole.
    pub exact: BTreeSet<Vec<u8>>,
    /// Names of which beginning or end are known.
    pub patterns: BTreeSet<Pattern>,
    /// Whether it may be something of which nothing is known.
    pub unknown: bool,
}

/// `prefix`, anything, `suffix`; at least one of both is not empty.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Pattern {
    /// How it begins.
    pub prefix: Vec<u8>,
    /// How it ends.
    pub suffix: Vec<u8>,
}

impl Pattern {
    /// Whether a name is of that shape.
    pub fn matches(&self, name: &[u8]) -> bool {
        name.strip_prefix(&*self.prefix).is_some_and(|rest| rest.ends_with(&self.suffix))
    }
}

impl Names {
    pub(super) fn add(&mut self, shape: Shape) {
        if self.exact.len() + self.patterns.len() >= MOST_NAMES {
            self.unknown = true;
            return;
        }
        match shape {
            Shape { text, end: None } => {
                self.exact.insert(text);
            }
            Shape { text, end: Some(end) } if text.is_empty() && end.is_empty() => self.unknown = true,
            Shape { text: prefix, end: Some(suffix) } => {
                self.patterns.insert(Pattern { prefix, suffix });
            }
        }
    }

    fn unite(&mut self, other: Names) {
        self.unknown |= other.unknown;
        // As a rule there is but one that has any.
        if self.exact.is_empty() && self.patterns.is_empty() {
            (self.exact, self.patterns) = (other.exact, other.patterns);
        } else {
            other.into_shapes().for_each(|shape| self.add(shape));
        }
    }

    /// Names and patterns; not what is unknown.
    pub(super) fn into_shapes(self) -> impl Iterator<Item = Shape> {
        let exact = self.exact.into_iter().map(|text| Shape { text, end: None });
        let patterns = self.patterns.into_iter().map(|of| Shape { text: of.prefix, end: Some(of.suffix) });
        exact.chain(patterns)
    }

    fn map(self, change: impl Fn(Vec<u8>) -> Vec<u8>) -> Names {
        let mut changed = Names { unknown: self.unknown, ..Names::default() };
        for Shape { text, end } in self.into_shapes() {
            changed.add(Shape { text: change(text), end: end.map(&change) });
        }
        changed
    }

    fn unknown() -> Names {
        Names { unknown: true, ..Names::default() }
    }
}

/// A text, or how it begins and ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Shape {
    pub(super) text: Vec<u8>,
    pub(super) end: Option<Vec<u8>>,
}

impl Shape {
    const ANY: Shape = Shape { text: Vec::new(), end: Some(Vec::new()) };

    fn then(&self, next: &Shape) -> Shape {
        let mut joined = match (&self.end, &next.end) {
            (None, end) => Shape { text: [&*self.text, &next.text].concat(), end: end.clone() },
            (Some(end), None) => Shape { text: self.text.clone(), end: Some([&**end, &next.text].concat()) },
            (Some(_), end) => Shape { text: self.text.clone(), end: end.clone() },
        };
        if joined.text.len() > MOST_BYTES {
            joined.text.truncate(MOST_BYTES);
            joined.end.get_or_insert_default();
        }
        if let Some(end) = &mut joined.end {
            end.drain(..end.len().saturating_sub(MOST_BYTES));
        }
        joined
    }
}

/// The texts that a value of that method may be.
pub fn texts<E: Environment>(value: &Value<'_>, method: E::Method, environment: &E) -> Names {
    Resolver { environment, left: MOST_WORK }.resolve(value, &Frame::of(method), Sort::Text, 0)
}

/// The classes that a value of that method stands for, in internal form: class constants, classes looked up by a name,
/// and the classes of members that were looked up in them.
pub fn classes<E: Environment>(value: &Value<'_>, method: E::Method, environment: &E) -> Names {
    Resolver { environment, left: MOST_WORK }.resolve(value, &Frame::of(method), Sort::Class, 0)
}

/// The same of the elements of an array.
pub fn classes_in_array<E: Environment>(value: &Value<'_>, method: E::Method, environment: &E) -> Names {
    Resolver { environment, left: MOST_WORK }.resolve(value, &Frame::of(method), Sort::Classes, 0)
}

/// What a value is looked at as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sort {
    Text,
    Class,
    /// An array of texts.
    Texts,
    /// An array of classes.
    Classes,
}

/// Whose parameters a value names, and what they are if the call is known.
struct Frame<'f, M> {
    method: M,
    given: Option<(&'f [Value<'f>], &'f Frame<'f, M>)>,
}

impl<M> Frame<'_, M> {
    fn of(method: M) -> Self {
        Frame { method, given: None }
    }
}

struct Resolver<'e, E> {
    environment: &'e E,
    left: u32,
}

impl<E: Environment> Resolver<'_, E> {
    fn resolve(&mut self, value: &Value<'_>, frame: &Frame<'_, E::Method>, sort: Sort, level: u8) -> Names {
        let Some(left) = self.left.checked_sub(1) else { return Names::unknown() };
        self.left = left;
        let environment = self.environment;
        match value {
            // A look-up of null fails by itself.
            Value::Null => Names::default(),
            Value::Parameter(number) => match frame.given {
                Some((arguments, outside)) => match arguments.get(usize::from(*number)) {
                    Some(argument) => self.resolve(argument, outside, sort, level),
                    None => Names::unknown(),
                },
                None if level < MOST_LEVELS => {
                    self.known(&environment.parameter(frame.method, *number), None, sort, level)
                }
                None => Names::unknown(),
            },
            Value::StaticField { owner, name } | Value::InstanceField { owner, name } if level < MOST_LEVELS => {
                self.known(&environment.field(owner, name), None, sort, level)
            }
            Value::Result(called) => self.result(called, frame, sort, level),
            Value::OneOf(values) => self.all(values, frame, sort, level),
            Value::Text(pieces) if sort == Sort::Text => self.text(pieces, frame, level),
            Value::Class(name) if sort == Sort::Class => {
                let mut names = Names::default();
                names.add(Shape { text: name.to_vec(), end: None });
                names
            }
            Value::Element(array) if sort == Sort::Text => self.resolve(array, frame, Sort::Texts, level),
            Value::Element(array) if sort == Sort::Class => self.resolve(array, frame, Sort::Classes, level),
            Value::Array { elements, whole } if matches!(sort, Sort::Texts | Sort::Classes) => {
                let sort = if sort == Sort::Texts { Sort::Text } else { Sort::Class };
                let mut names = self.all(elements, frame, sort, level);
                names.unknown |= !whole;
                names
            }
            _ => Names::unknown(),
        }
    }

    fn all(&mut self, values: &[Value<'_>], frame: &Frame<'_, E::Method>, sort: Sort, level: u8) -> Names {
        let mut names = Names::default();
        for value in values {
            names.unite(self.resolve(value, frame, sort, level));
        }
        names
    }

    fn known(
        &mut self,
        known: &Known<'_, E::Method>,
        given: Option<(&[Value<'_>], &Frame<'_, E::Method>)>,
        sort: Sort,
        level: u8,
    ) -> Names {
        let mut names = Names { unknown: !known.whole, ..Names::default() };
        for &(value, method) in &known.values {
            names.unite(self.resolve(value, &Frame { method, given }, sort, level + 1));
        }
        names
    }

    /// The elements of a collection that a call gives.
    fn collection(&mut self, called: &Called<'_>, frame: &Frame<'_, E::Method>, sort: Sort, level: u8) -> Names {
        let of_one = if sort == Sort::Texts { Sort::Text } else { Sort::Class };
        let is_wrapped = |value: &Value<'_>| matches!(value, Value::Array { .. });
        match (&called.receiver, &*called.arguments) {
            (Some(receiver), _) => self.resolve(receiver, frame, sort, level),
            (None, [only]) if is_wrapped(only) || !matches!(&*called.name, b"of" | b"singleton" | b"singletonList") => {
                self.resolve(only, frame, sort, level)
            }
            (None, elements) => self.all(elements, frame, of_one, level),
        }
    }

    fn text(&mut self, pieces: &[Piece<'_>], frame: &Frame<'_, E::Method>, level: u8) -> Names {
        let mut shapes = vec![Shape { text: Vec::new(), end: None }];
        for piece in pieces {
            let next: Vec<Shape> = match piece {
                Piece::Known(bytes) => vec![Shape { text: bytes.to_vec(), end: None }],
                Piece::Of(value) => {
                    let names = self.resolve(value, frame, Sort::Text, level);
                    let any = (names.unknown || names == Names::default()).then_some(Shape::ANY);
                    names.into_shapes().chain(any).collect()
                }
            };
            // Rather fewer shapes that say less than some of them not at all.
            let next = if shapes.len() * next.len() > MOST_READINGS { vec![Shape::ANY] } else { next };
            shapes = shapes.iter().flat_map(|shape| next.iter().map(|next| shape.then(next))).collect();
        }
        let mut names = Names::default();
        for shape in shapes {
            names.add(shape);
        }
        names
    }

    fn result(&mut self, called: &Called<'_>, frame: &Frame<'_, E::Method>, sort: Sort, level: u8) -> Names {
        let argument = |number: usize| called.arguments.get(number).unwrap_or(&Value::Unknown);
        match (&*called.owner, &*called.name, sort) {
            (b"java/lang/System" | b"java/util/Properties", b"getProperty", Sort::Text)
            | (b"java/util/ResourceBundle" | b"java/util/PropertyResourceBundle", b"getString", Sort::Text) => {
                let keys = self.resolve(argument(0), frame, Sort::Text, level);
                // Whoever starts the program may set another value.
                let mut names = Names::unknown();
                for key in &keys.exact {
                    for text in self.environment.property(key) {
                        names.add(Shape { text, end: None });
                    }
                }
                if let Some(default) = called.arguments.get(1) {
                    names.unite(self.resolve(default, frame, sort, level));
                }
                names
            }
            (b"java/util/Objects", b"requireNonNullElse", _) => self.all(&called.arguments, frame, sort, level),
            (b"java/lang/Class", b"forName", Sort::Class) if called.descriptor.starts_with(b"(Ljava/lang/String;") => {
                self.resolve(argument(0), frame, Sort::Text, level).map(|name| exchanged(name, b'.', b'/'))
            }
            (_, b"loadClass" | b"findClass", Sort::Class)
                if called.descriptor.starts_with(b"(Ljava/lang/String;)Ljava/lang/Class;") =>
            {
                self.resolve(argument(0), frame, Sort::Text, level).map(|name| exchanged(name, b'.', b'/'))
            }
            (b"java/lang/Class", b"getName", Sort::Text) => {
                let receiver = called.receiver.as_ref().unwrap_or(&Value::Unknown);
                self.resolve(receiver, frame, Sort::Class, level).map(|name| exchanged(name, b'/', b'.'))
            }
            (
                b"java/lang/Class",
                b"getConstructor"
                | b"getDeclaredConstructor"
                | b"getMethod"
                | b"getDeclaredMethod"
                | b"getField"
                | b"getDeclaredField"
                | b"asSubclass",
                Sort::Class,
            ) => self.resolve(called.receiver.as_ref().unwrap_or(&Value::Unknown), frame, sort, level),
            (b"java/lang/String", b"replace", Sort::Text) => match (argument(0), argument(1)) {
                (&Value::Number(from), &Value::Number(to)) => {
                    let (Ok(from), Ok(to)) = (u8::try_from(from), u8::try_from(to)) else { return Names::unknown() };
                    let receiver = called.receiver.as_ref().unwrap_or(&Value::Unknown);
                    self.resolve(receiver, frame, sort, level).map(|text| exchanged(text, from, to))
                }
                _ => Names::unknown(),
            },
            (_, _, Sort::Text | Sort::Class) if is_access(called) => {
                let sort = if sort == Sort::Text { Sort::Texts } else { Sort::Classes };
                self.resolve(called.receiver.as_ref().unwrap_or(&Value::Unknown), frame, sort, level)
            }
            (_, _, Sort::Texts | Sort::Classes) if is_collection(called) => self.collection(called, frame, sort, level),
            _ if level < MOST_LEVELS => {
                let known = self.environment.result(called);
                self.known(&known, Some((&called.arguments, frame)), sort, level)
            }
            _ => Names::unknown(),
        }
    }
}

/// Whether the call gives an element of what it is called on.
fn is_access(called: &Called<'_>) -> bool {
    called.owner.starts_with(b"java/util/")
        && called.receiver.is_some()
        && matches!(&*called.descriptor, b"()Ljava/lang/Object;" | b"(I)Ljava/lang/Object;")
        && matches!(&*called.name, b"next" | b"get" | b"getFirst" | b"getLast")
}

/// Whether the call gives a collection, an iterator or an array of what it is given or called on.
fn is_collection(called: &Called<'_>) -> bool {
    matches!(
        (&*called.owner, &*called.name),
        (b"java/util/Arrays", b"asList")
            | (b"java/util/List" | b"java/util/Set", b"of" | b"copyOf")
            | (b"java/util/Collections", b"singleton" | b"singletonList" | b"unmodifiableList" | b"unmodifiableSet")
    ) || called.owner.starts_with(b"java/util/") && matches!(&*called.name, b"iterator" | b"listIterator")
        || called.owner.first() == Some(&b'[') && *called.name == *b"clone"
}

/// A text with every byte `from` replaced; both are ASCII.
pub(super) fn exchanged(mut text: Vec<u8>, from: u8, to: u8) -> Vec<u8> {
    for byte in text.iter_mut().filter(|byte| **byte == from) {
        *byte = to;
    }
    text
}

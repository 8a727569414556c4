//! From what one method knows of a value to names, with the help of somebody who knows the other methods.
//!
//! The first function to read is [`texts`]; [`Environment`] is what it asks.

use std::hash::Hash;

use rustc_hash::FxHashMap;

use super::shape::{MOST_BYTES, Shape, exchanged};
use super::{Called, Piece, Value};

pub use super::shape::{Names, Pattern};

/// Fields, parameters and results between a value and the constants that it comes from.
const MOST_LEVELS: u8 = 4;

/// Ways in which a text put together from pieces may read.
const MOST_READINGS: usize = 64;

/// Values looked at for one value.
const MOST_WORK: u32 = 4096;

/// Who knows the values of a whole program.
pub trait Environment {
    /// A method in the environment's own terms.
    type Method: Copy + Eq + Hash;

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

/// The texts that a value of that method may be.
pub fn texts<E: Environment>(value: &Value<'_>, method: E::Method, environment: &E) -> Names {
    Resolver::of(environment).apart(value, &Frame::of(method), Sort::Text, 0)
}

/// The classes that a value of that method stands for, in internal form: class constants, classes looked up by a name,
/// and the classes of members that were looked up in them.
pub fn classes<E: Environment>(value: &Value<'_>, method: E::Method, environment: &E) -> Names {
    Resolver::of(environment).apart(value, &Frame::of(method), Sort::Class, 0)
}

/// The same of the elements of an array.
pub fn classes_in_array<E: Environment>(value: &Value<'_>, method: E::Method, environment: &E) -> Names {
    Resolver::of(environment).apart(value, &Frame::of(method), Sort::Classes, 0)
}

/// The classes of which a value may be an object, if it was created where that shows.
pub fn classes_of_objects<E: Environment>(value: &Value<'_>, method: E::Method, environment: &E) -> Names {
    Resolver::of(environment).apart(value, &Frame::of(method), Sort::Object, 0)
}

/// What a value is looked at as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
enum Sort {
    Text,
    Class,
    /// An object of a class.
    Object,
    /// An array of texts.
    Texts,
    /// An array of classes.
    Classes,
}

/// Whose parameters a value names, and what they are if the call is known.
struct Frame<'e, 'f, M> {
    method: M,
    given: Option<(&'e [Value<'e>], &'f Frame<'e, 'f, M>)>,
}

impl<M> Frame<'_, '_, M> {
    fn of(method: M) -> Self {
        Frame { method, given: None }
    }
}

/// Where values come from, whoever asks.
#[derive(PartialEq, Eq, Hash)]
enum Place<'e, M> {
    Parameter(M, u16),
    Field(&'e [u8], &'e [u8]),
    /// Of a call without arguments: owner, name and descriptor of the method, and whether there is a receiver.
    Result([&'e [u8]; 3], bool),
}

/// The names of which set have been gathered from where, as what, and how far from the value that was asked about.
type Gathered<'e, M> = (u32, Place<'e, M>, Sort, u8);

struct Resolver<'e, E: Environment> {
    environment: &'e E,
    left: u32,
    /// With the work that it took: helpers of helpers have the same callers, over and over.
    gathered: FxHashMap<Gathered<'e, E::Method>, u32>,
    /// The set that names are gathered in, and how many there have been.
    set: u32,
    sets: u32,
}

impl<'e, E: Environment> Resolver<'e, E> {
    fn of(environment: &'e E) -> Self {
        Resolver { environment, left: MOST_WORK, gathered: FxHashMap::default(), set: 0, sets: 0 }
    }

    /// The names of a value in a set of their own.
    fn apart(&mut self, value: &'e Value<'e>, frame: &Frame<'e, '_, E::Method>, sort: Sort, level: u8) -> Names {
        let outer = self.set;
        self.sets += 1;
        self.set = self.sets;
        let mut names = Names::default();
        self.gather(value, frame, sort, level, &mut names);
        self.set = outer;
        names
    }

    fn gather(
        &mut self,
        value: &'e Value<'e>,
        frame: &Frame<'e, '_, E::Method>,
        sort: Sort,
        level: u8,
        names: &mut Names,
    ) {
        let Some(left) = self.left.checked_sub(1) else {
            names.unknown = true;
            return;
        };
        self.left = left;
        match value {
            // A look-up of null fails by itself.
            Value::Null => {}
            Value::Parameter(number) => match frame.given {
                Some((arguments, outside)) => match arguments.get(usize::from(*number)) {
                    Some(argument) => self.gather(argument, outside, sort, level, names),
                    None => names.unknown = true,
                },
                None if level < MOST_LEVELS => {
                    let method = frame.method;
                    self.once(Place::Parameter(method, *number), sort, level, names, |resolver, names| {
                        let known = resolver.environment.parameter(method, *number);
                        resolver.known(&known, None, sort, level, names);
                    });
                }
                None => names.unknown = true,
            },
            Value::StaticField { owner, name } | Value::InstanceField { owner, name } if level < MOST_LEVELS => {
                self.once(Place::Field(owner, name), sort, level, names, |resolver, names| {
                    let known = resolver.environment.field(owner, name);
                    resolver.known(&known, None, sort, level, names);
                });
            }
            Value::Result(called) => self.result(called, frame, sort, level, names),
            Value::OneOf(values) => self.all(values, frame, sort, level, names),
            Value::Text(pieces) if sort == Sort::Text => self.text(pieces, frame, level, names),
            Value::Class(name) if sort == Sort::Class => names.add_exact(name),
            Value::New(name) if sort == Sort::Object => names.add_exact(name),
            Value::Element(array) if sort == Sort::Text => self.gather(array, frame, Sort::Texts, level, names),
            Value::Element(array) if sort == Sort::Class => self.gather(array, frame, Sort::Classes, level, names),
            Value::Array { elements, whole } if matches!(sort, Sort::Texts | Sort::Classes) => {
                let sort = if sort == Sort::Texts { Sort::Text } else { Sort::Class };
                self.all(elements, frame, sort, level, names);
                names.unknown |= !whole;
            }
            _ => names.unknown = true,
        }
    }

    fn all(
        &mut self,
        values: &'e [Value<'e>],
        frame: &Frame<'e, '_, E::Method>,
        sort: Sort,
        level: u8,
        names: &mut Names,
    ) {
        for value in values {
            self.gather(value, frame, sort, level, names);
        }
    }

    /// Gathers what comes from a place, unless it is among the names already; then it costs what it cost before, so that
    /// the same is found.
    fn once(
        &mut self,
        place: Place<'e, E::Method>,
        sort: Sort,
        level: u8,
        names: &mut Names,
        gather: impl FnOnce(&mut Self, &mut Names),
    ) {
        let key = (self.set, place, sort, level);
        if let Some(&work) = self.gathered.get(&key) {
            names.unknown |= work > self.left || names.is_full();
            self.left = self.left.saturating_sub(work);
            return;
        }
        let before = self.left;
        gather(self, names);
        self.gathered.insert(key, before - self.left);
    }

    fn known(
        &mut self,
        known: &Known<'e, E::Method>,
        given: Option<(&'e [Value<'e>], &Frame<'e, '_, E::Method>)>,
        sort: Sort,
        level: u8,
        names: &mut Names,
    ) {
        names.unknown |= !known.whole;
        let mut values = known.values.iter();
        for &(value, method) in values.by_ref() {
            self.gather(value, &Frame { method, given }, sort, level + 1, names);
            if self.left == 0 {
                break;
            }
        }
        names.unknown |= values.len() > 0;
    }

    /// The elements of a collection that a call gives.
    fn collection(
        &mut self,
        called: &'e Called<'e>,
        frame: &Frame<'e, '_, E::Method>,
        sort: Sort,
        level: u8,
        names: &mut Names,
    ) {
        let of_one = if sort == Sort::Texts { Sort::Text } else { Sort::Class };
        let is_wrapped = |value: &Value<'_>| matches!(value, Value::Array { .. });
        match (&called.receiver, &*called.arguments) {
            (Some(receiver), _) => self.gather(receiver, frame, sort, level, names),
            (None, [only]) if is_wrapped(only) || !matches!(&*called.name, b"of" | b"singleton" | b"singletonList") => {
                self.gather(only, frame, sort, level, names);
            }
            (None, elements) => self.all(elements, frame, of_one, level, names),
        }
    }

    fn text(&mut self, pieces: &'e [Piece<'e>], frame: &Frame<'e, '_, E::Method>, level: u8, names: &mut Names) {
        // As a rule it is known as a whole.
        if let [Piece::Known(bytes)] = pieces
            && bytes.len() <= MOST_BYTES
        {
            names.add_exact(bytes);
            return;
        }
        let mut shapes = vec![Shape { text: Vec::new(), end: None }];
        for piece in pieces {
            let next: Vec<Shape> = match piece {
                Piece::Known(bytes) => vec![Shape { text: bytes.to_vec(), end: None }],
                Piece::Of(value) => {
                    let names = self.apart(value, frame, Sort::Text, level);
                    let any = (names.unknown || names == Names::default()).then_some(Shape::ANY);
                    names.into_shapes().chain(any).collect()
                }
            };
            // Rather fewer shapes that say less than some of them not at all.
            let next = if shapes.len() * next.len() > MOST_READINGS { vec![Shape::ANY] } else { next };
            shapes = shapes.iter().flat_map(|shape| next.iter().map(|next| shape.then(next))).collect();
        }
        for shape in shapes {
            names.add(shape);
        }
    }

    fn result(
        &mut self,
        called: &'e Called<'e>,
        frame: &Frame<'e, '_, E::Method>,
        sort: Sort,
        level: u8,
        names: &mut Names,
    ) {
        let argument = |number: usize| called.arguments.get(number).unwrap_or(&Value::Unknown);
        let (owner, name) = (&*called.owner, &*called.name);
        match name {
            b"loadClass" | b"findClass"
                if sort == Sort::Class && called.descriptor.starts_with(b"(Ljava/lang/String;)Ljava/lang/Class;") =>
            {
                let found = self.apart(argument(0), frame, Sort::Text, level);
                names.take(found, |name| exchanged(name, b'.', b'/'));
            }
            _ if owner.starts_with(b"java/") && self.of_platform(called, frame, sort, level, names) => {}
            b"clone" if owner.first() == Some(&b'[') && matches!(sort, Sort::Texts | Sort::Classes) => {
                self.collection(called, frame, sort, level, names);
            }
            _ if level < MOST_LEVELS => {
                let given = Some((&*called.arguments, frame));
                let ask = |resolver: &mut Self, names: &mut Names| {
                    let known = resolver.environment.result(called);
                    resolver.known(&known, given, sort, level, names);
                };
                if called.arguments.is_empty() {
                    let place = Place::Result([owner, name, &called.descriptor], called.receiver.is_some());
                    self.once(place, sort, level, names, ask);
                } else {
                    ask(self, names);
                }
            }
            _ => names.unknown = true,
        }
    }

    /// What a method of the platform gives back, if it is one that is known.
    fn of_platform(
        &mut self,
        called: &'e Called<'e>,
        frame: &Frame<'e, '_, E::Method>,
        sort: Sort,
        level: u8,
        names: &mut Names,
    ) -> bool {
        let argument = |number: usize| called.arguments.get(number).unwrap_or(&Value::Unknown);
        let receiver = called.receiver.as_ref().unwrap_or(&Value::Unknown);
        match (&*called.owner, &*called.name, sort) {
            (b"java/lang/System" | b"java/util/Properties", b"getProperty", Sort::Text)
            | (b"java/util/ResourceBundle" | b"java/util/PropertyResourceBundle", b"getString", Sort::Text) => {
                let keys = self.apart(argument(0), frame, Sort::Text, level);
                // Whoever starts the program may set another value.
                names.unknown = true;
                for key in &keys.exact {
                    for text in self.environment.property(key) {
                        names.add(Shape { text, end: None });
                    }
                }
                if let Some(default) = called.arguments.get(1) {
                    self.gather(default, frame, sort, level, names);
                }
            }
            (b"java/util/Objects", b"requireNonNullElse", _) => {
                self.all(&called.arguments, frame, sort, level, names);
            }
            (b"java/lang/Class", b"forName", Sort::Class) if called.descriptor.starts_with(b"(Ljava/lang/String;") => {
                let found = self.apart(argument(0), frame, Sort::Text, level);
                names.take(found, |name| exchanged(name, b'.', b'/'));
            }
            // Of objects from elsewhere there are too many everywhere: following them all tells little and takes long.
            (b"java/lang/Object", b"getClass", Sort::Class) => {
                self.gather(receiver, frame, Sort::Object, MOST_LEVELS, names);
            }
            (b"java/lang/Class", b"getName", Sort::Text) => {
                let found = self.apart(receiver, frame, Sort::Class, level);
                names.take(found, |name| exchanged(name, b'/', b'.'));
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
            ) => self.gather(receiver, frame, sort, level, names),
            (b"java/lang/String", b"replace", Sort::Text) => match (argument(0), argument(1)) {
                (&Value::Number(from), &Value::Number(to)) => match (u8::try_from(from), u8::try_from(to)) {
                    (Ok(from), Ok(to)) => {
                        let found = self.apart(receiver, frame, sort, level);
                        names.take(found, |text| exchanged(text, from, to));
                    }
                    _ => names.unknown = true,
                },
                _ => names.unknown = true,
            },
            (_, _, Sort::Text | Sort::Class) if is_access(called) => {
                let sort = if sort == Sort::Text { Sort::Texts } else { Sort::Classes };
                self.gather(receiver, frame, sort, level, names);
            }
            (_, _, Sort::Texts | Sort::Classes) if is_collection(called) => {
                self.collection(called, frame, sort, level, names);
            }
            _ => return false,
        }
        true
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
}

//! What is known of a value.
//!
//! Bytes are modified UTF-8 as in the class file; classes are in internal form, array classes as descriptors. The first
//! type to read is [`Value`].

use std::borrow::Cow;

/// A name or text of a class file, or one put together from several.
pub type Name<'a> = Cow<'a, [u8]>;

/// What is known of a value, in the method that it was found in.
///
/// Trees are small: whatever would be deeper or wider than a few dozen values is [`Value::Unknown`].
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Value<'a> {
    /// Nothing.
    Unknown,
    /// The null reference.
    Null,
    /// An `int`, `char`, `short`, `byte` or `boolean`.
    Number(i32),
    /// The object whose method it is.
    This,
    /// The parameter of that number, counted from 0 without the receiver.
    Parameter(u16),
    /// A text, in pieces.
    Text(Vec<Piece<'a>>),
    /// A class constant.
    Class(Name<'a>),
    /// An object of that class, created here.
    New(Name<'a>),
    /// An array created here. Its elements are known as a set.
    Array {
        /// Each element once, in the order of their assignment.
        elements: Vec<Value<'a>>,
        /// Whether nobody else can have put further elements in.
        whole: bool,
    },
    /// An element of an array.
    Element(Box<Value<'a>>),
    /// What a static field holds; enum constants are such.
    StaticField {
        /// The class that the field is looked up in.
        owner: Name<'a>,
        /// Its name.
        name: Name<'a>,
    },
    /// What a field of some object holds.
    InstanceField {
        /// The class that the field is looked up in.
        owner: Name<'a>,
        /// Its name.
        name: Name<'a>,
    },
    /// What a call gives back.
    Result(Box<Called<'a>>),
    /// One of these, none of which is such a list itself.
    OneOf(Vec<Value<'a>>),
}

/// A part of a text.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Piece<'a> {
    /// These bytes.
    Known(Name<'a>),
    /// Whatever that value reads as.
    Of(Value<'a>),
}

/// A call whose result is a value.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Called<'a> {
    /// The class that the method is looked up in.
    pub owner: Name<'a>,
    /// Its name.
    pub name: Name<'a>,
    /// Its descriptor.
    pub descriptor: Name<'a>,
    /// What it is called on; `None` for a static method.
    pub receiver: Option<Value<'a>>,
    /// Its arguments.
    pub arguments: Vec<Value<'a>>,
}

impl Value<'_> {
    /// A text that is known as a whole.
    pub fn text(bytes: impl Into<Vec<u8>>) -> Value<'static> {
        Value::Text(vec![Piece::Known(Cow::Owned(bytes.into()))])
    }

    /// The same value, borrowing nothing of the class file.
    pub fn into_owned(self) -> Value<'static> {
        match self {
            Value::Unknown => Value::Unknown,
            Value::Null => Value::Null,
            Value::Number(number) => Value::Number(number),
            Value::This => Value::This,
            Value::Parameter(number) => Value::Parameter(number),
            Value::Text(pieces) => Value::Text(
                pieces
                    .into_iter()
                    .map(|piece| match piece {
                        Piece::Known(bytes) => Piece::Known(own(bytes)),
                        Piece::Of(value) => Piece::Of(value.into_owned()),
                    })
                    .collect(),
            ),
            Value::Class(name) => Value::Class(own(name)),
            Value::New(name) => Value::New(own(name)),
            Value::Array { elements, whole } => Value::Array { elements: own_all(elements), whole },
            Value::Element(array) => Value::Element(Box::new(array.into_owned())),
            Value::StaticField { owner, name } => Value::StaticField { owner: own(owner), name: own(name) },
            Value::InstanceField { owner, name } => Value::InstanceField { owner: own(owner), name: own(name) },
            Value::Result(called) => {
                let Called { owner, name, descriptor, receiver, arguments } = *called;
                Value::Result(Box::new(Called {
                    owner: own(owner),
                    name: own(name),
                    descriptor: own(descriptor),
                    receiver: receiver.map(Value::into_owned),
                    arguments: own_all(arguments),
                }))
            }
            Value::OneOf(values) => Value::OneOf(own_all(values)),
        }
    }
}

fn own(name: Name<'_>) -> Name<'static> {
    Cow::Owned(name.into_owned())
}

fn own_all(values: Vec<Value<'_>>) -> Vec<Value<'static>> {
    values.into_iter().map(Value::into_owned).collect()
}

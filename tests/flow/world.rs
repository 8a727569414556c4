//! A small program as a whole: every value that one method knows, for the others to go on with.
//!
//! The first function to read is [`World::read`].

use std::collections::BTreeMap;

use secateur::classfile::{self, ClassFile};
use secateur::flow::resolve::{Environment, Known, Names};
use secateur::flow::sinks::{self, Sink};
use secateur::flow::{self, Call, Called, Event, Piece, Value, Wanted};

/// The methods, fields and calls of a program whose classes are in one package.
#[derive(Default)]
pub struct World {
    package: Vec<u8>,
    /// By number: owner, name, descriptor.
    methods: Vec<[Vec<u8>; 3]>,
    fields: BTreeMap<[Vec<u8>; 2], Vec<(Value<'static>, usize)>>,
    results: BTreeMap<[Vec<u8>; 3], Vec<(Value<'static>, usize)>>,
    arguments: BTreeMap<[Vec<u8>; 3], Vec<Arguments>>,
    /// Calls of rows of the table.
    pub sinks: Vec<Site>,
    /// Keys and values of properties files.
    pub properties: BTreeMap<Vec<u8>, Vec<u8>>,
}

/// What a call gives, and the method that it stands in.
type Arguments = (Vec<Value<'static>>, usize);

/// A call of a row of the table.
pub struct Site {
    pub sink: &'static Sink,
    call: OwnedCall,
    method: usize,
}

struct OwnedCall {
    opcode: u8,
    receiver: Option<Value<'static>>,
    arguments: Vec<Value<'static>>,
}

/// Calls within the package, fields and results of it, and all that the table has.
struct All<'w>(&'w [u8]);

impl Wanted for All<'_> {
    fn call(&self, owner: &[u8], name: &[u8], descriptor: &[u8]) -> bool {
        owner.starts_with(self.0) || sinks::of(owner, name, descriptor).is_some()
    }

    fn store(&self, owner: &[u8], _: &[u8]) -> bool {
        owner.starts_with(self.0)
    }

    fn result(&self, _: &[u8], _: &[u8]) -> bool {
        true
    }
}

impl World {
    /// An empty world of that package, in internal form.
    pub fn of(package: &str) -> Self {
        World { package: format!("{package}/").into_bytes(), ..World::default() }
    }

    /// Adds a class; how many of its methods could not be followed.
    pub fn read(&mut self, bytes: &[u8]) -> usize {
        let (mut pool, mut scratch) = (classfile::Scratch::default(), flow::Scratch::default());
        let class = ClassFile::read(bytes, &mut pool).unwrap();
        let class_name = class.name().unwrap().to_vec();
        let package = self.package.clone();
        let (unfinished, result) = flow::facts(&class, All(&package), &mut scratch, |member, fact| {
            let [name, descriptor] =
                [member.name, member.descriptor].map(|index| class.pool.utf8(index).unwrap().to_vec());
            let key = [class_name.clone(), name, descriptor];
            let method = self.methods.iter().position(|known| *known == key).unwrap_or_else(|| {
                self.methods.push(key.clone());
                self.methods.len() - 1
            });
            match fact.event {
                Event::Call(call) => self.call(call, method),
                Event::Store { owner, name, value, .. } => {
                    let field = [owner.to_vec(), name.to_vec()];
                    self.fields.entry(field).or_default().push((value.into_owned(), method));
                }
                Event::Return(value) => self.results.entry(key).or_default().push((value.into_owned(), method)),
            }
        });
        result.unwrap();
        unfinished
    }

    fn call(&mut self, call: Call<'_>, method: usize) {
        let Call { opcode, owner, name, descriptor, receiver, arguments } = call;
        let arguments: Vec<_> = arguments.into_iter().map(Value::into_owned).collect();
        if let Some(sink) = sinks::of(owner, name, descriptor) {
            let call = OwnedCall { opcode, receiver: receiver.map(Value::into_owned), arguments: arguments.clone() };
            self.sinks.push(Site { sink, call, method });
        }
        let key = [owner, name, descriptor].map(<[u8]>::to_vec);
        self.arguments.entry(key).or_default().push((arguments, method));
    }

    /// What a call of the table names.
    pub fn names(&self, site: &Site) -> Names {
        let OwnedCall { opcode, receiver, arguments } = &site.call;
        let call = Call {
            opcode: *opcode,
            owner: site.sink.owner.as_bytes(),
            name: site.sink.name.as_bytes(),
            descriptor: site.sink.descriptor.as_bytes(),
            receiver: receiver.clone(),
            arguments: arguments.clone(),
        };
        site.sink.names(&call, site.method, self)
    }
}

impl Environment for World {
    type Method = usize;

    fn field(&self, owner: &[u8], name: &[u8]) -> Known<'_, usize> {
        known(self.fields.get(&[owner, name].map(<[u8]>::to_vec)))
    }

    fn parameter(&self, of: usize, number: u16) -> Known<'_, usize> {
        let method = &self.methods[of];
        // Nobody in the program calls `main`; the launcher does.
        let calls = self.arguments.get(method).map(Vec::as_slice).unwrap_or_default();
        let values = calls.iter().map(|(arguments, caller)| (&arguments[usize::from(number)], *caller)).collect();
        Known { values, whole: !calls.is_empty() && method[1] != b"main" }
    }

    fn result(&self, called: &Called<'_>) -> Known<'_, usize> {
        known(self.results.get(&[&called.owner, &called.name, &called.descriptor].map(|part| part.to_vec())))
    }

    fn property(&self, key: &[u8]) -> Vec<Vec<u8>> {
        self.properties.get(key).cloned().into_iter().collect()
    }
}

fn known<'w>(values: Option<&'w Vec<(Value<'static>, usize)>>) -> Known<'w, usize> {
    let Some(values) = values else { return Known::nothing() };
    Known { values: values.iter().map(|(value, method)| (value, *method)).collect(), whole: true }
}

/// A call on its own, with nobody to ask: the values that a method knows by itself.
#[test]
fn values_name_what_comes_from_elsewhere() {
    let value = Value::Text(vec![Piece::Known(b"tide.".into()), Piece::Of(Value::Parameter(0))]);
    let names = flow::resolve::texts(&value, (), &flow::resolve::Alone);
    assert!(names.exact.is_empty() && !names.unknown);
    let pattern = names.patterns.first().unwrap();
    assert!(pattern.matches(b"tide.Gauge") && !pattern.matches(b"tide"));
}

//! The calls of the platform that take a name, or a class, and look at what is behind it (Java SE API).
//!
//! A table and what reads it; another call is another row. The first function to read is [`of`].

use super::resolve::{Environment, Names, classes, classes_in_array, classes_of_objects, texts};
use super::shape::{Shape, exchanged};
use super::{Call, Members, Value};
use crate::classfile::descriptor;
use crate::names::package_of;

/// A call that looks something up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sink {
    /// The class that declares the method, in internal form.
    pub owner: &'static str,
    /// Whether the method counts in every subclass, too. Then a call on another class counts only if that is one;
    /// which is for the caller to find out.
    pub inherited: bool,
    /// The method's name.
    pub name: &'static str,
    /// How its descriptor begins; empty for all methods of the name.
    pub descriptor: &'static str,
    /// Where the name is.
    pub argument: Argument,
    /// In which form.
    pub form: Form,
    /// What is done with what it names.
    pub purpose: Purpose,
    /// Which members it lists of a class.
    pub members: Members,
}

/// Where a call has the name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Argument {
    /// In none of its values; where it makes a class, the bytes have it.
    Nowhere,
    /// In what it is called on.
    Receiver,
    /// In the argument of that number, counted from 0.
    At(usize),
}

/// How a value names classes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Not at all.
    None,
    /// A binary name, or the name that `Class.getName` gives an array class.
    BinaryName,
    /// A binary name that is no array.
    PlainBinaryName,
    /// A method descriptor.
    Descriptor,
    /// A resource, from the root of the class path; only class files name classes.
    Resource,
    /// A resource, from the root if it begins with a slash, else from the package of the receiver.
    RelativeResource,
    /// A class object, or a member that was looked up in one.
    Class,
    /// An object, whose class it is.
    Object,
    /// An array of class objects.
    Classes,
    /// The base name of a resource bundle: a class, or a properties file.
    Bundle,
    /// The key of a property, which names no class.
    Key,
}

/// What a call does with what it names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Purpose {
    /// Loads the class.
    Load,
    /// Makes a class of bytes, under that name.
    Define,
    /// Reads the class file, or looks whether it is there.
    Read,
    /// Looks for providers of the service.
    Provide,
    /// Lists or looks up members of the class, which loads the types in their descriptors.
    Introspect,
    /// Creates an instance.
    Create,
    /// Makes a class that implements the interfaces.
    Proxy,
    /// Loads whatever classes a stream names, or lists the members of what is written to one.
    Deserialize,
    /// Loads a resource bundle.
    Localize,
    /// Reads a property.
    Property,
}

impl Purpose {
    /// Stable short name for machines.
    pub const fn tag(self) -> &'static str {
        match self {
            Purpose::Load => "loads-by-name",
            Purpose::Define => "defines-class",
            Purpose::Read => "reads-class-file",
            Purpose::Provide => "looks-for-providers",
            Purpose::Introspect => "looks-up-members",
            Purpose::Create => "creates-by-reflection",
            Purpose::Proxy => "makes-proxy",
            Purpose::Deserialize => "deserialises",
            Purpose::Localize => "loads-bundle",
            Purpose::Property => "reads-property",
        }
    }

    /// The same for people; a verb whose object is the type.
    pub const fn phrase(self) -> &'static str {
        match self {
            Purpose::Load => "loads by its name",
            Purpose::Define => "defines from bytes",
            Purpose::Read => "looks for the class file of",
            Purpose::Provide => "looks for providers of",
            Purpose::Introspect => "looks up members of",
            Purpose::Create => "creates by reflection an instance of",
            Purpose::Proxy => "makes a proxy for",
            Purpose::Deserialize => "deserialises",
            Purpose::Localize => "loads as a bundle",
            Purpose::Property => "reads the property",
        }
    }
}

const LOADER: &str = "java/lang/ClassLoader";
const CLASS: &str = "java/lang/Class";
const CONSTRUCTOR: &str = "java/lang/reflect/Constructor";
const TEXT: &str = "(Ljava/lang/String;";

const fn row(
    owner: &'static str,
    name: &'static str,
    descriptor: &'static str,
    argument: Argument,
    form: Form,
    purpose: Purpose,
) -> Sink {
    Sink { owner, inherited: false, name, descriptor, argument, form, purpose, members: Members::NONE }
}

const fn inherited(sink: Sink) -> Sink {
    Sink { inherited: true, ..sink }
}

const fn lists(members: Members, sink: Sink) -> Sink {
    Sink { members, ..sink }
}

const fn introspects(name: &'static str, members: Members) -> Sink {
    lists(members, row(CLASS, name, "", Argument::Receiver, Form::Class, Purpose::Introspect))
}

const fn updater(owner: &'static str) -> Sink {
    lists(Members::FIELDS, row(owner, "newUpdater", "", FIRST, Form::Class, Purpose::Introspect))
}

/// Loads what files or environments name, whatever it is.
const fn reads(owner: &'static str, name: &'static str, descriptor: &'static str) -> Sink {
    row(owner, name, descriptor, Argument::Nowhere, Form::None, Purpose::Load)
}

/// Loads the class that its first argument names.
const fn loads(owner: &'static str, name: &'static str) -> Sink {
    row(owner, name, TEXT, FIRST, Form::PlainBinaryName, Purpose::Load)
}

const fn resource(name: &'static str) -> [Sink; 2] {
    [
        row(CLASS, name, TEXT, Argument::At(0), Form::RelativeResource, Purpose::Read),
        inherited(row(LOADER, name, TEXT, Argument::At(0), Form::Resource, Purpose::Read)),
    ]
}

const SERVICES: &str = "java/util/ServiceLoader";
const PROXY: &str = "java/lang/reflect/Proxy";
const STREAM: &str = "java/io/ObjectInputStream";
const OUTPUT: &str = "java/io/ObjectOutputStream";
const HANDLES: &str = "java/lang/invoke/MethodHandles$Lookup";
const BUNDLE: &str = "java/util/ResourceBundle";
const SYSTEM: &str = "java/lang/System";
const FIRST: Argument = Argument::At(0);
const SECOND: Argument = Argument::At(1);

/// Every call that is known to take names.
pub static SINKS: [Sink; 89] = {
    let [relative, absolute] = resource("getResource");
    let [relative_stream, absolute_stream] = resource("getResourceAsStream");
    [
        row(CLASS, "forName", TEXT, FIRST, Form::BinaryName, Purpose::Load),
        row(CLASS, "forName", "(Ljava/lang/Module;Ljava/lang/String;)", SECOND, Form::PlainBinaryName, Purpose::Load),
        inherited(loads(LOADER, "loadClass")),
        inherited(loads(LOADER, "findClass")),
        inherited(loads(LOADER, "findSystemClass")),
        inherited(row(LOADER, "defineClass", TEXT, FIRST, Form::PlainBinaryName, Purpose::Define)),
        row(HANDLES, "defineClass", "", Argument::Nowhere, Form::None, Purpose::Define),
        row(HANDLES, "defineHiddenClass", "", Argument::Nowhere, Form::None, Purpose::Define),
        loads(HANDLES, "findClass"),
        row("java/lang/invoke/MethodType", "fromMethodDescriptorString", TEXT, FIRST, Form::Descriptor, Purpose::Load),
        row(SERVICES, "load", "(Ljava/lang/Class;", FIRST, Form::Class, Purpose::Provide),
        row(SERVICES, "load", "(Ljava/lang/ModuleLayer;", SECOND, Form::Class, Purpose::Provide),
        row(SERVICES, "loadInstalled", "", FIRST, Form::Class, Purpose::Provide),
        relative,
        absolute,
        relative_stream,
        absolute_stream,
        inherited(row(LOADER, "getResources", TEXT, FIRST, Form::Resource, Purpose::Read)),
        inherited(row(LOADER, "resources", TEXT, FIRST, Form::Resource, Purpose::Read)),
        row(LOADER, "getSystemResource", "", FIRST, Form::Resource, Purpose::Read),
        row(LOADER, "getSystemResources", "", FIRST, Form::Resource, Purpose::Read),
        row(LOADER, "getSystemResourceAsStream", "", FIRST, Form::Resource, Purpose::Read),
        row("java/lang/Module", "getResourceAsStream", "", FIRST, Form::Resource, Purpose::Read),
        row(PROXY, "newProxyInstance", "", SECOND, Form::Classes, Purpose::Proxy),
        row(PROXY, "getProxyClass", "", SECOND, Form::Classes, Purpose::Proxy),
        row("java/lang/invoke/MethodHandleProxies", "asInterfaceInstance", "", FIRST, Form::Class, Purpose::Proxy),
        lists(
            Members::PUBLIC_METHODS,
            row(
                "java/beans/Introspector",
                "getBeanInfo",
                "(Ljava/lang/Class;",
                FIRST,
                Form::Class,
                Purpose::Introspect,
            ),
        ),
        inherited(row(STREAM, "readObject", "()", Argument::Nowhere, Form::None, Purpose::Deserialize)),
        inherited(row(STREAM, "readUnshared", "()", Argument::Nowhere, Form::None, Purpose::Deserialize)),
        introspects("getFields", Members::PUBLIC_FIELDS),
        introspects("getMethods", Members::PUBLIC_METHODS),
        introspects("getConstructors", Members::PUBLIC_CONSTRUCTORS),
        introspects("getDeclaredFields", Members::FIELDS),
        introspects("getDeclaredMethods", Members::METHODS),
        introspects("getDeclaredConstructors", Members::CONSTRUCTORS),
        introspects("getField", Members::PUBLIC_FIELDS),
        introspects("getMethod", Members::PUBLIC_METHODS),
        introspects("getConstructor", Members::PUBLIC_CONSTRUCTORS),
        introspects("getDeclaredField", Members::FIELDS),
        introspects("getDeclaredMethod", Members::METHODS),
        introspects("getDeclaredConstructor", Members::CONSTRUCTORS),
        introspects("getRecordComponents", Members::FIELDS.and(Members::METHODS)),
        introspects("getEnumConstants", Members::PUBLIC_METHODS),
        introspects("getAnnotation", Members::NONE),
        introspects("getAnnotations", Members::NONE),
        introspects("getDeclaredAnnotations", Members::NONE),
        introspects("isAnnotationPresent", Members::NONE),
        introspects("getDeclaredClasses", Members::NONE),
        introspects("getClasses", Members::NONE),
        introspects("getNestMembers", Members::NONE),
        introspects("getPermittedSubclasses", Members::NONE),
        introspects("getGenericSuperclass", Members::NONE),
        introspects("getGenericInterfaces", Members::NONE),
        introspects("getTypeParameters", Members::NONE),
        row(HANDLES, "findConstructor", "", FIRST, Form::Class, Purpose::Create),
        lists(Members::METHODS, row(HANDLES, "findStatic", "", FIRST, Form::Class, Purpose::Introspect)),
        lists(Members::METHODS, row(HANDLES, "findVirtual", "", FIRST, Form::Class, Purpose::Introspect)),
        lists(Members::METHODS, row(HANDLES, "findSpecial", "", FIRST, Form::Class, Purpose::Introspect)),
        lists(Members::METHODS, row(HANDLES, "bind", "", FIRST, Form::Object, Purpose::Introspect)),
        lists(Members::FIELDS, row(HANDLES, "findStaticGetter", "", FIRST, Form::Class, Purpose::Introspect)),
        lists(Members::FIELDS, row(HANDLES, "findStaticSetter", "", FIRST, Form::Class, Purpose::Introspect)),
        lists(Members::FIELDS, row(HANDLES, "findStaticVarHandle", "", FIRST, Form::Class, Purpose::Introspect)),
        row(HANDLES, "ensureInitialized", "", FIRST, Form::Class, Purpose::Create),
        updater("java/util/concurrent/atomic/AtomicIntegerFieldUpdater"),
        updater("java/util/concurrent/atomic/AtomicLongFieldUpdater"),
        updater("java/util/concurrent/atomic/AtomicReferenceFieldUpdater"),
        // Names in files and in environments, which the platform reads by itself.
        reads("java/util/logging/LogManager", "readConfiguration", ""),
        reads("java/util/logging/LogManager", "updateConfiguration", ""),
        // Contexts are made for that; their constructors would make every constructor one that may be meant.
        inherited(reads("javax/naming/Context", "lookup", TEXT)),
        reads("javax/naming/InitialContext", "lookup", TEXT),
        reads("javax/naming/InitialContext", "doLookup", TEXT),
        inherited(reads("javax/naming/directory/DirContext", "search", TEXT)),
        reads("javax/naming/directory/InitialDirContext", "search", TEXT),
        reads("javax/naming/directory/InitialDirContext", "getAttributes", TEXT),
        reads("java/beans/XMLDecoder", "readObject", ""),
        loads("javax/management/MBeanServer", "createMBean"),
        loads("javax/management/MBeanServer", "instantiate"),
        loads("javax/xml/parsers/SAXParserFactory", "newInstance"),
        loads("javax/xml/parsers/DocumentBuilderFactory", "newInstance"),
        loads("javax/xml/transform/TransformerFactory", "newInstance"),
        row("sun/misc/Unsafe", "allocateInstance", "", FIRST, Form::Class, Purpose::Create),
        inherited(row(
            OUTPUT,
            "writeObject",
            "(Ljava/lang/Object;)",
            Argument::Nowhere,
            Form::None,
            Purpose::Deserialize,
        )),
        inherited(row(
            OUTPUT,
            "writeUnshared",
            "(Ljava/lang/Object;)",
            Argument::Nowhere,
            Form::None,
            Purpose::Deserialize,
        )),
        row(CLASS, "newInstance", "", Argument::Receiver, Form::Class, Purpose::Create),
        row(CONSTRUCTOR, "newInstance", "", Argument::Receiver, Form::Class, Purpose::Create),
        row(BUNDLE, "getBundle", TEXT, FIRST, Form::Bundle, Purpose::Localize),
        row(SYSTEM, "getProperty", TEXT, FIRST, Form::Key, Purpose::Property),
        row("java/lang/Integer", "getInteger", TEXT, FIRST, Form::Key, Purpose::Property),
        row("java/lang/Boolean", "getBoolean", TEXT, FIRST, Form::Key, Purpose::Property),
    ]
};

/// For each first byte and for each length of a name, the rows that it fits, one bit each: nearly all methods are none
/// of the table's, and every class file asks about all that it refers to.
#[expect(clippy::indexing_slicing, reason = "worked out by the compiler, which would stop at a wrong index")]
static FITTING: ([u128; 256], [u128; 64]) = {
    let (mut by_byte, mut by_length) = ([0; 256], [0; 64]);
    let mut row = 0;
    while row < SINKS.len() {
        let name = SINKS[row].name.as_bytes();
        by_byte[name[0] as usize] |= 1 << row;
        by_length[name.len()] |= 1 << row;
        row += 1;
    }
    (by_byte, by_length)
};

/// The row for a method. Where [`Sink::inherited`] is set and the owner is another class, it counts only if that class
/// is a subclass.
pub fn of(owner: &[u8], name: &[u8], descriptor: &[u8]) -> Option<&'static Sink> {
    let by_byte = FITTING.0.get(usize::from(*name.first()?))?;
    let mut rows = by_byte & FITTING.1.get(name.len())?;
    let mut of_superclass = None;
    while rows != 0 {
        let sink = SINKS.get(rows.trailing_zeros() as usize)?;
        rows &= rows - 1;
        if sink.name.as_bytes() != name || !descriptor.starts_with(sink.descriptor.as_bytes()) {
            continue;
        }
        if sink.owner.as_bytes() == owner {
            return Some(sink);
        }
        if sink.inherited && of_superclass.is_none() {
            of_superclass = Some(sink);
        }
    }
    of_superclass
}

/// What a method does that is looked up by reflection, if it is one of the table's; its descriptor is not known.
pub fn purpose_of(owner: &[u8], name: &[u8]) -> Option<Purpose> {
    let found = SINKS.iter().find(|sink| sink.owner.as_bytes() == owner && sink.name.as_bytes() == name);
    found.map(|sink| sink.purpose)
}

impl Sink {
    /// What a call of this row names: classes in internal form; for [`Form::Bundle`] base names in internal form; for
    /// [`Form::Key`] keys. Resources that are no class files are left out.
    pub fn names<E: Environment>(&self, call: &Call<'_>, method: E::Method, environment: &E) -> Names {
        let value = match self.argument {
            Argument::Nowhere => {
                let unknown = matches!(self.purpose, Purpose::Define | Purpose::Load);
                return Names { unknown, ..Names::default() };
            }
            Argument::Receiver => call.receiver.as_ref(),
            Argument::At(number) => call.arguments.get(number),
        };
        let value = value.unwrap_or(&Value::Unknown);
        match self.form {
            Form::None => Names::default(),
            Form::Class => classes(value, method, environment).filter_map(element),
            Form::Object => classes_of_objects(value, method, environment),
            Form::Classes => classes_in_array(value, method, environment).filter_map(element),
            Form::Key => texts(value, method, environment),
            Form::BinaryName => texts(value, method, environment).filter_map(|shape| element(internal(shape))),
            Form::PlainBinaryName | Form::Bundle => {
                texts(value, method, environment).filter_map(|shape| Some(internal(shape)))
            }
            Form::Descriptor => {
                let mut names = Names::default();
                let found = texts(value, method, environment);
                names.unknown = found.unknown || !found.patterns.is_empty();
                for text in &found.exact {
                    for class in descriptor::classes(text) {
                        names.add(Shape { text: class.to_vec(), end: None });
                    }
                }
                names
            }
            Form::Resource => texts(value, method, environment).filter_map(class_file),
            Form::RelativeResource => {
                let found = texts(value, method, environment).filter_map(class_file);
                let receiver = call.receiver.as_ref().unwrap_or(&Value::Unknown);
                from_root(found, &classes(receiver, method, environment))
            }
        }
    }
}

impl Names {
    fn filter_map(self, change: impl Fn(Shape) -> Option<Shape>) -> Names {
        let mut changed = Names { unknown: self.unknown, ..Names::default() };
        self.into_shapes().filter_map(change).for_each(|shape| changed.add(shape));
        changed
    }
}

fn internal(shape: Shape) -> Shape {
    let slashes = |text| exchanged(text, b'.', b'/');
    Shape { text: slashes(shape.text), end: shape.end.map(slashes) }
}

/// The class behind the name of an array class; nothing for an array of numbers.
fn element(shape: Shape) -> Option<Shape> {
    match shape {
        Shape { text, end: None } => {
            descriptor::element_class(&text).map(|class| Shape { text: class.to_vec(), end: None })
        }
        Shape { text, end: Some(end) } => {
            let dimensions = text.iter().take_while(|&&byte| byte == b'[').count();
            let prefix = text.get(dimensions..).unwrap_or_default();
            if dimensions == 0 {
                return Some(Shape { text, end: Some(end) });
            }
            let prefix = prefix.strip_prefix(b"L").unwrap_or(prefix).to_vec();
            let suffix = end.strip_suffix(b";").unwrap_or(&end).to_vec();
            Some(Shape { text: prefix, end: Some(suffix) })
        }
    }
}

/// The class in a class file of that path.
fn class_file(shape: Shape) -> Option<Shape> {
    match shape {
        Shape { text, end: None } => Some(Shape { text: text.strip_suffix(b".class")?.to_vec(), end: None }),
        Shape { text, end: Some(end) } => Some(Shape { text, end: Some(end.strip_suffix(b".class")?.to_vec()) }),
    }
}

/// Names that begin with a slash, and those in the packages of the receivers.
fn from_root(found: Names, receivers: &Names) -> Names {
    let mut names = Names { unknown: found.unknown, ..Names::default() };
    for Shape { text, end } in found.into_shapes() {
        if let Some(absolute) = text.strip_prefix(b"/") {
            names.add(Shape { text: absolute.to_vec(), end });
            continue;
        }
        // A pattern may turn out to begin with a slash; then its package is its own.
        if end.is_some() && text.is_empty() {
            names.add(Shape { text, end });
            continue;
        }
        for receiver in &receivers.exact {
            let package = package_of(receiver);
            let separator: &[u8] = if package.is_empty() { b"" } else { b"/" };
            names.add(Shape { text: [package, separator, &text].concat(), end: end.clone() });
        }
        if receivers.unknown || !receivers.patterns.is_empty() {
            // In whatever package the receiver is.
            names.add(Shape { text: Vec::new(), end: Some(end.unwrap_or([b"/", &*text].concat())) });
        }
    }
    names
}

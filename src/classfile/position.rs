//! The positions in which a class file names another class, and when that matters.

/// Where in a class file another class is named (JVMS section in brackets).
///
/// The order is that of the class file. `Position::stage` says when a missing class hurts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Position {
    /// `super_class` [4.1].
    Superclass,
    /// `interfaces` [4.1].
    Interface,
    /// A field's descriptor [4.3.2].
    FieldDescriptor,
    /// A method's descriptor [4.3.3].
    MethodDescriptor,
    /// `Exceptions` attribute, the `throws` clause [4.7.5].
    Throws,
    /// `catch_type` of an exception table entry [4.7.3].
    Catch,
    /// Operand of `new`.
    New,
    /// Operand of `anewarray` and `multianewarray`.
    NewArray,
    /// Operand of `checkcast`.
    CheckCast,
    /// Operand of `instanceof`.
    InstanceOf,
    /// Operand of `ldc` and `ldc_w`: a class constant.
    LoadClass,
    /// Operand of `ldc`: a method type or method handle, or a dynamic constant's descriptor [4.4.8, 4.4.9, 4.4.10].
    LoadConstant,
    /// Owner in `getstatic`, `putstatic`.
    StaticField,
    /// Owner in `getfield`, `putfield`.
    InstanceField,
    /// Owner in `invokestatic`.
    StaticCall,
    /// Owner in `invokevirtual`, `invokespecial`, `invokeinterface`.
    InstanceCall,
    /// Descriptor of the field or method in such an instruction.
    ReferenceDescriptor,
    /// Descriptor of an `invokedynamic` call site [4.4.10].
    CallSiteDescriptor,
    /// Bootstrap method and its owner [4.7.23].
    BootstrapMethod,
    /// Static argument of a bootstrap method: class, method type, method handle [4.7.23].
    BootstrapArgument,
    /// A verification type in a stack map frame [4.7.4].
    StackMapFrame,
    /// `Signature` attribute of class, member or record component [4.7.9.1].
    Signature,
    /// An annotation's type [4.7.16 to 4.7.21].
    AnnotationType,
    /// A class or enum constant as the value of an annotation element [4.7.16.1], also as a default [4.7.22].
    AnnotationValue,
    /// `InnerClasses` [4.7.6].
    InnerClass,
    /// `EnclosingMethod` [4.7.7].
    EnclosingMethod,
    /// `NestHost` [4.7.28].
    NestHost,
    /// `NestMembers` [4.7.29].
    NestMember,
    /// `Record`: a component's descriptor [4.7.30].
    RecordComponent,
    /// `PermittedSubclasses` [4.7.31].
    PermittedSubclass,
    /// `LocalVariableTable`, `LocalVariableTypeTable` [4.7.13, 4.7.14].
    LocalVariable,
    /// `ModuleMainClass`, `uses`, `provides` of a module descriptor [4.7.25, 4.7.27].
    ModuleDescriptor,
}

/// When a missing class hurts (`DEVELOPERS.md`, "Stages").
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// The naming class cannot be loaded (JVMS §5.3.5).
    Load,
    /// The naming class cannot be linked: the verifier loads the named class (JVMS §4.10, §5.4.1).
    Link,
    /// One instruction fails when it runs (JVMS §5.4.3).
    Run,
    /// A look-up by reflection fails.
    Introspect,
    /// Nothing happens unless somebody asks.
    Ignore,
}

impl Position {
    /// Every position, in order.
    pub const ALL: [Position; 32] = [
        Position::Superclass,
        Position::Interface,
        Position::FieldDescriptor,
        Position::MethodDescriptor,
        Position::Throws,
        Position::Catch,
        Position::New,
        Position::NewArray,
        Position::CheckCast,
        Position::InstanceOf,
        Position::LoadClass,
        Position::LoadConstant,
        Position::StaticField,
        Position::InstanceField,
        Position::StaticCall,
        Position::InstanceCall,
        Position::ReferenceDescriptor,
        Position::CallSiteDescriptor,
        Position::BootstrapMethod,
        Position::BootstrapArgument,
        Position::StackMapFrame,
        Position::Signature,
        Position::AnnotationType,
        Position::AnnotationValue,
        Position::InnerClass,
        Position::EnclosingMethod,
        Position::NestHost,
        Position::NestMember,
        Position::RecordComponent,
        Position::PermittedSubclass,
        Position::LocalVariable,
        Position::ModuleDescriptor,
    ];

    /// When a missing class hurts that is named here (JVMS §5.3, §5.4, §4.10; observed on JDK 17 and 25).
    #[expect(clippy::match_same_arms, reason = "each arm has a reason of its own")]
    pub const fn stage(self) -> Stage {
        match self {
            // §5.3.5: deriving a class resolves its direct supertypes.
            Position::Superclass | Position::Interface => Stage::Load,
            // §4.10.1.4: a handler's type must be a Throwable, which the verifier can only tell by loading it.
            Position::Catch => Stage::Link,
            // §5.4.3: resolution when the instruction runs; with it the types of descriptors that become a method
            // type, and the static arguments of a bootstrap method.
            Position::New
            | Position::NewArray
            | Position::CheckCast
            | Position::InstanceOf
            | Position::LoadClass
            | Position::LoadConstant
            | Position::StaticField
            | Position::InstanceField
            | Position::StaticCall
            | Position::InstanceCall
            | Position::CallSiteDescriptor
            | Position::BootstrapMethod
            | Position::BootstrapArgument => Stage::Run,
            // Loaded when the members of the class are listed by reflection; a record's also when its `toString`,
            // `equals` or `hashCode` are linked. An annotation's value fails in its accessor.
            Position::FieldDescriptor
            | Position::MethodDescriptor
            | Position::Throws
            | Position::RecordComponent
            | Position::AnnotationValue => Stage::Introspect,
            // §5.4.3.2, §5.4.3.3: resolving a member compares descriptors as text. Whether the verifier asks for a
            // type in them or in a stack map frame depends on the flow of values, not on the mention.
            Position::ReferenceDescriptor | Position::StackMapFrame => Stage::Ignore,
            // Annotations of a missing type are left out by reflection; generic types are looked up one by one, on
            // request; a nest or a permitted subclass that cannot be loaded is passed over; `InnerClasses` lists
            // every nested class that the pool has, used or not; debug tables are for debuggers.
            Position::Signature
            | Position::AnnotationType
            | Position::InnerClass
            | Position::EnclosingMethod
            | Position::NestHost
            | Position::NestMember
            | Position::PermittedSubclass
            | Position::LocalVariable => Stage::Ignore,
            // On the class path a module descriptor is not read. On the module path its `requires` count, and the
            // platform module of a service is among those.
            Position::ModuleDescriptor => Stage::Ignore,
        }
    }

    /// Stable short name for machines.
    pub const fn tag(self) -> &'static str {
        match self {
            Position::Superclass => "superclass",
            Position::Interface => "interface",
            Position::FieldDescriptor => "field-descriptor",
            Position::MethodDescriptor => "method-descriptor",
            Position::Throws => "throws",
            Position::Catch => "catch",
            Position::New => "new",
            Position::NewArray => "new-array",
            Position::CheckCast => "check-cast",
            Position::InstanceOf => "instance-of",
            Position::LoadClass => "load-class",
            Position::LoadConstant => "load-constant",
            Position::StaticField => "static-field",
            Position::InstanceField => "instance-field",
            Position::StaticCall => "static-call",
            Position::InstanceCall => "instance-call",
            Position::ReferenceDescriptor => "reference-descriptor",
            Position::CallSiteDescriptor => "call-site-descriptor",
            Position::BootstrapMethod => "bootstrap-method",
            Position::BootstrapArgument => "bootstrap-argument",
            Position::StackMapFrame => "stack-map-frame",
            Position::Signature => "signature",
            Position::AnnotationType => "annotation-type",
            Position::AnnotationValue => "annotation-value",
            Position::InnerClass => "inner-class",
            Position::EnclosingMethod => "enclosing-method",
            Position::NestHost => "nest-host",
            Position::NestMember => "nest-member",
            Position::RecordComponent => "record-component",
            Position::PermittedSubclass => "permitted-subclass",
            Position::LocalVariable => "local-variable",
            Position::ModuleDescriptor => "module-descriptor",
        }
    }

    /// What the naming class or member does with the named class: the part of a sentence between the two names.
    pub const fn sentence(self) -> &'static str {
        match self {
            Position::Superclass => "extends",
            Position::Interface => "implements",
            Position::FieldDescriptor => "has the type",
            Position::MethodDescriptor => "has in its parameters or its result",
            Position::Throws => "declares that it throws",
            Position::Catch => "catches",
            Position::New => "creates an instance of",
            Position::NewArray => "creates an array of",
            Position::CheckCast => "casts to",
            Position::InstanceOf => "tests for an instance of",
            Position::LoadClass => "uses the class literal of",
            Position::LoadConstant => "loads a constant that names",
            Position::StaticField => "accesses a static field of",
            Position::InstanceField => "accesses a field of",
            Position::StaticCall => "calls a static method of",
            Position::InstanceCall => "calls a method of",
            Position::ReferenceDescriptor => "uses a member whose type has",
            Position::CallSiteDescriptor => "has a dynamic call site whose type has",
            Position::BootstrapMethod => "links a dynamic call site through",
            Position::BootstrapArgument => "links a dynamic call site with",
            Position::StackMapFrame => "holds while it runs a value of",
            Position::Signature => "has in its generic type",
            Position::AnnotationType => "is annotated with",
            Position::AnnotationValue => "has an annotation whose value names",
            Position::InnerClass => "lists among nested classes",
            Position::EnclosingMethod => "is declared within",
            Position::NestHost => "belongs to the nest of",
            Position::NestMember => "counts to its nest",
            Position::RecordComponent => "has a record component of",
            Position::PermittedSubclass => "permits as a subclass",
            Position::LocalVariable => "has a local variable of",
            Position::ModuleDescriptor => "names as a service, a provider or a main class",
        }
    }
}

impl Stage {
    /// Stable short name for machines.
    pub const fn tag(self) -> &'static str {
        match self {
            Stage::Load => "load",
            Stage::Link => "link",
            Stage::Run => "run",
            Stage::Introspect => "introspect",
            Stage::Ignore => "ignore",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_positions_are_listed_in_order_and_tags_differ() {
        assert!(Position::ALL.is_sorted());
        assert!(Position::ALL.iter().enumerate().all(|(at, &position)| position as usize == at));
        let tags: std::collections::BTreeSet<_> = Position::ALL.iter().map(|position| position.tag()).collect();
        assert_eq!(tags.len(), Position::ALL.len());
    }
}

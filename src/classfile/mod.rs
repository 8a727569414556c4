//! `&[u8]` to class facts (JVMS ch. 4): pure, total, borrowing, no I/O, no allocation per class beyond the scratch.
//!
//! The first function to read is [`walk`]: it walks a class file once and tells a [`Visitor`] about every position in
//! which the file names another class, and about every constant that later stages need. It never panics and never
//! loops, whatever the bytes: what cannot be read ends the walk with an [`Error`] that says where.

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

//! What stands in the way of reading a class file, and at which byte.

use std::fmt;

/// Where and why a class file cannot be read on.
///
/// The path of the file is not known here; whoever knows it makes a diagnostic of both.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Error {
    /// Offset in the class file, in bytes from its first.
    pub offset: usize,
    /// The reason.
    pub kind: ErrorKind,
}

/// Why a class file cannot be read on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum ErrorKind {
    /// A structure goes on behind the end of the file or of the attribute that holds it.
    Truncated,
    /// The file does not begin with `CAFEBABE` (JVMS §4.1).
    Magic,
    /// A constant has a tag that is not in JVMS table 4.4-A.
    ConstantTag(u8),
    /// An index leads to no constant, or to one of another kind.
    PoolIndex(u16),
    /// The code holds a byte that is no instruction (JVMS §6.5).
    Opcode(u8),
    /// `tableswitch` whose high is below its low, `lookupswitch` with a negative count, or an odd `wide`.
    Operand(u8),
    /// A stack map frame or a verification type of an unknown form (JVMS §4.7.4).
    Frame(u8),
    /// The value of an annotation element has an unknown form (JVMS §4.7.16.1).
    ElementValue(u8),
    /// Annotations within annotations beyond [`super::ANNOTATION_DEPTH`].
    AnnotationDepth,
    /// A type annotation has an unknown target (JVMS table 4.7.20-A).
    AnnotationTarget(u8),
    /// An attribute is shorter than its length says.
    AttributeRest,
    /// Bytes follow the last attribute of the class.
    TrailingBytes,
    /// The file is no module descriptor: `ACC_MODULE` or the `Module` attribute is missing (JVMS §4.1, §4.7.25).
    NotAModule,
}

impl Error {
    pub(super) fn new(offset: usize, kind: ErrorKind) -> Self {
        Error { offset, kind }
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} at byte {}", self.kind, self.offset)
    }
}

impl std::error::Error for Error {}

impl fmt::Display for ErrorKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            ErrorKind::Truncated => f.write_str("the data ends too early"),
            ErrorKind::Magic => f.write_str("no class file: the first four bytes are not CAFEBABE"),
            ErrorKind::ConstantTag(tag) => write!(f, "unknown constant tag {tag}"),
            ErrorKind::PoolIndex(index) => write!(f, "constant {index} is not there or of the wrong kind"),
            ErrorKind::Opcode(opcode) => write!(f, "unknown instruction {opcode:#04x}"),
            ErrorKind::Operand(opcode) => write!(f, "instruction {opcode:#04x} with an impossible operand"),
            ErrorKind::Frame(form) => write!(f, "unknown stack map form {form}"),
            ErrorKind::ElementValue(form) => write!(f, "unknown annotation value form {form:#04x}"),
            ErrorKind::AnnotationDepth => f.write_str("annotations are nested too deeply"),
            ErrorKind::AnnotationTarget(target) => write!(f, "unknown annotation target {target:#04x}"),
            ErrorKind::AttributeRest => f.write_str("an attribute is longer than its content"),
            ErrorKind::TrailingBytes => f.write_str("bytes follow the end of the class"),
            ErrorKind::NotAModule => f.write_str("no module descriptor"),
        }
    }
}

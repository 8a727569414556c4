//! Which members of a class a look at it lists. The JVM loads the types in the descriptors of what is listed, and of
//! nothing else: a look-up of a constructor lists constructors alone, and one of a public method the public methods
//! (Java SE API, `java.lang.Class`; seen on 17 and 25).
//!
//! The type to read is [`Members`].

/// A set of kinds of members.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Members(u8);

impl Members {
    /// None: annotations, nested classes and type arguments are looked up one by one.
    pub const NONE: Members = Members(0);
    /// Public fields.
    pub const PUBLIC_FIELDS: Members = Members(1);
    /// All fields.
    pub const FIELDS: Members = Members(1 | 2);
    /// Public methods.
    pub const PUBLIC_METHODS: Members = Members(4);
    /// All methods.
    pub const METHODS: Members = Members(4 | 8);
    /// Public constructors.
    pub const PUBLIC_CONSTRUCTORS: Members = Members(16);
    /// All constructors.
    pub const CONSTRUCTORS: Members = Members(16 | 32);
    /// Everything.
    pub const ALL: Members = Members(63);

    /// Those of either set.
    #[must_use]
    pub const fn and(self, other: Members) -> Members {
        Members(self.0 | other.0)
    }

    /// Those that are not in the other set.
    #[must_use]
    pub const fn without(self, other: Members) -> Members {
        Members(self.0 & !other.0)
    }

    /// Those that are looked for in the superclasses and superinterfaces as well: fields and methods of which public ones
    /// alone are listed.
    #[must_use]
    pub const fn inherited(self) -> Members {
        // The bit of the public ones stands below that of the others.
        let public = Members::PUBLIC_FIELDS.and(Members::PUBLIC_METHODS).0;
        Members(self.0 & public & !(self.0 >> 1))
    }

    /// Whether the sets have anything in common.
    pub const fn meets(self, other: Members) -> bool {
        self.0 & other.0 != 0
    }

    /// How many kinds there are in it.
    pub const fn count(self) -> u32 {
        self.0.count_ones()
    }
}

//! Modules that the symbol file does not know, since they export nothing to everybody: when they existed.
//!
//! What stands in no table here is settled by the descriptors of the release itself (a module that is required exists)
//! or by both JDKs at hand (what is in 17 and in 25 was there between).

use std::ops::RangeInclusive;

/// Releases of modules that their own JDK brackets on one side only.
pub(super) const MODULES: &[(&str, RangeInclusive<u16>)] = &[
    // JEP 356 brought it in 17; JDK-8330005 moved its contents into java.base in 23.
    ("jdk.random", 17..=22),
    // JEP 243 brought the compiler interface in 9.
    ("jdk.internal.vm.ci", 9..=25),
    // Nearly empty since JEP 410 took the compiler out in 17; JDK-8318027 renamed them in 22 (that release: from
    // memory). What they held before 17 is not at hand.
    ("jdk.internal.vm.compiler", 17..=21),
    ("jdk.internal.vm.compiler.management", 17..=21),
    ("jdk.graal.compiler", 22..=25),
    ("jdk.graal.compiler.management", 22..=25),
];

/// Modules that exist where another module uses the service that they are there to provide.
pub(super) const PROVIDERS: &[(&str, &str)] = &[("jdk.unsupported.desktop", "sun/swing/InteropProvider")];

/// JEP 320: from 9 on marked as deprecated for removal and not resolved by default, removed in 11. The symbol file
/// does not carry that mark.
pub(super) const ENTERPRISE: &[&str] = &[
    "java.activation",
    "java.corba",
    "java.se.ee",
    "java.transaction",
    "java.xml.bind",
    "java.xml.ws",
    "java.xml.ws.annotation",
];

/// JEP 11: incubator modules are not resolved by default.
pub(super) const INCUBATOR: &str = "jdk.incubator.";

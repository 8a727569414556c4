//! What is loaded of a module though nobody uses it: providers of services, which a look-up meets, and what comes with
//! them. The function to read is [`is_met`].
//!
//! A program that opens a TLS connection loads a class of each module with a security provider, and formatting a date one
//! of jdk.localedata. Were these needed, a log would keep most of the platform.

use crate::names::package_of;
use crate::platform::Catalogue;

/// Services whose providers do the job themselves: who loads one may have got it.
const AT_WORK: [&str; 1] = ["java/util/random/RandomGenerator"];

/// What comes with a provider beside classes nested in it, `*` for what a package below has: loaded when all services of
/// java.base are looked up, and when the platform's beans are registered (observed on 17 and 25).
const COMPANIONS: [&str; 12] = [
    "jdk/jfr/FlightRecorder",
    "jdk/jfr/FlightRecorderListener",
    "jdk/jfr/Recording",
    "jdk/jfr/internal/dcmd/*",
    "jdk/jfr/internal/jfc/*",
    "jdk/jfr/internal/management/*",
    "jdk/jfr/internal/query/*",
    "jdk/jfr/internal/util/*",
    "jdk/management/jfr/*",
    "jdk/nio/zipfs/ZipFileSystem",
    "sun/nio/cs/ext/AbstractCharsetProvider",
    "sun/security/pkcs11/wrapper/PKCS11Exception",
];

/// Whether the look-up of a service loads a class (internal form) of the platform.
pub(super) fn is_met(catalogue: &Catalogue, class: &str) -> bool {
    let companion = |known: &&str| known.strip_suffix('*').map_or(class == *known, |start| class.starts_with(start));
    if COMPANIONS.iter().any(companion) {
        return true;
    }
    let Some(module) = catalogue.module_of_package(package_of(class.as_bytes())) else { return false };
    let Some(module) = catalogue.modules.get(usize::from(module.0)) else { return false };
    let nested =
        |provider: &str| class.strip_prefix(provider).is_some_and(|rest| rest.is_empty() || rest.starts_with('$'));
    let met = module.provides.iter().filter(|provides| !AT_WORK.contains(&&*provides.service));
    met.flat_map(|provides| &provides.with).any(|provider| nested(provider))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn providers_and_their_company_are_met() {
        let catalogue = Catalogue::built_in(17).unwrap();
        for class in [
            "sun/security/pkcs11/SunPKCS11",
            "sun/security/pkcs11/SunPKCS11$Descriptor",
            "jdk/nio/zipfs/ZipFileSystem",
            "jdk/jfr/internal/jfc/model/Parser",
        ] {
            assert!(is_met(&catalogue, class), "{class}");
        }
        for class in [
            "sun/security/pkcs11/SunPKCS11Other",
            "jdk/nio/zipfs/ZipFileSystem$1",
            "jdk/random/L64X128MixRandom",
            "jdk/jfr/Event",
            "java/sql/Driver",
            "tide/Gauge",
        ] {
            assert!(!is_met(&catalogue, class), "{class}");
        }
    }
}

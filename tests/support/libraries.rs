//! Real jars from Maven Central, fetched once into a cache outside the checkout.

use std::path::{Path, PathBuf};
use std::process::Command;

#[path = "cache.rs"]
pub mod cache;

use cache::cache;

/// The jars that `tests/judges/libraries/pom.xml` names, with what they depend on; sorted by name.
pub fn libraries() -> Vec<PathBuf> {
    let pom = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/judges/libraries/pom.xml");
    let text = std::fs::read(&pom).expect("the list of libraries is there");
    // A changed list gets a folder of its own.
    let sum = text
        .iter()
        .fold(0xcbf2_9ce4_8422_2325_u64, |sum, &byte| (sum ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3));
    let folder = cache().join(format!("libraries-{sum:016x}"));
    if !folder.is_dir() {
        let part = cache().join(format!("libraries-{sum:016x}.{}.part", std::process::id()));
        let done = Command::new("mvn")
            .args(["-q", "-B", "-f"])
            .arg(&pom)
            .arg("dependency:copy-dependencies")
            .arg(format!("-DoutputDirectory={}", part.display()))
            .output()
            .expect("Maven (mvn) is needed to fetch the libraries; scripts/test installs it");
        assert!(done.status.success(), "fetching the libraries: {}", String::from_utf8_lossy(&done.stdout));
        // Another test may have been faster; then its folder serves as well.
        if std::fs::rename(&part, &folder).is_err() {
            assert!(folder.is_dir(), "{} cannot be made", folder.display());
            std::fs::remove_dir_all(&part).expect("the second copy can be removed");
        }
    }
    let mut jars: Vec<PathBuf> = std::fs::read_dir(&folder)
        .expect("the cache can be read")
        .map(|entry| entry.expect("the cache can be read").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "jar"))
        .collect();
    jars.sort();
    jars
}

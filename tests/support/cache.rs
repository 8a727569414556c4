//! Where tests keep what they fetch or build.

use std::env;
use std::fs;
use std::path::PathBuf;

/// `SECATEUR_TEST_CACHE`, else a folder in the user's cache directory; made where it is not there yet.
pub fn cache() -> PathBuf {
    let home = || PathBuf::from(env::var_os("HOME").expect("HOME is set, or else SECATEUR_TEST_CACHE"));
    let folder = env::var_os("SECATEUR_TEST_CACHE").map_or_else(
        || env::var_os("XDG_CACHE_HOME").map_or_else(|| home().join(".cache"), PathBuf::from).join("secateur-test"),
        PathBuf::from,
    );
    fs::create_dir_all(&folder).expect("the test cache can be made");
    folder
}

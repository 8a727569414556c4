//! What a run is given by its environment: which JDK, and the options of its JVMs.
//!
//! The launcher `java` reads `JDK_JAVA_OPTIONS`; every JVM reads `JAVA_TOOL_OPTIONS`, tools of the JDK included, which
//! would then lack their own modules. So options that withhold modules go to the first wherever that is enough, and
//! what the user has in either stays ahead of them. Knows nothing of modules. The first function to read is
//! [`variables`].

use std::env;
use std::ffi::{OsStr, OsString};
use std::path::{Path, PathBuf};

use crate::error::Error;

/// Read by the launcher `java` from release 9 on.
const OF_LAUNCHER: &str = "JDK_JAVA_OPTIONS";
/// Read by every JVM (JVM TI specification, the section on that variable).
const OF_JVM: &str = "JAVA_TOOL_OPTIONS";

/// Options by who is to read them; each is one word.
#[derive(Clone, Debug, Default)]
pub(super) struct Options {
    /// For the launcher `java`.
    pub(super) launcher: Vec<String>,
    /// For every JVM.
    pub(super) jvm: Vec<String>,
}

/// The variables of a run on the JDK or image in `home`.
pub(super) fn variables(home: &Path, options: &Options) -> Result<Vec<(&'static str, Option<OsString>)>, Error> {
    let own = |name: &str| env::var_os(name).filter(|value| !value.is_empty());
    let mut path = vec![home.join("bin")];
    path.extend(own("PATH").iter().flat_map(env::split_paths).collect::<Vec<PathBuf>>());
    let path = env::join_paths(path).map_err(|_| {
        let text = format!("{}: a folder with a colon in its name cannot stand in PATH", home.display());
        Error::Usage(text)
    })?;
    Ok(vec![
        ("JAVA_HOME", Some(home.as_os_str().to_owned())),
        ("PATH", Some(path)),
        (OF_LAUNCHER, behind(own(OF_LAUNCHER).as_deref(), &options.launcher)?),
        (OF_JVM, behind(own(OF_JVM).as_deref(), &options.jvm)?),
    ])
}

/// For a tool of the JDK: without the options that are meant for the user's own JVMs.
pub(super) fn bare() -> [(&'static str, Option<OsString>); 2] {
    [(OF_LAUNCHER, None), (OF_JVM, None)]
}

fn behind(own: Option<&OsStr>, options: &[String]) -> Result<Option<OsString>, Error> {
    let mut value = own.map(OsStr::to_owned).unwrap_or_default();
    for option in options {
        if !value.is_empty() {
            value.push(" ");
        }
        value.push(word(option)?);
    }
    Ok((!value.is_empty()).then_some(value))
}

/// One word as both variables take it: within quotes white space stands for itself, and there is no other escape.
fn word(text: &str) -> Result<String, Error> {
    let quote = match (text.contains('"'), text.contains('\'')) {
        (false, false) if !text.contains(char::is_whitespace) => return Ok(text.to_owned()),
        (false, _) => '"',
        (true, false) => '\'',
        (true, true) => {
            return Err(Error::Usage(format!("{text} cannot be handed to a JVM: it has both kinds of quotes")));
        }
    };
    Ok(format!("{quote}{text}{quote}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_quoted_only_where_they_must() {
        assert_eq!(word("--limit-modules=java.base").unwrap(), "--limit-modules=java.base");
        assert_eq!(word("-Xlog:class+load:file=/a b/c").unwrap(), "\"-Xlog:class+load:file=/a b/c\"");
        assert_eq!(word("-Da='b c'").unwrap(), "\"-Da='b c'\"");
        assert_eq!(word("-Da=\"b\"").unwrap(), "'-Da=\"b\"'");
        assert!(word("-Da=\"b'").is_err());
    }

    #[test]
    fn what_the_user_has_stands_first() {
        let options = ["-Xshare:off".to_owned()];
        assert_eq!(behind(Some("-Xmx1g".as_ref()), &options).unwrap().unwrap(), "-Xmx1g -Xshare:off");
        assert_eq!(behind(None, &[]).unwrap(), None);
    }
}

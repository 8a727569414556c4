//! The `release` file of a JDK: Java properties, values in double quotes.

/// What a scan wants to know of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct ReleaseFile {
    /// `JAVA_VERSION`: `17.0.15`.
    pub(super) version: String,
    /// The feature release, first number of the version.
    pub(super) feature: u16,
    /// `IMPLEMENTOR`.
    pub(super) vendor: Option<String>,
}

/// Reads the text of a `release` file. The error is a reason without the path.
pub(super) fn read(text: &str) -> Result<ReleaseFile, String> {
    let value = |key: &str| {
        text.lines()
            .filter_map(|line| line.split_once('='))
            .find(|(name, _)| name.trim() == key)
            .map(|(_, value)| value.trim().trim_matches('"').to_owned())
    };
    let version = value("JAVA_VERSION").ok_or("it has no line JAVA_VERSION")?;
    let number = version.split(|c: char| !c.is_ascii_digit()).next().unwrap_or_default();
    let feature: u16 = number.parse().map_err(|_| format!("its JAVA_VERSION `{version}` begins with no number"))?;
    if feature < 9 {
        return Err(format!("its JAVA_VERSION is `{version}`; modules begin with release 9"));
    }
    Ok(ReleaseFile { version, feature, vendor: value("IMPLEMENTOR").filter(|vendor| !vendor.is_empty()) })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// JEP 223: the first number of a version is the feature release; early-access versions read `25-ea`.
    #[test]
    fn the_feature_release_is_the_first_number() {
        let read_version = |version: &str| read(&format!("JAVA_VERSION=\"{version}\"\n")).map(|file| file.feature);
        assert_eq!(read_version("17.0.15"), Ok(17));
        assert_eq!(read_version("25-ea"), Ok(25));
        assert_eq!(read_version("9"), Ok(9));
        assert!(read_version("1.8.0_392").is_err());
        assert!(read_version("next").is_err());
        assert!(read("IMPLEMENTOR=\"N.N.\"\n").is_err());
    }

    #[test]
    fn quotes_are_no_part_of_a_value() {
        let file = read("IMPLEMENTOR=\"N.N.\"\r\nJAVA_VERSION=\"21.0.1\"\r\n").unwrap();
        assert_eq!(file.version, "21.0.1");
        assert_eq!(file.vendor.as_deref(), Some("N.N."));
    }
}

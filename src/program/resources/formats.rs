//! The table of files that name classes: which, how they are read, how strong they are.
//!
//! The first function to read is [`of`]; the first row that fits counts. Adding a row touches nothing else.

use super::ResourceKind;
use ResourceKind::{Configuration, Mention, Metadata, Page, Registration, Requires, Service};

/// How a file is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reading {
    /// A provider configuration file.
    Services,
    /// A module descriptor.
    Descriptor,
    /// Properties whose values are lists of classes.
    Factories,
    /// Properties.
    Properties,
    /// One class a line.
    Lines,
    /// XML.
    Xml,
    /// JSON.
    Json,
    /// A login configuration.
    Login,
    /// The index of plug-ins of a logging library.
    Plugins,
    /// Not at all: its name is that of a class.
    FileName,
    /// A page with code in it.
    Page,
    /// Any text, for the words in it.
    Words,
    /// Nobody reads it at run time.
    Nothing,
}
use Reading::{
    Descriptor, Factories, FileName, Json, Lines, Login, Nothing, Plugins, Properties, Services, Words, Xml,
};

/// A row of the table.
#[derive(Clone, Copy, Debug)]
pub(super) struct Format {
    /// The path: `*` is any text without `/`, `**` any text.
    path: &'static str,
    pub(super) reading: Reading,
    pub(super) kind: ResourceKind,
    /// Whether files of other formats bear such names too, so that one which breaks the format is no finding.
    pub(super) loose: bool,
    /// See [`super::ResourceName::is_listed`].
    pub(super) is_list: bool,
    /// Whether it is read only where a class holds its path: there are many, and few name classes.
    pub(super) if_named: bool,
}

/// Bytes beyond which a text of no known format is not looked at.
const SMALL: u64 = 256 << 10;

/// Bytes of a path beyond which nobody asks for it by name; what matching costs may grow with their square.
const LONGEST: usize = 1_024;

const fn row(path: &'static str, reading: Reading, kind: ResourceKind) -> Format {
    Format { path, reading, kind, loose: false, is_list: false, if_named: false }
}

const fn loose(path: &'static str, reading: Reading, kind: ResourceKind) -> Format {
    Format { path, reading, kind, loose: true, is_list: false, if_named: false }
}

const fn list(of: Format) -> Format {
    Format { is_list: true, ..of }
}

const fn if_named(of: Format) -> Format {
    Format { if_named: true, ..of }
}

static FORMATS: [Format; 97] = [
    // JVMS §4.7.25.
    row("module-info.class", Descriptor, Requires),
    // Groovy documentation, "Extension modules": properties, once among the service files.
    list(row("META-INF/services/org.codehaus.groovy.runtime.ExtensionModule", Factories, Registration)),
    row("META-INF/groovy/org.codehaus.groovy.runtime.ExtensionModule", Factories, Registration),
    // java.util.ServiceLoader, "Deploying service providers on the class path".
    row("META-INF/services/*", Services, Service),
    // Files in folders below are of frameworks with a search of their own (common practice, no source).
    list(loose("META-INF/services/**", Factories, Registration)),
    // Spring Framework reference: SpringFactoriesLoader, AotServices, component index, XML schema handlers.
    row("META-INF/spring.factories", Factories, Registration),
    row("META-INF/spring/aot.factories", Factories, Registration),
    row("META-INF/spring.components", Factories, Registration),
    row("META-INF/spring.handlers", Factories, Registration),
    // Spring Boot reference, "Locating auto-configuration candidates".
    row("META-INF/spring/*.imports", Lines, Registration),
    // What conditions ask for; written by an annotation processor (common practice, no source).
    row("META-INF/spring-autoconfigure-metadata.properties", Factories, Mention),
    // Spring Boot reference, "Configuration metadata": for editors.
    loose("META-INF/*spring-configuration-metadata.json", Nothing, Mention),
    loose("META-INF/spring.schemas", Nothing, Mention),
    loose("META-INF/spring.tooling", Nothing, Mention),
    // Servlet specification ch. 14 (deployment descriptor) and §8.2 (fragments).
    row("WEB-INF/web.xml", Xml, Registration),
    row("META-INF/web-fragment.xml", Xml, Registration),
    // Jakarta Server Pages specification, "Tag Library Descriptor".
    row("META-INF/**.tld", Xml, Registration),
    row("WEB-INF/**.tld", Xml, Registration),
    // Jakarta Server Pages specification, "Core Syntax and Semantics", "JSP Documents", "Tag Files": pages, and parts of them.
    row("**.jsp", Reading::Page, Page),
    row("**.jspx", Reading::Page, Page),
    row("**.jspf", Reading::Page, Page),
    row("WEB-INF/tags/**.tag*", Reading::Page, Page),
    row("META-INF/tags/**.tag*", Reading::Page, Page),
    // Jakarta Faces specification, "Application configuration resources"; its tag libraries.
    row("**/faces-config.xml", Xml, Registration),
    row("META-INF/*.faces-config.xml", Xml, Registration),
    row("META-INF/*.taglib.xml", Xml, Registration),
    // Jakarta Persistence specification ch. 8.
    row("META-INF/persistence.xml", Xml, Registration),
    row("META-INF/orm.xml", Xml, Registration),
    // Jakarta CDI, Enterprise Beans, Connectors, Validation and platform specifications: their descriptors.
    row("META-INF/beans.xml", Xml, Registration),
    row("WEB-INF/beans.xml", Xml, Registration),
    row("META-INF/ejb-jar.xml", Xml, Registration),
    row("WEB-INF/ejb-jar.xml", Xml, Registration),
    row("META-INF/ra.xml", Xml, Registration),
    row("META-INF/validation.xml", Xml, Registration),
    row("META-INF/application-client.xml", Xml, Registration),
    // Eclipse Sisu, "index": one named component a line; the component descriptor that it took over.
    row("META-INF/sisu/*", Lines, Registration),
    loose("META-INF/plexus/*.xml", Xml, Registration),
    // Plug-in and extension descriptors of the build tool that runs them in its own JVM.
    loose("META-INF/maven/*.xml", Xml, Registration),
    loose("META-INF/maven/**", Nothing, Mention),
    // Component folders in which the file's name is the class (common practice, no source).
    row("META-INF/micronaut/*/*", FileName, Registration),
    // Lists of components of a container and of a web service library (common practice, no source).
    loose("META-INF/hk2-locator/*", Words, Registration),
    list(loose("META-INF/cxf/bus-extensions.txt", Words, Registration)),
    // Jakarta Activation and Mail API documentation: content handlers and providers.
    loose("META-INF/mailcap*", Words, Configuration),
    loose("META-INF/javamail.*", Words, Configuration),
    // GraalVM reference manual, "Reachability Metadata".
    row("META-INF/native-image/**reflect-config.json", Json, Metadata),
    row("META-INF/native-image/**jni-config.json", Json, Metadata),
    row("META-INF/native-image/**proxy-config.json", Json, Metadata),
    row("META-INF/native-image/**serialization-config.json", Json, Metadata),
    row("META-INF/native-image/**resource-config.json", Json, Metadata),
    row("META-INF/native-image/**reachability-metadata.json", Json, Metadata),
    // Log4j manual, "Plugins".
    row("**Log4j2Plugins.dat", Plugins, Configuration),
    // Configuration of loggers (java.util.logging.LogManager; Log4j and Logback manuals).
    row("**logging*.properties", Properties, Configuration),
    row("**log4j*.properties", Properties, Configuration),
    row("**simplelogger.properties", Properties, Configuration),
    loose("**log4j*.xml", Xml, Configuration),
    loose("**log4j*.json", Json, Configuration),
    loose("**log4j*.y*ml", Words, Configuration),
    loose("**logback*.xml", Xml, Configuration),
    // javax.security.auth.login.Configuration.
    loose("**.login", Login, Configuration),
    loose("**jaas*.conf", Login, Configuration),
    loose("**jaas*.config", Login, Configuration),
    loose("**login*.config", Login, Configuration),
    // java.util.Properties; among them jndi.properties (javax.naming.Context, "Resource Files") and
    // management.properties. Below packages they may be texts of a user interface.
    row("*.properties", Properties, Configuration),
    row("META-INF/**.properties", Properties, Configuration),
    row("WEB-INF/**.properties", Properties, Configuration),
    row("conf*/*.properties", Properties, Configuration),
    row("**.properties", Properties, Mention),
    // Configuration of whatever library (common practice, no source).
    loose("META-INF/resources/**.xml", Nothing, Mention),
    loose("META-INF/**.xml", Xml, Configuration),
    loose("WEB-INF/**.xml", Xml, Configuration),
    // OSGi Compendium, §112.4: descriptions of components.
    loose("OSGI-INF/**.xml", Xml, Registration),
    // OSGi extension registries alone read it (common practice, no source).
    loose("plugin.xml", Xml, Mention),
    loose("*.xml", Xml, Configuration),
    loose("*.y*ml", Words, Configuration),
    loose("*.conf", Words, Configuration),
    loose("*.json", Json, Configuration),
    loose("*.toml", Words, Configuration),
    loose("*.ini", Words, Configuration),
    loose("*.cfg", Words, Configuration),
    loose("*.list", Words, Configuration),
    loose("conf*/*.*", Words, Configuration),
    loose("**.xml", Xml, Mention),
    loose("**.y*ml", Words, Mention),
    loose("**.conf", Words, Mention),
    // Signatures, indexes, licences, rules for other tools, files for browsers: nobody loads what they name.
    loose("META-INF/MANIFEST.MF", Nothing, Mention),
    loose("META-INF/*.SF", Nothing, Mention),
    loose("META-INF/INDEX.LIST", Nothing, Mention),
    loose("META-INF/*LICENSE*", Nothing, Mention),
    loose("META-INF/*NOTICE*", Nothing, Mention),
    loose("META-INF/DEPENDENCIES", Nothing, Mention),
    loose("META-INF/licenses/**", Nothing, Mention),
    loose("META-INF/proguard/**", Nothing, Mention),
    loose("META-INF/com.android.tools/**", Nothing, Mention),
    loose("META-INF/resources/**", Nothing, Mention),
    // Whatever else a library keeps there.
    loose("META-INF/**", Words, Mention),
    // What is not read as configuration and yet may be a table of classes.
    if_named(loose("**.json", Json, Mention)),
    if_named(loose("**", Lines, Mention)),
];

/// The row for a file of that path and size; none where nobody would find names in it.
pub(super) fn of(path: &str, size: u64) -> Option<&'static Format> {
    // Nearly all files are classes, and of these one counts.
    let is_class = path.strip_suffix(".class").is_some_and(|name| name != "module-info");
    if is_class || path.len() > LONGEST {
        return None;
    }
    let format = FORMATS.iter().find(|format| fits(format.path, path))?;
    let is_text = format.kind == Mention && matches!(format.reading, Words | Lines);
    let unread = format.reading == Nothing || is_text && size > SMALL;
    (!unread).then_some(format)
}

/// Whether a text is the path of a file that code reads by itself: in the folder that is there for them (JAR File
/// Specification, "The META-INF directory"), or one that may name classes. Or looks like one.
pub(in crate::program) fn is_path(text: &[u8]) -> bool {
    let path = text.strip_prefix(b"/").unwrap_or(text);
    let ends = || {
        let end = path.rsplit(|&byte| byte == b'.').next().filter(|end| end.len() < path.len());
        end.is_some_and(|end| READ.contains(&end)) && !path.iter().any(u8::is_ascii_whitespace)
    };
    path.len() <= LONGEST && (path.starts_with(b"META-INF/") || ends())
}

/// How the names of files end that may name classes.
const READ: [&[u8]; 24] = [
    b"bin",
    b"cfg",
    b"conf",
    b"csv",
    b"dat",
    b"def",
    b"hocon",
    b"idx",
    b"index",
    b"ini",
    b"json",
    b"list",
    b"lst",
    b"map",
    b"props",
    b"properties",
    b"spi",
    b"tab",
    b"toml",
    b"tsv",
    b"txt",
    b"xml",
    b"yaml",
    b"yml",
];

/// Whether a path is of a pattern's shape. Linear but for the last star met, to which it goes back.
fn fits(pattern: &str, path: &str) -> bool {
    let (pattern, path) = (pattern.as_bytes(), path.as_bytes());
    // Nearly all rows are told from nearly all paths by their first letters.
    if let (Some(want), Some(have)) = (pattern.first(), path.first())
        && *want != b'*'
        && want != have
    {
        return false;
    }
    let (mut at, mut seen) = (0, 0);
    // Where to go on if what follows the last star does not fit: pattern, path, and whether it passes `/`. A star that
    // stops at `/` gives way to an earlier one that does not.
    let mut near: Option<(usize, usize)> = None;
    let mut far: Option<(usize, usize)> = None;
    loop {
        match (pattern.get(at..).unwrap_or_default(), path.get(seen)) {
            ([b'*', b'*', ..], _) => {
                at += 2;
                (far, near) = (Some((at, seen)), None);
                continue;
            }
            ([b'*', ..], _) => {
                at += 1;
                near = Some((at, seen));
                continue;
            }
            ([], None) => return true,
            ([want, ..], Some(have)) if want == have => {
                (at, seen) = (at + 1, seen + 1);
                continue;
            }
            _ => {}
        }
        if let Some((after, from)) = near.filter(|&(_, from)| path.get(from).is_some_and(|&byte| byte != b'/')) {
            near = Some((after, from + 1));
            (at, seen) = (after, from + 1);
        } else if let Some((after, from)) = far.filter(|&(_, from)| from < path.len()) {
            (far, near) = (Some((after, from + 1)), None);
            (at, seen) = (after, from + 1);
        } else {
            return false;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stars_stop_at_folders_and_double_stars_do_not() {
        assert!(fits("META-INF/spring/*.imports", "META-INF/spring/gauge.AutoStart.imports"));
        assert!(!fits("META-INF/spring/*.imports", "META-INF/spring/more/gauge.AutoStart.imports"));
        assert!(fits("META-INF/native-image/**jni-config.json", "META-INF/native-image/jni-config.json"));
        assert!(fits("META-INF/native-image/**jni-config.json", "META-INF/native-image/a/b/jni-config.json"));
        assert!(fits("**log4j*.xml", "gauge/log4j2.xml") && !fits("**log4j*.xml", "log4j/gauge.xml"));
        assert!(fits("**log4j*.xml", "log4j/log4j2.xml"));
        assert!(fits("*", "") && fits("**", "a/b") && !fits("*", "a/b") && !fits("", "a"));
    }

    #[test]
    fn the_first_row_that_fits_counts() {
        let kind = |path| of(path, 1).map(|format| (format.reading, format.kind));
        assert_eq!(kind("META-INF/services/gauge.Reader"), Some((Services, Service)));
        assert_eq!(kind("META-INF/services/gauge/reader/tide"), Some((Factories, Registration)));
        assert_eq!(kind("gauge/Reading.class"), None);
        assert_eq!(kind("META-INF/versions/9/gauge/Reading.class"), None);
        assert_eq!(kind("META-INF/maven/harbour/gauges/pom.properties"), None);
        assert_eq!(kind("META-INF/maven/plugin.xml"), Some((Xml, Registration)));
        assert_eq!(kind("gauge/texts_de.properties"), Some((Properties, Mention)));
        assert_eq!(kind("application.properties"), Some((Properties, Configuration)));
        assert!(of("gauge/picture.png", 1).is_some_and(|format| format.if_named));
        assert_eq!(kind("OSGI-INF/gauge.xml"), Some((Xml, Registration)));
        assert_eq!(kind("META-INF/gauge.index"), Some((Words, Mention)));
        assert!(of("META-INF/gauge.index", SMALL + 1).is_none());
    }

    #[test]
    fn long_paths_are_not_matched() {
        assert!(of(&format!("{}.xml", "log4j".repeat(300)), 1).is_none());
    }

    #[test]
    fn every_row_fits_something() {
        for format in &FORMATS {
            let path = format.path.replace("**", "a/b/").replace('*', "c");
            assert!(fits(format.path, &path), "{} does not fit {path}", format.path);
        }
    }
}

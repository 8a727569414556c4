//! One line of a class-load log. The function to read is [`load`].

use memchr::memmem;

/// What stands between a class and where it came from, in every decoration.
const SOURCE: &[u8] = b" source: ";

/// Where a class came from, as far as that tells its module.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin<'a> {
    /// `jrt:/java.sql`: a module of the run-time image.
    Module(&'a [u8]),
    /// `shared objects file`, perhaps of a second archive on top: no module is told.
    Shared,
    /// A file, or another class that made it.
    Elsewhere,
}

/// One class that was loaded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Load<'a> {
    /// Binary name.
    pub class: &'a [u8],
    /// Where it came from.
    pub origin: Origin<'a>,
}

/// Finds what lines say; made once for many of them.
pub struct Lines {
    source: memmem::Finder<'static>,
}

impl Default for Lines {
    fn default() -> Lines {
        Lines { source: memmem::Finder::new(SOURCE) }
    }
}

impl Lines {
    /// The load that a line tells of; `None` for any other line.
    ///
    /// Decorations of the JVM end in a bracket or there are none, and whoever collects logs puts words of its own before
    /// them; so the class is the last word before its origin, whatever stands ahead of it.
    pub fn load<'a>(&self, line: &'a [u8]) -> Option<Load<'a>> {
        let at = self.source.find(line)?;
        let (head, tail) = (line.get(..at)?, line.get(at + SOURCE.len()..)?.trim_ascii_end());
        let start = memchr::memrchr2(b' ', b'\t', head).map_or(0, |blank| blank + 1);
        let class = head.get(start..)?;
        if !is_name(class) || tail.is_empty() {
            return None;
        }
        let origin = if let Some(module) = tail.strip_prefix(b"jrt:/") {
            let end = module.iter().position(|byte| matches!(byte, b' ' | b'/')).unwrap_or(module.len());
            Origin::Module(module.get(..end).filter(|module| is_name(module))?)
        } else if tail.starts_with(b"shared objects file") {
            Origin::Shared
        } else {
            Origin::Elsewhere
        };
        Some(Load { class, origin })
    }
}

/// Whether bytes can be the name of a class or a module: what JVMS §4.2 forbids in one is not there. Hidden classes have
/// a slash or a plus before their number.
fn is_name(text: &[u8]) -> bool {
    !text.is_empty() && !text.iter().any(|byte| matches!(byte, b';' | b'[' | b']' | 0..=b' ' | 0x7f))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn load(line: &str) -> Option<(&str, Origin<'_>)> {
        let load = Lines::default().load(line.as_bytes())?;
        Some((std::str::from_utf8(load.class).unwrap(), load.origin))
    }

    #[test]
    fn decorations_of_any_kind_are_passed_over() {
        let expected = Some(("java.sql.Driver", Origin::Module(b"java.sql")));
        for head in [
            "",
            "[0.331s][info][class,load] ",
            "[0.331s][info ][class,load             ] ",
            "[2026-11-25T20:59:57.293+0000][0.017s][1795640397293ms][41407878977746ns][quay 7][24772][24774][class,load] ",
            "tides_1  | [0.331s][info][class,load] ",
            "2026-11-25T20:59:57.293Z stdout F ",
        ] {
            assert_eq!(load(&format!("{head}java.sql.Driver source: jrt:/java.sql")), expected, "{head}");
            assert_eq!(load(&format!("{head}java.sql.Driver source: jrt:/java.sql\r")), expected, "{head}");
        }
    }

    #[test]
    fn origins_are_told_apart() {
        for (tail, origin) in [
            ("shared objects file", Origin::Shared),
            ("shared objects file (top)", Origin::Shared),
            ("file:/opt/tides/", Origin::Elsewhere),
            ("__JVM_LookupDefineClass__", Origin::Elsewhere),
            ("tide.Gauge", Origin::Elsewhere),
        ] {
            assert_eq!(load(&format!("[1s] a.B$$Lambda/0x00000008000c4000 source: {tail}")).unwrap().1, origin);
        }
    }

    #[test]
    fn other_lines_are_no_loads() {
        for line in [
            "",
            " source: ",
            "java.lang.Object source: ",
            "java.lang.Object source: jrt:/",
            "[0.01s][debug][class,load]  klass: 0x00000007c0040fc0 super: 0x0 bytes: 1895 checksum: 5802c2c3",
            "[0.01s][info][gc] Pause Young",
            "[Loaded java.lang.Object from /opt/jdk/lib/rt.jar]",
        ] {
            assert_eq!(load(line), None, "{line}");
        }
    }
}

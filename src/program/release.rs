//! Which release to judge for, where the user does not say.

use crate::archive::{Archive, ArchiveId};
use crate::diag::{Code, Diagnostic, Findings};

use super::{ClassId, Program, View};

/// The oldest long-term release that is taken without being asked for.
const OLDEST_BY_DEFAULT: u16 = 17;

/// What the user or the JDK fixes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// `--jdk`: the release of that JDK.
    OfJdk(u16),
    /// `--release`.
    Named(u16),
    /// Nothing was said.
    Unsaid,
}

/// The release taken and the reason, as a clause for people.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// Feature release.
    pub release: u16,
    /// `the manifest of app.jar says it was built by 17`.
    pub reason: String,
}

/// Takes the release that the user fixed; else the one that built the program where a manifest says so
/// (`Build-Jdk-Spec`); else the oldest long-term release from 17 on that runs its class files.
///
/// A release that built the program but is not among `known` is rounded up to the next that is, and the reason says so.
pub fn choose(program: &Program, wanted: Wanted, known: &std::ops::RangeInclusive<u16>) -> Choice {
    match wanted {
        Wanted::OfJdk(release) => return Choice { release, reason: "it is the release of the given JDK".to_owned() },
        Wanted::Named(release) => return Choice { release, reason: "it was asked for".to_owned() },
        Wanted::Unsaid => {}
    }
    let needed = release_of_major(needed_major(program));
    let built_by =
        program.archives.iter().filter(|archive| archive.parent.is_none()).find_map(|archive| build_release(archive));
    if let Some((archive, release)) = built_by.filter(|&(_, built)| known.contains(&built) && built >= needed) {
        let reason = format!("the manifest of {} says that JDK {release} built it", archive.locator.last());
        return Choice { release, reason };
    }
    let release = long_term_releases().find(|&release| release >= needed.max(OLDEST_BY_DEFAULT)).unwrap_or(needed);
    let release = release.min(*known.end()).max(*known.start());
    let reason = if needed > OLDEST_BY_DEFAULT {
        format!("it is the oldest long-term release that runs its class files (they need {needed})")
    } else {
        "it is the oldest long-term release that is taken unasked, and runs all its class files".to_owned()
    };
    Choice { release, reason }
}

impl Program {
    /// Finds class files that the chosen release refuses, and those that need `--enable-preview` (JVMS §4.1).
    pub fn version_findings(
        &self,
        view: &View,
        release: u16,
        is_used: &dyn Fn(ClassId) -> bool,
        findings: &mut Findings,
    ) {
        if let (true, Some(archive)) = (view.classes.is_empty(), self.archives.first()) {
            findings.add(Code::NoClasses, || {
                let message = format!("nothing in the input is a class that release {release} would load");
                Diagnostic::new(Code::NoClasses, archive.locator.clone(), message)
            });
        }
        for (id, class) in view.classes.iter().filter_map(|&id| Some((id, self.class(id)?))) {
            let needs = release_of_major(class.major);
            if needs > release {
                let (code, then) = if is_used(id) {
                    (Code::ClassTooNew, "refuses it")
                } else {
                    (Code::NewerClass, "would refuse it, and nothing that is sure to run loads it")
                };
                findings.add(code, || {
                    let message =
                        format!("class file version {} needs release {needs}; release {release} {then}", class.major);
                    Diagnostic::new(code, self.locate(class), message)
                });
            } else if class.minor == PREVIEW && class.major >= FIRST_WITH_PREVIEW {
                findings.add(Code::PreviewClass, || {
                    let message = if needs == release {
                        format!("uses preview features of release {needs}: it runs with --enable-preview only")
                    } else {
                        format!("uses preview features of release {needs}, which release {release} refuses")
                    };
                    Diagnostic::new(Code::PreviewClass, self.locate(class), message)
                });
            }
        }
    }
}

/// `minor_version` of a class file that uses preview features (JVMS §4.1).
const PREVIEW: u16 = 65535;

/// The first class file version in which that minor version has this meaning (JVMS §4.1).
const FIRST_WITH_PREVIEW: u16 = 56;

/// JVMS table 4.1-A: version 45 to 48 belong to releases before 5; from 49 on it is the release plus 44.
fn release_of_major(major: u16) -> u16 {
    major.saturating_sub(44)
}

/// The class file version that the archives are made for: of each the one that half of its classes need, since libraries
/// bring classes for newer releases that they load only there; of these the newest.
fn needed_major(program: &Program) -> u16 {
    let mut majors: Vec<(ArchiveId, u16)> =
        program.classes.iter().filter(|class| class.version == 0).map(|class| (class.archive, class.major)).collect();
    majors.sort_unstable();
    let archives = majors.chunk_by(|(archive, _), (other, _)| archive == other);
    archives.filter_map(|of_one| Some(of_one.get(of_one.len() / 2)?.1)).max().unwrap_or(0)
}

fn build_release(archive: &Archive) -> Option<(&Archive, u16)> {
    let value = archive.manifest.as_ref()?.get("Build-Jdk-Spec")?;
    // Before release 9 the specification version was written `1.8`.
    let value = value.trim();
    let release = value.strip_prefix("1.").unwrap_or(value).parse().ok()?;
    Some((archive, release))
}

/// 17, 21, 25 and every fourth release after (common practice, no source: vendors' support plans).
fn long_term_releases() -> impl Iterator<Item = u16> {
    (17..).step_by(4)
}

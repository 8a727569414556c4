//! What each option of the launch implies for the list of modules. The first function to read is [`implied`].

use super::{Given, Launch};
use crate::needs::Inquiry;
use crate::needs::glob::{Sameness, matches};
use crate::platform::Catalogue;

/// Options that bear the absence of a module, yet tell that code of the program may want it. Who uses such a module names
/// it, so that a hint is for people (JDK documentation of networking, desktop and XML properties).
const HINTS: [(&str, &str); 20] = [
    ("-Djava.naming.*", "java.naming"),
    ("-Djdk.httpclient.*", "java.net.http"),
    ("-Dcom.sun.net.httpserver.*", "jdk.httpserver"),
    ("-Dsun.net.httpserver.*", "jdk.httpserver"),
    ("-Djavax.sql.rowset.*", "java.sql.rowset"),
    ("-Djava.util.prefs.*", "java.prefs"),
    ("-Djava.rmi.*", "java.rmi"),
    ("-Dsun.rmi.*", "java.rmi"),
    ("-Djavax.xml.*", "java.xml"),
    ("-Djava.xml.*", "java.xml"),
    ("-Djdk.xml.*", "java.xml"),
    ("-DentityExpansionLimit*", "java.xml"),
    ("-Dorg.w3c.dom.*", "java.xml"),
    ("-Djava.awt.*", "java.desktop"),
    ("-Dawt.*", "java.desktop"),
    ("-Dsun.java2d.*", "java.desktop"),
    ("-Dsun.awt.*", "java.desktop"),
    ("-Dswing.*", "java.desktop"),
    ("-splash:*", "java.desktop"),
    ("-Djava.security.auth.login.config*", "jdk.security.auth"),
];

/// What an option does to a list of modules.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Implies {
    /// The launch asks for the module.
    Needed,
    /// Its absence is borne; code of the program may want it all the same.
    Hint,
    /// No module is asked for.
    Nothing,
}

impl Implies {
    /// The word shown to people and in JSON.
    pub fn tag(self) -> &'static str {
        match self {
            Implies::Needed => "needed",
            Implies::Hint => "hint",
            Implies::Nothing => "nothing",
        }
    }
}

/// An option with what it implies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Implied {
    /// The option, and who gives it.
    pub given: Given,
    /// How strongly it asks for the modules.
    pub implies: Implies,
    /// The modules, of those that the release has.
    pub modules: Vec<Box<str>>,
    /// What happens without them, where the table says it.
    pub without: Option<&'static str>,
}

/// What every option of a launch implies, in the order given.
pub fn implied(launch: &Launch, catalogue: &Catalogue) -> Vec<Implied> {
    launch.given.iter().map(|given| of_option(given, catalogue)).collect()
}

fn of_option(given: &Given, catalogue: &Catalogue) -> Implied {
    let mut alone = Launch::default();
    alone.short(&given.option);
    let mut inquiry = Inquiry::new(catalogue.release);
    inquiry.launch(&alone);
    let answer = inquiry.finish();
    let (mut implies, mut modules, mut without) = (Implies::Nothing, Vec::<Box<str>>::new(), None);
    let mut add = |how: Implies, module: &str| {
        if catalogue.module(module).is_some() {
            implies = implies.min(how);
            if modules.iter().all(|known| **known != *module) {
                modules.push(module.into());
            }
        }
    };
    for asked in &answer.asked {
        add(Implies::Needed, &asked.need.module);
        without = without.or(Some(&*asked.need.without));
    }
    let main = alone.main_module.as_deref().and_then(|main| main.split('/').next());
    alone.modules.iter().map(|module| &**module).chain(main).for_each(|module| add(Implies::Needed, module));
    alone.hints.iter().for_each(|module| add(Implies::Hint, module));
    let option = given.option.as_bytes();
    for (pattern, module) in HINTS {
        if modules_of(pattern, option) {
            add(Implies::Hint, module);
        }
    }
    Implied { given: given.clone(), implies, modules, without }
}

fn modules_of(pattern: &str, option: &[u8]) -> bool {
    matches(pattern.as_bytes(), option, Sameness::Exact)
}

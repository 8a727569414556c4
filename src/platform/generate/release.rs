//! Puts the catalogue of one release together.
//!
//! The first function to read is [`contents`].

use std::collections::{BTreeMap, BTreeSet};

use super::ct_sym::{Release, Symbols};
use super::evidence::{ENTERPRISE, INCUBATOR, MODULES, PROVIDERS};
use super::full::Full;
use crate::platform::Module;
use crate::platform::built_in::encode::Contents;

/// The catalogue of `release`: a JDK's own where it is at hand, else the symbol file's with the rest from the nearer
/// JDK (the older one where both are as near).
pub(super) fn contents(release: u16, older: &Full, newer: &Full, symbols: &Symbols) -> Result<Contents, String> {
    if let Some(full) = [older, newer].into_iter().find(|full| full.release() == release) {
        return Ok(own(full));
    }
    let symbols = symbols.releases.get(&release).ok_or_else(|| format!("the symbol file lacks release {release}"))?;
    let near_older = release.abs_diff(older.release()) <= release.abs_diff(newer.release());
    let (near, far) = if near_older { (older, newer) } else { (newer, older) };
    let mut modules: BTreeMap<Box<str>, Module> = BTreeMap::new();
    for module in symbols.modules.values() {
        modules.insert(module.name.clone(), with_neighbour(module, symbols, near, far));
    }
    add_hidden(release, &mut modules, near, far);
    settle_packages(&mut modules, symbols, near.release());
    check_requires(release, &modules)?;
    let complete = modules
        .values()
        .filter(|module| module.from_release.is_none())
        .flat_map(|module| module.exports.iter().filter(|exports| exports.to.is_empty()))
        .map(|exports| exports.package.clone())
        .collect();
    Ok(Contents {
        release,
        made_from: vec![made_from(older), made_from(newer)],
        modules: modules.into_values().collect(),
        types: symbols.types.iter().map(|(name, symbol)| (name.clone(), Some((*symbol.facts).clone()))).collect(),
        complete,
    })
}

fn own(full: &Full) -> Contents {
    let modules = full.catalogue.modules.clone();
    Contents {
        release: full.release(),
        made_from: vec![made_from(full)],
        complete: modules.iter().flat_map(|module| module.packages.iter().cloned()).collect(),
        modules,
        types: full.types.iter().map(|(name, facts)| (name.clone(), Some(facts.clone()))).collect(),
    }
}

fn made_from(full: &Full) -> (u16, String) {
    (full.release(), full.version.clone())
}

/// A module of the symbol file with internal packages and sizes of a JDK at hand, the nearer one where it has it.
fn with_neighbour(module: &Module, symbols: &Release, near: &Full, far: &Full) -> Module {
    let mut module = module.clone();
    let mut packages: BTreeSet<Box<str>> = module.exports.iter().map(|exports| exports.package.clone()).collect();
    let providers = module.provides.iter().flat_map(|provides| &provides.with);
    packages.extend(providers.filter_map(|class| Some(class.rsplit_once('/')?.0.into())));
    let types = symbols.types.iter().filter(|(_, symbol)| symbol.module == module.name);
    packages.extend(types.filter_map(|(class, _)| Some(class.rsplit_once('/')?.0.into())));
    if let Some((full, neighbour)) = neighbour(&module.name, near, far) {
        let public: BTreeSet<&str> =
            neighbour.exports.iter().filter(|exports| exports.to.is_empty()).map(|exports| &*exports.package).collect();
        packages.extend(neighbour.packages.iter().filter(|package| !public.contains(&***package)).cloned());
        module.internals_from = Some(full.release());
        module.sections = neighbour.sections;
        module.sections_from = neighbour.sections.is_some().then_some(full.release());
        // Some releases' descriptors name a few qualified exports; which ones says more of the recording than of
        // the release.
        module.exports.retain(|exports| exports.to.is_empty());
        module.opens.clear();
    }
    module.not_by_default |= module.name.starts_with(INCUBATOR) || ENTERPRISE.contains(&&*module.name);
    module.packages = packages.into_iter().collect();
    module
}

fn neighbour<'a>(name: &str, near: &'a Full, far: &'a Full) -> Option<(&'a Full, &'a Module)> {
    [near, far].into_iter().find_map(|full| Some((full, full.module(name)?)))
}

/// Adds the modules that the symbol file does not know but that existed.
fn add_hidden(release: u16, modules: &mut BTreeMap<Box<str>, Module>, near: &Full, far: &Full) {
    let names: BTreeSet<&str> = [near, far].iter().flat_map(|full| &full.catalogue.modules).map(|m| &*m.name).collect();
    loop {
        let required: BTreeSet<Box<str>> = modules
            .values()
            .flat_map(|module| &module.requires)
            .filter(|requires| !requires.static_phase)
            .map(|requires| requires.module.clone())
            .collect();
        let found: Vec<Module> = names
            .iter()
            .filter(|name| !modules.contains_key(**name))
            .filter(|name| required.contains(**name) || existed(release, name, modules, near, far))
            .filter_map(|name| {
                let (full, module) = neighbour(name, near, far)?;
                let from = Some(full.release());
                Some(Module { from_release: from, sections_from: module.sections.and(from), ..module.clone() })
            })
            .collect();
        if found.is_empty() {
            return;
        }
        modules.extend(found.into_iter().map(|module| (module.name.clone(), module)));
    }
}

fn existed(release: u16, name: &str, modules: &BTreeMap<Box<str>, Module>, near: &Full, far: &Full) -> bool {
    if let Some((_, releases)) = MODULES.iter().find(|(module, _)| *module == name) {
        return releases.contains(&release);
    }
    if let Some((_, service)) = PROVIDERS.iter().find(|(module, _)| *module == name) {
        return modules.values().any(|module| module.uses.iter().any(|uses| **uses == **service));
    }
    let between = near.release().min(far.release())..=near.release().max(far.release());
    between.contains(&release) && near.module(name).is_some() && far.module(name).is_some()
}

/// A module's name and the strength of its claim to a package.
type Owner = (Box<str>, (bool, bool));

/// Leaves each package to one module: what this release's own API says, then what a module says that no longer (or
/// not yet) exists in the nearer JDK, since that JDK may have the package elsewhere.
fn settle_packages(modules: &mut BTreeMap<Box<str>, Module>, symbols: &Release, near: u16) {
    let with_types: BTreeSet<(&str, &str)> =
        symbols.types.iter().filter_map(|(class, symbol)| Some((&*symbol.module, class.rsplit_once('/')?.0))).collect();
    let rank = |module: &Module, package: &str| {
        let elsewhere = module.from_release.or(module.internals_from).is_some_and(|from| from != near);
        (with_types.contains(&(&*module.name, package)), elsewhere)
    };
    let mut owner: BTreeMap<Box<str>, Owner> = BTreeMap::new();
    for module in modules.values() {
        for package in &module.packages {
            match owner.get(package) {
                Some((_, held)) if *held >= rank(module, package) => {}
                _ => {
                    owner.insert(package.clone(), (module.name.clone(), rank(module, package)));
                }
            }
        }
    }
    for module in modules.values_mut() {
        let name = module.name.clone();
        module.packages.retain(|package| owner.get(package).is_some_and(|(owner, _)| *owner == name));
    }
}

/// A catalogue whose modules require what is not there would be wrong about the set.
fn check_requires(release: u16, modules: &BTreeMap<Box<str>, Module>) -> Result<(), String> {
    for module in modules.values() {
        for requires in module.requires.iter().filter(|requires| !requires.static_phase) {
            if !modules.contains_key(&requires.module) {
                return Err(format!(
                    "release {release}: {} requires {}, which is unknown",
                    module.name, requires.module
                ));
            }
        }
    }
    Ok(())
}

//! Real programs: the services of testdata, one that Maven builds, and a class path of libraries from Maven Central.

use std::path::{Path, PathBuf};

use secateur::archive;
use secateur::limits::Limits;
use secateur::report::responsibility::Responsibility;

use super::libraries::libraries;
use super::rewrite::without;
use super::service::built_by_maven;
use super::{Program, holds, jdk};

/// Every archive of a program, by locator.
fn archives(program: &Program) -> Vec<String> {
    let opened = archive::open(&program.inputs, &Limits::default()).unwrap();
    opened.list.iter().map(|archive| archive.locator.to_string()).collect()
}

/// Removes those archives one by one.
fn removing_each(program: &Program, told: &Responsibility, archives: &[String]) {
    let whole = program.scanned();
    for archive in archives {
        let folder = tempfile::tempdir().unwrap();
        let inputs = without(&program.inputs, archive, folder.path());
        holds(told, &whole, archive, &Program { inputs, ..program.clone() }.scanned());
    }
}

#[test]
fn removing_any_archive_of_the_services_changes_what_the_table_says() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/harbour");
    for (name, rows) in [("harbour.jar", 3), ("harbour-shaded.jar", 1), ("harbour.war", 2), ("harbour.ear", 3)] {
        let program = Program::of(vec![folder.join(name)]);
        let told = program.told();
        assert_eq!(told.archives.len(), rows, "{name}");
        removing_each(&program, &told, &archives(&program));
    }
}

#[test]
fn removing_any_archive_of_a_service_built_by_maven_changes_what_the_table_says() {
    let program = Program::of(vec![built_by_maven("boot", &jdk::jdk(17))]);
    let all = archives(&program);
    assert!(all.len() > 20, "{all:?}");
    // Those that the table has, and some of the others.
    let told = program.told();
    let has_row = |archive: &String| told.archives.iter().any(|row| row.archive == *archive);
    let (with, others): (Vec<String>, Vec<String>) = all.into_iter().partition(has_row);
    assert!(with.len() > 2, "{with:?}");
    let some: Vec<String> = with.into_iter().chain(others.into_iter().step_by(8)).collect();
    removing_each(&program, &told, &some);
}

/// On a class path there is no order from the outside in. The program starts in one jar, whose removal is another case.
#[test]
fn removing_any_library_changes_what_the_table_says() {
    let parts = ["asm-", "h2-", "log4j-", "spring-", "micrometer-", "commons-", "xercesImpl", "xml-apis", "groovy"];
    let name = |path: &PathBuf| path.file_name().unwrap().to_str().unwrap().to_owned();
    let inputs: Vec<PathBuf> =
        libraries().into_iter().filter(|path| parts.iter().any(|part| name(path).starts_with(part))).collect();
    let program = Program { entries: vec!["org.h2.tools.Server".to_owned()], ..Program::of(inputs) };
    let others: Vec<String> = archives(&program).into_iter().filter(|archive| !archive.contains("/h2-")).collect();
    assert!(others.len() > 10, "{others:?}");
    let told = program.told();
    assert!(told.archives.len() > 2, "{told:?}");
    removing_each(&program, &told, &others);
}

/// The same table, whatever the threads.
#[test]
fn the_table_is_the_same_on_any_number_of_threads() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/harbour");
    let program =
        Program::of(["harbour.jar", "harbour.war", "harbour-shaded.jar"].map(|name| folder.join(name)).to_vec());
    let on = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| format!("{:?}", program.told()))
    };
    let one = on(1);
    assert!(one.contains("java.desktop"), "{one}");
    assert!([2, 8].map(on).iter().all(|other| *other == one));
}

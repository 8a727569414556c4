//! The table of calls against the platform: each row is a method of the release, and the name is where the row says.

use std::collections::BTreeSet;

use secateur::classfile::descriptor;
use secateur::flow::sinks::{self, Argument, Form, SINKS, Sink};

use crate::judge::judge;

/// The type of a value of that form.
fn expected(form: Form) -> &'static str {
    match form {
        Form::Class => "Ljava/lang/Class;",
        Form::Object => "Ljava/lang/Object;",
        Form::Classes => "[Ljava/lang/Class;",
        _ => "Ljava/lang/String;",
    }
}

/// Java SE API, by reflection in the JVM of that release.
fn check(release: u16) {
    let lines: BTreeSet<String> = SINKS.iter().map(|sink| format!("{} {}\n", sink.owner, sink.name)).collect();
    let printed = judge(release, "flow/Methods.java", &[], &lines.into_iter().collect::<String>());
    let methods: Vec<Vec<&str>> = printed.lines().map(|line| line.split(' ').collect()).collect();
    for sink in &SINKS {
        let fits = |method: &&Vec<&str>| {
            method[0] == sink.owner && method[1] == sink.name && method[2].starts_with(sink.descriptor)
        };
        let found: Vec<_> = methods.iter().filter(fits).collect();
        assert!(!found.is_empty(), "{release} has nothing like {sink:?}");
        for method in found {
            assert!(row_is_right(sink, method), "{sink:?} is {method:?}");
            // The table finds it by the name that a class file has, and so it does by a subclass where that is allowed.
            let row = |owner: &str| sinks::of(owner.as_bytes(), method[1].as_bytes(), method[2].as_bytes());
            assert!(row(sink.owner).is_some_and(|row| row.name == sink.name), "{method:?}");
            assert_eq!(row("tide/Own").is_some(), sinks_of_subclass(sink.name, method[2]), "{method:?}");
        }
    }
}

fn sinks_of_subclass(name: &str, text: &str) -> bool {
    SINKS.iter().any(|sink| sink.inherited && sink.name == name && text.starts_with(sink.descriptor))
}

fn row_is_right(sink: &Sink, method: &[&str]) -> bool {
    let parameters: Vec<&[u8]> = descriptor::parameters(method[2].as_bytes()).collect();
    let named = match sink.argument {
        Argument::At(number) => parameters.get(number).is_some_and(|type_| *type_ == expected(sink.form).as_bytes()),
        Argument::Receiver => method[4] == "instance" && sink.form == Form::Class,
        Argument::Nowhere => sink.form == Form::None,
    };
    named && (!sink.inherited || method[3] == "open")
}

#[test]
fn rows_are_methods_of_the_platform() {
    check(17);
    check(25);
}

/// No row is hidden by another.
#[test]
fn every_row_is_found() {
    for sink in &SINKS {
        let text = if sink.descriptor.is_empty() { "()" } else { sink.descriptor };
        assert_eq!(sinks::of(sink.owner.as_bytes(), sink.name.as_bytes(), text.as_bytes()), Some(sink));
    }
}

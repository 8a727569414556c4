//! Launch options in the forms of the JDK Tool Specifications ("The java Command").

use std::io;

use super::*;

fn parsed(text: &str) -> Launch {
    Launch::parse_with(text, "--launch", |_| Err(io::Error::from(io::ErrorKind::NotFound))).unwrap()
}

fn strings(words: &[Box<str>]) -> Vec<&str> {
    words.iter().map(|word| &**word).collect()
}

#[test]
fn options_end_where_the_program_begins() {
    let launch = parsed("/opt/jdk/bin/java -Xmx1g -Dtide.gauge=north -Dquiet -cp lib/a.jar:b gauge.Main -Dnot=ours");
    assert_eq!(strings(&launch.options), ["-Xmx1g"]);
    assert_eq!(launch.properties, [("tide.gauge".into(), "north".into()), ("quiet".into(), "".into())]);
    assert_eq!(launch.class_path.as_deref(), Some("lib/a.jar:b"));
    let launch = parsed("-javaagent:watch.jar=level=2 -jar gauge.jar --add-modules java.sql");
    assert_eq!(strings(&launch.agents), ["watch.jar"]);
    assert_eq!(launch.archive.as_deref(), Some("gauge.jar"));
    assert!(launch.modules.is_empty());
    let launch = parsed("--module=gauge/gauge.Main -Dnot=ours");
    assert_eq!((launch.main_module.as_deref(), launch.properties.len()), (Some("gauge/gauge.Main"), 0));
}

#[test]
fn modules_keywords_and_hints_are_told_apart() {
    let launch = parsed(
        "--add-modules java.sql,ALL-SYSTEM --add-modules=jdk.net --add-opens java.base/java.lang=ALL-UNNAMED \
         --add-reads=gauge=java.xml --limit-modules java.base",
    );
    assert_eq!(strings(&launch.modules), ["java.sql", "jdk.net", "java.base"]);
    assert_eq!(strings(&launch.keywords), ["ALL-SYSTEM"]);
    assert_eq!(strings(&launch.hints), ["java.base", "gauge"]);
    assert!(launch.options.contains(&"--add-modules=java.sql,ALL-SYSTEM".into()));
}

#[test]
fn quotation_marks_join_words() {
    let launch = parsed(r#"-Dname="North Quay" '-Dother=a "b"' -Dplain=c:\d"#);
    let values: Vec<&str> = launch.properties.iter().map(|(_, value)| &**value).collect();
    assert_eq!(values, ["North Quay", "a \"b\"", r"c:\d"]);
    let open = Launch::parse("-Dname='North").unwrap_err();
    assert!(open.to_string().contains("not closed"), "{open}");
}

#[test]
fn files_of_options_are_read_once_and_not_within_each_other() {
    let read = |path: &Path| {
        assert_eq!(path, Path::new("quay.options"));
        Ok("# where it stands\n-Dplace=\"North \\\n    Quay\"\n--add-modules\njava.sql @inner -Dx='a\\tb'\n".to_owned())
    };
    let launch = Launch::parse_with("@quay.options -Dlate", "--launch", read).unwrap();
    // `@inner` is the main class then, as the launcher has it.
    assert_eq!(launch.properties, [("place".into(), "North Quay".into())]);
    assert_eq!(strings(&launch.modules), ["java.sql"]);
    let launch = Launch::parse_with("--disable-@files -Da @quay.options", "--launch", read).unwrap();
    assert_eq!(launch.properties.len(), 1);
    // A word of the program's.
    let launch = parsed("-jar gauge.jar @quay.options");
    assert_eq!(launch.archive.as_deref(), Some("gauge.jar"));
}

#[test]
fn what_cannot_be_taken_is_named() {
    let missing = Launch::parse("@/nowhere/quay.options").unwrap_err();
    assert!(missing.to_string().contains("/nowhere/quay.options"), "{missing}");
    let lacking = Launch::parse("-Xmx1g --add-modules").unwrap_err();
    assert!(lacking.to_string().contains("--add-modules lacks its value"), "{lacking}");
}

/// JEP 261 and JEP 11: modules that export to everybody are root modules of a class path, incubators are not.
#[test]
fn what_resolution_starts_from_depends_on_the_launch() {
    let catalogue = Catalogue::built_in(17).unwrap();
    let wanted = ["java.sql", "jdk.incubator.vector", "jdk.management.agent", "jdk.crypto.ec"];
    let starts = |options: &str, on_module_path: bool| -> Vec<&str> {
        let launch = parsed(options);
        let is = |name: &&str| starts_from(&catalogue, catalogue.module(name).unwrap(), &launch, on_module_path);
        wanted.into_iter().filter(is).collect()
    };
    assert_eq!(starts("", false), ["java.sql"]);
    assert_eq!(starts("", true), Vec::<&str>::new());
    assert_eq!(starts("--add-modules jdk.incubator.vector", true), ["jdk.incubator.vector"]);
    assert_eq!(starts("-Dcom.sun.management.jmxremote", false), ["java.sql", "jdk.management.agent"]);
    assert_eq!(starts("-XX:+ManagementServer", false), ["java.sql"]);
}

fn from_file(text: &str) -> Result<Launch, String> {
    let none = |_: &Path| Err(io::Error::from(io::ErrorKind::NotFound));
    from::of_file(Path::new("tide.env"), text, none).map_err(|error| error.to_string())
}

fn given(launch: &Launch) -> Vec<(&str, &str)> {
    launch.given.iter().map(|given| (&*given.option, &*given.from)).collect()
}

#[test]
fn environment_files_say_who_gives_what() {
    let launch = from_file(
        "# tides\nPORT=80\nHEAP=1g\nexport JAVA_OPTS=\"-Xmx${HEAP} -Dname='North Quay' $GONE\"\n\
         JAVA_TOOL_OPTIONS='--add-modules java.sql -Dx=$HEAP' \nLANG=fr_FR.UTF-8\nTIDE_OPTIONS=-Dno\n",
    )
    .unwrap();
    let of = |name: &str| format!("{name} in tide.env");
    let (tool, opts, lang) = (of("JAVA_TOOL_OPTIONS"), of("JAVA_OPTS"), of("LANG"));
    let expected = [
        ("-Xmx1g", &*opts),
        ("-Dname=North Quay", &opts),
        ("--add-modules=java.sql", &tool),
        ("-Dx=$HEAP", &tool),
        ("-Duser.language=fr", &lang),
    ];
    assert_eq!(given(&launch), expected);
    assert_eq!(strings(&launch.modules), ["java.sql"]);
    assert_eq!(launch.unclear.len(), 1);
    assert!(launch.unclear[0].line == 4 && launch.unclear[0].message.contains("GONE"), "{:?}", launch.unclear);
    for (text, word) in [
        ("A=1\nhello there\n", "line 2"),
        ("JAVA_OPTS=\"-Da\n", "line 1: a quotation mark"),
        ("JAVA_OPTS=-Da='b\n", "JAVA_OPTS: a quotation mark"),
        ("FROM x\nENV A\n", "line 2"),
    ] {
        let error = from_file(text).unwrap_err();
        assert!(error.contains("tide.env") && error.contains(word), "{error}");
    }
}

#[test]
fn container_build_files_say_who_gives_what() {
    let launch = from_file(
        "FROM base\nENV JAVA_TOOL_OPTIONS=-XX:StartFlightRecording\n\
         ENTRYPOINT [\"java\", \"-agentlib:jdwp=transport=dt_socket\", \"-jar\", \"/opt/tide.jar\", \"-Dnot=ours\"]\n",
    )
    .unwrap();
    let expected = [
        ("-XX:StartFlightRecording", "JAVA_TOOL_OPTIONS in tide.env"),
        ("-agentlib:jdwp=transport=dt_socket", "its command in tide.env"),
    ];
    assert_eq!(given(&launch), expected);
    assert_eq!(launch.archive.as_deref(), Some("/opt/tide.jar"));
    let script = from_file("FROM base\nENTRYPOINT [\"/start.sh\"]\n").unwrap();
    assert!(script.unclear[0].message.contains("/start.sh"), "{:?}", script.unclear);
}

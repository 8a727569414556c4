//! Cases of the table: what must fire, and what comes near and must not. The JVM's word on each row is in the
//! micro-cases; here it is checked that the matcher does what the row says.

mod list;

use std::collections::{BTreeMap, BTreeSet};

use super::*;
use crate::archive::{ArchiveId, Manifest};
use crate::limits::Limits;

/// A method: its class, and its facts as the cases write them.
type Method = (u32, Vec<String>);

/// Facts made by hand; what is called `Sub…` is a subtype of what follows.
#[derive(Default)]
struct Made(Vec<Method>);

impl Facts for Made {
    fn methods(&self) -> impl Iterator<Item = u32> {
        0..self.0.len() as u32
    }

    fn is_file(&self, method: u32) -> bool {
        self.0[method as usize].1.iter().any(|fact| fact.starts_with("word "))
    }

    fn is_own(&self, method: u32) -> bool {
        self.0[method as usize].1.iter().any(|fact| fact == "own part")
    }

    fn class_of(&self, method: u32) -> u32 {
        self.0[method as usize].0
    }

    fn visit(&self, method: u32, see: &mut dyn FnMut(Fact<'_>)) {
        for fact in &self.0[method as usize].1 {
            match fact.split_once(' ').unwrap() {
                ("call", call) => {
                    let (owner, rest) = call.split_once('.').unwrap();
                    let (name, descriptor) = rest.find('(').map_or((rest, "()V"), |at| rest.split_at(at));
                    let (owner, name, descriptor) = (owner.as_bytes(), name.as_bytes(), descriptor.as_bytes());
                    // What the filters refuse never gets here from class files.
                    if wants_call(owner, name, descriptor) {
                        see(Fact::Call { owner, name, descriptor });
                    }
                }
                (read @ ("read" | "pass"), field) => {
                    let (owner, name) = field.split_once('.').unwrap();
                    let (owner, name) = (owner.as_bytes(), name.as_bytes());
                    if wants_field(owner, name) {
                        see(Fact::Field { owner, name, passed: read == "pass" });
                    }
                }
                ("own", "part") => {}
                ("word", text) => {
                    if wants_text_of_file(text.as_bytes()) {
                        see(Fact::Text(text.as_bytes()));
                    }
                }
                ("text", text) => {
                    if wants_text(text.as_bytes()) {
                        see(Fact::Text(text.as_bytes()));
                    }
                }
                other => panic!("{other:?}"),
            }
        }
    }

    fn is_subtype(&self, class: &[u8], of: &[u8]) -> bool {
        class == of || class.strip_prefix(b"gauge/Sub_").is_some_and(|rest| of.ends_with(rest))
    }
}

/// Facts are separated by ` ; `, methods by ` | `, classes by ` || `. What is no fact of a method stands alone:
/// `launch …`, `header …`, `file PATH: TEXT`.
fn ask(release: u16, text: &str) -> Answer {
    let mut inquiry = Inquiry::new(release);
    if let Some(options) = text.strip_prefix("launch ") {
        inquiry.launch(&Launch::parse(options).unwrap());
    } else if let Some(header) = text.strip_prefix("header ") {
        let (manifest, _) = Manifest::parse(format!("{header}: gauge.Agent\n").as_bytes(), &Limits::default());
        inquiry.manifest(ArchiveId(0), &manifest);
    } else if let Some(file) = text.strip_prefix("file ") {
        let (path, text) = file.split_once(": ").unwrap();
        if wants_resource(path) {
            inquiry.resource(ArchiveId(0), path, text.as_bytes());
        }
    } else {
        let classes = text.split(" || ").zip(0..);
        let methods = classes.flat_map(|(class, number)| class.split(" | ").map(move |method| (number, method)));
        let facts = methods.map(|(class, method)| (class, method.split(" ; ").map(str::to_owned).collect()));
        inquiry.methods(&Made(facts.collect()));
    }
    inquiry.finish()
}

#[test]
fn each_row_fires_for_what_asks_and_not_for_what_comes_near() {
    let mut wrong = Vec::new();
    let mut seen: BTreeMap<&str, BTreeSet<bool>> = BTreeMap::new();
    for &(id, release, expected, text) in list::CASES {
        assert!(table().iter().any(|need| *need.id == *id), "{id}");
        seen.entry(id).or_default().insert(expected.is_some());
        let answer = ask(release, text);
        let sure = answer.asked.iter().find(|asked| *asked.need.id == *id).map(|asked| asked.sure);
        if sure != expected {
            wrong.push(format!("{id} on {release}: {sure:?}, not {expected:?}: {text}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let lacking: Vec<_> = table().iter().filter(|need| seen.get(&*need.id).is_none_or(|seen| seen.len() < 2)).collect();
    assert!(lacking.is_empty(), "no case either way: {:?}", lacking.iter().map(|need| &need.id).collect::<Vec<_>>());
}

#[test]
fn nothing_fires_for_a_plain_program() {
    for text in list::PLAIN {
        for release in [9, 11, 17, 21, 25] {
            let answer = ask(release, text);
            assert!(answer.asked.is_empty(), "{text}: {:?}", answer.asked);
        }
    }
}

#[test]
fn phrases_say_what_matched_and_how_far_apart() {
    for (text, phrase) in list::PHRASES {
        let answer = ask(17, text);
        let phrases: Vec<&str> = answer.asked.iter().map(|asked| &*asked.phrase).collect();
        assert!(phrases.contains(phrase), "{text}: {phrases:?}");
    }
}

/// One place once, the sure ones first, a bounded number, the rest counted; and the same again in any run.
#[test]
fn places_are_told_once_in_order_and_counted() {
    let likely = "text IBM037 | call java/nio/charset/Charset.forName";
    let certain = "call java/nio/charset/Charset.forName ; text IBM037 ; text Cp1047";
    let text = [vec![likely; 30], vec![certain; 40]].concat().join(" || ");
    let answer = ask(17, &text);
    let told: Vec<(Sure, &Where)> = answer.asked.iter().map(|asked| (asked.sure, &asked.place)).collect();
    assert_eq!(told.len(), 50);
    assert!(told[..40].iter().all(|(sure, _)| *sure == Sure::Certain) && told[40].0 == Sure::Likely);
    assert!(told[..40].is_sorted() && told[40..].is_sorted());
    assert_eq!(answer.more.iter().map(|(need, count)| (&*need.id, *count)).collect::<Vec<_>>(), [("charsets", 20)]);
}

/// The filters let nothing through that no rule can use, and all that one can.
#[test]
fn filters_refuse_what_the_table_does_not_name() {
    assert!(wants_call(b"java/security/KeyFactory", b"getInstance", b"(Ljava/lang/String;)V"));
    assert!(wants_call(b"gauge/Station", b"getInstance", b"()V") && !wants_call(b"gauge/Station", b"<init>", b"()V"));
    assert!(
        !wants_call(b"java/util/List", b"getInstance", b"()V") && !wants_call(b"java/lang/String", b"<init>", b"([C)V")
    );
    assert!(wants_call(b"java/lang/String", b"getBytes", b"(Ljava/lang/String;)[B"));
    assert!(!wants_call(b"java/lang/String", b"getBytes", b"()[B"));
    assert!(wants_field(b"java/util/Locale", b"GERMANY") && !wants_field(b"java/util/Locale", b"ROOT"));
    assert!(!wants_field(b"gauge/Locale", b"GERMANY"));
    for text in ["IBM037", "https://quay.example", "com/sun/jndi/dns/DnsContextFactory", "ldap", "de"] {
        assert!(wants_text(text.as_bytes()), "{text}");
    }
    for text in ["", "high water", "java.lang.String", "UTF-8", "XX", "java.util.logging.manager.x", "gauge.Station"] {
        assert!(!wants_text(text.as_bytes()), "{text}");
    }
}

/// A million methods of which one in a hundred has facts: one pass, no memory for the rest.
#[test]
fn many_methods_take_little_time() {
    struct Many;
    impl Facts for Many {
        fn methods(&self) -> impl Iterator<Item = u32> {
            0..1_000_000
        }
        fn class_of(&self, method: u32) -> u32 {
            method / 10
        }
        fn visit(&self, method: u32, see: &mut dyn FnMut(Fact<'_>)) {
            if method.is_multiple_of(100) {
                see(Fact::Call { owner: b"gauge/Station", name: b"getInstance", descriptor: b"()V" });
                see(Fact::Text(b"https"));
            }
        }
        fn is_subtype(&self, _: &[u8], _: &[u8]) -> bool {
            false
        }
    }
    let start = std::time::Instant::now();
    let mut inquiry = Inquiry::new(17);
    inquiry.methods(&Many);
    assert!(inquiry.finish().asked.is_empty());
    assert!(start.elapsed().as_secs() < 5, "{:?}", start.elapsed());
}

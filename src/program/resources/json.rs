//! JSON: reflection metadata of native images, and other files.
//!
//! The first function to read is [`read`].

use serde_json::Value;

use super::ResourceKind;
use super::sink::Sink;

/// Members of metadata below which classes are named that nobody looks up by that: what a method takes, and what must
/// be reached first.
const ASIDE: [&str; 6] = ["condition", "parameterTypes", "pattern", "glob", "locales", "resources"];

/// Takes the texts that are names of classes.
///
/// In reflection metadata (`GraalVM` reference manual, "Reachability Metadata": `reflect-config.json` and its siblings, or
/// all in `reachability-metadata.json`) they stand under `name`, `type`, `interfaces`, `proxy` and others, at any depth;
/// an entry may have a `condition`, the class that must be reached (`typeReached`, `typeReachable`) before it counts. In
/// other files every text counts.
pub(super) fn read(sink: &mut Sink<'_>, text: &str) -> Result<(), String> {
    // The reader refuses more than 128 levels.
    let value: Value = serde_json::from_str(text).map_err(|error| error.to_string())?;
    let metadata = sink.kind == ResourceKind::Metadata;
    let mut stack: Vec<(&Value, Option<Box<str>>)> = vec![(&value, None)];
    while let Some((value, of)) = stack.pop() {
        match value {
            // Without a package only in metadata: elsewhere any word would do.
            Value::String(word) if metadata => {
                sink.name(word, of.as_deref());
            }
            Value::String(word) => sink.list(word, of.as_deref()),
            // Backwards, so that they are taken in their order.
            Value::Array(values) => stack.extend(values.iter().rev().map(|value| (value, of.clone()))),
            Value::Object(members) if metadata => {
                let of = members.get("condition").and_then(|condition| condition_of(sink, condition)).or(of);
                let members = members.iter().rev().filter(|(key, _)| !ASIDE.contains(&key.as_str()));
                stack.extend(members.map(|(_, value)| (value, of.clone())));
            }
            Value::Object(members) => {
                stack.extend(members.iter().rev().map(|(key, value)| (value, Some(key.as_str().into()))));
            }
            Value::Null | Value::Bool(_) | Value::Number(_) => {}
        }
    }
    Ok(())
}

fn condition_of(sink: &Sink<'_>, condition: &Value) -> Option<Box<str>> {
    let class = condition.get("typeReached").or_else(|| condition.get("typeReachable"))?.as_str()?;
    Some(sink.class(class).unwrap_or_else(|| class.replace('.', "/").into()))
}

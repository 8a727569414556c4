//! A method or field as people read it: `add(Reading, int[])` for `add(Lharbour/gauge/Reading;[I)V`.
//!
//! Knows descriptors (JVMS §4.3) and nothing of reports. The first function to read is [`readable`].

/// Simple names of the parameters instead of a method's descriptor, nothing instead of a field's. What has none, or
/// one that is not well formed, stays as it is.
pub fn readable(member: &str) -> String {
    if let Some((name, parameters)) = method(member) {
        return format!("{name}({})", parameters.join(", "));
    }
    match member.split_once(':') {
        Some((name, descriptor)) if field_type(descriptor).is_some_and(|(_, rest)| rest.is_empty()) => name.to_owned(),
        _ => member.to_owned(),
    }
}

fn method(member: &str) -> Option<(&str, Vec<String>)> {
    let (name, descriptor) = member.split_once('(')?;
    let (mut rest, result) = descriptor.split_once(')')?;
    if result != "V" && !field_type(result)?.1.is_empty() {
        return None;
    }
    let mut parameters = Vec::new();
    while !rest.is_empty() {
        let (parameter, after) = field_type(rest)?;
        parameters.push(parameter);
        rest = after;
    }
    Some((name, parameters))
}

/// The type at the start of a descriptor, by its simple name, and what follows it.
fn field_type(descriptor: &str) -> Option<(String, &str)> {
    let element = descriptor.trim_start_matches('[');
    let dimensions = descriptor.len() - element.len();
    let (name, rest) = match element.split_at_checked(1)? {
        ("L", class) => {
            let (class, rest) = class.split_once(';')?;
            (class.rsplit('/').next().unwrap_or(class), rest)
        }
        ("B", rest) => ("byte", rest),
        ("C", rest) => ("char", rest),
        ("D", rest) => ("double", rest),
        ("F", rest) => ("float", rest),
        ("I", rest) => ("int", rest),
        ("J", rest) => ("long", rest),
        ("S", rest) => ("short", rest),
        ("Z", rest) => ("boolean", rest),
        _ => return None,
    };
    Some((format!("{name}{}", "[]".repeat(dimensions)), rest))
}

#[cfg(test)]
mod tests {
    use super::readable;

    /// The last is the example of JVMS §4.3.3.
    #[test]
    fn descriptors_become_parameters() {
        assert_eq!(readable("run()V"), "run()");
        assert_eq!(readable("add(Lharbour/gauge/Reading;[[IJ)[Ljava/lang/Object;"), "add(Reading, int[][], long)");
        assert_eq!(readable("connection:Ljava/sql/Connection;"), "connection");
        assert_eq!(readable("m(IDLjava/lang/Thread;)Ljava/lang/Object;"), "m(int, double, Thread)");
    }

    #[test]
    fn what_is_no_member_stays() {
        for text in ["harbour.Main", "open(", "open(Q)V", "open()", "x:y", "file:///gate", "a(Ljava/lang/String)V", ""]
        {
            assert_eq!(readable(text), text);
        }
    }
}

//! The table made ready for matching code: each trigger that code can meet becomes rules of a few conditions.
//!
//! A condition is met by one fact of a method; a rule fires at a method that meets its first condition, where the
//! others are met as near as their scope says. The first item to read is [`Rule`].

use std::sync::LazyLock;

use super::table::{Need, Scope, Trigger, table};

/// Sets a property for the whole JVM.
static SETTERS: LazyLock<Vec<Box<str>>> =
    LazyLock::new(|| vec!["java/lang/System.setProperty".into(), "java/security/Security.setProperty".into()]);

/// One way in which code asks for a need.
pub(super) struct Rule {
    /// Position of its need in the table.
    pub need: u16,
    /// At most eight; the first is met in the method where the rule fires.
    pub conditions: Vec<Condition>,
    /// What it was made of, which says what else decides.
    pub trigger: &'static Trigger,
    /// Whether it is never more than likely.
    pub likely: bool,
}

/// What one fact must be.
pub(super) struct Condition {
    pub scope: Scope,
    pub items: Items,
}

/// The facts that meet a condition.
pub(super) enum Items {
    Calls(&'static [Box<str>]),
    Fields(&'static [Box<str>]),
    Names(&'static [Box<str>]),
    Texts { patterns: Vec<&'static str>, ignore_case: bool },
    Charsets,
    Locales,
}

/// The place of a condition: its rule, and its number there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct At {
    pub rule: u16,
    pub condition: u8,
}

/// Number of the condition that speaks against a rule.
pub(super) const UNLESS: u8 = u8::MAX;

/// All rules, in the order of the table.
pub(super) static RULES: LazyLock<Vec<Rule>> = LazyLock::new(|| {
    let mut rules = Vec::new();
    for (need, number) in table().iter().zip(0..) {
        for trigger in &need.triggers {
            rules.extend(from_code(number, trigger));
            rules.extend(trigger.properties.iter().flat_map(|property| from_property(number, trigger, property)));
        }
    }
    rules
});

impl Rule {
    fn new(need: u16, conditions: Vec<Condition>, trigger: &'static Trigger) -> Rule {
        // A text alone says that something is named, not that it is asked for.
        let acts = conditions.iter().any(|condition| matches!(condition.items, Items::Calls(_) | Items::Fields(_)));
        Rule { need, conditions, trigger, likely: trigger.likely || !acts }
    }

    /// Where more fields or texts than that meet a condition in one method, the method lists them and asks for none.
    pub fn most(&self) -> usize {
        self.trigger.most.unwrap_or(usize::MAX)
    }

    /// The need that it speaks for.
    pub fn row(&self) -> Option<&'static Need> {
        table().get(usize::from(self.need))
    }
}

fn from_code(need: u16, trigger: &'static Trigger) -> Option<Rule> {
    let mut conditions: Vec<Condition> = Vec::new();
    let texts = Items::Texts {
        patterns: trigger.constants.iter().map(|text| &**text).collect(),
        ignore_case: trigger.ignore_case,
    };
    let given = [
        (!trigger.calls.is_empty(), Items::Calls(&trigger.calls)),
        (!trigger.fields.is_empty(), Items::Fields(&trigger.fields)),
        (!trigger.names.is_empty(), Items::Names(&trigger.names)),
        (!trigger.constants.is_empty(), texts),
        (trigger.charsets && trigger.properties.is_empty(), Items::Charsets),
        (trigger.locales && trigger.properties.is_empty(), Items::Locales),
    ];
    for (_, items) in given.into_iter().filter(|(given, _)| *given) {
        let scope = if conditions.is_empty() { Scope::Method } else { trigger.scope };
        conditions.push(Condition { scope, items });
    }
    if conditions.is_empty() {
        return None;
    }
    if !trigger.with_calls.is_empty() {
        let scope = trigger.with_scope.unwrap_or(trigger.scope);
        conditions.push(Condition { scope, items: Items::Calls(&trigger.with_calls) });
    }
    Some(Rule::new(need, conditions, trigger))
}

/// A property that code sets, or puts into the environment of a naming context.
fn from_property(need: u16, trigger: &'static Trigger, property: &'static str) -> Vec<Rule> {
    let text = |text: &'static str| Condition {
        scope: Scope::Method,
        items: Items::Texts { patterns: vec![text], ignore_case: false },
    };
    let (key, value) = match property.split_once('=') {
        Some((key, value)) => (key, Some(text(value))),
        None => (property, trigger.charsets.then_some(Condition { scope: Scope::Method, items: Items::Charsets })),
    };
    let rule = |conditions| Rule::new(need, conditions, trigger);
    let mut rules = Vec::new();
    // Any key would be any text; such a value is looked for by a trigger of its own.
    if key == "*" {
        return rules;
    }
    if let (true, Some((_, value))) = (key.starts_with("java.naming."), property.split_once('=')) {
        rules.push(rule(vec![text(key), text(value)]));
    }
    let setter = Condition { scope: Scope::Method, items: Items::Calls(&SETTERS) };
    rules.push(rule([setter, text(key)].into_iter().chain(value).collect()));
    rules
}

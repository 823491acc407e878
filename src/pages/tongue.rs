//! The language of the pages, as templates and scripts take it.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Display;

use minijinja::value::Kwargs;
use minijinja::{Environment, Error, Value};
use serde_json::json;

use crate::ground::language::{Text, filled, spoken};
use crate::prose::escape;

/// A word of the program's own, as the pages say it: `signed` of the group `standing`.
pub(in crate::pages) fn word(group: &str, own: &str) -> String {
    filled(&format!("{group}.{}", own.to_lowercase().replace(' ', "-")), &[])
}

/// How a script asks for a text whose key it works out the rest of.
const WORKED_OUT: [&str; 2] = ["Say.text(`", "Say.nodes(`"];

/// Gives templates `say("group.key", hole=value)`, and the language's tag and
/// direction. What fills a hole is text, unless it is safe as it stands.
pub(super) fn teach(environment: &mut Environment<'static>) {
    let language = spoken();
    environment.add_global(
        "tongue",
        Value::from_pairs([("tag", language.tag()), ("direction", language.direction().to_owned())]),
    );
    environment.add_function("say", |key: String, holes: Kwargs| say(&key, &holes));
    environment
        .add_filter("inside", |value: Value, tag: String, attribute: Option<String>| inside(&value, &tag, attribute));
}

/// A value inside an element, such as a command inside `code`: safe, so that it can fill a hole.
fn inside(value: &Value, tag: &str, attribute: Option<String>) -> Value {
    let opens = attribute.map_or_else(|| tag.to_owned(), |attribute| format!("{tag} {attribute}"));
    Value::from_safe_string(format!("<{opens}>{}</{tag}>", as_html(value)))
}

/// A value as it stands in a page.
fn as_html(value: &Value) -> String {
    let text = value.to_string();
    if value.is_safe() { text } else { escape(&text) }
}

fn say(key: &str, holes: &Kwargs) -> Result<Value, Error> {
    let mut filled: Vec<(&str, String)> = Vec::new();
    for hole in holes.args() {
        let value: Value = holes.get(hole)?;
        filled.push((hole, as_html(&value)));
    }
    let holes: Vec<(&str, &dyn Display)> = filled.iter().map(|(hole, text)| (*hole, text as &dyn Display)).collect();
    // Texts hold no markup, and what fills their holes is escaped.
    Ok(Value::from_safe_string(spoken().say(key, &holes)))
}

/// The texts that a script may ask for, with the tag of their language: all whose
/// keys stand in it between quotes, and those of a kind whose key it works out.
pub(super) fn words_of(script: &str) -> serde_json::Value {
    let language = spoken();
    let quoted: BTreeSet<&str> = script.split('"').collect();
    let starts: Vec<&str> = WORKED_OUT
        .iter()
        .flat_map(|call| script.split(call).skip(1))
        .filter_map(|after| after.split(['`', '$']).next())
        .collect();
    let texts: BTreeMap<&str, &Text> = language
        .texts()
        .iter()
        .map(|(key, text)| (key.as_str(), text))
        .filter(|(key, _)| quoted.contains(key) || starts.iter().any(|start| key.starts_with(start)))
        .collect();
    json!({ "tag": language.tag(), "texts": texts })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_script_is_given_the_texts_that_it_asks_for_and_no_others() {
        let script =
            "held(\"page.to-the-page\"); b(...Say.nodes(`count.${what}`, { n: 2 })); Say.text(\"page.one\" + key)";
        let words = words_of(script);
        let texts = words["texts"].as_object().expect("an object");
        assert!(texts.contains_key("page.to-the-page") && texts.contains_key("count.exercises"));
        assert!(texts.keys().all(|key| key == "page.to-the-page" || key.starts_with("count.")), "{texts:?}");
    }

    #[test]
    fn what_fills_a_hole_of_a_template_is_text_unless_it_is_safe() {
        let mut environment = Environment::new();
        teach(&mut environment);
        let template = "{{ say('count.exercises', n=n) }}|{{ say('count.exercises', n=safe) }}";
        let values = minijinja::context! { n => "<2>", safe => Value::from_safe_string("<b>3</b>".to_owned()) };
        let said = environment.render_str(template, values).expect("it renders");
        assert_eq!(said, "&lt;2&gt; exercises|<b>3</b> exercises");
    }
}

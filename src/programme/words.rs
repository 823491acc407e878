//! The programme's own words in author text: `{{ deck }}` stands for whatever
//! the programme calls one printing unit.

use serde_yaml::Value;

/// The words that a programme chooses.
#[derive(Debug, Clone)]
pub(super) struct Words {
    deck: String,
}

impl Default for Words {
    fn default() -> Self {
        Self { deck: "deck".to_owned() }
    }
}

impl Words {
    /// The words of a `programme.yaml`.
    pub(super) fn of(programme: &Value) -> Self {
        let word = programme.get("unit_word").and_then(Value::as_str).map(str::trim).filter(|word| !word.is_empty());
        word.map_or_else(Self::default, |word| Self { deck: word.to_owned() })
    }

    /// Puts the words into every text below a value.
    pub(super) fn put_into(&self, value: &mut Value) {
        match value {
            Value::String(text) if text.contains("{{") => *text = self.filled(text),
            Value::Sequence(list) => list.iter_mut().for_each(|one| self.put_into(one)),
            Value::Mapping(map) => map.values_mut().for_each(|one| self.put_into(one)),
            _ => {}
        }
    }

    fn filled(&self, text: &str) -> String {
        let mut filled = String::with_capacity(text.len());
        let mut rest = text;
        while let Some(open) = rest.find("{{") {
            let Some(length) = rest[open..].find("}}") else { break };
            let hole = &rest[open..open + length + 2];
            filled.push_str(&rest[..open]);
            filled.push_str(self.word(hole[2..length].trim()).as_deref().unwrap_or(hole));
            rest = &rest[open + length + 2..];
        }
        filled.push_str(rest);
        filled
    }

    fn word(&self, name: &str) -> Option<String> {
        let mut letters = self.deck.chars();
        let first = letters.next()?;
        let capital = || first.to_uppercase().chain(letters.clone()).collect::<String>();
        match name {
            "deck" => Some(self.deck.clone()),
            "decks" => Some(format!("{}s", self.deck)),
            "Deck" => Some(capital()),
            "Decks" => Some(format!("{}s", capital())),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn filled(word: &str, text: &str) -> String {
        let mut programme: Value = serde_yaml::from_str(&format!("unit_word: {word}")).unwrap_or_default();
        let words = Words::of(&programme);
        programme = Value::Sequence(vec![Value::String(text.to_owned())]);
        words.put_into(&mut programme);
        programme[0].as_str().unwrap_or_default().to_owned()
    }

    #[test]
    fn a_deck_is_called_what_the_programme_calls_it() {
        assert_eq!(
            filled("station", "{{ Deck }} 3 of {{decks}}, one {{ deck }}"),
            "Station 3 of stations, one station"
        );
        assert_eq!(filled("''", "{{ deck }}"), "deck");
    }

    #[test]
    fn other_holes_stay_as_they_are() {
        for text in ["{{ roll.volume }} on {{ a | table }}", "{{ deck", "}} {{", "{{}}", "µ {{ é }}"] {
            assert_eq!(filled("unit", text), text);
        }
    }
}

//! The rules of an edition: what of a curriculum the records depend on.
//!
//! Their canonical text is kept with the facts, so that a sign-off can be
//! judged for ever by what was in force when it was made.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use super::digest::Digest;
use super::fact::Word;
use crate::programme::{Programme, RestsOn};

/// The rules of an edition.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rules {
    /// The share of right exercises that passes.
    pub pass_mark: Option<f64>,
    /// The competencies, in teaching order of their stages.
    pub competencies: Vec<Rule>,
}

/// The rules of a competency.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rule {
    /// Its id.
    pub id: Word,
    /// Its stage.
    pub stage: Word,
    /// What it was called before.
    pub was: Vec<Word>,
    /// What must be signed before it.
    pub needs: Vec<Word>,
    /// Whether it can never be signed despite missing evidence.
    pub safety: bool,
    /// What an observer sees.
    pub criteria: Vec<CriterionRule>,
    /// What a sign-off rests on.
    pub rests_on: Option<RestsOn>,
    /// After how many months a sign-off lapses.
    pub lapses_after: Option<u32>,
    /// What renews it.
    pub renewed_by: Option<RestsOn>,
}

/// One criterion.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CriterionRule {
    /// What is seen, as the curriculum writes it.
    pub says: String,
    /// Whether an observation counts only with it.
    pub critical: bool,
}

impl Rules {
    /// The rules of a programme.
    ///
    /// ```
    /// use gearside::programme::{Origin, load_without_banks};
    /// use gearside::records::Rules;
    /// let programme = load_without_banks(&Origin::Shipped).unwrap().programme.unwrap();
    /// let rules = Rules::of(&programme);
    /// assert_eq!(Rules::read(&rules.canonical()).unwrap(), rules);
    /// ```
    #[must_use]
    pub fn of(programme: &Programme) -> Self {
        let word = |id: &crate::ground::Id| Word::from(id.as_str());
        let competencies = programme.stages.iter().flat_map(|stage| {
            stage.competencies.iter().map(|competency| Rule {
                id: word(&competency.id),
                stage: word(&stage.id),
                was: competency.was.iter().map(word).collect(),
                needs: competency.needs.iter().map(word).collect(),
                safety: competency.safety,
                criteria: competency
                    .criteria
                    .iter()
                    .map(|one| CriterionRule { says: one.text.source().to_owned(), critical: one.critical })
                    .collect(),
                rests_on: competency.rests_on.clone(),
                lapses_after: competency.lapses_after,
                renewed_by: competency.renewed_by.clone(),
            })
        });
        Self {
            pass_mark: programme.about.pass_mark.as_ref().map(|(share, _)| *share),
            competencies: competencies.collect(),
        }
    }

    /// The canonical text: the same rules always give the same bytes.
    #[must_use]
    pub fn canonical(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// The digest of the canonical text.
    #[must_use]
    pub fn digest(&self) -> Digest {
        super::texts::digest_of(&[], self.canonical().as_bytes())
    }

    /// Reads a canonical text.
    ///
    /// # Errors
    /// What `serde_json` says of a text that is none.
    pub fn read(text: &str) -> serde_json::Result<Self> {
        serde_json::from_str(text)
    }

    /// The rules of a competency.
    #[must_use]
    pub fn of_competency(&self, id: &str) -> Option<&Rule> {
        self.competencies.iter().find(|rule| &*rule.id == id)
    }

    /// The rules of whatever answers to one of several names.
    #[must_use]
    pub fn of_any(&self, names: &[Word]) -> Option<&Rule> {
        names.iter().find_map(|name| self.of_competency(name))
    }
}

/// Which competency was called what: gathered over all editions.
#[derive(Debug, Clone, Default)]
pub struct Lineage {
    was: BTreeMap<Word, BTreeSet<Word>>,
}

impl Lineage {
    /// Adds what an edition says.
    pub fn add(&mut self, rules: &Rules) {
        for rule in rules.competencies.iter().filter(|rule| !rule.was.is_empty()) {
            self.was.entry(rule.id.clone()).or_default().extend(rule.was.iter().cloned());
        }
    }

    /// What a name came to be called in any later edition, or what it was split into.
    #[must_use]
    pub fn heirs(&self, name: &str) -> Vec<Word> {
        let was_it = |id: &&Word| &***id != name && self.names(id).iter().any(|older| &**older == name);
        self.was.keys().filter(was_it).cloned().collect()
    }

    /// All names of a competency: its own first, then what it was called, and what that was called.
    #[must_use]
    pub fn names(&self, id: &str) -> Vec<Word> {
        let mut names = vec![Word::from(id)];
        let mut next = 0;
        while let Some(name) = names.get(next).cloned() {
            let older = self.was.get(&name).into_iter().flatten();
            let new: Vec<Word> = older.filter(|old| !names.contains(old)).cloned().collect();
            names.extend(new);
            next += 1;
        }
        names
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rule(id: &str, was: &[&str]) -> Rule {
        Rule {
            id: id.into(),
            stage: "one".into(),
            was: was.iter().map(|name| Word::from(*name)).collect(),
            needs: vec![],
            safety: false,
            criteria: vec![],
            rests_on: None,
            lapses_after: None,
            renewed_by: None,
        }
    }

    #[test]
    fn names_reach_back_through_editions_and_through_a_split() {
        let mut lineage = Lineage::default();
        for rules in [vec![rule("b", &["a"])], vec![rule("c", &["b"]), rule("d", &["b"])]] {
            lineage.add(&Rules { pass_mark: None, competencies: rules });
        }
        let names = |id: &str| lineage.names(id).iter().map(ToString::to_string).collect::<Vec<_>>();
        assert_eq!(names("c"), ["c", "b", "a"]);
        assert_eq!(names("d"), ["d", "b", "a"]);
        assert_eq!(names("e"), ["e"]);
        assert_eq!(lineage.heirs("a"), ["b", "c", "d"].map(Word::from));
        assert_eq!(lineage.heirs("d"), Vec::<Word>::new());
    }
}

//! The facts as tables that people can read.

use std::collections::BTreeMap;

use serde::Serialize;

use super::super::table::write;
use crate::records::{Code, Digest, History, Kept, Person, Word};

/// What stands at the end of every row about a fact.
const TAIL: [&str; 8] = ["seq", "seen_by", "seen_on", "entered_by", "entered_at", "late", "paper", "replaced_by"];

/// Makes tables out of a history.
pub(super) struct Tables<'h> {
    pub(super) history: &'h History,
    /// Whom they are about; everyone if nobody is named.
    pub(super) person: Option<&'h Code>,
    /// Whether a comma is the decimal mark.
    pub(super) comma: bool,
}

/// The rows of a table with the facts they come from, to be put in their order.
type Rows = Vec<(u64, Vec<String>)>;

fn shown<T: ToString>(value: Option<T>) -> String {
    value.map(|value| value.to_string()).unwrap_or_default()
}

fn yes(is: bool) -> String {
    if is { "yes" } else { "no" }.to_owned()
}

/// The word that the records write for a value.
pub(super) fn stored_word(value: impl Serialize) -> String {
    serde_json::to_value(value).ok().and_then(|json| json.as_str().map(str::to_owned)).unwrap_or_default()
}

/// A number with the programme's decimal mark.
pub(super) fn decimal(number: f64, comma: bool) -> String {
    let text = number.to_string();
    if comma { text.replace('.', ",") } else { text }
}

impl<'h> Tables<'h> {
    pub(super) fn all(&self) -> Vec<(String, Vec<u8>)> {
        let list = [
            ("people.csv", self.people()),
            ("leave.csv", self.leave()),
            ("hours.csv", self.hours()),
            ("observations.csv", self.observations()),
            ("marks.csv", self.marks()),
            ("signoffs.csv", self.signoffs()),
            ("events.csv", self.events()),
        ];
        list.into_iter().map(|(name, bytes)| (name.to_owned(), bytes)).collect()
    }

    fn persons(&self) -> impl Iterator<Item = &'h Person> {
        let person = self.person;
        self.history.people.values().filter(move |one| person.is_none_or(|code| *code == one.code))
    }

    /// Every person's work under every name.
    fn work(&self) -> impl Iterator<Item = (&'h Person, &'h Word, &'h crate::records::Work)> {
        self.persons().flat_map(|person| person.work.iter().map(move |(name, work)| (person, name, work)))
    }

    /// A row: its own cells, and who says so.
    fn row<T>(&self, person: &Person, kept: &Kept<T>, cells: Vec<String>) -> (u64, Vec<String>) {
        let claim = &kept.claim;
        let tail = [
            kept.seq.to_string(),
            claim.seen_by.to_string(),
            claim.seen_on.to_string(),
            claim.entered_by.to_string(),
            kept.at.to_string(),
            yes(self.history.is_late(kept)),
            shown(claim.paper.as_ref()),
            shown(kept.gone),
        ];
        (kept.seq, [vec![person.code.to_string()], cells, tail.to_vec()].concat())
    }

    fn people(&self) -> Vec<u8> {
        let rows = self.persons().flat_map(|person| {
            person.grants.iter().map(move |kept| {
                let is = &kept.is;
                let stages = is.stages.as_ref().map(|stages| stages.join(" "));
                let cells = vec![
                    is.role.word().to_owned(),
                    is.from.to_string(),
                    shown(is.until),
                    stages.unwrap_or_default(),
                    shown(is.class.as_ref()),
                ];
                self.row(person, kept, cells)
            })
        });
        sorted("code", &["role", "from", "until", "stages", "class"], rows.collect())
    }

    fn leave(&self) -> Vec<u8> {
        let rows = self.persons().flat_map(|person| {
            person.moves.iter().map(move |kept| {
                let what = if kept.is.away { "leave" } else { "return" };
                self.row(person, kept, vec![what.to_owned(), kept.is.from.to_string()])
            })
        });
        sorted("person", &["what", "from"], rows.collect())
    }

    fn hours(&self) -> Vec<u8> {
        let rows = self.work().flat_map(|(person, line, work)| {
            work.hours.iter().map(move |kept| {
                let is = &kept.is;
                let (start, end) = is.written.clone().unzip();
                let cells = vec![
                    line.to_string(),
                    is.sort.word().to_owned(),
                    shown(start),
                    shown(end),
                    is.minutes.to_string(),
                    is.supervisor.to_string(),
                ];
                self.row(person, kept, cells)
            })
        });
        sorted("person", &["line", "sort", "start", "end", "minutes", "supervisor"], rows.collect())
    }

    fn observations(&self) -> Vec<u8> {
        let rows = self.work().flat_map(|(person, name, work)| {
            work.observations.iter().map(move |kept| {
                let is = &kept.is;
                let criteria: Vec<String> = is.criteria.iter().map(stored_word).collect();
                let cells = vec![
                    name.to_string(),
                    criteria.join(" "),
                    is.press.to_string(),
                    is.job.to_string(),
                    shown(is.material.as_ref()),
                    is.ink.map(stored_word).unwrap_or_default(),
                    yes(is.aided),
                ];
                self.row(person, kept, cells)
            })
        });
        sorted("person", &["competency", "criteria", "press", "job", "material", "ink", "aided"], rows.collect())
    }

    fn marks(&self) -> Vec<u8> {
        let rows = self.work().flat_map(|(person, name, work)| {
            work.marks.iter().map(move |kept| {
                let is = &kept.is;
                let cells = vec![
                    name.to_string(),
                    is.quiz.to_string(),
                    is.docket.to_string(),
                    is.exercise.to_string(),
                    is.part.to_string(),
                    is.parts.to_string(),
                    stored_word(is.verdict),
                    decimal(is.mark, self.comma),
                    shown(is.turn.as_ref()),
                ];
                self.row(person, kept, cells)
            })
        });
        let own = ["competency", "quiz", "docket", "exercise", "part", "parts", "verdict", "mark", "turn"];
        sorted("person", &own, rows.collect())
    }

    /// All that happened to a sign-off: asked for, made, withdrawn, held, released.
    fn signoffs(&self) -> Vec<u8> {
        let mut rows = Rows::new();
        for (person, name, work) in self.work() {
            let cells = |what: &str, acknowledged: String, despite: String, of: String| {
                vec![name.to_string(), what.to_owned(), acknowledged, despite, of]
            };
            let none = String::new;
            for kept in &work.requests {
                rows.push(self.row(person, kept, cells("request", none(), none(), none())));
            }
            for kept in &work.signoffs {
                let rests_on: Vec<String> = kept.is.rests_on.iter().map(u64::to_string).collect();
                let despite = shown(kept.is.despite.as_ref());
                let day = kept.is.acknowledged_on.to_string();
                rows.push(self.row(person, kept, cells("signoff", day, despite, rests_on.join(" "))));
            }
            for kept in &work.withdrawals {
                rows.push(self.row(person, kept, cells("withdrawal", none(), none(), kept.is.signoff.to_string())));
            }
            for kept in &work.holds {
                rows.push(self.row(person, kept, cells("hold", none(), none(), shown(kept.is.of))));
            }
            for kept in &work.releases {
                rows.push(self.row(person, kept, cells("release", none(), none(), kept.is.hold.to_string())));
            }
        }
        sorted("person", &["competency", "what", "acknowledged", "despite", "rests_on"], rows)
    }

    fn events(&self) -> Vec<u8> {
        let rows = self.persons().flat_map(|person| {
            person.events.iter().map(move |kept| self.row(person, kept, vec![kept.is.event.to_string()]))
        });
        sorted("person", &["event"], rows.collect())
    }

    /// Who the codes are, as far as names are on record.
    pub(super) fn names(&self, names: &BTreeMap<Digest, String>) -> Vec<u8> {
        let grants = self.persons().flat_map(|person| person.grants.iter().map(move |kept| (person, kept)));
        let named = grants.filter_map(|(person, kept)| {
            let digest = kept.is.name.as_ref()?;
            let state = if self.history.erased.contains(digest) { "redacted" } else { "kept" };
            let name = names.get(digest).cloned().unwrap_or_default();
            Some(vec![person.code.to_string(), name, state.to_owned(), kept.seq.to_string(), digest.to_string()])
        });
        write(&["code", "name", "state", "seq", "digest"], &named.collect::<Vec<_>>())
    }
}

/// A table in the order in which its facts were entered.
fn sorted(first: &str, own: &[&str], mut rows: Rows) -> Vec<u8> {
    rows.sort_by_key(|(seq, _)| *seq);
    let header = [&[first], own, &TAIL[..]].concat();
    write(&header, &rows.into_iter().map(|(_, row)| row).collect::<Vec<_>>())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::records::{Look, Mark};

    #[test]
    fn words_and_numbers_go_out_as_they_can_be_read_back() {
        assert_eq!(stored_word(Look::NotYet), "not-yet");
        assert_eq!(stored_word(Mark::WrongTurn), "wrong-turn");
        assert_eq!(
            (decimal(0.5, false), decimal(0.5, true), decimal(1.0, true)),
            ("0.5".into(), "0,5".into(), "1".into())
        );
    }
}

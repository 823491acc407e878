//! One exercise of a marked docket as its template takes it.

use serde_json::{Value, json};

use super::working::Working;
use super::{MarkOrder, number, part, state, verdict, whole};
use crate::ground::say;
use crate::marking::Asks;
use crate::quiz::{ExerciseResult, KeptExercise, KeptPull};

/// What the view of an exercise is made from.
pub(super) struct Made<'a> {
    pub(super) kept: &'a KeptExercise,
    pub(super) result: &'a ExerciseResult,
    /// What was kept of this docket; `None` where only its marks are known.
    pub(super) pull: Option<&'a KeptPull>,
    pub(super) working: &'a Working<'a>,
    pub(super) order: &'a MarkOrder<'a>,
    pub(super) comma: bool,
}

impl Made<'_> {
    pub(super) fn view(&self) -> Value {
        let shown = &self.kept.shown;
        let (mark, right) = (self.result.mark(), self.result.is_right());
        let carried = self.result.parts.iter().rev().find_map(|part| {
            let marked = part.marked.as_ref().filter(|marked| !marked.own_working.is_empty())?;
            Some(self.working.carried(&self.pull?.own, &marked.own_working))
        });
        let to_the_key = match self.pull {
            Some(pull) if !right => self.working.to_the_key(&pull.own),
            _ => Vec::new(),
        };
        let mut parts: Vec<Value> = match &self.kept.rules.asks {
            Asks::Numeric(_) => {
                (0..).zip(&self.result.parts).map(|(place, result)| part::view(self, place, result)).collect()
            }
            Asks::Order(_) | Asks::Choose(_) | Asks::Rounds(_) => {
                (0..).zip(&self.result.parts).map(|(place, result)| whole::view(self, place, result)).collect()
            }
        };
        said_once(&mut parts);
        json!({
            "key": format!("e{}", shown.number),
            "number": shown.number.to_string(),
            "title": shown.title,
            "kind": shown.kind,
            "state": state(self.result.verdict()),
            "verdict": verdict(self.result.verdict()),
            "points": mark.map_or_else(|| say!("marked.not-known"), |mark| say!("marked.of", mark = number(mark, self.comma))),
            "full": if right { "yes" } else { "" },
            "ask_html": self.pull.map_or("", |pull| pull.ask.ask_html.as_str()),
            "parts": parts,
            "carried": carried.unwrap_or_default(),
            "lines": to_the_key,
        })
    }

    /// The title of its competency, as known today.
    pub(super) fn competency(&self) -> String {
        (self.order.competency)(&self.kept.competency)
            .map_or_else(|| self.kept.competency.replace('-', " "), |page| page.title)
    }
}

/// A reason that is the same as that of the part before is not said again.
fn said_once(parts: &mut [Value]) {
    for place in (1..parts.len()).rev() {
        if parts[place]["reason_html"] == parts[place - 1]["reason_html"] {
            parts[place]["reason_html"] = "".into();
        }
    }
}

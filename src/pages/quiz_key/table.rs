//! The table of rounds in the key of one docket, by the numbers that it shows.

use std::fmt::Write as _;

use super::own::{number_of, put_said};
use crate::ground::say;
use crate::marking::{OwnKey, RoundsRules};

/// What each move does in each sample of a docket.
pub(super) struct Table<'a> {
    rules: &'a RoundsRules,
    own: &'a OwnKey,
    /// The state behind each sample, as numbered.
    states: &'a [usize],
}

impl<'a> Table<'a> {
    pub(super) fn of(rules: &'a RoundsRules, own: &'a OwnKey) -> Self {
        Self { rules, own, states: own.rounds.as_ref().map_or(&[], |rounds| &rounds.states) }
    }

    /// Adds it as list entries: which samples are right, what each move changes, which moves are unsafe.
    pub(super) fn put(&self, page: &mut String) {
        let ways = &self.rules.ways;
        let is_right = |state: &usize| ways.right.get(*state).is_some_and(|right| *right);
        let right = (1..).zip(self.states).filter(|(_, state)| is_right(state));
        let right: Vec<String> = right.map(|(sample, _)| format!("<b>{sample}</b>")).collect();
        // Writing to a string cannot fail.
        let _ =
            write!(page, "<li>{}</li>", say!("quiz.end-with", samples = right.join(&format!(" {} ", say!("quiz.or")))));
        for (sample, state) in (1..).zip(self.states) {
            for by in &self.own.shown {
                let to = ways.after(*state, *by);
                if to != *state {
                    let (by_number, to) = (number_of(self.own, *by), self.sample(to));
                    let _ = write!(
                        page,
                        "<li>{} ",
                        say!(
                            "quiz.sample-leads",
                            sample = format_args!("<b>{sample}</b>"),
                            by = by_number,
                            to = format_args!("<b>{to}</b>")
                        )
                    );
                    self.put_reason(self.rules.why.get(*state).and_then(|why| *why.get(*by)?), page);
                    page.push_str("</li>");
                }
            }
        }
        for by in self.own.shown.iter().filter(|by| ways.not_safe.get(**by).is_some_and(|not_safe| *not_safe)) {
            let _ = write!(
                page,
                "<li>{} ",
                say!(
                    "quiz.unsafe-move",
                    by = number_of(self.own, *by),
                    tag = format_args!("<b class=\"safety\">({})</b>", say!("quiz.unsafe"))
                )
            );
            self.put_reason(self.rules.why_not_safe.get(*by).copied().flatten(), page);
            page.push_str("</li>");
        }
    }

    /// The number of the sample that shows a state.
    fn sample(&self, state: usize) -> usize {
        self.states.iter().position(|one| *one == state).map_or(0, |place| place + 1)
    }

    fn put_reason(&self, reason: Option<usize>, page: &mut String) {
        put_said(reason.and_then(|at| self.own.reasons.get(&at).or_else(|| self.rules.because.get(at))), page);
    }
}

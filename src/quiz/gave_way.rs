//! What gave way, in words.

use super::composition::{Constraint, GaveWay, Pick, StageShare};
use super::limits::{Limits, Tally};
use crate::ground::say;

/// What the words need to know of a composition.
#[derive(Debug)]
pub(super) struct Told<'a> {
    pub(super) picks: &'a [Pick],
    pub(super) shares: &'a [StageShare],
    pub(super) limits: &'a Limits,
    pub(super) tally: &'a Tally,
    /// The gap of the plan, in taught weeks.
    pub(super) gap: u32,
    /// How many minutes can be filled with what is due.
    pub(super) due: u32,
}

impl Told<'_> {
    /// Everything that was given up, in that order: all up to the last that does not hold.
    pub(super) fn gave_way(&self) -> Vec<GaveWay> {
        let all: Vec<GaveWay> = Constraint::ALL.into_iter().map(|constraint| self.of(constraint)).collect();
        let count = all.iter().rposition(|one| !one.holds).map_or(0, |last| last + 1);
        all.into_iter().take(count).collect()
    }

    fn of(&self, constraint: Constraint) -> GaveWay {
        let found = match constraint {
            Constraint::Mixing => self.mixing(),
            Constraint::Levels => self.levels(),
            Constraint::Shares => self.shares(),
            Constraint::Gaps => self.gaps(),
        };
        let holds = found.is_none();
        let words = found.unwrap_or_else(|| say!("plan.given-up-before"));
        GaveWay { constraint, holds, words }
    }

    fn mixing(&self) -> Option<String> {
        let clash = |pair: &&[Pick]| pair[0].formula.is_some() && pair[0].formula == pair[1].formula;
        let clashes: Vec<&[Pick]> = self.picks.windows(2).filter(clash).collect();
        let first = clashes.first()?;
        let formula = first[0].formula.as_deref().unwrap_or_default();
        let more = match clashes.len() {
            1 => String::new(),
            many => say!("plan.and-more-such", n = many - 1),
        };
        Some(say!(
            "plan.stands-beside-and",
            one = first[0].exercise,
            other = first[1].exercise,
            formula = formula,
            more = more
        ))
    }

    fn levels(&self) -> Option<String> {
        if self.limits.keeps(Constraint::Levels, self.tally) {
            return None;
        }
        let (level, minutes) =
            ["recall", "apply", "judge"].into_iter().zip(self.tally.levels).max_by_key(|(_, minutes)| *minutes)?;
        Some(say!("plan.has-of-minutes", level = level, minutes = minutes, all = self.tally.minutes))
    }

    fn shares(&self) -> Option<String> {
        if self.limits.keeps(Constraint::Shares, self.tally) {
            return None;
        }
        let leeway = super::limits::SHARE_LEEWAY + 1e-9;
        let percent = |share: f64| format!("{:.0} %", 100.0 * share);
        let off: Vec<String> = self
            .shares
            .iter()
            .filter_map(|one| one.planned.map(|planned| (one, planned)))
            .filter(|(one, planned)| (one.share - planned).abs() > leeway)
            .map(|(one, planned)| {
                say!("plan.has-not", stage = one.stage, share = percent(one.share), planned = percent(planned))
            })
            .collect();
        Some(say!("plan.what-may-come", off = off.join("; ")))
    }

    fn gaps(&self) -> Option<String> {
        let early: Vec<String> = self
            .picks
            .iter()
            .filter(|pick| !pick.due && !pick.asked_for)
            .map(|pick| format!("`{}`", pick.exercise))
            .collect();
        if early.is_empty() {
            return None;
        }
        let why = if self.due < self.limits.target {
            say!("plan.what-is-due", due = self.due, minutes = self.limits.minutes)
        } else {
            say!("plan.what-is-due-does")
        };
        let early = say!("plan.come-early", n = early.len(), list = early.join(", "));
        Some(say!("plan.before-taught-are", early = early, n = self.gap, why = why))
    }
}

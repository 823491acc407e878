//! What gave way, in words.

use super::composition::{Constraint, GaveWay, Pick, StageShare};
use super::limits::{Limits, Tally};

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
        let words = found.unwrap_or_else(|| "given up before the next, and kept all the same".to_owned());
        GaveWay { constraint, holds, words }
    }

    fn mixing(&self) -> Option<String> {
        let clash = |pair: &&[Pick]| pair[0].formula.is_some() && pair[0].formula == pair[1].formula;
        let clashes: Vec<&[Pick]> = self.picks.windows(2).filter(clash).collect();
        let first = clashes.first()?;
        let formula = first[0].formula.as_deref().unwrap_or_default();
        let more = match clashes.len() {
            1 => String::new(),
            many => format!(", and {} more such pairs", many - 1),
        };
        Some(format!(
            "`{}` stands beside `{}` and both use {formula}{more}: too little else may come to part them",
            first[0].exercise, first[1].exercise
        ))
    }

    fn levels(&self) -> Option<String> {
        if self.limits.keeps(Constraint::Levels, self.tally) {
            return None;
        }
        let (level, minutes) =
            ["recall", "apply", "judge"].into_iter().zip(self.tally.levels).max_by_key(|(_, minutes)| *minutes)?;
        Some(format!(
            "`{level}` has {minutes} of {} minutes, more than two thirds: too little of the other levels may come",
            self.tally.minutes
        ))
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
            .map(|(one, planned)| format!("{} has {}, not {}", one.stage, percent(one.share), percent(planned)))
            .collect();
        Some(format!("{}: what may come leaves no other choice", off.join("; ")))
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
            format!("what is due fills only {} of {} minutes", self.due, self.limits.minutes)
        } else {
            "what is due does not go together".to_owned()
        };
        let (weeks, come) =
            (if self.gap == 1 { "week" } else { "weeks" }, if early.len() == 1 { "comes" } else { "come" });
        Some(format!("{} {come} before {} taught {weeks} are over: {why}", early.join(", "), self.gap))
    }
}

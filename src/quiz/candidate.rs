//! An exercise that may come in a quiz, with how due it is and why.

use std::collections::BTreeMap;

use super::composition::Group;
use super::past::{Outcome, Past};
use crate::ground::Id;
use crate::ground::say;
use crate::programme::Weeks;
use crate::programme::{Exercise, Level, Plan, Use};

/// From how many taught weeks on a longer wait makes no exercise more urgent.
const LONG: u32 = 12;
/// How much more urgent what the class failed is, in weeks of waiting.
const FAILED: u32 = 6;

/// An exercise that may come.
#[derive(Debug)]
pub(super) struct Candidate<'a> {
    pub(super) exercise: &'a Exercise,
    /// The index of its stage.
    pub(super) stage: usize,
    /// Which functions of the catalogue its steps use; `None` if none.
    pub(super) formula: Option<usize>,
    pub(super) group: Group,
    pub(super) due: bool,
    pub(super) asked_for: bool,
    /// Whether fewer exercises about its competency were asked this year than a sign-off rests on.
    pub(super) lacking: bool,
    /// How long it has waited and how badly it went, in weeks.
    pub(super) urgency: u32,
    /// When this very exercise was last asked.
    pub(super) last: Option<i32>,
    /// Its place by chance.
    pub(super) rank: u64,
    pub(super) reason: String,
}

impl Candidate<'_> {
    pub(super) fn minutes(&self) -> u32 {
        self.exercise.minutes.max(1)
    }

    pub(super) fn level(&self) -> usize {
        match self.exercise.level {
            Level::Recall => 0,
            Level::Apply => 1,
            Level::Judge => 2,
        }
    }
}

/// What stands between an exercise and this quiz, if anything.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Bar {
    /// Its competency was not taught yet.
    Untaught,
    /// It is for practice only.
    Practice,
    /// It alone takes longer than the quiz.
    TooLong,
    /// Its family was asked in that week.
    Rests(i32),
}

/// What all candidates are judged by.
#[derive(Debug)]
pub(super) struct Judge<'a> {
    pub(super) plan: &'a Plan,
    pub(super) weeks: &'a Weeks,
    pub(super) taught: &'a BTreeMap<Id, i32>,
    pub(super) past: &'a Past,
    /// How many marked exercises a sign-off rests on, by competency.
    pub(super) rests_on: &'a BTreeMap<&'a Id, u32>,
    pub(super) week: u32,
    pub(super) minutes: u32,
}

impl Judge<'_> {
    fn now(&self) -> i32 {
        i32::try_from(self.week).unwrap_or(i32::MAX)
    }

    /// The hard constraints on one exercise.
    pub(super) fn bar(&self, exercise: &Exercise) -> Option<Bar> {
        if exercise.used_in == Use::Practice {
            return Some(Bar::Practice);
        }
        if !self.taught.contains_key(&exercise.competency) {
            return Some(Bar::Untaught);
        }
        if exercise.minutes > self.minutes {
            return Some(Bar::TooLong);
        }
        let issues = self.past.issues.get(exercise.family.as_str());
        // A quiz of a later week is as near as one of an earlier.
        let near = |week: &&i32| week.abs_diff(self.now()) <= self.plan.not_again_for;
        issues.into_iter().flatten().rev().find(near).map(|week| Bar::Rests(*week))
    }

    /// How many taught weeks ago a week was.
    fn since(&self, week: i32) -> u32 {
        self.weeks.taught_between(week, self.now())
    }

    /// The candidate an exercise makes. Its formula is for the caller to set.
    pub(super) fn candidate<'a>(&self, exercise: &'a Exercise, stage: usize, rank: u64) -> Candidate<'a> {
        let taught = self.taught.get(&exercise.competency).copied().unwrap_or(self.now());
        let own = self.past.families.get(exercise.family.as_str()).copied();
        let whole = self.past.competencies.get(&exercise.competency).copied();
        let failed = [own, whole].into_iter().flatten().find(|outcome| outcome.failed());
        let waited = whole.map(|outcome| self.since(outcome.week));
        let due = failed.is_some() || waited.is_none_or(|weeks| weeks >= self.plan.gap);
        let group = match self.since(taught) {
            _ if failed.is_some() => Group::OlderOrFailed,
            0 | 1 => Group::Fortnight,
            2..=5 => Group::WeeksThreeToSix,
            _ => Group::OlderOrFailed,
        };
        let wrong = whole.map_or(0, |outcome| FAILED * (outcome.of - outcome.right) / outcome.of.max(1));
        let urgency = waited.unwrap_or(LONG).min(LONG) + wrong + failed.map_or(0, |_| FAILED);
        let last = self.past.exercises.get(exercise.id.as_str()).copied();
        let reason = self.reason(taught, own, whole, failed, due);
        let (formula, asked_for) = (None, false);
        let asked = self.past.asked.get(&exercise.competency).copied().unwrap_or(0);
        let lacking = self.rests_on.get(&exercise.competency).is_some_and(|least| asked < *least);
        Candidate { exercise, stage, formula, group, due, asked_for, lacking, urgency, last, rank, reason }
    }

    fn reason(
        &self,
        taught: i32,
        own: Option<Outcome>,
        whole: Option<Outcome>,
        failed: Option<Outcome>,
        due: bool,
    ) -> String {
        let taught = if taught == self.now() {
            say!("plan.taught-this-week")
        } else {
            say!("plan.taught-in", week = self.weeks.words(taught))
        };
        let Some(whole) = whole else { return say!("plan.not-asked-yet", taught = taught) };
        let told = failed.unwrap_or(whole);
        let how = match told.of {
            0 => say!("plan.not-marked-yet"),
            of => say!("plan.of-right", right = told.right, of = of),
        };
        let week = self.weeks.words(told.week);
        let new = if own.is_none() { say!("plan.this-one-is") } else { String::new() };
        if failed.is_some() {
            say!("plan.the-class-failed", week = week, how = how, new = new)
        } else if due {
            say!("plan.last-looked-at", taught = taught, week = week, how = how, new = new)
        } else {
            say!("plan.looked-at-in", taught = taught, week = week, how = how, new = new)
        }
    }
}

//! One year of the programme: what was taught in which week, and its quizzes.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::ground::Id;
use crate::programme::{Plan, Programme};
use crate::records::Word;

/// A year of the programme.
#[derive(Debug)]
pub(super) struct Year<'p> {
    /// The rules in force.
    pub(super) programme: &'p Programme,
    pub(super) is_now: bool,
    /// What keys the chance of this year.
    pub(super) tag: &'static str,
    /// The Monday of week 1.
    pub(super) starts: Date,
    /// What was taught in each week that had teaching.
    pub(super) taught: BTreeMap<u32, Vec<Id>>,
    /// Where its job numbers begin.
    pub(super) jobs: usize,
}

/// The last week of last year's plan that is on record.
const LAST_WEEK_BEFORE: u32 = 31;
/// How many weeks of teaching lie behind the first-years.
pub(super) const WEEKS_OF_TEACHING: usize = 10;
/// The week in which something else was taught than planned, and the week of what was taken instead.
pub(super) const SWAPPED: (u32, u32) = (6, 7);

/// The weeks of a plan with teaching.
fn weeks(plan: &Plan) -> impl Iterator<Item = (u32, &Vec<Id>)> {
    let is_break = |week: u32| plan.breaks.iter().any(|one| *one == week.to_string());
    plan.weeks.iter().map(|(week, ids)| (*week, ids)).filter(move |(week, _)| !is_break(*week))
}

/// The plan's week in which the tenth week of teaching ends.
pub(super) fn last_week(plan: &Plan) -> Option<u32> {
    weeks(plan).nth(WEEKS_OF_TEACHING - 1).map(|(week, _)| week)
}

impl<'p> Year<'p> {
    /// Last year, under the rules of then; the exercises are today's.
    pub(super) fn last(programme: &'p Programme, plan: &Plan, starts: Date) -> Self {
        let taught: BTreeMap<u32, Vec<Id>> =
            weeks(plan).filter(|(week, _)| *week <= LAST_WEEK_BEFORE).map(|(week, ids)| (week, ids.clone())).collect();
        Self { programme, is_now: false, tag: "last", starts, taught, jobs: 0 }
    }

    /// This year so far.
    pub(super) fn this(programme: &'p Programme, plan: &Plan, starts: Date) -> Self {
        let mut taught: BTreeMap<u32, Vec<Id>> =
            weeks(plan).take(WEEKS_OF_TEACHING).map(|(week, ids)| (week, ids.clone())).collect();
        // The first of one week waited for the next; something of that was taken instead.
        let (week, next) = SWAPPED;
        if let (Some(mut early), Some(mut late)) = (taught.remove(&week), taught.remove(&next)) {
            if let (Some(first), Some(last)) = (early.first_mut(), late.last_mut()) {
                std::mem::swap(first, last);
            }
            taught.insert(week, early);
            taught.insert(next, late);
        }
        Self { programme, is_now: true, tag: "this", starts, taught, jobs: 1000 }
    }

    /// What the quiz of a week is called: the year stands with those of last year.
    pub(super) fn quiz_id(&self, week: u32) -> Word {
        if self.is_now { format!("week-{week}") } else { format!("week-{week}-{}", self.starts.year()) }.into()
    }
}

//! Weeks of the plan as days.

use jiff::civil::Date;

use crate::programme::{Plan, Weeks};
use crate::records::Overview;

/// The first day of a week of the plan.
pub(super) fn first_day(plan: &Plan, week: u32) -> Option<Date> {
    Weeks::of(plan).ok()?.first_day(i32::try_from(week).ok()?)
}

/// The week of the plan on a day; `None` before it begins.
pub(super) fn week_on(plan: &Plan, day: Date) -> Option<u32> {
    u32::try_from(Weeks::of(plan).ok()?.of_day(day)).ok().filter(|week| *week > 0)
}

/// The weeks in which the plan has a competency.
pub(super) fn weeks_of<'p>(plan: &'p Plan, competency: &'p str) -> impl Iterator<Item = u32> + 'p {
    plan.weeks.iter().filter(move |(_, ids)| ids.iter().any(|id| id.as_str() == competency)).map(|(week, _)| *week)
}

/// When something was first taught: as recorded, or else as planned.
pub(super) fn taught_on(overview: &Overview<'_>, competency: &str, class: Option<&str>) -> Option<Date> {
    let is_for = |own: &Option<crate::records::Word>| own.is_none() || own.as_deref() == class;
    let recorded = overview
        .history
        .taught
        .iter()
        .filter(|one| one.gone.is_none() && is_for(&one.is.class))
        .filter(|one| one.is.competencies.iter().any(|id| &**id == competency))
        .map(|one| one.claim.seen_on)
        .min();
    let planned = || {
        let plan = overview.programme.plan.as_ref()?;
        let week = weeks_of(plan, competency).min()?;
        let said_otherwise = overview
            .history
            .taught
            .iter()
            .any(|one| one.gone.is_none() && is_for(&one.is.class) && one.is.week == week);
        if said_otherwise { None } else { first_day(plan, week) }
    };
    recorded.or_else(planned)
}

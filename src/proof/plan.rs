//! Whether the plan can yield the evidence that each sign-off rests on.
//!
//! One sealed quiz a week is assumed, from the week in which a competency is
//! first taught to the last week of the plan, breaks left out.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use serde::Serialize;

use crate::ground::{Fault, Faults, Id, Place};
use crate::programme::{Competency, Exercise, Marked, Plan, Programme, Use};

/// The pass mark of a programme that sets none.
const USUAL_PASS_MARK: f64 = 0.8;

/// What the plan can yield.
#[derive(Debug, Clone, Default, Serialize)]
pub struct PlanReport {
    /// For each competency; empty without a plan.
    pub competencies: Vec<Yield>,
    /// How long a quiz is, in minutes.
    pub minutes: u32,
    /// How many weeks a family of exercises rests.
    pub rest: u32,
    /// The weeks whose quiz cannot be filled unless a family comes again before it has rested.
    pub short: Vec<u32>,
}

/// What the plan can yield for one competency.
#[derive(Debug, Clone, Serialize)]
pub struct Yield {
    /// The competency.
    pub id: String,
    /// The first week in which it is taught; `None` if it never is.
    pub taught: Option<u32>,
    /// How many quizzes follow from that week on.
    pub quizzes: usize,
    /// How many families of exercises quizzes may use.
    pub families: usize,
    /// How many sealed exercises these can yield until the end of the plan.
    pub can_yield: usize,
    /// How many its sign-off rests on.
    pub rests_on: u32,
}

/// What of a competency quizzes may use.
struct Stock<'a> {
    competency: &'a Competency,
    taught: Option<u32>,
    /// Whether it has any exercise; that it has none is told elsewhere.
    has_exercises: bool,
    /// Each with the length of one of its exercises, in minutes.
    families: BTreeMap<&'a Id, u32>,
    /// The mean length of those exercises, in minutes.
    minutes: f64,
}

impl Stock<'_> {
    fn marked(&self) -> Option<&Marked> {
        self.competency.rests_on.as_ref()?.marked.as_ref()
    }
}

/// Checks the plan, if there is one.
pub(super) fn check(programme: &Programme, faults: &mut Faults) -> PlanReport {
    let Some(plan) = &programme.plan else { return PlanReport::default() };
    let quizzes = quiz_weeks(plan);
    let first_taught = first_taught(plan);
    let stocks: Vec<Stock<'_>> = programme.competencies().map(|one| stock(programme, one, &first_taught)).collect();
    let pass_mark = programme.about.pass_mark.as_ref().map_or(USUAL_PASS_MARK, |(share, _)| *share);
    let mut reports = Vec::new();
    for stock in &stocks {
        let report = report(stock, plan, &quizzes);
        for (message, mend) in lacks(stock, &report, pass_mark, &first_taught) {
            let place = Place {
                file: Some(plan.file.clone()),
                exercise: Some(stock.competency.id.to_string()),
                ..Place::default()
            };
            faults.push(Fault::new("plan", message, mend).at(place));
        }
        reports.push(report);
    }
    time_enough(&stocks, plan, &quizzes, faults);
    PlanReport {
        competencies: reports,
        minutes: plan.minutes,
        rest: plan.not_again_for,
        short: short_weeks(&stocks, plan, &quizzes),
    }
}

/// The weeks with a quiz: those of the plan but for breaks, which are weeks or
/// dates in them.
fn quiz_weeks(plan: &Plan) -> BTreeSet<u32> {
    let last = plan.weeks.keys().max().copied().unwrap_or(0);
    let starts = plan.starts.parse::<Date>().ok();
    let week_of = |text: &str| {
        text.parse().ok().or_else(|| {
            let days = (text.parse::<Date>().ok()? - starts?).get_days();
            u32::try_from(days.div_euclid(7) + 1).ok()
        })
    };
    let breaks: BTreeSet<u32> = plan.breaks.iter().filter_map(|text| week_of(text)).collect();
    (1..=last).filter(|week| !breaks.contains(week)).collect()
}

/// The weeks whose quiz stays shorter than planned when each is filled with the
/// families that have rested longest.
fn short_weeks(stocks: &[Stock<'_>], plan: &Plan, quizzes: &BTreeSet<u32>) -> Vec<u32> {
    let mut last_used: BTreeMap<&Id, u32> = BTreeMap::new();
    let mut short = Vec::new();
    for week in quizzes {
        let taught = stocks.iter().filter(|stock| stock.taught.is_some_and(|taught| taught <= *week));
        let mut rested: Vec<(Option<u32>, &Id, u32)> = taught
            .flat_map(|stock| &stock.families)
            .map(|(family, minutes)| (last_used.get(family).copied(), *family, *minutes))
            .filter(|(used, ..)| used.is_none_or(|used| week - used > plan.not_again_for))
            .collect();
        rested.sort_unstable();
        let (mut left, mut shortest) = (plan.minutes, u32::MAX);
        for (_, family, minutes) in rested {
            shortest = shortest.min(minutes);
            if minutes <= left {
                left -= minutes;
                last_used.insert(family, *week);
            }
        }
        // Less than the shortest exercise is no gap.
        if left >= shortest.min(plan.minutes) || (shortest == u32::MAX && left > 0) {
            short.push(*week);
        }
    }
    short
}

fn first_taught(plan: &Plan) -> BTreeMap<&Id, u32> {
    let mut first = BTreeMap::new();
    for (week, ids) in &plan.weeks {
        for id in ids {
            first.entry(id).or_insert(*week);
        }
    }
    first
}

fn stock<'a>(programme: &'a Programme, competency: &'a Competency, first_taught: &BTreeMap<&Id, u32>) -> Stock<'a> {
    let usable: Vec<&Exercise> =
        programme.exercises_of(&competency.id).filter(|exercise| exercise.used_in != Use::Practice).collect();
    let minutes: u32 = usable.iter().map(|exercise| exercise.minutes).sum();
    let count = u32::try_from(usable.len()).unwrap_or(u32::MAX);
    Stock {
        competency,
        taught: first_taught.get(&competency.id).copied(),
        has_exercises: programme.exercises_of(&competency.id).next().is_some(),
        families: usable.iter().map(|exercise| (&exercise.family, exercise.minutes)).collect(),
        minutes: f64::from(minutes) / f64::from(count.max(1)),
    }
}

fn report(stock: &Stock<'_>, plan: &Plan, quizzes: &BTreeSet<u32>) -> Yield {
    let left = stock.taught.map_or(0, |week| quizzes.range(week..).count());
    // A family comes again when the weeks in which it must rest are over.
    let rounds = left.div_ceil(plan.not_again_for as usize + 1);
    Yield {
        id: stock.competency.id.to_string(),
        taught: stock.taught,
        quizzes: left,
        families: stock.families.len(),
        can_yield: stock.families.len() * rounds,
        rests_on: stock.marked().map_or(0, |marked| marked.at_least),
    }
}

/// What stands in the way of a sign-off, each with its mend.
fn lacks(
    stock: &Stock<'_>,
    report: &Yield,
    pass_mark: f64,
    first_taught: &BTreeMap<&Id, u32>,
) -> Vec<(String, &'static str)> {
    let id = &stock.competency.id;
    if !stock.has_exercises {
        return Vec::new();
    }
    let Some(taught) = stock.taught else {
        return vec![(format!("`{id}` is never taught"), "give it a week in `weeks:`")];
    };
    let mut lacks = Vec::new();
    for need in &stock.competency.needs {
        if first_taught.get(need).is_some_and(|week| *week > taught) {
            let message = format!("`{id}` is taught in week {taught}, before `{need}`, which it needs");
            lacks.push((message, "teach what is needed first"));
        }
    }
    if let Some(marked) = stock.marked() {
        if report.quizzes < marked.days as usize {
            let message = format!(
                "`{id}` is taught in week {taught}, and its sign-off rests on {} days of marked work: {} quizzes are left",
                marked.days, report.quizzes
            );
            lacks.push((message, "teach it earlier, or let the sign-off rest on fewer days"));
        }
        if report.can_yield < marked.at_least as usize {
            let message = format!(
                "the sign-off of `{id}` rests on {} marked exercises; {} families in {} quizzes yield {}",
                marked.at_least, report.families, report.quizzes, report.can_yield
            );
            lacks.push((message, "write more exercises with `use: quiz` or `both`, or teach it earlier"));
        }
        let most = most_sure(pass_mark, report.can_yield);
        if marked.sureness.is_some_and(|sureness| most < sureness) {
            let message = format!("with {} exercises all right, `{id}` is {most:.2} sure at most", report.can_yield);
            lacks.push((message, "ask for less sureness, or write more exercises"));
        }
    }
    let planned = stock.competency.hours.unwrap_or(0.0);
    let wanted = stock.competency.rests_on.as_ref().and_then(|rests| rests.hours).unwrap_or(0.0);
    if wanted > planned {
        let message = format!("the sign-off of `{id}` rests on {wanted} h, but {planned} h are planned");
        lacks.push((message, "plan more hours, or let it rest on fewer"));
    }
    lacks
}

/// How sure `count` right answers out of `count` make one that the true rate is
/// above the pass mark: the posterior of a uniform prior, which is Beta(n + 1, 1).
fn most_sure(pass_mark: f64, count: usize) -> f64 {
    let mut below = pass_mark;
    for _ in 0..count {
        below *= pass_mark;
    }
    1.0 - below
}

/// Whether, from each week on, what is still to be shown fits into the quizzes left.
fn time_enough(stocks: &[Stock<'_>], plan: &Plan, quizzes: &BTreeSet<u32>, faults: &mut Faults) {
    let demand = |from: u32| -> f64 {
        let late = stocks.iter().filter(|stock| stock.taught.is_some_and(|week| week >= from));
        late.map(|stock| stock.minutes * f64::from(stock.marked().map_or(0, |marked| marked.at_least))).sum()
    };
    let short = plan.weeks.keys().rev().find_map(|week| {
        let left = u32::try_from(quizzes.range(*week..).count()).unwrap_or(u32::MAX);
        let (wanted, there) = (demand(*week), f64::from(left) * f64::from(plan.minutes));
        (wanted > there).then_some((*week, wanted, there))
    });
    if let Some((week, wanted, there)) = short {
        let message = format!(
            "what is taught from week {week} on needs {wanted:.0} minutes of marked work; the quizzes left have {there:.0}"
        );
        let place = Place { file: Some(plan.file.clone()), ..Place::default() };
        let mend =
            "teach more of it earlier, lengthen the quizzes (`minutes:`), or let sign-offs rest on fewer exercises";
        faults.push(Fault::new("plan", message, mend).at(place));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn right_answers_make_sure_as_the_beta_distribution_says() {
        // scipy 1.17.1: beta.sf(0.8, n + 1, 1).
        for (count, want) in [(0, 0.2), (1, 0.36), (3, 0.5904), (8, 0.865_782_272), (20, 0.990_776_627_966)] {
            assert!((most_sure(0.8, count) - want).abs() < 1e-9, "{count}");
        }
    }
}

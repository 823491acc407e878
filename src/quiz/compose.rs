//! Composing a quiz.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::arrange::arrange;
use super::candidate::{Candidate, Judge};
use super::composition::Constraint;
use super::composition::{Composition, Group, Pick, StageShare};
use super::gave_way::Told;
use super::limits::{GivenUp, Limits, SHARE_LEEWAY, Shares, Tally};
use super::past::{Asked, Past};
use super::pool::Pool;
use super::search::{Reach, Search};
use super::taught::{Names, last_taught};
use super::wanted;
use super::wishes;
use crate::ground::say;
use crate::ground::{Fault, Faults, Id};
use crate::programme::Weeks;
use crate::programme::{Exercise, Level, Plan, Programme};
use crate::records::{History, Word};

/// What a quiz is asked for.
#[derive(Debug, Clone, Copy)]
pub struct Request<'a> {
    /// The programme, with its banks and its plan.
    pub programme: &'a Programme,
    /// What is on record; nothing in the first week.
    pub history: Option<&'a History>,
    /// What each issued quiz asked, from its snapshot ([`asked_in`](super::asked_in)). A
    /// quiz that is not here is known by its marks.
    pub asked: &'a BTreeMap<Word, Vec<Asked>>,
    /// The week of the plan, 1 to 999.
    pub week: u32,
    /// The day: what was seen after it does not count.
    pub day: Date,
    /// How long the quiz may take, 1 to 480 minutes.
    pub minutes: u32,
    /// Exercises that must come.
    pub with: &'a [String],
    /// Exercises that must not.
    pub without: &'a [String],
    /// The competency that alone is asked for.
    pub only: Option<&'a str>,
    /// Breaks ties: the same seed and records, the same quiz.
    pub seed: &'a str,
}

/// Composes a quiz: never more minutes than asked for, only what was taught, no
/// family twice or before it has rested; mixing, levels, shares and gaps as far
/// as that leaves room.
///
/// # Errors
/// All [`Faults`] of the request (an exercise that must come and may not, an
/// unknown name), or one if there is no plan, nothing was taught yet, or
/// nothing may come this week.
pub fn compose(request: &Request<'_>) -> Result<Composition, Faults> {
    let one = |fault: Fault| Faults(vec![fault]);
    let plan = request.programme.plan.as_ref().ok_or_else(|| {
        one(Fault::new("quiz", "the programme has no plan", "write `curriculum/plan.yaml`: when is what taught?"))
    })?;
    let weeks = Weeks::of(plan).map_err(one)?;
    let names = Names::of(request.programme, request.history);
    let when = (request.week, request.day);
    let mut faults = Vec::new();
    wanted::numbers(request, &mut faults);
    if !faults.is_empty() {
        return Err(Faults(faults));
    }
    let taught = last_taught(plan, &weeks, &names, request.history, when);
    if taught.is_empty() {
        return Err(one(Fault::new(
            "quiz",
            format!("nothing was taught by week {}", request.week),
            "a quiz asks what was taught: see `weeks:` in the plan, or `gearside record taught`",
        )));
    }
    let exercises: BTreeMap<&str, &Exercise> =
        request.programme.exercises().map(|exercise| (exercise.id.as_str(), exercise)).collect();
    let past = request
        .history
        .map_or_else(Past::default, |history| Past::of(&exercises, history, request.asked, (&weeks, &names), when));
    let rests_on = rests_on(request.programme);
    let judge = Judge {
        plan,
        weeks: &weeks,
        taught: &taught,
        past: &past,
        rests_on: &rests_on,
        week: request.week,
        minutes: request.minutes,
    };
    let only = wanted::only(request, &judge, &mut faults);
    let with = wanted::with(request, &judge, &exercises, &mut faults);
    if !faults.is_empty() {
        return Err(Faults(faults));
    }
    let pool = Pool::of(request, &judge, only.as_ref(), exercises.values().copied(), &with);
    if pool.candidates.is_empty() {
        let why = pool.resting_in_words(plan);
        return Err(one(Fault::new(
            "quiz",
            format!("nothing may come in the quiz of week {}{why}", request.week),
            "name another week, write more exercises with `use: quiz` or `both`, or shorten `not_again_for:`",
        )));
    }
    let planned = planned(request.programme, plan, &taught, only.as_ref());
    Ok(pool.compose(request, plan, planned))
}

/// How many marked exercises the sign-off of each competency rests on.
fn rests_on(programme: &Programme) -> BTreeMap<&Id, u32> {
    let marked = |one: &'_ crate::programme::Competency| Some(one.rests_on.as_ref()?.marked.as_ref()?.at_least);
    programme.competencies().filter_map(|one| Some((&one.id, marked(one)?))).collect()
}

/// The share of each stage among those of which something was taught; empty if the plan has none.
fn planned(programme: &Programme, plan: &Plan, taught: &BTreeMap<Id, i32>, only: Option<&Id>) -> Vec<f64> {
    let counts = |id: &Id| only.map_or_else(|| taught.contains_key(id), |only| only == id);
    let share = |stage: &crate::programme::Stage| {
        let own = plan.shares.iter().find(|(id, _)| *id == stage.id).map_or(0.0, |(_, share)| *share);
        if stage.competencies.iter().any(|competency| counts(&competency.id)) { own } else { 0.0 }
    };
    let shares: Vec<f64> = programme.stages.iter().map(share).collect();
    let whole: f64 = shares.iter().sum();
    if whole > 0.0 { shares.into_iter().map(|share| share / whole).collect() } else { Vec::new() }
}

impl Pool<'_> {
    /// What comes after the shares of the plan when these are given up, each
    /// nearer to nothing than the one before: the shares that what may come can
    /// reach, the same with twice the leeway, none.
    fn instead_of(&self, shares: &Shares, minutes: u32) -> [Shares; 3] {
        let mut there = vec![0; shares.planned.len()];
        let mut longest: BTreeMap<&Id, (usize, u32)> = BTreeMap::new();
        for candidate in self.candidates.iter().filter(|candidate| candidate.due || candidate.asked_for) {
            let family = longest.entry(&candidate.exercise.family).or_insert((candidate.stage, 0));
            family.1 = family.1.max(candidate.minutes());
        }
        for (stage, minutes) in longest.into_values() {
            if let Some(stage) = there.get_mut(stage) {
                *stage += minutes;
            }
        }
        let planned = shares.within(&there, minutes);
        let wide = Shares { planned: planned.clone(), leeway: 2.0 * SHARE_LEEWAY };
        [Shares { planned, leeway: SHARE_LEEWAY }, wide, Shares::NONE]
    }

    /// The first set along the wishes that fills the time, with as little given
    /// up as can be.
    fn search(&self, limits: &Limits, wishes: &[Vec<usize>], start: &Tally) -> Vec<usize> {
        let instead = self.instead_of(&limits.shares, limits.minutes);
        let asked = std::slice::from_ref(&limits.shares);
        let found = GivenUp::in_order().find_map(|given_up| {
            let shares = if given_up.has(Constraint::Shares) { &instead } else { asked };
            shares.iter().find_map(|shares| {
                let limits = Limits { shares: shares.clone(), ..*limits };
                Search::new(&self.candidates, &limits, wishes, given_up).run(start)
            })
        });
        found.unwrap_or_default()
    }

    fn compose(&self, request: &Request<'_>, plan: &Plan, planned: Vec<f64>) -> Composition {
        let stages = request.programme.stages.len();
        let mut start = Tally::new(stages, self.formulas.len());
        self.start.iter().for_each(|index| start.add(&self.candidates[*index]));
        let shares = Shares { planned, leeway: SHARE_LEEWAY };
        let [reachable, ..] = self.instead_of(&shares, request.minutes);
        let wishes = wishes::order(&self.candidates, &self.start, &reachable.planned, stages);
        let within = request.minutes - start.minutes;
        let most = start.minutes + Reach::of(&wishes, &self.candidates, within).most(0, within);
        // Nine tenths of the time, or all there is.
        let target = (request.minutes * 9).div_ceil(10).min(most);
        let limits = Limits { minutes: request.minutes, target, shares };
        let found = self.search(&limits, &wishes, &start);
        let set: Vec<usize> = self.start.iter().copied().chain(found).collect();
        let mut tally = Tally::new(stages, self.formulas.len());
        set.iter().for_each(|index| tally.add(&self.candidates[*index]));
        let order = arrange(&self.candidates, set);
        let picks: Vec<Pick> = order.iter().map(|index| self.pick(request.programme, *index)).collect();
        let shares = stage_shares(request.programme, &limits, &tally, &self.candidates);
        let due: Vec<Vec<usize>> = wishes
            .iter()
            .map(|family| family.iter().copied().filter(|one| self.candidates[*one].due).collect())
            .collect();
        let due = start.minutes + Reach::of(&due, &self.candidates, within).most(0, within);
        let told = Told { picks: &picks, shares: &shares, limits: &limits, tally: &tally, gap: plan.gap, due };
        let gave_way = told.gave_way();
        let short = (10 * tally.minutes < 9 * request.minutes).then(|| {
            let why = self.resting_in_words(plan);
            say!("plan.minutes-filled", minutes = tally.minutes, wanted = request.minutes, why = why)
        });
        let groups = Group::ALL
            .map(|group| (group, picks.iter().filter(|pick| pick.group == group).map(|pick| pick.minutes).sum()));
        let levels = [Level::Recall, Level::Apply, Level::Judge].into_iter().zip(tally.levels).collect();
        Composition {
            week: request.week,
            wanted: request.minutes,
            minutes: tally.minutes,
            shares,
            groups: groups.to_vec(),
            levels,
            gave_way,
            short,
            picks,
        }
    }

    fn pick(&self, programme: &Programme, index: usize) -> Pick {
        let candidate = &self.candidates[index];
        let exercise = candidate.exercise;
        Pick {
            exercise: exercise.id.to_string(),
            title: exercise.title.clone(),
            family: exercise.family.to_string(),
            competency: exercise.competency.to_string(),
            stage: programme.stages[candidate.stage].id.to_string(),
            minutes: candidate.minutes(),
            level: exercise.level,
            formula: candidate.formula.map(|formula| self.formulas[formula].clone()),
            group: candidate.group,
            due: candidate.due,
            asked_for: candidate.asked_for,
            reason: candidate.reason.clone(),
        }
    }
}

/// The stages that have a share or minutes.
fn stage_shares(
    programme: &Programme,
    limits: &Limits,
    tally: &Tally,
    candidates: &[Candidate<'_>],
) -> Vec<StageShare> {
    let whole = f64::from(tally.minutes.max(1));
    let share = |(index, stage): (usize, &crate::programme::Stage)| {
        let planned = limits.shares.planned.get(index).copied();
        let may_come = candidates.iter().any(|candidate| candidate.stage == index);
        (may_come || planned.is_some_and(|planned| planned > 0.0)).then(|| StageShare {
            stage: stage.id.to_string(),
            title: stage.title.clone(),
            minutes: tally.stages[index],
            share: f64::from(tally.stages[index]) / whole,
            planned,
        })
    };
    programme.stages.iter().enumerate().filter_map(share).collect()
}

//! Every pull of a numeric exercise: finite, in range, apart, and within
//! reach of a pocket calculator.

use std::collections::BTreeSet;

use super::report::ExerciseReport;
use super::{MOST_COMBINATIONS, SEED};
use crate::formula::{Stack, Values};
use crate::ground::Fault;
use crate::marking::half_width;
use crate::programme::{Exercise, Form};
use crate::pull::{Figures, Key, Printer, combination, combinations, figures, key, pictured, shown_names};

/// The least number of distinct pulls of a numeric exercise.
const LEAST_DISTINCT: u64 = 50;
/// The share of pulls in which each wrong turn must stand apart from the key.
const LEAST_APART: f64 = 0.9;
/// Relative room for the dust of binary arithmetic.
const DUST: f64 = 1e-9;

/// The running tally over all pulls of one exercise.
struct Tally<'a> {
    exercise: &'a Exercise,
    printer: Printer,
    shown: Vec<usize>,
    /// The steps whose values matter: those asked for.
    asked: Vec<usize>,
    pulls: u64,
    distinct: BTreeSet<Vec<String>>,
    /// For each wrong turn: in how many pulls it stands apart.
    apart: Vec<u64>,
    margin: f64,
    keys: Option<(f64, f64)>,
    /// The kinds of failure already told: one pull of each is enough.
    told: BTreeSet<&'static str>,
    /// A pull in which a wrong turn fell together with the key.
    together: Vec<Option<String>>,
}

/// Checks an exercise with numbers.
pub(super) fn check(exercise: &Exercise, pulls: u64, printer: Printer, faults: &mut Vec<Fault>) -> ExerciseReport {
    let asked = match &exercise.form {
        Form::Numeric(numeric) => numeric.answers.clone(),
        _ => (0..exercise.reckoning.steps.len()).collect(),
    };
    let names = &exercise.reckoning.names;
    let pictured = exercise.picture.iter().flat_map(|picture| picture.names.iter().cloned());
    let shown = shown_names(exercise).into_iter().chain(pictured);
    let shown = shown.filter_map(|name| names.get(&name).map(|entry| entry.print)).collect();
    let turns = exercise.reckoning.turns.len();
    let mut tally = Tally {
        exercise,
        printer,
        shown,
        asked,
        pulls: 0,
        distinct: BTreeSet::new(),
        apart: vec![0; turns],
        margin: 0.0,
        keys: None,
        told: BTreeSet::new(),
        together: vec![None; turns],
    };
    let all = combinations(exercise, MOST_COMBINATIONS);
    match all {
        Some(count) => (0..count)
            .filter_map(|index| combination(exercise, index, printer))
            .for_each(|figures| tally.take(&figures, faults)),
        None => {
            for number in 0..pulls {
                match figures(exercise, SEED, number, printer) {
                    Ok(figures) => tally.take(&figures, faults),
                    Err(fault) => {
                        faults.push(fault);
                        break;
                    }
                }
            }
        }
    }
    if tally.pulls == 0 && faults.is_empty() {
        faults.push(exercise_fault(
            exercise,
            "only-if",
            "no combination of the givens meets `only_if`",
            "loosen the condition, or widen the givens",
        ));
    }
    tally.close(all.is_some(), faults)
}

fn exercise_fault(
    exercise: &Exercise,
    kind: &'static str,
    message: impl Into<String>,
    mend: impl Into<String>,
) -> Fault {
    Fault::new(kind, message, mend).at(exercise.place.clone())
}

impl Tally<'_> {
    fn take(&mut self, figures: &Figures, faults: &mut Vec<Fault>) {
        self.pulls += 1;
        self.distinct.insert(self.shown.iter().map(|print| figures.printed[*print].clone()).collect());
        let mut stack = Stack::default();
        let key = key(self.exercise, figures);
        if !self.finite_and_in_range(figures, &key, faults) {
            return;
        }
        self.sane(figures, &key, faults);
        self.drawable(figures, faults);
        self.wrong_turns(figures, &key);
        self.pocket_calculator(figures, &key, &mut stack, faults);
    }

    /// Tells one failure of each kind, with all that is needed to see it again.
    fn tell(&mut self, kind: &'static str, what: &str, mend: &str, figures: &Figures, faults: &mut Vec<Fault>) {
        if self.told.insert(kind) {
            let message = format!("{what}; {}", self.givens(figures));
            faults.push(exercise_fault(self.exercise, kind, message, mend));
        }
    }

    /// The givens of a pull, and how `show` replays it.
    fn givens(&self, figures: &Figures) -> String {
        let names = self.exercise.reckoning.names.in_print_order();
        let list = names
            .iter()
            .zip(&figures.printed)
            .filter(|(name, _)| self.exercise.reckoning.names.get(name).is_some_and(|entry| !entry.is_step));
        let list = list.map(|(name, text)| format!("{name} = {text}")).collect::<Vec<_>>().join(", ");
        let replay = (0..2000).find(|number| {
            crate::pull::figures(self.exercise, SEED, *number, self.printer)
                .is_ok_and(|other| other.printed == figures.printed)
        });
        let replay = replay.map_or_else(String::new, |number| {
            format!(" (see `gearside show {} --seed {SEED} --pull {number}`)", self.exercise.id)
        });
        format!("givens: {list}{replay}")
    }

    /// Check 1: every step finite and, unless the author means to leave it,
    /// every calculation inside its range.
    fn finite_and_in_range(&mut self, figures: &Figures, key: &Key, faults: &mut Vec<Fault>) -> bool {
        for (step, value) in self.exercise.reckoning.steps.iter().zip(&key.steps) {
            if !value.si.is_finite() {
                let what = format!("the step `{}` has no finite value", step.name);
                let mend = "keep the givens away from a division by zero, or the like";
                self.tell("not-finite", &what, mend, figures, faults);
                return false;
            }
            if let Some(remark) = value.remarks.first().filter(|_| !self.exercise.beyond_range) {
                let what = format!("the step `{}` leaves the range of its calculation: {remark}", step.name);
                let mend = "choose givens that stay in the range, or say `beyond_range: true` if that is the lesson";
                self.tell("out-of-range", &what, mend, figures, faults);
            }
        }
        true
    }

    /// Check 1: the last answer lies in `sane`.
    fn sane(&mut self, figures: &Figures, key: &Key, faults: &mut Vec<Fault>) {
        let Form::Numeric(numeric) = &self.exercise.form else { return };
        let Some(last) = self.asked.last().and_then(|step| key.steps.get(*step)) else { return };
        let (low, high) = numeric.sane;
        let room = DUST * last.si.abs();
        if last.si < low - room || high + room < last.si {
            let what = format!("the key {} lies outside `sane: {}`", last.printed, numeric.sane_text);
            self.tell("not-sane", &what, "narrow the givens, or say what is sane", figures, faults);
        }
        let (least, most) = self.keys.unwrap_or((last.in_unit, last.in_unit));
        self.keys = Some((least.min(last.in_unit), most.max(last.in_unit)));
    }

    /// Check 1: the figure can draw what it is given.
    fn drawable(&mut self, figures: &Figures, faults: &mut Vec<Fault>) {
        let Some(pictured) = pictured(self.exercise, figures, SEED, self.pulls) else { return };
        if let Some((name, value)) = pictured.beyond().next() {
            let what = format!("the figure `{}` cannot draw `{name}` at {value}", pictured.figure.name);
            self.tell("not-drawable", &what, "narrow the givens; the gallery says what it takes", figures, faults);
        }
    }

    /// Check 2: how often each wrong turn stands apart from the key, at the first answer it reaches.
    fn wrong_turns(&mut self, figures: &Figures, key: &Key) {
        for turn in 0..self.apart.len() {
            let at = self.exercise.reckoning.turns[turn].at;
            let Some(&step) = self.asked.iter().find(|step| **step >= at) else { continue };
            let Some(value) = key.turns.iter().find(|value| value.turn == turn && value.step == step) else { continue };
            let asked = &self.exercise.reckoning.steps[step];
            let right = key.steps[step].in_unit;
            let half = half_width(asked, right).max(asked.shown_to.value() / 2.0);
            if !value.in_unit.is_finite() || (value.in_unit - right).abs() > half * (1.0 + DUST) {
                self.apart[turn] += 1;
            } else if self.together[turn].is_none() {
                self.together[turn] = Some(format!(
                    "key {}, wrong turn {}; {}",
                    key.steps[step].printed,
                    self.printer.step(asked, asked.to_si(value.in_unit)),
                    self.givens(figures)
                ));
            }
        }
    }

    /// Check 3: with every step rounded to its shown place, as on a pocket calculator, the
    /// answers are still within half of the leeway.
    fn pocket_calculator(&mut self, figures: &Figures, key: &Key, stack: &mut Stack, faults: &mut Vec<Fault>) {
        let reckoning = &self.exercise.reckoning;
        let first = reckoning.names.scalars() - reckoning.steps.len();
        let mut scalars = figures.scalars.clone();
        for (index, step) in reckoning.steps.iter().enumerate() {
            let si = step.formula.evaluate(&Values { scalars: &scalars, series: &figures.series }, stack);
            let rounded = step.shown_to.nearest(step.in_unit(si));
            scalars[first + index] = step.to_si(rounded.value());
            if !self.asked.contains(&index) || !matches!(self.exercise.form, Form::Numeric(_)) {
                continue;
            }
            let right = key.steps[index].in_unit;
            let allowed = half_width(step, right) / 2.0;
            let off = (rounded.value() - right).abs();
            let used = if off <= DUST * right.abs() { 0.0 } else { off / allowed };
            self.margin = self.margin.max(used);
            if used > 1.0 + DUST {
                let what = format!(
                    "a pocket calculator gives {} for `{}`, where the key is {right}: more than half of the leeway away",
                    self.printer.quantity(rounded, step.unit, false),
                    step.name
                );
                self.tell(
                    "pocket-calculator",
                    &what,
                    "show the steps to more places, or widen the leeway",
                    figures,
                    faults,
                );
                return;
            }
        }
    }

    /// Checks 2 and 4, once all pulls are seen, and the report.
    fn close(self, all: bool, faults: &mut Vec<Fault>) -> ExerciseReport {
        let numeric = matches!(self.exercise.form, Form::Numeric(_));
        let distinct = self.distinct.len() as u64;
        if numeric && self.pulls > 0 && distinct < LEAST_DISTINCT {
            let message = format!("only {distinct} pulls differ in what is printed");
            faults.push(exercise_fault(
                self.exercise,
                "too-few-pulls",
                message,
                format!("widen the givens: at least {LEAST_DISTINCT} are needed"),
            ));
        }
        #[expect(clippy::cast_precision_loss, reason = "counts of pulls are far below 2^53")]
        let share = |count: u64| count as f64 / self.pulls.max(1) as f64;
        let used_by_options = |turn: usize| match &self.exercise.form {
            Form::Choose(choose) => choose.options.iter().any(
                |option| matches!(option.says, crate::programme::Says::Value { turn: Some(one), .. } if one == turn),
            ),
            _ => true,
        };
        for (turn, apart) in self.apart.iter().enumerate() {
            if self.pulls > 0 && used_by_options(turn) && share(*apart) < LEAST_APART {
                let seen = self.together[turn].as_deref().unwrap_or_default();
                let message = format!(
                    "the wrong turn `{}` stands apart from the key in only {:.0} % of the pulls ({seen})",
                    self.exercise.reckoning.turns[turn].name,
                    share(*apart) * 100.0
                );
                faults.push(exercise_fault(
                    self.exercise,
                    "wrong-turn-too-near",
                    message,
                    "choose givens that tell the two apart, or drop the wrong turn",
                ));
            }
        }
        let print = |value: f64| {
            let step = &self.exercise.reckoning.steps[*self.asked.last().unwrap_or(&0)];
            self.printer.step(step, step.to_si(value))
        };
        ExerciseReport {
            id: self.exercise.id.to_string(),
            kind: self.exercise.form.written(),
            pulls: self.pulls,
            all,
            distinct,
            separation: self.apart.iter().map(|apart| share(*apart)).reduce(f64::min),
            margin: numeric.then_some(self.margin),
            sane: match &self.exercise.form {
                Form::Numeric(numeric) => Some(numeric.sane_text.clone()),
                _ => None,
            },
            keys: self.keys.map(|(least, most)| (print(least), print(most))),
            ..ExerciseReport::default()
        }
    }
}

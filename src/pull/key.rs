//! The key side of a pull: step values and wrong turns.

use super::figures::{Figures, follow};
use crate::formula::Stack;
use crate::programme::{Exercise, Form};

/// The key side of one pull.
#[derive(Debug, Clone, Default)]
pub struct Key {
    /// The value of each step.
    pub steps: Vec<StepValue>,
    /// For each step asked for (or each step, in a choice), the wrong turns that reach it.
    pub turns: Vec<TurnValue>,
}

/// The value of a step.
#[derive(Debug, Clone)]
pub struct StepValue {
    /// In SI.
    pub si: f64,
    /// In the step's unit, unrounded.
    pub in_unit: f64,
    /// As printed at its shown place.
    pub printed: String,
    /// A sentence for each value in it that leaves the range of its calculation.
    pub remarks: Vec<String>,
}

/// Where a wrong turn leads in this pull.
#[derive(Debug, Clone)]
pub struct TurnValue {
    /// The index of the turn.
    pub turn: usize,
    /// The index of the step whose value this is.
    pub step: usize,
    /// The wrong value in the step's unit; not finite where the turn breaks down.
    pub in_unit: f64,
}

/// The key side of a pull; it prints nothing anew.
#[must_use]
pub fn key(exercise: &Exercise, figures: &Figures) -> Key {
    key_on_road(exercise, figures, &mut Stack::default()).0
}

/// The same, and the road to it: the calculations that are carried out, and
/// behind those of each step whether they stay within their range.
pub(super) fn key_on_road(exercise: &Exercise, figures: &Figures, stack: &mut Stack) -> (Key, Vec<&'static str>) {
    let reckoning = &exercise.reckoning;
    let first = reckoning.names.scalars() - reckoning.steps.len();
    let printed = &figures.printed[figures.printed.len().saturating_sub(reckoning.steps.len())..];
    let mut steps = Vec::with_capacity(reckoning.steps.len());
    let mut road = Vec::with_capacity(2 * reckoning.steps.len());
    for ((step, si), printed) in reckoning.steps.iter().zip(&figures.scalars[first..]).zip(printed) {
        let mut remarks = Vec::new();
        step.formula.evaluate_watched(&figures.values(), stack, &mut |calculation, arguments, result| {
            road.push(calculation.name);
            if !calculation.in_range(arguments, result) {
                remarks.extend(calculation.remarks(arguments, result));
            }
        });
        road.push(if remarks.is_empty() { "within range" } else { "beyond range" });
        steps.push(StepValue { si: *si, in_unit: step.in_unit(*si), printed: printed.clone(), remarks });
    }
    (Key { steps, turns: turns(exercise, figures, stack) }, road)
}

/// Where the wrong turns lead: each in turn, at every answer that it reaches.
fn turns(exercise: &Exercise, figures: &Figures, stack: &mut Stack) -> Vec<TurnValue> {
    let reckoning = &exercise.reckoning;
    let all: Vec<usize> = (0..reckoning.steps.len()).collect();
    let asked = match &exercise.form {
        Form::Numeric(numeric) => numeric.answers.as_slice(),
        Form::Order(_) | Form::Rounds(_) => &[],
        Form::Choose(_) => &all,
    };
    let mut turns = Vec::with_capacity(reckoning.turns.len() * asked.len());
    let mut scratch = Vec::new();
    for (index, turn) in reckoning.turns.iter().enumerate() {
        let wrong = turn.formula.evaluate(&figures.values(), stack);
        for &step in asked.iter().filter(|step| **step >= turn.at) {
            let si = follow(reckoning, figures, turn.at, wrong, step, &mut scratch, stack);
            turns.push(TurnValue { turn: index, step, in_unit: reckoning.steps[step].in_unit(si) });
        }
    }
    turns
}

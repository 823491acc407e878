//! The key side of a pull: step values and wrong turns.

use super::figures::{Figures, follow};
use super::printing::Printer;
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

/// The key side of a pull.
#[must_use]
pub fn key(exercise: &Exercise, figures: &Figures, printer: Printer) -> Key {
    let reckoning = &exercise.reckoning;
    let first = reckoning.names.scalars() - reckoning.steps.len();
    let (mut scratch, mut stack) = (Vec::new(), Stack::default());
    let mut steps = Vec::new();
    for (step, si) in reckoning.steps.iter().zip(&figures.scalars[first..]) {
        let mut remarks = Vec::new();
        step.formula.evaluate_watched(&figures.values(), &mut stack, &mut |calculation, arguments, result| {
            if !calculation.in_range(arguments, result) {
                remarks.extend(calculation.remarks(arguments, result));
            }
        });
        steps.push(StepValue { si: *si, in_unit: step.in_unit(*si), printed: printer.step(step, *si), remarks });
    }
    let asked: Vec<usize> = match &exercise.form {
        Form::Numeric(numeric) => numeric.answers.clone(),
        Form::Order(_) => Vec::new(),
        Form::Choose(_) => (0..reckoning.steps.len()).collect(),
    };
    let mut turns = Vec::new();
    for (index, turn) in reckoning.turns.iter().enumerate() {
        let wrong = turn.formula.evaluate(&figures.values(), &mut stack);
        for &step in asked.iter().filter(|step| **step >= turn.at) {
            let si = follow(reckoning, figures, turn.at, wrong, step, &mut scratch, &mut stack);
            turns.push(TurnValue { turn: index, step, in_unit: reckoning.steps[step].in_unit(si) });
        }
    }
    Key { steps, turns }
}

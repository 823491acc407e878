//! One exercise in one quiz: counts always, the rest where the class can carry it.

use serde::Serialize;

use super::answers::Answers;
use super::reliability::{mean, rest_correlation};
use super::{ENOUGH, WhyNot, wilson};
use crate::marking::{Commonest, Interval, WrongWay, commonest};

/// From this mark on an answer counts as right: all of its parts right or carried.
const RIGHT: f64 = 1.0 - 1e-9;

/// What a class did with one exercise.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ExerciseStatistics {
    /// How many took it.
    pub takers: usize,
    /// How many had all of it right.
    pub right: usize,
    /// How many had some of it right.
    pub partly: usize,
    /// The commonest way to go wrong.
    pub commonest: Option<Commonest>,
    /// The mean mark, if there is one.
    pub difficulty: Option<f64>,
    /// Its 95 % interval.
    pub interval: Interval,
    /// How many took every exercise of the quiz.
    pub common: usize,
    /// The corrected point-biserial.
    pub tells_apart: Result<f64, WhyNot>,
}

/// What a class did with one exercise. `wrong_ways` holds, for each taker who
/// took it, how they went wrong.
#[must_use]
pub fn exercise_statistics(answers: &Answers, exercise: usize, wrong_ways: &[Vec<WrongWay>]) -> ExerciseStatistics {
    let marks = answers.on(exercise);
    let right = marks.iter().filter(|mark| **mark >= RIGHT).count();
    let nothing = marks.iter().filter(|mark| **mark <= 0.0).count();
    let common = answers.common().len();
    let tells_apart = rest_correlation(answers, exercise);
    ExerciseStatistics {
        takers: marks.len(),
        right,
        partly: marks.len() - right - nothing,
        commonest: commonest(wrong_ways.iter().map(Vec::as_slice)),
        difficulty: (!marks.is_empty()).then(|| mean(&marks)),
        interval: wilson(marks.iter().sum(), marks.len()),
        common,
        tells_apart: match tells_apart {
            // What is not defined stays so however many come; only a value is held back.
            Ok(_) if common < ENOUGH => Err(WhyNot::TooFew(common)),
            other => other,
        },
    }
}

//! A family of exercises over all quizzes that asked one of them.

use serde::Serialize;

use super::reliability::{correlation, mean};
use super::{ENOUGH, WhyNot, wilson};
use crate::marking::{Commonest, Interval, WrongWay, commonest};

/// One taker's go at an exercise of the family.
#[derive(Debug, Clone, PartialEq)]
pub struct Sitting {
    /// The quiz, by its code.
    pub quiz: String,
    /// The taker, by their code.
    pub taker: String,
    /// The mark, from 0 to 1.
    pub mark: f64,
    /// The mean mark on the rest of that quiz; `None` if it had no other exercise.
    pub rest: Option<f64>,
    /// How it went wrong.
    pub wrong_ways: Vec<WrongWay>,
}

/// What is known of a family over all quizzes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FamilyStatistics {
    /// In how many quizzes it was asked.
    pub quizzes: usize,
    /// How many different people took it.
    pub people: usize,
    /// How often it was taken.
    pub sittings: usize,
    /// How often all of it was right.
    pub right: usize,
    /// The commonest way to go wrong.
    pub commonest: Option<Commonest>,
    /// The mean mark.
    pub difficulty: Option<f64>,
    /// Its 95 % interval, every sitting taken as one of its own; where the same
    /// people sit again the truth is somewhat wider.
    pub interval: Interval,
    /// The correlation of the mark with the rest of the same quiz.
    pub tells_apart: Result<f64, WhyNot>,
}

/// Pools a family over quizzes.
///
/// Quizzes differ in difficulty, so mark and rest are taken as deviations from
/// their means within a quiz before they are correlated: the pooled
/// within-groups correlation. It is told from 30 sittings on.
#[must_use]
pub fn family_statistics(sittings: &[Sitting]) -> FamilyStatistics {
    let marks: Vec<f64> = sittings.iter().map(|one| one.mark).collect();
    let different = |of: fn(&Sitting) -> &str| {
        let mut list: Vec<&str> = sittings.iter().map(of).collect();
        list.sort_unstable();
        list.dedup();
        list
    };
    let quizzes = different(|one| &one.quiz);
    FamilyStatistics {
        people: different(|one| &one.taker).len(),
        sittings: sittings.len(),
        right: marks.iter().filter(|mark| **mark >= 1.0 - 1e-9).count(),
        commonest: commonest(sittings.iter().map(|one| one.wrong_ways.as_slice())),
        difficulty: (!marks.is_empty()).then(|| mean(&marks)),
        interval: wilson(marks.iter().sum(), marks.len()),
        tells_apart: within_quizzes(sittings, &quizzes),
        quizzes: quizzes.len(),
    }
}

fn within_quizzes(sittings: &[Sitting], quizzes: &[&str]) -> Result<f64, WhyNot> {
    let (mut marks, mut rests) = (Vec::new(), Vec::new());
    for quiz in quizzes {
        let here = sittings.iter().filter(|one| one.quiz == *quiz);
        let (own, rest): (Vec<f64>, Vec<f64>) = here.filter_map(|one| Some((one.mark, one.rest?))).unzip();
        let (mean_own, mean_rest) = (mean(&own), mean(&rest));
        marks.extend(own.iter().map(|mark| mark - mean_own));
        rests.extend(rest.iter().map(|mark| mark - mean_rest));
    }
    if marks.is_empty() {
        return Err(if sittings.is_empty() { WhyNot::NoTakers } else { WhyNot::OneExercise });
    }
    let found = correlation(&marks, &rests).ok_or_else(|| alike(sittings, &marks))?;
    if marks.len() < ENOUGH { Err(WhyNot::TooFew(marks.len())) } else { Ok(found) }
}

/// Why nothing varies within the quizzes.
fn alike(sittings: &[Sitting], marks: &[f64]) -> WhyNot {
    let all = |test: fn(f64) -> bool| sittings.iter().all(|one| test(one.mark));
    let count = sittings.len();
    if all(|mark| mark >= 1.0 - 1e-9) {
        WhyNot::AllRight(count)
    } else if all(|mark| mark <= 0.0) {
        WhyNot::NoneRight(count)
    } else if marks.iter().all(|mark| mark.abs() < 1e-9) {
        WhyNot::SameMarks(count)
    } else {
        WhyNot::SameRest(count)
    }
}

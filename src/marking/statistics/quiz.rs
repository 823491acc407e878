//! A quiz as a whole: how far its total may be trusted.

use serde::Serialize;

use super::answers::Answers;
use super::reliability::{Alpha, alpha, error_of_measurement, length_for, mean};
use super::{ENOUGH, WhyNot};

/// The reliability that a pass or fail should rest on (common practice, no source).
const WANTED: f64 = 0.8;

/// What is known of a quiz as a whole.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct QuizStatistics {
    /// How many took any of it.
    pub takers: usize,
    /// How many took all of it.
    pub common: usize,
    /// How many exercises it has.
    pub exercises: usize,
    /// The mean share of all marks, over those who took all of it.
    pub mean_share: Option<f64>,
    /// The reliability with its standard error.
    pub alpha: Result<Alpha, WhyNot>,
    /// The standard error of measurement, in marks.
    pub error: Result<f64, WhyNot>,
    /// How many times as long a quiz of such exercises would be at a reliability of 0.8.
    pub times_for_enough: Result<f64, WhyNot>,
}

/// What is known of a quiz as a whole; reliability only from [`ENOUGH`] common takers on.
///
/// ```
/// use gearside::marking::statistics::{Answers, WhyNot, quiz_statistics};
/// let nine: Vec<_> = (0..9).map(|taker| vec![Some(f64::from(taker % 2)), Some(f64::from(taker % 3 % 2))]).collect();
/// let quiz = quiz_statistics(&Answers::new(2, nine).unwrap());
/// assert_eq!(quiz.alpha, Err(WhyNot::TooFew(9)));
/// ```
#[must_use]
pub fn quiz_statistics(answers: &Answers) -> QuizStatistics {
    let rows = answers.common();
    let enough = |common: usize| if common < ENOUGH { Err(WhyNot::TooFew(common)) } else { Ok(()) };
    let found = alpha(answers).and_then(|found| enough(rows.len()).map(|()| found));
    let shares: Vec<f64> = rows.iter().map(|row| mean(row)).collect();
    QuizStatistics {
        takers: answers.takers(),
        common: rows.len(),
        exercises: answers.exercises(),
        mean_share: (!shares.is_empty() && answers.exercises() > 0).then(|| mean(&shares)),
        error: found.as_ref().map_err(Clone::clone).and_then(|_| error_of_measurement(answers)),
        times_for_enough: found.as_ref().map_err(Clone::clone).and_then(|found| length_for(found.alpha, WANTED)),
        alpha: found,
    }
}

//! What the marks of a class say of its exercises, and what they cannot say.
//!
//! Everything is worked out from [`Answers`], takers by exercises. A value that
//! is not defined, or that so few takers cannot carry, is a [`WhyNot`] that says
//! so in words.
//!
//! ```
//! use gearside::marking::statistics::{Answers, alpha, wilson};
//! let class = Answers::new(2, vec![vec![Some(1.0), Some(1.0)]; 9]).unwrap();
//! let why = alpha(&class).unwrap_err();
//! assert_eq!(why.words(), "all 9 have the same total: nothing tells them apart");
//! assert!((wilson(8.0, 10).lo - 0.490_162).abs() < 1e-6);
//! ```

mod advice;
mod answers;
mod exercise;
mod family;
mod interval;
mod judges;
mod quiz;
mod reliability;

pub use advice::{Advice, Notice, advice};
pub use answers::Answers;
pub use exercise::{ExerciseStatistics, exercise_statistics};
pub use family::{FamilyStatistics, Sitting, family_statistics};
pub use interval::{Z95, correlation_interval, wilson};
pub use judges::{Cut, expected_cut};
pub use quiz::{QuizStatistics, quiz_statistics};
pub use reliability::{
    Alpha, alpha, alpha_without, correlation, error_of_measurement, length_for, lengthened, mean, rest_correlation,
    variance,
};

use serde::Serialize;

/// From how many common takers on a correlation or a reliability is told.
pub const ENOUGH: usize = 30;

/// Why there is no value.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WhyNot {
    /// Nobody took it.
    NoTakers,
    /// So many took it, and it takes [`ENOUGH`].
    TooFew(usize),
    /// There is only one exercise.
    OneExercise,
    /// So many takers all had it right.
    AllRight(usize),
    /// So many takers all had it wrong.
    NoneRight(usize),
    /// So many takers all have the same mark.
    SameMarks(usize),
    /// So many takers all have the same total.
    SameTotals(usize),
    /// So many takers all have the same total on the rest.
    SameRest(usize),
    /// There is only one judge.
    OneJudge,
    /// A reliability of at most 0, or of 1, says nothing of lengths.
    NoLength,
}

impl WhyNot {
    /// In words.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::NoTakers => "nobody took it".to_owned(),
            Self::TooFew(count) => format!("only {count} took all of it; from {ENOUGH} on it can be told"),
            Self::OneExercise => "with a single exercise there is no rest to compare it with".to_owned(),
            Self::AllRight(count) => format!("all {count} had it right: nothing tells them apart"),
            Self::NoneRight(count) => format!("none of {count} had it right: nothing tells them apart"),
            Self::SameMarks(count) => format!("all {count} have the same mark: nothing tells them apart"),
            Self::SameTotals(count) => format!("all {count} have the same total: nothing tells them apart"),
            Self::SameRest(count) => {
                format!("all {count} did as well on the rest: there is nothing to compare it with")
            }
            Self::OneJudge => "one judge has nobody to differ from".to_owned(),
            Self::NoLength => "no number of such exercises would do".to_owned(),
        }
    }
}

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

use crate::ground::say;
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
            Self::NoTakers => say!("statistics.nobody-took-it"),
            Self::TooFew(count) => say!("statistics.only-took-all", count = count, enough = ENOUGH),
            Self::OneExercise => say!("statistics.a-single-exercise"),
            Self::AllRight(count) => say!("statistics.all-had-it-right", count = count),
            Self::NoneRight(count) => say!("statistics.none-of-had-it", count = count),
            Self::SameMarks(count) => say!("statistics.all-have-the", count = count),
            Self::SameTotals(count) => say!("statistics.all-have-the-same", count = count),
            Self::SameRest(count) => say!("statistics.same-rest", count = count),
            Self::OneJudge => say!("statistics.one-judge-has"),
            Self::NoLength => say!("statistics.no-number-of"),
        }
    }
}

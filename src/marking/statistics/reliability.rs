//! Correlation and reliability. Plain sums over rows; nothing is suppressed
//! here for smallness, only for what is not defined.

use serde::Serialize;

use super::WhyNot;
use super::answers::Answers;

/// Variances below this share of a mark squared are dust of binary arithmetic.
const NOTHING: f64 = 1e-18;

/// A count as a number.
pub(super) fn count(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::MAX, f64::from)
}

/// The mean; not a number for no values.
#[must_use]
pub fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / count(values.len())
}

/// The variance over n − 1; not a number for fewer than two values.
///
/// ```
/// use gearside::marking::statistics::variance;
/// assert!((variance(&[1.0, 2.0, 3.0, 4.0]) - 5.0 / 3.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn variance(values: &[f64]) -> f64 {
    covariance(values, values)
}

fn covariance(a: &[f64], b: &[f64]) -> f64 {
    if a.len() < 2 {
        return f64::NAN;
    }
    let (mean_a, mean_b) = (mean(a), mean(b));
    let products = a.iter().zip(b).map(|(a, b)| (a - mean_a) * (b - mean_b));
    products.sum::<f64>() / (count(a.len()) - 1.0)
}

/// Pearson's correlation; `None` if either side does not vary, or there are
/// fewer than two pairs.
///
/// ```
/// use gearside::marking::statistics::correlation;
/// assert!((correlation(&[1.0, 2.0, 3.0], &[2.0, 4.0, 6.0]).unwrap() - 1.0).abs() < 1e-12);
/// assert_eq!(correlation(&[1.0, 1.0], &[2.0, 4.0]), None);
/// ```
#[must_use]
pub fn correlation(a: &[f64], b: &[f64]) -> Option<f64> {
    let (in_a, in_b) = (variance(a), variance(b));
    (in_a > NOTHING && in_b > NOTHING).then(|| covariance(a, b) / libm::sqrt(in_a * in_b))
}

/// The correlation of an exercise's marks with the total of the others, over
/// the common takers: the corrected point-biserial where marks are 0 or 1.
///
/// # Errors
/// [`WhyNot`] if there is one exercise, nobody took everything, or one side does not vary.
pub fn rest_correlation(answers: &Answers, exercise: usize) -> Result<f64, WhyNot> {
    if answers.exercises() < 2 {
        return Err(WhyNot::OneExercise);
    }
    let rows = answers.common();
    let own: Vec<f64> = rows.iter().filter_map(|row| row.get(exercise).copied()).collect();
    if own.is_empty() {
        return Err(WhyNot::NoTakers);
    }
    let rest: Vec<f64> = rows.iter().zip(&own).map(|(row, own)| row.iter().sum::<f64>() - own).collect();
    correlation(&own, &rest).ok_or_else(|| why_not(&own))
}

/// Why marks of one exercise tell nothing: they are all alike, or else the other side is.
fn why_not(own: &[f64]) -> WhyNot {
    let all = |wanted: f64| own.iter().all(|mark| (mark - wanted).abs() < 1e-12);
    if all(1.0) {
        WhyNot::AllRight(own.len())
    } else if all(0.0) {
        WhyNot::NoneRight(own.len())
    } else if all(own[0]) {
        WhyNot::SameMarks(own.len())
    } else {
        WhyNot::SameRest(own.len())
    }
}

/// A reliability with its standard error.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Alpha {
    /// Coefficient alpha; KR-20 where all marks are 0 or 1. At most 1, and below 0 where exercises disagree.
    pub alpha: f64,
    /// Its standard error; see [`alpha`].
    pub standard_error: f64,
    /// How many common takers it rests on.
    pub takers: usize,
}

/// Coefficient alpha over the common takers, with its standard error.
///
/// Source: alpha = k/(k − 1) · (1 − Σ sᵢ² / s²), Cronbach, Psychometrika 16
/// (1951) 297–334; for marks of 0 and 1 it is formula 20 of Kuder & Richardson,
/// Psychometrika 2 (1937) 151–160. Both variances have the same divisor.
/// The standard error is the asymptotic one of van Zyl, Neudecker & Nel,
/// Psychometrika 65 (2000) 271–280, as Duhachek & Iacobucci, J. Appl. Psychol.
/// 89 (2004) 792–808, give it: with V the covariances (over n − 1) of the k
/// exercises, S the sum of all of V, and Q = 2 k² / ((k − 1)² S³) ·
/// (S (tr V² + tr² V) − 2 tr V · 1ᵀV²1), it is √(Q / n). It supposes normal
/// marks and many takers, but not that covariances are equal; marks of 0 and 1
/// are not normal, so it is a guide.
///
/// # Errors
/// [`WhyNot`] if there is one exercise, fewer than two took everything, or all totals are the same.
pub fn alpha(answers: &Answers) -> Result<Alpha, WhyNot> {
    let rows = answers.common();
    let exercises = answers.exercises();
    if exercises < 2 {
        return Err(WhyNot::OneExercise);
    }
    if rows.is_empty() {
        return Err(WhyNot::NoTakers);
    }
    let columns: Vec<Vec<f64>> = (0..exercises).map(|column| rows.iter().map(|row| row[column]).collect()).collect();
    let sums: Vec<f64> = rows.iter().map(|row| row.iter().sum()).collect();
    let total = variance(&sums);
    if total.is_nan() || total <= NOTHING {
        return Err(WhyNot::SameTotals(rows.len()));
    }
    let covariances: Vec<Vec<f64>> =
        columns.iter().map(|a| columns.iter().map(|b| covariance(a, b)).collect()).collect();
    let trace: f64 = (0..exercises).map(|at| covariances[at][at]).sum();
    let k = count(exercises);
    let share = k / (k - 1.0);
    Ok(Alpha {
        alpha: share * (1.0 - trace / total),
        standard_error: share * libm::sqrt(2.0 * spread(&covariances, trace, total).max(0.0) / count(rows.len())),
        takers: rows.len(),
    })
}

/// (S (tr V² + tr² V) − 2 tr V · 1ᵀV²1) / S³ of [`alpha`], as the trace of M² with
/// M = tr V / S² · 1 1ᵀV − V / S: the same without the loss of digits where it is small.
fn spread(covariances: &[Vec<f64>], trace: f64, total: f64) -> f64 {
    let size = covariances.len();
    let sums: Vec<f64> = covariances.iter().map(|row| row.iter().sum()).collect();
    let entry = |row: usize, column: usize| trace / total * (sums[column] / total) - covariances[row][column] / total;
    (0..size).flat_map(|row| (0..size).map(move |column| (row, column))).map(|(a, b)| entry(a, b) * entry(b, a)).sum()
}

/// Alpha of the quiz if one exercise were left out, over the same common takers.
///
/// # Errors
/// As [`alpha`].
pub fn alpha_without(answers: &Answers, exercise: usize) -> Result<f64, WhyNot> {
    let rows = answers.common().into_iter().map(|row| row.into_iter().map(Some).collect()).collect();
    let common = Answers::new(answers.exercises(), rows).map_err(|_| WhyNot::NoTakers)?;
    alpha(&common.without(exercise)).map(|found| found.alpha)
}

/// The standard error of measurement, in marks: s √(1 − alpha), s over n − 1.
///
/// # Errors
/// As [`alpha`].
pub fn error_of_measurement(answers: &Answers) -> Result<f64, WhyNot> {
    let found = alpha(answers)?;
    let sums: Vec<f64> = answers.common().iter().map(|row| row.iter().sum()).collect();
    Ok(libm::sqrt(variance(&sums) * (1.0 - found.alpha).max(0.0)))
}

/// The reliability of a quiz `times` as long as one of that reliability.
///
/// Source: Spearman and Brown, Brit. J. Psychol. 3 (1910) 271–295 and 296–322.
#[must_use]
pub fn lengthened(reliability: f64, times: f64) -> f64 {
    times * reliability / (1.0 + (times - 1.0) * reliability)
}

/// How many times as long a quiz must be to reach a reliability: the same, turned round.
///
/// # Errors
/// [`WhyNot::NoLength`] unless both lie above 0 and below 1.
///
/// ```
/// use gearside::marking::statistics::{length_for, lengthened};
/// let times = length_for(0.3, 0.8).unwrap();
/// assert!((lengthened(0.3, times) - 0.8).abs() < 1e-12);
/// ```
pub fn length_for(reliability: f64, wanted: f64) -> Result<f64, WhyNot> {
    let inside = |one: f64| 0.0 < one && one < 1.0;
    if !inside(reliability) || !inside(wanted) {
        return Err(WhyNot::NoLength);
    }
    Ok(wanted * (1.0 - reliability) / (reliability * (1.0 - wanted)))
}

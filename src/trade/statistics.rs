//! Measurement statistics of samples.
//!
//! Readings are plain numbers here (densities, colour differences, tone values
//! as fractions). In formulas `mean`, `sd` and `range` take series of any
//! dimension; they are these functions.

use super::catalogue::{Calculation, Topic, gathered, outcome, parameter, series, turn, two};
use super::kind::KindOfQuantity;
use crate::ground::whole_above;

/// The sum of `readings`, in their unit; 0 of none. Any numbers do.
///
/// Source: definition.
///
/// ```
/// use gearside::trade::statistics::total;
/// // 1.30 and 1.34 and 1.28.
/// assert!((total(&[1.30, 1.34, 1.28]) - 3.92).abs() < 1e-12);
/// ```
#[must_use]
pub fn total(readings: &[f64]) -> f64 {
    readings.iter().fold(0.0, |sum, value| sum + value)
}

/// The mean of `readings`, in their unit; not a number of none. Any numbers do.
///
/// Source: definition.
///
/// ```
/// use gearside::trade::statistics::mean;
/// // Five densities that add up to 6.55.
/// assert!((mean(&[1.30, 1.34, 1.28, 1.32, 1.31]) - 1.31).abs() < 1e-12);
/// ```
#[must_use]
pub fn mean(readings: &[f64]) -> f64 {
    total(readings) / count(readings)
}

/// The standard deviation of a sample, `readings`, in their unit; not a number of
/// fewer than two. Any numbers do.
///
/// Source: definition, with n − 1: the mean is taken from the same readings.
///
/// ```
/// use gearside::trade::statistics::deviation;
/// // Squares of 0.01, 0.03, 0.03, 0.01 and 0 add up to 0.0020; over 4, the root.
/// assert!((deviation(&[1.30, 1.34, 1.28, 1.32, 1.31]) - 0.022_360_7).abs() < 1e-7);
/// ```
#[must_use]
pub fn deviation(readings: &[f64]) -> f64 {
    if readings.len() < 2 {
        return f64::NAN;
    }
    let mean = mean(readings);
    let squares = readings.iter().fold(0.0, |sum, value| sum + (value - mean) * (value - mean));
    libm::sqrt(squares / (count(readings) - 1.0))
}

/// The greatest of `readings` less the least, in their unit; not a number of none.
/// Any numbers do.
///
/// Source: definition.
///
/// ```
/// use gearside::trade::statistics::range;
/// // 1.34 less 1.28.
/// assert!((range(&[1.30, 1.34, 1.28]) - 0.06).abs() < 1e-12);
/// ```
#[must_use]
pub fn range(readings: &[f64]) -> f64 {
    let most = readings.iter().copied().reduce(|a, b| if b > a || b.is_nan() { b } else { a });
    let least = readings.iter().copied().reduce(|a, b| if b < a || b.is_nan() { b } else { a });
    most.zip(least).map_or(f64::NAN, |(most, least)| most - least)
}

#[expect(clippy::cast_precision_loss, reason = "a series has at most 200 values")]
fn count(readings: &[f64]) -> f64 {
    readings.len() as f64
}

/// The standard error of a mean, in the unit of `deviation`.
///
/// `deviation` is the standard deviation of single readings (above 0), `count`
/// how many of them the mean is taken of (2 to 1000).
///
/// Source: definition for independent readings.
///
/// ```
/// use gearside::trade::statistics::standard_error;
/// // 0.0143 over the root of ten.
/// assert!((standard_error(0.0143, 10.0) - 0.004_522).abs() < 1e-6);
/// ```
#[must_use]
pub fn standard_error(deviation: f64, count: f64) -> f64 {
    deviation / libm::sqrt(count)
}

/// How many readings hold a mean within a margin 95 times in 100.
///
/// `deviation` is the standard deviation of single readings, `margin` how far
/// the mean may be off to either side, both above 0 in one unit.
///
/// Source: n ≥ (1.96 s / E)², rounded up; 1.96 is the point of the normal curve
/// that leaves 2.5 % outside.
///
/// ```
/// use gearside::trade::statistics::sample_size;
/// // (1.96 · 2)² is 15.37: 16 readings.
/// assert!((sample_size(0.02, 0.01) - 16.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn sample_size(deviation: f64, margin: f64) -> f64 {
    let ratio = 1.96 * deviation / margin;
    whole_above(ratio * ratio)
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "mean",
        title: "Mean of readings",
        topic: Topic::Statistics,
        says: "What the readings are on average.",
        parameters: &[series("readings", "x", "readings", "", -1e6, 1e6)],
        outcome: outcome("m", "", KindOfQuantity::Amount, -1e6, 1e6),
        compute: |a| gathered(a, mean),
        expansion: None,
        wrong_turns: &[
            turn(
                "divided_by_one_less",
                "total(readings) / (how_many(readings) - 1)",
                "You divided by one less than the number of readings. That is for the standard deviation.",
            ),
            turn("not_divided", "total(readings)", "You added the readings up. Divide by how many there are."),
        ],
        no_result_when: Some("there is no reading"),
        source: "definition",
    },
    Calculation {
        name: "sd",
        title: "Standard deviation of readings",
        topic: Topic::Statistics,
        says: "How far single readings usually lie from their mean.",
        parameters: &[series("readings", "x", "readings", "", -1e6, 1e6)],
        outcome: outcome("s", "", KindOfQuantity::Amount, 0.0, 1e6),
        compute: |a| gathered(a, deviation),
        expansion: None,
        wrong_turns: &[
            turn(
                "divided_by_the_number",
                "sd(readings) * sqrt((how_many(readings) - 1) / how_many(readings))",
                "You divided by the number of readings. For a sample divide by one less.",
            ),
            turn(
                "root_forgotten",
                "sd(readings) ^ 2",
                "You gave the mean of the squares. The standard deviation is its root.",
            ),
            turn(
                "range_given",
                "range(readings)",
                "You gave the range. The standard deviation goes by every reading's distance from the mean.",
            ),
        ],
        no_result_when: Some("there are fewer than two readings"),
        source: "definition, with n − 1",
    },
    Calculation {
        name: "range",
        title: "Range of readings",
        topic: Topic::Statistics,
        says: "How far the greatest and the least reading lie apart.",
        parameters: &[series("readings", "x", "readings", "", -1e6, 1e6)],
        outcome: outcome("R", "", KindOfQuantity::Amount, 0.0, 2e6),
        compute: |a| gathered(a, range),
        expansion: None,
        wrong_turns: &[
            turn("halved", "range(readings) / 2", "You took half. The range is the whole way from least to greatest."),
            turn(
                "deviation_given",
                "sd(readings)",
                "You gave the standard deviation. The range is the greatest reading less the least.",
            ),
        ],
        no_result_when: Some("there is no reading"),
        source: "definition",
    },
    Calculation {
        name: "standard_error",
        title: "Standard error of a mean",
        topic: Topic::Statistics,
        says: "How far a mean of so many readings usually lies from the true one.",
        parameters: &[
            parameter("deviation", "s", "standard deviation of single readings", "", 0.0, 1000.0),
            parameter("count", "n", "number of readings in the mean", "", 2.0, 1000.0),
        ],
        outcome: outcome("s_m", "", KindOfQuantity::Amount, 0.0, 1000.0),
        compute: |a| two(a, standard_error),
        expansion: Some("deviation / sqrt(count)"),
        wrong_turns: &[
            turn("root_forgotten", "deviation / count", "You divided by the number itself. Divide by its root."),
            turn("not_divided", "deviation", "You gave the spread of single readings. A mean spreads less."),
        ],
        no_result_when: None,
        source: "definition, for independent readings",
    },
    Calculation {
        name: "sample_size",
        title: "Sample size",
        topic: Topic::Statistics,
        says: "How many readings hold a mean within a margin 95 times in 100.",
        parameters: &[
            parameter("deviation", "s", "standard deviation of single readings", "", 1e-6, 1000.0),
            parameter("margin", "E", "margin to either side", "", 1e-6, 1000.0),
        ],
        outcome: outcome("n", "", KindOfQuantity::Count, 1.0, 100_000.0),
        compute: |a| two(a, sample_size),
        expansion: Some("ceil((1.96 * deviation / margin) ^ 2)"),
        wrong_turns: &[
            turn(
                "square_forgotten",
                "ceil(1.96 * deviation / margin)",
                "You forgot to square. The margin shrinks with the root of the number.",
            ),
            turn(
                "normal_point_forgotten",
                "ceil((deviation / margin) ^ 2)",
                "You left 1.96 out. Without it the mean is inside only two times in three.",
            ),
        ],
        no_result_when: None,
        source: "n ≥ (1.96 s / E)², rounded up: 95 % of a normal distribution",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn the_order_of_readings_does_not_matter(mut readings in prop::collection::vec(-5.0_f64..5.0, 2..40)) {
            let before = (mean(&readings), deviation(&readings), range(&readings));
            readings.reverse();
            prop_assert!((mean(&readings) - before.0).abs() < 1e-9);
            prop_assert!((deviation(&readings) - before.1).abs() < 1e-9);
            prop_assert!((range(&readings) - before.2).abs() < 1e-12);
        }

        #[test]
        fn moving_all_readings_moves_only_the_mean(readings in prop::collection::vec(-5.0_f64..5.0, 2..40), by in -3.0_f64..3.0) {
            let moved: Vec<f64> = readings.iter().map(|value| value + by).collect();
            prop_assert!((mean(&moved) - mean(&readings) - by).abs() < 1e-9);
            prop_assert!((deviation(&moved) - deviation(&readings)).abs() < 1e-9);
            prop_assert!((range(&moved) - range(&readings)).abs() < 1e-9);
        }
    }
}

//! Measurement statistics: samples, control charts, capability.
//!
//! Readings are plain numbers here (densities, colour differences, tone values
//! as fractions). In formulas `mean`, `sd` and `range` take series of any
//! dimension; they are these functions.

use super::catalogue::{Calculation, Topic, four, gathered, outcome, parameter, series, three, turn, two};
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

/// Factors for charts of means and ranges, by the number of readings in a
/// subgroup.
///
/// Source: published table of factors for control charts, which two other
/// printed tables agree with.
const FACTORS: [Factors; 9] = [
    Factors { size: 2.0, a2: 1.880, d3: 0.0, d4: 3.267, d2: 1.128 },
    Factors { size: 3.0, a2: 1.023, d3: 0.0, d4: 2.574, d2: 1.693 },
    Factors { size: 4.0, a2: 0.729, d3: 0.0, d4: 2.282, d2: 2.059 },
    Factors { size: 5.0, a2: 0.577, d3: 0.0, d4: 2.114, d2: 2.326 },
    Factors { size: 6.0, a2: 0.483, d3: 0.0, d4: 2.004, d2: 2.534 },
    Factors { size: 7.0, a2: 0.419, d3: 0.076, d4: 1.924, d2: 2.704 },
    Factors { size: 8.0, a2: 0.373, d3: 0.136, d4: 1.864, d2: 2.847 },
    Factors { size: 9.0, a2: 0.337, d3: 0.184, d4: 1.816, d2: 2.970 },
    Factors { size: 10.0, a2: 0.308, d3: 0.223, d4: 1.777, d2: 3.078 },
];

struct Factors {
    size: f64,
    a2: f64,
    d3: f64,
    d4: f64,
    d2: f64,
}

/// What a factor makes of a subgroup's size; not a number for a size that the
/// table does not hold.
fn factor(size: f64, pick: fn(&Factors) -> f64) -> f64 {
    FACTORS.iter().find(|row| (row.size - size).abs() < 1e-9).map_or(f64::NAN, pick)
}

/// Upper control limit of a chart of means.
///
/// `grand_mean` is the mean of all subgroup means, `mean_range` the mean of
/// their ranges, `size` the readings in a subgroup, a whole number 2 to 10.
///
/// Source: grand mean + A₂ · mean range, A₂ from the published table.
///
/// ```
/// use gearside::trade::statistics::upper_mean_limit;
/// // A₂ of five readings is 0.577: 1.31 and 0.577 · 0.05.
/// assert!((upper_mean_limit(1.31, 0.05, 5.0) - 1.338_85).abs() < 1e-9);
/// ```
#[must_use]
pub fn upper_mean_limit(grand_mean: f64, mean_range: f64, size: f64) -> f64 {
    grand_mean + factor(size, |row| row.a2) * mean_range
}

/// Lower control limit of a chart of means; parameters as for
/// [`upper_mean_limit`].
///
/// Source: grand mean − A₂ · mean range, A₂ from the published table.
///
/// ```
/// use gearside::trade::statistics::lower_mean_limit;
/// // A₂ of five readings is 0.577: 1.31 less 0.577 · 0.05.
/// assert!((lower_mean_limit(1.31, 0.05, 5.0) - 1.281_15).abs() < 1e-9);
/// ```
#[must_use]
pub fn lower_mean_limit(grand_mean: f64, mean_range: f64, size: f64) -> f64 {
    grand_mean - factor(size, |row| row.a2) * mean_range
}

/// Upper control limit of a chart of ranges.
///
/// `mean_range` is the mean of the subgroups' ranges, `size` the readings in a
/// subgroup, a whole number 2 to 10.
///
/// Source: D₄ · mean range, D₄ from the published table.
///
/// ```
/// use gearside::trade::statistics::upper_range_limit;
/// // D₄ of five readings is 2.114.
/// assert!((upper_range_limit(0.05, 5.0) - 0.1057).abs() < 1e-9);
/// ```
#[must_use]
pub fn upper_range_limit(mean_range: f64, size: f64) -> f64 {
    factor(size, |row| row.d4) * mean_range
}

/// Lower control limit of a chart of ranges: 0 for subgroups of up to six.
///
/// Parameters as for [`upper_range_limit`].
///
/// Source: D₃ · mean range, D₃ from the published table.
///
/// ```
/// use gearside::trade::statistics::lower_range_limit;
/// // D₃ is 0 for five readings, 0.136 for eight.
/// assert!(lower_range_limit(0.05, 5.0).abs() < 1e-12);
/// assert!((lower_range_limit(0.05, 8.0) - 0.0068).abs() < 1e-9);
/// ```
#[must_use]
pub fn lower_range_limit(mean_range: f64, size: f64) -> f64 {
    factor(size, |row| row.d3) * mean_range
}

/// The standard deviation that ranges of small subgroups stand for.
///
/// `mean_range` is the mean of the subgroups' ranges, `size` the readings in a
/// subgroup, a whole number 2 to 10.
///
/// Source: mean range / d₂, d₂ from the published table.
///
/// ```
/// use gearside::trade::statistics::deviation_from_ranges;
/// // d₂ of five readings is 2.326.
/// assert!((deviation_from_ranges(0.05, 5.0) - 0.021_496).abs() < 1e-6);
/// ```
#[must_use]
pub fn deviation_from_ranges(mean_range: f64, size: f64) -> f64 {
    mean_range / factor(size, |row| row.d2)
}

/// Capability ratio Cp: how often the spread of a process fits its tolerance.
///
/// `upper` and `lower` are the limits of the specification (upper above lower),
/// `deviation` the standard deviation of the process (above 0).
///
/// Source: (USL − LSL) / 6 s.
///
/// ```
/// use gearside::trade::statistics::capability;
/// // A tolerance of 50 over six times 8.
/// assert!((capability(150.0, 100.0, 8.0) - 1.041_67).abs() < 1e-5);
/// ```
#[must_use]
pub fn capability(upper: f64, lower: f64, deviation: f64) -> f64 {
    (upper - lower) / (6.0 * deviation)
}

/// Capability index Cpk: the same, to the nearer limit.
///
/// `upper` and `lower` are the limits of the specification, `mean` and
/// `deviation` those of the process; below 0 if the mean lies outside.
///
/// Source: min(USL − mean, mean − LSL) / 3 s.
///
/// ```
/// use gearside::trade::statistics::centred_capability;
/// // The nearer limit is 20 away: over three times 8.
/// assert!((centred_capability(150.0, 100.0, 130.0, 8.0) - 0.833_333).abs() < 1e-6);
/// ```
#[must_use]
pub fn centred_capability(upper: f64, lower: f64, mean: f64, deviation: f64) -> f64 {
    let (above, below) = (upper - mean, mean - lower);
    (if above < below { above } else { below }) / (3.0 * deviation)
}

const TABLE: &str = "factors for control charts as tabled in print (two further tables agree), \
     https://www.scribd.com/document/575462347/factors-for-control-charts";
const NO_SUCH_SIZE: Option<&str> = Some("the subgroup's size is not a whole number from 2 to 10");

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
    Calculation {
        name: "upper_mean_limit",
        title: "Upper control limit of means",
        topic: Topic::Statistics,
        says: "Above which subgroup mean a process has changed.",
        parameters: &[
            parameter("grand_mean", "m", "mean of all subgroup means", "", -1e6, 1e6),
            parameter("mean_range", "R", "mean range of the subgroups", "", 0.0, 1e6),
            parameter("size", "n", "number of readings in a subgroup", "", 2.0, 10.0),
        ],
        outcome: outcome("L_u", "", KindOfQuantity::Amount, -1e6, 4e6),
        compute: |a| three(a, upper_mean_limit),
        expansion: None,
        wrong_turns: &[
            turn(
                "whole_range",
                "grand_mean + mean_range",
                "You added the whole mean range. Multiply it by A₂ for the subgroup's size first.",
            ),
            turn(
                "factor_of_the_range_chart",
                "grand_mean + upper_range_limit(mean_range, size)",
                "You used D₄, which is for the chart of ranges. The chart of means takes A₂.",
            ),
        ],
        no_result_when: NO_SUCH_SIZE,
        source: TABLE,
    },
    Calculation {
        name: "lower_mean_limit",
        title: "Lower control limit of means",
        topic: Topic::Statistics,
        says: "Below which subgroup mean a process has changed.",
        parameters: &[
            parameter("grand_mean", "m", "mean of all subgroup means", "", -1e6, 1e6),
            parameter("mean_range", "R", "mean range of the subgroups", "", 0.0, 1e6),
            parameter("size", "n", "number of readings in a subgroup", "", 2.0, 10.0),
        ],
        outcome: outcome("L_l", "", KindOfQuantity::Amount, -4e6, 1e6),
        compute: |a| three(a, lower_mean_limit),
        expansion: None,
        wrong_turns: &[
            turn(
                "whole_range",
                "grand_mean - mean_range",
                "You took the whole mean range off. Multiply it by A₂ for the subgroup's size first.",
            ),
            turn(
                "factor_of_the_range_chart",
                "grand_mean - upper_range_limit(mean_range, size)",
                "You used D₄, which is for the chart of ranges. The chart of means takes A₂.",
            ),
        ],
        no_result_when: NO_SUCH_SIZE,
        source: TABLE,
    },
    Calculation {
        name: "upper_range_limit",
        title: "Upper control limit of ranges",
        topic: Topic::Statistics,
        says: "Above which subgroup range the spread of a process has changed.",
        parameters: &[
            parameter("mean_range", "R", "mean range of the subgroups", "", 0.0, 1e6),
            parameter("size", "n", "number of readings in a subgroup", "", 2.0, 10.0),
        ],
        outcome: outcome("L_R", "", KindOfQuantity::Amount, 0.0, 4e6),
        compute: |a| two(a, upper_range_limit),
        expansion: None,
        wrong_turns: &[
            turn("range_itself", "mean_range", "You gave the mean range. Multiply it by D₄."),
            turn(
                "three_ranges",
                "3 * mean_range",
                "You took three times the range. The factor is D₄, by the subgroup's size.",
            ),
        ],
        no_result_when: NO_SUCH_SIZE,
        source: TABLE,
    },
    Calculation {
        name: "lower_range_limit",
        title: "Lower control limit of ranges",
        topic: Topic::Statistics,
        says: "Below which subgroup range the spread of a process has changed.",
        parameters: &[
            parameter("mean_range", "R", "mean range of the subgroups", "", 0.0, 1e6),
            parameter("size", "n", "number of readings in a subgroup", "", 2.0, 10.0),
        ],
        outcome: outcome("L_r", "", KindOfQuantity::Amount, 0.0, 1e6),
        compute: |a| two(a, lower_range_limit),
        expansion: None,
        wrong_turns: &[
            turn("range_itself", "mean_range", "You gave the mean range. Multiply it by D₃."),
            turn(
                "taken_like_the_mean_chart",
                "mean_range - 3 * deviation_from_ranges(mean_range, size)",
                "You took three deviations off. The factor is D₃, and it is 0 up to six readings.",
            ),
        ],
        no_result_when: NO_SUCH_SIZE,
        source: TABLE,
    },
    Calculation {
        name: "deviation_from_ranges",
        title: "Standard deviation from ranges",
        topic: Topic::Statistics,
        says: "What standard deviation the ranges of small subgroups stand for.",
        parameters: &[
            parameter("mean_range", "R", "mean range of the subgroups", "", 0.0, 1e6),
            parameter("size", "n", "number of readings in a subgroup", "", 2.0, 10.0),
        ],
        outcome: outcome("s_R", "", KindOfQuantity::Amount, 0.0, 1e6),
        compute: |a| two(a, deviation_from_ranges),
        expansion: None,
        wrong_turns: &[
            turn("range_itself", "mean_range", "You gave the mean range. Divide it by d₂."),
            turn(
                "divided_by_the_root",
                "mean_range / sqrt(size)",
                "You divided by the root of the size. The factor is d₂, from the table.",
            ),
        ],
        no_result_when: NO_SUCH_SIZE,
        source: TABLE,
    },
    Calculation {
        name: "capability",
        title: "Capability ratio Cp",
        topic: Topic::Statistics,
        says: "How often the spread of a process fits into its tolerance.",
        parameters: &[
            parameter("upper", "U", "upper limit of the specification", "", -1e6, 1e6),
            parameter("lower", "L", "lower limit of the specification", "", -1e6, 1e6),
            parameter("deviation", "s", "standard deviation of the process", "", 1e-9, 1e6),
        ],
        outcome: outcome("C_p", "", KindOfQuantity::Amount, 0.0, 10.0),
        compute: |a| three(a, capability),
        expansion: Some("(upper - lower) / (6 * deviation)"),
        wrong_turns: &[
            turn(
                "three_deviations",
                "(upper - lower) / (3 * deviation)",
                "You divided by three standard deviations. The spread is six of them.",
            ),
            turn(
                "one_deviation",
                "(upper - lower) / deviation",
                "You divided by one standard deviation. The spread is six of them.",
            ),
        ],
        no_result_when: None,
        source: "(USL − LSL) / 6 s; a web page that prints 3 s is wrong, \
                 https://docslib.org/doc/6377843/",
    },
    Calculation {
        name: "centred_capability",
        title: "Capability index Cpk",
        topic: Topic::Statistics,
        says: "How often half the spread of a process fits between its mean and the nearer limit.",
        parameters: &[
            parameter("upper", "U", "upper limit of the specification", "", -1e6, 1e6),
            parameter("lower", "L", "lower limit of the specification", "", -1e6, 1e6),
            parameter("mean", "m", "mean of the process", "", -1e6, 1e6),
            parameter("deviation", "s", "standard deviation of the process", "", 1e-9, 1e6),
        ],
        outcome: outcome("C_k", "", KindOfQuantity::Amount, -5.0, 10.0),
        compute: |a| four(a, centred_capability),
        expansion: Some("min(upper - mean, mean - lower) / (3 * deviation)"),
        wrong_turns: &[
            turn(
                "farther_limit",
                "max(upper - mean, mean - lower) / (3 * deviation)",
                "You took the farther limit. The nearer one is the danger.",
            ),
            turn(
                "whole_tolerance",
                "(upper - lower) / (6 * deviation)",
                "You gave Cp. Cpk goes from the mean to the nearer limit.",
            ),
        ],
        no_result_when: None,
        source: "min(USL − mean, mean − LSL) / 3 s",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_factor_for_means_is_three_over_d2_and_the_root() {
        for row in &FACTORS {
            let derived = 3.0 / (row.d2 * libm::sqrt(row.size));
            assert!((row.a2 - derived).abs() < 7e-4, "n = {}: {} and {derived}", row.size, row.a2);
        }
    }

    #[test]
    fn what_the_table_does_not_hold_has_no_limit() {
        for size in [1.0, 11.0, 4.5, f64::NAN] {
            assert!(upper_mean_limit(1.3, 0.05, size).is_nan(), "{size}");
        }
    }

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

        #[test]
        fn a_centred_process_has_equal_capabilities(half in 0.1_f64..5.0, mean in -5.0_f64..5.0, deviation in 0.01_f64..2.0) {
            let (upper, lower) = (mean + half, mean - half);
            let (cp, cpk) = (capability(upper, lower, deviation), centred_capability(upper, lower, mean, deviation));
            prop_assert!((cp - cpk).abs() < 1e-9 * cp.max(1.0));
        }
    }
}

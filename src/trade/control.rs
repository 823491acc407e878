//! Control charts: their factors and limits.
//!
//! Readings are plain numbers here (densities, colour differences, tone values
//! as fractions).

use super::catalogue::{Calculation, Topic, one, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

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

/// Factor A₂ of control charts.
///
/// `size` is the number of readings in a subgroup, a whole number 2 to 10; not a
/// number otherwise. A mean range times it is how far a chart of means may go.
///
/// Source: published table of factors for control charts.
///
/// ```
/// use gearside::trade::control::factor_a2;
/// // Five readings, as tabled.
/// assert!((factor_a2(5.0) - 0.577).abs() < 1e-12);
/// assert!(factor_a2(11.0).is_nan());
/// ```
#[must_use]
pub fn factor_a2(size: f64) -> f64 {
    factor(size, |row| row.a2)
}

/// Factor d₂ of control charts.
///
/// `size` is the number of readings in a subgroup, a whole number 2 to 10; not a
/// number otherwise. A mean range over it is a standard deviation.
///
/// Source: published table of factors for control charts.
///
/// ```
/// use gearside::trade::control::factor_d2;
/// // Five readings, as tabled.
/// assert!((factor_d2(5.0) - 2.326).abs() < 1e-12);
/// assert!(factor_d2(11.0).is_nan());
/// ```
#[must_use]
pub fn factor_d2(size: f64) -> f64 {
    factor(size, |row| row.d2)
}

/// Factor D₃ of control charts.
///
/// `size` is the number of readings in a subgroup, a whole number 2 to 10; not a
/// number otherwise. It is 0 up to six readings.
///
/// Source: published table of factors for control charts.
///
/// ```
/// use gearside::trade::control::factor_d3;
/// // Five readings, as tabled.
/// assert!((factor_d3(5.0) - 0.0).abs() < 1e-12);
/// assert!(factor_d3(11.0).is_nan());
/// ```
#[must_use]
pub fn factor_d3(size: f64) -> f64 {
    factor(size, |row| row.d3)
}

/// Factor D₄ of control charts.
///
/// `size` is the number of readings in a subgroup, a whole number 2 to 10; not a
/// number otherwise. A mean range times it is the upper limit of a chart of ranges.
///
/// Source: published table of factors for control charts.
///
/// ```
/// use gearside::trade::control::factor_d4;
/// // Five readings, as tabled.
/// assert!((factor_d4(5.0) - 2.114).abs() < 1e-12);
/// assert!(factor_d4(11.0).is_nan());
/// ```
#[must_use]
pub fn factor_d4(size: f64) -> f64 {
    factor(size, |row| row.d4)
}

/// Upper control limit of a chart of means.
///
/// `grand_mean` is the mean of all subgroup means, `mean_range` the mean of
/// their ranges, `size` the readings in a subgroup, a whole number 2 to 10.
///
/// Source: grand mean + A₂ · mean range, A₂ from the published table.
///
/// ```
/// use gearside::trade::control::upper_mean_limit;
/// // A₂ of five readings is 0.577: 1.31 and 0.577 · 0.05.
/// assert!((upper_mean_limit(1.31, 0.05, 5.0) - 1.338_85).abs() < 1e-9);
/// ```
#[must_use]
pub fn upper_mean_limit(grand_mean: f64, mean_range: f64, size: f64) -> f64 {
    grand_mean + factor_a2(size) * mean_range
}

/// Lower control limit of a chart of means; parameters as for
/// [`upper_mean_limit`].
///
/// Source: grand mean − A₂ · mean range, A₂ from the published table.
///
/// ```
/// use gearside::trade::control::lower_mean_limit;
/// // A₂ of five readings is 0.577: 1.31 less 0.577 · 0.05.
/// assert!((lower_mean_limit(1.31, 0.05, 5.0) - 1.281_15).abs() < 1e-9);
/// ```
#[must_use]
pub fn lower_mean_limit(grand_mean: f64, mean_range: f64, size: f64) -> f64 {
    grand_mean - factor_a2(size) * mean_range
}

/// Upper control limit of a chart of ranges.
///
/// `mean_range` is the mean of the subgroups' ranges, `size` the readings in a
/// subgroup, a whole number 2 to 10.
///
/// Source: D₄ · mean range, D₄ from the published table.
///
/// ```
/// use gearside::trade::control::upper_range_limit;
/// // D₄ of five readings is 2.114.
/// assert!((upper_range_limit(0.05, 5.0) - 0.1057).abs() < 1e-9);
/// ```
#[must_use]
pub fn upper_range_limit(mean_range: f64, size: f64) -> f64 {
    factor_d4(size) * mean_range
}

/// Lower control limit of a chart of ranges: 0 for subgroups of up to six.
///
/// Parameters as for [`upper_range_limit`].
///
/// Source: D₃ · mean range, D₃ from the published table.
///
/// ```
/// use gearside::trade::control::lower_range_limit;
/// // D₃ is 0 for five readings, 0.136 for eight.
/// assert!(lower_range_limit(0.05, 5.0).abs() < 1e-12);
/// assert!((lower_range_limit(0.05, 8.0) - 0.0068).abs() < 1e-9);
/// ```
#[must_use]
pub fn lower_range_limit(mean_range: f64, size: f64) -> f64 {
    factor_d3(size) * mean_range
}

/// The standard deviation that ranges of small subgroups stand for.
///
/// `mean_range` is the mean of the subgroups' ranges, `size` the readings in a
/// subgroup, a whole number 2 to 10.
///
/// Source: mean range / d₂, d₂ from the published table.
///
/// ```
/// use gearside::trade::control::deviation_from_ranges;
/// // d₂ of five readings is 2.326.
/// assert!((deviation_from_ranges(0.05, 5.0) - 0.021_496).abs() < 1e-6);
/// ```
#[must_use]
pub fn deviation_from_ranges(mean_range: f64, size: f64) -> f64 {
    mean_range / factor_d2(size)
}

const TABLE: &str = "factors for control charts as tabled in print (two further tables agree), \
     https://www.scribd.com/document/575462347/factors-for-control-charts";
const NO_SUCH_SIZE: Option<&str> = Some("the subgroup's size is not a whole number from 2 to 10");

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "factor_a2",
        title: "Factor A₂",
        topic: Topic::Statistics,
        says: "By what a mean range is multiplied for the limits of a chart of means.",
        parameters: &[parameter("size", "n", "number of readings in a subgroup", "", 2.0, 10.0)],
        outcome: outcome("A_2", "", KindOfQuantity::Amount, 0.3, 1.9),
        compute: |a| one(a, factor_a2),
        expansion: None,
        wrong_turns: &[
            turn(
                "neighbouring_row",
                "factor_a2(if(size < 10, size + 1, size - 1))",
                "You read the next row of the table. Take the row of the subgroup's size.",
            ),
            turn(
                "neighbouring_column",
                "factor_d4(size)",
                "You read the column D₄, which is for the chart of ranges. The chart of means takes A₂.",
            ),
        ],
        no_result_when: NO_SUCH_SIZE,
        source: TABLE,
    },
    Calculation {
        name: "factor_d2",
        title: "Factor d₂",
        topic: Topic::Statistics,
        says: "By what a mean range is divided for a standard deviation.",
        parameters: &[parameter("size", "n", "number of readings in a subgroup", "", 2.0, 10.0)],
        outcome: outcome("d_2", "", KindOfQuantity::Amount, 1.1, 3.1),
        compute: |a| one(a, factor_d2),
        expansion: None,
        wrong_turns: &[
            turn(
                "neighbouring_row",
                "factor_d2(if(size < 10, size + 1, size - 1))",
                "You read the next row of the table. Take the row of the subgroup's size.",
            ),
            turn("neighbouring_column", "factor_d3(size)", "You read the column D₃. A standard deviation takes d₂."),
        ],
        no_result_when: NO_SUCH_SIZE,
        source: TABLE,
    },
    Calculation {
        name: "factor_d3",
        title: "Factor D₃",
        topic: Topic::Statistics,
        says: "By what a mean range is multiplied for the lower limit of a chart of ranges.",
        parameters: &[parameter("size", "n", "number of readings in a subgroup", "", 2.0, 10.0)],
        outcome: outcome("D_3", "", KindOfQuantity::Amount, 0.0, 0.3),
        compute: |a| one(a, factor_d3),
        expansion: None,
        wrong_turns: &[
            turn(
                "neighbouring_row",
                "factor_d3(if(size < 10, size + 1, size - 1))",
                "You read the next row of the table. Take the row of the subgroup's size.",
            ),
            turn(
                "neighbouring_column",
                "factor_d2(size)",
                "You read the column d₂. The lower limit of ranges takes D₃.",
            ),
        ],
        no_result_when: NO_SUCH_SIZE,
        source: TABLE,
    },
    Calculation {
        name: "factor_d4",
        title: "Factor D₄",
        topic: Topic::Statistics,
        says: "By what a mean range is multiplied for the upper limit of a chart of ranges.",
        parameters: &[parameter("size", "n", "number of readings in a subgroup", "", 2.0, 10.0)],
        outcome: outcome("D_4", "", KindOfQuantity::Amount, 1.7, 3.3),
        compute: |a| one(a, factor_d4),
        expansion: None,
        wrong_turns: &[
            turn(
                "neighbouring_row",
                "factor_d4(if(size < 10, size + 1, size - 1))",
                "You read the next row of the table. Take the row of the subgroup's size.",
            ),
            turn(
                "neighbouring_column",
                "factor_a2(size)",
                "You read the column A₂, which is for the chart of means. The chart of ranges takes D₄.",
            ),
        ],
        no_result_when: NO_SUCH_SIZE,
        source: TABLE,
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
        expansion: Some("grand_mean + factor_a2(size) * mean_range"),
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
        expansion: Some("grand_mean - factor_a2(size) * mean_range"),
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
        expansion: Some("factor_d4(size) * mean_range"),
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
        expansion: Some("factor_d3(size) * mean_range"),
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
        expansion: Some("mean_range / factor_d2(size)"),
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
];

#[cfg(test)]
mod tests {
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
}

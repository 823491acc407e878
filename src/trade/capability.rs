//! Capability: how the spread of a process sits in its tolerance.

use super::catalogue::{Calculation, Topic, four, outcome, parameter, three, turn};
use super::kind::KindOfQuantity;

/// Capability ratio Cp: how often the spread of a process fits its tolerance.
///
/// `upper` and `lower` are the limits of the specification (upper above lower),
/// `deviation` the standard deviation of the process (above 0).
///
/// Source: (USL − LSL) / 6 s.
///
/// ```
/// use gearside::trade::capability::capability;
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
/// use gearside::trade::capability::centred_capability;
/// // The nearer limit is 20 away: over three times 8.
/// assert!((centred_capability(150.0, 100.0, 130.0, 8.0) - 0.833_333).abs() < 1e-6);
/// ```
#[must_use]
pub fn centred_capability(upper: f64, lower: f64, mean: f64, deviation: f64) -> f64 {
    let (above, below) = (upper - mean, mean - lower);
    (if above < below { above } else { below }) / (3.0 * deviation)
}

pub(super) const CALCULATIONS: &[Calculation] = &[
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

    proptest! {
        #[test]
        fn a_centred_process_has_equal_capabilities(half in 0.1_f64..5.0, mean in -5.0_f64..5.0, deviation in 0.01_f64..2.0) {
            let (upper, lower) = (mean + half, mean - half);
            let (cp, cpk) = (capability(upper, lower, deviation), centred_capability(upper, lower, mean, deviation));
            prop_assert!((cp - cpk).abs() < 1e-9 * cp.max(1.0));
        }
    }
}

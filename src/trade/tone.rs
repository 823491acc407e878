//! Tone value and tone value increase.
//!
//! `tint` and `solid` are ink-only densities: the paper's density is already
//! taken off.

use super::catalogue::{Calculation, Topic, outcome, parameter, three, turn, two};
use super::density::ten_to_minus;
use super::kind::KindOfQuantity;

/// Tone value on a print, as a fraction.
///
/// `tint` is the ink-only density of the tint (0 to 2.5), `solid` that of the solid
/// (0.2 to 2.5).
///
/// Source: ISO 12647-1, tone value on a print; Murray-Davies equation.
///
/// ```
/// use gearside::trade::tone::tone_value;
/// // Tint 0.58, solid 1.40, paper 0.08: 71.814 %.
/// assert!((tone_value(0.50, 1.32) - 0.718_14).abs() < 5e-6);
/// ```
#[must_use]
pub fn tone_value(tint: f64, solid: f64) -> f64 {
    (1.0 - ten_to_minus(tint)) / (1.0 - ten_to_minus(solid))
}

/// Tone value with the spreading of light in the stock taken out, as a fraction.
///
/// `tint` and `solid` as for [`tone_value`]; `n` is the factor for light spreading
/// (1 to 3; at 1 it is the tone value itself).
///
/// Source: Yule-Nielsen equation.
///
/// ```
/// use gearside::trade::tone::tone_value_n;
/// // Tint 0.58, solid 1.40, paper 0.08, n = 1.7: 59.083 %.
/// assert!((tone_value_n(0.50, 1.32, 1.7) - 0.590_83).abs() < 5e-6);
/// ```
#[must_use]
pub fn tone_value_n(tint: f64, solid: f64, n: f64) -> f64 {
    tone_value(tint / n, solid / n)
}

/// Tone value increase, as a fraction (0.01 is a point).
///
/// `tone_value` is the printed tone value, `nominal` that in the data file, both as
/// fractions (0 to 1).
///
/// Source: ISO 12647-1; a difference in points, not a share of the nominal.
///
/// ```
/// use gearside::trade::tone::tone_value_increase;
/// // 71.814 % printed for 50 %: 21.814 points.
/// assert!((tone_value_increase(0.718_14, 0.50) - 0.218_14).abs() < 1e-12);
/// ```
#[must_use]
pub fn tone_value_increase(tone_value: f64, nominal: f64) -> f64 {
    tone_value - nominal
}

/// Tone value from reflectances, as a fraction.
///
/// `paper`, `solid` and `tint` are reflectance factors (0 to 1) by one filter,
/// or one tristimulus value each (X for cyan, Y for magenta and black, Z for
/// yellow) for the colorimetric tone value.
///
/// Source: Murray-Davies in reflectances, the same as [`tone_value`].
///
/// ```
/// use gearside::trade::tone::tone_value_from_light;
/// // A tint halfway between paper and solid.
/// assert!((tone_value_from_light(0.80, 0.04, 0.42) - 0.5).abs() < 1e-12);
/// ```
#[must_use]
pub fn tone_value_from_light(paper: f64, solid: f64, tint: f64) -> f64 {
    (paper - tint) / (paper - solid)
}

/// Ink-only density of a tint for a tone value.
///
/// `tone_value` is the tone value as a fraction (0 to 1), `solid` the ink-only
/// density of the solid (0.2 to 2.5).
///
/// Source: Murray-Davies, solved for the tint.
///
/// ```
/// use gearside::trade::tone::tint_density;
/// // Solid 1.32, tone value 71.814 %: a tint of 0.50.
/// assert!((tint_density(0.718_14, 1.32) - 0.50).abs() < 1e-5);
/// ```
#[must_use]
pub fn tint_density(tone_value: f64, solid: f64) -> f64 {
    -libm::log10(1.0 - tone_value * (1.0 - ten_to_minus(solid)))
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "tone_value",
        title: "Tone value",
        topic: Topic::Tone,
        says: "What tone value a tint prints at, from ink-only densities.",
        parameters: &[
            parameter("tint", "D_t", "ink-only density of the tint", "", 0.0, 2.5),
            parameter("solid", "D_s", "ink-only density of the solid", "", 0.2, 2.5),
        ],
        outcome: outcome("A", "%", KindOfQuantity::ToneValue, 0.0, 100.0),
        compute: |a| two(a, tone_value),
        expansion: Some("(1 - 10^-tint) / (1 - 10^-solid)"),
        wrong_turns: &[
            turn(
                "density_ratio",
                "tint / solid",
                "You divided the densities. They are logarithms: work out 1 − 10^(−D) for each first.",
            ),
            turn(
                "sign_of_the_exponent",
                "(1 - 10^tint) / (1 - 10^solid)",
                "You raised 10 to plus the density. The exponent is minus the density.",
            ),
            turn(
                "light_spread_removed",
                "(1 - 10^-(tint / 1.7)) / (1 - 10^-(solid / 1.7))",
                "You divided the densities by an n of 1.7. Without an n given, use them as they are.",
            ),
        ],
        no_result_when: None,
        source: "Murray-Davies equation; ISO 12647-1, tone value on a print",
    },
    Calculation {
        name: "tone_value_n",
        title: "Tone value with n",
        topic: Topic::Tone,
        says: "What tone value a tint prints at when light spreading in the stock is taken out.",
        parameters: &[
            parameter("tint", "D_t", "ink-only density of the tint", "", 0.0, 2.5),
            parameter("solid", "D_s", "ink-only density of the solid", "", 0.2, 2.5),
            parameter("n", "n", "factor for light spreading", "", 1.0, 3.0),
        ],
        outcome: outcome("A_n", "%", KindOfQuantity::ToneValue, 0.0, 100.0),
        compute: |a| three(a, tone_value_n),
        expansion: Some("(1 - 10^-(tint / n)) / (1 - 10^-(solid / n))"),
        wrong_turns: &[
            turn(
                "n_forgotten",
                "(1 - 10^-tint) / (1 - 10^-solid)",
                "You left n out. Divide each density by n before you raise 10 to it.",
            ),
            turn(
                "n_multiplied",
                "(1 - 10^-(n * tint)) / (1 - 10^-(n * solid))",
                "You multiplied the densities by n. Divide by it: n above 1 lowers the tone value.",
            ),
            turn(
                "density_ratio",
                "tint / solid",
                "You divided the densities. They are logarithms: work out 1 − 10^(−D) for each first.",
            ),
        ],
        no_result_when: None,
        source: "Yule-Nielsen equation; n = 1 is Murray-Davies",
    },
    Calculation {
        name: "tone_value_increase",
        title: "Tone value increase",
        topic: Topic::Tone,
        says: "How many points a tint prints heavier than in the data file.",
        parameters: &[
            parameter("tone_value", "A", "printed tone value", "%", 0.0, 100.0),
            parameter("nominal", "A_0", "tone value in the data file", "%", 0.0, 100.0),
        ],
        outcome: outcome("Δ_A", "points", KindOfQuantity::ToneValue, -20.0, 60.0),
        compute: |a| two(a, tone_value_increase),
        expansion: Some("tone_value - nominal"),
        wrong_turns: &[
            turn(
                "sign_turned",
                "nominal - tone_value",
                "You subtracted the wrong way round. Printed minus nominal: a heavier print is positive.",
            ),
            turn(
                "relative_gain",
                "(tone_value - nominal) / nominal",
                "You gave the gain as a share of the nominal. It is a plain difference, in points.",
            ),
        ],
        no_result_when: None,
        source: "ISO 12647-1: a difference in percentage points",
    },
    Calculation {
        name: "tone_value_from_light",
        title: "Tone value from reflectances",
        topic: Topic::Tone,
        says: "What tone value a tint prints at, from reflectances or one tristimulus value each.",
        parameters: &[
            parameter("paper", "β_p", "reflectance of the paper", "%", 5.0, 100.0),
            parameter("solid", "β_s", "reflectance of the solid", "%", 0.0, 90.0),
            parameter("tint", "β_t", "reflectance of the tint", "%", 0.0, 100.0),
        ],
        outcome: outcome("A", "%", KindOfQuantity::ToneValue, 0.0, 100.0),
        compute: |a| three(a, tone_value_from_light),
        expansion: Some("(paper - tint) / (paper - solid)"),
        wrong_turns: &[
            turn(
                "unprinted_share",
                "(tint - solid) / (paper - solid)",
                "You gave the part that is not printed. Take it off 100 %.",
            ),
            turn(
                "paper_taken_as_white",
                "(1 - tint) / (1 - solid)",
                "You took the paper for a perfect white. Use its own reflectance.",
            ),
        ],
        no_result_when: Some("paper and solid reflect the same"),
        source: "Murray-Davies equation in reflectances",
    },
    Calculation {
        name: "tint_density",
        title: "Density of a tint",
        topic: Topic::Tone,
        says: "What ink-only density a tint reads at for a tone value.",
        parameters: &[
            parameter("tone_value", "A", "tone value", "%", 0.0, 100.0),
            parameter("solid", "D_s", "ink-only density of the solid", "", 0.2, 2.5),
        ],
        outcome: outcome("D_t", "", KindOfQuantity::Density, 0.0, 2.5),
        compute: |a| two(a, tint_density),
        expansion: Some("-log10(1 - tone_value * (1 - 10^-solid))"),
        wrong_turns: &[
            turn(
                "share_of_the_density",
                "tone_value * solid",
                "You took a share of the density. Densities are logarithms: go by reflectance.",
            ),
            turn(
                "solid_taken_as_black",
                "-log10(1 - tone_value)",
                "You took the solid for a perfect black. It gives some light back: use its density.",
            ),
        ],
        no_result_when: None,
        source: "Murray-Davies equation, solved for the tint",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::trade::density::reflectance_of;

    proptest! {
        #[test]
        fn a_tint_of_a_tone_value_has_that_tone_value(share in 0.0_f64..0.99, solid in 0.2_f64..2.5) {
            prop_assert!((tone_value(tint_density(share, solid), solid) - share).abs() < 1e-9);
        }

        #[test]
        fn densities_and_reflectances_give_the_same_tone_value(tint in 0.0_f64..1.5, more in 0.01_f64..1.0, paper in 0.0_f64..0.6) {
            let solid = tint + more;
            let by_light = tone_value_from_light(
                reflectance_of(paper),
                reflectance_of(paper + solid),
                reflectance_of(paper + tint),
            );
            prop_assert!((tone_value(tint, solid) - by_light).abs() < 1e-9);
        }

        #[test]
        fn light_spreading_taken_out_lowers_the_tone_value(tint in 0.05_f64..1.0, more in 0.1_f64..1.0, n in 1.01_f64..3.0) {
            prop_assert!(tone_value_n(tint, tint + more, n) < tone_value(tint, tint + more));
        }
    }
}

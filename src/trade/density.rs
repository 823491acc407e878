//! Optical density and what is made of it. Densities are read by one filter and
//! status throughout.
//!
//! Where a formula needs ink-only densities, the paper's density is already
//! taken off.

use super::catalogue::{Calculation, Topic, one, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Optical density of a reflectance, a plain number.
///
/// `reflectance` is the share of the light that returns (0.0005 to 1).
///
/// Source: ISO 5-4; density is minus the decimal logarithm of reflectance.
///
/// ```
/// use gearside::trade::density::density_of;
/// // 20 % is 0.6990.
/// assert!((density_of(0.20) - 0.6990).abs() < 5e-5);
/// ```
#[must_use]
pub fn density_of(reflectance: f64) -> f64 {
    -libm::log10(reflectance)
}

/// Density of the ink alone, a plain number.
///
/// `density` is what the print reads (0 to 3.5), `paper` what the unprinted stock
/// reads by the same filter (0 to 0.8).
///
/// Source: definition of relative density.
///
/// ```
/// use gearside::trade::density::ink_density;
/// // 1.42 on paper of 0.08: 1.34.
/// assert!((ink_density(1.42, 0.08) - 1.34).abs() < 1e-12);
/// ```
#[must_use]
pub fn ink_density(density: f64, paper: f64) -> f64 {
    density - paper
}

/// Print contrast, as a fraction.
///
/// `solid` and `tint` are the densities of the solid (0.2 to 3) and of its shadow
/// tint, usually 75 % (0 to 3), both with the paper or both without.
///
/// Source: usual definition of print contrast.
///
/// ```
/// use gearside::trade::density::print_contrast;
/// // 1.55 and 0.98: 36.77 %.
/// assert!((print_contrast(1.55, 0.98) - 0.3677).abs() < 5e-5);
/// ```
#[must_use]
pub fn print_contrast(solid: f64, tint: f64) -> f64 {
    (solid - tint) / solid
}

/// Apparent trap, as a fraction.
///
/// `overprint`, `first` and `second` are the ink-only densities of both inks over
/// each other (0.2 to 3.5), of the ink laid first (0.01 to 2.5) and of the one laid
/// second (0.2 to 2.5), all by the filter of the *second* ink.
///
/// Source: Preucil's apparent trap.
///
/// ```
/// use gearside::trade::density::trap;
/// // 1.45, 0.42 and 1.32 with 0.07 of paper in each: 82.40 %.
/// assert!((trap(1.38, 0.35, 1.25) - 0.8240).abs() < 5e-5);
/// ```
#[must_use]
pub fn trap(overprint: f64, first: f64, second: f64) -> f64 {
    (overprint - first) / second
}

/// Reflectance of a density, as a fraction.
///
/// `density` is the density read (0 to 3.3).
///
/// Source: ISO 5-4, turned round.
///
/// ```
/// use gearside::trade::density::reflectance_of;
/// // 0.30 halves the light, and 1.00 leaves a tenth.
/// assert!((reflectance_of(1.0) - 0.1).abs() < 1e-12);
/// ```
#[must_use]
pub fn reflectance_of(density: f64) -> f64 {
    ten_to_minus(density)
}

/// Hue error of an ink, as a fraction.
///
/// `high`, `middle` and `low` are the ink-only densities through the three
/// filters, in that order of size (0 to 3).
///
/// Source: usual definition of hue error, from memory; values recomputed.
///
/// ```
/// use gearside::trade::density::hue_error;
/// // 1.32, 0.46 and 0.16: 25.86 %.
/// assert!((hue_error(1.32, 0.46, 0.16) - 0.2586).abs() < 5e-5);
/// ```
#[must_use]
pub fn hue_error(high: f64, middle: f64, low: f64) -> f64 {
    (middle - low) / (high - low)
}

/// Greyness of an ink, as a fraction.
///
/// `high` and `low` are the greatest and the least of its ink-only densities
/// through the three filters (0 to 3).
///
/// Source: usual definition of greyness, from memory; values recomputed.
///
/// ```
/// use gearside::trade::density::greyness;
/// // 1.32 and 0.16: 12.12 %.
/// assert!((greyness(1.32, 0.16) - 0.1212).abs() < 5e-5);
/// ```
#[must_use]
pub fn greyness(high: f64, low: f64) -> f64 {
    low / high
}

/// 10^-x, the reflectance that belongs to a density.
pub(super) fn ten_to_minus(density: f64) -> f64 {
    libm::pow(10.0, -density)
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "density_of",
        title: "Density of a reflectance",
        topic: Topic::Tone,
        says: "What optical density a reflectance stands for.",
        parameters: &[parameter("reflectance", "β", "reflectance", "%", 0.05, 100.0)],
        outcome: outcome("D", "", KindOfQuantity::Density, 0.0, 3.31),
        compute: |a| one(a, density_of),
        expansion: Some("-log10(reflectance)"),
        wrong_turns: &[
            turn(
                "log_of_the_percentage",
                "log10(bare(reflectance, '%'))",
                "You took the logarithm of the number of percent. Make it a fraction first, then turn the sign.",
            ),
            turn(
                "natural_logarithm",
                "-ln(reflectance)",
                "You used the natural logarithm. Density goes by tens: use log10.",
            ),
            turn(
                "light_lost",
                "1 - reflectance",
                "You gave the share of light that is lost. Density is minus the logarithm of the share that returns.",
            ),
        ],
        no_result_when: None,
        source: "ISO 5-4: density is minus the decimal logarithm of reflectance",
    },
    Calculation {
        name: "reflectance_of",
        title: "Reflectance of a density",
        topic: Topic::Tone,
        says: "What share of the light a density gives back.",
        parameters: &[parameter("density", "D", "density", "", 0.0, 3.31)],
        outcome: outcome("β", "%", KindOfQuantity::Amount, 0.04, 100.0),
        compute: |a| one(a, reflectance_of),
        expansion: Some("10^-density"),
        wrong_turns: &[
            turn(
                "light_lost",
                "1 - 10^-density",
                "You gave the share of light that is lost. The reflectance is what returns.",
            ),
            turn(
                "sign_of_the_exponent",
                "10^density",
                "You raised 10 to plus the density. The exponent is minus the density.",
            ),
        ],
        no_result_when: None,
        source: "ISO 5-4, turned round",
    },
    Calculation {
        name: "ink_density",
        title: "Ink-only density",
        topic: Topic::Tone,
        says: "What of a density is the ink's, without the paper.",
        parameters: &[
            parameter("density", "D", "density read on the print", "", 0.0, 3.5),
            parameter("paper", "D_p", "density of the unprinted stock", "", 0.0, 0.8),
        ],
        outcome: outcome("D_i", "", KindOfQuantity::Density, 0.0, 3.5),
        compute: |a| two(a, ink_density),
        expansion: Some("density - paper"),
        wrong_turns: &[
            turn("paper_added", "density + paper", "You added the paper. It is in the reading already: take it off."),
            turn("paper_divided", "density / paper", "You divided by the paper. Densities are logarithms: subtract."),
            turn(
                "paper_taken_twice",
                "density - 2 * paper",
                "You took the paper off twice. Once is enough: zeroing on paper does it too.",
            ),
        ],
        no_result_when: None,
        source: "definition: density relative to the unprinted stock, same filter",
    },
    Calculation {
        name: "print_contrast",
        title: "Print contrast",
        topic: Topic::Tone,
        says: "How far the shadow tint stands off the solid.",
        parameters: &[
            parameter("solid", "D_s", "density of the solid", "", 0.2, 3.0),
            parameter("tint", "D_t", "density of the shadow tint", "", 0.0, 3.0),
        ],
        outcome: outcome("C", "%", KindOfQuantity::ToneValue, 0.0, 75.0),
        compute: |a| two(a, print_contrast),
        expansion: Some("(solid - tint) / solid"),
        wrong_turns: &[
            turn(
                "divided_by_the_tint",
                "(solid - tint) / tint",
                "You divided by the tint. The difference is a share of the solid.",
            ),
            turn(
                "ratio_given",
                "tint / solid",
                "You gave the tint as a share of the solid. Contrast is what is left: one minus that.",
            ),
        ],
        no_result_when: None,
        source: "usual definition of print contrast, https://printwiki.org/Print_Contrast",
    },
    Calculation {
        name: "trap",
        title: "Apparent trap",
        topic: Topic::Tone,
        says: "How well the second ink takes on the first, from ink-only densities by the second ink's filter.",
        parameters: &[
            parameter("overprint", "D_o", "ink-only density of both inks", "", 0.2, 3.5),
            parameter("first", "D_1", "ink-only density of the ink laid first", "", 0.01, 2.5),
            parameter("second", "D_2", "ink-only density of the ink laid second", "", 0.2, 2.5),
        ],
        outcome: outcome("T", "%", KindOfQuantity::ToneValue, 30.0, 100.0),
        compute: |a| three(a, trap),
        expansion: Some("(overprint - first) / second"),
        wrong_turns: &[
            turn(
                "first_and_second_swapped",
                "(overprint - second) / first",
                "You swapped the two inks. Take the first off, then divide by the second.",
            ),
            turn(
                "ratio_to_the_sum",
                "overprint / (first + second)",
                "You divided by both inks together. Take the first off, then divide by the second.",
            ),
            turn(
                "first_not_deducted",
                "overprint / second",
                "You left the first ink in. Take it off the overprint first.",
            ),
        ],
        no_result_when: None,
        source: "Preucil's apparent trap",
    },
    Calculation {
        name: "hue_error",
        title: "Hue error",
        topic: Topic::Tone,
        says: "How far an ink leans towards another colour, from its ink-only densities by three filters.",
        parameters: &[
            parameter("high", "D_h", "greatest of the three densities", "", 0.2, 3.0),
            parameter("middle", "D_m", "middle one of the three densities", "", 0.0, 2.5),
            parameter("low", "D_l", "least of the three densities", "", 0.0, 2.0),
        ],
        outcome: outcome("E_h", "%", KindOfQuantity::ToneValue, 0.0, 100.0),
        compute: |a| three(a, hue_error),
        expansion: Some("(middle - low) / (high - low)"),
        wrong_turns: &[
            turn(
                "divided_by_the_greatest",
                "(middle - low) / high",
                "You divided by the greatest density. Take the least off that one as well.",
            ),
            turn(
                "least_left_in",
                "middle / high",
                "You left the least density in. It is the grey of the ink: take it off both.",
            ),
        ],
        no_result_when: Some("the greatest and the least density are the same"),
        source: "usual definition of hue error, from memory",
    },
    Calculation {
        name: "greyness",
        title: "Greyness",
        topic: Topic::Tone,
        says: "How much grey is in an ink, from its ink-only densities by three filters.",
        parameters: &[
            parameter("high", "D_h", "greatest of the three densities", "", 0.2, 3.0),
            parameter("low", "D_l", "least of the three densities", "", 0.0, 2.0),
        ],
        outcome: outcome("G", "%", KindOfQuantity::ToneValue, 0.0, 100.0),
        compute: |a| two(a, greyness),
        expansion: Some("low / high"),
        wrong_turns: &[
            turn(
                "upside_down",
                "high / low",
                "You divided the wrong way round. Greyness is the least over the greatest.",
            ),
            turn(
                "difference",
                "(high - low) / high",
                "You gave what is not grey. Greyness is the least over the greatest.",
            ),
        ],
        no_result_when: None,
        source: "usual definition of greyness, from memory",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn density_and_reflectance_are_each_others_inverse(density in 0.0_f64..3.3) {
            prop_assert!((density_of(reflectance_of(density)) - density).abs() < 1e-12);
        }

        #[test]
        fn more_light_is_less_density(light in 0.001_f64..0.9, more in 0.001_f64..0.1) {
            prop_assert!(density_of(light + more) < density_of(light));
        }

        #[test]
        fn grey_does_not_depend_on_how_strong_the_ink_is(high in 0.5_f64..2.0, part in 0.0_f64..1.0, strength in 0.5_f64..1.5) {
            let low = part * high;
            prop_assert!((greyness(strength * high, strength * low) - greyness(high, low)).abs() < 1e-12);
        }
    }
}

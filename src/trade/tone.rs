//! Density and tone. Densities are read by one filter and status throughout.
//!
//! `tint`, `solid`, `overprint`, `first` and `second` are ink-only densities
//! where the formula needs them so: the paper's density is already taken off.

use super::catalogue::{Calculation, Topic, one, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Optical density of a reflectance.
///
/// `reflectance` is the reflectance factor, 0.0005 to 1.
///
/// Source: ISO 5-4; density is minus the decimal logarithm of reflectance.
///
/// ```
/// use gearside::trade::tone::density_of;
/// // 20 % is 0.6990.
/// assert!((density_of(0.20) - 0.6990).abs() < 5e-5);
/// ```
#[must_use]
pub fn density_of(reflectance: f64) -> f64 {
    -libm::log10(reflectance)
}

/// Ink-only density.
///
/// `density` is the density read on the print (0 to 3), `paper` that of the
/// unprinted stock by the same filter (0 to 0.8).
///
/// Source: definition of relative density.
///
/// ```
/// use gearside::trade::tone::ink_density;
/// assert!((ink_density(1.42, 0.08) - 1.34).abs() < 1e-12);
/// ```
#[must_use]
pub fn ink_density(density: f64, paper: f64) -> f64 {
    density - paper
}

/// Tone value after Murray and Davies, as a fraction.
///
/// `tint` and `solid` are ink-only densities (0 to 2.5, 0.2 to 2.5). A tint that
/// carries more ink than the solid comes out above 1; it is not clipped.
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

/// Tone value after Yule and Nielsen, as a fraction.
///
/// `tint` and `solid` are ink-only densities as for [`tone_value`]; `n` is the
/// factor for light spreading in the stock, 1 to 3 (1 is Murray-Davies).
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

/// Tone value increase, as a fraction: 0.22 is 22 points.
///
/// `tone_value` is the printed tone value, `nominal` the one in the data file,
/// both 0 to 1.
///
/// Source: ISO 12647-1; a difference in points, not a share of the nominal.
///
/// ```
/// use gearside::trade::tone::tone_value_increase;
/// assert!((tone_value_increase(0.718_14, 0.50) - 0.218_14).abs() < 1e-12);
/// ```
#[must_use]
pub fn tone_value_increase(tone_value: f64, nominal: f64) -> f64 {
    tone_value - nominal
}

/// Print contrast, as a fraction.
///
/// `solid` is the density of the solid (0.2 to 3), `tint` that of the shadow
/// tint, usually 75 % (0 to 3); both absolute or both ink-only.
///
/// Source: usual definition of print contrast.
///
/// ```
/// use gearside::trade::tone::print_contrast;
/// // 1.55 and 0.98: 36.77 %.
/// assert!((print_contrast(1.55, 0.98) - 0.3677).abs() < 5e-5);
/// ```
#[must_use]
pub fn print_contrast(solid: f64, tint: f64) -> f64 {
    (solid - tint) / solid
}

/// Apparent trap after Preucil, as a fraction.
///
/// `overprint`, `first` and `second` are ink-only densities of the two inks over
/// each other (0.2 to 3.5), of the ink laid first (0.05 to 2.5) and of the ink
/// laid second (0.2 to 2.5), all by the filter of the second ink.
///
/// Source: Preucil's apparent trap.
///
/// ```
/// use gearside::trade::tone::trap;
/// // 1.45, 0.42 and 1.32 with 0.07 of paper in each: 82.40 %.
/// assert!((trap(1.38, 0.35, 1.25) - 0.8240).abs() < 5e-5);
/// ```
#[must_use]
pub fn trap(overprint: f64, first: f64, second: f64) -> f64 {
    (overprint - first) / second
}

/// 10^-x, the reflectance that belongs to a density.
fn ten_to_minus(density: f64) -> f64 {
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
];

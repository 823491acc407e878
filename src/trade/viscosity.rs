//! Dynamic viscosity, and viscosity at another temperature. (The flow cups have
//! a file to themselves.)
//!
//! What a correction takes is viscosity, not seconds of a cup: turn seconds into
//! mm²/s, correct that, and turn it back.

use super::catalogue::{Calculation, Topic, five, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Dynamic viscosity, in Pa·s.
///
/// `kinematic_m2_s` is the kinematic viscosity in m²/s (1 to 5000 mm²/s),
/// `density_kg_m3` the density in kg/m³ (700 to 2500).
///
/// Source: definition of kinematic viscosity.
///
/// ```
/// use gearside::trade::viscosity::dynamic_viscosity;
/// // 28 mm²/s at 1.05 g/cm³: 29.4 mPa·s.
/// assert!((dynamic_viscosity(28e-6, 1050.0) - 29.4e-3).abs() < 1e-12);
/// ```
#[must_use]
pub fn dynamic_viscosity(kinematic_m2_s: f64, density_kg_m3: f64) -> f64 {
    kinematic_m2_s * density_kg_m3
}

/// Viscosity of an ink at another temperature, in m²/s.
///
/// `viscosity_m2_s` is its kinematic viscosity in m²/s (1 to 5000 mm²/s),
/// `share` what it loses per kelvin as a fraction of what there is (0 to 15 %),
/// `warmer_k` how much warmer it gets in kelvins (-30 to 30).
///
/// Source: rule for small ranges of temperature; each kelvin takes the same
/// share of what is left. A cup manual tells of 3 to 8 % per kelvin for standard
/// oils; an ink has its own.
///
/// ```
/// use gearside::trade::viscosity::viscosity_at;
/// // 10 % per kelvin, two kelvins: 81 % is left.
/// assert!((viscosity_at(100e-6, 0.10, 2.0) - 81e-6).abs() < 1e-15);
/// ```
#[must_use]
pub fn viscosity_at(viscosity_m2_s: f64, share: f64, warmer_k: f64) -> f64 {
    viscosity_m2_s * libm::pow(1.0 - share, warmer_k)
}

/// What share of its viscosity a liquid loses per kelvin, as a fraction.
///
/// `first_m2_s` and `second_m2_s` are its kinematic viscosities in m²/s (1 to
/// 5000 mm²/s), `warmer_k` is how much warmer it is at the second, in kelvins
/// (0.5 to 40).
///
/// Source: [`viscosity_at`] solved for the share.
///
/// ```
/// use gearside::trade::viscosity::viscosity_share_per_degree;
/// // 100 to 81 mm²/s in two kelvins: 10 % per kelvin.
/// assert!((viscosity_share_per_degree(100e-6, 81e-6, 2.0) - 0.10).abs() < 1e-12);
/// ```
#[must_use]
pub fn viscosity_share_per_degree(first_m2_s: f64, second_m2_s: f64, warmer_k: f64) -> f64 {
    1.0 - libm::pow(second_m2_s / first_m2_s, 1.0 / warmer_k)
}

/// Viscosity at a temperature between two known ones, in m²/s.
///
/// `first_m2_s` and `second_m2_s` are the known kinematic viscosities in m²/s (1
/// to 5000 mm²/s), `first_k` and `second_k` their temperatures in kelvins (0 to
/// 60 °C), `temperature_k` that of the one asked for, between the two. Not a
/// number if the two temperatures are the same.
///
/// Source: a straight line between the two, as published for standard oils.
///
/// ```
/// use gearside::trade::viscosity::viscosity_between;
/// // A standard oil of 20.72 mm²/s at 20 °C and 16.92 at 25 °C: 18.44 at 23 °C.
/// let at = |celsius: f64| celsius + 273.15;
/// assert!((viscosity_between(20.72e-6, at(20.0), 16.92e-6, at(25.0), at(23.0)) - 18.44e-6).abs() < 1e-15);
/// ```
#[must_use]
pub fn viscosity_between(first_m2_s: f64, first_k: f64, second_m2_s: f64, second_k: f64, temperature_k: f64) -> f64 {
    first_m2_s + (second_m2_s - first_m2_s) * (temperature_k - first_k) / (second_k - first_k)
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "dynamic_viscosity",
        title: "Dynamic viscosity",
        topic: Topic::Viscosity,
        says: "What dynamic viscosity a kinematic one stands for.",
        parameters: &[
            parameter("kinematic", "ν", "kinematic viscosity", "mm²/s", 1.0, 5000.0),
            parameter("density", "ρ", "density of the ink", "g/cm³", 0.7, 2.5),
        ],
        outcome: outcome("η", "mPa·s", KindOfQuantity::Amount, 0.7, 12_500.0),
        compute: |a| two(a, dynamic_viscosity),
        expansion: Some("kinematic * density"),
        wrong_turns: &[
            turn(
                "density_forgotten",
                "bare(kinematic, 'mm²/s') * '1 mPa·s'",
                "You took mm²/s for mPa·s. Multiply by the density in g/cm³.",
            ),
            turn(
                "divided_by_density",
                "bare(kinematic, 'mm²/s') / bare(density, 'g/cm³') * '1 mPa·s'",
                "You divided by the density. From kinematic to dynamic you multiply.",
            ),
        ],
        no_result_when: None,
        source: "definition: kinematic viscosity is dynamic viscosity over density",
    },
    Calculation {
        name: "viscosity_at",
        title: "Viscosity when warmer",
        topic: Topic::Viscosity,
        says: "What viscosity is left of an ink when it is warmer by so many degrees.",
        parameters: &[
            parameter("viscosity", "ν", "kinematic viscosity", "mm²/s", 1.0, 5000.0),
            parameter("share", "k", "share of the viscosity lost per kelvin", "%", 0.0, 15.0),
            parameter("warmer", "Δ_T", "rise of temperature", "K", -30.0, 30.0),
        ],
        outcome: outcome("ν_2", "mm²/s", KindOfQuantity::Amount, 1.0, 5000.0),
        compute: |a| three(a, viscosity_at),
        expansion: Some("viscosity * (1 - share) ^ (warmer / '1 K')"),
        wrong_turns: &[
            turn(
                "same_loss_each_degree",
                "viscosity * (1 - share * (warmer / '1 K'))",
                "You took the share of the first viscosity for every degree. Each degree takes it of what is left: use a power.",
            ),
            turn(
                "thicker_when_warmer",
                "viscosity / (1 - share) ^ (warmer / '1 K')",
                "You made the warmer ink thicker. Ink gets thinner as it warms.",
            ),
            turn(
                "one_degree_only",
                "viscosity * (1 - share)",
                "You took one degree's loss. There are as many of them as degrees.",
            ),
        ],
        no_result_when: None,
        source: "rule for small ranges of temperature; 3 to 8 % per °C for standard oils by a cup manual, \
                 https://www.manualslib.com/manual/1629656/Gardco-Ez-Zahn-Dip-Viscosity-Cup-Series.html?page=12",
    },
    Calculation {
        name: "viscosity_share_per_degree",
        title: "Loss of viscosity per degree",
        topic: Topic::Viscosity,
        says: "What share of its viscosity a liquid loses with each degree.",
        parameters: &[
            parameter("first", "ν_1", "viscosity when cooler", "mm²/s", 1.0, 5000.0),
            parameter("second", "ν_2", "viscosity when warmer", "mm²/s", 1.0, 5000.0),
            parameter("warmer", "Δ_T", "difference of temperature", "K", 0.5, 40.0),
        ],
        outcome: outcome("k", "%", KindOfQuantity::Amount, 0.0, 20.0),
        compute: |a| three(a, viscosity_share_per_degree),
        expansion: Some("1 - (second / first) ^ ('1 K' / warmer)"),
        wrong_turns: &[
            turn(
                "spread_evenly",
                "(first - second) / first / (warmer / '1 K')",
                "You spread the loss evenly. Each degree takes its share of what is left: take the root.",
            ),
            turn(
                "all_degrees_together",
                "(first - second) / first",
                "You gave the loss over all the degrees. Asked is that of one.",
            ),
            turn(
                "what_is_left",
                "(second / first) ^ ('1 K' / warmer)",
                "You gave the share that is left after a degree. The loss is one less that.",
            ),
        ],
        no_result_when: None,
        source: "the rule for small ranges of temperature, solved for the share",
    },
    Calculation {
        name: "viscosity_between",
        title: "Viscosity between two temperatures",
        topic: Topic::Viscosity,
        says: "What viscosity lies on the straight line between two known ones.",
        parameters: &[
            parameter("first", "ν_1", "first viscosity", "mm²/s", 1.0, 5000.0),
            parameter("first_temperature", "T_1", "temperature of the first", "°C", 0.0, 60.0),
            parameter("second", "ν_2", "second viscosity", "mm²/s", 1.0, 5000.0),
            parameter("second_temperature", "T_2", "temperature of the second", "°C", 0.0, 60.0),
            parameter("temperature", "T", "temperature asked for", "°C", 0.0, 60.0),
        ],
        outcome: outcome("ν", "mm²/s", KindOfQuantity::Amount, 1.0, 5000.0),
        compute: |a| five(a, viscosity_between),
        expansion: Some(
            "first + (second - first) * (temperature - first_temperature) / (second_temperature - first_temperature)",
        ),
        wrong_turns: &[
            turn(
                "counted_from_the_other_end",
                "second + (first - second) * (temperature - first_temperature) \
                 / (second_temperature - first_temperature)",
                "You counted from the other end. Count degrees and viscosity from the same one of the two.",
            ),
            turn(
                "mean_of_the_two",
                "(first + second) / 2",
                "You took the mean of the two. That is right in the middle only.",
            ),
            turn(
                "in_proportion_to_degrees",
                "first * (bare(temperature, '°C') / bare(first_temperature, '°C'))",
                "You took viscosity as in proportion to degrees. Share out the difference between the two known values.",
            ),
        ],
        no_result_when: Some("the two temperatures are the same"),
        source: "a straight line between two known values",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn the_share_per_degree_comes_back(viscosity in 1e-6_f64..5e-3, share in 0.001_f64..0.15, warmer in 0.5_f64..30.0) {
            let warm = viscosity_at(viscosity, share, warmer);
            prop_assert!((viscosity_share_per_degree(viscosity, warm, warmer) - share).abs() < 1e-9);
        }

        #[test]
        fn warming_and_cooling_again_changes_nothing(viscosity in 1e-6_f64..5e-3, share in 0.0_f64..0.15, warmer in -30.0_f64..30.0) {
            let again = viscosity_at(viscosity_at(viscosity, share, warmer), share, -warmer);
            prop_assert!((again - viscosity).abs() < 1e-9 * viscosity);
        }

        #[test]
        fn which_of_the_two_is_first_does_not_matter(
            first in 1e-6_f64..5e-3, second in 1e-6_f64..5e-3, cool in 273.0_f64..300.0, apart in 1.0_f64..30.0, share in 0.0_f64..1.0
        ) {
            let (warm, asked) = (cool + apart, cool + share * apart);
            let there = viscosity_between(first, cool, second, warm, asked);
            let back = viscosity_between(second, warm, first, cool, asked);
            prop_assert!((there - back).abs() < 1e-9 * first.max(second));
        }
    }
}

//! Dilution and blending by mass balance, and what a change of pH means.
//!
//! Additions go by the ink maker's sheet: a solvent changes drying, not only
//! viscosity, and water lowers the pH as well.

use super::catalogue::{Calculation, Topic, four, numbers, outcome, parameter, series, three, turn, two};
use super::kind::KindOfQuantity;
use super::statistics::total;

/// Solvent or extender to add to bring an ink down to a strength, in kilograms.
///
/// `mass_kg` is the mass of ink (0.01 to 5000 kg), `strength` its strength or
/// solids by weight, `target` the wanted one, both above 0 to 1 and the target
/// not above the strength.
///
/// Source: mass balance: what is dissolved stays the same.
///
/// ```
/// use gearside::trade::mixing::dilution;
/// // 100 kg at 40 % down to 32 %: 25 kg.
/// assert!((dilution(100.0, 0.40, 0.32) - 25.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn dilution(mass_kg: f64, strength: f64, target: f64) -> f64 {
    mass_kg * (strength / target - 1.0)
}

/// Share of the stronger of two inks in a blend, by mass, as a fraction.
///
/// `low` and `high` are the strengths of the two, `target` that of the blend,
/// all 0 to 1; the target lies between the two. Not a number, or no finite one,
/// if the two strengths are the same.
///
/// Source: mass balance (alligation).
///
/// ```
/// use gearside::trade::mixing::blend_share;
/// // 40 and 60 to 58: 18 parts of the strong one in 20.
/// assert!((blend_share(0.40, 0.60, 0.58) - 0.9).abs() < 1e-12);
/// ```
#[must_use]
pub fn blend_share(low: f64, high: f64, target: f64) -> f64 {
    (target - low) / (high - low)
}

/// Addition that brings an ink down to a strength, as a fraction of the ink
/// that was there.
///
/// `strength` is the strength or solids by weight, `target` the wanted one, both
/// above 0 to 1 and the target not above the strength.
///
/// Source: mass balance.
///
/// ```
/// use gearside::trade::mixing::addition_on_ink;
/// // 40 % down to 32 %: 25 kg to 100 kg.
/// assert!((addition_on_ink(0.40, 0.32) - 0.25).abs() < 1e-12);
/// ```
#[must_use]
pub fn addition_on_ink(strength: f64, target: f64) -> f64 {
    strength / target - 1.0
}

/// Addition that brings an ink down to a strength, as a fraction of the blend.
///
/// Parameters as for [`addition_on_ink`].
///
/// Source: mass balance.
///
/// ```
/// use gearside::trade::mixing::addition_of_final;
/// // 40 % down to 32 %: 25 kg in 125 kg.
/// assert!((addition_of_final(0.40, 0.32) - 0.20).abs() < 1e-12);
/// ```
#[must_use]
pub fn addition_of_final(strength: f64, target: f64) -> f64 {
    1.0 - target / strength
}

/// Strength of two inks poured together, as a fraction by weight.
///
/// `first_kg` and `second_kg` are their masses (0.01 to 5000 kg), `first` and
/// `second` their strengths as fractions (0 to 1).
///
/// Source: mass balance.
///
/// ```
/// use gearside::trade::mixing::mixed_strength;
/// // 3 parts at 10 % and 9 at 30 %: 25 %.
/// assert!((mixed_strength(3.0, 0.10, 9.0, 0.30) - 0.25).abs() < 1e-12);
/// ```
#[must_use]
pub fn mixed_strength(first_kg: f64, first: f64, second_kg: f64, second: f64) -> f64 {
    (first_kg * first + second_kg * second) / (first_kg + second_kg)
}

/// Mass of one of the parts of a mix, in kilograms.
///
/// `total_kg` is the mass of the whole mix (0.01 to 5000 kg), `part` how many
/// parts this one is, `parts` how many each of them is, this one among them (0.01
/// to 1000).
///
/// Source: definition of parts by mass.
///
/// ```
/// use gearside::trade::mixing::part_of_mix;
/// // 24 kg mixed 5 : 2 : 1 are 15, 6 and 3 kg.
/// assert!((part_of_mix(24.0, 5.0, &[5.0, 2.0, 1.0]) - 15.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn part_of_mix(total_kg: f64, part: f64, parts: &[f64]) -> f64 {
    total_kg * part / total(parts)
}

/// How many times as acid a liquid is after a change of pH.
///
/// `from` and `to` are the two pH (0 to 14).
///
/// Source: definition of pH: the negative decimal logarithm of the activity of
/// hydrogen ions.
///
/// ```
/// use gearside::trade::mixing::acidity_ratio;
/// // Down by one is ten times as acid; pH 9.0 to 8.5 is √10.
/// assert!((acidity_ratio(9.0, 8.0) - 10.0).abs() < 1e-9);
/// assert!((acidity_ratio(9.0, 8.5) - 3.162_28).abs() < 5e-6);
/// ```
#[must_use]
pub fn acidity_ratio(from: f64, to: f64) -> f64 {
    libm::pow(10.0, from - to)
}

const BALANCE: &str = "derived: mass balance, what is dissolved stays the same";

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "dilution",
        title: "Dilution",
        topic: Topic::Viscosity,
        says: "How much solvent or extender brings an ink down to a strength.",
        parameters: &[
            parameter("mass", "m", "mass of ink", "kg", 0.01, 5000.0),
            parameter("strength", "S", "strength of the ink, by weight", "%", 1.0, 100.0),
            parameter("target", "S_1", "strength wanted, by weight", "%", 1.0, 100.0),
        ],
        outcome: outcome("m_a", "kg", KindOfQuantity::Amount, 0.0, 20_000.0),
        compute: |a| three(a, dilution),
        expansion: Some("mass * (strength / target - 1)"),
        wrong_turns: &[
            turn(
                "difference_times_mass",
                "mass * (strength - target)",
                "You took the difference in percent of the ink. What you add thins itself in: divide by the target.",
            ),
            turn(
                "share_of_the_old_strength",
                "mass * (strength - target) / strength",
                "You divided by the old strength. The blend has the new one: divide by the target.",
            ),
            turn(
                "whole_blend",
                "mass * strength / target",
                "You gave the mass of the whole blend. Take the ink that is there already off.",
            ),
        ],
        no_result_when: None,
        source: BALANCE,
    },
    Calculation {
        name: "blend_share",
        title: "Share of the strong one in a blend",
        topic: Topic::Viscosity,
        says: "What share of a blend the stronger of two inks makes up, by mass.",
        parameters: &[
            parameter("low", "S_l", "strength of the weak one", "%", 0.0, 99.0),
            parameter("high", "S_h", "strength of the strong one", "%", 1.0, 100.0),
            parameter("target", "S_t", "strength wanted", "%", 0.0, 100.0),
        ],
        outcome: outcome("x", "%", KindOfQuantity::Amount, 0.0, 100.0),
        compute: |a| three(a, blend_share),
        expansion: Some("(target - low) / (high - low)"),
        wrong_turns: &[
            turn(
                "crossed_the_wrong_way",
                "(high - target) / (high - low)",
                "You gave the share of the weak one. The nearer a strength is to the target, the more of it you need.",
            ),
            turn(
                "weak_one_as_clear",
                "target / high",
                "You took the weak one for clear. It brings strength too: count from its strength up.",
            ),
            turn(
                "weak_over_strong",
                "(target - low) / (high - target)",
                "You gave parts strong to one part weak. The share is of the whole blend.",
            ),
        ],
        no_result_when: Some("the two strengths are the same"),
        source: "derived: mass balance (alligation)",
    },
    Calculation {
        name: "addition_on_ink",
        title: "Addition on the ink",
        topic: Topic::Viscosity,
        says: "What addition brings an ink down to a strength, as a share of the ink that was there.",
        parameters: &[
            parameter("strength", "S", "strength of the ink, by weight", "%", 1.0, 100.0),
            parameter("target", "S_1", "strength wanted, by weight", "%", 1.0, 100.0),
        ],
        outcome: outcome("a", "%", KindOfQuantity::Amount, 0.0, 1000.0),
        compute: |a| two(a, addition_on_ink),
        expansion: Some("strength / target - 1"),
        wrong_turns: &[
            turn(
                "of_the_blend",
                "1 - target / strength",
                "You gave the share of the blend. Asked is the share of the ink that was there: divide by the target.",
            ),
            turn(
                "difference_of_strengths",
                "strength - target",
                "You subtracted the strengths. What you add thins itself in: strength over target, less one.",
            ),
            turn("whole_blend", "strength / target", "You gave the whole blend. Take the ink itself off: less one."),
        ],
        no_result_when: None,
        source: BALANCE,
    },
    Calculation {
        name: "addition_of_final",
        title: "Addition in the blend",
        topic: Topic::Viscosity,
        says: "What addition brings an ink down to a strength, as a share of the blend.",
        parameters: &[
            parameter("strength", "S", "strength of the ink, by weight", "%", 1.0, 100.0),
            parameter("target", "S_1", "strength wanted, by weight", "%", 1.0, 100.0),
        ],
        outcome: outcome("a", "%", KindOfQuantity::Amount, 0.0, 100.0),
        compute: |a| two(a, addition_of_final),
        expansion: Some("1 - target / strength"),
        wrong_turns: &[
            turn(
                "on_the_ink",
                "strength / target - 1",
                "You gave the share of the ink that was there. Asked is the share of the blend: divide by the strength.",
            ),
            turn(
                "difference_of_strengths",
                "strength - target",
                "You subtracted the strengths. Divide that by the strength of the ink.",
            ),
            turn(
                "share_of_the_ink",
                "target / strength",
                "You gave the ink's share of the blend. The addition is the rest of it.",
            ),
        ],
        no_result_when: None,
        source: BALANCE,
    },
    Calculation {
        name: "mixed_strength",
        title: "Strength of a mix",
        topic: Topic::Viscosity,
        says: "What strength two inks have when they are poured together.",
        parameters: &[
            parameter("first_mass", "m_1", "mass of the first", "lb", 0.01, 10_000.0),
            parameter("first", "S_1", "strength of the first, by weight", "%", 0.0, 100.0),
            parameter("second_mass", "m_2", "mass of the second", "lb", 0.01, 10_000.0),
            parameter("second", "S_2", "strength of the second, by weight", "%", 0.0, 100.0),
        ],
        outcome: outcome("S", "%", KindOfQuantity::Amount, 0.0, 100.0),
        compute: |a| four(a, mixed_strength),
        expansion: Some("(first_mass * first + second_mass * second) / (first_mass + second_mass)"),
        wrong_turns: &[
            turn(
                "masses_forgotten",
                "(first + second) / 2",
                "You took the mean of the strengths. The larger mass counts for more: weigh each by its mass.",
            ),
            turn(
                "masses_crossed",
                "(first_mass * second + second_mass * first) / (first_mass + second_mass)",
                "You gave each the other's mass. Multiply each strength by its own mass.",
            ),
        ],
        no_result_when: None,
        source: BALANCE,
    },
    Calculation {
        name: "part_of_mix",
        title: "Part of a mix",
        topic: Topic::Viscosity,
        says: "How much of one component goes into a mix that is given in parts.",
        parameters: &[
            parameter("total", "m", "mass of the whole mix", "lb", 0.01, 10_000.0),
            parameter("part", "p", "parts of this component", "", 0.01, 1000.0),
            series("parts", "q", "parts of every component", "", 0.01, 1000.0),
        ],
        outcome: outcome("m_p", "lb", KindOfQuantity::Amount, 0.0, 10_000.0),
        compute: |a| match *a {
            [total, part, parts] => {
                numbers(&[total, part]).map_or(f64::NAN, |[total, part]| part_of_mix(total, part, parts))
            }
            _ => f64::NAN,
        },
        expansion: Some("total * part / total(parts)"),
        wrong_turns: &[
            turn(
                "over_the_other_parts",
                "total * part / (total(parts) - part)",
                "You divided by the other parts. This component is a part of the mix as well: divide by all of them.",
            ),
            turn(
                "shared_out_evenly",
                "total / how_many(parts)",
                "You shared the mix out evenly. A component gets as much as it has parts.",
            ),
            turn(
                "parts_as_percent",
                "total * part / 100",
                "You took parts for percent. Divide by the sum of the parts.",
            ),
        ],
        no_result_when: None,
        source: "definition of parts by mass",
    },
    Calculation {
        name: "acidity_ratio",
        title: "Change of acidity",
        topic: Topic::Viscosity,
        says: "How many times as acid an ink is after a change of pH.",
        parameters: &[
            parameter("from", "p_1", "pH before", "pH", 0.0, 14.0),
            parameter("to", "p_2", "pH after", "pH", 0.0, 14.0),
        ],
        outcome: outcome("a", "", KindOfQuantity::Amount, 0.001, 1000.0),
        compute: |a| two(a, acidity_ratio),
        expansion: Some("10 ^ (from - to)"),
        wrong_turns: &[
            turn(
                "ratio_of_the_readings",
                "from / to",
                "You divided the readings. A pH is a logarithm: each whole step is a factor of ten.",
            ),
            turn(
                "turned_round",
                "10 ^ (to - from)",
                "You turned it round. The lower the pH, the more acid: take the first less the second.",
            ),
            turn(
                "difference_of_the_readings",
                "from - to",
                "You gave the difference of the readings. Raise ten to it.",
            ),
        ],
        no_result_when: None,
        source: "definition of pH",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn what_a_dilution_adds_brings_the_mix_to_the_target(mass in 0.1_f64..500.0, strength in 0.05_f64..1.0, share in 0.1_f64..1.0) {
            let target = strength * share;
            let added = dilution(mass, strength, target);
            prop_assert!((mixed_strength(mass, strength, added, 0.0) - target).abs() < 1e-9);
            prop_assert!((addition_on_ink(strength, target) * mass - added).abs() < 1e-9 * mass.max(added));
            prop_assert!((addition_of_final(strength, target) * (mass + added) - added).abs() < 1e-9 * (mass + added));
        }

        #[test]
        fn a_blend_by_its_share_has_the_wanted_strength(low in 0.0_f64..0.45, high in 0.55_f64..1.0, place in 0.0_f64..1.0) {
            let target = low + place * (high - low);
            let share = blend_share(low, high, target);
            prop_assert!((mixed_strength(1.0 - share, low, share, high) - target).abs() < 1e-9);
        }

        #[test]
        fn the_parts_make_the_whole_mix(whole in 0.1_f64..500.0, parts in prop::collection::vec(0.1_f64..50.0, 1..8)) {
            let sum = parts.iter().fold(0.0, |sum, part| sum + part_of_mix(whole, *part, &parts));
            prop_assert!((sum - whole).abs() < 1e-9 * whole);
        }

        #[test]
        fn acidity_there_and_back_is_one(from in 0.0_f64..14.0, to in 0.0_f64..14.0) {
            prop_assert!((acidity_ratio(from, to) * acidity_ratio(to, from) - 1.0).abs() < 1e-9);
        }
    }
}

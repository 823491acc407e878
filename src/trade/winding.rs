//! Winding: the torque at a roll, and tension that falls as the roll grows.
//!
//! Two conventions of taper are in use and give different tensions between
//! core and full roll. Say which one the press has.

use super::catalogue::{Calculation, Topic, five, four, outcome, parameter, turn, two};
use super::kind::KindOfQuantity;

/// Torque at a roll that is driven or braked at its centre, in N·m.
///
/// `tension_n` is the total web tension in newtons (0.02 to 1800 lbf),
/// `diameter_m` the roll's diameter in metres (1 to 80 in).
///
/// Source: definition of torque; the web pulls at the radius. What the roll
/// takes to speed up or slow down comes on top.
///
/// ```
/// use gearside::trade::winding::roll_torque;
/// // 24 lbf on a 20 in roll: 240 lbf·in, 27.1164 N·m. 1 lbf is 4.448222 N.
/// assert!((roll_torque(24.0 * 4.448_222, 20.0 * 0.0254) - 27.1164).abs() < 5e-5);
/// ```
#[must_use]
pub fn roll_torque(tension_n: f64, diameter_m: f64) -> f64 {
    tension_n * diameter_m / 2.0
}

/// Tension at a diameter with a hyperbolic taper, in newtons.
///
/// `start_n` is the tension at the core in newtons (0.1 to 1800 lbf), `taper`
/// the taper as a fraction (0 to 1), `core_m` and `diameter_m` the core's
/// outside and the roll's present diameter in metres (1 to 20 in, 1 to 80 in).
///
/// Source: usual convention, from memory. At a taper of 100 % the torque stays
/// the same; at 0 % the tension does.
///
/// ```
/// use gearside::trade::winding::hyperbolic_taper;
/// // 30 lbf at a 4 in core, 40 %: at 16 in a quarter is left of the core's share.
/// assert!((hyperbolic_taper(30.0, 0.40, 4.0, 16.0) - 21.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn hyperbolic_taper(start_n: f64, taper: f64, core_m: f64, diameter_m: f64) -> f64 {
    start_n * (1.0 - taper * (1.0 - core_m / diameter_m))
}

/// Tension at a diameter with a linear taper, in newtons.
///
/// `start_n` is the tension at the core in newtons (0.1 to 1800 lbf), `taper`
/// the share that is gone at the full roll (0 to 1), `core_m`, `diameter_m` and
/// `full_m` the core's outside, the roll's present and its full diameter in
/// metres (1 to 20 in, 1 to 80 in, 2 to 80 in). Not a number if the full roll
/// is as small as its core.
///
/// Source: usual convention, from memory: a straight line over the diameter.
///
/// ```
/// use gearside::trade::winding::linear_taper;
/// // 30 lbf at a 4 in core, 40 % gone at 20 in: half of it at 12 in.
/// assert!((linear_taper(30.0, 0.40, 4.0, 12.0, 20.0) - 24.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn linear_taper(start_n: f64, taper: f64, core_m: f64, diameter_m: f64, full_m: f64) -> f64 {
    start_n * (1.0 - taper * (diameter_m - core_m) / (full_m - core_m))
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "roll_torque",
        title: "Torque at a roll",
        topic: Topic::Tension,
        says: "What torque at its centre holds a web tension at a roll's diameter.",
        parameters: &[
            parameter("tension", "T", "total web tension", "lbf", 0.02, 1800.0),
            parameter("diameter", "D", "diameter of the roll", "in", 1.0, 80.0),
        ],
        outcome: outcome("M", "lbf·in", KindOfQuantity::Amount, 0.01, 72_000.0),
        compute: |a| two(a, roll_torque),
        expansion: Some("tension * diameter / 2"),
        wrong_turns: &[
            turn(
                "whole_diameter",
                "tension * diameter",
                "You used the diameter. The web pulls at the radius: take half of it.",
            ),
            turn(
                "divided_by_the_radius",
                "bare(tension, 'lbf') / (bare(diameter, 'in') / 2) * '1 lbf·in'",
                "You divided by the radius. A larger roll takes more torque for the same tension: multiply.",
            ),
            turn(
                "around_the_roll",
                "tension * diameter * pi",
                "You multiplied by the way around. Torque is the pull times the radius.",
            ),
        ],
        no_result_when: None,
        source: "definition of torque",
    },
    Calculation {
        name: "hyperbolic_taper",
        title: "Tension with hyperbolic taper",
        topic: Topic::Tension,
        says: "What tension a hyperbolic taper leaves at a roll's diameter.",
        parameters: &[
            parameter("start", "T_0", "tension at the core", "lbf", 0.1, 1800.0),
            parameter("taper", "τ", "taper", "%", 0.0, 100.0),
            parameter("core", "D_0", "outside diameter of the core", "in", 1.0, 20.0),
            parameter("diameter", "D", "diameter of the roll", "in", 1.0, 80.0),
        ],
        outcome: outcome("T", "lbf", KindOfQuantity::Amount, 0.0, 1800.0),
        compute: |a| four(a, hyperbolic_taper),
        expansion: Some("start * (1 - taper * (1 - core / diameter))"),
        wrong_turns: &[
            turn(
                "whole_taper",
                "start * (1 - taper)",
                "You took the whole taper off. At this diameter only its share of one less core over diameter is gone.",
            ),
            turn(
                "share_that_is_left",
                "start * (1 - taper * core / diameter)",
                "You took the taper times core over diameter. It grows with the roll: one less core over diameter.",
            ),
            turn(
                "constant_torque",
                "start * core / diameter",
                "You let the tension fall as core over diameter. That is a taper of 100 %.",
            ),
        ],
        no_result_when: None,
        source: "usual convention, from memory; the linear one gives other tensions",
    },
    Calculation {
        name: "linear_taper",
        title: "Tension with linear taper",
        topic: Topic::Tension,
        says: "What tension a taper that is a straight line over the diameter leaves.",
        parameters: &[
            parameter("start", "T_0", "tension at the core", "lbf", 0.1, 1800.0),
            parameter("taper", "τ", "taper at the full roll", "%", 0.0, 100.0),
            parameter("core", "D_0", "outside diameter of the core", "in", 1.0, 20.0),
            parameter("diameter", "D", "diameter of the roll", "in", 1.0, 80.0),
            parameter("full", "D_f", "diameter of the full roll", "in", 2.0, 80.0),
        ],
        outcome: outcome("T", "lbf", KindOfQuantity::Amount, 0.0, 1800.0),
        compute: |a| five(a, linear_taper),
        expansion: Some("start * (1 - taper * (diameter - core) / (full - core))"),
        wrong_turns: &[
            turn(
                "whole_taper",
                "start * (1 - taper)",
                "You took the whole taper off. It is all gone only at the full roll.",
            ),
            turn(
                "core_forgotten",
                "start * (1 - taper * diameter / full)",
                "You took diameters from nothing. The taper begins at the core: take the core off both.",
            ),
            turn(
                "other_convention",
                "start * (1 - taper * (1 - core / diameter))",
                "You used the hyperbolic taper. The linear one is a straight line from core to full roll.",
            ),
        ],
        no_result_when: Some("the full roll is as small as its core"),
        source: "usual convention, from memory; the hyperbolic one gives other tensions",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn a_hyperbolic_taper_of_100_percent_keeps_the_torque(start in 1.0_f64..500.0, core in 0.05_f64..0.3, growth in 1.0_f64..12.0) {
            let diameter = core * growth;
            let torque = roll_torque(hyperbolic_taper(start, 1.0, core, diameter), diameter);
            prop_assert!((torque - roll_torque(start, core)).abs() < 1e-9 * torque);
        }

        #[test]
        fn both_tapers_begin_at_the_start_and_the_linear_one_ends_at_its_share(
            start in 1.0_f64..500.0, taper in 0.0_f64..1.0, core in 0.05_f64..0.3, growth in 1.1_f64..12.0
        ) {
            let full = core * growth;
            prop_assert!((hyperbolic_taper(start, taper, core, core) - start).abs() < 1e-9);
            prop_assert!((linear_taper(start, taper, core, core, full) - start).abs() < 1e-9);
            prop_assert!((linear_taper(start, taper, core, full, full) - start * (1.0 - taper)).abs() < 1e-9);
        }

        #[test]
        fn tension_never_rises_as_a_roll_grows(
            start in 1.0_f64..500.0, taper in 0.0_f64..1.0, core in 0.05_f64..0.3, first in 0.0_f64..1.0, second in 0.0_f64..1.0
        ) {
            let at = |share: f64| core + share * 5.0 * core;
            let (smaller, larger) = (at(first.min(second)), at(first.max(second)));
            let slack = 1e-9 * start;
            prop_assert!(hyperbolic_taper(start, taper, core, larger) <= hyperbolic_taper(start, taper, core, smaller) + slack);
            prop_assert!(linear_taper(start, taper, core, larger, 6.0 * core) <= linear_taper(start, taper, core, smaller, 6.0 * core) + slack);
        }
    }
}

//! Rolls: length, diameter, turns, and how many are needed.

use std::f64::consts::PI;

use super::catalogue::{Calculation, Topic, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;
use crate::ground::{whole_above, whole_below};

/// Length of web on a roll, in metres.
///
/// `outer_m` is the roll's outside diameter (2 to 80 in), `core_m` the diameter
/// where the web begins, the outside of the core (0.5 to 13 in), `caliper_m` the
/// total thickness of the wound web (0.3 to 60 mil), in metres. Wound-in air
/// makes real rolls larger.
///
/// Source: derived. The roll's side is as large an area as the web's edge.
///
/// ```
/// use gearside::trade::roll::roll_length;
/// // 3000 m of 100 µm film on a 150 mm core make a roll of 635.981 mm.
/// assert!((roll_length(0.635_981, 0.150, 100e-6) - 3000.0).abs() < 0.01);
/// ```
#[must_use]
pub fn roll_length(outer_m: f64, core_m: f64, caliper_m: f64) -> f64 {
    PI * (outer_m * outer_m - core_m * core_m) / (4.0 * caliper_m)
}

/// Outside diameter of a roll, in metres.
///
/// `length_m` is the length of web (1 to 500,000 ft), `core_m` the diameter
/// where the web begins, the outside of the core (0.5 to 13 in), `caliper_m`
/// the total thickness of the wound web (0.3 to 60 mil), in metres. Wound-in air
/// makes real rolls larger.
///
/// Source: derived; the other way from [`roll_length`].
///
/// ```
/// use gearside::trade::roll::roll_diameter;
/// // 3000 m of 100 µm film on a 150 mm core: 635.981 mm.
/// assert!((roll_diameter(3000.0, 0.150, 100e-6) - 0.635_981).abs() < 5e-7);
/// ```
#[must_use]
pub fn roll_diameter(length_m: f64, core_m: f64, caliper_m: f64) -> f64 {
    libm::sqrt(core_m * core_m + 4.0 * length_m * caliper_m / PI)
}

/// Turns of web on a roll.
///
/// `outer_m`, `core_m` and `caliper_m` as for [`roll_length`].
///
/// Source: derived. A turn makes the roll thicker by the web on both sides.
///
/// ```
/// use gearside::trade::roll::roll_turns;
/// // 24 in on a 3 in core at 2.5 mil: 10.5 in of web on one side, 4,200 turns.
/// assert!((roll_turns(24.0, 3.0, 0.0025) - 4200.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn roll_turns(outer_m: f64, core_m: f64, caliper_m: f64) -> f64 {
    (outer_m - core_m) / (2.0 * caliper_m)
}

/// Labels on a roll of one lane.
///
/// `length_m` is the length of the lane in metres (1 to 500,000 ft), `pitch_m`
/// the way from one label to the next (0.2 to 200 in).
///
/// Source: derived. A part of a label is none.
///
/// ```
/// use gearside::trade::roll::labels_on_roll;
/// // 3,000 ft at 3.0 in: 12,000 labels.
/// assert!((labels_on_roll(3000.0 * 12.0, 3.0) - 12_000.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn labels_on_roll(length_m: f64, pitch_m: f64) -> f64 {
    whole_below(length_m / pitch_m)
}

/// Rolls that a length of web takes.
///
/// `length_m` is the length to run in metres (1 to 1,000,000 ft), `per_roll_m`
/// what one roll holds (100 to 60,000 ft).
///
/// Source: derived. The last roll need not be used up, but it must be there.
///
/// ```
/// use gearside::trade::roll::rolls_needed;
/// // 48,000 ft on rolls of 5,000 ft: nine do not reach, ten do.
/// assert!((rolls_needed(48_000.0, 5000.0) - 10.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn rolls_needed(length_m: f64, per_roll_m: f64) -> f64 {
    whole_above(length_m / per_roll_m)
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "roll_length",
        title: "Length on a roll",
        topic: Topic::Web,
        says: "How much web is on a roll, by its diameters and the thickness of the web.",
        parameters: &[
            parameter("outer", "D", "outside diameter of the roll", "in", 2.0, 80.0),
            parameter("core", "d", "diameter where the web begins", "in", 0.5, 13.0),
            parameter("caliper", "t", "total thickness of the wound web", "mil", 0.3, 60.0),
        ],
        outcome: outcome("L", "ft", KindOfQuantity::Amount, 1.0, 1_400_000.0),
        compute: |a| three(a, roll_length),
        expansion: Some("pi * (outer^2 - core^2) / (4 * caliper)"),
        wrong_turns: &[
            turn(
                "difference_squared",
                "pi * (outer - core)^2 / (4 * caliper)",
                "You squared the difference of the diameters. Square each, then take the difference.",
            ),
            turn(
                "four_forgotten",
                "pi * (outer^2 - core^2) / caliper",
                "You forgot the 4. The area of a circle is π d² ÷ 4.",
            ),
            turn("core_forgotten", "pi * outer^2 / (4 * caliper)", "You counted the core as web. Take its area off."),
        ],
        no_result_when: None,
        source: "derived: the side of the roll is as large an area as the edge of the web",
    },
    Calculation {
        name: "roll_diameter",
        title: "Diameter of a roll",
        topic: Topic::Web,
        says: "How large across a roll of so much web is; wound-in air makes it larger.",
        parameters: &[
            parameter("length", "L", "length of web", "ft", 1.0, 500_000.0),
            parameter("core", "d", "diameter where the web begins", "in", 0.5, 13.0),
            parameter("caliper", "t", "total thickness of the wound web", "mil", 0.3, 60.0),
        ],
        outcome: outcome("D", "in", KindOfQuantity::Amount, 0.5, 80.0),
        compute: |a| three(a, roll_diameter),
        expansion: Some("sqrt(core^2 + 4 * length * caliper / pi)"),
        wrong_turns: &[
            turn(
                "core_forgotten",
                "sqrt(4 * length * caliper / pi)",
                "You wound the web on nothing. Add the square of the core's diameter under the root.",
            ),
            turn(
                "core_added_at_the_end",
                "core + sqrt(4 * length * caliper / pi)",
                "You added the core at the end. Areas add, not diameters: add its square under the root.",
            ),
            turn(
                "four_forgotten",
                "sqrt(core^2 + length * caliper / pi)",
                "You forgot the 4. The area of a circle is π d² ÷ 4.",
            ),
        ],
        no_result_when: None,
        source: "derived: the side of the roll is as large an area as the edge of the web",
    },
    Calculation {
        name: "roll_turns",
        title: "Turns on a roll",
        topic: Topic::Web,
        says: "How many turns of web lie on a roll.",
        parameters: &[
            parameter("outer", "D", "outside diameter of the roll", "in", 2.0, 80.0),
            parameter("core", "d", "diameter where the web begins", "in", 0.5, 13.0),
            parameter("caliper", "t", "total thickness of the wound web", "mil", 0.3, 60.0),
        ],
        outcome: outcome("n", "turns", KindOfQuantity::Amount, 1.0, 140_000.0),
        compute: |a| three(a, roll_turns),
        expansion: Some("(outer - core) / (2 * caliper)"),
        wrong_turns: &[
            turn(
                "two_forgotten",
                "(outer - core) / caliper",
                "You counted each turn once across the diameter. It lies there twice, on either side of the core.",
            ),
            turn("core_forgotten", "outer / (2 * caliper)", "You counted the core as web. Take its diameter off."),
        ],
        no_result_when: None,
        source: "derived: a turn makes the roll thicker by the web on both sides",
    },
    Calculation {
        name: "labels_on_roll",
        title: "Labels on a roll",
        topic: Topic::Web,
        says: "How many labels a roll of one lane holds.",
        parameters: &[
            parameter("length", "L", "length of the lane", "ft", 1.0, 500_000.0),
            parameter("pitch", "p", "way from one label to the next along the web", "in", 0.2, 200.0),
        ],
        outcome: outcome("N", "labels", KindOfQuantity::Count, 1.0, 10_000_000.0),
        compute: |a| two(a, labels_on_roll),
        expansion: Some("floor(length / pitch)"),
        wrong_turns: &[
            turn(
                "feet_over_inches",
                "floor(bare(length, 'ft') / bare(pitch, 'in'))",
                "You divided feet by inches. Bring both to one unit first: 1 ft is 12 in.",
            ),
            turn(
                "multiplied_by_pitch",
                "floor(bare(length, 'ft') * bare(pitch, 'in'))",
                "You multiplied by the pitch. Longer labels are fewer on a roll: divide.",
            ),
            turn(
                "rounded_up",
                "ceil(length / pitch)",
                "You rounded up. The last label would not be whole: round down.",
            ),
        ],
        no_result_when: None,
        source: "derived: each label takes one pitch of the lane, and a part of a label is none",
    },
    Calculation {
        name: "rolls_needed",
        title: "Rolls needed",
        topic: Topic::Web,
        says: "How many rolls to have ready for a length to run.",
        parameters: &[
            parameter("length", "L_g", "length to run", "ft", 1.0, 1_000_000.0),
            parameter("per_roll", "L_r", "length on one roll", "ft", 100.0, 60_000.0),
        ],
        outcome: outcome("n", "rolls", KindOfQuantity::Count, 1.0, 10_000.0),
        compute: |a| two(a, rolls_needed),
        expansion: Some("ceil(length / per_roll)"),
        wrong_turns: &[
            turn(
                "rounded_down",
                "floor(length / per_roll)",
                "You rounded down, and the job stops short. The last part needs a roll too: round up.",
            ),
            turn("not_rounded", "length / per_roll", "You gave a part of a roll. Rolls come whole: round up."),
        ],
        no_result_when: None,
        source: "derived: the last roll need not be used up, but it must be there",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn the_length_comes_back_from_the_diameter(
            length in 1.0_f64..100_000.0,
            core in 0.02_f64..0.3,
            caliper in 10e-6_f64..1e-3,
        ) {
            let again = roll_length(roll_diameter(length, core, caliper), core, caliper);
            // A short length adds little to the core's square: what is lost there is lost.
            let lost = 1e-15 * PI * core * core / (4.0 * caliper);
            prop_assert!((again - length).abs() < 1e-12 * length + 8.0 * lost, "{again} of {length}");
        }

        #[test]
        fn turns_times_the_way_around_the_middle_is_the_length(
            core in 0.02_f64..0.3,
            web in 0.01_f64..0.8,
            caliper in 10e-6_f64..1e-3,
        ) {
            let outer = core + 2.0 * web;
            let wound = roll_turns(outer, core, caliper) * PI * (core + web);
            prop_assert!((wound - roll_length(outer, core, caliper)).abs() < 1e-9 * wound);
        }

        #[test]
        fn more_web_makes_a_larger_roll(length in 1.0_f64..100_000.0, core in 0.02_f64..0.3, caliper in 10e-6_f64..1e-3) {
            prop_assert!(roll_diameter(1.1 * length, core, caliper) > roll_diameter(length, core, caliper));
            prop_assert!(roll_diameter(length, core, caliper) > core);
        }

        #[test]
        fn so_many_rolls_reach_and_one_fewer_does_not(length in 1.0_f64..100_000.0, per_roll in 10.0_f64..20_000.0) {
            let rolls = rolls_needed(length, per_roll);
            prop_assert!(rolls * per_roll >= length * (1.0 - 1e-9) && (rolls - 1.0) * per_roll < length);
        }
    }
}

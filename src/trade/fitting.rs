//! Fitting gears and labels to a repeat.

use std::f64::consts::PI;

use super::catalogue::{Calculation, Topic, four, one, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;
use crate::ground::{whole_above, whole_below};

/// Circular pitch of a gear by its diametral pitch, in metres.
///
/// `diametral_pitch_per_m` is the teeth per metre of pitch diameter (3 to
/// 64 teeth/in).
///
/// Source: definitions of both pitches; a circle is π times its diameter.
///
/// ```
/// use gearside::trade::fitting::circular_pitch;
/// // 10 DP: 0.314159 in from tooth to tooth.
/// assert!((circular_pitch(10.0 / 0.0254) / 0.0254 - 0.314_159).abs() < 5e-7);
/// ```
#[must_use]
pub fn circular_pitch(diametral_pitch_per_m: f64) -> f64 {
    PI / diametral_pitch_per_m
}

/// Circular pitch of a gear by its module, in metres.
///
/// `module_m` is the pitch diameter per tooth in metres (0.5 to 10 mm).
///
/// Source: definition of the module.
///
/// ```
/// use gearside::trade::fitting::circular_pitch_of_module;
/// // Module 5 mm: 15.708 mm from tooth to tooth.
/// assert!((circular_pitch_of_module(5e-3) - 15.708e-3).abs() < 5e-8);
/// ```
#[must_use]
pub fn circular_pitch_of_module(module_m: f64) -> f64 {
    PI * module_m
}

/// Teeth that a repeat wants, not rounded: a gear exists if they are whole.
///
/// `repeat_m` is the repeat in metres (2 to 200 in), `pitch_m` the circular
/// pitch in metres (0.05 to 1 in).
///
/// Source: definition of circular pitch.
///
/// ```
/// use gearside::trade::fitting::teeth_for_repeat;
/// // 381.0 mm at 3.175 mm: 120 teeth (published).
/// assert!((teeth_for_repeat(0.381, 0.003_175) - 120.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn teeth_for_repeat(repeat_m: f64, pitch_m: f64) -> f64 {
    repeat_m / pitch_m
}

/// Fewest teeth that carry so many labels with at least a gap.
///
/// `label_m` is the label's length around (0.2 to 100 in) and `gap_m` the least
/// gap (0 to 5 in) in metres, `around` the labels around (1 to 100), `pitch_m`
/// the circular pitch in metres (0.05 to 1 in).
///
/// Source: derived. There are as many gaps as labels around; a gear has whole
/// teeth, and one tooth fewer would shrink the gap.
///
/// ```
/// use gearside::trade::fitting::least_teeth;
/// // 5 labels of 70 mm, 3 mm gaps, 3.175 mm pitch: 114.96, so 115 teeth.
/// assert!((least_teeth(0.070, 0.003, 5.0, 0.003_175) - 115.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn least_teeth(label_m: f64, gap_m: f64, around: f64, pitch_m: f64) -> f64 {
    whole_above(around * (label_m + gap_m) / pitch_m)
}

/// Labels that fit around a cylinder with at least a gap.
///
/// `repeat_m` is the repeat (2 to 200 in), `label_m` the label's length around
/// (0.2 to 100 in), `gap_m` the least gap (0 to 5 in), in metres.
///
/// Source: derived. Each label takes a gap with it; a part of one is none.
///
/// ```
/// use gearside::trade::fitting::labels_around;
/// // 2.875 in labels with 0.125 in gaps on 12 in: just 4; on 12.125 in still 4.
/// assert!((labels_around(12.0, 2.875, 0.125) - 4.0).abs() < 1e-12);
/// assert!((labels_around(12.125, 2.875, 0.125) - 4.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn labels_around(repeat_m: f64, label_m: f64, gap_m: f64) -> f64 {
    whole_below(repeat_m / (label_m + gap_m))
}

/// Gap between labels around a cylinder, in metres; negative if they overlap.
///
/// `repeat_m` is the repeat (2 to 200 in) and `label_m` the label's length
/// around (0.2 to 100 in) in metres, `around` the labels around (1 to 100).
///
/// Source: derived. Each label has its share of the repeat.
///
/// ```
/// use gearside::trade::fitting::gap_around;
/// // 97 teeth of 1/8 in and four labels of 2.875 in leave 0.15625 in.
/// assert!((gap_around(12.125, 2.875, 4.0) - 0.156_25).abs() < 1e-12);
/// ```
#[must_use]
pub fn gap_around(repeat_m: f64, label_m: f64, around: f64) -> f64 {
    repeat_m / around - label_m
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "circular_pitch",
        title: "Circular pitch from diametral pitch",
        topic: Topic::Repeat,
        says: "How far it is from tooth to tooth along the pitch circle, by diametral pitch.",
        parameters: &[parameter("diametral_pitch", "P", "teeth per length of pitch diameter", "teeth/in", 3.0, 64.0)],
        outcome: outcome("p", "in", KindOfQuantity::PressLength, 0.04, 1.05),
        compute: |a| one(a, circular_pitch),
        expansion: Some("pi / diametral_pitch"),
        wrong_turns: &[
            turn(
                "pi_forgotten",
                "1 / diametral_pitch",
                "You took the teeth along the diameter for teeth along the circle. Multiply by π.",
            ),
            turn(
                "upside_down",
                "bare(diametral_pitch, 'teeth/in') / pi * '1 in'",
                "You divided the diametral pitch by π. Divide π by it: more teeth to the inch stand closer.",
            ),
        ],
        no_result_when: None,
        source: "definitions of circular and diametral pitch; a circle is π times its diameter",
    },
    Calculation {
        name: "circular_pitch_of_module",
        title: "Circular pitch from module",
        topic: Topic::Repeat,
        says: "How far it is from tooth to tooth along the pitch circle, by module.",
        parameters: &[parameter("module", "m", "module, the pitch diameter per tooth", "mm", 0.5, 10.0)],
        outcome: outcome("p", "mm", KindOfQuantity::PressLength, 1.5, 32.0),
        compute: |a| one(a, circular_pitch_of_module),
        expansion: Some("pi * module"),
        wrong_turns: &[
            turn(
                "module_taken_as_pitch",
                "module",
                "You took the module for the pitch. It is measured on the diameter: multiply by π.",
            ),
            turn(
                "radius_taken",
                "2 * pi * module",
                "You took the module for a radius. It is a share of the diameter: multiply by π, not 2π.",
            ),
        ],
        no_result_when: None,
        source: "definition of the module: millimetres of pitch diameter per tooth",
    },
    Calculation {
        name: "teeth_for_repeat",
        title: "Teeth for a repeat",
        topic: Topic::Repeat,
        says: "How many teeth a repeat wants. A gear exists only where they are whole.",
        parameters: &[
            parameter("repeat", "R", "repeat", "in", 2.0, 200.0),
            parameter("pitch", "p", "circular pitch", "in", 0.05, 1.0),
        ],
        outcome: outcome("N", "teeth", KindOfQuantity::Amount, 12.0, 1000.0),
        compute: |a| two(a, teeth_for_repeat),
        expansion: Some("repeat / pitch"),
        wrong_turns: &[
            turn(
                "diameter_divided",
                "repeat / pi / pitch",
                "You divided the pitch diameter. Teeth stand along the circle: divide the repeat.",
            ),
            turn(
                "multiplied_by_pitch",
                "bare(repeat, 'in') * bare(pitch, 'in')",
                "You multiplied by the pitch. Each tooth takes one pitch of the repeat: divide by it.",
            ),
            turn("upside_down", "pitch / repeat", "You divided the pitch by the repeat. Put the repeat on top."),
        ],
        no_result_when: None,
        source: "definition of circular pitch: the arc from one tooth to the next on the pitch circle",
    },
    Calculation {
        name: "least_teeth",
        title: "Fewest teeth for labels around",
        topic: Topic::Repeat,
        says: "How many teeth the smallest gear has that carries so many labels with at least a gap.",
        parameters: &[
            parameter("label", "l", "length of a label around the cylinder", "in", 0.2, 100.0),
            parameter("gap", "g", "least gap between labels", "in", 0.0, 5.0),
            parameter("around", "n_a", "number of labels around the cylinder", "labels", 1.0, 100.0),
            parameter("pitch", "p", "circular pitch", "in", 0.05, 1.0),
        ],
        outcome: outcome("N", "teeth", KindOfQuantity::Count, 12.0, 1000.0),
        compute: |a| four(a, least_teeth),
        expansion: Some("ceil(around * (label + gap) / pitch)"),
        wrong_turns: &[
            turn(
                "rounded_down",
                "floor(around * (label + gap) / pitch)",
                "You rounded down. The gap then comes out smaller than it may be: round up.",
            ),
            turn(
                "gaps_forgotten",
                "ceil(around * label / pitch)",
                "You set the labels end to end. Add the gap to each of them.",
            ),
            turn(
                "last_gap_left_out",
                "ceil((around * label + (around - 1) * gap) / pitch)",
                "You left the last gap out. Around a cylinder there are as many gaps as labels.",
            ),
        ],
        no_result_when: None,
        source: "derived: as many gaps as labels around, and whole teeth",
    },
    Calculation {
        name: "labels_around",
        title: "Labels around",
        topic: Topic::Repeat,
        says: "How many labels fit around a repeat with at least a gap.",
        parameters: &[
            parameter("repeat", "R", "repeat", "in", 2.0, 200.0),
            parameter("label", "l", "length of a label around the cylinder", "in", 0.2, 100.0),
            parameter("gap", "g", "least gap between labels", "in", 0.0, 5.0),
        ],
        outcome: outcome("n_a", "labels", KindOfQuantity::Count, 1.0, 1000.0),
        compute: |a| three(a, labels_around),
        expansion: Some("floor(repeat / (label + gap))"),
        wrong_turns: &[
            turn(
                "gap_forgotten",
                "floor(repeat / label)",
                "You set the labels end to end. Add the gap to each of them.",
            ),
            turn(
                "last_gap_left_out",
                "floor((repeat + gap) / (label + gap))",
                "You left the last gap out. Around a cylinder there are as many gaps as labels.",
            ),
            turn(
                "rounded_up",
                "ceil(repeat / (label + gap))",
                "You rounded up. A part of a label does not fit: round down.",
            ),
        ],
        no_result_when: None,
        source: "derived: each label takes a gap with it, and a part of a label is none",
    },
    Calculation {
        name: "gap_around",
        title: "Gap around",
        topic: Topic::Repeat,
        says: "How wide the gap between labels is when they share a repeat evenly.",
        parameters: &[
            parameter("repeat", "R", "repeat", "in", 2.0, 200.0),
            parameter("label", "l", "length of a label around the cylinder", "in", 0.2, 100.0),
            parameter("around", "n_a", "number of labels around the cylinder", "labels", 1.0, 100.0),
        ],
        outcome: outcome("g", "in", KindOfQuantity::PressLength, 0.0, 10.0),
        compute: |a| three(a, gap_around),
        expansion: Some("repeat / around - label"),
        wrong_turns: &[
            turn(
                "all_gaps_together",
                "repeat - around * label",
                "You gave all gaps together. Share them among the labels.",
            ),
            turn(
                "one_gap_fewer",
                "(repeat - around * label) / (around - 1)",
                "You counted one gap fewer than labels. Around a cylinder there are as many gaps as labels.",
            ),
            turn(
                "label_forgotten",
                "repeat / around",
                "You gave the way from one label to the next. Take the label off it.",
            ),
        ],
        no_result_when: None,
        source: "derived: each label has its share of the repeat",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::repeat::{repeat_from_diametral_pitch, repeat_from_module, repeat_from_pitch};
    use super::*;

    proptest! {
        #[test]
        fn teeth_come_back_from_their_repeat(teeth in 12_u32..1000, pitch in 0.0013_f64..0.0254) {
            let teeth = f64::from(teeth);
            prop_assert!((teeth_for_repeat(repeat_from_pitch(teeth, pitch), pitch) - teeth).abs() < 1e-9);
        }

        #[test]
        fn a_gear_has_one_repeat_by_either_pitch(teeth in 12.0_f64..1000.0, module in 0.0005_f64..0.010) {
            let (direct, by_pitch) =
                (repeat_from_module(teeth, module), repeat_from_pitch(teeth, circular_pitch_of_module(module)));
            prop_assert!((direct - by_pitch).abs() < 1e-12 * direct);
            let (direct, by_pitch) = (
                repeat_from_diametral_pitch(teeth, 1.0 / module),
                repeat_from_pitch(teeth, circular_pitch(1.0 / module)),
            );
            prop_assert!((direct - by_pitch).abs() < 1e-12 * direct);
        }

        #[test]
        fn the_fewest_teeth_keep_the_gap_and_one_fewer_does_not(
            label in 0.01_f64..0.2,
            gap in 0.001_f64..0.01,
            around in 1_u32..20,
            pitch in 0.002_f64..0.01,
        ) {
            let around = f64::from(around);
            let teeth = least_teeth(label, gap, around, pitch);
            prop_assert!(gap_around(repeat_from_pitch(teeth, pitch), label, around) >= gap - 1e-9);
            prop_assert!(gap_around(repeat_from_pitch(teeth - 1.0, pitch), label, around) < gap);
        }

        #[test]
        fn so_many_labels_keep_the_gap_and_one_more_does_not(
            repeat in 0.1_f64..2.0,
            label in 0.01_f64..0.1,
            gap in 0.0_f64..0.01,
        ) {
            let around = labels_around(repeat, label, gap);
            prop_assert!(around < 0.5 || gap_around(repeat, label, around) >= gap - 1e-9);
            prop_assert!(gap_around(repeat, label, around + 1.0) < gap);
        }
    }
}

//! Register: how far to turn for an error around, across or askew.
//!
//! Which way is for the press's own convention to say.

use std::f64::consts::PI;

use super::catalogue::{Calculation, Topic, one, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Turn of the plate cylinder for an error around, in radians.
///
/// `error_m` is the error in metres (-1 to 1 in), `repeat_m` the repeat in
/// metres (2 to 200 in).
///
/// Source: derived. A full turn moves the print by one repeat.
///
/// ```
/// use gearside::trade::register::register_degrees;
/// // 0.010 in on a 12 in repeat: 0.3°.
/// assert!((register_degrees(0.010, 12.0).to_degrees() - 0.3).abs() < 1e-12);
/// ```
#[must_use]
pub fn register_degrees(error_m: f64, repeat_m: f64) -> f64 {
    2.0 * PI * error_m / repeat_m
}

/// The same in teeth of the plate gear, with its fraction.
///
/// `error_m` is the error in metres (-1 to 1 in), `pitch_m` the circular pitch
/// in metres (0.05 to 1 in).
///
/// Source: derived. One tooth moves the print by one circular pitch.
///
/// ```
/// use gearside::trade::register::register_teeth;
/// // 0.25 mm on 1/8 in pitch: 0.0787402 of a tooth.
/// assert!((register_teeth(0.25e-3, 3.175e-3) - 0.078_740_2).abs() < 5e-8);
/// ```
#[must_use]
pub fn register_teeth(error_m: f64, pitch_m: f64) -> f64 {
    error_m / pitch_m
}

/// Angle of one tooth of the plate gear, in radians.
///
/// `teeth` is the gear's number of teeth (10 to 1000).
///
/// Source: derived. All teeth together are a full turn.
///
/// ```
/// use gearside::trade::register::tooth_angle;
/// // 96 teeth: 3.75°.
/// assert!((tooth_angle(96.0).to_degrees() - 3.75).abs() < 1e-12);
/// ```
#[must_use]
pub fn tooth_angle(teeth: f64) -> f64 {
    2.0 * PI / teeth
}

/// Turns of the side-lay screw for an error across.
///
/// `error_m` is the error in metres (-1 to 1 in), `lead_m` the lead of the screw
/// in metres per turn (0.005 to 1 in).
///
/// Source: definition of lead.
///
/// ```
/// use gearside::trade::register::side_lay_turns;
/// // 0.015 in at 0.100 in a turn: 0.15 turns.
/// assert!((side_lay_turns(0.015, 0.100) - 0.15).abs() < 1e-12);
/// ```
#[must_use]
pub fn side_lay_turns(error_m: f64, lead_m: f64) -> f64 {
    error_m / lead_m
}

/// The same as an angle of the handwheel, in radians.
///
/// Parameters as for [`side_lay_turns`].
///
/// Source: definition of lead.
///
/// ```
/// use gearside::trade::register::side_lay_degrees;
/// // 0.15 turns: 54°.
/// assert!((side_lay_degrees(0.015, 0.100).to_degrees() - 54.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn side_lay_degrees(error_m: f64, lead_m: f64) -> f64 {
    2.0 * PI * error_m / lead_m
}

/// Angle by which a print lies askew, in radians.
///
/// `difference_m` is by how much the errors around differ between two marks in
/// metres (-1 to 1 in), `apart_m` how far apart across the marks are in metres
/// (0.5 to 120 in).
///
/// Source: derived: the tangent of the angle is difference over distance.
///
/// ```
/// use gearside::trade::register::skew_angle;
/// // As much as the distance itself: 45°.
/// assert!((skew_angle(0.25, 0.25).to_degrees() - 45.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn skew_angle(difference_m: f64, apart_m: f64) -> f64 {
    libm::atan(difference_m / apart_m)
}

/// How far to move one bearing for a print that lies askew, in metres.
///
/// `difference_m` and `apart_m` as for [`skew_angle`]; `bearings_m` is the
/// distance between the bearings in metres (1 to 140 in).
///
/// Source: derived: similar triangles.
///
/// ```
/// use gearside::trade::register::skew_movement;
/// // 0.004 in between marks 10 in apart, bearings at 25 in: 0.010 in.
/// assert!((skew_movement(0.004, 10.0, 25.0) - 0.010).abs() < 1e-12);
/// ```
#[must_use]
pub fn skew_movement(difference_m: f64, apart_m: f64, bearings_m: f64) -> f64 {
    difference_m * bearings_m / apart_m
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "register_degrees",
        title: "Register error in degrees",
        topic: Topic::Register,
        says: "How far to turn the plate cylinder for an error around.",
        parameters: &[
            parameter("error", "e", "register error around", "in", -1.0, 1.0),
            parameter("repeat", "R", "repeat", "in", 2.0, 200.0),
        ],
        outcome: outcome("φ", "°", KindOfQuantity::Amount, -180.0, 180.0),
        compute: |a| two(a, register_degrees),
        expansion: Some("'360 °' * error / repeat"),
        wrong_turns: &[
            turn(
                "share_of_the_diameter",
                "'360 °' * error / (repeat / pi)",
                "You divided by the pitch diameter. A full turn moves the print by the repeat.",
            ),
            turn(
                "radians_as_degrees",
                "'1 °' * 2 * pi * error / repeat",
                "You gave radians as degrees. A full turn is 360°.",
            ),
        ],
        no_result_when: None,
        source: "derived: a full turn moves the print by one repeat",
    },
    Calculation {
        name: "register_teeth",
        title: "Register error in teeth",
        topic: Topic::Register,
        says: "How many teeth of the plate gear an error around amounts to.",
        parameters: &[
            parameter("error", "e", "register error around", "in", -1.0, 1.0),
            parameter("pitch", "p", "circular pitch", "in", 0.05, 1.0),
        ],
        outcome: outcome("z", "teeth", KindOfQuantity::Amount, -20.0, 20.0),
        compute: |a| two(a, register_teeth),
        expansion: Some("error / pitch"),
        wrong_turns: &[
            turn(
                "multiplied_by_pitch",
                "bare(error, 'in') * bare(pitch, 'in')",
                "You multiplied by the pitch. One tooth moves the print by one pitch: divide by it.",
            ),
            turn(
                "pitch_over_error",
                "pitch / error",
                "You divided the pitch by the error. Divide the error by the pitch.",
            ),
        ],
        no_result_when: None,
        source: "derived: one tooth moves the print by one circular pitch",
    },
    Calculation {
        name: "tooth_angle",
        title: "Angle of a tooth",
        topic: Topic::Register,
        says: "By what angle the plate cylinder stands wrong when its gear is one tooth off.",
        parameters: &[parameter("teeth", "N", "number of teeth of the plate gear", "teeth", 10.0, 1000.0)],
        outcome: outcome("φ", "°", KindOfQuantity::Amount, 0.36, 36.0),
        compute: |a| one(a, tooth_angle),
        expansion: Some("'360 °' / teeth"),
        wrong_turns: &[
            turn("radians_as_degrees", "'1 °' * 2 * pi / teeth", "You gave radians as degrees. A full turn is 360°."),
            turn("half_a_turn", "'180 °' / teeth", "You shared out half a turn. All teeth together are 360°."),
            turn(
                "teeth_over_degrees",
                "'1 °' * teeth / 360",
                "You divided the teeth by the full turn. Divide the full turn by the teeth.",
            ),
        ],
        no_result_when: None,
        source: "derived: all teeth together are a full turn",
    },
    Calculation {
        name: "side_lay_turns",
        title: "Turns of the side lay",
        topic: Topic::Register,
        says: "How many turns of the side-lay screw an error across takes.",
        parameters: &[
            parameter("error", "e", "register error across", "in", -1.0, 1.0),
            parameter("lead", "l", "lead of the screw, per turn", "in", 0.005, 1.0),
        ],
        outcome: outcome("n", "turns", KindOfQuantity::Amount, -200.0, 200.0),
        compute: |a| two(a, side_lay_turns),
        expansion: Some("error / lead"),
        wrong_turns: &[
            turn(
                "lead_over_error",
                "lead / error",
                "You divided the lead by the error. A turn moves the print by the lead: divide the error by it.",
            ),
            turn(
                "multiplied_by_lead",
                "bare(error, 'in') * bare(lead, 'in')",
                "You multiplied by the lead. A turn moves the print by the lead: divide by it.",
            ),
        ],
        no_result_when: None,
        source: "definition of lead",
    },
    Calculation {
        name: "side_lay_degrees",
        title: "Degrees of the side lay",
        topic: Topic::Register,
        says: "How far to turn the side-lay handwheel for an error across.",
        parameters: &[
            parameter("error", "e", "register error across", "in", -1.0, 1.0),
            parameter("lead", "l", "lead of the screw, per turn", "in", 0.005, 1.0),
        ],
        outcome: outcome("φ", "°", KindOfQuantity::Amount, -72_000.0, 72_000.0),
        compute: |a| two(a, side_lay_degrees),
        expansion: Some("'360 °' * error / lead"),
        wrong_turns: &[
            turn("turns_as_degrees", "'1 °' * error / lead", "You gave turns as degrees. A full turn is 360°."),
            turn(
                "radians_as_degrees",
                "'1 °' * 2 * pi * error / lead",
                "You gave radians as degrees. A full turn is 360°.",
            ),
            turn("turns_as_percent", "'100 °' * error / lead", "You counted a full turn as 100. It is 360°."),
        ],
        no_result_when: None,
        source: "definition of lead",
    },
    Calculation {
        name: "skew_angle",
        title: "Angle of a skew",
        topic: Topic::Register,
        says: "By what angle a print lies askew, from the errors at two marks.",
        parameters: &[
            parameter("difference", "Δ_e", "difference between the errors at the marks", "in", -1.0, 1.0),
            parameter("apart", "w", "distance between the marks, across", "in", 0.5, 120.0),
        ],
        outcome: outcome("α", "°", KindOfQuantity::Amount, -45.0, 45.0),
        compute: |a| two(a, skew_angle),
        expansion: None,
        wrong_turns: &[
            turn(
                "radians_as_degrees",
                "'1 °' * difference / apart",
                "You gave radians as degrees. Take the angle whose tangent this is; 1 rad is 57.3°.",
            ),
            turn(
                "share_of_a_turn",
                "'360 °' * difference / apart",
                "You took the distance for a full turn. Take the angle whose tangent is difference over distance.",
            ),
        ],
        no_result_when: None,
        source: "derived: the tangent of the angle is difference over distance",
    },
    Calculation {
        name: "skew_movement",
        title: "Movement for a skew",
        topic: Topic::Register,
        says: "How far to move one bearing so that a print no longer lies askew.",
        parameters: &[
            parameter("difference", "Δ_e", "difference between the errors at the marks", "in", -1.0, 1.0),
            parameter("apart", "w", "distance between the marks, across", "in", 0.5, 120.0),
            parameter("bearings", "L", "distance between the bearings", "in", 1.0, 140.0),
        ],
        outcome: outcome("s", "in", KindOfQuantity::PressLength, -3.0, 3.0),
        compute: |a| three(a, skew_movement),
        expansion: Some("difference * bearings / apart"),
        wrong_turns: &[
            turn(
                "as_seen_at_the_marks",
                "difference",
                "You moved the bearing by what the marks show. The bearings are farther apart: scale it up.",
            ),
            turn(
                "ratio_turned_round",
                "difference * apart / bearings",
                "You turned the ratio round. The wider the bearings, the farther one of them moves.",
            ),
            turn(
                "half_of_it",
                "difference * bearings / apart / 2",
                "You moved one bearing by half. That is right if the other goes as far the other way.",
            ),
        ],
        no_result_when: None,
        source: "derived: similar triangles",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn the_teeth_of_an_error_times_the_angle_of_a_tooth_are_its_degrees(error in -0.02_f64..0.02, pitch in 0.002_f64..0.02, teeth in 20_i32..400) {
            let teeth = f64::from(teeth);
            let by_teeth = register_teeth(error, pitch) * tooth_angle(teeth);
            prop_assert!((by_teeth - register_degrees(error, teeth * pitch)).abs() < 1e-9);
        }

        #[test]
        fn the_handwheel_turns_as_far_in_degrees_as_in_turns(error in -0.02_f64..0.02, lead in 0.0002_f64..0.02) {
            let turns = side_lay_degrees(error, lead) / (2.0 * PI);
            prop_assert!((turns - side_lay_turns(error, lead)).abs() < 1e-9);
        }

        #[test]
        fn the_bearing_moves_along_the_angle_of_the_skew(difference in -0.02_f64..0.02, apart in 0.02_f64..2.0, bearings in 0.05_f64..3.0) {
            let along = bearings * libm::tan(skew_angle(difference, apart));
            prop_assert!((along - skew_movement(difference, apart, bearings)).abs() < 1e-12 * bearings.max(1.0));
        }
    }
}

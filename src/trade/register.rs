//! Register around the cylinder: how far to turn for an error.
//!
//! Which way is for the press's own convention to say.

use std::f64::consts::PI;

use super::catalogue::{Calculation, Topic, outcome, parameter, turn, two};
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
];

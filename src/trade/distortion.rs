//! Plate distortion: how much shorter a flat plate must be than its print.
//!
//! The polyester back of a plate does not stretch when it is bent round a
//! cylinder; what lies above it does.

use std::f64::consts::PI;

use super::catalogue::{Calculation, Topic, four, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Length that the printing surface gains in one turn, in metres.
///
/// `plate_m` is the plate's thickness in metres (0.02 to 0.3 in), `backing_m`
/// that of its polyester back (0 to 0.02 in).
///
/// Source: derived. The back keeps its length; the surface runs farther out by
/// plate less back.
///
/// ```
/// use gearside::trade::distortion::distortion_allowance;
/// // 1.70 mm plate on 0.127 mm back: 9.88345 mm.
/// assert!((distortion_allowance(1.70e-3, 0.127e-3) - 9.883_45e-3).abs() < 5e-9);
/// ```
#[must_use]
pub fn distortion_allowance(plate_m: f64, backing_m: f64) -> f64 {
    2.0 * PI * (plate_m - backing_m)
}

/// Share of the repeat by which the flat plate is shortened, as a fraction.
///
/// `repeat_m` is the repeat in metres (2 to 200 in), `plate_m` the plate's
/// thickness (0.02 to 0.3 in), `backing_m` its back's (0 to 0.02 in).
///
/// Source: derived; see [`distortion_allowance`].
///
/// ```
/// use gearside::trade::distortion::distortion_share;
/// // 12 in repeat, 0.067 in plate, 0.005 in back: 3.24631 %.
/// assert!((distortion_share(12.0, 0.067, 0.005) - 0.032_463_1).abs() < 5e-8);
/// ```
#[must_use]
pub fn distortion_share(repeat_m: f64, plate_m: f64, backing_m: f64) -> f64 {
    distortion_allowance(plate_m, backing_m) / repeat_m
}

/// Length on the flat plate of a feature that shall print `length_m` long
/// around the cylinder, in metres.
///
/// `length_m` and `repeat_m` are in metres (0.01 and 2 to 200 in), `plate_m`
/// and `backing_m` as for [`distortion_allowance`]. Across the web nothing is
/// shortened.
///
/// Source: derived; see [`distortion_allowance`].
///
/// ```
/// use gearside::trade::distortion::plate_length;
/// // The whole 12 in repeat lies 11.6104 in long on the flat plate.
/// assert!((plate_length(12.0, 12.0, 0.067, 0.005) - 11.6104).abs() < 5e-5);
/// ```
#[must_use]
pub fn plate_length(length_m: f64, repeat_m: f64, plate_m: f64, backing_m: f64) -> f64 {
    length_m * (1.0 - distortion_share(repeat_m, plate_m, backing_m))
}

/// Factor that the plate's length around is scaled by.
///
/// `allowance_m` is the length gained in one turn in metres (0.05 to 2 in; see
/// [`distortion_allowance`]), `repeat_m` the repeat in metres (2 to 200 in).
///
/// Source: derived. The flat plate is the repeat less what it gains.
///
/// ```
/// use gearside::trade::distortion::distortion_factor;
/// // 0.389557 in gained on 12 in: 0.967537.
/// assert!((distortion_factor(0.389_557, 12.0) - 0.967_537).abs() < 5e-7);
/// ```
#[must_use]
pub fn distortion_factor(allowance_m: f64, repeat_m: f64) -> f64 {
    1.0 - allowance_m / repeat_m
}

/// Share of its *flat* length that a plate stretches on the cylinder, as a
/// fraction.
///
/// `allowance_m` and `repeat_m` as for [`distortion_factor`]. The share of the
/// repeat, see [`distortion_share`], is a little smaller.
///
/// Source: derived. What is gained, over what it is gained on.
///
/// ```
/// use gearside::trade::distortion::distortion_elongation;
/// // 0.389557 in gained on a plate of 11.6104 in: 3.35523 %.
/// assert!((distortion_elongation(0.389_557, 12.0) - 0.033_552_3).abs() < 5e-8);
/// ```
#[must_use]
pub fn distortion_elongation(allowance_m: f64, repeat_m: f64) -> f64 {
    allowance_m / (repeat_m - allowance_m)
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "distortion_allowance",
        title: "Distortion allowance",
        topic: Topic::Distortion,
        says: "How much length the printing surface of a plate gains in one turn on the cylinder.",
        parameters: &[
            parameter("plate", "t", "thickness of the plate", "in", 0.02, 0.3),
            parameter("backing", "b", "thickness of its polyester back", "in", 0.0, 0.02),
        ],
        outcome: outcome("K", "in", KindOfQuantity::PressLength, 0.05, 2.0),
        compute: |a| two(a, distortion_allowance),
        expansion: Some("2 * pi * (plate - backing)"),
        wrong_turns: &[
            turn(
                "backing_not_deducted",
                "2 * pi * plate",
                "You used the whole plate. The polyester back does not stretch: take it off first.",
            ),
            turn(
                "half_the_circle",
                "pi * (plate - backing)",
                "You multiplied by π once. The thickness adds to the radius, so it counts 2π times.",
            ),
        ],
        no_result_when: None,
        source: "derived: the polyester back keeps its length; the surface runs farther out by plate less back",
    },
    Calculation {
        name: "distortion_share",
        title: "Distortion in percent",
        topic: Topic::Distortion,
        says: "By what share of the repeat the flat plate is shortened.",
        parameters: &[
            parameter("repeat", "R", "repeat", "in", 2.0, 200.0),
            parameter("plate", "t", "thickness of the plate", "in", 0.02, 0.3),
            parameter("backing", "b", "thickness of its polyester back", "in", 0.0, 0.02),
        ],
        outcome: outcome("k", "%", KindOfQuantity::Amount, 0.1, 20.0),
        compute: |a| three(a, distortion_share),
        expansion: Some("2 * pi * (plate - backing) / repeat"),
        wrong_turns: &[
            turn(
                "backing_not_deducted",
                "2 * pi * plate / repeat",
                "You used the whole plate. The polyester back does not stretch: take it off first.",
            ),
            turn(
                "half_the_circle",
                "pi * (plate - backing) / repeat",
                "You multiplied by π once. The thickness adds to the radius, so it counts 2π times.",
            ),
            turn(
                "share_of_the_diameter",
                "2 * pi * (plate - backing) / (repeat / pi)",
                "You divided by the pitch diameter. Divide by the repeat, the way around.",
            ),
            turn(
                "share_of_the_flat_plate",
                "2 * pi * (plate - backing) / (repeat - 2 * pi * (plate - backing))",
                "You divided by the flat length. The share is of the repeat.",
            ),
        ],
        no_result_when: None,
        source: "derived: K = 2π (t − b), as a share of the repeat",
    },
    Calculation {
        name: "plate_length",
        title: "Length on the flat plate",
        topic: Topic::Distortion,
        says: "How long a feature must lie on the flat plate to print at its right length around the cylinder.",
        parameters: &[
            parameter("length", "L", "length to be printed around the cylinder", "in", 0.01, 200.0),
            parameter("repeat", "R", "repeat", "in", 2.0, 200.0),
            parameter("plate", "t", "thickness of the plate", "in", 0.02, 0.3),
            parameter("backing", "b", "thickness of its polyester back", "in", 0.0, 0.02),
        ],
        outcome: outcome("L_0", "in", KindOfQuantity::PressLength, 0.005, 200.0),
        compute: |a| four(a, plate_length),
        expansion: Some("length * (1 - 2 * pi * (plate - backing) / repeat)"),
        wrong_turns: &[
            turn(
                "made_longer",
                "length * (1 + 2 * pi * (plate - backing) / repeat)",
                "You made the plate longer. It stretches on the cylinder, so it must start shorter.",
            ),
            turn(
                "divided_by_one_plus_share",
                "length / (1 + 2 * pi * (plate - backing) / repeat)",
                "You divided by one plus the share. The share is of the repeat: multiply by one minus it.",
            ),
            turn(
                "backing_not_deducted",
                "length * (1 - 2 * pi * plate / repeat)",
                "You used the whole plate. The polyester back does not stretch: take it off first.",
            ),
            turn(
                "half_the_circle",
                "length * (1 - pi * (plate - backing) / repeat)",
                "You multiplied by π once. The thickness adds to the radius, so it counts 2π times.",
            ),
        ],
        no_result_when: None,
        source: "derived: K = 2π (t − b) is gained in one turn, evenly",
    },
    Calculation {
        name: "distortion_factor",
        title: "Distortion factor",
        topic: Topic::Distortion,
        says: "What the length of the plate around the cylinder is multiplied by.",
        parameters: &[
            parameter("allowance", "K", "length gained in one turn", "in", 0.05, 2.0),
            parameter("repeat", "R", "repeat", "in", 2.0, 200.0),
        ],
        outcome: outcome("k_f", "", KindOfQuantity::Amount, 0.8, 1.0),
        compute: |a| two(a, distortion_factor),
        expansion: Some("1 - allowance / repeat"),
        wrong_turns: &[
            turn(
                "share_given",
                "allowance / repeat",
                "You gave the share that is taken off. The factor is one minus it.",
            ),
            turn(
                "made_longer",
                "1 + allowance / repeat",
                "You made the plate longer. It stretches on the cylinder, so it must start shorter.",
            ),
            turn(
                "share_of_the_diameter",
                "1 - allowance / (repeat / pi)",
                "You divided by the pitch diameter. Divide by the repeat, the way around.",
            ),
        ],
        no_result_when: None,
        source: "derived: the flat plate is the repeat less what it gains in one turn",
    },
    Calculation {
        name: "distortion_elongation",
        title: "Stretch of the plate on the cylinder",
        topic: Topic::Distortion,
        says: "By what share of its flat length a plate stretches on the cylinder.",
        parameters: &[
            parameter("allowance", "K", "length gained in one turn", "in", 0.05, 2.0),
            parameter("repeat", "R", "repeat", "in", 2.0, 200.0),
        ],
        outcome: outcome("ε", "%", KindOfQuantity::Amount, 0.1, 25.0),
        compute: |a| two(a, distortion_elongation),
        expansion: Some("allowance / (repeat - allowance)"),
        wrong_turns: &[
            turn(
                "share_of_the_repeat",
                "allowance / repeat",
                "You divided by the repeat. The plate stretches from its flat length: divide by that.",
            ),
            turn(
                "share_of_something_longer",
                "allowance / (repeat + allowance)",
                "You added the allowance to the repeat. The flat plate is shorter than the repeat: take it off.",
            ),
            turn(
                "flat_share_given",
                "(repeat - allowance) / repeat",
                "You gave the flat length as a share of the repeat. Divide what is gained by the flat length.",
            ),
        ],
        no_result_when: Some("the allowance is the whole repeat"),
        source: "derived: what is gained in one turn, over the flat length",
    },
];

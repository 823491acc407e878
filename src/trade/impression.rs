//! Setting impression: screws, dials, and what two rolls press between them.
//!
//! Kiss is the first contact that prints a complete image. How far to go beyond
//! it is for the press, the tape and the plate to say; here is only arithmetic.

use super::catalogue::{Calculation, Topic, four, one, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// How far a setting screw moves what it sets, in metres.
///
/// `divisions` is how far the scale is turned (-500 to 500), `lead_m` the lead
/// of the screw in metres per turn (5 to 500 mil), `per_turn` the divisions of a
/// full turn (5 to 500), `linkage` the movement at the roll over that at the
/// screw (0.05 to 2; 1 without a linkage).
///
/// Source: definition of lead; derived.
///
/// ```
/// use gearside::trade::impression::screw_movement;
/// // 20 threads per inch and 50 divisions a turn: 0.001 in per division.
/// assert!((screw_movement(1.0, 1.0 / 20.0, 50.0, 1.0) - 0.001).abs() < 1e-15);
/// ```
#[must_use]
pub fn screw_movement(divisions: f64, lead_m: f64, per_turn: f64, linkage: f64) -> f64 {
    divisions / per_turn * lead_m * linkage
}

/// Lead of a screw with one start, in metres per turn.
///
/// `threads_1_m` is its number of threads per metre (4 to 100 threads/in).
///
/// Source: definition: one turn moves such a screw by one thread.
///
/// ```
/// use gearside::trade::impression::lead_of_threads;
/// // 20 threads per inch: 0.05 in, 1.27 mm.
/// assert!((lead_of_threads(20.0 / 0.0254) - 1.27e-3).abs() < 1e-15);
/// ```
#[must_use]
pub fn lead_of_threads(threads_1_m: f64) -> f64 {
    1.0 / threads_1_m
}

/// Where a dial must stand for a squeeze beyond kiss, in divisions.
///
/// `kiss` is the dial's reading at kiss on that side in divisions (0 to 1000),
/// `squeeze_m` how far to go beyond kiss in metres (-10 to 20 mil),
/// `per_division_m` what a division moves the roll by in metres (0.05 to 5 mil).
/// For dials on which a higher reading is closer.
///
/// Source: derived. Each side is counted from its own kiss.
///
/// ```
/// use gearside::trade::impression::dial_reading;
/// // Kiss at 14 on the gear side and 11 on the other, half a thou a division:
/// // 2 thou beyond kiss is at 18 and 15.
/// assert!((dial_reading(14.0, 0.002, 0.0005) - 18.0).abs() < 1e-12);
/// assert!((dial_reading(11.0, 0.002, 0.0005) - 15.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn dial_reading(kiss: f64, squeeze_m: f64, per_division_m: f64) -> f64 {
    kiss + squeeze_m / per_division_m
}

/// Squeeze beyond kiss at a place between the bearings, in metres.
///
/// `gear_m` and `operator_m` are the squeezes at the two bearings in metres (-10
/// to 20 mil), `span_m` the distance between the bearings in metres (2 to 120
/// in), `from_gear_m` that of the place from the gear side (0 to `span_m`).
///
/// Source: derived. A straight roll; what it bends by comes on top.
///
/// ```
/// use gearside::trade::impression::local_squeeze;
/// // 3 thou on the gear side, 1 on the other, 20 in apart: 2.5 thou at 5 in.
/// assert!((local_squeeze(3.0, 1.0, 20.0, 5.0) - 2.5).abs() < 1e-12);
/// ```
#[must_use]
pub fn local_squeeze(gear_m: f64, operator_m: f64, span_m: f64, from_gear_m: f64) -> f64 {
    gear_m + (operator_m - gear_m) * from_gear_m / span_m
}

/// Angle between two rolls that stand closer on one side, in radians.
///
/// `difference_m` is how much closer in metres (-100 to 100 mil), `span_m` the
/// distance between the bearings in metres (2 to 120 in).
///
/// Source: derived: the tangent of the angle is difference over distance.
///
/// ```
/// use gearside::trade::impression::cylinder_tilt;
/// // As much as the distance itself: 45°.
/// assert!((cylinder_tilt(20.0, 20.0).to_degrees() - 45.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn cylinder_tilt(difference_m: f64, span_m: f64) -> f64 {
    libm::atan(difference_m / span_m)
}

/// Length along the web on which two rolls touch, in metres.
///
/// `first_m` and `second_m` are the *radii* of the two in metres (0.5 to 60 in),
/// `squeeze_m` how far they are beyond first contact in metres (0.1 to 20 mil).
///
/// Source: derived. Two circles, of which one gives way without bulging; the
/// squeeze is small beside the radii.
///
/// ```
/// use gearside::trade::impression::nip_width;
/// // Radii of 2 and 30 in stand for one of 1.875 in; 2 thou: 2 √0.0075 in.
/// assert!((nip_width(2.0, 30.0, 0.002) - 0.173_205_1).abs() < 5e-8);
/// ```
#[must_use]
pub fn nip_width(first_m: f64, second_m: f64, squeeze_m: f64) -> f64 {
    2.0 * libm::sqrt(2.0 * (first_m * second_m / (first_m + second_m)) * squeeze_m)
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "screw_movement",
        title: "Movement of a setting screw",
        topic: Topic::Impression,
        says: "How far a setting moves a roll when its scale is turned by so many divisions.",
        parameters: &[
            parameter("divisions", "n", "divisions turned", "divisions", -500.0, 500.0),
            parameter("lead", "l", "lead of the screw, per turn", "mil", 5.0, 500.0),
            parameter("per_turn", "n_t", "divisions in a full turn", "divisions", 5.0, 500.0),
            parameter("linkage", "i", "movement at the roll over that at the screw", "", 0.05, 2.0),
        ],
        outcome: outcome("s", "mil", KindOfQuantity::Amount, -500.0, 500.0),
        compute: |a| four(a, screw_movement),
        expansion: Some("divisions / per_turn * lead * linkage"),
        wrong_turns: &[
            turn(
                "lead_per_division",
                "divisions * lead * linkage",
                "You moved the screw by its lead for each division. The lead is for a full turn: divide by its divisions.",
            ),
            turn(
                "linkage_forgotten",
                "divisions / per_turn * lead",
                "You gave the movement of the screw. Multiply by the linkage for that of the roll.",
            ),
            turn(
                "linkage_the_wrong_way",
                "divisions / per_turn * lead / linkage",
                "You divided by the linkage. It says how far the roll goes for the screw's way: multiply.",
            ),
        ],
        no_result_when: None,
        source: "definition of lead; derived",
    },
    Calculation {
        name: "lead_of_threads",
        title: "Lead of a screw",
        topic: Topic::Impression,
        says: "How far a screw with one start moves in a turn.",
        parameters: &[parameter("threads", "n", "number of threads per length", "threads/in", 4.0, 100.0)],
        outcome: outcome("l", "mil", KindOfQuantity::Amount, 10.0, 250.0),
        compute: |a| one(a, lead_of_threads),
        expansion: Some("1 / threads"),
        wrong_turns: &[
            turn(
                "threads_as_lead",
                "bare(threads, 'threads/in') * '1 mil'",
                "You gave the threads for the lead. So many threads share an inch: divide 1000 mil by them.",
            ),
            turn("inches_as_mils", "bare(1 / threads, 'in') * '1 mil'", "You gave inches as mils. 1 in is 1000 mil."),
        ],
        no_result_when: None,
        source: "definition: one turn moves a screw with one start by one thread",
    },
    Calculation {
        name: "dial_reading",
        title: "Dial reading for a squeeze",
        topic: Topic::Impression,
        says: "Where a dial stands for a squeeze beyond kiss, where a higher reading is closer.",
        parameters: &[
            parameter("kiss", "n_k", "reading at kiss on that side", "divisions", 0.0, 1000.0),
            parameter("squeeze", "d", "squeeze beyond kiss", "mil", -10.0, 20.0),
            parameter("per_division", "s", "movement of the roll for one division", "mil", 0.05, 5.0),
        ],
        outcome: outcome("n", "divisions", KindOfQuantity::Amount, 0.0, 1400.0),
        compute: |a| three(a, dial_reading),
        expansion: Some("kiss + squeeze / per_division"),
        wrong_turns: &[
            turn(
                "mils_as_divisions",
                "kiss + bare(squeeze, 'mil')",
                "You turned one division for each thousandth. Divide the squeeze by what a division moves.",
            ),
            turn(
                "away_from_the_plate",
                "kiss - squeeze / per_division",
                "You turned away. On this dial a higher reading is closer: add.",
            ),
            turn(
                "kiss_forgotten",
                "squeeze / per_division",
                "You counted from nought. Each side is counted from its own kiss.",
            ),
        ],
        no_result_when: None,
        source: "derived: each side is counted from its own kiss",
    },
    Calculation {
        name: "local_squeeze",
        title: "Squeeze at a lane",
        topic: Topic::Impression,
        says: "How far beyond kiss a place across the web is when the two sides differ.",
        parameters: &[
            parameter("gear", "d_g", "squeeze on the gear side", "mil", -10.0, 20.0),
            parameter("operator", "d_o", "squeeze on the operator side", "mil", -10.0, 20.0),
            parameter("span", "L", "distance between the bearings", "in", 2.0, 120.0),
            parameter("from_gear", "x", "distance of the place from the gear side", "in", 0.0, 120.0),
        ],
        outcome: outcome("d", "mil", KindOfQuantity::Amount, -10.0, 20.0),
        compute: |a| four(a, local_squeeze),
        expansion: Some("gear + (operator - gear) * from_gear / span"),
        wrong_turns: &[
            turn(
                "counted_from_the_other_side",
                "operator + (gear - operator) * from_gear / span",
                "You counted from the operator side. The distance is from the gear side.",
            ),
            turn(
                "mean_of_the_sides",
                "(gear + operator) / 2",
                "You took the mean of the two sides. That is right in the middle only.",
            ),
            turn(
                "share_of_the_operator_side",
                "gear + operator * from_gear / span",
                "You added a share of the operator side. Add that share of the difference between the sides.",
            ),
        ],
        no_result_when: None,
        source: "derived: a straight line between the bearings",
    },
    Calculation {
        name: "cylinder_tilt",
        title: "Tilt of a cylinder",
        topic: Topic::Impression,
        says: "By what angle a cylinder stands askew when one side is closer.",
        parameters: &[
            parameter("difference", "Δ_d", "difference between the sides", "mil", -100.0, 100.0),
            parameter("span", "L", "distance between the bearings", "in", 2.0, 120.0),
        ],
        outcome: outcome("α", "°", KindOfQuantity::Amount, -3.0, 3.0),
        compute: |a| two(a, cylinder_tilt),
        expansion: None,
        wrong_turns: &[
            turn(
                "radians_as_degrees",
                "'1 °' * difference / span",
                "You gave radians as degrees. Take the angle whose tangent this is; 1 rad is 57.3°.",
            ),
            turn(
                "mils_as_inches",
                "'1000 rad' * difference / span",
                "You divided mils by inches. Bring both to one unit first: 1 mil is 0.001 in.",
            ),
            turn(
                "half_the_distance",
                "'2 rad' * difference / span",
                "You took half of the distance. The difference builds up over all of it.",
            ),
        ],
        no_result_when: None,
        source: "derived: the tangent of the angle is difference over distance",
    },
    Calculation {
        name: "nip_width",
        title: "Width of the nip",
        topic: Topic::Impression,
        says: "On what length along the web two rolls touch at a squeeze.",
        parameters: &[
            parameter("first", "r_1", "radius of the first roll", "in", 0.5, 60.0),
            parameter("second", "r_2", "radius of the second roll", "in", 0.5, 60.0),
            parameter("squeeze", "d", "squeeze beyond first contact", "mil", 0.1, 20.0),
        ],
        outcome: outcome("b", "in", KindOfQuantity::Amount, 0.01, 2.5),
        compute: |a| three(a, nip_width),
        expansion: Some("2 * sqrt(2 * (first * second / (first + second)) * squeeze)"),
        wrong_turns: &[
            turn(
                "half_of_the_nip",
                "sqrt(2 * (first * second / (first + second)) * squeeze)",
                "You gave half of the nip. It reaches as far to the other side of the middle: double it.",
            ),
            turn(
                "radii_added",
                "2 * sqrt(2 * (first + second) * squeeze)",
                "You added the radii. Two rolls touch on less than either would on a flat: product over sum.",
            ),
            turn(
                "diameters_as_radii",
                "2 * sqrt(4 * (first * second / (first + second)) * squeeze)",
                "You used diameters. The formula takes radii.",
            ),
        ],
        no_result_when: None,
        source: "derived: rigid circles, squeeze small beside the radii",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn dials_differ_as_their_kisses_do(gear in 0.0_f64..50.0, operator in 0.0_f64..50.0, squeeze in 0.0_f64..2e-4) {
            let apart = dial_reading(gear, squeeze, 12.7e-6) - dial_reading(operator, squeeze, 12.7e-6);
            prop_assert!((apart - (gear - operator)).abs() < 1e-9);
        }

        #[test]
        fn swapping_sides_and_counting_from_the_other_end_is_the_same(
            gear in -1e-4_f64..3e-4, operator in -1e-4_f64..3e-4, span in 0.1_f64..3.0, share in 0.0_f64..1.0
        ) {
            let (there, back) = (local_squeeze(gear, operator, span, share * span), local_squeeze(operator, gear, span, (1.0 - share) * span));
            prop_assert!((there - back).abs() < 1e-15);
            let (least, most) = (gear.min(operator), gear.max(operator));
            prop_assert!(there >= least - 1e-15 && there <= most + 1e-15);
        }

        /// The circles' own equations: half the nip away from its middle they
        /// are as far apart as the squeeze, but for the square of its share.
        #[test]
        fn the_nip_ends_where_the_circles_leave_each_other(first in 0.05_f64..1.5, second in 0.05_f64..1.5, squeeze in 1e-6_f64..1e-4) {
            let half = nip_width(first, second, squeeze) / 2.0;
            let rise = |radius: f64| radius - libm::sqrt(radius * radius - half * half);
            prop_assert!((rise(first) + rise(second) - squeeze).abs() < 2e-3 * squeeze);
            prop_assert!((nip_width(second, first, squeeze) / 2.0 - half).abs() < 1e-12);
        }
    }
}

//! Flow cups: from the seconds a cup takes to run out to a viscosity.
//!
//! Cup seconds are readings of one cup and no time: they never stand for the
//! seconds of another cup. All equations hold at the cup's own temperature
//! (Zahn, Shell and Ford 25 °C; DIN usually 20 °C, ISO 23 °C) and inside the
//! range of seconds only; outside it the result is not a measurement.

use super::catalogue::{Calculation, Topic, one, outcome, parameter, turn};
use super::kind::KindOfQuantity;

/// SI in one mm²/s.
const MM2_S: f64 = 1e-6;

/// v = K (t − c), K in mm²/s.
fn straight(k: f64, c: f64, seconds: f64) -> f64 {
    k * MM2_S * (seconds - c)
}

/// t = v / K + c, K in mm²/s.
fn straight_seconds(k: f64, c: f64, viscosity_m2_s: f64) -> f64 {
    viscosity_m2_s / (k * MM2_S) + c
}

/// v = A t − B / t, A and B in mm²/s.
fn bent(a: f64, b: f64, seconds: f64) -> f64 {
    MM2_S * (a * seconds - b / seconds)
}

/// Kinematic viscosity by a Zahn 2 cup, in m²/s.
///
/// `seconds` is the reading, 20 to 80 s (Zahn 2), at 25 °C: v = 3.5 (t − 14)
/// mm²/s.
///
/// Source: ASTM D4212, as tabled by a supplier of viscosity standards.
///
/// ```
/// use gearside::trade::cups::zahn_2;
/// // Published with the equation: 35 s is 73.5 mm²/s.
/// assert!((zahn_2(35.0) - 73.5e-6).abs() < 1e-12);
/// ```
#[must_use]
pub fn zahn_2(seconds: f64) -> f64 {
    straight(3.5, 14.0, seconds)
}

/// Kinematic viscosity by a Zahn 3 cup, in m²/s.
///
/// `seconds` is the reading, 20 to 80 s (Zahn 3), at 25 °C: v = 11.7 (t − 7.5)
/// mm²/s.
///
/// Source: ASTM D4212, as tabled by a supplier of viscosity standards.
///
/// ```
/// use gearside::trade::cups::zahn_3;
/// // 11.7 × (30 − 7.5) = 263.25.
/// assert!((zahn_3(30.0) - 263.25e-6).abs() < 1e-12);
/// ```
#[must_use]
pub fn zahn_3(seconds: f64) -> f64 {
    straight(11.7, 7.5, seconds)
}

/// Kinematic viscosity by a Shell 4 cup, in m²/s.
///
/// `seconds` is the reading, 20 to 80 s (Shell 4), at 25 °C: v = 3.45 (t − 1)
/// mm²/s.
///
/// Source: ASTM D4212, as tabled by a supplier of viscosity standards.
///
/// ```
/// use gearside::trade::cups::shell_4;
/// // A standard oil of 120 mm²/s is tabled at 36 s.
/// assert!((shell_4(36.0) - 120e-6).abs() < 3.45e-6 / 2.0);
/// ```
#[must_use]
pub fn shell_4(seconds: f64) -> f64 {
    straight(3.45, 1.0, seconds)
}

/// Kinematic viscosity by a Ford 4 cup, in m²/s.
///
/// `seconds` is the reading, 30 to 100 s (Ford 4), at 25 °C: v = 3.85 (t − 4.49)
/// mm²/s.
///
/// Source: ASTM D1200, as coded in an open-source module.
///
/// ```
/// use gearside::trade::cups::ford_4;
/// // Published with the equation: 80 s is 290.7135 mm²/s.
/// assert!((ford_4(80.0) - 290.713_5e-6).abs() < 1e-12);
/// ```
#[must_use]
pub fn ford_4(seconds: f64) -> f64 {
    straight(3.85, 4.49, seconds)
}

/// Kinematic viscosity by a DIN 4 mm cup, in m²/s.
///
/// `seconds` is the reading, 25 to 150 s (DIN 4 mm), usually at 20 °C:
/// v = 4.57 t − 452 / t mm²/s.
///
/// Source: DIN 53211 (withdrawn in 1996), as coded in an open-source module.
///
/// ```
/// use gearside::trade::cups::din_4;
/// // 4.57 × 40 − 452 ÷ 40 = 171.5.
/// assert!((din_4(40.0) - 171.5e-6).abs() < 1e-12);
/// ```
#[must_use]
pub fn din_4(seconds: f64) -> f64 {
    bent(4.57, 452.0, seconds)
}

/// Kinematic viscosity by an ISO 4 mm cup, in m²/s.
///
/// `seconds` is the reading, 30 to 100 s (ISO 4 mm), at 23 °C:
/// v = 1.37 t − 200 / t mm²/s.
///
/// Source: ISO 2431 / ASTM D5125, as coded in an open-source module.
///
/// ```
/// use gearside::trade::cups::iso_4;
/// // The usual range of the cup ends at 135 mm²/s.
/// assert!((iso_4(100.0) - 135e-6).abs() < 1e-12);
/// ```
#[must_use]
pub fn iso_4(seconds: f64) -> f64 {
    bent(1.37, 200.0, seconds)
}

/// Reading of a Zahn 2 cup for a kinematic viscosity, in its seconds.
///
/// `viscosity_m2_s` is the viscosity in m²/s (21 to 231 mm²/s): the other
/// direction of [`zahn_2`].
///
/// Source: ASTM D4212, as tabled by a supplier of viscosity standards.
///
/// ```
/// use gearside::trade::cups::zahn_2_seconds;
/// // A standard oil of 66 mm²/s is tabled at 33 s.
/// assert!((zahn_2_seconds(66e-6) - 33.0).abs() < 0.5);
/// ```
#[must_use]
pub fn zahn_2_seconds(viscosity_m2_s: f64) -> f64 {
    straight_seconds(3.5, 14.0, viscosity_m2_s)
}

/// Reading of a Zahn 3 cup for a kinematic viscosity, in its seconds.
///
/// `viscosity_m2_s` is the viscosity in m²/s (146.25 to 848.25 mm²/s): the other
/// direction of [`zahn_3`].
///
/// Source: ASTM D4212, as tabled by a supplier of viscosity standards.
///
/// ```
/// use gearside::trade::cups::zahn_3_seconds;
/// // 263.25 ÷ 11.7 + 7.5 = 30.
/// assert!((zahn_3_seconds(263.25e-6) - 30.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn zahn_3_seconds(viscosity_m2_s: f64) -> f64 {
    straight_seconds(11.7, 7.5, viscosity_m2_s)
}

/// Reading of a Ford 4 cup for a kinematic viscosity, in its seconds.
///
/// `viscosity_m2_s` is the viscosity in m²/s (98.2135 to 367.7135 mm²/s): the
/// other direction of [`ford_4`].
///
/// Source: ASTM D1200, as coded in an open-source module.
///
/// ```
/// use gearside::trade::cups::ford_4_seconds;
/// // A standard oil of 120 mm²/s is tabled at 36 s.
/// assert!((ford_4_seconds(120e-6) - 36.0).abs() < 0.5);
/// ```
#[must_use]
pub fn ford_4_seconds(viscosity_m2_s: f64) -> f64 {
    straight_seconds(3.85, 4.49, viscosity_m2_s)
}

const SUPPLIER: &str = "ASTM D4212, K and c as tabled by a supplier of viscosity standards, \
     http://www.cannoninstrument.com/Cups.htm";
const FORD: &str = "ASTM D1200, K and c as coded in an open-source cup-equation module";
const DIN: &str = "DIN 53211 (withdrawn 1996), A and B as coded in an open-source cup-equation module";
const ISO: &str = "ISO 2431 / ASTM D5125, A and B as coded in an open-source cup-equation module";

/// The entry of a cup with v = K (t − c).
macro_rules! cup {
    ($name:literal, $function:path, $cup:literal, $k:literal, $c:literal, $seconds:expr, $viscosity:expr, $source:expr) => {
        Calculation {
            name: $name,
            title: concat!("Viscosity from ", $cup, " seconds"),
            topic: Topic::Viscosity,
            says: concat!("What kinematic viscosity a reading of the ", $cup, " cup stands for."),
            parameters: &[parameter(
                "seconds",
                "t",
                concat!("reading of the ", $cup, " cup"),
                concat!("s (", $cup, ")"),
                $seconds.0,
                $seconds.1,
            )],
            outcome: outcome("ν", "mm²/s", KindOfQuantity::Amount, $viscosity.0, $viscosity.1),
            compute: |a| one(a, $function),
            expansion: Some(concat!("'", $k, " mm²/s' * (seconds / '1 s (", $cup, ")' - ", $c, ")")),
            wrong_turns: &[
                turn(
                    "offset_missed",
                    concat!("'", $k, " mm²/s' * (seconds / '1 s (", $cup, ")')"),
                    concat!("You multiplied the seconds as they are. Take ", $c, " s off first."),
                ),
                turn(
                    "offset_taken_after",
                    concat!("'1 mm²/s' * (", $k, " * (seconds / '1 s (", $cup, ")') - ", $c, ")"),
                    concat!("You multiplied first. Take ", $c, " s off, then multiply by ", $k, "."),
                ),
                turn(
                    "seconds_as_viscosity",
                    concat!("'1 mm²/s' * (seconds / '1 s (", $cup, ")')"),
                    "You gave the seconds as a viscosity. Each cup has its own equation: use it.",
                ),
            ],
            no_result_when: None,
            source: $source,
        }
    };
}

/// The entry of the other direction, t = v / K + c.
macro_rules! cup_seconds {
    ($name:literal, $function:path, $cup:literal, $k:literal, $c:literal, $seconds:expr, $viscosity:expr, $source:expr) => {
        Calculation {
            name: $name,
            title: concat!($cup, " seconds from viscosity"),
            topic: Topic::Viscosity,
            says: concat!("What the ", $cup, " cup reads at a kinematic viscosity."),
            parameters: &[parameter("viscosity", "ν", "kinematic viscosity", "mm²/s", $viscosity.0, $viscosity.1)],
            outcome: outcome("t", concat!("s (", $cup, ")"), KindOfQuantity::Amount, $seconds.0, $seconds.1),
            compute: |a| one(a, $function),
            expansion: Some(concat!("'1 s (", $cup, ")' * (viscosity / '", $k, " mm²/s' + ", $c, ")")),
            wrong_turns: &[
                turn(
                    "offset_missed",
                    concat!("'1 s (", $cup, ")' * (viscosity / '", $k, " mm²/s')"),
                    concat!("You left the offset out. Divide by ", $k, ", then add ", $c, " s."),
                ),
                turn(
                    "offset_taken_off",
                    concat!("'1 s (", $cup, ")' * (viscosity / '", $k, " mm²/s' - ", $c, ")"),
                    concat!("You took ", $c, " s off. From viscosity back to seconds you add it."),
                ),
            ],
            no_result_when: None,
            source: $source,
        }
    };
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    cup!("zahn_2", zahn_2, "Zahn 2", "3.5", "14", (20.0, 80.0), (20.0, 250.0), SUPPLIER),
    cup!("zahn_3", zahn_3, "Zahn 3", "11.7", "7.5", (20.0, 80.0), (100.0, 850.0), SUPPLIER),
    cup!("shell_4", shell_4, "Shell 4", "3.45", "1", (20.0, 80.0), (65.0, 275.0), SUPPLIER),
    cup!("ford_4", ford_4, "Ford 4", "3.85", "4.49", (30.0, 100.0), (70.0, 370.0), FORD),
    Calculation {
        name: "din_4",
        title: "Viscosity from DIN 4 mm seconds",
        topic: Topic::Viscosity,
        says: "What kinematic viscosity a reading of the DIN 4 mm cup stands for.",
        parameters: &[parameter("seconds", "t", "reading of the DIN 4 mm cup", "s (DIN 4 mm)", 25.0, 150.0)],
        outcome: outcome("ν", "mm²/s", KindOfQuantity::Amount, 95.0, 685.0),
        compute: |a| one(a, din_4),
        expansion: Some("'1 mm²/s' * (4.57 * (seconds / '1 s (DIN 4 mm)') - 452 / (seconds / '1 s (DIN 4 mm)'))"),
        wrong_turns: &[
            turn(
                "second_term_missed",
                "'1 mm²/s' * (4.57 * (seconds / '1 s (DIN 4 mm)'))",
                "You left the second term out. Take 452 divided by the seconds off.",
            ),
            turn(
                "other_cup",
                "'1 mm²/s' * (1.37 * (seconds / '1 s (DIN 4 mm)') - 200 / (seconds / '1 s (DIN 4 mm)'))",
                "You used the equation of the ISO 4 mm cup. The DIN 4 mm cup has its own.",
            ),
            turn(
                "seconds_as_viscosity",
                "'1 mm²/s' * (seconds / '1 s (DIN 4 mm)')",
                "You gave the seconds as a viscosity. Each cup has its own equation: use it.",
            ),
        ],
        no_result_when: None,
        source: DIN,
    },
    Calculation {
        name: "iso_4",
        title: "Viscosity from ISO 4 mm seconds",
        topic: Topic::Viscosity,
        says: "What kinematic viscosity a reading of the ISO 4 mm cup stands for.",
        parameters: &[parameter("seconds", "t", "reading of the ISO 4 mm cup", "s (ISO 4 mm)", 30.0, 100.0)],
        outcome: outcome("ν", "mm²/s", KindOfQuantity::Amount, 34.0, 136.0),
        compute: |a| one(a, iso_4),
        expansion: Some("'1 mm²/s' * (1.37 * (seconds / '1 s (ISO 4 mm)') - 200 / (seconds / '1 s (ISO 4 mm)'))"),
        wrong_turns: &[
            turn(
                "second_term_missed",
                "'1 mm²/s' * (1.37 * (seconds / '1 s (ISO 4 mm)'))",
                "You left the second term out. Take 200 divided by the seconds off.",
            ),
            turn(
                "other_cup",
                "'1 mm²/s' * (4.57 * (seconds / '1 s (ISO 4 mm)') - 452 / (seconds / '1 s (ISO 4 mm)'))",
                "You used the equation of the DIN 4 mm cup. The ISO 4 mm cup has its own.",
            ),
            turn(
                "seconds_as_viscosity",
                "'1 mm²/s' * (seconds / '1 s (ISO 4 mm)')",
                "You gave the seconds as a viscosity. Each cup has its own equation: use it.",
            ),
        ],
        no_result_when: None,
        source: ISO,
    },
    cup_seconds!("zahn_2_seconds", zahn_2_seconds, "Zahn 2", "3.5", "14", (20.0, 80.0), (21.0, 231.0), SUPPLIER),
    cup_seconds!("zahn_3_seconds", zahn_3_seconds, "Zahn 3", "11.7", "7.5", (20.0, 80.0), (146.25, 848.25), SUPPLIER),
    cup_seconds!("ford_4_seconds", ford_4_seconds, "Ford 4", "3.85", "4.49", (30.0, 100.0), (98.2135, 367.7135), FORD),
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn seconds_of_a_viscosity_of_seconds_are_the_seconds(seconds in 20.0_f64..100.0) {
            prop_assert!((zahn_2_seconds(zahn_2(seconds)) - seconds).abs() < 1e-9);
            prop_assert!((zahn_3_seconds(zahn_3(seconds)) - seconds).abs() < 1e-9);
            prop_assert!((ford_4_seconds(ford_4(seconds)) - seconds).abs() < 1e-9);
        }

        #[test]
        fn a_slower_cup_means_a_thicker_ink(seconds in 25.0_f64..100.0, more in 0.1_f64..20.0) {
            for cup in [zahn_2, zahn_3, shell_4, ford_4, din_4, iso_4] {
                prop_assert!(cup(seconds + more) > cup(seconds));
            }
        }
    }

    #[test]
    fn equal_orifices_do_not_make_equal_cups() {
        // DIN 4 mm and ISO 4 mm at 40 s: 171.5 and 49.8 mm²/s by their equations.
        assert!((din_4(40.0) - 171.5e-6).abs() < 1e-12);
        assert!((iso_4(40.0) - 49.8e-6).abs() < 1e-12);
    }
}

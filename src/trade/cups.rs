//! Flow cups: from the seconds a cup takes to run out to a viscosity, and back.
//!
//! Cup seconds are readings of one cup and no time: they never stand for the
//! seconds of another cup. All equations hold at the cup's own temperature
//! (Zahn, Shell and Ford 25 °C; DIN usually 20 °C, ISO 23 °C) and inside the
//! range of seconds only; outside it the result is not a measurement.

use super::catalogue::{Calculation, Topic, one, outcome, parameter, turn};
use super::kind::KindOfQuantity;

/// SI in one mm²/s.
const MM2_S: f64 = 1e-6;

/// The equation of a cup, with the viscosity ν in mm²/s and the reading t in
/// the cup's own seconds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Law {
    /// ν = K (t − c).
    Straight {
        /// K, in mm²/s for each second.
        k: f64,
        /// c, in seconds.
        c: f64,
    },
    /// ν = A t − B / t.
    Bent {
        /// A, in mm²/s for each second.
        a: f64,
        /// B, in mm²/s times a second.
        b: f64,
    },
}

/// A flow cup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FlowCup {
    /// Its equation.
    pub law: Law,
    /// The shortest reading that is a measurement, in its seconds.
    pub least_s: f64,
    /// The longest reading that is a measurement, in its seconds.
    pub most_s: f64,
}

impl FlowCup {
    const fn straight(k: f64, c: f64, least_s: f64, most_s: f64) -> Self {
        Self { law: Law::Straight { k, c }, least_s, most_s }
    }

    const fn bent(a: f64, b: f64, least_s: f64, most_s: f64) -> Self {
        Self { law: Law::Bent { a, b }, least_s, most_s }
    }

    /// The kinematic viscosity for a reading, in m²/s.
    ///
    /// `seconds` is the reading in this cup's seconds, [`FlowCup::least_s`] to
    /// [`FlowCup::most_s`]; outside the equation still gives a number, down to
    /// less than nothing, but no measurement.
    ///
    /// Source: ASTM D4212 (Zahn, Shell), ASTM D1200 (Ford), DIN 53211, ISO 2431.
    ///
    /// ```
    /// use gearside::trade::cups::{FORD_4, ISO_3, ZAHN_2};
    /// // Published with the equations: 35 s, 80 s and 57 s.
    /// assert!((ZAHN_2.viscosity(35.0) - 73.5e-6).abs() < 1e-12);
    /// assert!((FORD_4.viscosity(80.0) - 290.713_5e-6).abs() < 1e-12);
    /// assert!((ISO_3.viscosity(57.0) - 21.742_2e-6).abs() < 1e-10);
    /// ```
    #[must_use]
    pub const fn viscosity(&self, seconds: f64) -> f64 {
        MM2_S * self.in_mm2_s(seconds)
    }

    /// The reading for a kinematic viscosity, in this cup's seconds.
    ///
    /// `viscosity_m2_s` is the viscosity in m²/s. A bent law has two solutions;
    /// this is the one above zero.
    ///
    /// Source: the equations of [`FlowCup::viscosity`], solved for the reading.
    ///
    /// ```
    /// use gearside::trade::cups::{SHELL_3, ZAHN_2};
    /// // A supplier of standard oils tables 66 mm²/s at 33 s and 46 s.
    /// assert!((ZAHN_2.seconds(66e-6) - 33.0).abs() < 0.5);
    /// assert!((SHELL_3.seconds(66e-6) - 46.0).abs() < 0.5);
    /// ```
    #[must_use]
    pub fn seconds(&self, viscosity_m2_s: f64) -> f64 {
        let viscosity = viscosity_m2_s / MM2_S;
        match self.law {
            Law::Straight { k, c } => viscosity / k + c,
            Law::Bent { a, b } => (viscosity + libm::sqrt(viscosity * viscosity + 4.0 * a * b)) / (2.0 * a),
        }
    }

    const fn in_mm2_s(&self, seconds: f64) -> f64 {
        match self.law {
            Law::Straight { k, c } => k * (seconds - c),
            Law::Bent { a, b } => a * seconds - b / seconds,
        }
    }
}

/// Zahn 1, at 25 °C, 35 to 80 s. Source: ASTM D4212, as tabled by a supplier of viscosity standards.
pub const ZAHN_1: FlowCup = FlowCup::straight(1.1, 29.0, 35.0, 80.0);
/// Zahn 2, at 25 °C, 20 to 80 s. Source: as for [`ZAHN_1`].
pub const ZAHN_2: FlowCup = FlowCup::straight(3.5, 14.0, 20.0, 80.0);
/// Zahn 3, at 25 °C, 20 to 80 s. Source: as for [`ZAHN_1`].
pub const ZAHN_3: FlowCup = FlowCup::straight(11.7, 7.5, 20.0, 80.0);
/// Zahn 4, at 25 °C, 20 to 80 s. Source: as for [`ZAHN_1`].
pub const ZAHN_4: FlowCup = FlowCup::straight(14.8, 5.0, 20.0, 80.0);
/// Zahn 5, at 25 °C, 20 to 80 s; it has no offset. Source: as for [`ZAHN_1`].
pub const ZAHN_5: FlowCup = FlowCup::straight(23.0, 0.0, 20.0, 80.0);
/// Shell 1, at 25 °C, 20 to 80 s. Source: as for [`ZAHN_1`].
pub const SHELL_1: FlowCup = FlowCup::straight(0.226, 13.0, 20.0, 80.0);
/// Shell 2, at 25 °C, 20 to 80 s. Source: as for [`ZAHN_1`]; an open-source
/// module has 0.576 in its table and 0.567 in its code, and the table is right.
pub const SHELL_2: FlowCup = FlowCup::straight(0.576, 5.0, 20.0, 80.0);
/// Shell 2½, at 25 °C, 20 to 80 s. Source: as for [`ZAHN_1`].
pub const SHELL_2_HALF: FlowCup = FlowCup::straight(0.925, 3.0, 20.0, 80.0);
/// Shell 3, at 25 °C, 20 to 80 s. Source: as for [`ZAHN_1`].
pub const SHELL_3: FlowCup = FlowCup::straight(1.51, 2.0, 20.0, 80.0);
/// Shell 3½, at 25 °C, 20 to 80 s. Source: as for [`ZAHN_1`].
pub const SHELL_3_HALF: FlowCup = FlowCup::straight(2.17, 1.5, 20.0, 80.0);
/// Shell 4, at 25 °C, 20 to 80 s. Source: as for [`ZAHN_1`].
pub const SHELL_4: FlowCup = FlowCup::straight(3.45, 1.0, 20.0, 80.0);
/// Shell 5, at 25 °C, 20 to 80 s. Source: as for [`ZAHN_1`].
pub const SHELL_5: FlowCup = FlowCup::straight(6.5, 1.0, 20.0, 80.0);
/// Shell 6, at 25 °C, 20 to 80 s. Source: as for [`ZAHN_1`].
pub const SHELL_6: FlowCup = FlowCup::straight(16.2, 0.5, 20.0, 80.0);
/// Ford 1, at 25 °C, 55 to 100 s. Source: ASTM D1200, as tabled by a supplier of viscosity standards.
pub const FORD_1: FlowCup = FlowCup::straight(0.49, 35.0, 55.0, 100.0);
/// Ford 2, at 25 °C, 40 to 100 s. Source: as for [`FORD_1`].
pub const FORD_2: FlowCup = FlowCup::straight(1.44, 18.0, 40.0, 100.0);
/// Ford 3, at 25 °C, 30 to 100 s. Source: ASTM D1200, as coded in an open-source
/// module; it begins at 20 s there, tables elsewhere at 30 s.
pub const FORD_3: FlowCup = FlowCup::straight(2.31, 6.58, 30.0, 100.0);
/// Ford 4, at 25 °C, 30 to 100 s. Source: as for [`FORD_3`].
pub const FORD_4: FlowCup = FlowCup::straight(3.85, 4.49, 30.0, 100.0);
/// Ford 5, at 25 °C, 30 to 100 s. Source: as for [`FORD_3`].
pub const FORD_5: FlowCup = FlowCup::straight(12.1, 2.0, 30.0, 100.0);
/// DIN 4 mm, usually at 20 °C, 25 to 150 s. Source: DIN 53211 (withdrawn in
/// 1996), as coded in an open-source module.
pub const DIN_4: FlowCup = FlowCup::bent(4.57, 452.0, 25.0, 150.0);
/// ISO 3 mm, at 23 °C, 30 to 100 s. Source: ISO 2431 / ASTM D5125, as coded in an
/// open-source module; the ends agree with the range usually quoted.
pub const ISO_3: FlowCup = FlowCup::bent(0.443, 200.0, 30.0, 100.0);
/// ISO 4 mm, at 23 °C, 30 to 100 s. Source: as for [`ISO_3`].
pub const ISO_4: FlowCup = FlowCup::bent(1.37, 200.0, 30.0, 100.0);
/// ISO 5 mm, at 23 °C, 30 to 100 s. Source: as for [`ISO_3`].
pub const ISO_5: FlowCup = FlowCup::bent(3.28, 220.0, 30.0, 100.0);
/// ISO 6 mm, at 23 °C, 30 to 100 s. Source: as for [`ISO_3`].
pub const ISO_6: FlowCup = FlowCup::bent(6.90, 570.0, 30.0, 100.0);

const SUPPLIER: &str = "ASTM D4212, K and c as tabled by a supplier of viscosity standards, \
     http://www.cannoninstrument.com/Cups.htm";
const FORD_TABLE: &str = "ASTM D1200, K and c as tabled by a supplier of viscosity standards, \
     http://www.cannoninstrument.com/Cups.htm";
const FORD_CODE: &str = "ASTM D1200, K and c as coded in an open-source cup-equation module";
const DIN: &str = "DIN 53211 (withdrawn 1996), A and B as coded in an open-source cup-equation module";
const ISO: &str = "ISO 2431 / ASTM D5125, A and B as coded in an open-source cup-equation module";

/// An entry from seconds to viscosity. Only data: the function is [`FlowCup::viscosity`].
macro_rules! from_seconds {
    ($name:literal, $cup:ident, $words:literal, $is:expr, $turns:expr, $source:expr) => {
        Calculation {
            name: $name,
            title: concat!("Viscosity from ", $words, " seconds"),
            topic: Topic::Viscosity,
            says: concat!("What kinematic viscosity a reading of the ", $words, " cup stands for."),
            parameters: &[parameter(
                "seconds",
                "t",
                concat!("reading of the ", $words, " cup"),
                concat!("s (", $words, ")"),
                $cup.least_s,
                $cup.most_s,
            )],
            outcome: outcome(
                "ν",
                "mm²/s",
                KindOfQuantity::Amount,
                $cup.in_mm2_s($cup.least_s),
                $cup.in_mm2_s($cup.most_s),
            ),
            compute: |a| one(a, |seconds| $cup.viscosity(seconds)),
            expansion: Some($is),
            wrong_turns: $turns,
            no_result_when: None,
            source: $source,
        }
    };
}

/// An entry from viscosity to seconds. Only data: the function is [`FlowCup::seconds`].
macro_rules! to_seconds {
    ($name:literal, $cup:ident, $words:literal, $is:expr, $turns:expr, $source:expr) => {
        Calculation {
            name: $name,
            title: concat!($words, " seconds from viscosity"),
            topic: Topic::Viscosity,
            says: concat!("What the ", $words, " cup reads at a kinematic viscosity."),
            parameters: &[parameter(
                "viscosity",
                "ν",
                "kinematic viscosity",
                "mm²/s",
                $cup.in_mm2_s($cup.least_s),
                $cup.in_mm2_s($cup.most_s),
            )],
            outcome: outcome("t", concat!("s (", $words, ")"), KindOfQuantity::Amount, $cup.least_s, $cup.most_s),
            compute: |a| one(a, |viscosity| $cup.seconds(viscosity)),
            expansion: Some($is),
            wrong_turns: $turns,
            no_result_when: None,
            source: $source,
        }
    };
}

/// Both entries of a cup with ν = K (t − c).
macro_rules! straight {
    ($name:literal, $back:literal, $cup:ident, $words:literal, $k:literal, $c:literal, $source:expr) => {
        [
            from_seconds!(
                $name,
                $cup,
                $words,
                concat!("'", $k, " mm²/s' * (seconds / '1 s (", $words, ")' - ", $c, ")"),
                &[
                    turn(
                        "offset_missed",
                        concat!("'", $k, " mm²/s' * (seconds / '1 s (", $words, ")')"),
                        concat!("You multiplied the seconds as they are. Take ", $c, " s off first."),
                    ),
                    turn(
                        "offset_taken_after",
                        concat!("'1 mm²/s' * (", $k, " * (seconds / '1 s (", $words, ")') - ", $c, ")"),
                        concat!("You multiplied first. Take ", $c, " s off, then multiply by ", $k, "."),
                    ),
                    turn(
                        "seconds_as_viscosity",
                        concat!("'1 mm²/s' * (seconds / '1 s (", $words, ")')"),
                        "You gave the seconds as a viscosity. Each cup has its own equation: use it.",
                    ),
                ],
                $source
            ),
            to_seconds!(
                $back,
                $cup,
                $words,
                concat!("'1 s (", $words, ")' * (viscosity / '", $k, " mm²/s' + ", $c, ")"),
                &[
                    turn(
                        "offset_missed",
                        concat!("'1 s (", $words, ")' * (viscosity / '", $k, " mm²/s')"),
                        concat!("You left the offset out. Divide by ", $k, ", then add ", $c, " s."),
                    ),
                    turn(
                        "offset_taken_off",
                        concat!("'1 s (", $words, ")' * (viscosity / '", $k, " mm²/s' - ", $c, ")"),
                        concat!("You took ", $c, " s off. From viscosity back to seconds you add it."),
                    ),
                ],
                $source
            ),
        ]
    };
}

/// Both entries of a cup with ν = A t − B / t. `$other`, `$a2`, `$b2`: a cup it is mixed up with.
macro_rules! bent {
    ($name:literal, $back:literal, $cup:ident, $words:literal, $a:literal, $b:literal, $other:literal, $a2:literal, $b2:literal, $source:expr) => {
        [
            from_seconds!(
                $name,
                $cup,
                $words,
                concat!(
                    "'1 mm²/s' * (",
                    $a,
                    " * (seconds / '1 s (",
                    $words,
                    ")') - ",
                    $b,
                    " / (seconds / '1 s (",
                    $words,
                    ")'))"
                ),
                &[
                    turn(
                        "second_term_missed",
                        concat!("'1 mm²/s' * (", $a, " * (seconds / '1 s (", $words, ")'))"),
                        concat!("You left the second term out. Take ", $b, " divided by the seconds off."),
                    ),
                    turn(
                        "other_cup",
                        concat!(
                            "'1 mm²/s' * (",
                            $a2,
                            " * (seconds / '1 s (",
                            $words,
                            ")') - ",
                            $b2,
                            " / (seconds / '1 s (",
                            $words,
                            ")'))"
                        ),
                        concat!("You used the equation of the ", $other, " cup. The ", $words, " cup has its own."),
                    ),
                    turn(
                        "seconds_as_viscosity",
                        concat!("'1 mm²/s' * (seconds / '1 s (", $words, ")')"),
                        "You gave the seconds as a viscosity. Each cup has its own equation: use it.",
                    ),
                ],
                $source
            ),
            to_seconds!(
                $back,
                $cup,
                $words,
                concat!(
                    "'1 s (",
                    $words,
                    ")' * (viscosity / '1 mm²/s' + sqrt((viscosity / '1 mm²/s') ^ 2 + 4 * ",
                    $a,
                    " * ",
                    $b,
                    ")) / (2 * ",
                    $a,
                    ")"
                ),
                &[
                    turn(
                        "second_term_missed",
                        concat!("'1 s (", $words, ")' * (viscosity / '", $a, " mm²/s')"),
                        concat!("You only divided by ", $a, ". The term with ", $b, " lengthens the reading."),
                    ),
                    turn(
                        "other_cup",
                        concat!(
                            "'1 s (",
                            $words,
                            ")' * (viscosity / '1 mm²/s' + sqrt((viscosity / '1 mm²/s') ^ 2 + 4 * ",
                            $a2,
                            " * ",
                            $b2,
                            ")) / (2 * ",
                            $a2,
                            ")"
                        ),
                        concat!("You used the equation of the ", $other, " cup. The ", $words, " cup has its own."),
                    ),
                ],
                $source
            ),
        ]
    };
}

/// Zahn 5 has no offset, so its wrong turns are others.
const ZAHN_5_ENTRIES: [Calculation; 2] = [
    from_seconds!(
        "zahn_5",
        ZAHN_5,
        "Zahn 5",
        "'23 mm²/s' * (seconds / '1 s (Zahn 5)')",
        &[
            turn(
                "other_cup",
                "'14.8 mm²/s' * (seconds / '1 s (Zahn 5)' - 5)",
                "You used the equation of the Zahn 4 cup. The Zahn 5 cup has its own, without an offset.",
            ),
            turn(
                "seconds_as_viscosity",
                "'1 mm²/s' * (seconds / '1 s (Zahn 5)')",
                "You gave the seconds as a viscosity. Each cup has its own equation: use it.",
            ),
        ],
        SUPPLIER
    ),
    to_seconds!(
        "zahn_5_seconds",
        ZAHN_5,
        "Zahn 5",
        "'1 s (Zahn 5)' * (viscosity / '23 mm²/s')",
        &[
            turn(
                "other_cup",
                "'1 s (Zahn 5)' * (viscosity / '14.8 mm²/s' + 5)",
                "You used the equation of the Zahn 4 cup. The Zahn 5 cup has its own, without an offset.",
            ),
            turn(
                "viscosity_as_seconds",
                "'1 s (Zahn 5)' * (viscosity / '1 mm²/s')",
                "You gave the viscosity as seconds. Divide by 23.",
            ),
        ],
        SUPPLIER
    ),
];

pub(super) const CALCULATIONS: &[&[Calculation]] = &[
    &straight!("zahn_1", "zahn_1_seconds", ZAHN_1, "Zahn 1", "1.1", "29", SUPPLIER),
    &straight!("zahn_2", "zahn_2_seconds", ZAHN_2, "Zahn 2", "3.5", "14", SUPPLIER),
    &straight!("zahn_3", "zahn_3_seconds", ZAHN_3, "Zahn 3", "11.7", "7.5", SUPPLIER),
    &straight!("zahn_4", "zahn_4_seconds", ZAHN_4, "Zahn 4", "14.8", "5", SUPPLIER),
    &ZAHN_5_ENTRIES,
    &straight!("shell_1", "shell_1_seconds", SHELL_1, "Shell 1", "0.226", "13", SUPPLIER),
    &straight!("shell_2", "shell_2_seconds", SHELL_2, "Shell 2", "0.576", "5", SUPPLIER),
    &straight!("shell_2_half", "shell_2_half_seconds", SHELL_2_HALF, "Shell 2½", "0.925", "3", SUPPLIER),
    &straight!("shell_3", "shell_3_seconds", SHELL_3, "Shell 3", "1.51", "2", SUPPLIER),
    &straight!("shell_3_half", "shell_3_half_seconds", SHELL_3_HALF, "Shell 3½", "2.17", "1.5", SUPPLIER),
    &straight!("shell_4", "shell_4_seconds", SHELL_4, "Shell 4", "3.45", "1", SUPPLIER),
    &straight!("shell_5", "shell_5_seconds", SHELL_5, "Shell 5", "6.5", "1", SUPPLIER),
    &straight!("shell_6", "shell_6_seconds", SHELL_6, "Shell 6", "16.2", "0.5", SUPPLIER),
    &straight!("ford_1", "ford_1_seconds", FORD_1, "Ford 1", "0.49", "35", FORD_TABLE),
    &straight!("ford_2", "ford_2_seconds", FORD_2, "Ford 2", "1.44", "18", FORD_TABLE),
    &straight!("ford_3", "ford_3_seconds", FORD_3, "Ford 3", "2.31", "6.58", FORD_CODE),
    &straight!("ford_4", "ford_4_seconds", FORD_4, "Ford 4", "3.85", "4.49", FORD_CODE),
    &straight!("ford_5", "ford_5_seconds", FORD_5, "Ford 5", "12.1", "2", FORD_CODE),
    &bent!("din_4", "din_4_seconds", DIN_4, "DIN 4 mm", "4.57", "452", "ISO 4 mm", "1.37", "200", DIN),
    &bent!("iso_3", "iso_3_seconds", ISO_3, "ISO 3 mm", "0.443", "200", "ISO 4 mm", "1.37", "200", ISO),
    &bent!("iso_4", "iso_4_seconds", ISO_4, "ISO 4 mm", "1.37", "200", "DIN 4 mm", "4.57", "452", ISO),
    &bent!("iso_5", "iso_5_seconds", ISO_5, "ISO 5 mm", "3.28", "220", "ISO 4 mm", "1.37", "200", ISO),
    &bent!("iso_6", "iso_6_seconds", ISO_6, "ISO 6 mm", "6.90", "570", "ISO 5 mm", "3.28", "220", ISO),
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const ALL: [FlowCup; 23] = [
        ZAHN_1,
        ZAHN_2,
        ZAHN_3,
        ZAHN_4,
        ZAHN_5,
        SHELL_1,
        SHELL_2,
        SHELL_2_HALF,
        SHELL_3,
        SHELL_3_HALF,
        SHELL_4,
        SHELL_5,
        SHELL_6,
        FORD_1,
        FORD_2,
        FORD_3,
        FORD_4,
        FORD_5,
        DIN_4,
        ISO_3,
        ISO_4,
        ISO_5,
        ISO_6,
    ];

    proptest! {
        #[test]
        fn seconds_of_a_viscosity_of_seconds_are_the_seconds(share in 0.0_f64..=1.0) {
            for cup in ALL {
                let seconds = cup.least_s + share * (cup.most_s - cup.least_s);
                prop_assert!((cup.seconds(cup.viscosity(seconds)) - seconds).abs() < 1e-9, "{cup:?}");
            }
        }

        #[test]
        fn a_slower_cup_means_a_thicker_ink(seconds in 1.0_f64..200.0, more in 0.1_f64..20.0) {
            for cup in ALL {
                prop_assert!(cup.viscosity(seconds + more) > cup.viscosity(seconds), "{cup:?}");
            }
        }
    }

    #[test]
    fn every_cup_gives_a_viscosity_at_both_ends_of_its_range() {
        for cup in ALL {
            assert!(cup.viscosity(cup.least_s) > 0.0, "{cup:?}");
        }
    }

    #[test]
    fn equal_orifices_do_not_make_equal_cups() {
        // DIN 4 mm and ISO 4 mm at 40 s: 171.5 and 49.8 mm²/s by their equations.
        assert!((DIN_4.viscosity(40.0) - 171.5e-6).abs() < 1e-12);
        assert!((ISO_4.viscosity(40.0) - 49.8e-6).abs() < 1e-12);
    }
}

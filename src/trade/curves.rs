//! Tone curves: what a plate's tone prints at, and which plate tone prints an aim.

use super::catalogue::{Calculation, Topic, five, outcome, parameter, series, turn, two};
use super::kind::KindOfQuantity;
use super::tone_curve::ToneCurve;

/// What a plate tone prints at, from measured steps, as a fraction.
///
/// `plate` is the tone on the plate, `plates` and `prints` the measured steps,
/// all fractions 0 to 1; not a number outside the steps or if they make no curve.
///
/// Source: monotone cubic interpolation as in [`ToneCurve`](super::tone_curve::ToneCurve).
///
/// ```
/// use gearside::trade::curves::printed_tone;
/// // Worked by hand: slopes 2 and 0.75 at the ends of the first half.
/// assert!((printed_tone(0.25, &[0.0, 0.5, 1.0], &[0.0, 0.75, 1.0]) - 0.453_125).abs() < 1e-12);
/// ```
#[must_use]
pub fn printed_tone(plate: f64, plates: &[f64], prints: &[f64]) -> f64 {
    ToneCurve::new(plates, prints).ok().and_then(|curve| curve.print_of(plate)).unwrap_or(f64::NAN)
}

/// Which plate tone prints at a wanted tone, from measured steps, as a fraction.
///
/// `wanted` is the printed tone, `plates` and `prints` the measured steps, all
/// fractions 0 to 1; not a number outside the steps, if they make no curve, or
/// if the printed tones do not rise.
///
/// Source: the inverse of [`printed_tone`]; ISO/TS 10128 names such curves as one
/// way to reach an aim.
///
/// ```
/// use gearside::trade::curves::plate_tone;
/// // Worked by hand forwards: 25 % on the plate prints at 45.3125 %.
/// assert!((plate_tone(0.453_125, &[0.0, 0.5, 1.0], &[0.0, 0.75, 1.0]) - 0.25).abs() < 1e-12);
/// ```
#[must_use]
pub fn plate_tone(wanted: f64, plates: &[f64], prints: &[f64]) -> f64 {
    let curve = ToneCurve::new(plates, prints).ok();
    curve.and_then(|curve| curve.plate_for(wanted).ok().flatten()).unwrap_or(f64::NAN)
}

/// The printed tone aimed at for a file tone, as a fraction.
///
/// `file` is the tone in the file (0 to 1), `increase` the tone value increase
/// wanted at 50 % as a fraction (0 to 0.25: beyond that the parabola passes
/// 100 % before the solid).
///
/// Source: usual parabola, A₀ + 4 g A₀ (1 − A₀).
///
/// ```
/// use gearside::trade::curves::aim_tone;
/// // 16 points at 50 %; 20 % then prints at 30.24 %.
/// assert!((aim_tone(0.2, 0.16) - 0.3024).abs() < 1e-12);
/// ```
#[must_use]
pub fn aim_tone(file: f64, increase: f64) -> f64 {
    file + 4.0 * increase * file * (1.0 - file)
}

/// How many points the plate must differ from the file to print the aim, as a
/// fraction; below 0 where the plate is made lighter.
///
/// Parameters as for [`aim_tone`] and [`plate_tone`].
///
/// Source: plate tone for the aim, less the file tone.
///
/// ```
/// use gearside::trade::curves::cutback;
/// // 50 % that is to print at 66 %, on a plate whose 50 % prints at 75 %.
/// let points = cutback(0.5, 0.16, &[0.0, 0.4, 0.5, 1.0], &[0.0, 0.66, 0.75, 1.0]);
/// assert!((points + 0.10).abs() < 1e-12);
/// ```
#[must_use]
pub fn cutback(file: f64, increase: f64, plates: &[f64], prints: &[f64]) -> f64 {
    plate_tone(aim_tone(file, increase), plates, prints) - file
}

/// A plate tone kept from falling below the least dot: nothing stays nothing,
/// all between becomes the least dot.
///
/// `plate` is the tone (0 to 1), `least` the least dot that the plate holds
/// (0 to 0.1).
///
/// Source: common practice: the curve above stays on aim, below it is flat.
///
/// ```
/// use gearside::trade::curves::held_dot;
/// // With a least dot of 4 %, 1.3 % becomes 4 %; 5 % and nothing stay.
/// assert!((held_dot(0.013, 0.04) - 0.04).abs() < 1e-12);
/// assert!((held_dot(0.05, 0.04) - 0.05).abs() < 1e-12 && held_dot(0.0, 0.04).abs() < 1e-12);
/// ```
#[must_use]
pub fn held_dot(plate: f64, least: f64) -> f64 {
    if plate <= 0.0 {
        0.0
    } else if plate < least {
        least
    } else {
        plate
    }
}

/// A plate tone lifted so that the scale begins at the least dot: order is kept,
/// but everything prints heavier.
///
/// `plate` and `least` as for [`held_dot`].
///
/// Source: common practice: b + (1 − b) p.
///
/// ```
/// use gearside::trade::curves::lifted_dot;
/// // 10 % with a least dot of 4 % becomes 13.6 %.
/// assert!((lifted_dot(0.10, 0.04) - 0.136).abs() < 1e-12);
/// ```
#[must_use]
pub fn lifted_dot(plate: f64, least: f64) -> f64 {
    if plate <= 0.0 { 0.0 } else { least + (1.0 - least) * plate }
}

/// A tone read on a straight line between two measured steps, as a fraction.
///
/// `at` is where to read (0 to 1), `lower` and `upper` the steps around it (lower
/// below upper), `lower_value` and `upper_value` what belongs to them.
///
/// Source: linear interpolation, what one does by hand.
///
/// ```
/// use gearside::trade::curves::tone_between;
/// // 40 % prints at 66 %, 50 % at 75 %: 44 % at 69.6 %.
/// assert!((tone_between(0.44, 0.40, 0.66, 0.50, 0.75) - 0.696).abs() < 1e-12);
/// ```
#[must_use]
pub fn tone_between(at: f64, lower: f64, lower_value: f64, upper: f64, upper_value: f64) -> f64 {
    lower_value + (at - lower) / (upper - lower) * (upper_value - lower_value)
}

/// One value and two series.
fn with_curve(values: &[&[f64]], function: fn(f64, &[f64], &[f64]) -> f64) -> f64 {
    if let [&[value], plates, prints] = *values { function(value, plates, prints) } else { f64::NAN }
}

const NO_CURVE: Option<&str> = Some(
    "the two series differ in length, hold fewer than two values or do not rise from step to step, \
     or the value lies outside them",
);
const MONOTONE: &str = "monotone cubic interpolation (Fritsch and Butland); values agree with scipy 1.17.1";

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "printed_tone",
        title: "Printed tone on a curve",
        topic: Topic::Curve,
        says: "What a plate tone prints at, on a curve through measured steps.",
        parameters: &[
            parameter("plate", "p", "tone on the plate", "%", 0.0, 100.0),
            series("plates", "P", "plate tones measured, rising", "%", 0.0, 100.0),
            series("prints", "A", "their printed tones", "%", 0.0, 100.0),
        ],
        outcome: outcome("A_p", "%", KindOfQuantity::ToneValue, 0.0, 100.0),
        compute: |a| with_curve(a, printed_tone),
        expansion: None,
        wrong_turns: &[
            turn("plate_itself", "plate", "You gave the plate tone. Read the curve: print is heavier than plate."),
            turn(
                "read_backwards",
                "plate_tone(plate, plates, prints)",
                "You read the curve from print to plate. Go in at the plate.",
            ),
        ],
        no_result_when: NO_CURVE,
        source: MONOTONE,
    },
    Calculation {
        name: "plate_tone",
        title: "Plate tone for a print",
        topic: Topic::Curve,
        says: "Which plate tone prints at a wanted tone, on a curve through measured steps.",
        parameters: &[
            parameter("wanted", "A_w", "printed tone wanted", "%", 0.0, 100.0),
            series("plates", "P", "plate tones measured, rising", "%", 0.0, 100.0),
            series("prints", "A", "their printed tones, rising", "%", 0.0, 100.0),
        ],
        outcome: outcome("p", "%", KindOfQuantity::ToneValue, 0.0, 100.0),
        compute: |a| with_curve(a, plate_tone),
        expansion: None,
        wrong_turns: &[
            turn(
                "read_forwards",
                "printed_tone(wanted, plates, prints)",
                "You read the curve from plate to print. Go in at the print and read back to the plate.",
            ),
            turn(
                "excess_taken_off",
                "wanted - (printed_tone(wanted, plates, prints) - wanted)",
                "You took the excess at this tone off. The plate prints another excess there: read the curve back.",
            ),
        ],
        no_result_when: NO_CURVE,
        source: MONOTONE,
    },
    Calculation {
        name: "aim_tone",
        title: "Tone aimed at",
        topic: Topic::Curve,
        says: "What a file tone should print at, for a wanted increase at 50 %.",
        parameters: &[
            parameter("file", "A_0", "tone in the file", "%", 0.0, 100.0),
            parameter("increase", "g", "tone value increase wanted at 50 %", "points", 0.0, 25.0),
        ],
        outcome: outcome("A_w", "%", KindOfQuantity::ToneValue, 0.0, 100.0),
        compute: |a| two(a, aim_tone),
        expansion: Some("file + 4 * increase * file * (1 - file)"),
        wrong_turns: &[
            turn(
                "same_everywhere",
                "file + increase",
                "You added the increase of 50 % as it is. It shrinks towards both ends.",
            ),
            turn(
                "four_forgotten",
                "file + increase * file * (1 - file)",
                "You left the 4 out. It makes the increase whole at 50 %.",
            ),
        ],
        no_result_when: None,
        source: "usual parabola, up to 25 points",
    },
    Calculation {
        name: "cutback",
        title: "Cutback",
        topic: Topic::Curve,
        says: "How many points a plate must differ from the file to print the aim.",
        parameters: &[
            parameter("file", "A_0", "tone in the file", "%", 0.0, 100.0),
            parameter("increase", "g", "tone value increase wanted at 50 %", "points", 0.0, 25.0),
            series("plates", "P", "plate tones measured, rising", "%", 0.0, 100.0),
            series("prints", "A", "their printed tones, rising", "%", 0.0, 100.0),
        ],
        outcome: outcome("Δ_p", "points", KindOfQuantity::ToneValue, -60.0, 40.0),
        compute: |a| {
            if let [&[file], &[increase], plates, prints] = *a {
                cutback(file, increase, plates, prints)
            } else {
                f64::NAN
            }
        },
        expansion: Some("plate_tone(aim_tone(file, increase), plates, prints) - file"),
        wrong_turns: &[
            turn(
                "excess_at_the_file_tone",
                "aim_tone(file, increase) - printed_tone(file, plates, prints)",
                "You took the excess in print off the plate. Read the curve back from the aim to the plate.",
            ),
            turn(
                "linear_aim",
                "plate_tone(file, plates, prints) - file",
                "You aimed at a print without any increase. Aim at the file tone plus the increase wanted.",
            ),
            turn(
                "plate_given",
                "plate_tone(aim_tone(file, increase), plates, prints)",
                "You gave the plate tone. The cutback is its difference from the file.",
            ),
        ],
        no_result_when: NO_CURVE,
        source: "inverse of the measured curve at the aim; ISO/TS 10128 names curve matching as one way to an aim",
    },
    Calculation {
        name: "held_dot",
        title: "Plate tone with a least dot held",
        topic: Topic::Curve,
        says: "What a plate tone becomes where smaller dots than the least are made that large.",
        parameters: &[
            parameter("plate", "p", "tone the curve asks for", "%", 0.0, 100.0),
            parameter("least", "b", "least dot the plate holds", "%", 0.0, 10.0),
        ],
        outcome: outcome("p_b", "%", KindOfQuantity::ToneValue, 0.0, 100.0),
        compute: |a| two(a, held_dot),
        expansion: Some("if(plate <= 0, 0, max(plate, least))"),
        wrong_turns: &[
            turn("added", "plate + least", "You added the least dot. Only what falls below it is made that large."),
            turn("least_dot_forgotten", "plate", "You kept a dot that the plate does not hold. Make it the least dot."),
        ],
        no_result_when: None,
        source: "common practice, no source",
    },
    Calculation {
        name: "lifted_dot",
        title: "Plate tone with the scale lifted",
        topic: Topic::Curve,
        says: "What a plate tone becomes where the whole scale begins at the least dot.",
        parameters: &[
            parameter("plate", "p", "tone the curve asks for", "%", 0.0, 100.0),
            parameter("least", "b", "least dot the plate holds", "%", 0.0, 10.0),
        ],
        outcome: outcome("p_b", "%", KindOfQuantity::ToneValue, 0.0, 100.0),
        compute: |a| two(a, lifted_dot),
        expansion: Some("if(plate <= 0, 0, least + (1 - least) * plate)"),
        wrong_turns: &[
            turn(
                "added",
                "plate + least",
                "You added the least dot. Then the solid would pass 100 %: shrink the scale as well.",
            ),
            turn(
                "held_instead",
                "if(plate <= 0, 0, max(plate, least))",
                "You only held the small dots. Here the whole scale is lifted.",
            ),
        ],
        no_result_when: None,
        source: "common practice, no source",
    },
    Calculation {
        name: "tone_between",
        title: "Tone between two steps",
        topic: Topic::Curve,
        says: "What belongs to a tone between two measured steps, on a straight line.",
        parameters: &[
            parameter("at", "A", "tone to read at", "%", 0.0, 100.0),
            parameter("lower", "A_1", "step below it", "%", 0.0, 100.0),
            parameter("lower_value", "B_1", "what belongs to that step", "%", 0.0, 100.0),
            parameter("upper", "A_2", "step above it", "%", 0.0, 100.0),
            parameter("upper_value", "B_2", "what belongs to that step", "%", 0.0, 100.0),
        ],
        outcome: outcome("B", "%", KindOfQuantity::ToneValue, 0.0, 100.0),
        compute: |a| five(a, tone_between),
        expansion: Some("lower_value + (at - lower) / (upper - lower) * (upper_value - lower_value)"),
        wrong_turns: &[
            turn(
                "middle_taken",
                "(lower_value + upper_value) / 2",
                "You took the middle of both steps. Go as far along as the tone lies between them.",
            ),
            turn(
                "from_the_upper_step",
                "upper_value - (at - lower) / (upper - lower) * (upper_value - lower_value)",
                "You counted the way from the upper step. Start at the lower one.",
            ),
            turn(
                "difference_in_points",
                "lower_value + (at - lower)",
                "You added the points on the plate. Scale them by how steep the print is between the steps.",
            ),
        ],
        no_result_when: Some("the two steps are the same"),
        source: "linear interpolation",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::tone_curve::{CurveFault, segment};
    use super::*;

    /// Steps that rise, from 0 to 1.
    fn steps(parts: &[f64]) -> Vec<f64> {
        let total: f64 = parts.iter().sum();
        let mut at = 0.0;
        let mut list = vec![0.0];
        for part in parts {
            at += part / total;
            list.push(at);
        }
        list
    }

    proptest! {
        #[test]
        fn a_curve_rises_with_its_steps_and_stays_between_them(
            parts in prop::collection::vec((0.02_f64..1.0, 0.02_f64..1.0), 2..12),
            share in 0.0_f64..1.0,
        ) {
            let (plates, prints): (Vec<f64>, Vec<f64>) = parts.into_iter().unzip();
            let (plates, prints) = (steps(&plates), steps(&prints));
            let plate = share * plates[plates.len() - 1];
            let print = printed_tone(plate, &plates, &prints);
            let segment = segment(&plates, plate).unwrap_or_default();
            prop_assert!(print >= prints[segment] - 1e-12 && print <= prints[segment + 1] + 1e-12);
            prop_assert!(printed_tone((plate + 1e-6).min(1.0), &plates, &prints) >= print - 1e-12);
        }

        #[test]
        fn a_plate_made_for_a_print_prints_it(
            parts in prop::collection::vec((0.02_f64..1.0, 0.02_f64..1.0), 1..12),
            wanted in 0.0_f64..0.999,
        ) {
            let (plates, prints): (Vec<f64>, Vec<f64>) = parts.into_iter().unzip();
            let (plates, prints) = (steps(&plates), steps(&prints));
            let plate = plate_tone(wanted, &plates, &prints);
            prop_assert!((printed_tone(plate, &plates, &prints) - wanted).abs() < 1e-12, "{plate}");
        }

        #[test]
        fn two_steps_make_a_straight_line(at in 0.0_f64..1.0, low in 0.0_f64..0.4, high in 0.5_f64..1.0) {
            let straight = tone_between(at, 0.0, low, 1.0, high);
            prop_assert!((printed_tone(at, &[0.0, 1.0], &[low, high]) - straight).abs() < 1e-12);
        }
    }

    #[test]
    fn steps_that_make_no_curve_are_told_apart() {
        let fault = |plates: &[f64], prints: &[f64]| ToneCurve::new(plates, prints).err();
        assert_eq!(fault(&[0.0], &[0.0]), Some(CurveFault::TooFew));
        assert_eq!(fault(&[0.0, 0.0], &[0.0, 1.0]), Some(CurveFault::PlatesDoNotRise));
        assert_eq!(fault(&[0.0, f64::NAN], &[0.0, 1.0]), Some(CurveFault::PlatesDoNotRise));
        assert_eq!(fault(&[0.0, 1.0], &[0.0, f64::INFINITY]), Some(CurveFault::PlatesDoNotRise));
        let flat = ToneCurve::new(&[0.0, 0.95, 1.0], &[0.0, 1.006, 1.0]).map(|curve| curve.plate_for(0.5));
        assert_eq!(flat.ok(), Some(Err(CurveFault::PrintsDoNotRise)));
    }

    #[test]
    fn outside_the_steps_there_is_no_print() {
        for plate in [-0.01, 1.01, f64::NAN] {
            assert!(printed_tone(plate, &[0.0, 1.0], &[0.0, 1.0]).is_nan(), "{plate}");
        }
    }
}

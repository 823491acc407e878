//! What moves register between decks, how errors build up, and how much overlap
//! two colours then need.

use std::f64::consts::PI;

use crate::ground::whole_below;

use super::catalogue::{Calculation, Topic, five, one, outcome, parameter, turn, two};
use super::kind::KindOfQuantity;

/// How far a deck stands behind whole repeats, as an angle in radians.
///
/// `span_m` is the length of web between two decks in metres (1 to 1000 in; on
/// a central drum the length of arc), `repeat_m` the repeat in metres (2 to 200
/// in). From 0 up to a full turn; a span a hair from whole repeats counts as
/// whole.
///
/// Source: derived: what is left of the span after whole repeats, in turns.
///
/// ```
/// use gearside::trade::misregister::span_phase;
/// // 36 in are three repeats of 12 in; 40 in are a third of a turn more.
/// assert!(span_phase(36.0, 12.0).abs() < 1e-12);
/// assert!((span_phase(40.0, 12.0).to_degrees() - 120.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn span_phase(span_m: f64, repeat_m: f64) -> f64 {
    let repeats = span_m / repeat_m;
    2.0 * PI * (repeats - whole_below(repeats))
}

/// How far the print moves from deck to deck when tension changes, in metres.
///
/// `span_m` is the length of web between the decks in metres (1 to 1000 in),
/// `change_n` the change of tension in newtons (-100 to 100 lbf), `modulus_pa`
/// the web's modulus of elasticity in Pa (5 to 10,000 kpsi), `width_m` and
/// `gauge_m` its width and thickness in metres (0.5 to 120 in, 0.2 to 30 mil).
///
/// Source: derived from Hooke's law: the strain of the change times the span.
///
/// ```
/// use gearside::trade::misregister::strain_shift;
/// // 48 in of polyester, 1 mil by 13 in at 600 kpsi, 2 lbf more: 0.012 307 7 in.
/// let (inch, lbf, kpsi) = (0.0254, 4.448_222, 6.894_757e6);
/// let shift = strain_shift(48.0 * inch, 2.0 * lbf, 600.0 * kpsi, 13.0 * inch, 0.001 * inch);
/// assert!((shift / inch - 0.012_307_7).abs() < 5e-8);
/// ```
#[must_use]
pub fn strain_shift(span_m: f64, change_n: f64, modulus_pa: f64, width_m: f64, gauge_m: f64) -> f64 {
    span_m * change_n / (modulus_pa * width_m * gauge_m)
}

/// How far the print moves from deck to deck when the draw changes, in metres.
///
/// `span_m` is the length of web between the decks in metres (1 to 1000 in),
/// `change` the change of speed of the one against the other as a fraction (-2
/// to 2 %).
///
/// Source: derived, once the web has settled.
///
/// ```
/// use gearside::trade::misregister::draw_shift;
/// // 0.05 % over 1200 mm: 0.6 mm.
/// assert!((draw_shift(1.2, 0.000_5) - 0.6e-3).abs() < 1e-15);
/// ```
#[must_use]
pub fn draw_shift(span_m: f64, change: f64) -> f64 {
    span_m * change
}

/// How far a print runs away from a die that is not geared to it, in metres.
///
/// `error_m` is how much the repeat of the print is longer than that of the die
/// in metres (-0.25 to 0.25 in), `impressions` how many have run since they
/// agreed (1 to 100,000). On geared stations nothing builds up.
///
/// Source: derived: the error comes once with each impression.
///
/// ```
/// use gearside::trade::misregister::die_drift;
/// // 0.002 in long, 500 impressions: 1 in.
/// assert!((die_drift(0.002, 500.0) - 1.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn die_drift(error_m: f64, impressions: f64) -> f64 {
    error_m * impressions
}

/// Overlap that two colours need at worst, in metres.
///
/// `error_m` is how far each of them may be off to either side in metres (0 to
/// 50 mil).
///
/// Source: derived: both off, in opposite ways.
///
/// ```
/// use gearside::trade::misregister::worst_overlap;
/// // ±0.004 in each: 0.008 in.
/// assert!((worst_overlap(0.004) - 0.008).abs() < 1e-15);
/// ```
#[must_use]
pub fn worst_overlap(error_m: f64) -> f64 {
    2.0 * error_m
}

/// Overlap that two colours are likely to need, in metres.
///
/// `error_m` as for [`worst_overlap`]; the two must be independent.
///
/// Source: derived: root of the sum of the two squares.
///
/// ```
/// use gearside::trade::misregister::likely_overlap;
/// // ±0.004 in each: 0.005 656 85 in.
/// assert!((likely_overlap(0.004) - 0.005_656_85).abs() < 5e-9);
/// ```
#[must_use]
pub fn likely_overlap(error_m: f64) -> f64 {
    libm::sqrt(2.0) * error_m
}

/// Length by which a print is smeared along the web in the nip, in metres.
///
/// `nip_m` is the length along the web on which plate and web touch in metres
/// (0.005 to 2 in), `difference` how much faster the surface of the plate is
/// than the web as a fraction (-2 to 2 %).
///
/// Source: derived: while a place passes the nip the surfaces part by their
/// difference in speed. What the plate creeps by comes on top.
///
/// ```
/// use gearside::trade::misregister::slur_length;
/// // 0.2 in of nip at 0.5 %: 0.001 in.
/// assert!((slur_length(0.2, 0.005) - 0.001).abs() < 1e-15);
/// ```
#[must_use]
pub fn slur_length(nip_m: f64, difference: f64) -> f64 {
    nip_m * difference
}

const PERCENT: &str = "You used the percent as a plain number. 1 % is 0.01.";

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "span_phase",
        title: "Phase of a span",
        topic: Topic::Register,
        says: "How far round a deck stands behind whole repeats of the web before it.",
        parameters: &[
            parameter("span", "L", "length of web between the decks", "in", 1.0, 1000.0),
            parameter("repeat", "R", "repeat", "in", 2.0, 200.0),
        ],
        outcome: outcome("φ", "°", KindOfQuantity::Amount, 0.0, 360.0),
        compute: |a| two(a, span_phase),
        expansion: Some("'360 °' * (span / repeat - floor(span / repeat))"),
        wrong_turns: &[
            turn(
                "whole_repeats_kept",
                "'360 °' * span / repeat",
                "You kept the whole repeats. They change nothing: only the fraction beyond them counts.",
            ),
            turn(
                "short_of_the_next",
                "'360 °' * (floor(span / repeat) + 1 - span / repeat)",
                "You counted what is short of the next whole repeat. Count what is beyond the last one.",
            ),
            turn(
                "turns_as_degrees",
                "'1 °' * (span / repeat - floor(span / repeat))",
                "You gave turns as degrees. A full turn is 360°.",
            ),
        ],
        no_result_when: None,
        source: "derived: what is left of the span after whole repeats",
    },
    Calculation {
        name: "strain_shift",
        title: "Shift by a change of tension",
        topic: Topic::Register,
        says: "How far a print moves from deck to deck when the web's tension changes.",
        parameters: &[
            parameter("span", "L", "length of web between the decks", "in", 1.0, 1000.0),
            parameter("change", "Δ_T", "change of the total tension", "lbf", -100.0, 100.0),
            parameter("modulus", "E", "modulus of elasticity of the web", "kpsi", 5.0, 10_000.0),
            parameter("width", "w", "width of the web", "in", 0.5, 120.0),
            parameter("gauge", "t", "gauge of the web", "mil", 0.2, 30.0),
        ],
        outcome: outcome("Δ_L", "in", KindOfQuantity::Amount, -5.0, 5.0),
        compute: |a| five(a, strain_shift),
        expansion: Some("span * change / (modulus * width * gauge)"),
        wrong_turns: &[
            turn(
                "width_forgotten",
                "span * change / (modulus * '1 in' * gauge)",
                "You left the width out. All of it shares the change of tension: divide by it.",
            ),
            turn(
                "span_forgotten",
                "'1 in' * change / (modulus * width * gauge)",
                "You gave the stretch of one inch. All of the span stretches: multiply by it.",
            ),
            turn(
                "kpsi_as_psi",
                "span * change / (modulus * width * gauge) * 1000",
                "You took kpsi for psi. 1 kpsi is 1000 psi.",
            ),
        ],
        no_result_when: None,
        source: "derived from Hooke's law: the strain of the change times the span",
    },
    Calculation {
        name: "draw_shift",
        title: "Shift by a change of draw",
        topic: Topic::Register,
        says: "How far a print moves from deck to deck when one of them runs faster or slower.",
        parameters: &[
            parameter("span", "L", "length of web between the decks", "in", 1.0, 1000.0),
            parameter("change", "δ", "change of speed", "%", -2.0, 2.0),
        ],
        outcome: outcome("Δ_L", "in", KindOfQuantity::Amount, -20.0, 20.0),
        compute: |a| two(a, draw_shift),
        expansion: Some("span * change"),
        wrong_turns: &[
            turn("percent_as_number", "span * change * 100", PERCENT),
            turn(
                "new_length",
                "span * (1 + change)",
                "You gave the new length of the span. Asked is how much it changes.",
            ),
            turn(
                "divided_by_the_change",
                "'1 in' * bare(span, 'in') / bare(change, '%')",
                "You divided by the change. Each inch of the span changes by that share: multiply.",
            ),
        ],
        no_result_when: None,
        source: "derived, once the web has settled",
    },
    Calculation {
        name: "die_drift",
        title: "Drift against a die",
        topic: Topic::Register,
        says: "How far a print has run away from a die that is not geared to it.",
        parameters: &[
            parameter("error", "e", "repeat of the print less that of the die", "in", -0.25, 0.25),
            parameter("impressions", "n", "impressions since they agreed", "impressions", 1.0, 100_000.0),
        ],
        outcome: outcome("d", "in", KindOfQuantity::PressLength, -500.0, 500.0),
        compute: |a| two(a, die_drift),
        expansion: Some("error * impressions"),
        wrong_turns: &[
            turn(
                "one_impression_only",
                "error",
                "You gave the error of one impression. Against a die that is not geared it builds up with each.",
            ),
            turn(
                "shared_out",
                "error / impressions",
                "You shared the error out over the impressions. It comes anew with each: multiply.",
            ),
        ],
        no_result_when: None,
        source: "derived: the error comes once with each impression",
    },
    Calculation {
        name: "worst_overlap",
        title: "Overlap at worst",
        topic: Topic::Register,
        says: "What overlap two colours need so that no gap shows when both are off the most.",
        parameters: &[parameter("error", "e", "how far each may be off to either side", "mil", 0.0, 50.0)],
        outcome: outcome("o_w", "mil", KindOfQuantity::Amount, 0.0, 100.0),
        compute: |a| one(a, worst_overlap),
        expansion: Some("2 * error"),
        wrong_turns: &[
            turn("one_colour_only", "error", "You allowed for one colour. Both may be off, in opposite ways."),
            turn("likely_one", "sqrt(2) * error", "You gave the likely overlap. At worst the two errors add up."),
            turn(
                "both_sides_of_both",
                "4 * error",
                "You counted both sides of both colours. A gap opens on one side only: twice the error.",
            ),
        ],
        no_result_when: None,
        source: "derived: both off, in opposite ways",
    },
    Calculation {
        name: "likely_overlap",
        title: "Overlap as is likely",
        topic: Topic::Register,
        says: "What overlap two colours are likely to need when their errors are independent.",
        parameters: &[parameter("error", "e", "how far each may be off to either side", "mil", 0.0, 50.0)],
        outcome: outcome("o_l", "mil", KindOfQuantity::Amount, 0.0, 100.0),
        compute: |a| one(a, likely_overlap),
        expansion: Some("sqrt(2) * error"),
        wrong_turns: &[
            turn(
                "worst_one",
                "2 * error",
                "You added the two errors. That is the worst case; independent errors go by the root of their squares.",
            ),
            turn(
                "one_colour_only",
                "error",
                "You allowed for one colour. Both may be off: multiply by the root of two.",
            ),
            turn(
                "divided_by_the_root",
                "error / sqrt(2)",
                "You divided by the root of two. Two errors make more than one: multiply.",
            ),
        ],
        no_result_when: None,
        source: "derived: root of the sum of the two squares",
    },
    Calculation {
        name: "slur_length",
        title: "Length of a slur",
        topic: Topic::Register,
        says: "How far a print smears along the web when plate and web differ in speed.",
        parameters: &[
            parameter("nip", "b", "length along the web on which they touch", "in", 0.005, 2.0),
            parameter("difference", "δ", "difference of speed", "%", -2.0, 2.0),
        ],
        outcome: outcome("s", "in", KindOfQuantity::Amount, -0.05, 0.05),
        compute: |a| two(a, slur_length),
        expansion: Some("nip * difference"),
        wrong_turns: &[
            turn("percent_as_number", "nip * difference * 100", PERCENT),
            turn("whole_nip", "nip", "You gave the nip. Only the difference of speed smears: its share of the nip."),
        ],
        no_result_when: None,
        source: "derived: while a place passes the nip the surfaces part by their difference in speed",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::tension::web_strain;
    use super::*;

    #[test]
    fn whole_repeats_have_no_phase_although_the_machine_is_a_hair_off() {
        for (span, repeat) in [(3.6, 1.2), (0.3, 0.1), (0.9144, 0.3048), (48.0 * 0.0254, 12.0 * 0.0254)] {
            assert!(span_phase(span, repeat).abs() < 1e-12, "{span} in repeats of {repeat}");
        }
    }

    proptest! {
        #[test]
        fn whole_repeats_more_change_no_phase(repeat in 0.05_f64..1.0, share in 0.01_f64..0.99, more in 0_i32..20) {
            let (short, long) = (share * repeat, (f64::from(more) + share) * repeat);
            prop_assert!((span_phase(long, repeat) - span_phase(short, repeat)).abs() < 1e-9);
            prop_assert!((span_phase(short, repeat) - 2.0 * PI * share).abs() < 1e-9);
        }

        #[test]
        fn the_shift_is_the_strain_of_the_change_over_the_span(
            span in 0.1_f64..10.0, change in -300.0_f64..300.0, modulus in 1e8_f64..7e10, width in 0.05_f64..3.0, gauge in 5e-6_f64..7e-4
        ) {
            let shift = strain_shift(span, change, modulus, width, gauge);
            let strain = web_strain(change / width, gauge, modulus);
            prop_assert!((draw_shift(span, strain) - shift).abs() <= 1e-9 * shift.abs());
        }

        #[test]
        fn the_likely_overlap_is_between_one_error_and_the_worst(error in 1e-6_f64..1e-3) {
            let likely = likely_overlap(error);
            prop_assert!(error < likely && likely < worst_overlap(error));
            prop_assert!((likely * likely - error * worst_overlap(error)).abs() < 1e-12 * error);
        }
    }
}

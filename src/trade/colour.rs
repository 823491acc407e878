//! CIELAB colour, hue, spot colour tone value and grey balance.
//!
//! CIELAB here is that of light D50 and the 2° observer with the white 96.422,
//! 100, 82.521 (ISO 13655); another triplet in use, 96.42, 100, 82.49, moves b*
//! by 0.014. XYZ are on the scale where a perfect white has Y = 100.
//!
//! Colour crates were looked at and not taken: what is needed of them is a dozen
//! lines here, and these agree with colour-science to 1e-9 on ten thousand
//! random colours (see also [`colour_difference`](super::colour_difference)).

use super::catalogue::{Calculation, Topic, five, four, numbers, one, outcome, parameter, turn, two};
use super::kind::KindOfQuantity;

/// The white of light D50 and the 2° observer: X, Y, Z.
const WHITE: [f64; 3] = [96.422, 100.0, 82.521];

/// The eye's scale of one tristimulus value: a cube root, with a straight piece
/// near black.
fn scale(value: f64, white: f64) -> f64 {
    let share = value / white;
    if share > 216.0 / 24_389.0 { libm::cbrt(share) } else { share * 841.0 / 108.0 + 4.0 / 29.0 }
}

/// CIELAB lightness L*, 0 to 100.
///
/// `y` is the tristimulus value Y (0 to 100).
///
/// Source: ISO/CIE 11664-4.
///
/// ```
/// use gearside::trade::colour::lab_lightness;
/// // colour-science 0.4.7 gives 56.9876 for Y = 24.91.
/// assert!((lab_lightness(24.91) - 56.9876).abs() < 5e-5);
/// ```
#[must_use]
pub fn lab_lightness(y: f64) -> f64 {
    116.0 * scale(y, WHITE[1]) - 16.0
}

/// CIELAB a*: towards red above 0, towards green below.
///
/// `x` and `y` are the tristimulus values X and Y (0 to 100).
///
/// Source: ISO/CIE 11664-4, white of light D50 and the 2° observer.
///
/// ```
/// use gearside::trade::colour::lab_a;
/// // colour-science 0.4.7 gives −37.2350 for X = 16.46, Y = 24.91.
/// assert!((lab_a(16.46, 24.91) + 37.2350).abs() < 5e-5);
/// ```
#[must_use]
pub fn lab_a(x: f64, y: f64) -> f64 {
    500.0 * (scale(x, WHITE[0]) - scale(y, WHITE[1]))
}

/// CIELAB b*: towards yellow above 0, towards blue below.
///
/// `y` and `z` are the tristimulus values Y and Z (0 to 100).
///
/// Source: ISO/CIE 11664-4, white of light D50 and the 2° observer.
///
/// ```
/// use gearside::trade::colour::lab_b;
/// // colour-science 0.4.7 gives −44.9515 for Y = 24.91, Z = 51.39.
/// assert!((lab_b(24.91, 51.39) + 44.9515).abs() < 5e-5);
/// ```
#[must_use]
pub fn lab_b(y: f64, z: f64) -> f64 {
    200.0 * (scale(y, WHITE[1]) - scale(z, WHITE[2]))
}

/// Chroma C*: how far a colour stands off grey.
///
/// `a` and `b` are its a* and b* (−128 to 128).
///
/// Source: ISO/CIE 11664-4.
///
/// ```
/// use gearside::trade::colour::chroma;
/// // coloraide 8.13.1 gives 62.201 for a* −37, b* −50.
/// assert!((chroma(-37.0, -50.0) - 62.201).abs() < 5e-4);
/// ```
#[must_use]
pub fn chroma(a: f64, b: f64) -> f64 {
    libm::sqrt(a * a + b * b)
}

/// Hue angle h, in radians from 0 up to a full turn.
///
/// `a` and `b` are its a* and b* (−128 to 128); a neutral colour has no hue and
/// gives not a number.
///
/// Source: ISO/CIE 11664-4.
///
/// ```
/// use gearside::trade::colour::hue_angle;
/// // coloraide 8.13.1 gives 233.499° for a* −37, b* −50: the third quarter.
/// assert!((hue_angle(-37.0, -50.0).to_degrees() - 233.499).abs() < 5e-4);
/// ```
#[must_use]
pub fn hue_angle(a: f64, b: f64) -> f64 {
    let angle = libm::atan2(b, a);
    if chroma(a, b) <= 0.0 {
        f64::NAN
    } else if angle < 0.0 {
        // A hair below 0 would round to the full turn itself.
        let turned = angle + std::f64::consts::TAU;
        if turned < std::f64::consts::TAU { turned } else { 0.0 }
    } else {
        angle
    }
}

/// Difference of two hue angles the short way round, in radians, from −180° up
/// to below 180°.
///
/// `hue` and `aim` are hue angles in radians (0 to 360°).
///
/// Source: ((h − aim + 180°) mod 360°) − 180°.
///
/// ```
/// use gearside::trade::colour::hue_difference;
/// // 1.59° is 4.59° past 357°, not 355.41° before it.
/// let difference = hue_difference(1.59_f64.to_radians(), 357_f64.to_radians());
/// assert!((difference.to_degrees() - 4.59).abs() < 1e-9);
/// ```
#[must_use]
pub fn hue_difference(hue: f64, aim: f64) -> f64 {
    let (half, whole) = (std::f64::consts::PI, std::f64::consts::TAU);
    let apart = hue - aim;
    apart - whole * libm::floor((apart + half) / whole)
}

/// Spot colour tone value, as a fraction.
///
/// `paper`, `solid` and `tint` are XYZ on the scale where white has Y = 100
/// (0 to 100 each).
///
/// Source: ISO 20654:2017; the formula as coded in an open-source class and as
/// remembered, the standard's own text not seen. The distance from paper to
/// tint over that from paper to solid, in V = 116 f(Q / Qₙ) − 16 for each of XYZ.
///
/// ```
/// use gearside::trade::colour::spot_tone_value;
/// // A blue spot colour, computed in two ways outside: 49.803 %.
/// let share = spot_tone_value([84.0, 87.2, 71.5], [9.8, 7.9, 33.5], [33.1, 33.6, 54.9]);
/// assert!((share - 0.498_03).abs() < 2e-5);
/// ```
#[must_use]
pub fn spot_tone_value(paper: [f64; 3], solid: [f64; 3], tint: [f64; 3]) -> f64 {
    let distance = |to: [f64; 3]| {
        let axes = WHITE.iter().zip(paper).zip(to);
        let apart = axes.map(|((white, from), to)| scale(to, *white) - scale(from, *white));
        apart.fold(0.0, |sum, apart| sum + apart * apart)
    };
    libm::sqrt(distance(tint) / distance(solid))
}

/// The a* or b* that a grey should have on its stock.
///
/// `paper` is the stock's own a* or b* (−20 to 20), `share` how much of it is
/// lost down to the darkest grey (0.85 is common practice, from memory),
/// `paper_lightness` the stock's L*, `darkest` the L* of the three inks' solids
/// over each other, `lightness` that of the grey.
///
/// Source: a straight line from paper towards neutral, as in ISO 12647-2:2013
/// for grey; the share from memory.
///
/// ```
/// use gearside::trade::colour::grey_aim;
/// // Paper a* −0.70, L* 92.37; darkest 23.10; a grey of L* 83.42: −0.62.
/// assert!((grey_aim(-0.70, 0.85, 92.37, 23.10, 83.42) + 0.62).abs() < 5e-3);
/// ```
#[must_use]
pub fn grey_aim(paper: f64, share: f64, paper_lightness: f64, darkest: f64, lightness: f64) -> f64 {
    paper * (1.0 - share * (paper_lightness - lightness) / (paper_lightness - darkest))
}

/// How far a grey is off its aim, in a* and b*.
///
/// `a`, `b` are those of the print, `aim_a`, `aim_b` those aimed at (−60 to 60).
///
/// Source: distance in the plane of a* and b*.
///
/// ```
/// use gearside::trade::colour::grey_deviation;
/// // A grey at −1.05, 1.02 with the aim −0.45, 0.97: 0.60.
/// assert!((grey_deviation(-1.05, 1.02, -0.45, 0.97) - 0.60).abs() < 5e-3);
/// ```
#[must_use]
pub fn grey_deviation(a: f64, b: f64, aim_a: f64, aim_b: f64) -> f64 {
    chroma(a - aim_a, b - aim_b)
}

const CIELAB: &str = "ISO/CIE 11664-4 with light D50 and the 2° observer (white 96.422, 100, 82.521)";

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "lab_lightness",
        title: "Lightness L*",
        topic: Topic::Colour,
        says: "How light a colour is, from its tristimulus value Y.",
        parameters: &[parameter("y", "Y", "tristimulus value Y", "", 0.0, 100.0)],
        outcome: outcome("L", "", KindOfQuantity::ColourDifference, 0.0, 100.0),
        compute: |a| one(a, lab_lightness),
        expansion: Some("116 * if(y / 100 > 216 / 24389, (y / 100) ^ (1 / 3), 841 / 108 * (y / 100) + 4 / 29) - 16"),
        wrong_turns: &[
            turn("y_itself", "y", "You gave Y. Lightness goes by its cube root: 116 times that, less 16."),
            turn("sixteen_forgotten", "116 * (y / 100) ^ (1 / 3)", "You left the 16 out. Take it off at the end."),
        ],
        no_result_when: None,
        source: CIELAB,
    },
    Calculation {
        name: "lab_a",
        title: "Colour value a*",
        topic: Topic::Colour,
        says: "How far a colour leans to red, or to green below 0.",
        parameters: &[
            parameter("x", "X", "tristimulus value X", "", 0.0, 100.0),
            parameter("y", "Y", "tristimulus value Y", "", 0.0, 100.0),
        ],
        outcome: outcome("a", "", KindOfQuantity::ColourDifference, -500.0, 500.0),
        compute: |a| two(a, lab_a),
        expansion: None,
        wrong_turns: &[
            turn("sign_turned", "-lab_a(x, y)", "You subtracted the wrong way round. Take the Y term off the X term."),
            turn(
                "white_forgotten",
                "500 * ((x / 100) ^ (1 / 3) - (y / 100) ^ (1 / 3))",
                "You divided X by 100. Divide it by the X of the white, 96.422.",
            ),
        ],
        no_result_when: None,
        source: CIELAB,
    },
    Calculation {
        name: "lab_b",
        title: "Colour value b*",
        topic: Topic::Colour,
        says: "How far a colour leans to yellow, or to blue below 0.",
        parameters: &[
            parameter("y", "Y", "tristimulus value Y", "", 0.0, 100.0),
            parameter("z", "Z", "tristimulus value Z", "", 0.0, 100.0),
        ],
        outcome: outcome("b", "", KindOfQuantity::ColourDifference, -250.0, 250.0),
        compute: |a| two(a, lab_b),
        expansion: None,
        wrong_turns: &[
            turn("sign_turned", "-lab_b(y, z)", "You subtracted the wrong way round. Take the Z term off the Y term."),
            turn(
                "white_forgotten",
                "200 * ((y / 100) ^ (1 / 3) - (z / 100) ^ (1 / 3))",
                "You divided Z by 100. Divide it by the Z of the white, 82.521.",
            ),
        ],
        no_result_when: None,
        source: CIELAB,
    },
    Calculation {
        name: "chroma",
        title: "Chroma C*",
        topic: Topic::Colour,
        says: "How far a colour stands off grey.",
        parameters: &[
            parameter("a", "a", "colour value a*", "", -128.0, 128.0),
            parameter("b", "b", "colour value b*", "", -128.0, 128.0),
        ],
        outcome: outcome("C", "", KindOfQuantity::ColourDifference, 0.0, 182.0),
        compute: |a| two(a, chroma),
        expansion: Some("sqrt(a ^ 2 + b ^ 2)"),
        wrong_turns: &[
            turn(
                "added",
                "abs(a) + abs(b)",
                "You added the two. They stand at right angles: add the squares and take the root.",
            ),
            turn("root_forgotten", "a ^ 2 + b ^ 2", "You left the root out."),
        ],
        no_result_when: None,
        source: "ISO/CIE 11664-4",
    },
    Calculation {
        name: "hue_angle",
        title: "Hue angle h",
        topic: Topic::Colour,
        says: "Which way a colour leans, counted from red over yellow, green and blue.",
        parameters: &[
            parameter("a", "a", "colour value a*", "", -128.0, 128.0),
            parameter("b", "b", "colour value b*", "", -128.0, 128.0),
        ],
        outcome: outcome("h", "°", KindOfQuantity::Amount, 0.0, 360.0),
        compute: |a| two(a, hue_angle),
        expansion: None,
        wrong_turns: &[
            turn(
                "quarter_lost",
                "hue_angle(a, b) - if(a < 0, '180 °', if(b < 0, '360 °', '0 °'))",
                "You took the angle of b over a as the calculator gives it. Add 180° where a* is below 0, 360° where only b* is.",
            ),
            turn("sides_swapped", "hue_angle(b, a)", "You swapped a* and b*. The angle begins at +a*."),
        ],
        no_result_when: Some("the colour is neutral: it has no hue"),
        source: "ISO/CIE 11664-4",
    },
    Calculation {
        name: "hue_difference",
        title: "Hue difference",
        topic: Topic::Colour,
        says: "How far a hue is off its aim, the short way round.",
        parameters: &[
            parameter("hue", "h", "hue angle measured", "°", 0.0, 360.0),
            parameter("aim", "h_0", "hue angle aimed at", "°", 0.0, 360.0),
        ],
        outcome: outcome("Δ_h", "°", KindOfQuantity::Amount, -180.0, 180.0),
        compute: |a| two(a, hue_difference),
        expansion: Some("hue - aim - '360 °' * floor((hue - aim + '180 °') / '360 °')"),
        wrong_turns: &[
            turn(
                "long_way_round",
                "hue - aim",
                "You went the long way round. Beyond 180° either way, take a full turn off or add one.",
            ),
            turn("sign_turned", "aim - hue", "You subtracted the wrong way round. Measured less aim."),
        ],
        no_result_when: None,
        source: "definition: ((h − aim + 180°) mod 360°) − 180°",
    },
    Calculation {
        name: "spot_tone_value",
        title: "Spot colour tone value",
        topic: Topic::Colour,
        says: "What tone value a tint of a spot colour has to the eye.",
        parameters: &[
            parameter("paper_x", "X_p", "X of the paper", "", 1.0, 100.0),
            parameter("paper_y", "Y_p", "Y of the paper", "", 1.0, 100.0),
            parameter("paper_z", "Z_p", "Z of the paper", "", 1.0, 100.0),
            parameter("solid_x", "X_s", "X of the solid", "", 0.0, 100.0),
            parameter("solid_y", "Y_s", "Y of the solid", "", 0.0, 100.0),
            parameter("solid_z", "Z_s", "Z of the solid", "", 0.0, 100.0),
            parameter("tint_x", "X_t", "X of the tint", "", 0.0, 100.0),
            parameter("tint_y", "Y_t", "Y of the tint", "", 0.0, 100.0),
            parameter("tint_z", "Z_t", "Z of the tint", "", 0.0, 100.0),
        ],
        outcome: outcome("T", "%", KindOfQuantity::ToneValue, 0.0, 100.0),
        compute: |a| {
            numbers(a).map_or(f64::NAN, |[a, b, c, d, e, f, g, h, i]| spot_tone_value([a, b, c], [d, e, f], [g, h, i]))
        },
        expansion: None,
        wrong_turns: &[
            turn(
                "by_light",
                "(paper_y - tint_y) / (paper_y - solid_y)",
                "You went by light alone. A spot colour's tone goes by the eye: use V of X, Y and Z.",
            ),
            turn(
                "root_forgotten",
                "spot_tone_value(paper_x, paper_y, paper_z, solid_x, solid_y, solid_z, tint_x, tint_y, tint_z) ^ 2",
                "You left the root out.",
            ),
        ],
        no_result_when: Some("paper and solid have the same colour"),
        source: "ISO 20654:2017 as coded in an open-source class; the standard's text not seen",
    },
    Calculation {
        name: "grey_aim",
        title: "Grey aim",
        topic: Topic::Colour,
        says: "What a* or b* a grey should have on its stock.",
        parameters: &[
            parameter("paper", "a_p", "a* or b* of the paper", "", -20.0, 20.0),
            parameter("share", "k", "share of it that is lost down to the darkest grey", "", 0.0, 1.0),
            parameter("paper_lightness", "L_p", "L* of the paper", "", 50.0, 100.0),
            parameter("darkest", "L_d", "L* of the three solids over each other", "", 0.0, 49.0),
            parameter("lightness", "L", "L* of the grey", "", 0.0, 100.0),
        ],
        outcome: outcome("a_0", "", KindOfQuantity::ColourDifference, -40.0, 40.0),
        compute: |a| five(a, grey_aim),
        expansion: Some("paper * (1 - share * (paper_lightness - lightness) / (paper_lightness - darkest))"),
        wrong_turns: &[
            turn("neutral_aim", "0", "You aimed at a perfect neutral. A grey starts out from its paper."),
            turn("paper_aim", "paper", "You took the paper's own value. It fades as the grey gets darker."),
        ],
        no_result_when: None,
        source: "straight line from the paper towards neutral (ISO 12647-2:2013 for grey); the usual share of 0.85 from memory",
    },
    Calculation {
        name: "grey_deviation",
        title: "Grey deviation",
        topic: Topic::Colour,
        says: "How far a grey is off its aim, in a* and b*.",
        parameters: &[
            parameter("a", "a", "a* of the print", "", -60.0, 60.0),
            parameter("b", "b", "b* of the print", "", -60.0, 60.0),
            parameter("aim_a", "a_0", "a* aimed at", "", -40.0, 40.0),
            parameter("aim_b", "b_0", "b* aimed at", "", -40.0, 40.0),
        ],
        outcome: outcome("Δ_C", "", KindOfQuantity::ColourDifference, 0.0, 142.0),
        compute: |a| four(a, grey_deviation),
        expansion: Some("sqrt((a - aim_a) ^ 2 + (b - aim_b) ^ 2)"),
        wrong_turns: &[
            turn(
                "about_neutral",
                "sqrt(a ^ 2 + b ^ 2)",
                "You measured from neutral. Measure from the aim, which starts out from the paper.",
            ),
            turn(
                "added",
                "abs(a - aim_a) + abs(b - aim_b)",
                "You added the two differences. Add their squares and take the root.",
            ),
        ],
        no_result_when: None,
        source: "distance in the plane of a* and b*",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn chroma_and_hue_give_the_colour_back(a in -100.0_f64..100.0, b in -100.0_f64..100.0) {
            let (c, h) = (chroma(a, b), hue_angle(a, b));
            prop_assert!((c * libm::cos(h) - a).abs() < 1e-9 && (c * libm::sin(h) - b).abs() < 1e-9);
        }

        #[test]
        fn a_hue_difference_is_at_most_half_a_turn(hue in 0.0_f64..6.2, aim in 0.0_f64..6.2) {
            let there = hue_difference(hue, aim);
            prop_assert!(there.abs() <= std::f64::consts::PI + 1e-12);
            prop_assert!((there + hue_difference(aim, hue)).abs() < 1e-9 || there.abs() > std::f64::consts::PI - 1e-9);
        }

        #[test]
        fn paper_has_no_spot_colour_and_the_solid_all_of_it(x in 1.0_f64..40.0, y in 1.0_f64..40.0, z in 1.0_f64..40.0) {
            let (paper, solid) = ([82.0, 86.0, 70.0], [x, y, z]);
            prop_assert!(spot_tone_value(paper, solid, paper).abs() < 1e-12);
            prop_assert!((spot_tone_value(paper, solid, solid) - 1.0).abs() < 1e-12);
        }

        #[test]
        fn more_light_is_lighter(y in 0.0_f64..99.0, more in 0.01_f64..1.0) {
            prop_assert!(lab_lightness(y + more) > lab_lightness(y));
        }
    }

    #[test]
    fn a_hair_below_red_is_red() {
        assert!((0.0..1e-12).contains(&hue_angle(50.0, -1e-20)));
    }

    #[test]
    fn a_neutral_colour_has_no_hue() {
        assert!(hue_angle(0.0, 0.0).is_nan());
    }
}

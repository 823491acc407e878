//! Two screens over each other: the angle between them and the beat they make.

use std::f64::consts::FRAC_PI_2;

use super::catalogue::{Calculation, Topic, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;
use crate::ground::whole_nearest;

/// How far apart two screens stand, in radians, at most an eighth of a turn.
///
/// `first_rad` and `second_rad` are the screens' angles in radians (0 to 180°).
/// A square grid looks the same every 90°, so 82.5° and 7.5° are 15° apart. An
/// anilox roll at 60° repeats otherwise; this is not for it.
///
/// Source: derived. The way to the nearest multiple of 90°.
///
/// ```
/// use gearside::trade::moire::angle_apart;
/// // 82.5° and 7.5°: 75° are 15° from the next quarter turn.
/// let apart = angle_apart(82.5_f64.to_radians(), 7.5_f64.to_radians());
/// assert!((apart.to_degrees() - 15.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn angle_apart(first_rad: f64, second_rad: f64) -> f64 {
    let apart = first_rad - second_rad;
    (apart - whole_nearest(apart / FRAC_PI_2) * FRAC_PI_2).abs()
}

/// Screen of the pattern that two screens of about the same fineness make, in
/// lines per metre.
///
/// `first_per_m` and `second_per_m` are the screens in lines per metre (20 to
/// 2500 lpi), `angle_rad` the angle between them in radians, 0 to 45° (see
/// [`angle_apart`]). 0 if they are alike: no pattern.
///
/// Source: derived. The pattern is the difference of the two screens as arrows:
/// f² = f₁² + f₂² − 2 f₁ f₂ cos θ. Written as below it loses no digits when the
/// screens are nearly alike; with equal screens it is 2 f sin(θ/2). Where one is
/// several times as fine as the other, multiples of the coarser one can beat with
/// the finer more coarsely still.
///
/// ```
/// use gearside::trade::moire::moire_screen;
/// // Two screens of 150 lpi at 30°: 77.6457 lpi.
/// assert!((moire_screen(150.0, 150.0, 30_f64.to_radians()) - 77.6457).abs() < 5e-5);
/// ```
#[must_use]
pub fn moire_screen(first_per_m: f64, second_per_m: f64, angle_rad: f64) -> f64 {
    let (apart, sine) = (first_per_m - second_per_m, libm::sin(angle_rad / 2.0));
    libm::sqrt(apart * apart + 4.0 * first_per_m * second_per_m * sine * sine)
}

/// Spacing of the pattern that two screens of about the same fineness make, in
/// metres; infinite if they are alike.
///
/// Parameters as for [`moire_screen`].
///
/// Source: derived. The spacing is one over the screen.
///
/// ```
/// use gearside::trade::moire::moire_period;
/// // Two screens of 150 lpi at 5°: 0.0764186 in.
/// assert!((moire_period(150.0, 150.0, 5_f64.to_radians()) - 0.076_418_6).abs() < 5e-8);
/// ```
#[must_use]
pub fn moire_period(first_per_m: f64, second_per_m: f64, angle_rad: f64) -> f64 {
    1.0 / moire_screen(first_per_m, second_per_m, angle_rad)
}

const ARROWS: &str = "derived: the pattern is the difference of the two screens as arrows; \
     equal screens give 2 f sin(θ/2)";

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "angle_apart",
        title: "Angle between two screens",
        topic: Topic::Screen,
        says: "How far apart two screens stand when a square grid repeats every 90°.",
        parameters: &[
            parameter("first", "α", "angle of the first screen", "°", 0.0, 180.0),
            parameter("second", "β", "angle of the second screen", "°", 0.0, 180.0),
        ],
        outcome: outcome("θ", "°", KindOfQuantity::Amount, 0.0, 45.0),
        compute: |a| two(a, angle_apart),
        expansion: Some("abs(first - second - round((first - second) / '90 °') * '90 °')"),
        wrong_turns: &[
            turn(
                "not_folded",
                "abs(first - second)",
                "You took the plain difference. The grid repeats every 90°, so the way to the next repeat may be shorter.",
            ),
            turn(
                "long_way_round",
                "'90 °' - angle_apart(first, second)",
                "You went the long way round. Two screens are never more than 45° apart.",
            ),
        ],
        no_result_when: None,
        source: "derived: a square grid looks the same every 90°; on angles, \
                 http://the-print-guide.blogspot.com/2009/05/halftone-screen-angles.html",
    },
    Calculation {
        name: "moire_screen",
        title: "Screen of a moiré",
        topic: Topic::Screen,
        says: "How fine the pattern is that two screens of about the same fineness make.",
        parameters: &[
            parameter("first", "f_1", "first screen", "lpi", 20.0, 2500.0),
            parameter("second", "f_2", "second screen", "lpi", 20.0, 2500.0),
            parameter("angle", "θ", "angle between the screens", "°", 0.0, 45.0),
        ],
        outcome: outcome("f_m", "lpi", KindOfQuantity::Amount, 0.0, 2500.0),
        compute: |a| three(a, moire_screen),
        expansion: Some("sqrt((first - second) ^ 2 + 4 * first * second * sin(angle / 2) ^ 2)"),
        wrong_turns: &[
            turn(
                "angle_not_halved",
                "sqrt((first - second) ^ 2 + 4 * first * second * sin(angle) ^ 2)",
                "You took the sine of the whole angle. Halve the angle first.",
            ),
            turn(
                "sine_alone",
                "first * sin(angle)",
                "You multiplied the screen by the sine. With equal screens it is twice the screen times the sine of half the angle.",
            ),
            turn(
                "at_right_angles",
                "sqrt(first ^ 2 + second ^ 2)",
                "You left out the angle. Without it you have two screens at right angles.",
            ),
        ],
        no_result_when: None,
        source: ARROWS,
    },
    Calculation {
        name: "moire_period",
        title: "Spacing of a moiré",
        topic: Topic::Screen,
        says: "How far apart the bands of the pattern are that two screens of about the same fineness make.",
        parameters: &[
            parameter("first", "f_1", "first screen", "lpi", 20.0, 2500.0),
            parameter("second", "f_2", "second screen", "lpi", 20.0, 2500.0),
            parameter("angle", "θ", "angle between the screens", "°", 0.0, 45.0),
        ],
        outcome: outcome("p_m", "in", KindOfQuantity::Amount, 0.0004, 100.0),
        compute: |a| three(a, moire_period),
        expansion: Some("1 / sqrt((first - second) ^ 2 + 4 * first * second * sin(angle / 2) ^ 2)"),
        wrong_turns: &[
            turn(
                "angle_not_halved",
                "1 / sqrt((first - second) ^ 2 + 4 * first * second * sin(angle) ^ 2)",
                "You took the sine of the whole angle. Halve the angle first.",
            ),
            turn(
                "screen_as_spacing",
                "bare(moire_screen(first, second, angle), 'lpi') * '1 in'",
                "You gave the pattern's screen. Its spacing is one over that.",
            ),
            turn(
                "spacing_of_the_dots",
                "1 / first",
                "You gave the spacing of one screen's dots. The pattern is coarser: it comes of both screens.",
            ),
        ],
        no_result_when: Some("the two screens are alike and stand at the same angle"),
        source: ARROWS,
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn alike_screens_make_no_pattern() {
        assert!(moire_screen(150.0, 150.0, 0.0).abs() < 1e-12);
        assert!(moire_period(150.0, 150.0, 0.0).is_infinite());
    }

    proptest! {
        #[test]
        fn the_law_of_cosines_gives_the_same(first in 20.0_f64..2500.0, second in 20.0_f64..2500.0, degrees in 1.0_f64..45.0) {
            let angle = degrees.to_radians();
            let square = first * first + second * second - 2.0 * first * second * libm::cos(angle);
            prop_assert!((moire_screen(first, second, angle) - libm::sqrt(square)).abs() < 1e-8 * first.max(second));
        }

        #[test]
        fn which_screen_is_first_does_not_matter(first in 20.0_f64..2500.0, second in 20.0_f64..2500.0, degrees in 0.1_f64..45.0) {
            let angle = degrees.to_radians();
            prop_assert!((moire_screen(first, second, angle) - moire_screen(second, first, angle)).abs() < 1e-9);
            prop_assert!((moire_screen(first, second, angle) * moire_period(first, second, angle) - 1.0).abs() < 1e-12);
        }

        #[test]
        fn a_wider_angle_makes_a_finer_pattern(screen in 20.0_f64..2500.0, degrees in 0.1_f64..44.0, more in 0.1_f64..1.0) {
            let at = |degrees: f64| moire_screen(screen, screen, degrees.to_radians());
            prop_assert!(at(degrees + more) > at(degrees));
        }

        #[test]
        fn turning_a_screen_by_ninety_degrees_changes_nothing(first in 0.0_f64..180.0, second in 0.0_f64..180.0) {
            let apart = |a: f64, b: f64| angle_apart(a.to_radians(), b.to_radians()).to_degrees();
            let straight = apart(first, second);
            prop_assert!((0.0..=45.000_001).contains(&straight), "{straight}");
            prop_assert!((apart(first + 90.0, second) - straight).abs() < 1e-6);
            prop_assert!((apart(second, first) - straight).abs() < 1e-6);
        }
    }
}

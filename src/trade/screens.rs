//! Screens, dots and cells on a square grid, counted centre to centre.

use std::f64::consts::PI;

use super::catalogue::{Calculation, Topic, one, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Spacing of the dots, in metres.
///
/// `screen_per_m` is the screen in lines per metre (20 to 2500 lpi).
///
/// Source: definition.
///
/// ```
/// use gearside::trade::screens::dot_pitch;
/// // 150 lpi: 25 400 µm / 150 = 169.333 µm.
/// assert!((dot_pitch(150.0 / 0.0254) - 169.333e-6).abs() < 5e-10);
/// ```
#[must_use]
pub fn dot_pitch(screen_per_m: f64) -> f64 {
    1.0 / screen_per_m
}

/// Diameter of a round dot, in metres.
///
/// `screen_per_m` is the screen in lines per metre (20 to 2500 lpi); `tone` the
/// share of the area that the dots cover, above 0 to π/4: there they touch and
/// are round no more.
///
/// Source: derived. One dot of that area stands on each square of the grid.
///
/// ```
/// use gearside::trade::screens::dot_diameter;
/// // 1 % at 150 lpi: 19.1072 µm.
/// assert!((dot_diameter(150.0 / 0.0254, 0.01) - 19.1072e-6).abs() < 5e-11);
/// ```
#[must_use]
pub fn dot_diameter(screen_per_m: f64, tone: f64) -> f64 {
    2.0 * libm::sqrt(tone / PI) / screen_per_m
}

/// Diameter of a round hole in a shadow, in metres.
///
/// `screen_per_m` is the screen in lines per metre (20 to 2500 lpi); `tone` the
/// share of the area that is covered, from 1 − π/4 to below 1.
///
/// Source: derived. A hole is a dot of what is left open.
///
/// ```
/// use gearside::trade::screens::hole_diameter;
/// // The hole of 99 % is the dot of 1 %: 19.1072 µm at 150 lpi.
/// assert!((hole_diameter(150.0 / 0.0254, 0.99) - 19.1072e-6).abs() < 5e-11);
/// ```
#[must_use]
pub fn hole_diameter(screen_per_m: f64, tone: f64) -> f64 {
    dot_diameter(screen_per_m, 1.0 - tone)
}

/// Share of the area that round dots cover.
///
/// `screen_per_m` is the screen in lines per metre (20 to 2500 lpi),
/// `diameter_m` the dots' diameter in metres (1 to 1000 µm, at most the
/// spacing: above π/4 the dots overlap and the share is less).
///
/// Source: derived. One dot stands on each square of the grid.
///
/// ```
/// use gearside::trade::screens::tone_of_dot;
/// // 19.1072 µm at 150 lpi is 1 %.
/// assert!((tone_of_dot(150.0 / 0.0254, 19.1072e-6) - 0.01).abs() < 1e-7);
/// ```
#[must_use]
pub fn tone_of_dot(screen_per_m: f64, diameter_m: f64) -> f64 {
    let share = diameter_m * screen_per_m;
    PI / 4.0 * share * share
}

/// Least anilox screen whose cells do not open wider than a dot, in cells per
/// metre.
///
/// `dot_m` is the smallest dot of the plate in metres (5 to 200 µm), `ratio`
/// the opening over the wall, 2 to 30. A dot that is smaller than the opening
/// dips into the cell.
///
/// Source: derived. The spacing is one opening and one wall.
///
/// ```
/// use gearside::trade::screens::screen_for_dot;
/// // A dot of 20 µm at 10:1: 1154.55 lpi.
/// assert!((screen_for_dot(20e-6, 10.0) * 0.0254 - 1154.55).abs() < 5e-3);
/// ```
#[must_use]
pub fn screen_for_dot(dot_m: f64, ratio: f64) -> f64 {
    ratio / (ratio + 1.0) / dot_m
}

/// Pixels of the setter on each square of the screen.
///
/// `resolution_per_m` is the setter's resolution in pixels per metre (100 to
/// 12,000 dpi), `screen_per_m` the screen in lines per metre (20 to 400 lpi).
///
/// Source: derived. As many pixels along as across.
///
/// ```
/// use gearside::trade::screens::pixels_per_cell;
/// // 2400 dpi at 150 lpi: 16 by 16.
/// assert!((pixels_per_cell(2400.0, 150.0) - 256.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn pixels_per_cell(resolution_per_m: f64, screen_per_m: f64) -> f64 {
    let along = resolution_per_m / screen_per_m;
    along * along
}

/// Tones that the pixels of one cell can make, bare paper counted as one.
///
/// Parameters as for [`pixels_per_cell`]. Some sources do not count the paper
/// and say 256 for 16 by 16; with it there are 257.
///
/// Source: derived. None, one, two … all of the pixels are on.
///
/// ```
/// use gearside::trade::screens::grey_levels;
/// // 16 by 16 pixels and the bare paper.
/// assert!((grey_levels(2400.0, 150.0) - 257.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn grey_levels(resolution_per_m: f64, screen_per_m: f64) -> f64 {
    pixels_per_cell(resolution_per_m, screen_per_m) + 1.0
}

/// Share of the area that a dot of so many pixels covers.
///
/// `pixels` is how many pixels of a cell are on (1 to 10,000); `resolution_per_m`
/// and `screen_per_m` as for [`pixels_per_cell`].
///
/// Source: derived. The dot's pixels over the cell's.
///
/// ```
/// use gearside::trade::screens::tone_of_pixels;
/// // 16 of 256 pixels: 6.25 %.
/// assert!((tone_of_pixels(16.0, 2400.0, 150.0) - 0.0625).abs() < 1e-12);
/// ```
#[must_use]
pub fn tone_of_pixels(pixels: f64, resolution_per_m: f64, screen_per_m: f64) -> f64 {
    pixels / pixels_per_cell(resolution_per_m, screen_per_m)
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "dot_pitch",
        title: "Spacing of the dots",
        topic: Topic::Screen,
        says: "How far apart the dots of a screen stand, centre to centre.",
        parameters: &[parameter("screen", "f", "screen", "lpi", 20.0, 2500.0)],
        outcome: outcome("p", "µm", KindOfQuantity::Film, 10.0, 1270.0),
        compute: |a| one(a, dot_pitch),
        expansion: Some("1 / screen"),
        wrong_turns: &[
            turn(
                "centimetre_divided",
                "'1 cm' / bare(screen, 'lpi')",
                "You divided a centimetre. A screen in lpi counts to the inch, which is 25 400 µm.",
            ),
            turn(
                "mils_as_micrometres",
                "bare(1 / screen, 'mil') * '1 µm'",
                "You gave mils as micrometres. One mil is 25.4 µm.",
            ),
        ],
        no_result_when: None,
        source: "definition; 1 in = 25.4 mm exactly",
    },
    Calculation {
        name: "dot_diameter",
        title: "Diameter of a dot",
        topic: Topic::Screen,
        says: "How wide a round dot of a tone is.",
        parameters: &[
            parameter("screen", "f", "screen", "lpi", 20.0, 2500.0),
            parameter("tone", "a", "share of the area that the dots cover", "%", 0.1, 78.5),
        ],
        outcome: outcome("d", "µm", KindOfQuantity::Film, 0.3, 1270.0),
        compute: |a| two(a, dot_diameter),
        expansion: Some("2 * sqrt(tone / pi) / screen"),
        wrong_turns: &[
            turn(
                "spacing_times_tone",
                "tone / screen",
                "You multiplied the spacing by the tone. The tone goes by area: take its root.",
            ),
            turn(
                "side_of_a_square_dot",
                "sqrt(tone) / screen",
                "You gave the side of a square dot. A round one of the same area is 1.128 times as wide.",
            ),
            turn("radius_given", "sqrt(tone / pi) / screen", "You gave the radius. The diameter is twice that."),
        ],
        no_result_when: None,
        source: "derived: one round dot on each square of the grid, up to where the dots touch",
    },
    Calculation {
        name: "hole_diameter",
        title: "Diameter of a shadow hole",
        topic: Topic::Screen,
        says: "How wide the open hole of a shadow tone is.",
        parameters: &[
            parameter("screen", "f", "screen", "lpi", 20.0, 2500.0),
            parameter("tone", "a", "share of the area that is covered", "%", 21.5, 99.9),
        ],
        outcome: outcome("d", "µm", KindOfQuantity::Film, 0.3, 1270.0),
        compute: |a| two(a, hole_diameter),
        expansion: Some("2 * sqrt((1 - tone) / pi) / screen"),
        wrong_turns: &[
            turn(
                "tone_taken",
                "2 * sqrt(tone / pi) / screen",
                "You gave a dot of the whole tone. The hole is what the tone leaves open.",
            ),
            turn(
                "side_of_a_square_hole",
                "sqrt(1 - tone) / screen",
                "You gave the side of a square hole. A round one of the same area is 1.128 times as wide.",
            ),
            turn(
                "spacing_times_share",
                "(1 - tone) / screen",
                "You multiplied the spacing by the open share. That goes by area: take its root.",
            ),
        ],
        no_result_when: None,
        source: "derived: a hole is a dot of what is left open",
    },
    Calculation {
        name: "tone_of_dot",
        title: "Tone of a dot",
        topic: Topic::Screen,
        says: "What share of the area round dots of a diameter cover.",
        parameters: &[
            parameter("screen", "f", "screen", "lpi", 20.0, 2500.0),
            parameter("diameter", "d", "diameter of the dots", "µm", 1.0, 1000.0),
        ],
        outcome: outcome("a", "%", KindOfQuantity::Amount, 0.0, 78.6),
        compute: |a| two(a, tone_of_dot),
        expansion: Some("pi / 4 * (diameter * screen) ^ 2"),
        wrong_turns: &[
            turn(
                "square_dot",
                "(diameter * screen) ^ 2",
                "You took a square dot. A round one of that width covers π/4 of it.",
            ),
            turn(
                "width_over_spacing",
                "diameter * screen",
                "You compared widths. A tone compares areas: square, and multiply by π/4.",
            ),
            turn(
                "diameter_as_radius",
                "pi * (diameter * screen) ^ 2",
                "You took the diameter for the radius. Halve it first.",
            ),
        ],
        no_result_when: None,
        source: "derived: one round dot on each square of the grid, up to where the dots touch",
    },
    Calculation {
        name: "screen_for_dot",
        title: "Anilox screen for the smallest dot",
        topic: Topic::Screen,
        says: "From which anilox screen on the smallest dot of the plate does not dip into a cell.",
        parameters: &[
            parameter("dot", "d", "diameter of the smallest dot", "µm", 5.0, 200.0),
            parameter("ratio", "r", "opening over the wall, to 1", "", 2.0, 30.0),
        ],
        outcome: outcome("f", "lpi", KindOfQuantity::Amount, 80.0, 5000.0),
        compute: |a| two(a, screen_for_dot),
        expansion: Some("ratio / (ratio + 1) / dot"),
        wrong_turns: &[
            turn(
                "wall_ignored",
                "1 / dot",
                "You took the whole spacing for the opening. A wall takes part of it: multiply by r ÷ (r + 1).",
            ),
            turn(
                "wall_compared",
                "1 / (ratio + 1) / dot",
                "You compared the dot with the wall. It is the opening that it may fall into.",
            ),
            turn(
                "centimetre_divided",
                "bare(ratio / (ratio + 1) / dot, 'l/cm') * '1 lpi'",
                "You counted the cells to the centimetre. A screen in lpi counts them to the inch.",
            ),
        ],
        no_result_when: None,
        source: "derived: the opening has to be smaller than the dot; the spacing is one opening and one wall",
    },
    Calculation {
        name: "pixels_per_cell",
        title: "Pixels of a cell",
        topic: Topic::Screen,
        says: "How many pixels of the setter each square of the screen has.",
        parameters: &[
            parameter("resolution", "r", "resolution of the setter", "dpi", 100.0, 12_000.0),
            parameter("screen", "f", "screen", "lpi", 20.0, 400.0),
        ],
        outcome: outcome("n", "px", KindOfQuantity::Amount, 1.0, 10_000.0),
        compute: |a| two(a, pixels_per_cell),
        expansion: Some("(resolution / screen) ^ 2"),
        wrong_turns: &[
            turn(
                "along_one_side",
                "resolution / screen",
                "You counted the pixels along one side. There are as many rows: square it.",
            ),
            turn(
                "only_the_screen_squared",
                "bare(resolution, 'dpi') / bare(screen, 'lpi') ^ 2",
                "You squared the screen alone. Divide first, then square.",
            ),
            turn("doubled", "2 * resolution / screen", "You doubled. Multiply the number along by itself."),
        ],
        no_result_when: None,
        source: "derived: as many pixels along as across; a page that squares the screen alone misprints it",
    },
    Calculation {
        name: "grey_levels",
        title: "Tones of a cell",
        topic: Topic::Screen,
        says: "How many tones the pixels of a cell can make; bare paper counts as one, though not with everybody.",
        parameters: &[
            parameter("resolution", "r", "resolution of the setter", "dpi", 100.0, 12_000.0),
            parameter("screen", "f", "screen", "lpi", 20.0, 400.0),
        ],
        outcome: outcome("N", "", KindOfQuantity::Amount, 2.0, 10_001.0),
        compute: |a| two(a, grey_levels),
        expansion: Some("(resolution / screen) ^ 2 + 1"),
        wrong_turns: &[
            turn(
                "along_one_side",
                "resolution / screen",
                "You counted the pixels along one side. There are as many rows: square it.",
            ),
            turn(
                "only_the_screen_squared",
                "bare(resolution, 'dpi') / bare(screen, 'lpi') ^ 2 + 1",
                "You squared the screen alone. Divide first, then square.",
            ),
        ],
        no_result_when: None,
        source: "derived: none, one, two … all pixels of the cell are on; sources that leave out the paper say one less",
    },
    Calculation {
        name: "tone_of_pixels",
        title: "Tone of a dot of pixels",
        topic: Topic::Screen,
        says: "What share of the area a dot of so many pixels covers.",
        parameters: &[
            parameter("pixels", "k", "number of pixels of the dot", "px", 1.0, 10_000.0),
            parameter("resolution", "r", "resolution of the setter", "dpi", 100.0, 12_000.0),
            parameter("screen", "f", "screen", "lpi", 20.0, 400.0),
        ],
        outcome: outcome("a", "%", KindOfQuantity::Amount, 0.0, 100.0),
        compute: |a| three(a, tone_of_pixels),
        expansion: Some("pixels / (resolution / screen) ^ 2"),
        wrong_turns: &[
            turn(
                "along_one_side",
                "pixels / (resolution / screen)",
                "You divided by the pixels along one side. Divide by all of the cell: square it.",
            ),
            turn(
                "rest_given",
                "1 - pixels / (resolution / screen) ^ 2",
                "You gave what the dot leaves open. Its tone is its own share.",
            ),
        ],
        no_result_when: None,
        source: "derived: the dot's pixels over the cell's",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::film::cell_opening;
    use super::*;

    #[test]
    fn round_dots_touch_where_they_are_as_wide_as_the_spacing() {
        let screen = 133.0 / 0.0254;
        assert!((dot_diameter(screen, PI / 4.0) - dot_pitch(screen)).abs() < 1e-15);
    }

    proptest! {
        #[test]
        fn tone_and_diameter_come_back(lpi in 20.0_f64..2500.0, tone in 0.001_f64..0.785) {
            let screen = lpi / 0.0254;
            let diameter = dot_diameter(screen, tone);
            prop_assert!(diameter <= dot_pitch(screen));
            prop_assert!((tone_of_dot(screen, diameter) - tone).abs() < 1e-12);
            prop_assert!((hole_diameter(screen, 1.0 - tone) - diameter).abs() < 1e-9 * diameter);
        }

        #[test]
        fn more_tone_is_a_wider_dot_and_a_narrower_hole(lpi in 20.0_f64..2500.0, tone in 0.22_f64..0.77, more in 0.001_f64..0.01) {
            let screen = lpi / 0.0254;
            prop_assert!(dot_diameter(screen, tone + more) > dot_diameter(screen, tone));
            prop_assert!(hole_diameter(screen, tone + more) < hole_diameter(screen, tone));
        }

        #[test]
        fn the_screen_for_a_dot_opens_as_wide_as_the_dot(dot in 5e-6_f64..200e-6, ratio in 2.0_f64..30.0) {
            let opening = cell_opening(screen_for_dot(dot, ratio), ratio);
            prop_assert!((opening - dot).abs() < 1e-12 * dot);
        }

        #[test]
        fn all_pixels_of_a_cell_are_the_solid(dpi in 100.0_f64..12_000.0, lpi in 20.0_f64..400.0) {
            let all = pixels_per_cell(dpi, lpi);
            prop_assert!((tone_of_pixels(all, dpi, lpi) - 1.0).abs() < 1e-12);
            prop_assert!((grey_levels(dpi, lpi) - all - 1.0).abs() < 1e-9 * all);
        }
    }
}

//! Anilox rolls: splits, wear, cells and their screen against the plate's.

use super::catalogue::{Calculation, Topic, one, outcome, parameter, turn, two};
use super::kind::KindOfQuantity;

/// Share of the roll's ink that reaches the web, as a fraction.
///
/// `to_plate` is the share that leaves the roll for the plate, `to_web` the
/// share of that which leaves the plate for the web, both above 0 to 1.
/// Published figures for the whole way differ from 25 % to 60 %.
///
/// Source: derived. Each split takes a share of what the last one left.
///
/// ```
/// use gearside::trade::anilox::overall_transfer;
/// // Half and half again is a quarter (a published worked figure).
/// assert!((overall_transfer(0.5, 0.5) - 0.25).abs() < 1e-15);
/// ```
#[must_use]
pub fn overall_transfer(to_plate: f64, to_web: f64) -> f64 {
    to_plate * to_web
}

/// How many times as strong an ink must be on a worn roll.
///
/// `loss` is the share of the volume lost, 0 to 0.6. The film shrinks with the
/// volume, so as much pigment needs the strength over what is left.
///
/// Source: derived. Film times strength stays the same.
///
/// ```
/// use gearside::trade::anilox::strength_for_wear;
/// // A fifth lost leaves four fifths: 5/4 of the strength.
/// assert!((strength_for_wear(0.2) - 1.25).abs() < 1e-15);
/// ```
#[must_use]
pub fn strength_for_wear(loss: f64) -> f64 {
    1.0 / (1.0 - loss)
}

/// Share of the volume lost with a share of the cells' depth, as a fraction.
///
/// `depth_loss` is the share of the depth worn off the top, 0 to 0.6; `power`
/// the power of the depth that the volume goes with, 2 for a bowl to 3 for a
/// cone or pyramid.
///
/// Source: derived geometry. A bowl (paraboloid) holds in proportion to its
/// depth squared, a cone cubed.
///
/// ```
/// use gearside::trade::anilox::volume_from_depth;
/// // A tenth off the depth: 1 − 0.9² = 19 % of a bowl, 1 − 0.9³ = 27.1 % of a cone.
/// assert!((volume_from_depth(0.1, 2.0) - 0.19).abs() < 1e-15);
/// assert!((volume_from_depth(0.1, 3.0) - 0.271).abs() < 1e-15);
/// ```
#[must_use]
pub fn volume_from_depth(depth_loss: f64, power: f64) -> f64 {
    1.0 - libm::pow(1.0 - depth_loss, power)
}

/// Spacing of an anilox roll's cells, in metres.
///
/// `screen_per_m` is the screen in cells per metre (50 to 2500 lpi), read as
/// centre-to-centre spacing. Where a 60° screen counts rows of cells instead,
/// the spacing is 2 ÷ √3 times as large.
///
/// Source: definition of the screen.
///
/// ```
/// use gearside::trade::anilox::cell_pitch;
/// // 800 lpi: 25,400 µm ÷ 800 = 31.75 µm.
/// assert!((cell_pitch(800.0 / 0.0254) - 31.75e-6).abs() < 1e-17);
/// ```
#[must_use]
pub fn cell_pitch(screen_per_m: f64) -> f64 {
    1.0 / screen_per_m
}

/// Wall between two anilox cells, in metres.
///
/// `screen_per_m` and `ratio` as for [`super::film::cell_opening`].
///
/// Source: derived. The spacing is one opening and one wall.
///
/// ```
/// use gearside::trade::anilox::cell_wall;
/// // 800 lpi at 10:1: the eleventh part of 31.75 µm.
/// assert!((cell_wall(800.0 / 0.0254, 10.0) - 2.886_36e-6).abs() < 5e-12);
/// ```
#[must_use]
pub fn cell_wall(screen_per_m: f64, ratio: f64) -> f64 {
    1.0 / (ratio + 1.0) / screen_per_m
}

/// Screen of the anilox roll over the screen of the plate.
///
/// `anilox_per_m` (50 to 2500 lpi) and `plate_per_m` (45 to 250 lpi) are in
/// lines per metre.
///
/// Source: definition.
///
/// ```
/// use gearside::trade::anilox::screen_ratio;
/// // 1400 lpi over 120 lpi: 11.6667 to 1.
/// assert!((screen_ratio(1400.0 / 0.0254, 120.0 / 0.0254) - 11.6667).abs() < 5e-5);
/// ```
#[must_use]
pub fn screen_ratio(anilox_per_m: f64, plate_per_m: f64) -> f64 {
    anilox_per_m / plate_per_m
}

/// Least screen of an anilox roll for a plate by a ratio, in lines per metre.
///
/// `plate_per_m` is the plate's screen in lines per metre (45 to 250 lpi),
/// `ratio` how many times as fine the roll must be (2 to 15). A rule of thumb:
/// sources ask for anything from 3.5 to 12. What stands behind it is that a
/// cell must open less than the smallest dot, see [`super::film::cell_opening`].
///
/// Source: published rule of at least 5 to 1.
///
/// ```
/// use gearside::trade::anilox::least_anilox_screen;
/// // 150 lpi at 5 to 1: 750 lpi.
/// assert!((least_anilox_screen(150.0, 5.0) - 750.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn least_anilox_screen(plate_per_m: f64, ratio: f64) -> f64 {
    plate_per_m * ratio
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "overall_transfer",
        title: "Transfer from roll to web",
        topic: Topic::Film,
        says: "What share of the roll's ink reaches the web over two splits.",
        parameters: &[
            parameter("to_plate", "f_p", "share that leaves the roll for the plate", "%", 1.0, 100.0),
            parameter("to_web", "f_w", "share of that which leaves the plate for the web", "%", 1.0, 100.0),
        ],
        outcome: outcome("T", "%", KindOfQuantity::Amount, 0.01, 100.0),
        compute: |a| two(a, overall_transfer),
        expansion: Some("to_plate * to_web"),
        wrong_turns: &[
            turn(
                "splits_added",
                "to_plate + to_web",
                "You added the two splits. The second takes a share of what the first one left: multiply.",
            ),
            turn(
                "second_split_forgotten",
                "to_plate",
                "You gave what is on the plate. Only a share of that goes on to the web: multiply by it.",
            ),
            turn(
                "first_split_forgotten",
                "to_web",
                "You took the roll's ink to be on the plate. Multiply by the share that leaves the roll too.",
            ),
        ],
        no_result_when: None,
        source: "derived: each split takes a share of what the last one left; published figures for the whole way differ \
                 from 25 % to 60 %, so both shares must be given",
    },
    Calculation {
        name: "strength_for_wear",
        title: "Ink strength for a worn roll",
        topic: Topic::Film,
        says: "How many times as strong the ink must be so that a worn roll lays as much pigment.",
        parameters: &[parameter("loss", "w", "share of the volume lost", "%", 0.0, 60.0)],
        outcome: outcome("k", "", KindOfQuantity::Amount, 1.0, 2.5),
        compute: |a| one(a, strength_for_wear),
        expansion: Some("1 / (1 - loss)"),
        wrong_turns: &[
            turn(
                "loss_added",
                "1 + loss",
                "You added the loss. What is left must do it all: divide one by what is left.",
            ),
            turn("share_left_given", "1 - loss", "You gave the share of the volume that is left. Divide one by it."),
        ],
        no_result_when: None,
        source: "derived: film times strength stays the same, and the film goes with the volume",
    },
    Calculation {
        name: "volume_from_depth",
        title: "Volume lost with depth",
        topic: Topic::Film,
        says: "What share of the volume goes when a share of the cells' depth is worn off.",
        parameters: &[
            parameter("depth_loss", "w_d", "share of the depth lost", "%", 0.0, 60.0),
            parameter("power", "n", "power of the depth: 2 for a bowl, 3 for a cone", "", 2.0, 3.0),
        ],
        outcome: outcome("w", "%", KindOfQuantity::Amount, 0.0, 95.0),
        compute: |a| two(a, volume_from_depth),
        expansion: Some("1 - (1 - depth_loss) ^ power"),
        wrong_turns: &[
            turn(
                "depth_taken_for_volume",
                "depth_loss",
                "You took the loss of depth for the loss of volume. A cell is widest at the top, so it loses more.",
            ),
            turn(
                "share_left_given",
                "(1 - depth_loss) ^ power",
                "You gave the share of the volume that is left. What is lost is the rest.",
            ),
            turn(
                "loss_itself_raised",
                "depth_loss ^ power",
                "You raised the loss to the power. Raise what is left of the depth, then take it off one.",
            ),
        ],
        no_result_when: None,
        source: "derived geometry: a bowl holds in proportion to its depth squared, a cone or pyramid cubed",
    },
    Calculation {
        name: "cell_pitch",
        title: "Cell spacing",
        topic: Topic::Film,
        says: "How far the cells of an anilox roll are apart, centre to centre.",
        parameters: &[parameter("screen", "f", "screen of the anilox roll", "lpi", 50.0, 2500.0)],
        outcome: outcome("p", "µm", KindOfQuantity::Film, 10.0, 510.0),
        compute: |a| one(a, cell_pitch),
        expansion: Some("1 / screen"),
        wrong_turns: &[
            turn(
                "read_as_per_centimetre",
                "'1 cm' / bare(screen, 'lpi')",
                "You took the lines for lines per centimetre. Divide an inch by them: 25,400 µm.",
            ),
            turn(
                "half_the_spacing",
                "1 / (2 * screen)",
                "You halved the spacing. Each line is one cell with its wall: divide the length by the lines.",
            ),
        ],
        no_result_when: None,
        source: "definition: the screen counts cells centre to centre",
    },
    Calculation {
        name: "cell_wall",
        title: "Cell wall",
        topic: Topic::Film,
        says: "How thick the wall between two anilox cells is.",
        parameters: &[
            parameter("screen", "f", "screen of the anilox roll", "lpi", 50.0, 2500.0),
            parameter("ratio", "r", "opening over the wall, to 1", "", 2.0, 30.0),
        ],
        outcome: outcome("b", "µm", KindOfQuantity::Film, 0.3, 170.0),
        compute: |a| two(a, cell_wall),
        expansion: Some("1 / (ratio + 1) / screen"),
        wrong_turns: &[
            turn(
                "divided_by_the_ratio",
                "1 / ratio / screen",
                "You divided by the ratio alone. Opening and wall together are one part more: divide by r + 1.",
            ),
            turn(
                "opening_given",
                "ratio / (ratio + 1) / screen",
                "You gave the opening. The wall is the one part of r + 1 that is left.",
            ),
        ],
        no_result_when: None,
        source: "derived: the spacing is one opening and one wall; the screen counts centre to centre",
    },
    Calculation {
        name: "screen_ratio",
        title: "Anilox screen over plate screen",
        topic: Topic::Film,
        says: "How many times as fine the anilox roll's screen is as the plate's.",
        parameters: &[
            parameter("anilox", "f_a", "screen of the anilox roll", "lpi", 50.0, 2500.0),
            parameter("plate", "f_p", "screen of the plate", "lpi", 45.0, 250.0),
        ],
        outcome: outcome("q", "", KindOfQuantity::Amount, 1.0, 25.0),
        compute: |a| two(a, screen_ratio),
        expansion: Some("anilox / plate"),
        wrong_turns: &[
            turn(
                "upside_down",
                "plate / anilox",
                "You divided the plate's screen by the roll's. Put the roll's on top.",
            ),
            turn(
                "inches_over_centimetres",
                "bare(anilox, 'lpi') / bare(plate, 'l/cm')",
                "You divided lines per inch by lines per centimetre. Bring both to one unit first.",
            ),
        ],
        no_result_when: None,
        source: "definition",
    },
    Calculation {
        name: "least_anilox_screen",
        title: "Least anilox screen for a plate",
        topic: Topic::Film,
        says: "How fine an anilox roll must be for a plate by a ratio. Sources ask for ratios from 3.5 to 12, so it is \
               given; the test behind it is a cell opening smaller than the smallest dot.",
        parameters: &[
            parameter("plate", "f_p", "screen of the plate", "lpi", 45.0, 250.0),
            parameter("ratio", "q", "least screen of the roll over the plate's, to 1", "", 2.0, 15.0),
        ],
        outcome: outcome("f_a", "lpi", KindOfQuantity::Amount, 90.0, 2500.0),
        compute: |a| two(a, least_anilox_screen),
        expansion: Some("plate * ratio"),
        wrong_turns: &[
            turn(
                "divided_by_the_ratio",
                "plate / ratio",
                "You divided by the ratio. The roll is finer than the plate: multiply.",
            ),
            turn(
                "added_once_more",
                "plate * (ratio + 1)",
                "You added the plate's screen once more. The roll's screen is the ratio times the plate's.",
            ),
        ],
        no_result_when: None,
        source: "rule of thumb, published as at least 5 to 1; older texts say 4 to 1, practice runs 6 to 12",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::film::cell_opening;
    use super::*;

    proptest! {
        #[test]
        fn opening_and_wall_make_up_the_spacing(screen in 2000.0_f64..100_000.0, ratio in 2.0_f64..30.0) {
            let (whole, parts) = (cell_pitch(screen), cell_opening(screen, ratio) + cell_wall(screen, ratio));
            prop_assert!((whole - parts).abs() < 1e-12 * whole);
            prop_assert!((cell_opening(screen, ratio) / cell_wall(screen, ratio) - ratio).abs() < 1e-9);
        }

        #[test]
        fn a_cell_loses_a_greater_share_of_its_volume_than_of_its_depth(loss in 0.001_f64..0.6) {
            let (bowl, cone) = (volume_from_depth(loss, 2.0), volume_from_depth(loss, 3.0));
            prop_assert!(loss < bowl && bowl < cone && cone < 1.0);
        }

        #[test]
        fn the_least_screen_has_the_ratio(plate in 1500.0_f64..10_000.0, ratio in 2.0_f64..15.0) {
            prop_assert!((screen_ratio(least_anilox_screen(plate, ratio), plate) - ratio).abs() < 1e-12 * ratio);
        }
    }
}

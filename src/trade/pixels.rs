//! Whole pixels: what a plate setter can draw of a width.
//!
//! The modules of a bar code have to be whole numbers of pixels after all
//! corrections, or equal bars come out unequal.

use super::catalogue::{Calculation, Topic, one, outcome, parameter, turn, two};
use super::kind::KindOfQuantity;
use crate::ground::{whole_above, whole_nearest};

/// The width of a pixel, in metres.
///
/// `resolution_per_m` is the setter's resolution in pixels per metre (100 to
/// 12,000 dpi).
///
/// Source: definition.
///
/// ```
/// use gearside::trade::pixels::pixel_size;
/// // 2540 dpi: 10 µm.
/// assert!((pixel_size(2540.0 / 0.0254) - 10e-6).abs() < 1e-15);
/// ```
#[must_use]
pub fn pixel_size(resolution_per_m: f64) -> f64 {
    1.0 / resolution_per_m
}

/// How many whole pixels come nearest to a length.
///
/// `length_m` is the length in metres (0.01 to 100 mm), `resolution_per_m` the
/// setter's resolution in pixels per metre (100 to 12,000 dpi).
///
/// Source: derived. A setter draws no part of a pixel.
///
/// ```
/// use gearside::trade::pixels::whole_pixels;
/// // 0.330 mm at 4000 dpi is 51.97 pixels: 52.
/// assert!((whole_pixels(0.330e-3, 4000.0 / 0.0254) - 52.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn whole_pixels(length_m: f64, resolution_per_m: f64) -> f64 {
    whole_nearest(length_m * resolution_per_m)
}

/// The length that is drawn for a wanted one, in metres.
///
/// Parameters as for [`whole_pixels`].
///
/// Source: derived. A setter draws no part of a pixel.
///
/// ```
/// use gearside::trade::pixels::snapped_length;
/// // 52 pixels at 4000 dpi are 0.3302 mm.
/// assert!((snapped_length(0.330e-3, 4000.0 / 0.0254) - 0.3302e-3).abs() < 1e-15);
/// ```
#[must_use]
pub fn snapped_length(length_m: f64, resolution_per_m: f64) -> f64 {
    whole_pixels(length_m, resolution_per_m) / resolution_per_m
}

/// The least length of whole pixels that does not fall below a limit, in metres.
///
/// `least_m` is the limit in metres (0.01 to 100 mm), `resolution_per_m` the
/// setter's resolution in pixels per metre (100 to 12,000 dpi).
///
/// Source: derived. A setter draws no part of a pixel.
///
/// ```
/// use gearside::trade::pixels::least_snapped_length;
/// // 0.264 mm at 2400 dpi is 24.94 pixels: 25 of them are 0.264583 mm.
/// assert!((least_snapped_length(0.264e-3, 2400.0 / 0.0254) - 0.264_583e-3).abs() < 5e-10);
/// ```
#[must_use]
pub fn least_snapped_length(least_m: f64, resolution_per_m: f64) -> f64 {
    whole_above(least_m * resolution_per_m) / resolution_per_m
}

const GRID: &str = "derived: a setter draws whole pixels only; 1 in = 25.4 mm exactly";

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "pixel_size",
        title: "Width of a pixel",
        topic: Topic::BarCode,
        says: "How wide one pixel of the plate setter is.",
        parameters: &[parameter("resolution", "r", "resolution of the setter", "dpi", 100.0, 12_000.0)],
        outcome: outcome("p", "µm", KindOfQuantity::Film, 2.0, 254.0),
        compute: |a| one(a, pixel_size),
        expansion: Some("1 / resolution"),
        wrong_turns: &[
            turn(
                "centimetre_divided",
                "'1 cm' / bare(resolution, 'dpi')",
                "You divided a centimetre. Resolution in dpi counts to the inch, which is 25 400 µm.",
            ),
            turn(
                "mils_as_micrometres",
                "bare(1 / resolution, 'mil') * '1 µm'",
                "You gave mils as micrometres. One mil is 25.4 µm.",
            ),
        ],
        no_result_when: None,
        source: GRID,
    },
    Calculation {
        name: "whole_pixels",
        title: "Whole pixels of a length",
        topic: Topic::BarCode,
        says: "How many whole pixels come nearest to a length.",
        parameters: &[
            parameter("length", "L", "length wanted", "mm", 0.01, 100.0),
            parameter("resolution", "r", "resolution of the setter", "dpi", 100.0, 12_000.0),
        ],
        outcome: outcome("n", "px", KindOfQuantity::Count, 0.0, 50_000.0),
        compute: |a| two(a, whole_pixels),
        expansion: Some("round(length * resolution)"),
        wrong_turns: &[
            turn(
                "always_down",
                "floor(length * resolution)",
                "You cut the part of a pixel off. Go to the nearest whole number.",
            ),
            turn(
                "left_in_parts",
                "length * resolution",
                "You left a part of a pixel. The setter draws whole ones only: round.",
            ),
            turn(
                "inch_taken_as_centimetre",
                "round(length / '1 cm' * bare(resolution, 'dpi'))",
                "You counted dpi to the centimetre. It counts to the inch, 25.4 mm.",
            ),
        ],
        no_result_when: None,
        source: GRID,
    },
    Calculation {
        name: "snapped_length",
        title: "Length in whole pixels",
        topic: Topic::BarCode,
        says: "Which length the setter draws for the one that was wanted.",
        parameters: &[
            parameter("length", "L", "length wanted", "mm", 0.01, 100.0),
            parameter("resolution", "r", "resolution of the setter", "dpi", 100.0, 12_000.0),
        ],
        outcome: outcome("L_p", "mm", KindOfQuantity::Amount, 0.0, 100.2),
        compute: |a| two(a, snapped_length),
        expansion: Some("round(length * resolution) / resolution"),
        wrong_turns: &[
            turn("not_snapped", "length", "You gave the wanted length. The setter draws the nearest whole pixels."),
            turn(
                "always_down",
                "floor(length * resolution) / resolution",
                "You cut the part of a pixel off. Go to the nearest whole number of pixels.",
            ),
            turn(
                "always_up",
                "ceil(length * resolution) / resolution",
                "You took one more pixel for every part of one. Go to the nearest whole number of pixels.",
            ),
        ],
        no_result_when: None,
        source: GRID,
    },
    Calculation {
        name: "least_snapped_length",
        title: "Least length in whole pixels",
        topic: Topic::BarCode,
        says: "Which is the least length of whole pixels that keeps a limit.",
        parameters: &[
            parameter("least", "L_0", "least length allowed", "mm", 0.01, 100.0),
            parameter("resolution", "r", "resolution of the setter", "dpi", 100.0, 12_000.0),
        ],
        outcome: outcome("L_p", "mm", KindOfQuantity::Amount, 0.01, 100.3),
        compute: |a| two(a, least_snapped_length),
        expansion: Some("ceil(least * resolution) / resolution"),
        wrong_turns: &[
            turn(
                "to_the_nearest",
                "round(least * resolution) / resolution",
                "You went to the nearest pixel, which may fall below the limit. Round up.",
            ),
            turn("not_snapped", "least", "You gave the limit. The setter draws whole pixels: round up to the next."),
            turn(
                "always_down",
                "floor(least * resolution) / resolution",
                "You cut the part of a pixel off and fell below the limit. Round up.",
            ),
        ],
        no_result_when: None,
        source: GRID,
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn what_is_drawn_lies_within_half_a_pixel(length in 0.1e-3_f64..0.1, dpi in 100.0_f64..12_000.0) {
            let resolution = dpi / 0.0254;
            let off = snapped_length(length, resolution) - length;
            prop_assert!(off.abs() <= pixel_size(resolution) * (0.5 + 1e-6), "{off}");
        }

        #[test]
        fn the_least_length_keeps_the_limit_and_wastes_no_pixel(least in 0.1e-3_f64..0.1, dpi in 100.0_f64..12_000.0) {
            let resolution = dpi / 0.0254;
            let over = (least_snapped_length(least, resolution) - least) / pixel_size(resolution);
            prop_assert!(over > -1e-5 && over < 1.0, "{over}");
        }

        #[test]
        fn whole_pixels_stay_what_they_are(pixels in 1_u16..5000, dpi in 100.0_f64..12_000.0) {
            let resolution = dpi / 0.0254;
            let length = f64::from(pixels) * pixel_size(resolution);
            prop_assert!((whole_pixels(length, resolution) - f64::from(pixels)).abs() < 1e-9);
            prop_assert!((least_snapped_length(length, resolution) - length).abs() < 1e-9 * length);
        }
    }
}

//! Repeat lengths, gears and the build-up on a plate cylinder.
//!
//! With the right undercut the plate's surface runs on the pitch circle, so
//! the repeat is the pitch circumference with nothing to add.

use std::f64::consts::PI;

use super::catalogue::{Calculation, Topic, one, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Repeat of a gear by its circular pitch, in metres.
///
/// `teeth` is the number of teeth (12 to 1000); `pitch_m` the circular pitch in
/// metres (0.05 to 1 in).
///
/// Source: definition of circular pitch, the arc from tooth to tooth.
///
/// ```
/// use gearside::trade::repeat::repeat_from_pitch;
/// // 120 teeth of 1/8 in: 15 in = 381.0 mm.
/// assert!((repeat_from_pitch(120.0, 0.003_175) - 0.381).abs() < 1e-12);
/// ```
#[must_use]
pub fn repeat_from_pitch(teeth: f64, pitch_m: f64) -> f64 {
    teeth * pitch_m
}

/// Repeat of a gear by its diametral pitch, in metres.
///
/// `teeth` is the number of teeth (12 to 1000); `diametral_pitch_per_m` the
/// teeth per metre of pitch diameter (3 to 64 teeth/in).
///
/// Source: definition of diametral pitch, teeth per inch of pitch diameter.
///
/// ```
/// use gearside::trade::repeat::repeat_from_diametral_pitch;
/// // 600 teeth of 10 DP: 188.496 in around.
/// let repeat = repeat_from_diametral_pitch(600.0, 10.0 / 0.0254);
/// assert!((repeat / 0.0254 - 188.496).abs() < 5e-4);
/// ```
#[must_use]
pub fn repeat_from_diametral_pitch(teeth: f64, diametral_pitch_per_m: f64) -> f64 {
    PI * teeth / diametral_pitch_per_m
}

/// Repeat of a gear by its module, in metres.
///
/// `teeth` is the number of teeth (12 to 1000); `module_m` the pitch diameter
/// per tooth in metres (0.5 to 10 mm).
///
/// Source: definition of the module, millimetres of pitch diameter per tooth.
///
/// ```
/// use gearside::trade::repeat::repeat_from_module;
/// // One tooth of module 5 mm is 15.708 mm of repeat.
/// assert!((repeat_from_module(1.0, 0.005) - 0.015_708).abs() < 5e-8);
/// ```
#[must_use]
pub fn repeat_from_module(teeth: f64, module_m: f64) -> f64 {
    PI * teeth * module_m
}

/// Pitch diameter of a repeat, in metres.
///
/// `repeat_m` is the repeat in metres (2 to 200 in).
///
/// Source: geometry of the circle.
///
/// ```
/// use gearside::trade::repeat::pitch_diameter;
/// // A drum of 188.5 in around is 60.0014 in across.
/// assert!((pitch_diameter(188.5 * 0.0254) / 0.0254 - 60.0014).abs() < 5e-5);
/// ```
#[must_use]
pub fn pitch_diameter(repeat_m: f64) -> f64 {
    repeat_m / PI
}

/// Diameter of the bare cylinder or sleeve that carries plate and tape so that
/// the plate's surface runs on the pitch circle, in metres.
///
/// `repeat_m` is the repeat (2 to 200 in), `plate_m` the plate's thickness (0.02
/// to 0.3 in), `tape_m` the tape's (0 to 0.15 in), all in metres.
///
/// Source: geometry. The build-up counts on both sides of the diameter.
///
/// ```
/// use gearside::trade::repeat::bare_diameter;
/// // 12 in repeat, 0.067 in plate, 0.020 in tape: 3.64572 in.
/// let diameter = bare_diameter(12.0 * 0.0254, 0.067 * 0.0254, 0.020 * 0.0254);
/// assert!((diameter / 0.0254 - 3.645_72).abs() < 5e-6);
/// ```
#[must_use]
pub fn bare_diameter(repeat_m: f64, plate_m: f64, tape_m: f64) -> f64 {
    repeat_m / PI - 2.0 * (plate_m + tape_m)
}

/// Change of the printing circumference for an error of the build-up, in metres.
///
/// `build_up_m` is the error per side in metres, thicker is positive (-0.05 to
/// 0.05 in).
///
/// Source: geometry of the circle: 2π for the radius, whatever the repeat.
///
/// ```
/// use gearside::trade::repeat::repeat_change;
/// // 0.001 in too thick: 0.00628319 in longer.
/// assert!((repeat_change(0.001) - 0.006_283_19).abs() < 5e-9);
/// ```
#[must_use]
pub fn repeat_change(build_up_m: f64) -> f64 {
    2.0 * PI * build_up_m
}

/// Undercut of a plate cylinder: what stands on it on one side, in metres.
///
/// `plate_m` is the plate's thickness (0.02 to 0.3 in), `tape_m` the tape's (0
/// to 0.15 in), `cushion_m` that of a cushion under both (0 to 0.25 in), in
/// metres. The diameters differ by twice as much.
///
/// Source: geometry.
///
/// ```
/// use gearside::trade::repeat::undercut;
/// // A 0.067 in plate on 0.020 in tape: 0.087 in.
/// assert!((undercut(0.067, 0.020, 0.0) - 0.087).abs() < 1e-12);
/// ```
#[must_use]
pub fn undercut(plate_m: f64, tape_m: f64, cushion_m: f64) -> f64 {
    plate_m + tape_m + cushion_m
}

/// Change of the printing circumference as a share of the repeat, as a fraction.
///
/// `build_up_m` is the error per side in metres, thicker is positive (-0.05 to
/// 0.05 in); `repeat_m` the repeat in metres (2 to 200 in).
///
/// Source: derived; see [`repeat_change`].
///
/// ```
/// use gearside::trade::repeat::repeat_error_share;
/// // 0.015 in tape where 0.020 in belongs, on 12 in: 0.261799 % short.
/// assert!((repeat_error_share(-0.005, 12.0) + 0.002_617_99).abs() < 5e-9);
/// ```
#[must_use]
pub fn repeat_error_share(build_up_m: f64, repeat_m: f64) -> f64 {
    repeat_change(build_up_m) / repeat_m
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "repeat_from_pitch",
        title: "Repeat from circular pitch",
        topic: Topic::Repeat,
        says: "How long one turn of a plate gear prints, by circular pitch.",
        parameters: &[
            parameter("teeth", "N", "number of teeth", "teeth", 12.0, 1000.0),
            parameter("pitch", "p", "circular pitch", "in", 0.05, 1.0),
        ],
        outcome: outcome("R", "in", KindOfQuantity::PressLength, 2.0, 200.0),
        compute: |a| two(a, repeat_from_pitch),
        expansion: Some("teeth * pitch"),
        wrong_turns: &[
            turn(
                "diameter_given",
                "teeth * pitch / pi",
                "You gave the pitch diameter. The repeat is the way around: teeth times pitch.",
            ),
            turn(
                "multiplied_by_pi",
                "pi * teeth * pitch",
                "You multiplied by π. Circular pitch is measured along the circle already.",
            ),
        ],
        no_result_when: None,
        source: "definition of circular pitch: the arc from one tooth to the next on the pitch circle",
    },
    Calculation {
        name: "repeat_from_diametral_pitch",
        title: "Repeat from diametral pitch",
        topic: Topic::Repeat,
        says: "How long one turn of a plate gear prints, by diametral pitch.",
        parameters: &[
            parameter("teeth", "N", "number of teeth", "teeth", 12.0, 1000.0),
            parameter("diametral_pitch", "P", "teeth per length of pitch diameter", "teeth/in", 3.0, 64.0),
        ],
        outcome: outcome("R", "in", KindOfQuantity::PressLength, 2.0, 200.0),
        compute: |a| two(a, repeat_from_diametral_pitch),
        expansion: Some("pi * teeth / diametral_pitch"),
        wrong_turns: &[
            turn(
                "pi_forgotten",
                "teeth / diametral_pitch",
                "You read diametral pitch as teeth per inch of repeat. It counts along the diameter: multiply by π.",
            ),
            turn(
                "radius_taken",
                "2 * pi * teeth / diametral_pitch",
                "You took teeth over pitch for a radius. It is the diameter: multiply by π, not 2π.",
            ),
        ],
        no_result_when: None,
        source: "definition of diametral pitch: teeth per inch of pitch diameter",
    },
    Calculation {
        name: "repeat_from_module",
        title: "Repeat from module",
        topic: Topic::Repeat,
        says: "How long one turn of a plate gear prints, by module.",
        parameters: &[
            parameter("teeth", "N", "number of teeth", "teeth", 12.0, 1000.0),
            parameter("module", "m", "module, the pitch diameter per tooth", "mm", 0.5, 10.0),
        ],
        outcome: outcome("R", "mm", KindOfQuantity::PressLength, 50.0, 5100.0),
        compute: |a| two(a, repeat_from_module),
        expansion: Some("pi * teeth * module"),
        wrong_turns: &[
            turn("pi_forgotten", "teeth * module", "You gave the pitch diameter. Multiply by π for the way around."),
            turn(
                "radius_taken",
                "2 * pi * teeth * module",
                "You took teeth times module for a radius. It is the diameter: multiply by π, not 2π.",
            ),
        ],
        no_result_when: None,
        source: "definition of the module: millimetres of pitch diameter per tooth",
    },
    Calculation {
        name: "pitch_diameter",
        title: "Pitch diameter",
        topic: Topic::Repeat,
        says: "How large across the pitch circle of a repeat is.",
        parameters: &[parameter("repeat", "R", "repeat", "in", 2.0, 200.0)],
        outcome: outcome("d_p", "in", KindOfQuantity::PressLength, 0.6, 64.0),
        compute: |a| one(a, pitch_diameter),
        expansion: Some("repeat / pi"),
        wrong_turns: &[
            turn("radius_given", "repeat / (2 * pi)", "You gave the radius. The diameter is the repeat divided by π."),
            turn(
                "multiplied_by_pi",
                "pi * repeat",
                "You multiplied by π. From the way around to the diameter you divide.",
            ),
        ],
        no_result_when: None,
        source: "geometry of the circle",
    },
    Calculation {
        name: "bare_diameter",
        title: "Bare cylinder diameter",
        topic: Topic::Repeat,
        says: "How large a bare cylinder must be so that plate and tape bring it to the repeat.",
        parameters: &[
            parameter("repeat", "R", "repeat", "in", 2.0, 200.0),
            parameter("plate", "t", "thickness of the plate", "in", 0.02, 0.3),
            parameter("tape", "t_t", "thickness of the tape", "in", 0.0, 0.15),
        ],
        outcome: outcome("d", "in", KindOfQuantity::PressLength, 0.4, 64.0),
        compute: |a| three(a, bare_diameter),
        expansion: Some("repeat / pi - 2 * (plate + tape)"),
        wrong_turns: &[
            turn(
                "one_side_only",
                "repeat / pi - (plate + tape)",
                "You took the build-up off one side only. A diameter has it on both.",
            ),
            turn(
                "tape_forgotten",
                "repeat / pi - 2 * plate",
                "You forgot the tape. It lies under the plate and belongs to the undercut.",
            ),
            turn(
                "build_up_added",
                "repeat / pi + 2 * (plate + tape)",
                "You added the build-up. The bare cylinder is smaller than the pitch circle.",
            ),
            turn(
                "radius_taken",
                "repeat / (2 * pi) - 2 * (plate + tape)",
                "You started from the radius. The repeat divided by π is the diameter.",
            ),
        ],
        no_result_when: None,
        source: "geometry: plate and tape on both sides of the diameter",
    },
    Calculation {
        name: "repeat_change",
        title: "Repeat change from build-up",
        topic: Topic::Repeat,
        says: "How much longer the surface runs in a turn when the build-up is too thick.",
        parameters: &[parameter("build_up", "δ", "error of the build-up on one side", "in", -0.05, 0.05)],
        outcome: outcome("Δ_R", "in", KindOfQuantity::PressLength, -0.32, 0.32),
        compute: |a| one(a, repeat_change),
        expansion: Some("2 * pi * build_up"),
        wrong_turns: &[
            turn(
                "taken_as_diameter",
                "pi * build_up",
                "You took the error for a change of diameter. It is there on both sides: 2π times it.",
            ),
            turn("taken_as_it_is", "build_up", "You took the error as it is. The circumference grows by 2π times it."),
        ],
        no_result_when: None,
        source: "geometry of the circle: 2π times the change of radius, whatever the repeat",
    },
    Calculation {
        name: "undercut",
        title: "Undercut",
        topic: Topic::Repeat,
        says: "How far the bare cylinder lies below the pitch circle, on one side.",
        parameters: &[
            parameter("plate", "t", "thickness of the plate", "in", 0.02, 0.3),
            parameter("tape", "t_t", "thickness of the tape", "in", 0.0, 0.15),
            parameter("cushion", "t_c", "thickness of a cushion under both", "in", 0.0, 0.25),
        ],
        outcome: outcome("u", "in", KindOfQuantity::PressLength, 0.02, 0.7),
        compute: |a| three(a, undercut),
        expansion: Some("plate + tape + cushion"),
        wrong_turns: &[
            turn(
                "both_sides_counted",
                "2 * (plate + tape + cushion)",
                "You gave the difference of the diameters. The undercut is counted on one side.",
            ),
            turn(
                "tape_forgotten",
                "plate + cushion",
                "You forgot the tape. It lies under the plate and belongs to the undercut.",
            ),
            turn("plate_only", "plate", "You gave the plate alone. All that lies under it belongs to the undercut."),
        ],
        no_result_when: None,
        source: "geometry: the plate's surface stands on the pitch circle",
    },
    Calculation {
        name: "repeat_error_share",
        title: "Repeat error in percent",
        topic: Topic::Repeat,
        says: "By what share of the repeat the surface runs too long when the build-up is too thick.",
        parameters: &[
            parameter("build_up", "δ", "error of the build-up on one side", "in", -0.05, 0.05),
            parameter("repeat", "R", "repeat", "in", 2.0, 200.0),
        ],
        outcome: outcome("ε", "%", KindOfQuantity::Amount, -16.0, 16.0),
        compute: |a| two(a, repeat_error_share),
        expansion: Some("2 * pi * build_up / repeat"),
        wrong_turns: &[
            turn(
                "taken_as_diameter",
                "pi * build_up / repeat",
                "You took the error for a change of diameter. It is there on both sides: 2π times it.",
            ),
            turn(
                "taken_as_it_is",
                "build_up / repeat",
                "You took the error as it is. The circumference grows by 2π times it.",
            ),
            turn(
                "share_of_the_diameter",
                "2 * pi * build_up / (repeat / pi)",
                "You divided by the pitch diameter. Divide by the repeat, the way around.",
            ),
        ],
        no_result_when: None,
        source: "geometry of the circle: 2π times the change of radius, as a share of the repeat",
    },
];

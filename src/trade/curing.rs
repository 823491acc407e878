//! Drying and curing: dwell and dose. No ventilation is worked out here; that
//! is for the code authority and the site's engineers.

use super::catalogue::{Calculation, Topic, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Time a point of the web spends under a dryer or lamp, in seconds.
///
/// `path_m` is the length of web under it in metres (0.1 to 200 ft),
/// `speed_m_s` the web speed in m/s (1 to 3000 ft/min).
///
/// Source: definition of speed.
///
/// ```
/// use gearside::trade::curing::dwell;
/// // A 3 m tunnel at 150 m/min: 1.2 s.
/// assert!((dwell(3.0, 2.5) - 1.2).abs() < 1e-12);
/// ```
#[must_use]
pub fn dwell(path_m: f64, speed_m_s: f64) -> f64 {
    path_m / speed_m_s
}

/// Dose of ultraviolet light on the web, in J/m².
///
/// `irradiance_w_m2` is the *average* irradiance over the window in W/m² (10 to
/// 50,000 mW/cm²), `window_m` the window's length along the web in metres (0.1
/// to 30 cm), `speed_m_s` the web speed in m/s (1 to 3000 ft/min).
///
/// Source: derived. Dose is irradiance summed over time.
///
/// ```
/// use gearside::trade::curing::uv_dose;
/// // 4 W/cm² over 2.0 cm at 100 m/min: 48 mJ/cm², which is 480 J/m².
/// assert!((uv_dose(40_000.0, 0.02, 100.0 / 60.0) - 480.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn uv_dose(irradiance_w_m2: f64, window_m: f64, speed_m_s: f64) -> f64 {
    irradiance_w_m2 * window_m / speed_m_s
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "dwell",
        title: "Dwell",
        topic: Topic::Curing,
        says: "How long a point of the web is in a dryer or under a lamp.",
        parameters: &[
            parameter("path", "L", "length of web in the dryer", "ft", 0.1, 200.0),
            parameter("speed", "v", "web speed", "ft/min", 1.0, 3000.0),
        ],
        outcome: outcome("τ", "s", KindOfQuantity::Amount, 0.002, 12_000.0),
        compute: |a| two(a, dwell),
        expansion: Some("path / speed"),
        wrong_turns: &[
            turn(
                "minutes_as_seconds",
                "path / speed / 60",
                "You gave minutes as seconds. The speed is per minute: multiply by 60.",
            ),
            turn(
                "speed_over_path",
                "bare(speed, 'ft/min') / bare(path, 'ft') * '1 s'",
                "You divided speed by path. A longer dryer holds the web longer: path divided by speed.",
            ),
        ],
        no_result_when: None,
        source: "definition of speed",
    },
    Calculation {
        name: "uv_dose",
        title: "UV dose",
        topic: Topic::Curing,
        says: "How much ultraviolet energy per area the web gets in one pass.",
        parameters: &[
            parameter("irradiance", "E", "average irradiance over the window", "mW/cm²", 10.0, 50_000.0),
            parameter("window", "L", "length of the window along the web", "cm", 0.1, 30.0),
            parameter("speed", "v", "web speed", "m/min", 0.3, 1000.0),
        ],
        outcome: outcome("H", "mJ/cm²", KindOfQuantity::Amount, 0.1, 100_000.0),
        compute: |a| three(a, uv_dose),
        expansion: Some("irradiance * window / speed"),
        wrong_turns: &[
            turn(
                "metres_per_minute_kept",
                "bare(irradiance, 'mW/cm²') * bare(window, 'cm') / bare(speed, 'm/min') * '1 mJ/cm²'",
                "You used m/min as cm/s. 1 m/min is 1.667 cm/s: convert the speed first.",
            ),
            turn(
                "watts_as_milliwatts",
                "irradiance * window / speed / 1000",
                "You mixed W and mW. Dose in mJ/cm² wants irradiance in mW/cm².",
            ),
            turn(
                "window_forgotten",
                "bare(irradiance, 'mW/cm²') / bare(speed, 'cm/s') * '1 mJ/cm²'",
                "You left the window out. Its length divided by the speed is the time under the lamp.",
            ),
        ],
        no_result_when: None,
        source: "derived: dose is irradiance summed over time; average irradiance times window over speed",
    },
];

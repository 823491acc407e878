//! Drying and curing: dwell, dose, and what has to evaporate. No ventilation is
//! worked out here; that is for the code authority and the site's engineers.

use super::catalogue::{Calculation, Topic, five, four, outcome, parameter, three, turn, two};
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

/// Length of a dryer for a dwell, in metres.
///
/// `dwell_s` is the time in seconds (0.002 to 600), `speed_m_s` the web speed in
/// m/s (1 to 3000 ft/min).
///
/// Source: definition of speed.
///
/// ```
/// use gearside::trade::curing::dryer_length;
/// // 1.2 s at 150 m/min: 3 m.
/// assert!((dryer_length(1.2, 2.5) - 3.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn dryer_length(dwell_s: f64, speed_m_s: f64) -> f64 {
    dwell_s * speed_m_s
}

/// Average irradiance over a window, in W/m².
///
/// `peak_w_m2` is the peak in W/m² (0.01 to 50 W/cm²), `shape` the average over
/// the peak (0.5 to 1): 1 for a flat profile, 2/π for half a sine, 0.5 for a
/// triangle.
///
/// Source: derived: the mean of the profile over the window.
///
/// ```
/// use gearside::trade::curing::average_irradiance;
/// // Half a sine of 1.5 W/cm² at its peak: 0.63662 of that.
/// let shape = 2.0 / std::f64::consts::PI;
/// assert!((average_irradiance(15_000.0, shape) - 9549.3).abs() < 0.05);
/// ```
#[must_use]
pub fn average_irradiance(peak_w_m2: f64, shape: f64) -> f64 {
    peak_w_m2 * shape
}

/// Speed at which the web gets a dose, in m/s.
///
/// `irradiance_w_m2` is the *average* irradiance of a lamp over its window in
/// W/m² (0.01 to 50 W/cm²), `window_m` the window's length along the web in
/// metres (1 to 300 mm), `lamps` how many such lamps there are in a row (1 to
/// 20), `dose_j_m2` the dose in J/m² (1 to 5000 mJ/cm²).
///
/// Source: derived from [`uv_dose`]; lamps in a row add their doses, not their
/// peaks.
///
/// ```
/// use gearside::trade::curing::speed_for_dose;
/// // 4 W/cm² over 20 mm, 120 mJ/cm²: 40 m/min, and 80 with two lamps.
/// assert!((speed_for_dose(40_000.0, 0.02, 1.0, 1200.0) * 60.0 - 40.0).abs() < 1e-9);
/// assert!((speed_for_dose(40_000.0, 0.02, 2.0, 1200.0) * 60.0 - 80.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn speed_for_dose(irradiance_w_m2: f64, window_m: f64, lamps: f64, dose_j_m2: f64) -> f64 {
    lamps * irradiance_w_m2 * window_m / dose_j_m2
}

/// Speed at which a weaker lamp still gives the same dose, in m/s.
///
/// `speed_m_s` is the speed at the full output in m/s (1 to 3000 ft/min),
/// `output` what is left of the output as a fraction (0.1 to 1).
///
/// Source: derived from [`uv_dose`]: dose goes with irradiance over speed.
///
/// ```
/// use gearside::trade::curing::speed_for_output;
/// // A lamp aged to 80 %: 100 m/min come down to 80.
/// assert!((speed_for_output(100.0, 0.80) - 80.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn speed_for_output(speed_m_s: f64, output: f64) -> f64 {
    speed_m_s * output
}

/// What a dryer has to evaporate, in kg/s.
///
/// `wet_coat_kg_m2` is the wet coat weight on a solid in kg/m² (0.1 to 100
/// g/m²), `solids_by_weight` is a fraction (0 to 1), `coverage` the share of the
/// web's area that prints (0 to 1), `width_m` the width of the web in metres (0.05
/// to 3), `speed_m_s` the web speed in m/s (1 to 1000 m/min). Decks add up.
///
/// Source: derived: mass balance, nothing stays in the film. It says nothing
/// about ventilation.
///
/// ```
/// use gearside::trade::curing::evaporation;
/// // 2.0 g/m² at 40 % solids and 60 % coverage, 1 m wide at 200 m/min: 8.64 kg/h.
/// assert!((evaporation(2e-3, 0.40, 0.60, 1.0, 200.0 / 60.0) * 3600.0 - 8.64).abs() < 1e-9);
/// ```
#[must_use]
pub fn evaporation(wet_coat_kg_m2: f64, solids_by_weight: f64, coverage: f64, width_m: f64, speed_m_s: f64) -> f64 {
    wet_coat_kg_m2 * (1.0 - solids_by_weight) * coverage * width_m * speed_m_s
}

/// Power that evaporation takes, in watts.
///
/// `evaporation_kg_s` is what evaporates in kg/s (0.01 to 500 kg/h),
/// `latent_heat_j_kg` the latent heat in J/kg (100 to 3000 kJ/kg; water at
/// 100 °C 2256). Heating air and web and what is lost come on top.
///
/// Source: definition of latent heat.
///
/// ```
/// use gearside::trade::curing::latent_power;
/// // 8.64 kg/h of water: 5.4144 kW.
/// assert!((latent_power(8.64 / 3600.0, 2.256e6) - 5414.4).abs() < 1e-9);
/// ```
#[must_use]
pub fn latent_power(evaporation_kg_s: f64, latent_heat_j_kg: f64) -> f64 {
    evaporation_kg_s * latent_heat_j_kg
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
    Calculation {
        name: "dryer_length",
        title: "Length of a dryer",
        topic: Topic::Curing,
        says: "How much web a dryer must hold for a dwell at a speed.",
        parameters: &[
            parameter("dwell", "τ", "dwell", "s", 0.002, 600.0),
            parameter("speed", "v", "web speed", "ft/min", 1.0, 3000.0),
        ],
        outcome: outcome("L", "ft", KindOfQuantity::Amount, 0.01, 1000.0),
        compute: |a| two(a, dryer_length),
        expansion: Some("dwell * speed"),
        wrong_turns: &[
            turn(
                "seconds_as_minutes",
                "dwell * speed * 60",
                "You took seconds for minutes. The speed is per minute: divide by 60.",
            ),
            turn(
                "speed_over_dwell",
                "bare(speed, 'ft/min') / bare(dwell, 's') * '1 ft'",
                "You divided speed by dwell. The longer the dwell, the longer the dryer: multiply.",
            ),
        ],
        no_result_when: None,
        source: "definition of speed",
    },
    Calculation {
        name: "average_irradiance",
        title: "Average irradiance",
        topic: Topic::Curing,
        says: "What irradiance a window has on average, from its peak.",
        parameters: &[
            parameter("peak", "E_p", "irradiance at the peak", "W/cm²", 0.01, 50.0),
            parameter("shape", "k", "average over peak of the profile", "", 0.5, 1.0),
        ],
        outcome: outcome("E", "W/cm²", KindOfQuantity::Amount, 0.005, 50.0),
        compute: |a| two(a, average_irradiance),
        expansion: Some("peak * shape"),
        wrong_turns: &[
            turn(
                "peak_itself",
                "peak",
                "You took the peak for the average. Only a flat profile has its peak all along the window.",
            ),
            turn(
                "divided_by_the_shape",
                "peak / shape",
                "You divided by the shape. An average is never above the peak: multiply.",
            ),
            turn("half_of_the_peak", "peak / 2", "You took half of the peak. That is the average of a triangle."),
        ],
        no_result_when: None,
        source: "derived: the mean of the profile; flat 1, half a sine 2/π, triangle 0.5",
    },
    Calculation {
        name: "speed_for_dose",
        title: "Speed for a UV dose",
        topic: Topic::Curing,
        says: "How fast the web may run and still get a dose.",
        parameters: &[
            parameter("irradiance", "E", "average irradiance of a lamp over its window", "W/cm²", 0.01, 50.0),
            parameter("window", "L", "length of the window along the web", "mm", 1.0, 300.0),
            parameter("lamps", "n", "number of lamps in a row", "", 1.0, 20.0),
            parameter("dose", "H", "dose wanted", "mJ/cm²", 1.0, 5000.0),
        ],
        outcome: outcome("v", "ft/min", KindOfQuantity::Amount, 1.0, 5000.0),
        compute: |a| four(a, speed_for_dose),
        expansion: Some("lamps * irradiance * window / dose"),
        wrong_turns: &[
            turn(
                "lamps_forgotten",
                "irradiance * window / dose",
                "You counted one lamp. Lamps in a row add their doses: multiply by their number.",
            ),
            turn(
                "lamps_the_wrong_way",
                "irradiance * window / dose / lamps",
                "You divided by the lamps. More lamps let the web run faster: multiply.",
            ),
            turn(
                "centimetres_a_second_kept",
                "bare(lamps * irradiance * window / dose, 'cm/s') * '1 ft/min'",
                "You gave centimetres per second as feet per minute. 1 cm/s is 1.9685 ft/min.",
            ),
        ],
        no_result_when: None,
        source: "derived: dose is average irradiance times window over speed; lamps add doses",
    },
    Calculation {
        name: "speed_for_output",
        title: "Speed for a weaker lamp",
        topic: Topic::Curing,
        says: "How fast the web may run with what is left of a lamp's output.",
        parameters: &[
            parameter("speed", "v", "speed at the full output", "ft/min", 1.0, 3000.0),
            parameter("output", "q", "output that is left", "%", 10.0, 100.0),
        ],
        outcome: outcome("v_2", "ft/min", KindOfQuantity::Amount, 0.1, 3000.0),
        compute: |a| two(a, speed_for_output),
        expansion: Some("speed * output"),
        wrong_turns: &[
            turn(
                "divided_by_the_output",
                "speed / output",
                "You ran faster. A weaker lamp needs more time for the same dose: multiply by its output.",
            ),
            turn("loss_as_output", "speed * (1 - output)", "You used what is lost. Multiply by what is left."),
            turn(
                "loss_added_to_the_time",
                "speed / (2 - output)",
                "You lengthened the time by the loss. It grows by one over the output.",
            ),
        ],
        no_result_when: None,
        source: "derived: dose goes with irradiance over speed",
    },
    Calculation {
        name: "evaporation",
        title: "Evaporation",
        topic: Topic::Curing,
        says: "How much a dryer has to evaporate from the wet print; no base for ventilation.",
        parameters: &[
            parameter("wet_coat", "W", "wet coat weight on a solid", "g/m²", 0.1, 100.0),
            parameter("solids_by_weight", "s_w", "solids of the ink, by weight", "%", 0.0, 100.0),
            parameter("coverage", "c", "share of the area that prints", "%", 0.0, 100.0),
            parameter("width", "w", "width of the web", "m", 0.05, 3.0),
            parameter("speed", "v", "web speed", "m/min", 1.0, 1000.0),
        ],
        outcome: outcome("m_e", "kg/h", KindOfQuantity::Amount, 0.0, 1000.0),
        compute: |a| five(a, evaporation),
        expansion: Some("wet_coat * (1 - solids_by_weight) * coverage * width * speed"),
        wrong_turns: &[
            turn(
                "solids_evaporated",
                "wet_coat * solids_by_weight * coverage * width * speed",
                "You evaporated the solids. They stay: what goes is the rest.",
            ),
            turn(
                "coverage_forgotten",
                "wet_coat * (1 - solids_by_weight) * width * speed",
                "You covered the whole web. Multiply by the coverage.",
            ),
            turn(
                "minutes_as_hours",
                "wet_coat * (1 - solids_by_weight) * coverage * width * speed / 60",
                "You gave what goes in a minute. An hour has 60 of them.",
            ),
        ],
        no_result_when: None,
        source: "derived: mass balance; article on drying energy with the same flow of mass, without coverage, \
                 https://www.yfrheating.cn/applications/digital-printing/line-speed-vs-drying-energy-estimating-required-power",
    },
    Calculation {
        name: "latent_power",
        title: "Power of evaporation",
        topic: Topic::Curing,
        says: "What power the evaporation alone takes.",
        parameters: &[
            parameter("evaporation", "m_e", "what evaporates", "kg/h", 0.01, 500.0),
            parameter("latent_heat", "h", "latent heat", "kJ/kg", 100.0, 3000.0),
        ],
        outcome: outcome("P", "kW", KindOfQuantity::Amount, 0.0, 450.0),
        compute: |a| two(a, latent_power),
        expansion: Some("evaporation * latent_heat"),
        wrong_turns: &[
            turn(
                "kilojoules_an_hour_as_kilowatts",
                "bare(evaporation, 'kg/h') * bare(latent_heat, 'kJ/kg') * '1 kW'",
                "You gave kJ per hour as kW. 1 kW is 1 kJ per second: divide by 3600.",
            ),
            turn("divided_by_sixty", "evaporation * latent_heat * 60", "You divided by 60. An hour has 3600 seconds."),
        ],
        no_result_when: None,
        source: "definition of latent heat; water 2256 kJ/kg at 100 °C, \
                 https://www.yfrheating.cn/applications/digital-printing/line-speed-vs-drying-energy-estimating-required-power",
    },
];

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use proptest::prelude::*;

    use super::*;

    /// The shapes that the documentation names, by summing their profiles.
    #[test]
    fn shapes_are_the_means_of_their_profiles() {
        let mean_of = |profile: fn(f64) -> f64| {
            let steps = 10_000;
            (0..steps).fold(0.0, |sum, step| sum + profile((f64::from(step) + 0.5) / f64::from(steps)))
                / f64::from(steps)
        };
        let half_a_sine = mean_of(|x| libm::sin(PI * x));
        let triangle = mean_of(|x| 1.0 - (2.0 * x - 1.0).abs());
        assert!((average_irradiance(1.0, 2.0 / PI) - half_a_sine).abs() < 1e-7);
        assert!((average_irradiance(1.0, 0.5) - triangle).abs() < 1e-7);
    }

    proptest! {
        #[test]
        fn dwell_and_length_lead_back_to_each_other(path in 0.05_f64..60.0, speed in 0.01_f64..15.0) {
            prop_assert!((dryer_length(dwell(path, speed), speed) - path).abs() < 1e-9 * path);
        }

        #[test]
        fn the_speed_for_a_dose_gives_that_dose(
            irradiance in 100.0_f64..5e5, window in 0.001_f64..0.3, lamps in 1_i32..20, dose in 10.0_f64..5e4
        ) {
            let lamps = f64::from(lamps);
            let speed = speed_for_dose(irradiance, window, lamps, dose);
            prop_assert!((lamps * uv_dose(irradiance, window, speed) - dose).abs() < 1e-9 * dose);
        }

        #[test]
        fn a_weaker_lamp_at_its_speed_gives_the_same_dose(irradiance in 100.0_f64..5e5, speed in 0.01_f64..15.0, output in 0.1_f64..1.0) {
            let new = uv_dose(irradiance, 0.02, speed);
            let aged = uv_dose(irradiance * output, 0.02, speed_for_output(speed, output));
            prop_assert!((aged - new).abs() < 1e-9 * new);
        }

        #[test]
        fn solids_and_what_evaporates_make_the_whole_coat(wet in 1e-4_f64..0.1, solids in 0.0_f64..1.0, width in 0.05_f64..3.0, speed in 0.02_f64..15.0) {
            let (gone, kept) = (evaporation(wet, solids, 1.0, width, speed), wet * solids * width * speed);
            prop_assert!((gone + kept - wet * width * speed).abs() < 1e-12);
        }
    }
}

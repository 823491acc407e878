//! Web, roll and job: speeds, areas, lengths, times.

use std::f64::consts::PI;

use super::catalogue::{Calculation, Topic, four, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Impressions per second.
///
/// `speed_m_s` is the web speed in m/s (1 to 3000 ft/min), `repeat_m` the repeat
/// in metres (2 to 200 in).
///
/// Source: derived. One repeat of web passes per impression.
///
/// ```
/// use gearside::trade::web::impressions_per_hour;
/// // 300 ft/min on a 12 in repeat: 300 impressions a minute.
/// let per_second = impressions_per_hour(300.0 * 0.3048 / 60.0, 12.0 * 0.0254);
/// assert!((per_second * 60.0 - 300.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn impressions_per_hour(speed_m_s: f64, repeat_m: f64) -> f64 {
    speed_m_s / repeat_m
}

/// Labels per second.
///
/// `speed_m_s` and `repeat_m` as for [`impressions_per_hour`]; `around` and
/// `across` are the labels around the cylinder (1 to 100) and across the web
/// (1 to 60).
///
/// Source: derived. Each impression prints around times across.
///
/// ```
/// use gearside::trade::web::labels_per_hour;
/// // 300 ft/min, 12 in repeat, 4 around, 3 across: 216,000 an hour.
/// let per_second = labels_per_hour(300.0 * 0.3048 / 60.0, 12.0 * 0.0254, 4.0, 3.0);
/// assert!((per_second * 3600.0 - 216_000.0).abs() < 1e-6);
/// ```
#[must_use]
pub fn labels_per_hour(speed_m_s: f64, repeat_m: f64, around: f64, across: f64) -> f64 {
    speed_m_s / repeat_m * around * across
}

/// Area of a web, in m².
///
/// `length_m` is its length (1 to 500,000 ft), `width_m` its width (0.5 to
/// 120 in), in metres.
///
/// Source: geometry.
///
/// ```
/// use gearside::trade::web::web_area;
/// // 5,000 ft of 13 in web: 503.225 m².
/// assert!((web_area(5000.0 * 0.3048, 13.0 * 0.0254) - 503.225).abs() < 5e-4);
/// ```
#[must_use]
pub fn web_area(length_m: f64, width_m: f64) -> f64 {
    length_m * width_m
}

/// Length of web on a roll, in metres.
///
/// `outer_m` is the roll's outside diameter (2 to 80 in), `core_m` the diameter
/// where the web begins, the outside of the core (0.5 to 12 in), `caliper_m` the
/// total thickness of the wound web (0.3 to 60 mil), in metres. Wound-in air
/// makes real rolls larger.
///
/// Source: derived. The roll's side is as large an area as the web's edge.
///
/// ```
/// use gearside::trade::web::roll_length;
/// // 3000 m of 100 µm film on a 150 mm core make a roll of 635.981 mm.
/// assert!((roll_length(0.635_981, 0.150, 100e-6) - 3000.0).abs() < 0.01);
/// ```
#[must_use]
pub fn roll_length(outer_m: f64, core_m: f64, caliper_m: f64) -> f64 {
    PI * (outer_m * outer_m - core_m * core_m) / (4.0 * caliper_m)
}

/// Length to run for a net length, in metres.
///
/// `net_m` is the good length in metres (1 to 500,000 ft), `waste` the share of
/// what is *run* that is waste, 0 to 0.5. A fixed set-up length comes on top.
///
/// Source: definition of waste as a share of what is run.
///
/// ```
/// use gearside::trade::web::gross_length;
/// // 6 % of 48,000 ft is 2,880 ft of waste and leaves 45,120 ft good.
/// assert!((gross_length(45_120.0, 0.06) - 48_000.0).abs() < 1e-8);
/// ```
#[must_use]
pub fn gross_length(net_m: f64, waste: f64) -> f64 {
    net_m / (1.0 - waste)
}

/// Time to run a length, in seconds.
///
/// `length_m` is the length in metres (1 to 500,000 ft), `speed_m_s` the web
/// speed in m/s (1 to 3000 ft/min). Set-up and roll changes come on top.
///
/// Source: definition of speed.
///
/// ```
/// use gearside::trade::web::run_time;
/// // 7,500 ft at 450 ft/min: 16.6667 min.
/// let seconds = run_time(7500.0 * 0.3048, 450.0 * 0.3048 / 60.0);
/// assert!((seconds / 60.0 - 16.6667).abs() < 5e-5);
/// ```
#[must_use]
pub fn run_time(length_m: f64, speed_m_s: f64) -> f64 {
    length_m / speed_m_s
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "impressions_per_hour",
        title: "Impressions per hour",
        topic: Topic::Web,
        says: "How often the plate prints in an hour at a web speed.",
        parameters: &[
            parameter("speed", "v", "web speed", "ft/min", 1.0, 3000.0),
            parameter("repeat", "R", "repeat", "in", 2.0, 200.0),
        ],
        outcome: outcome("n", "impressions/h", KindOfQuantity::Amount, 1.0, 1_100_000.0),
        compute: |a| two(a, impressions_per_hour),
        expansion: Some("speed / repeat"),
        wrong_turns: &[
            turn(
                "feet_over_inches",
                "bare(speed, 'ft/min') / bare(repeat, 'in') * '60 impressions/h'",
                "You divided feet by inches. Bring both to one unit first: 1 ft is 12 in.",
            ),
            turn(
                "per_minute",
                "speed / repeat / 60",
                "You gave impressions per minute. An hour has 60 minutes: multiply by 60.",
            ),
        ],
        no_result_when: None,
        source: "derived: one repeat of web passes per impression",
    },
    Calculation {
        name: "labels_per_hour",
        title: "Labels per hour",
        topic: Topic::Web,
        says: "How many labels a press prints in an hour.",
        parameters: &[
            parameter("speed", "v", "web speed", "ft/min", 1.0, 3000.0),
            parameter("repeat", "R", "repeat", "in", 2.0, 200.0),
            parameter("around", "n_a", "number of labels around the cylinder", "labels", 1.0, 100.0),
            parameter("across", "n_w", "number of labels across the web", "labels", 1.0, 60.0),
        ],
        outcome: outcome("n", "labels/h", KindOfQuantity::Amount, 1.0, 20_000_000.0),
        compute: |a| four(a, labels_per_hour),
        expansion: Some("speed / repeat * around * across"),
        wrong_turns: &[
            turn(
                "feet_over_inches",
                "bare(speed, 'ft/min') / bare(repeat, 'in') * '60 labels/h' * around * across",
                "You divided feet by inches. Bring both to one unit first: 1 ft is 12 in.",
            ),
            turn(
                "around_forgotten",
                "speed / repeat * across",
                "You counted one label a turn in each lane. Multiply by the number around the cylinder.",
            ),
            turn(
                "across_forgotten",
                "speed / repeat * around",
                "You counted one lane. Multiply by the number across the web.",
            ),
            turn(
                "around_and_across_added",
                "speed / repeat * (around + across)",
                "You added around and across. Each label around stands in every lane: multiply.",
            ),
        ],
        no_result_when: None,
        source: "derived: each impression prints around times across",
    },
    Calculation {
        name: "web_area",
        title: "Area of web",
        topic: Topic::Web,
        says: "How much area a length of web has.",
        parameters: &[
            parameter("length", "L", "length of web", "ft", 1.0, 500_000.0),
            parameter("width", "w", "width of the web", "in", 0.5, 120.0),
        ],
        outcome: outcome("A", "MSI", KindOfQuantity::Amount, 0.006, 720_000.0),
        compute: |a| two(a, web_area),
        expansion: Some("length * width"),
        wrong_turns: &[
            turn(
                "feet_times_inches",
                "bare(length, 'ft') * bare(width, 'in') / 1000 * '1 MSI'",
                "You multiplied feet by inches. An MSI is 1000 square inches: take the length in inches.",
            ),
            turn(
                "square_feet_as_square_inches",
                "bare(length * width, 'ft²') / 1000 * '1 MSI'",
                "You counted thousands of square feet. A square foot is 144 square inches.",
            ),
        ],
        no_result_when: None,
        source: "geometry; 1 MSI = 1000 in² = 0.64516 m²",
    },
    Calculation {
        name: "roll_length",
        title: "Length on a roll",
        topic: Topic::Web,
        says: "How much web is on a roll, by its diameters and the thickness of the web.",
        parameters: &[
            parameter("outer", "D", "outside diameter of the roll", "in", 2.0, 80.0),
            parameter("core", "d", "diameter where the web begins", "in", 0.5, 13.0),
            parameter("caliper", "t", "total thickness of the wound web", "mil", 0.3, 60.0),
        ],
        outcome: outcome("L", "ft", KindOfQuantity::Amount, 1.0, 1_400_000.0),
        compute: |a| three(a, roll_length),
        expansion: Some("pi * (outer^2 - core^2) / (4 * caliper)"),
        wrong_turns: &[
            turn(
                "difference_squared",
                "pi * (outer - core)^2 / (4 * caliper)",
                "You squared the difference of the diameters. Square each, then take the difference.",
            ),
            turn(
                "four_forgotten",
                "pi * (outer^2 - core^2) / caliper",
                "You forgot the 4. The area of a circle is π d² ÷ 4.",
            ),
            turn("core_forgotten", "pi * outer^2 / (4 * caliper)", "You counted the core as web. Take its area off."),
        ],
        no_result_when: None,
        source: "derived: the side of the roll is as large an area as the edge of the web",
    },
    Calculation {
        name: "gross_length",
        title: "Length to run",
        topic: Topic::Web,
        says: "How much web to run for a good length, with waste as a share of what is run.",
        parameters: &[
            parameter("net", "L_n", "good length", "ft", 1.0, 500_000.0),
            parameter("waste", "w", "waste as a share of what is run", "%", 0.0, 50.0),
        ],
        outcome: outcome("L_g", "ft", KindOfQuantity::Amount, 1.0, 1_000_000.0),
        compute: |a| two(a, gross_length),
        expansion: Some("net / (1 - waste)"),
        wrong_turns: &[
            turn(
                "waste_on_the_good_length",
                "net * (1 + waste)",
                "You took the waste of the good length. It is a share of what is run: divide by one minus it.",
            ),
            turn(
                "waste_taken_off",
                "net * (1 - waste)",
                "You took the waste off the good length. You must run more than that, not less.",
            ),
        ],
        no_result_when: None,
        source: "definition: waste as a share of what is run",
    },
    Calculation {
        name: "run_time",
        title: "Running time",
        topic: Topic::Web,
        says: "How long a length of web takes at a speed.",
        parameters: &[
            parameter("length", "L", "length to run", "ft", 1.0, 1_000_000.0),
            parameter("speed", "v", "web speed", "ft/min", 1.0, 3000.0),
        ],
        outcome: outcome("τ", "min", KindOfQuantity::Amount, 0.001, 20_000.0),
        compute: |a| two(a, run_time),
        expansion: Some("length / speed"),
        wrong_turns: &[
            turn(
                "speed_over_length",
                "bare(speed, 'ft/min') / bare(length, 'ft') * '1 min'",
                "You divided speed by length. A longer run takes longer: length divided by speed.",
            ),
            turn(
                "divided_by_sixty",
                "length / speed / 60",
                "You divided by 60 once more. With feet and ft/min the answer is in minutes already.",
            ),
        ],
        no_result_when: None,
        source: "definition of speed",
    },
];

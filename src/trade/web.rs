//! Web and job: speeds, areas, lengths, widths, times.

use super::catalogue::{Calculation, Topic, four, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;
use crate::ground::whole_below;

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

/// Length of web that so many labels take, in metres.
///
/// `labels` is how many labels are wanted (1 to 100,000,000), `across` the
/// labels across the web (1 to 60), `pitch_m` the way from one label to the
/// next along the web in metres (0.2 to 200 in). Waste comes on top.
///
/// Source: derived. The lanes share the labels.
///
/// ```
/// use gearside::trade::web::net_length;
/// // 5,000 labels in one lane at 3.125 in: 1302.08 ft.
/// assert!((net_length(5000.0, 1.0, 3.125) / 12.0 - 1302.08).abs() < 5e-3);
/// ```
#[must_use]
pub fn net_length(labels: f64, across: f64, pitch_m: f64) -> f64 {
    labels / across * pitch_m
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
/// `length_m` is the length in metres (1 to 1,000,000 ft), `speed_m_s` the web
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

/// Width of web for so many lanes, in metres.
///
/// `label_m` is the label's width (0.2 to 60 in), `lane_gap_m` the gap between
/// lanes (0 to 3 in) and `edge_trim_m` what is trimmed off *each* edge (0 to
/// 3 in), in metres; `across` the labels across (1 to 60).
///
/// Source: derived. Between the lanes there is one gap fewer than lanes.
///
/// ```
/// use gearside::trade::web::web_width;
/// // 3 lanes of 4 in, 0.125 in between them, 0.25 in off each edge: 12.75 in.
/// assert!((web_width(4.0, 3.0, 0.125, 0.25) - 12.75).abs() < 1e-12);
/// ```
#[must_use]
pub fn web_width(label_m: f64, across: f64, lane_gap_m: f64, edge_trim_m: f64) -> f64 {
    across * label_m + (across - 1.0) * lane_gap_m + 2.0 * edge_trim_m
}

/// Lanes of labels that fit across a web.
///
/// `web_m` is the width of the web (0.5 to 120 in), the others as for
/// [`web_width`], in metres.
///
/// Source: derived; the other way from [`web_width`]. A part of a lane is none.
///
/// ```
/// use gearside::trade::web::lanes_across;
/// // 12.75 in just holds 3 lanes of 4 in with 0.125 in between and 0.25 in trim; 12.74 in holds 2.
/// assert!((lanes_across(12.75, 4.0, 0.125, 0.25) - 3.0).abs() < 1e-12);
/// assert!((lanes_across(12.74, 4.0, 0.125, 0.25) - 2.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn lanes_across(web_m: f64, label_m: f64, lane_gap_m: f64, edge_trim_m: f64) -> f64 {
    whole_below((web_m - 2.0 * edge_trim_m + lane_gap_m) / (label_m + lane_gap_m))
}

/// Time for a job, in seconds.
///
/// `run_s` is the running time, `per_change_s` what one roll change takes and
/// `set_up_s` the set-up, all in seconds (0 to 20,000 min); `changes` how many
/// roll changes there are (0 to 500).
///
/// Source: balance of times.
///
/// ```
/// use gearside::trade::web::job_time;
/// // 50 min running, 3 changes of 8 min, 45 min set-up: 119 min.
/// assert!((job_time(50.0, 3.0, 8.0, 45.0) - 119.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn job_time(run_s: f64, changes: f64, per_change_s: f64, set_up_s: f64) -> f64 {
    run_s + changes * per_change_s + set_up_s
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
        name: "net_length",
        title: "Net length of a job",
        topic: Topic::Web,
        says: "How much web the labels of a job take, without waste.",
        parameters: &[
            parameter("labels", "N", "number of labels wanted", "labels", 1.0, 100_000_000.0),
            parameter("across", "n_w", "number of labels across the web", "labels", 1.0, 60.0),
            parameter("pitch", "p", "way from one label to the next along the web", "in", 0.2, 200.0),
        ],
        outcome: outcome("L_n", "ft", KindOfQuantity::Amount, 1.0, 500_000.0),
        compute: |a| three(a, net_length),
        expansion: Some("labels / across * pitch"),
        wrong_turns: &[
            turn(
                "across_forgotten",
                "labels * pitch",
                "You ran all labels in one lane. Divide by the number across the web.",
            ),
            turn(
                "multiplied_by_across",
                "labels * across * pitch",
                "You multiplied by the number across. More lanes need less web: divide.",
            ),
            turn(
                "inches_given_as_feet",
                "bare(labels / across * pitch, 'in') * '1 ft'",
                "You gave inches as feet. Divide by 12.",
            ),
        ],
        no_result_when: None,
        source: "derived: the lanes share the labels",
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
    Calculation {
        name: "web_width",
        title: "Width of web",
        topic: Topic::Web,
        says: "How wide a web must be for so many lanes of labels.",
        parameters: &[
            parameter("label", "w_l", "width of a label", "in", 0.2, 60.0),
            parameter("across", "n_w", "number of labels across the web", "labels", 1.0, 60.0),
            parameter("lane_gap", "g_w", "gap between lanes", "in", 0.0, 3.0),
            parameter("edge_trim", "e", "trim at each edge", "in", 0.0, 3.0),
        ],
        outcome: outcome("w", "in", KindOfQuantity::PressLength, 0.5, 120.0),
        compute: |a| four(a, web_width),
        expansion: Some("across * label + (across - 1) * lane_gap + 2 * edge_trim"),
        wrong_turns: &[
            turn(
                "a_gap_for_every_lane",
                "across * (label + lane_gap) + 2 * edge_trim",
                "You counted a gap for every lane. Between lanes there is one fewer.",
            ),
            turn(
                "one_edge_only",
                "across * label + (across - 1) * lane_gap + edge_trim",
                "You trimmed one edge. A web has two.",
            ),
            turn(
                "gaps_forgotten",
                "across * label + 2 * edge_trim",
                "You set the lanes side by side. Add the gaps between them.",
            ),
        ],
        no_result_when: None,
        source: "derived: one gap fewer than lanes, and two edges",
    },
    Calculation {
        name: "lanes_across",
        title: "Lanes across",
        topic: Topic::Web,
        says: "How many lanes of labels fit across a web.",
        parameters: &[
            parameter("web", "w", "width of the web", "in", 0.5, 120.0),
            parameter("label", "w_l", "width of a label", "in", 0.2, 60.0),
            parameter("lane_gap", "g_w", "gap between lanes", "in", 0.0, 3.0),
            parameter("edge_trim", "e", "trim at each edge", "in", 0.0, 3.0),
        ],
        outcome: outcome("n_w", "labels", KindOfQuantity::Count, 1.0, 60.0),
        compute: |a| four(a, lanes_across),
        expansion: Some("floor((web - 2 * edge_trim + lane_gap) / (label + lane_gap))"),
        wrong_turns: &[
            turn(
                "gap_behind_the_last_lane",
                "floor((web - 2 * edge_trim) / (label + lane_gap))",
                "You counted a gap behind the last lane. Only the edge trim is there.",
            ),
            turn(
                "trim_forgotten",
                "floor((web + lane_gap) / (label + lane_gap))",
                "You used the whole width. Take the trim off both edges first.",
            ),
            turn(
                "gaps_forgotten",
                "floor((web - 2 * edge_trim) / label)",
                "You set the lanes side by side. They need gaps between them.",
            ),
        ],
        no_result_when: None,
        source: "derived: one gap fewer than lanes, two edges, and whole lanes only",
    },
    Calculation {
        name: "job_time",
        title: "Time for a job",
        topic: Topic::Web,
        says: "How long a job takes with its set-up and its roll changes.",
        parameters: &[
            parameter("run", "τ_r", "running time", "min", 0.0, 20_000.0),
            parameter("changes", "n", "number of roll changes", "", 0.0, 500.0),
            parameter("per_change", "τ_c", "time for one roll change", "min", 0.0, 240.0),
            parameter("set_up", "τ_s", "set-up time", "min", 0.0, 3000.0),
        ],
        outcome: outcome("τ", "min", KindOfQuantity::Amount, 0.001, 150_000.0),
        compute: |a| four(a, job_time),
        expansion: Some("run + changes * per_change + set_up"),
        wrong_turns: &[
            turn(
                "one_change_counted",
                "run + per_change + set_up",
                "You counted one roll change. Multiply its time by the number of changes.",
            ),
            turn(
                "changes_forgotten",
                "run + set_up",
                "You left the roll changes out. Each one stops the press or slows it: add their time.",
            ),
            turn("set_up_forgotten", "run + changes * per_change", "You left the set-up out. Add it."),
        ],
        no_result_when: None,
        source: "balance of times",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn so_many_lanes_fit_and_one_more_does_not(
            web in 0.05_f64..2.0,
            label in 0.01_f64..0.3,
            gap in 0.0_f64..0.01,
            trim in 0.0_f64..0.01,
        ) {
            let lanes = lanes_across(web, label, gap, trim);
            prop_assert!(lanes < 0.5 || web_width(label, lanes, gap, trim) <= web + 1e-9);
            prop_assert!(web_width(label, lanes + 1.0, gap, trim) > web);
        }

        #[test]
        fn labels_come_back_from_their_length(labels in 1.0_f64..1e7, across in 1.0_f64..60.0, pitch in 0.01_f64..1.0) {
            let length = net_length(labels, across, pitch);
            // As many seconds as metres at 1 m/s; one label around, so the pitch is the repeat.
            let again = labels_per_hour(1.0, pitch, 1.0, across) * run_time(length, 1.0);
            prop_assert!((again - labels).abs() < 1e-9 * labels);
        }
    }
}

//! Waste, and how effectively a press was used.
//!
//! Waste is counted on two bases: as a share of all that is run, or on top of
//! what is good. The figures differ; each function says which it takes.

use super::catalogue::{Calculation, Topic, one, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Waste as a share of all that is run, as a fraction.
///
/// `gross_m` is the length run (1 to 1,000,000 ft), `waste_m` the waste in it (0
/// to as much), in metres.
///
/// Source: definition.
///
/// ```
/// use gearside::trade::production::waste_share;
/// // 2,880 ft of 48,000 ft: 6 %.
/// assert!((waste_share(48_000.0, 2880.0) - 0.06).abs() < 1e-15);
/// ```
#[must_use]
pub fn waste_share(gross_m: f64, waste_m: f64) -> f64 {
    waste_m / gross_m
}

/// Waste as a share of what is good, as a fraction.
///
/// `gross_m` and `waste_m` as for [`waste_share`].
///
/// Source: definition. What is good is what is run less the waste.
///
/// ```
/// use gearside::trade::production::waste_on_good;
/// // 2,880 ft of waste on 45,120 ft good: 6.38298 %.
/// assert!((waste_on_good(48_000.0, 2880.0) - 0.063_829_8).abs() < 5e-8);
/// ```
#[must_use]
pub fn waste_on_good(gross_m: f64, waste_m: f64) -> f64 {
    waste_m / (gross_m - waste_m)
}

/// Length to run for a net length with waste on top of it, in metres.
///
/// `net_m` is the good length in metres (1 to 500,000 ft), `mark_up` the waste
/// as a share of what is *good*, 0 to 1. See [`super::web::gross_length`] for a
/// share of what is run.
///
/// Source: definition.
///
/// ```
/// use gearside::trade::production::gross_by_mark_up;
/// // A quarter on top of 40,000 ft: 50,000 ft.
/// assert!((gross_by_mark_up(40_000.0, 0.25) - 50_000.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn gross_by_mark_up(net_m: f64, mark_up: f64) -> f64 {
    net_m * (1.0 + mark_up)
}

/// Waste as a share of what is run, from waste on top of what is good.
///
/// `mark_up` is the waste as a share of what is good, 0 to 1.
///
/// Source: derived. On one good length there are mark-up waste and one plus
/// mark-up run.
///
/// ```
/// use gearside::trade::production::share_from_mark_up;
/// // A quarter on top is a fifth of the whole.
/// assert!((share_from_mark_up(0.25) - 0.2).abs() < 1e-15);
/// ```
#[must_use]
pub fn share_from_mark_up(mark_up: f64) -> f64 {
    mark_up / (1.0 + mark_up)
}

/// Share of the planned time that the press ran, as a fraction.
///
/// `run_s` is the time it ran, `planned_s` the time it was planned to, in
/// seconds (1 to 20,000 min).
///
/// Source: published formula of overall equipment effectiveness.
///
/// ```
/// use gearside::trade::production::availability;
/// // 357 of 420 minutes: 85 %.
/// assert!((availability(357.0, 420.0) - 0.85).abs() < 1e-15);
/// ```
#[must_use]
pub fn availability(run_s: f64, planned_s: f64) -> f64 {
    run_s / planned_s
}

/// What was made over what the press makes at its ideal rate in the time it
/// ran, as a fraction.
///
/// `total` is all labels made, good or not (1 to 100,000,000),
/// `ideal_rate_per_s` the ideal rate in labels per second (100 to
/// 20,000,000 labels/h), `run_s` the time the press ran in seconds (1 to
/// 20,000 min).
///
/// Source: published formula of overall equipment effectiveness.
///
/// ```
/// use gearside::trade::production::performance;
/// // 90,000 in 5 h at an ideal 20,000 an hour: 90 %.
/// assert!((performance(90_000.0, 20_000.0 / 3600.0, 5.0 * 3600.0) - 0.9).abs() < 1e-12);
/// ```
#[must_use]
pub fn performance(total: f64, ideal_rate_per_s: f64, run_s: f64) -> f64 {
    total / (ideal_rate_per_s * run_s)
}

/// Share of what was made that is good, as a fraction.
///
/// `good` and `total` are labels (0 to 100,000,000).
///
/// Source: published formula of overall equipment effectiveness.
///
/// ```
/// use gearside::trade::production::quality;
/// // 114,000 good of 120,000: 95 %.
/// assert!((quality(114_000.0, 120_000.0) - 0.95).abs() < 1e-15);
/// ```
#[must_use]
pub fn quality(good: f64, total: f64) -> f64 {
    good / total
}

/// Overall effectiveness, as a fraction.
///
/// `availability`, `performance` and `quality` are fractions, above 0 to 1.
///
/// Source: published formula of overall equipment effectiveness; the product is
/// what is good over what the planned time could have made.
///
/// ```
/// use gearside::trade::production::effectiveness;
/// // 80 %, 90 % and 95 %: 68.4 %.
/// assert!((effectiveness(0.8, 0.9, 0.95) - 0.684).abs() < 1e-15);
/// ```
#[must_use]
pub fn effectiveness(availability: f64, performance: f64, quality: f64) -> f64 {
    availability * performance * quality
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "waste_share",
        title: "Waste of what is run",
        topic: Topic::Production,
        says: "What share of all that is run is waste.",
        parameters: &[
            parameter("gross", "L_g", "length run", "ft", 1.0, 1_000_000.0),
            parameter("waste", "L_w", "length of waste in it", "ft", 0.0, 500_000.0),
        ],
        outcome: outcome("w", "%", KindOfQuantity::Amount, 0.0, 100.0),
        compute: |a| two(a, waste_share),
        expansion: Some("waste / gross"),
        wrong_turns: &[
            turn(
                "share_of_the_good",
                "waste / (gross - waste)",
                "You divided by the good length. Divide by all that was run.",
            ),
            turn("good_share_given", "1 - waste / gross", "You gave the share that is good. The waste is the rest."),
            turn(
                "waste_added_to_the_run",
                "waste / (gross + waste)",
                "You added the waste to the length run. It is in it already: divide by the length run.",
            ),
        ],
        no_result_when: None,
        source: "definition: waste over all that is run",
    },
    Calculation {
        name: "waste_on_good",
        title: "Waste on what is good",
        topic: Topic::Production,
        says: "How much waste comes on top of what is good, as a share of that.",
        parameters: &[
            parameter("gross", "L_g", "length run", "ft", 1.0, 1_000_000.0),
            parameter("waste", "L_w", "length of waste in it", "ft", 0.0, 500_000.0),
        ],
        outcome: outcome("m", "%", KindOfQuantity::Amount, 0.0, 200.0),
        compute: |a| two(a, waste_on_good),
        expansion: Some("waste / (gross - waste)"),
        wrong_turns: &[
            turn(
                "share_of_what_is_run",
                "waste / gross",
                "You divided by all that was run. Divide by what is good of it.",
            ),
            turn(
                "waste_added_to_the_run",
                "waste / (gross + waste)",
                "You added the waste to the length run. What is good is the length run less the waste.",
            ),
        ],
        no_result_when: Some("all that is run is waste"),
        source: "definition: waste over what is good",
    },
    Calculation {
        name: "gross_by_mark_up",
        title: "Length to run by mark-up",
        topic: Topic::Production,
        says: "How much web to run for a good length, with waste on top of what is good.",
        parameters: &[
            parameter("net", "L_n", "good length", "ft", 1.0, 500_000.0),
            parameter("mark_up", "m", "waste as a share of what is good", "%", 0.0, 100.0),
        ],
        outcome: outcome("L_g", "ft", KindOfQuantity::Amount, 1.0, 1_000_000.0),
        compute: |a| two(a, gross_by_mark_up),
        expansion: Some("net * (1 + mark_up)"),
        wrong_turns: &[
            turn(
                "taken_as_share_of_the_run",
                "net / (1 - mark_up)",
                "You took the mark-up for a share of what is run. It is on the good length: multiply by one plus it.",
            ),
            turn("waste_alone", "net * mark_up", "You gave the waste alone. Add the good length."),
            turn(
                "waste_taken_off",
                "net * (1 - mark_up)",
                "You took the waste off the good length. You must run more than that, not less.",
            ),
        ],
        no_result_when: None,
        source: "definition: waste on top of what is good",
    },
    Calculation {
        name: "share_from_mark_up",
        title: "Waste share from mark-up",
        topic: Topic::Production,
        says: "What share of all that is run the waste is, when it is told on top of what is good.",
        parameters: &[parameter("mark_up", "m", "waste as a share of what is good", "%", 0.0, 100.0)],
        outcome: outcome("w", "%", KindOfQuantity::Amount, 0.0, 50.0),
        compute: |a| one(a, share_from_mark_up),
        expansion: Some("mark_up / (1 + mark_up)"),
        wrong_turns: &[
            turn(
                "taken_as_it_is",
                "mark_up",
                "You took the mark-up for the share. The run is larger than what is good: divide by one plus it.",
            ),
            turn(
                "wrong_way",
                "mark_up / (1 - mark_up)",
                "You went from share to mark-up. From mark-up to share you divide by one plus it.",
            ),
        ],
        no_result_when: None,
        source: "derived: one good length, mark-up waste, one plus mark-up run",
    },
    Calculation {
        name: "availability",
        title: "Availability",
        topic: Topic::Production,
        says: "What share of the planned time the press ran.",
        parameters: &[
            parameter("run", "τ_r", "time the press ran", "min", 1.0, 20_000.0),
            parameter("planned", "τ_p", "time it was planned to run", "min", 1.0, 20_000.0),
        ],
        outcome: outcome("A", "%", KindOfQuantity::Amount, 0.1, 100.0),
        compute: |a| two(a, availability),
        expansion: Some("run / planned"),
        wrong_turns: &[
            turn(
                "stops_given",
                "1 - run / planned",
                "You gave the share of the time that the press stood. Give the share that it ran.",
            ),
            turn(
                "upside_down",
                "planned / run",
                "You divided the planned time by the time run. Put the time run on top.",
            ),
        ],
        no_result_when: None,
        source: "published formula of overall equipment effectiveness: run over planned",
    },
    Calculation {
        name: "performance",
        title: "Performance",
        topic: Topic::Production,
        says: "How much was made of what the press makes at its ideal rate while it runs.",
        parameters: &[
            parameter("total", "N", "labels made, good or not", "labels", 1.0, 100_000_000.0),
            parameter("ideal_rate", "n", "ideal rate", "labels/h", 100.0, 20_000_000.0),
            parameter("run", "τ_r", "time the press ran", "min", 1.0, 20_000.0),
        ],
        outcome: outcome("P", "%", KindOfQuantity::Amount, 0.1, 100.0),
        compute: |a| three(a, performance),
        expansion: Some("total / (ideal_rate * run)"),
        wrong_turns: &[
            turn(
                "minutes_taken_for_hours",
                "total / (bare(ideal_rate, 'labels/h') * bare(run, 'min'))",
                "You multiplied an hourly rate by minutes. Divide the minutes by 60 first.",
            ),
            turn(
                "upside_down",
                "ideal_rate * run / total",
                "You divided what could be made by what was made. Put what was made on top.",
            ),
        ],
        no_result_when: None,
        source: "published formula of overall equipment effectiveness: total over ideal rate times run",
    },
    Calculation {
        name: "quality",
        title: "Quality",
        topic: Topic::Production,
        says: "What share of all that was made is good.",
        parameters: &[
            parameter("good", "N_g", "good labels", "labels", 0.0, 100_000_000.0),
            parameter("total", "N", "labels made, good or not", "labels", 1.0, 100_000_000.0),
        ],
        outcome: outcome("Q", "%", KindOfQuantity::Amount, 0.0, 100.0),
        compute: |a| two(a, quality),
        expansion: Some("good / total"),
        wrong_turns: &[
            turn("rejects_given", "1 - good / total", "You gave the share that is not good. The quality is the rest."),
            turn("upside_down", "total / good", "You divided the total by the good. Put the good on top."),
        ],
        no_result_when: None,
        source: "published formula of overall equipment effectiveness: good over total",
    },
    Calculation {
        name: "effectiveness",
        title: "Overall effectiveness",
        topic: Topic::Production,
        says: "What share of the labels that the planned time could have made was made and is good.",
        parameters: &[
            parameter("availability", "A", "availability", "%", 0.1, 100.0),
            parameter("performance", "P", "performance", "%", 0.1, 100.0),
            parameter("quality", "Q", "quality", "%", 0.1, 100.0),
        ],
        outcome: outcome("E", "%", KindOfQuantity::Amount, 0.01, 100.0),
        compute: |a| three(a, effectiveness),
        expansion: Some("availability * performance * quality"),
        wrong_turns: &[
            turn(
                "averaged",
                "(availability + performance + quality) / 3",
                "You took the average. Each takes its share of what the last one left: multiply.",
            ),
            turn(
                "quality_forgotten",
                "availability * performance",
                "You left the quality out. Only what is good counts: multiply by it too.",
            ),
            turn(
                "poorest_given",
                "min(availability, performance, quality)",
                "You gave the poorest of the three. The other losses come on top of it: multiply all three.",
            ),
        ],
        no_result_when: None,
        source: "published formula of overall equipment effectiveness: the product of the three",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::web::gross_length;
    use super::*;

    proptest! {
        #[test]
        fn both_ways_to_tell_waste_give_one_length(net in 1.0_f64..100_000.0, mark_up in 0.0_f64..1.0) {
            let gross = gross_by_mark_up(net, mark_up);
            prop_assert!((gross_length(net, share_from_mark_up(mark_up)) - gross).abs() < 1e-12 * gross);
            prop_assert!((waste_on_good(gross, gross - net) - mark_up).abs() < 1e-9);
            prop_assert!((waste_share(gross, gross - net) - share_from_mark_up(mark_up)).abs() < 1e-9);
        }

        #[test]
        fn the_three_shares_multiply_to_good_over_what_could_be_made(
            planned in 60.0_f64..100_000.0,
            ran in 0.01_f64..1.0,
            speed in 0.01_f64..1.0,
            good in 0.01_f64..1.0,
            rate in 0.1_f64..100.0,
        ) {
            let run = planned * ran;
            let total = rate * speed * run;
            let shares = (availability(run, planned), performance(total, rate, run), quality(total * good, total));
            let whole = total * good / (rate * planned);
            prop_assert!((effectiveness(shares.0, shares.1, shares.2) - whole).abs() < 1e-12);
        }
    }
}

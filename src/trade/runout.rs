//! Runout, and how the errors of parts stack up in a nip.

use super::catalogue::{Calculation, Topic, gathered, one, outcome, parameter, series, turn};
use super::kind::KindOfQuantity;
use super::statistics::total;

/// What a dial shows from least to most in a turn of a round roll that runs off
/// its centre, in metres.
///
/// `eccentricity_m` is the distance between the roll's centre and that of its
/// turning, in metres (0 to 20 mil).
///
/// Source: derived: once in a turn the surface is that much nearer, once that
/// much farther. (A published definition by the difference between radii, with
/// figures given as ±, reads the same as most less least on the dial.)
///
/// ```
/// use gearside::trade::runout::runout;
/// // 0.0003 in off centre: 0.0006 in on the dial.
/// assert!((runout(0.000_3) - 0.000_6).abs() < 1e-15);
/// ```
#[must_use]
pub fn runout(eccentricity_m: f64) -> f64 {
    2.0 * eccentricity_m
}

/// The most that the ranges of parts can add up to, in metres.
///
/// `parts_m` are the ranges of the parts (runout, gauge of plate and tape) in
/// metres (0 to 50 mil each).
///
/// Source: derived: all of them at their worst in one place.
///
/// ```
/// use gearside::trade::runout::worst_stack_up;
/// // Plate cylinder 0.5, drum 0.3, plate and tape 1.0 thou each: 2.8.
/// assert!((worst_stack_up(&[0.5, 0.3, 1.0, 1.0]) - 2.8).abs() < 1e-12);
/// ```
#[must_use]
pub fn worst_stack_up(parts_m: &[f64]) -> f64 {
    total(parts_m)
}

/// What the ranges of independent parts are likely to add up to, in metres.
///
/// `parts_m` as for [`worst_stack_up`].
///
/// Source: root of the sum of squares, for parts that know nothing of each
/// other.
///
/// ```
/// use gearside::trade::runout::likely_stack_up;
/// // A right-angled triangle: 3 and 4 are likely to make 5.
/// assert!((likely_stack_up(&[3.0, 4.0]) - 5.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn likely_stack_up(parts_m: &[f64]) -> f64 {
    libm::sqrt(parts_m.iter().fold(0.0, |sum, part| sum + part * part))
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "runout",
        title: "Runout",
        topic: Topic::Impression,
        says: "What a dial shows in a turn of a round roll that runs off its centre.",
        parameters: &[parameter("eccentricity", "e", "distance off centre", "mil", 0.0, 20.0)],
        outcome: outcome("r", "mil", KindOfQuantity::Amount, 0.0, 40.0),
        compute: |a| one(a, runout),
        expansion: Some("2 * eccentricity"),
        wrong_turns: &[
            turn(
                "eccentricity_itself",
                "eccentricity",
                "You gave the distance off centre. The dial goes that far to either side: double it.",
            ),
            turn("halved", "eccentricity / 2", "You took half. The dial shows twice the distance off centre."),
        ],
        no_result_when: None,
        source: "derived; runout is most less least on the dial (one print dictionary defines it by radii, \
                 https://printwiki.org/Total_Indicated_Runout)",
    },
    Calculation {
        name: "worst_stack_up",
        title: "Worst stack-up",
        topic: Topic::Impression,
        says: "How much the gap of a nip can vary when all parts are at their worst.",
        parameters: &[series("parts", "r", "ranges of the parts", "mil", 0.0, 50.0)],
        outcome: outcome("r_w", "mil", KindOfQuantity::Amount, 0.0, 200.0),
        compute: |a| gathered(a, worst_stack_up),
        expansion: Some("total(parts)"),
        wrong_turns: &[
            turn(
                "root_of_the_squares",
                "sqrt((how_many(parts) - 1) * sd(parts) ^ 2 + how_many(parts) * mean(parts) ^ 2)",
                "You took the root of the squares. That is what is likely; at worst the parts add up.",
            ),
            turn(
                "mean_of_the_parts",
                "mean(parts)",
                "You took the mean. At worst all of the parts lie on the same side: add them.",
            ),
        ],
        no_result_when: None,
        source: "derived: all parts at their worst in one place",
    },
    Calculation {
        name: "likely_stack_up",
        title: "Likely stack-up",
        topic: Topic::Impression,
        says: "How much the gap of a nip is likely to vary when its parts are independent.",
        parameters: &[series("parts", "r", "ranges of the parts", "mil", 0.0, 50.0)],
        outcome: outcome("r_l", "mil", KindOfQuantity::Amount, 0.0, 200.0),
        compute: |a| gathered(a, likely_stack_up),
        // Formulas have no sum of squares.
        expansion: None,
        wrong_turns: &[
            turn(
                "added_up",
                "total(parts)",
                "You added the parts. That is the worst case; independent parts go by the root of their squares.",
            ),
            turn(
                "squares_forgotten",
                "sqrt(bare(total(parts), 'mil')) * '1 mil'",
                "You took the root of the sum. Square each part first, add, then take the root.",
            ),
            turn(
                "mean_of_the_parts",
                "mean(parts)",
                "You took the mean. The parts go by the root of their squares added up.",
            ),
        ],
        no_result_when: None,
        source: "root of the sum of squares, for independent parts",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn the_likely_lies_between_the_largest_part_and_the_worst(parts in prop::collection::vec(0.0_f64..1e-3, 1..12)) {
            let largest = parts.iter().copied().fold(0.0, f64::max);
            let likely = likely_stack_up(&parts);
            prop_assert!(likely >= largest - 1e-15 && likely <= worst_stack_up(&parts) + 1e-15);
        }

        #[test]
        fn equal_parts_are_likely_to_add_up_by_the_root_of_their_number(part in 1e-6_f64..1e-3, number in 1_usize..20) {
            let parts = vec![part; number];
            let expected = worst_stack_up(&parts) * worst_stack_up(&parts) / f64::from(u32::try_from(number).unwrap_or(1));
            let likely = likely_stack_up(&parts);
            prop_assert!((likely * likely - expected).abs() < 1e-9 * expected);
        }
    }
}

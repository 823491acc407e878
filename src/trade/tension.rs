//! Web tension, and what it does to the web. The rates per gauge are published
//! starting points; run to the least tension that tracks and holds register.

use super::catalogue::{Calculation, Topic, numbers, outcome, parameter, series, three, turn, two};
use super::kind::KindOfQuantity;
use super::statistics::total;

/// Total tension of a web, in newtons.
///
/// `per_width_n_m` is the tension per width in N/m (0.05 to 15 PLI), `width_m`
/// the web's width in metres (0.5 to 120 in).
///
/// Source: definition of tension per width.
///
/// ```
/// use gearside::trade::tension::web_tension;
/// // 1 PLI is 175.127 N/m; on a 12 in web that is 12 lbf, 53.3787 N.
/// assert!((web_tension(175.127, 12.0 * 0.0254) - 53.3787).abs() < 5e-4);
/// ```
#[must_use]
pub fn web_tension(per_width_n_m: f64, width_m: f64) -> f64 {
    per_width_n_m * width_m
}

/// Tension per width for a gauge of web, in N/m.
///
/// `rate_pa` is the tension per width and gauge in N/m per metre (0.05 to 2
/// PLI/mil), `gauge_m` the web's thickness in metres (0.2 to 30 mil).
///
/// Source: definition of the rate; tables of rates differ by up to half, so
/// the table must be named.
///
/// ```
/// use gearside::trade::tension::tension_from_gauge;
/// // 0.25 PLI/mil on 2 mil is 0.5 PLI = 87.5634 N/m; 1 PLI/mil is 6.89476 MPa.
/// assert!((tension_from_gauge(0.25 * 6.894_76e6, 50.8e-6) - 87.5634).abs() < 5e-4);
/// ```
#[must_use]
pub fn tension_from_gauge(rate_pa: f64, gauge_m: f64) -> f64 {
    rate_pa * gauge_m
}

/// Tension per width of a web, in N/m.
///
/// `tension_n` is the total tension in newtons (0.02 to 1800 lbf), `width_m`
/// the width of the web it pulls on in metres (0.5 to 120 in). A slit web keeps
/// its tension per width, not its total tension.
///
/// Source: definition of tension per width.
///
/// ```
/// use gearside::trade::tension::tension_per_width;
/// // 12 lbf is 53.3787 N; on a 12 in web that is 1 PLI, 175.127 N/m.
/// assert!((tension_per_width(53.3787, 12.0 * 0.0254) - 175.127).abs() < 5e-4);
/// ```
#[must_use]
pub fn tension_per_width(tension_n: f64, width_m: f64) -> f64 {
    tension_n / width_m
}

/// Tension per width of a laminate, in N/m.
///
/// `plies_n_m` are the tensions per width that the plies would run at alone, in
/// N/m (0.05 to 15 PLI each), `extra_n_m` what is added for running them as one
/// (0 to 2 PLI). With no ply the result is the extra alone.
///
/// Source: a published tension table adds 0.1 PLI to the sum of the plies. The
/// figure is that table's; another may say another.
///
/// ```
/// use gearside::trade::tension::laminate_tension;
/// // 0.5 and 0.75 PLI with 0.1 PLI added: 1.35 PLI. 1 PLI is 175.127 N/m.
/// let pli = 175.127;
/// assert!((laminate_tension(&[0.5 * pli, 0.75 * pli], 0.1 * pli) - 1.35 * pli).abs() < 1e-9);
/// ```
#[must_use]
pub fn laminate_tension(plies_n_m: &[f64], extra_n_m: f64) -> f64 {
    total(plies_n_m) + extra_n_m
}

/// Stress in a web, in Pa.
///
/// `per_width_n_m` is the tension per width in N/m (0.05 to 15 PLI), `gauge_m`
/// the web's thickness in metres (0.2 to 30 mil).
///
/// Source: definition of stress, force over cross-section.
///
/// ```
/// use gearside::trade::tension::web_stress;
/// // 1 PLI on 0.010 in: 100 psi. 1 PLI is 175.127 N/m, 1 psi 6894.76 Pa.
/// assert!((web_stress(175.127, 254e-6) - 689_476.0).abs() < 5.0);
/// ```
#[must_use]
pub fn web_stress(per_width_n_m: f64, gauge_m: f64) -> f64 {
    per_width_n_m / gauge_m
}

/// Strain of a web under tension, as a fraction.
///
/// `per_width_n_m` is the tension per width in N/m (0.05 to 15 PLI), `gauge_m`
/// the web's thickness in metres (0.2 to 30 mil), `modulus_pa` its modulus of
/// elasticity in Pa (5 to 10,000 kpsi). Below yield only.
///
/// Source: Hooke's law, stress over modulus.
///
/// ```
/// use gearside::trade::tension::web_strain;
/// // 3 PLI on 0.003 in at 1 000 000 psi: 1000 psi of stress, 0.1 % of strain.
/// assert!((web_strain(3.0 * 175.127, 76.2e-6, 6.894_76e9) - 0.001).abs() < 1e-8);
/// ```
#[must_use]
pub fn web_strain(per_width_n_m: f64, gauge_m: f64, modulus_pa: f64) -> f64 {
    per_width_n_m / gauge_m / modulus_pa
}

/// How much narrower a web gets under tension, in metres.
///
/// `strain` is its strain along the web as a fraction (0 to 5 %), `poisson` its
/// Poisson ratio (0.05 to 0.5), `width_m` its width in metres (0.5 to 120 in).
///
/// Source: definition of the Poisson ratio. Rollers that grip the web hold part
/// of this back.
///
/// ```
/// use gearside::trade::tension::web_narrowing;
/// // 0.1 % of strain at a ratio of 0.3: a 30 in web narrows by 0.009 in.
/// assert!((web_narrowing(0.001, 0.3, 30.0) - 0.009).abs() < 1e-12);
/// ```
#[must_use]
pub fn web_narrowing(strain: f64, poisson: f64, width_m: f64) -> f64 {
    strain * poisson * width_m
}

const PER_WIDTH: &str = "tension per width";
const HOOKE: &str = "Hooke's law, stress over modulus; column on the Poisson ratio with worked figures, \
     https://convertingquarterly.com/have-your-noticed-your-nu/";

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "web_tension",
        title: "Total web tension",
        topic: Topic::Tension,
        says: "How hard the whole web is pulled at a tension per width.",
        parameters: &[
            parameter("per_width", "T_w", PER_WIDTH, "PLI", 0.05, 15.0),
            parameter("width", "w", "width of the web", "in", 0.5, 120.0),
        ],
        outcome: outcome("T", "lbf", KindOfQuantity::Amount, 0.02, 1800.0),
        compute: |a| two(a, web_tension),
        expansion: Some("per_width * width"),
        wrong_turns: &[
            turn(
                "divided_by_width",
                "bare(per_width, 'PLI') / bare(width, 'in') * '1 lbf'",
                "You divided by the width. PLI is the pull on each inch: multiply.",
            ),
            turn(
                "width_forgotten",
                "bare(per_width, 'PLI') * '1 lbf'",
                "You gave the pull on one inch of web. Multiply by the width.",
            ),
        ],
        no_result_when: None,
        source: "definition: PLI is pounds-force per inch of width",
    },
    Calculation {
        name: "tension_from_gauge",
        title: "Tension from the gauge",
        topic: Topic::Tension,
        says: "What tension per width a table's rate gives for a gauge of web.",
        parameters: &[
            parameter("rate", "q", "tension per width and gauge, from a named table", "PLI/mil", 0.05, 2.0),
            parameter("gauge", "t", "gauge of the web", "mil", 0.2, 30.0),
        ],
        outcome: outcome("T_w", "PLI", KindOfQuantity::Amount, 0.01, 60.0),
        compute: |a| two(a, tension_from_gauge),
        expansion: Some("rate * gauge"),
        wrong_turns: &[
            turn(
                "gauge_forgotten",
                "bare(rate, 'PLI/mil') * '1 PLI'",
                "You took the rate for the tension. It is per mil: multiply by the gauge.",
            ),
            turn(
                "divided_by_gauge",
                "bare(rate, 'PLI/mil') / bare(gauge, 'mil') * '1 PLI'",
                "You divided by the gauge. A thicker web takes more tension: multiply.",
            ),
        ],
        no_result_when: None,
        source: "definition of the rate; two published tables of rates differ by up to half, so name the table",
    },
    Calculation {
        name: "tension_per_width",
        title: "Tension per width",
        topic: Topic::Tension,
        says: "What pull each inch of a web's width bears of the whole tension.",
        parameters: &[
            parameter("tension", "T", "total tension", "lbf", 0.02, 1800.0),
            parameter("width", "w", "width of the web", "in", 0.5, 120.0),
        ],
        outcome: outcome("T_w", "PLI", KindOfQuantity::Amount, 0.01, 60.0),
        compute: |a| two(a, tension_per_width),
        expansion: Some("tension / width"),
        wrong_turns: &[
            turn(
                "multiplied_by_width",
                "bare(tension, 'lbf') * bare(width, 'in') * '1 PLI'",
                "You multiplied by the width. The tension is shared out over the inches: divide.",
            ),
            turn(
                "whole_tension",
                "bare(tension, 'lbf') * '1 PLI'",
                "You gave the pull on the whole web. PLI is the pull on one inch: divide by the width.",
            ),
        ],
        no_result_when: None,
        source: "definition: PLI is pounds-force per inch of width",
    },
    Calculation {
        name: "laminate_tension",
        title: "Tension of a laminate",
        topic: Topic::Tension,
        says: "What tension per width a laminate runs at, from its plies.",
        parameters: &[
            series("plies", "T_p", "tensions per width of the plies", "PLI", 0.05, 15.0),
            parameter("extra", "T_x", "tension per width added for the laminate", "PLI", 0.0, 2.0),
        ],
        outcome: outcome("T_w", "PLI", KindOfQuantity::Amount, 0.05, 60.0),
        compute: |a| match *a {
            [plies, extra] => numbers(&[extra]).map_or(f64::NAN, |[extra]| laminate_tension(plies, extra)),
            _ => f64::NAN,
        },
        expansion: Some("total(plies) + extra"),
        wrong_turns: &[
            turn(
                "extra_forgotten",
                "total(plies)",
                "You added the plies only. The table adds a little more for running them as one.",
            ),
            turn(
                "mean_of_the_plies",
                "mean(plies) + extra",
                "You took the mean of the plies. Each ply bears its own tension: add them.",
            ),
        ],
        no_result_when: None,
        source: "recommended running tension table: sum of the plies and 0.1 PLI, \
                 https://dfe.com/support-resources/typical-running-tensions-web-materials/",
    },
    Calculation {
        name: "web_stress",
        title: "Stress in the web",
        topic: Topic::Tension,
        says: "What stress a tension per width puts into a web of a gauge.",
        parameters: &[
            parameter("per_width", "T_w", PER_WIDTH, "PLI", 0.05, 15.0),
            parameter("gauge", "t", "gauge of the web", "mil", 0.2, 30.0),
        ],
        outcome: outcome("σ", "psi", KindOfQuantity::Amount, 1.0, 75_000.0),
        compute: |a| two(a, web_stress),
        expansion: Some("per_width / gauge"),
        wrong_turns: &[
            turn(
                "pli_read_as_psi",
                "bare(per_width, 'PLI') * '1 psi'",
                "You read PLI as psi. PLI is per inch of width: divide by the gauge as well.",
            ),
            turn(
                "mils_as_inches",
                "per_width / gauge / 1000",
                "You divided by the gauge in mils. Stress in psi wants inches: 1 mil is 0.001 in.",
            ),
            turn(
                "multiplied_by_gauge",
                "bare(per_width, 'PLI') * bare(gauge, 'in') * '1 psi'",
                "You multiplied by the gauge. A thicker web bears less on each square inch: divide.",
            ),
        ],
        no_result_when: None,
        source: "definition of stress; column on the Poisson ratio with worked figures, \
                 https://convertingquarterly.com/have-your-noticed-your-nu/",
    },
    Calculation {
        name: "web_strain",
        title: "Strain of the web",
        topic: Topic::Tension,
        says: "What share of its length a web stretches by under tension.",
        parameters: &[
            parameter("per_width", "T_w", PER_WIDTH, "PLI", 0.05, 15.0),
            parameter("gauge", "t", "gauge of the web", "mil", 0.2, 30.0),
            parameter("modulus", "E", "modulus of elasticity of the web", "kpsi", 5.0, 10_000.0),
        ],
        outcome: outcome("ε", "%", KindOfQuantity::Amount, 0.0, 20.0),
        compute: |a| three(a, web_strain),
        expansion: Some("per_width / gauge / modulus"),
        wrong_turns: &[
            turn(
                "gauge_forgotten",
                "bare(per_width, 'PLI') / bare(modulus, 'psi')",
                "You took PLI for the stress. Divide by the gauge first, then by the modulus.",
            ),
            turn(
                "modulus_over_stress",
                "modulus / (per_width / gauge)",
                "You divided the modulus by the stress. A stiffer web stretches less: stress over modulus.",
            ),
            turn("kpsi_as_psi", "per_width / gauge / modulus * 1000", "You took kpsi for psi. 1 kpsi is 1000 psi."),
        ],
        no_result_when: None,
        source: HOOKE,
    },
    Calculation {
        name: "web_narrowing",
        title: "Narrowing of the web",
        topic: Topic::Tension,
        says: "How much narrower a web gets when it is stretched.",
        parameters: &[
            parameter("strain", "ε", "strain along the web", "%", 0.0, 5.0),
            parameter("poisson", "ν", "Poisson ratio of the web", "", 0.05, 0.5),
            parameter("width", "w", "width of the web", "in", 0.5, 120.0),
        ],
        outcome: outcome("Δ_w", "in", KindOfQuantity::PressLength, 0.0, 3.0),
        compute: |a| three(a, web_narrowing),
        expansion: Some("strain * poisson * width"),
        wrong_turns: &[
            turn(
                "poisson_forgotten",
                "strain * width",
                "You narrowed the web by its whole strain. Across it only the Poisson ratio's share of that shows.",
            ),
            turn(
                "percent_as_number",
                "strain * 100 * poisson * width",
                "You used the percent as a plain number. 0.1 % is 0.001.",
            ),
            turn(
                "divided_by_poisson",
                "strain / poisson * width",
                "You divided by the Poisson ratio. The web gives less across than along: multiply.",
            ),
        ],
        no_result_when: None,
        source: "definition of the Poisson ratio; column with worked figures, \
                 https://convertingquarterly.com/have-your-noticed-your-nu/",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn per_width_and_back_is_the_same_tension(tension in 0.1_f64..8000.0, width in 0.01_f64..3.0) {
            let again = web_tension(tension_per_width(tension, width), width);
            prop_assert!((again - tension).abs() < 1e-12 * tension);
        }

        #[test]
        fn strain_is_stress_over_modulus(per_width in 10.0_f64..2600.0, gauge in 5e-6_f64..7e-4, modulus in 1e8_f64..7e10) {
            let strain = web_strain(per_width, gauge, modulus);
            prop_assert!((strain * modulus - web_stress(per_width, gauge)).abs() < 1e-9 * strain * modulus);
        }

        #[test]
        fn the_order_of_plies_does_not_matter(mut plies in prop::collection::vec(1.0_f64..2600.0, 1..8), extra in 0.0_f64..300.0) {
            let before = laminate_tension(&plies, extra);
            plies.reverse();
            prop_assert!((laminate_tension(&plies, extra) - before).abs() < 1e-9 * before);
        }
    }
}

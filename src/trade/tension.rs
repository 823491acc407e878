//! Web tension. The rates per gauge are published starting points; run to the
//! least tension that tracks and holds register.

use super::catalogue::{Calculation, Topic, outcome, parameter, turn, two};
use super::kind::KindOfQuantity;

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

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "web_tension",
        title: "Total web tension",
        topic: Topic::Tension,
        says: "How hard the whole web is pulled at a tension per width.",
        parameters: &[
            parameter("per_width", "T_w", "tension per width", "PLI", 0.05, 15.0),
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
];

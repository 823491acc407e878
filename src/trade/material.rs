//! Materials: yield of film, basis weight, and the mass of a roll.

use super::catalogue::{Calculation, Topic, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Yield of a film: the area of a mass of it, in m²/kg.
///
/// `density_kg_m3` is the film's density (700 to 3000 kg/m³), `gauge_m` its
/// thickness in metres (0.1 to 30 mil).
///
/// Source: derived. 27,679.9 in²/lb at 1 g/cm³ and 1 mil; the trade rounds that
/// to 27,700.
///
/// ```
/// use gearside::trade::material::film_yield;
/// // 10 µm of 1 g/cm³ weighs 10 g/m²: 100 m² to the kilogram.
/// assert!((film_yield(1000.0, 10e-6) - 100.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn film_yield(density_kg_m3: f64, gauge_m: f64) -> f64 {
    1.0 / (density_kg_m3 * gauge_m)
}

/// Basis weight of a film, in kg/m².
///
/// `density_kg_m3` and `gauge_m` as for [`film_yield`].
///
/// Source: derived. Mass per area is density times thickness.
///
/// ```
/// use gearside::trade::material::film_basis_weight;
/// // 1 mil of polypropylene of 0.906 g/cm³: 23.0 g/m² (published).
/// assert!((film_basis_weight(906.0, 25.4e-6) - 0.0230).abs() < 5e-5);
/// ```
#[must_use]
pub fn film_basis_weight(density_kg_m3: f64, gauge_m: f64) -> f64 {
    density_kg_m3 * gauge_m
}

/// Basis weight of a paper from the mass of a ream, in kg/m².
///
/// `mass_kg` is the mass of the ream (5 to 500 lb), `sheet_area_m2` the area of
/// the grade's *basic* sheet (300 to 1,500 in²), `sheets` how many sheets the
/// ream has (100 to 1000; usually 500). Reams differ: 24 in × 36 in for
/// packaging papers, 25 in × 38 in for book papers.
///
/// Source: definition. For 500 sheets it is the mass in pounds times 1406.14
/// over the sheet in square inches; printed tables have 1406.5.
///
/// ```
/// use gearside::trade::material::paper_basis_weight;
/// // A ream of 500 sheets of 1 m² that weighs 40 kg: 80 g/m².
/// assert!((paper_basis_weight(40.0, 1.0, 500.0) - 0.080).abs() < 1e-15);
/// ```
#[must_use]
pub fn paper_basis_weight(mass_kg: f64, sheet_area_m2: f64, sheets: f64) -> f64 {
    mass_kg / (sheet_area_m2 * sheets)
}

/// Mass of the web on a roll, in kilograms, without the core.
///
/// `basis_weight_kg_m2` is the mass per area (0.01 to 1 kg/m²), `width_m` the
/// width (0.5 to 120 in) and `length_m` the length of the web (1 to 500,000 ft)
/// in metres.
///
/// Source: definition of the basis weight.
///
/// ```
/// use gearside::trade::material::roll_mass;
/// // 60 g/m², 330 mm by 4000 m: 79.2 kg.
/// assert!((roll_mass(0.060, 0.330, 4000.0) - 79.2).abs() < 1e-12);
/// ```
#[must_use]
pub fn roll_mass(basis_weight_kg_m2: f64, width_m: f64, length_m: f64) -> f64 {
    basis_weight_kg_m2 * width_m * length_m
}

/// Length of web of a mass, in metres.
///
/// `mass_kg` is the mass of the web without core (0.1 to 10,000 lb),
/// `basis_weight_kg_m2` its mass per area (0.01 to 1 kg/m²), `width_m` its width
/// in metres (0.5 to 120 in).
///
/// Source: definition of the basis weight; the other way from [`roll_mass`].
///
/// ```
/// use gearside::trade::material::length_of_mass;
/// // 79.2 kg of 60 g/m² at 330 mm: 4000 m.
/// assert!((length_of_mass(79.2, 0.060, 0.330) - 4000.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn length_of_mass(mass_kg: f64, basis_weight_kg_m2: f64, width_m: f64) -> f64 {
    mass_kg / (basis_weight_kg_m2 * width_m)
}

/// Area of web of a mass, in m².
///
/// `mass_kg` and `basis_weight_kg_m2` as for [`length_of_mass`].
///
/// Source: definition of the basis weight.
///
/// ```
/// use gearside::trade::material::area_of_mass;
/// // A kilogram of 80 g/m²: 12.5 m².
/// assert!((area_of_mass(1.0, 0.080) - 12.5).abs() < 1e-12);
/// ```
#[must_use]
pub fn area_of_mass(mass_kg: f64, basis_weight_kg_m2: f64) -> f64 {
    mass_kg / basis_weight_kg_m2
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "film_yield",
        title: "Yield of a film",
        topic: Topic::Material,
        says: "How much area a pound of film has.",
        parameters: &[
            parameter("density", "ρ", "density of the film", "g/cm³", 0.7, 3.0),
            parameter("gauge", "t", "thickness of the film", "mil", 0.1, 30.0),
        ],
        outcome: outcome("Y", "in²/lb", KindOfQuantity::Amount, 300.0, 400_000.0),
        compute: |a| two(a, film_yield),
        expansion: Some("1 / (density * gauge)"),
        wrong_turns: &[
            turn(
                "multiplied_by_gauge",
                "bare(gauge, 'mil') / (density * '1 mil')",
                "You multiplied by the gauge. A thicker film has less area to the pound: divide.",
            ),
            turn(
                "gauge_number_taken_for_mils",
                "1 / (density * bare(gauge, 'gauge') * '1 mil')",
                "You took the gauge number for mils. 100 gauge is 1 mil.",
            ),
            turn(
                "density_forgotten",
                "1 / (gauge * '1 g/cm³')",
                "You took the film to weigh what water does. Divide by its density too.",
            ),
        ],
        no_result_when: None,
        source: "derived: 27,679.9 in²/lb at 1 g/cm³ and 1 mil; the trade rounds it to 27,700",
    },
    Calculation {
        name: "film_basis_weight",
        title: "Basis weight of a film",
        topic: Topic::Material,
        says: "How much a film weighs per area.",
        parameters: &[
            parameter("density", "ρ", "density of the film", "g/cm³", 0.7, 3.0),
            parameter("gauge", "t", "thickness of the film", "mil", 0.1, 30.0),
        ],
        outcome: outcome("B", "g/m²", KindOfQuantity::Film, 1.5, 2300.0),
        compute: |a| two(a, film_basis_weight),
        expansion: Some("density * gauge"),
        wrong_turns: &[
            turn(
                "mils_taken_for_micrometres",
                "density * bare(gauge, 'mil') * '1 µm'",
                "You took mils for micrometres. 1 mil is 25.4 µm: multiply by that first.",
            ),
            turn(
                "density_forgotten",
                "gauge * '1 g/cm³'",
                "You took micrometres for g/m². Multiply by the density in g/cm³.",
            ),
            turn(
                "divided_by_density",
                "bare(gauge, 'µm') / bare(density, 'g/cm³') * '1 g/m²'",
                "You divided by the density. A denser film weighs more: multiply.",
            ),
        ],
        no_result_when: None,
        source: "derived: mass per area is density times thickness; 1 µm at 1 g/cm³ is 1 g/m²",
    },
    Calculation {
        name: "paper_basis_weight",
        title: "Basis weight of a paper",
        topic: Topic::Material,
        says: "How much a paper weighs per area, from the mass of a ream of its basic sheet.",
        parameters: &[
            parameter("mass", "m", "mass of a ream", "lb", 5.0, 500.0),
            parameter("sheet_area", "A", "area of the basic sheet", "in²", 300.0, 1500.0),
            parameter("sheets", "n", "number of sheets in the ream", "", 100.0, 1000.0),
        ],
        outcome: outcome("B", "g/m²", KindOfQuantity::Film, 5.0, 1200.0),
        compute: |a| three(a, paper_basis_weight),
        expansion: Some("mass / (sheet_area * sheets)"),
        wrong_turns: &[
            turn(
                "book_sheet_taken",
                "mass / ('950 in²' * sheets)",
                "You took the basic sheet of book paper, 25 in × 38 in. Use the sheet of this grade.",
            ),
            turn(
                "packaging_ream_taken",
                "bare(mass, 'lb') * '1 lb/ream'",
                "You used 1.627, the factor of a 3000 ft² ream. Use the sheet and the count of this grade.",
            ),
            turn(
                "factor_upside_down",
                "bare(mass / (sheet_area * sheets), 'lb/ream') / 1.62748 * '1 g/m²'",
                "You divided by 1.627. One pound to 3000 ft² is 1.627 g/m²: multiply.",
            ),
        ],
        no_result_when: None,
        source: "definition: mass over the area of all sheets; exactly 1406.14 lb to g/m² for 500 sheets of 1 in², printed \
                 tables have 1406.5",
    },
    Calculation {
        name: "roll_mass",
        title: "Mass of a roll",
        topic: Topic::Material,
        says: "How much the web on a roll weighs, without the core.",
        parameters: &[
            parameter("basis_weight", "B", "basis weight of the web", "g/m²", 10.0, 1000.0),
            parameter("width", "w", "width of the web", "in", 0.5, 120.0),
            parameter("length", "L", "length of web", "ft", 1.0, 500_000.0),
        ],
        outcome: outcome("m", "lb", KindOfQuantity::Amount, 0.001, 20_000.0),
        compute: |a| three(a, roll_mass),
        expansion: Some("basis_weight * width * length"),
        wrong_turns: &[
            turn(
                "inches_times_feet",
                "basis_weight * bare(width, 'in') * bare(length, 'ft') * '1 in²'",
                "You multiplied inches by feet. Bring both to one unit first: 1 ft is 12 in.",
            ),
            turn(
                "ream_weight_taken_for_grams",
                "bare(basis_weight, 'lb/ream') * '1 g/m²' * width * length",
                "You took lb/ream for g/m². One lb/ream is 1.627 g/m²: multiply by that first.",
            ),
            turn(
                "kilograms_given_as_pounds",
                "bare(basis_weight * width * length, 'kg') * '1 lb'",
                "You gave kilograms as pounds. 1 kg is 2.205 lb.",
            ),
        ],
        no_result_when: None,
        source: "definition of the basis weight",
    },
    Calculation {
        name: "length_of_mass",
        title: "Length from mass",
        topic: Topic::Material,
        says: "How long a web of a mass is.",
        parameters: &[
            parameter("mass", "m", "mass of the web, without core", "lb", 0.1, 10_000.0),
            parameter("basis_weight", "B", "basis weight of the web", "g/m²", 10.0, 1000.0),
            parameter("width", "w", "width of the web", "in", 0.5, 120.0),
        ],
        outcome: outcome("L", "ft", KindOfQuantity::Amount, 1.0, 500_000.0),
        compute: |a| three(a, length_of_mass),
        expansion: Some("mass / (basis_weight * width)"),
        wrong_turns: &[
            turn(
                "inches_given_as_feet",
                "bare(mass / (basis_weight * width), 'in') * '1 ft'",
                "You gave inches as feet. Divide by 12.",
            ),
            turn(
                "ream_weight_taken_for_grams",
                "mass / (bare(basis_weight, 'lb/ream') * '1 g/m²' * width)",
                "You took lb/ream for g/m². One lb/ream is 1.627 g/m²: multiply by that first.",
            ),
            turn(
                "pounds_taken_for_kilograms",
                "bare(mass, 'lb') * '1 kg' / (basis_weight * width)",
                "You took pounds for kilograms. 1 lb is 0.4536 kg.",
            ),
        ],
        no_result_when: None,
        source: "definition of the basis weight",
    },
    Calculation {
        name: "area_of_mass",
        title: "Area from mass",
        topic: Topic::Material,
        says: "How much area a web of a mass has.",
        parameters: &[
            parameter("mass", "m", "mass of the web, without core", "lb", 0.1, 10_000.0),
            parameter("basis_weight", "B", "basis weight of the web", "g/m²", 10.0, 1000.0),
        ],
        outcome: outcome("A", "MSI", KindOfQuantity::Amount, 0.05, 720_000.0),
        compute: |a| two(a, area_of_mass),
        expansion: Some("mass / basis_weight"),
        wrong_turns: &[
            turn(
                "thousand_forgotten",
                "bare(mass / basis_weight, 'in²') * '1 MSI'",
                "You gave square inches. An MSI is 1000 of them: divide by 1000.",
            ),
            turn(
                "ream_weight_taken_for_grams",
                "mass / (bare(basis_weight, 'lb/ream') * '1 g/m²')",
                "You took lb/ream for g/m². One lb/ream is 1.627 g/m²: multiply by that first.",
            ),
            turn(
                "pounds_taken_for_kilograms",
                "bare(mass, 'lb') * '1 kg' / basis_weight",
                "You took pounds for kilograms. 1 lb is 0.4536 kg.",
            ),
        ],
        no_result_when: None,
        source: "definition of the basis weight",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::web::web_area;
    use super::*;

    proptest! {
        #[test]
        fn length_and_mass_lead_to_each_other(
            basis_weight in 0.01_f64..1.0,
            width in 0.02_f64..3.0,
            length in 1.0_f64..100_000.0,
        ) {
            let mass = roll_mass(basis_weight, width, length);
            prop_assert!((length_of_mass(mass, basis_weight, width) - length).abs() < 1e-12 * length);
            let area = web_area(length, width);
            prop_assert!((area_of_mass(mass, basis_weight) - area).abs() < 1e-12 * area);
        }

        #[test]
        fn yield_is_the_area_of_a_kilogram(density in 700.0_f64..3000.0, gauge in 2e-6_f64..800e-6) {
            let area = area_of_mass(1.0, film_basis_weight(density, gauge));
            prop_assert!((film_yield(density, gauge) - area).abs() < 1e-12 * area);
        }
    }
}

//! Ink consumption: mileage, and what to mix for a job.

use super::catalogue::{Calculation, Topic, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Area that a mass of ink covers, in m²/kg.
///
/// `volume_m` is the anilox roll's cell volume per area in metres (0.5 to
/// 45 BCM/in²), `release` the share of it that reaches the web (0.05 to 1),
/// `density_kg_m3` the ink's density (700 to 2500 kg/m³). Printed area only;
/// what stays in pan and hoses is not in it.
///
/// Source: derived. One over film times density.
///
/// ```
/// use gearside::trade::consumption::ink_mileage;
/// // 1 µm of 1 g/cm³ on every square metre: a kilogram covers 1000 m².
/// assert!((ink_mileage(4e-6, 0.25, 1000.0) - 1000.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn ink_mileage(volume_m: f64, release: f64, density_kg_m3: f64) -> f64 {
    1.0 / (volume_m * release * density_kg_m3)
}

/// Ink for a printed area, in kilograms.
///
/// `printed_area_m2` is the area that carries ink in m² (0.1 to 200,000 MSI),
/// `mileage_m2_kg` the area that a mass covers in m²/kg (4,000 to
/// 5,000,000 in²/lb).
///
/// Source: definition of the mileage.
///
/// ```
/// use gearside::trade::consumption::ink_for_area;
/// // 1,000,000 in² at 180,000 in²/lb: 5.55556 lb.
/// assert!((ink_for_area(1e6, 180e3) - 5.555_56).abs() < 5e-6);
/// ```
#[must_use]
pub fn ink_for_area(printed_area_m2: f64, mileage_m2_kg: f64) -> f64 {
    printed_area_m2 / mileage_m2_kg
}

/// Ink to mix for a job, in kilograms.
///
/// `job_ink_kg` goes on the web, `charge_kg` fills pan, chamber and hoses,
/// `losses_kg` go with set-up and wash-up; all in kilograms, 0 to 10,000 kg.
///
/// Source: balance of masses.
///
/// ```
/// use gearside::trade::consumption::ink_to_mix;
/// // 5.5 lb on the web, 3 lb in the pan, 0.5 lb for set-up: 9 lb (published).
/// assert!((ink_to_mix(5.5, 3.0, 0.5) - 9.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn ink_to_mix(job_ink_kg: f64, charge_kg: f64, losses_kg: f64) -> f64 {
    job_ink_kg + charge_kg + losses_kg
}

/// Volume of an ink, in m³.
///
/// `mass_kg` is its mass in kilograms (above 0 to 10,000 kg), `density_kg_m3`
/// its density (700 to 2500 kg/m³).
///
/// Source: definition of density.
///
/// ```
/// use gearside::trade::consumption::ink_volume;
/// // 1.08 kg at 1.08 g/cm³: one litre.
/// assert!((ink_volume(1.08, 1080.0) - 1e-3).abs() < 1e-15);
/// ```
#[must_use]
pub fn ink_volume(mass_kg: f64, density_kg_m3: f64) -> f64 {
    mass_kg / density_kg_m3
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "ink_mileage",
        title: "Ink mileage",
        topic: Topic::Consumption,
        says: "How much printed area a pound of ink covers.",
        parameters: &[
            parameter("volume", "V", "cell volume of the anilox roll", "BCM/in²", 0.5, 45.0),
            parameter("release", "T", "share of the ink that reaches the web", "%", 5.0, 100.0),
            parameter("density", "ρ", "density of the ink", "g/cm³", 0.7, 2.5),
        ],
        outcome: outcome("M", "in²/lb", KindOfQuantity::Amount, 4000.0, 5_000_000.0),
        compute: |a| three(a, ink_mileage),
        expansion: Some("1 / (volume * release * density)"),
        wrong_turns: &[
            turn(
                "release_forgotten",
                "1 / (volume * density)",
                "You put all of the roll's ink on the web. Multiply the volume by the share that gets there.",
            ),
            turn(
                "density_forgotten",
                "1 / (volume * release * '1 g/cm³')",
                "You took a gram for every cubic centimetre. Multiply the film by the ink's density.",
            ),
            turn(
                "pounds_per_gallon_used",
                "1 / (volume * release * bare(density, 'lb/gal') * '1 g/cm³')",
                "You used the density in lb/gal. Bring it to g/cm³ first: 1 lb/gal is 0.1198 g/cm³.",
            ),
        ],
        no_result_when: None,
        source: "derived: one over film times density. Printed tables imply that 44 % to 60 % of the ink reaches the web, \
                 others 25 %, so the share must be given",
    },
    Calculation {
        name: "ink_for_area",
        title: "Ink from mileage",
        topic: Topic::Consumption,
        says: "How much ink a printed area takes, by the ink's mileage.",
        parameters: &[
            parameter("printed_area", "A", "area that carries ink", "MSI", 0.1, 200_000.0),
            parameter("mileage", "M", "area that a pound covers", "in²/lb", 4000.0, 5_000_000.0),
        ],
        outcome: outcome("m", "lb", KindOfQuantity::Amount, 0.001, 20_000.0),
        compute: |a| two(a, ink_for_area),
        expansion: Some("printed_area / mileage"),
        wrong_turns: &[
            turn(
                "thousand_forgotten",
                "bare(printed_area, 'MSI') / bare(mileage, 'in²/lb') * '1 lb'",
                "You left the thousand out. An MSI is 1000 square inches.",
            ),
            turn(
                "square_feet_taken",
                "bare(printed_area, 'ft²') / bare(mileage, 'in²/lb') * '1 lb'",
                "You divided square feet by square inches to the pound. A square foot is 144 square inches.",
            ),
            turn(
                "upside_down",
                "bare(mileage, 'in²/lb') / bare(printed_area, 'in²') * '1 lb'",
                "You divided the mileage by the area. A larger area takes more ink: put the area on top.",
            ),
        ],
        no_result_when: None,
        source: "definition of the mileage",
    },
    Calculation {
        name: "ink_to_mix",
        title: "Ink to mix",
        topic: Topic::Consumption,
        says: "How much ink to have ready, with what fills the pan and what is lost.",
        parameters: &[
            parameter("job_ink", "m_j", "ink that goes on the web", "lb", 0.001, 20_000.0),
            parameter("charge", "m_c", "ink that fills pan or chamber, and hoses", "lb", 0.0, 500.0),
            parameter("losses", "m_l", "ink lost with set-up and wash-up", "lb", 0.0, 500.0),
        ],
        outcome: outcome("m", "lb", KindOfQuantity::Amount, 0.001, 21_000.0),
        compute: |a| three(a, ink_to_mix),
        expansion: Some("job_ink + charge + losses"),
        wrong_turns: &[
            turn(
                "charge_forgotten",
                "job_ink + losses",
                "You left out what fills the pan and the hoses. The deck starves before it is empty: add it.",
            ),
            turn("losses_forgotten", "job_ink + charge", "You left out what set-up and wash-up take. Add it."),
            turn(
                "charge_taken_off",
                "job_ink + losses - charge",
                "You took the charge off. It must be there besides the ink for the web: add it.",
            ),
        ],
        no_result_when: None,
        source: "balance of masses; charge and losses stand on lines of their own, never in a percentage",
    },
    Calculation {
        name: "ink_volume",
        title: "Volume of ink",
        topic: Topic::Consumption,
        says: "How much room a mass of ink takes.",
        parameters: &[
            parameter("mass", "m", "mass of the ink", "lb", 0.001, 20_000.0),
            parameter("density", "ρ", "density of the ink", "g/cm³", 0.7, 2.5),
        ],
        outcome: outcome("V", "gal", KindOfQuantity::Amount, 0.0001, 4000.0),
        compute: |a| two(a, ink_volume),
        expansion: Some("mass / density"),
        wrong_turns: &[
            turn(
                "multiplied_by_density",
                "bare(mass, 'kg') * bare(density, 'g/cm³') * '1 L'",
                "You multiplied by the density. A heavier ink takes less room: divide.",
            ),
            turn(
                "pounds_over_grams",
                "bare(mass, 'lb') / bare(density, 'g/cm³') * '1 gal'",
                "You divided pounds by g/cm³. Bring the density to lb/gal first: 1 g/cm³ is 8.345 lb/gal.",
            ),
            turn(
                "density_of_water",
                "mass / '1 g/cm³'",
                "You took the ink for water. Divide by the ink's own density.",
            ),
        ],
        no_result_when: None,
        source: "definition of density; 1 gal is 231 in³ (US liquid gallon)",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::film;
    use super::*;

    proptest! {
        #[test]
        fn ink_by_mileage_is_the_ink_of_the_film(
            area in 0.1_f64..100_000.0,
            volume in 0.8e-6_f64..70e-6,
            release in 0.05_f64..1.0,
            density in 700.0_f64..2500.0,
        ) {
            let by_mileage = ink_for_area(area, ink_mileage(volume, release, density));
            let by_film = film::job_ink(area, 1.0, volume, release, density);
            prop_assert!((by_mileage - by_film).abs() < 1e-12 * by_film);
        }

        #[test]
        fn a_volume_weighs_its_mass_again(mass in 0.001_f64..10_000.0, density in 700.0_f64..2500.0) {
            prop_assert!((ink_volume(mass, density) * density - mass).abs() < 1e-12 * mass);
        }
    }
}

//! Dynamic viscosity, dilution and blending. (The flow cups have a file to
//! themselves.)
//!
//! Additions go by the ink maker's sheet: a solvent changes drying, not only
//! viscosity.

use super::catalogue::{Calculation, Topic, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Dynamic viscosity, in Pa·s.
///
/// `kinematic_m2_s` is the kinematic viscosity in m²/s (1 to 5000 mm²/s),
/// `density_kg_m3` the density in kg/m³ (700 to 2500).
///
/// Source: definition of kinematic viscosity.
///
/// ```
/// use gearside::trade::viscosity::dynamic_viscosity;
/// // 28 mm²/s at 1.05 g/cm³: 29.4 mPa·s.
/// assert!((dynamic_viscosity(28e-6, 1050.0) - 29.4e-3).abs() < 1e-12);
/// ```
#[must_use]
pub fn dynamic_viscosity(kinematic_m2_s: f64, density_kg_m3: f64) -> f64 {
    kinematic_m2_s * density_kg_m3
}

/// Solvent or extender to add to bring an ink down to a strength, in kilograms.
///
/// `mass_kg` is the mass of ink (0.01 to 5000 kg), `strength` its strength or
/// solids by weight, `target` the wanted one, both above 0 to 1 and the target
/// not above the strength.
///
/// Source: mass balance: what is dissolved stays the same.
///
/// ```
/// use gearside::trade::viscosity::dilution;
/// // 100 kg at 40 % down to 32 %: 25 kg.
/// assert!((dilution(100.0, 0.40, 0.32) - 25.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn dilution(mass_kg: f64, strength: f64, target: f64) -> f64 {
    mass_kg * (strength / target - 1.0)
}

/// Share of the stronger of two inks in a blend, by mass, as a fraction.
///
/// `low` and `high` are the strengths of the two, `target` that of the blend,
/// all 0 to 1; the target lies between the two.
///
/// Source: mass balance (alligation).
///
/// ```
/// use gearside::trade::viscosity::blend_share;
/// // 40 and 60 to 58: 18 parts of the strong one in 20.
/// assert!((blend_share(0.40, 0.60, 0.58) - 0.9).abs() < 1e-12);
/// ```
#[must_use]
pub fn blend_share(low: f64, high: f64, target: f64) -> f64 {
    (target - low) / (high - low)
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "dynamic_viscosity",
        title: "Dynamic viscosity",
        topic: Topic::Viscosity,
        says: "What dynamic viscosity a kinematic one stands for.",
        parameters: &[
            parameter("kinematic", "ν", "kinematic viscosity", "mm²/s", 1.0, 5000.0),
            parameter("density", "ρ", "density of the ink", "g/cm³", 0.7, 2.5),
        ],
        outcome: outcome("η", "mPa·s", KindOfQuantity::Amount, 0.7, 12_500.0),
        compute: |a| two(a, dynamic_viscosity),
        expansion: Some("kinematic * density"),
        wrong_turns: &[
            turn(
                "density_forgotten",
                "bare(kinematic, 'mm²/s') * '1 mPa·s'",
                "You took mm²/s for mPa·s. Multiply by the density in g/cm³.",
            ),
            turn(
                "divided_by_density",
                "bare(kinematic, 'mm²/s') / bare(density, 'g/cm³') * '1 mPa·s'",
                "You divided by the density. From kinematic to dynamic you multiply.",
            ),
        ],
        no_result_when: None,
        source: "definition: kinematic viscosity is dynamic viscosity over density",
    },
    Calculation {
        name: "dilution",
        title: "Dilution",
        topic: Topic::Viscosity,
        says: "How much solvent or extender brings an ink down to a strength.",
        parameters: &[
            parameter("mass", "m", "mass of ink", "kg", 0.01, 5000.0),
            parameter("strength", "S", "strength of the ink, by weight", "%", 1.0, 100.0),
            parameter("target", "S_1", "strength wanted, by weight", "%", 1.0, 100.0),
        ],
        outcome: outcome("m_a", "kg", KindOfQuantity::Amount, 0.0, 20_000.0),
        compute: |a| three(a, dilution),
        expansion: Some("mass * (strength / target - 1)"),
        wrong_turns: &[
            turn(
                "difference_times_mass",
                "mass * (strength - target)",
                "You took the difference in percent of the ink. What you add thins itself in: divide by the target.",
            ),
            turn(
                "share_of_the_old_strength",
                "mass * (strength - target) / strength",
                "You divided by the old strength. The blend has the new one: divide by the target.",
            ),
            turn(
                "whole_blend",
                "mass * strength / target",
                "You gave the mass of the whole blend. Take the ink that is there already off.",
            ),
        ],
        no_result_when: None,
        source: "derived: mass balance, what is dissolved stays the same",
    },
    Calculation {
        name: "blend_share",
        title: "Share of the strong one in a blend",
        topic: Topic::Viscosity,
        says: "What share of a blend the stronger of two inks makes up, by mass.",
        parameters: &[
            parameter("low", "S_l", "strength of the weak one", "%", 0.0, 99.0),
            parameter("high", "S_h", "strength of the strong one", "%", 1.0, 100.0),
            parameter("target", "S_t", "strength wanted", "%", 0.0, 100.0),
        ],
        outcome: outcome("x", "%", KindOfQuantity::Amount, 0.0, 100.0),
        compute: |a| three(a, blend_share),
        expansion: Some("(target - low) / (high - low)"),
        wrong_turns: &[
            turn(
                "crossed_the_wrong_way",
                "(high - target) / (high - low)",
                "You gave the share of the weak one. The nearer a strength is to the target, the more of it you need.",
            ),
            turn(
                "weak_one_as_clear",
                "target / high",
                "You took the weak one for clear. It brings strength too: count from its strength up.",
            ),
            turn(
                "weak_over_strong",
                "(target - low) / (high - target)",
                "You gave parts strong to one part weak. The share is of the whole blend.",
            ),
        ],
        no_result_when: None,
        source: "derived: mass balance (alligation)",
    },
];

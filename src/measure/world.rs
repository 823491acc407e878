//! Which unit world a unit belongs to: the inch and the pound, or the metre
//! and the kilogram.

use super::Unit;

/// A unit world.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum World {
    /// Inches, pounds, gallons, degrees Fahrenheit.
    Us,
    /// Metres, kilograms, litres, degrees Celsius.
    Si,
}

/// Units that only shops of the one world use.
const US: &[&str] = &[
    "in",
    "ft",
    "mil",
    "µin",
    "gauge",
    "yd",
    "in²",
    "ft²",
    "MSI",
    "MSF",
    "ream",
    "in³",
    "ft³",
    "gal",
    "qt",
    "fl oz",
    "lb",
    "oz",
    "lbf",
    "ozf",
    "PLI",
    "oz/in",
    "psi",
    "kpsi",
    "PLI/mil",
    "lbf·in",
    "lbf·ft",
    "teeth/in",
    "threads/in",
    "1/in",
    "ft/min",
    "ft/s",
    "in/s",
    "in/min",
    "lb/gal",
    "mg/in²",
    "lb/ream",
    "lb/MSF",
    "in²/lb",
    "MSI/lb",
    "ft²/lb",
    "lb/h",
    "gal/min",
    "F°",
    "°F",
];

/// Units that only shops of the other world use. Micrometres, grams per square
/// metre, cSt and the doses are at home in both, and so are anilox volumes.
const SI: &[&str] = &[
    "m", "mm", "cm", "km", "m²", "cm²", "mm²", "L", "mL", "cm³", "m³", "kg", "g", "N", "kN", "kgf", "N/m", "N/cm",
    "N/mm", "kgf/cm", "Pa", "kPa", "MPa", "GPa", "bar", "N·m", "l/cm", "px/cm", "1/mm", "1/m", "m/min", "m/s", "cm/s",
    "mm/s", "m²/kg", "kg/h", "g/min", "L/min", "mL/min", "K", "°C",
];

impl World {
    /// The world that a unit belongs to; `None` if it is at home in both.
    ///
    /// ```
    /// use gearside::measure::{World, unit};
    /// assert_eq!(World::of(unit("ft/min").unwrap()), Some(World::Us));
    /// assert_eq!(World::of(unit("mm").unwrap()), Some(World::Si));
    /// assert_eq!(World::of(unit("µm").unwrap()), None);
    /// ```
    #[must_use]
    pub fn of(unit: &Unit) -> Option<Self> {
        if US.contains(&unit.name) {
            Some(Self::Us)
        } else if SI.contains(&unit.name) {
            Some(Self::Si)
        } else {
            None
        }
    }

    /// Its key in `programme.yaml` and in an exercise.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Us => "us",
            Self::Si => "si",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::unit;

    #[test]
    fn every_unit_of_a_world_is_in_the_table_by_its_own_name() {
        for name in US.iter().chain(SI) {
            assert_eq!(unit(name).map(|unit| unit.name), Ok(*name));
        }
    }

    #[test]
    fn no_unit_belongs_to_both_worlds() {
        assert!(US.iter().all(|name| !SI.contains(name)));
    }
}

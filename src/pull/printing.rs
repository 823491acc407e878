//! How a pull's values are printed.

use crate::ground::Decimal;
use crate::measure::{DecimalMark, Unit, fraction, number, quantity};
use crate::programme::Step;

/// Prints values as the programme writes them.
#[derive(Debug, Clone, Copy)]
pub struct Printer {
    /// The decimal mark.
    pub mark: DecimalMark,
}

impl Printer {
    /// A quantity as a person writes it.
    #[must_use]
    pub fn quantity(&self, value: Decimal, unit: &Unit, as_fraction: bool) -> String {
        if as_fraction && unit.name == "in" {
            fraction(value.value(), self.mark)
        } else {
            quantity(value, unit, self.mark)
        }
    }

    /// Several numbers with their unit once.
    #[must_use]
    pub fn series(&self, numbers: &[Decimal], unit: &Unit) -> String {
        let joint = match self.mark {
            DecimalMark::Point => ", ",
            DecimalMark::Comma => "; ",
        };
        let list = numbers.iter().map(|one| number(*one, self.mark)).collect::<Vec<_>>().join(joint);
        if unit.name.is_empty() { list } else { format!("{list} {}", unit.name) }
    }

    /// A step's SI value at its shown place.
    #[must_use]
    pub fn step(&self, step: &Step, si: f64) -> String {
        quantity(step.shown_to.nearest(step.in_unit(si)), step.unit, self.mark)
    }
}

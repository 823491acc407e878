//! Quantities as authors write them: a plain number and a unit.

use super::dimension::Dimension;
use super::units::{Unit, UnknownUnit, unit_where};
use crate::ground::Decimal;

/// A number with its unit, kept as written and in SI.
#[derive(Debug, Clone, Copy)]
pub struct Quantity {
    /// The number as written, in `unit`.
    pub number: Decimal,
    /// Its unit.
    pub unit: &'static Unit,
    /// The value in SI.
    pub si: f64,
}

/// Why a text is not a quantity.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum QuantityFault {
    /// It does not start with a plain decimal number.
    NoNumber,
    /// Its unit is not known.
    UnknownUnit(UnknownUnit),
}

impl Quantity {
    /// Reads `3.8 BCM/in²`, `45 %`, `-0.5 mm`, `12`, with a point as the
    /// decimal mark: the strict form of the YAML files and of formulas.
    ///
    /// # Errors
    /// [`QuantityFault`] if there is no number in front or the unit is unknown.
    pub fn parse(text: &str) -> Result<Self, QuantityFault> {
        Self::parse_wanting(text, None)
    }

    /// The same; where a spelling belongs to several units, the one with the
    /// wanted dimension is taken.
    ///
    /// # Errors
    /// As [`Quantity::parse`].
    pub fn parse_wanting(text: &str, wanted: Option<Dimension>) -> Result<Self, QuantityFault> {
        let text = text.trim();
        let end = text
            .char_indices()
            .find(|(i, c)| !(c.is_ascii_digit() || *c == '.' || (*i == 0 && matches!(c, '-' | '−' | '+'))));
        let (number, rest) = text.split_at(end.map_or(text.len(), |(i, _)| i));
        let number = Decimal::parse(number).ok_or(QuantityFault::NoNumber)?;
        let unit = unit_where(rest.trim(), |unit| wanted.is_none_or(|want| unit.dimension == want))
            .map_err(QuantityFault::UnknownUnit)?;
        Ok(Self { number, unit, si: unit.to_si(number.value()) })
    }
}

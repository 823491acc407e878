//! What kind of value a formula yields.

use std::fmt;

use crate::measure::{Dimension, Unit};

/// The kind of a value. A temperature is a [`Type::Point`] on its scale or, as
/// a difference of two points, a number with the dimension of temperature.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Type {
    /// A number of that dimension; plain numbers too.
    Number(Dimension),
    /// A temperature reading.
    Point,
    /// Yes or no, 1.0 or 0.0.
    Truth,
    /// A series of numbers of that dimension.
    Series(Dimension),
    /// A series of temperature readings.
    SeriesOfPoints,
}

impl Type {
    /// A plain number.
    pub const PLAIN: Self = Self::Number(Dimension::PLAIN);

    /// A difference of two temperature readings.
    pub const INTERVAL: Self = Self::Number(Dimension::TEMPERATURE);

    /// The type of a value in that unit: °C and °F give points.
    ///
    /// ```
    /// use gearside::{formula::Type, measure::{Dimension, unit}};
    /// assert_eq!(Type::of(unit("µm").unwrap()), Type::Number(Dimension::LENGTH));
    /// ```
    #[must_use]
    pub fn of(unit: &Unit) -> Self {
        if unit.offset > 0.0 { Self::Point } else { Self::Number(unit.dimension) }
    }

    /// The type of a series of such values; a series and a truth stay what they are.
    #[must_use]
    pub fn in_series(self) -> Self {
        match self {
            Self::Number(dimension) => Self::Series(dimension),
            Self::Point => Self::SeriesOfPoints,
            other => other,
        }
    }

    /// The dimension of a number.
    pub(super) fn dimension(self) -> Option<Dimension> {
        match self {
            Self::Number(dimension) => Some(dimension),
            _ => None,
        }
    }

    /// Whether it is a series.
    #[must_use]
    pub fn is_series(self) -> bool {
        matches!(self, Self::Series(_) | Self::SeriesOfPoints)
    }
}

impl fmt::Display for Type {
    /// In words: `a length, mm`, `a temperature reading`, `yes or no`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::INTERVAL => f.write_str("a difference of temperatures, K"),
            Self::Number(dimension) => write!(f, "{dimension}"),
            Self::Point => f.write_str("a temperature reading"),
            Self::Truth => f.write_str("yes or no"),
            Self::Series(dimension) if dimension.is_plain() => f.write_str("a series of plain numbers"),
            Self::Series(dimension) => write!(f, "a series of values, each {}", Self::Number(dimension)),
            Self::SeriesOfPoints => f.write_str("a series of temperature readings"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn types_are_said_in_words() {
        for (kind, words) in [
            (Type::Number(Dimension::LENGTH), "a length, mm"),
            (Type::PLAIN, "a plain number"),
            (Type::Point, "a temperature reading"),
            (Type::Truth, "yes or no"),
            (Type::Series(Dimension::PLAIN), "a series of plain numbers"),
            (Type::Series(Dimension::LENGTH), "a series of values, each a length, mm"),
            (Type::SeriesOfPoints, "a series of temperature readings"),
        ] {
            assert_eq!(kind.to_string(), words);
        }
    }
}

//! What a formula's parts can be, and where its names come from.

use std::collections::BTreeMap;
use std::fmt;

use crate::measure::Dimension;

/// What a value is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Type {
    /// A number with a dimension; a temperature here is a difference.
    Number(Dimension),
    /// A temperature reading: a point on a scale.
    Point,
    /// True or false.
    Truth,
    /// Several numbers of one dimension.
    Series(Dimension),
    /// Several temperature readings.
    SeriesOfPoints,
}

impl fmt::Display for Type {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number(dimension) if *dimension == Dimension::TEMPERATURE => {
                f.write_str("a temperature difference, K")
            }
            Self::Number(dimension) => dimension.fmt(f),
            Self::Point => f.write_str("a temperature reading, °C"),
            Self::Truth => f.write_str("a yes or no"),
            Self::Series(dimension) => write!(f, "a series, each {dimension}"),
            Self::SeriesOfPoints => f.write_str("a series of temperature readings"),
        }
    }
}

/// A name's slot and type.
#[derive(Debug, Clone, Copy)]
pub struct Named {
    /// The slot among the scalars, or among the series.
    pub slot: usize,
    /// Its type.
    pub kind: Type,
}

/// The names that a formula may use.
pub trait Scope {
    /// The entry of a name.
    fn look_up(&self, name: &str) -> Option<Named>;
    /// All names, to suggest a near one.
    fn known(&self) -> Vec<String>;
}

impl Scope for BTreeMap<String, Named> {
    fn look_up(&self, name: &str) -> Option<Named> {
        self.get(name).copied()
    }

    fn known(&self) -> Vec<String> {
        self.keys().cloned().collect()
    }
}

/// The symbols of names, such as `h_0`.
pub trait Symbols {
    /// The symbol of a name; `None` shows the name itself.
    fn symbol(&self, name: &str) -> Option<String>;
}

//! Kinds of quantity, and how far an answer may lie from the key.

/// How far an answer may lie from the key.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Leeway {
    /// Not at all.
    Exact,
    /// A share of the key: `0.02` is 2 %.
    Relative(f64),
    /// An SI amount either way.
    Absolute(f64),
    /// The larger of a share of the key and an SI amount.
    Larger(f64, f64),
}

/// What kind of quantity a value is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KindOfQuantity {
    /// Counts, teeth, check digits: exact.
    Count,
    /// Press and plate lengths: ±0.001 in, or ±0.02 mm where the answer is metric.
    PressLength,
    /// Films and coat weights: 2 %.
    Film,
    /// Optical density: ±0.01.
    Density,
    /// Tone values and differences of them: ±0.5 point, ±1.1 at or below 10 %.
    ToneValue,
    /// Temperatures: ±0.5 in the asked unit.
    Temperature,
    /// Colour differences: ±0.05.
    ColourDifference,
    /// Flow, volume, dose, time, speed, mass, force, lengths of web: 1 %.
    Amount,
}

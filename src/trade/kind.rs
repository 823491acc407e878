//! Kinds of quantity: each brings the leeway that is usual for it.

use super::leeway::Leeway;
use crate::measure::{Dimension, Unit};

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

/// 0.001 in, in metres.
const INCH_LEEWAY_M: f64 = 0.001 * 0.0254;
/// 0.02 mm, in metres.
const METRIC_LEEWAY_M: f64 = 0.02e-3;

impl KindOfQuantity {
    /// All kinds, in the order of their words' explanation.
    pub const ALL: [Self; 8] = [
        Self::Count,
        Self::PressLength,
        Self::Film,
        Self::Density,
        Self::ToneValue,
        Self::Temperature,
        Self::ColourDifference,
        Self::Amount,
    ];

    /// The kind's word in a bank.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Count => "count",
            Self::PressLength => "press-length",
            Self::Film => "film",
            Self::Density => "density",
            Self::ToneValue => "tone-value",
            Self::Temperature => "temperature",
            Self::ColourDifference => "colour-difference",
            Self::Amount => "amount",
        }
    }

    /// The kind of that word.
    ///
    /// ```
    /// use gearside::trade::KindOfQuantity;
    /// assert_eq!(KindOfQuantity::from_word("press-length"), Some(KindOfQuantity::PressLength));
    /// assert_eq!(KindOfQuantity::from_word("length"), None);
    /// ```
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word)
    }

    /// The kind that a value in this unit has unless something says otherwise.
    ///
    /// A `mil` is taken for a gauge of film, `in` and `mm` for lengths on press
    /// or plate, `m` and `ft` for lengths of web. Optical density has no unit of
    /// its own, so a plain number is an amount.
    ///
    /// ```
    /// use gearside::measure::unit;
    /// use gearside::trade::KindOfQuantity;
    /// assert_eq!(KindOfQuantity::of_unit(unit("µm").unwrap()), KindOfQuantity::Film);
    /// assert_eq!(KindOfQuantity::of_unit(unit("ft").unwrap()), KindOfQuantity::Amount);
    /// ```
    #[must_use]
    pub fn of_unit(unit: &Unit) -> Self {
        match unit.name {
            "µm" | "mil" | "gauge" | "cm³/m²" | "BCM/in²" | "g/m²" | "mg/in²" | "lb/ream" | "lb/MSF" => {
                Self::Film
            }
            "mm" | "cm" | "in" | "µin" | "pt" => Self::PressLength,
            "teeth" | "impressions" | "labels" | "sheets" | "rolls" | "px" | "dots" => Self::Count,
            "points" => Self::ToneValue,
            "D" => Self::Density,
            "ΔE" => Self::ColourDifference,
            _ if unit.dimension == Dimension::TEMPERATURE => Self::Temperature,
            _ => Self::Amount,
        }
    }

    /// The leeway of this kind for a key in the asked unit.
    ///
    /// A tone value is looked at as a share: at or below 10 % its leeway is
    /// wider, since one hundredth of a density moves it by about a point there.
    /// A difference of tone values, in points, always has half a point.
    ///
    /// A press length asked in a unit that is no length has the leeway of an
    /// amount.
    ///
    /// ```
    /// use gearside::measure::unit;
    /// use gearside::trade::{KindOfQuantity, Leeway};
    /// let percent = unit("%").unwrap();
    /// assert_eq!(KindOfQuantity::Film.leeway(percent, 50.0), Leeway::Relative(0.02));
    /// assert_eq!(KindOfQuantity::Count.leeway(percent, 50.0), Leeway::Exact);
    /// ```
    #[must_use]
    pub fn leeway(self, asked: &Unit, key_in_asked: f64) -> Leeway {
        match self {
            Self::Count => Leeway::Exact,
            Self::PressLength if asked.dimension != Dimension::LENGTH => Leeway::Relative(0.01),
            Self::PressLength => {
                let metres = if is_metric(asked) { METRIC_LEEWAY_M } else { INCH_LEEWAY_M };
                Leeway::Absolute(metres / asked.factor)
            }
            Self::Film => Leeway::Relative(0.02),
            Self::Density => Leeway::Absolute(0.01 / asked.factor),
            Self::ToneValue => {
                let highlight = asked.name != "points" && key_in_asked * asked.factor <= 0.1 + 1e-9;
                Leeway::Absolute(if highlight { 0.011 } else { 0.005 } / asked.factor)
            }
            Self::Temperature => Leeway::Absolute(0.5),
            Self::ColourDifference => Leeway::Absolute(0.05 / asked.factor),
            Self::Amount => Leeway::Relative(0.01),
        }
    }

    /// How far an answer may lie from the key to either side, in the asked
    /// unit; at least 0.
    ///
    /// ```
    /// use gearside::measure::unit;
    /// use gearside::trade::KindOfQuantity;
    /// let mm = unit("mm").unwrap();
    /// assert!((KindOfQuantity::PressLength.half_width(mm, 381.0) - 0.02).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn half_width(self, asked: &Unit, key_in_asked: f64) -> f64 {
        self.leeway(asked, key_in_asked).half_width(key_in_asked)
    }

    /// How far an answer may lie from the key, with an author's own leeway if
    /// there is one: at least half of the place it is shown to, but for counts.
    ///
    /// ```
    /// use gearside::measure::unit;
    /// use gearside::trade::{KindOfQuantity, Leeway};
    /// let µm = unit("µm").unwrap();
    /// assert!((KindOfQuantity::Film.allowed(None, µm, 0.01, 2.0) - 0.04).abs() < 1e-12);
    /// assert!((KindOfQuantity::Film.allowed(Some(Leeway::Absolute(0.02)), µm, 0.1, 2.0) - 0.05).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn allowed(self, own: Option<Leeway>, asked: &Unit, shown_to: f64, key_in_asked: f64) -> f64 {
        match own {
            None if self == Self::Count => 0.0,
            None => self.half_width(asked, key_in_asked).max(shown_to / 2.0),
            Some(leeway) => leeway.half_width(key_in_asked).max(shown_to / 2.0),
        }
    }
}

/// Whether a length unit is one of the metric ones.
fn is_metric(unit: &Unit) -> bool {
    matches!(unit.name, "m" | "cm" | "mm" | "µm" | "km" | "cm³/m²")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::unit;

    fn known(name: &str) -> &'static Unit {
        unit(name).unwrap_or_else(|unknown| panic!("{unknown:?}"))
    }

    #[test]
    fn each_kind_has_the_leeway_that_the_trade_allows() {
        use KindOfQuantity::{Amount, ColourDifference, Count, Density, Film, PressLength, Temperature, ToneValue};
        // kind, asked unit, key, half width in the asked unit
        let table = [
            (Count, "teeth", 96.0, 0.0),
            (PressLength, "in", 12.0, 0.001),
            (PressLength, "mil", 67.0, 1.0),
            (PressLength, "ft", 1.0, 0.001 / 12.0),
            (PressLength, "mm", 381.0, 0.02),
            (PressLength, "cm", 38.1, 0.002),
            (PressLength, "µm", 1700.0, 20.0),
            (PressLength, "kg", 50.0, 0.5),
            (Film, "µm", 1.5, 0.03),
            (Film, "BCM/in²", -4.0, 0.08),
            (Density, "", 1.3, 0.01),
            (ToneValue, "%", 71.8, 0.5),
            (ToneValue, "%", 10.0, 1.1),
            (ToneValue, "%", 10.01, 0.5),
            (ToneValue, "", 0.718, 0.005),
            (ToneValue, "", 0.1, 0.011),
            (ToneValue, "points", 8.0, 0.5),
            (ToneValue, "points", -21.8, 0.5),
            (Temperature, "°C", 20.0, 0.5),
            (Temperature, "°F", 68.0, 0.5),
            (ColourDifference, "", 2.04, 0.05),
            (Amount, "ft", 7500.0, 75.0),
            (Amount, "%", 25.0, 0.25),
        ];
        for (kind, asked, key, expected) in table {
            let got = kind.half_width(known(asked), key);
            assert!((got - expected).abs() < 1e-9, "{kind:?} {key} {asked}: {got}, not {expected}");
        }
    }

    #[test]
    fn a_unit_stands_for_a_kind() {
        use KindOfQuantity::{Amount, Count, Film, PressLength, Temperature, ToneValue};
        let table = [
            ("µm", Film),
            ("cm³/m²", Film),
            ("BCM/in²", Film),
            ("g/m²", Film),
            ("lb/ream", Film),
            ("mil", Film),
            ("mm", PressLength),
            ("cm", PressLength),
            ("in", PressLength),
            ("m", Amount),
            ("ft", Amount),
            ("teeth", Count),
            ("impressions", Count),
            ("labels", Count),
            ("%", Amount),
            ("points", ToneValue),
            ("°C", Temperature),
            ("°F", Temperature),
            ("", Amount),
            ("lbf", Amount),
            ("°", Amount),
            ("s (Zahn 2)", Amount),
        ];
        for (name, expected) in table {
            assert_eq!(KindOfQuantity::of_unit(known(name)), expected, "{name}");
        }
    }

    #[test]
    fn words_lead_back_to_their_kinds() {
        for kind in KindOfQuantity::ALL {
            assert_eq!(KindOfQuantity::from_word(kind.word()), Some(kind));
        }
    }
}

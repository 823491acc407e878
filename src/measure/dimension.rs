//! Dimensions: what kind of thing a value measures.

use std::fmt;

/// A flow cup. Its seconds are a reading of that cup only: they are not time,
/// and seconds of one cup never stand for seconds of another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the names are the cups' own names")]
pub enum Cup {
    Zahn1,
    Zahn2,
    Zahn3,
    Zahn4,
    Zahn5,
    Shell1,
    Shell2,
    Shell2Half,
    Shell3,
    Shell3Half,
    Shell4,
    Shell5,
    Shell6,
    Ford1,
    Ford2,
    Ford3,
    Ford4,
    Ford5,
    Din4,
    Iso3,
    Iso4,
    Iso5,
    Iso6,
}

/// The exponents of length, mass, time, temperature and angle, and the cup if
/// the value is a reading in cup seconds.
///
/// Counts, percentages, optical densities and colour differences are plain
/// numbers: all exponents zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Dimension {
    /// Exponent of length (metre).
    pub length: i8,
    /// Exponent of mass (kilogram).
    pub mass: i8,
    /// Exponent of time (second).
    pub time: i8,
    /// Exponent of temperature (kelvin).
    pub temperature: i8,
    /// Exponent of angle (radian).
    pub angle: i8,
    /// The cup whose seconds these are.
    pub cup: Option<Cup>,
}

impl Dimension {
    /// A plain number.
    pub const PLAIN: Self = Self::of(0, 0, 0);
    /// A length.
    pub const LENGTH: Self = Self::of(1, 0, 0);
    /// An angle.
    pub const ANGLE: Self = Self { angle: 1, ..Self::PLAIN };
    /// A temperature.
    pub const TEMPERATURE: Self = Self { temperature: 1, ..Self::PLAIN };

    /// The dimension with these exponents of length, mass and time.
    #[must_use]
    pub const fn of(length: i8, mass: i8, time: i8) -> Self {
        Self { length, mass, time, temperature: 0, angle: 0, cup: None }
    }

    /// The seconds of a cup.
    #[must_use]
    pub const fn cup(cup: Cup) -> Self {
        Self { cup: Some(cup), ..Self::PLAIN }
    }

    /// Whether it is a plain number.
    #[must_use]
    pub fn is_plain(self) -> bool {
        self == Self::PLAIN
    }

    /// The dimension of a product; `None` if it makes no sense (cup seconds
    /// times anything but a plain number, or an exponent beyond 100).
    #[must_use]
    pub fn times(self, other: Self) -> Option<Self> {
        let cup = match (self.cup, other.cup) {
            (None, None) => None,
            (Some(cup), None) if other.is_plain() => Some(cup),
            (None, Some(cup)) if self.is_plain() => Some(cup),
            _ => return None,
        };
        Some(Self { cup, ..self.combined(other, 1)? })
    }

    /// The dimension of a quotient; `None` as for [`Dimension::times`]. Seconds
    /// of a cup over seconds of the same cup are a plain number.
    #[must_use]
    pub fn per(self, other: Self) -> Option<Self> {
        match (self.cup, other.cup) {
            (Some(a), Some(b)) if a == b => Some(Self::PLAIN),
            (Some(_), None) if other.is_plain() => Some(self),
            (None, None) => self.combined(other, -1),
            _ => None,
        }
    }

    /// The dimension of a whole power; `None` for cup seconds (but for the
    /// power 1) and for exponents beyond 100.
    #[must_use]
    pub fn power(self, exponent: i8) -> Option<Self> {
        if self.cup.is_some() {
            return (exponent == 1).then_some(self);
        }
        let raise = |e: i8| e.checked_mul(exponent).filter(|e| e.unsigned_abs() <= 100);
        Some(Self {
            length: raise(self.length)?,
            mass: raise(self.mass)?,
            time: raise(self.time)?,
            temperature: raise(self.temperature)?,
            angle: raise(self.angle)?,
            cup: None,
        })
    }

    /// The dimension of a square root; `None` if an exponent is odd.
    #[must_use]
    pub fn root(self) -> Option<Self> {
        if self.cup.is_some() {
            return None;
        }
        let halve = |e: i8| (e % 2 == 0).then_some(e / 2);
        Some(Self {
            length: halve(self.length)?,
            mass: halve(self.mass)?,
            time: halve(self.time)?,
            temperature: halve(self.temperature)?,
            angle: halve(self.angle)?,
            cup: None,
        })
    }

    fn combined(self, other: Self, sign: i8) -> Option<Self> {
        let add = |a: i8, b: i8| a.checked_add(b.checked_mul(sign)?).filter(|e| e.unsigned_abs() <= 100);
        Some(Self {
            length: add(self.length, other.length)?,
            mass: add(self.mass, other.mass)?,
            time: add(self.time, other.time)?,
            temperature: add(self.temperature, other.temperature)?,
            angle: add(self.angle, other.angle)?,
            cup: None,
        })
    }
}

/// Names of dimensions as (length, mass, time), the words, and the usual unit.
const NAMED: &[((i8, i8, i8), &str, &str)] = &[
    ((0, 0, 0), "a plain number", ""),
    ((1, 0, 0), "a length", "mm"),
    ((2, 0, 0), "an area", "m²"),
    ((3, 0, 0), "a volume", "L"),
    ((0, 1, 0), "a mass", "kg"),
    ((0, 0, 1), "a time", "s"),
    ((0, 0, -1), "a rate", "1/min"),
    ((1, 0, -1), "a speed", "m/min"),
    ((-1, 0, 0), "a number per length", "l/cm"),
    ((2, 0, -1), "a kinematic viscosity", "mm²/s"),
    ((-1, 1, -1), "a dynamic viscosity", "mPa·s"),
    ((-2, 1, 0), "a mass per area", "g/m²"),
    ((-3, 1, 0), "a mass per volume", "g/cm³"),
    ((2, -1, 0), "an area per mass", "in²/lb"),
    ((1, 1, -2), "a force", "N"),
    ((0, 1, -2), "a force per width", "N/m"),
    ((-1, 1, -2), "a pressure", "kPa"),
    ((2, 1, -2), "a torque", "N·m"),
    ((0, 1, -3), "a power per area", "W/cm²"),
    ((2, 1, -3), "a power", "kW"),
    ((0, 1, -1), "a mass per time", "kg/h"),
    ((3, 0, -1), "a volume per time", "L/min"),
    ((-2, 0, 0), "a number per area", "1/cm²"),
    ((1, 0, -2), "an acceleration", "m/s²"),
    ((2, 0, -2), "an energy per mass", "kJ/kg"),
];

impl fmt::Display for Dimension {
    /// The dimension in words with its usual unit: `a length, mm`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.named() {
            Some((words, "")) => f.write_str(words),
            Some((words, usual)) => write!(f, "{words}, {usual}"),
            None => match self.cup {
                Some(cup) => write!(f, "seconds of a flow cup, s ({})", cup.name()),
                None => self.write_exponents(f),
            },
        }
    }
}

impl Dimension {
    /// The dimension in words, without a unit: `a length`, `seconds of the
    /// Zahn 2 cup`.
    ///
    /// ```
    /// use gearside::measure::{Cup, Dimension};
    /// assert_eq!(Dimension::LENGTH.words(), "a length");
    /// assert_eq!(Dimension::cup(Cup::Zahn2).words(), "seconds of the Zahn 2 cup");
    /// assert_eq!(Dimension::of(4, 0, 0).words(), "a quantity in m^4");
    /// ```
    #[must_use]
    pub fn words(self) -> String {
        match (self.named(), self.cup) {
            (Some((words, _)), _) => words.to_owned(),
            (None, Some(cup)) => format!("seconds of the {} cup", cup.name()),
            (None, None) => self.to_string(),
        }
    }

    /// A short text that is the same for equal dimensions only: the exponents,
    /// or the cup.
    ///
    /// ```
    /// use gearside::measure::{Cup, Dimension};
    /// assert_eq!(Dimension::of(1, 0, -1).key(), "1,0,-1,0,0");
    /// assert_eq!(Dimension::cup(Cup::Zahn2).key(), "Zahn 2");
    /// ```
    #[must_use]
    pub fn key(self) -> String {
        match self.cup {
            Some(cup) => cup.name().to_owned(),
            None => format!("{},{},{},{},{}", self.length, self.mass, self.time, self.temperature, self.angle),
        }
    }

    /// The words and the usual unit, for dimensions that have a name.
    fn named(self) -> Option<(&'static str, &'static str)> {
        if self.cup.is_some() {
            return None;
        }
        if self == Self::TEMPERATURE {
            return Some(("a temperature", "°C"));
        }
        if self == Self::ANGLE {
            return Some(("an angle", "°"));
        }
        if (self.temperature, self.angle) != (0, 0) {
            return None;
        }
        let key = (self.length, self.mass, self.time);
        NAMED.iter().find(|(named, ..)| *named == key).map(|(_, words, usual)| (*words, *usual))
    }

    fn write_exponents(self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a quantity in")?;
        let parts =
            [("m", self.length), ("kg", self.mass), ("s", self.time), ("K", self.temperature), ("rad", self.angle)];
        for (name, exponent) in parts {
            match exponent {
                0 => {}
                1 => write!(f, " {name}")?,
                other => write!(f, " {name}^{other}")?,
            }
        }
        Ok(())
    }
}

impl Cup {
    /// The cup's name as it stands behind its seconds: `30 s (Zahn 2)`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Zahn1 => "Zahn 1",
            Self::Zahn2 => "Zahn 2",
            Self::Zahn3 => "Zahn 3",
            Self::Zahn4 => "Zahn 4",
            Self::Zahn5 => "Zahn 5",
            Self::Shell1 => "Shell 1",
            Self::Shell2 => "Shell 2",
            Self::Shell2Half => "Shell 2½",
            Self::Shell3 => "Shell 3",
            Self::Shell3Half => "Shell 3½",
            Self::Shell4 => "Shell 4",
            Self::Shell5 => "Shell 5",
            Self::Shell6 => "Shell 6",
            Self::Ford1 => "Ford 1",
            Self::Ford2 => "Ford 2",
            Self::Ford3 => "Ford 3",
            Self::Ford4 => "Ford 4",
            Self::Ford5 => "Ford 5",
            Self::Din4 => "DIN 4 mm",
            Self::Iso3 => "ISO 3 mm",
            Self::Iso4 => "ISO 4 mm",
            Self::Iso5 => "ISO 5 mm",
            Self::Iso6 => "ISO 6 mm",
        }
    }
}

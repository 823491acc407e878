//! The one table of units: names, spellings, dimensions, exact factors.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::dimension::Dimension;
use crate::ground::nearest_name;

/// One unit. `si = value × factor + offset`.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// How it is printed.
    pub name: &'static str,
    /// Other ways people type it.
    pub spellings: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    /// SI units in one of it.
    pub factor: f64,
    /// SI value of its zero: not 0 only for °C and °F read as points.
    pub offset: f64,
}

impl Unit {
    /// A value in this unit, in SI.
    #[must_use]
    pub fn to_si(&self, value: f64) -> f64 {
        value * self.factor + self.offset
    }

    /// An SI value, in this unit.
    #[must_use]
    pub fn from_si(&self, si: f64) -> f64 {
        (si - self.offset) / self.factor
    }

    /// An SI *difference*, in this unit: a temperature interval has no offset.
    #[must_use]
    pub fn difference_from_si(&self, si: f64) -> f64 {
        si / self.factor
    }
}

/// The inch, exactly (international inch, 1959).
const IN: f64 = 0.0254;
/// The foot, exactly.
const FT: f64 = 0.3048;
/// The pound, exactly.
const LB: f64 = 0.453_592_37;
/// Standard gravity, exactly (3rd CGPM, 1901): makes a pound-force of a pound.
const GRAVITY: f64 = 9.806_65;
/// The US gallon, 231 cubic inches exactly.
const GAL: f64 = 231.0 * IN * IN * IN;

const fn plain(name: &'static str, spellings: &'static [&'static str], factor: f64) -> Unit {
    Unit { name, spellings, dimension: Dimension::PLAIN, factor, offset: 0.0 }
}

const fn of(name: &'static str, spellings: &'static [&'static str], dimension: (i8, i8, i8), factor: f64) -> Unit {
    Unit { name, spellings, dimension: Dimension::of(dimension.0, dimension.1, dimension.2), factor, offset: 0.0 }
}

/// Every unit the program knows.
pub static UNITS: &[Unit] = &[
    // plain numbers
    plain("", &[], 1.0),
    plain("%", &["percent", "pct", "per cent"], 0.01),
    plain("points", &["point", "pp", "percentage points"], 0.01),
    plain("teeth", &["tooth", "t"], 1.0),
    plain("impressions", &["imp", "impression", "imps"], 1.0),
    // length
    of("m", &["metre", "metres", "meter", "meters"], (1, 0, 0), 1.0),
    of("mm", &["millimetre", "millimetres", "millimeter", "millimeters"], (1, 0, 0), 1e-3),
    of("µm", &["um", "micron", "microns", "micrometre", "micrometres"], (1, 0, 0), 1e-6),
    of("in", &["inch", "inches", "\"", "″", "in."], (1, 0, 0), IN),
    of("ft", &["foot", "feet", "'", "′"], (1, 0, 0), FT),
    of("mil", &["mils", "thou"], (1, 0, 0), 0.001 * IN),
    of("cm³/m²", &["cm3/m2", "cc/m2", "ml/m2"], (1, 0, 0), 1e-6),
    of("BCM/in²", &["bcm/in2", "bcm", "bcm/sq in"], (1, 0, 0), 1e-15 / (IN * IN) * 1e6),
    // the rest
    of("lpi", &["lines/in", "l/in"], (-1, 0, 0), 1.0 / IN),
    of("s", &["sec", "second", "seconds"], (0, 0, 1), 1.0),
    of("min", &["minute", "minutes"], (0, 0, 1), 60.0),
    of("ft/min", &["fpm"], (1, 0, -1), FT / 60.0),
    of("m/min", &["mpm"], (1, 0, -1), 1.0 / 60.0),
    of("kg", &["kilogram", "kilograms"], (0, 1, 0), 1.0),
    of("lb", &["lbs", "#", "pound", "pounds"], (0, 1, 0), LB),
    of("lbf", &["lb", "lbs", "#"], (1, 1, -2), LB * GRAVITY),
    of("PLI", &["lbf/in", "lb/in"], (0, 1, -2), LB * GRAVITY / IN),
    of("gal", &["gallon", "gallons", "us gal"], (3, 0, 0), GAL),
];

/// A unit name that is not in the table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownUnit {
    /// As it was written.
    pub text: String,
    /// A known name that looks like it.
    pub near: Option<&'static str>,
}

/// Spelling, folded → units that are spelled so, in table order.
static BY_SPELLING: LazyLock<BTreeMap<String, Vec<&'static Unit>>> = LazyLock::new(|| {
    let mut map: BTreeMap<String, Vec<&'static Unit>> = BTreeMap::new();
    for unit in UNITS {
        for spelling in std::iter::once(&unit.name).chain(unit.spellings) {
            let list = map.entry(folded(spelling)).or_default();
            if !list.iter().any(|known| std::ptr::eq(*known, unit)) {
                list.push(unit);
            }
        }
    }
    map
});

/// A spelling without what people vary: case, spaces, `²` for `2`, `μ` (Greek) for `µ` (sign).
fn folded(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_whitespace())
        .flat_map(char::to_lowercase)
        .map(|c| match c {
            '²' => '2',
            '³' => '3',
            'μ' => 'µ',
            '·' | '*' | '⋅' => '.',
            other => other,
        })
        .filter(|c| *c != '^')
        .collect()
}

/// The unit of that name or spelling; the first in the table if several share it.
///
/// # Errors
/// [`UnknownUnit`] with a near name, for any other text.
///
/// ```
/// use gearside::measure::unit;
/// assert_eq!(unit("micron").unwrap().name, "µm");
/// assert_eq!(unit("BCM").unwrap().name, "BCM/in²");
/// assert_eq!(unit("inchs").unwrap_err().near, Some("inch"));
/// ```
pub fn unit(text: &str) -> Result<&'static Unit, UnknownUnit> {
    unit_where(text, |_| true)
}

/// The first unit so spelled that `wanted` accepts; if none is accepted, the
/// first so spelled. So `lb` is a force where a force is wanted, else a mass.
///
/// # Errors
/// [`UnknownUnit`] if nothing is spelled so.
pub fn unit_where(text: &str, wanted: impl Fn(&Unit) -> bool) -> Result<&'static Unit, UnknownUnit> {
    let list = BY_SPELLING.get(&folded(text)).ok_or_else(|| UnknownUnit {
        text: text.to_owned(),
        near: nearest_name(text, UNITS.iter().flat_map(|u| std::iter::once(u.name).chain(u.spellings.iter().copied()))),
    })?;
    Ok(list.iter().find(|unit| wanted(unit)).unwrap_or(&list[0]))
}

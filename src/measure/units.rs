//! What a unit is, and finding one by what people write.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::dimension::Dimension;
use super::table::UNITS;
use crate::ground::language::spoken;
use crate::ground::{nearest_name, say};

/// One unit. `si = value × factor + offset`.
///
/// ```
/// use gearside::measure::unit;
/// let mil = unit("mil").unwrap();
/// assert_eq!(mil.name, "mil");
/// assert!((mil.to_si(1.0) - 25.4e-6).abs() < 1e-18);
/// ```
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// How it is printed; no two units have the same name.
    pub name: &'static str,
    /// Other ways people type it.
    pub spellings: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    /// SI units in one of it; above 0.
    pub factor: f64,
    /// SI value of its zero: not 0 only for °C and °F, which are points on a scale.
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

    /// Whether it is a point on a scale (°C, °F) rather than an amount.
    #[must_use]
    pub fn is_point(&self) -> bool {
        self.offset > 0.0
    }

    /// A value of this unit in another one; `None` if the two measure
    /// different things, or if `value` is a temperature difference (K, F°) and
    /// `to` a point. A °C or °F where a difference is wanted is taken as one.
    ///
    /// ```
    /// use gearside::measure::unit;
    /// let u = |name| unit(name).unwrap();
    /// assert_eq!(u("ft").convert(2.0, u("ft")), Some(2.0));
    /// assert!((u("°F").convert(68.0, u("°C")).unwrap() - 20.0).abs() < 1e-9);
    /// assert!((u("°F").convert(9.0, u("K")).unwrap() - 5.0).abs() < 1e-9);
    /// assert_eq!(u("K").convert(9.0, u("°C")), None);
    /// assert_eq!(u("s (Zahn 2)").convert(30.0, u("s")), None);
    /// ```
    #[must_use]
    pub fn convert(&self, value: f64, to: &Self) -> Option<f64> {
        if self.name == to.name {
            // Through SI and back would cost the last digit.
            return Some(value);
        }
        if self.dimension != to.dimension || (to.is_point() && !self.is_point()) {
            return None;
        }
        if self.is_point() && !to.is_point() {
            return Some(to.difference_from_si(value * self.factor));
        }
        Some(to.from_si(self.to_si(value)))
    }

    /// What it measures, in words: `a length`, `a volume per area`, `seconds
    /// of the Zahn 2 cup`. Finer than the dimension, which cannot tell a dose
    /// from a tension.
    ///
    /// ```
    /// use gearside::measure::unit;
    /// assert_eq!(unit("mJ/cm²").unwrap().kind(), "an energy per area");
    /// assert_eq!(unit("PLI").unwrap().kind(), "a force per width");
    /// ```
    #[must_use]
    pub fn kind(&self) -> String {
        let words = match self.name {
            "%" => "a share",
            "points" => "a difference of shares",
            "BCM/in²" | "cm³/m²" => "a volume per area",
            "J/m²" | "mJ/cm²" | "J/cm²" => "an energy per area",
            "PLI/mil" => "a force per width and gauge",
            "K" | "F°" => "a temperature difference",
            _ => return self.dimension.words(),
        };
        words.to_owned()
    }

    /// What it measures, in the language of the pages.
    ///
    /// ```
    /// use gearside::measure::unit;
    /// assert_eq!(unit("µm").unwrap().kind_said(), "a length");
    /// assert_eq!(unit("s (Zahn 2)").unwrap().kind_said(), "seconds of the Zahn 2 cup");
    /// ```
    #[must_use]
    pub fn kind_said(&self) -> String {
        if let Some(cup) = self.dimension.cup {
            return say!("kind.cup", cup = cup.name());
        }
        let (kind, language) = (self.kind(), spoken());
        let key = format!("kind.{}", kind.replace(' ', "-"));
        // A dimension without a name of its own is told by its units.
        if language.texts().contains_key(&key) { language.say(&key, &[]) } else { kind }
    }

    /// The name as it stands behind a bare 1: `tooth` for `teeth`.
    #[must_use]
    pub fn singular(&self) -> &'static str {
        match self.name {
            "points" => "point",
            "teeth" => "tooth",
            "impressions" => "impression",
            "labels" => "label",
            "turns" => "turn",
            "full turns" => "full turn",
            "repeats" => "repeat",
            "divisions" => "division",
            "parts" => "part",
            "sheets" => "sheet",
            "rolls" => "roll",
            "dots" => "dot",
            other => other,
        }
    }
}

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

/// A spelling without what people vary: case, spaces, brackets, `^2` and `²`,
/// the two mu and the two delta, the many dots, dashes and degree signs, `per`
/// for `/`, a full stop at the end.
fn folded(text: &str) -> String {
    let text = text.trim().trim_end_matches('.');
    let mut out = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if word.eq_ignore_ascii_case("per") {
            out.push('/');
        } else {
            word.chars().flat_map(char::to_lowercase).for_each(|c| fold_one(c, &mut out));
        }
    }
    out
}

/// Adds what a small letter or sign folds to.
fn fold_one(c: char, out: &mut String) {
    match c {
        '^' | '(' | ')' => {}
        '²' => out.push('2'),
        '³' => out.push('3'),
        '¹' => out.push('1'),
        '½' => out.push_str(".5"),
        'μ' => out.push('µ'),
        '∆' => out.push('δ'),
        '·' | '*' | '⋅' | '∙' | '•' | '×' | '-' | '−' | '–' | '⁻' | '‑' | '‐' => out.push('.'),
        '′' | '’' | '‘' => out.push('\''),
        '″' | '”' | '“' => out.push('"'),
        '⁄' | '∕' => out.push('/'),
        'º' | '˚' => out.push('°'),
        other => out.push(other),
    }
}

/// All units of that spelling, in table order; empty if there is none.
pub(super) fn spelled(text: &str) -> &'static [&'static Unit] {
    let key = folded(text);
    if key.is_empty() && !text.trim().is_empty() {
        return &[]; // brackets with nothing in them are not the plain unit
    }
    BY_SPELLING.get(&key).map_or(&[], Vec::as_slice)
}

/// The known name or spelling that looks most like `text`. Texts and names of
/// one letter are left out: everything short looks like them.
pub(super) fn near(text: &str) -> Option<&'static str> {
    text.chars().nth(1)?;
    let known = UNITS.iter().flat_map(|unit| std::iter::once(unit.name).chain(unit.spellings.iter().copied()));
    nearest_name(text, known.filter(|name| name.chars().nth(1).is_some()))
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
///
/// ```
/// use gearside::measure::{Dimension, unit_where};
/// let force = Dimension::of(1, 1, -2);
/// assert_eq!(unit_where("lb", |unit| unit.dimension == force).unwrap().name, "lbf");
/// assert_eq!(unit_where("lb", |_| true).unwrap().name, "lb");
/// ```
pub fn unit_where(text: &str, wanted: impl Fn(&Unit) -> bool) -> Result<&'static Unit, UnknownUnit> {
    let list = spelled(text);
    let first = list.first().ok_or_else(|| UnknownUnit { text: text.to_owned(), near: near(text) })?;
    Ok(list.iter().find(|unit| wanted(unit)).unwrap_or(first))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_name_means_its_own_unit_and_no_two_are_alike() {
        for known in UNITS {
            assert_eq!(unit(known.name).expect("it is a unit").name, known.name);
            assert!(known.factor > 0.0 && known.factor.is_finite() && known.offset >= 0.0, "{}", known.name);
        }
        let names: BTreeSet<&str> = UNITS.iter().map(|unit| unit.name).collect();
        assert_eq!(names.len(), UNITS.len());
    }

    #[test]
    fn every_cup_has_its_seconds_under_its_own_name() {
        let cups: Vec<_> = UNITS.iter().filter_map(|unit| Some((unit, unit.dimension.cup?))).collect();
        assert_eq!(cups.len(), 23, "Zahn 1-5, Shell 1-6 with two halves, Ford 1-5, DIN 4, ISO 3-6");
        for (unit, cup) in cups {
            assert_eq!(unit.name, format!("s ({})", cup.name()));
        }
    }

    /// Spellings that several units share, each on purpose; the first is meant
    /// unless another is wanted.
    #[test]
    fn shared_spellings_are_these_and_no_others() {
        let shared: Vec<(String, Vec<&str>)> = BY_SPELLING
            .iter()
            .filter(|(_, list)| list.len() > 1)
            .map(|(text, list)| (text.clone(), list.iter().map(|unit| unit.name).take(4).collect()))
            .collect();
        let cup_seconds = vec!["s", "s (Zahn 1)", "s (Zahn 2)", "s (Zahn 3)"];
        let turns = vec!["turns", "full turns"];
        let degrees = vec!["°", "K", "F°", "°C"];
        let mut expected: Vec<(&str, Vec<&str>)> = vec![
            ("#", vec!["lb", "lbf"]),
            ("lb", vec!["lb", "lbf"]),
            ("lbs", vec!["lb", "lbf"]),
            ("pound", vec!["lb", "lbf"]),
            ("pounds", vec!["lb", "lbf"]),
            ("oz", vec!["oz", "ozf"]),
            ("ounce", vec!["oz", "ozf"]),
            ("ounces", vec!["oz", "ozf"]),
            ("point", vec!["points", "pt"]),
            ("points", vec!["points", "pt"]),
            ("pts", vec!["points", "pt"]),
            ("c°", vec!["K", "°C"]),
            ("f°", vec!["F°", "°F"]),
        ];
        expected
            .extend(["turn", "turns", "rev", "revs", "revolution", "revolutions"].map(|text| (text, turns.clone())));
        expected.extend(["°", "deg", "degrees"].map(|text| (text, degrees.clone())));
        expected.extend(["s", "sec", "secs", "second", "seconds"].map(|text| (text, cup_seconds.clone())));
        expected.sort();
        let shared: Vec<(&str, Vec<&str>)> =
            shared.iter().map(|(text, names)| (text.as_str(), names.clone())).collect();
        assert_eq!(shared, expected);
    }

    #[test]
    fn spellings_are_folded() {
        for (text, name) in [
            ("Inches", "in"),
            ("in.", "in"),
            ("″", "in"),
            ("µM", "µm"),
            ("μm", "µm"),
            ("BCM / in^2", "BCM/in²"),
            ("cm^3/m^2", "cm³/m²"),
            ("sq. in.", "in²"),
            ("feet per minute", "ft/min"),
            ("min⁻¹", "1/min"),
            ("per min", "1/min"),
            ("lb-in", "lbf·in"),
            ("N*m", "N·m"),
            ("mPa.s", "mPa·s"),
            ("ºC", "°C"),
            ("∆E", "ΔE"),
            ("sec (Zahn #2)", "s (Zahn 2)"),
            ("s shell 2.5", "s (Shell 2½)"),
            ("DIN 4", "s (DIN 4 mm)"),
            ("per cent", "%"),
            ("lb/3000ft²", "lb/ream"),
        ] {
            assert_eq!(unit(text).expect("it is a unit").name, name, "{text}");
        }
    }

    #[test]
    fn an_unknown_unit_is_told_with_a_near_name() {
        for (text, near) in
            [("milz", Some("mil")), ("micrn", Some("micron")), ("zebra", None), ("x", None), ("?", None)]
        {
            let unknown = unit(text).expect_err("it is not a unit");
            assert_eq!((unknown.text.as_str(), unknown.near), (text, near));
        }
    }

    /// NIST SP 811 appendix B.8 (from memory) prints six or seven digits; the
    /// lengths, pound, gallon, ream, point, BCM and MSI follow from the
    /// definitions of 1959 and are exact or written out by hand.
    #[test]
    fn factors_agree_with_printed_tables() {
        for (name, si, digits) in [
            ("in", 0.0254, 1e-12),
            ("mil", 25.4e-6, 1e-12),
            ("gauge", 0.254e-6, 1e-12),
            ("yd", 0.9144, 1e-12),
            ("pt", 0.352_778e-3, 2e-6),
            ("BCM/in²", 1.550_003e-6, 1e-6),
            ("in²", 6.4516e-4, 1e-12),
            ("MSI", 0.645_16, 1e-12),
            ("MSF", 92.903_04, 1e-12),
            ("ream", 278.709_12, 1e-12),
            ("gal", 3.785_411_784e-3, 1e-12),
            ("fl oz", 2.957_353e-5, 1e-6),
            ("lb", 0.453_592_37, 1e-12),
            ("oz", 2.834_952e-2, 1e-6),
            ("lbf", 4.448_222, 1e-6),
            ("ozf", 0.278_013_9, 1e-6),
            ("kgf", 9.806_65, 1e-12),
            ("PLI", 175.126_8, 1e-6),
            ("psi", 6_894.757, 1e-6),
            ("lbf·in", 0.112_984_8, 1e-6),
            ("lbf·ft", 1.355_818, 1e-6),
            ("ft/min", 5.08e-3, 1e-12),
            ("in/s", 0.0254, 1e-12),
            ("lb/gal", 119.826_4, 1e-6),
            ("lb/ream", 1.627_48e-3, 4e-6),
            ("lb/h", 1.259_979e-4, 1e-6),
            ("gal/min", 6.309_020e-5, 1e-6),
            ("mPa·s", 1e-3, 1e-12),
            ("P", 0.1, 1e-12),
            ("St", 1e-4, 1e-12),
            ("mm²/s", 1e-6, 1e-12),
            ("°", 1.745_329e-2, 1e-6),
            ("mJ/cm²", 10.0, 1e-12),
            ("mW/cm²", 10.0, 1e-12),
            ("kJ/kg", 1e3, 1e-12),
            ("lpi", 39.370_08, 1e-6),
            ("l/cm", 100.0, 1e-12),
        ] {
            let factor = unit(name).expect("it is a unit").factor;
            assert!((factor / si - 1.0).abs() <= digits, "{name}: {factor} is not {si}");
        }
    }

    /// The fixed points every thermometer has: ice, boiling water, the point
    /// where the two scales agree.
    #[test]
    fn temperatures_agree_at_known_points() {
        let scale = |name| unit(name).expect("it is a unit");
        for (celsius, fahrenheit, kelvin) in [(0.0, 32.0, 273.15), (100.0, 212.0, 373.15), (-40.0, -40.0, 233.15)] {
            assert!((scale("°C").to_si(celsius) - kelvin).abs() < 1e-9, "{celsius} °C");
            assert!((scale("°F").to_si(fahrenheit) - kelvin).abs() < 1e-9, "{fahrenheit} °F");
        }
    }

    proptest::proptest! {
        #[test]
        fn every_unit_leads_to_si_and_back(value in -1e9_f64..1e9) {
            for unit in UNITS {
                let back = unit.from_si(unit.to_si(value));
                let size = value.abs() + unit.offset / unit.factor;
                proptest::prop_assert!((back - value).abs() <= 4.0 * f64::EPSILON * size, "{value} {}: {back}", unit.name);
            }
        }
    }
}

//! The catalogue: each calculation registered once.

use super::kind::KindOfQuantity;
use super::{
    anilox, barcode, capability, check_digit, colour, colour_difference, consumption, control, cups, curing, curves,
    density, distortion, film, fitting, impression, material, misregister, mixing, moire, pixels, production, register,
    repeat, roll, runout, screens, statistics, tension, tone, viscosity, web, winding,
};

/// What a calculation is about; the order is the order of `work`'s list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each topic's title says it: see `Topic::title`")]
pub enum Topic {
    Film,
    Consumption,
    Repeat,
    Distortion,
    Web,
    Material,
    Tension,
    Impression,
    Viscosity,
    Register,
    Curing,
    BarCode,
    Screen,
    Tone,
    Curve,
    Colour,
    Statistics,
    Production,
}

impl Topic {
    /// The topic in words.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Film => "Anilox and ink film",
            Self::Consumption => "Ink consumption",
            Self::Repeat => "Repeat, gearing and build-up",
            Self::Distortion => "Plate distortion",
            Self::Web => "Web, roll and job",
            Self::Material => "Film yield and basis weight",
            Self::Tension => "Tension and torque",
            Self::Impression => "Impression",
            Self::Viscosity => "Viscosity, dilution, blending",
            Self::Register => "Register",
            Self::Curing => "Drying and curing",
            Self::BarCode => "Bar codes",
            Self::Screen => "Screens, dots and cells",
            Self::Tone => "Density and tone",
            Self::Curve => "Tone curves",
            Self::Colour => "Colour and grey balance",
            Self::Statistics => "Sampling and statistics",
            Self::Production => "Waste and effectiveness",
        }
    }
}

/// One thing a calculation needs.
#[derive(Debug)]
pub struct Parameter {
    /// Its name in formulas and on the command line.
    pub name: &'static str,
    /// Its symbol in mathematics: a letter, perhaps `_` and an index.
    pub symbol: &'static str,
    /// What it is, in a few words that follow "the".
    pub says: &'static str,
    /// The unit its range is given in; its dimension is what is accepted.
    pub unit: &'static str,
    /// The least value that makes sense, in `unit`.
    pub least: f64,
    /// The greatest value that makes sense, in `unit`.
    pub most: f64,
    /// Whether it is a series of such values rather than one.
    pub many: bool,
}

/// What a calculation yields.
#[derive(Debug)]
pub struct Outcome {
    /// Its symbol in mathematics.
    pub symbol: &'static str,
    /// The unit it is usually given in.
    pub unit: &'static str,
    /// What kind of quantity it is: this decides the leeway.
    pub kind: KindOfQuantity,
    /// The least result that makes sense, in `unit`.
    pub least: f64,
    /// The greatest result that makes sense, in `unit`.
    pub most: f64,
}

/// A usual way to go wrong with a calculation.
#[derive(Debug)]
pub struct UsualTurn {
    /// Its name, for `take:` in an exercise.
    pub name: &'static str,
    /// The wrong formula, over the calculation's parameters.
    pub is: &'static str,
    /// What to tell the person who took it, to "you".
    pub because: &'static str,
}

/// One calculation of the trade.
#[derive(Debug)]
pub struct Calculation {
    /// Its name in formulas and on the command line.
    pub name: &'static str,
    /// Its name in words.
    pub title: &'static str,
    /// Where it belongs.
    pub topic: Topic,
    /// What question it answers, in a sentence.
    pub says: &'static str,
    /// What it needs, in order.
    pub parameters: &'static [Parameter],
    /// What it yields.
    pub outcome: Outcome,
    /// The function: for each of `parameters` a slice of SI values (one value
    /// unless the parameter is a series), an SI value out; not a number if the
    /// slices do not fit or there is no result.
    pub compute: fn(&[&[f64]]) -> f64,
    /// The same as formula text over the parameters, if it can be written so.
    pub expansion: Option<&'static str>,
    /// Usual ways to go wrong.
    pub wrong_turns: &'static [UsualTurn],
    /// When there is no result although all values are numbers inside their
    /// ranges; completes "no result when …".
    pub no_result_when: Option<&'static str>,
    /// Where it comes from.
    pub source: &'static str,
}

/// The most parameters that a calculation may have.
pub const MOST_PARAMETERS: usize = 12;

impl Calculation {
    /// The result for one value each, in SI and in the order of the
    /// parameters; not a number if they are not as many, or if a parameter is
    /// a series that wants more than one.
    ///
    /// ```
    /// use gearside::trade::calculation;
    /// let tone_value_increase = calculation("tone_value_increase").unwrap();
    /// assert!((tone_value_increase.of(&[0.72, 0.50]) - 0.22).abs() < 1e-12);
    /// assert!(tone_value_increase.of(&[0.72]).is_nan());
    /// ```
    #[must_use]
    pub fn of(&self, numbers: &[f64]) -> f64 {
        let mut slices: [&[f64]; MOST_PARAMETERS] = [&[]; MOST_PARAMETERS];
        for (slice, number) in slices.iter_mut().zip(numbers) {
            *slice = std::slice::from_ref(number);
        }
        slices.get(..numbers.len()).map_or(f64::NAN, |slices| (self.compute)(slices))
    }
}

/// All lists of calculations, by topic. Each topic's file holds its own list;
/// the flow cups have a file to themselves, with a list for each cup.
static LISTS: &[&[&[Calculation]]] = &[
    &[film::CALCULATIONS, anilox::CALCULATIONS],
    &[consumption::CALCULATIONS],
    &[repeat::CALCULATIONS, fitting::CALCULATIONS],
    &[distortion::CALCULATIONS],
    &[web::CALCULATIONS, roll::CALCULATIONS],
    &[material::CALCULATIONS],
    &[tension::CALCULATIONS, winding::CALCULATIONS],
    &[impression::CALCULATIONS, runout::CALCULATIONS],
    cups::CALCULATIONS,
    &[viscosity::CALCULATIONS, mixing::CALCULATIONS],
    &[register::CALCULATIONS, misregister::CALCULATIONS],
    &[curing::CALCULATIONS],
    &[barcode::CALCULATIONS, check_digit::CALCULATIONS, pixels::CALCULATIONS],
    &[screens::CALCULATIONS, moire::CALCULATIONS],
    &[density::CALCULATIONS, tone::CALCULATIONS],
    &[curves::CALCULATIONS],
    &[colour::CALCULATIONS, colour_difference::CALCULATIONS],
    &[statistics::CALCULATIONS, control::CALCULATIONS, capability::CALCULATIONS],
    &[production::CALCULATIONS],
];

/// All calculations, by topic.
///
/// ```
/// use gearside::trade::calculations;
/// assert!(calculations().any(|one| one.name == "wet_film"));
/// ```
pub fn calculations() -> impl Iterator<Item = &'static Calculation> {
    LISTS.iter().flat_map(|topic| topic.iter()).flat_map(|list| list.iter())
}

/// The calculation of that name.
///
/// ```
/// use gearside::trade::calculation;
/// assert_eq!(calculation("zahn_2").unwrap().parameters[0].unit, "s (Zahn 2)");
/// assert!(calculation("zahn").is_none());
/// ```
#[must_use]
pub fn calculation(name: &str) -> Option<&'static Calculation> {
    calculations().find(|calculation| calculation.name == name)
}

// The entries are tables of data; these make one row of each.

pub(super) const fn parameter(
    name: &'static str,
    symbol: &'static str,
    says: &'static str,
    unit: &'static str,
    least: f64,
    most: f64,
) -> Parameter {
    Parameter { name, symbol, says, unit, least, most, many: false }
}

/// A parameter that takes a series.
pub(super) const fn series(
    name: &'static str,
    symbol: &'static str,
    says: &'static str,
    unit: &'static str,
    least: f64,
    most: f64,
) -> Parameter {
    Parameter { name, symbol, says, unit, least, most, many: true }
}

pub(super) const fn outcome(
    symbol: &'static str,
    unit: &'static str,
    kind: KindOfQuantity,
    least: f64,
    most: f64,
) -> Outcome {
    Outcome { symbol, unit, kind, least, most }
}

pub(super) const fn turn(name: &'static str, is: &'static str, because: &'static str) -> UsualTurn {
    UsualTurn { name, is, because }
}

// From slices to a function's arguments. The formula room counts them
// beforehand; a wrong number here still must not panic.

/// The values of parameters that take one each; `None` if they do not fit.
pub(super) fn numbers<const N: usize>(values: &[&[f64]]) -> Option<[f64; N]> {
    let mut list = [0.0; N];
    if values.len() != N {
        return None;
    }
    for (place, value) in list.iter_mut().zip(values) {
        let [number] = **value else { return None };
        *place = number;
    }
    Some(list)
}

pub(super) fn one(values: &[&[f64]], function: fn(f64) -> f64) -> f64 {
    numbers(values).map_or(f64::NAN, |[a]| function(a))
}

pub(super) fn two(values: &[&[f64]], function: fn(f64, f64) -> f64) -> f64 {
    numbers(values).map_or(f64::NAN, |[a, b]| function(a, b))
}

pub(super) fn three(values: &[&[f64]], function: fn(f64, f64, f64) -> f64) -> f64 {
    numbers(values).map_or(f64::NAN, |[a, b, c]| function(a, b, c))
}

pub(super) fn four(values: &[&[f64]], function: fn(f64, f64, f64, f64) -> f64) -> f64 {
    numbers(values).map_or(f64::NAN, |[a, b, c, d]| function(a, b, c, d))
}

pub(super) fn five(values: &[&[f64]], function: fn(f64, f64, f64, f64, f64) -> f64) -> f64 {
    numbers(values).map_or(f64::NAN, |[a, b, c, d, e]| function(a, b, c, d, e))
}

/// A function of one series.
pub(super) fn gathered(values: &[&[f64]], function: fn(&[f64]) -> f64) -> f64 {
    if let [series] = *values { function(series) } else { f64::NAN }
}

#[cfg(test)]
#[path = "catalogue_tests.rs"]
mod tests;

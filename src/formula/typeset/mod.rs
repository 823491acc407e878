//! Formulas as people write them: `MathML` Core for pages, one line for the
//! terminal.
//!
//! Both writers walk the syntax tree, after the catalogue's calculations have
//! been written out, and set brackets only where the tree needs them.

mod brackets;
mod expansion;
mod marks;
mod one_line;
mod symbol;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use super::tree::{Expression, Operator};
use expansion::expanded;
use marks::Marks;
use one_line::OneLine;
pub use symbol::{symbol_mathml, symbol_plain};

/// The symbols of names.
pub trait Symbols {
    /// The symbol of a name, such as `h_0`; with `None` the name itself is
    /// shown in upright letters, its underscores and dots as spaces.
    fn symbol(&self, name: &str) -> Option<String>;
}

impl Symbols for BTreeMap<String, String> {
    fn symbol(&self, name: &str) -> Option<String> {
        self.get(name).cloned()
    }
}

/// A stretch of `MathML`, or the place of a name's printed value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Piece {
    /// `MathML` as it is.
    Text(String),
    /// The value of this name goes here, in an element of the caller's.
    Hole(String),
}

/// The formula as `MathML` Core: an `<mrow>` for the inside of a `<math>` element.
///
/// ```
/// use std::collections::BTreeMap;
/// use gearside::formula::{mathml, parse};
/// let symbols: BTreeMap<String, String> = [("film".to_owned(), "h_0".to_owned())].into();
/// assert_eq!(
///     mathml(&parse("2 * film").unwrap(), &symbols),
///     "<mrow><mn>2</mn><mo>×</mo><msub><mi>h</mi><mn>0</mn></msub></mrow>"
/// );
/// ```
#[must_use]
pub fn mathml(expression: &Expression, symbols: &dyn Symbols) -> String {
    let pieces = Marks::written(&expanded(expression), Some(symbols));
    pieces
        .into_iter()
        .map(|piece| match piece {
            Piece::Text(text) | Piece::Hole(text) => text,
        })
        .collect()
}

/// The same with a hole in the place of each name. A hole that is raised to a
/// power stands in brackets, since its value may carry a unit.
///
/// ```
/// use gearside::formula::{Piece, mathml_with_holes, parse};
/// let pieces = mathml_with_holes(&parse("2 * film").unwrap());
/// assert_eq!(pieces[1], Piece::Hole("film".to_owned()));
/// ```
#[must_use]
pub fn mathml_with_holes(expression: &Expression) -> Vec<Piece> {
    Marks::written(&expanded(expression), None)
}

/// The formula on one line, for the terminal and for text alternatives.
///
/// ```
/// use std::collections::BTreeMap;
/// use gearside::formula::{parse, plain_text};
/// let formula = parse("(1 - 10^-tint) / (1 - 10^-solid)").unwrap();
/// let symbols: BTreeMap<String, String> = [("tint", "D_t"), ("solid", "D_s")].map(|(a, b)| (a.into(), b.into())).into();
/// assert_eq!(plain_text(&formula, &symbols), "(1 − 10^(−D_t)) / (1 − 10^(−D_s))");
/// ```
#[must_use]
pub fn plain_text(expression: &Expression, symbols: &dyn Symbols) -> String {
    let show = |name: &str| symbols.symbol(name).map_or_else(|| words(name), |symbol| symbol_plain(&symbol));
    OneLine { show: &show, values: false }.written(&expanded(expression))
}

/// The formula on one line with the value of each name in its place.
///
/// ```
/// use gearside::formula::{parse, plain_text_with};
/// let formula = parse("flat_film * to_plate").unwrap();
/// let value = |name: &str| if name == "to_plate" { "45 %".to_owned() } else { "8.37 µm".to_owned() };
/// assert_eq!(plain_text_with(&formula, &value), "8.37 µm × 45 %");
/// ```
#[must_use]
pub fn plain_text_with(expression: &Expression, value: &dyn Fn(&str) -> String) -> String {
    OneLine { show: value, values: true }.written(&expanded(expression))
}

/// A name as words: `roll.volume` is read "roll volume".
fn words(name: &str) -> String {
    name.replace(['_', '.'], " ")
}

/// The sign of an operator; words for `and` and `or`.
fn sign(operator: Operator) -> &'static str {
    match operator {
        Operator::Or => "or",
        Operator::And => "and",
        Operator::Less => "<",
        Operator::AtMost => "≤",
        Operator::Greater => ">",
        Operator::AtLeast => "≥",
        Operator::Equal => "=",
        Operator::Unequal => "≠",
        Operator::Plus => "+",
        Operator::Minus => "−",
        Operator::Times => "×",
        Operator::Over => "/",
        Operator::Power => "^",
    }
}

/// A number as written, split where a power of ten is split off: `1.5e-3`.
fn number_parts(written: &str) -> (String, Option<String>) {
    let (digits, exponent) = match written.split_once(['e', 'E']) {
        Some((digits, exponent)) => (digits, Some(exponent.trim_start_matches('+').replace('-', "−"))),
        None => (written, None),
    };
    let digits = if digits.starts_with('.') { format!("0{digits}") } else { digits.to_owned() };
    (digits, exponent)
}

/// A quantity as number and unit with a space that does not break: `25.4 mm`.
fn quantity(text: &str) -> String {
    let end = text
        .char_indices()
        .find(|(at, c)| !(c.is_ascii_digit() || *c == '.' || (*at == 0 && matches!(c, '-' | '−' | '+'))))
        .map_or(text.len(), |(at, _)| at);
    let (number, unit) = text.split_at(end);
    let (sign, digits) = match number.strip_prefix(['-', '−']) {
        Some(digits) => ("−", digits),
        None => ("", number.strip_prefix('+').unwrap_or(number)),
    };
    let number = number_parts(digits).0;
    match unit.trim() {
        "" => format!("{sign}{number}"),
        unit => format!("{sign}{number}\u{a0}{unit}"),
    }
}

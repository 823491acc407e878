//! Formulas on pages: symbolic once, numbers as holes.

use crate::formula::{Expression, Piece, Symbols, mathml, mathml_with_holes, plain_text, symbol_mathml};
use crate::marking::{NumericRules, Sort};
use crate::programme::Names;
use crate::prose::escape;

/// A `<math>` element around content, with its plain text for those who need it.
pub(super) fn math(content: &str, plain: &str) -> String {
    format!("<math alttext=\"{}\">{content}</math>", escape(plain))
}

/// A symbol as inline mathematics.
pub(super) fn symbol(symbol: &str) -> String {
    math(&symbol_mathml(symbol), &crate::formula::symbol_plain(symbol))
}

/// What the typesetting of a step needs to know of names, whether they are a
/// bank's or were kept with a quiz.
pub(super) trait StepNames: Symbols {
    /// The place of a name's printed text among those of a pull.
    fn print(&self, name: &str) -> Option<usize>;

    /// Whether a name stands for a series.
    fn is_series(&self, name: &str) -> bool;
}

impl StepNames for Names {
    fn print(&self, name: &str) -> Option<usize> {
        self.get(name).map(|entry| entry.print)
    }

    fn is_series(&self, name: &str) -> bool {
        self.is_series(name)
    }
}

impl Symbols for NumericRules {
    fn symbol(&self, name: &str) -> Option<String> {
        self.names.iter().find(|one| one.name == name)?.symbol.clone()
    }
}

impl StepNames for NumericRules {
    fn print(&self, name: &str) -> Option<usize> {
        self.names.iter().find(|one| one.name == name).map(|one| one.print)
    }

    fn is_series(&self, name: &str) -> bool {
        let series = |sort| matches!(sort, Sort::Series | Sort::SeriesOfPoints);
        self.names.iter().any(|one| one.name == name && series(one.sort))
    }
}

/// The step called `name` as `symbol = formula`.
pub(super) fn symbolic(expression: &Expression, name: &str, names: &dyn StepNames) -> String {
    let left = names.symbol(name);
    let head = left.as_ref().map_or_else(String::new, |left| format!("{}<mo>=</mo>", symbol_mathml(left)));
    let plain = left.map_or_else(String::new, |left| format!("{} = ", crate::formula::symbol_plain(&left)));
    math(
        &format!("<mrow>{head}{}</mrow>", mathml(expression, names)),
        &format!("{plain}{}", plain_text(expression, names)),
    )
}

/// A step's formula with a number in the place of each name: `number` gives the
/// element for a printed text by its place. Empty where a series goes in, which
/// the question shows and no line could hold.
pub(super) fn with_numbers(
    expression: &Expression,
    names: &dyn StepNames,
    number: &mut dyn FnMut(usize) -> String,
) -> String {
    if expression.names().iter().any(|name| names.is_series(name)) {
        return String::new();
    }
    let fill = |piece: Piece| match piece {
        Piece::Text(text) => text,
        Piece::Hole(name) => {
            names.print(&name).map_or_else(|| format!("<mtext>{}</mtext>", escape(&name)), &mut *number)
        }
    };
    let content: String = mathml_with_holes(expression).into_iter().map(fill).collect();
    format!("<math><mrow><mo>=</mo>{content}</mrow></math>")
}

/// A catalogue expansion as mathematics.
pub(super) fn expansion(left: &str, expression: &Expression, symbols: &dyn Symbols) -> String {
    let content = format!("<mrow>{}<mo>=</mo>{}</mrow>", symbol_mathml(left), mathml(expression, symbols));
    math(&content, &format!("{} = {}", crate::formula::symbol_plain(left), plain_text(expression, symbols)))
}

//! Formulas on pages: symbolic once, numbers as holes.

use crate::formula::{Expression, Piece, Symbols, mathml, mathml_with_holes, plain_text, symbol_mathml};
use crate::programme::{Exercise, Step};
use crate::prose::escape;

/// A `<math>` element around content, with its plain text for those who need it.
pub(super) fn math(content: &str, plain: &str) -> String {
    format!("<math alttext=\"{}\">{content}</math>", escape(plain))
}

/// A symbol as inline mathematics.
pub(super) fn symbol(symbol: &str) -> String {
    math(&symbol_mathml(symbol), &crate::formula::symbol_plain(symbol))
}

/// A step as `symbol = formula`.
pub(super) fn symbolic(exercise: &Exercise, step: &Step) -> String {
    let names = &exercise.reckoning.names;
    let left = names.symbol(&step.name);
    let head = left.as_ref().map_or_else(String::new, |left| format!("{}<mo>=</mo>", symbol_mathml(left)));
    let plain = left.map_or_else(String::new, |left| format!("{} = ", crate::formula::symbol_plain(&left)));
    math(
        &format!("<mrow>{head}{}</mrow>", mathml(&step.expression, names)),
        &format!("{plain}{}", plain_text(&step.expression, names)),
    )
}

/// A step's formula with a hole for each number, filled for a first pull; empty
/// where a series goes in, which the question shows and no line could hold.
pub(super) fn with_numbers(exercise: &Exercise, step: &Step, printed: &[String]) -> String {
    let fill = |piece: Piece| match piece {
        Piece::Text(text) => text,
        Piece::Hole(name) => match exercise.reckoning.names.get(&name) {
            Some(entry) => format!(
                "<mn data-fill=\"{}\">{}</mn>",
                entry.print,
                escape(printed.get(entry.print).map_or("", String::as_str))
            ),
            None => format!("<mtext>{}</mtext>", escape(&name)),
        },
    };
    if step.expression.names().iter().any(|name| exercise.reckoning.names.is_series(name)) {
        return String::new();
    }
    let content: String = mathml_with_holes(&step.expression).into_iter().map(fill).collect();
    format!("<math><mrow><mo>=</mo>{content}</mrow></math>")
}

/// A catalogue expansion as mathematics.
pub(super) fn expansion(left: &str, expression: &Expression, symbols: &dyn Symbols) -> String {
    let content = format!("<mrow>{}<mo>=</mo>{}</mrow>", symbol_mathml(left), mathml(expression, symbols));
    math(&content, &format!("{} = {}", crate::formula::symbol_plain(left), plain_text(expression, symbols)))
}

//! Formulas as `MathML` Core.

use super::super::function::{BuiltIn, Function};
use super::super::tree::{Kind, Node, Operator};
use super::brackets::{Hold, Manner, sides};
use super::symbol::{escape, symbol_mathml};
use super::{Piece, Symbols, number_parts, quantity, sign, words};

/// The sign between a function's name and its bracket: unseen, but read aloud.
const APPLIED: &str = "<mo>\u{2061}</mo>";

/// Writes a tree as pieces of `MathML`.
pub(super) struct Marks<'a> {
    /// Without symbols every name becomes a hole.
    symbols: Option<&'a dyn Symbols>,
    pieces: Vec<Piece>,
}

impl<'a> Marks<'a> {
    pub(super) fn written(node: &Node, symbols: Option<&'a dyn Symbols>) -> Vec<Piece> {
        let mut marks = Self { symbols, pieces: Vec::new() };
        marks.row(node);
        marks.pieces
    }

    /// Adds markup; neighbouring texts become one piece.
    fn put(&mut self, markup: &str) {
        match self.pieces.last_mut() {
            Some(Piece::Text(text)) => text.push_str(markup),
            _ => self.pieces.push(Piece::Text(markup.to_owned())),
        }
    }

    /// A part within an `<mrow>` of its own, so that it counts as one.
    fn row(&mut self, node: &Node) {
        self.put("<mrow>");
        self.plain(node);
        self.put("</mrow>");
    }

    fn part(&mut self, node: &Node, least: Hold, behind: bool) {
        let manner = Manner { bars: true, values: self.symbols.is_none() };
        if manner.bracketed(node, least, behind) {
            self.put("<mrow><mo>(</mo>");
            self.plain(node);
            self.put("<mo>)</mo></mrow>");
        } else {
            self.plain(node);
        }
    }

    fn plain(&mut self, node: &Node) {
        match &node.kind {
            Kind::Number { written, .. } => self.number(written),
            Kind::Pi => self.put("<mi>π</mi>"),
            Kind::Name(name) => self.name(name),
            Kind::Quantity(text) => self.put(&format!("<mtext>{}</mtext>", escape(&quantity(text)))),
            Kind::Negative(inner) => {
                self.put("<mrow><mo form=\"prefix\">−</mo>");
                self.part(inner, Hold::Block, true);
                self.put("</mrow>");
            }
            Kind::Not(inner) => {
                self.put("<mtext>not\u{a0}</mtext>");
                self.part(inner, Hold::Compare, false);
            }
            Kind::Binary { operator, left, right, .. } => self.binary(*operator, left, right),
            Kind::If(parts) => {
                self.part(&parts[1], Hold::Or, false);
                self.put("<mtext>\u{a0}if\u{a0}</mtext>");
                self.part(&parts[0], Hold::Or, false);
                self.put("<mtext>, otherwise\u{a0}</mtext>");
                self.part(&parts[2], Hold::Or, false);
            }
            Kind::Bare { value, unit, .. } => {
                self.part(value, Hold::Block, false);
                let text = escape(&format!("\u{a0}in\u{a0}{unit}, as a plain number"));
                self.put(&format!("<mtext mathsize=\"80%\">{text}</mtext>"));
            }
            Kind::Call { function, arguments } => self.call(*function, arguments),
            Kind::TooLarge => self.put("<mtext>…</mtext>"),
        }
    }

    fn number(&mut self, written: &str) {
        let (digits, exponent) = number_parts(written);
        self.put(&format!("<mn>{digits}</mn>"));
        let Some(exponent) = exponent else { return };
        let exponent = match exponent.strip_prefix('−') {
            Some(size) => format!("<mrow><mo form=\"prefix\">−</mo><mn>{size}</mn></mrow>"),
            None => format!("<mn>{exponent}</mn>"),
        };
        self.put(&format!("<mo>×</mo><msup><mn>10</mn>{exponent}</msup>"));
    }

    fn name(&mut self, name: &str) {
        let Some(symbols) = self.symbols else {
            self.pieces.push(Piece::Hole(name.to_owned()));
            return;
        };
        let markup = symbols.symbol(name).map_or_else(|| upright(&words(name)), |symbol| symbol_mathml(&symbol));
        self.put(&markup);
    }

    fn binary(&mut self, operator: Operator, left: &Node, right: &Node) {
        let (least_left, least_right) = sides(operator);
        match operator {
            Operator::Over => {
                self.put("<mfrac>");
                self.row(left);
                self.row(right);
                self.put("</mfrac>");
            }
            Operator::Power => {
                self.put("<msup><mrow>");
                self.part(left, least_left, false);
                self.put("</mrow>");
                self.row(right);
                self.put("</msup>");
            }
            _ => {
                self.part(left, least_left, false);
                match operator {
                    Operator::And | Operator::Or => self.put(&format!("<mtext>\u{a0}{}\u{a0}</mtext>", sign(operator))),
                    _ => self.put(&format!("<mo>{}</mo>", escape(sign(operator)))),
                }
                self.part(right, least_right, !operator.compares());
            }
        }
    }

    fn call(&mut self, function: Function, arguments: &[Node]) {
        match function {
            Function::BuiltIn(BuiltIn::Sqrt) => {
                self.put("<msqrt>");
                for argument in arguments {
                    self.row(argument);
                }
                return self.put("</msqrt>");
            }
            Function::BuiltIn(BuiltIn::Abs) => {
                self.put("<mrow><mo form=\"prefix\">|</mo>");
                for argument in arguments {
                    self.row(argument);
                }
                return self.put("<mo form=\"postfix\">|</mo></mrow>");
            }
            Function::BuiltIn(BuiltIn::Log10) => self.put("<mrow><msub><mi>log</mi><mn>10</mn></msub>"),
            _ => self.put(&format!("<mrow>{}", upright(&words(function.name())))),
        }
        self.put(APPLIED);
        self.put("<mrow><mo>(</mo>");
        for (index, argument) in arguments.iter().enumerate() {
            if index > 0 {
                self.put("<mo separator=\"true\">,</mo>");
            }
            self.part(argument, Hold::Or, false);
        }
        self.put("<mo>)</mo></mrow></mrow>");
    }
}

/// Words as one upright identifier: a single letter would otherwise slant.
fn upright(text: &str) -> String {
    let text = escape(text).replace(' ', "\u{a0}");
    match text.chars().count() {
        1 => format!("<mi mathvariant=\"normal\">{text}</mi>"),
        _ => format!("<mi>{text}</mi>"),
    }
}

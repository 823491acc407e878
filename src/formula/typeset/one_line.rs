//! Formulas on one line of text.

use super::super::function::BuiltIn;
use super::super::function::Function;
use super::super::tree::{Kind, Node, Operator};
use super::brackets::{Hold, Manner, sides};
use super::{number_parts, quantity, sign, words};

/// Writes a tree as text.
pub(super) struct OneLine<'a> {
    /// What stands for a name.
    pub(super) show: &'a dyn Fn(&str) -> String,
    /// Whether that is a value rather than a symbol.
    pub(super) values: bool,
}

impl OneLine<'_> {
    pub(super) fn written(&self, node: &Node) -> String {
        self.part(node, Hold::Words, false)
    }

    fn part(&self, node: &Node, least: Hold, behind: bool) -> String {
        let text = self.plain(node);
        let manner = Manner { bars: false, values: self.values };
        // Values without a space carry no unit: 0.45^2 needs no brackets.
        let bare_value = matches!(node.kind, Kind::Name(_)) && !text.contains([' ', '\u{a0}', '/', '-', '−']);
        if manner.bracketed(node, least, behind) && !bare_value { format!("({text})") } else { text }
    }

    fn plain(&self, node: &Node) -> String {
        match &node.kind {
            Kind::Number { written, .. } => match number_parts(written) {
                (digits, None) => digits,
                (digits, Some(exponent)) if exponent.starts_with('−') => format!("{digits} × 10^({exponent})"),
                (digits, Some(exponent)) => format!("{digits} × 10^{exponent}"),
            },
            Kind::Pi => "π".to_owned(),
            Kind::Name(name) => (self.show)(name),
            Kind::Quantity(text) => quantity(text),
            Kind::Negative(inner) => format!("−{}", self.part(inner, Hold::Block, true)),
            Kind::Not(inner) => format!("not {}", self.part(inner, Hold::Compare, false)),
            Kind::Binary { operator, left, right, .. } => {
                let (least_left, least_right) = sides(*operator);
                let left = self.part(left, least_left, false);
                let right = self.part(right, least_right, !operator.compares());
                match operator {
                    Operator::Power => format!("{left}^{right}"),
                    _ => format!("{left} {} {right}", sign(*operator)),
                }
            }
            Kind::If(parts) => {
                let [condition, then, otherwise] =
                    [&parts[0], &parts[1], &parts[2]].map(|p| self.part(p, Hold::Or, false));
                format!("{then} if {condition}, otherwise {otherwise}")
            }
            Kind::Bare { value, unit, .. } => {
                format!("{} in {unit}, as a plain number", self.part(value, Hold::Block, false))
            }
            Kind::Call { function, arguments } => {
                let list: Vec<String> = arguments.iter().map(|one| self.part(one, Hold::Or, false)).collect();
                match function {
                    Function::BuiltIn(BuiltIn::Abs) => format!("|{}|", list.join(", ")),
                    _ => format!("{}({})", words(function.name()), list.join(", ")),
                }
            }
            Kind::TooLarge => "…".to_owned(),
        }
    }
}

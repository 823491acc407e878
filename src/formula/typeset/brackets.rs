//! Where brackets are needed.

use super::super::tree::{Kind, Node, Operator};

/// How firmly a part holds together, from loose to firm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Hold {
    /// Parts that hold words: `if`, `bare`.
    Words,
    Or,
    And,
    Not,
    Compare,
    Sum,
    /// The right side of a sum.
    Term,
    Product,
    /// The right side of a product.
    Factor,
    Negative,
    /// A fraction under its bar, a number with its unit.
    Block,
    Power,
    Atom,
}

/// What a writer does that bears on brackets.
#[derive(Debug, Clone, Copy)]
pub(super) struct Manner {
    /// Division is drawn with a bar, which holds both sides together.
    pub(super) bars: bool,
    /// Names are shown as values, perhaps with a unit.
    pub(super) values: bool,
}

impl Manner {
    /// How firmly a part holds together.
    pub(super) fn hold(self, node: &Node) -> Hold {
        match &node.kind {
            Kind::If(_) | Kind::Bare { .. } | Kind::TooLarge => Hold::Words,
            Kind::Not(_) => Hold::Not,
            Kind::Negative(_) => Hold::Negative,
            Kind::Binary { operator, .. } => match operator {
                Operator::Or => Hold::Or,
                Operator::And => Hold::And,
                Operator::Plus | Operator::Minus => Hold::Sum,
                Operator::Over if self.bars => Hold::Block,
                Operator::Times | Operator::Over => Hold::Product,
                Operator::Power => Hold::Power,
                _ => Hold::Compare,
            },
            Kind::Number { written, .. } if written.contains(['e', 'E']) => Hold::Product,
            Kind::Quantity(text) if text.starts_with(['-', '−']) => Hold::Negative,
            Kind::Quantity(_) => Hold::Block,
            Kind::Name(_) if self.values => Hold::Block,
            Kind::Number { .. } | Kind::Pi | Kind::Name(_) | Kind::Call { .. } => Hold::Atom,
        }
    }

    /// Whether a part needs brackets where at least `least` is wanted.
    /// `behind` says that a sign or operator stands right before it.
    pub(super) fn bracketed(self, node: &Node, least: Hold, behind: bool) -> bool {
        self.hold(node) < least || (behind && self.starts_with_minus(node))
    }

    /// Whether what is written for a part begins with a minus.
    fn starts_with_minus(self, node: &Node) -> bool {
        match &node.kind {
            Kind::Negative(_) => true,
            Kind::Quantity(text) => text.starts_with(['-', '−']),
            Kind::Binary { operator: Operator::Over, .. } if self.bars => false,
            Kind::Binary { operator: Operator::Times | Operator::Over, left, .. } => {
                !self.bracketed(left, Hold::Product, false) && self.starts_with_minus(left)
            }
            _ => false,
        }
    }
}

/// What the two sides of an operator must at least hold (left, right).
pub(super) fn sides(operator: Operator) -> (Hold, Hold) {
    match operator {
        Operator::Or => (Hold::Or, Hold::And),
        Operator::And => (Hold::And, Hold::Not),
        Operator::Plus | Operator::Minus => (Hold::Sum, Hold::Term),
        Operator::Times | Operator::Over => (Hold::Product, Hold::Factor),
        Operator::Power => (Hold::Atom, Hold::Atom),
        _ => (Hold::Sum, Hold::Sum),
    }
}

//! The syntax tree of a formula, with the bytes each part takes.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use super::function::Function;
use super::parser;
use crate::trade::Calculation;

/// An operator between two operands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Operator {
    Or,
    And,
    Less,
    AtMost,
    Greater,
    AtLeast,
    Equal,
    Unequal,
    Plus,
    Minus,
    Times,
    Over,
    Power,
}

impl Operator {
    pub(super) fn compares(self) -> bool {
        matches!(self, Self::Less | Self::AtMost | Self::Greater | Self::AtLeast | Self::Equal | Self::Unequal)
    }
}

/// A part of a formula.
#[derive(Debug, Clone)]
pub(super) struct Node {
    pub(super) kind: Kind,
    /// Its bytes in the formula's text, brackets around it included.
    pub(super) span: Range<usize>,
    /// Levels below and including this one.
    pub(super) depth: usize,
}

#[derive(Debug, Clone)]
pub(super) enum Kind {
    Number {
        written: String,
        value: f64,
    },
    Pi,
    Name(String),
    /// What stands between the quotes: `25.4 mm`.
    Quantity(String),
    Negative(Box<Node>),
    Not(Box<Node>),
    Binary {
        operator: Operator,
        operator_span: Range<usize>,
        left: Box<Node>,
        right: Box<Node>,
    },
    /// Condition, then, otherwise.
    If(Box<[Node; 3]>),
    /// The plain number of a quantity in a unit.
    Bare {
        value: Box<Node>,
        unit: String,
        unit_span: Range<usize>,
    },
    Call {
        function: Function,
        arguments: Vec<Node>,
    },
    /// Names were replaced until the formula outgrew every limit.
    TooLarge,
}

impl Node {
    pub(super) fn children(&self) -> Vec<&Self> {
        match &self.kind {
            Kind::Number { .. } | Kind::Pi | Kind::Name(_) | Kind::Quantity(_) | Kind::TooLarge => Vec::new(),
            Kind::Negative(inner) | Kind::Not(inner) | Kind::Bare { value: inner, .. } => vec![inner],
            Kind::Binary { left, right, .. } => vec![left, right],
            Kind::If(parts) => parts.iter().collect(),
            Kind::Call { arguments, .. } => arguments.iter().collect(),
        }
    }

    pub(super) fn children_mut(&mut self) -> Vec<&mut Self> {
        match &mut self.kind {
            Kind::Number { .. } | Kind::Pi | Kind::Name(_) | Kind::Quantity(_) | Kind::TooLarge => Vec::new(),
            Kind::Negative(inner) | Kind::Not(inner) | Kind::Bare { value: inner, .. } => vec![inner],
            Kind::Binary { left, right, .. } => vec![left, right],
            Kind::If(parts) => parts.iter_mut().collect(),
            Kind::Call { arguments, .. } => arguments.iter_mut().collect(),
        }
    }

    /// Visits this part and all below it, in the order of the text.
    pub(super) fn visit<'a>(&'a self, see: &mut impl FnMut(&'a Self)) {
        see(self);
        for child in self.children() {
            child.visit(see);
        }
    }

    /// Whether it is a comparison that no bracket closes off.
    pub(super) fn is_open_comparison(&self) -> bool {
        matches!(&self.kind, Kind::Binary { operator, left, .. }
            if operator.compares() && left.span.start == self.span.start)
    }

    /// Moves all spans `by` bytes towards the start.
    fn shift_back(&mut self, by: usize) {
        let back = |span: &mut Range<usize>| *span = span.start - by..span.end - by;
        back(&mut self.span);
        match &mut self.kind {
            Kind::Binary { operator_span: span, .. } | Kind::Bare { unit_span: span, .. } => back(span),
            _ => {}
        }
        for child in self.children_mut() {
            child.shift_back(by);
        }
    }
}

/// A formula that has been read: its text and its syntax tree.
///
/// ```
/// use gearside::formula::parse;
/// let film = parse("wet_film(roll.volume, to_plate * to_web)").unwrap();
/// let names: Vec<String> = film.names().into_iter().collect();
/// assert_eq!(names, ["roll.volume", "to_plate", "to_web"]);
/// let (calculation, arguments) = film.head_call().unwrap();
/// assert_eq!((calculation.name, arguments[1].text()), ("wet_film", "to_plate * to_web"));
/// ```
#[derive(Debug, Clone)]
pub struct Expression {
    pub(super) text: String,
    pub(super) root: Node,
}

/// Two formulas are the same if they are written the same.
impl PartialEq for Expression {
    fn eq(&self, other: &Self) -> bool {
        self.text == other.text
    }
}

impl Expression {
    /// The formula as it was written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Every name the formula uses; a column of a table's row as one, `roll.volume`.
    #[must_use]
    pub fn names(&self) -> BTreeSet<String> {
        let mut names = BTreeSet::new();
        self.root.visit(&mut |node| {
            if let Kind::Name(name) = &node.kind {
                names.insert(name.clone());
            }
        });
        names
    }

    /// The calculations of the catalogue that the formula calls, in the order
    /// of the text, each once.
    #[must_use]
    pub fn calls(&self) -> Vec<&'static Calculation> {
        let mut calls: Vec<&'static Calculation> = Vec::new();
        self.root.visit(&mut |node| {
            if let Kind::Call { function, .. } = node.kind
                && let Some(calculation) = function.calculation()
                && !calls.iter().any(|known| known.name == calculation.name)
            {
                calls.push(calculation);
            }
        });
        calls
    }

    /// The calculation and its arguments, if the whole formula is one call of
    /// the catalogue.
    #[must_use]
    pub fn head_call(&self) -> Option<(&'static Calculation, Vec<Self>)> {
        let Kind::Call { function, arguments } = &self.root.kind else { return None };
        Some((function.calculation()?, arguments.iter().map(|argument| self.part(argument)).collect()))
    }

    fn part(&self, node: &Node) -> Self {
        let mut root = node.clone();
        root.shift_back(node.span.start);
        Self { text: self.text[node.span.clone()].to_owned(), root }
    }

    /// The formula with names replaced by other formulas in brackets. Names
    /// that `map` does not hold stay.
    ///
    /// The result may be longer and deeper than an author's formula (64 kB,
    /// 160 levels); beyond that it does not compile, and says so.
    ///
    /// ```
    /// use gearside::formula::parse;
    /// let map = [("release".to_owned(), parse("to_plate * to_web").unwrap())].into();
    /// let turn = parse("volume / release").unwrap().substitute(&map);
    /// assert_eq!(turn.text(), "volume / (to_plate * to_web)");
    /// ```
    #[must_use]
    pub fn substitute(&self, map: &BTreeMap<String, Self>) -> Self {
        let mut text = String::new();
        let mut copied = 0;
        self.root.visit(&mut |node| {
            if let Kind::Name(name) = &node.kind
                && let Some(other) = map.get(name)
                && text.len() <= parser::AFTER_SUBSTITUTION.bytes
            {
                // Brackets around the name itself belong to its span and go.
                text.push_str(&self.text[copied..node.span.start]);
                text.push('(');
                text.push_str(&other.text);
                text.push(')');
                copied = node.span.end;
            }
        });
        text.push_str(&self.text[copied..]);
        parser::parse_within(&text, parser::AFTER_SUBSTITUTION).unwrap_or_else(|fault| {
            let text: String = fault.text.chars().take(80).collect();
            let span = 0..text.len();
            Self { text, root: Node { kind: Kind::TooLarge, span, depth: 1 } }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::parse;

    fn read(text: &str) -> Expression {
        parse(text).unwrap_or_else(|fault| panic!("{text}: {fault}"))
    }

    #[test]
    fn names_are_listed_once_without_functions_and_constants() {
        let names: Vec<String> =
            read("b * pi + sqrt(a) - roll.volume / b + mean(readings)").names().into_iter().collect();
        assert_eq!(names, ["a", "b", "readings", "roll.volume"]);
    }

    #[test]
    fn a_whole_call_in_brackets_is_still_a_head_call() {
        let formula = read("( wet_film((a + b) * c, d) )");
        let Some((calculation, arguments)) = formula.head_call() else { panic!("a head call") };
        assert_eq!(calculation.name, "wet_film");
        assert_eq!(arguments.iter().map(Expression::text).collect::<Vec<_>>(), ["(a + b) * c", "d"]);
        assert!(read("wet_film(a, b) * 2").head_call().is_none());
        assert!(read("sqrt(a)").head_call().is_none());
    }

    #[test]
    fn an_argument_keeps_spans_within_its_own_text() {
        let formula = read("wet_film(a, 2 * bare(b, 'mm'))");
        let arguments = formula.head_call().map(|(_, arguments)| arguments).unwrap_or_default();
        arguments[1].root.visit(&mut |node| assert!(arguments[1].text.get(node.span.clone()).is_some()));
        assert_eq!(arguments[1].substitute(&[("b".to_owned(), read("x"))].into()).text(), "2 * bare((x), 'mm')");
    }

    #[test]
    fn calls_are_listed_once_in_order() {
        let names: Vec<&str> = read("wet_film(wet_film(a, b), c) + sqrt(d)").calls().iter().map(|c| c.name).collect();
        assert_eq!(names, ["wet_film"]);
    }

    #[test]
    fn replacing_does_not_touch_what_was_put_in() {
        let map = [("a".to_owned(), read("b")), ("b".to_owned(), read("a + 1"))].into();
        assert_eq!(read("a * b + (a)").substitute(&map).text(), "(b) * (a + 1) + (b)");
    }

    #[test]
    fn a_formula_that_outgrows_the_limits_does_not_compile() {
        let mut formula = read("a + a + a + a");
        for _ in 0..12 {
            formula = formula.substitute(&[("a".to_owned(), formula.clone())].into());
        }
        assert!(matches!(formula.root.kind, Kind::TooLarge));
        let scope = BTreeMap::new();
        let fault = crate::formula::compile(&formula, &scope, crate::formula::Allow { bare: true });
        assert!(fault.is_err_and(|fault| fault.message.contains("too large")));
    }
}

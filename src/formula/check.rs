//! The static check: names found, dimensions agreeing; out comes a program.

use std::collections::BTreeMap;
use std::ops::Range;

use super::calls::clash_mend;
use super::fault::FormulaFault;
use super::program::{Compiled, Op};
use super::tree::{Expression, Kind, Node, Operator};
use super::types::Type;
use crate::ground::nearest_name;
use crate::measure::{Dimension, Quantity};

/// The most names that a mend lists.
const LISTED: usize = 8;

/// A name that a formula may use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Named {
    /// Where its value stands: among the scalars or, for a series, among the series.
    pub slot: usize,
    /// What it is.
    pub kind: Type,
}

/// The names that a formula may use.
pub trait Scope {
    /// The name's slot and type.
    fn look_up(&self, name: &str) -> Option<Named>;
    /// All names, for finding the one that was meant.
    fn known(&self) -> Vec<String>;
}

impl Scope for BTreeMap<String, Named> {
    fn look_up(&self, name: &str) -> Option<Named> {
        self.get(name).copied()
    }

    fn known(&self) -> Vec<String> {
        self.keys().cloned().collect()
    }
}

/// What a formula may do besides the usual.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Allow {
    /// `bare(x, 'unit')`, the way out of the dimension check that is meant for wrong turns.
    pub bare: bool,
}

/// Checks a formula and makes it ready for evaluation.
///
/// # Errors
/// A [`FormulaFault`] that points at the operand or operator: an unknown name,
/// dimensions that do not agree, `bare` where it is not allowed.
///
/// ```
/// use std::collections::BTreeMap;
/// use gearside::formula::{Allow, Named, Type, compile, parse};
/// use gearside::measure::Dimension;
/// let scope = BTreeMap::from([("length".to_owned(), Named { slot: 0, kind: Type::Number(Dimension::LENGTH) })]);
/// let fault = compile(&parse("length + '3 kg'").unwrap(), &scope, Allow { bare: false }).unwrap_err();
/// assert_eq!(fault.message, "cannot add a length, mm and a mass, kg");
/// ```
pub fn compile(expression: &Expression, scope: &dyn Scope, allow: Allow) -> Result<Compiled, FormulaFault> {
    compile_wanting(expression, scope, allow, None)
}

/// The same, for a formula whose type is known from elsewhere: a spelling that
/// several units share (`'3 lb'`) is then read so that it fits, if it can.
/// Whether the result is of that type is for the caller to compare.
///
/// # Errors
/// As [`compile`].
///
/// ```
/// use std::collections::BTreeMap;
/// use gearside::formula::{Allow, Type, compile_wanting, parse};
/// use gearside::measure::unit;
/// let force = Type::of(unit("N").unwrap());
/// let pull = parse("'3 lb' * 2").unwrap();
/// assert_eq!(compile_wanting(&pull, &BTreeMap::new(), Allow { bare: false }, Some(force)).unwrap().kind, force);
/// ```
pub fn compile_wanting(
    expression: &Expression,
    scope: &dyn Scope,
    allow: Allow,
    wanted: Option<Type>,
) -> Result<Compiled, FormulaFault> {
    let checker = Checker { text: &expression.text, scope, allow };
    let Part { kind, ops } = checker.check(&expression.root, wanted)?;
    Ok(Compiled { kind, ops })
}

/// A checked part: its type and its program.
pub(super) struct Part {
    pub(super) kind: Type,
    pub(super) ops: Vec<Op>,
}

impl Part {
    pub(super) fn then(mut self, op: Op, kind: Type) -> Self {
        self.ops.push(op);
        Self { kind, ops: self.ops }
    }
}

pub(super) struct Checker<'a> {
    pub(super) text: &'a str,
    pub(super) scope: &'a dyn Scope,
    pub(super) allow: Allow,
}

/// Whether a part is made of literals alone, one of them a quantity: its
/// dimension may then depend on what is wanted.
pub(super) fn is_loose(node: &Node) -> bool {
    match &node.kind {
        Kind::Quantity(_) => true,
        Kind::Negative(inner) => is_loose(inner),
        Kind::Binary { operator: Operator::Plus | Operator::Minus, left, right, .. } => {
            is_loose(left) && is_loose(right)
        }
        Kind::Binary { operator: Operator::Times | Operator::Over, left, right, .. } => {
            let plain = |node: &Node| matches!(node.kind, Kind::Number { .. } | Kind::Pi);
            is_loose(left) && (is_loose(right) || plain(right)) || plain(left) && is_loose(right)
        }
        _ => false,
    }
}

impl Checker<'_> {
    pub(super) fn fault(
        &self,
        span: &Range<usize>,
        message: impl Into<String>,
        mend: impl Into<String>,
    ) -> FormulaFault {
        FormulaFault::new(self.text, span, message, mend)
    }

    /// Checks a part. `wanted` only helps to read quantities.
    pub(super) fn check(&self, node: &Node, wanted: Option<Type>) -> Result<Part, FormulaFault> {
        match &node.kind {
            Kind::Number { value, .. } => Ok(Part { kind: Type::PLAIN, ops: vec![Op::Constant(*value)] }),
            Kind::Pi => Ok(Part { kind: Type::PLAIN, ops: vec![Op::Constant(std::f64::consts::PI)] }),
            Kind::Name(name) => self.name(name, &node.span),
            Kind::Quantity(text) => self.quantity(text, &node.span, wanted),
            Kind::Negative(inner) => {
                let (dimension, part) = self.number(inner, wanted, "put a minus in front of")?;
                Ok(part.then(Op::Negative, Type::Number(dimension)))
            }
            Kind::Not(inner) => Ok(self.truth(inner, "`not`")?.then(Op::Not, Type::Truth)),
            Kind::Binary { operator, operator_span, left, right } => {
                self.binary(*operator, operator_span, left, right, wanted)
            }
            Kind::If(parts) => self.choice(parts, &node.span, wanted),
            Kind::Bare { value, unit, unit_span } => self.bare(value, unit, unit_span, &node.span),
            Kind::Call { function, arguments } => self.call(*function, arguments, &node.span, wanted),
            Kind::TooLarge => Err(self.fault(
                &node.span,
                "the formula grew too large when other formulas were put in for its names",
                "give parts of it a step of their own",
            )),
        }
    }

    fn name(&self, name: &str, span: &Range<usize>) -> Result<Part, FormulaFault> {
        let Some(Named { slot, kind }) = self.scope.look_up(name) else {
            return Err(self.unknown_name(name, span));
        };
        if kind.is_series() {
            return Err(self.fault(
                span,
                format!("`{name}` is {kind}, not one value"),
                format!("gather it first: mean({name}), sd({name}), range({name}), total({name}), how_many({name})"),
            ));
        }
        Ok(Part { kind, ops: vec![Op::Scalar(slot)] })
    }

    pub(super) fn unknown_name(&self, name: &str, span: &Range<usize>) -> FormulaFault {
        let known = self.scope.known();
        let columns: Vec<&str> = known
            .iter()
            .map(String::as_str)
            .filter(|other| other.split_once('.').is_some_and(|(table, _)| Some(table) == name.split('.').next()))
            .collect();
        let mend = if super::function::Function::named(name).is_some() {
            format!("`{name}` is a function: give its arguments in brackets, `{name}(…)`")
        } else if let (false, Some(near)) = (
            columns.contains(&name),
            nearest_name(name, columns.iter().copied())
                .or_else(|| nearest_name(name, known.iter().map(String::as_str))),
        ) {
            format!("did you mean `{near}`?")
        } else if !columns.is_empty() {
            format!("take one of the row's columns: {}", columns.join(", "))
        } else if known.is_empty() {
            "no names are known here; write numbers and quantities".to_owned()
        } else {
            let dots = if known.len() > LISTED { ", …" } else { "" };
            format!("known here: {}{dots}", known[..known.len().min(LISTED)].join(", "))
        };
        self.fault(span, format!("`{name}` is not a name known here"), mend)
    }

    fn quantity(&self, text: &str, span: &Range<usize>, wanted: Option<Type>) -> Result<Part, FormulaFault> {
        let dimension = match wanted {
            Some(Type::Number(dimension)) => Some(dimension),
            Some(Type::Point) => Some(Dimension::TEMPERATURE),
            _ => None,
        };
        let quantity = Quantity::parse_wanting(text, dimension).map_err(|_| {
            self.fault(span, format!("`{text}` is not a quantity"), "write a number and a unit: '25.4 mm'")
        })?;
        let mut kind = Type::of(quantity.unit);
        let mut value = quantity.si;
        if kind == Type::Point && wanted == Some(Type::INTERVAL) {
            // '5 °C' where only a difference makes sense.
            kind = Type::INTERVAL;
            value = quantity.number.value() * quantity.unit.factor;
        }
        Ok(Part { kind, ops: vec![Op::Constant(value)] })
    }

    /// A part that must be a number of whatever dimension; `doing` completes "cannot …".
    pub(super) fn number(
        &self,
        node: &Node,
        wanted: Option<Type>,
        doing: &str,
    ) -> Result<(Dimension, Part), FormulaFault> {
        let part = self.check(node, wanted)?;
        match part.kind.dimension() {
            Some(dimension) => Ok((dimension, part)),
            None => Err(self.fault(&node.span, format!("cannot {doing} {}", part.kind), no_number_mend(part.kind))),
        }
    }

    fn truth(&self, node: &Node, what: &str) -> Result<Part, FormulaFault> {
        let part = self.check(node, None)?;
        if part.kind == Type::Truth {
            return Ok(part);
        }
        Err(self.fault(
            &node.span,
            format!("{what} takes yes or no, not {}", part.kind),
            "write a comparison, as in `a < b`",
        ))
    }

    fn binary(
        &self,
        operator: Operator,
        sign: &Range<usize>,
        left: &Node,
        right: &Node,
        wanted: Option<Type>,
    ) -> Result<Part, FormulaFault> {
        match operator {
            Operator::And => {
                let (a, b) = (self.truth(left, "`and`")?, self.truth(right, "`and`")?);
                Ok(either(a, b, constant_truth(0.0)))
            }
            Operator::Or => {
                let (a, b) = (self.truth(left, "`or`")?, self.truth(right, "`or`")?);
                Ok(either(a, constant_truth(1.0), b))
            }
            Operator::Plus | Operator::Minus => self.sum(operator, sign, left, right, wanted),
            Operator::Times | Operator::Over => self.product(operator, sign, left, right, wanted),
            Operator::Power => self.power(sign, left, right),
            _ => {
                let (a, b) = self.pair(left, right, None)?;
                let comparable = a.kind == b.kind && a.kind != Type::Truth;
                if !comparable {
                    let message = format!("cannot compare {} with {}", a.kind, b.kind);
                    return Err(self.fault(sign, message, clash_mend(a.kind, b.kind)));
                }
                Ok(joined(a, b).then(Op::Binary(operator), Type::Truth))
            }
        }
    }

    /// Checks two parts that should be alike; a literal is read to fit the other.
    fn pair(&self, left: &Node, right: &Node, wanted: Option<Type>) -> Result<(Part, Part), FormulaFault> {
        self.alike(left, right, wanted, &Some)
    }

    /// The same; `hint` says which kinds may decide how a literal is read.
    fn alike(
        &self,
        left: &Node,
        right: &Node,
        wanted: Option<Type>,
        hint: &dyn Fn(Type) -> Option<Type>,
    ) -> Result<(Part, Part), FormulaFault> {
        let wanted = wanted.and_then(hint);
        if is_loose(left) && !is_loose(right) {
            let b = self.check(right, wanted)?;
            Ok((self.check(left, hint(b.kind))?, b))
        } else {
            let a = self.check(left, wanted)?;
            let b = self.check(right, hint(a.kind))?;
            Ok((a, b))
        }
    }

    fn sum(
        &self,
        operator: Operator,
        sign: &Range<usize>,
        left: &Node,
        right: &Node,
        wanted: Option<Type>,
    ) -> Result<Part, FormulaFault> {
        let (a, b) = self.terms(left, right, wanted)?;
        let kind = match (operator, a.kind, b.kind) {
            (_, Type::Number(first), Type::Number(second)) if first == second => Some(a.kind),
            (_, Type::Point, Type::INTERVAL) | (Operator::Plus, Type::INTERVAL, Type::Point) => Some(Type::Point),
            (Operator::Minus, Type::Point, Type::Point) => Some(Type::INTERVAL),
            _ => None,
        };
        let Some(kind) = kind else {
            let message = match operator {
                Operator::Plus if a.kind == b.kind => format!("cannot add {} and another", a.kind),
                Operator::Plus => format!("cannot add {} and {}", a.kind, b.kind),
                _ => format!("cannot subtract {} from {}", b.kind, a.kind),
            };
            return Err(self.fault(sign, message, clash_mend(a.kind, b.kind)));
        };
        Ok(joined(a, b).then(Op::Binary(operator), kind))
    }

    /// As [`Checker::pair`], but a °C in a sum is always a reading: it must not
    /// turn into a difference because its neighbour is one.
    fn terms(&self, left: &Node, right: &Node, wanted: Option<Type>) -> Result<(Part, Part), FormulaFault> {
        let settled = |kind: Type| Some(kind).filter(|kind| ![Type::Point, Type::INTERVAL].contains(kind));
        self.alike(left, right, wanted, &settled)
    }

    fn product(
        &self,
        operator: Operator,
        sign: &Range<usize>,
        left: &Node,
        right: &Node,
        wanted: Option<Type>,
    ) -> Result<Part, FormulaFault> {
        let times = operator == Operator::Times;
        let doing = if times { "multiply" } else { "divide" };
        let by = if times { "multiply by" } else { "divide by" };
        let wanted = wanted.and_then(Type::dimension);
        // A literal side is read last, so that the whole comes out as wanted.
        let (a, b) = if is_loose(left) {
            let b = self.number(right, None, by)?;
            let rest = wanted.and_then(|whole| if times { whole.per(b.0) } else { whole.times(b.0) });
            (self.number(left, rest.map(Type::Number), doing)?, b)
        } else {
            let a = self.number(left, None, doing)?;
            let rest = wanted.and_then(|whole| if times { whole.per(a.0) } else { a.0.per(whole) });
            let b = self.number(right, rest.map(Type::Number), by)?;
            (a, b)
        };
        let dimension = if times { a.0.times(b.0) } else { a.0.per(b.0) };
        let Some(dimension) = dimension else {
            let message = format!("cannot {doing} {} by {}", a.1.kind, b.1.kind);
            let mend = "seconds of a cup are a reading, not a time: turn them into a viscosity first";
            return Err(self.fault(sign, message, mend));
        };
        Ok(joined(a.1, b.1).then(Op::Binary(operator), Type::Number(dimension)))
    }

    fn power(&self, sign: &Range<usize>, base: &Node, exponent: &Node) -> Result<Part, FormulaFault> {
        let (dimension, a) = self.number(base, None, "raise")?;
        let (of_exponent, b) = self.number(exponent, Some(Type::PLAIN), "raise to")?;
        if !of_exponent.is_plain() {
            let message = format!("an exponent is a plain number, not {}", b.kind);
            return Err(self.fault(&exponent.span, message, "divide it by a quantity of its kind first"));
        }
        if dimension.is_plain() {
            return Ok(joined(a, b).then(Op::Binary(Operator::Power), Type::PLAIN));
        }
        let raised = literal(exponent).and_then(|power| raised(dimension, power));
        let Some(raised) = raised else {
            let message = format!("cannot raise {} to the power of `{}`", a.kind, &self.text[exponent.span.clone()]);
            let mend = "a quantity with a unit is raised to a whole number, such as ^2, or to ^0.5 where that has a \
                        dimension; divide it by a quantity of its kind first for any other power";
            return Err(self.fault(sign, message, mend));
        };
        Ok(joined(a, b).then(Op::Binary(Operator::Power), Type::Number(raised)))
    }

    fn choice(&self, parts: &[Node; 3], span: &Range<usize>, wanted: Option<Type>) -> Result<Part, FormulaFault> {
        let condition = self.truth(&parts[0], "the condition of `if`")?;
        let (then, otherwise) = self.pair(&parts[1], &parts[2], wanted)?;
        if then.kind != otherwise.kind {
            let message = format!("`if` yields {} or {}: both must be alike", then.kind, otherwise.kind);
            return Err(self.fault(span, message, clash_mend(then.kind, otherwise.kind)));
        }
        Ok(either(condition, then, otherwise))
    }
}

/// What to do about a value that arithmetic does not take.
fn no_number_mend(kind: Type) -> &'static str {
    match kind {
        Type::Point => {
            "temperature readings are subtracted, compared and averaged, nothing else: take a difference first"
        }
        _ => "choose between values with `if(condition, then, otherwise)`",
    }
}

fn constant_truth(value: f64) -> Part {
    Part { kind: Type::Truth, ops: vec![Op::Constant(value)] }
}

/// One program after the other; the type is for the operator behind them to say.
pub(super) fn joined(mut first: Part, second: Part) -> Part {
    first.ops.extend(second.ops);
    first
}

/// The program that carries out only the branch that the condition picks.
fn either(condition: Part, then: Part, otherwise: Part) -> Part {
    let mut ops = condition.ops;
    ops.push(Op::SkipUnless(then.ops.len() + 1));
    ops.extend(then.ops);
    ops.push(Op::Skip(otherwise.ops.len()));
    ops.extend(otherwise.ops);
    Part { kind: then.kind, ops }
}

/// The value of an exponent that is written out.
fn literal(node: &Node) -> Option<f64> {
    match &node.kind {
        Kind::Number { value, .. } => Some(*value),
        Kind::Negative(inner) => literal(inner).map(|value| -value),
        _ => None,
    }
}

/// A dimension to a whole power or to 0.5.
fn raised(dimension: Dimension, power: f64) -> Option<Dimension> {
    if (power - 0.5).abs() < f64::EPSILON {
        return dimension.root();
    }
    (-100_i8..=100)
        .find(|whole| (f64::from(*whole) - power).abs() < f64::EPSILON)
        .and_then(|whole| dimension.power(whole))
}

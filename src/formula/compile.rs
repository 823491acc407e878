//! The static dimension check; a program for the evaluator comes out.

use super::evaluate::{Compiled, Op};
use super::fault::FormulaFault;
use super::function::{BuiltIn, Function, Gather};
use super::kinds::{Scope, Type};
use super::tree::{Expression, Kind, Node, Operator};
use crate::ground::nearest_name;
use crate::measure::{Dimension, Quantity, QuantityFault, unit, unit_where};
use crate::trade::Calculation;

/// What a formula may do beyond the usual.
#[derive(Debug, Clone, Copy)]
pub struct Allow {
    /// Whether `bare(x, 'unit')` may stand in it: in wrong turns and catalogue expansions.
    pub bare: bool,
}

/// Checks a formula and compiles it.
///
/// # Errors
/// [`FormulaFault`] for an unknown name or unit, and wherever dimensions do not
/// agree; both are named in words.
pub fn compile(expression: &Expression, scope: &dyn Scope, allow: Allow) -> Result<Compiled, FormulaFault> {
    let mut compiler = Compiler { text: &expression.text, scope, allow, ops: Vec::new() };
    let kind = compiler.node(&expression.root, None)?;
    Ok(Compiled { kind, ops: compiler.ops })
}

struct Compiler<'a> {
    text: &'a str,
    scope: &'a dyn Scope,
    allow: Allow,
    ops: Vec<Op>,
}

type Checked = Result<Type, FormulaFault>;

const PLAIN: Type = Type::Number(Dimension::PLAIN);

impl Compiler<'_> {
    fn fault(&self, node: &Node, message: impl Into<String>, mend: impl Into<String>) -> FormulaFault {
        FormulaFault::new(self.text, &node.span, message, mend)
    }

    /// Compiles a part; `wanted` helps a quantity whose unit has several meanings.
    fn node(&mut self, node: &Node, wanted: Option<Dimension>) -> Checked {
        match &node.kind {
            Kind::Number { value, .. } => Ok(self.push(Op::Value(*value), PLAIN)),
            Kind::Pi => Ok(self.push(Op::Value(std::f64::consts::PI), PLAIN)),
            Kind::Name(name) => self.name(node, name),
            Kind::Quantity(text) => self.quantity(node, text, wanted),
            Kind::Negative(inner) => match self.node(inner, wanted)? {
                kind @ Type::Number(_) => Ok(self.push(Op::Negative, kind)),
                other => Err(self.fault(
                    inner,
                    format!("{other} has no negative"),
                    "take a difference of two readings instead",
                )),
            },
            Kind::Not(inner) => {
                self.truth(inner)?;
                Ok(self.push(Op::Not, Type::Truth))
            }
            Kind::Binary { operator, operator_span, left, right } => {
                self.binary(node, *operator, operator_span, left, right)
            }
            Kind::If(parts) => self.choice(node, parts, wanted),
            Kind::Bare { value, unit: text, unit_span } => self.bare(node, value, text, unit_span),
            Kind::Call { function, arguments } => match function {
                Function::BuiltIn(function) => self.built_in(node, *function, arguments, wanted),
                Function::Gather(gather) => self.gather(*gather, &arguments[0]),
                Function::Catalogue(calculation) => self.catalogue(calculation, arguments),
            },
            Kind::TooLarge => Err(self.fault(
                node,
                "the formula became too large when names were replaced",
                "split it into several steps",
            )),
        }
    }

    fn push(&mut self, op: Op, kind: Type) -> Type {
        self.ops.push(op);
        kind
    }

    fn name(&mut self, node: &Node, name: &str) -> Checked {
        let Some(named) = self.scope.look_up(name) else {
            let known = self.scope.known();
            let mend = nearest_name(name, known.iter().map(String::as_str)).map_or_else(
                || {
                    if known.is_empty() {
                        "no names are known here".to_owned()
                    } else {
                        format!("known here are: {}", known.join(", "))
                    }
                },
                |near| format!("did you mean `{near}`?"),
            );
            return Err(self.fault(node, format!("there is no value called `{name}`"), mend));
        };
        match named.kind {
            Type::Series(_) | Type::SeriesOfPoints => Err(self.fault(
                node,
                format!("`{name}` is {}", named.kind),
                "take one number of it: mean, sd, range, total or how_many",
            )),
            kind => Ok(self.push(Op::Slot(named.slot), kind)),
        }
    }

    fn quantity(&mut self, node: &Node, text: &str, wanted: Option<Dimension>) -> Checked {
        let quantity = Quantity::parse_wanting(text, wanted).map_err(|fault| match fault {
            QuantityFault::NoNumber => {
                self.fault(node, format!("'{text}' is not a quantity"), "write a number, a space and a unit: '25.4 mm'")
            }
            QuantityFault::UnknownUnit(unknown) => {
                let mend = unknown
                    .near
                    .map_or_else(|| "use a unit known here".to_owned(), |near| format!("did you mean `{near}`?"));
                self.fault(node, format!("`{}` is not a unit known here", unknown.text), mend)
            }
        })?;
        let point = quantity.unit.dimension == Dimension::TEMPERATURE && quantity.unit.name.starts_with('°');
        let kind = if point { Type::Point } else { Type::Number(quantity.unit.dimension) };
        Ok(self.push(Op::Value(quantity.si), kind))
    }

    fn truth(&mut self, node: &Node) -> Result<(), FormulaFault> {
        match self.node(node, None)? {
            Type::Truth => Ok(()),
            other => Err(self.fault(node, format!("{other} is neither true nor false"), "compare it with something")),
        }
    }

    /// Compiles two operands that help each other to a dimension.
    fn pair(&mut self, left: &Node, right: &Node) -> Result<(Type, Type), FormulaFault> {
        let ambiguous = matches!(left.kind, Kind::Quantity(_)) && !matches!(right.kind, Kind::Quantity(_));
        let hint = |kind: Type| if let Type::Number(dimension) = kind { Some(dimension) } else { None };
        if ambiguous {
            // What the right side measures decides what the left side's unit means.
            let start = self.ops.len();
            let kind = self.node(right, None)?;
            self.ops.truncate(start);
            let left = self.node(left, hint(kind))?;
            return Ok((left, self.node(right, None)?));
        }
        let left = self.node(left, None)?;
        Ok((left, self.node(right, hint(left))?))
    }

    fn binary(
        &mut self,
        node: &Node,
        operator: Operator,
        operator_span: &std::ops::Range<usize>,
        left: &Node,
        right: &Node,
    ) -> Checked {
        match operator {
            Operator::And | Operator::Or => {
                self.truth(left)?;
                self.truth(right)?;
                Ok(self.push(if operator == Operator::And { Op::And } else { Op::Or }, Type::Truth))
            }
            Operator::Plus | Operator::Minus => {
                let (a, b) = self.pair(left, right)?;
                let kind = self.sum(operator, operator_span, a, b)?;
                Ok(self.push(if operator == Operator::Plus { Op::Add } else { Op::Subtract }, kind))
            }
            Operator::Times | Operator::Over => {
                let (a, b) = (self.node(left, None)?, self.node(right, None)?);
                let kind = self.product(node, operator, left, right, a, b)?;
                Ok(self.push(if operator == Operator::Times { Op::Multiply } else { Op::Divide }, kind))
            }
            Operator::Power => self.power(left, right),
            _ => {
                let (a, b) = self.pair(left, right)?;
                if a != b || !matches!(a, Type::Number(_) | Type::Point) {
                    return Err(FormulaFault::new(
                        self.text,
                        operator_span,
                        format!("cannot compare {a} and {b}"),
                        "compare like with like; give a bare number a unit in single quotes",
                    ));
                }
                Ok(self.push(Op::Compare(operator), Type::Truth))
            }
        }
    }

    fn sum(&self, operator: Operator, span: &std::ops::Range<usize>, a: Type, b: Type) -> Checked {
        let difference = Type::Number(Dimension::TEMPERATURE);
        match (a, b) {
            (Type::Number(x), Type::Number(y)) if x == y => Ok(a),
            (Type::Point, Type::Point) if operator == Operator::Minus => Ok(difference),
            (Type::Point, other) if other == difference => Ok(Type::Point),
            (other, Type::Point) if other == difference && operator == Operator::Plus => Ok(Type::Point),
            _ => {
                let verb = if operator == Operator::Plus { ("add", "and") } else { ("subtract", "from") };
                let (first, second) = if operator == Operator::Plus { (a, b) } else { (b, a) };
                let message = format!("cannot {} {first} {} {second}", verb.0, verb.1);
                Err(FormulaFault::new(self.text, span, message, "bring both to the same kind of quantity"))
            }
        }
    }

    fn product(&self, node: &Node, operator: Operator, left: &Node, right: &Node, a: Type, b: Type) -> Checked {
        for (part, kind) in [(left, a), (right, b)] {
            if !matches!(kind, Type::Number(_)) {
                let verb = if operator == Operator::Times { "multiplied" } else { "divided" };
                return Err(self.fault(
                    part,
                    format!("{kind} cannot be {verb}"),
                    "only numbers with a dimension can; take a difference of readings first",
                ));
            }
        }
        let (Type::Number(x), Type::Number(y)) = (a, b) else { return Ok(a) };
        let result = if operator == Operator::Times { x.times(y) } else { x.per(y) };
        result.map(Type::Number).ok_or_else(|| {
            self.fault(node, format!("{a} and {b} do not combine"), "turn cup seconds into a viscosity first")
        })
    }

    fn power(&mut self, base: &Node, exponent: &Node) -> Checked {
        let a = self.node(base, None)?;
        let b = self.node(exponent, None)?;
        if b != PLAIN {
            return Err(self.fault(
                exponent,
                format!("an exponent must be a plain number; this is {b}"),
                "divide it by something of its kind",
            ));
        }
        let Type::Number(dimension) = a else {
            return Err(self.fault(base, format!("{a} has no powers"), "take a difference of readings first"));
        };
        if dimension.is_plain() {
            return Ok(self.push(Op::Power, a));
        }
        let literal = literal(exponent);
        #[expect(clippy::cast_possible_truncation, reason = "checked to be a small whole number")]
        let result = match literal {
            Some(0.5) => dimension.root(),
            Some(value) if libm::trunc(value).to_bits() == value.to_bits() && value.abs() <= 9.0 => {
                dimension.power(value as i8)
            }
            _ => None,
        };
        let result = result.ok_or_else(|| {
            self.fault(
                exponent,
                format!("this power of {a} is not known to make sense"),
                "raise a quantity only to a whole number such as 2, or take sqrt of a square",
            )
        })?;
        Ok(self.push(Op::Power, Type::Number(result)))
    }

    fn choice(&mut self, node: &Node, parts: &[Node; 3], wanted: Option<Dimension>) -> Checked {
        self.truth(&parts[0])?;
        let (a, b) = (self.node(&parts[1], wanted)?, self.node(&parts[2], wanted)?);
        if a != b {
            return Err(self.fault(
                node,
                format!("the two values of `if` are {a} and {b}"),
                "let both be the same kind of quantity",
            ));
        }
        Ok(self.push(Op::Choose, a))
    }

    fn bare(&mut self, node: &Node, value: &Node, text: &str, unit_span: &std::ops::Range<usize>) -> Checked {
        if !self.allow.bare {
            return Err(self.fault(
                node,
                "`bare` takes a value out of the dimension check, which only a wrong turn may",
                "keep the unit: multiply by a quantity in single quotes",
            ));
        }
        let kind = self.node(value, None)?;
        let dimension = match kind {
            Type::Number(dimension) => dimension,
            Type::Point => Dimension::TEMPERATURE,
            other => {
                return Err(self.fault(value, format!("{other} has no number in a unit"), "give it a single number"));
            }
        };
        let found = unit_where(text, |unit| unit.dimension == dimension).map_err(|unknown| {
            let mend = unknown
                .near
                .map_or_else(|| "use a unit known here".to_owned(), |near| format!("did you mean `{near}`?"));
            FormulaFault::new(self.text, unit_span, format!("`{text}` is not a unit known here"), mend)
        })?;
        if found.dimension != dimension {
            let message = format!("the value is {kind}, but `{text}` measures {}", found.dimension);
            return Err(FormulaFault::new(self.text, unit_span, message, "name a unit of the value"));
        }
        let offset = if kind == Type::Point { found.offset } else { 0.0 };
        Ok(self.push(Op::Bare { factor: found.factor, offset }, PLAIN))
    }

    fn built_in(&mut self, node: &Node, function: BuiltIn, arguments: &[Node], wanted: Option<Dimension>) -> Checked {
        let first = self.node(&arguments[0], wanted)?;
        let need = |wanted: Type, mend: &str| {
            if first == wanted {
                Ok(())
            } else {
                Err(self.fault(&arguments[0], format!("`{}` takes {wanted}; this is {first}", function.name()), mend))
            }
        };
        let kind = match function {
            BuiltIn::Min | BuiltIn::Max => return self.least_or_most(function, first, arguments),
            BuiltIn::Sqrt => match first {
                Type::Number(dimension) => Type::Number(dimension.root().ok_or_else(|| {
                    self.fault(
                        node,
                        format!("{first} has no square root that makes sense"),
                        "take the root of an area or a plain number",
                    )
                })?),
                other => {
                    return Err(self.fault(node, format!("{other} has no square root"), "take the root of a number"));
                }
            },
            BuiltIn::Abs => match first {
                Type::Number(_) => first,
                other => return Err(self.fault(node, format!("{other} has no size"), "take the size of a number")),
            },
            BuiltIn::Sin | BuiltIn::Cos | BuiltIn::Tan => {
                need(Type::Number(Dimension::ANGLE), "give the number a unit: '30 °'")?;
                PLAIN
            }
            _ => {
                need(PLAIN, "divide by something of its kind, such as '1 mm'")?;
                PLAIN
            }
        };
        Ok(self.push(Op::BuiltIn(function), kind))
    }

    fn least_or_most(&mut self, function: BuiltIn, first: Type, arguments: &[Node]) -> Checked {
        for argument in &arguments[1..] {
            let hint = if let Type::Number(dimension) = first { Some(dimension) } else { None };
            let other = self.node(argument, hint)?;
            if other != first || !matches!(first, Type::Number(_) | Type::Point) {
                return Err(self.fault(
                    argument,
                    format!("`{}` compares like with like; here stand {first} and {other}", function.name()),
                    "bring both to the same kind of quantity",
                ));
            }
        }
        Ok(self.push(Op::Many(function, arguments.len()), first))
    }

    fn gather(&mut self, gather: Gather, argument: &Node) -> Checked {
        let refuse = |this: &Self, what: String| {
            Err(this.fault(argument, what, "name a given with `series:`, or a table's column of lists"))
        };
        let Kind::Name(name) = &argument.kind else {
            return refuse(self, format!("`{}` takes the name of a series", gather.name()));
        };
        let Some(named) = self.scope.look_up(name) else {
            return self.name(argument, name);
        };
        let kind = match (gather, named.kind) {
            (Gather::HowMany, Type::Series(_) | Type::SeriesOfPoints) => PLAIN,
            (_, Type::Series(dimension)) => Type::Number(dimension),
            (Gather::Mean, Type::SeriesOfPoints) => Type::Point,
            (Gather::Deviation | Gather::Range, Type::SeriesOfPoints) => Type::Number(Dimension::TEMPERATURE),
            (_, other) => return refuse(self, format!("`{}` takes a series; `{name}` is {other}", gather.name())),
        };
        Ok(self.push(Op::Gather(gather, named.slot), kind))
    }

    fn catalogue(&mut self, calculation: &'static Calculation, arguments: &[Node]) -> Checked {
        for (parameter, argument) in calculation.parameters.iter().zip(arguments) {
            let wanted = unit(parameter.unit).map(|unit| unit.dimension).unwrap_or_default();
            let kind = self.node(argument, Some(wanted))?;
            if kind != Type::Number(wanted) {
                let message = format!(
                    "`{}` of `{}` is {}; this is {kind}",
                    parameter.name,
                    calculation.name,
                    Type::Number(wanted)
                );
                return Err(self.fault(argument, message, format!("give it {}", parameter.says)));
            }
        }
        let result = unit(calculation.outcome.unit).map(|unit| unit.dimension).unwrap_or_default();
        Ok(self.push(Op::Catalogue(calculation), Type::Number(result)))
    }
}

/// The number that a part is, sign included, if it is one.
fn literal(node: &Node) -> Option<f64> {
    match &node.kind {
        Kind::Number { value, .. } => Some(*value),
        Kind::Negative(inner) => literal(inner).map(|value| -value),
        _ => None,
    }
}

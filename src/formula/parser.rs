//! From tokens to the syntax tree.
//!
//! From loose to tight: `or`, `and`, `not`, comparison, `+ -`, `* /`, the
//! minus in front, `^`. All but `^` gather from the left; comparisons do not
//! chain.

use std::ops::Range;

use super::fault::FormulaFault;
use super::function::{Function, near_function};
use super::lexer::{Placed, Token, tokens};
use super::tree::{Expression, Kind, Node, Operator};
use crate::measure::{Quantity, QuantityFault, UnknownUnit, unit};
use crate::trade::{Calculation, Parameter};

/// How long and how deep a formula may be.
#[derive(Clone, Copy)]
pub(super) struct Limits {
    pub(super) bytes: usize,
    depth: usize,
}

/// What an author may write.
const WRITTEN: Limits = Limits { bytes: 2_000, depth: 64 };
/// What may come of putting formulas into one another: room for one author's
/// formula within another, brackets included.
pub(super) const AFTER_SUBSTITUTION: Limits = Limits { bytes: 65_536, depth: 160 };

/// Binding strengths.
const OR: u8 = 1;
const AND: u8 = 2;
const COMPARE: u8 = 3;
const SUM: u8 = 4;
const PRODUCT: u8 = 5;
const POWER: u8 = 6;

fn strength(operator: Operator) -> u8 {
    match operator {
        Operator::Or => OR,
        Operator::And => AND,
        Operator::Plus | Operator::Minus => SUM,
        Operator::Times | Operator::Over => PRODUCT,
        Operator::Power => POWER,
        _ => COMPARE,
    }
}

/// Reads a formula.
///
/// # Errors
/// A [`FormulaFault`] that points at the place: more than 2,000 bytes or 64
/// levels, something missing or left over, an unknown function, a wrong number
/// of arguments, a quantity that is none, an unknown unit.
///
/// ```
/// use gearside::formula::parse;
/// assert!(parse("(1 - 10^-tint) / (1 - 10^-solid)").is_ok());
/// assert!(parse("wet_film(volume").unwrap_err().mend.contains("quote the whole formula in a one-line {…}"));
/// assert!(parse("'3 milz' + 1").unwrap_err().mend.contains("mil"));
/// ```
pub fn parse(text: &str) -> Result<Expression, FormulaFault> {
    parse_within(text, WRITTEN)
}

pub(super) fn parse_within(text: &str, limits: Limits) -> Result<Expression, FormulaFault> {
    if text.len() > limits.bytes {
        return Err(FormulaFault::new(
            text,
            &(0..0),
            format!("the formula has {} bytes; at most {} are read", text.len(), limits.bytes),
            "split it into several steps",
        ));
    }
    let mut parser = Parser { text, tokens: tokens(text)?, at: 0, level: 0, open_calls: 0, limits };
    let root = parser.expression(OR)?;
    match parser.peek() {
        Token::End => Ok(Expression { text: text.to_owned(), root }),
        _ => Err(parser.left_over()),
    }
}

struct Parser<'a> {
    text: &'a str,
    tokens: Vec<Placed>,
    at: usize,
    /// How many expressions stand around the current place.
    level: usize,
    /// How many of the open brackets belong to calls.
    open_calls: usize,
    limits: Limits,
}

impl Parser<'_> {
    fn peek(&self) -> Token {
        self.tokens.get(self.at).map_or(Token::End, |placed| placed.token)
    }

    fn span(&self) -> Range<usize> {
        self.tokens.get(self.at).map_or(self.text.len()..self.text.len(), |placed| placed.span.clone())
    }

    /// Takes the current token; returns its span. The end is never passed.
    fn take(&mut self) -> Range<usize> {
        let span = self.span();
        self.at = (self.at + 1).min(self.tokens.len().saturating_sub(1));
        span
    }

    fn written(&self, span: &Range<usize>) -> &str {
        &self.text[span.clone()]
    }

    fn fault(&self, span: &Range<usize>, message: impl Into<String>, mend: impl Into<String>) -> FormulaFault {
        FormulaFault::new(self.text, span, message, mend)
    }

    /// A node over a span; a fault if it stands on too many others.
    fn node(&self, kind: Kind, span: Range<usize>) -> Result<Node, FormulaFault> {
        let mut node = Node { kind, span, depth: 1 };
        node.depth += node.children().iter().map(|child| child.depth).max().unwrap_or(0);
        if node.depth > self.limits.depth { Err(self.too_deep(&node.span)) } else { Ok(node) }
    }

    fn too_deep(&self, span: &Range<usize>) -> FormulaFault {
        self.fault(
            span,
            format!("the formula is more than {} levels deep", self.limits.depth),
            "split it into several steps; brackets count, and so does each further term of a long sum",
        )
    }

    /// An expression of operators at least as tight as `least`.
    fn expression(&mut self, least: u8) -> Result<Node, FormulaFault> {
        self.level += 1;
        // A bracket on the right of an operator opens two expressions and is one level.
        if self.level > 2 * self.limits.depth {
            return Err(self.too_deep(&self.span()));
        }
        let mut left = self.prefixed()?;
        while let Token::Operator(operator) = self.peek()
            && strength(operator) >= least
        {
            let operator_span = self.take();
            if operator.compares() && left.is_open_comparison() {
                return Err(self.fault(
                    &operator_span,
                    "comparisons do not chain",
                    "write both out: `a < b and b < c`",
                ));
            }
            // `^` gathers from the right, so its right side may hold further powers.
            let right = self.expression(if operator == Operator::Power { POWER } else { strength(operator) + 1 })?;
            let span = left.span.start..right.span.end;
            let kind = Kind::Binary { operator, operator_span, left: Box::new(left), right: Box::new(right) };
            left = self.node(kind, span)?;
        }
        self.level -= 1;
        Ok(left)
    }

    /// A value, perhaps with a minus or `not` in front.
    fn prefixed(&mut self) -> Result<Node, FormulaFault> {
        let (least, wrap): (u8, fn(Box<Node>) -> Kind) = match self.peek() {
            Token::Operator(Operator::Minus) => (POWER, Kind::Negative),
            Token::Not => (COMPARE, Kind::Not),
            _ => return self.value(),
        };
        let start = self.take().start;
        let inner = self.expression(least)?;
        let span = start..inner.span.end;
        self.node(wrap(Box::new(inner)), span)
    }

    fn value(&mut self) -> Result<Node, FormulaFault> {
        let span = self.span();
        match self.peek() {
            Token::Number(value) => {
                self.take();
                self.node(Kind::Number { written: self.written(&span).to_owned(), value }, span)
            }
            Token::Quoted => self.quantity(),
            Token::Name => self.name(),
            Token::Open => {
                self.take();
                let mut inner = self.expression(OR)?;
                inner.span = span.start..self.close("the bracket")?;
                Ok(inner)
            }
            _ => Err(self.no_value()),
        }
    }

    fn no_value(&self) -> FormulaFault {
        let span = self.span();
        match self.peek() {
            Token::End if self.text.trim().is_empty() => self.fault(&span, "the formula is empty", "write a formula"),
            Token::End if self.open_calls > 0 => self.cut("the formula ends where a value is expected"),
            Token::End => self.fault(&span, "the formula ends where a value is expected", "write the missing operand"),
            _ => self.fault(
                &span,
                format!("`{}` stands where a value is expected", self.written(&span)),
                "write a name, a number, a quantity in single quotes or a bracket here",
            ),
        }
    }

    fn quantity(&mut self) -> Result<Node, FormulaFault> {
        let span = self.take();
        let text = self.written(&span).trim_matches('\'').trim().to_owned();
        match Quantity::parse(&text) {
            Ok(_) => self.node(Kind::Quantity(text), span),
            Err(QuantityFault::UnknownUnit(unknown)) => Err(self.unknown_unit(&span, &unknown)),
            Err(QuantityFault::NoNumber) => Err(self.fault(
                &span,
                format!("`{text}` is not a quantity"),
                "write a number with a point, a space and a unit: '25.4 mm'",
            )),
        }
    }

    fn unknown_unit(&self, span: &Range<usize>, unknown: &UnknownUnit) -> FormulaFault {
        let mend = match unknown.near {
            Some(near) => format!("did you mean `{near}`?"),
            None => "use a unit of the program's table, such as µm, in, BCM/in², lbf, ft/min".to_owned(),
        };
        self.fault(span, format!("`{}` is not a unit", unknown.text.trim()), mend)
    }

    fn name(&mut self) -> Result<Node, FormulaFault> {
        let span = self.take();
        let name = self.written(&span).to_owned();
        if self.peek() == Token::Open {
            return self.call(&name, span);
        }
        self.node(if name == "pi" { Kind::Pi } else { Kind::Name(name) }, span)
    }

    fn call(&mut self, name: &str, name_span: Range<usize>) -> Result<Node, FormulaFault> {
        let function = Function::named(name);
        if function.is_none() && !["if", "bare"].contains(&name) {
            let mend = match near_function(name) {
                Some(near) => format!("did you mean `{near}`?"),
                None => "use a function of the catalogue; a product needs its `*`, as in `a * (b + c)`".to_owned(),
            };
            return Err(self.fault(&name_span, format!("`{name}` is not a function"), mend));
        }
        self.take();
        self.open_calls += 1;
        let node = match function {
            None if name == "bare" => self.bare(name_span.start)?,
            _ => {
                let arguments = self.arguments(name)?;
                let span = name_span.start..self.close(&format!("`{name}(`"))?;
                self.called(function, arguments, span)?
            }
        };
        self.open_calls -= 1;
        Ok(node)
    }

    fn arguments(&mut self, name: &str) -> Result<Vec<Node>, FormulaFault> {
        let mut arguments = Vec::new();
        if self.peek() == Token::Close {
            return Ok(arguments);
        }
        loop {
            arguments.push(self.expression(OR)?);
            match self.peek() {
                Token::Comma => self.take(),
                Token::Close => return Ok(arguments),
                Token::End => return Err(self.cut(&format!("the formula ends inside `{name}(`"))),
                _ => return Err(self.left_over()),
            };
        }
    }

    fn called(
        &self,
        function: Option<Function>,
        arguments: Vec<Node>,
        span: Range<usize>,
    ) -> Result<Node, FormulaFault> {
        let Some(function) = function else {
            let count = arguments.len();
            let parts: Box<[Node; 3]> = arguments.try_into().map(Box::new).map_err(|_| {
                self.fault(
                    &span,
                    format!("`if` takes 3 arguments; here there {}", if count == 1 { "is" } else { "are" })
                        + &format!(" {count}"),
                    "write `if(condition, then, otherwise)`",
                )
            })?;
            return self.node(Kind::If(parts), span);
        };
        if let Some(message) = function.refuses(arguments.len()) {
            let mend = match function {
                Function::Catalogue(calculation) => format!("{} {}", calculation.name, taken_by(calculation)),
                _ => "give as many arguments as it takes, parted by commas".to_owned(),
            };
            return Err(self.fault(&span, message, mend));
        }
        self.node(Kind::Call { function, arguments }, span)
    }

    /// `bare(x, 'unit')`, behind its opening bracket.
    fn bare(&mut self, start: usize) -> Result<Node, FormulaFault> {
        const FORM: &str = "write `bare(value, 'unit')`, as in bare(volume, 'BCM/in²')";
        if self.peek() == Token::Close {
            return Err(self.fault(&(start..self.span().end), "`bare` takes a value and a unit", FORM));
        }
        let value = Box::new(self.expression(OR)?);
        match self.peek() {
            Token::Comma => self.take(),
            Token::End => return Err(self.cut("the formula ends inside `bare(`")),
            Token::Close => {
                return Err(self.fault(&(start..self.span().end), "`bare` takes a value and a unit", FORM));
            }
            _ => return Err(self.left_over()),
        };
        if self.peek() == Token::End {
            return Err(self.cut("the formula ends inside `bare(`"));
        }
        let unit_span = self.take();
        let quoted = self.written(&unit_span);
        if !quoted.starts_with('\'') {
            return Err(self.fault(&unit_span, "the second argument of `bare` is a unit in single quotes", FORM));
        }
        let name = quoted.trim_matches('\'').trim().to_owned();
        unit(&name).map_err(|unknown| self.unknown_unit(&unit_span, &unknown))?;
        let span = start..self.close("`bare(`")?;
        self.node(Kind::Bare { value, unit: name, unit_span }, span)
    }

    /// Takes a closing bracket; the byte behind it.
    fn close(&mut self, what: &str) -> Result<usize, FormulaFault> {
        match self.peek() {
            Token::Close => Ok(self.take().end),
            Token::End if self.open_calls > 0 => Err(self.cut(&format!("{what} is never closed"))),
            Token::End => Err(self.fault(&self.span(), format!("{what} is never closed"), "put a `)` where it ends")),
            _ => Err(self.left_over()),
        }
    }

    /// The usual accident in a one-line `{…}` of YAML: the comma between two arguments ends the text.
    fn cut(&self, message: &str) -> FormulaFault {
        let mend = "quote the whole formula in a one-line {…}, else its first comma cuts it: { is: \"min(a, b)\" }; \
                    if it is not cut, put a `)` where the arguments end";
        self.fault(&self.span(), message, mend)
    }

    /// The fault of a token behind a complete value.
    fn left_over(&self) -> FormulaFault {
        let span = self.span();
        let written = self.written(&span).to_owned();
        let before = self.at.checked_sub(1).and_then(|at| self.tokens.get(at));
        let number_before = before.filter(|placed| matches!(placed.token, Token::Number(_)));
        let number_behind = matches!(self.tokens.get(self.at + 1).map(|p| p.token), Some(Token::Number(_)));
        match self.peek() {
            Token::Close => self.fault(&span, "this `)` closes nothing", "leave it out, or open a `(` before it"),
            Token::Comma if number_before.is_some() && number_behind => self.fault(
                &span,
                "a comma stands outside of a function's brackets",
                "numbers are written with a point and without grouping: 0.5, 1250",
            ),
            Token::Comma => self.fault(
                &span,
                "a comma stands outside of a function's brackets",
                "commas only part the arguments of a function",
            ),
            Token::Name
                if let Some(number) = number_before
                    && unit(&written).is_ok() =>
            {
                self.fault(
                    &(number.span.start..span.end),
                    "a unit stands outside of quotes",
                    format!("put the quantity in single quotes: '{} {written}'", self.written(&number.span)),
                )
            }
            _ => self.fault(
                &span,
                format!("an operator is missing before `{written}`"),
                "write one of + - * / ^ or a comparison between two values",
            ),
        }
    }
}

/// `takes volume in BCM/in², release in %`
pub(super) fn taken_by(calculation: &Calculation) -> String {
    let each = |p: &Parameter| {
        let many = if p.many { ", a series" } else { "" };
        match p.unit {
            "" => format!("{} ({}{many})", p.name, p.says),
            unit => format!("{} in {unit} ({}{many})", p.name, p.says),
        }
    };
    format!("takes {}", calculation.parameters.iter().map(each).collect::<Vec<_>>().join(", "))
}

/// Whether a name means something in every formula, so that no given or step
/// can be called so. A function's name is free: a call is told by its bracket.
///
/// ```
/// use gearside::formula::is_reserved;
/// assert!(is_reserved("pi") && is_reserved("and") && !is_reserved("release"));
/// ```
#[must_use]
pub fn is_reserved(name: &str) -> bool {
    ["pi", "and", "or", "not", "if", "bare"].contains(&name)
}

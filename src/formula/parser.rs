//! Tokens to a syntax tree, by precedence climbing.

use std::ops::Range;

use super::fault::FormulaFault;
use super::function::{Function, near_function};
use super::lexer::{Placed, Token, tokens};
use super::tree::{Expression, Kind, Node, Operator};

/// How long and how deep a formula may be.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limits {
    pub(super) bytes: usize,
    pub(super) depth: usize,
}

/// An author's formula.
const AUTHORED: Limits = Limits { bytes: 2_000, depth: 64 };
/// A formula after names were replaced by others.
pub(super) const AFTER_SUBSTITUTION: Limits = Limits { bytes: 64_000, depth: 160 };

/// Reads a formula.
///
/// # Errors
/// [`FormulaFault`] with the bytes that are meant: anything that is no formula,
/// more than 2,000 bytes, more than 64 levels.
///
/// ```
/// use gearside::formula::parse;
/// assert!(parse("(1 - 10^-tint) / (1 - 10^-solid)").is_ok());
/// assert_eq!(parse("2 * (a + b").unwrap_err().message, "a bracket is never closed");
/// ```
pub fn parse(text: &str) -> Result<Expression, FormulaFault> {
    parse_within(text, AUTHORED)
}

pub(super) fn parse_within(text: &str, limits: Limits) -> Result<Expression, FormulaFault> {
    if text.len() > limits.bytes {
        let message = format!("the formula is longer than {} bytes", limits.bytes);
        return Err(FormulaFault::new(text, &(0..0), message, "split it into several steps"));
    }
    let mut parser = Parser { text, tokens: tokens(text)?, at: 0, open: 0, most: limits.depth };
    let root = parser.level(0)?;
    match parser.peek() {
        Token::End => Ok(Expression { text: text.to_owned(), root }),
        Token::Close => Err(parser.here("this bracket closes nothing", "take it out, or open one before it")),
        Token::Comma => Err(parser.here(
            "a comma stands outside a function's brackets",
            "write a decimal with a point, and arguments inside brackets",
        )),
        _ => Err(parser.here("an operator is missing here", "write * between two factors")),
    }
}

struct Parser<'a> {
    text: &'a str,
    tokens: Vec<Placed>,
    at: usize,
    /// Levels opened and not yet closed: bounds the recursion.
    open: usize,
    most: usize,
}

/// The precedence of an operator between two operands.
fn strength(operator: Operator) -> u8 {
    match operator {
        Operator::Or => 1,
        Operator::And => 2,
        Operator::Plus | Operator::Minus => 5,
        Operator::Times | Operator::Over => 6,
        Operator::Power => 8,
        _ => 4,
    }
}

const NOT: u8 = 3;
const NEGATIVE: u8 = 7;

impl Parser<'_> {
    fn peek(&self) -> Token {
        self.tokens[self.at].token
    }

    fn span(&self) -> Range<usize> {
        self.tokens[self.at].span.clone()
    }

    fn next(&mut self) -> Placed {
        let token = self.tokens[self.at].clone();
        self.at = (self.at + 1).min(self.tokens.len() - 1);
        token
    }

    fn here(&self, message: impl Into<String>, mend: impl Into<String>) -> FormulaFault {
        FormulaFault::new(self.text, &self.span(), message, mend)
    }

    fn node(&self, kind: Kind, span: Range<usize>) -> Result<Node, FormulaFault> {
        let mut node = Node { kind, span, depth: 1 };
        node.depth = 1 + node.children().iter().map(|child| child.depth).max().unwrap_or(0);
        if node.depth > self.most { Err(self.too_deep()) } else { Ok(node) }
    }

    fn too_deep(&self) -> FormulaFault {
        self.here(format!("the formula is nested deeper than {} levels", self.most), "split it into several steps")
    }

    /// An expression whose operators bind at least as strongly as `least`.
    fn level(&mut self, least: u8) -> Result<Node, FormulaFault> {
        self.open += 1;
        if self.open > self.most {
            return Err(self.too_deep());
        }
        let mut left = self.operand()?;
        while let Token::Operator(operator) = self.peek() {
            let own = strength(operator);
            if own < least {
                break;
            }
            let operator_span = self.next().span;
            // A power binds to the right, and takes a sign in its exponent.
            let right = self.level(if operator == Operator::Power { NEGATIVE } else { own + 1 })?;
            if operator.compares()
                && let Token::Operator(next) = self.peek()
                && next.compares()
            {
                return Err(self.here("two comparisons stand in a row", "join them with `and`"));
            }
            let span = left.span.start..right.span.end;
            left = self
                .node(Kind::Binary { operator, operator_span, left: Box::new(left), right: Box::new(right) }, span)?;
        }
        self.open -= 1;
        Ok(left)
    }

    fn operand(&mut self) -> Result<Node, FormulaFault> {
        let Placed { token, span } = self.tokens[self.at].clone();
        match token {
            Token::Number(value) => {
                self.next();
                self.node(Kind::Number { written: self.text[span.clone()].to_owned(), value }, span)
            }
            Token::Quoted => {
                self.next();
                self.node(Kind::Quantity(self.text[span.start + 1..span.end - 1].trim().to_owned()), span)
            }
            Token::Name => {
                self.next();
                if self.peek() == Token::Open { self.call(&span) } else { self.name(span) }
            }
            Token::Operator(Operator::Minus) => {
                self.next();
                let inner = self.level(NEGATIVE)?;
                let span = span.start..inner.span.end;
                self.node(Kind::Negative(Box::new(inner)), span)
            }
            Token::Operator(Operator::Plus) => {
                self.next();
                self.level(NEGATIVE)
            }
            Token::Not => {
                self.next();
                let inner = self.level(NOT)?;
                let span = span.start..inner.span.end;
                self.node(Kind::Not(Box::new(inner)), span)
            }
            Token::Open => {
                self.next();
                let mut inner = self.level(0)?;
                let end = self.close(&span)?;
                inner.span = span.start..end;
                Ok(inner)
            }
            Token::End if self.tokens.len() == 1 => {
                Err(self.here("the formula is empty", "write a formula, such as `volume * release`"))
            }
            Token::End => Err(self.here(
                "the formula ends where a value is expected",
                "finish it; if it was cut at a comma, put the whole formula in double quotes",
            )),
            Token::Close | Token::Comma | Token::Operator(_) => {
                Err(self.here("a value is missing here", "write a name, a number or a quantity in single quotes"))
            }
        }
    }

    fn name(&mut self, span: Range<usize>) -> Result<Node, FormulaFault> {
        let name = self.text[span.clone()].to_owned();
        self.node(if name == "pi" { Kind::Pi } else { Kind::Name(name) }, span)
    }

    /// The end of a closing bracket.
    fn close(&mut self, opened: &Range<usize>) -> Result<usize, FormulaFault> {
        match self.peek() {
            Token::Close => Ok(self.next().span.end),
            Token::Comma => Err(self.here(
                "a comma stands outside a function's brackets",
                "write a decimal with a point, and arguments inside brackets",
            )),
            Token::End => {
                let mend = "close it with `)`; if the formula was cut at a comma, put the whole formula in double quotes: in a one-line {…} a comma ends a value";
                Err(FormulaFault::new(self.text, opened, "a bracket is never closed", mend))
            }
            _ => Err(self.here("an operator is missing here", "write * between two factors")),
        }
    }

    fn call(&mut self, name_span: &Range<usize>) -> Result<Node, FormulaFault> {
        let name = self.text[name_span.clone()].to_owned();
        let open = self.next().span;
        let mut arguments = Vec::new();
        if self.peek() != Token::Close {
            arguments.push(self.level(0)?);
            while self.peek() == Token::Comma {
                self.next();
                arguments.push(self.level(0)?);
            }
        }
        let end = self.close(&open)?;
        let span = name_span.start..end;
        let fault = |message: String, mend: &str| Err(FormulaFault::new(self.text, &span, message, mend));
        match name.as_str() {
            "if" => match <[Node; 3]>::try_from(arguments) {
                Ok(parts) => self.node(Kind::If(Box::new(parts)), span),
                Err(_) => {
                    fault("`if` takes a condition and two values".to_owned(), "write if(condition, then, otherwise)")
                }
            },
            "bare" => self.bare(arguments, span),
            _ => {
                let Some(function) = Function::named(&name) else {
                    let mend = near_function(&name).map_or_else(
                        || "`gearside work` lists the calculations; a product is written with *".to_owned(),
                        |near| format!("did you mean `{near}`?"),
                    );
                    return Err(FormulaFault::new(
                        self.text,
                        name_span,
                        format!("there is no function `{name}`"),
                        mend,
                    ));
                };
                if let Some(message) = function.refuses(arguments.len()) {
                    return fault(message, "give it exactly these");
                }
                self.node(Kind::Call { function, arguments }, span)
            }
        }
    }

    fn bare(&self, arguments: Vec<Node>, span: Range<usize>) -> Result<Node, FormulaFault> {
        match <[Node; 2]>::try_from(arguments) {
            Ok([value, Node { kind: Kind::Quantity(unit), span: unit_span, .. }]) => {
                self.node(Kind::Bare { value: Box::new(value), unit, unit_span }, span)
            }
            _ => Err(FormulaFault::new(
                self.text,
                &span,
                "`bare` takes a value and a unit in single quotes",
                "write bare(volume, 'BCM/in²')",
            )),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn faults_name_what_is_wrong_and_point_at_it() {
        for (text, message, pointed) in [
            ("", "empty", ""),
            ("2 * (a + b", "never closed", "("),
            ("a b", "operator is missing", "b"),
            ("a + b)", "closes nothing", ")"),
            ("3,5 * a", "comma", ","),
            ("wet_film(volume", "never closed", "("),
            ("wett_film(a, b)", "no function `wett_film`", "wett_film"),
            ("wet_film(a)", "takes 2 arguments", "wet_film(a)"),
            ("a +", "ends where a value", ""),
            ("1 < a < 3", "in a row", "<"),
            ("bare(a)", "a unit in single quotes", "bare(a)"),
            ("if(a, b)", "a condition and two values", "if(a, b)"),
        ] {
            let fault = parse(text).expect_err(text);
            assert!(fault.message.contains(message), "{text}: {}", fault.message);
            assert_eq!(&text[fault.span.clone()], pointed, "{text}");
            assert!(!fault.mend.is_empty(), "{text}");
        }
    }

    #[test]
    fn a_formula_of_too_many_levels_is_refused_and_not_followed() {
        assert!(parse(&"(".repeat(1900)).is_err_and(|fault| fault.message.contains("deeper")));
        assert!(parse(&"-".repeat(1900)).is_err_and(|fault| fault.message.contains("deeper")));
        assert!(parse(&"a".repeat(2001)).is_err_and(|fault| fault.message.contains("longer")));
        assert!(parse(&vec!["1"; 60].join("+")).is_ok());
    }

    proptest! {
        #[test]
        fn no_text_panics(text in "[-+*/^(),.'a-z0-9 <=>°µ²×]{0,120}") {
            let _ = parse(&text);
        }

        #[test]
        fn no_wild_text_panics(text in "\\PC{0,80}") {
            let _ = parse(&text);
        }
    }
}

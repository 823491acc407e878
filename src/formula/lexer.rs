//! A formula's text, cut into tokens.

use std::ops::Range;

use super::fault::FormulaFault;
use super::tree::Operator;

/// One token.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Token {
    Number(f64),
    /// A name, dots included: `roll.volume`.
    Name,
    /// What stands between single quotes; the span holds the quotes too.
    Quoted,
    Operator(Operator),
    Not,
    Open,
    Close,
    Comma,
    /// Behind the last byte.
    End,
}

/// A token and the bytes it takes.
#[derive(Debug, Clone)]
pub(super) struct Placed {
    pub(super) token: Token,
    pub(super) span: Range<usize>,
}

/// Signs that stand for an operator, longest first; typographic ones count as the plain ones.
const SIGNS: &[(&str, Operator)] = &[
    ("<=", Operator::AtMost),
    (">=", Operator::AtLeast),
    ("==", Operator::Equal),
    ("!=", Operator::Unequal),
    ("<", Operator::Less),
    (">", Operator::Greater),
    ("≤", Operator::AtMost),
    ("≥", Operator::AtLeast),
    ("≠", Operator::Unequal),
    ("+", Operator::Plus),
    ("-", Operator::Minus),
    ("−", Operator::Minus),
    ("*", Operator::Times),
    ("×", Operator::Times),
    ("·", Operator::Times),
    ("⋅", Operator::Times),
    ("/", Operator::Over),
    ("÷", Operator::Over),
    ("^", Operator::Power),
];

/// Signs that people bring along from elsewhere, and what to write instead.
const STRANGERS: &[(&str, &str)] = &[
    ("=<", "write `<=`"),
    ("=>", "write `>=`"),
    ("=", "a comparison is written `==`"),
    ("**", "a power is written `^`"),
    ("&&", "write `and`"),
    ("&", "write `and`"),
    ("||", "write `or`"),
    ("|", "write `or`, or `abs(…)` for a size"),
    ("!", "write `not`"),
    ("%", "a share is a quantity in single quotes: '45 %'"),
    ("{", "names stand in a formula without braces; group with round brackets ( )"),
    ("}", "names stand in a formula without braces; group with round brackets ( )"),
    ("[", "use round brackets ( )"),
    ("]", "use round brackets ( )"),
    ("\"", "put quantities in single quotes: '25.4 mm'"),
    ("‘", "put quantities in straight single quotes: '25.4 mm'"),
    ("’", "put quantities in straight single quotes: '25.4 mm'"),
    ("“", "put quantities in straight single quotes: '25.4 mm'"),
    ("”", "put quantities in straight single quotes: '25.4 mm'"),
    ("°", "an angle or a temperature is a quantity in single quotes: '30 °'"),
    ("²", "a power is written `^2`"),
    ("³", "a power is written `^3`"),
    ("√", "a root is written `sqrt(…)`"),
    ("π", "write `pi`"),
    (";", "arguments are parted by commas"),
    (":", "a choice is written `if(condition, then, otherwise)`"),
    ("?", "a choice is written `if(condition, then, otherwise)`"),
    (".", "a number with a point has digits behind it, as in 0.5"),
];

/// Cuts a formula into tokens; the last one is [`Token::End`].
pub(super) fn tokens(text: &str) -> Result<Vec<Placed>, FormulaFault> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(next) = text[at..].chars().next() {
        if next.is_whitespace() {
            at += next.len_utf8();
            continue;
        }
        let (token, length) = token_at(text, at)?;
        found.push(Placed { token, span: at..at + length });
        at += length;
    }
    found.push(Placed { token: Token::End, span: text.len()..text.len() });
    Ok(found)
}

/// The token that starts at byte `at`, and its length in bytes.
fn token_at(text: &str, at: usize) -> Result<(Token, usize), FormulaFault> {
    let rest = &text[at..];
    let first = rest.chars().next().unwrap_or(' ');
    if let Some(length) = number_length(rest) {
        return number(text, at, length);
    }
    if first.is_alphabetic() && first != 'π' || first == '_' {
        let length = name_length(rest);
        let token = match &rest[..length] {
            "and" => Token::Operator(Operator::And),
            "or" => Token::Operator(Operator::Or),
            "not" => Token::Not,
            _ => Token::Name,
        };
        return Ok((token, length));
    }
    match first {
        '(' => return Ok((Token::Open, 1)),
        ')' => return Ok((Token::Close, 1)),
        ',' => return Ok((Token::Comma, 1)),
        '\'' => return quoted(text, at),
        _ => {}
    }
    let stranger = STRANGERS.iter().find(|(sign, _)| rest.starts_with(sign));
    let sign = SIGNS.iter().find(|(sign, _)| rest.starts_with(sign));
    match (sign, stranger) {
        // `**` starts with `*`, `==` with `=`: the longer one is meant.
        (Some((sign, operator)), stranger) if stranger.is_none_or(|(other, _)| other.len() < sign.len()) => {
            Ok((Token::Operator(*operator), sign.len()))
        }
        (_, Some((sign, mend))) => {
            Err(FormulaFault::new(text, &(at..at + sign.len()), format!("`{sign}` is not used in formulas"), *mend))
        }
        _ => Err(FormulaFault::new(
            text,
            &(at..at + first.len_utf8()),
            format!("`{}` is not used in formulas", first.escape_debug()),
            "a formula holds names, numbers, quantities in single quotes, brackets and + - * / ^ < <= > >= == !=",
        )),
    }
}

/// How many bytes of `rest` are a number: `12`, `0.5`, `.5`, `1e-3`.
fn number_length(rest: &str) -> Option<usize> {
    let bytes = rest.as_bytes();
    let digits = |from: usize| bytes[from..].iter().take_while(|b| b.is_ascii_digit()).count();
    let mut end = digits(0);
    if bytes.get(end) == Some(&b'.') {
        let places = digits(end + 1);
        if places > 0 {
            end += 1 + places;
        }
    }
    if end == 0 {
        return None;
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
        let exponent = if end + 1 + sign < bytes.len() { digits(end + 1 + sign) } else { 0 };
        if exponent > 0 {
            end += 1 + sign + exponent;
        }
    }
    Some(end)
}

fn number(text: &str, at: usize, length: usize) -> Result<(Token, usize), FormulaFault> {
    let written = &text[at..at + length];
    match written.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok((Token::Number(value), length)),
        _ => Err(FormulaFault::new(
            text,
            &(at..at + length),
            format!("the number `{written}` is too large"),
            "numbers go up to about 1.8e308",
        )),
    }
}

/// How many bytes of `rest` are a name; a dot belongs to it only with a letter behind.
fn name_length(rest: &str) -> usize {
    let mut characters = rest.char_indices().peekable();
    while let Some((at, c)) = characters.next() {
        let in_name = match c {
            '.' => characters.peek().is_some_and(|(_, next)| next.is_alphabetic() || *next == '_'),
            _ => c.is_alphabetic() || c.is_ascii_digit() || c == '_',
        };
        if !in_name {
            return at;
        }
    }
    rest.len()
}

fn quoted(text: &str, at: usize) -> Result<(Token, usize), FormulaFault> {
    match text[at + 1..].find('\'') {
        Some(length) => Ok((Token::Quoted, length + 2)),
        None => Err(FormulaFault::new(
            text,
            &(at..at + 1),
            "the quote opened here is never closed",
            "put a `'` behind the unit, as in '25.4 mm'",
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_falls_into_the_expected_tokens() {
        for (text, want) in [
            ("roll.volume*0.5", vec!["roll.volume", "*", "0.5"]),
            (".5e-3-x_1", vec![".5e-3", "-", "x_1"]),
            ("2e", vec!["2", "e"]),
            ("10^-D_t", vec!["10", "^", "-", "D_t"]),
            ("a≤'3.8 BCM/in²'", vec!["a", "≤", "'3.8 BCM/in²'"]),
            ("a==b", vec!["a", "==", "b"]),
            ("f( x ,\n1 )", vec!["f", "(", "x", ",", "1", ")"]),
        ] {
            let found: Vec<&str> =
                tokens(text).map(|list| list.iter().map(|t| &text[t.span.clone()]).collect()).unwrap_or_default();
            assert_eq!(found[..found.len().saturating_sub(1)], want[..], "{text}");
        }
    }

    #[test]
    fn strangers_are_refused_with_what_to_write_instead() {
        for (text, span, mend) in [
            ("a = b", 2..3, "`==`"),
            ("a ** 2", 2..4, "`^`"),
            ("a && b", 2..4, "`and`"),
            ("45 %", 3..4, "'45 %'"),
            ("{{ a }}", 0..1, "without braces"),
            ("\"3 mm\"", 0..1, "single quotes"),
            ("h²", 1..3, "`^2`"),
            ("2 * π", 4..6, "`pi`"),
            ("5. + 1", 1..2, "digits behind"),
            ("a $ b", 2..3, "a formula holds"),
            ("1e999", 0..5, "1.8e308"),
            ("2 + '3 mm", 4..5, "`'` behind the unit"),
        ] {
            let Err(fault) = tokens(text) else { panic!("{text} is cut without a fault") };
            assert_eq!(fault.span, span, "{text}: {fault}");
            assert!(fault.mend.contains(mend), "{text}: {fault}");
        }
    }
}

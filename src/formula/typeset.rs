//! Formulas as people write them: `MathML` Core for pages, one line for the terminal.

use std::collections::BTreeMap;

use super::function::Function;
use super::kinds::Symbols;
use super::parser::parse;
use super::tree::{Expression, Kind, Node, Operator};

/// A stretch of `MathML`, or the place of a name's printed value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Piece {
    /// `MathML` as it is.
    Text(String),
    /// The value of this name goes here.
    Hole(String),
}

/// Greek letters that symbols may spell out.
const GREEK: &[(&str, &str)] = &[
    ("alpha", "α"),
    ("beta", "β"),
    ("gamma", "γ"),
    ("delta", "δ"),
    ("Delta", "Δ"),
    ("epsilon", "ε"),
    ("eta", "η"),
    ("theta", "θ"),
    ("lambda", "λ"),
    ("mu", "µ"),
    ("nu", "ν"),
    ("pi", "π"),
    ("rho", "ρ"),
    ("sigma", "σ"),
    ("tau", "τ"),
    ("phi", "φ"),
    ("omega", "ω"),
];

/// The formula as `MathML` Core, for the inside of a `<math>` element.
#[must_use]
pub fn mathml(expression: &Expression, symbols: &dyn Symbols) -> String {
    let name =
        |name: &str| Piece::Text(symbols.symbol(name).map_or_else(|| words(name), |symbol| symbol_mathml(&symbol)));
    flat(&Marker { name: &name }.row(expression))
}

/// The same with a hole in the place of each name.
#[must_use]
pub fn mathml_with_holes(expression: &Expression) -> Vec<Piece> {
    Marker { name: &|name| Piece::Hole(name.to_owned()) }.row(expression)
}

/// The formula on one line.
#[must_use]
pub fn plain_text(expression: &Expression, symbols: &dyn Symbols) -> String {
    plain_text_with(expression, &|name| {
        symbols.symbol(name).map_or_else(|| name.replace('_', " "), |symbol| symbol_plain(&symbol))
    })
}

/// The formula on one line, with `value` in the place of each name.
#[must_use]
pub fn plain_text_with(expression: &Expression, value: &dyn Fn(&str) -> String) -> String {
    plain(&expanded(expression).root, value, 0)
}

/// A symbol such as `h_0` or `rho` as `MathML`.
#[must_use]
pub fn symbol_mathml(symbol: &str) -> String {
    let (base, index) = split_symbol(symbol);
    let base = format!("<mi>{}</mi>", escape(&base));
    match index {
        None => base,
        Some(index) if index.chars().all(|c| c.is_ascii_digit()) => format!("<msub>{base}<mn>{index}</mn></msub>"),
        Some(index) => format!("<msub>{base}<mi mathvariant=\"normal\">{}</mi></msub>", escape(&index)),
    }
}

/// A symbol for the terminal: `h_0`, `ρ`.
#[must_use]
pub fn symbol_plain(symbol: &str) -> String {
    let (base, index) = split_symbol(symbol);
    index.map_or_else(|| base.clone(), |index| format!("{base}_{index}"))
}

fn split_symbol(symbol: &str) -> (String, Option<String>) {
    let greek = |word: &str| {
        GREEK.iter().find(|(name, _)| *name == word).map_or_else(|| word.to_owned(), |(_, letter)| (*letter).to_owned())
    };
    match symbol.split_once('_') {
        Some((base, index)) => (greek(base), Some(greek(index))),
        None => (greek(symbol), None),
    }
}

/// The formula with every catalogue call that has an expansion written out.
fn expanded(expression: &Expression) -> Expression {
    let mut current = expression.clone();
    // Expansions may call the catalogue again; they never go deep.
    for _ in 0..4 {
        let Some(next) = expanded_once(&current) else { break };
        current = next;
    }
    current
}

/// Writes out the first call that has an expansion.
fn expanded_once(expression: &Expression) -> Option<Expression> {
    let mut found: Option<(std::ops::Range<usize>, String)> = None;
    expression.root.visit(&mut |node| {
        if found.is_none()
            && let Kind::Call { function: Function::Catalogue(calculation), arguments } = &node.kind
            && let Some(text) = calculation.expansion
            && let Ok(expansion) = parse(text)
        {
            let part = |argument: &Node| parse(&expression.text[argument.span.clone()]).ok();
            let map: Option<BTreeMap<String, Expression>> = calculation
                .parameters
                .iter()
                .zip(arguments)
                .map(|(parameter, argument)| Some((parameter.name.to_owned(), part(argument)?)))
                .collect();
            found = map.map(|map| (node.span.clone(), format!("({})", expansion.substitute(&map).text())));
        }
    });
    let (span, text) = found?;
    parse(&format!("{}{text}{}", &expression.text[..span.start], &expression.text[span.end..])).ok()
}

/// How strongly a part holds together: brackets are needed around weaker parts.
fn strength(node: &Node) -> u8 {
    match &node.kind {
        Kind::Binary { operator, .. } => match operator {
            Operator::Or => 1,
            Operator::And => 2,
            Operator::Plus | Operator::Minus => 5,
            Operator::Times | Operator::Over => 6,
            Operator::Power => 8,
            _ => 4,
        },
        Kind::If(_) => 0,
        Kind::Not(_) => 3,
        Kind::Negative(_) => 6,
        Kind::Bare { value, .. } => strength(value),
        _ => 9,
    }
}

fn sign(operator: Operator) -> &'static str {
    match operator {
        Operator::Or => "or",
        Operator::And => "and",
        Operator::Less => "<",
        Operator::AtMost => "≤",
        Operator::Greater => ">",
        Operator::AtLeast => "≥",
        Operator::Equal => "=",
        Operator::Unequal => "≠",
        Operator::Plus => "+",
        Operator::Minus => "−",
        Operator::Times => "×",
        Operator::Over => "/",
        Operator::Power => "^",
    }
}

/// A quantity literal as number and unit, with a space that does not break.
fn quantity_text(text: &str) -> String {
    text.replacen(' ', "\u{a0}", 1)
}

fn plain(node: &Node, value: &dyn Fn(&str) -> String, least: u8) -> String {
    let own = strength(node);
    let text = match &node.kind {
        Kind::Number { written, .. } => written.clone(),
        Kind::Pi => "π".to_owned(),
        Kind::Name(name) => value(name),
        Kind::Quantity(text) => quantity_text(text),
        Kind::Negative(inner) => format!("−{}", plain(inner, value, 7)),
        Kind::Not(inner) => format!("not {}", plain(inner, value, 4)),
        Kind::Binary { operator: Operator::Power, left, right, .. } => {
            format!("{}^{}", plain(left, value, 9), plain(right, value, 9))
        }
        Kind::Binary { operator, left, right, .. } => {
            format!("{} {} {}", plain(left, value, own), sign(*operator), plain(right, value, own + 1))
        }
        Kind::If(parts) => format!(
            "{} if {}, otherwise {}",
            plain(&parts[1], value, 1),
            plain(&parts[0], value, 1),
            plain(&parts[2], value, 1)
        ),
        Kind::Bare { value: inner, .. } => plain(inner, value, least),
        Kind::Call { function, arguments } => {
            let list: Vec<String> = arguments.iter().map(|argument| plain(argument, value, 0)).collect();
            format!("{}({})", function.name().replace('_', " "), list.join(", "))
        }
        Kind::TooLarge => "…".to_owned(),
    };
    if own < least && !matches!(node.kind, Kind::Bare { .. }) { format!("({text})") } else { text }
}

/// Writes `MathML` with what stands for a name.
struct Marker<'a> {
    name: &'a dyn Fn(&str) -> Piece,
}

impl Marker<'_> {
    fn row(&self, expression: &Expression) -> Vec<Piece> {
        let mut out = vec![text("<mrow>")];
        self.node(&expanded(expression).root, 0, &mut out);
        out.push(text("</mrow>"));
        joined(out)
    }

    fn node(&self, node: &Node, least: u8, out: &mut Vec<Piece>) {
        // A fraction bar and a root hold what is under them together.
        let fraction = matches!(node.kind, Kind::Binary { operator: Operator::Over, .. });
        let bracketed = strength(node) < least && !matches!(node.kind, Kind::Bare { .. }) && (!fraction || least > 8);
        if bracketed {
            out.push(text("<mrow><mo>(</mo>"));
        }
        match &node.kind {
            Kind::Number { written, .. } => out.push(Piece::Text(format!("<mn>{}</mn>", escape(written)))),
            Kind::Pi => out.push(text("<mi>π</mi>")),
            Kind::Name(name) => out.push((self.name)(name)),
            Kind::Quantity(quantity) => {
                out.push(Piece::Text(format!("<mtext>{}</mtext>", escape(&quantity_text(quantity)))));
            }
            Kind::Negative(inner) => {
                out.push(text("<mrow><mo form=\"prefix\">−</mo>"));
                self.node(inner, 7, out);
                out.push(text("</mrow>"));
            }
            Kind::Not(inner) => {
                out.push(text("<mrow><mtext>not </mtext>"));
                self.node(inner, 4, out);
                out.push(text("</mrow>"));
            }
            Kind::Binary { operator, left, right, .. } => self.binary(node, *operator, left, right, out),
            Kind::If(parts) => {
                for (before, part) in [
                    ("", &parts[1]),
                    ("<mtext>&#xa0;if&#xa0;</mtext>", &parts[0]),
                    ("<mtext>, otherwise&#xa0;</mtext>", &parts[2]),
                ] {
                    out.push(text(before));
                    self.node(part, 1, out);
                }
            }
            Kind::Bare { value, .. } => self.node(value, least, out),
            Kind::Call { function, arguments } => self.call(*function, arguments, out),
            Kind::TooLarge => out.push(text("<mtext>…</mtext>")),
        }
        if bracketed {
            out.push(text("<mo>)</mo></mrow>"));
        }
    }

    fn binary(&self, node: &Node, operator: Operator, left: &Node, right: &Node, out: &mut Vec<Piece>) {
        let own = strength(node);
        match operator {
            Operator::Over => {
                out.push(text("<mfrac><mrow>"));
                self.node(left, 0, out);
                out.push(text("</mrow><mrow>"));
                self.node(right, 0, out);
                out.push(text("</mrow></mfrac>"));
            }
            Operator::Power => {
                out.push(text("<msup><mrow>"));
                self.node(left, 9, out);
                out.push(text("</mrow><mrow>"));
                self.node(right, 0, out);
                out.push(text("</mrow></msup>"));
            }
            _ => {
                out.push(text("<mrow>"));
                self.node(left, own, out);
                out.push(Piece::Text(format!("<mo>{}</mo>", escape(sign(operator)))));
                self.node(right, own + 1, out);
                out.push(text("</mrow>"));
            }
        }
    }

    fn call(&self, function: Function, arguments: &[Node], out: &mut Vec<Piece>) {
        let name = function.name();
        if name == "sqrt" {
            out.push(text("<msqrt><mrow>"));
            self.node(&arguments[0], 0, out);
            out.push(text("</mrow></msqrt>"));
            return;
        }
        out.push(Piece::Text(format!("<mrow>{}<mo>(</mo>", words(name))));
        for (index, argument) in arguments.iter().enumerate() {
            if index > 0 {
                out.push(text("<mo>,</mo>"));
            }
            self.node(argument, 0, out);
        }
        out.push(text("<mo>)</mo></mrow>"));
    }
}

fn text(text: &str) -> Piece {
    Piece::Text(text.to_owned())
}

/// A name in upright letters, underscores as spaces.
fn words(name: &str) -> String {
    format!("<mtext>{}</mtext>", escape(&name.replace('_', " ")))
}

/// Neighbouring texts made one.
fn joined(pieces: Vec<Piece>) -> Vec<Piece> {
    let mut out: Vec<Piece> = Vec::new();
    for piece in pieces {
        match (out.last_mut(), piece) {
            (Some(Piece::Text(before)), Piece::Text(after)) => before.push_str(&after),
            (_, piece) => out.push(piece),
        }
    }
    out
}

fn flat(pieces: &[Piece]) -> String {
    pieces
        .iter()
        .map(|piece| match piece {
            Piece::Text(text) => text.clone(),
            Piece::Hole(name) => words(name),
        })
        .collect()
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    struct None_;
    impl Symbols for None_ {
        fn symbol(&self, name: &str) -> Option<String> {
            matches!(name, "h_0" | "rho").then(|| name.to_owned())
        }
    }

    #[test]
    fn one_line_has_the_brackets_it_needs_and_no_others() {
        for (formula, want) in [
            ("(1 - 10^-a) / (1 - 10^-b)", "(1 − 10^(−a)) / (1 − 10^(−b))"),
            ("a * (b * c)", "a × (b × c)"),
            ("(a * b) * c", "a × b × c"),
            ("a - (b - c)", "a − (b − c)"),
            ("-(a + b)", "−(a + b)"),
            ("'25.4 mm' * rho", "25.4\u{a0}mm × ρ"),
            ("if(a > 2, b, c)", "b if a > 2, otherwise c"),
            ("(a + b)^2", "(a + b)^2"),
            ("wet_film(v, p * q)", "v × (p × q)"),
        ] {
            let parsed = parse(formula).expect(formula);
            assert_eq!(plain_text(&parsed, &None_), want, "{formula}");
        }
    }

    #[test]
    fn mathml_puts_a_fraction_bar_and_a_hole_for_each_name() {
        let parsed = parse("h_0 / (2 * rho)").expect("a formula");
        assert_eq!(
            mathml(&parsed, &None_),
            "<mrow><mfrac><mrow><msub><mi>h</mi><mn>0</mn></msub></mrow><mrow><mrow><mn>2</mn><mo>×</mo><mi>ρ</mi></mrow></mrow></mfrac></mrow>"
        );
        let holes: Vec<Piece> =
            mathml_with_holes(&parsed).into_iter().filter(|piece| matches!(piece, Piece::Hole(_))).collect();
        assert_eq!(holes, [Piece::Hole("h_0".to_owned()), Piece::Hole("rho".to_owned())]);
    }
}

//! Symbols: a letter, perhaps spelled out in Greek, perhaps with an index.

/// Greek letters by name; with a capital in front, the capital letter.
const GREEK: &[(&str, char, char)] = &[
    ("alpha", 'α', 'Α'),
    ("beta", 'β', 'Β'),
    ("gamma", 'γ', 'Γ'),
    ("delta", 'δ', 'Δ'),
    ("epsilon", 'ε', 'Ε'),
    ("zeta", 'ζ', 'Ζ'),
    ("eta", 'η', 'Η'),
    ("theta", 'θ', 'Θ'),
    ("kappa", 'κ', 'Κ'),
    ("lambda", 'λ', 'Λ'),
    ("mu", 'μ', 'Μ'),
    ("nu", 'ν', 'Ν'),
    ("xi", 'ξ', 'Ξ'),
    ("pi", 'π', 'Π'),
    ("rho", 'ρ', 'Ρ'),
    ("sigma", 'σ', 'Σ'),
    ("tau", 'τ', 'Τ'),
    ("phi", 'φ', 'Φ'),
    ("chi", 'χ', 'Χ'),
    ("psi", 'ψ', 'Ψ'),
    ("omega", 'ω', 'Ω'),
];

/// A symbol as `MathML`: what stands behind its first `_` is an index; single
/// letters slant, several stand upright; Greek letters may be spelled out.
///
/// ```
/// use gearside::formula::symbol_mathml;
/// assert_eq!(symbol_mathml("h_0"), "<msub><mi>h</mi><mn>0</mn></msub>");
/// assert_eq!(symbol_mathml("rho"), "<mi>ρ</mi>");
/// ```
#[must_use]
pub fn symbol_mathml(symbol: &str) -> String {
    let (base, index) = parts(symbol);
    match index {
        Some(index) => format!("<msub>{}{}</msub>", token(&base), token(&index)),
        None => token(&base),
    }
}

/// A symbol as text: `h_0`, `ρ`, `Δ_s`.
///
/// ```
/// use gearside::formula::symbol_plain;
/// assert_eq!(symbol_plain("Delta_s"), "Δ_s");
/// ```
#[must_use]
pub fn symbol_plain(symbol: &str) -> String {
    let (base, index) = parts(symbol);
    match index {
        Some(index) => format!("{base}_{index}"),
        None => base,
    }
}

/// Base and index; further `_` part the index with commas.
fn parts(symbol: &str) -> (String, Option<String>) {
    match symbol.split_once('_') {
        Some((base, index)) if !base.is_empty() && !index.is_empty() => {
            (letter(base), Some(index.split('_').map(letter).collect::<Vec<_>>().join(",")))
        }
        _ => (letter(symbol), None),
    }
}

fn letter(word: &str) -> String {
    let small = word.to_lowercase();
    let capital = word.chars().next().is_some_and(char::is_uppercase);
    match GREEK.iter().find(|(name, ..)| *name == small && word.len() == small.len() && word[1..] == small[1..]) {
        Some((_, _, large)) if capital => large.to_string(),
        Some((_, letter, _)) => letter.to_string(),
        None => word.to_owned(),
    }
}

fn token(text: &str) -> String {
    let name = if !text.is_empty() && text.chars().all(|c| c.is_ascii_digit()) { "mn" } else { "mi" };
    format!("<{name}>{}</{name}>", escape(text))
}

/// Text for the inside of an element or a quoted attribute.
pub(super) fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn symbols_are_a_letter_with_an_index() {
        for (symbol, marks, text) in [
            ("h", "<mi>h</mi>", "h"),
            ("h_0", "<msub><mi>h</mi><mn>0</mn></msub>", "h_0"),
            ("D_s", "<msub><mi>D</mi><mi>s</mi></msub>", "D_s"),
            ("A_dry", "<msub><mi>A</mi><mi>dry</mi></msub>", "A_dry"),
            ("PD", "<mi>PD</mi>", "PD"),
            ("rho", "<mi>ρ</mi>", "ρ"),
            ("delta", "<mi>δ</mi>", "δ"),
            ("Delta_E", "<msub><mi>Δ</mi><mi>E</mi></msub>", "Δ_E"),
            ("x_1_2", "<msub><mi>x</mi><mi>1,2</mi></msub>", "x_1,2"),
            ("_x", "<mi>_x</mi>", "_x"),
            ("a<b", "<mi>a&lt;b</mi>", "a<b"),
            ("", "<mi></mi>", ""),
            ("ſigma", "<mi>ſigma</mi>", "ſigma"),
        ] {
            assert_eq!(symbol_mathml(symbol), marks, "{symbol}");
            assert_eq!(symbol_plain(symbol), text, "{symbol}");
        }
    }
}

//! Mathematics where no mathematics can be shown: the terminal, a label.

/// Commands with a sign of their own.
const SIGNS: &[(&str, &str)] = &[
    ("Delta", "Δ"),
    ("alpha", "α"),
    ("beta", "β"),
    ("rho", "ρ"),
    ("theta", "θ"),
    ("nu", "ν"),
    ("pi", "π"),
    ("mu", "µ"),
    ("sigma", "σ"),
    ("cdot", "·"),
    ("times", "×"),
    ("approx", "≈"),
    ("leq", "≤"),
    ("le", "≤"),
    ("geq", "≥"),
    ("ge", "≥"),
    ("pm", "±"),
    ("circ", "°"),
    ("quad", " "),
    ("log", "log"),
    ("ln", "ln"),
    ("sqrt", "√"),
];

/// LaTeX mathematics as a person would type it in a line: `\frac{a}{b}` as
/// `(a)/(b)`, signs as signs, braces and spacing gone.
pub(super) fn plain(tex: &str) -> String {
    let mut out = String::new();
    let mut rest = tex;
    while let Some(first) = rest.chars().next() {
        rest = &rest[first.len_utf8()..];
        match first {
            '\\' => rest = command(rest, &mut out),
            '{' | '}' => {}
            // An asterisk raised, as in L*, stands as it is.
            '^' if rest.starts_with('*') => {}
            '^' if rest.starts_with("\\circ") => {}
            '-' => out.push('−'),
            other => out.push(other),
        }
    }
    out
}

/// A command behind its backslash; gives what follows it.
fn command<'a>(rest: &'a str, out: &mut String) -> &'a str {
    let length = rest.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(rest.len());
    let (name, behind) = rest.split_at(length);
    match name {
        // `\,` and `\;` are spaces, `\%` is a percent sign.
        "" => {
            let sign = behind.chars().next();
            match sign {
                Some(',' | ';' | ':' | '!' | ' ') => out.push(' '),
                Some(sign) => out.push(sign),
                None => {}
            }
            &behind[sign.map_or(0, char::len_utf8)..]
        }
        "frac" | "tfrac" | "dfrac" => {
            let (above, behind) = group(behind);
            let (below, behind) = group(behind);
            out.extend(["(", &plain(above), ")/(", &plain(below), ")"]);
            behind
        }
        "text" | "mathrm" | "left" | "right" => behind,
        _ => {
            out.push_str(SIGNS.iter().find(|(known, _)| *known == name).map_or(name, |(_, sign)| sign));
            // The space that ends a command is none of the text's.
            behind.strip_prefix(' ').unwrap_or(behind)
        }
    }
}

/// What stands in the braces that come next, and what follows them.
fn group(text: &str) -> (&str, &str) {
    let text = text.trim_start();
    if !text.starts_with('{') {
        let end = text.chars().next().map_or(0, char::len_utf8);
        return text.split_at(end);
    }
    let mut depth = 0_usize;
    for (at, sign) in text.char_indices() {
        match sign {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return (&text[1..at], &text[at + 1..]);
        }
    }
    (&text[1..], "")
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn mathematics_is_written_as_a_person_types_it() {
        for (tex, want) in [
            ("L^*", "L*"),
            ("\\Delta C_h", "ΔC_h"),
            ("\\Delta E^*_{ab}", "ΔE*_ab"),
            ("1 - k\\,(L_p - L)/(L_p - L_c)", "1 − k (L_p − L)/(L_p − L_c)"),
            ("\\frac{1-10^{-D_t}}{1-10^{-D_s}}", "(1−10^−D_t)/(1−10^−D_s)"),
            ("2\\pi(t-b)", "2π(t−b)"),
            ("h_{\\text{wet}} = V \\cdot f_p", "h_wet = V ·f_p"),
            ("30^\\circ", "30°"),
            ("\\frac12", "(1)/(2)"),
            ("\\unknown", "unknown"),
            ("50\\,\\%", "50 %"),
        ] {
            assert_eq!(plain(tex), want, "{tex}");
        }
    }

    proptest! {
        #[test]
        fn any_text_is_written_somehow(tex in "[\\\\{}a-z^_* µ]{0,40}") {
            let _ = plain(&tex);
        }
    }
}

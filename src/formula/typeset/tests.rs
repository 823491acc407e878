//! Formulas as they are shown.

use std::collections::BTreeMap;

use super::super::{Expression, parse};
use super::{Piece, mathml, mathml_with_holes, plain_text, plain_text_with};

fn read(text: &str) -> Expression {
    parse(text).unwrap_or_else(|fault| panic!("{text}: {fault}"))
}

fn symbols() -> BTreeMap<String, String> {
    [("volume", "V"), ("release", "T"), ("density", "rho"), ("film", "h_0"), ("t", "D_t"), ("s", "D_s")]
        .map(|(name, symbol)| (name.to_owned(), symbol.to_owned()))
        .into()
}

#[test]
fn one_line_has_the_brackets_it_needs_and_no_others() {
    for (text, want) in [
        ("(1 - 10^-t) / (1 - 10^-s)", "(1 − 10^(−D_t)) / (1 − 10^(−D_s))"),
        ("wet_film(volume, release)", "V × T"),
        ("wet_film(volume, x + y) * density", "V × (x + y) × ρ"),
        ("2 * wet_film(volume, release)", "2 × (V × T)"),
        ("((a * b)) * c + (d)", "a × b × c + d"),
        ("a * (b * c)", "a × (b × c)"),
        ("a / (b / c)", "a / (b / c)"),
        ("a - (b - c)", "a − (b − c)"),
        ("a - (b + c) * d", "a − (b + c) × d"),
        ("-(a + b)", "−(a + b)"),
        ("-a * b", "−a × b"),
        ("a * -b", "a × (−b)"),
        ("a + -b * c", "a + (−b × c)"),
        ("a - -b", "a − (−b)"),
        ("(-a)^2", "(−a)^2"),
        ("-a^2", "−a^2"),
        ("(a^b)^c", "(a^b)^c"),
        ("a^b^c", "a^(b^c)"),
        ("(a + b)^0.5", "(a + b)^0.5"),
        ("sqrt(a + b)^2", "sqrt(a + b)^2"),
        ("a > -2", "a > −2"),
        ("a >= 2 and not (b != 3 or c == d)", "a ≥ 2 and not (b ≠ 3 or c = d)"),
        ("if(a > 2, b, c)", "b if a > 2, otherwise c"),
        ("2 * if(a > 2, b, c)", "2 × (b if a > 2, otherwise c)"),
        ("'25.4 mm' * 2", "25.4\u{a0}mm × 2"),
        ("a - '-.5 mm'", "a − (−0.5\u{a0}mm)"),
        ("'3'^2 * '2 mm'^2", "(3)^2 × (2\u{a0}mm)^2"),
        ("1.5e-3 * .5", "1.5 × 10^(−3) × 0.5"),
        ("a / 1e6", "a / (1 × 10^6)"),
        ("pi * log10(a)", "π × log10(a)"),
        ("abs(a - b) + how_many(readings)", "|a − b| + how many(readings)"),
        ("min(a, if(b > 1, b, c))", "min(a, (b if b > 1, otherwise c))"),
        ("bare(volume, 'BCM/in²') * '1 µm'", "(V in BCM/in², as a plain number) × 1\u{a0}µm"),
        ("roll.volume * flat_film", "roll volume × flat film"),
    ] {
        assert_eq!(plain_text(&read(text), &symbols()), want, "{text}");
    }
}

#[test]
fn one_line_takes_values_in_the_place_of_names() {
    let value = |name: &str| match name {
        "film" => "8.37\u{a0}µm".to_owned(),
        "x" => "−3".to_owned(),
        _ => "0.45".to_owned(),
    };
    for (text, want) in [
        ("film * share", "8.37\u{a0}µm × 0.45"),
        ("film^2 * share^2", "(8.37\u{a0}µm)^2 × 0.45^2"),
        ("x^2", "(−3)^2"),
        ("wet_film(film, share)", "8.37\u{a0}µm × 0.45"),
        ("10^-share", "10^(−0.45)"),
    ] {
        assert_eq!(plain_text_with(&read(text), &value), want, "{text}");
    }
}

#[test]
fn mathml_has_fractions_powers_and_roots() {
    for (text, want) in [
        (
            "film / 2",
            "<mrow><mfrac><mrow><msub><mi>h</mi><mn>0</mn></msub></mrow><mrow><mn>2</mn></mrow></mfrac></mrow>",
        ),
        ("volume^2", "<mrow><msup><mrow><mi>V</mi></mrow><mrow><mn>2</mn></mrow></msup></mrow>"),
        (
            "10^-t",
            "<mrow><msup><mrow><mn>10</mn></mrow><mrow><mrow><mo form=\"prefix\">−</mo>\
             <msub><mi>D</mi><mi>t</mi></msub></mrow></mrow></msup></mrow>",
        ),
        ("sqrt(density)", "<mrow><msqrt><mrow><mi>ρ</mi></mrow></msqrt></mrow>"),
        (
            "2 * (volume / release)",
            "<mrow><mn>2</mn><mo>×</mo><mfrac><mrow><mi>V</mi></mrow><mrow><mi>T</mi></mrow></mfrac></mrow>",
        ),
        (
            "(volume + 1) * 2",
            "<mrow><mrow><mo>(</mo><mi>V</mi><mo>+</mo><mn>1</mn><mo>)</mo></mrow><mo>×</mo><mn>2</mn></mrow>",
        ),
        (
            "ln(volume)",
            "<mrow><mrow><mi>ln</mi><mo>\u{2061}</mo><mrow><mo>(</mo><mi>V</mi><mo>)</mo></mrow></mrow></mrow>",
        ),
        ("x < '25.4 mm'", "<mrow><mi mathvariant=\"normal\">x</mi><mo>&lt;</mo><mtext>25.4\u{a0}mm</mtext></mrow>"),
        ("flat_film", "<mrow><mi>flat\u{a0}film</mi></mrow>"),
        (
            "if(1 > 2, 3, 4)",
            "<mrow><mn>3</mn><mtext>\u{a0}if\u{a0}</mtext><mn>1</mn><mo>&gt;</mo><mn>2</mn>\
             <mtext>, otherwise\u{a0}</mtext><mn>4</mn></mrow>",
        ),
        (
            "bare(volume, 'mm')",
            "<mrow><mi>V</mi><mtext mathsize=\"80%\">\u{a0}in\u{a0}mm, as a plain number</mtext></mrow>",
        ),
        ("wet_film(volume, release)", "<mrow><mi>V</mi><mo>×</mo><mi>T</mi></mrow>"),
    ] {
        assert_eq!(mathml(&read(text), &symbols()), want, "{text}");
    }
}

#[test]
fn every_name_leaves_one_hole_where_it_stands() {
    let pieces = mathml_with_holes(&read("wet_film(volume, release) / film^2"));
    let text = |text: &str| Piece::Text(text.to_owned());
    let hole = |name: &str| Piece::Hole(name.to_owned());
    assert_eq!(
        pieces,
        [
            text("<mrow><mfrac><mrow>"),
            hole("volume"),
            text("<mo>×</mo>"),
            hole("release"),
            text("</mrow><mrow><msup><mrow><mrow><mo>(</mo>"),
            hole("film"),
            text("<mo>)</mo></mrow></mrow><mrow><mn>2</mn></mrow></msup></mrow></mfrac></mrow>"),
        ]
    );
}

#[test]
fn calculations_within_calculations_are_written_out_only_so_far() {
    let nested = format!("{}volume{}", "tone_value(".repeat(30), ", 1.5)".repeat(30));
    assert!(mathml(&read(&nested), &symbols()).len() < 100_000);
    assert_eq!(plain_text(&read("wet_film(wet_film(a, b), c)"), &symbols()), "a × b × c");
}

#[test]
fn a_parameter_and_a_name_that_are_called_the_same_are_told_apart() {
    // The second argument is the caller's `volume`, not the parameter of that name.
    assert_eq!(plain_text(&read("wet_film(film, volume)"), &BTreeMap::<String, String>::new()), "film × volume");
    assert_eq!(plain_text(&read("wet_film(release, volume)"), &symbols()), "T × V");
}

//! What is refused, where the fault points, and what it says.

use super::super::{Allow, FormulaFault, compile, parse};
use super::{World, compiled, known};

fn fault(text: &str) -> FormulaFault {
    match compiled(text) {
        Ok(formula) => panic!("{text} is taken as {}", formula.kind),
        Err(fault) => fault,
    }
}

/// Formula, the part pointed at, words of the message, words of the mend.
type Row = (&'static str, &'static str, &'static str, &'static str);

fn check(rows: &[Row]) {
    for (text, pointed, message, mend) in rows {
        let fault = fault(text);
        assert_eq!(&text[fault.span.clone()], *pointed, "{text}: {fault}");
        assert!(fault.message.contains(message), "{text}: {fault}");
        assert!(fault.mend.contains(mend), "{text}: {fault}");
        assert_eq!(fault.text, *text);
    }
}

#[test]
fn text_that_is_no_formula_is_refused() {
    check(&[
        ("", "", "empty", "write"),
        ("  ", "", "empty", "write"),
        ("a +", "", "ends where a value", "operand"),
        ("a + * b", "*", "`*` stands where a value", "name"),
        ("(a + b", "", "never closed", "put a `)`"),
        ("a + b)", ")", "closes nothing", "leave it out"),
        ("()", ")", "stands where a value", "name"),
        ("2 a", "a", "operator is missing", "+ - * /"),
        ("a b", "b", "operator is missing", "+ - * /"),
        ("(a) (b)", "(", "operator is missing", "+ - * /"),
        ("3 mm", "3 mm", "outside of quotes", "'3 mm'"),
        ("3µm + film", "3µm", "outside of quotes", "'3 µm'"),
        ("0,5 * a", ",", "outside of a function", "0.5"),
        ("a, b", ",", "outside of a function", "arguments"),
        ("a < b < 3", "<", "do not chain", "a < b and b < c"),
        ("a = b", "=", "not used", "`==`"),
        ("'25.4 mm", "'", "never closed", "'25.4 mm'"),
        ("'mm'", "'mm'", "not a quantity", "'25.4 mm'"),
        ("2 * '3 milz'", "'3 milz'", "`milz` is not a unit", "`mil"),
        ("2 * '3 qqqqqq'", "'3 qqqqqq'", "`qqqqqq` is not a unit", "use a unit"),
        ("sqr(a)", "sqr", "not a function", "`sqrt`"),
        ("wetfilm(film, 1)", "wetfilm", "not a function", "`wet_film`"),
        ("a(b + 1)", "a", "not a function", "*"),
        ("wet_film(film)", "wet_film(film)", "takes 2 arguments (volume, release); here there is 1", "BCM/in²"),
        ("sqrt(a, b)", "sqrt(a, b)", "takes 1 argument; here there are 2", "parted by commas"),
        ("min()", "min()", "at least 1", "parted by commas"),
        ("if(a > 1, 2)", "if(a > 1, 2)", "3 arguments; here there are 2", "otherwise"),
        ("bare()", "bare()", "value and a unit", "bare(value, 'unit')"),
        ("bare(a)", "bare(a)", "value and a unit", "bare(value, 'unit')"),
        ("bare(film, mm)", "mm", "in single quotes", "bare(value, 'unit')"),
        ("bare(film, 'milz')", "'milz'", "not a unit", "`mil"),
    ]);
}

#[test]
fn a_formula_cut_at_a_comma_is_recognised() {
    for text in [
        "wet_film(volume",
        "wet_film(volume,",
        "2 * min((a + b",
        "bare(roll.volume",
        "if(a > 1",
        "max(a, wet_film(film",
    ] {
        let fault = fault(text);
        assert!(fault.mend.contains("quote the whole formula in a one-line {…}"), "{text}: {fault}");
        assert_eq!(fault.span, text.len()..text.len(), "{text}");
    }
    assert!(!fault("(a + b").mend.contains("one-line"), "a plain bracket is just not closed");
}

#[test]
fn names_are_told_with_the_one_that_was_meant() {
    check(&[
        ("2 * fillm", "fillm", "`fillm` is not a name", "`film`"),
        ("roll.volum", "roll.volum", "`roll.volum` is not a name", "`roll.volume`"),
        ("roll * 2", "roll", "not a name", "roll.screen, roll.volume"),
        ("roll.qqqqqqqqq", "roll.qqqqqqqqq", "not a name", "roll.screen, roll.volume"),
        ("zzzzzzzz", "zzzzzzzz", "not a name", "known here: a, b"),
        ("sqrt * 2", "sqrt", "not a name", "`sqrt(…)`"),
        ("mean(reading)", "reading", "not a name", "`readings`"),
    ]);
}

#[test]
fn clashing_dimensions_are_both_named() {
    check(&[
        ("film + mass", "+", "cannot add a length, mm and a mass, kg", "same kind"),
        ("film - mass", "-", "cannot subtract a mass, kg from a length, mm", "same kind"),
        ("a * film + 2", "+", "cannot add a length, mm and a plain number", "a unit in single quotes"),
        ("film < 3", "<", "cannot compare a length, mm with a plain number", "a unit in single quotes"),
        ("cup + span", "+", "cannot add", ""),
        ("cup * span", "*", "cannot multiply", "viscosity"),
        ("film ^ a", "^", "cannot raise a length, mm to the power of `a`", "whole number"),
        ("film ^ 0.5", "^", "cannot raise a length, mm", "^0.5"),
        ("2 ^ film", "film", "an exponent is a plain number, not a length, mm", "divide"),
        ("sqrt(film)", "film", "not a length, mm", "root"),
        ("sin(a)", "a", "`sin` takes an angle, not a plain number", "sin(x * '1 rad')"),
        ("round(film)", "film", "`round` takes a plain number, not a length, mm", "round(x / '1 mm') * '1 mm'"),
        ("ln(mass)", "mass", "`ln` takes a plain number, not a mass, kg", "divide"),
        ("min(film, mass)", "mass", "a length, mm with a mass, kg", "same kind"),
        ("if(a > 1, film, mass)", "if(a > 1, film, mass)", "a length, mm or a mass, kg", "same kind"),
        ("wet_film(mass, 1)", "mass", "takes a length, mm as `volume`, not a mass, kg", "volume in BCM/in²"),
        ("wet_film(film, film / '1 s')", "film / '1 s'", "as `release`, not a speed", "release in %"),
        ("bare(film, 'kg')", "'kg'", "`kg` measures a mass, kg, but the value is a length, mm", "kind"),
    ]);
}

#[test]
fn readings_truths_and_series_are_not_numbers() {
    check(&[
        ("warm + cold", "+", "cannot add a temperature reading and another", "'5 K'"),
        ("warm * 2", "warm", "cannot multiply a temperature reading", "take a difference"),
        ("2 / warm", "warm", "cannot divide by a temperature reading", "take a difference"),
        ("-warm", "warm", "cannot put a minus in front of a temperature reading", "take a difference"),
        ("warm + '5 °C'", "+", "cannot add a temperature reading and another", "'5 K'"),
        ("'5 K' - warm", "-", "cannot subtract a temperature reading from a difference", "'5 K'"),
        ("warm > '5 K'", ">", "cannot compare a temperature reading with a difference", "reading"),
        ("bare(warm, 'K')", "'K'", "measures a difference of temperatures", "kind"),
        ("total(warmths)", "warmths", "cannot total", "mean(warmths)"),
        ("readings * 2", "readings", "a series of plain numbers, not one value", "mean(readings)"),
        ("mean(a)", "a", "takes a series; `a` is a plain number", "min"),
        ("mean(readings * 2)", "readings * 2", "the name of a series", "a name of their own"),
        ("(a > 1) + 1", "+", "cannot add yes or no and a plain number", "if(condition"),
        ("(a > 1) * 2", "(a > 1)", "cannot multiply yes or no", "if(condition"),
        ("a and b", "a", "`and` takes yes or no, not a plain number", "a < b"),
        ("not film", "film", "`not` takes yes or no, not a length, mm", "a < b"),
        ("if(a, 1, 2)", "a", "the condition of `if` takes yes or no", "a < b"),
        ("(a > 1) == (b > 1)", "==", "cannot compare yes or no with yes or no", "`and`"),
        ("max(a > 1, 2)", "a > 1", "takes numbers", "`and`"),
    ]);
}

#[test]
fn bare_is_only_for_those_who_may() {
    let formula = parse("2 * bare(film, 'mm')").unwrap_or_else(|fault| panic!("{fault}"));
    let refused = compile(&formula, &World::of(&known()).names, Allow { bare: false });
    let Err(fault) = refused else { panic!("taken") };
    assert_eq!(&fault.text[fault.span.clone()], "bare(film, 'mm')");
    assert!(fault.message.contains("only a wrong turn") && fault.mend.contains("x / '1 mm'"), "{fault}");
}

#[test]
fn a_formula_beyond_the_limits_is_refused_and_not_followed() {
    for (text, message) in [
        (format!("{}1", " ".repeat(2000)), "at most 2000"),
        (format!("{}1{}", "(".repeat(900), ")".repeat(900)), "64 levels"),
        ("(".repeat(1999), "64 levels"),
        ("-".repeat(1999), "64 levels"),
        ("2^".repeat(900), "64 levels"),
        ("not ".repeat(499), "64 levels"),
        ("abs(".repeat(499), "64 levels"),
        (vec!["1"; 100].join("+"), "64 levels"),
    ] {
        let fault = fault(&text);
        assert!(fault.message.contains(message), "{fault}");
        assert!(text.get(fault.span.clone()).is_some());
    }
    for text in [vec!["1"; 60].join("+"), format!("{}1{}", "(".repeat(60), ")".repeat(60)), "-".repeat(60) + "1"] {
        assert!(compiled(&text).is_ok(), "{text}");
    }
}

#[test]
fn deep_formulas_are_checked_once_through() {
    // Each would take longer than a working life if every level were checked twice.
    let nested = |open: &str, close: &str| format!("{}film{}", open.repeat(55), close.repeat(55));
    for text in [
        nested("'1 mm' + (", ")"),
        nested("('1 mm' + ", ")"),
        nested("min('1 mm', ", ")"),
        nested("min(", ", '1 mm')"),
        nested("if(a > 1, '1 mm', ", ")"),
        nested("1 * (", ")"),
        nested("wet_film(", ", '50 %')"),
        format!("{}'1 mm'{}", "('1 mm' + ".repeat(55), ")".repeat(55)),
    ] {
        assert!(compiled(&text).is_ok(), "{text}");
    }
}

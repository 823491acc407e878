//! Formulas against other reckoners: Python, and a plain evaluator of our own.

use std::collections::BTreeMap;

use gearside::formula::{Allow, Named, Stack, Type, Values, compile, parse};
use gearside::measure::Dimension;
use proptest::prelude::*;

fn value(text: &str, scope: &BTreeMap<String, Named>, scalars: &[f64], series: &[Vec<f64>]) -> f64 {
    let parsed = parse(text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
    let compiled = compile(&parsed, scope, Allow { bare: true }).unwrap_or_else(|fault| panic!("{text}: {fault}"));
    compiled.evaluate(&Values { scalars, series }, &mut Stack::default())
}

#[test]
fn values_are_those_of_python() {
    // Right-hand values: Python 3.11, math and statistics modules.
    let mut scope = BTreeMap::new();
    scope.insert("readings".to_owned(), Named { slot: 0, kind: Type::Series(Dimension::PLAIN) });
    let series = vec![vec![1.30, 1.34, 1.28, 1.32, 1.31]];
    for (text, want) in [
        ("(1 - 10^-0.5) / (1 - 10^-1.32)", 0.718_144_805_435_839_9),
        ("2^3^2", 512.0),
        ("-2^2", -4.0),
        ("sqrt(2) * ln(10) - exp(0.5)", 1.607_625_796_330_166),
        ("sin('30 °') + cos('60 °') * tan('45 °')", 1.0),
        ("1 - 2 - 3", -4.0),
        ("8 / 4 / 2", 1.0),
        ("2 * 3 + 4 * 5 - 6 / 3", 24.0),
        ("min(3, 1, 2) + max(3, 1, 2)", 4.0),
        ("log10(50)", 1.698_970_004_336_018_7),
        ("mean(readings)", 1.31),
        ("sd(readings)", 0.022_360_679_774_997_918),
        ("range(readings)", 0.06),
        ("how_many(readings)", 5.0),
        ("if(0.1 + 0.2 == 0.3, 1, 0)", 1.0),
        ("if(not (1 < 2) or 3 >= 3 and 2 != 2, 1, 0)", 0.0),
        ("round(2.5) + round(-2.5) + ceil(1.2) + floor(1.8) + abs(-1)", 4.0),
        ("ceil(0.1 * 3 / 0.1)", 3.0),
        ("bare('1 in', 'mm')", 25.4),
        ("'1 in' / '1 mm'", 25.4),
    ] {
        let got = value(text, &scope, &[], &series);
        assert!((got - want).abs() <= 1e-12 * want.abs().max(1.0), "{text}: {got}, not {want}");
    }
}

#[test]
fn temperatures_are_points_and_their_differences_are_not() {
    let mut scope = BTreeMap::new();
    scope.insert("warm".to_owned(), Named { slot: 0, kind: Type::Point });
    scope.insert("logged".to_owned(), Named { slot: 0, kind: Type::SeriesOfPoints });
    let kind = |text: &str| {
        parse(text).and_then(|parsed| compile(&parsed, &scope, Allow { bare: false })).map(|compiled| compiled.kind)
    };
    assert_eq!(kind("warm - '20 °C'"), Ok(Type::Number(Dimension::TEMPERATURE)));
    assert_eq!(kind("mean(logged)"), Ok(Type::Point));
    assert_eq!(kind("sd(logged)"), Ok(Type::Number(Dimension::TEMPERATURE)));
    assert_eq!(kind("warm + (warm - '20 °C')"), Ok(Type::Point));
    for bad in ["warm + '20 °C'", "warm * 2", "warm / '20 °C'", "-warm", "'20 °C' - 5"] {
        assert!(kind(bad).is_err(), "{bad}");
    }
    // 68 °F is 20 °C (definition of the Fahrenheit scale).
    assert!(value("'68 °F' - '20 °C'", &scope, &[], &[]).abs() < 1e-9);
}

#[test]
fn dimensions_are_named_in_words_where_they_clash() {
    let mut scope = BTreeMap::new();
    let length = Type::Number(Dimension::LENGTH);
    scope.insert("film".to_owned(), Named { slot: 0, kind: length });
    for (text, parts) in [
        ("film + '3 kg'", ["a length, mm", "a mass, kg"]),
        ("film < 3", ["a length, mm", "a plain number"]),
        ("wet_film('3 kg', 1)", ["a length, mm", "a mass, kg"]),
        ("film ^ 0.3", ["power", "a length, mm"]),
        ("10 ^ film", ["a plain number", "a length, mm"]),
        ("sin(film)", ["an angle", "a length, mm"]),
        ("max(film, 1)", ["a length, mm", "a plain number"]),
        ("if(film > '1 mm', film, 1)", ["a length, mm", "a plain number"]),
    ] {
        let fault = compile(&parse(text).expect(text), &scope, Allow { bare: false }).expect_err(text);
        for part in parts {
            assert!(fault.message.contains(part), "{text}: {}", fault.message);
        }
        assert!(fault.span.end <= text.len() && !fault.mend.is_empty(), "{text}");
    }
}

#[test]
fn a_pound_is_a_force_where_a_force_is_wanted() {
    let pull = value("web_tension('2 PLI', '10 in') - '20 lb'", &BTreeMap::new(), &[], &[]);
    assert!(pull.abs() < 1e-9, "{pull}");
    assert!((value("'1 lb' / '1 kg'", &BTreeMap::new(), &[], &[]) - 0.453_592_37).abs() < 1e-12);
}

#[test]
fn evaluation_is_the_same_on_a_used_stack() {
    let mut scope = BTreeMap::new();
    scope.insert("x".to_owned(), Named { slot: 0, kind: Type::Number(Dimension::PLAIN) });
    let compiled =
        compile(&parse("x * (x + (x - 1) * 2) / max(x, 2, 3)").expect("parsed"), &scope, Allow { bare: false })
            .expect("compiled");
    let mut stack = Stack::default();
    for step in 1..1000 {
        let x = f64::from(step);
        let values = [x];
        let used = compiled.evaluate(&Values { scalars: &values, series: &[] }, &mut stack);
        let new = compiled.evaluate(&Values { scalars: &values, series: &[] }, &mut Stack::default());
        assert_eq!(used.to_bits(), new.to_bits());
    }
}

/// A small arithmetic tree, written out and reckoned at the same time.
fn trees() -> impl Strategy<Value = (String, f64)> {
    let leaf = (1u32..1000).prop_map(|number| (format!("{}", f64::from(number) / 8.0), f64::from(number) / 8.0));
    leaf.prop_recursive(5, 40, 2, |inner| {
        (inner.clone(), inner, 0usize..4).prop_map(|((a, x), (b, y), operator)| match operator {
            0 => (format!("({a} + {b})"), x + y),
            1 => (format!("({a} - {b})"), x - y),
            2 => (format!("({a} * {b})"), x * y),
            _ => (format!("({a} / {b})"), x / y),
        })
    })
}

proptest! {
    #[test]
    fn arithmetic_is_arithmetic((text, want) in trees()) {
        let got = value(&text, &BTreeMap::new(), &[], &[]);
        prop_assert!(got.to_bits() == want.to_bits() || (got.is_nan() && want.is_nan()), "{text}: {got}, not {want}");
    }
}

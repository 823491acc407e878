//! Formulas against other ways to the same value, and against any text.

use std::collections::BTreeMap;

use proptest::prelude::*;
use rand::rngs::ChaCha8Rng;
use rand::{Rng, SeedableRng};

use super::super::{
    Allow, Expression, Named, Piece, Stack, Type, Values, compile, mathml, mathml_with_holes, parse, plain_text,
    plain_text_with,
};
use super::{World, known, of};
use crate::measure::unit;
use crate::trade::{Calculation, Parameter, calculations};

/// How many inputs each expansion is tried on.
const INPUTS: usize = 1000;

/// The parameters of a calculation as names in scope: numbers and series by
/// their place among all parameters.
fn parameters(calculation: &Calculation) -> BTreeMap<String, Named> {
    let named = |(slot, p): (usize, &Parameter)| {
        let kind = if p.many { of(p.unit).in_series() } else { of(p.unit) };
        (p.name.to_owned(), Named { slot, kind })
    };
    calculation.parameters.iter().enumerate().map(named).collect()
}

/// A number from 0 up to 1.
#[expect(clippy::cast_precision_loss, reason = "53 bits fit exactly")]
fn share(random: &mut ChaCha8Rng) -> f64 {
    (random.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
}

/// A value in the range of a parameter, in SI.
fn some_value(parameter: &Parameter, random: &mut ChaCha8Rng) -> f64 {
    let value = parameter.least + share(random) * (parameter.most - parameter.least);
    unit(parameter.unit).map_or(f64::NAN, |unit| unit.to_si(value))
}

#[test]
fn every_expansion_agrees_with_its_function() {
    let mut random = ChaCha8Rng::seed_from_u64(1);
    let mut stack = Stack::default();
    for calculation in calculations() {
        let Some(text) = calculation.expansion else { continue };
        let name = calculation.name;
        let formula = parse(text).and_then(|f| compile(&f, &parameters(calculation), Allow { bare: true }));
        let formula = formula.unwrap_or_else(|fault| panic!("{name}: {text}: {fault}"));
        assert_eq!(formula.kind, of(calculation.outcome.unit), "{name}: {text}");
        for _ in 0..INPUTS {
            let series: Vec<Vec<f64>> = calculation
                .parameters
                .iter()
                .map(|p| (0..if p.many { 8 } else { 1 }).map(|_| some_value(p, &mut random)).collect())
                .collect();
            let slices: Vec<&[f64]> = series.iter().map(Vec::as_slice).collect();
            let scalars: Vec<f64> = series.iter().map(|values| values[0]).collect();
            let want = (calculation.compute)(&slices);
            let found = formula.evaluate(&Values { scalars: &scalars, series: &series }, &mut stack);
            let alike = (found - want).abs() <= 1e-12 * want.abs() || found.to_bits() == want.to_bits();
            assert!(alike || (found.is_nan() && want.is_nan()), "{name}{scalars:?}: {text} = {found}, not {want}");
        }
    }
}

#[test]
fn every_usual_wrong_turn_yields_what_its_calculation_yields() {
    for calculation in calculations() {
        for turn in calculation.wrong_turns {
            let formula = parse(turn.is).and_then(|f| compile(&f, &parameters(calculation), Allow { bare: true }));
            let formula = formula.unwrap_or_else(|fault| panic!("{}: {}: {fault}", calculation.name, turn.name));
            assert_eq!(formula.kind, of(calculation.outcome.unit), "{}: {}", calculation.name, turn.name);
        }
    }
}

#[test]
fn a_call_and_its_expansion_with_the_arguments_put_in_agree() {
    let world = World::of(&known());
    let call = parse("wet_film(roll.volume - film, a / 2)").unwrap_or_else(|fault| panic!("{fault}"));
    let Some((calculation, arguments)) = call.head_call() else { panic!("a head call") };
    let names = calculation.parameters.iter().map(|p| p.name.to_owned());
    let expansion = calculation.expansion.map(parse).and_then(Result::ok);
    let Some(expansion) = expansion else { panic!("an expansion") };
    let written_out = expansion.substitute(&names.zip(arguments).collect());
    let value = |formula: &Expression| {
        let compiled = compile(formula, &world.names, Allow { bare: false }).unwrap_or_else(|fault| panic!("{fault}"));
        compiled.evaluate(&world.values(), &mut Stack::default())
    };
    assert_eq!(value(&call).to_bits(), value(&written_out).to_bits());
    assert!((value(&call) - 4.5e-6).abs() < 1e-18);
}

/// A tiny evaluator of its own: splits the text at the operator that is
/// carried out last.
fn split_and_reckon(text: &str) -> f64 {
    let text = text.trim();
    let bytes = text.as_bytes();
    let mut depth = 0;
    let (mut sum, mut product, mut power) = (None, None, None);
    let mut operand_before = false;
    for (at, byte) in bytes.iter().enumerate() {
        match byte {
            b'(' => depth += 1,
            b')' => depth -= 1,
            b'+' | b'-' if depth == 0 && operand_before => sum = Some(at),
            b'*' | b'/' if depth == 0 => product = Some(at),
            b'^' if depth == 0 => power = power.or(Some(at)),
            _ => {}
        }
        operand_before = byte.is_ascii_digit() || *byte == b')' || (*byte == b' ' && operand_before);
    }
    let sides = |at: usize| (split_and_reckon(&text[..at]), split_and_reckon(&text[at + 1..]));
    match (sum.or(product), power) {
        (Some(at), _) => {
            let (left, right) = sides(at);
            match bytes[at] {
                b'+' => left + right,
                b'-' => left - right,
                b'*' => left * right,
                _ => left / right,
            }
        }
        (None, _) if bytes.first() == Some(&b'-') => -split_and_reckon(&text[1..]),
        (None, Some(at)) => {
            let (left, right) = sides(at);
            libm::pow(left, right)
        }
        (None, None) => match text.strip_prefix('(').and_then(|rest| rest.strip_suffix(')')) {
            Some(inner) => split_and_reckon(inner),
            None => text.parse().unwrap_or(f64::NAN),
        },
    }
}

fn reckoned(text: &str) -> f64 {
    let formula = parse(text).and_then(|f| compile(&f, &BTreeMap::new(), Allow { bare: false }));
    let formula = formula.unwrap_or_else(|fault| panic!("{text}: {fault}"));
    formula.evaluate(&Values { scalars: &[], series: &[] }, &mut Stack::default())
}

fn alike(a: f64, b: f64) -> bool {
    a.to_bits() == b.to_bits() || (a.is_nan() && b.is_nan())
}

/// Arithmetic over small numbers, brackets only here and there.
fn arithmetic() -> impl Strategy<Value = String> {
    let leaf =
        prop_oneof![(0_u32..20).prop_map(|n| n.to_string()), (1_u32..99).prop_map(|n| format!("{}.{:02}", n / 9, n))];
    leaf.prop_recursive(5, 24, 2, |inner| {
        let operator = prop::sample::select(vec!["+", "-", "*", "/", "^", " - ", " / "]);
        prop_oneof![
            4 => (inner.clone(), operator, inner.clone()).prop_map(|(a, sign, b)| format!("{a}{sign}{b}")),
            1 => inner.clone().prop_map(|a| format!("-{a}")),
            2 => inner.prop_map(|a| format!("({a})")),
        ]
    })
}

/// Text made of formula pieces, mostly no formula, but often nearly one.
fn nearly() -> impl Strategy<Value = String> {
    let pieces = vec![
        "a",
        "b",
        "film",
        "mass",
        "warm",
        "readings",
        "roll.volume",
        "2",
        "0.5",
        "1e-3",
        "'3 mm'",
        "'5 °C'",
        "'3 lb'",
        "'-2 %'",
        "(",
        ")",
        "(",
        ")",
        "+",
        "-",
        "*",
        "/",
        "^",
        "<",
        "==",
        ",",
        " and ",
        " or ",
        "not ",
        "if(",
        "min(",
        "sqrt(",
        "mean(",
        "bare(",
        "'mm'",
        "wet_film(",
        "tone_value(",
        "abs(",
        "pi",
        "=",
        ".",
        "'",
        "µ",
        "é",
    ];
    prop::collection::vec(prop::sample::select(pieces), 0..24).prop_map(|list| list.concat())
}

/// Whether every element is closed by its own name, and no `&` or `<` stands loose.
fn well_formed(markup: &str) -> bool {
    let mut open: Vec<&str> = Vec::new();
    let mut rest = markup;
    while let Some(at) = rest.find(['<', '&']) {
        let entity = ["&amp;", "&lt;", "&gt;", "&quot;"].iter().any(|entity| rest[at..].starts_with(entity));
        let Some(end) = rest[at..].find(if entity { ';' } else { '>' }) else { return false };
        let tag = &rest[at + 1..at + end];
        rest = &rest[at + end + 1..];
        match tag.strip_prefix('/') {
            _ if entity => {}
            Some(name) if open.pop() != Some(name) => return false,
            Some(_) => {}
            None => open.push(tag.split(' ').next().unwrap_or_default()),
        }
    }
    open.is_empty()
}

/// Does everything that can be done with a text; the fault, if it is none.
fn use_fully(text: &str) {
    let world = World::of(&known());
    let formula = match parse(text) {
        Ok(formula) => formula,
        Err(fault) => {
            assert!(text.get(fault.span.clone()).is_some(), "{text:?}: {fault:?}");
            return drop(fault.into_fault("formula").to_text(false));
        }
    };
    let symbols: BTreeMap<String, String> = [("a".to_owned(), "h_<".to_owned())].into();
    assert!(well_formed(&mathml(&formula, &symbols)), "{text}: {}", mathml(&formula, &symbols));
    let holes = mathml_with_holes(&formula).into_iter().filter_map(|piece| match piece {
        Piece::Hole(name) => Some(name),
        Piece::Text(_) => None,
    });
    assert!(holes.into_iter().all(|name| formula.names().contains(&name)), "{text}");
    assert!(
        !plain_text(&formula, &symbols).is_empty() && !plain_text_with(&formula, &|_| "−5 mm".to_owned()).is_empty()
    );
    for piece in formula.head_call().map(|(_, arguments)| arguments).unwrap_or_default() {
        assert_eq!(parse(piece.text()).map(|again| again.names()), Ok(piece.names()), "{text}");
    }
    match compile(&formula, &world.names, Allow { bare: true }) {
        Ok(compiled) => {
            let value = compiled.evaluate(&world.values(), &mut Stack::default());
            assert!(compiled.kind != Type::Truth || value.abs() < 0.5 || (value - 1.0).abs() < 0.5, "{text} = {value}");
        }
        Err(fault) => assert!(text.get(fault.span.clone()).is_some() && !fault.mend.is_empty(), "{text:?}: {fault:?}"),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn arithmetic_agrees_with_another_evaluator(text in arithmetic()) {
        prop_assert!(alike(reckoned(&text), split_and_reckon(&text)), "{text}: {} {}", reckoned(&text), split_and_reckon(&text));
    }

    #[test]
    fn what_is_printed_on_one_line_reads_back_to_the_same_value(text in arithmetic()) {
        let Ok(formula) = parse(&text) else { return Err(TestCaseError::fail(text)) };
        let printed = plain_text(&formula, &BTreeMap::<String, String>::new());
        prop_assert!(alike(reckoned(&text), reckoned(&printed)), "{text} became {printed}");
    }

    #[test]
    fn no_text_panics(text in "\\PC{0,80}") {
        use_fully(&text);
    }

    #[test]
    fn nothing_nearly_a_formula_panics(text in nearly()) {
        use_fully(&text);
    }

    #[test]
    fn replacing_names_by_their_values_changes_no_value(text in arithmetic(), a in -5_i32..5) {
        let text = text.replace('7', "a");
        let Ok(formula) = parse(&text) else { return Ok(()) };
        let Ok(number) = parse(&a.to_string()) else { return Ok(()) };
        let replaced = formula.substitute(&[("a".to_owned(), number)].into());
        let scope: BTreeMap<String, Named> = [("a".to_owned(), Named { slot: 0, kind: Type::PLAIN })].into();
        let value = |formula: &Expression| compile(formula, &scope, Allow { bare: false })
            .map(|f| f.evaluate(&Values { scalars: &[f64::from(a)], series: &[] }, &mut Stack::default()));
        if let Ok(before) = value(&formula) {
            prop_assert!(value(&replaced).is_ok_and(|after| alike(before, after)), "{text}: {}", replaced.text());
        }
    }
}

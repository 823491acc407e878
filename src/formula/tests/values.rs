//! What formulas come to.

use super::super::{Allow, Stack, Type, compile, compile_wanting, parse};
use super::{World, compiled, known, of, value};
use crate::measure::Dimension;

fn close(found: f64, want: f64) -> bool {
    (found - want).abs() <= 1e-14 * want.abs()
}

#[test]
fn arithmetic_comes_to_what_python_gives() {
    // Python 3.11: the same expressions with ** for ^ and the math and statistics modules.
    for (text, want) in [
        ("1 + 2 * 3", 7.0),
        ("(1 + 2) * 3", 9.0),
        ("8 / 4 / 2", 1.0),
        ("8 - 4 - 2", 2.0),
        ("-2^2", -4.0),
        ("2^3^2", 512.0),
        ("2^-1", 0.5),
        ("2 * -3", -6.0),
        (".5 + 1e-3", 0.501),
        ("6 ÷ 2 × 3 − 1", 8.0),
        ("(1 - 10^-0.45) / (1 - 10^-1.35)", 0.675_353_545_535_597_6),
        ("ln(7.5)", 2.014_903_020_542_264_7),
        ("log10(7.5)", 0.875_061_263_391_700_1),
        ("exp(-1.25)", 0.286_504_796_860_190_1),
        ("sin('30 °')", 0.5),
        ("cos(turn)", 0.764_842_187_284_488_5),
        ("tan('12.5 °')", 0.221_694_662_642_939_88),
        ("7.5^-1.5", 0.048_686_449_556_014_77),
        ("pi * 3^2 / 4", 7.068_583_470_577_034_5),
        ("min(3, a, 2) + max(b, -9)", -2.5),
        ("abs(b) * sqrt(2.25)", 6.0),
        ("mean(readings)", 1.31),
        ("sd(readings)", 0.025_495_097_567_963_948),
        ("total(readings) + how_many(readings)", 11.55),
        ("roll.volume / film", 4.0),
        ("'18 %' * 50", 9.0),
        ("if(a < b, 1, if(a > 1, 2, 3))", 2.0),
    ] {
        let (kind, found) = value(text);
        assert!(close(found, want), "{text} = {found}, not {want}");
        assert_eq!(kind, Type::PLAIN, "{text}");
    }
}

#[test]
fn quantities_come_to_si_with_their_dimension() {
    // Python 3.11 from the exact inch, pound and standard gravity.
    for (text, unit, want) in [
        ("'5.4 BCM/in²'", "µm", 8.370_016_740_033_48e-6),
        ("wet_film('3.8 BCM/in²', '25 %')", "µm", 1.472_502_945_005_890_1e-6),
        ("sqrt('2.5 mm²')", "mm", 1.581_138_830_084_189_7e-3),
        ("film^2 / film", "µm", 2e-6),
        ("(film^2)^0.5", "µm", 2e-6),
        ("1 / roll.screen", "mm", 5e-5),
        ("span * 2 - '3 s'", "s", 5.0),
        ("cup - '2 s (Zahn 2)'", "s (Zahn 2)", 28.0),
        ("range(readings) * '1 kg'", "kg", 0.06),
        ("if(film > '1 µm', film, '1 µm')", "µm", 2e-6),
        ("min('5 µm', film, '1 mil')", "µm", 2e-6),
    ] {
        let (kind, found) = value(text);
        assert!((found - want).abs() <= 1e-13 * want.abs(), "{text} = {found}, not {want}");
        assert_eq!(kind, of(unit), "{text}");
    }
}

#[test]
fn pounds_are_a_force_where_a_force_stands_beside_them() {
    // 3 lb: 1.36077711 kg, or 13.3446648457815 N (exact pound and standard gravity).
    for (text, force) in [
        ("'3 lb'", false),
        ("'3 lb' * 2", false),
        ("mass + '3 lb'", false),
        ("pull + '3 lb'", true),
        ("'3 lb' + pull", true),
        ("'3 #' - -pull", true),
        ("max('3 lb', pull)", true),
        ("if(a > 0, '3 lb', pull)", true),
        ("pull + '6 lb' / 2", true),
        ("pull + 2 * '1.5 lb'", true),
        ("pull + '1 lb/in' * '3 in'", true),
    ] {
        let (kind, found) = value(text);
        assert_eq!(kind, of(if force { "N" } else { "kg" }), "{text}");
        if text.contains("pull +") || text.contains("+ pull") {
            assert!(close(found, 10.0 + 13.344_664_845_781_5), "{text} = {found}");
        }
    }
    assert!(close(value("mass + '3 lb'").1, 3.0 + 1.360_777_11));
    let truth = compiled("'3 lb' < pull").map(|formula| formula.kind);
    assert_eq!(truth, Ok(Type::Truth));
}

#[test]
fn a_type_that_is_wanted_decides_what_pounds_are() {
    let world = World::of(&known());
    for text in ["'3 lb'", "'3 lb' * 2", "-'3 lb'", "2 * '3 lb'", "'3 lb' / '4 in' * '1 in'", "a * '3 lb'"] {
        let formula = parse(text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
        let kind = |wanted| compile_wanting(&formula, &world.names, Allow { bare: false }, wanted).map(|f| f.kind);
        assert_eq!(kind(None), Ok(of("kg")), "{text}");
        assert_eq!(kind(Some(of("kg"))), Ok(of("kg")), "{text}");
        assert_eq!(kind(Some(of("N"))), Ok(of("N")), "{text}");
    }
}

#[test]
fn temperatures_are_points_and_their_differences_are_not() {
    // 0 °C is 273.15 K; the mean and sd are those of 20.5, 21.0, 22.3 (Python 3.11, statistics).
    let interval = Type::Number(Dimension::TEMPERATURE);
    for (text, kind, want) in [
        ("warm - cold", interval, 20.0),
        ("warm + '5 K'", Type::Point, 318.15),
        ("'9 F°' + cold", Type::Point, 298.15),
        ("warm - '5 K'", Type::Point, 308.15),
        ("(warm - cold) / 2", interval, 10.0),
        ("cold + (warm - cold) / 4", Type::Point, 298.15),
        ("'20 °C' + (warm - cold)", Type::Point, 313.15),
        ("(warm - cold) + '20 °C'", Type::Point, 313.15),
        ("'68 °F'", Type::Point, 293.15),
        ("mean(warmths)", Type::Point, 294.416_666_666_666_63),
        ("sd(warmths)", interval, 0.929_157_324_317_757_3),
        ("range(warmths)", interval, 1.8),
        ("max(warm, cold, '50 °C')", Type::Point, 323.15),
        ("if(warm > '30 °C', warm, cold)", Type::Point, 313.15),
        ("if(warm - cold > '15 °C', 1, 0)", Type::PLAIN, 1.0),
        ("if(warm - cold > '25 °C', 1, 0)", Type::PLAIN, 0.0),
        ("bare(cold, '°C')", Type::PLAIN, 20.0),
        ("bare(cold, '°F')", Type::PLAIN, 68.0),
        ("bare(warm - cold, '°F')", Type::PLAIN, 36.0),
        ("bare(warm - cold, 'K')", Type::PLAIN, 20.0),
    ] {
        let (found_kind, found) = value(text);
        assert!((found - want).abs() < 1e-9, "{text} = {found}, not {want}");
        assert_eq!(found_kind, kind, "{text}");
    }
}

#[test]
fn comparisons_take_a_billionth_as_equal() {
    for (text, holds) in [
        ("0.1 + 0.2 == 0.3", true),
        ("0.1 + 0.2 > 0.3", false),
        ("0.1 + 0.2 <= 0.3", true),
        ("0.1 + 0.2 != 0.3", false),
        ("1 == 1.00000001", false),
        ("1 < 1.00000001", true),
        ("1 < 1.0000000001", false),
        ("1 >= 1.0000000001", true),
        ("1e-12 == 2e-12", false),
        ("not 1 < 2", false),
        ("not (1 > 2) and 2 > 1", true),
        ("1 > 2 or 2 > 1 and 1 > 3", false),
        ("(1 > 2 or 2 > 1) and 3 > 1", true),
        ("1 / 0 == 1 / 0", true),
        ("1 / 0 == 5", false),
        ("1 / 0 > 5", true),
        ("0 / 0 == 0 / 0", false),
        ("0 / 0 < 1 or 0 / 0 >= 1", false),
    ] {
        let (kind, found) = value(text);
        assert_eq!(kind, Type::Truth, "{text}");
        assert_eq!(found > 0.5, holds, "{text}");
    }
}

#[test]
fn rounding_is_not_misled_by_binary_dust() {
    for (text, want) in [
        ("floor(0.3 / 0.1)", 3.0),    // 2.9999999999999996 to the machine
        ("ceil(0.1 * 3 / 0.1)", 3.0), // 3.0000000000000004 to the machine
        ("round(1.005 * 100)", 101.0),
        ("round(2.5)", 3.0),
        ("round(-2.5)", -3.0),
        ("round(-0.2)", 0.0),
        ("floor(-0.5)", -1.0),
        ("ceil(-0.5)", 0.0),
        ("ceil(2.001)", 3.0),
        ("floor(2.999)", 2.0),
        ("ceil(12345678901.4)", 12_345_678_902.0),
        ("round('7.4 in' / '1 in')", 7.0),
    ] {
        let found = value(text).1;
        assert_eq!(found.to_bits(), f64::to_bits(want), "{text} = {found}");
    }
}

#[test]
fn what_has_no_value_is_not_a_number() {
    for text in [
        "sd(one)",
        "sd(none)",
        "mean(none)",
        "range(none)",
        "0 / 0",
        "min(1, 0 / 0)",
        "max(0 / 0, 1)",
        "ln(-1)",
        "sqrt(b)",
    ] {
        assert!(value(text).1.is_nan(), "{text}");
    }
    for (text, want) in [("total(none)", 0.0), ("how_many(none)", 0.0), ("mean(one)", 2.0), ("range(one)", 0.0)] {
        assert!((value(text).1 - want).abs() < 1e-15, "{text}");
    }
    let formula = compiled("a + total(readings)")
        .map(|formula| formula.evaluate(&super::Values { scalars: &[], series: &[] }, &mut Stack::default()));
    assert!(formula.is_ok_and(f64::is_nan), "missing slots");
}

#[test]
fn only_calculations_that_are_carried_out_are_watched() {
    let world = World::of(&known());
    for (text, want) in [
        ("wet_film(roll.volume, '50 %') + wet_film(film, 1)", vec![4e-6, 2e-6]),
        ("if(a > 1, wet_film(film, '25 %'), wet_film(film, '75 %'))", vec![0.5e-6]),
        ("if(a < 1, wet_film(film, '25 %'), wet_film(film, '75 %'))", vec![1.5e-6]),
        ("if(a > 1 or wet_film(film, 1) > film, film, film)", vec![]),
        ("if(a < 1 and wet_film(film, 1) > film, film, film)", vec![]),
        ("wet_film(wet_film(film, '50 %'), '50 %')", vec![1e-6, 0.5e-6]),
    ] {
        let formula = compiled(text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
        let mut seen = Vec::new();
        let mut watch = |calculation: &'static crate::trade::Calculation, arguments: &[&[f64]], result: f64| {
            assert_eq!((calculation.name, arguments.len()), ("wet_film", 2));
            seen.push(result);
        };
        formula.evaluate_watched(&world.values(), &mut Stack::default(), &mut watch);
        assert_eq!(seen.len(), want.len(), "{text}: {seen:?}");
        assert!(seen.iter().zip(&want).all(|(found, want)| close(*found, *want)), "{text}: {seen:?}");
    }
}

#[test]
fn evaluating_again_needs_no_more_room() {
    let world = World::of(&known());
    let formula =
        compiled("min(a, b, 3) * sd(readings) + if(a > 1, (1 + (2 + (3 + a))), 0) * wet_film(film, 1) / film");
    let formula = formula.unwrap_or_else(|fault| panic!("{fault}"));
    let mut stack = Stack::default();
    let first = formula.evaluate(&world.values(), &mut stack);
    let room = stack.room();
    for _ in 0..1000 {
        assert_eq!(formula.evaluate(&world.values(), &mut stack).to_bits(), first.to_bits());
    }
    assert_eq!(stack.room(), room);
}

#[test]
fn a_compiled_formula_is_used_with_any_values() {
    let formula = parse("a * 2").and_then(|f| compile(&f, &World::of(&known()).names, Allow { bare: false }));
    let formula = formula.unwrap_or_else(|fault| panic!("{fault}"));
    let mut world = World::of(&known());
    for (given, want) in [(1.0, 2.0), (-3.5, -7.0)] {
        world.scalars[0] = given;
        assert!(close(formula.evaluate(&world.values(), &mut Stack::default()), want));
    }
}

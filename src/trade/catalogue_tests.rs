//! Every entry of the catalogue keeps the form that the other rooms rely on.

use proptest::prelude::*;

use super::{Calculation, MOST_PARAMETERS, Parameter, calculation, calculations};
use crate::measure::unit;

/// Words of small letters and digits with `_` between, as formulas want them.
fn is_snake_case(name: &str) -> bool {
    name.starts_with(|c: char| c.is_ascii_lowercase())
        && name
            .split('_')
            .all(|word| !word.is_empty() && word.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit()))
}

#[test]
fn names_are_unique() {
    let mut names: Vec<&str> = calculations().map(|calculation| calculation.name).collect();
    names.sort_unstable();
    assert!(names.windows(2).all(|pair| pair[0] != pair[1]), "{names:?}");
    for calculation in calculations() {
        let mut inner: Vec<&str> = calculation.parameters.iter().map(|parameter| parameter.name).collect();
        inner.sort_unstable();
        assert!(inner.windows(2).all(|pair| pair[0] != pair[1]), "{}: {inner:?}", calculation.name);
        let mut turns: Vec<&str> = calculation.wrong_turns.iter().map(|turn| turn.name).collect();
        turns.sort_unstable();
        assert!(turns.windows(2).all(|pair| pair[0] != pair[1]), "{}: {turns:?}", calculation.name);
    }
}

#[test]
fn names_are_snake_case() {
    for calculation in calculations() {
        let inner = calculation.parameters.iter().map(|p| p.name).chain(calculation.wrong_turns.iter().map(|t| t.name));
        for name in std::iter::once(calculation.name).chain(inner) {
            assert!(is_snake_case(name), "{}: {name}", calculation.name);
        }
    }
}

#[test]
fn every_unit_is_in_the_table_by_its_own_name() {
    for calculation in calculations() {
        let units = calculation.parameters.iter().map(|parameter| parameter.unit);
        for name in units.chain([calculation.outcome.unit]) {
            assert_eq!(unit(name).map(|unit| unit.name), Ok(name), "{}", calculation.name);
        }
    }
}

#[test]
fn every_quantity_and_unit_in_formula_text_is_known() {
    for calculation in calculations() {
        let texts = calculation.wrong_turns.iter().map(|turn| turn.is).chain(calculation.expansion);
        for text in texts {
            assert_eq!(text.matches('\'').count() % 2, 0, "{}: {text}", calculation.name);
            for quoted in text.split('\'').skip(1).step_by(2) {
                let name = quoted.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.').trim();
                assert_eq!(unit(name).map(|unit| unit.name), Ok(name), "{}: {text}", calculation.name);
            }
        }
    }
}

#[test]
fn ranges_run_upwards() {
    for calculation in calculations() {
        for parameter in calculation.parameters {
            assert!(parameter.least < parameter.most, "{}: {}", calculation.name, parameter.name);
        }
        assert!(calculation.outcome.least < calculation.outcome.most, "{}", calculation.name);
    }
}

#[test]
fn symbols_are_a_letter_perhaps_with_an_index() {
    for calculation in calculations() {
        let symbols = calculation.parameters.iter().map(|parameter| parameter.symbol);
        for symbol in symbols.chain([calculation.outcome.symbol]) {
            let (letter, index) = symbol.split_once('_').unwrap_or((symbol, "i"));
            assert!(letter.chars().count() == 1 && !index.is_empty(), "{}: {symbol}", calculation.name);
        }
    }
}

#[test]
fn every_calculation_has_at_least_two_wrong_turns_that_speak_to_you() {
    for calculation in calculations() {
        assert!(calculation.wrong_turns.len() >= 2, "{}", calculation.name);
        for turn in calculation.wrong_turns {
            let because = turn.because;
            assert!(because.starts_with("You ") && because.ends_with('.'), "{}: {because}", calculation.name);
            assert_ne!(Some(turn.is), calculation.expansion, "{}: {}", calculation.name, turn.name);
        }
    }
}

#[test]
fn texts_are_there_and_sentences_end() {
    for calculation in calculations() {
        assert!(calculation.says.ends_with('.'), "{}", calculation.name);
        assert!(!calculation.title.is_empty() && !calculation.source.is_empty(), "{}", calculation.name);
        for parameter in calculation.parameters {
            assert!(!parameter.says.is_empty() && !parameter.says.ends_with('.'), "{}", calculation.name);
        }
    }
}

#[test]
fn a_wrong_number_of_values_is_not_a_number() {
    for calculation in calculations() {
        let values = vec![1.0; calculation.parameters.len() + 1];
        assert!(calculation.of(&values).is_nan(), "{}", calculation.name);
        assert!(calculation.of(&values[2..]).is_nan() || values.len() == 2, "{}", calculation.name);
        assert!(values.len() <= MOST_PARAMETERS + 1, "{}", calculation.name);
    }
}

#[test]
fn a_calculation_is_found_by_its_name() {
    for known in calculations() {
        assert!(calculation(known.name).is_some_and(|found| std::ptr::eq(found, known)), "{}", known.name);
    }
}

/// Values inside the ranges, in SI: `shares` says where in each range. A series
/// gets eight values that rise.
fn inside(calculation: &Calculation, shares: &[f64]) -> Vec<Vec<f64>> {
    let place = |parameter: &Parameter, share: f64| {
        let value = parameter.least + share * (parameter.most - parameter.least);
        unit(parameter.unit).map_or(f64::NAN, |unit| unit.to_si(value))
    };
    calculation
        .parameters
        .iter()
        .zip(shares)
        .map(|(parameter, share)| {
            if !parameter.many {
                return vec![place(parameter, *share)];
            }
            (0..8).map(|step| place(parameter, (f64::from(step) + share) / 8.0)).collect()
        })
        .collect()
}

proptest! {
    #[test]
    fn results_are_finite_inside_the_ranges(shares in prop::collection::vec(0.001_f64..0.999, MOST_PARAMETERS)) {
        for calculation in calculations() {
            let values = inside(calculation, &shares);
            let slices: Vec<&[f64]> = values.iter().map(Vec::as_slice).collect();
            let result = (calculation.compute)(&slices);
            let fine = result.is_finite() || calculation.no_result_when.is_some();
            prop_assert!(fine, "{} of {:?} is {}", calculation.name, values, result);
        }
    }

    #[test]
    fn nothing_panics_on_any_values(values in prop::collection::vec(prop::collection::vec(any::<f64>(), 0..9), 0..MOST_PARAMETERS)) {
        let slices: Vec<&[f64]> = values.iter().map(Vec::as_slice).collect();
        for calculation in calculations() {
            let slices = &slices[..slices.len().min(calculation.parameters.len())];
            let result = (calculation.compute)(slices);
            let _ = calculation.in_range(slices, result);
            let _ = calculation.remarks(slices, result);
        }
    }

    #[test]
    fn what_is_no_number_is_told_by_a_remark(values in prop::collection::vec(any::<f64>(), MOST_PARAMETERS)) {
        for calculation in calculations() {
            let slices: Vec<&[f64]> = values[..calculation.parameters.len()].iter().map(std::slice::from_ref).collect();
            let result = (calculation.compute)(&slices);
            let told = result.is_finite() || !calculation.remarks(&slices, result).is_empty();
            prop_assert!(told, "{} of {:?}", calculation.name, slices);
        }
    }
}

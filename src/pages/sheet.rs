//! The formula sheet: the calculations that a competency's steps use.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::mathematics::{expansion, symbol};
use crate::formula::{Symbols, parse};
use crate::ground::say;
use crate::programme::{Exercise, Form};
use crate::trade::{Calculation, Parameter};

/// The symbols of a calculation's parameters.
struct ParameterSymbols(BTreeMap<&'static str, &'static str>);

impl Symbols for ParameterSymbols {
    fn symbol(&self, name: &str) -> Option<String> {
        self.0.get(name).map(|symbol| (*symbol).to_owned())
    }
}

/// The calculations that the steps of these exercises use, in order of first use.
pub(super) fn used_by<'a>(exercises: impl IntoIterator<Item = &'a Exercise>) -> Vec<&'static Calculation> {
    let mut list: Vec<&'static Calculation> = Vec::new();
    for exercise in exercises {
        if matches!(exercise.form, Form::Order(_)) {
            continue;
        }
        for calculation in exercise.reckoning.steps.iter().flat_map(|step| step.expression.calls()) {
            if !list.iter().any(|known| known.name == calculation.name) {
                list.push(calculation);
            }
        }
    }
    list
}

/// One entry of the sheet.
pub(super) fn entry(calculation: &'static Calculation) -> Value {
    let symbols = ParameterSymbols(calculation.parameters.iter().map(|one| (one.name, one.symbol)).collect());
    let text = calculation.expansion.map_or_else(|| call_text(calculation), str::to_owned);
    let formula = parse(&text).map_or_else(
        |_| crate::prose::escape(&text),
        |parsed| expansion(calculation.outcome.symbol, &parsed, &symbols),
    );
    let where_ = |one: &Parameter| json!({ "symbol_html": symbol(one.symbol), "says": one.says, "unit": one.unit });
    let ranges: Vec<String> = calculation
        .parameters
        .iter()
        .map(|one| {
            say!(
                "sheet.to",
                name = one.name.replace('_', " "),
                least = plain(one.least),
                most = plain(one.most),
                unit = one.unit
            )
            .trim_end()
            .to_owned()
        })
        .collect();
    json!({
        "title": calculation.title,
        "formula_html": formula,
        "where": calculation.parameters.iter().map(where_).collect::<Vec<_>>(),
        "result": { "symbol_html": symbol(calculation.outcome.symbol), "says": calculation.says, "unit": calculation.outcome.unit },
        "range": ranges.join("; "),
        "source": calculation.source,
    })
}

/// `name(a, b)` for a calculation that has no expansion.
fn call_text(calculation: &Calculation) -> String {
    let names: Vec<&str> = calculation.parameters.iter().map(|one| one.name).collect();
    format!("{}({})", calculation.name, names.join(", "))
}

/// A bound as people write it.
fn plain(value: f64) -> String {
    format!("{value}")
}

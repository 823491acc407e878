//! `gearside work`: one trade calculation with its steps and source.

use std::path::Path;

use super::arguments::WorkArguments;
use super::loading;
use super::out::{Ended, Out};
use crate::formula::{Expression, Symbols, parse, plain_text, plain_text_with, symbol_plain};
use crate::ground::{Decimal, nearest_name};
use crate::measure::{DecimalMark, Reading, Unit, number, read, unit, unit_where};
use crate::programme::load;
use crate::trade::{Calculation, Parameter, calculation, calculations};

pub(super) fn run(arguments: &WorkArguments, programme: Option<&Path>, out: &mut Out) -> Ended {
    let Some(name) = &arguments.calculation else {
        list(out);
        return Ended::Done;
    };
    let Some(found) = calculation(&name.replace('-', "_")) else {
        let near = nearest_name(name, calculations().map(|one| one.name));
        let mend = near.map_or_else(
            || "`gearside work` lists all calculations".to_owned(),
            |near| format!("did you mean `{near}`?"),
        );
        return out.usage(&format!("there is no calculation `{name}`"), &mend);
    };
    if arguments.values.is_empty() {
        if out.json {
            out.value(&explanation(found));
        } else {
            explain(found, out);
        }
        return Ended::Done;
    }
    // Only the decimal mark is wanted of the programme; its faults are another command's business.
    let loaded = load(&loading::origin(programme)).ok().and_then(|loaded| loaded.programme);
    let mark = if loaded.is_some_and(|programme| programme.about.decimal_comma) {
        DecimalMark::Comma
    } else {
        DecimalMark::Point
    };
    match work_out(found, arguments, mark) {
        Ok(worked) if out.json => {
            out.value(&worked.json());
            Ended::Done
        }
        Ok(worked) => {
            worked.print(out);
            Ended::Done
        }
        Err((message, mend)) => out.usage(&message, &mend),
    }
}

fn list(out: &mut Out) {
    if out.json {
        let value: Vec<serde_json::Value> = calculations().map(|one| serde_json::json!({ "name": one.name, "title": one.title, "topic": one.topic.title(), "says": one.says })).collect();
        out.value(&serde_json::Value::Array(value));
        return;
    }
    let mut topic = None;
    for one in calculations() {
        if topic != Some(one.topic) {
            out.line(&format!("{}{}", if topic.is_some() { "\n" } else { "" }, one.topic.title()));
            topic = Some(one.topic);
        }
        out.line(&format!("  {:<26} {}", one.name, one.says));
    }
}

/// The symbols of a calculation's parameters.
struct ParameterSymbols(&'static Calculation);

impl Symbols for ParameterSymbols {
    fn symbol(&self, name: &str) -> Option<String> {
        self.0.parameters.iter().find(|one| one.name == name).map(|one| one.symbol.to_owned())
    }
}

/// The calculation as a formula: its expansion, or its name with its parameters.
fn formula(calculation: &'static Calculation) -> Option<Expression> {
    let names: Vec<&str> = calculation.parameters.iter().map(|one| one.name).collect();
    let call = format!("{}({})", calculation.name, names.join(", "));
    parse(calculation.expansion.unwrap_or(&call)).ok()
}

fn symbolic(calculation: &'static Calculation) -> String {
    let text =
        formula(calculation).map(|parsed| plain_text(&parsed, &ParameterSymbols(calculation))).unwrap_or_default();
    format!("{} = {text}", symbol_plain(calculation.outcome.symbol))
}

fn explain(calculation: &'static Calculation, out: &mut Out) {
    out.line(&format!("{}\n{}\n\n  {}\n", calculation.title, calculation.says, symbolic(calculation)));
    for one in calculation.parameters {
        let range = format!("{} to {} {}", one.least, one.most, one.unit);
        out.line(&format!(
            "  {:<18} {:<4} {} ({}{})",
            one.name,
            symbol_plain(one.symbol),
            one.says,
            range.trim_end(),
            if one.many { ", a series" } else { "" }
        ));
    }
    let outcome = &calculation.outcome;
    out.line(&format!(
        "\n  gives {} in {}, a {}",
        symbol_plain(outcome.symbol),
        named(outcome.unit),
        outcome.kind.word().replace('-', " ")
    ));
    if let Some(when) = calculation.no_result_when {
        out.line(&format!("  no result when {when}"));
    }
    out.line(&format!("  Source: {}\n\n  Usual wrong turns", calculation.source));
    for turn in calculation.wrong_turns {
        out.line(&format!("  {:<26} {}", turn.name, turn.because));
    }
    let given = |one: &Parameter| {
        if one.many { format!("{}='…; …; …'", one.name) } else { format!("{}=…", one.name) }
    };
    let names: Vec<String> = calculation.parameters.iter().map(given).collect();
    out.line(&format!("\n  gearside work {} {}", calculation.name, names.join(" ")));
}

/// The same as data.
fn explanation(calculation: &'static Calculation) -> serde_json::Value {
    let parameter = |one: &Parameter| {
        serde_json::json!({
            "name": one.name, "symbol": one.symbol, "says": one.says, "unit": one.unit,
            "least": one.least, "most": one.most, "series": one.many,
        })
    };
    let outcome = &calculation.outcome;
    serde_json::json!({
        "name": calculation.name,
        "title": calculation.title,
        "topic": calculation.topic.title(),
        "says": calculation.says,
        "formula": symbolic(calculation),
        "parameters": calculation.parameters.iter().map(parameter).collect::<Vec<_>>(),
        "outcome": { "symbol": outcome.symbol, "unit": outcome.unit, "quantity": outcome.kind.word(), "least": outcome.least, "most": outcome.most },
        "no_result_when": calculation.no_result_when,
        "wrong_turns": calculation.wrong_turns.iter().map(|turn| serde_json::json!({ "name": turn.name, "is": turn.is, "because": turn.because })).collect::<Vec<_>>(),
        "source": calculation.source,
    })
}

fn named(unit: &str) -> &str {
    if unit.is_empty() { "plain numbers" } else { unit }
}

/// A worked calculation.
struct Worked {
    calculation: &'static Calculation,
    arguments: Vec<(&'static Parameter, Vec<f64>, String)>,
    result_si: f64,
    unit: &'static Unit,
    remarks: Vec<String>,
    mark: DecimalMark,
}

fn work_out(
    calculation: &'static Calculation,
    arguments: &WorkArguments,
    mark: DecimalMark,
) -> Result<Worked, (String, String)> {
    let mut values: Vec<Option<(Vec<f64>, String)>> = vec![None; calculation.parameters.len()];
    let names = || calculation.parameters.iter().map(|one| one.name);
    for text in &arguments.values {
        let (name, typed) = text.split_once('=').ok_or_else(|| {
            (
                format!("`{text}` is not name=value"),
                format!("the names are: {}", names().collect::<Vec<_>>().join(", ")),
            )
        })?;
        let index = calculation.parameters.iter().position(|one| one.name == name.trim()).ok_or_else(|| {
            let mend = nearest_name(name, names()).map_or_else(
                || format!("it takes: {}", names().collect::<Vec<_>>().join(", ")),
                |near| format!("did you mean `{near}`?"),
            );
            (format!("`{}` takes no `{name}`", calculation.name), mend)
        })?;
        if values[index].is_some() {
            return Err((format!("`{name}` is given twice"), "give it once".to_owned()));
        }
        values[index] = Some(values_of(&calculation.parameters[index], typed, mark)?);
    }
    let mut read = Vec::new();
    for (parameter, value) in calculation.parameters.iter().zip(values) {
        let (si, echo) = value.ok_or_else(|| {
            (
                format!("`{}` is missing: {}", parameter.name, parameter.says),
                format!("add {}=… in {} or any unit that fits", parameter.name, named(parameter.unit)),
            )
        })?;
        read.push((parameter, si, echo));
    }
    let list: Vec<&[f64]> = read.iter().map(|(_, si, _)| si.as_slice()).collect();
    let result_si = (calculation.compute)(&list);
    if !result_si.is_finite() {
        return Err(("there is no result for these values".to_owned(), no_result(calculation, &list)));
    }
    let remarks = calculation.remarks(&list, result_si);
    let usual = unit(calculation.outcome.unit)
        .map_err(|unknown| (format!("`{}` is not a unit known here", unknown.text), String::new()))?;
    Ok(Worked {
        calculation,
        arguments: read,
        result_si,
        unit: result_unit(arguments.unit.as_deref(), usual)?,
        remarks,
        mark,
    })
}

/// Why there may be no result.
fn no_result(calculation: &Calculation, values_si: &[&[f64]]) -> String {
    let mut remarks = calculation.remarks(values_si, 0.0);
    remarks.retain(|remark| !remark.contains("for the result ("));
    let when = calculation.no_result_when.map(|when| format!("`{}` has none when {when}", calculation.name));
    let reasons: Vec<String> = when.into_iter().chain(remarks).collect();
    if reasons.is_empty() {
        "look for a division by zero, or a root of less than nothing".to_owned()
    } else {
        reasons.join("; ")
    }
}

/// The typed value or values of a parameter, in SI and as they were read.
fn values_of(
    parameter: &'static Parameter,
    typed: &str,
    mark: DecimalMark,
) -> Result<(Vec<f64>, String), (String, String)> {
    if !parameter.many {
        return one_value(parameter, typed, mark).map(|(si, echo)| (vec![si], echo));
    }
    let pieces: Vec<&str> =
        if typed.contains(';') { typed.split(';').collect() } else { typed.split_whitespace().collect() };
    let pieces = pieces.into_iter().filter(|piece| !piece.trim().is_empty());
    let read = pieces.map(|piece| one_value(parameter, piece.trim(), mark)).collect::<Result<Vec<_>, _>>();
    let read = read.map_err(|(message, mend)| (message, format!("{mend}; put `;` between the values")))?;
    if read.is_empty() {
        let mend = format!("write {}='1; 2; 3', with `;` between the values", parameter.name);
        return Err((format!("`{}` has no values", parameter.name), mend));
    }
    let (si, echoes): (Vec<f64>, Vec<String>) = read.into_iter().unzip();
    Ok((si, echoes.join("; ")))
}

/// One typed value, in SI and as it was read.
fn one_value(parameter: &'static Parameter, typed: &str, mark: DecimalMark) -> Result<(f64, String), (String, String)> {
    let asked = unit(parameter.unit)
        .map_err(|unknown| (format!("`{}` is not a unit known here", unknown.text), String::new()))?;
    match read(typed, asked, mark) {
        Reading::Value { value, echo } => Ok((asked.to_si(value), echo)),
        Reading::Blank => Err((
            format!("`{}` has no value", parameter.name),
            format!("write {}=… in {}", parameter.name, named(parameter.unit)),
        )),
        Reading::WrongKind { is, wanted, .. } => Err((
            format!("`{typed}` is {is}; `{}` wants {wanted}", parameter.name),
            format!("give it in {} or any unit that fits", named(parameter.unit)),
        )),
        Reading::UnknownUnit { text, near } => Err((
            format!("`{text}` in `{typed}` is not a unit known here"),
            near.map_or_else(
                || format!("give it in {}", named(parameter.unit)),
                |near| format!("did you mean `{near}`?"),
            ),
        )),
        Reading::Unreadable { why } => Err((
            format!("`{typed}` cannot be read: {why}"),
            format!("write a number and a unit, such as 1.5 {}", parameter.unit).trim_end().to_owned(),
        )),
    }
}

fn result_unit(wanted: Option<&str>, usual: &'static Unit) -> Result<&'static Unit, (String, String)> {
    let Some(text) = wanted else { return Ok(usual) };
    let found = unit_where(text, |one| one.dimension == usual.dimension).map_err(|unknown| {
        (
            format!("`{text}` is not a unit known here"),
            unknown.near.map_or_else(
                || format!("the usual unit is {}", named(usual.name)),
                |near| format!("did you mean `{near}`?"),
            ),
        )
    })?;
    if found.dimension == usual.dimension {
        Ok(found)
    } else {
        Err((
            format!("the result is {}; `{text}` measures {}", usual.dimension, found.dimension),
            format!("the usual unit is {}", named(usual.name)),
        ))
    }
}

/// A value to five figures, as people write it.
fn figures(value: f64, mark: DecimalMark) -> String {
    #[expect(clippy::cast_possible_truncation, reason = "the exponent of a double is small")]
    let lead = if value == 0.0 { 0 } else { libm::floor(libm::log10(value.abs())) as i32 };
    let places = usize::try_from(4 - lead).unwrap_or(0).min(12);
    let step = if places == 0 { "1".to_owned() } else { format!("0.{}1", "0".repeat(places - 1)) };
    let text = number(Decimal::parse(&step).unwrap_or(Decimal::whole(1)).nearest(value), mark);
    let point = if mark == DecimalMark::Comma { ',' } else { '.' };
    if text.contains(point) { text.trim_end_matches('0').trim_end_matches(point).to_owned() } else { text }
}

impl Worked {
    fn result(&self) -> String {
        format!("{} {}", figures(self.unit.from_si(self.result_si), self.mark), self.unit.name).trim_end().to_owned()
    }

    fn print(&self, out: &mut Out) {
        let calculation = self.calculation;
        let symbol = symbol_plain(calculation.outcome.symbol);
        out.line(&format!("{}\n", calculation.title));
        for (parameter, si, echo) in &self.arguments {
            let usual = unit(parameter.unit)
                .map(|unit| {
                    let list: Vec<String> = si.iter().map(|si| figures(unit.from_si(*si), self.mark)).collect();
                    format!("{} {}", list.join("; "), unit.name)
                })
                .unwrap_or_default();
            let same = parameter.many || usual.trim_end() == echo.trim_end();
            out.line(&format!(
                "  {} = {echo}{}   {}",
                symbol_plain(parameter.symbol),
                if same || echo.contains("that is") { String::new() } else { format!(" = {}", usual.trim_end()) },
                parameter.says
            ));
        }
        out.line(&format!("  {}", symbolic(calculation)));
        let echo_of = |name: &str| {
            self.arguments.iter().find(|(parameter, ..)| parameter.name == name).map_or_else(
                || name.to_owned(),
                |(_, _, echo)| echo.split(", that is").next().unwrap_or_default().to_owned(),
            )
        };
        if let Some(parsed) = formula(calculation) {
            out.line(&format!("  {symbol} = {}", plain_text_with(&parsed, &echo_of)));
        }
        out.line(&format!("  {symbol} = {}", self.result()));
        for remark in &self.remarks {
            out.line(&format!("\n  Remark: {remark}"));
        }
        out.line(&format!("\n  Source: {}", calculation.source));
    }

    fn json(&self) -> serde_json::Value {
        serde_json::json!({
            "calculation": self.calculation.name,
            "formula": symbolic(self.calculation),
            "arguments": self.arguments.iter().map(|(parameter, si, echo)| serde_json::json!({ "name": parameter.name, "read": echo, "si": if parameter.many { serde_json::json!(si) } else { serde_json::json!(si.first()) } })).collect::<Vec<_>>(),
            "result": { "value": self.unit.from_si(self.result_si), "unit": self.unit.name, "written": self.result() },
            "remarks": self.remarks,
            "source": self.calculation.source,
        })
    }
}

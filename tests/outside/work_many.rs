//! Works out many calculations for a program outside: one JSON object a line
//! on standard input, one JSON number (or `null`) a line on standard output.
//!
//! `{"calculation": "chroma", "arguments": [[3], [4]]}` gives the result in SI;
//! `{"value": 1, "from": "in", "to": "mm"}` converts; `{"units": true}` lists
//! the units with their dimension.

use std::io::{BufRead, BufWriter, Write};

use gearside::measure::{UNITS, unit};
use gearside::trade::calculation;
use serde_json::{Value, json};

fn numbers(list: &Value) -> Vec<f64> {
    list.as_array().map(|list| list.iter().map(|one| one.as_f64().unwrap_or(f64::NAN)).collect()).unwrap_or_default()
}

fn worked(name: &str, arguments: &Value) -> Option<f64> {
    let arguments: Vec<Vec<f64>> = arguments.as_array()?.iter().map(numbers).collect();
    let slices: Vec<&[f64]> = arguments.iter().map(Vec::as_slice).collect();
    Some((calculation(name)?.compute)(&slices))
}

fn converted(value: &Value, from: &Value, to: &Value) -> Option<f64> {
    let (from, to) = (unit(from.as_str()?).ok()?, unit(to.as_str()?).ok()?);
    (from.dimension == to.dimension).then(|| from.to_si(value.as_f64().unwrap_or(f64::NAN))).map(|si| to.from_si(si))
}

fn answer(request: &Value) -> Value {
    if request.get("units").is_some() {
        return UNITS.iter().map(|unit| json!({ "name": unit.name, "dimension": unit.dimension.key() })).collect();
    }
    let number = match request.get("calculation").and_then(Value::as_str) {
        Some(name) => worked(name, &request["arguments"]),
        None => converted(&request["value"], &request["from"], &request["to"]),
    };
    json!(number)
}

fn main() -> std::io::Result<()> {
    let mut out = BufWriter::new(std::io::stdout().lock());
    for line in std::io::stdin().lock().lines() {
        let request = serde_json::from_str(&line?).unwrap_or(Value::Null);
        writeln!(out, "{}", answer(&request))?;
    }
    out.flush()
}

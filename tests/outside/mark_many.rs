//! Works out the statistics of many classes for a program outside: one JSON
//! object a line on standard input, `{"marks": [[1, 0.5, null], …]}` with a row
//! for each taker, or `{"judges": [[0.8, …], …]}`; one JSON object a line on
//! standard output. What is not defined is its reason in words.

use std::io::{BufRead, BufWriter, Write};

use gearside::marking::statistics::{
    Answers, WhyNot, alpha, alpha_without, correlation_interval, error_of_measurement, expected_cut, rest_correlation,
    wilson,
};
use serde_json::{Value, json};

fn row(value: &Value) -> Vec<Option<f64>> {
    value.as_array().map(|list| list.iter().map(Value::as_f64).collect()).unwrap_or_default()
}

fn said(value: Result<f64, WhyNot>) -> Value {
    value.map_or_else(|why| json!(why.words()), |value| json!(value))
}

fn class(marks: &[Value]) -> Value {
    let rows: Vec<Vec<Option<f64>>> = marks.iter().map(row).collect();
    let exercises = rows.first().map_or(0, Vec::len);
    let Ok(answers) = Answers::new(exercises, rows) else { return Value::Null };
    let common = answers.common().len();
    let of_each = |each: &dyn Fn(usize) -> Value| (0..exercises).map(each).collect::<Value>();
    let found = alpha(&answers);
    json!({
        "wilson": of_each(&|one| {
            let marks = answers.on(one);
            let interval = wilson(marks.iter().sum(), marks.len());
            json!([interval.lo, interval.hi])
        }),
        "rest_correlation": of_each(&|one| said(rest_correlation(&answers, one))),
        "fisher": of_each(&|one| rest_correlation(&answers, one).map_or(Value::Null, |r| {
            let interval = correlation_interval(r, common);
            json!([interval.lo, interval.hi])
        })),
        "alpha": said(found.clone().map(|found| found.alpha)),
        "alpha_error": said(found.map(|found| found.standard_error)),
        "alpha_without": of_each(&|one| said(alpha_without(&answers, one))),
        "measurement_error": said(error_of_measurement(&answers)),
    })
}

fn cut(judges: &[Value]) -> Value {
    let judges: Vec<Vec<f64>> = judges.iter().map(|one| row(one).into_iter().flatten().collect()).collect();
    expected_cut(&judges).map_or(
        Value::Null,
        |cut| json!({ "cut": cut.cut, "spread": said(cut.spread), "standard_error": said(cut.standard_error) }),
    )
}

fn main() -> std::io::Result<()> {
    let mut out = BufWriter::new(std::io::stdout().lock());
    for line in std::io::stdin().lock().lines() {
        let request: Value = serde_json::from_str(&line?).unwrap_or(Value::Null);
        let answer = match (request["marks"].as_array(), request["judges"].as_array()) {
            (Some(marks), _) => class(marks),
            (None, Some(judges)) => cut(judges),
            (None, None) => Value::Null,
        };
        writeln!(out, "{answer}")?;
    }
    out.flush()
}

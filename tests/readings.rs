//! Typed answers and what they are read as, written by hand from the rules;
//! the page script is run on the same list.

use gearside::measure::{DecimalMark, Reading, read, unit};
use serde::Deserialize;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Expected {
    typed: String,
    asked: String,
    decimal: String,
    outcome: String,
    value: Option<f64>,
    echo: Option<String>,
    /// Absent: not looked at; empty: no near name.
    near: Option<String>,
}

fn vectors() -> Vec<Expected> {
    serde_json::from_str(include_str!("vectors/readings.json")).expect("readings.json is a list of readings")
}

/// What differs between a reading and what was expected of it.
fn difference(row: &Expected) -> Option<String> {
    let asked = unit(&row.asked).expect("a known unit is asked");
    let mark = if row.decimal == "," { DecimalMark::Comma } else { DecimalMark::Point };
    let reading = read(&row.typed, asked, mark);
    let same = match (&reading, row.outcome.as_str()) {
        (Reading::Blank, "blank")
        | (Reading::WrongKind { .. }, "wrong-kind")
        | (Reading::Unreadable { .. }, "unreadable") => true,
        (Reading::Value { value, echo }, "value") => {
            let want = row.value.expect("a value is expected");
            (value - want).abs() <= 1e-12 * want.abs() && Some(echo) == row.echo.as_ref()
        }
        (Reading::UnknownUnit { near, .. }, "unknown-unit") => {
            row.near.as_ref().is_none_or(|want| want == near.unwrap_or_default())
        }
        _ => false,
    };
    (!same).then(|| format!("{row:?}\n  was read as {reading:?}"))
}

#[test]
fn typed_answers_are_read_as_the_rules_say() {
    let rows = vectors();
    assert!(rows.len() >= 170, "{} readings", rows.len());
    let differences: Vec<String> = rows.iter().filter_map(difference).collect();
    assert!(differences.is_empty(), "{} of {}:\n{}", differences.len(), rows.len(), differences.join("\n"));
}

//! Values from outside hold for the catalogue.
//!
//! Each file of `tests/reference/` is one source, with its provenance in the
//! lines that begin with `#`. A row is a calculation, its inputs as
//! `name=value unit; …` (a series with `|` between its values), the expected value with its
//! unit, the tolerance in that unit, and a note. Fields hold no commas.

use std::fs;
use std::path::{Path, PathBuf};

use gearside::measure::{Quantity, unit};
use gearside::trade::{calculation, calculations};
use proptest::prelude::*;

/// Fewer rows than this mean that a file was lost.
const LEAST_ROWS: usize = 1250;

struct Row {
    /// File and line, for messages.
    place: String,
    calculation: String,
    inputs: String,
    expected: String,
    tolerance: f64,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference")
}

#[expect(clippy::disallowed_methods, reason = "a test reads its own files; a panic names them")]
fn rows() -> Vec<Row> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder())
        .expect("tests/reference is a folder")
        .map(|entry| entry.expect("its entries can be read").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "csv"))
        .collect();
    paths.sort();
    paths.iter().flat_map(|path| rows_of(path, &fs::read_to_string(path).expect("a CSV file is text"))).collect()
}

fn rows_of(path: &Path, text: &str) -> Vec<Row> {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    for said in ["# source: ", "# kind: ", "# licence: ", "# tolerance: "] {
        assert!(text.lines().any(|line| line.starts_with(said)), "{name}: no line `{said}…`");
    }
    let mut lines = text.lines().enumerate().filter(|(_, line)| !line.starts_with('#'));
    let header = lines.next().map(|(_, line)| line);
    assert_eq!(header, Some("calculation,inputs,expected,tolerance,note"), "{name}");
    lines
        .map(|(index, line)| {
            let place = format!("{name}:{}", index + 1);
            let fields: Vec<&str> = line.split(',').collect();
            let [calculation, inputs, expected, tolerance, note] = fields[..] else {
                panic!("{place}: {} fields, not 5: {line}", fields.len());
            };
            assert!(!note.is_empty(), "{place}: a row says where it comes from");
            let tolerance = tolerance.parse().unwrap_or_else(|_| panic!("{place}: `{tolerance}` is no tolerance"));
            Row {
                place,
                calculation: calculation.to_owned(),
                inputs: inputs.to_owned(),
                expected: expected.to_owned(),
                tolerance,
            }
        })
        .collect()
}

/// What is wrong with a row, if anything.
fn fault_of(row: &Row) -> Option<String> {
    let Some(known) = calculation(&row.calculation) else { return Some("no such calculation".to_owned()) };
    let inputs: Vec<(&str, &str)> = row.inputs.split("; ").filter_map(|input| input.split_once('=')).collect();
    if inputs.len() != known.parameters.len() {
        return Some(format!("{} inputs, but {} parameters", inputs.len(), known.parameters.len()));
    }
    let mut args: Vec<Vec<f64>> = Vec::new();
    for parameter in known.parameters {
        let Some((_, text)) = inputs.iter().find(|(name, _)| *name == parameter.name) else {
            return Some(format!("no input `{}`", parameter.name));
        };
        let read: Result<Vec<f64>, String> =
            text.split('|').map(|one| read(one, parameter.unit).map(|quantity| quantity.si)).collect();
        match read {
            Ok(values) => args.push(values),
            Err(message) => return Some(message),
        }
    }
    let expected = match read(&row.expected, known.outcome.unit) {
        Ok(expected) => expected,
        Err(message) => return Some(message),
    };
    let wanted = expected.number.value();
    if row.tolerance <= 0.0 || (wanted != 0.0 && row.tolerance > 0.06 * wanted.abs()) {
        return Some(format!("a tolerance of {} says nothing about {}", row.tolerance, row.expected));
    }
    let slices: Vec<&[f64]> = args.iter().map(Vec::as_slice).collect();
    let got = expected.unit.from_si((known.compute)(&slices));
    let near = (got - wanted).abs() <= row.tolerance;
    (!near).then(|| format!("{got} {}, expected {} within {}", expected.unit.name, row.expected, row.tolerance))
}

/// A quantity of the dimension of `like`.
fn read(text: &str, like: &str) -> Result<Quantity, String> {
    let like = unit(like).map_err(|unknown| format!("{unknown:?}"))?;
    let quantity =
        Quantity::parse_wanting(text, Some(like.dimension)).map_err(|fault| format!("`{text}`: {fault:?}"))?;
    if quantity.unit.dimension != like.dimension {
        return Err(format!("`{text}` is {}, not {}", quantity.unit.dimension, like.dimension));
    }
    Ok(quantity)
}

#[test]
fn every_row_from_outside_holds() {
    let rows = rows();
    assert!(rows.len() >= LEAST_ROWS, "only {} rows", rows.len());
    let faults: Vec<String> = rows
        .iter()
        .filter_map(|row| {
            fault_of(row).map(|fault| format!("{}: {}({}): {fault}", row.place, row.calculation, row.inputs))
        })
        .collect();
    assert!(faults.is_empty(), "{} of {} rows fail:\n{}", faults.len(), rows.len(), faults.join("\n"));
}

#[test]
fn every_calculation_has_a_row_from_outside() {
    let rows = rows();
    let without: Vec<&str> = calculations()
        .map(|calculation| calculation.name)
        .filter(|name| !rows.iter().any(|row| row.calculation == *name))
        .collect();
    assert!(without.is_empty(), "no row from outside for: {}", without.join(", "));
}

proptest! {
    #[test]
    fn cup_seconds_come_back_from_the_catalogue(share in 0.0_f64..1.0) {
        for (there, back) in [("zahn_2", "zahn_2_seconds"), ("zahn_3", "zahn_3_seconds"), ("ford_4", "ford_4_seconds")] {
            let there = calculation(there).expect("in the catalogue");
            let back = calculation(back).expect("in the catalogue");
            let cup = &there.parameters[0];
            prop_assert_eq!(cup.unit, back.outcome.unit);
            let seconds = cup.least + share * (cup.most - cup.least);
            let viscosity = there.of(&[seconds]);
            prop_assert!(back.in_range(&[&[viscosity]], seconds), "{} s gives {} m²/s", seconds, viscosity);
            let again = back.of(&[viscosity]);
            prop_assert!((again - seconds).abs() < 1e-9, "{} of {}: {}", there.name, seconds, again);
        }
    }
}

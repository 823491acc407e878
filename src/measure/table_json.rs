//! The unit table as the page script gets it.

use serde_json::{Value, json};

use super::table::UNITS;
use super::writing::DecimalMark;

/// The table for `Reading.load` in `site-template/reading.js`, as JSON: the
/// programme's decimal mark and per unit its name, spellings, kind, dimension
/// key (the cup's name for cup seconds), factor and, where they say something,
/// `offset`, `one` (the name behind a bare 1) and `cup`.
///
/// ```
/// use gearside::measure::{DecimalMark, reading_table_json};
/// let table: serde_json::Value = serde_json::from_str(&reading_table_json(DecimalMark::Point)).unwrap();
/// assert_eq!(table["decimal"], ".");
/// assert_eq!(table["units"][0]["name"], "");
/// ```
#[must_use]
pub fn reading_table_json(mark: DecimalMark) -> String {
    let units: Vec<Value> = UNITS
        .iter()
        .map(|unit| {
            let mut row = json!({
                "name": unit.name,
                "spellings": unit.spellings,
                "kind": unit.kind(),
                "dimension": unit.dimension.key(),
                "factor": unit.factor,
            });
            if unit.is_point() {
                row["offset"] = json!(unit.offset);
            }
            if unit.singular() != unit.name {
                row["one"] = json!(unit.singular());
            }
            if unit.dimension.cup.is_some() {
                row["cup"] = json!(true);
            }
            row
        })
        .collect();
    json!({ "decimal": mark.sign().to_string(), "units": units }).to_string()
}

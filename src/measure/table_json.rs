//! The unit table as the page script gets it.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::table::UNITS;
use super::writing::DecimalMark;
use crate::ground::language::spoken;

/// The table for `Reading.load` in `site-template/reading.js`, as JSON: the
/// programme's decimal mark, the texts that say how something was read, and per unit its name, spellings, kind, dimension
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
                "kind": unit.kind_said(),
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
    let language = spoken();
    let why: BTreeMap<&str, String> = language
        .texts()
        .keys()
        .filter_map(|key| Some((key.strip_prefix("reading.")?, language.say(key, &[]))))
        .collect();
    json!({ "decimal": mark.sign().to_string(), "why": why, "that_is": why["that-is"], "units": units }).to_string()
}

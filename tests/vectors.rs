//! The vectors shared with the page script: what Chromium runs, Rust runs too.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

use std::fs;
use std::path::Path;

use gearside::marking::{
    General, GeneralInterval, Interval, Pair, PartKey, TurnInterval, Verdict, mark_order, mark_rounds, numeric,
};
use gearside::measure::{DecimalMark, read, unit};
use gearside::programme::Ways;
use serde_json::Value;

fn rows(name: &str) -> Vec<Value> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/vectors").join(name);
    serde_json::from_str(&fs::read_to_string(path).expect("the vectors")).expect("a list of rows")
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn indexes(value: &Value) -> Vec<usize> {
    value
        .as_array()
        .map(|list| list.iter().map(|one| usize::try_from(one.as_u64().expect("an index")).expect("small")).collect())
        .unwrap_or_default()
}

fn part(value: &Value) -> PartKey {
    let list = |key: &str| value[key].as_array().cloned().unwrap_or_default();
    PartKey {
        right: Interval { lo: number(&value["right"][0]), hi: number(&value["right"][1]) },
        turns: list("turns")
            .iter()
            .map(|turn| TurnInterval {
                at: number(&turn["at"]),
                lo: number(&turn["lo"]),
                hi: number(&turn["hi"]),
                because: indexes(&turn["because"]),
            })
            .collect(),
        general: list("general")
            .iter()
            .map(|one| GeneralInterval {
                says: General::ALL.into_iter().find(|known| one["says"] == known.name()).expect("a known general way"),
                lo: number(&one["lo"]),
                hi: number(&one["hi"]),
            })
            .collect(),
    }
}

#[test]
fn typed_numbers_are_marked_as_the_page_marks_them() {
    let rows = rows("marks.json");
    assert!(rows.len() >= 40, "only {} rows", rows.len());
    for row in &rows {
        let asked = unit(row["asked"].as_str().expect("a unit")).expect("a known unit");
        let mark = if row["decimal"] == "," { DecimalMark::Comma } else { DecimalMark::Point };
        let verdict = numeric(&read(row["typed"].as_str().expect("a text"), asked, mark), &part(&row["part"]));
        assert_eq!(row["verdict"], verdict.name(), "{row}");
        match &verdict {
            Verdict::WrongTurn(because) => assert_eq!(indexes(&row["because"]), *because, "{row}"),
            Verdict::General(says) => assert_eq!(row["says"], says.name(), "{row}"),
            _ => {}
        }
    }
}

#[test]
fn orders_are_marked_as_the_page_marks_them() {
    let rows = rows("orders.json");
    assert!(rows.len() >= 25, "only {} rows", rows.len());
    for row in &rows {
        let pairs: Vec<Pair> = row["pull"]["pairs"]
            .as_array()
            .expect("pairs")
            .iter()
            .map(|pair| Pair {
                first: indexes(&Value::from(vec![pair["first"].clone()]))[0],
                then: indexes(&Value::from(vec![pair["then"].clone()]))[0],
                safety: pair["safety"] == true,
                because: indexes(&pair["because"]),
            })
            .collect();
        let marked = mark_order(&indexes(&row["given"]), &pairs);
        assert!((marked.mark - number(&row["mark"])).abs() < 1e-12, "{row}: {}", marked.mark);
        assert_eq!(marked.broken, indexes(&row["broken"]), "{row}");
        assert_eq!(marked.hold, row["hold"] == true, "{row}");
    }
}

#[test]
fn rounds_are_marked_as_the_page_marks_them() {
    let rows = rows("rounds.json");
    assert!(rows.len() >= 15, "only {} rows", rows.len());
    let bools =
        |value: &Value| -> Vec<bool> { value.as_array().expect("a list").iter().map(|one| *one == true).collect() };
    for row in &rows {
        // The page numbers samples from 1.
        let leads = row["table"]["leads"].as_array().expect("a table").iter();
        let leads = leads.map(|leads| indexes(leads).into_iter().map(|sample| sample - 1).collect());
        let ways = Ways {
            leads: leads.collect(),
            right: bools(&row["table"]["right"]),
            not_safe: bools(&row["table"]["unsafe"]),
        };
        let start = indexes(&Value::from(vec![row["start"].clone()]))[0] - 1;
        let marked = mark_rounds(&indexes(&row["given"]), start, &ways);
        assert!((marked.mark - number(&row["mark"])).abs() < 1e-12, "{row}: {}", marked.mark);
        let path: Vec<usize> = std::iter::once(start).chain(marked.path).map(|state| state + 1).collect();
        assert_eq!(path, indexes(&row["path"]), "{row}");
        assert_eq!((marked.ends_right, marked.hold), (row["right"] == true, row["hold"] == true), "{row}");
        let known = row["table"]["fewest"].as_array().expect("a list")[start].as_array().expect("moves").len();
        assert_eq!(marked.fewest.len(), known, "{row}");
    }
}

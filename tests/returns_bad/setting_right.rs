//! `gearside record correct FACT mark=…`, as the instructor types it.

use std::fs;

use crate::sitting::{Class, facts};
use crate::{answered, marked, sitting_of};

/// A row of `marks.csv` by the names of its columns.
type Row = std::collections::BTreeMap<String, String>;

/// The marks that are given back of a person.
fn given_back(class: &Class, person: &str) -> Vec<Row> {
    let text = fs::read_to_string(class.folder.join("out/mark/week-12/marks.csv")).expect("a table");
    let mut reader = csv::Reader::from_reader(text.trim_start_matches('\u{feff}').as_bytes());
    reader.deserialize().map(|row| row.expect("a row")).filter(|row: &Row| row["person"] == person).collect()
}

fn correct(class: &Class, fact: &str, more: &[&str]) -> (i32, String) {
    let (status, _, err) = class.run(&[&["record", "correct", fact], more].concat());
    (status, err)
}

/// A class of three, one of whom was wrong in the calculation; and the row of that mark.
fn marked_class() -> (Class, Row) {
    let class = sitting_of(3);
    for number in 1..=3 {
        class.save(&format!("{number}.json"), &answered(&class, number, "123456 µm").to_string());
    }
    assert_eq!(marked(&class, &["returns"]).0, 0);
    let row = given_back(&class, "a-01").into_iter().find(|row| row["exercise"] == "film-on-the-web").expect("a mark");
    assert_eq!(row["mark"], "0");
    (class, row)
}

#[test]
fn a_mark_set_right_shows_in_the_docket_the_table_the_statistics_and_the_evidence() {
    let (class, row) = marked_class();
    let (fact, exercise) = (row["fact"].clone(), row["exercise"].clone());
    let mean = |class: &Class| -> f64 {
        let value = marked(class, &[]).1;
        let all = value["learned"]["exercises"].as_array().expect("a list");
        let one = all.iter().find(|one| one["exercise"] == exercise.as_str()).expect("the exercise");
        one["statistics"]["difficulty"].as_f64().expect("a mean")
    };
    let board = |class: &Class| {
        assert_eq!(class.run(&["board"]).0, 0);
        fs::read_to_string(class.folder.join("out/board/board.csv")).expect("a table")
    };
    let before = (mean(&class), board(&class));
    let (status, err) = correct(&class, &fact, &["mark=1", "--why", "the unit on the <b>board</b> was wrong"]);
    assert_eq!(status, 0, "{err}");
    assert!(err.contains("gearside mark week-12"), "it says how to give that back: {err}");
    // One of three is right now; nothing else of the quiz changed.
    assert!((mean(&class) - before.0 - 1.0 / 3.0).abs() < 1e-9, "{} {}", mean(&class), before.0);
    let after = given_back(&class, "a-01").into_iter().find(|row| row["exercise"] == exercise).expect("a mark");
    assert_eq!((after["mark"].as_str(), after["verdict"].as_str()), ("1", "right"));
    assert_ne!(after["fact"], fact, "the fact that now counts is named");
    let page = fs::read_to_string(class.folder.join("out/mark/week-12/marked-a-01.html")).expect("a page");
    assert!(page.contains("Set right by your instructor") && page.contains(&format!("<dd>{}</dd>", after["fact"])));
    assert!(page.contains("the unit on the &lt;b&gt;board&lt;/b&gt; was wrong"), "the reason is text");
    for other in ["a-02", "a-03"] {
        let page =
            fs::read_to_string(class.folder.join(format!("out/mark/week-12/marked-{other}.html"))).expect("a page");
        assert!(!page.contains("Set right") && !page.contains("the unit on the"), "{other} reads of it");
    }
    assert_ne!(board(&class), before.1, "the board rests on the mark as it now is");
    // The same folder marked again keeps the mark that was set right.
    let (status, value, _) = marked(&class, &["returns"]);
    assert_eq!((status, &value["facts"]), (0, &0.into()));
    let again = given_back(&class, "a-01").into_iter().find(|row| row["exercise"] == exercise).expect("a mark");
    assert_eq!(again, after);
    assert_eq!(class.run(&["audit"]).0, 0);
}

#[test]
fn half_a_mark_may_be_given_and_be_set_right_once_more() {
    let (class, row) = marked_class();
    assert_eq!(correct(&class, &row["fact"], &["mark=0.5", "--why", "half of it is sound"]).0, 0);
    let (status, err) = correct(&class, &row["fact"], &["mark=1", "--why", "all of it"]);
    assert!(status == 1 && err.contains("counts no more") && err.contains("override that one"), "{err}");
    assert_eq!(marked(&class, &[]).0, 0);
    let now = |class: &Class| {
        given_back(class, "a-01").into_iter().find(|one| one["exercise"] == row["exercise"]).expect("a mark")
    };
    assert_eq!(now(&class)["mark"], "0.5");
    assert_eq!(correct(&class, &now(&class)["fact"], &["mark=25 %", "--why", "less of it"]).0, 0);
    // A closed quiz takes no returns, and its marks can still be set right.
    assert_eq!(marked(&class, &["--close"]).0, 0);
    assert_eq!(now(&class)["mark"], "0.25");
    assert_eq!(correct(&class, &now(&class)["fact"], &["mark=0", "--why", "none of it"]).0, 0);
    assert_eq!(marked(&class, &[]).0, 0);
    assert_eq!(now(&class)["mark"], "0");
}

#[test]
fn a_correction_that_makes_no_sense_is_refused_and_records_nothing() {
    let (class, row) = marked_class();
    let fact = row["fact"].as_str();
    let before = facts(&class.records()).len();
    let kinds: Vec<(u64, String)> = facts(&class.records()).into_iter().map(|link| (link.seq, link.kind)).collect();
    let of = |kind: &str| kinds.iter().find(|(_, one)| one == kind).expect("a fact").0.to_string();
    let (taken, issued, person) = (of("return-taken"), of("quiz-issued"), of("person"));
    let (why, none) = (&["--why", "because"][..], &[][..]);
    for (fact, change, reason, status, said) in [
        (fact, "mark=0.5", none, 2, "--why"),
        (fact, "mark=0.5", &["--why", " "], 1, "reason"),
        (fact, "mark=1.01", why, 1, "more than the whole"),
        (fact, "mark=101 %", why, 1, "more than the whole"),
        (fact, "mark=5", why, 1, "more than the whole"),
        (fact, "mark=-0.5", why, 1, "not a number"),
        (fact, "mark=NaN", why, 1, "not a number"),
        (fact, "mark=1e-1", why, 1, "not a number"),
        (fact, "mark=0,5", why, 1, "not a number"),
        (fact, "mark=", why, 1, "not a number"),
        (fact, "mark=right", why, 1, "not a number"),
        (fact, "verdict=right", why, 1, "mark=0.5"),
        (fact, "0.5", why, 1, "mark=0.5"),
        (fact, "--strike", why, 1, "not struck out"),
        (&taken, "mark=0.5", why, 1, ""),
        (&issued, "mark=0.5", why, 1, ""),
        (&person, "mark=0.5", why, 1, "no `mark`"),
        ("999999", "mark=0.5", why, 1, "no fact 999999"),
        ("0", "mark=0.5", why, 1, "no fact 0"),
        ("x", "mark=0.5", why, 2, ""),
    ] {
        let (ended, err) = correct(&class, fact, &[&[change], reason].concat());
        assert_eq!(ended, status, "{fact} {change}: {err}");
        assert!(err.contains(said), "{fact} {change}: {err}");
        assert_eq!(facts(&class.records()).len(), before, "{fact} {change}");
    }
    // Someone who learns overrides nothing.
    let (status, err) = correct(&class, fact, &["mark=1", "--why", "mine", "--entered-by", "a-01"]);
    assert!(status == 1 && err.contains("may not"), "{err}");
    let (status, err) = correct(&class, fact, &["mark=1", "--why", "a look", "--dry-run"]);
    assert_eq!((status, facts(&class.records()).len()), (0, before), "{err}");
}

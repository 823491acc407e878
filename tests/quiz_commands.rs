//! The weekly quiz at the command line: issued, built again, taken back, marked, closed.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

mod sitting;

use std::fs;

use serde_json::{Value, json};
use sitting::{Class, bytes};

#[test]
fn an_issued_quiz_is_built_again_to_the_same_bytes_and_a_missing_folder_comes_back() {
    let class = Class::start();
    let issued = class.issue();
    let (open, own) = (class.folder.join("out/quiz/week-12"), class.folder.join("out/quiz/week-12-key"));
    let before = (bytes(&open), bytes(&own));
    assert_eq!(issued["issued"].as_array().expect("a list").len() + 1, before.0.len());
    assert_eq!(class.run(&["quiz", "--again", "week-12"]).0, 0);
    assert!(before == (bytes(&open), bytes(&own)));
    assert_eq!(class.run(&["quiz", "--week", "12"]).0, 2, "it is there already");
    fs::remove_dir_all(&own).expect("removed");
    assert_eq!(class.run(&["quiz", "--week", "12"]).0, 0);
    assert!(before == (bytes(&open), bytes(&own)));
    assert_eq!(class.run(&["audit"]).0, 0);
}

#[test]
fn good_returns_are_marked_once_and_the_others_refused_by_name() {
    let class = Class::start();
    class.issue();
    let good = class.blank_return("docket-a-01.html");
    class.save("good.json", &good.to_string());
    let changed = |key: &str, value: Value| {
        let mut other = class.blank_return("docket-a-02.html");
        other[key] = value;
        other.to_string()
    };
    let whole = class.blank_return("docket-a-02.html").to_string();
    let cases = [
        ("altered.json", changed("shown", json!("0".repeat(64))), "altered"),
        ("foreign.json", changed("docket", json!("0000-0000-0000-0000")), "has no docket"),
        ("else.json", changed("person", json!("a-03")), "a-02's"),
        ("unknown.json", changed("more", json!(1)), "unknown field"),
        ("cut.json", whole[..whole.len() / 2].to_owned(), "cut off"),
        ("junk.json", "x".repeat(10_000_000), "longer than"),
    ];
    for (name, text, _) in &cases {
        class.save(name, text);
    }
    fs::write(class.folder.join("returns/bytes.json"), b"{\"quiz\":\"\xff\"}").expect("a file");
    let (status, _, err) = class.run(&["mark", "week-12", "returns"]);
    assert_eq!(status, 1, "{err}");
    assert!(err.contains("1 taken"), "{err}");
    for (name, _, why) in &cases {
        assert!(err.contains(name) && err.contains(why), "{name}: {err}");
    }
    assert!(err.contains("bytes.json"), "{err}");
    let (status, _, err) = class.run(&["mark", "week-12", "returns/good.json"]);
    assert!(status == 0 && err.contains("0 taken, 1 on record already"), "{err}");
}

#[test]
fn of_two_returns_that_differ_none_is_taken_until_one_is_named_and_a_closed_quiz_takes_none() {
    let class = Class::start();
    class.issue();
    let mut other = class.blank_return("docket-a-01.html");
    class.save("one.json", &other.to_string());
    other["answers"][0][0] = json!("7");
    class.save("two.json", &other.to_string());
    let (status, _, err) = class.run(&["mark", "week-12", "returns"]);
    assert!(status == 1 && err.contains("0 taken") && err.contains("one.json and"), "{err}");
    let (status, _, err) = class.run(&["mark", "week-12", "returns", "--count", "returns/two.json", "--close"]);
    assert!(status == 0 && err.contains("1 taken"), "{err}");
    class.save("three.json", &class.blank_return("docket-a-02.html").to_string());
    let (status, _, err) = class.run(&["mark", "week-12", "returns/three.json"]);
    assert!(status == 1 && err.contains("closed"), "{err}");
}

#[test]
fn a_week_of_the_next_year_has_a_quiz_of_its_own() {
    let class = Class::start();
    let plan = class.folder.join("curriculum/plan.yaml");
    let text = fs::read_to_string(&plan).expect("a plan");
    let starts = text.lines().find_map(|line| line.strip_prefix("starts: ")).expect("a day").trim_matches('"');
    let starts: jiff::civil::Date = starts.parse().expect("a date");
    let next = starts + jiff::Span::new().weeks(52);
    fs::write(&plan, text.replace(&starts.to_string(), &next.to_string())).expect("written");
    let (status, out, err) = class.run(&["quiz", "--week", "3", "--json"]);
    assert_eq!(status, 0, "{err}");
    let issued: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(issued["quiz"], format!("week-3-{}", next.year()), "week-3 is the one of this year");
    assert_eq!(class.run(&["quiz", "--week", "3"]).0, 2, "it is issued already");
    let (status, out, _) = class.run(&["quiz", "--week", "3", "--another", "--json"]);
    let issued: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!((status, &issued["quiz"]), (0, &json!(format!("week-3-{}-2", next.year()))));
}

#[test]
fn a_diagnosis_and_a_wrong_line_come_back_with_two_marks_each() {
    let class = Class::of(1);
    let ids = ["bands-that-stretch", "line-in-a-repeat"];
    class.issue_with(&["--with", ids[0], "--with", ids[1]]);
    let table = class.marking_table();
    let rows: Vec<&str> = table.lines().filter(|row| row.contains("Bands that stretch")).collect();
    assert!(rows.len() == 2 && rows[0].contains(",Cause,") && rows[1].contains(",First check,"), "{rows:?}");
    let rows = table.lines().filter(|row| row.contains("A repeat worked out from the gear")).count();
    assert_eq!(rows, 2, "the line, and what the last one should say");
    class.save("one.json", &class.return_with("docket-a-01.html", |_| "1".to_owned()).to_string());
    let (status, out, err) = class.run(&["mark", "week-12", "returns", "--json"]);
    assert_eq!(status, 0, "{out}{err}");
    let marks = fs::read_to_string(class.folder.join("out/mark/week-12/marks.csv")).expect("a table");
    for id in ids {
        let rows: Vec<&str> = marks.lines().filter(|row| row.contains(id)).collect();
        assert_eq!(rows.len(), 2, "{id}: {marks}");
    }
    assert_eq!(class.run(&["audit"]).0, 0);
}

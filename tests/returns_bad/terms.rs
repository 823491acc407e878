//! Returns that are well-formed and do not say what a docket says.

use serde_json::{Value, json};

use crate::{answered, counted, marked, refusal, sitting_of};

/// Each field of a return with values of wrong types and sizes.
const FIELDS: [&str; 8] = ["gearside", "way", "quiz", "docket", "person", "shown", "answers", "closed_at"];

#[test]
fn each_field_is_needed_once_in_its_own_type_and_no_other_is_known() {
    let class = sitting_of(2);
    class.save("good.json", &answered(&class, 1, "1").to_string());
    let other = answered(&class, 2, "1");
    let mut cases: Vec<(String, String)> = Vec::new();
    for field in FIELDS {
        let mut lacking = other.clone();
        lacking.as_object_mut().expect("a map").remove(field);
        cases.push((format!("lacks-{field}.json"), lacking.to_string()));
        let wrong = [json!(null), json!(true), json!({}), json!([1]), json!(-7), json!([["1"], [1]])];
        for (number, value) in wrong.into_iter().enumerate() {
            let mut changed = other.clone();
            changed[field] = value;
            cases.push((format!("{field}-{number}.json"), changed.to_string()));
        }
        let twice = other.to_string().replacen('{', &format!("{{\"{field}\":{},", other[field]), 1);
        cases.push((format!("twice-{field}.json"), twice));
    }
    for number in ["1e400", "18446744073709551617", "4294967297", "1.0", "2", "-1", "NaN", "0x1"] {
        let text = other.to_string().replace("\"way\":1", &format!("\"way\":{number}"));
        cases.push((format!("number-{number}.json"), text));
    }
    let digits = "9".repeat(100_000);
    cases.push(("way-long.json".to_owned(), other.to_string().replace("\"way\":1", &format!("\"way\":{digits}"))));
    let with = |field: &str, value: Value| {
        let mut changed = other.clone();
        changed[field] = value;
        changed.to_string()
    };
    cases.push(("more.json".to_owned(), with("marks", json!([1]))));
    cases.push(("kind.json".to_owned(), with("gearside", json!("docket"))));
    cases.push(("time.json".to_owned(), with("closed_at", json!("x".repeat(41)))));
    cases.push(("unseen.json".to_owned(), with("shown", json!(""))));
    let values: Vec<&Value> = FIELDS.iter().map(|field| &other[field]).collect();
    cases.push(("row.json".to_owned(), json!(values).to_string()));
    for (name, text) in &cases {
        class.save(name, text);
    }
    let (status, value, faults) = marked(&class, &["returns"]);
    assert_eq!((status, &value["taken"]), (1, &json!(["a-01"])), "{faults:?}");
    for (name, _) in &cases {
        refusal(&faults, &format!("returns/{name}"));
    }
    assert_eq!(faults.len(), cases.len());
    assert_eq!(counted(&class).0, 1);
}

#[test]
fn a_return_of_something_else_is_refused_and_says_of_what() {
    let class = sitting_of(4);
    let good = answered(&class, 1, "1");
    class.save("good.json", &good.to_string());
    let other = answered(&class, 2, "1");
    let with = |changes: &[(&str, Value)]| {
        let mut changed = other.clone();
        for (field, value) in changes {
            changed[*field] = value.clone();
        }
        changed
    };
    // One character of the code written wrong: its last one is worked out from the others.
    let code = other["docket"].as_str().expect("a code");
    let last = if code.ends_with('0') { "1" } else { "0" };
    let slip = format!("{}{last}", &code[..code.len() - 1]);
    let mut fewer = other["answers"].as_array().expect("a list").clone();
    fewer.pop();
    let more = [&other["answers"].as_array().expect("a list")[..], &[json!(["1"])]].concat();
    let elsewhere = sitting_of(1);
    let cases = [
        ("slip.json", with(&[("docket", json!(slip))]), "no docket", "code on the docket"),
        ("elsewhere.json", answered(&elsewhere, 1, "1"), "no docket", "code on the docket"),
        ("quiz.json", with(&[("quiz", json!("week-11"))]), "`week-11`, not of `week-12`", "gearside mark week-11"),
        ("shown.json", with(&[("shown", good["shown"].clone())]), "altered", "--again week-12"),
        ("whose.json", with(&[("person", json!("a-03"))]), "a-02's", "whose answers"),
        ("fewer.json", with(&[("answers", json!(fewer))]), "the docket", "as it is"),
        ("more.json", with(&[("answers", json!(more))]), "the docket", "as it is"),
        ("none.json", with(&[("answers", json!([]))]), "it has 0 answers", "as it is"),
    ];
    for (name, returned, ..) in &cases {
        class.save(name, &returned.to_string());
    }
    let (status, value, faults) = marked(&class, &["returns"]);
    assert_eq!((status, &value["taken"]), (1, &json!(["a-01"])), "{faults:?}");
    for (name, _, why, mend) in &cases {
        let fault = refusal(&faults, &format!("returns/{name}"));
        assert!(fault["message"].as_str().expect("a reason").contains(why), "{fault}");
        assert!(fault["mend"].as_str().expect("a mend").contains(mend), "{fault}");
    }
    // A person's code that is left out is the docket's own.
    class.save("unsaid.json", &with(&[("person", json!(""))]).to_string());
    assert_eq!(marked(&class, &["returns/unsaid.json"]).1["taken"], json!(["a-02"]));
}

#[test]
fn whoever_is_no_apprentice_or_away_on_the_day_is_refused_by_name_and_the_others_are_taken() {
    let class = sitting_of(4);
    let record = |arguments: &[&str]| {
        let (status, _, err) = class.run(&[&["record"], arguments].concat());
        assert_eq!(status, 0, "{arguments:?}: {err}");
    };
    record(&["person", "s-1", "--role", "assessor"]);
    record(&["person", "a-20", "--role", "apprentice", "--from", "2020-01-01", "--until", "2020-12-31"]);
    record(&["leave", "a-03"]);
    for number in 1..=3 {
        class.save(&format!("a-{number}.json"), &answered(&class, number, "1").to_string());
    }
    let blank = |number: usize, person: &str| {
        let mut returned = class.blank_return(&format!("docket-blank-{number:03}.html"));
        returned["person"] = json!(person);
        returned.to_string()
    };
    for (name, person, why) in [
        ("gone.json", "a-20", "not an apprentice"),
        ("assessor.json", "s-1", "not an apprentice"),
        ("nobody.json", "a-77", "nobody with the code"),
        ("unsaid.json", "", "does not say whose"),
        ("no-code.json", "Ann <b>", "no code"),
        ("again.json", "a-01", "already returned docket"),
    ] {
        class.save(name, &blank(1, person));
        let (status, value, faults) = marked(&class, &["returns"]);
        assert_eq!((status, &value["refused"]), (1, &json!(2)), "{name}: {faults:?}");
        let fault = refusal(&faults, &format!("returns/{name}"));
        assert!(fault["message"].as_str().expect("a reason").contains(why), "{fault}");
        assert!(refusal(&faults, "returns/a-3.json")["message"].as_str().expect("a reason").contains("a-03 is away"));
        assert_eq!(counted(&class).0, 2, "{name}");
        std::fs::remove_file(class.folder.join("returns").join(name)).expect("removed");
    }
    // Back again, the return is taken; and what is on record stays, whoever leaves later.
    record(&["return", "a-03"]);
    class.save("blank.json", &blank(2, "a-04"));
    let (status, value, faults) = marked(&class, &["returns"]);
    assert_eq!((status, &value["taken"]), (0, &json!(["a-03", "a-04"])), "{faults:?}");
    record(&["leave", "a-02"]);
    let (status, value, _) = marked(&class, &["returns"]);
    assert_eq!((status, &value["already"], counted(&class).0), (0, &json!(4), 4));
}

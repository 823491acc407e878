//! Whole exercises marked from what was kept of them when they were issued.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

mod orders_and_choices;

use std::fs;
use std::path::Path;

use gearside::marking::{Asks, Marker, OwnKey, PartMark, Rules, Verdict, WrongWay, mark_exercise};
use gearside::programme::{Exercise, Form, Origin, Programme, load};
use gearside::pull::{Printer, pull};

/// 4 BCM/in² are 6.2000124 µm (1 BCM/in² = 1.5500031 cm³/m²); half of that is
/// 3.1000062 µm, 40 % of that 1.2400025 µm. Films have a leeway of 2 %.
const PARTS: &str = r#"
topic: film
title: Film
exercises:
  - id: film-in-parts
    competency: predict-ink-film
    title: Film in parts
    level: apply
    givens:
      volume: { one_of: [4 BCM/in²], symbol: V }
      to_plate: { one_of: [50 %], symbol: f_p }
      to_web: { one_of: [40 %], symbol: f_w }
    ask: A roll of {{ volume }} gives {{ to_plate }} to the plate, which gives {{ to_web }} of that to the web.
    steps:
      - { name: flat, says: Flat film, is: "volume * 1", in: µm, shown_to: 0.01, because: "A thickness." }
      - { name: on_plate, says: On the plate, is: "flat * to_plate", in: µm, shown_to: 0.01, because: "A share." }
      - { name: on_web, says: On the web, is: "on_plate * to_web", in: µm, shown_to: 0.01, because: "A share of that." }
    answers: [flat, on_plate, on_web]
    sane: 0.2 µm .. 6 µm
    wrong_turns:
      - { name: as_read, at: flat, is: "bare(volume, 'BCM/in²') * '1 µm'", because: "You read {{ volume }} as micrometres." }
      - { name: split_forgotten, at: on_plate, is: flat, because: "The plate does not get all of it." }
"#;

/// Another bank: other formulas, other turns, other precedence, other right options.
fn edited(bank: &str) -> String {
    bank.replace("volume * 1", "volume * 1.2")
        .replace("flat * to_plate", "flat * to_plate * 0.8")
        .replace("on_plate * to_web", "on_plate * to_web * 0.9")
        .replace("at: on_plate, is: flat", "at: on_plate, is: flat * 2")
        .replace("as micrometres", "as something else")
}

fn programme(bank: &str) -> Programme {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("film.yaml");
    fs::write(&file, bank).expect("a bank");
    let base = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faults/base");
    let loaded = load(&Origin::Banks(Box::new(Origin::Folder(base)), vec![file])).expect("files are read");
    let faults: Vec<&str> = loaded.faults.0.iter().map(|fault| fault.message.as_str()).collect();
    loaded.programme.unwrap_or_else(|| panic!("{faults:?}"))
}

fn kept(programme: &Programme, id: &str, number: u64) -> (Rules, OwnKey) {
    let exercise = programme.exercise(id).expect("the exercise");
    let printer = Printer::of(programme);
    let pull = pull(exercise, "1", number, printer).expect("a pull");
    (Rules::of(exercise, printer).expect("rules"), OwnKey::of(exercise, &pull).expect("a key"))
}

fn verdicts(marks: &[PartMark]) -> Vec<&'static str> {
    marks.iter().map(|part| part.verdict.name()).collect()
}

/// What is typed, what is said of it. Each carried value was worked out by hand.
const TABLE: &[([&str; 3], [&str; 3])] = &[
    (["6.2", "3.1", "1.24"], ["right", "right", "right"]),
    // 4 · 50 % = 2, 2 · 40 % = 0.8.
    (["4", "2", "0.8"], ["turn", "carried", "carried"]),
    (["4 µm", "0.002 mm", "0.8 widgets"], ["turn", "carried", "unknown"]),
    (["4", "3.1", "1.24"], ["turn", "right", "right"]),
    (["4", "2", "1.24"], ["turn", "carried", "right"]),
    // A blank is not carried from: 2 is then where the wrong turn leads.
    (["", "2", "0.8"], ["blank", "turn", "carried"]),
    (["4 kg", "2", "0.8"], ["kind", "turn", "carried"]),
    (["about 4", "2", "0.8"], ["unreadable", "turn", "carried"]),
    // The leeway is that around the carried value: 2 ± 0.04.
    (["4", "2.04", "0.816"], ["turn", "carried", "carried"]),
    (["4", "2.05", "0.82"], ["turn", "wrong", "carried"]),
    // From 62 the last answer comes to 12.4, which is not sane: up to 6 is.
    (["62", "31", "12.4"], ["general", "general", "general"]),
    // Both earlier answers are the apprentice's own: 5 · 40 % = 2.
    (["9", "5", "2"], ["wrong", "wrong", "carried"]),
    (["4", "", "0.8"], ["turn", "blank", "carried"]),
    // 6.2 is what the plate gets if the split is forgotten; 2.48 goes on from it.
    (["6.2", "6.2", "2.48"], ["right", "turn", "carried"]),
];

#[test]
fn parts_are_carried_on_from_own_answers() {
    let programme = programme(PARTS);
    let (rules, own) = kept(&programme, "film-in-parts", 0);
    for (typed, wanted) in TABLE {
        let marks = mark_exercise(&rules, &own, typed).expect("marks");
        assert_eq!(verdicts(&marks), wanted, "{typed:?}");
        for part in &marks {
            let full = matches!(part.verdict, Verdict::Right | Verdict::Carried);
            assert!((part.mark - f64::from(u8::from(full))).abs() < 1e-12, "{part:?}");
            assert_eq!(part.own_working.is_empty(), part.verdict != Verdict::Carried, "{part:?}");
        }
    }
}

#[test]
fn a_listed_wrong_turn_is_carried_on_from_wherever_it_leads() {
    let programme = programme(&PARTS.replace("sane: 0.2 µm .. 6 µm", "sane: 1 µm .. 1.5 µm"));
    let (rules, own) = kept(&programme, "film-in-parts", 0);
    // 0.8 is not sane here, and neither is 2: the one comes of the listed turn, the other of an unknown number.
    for (typed, wanted) in
        [(["4", "2", "0.8"], ["turn", "carried", "carried"]), (["9", "5", "2"], ["wrong", "wrong", "wrong"])]
    {
        assert_eq!(verdicts(&mark_exercise(&rules, &own, &typed).expect("marks")), wanted, "{typed:?}");
    }
}

#[test]
fn a_marked_part_says_how_it_was_read_and_why() {
    let programme = programme(PARTS);
    let (rules, own) = kept(&programme, "film-in-parts", 0);
    let marks = mark_exercise(&rules, &own, &["4", "2", "4 kg"]).expect("marks");
    assert_eq!((marks[0].read.as_str(), marks[0].key.plain.as_str()), ("4 µm", "6.20 µm"));
    assert_eq!(marks[0].turns, ["as_read"]);
    assert_eq!(marks[0].reason.plain, "You read 4 BCM/in² as micrometres.");
    assert_eq!(marks[0].wrong_ways, [WrongWay::Turn("as_read".to_owned())]);
    let lines: Vec<(usize, &str, bool)> =
        marks[1].own_working.iter().map(|line| (line.step, line.printed.as_str(), line.answered)).collect();
    assert_eq!(lines, [(0, "4.00 µm", true), (1, "2.00 µm", false)]);
    assert_eq!(marks[1].reason.plain, "Right, given your own answer before it.");
    assert_eq!(marks[2].read, "a mass, where a length is asked for");
    let marks = mark_exercise(&rules, &own, &["62", "5", ""]).expect("marks");
    assert_eq!(marks[0].wrong_ways, [WrongWay::TimesKey("10".to_owned())]);
    assert_eq!(marks[1].wrong_ways, [WrongWay::TimesKey("1.61".to_owned())]);
    assert!(mark_exercise(&rules, &own, &["4"]).is_err(), "an answer per part");
}

#[test]
fn an_edited_bank_changes_no_mark() {
    let (rules, own) = kept(&programme(PARTS), "film-in-parts", 0);
    let (rules_text, own_text) =
        (serde_json::to_string(&rules).expect("rules"), serde_json::to_string(&own).expect("a key"));
    let (edited_rules, edited_own) = kept(&programme(&edited(PARTS)), "film-in-parts", 0);
    assert_ne!(edited_own.parts, own.parts, "the edit must be one that matters");
    let rules: Rules = serde_json::from_str(&rules_text).expect("kept rules");
    let own: OwnKey = serde_json::from_str(&own_text).expect("a kept key");
    for (typed, wanted) in TABLE {
        assert_eq!(verdicts(&mark_exercise(&rules, &own, typed).expect("marks")), *wanted, "{typed:?}");
    }
    // The key of one bank is not marked by the rules of another.
    let fault = mark_exercise(&edited_rules, &own, &["6.2", "3.1", "1.24"]).expect_err("they do not belong together");
    assert!(fault.message.contains("works out `flat` otherwise"), "{}", fault.message);
}

#[test]
fn rules_that_cannot_be_read_are_a_fault() {
    let (rules, own) = kept(&programme(PARTS), "film-in-parts", 0);
    let text = serde_json::to_string(&rules).expect("rules");
    for (from, to, says) in [
        ("\"way\":1", "\"way\":2", "way 2"),
        ("flat * to_plate", "flat * no_such_name", "a formula at fault"),
        ("\"shown_to\":\"0.01\"", "\"shown_to\":\"a bit\"", "no place it is shown to"),
        ("\"quantity\":\"film\"", "\"quantity\":\"foil\"", "an unknown kind of quantity"),
        ("\"answers\":[0,1,2]", "\"answers\":[0,1,9]", "a step that is not there"),
    ] {
        assert!(text.contains(from), "{from}");
        let rules: Rules = serde_json::from_str(&text.replace(from, to)).expect("still rules");
        let fault = mark_exercise(&rules, &own, &["6.2", "3.1", "1.24"]).expect_err(to);
        assert!(fault.message.contains(says), "{}", fault.message);
    }
}

/// The typed answers that are the key of a docket.
fn right_answers(rules: &Rules, own: &OwnKey) -> Vec<String> {
    if !own.parts.is_empty() {
        return own.parts.iter().map(|part| part.printed.clone()).collect();
    }
    // The key of an order or a choice is what is said of a blank.
    let one = matches!(&rules.asks, Asks::Choose(choose) if choose.pick == gearside::programme::Pick::One);
    let blanks = mark_exercise(rules, own, &vec![""; own.wholes()]).expect("marks");
    let numbers = blanks.iter().map(|blank| {
        let numbers =
            blank.key.plain.split_whitespace().filter(|word| word.trim_end_matches('.').parse::<u32>().is_ok());
        numbers.take(if one { 1 } else { usize::MAX }).collect::<Vec<_>>().join(" ")
    });
    numbers.collect()
}

fn shipped() -> Programme {
    load(&Origin::Shipped).expect("built in").programme.expect("sound")
}

#[test]
fn what_is_kept_comes_back_the_same_and_marks_the_key_right() {
    let programme = shipped();
    let printer = Printer::of(&programme);
    for exercise in programme.exercises() {
        let rules = Rules::of(exercise, printer).expect("rules");
        let text = serde_json::to_string(&rules).expect("text");
        assert_eq!(serde_json::from_str::<Rules>(&text).expect("rules"), rules, "{}", exercise.id);
        let marker = Marker::open(&rules).expect("rules that open");
        for number in 0..10 {
            let pull = pull(exercise, "kept", number, printer).expect("a pull");
            let own = OwnKey::of(exercise, &pull).expect("a key");
            let text = serde_json::to_string(&own).expect("text");
            assert_eq!(serde_json::from_str::<OwnKey>(&text).expect("a key"), own, "{}", exercise.id);
            let typed = right_answers(&rules, &own);
            // A choice whose words hold numbers of their own cannot be read back from its key so simply.
            if matches!(exercise.form, Form::Choose(_)) {
                continue;
            }
            for part in marker.mark(&own, &typed).expect("marks") {
                assert!(part.verdict == Verdict::Right && (part.mark - 1.0).abs() < 1e-12, "{}: {part:?}", exercise.id);
            }
        }
    }
}

#[test]
fn every_shipped_wrong_turn_is_recognised_from_what_is_kept() {
    let programme = shipped();
    let printer = Printer::of(&programme);
    let mut recognised = 0;
    for exercise in programme.exercises().filter(|one| matches!(one.form, Form::Numeric(_))) {
        recognised += recognised_turns(exercise, printer);
    }
    assert!(recognised > 500, "only {recognised}");
}

/// Types each wrong turn's value where it is told apart.
fn recognised_turns(exercise: &Exercise, printer: Printer) -> usize {
    let rules = Rules::of(exercise, printer).expect("rules");
    let marker = Marker::open(&rules).expect("rules that open");
    let mut recognised = 0;
    for number in 0..3 {
        let own = OwnKey::of(exercise, &pull(exercise, "turns", number, printer).expect("a pull")).expect("a key");
        for (part, key) in own.parts.iter().enumerate() {
            for turn in &key.intervals.turns {
                let mut typed = vec![String::new(); own.parts.len()];
                typed[part] = format!("{:.9}", turn.at);
                let mark = &marker.mark(&own, &typed).expect("marks")[part];
                assert!(matches!(&mark.verdict, Verdict::WrongTurn(_)), "{} {typed:?}: {mark:?}", exercise.id);
                assert!(!mark.turns.is_empty() && !mark.reason.plain.is_empty(), "{}", exercise.id);
                recognised += 1;
            }
        }
    }
    recognised
}

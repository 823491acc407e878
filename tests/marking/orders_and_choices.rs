//! Orders and choices, answered with the numbers of what is shown.

use std::path::Path;

use gearside::marking::{OwnKey, Rules, Verdict, WrongWay, mark_exercise};
use gearside::programme::{Form, Origin, Use, load};
use gearside::pull::{Printer, pull};

use super::{kept, shipped};

#[test]
fn an_order_says_what_is_broken_and_what_is_nearest() {
    let base = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faults/base");
    let programme = load(&Origin::Folder(base)).expect("files").programme.expect("sound");
    let number_of = |own: &OwnKey, says: &str| {
        (own.says.iter().position(|said| said.plain.starts_with(says)).expect("shown") + 1).to_string()
    };
    let (rules, own) = (0..50)
        .map(|number| kept(&programme, "in-order", number))
        .find(|(_, own)| own.shown.len() == 3)
        .expect("a pull with all three moves");
    let [stop, look, note] = ["Stop", "Look", "Write"].map(|says| number_of(&own, says));
    // Stop comes before both others; to look before stopping hurts someone.
    let mark = |typed: &str| mark_exercise(&rules, &own, &[typed]).expect("marks").remove(0);
    let right = mark(&format!("{stop}, {note} → {look}"));
    assert_eq!((right.verdict.name(), right.order.as_ref().map(|one| one.hold)), ("right", Some(false)));
    let unsafe_one = mark(&format!("{look} {stop} {note}"));
    let said = unsafe_one.order.clone().expect("an order");
    assert!(said.hold && unsafe_one.mark < 1e-12, "{unsafe_one:?}");
    assert_eq!((said.pairs, said.kept, said.broken.len()), (2, 1, 1));
    assert_eq!(unsafe_one.reason.plain, "Nobody looks closely at a turning roll.");
    let nearest: Vec<String> = said.nearest.iter().map(ToString::to_string).collect();
    assert_eq!(nearest, [stop.clone(), look.clone(), note.clone()]);
    // One of two pairs kept is worth 2 · 1/2 − 1 = 0, without a hold.
    let harmless = mark(&format!("{note}-{stop}-{look}"));
    assert!(harmless.mark < 1e-12 && harmless.order.is_some_and(|one| !one.hold));
    for (typed, verdict) in [("", "blank"), ("1 2 9", "unreadable"), ("first the stop", "unreadable")] {
        let mark = mark(typed);
        assert_eq!((mark.verdict.name(), mark.order.is_none()), (verdict, true), "{typed:?}");
    }
}

#[test]
fn a_choice_says_why() {
    let base = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faults/base");
    let programme = load(&Origin::Folder(base)).expect("files").programme.expect("sound");
    let (rules, own) = kept(&programme, "which-roll", 0);
    let right = own.says.iter().position(|said| said.plain == "The coarser one").expect("shown") + 1;
    let mark = |typed: &str| mark_exercise(&rules, &own, &[typed]).expect("marks").remove(0);
    let good = mark(&right.to_string());
    assert_eq!((good.verdict.name(), good.reason.plain.as_str()), ("right", "Its cells hold more."));
    let bad = mark(&format!(" {}. ", 3 - right));
    assert_eq!((bad.verdict.name(), bad.reason.plain.as_str()), ("wrong", "Its cells hold less."));
    assert_eq!(bad.wrong_ways, [WrongWay::Option("The finer one of the two".to_owned())]);
    assert_eq!(bad.key.plain, format!("{right}. The coarser one"));
    assert_eq!(mark("1 2").verdict.name(), "unreadable");
    assert_eq!(mark("0").verdict.name(), "unreadable");
}

#[test]
fn a_choice_of_several_takes_wrong_ticks_off() {
    // (right ticks − wrong ticks) ÷ number right, at least 0.
    let programme = shipped();
    let printer = Printer::of(&programme);
    let mut seen = 0;
    for exercise in programme.exercises() {
        let Form::Choose(choose) = &exercise.form else { continue };
        let right = choose.options.iter().filter(|one| one.right).count();
        if choose.questions[0].pick != gearside::programme::Pick::Some || right < 2 || exercise.used_in == Use::Practice
        {
            continue;
        }
        let own = OwnKey::of(exercise, &pull(exercise, "1", 0, printer).expect("a pull")).expect("a key");
        let rules = Rules::of(exercise, printer).expect("rules");
        let numbers = |wanted: bool| -> Vec<String> {
            let places = own.shown.iter().enumerate().filter(|(_, index)| choose.options[**index].right == wanted);
            places.map(|(place, _)| (place + 1).to_string()).collect()
        };
        let mark = |typed: &[String]| mark_exercise(&rules, &own, &[typed.join(" ")]).expect("marks").remove(0);
        let all = mark(&numbers(true));
        assert!(all.verdict == Verdict::Right && (all.mark - 1.0).abs() < 1e-12, "{}: {all:?}", exercise.id);
        let short = mark(&numbers(true)[1..]);
        let count = u32::try_from(right).map_or(f64::NAN, f64::from);
        assert!(
            (short.mark - (count - 1.0) / count).abs() < 1e-12 && short.verdict == Verdict::Wrong,
            "{}",
            exercise.id
        );
        let with_wrong = [numbers(true), numbers(false)[..1].to_vec()].concat();
        assert!((mark(&with_wrong).mark - (count - 1.0) / count).abs() < 1e-12, "{}", exercise.id);
        seen += 1;
    }
    assert!(seen > 0, "no shipped choice of several");
}

#[test]
fn a_diagnosis_has_a_mark_for_the_cause_and_one_for_the_first_check() {
    let programme = shipped();
    // Two first checks of this one are defensible.
    let (rules, own) = kept(&programme, "bands-that-stretch", 0);
    assert_eq!((own.counts.as_slice(), own.wholes()), (&[4, 4][..], 2));
    let number = |place: usize, says: &str| {
        let own = own.of_question(place);
        (own.says.iter().position(|said| said.plain.starts_with(says)).expect("shown") + 1).to_string()
    };
    let cause = number(0, "The doctor blade shakes");
    let wrong = number(0, "The gears mesh wrongly");
    let mark = |typed: [&str; 2]| mark_exercise(&rules, &own, &typed).expect("marks");
    for check in [number(1, "Change the speed"), number(1, "Look at the blade's angle")] {
        let marks = mark([&cause, &check]);
        assert!(marks.iter().all(|one| one.verdict == Verdict::Right && (one.mark - 1.0).abs() < 1e-12), "{marks:?}");
    }
    let marks = mark([&wrong, &number(1, "Change the speed")]);
    let verdicts: Vec<&str> = marks.iter().map(|one| one.verdict.name()).collect();
    assert_eq!(verdicts, ["wrong", "right"]);
    assert_eq!(marks[0].reason.plain, "The distance of gear marks is that of a tooth, at any speed.");
    let verdicts: Vec<&str> = mark(["5", ""]).iter().map(|one| one.verdict.name()).collect();
    assert_eq!(verdicts, ["unreadable", "blank"]);
    assert!(mark_exercise(&rules, &own, &["1"]).is_err(), "two answers are wanted");
}

#[test]
fn why_it_is_not_another_defect_is_what_would_be_seen_then() {
    let programme = shipped();
    let (rules, own) = kept(&programme, "line-that-moves", 0);
    let tracking = own.of_question(0).says.iter().position(|said| said.plain.starts_with("The ink is still wet"));
    let typed = (tracking.expect("shown") + 1).to_string();
    let marks = mark_exercise(&rules, &own, &[typed.as_str(), ""]).expect("marks");
    assert!(marks[0].reason.plain.contains("Smears run along the web behind printed places"), "{marks:?}");
}

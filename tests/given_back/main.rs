//! What is given back of a quiz: results, marked dockets, statistics.

mod class;
mod pages;
mod statistics;

use class::{Class, Hand, code};
use gearside::quiz::HoldNow;
use gearside::records::{HoldCause, Mark};

/// Someone's verdicts, exercise by exercise.
fn verdicts(class: &Class, person: &str) -> Vec<Mark> {
    let history = class.history();
    let results = class.results(&history);
    let docket = results.dockets.iter().find(|one| one.person == code(person)).expect("it came back");
    docket.exercises.iter().map(|one| one.verdict().expect("a verdict")).collect()
}

#[test]
fn results_say_what_was_typed_and_what_is_on_record() {
    let class = class::of_nine();
    let history = class.history();
    let results = class.results(&history);
    assert!(results.faults.is_empty(), "{:?}", results.faults);
    assert_eq!(results.dockets.len(), 8);
    assert_eq!(results.missing, [8, 9], "the ninth and the blank one");
    assert_eq!(results.missed().collect::<Vec<_>>(), [8]);
    for docket in &results.dockets {
        let hand = class::HANDS[docket.place];
        let answers = class.answers(docket.place, hand);
        let typed: Vec<Vec<String>> = docket
            .exercises
            .iter()
            .map(|one| one.parts.iter().map(|part| part.marked.as_ref().expect("marks").typed.clone()).collect())
            .collect();
        assert_eq!(typed, answers, "{hand:?}");
        for part in docket.exercises.iter().flat_map(|one| &one.parts) {
            let recorded = part.recorded.as_ref().expect("it is on record");
            assert!(recorded.seq > docket.taken && recorded.corrected.is_none(), "{recorded:?}");
            assert_eq!(part.mark(), part.marked.as_ref().map(|one| one.mark));
        }
    }
    assert!(verdicts(&class, "a-1").iter().all(|one| *one == Mark::Right));
    assert!(verdicts(&class, "a-4").iter().all(|one| *one == Mark::Blank));
    assert!(verdicts(&class, "a-5").iter().all(|one| *one == Mark::Wrong));
    assert!(verdicts(&class, "a-2").contains(&Mark::WrongTurn));
    let points = results.dockets[0].points().expect("points");
    assert!((points - 1.0 * f64::from(u32::try_from(results.out_of()).expect("few"))).abs() < 1e-9);
    assert_eq!(results.dockets[3].points(), Some(0.0));
}

#[test]
fn a_carried_part_has_its_full_mark_and_its_working() {
    let class = class::of_nine();
    let history = class.history();
    let results = class.results(&history);
    let parts = results.dockets[2].exercises.iter().flat_map(|one| one.parts.iter());
    let carried: Vec<_> = parts.filter(|part| part.verdict() == Some(Mark::Carried)).collect();
    assert!(!carried.is_empty(), "someone carries");
    for part in carried {
        assert_eq!(part.mark(), Some(1.0));
        assert!(!part.marked.as_ref().expect("marks").own_working.is_empty());
    }
}

#[test]
fn a_mark_set_right_counts_with_its_reason() {
    let mut class = class::of_nine();
    class.correct(3, 0, 1.0, "The question could be read two ways.");
    let history = class.history();
    let results = class.results(&history);
    assert!(results.faults.is_empty(), "{:?}", results.faults);
    let exercise = &results.dockets[3].exercises[0];
    let recorded = exercise.parts[0].recorded.as_ref().expect("on record");
    let corrected = recorded.corrected.as_ref().expect("set right");
    assert_eq!(corrected.was, Some(0.0));
    assert_eq!(corrected.why.as_deref(), Some("The question could be read two ways."));
    assert_eq!((exercise.parts[0].verdict(), exercise.parts[0].mark()), (Some(Mark::Right), Some(1.0)));
    let share = 1.0 / f64::from(u32::try_from(exercise.parts.len()).expect("few"));
    assert!((results.dockets[3].points().expect("points") - share).abs() < 1e-9);
}

#[test]
fn a_mark_on_record_that_comes_out_otherwise_is_said_and_still_counts() {
    let mut class = class::of_nine();
    // The kept key is another one than the one that was marked by.
    let wrong_key = class.kept[1].exercises.clone();
    class.kept[0].exercises = wrong_key;
    let history = class.history();
    let results = class.results(&history);
    assert!(!results.faults.is_empty(), "the marks differ");
    assert!(results.faults.iter().all(|fault| fault.kind == "mark-differs"), "{:?}", results.faults);
    let fault = &results.faults[0];
    assert!(fault.message.contains("(a-1) is 1 (right)"), "{}", fault.message);
    assert!(fault.mend.contains("gearside record correct"), "{}", fault.mend);
    assert!(results.dockets[0].exercises.iter().all(gearside::quiz::ExerciseResult::is_right));
}

#[test]
fn an_erased_text_leaves_the_marks() {
    let mut class = class::of_nine();
    let before = verdicts(&class, "a-2");
    class.redact("a-2");
    let history = class.history();
    let results = class.results(&history);
    assert!(results.faults.is_empty(), "{:?}", results.faults);
    let docket = &results.dockets[1];
    assert!(docket.erased && docket.exercises.iter().flat_map(|one| &one.parts).all(|part| part.marked.is_none()));
    assert_eq!(verdicts(&class, "a-2"), before);
    assert!(docket.exercises.iter().any(|one| !one.wrong_ways().is_empty()), "wrong turns are known by name");
}

#[test]
fn a_broken_safety_pair_is_held_until_it_is_talked_through() {
    let mut class = Class::issued(2, 45, class::WITH);
    class.fill(0, Hand::Reversed);
    class.fill(1, Hand::Right);
    let held = |class: &Class| -> Vec<HoldNow> {
        let history = class.history();
        let results = class.results(&history);
        results
            .dockets
            .iter()
            .flat_map(|one| &one.exercises)
            .flat_map(|one| &one.parts)
            .filter_map(|one| one.hold)
            .collect()
    };
    assert_eq!(held(&class), [HoldNow::Held]);
    let history = class.history();
    let person = history.person(&code("a-1")).expect("a person");
    let (competency, hold) = person
        .work
        .iter()
        .find_map(|(competency, work)| Some((competency.clone(), work.holds.first()?.clone())))
        .expect("it is on record");
    assert_eq!(hold.is.cause, HoldCause::SafetyOrder);
    class.release("a-1", &competency, hold.seq);
    assert_eq!(held(&class), [HoldNow::TalkedThrough(class::DAY)]);
}

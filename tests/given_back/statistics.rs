//! Statistics of a quiz: worked out by hand beside it, held back for few.

use std::collections::BTreeSet;

use gearside::marking::WrongWay;
use gearside::marking::statistics::WhyNot;
use gearside::quiz::{Learned, OverQuizzes};
use gearside::records::{Mark, Role};

use crate::class::{self, Class, Hand};
use crate::pages::{built, words};

/// Who is how good: of 40, so many know so many of the exercises, the first ones first.
fn of_forty() -> Class {
    let mut class = Class::issued(40, 30, &[]);
    let exercises = class.snapshot.exercises.len();
    for place in 0..40 {
        let known = place % (exercises + 1);
        let right = class.answers(place, Hand::Right);
        let blank = class.answers(place, Hand::Blank);
        let answers = (0..exercises).map(|one| if one < known { right[one].clone() } else { blank[one].clone() });
        let answers = answers.collect();
        class.take(place, &format!("a-{}", place + 1), answers);
    }
    class
}

fn learned(class: &Class) -> Learned {
    let history = class.history();
    let results = class.results(&history);
    Learned::of(&results, &history, OverQuizzes::default()).expect("statistics")
}

/// Pearson's correlation by its definition.
fn pearson(a: &[f64], b: &[f64]) -> f64 {
    let n = f64::from(u32::try_from(a.len()).expect("few"));
    let (mean_a, mean_b) = (a.iter().sum::<f64>() / n, b.iter().sum::<f64>() / n);
    let sum = |x: &[f64], mean_x: f64, y: &[f64], mean_y: f64| -> f64 {
        x.iter().zip(y).map(|(x, y)| (x - mean_x) * (y - mean_y)).sum()
    };
    sum(a, mean_a, b, mean_b) / (sum(a, mean_a, a, mean_a) * sum(b, mean_b, b, mean_b)).sqrt()
}

#[test]
fn counts_add_up_to_those_who_came_back() {
    let learned = learned(&class::of_nine());
    assert_eq!((learned.issued, learned.came, learned.whole.common), (10, 8, 8));
    for one in &learned.exercises {
        let all: usize = Mark::ALL.iter().map(|verdict| one.counts.get(*verdict)).sum();
        assert_eq!(all, 8, "{}", one.exercise);
        assert_eq!(one.counts.blank, 1, "{}: a-4 alone left it blank", one.exercise);
        assert!(one.counts.right >= 2, "{}: a-1 and a-8 were right", one.exercise);
        assert!(one.statistics.right + one.statistics.partly <= 8);
        for part in &one.parts {
            let all: usize = Mark::ALL.iter().map(|verdict| part.counts.get(*verdict)).sum();
            assert_eq!(all, 8, "{}: {}", one.exercise, part.label);
        }
    }
    let turns = learned.exercises.iter().filter_map(|one| one.statistics.commonest.as_ref());
    assert!(turns.clone().any(|one| matches!(one.way, WrongWay::Turn(_))), "{:?}", turns.collect::<Vec<_>>());
}

#[test]
fn few_takers_get_counts_and_the_reason_why_not_more() {
    let learned = learned(&class::of_nine());
    assert_eq!(learned.whole.alpha, Err(WhyNot::TooFew(8)));
    for one in &learned.exercises {
        assert!(one.statistics.tells_apart.is_err(), "{}", one.exercise);
        assert!(!one.advice.is_empty(), "{}", one.exercise);
    }
}

#[test]
fn forty_takers_get_statistics_that_agree_with_hand_reckoning() {
    let class = of_forty();
    let learned = learned(&class);
    let exercises = class.snapshot.exercises.len();
    let knows = |taker: usize, one: usize| if one < taker % (exercises + 1) { 1.0 } else { 0.0 };
    for (place, one) in learned.exercises.iter().enumerate() {
        let own: Vec<f64> = (0..40).map(|taker| knows(taker, place)).collect();
        let rest: Vec<f64> = (0..40)
            .map(|taker| (0..exercises).filter(|other| *other != place).map(|other| knows(taker, other)).sum())
            .collect();
        let right = own.iter().filter(|mark| **mark > 0.5).count();
        assert_eq!((one.statistics.right, one.counts.right, one.counts.blank), (right, right, 40 - right));
        let difficulty = one.statistics.difficulty.expect("a mean");
        assert!((difficulty - own.iter().sum::<f64>() / 40.0).abs() < 1e-12);
        let told = one.statistics.tells_apart.clone().expect("forty are enough");
        assert!((told - pearson(&own, &rest)).abs() < 1e-9, "{}: {told}", one.exercise);
    }
    // Alpha by its definition, variances over n as well as n − 1 give the same.
    let variance = |values: &[f64]| {
        let mean = values.iter().sum::<f64>() / 40.0;
        values.iter().map(|one| (one - mean).powi(2)).sum::<f64>() / 40.0
    };
    let columns: f64 =
        (0..exercises).map(|place| variance(&(0..40).map(|taker| knows(taker, place)).collect::<Vec<_>>())).sum();
    let totals: Vec<f64> = (0..40).map(|taker| (0..exercises).map(|one| knows(taker, one)).sum()).collect();
    let k = f64::from(u32::try_from(exercises).expect("few"));
    let alpha = k / (k - 1.0) * (1.0 - columns / variance(&totals));
    let found = learned.whole.alpha.expect("forty are enough");
    assert!((found.alpha - alpha).abs() < 1e-9, "{found:?} {alpha}");
    assert!(found.standard_error > 0.0 && found.takers == 40);
    let text = words(&built(&class, true)["index.html"]);
    for said in [
        "Correlation with the rest of the quiz",
        &format!("Coefficient alpha is {alpha:.2}"),
        "over 40 who took all of it",
        "The standard error of measurement is",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
    assert!(!text.contains("from 30 on it can be told"), "{text}");
}

#[test]
fn judges_give_a_pass_mark_with_its_spread() {
    let mut class = class::of_nine();
    for judge in ["s-1", "s-2", "s-3"] {
        class.grant(judge, Role::Assessor);
    }
    let exercises = class.snapshot.exercises.len();
    for exercise in 0..exercises {
        class.judge("s-1", exercise, 0.5);
        class.judge("s-2", exercise, 0.7);
    }
    // Said again, the later counts; and one who judged one exercise only does not.
    class.judge("s-1", 0, 0.6);
    class.judge("s-3", 0, 0.1);
    let pass = learned(&class).pass_mark;
    let cut = pass.cut.expect("two judges");
    let k = f64::from(u32::try_from(exercises).expect("few"));
    let (first, second) = (0.5 * k + 0.1, 0.7 * k);
    assert!((cut.cut - f64::midpoint(first, second)).abs() < 1e-9, "{cut:?}");
    // Two values differ from their mean by half their difference: s = |a − b| / √2.
    assert!((cut.spread.expect("two") - (second - first).abs() / 2.0_f64.sqrt()).abs() < 1e-9);
    assert_eq!(pass.judges.len(), 2);
    assert_eq!((pass.partly.len(), pass.partly[0].missing.len()), (1, exercises - 1));
    assert!(pass.unjudged.is_empty());
    let reached = pass.reached.expect("there is a cut");
    assert!((2..8).contains(&reached), "{reached}");
}

#[test]
fn families_are_pooled_from_marks_alone_as_from_texts() {
    let class = class::of_nine();
    let history = class.history();
    let results = class.results(&history);
    let from_texts = Learned::of(&results, &history, OverQuizzes::default()).expect("statistics").families;
    let family = |quiz: &str, exercise: &str| {
        let known = class.snapshot.exercises.iter().find(|one| quiz == "week-12" && one.exercise == exercise);
        known.map(|one| one.family.clone())
    };
    let mut pool = OverQuizzes::default();
    pool.add_marks_on_record(&history, &BTreeSet::new(), family);
    let from_marks = pool.all();
    assert_eq!(from_marks.len(), from_texts.len());
    for (a, b) in from_marks.iter().zip(&from_texts) {
        assert_eq!((&a.family, a.statistics.sittings, a.statistics.right), (&b.family, 8, b.statistics.right));
        assert_eq!((a.statistics.people, a.statistics.quizzes), (8, 1));
        let (a, b) = (a.statistics.difficulty.expect("a mean"), b.statistics.difficulty.expect("a mean"));
        assert!((a - b).abs() < 1e-9, "{a} {b}");
    }
    // A quiz that is left out, or an exercise of no known family, adds nothing.
    let mut none = OverQuizzes::default();
    none.add_marks_on_record(&history, &BTreeSet::from(["week-12"]), family);
    none.add_marks_on_record(&history, &BTreeSet::new(), |_, _| None);
    assert!(none.all().is_empty());
}

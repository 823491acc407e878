//! The shipped year, composed week by week with a class of nine.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::time::Instant;

use gearside::programme::Weeks;
use gearside::programme::{Origin, Programme, load};
use gearside::quiz::{Asked, Composition, Constraint, Request, compose};
use rand::Rng as _;
use rand::SeedableRng as _;
use rand::rngs::ChaCha8Rng;

use crate::book::{Book, day_of};

fn shipped() -> Programme {
    load(&Origin::Shipped).expect("built in").programme.expect("a programme")
}

fn request<'a>(programme: &'a Programme, book: Option<&'a Book>, week: u32) -> Request<'a> {
    static NOTHING: BTreeMap<gearside::records::Word, Vec<Asked>> = BTreeMap::new();
    Request {
        programme,
        history: book.map(|book| &book.history),
        asked: book.map_or(&NOTHING, |book| &book.asked),
        week,
        day: day_of(i32::try_from(week).expect("small")),
        minutes: programme.plan.as_ref().expect("a plan").minutes,
        with: &[],
        without: &[],
        only: None,
        seed: "1",
    }
}

/// Puts a quiz on record, as a class of nine did it: each is right in so many of
/// a hundred, less so where a competency is hard.
fn take(book: &mut Book, name: &str, week: i32, asked: Vec<Asked>, dice: &mut ChaCha8Rng) {
    let exercises = asked.clone();
    book.quiz(name, week, asked);
    for person in 0..9 {
        for one in &exercises {
            let hard = one.competency.len() as u64 % 5 * 7;
            let right = dice.next_u64() % 100 < 55 + 5 * person as u64 - hard;
            book.mark(name, week, person, (&one.exercise, &one.competency), right);
        }
    }
}

fn asked(composition: &Composition) -> Vec<Asked> {
    let of = |pick: &gearside::quiz::Pick| Asked {
        exercise: pick.exercise.clone(),
        family: pick.family.clone(),
        competency: pick.competency.clone(),
    };
    composition.picks.iter().map(of).collect()
}

/// Two earlier years of quizzes with what the banks have.
fn two_years_before(programme: &Programme, dice: &mut ChaCha8Rng) -> Book {
    let mut book = Book::default();
    let all: Vec<_> = programme.exercises().collect();
    for week in -103..=0 {
        let mut list = Vec::new();
        for _ in 0..11 {
            let one = all[usize::try_from(dice.next_u64() % all.len() as u64).expect("small")];
            list.push(Asked {
                exercise: one.id.to_string(),
                family: one.family.to_string(),
                competency: one.competency.to_string(),
            });
        }
        list.sort_by(|a, b| a.exercise.cmp(&b.exercise));
        list.dedup();
        take(&mut book, &format!("old{week}"), week, list, dice);
    }
    book
}

/// Composes every week of the plan, each with the ones before on record.
fn play(programme: &Programme, mut book: Book) -> Vec<Composition> {
    let weeks = Weeks::of(programme.plan.as_ref().expect("a plan")).expect("a calendar");
    let mut dice = ChaCha8Rng::seed_from_u64(9);
    let mut quizzes = Vec::new();
    for week in (1..=36).filter(|week| !weeks.is_break(*week)) {
        let number = u32::try_from(week).expect("small");
        let composition = compose(&request(programme, Some(&book), number)).expect("a quiz");
        take(&mut book, &format!("w{week}"), week, asked(&composition), &mut dice);
        quizzes.push(composition);
    }
    quizzes
}

/// What an instructor would look at first, one line a week.
fn table(quizzes: &[Composition]) -> String {
    let mut lines = String::new();
    for quiz in quizzes {
        let groups: Vec<String> = quiz.groups.iter().map(|(_, minutes)| minutes.to_string()).collect();
        let levels: Vec<String> = quiz.levels.iter().map(|(_, minutes)| minutes.to_string()).collect();
        let competencies: std::collections::BTreeSet<&str> =
            quiz.picks.iter().map(|pick| pick.competency.as_str()).collect();
        let broken: Vec<String> = quiz
            .gave_way
            .iter()
            .filter(|one| !one.holds)
            .map(|one| format!("{}: {}", one.constraint.word(), one.words))
            .collect();
        let _ = writeln!(
            lines,
            "{:>2} | {:>2} min | {:>2} exercises of {:>2} | {} | {} | {}",
            quiz.week,
            quiz.minutes,
            quiz.picks.len(),
            competencies.len(),
            groups.join("/"),
            levels.join("/"),
            broken.join(" -- "),
        );
    }
    lines
}

#[test]
fn the_shipped_year_fills_its_quizzes() {
    let programme = shipped();
    let quizzes = play(&programme, Book::default());
    let table = table(&quizzes);
    assert_eq!(quizzes.len(), 33);
    for quiz in &quizzes {
        let kept = |constraint: Constraint| quiz.gave_way.iter().all(|one| one.constraint != constraint || one.holds);
        // In the first weeks there is not enough yet.
        assert!(quiz.minutes >= 41 || quiz.week <= 7, "{table}");
        assert!(kept(Constraint::Mixing), "{table}");
        assert!(kept(Constraint::Gaps), "{table}");
        // Everything new this week is asked about.
        let plan = programme.plan.as_ref().expect("a plan");
        let before = |id| plan.weeks.iter().any(|(week, ids)| *week < quiz.week && ids.contains(id));
        for id in plan.weeks.get(&quiz.week).into_iter().flatten().filter(|id| !before(id)) {
            assert!(quiz.picks.iter().any(|pick| pick.competency == id.as_str()), "week {}: {id}\n{table}", quiz.week);
        }
    }
}

#[test]
fn three_years_of_records_cost_no_noticeable_time() {
    let programme = shipped();
    let mut dice = ChaCha8Rng::seed_from_u64(4);
    let book = two_years_before(&programme, &mut dice);
    let started = Instant::now();
    let quizzes = play(&programme, book);
    let each = started.elapsed() / u32::try_from(quizzes.len()).expect("few");
    // The limit is 100 ms; a busy machine is given four times that.
    assert!(each.as_millis() < 400, "{each:?}");
    assert!(quizzes.iter().all(|quiz| quiz.minutes >= 41 || quiz.week <= 7), "{}", table(&quizzes));
}

#[test]
fn the_first_week_needs_no_records() {
    let programme = shipped();
    let none = compose(&request(&programme, None, 1)).expect("a quiz");
    let empty = compose(&request(&programme, Some(&Book::default()), 1)).expect("a quiz");
    assert_eq!(none, empty);
    assert!(none.short.is_some() && none.picks.iter().all(|pick| pick.reason == "taught this week, not asked yet"));
}

#[test]
fn weeks_and_minutes_out_of_range_are_refused() {
    let programme = shipped();
    for (week, minutes) in [(0, 45), (u32::MAX, 45), (5, 0), (5, u32::MAX)] {
        let faults = compose(&Request { week, minutes, day: day_of(5), ..request(&programme, None, 5) });
        assert_eq!(faults.expect_err("a refusal").0.len(), 1, "{week} {minutes}");
    }
}

#[test]
fn what_must_come_and_may_not_is_refused_with_a_mend() {
    let programme = shipped();
    let mut book = Book::default();
    let one = |exercise: &str, competency: &str| Asked {
        exercise: exercise.to_owned(),
        family: exercise.to_owned(),
        competency: competency.to_owned(),
    };
    book.quiz("w4", 4, vec![one("turns-for-the-order", "read-a-job-ticket")]);
    // Wish, what the message says, what the mend says.
    let table: [(&[&str], &str, &str); 8] = [
        (&["turns-for-the-ordr"], "no exercise `turns-for-the-ordr`", "did you mean `turns-for-the-order`?"),
        (&["turns-for-the-order"], "asked in week 4", "from week 8 on"),
        (&["difference-of-a-blue"], "was not taught by week 6", "gearside record taught --week 6 compare-colours"),
        (&["from-first-print-to-approval"], "practice only", "ask for another"),
        (&["zahn-seconds-to-viscosity", "ford-seconds-to-viscosity"], "are of one family", "leave one out"),
        (
            &["only-a-speck", "hours-for-the-rolls", "film-on-the-web", "repeats-to-take-out"],
            "minutes; the quiz has",
            "",
        ),
        (&["only-a-speck"], "both wanted and not", "leave it out"),
        (&["film-on-the-web"], "only `read-a-job-ticket` is asked for", "leave `--only` out"),
    ];
    for (row, (with, message, mend)) in table.into_iter().enumerate() {
        let with: Vec<String> = with.iter().map(|id| (*id).to_owned()).collect();
        let without = if row == 6 { vec!["only-a-speck".to_owned()] } else { Vec::new() };
        let minutes = if row == 5 { 10 } else { 45 };
        let only = (row == 7).then_some("read-a-job-ticket");
        let request = Request { with: &with, without: &without, minutes, only, ..request(&programme, Some(&book), 6) };
        let faults = compose(&request).expect_err("a refusal");
        assert!(
            faults.0.iter().any(|fault| fault.message.contains(message) && fault.mend.contains(mend)),
            "{with:?}: {faults:?}"
        );
    }
}

//! The invented class of `gearside new --demo`: it builds on any day, is the
//! same each time, and tells the story it is meant to tell.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use assert_cmd::Command;
use gearside::cli::demo::{Summary, start};
use gearside::programme::{Origin, Programme, load};
use gearside::records::{
    Ask, Code, Derivation, FILE_NAME, Fact, Held, History, HoldCause, Look, Mark, Matter, Overview, Role, Rules, Sort,
    Standing, State, Store, Stored, is_late,
};
use jiff::Timestamp;
use jiff::civil::Date;
use tempfile::TempDir;

/// A usual day.
const USUAL: &str = "2026-11-25T12:00:00Z";
/// Days on which dates are hard: a leap day, the day after one, both changes of
/// the clocks in the European Union (29 March 2026, 25 October 2026: Directive
/// 2000/84/EC), the turn of a year, a Friday late in the evening.
const HARD: &[&str] = &[
    "2028-02-29T12:00:00Z",
    "2028-03-01T00:30:00Z",
    "2026-03-29T01:30:00Z",
    "2026-10-25T00:30:00Z",
    "2026-10-28T07:00:00Z",
    "2027-01-01T00:00:00Z",
    "2026-11-20T21:59:00Z",
    "2026-11-20T22:01:00Z",
];

/// A demo, read.
struct Demo {
    home: TempDir,
    summary: Summary,
    programme: Programme,
    history: History,
    facts: Vec<Stored>,
    today: Date,
}

impl Demo {
    /// The demo of a usual day, made once for all tests.
    fn usual() -> &'static Self {
        static USUAL_ONE: OnceLock<Demo> = OnceLock::new();
        USUAL_ONE.get_or_init(|| Self::of(USUAL))
    }

    fn of(now: &str) -> Self {
        let home = tempfile::tempdir().expect("a folder");
        let now: Timestamp = now.parse().expect("a time");
        let summary = start(&home.path().join("demo"), &[], now).expect("a demo");
        let loaded = load(&Origin::Folder(home.path().join("demo"))).expect("readable");
        assert!(!loaded.faults.any(), "{:?}", loaded.faults);
        let programme = loaded.programme.expect("a programme");
        let zone = programme.about.time_zone.clone();
        let store = Store::open(&home.path().join("demo").join(FILE_NAME)).expect("records");
        let history = store.read().history(&zone).expect("a history");
        let mut facts = Vec::new();
        let take = |link: gearside::records::Link| {
            let fact = Fact::read(&link.kind, &link.body).expect("a fact");
            facts.push(Stored { seq: link.seq, at: link.at.parse().expect("a time"), fact });
        };
        store.read().each_link(1, take).expect("facts");
        let today = zone.to_datetime(now).date();
        Self { home, summary, programme, history, facts, today }
    }

    fn folder(&self) -> PathBuf {
        self.home.path().join("demo")
    }

    fn with_states<T>(&self, look: impl FnOnce(&Overview<'_>) -> T) -> T {
        let rules = Rules::of(&self.programme);
        let store = Store::open(&self.folder().join(FILE_NAME)).expect("records");
        let names = store.read().names().expect("names");
        look(&Overview::new(&self.programme, &rules, &self.history, &names, self.today))
    }

    fn state(&self, code: &str, competency: &str) -> State {
        let rules = Rules::of(&self.programme);
        let person = self.history.person(&Code::parse(code).expect("a code")).expect("a person");
        let derivation = Derivation::new(&self.history, &rules);
        derivation.state(person, competency, Ask::on(self.today)).expect("a competency")
    }

    /// The facts of a kind about a person.
    fn about<'d>(&'d self, code: &'d str, kind: &'d str) -> impl Iterator<Item = &'d Stored> {
        self.of_kind(kind).filter(move |one| one.fact.person.as_ref().is_some_and(|own| own.as_str() == code))
    }

    fn of_kind<'d>(&'d self, kind: &'d str) -> impl Iterator<Item = &'d Stored> {
        self.facts.iter().filter(move |one| one.fact.matter.kind() == kind)
    }

    fn counts(&self) -> BTreeMap<Standing, usize> {
        self.with_states(|overview| {
            let mut counts = BTreeMap::new();
            for state in overview.rows.iter().flat_map(|row| &row.states) {
                *counts.entry(state.standing).or_default() += 1;
            }
            counts
        })
    }
}

fn table(demo: &Demo) -> String {
    demo.with_states(|overview| {
        let mut text = String::new();
        for row in &overview.rows {
            text.extend([format!("{:18} {:12}", overview.name(&row.person.code), row.person.class().unwrap_or(""))]);
            for standing in Standing::ALL {
                let count = row.states.iter().filter(|state| state.standing == standing).count();
                text.extend([format!(" {} {count:2}", standing.word())]);
            }
            let soon = row.states.iter().filter(|state| state.lapses_within(overview.on).is_some()).count();
            text.extend([format!(" about to lapse {soon}\n")]);
        }
        text
    })
}

#[test]
fn the_class_stands_in_every_way_that_there_is() {
    let demo = Demo::usual();
    let counts = demo.counts();
    for standing in Standing::ALL {
        assert!(
            counts.get(&standing).is_some_and(|count| *count > 0),
            "nobody is {}:\n{}",
            standing.word(),
            table(demo)
        );
    }
    let soon = demo.with_states(|overview| {
        let states = overview.rows.iter().flat_map(|row| &row.states);
        states.filter(|state| state.lapses_within(overview.on).is_some()).count()
    });
    assert!(soon > 0, "nothing is about to lapse:\n{}", table(demo));
}

#[test]
fn the_demo_of_any_day_holds_and_tells_the_same_story() {
    let usual = Demo::usual();
    let kinds = usual.history.kinds.clone();
    for now in HARD {
        let demo = Demo::of(now);
        assert!(demo.history.breaks.is_empty(), "{now}: {:?}", demo.history.breaks);
        assert_eq!(demo.history.head, demo.summary.head, "{now}");
        assert_eq!(demo.history.kinds, kinds, "{now}");
        let counts = demo.counts();
        assert!(Standing::ALL.iter().all(|one| counts.contains_key(one)), "{now}: {counts:?}");
        let entered: Vec<Timestamp> = demo.facts.iter().map(|one| one.at).collect();
        assert!(entered.is_sorted(), "{now}: facts were entered out of order");
        let last = *entered.last().expect("facts");
        assert!(last < now.parse().expect("a time"), "{now}: the last fact is of {last}");
        // The last Friday lies one to seven days back.
        let friday = demo.programme.about.time_zone.to_datetime(last).date();
        assert_eq!(friday.weekday(), jiff::civil::Weekday::Friday, "{now}");
        assert!((1..=7).contains(&friday.until(demo.today).expect("a span").get_days()), "{now}: {friday}");
    }
}

#[test]
fn the_demo_of_a_day_is_the_same_each_time() {
    let (one, other) = (Demo::usual(), Demo::of(USUAL));
    assert_eq!(one.summary, other.summary);
    for name in one.summary.files.iter().filter(|name| *name != FILE_NAME) {
        let read = |demo: &Demo| fs::read(demo.folder().join(name)).expect("a file");
        assert_eq!(read(one), read(&other), "{name}");
    }
    assert_ne!(one.summary.head, Demo::of(HARD[0]).summary.head);
}

#[test]
fn the_people_are_nine_apprentices_three_assessors_and_those_who_teach_and_keep_the_record() {
    let demo = Demo::usual();
    let have = |role| {
        let people = demo.history.people.values();
        people.filter(|one| one.grant(role, demo.today, History::NOW).is_some()).count()
    };
    let roles = [Role::Apprentice, Role::Assessor, Role::Coordinator, Role::Instructor].map(have);
    assert_eq!(roles, [9, 3, 1, 2]);
    assert_eq!((demo.summary.apprentices, demo.summary.assessors), (9, 3));
    let names = Store::open(&demo.folder().join(FILE_NAME)).expect("records").read().names().expect("names");
    assert_eq!(names.len(), 15, "{names:?}");
    let some_stages = demo.of_kind("person").filter(|one| match &one.fact.matter {
        Matter::Grant(grant) => grant.stages.as_ref().is_some_and(|stages| stages.len() < 12),
        _ => false,
    });
    assert_eq!(some_stages.count(), 1);
}

#[test]
fn one_is_held_for_a_broken_safety_pair_and_one_was_released() {
    let demo = Demo::usual();
    let held = demo.state("a-02", "act-in-an-emergency");
    assert_eq!(held.standing, Standing::Held);
    assert!(matches!(held.held[..], [Held::Open { cause: HoldCause::SafetyOrder, .. }]), "{:?}", held.held);
    for code in ["a-02", "a-03"] {
        let hold = demo.about(code, "hold").next().expect("a hold");
        let Matter::Hold(hold) = &hold.fact.matter else { panic!("no hold") };
        let of = demo.facts.iter().find(|one| Some(one.seq) == hold.of).expect("the mark");
        let Matter::PartMarked(part) = &of.fact.matter else { panic!("not a mark: {of:?}") };
        assert_eq!((part.verdict, &part.competency), (Mark::Wrong, &hold.competency));
        assert!(part.mark.abs() < 1e-12, "a broken safety pair takes the whole mark");
    }
    assert_eq!(demo.about("a-03", "release").count(), 1);
    assert_ne!(demo.state("a-03", "make-the-press-safe").standing, Standing::Held);
}

#[test]
fn one_sign_off_was_withdrawn_and_holds_what_rests_on_it() {
    let demo = Demo::usual();
    assert_eq!(demo.about("b-01", "withdrawal").count(), 1);
    assert!(demo.state("b-01", "fit-and-read-a-blade").withdrawn.is_some());
    let deck = demo.state("b-01", "load-an-ink-deck");
    assert_eq!(deck.standing, Standing::Held);
    assert_eq!(deck.held, [Held::NeedWithdrawn("fit-and-read-a-blade".into())]);
    // What led to it is on record too, of the same day.
    let day = demo.about("b-01", "withdrawal").next().expect("one").fact.claim.seen_on;
    let mut seen = demo.about("b-01", "observation").filter(|one| one.fact.claim.seen_on == day);
    let unsafe_work = |one: &Stored| match &one.fact.matter {
        Matter::Observation(is) => &*is.competency == "fit-and-read-a-blade" && is.criteria.contains(&Look::NotSeen),
        _ => false,
    };
    assert!(seen.any(unsafe_work));
}

#[test]
fn something_has_lapsed_and_older_sign_offs_keep_their_edition() {
    let demo = Demo::usual();
    assert_eq!(demo.state("b-02", "act-in-an-emergency").standing, Standing::Lapsed);
    let labels: Vec<&str> = demo.history.editions.iter().map(|one| one.label.as_str()).collect();
    assert_eq!(labels, ["2025 autumn", "2026 autumn"]);
    assert_ne!(demo.history.editions[0].digest, demo.history.editions[1].digest);
    let state = demo.state("b-01", "load-an-ink-deck");
    assert_eq!(state.signed.and_then(|signed| signed.edition).as_deref(), Some("2025 autumn"));
}

#[test]
fn one_was_signed_despite_missing_hours_with_a_second_person_standing_by() {
    let demo = Demo::usual();
    let despite: Vec<&Stored> = demo
        .of_kind("signoff")
        .filter(|one| matches!(&one.fact.matter, Matter::Signoff(is) if is.despite.is_some()))
        .collect();
    let [one] = despite[..] else { panic!("{despite:?}") };
    assert_eq!(one.fact.person.as_ref().map(Code::as_str), Some("a-01"));
    assert!(one.fact.claim.note.is_some());
}

#[test]
fn people_came_late_went_away_and_came_back() {
    let demo = Demo::usual();
    let prior = demo.about("a-04", "hours").filter(|one| match &one.fact.matter {
        Matter::Hours(hours) => hours.sort == Sort::Prior,
        _ => false,
    });
    assert!(prior.count() > 0);
    let event = |code, event: &str| {
        demo.about(code, "event").any(|one| matches!(&one.fact.matter, Matter::Event(is) if &*is.event == event))
    };
    assert!(event("a-04", "credit") && event("a-04", "agreement") && event("a-01", "review"));
    let person = |code| demo.history.person(&Code::parse(code).expect("a code")).expect("a person");
    let from = |code| person(code).grants.iter().map(|one| one.is.from).min().expect("a role");
    assert_eq!(from("a-01").until(from("a-04")).expect("a span").get_days(), 28);
    let days = |code, kind| demo.about(code, kind).map(|one| one.fact.claim.seen_on).collect::<Vec<_>>();
    let (left, back) = (days("a-05", "leave"), days("a-05", "return"));
    assert_eq!(left[0].until(back[0]).expect("a span").get_days(), 14);
    assert!(person("a-05").away_since(demo.today, History::NOW).is_none());
    assert!(person("a-07").away_since(demo.today, History::NOW).is_some());
}

#[test]
fn slips_were_set_right_and_one_sheet_came_late() {
    let demo = Demo::usual();
    let corrections: Vec<(String, bool)> = demo
        .of_kind("correction")
        .map(|one| match &one.fact.matter {
            Matter::Correction(is) => (is.kind.clone(), is.instead.is_some()),
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(corrections, [("hours".to_owned(), false), ("observation".to_owned(), true)]);
    let zone = &demo.programme.about.time_zone;
    let late: Vec<&Stored> =
        demo.facts.iter().filter(|one| is_late(one.fact.claim.seen_on, zone.to_datetime(one.at).date())).collect();
    assert!(!late.is_empty());
    assert!(late.iter().all(|one| one.fact.matter.kind() == "hours" && one.fact.claim.note.is_some()), "{late:?}");
}

#[test]
fn one_request_to_sign_is_open() {
    let demo = Demo::usual();
    let requests: Vec<&Stored> = demo.of_kind("request").collect();
    let [one] = requests[..] else { panic!("{requests:?}") };
    let Matter::Request(is) = &one.fact.matter else { panic!("{one:?}") };
    let state = demo.state(one.fact.person.as_ref().expect("a person").as_str(), &is.competency);
    assert_eq!(state.standing, Standing::Ready);
    assert!(state.frozen.is_some());
}

#[test]
fn each_week_has_its_taught_fact_and_one_differs_from_the_plan() {
    let demo = Demo::usual();
    let plan = demo.programme.plan.as_ref().expect("a plan");
    let taught: Vec<_> = demo.history.taught.iter().map(|one| (one.is.week, one.is.competencies.clone())).collect();
    let weeks: Vec<u32> = taught.iter().map(|(week, _)| *week).collect();
    assert_eq!(weeks, [1, 2, 3, 4, 5, 6, 7, 9, 10, 11]); // week 8 is a break
    let differs = |(week, ids): &&(u32, Vec<gearside::records::Word>)| {
        let planned: Vec<&str> = plan.weeks[week].iter().map(gearside::ground::Id::as_str).collect();
        ids.iter().map(|id| &**id).collect::<Vec<_>>() != planned
    };
    let differing: Vec<u32> = taught.iter().filter(differs).map(|(week, _)| *week).collect();
    assert_eq!(differing, [6, 7]);
    assert_eq!(demo.history.judged.len(), 6);
    assert_eq!((demo.history.quizzes.len(), demo.history.closed.len()), (38, 38));
}

/// A quiz as it was issued: its exercises.
fn exercises_of(demo: &Demo, quiz: &Stored) -> (u32, Vec<String>) {
    let Matter::QuizIssued(issued) = &quiz.fact.matter else { panic!("{quiz:?}") };
    let store = Store::open(&demo.folder().join(FILE_NAME)).expect("records");
    let kept = store.read().text(&issued.snapshot).expect("readable").expect("the snapshot");
    let kept: serde_json::Value = serde_json::from_str(&kept).expect("JSON");
    let ids = kept["exercises"].as_array().expect("a list").iter();
    let ids = ids.map(|one| one["exercise"].as_str().expect("an id").to_owned()).collect();
    (issued.week.expect("a week"), ids)
}

#[test]
fn a_quiz_asks_only_what_was_taught_no_family_twice_and_none_before_it_has_rested() {
    let demo = Demo::usual();
    let plan = demo.programme.plan.as_ref().expect("a plan");
    let this_year: Vec<&Stored> =
        demo.of_kind("quiz-issued").filter(|one| one.fact.claim.seen_on.to_string() >= plan.starts).collect();
    assert_eq!(this_year.len(), 10);
    let mut last: BTreeMap<String, u32> = BTreeMap::new();
    for quiz in this_year {
        let (week, ids) = exercises_of(demo, quiz);
        assert!((6..=20).contains(&ids.len()), "week {week}: {ids:?}");
        let taught: Vec<&str> = demo
            .history
            .taught
            .iter()
            .filter(|one| one.is.week <= week)
            .flat_map(|one| &one.is.competencies)
            .map(|id| &**id)
            .collect();
        let mut minutes = 0;
        for id in &ids {
            let exercise = demo.programme.exercise(id).expect("an exercise");
            minutes += exercise.minutes;
            assert!(taught.contains(&exercise.competency.as_str()), "week {week}: {id} was not taught yet");
            assert_ne!(exercise.used_in, gearside::programme::Use::Practice, "{id}");
            let before = last.insert(exercise.family.to_string(), week);
            assert!(before.is_none_or(|before| week - before > plan.not_again_for), "week {week}: {id} has not rested");
        }
        assert!(minutes <= plan.minutes, "week {week}: {minutes} minutes");
    }
}

#[test]
fn wrong_turns_are_called_by_their_names() {
    let demo = Demo::usual();
    let mut seen = 0;
    for fact in demo.of_kind("part-marked") {
        let Matter::PartMarked(part) = &fact.fact.matter else { panic!("{fact:?}") };
        assert_eq!(part.verdict == Mark::WrongTurn, part.turn.is_some(), "{part:?}");
        let Some(turn) = &part.turn else { continue };
        let exercise = demo.programme.exercise(&part.exercise).expect("an exercise");
        assert!(exercise.reckoning.turns.iter().any(|one| one.name == **turn), "{part:?}");
        seen += 1;
    }
    assert!(seen > 20, "{seen}");
}

fn run(folder: &Path, line: &str) -> (i32, String) {
    let mut command = Command::cargo_bin("gearside").expect("the binary");
    let output = command.current_dir(folder).args(line.split_whitespace()).output().expect("it ran");
    let text = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
    (output.status.code().expect("a status"), text)
}

#[test]
fn the_command_makes_the_demo_and_its_curriculum_is_fit_for_use() {
    let home = tempfile::tempdir().expect("a folder");
    let (status, text) = run(home.path(), "new class --demo");
    assert_eq!(status, 0, "{text}");
    let names = |folder: &Path| {
        let entries = fs::read_dir(folder).expect("a folder").map(|one| one.expect("an entry").file_name());
        let mut names: Vec<String> = entries.map(|name| name.to_string_lossy().into_owned()).collect();
        names.sort();
        names
    };
    assert_eq!(names(home.path()), ["class"]);
    let inside = [".gitignore", "README.txt", "curriculum", "question-banks", FILE_NAME];
    assert_eq!(names(&home.path().join("class")), inside);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        let about = fs::metadata(home.path().join("class").join(FILE_NAME)).expect("records");
        assert_eq!(about.permissions().mode() & 0o777, 0o600);
    }
    let (status, text) = run(&home.path().join("class"), "prove --pulls 200");
    assert_eq!(status, 0, "{text}");
    let (status, text) = run(home.path(), "new class --demo");
    assert_eq!(status, 2, "{text}");
}

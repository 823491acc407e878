//! A rehearsed class: a quiz issued, filled in by people with known ways to go
//! wrong, taken and put on record.

#![allow(dead_code, reason = "each test uses its own part of it")]

use std::collections::BTreeMap;

use gearside::ground::Fault;
use gearside::marking::{Asks, Chain, OwnAnswer, OwnKey};
use gearside::programme::{Origin, Programme, load};
use gearside::quiz::{
    Drawn, Gathering, Issuing, KeptDocket, KeptExercise, MarkedBy, Marking, OnRecord, Place, Request, Results, Return,
    Snapshot, Taken, compose, issue, on_record,
};
use gearside::records::{
    Code, Desk, Digest, Draft, Grant, History, Judged, MachineSalts, MarkCorrected, Matter, Outcome, Redaction,
    Release, Role, Rules, Store,
};
use jiff::Timestamp;
use jiff::civil::{Date, date};
use tempfile::TempDir;

/// The day of the quiz.
pub(crate) const DAY: Date = date(2026, 11, 23);

/// How someone fills a docket in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hand {
    /// The key, everywhere.
    Right,
    /// The first known wrong turn, wherever there is one.
    Turns,
    /// A wrong first part, and everything after it right from that.
    Carries,
    /// Nothing at all.
    Blank,
    /// What cannot be read.
    Scrawls,
    /// Orders the wrong way round, and all else right.
    Reversed,
    /// 3.3 times the key, the first option, the moves as shown.
    Guesses,
}

/// Exercises that a class must be asked: one of several parts, and an order with a safety pair.
pub(crate) const WITH: &[&str] = &["change-a-blade", "dry-coat-weight"];

/// How each of the nine fills in; the ninth does not come back.
pub(crate) const HANDS: [Hand; 8] =
    [Hand::Right, Hand::Turns, Hand::Carries, Hand::Blank, Hand::Scrawls, Hand::Reversed, Hand::Guesses, Hand::Right];

/// A class of nine whose quiz came back, but for one docket.
pub(crate) fn of_nine() -> Class {
    let mut class = Class::issued(9, 45, WITH);
    for (place, hand) in HANDS.into_iter().enumerate() {
        class.fill(place, hand);
    }
    class
}

/// A class with its records.
pub(crate) struct Class {
    pub(crate) folder: TempDir,
    pub(crate) programme: Programme,
    pub(crate) snapshot: Snapshot,
    pub(crate) kept: Vec<KeptDocket>,
    pub(crate) store: Store,
    pub(crate) now: Timestamp,
}

pub(crate) fn code(text: &str) -> Code {
    Code::parse(text).expect("a code")
}

/// A text with two names in it, so that a page that names someone else shows.
pub(crate) fn name_of(code: &Code) -> String {
    format!("Invented {} Ngata", code.as_str().to_uppercase())
}

fn draft(person: Option<&str>, matter: Matter) -> Draft {
    Draft {
        person: person.map(code),
        seen_by: code("c-1"),
        seen_on: DAY,
        entered_by: code("c-1"),
        paper: None,
        note: None,
        name: None,
        from_is_open: false,
        matter,
        place: gearside::ground::Place::default(),
    }
}

impl Class {
    /// Issues a quiz of week 12 to so many people, and one blank docket.
    pub(crate) fn issued(people: usize, minutes: u32, with: &[&str]) -> Self {
        let programme = load(&Origin::Shipped).expect("it is read").programme.expect("a programme");
        let with: Vec<String> = with.iter().map(|one| (*one).to_owned()).collect();
        let request = Request {
            programme: &programme,
            history: None,
            asked: &BTreeMap::new(),
            week: 12,
            day: DAY,
            minutes,
            with: &with,
            without: &[],
            only: None,
            seed: "1",
        };
        let composition = compose(&request).expect("a composition");
        let mut places: Vec<Place> =
            (1..=people).map(|number| Place { person: Some(code(&format!("a-{number}"))), minutes }).collect();
        places.push(Place { person: None, minutes });
        let issuing = Issuing {
            programme: &programme,
            composition: &composition,
            quiz: "week-12",
            day: DAY,
            places: &places,
            seed: "1",
            rehearsal: false,
        };
        let issued = issue(&issuing, &mut Drawn::rehearsed("7")).expect("a quiz");
        let kept = issued.dockets.iter().map(|bytes| KeptDocket::unpack(bytes).expect("a docket")).collect();
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open_or_start(&folder.path().join("records.db")).expect("records");
        let now = "2026-11-23T12:00:00Z".parse().expect("a time");
        let mut class = Self { folder, snapshot: issued.snapshot.clone(), kept, store, now, programme };
        let grant = |role| Grant { role, from: date(2026, 9, 1), until: None, stages: None, class: None, name: None };
        let named = |person: &str, role| Draft {
            name: Some(name_of(&code(person))),
            ..draft(Some(person), Matter::Grant(grant(role)))
        };
        let mut people_drafts = vec![named("c-1", Role::Coordinator)];
        people_drafts.extend((1..=people).map(|number| named(&format!("a-{number}"), Role::Apprentice)));
        class.record(people_drafts);
        let (now, programme) = (class.tick(), &class.programme);
        let mut desk = Desk { programme, now, salts: &mut MachineSalts, dry_run: false };
        desk.record_with(&mut class.store, |writer, _| issued.keep(programme, &code("c-1"), writer)).expect("issued");
        class
    }

    fn tick(&mut self) -> Timestamp {
        self.now += jiff::SignedDuration::from_secs(60);
        self.now
    }

    pub(crate) fn record(&mut self, drafts: Vec<Draft>) -> Vec<Outcome> {
        let now = self.tick();
        let mut desk = Desk { programme: &self.programme, now, salts: &mut MachineSalts, dry_run: false };
        desk.record(&mut self.store, drafts).expect("recorded")
    }

    pub(crate) fn history(&self) -> History {
        self.store.read().history(&self.programme.about.time_zone).expect("a history")
    }

    /// What a hand writes into the docket at a place.
    pub(crate) fn answers(&self, place: usize, hand: Hand) -> Vec<Vec<String>> {
        let pulls = self.snapshot.exercises.iter().zip(&self.kept[place].exercises);
        pulls.map(|(kept, pull)| written(kept, &pull.own, hand)).collect()
    }

    /// Takes a return of the docket at a place, and puts its marks on record.
    pub(crate) fn take(&mut self, place: usize, person: &str, answers: Vec<Vec<String>>) {
        let seat = &self.snapshot.dockets[place];
        let returned = Return::from_paper("week-12", &seat.docket, person, answers);
        let history = self.history();
        let marking = Marking::open(&self.snapshot).expect("rules");
        let marks = marking.mark(&self.kept[place], &returned.answers).expect("marks");
        let rules = Rules::of(&self.programme);
        let entered_by = code("c-1");
        let by = MarkedBy { entered_by: &entered_by, on: DAY, rules: &rules, history: &history };
        let taken = Taken { place, person: code(person), returned, from: "a.json".to_owned() };
        self.now += jiff::SignedDuration::from_secs(60);
        let mut desk = Desk { programme: &self.programme, now: self.now, salts: &mut MachineSalts, dry_run: false };
        let outcomes = desk.record_with(&mut self.store, |writer, salts| {
            let text = writer.keep_text(&taken.returned.to_text(), salts)?;
            Ok(marking.drafts(&taken, text, &marks, by))
        });
        outcomes.expect("marks go on record");
    }

    /// Fills the docket at a place in, and takes it.
    pub(crate) fn fill(&mut self, place: usize, hand: Hand) {
        let person = self.snapshot.dockets[place].person.clone().expect("whose it is");
        let answers = self.answers(place, hand);
        self.take(place, person.as_str(), answers);
    }

    /// Sets the first part of an exercise right.
    pub(crate) fn correct(&mut self, place: usize, exercise: usize, mark: f64, why: &str) {
        let seat = &self.snapshot.dockets[place];
        let is = MarkCorrected {
            quiz: "week-12".into(),
            docket: seat.docket.as_str().into(),
            exercise: self.snapshot.exercises[exercise].exercise.as_str().into(),
            part: 1,
            mark,
        };
        let person = seat.person.clone().expect("whose it is");
        let drafted = draft(Some(person.as_str()), Matter::MarkCorrected(is));
        self.record(vec![Draft { note: Some(why.to_owned()), ..drafted }]);
    }

    /// A judge says what to expect of an exercise.
    pub(crate) fn judge(&mut self, judge: &str, exercise: usize, expect: f64) {
        let is = Judged { exercise: self.snapshot.exercises[exercise].exercise.as_str().into(), expect };
        self.record(vec![Draft { seen_by: code(judge), ..draft(None, Matter::Judged(is)) }]);
    }

    /// Gives someone a role.
    pub(crate) fn grant(&mut self, person: &str, role: Role) {
        let grant = Grant { role, from: date(2026, 9, 1), until: None, stages: None, class: None, name: None };
        self.record(vec![Draft { name: Some(name_of(&code(person))), ..draft(Some(person), Matter::Grant(grant)) }]);
    }

    /// Releases a hold, after a talk.
    pub(crate) fn release(&mut self, person: &str, competency: &str, hold: u64) {
        let is = Release { competency: competency.into(), hold };
        self.grant("s-1", Role::Assessor);
        let drafted = Draft { seen_by: code("s-1"), ..draft(Some(person), Matter::Release(is)) };
        self.record(vec![Draft { note: Some("talked through".to_owned()), ..drafted }]);
    }

    /// Erases someone's name and texts.
    pub(crate) fn redact(&mut self, person: &str) {
        let drafted = draft(Some(person), Matter::Redaction(Redaction { digests: Vec::new() }));
        let drafted = Draft { note: Some("asked for it".to_owned()), ..drafted };
        let now = self.tick();
        let mut desk = Desk { programme: &self.programme, now, salts: &mut MachineSalts, dry_run: false };
        desk.redact(&mut self.store, &code(person), drafted).expect("erased");
    }

    pub(crate) fn text(&self, digest: &Digest) -> Option<String> {
        self.store.read().text(digest).expect("records")
    }

    /// The returns that count.
    pub(crate) fn on_record(&self, history: &History) -> BTreeMap<usize, OnRecord> {
        on_record::<Fault>(&self.snapshot, history, |digest| Ok(self.text(digest))).expect("returns")
    }

    /// What came of it all.
    pub(crate) fn results(&self, history: &History) -> Results<'_> {
        let on_record = self.on_record(history);
        let gathering = Gathering { snapshot: &self.snapshot, history, on_record: &on_record };
        gathering
            .gather::<Fault>(|place| Ok(Some(self.kept[place].clone())), |digest| self.text(digest))
            .expect("results")
    }
}

fn written(kept: &KeptExercise, own: &OwnKey, hand: Hand) -> Vec<String> {
    if hand == Hand::Blank {
        return vec![String::new(); kept.shown.answers()];
    }
    if hand == Hand::Scrawls {
        return (0..kept.shown.answers()).map(|part| ["about so", "7 <b>"][part % 2].to_owned()).collect();
    }
    match &kept.rules.asks {
        Asks::Numeric(rules) => numbers(rules, own, hand),
        Asks::Order(_) => {
            let shown: Vec<usize> = (1..=own.shown.len()).collect();
            let valid = gearside::marking::one_valid_order(&own.shown, &own.pairs);
            let place = |index: &usize| own.shown.iter().position(|one| one == index).expect("a move") + 1;
            let mut valid: Vec<usize> = valid.iter().map(place).collect();
            match hand {
                Hand::Reversed => valid.reverse(),
                Hand::Turns => valid.swap(0, 1),
                Hand::Guesses => valid = shown,
                _ => {}
            }
            vec![row(&valid)]
        }
        Asks::Choose(rules) if !rules.questions.is_empty() => (0..rules.questions.len())
            .flat_map(|place| {
                let only = gearside::marking::ChooseRules { questions: vec![], ..rules.clone() };
                chosen(&only, &own.of_question(place), hand)
            })
            .collect(),
        Asks::Choose(rules) => chosen(rules, own, hand),
        Asks::Rounds(rules) => vec![row(&moves(rules, own, hand))],
    }
}

/// Moves of rounds: the fewest, with one there and back more, one too few, or the first as shown.
fn moves(rules: &gearside::marking::RoundsRules, own: &OwnKey, hand: Hand) -> Vec<usize> {
    let start = own.rounds.as_ref().expect("a beginning").start;
    let fewest = rules.ways.shortest(start).expect("a way");
    let shown = |index: &usize| own.shown.iter().position(|one| one == index).expect("a move") + 1;
    let mut done: Vec<usize> = fewest.iter().map(shown).collect();
    match hand {
        Hand::Reversed => {
            let not_safe = rules.ways.not_safe.iter().position(|one| *one);
            done.extend(not_safe.iter().map(shown));
        }
        Hand::Turns => done.truncate(done.len() - 1),
        Hand::Guesses => done = vec![1],
        _ => {}
    }
    done
}

/// Numbers in a row, as they are typed.
fn row(numbers: &[usize]) -> String {
    numbers.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
}

fn chosen(rules: &gearside::marking::ChooseRules, own: &OwnKey, hand: Hand) -> Vec<String> {
    let options = own.shown.iter().map(|index| &rules.options[*index]);
    let right: Vec<usize> = (1..).zip(options.clone()).filter(|(_, one)| one.right).map(|(n, _)| n).collect();
    let turn = (1..).zip(options.clone()).find(|(_, one)| !one.right && one.turn.is_some());
    let wrong = turn.or_else(|| (1..).zip(options).find(|(_, one)| !one.right)).map(|(n, _)| n);
    match hand {
        Hand::Turns | Hand::Carries => vec![row(&wrong.into_iter().collect::<Vec<_>>())],
        Hand::Guesses => vec!["1".to_owned()],
        _ if rules.pick == gearside::programme::Pick::One => vec![row(&right[..1])],
        _ => vec![row(&right)],
    }
}

fn numbers(rules: &gearside::marking::NumericRules, own: &OwnKey, hand: Hand) -> Vec<String> {
    let chain = Chain::open(rules).expect("a chain");
    let mut earlier: Vec<OwnAnswer> = Vec::new();
    let mut texts = Vec::new();
    for (place, part) in own.parts.iter().enumerate() {
        let (step, _) = chain.asked(place).expect("a step");
        let value = match hand {
            Hand::Turns => part.intervals.turns.first().map_or(part.key, |turn| turn.at),
            Hand::Carries if place == 0 => part.intervals.turns.first().map_or(part.key * 1.07, |turn| turn.at),
            Hand::Carries => {
                chain.right_given(own, &earlier, place).map_or(part.key, |(_, right)| f64::midpoint(right.lo, right.hi))
            }
            Hand::Guesses => part.key * 3.3 + 0.013,
            _ => part.key,
        };
        // Seven figures: as a pocket calculator shows them.
        let text = if hand == Hand::Right { part.printed.clone() } else { seven(value) };
        let typed: f64 = if hand == Hand::Right { part.key } else { text.parse().expect("a number") };
        earlier.push(OwnAnswer { step, in_unit: typed });
        texts.push(text);
    }
    texts
}

fn seven(value: f64) -> String {
    let text: f64 = format!("{value:.6e}").parse().expect("a number");
    format!("{text}")
}

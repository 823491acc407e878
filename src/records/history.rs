//! The facts folded in memory: what is known about whom, and since when.
//!
//! Nothing is dropped when a correction replaces it: it is only gone from then
//! on, so that any day's knowledge can be looked at again.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use super::chain::{Break, Head};
use super::code::Code;
use super::digest::Digest;
use super::fact::{
    Claim, Correction, Event, Fact, Grant, Hold, Hours, Judged, Mark, Matter, Observation, QuizClosed, QuizIssued,
    Release, Request, ReturnTaken, Role, Seq, Signoff, Sort, Stored, Taught, Withdrawal, Word, is_late,
};
use super::rules::{Lineage, Rules};

/// Something on record, with the fact it stands in.
#[derive(Debug, Clone, PartialEq)]
pub struct Kept<T> {
    /// The fact.
    pub seq: Seq,
    /// The fact in which it was first said, if this one corrects it.
    pub origin: Seq,
    /// When it was first entered.
    pub at: Timestamp,
    /// The fact from which on it no longer counts.
    pub gone: Option<Seq>,
    /// Who says so.
    pub claim: Claim,
    /// What is said.
    pub is: T,
}

impl<T> Kept<T> {
    /// Whether it counts, as far as was known at fact `known_at`.
    #[must_use]
    pub fn counts(&self, known_at: Seq) -> bool {
        self.seq <= known_at && self.gone.is_none_or(|gone| gone > known_at)
    }

    /// Whether it counts and was seen by the end of a day.
    #[must_use]
    pub fn counts_on(&self, day: Date, known_at: Seq) -> bool {
        self.counts(known_at) && self.claim.seen_on <= day
    }
}

/// Going away, or coming back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Move {
    /// The first day of it.
    pub from: Date,
    /// Whether the person is away from then on.
    pub away: bool,
}

/// A fact that no longer counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Replaced {
    /// Its number.
    pub seq: Seq,
    /// Its kind.
    pub kind: String,
    /// Whether nothing counts in its place.
    pub struck_out: bool,
}

/// Hours, their ends read.
#[derive(Debug, Clone, PartialEq)]
pub struct Spent {
    /// How.
    pub sort: Sort,
    /// When, if the clock times are known.
    pub span: Option<(Timestamp, Timestamp)>,
    /// How many minutes.
    pub minutes: u32,
    /// Who supervised.
    pub supervisor: Code,
    /// The ends as written.
    pub written: Option<(Word, Word)>,
}

/// A part of an exercise, marked.
#[derive(Debug, Clone, PartialEq)]
pub struct Marked {
    /// The quiz.
    pub quiz: Word,
    /// The docket.
    pub docket: Word,
    /// The exercise.
    pub exercise: Word,
    /// The part.
    pub part: u32,
    /// How many parts there are.
    pub parts: u32,
    /// The verdict.
    pub verdict: Mark,
    /// The mark.
    pub mark: f64,
    /// The wrong turn.
    pub turn: Option<Word>,
}

/// What is known of a person in one competency, under one of its names.
#[derive(Debug, Clone, Default)]
pub struct Work {
    /// Hours on this process line.
    pub hours: Vec<Kept<Spent>>,
    /// Observations.
    pub observations: Vec<Kept<Observation>>,
    /// Marked parts.
    pub marks: Vec<Kept<Marked>>,
    /// Requests.
    pub requests: Vec<Kept<Request>>,
    /// Sign-offs.
    pub signoffs: Vec<Kept<Signoff>>,
    /// Withdrawals.
    pub withdrawals: Vec<Kept<Withdrawal>>,
    /// Holds.
    pub holds: Vec<Kept<Hold>>,
    /// Releases.
    pub releases: Vec<Kept<Release>>,
}

/// What is known of a person.
#[derive(Debug, Clone)]
pub struct Person {
    /// The code.
    pub code: Code,
    /// Roles.
    pub grants: Vec<Kept<Grant>>,
    /// Going away and coming back.
    pub moves: Vec<Kept<Move>>,
    /// What happened.
    pub events: Vec<Kept<Event>>,
    /// Returns of quizzes.
    pub returns: Vec<Kept<ReturnTaken>>,
    /// What was set right in facts about the person.
    pub corrections: Vec<Kept<Replaced>>,
    /// Work by competency or stage, under the names of its time.
    pub work: BTreeMap<Word, Work>,
}

/// An edition in force from a fact on.
#[derive(Debug, Clone)]
pub struct InForce {
    /// The fact.
    pub seq: Seq,
    /// Its label.
    pub label: String,
    /// The digest of its rules.
    pub digest: Digest,
    /// Its rules, if they can be read.
    pub rules: Option<Arc<Rules>>,
}

/// Everything on record, folded.
#[derive(Debug, Clone)]
pub struct History {
    /// The time zone whose dates count.
    pub zone: TimeZone,
    /// The end of the chain.
    pub head: Head,
    /// When the last fact was entered.
    pub last_at: Option<Timestamp>,
    /// Where the chain does not hold.
    pub breaks: Vec<Break>,
    /// The editions, in the order they came into force.
    pub editions: Vec<InForce>,
    /// People by code.
    pub people: BTreeMap<Code, Person>,
    /// What was taught.
    pub taught: Vec<Kept<Taught>>,
    /// Quizzes issued.
    pub quizzes: Vec<Kept<QuizIssued>>,
    /// Quizzes closed.
    pub closed: Vec<Kept<QuizClosed>>,
    /// What judges expect.
    pub judged: Vec<Kept<Judged>>,
    /// Digests of what was erased.
    pub erased: BTreeSet<Digest>,
    /// Names of competencies over all editions.
    pub lineage: Lineage,
    /// How many facts of each kind there are.
    pub kinds: BTreeMap<&'static str, u64>,
    words: BTreeSet<Word>,
}

impl Default for History {
    fn default() -> Self {
        Self {
            zone: TimeZone::UTC,
            head: Head::EMPTY,
            last_at: None,
            breaks: Vec::new(),
            editions: Vec::new(),
            people: BTreeMap::new(),
            taught: Vec::new(),
            quizzes: Vec::new(),
            closed: Vec::new(),
            judged: Vec::new(),
            erased: BTreeSet::new(),
            lineage: Lineage::default(),
            kinds: BTreeMap::new(),
            words: BTreeSet::new(),
        }
    }
}

impl Person {
    fn new(code: Code) -> Self {
        Self {
            code,
            grants: Vec::new(),
            moves: Vec::new(),
            events: Vec::new(),
            returns: Vec::new(),
            corrections: Vec::new(),
            work: BTreeMap::new(),
        }
    }

    /// The role as granted for a day: the latest grant that begins by then, if it has not ended.
    #[must_use]
    pub fn grant(&self, role: Role, day: Date, known_at: Seq) -> Option<&Kept<Grant>> {
        self.grants
            .iter()
            .filter(|grant| grant.is.role == role && grant.is.from <= day && grant.counts(known_at))
            .max_by_key(|grant| (grant.is.from, grant.seq))
            .filter(|grant| grant.is.until.is_none_or(|until| day <= until))
    }

    /// Whether the person has the role on a day and is not away.
    #[must_use]
    pub fn is(&self, role: Role, day: Date, known_at: Seq) -> bool {
        self.grant(role, day, known_at).is_some() && !self.is_away(day, known_at)
    }

    /// Whether the person ever was an apprentice.
    #[must_use]
    pub fn learns(&self) -> bool {
        self.grants.iter().any(|grant| grant.is.role == Role::Apprentice && grant.gone.is_none())
    }

    /// Whether the person may sign a stage on a day.
    #[must_use]
    pub fn may_sign(&self, stage: &str, day: Date, known_at: Seq) -> bool {
        !self.is_away(day, known_at)
            && self.grant(Role::Assessor, day, known_at).is_some_and(|grant| {
                grant.is.stages.as_ref().is_none_or(|stages| stages.iter().any(|one| &**one == stage))
            })
    }

    /// Since when the person is away on a day.
    #[must_use]
    pub fn away_since(&self, day: Date, known_at: Seq) -> Option<Date> {
        self.moves
            .iter()
            .filter(|one| one.is.from <= day && one.counts(known_at))
            .max_by_key(|one| (one.is.from, one.seq))
            .filter(|one| one.is.away)
            .map(|one| one.is.from)
    }

    fn is_away(&self, day: Date, known_at: Seq) -> bool {
        self.away_since(day, known_at).is_some()
    }

    /// The digest of the name that counts now.
    #[must_use]
    pub fn name_digest(&self) -> Option<&Digest> {
        self.grants.iter().filter(|grant| grant.gone.is_none()).rev().find_map(|grant| grant.is.name.as_ref())
    }

    /// The class of an apprentice.
    #[must_use]
    pub fn class(&self) -> Option<&str> {
        let named = |grant: &Kept<Grant>| grant.is.role == Role::Apprentice && grant.gone.is_none();
        self.grants.iter().rev().filter(|grant| named(grant)).find_map(|grant| grant.is.class.as_deref())
    }

    /// The work under any of several names.
    pub fn work_in<'a>(&'a self, names: &'a [Word]) -> impl Iterator<Item = &'a Work> + Clone {
        names.iter().filter_map(|name| self.work.get(name))
    }

    /// Which of these facts no longer count.
    #[must_use]
    pub fn gone_of(&self, names: &[Word], seqs: &[Seq]) -> Vec<Seq> {
        fn gone<T>(list: &[Kept<T>]) -> impl Iterator<Item = Seq> {
            list.iter().filter(|one| one.gone.is_some()).map(|one| one.seq)
        }
        let work = self.work_in(names);
        let mut found: Vec<Seq> = work
            .flat_map(|work| gone(&work.hours).chain(gone(&work.observations)).chain(gone(&work.marks)))
            .filter(|seq| seqs.contains(seq))
            .collect();
        found.sort_unstable();
        found
    }

    /// Hours with clock times, under whatever name.
    pub fn spans(&self) -> impl Iterator<Item = (&Kept<Spent>, Timestamp, Timestamp)> {
        self.work
            .values()
            .flat_map(|work| &work.hours)
            .filter(|hours| hours.gone.is_none())
            .filter_map(|hours| hours.is.span.map(|(from, to)| (hours, from, to)))
    }
}

impl History {
    /// Everything known so far.
    pub const NOW: Seq = Seq::MAX;

    /// Nothing yet, for dates of a time zone.
    #[must_use]
    pub fn in_zone(zone: &TimeZone) -> Self {
        Self { zone: zone.clone(), ..Self::default() }
    }

    /// The person of a code.
    #[must_use]
    pub fn person(&self, code: &Code) -> Option<&Person> {
        self.people.get(code)
    }

    /// The day on which something was entered.
    #[must_use]
    pub fn entered_on<T>(&self, kept: &Kept<T>) -> Date {
        self.zone.to_datetime(kept.at).date()
    }

    /// Whether something was entered late.
    #[must_use]
    pub fn is_late<T>(&self, kept: &Kept<T>) -> bool {
        is_late(kept.claim.seen_on, self.entered_on(kept))
    }

    /// The edition in force at a fact.
    #[must_use]
    pub fn edition_at(&self, seq: Seq) -> Option<&InForce> {
        self.editions.iter().rev().find(|edition| edition.seq <= seq)
    }

    /// Learns from all editions what was called what.
    pub(super) fn learn_lineage(&mut self) {
        for rules in self.editions.iter().filter_map(|edition| edition.rules.clone()) {
            self.lineage.add(&rules);
        }
    }

    /// The rules of the edition that came into force last.
    pub(super) fn set_rules(&mut self, rules: Rules) {
        self.lineage.add(&rules);
        if let Some(last) = self.editions.last_mut() {
            last.rules = Some(Arc::new(rules));
        }
    }

    /// Codes that are on record, with nothing else known of them here.
    pub(super) fn note_codes(&mut self, codes: Vec<Code>) {
        for code in codes {
            self.someone(&code);
        }
    }

    /// The same word, kept once.
    fn word(&mut self, word: Word) -> Word {
        if let Some(known) = self.words.get(&word) {
            return known.clone();
        }
        self.words.insert(word.clone());
        word
    }

    fn someone(&mut self, code: &Code) -> &mut Person {
        self.people.entry(code.clone()).or_insert_with(|| Person::new(code.clone()))
    }

    fn work(&mut self, code: &Code, name: Word) -> &mut Work {
        let name = self.word(name);
        self.someone(code).work.entry(name).or_default()
    }

    /// Adds the next fact.
    pub fn add(&mut self, stored: Stored) {
        let Stored { seq, at, fact } = stored;
        self.last_at = Some(at);
        *self.kinds.entry(fact.matter.kind()).or_default() += 1;
        self.head.seq = self.head.seq.max(seq);
        self.take((seq, seq, at), fact);
    }

    fn take(&mut self, (seq, origin, at): (Seq, Seq, Timestamp), fact: Fact) {
        let Fact { person, claim, matter } = fact;
        macro_rules! keep {
            ($is:expr) => {
                Kept { seq, origin, at, gone: None, claim, is: $is }
            };
        }
        match (matter, &person) {
            (Matter::Edition(is), _) => {
                self.editions.push(InForce { seq, label: is.label, digest: is.digest, rules: None });
            }
            (Matter::Taught(is), _) => self.taught.push(keep!(is)),
            (Matter::QuizIssued(is), _) => self.quizzes.push(keep!(is)),
            (Matter::QuizClosed(is), _) => self.closed.push(keep!(is)),
            (Matter::Judged(is), _) => self.judged.push(keep!(is)),
            (Matter::Redaction(is), _) => self.erased.extend(is.digests),
            (Matter::Correction(is), _) => self.correct(seq, at, &claim, person.as_ref(), is),
            (Matter::Grant(is), Some(code)) => self.someone(code).grants.push(keep!(is)),
            (Matter::Leave(is), Some(code)) => {
                self.someone(code).moves.push(keep!(Move { from: is.from, away: true }));
            }
            (Matter::Return(is), Some(code)) => {
                self.someone(code).moves.push(keep!(Move { from: is.from, away: false }));
            }
            (Matter::Event(is), Some(code)) => self.someone(code).events.push(keep!(is)),
            (Matter::ReturnTaken(is), Some(code)) => self.someone(code).returns.push(keep!(is)),
            (Matter::Hours(is), Some(code)) => {
                let line = is.line.clone();
                self.work(code, line).hours.push(keep!(Spent::of(is)));
            }
            (Matter::Observation(is), Some(code)) => {
                self.work(code, is.competency.clone()).observations.push(keep!(is));
            }
            (Matter::PartMarked(is), Some(code)) => {
                let marked = Marked {
                    quiz: self.word(is.quiz),
                    docket: self.word(is.docket),
                    exercise: self.word(is.exercise),
                    part: is.part,
                    parts: is.parts,
                    verdict: is.verdict,
                    mark: is.mark,
                    turn: is.turn.map(|turn| self.word(turn)),
                };
                let work = self.work(code, is.competency);
                for older in &mut work.marks {
                    if older.gone.is_none() && older.is.is_same_part(&marked) {
                        older.gone = Some(seq);
                    }
                }
                work.marks.push(keep!(marked));
            }
            (Matter::MarkCorrected(is), Some(code)) => {
                for work in self.someone(code).work.values_mut() {
                    let same = |one: &&mut Kept<Marked>| {
                        one.gone.is_none()
                            && (&*one.is.quiz, &*one.is.docket, &*one.is.exercise, one.is.part)
                                == (&*is.quiz, &*is.docket, &*is.exercise, is.part)
                    };
                    if let Some(older) = work.marks.iter_mut().find(same) {
                        older.gone = Some(seq);
                        let marked = Marked { mark: is.mark, ..older.is.clone() };
                        let claim = Claim { seen_on: older.claim.seen_on, ..claim };
                        let origin = older.origin;
                        work.marks.push(Kept { seq, origin, at, gone: None, claim, is: marked });
                        return;
                    }
                }
            }
            (Matter::Request(is), Some(code)) => self.work(code, is.competency.clone()).requests.push(keep!(is)),
            (Matter::Signoff(is), Some(code)) => self.work(code, is.competency.clone()).signoffs.push(keep!(is)),
            (Matter::Withdrawal(is), Some(code)) => {
                self.work(code, is.competency.clone()).withdrawals.push(keep!(is));
            }
            (Matter::Hold(is), Some(code)) => self.work(code, is.competency.clone()).holds.push(keep!(is)),
            (Matter::Release(is), Some(code)) => self.work(code, is.competency.clone()).releases.push(keep!(is)),
            // The writer never lets a fact about nobody of these kinds through.
            (_, None) => {}
        }
    }

    /// What would stand in for a fact.
    pub(super) fn add_instead(&mut self, seq: Seq, at: Timestamp, person: Option<Code>, instead: Instead) {
        self.take((seq, seq, at), Fact { person, claim: instead.claim, matter: instead.matter });
    }

    /// One fact is gone from here on, and another may stand in for it.
    fn correct(&mut self, seq: Seq, at: Timestamp, claim: &Claim, person: Option<&Code>, is: Correction) {
        fn go<T>(list: &mut [Kept<T>], replaced: Seq, seq: Seq, first: &mut Option<(Seq, Timestamp)>) {
            for one in list.iter_mut().filter(|one| one.seq == replaced && one.gone.is_none()) {
                one.gone = Some(seq);
                *first = Some((one.origin, one.at));
            }
        }
        let mut first = None;
        let replaced = is.replaces;
        if let Some(person) = person.and_then(|code| self.people.get_mut(code)) {
            let said = Replaced { seq: replaced, kind: is.kind.clone(), struck_out: is.instead.is_none() };
            person.corrections.push(Kept { seq, origin: seq, at, gone: None, claim: claim.clone(), is: said });
            go(&mut person.grants, replaced, seq, &mut first);
            go(&mut person.moves, replaced, seq, &mut first);
            go(&mut person.events, replaced, seq, &mut first);
            for work in person.work.values_mut() {
                go(&mut work.hours, replaced, seq, &mut first);
                go(&mut work.observations, replaced, seq, &mut first);
                go(&mut work.requests, replaced, seq, &mut first);
            }
        } else {
            go(&mut self.taught, replaced, seq, &mut first);
            go(&mut self.judged, replaced, seq, &mut first);
        }
        if let Some(instead) = is.instead.and_then(|instead| Instead::read(&is.kind, instead, claim)) {
            // What stands in was said, and entered, when the first was.
            let (origin, at) = first.unwrap_or((seq, at));
            self.take(
                (seq, origin, at),
                Fact { person: person.cloned(), claim: instead.claim, matter: instead.matter },
            );
        }
    }
}

/// What a correction puts in a fact's place.
#[derive(Debug, Clone, PartialEq)]
pub struct Instead {
    /// Who saw it, and when.
    pub claim: Claim,
    /// What is said.
    pub matter: Matter,
}

impl Instead {
    /// As a correction carries it.
    #[must_use]
    pub fn to_json(&self) -> serde_json::Value {
        serde_json::json!({
            "seen_by": self.claim.seen_by,
            "seen_on": self.claim.seen_on,
            "paper": self.claim.paper,
            "note": self.claim.note,
            "is": self.matter.to_json(),
        })
    }

    /// Reads what a correction carries.
    pub(super) fn read(kind: &str, mut json: serde_json::Value, correction: &Claim) -> Option<Self> {
        let matter = Matter::from_json(kind, json.get_mut("is")?.take())?.ok()?;
        let claim = Claim {
            seen_by: serde_json::from_value(json.get_mut("seen_by")?.take()).ok()?,
            seen_on: serde_json::from_value(json.get_mut("seen_on")?.take()).ok()?,
            paper: serde_json::from_value(json.get_mut("paper")?.take()).ok()?,
            entered_by: correction.entered_by.clone(),
            note: serde_json::from_value(json.get_mut("note")?.take()).ok()?,
        };
        Some(Self { claim, matter })
    }
}

impl Marked {
    /// Whether both are marks of the same part of the same docket.
    #[must_use]
    pub fn is_same_part(&self, other: &Self) -> bool {
        self.part == other.part && self.is_of_same_exercise(other)
    }

    /// Whether both are marks of the same exercise of the same docket.
    #[must_use]
    pub fn is_of_same_exercise(&self, other: &Self) -> bool {
        self.exercise == other.exercise && self.quiz == other.quiz && self.docket == other.docket
    }
}

impl Spent {
    pub(super) fn of(is: Hours) -> Self {
        let written = is.start.zip(is.end).map(|(from, to)| (Word::from(from), Word::from(to)));
        let read = |text: &Word| text.parse::<Timestamp>().ok();
        let span = written.as_ref().and_then(|(from, to)| Some((read(from)?, read(to)?)));
        Self { sort: is.sort, span, minutes: is.minutes, supervisor: is.supervisor, written }
    }
}

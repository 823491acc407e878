//! The records as plain lists, judged and looked at by loops: the rules as the
//! design words them, written without a look at how the program does it.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use gearside::records::Look;
use jiff::civil::Date;

use crate::calendar::{self, Minute};
use crate::curriculum::{Competency, Edition, STAGES};
use crate::standing::open_holds;

/// A person, by code.
pub(crate) type Who = &'static str;

/// What is said.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum What {
    Role {
        role: &'static str,
        from: Date,
        until: Option<Date>,
        stages: Option<Vec<&'static str>>,
    },
    Move {
        from: Date,
        away: bool,
    },
    Hours {
        instruction: bool,
        line: String,
        start: String,
        end: String,
        supervisor: Who,
    },
    Prior {
        line: String,
        minutes: u32,
        supervisor: Who,
    },
    Seen {
        competency: String,
        looks: Vec<Look>,
        job: &'static str,
        aided: bool,
    },
    Mark {
        competency: String,
        quiz: String,
        docket: Who,
        exercise: String,
        part: u32,
        parts: u32,
        tenths: u8,
    },
    Ask {
        competency: String,
    },
    Sign {
        competency: String,
        acknowledged: Date,
        despite: Option<Who>,
    },
    Unsign {
        competency: String,
        signoff: u64,
    },
    Hold {
        competency: String,
        safety: bool,
    },
    Release {
        competency: String,
        hold: u64,
    },
    /// A fact that was struck out, or that changes no state.
    Nothing,
}

/// Something to be put on record.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Entry {
    pub(crate) person: Who,
    pub(crate) seen_by: Who,
    pub(crate) seen_on: Date,
    pub(crate) entered_by: Who,
    pub(crate) reason: bool,
    pub(crate) what: What,
}

/// A fact on record.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    pub(crate) seq: u64,
    pub(crate) person: Who,
    pub(crate) seen_by: Who,
    pub(crate) seen_on: Date,
    /// The fact that took its place.
    pub(crate) dead: Option<u64>,
    pub(crate) what: What,
    /// Whether a reason was said with it.
    pub(crate) reason: bool,
    pub(crate) span: Option<(Minute, Minute)>,
}

/// What became of an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Became {
    Recorded(u64),
    Already(u64),
}

/// Why not.
pub(crate) type Refused = &'static str;

/// The records.
#[derive(Clone)]
pub(crate) struct Model {
    pub(crate) rows: Vec<Row>,
    pub(crate) next: u64,
    pub(crate) in_force: Vec<(u64, Edition)>,
    pub(crate) current: Edition,
    pub(crate) now: Minute,
    pub(crate) erased: Vec<(Who, u64)>,
    pub(crate) sure: Rc<RefCell<BTreeMap<(u64, u64), f64>>>,
}

fn ensure(fine: bool, why: Refused) -> Result<(), Refused> {
    if fine { Ok(()) } else { Err(why) }
}

impl Model {
    pub(crate) fn new(current: Edition, now: Minute) -> Self {
        Self { rows: Vec::new(), next: 1, in_force: Vec::new(), current, now, sure: Rc::default(), erased: Vec::new() }
    }

    pub(crate) fn today(&self) -> Date {
        calendar::local_day(self.now)
    }

    pub(crate) fn live(&self) -> impl Iterator<Item = &Row> {
        self.rows.iter().filter(|row| row.dead.is_none())
    }

    pub(crate) fn of(&self, person: Who) -> impl Iterator<Item = &Row> {
        self.live().filter(move |row| row.person == person)
    }

    /// All of a batch, or nothing.
    pub(crate) fn record(&mut self, entries: &[Entry]) -> Result<Vec<Became>, Refused> {
        let before = self.clone();
        let done = self.record_all(entries);
        let news = done.as_ref().is_ok_and(|all| all.iter().any(|one| matches!(one, Became::Recorded(_))));
        if !news {
            *self = before;
        }
        done
    }

    fn record_all(&mut self, entries: &[Entry]) -> Result<Vec<Became>, Refused> {
        self.open_edition()?;
        let (mut done, mut first_fault) = (Vec::new(), None);
        let alone = entries.len() == 1;
        for entry in entries {
            if let Some(seq) = self.already(entry, alone) {
                done.push(Became::Already(seq));
            } else if let Err(why) = self.judge(entry) {
                first_fault = first_fault.or(Some(why));
            } else {
                done.push(Became::Recorded(self.push(entry)));
                first_fault = first_fault.or(self.somebody_remains().err());
            }
        }
        first_fault.map_or(Ok(done), Err)
    }

    /// One fact in another's place, or in nothing's.
    pub(crate) fn correct(&mut self, seq: u64, entry: &Entry) -> Result<u64, Refused> {
        let before = self.clone();
        let done = self.correct_one(seq, entry);
        if done.is_err() {
            *self = before;
        }
        done
    }

    fn correct_one(&mut self, seq: u64, entry: &Entry) -> Result<u64, Refused> {
        let old = self.rows.iter().position(|row| row.seq == seq).ok_or("no such fact")?;
        let fits = matches!(
            self.rows[old].what,
            What::Role { .. }
                | What::Move { .. }
                | What::Hours { .. }
                | What::Prior { .. }
                | What::Seen { .. }
                | What::Ask { .. }
        );
        ensure(fits && self.rows[old].dead.is_none(), "not to be corrected")?;
        ensure(entry.reason, "a correction says why")?;
        ensure(self.rows[old].person == entry.person, "a correction stays with its person")?;
        self.open_edition()?;
        // Who enters it is measured by how things stand; what is entered, by how they would.
        self.judge_who(entry, matches!(self.rows[old].what, What::Role { .. }))?;
        self.rows[old].dead = Some(self.next);
        self.judge_what(entry)?;
        let seq = self.push(entry);
        // What stands in keeps the note that was said with the first.
        let reason = self.rows[old].reason;
        if let Some(new) = self.rows.last_mut() {
            new.reason = reason;
        }
        self.somebody_remains()?;
        Ok(seq)
    }

    /// Somebody keeps the records today.
    fn somebody_remains(&self) -> Result<(), Refused> {
        let today = self.today();
        let anyone = self.rows.iter().any(|row| self.has_role(row.person, "coordinator", today));
        ensure(anyone, "nobody would keep the records")
    }

    /// Whether name and notes of a row were erased after it was entered.
    fn is_erased(&self, row: &Row) -> bool {
        self.erased.iter().any(|(person, seq)| *person == row.person && row.seq < *seq)
    }

    pub(crate) fn redact(&mut self, entry: &Entry) -> Result<u64, Refused> {
        let before = self.clone();
        let done = ensure(entry.reason, "no reason")
            .and_then(|()| self.open_edition())
            .and_then(|()| self.judge_who(entry, true))
            .map(|()| self.push(entry));
        if let Ok(seq) = done {
            self.erased.push((entry.person, seq));
        }
        if done.is_err() {
            *self = before;
        }
        done
    }

    /// The first fact under an edition is preceded by it.
    fn open_edition(&mut self) -> Result<(), Refused> {
        if self.in_force.last().is_some_and(|(_, last)| last.competencies == self.current.competencies) {
            return Ok(());
        }
        let same_label = |other: &Edition| other.label == self.current.label;
        let another = |other: &Edition| other.competencies != self.current.competencies;
        ensure(!self.in_force.iter().any(|(_, other)| same_label(other) && another(other)), "one label, two editions")?;
        self.in_force.push((self.next, self.current.clone()));
        self.next += 1;
        Ok(())
    }

    fn push(&mut self, entry: &Entry) -> u64 {
        let seq = self.next;
        self.next += 1;
        if let What::Mark { quiz, docket, exercise, part, .. } = &entry.what {
            for row in self.rows.iter_mut().filter(|row| row.person == entry.person && row.dead.is_none()) {
                if matches!(&row.what, What::Mark { quiz: q, docket: d, exercise: e, part: p, .. } if (q, d, e, p) == (quiz, docket, exercise, part))
                {
                    row.dead = Some(seq);
                }
            }
        }
        let Entry { person, seen_by, seen_on, what, reason, .. } = entry.clone();
        let span = span_of(entry);
        self.rows.push(Row { seq, person, seen_by, seen_on, dead: None, what, span, reason });
        seq
    }

    /// The fact that says the same already.
    fn already(&self, entry: &Entry, alone: bool) -> Option<u64> {
        let span = span_of(entry);
        let says_it = |row: &&Row| match (&row.what, &entry.what) {
            (What::Role { .. }, role) => row.what == *role,
            (What::Mark { .. }, mark) => row.what == *mark,
            (
                What::Hours { instruction: i, line: l, supervisor: s, .. },
                What::Hours { instruction, line, supervisor, .. },
            ) => {
                row.span.is_some()
                    && row.span == span
                    && (i, l, s) == (instruction, line, supervisor)
                    && same_claim(row, entry)
            }
            // Going away on a day is one thing, whoever says it and when.
            (What::Move { .. }, going) => row.what == *going,
            // What was withdrawn or released since can be said anew.
            (What::Sign { .. }, sign) => row.what == *sign && same_claim(row, entry) && !self.is_undone(row),
            (What::Hold { .. }, hold) => row.what == *hold && same_claim(row, entry) && !self.is_undone(row),
            (What::Nothing | What::Hours { .. }, _) => false,
            (what, other) => what == other && same_claim(row, entry),
        };
        // Another note makes it another fact; a note that was erased tells nothing apart.
        let says_all = |row: &&Row| says_it(row) && (row.reason == entry.reason || (row.reason && self.is_erased(row)));
        let found = self.of(entry.person).find(says_all)?;
        // A name that was erased does not come back with a batch; said alone, it is news.
        let named = self.of(entry.person).filter(|row| matches!(row.what, What::Role { .. })).last();
        let is_news = matches!(entry.what, What::Role { .. }) && alone && named.is_some_and(|row| self.is_erased(row));
        (!is_news).then_some(found.seq)
    }

    fn is_undone(&self, row: &Row) -> bool {
        self.of(row.person).any(|other| match other.what {
            What::Unsign { signoff, .. } => signoff == row.seq,
            What::Release { hold, .. } => hold == row.seq,
            _ => false,
        })
    }

    pub(crate) fn is_known(&self, code: Who) -> bool {
        self.rows.iter().any(|row| row.person == code && matches!(row.what, What::Role { .. }))
    }

    /// The grant of a role that is in force on a day; the person may be away.
    fn role(&self, code: Who, wanted: &str, day: Date) -> Option<&Row> {
        let mut found: Option<(Date, Option<Date>, &Row)> = None;
        for row in self.of(code) {
            if let What::Role { role, from, until, .. } = &row.what
                && *role == wanted
                && *from <= day
                && found.is_none_or(|(latest, ..)| *from >= latest)
            {
                found = Some((*from, *until, row));
            }
        }
        found.filter(|(_, until, _)| until.is_none_or(|until| day <= until)).map(|(.., row)| row)
    }

    pub(crate) fn is_away(&self, code: Who, day: Date) -> bool {
        let mut latest: Option<(Date, bool)> = None;
        for row in self.of(code) {
            if let What::Move { from, away } = row.what
                && from <= day
                && latest.is_none_or(|(other, _)| from >= other)
            {
                latest = Some((from, away));
            }
        }
        latest.is_some_and(|(_, away)| away)
    }

    pub(crate) fn has_role(&self, code: Who, role: &str, day: Date) -> bool {
        self.role(code, role, day).is_some() && !self.is_away(code, day)
    }

    pub(crate) fn may_sign_stage(&self, code: Who, stage: &str, day: Date) -> bool {
        let covers = |row: &Row| match &row.what {
            What::Role { stages, .. } => stages.as_ref().is_none_or(|list| list.contains(&stage)),
            _ => false,
        };
        !self.is_away(code, day) && self.role(code, "assessor", day).is_some_and(covers)
    }

    fn judge_who(&self, entry: &Entry, only_coordinator: bool) -> Result<(), Refused> {
        let today = self.today();
        let has = |role| self.has_role(entry.entered_by, role, today);
        ensure(self.is_known(entry.entered_by), "nobody knows who enters it")?;
        ensure(
            has("coordinator") || (!only_coordinator && (has("assessor") || has("instructor"))),
            "may not enter it",
        )?;
        ensure(self.is_known(entry.seen_by) && self.is_known(entry.person), "nobody of that code")?;
        ensure(entry.seen_on <= today, "still to come")
    }

    fn judge(&self, entry: &Entry) -> Result<(), Refused> {
        if self.rows.is_empty() {
            let own = entry.person == entry.seen_by && entry.person == entry.entered_by;
            let first = matches!(entry.what, What::Role { role: "coordinator", .. });
            return ensure(own && first, "the coordinator comes first");
        }
        if matches!(entry.what, What::Role { .. }) {
            // The person may be new, and so may not be looked for.
            let known = Entry { seen_by: entry.entered_by, person: entry.entered_by, ..entry.clone() };
            self.judge_who(&known, true)?;
            ensure(entry.seen_by == entry.person || self.is_known(entry.seen_by), "nobody of that code")?;
        } else {
            self.judge_who(entry, false)?;
        }
        self.judge_what(entry)
    }

    fn judge_what(&self, entry: &Entry) -> Result<(), Refused> {
        match &entry.what {
            What::Role { .. } => return self.judge_role(entry),
            What::Move { from, away: true } => {
                let roles = ["apprentice", "assessor", "coordinator", "instructor"];
                let any = roles.iter().any(|role| self.role(entry.person, role, *from).is_some());
                return ensure(any, "nothing to be away from");
            }
            What::Move { from, away: false } => return ensure(self.is_away(entry.person, *from), "not away"),
            What::Nothing => return Ok(()),
            What::Unsign { competency, signoff } => return self.judge_withdrawal(entry, competency, *signoff),
            What::Release { competency, hold } => return self.judge_release(entry, competency, *hold),
            What::Mark { competency, .. } => return self.rule(competency).map(drop),
            What::Hold { competency, safety } => {
                self.rule(competency)?;
                // A broken safety pair was broken in a quiz: some mark of it stands.
                let facts = self.facts(entry.person, &self.names(competency));
                let marked = facts.iter().any(|row| matches!(row.what, What::Mark { .. }));
                return ensure(if *safety { marked } else { entry.reason }, "no mark, or no reason");
            }
            _ => {}
        }
        let learns = self.role(entry.person, "apprentice", entry.seen_on).is_some();
        ensure(learns && !self.is_away(entry.person, entry.seen_on), "no apprentice there")?;
        match &entry.what {
            What::Hours { line, supervisor, .. } => {
                self.judge_line(entry, line, supervisor)?;
                self.judge_span(entry)
            }
            What::Prior { line, supervisor, minutes } => {
                self.judge_line(entry, line, supervisor)?;
                ensure((1..=600_000).contains(minutes), "no such hours")
            }
            What::Seen { competency, looks, .. } => self.judge_observation(entry, competency, looks),
            What::Ask { competency } => {
                self.rule(competency)?;
                self.judge_since(entry, competency)?;
                ensure(self.stand(entry.person, competency, entry.seen_on).may_sign, "not ready")
            }
            What::Sign { competency, acknowledged, despite } => {
                self.judge_sign(entry, competency, *acknowledged, *despite)
            }
            _ => Ok(()),
        }
    }

    fn judge_role(&self, entry: &Entry) -> Result<(), Refused> {
        let What::Role { role, from, until, stages } = &entry.what else { return Ok(()) };
        ensure(until.is_none_or(|until| *from <= until), "ends before it begins")?;
        let stages = stages.as_deref().unwrap_or_default();
        ensure(stages.is_empty() || *role == "assessor", "only an assessor has stages")?;
        ensure(stages.iter().all(|stage| STAGES.contains(stage)), "no such stage")?;
        let so_far = self.role(entry.person, "assessor", *from);
        let limited = so_far.is_some_and(|row| matches!(&row.what, What::Role { stages: Some(_), .. }));
        ensure(*role != "assessor" || !stages.is_empty() || !limited, "stages forgotten")?;
        let learns = self.role(entry.person, "apprentice", *from).is_some();
        ensure(*role != "assessor" || !learns, "an apprentice signs nobody off")
    }

    /// What is dated earlier does not pass by what has happened since.
    fn judge_since(&self, entry: &Entry, competency: &str) -> Result<(), Refused> {
        let today = self.today();
        if entry.seen_on >= today {
            return Ok(());
        }
        let facts = self.facts(entry.person, &self.names(competency));
        let by_today = |row: &&&Row| row.seen_on <= today;
        let released = |hold: u64| {
            facts.iter().filter(by_today).any(|row| matches!(row.what, What::Release { hold: own, .. } if own == hold))
        };
        let held = facts.iter().filter(by_today).any(|row| matches!(row.what, What::Hold { .. }) && !released(row.seq));
        let last = facts
            .iter()
            .filter(by_today)
            .filter(|row| matches!(row.what, What::Sign { .. }))
            .max_by_key(|row| (row.seen_on, row.seq));
        let undone = last.and_then(|last| {
            facts
                .iter()
                .filter(by_today)
                .find(|row| matches!(row.what, What::Unsign { signoff, .. } if signoff == last.seq))
        });
        ensure(!held && undone.is_none_or(|row| row.seen_on <= entry.seen_on), "held or withdrawn since")
    }

    fn judge_line(&self, entry: &Entry, line: &str, supervisor: Who) -> Result<(), Refused> {
        ensure(self.current.find(line).is_some() || STAGES.contains(&line), "no such line")?;
        let roles = ["assessor", "coordinator", "instructor"];
        let may = roles.iter().any(|role| self.role(supervisor, role, entry.seen_on).is_some());
        ensure(self.is_known(supervisor) && may && supervisor != entry.person, "not to be supervised by them")
    }

    /// An assessor for the stage that day, who is not the apprentice.
    fn judge_assessor(&self, entry: &Entry, stage: &str) -> Result<(), Refused> {
        let may = self.may_sign_stage(entry.seen_by, stage, entry.seen_on);
        ensure(may && entry.seen_by != entry.person, "no assessor")
    }

    fn judge_observation(&self, entry: &Entry, competency: &str, looks: &[Look]) -> Result<(), Refused> {
        let rule = self.rule(competency)?;
        self.judge_assessor(entry, rule.stage)?;
        ensure(looks.len() == rule.criteria.len(), "not as many criteria")?;
        let missed = |((_, critical), look): (&(String, bool), &Look)| *critical && *look == Look::NotSeen;
        let ended = rule.criteria.iter().zip(looks).position(missed);
        ensure(ended.is_none_or(|at| looks[at..].iter().all(|look| *look == Look::NotSeen)), "it had ended")
    }

    fn judge_withdrawal(&self, entry: &Entry, competency: &str, signoff: u64) -> Result<(), Refused> {
        let stage = self.rule(competency)?.stage;
        ensure(entry.reason, "no reason")?;
        let stand = self.stand(entry.person, competency, entry.seen_on);
        ensure(stand.signed.is_some_and(|signed| signed.seq == signoff), "nothing to withdraw")?;
        let coordinates = self.has_role(entry.seen_by, "coordinator", entry.seen_on);
        ensure(coordinates || self.may_sign_stage(entry.seen_by, stage, entry.seen_on), "may not withdraw")
    }

    fn judge_release(&self, entry: &Entry, competency: &str, hold: u64) -> Result<(), Refused> {
        let stage = self.rule(competency)?.stage;
        ensure(entry.reason, "no reason")?;
        let facts = self.facts(entry.person, &self.names(competency));
        ensure(open_holds(&facts, entry.seen_on).contains(&hold), "no such hold")?;
        self.judge_assessor(entry, stage)
    }

    fn rule(&self, competency: &str) -> Result<&Competency, Refused> {
        self.current.find(competency).ok_or("no such competency")
    }

    /// No overlap, at most 16 hours a day, over by now.
    fn judge_span(&self, entry: &Entry) -> Result<(), Refused> {
        let (from, to) = span_of(entry).ok_or("no such times")?;
        ensure(to <= self.now, "not over yet")?;
        let others: Vec<(Minute, Minute)> = self.of(entry.person).filter_map(|row| row.span).collect();
        ensure(others.iter().all(|(start, end)| *end <= from || to <= *start), "the same hour twice")?;
        for day in [calendar::local_day(from), calendar::local_day(to)] {
            let near = others.iter().filter(|(start, end)| start - 3000 < to && from < end + 3000);
            let all: usize = near.map(|(start, end)| calendar::minutes_on(day, *start, *end)).sum();
            ensure(all + calendar::minutes_on(day, from, to) <= 16 * 60, "more than 16 hours a day")?;
        }
        Ok(())
    }

    fn judge_sign(
        &self,
        entry: &Entry,
        competency: &str,
        acknowledged: Date,
        despite: Option<Who>,
    ) -> Result<(), Refused> {
        let rule = self.rule(competency)?;
        let day = entry.seen_on;
        self.judge_assessor(entry, rule.stage)?;
        ensure(day <= acknowledged && acknowledged <= self.today(), "not acknowledged")?;
        let stand = self.stand(entry.person, competency, day);
        if stand.word == "signed" {
            let until = stand.signed.and_then(|signed| signed.until);
            ensure(until.is_some_and(|until| until <= calendar::days_on(day, 60)), "signed already")?;
        }
        self.judge_since(entry, competency)?;
        ensure(!stand.held && stand.needs_signed, "held, or a need unsigned")?;
        let Some(second) = despite else { return ensure(stand.may_sign, "not ready") };
        ensure(!stand.may_sign && !rule.safety && stand.observed > 0 && entry.reason, "not to be signed despite that")?;
        let may = ["assessor", "coordinator"].iter().any(|role| self.has_role(second, role, day));
        ensure(may && second != entry.seen_by && second != entry.person, "no second person")
    }
}

fn same_claim(row: &Row, entry: &Entry) -> bool {
    row.seen_on == entry.seen_on && row.seen_by == entry.seen_by
}

fn span_of(entry: &Entry) -> Option<(Minute, Minute)> {
    match &entry.what {
        What::Hours { start, end, .. } => calendar::shift(entry.seen_on, start, end),
        _ => None,
    }
}

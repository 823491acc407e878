//! Random commands, most of them sensible: what people put on record, and the
//! mistakes they make.

use gearside::records::Look;
use jiff::civil::Date;

use crate::calendar::{self, days_on};
use crate::chance::Chance;
use crate::curriculum::{Basis, Edition, STAGES};
use crate::model::{Entry, Model, Row, What, Who};
use crate::standing::{Stand, open_holds};

pub(crate) const APPRENTICES: [Who; 3] = ["a-1", "a-2", "a-3"];
pub(crate) const ASSESSORS: [Who; 2] = ["s-1", "s-2"];
pub(crate) const COORDINATOR: Who = "c-1";
/// A code that nobody has.
pub(crate) const NOBODY: Who = "x-9";

/// Clock times around a change of clocks.
const EDGES: [&str; 9] = ["02:30", "03:00", "03:30", "04:15", "23:00", "22:30", "03:30+02:00", "03:30+03:00", "06:00"];

/// What is to be done.
#[derive(Debug, Clone)]
pub(crate) enum Command {
    Record(Vec<Entry>),
    Correct(u64, Entry),
    Redact(Entry),
    Edition(Edition),
    /// So many minutes pass.
    Pass(i64),
}

/// An apprentice's standing in a competency today.
pub(crate) type Standing = (Who, String, Stand);

/// Thinks commands up.
pub(crate) struct Maker<'a> {
    pub(crate) model: &'a Model,
    pub(crate) stands: &'a [Standing],
    pub(crate) chance: &'a mut Chance,
    /// How many editions there were, and quizzes.
    pub(crate) editions: &'a mut usize,
    pub(crate) quizzes: &'a mut usize,
}

/// The kinds of command and how often each comes, in turn with time passing.
const KINDS: [(usize, &str); 17] = [
    (14, "hours"),
    (15, "observation"),
    (14, "mark"),
    (6, "request"),
    (22, "sign-off"),
    (6, "despite"),
    (2, "withdrawal"),
    (2, "hold"),
    (9, "release"),
    (5, "replace"),
    (4, "strike out"),
    (1, "redact"),
    (4, "role"),
    (1, "leave"),
    (5, "return"),
    (1, "edition"),
    (18, "time"),
];

impl Maker<'_> {
    /// The next command, and its kind.
    pub(crate) fn next(&mut self) -> (&'static str, Command) {
        if self.label_is_taken() {
            return ("edition", self.edition());
        }
        loop {
            let kind = *self.chance.weighted(&KINDS);
            let made = match kind {
                "hours" => Some(self.hours()),
                "observation" => Some(self.observation()),
                "mark" => Some(self.marks()),
                "request" => self.request(),
                "sign-off" => self.signoff(),
                "despite" => self.despite(),
                "withdrawal" => self.withdrawal(),
                "hold" => Some(self.hold()),
                "release" => self.release(),
                "replace" => self.correction(false),
                "strike out" => self.correction(true),
                "redact" => Some(self.redaction()),
                "role" => Some(self.role()),
                "leave" | "return" => self.going(kind == "leave"),
                "edition" => Some(self.edition()),
                _ => Some(Command::Pass(self.time())),
            };
            if let Some(made) = made {
                return (kind, made);
            }
        }
    }

    fn label_is_taken(&self) -> bool {
        let current = &self.model.current;
        let clashes = |other: &Edition| other.label == current.label && other.competencies != current.competencies;
        self.model.in_force.iter().any(|(_, other)| clashes(other)) && !self.chance_of_leaving_it()
    }

    /// A clash of editions is left standing for a command now and then.
    fn chance_of_leaving_it(&self) -> bool {
        self.model.now % 3 == 0
    }

    fn edition(&mut self) -> Command {
        *self.editions += 1;
        let mut edition = self.model.current.changed(*self.editions, self.chance);
        if self.chance.one_in(8) {
            edition.label.clone_from(&self.model.current.label);
        }
        Command::Edition(edition)
    }

    /// Minutes mostly, days often, months at times.
    fn time(&mut self) -> i64 {
        let spread =
            |chance: &mut Chance, from: usize, to: usize| i64::try_from(from + chance.below(to - from)).expect("few");
        match self.chance.below(20) {
            0..9 => spread(self.chance, 20, 600),
            9..18 => spread(self.chance, 600, 2 * 1440),
            18 => spread(self.chance, 4 * 1440, 12 * 1440),
            _ if self.chance.one_in(2) => 30,
            _ => spread(self.chance, 20 * 1440, 60 * 1440),
        }
    }

    pub(crate) fn today(&self) -> Date {
        self.model.today()
    }

    pub(crate) fn day(&mut self) -> Date {
        let today = calendar::day_number(self.today());
        let back = |chance: &mut Chance, most| i64::try_from(chance.below(most)).expect("few");
        let number = match self.chance.below(40) {
            0..26 => today,
            26..35 => today - back(self.chance, 6),
            35..39 => today - back(self.chance, 45),
            _ => today + 1,
        };
        calendar::day_of(number)
    }

    /// An entry about someone, by the coordinator most of the time.
    pub(crate) fn entry(&mut self, person: Who, seen_by: Who, seen_on: Date, what: What) -> Entry {
        let entered_by = match self.chance.below(20) {
            0 => *self.chance.of(&APPRENTICES),
            1..4 => *self.chance.of(&ASSESSORS),
            _ => COORDINATOR,
        };
        let reason = !self.chance.one_in(12);
        Entry { person, seen_by, seen_on, entered_by, reason, what }
    }

    /// Someone who may sign a stage that day, most of the time.
    fn signer(&mut self, person: Who, stage: &str, day: Date) -> Who {
        let may: Vec<Who> = ASSESSORS.into_iter().filter(|who| self.model.may_sign_stage(who, stage, day)).collect();
        let list = match self.chance.below(20) {
            0 => vec![person],
            1 => vec!["s-1", "s-2", COORDINATOR, NOBODY],
            _ if may.is_empty() => vec!["s-2"],
            _ => may,
        };
        list[self.chance.below(list.len())]
    }

    fn stage_of(&self, competency: &str) -> &'static str {
        self.model.current.find(competency).map_or(STAGES[0], |one| one.stage)
    }

    /// Someone and something to work on: what is open more often than not.
    fn target(&mut self, takes: impl Fn(&Basis) -> bool) -> (Who, String) {
        let today = self.today();
        let in_work = |stand: &Stand| match (stand.word, stand.signed) {
            ("open" | "lapsed", _) => !stand.may_sign,
            ("signed", Some(signed)) => {
                !stand.may_sign && signed.until.is_some_and(|until| until <= days_on(today, 60))
            }
            _ => false,
        };
        let takes_it = |competency: &str| {
            let rule = self.model.current.find(competency).expect("a competency");
            rule.rests_on.as_ref().is_none_or(&takes) || rule.renewed_by.as_ref().is_some_and(&takes)
        };
        let fits = |one: &&Standing| in_work(&one.2) && takes_it(&one.1);
        let list: Vec<&Standing> = self.stands.iter().filter(fits).collect();
        if list.is_empty() || self.chance.one_in(5) {
            let (person, competency, _) = self.chance.of(self.stands);
            return (person, competency.clone());
        }
        let (person, competency, _) = self.chance.of(&list);
        (person, competency.clone())
    }

    /// The competency, or now and then one that is not (or no longer) there.
    fn or_unknown(&mut self, competency: String) -> String {
        if !self.chance.one_in(25) {
            return competency;
        }
        let (_, first) = self.model.in_force.first().expect("an edition");
        self.chance.of(&first.competencies).id.clone()
    }

    fn pick(&mut self, wanted: impl Fn(&Stand) -> bool) -> Option<(Who, String)> {
        let list: Vec<&Standing> = self.stands.iter().filter(|(_, _, stand)| wanted(stand)).collect();
        if self.chance.one_in(6) {
            let (person, competency, _) = self.chance.of(self.stands);
            return Some((person, competency.clone()));
        }
        (!list.is_empty()).then(|| self.chance.of(&list)).map(|(person, competency, _)| (*person, competency.clone()))
    }

    fn hours(&mut self) -> Command {
        let (person, competency) = self.target(|basis| basis.hours.is_some());
        let count = *self.chance.of(&[1, 1, 1, 2, 2, 3]);
        Command::Record((0..count).map(|_| self.some_hours(person, &competency)).collect())
    }

    fn some_hours(&mut self, person: Who, competency: &str) -> Entry {
        let mut day = self.day();
        if day == self.today() && !self.chance.one_in(4) {
            day = calendar::day_of(calendar::day_number(day) - 1);
        }
        let supervisor = if self.chance.one_in(20) { person } else { *self.chance.of(&ASSESSORS) };
        let mut line = self.or_unknown(competency.to_owned());
        if self.chance.one_in(10) {
            (*self.chance.of(&STAGES)).clone_into(&mut line);
        }
        if self.chance.one_in(12) {
            let minutes = *self.chance.of(&[0, 30, 90, 240]);
            return self.entry(person, COORDINATOR, day, What::Prior { line, minutes, supervisor });
        }
        let (start, end) = if let Some(change) = self.change_of_clocks() {
            day = change;
            ((*self.chance.of(&EDGES)).to_owned(), (*self.chance.of(&EDGES)).to_owned())
        } else {
            let start = self.chance.below(46) * 30;
            let length = *self.chance.of(&[30, 30, 60, 60, 60, 90, 90, 120, 120, 150, 150, 240, 240, 480, 1020]);
            let clock = |minutes: usize| format!("{:02}:{:02}", minutes / 60 % 24, minutes % 60);
            (clock(start), clock(start + length))
        };
        let instruction = self.chance.one_in(8);
        self.entry(person, COORDINATOR, day, What::Hours { instruction, line, start, end, supervisor })
    }

    /// The Saturday or Sunday of a change of clocks that was not long ago.
    fn change_of_clocks(&mut self) -> Option<Date> {
        let today = self.today();
        let changes = [calendar::last_sunday(today.year(), 3), calendar::last_sunday(today.year(), 10)];
        let near = changes.into_iter().find(|day| *day <= today && calendar::days_on(*day, 50) >= today)?;
        let before = i64::try_from(self.chance.below(2)).expect("few");
        self.chance.one_in(3).then(|| calendar::day_of(calendar::day_number(near) - before))
    }

    fn observation(&mut self) -> Command {
        let (person, competency) = self.target(|basis| basis.observed.is_some());
        let competency = self.or_unknown(competency);
        let day = self.day();
        let seen_by = self.signer(person, self.stage_of(&competency), day);
        let criteria = self.model.current.find(&competency).map_or(1, |one| one.criteria.len());
        let mut looks = vec![Look::Seen; criteria];
        match self.chance.below(12) {
            0 => looks[criteria - 1] = Look::NotYet,
            1 => looks[0] = Look::NotSeen,
            2 => looks = vec![Look::NotSeen; criteria],
            3 => looks[criteria - 1] = Look::NotSeen,
            4 if self.chance.one_in(3) => looks.push(Look::Seen),
            _ => {}
        }
        let (job, aided) = (*self.chance.of(&["job 1", "job 2", "job 3"]), self.chance.one_in(6));
        Command::Record(vec![self.entry(person, seen_by, day, What::Seen { competency, looks, job, aided })])
    }

    /// The parts of some exercises of a docket; or one part of an old one, marked again.
    fn marks(&mut self) -> Command {
        if self.chance.one_in(5)
            && let Some(again) = self.mark_again()
        {
            return again;
        }
        let (person, competency) = self.target(|basis| basis.marked.is_some());
        let competency = self.or_unknown(competency);
        let day = self.day();
        if *self.quizzes == 0 || self.chance.one_in(3) {
            *self.quizzes += 1;
        }
        let quiz = format!("quiz-{}", 1 + self.quizzes.saturating_sub(1 + self.chance.below(2)));
        let mut entries = Vec::new();
        for parts in [1, 2, 3, 1].into_iter().take(1 + self.chance.below(4)) {
            let number = entries.len();
            for part in 1..=parts {
                let tenths = *self.chance.of(&[10, 10, 10, 10, 10, 10, 10, 0, 5]);
                let (competency, quiz, exercise) = (competency.clone(), quiz.clone(), format!("{competency}.{number}"));
                let what = What::Mark { competency, quiz, docket: person, exercise, part, parts, tenths };
                entries.push(Entry { entered_by: COORDINATOR, ..self.entry(person, COORDINATOR, day, what) });
            }
        }
        Command::Record(entries)
    }

    /// A part marked again, under whatever its competency is called by now.
    fn mark_again(&mut self) -> Option<Command> {
        let marks: Vec<&Row> = self.model.live().filter(|row| matches!(row.what, What::Mark { .. })).collect();
        let recent = &marks[marks.len().saturating_sub(30)..];
        let row = (!recent.is_empty()).then(|| (*self.chance.of(recent)).clone())?;
        let mut what = row.what;
        if let What::Mark { competency, tenths, .. } = &mut what {
            let current = &self.model.current.competencies;
            let called_now: Vec<_> =
                current.iter().filter(|one| self.model.names(&one.id).contains(competency)).collect();
            let [only] = called_now.as_slice() else { return None };
            competency.clone_from(&only.id);
            *tenths = *self.chance.of(&[0, 5, 10]);
        }
        Some(Command::Record(vec![self.entry(row.person, COORDINATOR, row.seen_on, what)]))
    }

    fn request(&mut self) -> Option<Command> {
        let (person, competency) = self.pick(|stand| stand.may_sign)?;
        let day = self.day();
        Some(Command::Record(vec![self.entry(person, person, day, What::Ask { competency })]))
    }

    fn signoff(&mut self) -> Option<Command> {
        let today = self.today();
        let due = |stand: &Stand| {
            let fresh = stand.word == "signed"
                && stand.signed.is_some_and(|one| one.until.is_none_or(|until| until > days_on(today, 60)));
            stand.may_sign && !fresh
        };
        // Where nobody is due, most signers know it.
        if !self.stands.iter().any(|(_, _, stand)| due(stand)) && !self.chance.one_in(3) {
            return None;
        }
        let (person, competency) = self.pick(due)?;
        Some(self.sign(person, competency, None))
    }

    fn despite(&mut self) -> Option<Command> {
        let lacks = |stand: &Stand| {
            matches!(stand.word, "open" | "lapsed") && stand.needs_signed && stand.observed > 0 && !stand.may_sign
        };
        let unsafe_to = |competency: &str| self.model.current.find(competency).is_some_and(|one| one.safety);
        let list: Vec<&Standing> =
            self.stands.iter().filter(|(_, competency, stand)| lacks(stand) && !unsafe_to(competency)).collect();
        let (person, competency) = if self.chance.one_in(8) || list.is_empty() {
            if !self.chance.one_in(25) {
                return None;
            }
            self.pick(|_| true)?
        } else {
            let (person, competency, _) = self.chance.of(&list);
            (*person, competency.clone())
        };
        let second = *self.chance.of(&[COORDINATOR, COORDINATOR, COORDINATOR, COORDINATOR, "s-1", "a-1"]);
        Some(self.sign(person, competency, Some(second)))
    }

    fn sign(&mut self, person: Who, competency: String, despite: Option<Who>) -> Command {
        let day = if self.chance.percent(80) { self.today() } else { self.day() };
        let seen_by = self.signer(person, self.stage_of(&competency), day);
        let acknowledged = if self.chance.one_in(15) { days_on(day, 1) } else { day };
        Command::Record(vec![self.entry(person, seen_by, day, What::Sign { competency, acknowledged, despite })])
    }

    fn withdrawal(&mut self) -> Option<Command> {
        let (person, competency) = self.pick(|stand| stand.signed.is_some())?;
        let stand = &self.stands.iter().find(|(who, own, _)| *who == person && *own == competency)?.2;
        let signoff = stand.signed.map_or(7, |signed| signed.seq);
        let day = self.day();
        let seen_by = self.signer(person, self.stage_of(&competency), day);
        Some(Command::Record(vec![self.entry(person, seen_by, day, What::Unsign { competency, signoff })]))
    }

    fn hold(&mut self) -> Command {
        let (person, competency) = self.target(|_| true);
        let competency = self.or_unknown(competency);
        let day = self.day();
        let facts = self.model.facts(person, &self.model.names(&competency));
        let marked = facts.iter().any(|row| matches!(row.what, What::Mark { .. }));
        let safety = self.chance.one_in(if marked { 2 } else { 10 });
        let seen_by = *self.chance.of(&ASSESSORS);
        Command::Record(vec![self.entry(person, seen_by, day, What::Hold { competency, safety })])
    }

    fn release(&mut self) -> Option<Command> {
        let (person, competency) = self.pick(|stand| stand.word == "held")?;
        let day = if self.chance.percent(80) { self.today() } else { self.day() };
        let holds = open_holds(&self.model.facts(person, &self.model.names(&competency)), day);
        if holds.is_empty() && !self.chance.one_in(6) {
            return None;
        }
        let hold = if holds.is_empty() { 9 } else { *self.chance.of(&holds) };
        let seen_by = self.signer(person, self.stage_of(&competency), day);
        Some(Command::Record(vec![self.entry(person, seen_by, day, What::Release { competency, hold })]))
    }

    fn correction(&mut self, strikes_out: bool) -> Option<Command> {
        let fits = |row: &&Row| match row.what {
            What::Role { .. } => row.seq > 20 && !strikes_out,
            What::Move { .. } | What::Hours { .. } | What::Prior { .. } | What::Seen { .. } | What::Ask { .. } => true,
            _ => false,
        };
        let list: Vec<&Row> = if self.chance.one_in(8) {
            self.model.rows.iter().skip(6).collect()
        } else {
            self.model.live().filter(fits).collect()
        };
        let late = &list[list.len().saturating_sub(40)..];
        let row = (!late.is_empty()).then(|| (*self.chance.of(late)).clone())?;
        let mut entry = self.entry(row.person, row.seen_by, row.seen_on, What::Nothing);
        if !strikes_out {
            entry.what = self.amended(&row, &mut entry.seen_on);
        }
        Some(Command::Correct(row.seq, entry))
    }

    /// The same with something set right.
    fn amended(&mut self, row: &Row, seen_on: &mut Date) -> What {
        let mut what = row.what.clone();
        if self.chance.one_in(2) && !matches!(what, What::Role { .. }) {
            *seen_on = self.day();
        }
        match &mut what {
            What::Role { until, .. } => *until = Some(days_on(self.today(), 60)),
            What::Move { from, .. } => *from = *seen_on,
            What::Hours { end, .. } => (*self.chance.of(&["08:00", "12:30", "15:30", "22:00"])).clone_into(end),
            What::Prior { minutes, .. } => *minutes = 45,
            What::Seen { looks, job, .. } => {
                let looks = looks.first_mut().filter(|_| self.chance.one_in(3));
                looks.into_iter().for_each(|look| *look = Look::NotYet);
                *job = if self.chance.one_in(2) { "job 1" } else { "job 4" };
            }
            _ => {}
        }
        what
    }
}

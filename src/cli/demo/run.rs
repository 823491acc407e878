//! The weeks one after the other, each entered as it would have been.

use jiff::civil::Date;

use super::calendar::{Calendar, day};
use super::cast::{Cast, HELD, RELEASED, SLOW, WITHDRAWN};
use super::chance::Chance;
use super::clerk::{Clerk, about, draft};
use super::quiz::{Course, Quiz, is_about_safety, sit};
use super::shop::{Done, Week};
use super::signing::{Signing, is_due_again};
use super::story::Story;
use super::year::Year;
use super::{Told, mends};
use crate::records::{
    Ask, Code, Derivation, Digest, Draft, Hold, HoldCause, Matter, QuizClosed, QuizIssued, ReturnTaken, Rules, Seq,
    Withdrawal, Word,
};

/// Who broke a safety pair, in which competency, in which week.
const BROKEN: &[(&str, &str, u32)] = &[(RELEASED, "make-the-press-safe", 5), (HELD, "act-in-an-emergency", 9)];
/// What was withdrawn, and in which week.
const WITHDRAWN_IN: (&str, u32) = ("fit-and-read-a-blade", 9);
/// Whose Tuesday of which week was forgotten, and the week in which it was entered.
const FORGOTTEN: (&str, u32, u32) = (SLOW, 3, 5);

/// The story while it is told.
pub(super) struct Run<'a> {
    pub(super) clerk: Clerk,
    pub(super) cast: &'a Cast,
    pub(super) calendar: &'a Calendar,
    pub(super) done: Done,
    /// Hours that nobody has entered yet.
    forgotten: Vec<Draft>,
    /// What was entered last Friday, for what is mended on Monday.
    pub(super) entered: Vec<(Seq, Draft)>,
}

impl<'a> Run<'a> {
    pub(super) fn new(clerk: Clerk, cast: &'a Cast, calendar: &'a Calendar) -> Self {
        Self { clerk, cast, calendar, done: Done::default(), forgotten: Vec::new(), entered: Vec::new() }
    }

    /// Tells a year from its first week to its last.
    pub(super) fn year(&mut self, year: &Year<'_>) -> Told {
        let story = Story { cast: self.cast };
        let begins = self.calendar.at(day(year.starts, 1, 0), 7, 40)?;
        self.clerk.enter(year.programme, begins, story.intake(year.starts, year.is_now))?;
        let edition = &year.programme.about.edition;
        let texts: Vec<String> =
            year.quizzes.iter().map(|quiz| quiz.snapshot(&year.quiz_id(quiz.week), edition)).collect();
        let snapshots = self.clerk.keep(texts.iter().map(String::as_bytes))?;
        let last = year.quizzes.last().map_or(0, |quiz| quiz.week);
        for (quiz, snapshot) in year.quizzes.iter().zip(snapshots) {
            if year.is_now {
                let monday = self.calendar.at(day(year.starts, quiz.week, 0), 8, 10)?;
                self.clerk.enter(year.programme, monday, story.monday(year, quiz.week))?;
            }
            self.mend(year, quiz.week)?;
            self.withdraw(year, quiz.week)?;
            self.sit(year, quiz, snapshot)?;
            self.friday(year, quiz.week)?;
            self.sign(year, quiz.week, quiz.week == last)?;
        }
        Ok(())
    }

    fn shop<'w>(&'w self, year: &'w Year<'w>, week: u32) -> Week<'w> {
        Week { year, cast: self.cast, number: week, zone: self.calendar.zone() }
    }

    /// Thursday: the quiz is issued, sat, marked; who broke a safety pair is held.
    fn sit(&mut self, year: &Year<'_>, quiz: &Quiz<'_>, snapshot: Digest) -> Told {
        let on = day(year.starts, quiz.week, 3);
        let (id, teacher) = (year.quiz_id(quiz.week), &self.cast.instructors[0].0);
        let dockets = u32::try_from(self.cast.there(year.is_now, quiz.week).count()).unwrap_or(u32::MAX);
        let issued = QuizIssued { quiz: id.clone(), week: Some(quiz.week), snapshot, dockets };
        let issued = draft(teacher, on, teacher, Matter::QuizIssued(issued));
        self.clerk.enter(year.programme, self.calendar.at(on, 12, 30)?, vec![issued])?;
        let drafts = self.returns(year, quiz, on, &id);
        let seqs = self.clerk.enter(year.programme, self.calendar.at(on, 15, 40)?, drafts.clone())?;
        let holds: Vec<Draft> = BROKEN
            .iter()
            .filter(|(.., week)| year.is_now && *week == quiz.week)
            .filter_map(|(who, competency, _)| {
                let at = drafts.iter().position(|one| broke(one, who, competency, quiz))?;
                let hold =
                    Hold { competency: (*competency).into(), cause: HoldCause::SafetyOrder, of: Some(*seqs.get(at)?) };
                Some(about(drafts[at].person.as_ref()?, teacher, on, teacher, Matter::Hold(hold)))
            })
            .collect();
        self.clerk.enter(year.programme, self.calendar.at(on, 15, 55)?, holds)?;
        Ok(())
    }

    fn returns(&self, year: &Year<'_>, quiz: &Quiz<'_>, on: Date, id: &Word) -> Vec<Draft> {
        let teacher = &self.cast.instructors[0].0;
        let mut drafts = Vec::new();
        for person in self.cast.there(year.is_now, quiz.week) {
            let tag = format!("{}-{}", year.tag, quiz.week);
            let docket: Word = Chance::of(&["docket", &tag, person.code.as_str()]).docket().into();
            let digest = Digest::of(&[id.as_bytes(), docket.as_bytes(), b"as typed"]);
            let taken = Matter::ReturnTaken(ReturnTaken { quiz: id.clone(), docket: docket.clone(), digest });
            drafts.push(about(&person.code, teacher, on, teacher, taken));
            for exercise in &quiz.exercises {
                let planted = (person.code.as_str(), exercise.competency.as_str(), quiz.week);
                let breaks = year.is_now && BROKEN.contains(&planted) && is_about_safety(exercise);
                let course = if breaks { Course::SafetyBroken } else { Course::Usual };
                let parts = sit(exercise, person, (id, &docket), &tag, course);
                drafts.extend(
                    parts.into_iter().map(|part| about(&person.code, teacher, on, teacher, Matter::PartMarked(part))),
                );
            }
        }
        drafts
    }

    /// Friday: the quiz is closed; what was taught, the shifts and the observation sheets are entered.
    fn friday(&mut self, year: &Year<'_>, week: u32) -> Told {
        let on = day(year.starts, week, 4);
        let teacher = &self.cast.instructors[0].0;
        let mut drafts = vec![draft(teacher, on, teacher, Matter::QuizClosed(QuizClosed { quiz: year.quiz_id(week) }))];
        let mut done = std::mem::take(&mut self.done);
        let work = self.shop(year, week).work(&mut done);
        self.done = done;
        drafts.extend(work?);
        drafts.extend(self.renewals(year, week)?);
        if year.is_now {
            drafts.extend(Story { cast: self.cast }.friday(year, week));
            self.forget(year, week, &mut drafts);
        }
        let seqs = self.clerk.enter(year.programme, self.calendar.at(on, 14, 30)?, drafts.clone())?;
        self.entered = seqs.into_iter().zip(drafts).collect();
        Ok(())
    }

    /// Leaves the shifts of one Tuesday lying about until a later week.
    fn forget(&mut self, year: &Year<'_>, week: u32, drafts: &mut Vec<Draft>) {
        let (who, forgotten, found) = FORGOTTEN;
        if week == forgotten {
            let tuesday = day(year.starts, week, 1);
            let is_it = |one: &Draft| {
                one.seen_on == tuesday
                    && one.person.as_ref().is_some_and(|code| code.as_str() == who)
                    && matches!(one.matter, Matter::Hours(_))
            };
            self.forgotten = drafts.extract_if(.., |one| is_it(one)).collect();
        } else if week == found {
            drafts.extend(self.forgotten.drain(..).map(|mut one| {
                one.note = Some("The sheet lay in the ink kitchen.".to_owned());
                one
            }));
        }
    }

    /// What second-years show once more because it is about to lapse.
    fn renewals(&self, year: &Year<'_>, week: u32) -> Result<Vec<Draft>, crate::records::Refusal> {
        if !year.is_now {
            return Ok(Vec::new());
        }
        let history = self.clerk.store.read().history(self.calendar.zone())?;
        let rules = Rules::of(year.programme);
        let derivation = Derivation::new(&history, &rules);
        let on = day(year.starts, week, 4);
        let shop = self.shop(year, week);
        let mut drafts = Vec::new();
        for apprentice in self.cast.there(true, week).filter(|one| one.second_year) {
            let Some(person) = history.person(&apprentice.code) else { continue };
            for competency in year.programme.competencies() {
                let id = competency.id.as_str();
                let Some((state, rule)) = derivation.state(person, id, Ask::on(on)).zip(rules.of_competency(id)) else {
                    continue;
                };
                if is_due_again(apprentice, rule, &state, on) && !state.may_sign {
                    drafts.push(shop.all_seen(apprentice, &competency.id, 2));
                }
            }
        }
        Ok(drafts)
    }

    /// Friday afternoon: sign-offs.
    fn sign(&mut self, year: &Year<'_>, week: u32, is_last: bool) -> Told {
        let history = self.clerk.store.read().history(self.calendar.zone())?;
        let is_last = is_last && year.is_now;
        let drafts = Signing { year, cast: self.cast, week, is_last }.drafts(&history);
        let now = self.calendar.at(day(year.starts, week, 4), 15, 30)?;
        self.clerk.enter(year.programme, now, drafts)?;
        Ok(())
    }

    /// A sign-off is withdrawn on the day on which unsafe work was seen.
    fn withdraw(&mut self, year: &Year<'_>, week: u32) -> Told {
        let (competency, when) = WITHDRAWN_IN;
        let Some(apprentice) = self.cast.apprentice(WITHDRAWN).filter(|_| year.is_now && week == when) else {
            return Ok(());
        };
        let on = day(year.starts, week, 2);
        let history = self.clerk.store.read().history(self.calendar.zone())?;
        let rules = Rules::of(year.programme);
        let derivation = Derivation::new(&history, &rules);
        let state =
            history.person(&apprentice.code).and_then(|person| derivation.state(person, competency, Ask::on(on)));
        let Some(signed) = state.and_then(|state| state.signed) else { return Ok(()) };
        let by: &Code = &self.cast.assessors[0].code;
        let mut drafts: Vec<Draft> =
            self.shop(year, week).unsafe_work(apprentice, competency, by, 2).into_iter().collect();
        let matter = Matter::Withdrawal(Withdrawal { competency: competency.into(), signoff: signed.seq });
        let mut withdrawal = about(&apprentice.code, by, on, by, matter);
        withdrawal.note = Some(
            "Reached into the chamber while it was still on air. To be taught again from the start; nothing else is held against him."
                .to_owned(),
        );
        drafts.push(withdrawal);
        self.clerk.enter(year.programme, self.calendar.at(on, 11, 20)?, drafts)?;
        Ok(())
    }

    fn mend(&mut self, year: &Year<'_>, week: u32) -> Told {
        if year.is_now { mends::monday(self, year, week) } else { Ok(()) }
    }
}

/// Whether a draft is the mark of the broken safety pair.
fn broke(one: &Draft, who: &str, competency: &str, quiz: &Quiz<'_>) -> bool {
    let Matter::PartMarked(part) = &one.matter else { return false };
    let about_safety = quiz.exercises.iter().any(|e| e.id.as_str() == &*part.exercise && is_about_safety(e));
    one.person.as_ref().is_some_and(|code| code.as_str() == who) && &*part.competency == competency && about_safety
}

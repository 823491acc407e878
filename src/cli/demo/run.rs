//! The weeks one after the other, each entered as it would have been.

use super::calendar::{Calendar, day};
use super::cast::{Cast, SLOW, WITHDRAWN};
use super::clerk::{Clerk, about, draft};
use super::quiz::{AskedSoFar, thursday};
use super::shop::{Done, Week};
use super::signing::{Signing, is_due_again};
use super::story::Story;
use super::year::Year;
use super::{Told, mends};
use crate::records::{Ask, Code, Derivation, Draft, Matter, QuizClosed, Rules, Seq, Withdrawal};

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
    /// What the quizzes asked.
    pub(super) asked: AskedSoFar,
    /// Hours that nobody has entered yet.
    forgotten: Vec<Draft>,
    /// What was entered last Friday, for what is mended on Monday.
    pub(super) entered: Vec<(Seq, Draft)>,
}

impl<'a> Run<'a> {
    pub(super) fn new(clerk: Clerk, cast: &'a Cast, calendar: &'a Calendar) -> Self {
        Self {
            clerk,
            cast,
            calendar,
            done: Done::default(),
            asked: AskedSoFar::new(),
            forgotten: Vec::new(),
            entered: Vec::new(),
        }
    }

    /// Tells a year from its first week to its last.
    pub(super) fn year(&mut self, year: &Year<'_>) -> Told {
        let story = Story { cast: self.cast };
        let begins = self.calendar.at(day(year.starts, 1, 0), 7, 40)?;
        self.clerk.enter(year.programme, begins, story.intake(year.starts, year.is_now))?;
        let last = year.taught.keys().last().copied().unwrap_or(0);
        for week in year.taught.keys().copied() {
            if year.is_now {
                let monday = self.calendar.at(day(year.starts, week, 0), 8, 10)?;
                self.clerk.enter(year.programme, monday, story.monday(year, week))?;
            }
            self.mend(year, week)?;
            self.withdraw(year, week)?;
            thursday(self, year, week)?;
            self.friday(year, week)?;
            self.sign(year, week, week == last)?;
        }
        Ok(())
    }

    fn shop<'w>(&'w self, year: &'w Year<'w>, week: u32) -> Week<'w> {
        Week { year, cast: self.cast, number: week, zone: self.calendar.zone() }
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

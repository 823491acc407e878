//! A week on the shop floor: shifts at the press, lessons, observations.

use std::collections::BTreeMap;

use jiff::civil::Date;
use jiff::tz::TimeZone;

use super::calendar::day;
use super::cast::{AHEAD, Apprentice, Cast};
use super::chance::Chance;
use super::clerk::about;
use super::year::Year;
use crate::ground::{Fault, Id};
use crate::programme::{Competency, InkSystem, Programme};
use crate::records::{Code, Draft, Hours, Look, Matter, Observation, Sort, Word, shift};

/// The presses of the co-operative.
const PRESSES: &[&str] = &["harbour 1, eight stations", "harbour 2, ten stations", "mill 1, six stations", "island 1"];
/// What is printed on.
const MATERIALS: &[&str] = &["white paper label stock", "clear film 50 µm", "white film 60 µm", "thin board"];
/// The line that is kept short of hours, so that it is signed despite that.
pub(super) const SHORT_OF_HOURS: (&str, &str) = (AHEAD, "read-a-job-ticket");
/// How long a shift on one line is, in minutes.
const BLOCKS: (u32, u32) = (240, 150);

/// What has been done so far.
#[derive(Debug, Default)]
pub(super) struct Done {
    minutes: BTreeMap<(Code, Word), u32>,
    counted: BTreeMap<(Code, Word), u32>,
}

/// The shop floor in one week.
#[derive(Debug)]
pub(super) struct Week<'a> {
    pub(super) year: &'a Year<'a>,
    pub(super) cast: &'a Cast,
    /// Its number in the plan.
    pub(super) number: u32,
    pub(super) zone: &'a TimeZone,
}

impl<'a> Week<'a> {
    fn programme(&self) -> &'a Programme {
        self.year.programme
    }

    fn day(&self, weekday: i64) -> Date {
        day(self.year.starts, self.number, weekday)
    }

    /// What was taught up to now, oldest first.
    fn taught(&self) -> Vec<&'a Competency> {
        let mut seen: Vec<&Id> = Vec::new();
        for id in self.year.taught.range(..=self.number).flat_map(|(_, ids)| ids) {
            if !seen.contains(&id) {
                seen.push(id);
            }
        }
        // Second-years have had everything already, but begin with what is looked at again.
        let all = self.programme().competencies();
        let mut list: Vec<&Competency> = seen.iter().filter_map(|id| self.programme().competency(id)).collect();
        if self.year.is_now {
            list.extend(all.filter(|one| !seen.contains(&&one.id)));
        }
        list
    }

    fn lines(&self, person: &Apprentice) -> Vec<&'a Competency> {
        let taught = self.taught();
        let upto = self.year.taught.range(..=self.number).map(|(_, ids)| ids.len()).sum::<usize>();
        let most = if person.second_year { taught.len() } else { upto.min(taught.len()) };
        taught.into_iter().take(most).filter(|one| self.is_taught(one, person)).collect()
    }

    fn is_taught(&self, competency: &Competency, person: &Apprentice) -> bool {
        person.second_year && self.year.is_now
            || self.year.taught.range(..=self.number).any(|(_, ids)| ids.contains(&competency.id))
    }

    /// Hours and observations of everyone who is there.
    pub(super) fn work(&self, done: &mut Done) -> Result<Vec<Draft>, Fault> {
        let mut drafts = Vec::new();
        for person in self.cast.there(self.year.is_now, self.number) {
            self.hours(person, done, &mut drafts)?;
            self.observations(person, done, &mut drafts);
        }
        Ok(drafts)
    }

    fn hours(&self, person: &Apprentice, done: &mut Done, drafts: &mut Vec<Draft>) -> Result<(), Fault> {
        let week = self.number.to_string();
        let mut chance = Chance::of(&["hours", self.year.tag, &week, person.code.as_str()]);
        let is_late_crew = chance.happens(40);
        for weekday in [0, 1, 2, 4] {
            let late = is_late_crew && weekday != 4;
            let (first, second) =
                if late { (("14:00", "18:00"), ("18:30", "21:00")) } else { (("06:00", "10:00"), ("10:30", "13:00")) };
            self.block(person, weekday, first, BLOCKS.0, done, drafts)?;
            if chance.happens(person.hours) {
                self.block(person, weekday, second, BLOCKS.1, done, drafts)?;
            }
        }
        let new = self.year.taught.get(&self.number).and_then(|ids| ids.first());
        let stage = new.and_then(|id| self.stage_of(id)).unwrap_or("running");
        let teacher = &self.cast.instructors[usize::from(person.second_year)].0;
        drafts.push(self.spent(person, 3, ("08:00", "12:00"), (stage, Sort::Instruction), teacher)?);
        Ok(())
    }

    /// A shift on the line that is furthest behind.
    fn block(
        &self,
        person: &Apprentice,
        weekday: i64,
        clock: (&str, &str),
        minutes: u32,
        done: &mut Done,
        drafts: &mut Vec<Draft>,
    ) -> Result<(), Fault> {
        let spent = |id: &str| done.minutes.get(&(person.code.clone(), id.into())).copied().unwrap_or(0);
        let lacks = |one: &&&Competency| {
            let wanted = one.rests_on.as_ref().and_then(|rests| rests.hours).unwrap_or(4.0) * 60.0;
            let short = SHORT_OF_HOURS == (person.code.as_str(), one.id.as_str());
            f64::from(spent(one.id.as_str())) < if short { 1.0 } else { wanted }
        };
        let lines = self.lines(person);
        let next = lines.iter().find(lacks);
        let line = next.map_or("running", |one| one.id.as_str());
        let stage = next.and_then(|one| self.stage_of(&one.id)).unwrap_or("running");
        *done.minutes.entry((person.code.clone(), line.into())).or_default() += minutes;
        let who = self.assessor(stage, person, weekday);
        drafts.push(self.spent(person, weekday, clock, (line, Sort::OnTheJob), who)?);
        Ok(())
    }

    fn spent(
        &self,
        person: &Apprentice,
        weekday: i64,
        (start, end): (&str, &str),
        (line, sort): (&str, Sort),
        supervisor: &Code,
    ) -> Result<Draft, Fault> {
        let on = self.day(weekday);
        let (from, to) = shift(on, start, end, self.zone).map_err(|wrong| Fault::new("clock", wrong, ""))?;
        let minutes = u32::try_from((to.at.as_second() - from.at.as_second()) / 60).unwrap_or(0);
        let matter = Matter::Hours(Hours {
            sort,
            line: line.into(),
            start: Some(from.written),
            end: Some(to.written),
            minutes,
            supervisor: supervisor.clone(),
        });
        Ok(about(&person.code, supervisor, on, &self.cast.coordinator.0, matter))
    }

    /// Who is at the press that day, of those who may sign the stage.
    fn assessor(&self, stage: &str, person: &Apprentice, weekday: i64) -> &'a Code {
        let able = self.cast.assessors_of(stage);
        let weekday = weekday.to_string();
        let mut chance =
            Chance::of(&["assessor", self.year.tag, &self.number.to_string(), person.code.as_str(), stage, &weekday]);
        able.get(chance.below(able.len())).map_or(&self.cast.assessors[0].code, |one| &one.code)
    }

    fn stage_of(&self, id: &Id) -> Option<&'a str> {
        let stages = &self.programme().stages;
        let stage = stages.iter().find(|stage| stage.competencies.iter().any(|one| one.id == *id));
        stage.map(|stage| stage.id.as_str())
    }

    fn observations(&self, person: &Apprentice, done: &mut Done, drafts: &mut Vec<Draft>) {
        let mut left = person.observed;
        for competency in self.lines(person) {
            let key = (person.code.clone(), Word::from(competency.id.as_str()));
            let rests = competency.rests_on.as_ref();
            let wanted = rests.and_then(|rests| Some(rests.observed.as_ref()?.times)).unwrap_or(1);
            let hours = rests.and_then(|rests| rests.hours).unwrap_or(0.0) * 60.0;
            let spent = done.minutes.get(&key).copied().unwrap_or(0);
            // Nobody is observed at what they have hardly done yet.
            if f64::from(spent) < hours / 2.0 && SHORT_OF_HOURS != (person.code.as_str(), competency.id.as_str()) {
                continue;
            }
            let mut today = 0;
            while left > 0 && today < 2 && done.counted.get(&key).copied().unwrap_or(0) < wanted {
                let weekday = i64::try_from((left + 2 * today) % 5).unwrap_or(0);
                let (draft, counts) = self.observation(person, competency, weekday, &format!("{left}"));
                drafts.push(draft);
                *done.counted.entry(key.clone()).or_default() += u32::from(counts);
                left -= 1;
                today += 1;
            }
        }
    }

    /// An observation as chance has it, and whether it counts.
    fn observation(&self, person: &Apprentice, competency: &Competency, weekday: i64, key: &str) -> (Draft, bool) {
        let week = self.number.to_string();
        let id = competency.id.as_str();
        let mut chance = Chance::of(&["observed", self.year.tag, &week, person.code.as_str(), id, key]);
        let luck = chance.below(100) + person.strength / 4;
        let mut criteria = vec![Look::Seen; competency.criteria.len()];
        let mut aided = false;
        let mut note = None;
        if luck < 30 {
            if let Some(place) = competency.criteria.iter().position(|one| one.critical) {
                criteria[place..].fill(Look::NotSeen);
                note = Some("Left a move out; we stopped there and talked it over.");
            }
        } else if luck < 38 {
            let at = chance.below(criteria.len());
            criteria[at] = Look::NotYet;
            note = Some("Nearly there; to be seen again on another job.");
        } else if luck < 48 {
            aided = true;
        }
        let counts = !aided && note.is_none();
        let stage = self.stage_of(&competency.id).unwrap_or("running");
        (self.seen(person, id, stage, weekday, (criteria, aided, note)), counts)
    }

    /// An observation with everything seen, for a renewal.
    pub(super) fn all_seen(&self, person: &Apprentice, id: &Id, weekday: i64) -> Draft {
        let count = self.programme().competency(id).map_or(0, |one| one.criteria.len());
        let stage = self.stage_of(id).unwrap_or("running");
        self.seen(person, id.as_str(), stage, weekday, (vec![Look::Seen; count], false, None))
    }

    /// The observation of unsafe work: the first move that must be seen was left out.
    pub(super) fn unsafe_work(&self, person: &Apprentice, id: &str, by: &Code, weekday: i64) -> Option<Draft> {
        let competency = self.programme().competencies().find(|one| one.id.as_str() == id)?;
        let mut criteria = vec![Look::Seen; competency.criteria.len()];
        let place = competency.criteria.iter().position(|one| one.critical)?;
        criteria[place..].fill(Look::NotSeen);
        let stage = self.stage_of(&competency.id)?;
        let mut draft = self.seen(person, id, stage, weekday, (criteria, false, None));
        draft.seen_by = by.clone();
        draft.entered_by = by.clone();
        Some(draft)
    }

    fn seen(
        &self,
        person: &Apprentice,
        id: &str,
        stage: &str,
        weekday: i64,
        (criteria, aided, note): (Vec<Look>, bool, Option<&str>),
    ) -> Draft {
        let on = self.day(weekday);
        let mut chance = Chance::of(&["job", self.year.tag, &self.number.to_string(), &weekday.to_string()]);
        let job = 4000 + self.year.jobs + 10 * self.number as usize + usize::try_from(weekday).unwrap_or(0);
        let press = chance.one_of(PRESSES).copied().unwrap_or("harbour 1");
        let material = chance.one_of(MATERIALS).map(|one| Word::from(*one));
        let who = self.assessor(stage, person, weekday);
        let ink = chance.one_of(&InkSystem::ALL).copied();
        let matter = Matter::Observation(Observation {
            competency: id.into(),
            criteria,
            press: press.into(),
            job: format!("J-{job}").into(),
            material,
            ink,
            aided,
        });
        let mut draft = about(&person.code, who, on, who, matter);
        draft.note = note.map(str::to_owned);
        draft.paper = Some(format!("observation sheet {}-{}", self.year.jobs + self.number as usize, person.code));
        draft
    }
}

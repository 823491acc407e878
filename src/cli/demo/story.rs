//! What happens beside the weekly round: coming and going, roles, reviews.

use jiff::civil::Date;

use super::calendar::day;
use super::cast::{AHEAD, Cast, FIRST_YEAR, LATE, SECOND_YEAR, SLOW, WITHDRAWN};
use super::clerk::{about, draft};
use super::year::{SWAPPED, Year};
use crate::records::{Code, Draft, Event, Grant, Hours, Judged, Leave, Matter, Return, Role, Sort, Taught, Word};

/// Hours from before that the late apprentice brought along, by process line.
const BROUGHT_ALONG: &[(&str, u32)] = &[
    ("make-the-press-safe", 16 * 60),
    ("act-in-an-emergency", 6 * 60),
    ("read-a-job-ticket", 12 * 60),
    ("know-the-web-path", 10 * 60),
];
/// What judges expect of an apprentice who is just ready.
const EXPECTED: &[(&str, f64)] = &[("film-on-the-web", 0.7), ("extender-to-target", 0.65), ("only-a-speck", 0.95)];

/// Who enters what, and when.
#[derive(Debug)]
pub(super) struct Story<'a> {
    pub(super) cast: &'a Cast,
}

impl Story<'_> {
    fn office(&self) -> &Code {
        &self.cast.coordinator.0
    }

    fn grant(&self, code: &Code, name: &str, role: Role, from: Date) -> Granted {
        let office = self.office();
        let grant = Grant { role, from, until: None, stages: None, class: None, name: None };
        let mut draft = about(code, office, from, office, Matter::Grant(grant.clone()));
        draft.name = Some(name.to_owned());
        Granted { grant, draft }
    }

    /// The people who keep the records, teach and sign.
    pub(super) fn staff(&self, from: Date) -> Vec<Draft> {
        let (office, name) = &self.cast.coordinator;
        let mut drafts = vec![self.grant(office, name, Role::Coordinator, from).draft];
        for (code, name) in &self.cast.instructors {
            drafts.push(self.grant(code, name, Role::Instructor, from).draft);
        }
        for one in &self.cast.assessors {
            drafts.push(self.grant(&one.code, one.name, Role::Assessor, from).with(|is| is.stages = one.stage_words()));
        }
        drafts
    }

    /// An intake with its agreements.
    pub(super) fn intake(&self, starts: Date, is_now: bool) -> Vec<Draft> {
        let coming = self.cast.apprentices.iter().filter(|one| one.second_year != is_now && one.joins == 1);
        let mut drafts = Vec::new();
        for one in coming {
            let role = self.grant(&one.code, one.name, Role::Apprentice, starts);
            drafts.push(role.with(|is| is.class = Some(FIRST_YEAR.into())));
            drafts.push(self.event(&one.code, starts, "agreement", Some("agreement"), None));
        }
        for one in self.cast.apprentices.iter().filter(|one| one.second_year && is_now) {
            let mut moved = self.grant(&one.code, one.name, Role::Apprentice, starts);
            // The name is on record since last year.
            moved.draft.name = None;
            drafts.push(moved.with(|is| is.class = Some(SECOND_YEAR.into())));
        }
        drafts
    }

    fn event(&self, code: &Code, on: Date, event: &str, paper: Option<&str>, note: Option<&str>) -> Draft {
        let matter = Matter::Event(Event { event: event.into() });
        let mut draft = about(code, self.office(), on, self.office(), matter);
        draft.paper = paper.map(|paper| format!("{paper} {code}"));
        draft.note = note.map(str::to_owned);
        draft
    }

    /// What is entered on the Monday of a week of this year.
    pub(super) fn monday(&self, year: &Year<'_>, week: u32) -> Vec<Draft> {
        let on = day(year.starts, week, 0);
        let mut drafts = Vec::new();
        for one in &self.cast.apprentices {
            match one.away {
                Some((from, _)) if from == week => {
                    let matter = Matter::Leave(Leave { from: on });
                    drafts.push(about(&one.code, self.office(), on, self.office(), matter));
                    drafts.push(self.event(&one.code, on, "leave of absence", None, None));
                }
                Some((_, Some(back))) if back == week => {
                    let matter = Matter::Return(Return { from: on });
                    drafts.push(about(&one.code, self.office(), on, self.office(), matter));
                }
                _ => {}
            }
            if one.joins == week && week > 1 && one.code.as_str() == LATE {
                drafts.extend(self.joins_late(&one.code, one.name, on));
            }
        }
        drafts
    }

    fn joins_late(&self, code: &Code, name: &str, on: Date) -> Vec<Draft> {
        let role = self.grant(code, name, Role::Apprentice, on);
        let mut drafts = vec![role.with(|is| is.class = Some(FIRST_YEAR.into()))];
        drafts.push(self.event(code, on, "agreement", Some("agreement"), None));
        drafts.push(self.event(
            code,
            on,
            "credit",
            Some("letter of the former employer"),
            Some("Two years as a helper at a sheet-fed press. Hours are credited; quizzes and observations are not."),
        ));
        for (line, minutes) in BROUGHT_ALONG {
            let matter = Matter::Hours(Hours {
                sort: Sort::Prior,
                line: (*line).into(),
                start: None,
                end: None,
                minutes: *minutes,
                supervisor: self.office().clone(),
            });
            drafts.push(about(code, self.office(), on, self.office(), matter));
        }
        drafts
    }

    /// What was taught in a week of this year, entered before its quiz.
    pub(super) fn taught(&self, year: &Year<'_>, week: u32) -> Draft {
        let on = day(year.starts, week, 3);
        let teacher = &self.cast.instructors[0].0;
        let competencies = year.taught.get(&week).into_iter().flatten().map(|id| Word::from(id.as_str())).collect();
        let mut taught = draft(teacher, on, teacher, Matter::Taught(Taught { week, competencies, class: None }));
        if week == SWAPPED.0 {
            taught.note = Some("The pH meter was away for repair, so we took the blade a week early.".to_owned());
        }
        taught
    }

    /// What is entered on the Friday of a week of this year, beside work and quiz.
    pub(super) fn friday(&self, year: &Year<'_>, week: u32) -> Vec<Draft> {
        let on = day(year.starts, week, 4);
        let review = |code: &str, note: &str| {
            let person = self.cast.apprentice(code)?;
            Some(self.event(&person.code, on, "review", Some("review sheet"), Some(note)))
        };
        let said: &[(&str, &str)] = match week {
            7 => &[
                (AHEAD, "Ready for more: may begin with mounting as soon as a place is free."),
                (SLOW, "Careful hands, slow at reckoning. An hour of practice with an instructor each Tuesday."),
                (WITHDRAWN, "Back on the mill press; to look after the newcomers at the ink kitchen."),
            ],
            11 => &[(SLOW, "The Tuesdays help. Next look in four weeks.")],
            _ => &[],
        };
        let mut drafts: Vec<Draft> = said.iter().filter_map(|(code, note)| review(code, note)).collect();
        if week == 9 {
            drafts.extend(self.expectations(on));
        }
        drafts
    }

    fn expectations(&self, on: Date) -> Vec<Draft> {
        let judges = [&self.cast.assessors[0].code, &self.cast.assessors[1].code];
        let matter = |exercise: &str, expect| Matter::Judged(Judged { exercise: exercise.into(), expect });
        let both = EXPECTED.iter().flat_map(|(exercise, expect)| {
            judges
                .iter()
                .zip([0.0, 0.05])
                .map(move |(judge, more)| draft(judge, on, judge, matter(exercise, expect - more)))
        });
        both.collect()
    }
}

/// A grant and the draft it goes into.
struct Granted {
    grant: Grant,
    draft: Draft,
}

impl Granted {
    fn with(mut self, set: impl FnOnce(&mut Grant)) -> Draft {
        set(&mut self.grant);
        self.draft.matter = Matter::Grant(self.grant);
        self.draft
    }
}

//! Friday afternoon: what is ready is signed, some of it, by those who may.

use super::calendar::day;
use super::cast::{Apprentice, Cast, LAPSED, WITHDRAWN};
use super::chance::Chance;
use super::clerk::about;
use super::shop::SHORT_OF_HOURS;
use super::year::Year;
use crate::records::{Ask, Derivation, Draft, History, Matter, Request, Rule, Rules, Signoff, Standing, State, Word};

/// How many days before it lapses a sign-off is renewed.
const RENEWED_BEFORE: i32 = 14;
/// What nobody thought of renewing in time, or will not renew as it stands.
const NOT_RENEWED: &[(&str, &str)] = &[(LAPSED, "act-in-an-emergency"), (WITHDRAWN, "fit-and-read-a-blade")];

/// Whether a sign-off is to be renewed this week.
pub(super) fn is_due_again(person: &Apprentice, rule: &Rule, state: &State, on: jiff::civil::Date) -> bool {
    let planted = NOT_RENEWED.contains(&(person.code.as_str(), &*rule.id));
    !planted && state.lapses_within(on).is_some_and(|left| left <= RENEWED_BEFORE)
}

/// A Friday's signing.
#[derive(Debug)]
pub(super) struct Signing<'a> {
    pub(super) year: &'a Year<'a>,
    pub(super) cast: &'a Cast,
    pub(super) week: u32,
    /// Whether it is the last week of the story: then some stay ready.
    pub(super) is_last: bool,
}

impl Signing<'_> {
    /// Everything that is signed, with one request that is left open at the end.
    pub(super) fn drafts(&self, history: &History) -> Vec<Draft> {
        let rules = Rules::of(self.year.programme);
        let derivation = Derivation::new(history, &rules);
        let on = day(self.year.starts, self.week, 4);
        let mut drafts = Vec::new();
        for apprentice in self.cast.there(self.year.is_now, self.week) {
            let Some(person) = history.person(&apprentice.code) else { continue };
            for rule in &rules.competencies {
                let Some(state) = derivation.state(person, &rule.id, Ask::on(on)) else { continue };
                drafts.extend(self.about(apprentice, rule, &state, on));
            }
        }
        if self.is_last {
            self.ask_for_one(&mut drafts);
        }
        drafts
    }

    fn about(&self, person: &Apprentice, rule: &Rule, state: &State, on: jiff::civil::Date) -> Option<Draft> {
        let able = self.cast.assessors_of(&rule.stage);
        let week = self.week.to_string();
        let mut chance = Chance::of(&["sign", self.year.tag, &week, person.code.as_str(), &rule.id]);
        let by = able.get(chance.below(able.len()))?;
        let sign = |despite| {
            let matter = Matter::Signoff(Signoff {
                competency: rule.id.clone(),
                acknowledged_on: on,
                rests_on: Vec::new(),
                despite,
            });
            let mut draft = about(&person.code, &by.code, on, &by.code, matter);
            draft.paper = Some(format!("sign-off page {}", person.code));
            draft
        };
        if state.may_sign && is_due_again(person, rule, state, on) {
            return Some(sign(None));
        }
        let is_short = SHORT_OF_HOURS == (person.code.as_str(), &*rule.id);
        if is_short && state.standing == Standing::Open && self.week > 8 {
            let evidence = &state.evidence;
            if evidence.marked.enough && evidence.observed.enough && !evidence.hours.enough {
                let mut draft = sign(Some(self.cast.coordinator.0.clone()));
                draft.note = Some(
                    "The order office was closed for stocktaking, so there were few tickets to work on. What was seen and marked leaves no doubt.".to_owned(),
                );
                return Some(draft);
            }
        }
        // Assessors have other things to do as well.
        let busy = if self.is_last { 50 } else { 10 };
        (state.standing == Standing::Ready && !chance.happens(busy)).then(|| sign(None))
    }

    /// Turns the last first sign-off of the day into a request for one.
    fn ask_for_one(&self, drafts: &mut [Draft]) {
        let is_plain = |draft: &&mut Draft| {
            let first_year = draft
                .person
                .as_ref()
                .and_then(|code| self.cast.apprentice(code.as_str()))
                .is_some_and(|one| !one.second_year);
            first_year && matches!(&draft.matter, Matter::Signoff(is) if is.despite.is_none())
        };
        let Some(last) = drafts.iter_mut().rev().find(is_plain) else { return };
        let Matter::Signoff(is) = &last.matter else { return };
        let competency: Word = is.competency.clone();
        last.matter = Matter::Request(Request { competency });
        last.paper = None;
        if let Some(person) = last.person.clone() {
            last.seen_by = person;
        }
        last.entered_by = self.cast.instructors[0].0.clone();
    }
}

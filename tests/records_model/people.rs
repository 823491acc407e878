//! Commands about people: roles, going and coming back, names erased.

use jiff::civil::Date;

use crate::calendar::{self, days_on};
use crate::commands::{APPRENTICES, COORDINATOR, Command, Maker, NOBODY};
use crate::model::{Entry, What, Who};

/// Everyone who is there from the start.
pub(crate) fn first_people(from: Date) -> Vec<Entry> {
    let role = |person, role, stages: Option<Vec<&'static str>>| Entry {
        person,
        seen_by: COORDINATOR,
        seen_on: from,
        entered_by: COORDINATOR,
        reason: false,
        what: What::Role { role, from, until: None, stages },
    };
    let mut all = vec![role(COORDINATOR, "coordinator", None), role("s-1", "assessor", None)];
    all.push(role("s-2", "assessor", Some(vec!["one", "two"])));
    all.extend(APPRENTICES.map(|person| role(person, "apprentice", None)));
    all
}

impl Maker<'_> {
    pub(crate) fn redaction(&mut self) -> Command {
        let (person, today) = (*self.chance.of(&APPRENTICES), self.today());
        Command::Redact(self.entry(person, COORDINATOR, today, What::Nothing))
    }

    /// Everyone gets their role back before long; some end some day.
    pub(crate) fn role(&mut self) -> Command {
        let today = self.today();
        let everyone = [
            ("s-1", "assessor"),
            ("s-2", "assessor"),
            ("a-1", "apprentice"),
            ("a-2", "apprentice"),
            ("a-3", "apprentice"),
        ];
        let lost = everyone
            .into_iter()
            .find(|(who, role)| !self.model.has_role(who, role, today) && !self.model.is_away(who, today));
        let chosen = if self.chance.one_in(4) { None } else { lost };
        let (person, role) = chosen.unwrap_or_else(|| *self.chance.of(&everyone));
        let from = self.day();
        let until = match self.chance.below(10) {
            0 => Some(days_on(from, 3)),
            1 => Some(calendar::day_of(calendar::day_number(from) - 1)),
            2..5 => Some(days_on(from, 90 + self.chance.below(200))),
            _ => None,
        };
        let stages = match (role, self.chance.below(6)) {
            ("assessor", 0..2) | (_, 0) => Some(vec!["one", "three"]),
            ("assessor", 2) => Some(vec!["two", *self.chance.of(&["three", "four"])]),
            _ => None,
        };
        Command::Record(vec![self.entry(person, COORDINATOR, today, What::Role { role, from, until, stages })])
    }

    pub(crate) fn going(&mut self, leaves: bool) -> Option<Command> {
        let today = self.today();
        let people = ["a-1", "a-2", "a-3", "s-1", "s-2"];
        let away: Vec<Who> = people.into_iter().filter(|who| self.model.is_away(who, today)).collect();
        let person = match (leaves, away.as_slice()) {
            (false, []) if !self.chance.one_in(8) => return None,
            (false, list) if !list.is_empty() => *self.chance.of(list),
            (true, list) if list.len() > 1 && !self.chance.one_in(4) => return None,
            _ if self.chance.one_in(4) => NOBODY,
            _ => people[self.chance.below(5)],
        };
        let from = self.day();
        Some(Command::Record(vec![self.entry(person, COORDINATOR, from.min(today), What::Move { from, away: leaves })]))
    }
}

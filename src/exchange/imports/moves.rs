//! Leave and return, events, what was taught, what judges expect.

use super::super::cells::{Cells, share};
use super::super::table::{Shape, Table};
use super::{Batch, Defaults, rows};
use crate::ground::Fault;
use crate::records::{Draft, Event, Judged, Leave, Matter, Return, Taught};

const MOVES: Shape = Shape { needed: &["person", "from"], allowed: &["date", "seen_by", "paper", "note"] };
const EVENTS: Shape = Shape { needed: &["person", "event", "date"], allowed: &["seen_by", "paper", "note"] };
const TAUGHT: Shape =
    Shape { needed: &["week", "competencies", "date"], allowed: &["class", "seen_by", "paper", "note"] };
const JUDGED: Shape = Shape { needed: &["exercise", "expect", "date"], allowed: &["seen_by", "paper", "note"] };

/// Who goes away: columns `person`, `from`; `date` (of the news; else the first
/// day away, or today if that is still to come), `seen_by`, `paper`, `note`.
#[must_use]
pub fn leave(table: &Table, defaults: &Defaults<'_>) -> Batch {
    rows(table, &MOVES, |cells| move_of(cells, defaults, |from| Matter::Leave(Leave { from })))
}

/// Who comes back: columns as for [`leave`].
#[must_use]
pub fn returns(table: &Table, defaults: &Defaults<'_>) -> Batch {
    rows(table, &MOVES, |cells| move_of(cells, defaults, |from| Matter::Return(Return { from })))
}

fn move_of(
    cells: &mut Cells<'_>,
    defaults: &Defaults<'_>,
    matter: impl Fn(jiff::civil::Date) -> Matter,
) -> Option<Draft> {
    let person = cells.code("person");
    let from = cells.date("from");
    let date = cells.date_if_any("date");
    let seen_by = cells.code_or("seen_by", &defaults.entered_by);
    let seen_on = date.unwrap_or(from?.min(defaults.today));
    Some(defaults.draft(cells, Some(person?), (seen_by?, seen_on), matter(from?)))
}

/// What happened: columns `person`, `event` (a kind that the programme
/// records), `date`; `seen_by`, `paper`, `note`.
#[must_use]
pub fn events(table: &Table, defaults: &Defaults<'_>) -> Batch {
    rows(table, &EVENTS, |cells| {
        let person = cells.code("person");
        let event = cells.word("event");
        let date = cells.date("date");
        let seen_by = cells.code_or("seen_by", &defaults.entered_by);
        Some(defaults.draft(cells, Some(person?), (seen_by?, date?), Matter::Event(Event { event: event? })))
    })
}

/// What was taught: columns `week` (of the plan), `competencies` (parted by
/// blanks, `;` or `|`), `date`; `class`, `seen_by`, `paper`, `note`.
#[must_use]
pub fn taught(table: &Table, defaults: &Defaults<'_>) -> Batch {
    rows(table, &TAUGHT, |cells| {
        let week = cells.needed("week").and_then(|text| {
            let read = text.parse().map_err(|_| {
                Fault::new("number", format!("`{text}` is not the number of a week"), "number the weeks from 1")
            });
            cells.took("week", read)
        });
        let competencies = cells.words("competencies");
        let date = cells.date("date");
        let seen_by = cells.code_or("seen_by", &defaults.entered_by);
        let class = cells.text("class").map(Into::into);
        let matter = Matter::Taught(Taught { week: week?, competencies, class });
        Some(defaults.draft(cells, None, (seen_by?, date?), matter))
    })
}

/// What a judge expects of a just competent apprentice: columns `exercise`,
/// `expect` (`70 %` or `0.7`), `date`; `seen_by` (the judge), `paper`, `note`.
#[must_use]
pub fn judged(table: &Table, defaults: &Defaults<'_>) -> Batch {
    rows(table, &JUDGED, |cells| {
        let exercise = cells.word("exercise");
        let expect =
            cells.needed("expect").and_then(|text| cells.took("expect", share(text, defaults.decimal_comma())));
        let date = cells.date("date");
        let seen_by = cells.code_or("seen_by", &defaults.entered_by);
        let matter = Matter::Judged(Judged { exercise: exercise?, expect: expect? });
        Some(defaults.draft(cells, None, (seen_by?, date?), matter))
    })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{defaults, programme, said, table};
    use super::*;

    #[test]
    fn a_leave_is_seen_on_its_first_day_or_today() {
        let programme = programme();
        let text = "person,from,date\na-1,2026-10-01,\na-1,2026-12-24,\na-1,2026-12-24,2026-11-02\n";
        let batch = leave(&table(text), &defaults(&programme));
        let days: Vec<String> = batch.drafts.iter().map(|draft| draft.seen_on.to_string()).collect();
        assert_eq!(days, ["2026-10-01", "2026-11-25", "2026-11-02"]);
        assert!(batch.drafts.iter().all(|draft| draft.seen_by.as_str() == "c-1"));
        let batch = returns(&table("person,from\na-1,2026-10-08\n"), &defaults(&programme));
        assert_eq!(batch.drafts[0].matter, Matter::Return(Return { from: jiff::civil::date(2026, 10, 8) }));
    }

    #[test]
    fn events_weeks_and_expectations_are_read_row_by_row() {
        let programme = programme();
        let with = defaults(&programme);
        let batch = events(&table("person,event,date,note\na-1,leave of absence,2026-10-01,\"a,\nb\"\n"), &with);
        assert_eq!(batch.drafts[0].matter, Matter::Event(Event { event: "leave of absence".into() }));
        assert_eq!(batch.drafts[0].note.as_deref(), Some("a,\nb"));
        let batch = taught(&table("week;competencies;date\n3;a b|c;2026-10-01\nIII;;\n"), &with);
        let Matter::Taught(first) = &batch.drafts[0].matter else { panic!("taught") };
        assert_eq!((first.week, first.competencies.len()), (3, 3));
        assert_eq!(
            said(&batch),
            ["t.csv:3, week: `III` is not the number of a week", "t.csv:3, date: `date` is empty"]
        );
        let batch = judged(&table("exercise,expect,date,seen_by\ne,70 %,2026-10-01,s-1\ne,70,2026-10-01,s-1\n"), &with);
        assert_eq!(batch.drafts[0].matter, Matter::Judged(Judged { exercise: "e".into(), expect: 0.7 }));
        assert_eq!(said(&batch), ["t.csv:3, expect: `70` is more than the whole"]);
    }
}

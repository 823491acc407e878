//! The rows of one docket.

use std::collections::BTreeMap;

use super::super::table::Row;
use super::dates::made_of_it;
use super::{answers, rows_of};
use crate::ground::{Fault, Faults, in_brief, nearest_name};
use crate::quiz::{Came, Return, Seat, Snapshot};
use crate::records::Code;

/// How many missing rows are named.
const MOST_NAMED: usize = 5;
/// The most characters that are quoted of a cell.
pub(super) const MOST_QUOTED: usize = 60;

/// The rows of one docket, and what is found to be wrong with them.
pub(super) struct Paper<'t> {
    pub(super) snapshot: &'t Snapshot,
    pub(super) seats: &'t BTreeMap<&'t str, &'t Seat>,
    pub(super) docket: &'t str,
    pub(super) rows: &'t [Row<'t>],
    pub(super) faults: Faults,
}

impl<'t> Paper<'t> {
    /// The docket as it came back; nothing if it did not, or if its rows are at fault.
    pub(super) fn came(&mut self) -> Option<Came> {
        let first = self.rows.first()?;
        if self.rows.iter().all(|row| row.get("answer").is_none()) {
            self.nothing_of_somebody();
            return None;
        }
        self.is_of_this_quiz()?;
        let Some(seat) = self.seats.get(self.docket).copied() else {
            let near = nearest_name(self.docket, self.seats.keys().copied());
            let mend = near.map_or_else(
                || "look at the code on the docket; a rehearsal is not marked".to_owned(),
                |near| format!("did you mean `{near}`?"),
            );
            let message = format!("`{}` has no docket {}", self.snapshot.head.quiz, self.code());
            self.faults.push(Fault::new("foreign-docket", message, mend).at(first.place_of("docket")));
            return None;
        };
        let person = self.person(seat)?;
        let cells = self.cells()?;
        let answers = self.snapshot.exercises.iter().zip(&cells).enumerate();
        let answers: Vec<Option<Vec<String>>> =
            answers.map(|(place, (one, cells))| answers::of(&one.shown, place + 1, cells, &mut self.faults)).collect();
        let answers = answers.into_iter().collect::<Option<Vec<_>>>()?;
        let returned = Return::from_paper(&self.snapshot.head.quiz, &seat.docket, &person, answers);
        Some(Came { from: first.place(), returned })
    }

    /// The docket's code, as it is shown.
    fn code(&self) -> String {
        in_brief(self.docket, MOST_QUOTED)
    }

    /// Somebody's code without any answer deserves a look.
    fn nothing_of_somebody(&mut self) {
        let blank = self.seats.get(self.docket).is_some_and(|seat| seat.person.is_none());
        let named = self.rows.iter().find_map(|row| Some((row, row.get("person")?)));
        if let Some((row, person)) = named.filter(|_| blank) {
            let message =
                format!("docket {} names {person} and has no answer: it counts as not come back", self.code());
            let mend = "if it came back with nothing on it, write `-` as the answer in one of its rows";
            self.faults.push(Fault::new("no-answer", message, mend).as_remark().at(row.place_of("person")));
        }
    }

    fn is_of_this_quiz(&mut self) -> Option<()> {
        let quiz = &self.snapshot.head.quiz;
        let other = |row: &&Row<'_>| row.get("quiz").is_some_and(|other| !other.eq_ignore_ascii_case(quiz));
        let Some(row) = self.rows.iter().find(other) else { return Some(()) };
        let other = in_brief(row.get("quiz").unwrap_or_default(), MOST_QUOTED);
        let message = format!("docket {} is of `{other}`, not of `{quiz}`", self.code());
        let mend = format!("mark it with that quiz: `gearside mark {other} …`");
        self.faults.push(Fault::new("other-quiz", message, mend).at(row.place_of("quiz")));
        None
    }

    /// Whose it is: as written, but for capitals and for zeros that a spreadsheet took away.
    fn person(&mut self, seat: &Seat) -> Option<String> {
        let mut named = self.rows.iter().filter_map(|row| Some((row, row.get("person")?)));
        let Some((_, person)) = named.next() else { return Some(String::new()) };
        if let Some((row, other)) = named.find(|(_, other)| !other.eq_ignore_ascii_case(person)) {
            let message = format!(
                "the rows of docket {} name both {} and {}",
                self.code(),
                in_brief(person, MOST_QUOTED),
                in_brief(other, MOST_QUOTED)
            );
            let fault = Fault::new("two-people", message, "find out whose docket it is, and name one");
            self.faults.push(fault.at(row.place_of("person")));
            return None;
        }
        let zeros = |text: &str| text.trim_start_matches('0').to_ascii_lowercase();
        let own = seat.person.as_ref().map(Code::as_str).filter(|code| zeros(code) == zeros(person));
        Some(own.unwrap_or(person).to_owned())
    }

    /// The row of each part, sorted; all that are missing, doubled or unknown are faults.
    fn cells(&mut self) -> Option<Vec<Vec<Row<'t>>>> {
        let exercises = &self.snapshot.exercises;
        let mut cells: Vec<Vec<Option<Row<'t>>>> =
            exercises.iter().map(|one| vec![None; rows_of(&one.shown)]).collect();
        for row in self.rows {
            let Some((exercise, part)) = self.slot(row) else { continue };
            let slot = &mut cells[exercise][part];
            if let Some(other) = slot {
                let line = other.place().line.map(|line| format!(", as does line {line}")).unwrap_or_default();
                let message = format!("this row answers exercise {}, part {}{line}", exercise + 1, part + 1);
                self.faults.push(Fault::new("doubled-row", message, "keep the one that is right").at(row.place()));
            } else {
                *slot = Some(*row);
            }
        }
        let empty = |(exercise, parts): (usize, &Vec<Option<Row<'_>>>)| {
            let parts = parts.iter().enumerate().filter(|(_, row)| row.is_none());
            parts.map(|(part, _)| format!("exercise {}, part {}", exercise + 1, part + 1)).collect::<Vec<_>>()
        };
        let missing: Vec<String> = cells.iter().enumerate().flat_map(empty).collect();
        if !missing.is_empty() {
            let more = missing.len().saturating_sub(MOST_NAMED);
            let more = if more > 0 { format!("; and {more} more") } else { String::new() };
            let named = missing.iter().take(MOST_NAMED).cloned().collect::<Vec<_>>().join("; ");
            let message = format!("docket {} lacks rows: {named}{more}", self.code());
            let mend = "put them back; a blank has an empty answer, or `-`";
            let place = self.rows.first().map(Row::place).unwrap_or_default();
            self.faults.push(Fault::new("missing-row", message, mend).at(place));
        }
        (!self.faults.any()).then(|| cells.into_iter().map(|parts| parts.into_iter().flatten().collect()).collect())
    }

    /// Which exercise and part a row answers, counted from 0.
    fn slot(&mut self, row: &Row<'_>) -> Option<(usize, usize)> {
        let exercises = &self.snapshot.exercises;
        let exercise = self.count(row, "exercise", exercises.len(), "the quiz has exercises")?;
        let shown = &exercises[exercise].shown;
        let parts = if shown.kind == "order" { "the exercise has moves" } else { "the exercise has parts" };
        Some((exercise, self.count(row, "part", rows_of(shown), parts)?))
    }

    /// A cell that counts something from 1 on, as a count from 0 on.
    fn count(&mut self, row: &Row<'_>, column: &str, most: usize, what: &str) -> Option<usize> {
        let text = row.get(column).unwrap_or_default();
        let number = answers::whole(text).filter(|number| (1..=most).contains(number));
        if number.is_none() {
            let message =
                format!("`{column}` is `{}`, and {what} 1 to {most}{}", in_brief(text, MOST_QUOTED), made_of_it(text));
            let fault = Fault::new("unknown-row", message, "take the row as it was written out, or leave it out");
            self.faults.push(fault.at(row.place_of(column)));
        }
        Some(number? - 1)
    }
}

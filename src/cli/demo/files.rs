//! The files of the demo's folder: the built-in ones with the demo's dates.

use super::calendar::Calendar;
use super::cast::{FIRST_YEAR, SECOND_YEAR};
use crate::programme::SHIPPED_FILES;

/// The time zone of the demo. Every day of the story is a day there, so that
/// the demo is the same everywhere.
pub(super) const TIME_ZONE: &str = "Europe/Helsinki";

const README: &str = "\
An invented class
=================

This folder is a programme with the built-in curriculum and banks, and with
records.db: the records of a class of nine apprentices. Ten weeks lie behind
the seven who began this year; the other two began a year before them.

The co-operative, its plants, its presses, its jobs and all people are
invented. So are the marks: a seeded game of chance made them. The rules are
real: every fact was entered through the same checks that yours will go
through, as of the day on which it would have been entered.

What to look at:

  gearside board       where everyone stands, and why
  gearside audit       whether the record holds, and what each sign-off rests on
  gearside prove       whether curriculum and banks are fit for use

People have codes: a-01 to a-07 began this year, b-01 and b-02 last year;
s-01 to s-03 are assessors (s-03 for some stages only), i-01 and i-02
instructors, c-01 keeps the records.

The days of the story were counted back from the day on which the folder was
made, in the time zone that curriculum/programme.yaml names. A tz database has
no zone for an invented lake; change it to your own only with new records.
";

/// The built-in files, with the demo's start, classes, edition and time zone.
pub(super) fn files(calendar: &Calendar) -> Vec<(String, Vec<u8>)> {
    let mut files: Vec<(String, Vec<u8>)> = SHIPPED_FILES
        .iter()
        .map(|(path, text)| {
            let text = match *path {
                "curriculum/plan.yaml" => with_lines(text, &plan_lines(calendar)),
                "curriculum/programme.yaml" => with_lines(text, &programme_lines(calendar)),
                _ => (*text).to_owned(),
            };
            ((*path).to_owned(), text.into_bytes())
        })
        .collect();
    files.push(("README.txt".to_owned(), README.as_bytes().to_vec()));
    files
}

fn plan_lines(calendar: &Calendar) -> [(&'static str, String); 2] {
    [
        ("starts:", format!("starts: \"{}\"", calendar.starts)),
        ("classes:", format!("classes: [{FIRST_YEAR}, {SECOND_YEAR}]")),
    ]
}

fn programme_lines(calendar: &Calendar) -> [(&'static str, String); 1] {
    [("edition:", format!("edition: {}\ntime_zone: {TIME_ZONE}", calendar.editions().0))]
}

/// The text with some of its lines, told by how they start, written anew.
fn with_lines(text: &str, lines: &[(&str, String)]) -> String {
    let mut out = String::with_capacity(text.len() + 40);
    for line in text.lines() {
        let new = lines.iter().find(|(start, _)| line.starts_with(start));
        out.push_str(new.map_or(line, |(_, new)| new));
        out.push('\n');
    }
    out
}

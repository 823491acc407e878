//! Hours, observations and sign-offs.

use jiff::civil::Date;

use super::super::cells::{Cells, number};
use super::super::looks::looks_in_words;
use super::super::table::{Shape, Table};
use super::{Batch, Defaults, rows};
use crate::ground::{Fault, nearest_name};
use crate::programme::InkSystem;
use crate::records::{Draft, Hours, Matter, Observation, Rules, Signoff, Sort, shift};

const HOURS: Shape = Shape {
    needed: &["person", "line", "date"],
    allowed: &["supervisor", "start", "end", "sort", "hours", "seen_by", "paper", "note"],
};
const OBSERVED: Shape = Shape {
    needed: &["person", "competency", "date", "seen_by", "press", "job", "criteria"],
    allowed: &["material", "ink", "aided", "paper", "note"],
};
const SIGNOFFS: Shape =
    Shape { needed: &["person", "competency", "date", "seen_by", "acknowledged"], allowed: &["paper", "note"] };

/// Hours: columns `person`, `line` (a competency or a stage), `date`, `start`
/// and `end` (clock times in the programme's time zone; an end that is not
/// after the start is on the next day), `supervisor`; `sort` (on-the-job if it
/// is not given), `hours` (for prior hours, which have no clock times),
/// `seen_by`, `paper`, `note`.
#[must_use]
pub fn hours(table: &Table, defaults: &Defaults<'_>) -> Batch {
    rows(table, &HOURS, |cells| {
        let person = cells.code("person");
        let line = cells.word("line");
        let date = cells.date("date");
        let seen_by = cells.code_or("seen_by", &defaults.entered_by);
        let supervisor = seen_by.as_ref().and_then(|seen_by| cells.code_or("supervisor", seen_by));
        let sort = match cells.text("sort") {
            None => Some(Sort::OnTheJob),
            Some(_) => cells.one_of("sort", &Sort::ALL, Sort::word),
        };
        let total = cells.text("hours").and_then(|text| cells.took("hours", number(text, defaults.decimal_comma())));
        let total = total.map(minutes);
        let (start, end, minutes) = match sort? {
            Sort::Prior => prior(cells, total)?,
            Sort::OnTheJob | Sort::Instruction => span(cells, date?, total, defaults)?,
        };
        let is = Hours { sort: sort?, line: line?, start, end, minutes, supervisor: supervisor? };
        Some(defaults.draft(cells, Some(person?), (seen_by?, date?), Matter::Hours(is)))
    })
}

/// Hours as whole minutes.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a number of at most nine digits, without a sign"
)]
fn minutes(hours: f64) -> u32 {
    (hours * 60.0).round().min(f64::from(u32::MAX)) as u32
}

type Span = (Option<String>, Option<String>, u32);

fn prior(cells: &mut Cells<'_>, total: Option<u32>) -> Option<Span> {
    for column in ["start", "end"].into_iter().filter(|column| cells.text(column).is_some()).collect::<Vec<_>>() {
        let mend = "say how many in the column `hours` and leave `start` and `end` empty";
        cells.note(column, Fault::new("hours", "hours from before have no clock times", mend));
    }
    if total.is_none() {
        cells.needed("hours");
    }
    Some((None, None, total?))
}

fn span(cells: &mut Cells<'_>, date: Date, total: Option<u32>, defaults: &Defaults<'_>) -> Option<Span> {
    let (start, end) = (cells.needed("start"), cells.needed("end"));
    let read = shift(date, start?, end?, &defaults.programme.about.time_zone).map_err(|why| {
        Fault::new("clock", why, "write clock times as in 07:00, with the offset where the clocks showed them twice")
    });
    let (from, to) = cells.took("start", read)?;
    let minutes = u32::try_from((to.at.as_second() - from.at.as_second()) / 60).unwrap_or(0);
    if let Some(total) = total.filter(|total| *total != minutes) {
        let message = format!("from start to end are {minutes} minutes, but `hours` says {total}");
        let mend = "mend one of them, or leave `hours` empty: it is needed for prior hours only";
        cells.note("hours", Fault::new("hours", message, mend));
    }
    Some((Some(from.written), Some(to.written), minutes))
}

/// Observations: columns `person`, `competency`, `date`, `seen_by`, `press`,
/// `job`, `criteria` (as [`looks_in_words`] reads them); `material`, `ink`,
/// `aided` (`yes` or `no`; no if it is not given), `paper`, `note`.
#[must_use]
pub fn observed(table: &Table, defaults: &Defaults<'_>) -> Batch {
    let rules = defaults.rules();
    rows(table, &OBSERVED, |cells| {
        let person = cells.code("person");
        let competency = cells.word("competency");
        let date = cells.date("date");
        let seen_by = cells.code("seen_by");
        let press = cells.word("press");
        let job = cells.word("job");
        let ink = cells.text("ink").and_then(|_| cells.one_of("ink", &InkSystem::ALL, InkSystem::words));
        let aided = cells.yes_or_no("aided");
        let answers = cells.needed("criteria");
        let rule = competency.as_ref().and_then(|id| match rules.of_competency(id) {
            Some(rule) => Some(rule),
            None => cells.took("competency", Err(unknown(id, &rules))),
        });
        let criteria = cells.took("criteria", looks_in_words(answers?, &rule?.criteria));
        let is = Observation {
            competency: competency?,
            criteria: criteria?,
            press: press?,
            job: job?,
            material: cells.text("material").map(Into::into),
            ink,
            aided: aided?,
        };
        Some(defaults.draft(cells, Some(person?), (seen_by?, date?), Matter::Observation(is)))
    })
}

/// The fault of a competency whose criteria nobody knows.
fn unknown(id: &str, rules: &Rules) -> Fault {
    let heir = rules.competencies.iter().find(|rule| rule.was.iter().any(|was| &**was == id));
    let near = nearest_name(id, rules.competencies.iter().map(|rule| &*rule.id));
    let mend = match (heir, near) {
        (Some(heir), _) => format!("it is called `{}` now", heir.id),
        (None, Some(near)) => format!("did you mean `{near}`?"),
        (None, None) => "`gearside prove` lists the competencies of the curriculum".to_owned(),
    };
    Fault::new("unknown-competency", format!("there is no competency `{id}`"), mend)
}

/// Sign-offs: columns `person`, `competency`, `date`, `seen_by` (who signs),
/// `acknowledged` (the day on which the apprentice signed); `paper`, `note`.
/// A sign-off despite missing evidence is an exception: it is entered by hand,
/// one at a time.
#[must_use]
pub fn signoffs(table: &Table, defaults: &Defaults<'_>) -> Batch {
    rows(table, &SIGNOFFS, |cells| {
        let person = cells.code("person");
        let competency = cells.word("competency");
        let date = cells.date("date");
        let seen_by = cells.code("seen_by");
        let acknowledged_on = cells.date("acknowledged");
        let is =
            Signoff { competency: competency?, acknowledged_on: acknowledged_on?, rests_on: Vec::new(), despite: None };
        Some::<Draft>(defaults.draft(cells, Some(person?), (seen_by?, date?), Matter::Signoff(is)))
    })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{defaults, programme, said, table};
    use super::*;
    use crate::records::Look;

    fn hours_of(draft: &Draft) -> &Hours {
        match &draft.matter {
            Matter::Hours(hours) => hours,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn clock_times_are_those_of_the_programme_and_run_over_midnight() {
        let programme = programme();
        let text = "person,line,date,start,end,supervisor\na-1,safety,2026-10-24,22:00,06:00,s-1\n\
                    a-1,safety,2026-10-25,03:30,05:00,s-1\na-1,safety,2026-10-25,03:30+02:00,05:00,s-1\n";
        let batch = hours(&table(text), &defaults(&programme));
        let read: Vec<_> =
            batch.drafts.iter().map(hours_of).map(|is| (is.start.as_deref(), is.end.as_deref(), is.minutes)).collect();
        // The clocks went back that night: 22:00 to 06:00 are nine hours.
        assert_eq!(
            read,
            [
                (Some("2026-10-24T22:00+03:00"), Some("2026-10-25T06:00+02:00"), 540),
                (Some("2026-10-25T03:30+02:00"), Some("2026-10-25T05:00+02:00"), 90),
            ]
        );
        assert_eq!(
            said(&batch),
            ["t.csv:3, start: the clocks showed 03:30 twice on 2026-10-25; write `03:30+03:00` or `03:30+02:00`"]
        );
    }

    #[test]
    fn prior_hours_are_a_number_with_the_programmes_mark() {
        let mut programme = programme();
        programme.about.decimal_comma = true;
        let text = "person;line;date;sort;hours;supervisor;start;end\na-1;safety;2026-10-01;prior;7,5;s-1;;\n\
                    a-1;safety;2026-10-01;prior;7.5;s-1;;\na-1;safety;2026-10-01;Prior;;s-1;07:00;\n\
                    a-1;safety;2026-10-01;on the job;2,5;s-1;07:00;09:00\na-1;safety;2026-10-01;piror;2;s-1;;\n\
                    a-1;safety;2026-10-01;;2,5;s-1;07:00;09:30\n";
        let batch = hours(&table(text), &defaults(&programme));
        assert_eq!(batch.drafts.iter().map(|draft| hours_of(draft).minutes).collect::<Vec<_>>(), [450, 150]);
        assert_eq!(
            said(&batch),
            [
                "t.csv:3, hours: `7.5` is not a number as this programme writes them",
                "t.csv:4, start: hours from before have no clock times",
                "t.csv:4, hours: `hours` is empty",
                "t.csv:5, hours: from start to end are 120 minutes, but `hours` says 150",
                "t.csv:6, sort: `piror` is no word for `sort`",
            ]
        );
    }

    #[test]
    fn an_observation_answers_the_criteria_of_its_competency() {
        let programme = programme();
        // The first competency has seven criteria, of which the second is critical.
        let head = "person,competency,date,seen_by,press,job,criteria,ink,aided\n";
        let text = format!(
            "{head}a-1,make-the-press-safe,2026-10-01,s-1,p 1,j 1,1-6 seen; 7 not yet,UV curing,yes\n\
             a-1,make-the-press-safe,2026-10-01,s-1,p 1,j 1,seen not-seen,,\n\
             a-1,make-the-press-save,2026-10-01,s-1,p 1,j 1,all seen,,\n\
             a-1,make-the-press-safe,2026-10-01,,p 1,j 1,all sen,water,perhaps\n"
        );
        let batch = observed(&table(&text), &defaults(&programme));
        let looks: Vec<Vec<Look>> = batch
            .drafts
            .iter()
            .map(|draft| match &draft.matter {
                Matter::Observation(is) => is.criteria.clone(),
                other => panic!("{other:?}"),
            })
            .collect();
        let mut first = vec![Look::Seen; 7];
        first[6] = Look::NotYet;
        let mut second = vec![Look::NotSeen; 7];
        second[0] = Look::Seen;
        assert_eq!(looks, [first, second]);
        assert!(
            matches!(&batch.drafts[0].matter, Matter::Observation(is) if is.aided && is.ink == Some(InkSystem::UvCuring))
        );
        assert_eq!(
            said(&batch),
            [
                "t.csv:4, competency: there is no competency `make-the-press-save`",
                "t.csv:5, seen_by: `seen_by` is empty",
                "t.csv:5, ink: `water` is no word for `ink`",
                "t.csv:5, aided: `perhaps` is neither yes nor no",
                "t.csv:5, criteria: `all` is none of `seen`, `not yet`, `not seen`",
            ]
        );
        assert_eq!(batch.faults.0[0].mend, "did you mean `make-the-press-safe`?");
    }

    #[test]
    fn a_sign_off_says_when_it_was_acknowledged() {
        let programme = programme();
        let text = "person,competency,date,seen by,acknowledged\na-1,mount-a-plate,2026-10-01,s-1,2026-10-02\n";
        let batch = signoffs(&table(text), &defaults(&programme));
        let Matter::Signoff(is) = &batch.drafts[0].matter else { panic!("a sign-off") };
        assert_eq!((is.acknowledged_on.to_string().as_str(), &*is.competency), ("2026-10-02", "mount-a-plate"));
        let batch = signoffs(&table("person,competency,date,seen_by,despite\n"), &defaults(&programme));
        assert_eq!(
            said(&batch),
            ["t.csv:1: there is no column `despite` in such a table", "t.csv:1: the column `acknowledged` is missing",]
        );
    }
}

//! Hours and observations.

use super::super::clock::minutes_by_day;
use super::super::draft::Draft;
use super::super::fact::{Hours, Look, Observation, Role, Sort};
use super::super::history::{History, Person, Spent};
use super::{Judge, LONGEST_NAME, Verdict, refuse, short};

/// The most hours on one day.
const MOST_MINUTES_A_DAY: i64 = 16 * 60;
/// The most minutes credited at once from before: five working years.
const MOST_PRIOR_MINUTES: u32 = 10_000 * 60;

impl Judge<'_> {
    pub(super) fn hours(&self, person: &Person, draft: &Draft, is: &Hours) -> Verdict {
        if self.rules.of_competency(&is.line).is_none() && !self.stage(&is.line) {
            // The fault of a competency has the better suggestions.
            self.competency(&is.line)?;
        }
        let supervisor = self.someone(&is.supervisor, "who supervised")?;
        if supervisor.code == person.code {
            return refuse("own-supervisor", "nobody supervises themselves", "name the supervisor by code");
        }
        if Role::ALL
            .iter()
            .all(|role| *role == Role::Apprentice || supervisor.grant(*role, draft.seen_on, History::NOW).is_none())
        {
            return refuse(
                "supervisor",
                format!("{} is neither assessor, instructor nor coordinator on {}", is.supervisor, draft.seen_on),
                "name who supervised with --supervisor, or look at the date",
            );
        }
        let spent = Spent::of(is.clone());
        match (is.sort, spent.span) {
            (Sort::Prior, None) if is.minutes == 0 || is.minutes > MOST_PRIOR_MINUTES => {
                refuse("hours", "hours from before are between a minute and 10,000 hours", "look at the number again")
            }
            (Sort::Prior, None) => Ok(()),
            (Sort::Prior, Some(_)) => refuse(
                "hours",
                "hours from before have no clock times",
                "say how many with --hours, without --start and --end",
            ),
            (_, None) => refuse("hours", "these hours have no clock times", "say when with --start and --end"),
            (_, Some((from, to))) if (to.as_second() - from.as_second()) / 60 != i64::from(is.minutes) => {
                refuse("hours", "the minutes are not those between start and end", "look at the times again")
            }
            (_, Some((from, to))) => self.span(person, draft, from, to),
        }
    }

    fn span(&self, person: &Person, draft: &Draft, from: jiff::Timestamp, to: jiff::Timestamp) -> Verdict {
        if to <= from {
            return refuse("hours", "the end is not after the start", "look at the times again");
        }
        if to > self.now {
            return refuse("future", "these hours are not over yet", "enter them when they are");
        }
        let zone = &self.history.zone;
        if zone.to_datetime(from).date() != draft.seen_on {
            return refuse(
                "hours",
                format!("they begin on another day than {}", draft.seen_on),
                "give the day they began",
            );
        }
        if let Some((other, start, end)) = person.spans().find(|(_, start, end)| *start < to && from < *end) {
            let clock = |at| zone.to_datetime(at).strftime("%Y-%m-%d %H:%M").to_string();
            return refuse(
                "overlap",
                format!(
                    "these hours overlap with fact {}, {} to {}: the same hour counts once",
                    other.seq,
                    clock(start),
                    clock(end)
                ),
                format!("mend the times, or correct the other: `gearside record correct {} …`", other.seq),
            );
        }
        for (day, minutes) in minutes_by_day(from, to, zone) {
            let near = jiff::SignedDuration::from_hours(48);
            let others: i64 = person
                .spans()
                .filter(|(_, start, end)| *start < to + near && from - near < *end)
                .flat_map(|(_, start, end)| minutes_by_day(start, end, zone))
                .filter(|(other, _)| *other == day)
                .map(|(_, minutes)| minutes)
                .sum();
            if minutes + others > MOST_MINUTES_A_DAY {
                #[expect(clippy::cast_precision_loss, reason = "minutes of one day")]
                let hours = (minutes + others) as f64 / 60.0;
                return refuse(
                    "too-long",
                    format!("that makes {hours:.1} h on {day}; at most 16 h a day count"),
                    "look at the times again",
                );
            }
        }
        Ok(())
    }

    pub(super) fn observation(&self, person: &Person, draft: &Draft, is: &Observation) -> Verdict {
        let rule = self.competency(&is.competency)?;
        let observer = self.someone(&draft.seen_by, "who observed")?;
        if observer.code == person.code {
            return refuse("own-observer", "nobody observes themselves", "name the assessor with --seen-by");
        }
        if !observer.may_sign(&rule.stage, draft.seen_on, History::NOW) {
            return refuse(
                "not-an-assessor",
                format!("{} is not an assessor for the stage `{}` on {}", draft.seen_by, rule.stage, draft.seen_on),
                "name the assessor who saw it with --seen-by, or look at the date",
            );
        }
        let (want, have) = (rule.criteria.len(), is.criteria.len());
        if want != have {
            return refuse(
                "criteria",
                format!("{have} of {want} criteria are answered"),
                "say of each: --seen 1-3 --not-yet 4 --not-seen 5, or --all-seen",
            );
        }
        let ended =
            rule.criteria.iter().zip(&is.criteria).position(|(rule, look)| rule.critical && *look == Look::NotSeen);
        if let Some(at) = ended
            && let Some(later) = is.criteria.iter().skip(at + 1).position(|look| *look != Look::NotSeen)
        {
            return refuse(
                "ended",
                format!(
                    "criterion {} must be seen and was not: that ends the observation, yet criterion {} is answered",
                    at + 1,
                    at + later + 2
                ),
                "answer what follows with --not-seen, or enter what was seen afterwards as an observation of its own",
            );
        }
        short("material", is.material.as_deref(), LONGEST_NAME)?;
        for (what, name) in [("press", &is.press), ("job", &is.job)] {
            if name.trim().is_empty() || name.chars().count() > LONGEST_NAME || name.contains('\n') {
                return refuse(
                    what,
                    format!("the {what} is named in 1 to {LONGEST_NAME} characters"),
                    format!("give it with --{what}"),
                );
            }
        }
        Ok(())
    }
}

//! Weeks of the plan and days of the calendar.
//!
//! Weeks are counted from the plan's first day, breaks included, so that week 9
//! is week 9 whatever breaks lie before it. Records of an earlier plan lie in
//! weeks 0, −1, −2 …

use std::collections::BTreeSet;

use jiff::Span;
use jiff::civil::Date;

use super::curriculum::Plan;
use crate::ground::say;
use crate::ground::{Fault, Place};

/// A fact that names a week further than this from its day speaks of another plan.
const HALF_A_YEAR: i32 = 26;

/// The calendar of a plan.
#[derive(Debug, Clone)]
pub struct Weeks {
    file: String,
    starts: Date,
    breaks: BTreeSet<i32>,
}

impl Weeks {
    /// The calendar of a plan. A break that is a date stands for the week it lies in.
    ///
    /// # Errors
    /// A [`Fault`] if `starts:` is no date.
    ///
    /// ```
    /// use gearside::programme::{Origin, Weeks, load_without_banks};
    /// let programme = load_without_banks(&Origin::Shipped).unwrap().programme.unwrap();
    /// let weeks = Weeks::of(&programme.plan.unwrap()).unwrap();
    /// assert_eq!(weeks.of_day("2026-09-11".parse().unwrap()), 1);
    /// assert_eq!(weeks.first_day(2).unwrap().to_string(), "2026-09-14");
    /// assert!(weeks.is_break(8) && weeks.for_quiz("2026-10-26".parse().unwrap()).is_err());
    /// ```
    pub fn of(plan: &Plan) -> Result<Self, Fault> {
        let starts = plan.starts.parse::<Date>().map_err(|_| {
            Fault::new("date", format!("`{}` is not a date", plan.starts), "write it as year-month-day: `2026-09-07`")
                .at(Place { file: Some(plan.file.clone()), field: Some("starts".to_owned()), ..Place::default() })
        })?;
        let mut weeks = Self { file: plan.file.clone(), starts, breaks: BTreeSet::new() };
        let week_of = |text: &String| match text.parse::<i32>() {
            Ok(week) => Some(week),
            Err(_) => text.parse::<Date>().ok().map(|day| weeks.of_day(day)),
        };
        weeks.breaks = plan.breaks.iter().filter_map(week_of).collect();
        Ok(weeks)
    }

    /// The week a day lies in: 1 for the first seven days, 0 and less before.
    #[must_use]
    pub fn of_day(&self, day: Date) -> i32 {
        (day - self.starts).get_days().div_euclid(7) + 1
    }

    /// The first day of a week; `None` beyond the calendar.
    #[must_use]
    pub fn first_day(&self, week: i32) -> Option<Date> {
        let weeks = Span::new().try_weeks(i64::from(week) - 1).ok()?;
        self.starts.checked_add(weeks).ok()
    }

    /// Whether nothing is taught in a week.
    #[must_use]
    pub fn is_break(&self, week: i32) -> bool {
        self.breaks.contains(&week)
    }

    /// The week whose quiz is due on a day.
    ///
    /// # Errors
    /// A [`Fault`] before the plan's first day, and in a break.
    pub fn for_quiz(&self, day: Date) -> Result<u32, Fault> {
        let week = self.of_day(day);
        let place = Place { file: Some(self.file.clone()), ..Place::default() };
        match u32::try_from(week) {
            Ok(number @ 1..) if !self.is_break(week) => Ok(number),
            Ok(number @ 1..) => Err(Fault::new(
                "week",
                format!("{day} lies in week {number}, which is a break"),
                "name another week with `--week`",
            )
            .at(place)),
            _ => Err(Fault::new(
                "week",
                format!("the plan starts on {}, and {day} lies before", self.starts),
                "name a week with `--week`, or mend `starts:`",
            )
            .at(place)),
        }
    }

    /// How many weeks with teaching lie after one week up to and with another;
    /// 0 if the other is not later.
    #[must_use]
    pub fn taught_between(&self, after: i32, to: i32) -> u32 {
        if to <= after {
            return 0;
        }
        let breaks = self.breaks.range(after.saturating_add(1)..=to).count();
        (to.abs_diff(after)).saturating_sub(u32::try_from(breaks).unwrap_or(u32::MAX))
    }

    /// The week of this plan that a fact means which names a week and was seen
    /// on a day: `None` if the week it names is one of another plan.
    #[must_use]
    pub fn named(&self, week: u32, seen_on: Date) -> Option<i32> {
        let week = i32::try_from(week).ok()?;
        (self.of_day(seen_on).abs_diff(week) <= HALF_A_YEAR.unsigned_abs()).then_some(week)
    }

    /// A week in words, for a sentence: `week 9`, or a date before this plan.
    #[must_use]
    pub fn words(&self, week: i32) -> String {
        match self.first_day(week) {
            Some(day) if week < 1 => say!("plan.week-of", day = day),
            _ => say!("plan.week", week = week),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    fn weeks(breaks: &[&str]) -> Weeks {
        let plan = Plan {
            file: "plan.yaml".to_owned(),
            starts: "2026-09-07".to_owned(),
            weeks: BTreeMap::new(),
            breaks: breaks.iter().map(|text| (*text).to_owned()).collect(),
            shares: Vec::new(),
            gap: 3,
            not_again_for: 3,
            minutes: 30,
            classes: Vec::new(),
        };
        Weeks::of(&plan).expect("a date")
    }

    fn day(text: &str) -> Date {
        text.parse().expect("a date")
    }

    #[test]
    fn a_week_has_seven_days_from_the_first_on() {
        // Counted in a paper calendar; 2026-12-28 begins week 17, 2027-01-04 week 18.
        let table = [
            ("2026-09-06", 0),
            ("2026-09-07", 1),
            ("2026-09-13", 1),
            ("2026-09-14", 2),
            ("2026-12-31", 17),
            ("2027-01-04", 18),
            ("2026-08-31", 0),
            ("2026-08-30", -1),
        ];
        for (text, want) in table {
            assert_eq!(weeks(&[]).of_day(day(text)), want, "{text}");
        }
        for week in [-140, 0, 1, 2, 40] {
            let first = weeks(&[]).first_day(week).expect("in the calendar");
            assert_eq!(weeks(&[]).of_day(first), week);
        }
    }

    #[test]
    fn a_break_is_a_week_or_a_date_in_it() {
        let weeks = weeks(&["8", "2026-12-25"]);
        assert!(weeks.is_break(8) && weeks.is_break(16) && !weeks.is_break(17));
        assert_eq!(weeks.for_quiz(day("2026-12-21")).map_err(|fault| fault.kind), Err("week"));
        assert_eq!(weeks.for_quiz(day("2026-12-28")).map_err(|fault| fault.kind), Ok(17));
        assert_eq!(weeks.for_quiz(day("2026-09-01")).map_err(|fault| fault.kind), Err("week"));
        assert_eq!((weeks.taught_between(7, 9), weeks.taught_between(7, 8), weeks.taught_between(9, 7)), (1, 0, 0));
        assert_eq!(weeks.taught_between(-3, 17), 18);
    }

    #[test]
    fn a_week_named_in_an_earlier_year_is_not_this_years() {
        let weeks = weeks(&[]);
        assert_eq!(weeks.named(5, day("2026-10-02")), Some(5));
        assert_eq!(weeks.named(5, day("2025-10-02")), None);
        assert_eq!(weeks.named(36, day("2027-05-14")), Some(36));
    }
}

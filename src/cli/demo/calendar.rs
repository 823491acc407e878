//! The days of the story, counted back from today.

use jiff::Timestamp;
use jiff::civil::{Date, Time, Weekday};
use jiff::tz::TimeZone;
use jiff::{Span, ToSpan};

/// How many days lie between the two intakes: 52 weeks, so that Mondays stay Mondays.
const BETWEEN_INTAKES: i64 = 364;

/// When the two intakes began.
#[derive(Debug, Clone)]
pub(super) struct Calendar {
    /// The Monday of week 1 of this year's plan.
    pub(super) starts: Date,
    /// The Monday on which the second-years began.
    pub(super) before: Date,
    zone: TimeZone,
}

impl Calendar {
    /// Counts back from the last Friday before today, which ends week
    /// `last_week` of the plan.
    pub(super) fn before(now: Timestamp, zone: &TimeZone, last_week: u32) -> Result<Self, jiff::Error> {
        let today = zone.to_datetime(now).date();
        let friday = today.nth_weekday(-1, Weekday::Friday)?;
        let starts = friday.checked_sub(Span::new().days(4 + 7 * i64::from(last_week.saturating_sub(1))))?;
        let before = starts.checked_sub(BETWEEN_INTAKES.days())?;
        // The records begin two weeks before the first intake.
        before.checked_sub(21.days())?;
        Ok(Self { starts, before, zone: zone.clone() })
    }

    /// What the edition of this year is called, and the one of the year before.
    pub(super) fn editions(&self) -> (String, String) {
        let season = match self.starts.month() {
            3..=5 => "spring",
            6..=8 => "summer",
            9..=11 => "autumn",
            _ => "winter",
        };
        let year = self.starts.year();
        (format!("{year} {season}"), format!("{} {season}", year - 1))
    }

    /// A moment on a day. Working hours are never skipped by the clocks.
    pub(super) fn at(&self, day: Date, hour: i8, minute: i8) -> Result<Timestamp, jiff::Error> {
        let local = day.to_datetime(Time::new(hour, minute, 0, 0)?);
        self.zone.to_ambiguous_timestamp(local).compatible()
    }

    /// The time zone.
    pub(super) fn zone(&self) -> &TimeZone {
        &self.zone
    }
}

/// Day `weekday` (0 is Monday) of a week of a plan that starts on a Monday.
pub(super) fn day(starts: Date, week: u32, weekday: i64) -> Date {
    starts.saturating_add(Span::new().days(7 * (i64::from(week) - 1) + weekday))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn week_eleven_ends_on_the_last_friday_before_today() {
        let zone = TimeZone::get("Europe/Helsinki").expect("a zone");
        // today, the Friday that ends week 11, the Monday of week 1
        let table = [
            ("2026-11-25T12:00:00Z", date(2026, 11, 20), date(2026, 9, 7)),
            ("2026-11-20T12:00:00Z", date(2026, 11, 13), date(2026, 8, 31)),
            ("2026-11-20T22:30:00Z", date(2026, 11, 20), date(2026, 9, 7)), // Saturday there already
            ("2028-02-29T12:00:00Z", date(2028, 2, 25), date(2027, 12, 13)),
        ];
        for (now, friday, starts) in table {
            let calendar = Calendar::before(now.parse().expect("a time"), &zone, 11).expect("a calendar");
            assert_eq!((day(calendar.starts, 11, 4), calendar.starts), (friday, starts), "{now}");
            assert_eq!(calendar.before.weekday(), Weekday::Monday, "{now}");
            let (own, other) = calendar.editions();
            assert_ne!(own, other, "{now}");
        }
    }
}

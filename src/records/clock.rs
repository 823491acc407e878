//! Local clock times: read with the programme's time zone, kept with their offset.

use jiff::civil::{Date, DateTime};
use jiff::tz::{AmbiguousOffset, TimeZone};
use jiff::{Timestamp, ToSpan};

/// A moment, and how it is written on record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Moment {
    /// The moment.
    pub at: Timestamp,
    /// Local date and time with the offset, such as `2026-09-08T07:00+03:00`.
    pub written: String,
}

/// Reads a clock time on a day: `07:00`, or `07:00+03:00` with its offset.
///
/// # Errors
/// A sentence that says what is wrong: no clock time, one that the clocks
/// skipped on that day, or one that they showed twice (then the offset is needed).
///
/// ```
/// use gearside::records::moment;
/// let zone = jiff::tz::TimeZone::get("Europe/Helsinki").unwrap();
/// let autumn = jiff::civil::date(2026, 10, 25);
/// assert!(moment(autumn, "03:30", &zone).unwrap_err().contains("twice"));
/// assert_eq!(moment(autumn, "03:30+02:00", &zone).unwrap().written, "2026-10-25T03:30+02:00");
/// ```
pub fn moment(day: Date, clock: &str, zone: &TimeZone) -> Result<Moment, String> {
    let clock = clock.trim();
    let (time, offset) = match clock.find(['+', '-', '−']) {
        Some(at) => (&clock[..at], Some(clock[at..].replace('−', "-"))),
        None => (clock, None),
    };
    let time = read_time(time).ok_or_else(|| format!("`{clock}` is not a time of day; write it as `07:00`"))?;
    let local = DateTime::from_parts(day, time);
    let ambiguous = zone.to_ambiguous_timestamp(local);
    let choices = match ambiguous.offset() {
        AmbiguousOffset::Unambiguous { offset } => vec![offset],
        AmbiguousOffset::Gap { .. } => {
            return Err(format!("the clocks skipped {} on {day}; write the time they showed", &clock));
        }
        AmbiguousOffset::Fold { before, after } => vec![before, after],
    };
    let chosen = match (&offset, choices.as_slice()) {
        (None, [only]) => *only,
        (None, _) => {
            let both: Vec<String> = choices.iter().map(|offset| format!("`{clock}{}`", shown(*offset))).collect();
            return Err(format!("the clocks showed {clock} twice on {day}; write {}", both.join(" or ")));
        }
        (Some(text), choices) => *choices
            .iter()
            .find(|offset| shown(**offset) == *text)
            .ok_or_else(|| format!("{day} has no {time} at the offset {text} in this time zone"))?,
    };
    let at = chosen.to_timestamp(local).map_err(|error| error.to_string())?;
    Ok(Moment { at, written: format!("{}{}", local.strftime("%Y-%m-%dT%H:%M"), shown(chosen)) })
}

/// From one clock time to another; an end that is not after the start is on the next day.
///
/// # Errors
/// As [`moment`].
pub fn shift(day: Date, start: &str, end: &str, zone: &TimeZone) -> Result<(Moment, Moment), String> {
    let from = moment(day, start, zone)?;
    match moment(day, end, zone) {
        Ok(to) if to.at > from.at => return Ok((from, to)),
        // A time of this day that the clocks skipped or showed twice; an earlier one is meant for the next day.
        Err(wrong) if !is_earlier(end, start) => return Err(wrong),
        _ => {}
    }
    let next = day.checked_add(1.day()).map_err(|error| error.to_string())?;
    moment(next, end, zone).map(|to| (from, to))
}

/// Whether one clock time stands before another, whatever their offsets.
fn is_earlier(one: &str, other: &str) -> bool {
    let time = |clock: &str| read_time(clock.split(['+', '-', '−']).next().unwrap_or_default());
    time(one).zip(time(other)).is_some_and(|(one, other)| one < other)
}

fn read_time(text: &str) -> Option<jiff::civil::Time> {
    let (hour, minute) = text.trim().split_once([':', '.'])?;
    let fine = |part: &str| (1..=2).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
    if !fine(hour) || minute.len() != 2 || !fine(minute) {
        return None;
    }
    jiff::civil::Time::new(hour.parse().ok()?, minute.parse().ok()?, 0, 0).ok()
}

fn shown(offset: jiff::tz::Offset) -> String {
    let minutes = offset.seconds() / 60;
    let sign = if minutes < 0 { '-' } else { '+' };
    format!("{sign}{:02}:{:02}", minutes.abs() / 60, minutes.abs() % 60)
}

/// How many minutes of a span fall on each local day.
#[must_use]
pub fn minutes_by_day(from: Timestamp, to: Timestamp, zone: &TimeZone) -> Vec<(Date, i64)> {
    let mut list = Vec::new();
    let mut at = from;
    while at < to {
        let day = zone.to_datetime(at).date();
        let midnight = day
            .checked_add(1.day())
            .ok()
            .and_then(|next| {
                zone.to_ambiguous_timestamp(next.to_datetime(jiff::civil::Time::midnight())).compatible().ok()
            })
            .unwrap_or(to);
        let end = midnight.min(to);
        if end <= at {
            break;
        }
        list.push((day, (end.as_second() - at.as_second()) / 60));
        at = end;
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn zone(name: &str) -> TimeZone {
        TimeZone::get(name).expect("a zone")
    }

    #[test]
    fn a_night_shift_over_a_change_of_clocks_has_the_hours_that_passed() {
        // EU clocks: forward on 29 March 2026 at 01:00 UTC, back on 25 October 2026 at 01:00 UTC (Directive 2000/84/EC).
        let helsinki = zone("Europe/Helsinki");
        let minutes = |day, start: &str, end: &str| {
            let (from, to) = shift(day, start, end, &helsinki).expect("a shift");
            (to.at.as_second() - from.at.as_second()) / 60
        };
        assert_eq!(minutes(date(2026, 3, 28), "22:00", "06:00"), 7 * 60);
        assert_eq!(minutes(date(2026, 10, 24), "22:00", "06:00"), 9 * 60);
        assert_eq!(minutes(date(2026, 9, 8), "22:00", "06:00"), 8 * 60);
        assert_eq!(minutes(date(2026, 9, 8), "7:00", "15.30"), 510);
        assert_eq!(minutes(date(2028, 2, 28), "22:00", "06:00"), 8 * 60); // into a leap day
    }

    #[test]
    fn a_time_that_was_skipped_or_shown_twice_is_refused_with_the_way_out() {
        let chicago = zone("America/Chicago");
        // US clocks: forward on 8 March 2026, back on 1 November 2026 at 02:00 local (15 USC 260a).
        assert!(moment(date(2026, 3, 8), "02:30", &chicago).expect_err("skipped").contains("skipped"));
        let twice = moment(date(2026, 11, 1), "01:30", &chicago).expect_err("twice");
        assert!(twice.contains("01:30-05:00") && twice.contains("01:30-06:00"), "{twice}");
        assert!(moment(date(2026, 11, 1), "01:30-07:00", &chicago).is_err());
        for wrong in ["", "7", "24:00", "07:60", "07:5", "seven", "07:00:00"] {
            assert!(moment(date(2026, 9, 8), wrong, &chicago).is_err(), "{wrong:?}");
        }
    }

    #[test]
    fn minutes_fall_on_the_local_day() {
        let helsinki = zone("Europe/Helsinki");
        let (from, to) = shift(date(2026, 10, 24), "22:00", "06:00", &helsinki).expect("a shift");
        assert_eq!(minutes_by_day(from.at, to.at, &helsinki), [(date(2026, 10, 24), 120), (date(2026, 10, 25), 420)]);
    }
}

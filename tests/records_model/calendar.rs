//! Days, clocks and chances, reckoned again in the simplest way.

use jiff::civil::Date;

/// Minutes since 1 January 1970, UTC.
pub(crate) type Minute = i64;

fn is_leap(year: i16) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

fn days_in(year: i16, month: i8) -> i8 {
    match month {
        4 | 6 | 9 | 11 => 30,
        2 if is_leap(year) => 29,
        2 => 28,
        _ => 31,
    }
}

/// The same day of the month so many months on, or the last day of that month.
pub(crate) fn months_on(day: Date, months: u32) -> Date {
    let (mut year, mut month) = (day.year(), day.month());
    for _ in 0..months {
        month += 1;
        if month == 13 {
            (year, month) = (year + 1, 1);
        }
    }
    Date::new(year, month, day.day().min(days_in(year, month))).expect("a day")
}

/// The next day, one at a time.
fn next(day: Date) -> Date {
    match (day.month(), day.day()) {
        (12, 31) => Date::new(day.year() + 1, 1, 1),
        (month, last) if last == days_in(day.year(), month) => Date::new(day.year(), month + 1, 1),
        (month, other) => Date::new(day.year(), month, other + 1),
    }
    .expect("a day")
}

/// So many days on.
pub(crate) fn days_on(day: Date, days: usize) -> Date {
    (0..days).fold(day, |day, _| next(day))
}

/// Days since 1 January 1970, counted year by year and month by month.
pub(crate) fn day_number(day: Date) -> i64 {
    let years: i64 = (1970..day.year()).map(|year| if is_leap(year) { 366 } else { 365 }).sum();
    let months: i64 = (1..day.month()).map(|month| i64::from(days_in(day.year(), month))).sum();
    years + months + i64::from(day.day()) - 1
}

/// The day of that number.
pub(crate) fn day_of(number: i64) -> Date {
    let mut left = number;
    let mut year = 1970;
    while left >= if is_leap(year) { 366 } else { 365 } {
        left -= if is_leap(year) { 366 } else { 365 };
        year += 1;
    }
    let mut month = 1;
    while left >= i64::from(days_in(year, month)) {
        left -= i64::from(days_in(year, month));
        month += 1;
    }
    Date::new(year, month, i8::try_from(left + 1).expect("a day of a month")).expect("a day")
}

/// The last Sunday of a month: 1 January 1970 was a Thursday.
pub(crate) fn last_sunday(year: i16, month: i8) -> Date {
    let mut day = Date::new(year, month, days_in(year, month)).expect("a day");
    while (day_number(day) + 4) % 7 != 0 {
        day = day_of(day_number(day) - 1);
    }
    day
}

/// Eastern European clocks: two hours before UTC, three from the last Sunday
/// of March to that of October, changed at 01:00 UTC (Directive 2000/84/EC).
fn offset(at: Minute) -> i64 {
    let year = day_of(at.div_euclid(1440)).year();
    let change = |month| day_number(last_sunday(year, month)) * 1440 + 60;
    if (change(3)..change(10)).contains(&at) { 180 } else { 120 }
}

/// The local day of a moment.
pub(crate) fn local_day(at: Minute) -> Date {
    day_of((at + offset(at)).div_euclid(1440))
}

/// A clock time on a day: `07:00` or `03:30+02:00`. None if the clocks did not
/// show it, or showed it twice and no offset says which is meant.
pub(crate) fn moment(day: Date, clock: &str) -> Option<Minute> {
    let local = day_number(day) * 1440 + clock_minutes(clock);
    let shown: Vec<i64> = [180, 120].into_iter().filter(|own| offset(local - own) == *own).collect();
    let said = clock.split_once('+').map(|(_, hours)| i64::from(hours == "03:00") * 60 + 120);
    match (shown.as_slice(), said) {
        ([only], None) => Some(local - only),
        (list, Some(said)) if list.contains(&said) => Some(local - said),
        _ => None,
    }
}

fn clock_minutes(clock: &str) -> i64 {
    let number = |text: &str| text.parse::<i64>().expect("a number");
    number(&clock[..2]) * 60 + number(&clock[3..5])
}

/// A shift: its end is on the next day if it is not after the start.
pub(crate) fn shift(day: Date, start: &str, end: &str) -> Option<(Minute, Minute)> {
    let from = moment(day, start)?;
    if let Some(to) = moment(day, end).filter(|to| *to > from) {
        return Some((from, to));
    }
    // The clocks skipped it on this very day, or showed it twice.
    if clock_minutes(end) >= clock_minutes(start) && moment(day, end).is_none() {
        return None;
    }
    moment(next(day), end).map(|to| (from, to))
}

/// How many minutes of a span fall on a local day, counted in minutes.
pub(crate) fn minutes_on(day: Date, from: Minute, to: Minute) -> usize {
    (from..to).filter(|minute| local_day(*minute) == day).count()
}

/// How likely the true rate is above the pass mark: the upper tail of the beta
/// distribution by Simpson's rule. The upper end is stretched (1 − x = (1 − p) v⁴),
/// so that a broken power there does no harm.
pub(crate) fn sureness(right: f64, wrong: f64, pass_mark: f64) -> f64 {
    let ln_whole = libm::lgamma(right + 1.0) + libm::lgamma(wrong + 1.0) - libm::lgamma(right + wrong + 2.0);
    simpson(|v| {
        let rest = (1.0 - pass_mark) * v * v * v * v;
        libm::pow(1.0 - rest, right) * libm::pow(rest, wrong) * (1.0 - pass_mark) * 4.0 * v * v * v
    }) / libm::exp(ln_whole)
}

fn simpson(f: impl Fn(f64) -> f64) -> f64 {
    const PARTS: u32 = 400;
    let at = |index: u32| f(f64::from(index) / f64::from(PARTS));
    let inner: f64 = (1..PARTS).map(|index| at(index) * if index % 2 == 1 { 4.0 } else { 2.0 }).sum();
    (at(0) + inner + at(PARTS)) / (3.0 * f64::from(PARTS))
}

#[test]
fn the_calendar_reckoned_again_agrees_with_itself() {
    for (number, day) in [(0, (1970, 1, 1)), (19_782, (2024, 2, 29)), (21_244, (2028, 3, 1))] {
        // Python 3.11: (date(2024, 2, 29) - date(1970, 1, 1)).days is 19782, for 2028-03-01 it is 21244.
        let date = Date::new(day.0, day.1, day.2).expect("a day");
        assert_eq!((day_number(date), day_of(number)), (number, date));
    }
    // 29 March and 25 October 2026 are the last Sundays.
    assert_eq!(last_sunday(2026, 3).day(), 29);
    assert_eq!(last_sunday(2026, 10).day(), 25);
    // scipy 1.17.1: beta.sf(0.8, 5.5, 1.5) = 0.5354630264184322
    assert!((sureness(4.5, 0.5, 0.8) - 0.535_463_026_418_432_2).abs() < 1e-9);
}

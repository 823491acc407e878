//! Days and clocks in the records: when a sign-off lapses, what today is, how
//! long a shift was.

mod keeping;

use gearside::records::{
    Ask, Derivation, Look, Matter, Observation, Outcome, Refusal, Rules, Signoff, Standing, day_in_words,
    hours_in_words, minutes_by_day, moment, shift,
};
use jiff::Timestamp;
use jiff::civil::{Date, date};
use jiff::tz::TimeZone;
use keeping::{Kept, code, draft, hours, seen};
use proptest::prelude::*;

#[test]
fn a_sign_off_is_valid_to_the_same_day_of_the_month_or_the_last_there_is() {
    // Signed on, lapses after, last valid day, first lapsed day: read off a printed calendar.
    let table = [
        (date(2027, 1, 31), "1 month", date(2027, 2, 28), date(2027, 3, 1)),
        (date(2028, 1, 31), "1 month", date(2028, 2, 29), date(2028, 3, 1)),
        (date(2028, 1, 30), "1 month", date(2028, 2, 29), date(2028, 3, 1)),
        (date(2028, 2, 29), "1 month", date(2028, 3, 29), date(2028, 3, 30)),
        (date(2028, 2, 29), "12 months", date(2029, 2, 28), date(2029, 3, 1)),
        (date(2028, 2, 29), "24 months", date(2030, 2, 28), date(2030, 3, 1)),
        (date(2028, 2, 29), "48 months", date(2032, 2, 29), date(2032, 3, 1)),
        (date(2027, 2, 28), "12 months", date(2028, 2, 28), date(2028, 2, 29)),
        (date(2027, 11, 30), "3 months", date(2028, 2, 29), date(2028, 3, 1)),
        (date(2027, 8, 31), "1 month", date(2027, 9, 30), date(2027, 10, 1)),
        (date(2027, 12, 31), "2 months", date(2028, 2, 29), date(2028, 3, 1)),
        (date(2027, 12, 15), "1 month", date(2028, 1, 15), date(2028, 1, 16)),
    ];
    for (on, lapses, last, first) in table {
        let mut kept = Kept::lapsing(lapses);
        let mut store = kept.story();
        kept.now = TimeZone::UTC.to_timestamp(on.at(12, 0, 0, 0)).expect("a time");
        let observation = Observation {
            competency: "cup".into(),
            criteria: vec![Look::Seen],
            press: "press 1".into(),
            job: "job 1".into(),
            material: None,
            ink: None,
            aided: false,
        };
        let sign = Signoff { competency: "cup".into(), acknowledged_on: on, rests_on: vec![], despite: None };
        for matter in [Matter::Observation(observation), Matter::Signoff(sign)] {
            kept.record(&mut store, vec![draft("a-1", "s-1", on, matter)]).expect("recorded");
        }
        let history = store.read().history(&kept.programme.about.time_zone).expect("a history");
        let rules = Rules::of(&kept.programme);
        let derivation = Derivation::new(&history, &rules);
        let person = history.person(&code("a-1")).expect("known");
        let on_day = |day: Date| derivation.state(person, "cup", Ask::on(day)).expect("a state");
        let standings = [on, last, first].map(|day| on_day(day).standing);
        assert_eq!(standings, [Standing::Signed, Standing::Signed, Standing::Lapsed], "{on} and {lapses}");
        assert_eq!(on_day(last).signed.expect("signed").until, Some(last), "{on} and {lapses}");
        assert_eq!(on_day(last).lapses_within(last), Some(0));
    }
}

#[test]
fn today_is_the_programmes_day_wherever_the_clock_in_greenwich_stands() {
    // Helsinki is three hours before UTC until 25 October 2026, two hours after that.
    let table = [
        ("2026-10-20T20:59:00Z", date(2026, 10, 20)),
        ("2026-10-20T21:00:00Z", date(2026, 10, 21)),
        ("2026-10-20T23:30:00Z", date(2026, 10, 21)),
        ("2026-10-24T20:59:00Z", date(2026, 10, 24)),
        ("2026-10-25T21:30:00Z", date(2026, 10, 25)),
        ("2026-10-25T22:00:00Z", date(2026, 10, 26)),
    ];
    for (now, today) in table {
        let mut kept = Kept::new();
        let mut store = kept.story();
        // One minute passes with every batch.
        kept.now = now.parse::<Timestamp>().expect("a time") - jiff::SignedDuration::from_secs(60);
        let outcomes = kept.record(&mut store, vec![seen("a-1", today)]).expect("today is not in the future");
        let Outcome::Recorded(seq) = outcomes[0] else { panic!("{outcomes:?}") };
        kept.now -= jiff::SignedDuration::from_secs(60);
        let refusal = kept.record(&mut store, vec![seen("a-1", today.tomorrow().expect("a day"))]);
        let Err(Refusal::Faults(faults)) = refusal else { panic!("tomorrow was taken at {now}") };
        assert_eq!(faults.0[0].kind, "future", "{now}");
        let history = store.read().history(&kept.programme.about.time_zone).expect("a history");
        let work = &history.person(&code("a-1")).expect("known").work["ink"];
        let own = work.observations.iter().find(|one| one.seq == seq).expect("there");
        assert_eq!(history.entered_on(own), today, "{now}");
    }
}

#[test]
fn hours_that_are_not_over_are_refused_by_the_minute() {
    // 12:00 in Helsinki in summer is 09:00 UTC.
    for (now, fine) in [("2026-10-20T08:59:00Z", false), ("2026-10-20T09:00:00Z", true)] {
        let mut kept = Kept::new();
        let mut store = kept.story();
        kept.now = now.parse::<Timestamp>().expect("a time") - jiff::SignedDuration::from_secs(60);
        let outcome = kept.record(&mut store, vec![hours("a-2", date(2026, 10, 20), "11:00", "12:00")]);
        assert_eq!(outcome.is_ok(), fine, "{now}");
    }
}

#[test]
fn a_night_shift_that_begins_on_the_day_of_the_change_ends_on_the_next() {
    // Day, start, end, hours that passed; EU clocks, as in the calendar of 2026 and 2027.
    let helsinki = TimeZone::get("Europe/Helsinki").expect("a zone");
    let table = [
        // The clocks skipped 03:30 that Sunday morning, and showed it on Monday.
        (date(2026, 3, 29), "22:00", "03:30", 330),
        (date(2027, 3, 28), "23:00", "03:00", 240),
        // They showed 03:30 twice that Sunday morning, and once on Monday.
        (date(2026, 10, 25), "22:00", "03:30", 330),
        (date(2026, 10, 25), "03:30+03:00", "03:30+02:00", 60),
        (date(2026, 10, 25), "03:45+03:00", "03:15+02:00", 30),
        (date(2026, 10, 25), "02:00", "05:00", 240),
        (date(2026, 3, 29), "02:00", "05:00", 120),
        (date(2026, 9, 8), "07:00", "07:00", 1440),
    ];
    for (day, start, end, minutes) in table {
        let (from, to) = shift(day, start, end, &helsinki).unwrap_or_else(|wrong| panic!("{day} {start}: {wrong}"));
        assert_eq!((to.at.as_second() - from.at.as_second()) / 60, minutes, "{day} {start} to {end}");
    }
    for (day, start, end, says) in [
        (date(2026, 3, 29), "02:00", "03:30", "skipped"),
        (date(2026, 3, 28), "22:00", "03:30", "skipped"),
        (date(2026, 10, 25), "02:00", "03:30", "twice"),
        (date(2026, 10, 24), "22:00", "03:30", "twice"),
        (date(2026, 3, 29), "03:30", "05:00", "skipped"),
    ] {
        let wrong = shift(day, start, end, &helsinki).expect_err("it cannot be told");
        assert!(wrong.contains(says), "{day} {start} to {end}: {wrong}");
    }
}

fn zones() -> impl Strategy<Value = TimeZone> {
    let names =
        ["Europe/Helsinki", "America/Chicago", "UTC", "Asia/Kolkata", "Australia/Lord_Howe", "America/Santiago"];
    prop::sample::select(names.to_vec()).prop_map(|name| TimeZone::get(name).expect("a zone"))
}

fn days() -> impl Strategy<Value = Date> {
    (0_i64..3000).prop_map(|number| date(2024, 1, 1).checked_add(jiff::Span::new().days(number)).expect("a day"))
}

fn clocks() -> impl Strategy<Value = String> {
    (0..96).prop_map(|quarter| format!("{:02}:{:02}", quarter / 4, quarter % 4 * 15))
}

proptest! {
    #[test]
    fn a_shift_begins_on_its_day_and_ends_within_a_day(zone in zones(), day in days(), start in clocks(), end in clocks()) {
        if let Ok((from, to)) = shift(day, &start, &end, &zone) {
            let minutes = (to.at.as_second() - from.at.as_second()) / 60;
            prop_assert!((1..=25 * 60).contains(&minutes), "{minutes} minutes");
            prop_assert_eq!(zone.to_datetime(from.at).date(), day);
            // As it is written it is read again, by anyone.
            for one in [&from, &to] {
                prop_assert_eq!(one.written.parse::<Timestamp>().expect("a time"), one.at);
            }
        } else {
            // Only around a change of clocks may it not be told.
            let near = [0, 1].map(|later| day.checked_add(jiff::Span::new().days(later)).expect("a day"));
            let offset = |day: Date, hour: i8| zone.to_offset(zone.to_timestamp(day.at(hour, 59, 0, 0)).expect("a time"));
            let before = day.yesterday().expect("a day");
            prop_assert!(near.iter().any(|day| offset(*day, 23) != offset(before, 23)), "{day} {start} {end}");
        }
    }

    #[test]
    fn the_minutes_of_a_span_are_those_of_its_days(zone in zones(), day in days(), start in 0_i64..1440, length in 1_i64..6000) {
        let midnight = zone.to_timestamp(day.at(12, 0, 0, 0)).expect("a time");
        let from = midnight + jiff::SignedDuration::from_mins(start);
        let to = from + jiff::SignedDuration::from_mins(length);
        let list = minutes_by_day(from, to, &zone);
        prop_assert_eq!(list.iter().map(|(_, minutes)| minutes).sum::<i64>(), length);
        prop_assert!(list.windows(2).all(|pair| pair[0].0.tomorrow().expect("a day") == pair[1].0));
        prop_assert!(list.iter().all(|(_, minutes)| (1..=25 * 60).contains(minutes)));
        prop_assert_eq!(list[0].0, zone.to_datetime(from).date());
        let last = to - jiff::SignedDuration::from_secs(1);
        prop_assert_eq!(list[list.len() - 1].0, zone.to_datetime(last).date());
    }

    #[test]
    fn no_clock_time_makes_it_panic(zone in zones(), day in days(), text in "[0-9:.+−-]{0,12}|\\PC{0,8}") {
        let _ = moment(day, &text, &zone);
        let _ = shift(day, &text, &text, &zone);
        let _ = shift(day, "22:00", &text, &zone);
    }

    #[test]
    fn hours_in_words_are_within_three_minutes(minutes in 0_u64..1_000_000) {
        let words = hours_in_words(minutes);
        let hours: f64 = words.parse().expect("a number");
        #[expect(clippy::cast_precision_loss, reason = "small numbers")]
        let off = (hours * 60.0 - minutes as f64).abs();
        prop_assert!(off <= 3.0 + 1e-6, "{words} for {minutes} minutes");
        prop_assert!(!words.ends_with(".0"));
    }

    #[test]
    fn a_day_in_words_is_that_day(day in days(), today in days()) {
        let words = day_in_words(day, today);
        let whole = if day.year() == today.year() { format!("{words} {}", today.year()) } else { words };
        prop_assert_eq!(Date::strptime("%d %B %Y", &whole).expect("a date"), day);
    }
}

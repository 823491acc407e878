//! States and their reasons in words.

use jiff::civil::Date;

use super::code::Code;
use super::evidence::{Evidence, MarkedEvidence, ObservedEvidence};
use super::fact::HoldCause;
use super::state::{Held, Standing, State};
use super::sureness::in_words;
use crate::ground::language::filled;
use crate::ground::say;
use crate::programme::Observed;

/// What words need from outside: titles of competencies and names of people.
#[derive(Clone, Copy)]
pub struct Wording<'a> {
    /// The title of a competency.
    pub title: &'a dyn Fn(&str) -> String,
    /// What a person is called.
    pub name: &'a dyn Fn(&Code) -> String,
    /// The day from which it is said.
    pub today: Date,
    /// The label of the edition in force.
    pub edition: &'a str,
}

impl std::fmt::Debug for Wording<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Wording").field("today", &self.today).finish_non_exhaustive()
    }
}

/// A date in words: the year only where it is another one.
#[must_use]
pub fn day_in_words(day: Date, today: Date) -> String {
    let month = filled(&format!("month.long-{}", day.month()), &[]);
    if day.year() == today.year() {
        say!("state.day", day = day.day(), month = month)
    } else {
        say!("state.day-and-year", day = day.day(), month = month, year = day.year())
    }
}

/// `once`, `twice`, `3 times`.
#[must_use]
pub fn times_in_words(times: usize) -> String {
    match times {
        1 => say!("number.once"),
        2 => say!("number.twice"),
        more => say!("number.times", n = more),
    }
}

/// `one`, `two`, `18`: small numbers as words.
fn small(count: usize) -> String {
    if count <= 3 { filled(&format!("number.{count}"), &[]) } else { count.to_string() }
}

/// `one day`, `18 days`.
fn days(count: usize) -> String {
    say!("count.days", n = count, number = small(count))
}

/// `one job`, `18 jobs`.
fn jobs(count: usize) -> String {
    say!("count.jobs", n = count, number = small(count))
}

/// Minutes as hours: `18`, `6.5`.
#[must_use]
pub fn hours_in_words(minutes: u64) -> String {
    let tenths = (minutes + 3) / 6;
    if tenths.is_multiple_of(10) { (tenths / 10).to_string() } else { format!("{}.{}", tenths / 10, tenths % 10) }
}

impl Wording<'_> {
    fn day(&self, day: Date) -> String {
        day_in_words(day, self.today)
    }

    /// The state in a sentence: the word, until when, and why.
    #[must_use]
    pub fn reason(&self, state: &State) -> String {
        match state.standing {
            Standing::Held => say!("state.held", why = self.why_held(state)),
            Standing::Lapsed => self.lapsed(state),
            Standing::Signed => self.signed(state),
            Standing::Ready => self.ready(state),
            Standing::Open => {
                let withdrawn = state
                    .withdrawn
                    .map(|(_, day)| say!("state.sign-off-withdrawn", day = self.day(day)))
                    .unwrap_or_default();
                say!("state.open", withdrawn = withdrawn, evidence = self.evidence(&state.evidence))
            }
            Standing::Waiting => {
                let needs: Vec<String> = state.unsigned_needs.iter().map(|need| (self.title)(need)).collect();
                let so_far = if state.evidence.is_there() {
                    say!("state.so-far", evidence = self.evidence(&state.evidence))
                } else {
                    String::new()
                };
                say!("state.waiting-for", needs = needs.join(&say!("state.and")), sofar = so_far)
            }
        }
    }

    fn ready(&self, state: &State) -> String {
        let until = state.ready_until().map(|day| say!("state.until", day = self.day(day))).unwrap_or_default();
        let asked = if state.frozen.is_some() { say!("state.asked-to-be") } else { String::new() };
        say!("state.ready", until = until, asked = asked, evidence = self.evidence(&state.evidence))
    }

    fn signed(&self, state: &State) -> String {
        let Some(signed) = &state.signed else { return filled("standing.signed", &[]) };
        let valid = signed.until.map(|until| say!("state.valid-to", day = self.day(until))).unwrap_or_default();
        let mut parts =
            vec![say!("state.signed-by", on = self.day(signed.on), by = (self.name)(&signed.by), valid = valid)];
        if let Some(second) = &signed.despite {
            parts.push(say!("state.despite-missing-evidence", who = (self.name)(second)));
        }
        if let Some(edition) = signed.edition.as_deref().filter(|edition| *edition != self.edition) {
            parts.push(say!("state.under-edition", edition = edition));
        }
        if let Some(left) = state.lapses_within(self.today) {
            parts.push(match left {
                0 => say!("state.lapses-after-today"),
                1 => say!("state.lapses-after-tomorrow"),
                days => say!("state.lapses-in-days", n = days),
            });
            parts.push(say!("state.for-renewal", evidence = self.evidence(&state.evidence)));
        }
        parts.join("; ")
    }

    fn lapsed(&self, state: &State) -> String {
        let until = state.signed.as_ref().and_then(|signed| signed.until);
        let since = until.map(|day| say!("state.after", day = self.day(day))).unwrap_or_default();
        let evidence = self.evidence(&state.evidence);
        if state.may_sign {
            say!("state.lapsed-and-ready", since = since, evidence = evidence)
        } else {
            say!("state.lapsed", since = since, evidence = evidence)
        }
    }

    /// Why a competency is held, in words.
    #[must_use]
    pub fn why_held(&self, state: &State) -> String {
        let one = |held: &Held| match held {
            Held::Open { cause: HoldCause::SafetyOrder, since, .. } => {
                say!("state.since-a-safety", since = self.day(*since))
            }
            Held::Open { since, .. } => {
                say!("state.since-put-on", since = self.day(*since))
            }
            Held::NeedWithdrawn(need) => say!("state.the-sign-off", need = (self.title)(need)),
            Held::NeedLapsed(need) => say!("state.the-sign-off-of", need = (self.title)(need)),
            Held::NeedHeld(need) => say!("state.which-it-needs", need = (self.title)(need)),
        };
        let mut words: Vec<String> = state.held.iter().map(one).collect();
        if let Some(signed) = &state.signed {
            words.push(say!("state.it-was-signed", on = self.day(signed.on)));
        }
        words.join("; ")
    }

    /// The evidence against what is asked for: `9 of 10 sealed exercises right
    /// on 4 days, observed twice on two jobs, 18 of 16 h`.
    #[must_use]
    pub fn evidence(&self, evidence: &Evidence) -> String {
        let mut parts = Vec::new();
        if let Some(basis) = &evidence.basis.marked {
            parts.push(marked_in_words(&evidence.marked, basis.at_least, basis.days));
        }
        if let Some(basis) = &evidence.basis.observed {
            let observed = &evidence.observed;
            parts.push(format!("{}{}", observed_in_words(observed, basis), unseen_in_words(&observed.unseen)));
        }
        if let Some(hours) = evidence.basis.hours {
            parts.push(say!("state.of-h", done = hours_in_words(evidence.hours.minutes), hours = hours));
        }
        if parts.is_empty() { say!("state.nothing-is-asked") } else { parts.join(", ") }
    }
}

/// Marked work against what is asked for.
fn marked_in_words(marked: &MarkedEvidence, at_least: u32, days: u32) -> String {
    let count = marked.trials.len();
    if count == 0 {
        return say!("state.no-sealed-exercise", atleast = at_least);
    }
    let lack = if count < at_least as usize {
        say!("state.asked-for", atleast = at_least)
    } else if marked.days < days as usize {
        say!("state.days-asked-for", n = days)
    } else if marked.only_unsure {
        say!("state.sureness", how = in_words(marked.sureness), sureness = format_args!("{:.2}", marked.sureness))
    } else {
        String::new()
    };
    say!("state.of-sealed-exercise", right = marked.right, n = count, days = self::days(marked.days), lack = lack)
}

/// Criteria that nobody has seen yet.
fn unseen_in_words(unseen: &[usize]) -> String {
    if unseen.is_empty() {
        return String::new();
    }
    let list: Vec<String> = unseen.iter().map(usize::to_string).collect();
    say!("state.not-yet-seen", n = list.len(), list = list.join(", "))
}

/// Observations against what is asked for.
fn observed_in_words(observed: &ObservedEvidence, basis: &Observed) -> String {
    let lacking = |have: usize, want: Option<u32>, counted: fn(usize) -> String| {
        want.filter(|want| have < *want as usize)
            .map(|want| say!("state.on-of", have = have, wanted = counted(want as usize)))
    };
    let lacks = [lacking(observed.jobs, basis.jobs, jobs), lacking(observed.days, basis.days, days)];
    let lacks: Vec<String> = lacks.into_iter().flatten().collect();
    match observed.times {
        0 => say!("state.not-yet-observed", times = times_in_words(basis.times as usize)),
        times if times < basis.times as usize => {
            say!("state.observed-of-times", times = times, n = basis.times, lacks = lacks.join(&say!("state.and-on")))
        }
        times if lacks.is_empty() => {
            say!("state.observed-on", times = times_in_words(times), jobs = jobs(observed.jobs))
        }
        times => say!("state.observed-but", times = times_in_words(times), lacks = lacks.join(&say!("state.and-on"))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_hours_and_counts_read_as_people_say_them() {
        let today = jiff::civil::date(2026, 11, 25);
        assert_eq!(day_in_words(jiff::civil::date(2026, 3, 14), today), "14 March");
        assert_eq!(day_in_words(jiff::civil::date(2027, 3, 14), today), "14 March 2027");
        for (minutes, want) in [(0, "0"), (60, "1"), (390, "6.5"), (59, "1"), (7, "0.1"), (1080, "18")] {
            assert_eq!(hours_in_words(minutes), want, "{minutes} minutes");
        }
        assert_eq!(times_in_words(3), "3 times");
        assert_eq!(jobs(1), "one job");
        assert_eq!(jobs(12), "12 jobs");
    }
}

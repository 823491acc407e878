//! States and their reasons in words.

use jiff::civil::Date;

use super::code::Code;
use super::evidence::{Evidence, MarkedEvidence, ObservedEvidence};
use super::fact::HoldCause;
use super::state::{Held, Standing, State};
use super::sureness::in_words;
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
    let form = if day.year() == today.year() { "%-d %B" } else { "%-d %B %Y" };
    day.strftime(form).to_string()
}

/// `once`, `twice`, `3 times`.
#[must_use]
pub fn times_in_words(times: usize) -> String {
    match times {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        more => format!("{more} times"),
    }
}

/// `1 day`, `two jobs`, `18 jobs`: small numbers as words.
#[must_use]
pub fn count_in_words(count: usize, one: &str) -> String {
    let number = match count {
        0 => "no".to_owned(),
        1 => "one".to_owned(),
        2 => "two".to_owned(),
        3 => "three".to_owned(),
        more => more.to_string(),
    };
    format!("{number} {one}{}", if count == 1 { "" } else { "s" })
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
            Standing::Held => format!("held: {}", self.why_held(state)),
            Standing::Lapsed => self.lapsed(state),
            Standing::Signed => self.signed(state),
            Standing::Ready => self.ready(state),
            Standing::Open => {
                let withdrawn = state
                    .withdrawn
                    .map(|(_, day)| format!("sign-off withdrawn on {}; since then ", self.day(day)))
                    .unwrap_or_default();
                format!("open: {withdrawn}{}", self.evidence(&state.evidence))
            }
            Standing::Waiting => {
                let needs: Vec<String> = state.unsigned_needs.iter().map(|need| (self.title)(need)).collect();
                let so_far = if state.evidence.is_there() {
                    format!("; so far {}", self.evidence(&state.evidence))
                } else {
                    String::new()
                };
                format!("waiting for {}{so_far}", needs.join(" and "))
            }
        }
    }

    fn ready(&self, state: &State) -> String {
        let until = state.ready_until().map(|day| format!(" until {}", self.day(day))).unwrap_or_default();
        let asked = if state.frozen.is_some() { " (asked to be signed)" } else { "" };
        format!("ready{until}{asked}: {}", self.evidence(&state.evidence))
    }

    fn signed(&self, state: &State) -> String {
        let Some(signed) = &state.signed else { return "signed".to_owned() };
        let valid = signed.until.map(|until| format!(", valid to {}", self.day(until))).unwrap_or_default();
        let mut parts = vec![format!("signed {} by {}{valid}", self.day(signed.on), (self.name)(&signed.by))];
        if let Some(second) = &signed.despite {
            parts.push(format!("despite missing evidence, {} standing by it", (self.name)(second)));
        }
        if let Some(edition) = signed.edition.as_deref().filter(|edition| *edition != self.edition) {
            parts.push(format!("under edition {edition}"));
        }
        if let Some(left) = state.lapses_within(self.today) {
            parts.push(match left {
                0 => "lapses after today".to_owned(),
                1 => "lapses after tomorrow".to_owned(),
                days => format!("lapses in {days} days"),
            });
            parts.push(format!("for renewal {}", self.evidence(&state.evidence)));
        }
        parts.join("; ")
    }

    fn lapsed(&self, state: &State) -> String {
        let until = state.signed.as_ref().and_then(|signed| signed.until);
        let since = until.map(|day| format!(" after {}", self.day(day))).unwrap_or_default();
        let ready = if state.may_sign { "ready to be renewed: " } else { "for renewal " };
        format!("lapsed{since}; {ready}{}", self.evidence(&state.evidence))
    }

    /// Why a competency is held, in words.
    #[must_use]
    pub fn why_held(&self, state: &State) -> String {
        let one = |held: &Held| match held {
            Held::Open { cause: HoldCause::SafetyOrder, since, .. } => format!(
                "since {}, a safety order was broken in a quiz; an assessor is to talk it through",
                self.day(*since)
            ),
            Held::Open { since, .. } => {
                format!("since {}, put on hold by hand; an assessor can release it", self.day(*since))
            }
            Held::NeedWithdrawn(need) => format!("the sign-off of {} was withdrawn", (self.title)(need)),
            Held::NeedLapsed(need) => format!("the sign-off of {} has lapsed", (self.title)(need)),
            Held::NeedHeld(need) => format!("{}, which it needs, is held", (self.title)(need)),
        };
        let mut words: Vec<String> = state.held.iter().map(one).collect();
        if let Some(signed) = &state.signed {
            words.push(format!("it was signed {}", self.day(signed.on)));
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
            parts.push(format!("{} of {hours} h", hours_in_words(evidence.hours.minutes)));
        }
        if parts.is_empty() { "nothing is asked for".to_owned() } else { parts.join(", ") }
    }
}

/// Marked work against what is asked for.
fn marked_in_words(marked: &MarkedEvidence, at_least: u32, days: u32) -> String {
    let count = marked.trials.len();
    if count == 0 {
        return format!("no sealed exercise yet ({at_least} asked for)");
    }
    let plural = if count == 1 { "" } else { "s" };
    let days_had = count_in_words(marked.days, "day");
    let lack = if count < at_least as usize {
        format!(" ({at_least} asked for)")
    } else if marked.days < days as usize {
        format!(" ({days} days asked for)")
    } else if marked.only_unsure {
        format!(" ({}: {:.2})", in_words(marked.sureness), marked.sureness)
    } else {
        String::new()
    };
    format!("{} of {count} sealed exercise{plural} right on {days_had}{lack}", marked.right)
}

/// Criteria that nobody has seen yet.
fn unseen_in_words(unseen: &[usize]) -> String {
    if unseen.is_empty() {
        return String::new();
    }
    let list: Vec<String> = unseen.iter().map(usize::to_string).collect();
    let word = if list.len() == 1 { "criterion" } else { "criteria" };
    format!(" ({word} {} not yet seen)", list.join(", "))
}

/// Observations against what is asked for.
fn observed_in_words(observed: &ObservedEvidence, basis: &Observed) -> String {
    let lacking = |have: usize, want: Option<u32>, one: &str| {
        want.filter(|want| have < *want as usize)
            .map(|want| format!(" on {have} of {}", count_in_words(want as usize, one)))
    };
    let lacks = [lacking(observed.jobs, basis.jobs, "job"), lacking(observed.days, basis.days, "day")];
    let lacks: Vec<String> = lacks.into_iter().flatten().collect();
    let jobs = count_in_words(observed.jobs, "job");
    match observed.times {
        0 => format!("not yet observed ({} asked for)", times_in_words(basis.times as usize)),
        times if times < basis.times as usize => {
            format!("observed {times} of {} times{}", basis.times, lacks.join(" and"))
        }
        times if lacks.is_empty() => format!("observed {} on {jobs}", times_in_words(times)),
        times => format!("observed {}, but{}", times_in_words(times), lacks.join(" and")),
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
        assert_eq!(count_in_words(1, "job"), "one job");
        assert_eq!(count_in_words(12, "job"), "12 jobs");
    }
}

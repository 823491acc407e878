//! The evidence for one competency, weighed against what a sign-off rests on.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;

use super::fact::{Look, Seq, Word};
use super::fact::{Observation, Sort};
use super::history::{History, Kept, Marked, Person};
use super::rules::Rule;
use super::sureness::{sureness, weight};
use crate::programme::{Marked as MarkedBasis, Observed as ObservedBasis, RestsOn};

/// As of when: a day, and up to which fact things were known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ask {
    /// The day asked about.
    pub on: Date,
    /// The last fact that counts as known.
    pub known_at: Seq,
    /// The last fact that counts as done: sign-offs, requests, withdrawals and
    /// holds behind it are looked away from.
    pub acts_to: Seq,
}

impl Ask {
    /// A day, with everything known now.
    #[must_use]
    pub fn on(day: Date) -> Self {
        Self { on: day, known_at: History::NOW, acts_to: History::NOW }
    }

    /// Whether an act counts by then.
    pub(super) fn has_act<T>(self, kept: &Kept<T>) -> bool {
        kept.seq <= self.acts_to && kept.counts_on(self.on, self.known_at)
    }
}

/// Which evidence counts: what is newer than a sign-off or a withdrawal.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Since {
    /// Only what was seen after this day.
    pub after: Option<Date>,
    /// Only what was entered after this fact, and not seen before its day.
    pub behind: Option<(Seq, Date)>,
}

impl Since {
    /// Whether something is new enough. What was seen before a withdrawal is
    /// not, even if it was entered or corrected later.
    pub(super) fn lets<T>(self, kept: &Kept<T>) -> bool {
        self.after.is_none_or(|day| kept.claim.seen_on > day)
            && self.behind.is_none_or(|(seq, day)| kept.seq > seq && kept.claim.seen_on >= day)
    }
}

/// One exercise of a sealed quiz: one trial.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trial {
    /// The day.
    pub on: Date,
    /// The exercise.
    pub exercise: Word,
    /// Whether every part was right or carried.
    pub right: bool,
    /// The facts of its parts.
    pub seqs: Vec<Seq>,
}

/// Marked work, weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkedEvidence {
    /// The exercises that are looked at: the latest ones.
    pub trials: Vec<Trial>,
    /// How many of them are right.
    pub right: usize,
    /// On how many days.
    pub days: usize,
    /// How sure the whole of the marked work makes us.
    pub sureness: f64,
    /// Weighted right and wrong trials on the day asked about.
    pub weights: (f64, f64),
    /// Whether that is enough.
    pub enough: bool,
    /// Whether it is enough but for how sure it makes us.
    pub only_unsure: bool,
}

/// Observations, weighed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ObservedEvidence {
    /// How many count.
    pub times: usize,
    /// On how many days.
    pub days: usize,
    /// On how many jobs.
    pub jobs: usize,
    /// Criteria, counted from 1, that were not seen in any that counts.
    pub unseen: Vec<usize>,
    /// How many observations do not count (aided, or not all seen).
    pub others: usize,
    /// The facts that count.
    pub seqs: Vec<Seq>,
    /// Whether that is enough.
    pub enough: bool,
}

/// Hours, weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct HoursEvidence {
    /// Minutes on the job, and from before.
    pub minutes: u64,
    /// The facts.
    pub seqs: Vec<Seq>,
    /// Whether that is enough.
    pub enough: bool,
}

/// All evidence of one person for one competency.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    /// What it is weighed against.
    pub basis: RestsOn,
    /// Marked work.
    pub marked: MarkedEvidence,
    /// Observations.
    pub observed: ObservedEvidence,
    /// Hours.
    pub hours: HoursEvidence,
    /// The last day on which it stays enough, if it is and will not stay so for ever.
    pub until: Option<Date>,
    /// Whether it is enough.
    pub enough: bool,
}

impl Evidence {
    /// The facts a sign-off rests on.
    #[must_use]
    pub fn seqs(&self) -> Vec<Seq> {
        let mut seqs: Vec<Seq> = Vec::new();
        if self.basis.marked.is_some() {
            seqs.extend(self.marked.trials.iter().flat_map(|trial| &trial.seqs));
        }
        if self.basis.observed.is_some() {
            seqs.extend(&self.observed.seqs);
        }
        if self.basis.hours.is_some() {
            seqs.extend(&self.hours.seqs);
        }
        seqs.sort_unstable();
        seqs.dedup();
        seqs
    }

    /// Whether there is any at all.
    #[must_use]
    pub fn is_there(&self) -> bool {
        !self.marked.trials.is_empty() || self.observed.times + self.observed.others > 0 || self.hours.minutes > 0
    }
}

/// What a sign-off rests on where the curriculum says nothing: one unaided observation.
pub(super) fn default_basis() -> RestsOn {
    RestsOn {
        marked: None,
        observed: Some(ObservedBasis { times: 1, days: None, jobs: None, unaided: true }),
        hours: None,
    }
}

/// Weighs the evidence of a person.
pub(super) struct Scales<'a> {
    pub(super) history: &'a History,
    pub(super) person: &'a Person,
    /// The competency's names.
    pub(super) names: &'a [Word],
    pub(super) rule: &'a Rule,
    pub(super) pass_mark: Option<f64>,
    pub(super) ask: Ask,
}

impl Scales<'_> {
    /// Weighs everything since some day against a basis.
    pub(super) fn weigh(&self, basis: &RestsOn, since: Since) -> Evidence {
        let marked = self.marked(basis.marked.as_ref(), since);
        let observed = self.observed(basis.observed.as_ref(), since);
        // Hours that were worked stay worked when a sign-off is withdrawn.
        let hours = self.hours(basis.hours, Since { behind: None, ..since });
        let enough = marked.enough && observed.enough && hours.enough;
        let until = if enough { self.until(basis.marked.as_ref(), marked.weights) } else { None };
        Evidence { basis: basis.clone(), marked, observed, hours, until, enough }
    }

    /// One trial for each exercise of a docket, the oldest first. Of a part that
    /// was marked again, under another name of its competency even, the latest counts.
    fn trials(&self, since: Since) -> Vec<Trial> {
        // By quiz, docket and exercise, each part's latest mark.
        type Place<'w> = (&'w Word, &'w Word, &'w Word, u32);
        let mut latest: BTreeMap<Place<'_>, &Kept<Marked>> = BTreeMap::new();
        for mark in self.person.work_in(self.names).flat_map(|work| &work.marks) {
            if mark.counts_on(self.ask.on, self.ask.known_at) && since.lets(mark) {
                let place = (&mark.is.quiz, &mark.is.docket, &mark.is.exercise, mark.is.part);
                let own = latest.entry(place).or_insert(mark);
                if own.seq < mark.seq {
                    *own = mark;
                }
            }
        }
        let parts: Vec<&Kept<Marked>> = latest.into_values().collect();
        let mut trials: Vec<Trial> =
            parts.chunk_by(|one, other| one.is.is_of_same_exercise(&other.is)).map(trial).collect();
        // Of one day, they stay in the order of their quizzes, dockets and exercises.
        trials.sort_by_key(|trial| trial.on);
        trials
    }

    fn marked(&self, basis: Option<&MarkedBasis>, since: Since) -> MarkedEvidence {
        let mut trials = self.trials(since);
        let (mut right, mut wrong) = (0.0, 0.0);
        for trial in &trials {
            let age = trial.on.until(self.ask.on).map_or(0, |span| span.get_days());
            *(if trial.right { &mut right } else { &mut wrong }) += weight(age);
        }
        let pass_mark = self.pass_mark.or(basis.map(|basis| basis.right)).unwrap_or(0.8);
        let sure = sureness(right, wrong, pass_mark);
        let mut enough = true;
        let mut only_unsure = false;
        if let Some(basis) = basis {
            let least = usize::try_from(basis.at_least).unwrap_or(usize::MAX);
            trials.drain(..trials.len() - latest(&trials, least, basis.right));
            let good = trials.len() >= least
                && share(&trials) >= basis.right - 1e-9
                && days(&trials) >= usize::try_from(basis.days).unwrap_or(usize::MAX);
            let is_sure = basis.sureness.is_none_or(|wanted| sure >= wanted - 1e-9);
            enough = good && is_sure;
            only_unsure = good && !is_sure;
        }
        MarkedEvidence {
            right: trials.iter().filter(|trial| trial.right).count(),
            days: days(&trials),
            sureness: sure,
            weights: (right, wrong),
            enough,
            only_unsure,
            trials,
        }
    }

    /// The last day on which marked work still makes sure enough: its weight fades.
    fn until(&self, basis: Option<&MarkedBasis>, (right, wrong): (f64, f64)) -> Option<Date> {
        let wanted = basis?.sureness?;
        let pass_mark = self.pass_mark.unwrap_or(basis?.right);
        let lasts = |days: i32| {
            let fade = weight(days);
            sureness(right * fade, wrong * fade, pass_mark) >= wanted - 1e-9
        };
        // Somewhere between today and ten years on it ends; if not, it never does.
        let (mut good, mut bad) = (0, 3650);
        if lasts(bad) {
            return None;
        }
        while bad - good > 1 {
            let middle = i32::midpoint(good, bad);
            *(if lasts(middle) { &mut good } else { &mut bad }) = middle;
        }
        self.ask.on.checked_add(jiff::Span::new().days(good)).ok()
    }

    fn observed(&self, basis: Option<&ObservedBasis>, since: Since) -> ObservedEvidence {
        let all = self
            .person
            .work_in(self.names)
            .flat_map(|work| &work.observations)
            .filter(|one| one.counts_on(self.ask.on, self.ask.known_at) && since.lets(one));
        let unaided = basis.is_some_and(|basis| basis.unaided);
        let (counting, others): (Vec<_>, Vec<_>) = all.partition(|one| self.counts(one) && !(unaided && one.is.aided));
        let day_set: BTreeSet<Date> = counting.iter().map(|one| one.claim.seen_on).collect();
        let job_set: BTreeSet<String> = counting.iter().map(|one| one.is.job.to_lowercase()).collect();
        let unseen = self.unseen(&counting);
        let enough = basis.is_none_or(|basis| {
            let at_least = |have: usize, want: Option<u32>| want.is_none_or(|want| have >= want as usize);
            at_least(counting.len(), Some(basis.times))
                && at_least(day_set.len(), basis.days)
                && at_least(job_set.len(), basis.jobs)
                && unseen.is_empty()
        });
        let mut seqs: Vec<Seq> = counting.iter().map(|one| one.seq).collect();
        seqs.sort_unstable();
        ObservedEvidence {
            times: counting.len(),
            days: day_set.len(),
            jobs: job_set.len(),
            unseen,
            others: others.len(),
            seqs,
            enough,
        }
    }

    /// The criteria as they stood when an observation was entered.
    fn criteria_then(&self, observation: &Kept<Observation>) -> &[super::rules::CriterionRule] {
        self.history
            .edition_at(observation.origin)
            .and_then(|edition| edition.rules.as_deref())
            .and_then(|rules| rules.of_competency(&observation.is.competency).or_else(|| rules.of_any(self.names)))
            .map_or(&self.rule.criteria, |rule| &rule.criteria)
    }

    /// Whether an observation counts: all that is critical was seen, and
    /// nothing was tried and not there yet.
    fn counts(&self, observation: &Kept<Observation>) -> bool {
        let criteria = self.criteria_then(observation);
        observation.is.criteria.iter().enumerate().all(|(index, look)| match look {
            Look::Seen => true,
            Look::NotYet => false,
            Look::NotSeen => criteria.get(index).is_none_or(|criterion| !criterion.critical),
        })
    }

    /// Today's criteria that no observation of these saw.
    fn unseen(&self, counting: &[&Kept<Observation>]) -> Vec<usize> {
        if counting.is_empty() {
            return Vec::new();
        }
        let seen: BTreeSet<&str> = counting
            .iter()
            .flat_map(|one| {
                let criteria = self.criteria_then(one);
                one.is.criteria.iter().zip(criteria).filter(|(look, _)| **look == Look::Seen)
            })
            .map(|(_, criterion)| criterion.says.as_str())
            .collect();
        (1..).zip(&self.rule.criteria).filter(|(_, one)| !seen.contains(one.says.as_str())).map(|(n, _)| n).collect()
    }

    fn hours(&self, basis: Option<f64>, since: Since) -> HoursEvidence {
        let counting: Vec<_> = self
            .person
            .work_in(self.names)
            .flat_map(|work| &work.hours)
            .filter(|one| one.counts_on(self.ask.on, self.ask.known_at) && since.lets(one))
            .filter(|one| one.is.sort != Sort::Instruction)
            .collect();
        let minutes: u64 = counting.iter().map(|one| u64::from(one.is.minutes)).sum();
        #[expect(clippy::cast_precision_loss, reason = "nobody works 2^52 minutes")]
        let enough = basis.is_none_or(|hours| minutes as f64 >= hours * 60.0 - 1e-9);
        HoursEvidence { minutes, seqs: counting.iter().map(|one| one.seq).collect(), enough }
    }
}

/// The trial that an exercise's parts make.
fn trial(parts: &[&Kept<Marked>]) -> Trial {
    let sum: f64 = parts.iter().map(|part| part.is.mark).sum();
    Trial {
        on: parts.iter().map(|part| part.claim.seen_on).max().unwrap_or_default(),
        exercise: parts[0].is.exercise.clone(),
        right: sum >= f64::from(parts[0].is.parts) - 1e-9,
        seqs: parts.iter().map(|part| part.seq).collect(),
    }
}

/// How many of the latest trials are looked at: as many as possible, at least
/// `least`, as long as the share that is right stays up to `wanted`.
fn latest(trials: &[Trial], least: usize, wanted: f64) -> usize {
    let least = least.min(trials.len());
    (least..=trials.len()).rev().find(|count| share(&trials[trials.len() - count..]) >= wanted - 1e-9).unwrap_or(least)
}

#[expect(clippy::cast_precision_loss, reason = "a person does not do 2^52 exercises")]
fn share(trials: &[Trial]) -> f64 {
    if trials.is_empty() {
        return 0.0;
    }
    trials.iter().filter(|trial| trial.right).count() as f64 / trials.len() as f64
}

fn days(trials: &[Trial]) -> usize {
    trials.iter().map(|trial| trial.on).collect::<BTreeSet<_>>().len()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn trials(rights: &str) -> Vec<Trial> {
        rights
            .chars()
            .map(|c| Trial { on: jiff::civil::date(2026, 9, 8), exercise: "e".into(), right: c == 'r', seqs: vec![] })
            .collect()
    }

    #[test]
    fn the_latest_trials_count_as_far_back_as_the_share_allows() {
        // trials, least, share wanted, how many are looked at
        let table = [
            ("rrrrrrrr", 8, 0.8, 8),
            ("wrrrrrrrrr", 8, 0.8, 10),
            ("wwwwwrrrrrrrr", 8, 0.8, 10),
            ("wwwwwwww", 8, 0.8, 8),
            ("rrr", 8, 0.8, 3),
            ("", 8, 0.8, 0),
            ("rrrrrrrrwww", 8, 0.8, 8),
        ];
        for (rights, least, wanted, count) in table {
            assert_eq!(latest(&trials(rights), least, wanted), count, "{rights}");
        }
    }
}

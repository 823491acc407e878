//! Where someone stands, by the plain lists.

use std::collections::BTreeSet;

use gearside::records::Look;
use jiff::civil::Date;

use crate::calendar;
use crate::curriculum::{Basis, Competency, Edition, MarkedBasis, ObservedBasis, PASS_MARK};
use crate::model::{Model, Row, What, Who};

/// A sign-off that holds or has lapsed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct SignedThen {
    pub(crate) seq: u64,
    pub(crate) on: Date,
    pub(crate) until: Option<Date>,
}

/// Where someone stands.
#[expect(clippy::struct_excessive_bools, reason = "a plain model says plainly what is so")]
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Stand {
    pub(crate) word: &'static str,
    pub(crate) signed: Option<SignedThen>,
    pub(crate) may_sign: bool,
    pub(crate) ready_until: Option<Date>,
    pub(crate) held: bool,
    pub(crate) needs_signed: bool,
    pub(crate) observed: usize,
    pub(crate) enough: bool,
}

/// Which evidence is new enough.
#[derive(Debug, Clone, Copy)]
enum Since {
    Ever,
    /// After the day of a sign-off: for its renewal.
    SignedOn(Date),
    /// Seen and entered after a withdrawal.
    Withdrawn(u64, Date),
}

impl Since {
    fn lets(self, row: &Row) -> bool {
        match self {
            Self::Ever => true,
            Self::SignedOn(day) => row.seen_on > day,
            Self::Withdrawn(seq, day) => row.seq > seq && row.seen_on >= day,
        }
    }
}

/// A sign-off, the name it was made under, and its withdrawal.
type LastSignoff = (SignedThen, String, Option<(u64, Date)>);

/// What a need is to what rests on it.
enum NeedIs {
    Signed,
    Unsigned,
    Broken,
}

/// Evidence, and until when it is enough (`None` for ever).
struct Weighed {
    enough: bool,
    until: Option<Date>,
    observed: usize,
}

fn competency_of(what: &What) -> Option<&str> {
    match what {
        What::Seen { competency, .. }
        | What::Mark { competency, .. }
        | What::Ask { competency }
        | What::Sign { competency, .. }
        | What::Unsign { competency, .. }
        | What::Hold { competency, .. }
        | What::Release { competency, .. } => Some(competency),
        What::Hours { line, .. } | What::Prior { line, .. } => Some(line),
        _ => None,
    }
}

impl Model {
    /// What came to be called what, over all editions: new name, old name.
    fn renamings(&self) -> BTreeSet<(&str, &str)> {
        let editions = self.in_force.iter().map(|(_, edition)| edition).chain([&self.current]);
        let competencies = editions.flat_map(|edition| &edition.competencies);
        competencies.flat_map(|one| one.was.iter().map(|was| (one.id.as_str(), was.as_str()))).collect()
    }

    /// What a competency is and was called.
    pub(crate) fn names(&self, id: &str) -> Vec<String> {
        names(&self.renamings(), id)
    }

    /// Those, and what it came to be called.
    fn names_and_heirs(&self, id: &str) -> Vec<String> {
        let renamings = self.renamings();
        let mut all = names(&renamings, id);
        for (new, _) in &renamings {
            if names(&renamings, new).iter().any(|name| name == id) {
                all.push((*new).to_owned());
            }
        }
        all
    }

    fn edition_at(&self, seq: u64) -> &Edition {
        let then = self.in_force.iter().rev().find(|(from, _)| *from <= seq);
        &then.expect("an edition comes before every fact").1
    }

    /// Live facts about a competency.
    pub(crate) fn facts(&self, person: Who, names: &[String]) -> Vec<&Row> {
        let about = |row: &&Row| competency_of(&row.what).is_some_and(|own| names.iter().any(|name| name == own));
        self.of(person).filter(about).collect()
    }

    /// The last sign-off, and its withdrawal.
    fn last_signoff(&self, facts: &[&Row], day: Date) -> Option<LastSignoff> {
        let mut last: Option<&Row> = None;
        for row in by(facts, day).filter(|row| matches!(row.what, What::Sign { .. })) {
            if last.is_none_or(|other| row.seen_on >= other.seen_on) {
                last = Some(row);
            }
        }
        let row = last?;
        let name = competency_of(&row.what)?.to_owned();
        let lapses = self.edition_at(row.seq).find(&name)?.lapses_after;
        let until = lapses.map(|months| calendar::months_on(row.seen_on, months));
        let withdrawn =
            by(facts, day).find(|other| matches!(other.what, What::Unsign { signoff, .. } if signoff == row.seq));
        Some((SignedThen { seq: row.seq, on: row.seen_on, until }, name, withdrawn.map(|row| (row.seq, row.seen_on))))
    }

    /// Where a person stands in a competency of the present edition.
    pub(crate) fn stand(&self, person: Who, competency: &str, day: Date) -> Stand {
        let rule = self.current.find(competency).expect("a competency");
        let names = self.names(competency);
        let facts = self.facts(person, &names);
        let last = self.last_signoff(&facts, day);
        let rests_on = rule.rests_on.clone().unwrap_or(Basis {
            marked: None,
            observed: Some(ObservedBasis { times: 1, days: None, jobs: None, unaided: true }),
            hours: None,
        });
        let (signed, basis, since) = match &last {
            Some((signed, name, None)) => {
                (Some((*signed, name)), rule.renewed_by.clone().unwrap_or(rests_on), Since::SignedOn(signed.on))
            }
            Some((_, _, Some((seq, on)))) => (None, rests_on, Since::Withdrawn(*seq, *on)),
            None => (None, rests_on, Since::Ever),
        };
        let weighed = self.weigh(&facts, rule, &basis, since, day);
        let frozen = self.frozen(&facts, rule, &basis, since, day);
        let (needs, own) = match signed {
            Some((signed, name)) => {
                (self.edition_at(signed.seq).find(name).map_or(&rule.needs, |then| &then.needs), true)
            }
            None => (&rule.needs, false),
        };
        let mut held = !open_holds(&facts, day).is_empty();
        let mut needs_signed = true;
        for need in needs {
            match self.need(person, need, own, day) {
                NeedIs::Signed => {}
                NeedIs::Unsigned => needs_signed = false,
                NeedIs::Broken => (held, needs_signed) = (true, false),
            }
        }
        let signed = signed.map(|(signed, _)| signed);
        let may_sign = !held && needs_signed && (weighed.enough || frozen.is_some());
        let word = match signed {
            _ if held => "held",
            Some(SignedThen { until: Some(until), .. }) if day > until => "lapsed",
            Some(_) => "signed",
            None if !needs_signed => "waiting",
            None if may_sign => "ready",
            None => "open",
        };
        let ready_until = match (weighed.enough, weighed.until, frozen) {
            (true, until, None) => until,
            (true, until, Some(frozen)) => until.map(|until| until.max(frozen)),
            (false, _, frozen) => frozen,
        };
        let (observed, enough) = (weighed.observed, weighed.enough);
        Stand { word, signed, may_sign, ready_until, held, needs_signed, observed, enough }
    }

    fn need(&self, person: Who, need: &str, for_signed: bool, day: Date) -> NeedIs {
        let facts = self.facts(person, &self.names_and_heirs(need));
        match self.last_signoff(&facts, day) {
            None if for_signed => NeedIs::Signed,
            None => NeedIs::Unsigned,
            Some((_, _, Some(_))) => NeedIs::Broken,
            Some((signed, ..)) if signed.until.is_some_and(|until| day > until) => NeedIs::Broken,
            Some(_) if !open_holds(&facts, day).is_empty() => NeedIs::Broken,
            Some(_) => NeedIs::Signed,
        }
    }

    /// Until when a request keeps it ready: the latest that was made on a day with enough evidence.
    fn frozen(&self, facts: &[&Row], rule: &Competency, basis: &Basis, since: Since, day: Date) -> Option<Date> {
        let mut until = None;
        for row in by(facts, day).filter(|row| matches!(row.what, What::Ask { .. }) && since.lets(row)) {
            let end = calendar::days_on(row.seen_on, 30);
            if day <= end && self.weigh(facts, rule, basis, since, row.seen_on).enough {
                until = until.max(Some(end));
            }
        }
        until
    }

    fn weigh(&self, facts: &[&Row], rule: &Competency, basis: &Basis, since: Since, day: Date) -> Weighed {
        let (marked, until) = match &basis.marked {
            Some(basis) => self.weigh_marks(facts, basis, since, day),
            None => (true, None),
        };
        let (observed, times) = self.weigh_observations(facts, rule, basis.observed.as_ref(), since, day);
        let hours = basis.hours.is_none_or(|hours| {
            let minutes = minutes(facts, since, day);
            f64::from(minutes) >= hours * 60.0
        });
        let enough = marked && observed && hours;
        Weighed { enough, until: until.filter(|_| enough), observed: times }
    }

    /// Whether observations are enough, and how many count.
    fn weigh_observations(
        &self,
        facts: &[&Row],
        rule: &Competency,
        basis: Option<&ObservedBasis>,
        since: Since,
        day: Date,
    ) -> (bool, usize) {
        let (mut days, mut jobs, mut seen) = (Vec::new(), Vec::new(), Vec::new());
        let mut times = 0;
        for row in by(facts, day).filter(|row| since.lets(row)) {
            let What::Seen { competency, looks, job, aided } = &row.what else { continue };
            let criteria = &self.edition_at(row.seq).find(competency).expect("a competency of its edition").criteria;
            let lacks = |((_, critical), look): (&(String, bool), &Look)| {
                *look == Look::NotYet || (*critical && *look == Look::NotSeen)
            };
            if criteria.iter().zip(looks).any(lacks) || (*aided && basis.is_some_and(|basis| basis.unaided)) {
                continue;
            }
            times += 1;
            days.push(row.seen_on);
            jobs.push(*job);
            seen.extend(criteria.iter().zip(looks).filter(|(_, look)| **look == Look::Seen).map(|((says, _), _)| says));
        }
        days.sort_unstable();
        days.dedup();
        jobs.sort_unstable();
        jobs.dedup();
        let Some(basis) = basis else { return (true, times) };
        let all_seen = rule.criteria.iter().all(|(says, _)| seen.contains(&says));
        let enough = times >= basis.times
            && days.len() >= basis.days.unwrap_or(0)
            && jobs.len() >= basis.jobs.unwrap_or(0)
            && (times == 0 || all_seen);
        (enough, times)
    }

    /// Whether marked work is enough, and until when it makes sure enough.
    fn weigh_marks(&self, facts: &[&Row], basis: &MarkedBasis, since: Since, day: Date) -> (bool, Option<Date>) {
        let trials = trials(facts, since, day);
        let wanted = f64::from(basis.percent) / 100.0;
        let share = |rights: usize, count: usize| {
            f64::from(u32::try_from(rights).expect("few")) / f64::from(u32::try_from(count).expect("few"))
        };
        // Of the latest ones, at least so many, the longest run back with the share asked for.
        let mut fits = None;
        for count in basis.at_least..=trials.len() {
            let latest = &trials[trials.len() - count..];
            if share(latest.iter().filter(|(_, right)| *right).count(), count) >= wanted - 1e-9 {
                fits = Some(latest);
            }
        }
        let Some(latest) = fits else { return (false, None) };
        let mut days: Vec<Date> = latest.iter().map(|(day, _)| *day).collect();
        days.dedup();
        if days.len() < basis.days {
            return (false, None);
        }
        let Some(wanted) = basis.sureness else { return (true, None) };
        let sure_on = |later: i64| {
            let (mut right, mut wrong) = (0.0, 0.0);
            for (on, is_right) in &trials {
                let age = calendar::day_number(day) + later - calendar::day_number(*on);
                let weight = libm::exp2(-f64::from(i32::try_from(age).expect("not so old")) / 180.0);
                *(if *is_right { &mut right } else { &mut wrong }) += weight;
            }
            self.sureness(right, wrong) >= wanted - 1e-9
        };
        if !sure_on(0) {
            return (false, None);
        }
        if sure_on(3650) {
            return (true, None);
        }
        let (mut sure, mut unsure) = (0, 3650);
        while unsure - sure > 1 {
            let middle = i64::midpoint(sure, unsure);
            *(if sure_on(middle) { &mut sure } else { &mut unsure }) = middle;
        }
        (true, Some(calendar::day_of(calendar::day_number(day) + sure)))
    }

    /// The same question is asked over and over; the answer is kept.
    fn sureness(&self, right: f64, wrong: f64) -> f64 {
        let pass_mark = f64::from(PASS_MARK) / 100.0;
        let key = (right.to_bits(), wrong.to_bits());
        *self.sure.borrow_mut().entry(key).or_insert_with(|| calendar::sureness(right, wrong, pass_mark))
    }
}

fn names(renamings: &BTreeSet<(&str, &str)>, id: &str) -> Vec<String> {
    let mut names = vec![id.to_owned()];
    loop {
        let was = renamings.iter().filter(|(new, old)| has(&names, new) && !has(&names, old));
        let Some((_, old)) = { was }.next() else { return names };
        names.push((*old).to_owned());
    }
}

fn has(names: &[String], wanted: &str) -> bool {
    names.iter().any(|name| name == wanted)
}

/// Those seen by the end of a day.
fn by<'a>(facts: &'a [&'a Row], day: Date) -> impl Iterator<Item = &'a Row> {
    facts.iter().copied().filter(move |row| row.seen_on <= day)
}

/// Holds that nobody has released.
pub(crate) fn open_holds(facts: &[&Row], day: Date) -> Vec<u64> {
    let mut open: Vec<u64> = Vec::new();
    for row in by(facts, day).filter(|row| matches!(row.what, What::Hold { .. })) {
        open.push(row.seq);
    }
    for row in by(facts, day) {
        if let What::Release { hold, .. } = row.what {
            open.retain(|one| *one != hold);
        }
    }
    open
}

fn minutes(facts: &[&Row], since: Since, day: Date) -> u32 {
    // Hours that were worked stay worked when a sign-off is withdrawn.
    let since = if matches!(since, Since::Withdrawn(..)) { Since::Ever } else { since };
    let spent = |row: &Row| match (&row.what, row.span) {
        (What::Hours { instruction: false, .. }, Some((from, to))) => u32::try_from(to - from).expect("minutes"),
        (What::Prior { minutes, .. }, _) => *minutes,
        _ => 0,
    };
    by(facts, day).filter(|row| since.lets(row)).map(spent).sum()
}

/// One trial per exercise of a docket, oldest first: right if all its parts are.
fn trials(facts: &[&Row], since: Since, day: Date) -> Vec<(Date, bool)> {
    let mut trials: Vec<(Date, &str, &str, &str, u32, u32)> = Vec::new();
    for row in by(facts, day).filter(|row| since.lets(row)) {
        let What::Mark { quiz, docket, exercise, parts, tenths, .. } = &row.what else { continue };
        let right = u32::from(*tenths == 10);
        match trials.iter_mut().find(|one| (one.1, one.2, one.3) == (quiz, docket, exercise)) {
            Some(one) => (one.0, one.4) = (one.0.max(row.seen_on), one.4 + right),
            None => trials.push((row.seen_on, quiz, docket, exercise, right, *parts)),
        }
    }
    trials.sort_unstable();
    trials.into_iter().map(|(on, _, _, _, rights, parts)| (on, rights == parts)).collect()
}

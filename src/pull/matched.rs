//! Pulls of one exercise for one quiz: different numbers, equal work.
//!
//! Pulls are compared with what most pulls of the exercise are like. A pull is
//! *matched* if
//!
//! 1. its working takes the same road: the same calculations are carried out,
//!    and the same steps leave the range of theirs (if any do);
//! 2. every wrong turn stands apart from the key, by more than the leeway, at
//!    the first answer it reaches, and at later answers where it nearly always
//!    does: whoever goes wrong is found out on every docket alike;
//! 3. no key is trivially round, which would give it away or spare the last
//!    digit: it has at least two digits that are not leading or trailing zeros,
//!    and is not printed like a given. Answers that are mostly so, such as
//!    small counts, are let be;
//! 4. there are about as many digits to work with: those of the printed givens
//!    and of the steps at their shown places differ from the median by at most
//!    an eighth, or by one.
//!
//! Where an exercise has too few such pulls, 4 and then 3 are given up for the
//! pulls that are lacking, and that is said. 1 and 2 never are. Of orders and choices, all get the same
//! moves or options.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use super::digits::{most_digits, numbers};
use super::{Key, Printer, Pull, figures, key, public, pull, shown_names};
use crate::formula::Stack;
use crate::ground::Fault;
use crate::programme::{Exercise, Form, Numeric};
use crate::pull::Figures;

/// How many pulls are looked at to see what most are like.
const SAMPLE: u64 = 120;
/// After so many tries without a new pull there are none left, near enough.
const STALE: u64 = 300;
/// The most tries per pull wanted, and as many again as [`LEAST_TRIES`].
const TRIES_EACH: u64 = 40;
const LEAST_TRIES: u64 = 2000;
/// How long pulls that keep to all rules are preferred: so many tries per pull wanted.
const PREFERRING: u64 = 4;
/// Relative room for the dust of binary arithmetic.
const DUST: f64 = 1e-9;

/// Matched pulls, one for each apprentice.
#[derive(Debug, Clone)]
pub struct Matched {
    /// As many as were wanted.
    pub pulls: Vec<Pull>,
    /// How many of them differ in what is printed; after that many they come again.
    pub distinct: usize,
    /// The rules that were given up for want of pulls, in words.
    pub gave_way: Vec<&'static str>,
}

/// Pulls `count` matched versions of an exercise from 32 bytes of chance.
///
/// # Errors
/// A fault if `only_if` cannot be met, or if no pull tried has all wrong turns apart.
///
/// ```
/// use gearside::programme::{Origin, load};
/// use gearside::pull::{Printer, matched};
/// let programme = load(&Origin::Shipped).unwrap().programme.unwrap();
/// let exercise = programme.exercise("film-on-the-web").unwrap();
/// let nine = matched(exercise, &[7; 32], 9, Printer::of(&programme)).unwrap();
/// assert_eq!((nine.pulls.len(), nine.distinct), (9, 9));
/// ```
pub fn matched(exercise: &Exercise, chance: &[u8; 32], count: usize, printer: Printer) -> Result<Matched, Fault> {
    let seed = chance.iter().fold(String::new(), |mut text, byte| {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    });
    let mut found = match &exercise.form {
        Form::Numeric(numeric) => Search { exercise, numeric, seed: &seed, printer }.find(count)?,
        Form::Order(_) | Form::Choose(_) => alike(exercise, &seed, count, printer)?,
    };
    found.distinct = found.pulls.len();
    if found.distinct == 0 && count > 0 {
        let message = format!("no pull of `{}` has all of its wrong turns apart", exercise.id);
        let mend = "choose givens that tell them apart, or drop a wrong turn; `gearside prove` says which";
        return Err(Fault::new("not-matched", message, mend).at(exercise.place.clone()));
    }
    for again in found.distinct..count {
        found.pulls.push(found.pulls[again % found.distinct].clone());
    }
    Ok(found)
}

/// Orders and choices that show the same moves or options in all pulls.
fn alike(exercise: &Exercise, seed: &str, count: usize, printer: Printer) -> Result<Matched, Fault> {
    let sorted = |pull: &Pull| {
        let mut shown = pull.public.shown.clone();
        shown.sort_unstable();
        shown
    };
    let mut seen = BTreeSet::new();
    let (mut pulls, mut wanted) = (Vec::new(), None);
    let mut last_new = 0;
    for number in 0..tries(count) {
        if pulls.len() == count || number > last_new + STALE {
            break;
        }
        let next = pull(exercise, seed, number, printer)?;
        let all_differ = next.public.says.iter().collect::<BTreeSet<_>>().len() == next.public.says.len();
        if !all_differ || *wanted.get_or_insert_with(|| sorted(&next)) != sorted(&next) {
            continue;
        }
        if seen.insert((next.public.givens.clone(), next.public.says.clone())) {
            pulls.push(next);
            last_new = number;
        }
    }
    Ok(Matched { pulls, distinct: 0, gave_way: Vec::new() })
}

fn tries(count: usize) -> u64 {
    count as u64 * TRIES_EACH + LEAST_TRIES
}

/// What matters of a pull for matching.
struct Look {
    road: Vec<&'static str>,
    /// Wrong turn and step, where the two stand apart.
    apart: BTreeSet<(usize, usize)>,
    /// For each answer: whether its key is trivially round.
    round: Vec<bool>,
    digits: usize,
}

/// What most pulls of an exercise are like.
struct Usual {
    road: Vec<&'static str>,
    apart: BTreeSet<(usize, usize)>,
    /// For each answer: whether a trivially round key is out of the ordinary.
    not_round: Vec<bool>,
    digits: usize,
}

impl Usual {
    /// 0 if a pull keeps to all rules, 1 if but for its length, 2 if its key is
    /// round; `None` if it is other work.
    fn rank(&self, look: &Look) -> Option<usize> {
        let same_work = look.road == self.road && self.apart.is_subset(&look.apart);
        let round = look.round.iter().zip(&self.not_round).any(|(round, wanted)| *round && *wanted);
        let as_long = look.digits.abs_diff(self.digits) <= (self.digits / 8).max(1);
        same_work.then_some(match (round, as_long) {
            (true, _) => 2,
            (false, false) => 1,
            (false, true) => 0,
        })
    }
}

/// A pull that may be taken.
struct Candidate {
    number: u64,
    figures: Figures,
    key: Key,
    look: Look,
}

/// What has been found so far, by rank.
#[derive(Default)]
struct Found {
    ranks: [Vec<Candidate>; 3],
    tried: u64,
    last_new: u64,
}

impl Found {
    fn is_enough(&self, count: usize) -> bool {
        let all: usize = self.ranks.iter().map(Vec::len).sum();
        let preferring = self.tried < count as u64 * PREFERRING + SAMPLE;
        self.ranks[0].len() >= count
            || (all >= count && !preferring)
            || self.tried > self.last_new + STALE
            || self.tried >= tries(count)
    }
}

struct Search<'a> {
    exercise: &'a Exercise,
    numeric: &'a Numeric,
    seed: &'a str,
    printer: Printer,
}

impl Search<'_> {
    fn find(&self, count: usize) -> Result<Matched, Fault> {
        let names = &self.exercise.reckoning.names;
        let shown: Vec<usize> =
            shown_names(self.exercise).iter().filter_map(|name| names.get(name)).map(|entry| entry.print).collect();
        let sample = (0..SAMPLE).map(|number| self.candidate(number, &shown)).collect::<Result<Vec<_>, _>>()?;
        let usual = self.usual(&sample);
        let mut sample = sample.into_iter();
        let mut seen: BTreeSet<Vec<String>> = BTreeSet::new();
        let mut found = Found::default();
        while !found.is_enough(count) {
            let next = match sample.next() {
                Some(next) => next,
                None => self.candidate(found.tried, &shown)?,
            };
            found.tried += 1;
            let Some(rank) = usual.rank(&next.look) else { continue };
            if seen.insert(shown.iter().filter_map(|print| next.figures.printed.get(*print)).cloned().collect()) {
                found.last_new = found.tried;
                found.ranks[rank].push(next);
            }
        }
        Ok(self.taken(found, count))
    }

    /// The pulls wanted, those that keep to all rules first.
    fn taken(&self, found: Found, count: usize) -> Matched {
        let mut taken = Matched { pulls: Vec::with_capacity(count), distinct: 0, gave_way: Vec::new() };
        for (rank, gives_up) in found.ranks.into_iter().zip([None, Some("about as many digits"), Some("no round keys")])
        {
            let left = count - taken.pulls.len();
            if left > 0 && !rank.is_empty() {
                taken.gave_way.extend(gives_up);
            }
            for Candidate { number, figures, key, .. } in rank.into_iter().take(left) {
                let public = public(self.exercise, &figures, self.seed, number, self.printer, &key);
                taken.pulls.push(Pull { public, key, figures });
            }
        }
        taken
    }

    fn candidate(&self, number: u64, shown: &[usize]) -> Result<Candidate, Fault> {
        let figures = figures(self.exercise, self.seed, number, self.printer)?;
        let key = key(self.exercise, &figures, self.printer);
        let look = self.look(&figures, &key, shown);
        Ok(Candidate { number, figures, key, look })
    }

    fn look(&self, figures: &Figures, key: &Key, shown: &[usize]) -> Look {
        let reckoning = &self.exercise.reckoning;
        let mut road = Vec::new();
        let mut stack = Stack::default();
        for (step, value) in reckoning.steps.iter().zip(&key.steps) {
            step.formula.evaluate_watched(&figures.values(), &mut stack, &mut |done, _, _| road.push(done.name));
            road.push(if value.remarks.is_empty() { "within range" } else { "beyond range" });
        }
        let apart = key.turns.iter().filter(|turn| {
            let right = key.steps[turn.step].in_unit;
            let half = reckoning.steps[turn.step].half_width(right);
            turn.in_unit.is_finite() && (turn.in_unit - right).abs() > half + DUST * right.abs()
        });
        let printed: Vec<&str> =
            shown.iter().filter_map(|print| figures.printed.get(*print)).map(String::as_str).collect();
        let round = self.numeric.answers.iter().map(|step| {
            let text = key.steps[*step].printed.as_str();
            most_digits(text) < 2 || printed.contains(&text)
        });
        let texts = printed.iter().copied().chain(key.steps.iter().map(|step| step.printed.as_str()));
        Look {
            road,
            apart: apart.map(|turn| (turn.turn, turn.step)).collect(),
            round: round.collect(),
            digits: texts.map(|text| numbers(text).sum::<usize>()).sum(),
        }
    }

    fn usual(&self, sample: &[Candidate]) -> Usual {
        let sample: Vec<&Look> = sample.iter().map(|one| &one.look).collect();
        let mut roads: BTreeMap<&[&'static str], usize> = BTreeMap::new();
        for look in &sample {
            *roads.entry(&look.road).or_default() += 1;
        }
        let road = roads.into_iter().max_by_key(|(_, count)| *count).map(|(road, _)| road.to_vec()).unwrap_or_default();
        let often = |tenths: usize, test: &dyn Fn(&Look) -> bool| {
            10 * sample.iter().filter(|look| test(look)).count() >= tenths * sample.len()
        };
        let turns = self.exercise.reckoning.turns.iter().enumerate();
        let reached = turns.flat_map(|(turn, is)| {
            let steps = self.numeric.answers.iter().filter(move |step| **step >= is.at).enumerate();
            steps.map(move |(place, step)| (place, (turn, *step)))
        });
        let apart = reached
            .filter(|(place, pair)| often(if *place == 0 { 5 } else { 9 }, &|look| look.apart.contains(pair)))
            .map(|(_, pair)| pair)
            .collect();
        let not_round = (0..self.numeric.answers.len()).map(|part| often(5, &|look| !look.round[part])).collect();
        let mut digits: Vec<usize> = sample.iter().map(|look| look.digits).collect();
        digits.sort_unstable();
        Usual { road, apart, not_round, digits: digits.get(digits.len() / 2).copied().unwrap_or(0) }
    }
}

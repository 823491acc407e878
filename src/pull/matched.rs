//! Pulls of one exercise for one quiz: different numbers, equal work.
//!
//! Pulls are compared with what most pulls of the exercise are like. A pull is
//! *matched* if
//!
//! 1. its working takes the same road: the same calculations are carried out,
//!    and the same steps leave the range of theirs (if any do); and if it is to
//!    be found, it is the same line that went wrong;
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
//! moves or options; of rounds, the same beginning.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use super::digits::{most_digits, numbers};
use super::figures::{Figures, figures, only_givens, reckon};
use super::key::{Key, key, key_on_road};
use super::public::Face;
use super::{Printer, Pull};
use crate::formula::Stack;
use crate::ground::Fault;
use crate::programme::{Exercise, Form, Numeric};

/// How many pulls are looked at to see what most are like.
const SAMPLE: u64 = 120;
/// After so many tries without a new pull there are none left, near enough.
const STALE: u64 = 300;
/// The most tries per pull wanted, and as many again as [`LEAST_TRIES`].
const TRIES_EACH: u64 = 40;
const LEAST_TRIES: u64 = 2000;
/// How long pulls that keep to all rules are preferred: so many tries per pull wanted.
const PREFERRING: u64 = 4;
/// About as many bytes as an imprint takes.
const USUAL_IMPRINT: usize = 64;
/// Relative room for the dust of binary arithmetic.
const DUST: f64 = 1e-9;

/// Matched pulls of an exercise.
#[derive(Debug, Clone)]
pub struct Matched {
    /// As many as were wanted, or all that were found: at least one, and all
    /// differ in what is printed. Where they are too few, they come again.
    pub pulls: Vec<Pull>,
    /// The rules that were given up for want of pulls, in words.
    pub gave_way: Vec<&'static str>,
}

/// Pulls `count` matched versions of an exercise from 32 bytes of chance, or as many as there are.
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
/// assert_eq!(nine.pulls.len(), 9);
/// ```
pub fn matched(exercise: &Exercise, chance: &[u8; 32], count: usize, printer: Printer) -> Result<Matched, Fault> {
    let seed = chance.iter().fold(String::new(), |mut text, byte| {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    });
    let found = match &exercise.form {
        Form::Numeric(numeric) => {
            let face = Face::of(exercise, printer);
            Search { exercise, numeric, seed: &seed, printer, face, stack: Stack::default() }.find(count)?
        }
        Form::Order(_) | Form::Choose(_) | Form::Rounds(_) => alike(exercise, &seed, count, printer)?,
    };
    if found.pulls.is_empty() && count > 0 {
        let message = format!("no pull of `{}` has all of its wrong turns apart", exercise.id);
        let mend = "choose givens that tell them apart, or drop a wrong turn; `gearside prove` says which";
        return Err(Fault::new("not-matched", message, mend).at(exercise.place.clone()));
    }
    Ok(found)
}

/// Orders and choices that show the same moves or options in all pulls.
fn alike(exercise: &Exercise, seed: &str, count: usize, printer: Printer) -> Result<Matched, Fault> {
    let face = Face::of(exercise, printer);
    let mut seen = BTreeSet::new();
    let (mut pulls, mut wanted) = (Vec::new(), None::<(Vec<usize>, Option<usize>)>);
    let mut last_new = 0;
    for number in 0..tries(count) {
        if pulls.len() == count || number > last_new + STALE {
            break;
        }
        let figures = figures(exercise, seed, number, printer)?;
        let key = key(exercise, &figures);
        let shown = face.shown(seed, number, &key);
        let mut sorted = shown.clone();
        sorted.sort_unstable();
        let start = face.start(seed, number);
        if wanted.as_ref().is_some_and(|wanted| wanted.0 != sorted || wanted.1 != start) {
            continue;
        }
        let says = face.says(&figures, &key, &shown);
        if says.iter().collect::<BTreeSet<_>>().len() < says.len() {
            continue;
        }
        wanted.get_or_insert((sorted, start));
        if seen.insert(imprint(face.texts(&figures).chain(says.iter().map(String::as_str)))) {
            let public = face.public(&figures, seed, number, &key, shown);
            pulls.push(Pull { public, key, figures });
            last_new = number;
        }
    }
    Ok(Matched { pulls, gave_way: Vec::new() })
}

/// What tells texts from all others: each with its length in front, so that no two lists read alike.
fn imprint<'a>(texts: impl Iterator<Item = &'a str>) -> Vec<u8> {
    let mut imprint = Vec::with_capacity(USUAL_IMPRINT);
    for text in texts {
        imprint.extend_from_slice(&text.len().to_le_bytes());
        imprint.extend_from_slice(text.as_bytes());
    }
    imprint
}

fn tries(count: usize) -> u64 {
    count as u64 * TRIES_EACH + LEAST_TRIES
}

/// What matters of a pull for matching.
struct Look {
    road: Vec<&'static str>,
    /// For each of [`Key::turns`]: whether it stands apart from the key.
    apart: Vec<bool>,
    /// For each answer: whether its key is trivially round.
    round: Vec<bool>,
    digits: usize,
}

/// What most pulls of an exercise are like.
struct Usual {
    road: Vec<&'static str>,
    /// For each of [`Key::turns`]: whether it has to stand apart.
    apart: Vec<bool>,
    /// For each answer: whether a trivially round key is out of the ordinary.
    not_round: Vec<bool>,
    digits: usize,
}

impl Usual {
    /// 0 if a pull keeps to all rules, 1 if but for its length, 2 if its key is
    /// round; `None` if it is other work.
    fn rank(&self, look: &Look) -> Option<usize> {
        let told_apart = self.apart.iter().zip(&look.apart).all(|(wanted, is)| *is || !*wanted);
        let same_work = told_apart && look.road == self.road;
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
    face: Face<'a>,
    stack: Stack,
}

impl Search<'_> {
    fn find(&mut self, count: usize) -> Result<Matched, Fault> {
        let mut sample = Vec::with_capacity(usize::try_from(SAMPLE).unwrap_or(0));
        for number in 0..SAMPLE {
            let givens = self.givens(number)?;
            sample.push(self.candidate(number, givens));
        }
        let usual = self.usual(&sample);
        let mut sample = sample.into_iter();
        let mut seen = BTreeSet::new();
        let mut found = Found::default();
        while !found.is_enough(count) {
            let number = found.tried;
            found.tried += 1;
            let next = if let Some(next) = sample.next() {
                next
            } else {
                let givens = self.givens(number)?;
                // A question shows givens only. Where there are few versions, most tries end here.
                if seen.contains(&imprint(self.face.texts(&givens))) {
                    continue;
                }
                self.candidate(number, givens)
            };
            let Some(rank) = usual.rank(&next.look) else { continue };
            if seen.insert(imprint(self.face.texts(&next.figures))) {
                found.last_new = found.tried;
                found.ranks[rank].push(next);
            }
        }
        Ok(self.taken(found, count))
    }

    /// The pulls wanted, those that keep to all rules first.
    fn taken(&self, found: Found, count: usize) -> Matched {
        let mut taken = Matched { pulls: Vec::with_capacity(count), gave_way: Vec::new() };
        for (rank, gives_up) in found.ranks.into_iter().zip([None, Some("about as many digits"), Some("no round keys")])
        {
            let left = count - taken.pulls.len();
            if left > 0 && !rank.is_empty() {
                taken.gave_way.extend(gives_up);
            }
            for Candidate { number, figures, key, .. } in rank.into_iter().take(left) {
                let public = self.face.public(&figures, self.seed, number, &key, Vec::new());
                taken.pulls.push(Pull { public, key, figures });
            }
        }
        taken
    }

    fn givens(&mut self, number: u64) -> Result<Figures, Fault> {
        only_givens(self.exercise, self.seed, number, self.printer, &mut self.stack)
    }

    /// Reckons a pull from its givens, and looks at it.
    fn candidate(&mut self, number: u64, givens: Figures) -> Candidate {
        let mut figures = givens;
        reckon(&self.exercise.reckoning, &mut figures, self.printer, &mut self.stack);
        let (key, mut road) = key_on_road(self.exercise, &figures, &mut self.stack);
        if let Some(line) = key.steps.first().filter(|_| self.numeric.finds_line) {
            // The same line went wrong on every docket: another would be another thing to notice.
            let line = count_of(line.in_unit);
            road.resize(road.len() + line, "a line further down");
        }
        let look = self.look(&figures, &key, road);
        Candidate { number, figures, key, look }
    }

    fn look(&self, figures: &Figures, key: &Key, road: Vec<&'static str>) -> Look {
        let apart = key.turns.iter().map(|turn| {
            let right = key.steps[turn.step].in_unit;
            let half = self.exercise.reckoning.steps[turn.step].half_width(right);
            turn.in_unit.is_finite() && (turn.in_unit - right).abs() > half + DUST * right.abs()
        });
        let round = self.numeric.answers.iter().map(|step| {
            let text = key.steps[*step].printed.as_str();
            most_digits(text) < 2 || self.face.texts(figures).any(|given| given == text)
        });
        let texts = self.face.texts(figures).chain(key.steps.iter().map(|step| step.printed.as_str()));
        Look {
            road,
            apart: apart.collect(),
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
        // In the order of the turns of a key: whether each is the first answer that its turn reaches.
        let is_first = self.exercise.reckoning.turns.iter().flat_map(|turn| {
            let reached = self.numeric.answers.iter().filter(|step| **step >= turn.at);
            reached.enumerate().map(|(place, _)| place == 0)
        });
        let apart = is_first
            .enumerate()
            .map(|(index, is_first)| often(if is_first { 5 } else { 9 }, &|look| look.apart[index]))
            .collect();
        let not_round = (0..self.numeric.answers.len()).map(|part| often(5, &|look| !look.round[part])).collect();
        let mut digits: Vec<usize> = sample.iter().map(|look| look.digits).collect();
        digits.sort_unstable();
        Usual { road, apart, not_round, digits: digits.get(digits.len() / 2).copied().unwrap_or(0) }
    }
}

/// The number of a line, as a count.
fn count_of(number: f64) -> usize {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a line's number is small and positive"
    )]
    let count = number.clamp(0.0, 100.0) as usize;
    count
}

#[cfg(test)]
mod tests {
    use super::imprint;

    #[test]
    fn no_two_lists_of_texts_have_one_imprint() {
        let lists: [&[&str]; 7] = [&[], &[""], &["", ""], &["ab"], &["a", "b"], &["ab", ""], &["", "ab"]];
        for (index, list) in lists.iter().enumerate() {
            let of = |list: &[&'static str]| imprint(list.iter().copied());
            assert!(lists[..index].iter().all(|other| of(other) != of(list)), "{list:?}");
        }
    }
}

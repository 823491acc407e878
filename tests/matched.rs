//! Pulls of one exercise in one quiz are equal in difficulty.

use std::collections::BTreeSet;

use gearside::marking::{Marker, OwnKey, Rules};
use gearside::programme::{Exercise, Form, Origin, Programme, Use, load};
use gearside::pull::{Printer, Pull, matched, pull_several};
use rand::rngs::ChaCha8Rng;
use rand::{Rng, SeedableRng};

const CLASS: usize = 400;
const PULLS: usize = 20;
const SHUFFLES: usize = 999;

fn shipped() -> Programme {
    load(&Origin::Shipped).expect("built in").programme.expect("sound")
}

/// The numeric exercises that a quiz may use.
fn usable(programme: &Programme) -> Vec<&Exercise> {
    let all = programme.exercises().filter(|one| one.used_in != Use::Practice);
    all.filter(|one| matches!(one.form, Form::Numeric(_))).collect()
}

/// Wrong turns that a pull tells apart, with the part.
fn told_apart(exercise: &Exercise, pull: &Pull) -> BTreeSet<(usize, usize)> {
    let own = OwnKey::of(exercise, pull).expect("a key");
    let turns =
        own.parts.iter().enumerate().flat_map(|(part, key)| key.intervals.turns.iter().map(move |turn| (part, turn)));
    turns.flat_map(|(part, turn)| turn.because.iter().map(move |index| (part, *index))).collect()
}

/// At which part each wrong turn shows first.
fn first_shown(exercise: &Exercise) -> BTreeSet<(usize, usize)> {
    let Form::Numeric(numeric) = &exercise.form else { return BTreeSet::new() };
    let turns = exercise.reckoning.turns.iter().enumerate();
    turns.filter_map(|(index, turn)| Some((numeric.answers.iter().position(|step| *step >= turn.at)?, index))).collect()
}

#[test]
fn matched_pulls_differ_and_leave_no_wrong_turn_out() {
    let programme = shipped();
    let printer = Printer::of(&programme);
    let (mut plain_ones_lack, mut gave_way) = (0, Vec::new());
    for exercise in usable(&programme) {
        let found = matched(exercise, &[3; 32], PULLS, printer).expect("pulls");
        assert_eq!((found.pulls.len(), found.distinct), (PULLS, PULLS), "{}", exercise.id);
        for (index, pull) in found.pulls.iter().enumerate() {
            assert!(!found.pulls[..index].iter().any(|other| other.public.looks_like(&pull.public)), "{}", exercise.id);
            let lacking: Vec<_> = first_shown(exercise).difference(&told_apart(exercise, pull)).copied().collect();
            assert!(lacking.is_empty(), "{}: {lacking:?} in {:?}", exercise.id, pull.public.givens);
        }
        if !found.gave_way.is_empty() {
            gave_way.push(format!("{}: {}", exercise.id, found.gave_way.join(", ")));
        }
        let plain = pull_several(exercise, "3", PULLS, printer).expect("pulls");
        let lacks = |pull: &Pull| !first_shown(exercise).is_subset(&told_apart(exercise, pull));
        plain_ones_lack += usize::from(plain.iter().any(lacks));
    }
    assert!(plain_ones_lack > 0, "then there is nothing to match");
    // 20 is more than a class; a few exercises have not enough pulls alike in length.
    assert!(gave_way.len() <= usable(&programme).len() / 10, "{gave_way:#?}");
}

#[test]
fn the_same_chance_gives_the_same_pulls_and_another_gives_others() {
    let programme = shipped();
    let printer = Printer::of(&programme);
    for exercise in programme.exercises() {
        let asks = |chance: u8| -> Vec<String> {
            let found = matched(exercise, &[chance; 32], 9, printer).expect("pulls");
            assert_eq!(found.pulls.len(), 9, "{}", exercise.id);
            let shown = |pull: &Pull| pull.public.shown.iter().copied().collect::<BTreeSet<_>>();
            assert!(found.pulls.iter().all(|pull| shown(pull) == shown(&found.pulls[0])), "{}", exercise.id);
            found.pulls.iter().map(|pull| format!("{}{:?}", pull.public.ask, pull.public.says)).collect()
        };
        assert_eq!(asks(1), asks(1), "{}", exercise.id);
        if matches!(exercise.form, Form::Numeric(_)) {
            assert_ne!(asks(1), asks(2), "{}", exercise.id);
        }
    }
}

/// Chance for the simulated class.
struct Chance(ChaCha8Rng);

impl Chance {
    fn of(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    fn share(&mut self) -> f64 {
        f64::from(u32::try_from(self.0.next_u64() >> 32).unwrap_or(0)) / 4_294_967_296.0
    }

    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.share()).sum::<f64>() - 6.0
    }

    fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.0.next_u64() % (count as u64)).unwrap_or(0)
    }

    fn shuffle<T>(&mut self, list: &mut [T]) {
        for end in (1..list.len()).rev() {
            list.swap(end, self.below(end + 1));
        }
    }
}

/// How many digits a question gives to work with.
fn length(pull: &Pull) -> f64 {
    let digits = pull.public.givens.iter().flat_map(|(_, text)| text.chars()).filter(char::is_ascii_digit).count();
    u32::try_from(digits).map_or(0.0, f64::from)
}

/// What the class types: the key or, with the chance that ability, difficulty
/// and length leave for it, where a wrong turn leads.
fn typed(exercise: &Exercise, pull: &Pull, own: &OwnKey, right: bool, chance: &mut Chance) -> Vec<String> {
    let mut typed: Vec<String> = own.parts.iter().map(|part| part.printed.clone()).collect();
    let first: Vec<(usize, usize)> = first_shown(exercise).into_iter().collect();
    if right {
        return typed;
    }
    let Form::Numeric(numeric) = &exercise.form else { return typed };
    let value = (!first.is_empty()).then(|| first[chance.below(first.len())]).and_then(|(part, index)| {
        let step = numeric.answers[part];
        let turn = pull.key.turns.iter().find(|turn| turn.turn == index && turn.step == step)?;
        Some((part, format!("{:.9}", turn.in_unit)))
    });
    let last = own.parts.len() - 1;
    let (part, text) = value.unwrap_or_else(|| (last, format!("{:.9}", own.parts[last].key * 1.7 + 3.0)));
    typed[part] = text;
    typed
}

/// Marks of a class, 1 for all right, and which pull each got.
fn simulated(exercise: &Exercise, pulls: &[Pull], seed: u64, printer: Printer, extra: f64) -> (Vec<f64>, Vec<usize>) {
    let rules = Rules::of(exercise, printer).expect("rules");
    let marker = Marker::open(&rules).expect("rules that open");
    let own: Vec<OwnKey> = pulls.iter().map(|pull| OwnKey::of(exercise, pull).expect("a key")).collect();
    let mut chance = Chance::of(seed);
    let mut got: Vec<usize> = (0..CLASS).map(|taker| taker % pulls.len()).collect();
    chance.shuffle(&mut got);
    let middle = pulls.iter().map(length).sum::<f64>() / u32::try_from(pulls.len()).map_or(1.0, f64::from);
    let difficulty = 2.0 * chance.share() - 1.0;
    let marks = got.iter().map(|index| {
        let planted = if index % 2 == 0 { extra } else { 0.0 };
        let logit = chance.normal() - difficulty - 0.02 * (length(&pulls[*index]) - middle) - planted;
        let right = chance.share() < 1.0 / (1.0 + libm::exp(-logit));
        let answers = typed(exercise, &pulls[*index], &own[*index], right, &mut chance);
        let parts = marker.mark(&own[*index], &answers).expect("marks");
        f64::from(u8::from(parts.iter().all(|part| part.mark > 0.5)))
    });
    let marks = marks.collect();
    (marks, got)
}

/// How far the mean marks of the pulls lie apart, as a share of all there is
/// between marks; 0 where all marks are the same.
fn between(marks: &[f64], got: &[usize]) -> f64 {
    let mut sums = [(0.0, 0.0); PULLS];
    for (mark, pull) in marks.iter().zip(got) {
        sums[*pull].0 += mark;
        sums[*pull].1 += 1.0;
    }
    let takers: f64 = sums.iter().map(|(_, count)| count).sum();
    let mean = marks.iter().sum::<f64>() / takers;
    let all: f64 = marks.iter().map(|mark| (mark - mean) * (mark - mean)).sum();
    let apart: f64 = sums.iter().map(|(sum, count)| count * (sum / count - mean) * (sum / count - mean)).sum();
    if all > 0.0 { apart / all } else { 0.0 }
}

/// How likely pulls that do not matter lie at least so far apart: over all
/// exercises together, and for each.
fn permutation_test(classes: &[(Vec<f64>, Vec<usize>)]) -> (f64, Vec<f64>) {
    let observed: Vec<f64> = classes.iter().map(|(marks, got)| between(marks, got)).collect();
    let sum: f64 = observed.iter().sum();
    let mut chance = Chance::of(20_261_125);
    let (mut beyond, mut beyond_each) = (0_u32, vec![0_u32; classes.len()]);
    for _ in 0..SHUFFLES {
        let mut together = 0.0;
        for (index, (marks, got)) in classes.iter().enumerate() {
            let mut got = got.clone();
            chance.shuffle(&mut got);
            let apart = between(marks, &got);
            together += apart;
            beyond_each[index] += u32::from(apart >= observed[index] - 1e-12);
        }
        beyond += u32::from(together >= sum - 1e-12);
    }
    let p = |beyond: u32| (f64::from(beyond) + 1.0) / 1000.0;
    (p(beyond), beyond_each.into_iter().map(p).collect())
}

#[test]
fn marks_do_not_depend_on_which_pull_one_got() {
    let programme = shipped();
    let printer = Printer::of(&programme);
    let exercises = usable(&programme);
    let class = |extra: f64| -> Vec<(Vec<f64>, Vec<usize>)> {
        let each = exercises.iter().enumerate().map(|(index, exercise)| {
            let pulls = matched(exercise, &[5; 32], PULLS, printer).expect("pulls").pulls;
            simulated(exercise, &pulls, index as u64, printer, extra)
        });
        each.collect()
    };
    let (together, each) = permutation_test(&class(0.0));
    assert!(together > 0.01, "over all {} exercises: p = {together}", exercises.len());
    // By chance alone one exercise in a hundred has p at or below .01; more than four times that would not be chance.
    let low = each.iter().filter(|p| **p <= 0.01).count();
    assert!(low <= 2 + exercises.len() * 4 / 100, "{low} of {}", exercises.len());
    // The test can fail: every other pull harder by a third of a standard deviation is seen.
    let (planted, _) = permutation_test(&class(0.35));
    assert!(planted <= 0.01, "planted: p = {planted}");
}

//! Pulls of one exercise in one quiz are equal in difficulty.

use std::collections::BTreeSet;

use gearside::marking::{Marker, OwnKey, Rules};
use gearside::programme::{Exercise, Form, Origin, Programme, Use, load};
use gearside::pull::{Printer, Public, Pull, matched, pull_several};
use rand::rngs::ChaCha8Rng;
use rand::{Rng, SeedableRng};

const CLASS: usize = 400;
const PULLS: usize = 20;
const SHUFFLES: usize = 999;
/// How much harder a number makes an exercise, in logits (the spread of skills
/// is 1): per digit, with a decimal point, and per power of ten away from 10.
const PER_DIGIT: f64 = 0.03;
const PER_POINT: f64 = 0.03;
const PER_DECADE: f64 = 0.03;
/// How much easier it is where the last key is round, or printed in the question.
const SPARED: f64 = 0.75;

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
        assert_eq!(found.pulls.len(), PULLS, "{}", exercise.id);
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
            // An order or a choice may have fewer versions.
            let least = if matches!(exercise.form, Form::Numeric(_)) { 9 } else { 1 };
            assert!((least..=9).contains(&found.pulls.len()), "{}: {}", exercise.id, found.pulls.len());
            let shown = |pull: &Pull| pull.public.shown.iter().copied().collect::<BTreeSet<_>>();
            assert!(found.pulls.iter().all(|pull| shown(pull) == shown(&found.pulls[0])), "{}", exercise.id);
            let asked = |public: &Public| format!("{}{:?}{:?}", public.ask, public.says, public.picture);
            found.pulls.iter().map(|pull| asked(&pull.public)).collect()
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

/// How hard the arithmetic of a pull looks, whoever works it, in logits.
fn hardness(pull: &Pull) -> f64 {
    let givens = pull.public.givens.iter().map(|(_, text)| text);
    let keys = pull.key.steps.iter().map(|step| &step.printed);
    let looks: f64 = givens.clone().chain(keys).flat_map(|text| numbers(text)).map(|one| of_a_number(&one)).sum();
    let is_spared = pull.key.steps.last().is_some_and(|last| {
        let round = numbers(&last.printed).all(|one| weighty_digits(&one) < 2);
        round || givens.clone().any(|given| *given == last.printed)
    });
    looks - if is_spared { SPARED } else { 0.0 }
}

/// The numbers in a text, without the gaps between groups of digits.
fn numbers(text: &str) -> impl Iterator<Item = String> {
    let words = text.split(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | '\u{202f}'));
    words.filter(|word| word.contains(|c: char| c.is_ascii_digit())).map(|word| word.replace('\u{202f}', ""))
}

fn weighty_digits(number: &str) -> u32 {
    let digits: String = number.chars().filter(char::is_ascii_digit).collect();
    u32::try_from(digits.trim_matches('0').len().max(1)).unwrap_or(u32::MAX)
}

fn of_a_number(number: &str) -> f64 {
    let point = if number.trim_matches('.').contains('.') { PER_POINT } else { 0.0 };
    let size = number.trim_matches('.').parse::<f64>().map_or(10.0, |value| value.abs().max(1e-6));
    PER_DIGIT * f64::from(weighty_digits(number)) + point + PER_DECADE * (libm::log10(size) - 1.0).abs()
}

/// What a taker types: the key or, where the chance fell out so, where a wrong
/// turn leads, or else a number that is far off.
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

/// A class of 400 by a plain response model: right with the chance that the
/// logistic function gives to skill − difficulty − hardness.
struct Class {
    /// The skill of each apprentice.
    skills: Vec<f64>,
    chance: Chance,
    /// How much harder every other pull is made, in logits.
    planted: f64,
}

/// The marks of an exercise, and which pull each apprentice got.
struct Marks {
    marks: Vec<f64>,
    got: Vec<usize>,
}

impl Class {
    fn of(seed: u64, planted: f64) -> Self {
        let mut chance = Chance::of(seed);
        Self { skills: (0..CLASS).map(|_| chance.normal()).collect(), chance, planted }
    }

    /// All work one exercise, each with one of the pulls, as many with each; the engine marks.
    fn work(&mut self, exercise: &Exercise, pulls: &[Pull], printer: Printer) -> Marks {
        let rules = Rules::of(exercise, printer).expect("rules");
        let marker = Marker::open(&rules).expect("rules that open");
        let own: Vec<OwnKey> = pulls.iter().map(|pull| OwnKey::of(exercise, pull).expect("a key")).collect();
        let looks: Vec<f64> = pulls.iter().map(hardness).collect();
        let middle = looks.iter().sum::<f64>() / u32::try_from(pulls.len()).map_or(1.0, f64::from);
        let difficulty = 2.0 * self.chance.share() - 1.0;
        let mut got: Vec<usize> = (0..CLASS).map(|taker| taker % pulls.len()).collect();
        self.chance.shuffle(&mut got);
        let mut marks = Vec::with_capacity(CLASS);
        for (skill, index) in self.skills.iter().zip(&got) {
            let planted = if index % 2 == 0 { self.planted } else { 0.0 };
            let logit = skill - difficulty - (looks[*index] - middle) - planted;
            let right = self.chance.share() < 1.0 / (1.0 + libm::exp(-logit));
            let answers = typed(exercise, &pulls[*index], &own[*index], right, &mut self.chance);
            let parts = marker.mark(&own[*index], &answers).expect("marks");
            let sum: f64 = parts.iter().map(|part| part.mark).sum();
            marks.push(sum / u32::try_from(parts.len()).map_or(1.0, f64::from));
        }
        Marks { marks, got }
    }
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
/// exercises together, and for each. Who got which pull is dealt out anew
/// within each exercise.
fn permutation_test(exercises: &[Marks]) -> (f64, Vec<f64>) {
    let observed: Vec<f64> = exercises.iter().map(|one| between(&one.marks, &one.got)).collect();
    let sum: f64 = observed.iter().sum();
    let mut chance = Chance::of(20_261_125);
    let (mut beyond, mut beyond_each) = (0_u32, vec![0_u32; exercises.len()]);
    for _ in 0..SHUFFLES {
        let mut together = 0.0;
        for (index, one) in exercises.iter().enumerate() {
            let mut got = one.got.clone();
            chance.shuffle(&mut got);
            let apart = between(&one.marks, &got);
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
    let tested = |planted: f64, pulls: &dyn Fn(&Exercise) -> Vec<Pull>| {
        let mut class = Class::of(400, planted);
        let marks: Vec<Marks> = exercises.iter().map(|one| class.work(one, &pulls(one), printer)).collect();
        permutation_test(&marks)
    };
    let alike = |exercise: &Exercise| matched(exercise, &[5; 32], PULLS, printer).expect("pulls").pulls;
    let (together, each) = tested(0.0, &alike);
    assert!(together > 0.01, "over all {} exercises: p = {together}", exercises.len());
    // By chance alone one exercise in a hundred has p at or below .01; more than four times that would not be chance.
    let low = each.iter().filter(|p| **p <= 0.01).count();
    assert!(low <= 2 + exercises.len() * 4 / 100, "{low} of {}", exercises.len());
    // The test can fail: the same class with pulls as they come, and with every other matched pull made
    // harder by a third of the spread of skills.
    let any = |exercise: &Exercise| pull_several(exercise, "5", PULLS, printer).expect("pulls");
    for (how, (p, _)) in [("unmatched", tested(0.0, &any)), ("planted", tested(0.35, &alike))] {
        assert!(p <= 0.01, "{how}: p = {p}");
    }
}

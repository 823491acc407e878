//! Small programmes made by chance: as plain data, as YAML, and as records.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use gearside::programme::{Origin, Programme, load};
use gearside::quiz::Asked;
use gearside::records::{History, Matter, Taught, Word};
use rand::Rng as _;
use rand::SeedableRng as _;
use rand::rngs::ChaCha8Rng;

use crate::book::{Book, day_of};

/// Formulas with the functions of the catalogue they use.
const FORMULAS: [(&str, Option<&str>); 4] = [
    ("wet_film(volume, release)", Some("wet_film")),
    ("volume * release * 1", None),
    ("dry_film(volume, release)", Some("dry_film")),
    ("dry_film(wet_film(volume, release), release)", Some("dry_film + wet_film")),
];

/// An exercise.
#[derive(Debug, Clone)]
pub(crate) struct Small {
    pub(crate) id: String,
    pub(crate) family: String,
    /// Its place in `Spec::competencies`.
    pub(crate) competency: usize,
    pub(crate) level: &'static str,
    pub(crate) practice: bool,
    pub(crate) minutes: u32,
    /// Its place in `FORMULAS`; a choice if none.
    formula: Option<usize>,
}

impl Small {
    pub(crate) fn functions(&self) -> Option<&'static str> {
        self.formula.and_then(|formula| FORMULAS[formula].1)
    }
}

/// A quiz of the past: its week, and per exercise how many of `CLASS` had it right; `None` if it is not marked.
#[derive(Debug, Clone)]
pub(crate) struct Old {
    pub(crate) week: i32,
    pub(crate) asked: Vec<(usize, Option<usize>)>,
}

/// How many learn.
pub(crate) const CLASS: usize = 3;

/// A programme, its records, and what is asked for.
#[derive(Debug, Clone)]
pub(crate) struct Spec {
    /// The stage of each competency, counted from 0.
    pub(crate) competencies: Vec<usize>,
    /// What the plan says is taught, by week.
    plan: BTreeMap<u32, Vec<usize>>,
    /// What was taught instead.
    instead: BTreeMap<u32, Vec<usize>>,
    pub(crate) breaks: Vec<i32>,
    /// Percent by stage; all 0 if the plan has none.
    pub(crate) shares: Vec<u32>,
    pub(crate) gap: u32,
    pub(crate) rest: u32,
    pub(crate) exercises: Vec<Small>,
    pub(crate) past: Vec<Old>,
    pub(crate) week: u32,
    pub(crate) minutes: u32,
    pub(crate) with: Vec<usize>,
    pub(crate) without: Vec<usize>,
    pub(crate) only: Option<usize>,
}

struct Dice(ChaCha8Rng);

impl Dice {
    fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.0.next_u64() % count.max(1) as u64).expect("small")
    }

    fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == 0
    }

    fn from(&mut self, low: u32, high: u32) -> u32 {
        low + u32::try_from(self.below((high - low + 1) as usize)).expect("small")
    }
}

impl Spec {
    /// A programme by chance.
    pub(crate) fn by_chance(seed: u64) -> Self {
        let mut dice = Dice(ChaCha8Rng::seed_from_u64(seed));
        let stages = 1 + dice.below(4);
        let competencies: Vec<usize> = (0..=dice.below(9)).map(|_| dice.below(stages)).collect();
        let week = dice.from(1, 14);
        let some =
            |dice: &mut Dice| -> Vec<usize> { (0..dice.below(4)).map(|_| dice.below(competencies.len())).collect() };
        let plan = (1..=week + 2).map(|week| (week, some(&mut dice))).collect();
        let instead = if dice.one_in(3) { [(dice.from(1, week), some(&mut dice))].into() } else { BTreeMap::new() };
        let breaks = (0..dice.below(3)).map(|_| i32::try_from(dice.from(2, 14)).expect("small")).collect();
        let shares = if dice.one_in(5) { vec![0; stages] } else { (0..stages).map(|_| dice.from(0, 50)).collect() };
        // One in two has few enough families to try all sets.
        let most = if dice.one_in(2) { 10 } else { 40 };
        let exercises = exercises(&mut dice, most, competencies.len());
        let count = exercises.len();
        let past = if dice.one_in(4) { Vec::new() } else { past(&mut dice, week, count) };
        let mut few = |odds: usize| -> Vec<usize> {
            if dice.one_in(odds) { (0..=dice.below(2)).map(|_| dice.below(count)).collect() } else { Vec::new() }
        };
        let (with, without) = (few(6), few(5));
        let only = dice.one_in(8).then(|| dice.below(competencies.len()));
        let (gap, rest, minutes) = (dice.from(1, 5), dice.from(0, 4), dice.from(4, 45));
        Self {
            competencies,
            plan,
            instead,
            breaks,
            shares,
            gap,
            rest,
            exercises,
            past,
            week,
            minutes,
            with,
            without,
            only,
        }
    }

    /// The weeks in which each competency was taught, up to this one.
    pub(crate) fn taught(&self) -> BTreeMap<usize, u32> {
        let mut taught = BTreeMap::new();
        for week in 1..=self.week {
            for competency in self.instead.get(&week).or(self.plan.get(&week)).into_iter().flatten() {
                taught.insert(*competency, week);
            }
        }
        taught
    }

    /// Writes it down and loads it; the files of the exercises in two halves, the later first if `turned`.
    pub(crate) fn programme(&self, folder: &Path, turned: bool) -> Programme {
        let write = |name: &str, text: String| {
            let path = folder.join(name);
            std::fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
            std::fs::write(path, text).expect("a file");
        };
        write("curriculum/programme.yaml", "title: Small\nedition: one\nunits: both\ntime_zone: UTC\n".to_owned());
        write("curriculum/cautions.yaml", "cautions: []\n".to_owned());
        let mut plan = format!("starts: \"2026-09-07\"\ngap: {}\nnot_again_for: {}\nweeks:\n", self.gap, self.rest);
        for (week, competencies) in &self.plan {
            let names: Vec<String> = competencies.iter().map(|index| format!("c{index}")).collect();
            let _ = writeln!(plan, "  {week}: [{}]", names.join(", "));
        }
        let _ = writeln!(plan, "breaks: {:?}", self.breaks);
        if self.shares.iter().any(|share| *share > 0) {
            plan.push_str("shares:\n");
            for (stage, share) in self.shares.iter().enumerate() {
                let _ = writeln!(plan, "  s{stage}: {share} %");
            }
        }
        write("curriculum/plan.yaml", plan);
        for stage in 0..self.shares.len() {
            let mut text = format!("stage: s{stage}\nnumber: {}\ntitle: Stage\ncompetencies:\n", stage + 1);
            for (index, _) in self.competencies.iter().enumerate().filter(|(_, own)| **own == stage) {
                let _ = writeln!(
                    text,
                    "  - {{ id: c{index}, title: Some, criteria: [{{ says: Does it }}], lesson: Words. }}"
                );
            }
            if !self.competencies.contains(&stage) {
                text = text.replace("competencies:\n", "competencies: []\n");
            }
            write(&format!("curriculum/{stage}.yaml"), text);
        }
        self.write_banks(&write, turned);
        let loaded = load(&Origin::Folder(folder.to_owned())).expect("files");
        let faults: Vec<String> = loaded.faults.0.iter().map(|fault| fault.to_text(false)).collect();
        assert!(!loaded.faults.any(), "{}", faults.join("\n"));
        loaded.programme.expect("a programme")
    }

    fn write_banks(&self, write: &impl Fn(&str, String), turned: bool) {
        // A family stays in one file, in its order.
        let mut families: Vec<&str> = self.exercises.iter().map(|one| one.family.as_str()).collect();
        families.dedup();
        let (one, two) = families.split_at(families.len() / 2);
        let names = if turned { ["z", "a"] } else { ["a", "z"] };
        for (name, half) in names.into_iter().zip([one, two]) {
            let mut kin: Vec<&str> = half.to_vec();
            if turned {
                kin.reverse();
            }
            let of_family = |family| self.exercises.iter().filter(move |one| one.family == family);
            let text: String = kin.into_iter().flat_map(of_family).map(written).collect();
            let head = if text.is_empty() { "exercises: []" } else { "exercises:" };
            write(&format!("question-banks/{name}.yaml"), format!("topic: {name}\ntitle: Some\n{head}\n{text}"));
        }
    }

    /// The records, and what the snapshots say.
    pub(crate) fn records(&self) -> (History, BTreeMap<Word, Vec<Asked>>) {
        let mut book = Book::default();
        for (week, competencies) in &self.instead {
            let competencies = competencies.iter().map(|index| format!("c{index}").into()).collect();
            let fact = Taught { week: *week, competencies, class: None };
            book.say(None, day_of(i32::try_from(*week).expect("small")), Matter::Taught(fact));
        }
        for (number, old) in self.past.iter().enumerate() {
            let marks: Vec<(String, String, usize)> = old
                .asked
                .iter()
                .filter_map(|(index, right)| Some((self.exercises[*index].clone(), (*right)?)))
                .map(|(one, right)| (one.id, format!("c{}", one.competency), right))
                .collect();
            let asked = old.asked.iter().map(|(index, _)| &self.exercises[*index]).map(|one| Asked {
                exercise: one.id.clone(),
                family: one.family.clone(),
                competency: format!("c{}", one.competency),
            });
            book.quiz(&format!("q{number}"), old.week, asked.collect());
            for (exercise, competency, right) in marks {
                for person in 0..CLASS {
                    book.mark(&format!("q{number}"), old.week, person, (&exercise, &competency), person < right);
                }
            }
        }
        (book.history, book.asked)
    }
}

fn exercises(dice: &mut Dice, most: usize, competencies: usize) -> Vec<Small> {
    let mut exercises: Vec<Small> = Vec::new();
    let mostly_one = dice.one_in(3);
    for number in 0..=dice.below(most) {
        let id = format!("e{number}");
        let level = ["recall", "apply", "judge"][dice.below(3)];
        let minutes = dice.from(1, 8);
        match exercises.last().cloned().filter(|last| last.formula.is_some()) {
            Some(base) if dice.one_in(4) => {
                exercises.push(Small { id, level, minutes, practice: dice.one_in(6), ..base });
            }
            _ => {
                let one_formula = mostly_one && !dice.one_in(4);
                let formula = if one_formula { Some(0) } else { (!dice.one_in(3)).then(|| dice.below(FORMULAS.len())) };
                let (competency, practice) = (dice.below(competencies), dice.one_in(6));
                exercises.push(Small { family: id.clone(), id, competency, level, practice, minutes, formula });
            }
        }
    }
    exercises
}

fn past(dice: &mut Dice, week: u32, count: usize) -> Vec<Old> {
    let week = i32::try_from(week).expect("small");
    (0..dice.below(9))
        .map(|_| {
            let back = i32::try_from(dice.below(12)).expect("small");
            let mut asked: BTreeMap<usize, Option<usize>> = BTreeMap::new();
            let marked = !dice.one_in(4);
            for _ in 0..dice.below(6) {
                asked.insert(dice.below(count), marked.then(|| dice.below(CLASS + 1)));
            }
            Old { week: week - back, asked: asked.into_iter().collect() }
        })
        .collect()
}

fn written(one: &Small) -> String {
    let used = if one.practice { "practice" } else { "both" };
    let Small { id, competency, level, minutes, family, .. } = one;
    let head = format!(
        "  - id: {id}\n    competency: c{competency}\n    title: Some\n    level: {level}\n    minutes: {minutes}\n    use: {used}\n"
    );
    let Some(formula) = one.formula else {
        return head
            + "    kind: choose\n    ask: Which one?\n    options:\n      - { says: \"This one\", right: true, because: \"So.\" }\n      - { says: \"Another one\", because: \"No.\" }\n";
    };
    if family != id {
        return head + &format!("    like: {family}\n");
    }
    let formula = FORMULAS[formula].0;
    head + &format!(
        "    givens:\n      volume: {{ between: [2.0 µm, 6.0 µm], every: 0.5 µm }}\n      release: {{ between: [20 %, 40 %], every: 2 % }}\n    \
         ask: What is left of {{{{ volume }}}} at {{{{ release }}}}?\n    steps:\n      - {{ name: film, is: \"{formula}\", in: µm, shown_to: 0.001, because: \"So.\" }}\n    sane: 0.01 µm .. 9 µm\n"
    )
}

//! Composition checked by another road: from the plain data alone, over all sets where there are few.

use std::collections::{BTreeMap, BTreeSet};

use gearside::quiz::{Composition, Constraint};

use crate::small::{CLASS, Small, Spec};

/// What the checker knows of a programme.
pub(crate) struct Checker<'a> {
    spec: &'a Spec,
    taught: BTreeMap<usize, u32>,
    /// The places of the exercises that the hard constraints let come.
    pub(crate) allowed: Vec<usize>,
}

impl<'a> Checker<'a> {
    pub(crate) fn new(spec: &'a Spec) -> Self {
        let taught = spec.taught();
        let mut checker = Self { spec, taught, allowed: Vec::new() };
        checker.allowed = (0..spec.exercises.len()).filter(|index| checker.may_come(*index)).collect();
        checker
    }

    fn now(&self) -> i32 {
        i32::try_from(self.spec.week).expect("small")
    }

    fn may_come(&self, index: usize) -> bool {
        let one = &self.spec.exercises[index];
        let rests = self.spec.past.iter().any(|old| {
            old.week.abs_diff(self.now()) <= self.spec.rest
                && old.asked.iter().any(|(other, _)| self.spec.exercises[*other].family == one.family)
        });
        !one.practice
            && self.taught.contains_key(&one.competency)
            && one.minutes <= self.spec.minutes
            && !rests
            && !self.spec.without.contains(&index)
            && self.spec.only.is_none_or(|only| only == one.competency)
    }

    /// Whether what must come keeps the hard constraints.
    pub(crate) fn wish_is_fine(&self) -> bool {
        let wanted: BTreeSet<usize> = self.spec.with.iter().copied().collect();
        let families: BTreeSet<&str> = wanted.iter().map(|index| self.spec.exercises[*index].family.as_str()).collect();
        let minutes: u32 = wanted.iter().map(|index| self.spec.exercises[*index].minutes).sum();
        let only_is_fine = self.spec.only.is_none_or(|only| self.taught.contains_key(&only));
        wanted.iter().all(|index| self.allowed.contains(index))
            && families.len() == wanted.len()
            && minutes <= self.spec.minutes
            && only_is_fine
    }

    /// Week, right and marked of the last quiz that asked any of these.
    fn last(&self, is_of: impl Fn(&Small) -> bool) -> Option<(i32, usize, usize)> {
        let mut found: BTreeMap<(i32, usize), (usize, usize)> = BTreeMap::new();
        for (number, old) in self.spec.past.iter().enumerate() {
            for (index, right) in old.asked.iter().filter(|(index, _)| is_of(&self.spec.exercises[*index])) {
                let _ = index;
                let sum = found.entry((old.week, number)).or_default();
                sum.0 += right.unwrap_or(0);
                sum.1 += right.map_or(0, |_| CLASS);
            }
        }
        found.into_iter().next_back().map(|((week, _), (right, of))| (week, right, of))
    }

    /// Whether an exercise is due.
    fn is_due(&self, index: usize) -> bool {
        let one = &self.spec.exercises[index];
        let failed = |last: Option<(i32, usize, usize)>| last.is_some_and(|(_, right, of)| right * 2 < of);
        let whole = self.last(|other| other.competency == one.competency);
        let own = self.last(|other| other.family == one.family);
        let waited = |week: i32| {
            let taught = (week + 1..=self.now()).filter(|week| !self.spec.breaks.contains(week)).count();
            u32::try_from(taught).expect("small") >= self.spec.gap
        };
        failed(whole) || failed(own) || whole.is_none_or(|(week, ..)| waited(week))
    }

    /// The constraints that a set breaks, as bits in the order in which they are given up.
    fn broken_by(&self, set: &[usize]) -> u8 {
        let spec = self.spec;
        let total: u32 = set.iter().map(|index| spec.exercises[*index].minutes).sum();
        let of = |is_of: &dyn Fn(&Small) -> bool| -> u32 {
            set.iter().map(|index| &spec.exercises[*index]).filter(|one| is_of(one)).map(|one| one.minutes).sum()
        };
        let alike =
            |functions: &str| set.iter().filter(|index| spec.exercises[**index].functions() == Some(functions)).count();
        let mixing =
            ["wet_film", "dry_film", "dry_film + wet_film"].iter().any(|one| alike(one) > set.len().div_ceil(2));
        let levels = ["recall", "apply", "judge"].iter().any(|level| of(&|one| one.level == *level) * 3 > total * 2);
        let in_scope = |stage: usize| {
            let mut taught = self.taught.keys().filter(|own| spec.only.is_none_or(|only| only == **own));
            taught.any(|competency| spec.competencies[*competency] == stage)
        };
        let whole: u32 = (0..spec.shares.len()).filter(|stage| in_scope(*stage)).map(|stage| spec.shares[stage]).sum();
        // In whole numbers: minutes / total is within 10 % of share / whole.
        let shares = whole > 0
            && (0..spec.shares.len()).any(|stage| {
                let share = if in_scope(stage) { spec.shares[stage] } else { 0 };
                let minutes = of(&|one| spec.competencies[one.competency] == stage);
                10 * (minutes * whole).abs_diff(share * total) > total * whole
            });
        let gaps = set.iter().any(|index| !self.is_due(*index) && !spec.with.contains(index));
        u8::from(mixing) | u8::from(levels) << 1 | u8::from(shares) << 2 | u8::from(gaps) << 3
    }

    /// The most minutes that the hard constraints allow.
    fn most(&self) -> u32 {
        let spec = self.spec;
        let wanted: BTreeSet<&str> = spec.with.iter().map(|index| spec.exercises[*index].family.as_str()).collect();
        let must: u32 =
            spec.with.iter().collect::<BTreeSet<_>>().iter().map(|index| spec.exercises[**index].minutes).sum();
        let mut families: BTreeMap<&str, Vec<u32>> = BTreeMap::new();
        for one in self.allowed.iter().map(|index| &spec.exercises[*index]) {
            if !wanted.contains(one.family.as_str()) {
                families.entry(&one.family).or_default().push(one.minutes);
            }
        }
        let mut sums = BTreeSet::from([must]);
        for minutes in families.values() {
            let more: Vec<u32> = sums.iter().flat_map(|sum| minutes.iter().map(move |own| sum + own)).collect();
            sums.extend(more.into_iter().filter(|sum| *sum <= spec.minutes));
        }
        sums.last().copied().unwrap_or(0)
    }

    fn target(&self) -> u32 {
        (self.spec.minutes * 9).div_ceil(10).min(self.most())
    }

    /// The best bits that any set reaches: tries all of them, if there are few.
    fn best(&self) -> Option<u8> {
        let spec = self.spec;
        let with: Vec<usize> = spec.with.iter().copied().collect::<BTreeSet<_>>().into_iter().collect();
        let mut families: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        for index in &self.allowed {
            let family = spec.exercises[*index].family.as_str();
            if !with.iter().any(|own| spec.exercises[*own].family == family) {
                families.entry(family).or_default().push(*index);
            }
        }
        if families.len() > 10 {
            return None;
        }
        let mut sets: Vec<Vec<usize>> = vec![with];
        for kin in families.values() {
            let more: Vec<Vec<usize>> = sets
                .iter()
                .flat_map(|set| kin.iter().map(move |own| set.iter().copied().chain([*own]).collect::<Vec<_>>()))
                .filter(|set| set.iter().map(|index| spec.exercises[*index].minutes).sum::<u32>() <= spec.minutes)
                .collect();
            sets.extend(more);
        }
        let target = self.target();
        let full = |set: &&Vec<usize>| set.iter().map(|index| spec.exercises[*index].minutes).sum::<u32>() >= target;
        sets.iter().filter(full).map(|set| self.broken_by(set)).min()
    }

    /// Everything that must hold of a composition. Says whether all sets could be tried.
    pub(crate) fn check(&self, composition: &Composition) -> Result<bool, String> {
        let spec = self.spec;
        let place = |id: &str| spec.exercises.iter().position(|one| one.id == id).expect("known");
        let set: Vec<usize> = composition.picks.iter().map(|pick| place(&pick.exercise)).collect();
        let fails = |words: String| Err(words);
        let minutes: u32 = set.iter().map(|index| spec.exercises[*index].minutes).sum();
        if minutes > spec.minutes || minutes != composition.minutes || minutes < self.target() {
            return fails(format!("{minutes} of {}, at least {}", spec.minutes, self.target()));
        }
        if let Some(index) = set.iter().find(|index| !self.allowed.contains(index)) {
            return fails(format!("{:?} may not come", spec.exercises[*index]));
        }
        let families: BTreeSet<&str> = set.iter().map(|index| spec.exercises[*index].family.as_str()).collect();
        if families.len() != set.len() || spec.with.iter().any(|index| !set.contains(index)) {
            return fails("a family twice, or what must come does not".to_owned());
        }
        for (pick, index) in composition.picks.iter().zip(&set) {
            if pick.due != self.is_due(*index) || pick.formula.as_deref() != spec.exercises[*index].functions() {
                return fails(format!("{pick:?} against {:?}", spec.exercises[*index]));
            }
        }
        // Side by side, and not only by count.
        let clash = |pair: &[usize]| {
            let formula = |index: usize| spec.exercises[index].functions();
            formula(pair[0]).is_some() && formula(pair[0]) == formula(pair[1])
        };
        let mixing = u8::from(set.windows(2).any(clash));
        let broken = self.broken_by(&set);
        if broken & 1 != mixing {
            return fails("neighbours could have been parted".to_owned());
        }
        self.check_told(composition, broken)?;
        match self.best() {
            Some(best) if best != broken => fails(format!("breaks {broken:04b}, and could have broken {best:04b}")),
            best => Ok(best.is_some()),
        }
    }

    /// What is broken is told, what comes before it in the order is told before it, and nothing else is.
    fn check_told(&self, composition: &Composition, broken: u8) -> Result<(), String> {
        let told: Vec<(Constraint, bool)> =
            composition.gave_way.iter().map(|one| (one.constraint, one.holds)).collect();
        let count = 8 - usize::try_from(broken.leading_zeros()).expect("small");
        let want: Vec<(Constraint, bool)> = Constraint::ALL
            .into_iter()
            .enumerate()
            .take(count)
            .map(|(bit, constraint)| (constraint, broken >> bit & 1 == 0))
            .collect();
        let words_are_there = composition.gave_way.iter().all(|one| !one.words.is_empty());
        let short = composition.minutes * 10 < self.spec.minutes * 9;
        if told == want && words_are_there && short == composition.short.is_some() {
            Ok(())
        } else {
            Err(format!("told {told:?}, not {want:?}"))
        }
    }
}

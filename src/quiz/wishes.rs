//! The order of wishes: which exercise one would take first, which next, so that
//! every start of the list is a good quiz.

use std::collections::BTreeMap;

use super::candidate::Candidate;
use super::composition::Group;
use super::limits::Tally;
use crate::ground::Id;

/// Puts families in the order of wishes, each with its exercises; what is due
/// comes before what is not. `start` is taken already.
pub(super) fn order(candidates: &[Candidate<'_>], start: &[usize], planned: &[f64], stages: usize) -> Vec<Vec<usize>> {
    let mut order = Order {
        candidates,
        planned,
        tally: Tally::new(stages, candidates.iter().filter_map(|one| one.formula).max().map_or(0, |last| last + 1)),
        groups: [0; 3],
        competencies: BTreeMap::new(),
        families: Vec::new(),
    };
    start.iter().for_each(|index| order.note(*index));
    let taken =
        |index: &usize| start.iter().any(|own| candidates[*own].exercise.family == candidates[*index].exercise.family);
    let mut waiting: Vec<usize> = (0..candidates.len()).filter(|index| !taken(index)).collect();
    for due in [true, false] {
        while let Some(next) = order.next(&waiting, due) {
            let family = &candidates[next].exercise.family;
            let (mut kin, rest): (Vec<usize>, Vec<usize>) =
                waiting.into_iter().partition(|index| candidates[*index].exercise.family == *family);
            waiting = rest;
            kin.sort_by_key(|index| {
                (*index != next, !candidates[*index].due, candidates[*index].last, candidates[*index].rank)
            });
            order.note(next);
            order.families.push(kin);
        }
    }
    order.families
}

struct Order<'a> {
    candidates: &'a [Candidate<'a>],
    planned: &'a [f64],
    tally: Tally,
    groups: [u32; 3],
    competencies: BTreeMap<&'a Id, usize>,
    families: Vec<Vec<usize>>,
}

impl Order<'_> {
    fn note(&mut self, index: usize) {
        let candidate = &self.candidates[index];
        self.tally.add(candidate);
        self.groups[candidate.group as usize] += candidate.minutes();
        *self.competencies.entry(&candidate.exercise.competency).or_default() += 1;
    }

    /// The next of those that are due, or not: of the group that lacks most of
    /// its minutes, the competency that came least, then one of which less was
    /// asked so far than its sign-off rests on, then what waits longest in a stage
    /// that has little.
    fn next(&self, waiting: &[usize], due: bool) -> Option<usize> {
        let open = |index: &&usize| self.candidates[**index].due == due;
        let group = self.group(waiting.iter().filter(open))?;
        let own = waiting.iter().filter(open).filter(|index| self.candidates[**index].group == group);
        own.copied().min_by_key(|index| {
            let candidate = &self.candidates[*index];
            let came = self.competencies.get(&candidate.exercise.competency).copied().unwrap_or(0);
            (
                came,
                !candidate.lacking,
                self.surplus(candidate) - i64::from(candidate.urgency),
                candidate.last,
                candidate.rank,
            )
        })
    }

    /// The group that lacks most of the minutes it should have by now, of those
    /// that have anything left.
    fn group<'i>(&self, open: impl Iterator<Item = &'i usize>) -> Option<Group> {
        let mut there = [false; 3];
        open.for_each(|index| there[self.candidates[*index].group as usize] = true);
        let left = Group::ALL.into_iter().filter(|group| there[*group as usize]);
        let whole: f64 = left.clone().map(Group::aim).sum();
        let total = f64::from(self.tally.minutes + 1);
        let lack = |group: Group| group.aim() / whole * total - f64::from(self.groups[group as usize]);
        // Of equals the first, which is the newest.
        left.rev().max_by(|a, b| lack(*a).total_cmp(&lack(*b)))
    }

    /// By how many minutes a stage would exceed its share with this exercise.
    fn surplus(&self, candidate: &Candidate<'_>) -> i64 {
        let Some(planned) = self.planned.get(candidate.stage) else { return 0 };
        let total = f64::from(self.tally.minutes + candidate.minutes());
        let own = f64::from(self.tally.stages[candidate.stage] + candidate.minutes());
        #[expect(clippy::cast_possible_truncation, reason = "minutes of a list of exercises")]
        let surplus = libm::round(own - planned * total) as i64;
        surplus
    }
}

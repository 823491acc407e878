//! The search for a set of exercises: along the order of wishes, the first set
//! that fills the time and keeps what is not given up.
//!
//! The order of wishes carries what is wanted; going back touches its end
//! first. A start that can lead nowhere is left at once, so that going back is
//! rare; where it is not, the search ends after a number of steps and counts as
//! having found nothing.

use super::candidate::Candidate;
use super::composition::Constraint;
use super::limits::{Ahead, GivenUp, Limits, Tally};

/// How many steps a search takes at most.
const MOST_STEPS: u32 = 20_000;

/// For each place in a list of families, the most minutes that those from there
/// on can fill within each limit, one exercise of each at most.
#[derive(Debug)]
pub(super) struct Reach(Vec<Vec<u32>>);

impl Reach {
    pub(super) fn of(families: &[Vec<usize>], candidates: &[Candidate<'_>], minutes: u32) -> Self {
        let mut rows = vec![vec![0; minutes as usize + 1]];
        for family in families.iter().rev() {
            let last = rows.last().cloned().unwrap_or_default();
            let mut row = last.clone();
            for own in family.iter().map(|index| candidates[*index].minutes()) {
                for within in own as usize..row.len() {
                    row[within] = row[within].max(own + last[within - own as usize]);
                }
            }
            rows.push(row);
        }
        rows.reverse();
        Self(rows)
    }

    /// The most minutes within `within` that the families from `from` on can fill.
    pub(super) fn most(&self, from: usize, within: u32) -> u32 {
        self.0[from][within as usize]
    }
}

/// A search along families in the order of wishes.
pub(super) struct Search<'a> {
    candidates: &'a [Candidate<'a>],
    limits: &'a Limits,
    families: Vec<Vec<usize>>,
    reach: Reach,
    ahead: Vec<Ahead>,
    given_up: GivenUp,
    steps: u32,
    chosen: Vec<usize>,
}

impl<'a> Search<'a> {
    pub(super) fn new(
        candidates: &'a [Candidate<'a>],
        limits: &'a Limits,
        wishes: &[Vec<usize>],
        given_up: GivenUp,
    ) -> Self {
        let may = |index: &usize| given_up.has(Constraint::Gaps) || candidates[*index].due;
        let families: Vec<Vec<usize>> = wishes
            .iter()
            .map(|family| family.iter().copied().filter(may).collect::<Vec<_>>())
            .filter(|family| !family.is_empty())
            .collect();
        let reach = Reach::of(&families, candidates, limits.minutes);
        let ahead = ahead(&families, candidates, limits.shares.planned.len());
        Self { candidates, limits, families, reach, ahead, given_up, steps: MOST_STEPS, chosen: Vec::new() }
    }

    /// The first set found, besides what `start` counts already.
    pub(super) fn run(mut self, start: &Tally) -> Option<Vec<usize>> {
        let mut tally = start.clone();
        self.go(0, &mut tally).then_some(self.chosen)
    }

    fn go(&mut self, at: usize, tally: &mut Tally) -> bool {
        let left = self.limits.minutes - tally.minutes;
        let most = self.reach.most(at, left);
        let hopeless =
            tally.minutes + most < self.limits.target || self.limits.is_hopeless(tally, &self.ahead[at], self.given_up);
        if hopeless || self.steps == 0 {
            return false;
        }
        self.steps -= 1;
        if most == 0 {
            return self.limits.keeps_all(tally, self.given_up);
        }
        for own in 0..self.families[at].len() {
            let index = self.families[at][own];
            let candidate = &self.candidates[index];
            if candidate.minutes() <= left {
                tally.add(candidate);
                self.chosen.push(index);
                if self.go(at + 1, tally) {
                    return true;
                }
                self.chosen.pop();
                tally.remove(candidate);
            }
        }
        self.go(at + 1, tally)
    }
}

fn ahead(families: &[Vec<usize>], candidates: &[Candidate<'_>], stages: usize) -> Vec<Ahead> {
    let mut rows = vec![Ahead { stages: vec![0; stages], levels: [0; 3], shortest: u32::MAX }];
    for family in families.iter().rev() {
        let mut row = rows.last().cloned().unwrap_or(Ahead { stages: Vec::new(), levels: [0; 3], shortest: u32::MAX });
        // An upper bound will do: each exercise of the family counts where it would help.
        for candidate in family.iter().map(|index| &candidates[*index]) {
            if let Some(stage) = row.stages.get_mut(candidate.stage) {
                *stage += candidate.minutes();
            }
            row.levels[candidate.level()] += candidate.minutes();
            row.shortest = row.shortest.min(candidate.minutes());
        }
        rows.push(row);
    }
    rows.reverse();
    rows
}

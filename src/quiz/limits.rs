//! The soft constraints on a set of exercises, and when a start can no longer
//! lead to a set that keeps them.

use super::candidate::Candidate;
use super::composition::Constraint;

/// How far a stage may be from its share, as a share.
pub(super) const SHARE_LEEWAY: f64 = 0.10;
/// For the arithmetic of shares.
const HAIR: f64 = 1e-9;

/// Which constraints are given up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct GivenUp(u8);

impl GivenUp {
    /// All ways to give up some, best first: as numbers in binary count, with
    /// the last to be given up in front.
    pub(super) fn in_order() -> impl Iterator<Item = Self> {
        (0..16).map(Self)
    }

    pub(super) fn has(self, constraint: Constraint) -> bool {
        self.0 >> (constraint as u8) & 1 == 1
    }
}

/// A set of exercises, counted.
#[derive(Debug, Clone)]
pub(super) struct Tally {
    pub(super) minutes: u32,
    pub(super) count: usize,
    pub(super) stages: Vec<u32>,
    pub(super) levels: [u32; 3],
    pub(super) formulas: Vec<usize>,
}

impl Tally {
    pub(super) fn new(stages: usize, formulas: usize) -> Self {
        Self { minutes: 0, count: 0, stages: vec![0; stages], levels: [0; 3], formulas: vec![0; formulas] }
    }

    pub(super) fn add(&mut self, candidate: &Candidate<'_>) {
        self.minutes += candidate.minutes();
        self.count += 1;
        self.stages[candidate.stage] += candidate.minutes();
        self.levels[candidate.level()] += candidate.minutes();
        if let Some(formula) = candidate.formula {
            self.formulas[formula] += 1;
        }
    }

    pub(super) fn remove(&mut self, candidate: &Candidate<'_>) {
        self.minutes -= candidate.minutes();
        self.count -= 1;
        self.stages[candidate.stage] -= candidate.minutes();
        self.levels[candidate.level()] -= candidate.minutes();
        if let Some(formula) = candidate.formula {
            self.formulas[formula] -= 1;
        }
    }
}

/// What may still be added, at most.
#[derive(Debug, Clone)]
pub(super) struct Ahead {
    pub(super) stages: Vec<u32>,
    pub(super) levels: [u32; 3],
    /// The shortest exercise.
    pub(super) shortest: u32,
}

/// How much of the minutes each stage should have.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shares {
    /// The share of each stage; empty if the plan has none.
    pub(super) planned: Vec<f64>,
    /// How far from it a stage may be, as a share.
    pub(super) leeway: f64,
}

impl Shares {
    /// No shares at all.
    pub(super) const NONE: Self = Self { planned: Vec::new(), leeway: SHARE_LEEWAY };

    fn are_kept(&self, tally: &Tally) -> bool {
        let total = f64::from(tally.minutes);
        let fits = |(planned, minutes): (&f64, &u32)| {
            (f64::from(*minutes) - planned * total).abs() <= self.leeway * total + HAIR
        };
        self.planned.iter().zip(&tally.stages).all(fits)
    }

    /// The shares that can be had where stages have no more than so many
    /// minutes: what one cannot take falls to the others in proportion.
    pub(super) fn within(&self, there: &[u32], total: u32) -> Vec<f64> {
        let most = |stage: usize| f64::from(there.get(stage).copied().unwrap_or(0)) / f64::from(total.max(1));
        let mut capped = vec![false; self.planned.len()];
        loop {
            let free = |capped: &[bool]| -> f64 {
                self.planned.iter().zip(capped).filter(|(_, capped)| !**capped).map(|(share, _)| share).sum()
            };
            let taken: f64 = (0..capped.len()).filter(|stage| capped[*stage]).map(most).sum();
            let scale = (1.0 - taken).max(0.0) / free(&capped).max(HAIR);
            let over =
                (0..capped.len()).find(|stage| !capped[*stage] && self.planned[*stage] * scale > most(*stage) + HAIR);
            match over {
                Some(stage) => capped[stage] = true,
                None => {
                    return (0..capped.len())
                        .map(|stage| if capped[stage] { most(stage) } else { self.planned[stage] * scale })
                        .collect();
                }
            }
        }
    }
}

/// What a set must keep to.
#[derive(Debug)]
pub(super) struct Limits {
    /// The most minutes.
    pub(super) minutes: u32,
    /// The least minutes.
    pub(super) target: u32,
    /// The shares of the stages.
    pub(super) shares: Shares,
}

impl Limits {
    /// Whether a finished set keeps a constraint on the set. Gaps are a matter
    /// of which candidates it is made from.
    pub(super) fn keeps(&self, constraint: Constraint, tally: &Tally) -> bool {
        match constraint {
            Constraint::Mixing => tally.formulas.iter().all(|count| 2 * count <= tally.count + 1),
            Constraint::Levels => tally.levels.iter().all(|minutes| 3 * minutes <= 2 * tally.minutes),
            Constraint::Shares => self.shares.are_kept(tally),
            Constraint::Gaps => true,
        }
    }

    /// Whether a finished set keeps all that is not given up. Shares are always
    /// asked for: those that are given up are replaced, not left out.
    pub(super) fn keeps_all(&self, tally: &Tally, given_up: GivenUp) -> bool {
        let asked = |constraint| constraint == Constraint::Shares || !given_up.has(constraint);
        Constraint::ALL.into_iter().all(|constraint| !asked(constraint) || self.keeps(constraint, tally))
    }

    /// Whether nothing that may still be added makes this a set that keeps all
    /// that is not given up.
    pub(super) fn is_hopeless(&self, tally: &Tally, ahead: &Ahead, given_up: GivenUp) -> bool {
        (!given_up.has(Constraint::Mixing) && self.cannot_mix(tally, ahead))
            || (!given_up.has(Constraint::Levels) && self.cannot_level(tally, ahead))
            || self.cannot_share(tally, ahead)
    }

    fn cannot_mix(&self, tally: &Tally, ahead: &Ahead) -> bool {
        let room = (self.minutes - tally.minutes) / ahead.shortest.max(1);
        let most = tally.formulas.iter().copied().max().unwrap_or(0);
        2 * most > tally.count + 1 + room as usize
    }

    fn cannot_level(&self, tally: &Tally, ahead: &Ahead) -> bool {
        let room = self.minutes - tally.minutes;
        let others_ahead: u32 = ahead.levels.iter().sum();
        (0..3).any(|level| {
            let others = tally.minutes - tally.levels[level];
            let most = others + room.min(others_ahead - ahead.levels[level]);
            tally.levels[level] > 2 * most || 3 * tally.levels[level] > 2 * self.minutes
        })
    }

    fn cannot_share(&self, tally: &Tally, ahead: &Ahead) -> bool {
        let most = f64::from(self.minutes);
        let least = f64::from(self.target.max(tally.minutes));
        let mut lacking = 0.0;
        for ((planned, minutes), ahead) in self.shares.planned.iter().zip(&tally.stages).zip(&ahead.stages) {
            let have = f64::from(*minutes);
            let lack = (planned - self.shares.leeway) * least - have;
            if have > (planned + self.shares.leeway) * most + HAIR || lack > f64::from(*ahead) + HAIR {
                return true;
            }
            // Minutes are whole.
            lacking += libm::ceil(lack - HAIR).max(0.0);
        }
        lacking > most - f64::from(tally.minutes) + HAIR
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_stage_cannot_take_falls_to_the_others_in_proportion() {
        // Worked by hand: what is there, of 40 minutes, and the shares that can be had.
        let shares = Shares { planned: vec![0.5, 0.3, 0.2], leeway: 0.1 };
        let table = [
            ([40, 40, 40], [0.5, 0.3, 0.2]),
            ([0, 40, 40], [0.0, 0.6, 0.4]),
            ([10, 40, 40], [0.25, 0.45, 0.3]),
            ([0, 16, 40], [0.0, 0.4, 0.6]),
            ([4, 4, 4], [0.1, 0.1, 0.1]),
        ];
        for (there, want) in table {
            let got = shares.within(&there, 40);
            assert!(got.iter().zip(want).all(|(a, b)| (a - b).abs() < 1e-9), "{there:?}: {got:?}, not {want:?}");
        }
    }

    #[test]
    fn the_last_to_be_given_up_weighs_most() {
        let order: Vec<GivenUp> = GivenUp::in_order().collect();
        let first = |constraint| order.iter().position(|given_up| given_up.has(constraint));
        assert_eq!(Constraint::ALL.map(first), [Some(1), Some(2), Some(4), Some(8)]);
        assert_eq!(order.len(), 16);
    }
}

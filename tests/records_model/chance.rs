//! Chance from a fixed seed.

use rand::rngs::ChaCha8Rng;
use rand::{Rng, SeedableRng};

/// A stream of chance.
pub(crate) struct Chance(ChaCha8Rng);

impl Chance {
    pub(crate) fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    /// A whole number below `count`. The lean of so small a range does not matter here.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        let word = self.0.next_u64() % (count.max(1) as u64);
        usize::try_from(word).expect("a small number")
    }

    /// True once in so many times.
    pub(crate) fn one_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }

    /// True in so many of a hundred times.
    pub(crate) fn percent(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }

    pub(crate) fn of<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.below(list.len())]
    }

    /// One of several by weight.
    pub(crate) fn weighted<'a, T>(&mut self, list: &'a [(usize, T)]) -> &'a T {
        let mut at = self.below(list.iter().map(|(weight, _)| weight).sum());
        for (weight, one) in list {
            if at < *weight {
                return one;
            }
            at -= weight;
        }
        &list[0].1
    }
}
